//! The one table of dials: every input a person turns.

use crate::physics::design::Design;

/// Heading a dial stands under on the Wing page.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Group {
    Planform,
    Layout,
    AftSkins,
    PliesAndCores,
    Spar,
    Loads,
    Masses,
    GroundCare,
}

/// What a dial turns through.
#[derive(Debug, Clone, PartialEq)]
pub enum Turn {
    /// A quantity in the shown unit.
    Number { least: f64, most: f64, step: f64, coarse: f64, digits: usize },
    /// A whole number.
    Whole { least: i64, most: i64 },
    /// One of a list; the value is the index.
    Choice(Vec<String>),
}

/// One dial.
#[derive(Debug, Clone, PartialEq)]
pub struct Dial {
    /// Key, also for `--set KEY=VALUE` and `search`, e.g. `planform.span_m`.
    pub key: String,
    pub label: String,
    pub group: Group,
    /// Unit shown.
    pub unit: &'static str,
    pub turn: Turn,
}

impl Dial {
    /// Value in the shown unit (index for a choice).
    pub fn value(&self, design: &Design) -> f64 {
        let _ = design;
        0.0
    }
    /// Set it; out-of-range values are clamped. Values are rounded to the dial's digits.
    pub fn set(&self, design: &mut Design, value: f64) {
        let _ = (design, value);
    }
    /// The value as shown, unit not included.
    pub fn shown(&self, design: &Design) -> String {
        format!("{}", self.value(design))
    }
}

/// All dials of this design, in the order of the Wing page.
pub fn dials(design: &Design) -> Vec<Dial> {
    let _ = design;
    Vec::new()
}
