//! The rib at a joint or at the root: what turns the wing about its spar goes through it to spar and rear fitting, with what the kink of
//! a swept spar turns there.

use crate::physics::design::{Joint, RibKind};
use crate::physics::material::Mark;
use crate::physics::strength::sizing::Section;
use crate::physics::strength::{Context, Margin, Mode, Verdict, inputs, margin, rib_bending, rib_shear, ribs};
use crate::physics::wing::layout::{RibRole, Station};

pub const MODE: Mode = Mode {
    key: "joint_rib",
    title: "rib of root and joints",
    formula: "cut at x behind the spar, h deep there: flow q2 - F/h + V/h against the body, caps (2 A(x) q2 - F (d - x) + M)/(h E A) against their strain or that at which they buckle off the rib; q2 the flow of the box that ends, A(x) its cell behind the cut, V and M of the air on the rib; F at the rear fitting, d behind the spar: where the halves meet (T cos - Mb sin)/d, at a joint of one half T/(d cos), T the torque and Mb the bending about the spar, cos and sin of its sweep",
    source: "Bredt, T = 2 A q: Johnson, Advanced Structural Mechanics, 2000, pp. 79-80; a rib on two supports loaded by a flow all round, bending turned at a kink: statics, derived; buckling as rib buckling",
    mark: Mark::Computed,
    valid: "at a joint that names its rib and a rear fitting between spar and hinge, with a rigid aft box or with a nose alone; fittings, and buckling of the body in shear, are not in it",
    safe_side: "air loads of the bay beside as on a cantilever, added whatever their sign; the worst of eleven cuts",
    knock_down: "0.8 on mean strain",
    power: 1.0,
    margins: Some(margins),
};

/// Where a rib is cut, as shares of its way to the rear fitting, or to the hinge without one.
const CUTS: usize = 10;

/// The aft part of a rib: depth at the spar and at its end, m, falling in a straight line; length, m.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wedge {
    pub depth_m: f64,
    pub end_depth_m: f64,
    pub length_m: f64,
}

impl Wedge {
    /// Depth at a distance behind the spar, m.
    fn depth_at_m(&self, x_m: f64) -> f64 {
        let t = (x_m / self.length_m.max(1e-9)).clamp(0.0, 1.0);
        self.depth_m + t * (self.end_depth_m - self.depth_m)
    }

    /// Share of its area that lies behind a distance.
    fn share_behind(&self, x_m: f64) -> f64 {
        let rest = (self.length_m - x_m).clamp(0.0, self.length_m);
        let all = 0.5 * (self.depth_m + self.end_depth_m) * self.length_m;
        0.5 * (self.depth_at_m(x_m) + self.end_depth_m) * rest / all.max(1e-12)
    }
}

/// Shear, N, and moment, N m, at a cut x behind the spar of a rib whose outline carries a flow q all round and that is held at
/// the spar and by a force F up at d behind it: `q h(x) - F`, `2 A(x) q - F (d - x)`, F ahead of the fitting only. A flow that
/// turns the nose up comes down its rear end; `A(x)` is what of the cell lies behind the cut.
///
/// **Source:** the flows on the outline behind a cut add up to q over the depth there, and turn about it by `2 A q`: Bredt.
/// **Derived.** **Valid for:** one flow all round the aft cell, no bending of the skins.
pub fn cut(rib: &Wedge, flow: (f64, f64), held: Option<(f64, f64)>, x_m: f64) -> (f64, f64) {
    let held = held.filter(|h| x_m < h.1).map_or((0.0, 0.0), |(force, at)| (force, at - x_m));
    at_cut(flow, (rib.depth_at_m(x_m), rib.share_behind(x_m)), held)
}

/// The same at a cut of known depth and share of the cell behind it, the fitting so far behind the cut.
fn at_cut((flow_n_m, cell_m2): (f64, f64), (depth_m, behind): (f64, f64), (force, arm_m): (f64, f64)) -> (f64, f64) {
    (flow_n_m * depth_m - force, 2.0 * cell_m2 * behind * flow_n_m - force * arm_m)
}

