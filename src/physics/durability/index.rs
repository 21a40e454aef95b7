//! The results of durability and how they are put together.

use crate::physics::assumptions::{self, Assumed, Assumptions};
use crate::physics::design::{Design, Use};
use crate::physics::durability::contact;
use crate::physics::durability::events::{Contact, EVENTS, Event, Exposure, REFERENCE_WING_KG};
use crate::physics::durability::fragility;
use crate::physics::durability::repair;
use crate::physics::durability::resistance::{self, PanelHere};
use crate::physics::laminate::construction::{Kind, Skin};
use crate::physics::mass::tally::Weight;
use crate::physics::wing::layout::{Layout, Zone};

/// What a press does first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum PressKind {
    #[default]
    LastingMark,
    FaceCracked,
    Pierced,
    CutOnRib,
    Slackened,
    /// Nothing there to press.
    Nothing,
}

impl PressKind {
    pub const fn word(self) -> &'static str {
        match self {
            Self::LastingMark => "lasting mark",
            Self::FaceCracked => "face cracked",
            Self::Pierced => "pierced",
            Self::CutOnRib => "cut on a rib",
            Self::Slackened => "slackened",
            Self::Nothing => "open",
        }
    }
}

/// Resistance and expectation of one zone (index-matched with `Layout::zones`).
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct ZoneDurability {
    /// P5 load of an 8 mm thumb pad held 10 s that first needs repair, N, and what it does.
    pub press_n: f64,
    pub press_kind: PressKind,
    /// The same for a 10 mm hard ball.
    pub ball_n: f64,
    pub ball_kind: PressKind,
    /// Outside the fitted box of the dent model.
    pub extrapolated: bool,
    /// Expected repair hours, outings lost, unseen damages, marks or worse per 100 outings; whole wing (both halves).
    pub repair_h: f64,
    pub outings_lost: f64,
    pub unseen: f64,
    pub marks: f64,
    /// May be held with a flat hand at its share of the wing mass.
    pub hold_safe: bool,
}

/// One event over the whole wing.
#[derive(Debug, Clone, PartialEq)]
pub struct EventResult {
    pub key: &'static str,
    pub title: &'static str,
    pub per_100_outings: f64,
    pub marks: f64,
    pub holes: f64,
    pub repair_h: f64,
    pub outings_lost: f64,
    pub unseen: f64,
    /// Zone that suffers most.
    pub worst_zone: Option<usize>,
    pub source: &'static str,
    pub assumption: bool,
}

#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Least {
    pub value_n: f64,
    pub kind: PressKind,
    pub zone: usize,
}

/// One change and what it would bring.
#[derive(Debug, Clone, PartialEq)]
pub struct Gain {
    pub what: String,
    pub index_gain: f64,
    pub repair_h_gain: f64,
}

#[derive(Debug, Clone, PartialEq, Default)]
pub struct Durability {
    pub zones: Vec<ZoneDurability>,
    pub events: Vec<EventResult>,
    /// Expected repair hours per 100 outings, whole wing.
    pub repair_h: f64,
    pub repair_h_p10: f64,
    pub repair_h_p90: f64,
    pub index: f64,
    pub index_p10: f64,
    pub index_p90: f64,
    pub outings_lost: f64,
    pub unseen: f64,
    pub marks: f64,
    pub mass_added_kg: f64,
    pub field_repairable_share: f64,
    pub press_safe_share: f64,
    pub hold_safe_share: f64,
    pub least_press: Least,
    pub least_ball: Least,
    /// Spread of ln H by assumption: (index in `assumptions::LIST`, d lnH / d lnfactor x beta), largest first.
    pub rests_on: Vec<(usize, f64)>,
    pub warnings: Vec<String>,
}

/// Repair hours per 100 outings that score 50. **Source:** an assumption of the project.
pub const H0_H: f64 = 25.0;

/// Index of repair hours per 100 outings: 100/(1 + H/25).
pub fn index(repair_h: f64) -> f64 {
    100.0 / (1.0 + repair_h / H0_H)
}

