//! What an answer rests on: constructions that never appear and what using one would cost, what a limit holds back,
//! what the next tick buys.

use std::collections::BTreeSet;

use crate::search::chain::{Chain, Uses, replaced_by};
use crate::search::front::{Front, Point, lightest_within, union};
use crate::search::table::{Strip, Sum, Table};
use crate::search::wing::Wing;
use crate::search::{Answer, Design, Limits, merge, solve, strip};

/// Why a construction is in no design of the front.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Why {
    /// It is allowed in no bay of the strip above the dent floor.
    NowhereAllowed,
    /// Another of its splice class is allowed wherever it is and no worse in mass and repair.
    ReplacedBy(usize),
    /// It costs mass or repair everywhere; see [`price_of_using`].
    Beaten,
}

/// A construction of a strip that no design of the front uses.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Unused {
    pub strip: usize,
    pub construction: usize,
    pub why: Why,
}

/// Constructions that are in none of the designs traced for the front (one design for each point).
pub fn never_used(table: &Table, wing: &Wing) -> Vec<Unused> {
    let mut used: Vec<BTreeSet<usize>> = vec![BTreeSet::new(); table.strips().len()];
    let mut seen = BTreeSet::new();
    for p in wing.front() {
        for (s, share) in wing.shares(*p).unwrap_or_default().into_iter().enumerate() {
            if seen.insert((s, share)) {
                used[s].extend(wing.strip_design(s, share).unwrap_or_default());
            }
        }
    }
    not_among(table, &used, wing.dent_floor())
}

/// Constructions that are in none of the designs.
pub fn unused_in(table: &Table, dent_floor: u32, designs: &[Design]) -> Vec<Unused> {
    let mut used: Vec<BTreeSet<usize>> = vec![BTreeSet::new(); table.strips().len()];
    for d in designs {
        used.iter_mut().zip(&d.choice).for_each(|(u, c)| u.extend(c));
    }
    not_among(table, &used, dent_floor)
}

fn not_among(table: &Table, used: &[BTreeSet<usize>], dent_floor: u32) -> Vec<Unused> {
    let mut unused = Vec::new();
    for (i, s) in table.strips().iter().enumerate() {
        for k in (0..s.candidates.len()).filter(|k| !used[i].contains(k)) {
            let allowed = (0..s.bays).any(|b| s.cell(k, b).is_some_and(|c| c.dent >= dent_floor));
            let why = if allowed {
                replaced_by(s, dent_floor, k).map_or(Why::Beaten, Why::ReplacedBy)
            } else {
                Why::NowhereAllowed
            };
            unused.push(Unused { strip: i, construction: k, why });
        }
    }
    unused
}

/// The least mass by which a design that uses a construction somewhere in a strip is heavier than the front at the same
/// repair, and where on the repair axis that is. 0: some design of the front could use it. None: no design can.
pub fn price_of_using(table: &Table, wing: &Wing, strip: usize, construction: usize) -> Option<(u32, Point)> {
    let own = table.strips().get(strip)?;
    let mut scratch = strip::Scratch::default();
    let mut using = Front::new();
    for b in (0..own.bays).filter(|&b| own.cell(construction, b).is_some()) {
        let mut forced: Strip = own.clone();
        for k in (0..own.candidates.len()).filter(|&k| k != construction) {
            forced.cells[k * own.bays + b] = None;
        }
        let chain = Chain::new(&forced, wing.dent_floor(), Uses::default());
        using = union(&using, &strip::front(&chain, &mut scratch));
    }
    for s in (0..table.strips().len()).filter(|&s| s != strip) {
        using = merge::add(&using, wing.strip_front(s));
    }
    let over = |p: &Point| Some((p.mass - lightest_within(wing.front(), Some(u64::from(p.repair)))?.mass, *p));
    using.iter().filter_map(over).min()
}

/// What may be relaxed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Limit {
    Repair,
    Build,
    Cost,
    DentFloor,
    Changes,
    FirstYield,
    SecondYield,
}

