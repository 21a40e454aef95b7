//! The plan of a proof load by bags: what to lay on each bay in whole bags, in which steps, how far the tip should go, and
//! what gives first. The rule of the bags stands in `loads::proof`; both halves are loaded together, bag by bag.

use crate::physics::design::Design;
use crate::physics::evaluation::Evaluation;
use crate::physics::loads::case::{Case, CaseKind};
use crate::physics::loads::internal::{CaseLoads, Lists, Loads};
use crate::physics::loads::proof::{self, Bags};
use crate::physics::strength::{Margin, sizing};
use crate::physics::units::GRAVITY_M_S2;
use crate::physics::workshop::first;

/// Shares of limit load the bags are laid in. **Source:** practice, no source.
pub const STEPS: [f64; 5] = [0.4, 0.6, 0.8, 0.9, 1.0];

/// Modes that bags on the quarter chord bring on as the case does: bending and shear. They bring no torsion of the section
/// moment, no air pressure on skins and no control loads.
pub const BROUGHT: [&str; 10] = [
    "cap_tension",
    "cap_compression",
    "cap_stability",
    "cap_ply_end",
    "web_shear",
    "web_buckling",
    "web_crushing",
    "post_crushing",
    "cap_web_bond",
    "joint_pins",
];

/// Bags on one bay of each half.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Station {
    pub bay: usize,
    pub from_m: f64,
    pub to_m: f64,
    /// Centre of the heap: from the root, and behind the nose, on the quarter chord.
    pub y_m: f64,
    pub x_m: f64,
    /// What the case asks at limit, kg; may be negative where the panel alone weighs more than that.
    pub asked_kg: f64,
    /// Bags laid in all after each of [`STEPS`].
    pub bags: [u32; STEPS.len()],
}

/// A plan for one case.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Plan {
    /// Index into `Loads::cases`.
    pub case: usize,
    /// A positive case is tested upside down.
    pub upside_down: bool,
    pub bag_kg: f64,
    pub stations: Vec<Station>,
    /// What hangs on one half in the test beside the bags: its own mass, as expected, kg.
    pub half_kg: f64,
    /// Moment of bags and own mass at limit over that of the case, least and greatest over the inner half of the half span.
    pub moment_share: (f64, f64),
    /// How far the tip goes from the empty rig under the bags laid at each of [`STEPS`], m; the empty wing hangs by `own_tip_m`
    /// already.
    pub tip_m: [f64; STEPS.len()],
    pub own_tip_m: f64,
    /// Modes the bags bring on, by what this case alone leaves of them at ultimate, least first; `short` of them fall short.
    pub first: Vec<Margin>,
}

/// Cases that bags can stand for: manoeuvre and gust, both halves alike. A dive is torsion and a roll is not alike.
pub fn can_be_laid(case: &Case) -> bool {
    matches!(case.kind, CaseKind::Manoeuvre | CaseKind::Gust) && case.control_anti_rad == 0.0 && case.excused.is_none()
}

/// The cases with a plan, as indices into `Loads::loads`, hardest at the root first.
pub fn cases(loads: &Loads) -> Vec<usize> {
    let root = |i: usize| loads.loads[i].moment_nm().first().map_or(0.0, |m| m.abs());
    let mut out: Vec<usize> =
        (0..loads.loads.len()).filter(|i| loads.cases.get(loads.loads[*i].case).is_some_and(can_be_laid)).collect();
    out.sort_by(|a, b| root(*b).total_cmp(&root(*a)));
    out
}

/// Bags of a bay at a share of limit, kg, given those at limit and the bay's own mass: bags and own mass together are that
/// share of the net load, `s (B + m) - m`. Negative: leave it bare.
///
/// **Source:** rule of the airloads reference, section 7: proof-01, four times and once the weight on one panel.
pub fn at_share(limit_kg: f64, own_kg: f64, share: f64) -> f64 {
    share * (limit_kg + own_kg) - own_kg
}

/// Whole bags for masses by bay, root to tip: from the tip inwards the running sum is never above what is asked, and less
/// than a bag below it, so no section sees more shear or moment than asked.
/// **Derived here.** **Valid for:** masses outboard that are negative are left bare and given to the next bay inboard.
pub fn whole(masses_kg: &[f64], bag_kg: f64) -> Vec<u32> {
    let mut out = vec![0; masses_kg.len()];
    let (mut asked, mut laid) = (0.0, 0.0);
    for (n, kg) in out.iter_mut().zip(masses_kg).rev() {
        asked += kg;
        let bags = if bag_kg > 0.0 { ((asked - laid) / bag_kg + 1e-9).floor().clamp(0.0, 1e6) } else { 0.0 };
        *n = bags as u32;
        laid += bags * bag_kg;
    }
    out
}

/// Own mass of the half wing by bay, as expected: kg and its moment about the root, kg m.
fn own(e: &Evaluation) -> Vec<(f64, f64)> {
    let w = &e.weight;
    let scale = if w.drawn_kg > 0.0 { w.expected_kg / w.drawn_kg } else { 1.0 };
    e.layout
        .bays
        .iter()
        .zip(&w.running_kg_m)
        .map(|(b, run)| {
            let (from, to) = (b.inner.y_m, b.outer.y_m);
            let kg = run * (to - from);
            let lumps = w.lumps.iter().filter(|l| l.0 > from.max(1e-6) && l.0 <= to);
            let (m, my) = lumps.fold((kg, kg * 0.5 * (from + to)), |a, l| (a.0 + l.1, a.1 + l.1 * l.0));
            (scale * m, scale * my)
        })
        .collect()
}