/// Dispersion of a zone's resistance before samples narrow it; the contact's own part (0.25) stays with the event.
/// **Source:** model error 0.25, foam 0.20, root of squares; assumption.
pub const BETA_RESISTANCE: f64 = 0.32;
const BETA_CONTACT: f64 = 0.25;

/// No measured dent of a fully described thin-faced specimen could be read: say so wherever durability is shown.
pub const CALIBRATION: &str =
    "uncalibrated: dent forms stand on a solver, six puncture tests on coverings; press and weigh samples of your own";

/// Factor on the rates of an exposure for a use. Assumptions.
fn use_factor(usage: Use, e: Exposure) -> f64 {
    match (usage, e) {
        (Use::CarefulOwner, _) | (_, Exposure::Weather) => 1.0,
        (Use::SingleAttempt, _) => 0.6,
        (Use::Club, Exposure::Hand) => 2.0,
        (Use::Club, _) => 1.5,
        (Use::HireOrSchool, Exposure::Hand) => 4.0,
        (Use::HireOrSchool, _) => 2.5,
    }
}

const fn rate_assumption(e: Exposure) -> Assumed {
    match e {
        Exposure::Hand | Exposure::Lift => Assumed::HandRate,
        Exposure::Ground => Assumed::GroundRate,
        Exposure::Rest | Exposure::Transport => Assumed::TransportRate,
        Exposure::Weather => Assumed::WeatherRate,
    }
}

const fn model_assumption(kind: Kind, c: Contact) -> Assumed {
    match (kind, c) {
        (Kind::Covering, _) => Assumed::CoveringModel,
        (Kind::Wood, _) => Assumed::WoodModel,
        (_, Contact::Pad { .. } | Contact::Pressure) => Assumed::PadModel,
        _ => Assumed::BallModel,
    }
}

/// Events per 100 outings after use, discipline, protection and the scenario's own factors.
fn frequency(design: &Design, e: &Event, a: &Assumptions) -> f64 {
    let care = &design.care;
    let mut f = e.per_100_outings * use_factor(care.usage, e.exposure) * a.of(rate_assumption(e.exposure));
    let held = match e.exposure {
        Exposure::Lift => !care.holds.is_empty(),
        Exposure::Rest => !care.rests.is_empty(),
        _ => false,
    };
    if held {
        f *= 1.0 - care.discipline;
    }
    for (key, factor) in &care.event_factors {
        if key == e.key {
            f *= factor;
        }
    }
    for p in &care.protections {
        for (key, share) in &p.stops {
            if key == e.key {
                f *= 1.0 - share;
            }
        }
    }
    f
}

/// Area (edge: length) of every group a zone takes part in.
pub fn zone_groups(z: &Zone) -> [f64; 6] {
    let rest = (1.0 - z.root_share - z.tip_share).max(0.0);
    let main = z.area_m2 * rest;
    let mut g = [0.0; 6];
    if z.strip.is_nose() {
        g[0] = main;
    } else if z.strip.is_upper() {
        g[1] = main;
    } else {
        g[2] = main;
    }
    g[3] = z.edge_m * rest;
    g[4] = z.area_m2 * z.tip_share;
    g[5] = z.area_m2 * z.root_share;
    g
}

/// Shares of an event with absent groups given to the rest in proportion; they sum to 1 when any group is there.
pub fn shares(e: &Event, totals: &[f64; 6]) -> [f64; 6] {
    let there: f64 = e.share.iter().zip(totals).filter(|(_, t)| **t > 0.0).map(|(s, _)| s).sum();
    let mut out = [0.0; 6];
    if there > 0.0 {
        for (o, (s, t)) in out.iter_mut().zip(e.share.iter().zip(totals)) {
            *o = if *t > 0.0 { s / there } else { 0.0 };
        }
    }
    out
}

/// Chances of the three states, cost per event, and how that cost answers to ln(severity/resistance).
struct Outcome {
    p: [f64; 3],
    slope_h: f64,
}

