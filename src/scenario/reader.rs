//! A TOML text walked by hand: every fault of a file is collected with its place, and every key that nobody
//! asked for is one of them, with the nearest valid name.

use std::cell::RefCell;
use std::ops::{Range, RangeInclusive};
use std::path::{Path, PathBuf};

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use crate::problem::{Problem, ProblemKind};
use crate::scenario::unclosed;
use crate::survey::space::distance;

/// Where faults are collected.
pub struct Faults<'a> {
    text: &'a str,
    file: Option<PathBuf>,
    found: RefCell<Vec<(usize, Problem)>>,
}

impl<'a> Faults<'a> {
    pub fn new(text: &'a str, file: Option<&Path>) -> Self {
        Self { text, file: file.map(Path::to_owned), found: RefCell::new(Vec::new()) }
    }
    /// Add one fault at a byte of the text.
    pub fn add(&self, at: usize, what: impl Into<String>, next: impl Into<String>) {
        let problem = Problem {
            kind: ProblemKind::Input,
            file: self.file.clone(),
            place: Some(line_and_column(self.text, at)),
            what: what.into(),
            next: next.into(),
        };
        self.found.borrow_mut().push((at, problem));
    }
    /// Take back a fault that another one says better.
    fn withdraw(&self, at: usize, what: &str) {
        self.found.borrow_mut().retain(|(place, p)| *place != at || p.what != what);
    }
    pub fn is_empty(&self) -> bool {
        self.found.borrow().is_empty()
    }
    /// All faults in the order of the file.
    pub fn into_problems(self) -> Vec<Problem> {
        let mut found = self.found.into_inner();
        found.sort_by_key(|(at, _)| *at);
        found.into_iter().map(|(_, p)| p).collect()
    }
}

/// Line and column from 1 of a byte.
pub fn line_and_column(text: &str, at: usize) -> (usize, usize) {
    let before = text.get(..at.min(text.len())).unwrap_or(text);
    let line = before.matches('\n').count() + 1;
    let column = before.rsplit('\n').next().map_or(0, |l| l.chars().count()) + 1;
    (line, column)
}

/// The nearest of some names to a word.
pub fn nearest<'n>(word: &str, names: impl IntoIterator<Item = &'n str>) -> Option<&'n str> {
    names.into_iter().min_by_key(|n| distance(n, word))
}

/// A quantity asked for: its key without unit, and the units it may be written in with their factor to SI.
/// The first unit is the usual one.
#[derive(Clone, Copy)]
pub struct Quantity<'q> {
    pub name: &'q str,
    pub units: &'q [(&'q str, f64)],
}

/// A table being read. Call [`Table::done`] when everything has been asked for.
pub struct Table<'t, 'a> {
    pub faults: &'t Faults<'a>,
    table: &'t DeTable<'a>,
    /// Place of the table in the text, and its path in words.
    pub at: usize,
    pub path: String,
    asked: RefCell<Vec<String>>,
    missed: RefCell<Vec<String>>,
}

impl<'t, 'a> Table<'t, 'a> {
    pub fn new(faults: &'t Faults<'a>, table: &'t DeTable<'a>, at: usize, path: impl Into<String>) -> Self {
        Self { faults, table, at, path: path.into(), asked: RefCell::new(Vec::new()), missed: RefCell::default() }
    }

    fn name(&self, key: &str) -> String {
        if self.path.is_empty() { key.to_owned() } else { format!("{}.{key}", self.path) }
    }

