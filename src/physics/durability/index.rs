//! The results of durability and how they are put together.

use crate::physics::assumptions::Assumptions;
use crate::physics::design::Design;
use crate::physics::laminate::construction::Skin;
use crate::physics::mass::tally::Weight;
use crate::physics::wing::layout::Layout;

/// What a press does first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum PressKind {
    #[default]
    LastingMark,
    FaceCracked,
    Pierced,
    CutOnRib,
    Slackened,
    /// Nothing there to press.
    Nothing,
}

impl PressKind {
    pub const fn word(self) -> &'static str {
        match self {
            Self::LastingMark => "lasting mark",
            Self::FaceCracked => "face cracked",
            Self::Pierced => "pierced",
            Self::CutOnRib => "cut on a rib",
            Self::Slackened => "slackened",
            Self::Nothing => "open",
        }
    }
}

/// Resistance and expectation of one zone (index-matched with `Layout::zones`).
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct ZoneDurability {
    /// P5 load of an 8 mm thumb pad held 10 s that first needs repair, N, and what it does.
    pub press_n: f64,
    pub press_kind: PressKind,
    /// The same for a 10 mm hard ball.
    pub ball_n: f64,
    pub ball_kind: PressKind,
    /// Outside the fitted box of the dent model.
    pub extrapolated: bool,
    /// Expected repair hours, outings lost, unseen damages, marks or worse per 100 outings; whole wing (both halves).
    pub repair_h: f64,
    pub outings_lost: f64,
    pub unseen: f64,
    pub marks: f64,
    /// May be held with a flat hand at its share of the wing mass.
    pub hold_safe: bool,
}

/// One event over the whole wing.
#[derive(Debug, Clone, PartialEq)]
pub struct EventResult {
    pub key: &'static str,
    pub title: &'static str,
    pub per_100_outings: f64,
    pub marks: f64,
    pub holes: f64,
    pub repair_h: f64,
    pub outings_lost: f64,
    pub unseen: f64,
    /// Zone that suffers most.
    pub worst_zone: Option<usize>,
    pub source: &'static str,
    pub assumption: bool,
}

#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Least {
    pub value_n: f64,
    pub kind: PressKind,
    pub zone: usize,
}

/// One change and what it would bring.
#[derive(Debug, Clone, PartialEq)]
pub struct Gain {
    pub what: String,
    pub index_gain: f64,
    pub repair_h_gain: f64,
}

#[derive(Debug, Clone, PartialEq, Default)]
pub struct Durability {
    pub zones: Vec<ZoneDurability>,
    pub events: Vec<EventResult>,
    /// Expected repair hours per 100 outings, whole wing.
    pub repair_h: f64,
    pub repair_h_p10: f64,
    pub repair_h_p90: f64,
    pub index: f64,
    pub index_p10: f64,
    pub index_p90: f64,
    pub outings_lost: f64,
    pub unseen: f64,
    pub marks: f64,
    pub mass_added_kg: f64,
    pub field_repairable_share: f64,
    pub press_safe_share: f64,
    pub hold_safe_share: f64,
    pub least_press: Least,
    pub least_ball: Least,
    /// Spread of ln H by assumption: (index in `assumptions::LIST`, d lnH / d lnfactor x beta), largest first.
    pub rests_on: Vec<(usize, f64)>,
    pub warnings: Vec<String>,
}

/// Expected damage of the wing.
pub fn rate(design: &Design, layout: &Layout, skins: &[Skin], weight: &Weight, assumed: &Assumptions) -> Durability {
    let _ = (design, layout, skins, weight, assumed);
    Durability::default()
}