fn outcome(severity: f64, r: &[f64; 3], beta: f64, hours: &[f64; 3]) -> Outcome {
    let mut p = [0.0; 3];
    let mut slope = 0.0;
    let mut above = 1.0;
    for i in 0..3 {
        p[i] = fragility::chance(severity, r[i], beta).min(above);
        // A covering has no mark of its own: a state that cannot come first must not rule out the worse ones.
        if i > 0 || r[0].is_finite() {
            above = p[i];
        }
        if r[i].is_finite() && r[i] > 0.0 && severity > 0.0 {
            let step = hours[i] - if i > 0 && r[i - 1].is_finite() { hours[i - 1] } else { 0.0 };
            slope += fragility::density((severity / r[i]).ln() / beta) / beta * step;
        }
    }
    // Slack or pierced counts as marked, so that the chances never rise with the state.
    if r[0].is_infinite() {
        p[0] = p[1];
    }
    Outcome { p, slope_h: slope }
}

/// Expected damage of the wing, per 100 outings.
pub fn rate(design: &Design, layout: &Layout, skins: &[Skin], weight: &Weight, assumed: &Assumptions) -> Durability {
    let mut out = Durability { zones: vec![ZoneDurability::default(); layout.zones.len()], ..Durability::default() };
    let mut totals = [0.0; 6];
    let groups: Vec<[f64; 6]> = layout.zones.iter().map(zone_groups).collect();
    for g in &groups {
        for (t, v) in totals.iter_mut().zip(g) {
            *t += v;
        }
    }
    let mut spread = [0.0; assumptions::LIST.len()];
    let (mut field_h, mut all_h) = (0.0, 0.0);
    let mass = weight.expected_kg.max(1.0) / REFERENCE_WING_KG;
    let mut cache: Vec<Option<[f64; 3]>> = vec![None; skins.len() * 2];
    for e in EVENTS {
        let f = frequency(design, e, assumed);
        let share = shares(e, &totals);
        let severity = e.median * if e.with_wing_mass { mass } else { 1.0 } * assumed.of(Assumed::Severity);
        let contact_beta = if matches!(e.contact, Contact::Pad { .. }) { BETA_CONTACT } else { 0.0 };
        let beta = (e.beta * e.beta + BETA_RESISTANCE * BETA_RESISTANCE + contact_beta * contact_beta).sqrt();
        let mut result = EventResult {
            key: e.key,
            title: e.title,
            per_100_outings: f,
            marks: 0.0,
            holes: 0.0,
            repair_h: 0.0,
            outings_lost: 0.0,
            unseen: 0.0,
            worst_zone: None,
            source: e.source,
            assumption: e.assumption,
        };
        cache.iter_mut().for_each(|c| *c = None);
        let mut worst = 0.0;
        for (i, z) in layout.zones.iter().enumerate() {
            let part: f64 = (0..6).filter(|g| totals[*g] > 0.0).map(|g| share[g] * groups[i][g] / totals[g]).sum();
            if part <= 0.0 {
                continue;
            }
            let Some(s) = skins.get(z.construction) else { continue };
            let hits = if e.hits_per_m2 > 0.0 { e.hits_per_m2 * 2.0 * (totals[0] / 2.0 + totals[1]) } else { 1.0 };
            let n = f * part * hits;
            let r = resist(design, s, z, e.contact, (assumed, &mut cache));
            let repairs = repair::repairs(s.kind);
            let scale = assumed.of(repair::assumption(s.kind));
            let hours = repairs.map(|x| x.work_h * (1.0 - x.left_alone) * scale);
            let o = outcome(severity, &r, beta, &hours);
            let exact = [o.p[0] - o.p[1], o.p[1] - o.p[2], o.p[2]];
            let h: f64 = exact.iter().zip(&hours).map(|(p, w)| n * p * w).sum();
            let zone = &mut out.zones[i];
            zone.repair_h += h;
            zone.marks += n * o.p[0];
            result.marks += n * o.p[0];
            result.holes += n * o.p[2];
            for (p, x) in exact.iter().zip(&repairs) {
                let seen = n * p * (1.0 - x.left_alone);
                if x.work_h + x.cure_h > 10.0 {
                    zone.outings_lost += seen;
                    result.outings_lost += seen;
                }
                zone.unseen += n * p * x.unseen;
                result.unseen += n * p * x.unseen;
                out.mass_added_kg += seen * x.mass_g * 1e-3;
                if x.work_h <= 0.6 && x.cure_h <= 1.0 {
                    field_h += seen;
                }
                all_h += seen;
            }
            result.repair_h += h;
            if h > worst {
                worst = h;
                result.worst_zone = Some(i);
            }
            let slope = n * o.slope_h;
            spread[Assumed::Severity as usize] += slope;
            spread[model_assumption(s.kind, e.contact) as usize] += slope;
            if s.foam.is_some() {
                spread[Assumed::FoamCrush as usize] += slope;
            }
            if contact_beta > 0.0 && s.foam.is_some() {
                spread[Assumed::ContactArea as usize] += slope;
            }
            spread[rate_assumption(e.exposure) as usize] += h;
            spread[repair::assumption(s.kind) as usize] += h;
        }
        out.events.push(result);
    }
    add_up(&mut out, &spread, if all_h > 0.0 { field_h / all_h } else { 1.0 });
    presses(design, layout, skins, assumed, &mut out);
    out
}

