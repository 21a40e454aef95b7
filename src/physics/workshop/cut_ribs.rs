//! Ribs as blanks: body ahead of the spar, behind it, and behind the hinge line; caps along both edges; wrap.

use crate::physics::design::RibKind;
use crate::physics::mass::ribs::{Placed, placed, wedge_m2};
use crate::physics::mass::tally::Heading;
use crate::physics::mass::weighed::{Piece, part_of};
use crate::physics::wing::layout::ROOT_RIB;
use crate::physics::wing::section::{self, Prepared};
use crate::physics::workshop::cut_skins::stack;
use crate::physics::workshop::cuts::{Bench, Other, Panel, skin_of};
use crate::physics::workshop::outline::Outline;

/// A rib to cut: its line of the parts list, a name, where it stands.
struct Rib<'a> {
    part: Piece,
    name: String,
    placed: Placed<'a>,
}

/// All ribs, in the order of the parts list.
pub(super) fn ribs(bench: &mut Bench) {
    let e = bench.e;
    let prepared = section::prepare(&bench.design.sections);
    for r in placed(&e.layout) {
        let name = if r.name == ROOT_RIB { r.name.to_owned() } else { format!("{} {}", r.name, r.bay + 1) };
        if let Some(kind) = bench.design.rib_kinds.get(r.kind) {
            one(bench, &Rib { part: part_of(Heading::Ribs, None, r.name), name, placed: r }, kind, &prepared);
        }
    }
}

/// Depth of the box round a section between two places of its chord, over the chord.
fn box_frac(prepared: &[Prepared], eta: f64, from: f64, to: f64) -> f64 {
    let j = prepared.partition_point(|s| s.eta <= eta).clamp(1, prepared.len().max(2) - 1);
    let (Some(a), Some(b)) = (prepared.get(j - 1), prepared.get(j).or_else(|| prepared.last())) else { return 0.0 };
    let w = if b.eta > a.eta { ((eta - a.eta) / (b.eta - a.eta)).clamp(0.0, 1.0) } else { 0.0 };
    let (mut top, mut bottom) = (f64::NEG_INFINITY, f64::INFINITY);
    for (pa, pb) in [(&a.contour.upper, &b.contour.upper), (&a.contour.lower, &b.contour.lower)] {
        let mut last: Option<(f64, f64)> = None;
        for (p, q) in pa.iter().zip(pb.iter()) {
            let (x, y) = (p.0 + w * (q.0 - p.0), p.1 + w * (q.1 - p.1));
            // The points on both sides of an end as well, so that the box is never too small.
            let near = (from..=to).contains(&x);
            let crosses = last.is_some_and(|l: (f64, f64)| (l.0 < from && x > from) || (l.0 < to && x > to));
            for v in [Some(y).filter(|_| near || crosses), last.map(|l| l.1).filter(|_| crosses)].into_iter().flatten()
            {
                (top, bottom) = (top.max(v), bottom.min(v));
            }
            last = Some((x, y));
        }
    }
    (top - bottom).max(0.0)
}

fn one(bench: &mut Bench, rib: &Rib, kind: &RibKind, prepared: &[Prepared]) {
    let (design, e, s) = (bench.design, bench.e, rib.placed.at);
    // As the parts list: what tapers towards the tip is taken as so much less of the body left.
    let left = (1.0 - kind.lightening) * (1.0 + s.eta * (kind.tip_thickness_ratio - 1.0));
    let kind_word = if kind.name.is_empty() { "ribs".to_owned() } else { format!("ribs, {}", kind.name) };
    let parts = [
        ("nose", s.nose_cell_m2, 0.0, s.spar_frac),
        ("body", s.aft_cell_m2, s.spar_frac, design.hinge_frac),
        ("rear", wedge_m2(s), design.hinge_frac, 1.0),
    ];
    let count = 2 * rib.placed.times;
    let wet = |c: usize| design.constructions.get(c).is_some_and(|m| !m.outer.is_empty() || !m.inner.is_empty());
    let lay_up = wet(kind.body).then(|| bench.lay_up(&kind_word, 1, false));
    let many = if rib.placed.nose_only { 1 } else { 3 };
    for (word, area_m2, from, to) in parts.into_iter().take(many) {
        let flat = Outline::rectangle(s.chord_m * (to - from), s.chord_m * box_frac(prepared, s.eta, from, to));
        let (Some(skin), Some(made)) = (skin_of(e, kind.body), design.constructions.get(kind.body)) else { continue };
        let name = if rib.placed.nose_only { rib.name.clone() } else { format!("{} {word}", rib.name) };
        let panel = Panel {
            part: &rib.part,
            name: &name,
            lay_up,
            outline: &flat,
            lapped: &flat,
            net_m2: area_m2 * left,
            count,
            faces: ["front", "rear"],
            side_m: design.stock.trim_m,
            lap_m2: 0.0,
        };
        stack(bench, &panel, made, skin);
    }
    edges(bench, rib, kind, &kind_word);
    bench.take(&rib.part, Other::Fitting, f64::from(count) * kind.fittings_kg);
}

/// Caps along the edges, and the wrap over them as a strip of the same area.
fn edges(bench: &mut Bench, rib: &Rib, kind: &RibKind, kind_word: &str) {
    let (design, e, s) = (bench.design, bench.e, rib.placed.at);
    let upper_m = s.nose_upper_m + if rib.placed.nose_only { 0.0 } else { s.aft_upper_m + s.control_upper_m };
    let lower_m = s.nose_lower_m + if rib.placed.nose_only { 0.0 } else { s.aft_lower_m + s.control_lower_m };
    let (area_m2, whole_m) = rib.placed.filled();
    let wrap = kind.wrap.map(|(c, share)| (c, area_m2 * share / whole_m.max(1e-9)));
    for (of, word) in [(kind.cap, "cap"), (wrap, "wrap")] {
        let Some((c, width_m)) = of.filter(|w| w.1 > 0.0) else { continue };
        let (Some(skin), Some(made)) = (skin_of(e, c), design.constructions.get(c)) else { continue };
        let wet = !made.outer.is_empty() || !made.inner.is_empty();
        let lay_up = wet.then(|| bench.lay_up(&format!("{kind_word}: {word}s"), 1, false));
        for (side, length_m) in [("upper", upper_m), ("lower", lower_m)] {
            let flat = Outline::rectangle(length_m, width_m);
            let panel = Panel {
                part: &rib.part,
                name: &format!("{} {side} {word}", rib.name),
                lay_up,
                outline: &flat,
                lapped: &flat,
                net_m2: length_m * width_m,
                count: 2 * rib.placed.times,
                faces: ["outer", "inner"],
                side_m: 0.0,
                lap_m2: 0.0,
            };
            stack(bench, &panel, made, skin);
        }
    }
}
