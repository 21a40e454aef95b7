//! Loads along the half span: shear, moment, torsion, deflection and twist of the cases that reach furthest, all others in the
//! ground; the lift; the list of cases.

use super::Sheet;
use super::html::{Doc, FOUR, Row, Show, numbers, table, words};
use super::plot::{self, Line, Look, Path, Plot};

/// A quantity along the span: field in JSON, factor, words.
struct Quantity {
    field: &'static str,
    times: f64,
    axis: &'static str,
    title: &'static str,
}

const QUANTITIES: [Quantity; 5] = [
    Quantity { field: "shear_n", times: 1e-3, axis: "shear, kN", title: "Shear at limit load" },
    Quantity { field: "moment_nm", times: 1e-3, axis: "moment, kN m", title: "Bending moment at limit load" },
    Quantity { field: "torque_nm", times: 1e-3, axis: "torsion about the spar, kN m", title: "Torsion at limit load" },
    Quantity { field: "deflection_m", times: 1.0, axis: "deflection, m", title: "Deflection at limit load" },
    Quantity {
        field: "twist_rad",
        times: 180.0 / std::f64::consts::PI,
        axis: "twist, degrees",
        title: "Twist at limit load, nose-up positive",
    },
];

/// Plots and list.
pub(super) fn html(s: &Sheet) -> String {
    let a = s.assess();
    let mut out = format!(
        "<p>Limit loads of one half, {}. In each plot the cases that reach furthest on either side anywhere along the span are named; all others stand as thin dots \
         behind them. Formula and method: {}.</p>\n<div class=\"plots\">\n",
        if a.len("/loads/cases") == 0 { "of which there are none: no case is on" } else { "by station from the root" },
        s.cite("method", "loads_along_the_spar")
    );
    for q in &QUANTITIES {
        out.push_str(&along(s, &a, q));
    }
    out.push_str(&lift(s, &a));
    out.push_str("</div>\n");
    out + &cases(s, &a)
}

/// The cases whose line reaches furthest up and furthest down.
fn furthest(a: &Doc, field: &str) -> Vec<usize> {
    let reach = |i: usize, sign: f64| {
        let all = plot::numbers(a, &format!("/loads/cases/{i}/{field}"));
        all.into_iter().filter(|v| v.is_finite()).map(|v| sign * v).fold(0.0, f64::max)
    };
    let n = a.len("/loads/cases");
    let mut out: Vec<usize> = Vec::new();
    for sign in [1.0, -1.0] {
        let most = (0..n).max_by(|i, j| reach(*i, sign).total_cmp(&reach(*j, sign)));
        out.extend(most.filter(|i| reach(*i, sign) > 0.0 && !out.contains(i)));
        // The one that comes next, where it is of another kind of case.
        let first = |i: usize| a.str(&format!("/loads/cases/{i}/key")).split('_').next().unwrap_or("").to_owned();
        let kinds: Vec<String> = out.iter().map(|i| first(*i)).collect();
        let next =
            (0..n).filter(|i| !kinds.contains(&first(*i))).max_by(|i, j| reach(*i, sign).total_cmp(&reach(*j, sign)));
        let largest = out.iter().map(|i| reach(*i, sign)).fold(0.0, f64::max);
        out.extend(next.filter(|i| reach(*i, sign) > 0.3 * largest && !out.contains(i)));
    }
    out
}

fn along(s: &Sheet, a: &Doc, q: &Quantity) -> String {
    let named = furthest(a, q.field);
    let stations = || Path { at: "/loads/stations_m".to_owned(), times: 1.0 };
    let line = |i: usize, look: Look| {
        let y = Path { at: format!("/loads/cases/{i}/{}", q.field), times: q.times };
        Line::of(a, a.str(&format!("/loads/cases/{i}/title")).to_owned(), look, (stations(), y))
    };
    let ground = (0..a.len("/loads/cases")).filter(|i| !named.contains(i)).map(|i| line(i, Look::Ground));
    let told: Vec<String> = named
        .iter()
        .map(|i| {
            let v = plot::numbers(a, &format!("/loads/cases/{i}/{}", q.field));
            let at = |v: Option<&f64>| v.map_or_else(|| "not shown".to_owned(), |v| FOUR.times(q.times).print(*v));
            format!(
                "{}: {} at the root, {} at the tip",
                a.str(&format!("/loads/cases/{i}/title")),
                at(v.first()),
                at(v.last())
            )
        })
        .collect();
    let lines: Vec<Line> = ground.chain(named.iter().map(|i| line(*i, Look::Named))).collect();
    Plot {
        id: s.id(q.field),
        title: q.title.to_owned(),
        description: format!("{} against metres from the root. {}.", q.axis, told.join("; ")),
        x: "from the root, m",
        y: q.axis,
        lines,
        zero: true,
        down: false,
        ends: None,
    }
    .html()
}