/// Resistance of a zone; kept for the construction unless the panel between ribs counts (blows, wood).
fn resist(
    design: &Design,
    s: &Skin,
    z: &Zone,
    c: Contact,
    kept: (&Assumptions, &mut Vec<Option<[f64; 3]>>),
) -> [f64; 3] {
    let (assumed, cache) = kept;
    let panel = PanelHere { width_m: z.length_m.min(z.arc_m).max(0.05) };
    let share = core_share(design, z.strip.is_upper());
    if matches!(c, Contact::Blow { .. }) || s.kind == Kind::Wood {
        return resistance::of(s, &design.library, c, (share, panel), assumed);
    }
    let slot = z.construction * 2 + usize::from(z.strip.is_upper());
    if let Some(Some(r)) = cache.get(slot) {
        return *r;
    }
    let r = resistance::of(s, &design.library, c, (share, panel), assumed);
    if let Some(x) = cache.get_mut(slot) {
        *x = Some(r);
    }
    r
}

/// Share of cold core strength left at the service temperature, linear from 20 C to 55 C.
fn core_share(design: &Design, upper: bool) -> f64 {
    let s = &design.service;
    let t = if upper { s.upper_c } else { s.lower_c };
    1.0 - (1.0 - s.hot_core_share) * ((t - 20.0) / 35.0).clamp(0.0, 1.5)
}

fn add_up(out: &mut Durability, spread: &[f64], field: f64) {
    out.repair_h = out.events.iter().map(|e| e.repair_h).sum();
    out.marks = out.events.iter().map(|e| e.marks).sum();
    out.outings_lost = out.events.iter().map(|e| e.outings_lost).sum();
    out.unseen = out.events.iter().map(|e| e.unseen).sum();
    out.field_repairable_share = field;
    out.index = index(out.repair_h);
    let h = out.repair_h.max(1e-9);
    out.rests_on = spread
        .iter()
        .enumerate()
        .map(|(i, s)| (i, s / h * assumptions::LIST[i].beta))
        .filter(|(_, s)| *s > 1e-4)
        .collect();
    out.rests_on.sort_by(|a, b| b.1.total_cmp(&a.1));
    let sd = out.rests_on.iter().map(|(_, s)| s * s).sum::<f64>().sqrt();
    out.repair_h_p10 = out.repair_h * (-1.2816 * sd).exp();
    out.repair_h_p90 = out.repair_h * (1.2816 * sd).exp();
    out.index_p10 = index(out.repair_h_p90);
    out.index_p90 = index(out.repair_h_p10);
}

/// P5 of a resistance: 1.645 standard deviations of its logarithm below the median.
fn p5(median: f64, beta: f64) -> f64 {
    median * (-1.645 * beta).exp()
}