/// An answer with one limit relaxed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Relaxed {
    pub limit: Limit,
    pub by: u64,
    pub answer: Answer,
}

/// The answer again for each limit relaxed alone by so much. A limit that is not set is left out.
pub fn relaxed(table: &Table, limits: &Limits, by: &[(Limit, u64)], ceiling: usize) -> Vec<Relaxed> {
    let again = |(limit, by): (Limit, u64)| {
        let (wider, wider_table) = widened(table, limits, (limit, by))?;
        Some(Relaxed { limit, by, answer: solve(wider_table.as_ref().unwrap_or(table), &wider, ceiling) })
    };
    by.iter().copied().filter_map(again).collect()
}

/// Limits with one of them relaxed, and the table where it is the table that is; none where that limit is not set.
pub fn widened(table: &Table, limits: &Limits, (limit, by): (Limit, u64)) -> Option<(Limits, Option<Table>)> {
    let mut wider = *limits;
    let mut wider_table = None;
    match limit {
        Limit::Repair => wider.repair = Some(limits.repair?.saturating_add(by)),
        Limit::Build => wider.build = Some(limits.build?.saturating_add(by)),
        Limit::Cost => wider.cost = Some(limits.cost?.saturating_add(by)),
        Limit::FirstYield => wider.yields[0] = Some(limits.yields[0]?.saturating_add(by)),
        Limit::SecondYield => wider.yields[1] = Some(limits.yields[1]?.saturating_add(by)),
        Limit::DentFloor => {
            wider.dent_floor = limits.dent_floor.saturating_sub(u32::try_from(by).unwrap_or(u32::MAX));
        }
        Limit::Changes => {
            let mut strips = table.strips().to_vec();
            let by = usize::try_from(by).unwrap_or(usize::MAX);
            strips.iter_mut().for_each(|s| s.max_changes = s.max_changes.saturating_add(by).min(s.bays - 1));
            wider_table = Some(Table::still_checked(strips));
        }
    }
    Some((wider, wider_table))
}

/// How far a design is from each limit that is set; 0 is held by it. Within limits only.
pub fn spare(limits: &Limits, sum: &Sum) -> Vec<(Limit, u64)> {
    let mut spare = Vec::new();
    for (limit, most, own) in [
        (Limit::Repair, limits.repair, sum.repair),
        (Limit::Build, limits.build, sum.build),
        (Limit::Cost, limits.cost, sum.cost),
        (Limit::FirstYield, limits.yields[0], sum.yields[0]),
        (Limit::SecondYield, limits.yields[1], sum.yields[1]),
    ] {
        spare.extend(most.and_then(|m| Some((limit, m.checked_sub(u64::from(own))?))));
    }
    if limits.dent_floor > 0 {
        spare.extend(sum.dent.checked_sub(limits.dent_floor).map(|d| (Limit::DentFloor, u64::from(d))));
    }
    spare
}

/// The best trade from one point of a front to another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Trade {
    pub to: Point,
    pub mass: u32,
    pub repair: u32,
}

/// From a point of a front: the most mass saved for a tick of repair more, and the least mass paid for a tick of repair
/// less. None at the ends.
pub fn trades(front: &[Point], from: Point) -> (Option<Trade>, Option<Trade>) {
    let steeper = |a: &Trade, b: &Trade| {
        (u64::from(a.mass) * u64::from(b.repair)).cmp(&(u64::from(b.mass) * u64::from(a.repair)))
    };
    let trade =
        |to: &Point| Trade { to: *to, mass: to.mass.abs_diff(from.mass), repair: to.repair.abs_diff(from.repair) };
    let lighter = front.iter().filter(|p| p.repair > from.repair && p.mass < from.mass).map(trade);
    let sounder = front.iter().filter(|p| p.repair < from.repair && p.mass > from.mass).map(trade);
    (lighter.max_by(steeper), sounder.min_by(steeper))
}
