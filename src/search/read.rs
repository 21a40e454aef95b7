//! A table from JSON. Every fault is named with its strip, candidate and bay; unknown keys are ignored.

use serde_json::{Map, Value};

use crate::problem::Problem;
use crate::search::table::{Cell, Joint, Strip, TOTAL_CEILING, Table, shortened};

/// Read a table: `{"strips": [{name, bays, candidates, max_changes, classes, class_of, table, splice}]}`.
///
/// `table[k][b]` is `[mass, repair, build, cost, dent]` or null. `splice` has one entry fewer than there are bays and
/// `splice[j]` stands between bays `j` and `j + 1`; or as many entries as bays and `splice[b]` stands between bays
/// `b - 1` and `b`, the first entry unused. An entry is `[from class][to class]` of `[mass, repair, build]` or null.
///
/// What may be left out: `name`; `bays` and `candidates` (counted from `table`); `max_changes` (no limit); `class_of`
/// (all one class); `classes` (counted from `class_of`); `splice` (changes are free); `shortest_run` (a number, or one
/// for each candidate; 1). `candidates` and `classes` may be lists of names instead of counts; constructions of the
/// same name, or else of the same index, are the same construction in every strip.
pub fn table(text: &str) -> Result<Table, Vec<Problem>> {
    let value: Value = serde_json::from_str(text).map_err(|e| {
        let mut p = Problem::input(format!("this is not JSON: {e}"), "");
        p.place = Some((e.line(), e.column()));
        vec![p]
    })?;
    let Some(list) = value.get("strips").and_then(Value::as_array) else {
        return Err(vec![Problem::input("the table has no list `strips`", "write {\"strips\": [ ... ]}")]);
    };
    let mut faults = Vec::new();
    let mut strips = Vec::new();
    for (i, v) in list.iter().enumerate() {
        let mut reader = Reader { strip: format!("strip `{i}`"), faults: &mut faults };
        strips.extend(reader.strip(v, i));
    }
    if faults.is_empty() { Table::new(strips) } else { Err(shortened(faults)) }
}

struct Reader<'a> {
    strip: String,
    faults: &'a mut Vec<Problem>,
}

