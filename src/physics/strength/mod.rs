//! Strength: the list of failure modes, one file each, and the margins they give.

use crate::physics::design::{Design, Strip};
use crate::physics::laminate::construction::Skin;
use crate::physics::loads::internal::Loads;
use crate::physics::strength::sizing::{Section, Sizing};
use crate::physics::wing::layout::Layout;

pub mod sizing;

/// One input of a margin, for the working.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Input {
    pub label: &'static str,
    pub value: f64,
    pub unit: &'static str,
}

/// Up to eight inputs; unused ones have an empty label.
pub type Inputs = [Input; 8];

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

/// Everything a mode may look at.
pub struct Context<'a> {
    pub design: &'a Design,
    pub layout: &'a Layout,
    pub skins: &'a [Skin],
    pub loads: &'a Loads,
    pub sizing: &'a Sizing,
    /// Section properties by bay (at the inner edge), and of the tip: bays + 1.
    pub sections: &'a [Section],
    /// Deflection and twist by case at the stations.
    pub bending: &'a [sizing::Bent],
}

/// A failure mode.
pub struct Mode {
    pub key: &'static str,
    pub title: &'static str,
    pub formula: &'static str,
    pub source: &'static str,
    pub valid: &'static str,
    pub safe_side: &'static str,
    pub knock_down: &'static str,
    /// RF scales with load to minus this power.
    pub power: f64,
    /// None: the mode is not assessed, and `valid` says why.
    pub margins: Option<fn(&Context, &mut Vec<Margin>)>,
}

/// Every mode of the design document; those without a function are listed as not shown.
pub const MODES: &[Mode] = &[];

/// Margins of all modes.
pub fn margins(context: &Context) -> Vec<Margin> {
    let mut out = Vec::new();
    for mode in MODES {
        match mode.margins {
            Some(f) => f(context, &mut out),
            None => out.push(Margin {
                mode: mode.key,
                bay: None,
                strip: None,
                case: None,
                rf: f64::INFINITY,
                verdict: Verdict::NotShown(mode.valid),
                applied: 0.0,
                allowable: 0.0,
                unit: "",
                inputs: Inputs::default(),
            }),
        }
    }
    out
}
