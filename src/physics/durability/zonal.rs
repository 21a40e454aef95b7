//! Repair hours and press load of single zones under one construction after another, for tables of zones by constructions:
//! the terms that [`index::rate`](super::index::rate) adds up, without the rest of its results. Where each event meets
//! each zone is the same for all constructions of a kind and is worked out once; what hangs on nothing but geometry and
//! plies is told apart from what hangs on the weight of the wing, so that it need not be worked out twice.

use crate::physics::durability::events::{EVENTS, Event};
use crate::physics::durability::meetings::Meetings;
use crate::physics::durability::term::{Alike, Chances, Ground, Term, panel_of};
use crate::physics::durability::{index, press};
use crate::physics::laminate::construction::Kind;

/// Whether a part of the hours hangs on what the wing weighs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Part {
    ByWeight,
    Fixed,
}

impl Part {
    const fn of(e: &Event) -> Self {
        if e.cause.by_weight() { Self::ByWeight } else { Self::Fixed }
    }
}

/// Hours of one time.
fn once(term: &Term, chances: &Chances, hours: &[f64; 4]) -> f64 {
    let (p, tears) = (&chances.p, term.tears);
    if p[0] <= 1e-12 {
        return 0.0;
    }
    let exact = [p[0] - p[1], p[1] - p[2], p[2] * (1.0 - tears), p[2] * tears];
    exact.iter().zip(hours).map(|(p, h)| p * h).sum()
}

/// Repair hours per 100 outings, both halves, of one zone: all over it, and those added where it ends on a boundary joint.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Hours {
    pub zone: f64,
    pub joint: f64,
}

/// One part of the repair hours of every zone that is asked for, all of one construction; 0 of the others.
pub fn hours(g: &Ground, m: &Meetings, (construction, asked): (usize, &[bool]), part: Part) -> Vec<Hours> {
    let mut out = vec![Hours::default(); g.layout.zones.len()];
    let Some(skin) = g.skins.get(construction) else { return out };
    let costs = index::cost(skin.kind, g.design, g.assumed).hours;
    let mut each: Vec<f64> = Vec::new();
    for m in m.kind(skin.kind).iter().filter(|m| Part::of(&EVENTS[m.event]) == part) {
        each.clear();
        each.resize(m.contacts.len(), f64::NAN);
        let mut of = |contact: usize| {
            if each[contact].is_nan() {
                each[contact] = g.with_contact(m, contact, construction, |t, c| once(t, c, &costs)).unwrap_or(0.0);
            }
            each[contact]
        };
        for p in m.places.iter().filter(|p| asked[p.zone]) {
            out[p.zone].zone += p.per_100 * of(p.contact);
        }
        for p in m.joints.iter().filter(|p| asked[p.zone]) {
            out[p.zone].joint += p.per_100 * (of(p.contact) - of(p.instead_of));
        }
        g.land_of(
            m,
            |zone| asked[zone],
            |zone, a| out[zone].zone += a.term.per_100 * once(&a.term, &a.chances, &costs),
        );
    }
    out
}

/// Repair hours per 100 outings, both halves, of the zones that are asked for, as they stand with their joints.
/// Unchecked: no outside check runs it by itself.
pub fn hours_as_drawn(g: &Ground, asked: &[bool]) -> f64 {
    let met = g.met(|z| asked.get(z) == Some(&true));
    let hours = |a: &Alike| once(&a.term, &a.chances, &index::cost(a.term.kind, g.design, g.assumed).hours);
    let each: Vec<f64> = met.contacts.iter().map(hours).collect();
    met.places.iter().map(|p| p.per_100 * each[p.contact as usize]).sum()
}

/// P5 load of a thumb on every zone that is asked for, N; 0 of the others.
/// Unchecked: no outside check runs it by itself.
pub fn press_n(g: &Ground, asked: &[bool]) -> Vec<f64> {
    let mut known: Vec<(usize, bool, f64)> = Vec::new();
    let zones = g.layout.zones.iter().zip(asked);
    zones
        .map(|(z, asked)| {
            let Some(s) = g.skins.get(z.construction).filter(|_| *asked) else { return 0.0 };
            let (c, upper) = (z.construction, z.strip.is_upper());
            let alone = matches!(s.kind, Kind::Wood | Kind::Laminate | Kind::OneFaced);
            if let Some(k) = known.iter().find(|k| !alone && k.0 == c && k.1 == upper) {
                return k.2;
            }
            let n = press::press_n(g, c, upper, &panel_of(z));
            known.push((c, upper, n));
            n
        })
        .collect()
}