impl Reader<'_> {
    fn fault(&mut self, what: &str, next: &str) {
        self.faults.push(Problem::input(format!("{}: {what}", self.strip), next));
    }

    fn strip(&mut self, v: &Value, index: usize) -> Option<Strip> {
        let Some(map) = v.as_object() else {
            self.fault("it is not an object", "write {\"name\": ..., \"table\": ...}");
            return None;
        };
        let name = map.get("name").and_then(Value::as_str).map_or_else(|| index.to_string(), str::to_owned);
        self.strip = format!("strip `{name}`");
        let Some(rows) = map.get("table").and_then(Value::as_array).filter(|r| !r.is_empty()) else {
            self.fault("it has no `table`", "write one row for each candidate, one cell for each bay");
            return None;
        };
        let before = self.faults.len();
        let candidates = self.names(map, "candidates", rows.len());
        let bays = self.count(map, "bays").unwrap_or_else(|| rows[0].as_array().map_or(0, Vec::len));
        if bays == 0 {
            self.fault("it has no bays", "a strip needs at least 1");
        }
        if let Some(c) = candidates.as_ref().filter(|c| c.len() != rows.len()) {
            self.fault(&format!("`table` has {} rows for {} candidates", rows.len(), c.len()), "give one row for each");
        }
        let class_of = self.list(map, "class_of", rows.len(), 0);
        let used = class_of.iter().max().map_or(1, |m| m + 1);
        let classes = match self.names(map, "classes", used) {
            Some(c) if c.len() < used => {
                self.fault(
                    &format!("`class_of` names class {} of {}", used - 1, c.len()),
                    "classes are counted from 0",
                );
                used
            }
            c => c.map_or(used, |c| c.len()),
        };
        let max_changes =
            if map.get("max_changes").is_some_and(Value::is_null) { None } else { self.count(map, "max_changes") };
        let shortest_run = self.list(map, "shortest_run", rows.len(), 1);
        if shortest_run.contains(&0) {
            self.fault("`shortest_run` is 0", "1 bay asks nothing");
        }
        if self.faults.len() > before {
            return None;
        }
        let cells = self.cells(rows, bays);
        let joints = self.splices(map.get("splice"), bays, classes);
        (self.faults.len() == before).then(|| Strip {
            name,
            bays,
            candidates: candidates.unwrap_or_default(),
            max_changes: max_changes.unwrap_or(bays - 1).min(bays - 1),
            classes,
            class_of,
            shortest_run,
            cells,
            joints,
        })
    }

    /// A whole number that counts something.
    fn count(&mut self, map: &Map<String, Value>, key: &str) -> Option<usize> {
        let v = map.get(key)?;
        let n = whole(v).and_then(|n| usize::try_from(n).ok()).filter(|&n| n <= 1_000_000);
        if n.is_none() {
            self.fault(&format!("`{key}` is {v}"), "write a whole number, 0 or more");
        }
        n
    }

    /// A count, or a list of names; numbered when only counted.
    fn names(&mut self, map: &Map<String, Value>, key: &str, default: usize) -> Option<Vec<String>> {
        if let Some(list) = map.get(key).and_then(Value::as_array) {
            let words = |v: &Value| v.as_str().map_or_else(|| v.to_string(), str::to_owned);
            return Some(list.iter().map(words).collect());
        }
        let n = if map.contains_key(key) { self.count(map, key)? } else { default };
        if n > 4096 {
            self.fault(&format!("`{key}` is {n}"), "at most 4096");
            return None;
        }
        Some((0..n).map(|i| i.to_string()).collect())
    }

    /// One whole number for each candidate: a list, a single number for all, or the default.
    fn list(&mut self, map: &Map<String, Value>, key: &str, len: usize, default: usize) -> Vec<usize> {
        match map.get(key) {
            None | Some(Value::Null) => vec![default; len],
            Some(Value::Array(list)) => {
                if list.len() != len {
                    self.fault(
                        &format!("`{key}` has {} entries for {len} candidates", list.len()),
                        "give one for each",
                    );
                }
                let mut out = Vec::new();
                for (i, v) in list.iter().enumerate() {
                    let n = whole(v).and_then(|n| usize::try_from(n).ok()).filter(|&n| n < 4096);
                    if n.is_none() {
                        self.fault(&format!("`{key}[{i}]` is {v}"), "write a whole number from 0 to 4095");
                    }
                    out.push(n.unwrap_or(default));
                }
                out.resize(len, default);
                out
            }
            Some(_) => vec![self.count(map, key).unwrap_or(default); len],
        }
    }

    fn cells(&mut self, rows: &[Value], bays: usize) -> Vec<Option<Cell>> {
        let mut cells = Vec::with_capacity(rows.len() * bays);
        for (k, row) in rows.iter().enumerate() {
            let Some(row) = row.as_array().filter(|r| r.len() == bays) else {
                let found = row.as_array().map_or_else(|| "is not a list".to_owned(), |r| format!("has {}", r.len()));
                self.fault(&format!("candidate {k}: its row of `table` {found}"), &format!("give {bays} bays"));
                continue;
            };
            for (b, v) in row.iter().enumerate() {
                let place = format!("candidate {k}, bay {b}");
                let cell = self.row::<5>(v, &place, &["mass", "repair", "build", "cost", "dent"]);
                cells.push(cell.map(|[mass, repair, build, cost, dent]| Cell {
                    mass,
                    repair,
                    build,
                    cost,
                    dent,
                    yields: [0; 2],
                }));
            }
        }
        cells
    }

    fn splices(&mut self, v: Option<&Value>, bays: usize, classes: usize) -> Vec<Option<Joint>> {
        let free = Joint { mass: 0, repair: 0, build: 0 };
        let list = match v {
            None | Some(Value::Null) => return vec![Some(free); (bays - 1) * classes * classes],
            Some(v) => v.as_array().filter(|l| l.len() == bays || l.len() + 1 == bays),
        };
        let Some(list) = list else {
            self.fault(
                "`splice` does not have one entry for each joint",
                &format!("give {} entries, or {bays} with the first unused", bays - 1),
            );
            return Vec::new();
        };
        let first = usize::from(list.len() == bays);
        let mut joints = Vec::with_capacity((bays - 1) * classes * classes);
        for (b, joint) in list.iter().enumerate().skip(first) {
            if joint.is_null() {
                joints.resize(joints.len() + classes * classes, None);
                continue;
            }
            for c in 0..classes {
                for d in 0..classes {
                    let shaped = joint.as_array().filter(|j| j.len() == classes);
                    let row = shaped.and_then(|j| j[c].as_array()).filter(|r| r.len() == classes);
                    let Some(row) = row else {
                        self.fault(
                            &format!("splice[{b}][{c}] is not one entry for each class"),
                            &format!("give {classes} by {classes}"),
                        );
                        break;
                    };
                    let place = format!("splice[{b}][{c}][{d}]");
                    let joint = self.row::<3>(&row[d], &place, &["mass", "repair", "build"]);
                    joints.push(joint.map(|[mass, repair, build]| Joint { mass, repair, build }));
                }
            }
        }
        joints
    }

    /// A row of whole numbers, or null; a fault also gives none.
    fn row<const N: usize>(&mut self, v: &Value, place: &str, names: &[&str; N]) -> Option<[u32; N]> {
        if v.is_null() {
            return None;
        }
        let Some(list) = v.as_array().filter(|l| l.len() == N) else {
            self.fault(&format!("{place}: {v} is no row"), &format!("write [{}] or null", names.join(", ")));
            return None;
        };
        let mut out = [0; N];
        for ((o, v), name) in out.iter_mut().zip(list).zip(names) {
            match whole(v).and_then(|n| u32::try_from(n).ok()).filter(|&n| u64::from(n) < TOTAL_CEILING) {
                Some(n) => *o = n,
                None => self.fault(
                    &format!("{place}: {name} is {v}"),
                    &format!("write a whole number of ticks, 0 or more and below {TOTAL_CEILING}"),
                ),
            }
        }
        Some(out)
    }
}

/// A whole number, also when written like 12.0.
fn whole(v: &Value) -> Option<u64> {
    v.as_u64().or_else(|| {
        let f = v.as_f64()?;
        (f.fract() == 0.0 && (0.0..1e15).contains(&f)).then_some(f as u64)
    })
}
