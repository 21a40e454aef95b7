//! From choices bay by bay to a design and back.

use crate::mix::ask::Place;
use crate::physics::design::{Design, Run, Strip, WebBand, WebRun};
use crate::physics::wing::layout::Layout;

/// The design as its bays stand: every boundary on a rib of the regions, so no closing rib is added.
pub fn on_ribs(design: &Design, edges: &[f64]) -> Design {
    let mut out = design.clone();
    for s in &mut out.strips {
        let choice: Vec<usize> = edges
            .windows(2)
            .map(|w| {
                let eta = f64::midpoint(w[0], w[1]);
                s.runs.iter().find(|r| eta <= r.to_eta).or_else(|| s.runs.last()).map_or(0, |r| r.construction)
            })
            .collect();
        s.runs = runs(&choice, edges);
    }
    out
}

/// Rib places of the regions and joints, root to tip, boundaries of skins left out.
pub fn rib_edges(layout_without_boundaries: &Layout) -> Vec<f64> {
    let mut out: Vec<f64> = layout_without_boundaries.stations().map(|s| s.eta).collect();
    if let Some(last) = out.last_mut() {
        *last = 1.0;
    }
    out
}

fn runs(choice: &[usize], edges: &[f64]) -> Vec<Run> {
    let mut out: Vec<Run> = Vec::new();
    for (c, e) in choice.iter().zip(edges.windows(2)) {
        match out.last_mut() {
            Some(r) if r.construction == *c => r.to_eta = e[1],
            _ => out.push(Run { from_eta: e[0], to_eta: e[1], construction: *c }),
        }
    }
    if let Some(r) = out.first_mut() {
        r.from_eta = 0.0;
    }
    if let Some(r) = out.last_mut() {
        r.to_eta = 1.0;
    }
    out
}

/// Put the choices of one place into a design. `bays` are the bays of the chain, `chosen` a construction for each.
pub fn put(design: &mut Design, place: Place, bays: &[usize], chosen: &[usize], edges: &[f64]) {
    match place {
        Place::Skin(s) => skin(design, s, bays, chosen, edges),
        Place::Pair([a, b]) => {
            skin(design, a, bays, chosen, edges);
            skin(design, b, bays, chosen, edges);
        }
        Place::Web => {
            let each = spread(bays, chosen, edges.len() - 1);
            design.spar.web = runs(&each, edges)
                .into_iter()
                .map(|r| WebRun {
                    from_eta: r.from_eta,
                    to_eta: r.to_eta,
                    bands: vec![WebBand { height_frac: 1.0, construction: r.construction }],
                })
                .collect();
        }
        Place::Ribs => {
            let mains: Vec<usize> = design.ribs.iter().map(|r| r.kind).collect();
            for (i, kind) in design.rib_kinds.iter_mut().enumerate() {
                if let (true, Some(c)) = (mains.contains(&i), chosen.first()) {
                    kind.body = *c;
                }
            }
        }
    }
}

fn skin(design: &mut Design, strip: Strip, bays: &[usize], chosen: &[usize], edges: &[f64]) {
    let each = spread(bays, chosen, edges.len() - 1);
    if let Some(s) = design.strips.iter_mut().find(|s| s.strip == strip) {
        s.runs = runs(&each, edges);
    }
}

/// Put one construction over part of a strip, from one fraction of the half span to another; the rest stays as it was.
pub fn put_between(design: &mut Design, strip: Strip, (from_eta, to_eta): (f64, f64), construction: usize) {
    let Some(s) = design.strips.iter_mut().find(|s| s.strip == strip) else { return };
    let inner = s.runs.iter().map(|r| Run { to_eta: r.to_eta.min(from_eta), ..*r });
    let outer = s.runs.iter().map(|r| Run { from_eta: r.from_eta.max(to_eta), ..*r });
    let own = Run { from_eta, to_eta, construction };
    let mut runs: Vec<Run> = Vec::new();
    for r in inner.chain([own]).chain(outer).filter(|r| r.to_eta > r.from_eta) {
        match runs.last_mut() {
            Some(last) if last.construction == r.construction => last.to_eta = r.to_eta,
            _ => runs.push(r),
        }
    }
    s.runs = runs;
}

/// A choice for every bay: where the strip is absent the nearest inboard (or first) choice goes on.
fn spread(bays: &[usize], chosen: &[usize], n: usize) -> Vec<usize> {
    let first = chosen.first().copied().unwrap_or(0);
    let mut out = vec![first; n];
    let mut last = first;
    for (b, slot) in out.iter_mut().enumerate() {
        if let Some(c) = bays.iter().position(|x| *x == b).and_then(|i| chosen.get(i)) {
            last = *c;
        }
        *slot = last;
    }
    out
}