/// Additional and basic lift, and what sections carry when the first reaches its limit.
fn lift(s: &Sheet, a: &Doc) -> String {
    let y = || Path { at: "/loads/lift/y_m".to_owned(), times: 1.0 };
    let of = |name: &str, field: &str| {
        Line::of(a, name.to_owned(), Look::Named, (y(), Path { at: format!("/loads/lift/{field}"), times: 1.0 }))
    };
    let parts = Plot {
        id: s.id("lift"),
        title: "Lift over the half span: coefficient times chord".to_owned(),
        description: "Additional lift at a lift coefficient of 1 and basic lift of twist and camber at 0, in metres, against metres from the root; any case is a sum of \
                      these, of controls and of what bending changes."
            .to_owned(),
        x: "from the root, m",
        y: "cl times chord, m",
        lines: vec![of("additional, at CL 1", "additional_m"), of("basic, at CL 0", "basic_m"), of("chord", "chord_m")],
        zero: true,
        down: false,
        ends: None,
    }
    .html();
    let cl = a.get("/loads/lift/cl_max").unwrap_or(0.0);
    let list = |field: &str| plot::numbers(a, &format!("/loads/lift/{field}"));
    let (ys, add, basic, chord) = (list("y_m"), list("additional_m"), list("basic_m"), list("chord_m"));
    let local = (0..ys.len().min(add.len()).min(basic.len()).min(chord.len()))
        .map(|i| (ys[i], (cl * add[i] + basic[i]) / chord[i]));
    let local =
        Line { name: format!("section, wing at CL {cl:.2}"), points: local.collect(), look: Look::Named, from: None };
    let stalls = Plot {
        id: s.id("stall"),
        title: "Lift coefficient of the sections when the first reaches its limit".to_owned(),
        description: format!(
            "Local lift coefficient with the wing at {cl:.2}, and the limit of the sections; they meet {:.2} of the half span out.",
            a.get("/loads/lift/cl_max_at").unwrap_or(0.0)
        ),
        x: "from the root, m",
        y: "cl",
        lines: vec![local, of("limit of the section", "section_cl_max")],
        zero: true,
        down: false,
        ends: None,
    }
    .html();
    parts + &stalls
}

/// Every case that is on.
fn cases(s: &Sheet, a: &Doc) -> String {
    let rows: Vec<Row> = (0..a.len("/loads/cases"))
        .map(|i| {
            let at = |field: &str| format!("/loads/cases/{i}/{field}");
            let root = |field: &str| a.num(&at(&format!("{field}/0")), Show::digits(2).times(1e-3).signed());
            vec![
                a.word(&at("title")),
                s.cite("case", a.str(&at("key"))),
                a.num(&at("n"), Show::digits(2).signed()),
                a.num(&at("speed_m_s"), Show::digits(1)),
                a.num(&at("pilot_kg"), Show::digits(0)),
                root("shear_n"),
                root("moment_nm"),
                root("torque_nm"),
                a.num_or(&at("relief_root_nm"), Show::digits(2).times(1e-3).signed(), "held elsewhere"),
            ]
            .into()
        })
        .collect();
    let columns = [
        words("case"),
        words("key"),
        numbers("load factor"),
        numbers("air, m/s"),
        numbers("pilot, kg"),
        numbers("shear, kN"),
        numbers("moment, kN m"),
        numbers("torsion, kN m"),
        numbers("relief, kN m"),
    ];
    table(
        "Load cases: load factor, airspeed, and limit loads of one half at the root; relief is what the mass of the wing takes off the moment",
        &columns,
        &rows,
    )
}
