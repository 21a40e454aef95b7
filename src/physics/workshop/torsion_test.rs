//! The plan of a torsion test of a half wing: frames clamped at one or two ribs, a couple on each in steps, how far each turns,
//! and what gives first. No couple brings any section more torsion than the cases do at limit load.

use crate::physics::design::Design;
use crate::physics::evaluation::Evaluation;
use crate::physics::loads::beam::{Sums, resolve};
use crate::physics::loads::internal::{CaseLoads, Lists, Loads};
use crate::physics::strength::{Margin, sizing};
use crate::physics::units::GRAVITY_M_S2;
use crate::physics::wing::layout::Station;
use crate::physics::workshop::first;
use crate::physics::workshop::proof_load::STEPS;

/// Modes that a couple on the closed box brings on. It brings no bending, no air pressure, no load on controls or coverings.
pub const BROUGHT: [&str; 10] = [
    "nose_shear",
    "nose_buckling",
    "aft_buckling",
    "web_shear",
    "web_buckling",
    "nose_seam_bond",
    "cap_web_bond",
    "cap_skin_bond",
    "skin_rib_bond",
    "closing_rib",
];

/// Most arms a plan has.
pub const MOST_ARMS: usize = 2;

/// A frame clamped on a rib, and the couple on it at limit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Arm {
    /// Which edge of the bays, counted from the root.
    pub edge: usize,
    pub y_m: f64,
    /// Nose-up positive, N m, about the span.
    pub couple_nm: f64,
    /// What each of the two lines pulls with at limit, as a mass, kg.
    pub bucket_kg: f64,
}

/// Torsion asked and laid on one bay, at its inner edge, N m, in the direction of the test.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct InBay {
    pub bay: usize,
    pub from_m: f64,
    pub to_m: f64,
    /// The greatest of all cases, and whose it is (index into `Loads::cases`).
    pub asked_nm: f64,
    pub case: usize,
    /// Torsion of that case alone, without what its shear adds to the flow round the nose.
    pub plain_nm: f64,
    pub laid_nm: f64,
}

impl InBay {
    /// Share of what is asked that the test brings.
    pub fn share(&self) -> f64 {
        if self.asked_nm > 0.0 { self.laid_nm / self.asked_nm } else { 0.0 }
    }
}

/// Two pointers on the ends of a chord: how far that chord turns at each of [`STEPS`], nose-up positive, rad.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pointers {
    pub edge: usize,
    pub y_m: f64,
    /// From the axis it turns about to the nose and to the trailing edge, m.
    pub ahead_m: f64,
    pub behind_m: f64,
    pub turn_rad: [f64; STEPS.len()],
}

/// A plan.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    pub nose_up: bool,
    /// Distance between the two lines of a frame, m.
    pub between_m: f64,
    /// The outer one first.
    pub arms: Vec<Arm>,
    pub bays: Vec<InBay>,
    /// The greatest torsion at the root in the other direction, as a share of that in this.
    pub other_way: f64,
    /// If the couples were made so much greater that the root sees all that is asked: how much greater, and how many bays would
    /// be over limit; beside a frame as many times.
    pub to_root: (f64, usize),
    /// At every arm, and at the tip.
    pub pointers: Vec<Pointers>,
    /// Modes that the test brings on, by what it leaves of them at ultimate, least first.
    pub first: Vec<Margin>,
    /// What was done with the places that were named, where it is not what was named.
    pub moved: Vec<String>,
}

/// Why there is no plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoPlan {
    NoCase,
    OpenNose,
    NothingThere,
}

impl NoPlan {
    pub const fn words(self) -> &'static str {
        match self {
            Self::NoCase => "no flight case is on, so there is no torsion to prove",
            Self::OpenNose => "the nose is open somewhere: torsion of an open section is not computed",
            Self::NothingThere => "the cases ask for no torsion there",
        }
    }
}

