//! The `[[sample]]` tables: pieces that were made, weighed and pressed.

use crate::physics::laminate::construction::{Construction, Kind};
use crate::physics::samples::record::{Press, Reached, Sample, Tool, WARM_C, Weighed};
use crate::scenario::check::{G, MM, q};
use crate::scenario::library::{Shelf, find, index_of};
use crate::scenario::reader::Table;

const CM2: &[(&str, f64)] = &[("cm2", 1e-4), ("in2", 6.4516e-4)];

/// All samples of the file.
pub(super) fn samples(root: &Table, own: &Shelf) -> Vec<Sample> {
    root.tables("sample").iter().filter_map(|t| sample(t, own)).collect()
}

fn sample(t: &Table, own: &Shelf) -> Option<Sample> {
    let key = t.need_text("construction");
    let at = t.place("construction");
    let named = || index_of(t, at, &key, &own.constructions, |c| &c.key);
    let base = if t.has("construction") { named().and_then(|i| own.constructions.get(i)) } else { None };
    let process = find(t, "process", &own.library.processes, |p| &p.key);
    let made = base.map(|c| by_process(c, process));
    let weighed = weighed(t);
    let kind = made.as_ref().map(|c| c.kind);
    let presses: Vec<Press> = t.tables("press").iter().filter_map(|p| press(p, kind)).collect();
    let date = date(t);
    let (how, note) = (t.text("made").unwrap_or_default(), t.text("note").unwrap_or_default());
    if weighed.is_none()
        && presses.is_empty()
        && !["area_cm2", "area_in2", "mass_g", "mass_oz", "press"].iter().any(|k| t.has(k))
    {
        let next = "give area_cm2 and mass_g of what was weighed, or a [[sample.press]]";
        t.faults.add(t.at, format!("{} was neither weighed nor pressed", t.path), next);
    }
    t.done();
    let (made, base) = (made?, base?);
    Some(Sample { other_process: made != *base, construction: key, made, how, date, note, weighed, presses })
}

/// The construction with every ply made by another process.
fn by_process(c: &Construction, process: Option<usize>) -> Construction {
    let mut made = c.clone();
    if let Some(process) = process {
        made.outer.iter_mut().chain(&mut made.inner).for_each(|p| p.process = process);
    }
    made
}

fn weighed(t: &Table) -> Option<Weighed> {
    let area_m2 = t.quantity(q("area", CM2), 1.0..=20_000.0);
    let mass_kg = t.quantity(q("mass", G), 0.01..=20_000.0);
    let pieces = t.whole_or("pieces", 1..=1000, 1);
    let finished = t.flag("finished", false);
    let has = |keys: [&str; 2]| keys.iter().any(|k| t.has(k));
    let lacks = match (has(["area_cm2", "area_in2"]), has(["mass_g", "mass_oz"])) {
        (true, false) => Some(("an area but no mass", "write mass_g, the mean of one piece")),
        (false, true) => Some(("a mass but no area", "write area_cm2, of one piece")),
        _ => None,
    };
    if let Some((what, next)) = lacks {
        t.faults.add(t.at, format!("{} has {what}", t.path), next);
    }
    let w = Weighed { area_m2: area_m2?, mass_kg: mass_kg?, pieces, finished };
    if !(0.005..=20.0).contains(&w.areal_kg_m2()) {
        let what = format!("{} would weigh {:.0} g/m2", t.path, w.areal_kg_m2() * 1e3);
        t.faults.add(t.place("mass_g"), what, "area_cm2 and mass_g are of one piece; 5 to 20000 g/m2 are read");
        return None;
    }
    Some(w)
}

fn press(t: &Table, kind: Option<Kind>) -> Option<Press> {
    if !t.has("with") {
        t.faults.add(
            t.at,
            format!("{} does not say with what", t.path),
            "write with = \"pad\", \"ball\" or \"plunger\"",
        );
    }
    let tool = t.word("with", &Tool::ALL.map(Tool::key)).and_then(|i| Tool::ALL.get(i).copied());
    let radius_m = t.need_quantity(q("radius", MM), 0.5..=50.0);
    let reached = t.word("to", &Reached::ALL.map(Reached::key)).and_then(|i| Reached::ALL.get(i).copied());
    let loads_n = t.numbers("loads_n", 0.1..=20_000.0);
    if !t.has("loads_n")
        || (loads_n.is_empty()
            && t.get("loads_n").is_some_and(|v| v.get_ref().as_array().is_some_and(|a| a.is_empty())))
    {
        t.faults.add(
            t.place("loads_n"),
            format!("{}.loads_n has no load", t.path),
            "write one load in N for each specimen, like [61.0, 72.0]",
        );
    }
    let at_c = t.number_or("at_c", -20.0..=100.0, WARM_C);
    let covering = kind == Some(Kind::Covering);
    let reached = reached.or((!t.has("to")).then_some(if covering { Reached::Hole } else { Reached::Mark }));
    if let Some(kind) = kind {
        if covering && reached == Some(Reached::Mark) {
            t.faults.add(
                t.place("to"),
                format!("{}: a covering keeps no mark", t.path),
                "press it through and write to = \"hole\"",
            );
        }
        if !covering && tool == Some(Tool::Plunger) {
            let next = "no form stands for a hard flat rod there: press it with a pad faced with rubber, or a ball";
            t.faults.add(
                t.place("with"),
                format!("{}: a plunger is for coverings, this is {}", t.path, kind.word()),
                next,
            );
        }
        if kind == Kind::Open {
            t.faults.add(t.at, format!("{}: there is nothing to press", t.path), "name a construction with a skin");
        }
    }
    t.done();
    Some(Press { tool: tool?, radius_m, reached: reached?, loads_n, at_c })
}

/// The day of a record; nothing where none is given.
pub(super) fn date(t: &Table) -> String {
    let date = t.text("date").unwrap_or_default();
    if t.has("date") && !is_date(&date) {
        t.faults.add(
            t.place("date"),
            format!("{}.date is \"{date}\"", t.path),
            "write year-month-day, like \"2026-03-14\"",
        );
    }
    date
}

/// "2026-03-14", with a month and a day that there are.
fn is_date(text: &str) -> bool {
    let parts: Vec<&str> = text.split('-').collect();
    let [y, m, d] = parts.as_slice() else { return false };
    let digits = |s: &str, n: usize| s.len() == n && s.bytes().all(|b| b.is_ascii_digit());
    let number = |s: &str| s.parse::<u32>().unwrap_or(0);
    let days = match number(m) {
        4 | 6 | 9 | 11 => 30,
        2 => 29,
        1 | 3 | 5 | 7 | 8 | 10 | 12 => 31,
        _ => 0,
    };
    digits(y, 4) && digits(m, 2) && digits(d, 2) && (1..=days).contains(&number(d))
}
