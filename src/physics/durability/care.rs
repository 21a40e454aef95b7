//! How people treat the wing: how often each event comes, what protection stops, which lifts and rests land where they should.

use crate::physics::assumptions::{Assumed, Assumptions};
use crate::physics::design::{Design, GroundCare, Strip, Use};
use crate::physics::durability::events::{Event, Exposure};
use crate::physics::laminate::construction::{self, Skin};
use crate::physics::wing::layout::Layout;

/// Factor on the rates of an exposure for a use. Assumptions.
/// Unchecked: no outside check runs it by itself.
pub const fn use_factor(usage: Use, e: Exposure) -> f64 {
    match (usage, e) {
        (Use::CarefulOwner, _) | (_, Exposure::Weather) => 1.0,
        (Use::SingleAttempt, _) => 0.6,
        (Use::Club, Exposure::Hand) => 2.0,
        (Use::Club, _) => 1.5,
        (Use::HireOrSchool, Exposure::Hand) => 4.0,
        (Use::HireOrSchool, _) => 2.5,
    }
}

/// Factor on the rates of an exposure: the scenario's own, or that of its use.
/// Unchecked: no outside check runs it by itself.
pub fn times(care: &GroundCare, e: Exposure) -> f64 {
    care.times[e as usize].unwrap_or_else(|| use_factor(care.usage, e))
}

/// Which assumption scales the rate of an exposure.
/// Unchecked: no outside check runs it by itself.
pub const fn rate_assumption(e: Exposure) -> Assumed {
    match e {
        Exposure::Hand | Exposure::Lift => Assumed::HandRate,
        Exposure::Ground => Assumed::GroundRate,
        Exposure::Rest | Exposure::Transport => Assumed::TransportRate,
        Exposure::Weather => Assumed::WeatherRate,
    }
}

/// Events per 100 outings after use, protection and the scenario's own factors. Protection left on the ground meets no
/// event that comes while rigged, launching or landing.
pub fn rate(design: &Design, e: &Event, a: &Assumptions) -> f64 {
    let care = &design.care;
    let mut f = e.per_100_outings * times(care, e.exposure) * a.of(rate_assumption(e.exposure));
    for (_, factor) in care.event_factors.iter().filter(|(key, _)| key == e.key) {
        f *= factor;
    }
    for p in care.protections.iter().filter(|p| p.flown || !e.in_use) {
        for (_, share) in p.stops.iter().filter(|(key, _)| key == e.key) {
            f *= 1.0 - share;
        }
    }
    f
}

/// Share of an event that lands on holds or rests instead of anywhere: discipline, when there is any to land on.
/// Unchecked: no outside check runs it by itself.
pub fn moved(design: &Design, e: &Event) -> f64 {
    let care = &design.care;
    let there = match e.exposure {
        Exposure::Lift => !care.holds.is_empty(),
        Exposure::Rest => !care.rests.is_empty(),
        _ => false,
    };
    if there { care.discipline } else { 0.0 }
}

/// A place where moved events land.
#[derive(Debug, Clone, PartialEq)]
pub struct Landing {
    pub name: String,
    /// Zone of the half wing, and the share of the moved events it takes.
    pub zone: usize,
    pub share: f64,
    /// Lift or rest.
    pub exposure: Exposure,
    /// Area of the pad of a rest, m2.
    pub pad_m2: Option<f64>,
    /// The skin there with the patches that lie over it.
    pub skin: Skin,
}

/// Where lifts and rests land: each hold in the zone it lies on; each rest half on the lower nose, half on the skin behind it.
/// Unchecked: no outside check runs it by itself.
pub fn landings(design: &Design, layout: &Layout, skins: &[Skin], a: &Assumptions) -> Vec<Landing> {
    let care = &design.care;
    let mut out = Vec::new();
    for h in &care.holds {
        if let Some((zone, skin)) = spot(design, layout, skins, (h.eta, h.chord, h.upper), a) {
            let share = 1.0 / care.holds.len() as f64;
            out.push(Landing { name: h.name.clone(), zone, share, exposure: Exposure::Lift, pad_m2: None, skin });
        }
    }
    for r in &care.rests {
        let bay = layout.bays.iter().find(|b| r.eta <= b.outer.eta + 1e-9);
        let spar = bay.map_or(0.3, |b| b.mid.spar_frac);
        for chord in [spar - 0.05, spar + 0.05] {
            if let Some((zone, skin)) = spot(design, layout, skins, (r.eta, chord, false), a) {
                let share = 0.5 / care.rests.len() as f64;
                let (name, pad_m2) = (r.name.clone(), Some(r.pad_area_m2));
                out.push(Landing { name, zone, share, exposure: Exposure::Rest, pad_m2, skin });
            }
        }
    }
    out
}

/// The zone at a place, and its skin with the patches over it.
fn spot(
    design: &Design,
    layout: &Layout,
    skins: &[Skin],
    at: (f64, f64, bool),
    a: &Assumptions,
) -> Option<(usize, Skin)> {
    let (eta, chord, upper) = at;
    let bay = layout.bays.iter().position(|b| eta <= b.outer.eta + 1e-9)?;
    let zone = layout.zones.iter().position(|z| {
        z.bay == bay && z.strip.is_upper() == upper && chord >= z.chord_from - 1e-9 && chord <= z.chord_to + 1e-9
    })?;
    let which = layout.zones.get(zone)?.construction;
    let over = |p: &&crate::physics::design::Patch| {
        p.upper == upper && (p.from_eta..=p.to_eta).contains(&eta) && (p.chord_from..=p.chord_to).contains(&chord)
    };
    let mut patches = design.patches.iter().filter(over).peekable();
    if patches.peek().is_none() {
        return Some((zone, skins.get(which)?.clone()));
    }
    let mut c = design.constructions.get(which)?.clone();
    for p in patches {
        c.outer.splice(0..0, p.extra_plies.iter().copied());
        c.outer.truncate(construction::MOST_PLIES);
        if let (Some(foam), Some(core)) = (p.core, c.core.as_mut()) {
            core.foam = foam;
        }
    }
    Some((zone, construction::properties(&c, &design.library, a)))
}

/// Words for a strip and a bay.
pub fn place(strip: Strip, bay: usize) -> String {
    format!("{} bay {}", strip.label(), bay + 1)
}
