//! The log of samples in the text of a scenario: a new record is put at its end, and a record stays with the stack it was made
//! of when its construction is changed.

use std::path::Path;

use toml_edit::{Array, ArrayOfTables, DocumentMut, Item, Table, Value, value};

use crate::physics::design::Design;
use crate::physics::laminate::construction::Construction;
use crate::physics::samples::record::{Sample, same_stack};
use crate::problem::{Problem, io_words};
use crate::scenario::save::{put_construction, replace_file, set_path};
use crate::scenario::{load, parse};

/// A record as it is written.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct NewSample {
    pub construction: String,
    pub area_cm2: Option<f64>,
    pub mass_g: Option<f64>,
    pub pieces: Option<u32>,
    pub finished: bool,
    pub with: Option<String>,
    pub radius_mm: Option<f64>,
    pub loads_n: Vec<f64>,
    pub to: Option<String>,
    pub process: Option<String>,
    pub made: Option<String>,
    pub date: Option<String>,
    pub note: Option<String>,
}

impl NewSample {
    fn table(&self) -> Table {
        let mut t = Table::new();
        let mut put = |key: &str, v: Option<Value>| {
            if let Some(v) = v {
                t[key] = value(v);
            }
        };
        let words = |w: &Option<String>| w.clone().map(Value::from);
        put("construction", Some(self.construction.as_str().into()));
        put("process", words(&self.process));
        put("made", words(&self.made));
        put("date", words(&self.date));
        put("area_cm2", self.area_cm2.map(Value::from));
        put("mass_g", self.mass_g.map(Value::from));
        put("pieces", self.pieces.map(|n| Value::from(i64::from(n))));
        put("finished", self.finished.then_some(Value::from(true)));
        put("note", words(&self.note));
        if self.with.is_some() || !self.loads_n.is_empty() {
            let mut p = Table::new();
            for (key, v) in
                [("with", words(&self.with)), ("radius_mm", self.radius_mm.map(Value::from)), ("to", words(&self.to))]
            {
                if let Some(v) = v {
                    p[key] = value(v);
                }
            }
            p["loads_n"] = value(self.loads_n.iter().copied().collect::<Array>());
            let mut list = ArrayOfTables::new();
            list.push(p);
            t["press"] = Item::ArrayOfTables(list);
        }
        t
    }
}

/// Put a record at the end of the log of a file; nothing is written when the file would no longer be sound.
pub fn add(path: &Path, new: &NewSample) -> Result<(), Vec<Problem>> {
    let s = load(path)?;
    let fault =
        |e: &dyn std::fmt::Display| vec![Problem::fault(format!("the text of the scenario no longer parses: {e}"))];
    let mut doc: DocumentMut = s.text.parse().map_err(|e: toml_edit::TomlError| fault(&e))?;
    let list = doc.entry("sample").or_insert(Item::ArrayOfTables(ArrayOfTables::new()));
    let Some(list) = list.as_array_of_tables_mut() else {
        return Err(vec![Problem::input(
            "`sample` is a plain list in this file",
            "write its records as [[sample]] tables first",
        )]);
    };
    list.push(new.table());
    let text = doc.to_string();
    // What is wrong stands in no file yet, so no line is named.
    parse(&text, None).map_err(|all| all.into_iter().map(|p| Problem { place: None, ..p }).collect::<Vec<_>>())?;
    let real = std::fs::canonicalize(path).unwrap_or_else(|_| path.to_owned());
    replace_file(&real, text.as_bytes()).map_err(|e| vec![Problem::io(path, io_words(&e))])
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
