//! The half wing seen from above, to scale: where a place of it comes to lie in a drawing.

use super::svg::{Anchor, INK, Point, SMALL, Svg, dashed, ink};
use crate::physics::design::{Design, Strip};
use crate::physics::evaluation::Evaluation;
use crate::physics::wing::layout::{Layout, RibRole, Station, Zone};

/// Width of a drawing of the whole half wing.
pub(super) const WIDE: f64 = 960.0;
const LEFT: f64 = 34.0;
const RIGHT: f64 = 22.0;
/// Room above the wing for bay numbers and what stands at the nose.
const ABOVE: f64 = 34.0;
/// Room under it for the scale.
const BELOW: f64 = 30.0;

/// A view of the half wing, its root at the left and its nose at the top.
#[derive(Debug, Clone, Copy)]
pub(super) struct View {
    per_m: f64,
    /// Forward-most and rearmost of the wing, m aft of the root's leading edge.
    front_m: f64,
    back_m: f64,
    top: f64,
}

impl View {
    /// As large as the drawing is wide; nothing without a wing.
    pub(super) fn of(l: &Layout, top: f64) -> Option<Self> {
        let front_m = l.stations().map(|s| s.x_le_m).fold(f64::INFINITY, f64::min);
        let back_m = l.stations().map(|s| s.x_le_m + s.chord_m).fold(f64::NEG_INFINITY, f64::max);
        let per_m = (WIDE - LEFT - RIGHT) / l.half_span_m;
        (back_m > front_m && per_m.is_finite() && per_m > 0.0).then_some(Self {
            per_m,
            front_m,
            back_m,
            top: top + ABOVE,
        })
    }
    /// Where it ends, with its scale.
    pub(super) fn bottom(&self) -> f64 {
        self.edge() + BELOW
    }
    fn edge(&self) -> f64 {
        self.top + (self.back_m - self.front_m) * self.per_m
    }
    /// A place m out from the root and m aft of the root's leading edge.
    pub(super) fn at(&self, y_m: f64, x_m: f64) -> Point {
        (LEFT + y_m * self.per_m, self.top + (x_m - self.front_m) * self.per_m)
    }
    /// A chord fraction at a station.
    pub(super) fn on(&self, s: &Station, frac: f64) -> Point {
        self.at(s.y_m, s.x_le_m + frac * s.chord_m)
    }
    /// How wide so many metres are drawn.
    pub(super) fn wide(&self, m: f64) -> f64 {
        m * self.per_m
    }
    /// Corners of a zone.
    pub(super) fn corners(&self, l: &Layout, z: &Zone) -> Vec<Point> {
        let Some(bay) = l.bays.get(z.bay) else { return Vec::new() };
        let (a, b) = (&bay.inner, &bay.outer);
        let from = |s: &Station| if touches_spar(z) { s.spar_frac } else { z.chord_from };
        let to = |s: &Station| if z.strip.is_nose() { s.spar_frac } else { z.chord_to };
        vec![self.on(a, from(a)), self.on(b, from(b)), self.on(b, to(b)), self.on(a, to(a))]
    }
    /// The middle of a zone.
    pub(super) fn middle(&self, l: &Layout, z: &Zone) -> Point {
        let all = self.corners(l, z);
        let n = all.len().max(1) as f64;
        (all.iter().map(|p| p.0).sum::<f64>() / n, all.iter().map(|p| p.1).sum::<f64>() / n)
    }
}

/// A zone that begins at the spar follows it.
fn touches_spar(z: &Zone) -> bool {
    matches!(z.strip, Strip::AftUpper | Strip::AftLower)
}

