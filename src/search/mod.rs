//! The exact search: from a table of whole numbers to the front of mass against repair hours, and the lightest design
//! within limits. Knows no wing, file, thread, clock or screen; the physics fills the table and re-checks every design.
//!
//! # Filling a table
//!
//! One [`Strip`] for each chain of bays that shares no constraint with another (a skin strip, the web, a cap, the ribs
//! as a chain of one-bay choices). For each construction and bay one [`Cell`]: round mass, repair, build and cost **up**
//! to the tick and dent load **down**; leave the cell out where a margin does not hold or is not shown. For each joint
//! between bays `j` and `j + 1` and each pair of splice classes one [`Joint`], or none where that change is forbidden.
//! Then [`Table::new`] checks shapes and totals (all below 2^30 over the wing).
//!
//! # What is exact
//!
//! On the ticks the front is complete: every design is equalled or beaten, in mass and repair together, by a point of
//! it, and every point is a design. Against unrounded hours each cell and joint gains less than one tick, so with `Z`
//! zones a front is off by less than `Z` ticks of repair (twice that counting joints) and never on the light side.
//!
//! # Order between equals
//!
//! Points: least mass, then least repair. Designs: see `trace`. The same table gives the same answer to the byte.

mod bound;
mod chain;
/// Dent load as a third axis.
pub mod dent;
mod dual;
/// One strip changed at a time.
pub mod edit;
/// What an answer rests on.
pub mod explain;
/// Designs that are the same within what is known.
pub mod family;
/// At most so many constructions.
pub mod few;
/// A front of mass against repair hours.
pub mod front;
/// Sums of fronts.
pub mod merge;
/// A table from JSON.
pub mod read;
mod ready;
/// Rules a person can state.
pub mod rules;
mod sparse;
mod strip;
/// The table.
pub mod table;
mod trace;
/// Fronts of all strips and of the wing.
pub mod wing;
mod within;

use crate::problem::Problem;
use chain::Uses;
use front::{Front, Point};
use ready::Ready;
use rules::Rule;
pub use table::{Cell, Joint, Strip, Sum, Table};
use wing::Wing;

/// Labels one window of a search within limits may make before it stops with what it has: some hundred megabytes.
pub const CEILING: usize = 5_000_000;
/// What finding prices, or a branch, costs in labels, so that a list of many easy searches ends too.
const SEARCH_LABELS: usize = 2000;
/// Labels a list of points may take, for each label that one search may make.
const SEARCHES: usize = 16;

/// What a design must keep to; nothing asked by default. In the ticks of the table.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Limits {
    pub repair: Option<u64>,
    pub build: Option<u64>,
    pub cost: Option<u64>,
    /// Most of either of the two more sums.
    pub yields: [Option<u64>; 2],
    /// Least dent load of any cell, N.
    pub dent_floor: u32,
}

impl Limits {
    /// Whether anything beyond repair and dent load is limited, so that the front alone does not tell.
    pub const fn beyond_repair(&self) -> bool {
        self.build.is_some() || self.cost.is_some() || self.yields[0].is_some() || self.yields[1].is_some()
    }
}

/// How sure an answer is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Status {
    /// No design within the limits is lighter, for this table.
    Proven,
    /// The label ceiling was reached: the best found, and a bound no design can be below.
    Ceiling,
    /// No design is within the limits.
    Infeasible,
}

impl Status {
    /// The word in JSON and text.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Proven => "proven",
            Self::Ceiling => "ceiling",
            Self::Infeasible => "infeasible",
        }
    }
}

/// A design and what it adds up to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Design {
    pub sum: Sum,
    /// Construction by bay by strip.
    pub choice: Vec<Vec<usize>>,
}

