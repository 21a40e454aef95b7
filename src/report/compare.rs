//! Scenarios side by side: inputs that differ, scores, durability by event, and how sure the order is.

use std::fmt::Write as _;

use serde_json::{Value, json};

use crate::physics::assumptions::Assumptions;
use crate::physics::design::Design;
use crate::physics::evaluation::{Evaluation, evaluate};
use crate::scenario::dials::dials;

/// One scenario of a comparison.
pub struct Side {
    pub name: String,
    pub design: Design,
    pub evaluation: Evaluation,
}

/// Draws behind a sureness.
pub const DRAWS: u64 = 200;

/// How sure it is that each side beats the first in durability and in weight: shares of paired draws.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sureness {
    pub more_durable: f64,
    pub lighter: f64,
}

/// Below this share an order is "too close to call".
pub const SURE: f64 = 0.8;

/// Sureness of every side against the first, under the same draws.
pub fn sureness(sides: &[Side]) -> Vec<Sureness> {
    let mut wins = vec![(0.0, 0.0); sides.len()];
    for seed in 0..DRAWS {
        let draw = Assumptions::draw(seed);
        let each: Vec<(f64, f64)> = sides
            .iter()
            .map(|s| {
                let e = evaluate(&s.design, &draw);
                (e.durability.repair_h, e.weight.expected_kg)
            })
            .collect();
        let Some(first) = each.first().copied() else { return Vec::new() };
        for (w, e) in wins.iter_mut().zip(&each) {
            w.0 += half(e.0, first.0);
            w.1 += half(e.1, first.1);
        }
    }
    let n = DRAWS as f64;
    wins.into_iter().map(|(d, l)| Sureness { more_durable: d / n, lighter: l / n }).collect()
}

fn half(mine: f64, first: f64) -> f64 {
    if mine < first {
        1.0
    } else if mine > first {
        0.0
    } else {
        0.5
    }
}

/// "more durable, 93 % sure" or "too close to call".
pub fn words(share: f64, better: &str, worse: &str) -> String {
    let (sure, word) = if share >= 0.5 { (share, better) } else { (1.0 - share, worse) };
    if sure < SURE {
        format!("too close to call ({:.0} %)", sure * 100.0)
    } else {
        format!("{word}, {:.0} % sure", sure * 100.0)
    }
}

/// One row: label, and a cell for each side.
pub type Row = (String, Vec<String>);

/// Inputs that differ, as a person reads them.
pub fn inputs_that_differ(sides: &[Side]) -> Vec<Row> {
    let tables: Vec<_> = sides.iter().map(|s| dials(&s.design)).collect();
    let mut keys: Vec<(&str, String)> = Vec::new();
    for d in tables.iter().flatten() {
        if !keys.iter().any(|(k, _)| *k == d.key) {
            keys.push((&d.key, format!("{} {}", d.label, d.unit).trim_end().to_owned()));
        }
    }
    keys.iter()
        .map(|(key, label)| {
            let cells: Vec<String> = tables
                .iter()
                .zip(sides)
                .map(|(t, s)| t.iter().find(|d| d.key == *key).map_or_else(|| "-".to_owned(), |d| d.shown(&s.design)))
                .collect();
            (label.clone(), cells)
        })
        .filter(|(_, cells)| cells.iter().any(|c| *c != cells[0]))
        .collect()
}

/// The scores, one row each.
pub fn scores(sides: &[Side]) -> Vec<Row> {
    type Get = fn(&Side) -> String;
    let rows: [(&str, Get); 16] = [
        ("weight as drawn, kg", |s| format!("{:.1}", s.evaluation.weight.drawn_kg)),
        ("weight expected, kg", |s| format!("{:.1}", s.evaluation.weight.expected_kg)),
        ("weight budget, kg", |s| format!("{:.1}", s.evaluation.weight.budget_kg)),
        ("durability index", |s| {
            let d = &s.evaluation.durability;
            format!("{:.0} ({:.0}-{:.0})", d.index, d.index_p10, d.index_p90)
        }),
        ("repair, h per 100 outings", |s| format!("{:.1}", s.evaluation.durability.repair_h)),
        ("outings lost per 100", |s| format!("{:.1}", s.evaluation.durability.outings_lost)),
        ("unseen damage per 100", |s| format!("{:.2}", s.evaluation.durability.unseen)),
        ("least press, N", |s| format!("{:.0}", s.evaluation.durability.least_press.value_n)),
        ("least ball, N", |s| format!("{:.0}", s.evaluation.durability.least_ball.value_n)),
        ("verdict", |s| s.evaluation.strength.verdict.word().to_owned()),
        ("least margin", |s| {
            let e = &s.evaluation;
            e.strength.least.and_then(|i| e.margins.get(i)).map_or_else(
                || "none".to_owned(),
                |m| format!("{:+.2} {}", m.rf - 1.0, super::text::mode_title(m.mode)),
            )
        }),
        ("stall, km/h", |s| format!("{:.1}", s.evaluation.flight.stall_m_s * 3.6)),
        ("least sink, m/s", |s| format!("{:.2}", s.evaluation.flight.least_sink_m_s.likely)),
        ("best glide", |s| format!("{:.1}", s.evaluation.flight.best_glide.likely)),
        ("hours to build", |s| format!("{:.0}", s.evaluation.work.hours)),
        ("cost", |s| format!("{:.0} {}", s.evaluation.work.cost, s.design.rates.currency)),
    ];
    rows.iter().map(|(label, get)| ((*label).to_owned(), sides.iter().map(get).collect())).collect()
}

