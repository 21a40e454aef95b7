//! Shear, bending and torsion along the spar for each case, with inertia relief.

use std::ops::Deref;

use crate::physics::design::Design;
use crate::physics::kept::{Inputs, Kept, Known, To};
use crate::physics::loads::along::Along;
use crate::physics::loads::beam::{Piece, Sums, Way, resolve, sums};
use crate::physics::loads::case::{self, Case, CaseKind, Support};
use crate::physics::loads::envelope::pressure_pa;
use crate::physics::loads::flexible::{self, Axis, Given};
use crate::physics::loads::lift::LiftBasis;
use crate::physics::loads::section::{lift_share_ahead, moment_counted};
use crate::physics::loads::skin_pressure::pressures;
use crate::physics::loads::supports::{peaks, reactions, support};
use crate::physics::mass::tally::Weight;
use crate::physics::units::GRAVITY_M_S2;
use crate::physics::wing::layout::Layout;

pub use crate::physics::loads::series::{CaseLoads, List, Lists, Peak};

/// All cases, with the loads of those that are on.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Loads {
    pub cases: Vec<Case>,
    pub loads: Vec<CaseLoads>,
    pub cases_off: usize,
    pub dive_speed_m_s: f64,
    pub manoeuvre_speed_m_s: f64,
    /// Highest speed at which the limit set's gust stays within its load factors.
    pub rough_air_speed_m_s: f64,
    pub stall_1g_m_s: f64,
}

/// Profile drag counted for in-plane bending. Assumption.
const INPLANE_CD: f64 = 0.012;
/// Where the wing's own mass lies when the parts list does not say, share of chord.
const MASS_CHORD: f64 = 0.4;

/// Up to here a lump stands on the centre line, m.
const AT_CENTRE_M: f64 = 1e-6;

/// One unit load: its sums at the root; shear, then moment, then torque at every edge; and plain moment there.
#[derive(Debug, Default)]
struct Column {
    root: Sums,
    along: Vec<f64>,
    arm: Vec<f64>,
}

impl Column {
    fn root_moment(&self) -> f64 {
        self.along.get(self.arm.len()).copied().unwrap_or(0.0)
    }
}

/// Root moment of a case, N m: by the air alone, by the wing's yielding, and the relief by the wing's own mass.
#[derive(Debug, Clone, Copy, Default)]
struct Roots {
    air_nm: f64,
    yielding_nm: f64,
    relief_nm: f64,
}

/// Loads of one pass: every case, and shear, bending and torsion of those that are on, by their place in the list.
#[derive(Debug, Default)]
pub struct Pass {
    cases: Vec<Case>,
    on: Vec<(usize, Roots)>,
    along: Along,
}

impl Pass {
    /// Shear, bending and torsion of the cases that are on.
    pub const fn along(&self) -> &Along {
        &self.along
    }
}

/// The mass of the wing as a load, and what stands before it: its light end where weight helps, its heavy end where it
/// hurts.
pub struct Mass {
    column: Column,
    /// Half of what stands at the centre: of the wing itself, and fixed to it (keel, boom, tail). It bends the halves where they are
    /// held outboard.
    centre: [Sums; 2],
    light: f64,
    heavy: f64,
}

impl Mass {
    /// What the supports of a case carry beside the half wing outboard of its root, N and N m.
    fn at_centre(&self, c: &Case) -> Sums {
        let ([wing, fixed], wing_down) = (&self.centre, self.down(c));
        match c.support {
            Support::Root => Sums::default(),
            // A half on the rack is the wing alone.
            Support::Bars(..) => Sums::default().plus(wing_down, wing),
            // What is fixed to the wing is known, not estimated: it has no heavy end.
            Support::Outboard(_) | Support::Tip { .. } => {
                Sums::default().plus(wing_down, wing).plus(c.n * GRAVITY_M_S2, fixed)
            }
        }
    }

    /// What it presses down with in a case: weight that helps is taken light, weight that hurts heavy.
    fn down(&self, c: &Case) -> f64 {
        c.n * GRAVITY_M_S2 * if c.kind.in_flight() || c.cl * c.n > 0.0 { self.light } else { self.heavy }
    }
}

