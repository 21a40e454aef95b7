//! Weight: the parts list as drawn, expected and at the budget's percentile.

use super::html::{Row, Show, esc, numbers, table, words};
use super::{Sheet, capital};

/// The budget against the target, and the chance to meet it.
pub(super) fn against_target(s: &Sheet) -> String {
    let a = s.assess();
    let (Some(budget), Some(target)) = (a.get("/scores/weight_kg/budget"), a.get("/scores/weight_kg/target")) else {
        return "no target".to_owned();
    };
    let word = if budget > target { "over" } else { "under" };
    format!(
        "target {} kg, {:.1} kg {word} it, chance to meet it {} %",
        a.num("/scores/weight_kg/target", Show::digits(1)),
        (budget - target).abs(),
        a.num("/scores/weight_kg/chance", Show::digits(0).times(100.0))
    )
}

/// Sums and list.
pub(super) fn html(s: &Sheet) -> String {
    let (d, a) = (s.design(), s.assess());
    let three = Show::digits(3);
    let percentile = format!("{:.0}", 100.0 * d.targets.budget_percentile);
    let sum = |k: &str| a.num(&format!("/scores/weight_kg/{k}"), Show::digits(2));
    let mut out = format!(
        "<p>As drawn {} kg; expected {} kg (P10 {}, P50 {}, P90 {}) after the growth that estimates of this maturity commonly see ({}); budget {} kg, the P{percentile} of that \
         spread ({}), by which limits, loads, strength and stall are judged. {}.</p>\n",
        sum("as_drawn"),
        sum("expected"),
        sum("p10"),
        sum("p50"),
        sum("p90"),
        s.cite("method", "growth"),
        sum("budget"),
        s.cite("method", "budget"),
        capital(&against_target(s)),
    );
    let mut rows: Vec<Row> = (0..a.len("/weight/by_name"))
        .map(|i| {
            let at = |field: &str| format!("/weight/by_name/{i}/{field}");
            let top = a.value.pointer(&at("is_heading")).and_then(serde_json::Value::as_bool).unwrap_or(false);
            let cells = vec![
                a.word(&at("name")),
                a.num(&at("as_drawn_kg"), three),
                a.num(&at("expected_kg"), three),
                a.num(&at("sd_kg"), three),
                a.num(&at("budget_kg"), three),
                if top { String::new() } else { a.word(&at("maturity")) },
            ];
            Row { cells, class: if top { "head" } else { "" }, under: None }
        })
        .collect();
    let whole = |at: &str| a.num(at, three);
    rows.push(Row {
        cells: vec![
            "whole wing".to_owned(),
            whole("/scores/weight_kg/as_drawn"),
            whole("/scores/weight_kg/expected"),
            whole("/weight/sd_kg"),
            whole("/scores/weight_kg/budget"),
            String::new(),
        ],
        class: "sum",
        under: None,
    });
    let columns = [
        words("part"),
        numbers("as drawn, kg"),
        numbers("expected, kg"),
        numbers("spread, kg"),
        numbers("budget, kg"),
        words("maturity"),
    ];
    let caption = format!(
        "Parts, both halves. The budget of a line is its own P{percentile}: lines do not all come out heavy together, so they add up to more than the budget of the wing"
    );
    out.push_str(&table(&caption, &columns, &rows));
    let hung: Vec<Row> = d
        .aboard
        .masses
        .iter()
        .filter(|m| !m.wing)
        .map(|m| {
            vec![esc(&m.name), format!("{:.2}", m.mass_kg), format!("{:.2}", m.x_m), format!("{:.2}", m.y_m)].into()
        })
        .collect();
    let columns = [words("what"), numbers("kg"), numbers("m behind the root's leading edge"), numbers("m out")];
    out.push_str(&table("What hangs on the wing and is not counted in it, as the scenario gives it", &columns, &hung));
    out
}
