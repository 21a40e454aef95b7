//! Every dial of the scenario: what the person gave.

use std::fmt::Write as _;

use super::Sheet;
use super::html::{Row, esc, numbers, table, words};
use crate::scenario::dials::{Dial, Group, dials};

const fn title(group: Group) -> &'static str {
    match group {
        Group::Planform => "Planform",
        Group::Layout => "Layout",
        Group::AftSkins => "Skins",
        Group::PliesAndCores => "Plies and cores",
        Group::Spar => "Spar",
        Group::Loads => "Loads",
        Group::Masses => "Masses and people",
        Group::GroundCare => "Ground care",
        Group::Workshop => "Workshop",
    }
}

/// A table for each group.
pub(super) fn html(s: &Sheet) -> String {
    let d = s.design();
    let all = dials(d);
    let mut out =
        "<p>What the scenario gives, by the key that assess --set takes; the whole is in its file.</p>\n".to_owned();
    let mut groups: Vec<Group> = Vec::new();
    for x in &all {
        if !groups.contains(&x.group) {
            groups.push(x.group);
        }
    }
    for group in groups {
        let row = |dial: &Dial| -> Row {
            vec![
                esc(&dial.label),
                format!("<span data-dial=\"{}\">{}</span>", esc(&dial.key), esc(&dial.shown(d))),
                esc(dial.unit),
                esc(&dial.key),
            ]
            .into()
        };
        let rows: Vec<Row> = all.iter().filter(|x| x.group == group).map(row).collect();
        let columns = [words("input"), numbers("value"), words("unit"), words("key")];
        let _ = write!(out, "{}", table(title(group), &columns, &rows));
    }
    out
}
