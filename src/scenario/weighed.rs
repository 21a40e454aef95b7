//! Weighings in the text of a scenario: one is changed, taken out or put at the end, the others and their remarks stay.

use toml_edit::{ArrayOfTables, DocumentMut, Item, Table, Value, value};

use crate::physics::design::Design;
use crate::physics::mass::tally::Heading;
use crate::physics::mass::weighed::{Half, Piece, SCALE_ERROR_KG, Weighing};
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

/// Enter a weighing among those of a wing; one of the same piece and half is weighed again. What to do otherwise.
pub fn enter(d: &mut Design, new: Weighing) -> Result<(), String> {
    check_weighed::is_there(&new.piece, &check_weighed::lines(d))?;
    let mut left: Vec<Weighing> = d.weighed.clone();
    if let Some(old) = left.iter_mut().find(|w| w.piece == new.piece && w.half == new.half) {
        old.mass_kg = new.mass_kg;
        old.date = if new.date.is_empty() { std::mem::take(&mut old.date) } else { new.date };
        old.note = if new.note.is_empty() { std::mem::take(&mut old.note) } else { new.note };
        d.weighed = left;
        return Ok(());
    }
    let meets =
        |w: &&Weighing| w.piece.meets(&new.piece) && (w.piece != new.piece || [w.half, new.half].contains(&Half::Both));
    if let Some(other) = left.iter().find(meets) {
        return Err(format!(
            "\"{}\" ({}) is weighed already; take that out first",
            other.piece.words(),
            other.half.key()
        ));
    }
    left.push(new);
    d.weighed = left;
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

/// Mass, scale, day and note of a weighing, in grams.
fn put(t: &mut Table, w: &Weighing) {
    let mut set = |key: &str, v: Value| {
        let decor = t.get(key).and_then(Item::as_value).map(|v| v.decor().clone());
        t[key] = value(v);
        if let (Some(d), Some(v)) = (decor, t[key].as_value_mut()) {
            *v.decor_mut() = d;
        }
    };
    let grams = |kg: f64| Value::from((kg * 1e4).round() / 10.0);
    set("mass_g", grams(w.mass_kg));
    if (w.scale_error_kg - SCALE_ERROR_KG).abs() > 1e-12 {
        set("scale_error_g", grams(w.scale_error_kg));
    }
    for (key, text) in [("date", &w.date), ("note", &w.note)] {
        if !text.is_empty() {
            set(key, Value::from(text.as_str()));
        }
    }
    for other in ["mass_kg", "mass_lb", "mass_oz", "scale_error_oz"] {
        t.remove(other);
    }
}
