//! What every zone stands under a thumb and under a hard ball: a map in plan, and the list of zones.

use super::Sheet;
use super::html::{Row, Show, esc, numbers, table, whole, words};
use super::plan::{View, WIDE, bones};
use super::planform::{of_skins, tag};
use super::svg::{Anchor, INK, Svg};
use crate::physics::durability::held::Held;
use crate::report::holds;

/// The map.
pub(super) fn map(s: &Sheet) -> String {
    let (d, e, a) = (s.design(), s.evaluation(), s.assess());
    let Some(upper) = View::of(&e.layout, 0.0) else { return String::new() };
    let Some(lower) = View::of(&e.layout, upper.bottom()) else { return String::new() };
    let loads: Vec<f64> = e.durability.zones.iter().map(|z| z.press_n).filter(|n| n.is_finite()).collect();
    let (least, most) = loads.iter().fold((f64::INFINITY, 0.0_f64), |(a, b), n| (a.min(*n), b.max(*n)));
    let description = format!(
        "Plan of one half to scale, first the upper then the lower skin; each zone carries the load in newton that first marks it under a thumb, from {least:.0} to {most:.0}; \
         the weaker the zone the darker. The same numbers, and those of zones too narrow for one, stand in the list of zones below."
    );
    let mut svg = Svg::new(
        s.id("press"),
        (WIDE, 0.0),
        "Press load of every zone, N (P5 of an 8 mm thumb pad held 10 s); ! outside the fitted range",
        &description,
    );
    for (view, is_upper, name) in [(upper, true, "upper skin"), (lower, false, "lower skin, seen through the wing")] {
        let zones = || {
            e.layout
                .zones
                .iter()
                .zip(&e.durability.zones)
                .enumerate()
                .filter(|(_, (z, _))| z.strip.is_upper() == is_upper)
        };
        for (_, (z, r)) in zones() {
            // Between the least and the most, by the logarithm.
            let weak = if most > least && r.press_n > 0.0 {
                (most / r.press_n).ln() / (most / least.max(1e-9)).ln()
            } else {
                0.0
            };
            svg.area(&view.corners(&e.layout, z), INK, 0.04 + 0.36 * weak.clamp(0.0, 1.0), None);
        }
        bones(&mut svg, &view, d, e, name);
        for (i, (z, r)) in zones() {
            let corners = view.corners(&e.layout, z);
            let wide = corners.get(1).map_or(0.0, |p| p.0) - corners.first().map_or(0.0, |p| p.0);
            let p = view.middle(&e.layout, z);
            let mark = if r.press_extrapolated { "!" } else { "" };
            if wide >= 24.0 {
                svg.number(
                    ((p.0, p.1 + 4.0), Anchor::Middle, 11.5),
                    a,
                    &format!("/durability/zones/{i}/press_n"),
                    Show::digits(0),
                    mark,
                );
            }
        }
    }
    svg.high(lower.bottom() + 4.0);
    svg.done("wide")
}

/// The list.
pub(super) fn zones(s: &Sheet) -> String {
    let (e, a) = (s.evaluation(), s.assess());
    let (order, held) = (of_skins(e), Held::of(s.design(), e));
    let rows: Vec<Row> = e
        .layout
        .zones
        .iter()
        .zip(&e.durability.zones)
        .enumerate()
        .map(|(i, (z, r))| {
            let at = |field: &str| format!("/durability/zones/{i}/{field}");
            let mark = |on: bool| if on { "!" } else { "" };
            vec![
                whole(&format!("{} bay {}", esc(z.strip.label()), a.num(&at("bay"), Show::digits(0)))),
                tag(e, &order, z.construction),
                a.num(&at("area_m2"), Show::digits(3)),
                a.num(&at("press_n"), Show::digits(0)) + mark(r.press_extrapolated),
                whole(&a.word(&at("press_kind"))),
                a.num(&at("ball_n"), Show::digits(0)) + mark(r.ball_extrapolated),
                whole(&a.word(&at("ball_kind"))),
                a.num(&at("repair_h_per_100"), Show::digits(2)),
                esc(holds::word(held.may.get(i).copied().unwrap_or_default())),
            ]
            .into()
        })
        .collect();
    let columns = [
        words("zone"),
        words("skin"),
        numbers("m2"),
        numbers("press, N"),
        words("does first"),
        numbers("ball, N"),
        words("does first"),
        numbers("repair, h"),
        words("hands"),
    ];
    table(
        "Every zone of a half, skins by their tags in the planform: press load of a thumb, load of a 10 mm hard ball, repair hours per 100 outings; ! outside the range the form was fitted in",
        &columns,
        &rows,
    )
}