    /// The value of a key and its place; the key counts as asked for.
    pub fn get(&self, key: &str) -> Option<&'t Spanned<DeValue<'a>>> {
        self.asked.borrow_mut().push(key.to_owned());
        self.table.get(key)
    }
    pub fn has(&self, key: &str) -> bool {
        self.table.contains_key(key)
    }
    /// Place of a key's value, or of the table.
    pub fn place(&self, key: &str) -> usize {
        self.table.get(key).map_or(self.at, |v| v.span().start)
    }
    fn wrong(&self, v: &Spanned<DeValue<'a>>, key: &str, expected: &str) {
        let got = v.get_ref().type_str();
        let a = if got.starts_with(['a', 'e', 'i', 'o', 'u']) { "an" } else { "a" };
        self.faults.add(v.span().start, format!("{} is {a} {got}", self.name(key)), format!("expected {expected}"));
    }
    fn missing(&self, key: &str, expected: &str) {
        self.missed.borrow_mut().push(key.to_owned());
        self.faults.add(self.at, self.is_missing(key), format!("write {expected}"));
    }
    fn is_missing(&self, key: &str) -> String {
        format!("{} is missing", self.name(key))
    }

    /// A number in a range, None when absent or wrong.
    pub fn number(&self, key: &str, range: RangeInclusive<f64>) -> Option<f64> {
        let v = self.get(key)?;
        let Some(x) = as_number(v.get_ref()) else {
            self.wrong(v, key, "a number");
            return None;
        };
        self.checked(x, v.span(), key, &range)
    }

    fn checked(&self, x: f64, at: Range<usize>, key: &str, range: &RangeInclusive<f64>) -> Option<f64> {
        if !x.is_finite() {
            self.faults.add(at.start, format!("{} is not a finite number", self.name(key)), "write plain digits");
            return None;
        }
        if !range.contains(&x) {
            let (lo, hi) = (range.start(), range.end());
            self.faults.add(
                at.start,
                format!("{} is {x}", self.name(key)),
                format!("it must lie between {lo} and {hi}"),
            );
            return None;
        }
        Some(x)
    }
    /// A number, or a default when absent.
    pub fn number_or(&self, key: &str, range: RangeInclusive<f64>, default: f64) -> f64 {
        if self.has(key) { self.number(key, range).unwrap_or(default) } else { self.note(key, default) }
    }
    fn note<T>(&self, key: &str, value: T) -> T {
        self.asked.borrow_mut().push(key.to_owned());
        value
    }
    /// A number that must be there.
    pub fn need(&self, key: &str, range: RangeInclusive<f64>) -> f64 {
        if !self.has(key) {
            self.note(key, ());
            self.missing(key, &format!("a number between {} and {}", range.start(), range.end()));
            return *range.start();
        }
        let fallback = *range.start();
        self.number(key, range).unwrap_or(fallback)
    }

    /// A quantity in any of its units, in SI; the range is in the first unit.
    pub fn quantity(&self, q: Quantity, range: RangeInclusive<f64>) -> Option<f64> {
        let (first, base) = q.units.first().copied()?;
        let mut found = None;
        for (unit, factor) in q.units {
            let key = format!("{}_{unit}", q.name);
            if !self.has(&key) {
                self.note(&key, ());
                continue;
            }
            if found.is_some() {
                self.faults.add(
                    self.place(&key),
                    format!("{} is given twice", self.name(q.name)),
                    format!("keep {}_{first}", q.name),
                );
            }
            let scaled = range.start() * base / factor..=range.end() * base / factor;
            found = Some(self.number(&key, scaled)? * factor);
        }
        found
    }
    /// A quantity that must be there.
    pub fn need_quantity(&self, q: Quantity, range: RangeInclusive<f64>) -> f64 {
        let (first, base) = q.units.first().copied().unwrap_or(("", 1.0));
        let given = q.units.iter().any(|(u, _)| self.has(&format!("{}_{u}", q.name)));
        let fallback = range.start() * base;
        if !given {
            self.missing(
                &format!("{}_{first}", q.name),
                &format!("a number between {} and {}", range.start(), range.end()),
            );
        }
        self.quantity(q, range).unwrap_or(fallback)
    }
    pub fn quantity_or(&self, q: Quantity, range: RangeInclusive<f64>, default_si: f64) -> f64 {
        self.quantity(q, range).unwrap_or(default_si)
    }

