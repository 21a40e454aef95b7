//! On whose word it all stands: the assumptions, and every source cited on the page.

use std::fmt::Write as _;

use super::html::{Row, Show, esc, numbers, table, words};
use super::{Sheet, capital};
use crate::physics::material::Origin;
use crate::physics::strength::MODES;
use crate::report::load;

/// Ways of working things out that are cited as such: key, title, source.
const METHODS: [(&str, &str, &str); 6] = [
    ("loads_along_the_spar", load::FORMULA, load::SOURCE),
    (
        "growth",
        "expected = as drawn x (1 + growth by maturity)",
        "composites row of one public transcription of a SAWE/AIAA growth table; the allowance of a sketch is the scenario's",
    ),
    (
        "budget",
        "budget = the percentile of weight the scenario judges by, weight normal about expected",
        "errors of one material add, different materials are independent; a choice of this program",
    ),
    (
        "durability_index",
        "index = 100 / (1 + H / 25 h), H expected repair hours per 100 outings",
        "an assumption of this program; the hours that score 50 are a choice",
    ),
    (
        "lattice",
        "lift over the span by one chordwise row of horseshoe vortices, three-quarter-chord condition; additional and basic parts",
        "any text on lifting surfaces; held against published swept and unswept wings in the tests of this program",
    ),
    (
        "polar",
        "drag by strip: turbulent and laminar friction with form factors, induced drag of the lattice, pilot and rigging as drag areas",
        "bands: pilot drag of the scenario, profile drag +-12 % (assumption)",
    ),
];

/// Kinds of source in the order of the list, with the heading of each.
const KINDS: [(&str, &str); 15] = [
    ("limits", "limits"),
    ("case", "load cases"),
    ("mode", "failure modes"),
    ("method", "methods"),
    ("event", "events of ground handling"),
    ("assumption", "assumptions"),
    ("fabric", "cloths"),
    ("process", "processes"),
    ("foam", "cores"),
    ("filling", "fillings of a core"),
    ("wood", "woods"),
    ("covering", "coverings"),
    ("fastening", "fastenings"),
    ("finish", "finishes"),
    ("resin", "resin"),
];

/// A source: what it is of, in words, and on whose word.
struct Source {
    title: String,
    mark: &'static str,
    text: String,
}

fn of(s: &Sheet, kind: &str, key: &str) -> Option<Source> {
    let (d, lib) = (s.design(), &s.design().library);
    let origin =
        |title: &str, o: &Origin| Source { title: title.to_owned(), mark: o.mark.word(), text: o.source.clone() };
    let plain = |title: &str, text: &str| Source { title: title.to_owned(), mark: "", text: text.to_owned() };
    match kind {
        "mode" => {
            let m = MODES.iter().find(|m| m.key == key)?;
            Some(Source { title: m.title.to_owned(), mark: m.mark.word(), text: m.source.to_owned() })
        }
        "case" => s.evaluation().loads.cases.iter().find(|c| c.key == key).map(|c| plain(c.title, c.source)),
        "limits" => d.limits.as_ref().filter(|l| l.key == key).map(|l| plain("limits in force", &l.source)),
        "event" => s.evaluation().durability.events.iter().find(|v| v.key == key).map(|v| Source {
            title: v.title.to_owned(),
            mark: if v.assumption { "assumption" } else { "derived or read" },
            text: d.care.catalogue.source(v.key).clone(),
        }),
        "assumption" => {
            crate::physics::assumptions::LIST.iter().find(|a| a.key == key).map(|a| plain(a.title, a.source))
        }
        "method" => METHODS.iter().find(|m| m.0 == key).map(|m| plain(m.1, m.2)),
        "fabric" => lib.fabrics.iter().find(|m| m.key == key).map(|m| origin(&m.name, &m.origin)),
        "process" => lib.processes.iter().find(|m| m.key == key).map(|m| origin(&m.name, &m.origin)),
        "foam" => lib.foams.iter().find(|m| m.key == key).map(|m| origin(&m.name, &m.origin)),
        "filling" => lib.fillings.iter().find(|m| m.key == key).map(|m| origin(&m.name, &m.origin)),
        "wood" => lib.woods.iter().find(|m| m.key == key).map(|m| origin(&m.name, &m.origin)),
        "covering" => lib.coverings.iter().find(|m| m.key == key).map(|m| origin(&m.name, &m.origin)),
        "fastening" => lib.fastenings.iter().find(|m| m.key == key).map(|m| origin(&m.name, &m.origin)),
        "finish" => lib.finishes.iter().find(|m| m.key == key).map(|m| origin(&m.name, &m.origin)),
        "resin" => lib.resins.iter().find(|m| m.key == key).map(|m| origin(&m.name, &m.origin)),
        _ => None,
    }
}