/// Repair hours by event, the greatest first; events that cost nobody anything are left out.
pub fn events(sides: &[Side]) -> Vec<Row> {
    let mut titles: Vec<&str> = Vec::new();
    for v in sides.iter().flat_map(|s| &s.evaluation.durability.events) {
        if !titles.contains(&v.title) {
            titles.push(v.title);
        }
    }
    let hours =
        |s: &Side, t: &str| s.evaluation.durability.events.iter().find(|v| v.title == t).map_or(0.0, |v| v.repair_h);
    let mut rows: Vec<(f64, Row)> = titles
        .iter()
        .map(|t| {
            let each: Vec<f64> = sides.iter().map(|s| hours(s, t)).collect();
            let most = each.iter().fold(0.0, |a: f64, b| a.max(*b));
            (most, ((*t).to_owned(), each.iter().map(|h| format!("{h:.2}")).collect()))
        })
        .filter(|(most, _)| *most >= 0.005)
        .collect();
    rows.sort_by(|a, b| b.0.total_cmp(&a.0));
    rows.into_iter().map(|(_, r)| r).collect()
}

/// The whole comparison in plain columns.
pub fn text(sides: &[Side]) -> String {
    let sure = sureness(sides);
    let mut out = String::new();
    table(&mut out, "", &[(String::new(), sides.iter().map(|s| s.name.clone()).collect())]);
    table(&mut out, "inputs that differ", &inputs_that_differ(sides));
    table(&mut out, "scores", &scores(sides));
    let against: Vec<Row> = vec![
        ("durability".to_owned(), against_first(&sure, |s| words(s.more_durable, "more durable", "less durable"))),
        ("weight".to_owned(), against_first(&sure, |s| words(s.lighter, "lighter", "heavier"))),
    ];
    table(&mut out, "against the first, the same 200 draws for all", &against);
    table(&mut out, "repair hours per 100 outings by event", &events(sides));
    let _ = writeln!(out, "\n{}", super::CAUTIONS);
    out
}

fn against_first(sure: &[Sureness], word: impl Fn(&Sureness) -> String) -> Vec<String> {
    sure.iter().enumerate().map(|(i, s)| if i == 0 { "-".to_owned() } else { word(s) }).collect()
}

fn table(out: &mut String, title: &str, rows: &[Row]) {
    if !title.is_empty() {
        let _ = writeln!(out, "\n{title}");
    }
    if rows.is_empty() {
        let _ = writeln!(out, "  none");
    }
    for (label, cells) in rows {
        let mut line = format!("  {label:<38}");
        for cell in cells {
            let short: String = cell.chars().take(25).collect();
            let _ = write!(line, " {short:>25}");
        }
        let _ = writeln!(out, "{}", line.trim_end());
    }
}

/// The whole comparison as JSON.
pub fn json(sides: &[Side]) -> Value {
    let sure = sureness(sides);
    let rows =
        |r: Vec<Row>| r.into_iter().map(|(label, cells)| json!({"label": label, "values": cells})).collect::<Vec<_>>();
    let scenarios: Vec<Value> = sides
        .iter()
        .zip(&sure)
        .map(|(s, u)| {
            json!({
                "name": s.name, "scores": super::json::scores(&s.design, &s.evaluation),
                "against_first": { "share_more_durable": u.more_durable, "share_lighter": u.lighter, "draws": DRAWS },
            })
        })
        .collect();
    json!({
        "format": 1, "scenarios": scenarios, "inputs_that_differ": rows(inputs_that_differ(sides)),
        "repair_h_by_event": rows(events(sides)),
    })
}
