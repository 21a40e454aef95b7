//! The log of samples in the text of a scenario: a new record is put at its end, and a record stays with the stack it was made
//! of when its construction is changed.

use std::path::Path;

use toml_edit::{Array, ArrayOfTables, DocumentMut, Item, Table, Value, value};

use crate::physics::design::Design;
use crate::physics::laminate::construction::Construction;
use crate::physics::material::Library;
use crate::physics::samples::record::{Sample, WARM_C, same_stack};
use crate::problem::{Problem, io_words};
use crate::scenario::save::{self, put_construction, replace_file, set_path};
use crate::scenario::{Scenario, load, parse};

/// A record as it is written.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct NewSample {
    pub construction: String,
    pub area_cm2: Option<f64>,
    pub mass_g: Option<f64>,
    pub pieces: Option<u32>,
    pub finished: bool,
    pub presses: Vec<NewPress>,
    pub process: Option<String>,
    pub made: Option<String>,
    pub date: Option<String>,
    pub note: Option<String>,
}

/// Specimens pressed alike, as it is written.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct NewPress {
    pub with: Option<String>,
    pub radius_mm: Option<f64>,
    pub loads_n: Vec<f64>,
    pub to: Option<String>,
    pub at_c: Option<f64>,
}

/// Puts a key with its value where there is one.
fn put(t: &mut Table, key: &str, v: Option<impl Into<Value>>) {
    if let Some(v) = v {
        t[key] = value(v);
    }
}

impl NewSample {
    /// A record that was read, as it is written.
    fn of(s: &Sample, library: &Library) -> Self {
        let words = |w: &String| (!w.is_empty()).then(|| w.clone());
        let plies = || s.made.outer.iter().chain(&s.made.inner);
        let process = plies().find_map(|p| library.processes.get(p.process).map(|p| p.key.clone()));
        let in_units = |si: f64, per: f64| (si * per * 1e9).round() / 1e9;
        Self {
            construction: s.construction.clone(),
            area_cm2: s.weighed.map(|w| in_units(w.area_m2, 1e4)),
            mass_g: s.weighed.map(|w| in_units(w.mass_kg, 1e3)),
            pieces: s.weighed.map(|w| w.pieces).filter(|n| *n > 1),
            finished: s.weighed.is_some_and(|w| w.finished),
            presses: s
                .presses
                .iter()
                .map(|p| NewPress {
                    with: Some(p.tool.key().to_owned()),
                    radius_mm: Some(in_units(p.radius_m, 1e3)),
                    loads_n: p.loads_n.clone(),
                    to: Some(p.reached.key().to_owned()),
                    at_c: (p.at_c != WARM_C).then_some(p.at_c),
                })
                .collect(),
            process: process.filter(|_| s.other_process),
            made: words(&s.how),
            date: words(&s.date),
            note: words(&s.note),
        }
    }

    fn table(&self) -> Table {
        let mut t = Table::new();
        put(&mut t, "construction", Some(self.construction.as_str()));
        put(&mut t, "process", self.process.as_deref());
        put(&mut t, "made", self.made.as_deref());
        put(&mut t, "date", self.date.as_deref());
        put(&mut t, "area_cm2", self.area_cm2);
        put(&mut t, "mass_g", self.mass_g);
        put(&mut t, "pieces", self.pieces.map(i64::from));
        put(&mut t, "finished", self.finished.then_some(true));
        put(&mut t, "note", self.note.as_deref());
        if !self.presses.is_empty() {
            let list: ArrayOfTables = self.presses.iter().map(NewPress::table).collect();
            t["press"] = Item::ArrayOfTables(list);
        }
        t
    }
}

impl NewPress {
    fn table(&self) -> Table {
        let mut t = Table::new();
        put(&mut t, "with", self.with.as_deref());
        put(&mut t, "radius_mm", self.radius_mm);
        put(&mut t, "to", self.to.as_deref());
        put(&mut t, "at_c", self.at_c);
        t["loads_n"] = value(self.loads_n.iter().copied().collect::<Array>());
        t
    }
}

