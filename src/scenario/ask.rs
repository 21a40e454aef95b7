//! The `[search]` table: what a scenario wants searched when nothing else is said.

use crate::mix::ask::Unsampled;
use crate::mix::{Ask, ask};
use crate::physics::design::{Design, Strip};
use crate::physics::laminate::construction::Construction;
use crate::physics::samples::record::same_stack;
use crate::scenario::reader::{Table, nearest};
use crate::survey::space::{Axis, read_axis};

/// What a scenario asks of a search.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct SearchAsk {
    /// Dials that vary, in the order written.
    pub vary: Vec<Axis>,
    /// What may take part in the mix inside, and its rules.
    pub mix: Ask,
}

/// As written, with places, before the dials of the design are known.
pub(super) struct Written {
    vary: Vec<(usize, String)>,
    constructions: Vec<(usize, String)>,
    sampled: Vec<(usize, String)>,
    mix: Ask,
}

/// The words for web, ribs and caps in `fixed`.
const WEB: &str = "web";
const RIBS: &str = "ribs";
const CAPS: &str = "caps";

/// Read the table.
pub(super) fn read(root: &Table) -> Written {
    let mut out = Written { vary: Vec::new(), constructions: Vec::new(), sampled: Vec::new(), mix: Ask::default() };
    let Some(t) = root.table("search") else { return out };
    out.vary = t.texts("vary");
    out.constructions = t.texts("constructions");
    out.sampled = t.texts("sampled");
    let mix = &mut out.mix;
    mix.unsampled =
        t.word("unsampled", &Unsampled::ALL.map(Unsampled::key)).map_or(mix.unsampled, |i| Unsampled::ALL[i]);
    for (at, word) in t.texts("fixed") {
        let names: Vec<&str> = Strip::ALL.iter().map(|s| s.key()).chain([WEB, RIBS, CAPS]).collect();
        match Strip::ALL.iter().find(|s| s.key() == word) {
            Some(s) => mix.fixed.push(*s),
            None if word == WEB => mix.web_fixed = true,
            None if word == RIBS => mix.ribs_fixed = true,
            None if word == CAPS => mix.caps_fixed = true,
            None => {
                let near = nearest(&word, names.iter().copied()).unwrap_or("");
                let next = format!("the nearest valid name is \"{near}\"; all: {}", names.join(", "));
                t.faults.add(at, format!("search.fixed names \"{word}\""), next);
            }
        }
    }
    mix.upper_as_lower = t.flag("upper_as_lower", mix.upper_as_lower);
    mix.most_changes = t.whole_or("most_changes", 0..=8, mix.most_changes as u32) as usize;
    mix.shortest_run = t.whole_or("shortest_run_bays", 1..=20, mix.shortest_run as u32) as usize;
    mix.most_constructions = t.whole("most_constructions", 1..=20).map(|n| n as usize);
    mix.covering_outboard_of = (t.number_or("covering_outboard_of", 0.0..=1.0, 0.0) * 1000.0).round() as u16;
    t.done();
    out
}

/// Check what was written against the dials and constructions of the design.
pub(super) fn checked(written: &Written, design: &Design, root: &Table) -> SearchAsk {
    let mut out = SearchAsk { mix: written.mix.clone(), ..SearchAsk::default() };
    for (at, text) in &written.vary {
        match read_axis(text, design) {
            Ok(axis) if out.vary.iter().any(|a| a.dial.key == axis.dial.key) => {
                root.faults.add(*at, format!("`{}` is varied twice", axis.dial.key), "name each dial once");
            }
            Ok(axis) => out.vary.push(axis),
            Err(p) => root.faults.add(*at, p.what, p.next),
        }
    }
    let skins = || design.constructions.iter().filter(|c| ask::is_skin(c)).map(|c| c.key.as_str());
    for (list, (at, word)) in written.constructions.iter().map(|w| (0, w)).chain(written.sampled.iter().map(|w| (1, w)))
    {
        let into = if list == 0 { &mut out.mix.candidates } else { &mut out.mix.sampled };
        if let Some(i) = design.constructions.iter().position(|c| c.key == *word && ask::is_skin(c)) {
            into.push(i);
        } else {
            let near = nearest(word, skins()).unwrap_or("");
            let next = format!("the nearest valid name is \"{near}\"");
            root.faults.add(*at, format!("no skin construction is called \"{word}\""), next);
        }
    }
    // Whatever stands in the log of samples is sampled.
    let logged = |c: &Construction| design.samples.iter().any(|s| same_stack(&s.made, c));
    for (i, _) in design.constructions.iter().enumerate().filter(|(_, c)| ask::is_skin(c) && logged(c)) {
        if !out.mix.sampled.contains(&i) {
            out.mix.sampled.push(i);
        }
    }
    out
}
