//! The half wing from above, twice: its upper and its lower skin, hatched by what they are made of, with ribs, spar, hinge line,
//! boundaries, patches, holds and rests.

use super::Sheet;
use super::hatch;
use super::html::{Show, facts};
use super::plan::{View, WIDE, bones};
use super::svg::{Anchor, Svg, dashed, fit, ink};
use crate::physics::design::{Design, Strip};
use crate::physics::evaluation::Evaluation;

const FROM_THE_NOSE: [Strip; 8] = [
    Strip::NoseUpper,
    Strip::NoseLower,
    Strip::AftUpper,
    Strip::AftLower,
    Strip::AftUpperRear,
    Strip::AftLowerRear,
    Strip::ControlUpper,
    Strip::ControlLower,
];

/// Constructions of the skins in the order they come, root to tip, nose to tail.
pub(super) fn of_skins(e: &Evaluation) -> Vec<usize> {
    let mut out = Vec::new();
    for strip in FROM_THE_NOSE {
        for z in e.layout.zones.iter().filter(|z| z.strip == strip) {
            if !out.contains(&z.construction) {
                out.push(z.construction);
            }
        }
    }
    out
}

/// What a construction is called in a drawing: the letter of its kind and its number.
pub(super) fn tag(e: &Evaluation, order: &[usize], construction: usize) -> String {
    let letter = e.skins.get(construction).map_or('?', |s| s.kind.letter());
    let number = order.iter().position(|c| *c == construction).map_or(0, |i| i + 1);
    format!("{letter}{number}")
}

/// Drawing and numbers.
pub(super) fn html(s: &Sheet) -> String {
    let a = s.assess();
    let (two, three) = (Show::digits(2), Show::digits(3));
    let at = |key: &str, show: Show, unit: &str| format!("{} {unit}", a.num(&format!("/layout/{key}"), show));
    let all = [
        ("half span", at("half_span_m", three, "m")),
        ("area", at("area_m2", two, "m2")),
        ("aspect ratio", at("aspect_ratio", two, "")),
        ("root chord", at("root_chord_m", three, "m")),
        ("tip chord", at("tip_chord_m", three, "m")),
        (
            "mean chord",
            format!(
                "{}, {}, {} behind the root's leading edge",
                at("mean_chord_m", three, "m"),
                at("mean_chord_y_m", three, "m out"),
                at("mean_chord_x_le_m", three, "m")
            ),
        ),
        ("wetted area", at("wetted_m2", two, "m2")),
        ("hinge line at", at("hinge_share", two, "of the chord")),
        (
            "centre of gravity of the wing",
            format!("{} m behind the root's leading edge", a.num("/weight/cg_x_m", three)),
        ),
        ("roll inertia, as drawn", format!("{} kg m2", a.num("/weight/roll_inertia_kg_m2", Show::digits(0)))),
    ];
    let all: Vec<(String, String)> = all.into_iter().map(|(what, is)| (what.to_owned(), is)).collect();
    drawing(s) + &facts(&all)
}

fn drawing(s: &Sheet) -> String {
    let (d, e) = (s.design(), s.evaluation());
    let Some(upper) = View::of(&e.layout, 0.0) else { return String::new() };
    let Some(lower) = View::of(&e.layout, upper.bottom()) else { return String::new() };
    let order = of_skins(e);
    let description = format!(
        "Plan of one half to scale, the root at the left and the nose at the top, first the upper then the lower skin: {} bays between ribs, the spar as a dark band, \
         hinge lines dash-dotted, boundaries between constructions as thick lines. {}",
        e.layout.bays.len(),
        runs_in_words(d, e, &order)
    );
    let mut svg =
        Svg::new(s.id("plan"), (WIDE, 0.0), "Half wing in plan, to scale: skins by construction", &description);
    hatch::define(&mut svg, order.len());
    for (view, is_upper, name) in [(upper, true, "upper skin"), (lower, false, "lower skin, seen through the wing")] {
        skins(&mut svg, &view, e, &order, is_upper);
        bones(&mut svg, &view, d, e, name);
        boundaries(&mut svg, &view, e, is_upper);
        care(&mut svg, &view, d, e, is_upper);
        tags(&mut svg, &view, e, &order, is_upper);
    }
    let mut y = lower.bottom() + 8.0;
    for (i, c) in order.iter().enumerate() {
        let fill = hatch::fill(&svg, i);
        svg.rect((34.0, y), (64.0, y + 15.0), &fill, 1.0, Some(ink(1.0)));
        let name = d.constructions.get(*c).map_or("", |c| c.name.as_str());
        let kind = e.skins.get(*c).map_or("", |k| k.kind.word());
        let line = format!("{}  {name} ({kind})", tag(e, &order, *c));
        svg.text((72.0, y + 12.0), Anchor::Start, 12.0, &fit(&line, WIDE - 90.0, 12.0));
        y += 20.0;
    }
    svg.text(
        (34.0, y + 12.0),
        Anchor::Start,
        11.0,
        "whole thick lines: root, joints, tip; thin dashes: closing ribs; dash-dot: hinge; heavy dashes: boundary; ring: hold; cross: rest; dots: patch",
    );
    svg.high(y + 22.0);
    svg.done("wide")
}

fn skins(svg: &mut Svg, v: &View, e: &Evaluation, order: &[usize], upper: bool) {
    for z in e.layout.zones.iter().filter(|z| z.strip.is_upper() == upper) {
        if let Some(i) = order.iter().position(|c| *c == z.construction) {
            let fill = hatch::fill(svg, i);
            svg.area(&v.corners(&e.layout, z), &fill, 1.0, None);
        }
    }
}

