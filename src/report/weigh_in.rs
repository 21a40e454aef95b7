//! The scales in words: what was weighed against what was promised, the forecast, stop-weights, where weight can be won back.

use std::fmt::Write as _;

use serde_json::{Value, json};

use crate::physics::design::Design;
use crate::physics::evaluation::Evaluation;
use crate::physics::mass::tally::Weight;
use crate::physics::mass::weighed::{Half, OnScales};
use crate::physics::workshop::forecast::{Forecast, Row};
use crate::physics::workshop::win_back::Saving;
use crate::report::text::against_target;

/// How to lay a part on the scales.
pub const HOW: &str = "Weigh parts cured, trimmed and dry, the scale zeroed, nothing of the mould or the bag on them. A weighed wing is no approval to fly.";

fn grams(kg: f64) -> String {
    format!("{:.0} g", 1e3 * kg)
}

/// More or less than was promised, in grams with its sign.
fn against(kg: f64, promised_kg: f64) -> String {
    format!("{:+.0} g", 1e3 * (kg - promised_kg))
}

/// Where the weighing stands, a line each.
pub fn head(design: &Design, e: &Evaluation, f: &Forecast) -> Vec<String> {
    let chance = |w: &Weight| w.chance_of_target.map(|c| format!("{:.0} %", 100.0 * c));
    let band = |w: &Weight| format!("{:.2} kg (P10 {:.2}, P90 {:.2})", w.expected_kg, w.p10_kg, w.p90_kg);
    let made: Vec<&OnScales> = f.on_scales.iter().filter(|s| s.drawn_kg > 0.0).collect();
    let promised: f64 = made.iter().map(|s| s.expected_kg * if s.half.is_some() { 0.5 } else { 1.0 }).sum();
    let mut out = vec![if made.is_empty() {
        "nothing is weighed yet".to_owned()
    } else {
        let over = against(f.made_kg.0, promised);
        format!("on the scales {:.2} kg, promised {promised:.2}: {over}", f.made_kg.0)
    }];
    out.push(format!("still to come {:.2} kg, give or take {:.2}", f.to_come_kg.0, f.to_come_kg.1));
    out.push(format!("forecast {}", band(&f.now)));
    if !made.is_empty() {
        out.push(format!("promised {}", band(&f.promised)));
    }
    out.push(format!("P{:.0}: {}", 100.0 * design.targets.budget_percentile, against_target(design, e)));
    if let (Some(before), false) = (chance(&f.promised), made.is_empty()) {
        out.push(format!("chance before weighing {before}"));
    }
    match f.left_kg {
        Some(left) if left > 0.0 => out.push(format!("the target leaves {left:.2} kg for the parts to come")),
        Some(left) => out.push(format!("what is made is past the target by {:.2} kg", -left)),
        None => {}
    }
    for s in made.iter().filter(|s| s.is_far()) {
        out.push(format!(
            "{} is far from its estimate ({} for {}): grams? both halves? It teaches nothing",
            s.piece.words(),
            grams(s.kg),
            grams(s.expected_kg)
        ));
    }
    for s in f.on_scales.iter().filter(|s| s.drawn_kg <= 0.0) {
        out.push(format!("\"{}\" was weighed and is not in this wing", s.piece.words()));
    }
    for (s, over) in made.iter().filter_map(|s| Some((s, s.left_over_kg.filter(|kg| kg.abs() > 5e-4)?))) {
        let (heavier, by) = if over > 0.0 { ("left", over) } else { ("right", -over) };
        out.push(format!("{}: the {heavier} half is {} heavier", s.piece.words(), grams(by)));
    }
    out
}

/// What the columns are.
pub const COLUMNS: &str = "part, both halves                     promised  expected   stop at";

