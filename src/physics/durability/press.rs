//! Press and ball loads of every zone, the least of them, what may be pressed and held, and the check of each hold.

use crate::physics::durability::contact;
use crate::physics::durability::events::{Contact, Exposure};
use crate::physics::durability::index::{Durability, HoldCheck, Least, PressKind, RestCheck};
use crate::physics::durability::panel::PanelHere;
use crate::physics::durability::resistance::{self, OnFoam, Spot, Stand};
use crate::physics::durability::term::{BETA_CONTACT, Ground, panel_of};
use crate::physics::laminate::construction::{Kind, Skin};
use crate::physics::samples::record::Form;

/// Radius of the palm that lifts and of the thumb and ball that press, m. **Source:** event catalogue; product definition.
pub const PALM_M: f64 = 0.030;
const THUMB_M: f64 = 0.008;
pub(super) const BALL_M: f64 = 0.010;

/// Deviation from median to P5 or P95 in a normal law.
const P95: f64 = 1.645;

/// Median and spread of an event's severity on the whole wing, by key.
fn severity(g: &Ground, key: &str) -> (f64, f64) {
    let met = super::cause::Met { half_wing_kg: g.half_wing_kg, stiffness_n_m: 0.0, radius_m: 1.0 };
    g.events.iter().find(|e| e.key == key).map_or((0.0, 0.0), |e| (e.cause.severity(&met), e.beta))
}

/// What gives first, and how much it stands.
struct First {
    load_n: f64,
    kind: PressKind,
    fitted: bool,
}

fn first(g: &Ground, s: &Skin, foam: Option<&OnFoam>, at: &PanelHere, c: Contact) -> First {
    let lib = &g.design.library;
    let stand = resistance::stand_on(s, lib, c, foam, g.assumed);
    let r = resistance::here(s, lib, c, &stand, (Spot::Mid, at), g.assumed);
    let load_n = r.iter().copied().fold(f64::INFINITY, f64::min);
    let kind = match s.kind {
        Kind::Open => PressKind::Nothing,
        Kind::Covering => return first_of_covering(g, s, c, &stand, at),
        Kind::Wood if load_n < stand.load[0] => PressKind::Split,
        Kind::OneFaced if load_n < stand.load[0] => PressKind::FoamCracked,
        Kind::Laminate => PressKind::FaceCracked,
        _ if stand.cracks => PressKind::FaceCracked,
        _ if r[2] <= r[0] => PressKind::Pierced,
        _ => PressKind::LastingMark,
    };
    First { load_n, kind, fitted: stand.fitted }
}

/// A covering slackens, is pierced, is cut on a rib by hard things, or tears on from the hole: whichever comes first.
fn first_of_covering(g: &Ground, s: &Skin, c: Contact, stand: &Stand, at: &PanelHere) -> First {
    let lib = &g.design.library;
    let [_, slack, pierce] = stand.load;
    let hard = matches!(c, Contact::Ball { .. });
    let cut = if hard { resistance::here(s, lib, c, stand, (Spot::Rib, at), g.assumed)[2] } else { f64::INFINITY };
    let broken = if stand.tears > 0.5 { PressKind::Torn } else { PressKind::Pierced };
    let (load_n, kind) = [(slack, PressKind::Slackened), (cut, PressKind::CutOnRib), (pierce, broken)]
        .into_iter()
        .fold((f64::INFINITY, PressKind::Nothing), |a, b| if b.0 < a.0 { b } else { a });
    First { load_n, kind, fitted: true }
}

/// P5 of a resistance: 1.645 standard deviations of its logarithm below the median.
pub(super) fn p5(median: f64, beta: f64) -> f64 {
    median * (-P95 * beta).exp()
}

/// Dispersion of what a skin stands under a pad, with the scatter of the pad, and under a ball.
fn beta_pad(s: &Skin) -> f64 {
    s.dispersion(Form::of(s.kind, Contact::Pad { radius_m: THUMB_M })).0.hypot(BETA_CONTACT)
}

fn beta_ball(s: &Skin) -> f64 {
    s.dispersion(Form::of(s.kind, Contact::Ball { radius_m: BALL_M })).0
}

/// P5 load of a thumb on a zone of a construction, N.
pub(super) fn press_n(g: &Ground, construction: usize, upper: bool, at: &PanelHere) -> f64 {
    let Some(s) = g.skins.get(construction) else { return 0.0 };
    let first = first(g, s, g.on_foam(construction, upper), at, Contact::Pad { radius_m: THUMB_M });
    p5(first.load_n, beta_pad(s))
}

