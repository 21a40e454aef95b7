//! What the wing is made of: every construction that stands somewhere in it, layer by layer, outside to inside.

use std::fmt::Write as _;

use super::Sheet;
use super::html::{Row, Show, esc, numbers, table, words};
use super::planform::{of_skins, tag};
use crate::report::layup;

/// The table.
pub(super) fn html(s: &Sheet) -> String {
    let (d, e, a) = (s.design(), s.evaluation(), s.assess());
    let order = of_skins(e);
    let mut rows: Vec<Row> = Vec::new();
    for (n, i) in layup::used(d).into_iter().enumerate() {
        let Some(c) = d.constructions.get(i) else { continue };
        let at = |field: &str| format!("/constructions/{n}/{field}");
        let tag = if order.contains(&i) { format!("{} ", tag(e, &order, i)) } else { String::new() };
        rows.push(Row {
            cells: vec![
                format!("{tag}{}: {}", a.word(&at("key")), a.word(&at("name"))),
                a.num(&at("thickness_m"), Show::digits(2).times(1e3)),
                a.num(&at("areal_kg_m2"), Show::digits(0).times(1e3)),
                a.word(&at("kind")),
            ],
            class: "head",
            under: None,
        });
        for (k, layer) in layup::stack(d, c).iter().enumerate() {
            let at = |field: &str| format!("/constructions/{n}/layers/{k}/{field}");
            let of: Vec<String> = layer.of.iter().map(|x| s.cite(x.kind, &x.key)).collect();
            let dry = if layer.dry { " dry" } else { "" };
            rows.push(
                vec![
                    a.word(&at("what")),
                    a.num_or(&at("thickness_mm"), Show::digits(2), "-"),
                    a.num_or(&at("areal_g_m2"), Show::digits(0), "-") + dry,
                    of.join(", "),
                ]
                .into(),
            );
        }
    }
    let columns = [
        words("construction, then its layers from the outside in"),
        numbers("mm"),
        numbers("g/m2"),
        words("kind; sources"),
    ];
    let mut out =
        table("Constructions of skins, webs and ribs; the whole has its resin, plies are told dry", &columns, &rows);
    if let Some(r) = d.library.resin() {
        let _ = writeln!(out, "<p>Resin: {} ({}).</p>", esc(&r.name), s.cite("resin", &r.key));
    }
    out
}