/// Greatest torsion of the flight cases at every edge, N m, nose-up and nose-down (both positive), each with its case.
///
/// Counted as the torque about the spar line that gives the nose the same shear flow: `T + V fV/fT`, f the flow for each unit of
/// shear and of torque; without a rigid aft box it is T. **Derived here** from the flows of the section.
fn asked(e: &Evaluation) -> Option<[Vec<(f64, usize)>; 2]> {
    let n = e.layout.stations().count();
    let mut out = [vec![(0.0, 0); n], vec![(0.0, 0); n]];
    let mut any = false;
    for l in &e.loads.loads {
        if !e.loads.cases.get(l.case).is_some_and(|c| c.kind.in_flight()) {
            continue;
        }
        any = true;
        let edges = l.torque_nm().iter().zip(l.shear_n()).zip(&e.sections);
        for (i, ((t, v), s)) in edges.enumerate().take(n) {
            let of_shear = if s.nose_flow_per_nm > 0.0 { s.nose_flow_per_n / s.nose_flow_per_nm } else { 0.0 };
            let torque = t + v * of_shear;
            for (way, sign) in out.iter_mut().zip([1.0, -1.0]) {
                if sign * torque > way[i].0 {
                    way[i] = (sign * torque, l.case);
                }
            }
        }
    }
    any.then_some(out)
}

/// The greatest couple outboard of an edge, N m: nowhere inboard of it, nor at it, more than is asked.
fn most_nm(asked_nm: &[f64], edge: usize) -> f64 {
    asked_nm.iter().take(edge + 1).copied().fold(f64::INFINITY, f64::min).clamp(0.0, 1e9)
}

/// Torsion of a staircase of one or two arms in every bay, N m; `edges` the outer first.
fn staircase(asked_nm: &[f64], edges: &[usize]) -> Vec<f64> {
    let bays = asked_nm.len().saturating_sub(1);
    (0..bays).map(|bay| edges.iter().filter(|k| bay < **k).map(|k| most_nm(asked_nm, *k)).fold(0.0, f64::max)).collect()
}

/// The edges for one or two arms that bring the inner half of the half span nearest to what is asked: the greatest mean share,
/// by length, of the cases' torsion in those bays. The outer first. **Derived here:** every choice is tried.
pub fn best_edges(asked_nm: &[f64], y_m: &[f64], arms: usize) -> Vec<usize> {
    let half = 0.5 * y_m.last().copied().unwrap_or(0.0);
    let n = asked_nm.len().min(y_m.len());
    let reached = |edges: &[usize]| -> f64 {
        let laid = staircase(asked_nm, edges);
        (0..n.saturating_sub(1))
            .filter(|i| y_m[*i] < half - 1e-9 && asked_nm[*i] > 0.0)
            .map(|i| (y_m[i + 1].min(half) - y_m[i]) * laid[i] / asked_nm[i])
            .sum()
    };
    let mut best: (f64, Vec<usize>) = (0.0, Vec::new());
    let mut look = |edges: Vec<usize>| {
        let r = reached(&edges);
        if r > best.0 + 1e-12 {
            best = (r, edges);
        }
    };
    for outer in 1..n {
        look(vec![outer]);
        for inner in (1..outer).filter(|_| arms > 1) {
            look(vec![outer, inner]);
        }
    }
    best.1
}

