//! At most so many different constructions in the whole wing, exactly: branch on a construction being in or out.
//!
//! A branch is searched without the rule, which can only make it lighter; where its designs already keep to the rule
//! nothing is left to branch on, and where it cannot beat what is known it is dropped.

use std::collections::BTreeSet;

use crate::search::front::{Front, Point, lightest_within, union};
use crate::search::table::{Strip, Table};
use crate::search::wing::Wing;
use crate::search::{Design, Limits, Prices, Status, design, lightest_again};

/// A branch counts as this many labels against the ceiling.
const BRANCH_LABELS: usize = 2000;

/// Designs of a front with few constructions.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Few {
    /// In order of their front: repair rises, mass falls.
    pub designs: Vec<Design>,
    /// Whether no design within the rule is missing from the front.
    pub proven: bool,
    /// No design within the rule lies below this front; the front itself when proven.
    pub bound: Front,
}

/// Constructions decided on in one branch, by name.
#[derive(Clone, Default)]
struct Branch {
    within: BTreeSet<String>,
    out: BTreeSet<String>,
}

impl Branch {
    /// The table of the branch: once as many are in as may be, nothing else is left.
    fn table(&self, table: &Table, most: usize) -> Table {
        let full = self.within.len() >= most;
        let gone = |name: &String| self.out.contains(name) || full && !self.within.contains(name);
        let strips = table.strips().iter().map(|s| {
            let mut s = s.clone();
            for k in (0..s.candidates.len()).filter(|&k| gone(&s.candidates[k])) {
                s.cells[k * s.bays..(k + 1) * s.bays].fill(None);
            }
            s
        });
        Table::still_checked(strips.collect())
    }

    /// In first, so that designs within the rule are found soon.
    fn split(self, name: String, onto: &mut Vec<Self>) {
        let (mut without, mut with) = (self.clone(), self);
        without.out.insert(name.clone());
        with.within.insert(name);
        onto.extend([without, with]);
    }

    /// The branch with as many constructions in as may be: those of a design that are in the most bays.
    fn filled(&self, table: &Table, choice: &[Vec<usize>], most: usize) -> Option<Self> {
        let mut out = self.clone();
        while out.within.len() < most {
            let next = out.widest(table, choice)?;
            out.within.insert(next);
        }
        Some(out)
    }

    /// The construction of a design that is in the most bays and not decided on.
    fn widest(&self, table: &Table, choice: &[Vec<usize>]) -> Option<String> {
        let mut bays: Vec<(&String, usize)> = Vec::new();
        for name in names(table, choice).into_iter().filter(|n| !self.within.contains(*n)) {
            bays.push((name, 0));
        }
        for (s, c) in table.strips().iter().zip(choice) {
            for &k in c {
                if let Some(b) = bays.iter_mut().find(|b| *b.0 == s.candidates[k]) {
                    b.1 += 1;
                }
            }
        }
        bays.into_iter().rev().max_by_key(|b| b.1).map(|b| b.0.clone())
    }
}

/// Names of the constructions of a design.
pub fn names<'a>(table: &'a Table, choice: &[Vec<usize>]) -> BTreeSet<&'a String> {
    let name = |s: &'a Strip, k: usize| &s.candidates[k];
    table.strips().iter().zip(choice).flat_map(|(s, c)| c.iter().map(move |&k| name(s, k))).collect()
}

/// Whether a front reaches a point's mass and repair or better.
fn reached(front: &[Point], p: Point) -> bool {
    lightest_within(front, Some(u64::from(p.repair))).is_some_and(|q| q.mass <= p.mass)
}