/// Every source cited above, by kind.
pub(super) fn html(s: &Sheet) -> String {
    let cited = s.cited.borrow();
    let mut out =
        "<p>Every key cited above. A value marked from memory or assumption stands on nobody's measurement.</p>\n"
            .to_owned();
    for (kind, heading) in KINDS {
        let of_kind: Vec<&String> = cited.iter().filter(|(k, _)| *k == kind).map(|(_, key)| key).collect();
        if of_kind.is_empty() {
            continue;
        }
        let _ = write!(out, "<h3>{}</h3>\n<dl class=\"sources\">\n", capital(heading));
        // What stands on the same word stands together.
        let mut told: Vec<(String, String)> = Vec::new();
        for key in of_kind {
            let found = of(s, kind, key);
            let (title, mark, text) = found.as_ref().map_or(("", "", ""), |f| (&f.title, f.mark, &f.text));
            let mark = if mark.is_empty() { String::new() } else { format!(" [{mark}]") };
            let text = if text.is_empty() { "no source is given" } else { text };
            let head = format!("<dt id=\"{}\">{}: {}</dt>", s.source_id(kind, key), esc(key), esc(title));
            let word = format!("<dd>{}{mark}</dd>", esc(text));
            match told.iter_mut().find(|t| t.1 == word) {
                Some(t) => t.0.push_str(&head),
                None => told.push((head, word)),
            }
        }
        for (heads, word) in told {
            let _ = writeln!(out, "<div>{heads}{word}</div>");
        }
        out.push_str("</dl>\n");
    }
    out
}

/// Every assumption with its spread, what durability rests on first.
pub(super) fn assumptions(s: &Sheet) -> String {
    let a = s.assess();
    let n = a.len("/assumptions");
    let rests =
        |key: &str| (0..a.len("/durability/rests_on")).find(|i| a.str(&format!("/durability/rests_on/{i}/key")) == key);
    let mut order: Vec<(usize, Option<usize>)> =
        (0..n).map(|i| (i, rests(a.str(&format!("/assumptions/{i}/key"))))).collect();
    order.sort_by_key(|(_, r)| r.unwrap_or(usize::MAX));
    let rows: Vec<Row> = order
        .into_iter()
        .map(|(i, r)| {
            let at = |field: &str| format!("/assumptions/{i}/{field}");
            let two = Show::digits(2);
            let hours = r.map_or_else(
                || "-".to_owned(),
                |r| a.num(&format!("/durability/rests_on/{r}/spread_of_ln_hours"), two),
            );
            vec![
                a.word(&at("title")),
                a.num(&at("spread"), two),
                hours,
                a.word(&at("source")),
                s.cite("assumption", a.str(&at("key"))),
            ]
            .into()
        })
        .collect();
    let columns = [
        words("assumption"),
        numbers("its spread"),
        numbers("spread of repair hours by it"),
        words("why that spread"),
        words("source"),
    ];
    table(
        "Assumptions: standard deviation of the logarithm; what the durability of this wing rests on most stands first",
        &columns,
        &rows,
    )
}