/// The answer to a search.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Answer {
    /// The front above the dent floor, whatever the other limits: repair rises, mass falls.
    pub front: Front,
    /// Whether the front is whole. Only a limit on different constructions can leave it short, at the ceiling.
    pub front_whole: bool,
    /// The front of the designs within all limits, and whether it is whole, where it was asked for.
    pub within: Option<(Front, bool)>,
    /// No design lies below this front.
    pub front_bound: Front,
    /// The lightest design within all limits; between equals the one with least repair.
    pub lightest: Option<Design>,
    /// No design within the limits is lighter than this; none when there is no such design.
    pub bound: Option<u32>,
    pub status: Status,
}

/// The front of a table and its lightest design within limits; `ceiling` bounds the labels made (see [`CEILING`]).
pub fn solve(table: &Table, limits: &Limits, ceiling: usize) -> Answer {
    let wing = Wing::new(table, limits.dent_floor);
    let (lightest, bound, status) = lightest(table, &wing, limits, ceiling);
    let front = wing.front().to_vec();
    Answer { front_bound: front.clone(), front, front_whole: true, within: None, lightest, bound, status }
}

/// The front of the designs within all limits, and whether it is whole: one search a point.
pub fn front_within(table: &Table, wing: &Wing, limits: &Limits, ceiling: usize) -> (Front, bool) {
    let mut again = Again::new(table, limits, Prices::default());
    within::front(wing.front(), limits, ceiling, |l, left| {
        let (d, _, status) = again.lightest(table, l, left);
        (d, status, again.made)
    })
}

/// The same under rules. Designs are of the table as given; masses are of the ruled table, which differs only where a
/// construction is penalised.
pub fn solve_ruled(table: &Table, rules: &[Rule], limits: &Limits, ceiling: usize) -> Result<Answer, Vec<Problem>> {
    let ruled = rules::apply(table, rules)?;
    let table = &ruled.table;
    let mut answer = match ruled.most_constructions {
        None => {
            let wing = Wing::new(table, limits.dent_floor);
            let (found, bound, status) = lightest(table, &wing, limits, ceiling);
            let within = front_within(table, &wing, limits, ceiling);
            let front = wing.front().to_vec();
            let front_bound = front.clone();
            Answer { front, front_whole: true, within: Some(within), front_bound, lightest: found, bound, status }
        }
        Some(most) => {
            let few = few::front(table, limits.dent_floor, most, ceiling.saturating_mul(2));
            let (found, bound, status) = few::lightest_of(table, limits, most, ceiling);
            let front = few.front();
            let (within, whole) = within::front(&few.bound, limits, ceiling, |l, left| {
                let mut left = left;
                let before = left;
                let (d, _, status) = few::lightest_counted(table, l, most, &mut left);
                (d, status, before - left)
            });
            // Without limits on build and cost it is the front itself, as good as it is known.
            let within = if limits.beyond_repair() {
                within
            } else {
                let keeps = |p: &&Point| limits.repair.is_none_or(|l| u64::from(p.repair) <= l);
                front.iter().filter(keeps).copied().collect()
            };
            let within = Some((within, whole && few.proven));
            let (front_whole, front_bound) = (few.proven, few.bound);
            Answer { front, front_whole, within, front_bound, lightest: found, bound, status }
        }
    };
    if let Some(d) = &mut answer.lightest {
        d.choice = ruled.expand(&d.choice);
    }
    Ok(answer)
}

/// The lightest design under rules within limits, without any front.
pub fn lightest_ruled(
    table: &Table,
    rules: &[Rule],
    limits: &Limits,
    ceiling: usize,
) -> Result<Lightest, Vec<Problem>> {
    let ruled = rules::apply(table, rules)?;
    let (mut found, bound, status) = match ruled.most_constructions {
        None => lightest_alone(&ruled.table, limits, ceiling),
        Some(most) => few::lightest_of(&ruled.table, limits, most, ceiling),
    };
    if let Some(d) = &mut found {
        d.choice = ruled.expand(&d.choice);
    }
    Ok((found, bound, status))
}

/// The lightest design, a bound no design within the limits is below, and how sure that is.
pub type Lightest = (Option<Design>, Option<u32>, Status);