/// Unit loads at the bay edges, and the geometry to resolve them: what the cases have in common, whatever the wing weighs.
#[derive(Debug, Default)]
pub struct UnitLoads {
    pub(super) y_m: Vec<f64>,
    pub(super) spar_x_m: Vec<f64>,
    /// Sine and cosine of the sweep of the spar at each edge.
    pub(super) turn: Vec<(f64, f64)>,
    additional: Column,
    basic: Column,
    sym: Column,
    anti: Column,
    /// Over the strips of the lift, for lift that follows the wing.
    way: Way,
    /// Moment of the chord about each edge, m3, for drag.
    chord_m3: Vec<f64>,
    /// By bay: unit loads of the strip at mid bay, as [`asked`] counts them, and 1/chord, share of lift on the nose over its
    /// share of chord, the same aft.
    pub(super) bays: Vec<([f64; 4], [f64; 3])>,
}

/// Loads of all cases.
///
/// Lift carries the budget mass; relief is by the light end (P10) of the wing's mass; ground cases carry the budget
/// mass. What hangs at the root relieves nothing, and masses outboard that are not wing are not counted as relief; where the
/// joined wing is held outboard, what stands at its centre and what is fixed there, pilot and kit aside, loads it.
/// Of the rigid wing; [`UnitLoads::bent`] adds what bending and twist change in the lift.
/// **Source:** beam statics on [`LiftBasis`]; local skin pressures are an unchecked assumption stated beside the
/// constants. **Valid for:** small deflection, quasi-steady air.
pub fn loads(design: &Design, layout: &Layout, lift: &LiftBasis, weight: &Weight) -> Loads {
    loads_bending(design, (layout, lift), weight, None)
}

/// The same of a wing that bends and twists as its axis lets it.
pub fn loads_bending(
    design: &Design,
    (layout, lift): (&Layout, &LiftBasis),
    weight: &Weight,
    axis: Option<&Axis>,
) -> Loads {
    let Some(unit) = UnitLoads::of(layout, lift) else { return Loads::default() };
    let mut pass = Pass::default();
    let mass = unit.rigid(design, (layout, lift), weight, &mut pass);
    if let Some(axis) = axis {
        unit.bent(axis, lift, &mass, &mut pass);
    }
    unit.whole(design, (layout, lift), weight, pass)
}

/// All that the unit loads hang on: the lift, the bay edges with the spar there and its sweep (sine, cosine), and of the middle of each bay the share of the
/// chord at the spar, the place and the chord.
struct Stand<L> {
    lift: L,
    y_m: Vec<f64>,
    spar_x_m: Vec<f64>,
    turn: Vec<(f64, f64)>,
    mid: Vec<[f64; 3]>,
}

impl<L> Stand<L> {
    fn of(layout: &Layout, lift: L) -> Self {
        Self {
            lift,
            y_m: layout.stations().map(|s| s.y_m).collect(),
            spar_x_m: layout.stations().map(|s| s.x_le_m + s.spar_frac * s.chord_m).collect(),
            turn: layout.stations().map(|s| (s.spar_slope * s.spar_cos(), s.spar_cos())).collect(),
            mid: layout.bays.iter().map(|b| [b.mid.spar_frac, b.mid.y_m, b.mid.chord_m]).collect(),
        }
    }
}

impl<L: Inputs> Inputs for Stand<L> {
    fn put<T: To>(&self, to: &mut T) {
        let Self { lift, y_m, spar_x_m, turn, mid } = self;
        lift.put(to);
        [y_m, spar_x_m].put(to);
        turn.put(to);
        mid.put(to);
    }
}

/// Unit loads kept.
pub(crate) type Memory = Kept<Option<UnitLoads>>;

/// Unit loads of a wing under a kept lift, with what was kept.
pub(crate) fn unit_again<'m>(layout: &Layout, lift: Known<LiftBasis>, memory: &'m mut Memory) -> Option<&'m UnitLoads> {
    memory.of(&Stand::of(layout, lift), UnitLoads::on).value().as_ref()
}

