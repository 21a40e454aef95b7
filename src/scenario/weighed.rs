//! Weighings in the text of a scenario: one is changed, taken out or put at the end, the others and their remarks stay.

use toml_edit::{ArrayOfTables, DocumentMut, Item, Table, Value, value};

use crate::physics::design::Design;
use crate::physics::mass::tally::Heading;
use crate::physics::mass::weighed::{Half, Piece, SCALE_ERROR_KG, Weighing};
use crate::physics::units;
use crate::scenario::check_weighed;
use crate::scenario::reader::nearest;

/// The piece that `heading` or `heading/part` names; what to write otherwise.
pub fn piece(word: &str) -> Result<Piece, String> {
    let (head, part) = word.split_once('/').map_or((word, None), |(h, p)| (h, Some(p)));
    let words = Heading::ALL.map(Heading::word);
    let Some(heading) = Heading::ALL.into_iter().find(|h| h.word() == head.trim()) else {
        let near = nearest(head.trim(), words).unwrap_or("");
        return Err(format!("the nearest heading is \"{near}\"; all: {}", words.join(", ")));
    };
    let part = part.map(str::trim).filter(|p| !p.is_empty()).map(str::to_owned);
    Ok(Piece { heading, part })
}

/// Enter a weighing among those of a wing; one of the same piece and half is weighed again: its scale stays unless another is given.
/// What to do otherwise.
pub fn enter(d: &mut Design, new: Weighing, scale_error_kg: Option<f64>) -> Result<(), String> {
    check_weighed::is_there(&new.piece, &check_weighed::lines(d))?;
    let again = |w: &Weighing| w.piece == new.piece && w.half == new.half;
    let met = d.weighed.iter().find(|w| w.meets(&new) && !again(w));
    if let Some(other) = met {
        return Err(format!(
            "\"{}\" ({}) is weighed already: take it off on page 0 (w, then x), or take its [[weighed]] out of the file",
            other.piece.words(),
            other.half.key()
        ));
    }
    let known = d.weighed.iter().position(again);
    let before = known.map(|i| d.weighed.remove(i));
    let scale_error_kg = scale_error_kg.or(before.as_ref().map(|w| w.scale_error_kg)).unwrap_or(new.scale_error_kg);
    let note = if new.note.is_empty() { before.map_or(String::new(), |w| w.note) } else { new.note.clone() };
    d.weighed.insert(known.unwrap_or(d.weighed.len()), Weighing { scale_error_kg, note, ..new });
    Ok(())
}

/// Write what changed between two lists of weighings.
pub(super) fn written(doc: &mut DocumentMut, before: &[Weighing], after: &[Weighing]) {
    if before == after {
        return;
    }
    let like = |a: &Weighing, b: &Weighing| a.piece == b.piece && a.half == b.half;
    let item = doc.entry("weighed").or_insert(Item::ArrayOfTables(ArrayOfTables::new()));
    if let Some(inline) = item.as_array().cloned() {
        // A plain list is written as tables: only those keep remarks of their own.
        let tables = inline.iter().filter_map(|v| v.as_inline_table().map(|t| t.clone().into_table()));
        *item = Item::ArrayOfTables(tables.collect());
    }
    let Some(list) = item.as_array_of_tables_mut() else { return };
    for (i, old) in before.iter().enumerate().rev() {
        match after.iter().find(|new| like(old, new)) {
            None => {
                list.remove(i);
            }
            Some(new) if new != old => {
                if let Some(t) = list.get_mut(i) {
                    put(t, new);
                }
            }
            Some(_) => {}
        }
    }
    for new in after.iter().filter(|new| !before.iter().any(|old| like(old, new))) {
        let mut t = Table::new();
        t["of"] = value(new.piece.words());
        if new.half != Half::Both {
            t["half"] = value(new.half.key());
        }
        put(&mut t, new);
        list.push(t);
    }
    if list.is_empty() {
        doc.remove("weighed");
    }
}

/// Mass, scale, day and note of a weighing, in the units that stand there, else in grams.
fn put(t: &mut Table, w: &Weighing) {
    fn set(t: &mut Table, key: &str, v: Value) {
        let decor = t.get(key).and_then(Item::as_value).map(|v| v.decor().clone());
        t[key] = value(v);
        if let (Some(d), Some(v)) = (decor, t[key].as_value_mut()) {
            *v.decor_mut() = d;
        }
    }
    let tidy = |v: f64| Value::from((v * 1e4).round() / 1e4);
    let units = [("_g", 1e-3), ("_kg", 1.0), ("_lb", units::POUND_KG), ("_oz", units::OUNCE_KG)];
    let has = |t: &Table, name: &str| units.into_iter().find(|(unit, _)| t.contains_key(&format!("{name}{unit}")));
    let (mass, scale) = (has(t, "mass"), has(t, "scale_error"));
    let (unit, si) = mass.unwrap_or(units[0]);
    set(t, &format!("mass{unit}"), tidy(w.mass_kg / si));
    if scale.is_some() || (w.scale_error_kg - SCALE_ERROR_KG).abs() > 1e-12 {
        let (unit, si) = scale.unwrap_or(units[0]);
        set(t, &format!("scale_error{unit}"), tidy(w.scale_error_kg / si));
    }
    for (key, text) in [("date", &w.date), ("note", &w.note)] {
        if text.is_empty() {
            t.remove(key);
        } else {
            set(t, key, Value::from(text.as_str()));
        }
    }
}