/// Bending moment, N m across the span, of masses by bay (kg, kg m about the root) at a place y.
fn moment_nm(heaps: &[(f64, f64, f64)], y: f64) -> f64 {
    heaps.iter().filter(|h| h.2 >= y - 1e-9).map(|(kg, my, _)| GRAVITY_M_S2 * (my - kg * y)).sum()
}

/// The plan of a case of `Loads::loads`; None when it has none. `bag_kg` is the mass of one bag.
pub fn plan(design: &Design, e: &Evaluation, load: usize, bag_kg: f64) -> Option<Plan> {
    let l = e.loads.loads.get(load)?;
    e.loads.cases.get(l.case).filter(|c| can_be_laid(c))?;
    let at_limit: Vec<Bags> = proof::bags(&e.layout, &e.weight, l);
    let own = own(e);
    if at_limit.is_empty() || own.len() != at_limit.len() {
        return None;
    }
    let mut stations: Vec<Station> = e
        .layout
        .bays
        .iter()
        .zip(&at_limit)
        .map(|(b, g)| {
            let (from_m, to_m) = (b.inner.y_m, b.outer.y_m);
            let t = if to_m > from_m { (g.y_m - from_m) / (to_m - from_m) } else { 0.5 };
            let chord_m = b.inner.chord_m + t * (b.outer.chord_m - b.inner.chord_m);
            Station {
                bay: g.bay,
                from_m,
                to_m,
                y_m: g.y_m,
                x_m: 0.25 * chord_m,
                asked_kg: g.mass_kg,
                ..Station::default()
            }
        })
        .collect();
    for (step, share) in STEPS.iter().enumerate().rev() {
        let masses: Vec<f64> = at_limit.iter().zip(&own).map(|(b, o)| at_share(b.mass_kg, o.0, *share)).collect();
        for (s, n) in stations.iter_mut().zip(whole(&masses, bag_kg)) {
            // No bag is taken off again on the way up, and limit is what the case asks: a step below it gives way.
            s.bags[step] = s.bags.get(step + 1).map_or(n, |next| n.min(*next));
        }
    }
    let moment_share = shares(e, &stations, &own, &at_limit, bag_kg);
    let tip = |loads: CaseLoads| {
        let loads = Loads { loads: vec![loads], ..Loads::default() };
        let bent = sizing::bend(&e.layout, &e.sections, &loads);
        bent.first().and_then(|b| b.deflection_m().last()).copied().unwrap_or(0.0)
    };
    let own_tip_m = tip(hung(e, &own));
    let mut tip_m = [0.0; STEPS.len()];
    for (step, tip_m) in tip_m.iter_mut().enumerate() {
        let heap = |(o, s): (&(f64, f64), &Station)| {
            let kg = f64::from(s.bags[step]) * bag_kg;
            (o.0 + kg, o.1 + kg * s.y_m)
        };
        let all: Vec<(f64, f64)> = own.iter().zip(&stations).map(heap).collect();
        *tip_m = tip(hung(e, &all)) - own_tip_m;
    }
    Some(Plan {
        case: l.case,
        upside_down: l.shear_n().first().is_some_and(|s| *s >= 0.0),
        bag_kg,
        stations,
        half_kg: own.iter().map(|o| o.0).sum(),
        moment_share,
        tip_m,
        own_tip_m,
        first: first::of_each_mode(first::on_the_rig(design, e, l, &BROUGHT)),
    })
}

/// Moment of whole bags at limit with the own mass, over that of exact heaps with it: least and greatest from the root to the middle.
fn shares(e: &Evaluation, stations: &[Station], own: &[(f64, f64)], exact: &[Bags], bag_kg: f64) -> (f64, f64) {
    let heaps = |kg: &dyn Fn(usize) -> f64| -> Vec<(f64, f64, f64)> {
        let all = stations.iter().zip(own).enumerate();
        all.map(|(i, (s, o))| (o.0 + kg(i), o.1 + kg(i) * s.y_m, s.from_m)).collect()
    };
    let laid = heaps(&|i| f64::from(stations[i].bags[STEPS.len() - 1]) * bag_kg);
    let want = heaps(&|i| exact[i].mass_kg);
    let inner = stations.iter().map(|s| s.from_m).filter(|y| *y <= 0.5 * e.layout.half_span_m);
    inner.fold((f64::INFINITY, f64::NEG_INFINITY), |a, y| {
        let m = moment_nm(&want, y);
        let r = if m.abs() > 1e-9 { moment_nm(&laid, y) / m } else { 1.0 };
        (a.0.min(r), a.1.max(r))
    })
}

/// The half wing held at the root under masses by bay (kg, kg m about the root), downwards: moments on the spar line.
fn hung(e: &Evaluation, masses: &[(f64, f64)]) -> CaseLoads {
    let stations: Vec<_> = e.layout.stations().collect();
    let x = |i: usize| stations[i].x_le_m + stations[i].spar_frac * stations[i].chord_m;
    let n = stations.len();
    let heaps: Vec<(f64, f64, f64)> = masses.iter().zip(&e.layout.bays).map(|(m, b)| (m.0, m.1, b.inner.y_m)).collect();
    let moment_nm: Vec<f64> = (0..n)
        .map(|i| {
            let j = i.min(n.saturating_sub(2));
            let dy = (stations[j + 1].y_m - stations[j].y_m).max(1e-9);
            let along = ((x(j + 1) - x(j)) / dy).hypot(1.0);
            moment_nm(&heaps, stations[i].y_m) * along
        })
        .collect();
    CaseLoads::of(0, Lists { moment_nm: &moment_nm, ..Lists::default() })
}