/// Press and ball loads of every zone, the least of them, and what share of the surface may be pressed and held.
fn presses(design: &Design, layout: &Layout, skins: &[Skin], assumed: &Assumptions, out: &mut Durability) {
    let beta_pad = (BETA_RESISTANCE * BETA_RESISTANCE + BETA_CONTACT * BETA_CONTACT).sqrt();
    let (mut least, mut ball) = (f64::INFINITY, f64::INFINITY);
    let (mut area, mut pressed, mut held) = (0.0, 0.0, 0.0);
    let mut extrapolated = 0;
    // 95th percentile of the firm thumb press, and a palm under a quarter of the wing.
    let firm = 70.0 * (1.645_f64 * 0.35).exp();
    for (i, z) in layout.zones.iter().enumerate() {
        let Some(s) = skins.get(z.construction) else { continue };
        let panel = PanelHere { width_m: z.length_m.min(z.arc_m).max(0.05) };
        let share = core_share(design, z.strip.is_upper());
        let first = |c: Contact| {
            let r = resistance::of(s, &design.library, c, (share, panel), assumed);
            if r[0].is_finite() { (r[0].min(r[1]), 0) } else { (r[1].min(r[2]), 1) }
        };
        let (pad_n, how) = first(Contact::Pad { radius_m: 0.008 });
        let (ball_n, _) = first(Contact::Ball { radius_m: 0.010 });
        let (palm_n, _) = first(Contact::Pad { radius_m: 0.030 });
        let kind = match (s.kind, how) {
            (Kind::Open, _) => PressKind::Nothing,
            (Kind::Covering, _) => PressKind::Slackened,
            (Kind::Laminate, _) => PressKind::FaceCracked,
            _ => PressKind::LastingMark,
        };
        let zone = &mut out.zones[i];
        zone.press_n = p5(pad_n, beta_pad);
        zone.press_kind = kind;
        zone.ball_n = p5(ball_n, BETA_RESISTANCE);
        zone.ball_kind = kind;
        zone.extrapolated =
            resistance::face_on_foam(s, &design.library, share, assumed).is_some_and(|f| !contact::fitted(&f));
        zone.hold_safe = p5(palm_n, beta_pad) > 2.0 * 100.0;
        extrapolated += usize::from(zone.extrapolated);
        area += z.area_m2;
        pressed += if zone.press_n > firm { z.area_m2 } else { 0.0 };
        held += if zone.hold_safe { z.area_m2 } else { 0.0 };
        if zone.press_n < least {
            least = zone.press_n;
            out.least_press = Least { value_n: zone.press_n, kind, zone: i };
        }
        if zone.ball_n < ball {
            ball = zone.ball_n;
            out.least_ball = Least { value_n: zone.ball_n, kind, zone: i };
        }
    }
    if area > 0.0 {
        out.press_safe_share = pressed / area;
        out.hold_safe_share = held / area;
    }
    out.warnings.push(format!("durability is {CALIBRATION}"));
    if extrapolated > 0 {
        out.warnings
            .push(format!("{extrapolated} zones lie outside the fitted range of the dent forms: marked extrapolated"));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Lognormal fragility in closed form (Porter, *A Beginner's Guide to Fragility*): half at the median, whatever stands before it.
    #[test]
    fn a_surface_without_marks_can_still_slacken_and_tear() {
        let o = outcome(100.0, &[f64::INFINITY, 70.0, 100.0], 0.5, &[0.0, 0.3, 0.5]);
        assert!((o.p[2] - 0.5).abs() < 1e-6, "hole at its median: {}", o.p[2]);
        assert!((o.p[1] - fragility::normal_cdf((100.0_f64 / 70.0).ln() / 0.5)).abs() < 1e-12);
        assert!(o.p[0] >= o.p[1] && o.p[1] >= o.p[2]);
        assert!(outcome(100.0, &[f64::INFINITY; 3], 0.5, &[0.0; 3]).p.iter().all(|p| *p == 0.0));
    }
}
