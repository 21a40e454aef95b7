//! Sections of the wing to scale: outline, skins as thick as they are, caps, backing and web where they stand.

use super::Sheet;
use super::hatch;
use super::planform::{of_skins, tag};
use super::svg::{Anchor, INK, Point, SMALL, Svg, dashed, ink, width};
use crate::physics::assumptions::Assumptions;
use crate::physics::design::{Cap, Strip};
use crate::physics::laminate::cap;
use crate::physics::wing::layout::{Station, Zone};
use crate::report::outline::{Side, height, outline};

/// Width of a drawing, and what is left free beside the longest chord.
const WIDE: f64 = 960.0;
const EDGE: f64 = 26.0;
/// Sections drawn at most.
const MOST: usize = 4;

/// One drawing for each different set of skins from root to tip, all to the scale of the root.
pub(super) fn html(s: &Sheet) -> String {
    let (d, e) = (s.design(), s.evaluation());
    let mut seen: Vec<Vec<(Strip, usize)>> = Vec::new();
    let mut out = String::new();
    for bay in 0..e.layout.bays.len() {
        let zones: Vec<&Zone> = e.layout.zones.iter().filter(|z| z.bay == bay).collect();
        let set: Vec<(Strip, usize)> = zones.iter().map(|z| (z.strip, z.construction)).collect();
        if seen.contains(&set) || seen.len() == MOST {
            continue;
        }
        seen.push(set);
        out.push_str(&drawing(s, bay, &zones));
    }
    if !out.is_empty() && d.spar.posts.iter().any(|p| p.pitch_m > 0.0) {
        out.push_str("<p>Posts between the caps are not drawn.</p>\n");
    }
    out
}

/// A section under way: its surfaces in chord fractions, its scale.
struct Cut {
    sides: [Side; 2],
    chord_m: f64,
    per_m: f64,
    axis: f64,
}

impl Cut {
    fn at(&self, p: (f64, f64)) -> Point {
        (EDGE + p.0 * self.chord_m * self.per_m, self.axis - p.1 * self.chord_m * self.per_m)
    }
    fn side(&self, upper: bool) -> &Side {
        &self.sides[usize::from(!upper)]
    }
    /// A stretch of a surface, ends cut where they are asked.
    fn stretch(&self, upper: bool, from: f64, to: f64) -> Side {
        let side = self.side(upper);
        let end = |x: f64| (x, height(side, x));
        let inside = side.iter().copied().filter(|p| p.0 > from + 1e-9 && p.0 < to - 1e-9);
        let first = if from <= 1e-9 { side.first().copied().unwrap_or_else(|| end(from)) } else { end(from) };
        std::iter::once(first).chain(inside).chain(std::iter::once(end(to))).collect()
    }
    /// The same so many metres further in, never beyond the middle.
    fn inside(&self, stretch: &[(f64, f64)], upper: bool, depth_m: f64) -> Side {
        let depth = depth_m / self.chord_m;
        let sign = if upper { 1.0 } else { -1.0 };
        (0..stretch.len())
            .map(|i| {
                let (a, b) = (stretch[i.saturating_sub(1)], stretch[(i + 1).min(stretch.len() - 1)]);
                let p = stretch[i];
                let long = (b.0 - a.0).hypot(b.1 - a.1).max(1e-12);
                let room = 0.48 * (height(&self.sides[0], p.0) - height(&self.sides[1], p.0)).max(0.0);
                // At the very nose the two sides meet: no less than a part of the skin.
                let t = depth.min(room.max(0.3 * depth.min(0.01)));
                (p.0 + sign * t * (b.1 - a.1) / long, p.1 - sign * t * (b.0 - a.0) / long)
            })
            .collect()
    }
    /// How high words of a width may stand at a place and touch nothing of the outline.
    fn clear(&self, upper: bool, x: f64, wide: f64) -> f64 {
        let frac = |x: f64| ((x - EDGE) / (self.chord_m * self.per_m)).clamp(0.0, 1.0);
        let all = (0..=8).map(|i| frac(x + wide * (f64::from(i) / 8.0 - 0.5)));
        let heights = all.map(|f| self.at((f, height(self.side(upper), f))).1);
        if upper {
            heights.fold(f64::INFINITY, f64::min) - 6.0
        } else {
            heights.fold(f64::NEG_INFINITY, f64::max) + 15.0
        }
    }
    /// The area between a surface at two depths.
    fn layer(&self, upper: bool, (from, to): (f64, f64), (outer_m, inner_m): (f64, f64)) -> Vec<Point> {
        let stretch = self.stretch(upper, from, to);
        let mut out = self.inside(&stretch, upper, outer_m);
        out.extend(self.inside(&stretch, upper, inner_m).into_iter().rev());
        out.into_iter().map(|p| self.at(p)).collect()
    }
}

