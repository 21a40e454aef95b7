//! How many torsion plies the nose came to, in words and as JSON.

use serde_json::{Value, json};

use crate::physics::design::{Design, Strip};
use crate::physics::evaluation::Evaluation;
use crate::physics::strength::nose_steps;

const NOSE: [(Strip, &str); 2] = [(Strip::NoseUpper, "upper"), (Strip::NoseLower, "lower")];

/// One line, root to tip, with names from the scenario; None where the design names no steps.
pub fn words(design: &Design, e: &Evaluation) -> Option<String> {
    if design.nose_steps.is_empty() {
        return None;
    }
    let of = |(strip, word): (Strip, &str)| {
        let runs = nose_steps::found(design, &e.layout, strip).into_iter().map(|(from, to, step)| {
            let name = step
                .and_then(|s| design.constructions.get(design.nose_steps[s]))
                .map_or("as drawn", |c| c.key.as_str());
            if from == to { format!("bay {} {name}", from + 1) } else { format!("bays {}-{} {name}", from + 1, to + 1) }
        });
        format!("{word} {}", runs.collect::<Vec<_>>().join(", "))
    };
    Some(format!("nose torsion plies root to tip: {}", NOSE.map(of).join(" | ")))
}

/// The step a station stands on above and below, of how many.
pub fn at(design: &Design, e: &Evaluation, bay: usize) -> Option<String> {
    let of = |(strip, _): (Strip, &str)| {
        let runs = nose_steps::found(design, &e.layout, strip);
        let step = runs.into_iter().find(|r| (r.0..=r.1).contains(&bay)).and_then(|r| r.2);
        step.map_or("none".to_owned(), |s| (s + 1).to_string())
    };
    let [up, low] = NOSE.map(of);
    let all = design.nose_steps.len();
    (all > 0).then(|| format!("nose step {up} up, {low} low of {all}"))
}

/// For other programs; null where the design names no steps.
pub fn json(design: &Design, e: &Evaluation) -> Value {
    if design.nose_steps.is_empty() {
        return Value::Null;
    }
    let name = |c: &usize| design.constructions.get(*c).map(|c| c.key.clone());
    let of = |strip: Strip| -> Vec<Value> {
        let runs = nose_steps::found(design, &e.layout, strip).into_iter();
        runs.map(|(from, to, step)| {
            let named = step.and_then(|s| name(&design.nose_steps[s]));
            json!({ "from_bay": from + 1, "to_bay": to + 1, "step": step.map(|s| s + 1), "construction": named })
        })
        .collect()
    };
    let steps: Vec<_> = design.nose_steps.iter().map(name).collect();
    json!({ "steps": steps, "step_of": "1 is the first of steps; null: drawn in none of them", "nose_upper": of(Strip::NoseUpper), "nose_lower": of(Strip::NoseLower) })
}