    /// A whole number.
    pub fn whole(&self, key: &str, range: RangeInclusive<u32>) -> Option<u32> {
        let v = self.get(key)?;
        let n =
            v.get_ref().as_integer().and_then(|i| i64::from_str_radix(&i.as_str().replace('_', ""), i.radix()).ok());
        match n {
            Some(n) if range.start() == range.end() && n != i64::from(*range.start()) => {
                let only = range.start();
                let what = format!("{} is {n}, which this version does not read", self.name(key));
                self.faults.add(v.span().start, what, format!("it reads {} = {only}", self.name(key)));
                None
            }
            Some(n) if n >= i64::from(*range.start()) && n <= i64::from(*range.end()) => u32::try_from(n).ok(),
            _ => {
                let what = format!("{} must be a whole number", self.name(key));
                self.faults.add(v.span().start, what, format!("between {} and {}", range.start(), range.end()));
                None
            }
        }
    }
    pub fn whole_or(&self, key: &str, range: RangeInclusive<u32>, default: u32) -> u32 {
        if self.has(key) { self.whole(key, range).unwrap_or(default) } else { self.note(key, default) }
    }
    pub fn flag(&self, key: &str, default: bool) -> bool {
        let Some(v) = self.get(key) else { return default };
        v.get_ref().as_bool().unwrap_or_else(|| {
            self.wrong(v, key, "true or false");
            default
        })
    }
    pub fn text(&self, key: &str) -> Option<String> {
        let v = self.get(key)?;
        let s = v.get_ref().as_str();
        if s.is_none() {
            self.wrong(v, key, "text in quotes");
        }
        s.map(str::to_owned)
    }
    pub fn need_text(&self, key: &str) -> String {
        if !self.has(key) {
            self.missing(key, "text in quotes");
        }
        self.text(key).unwrap_or_default()
    }
    /// One of some words; its index.
    pub fn word(&self, key: &str, words: &[&str]) -> Option<usize> {
        let s = self.text(key)?;
        let found = words.iter().position(|w| *w == s);
        if found.is_none() {
            let near = nearest(&s, words.iter().copied()).unwrap_or("");
            self.faults.add(
                self.place(key),
                format!("{} is \"{s}\"", self.name(key)),
                format!("the nearest valid name is \"{near}\"; all: {}", words.join(", ")),
            );
        }
        found
    }
    /// A list of numbers.
    pub fn numbers(&self, key: &str, range: RangeInclusive<f64>) -> Vec<f64> {
        let Some(v) = self.get(key) else { return Vec::new() };
        let Some(list) = v.get_ref().as_array() else {
            self.wrong(v, key, "a list of numbers");
            return Vec::new();
        };
        list.iter()
            .filter_map(|x| {
                if let Some(n) = as_number(x.get_ref()) {
                    self.checked(n, x.span(), key, &range)
                } else {
                    self.wrong(x, key, "a number");
                    None
                }
            })
            .collect()
    }
    /// A list of words, with their places.
    pub fn texts(&self, key: &str) -> Vec<(usize, String)> {
        let Some(v) = self.get(key) else { return Vec::new() };
        let Some(list) = v.get_ref().as_array() else {
            self.wrong(v, key, "a list of names");
            return Vec::new();
        };
        list.iter()
            .filter_map(|x| {
                let s = x.get_ref().as_str().map(|s| (x.span().start, s.to_owned()));
                if s.is_none() {
                    self.wrong(x, key, "a name in quotes");
                }
                s
            })
            .collect()
    }
    /// A table inside this one.
    pub fn table(&self, key: &str) -> Option<Table<'t, 'a>> {
        let v = self.get(key)?;
        let Some(t) = v.get_ref().as_table() else {
            self.wrong(v, key, &format!("a table [{}]", self.name(key)));
            return None;
        };
        Some(Table::new(self.faults, t, v.span().start, self.name(key)))
    }
    /// A list of tables inside this one.
    pub fn tables(&self, key: &str) -> Vec<Table<'t, 'a>> {
        let Some(v) = self.get(key) else { return Vec::new() };
        let Some(list) = v.get_ref().as_array() else {
            self.wrong(v, key, &format!("tables [[{}]]", self.name(key)));
            return Vec::new();
        };
        let mut out = Vec::new();
        for (i, x) in list.iter().enumerate() {
            match x.get_ref().as_table() {
                Some(t) => {
                    out.push(Table::new(self.faults, t, x.span().start, format!("{}[{}]", self.name(key), i + 1)));
                }
                None => self.wrong(x, key, "a table"),
            }
        }
        out
    }
    /// Everything was asked for: what is left is unknown.
    pub fn done(&self) {
        let asked = self.asked.borrow();
        for key in self.table.keys() {
            let word: &str = key.get_ref();
            if !asked.iter().any(|a| a == word) {
                let near = nearest(word, asked.iter().map(String::as_str));
                let next = near.map_or_else(String::new, |n| format!("the nearest valid name is `{n}`"));
                self.faults.add(key.span().start, format!("unknown key `{}`", self.name(word)), next);
                // The same name in a unit that is not known is one fault, not a missing key as well.
                for missed in self.missed.borrow().iter().filter(|m| without_unit(m) == without_unit(word)) {
                    self.faults.withdraw(self.at, &self.is_missing(missed));
                }
            }
        }
    }
}

