//! A test section: a short length of the spar made only to be broken. Where it comes from, the rig that brings it moment and shear
//! of its design case together, at what load which mode should break it, how far the load goes, what it weighs.

use crate::physics::design::{Design, MayBuckle, Service, Strip};
use crate::physics::evaluation::Evaluation;
use crate::physics::loads::internal::{CaseLoads, Lists};
use crate::physics::mass::tally::{Heading, Part};
use crate::physics::strength::{MODES, Margin, Verdict, web};
use crate::physics::workshop::first;
use crate::physics::workshop::proof_load::STEPS;
use crate::physics::workshop::rig::{self, Beam, Lengths, Rig};

/// How the load that breaks a section lies to the one its margin allows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scatter {
    pub mode: &'static str,
    /// Of the spar alone, or only where the nose is made with it.
    pub nose: bool,
    /// Likely strength over what the margin allows, and the standard deviation of its logarithm: an error of the form that all
    /// sections share, and from section to section.
    pub likely_over_allowed: f64,
    pub shared: f64,
    pub own: f64,
}

const fn of(mode: &'static str, nose: bool, likely_over_allowed: f64, shared: f64, own: f64) -> Scatter {
    Scatter { mode, nose, likely_over_allowed, shared, own }
}

/// Every mode a section can break by.
///
/// Likely over allowed takes back what the mode itself says it holds back: 0.8 on mean strain; of waviness (0.7) and the
/// imperfection of a cap on springs (0.64) half in the logarithm; least over nominal core 1.2; a glue strength of a third of a good
/// lap test. Spreads are assumptions; what sections show replaces them (`workshop::seen`).
pub const SCATTER: [Scatter; 11] = [
    of("cap_tension", false, 1.25, 0.12, 0.08),
    of("cap_compression", false, 1.5, 0.18, 0.10),
    of("cap_stability", false, 1.25, 0.18, 0.10),
    of("web_shear", false, 1.25, 0.15, 0.08),
    of("web_buckling", false, 1.0, 0.12, 0.08),
    of("web_crushing", false, 1.2, 0.20, 0.12),
    of("post_crushing", false, 1.25, 0.20, 0.12),
    of("cap_web_bond", false, 3.0, 0.25, 0.20),
    of("nose_buckling", true, 1.0, 0.20, 0.10),
    of("face_wrinkling", true, 1.25, 0.20, 0.10),
    of("cap_skin_bond", true, 3.0, 0.25, 0.20),
];

/// What is asked for.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Ask {
    /// From the root, 0 the first; None: the bay of the least margin a section can show.
    pub bay: Option<usize>,
    pub rig: Rig,
    /// Made with its nose skins.
    pub nose: bool,
}

/// Temperature of the shop, deg C. An assumption.
pub const SHOP_C: f64 = 20.0;

/// Load at which a mode breaks the section in the shop, all loads together, N: what its margin allows, likely, and P5 and P95.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Break {
    pub mode: &'static str,
    pub allowed_n: f64,
    pub likely_n: f64,
    pub band_n: [f64; 2],
    /// Load the section must stand in the shop so that at service temperature this mode is shown to hold ultimate, N.
    pub to_show_n: f64,
}

/// A plan.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    pub bay: usize,
    /// Bays with the same layers and web, this one among them.
    pub stands_for: Vec<usize>,
    /// Design case (index into `Loads::cases`) and its ultimate moment and shear at the inner edge of the bay.
    pub case: usize,
    pub moment_nm: f64,
    pub shear_n: f64,
    pub rig: Rig,
    pub nose: bool,
    pub lengths: Lengths,
    /// Length to be made, what is held or stands over included, m, and its mass as expected, kg.
    pub made_m: f64,
    pub mass_kg: f64,
    /// Where it would be longer than the half wing: other rigs that are shorter than this one, with the length to be made, m, the
    /// shortest first.
    pub too_long: Option<Vec<(Rig, f64)>>,
    /// All loads at ultimate, N.
    pub load_n: f64,
    /// How far the load point goes at each of [`STEPS`] of ultimate, m; nothing without a web that carries shear.
    pub deflection_m: Option<[f64; STEPS.len()]>,
    /// The least it could be where nose skins are made with it, as a share: they carry bending that no margin counts on.
    pub stiffest: f64,
    /// Length over which a load must be spread so that the web is not crushed under it, m; nothing: it cannot be, put blocks in.
    pub pad_m: Option<f64>,
    /// Weakest likely first.
    pub breaks: Vec<Break>,
}