/// What a rib along the stream hands to a fitting behind the spar, N m, of a swept spar's torque and bending about itself, N m.
///
/// Where the halves meet their spars make a kink. Nothing on the other side takes what of the bending turns about the line across the
/// wing: both halves turn the same way, and the rib carries it, `T cos - M sin`. A joint of one half has no kink: the spar hands its
/// bending on, and only the distance across the spar works against the torque, `T/cos`.
/// **Source:** components of a moment. **Derived.** **Valid for:** both halves loaded alike, fittings in the plane of the rib.
pub fn handed_nm((torque_nm, bending_nm): (f64, f64), sweep_rad: f64, halves_meet: bool) -> f64 {
    let (sin, cos) = sweep_rad.sin_cos();
    if halves_meet { torque_nm * cos - bending_nm * sin } else { torque_nm / cos.max(1e-6) }
}

/// The end of a piece at a joint: the bay it stands in, its section, the loads there.
struct End<'c> {
    bay: usize,
    station: &'c Station,
    section: &'c Section,
    loads: Vec<Carried>,
}

/// What the spar carries there in one case, limit, and what of it the rib hands to the rear fitting.
struct Carried {
    case: usize,
    shear_n: f64,
    torque_nm: f64,
    bending_nm: f64,
    handed_nm: f64,
}

impl End<'_> {
    /// Flow round the aft box that ends there, N/m; none round a nose alone.
    fn flow_n_m(&self, l: &Carried) -> f64 {
        if !self.section.two_cells {
            return 0.0;
        }
        l.shear_n * self.section.aft_flow_per_n + l.torque_nm * self.section.aft_flow_per_nm
    }

    /// The cell of that box in the plane of the rib, m2.
    fn cell_m2(&self, sweep_rad: f64) -> f64 {
        if self.section.two_cells { self.section.aft_cell_m2 / sweep_rad.cos().max(1e-6) } else { 0.0 }
    }
}

/// Loads at a bay edge.
fn loads_at(c: &Context, edge: usize) -> Vec<Carried> {
    let sweep = c.spar_sweep_rad();
    let of = |l: &crate::physics::loads::internal::CaseLoads| {
        let get = |v: &[f64]| v.get(edge).copied().unwrap_or(0.0);
        let (torque_nm, bending_nm) = (get(l.torque_nm()), get(l.moment_nm()));
        let handed_nm = handed_nm((torque_nm, bending_nm), sweep, edge == 0);
        Carried { case: l.case, shear_n: get(l.shear_n()), torque_nm, bending_nm, handed_nm }
    };
    c.loads.loads.iter().map(of).collect()
}

/// Both pieces of a joint; at the root the one half.
fn ends<'c>(c: &'c Context, edge: usize) -> impl Iterator<Item = End<'c>> {
    let bays = &c.layout.bays;
    let inner = edge.checked_sub(1).and_then(|bay| Some((bay, &bays.get(bay)?.outer)));
    let outer = bays.get(edge).map(|b| (edge, &b.inner));
    let with = move |(bay, station): (usize, &'c Station)| {
        let section = c.sections.get(bay)?;
        Some(End { bay, station, section, loads: loads_at(c, edge) })
    };
    [inner, outer].into_iter().flatten().filter_map(with)
}

fn not_shown(bay: usize, why: &'static str) -> Margin {
    let mut m = margin(MODE.key, (Some(bay), None, None), (0.0, 0.0, "N/m"), inputs![]);
    m.verdict = Verdict::NotShown(why);
    m
}

fn margins(c: &Context, out: &mut Vec<Margin>) {
    let bays = &c.layout.bays;
    for edge in 0..bays.len() {
        let (role, eta) = (bays[edge].inner_rib, bays[edge].inner.eta);
        if edge > 0 && role != RibRole::Joint {
            continue;
        }
        let joint = c.design.joints.iter().min_by(|a, b| (a.eta - eta).abs().total_cmp(&(b.eta - eta).abs()));
        for end in ends(c, edge) {
            let Some(joint) = joint.filter(|_| role == RibRole::Joint) else {
                out.push(not_shown(
                    end.bay,
                    "no joint at the root: what takes the torque of the wing there is not said",
                ));
                continue;
            };
            let Some(kind) = joint.rib.and_then(|k| c.design.rib_kinds.get(k)) else {
                out.push(not_shown(
                    end.bay,
                    "the joint names no rib: what hands the torque to its fittings is not said",
                ));
                continue;
            };
            out.extend(one(c, joint, kind, &end));
        }
    }
}

