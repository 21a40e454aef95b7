//! The scenario's targets as limits of the table, in ticks.

use crate::physics::design::Design;
use crate::physics::durability::index::H0_H;

/// Ticks of a table.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ticks {
    pub mass_kg: f64,
    pub hour_h: f64,
    pub cost: f64,
}

impl Ticks {
    /// For dials turned live and for the outer search: 0.1 g, 0.01 h, a hundredth of the currency.
    pub const LIVE: Self = Self { mass_kg: 1e-4, hour_h: 0.01, cost: 0.01 };
    /// For the final answer: repair hours ten times finer.
    pub const FINE: Self = Self { mass_kg: 1e-4, hour_h: 0.001, cost: 0.01 };
}

/// A tick of building hours.
pub const BUILD_TICK_H: f64 = 0.01;

/// Whole ticks, rounded up; `None` beyond what a table may hold.
pub fn up(value: f64, tick: f64) -> Option<u32> {
    let n = (value / tick - 1e-9).ceil().max(0.0);
    (n < f64::from(1 << 29)).then_some(n as u32)
}

/// Expected repair hours per 100 outings at which the durability index is the target; none without a target.
pub fn repair_limit_h(design: &Design) -> Option<f64> {
    design.targets.durability_index.filter(|i| *i > 0.0).map(|i| H0_H * (100.0 / i - 1.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The definition of the index in the design document: 100/(1 + H/25 h), so 50 is 25 h and 20 is 100 h.
    #[test]
    fn the_index_turns_into_hours_and_back() {
        for (i, h) in [(50.0, 25.0), (20.0, 100.0), (100.0, 0.0)] {
            assert!((H0_H * (100.0 / i - 1.0) - h).abs() < 1e-9);
            assert!((crate::physics::durability::index::index(h) - i).abs() < 1e-9);
        }
        assert_eq!(up(0.0101, 0.01), Some(2));
        assert_eq!(up(0.01, 0.01), Some(1));
        assert_eq!(up(f64::INFINITY, 0.01), None);
        assert_eq!(up(f64::NAN, 0.01), Some(0));
    }
}
