//! Several wings side by side, at the head of the page: inputs that differ, scores, durability by event, how sure the order is.

use std::fmt::Write as _;

use super::html::{Col, Doc, Row, Show, esc, list, para, table, words};
use crate::report::CAUTIONS;
use crate::report::compare::{self, Side};
use crate::report::sureness::DRAWS;

/// The comparison; its numbers are those of `compare --json`.
pub(super) fn html(sides: &[&Side], c: Doc) -> String {
    let mut out = format!("<header id=\"beside\">\n<h1>{} wings side by side</h1>\n", sides.len());
    let _ = writeln!(out, "<p class=\"caution\" role=\"note\">{}</p>", esc(CAUTIONS));
    let links: Vec<String> =
        sides.iter().enumerate().map(|(i, s)| format!("<a href=\"#w{}\">{}</a>", i + 1, esc(&s.name))).collect();
    let _ = writeln!(out, "<nav aria-label=\"wings\">{}</nav>", list(&links));
    let all = |caption: &str, rows: &[Row]| rows_of(sides, caption, rows);
    out.push_str(&all("Inputs that differ", &told(&c, "inputs_that_differ")));
    let scores: Vec<Row> = compare::scores(sides)
        .into_iter()
        .map(|(label, cells)| {
            std::iter::once(esc(&label)).chain(cells.iter().map(|x| esc(x))).collect::<Vec<_>>().into()
        })
        .collect();
    out.push_str(&all("Scores", &scores));
    out.push_str(&all("Repair hours per 100 outings by event", &told(&c, "repair_h_by_event")));
    let against = |field: &str, label: &str| -> Row {
        let each = (0..sides.len())
            .map(|i| if i == 0 { "-".to_owned() } else { c.word(&format!("/scenarios/{i}/against_first/{field}")) });
        std::iter::once(esc(label)).chain(each).collect::<Vec<_>>().into()
    };
    let rows = [against("durability_order", "durability"), against("weight_order", "weight")];
    out.push_str(&all(&format!("Against the first, the same {DRAWS} draws of all assumptions for all"), &rows));
    let order: Vec<String> = (0..c.len("/order_of_durability"))
        .map(|i| {
            let at = |field: &str| format!("/order_of_durability/{i}/{field}");
            let sure = c.get(&at("share_more_durable_than_the_next")).map_or_else(String::new, |_| {
                let n = c.num(&at("share_more_durable_than_the_next"), Show::digits(0).times(100.0));
                format!(", more durable than the next in {n} % of the draws")
            });
            format!("{}. {}{sure}", i + 1, c.word(&at("name")))
        })
        .collect();
    out.push_str(&para("In order, the most durable first; under 80 % it is too close to call:"));
    out.push_str(&list(&order));
    out.push_str("</header>\n");
    out
}

fn told(c: &Doc, what: &str) -> Vec<Row> {
    (0..c.len(&format!("/{what}")))
        .map(|i| {
            let label = c.word(&format!("/{what}/{i}/label"));
            let n = c.len(&format!("/{what}/{i}/values"));
            let cells = (0..n).map(|k| c.word(&format!("/{what}/{i}/values/{k}")));
            std::iter::once(label).chain(cells).collect::<Vec<_>>().into()
        })
        .collect()
}

/// A table with a column for each wing; their names are of a file, so they make the first row.
fn rows_of(sides: &[&Side], caption: &str, rows: &[Row]) -> String {
    if rows.is_empty() {
        return String::new();
    }
    let columns: Vec<Col> = std::iter::repeat_n(words(""), sides.len() + 1).collect();
    let names = std::iter::once(String::new()).chain(sides.iter().map(|s| esc(&s.name))).collect();
    let head = Row { cells: names, class: "head", under: None };
    table(caption, &columns, &std::iter::once(head).chain(rows.iter().cloned()).collect::<Vec<_>>())
}
