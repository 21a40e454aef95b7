//! What caps may be made of: the choice between the `[[spar.cap]]` of a scenario, as dials and as saved.

use toml_edit::{ArrayOfTables, DocumentMut, Item, Table, TableLike, Value, value};

use crate::physics::design::{Cap, CapKind, Design};
use crate::scenario::check_spar::OF_A_KIND;
use crate::scenario::dials::{Dial, Group, Turn, What};

/// Key of what a cap is made of where its own table says so.
const AS_WRITTEN: &str = "as_written";

/// Put what the caps are made of among the kinds, where there are any and it is none of them.
pub(super) fn with_those_written(kinds: &mut Vec<CapKind>, caps: [&Cap; 2]) {
    if kinds.is_empty() {
        return;
    }
    for cap in caps {
        if !kinds.iter().any(|k| k.is_in(cap)) {
            let free = |n: &usize| !kinds.iter().any(|k| k.key == numbered(*n));
            // One more name than there are kinds: one is free.
            let n = (1..=kinds.len() + 1).find(free).unwrap_or(1);
            kinds.push(CapKind::of(numbered(n), cap));
        }
    }
}

fn numbered(n: usize) -> String {
    if n == 1 { AS_WRITTEN.to_owned() } else { format!("{AS_WRITTEN}_{n}") }
}

const fn of(d: &Design, upper: bool) -> &Cap {
    if upper { &d.spar.upper } else { &d.spar.lower }
}

/// The kind a cap is made of.
pub(super) fn kind(d: &Design, upper: bool) -> Option<&CapKind> {
    d.spar.kind_of(of(d, upper))
}

/// Make a cap of the kind of that name.
pub(super) fn set(d: &mut Design, upper: bool, key: &str) {
    let Some(k) = d.spar.kinds.iter().find(|k| k.key == key).cloned() else { return };
    k.put(if upper { &mut d.spar.upper } else { &mut d.spar.lower });
}

/// The dials of both caps, where there is a choice.
pub(super) fn push(d: &Design, out: &mut Vec<Dial>) {
    if d.spar.kinds.len() < 2 {
        return;
    }
    for (upper, which, label) in [(true, "upper", "Upper cap"), (false, "lower", "Lower cap")] {
        out.push(Dial {
            key: format!("spar.{which}_cap.use"),
            label: label.to_owned(),
            group: Group::Spar,
            unit: "",
            turn: Turn::Choice(d.spar.kinds.iter().map(|k| k.key.clone()).collect()),
            what: What::CapKind(upper),
        });
    }
}

/// Write the choice: what its own table said of a cap moves to a `[[spar.cap]]` of its own, and what only the table of the
/// other cap says of the kind chosen is copied to one.
pub(super) fn write(doc: &mut DocumentMut, before: &Design, d: &Design, upper: bool) {
    let Some(new) = kind(d, upper) else { return };
    let Some(spar) = doc.get_mut("spar").and_then(Item::as_table_like_mut) else { return };
    let (key, other) = if upper { ("upper_cap", "lower_cap") } else { ("lower_cap", "upper_cap") };
    let Some(cap) = spar.get_mut(key).and_then(Item::as_table_like_mut) else { return };
    let said: Vec<(&str, Item)> = OF_A_KIND.into_iter().filter_map(|k| Some((k, cap.remove(k)?))).collect();
    cap.insert("use", value(&new.key));
    if let Some(old) = kind(before, upper) {
        keep(spar, &old.key, said);
    }
    let Some(other) = spar.get(other).and_then(Item::as_table_like) else { return };
    let said = OF_A_KIND.into_iter().filter_map(|k| Some((k, other.get(k)?.clone()))).collect();
    keep(spar, &new.key, said);
}

/// Another `[[spar.cap]]` of what was said, if none is called so yet.
fn keep(spar: &mut dyn TableLike, key: &str, said: Vec<(&str, Item)>) {
    if said.is_empty() {
        return;
    }
    let list = spar.entry("cap").or_insert(Item::ArrayOfTables(ArrayOfTables::new()));
    let mut new = Table::new();
    new["key"] = value(key);
    for (k, v) in said {
        new[k] = v;
    }
    let called = |t: &dyn TableLike| t.get("key").and_then(Item::as_str) == Some(key);
    if let Some(list) = list.as_array_of_tables_mut() {
        if !list.iter().any(|t| called(t)) {
            list.push(new);
        }
    } else if let Some(list) = list.as_array_mut()
        && !list.iter().any(|v| v.as_inline_table().is_some_and(|t| called(t)))
    {
        list.push(Value::InlineTable(new.into_inline_table()));
    }
}
