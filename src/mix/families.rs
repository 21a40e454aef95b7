//! Results as families: designs whose weight and repair hours differ by less than their paired uncertainty are one row,
//! shown by the simplest member with the weight that its simplicity costs.

use rayon::prelude::*;

use crate::mix::fill::Filled;
use crate::mix::listed::Listed;
use crate::physics::assumptions::Assumptions;
use crate::physics::design::Design;
use crate::physics::evaluation::evaluate;
use crate::search::front::Point;
use crate::search::{self, Limits, Table, family};

/// Draws of all assumptions, the same for both designs.
const DRAWS: u64 = 24;
/// Half the distance from P10 to P90 of a normal distribution, in standard deviations.
const P90: f64 = 1.2816;
/// Points for which simpler designs near them are looked for.
const SIMPLER: usize = 8;

/// A row: the design shown and what stands behind it.
#[derive(Debug, Clone)]
pub struct Member {
    pub design: search::Design,
    /// Designs of the front that are one with it.
    pub of: usize,
    /// Mass it costs over the lightest of them, ticks.
    pub simplicity: u32,
}

/// How much two designs differ by chance: half the P10-P90 band of the difference in expected kg and repair hours over
/// the same draws for both.
pub fn paired_uncertainty(a: &Design, b: &Design) -> (f64, f64) {
    let both: Vec<(f64, f64)> = (0..DRAWS)
        .into_par_iter()
        .map(|seed| {
            let drawn = Assumptions::draw(seed);
            let (x, y) = (evaluate(a, &drawn), evaluate(b, &drawn));
            (x.weight.expected_kg - y.weight.expected_kg, x.durability.repair_h - y.durability.repair_h)
        })
        .collect();
    let band = |f: fn(&(f64, f64)) -> f64| {
        let n = both.len() as f64;
        let mean = both.iter().map(f).sum::<f64>() / n;
        P90 * (both.iter().map(|d| (f(d) - mean).powi(2)).sum::<f64>() / (n - 1.0)).sqrt()
    };
    (band(|d| d.0), band(|d| d.1))
}

/// The families of a front, lightest first; none of a front of none.
pub fn families(filled: &Filled, table: &Table, front: &Listed, limits: &Limits) -> Vec<Member> {
    let mut designs = front.designs.clone();
    let (Some(first), Some(last)) = (designs.first(), designs.get(designs.len() / 3)) else { return Vec::new() };
    let (kg, h) = paired_uncertainty(&filled.design(&first.choice), &filled.design(&last.choice));
    let ticks = |v: f64, tick: f64| (v / tick).clamp(0.0, 1e8) as u32;
    let tolerance = Point { mass: ticks(kg, filled.ticks.mass_kg), repair: ticks(h, filled.ticks.hour_h) };
    let keeps =
        |d: &search::Design| d.sum.yields.iter().zip(limits.yields).all(|(y, l)| l.is_none_or(|l| u64::from(*y) <= l));
    for p in front.points.iter().step_by(front.points.len().div_ceil(SIMPLER).max(1)) {
        for d in family::with_fewer_changes(table, limits.dent_floor, *p, tolerance.mass) {
            if keeps(&d) && !designs.iter().any(|x| x.choice == d.choice) {
                designs.push(d);
            }
        }
    }
    let mut out: Vec<Member> = family::group(table, &designs, tolerance)
        .into_iter()
        .filter_map(|f| {
            let design = designs.get(f.simplest)?.clone();
            Some(Member { design, of: f.members.len(), simplicity: f.mass_of_simplicity })
        })
        .collect();
    out.sort_by_key(|m| m.design.sum.mass);
    out
}