fn drawing(s: &Sheet, bay: usize, zones: &[&Zone]) -> String {
    let (d, e) = (s.design(), s.evaluation());
    let Some(b) = e.layout.bays.get(bay) else { return String::new() };
    let at = &b.mid;
    let sides = outline(d, at.eta);
    if sides[0].len() < 3 || at.chord_m.is_nan() || at.chord_m <= 0.0 {
        return String::new();
    }
    let per_m = (WIDE - 2.0 * EDGE) / e.layout.root_chord_m.max(at.chord_m);
    let top = sides[0].iter().map(|p| p.1).fold(0.0, f64::max) * at.chord_m * per_m;
    let bottom = sides[1].iter().map(|p| p.1).fold(0.0, f64::min) * at.chord_m * per_m;
    let cut = Cut { sides, chord_m: at.chord_m, per_m, axis: 46.0 + top };
    let order = of_skins(e);
    let title = format!("Section in the middle of bay {}, {:.2} m from the root, to scale", bay + 1, at.y_m);
    let made: Vec<String> = zones
        .iter()
        .map(|z| format!("{} {}", z.strip.label(), d.constructions.get(z.construction).map_or("", |c| c.name.as_str())))
        .collect();
    let description = format!(
        "Chord {:.3} m, thickness {:.1} % of it, spar at {:.1} % and {:.0} mm deep. Skins as thick as they are: {}. Caps of {} layers above and {} below.",
        at.chord_m,
        100.0 * at.thickness_frac,
        100.0 * at.spar_frac,
        1000.0 * at.spar_depth_m,
        made.join("; "),
        e.sizing.upper.get(bay).copied().unwrap_or(0),
        e.sizing.lower.get(bay).copied().unwrap_or(0)
    );
    let mut svg = Svg::new(s.id(&format!("section-{}", bay + 1)), (WIDE, 0.0), &title, &description);
    hatch::define(&mut svg, order.len());
    skins(&mut svg, &cut, s, zones, &order);
    spar(&mut svg, &cut, s, bay, at);
    outline_of(&mut svg, &cut, s, at);
    let foot = cut.axis - bottom + 34.0;
    scale(&mut svg, &cut, foot);
    svg.high(foot + 24.0);
    svg.done("wide")
}

/// Every skin as thick as it is; one too thin to be seen is a heavy line.
fn skins(svg: &mut Svg, cut: &Cut, s: &Sheet, zones: &[&Zone], order: &[usize]) {
    let e = s.evaluation();
    for z in zones {
        let Some(skin) = e.skins.get(z.construction) else { continue };
        let upper = z.strip.is_upper();
        let ends = (z.chord_from, z.chord_to);
        if skin.thickness_m * cut.per_m >= 1.2 {
            let i = order.iter().position(|c| *c == z.construction).unwrap_or(0);
            let fill = hatch::fill(svg, i);
            svg.area(&cut.layer(upper, ends, (0.0, skin.thickness_m)), &fill, 1.0, Some(ink(0.7)));
        }
        let words = format!("{} {}", z.strip.label(), tag(e, order, z.construction));
        let p = cut.at((0.45 * ends.0 + 0.55 * ends.1, 0.0));
        svg.text((p.0, cut.clear(upper, p.0, width(&words, 12.0))), Anchor::Middle, 12.0, &words);
    }
}

