//! Repair hours and press load of single zones under one construction, for tables of zones by constructions: the terms
//! that [`index::rate`](super::index::rate) adds up, without the rest of its results. What hangs on nothing but geometry
//! and plies is told apart from what hangs on the weight of the wing, so that it need not be worked out twice.

use crate::physics::durability::cause::Cause;
use crate::physics::durability::events::Event;
use crate::physics::durability::term::{Alike, Ground, panel_of};
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
        match e.cause {
            Cause::Weight { .. }
            | Cause::OnPad { .. }
            | Cause::OnEdge { .. }
            | Cause::SetDown { .. }
            | Cause::Knock { .. } => Self::ByWeight,
            Cause::Press { .. } | Cause::Falls { .. } | Cause::Flies { .. } | Cause::Strap { .. } => Self::Fixed,
        }
    }
}

/// Hours of one time.
fn once(a: &Alike, hours: &[f64; 4]) -> f64 {
    let (p, tears) = (&a.chances.p, a.term.tears);
    if p[0] <= 1e-12 {
        return 0.0;
    }
    let exact = [p[0] - p[1], p[1] - p[2], p[2] * (1.0 - tears), p[2] * tears];
    exact.iter().zip(hours).map(|(p, h)| p * h).sum()
}

/// One part of the repair hours per 100 outings, both halves, of every zone that is asked for; 0 of the others.
/// Unchecked: no outside check runs it by itself.
pub fn hours(g: &Ground, asked: &[bool], part: Part) -> Vec<f64> {
    let mut out = vec![0.0; g.layout.zones.len()];
    let mut costs: Vec<(Kind, [f64; 4])> = Vec::new();
    let mut each: Vec<f64> = Vec::new();
    g.events_of(|z| asked.get(z) == Some(&true), |e| Part::of(e) == part, &mut |contacts, places| {
        each.clear();
        for a in contacts {
            let kind = a.term.kind;
            let at = costs.iter().position(|c| c.0 == kind).unwrap_or_else(|| {
                costs.push((kind, index::cost(kind, g.design, g.assumed).hours));
                costs.len() - 1
            });
            each.push(once(a, &costs[at].1));
        }
        for p in places {
            out[p.zone] += p.per_100 * each[p.alike];
        }
    });
    out
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