/// The lightest design within limits, given the fronts above their dent floor.
pub fn lightest(table: &Table, wing: &Wing, limits: &Limits, ceiling: usize) -> Lightest {
    let Some(point) = front::lightest_within(wing.front(), limits.repair) else {
        return (None, None, Status::Infeasible);
    };
    let first = design(table, wing, point);
    let fits = |d: &Design| {
        limits.build.is_none_or(|l| u64::from(d.sum.build) <= l)
            && limits.cost.is_none_or(|l| u64::from(d.sum.cost) <= l)
            && limits.yields.iter().zip(d.sum.yields).all(|(l, y)| l.is_none_or(|l| u64::from(y) <= l))
    };
    if let Some(d) = first.filter(fits) {
        return (Some(d), Some(point.mass), Status::Proven);
    }
    let (lightest, bound, status) = lightest_alone(table, limits, ceiling);
    (lightest, bound.map(|b| b.max(point.mass)), status)
}

/// The lightest design within limits without the front: the same mass and repair as [`lightest`], and where several
/// designs have both, one of them, always the same. Its time hardly grows with the number of ticks.
pub fn lightest_alone(table: &Table, limits: &Limits, ceiling: usize) -> Lightest {
    Again::new(table, limits, Prices::default()).lightest(table, limits, ceiling)
}

/// What the limits cost in a problem solved before, and how near the bound its answer lay.
#[derive(Debug, Clone, Copy, Default)]
pub struct Prices(Option<bound::Guess>);

/// A table solved again and again as strips of it lose cells and limits shrink: what was learnt about the other strips is
/// kept.
#[derive(Debug, Clone)]
pub struct Again {
    dent_floor: u32,
    uses: Uses,
    strips: Vec<Ready>,
    prices: Prices,
    /// Labels the last search made.
    made: usize,
}

impl Again {
    /// Make a table ready. Of the limits the dent floor counts, and which there are.
    pub fn new(table: &Table, limits: &Limits, prices: Prices) -> Self {
        let uses = Uses {
            build: limits.build.is_some(),
            cost: limits.cost.is_some(),
            yields: limits.yields.map(|l| l.is_some()),
        };
        let strips = table.strips().iter().map(|s| Ready::new(s, limits.dent_floor, uses)).collect();
        Self { dent_floor: limits.dent_floor, uses, strips, prices, made: 0 }
    }
    /// Put another strip in the place of one.
    pub fn set_strip(&mut self, s: usize, strip: &Strip) {
        if let Some(ready) = self.strips.get_mut(s) {
            *ready = Ready::new(strip, self.dent_floor, self.uses);
        }
    }
    /// [`lightest_alone`] of the table as it is now. The dent floor, and which limits there are, must be as they were.
    pub fn lightest(&mut self, table: &Table, limits: &Limits, ceiling: usize) -> Lightest {
        let within = |l: Option<u64>| l.filter(|&l| l < table::TOTAL_CEILING).map(|l| l as i64);
        let bounds = [
            within(limits.repair),
            within(limits.build),
            within(limits.cost),
            within(limits.yields[0]),
            within(limits.yields[1]),
        ];
        let found = bound::lightest(&mut self.strips, bounds, self.prices.0, ceiling);
        self.prices.0 = found.guess;
        self.made = found.made;
        let lightest = found.choice.and_then(|choice| Some(Design { sum: table.add_up(&choice)?, choice }));
        let status = match (&lightest, found.proven) {
            (_, false) => Status::Ceiling,
            (None, true) => Status::Infeasible,
            (Some(_), true) => Status::Proven,
        };
        (lightest, found.bound, status)
    }
    /// What the limits cost in the last answer.
    pub const fn prices(&self) -> Prices {
        self.prices
    }
}

/// The design of a front point, added up again from the table.
fn design(table: &Table, wing: &Wing, point: Point) -> Option<Design> {
    let choice = wing.design(point)?;
    let sum = table.add_up(&choice)?;
    Some(Design { sum, choice })
}