/// Fill in what depends on pressing and holding.
pub fn fill(g: &Ground, out: &mut Durability) {
    let (thumb, spread) = severity(g, "firm_thumb_press");
    let firm = thumb * (P95 * spread).exp();
    let (palm, spread) = severity(g, "palm_lift");
    let lift = palm * (P95 * spread).exp();
    out.lift_n = lift;
    let (mut least, mut ball) = (f64::INFINITY, f64::INFINITY);
    let (mut area, mut pressed) = (0.0, 0.0);
    let mut far = 0;
    // Zones of one construction and surface whose panel does not count stand the same.
    let mut kept: Vec<Option<[f64; 3]>> = vec![None; g.skins.len() * 2];
    let mut words: Vec<Option<(PressKind, PressKind, bool, bool)>> = vec![None; g.skins.len() * 2];
    for (i, z) in g.layout.zones.iter().enumerate() {
        let Some(s) = g.skins.get(z.construction) else { continue };
        let upper = z.strip.is_upper();
        let slot = z.construction * 2 + usize::from(upper);
        let alone = matches!(s.kind, Kind::Wood | Kind::Laminate | Kind::OneFaced);
        if alone || kept[slot].is_none() {
            let at = panel_of(z);
            let foam = g.on_foam(z.construction, upper);
            let thumb = first(g, s, foam, &at, Contact::Pad { radius_m: THUMB_M });
            let hard = first(g, s, foam, &at, Contact::Ball { radius_m: BALL_M });
            let palm = first(g, s, foam, &at, Contact::Pad { radius_m: PALM_M });
            kept[slot] =
                Some([p5(thumb.load_n, beta_pad(s)), p5(hard.load_n, beta_ball(s)), p5(palm.load_n, beta_pad(s))]);
            words[slot] = Some((thumb.kind, hard.kind, !thumb.fitted, !hard.fitted));
        }
        let (Some([press_n, ball_n, palm_n]), Some(w)) = (kept[slot], words[slot]) else { continue };
        let zone = &mut out.zones[i];
        (zone.press_n, zone.ball_n) = (press_n, ball_n);
        (zone.press_kind, zone.ball_kind, zone.press_extrapolated, zone.ball_extrapolated) = w;
        zone.extrapolated = w.2 || w.3;
        // A covering slackens before it breaks, and a control turns in the hand: neither is a place to hold.
        let firm_skin = !matches!(s.kind, Kind::Open | Kind::Covering) && !z.strip.is_control();
        zone.palm_n = if firm_skin { palm_n } else { 0.0 };
        zone.palm_safe = zone.palm_n > lift;
        far += usize::from(zone.extrapolated);
        area += z.area_m2;
        pressed += if press_n > firm { z.area_m2 } else { 0.0 };
        if press_n < least {
            least = press_n;
            out.least_press = Least { value_n: press_n, kind: w.0, zone: i };
        }
        if ball_n < ball {
            ball = ball_n;
            out.least_ball = Least { value_n: ball_n, kind: w.1, zone: i };
        }
    }
    if area > 0.0 {
        out.press_safe_share = pressed / area;
    }
    for (l, faced) in &g.landings {
        if let (Exposure::Lift, Some(z)) = (l.exposure, g.layout.zones.get(l.zone)) {
            let f = first(g, &l.skin, faced.foam(), &panel_of(z), Contact::Pad { radius_m: PALM_M });
            let stands_n = p5(f.load_n, beta_pad(&l.skin));
            if stands_n <= lift {
                out.warnings.push(format!(
                    "the hold \"{}\" stands {stands_n:.0} N under a palm, but lifting asks {lift:.0} N: {}",
                    l.name,
                    f.kind.word()
                ));
            }
            let holds = stands_n > lift;
            out.holds.push(HoldCheck {
                name: l.name.clone(),
                zone: l.zone,
                asked_n: lift,
                stands_n,
                kind: f.kind,
                holds,
            });
        }
    }
    rests(g, out);
    out.warnings.push(format!("durability is {}", super::index::calibration(&g.design.library.learnt)));
    if far > 0 {
        out.warnings.push(format!("{far} zones lie outside the fitted range of the dent forms: marked extrapolated"));
    }
}

/// What each rest asks of the skins over its pad on a rough road, P95, against what they stand, P5.
fn rests(g: &Ground, out: &mut Durability) {
    let Some(e) = g.events.iter().find(|e| e.exposure == Exposure::Rest) else { return };
    let met = super::cause::Met { half_wing_kg: g.half_wing_kg, stiffness_n_m: 0.0, radius_m: 1.0 };
    for (l, faced) in &g.landings {
        let (Some(pad_m2), Some(z)) = (l.pad_m2, g.layout.zones.get(l.zone)) else { continue };
        let f = first(g, &l.skin, faced.foam(), &panel_of(z), e.contact);
        let asked_pa = e.cause.on_pad(pad_m2).severity(&met) * (P95 * e.beta).exp();
        let stands_pa = p5(f.load_n, l.skin.dispersion(Form::of(l.skin.kind, e.contact)).0);
        let (name, zone, kind) = (l.name.clone(), l.zone, f.kind);
        out.rests.push(RestCheck { name, zone, asked_pa, stands_pa, kind, holds: stands_pa > asked_pa });
    }
    for r in out.rests.iter().filter(|r| !r.holds) {
        out.warnings.push(format!(
            "the rest \"{}\" asks {:.0} kPa on a rough road, but the skin over its pad stands {:.0} kPa: {}",
            r.name,
            1e-3 * r.asked_pa,
            1e-3 * r.stands_pa,
            r.kind.word()
        ));
    }
}

/// Lasting dent, m, that the mean greatest thumb (136.7 N, Choi and others 2020) leaves in a skin; None without foam.
/// Unchecked: no outside check runs it by itself.
pub fn thumb_dent_m(g: &Ground, s: &Skin, upper: bool) -> Option<f64> {
    let f = resistance::face_on_foam(s, &g.design.library, g.design.service.core_share(upper), g.assumed)?;
    Some(contact::pad_dent_m(&f, THUMB_M, 136.7))
}
