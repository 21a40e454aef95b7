//! A sheet for each part, in words and as JSON.

use std::fmt::Write as _;

use serde_json::{Value, json};

use crate::physics::design::Design;
use crate::physics::mass::tally::Heading;
use crate::physics::workshop::cuts::Other;
use crate::physics::workshop::part_sheets::PartSheet;
use crate::report::cut_list::{self, CUTTING};
use crate::report::mixing::{self, WET};
use crate::report::weigh_in;

/// What belongs on the sheet of a part that is bolted or bought.
const FITTING: &str = "Fittings carry the wing: as drawn by a qualified person, inspected before every flight; a part that was bent once is scrap.";

fn grams(kg: f64) -> String {
    if kg.abs() < 0.01 { format!("{:.1} g", 1e3 * kg) } else { format!("{:.0} g", 1e3 * kg) }
}

/// A part in one line: its mass as drawn, the mass to stop at, blanks, resin or glue to mix with what is lost, hours.
pub fn row(s: &PartSheet, name: usize) -> String {
    let words: String = s.row.piece.words().chars().take(name).collect();
    let stop = match (s.row.made, s.row.stop_kg) {
        (true, _) => "weighed".to_owned(),
        (_, Some(kg)) => grams(kg),
        _ => "no target".to_owned(),
    };
    let blanks: u32 = s.cuts.iter().map(|c| c.count).sum();
    let hours = s.hours.filter(|h| *h > 0.0).map_or("-".to_owned(), |h| format!("{h:.1}"));
    let mixed = if s.mixed_kg > 0.0 { grams(s.mixed_kg) } else { "-".to_owned() };
    format!("{words:<name$} {:>9}{stop:>10}{blanks:>7}{mixed:>9}{hours:>7}", grams(s.drawn_kg))
}

/// What the columns are.
pub fn columns(name: usize) -> String {
    format!(
        "{:<name$} {:>9}{:>10}{:>7}{:>9}{:>7}",
        "part, both halves", "as drawn", "stop at", "blanks", "to mix", "hours"
    )
}

/// Columns behind the name.
pub const BEHIND: usize = 43;

/// Cautions that belong to a part.
pub fn cautions(s: &PartSheet) -> Vec<&'static str> {
    let mut out = Vec::new();
    if !s.cuts.is_empty() {
        out.extend([CUTTING[1], CUTTING[2]]);
    }
    if s.wet {
        out.extend(WET);
    }
    if matches!(s.row.piece.heading, Heading::Joints | Heading::Controls | Heading::Fittings) {
        out.push(FITTING);
    }
    out.push(weigh_in::HOW);
    out
}

/// Whether each half has its own: not what runs through the middle, nor what is fitted to the wing as a whole.
fn halved(s: &PartSheet) -> bool {
    !matches!(s.row.piece.heading, Heading::Fittings | Heading::Protection) && s.cuts.iter().all(|c| c.count % 2 == 0)
}

/// Hours and cost in words.
fn work(design: &Design, s: &PartSheet) -> Vec<String> {
    let mut out = Vec::new();
    let currency = &design.rates.currency;
    match s.hours {
        Some(h) if h > 0.0 => out.push(format!("hours {h:.1}, both halves")),
        Some(_) => out.push("no hours: the scenario gives none to this kind".to_owned()),
        None => {}
    }
    match (s.cost, &s.within) {
        (Some(c), _) => {
            out.push(format!("material {c:.0} {currency}, waste of {:.0} % counted", 100.0 * design.rates.waste));
        }
        (None, Some((line, hours, cost))) => {
            out.push(format!("hours and cost are known of the whole only: {line}, {hours:.1} h, {cost:.0} {currency}"));
        }
        (None, None) => out.push("the model knows no material cost of it: see what to buy".to_owned()),
    }
    out
}

/// The sheet of a part, a line each: words, the table of its blanks, words.
pub fn lines(design: &Design, s: &PartSheet, name: usize) -> Vec<String> {
    let mut out = head(s);
    out.extend(table(design, s, name));
    out.push(String::new());
    out.extend(taken(design, s));
    out
}

/// What it weighs and where to stop.
fn head(s: &PartSheet) -> Vec<String> {
    let r = &s.row;
    let mut out = vec![format!(
        "{} as drawn, {} expected with growth, give or take {}",
        grams(s.drawn_kg),
        grams(r.expected_kg),
        grams(r.sd_kg)
    )];
    out.push(match (r.made, r.stop_kg) {
        (true, _) => "it is on the scales already".to_owned(),
        (false, Some(stop)) if halved(s) => format!(
            "STOP-WEIGHT {}, {} for each half: its share of what the target leaves",
            grams(stop),
            grams(0.5 * stop)
        ),
        (false, Some(stop)) => format!("STOP-WEIGHT {}: its share of what the target leaves", grams(stop)),
        (false, None) => "no stop-weight: give targets.wing_mass_kg".to_owned(),
    });
    out
}