/// A key up to its last underscore, where there is one.
fn without_unit(key: &str) -> &str {
    key.rsplit_once('_').map_or(key, |(name, _)| name)
}

fn as_number(v: &DeValue) -> Option<f64> {
    match v {
        DeValue::Integer(i) => i64::from_str_radix(&i.as_str().replace('_', ""), i.radix()).ok().map(|n| n as f64),
        DeValue::Float(f) => f.as_str().replace('_', "").parse().ok(),
        _ => None,
    }
}

/// Parse a text; syntax faults are added too, the first of each line: what is left open is one fault, where it was opened.
pub fn parse<'a>(text: &'a str, faults: &Faults<'a>) -> DeTable<'a> {
    let (table, errors) = DeTable::parse_recoverable(text);
    let open = if errors.is_empty() { None } else { unclosed::find(text) };
    let mut lines = Vec::new();
    for (i, e) in errors.iter().enumerate() {
        let at = e.span().map_or(0, |s| s.start);
        let line = line_and_column(text, at).0;
        // A broken line makes tables after it look given twice: that is not a fault of its own.
        let follows = i > 0 && e.message().contains("duplicate key");
        if follows || lines.contains(&line) || open.is_some_and(|u| at >= u.at) {
            continue;
        }
        lines.push(line);
        let (what, next) = in_words(text, at, e.message());
        faults.add(at, format!("this is not valid TOML: {what}"), next);
    }
    if let Some(u) = open {
        let by = if u.by >= text.len() {
            "the end of the file".to_owned()
        } else {
            let (line, column) = line_and_column(text, u.by);
            format!("line {line}, column {column}")
        };
        let what = format!("this is not valid TOML: the {} opened here is not closed by {by}", u.opened);
        faults.add(u.at, what, format!("expected {}", u.closes));
    }
    table.into_inner()
}

/// A fault of syntax and what to do, where the parser's own words would lead astray.
fn in_words(text: &str, at: usize, message: &str) -> (String, String) {
    let here = text.get(at..).and_then(|t| t.lines().next()).unwrap_or("");
    let before = text.get(..at).and_then(|t| t.rsplit('\n').next()).unwrap_or("");
    let word: String = here.chars().take_while(|c| c.is_alphanumeric() || "_-.".contains(*c)).collect();
    let is_value = before.trim_end().ends_with(['=', '[', ',']) && !before.trim_start().starts_with('[');
    if is_value && (here.trim().is_empty() || here.trim_start().starts_with('#')) {
        return ("there is no value".to_owned(), "write one behind the =".to_owned());
    }
    if is_value && word.starts_with(|c: char| c.is_alphabetic()) {
        return (format!("`{word}` is no value"), format!("words stand in quotes: \"{word}\""));
    }
    (message.to_owned(), "mend the line".to_owned())
}