impl UnitLoads {
    /// Shear, bending and torsion of all cases of a rigid wing of this weight, written over `out`; [`UnitLoads::bent`] adds
    /// what its yielding changes. The loop of weight and loads asks for these alone, pass after pass; [`UnitLoads::whole`]
    /// gives the rest.
    /// Unchecked: no outside check runs it by itself.
    pub fn rigid(
        &self,
        design: &Design,
        (layout, lift): (&Layout, &LiftBasis),
        weight: &Weight,
        out: &mut Pass,
    ) -> Mass {
        let drawn = weight.drawn_kg.max(1e-9);
        let column = self.column(&masses(layout, weight, &self.y_m));
        let centre = centre(design, layout, weight);
        let mass = Mass { column, centre, light: weight.p10_kg / drawn, heavy: weight.budget_kg / drawn };
        out.cases = case::list(design, layout, lift, weight.budget_kg);
        let on = out.cases.iter().enumerate().filter(|(_, c)| c.excused.is_none());
        out.on.clear();
        out.on.extend(on.map(|(i, _)| (i, Roots::default())));
        out.along.lay(out.on.len(), self.y_m.len());
        let (rows, peaks) = out.along.rows_and_peaks();
        for (which, ((i, root), row)) in out.on.iter_mut().zip(rows).enumerate() {
            *root = of_case(&out.cases[*i], (self, &mass), lift, (row, |p| peaks.push((which, p))));
        }
        mass
    }

    /// Let the lift of the cases that [`UnitLoads::rigid`] gave follow the wing bent and twisted on this axis, each unit load
    /// bringing what it gives back at the same total lift.
    pub fn bent(&self, axis: &Axis, lift: &LiftBasis, mass: &Mass, out: &mut Pass) {
        let Some(given) = self.yielding(axis, lift, &mass.column) else { return };
        let root = given.carried[1].first().copied().unwrap_or_default();
        let per: Vec<[f64; 4]> = given.carried.iter().flatten().copied().collect();
        for ((i, roots), row) in out.on.iter_mut().zip(out.along.rows_mut()) {
            let c = &out.cases[*i];
            if !c.kind.in_flight() {
                continue;
            }
            let on = asked(c, lift);
            // What this case's own loads give back by bending the wing.
            let bends = [on.alpha, on.q, on.sym, -mass.down(c)];
            let mut share = given.shares(on.q);
            share.iter_mut().zip(bends).for_each(|(share, bends)| *share *= bends);
            row.iter_mut().zip(&per).for_each(|(out, per)| *out += dot(share, *per));
            roots.yielding_nm = dot(share, root);
            roots.air_nm += roots.yielding_nm;
        }
    }

    /// Everything of the loads of a pass: with in-plane bending, the pressure on the skins and the speeds.
    pub fn whole(&self, design: &Design, (layout, lift): (&Layout, &LiftBasis), weight: &Weight, pass: Pass) -> Loads {
        let Pass { cases, on, along } = pass;
        let heavy = weight.budget_kg / weight.drawn_kg.max(1e-9);
        let mass: Vec<f64> = masses(layout, weight, &self.y_m).iter().map(|s| heavy * GRAVITY_M_S2 * s.arm).collect();
        let of = |(which, ((i, roots), row)): (usize, (&(usize, Roots), &[f64]))| {
            let c = &cases[*i];
            let mut out = CaseLoads::along(*i, self.y_m.len(), row);
            out.peaks = along.peaks().iter().filter(|p| p.0 == which).map(|p| p.1).collect();
            let (inplane_nm, pressures_pa) = out.parts_mut();
            inplane(c, self, (layout, lift), inplane_nm);
            if c.forward_n != 0.0 {
                inplane_nm.iter_mut().zip(&mass).for_each(|(out, mass)| *out -= c.forward_n * mass);
            }
            pressures(&asked(c, lift), self, pressures_pa);
            (out.air_root_nm, out.yielding_root_nm, out.relief_root_nm) =
                (roots.air_nm, roots.yielding_nm, roots.relief_nm);
            out
        };
        let loads = on.iter().zip(along.rows()).enumerate().map(of).collect();
        let speeds = case::speeds(design, layout, lift, weight.budget_kg);
        Loads {
            loads,
            cases_off: cases.len() - on.len(),
            cases,
            dive_speed_m_s: speeds.dive_m_s,
            manoeuvre_speed_m_s: speeds.manoeuvre_m_s,
            rough_air_speed_m_s: speeds.rough_air_m_s,
            stall_1g_m_s: speeds.stall_1g_m_s,
        }
    }