/// Ribs, spar, hinge line, outline, bay numbers and the scale: what every view of the half wing has.
pub(super) fn bones(svg: &mut Svg, v: &View, design: &Design, e: &Evaluation, name: &str) {
    let l = &e.layout;
    let stations: Vec<&Station> = l.stations().collect();
    let hinged = |eta: f64| design.controls.iter().any(|c| eta > c.from_eta - 1e-6 && eta < c.to_eta + 1e-6);
    for (i, s) in stations.iter().enumerate() {
        let role = if i == 0 { RibRole::Root } else { l.bays.get(i - 1).map_or(RibRole::Main, |b| b.outer_rib) };
        let end = if hinged(s.eta) { design.hinge_frac } else { 1.0 };
        let pen = match role {
            RibRole::Main => ink(1.0),
            RibRole::Closing => dashed(1.4, "5 2"),
            RibRole::Joint | RibRole::Root | RibRole::Tip => ink(2.0),
        };
        svg.line(v.on(s, 0.0), v.on(s, end), pen);
    }
    for b in &l.bays {
        for i in 1..=b.nose_ribs {
            let w = f64::from(i) / f64::from(b.nose_ribs + 1);
            let mix = |p: Point, q: Point| (p.0 + w * (q.0 - p.0), p.1 + w * (q.1 - p.1));
            let (a, c) = (&b.inner, &b.outer);
            svg.line(mix(v.on(a, 0.0), v.on(c, 0.0)), mix(v.on(a, a.spar_frac), v.on(c, c.spar_frac)), ink(0.5));
        }
    }
    spar(svg, v, design, &stations);
    for c in &design.controls {
        let on: Vec<Point> = stations
            .iter()
            .filter(|s| s.eta >= c.from_eta - 1e-6 && s.eta <= c.to_eta + 1e-6)
            .map(|s| v.on(s, design.hinge_frac))
            .collect();
        svg.open(&on, dashed(1.6, "9 3 2 3"));
    }
    let nose = stations.iter().map(|s| v.on(s, 0.0));
    let tail = stations.iter().rev().map(|s| v.on(s, 1.0));
    let mut outline: Vec<Point> = nose.chain(tail).collect();
    outline.extend(stations.first().map(|s| v.on(s, 0.0)));
    svg.open(&outline, ink(2.0));
    let mut last = f64::NEG_INFINITY;
    for (i, b) in l.bays.iter().enumerate() {
        let p = v.on(&b.mid, 0.0);
        if p.0 - last >= 17.0 {
            svg.text((p.0, p.1 - 5.0), Anchor::Middle, 10.0, &(i + 1).to_string());
            last = p.0;
        }
    }
    svg.text((LEFT, v.top - ABOVE + 12.0), Anchor::Start, 13.0, name);
    scale(svg, v, l.half_span_m);
}

/// The spar as wide as its wider cap, and its middle.
fn spar(svg: &mut Svg, v: &View, design: &Design, stations: &[&Station]) {
    let wide = |s: &Station| {
        let cap = |c: &crate::physics::design::Cap| c.width_root_m + s.eta * (c.width_tip_m - c.width_root_m);
        cap(&design.spar.upper).max(cap(&design.spar.lower)) / 2.0
    };
    let edge = |sign: f64| {
        stations
            .iter()
            .map(move |s| v.at(s.y_m, s.x_le_m + s.spar_frac * s.chord_m + sign * wide(s)))
            .collect::<Vec<_>>()
    };
    let mut band = edge(-1.0);
    band.extend(edge(1.0).into_iter().rev());
    svg.area(&band, INK, 0.35, None);
    let middle: Vec<Point> = stations.iter().map(|s| v.on(s, s.spar_frac)).collect();
    svg.open(&middle, ink(1.2));
}

/// Metres along the span under the wing.
fn scale(svg: &mut Svg, v: &View, half_m: f64) {
    let y = v.edge() + 10.0;
    svg.line((LEFT, y), (LEFT + v.wide(half_m), y), ink(1.0));
    let step = if half_m > 12.0 { 2.0 } else { 1.0 };
    let mut m = 0.0;
    while m <= half_m + 1e-9 {
        let x = LEFT + v.wide(m);
        svg.line((x, y - 3.0), (x, y + 3.0), ink(1.0));
        if half_m - m > 0.35 * step || half_m - m < 1e-6 {
            let unit = if m == 0.0 { " m" } else { "" };
            svg.text((x, y + 14.0), Anchor::Middle, SMALL, &format!("{m:.0}{unit}"));
        }
        m += step;
    }
    svg.line((LEFT + v.wide(half_m), y - 4.0), (LEFT + v.wide(half_m), y + 4.0), ink(1.0));
    svg.text((LEFT + v.wide(half_m), y + 14.0), Anchor::Middle, SMALL, &format!("{half_m:.2}"));
}
