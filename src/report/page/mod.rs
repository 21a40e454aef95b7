//! The wing handed over to a reviewer: one page that needs nothing else, well formed, its numbers those of `assess --json`.
//!
//! Tables take every number out of that JSON by its path and print the path beside it (`data-json`), so whoever doubts a number,
//! a test or a reviewer, finds it; drawings are made from the same evaluation.

use std::cell::RefCell;
use std::collections::BTreeSet;
use std::fmt::Write as _;

use serde_json::Value;

use crate::physics::design::Design;
use crate::physics::evaluation::Evaluation;
use crate::physics::workshop::{batches, cuts, forecast, part_sheets, to_buy, win_back};
use crate::report::compare::Side;
use crate::report::{cut_list, holds, json, mixing, part_sheets as sheets_of_parts, seen, weigh_in};
use html::{Doc, esc};

mod beside;
mod building;
mod caps;
mod durability;
mod flight;
mod handling;
mod hatch;
mod head;
mod html;
mod inputs;
mod layers;
mod loads;
mod margins;
mod plan;
mod planform;
mod plot;
mod press;
mod section;
mod sources;
mod style;
mod svg;
mod weight;

/// A wing and all that is told of it.
pub struct Wing<'a> {
    side: &'a Side,
    /// Name of its file, and the text of it.
    file: String,
    text: &'a str,
    /// Dials turned after the file was read, as they were asked for.
    turned: &'a [String],
    assess: Value,
    holds: Value,
    scales: Option<Value>,
    seen: Option<Value>,
    building: Building,
}

/// What is cut, bought and mixed: tables as JSON, words, how many blanks.
struct Building {
    stock: Value,
    resin: Value,
    parts: Value,
    blanks: u32,
    buy_words: Vec<String>,
    mix_words: Vec<String>,
    remarks: Vec<String>,
}

impl Building {
    fn of(design: &Design, e: &Evaluation) -> Self {
        let list = cuts::of(design, e);
        let forecast = forecast::of(design, e);
        let parts = part_sheets::of(design, e, &list, &forecast);
        Self {
            stock: cut_list::stock_json(design, &list),
            resin: mixing::json(design, &list),
            parts: sheets_of_parts::json(design, &parts.iter().collect::<Vec<_>>()),
            blanks: list.cuts.iter().map(|c| c.count).sum(),
            buy_words: cut_list::buy_words(design, &to_buy::of(design, &list)),
            mix_words: mixing::words(design, &batches::of(&design.stock, &list)),
            remarks: list.remarks,
        }
    }
}

impl<'a> Wing<'a> {
    /// Of a scenario that was read from a file, changed by these dials and evaluated.
    pub fn of(side: &'a Side, file: &str, text: &'a str, turned: &'a [String]) -> Self {
        let (design, e) = (&side.design, &side.evaluation);
        let scales = (!design.weighed.is_empty()).then(|| {
            let (forecast, savings) = (forecast::of(design, e), win_back::of(design, e));
            weigh_in::json(design, &forecast, &savings)
        });
        Self {
            side,
            file: file.to_owned(),
            text,
            turned,
            assess: json::evaluation(design, e),
            holds: holds::json(design, e),
            scales,
            seen: (!design.proofs.is_empty()).then(|| seen::json(design, e)),
            building: Building::of(design, e),
        }
    }
}

/// A wing while its part of the page is written: what was cited stands in the list at its end.
struct Sheet<'a> {
    wing: &'a Wing<'a>,
    number: usize,
    cited: RefCell<BTreeSet<(&'static str, String)>>,
}