/// Turn of the chord at every edge for a couple of 1 N m about the span carried from there to the root, rad.
///
/// `cos int cos/GJ ds + sin int sin/EI ds`, the angle that of the sweep of the spar, s along it.
/// **Source:** Bredt and Batho for GJ (see [`sizing::torsion`]); beam theory; a vertical couple about a swept axis turns and bends
/// it, [`resolve`]. **Valid for:** closed nose, small angles, free warping: a held root makes it a little stiffer. None where the
/// nose is open.
pub fn turn_per_nm(e: &Evaluation) -> Option<Vec<f64>> {
    if e.sections.is_empty() || e.sections.iter().take(e.layout.bays.len()).any(|s| s.gj_nm2 <= 0.0) {
        return None;
    }
    let stations: Vec<&Station> = e.layout.stations().collect();
    let couple = Sums { couple: 1.0, ..Sums::default() };
    let (moment_nm, torque_nm): (Vec<f64>, Vec<f64>) =
        stations.iter().map(|s| resolve(&couple, 0.0, s.spar_slope * s.spar_cos(), s.spar_cos())).unzip();
    let loads = CaseLoads::of(0, Lists { moment_nm: &moment_nm, torque_nm: &torque_nm, ..Lists::default() });
    let bent = sizing::bend(&e.layout, &e.sections, &Loads { loads: vec![loads], ..Loads::default() });
    let twist = bent.first()?.twist_rad();
    let over = |k: f64| if k > 0.0 { 1.0 / k } else { 0.0 };
    let mut slope = 0.0;
    let mut out = Vec::with_capacity(stations.len());
    for (i, s) in stations.iter().enumerate() {
        if let Some(bay) = i.checked_sub(1) {
            let (a, next) = (&e.sections[bay], e.sections.get(i).map_or(0.0, |s| s.ei_nm2));
            let length_m = e.layout.bays[bay].length_m / e.layout.bays[bay].mid.spar_cos();
            let outer = if a.ei_out_nm2 > 0.0 { a.ei_out_nm2 } else { next };
            slope += 0.5 * length_m * (moment_nm[bay] * over(a.ei_nm2) + moment_nm[i] * over(outer));
        }
        out.push(s.spar_cos() * twist.get(i)? - s.spar_slope * s.spar_cos() * slope);
    }
    Some(out)
}

/// Loads of the half wing under couples at some edges, at limit: torque and bending inboard of each.
fn loads(e: &Evaluation, case: usize, arms: &[Arm]) -> CaseLoads {
    let lists = e.layout.stations().enumerate().map(|(i, s)| {
        let couple = arms.iter().filter(|a| i < a.edge).map(|a| a.couple_nm).sum();
        resolve(&Sums { couple, ..Sums::default() }, 0.0, s.spar_slope * s.spar_cos(), s.spar_cos())
    });
    let (moment_nm, torque_nm): (Vec<f64>, Vec<f64>) = lists.unzip();
    CaseLoads::of(case, Lists { moment_nm: &moment_nm, torque_nm: &torque_nm, ..Lists::default() })
}

/// Where two pointers stand on a chord, and how they turn. The chord turns about the shear centre.
fn pointers(e: &Evaluation, edge: usize, arms: &[Arm], turn: &[f64]) -> Option<Pointers> {
    let s = e.layout.stations().nth(edge)?;
    let axis_m = s.spar_frac * s.chord_m + e.sections.get(edge).map_or(0.0, |s| s.shear_centre_m);
    let all: f64 = arms.iter().filter_map(|a| Some(a.couple_nm * turn.get(a.edge.min(edge))?)).sum();
    Some(Pointers { edge, y_m: s.y_m, ahead_m: axis_m, behind_m: s.chord_m - axis_m, turn_rad: STEPS.map(|s| s * all) })
}