    /// What additional, basic and symmetric control load and the mass give back.
    fn yielding(&self, axis: &Axis, lift: &LiftBasis, mass: &Column) -> Option<Given<4>> {
        let [a, b, c, d] = [&self.additional, &self.basic, &self.sym, mass].map(|c| c.along.as_slice());
        let load: Vec<[f64; 4]> =
            a.iter().zip(b).zip(c.iter().zip(d)).map(|((a, b), (c, d))| [*a, *b, *c, *d]).collect();
        let (shear, rest) = load.split_at_checked(self.y_m.len())?;
        let (moment, torque) = rest.split_at_checked(self.y_m.len())?;
        flexible::given_back(axis, lift, [shear, moment, torque], |l| self.carried(l))
    }

    /// Shear, moment and torque at the edges of lifts by strip abreast.
    fn carried<const N: usize>(&self, lift: &[[f64; N]]) -> [Vec<[f64; N]>; 3] {
        let room = || Vec::with_capacity(self.y_m.len());
        let mut out = [room(), room(), room()];
        for ([force, arm, fore_aft], (&x, &(sin, cos))) in
            self.way.sums(lift).into_iter().zip(self.spar_x_m.iter().zip(&self.turn))
        {
            let (mut moment, mut torque) = ([0.0; N], [0.0; N]);
            for i in 0..N {
                let s = Sums { force: force[i], arm: arm[i], fore_aft: fore_aft[i], couple: 0.0 };
                (moment[i], torque[i]) = resolve(&s, x, sin, cos);
            }
            out[0].push(force);
            out[1].push(moment);
            out[2].push(torque);
        }
        out
    }

    fn column(&self, s: &[Sums]) -> Column {
        let n = s.len();
        let mut out = Column { along: vec![0.0; 3 * n], ..Column::default() };
        out.root = s.first().copied().unwrap_or_default();
        out.arm = s.iter().map(|s| s.arm).collect();
        for (i, (s, (&x, &(sin, cos)))) in s.iter().zip(self.spar_x_m.iter().zip(&self.turn)).enumerate() {
            out.along[i] = s.force;
            (out.along[n + i], out.along[2 * n + i]) = resolve(s, x, sin, cos);
        }
        out
    }

    /// Unit loads of a wing; None without bays or lift.
    pub fn of(layout: &Layout, lift: &LiftBasis) -> Option<Self> {
        Self::on(&Stand::of(layout, lift))
    }

    /// The same of what they hang on.
    fn on<L: Deref<Target = LiftBasis>>(stand: &Stand<L>) -> Option<Self> {
        let Stand { lift, y_m, spar_x_m, turn, mid } = stand;
        let lift: &LiftBasis = lift;
        if mid.is_empty() || lift.y_m.is_empty() {
            return None;
        }
        let (y_m, spar_x_m, turn) = (y_m.clone(), spar_x_m.clone(), turn.clone());
        let own = |i: usize| lift.chord_m[i] * lift.chord_m[i];
        let flap = |i: usize| lift.control_cm_per_rad * lift.control_share[i] * own(i);
        let bays = mid
            .iter()
            .map(|&[spar_frac, mid_m, chord_m]| {
                let x = spar_frac.clamp(0.02, 0.95);
                let ahead = lift_share_ahead(x);
                let strip = ((mid_m / lift.dy_m) as usize).min(lift.y_m.len() - 1);
                let parts = [&lift.additional_m, &lift.basic_m, &lift.control_sym_m, &lift.control_anti_m];
                (parts.map(|p| p[strip]), [1.0 / chord_m.max(1e-9), ahead / x, (1.0 - ahead) / (1.0 - x)])
            })
            .collect();
        let chord_m3 = sums(&y_m, strips(lift, &lift.chord_m, |_| 0.0)).iter().map(|s| s.arm).collect();
        let from_tip = (0..lift.chord_m.len()).rev();
        let way = Way::over(&y_m, from_tip.zip(strips(lift, &lift.chord_m, |_| 0.0)));
        let mut out = Self { y_m, spar_x_m, turn, way, chord_m3, bays, ..Self::default() };
        out.additional = out.column(&sums(&out.y_m, strips(lift, &lift.additional_m, |_| 0.0)));
        out.basic = out.column(&sums(&out.y_m, strips(lift, &lift.basic_m, |i| moment_counted(lift.cm0[i]) * own(i))));
        out.sym = out.column(&sums(&out.y_m, strips(lift, &lift.control_sym_m, flap)));
        out.anti = out.column(&sums(&out.y_m, strips(lift, &lift.control_anti_m, flap)));
        Some(out)
    }
}

