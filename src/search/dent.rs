//! The least dent load as a third axis: the front of mass, repair and dent load.

use crate::search::front::{Point, lightest_within};
use crate::search::table::Table;
use crate::search::wing::Wing;

/// A point of the front of three: no design is as light, takes as little repair and bears as much at once.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct DentPoint {
    pub dent: u32,
    pub mass: u32,
    pub repair: u32,
}

/// Distinct dent loads of the cells, least first: the levels at which a front can change.
pub fn levels(table: &Table) -> Vec<u32> {
    let mut levels: Vec<u32> = table.strips().iter().flat_map(|s| &s.cells).flatten().map(|c| c.dent).collect();
    levels.sort_unstable();
    levels.dedup();
    levels
}

/// The front of mass and repair at every level given, in their order. Fronts only shrink upward, so between two levels
/// of equal fronts nothing is computed, and strips without a cell between two levels keep theirs.
pub fn sweep(table: &Table, levels: &[u32]) -> Vec<Vec<Point>> {
    let mut fronts: Vec<Option<Vec<Point>>> = vec![None; levels.len()];
    let (Some(&least), Some(&most)) = (levels.first(), levels.last()) else { return Vec::new() };
    let low = Wing::new(table, least);
    let high = low.at_floor(table, most);
    fronts[0] = Some(low.front().to_vec());
    fronts[levels.len() - 1] = Some(high.front().to_vec());
    let mut spans = vec![(0, levels.len() - 1, low, high)];
    while let Some((a, b, low, high)) = spans.pop() {
        if b - a < 2 {
            continue;
        }
        if low.front() == high.front() {
            for f in &mut fronts[a + 1..b] {
                *f = Some(low.front().to_vec());
            }
            continue;
        }
        let middle = a + (b - a) / 2;
        let wing = low.at_floor(table, levels[middle]);
        fronts[middle] = Some(wing.front().to_vec());
        spans.push((a, middle, low, wing.clone()));
        spans.push((middle, b, wing, high));
    }
    fronts.into_iter().map(Option::unwrap_or_default).collect()
}

/// The front of three over the levels given (least first), highest dent load first.
pub fn front(table: &Table, levels: &[u32]) -> Vec<DentPoint> {
    let fronts = sweep(table, levels);
    let mut out = Vec::new();
    let mut above: &[Point] = &[];
    for (&dent, front) in levels.iter().zip(&fronts).rev() {
        let beaten = |p: &Point| lightest_within(above, Some(u64::from(p.repair))).is_some_and(|q| q.mass <= p.mass);
        out.extend(front.iter().filter(|p| !beaten(p)).map(|p| DentPoint { dent, mass: p.mass, repair: p.repair }));
        above = front;
    }
    out
}