/// Both caps with their backing, the web between them as thick as it is.
fn spar(svg: &mut Svg, cut: &Cut, s: &Sheet, bay: usize, at: &Station) {
    let (d, e) = (s.design(), s.evaluation());
    let assumed = Assumptions::default();
    let mut ends = [0.0; 2];
    for (i, (cap, layers)) in
        [(&d.spar.upper, &e.sizing.upper), (&d.spar.lower, &e.sizing.lower)].into_iter().enumerate()
    {
        let upper = i == 0;
        let half = half_width(cap, at.eta) / at.chord_m;
        let span = (at.spar_frac - half, at.spar_frac + half);
        let skin = e
            .layout
            .zone(if upper { Strip::NoseUpper } else { Strip::NoseLower }, bay)
            .and_then(|z| e.skins.get(z.construction))
            .map_or(0.0, |k| k.thickness_m);
        let layer = cap::layer(&cap.material, &d.library, &assumed).thickness_m;
        let thick = layer * f64::from(layers.get(bay).copied().unwrap_or(0));
        svg.area(&cut.layer(upper, span, (skin, skin + thick)), INK, 0.85, None);
        let mut depth = skin + thick;
        if let Some(b) = cap.backing {
            let half = b.width_m / 2.0 / at.chord_m;
            let span = (at.spar_frac - half, at.spar_frac + half);
            svg.area(&cut.layer(upper, span, (depth, depth + b.depth_m)), INK, 0.18, Some(ink(0.7)));
            depth += b.depth_m;
        }
        // A skin thicker than half the section leaves the web no height, never a negative one.
        let depth = (depth / at.chord_m).min(0.48 * at.spar_depth_m / at.chord_m);
        ends[i] = height(cut.side(upper), at.spar_frac) + if upper { -depth } else { depth };
    }
    let bands = d.spar.web.iter().find(|r| (r.from_eta..=r.to_eta).contains(&at.eta)).map_or(&[][..], |r| &r.bands);
    let mut from = ends[0];
    for band in bands {
        let to = from + band.height_frac * (ends[1] - ends[0]);
        let thick = e.skins.get(band.construction).map_or(0.0, |k| k.thickness_m);
        let half = (thick / 2.0 / at.chord_m).max(0.6 / (cut.per_m * at.chord_m));
        let (a, b) = (cut.at((at.spar_frac - half, from)), cut.at((at.spar_frac + half, to)));
        svg.rect(a, b, INK, 0.3, Some(ink(0.8)));
        from = to;
    }
}

fn half_width(cap: &Cap, eta: f64) -> f64 {
    (cap.width_root_m + eta * (cap.width_tip_m - cap.width_root_m)) / 2.0
}

/// The outline, the chord and the hinge.
fn outline_of(svg: &mut Svg, cut: &Cut, s: &Sheet, at: &Station) {
    let d = s.design();
    let mut all: Vec<Point> = cut.sides[0].iter().rev().map(|p| cut.at(*p)).collect();
    all.extend(cut.sides[1].iter().skip(1).map(|p| cut.at(*p)));
    svg.open(&all, ink(1.6));
    svg.line(cut.at((0.0, 0.0)), cut.at((1.0, 0.0)), dashed(0.6, "8 3 2 3"));
    let hinged = d.controls.iter().any(|c| (c.from_eta..=c.to_eta).contains(&at.eta));
    if hinged && d.hinge_frac < 1.0 {
        let [a, b] = [0, 1].map(|i| cut.at((d.hinge_frac, height(&cut.sides[i], d.hinge_frac))));
        let walled = d.control_at(at.eta).is_some_and(|(_, c)| c.wing_wall.or(c.control_wall).is_some());
        svg.line(a, b, if walled { ink(1.6) } else { dashed(1.6, "9 3 2 3") });
        let word = if walled { "hinge and walls" } else { "hinge" };
        svg.text((a.0, cut.clear(true, a.0, 170.0) - 14.0), Anchor::Middle, SMALL, word);
    }
    let p = cut.at((at.spar_frac, height(&cut.sides[0], at.spar_frac)));
    svg.text((p.0, p.1 - 22.0), Anchor::Middle, SMALL, "spar");
}

/// A bar of round length, at most a third of the drawing.
fn scale(svg: &mut Svg, cut: &Cut, y: f64) {
    let fits = |mm: &u32| f64::from(*mm) * 1e-3 * cut.per_m <= WIDE / 3.0;
    let Some(mm) = [500, 200, 100, 50, 20, 10].into_iter().find(fits) else { return };
    let to = EDGE + f64::from(mm) * 1e-3 * cut.per_m;
    svg.line((EDGE, y), (to, y), ink(2.0));
    for x in [EDGE, f64::midpoint(EDGE, to), to] {
        svg.line((x, y - 4.0), (x, y + 4.0), ink(1.2));
    }
    svg.text((to + 8.0, y + 4.0), Anchor::Start, SMALL, &format!("{mm} mm, both ways alike"));
}
