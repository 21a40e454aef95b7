//! What gives first under a test, in words and as JSON: the sheets of bags and of couples say it alike.

use serde_json::{Value, json};

use crate::physics::design::Design;
use crate::physics::strength::Margin;
use crate::physics::strength::judged::{Judged, judged};
use crate::report::text::mode_title;

/// "RF 1.32 at ultimate", or at what else the margin is judged.
fn reserve(design: &Design, m: &Margin) -> String {
    format!("RF {:.2} {}", m.rf, judged(design, m).words())
}

/// The verdict on laying a test at all; `what` is a case or a test.
pub fn short(design: &Design, first: &[Margin], what: &str) -> Vec<String> {
    let short = first.iter().filter(|m| m.rf < 1.0);
    short
        .map(|m| format!("DO NOT LOAD: {} is short under this {what}, {}", mode_title(m.mode), reserve(design, m)))
        .collect()
}

/// The four modes nearest to giving.
pub fn lines(design: &Design, first: &[Margin]) -> Vec<String> {
    let place = |b: Option<usize>| b.map_or(String::new(), |b| format!(", bay {}", b + 1));
    let line = |m: &Margin| format!("{}{}: {}", mode_title(m.mode), place(m.bay), reserve(design, m));
    first.iter().take(4).map(line).collect()
}

/// For other programs.
pub fn json(design: &Design, first: &[Margin]) -> Value {
    let each = first.iter().map(|m| {
        let at = judged(design, m);
        json!({
            "mode": m.mode, "bay": m.bay.map(|b| b + 1), "rf": m.rf, "judged_at": at.key(),
            "rf_at_ultimate": (at == Judged::Ultimate).then_some(m.rf),
        })
    });
    Value::Array(each.collect())
}