/// One strip load as pieces from the tip inwards.
fn strips<'a>(
    lift: &'a LiftBasis,
    load: &'a [f64],
    couple: impl Fn(usize) -> f64 + 'a,
) -> impl Iterator<Item = Piece> + 'a {
    let dy = lift.dy_m;
    (0..load.len()).rev().map(move |i| Piece {
        from_m: i as f64 * dy,
        to_m: (i + 1) as f64 * dy,
        load: load[i],
        x_m: lift.x_quarter_m[i],
        x_slope: lift.sweep_slope,
        couple: couple(i),
    })
}

/// Running and lumped mass of the half wing as drawn. The lift-wise place of the mass follows the weighed centre of
/// gravity, at one share of the chord along the span.
fn masses(layout: &Layout, weight: &Weight, y_m: &[f64]) -> Vec<Sums> {
    let (mut total, mut lead, mut chord) = (0.0, 0.0, 0.0);
    let running = |k: usize| weight.running_kg_m.get(k).copied().unwrap_or(0.0);
    for (k, b) in layout.bays.iter().enumerate() {
        let m = running(k) * (b.outer.y_m - b.inner.y_m);
        total += m;
        lead += m * b.mid.x_le_m;
        chord += m * b.mid.chord_m;
    }
    // Of a wing swept forward it may lie ahead of the root.
    let share = if weight.cg_x_m != 0.0 && chord > 0.0 {
        ((weight.cg_x_m * total - lead) / chord).clamp(0.2, 0.6)
    } else {
        MASS_CHORD
    };
    let place = |s: &crate::physics::wing::layout::Station| s.x_le_m + share * s.chord_m;
    let pieces = layout.bays.iter().enumerate().rev().map(|(k, b)| {
        let width = (b.outer.y_m - b.inner.y_m).max(1e-9);
        Piece {
            from_m: b.inner.y_m,
            to_m: b.outer.y_m,
            load: running(k),
            x_m: 0.5 * (place(&b.inner) + place(&b.outer)),
            x_slope: (place(&b.outer) - place(&b.inner)) / width,
            couple: 0.0,
        }
    });
    let mut out = sums(y_m, pieces);
    for &(y, kg) in weight.lumps.iter().filter(|l| l.0 > AT_CENTRE_M) {
        let x = layout.bays.iter().find(|b| y <= b.outer.y_m).or(layout.bays.last()).map_or(0.0, |b| {
            let (a, z) = (place(&b.inner), place(&b.outer));
            a + (z - a) * (y - b.inner.y_m) / (b.outer.y_m - b.inner.y_m).max(1e-9)
        });
        for (s, &edge) in out.iter_mut().zip(y_m) {
            s.point(edge, kg, y, x);
        }
    }
    out
}

/// Half of what stands at the centre line, kg and kg m: lumps of the wing, at the spar, and masses that are fixed to it.
fn centre(design: &Design, layout: &Layout, weight: &Weight) -> [Sums; 2] {
    let at = |kg: f64, x_m: f64| Sums { force: kg, fore_aft: kg * x_m, ..Sums::default() };
    let spar_m = layout.bays.first().map_or(0.0, |b| b.inner.x_le_m + b.inner.spar_frac * b.inner.chord_m);
    let wing = weight.lumps.iter().filter(|l| l.0 <= AT_CENTRE_M).map(|l| l.1).sum();
    let fixed = design.aboard.masses.iter().filter(|m| !m.wing);
    let fixed = fixed.fold(Sums::default(), |sum, m| sum.plus(0.5, &at(m.mass_kg, m.x_m)));
    [at(wing, spar_m), fixed]
}

/// What lift of incidence and of the controls a case asks for: pressure, and pressure times each coefficient.
pub(super) struct Asked {
    pub(super) q: f64,
    pub(super) alpha: f64,
    pub(super) sym: f64,
    pub(super) anti: f64,
}

