//! Scenarios side by side: inputs that differ, scores, durability by event, and how sure the order is.

use std::fmt::Write as _;

use serde_json::{Value, json};

use crate::physics::assumptions::LIST;
use crate::physics::design::Design;
use crate::physics::durability::held::Held;
use crate::physics::evaluation::Evaluation;
use crate::report::sureness::{self, Against, DRAWS, Drawn, Ranked, Turns, turn_words, words};
use crate::scenario::dials::dials;

/// One scenario of a comparison.
pub struct Side {
    pub name: String,
    pub design: Design,
    pub evaluation: Evaluation,
}

/// Every side under the same draws; the first stands for itself.
fn drawn(sides: &[Side]) -> Vec<Drawn> {
    sides.iter().filter_map(|s| Drawn::of(&s.design, &|| false)).collect()
}

/// Assumptions shown of those that an order rests on, and the least share of the gap that counts.
const SHOWN: usize = 10;
const LEAST_SHARE: f64 = 0.02;

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
pub fn scores<S: std::borrow::Borrow<Side>>(sides: &[S]) -> Vec<Row> {
    type Get = fn(&Side) -> String;
    let rows: [(&str, Get); 18] = [
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
        ("may be pressed, % of the surface", |s| format!("{:.0}", 100.0 * s.evaluation.durability.press_safe_share)),
        ("may be held, % of the surface", |s| format!("{:.0}", 100.0 * Held::of(&s.design, &s.evaluation).share)),
        ("verdict", |s| s.evaluation.strength.verdict.word().to_owned()),
        ("least margin", |s| {
            let e = &s.evaluation;
            e.strength.least.and_then(|i| e.margins.get(i)).map_or_else(
                || "none".to_owned(),
                |m| format!("{:+.2} {}", m.rf - 1.0, super::text::margin_title(&s.design, m)),
            )
        }),
        ("stall, km/h", |s| format!("{:.1}", s.evaluation.flight.stall_m_s * 3.6)),
        ("least sink, m/s", |s| format!("{:.2}", s.evaluation.flight.least_sink_m_s.likely)),
        ("best glide", |s| format!("{:.1}", s.evaluation.flight.best_glide.likely)),
        ("hours to build", |s| format!("{:.0}", s.evaluation.work.hours)),
        ("cost", |s| format!("{:.0} {}", s.evaluation.work.cost, s.design.rates.currency)),
    ];
    rows.iter().map(|(label, get)| ((*label).to_owned(), sides.iter().map(|s| get(s.borrow())).collect())).collect()
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

/// What each order of durability rests on, a row for each assumption: the one that could turn any of the orders furthest first.
pub fn rests_on(against: &[Against]) -> Vec<Row> {
    let of = |a: &Against, i: usize| a.durability_on.iter().find(|t| t.assumption == i).copied();
    let most = |i: usize| against.iter().filter_map(|a| of(a, i)).map(|t| t.gap_taken).fold(0.0, f64::max);
    let mut rows: Vec<(f64, usize)> = (0..LIST.len()).map(|i| (most(i), i)).filter(|r| r.0 >= LEAST_SHARE).collect();
    rows.sort_by(|a, b| b.0.total_cmp(&a.0));
    rows.iter()
        .take(SHOWN)
        .map(|(_, i)| {
            let cell = |a: &Against| of(a, *i).map_or_else(|| "-".to_owned(), |t| turn_words(&t));
            (
                LIST[*i].title.to_owned(),
                std::iter::once("-".to_owned()).chain(against.iter().skip(1).map(cell)).collect(),
            )
        })
        .collect()
}

/// The whole comparison in plain columns.
pub fn text(sides: &[Side]) -> String {
    let drawn = drawn(sides);
    let Some(first) = drawn.first() else { return String::new() };
    let sure: Vec<Against> = drawn.iter().map(|d| sureness::against(first, d)).collect();
    let mut out = String::new();
    table(&mut out, "", &[(String::new(), sides.iter().map(|s| s.name.clone()).collect())]);
    table(&mut out, "inputs that differ", &inputs_that_differ(sides));
    table(&mut out, "scores", &scores(sides));
    let against: Vec<Row> = vec![
        ("durability".to_owned(), against_first(&sure, |s| words(s.more_durable, "more durable", "less durable"))),
        ("weight".to_owned(), against_first(&sure, |s| words(s.lighter, "lighter", "heavier"))),
    ];
    let _ = write!(out, "\nagainst the first, the same {DRAWS} draws of all assumptions for all");
    table(&mut out, "", &against);
    let _ = writeln!(out, "\nin order, the most durable first");
    for (place, (side, sure)) in sureness::order(&drawn, Ranked::RepairHours).into_iter().enumerate() {
        let Some(s) = sides.get(side) else { continue };
        let above = sure
            .map_or_else(String::new, |p| format!(", against the next: {}", words(p, "more durable", "less durable")));
        let _ = writeln!(out, "  {}. {} ({:.1} h){above}", place + 1, s.name, s.evaluation.durability.repair_h);
    }
    table(&mut out, "repair hours per 100 outings by event", &events(sides));
    table(
        &mut out,
        "what the order against the first rests on: each assumption alone, at its P5 or P95, whichever is worse",
        &rests_on(&sure),
    );
    let _ = writeln!(
        out,
        "  \"turns it alone\": with that one otherwise than thought, and all else as thought, the order is the other way."
    );
    let _ = writeln!(out, "\n{}", super::CAUTIONS);
    out
}

fn against_first(sure: &[Against], word: impl Fn(&Against) -> String) -> Vec<String> {
    sure.iter().enumerate().map(|(i, s)| if i == 0 { "-".to_owned() } else { word(s) }).collect()
}

fn table(out: &mut String, title: &str, rows: &[Row]) {
    if !title.is_empty() {
        let _ = write!(out, "\n{title}");
    }
    let _ = writeln!(out);
    if rows.is_empty() {
        let _ = writeln!(out, "  none");
    }
    let widest = rows.iter().map(|(label, _)| label.chars().count()).fold(LABEL, usize::max);
    for (label, cells) in rows {
        let columns: Vec<Vec<String>> = cells.iter().map(|c| wrapped(c)).collect();
        for k in 0..columns.iter().map(Vec::len).max().unwrap_or(0).max(1) {
            let mut line = format!("  {:<widest$}", if k == 0 { label } else { "" });
            for column in &columns {
                let _ = write!(line, " {:>COLUMN$}", column.get(k).map_or("", String::as_str));
            }
            let _ = writeln!(out, "{}", line.trim_end());
        }
    }
}

/// Width of the column of a scenario: two of them and the labels fit a terminal of 80 columns.
const COLUMN: usize = 21;
/// Least width of the labels.
const LABEL: usize = 30;

/// Words of a cell in lines that fit its column; a single word that is longer is cut into pieces.
fn wrapped(cell: &str) -> Vec<String> {
    let (mut lines, mut line) = (Vec::new(), String::new());
    for word in cell.split_whitespace() {
        let mut rest: Vec<char> = word.chars().collect();
        let used = line.chars().count();
        if used > 0 && used + 1 + rest.len() > COLUMN {
            lines.push(std::mem::take(&mut line));
        } else if used > 0 {
            line.push(' ');
        }
        while rest.len() > COLUMN {
            lines.push(rest.drain(..COLUMN).collect());
        }
        line.extend(rest);
    }
    lines.push(line);
    lines
}

/// The whole comparison as JSON.
pub fn json(sides: &[Side]) -> Value {
    let drawn = drawn(sides);
    let rows =
        |r: Vec<Row>| r.into_iter().map(|(label, cells)| json!({"label": label, "values": cells})).collect::<Vec<_>>();
    let scenarios: Vec<Value> = sides
        .iter()
        .zip(&drawn)
        .map(|(s, d)| {
            let a = drawn.first().map(|first| sureness::against(first, d));
            json!({
                "name": s.name, "scores": super::json::scores(&s.design, &s.evaluation),
                "against_first": a.as_ref().map(|a| json!({
                    "draws": DRAWS, "share_more_durable": a.more_durable, "share_lighter": a.lighter,
                    "durability_order": words(a.more_durable, "more durable", "less durable"),
                    "weight_order": words(a.lighter, "lighter", "heavier"),
                    "durability_rests_on": turns(&a.durability_on), "weight_rests_on": turns(&a.weight_on),
                })),
            })
        })
        .collect();
    let order: Vec<Value> = sureness::order(&drawn, Ranked::RepairHours)
        .into_iter()
        .filter_map(|(side, sure)| {
            sides.get(side).map(|s| json!({"name": s.name, "share_more_durable_than_the_next": sure}))
        })
        .collect();
    json!({
        "format": 1, "scenarios": scenarios, "inputs_that_differ": rows(inputs_that_differ(sides)),
        "repair_h_by_event": rows(events(sides)), "order_of_durability": order,
    })
}

fn turns(on: &[Turns]) -> Vec<Value> {
    on.iter()
        .map(|t| {
            json!({
                "key": LIST[t.assumption].key, "title": LIST[t.assumption].title, "source": LIST[t.assumption].source,
                "gap_taken": t.gap_taken, "at_factor": t.at_factor, "turns_it_alone": t.alone(),
            })
        })
        .collect()
}