/// The plan. `at` names up to two places, fractions of the half span; none: the best two. `between_m` lies between the two lines
/// of a frame.
pub fn plan(design: &Design, e: &Evaluation, at: &[f64], between_m: f64) -> Result<Plan, NoPlan> {
    let [up, down] = asked(e).ok_or(NoPlan::NoCase)?;
    let turn = turn_per_nm(e).ok_or(NoPlan::OpenNose)?;
    let root = |way: &[(f64, usize)]| way.first().map_or(0.0, |w| w.0);
    let nose_up = root(&up) > root(&down);
    let (way, other) = if nose_up { (&up, &down) } else { (&down, &up) };
    let asked_nm: Vec<f64> = way.iter().map(|w| w.0).collect();
    let stations: Vec<&Station> = e.layout.stations().collect();
    let y_m: Vec<f64> = stations.iter().map(|s| s.y_m).collect();
    let mut edges = if at.is_empty() {
        best_edges(&asked_nm, &y_m, MOST_ARMS)
    } else {
        let nearest = |eta: &f64| {
            let off = |i: &usize| (stations[*i].eta - eta).abs();
            (1..stations.len()).min_by(|a, b| off(a).total_cmp(&off(b)))
        };
        at.iter().take(MOST_ARMS).filter_map(nearest).collect()
    };
    let mut moved: Vec<String> = at.iter().zip(&edges).filter_map(|(eta, i)| to_a_rib(*eta, stations[*i])).collect();
    edges.sort_unstable_by(|a, b| b.cmp(a));
    let named = edges.len();
    edges.dedup();
    if edges.len() < named {
        moved.push("both places named are at one rib: one frame".to_owned());
    }
    let sign = if nose_up { 1.0 } else { -1.0 };
    let mut outboard_nm = 0.0;
    let mut arms = Vec::new();
    for edge in &edges {
        let couple = (most_nm(&asked_nm, *edge) - outboard_nm).max(0.0);
        outboard_nm += couple;
        if couple > 0.0 {
            let bucket_kg = couple / (between_m.max(1e-6) * GRAVITY_M_S2);
            arms.push(Arm { edge: *edge, y_m: y_m[*edge], couple_nm: sign * couple, bucket_kg });
        } else {
            moved.push(format!("a frame {:.0} mm out would bring nothing more: left out", 1e3 * y_m[*edge]));
        }
    }
    let outer = arms.first().ok_or(NoPlan::NothingThere)?.edge;
    let laid = staircase(&asked_nm, &arms.iter().map(|a| a.edge).collect::<Vec<_>>());
    let plain = |case: usize, bay: usize| {
        let l = e.loads.loads.iter().find(|l| l.case == case);
        l.and_then(|l| l.torque_nm().get(bay)).map_or(0.0, |t| sign * t)
    };
    let bays: Vec<InBay> = (0..laid.len())
        .map(|bay| InBay {
            bay,
            from_m: y_m[bay],
            to_m: y_m[bay + 1],
            asked_nm: way[bay].0,
            case: way[bay].1,
            plain_nm: plain(way[bay].1, bay),
            laid_nm: laid[bay],
        })
        .collect();
    let mut at: Vec<usize> = arms.iter().map(|a| a.edge).collect();
    at.reverse();
    at.extend((outer + 1 < stations.len()).then(|| stations.len() - 1));
    Ok(Plan {
        nose_up,
        between_m,
        other_way: root(other) / root(way).max(1e-9),
        to_root: to_root(&bays, &asked_nm),
        pointers: at.into_iter().filter_map(|edge| pointers(e, edge, &arms, &turn)).collect(),
        first: first::of_each_mode(first::on_the_rig(design, e, &loads(e, way[0].1, &arms), &BROUGHT)),
        bays,
        arms,
        moved,
    })
}

/// What is said of a place that is no rib: where the frame stands instead.
fn to_a_rib(eta: f64, rib: &Station) -> Option<String> {
    // Half a millimetre on a wing of six metres.
    let off = (eta - rib.eta).abs() > 1e-4;
    off.then(|| {
        format!("a frame at {eta} of the half span stands on the rib nearest to it, {:.0} mm out", 1e3 * rib.y_m)
    })
}

/// How much greater the couples would be that bring the root all that is asked, and bays then over limit at their outer edge.
fn to_root(bays: &[InBay], asked_nm: &[f64]) -> (f64, usize) {
    let Some(k) = bays.first().filter(|b| b.laid_nm > 0.0).map(|b| b.asked_nm / b.laid_nm) else { return (1.0, 0) };
    let over = |b: &&InBay| asked_nm.get(b.bay + 1).is_some_and(|asked| k * b.laid_nm > asked * (1.0 + 1e-9));
    (k, bays.iter().filter(over).count())
}