/// The log of a text; a plain list is none that tables can be put behind.
fn log(doc: &mut DocumentMut) -> Result<&mut ArrayOfTables, Problem> {
    let list = doc.entry("sample").or_insert(Item::ArrayOfTables(ArrayOfTables::new()));
    list.as_array_of_tables_mut().ok_or_else(|| {
        Problem::input("`sample` is a plain list in this file", "write its records as [[sample]] tables first")
    })
}

/// A text with a record at the end of its log; none when it would no longer be sound.
fn with(text: &str, new: &NewSample) -> Result<(String, Design), Vec<Problem>> {
    let mut doc: DocumentMut =
        text.parse().map_err(|e| vec![Problem::fault(format!("the text of the scenario no longer parses: {e}"))])?;
    log(&mut doc).map_err(|p| vec![p])?.push(new.table());
    let text = doc.to_string();
    // What is wrong stands in no file yet, so no line is named.
    let design =
        parse(&text, None).map_err(|all| all.into_iter().map(|p| Problem { place: None, ..p }).collect::<Vec<_>>())?;
    Ok((text, design))
}

/// Put a record at the end of the log of a file; nothing is written when the file would no longer be sound.
pub fn add(path: &Path, new: &NewSample) -> Result<(), Vec<Problem>> {
    let s = load(path)?;
    let (text, _) = with(&s.text, new)?;
    let real = std::fs::canonicalize(path).unwrap_or_else(|_| path.to_owned());
    replace_file(&real, text.as_bytes()).map_err(|e| vec![Problem::io(path, io_words(&e))])
}

/// A wing as it stands with a record at the end of its log and what that teaches; it is in no file until it is saved.
pub fn logged(scenario: &Scenario, design: &Design, new: &NewSample) -> Result<Design, Vec<Problem>> {
    let text = save::written(scenario, design).map_err(|p| vec![p])?;
    with(&text, new).map(|(_, design)| design)
}

/// Write what changed between two logs: what both begin with stays as it is.
pub(super) fn written(doc: &mut DocumentMut, before: &[Sample], after: &[Sample], library: &Library) {
    // A record that stays with its stack may have been given that stack's name when it was saved.
    let alike = |(a, b): (&Sample, &Sample)| Sample { construction: b.construction.clone(), ..a.clone() } == *b;
    let same = before.iter().zip(after).take_while(|pair| alike(*pair)).count();
    if same == before.len() && same == after.len() {
        return;
    }
    let Ok(list) = log(doc) else { return };
    while list.len() > same {
        list.remove(list.len() - 1);
    }
    after[same..].iter().for_each(|s| list.push(NewSample::of(s, library).table()));
    if list.is_empty() {
        doc.remove("sample");
    }
}

/// Records whose construction is another stack now are pointed at the stack they were made of, written beside it.
pub(super) fn keep_with_their_stack(doc: &mut DocumentMut, log: &[Sample], design: &Design) {
    for (i, s) in log.iter().enumerate() {
        let now = design.constructions.iter().find(|c| c.key == s.construction);
        if now.is_some_and(|c| is_of(s, c)) {
            continue;
        }
        let key = format!("{}_sample_{}", s.construction, i + 1);
        let made = Construction { key: key.clone(), name: format!("{}, as sampled", s.made.name), ..s.made.clone() };
        put_construction(doc, &made, &design.library);
        set_path(doc.as_item_mut(), &["sample", &i.to_string(), "construction"], Value::from(key));
    }
}

/// Whether a record is of this construction, made by its own process or by the one the record names.
fn is_of(s: &Sample, c: &Construction) -> bool {
    if !s.other_process {
        return same_stack(&s.made, c);
    }
    let process = s.made.outer.iter().chain(&s.made.inner).map(|p| p.process).next();
    let mut by = c.clone();
    if let Some(process) = process {
        by.outer.iter_mut().chain(&mut by.inner).for_each(|p| p.process = process);
    }
    same_stack(&s.made, &by)
}