/// Its blanks.
fn table(design: &Design, s: &PartSheet, name: usize) -> Vec<String> {
    if s.cuts.is_empty() {
        return Vec::new();
    }
    let rows = s.cuts.iter().map(|c| cut_list::row(design, c, name));
    [String::new(), cut_list::columns(name)].into_iter().chain(rows).collect()
}

/// What it takes beside, what is mixed for it, hours and cost.
fn taken(design: &Design, s: &PartSheet) -> Vec<String> {
    let mut out = Vec::new();
    if s.resin_kg > 0.0 {
        out.push(format!("resin that stays in its plies {}", grams(s.resin_kg)));
    }
    for what in Other::ALL {
        let of = || s.uses.iter().filter(|u| u.what == what);
        let (kg, metres) = of().fold((0.0, 0.0), |a, u| (a.0 + u.kg, a.1 + u.metres));
        let metres = if metres > 0.0 { format!(", {metres:.1} m") } else { String::new() };
        if what == Other::SurfaceResin && kg < 0.0 {
            out.push(format!("less by what samples taught {}", grams(-kg)));
        } else if kg < 0.0 {
            out.push(format!("less the {} {}", what.word(), grams(-kg)));
        } else if of().next().is_some() {
            out.push(format!("{} {}{metres}", what.word(), grams(kg)));
        }
    }
    if s.mixed_kg > 0.0 {
        out.push(format!("to mix for it, resin and hardener together and what is lost {}", grams(s.mixed_kg)));
    }
    out.extend(s.batches.iter().map(|b| format!("mix for {}", mixing::pots(design, b))));
    if s.row.piece.heading == Heading::Splices {
        out.push("the laps are cut with the skins on both sides".to_owned());
    }
    if s.uses.iter().any(|u| u.what == Other::Laps) {
        out.push(
            "no part of its own: it lies in the plies, and is on the scales with the skin or web it is laid in"
                .to_owned(),
        );
    }
    out.extend(work(design, s));
    out
}

/// Sheets one after the other.
pub fn text(design: &Design, all: &[&PartSheet]) -> String {
    let mut out = String::new();
    for s in all {
        let title = format!("PART: {}, both halves; {}", s.row.piece.words(), design.name);
        out.push_str(&super::holds::broken(&title));
        let name = s.cuts.iter().map(|c| c.name.chars().count()).max().unwrap_or(20).clamp(20, 60);
        let words = |lines: Vec<String>| lines.iter().map(|l| super::holds::broken(l)).collect::<String>();
        out.push_str(&words(head(s)));
        for line in table(design, s, name) {
            let _ = writeln!(out, "{line}");
        }
        out.push('\n');
        out.push_str(&words(taken(design, s)));
        out.push('\n');
    }
    // Once for all of them: repeated under every sheet they hide what differs.
    let mut said: Vec<&str> = Vec::new();
    for line in all.iter().flat_map(|s| cautions(s)) {
        if !said.contains(&line) {
            said.push(line);
            out.push_str(&super::holds::broken(line));
        }
    }
    out
}

/// For other programs.
pub fn json(design: &Design, all: &[&PartSheet]) -> Value {
    let each: Vec<Value> = all
        .iter()
        .map(|s| {
            let cuts: Vec<Value> = s.cuts.iter().map(|c| cut_list::cut_json(design, c)).collect();
            let uses: Vec<Value> =
                s.uses.iter().map(|u| json!({"what": u.what.word(), "kg": u.kg, "metres": u.metres})).collect();
            json!({
                "part": s.row.piece.words(), "as_drawn_kg": s.drawn_kg, "expected_kg": s.row.expected_kg, "sd_kg": s.row.sd_kg,
                "stop_kg": s.row.stop_kg, "weighed": s.row.made, "blanks": cuts, "resin_kg": s.resin_kg, "mixed_kg": s.mixed_kg, "takes": uses,
                "lay_ups": s.batches.iter().map(|b| b.name.as_str()).collect::<Vec<_>>(), "hours": s.hours, "cost": s.cost, "within": s.within, "cautions": cautions(s),
            })
        })
        .collect();
    json!({"scenario": design.name, "parts": each})
}
