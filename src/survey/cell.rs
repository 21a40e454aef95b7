//! What happens inside one cell of the grid: the design as the dials say, or the lightest mix at those dials; always the
//! full evaluator, and whether the design is within the limits.

use crate::mix::limits::Ticks;
use crate::mix::{self, Ask, Start};
use crate::physics::assumptions::Assumptions;
use crate::physics::design::Design;
use crate::physics::evaluation::{Evaluation, WingVerdict, evaluate};

/// One tick of mass, kg: 0.1 g. Masses are rounded up to it.
pub const MASS_TICK_KG: f64 = 1e-4;
/// One tick of repair hours, h: hours are rounded up to it.
pub const HOUR_TICK_H: f64 = 0.01;

/// Why a cell is out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[repr(u8)]
pub enum Status {
    Within = 0,
    Short = 1,
    NotShown = 2,
    Durability = 3,
    Press = 4,
    Stall = 5,
    Deflection = 6,
    Hours = 7,
    Cost = 8,
    Pieces = 9,
    NoMix = 10,
}

impl Status {
    /// All, by their number in a record.
    pub const ALL: [Self; 11] = [
        Self::Within,
        Self::Short,
        Self::NotShown,
        Self::Durability,
        Self::Press,
        Self::Stall,
        Self::Deflection,
        Self::Hours,
        Self::Cost,
        Self::Pieces,
        Self::NoMix,
    ];
    /// Why, in words.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Within => "within all limits",
            Self::Short => "a strength margin is short",
            Self::NotShown => "a margin is not shown and not accepted",
            Self::Durability => "durability below its limit",
            Self::Press => "press load below its limit",
            Self::Stall => "stall above its limit",
            Self::Deflection => "tip deflection above its limit",
            Self::Hours => "building hours above their limit",
            Self::Cost => "cost above its limit",
            Self::Pieces => "a piece too long or too heavy",
            Self::NoMix => "no mix of constructions keeps the limits",
        }
    }
    /// From its number in a record.
    pub fn from_byte(byte: u8) -> Option<Self> {
        Self::ALL.get(usize::from(byte)).copied()
    }
}

/// What is kept of a cell.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Outcome {
    pub status: Status,
    /// Budget weight and expected repair hours per 100 outings, in ticks, rounded up.
    pub mass: u32,
    pub repair: u32,
}

/// Evaluate one design in full.
pub fn judge(design: &Design) -> Outcome {
    outcome(design, &evaluate(design, &Assumptions::default()))
}

/// The lightest durable mix at one setting of the dials, evaluated in full; found from designs at that setting with the
/// constructions of lightest mixes at the scenario's own.
pub fn judge_mix(starts: &[Start], ask: &Ask) -> Outcome {
    let none = Outcome { status: Status::NoMix, mass: u32::MAX, repair: u32::MAX };
    let found = mix::find_near(starts, ask, Ticks::LIVE, &Assumptions::default());
    let both = found.ok().and_then(|(m, e)| m.lightest.zip(e));
    both.map_or(none, |(row, e)| outcome(&row.design, &e))
}

/// The outcome of an evaluation.
pub fn outcome(design: &Design, e: &Evaluation) -> Outcome {
    Outcome {
        status: within(design, e),
        mass: ticks(e.weight.budget_kg, MASS_TICK_KG),
        repair: ticks(e.durability.repair_h, HOUR_TICK_H),
    }
}

/// Whole ticks, rounded up; the greatest number stands for anything beyond it.
pub fn ticks(value: f64, tick: f64) -> u32 {
    if value.is_finite() { (value / tick - 1e-9).ceil().clamp(0.0, f64::from(u32::MAX)) as u32 } else { u32::MAX }
}

/// The first limit a design breaks. The weight target is what is searched for, so it is no limit here.
pub fn within(design: &Design, e: &Evaluation) -> Status {
    let t = &design.targets;
    let above = |value: f64, limit: Option<f64>| limit.is_some_and(|l| value > l);
    let below = |value: f64, limit: Option<f64>| limit.is_some_and(|l| value < l);
    match e.strength.verdict {
        WingVerdict::Short => return Status::Short,
        WingVerdict::NotShown => return Status::NotShown,
        WingVerdict::Holds => {}
    }
    if below(e.durability.index, t.durability_index) || above(e.durability.outings_lost, t.outings_lost_per_100) {
        Status::Durability
    } else if below(e.durability.least_press.value_n, t.press_n) {
        Status::Press
    } else if above(e.flight.stall_m_s, t.stall_m_s) {
        Status::Stall
    } else if above(e.work.hours, t.hours) {
        Status::Hours
    } else if above(e.work.cost, t.cost) {
        Status::Cost
    } else if above(e.work.largest_piece_m, t.largest_piece_m)
        || above(e.work.heaviest_piece_kg, t.heaviest_piece_kg)
        || above(e.work.set_up_minutes, t.set_up_minutes)
    {
        Status::Pieces
    } else {
        Status::Within
    }
}