/// P5 and P95 of a normal law.
const P95: f64 = 1.645;
/// Depths beyond hold, arm or support that are made with it, and depths of the shortest section. Choices of ours (St Venant).
const BEYOND_DEPTHS: f64 = 2.0;
const LEAST_DEPTHS: f64 = 4.0;
/// Half-waves of the caps on the web that a section should hold. A choice of ours.
const HALF_WAVES: f64 = 3.0;

/// The modes a section can show.
fn modes(nose: bool) -> Vec<&'static str> {
    SCATTER.iter().filter(|s| nose || !s.nose).map(|s| s.mode).collect()
}

/// The scatter of a mode.
pub fn scatter(mode: &str) -> Option<&'static Scatter> {
    SCATTER.iter().find(|s| s.mode == mode)
}

/// The wing in the shop: cores as they are at that temperature.
fn in_the_shop(d: &Design) -> Design {
    Design { service: Service { upper_c: SHOP_C, lower_c: SHOP_C, ..d.service }, ..d.clone() }
}

/// Bays with the same layers, web run and (with the nose) nose skins as one.
fn alike(d: &Design, e: &Evaluation, bay: usize, nose: bool) -> Vec<usize> {
    let layers = |i: usize| [&e.sizing.upper, &e.sizing.lower, &e.sizing.web].map(|v| v.get(i).copied());
    let run = |i: usize| {
        let eta = e.layout.bays[i].mid.eta;
        d.spar.web.iter().position(|r| eta >= r.from_eta && eta <= r.to_eta)
    };
    let skins = |i: usize| {
        [Strip::NoseUpper, Strip::NoseLower].map(|s| e.layout.zone(s, i).map(|z| z.construction).filter(|_| nose))
    };
    let same = |i: &usize| layers(*i) == layers(bay) && run(*i) == run(bay) && skins(*i) == skins(bay);
    (0..e.layout.bays.len()).filter(same).collect()
}

/// Expected mass of the spar, and of the nose with it, of a bay, kg for each metre along the spar.
fn mass_kg_m(e: &Evaluation, bay: usize, nose: bool) -> f64 {
    let Some(b) = e.layout.bays.get(bay) else { return 0.0 };
    let counts = |p: &&Part| {
        let spar = matches!(p.heading, Heading::Caps | Heading::Backing | Heading::Web | Heading::Posts);
        let skin = nose && p.heading == Heading::Skins && p.strip.is_some_and(Strip::is_nose);
        p.bay == Some(bay) && (spar || skin)
    };
    let kg: f64 = e.weight.parts.iter().filter(counts).map(|p| p.nominal_kg * (1.0 + p.growth)).sum();
    // The list counts both halves.
    0.5 * kg * b.mid.spar_cos() / b.length_m.max(1e-9)
}

/// Limit moment and shear of a case at one edge and nowhere else: what a section feels where both are greatest.
fn at_edge(case: usize, edges: usize, bay: usize, (moment_nm, shear_n): (f64, f64)) -> CaseLoads {
    let one = |v: f64| (0..edges).map(|i| if i == bay { v } else { 0.0 }).collect::<Vec<f64>>();
    let (moment_nm, shear_n) = (one(moment_nm), one(shear_n));
    CaseLoads::of(case, Lists { moment_nm: &moment_nm, shear_n: &shear_n, ..Lists::default() })
}