fn asked(c: &Case, lift: &LiftBasis) -> Asked {
    let q = pressure_pa(c.speed_m_s);
    Asked {
        q,
        alpha: q * (c.cl - lift.control_cl_per_rad * c.control_sym_rad),
        sym: q * c.control_sym_rad,
        anti: q * c.control_anti_rad,
    }
}

/// Shear, bending and torsion of one case, of the rigid wing.
fn of_case(
    c: &Case,
    (k, mass): (&UnitLoads, &Mass),
    lift: &LiftBasis,
    (row, peak): (&mut [f64], impl FnMut(Peak)),
) -> Roots {
    let on = asked(c, lift);
    let (down, column) = (mass.down(c), &mass.column);
    let parts = [&k.additional, &k.basic, &k.sym, &k.anti];
    let factors = [on.alpha, on.q, on.sym, on.anti];
    sum(row, parts.map(|c| &*c.along), factors, (&column.along, down));
    if c.support != Support::Root {
        let borne = Sums::default().plus(-down, &column.root).plus(-1.0, &mass.at_centre(c));
        let root = factors.iter().zip(parts).fold(borne, |s, (f, p)| s.plus(*f, &p.root));
        let held = reactions(c, &root, k);
        support(row, &held, k);
        peaks(c, row, &held, k).into_iter().for_each(peak);
        return Roots::default();
    }
    let air_nm = dot(factors, parts.map(Column::root_moment));
    Roots { air_nm, relief_nm: down * column.root_moment(), yielding_nm: 0.0 }
}

/// Four loads by their shares.
fn dot([a, b, c, d]: [f64; 4], [x, y, z, w]: [f64; 4]) -> f64 {
    a * x + b * y + c * z + d * w
}

/// Unit loads of the air by their factors, less those of the mass, edge by edge. What a case does not ask for is left out.
fn sum(out: &mut [f64], air: [&[f64]; 4], factors: [f64; 4], (mass, down): (&[f64], f64)) {
    let n = out.len();
    let ([a, b, c, d], mass) = (air.map(|a| &a[..n]), &mass[..n]);
    let [alpha, q, sym, anti] = factors;
    if alpha == 0.0 && q == 0.0 {
        out.iter_mut().zip(mass).for_each(|(out, m)| *out = 0.0 - down * m);
    } else {
        let parts = a.iter().zip(b).zip(mass);
        out.iter_mut().zip(parts).for_each(|(out, ((a, b), m))| *out = alpha * a + q * b - down * m);
    }
    if sym != 0.0 || anti != 0.0 {
        out.iter_mut().zip(c.iter().zip(d)).for_each(|(out, (c, d))| *out += sym * c + anti * d);
    }
}

/// Bending in the plane of the wing of one case, N m at the edges: drag, lift leaning forward, drag at the tip.
fn inplane(c: &Case, k: &UnitLoads, (layout, lift): (&Layout, &LiftBasis), out: &mut [f64]) {
    let on = asked(c, lift);
    let factors = [on.alpha, on.q, on.sym, on.anti];
    let parts = [&k.additional, &k.basic, &k.sym, &k.anti];
    let lean = lift.alpha_zero_rad + (on.alpha / on.q.max(1e-9)) / lift.slope_per_rad.max(1e-9)
        - c.cl / (std::f64::consts::PI * layout.aspect_ratio.max(1e-9));
    let tip_m = k.y_m.last().copied().unwrap_or(0.0);
    out.iter_mut().zip(&k.y_m).for_each(|(out, y)| *out = c.tip_drag_n * (tip_m - y));
    if on.q > 0.0 {
        let drag = on.q * INPLANE_CD;
        out.iter_mut().zip(&k.chord_m3).for_each(|(out, chord_m3)| *out += drag * chord_m3);
        for (part, factor) in parts.into_iter().zip(factors).filter(|(_, f)| *f != 0.0) {
            let leant = factor * lean;
            out.iter_mut().zip(&part.arm).for_each(|(out, arm)| *out -= leant * arm);
        }
    }
}

impl Loads {
    /// Greatest absolute root moment over the cases of a kind, N m.
    pub fn root_moment_nm(&self, kind: CaseKind) -> f64 {
        self.loads
            .iter()
            .filter(|l| self.cases.get(l.case).is_some_and(|c| c.kind == kind))
            .filter_map(|l| l.moment_nm().first())
            .fold(0.0, |a, m| a.max(m.abs()))
    }
}
