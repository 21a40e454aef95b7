//! The `[search]` table: what a scenario wants searched when nothing else is said.

use crate::physics::design::Design;
use crate::scenario::reader::Table;
use crate::survey::space::{Axis, read_axis};

/// What a scenario asks of a search.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct SearchAsk {
    /// Dials that vary, in the order written.
    pub vary: Vec<Axis>,
}

/// As written, with places, before the dials of the design are known.
pub(super) struct Written {
    vary: Vec<(usize, String)>,
}

/// Read the table.
pub(super) fn read(root: &Table) -> Written {
    let Some(t) = root.table("search") else { return Written { vary: Vec::new() } };
    let vary = t.texts("vary");
    t.done();
    Written { vary }
}

/// Check what was written against the dials of the design.
pub(super) fn checked(written: &Written, design: &Design, root: &Table) -> SearchAsk {
    let mut ask = SearchAsk::default();
    for (at, text) in &written.vary {
        match read_axis(text, design) {
            Ok(axis) if ask.vary.iter().any(|a| a.dial.key == axis.dial.key) => {
                root.faults.add(*at, format!("`{}` is varied twice", axis.dial.key), "name each dial once");
            }
            Ok(axis) => ask.vary.push(axis),
            Err(p) => root.faults.add(*at, p.what, p.next),
        }
    }
    ask
}