/// The margins at ultimate that a section of this bay has under a moment and a shear at limit, without any torque.
/// **Source:** the modes themselves, fed with these loads. **Valid for:** a section like the inner edge of its bay.
pub fn margins_of_section(
    d: &Design,
    e: &Evaluation,
    (bay, case): (usize, usize),
    limit: (f64, f64),
    nose: bool,
) -> Vec<Margin> {
    let loads = at_edge(case, e.layout.bays.len() + 1, bay, limit);
    // What may buckle above limit is held to ultimate here, as all the rest.
    let mut d = d.clone();
    for s in d.strips.iter_mut().filter(|s| s.may_buckle == MayBuckle::NotBelowLimit) {
        s.may_buckle = MayBuckle::NotBelowUltimate;
    }
    let mut out = first::on_the_rig(&d, e, &loads, &modes(nose));
    out.retain(|m| m.bay == Some(bay) && m.strip.is_none_or(Strip::is_nose));
    first::of_each_mode(out)
}

/// The bay and case of the least margin that a section can show, of the wing itself.
fn ruling(e: &Evaluation, bay: Option<usize>, nose: bool) -> Option<(usize, usize)> {
    let modes = modes(nose);
    let counts = |m: &&Margin| {
        let there = m.bay.is_some() && bay.is_none_or(|b| m.bay == Some(b)) && m.strip.is_none_or(Strip::is_nose);
        there && modes.contains(&m.mode) && !matches!(m.verdict, Verdict::NotShown(_)) && m.rf.is_finite()
    };
    let least = e.margins.iter().filter(counts).min_by(|a, b| a.rf.total_cmp(&b.rf))?;
    Some((least.bay?, least.case?))
}

/// Loads of a rig that break the section by each mode, weakest likely first.
///
/// `P = P_ult RF^(1/power)`, RF of the section in the shop; the band is the likely one by the spreads of [`SCATTER`].
/// **Derived here** from the declared power of each mode.
fn breaks(cold: &[Margin], hot: &[Margin], load_n: f64) -> Vec<Break> {
    let mut out: Vec<Break> = cold
        .iter()
        .filter_map(|m| {
            let (s, mode) = (scatter(m.mode)?, MODES.iter().find(|k| k.key == m.mode)?);
            let power = if mode.power > 0.0 { mode.power } else { 1.0 };
            let at = |rf: f64| load_n * rf.max(0.0).powf(1.0 / power);
            let allowed_n = at(m.rf);
            let likely_n = allowed_n * s.likely_over_allowed;
            let spread = (P95 * s.shared.hypot(s.own)).exp();
            let hot_n = hot.iter().find(|h| h.mode == m.mode).map_or(allowed_n, |h| at(h.rf));
            let to_show_n = if hot_n > 0.0 { load_n * (allowed_n / hot_n).max(1.0) } else { load_n };
            Some(Break { mode: m.mode, allowed_n, likely_n, band_n: [likely_n / spread, likely_n * spread], to_show_n })
        })
        .collect();
    out.sort_by(|a, b| a.likely_n.total_cmp(&b.likely_n));
    out
}

/// Bending stiffness of the spar over that of the spar with every arc of its nose skins at the outer fibre: more than any nose
/// can add. **Derived here**, parallel axes.
fn stiffest(e: &Evaluation, bay: usize, nose: bool) -> f64 {
    let Some(s) = e.sections.get(bay).filter(|_| nose) else { return 1.0 };
    let of = |strip: Strip, fibre_m: f64| {
        let zone = e.layout.zone(strip, bay);
        zone.and_then(|z| Some(e.skins.get(z.construction)?.a.s11 * z.arc_m * fibre_m * fibre_m)).unwrap_or(0.0)
    };
    let more = of(Strip::NoseUpper, s.upper_fibre_m) + of(Strip::NoseLower, s.lower_fibre_m);
    s.ei_nm2 / (s.ei_nm2 + more).max(1e-9)
}