fn one(c: &Context, joint: &Joint, kind: &RibKind, end: &End) -> Option<Margin> {
    let s = end.station;
    let hinge_m = ((c.design.hinge_frac - s.spar_frac) * s.chord_m).max(0.01);
    let r = ribs::standing(c, end.bay, s, kind)?;
    let (ea, strain, bare) = rib_bending::cap_or_buckling(c, &r)?;
    let body = rib_shear::body_n_m(c, &r)?;
    let rib = Wedge { depth_m: r.depth_m, end_depth_m: r.end_depth_m.max(0.01), length_m: hinge_m };
    let Some(at) = joint.rear_fitting_chord else {
        return Some(not_shown(
            end.bay,
            "the joint says no rear fitting: what takes the torque at the spar is not computed",
        ));
    };
    let rear = (at - s.spar_frac) * s.chord_m;
    if rear <= 0.0 || rear > hinge_m + 1e-9 {
        return Some(not_shown(end.bay, "the rear fitting does not stand between spar and hinge"));
    }
    let (v, m) = (r.most_shear.shear_n.abs(), r.most_moment.moment_nm.abs());
    // Every cut: place, depth, share of the cell behind it, and of the air beside, which falls to nothing at the trailing edge.
    let cuts: [[f64; 4]; CUTS + 1] = std::array::from_fn(|i| {
        // Just ahead of the fitting at the last.
        let x = rear * (i as f64 / CUTS as f64).min(1.0 - 1e-9);
        [x, rib.depth_at_m(x), rib.share_behind(x), 1.0 - x / r.length_m.max(1e-9)]
    });
    let cell_m2 = end.cell_m2(c.spar_sweep_rad());
    let (per_strain, per_flow) = (1.0 / (ea * strain).max(1e-9), 1.0 / body.max(1e-9));
    let (mut most, mut worst) = (-1.0, (0, 0));
    for (which, l) in end.loads.iter().enumerate() {
        let q = end.flow_n_m(l);
        let force = l.handed_nm / rear;
        for (i, [x, h, behind, left]) in cuts.iter().enumerate() {
            let arm = rear - x;
            let (shear, moment) = at_cut((q, cell_m2), (*h, *behind), (force, arm));
            let share = ((shear.abs() + v * left) * per_flow).max((moment.abs() + m * left) * per_strain) / h;
            if share > most {
                (most, worst) = (share, (which, i));
            }
        }
    }
    let (l, [x, h, behind, left]) = (end.loads.get(worst.0)?, cuts[worst.1]);
    let q = end.flow_n_m(l);
    let force = l.handed_nm / rear;
    let (shear, moment) = at_cut((q, cell_m2), (h, behind), (force, rear - x));
    let flow = (shear.abs() + v * left) / h * c.ultimate();
    let bent = ribs::cap_strain((moment.abs() + m * left) * c.ultimate(), h, ea);
    // The caps stand as much of the flow that comes with their strain.
    let by_caps = if bent > 0.0 { flow * strain / bent } else { f64::INFINITY };
    let mut worked = margin(
        MODE.key,
        (Some(end.bay), None, Some(l.case)),
        (flow, body.min(by_caps), "N/m"),
        inputs![
            ("q2 that ends limit", q, "N/m"),
            ("cell", cell_m2, "m2"),
            ("T limit", l.torque_nm, "N m"),
            ("Mb limit", l.bending_nm, "N m"),
            ("at the rear fitting limit", force, "N"),
            ("cut behind the spar", x, "m"),
            ("depth there", h, "m"),
            ("body stands", body, "N/m"),
            ("caps stand", by_caps, "N/m"),
        ],
    );
    rib_bending::bare_edge(&mut worked, bare);
    Some(worked)
}
