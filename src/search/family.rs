//! Designs that are the same within what is known of them, as one row: the simplest stands for them.

use crate::search::few::names;
use crate::search::front::{Point, lightest_within};
use crate::search::table::{Strip, Table};
use crate::search::wing::Wing;
use crate::search::{Design, design};

/// Designs any two of which differ by less than the tolerance in mass and in repair. Members are numbers in the list
/// that was grouped, lightest first.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Family {
    pub members: Vec<usize>,
    pub lightest: usize,
    /// Fewest constructions, then fewest changes, then lightest, then least repair.
    pub simplest: usize,
    /// Mass the simplest costs over the lightest.
    pub mass_of_simplicity: u32,
}

/// Different constructions, and changes along all strips.
pub fn simplicity(table: &Table, choice: &[Vec<usize>]) -> (usize, usize) {
    (names(table, choice).len(), choice.iter().map(|c| Strip::changes(c)).sum())
}

/// Group designs, from the lightest on: each joins the first family in which it differs from every member by less than
/// the tolerance. A tolerance of 0 keeps every design apart.
pub fn group(table: &Table, designs: &[Design], tolerance: Point) -> Vec<Family> {
    let mut order: Vec<usize> = (0..designs.len()).collect();
    order.sort_by_key(|&i| (designs[i].sum.mass, designs[i].sum.repair, i));
    let mut families: Vec<(Vec<usize>, Point, Point)> = Vec::new();
    for i in order {
        let p = Point { mass: designs[i].sum.mass, repair: designs[i].sum.repair };
        let fits = |(_, low, high): &&mut (Vec<usize>, Point, Point)| {
            high.mass.max(p.mass) - low.mass.min(p.mass) < tolerance.mass
                && high.repair.max(p.repair) - low.repair.min(p.repair) < tolerance.repair
        };
        match families.iter_mut().find(fits) {
            Some((members, low, high)) => {
                members.push(i);
                *low = Point { mass: low.mass.min(p.mass), repair: low.repair.min(p.repair) };
                *high = Point { mass: high.mass.max(p.mass), repair: high.repair.max(p.repair) };
            }
            None => families.push((vec![i], p, p)),
        }
    }
    let simple = |i: &usize| {
        let d = &designs[*i];
        (simplicity(table, &d.choice), d.sum.mass, d.sum.repair, *i)
    };
    let family = |(members, _, _): (Vec<usize>, Point, Point)| {
        let lightest = members[0];
        let simplest = members.iter().copied().min_by_key(simple).unwrap_or(lightest);
        let mass_of_simplicity = designs[simplest].sum.mass - designs[lightest].sum.mass;
        Family { members, lightest, simplest, mass_of_simplicity }
    };
    families.into_iter().map(family).collect()
}

/// For each smaller number of changes along a strip: the lightest design that takes no more repair than the point and is
/// heavier by less than the tolerance. Put these beside the designs of a front before grouping, so that a family has
/// simple members to choose from.
pub fn with_fewer_changes(table: &Table, dent_floor: u32, point: Point, tolerance: u32) -> Vec<Design> {
    let most = table.strips().iter().map(|s| s.max_changes).max().unwrap_or(0);
    let mut found: Vec<Design> = Vec::new();
    for changes in 0..most {
        let fewer = table.with_most_changes(changes);
        let wing = Wing::new(&fewer, dent_floor);
        let best = lightest_within(wing.front(), Some(u64::from(point.repair)));
        let near = best.filter(|p| p.mass.saturating_sub(point.mass) < tolerance);
        found.extend(near.and_then(|p| design(&fewer, &wing, p)));
    }
    found.dedup_by(|a, b| a.choice == b.choice);
    found
}