/// A construction's tag in the middle of each of its runs.
fn tags(svg: &mut Svg, v: &View, e: &Evaluation, order: &[usize], upper: bool) {
    for strip in Strip::ALL.into_iter().filter(|s| s.is_upper() == upper) {
        let zones: Vec<_> = e.layout.zones.iter().filter(|z| z.strip == strip).collect();
        let mut from = 0;
        while from < zones.len() {
            let same = |z: &&crate::physics::wing::layout::Zone| z.construction == zones[from].construction;
            let to = from + zones[from..].iter().take_while(|z| same(z)).count();
            // Beside the spar and off the ribs: the middle bay of the run.
            let z = zones[usize::midpoint(from, to - 1)];
            let p = v.middle(&e.layout, z);
            svg.label((p.0, p.1 + 4.5), Anchor::Middle, 13.0, &tag(e, order, z.construction));
            from = to;
        }
    }
}

fn boundaries(svg: &mut Svg, v: &View, e: &Evaluation, upper: bool) {
    // Along the span, where skins behind the spar are divided.
    let rear = |s: Strip| matches!(s, Strip::AftUpperRear | Strip::AftLowerRear);
    for z in e.layout.zones.iter().filter(|z| z.strip.is_upper() == upper && rear(z.strip)) {
        if let Some(b) = e.layout.bays.get(z.bay) {
            svg.line(v.on(&b.inner, z.chord_from), v.on(&b.outer, z.chord_from), dashed(3.0, "8 3"));
        }
    }
    for b in e.layout.boundaries.iter().filter(|b| b.strip.is_upper() == upper) {
        let near = |s: &&crate::physics::wing::layout::Station| (s.eta - b.standing_eta).abs() < 1e-6;
        let (Some(s), Some(z)) = (
            e.layout.stations().find(near),
            e.layout.zones.iter().find(|z| {
                z.strip == b.strip
                    && e.layout.bays.get(z.bay).is_some_and(|bay| (bay.outer.eta - b.standing_eta).abs() < 1e-6)
            }),
        ) else {
            continue;
        };
        let from = if matches!(b.strip, Strip::AftUpper | Strip::AftLower) { s.spar_frac } else { z.chord_from };
        let to = if b.strip.is_nose() { s.spar_frac } else { z.chord_to };
        svg.line(v.on(s, from), v.on(s, to), dashed(4.0, "8 3"));
    }
}

/// Patches, holds and rests on their skin.
fn care(svg: &mut Svg, v: &View, d: &Design, e: &Evaluation, upper: bool) {
    let half = e.layout.half_span_m;
    let place = |eta: f64, chord: f64| {
        let b = e.layout.bays.iter().find(|b| eta <= b.outer.eta + 1e-9)?;
        let w = if b.outer.eta > b.inner.eta { (eta - b.inner.eta) / (b.outer.eta - b.inner.eta) } else { 0.0 };
        let mix = |p: f64, q: f64| p + w * (q - p);
        Some(v.at(eta * half, mix(b.inner.x_le_m, b.outer.x_le_m) + chord * mix(b.inner.chord_m, b.outer.chord_m)))
    };
    for p in d.patches.iter().filter(|p| p.upper == upper) {
        let corners =
            [(p.from_eta, p.chord_from), (p.to_eta, p.chord_from), (p.to_eta, p.chord_to), (p.from_eta, p.chord_to)];
        let points: Vec<_> = corners.iter().filter_map(|(eta, c)| place(*eta, *c)).collect();
        svg.area(&points, "none", 0.0, Some(dashed(1.6, "1 3")));
    }
    for h in d.care.holds.iter().filter(|h| h.upper == upper) {
        if let Some(p) = place(h.eta, h.chord) {
            svg.dot(p, 7.0, ink(2.2), false);
            svg.dot(p, 1.8, ink(1.0), true);
        }
    }
    for r in d.care.rests.iter().filter(|_| !upper) {
        // Half of it lies on the nose, half behind: it stands on the spar.
        let spar = e.layout.bays.iter().find(|b| r.eta <= b.outer.eta + 1e-9).map_or(0.0, |b| b.mid.spar_frac);
        if let Some(p) = place(r.eta, spar) {
            svg.line((p.0 - 6.0, p.1 - 6.0), (p.0 + 6.0, p.1 + 6.0), ink(2.2));
            svg.line((p.0 - 6.0, p.1 + 6.0), (p.0 + 6.0, p.1 - 6.0), ink(2.2));
        }
    }
}

/// Which construction stands where, for who cannot see the drawing.
fn runs_in_words(d: &Design, e: &Evaluation, order: &[usize]) -> String {
    let name = |c: usize| d.constructions.get(c).map_or("", |c| c.name.as_str());
    let strips: Vec<String> = d
        .strips
        .iter()
        .filter(|s| !s.runs.is_empty())
        .map(|s| {
            let runs: Vec<String> = s
                .runs
                .iter()
                .map(|r| {
                    format!(
                        "{} ({}) to {:.2} of the half span",
                        tag(e, order, r.construction),
                        name(r.construction),
                        r.to_eta
                    )
                })
                .collect();
            format!("{}: {}", s.strip.label(), runs.join(", "))
        })
        .collect();
    strips.join("; ")
}
