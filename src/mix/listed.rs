//! Designs of the front of a table: every point of it where repair alone is weighed against mass, and as many as are
//! asked for, each the lightest at its repair, where modes of the whole wing are limited too.

use crate::search::front::Point;
use crate::search::table::TOTAL_CEILING;
use crate::search::wing::Wing;
use crate::search::{self, Again, Limits, Prices, Table};

/// Designs that are traced of a front that is known whole.
const TRACED: usize = 60;

/// The front as designs.
#[derive(Debug, Clone, Default)]
pub struct Listed {
    /// Repair rises, mass falls.
    pub points: Vec<Point>,
    /// Whether there are no other points.
    pub whole: bool,
    /// Designs of the points, evenly spread over them.
    pub designs: Vec<search::Design>,
}

/// List it. Limits on repair, building hours and cost do not count: they are what it is read against. `every` point, or so
/// many.
pub fn listed(table: &Table, wing: &Wing, limits: &Limits, (points, every): (usize, bool)) -> Listed {
    let free = wing.front();
    if limits.yields == [None; 2] {
        let step = free.len().div_ceil(TRACED).max(1);
        let trace = |p: &Point| {
            let choice = wing.design(*p)?;
            Some(search::Design { sum: table.add_up(&choice)?, choice })
        };
        let designs = free.iter().step_by(step).filter_map(trace).collect();
        return Listed { points: free.to_vec(), whole: true, designs };
    }
    let designs = at_levels(table, limits, &levels(free, points));
    if every {
        let left = Limits { repair: None, build: None, cost: None, ..*limits };
        let (points, whole) = search::front_within(table, wing, &left, search::CEILING);
        return Listed { points, whole, designs };
    }
    let points = designs.iter().map(|d| Point { mass: d.sum.mass, repair: d.sum.repair }).collect();
    Listed { points, whole: false, designs }
}

/// Repair from the least of a front to the most, as many as asked for, evenly spread over the points; and any repair at
/// all, for what is stiff enough may take more than the lightest.
pub fn levels(free: &[Point], points: usize) -> Vec<u64> {
    let step = free.len().div_ceil(points.max(1)).max(1);
    free.iter().step_by(step).map(|p| u64::from(p.repair)).chain([TOTAL_CEILING - 1]).collect()
}

/// The lightest design at each level of repair, rising; where one does for the next level down it is not given twice, and
/// levels no design keeps are left out.
pub fn at_levels(table: &Table, limits: &Limits, levels: &[u64]) -> Vec<search::Design> {
    let repair = levels.last().copied();
    let free = Limits { repair, build: None, cost: None, ..*limits };
    let mut again = Again::new(table, &free, Prices::default());
    let mut out: Vec<search::Design> = Vec::new();
    for &level in levels.iter().rev() {
        // The last one may do here too.
        if out.last().is_some_and(|d| u64::from(d.sum.repair) <= level) {
            continue;
        }
        let l = Limits { repair: Some(level), ..free };
        match again.lightest(table, &l, super::recheck::LABELS).0 {
            Some(d) => out.push(d),
            None => break,
        }
    }
    out.reverse();
    out
}
