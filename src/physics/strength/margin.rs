//! A margin: how much of a load a place stands, and what that was worked out from.

use crate::physics::design::Strip;

/// One input of a margin, for the working.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Input {
    pub label: &'static str,
    pub value: f64,
    pub unit: &'static str,
}

/// What an input is called, and its unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Label {
    pub label: &'static str,
    pub unit: &'static str,
}

/// Most inputs a margin has.
const MOST: usize = 9;

/// The inputs of a margin: what they are called stands once, with the mode.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Inputs {
    labels: &'static [Label],
    values: [f64; MOST],
}

impl Inputs {
    /// Up to eight numbers under their labels.
    #[inline]
    pub(crate) fn new<const N: usize>(labels: &'static [Label; N], given: [f64; N]) -> Self {
        const { assert!(N <= MOST, "a margin has nine inputs at most") };
        let mut values = [0.0; MOST];
        values[..N].copy_from_slice(&given);
        Self { labels, values }
    }

    /// Every one of them.
    pub fn iter(&self) -> impl Iterator<Item = Input> {
        self.labels.iter().zip(self.values).map(|(l, value)| Input { label: l.label, value, unit: l.unit })
    }
}

/// Label, value and unit of each input.
macro_rules! inputs {
    ($(($label:literal, $value:expr, $unit:literal)),* $(,)?) => {
        $crate::physics::strength::margin::Inputs::new(
            &[$($crate::physics::strength::margin::Label { label: $label, unit: $unit }),*],
            [$($value),*],
        )
    };
}
pub(crate) use inputs;

#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Verdict {
    Holds,
    Short,
    /// Why it is not shown.
    NotShown(&'static str),
}

/// The governing margin of one mode in one bay (and strip).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Margin {
    pub mode: &'static str,
    pub bay: Option<usize>,
    pub strip: Option<Strip>,
    /// Index into `Loads::cases`.
    pub case: Option<usize>,
    /// Allowable over applied; fails below 1. Infinite when nothing is applied.
    pub rf: f64,
    pub verdict: Verdict,
    /// Applied and allowable, in `unit`.
    pub applied: f64,
    pub allowable: f64,
    pub unit: &'static str,
    pub inputs: Inputs,
}

/// A margin from what is applied and allowed. Nothing applied: infinite reserve.
#[inline]
pub fn margin(
    mode: &'static str,
    place: (Option<usize>, Option<Strip>, Option<usize>),
    loads: (f64, f64, &'static str),
    inputs: Inputs,
) -> Margin {
    let (applied, allowable, unit) = loads;
    let rf = if applied > 0.0 { allowable / applied } else { f64::INFINITY };
    let verdict = if rf.is_nan() || !applied.is_finite() {
        Verdict::NotShown("out of the range of its formula")
    } else if rf >= 1.0 {
        Verdict::Holds
    } else {
        Verdict::Short
    };
    let (bay, strip, case) = place;
    Margin { mode, bay, strip, case, rf: if rf.is_nan() { 0.0 } else { rf }, verdict, applied, allowable, unit, inputs }
}