/// Lengths of a rig with this moment over shear on a section of this bay.
fn lengths(e: &Evaluation, bay: usize, rig: Rig, arm_m: f64) -> Lengths {
    let b = &e.layout.bays[bay];
    let depth_m = b.inner.spar_depth_m;
    let wave = e.margins.iter().find(|m| m.mode == "cap_stability" && m.bay == Some(bay));
    let wave_m = wave.and_then(|m| m.inputs.iter().find(|i| i.label == "half-wave")).map_or(0.0, |i| i.value);
    let section_m = (LEAST_DEPTHS * depth_m).max(HALF_WAVES * wave_m).max(b.length_m / b.mid.spar_cos());
    let inner_m = if rig == Rig::FourPoint { section_m } else { 0.0 };
    let length_m = if rig == Rig::Cantilever { section_m.min(arm_m) } else { 2.0 * arm_m + inner_m };
    Lengths { arm_m, inner_m, length_m }
}

/// The plan; None where no case that is on loads a spar mode in that bay with both moment and shear.
pub fn plan(d: &Design, e: &Evaluation, ask: Ask) -> Option<Plan> {
    let (bay, case) = ruling(e, ask.bay, ask.nose)?;
    let l = e.loads.loads.iter().find(|l| l.case == case)?;
    let limit = (*l.moment_nm().get(bay)?, *l.shear_n().get(bay)?);
    let factor = d.ultimate();
    let (moment_nm, shear_n) = (limit.0.abs() * factor, limit.1.abs() * factor);
    let (section, b) = (e.sections.get(bay)?, e.layout.bays.get(bay)?);
    if !(moment_nm > 0.0 && shear_n > 0.0 && section.ei_nm2 > 0.0) {
        return None;
    }
    let lengths = lengths(e, bay, ask.rig, moment_nm / shear_n);
    let load_n = rig::load_n(ask.rig, shear_n);
    let shop = in_the_shop(d);
    let (cold, hot) = (
        margins_of_section(&shop, e, (bay, case), limit, ask.nose),
        margins_of_section(d, e, (bay, case), limit, ask.nose),
    );
    let breaks = breaks(&cold, &hot, load_n);
    let extra = e.sizing.web.get(bay).copied().unwrap_or(0);
    let ga_n = web::stiffness(d, &e.skins, b.mid.eta, extra) * section.cap_lever_m;
    let beam = Beam { ei_nm2: section.ei_nm2, ga_n };
    let at_ultimate = rig::deflection_m(ask.rig, lengths, beam, load_n);
    let beyond_m = 2.0 * BEYOND_DEPTHS * b.inner.spar_depth_m;
    let made_m = lengths.length_m + beyond_m;
    let shorter = || {
        let of = |rig: Rig| (rig, self::lengths(e, bay, rig, moment_nm / shear_n).length_m + beyond_m);
        let mut all: Vec<(Rig, f64)> = Rig::ALL.into_iter().map(of).filter(|r| r.1 < made_m).collect();
        all.sort_by(|a, b| a.1.total_cmp(&b.1));
        all
    };
    Some(Plan {
        bay,
        stands_for: alike(d, e, bay, ask.nose),
        case,
        moment_nm,
        shear_n,
        rig: ask.rig,
        nose: ask.nose,
        lengths,
        made_m,
        mass_kg: made_m * mass_kg_m(e, bay, ask.nose),
        too_long: (made_m > e.layout.half_span_m).then(shorter),
        load_n,
        deflection_m: at_ultimate.map(|at| STEPS.map(|s| s * at)),
        stiffest: stiffest(e, bay, ask.nose),
        pad_m: pad_m(&cold, &breaks, (ask.rig, load_n)),
        breaks,
    })
}

/// Length of the greatest pad: its load at the upper end of the first band, over what the web still carries upright beside what
/// the bent caps press on it with. **Derived here**, balance of forces.
fn pad_m(cold: &[Margin], breaks: &[Break], (rig, load_n): (Rig, f64)) -> Option<f64> {
    let crush = cold.iter().find(|m| m.mode == "web_crushing")?;
    let most_n = breaks.first()?.band_n[1];
    let left_n_m = crush.allowable - crush.applied * (most_n / load_n.max(1e-9)).powi(2);
    let on_one_n = if rig == Rig::FourPoint { 0.5 * most_n } else { most_n };
    (left_n_m > 0.0).then(|| on_one_n / left_n_m)
}