impl Sheet<'_> {
    fn design(&self) -> &Design {
        &self.wing.side.design
    }
    fn evaluation(&self) -> &Evaluation {
        &self.wing.side.evaluation
    }
    /// `assess --json`.
    fn assess(&self) -> Doc<'_> {
        Doc { name: "", value: &self.wing.assess }
    }
    /// `holds --json`.
    fn holds(&self) -> Doc<'_> {
        Doc { name: "holds", value: &self.wing.holds }
    }
    /// `workshop --scales --json`, of a wing that was weighed.
    fn scales(&self) -> Option<Doc<'_>> {
        self.wing.scales.as_ref().map(|value| Doc { name: "scales", value })
    }
    /// `workshop --seen --json`, of a wing that was proof-loaded.
    fn seen(&self) -> Option<Doc<'_>> {
        self.wing.seen.as_ref().map(|value| Doc { name: "seen", value })
    }
    fn building(&self) -> &Building {
        &self.wing.building
    }
    /// `workshop --stock --json`.
    fn stock(&self) -> Doc<'_> {
        Doc { name: "stock", value: &self.wing.building.stock }
    }
    /// `workshop --resin --json`.
    fn resin(&self) -> Doc<'_> {
        Doc { name: "resin", value: &self.wing.building.resin }
    }
    /// `workshop --parts --json`.
    fn parts(&self) -> Doc<'_> {
        Doc { name: "parts", value: &self.wing.building.parts }
    }
    /// An id of this wing alone.
    fn id(&self, rest: &str) -> String {
        format!("w{}-{rest}", self.number)
    }
    /// A link to a source, which then stands in the list.
    fn cite(&self, kind: &'static str, key: &str) -> String {
        self.cited.borrow_mut().insert((kind, key.to_owned()));
        format!("<a class=\"src\" href=\"#{}\">{}</a>", self.source_id(kind, key), esc(key))
    }
    fn source_id(&self, kind: &str, key: &str) -> String {
        self.id(&format!("src-{kind}-{}", html::id(key)))
    }
}

/// Title of a chapter, its id, and what stands in it.
type Chapter = (&'static str, &'static str, fn(&Sheet) -> String);

/// What is told of a wing, in order; the sources stand last, for they list what was cited before.
const CHAPTERS: [Chapter; 16] = [
    ("state of the verdict", "state", head::state),
    ("scores", "scores", head::scores),
    ("planform", "planform", planform::html),
    ("sections", "sections", section::html),
    ("what it is made of", "layers", layers::html),
    ("spar caps", "caps", caps::html),
    ("loads", "loads", loads::html),
    ("margins", "margins", margins::html),
    ("weight", "weight", weight::html),
    ("durability in ground handling", "durability", durability::html),
    ("where to hold, samples, weigh-in, proof loads", "handling", handling::html),
    ("what to cut, buy and mix", "building", building::html),
    ("flight", "flight", flight::html),
    ("inputs", "inputs", inputs::html),
    ("assumptions", "assumptions", sources::assumptions),
    ("sources", "sources", sources::html),
];

/// The page on one wing or several; `beside` is the comparison of several (`compare --json`).
pub fn page(wings: &[Wing], beside: Option<&Value>) -> String {
    let names: Vec<&str> = wings.iter().map(|w| w.side.name.as_str()).collect();
    let title = format!("{}: design report", names.join(" | "));
    let mut out = format!(
        "<!DOCTYPE html>\n<html lang=\"en\" xmlns=\"http://www.w3.org/1999/xhtml\">\n<head>\n<meta charset=\"utf-8\"/>\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n<meta name=\"color-scheme\" content=\"light dark\"/>\n\
         <meta name=\"generator\" content=\"thistledown {}\"/>\n<title>{}</title>\n<style>{}</style>\n</head>\n<body>\n",
        env!("CARGO_PKG_VERSION"),
        esc(&title),
        style::CSS
    );
    let sides: Vec<&Side> = wings.iter().map(|w| w.side).collect();
    if let Some(compared) = beside {
        out.push_str(&beside::html(&sides, Doc { name: "compare", value: compared }));
    }
    for (i, wing) in wings.iter().enumerate() {
        out.push_str(&chapters(&Sheet { wing, number: i + 1, cited: RefCell::default() }));
    }
    out.push_str("</body>\n</html>\n");
    out
}

fn chapters(s: &Sheet) -> String {
    let mut out = format!("<article class=\"wing\" id=\"w{}\">\n{}", s.number, head::html(s));
    let told: Vec<(&Chapter, String)> = CHAPTERS.iter().map(|c| (c, (c.2)(s))).filter(|(_, t)| !t.is_empty()).collect();
    let links: Vec<String> =
        told.iter().map(|((title, id, _), _)| format!("<a href=\"#{}\">{title}</a>", s.id(id))).collect();
    let _ = writeln!(out, "<nav aria-label=\"chapters\">{}</nav>", html::list(&links));
    for ((title, id, _), text) in told {
        let _ = write!(out, "<section id=\"{}\">\n<h2>{}</h2>\n{text}</section>\n", s.id(id), capital(title));
    }
    out.push_str("</article>\n");
    out
}

/// The first letter large.
fn capital(text: &str) -> String {
    let mut all = text.chars();
    all.next().map_or_else(String::new, |c| c.to_uppercase().chain(all).collect())
}
