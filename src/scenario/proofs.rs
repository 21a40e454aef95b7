//! Records of proof loads in the text of a scenario: one more is put at the end, all else stays as it was written.

use std::path::Path;

use toml_edit::{ArrayOfTables, DocumentMut, Item, Table, value};

use crate::physics::mass::weighed::Half;
use crate::physics::workshop::seen::{Seen, Test};
use crate::problem::{Problem, io_words};
use crate::report::four_figures;
use crate::scenario::check_proof::{LENGTH, LOAD, TURN};
use crate::scenario::save::replace_file;
use crate::scenario::{load, parse};

/// A record as it is written: computed and seen in the unit of its test, the reading left to what is assumed.
fn table(s: &Seen) -> Table {
    let mut t = Table::new();
    let round = |v: f64, digits: i32| (v * 10_f64.powi(digits)).round() / 10_f64.powi(digits);
    t["test"] = value(s.test.key());
    t["step"] = value(round(s.step, 3));
    if s.half != Half::Both {
        t["half"] = value(s.half.key());
    }
    if let Some(p) = s.gave {
        let (unit, per, digits) = match s.test {
            Test::Torsion => ("deg", 1.0_f64.to_degrees(), 3),
            Test::Bags | Test::Section => ("mm", 1e3, 1),
        };
        t[&format!("computed_{unit}")] = value(round(p.computed * per, digits));
        t[&format!("seen_{unit}")] = value(round(p.seen * per, digits));
    }
    if let Some((p, mode)) = s.broke {
        t["computed_n"] = value(round(p.computed, 0));
        t["seen_n"] = value(round(p.seen, 0));
        t["broke_by"] = value(mode);
    }
    for (key, text) in [("date", &s.date), ("note", &s.note)] {
        if !text.is_empty() {
            t[key] = value(text.as_str());
        }
    }
    t
}

/// Whether what was seen can be a record; what is wrong, and what to do otherwise. The file is held to the same.
pub fn fits(s: &Seen) -> Result<(), (String, String)> {
    let per_si = if s.test == Test::Torsion { 1.0_f64.to_degrees() } else { 1e3 };
    let gave = s.gave.map(|p| (p, if s.test == Test::Torsion { &TURN } else { &LENGTH }, per_si));
    let broke = s.broke.map(|(p, _)| (p, &LOAD, 1.0));
    for (p, read, per_si) in gave.into_iter().chain(broke) {
        let (unit, [least, most]) = (read.units.first().map_or("", |u| u.0), read.range());
        let (seen, computed) = (p.seen * per_si, p.computed * per_si);
        if !(least..=most).contains(&seen) {
            let what = format!("{} {unit} cannot be read", four_figures(seen));
            return Err((what, format!("expected {least} to {most} {unit}; {}", read.next)));
        }
        if !read.near(seen / computed) {
            let what = format!("{:.2} times what was computed, {} {unit}", seen / computed, four_figures(computed));
            return Err((what, read.next.to_owned()));
        }
    }
    Ok(())
}

/// Put a record at the end of the file; nothing is written when the file would no longer be sound.
pub fn add(path: &Path, new: &Seen) -> Result<(), Vec<Problem>> {
    let s = load(path)?;
    let fault =
        |e: &dyn std::fmt::Display| vec![Problem::fault(format!("the text of the scenario no longer parses: {e}"))];
    let mut doc: DocumentMut = s.text.parse().map_err(|e: toml_edit::TomlError| fault(&e))?;
    let item = doc.entry("proof").or_insert(Item::ArrayOfTables(ArrayOfTables::new()));
    let Some(list) = item.as_array_of_tables_mut() else {
        return Err(vec![Problem::input(
            "`proof` is a plain list in this file",
            "write its records as [[proof]] tables first",
        )]);
    };
    list.push(table(new));
    let text = doc.to_string();
    // What is wrong stands in no file yet, so no line is named.
    parse(&text, None).map_err(|all| all.into_iter().map(|p| Problem { place: None, ..p }).collect::<Vec<_>>())?;
    let real = std::fs::canonicalize(path).unwrap_or_else(|_| path.to_owned());
    replace_file(&real, text.as_bytes()).map_err(|e| vec![Problem::io(path, io_words(&e))])
}