/// The front of designs with at most `most` constructions.
pub fn front(table: &Table, dent_floor: u32, most: usize, ceiling: usize) -> Few {
    let mut known: Vec<Design> = Vec::new();
    let mut known_front = Front::new();
    let mut bound = Front::new();
    let mut open = vec![Branch::default()];
    let mut left = ceiling / BRANCH_LABELS;
    while let Some(branch) = open.pop() {
        let own = branch.table(table, most);
        let wing = Wing::new(&own, dent_floor);
        if wing.front().iter().all(|p| reached(&known_front, *p)) {
            continue;
        }
        if left == 0 {
            bound = union(&bound, wing.front());
            continue;
        }
        left -= 1;
        let mut branch_on = None;
        for p in wing.front() {
            if reached(&known_front, *p) {
                continue;
            }
            let Some(d) = design(&own, &wing, *p) else { continue };
            if names(table, &d.choice).len() <= most {
                known_front = union(&known_front, &[*p]);
                known.push(d);
            } else {
                branch_on = branch.widest(table, &d.choice);
                break;
            }
        }
        if let Some(name) = branch_on {
            branch.split(name, &mut open);
        }
    }
    let point = |d: &Design| Point { mass: d.sum.mass, repair: d.sum.repair };
    known.retain(|d| known_front.contains(&point(d)));
    known.sort_by_key(|d| d.sum.repair);
    let proven = bound.iter().all(|p| reached(&known_front, *p));
    Few { designs: known, proven, bound: union(&bound, &known_front) }
}

/// A branch still to be split: its lightest design without the rule, which bounds all that is in it.
struct Open {
    key: (u32, u32),
    order: usize,
    branch: Branch,
    lightest: Design,
}

/// The lightest design within limits with at most `most` constructions, a bound, and how sure that is.
///
/// The branch that could hold the lightest is split first, so the bound only rises; each branch also tries the
/// constructions its own lightest design uses most, so that something within the rule is known soon.
pub fn lightest_of(
    table: &Table,
    limits: &Limits,
    most: usize,
    ceiling: usize,
) -> (Option<Design>, Option<u32>, Status) {
    let key = |d: &Design| (d.sum.mass, d.sum.repair);
    let mut best: Option<Design> = None;
    let mut prices = Prices::default();
    // Least mass of what was left unsearched.
    let mut unsearched: Option<u32> = None;
    let mut open: Vec<Open> = Vec::new();
    let mut new = vec![Branch::default()];
    let mut tried: BTreeSet<BTreeSet<String>> = BTreeSet::new();
    let mut left = ceiling / BRANCH_LABELS;
    let mut made = 0;
    loop {
        for branch in new.drain(..) {
            let (found, bound, status) = lightest_again(&branch.table(table, most), limits, ceiling, &mut prices);
            if status == Status::Ceiling {
                let bound = bound.unwrap_or(0);
                unsearched = Some(unsearched.map_or(bound, |u| u.min(bound)));
            }
            let Some(d) = found else { continue };
            let fits = names(table, &d.choice).len() <= most;
            if fits && best.as_ref().is_none_or(|b| key(&d) < key(b)) {
                best = Some(d);
            } else if !fits && status == Status::Proven {
                made += 1;
                open.push(Open { key: key(&d), order: made, branch, lightest: d });
            }
        }
        open.retain(|o| best.as_ref().is_none_or(|b| o.key < key(b)));
        let Some(next) = (0..open.len()).min_by_key(|&i| (open[i].key, open[i].order)) else { break };
        if left == 0 {
            let bound = open[next].key.0;
            unsearched = Some(unsearched.map_or(bound, |u| u.min(bound)));
            break;
        }
        left -= 1;
        let Open { branch, lightest, .. } = open.swap_remove(next);
        if let Some(guess) = branch.filled(table, &lightest.choice, most).filter(|g| tried.insert(g.within.clone())) {
            let (found, ..) = lightest_again(&guess.table(table, most), limits, ceiling, &mut prices);
            if let Some(d) = found.filter(|d| best.as_ref().is_none_or(|b| key(d) < key(b))) {
                best = Some(d);
            }
        }
        if let Some(name) = branch.widest(table, &lightest.choice) {
            branch.split(name, &mut new);
        }
    }
    let mass = best.as_ref().map(|b| b.sum.mass);
    match (mass, unsearched) {
        (None, None) => (None, None, Status::Infeasible),
        (Some(m), None) => (best, Some(m), Status::Proven),
        (Some(m), Some(u)) if u >= m => (best, Some(m), Status::Proven),
        (_, Some(u)) => (best, Some(u), Status::Ceiling),
    }
}