/// A part of the list: promised, expected, and its stop-weight or what the scales said.
pub fn row(r: &Row) -> String {
    let name: String = r.piece.words().chars().take(36).collect();
    let over = against(r.expected_kg, r.promised_kg);
    let stop = r.stop_kg.map_or("no target".to_owned(), grams);
    let last = match (r.made, r.half) {
        (true, _) => format!("  weighed, {over}"),
        (false, Some(Half::Left)) => format!("{stop:>9}, right half"),
        (false, Some(_)) => format!("{stop:>9}, left half"),
        (false, None) => format!("{stop:>9}"),
    };
    format!("{name:<36} {:>9} {:>9} {last}", grams(r.promised_kg), grams(r.expected_kg))
}

/// A change that wins weight back.
pub fn saving(s: &Saving) -> String {
    let rf = s.least_rf.map_or(String::new(), |rf| format!(", least margin {:+.2}", rf - 1.0));
    format!("-{:.0} g, index {:+.1}, {}{rf}: {}", 1e3 * s.saves_kg, s.index, s.verdict.word(), s.title)
}

/// The wing as it is, and every change that wins weight back.
pub fn won(e: &Evaluation, savings: &[Saving]) -> Vec<String> {
    let least = e
        .strength
        .least
        .and_then(|i| e.margins.get(i))
        .map_or(String::new(), |m| format!(", least margin {:+.2}", m.rf - 1.0));
    let now = format!("as it is: index {:.1}, {}{least}", e.durability.index, e.strength.verdict.word());
    std::iter::once(now).chain(savings.iter().map(saving)).collect()
}

/// The sheet.
pub fn text(design: &Design, e: &Evaluation, f: &Forecast, savings: &[Saving]) -> String {
    let mut out = format!("ON THE SCALES: {}\n", design.name);
    for line in head(design, e, f) {
        let _ = writeln!(out, "{line}");
    }
    let _ = writeln!(out, "\n{COLUMNS}");
    for r in &f.rows {
        let _ = writeln!(out, "{}", row(r));
    }
    let _ = writeln!(out, "\nwhere weight can be won back, of what is still to be made, one change at a time:");
    for line in won(e, savings) {
        let _ = writeln!(out, "  {line}");
    }
    if savings.is_empty() {
        out.push_str("  no single change tried makes it lighter\n");
    }
    let _ = writeln!(out, "\n{HOW}");
    out.lines().map(super::holds::broken).collect()
}

fn sums(w: &Weight) -> Value {
    json!({
        "as_drawn": w.drawn_kg, "expected": w.expected_kg, "p10": w.p10_kg, "p90": w.p90_kg, "budget": w.budget_kg,
        "chance": w.chance_of_target,
    })
}

/// For other programs.
pub fn json(design: &Design, f: &Forecast, savings: &[Saving]) -> Value {
    let weighed: Vec<Value> = f
        .on_scales
        .iter()
        .map(|s| {
            json!({
                "of": s.piece.words(), "kg": s.kg, "sd_kg": s.sd_kg, "promised_kg": s.expected_kg, "drawn_kg": s.drawn_kg,
                "left_over_kg": s.left_over_kg, "half": s.half.map(Half::key), "in_this_wing": s.drawn_kg > 0.0,
                "far_from_estimate": s.is_far(),
            })
        })
        .collect();
    let parts: Vec<Value> = f
        .rows
        .iter()
        .map(|r| {
            json!({
                "of": r.piece.words(), "promised_kg": r.promised_kg, "expected_kg": r.expected_kg, "sd_kg": r.sd_kg,
                "weighed": r.made, "half_weighed": r.half.map(Half::key), "stop_kg": r.stop_kg,
            })
        })
        .collect();
    let won: Vec<Value> = savings
        .iter()
        .map(|s| {
            json!({
                "change": s.title, "saves_kg": s.saves_kg, "index": s.index, "verdict": s.verdict.word(),
                "least_rf": s.least_rf,
            })
        })
        .collect();
    json!({
        "scenario": design.name, "weighed": weighed, "made_kg": f.made_kg.0, "to_come_kg": f.to_come_kg.0,
        "to_come_sd_kg": f.to_come_kg.1, "left_kg": f.left_kg, "promised_kg": sums(&f.promised), "forecast_kg": sums(&f.now),
        "parts": parts, "win_back": won,
    })
}
