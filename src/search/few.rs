//! At most so many different constructions in the whole wing, exactly: branch on a construction being in or out.
//!
//! A branch is searched without the rule, which can only make it lighter; where its designs already keep to the rule
//! nothing is left to branch on, and where it cannot beat what is known it is dropped.

use std::collections::BTreeSet;

use crate::search::front::{Front, Point, union};
use crate::search::table::{Strip, Table};
use crate::search::wing::Wing;
use crate::search::{Again, Design, Limits, Prices, SEARCH_LABELS, Status, design};

/// What tracing one design costs in labels.
const TRACE_LABELS: usize = 1000;

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

impl Few {
    /// The front of the designs.
    pub fn front(&self) -> Front {
        self.designs.iter().map(|d| Point { mass: d.sum.mass, repair: d.sum.repair }).collect()
    }
}

/// Constructions decided on in one branch, by name.
#[derive(Debug, Clone, Default)]
struct Branch {
    within: BTreeSet<String>,
    out: BTreeSet<String>,
    /// Nothing else is left, though more might be.
    only: bool,
}

impl Branch {
    /// The table of the branch: once as many are in as may be, nothing else is left.
    fn table(&self, table: &Table, most: usize) -> Table {
        let full = self.only || self.within.len() >= most;
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

/// Points known to be within the rule, and the branch each was met in.
#[derive(Default)]
struct Known {
    points: Vec<(Point, usize)>,
    branches: Vec<Branch>,
}

impl Known {
    fn front(&self) -> Front {
        self.points.iter().map(|p| p.0).collect()
    }
    fn reaches(&self, p: Point) -> bool {
        let within = self.points.partition_point(|q| q.0.repair <= p.repair);
        within.checked_sub(1).is_some_and(|i| self.points[i].0.mass <= p.mass)
    }
    /// Take in points met in a branch. What is known already goes first, so equal points keep their branch.
    fn meet(&mut self, branch: &Branch, points: &[Point]) {
        let met = self.branches.len();
        let fresh: Vec<Point> = points.iter().copied().filter(|p| !self.reaches(*p)).collect();
        if fresh.is_empty() {
            return;
        }
        self.branches.push(branch.clone());
        self.points.extend(fresh.into_iter().map(|p| (p, met)));
        self.points.sort_by_key(|(p, from)| (p.repair, p.mass, *from));
        let mut least = u32::MAX;
        self.points.retain(|(p, _)| {
            p.mass < least && {
                least = p.mass;
                true
            }
        });
    }
    /// The designs of the points.
    fn designs(&self, table: &Table, dent_floor: u32, most: usize) -> Vec<Design> {
        let mut found: Vec<Design> = Vec::new();
        for (i, branch) in self.branches.iter().enumerate() {
            if self.points.iter().any(|p| p.1 == i) {
                let own = branch.table(table, most);
                let wing = Wing::new(&own, dent_floor);
                found.extend(self.points.iter().filter(|p| p.1 == i).filter_map(|p| design(&own, &wing, p.0)));
            }
        }
        found.sort_by_key(|d| d.sum.repair);
        found
    }
}

/// The front of designs with at most `most` constructions.
///
/// Each branch also tries the constructions that the design it is split on uses most, so that much of the front is known
/// soon. What is left when the ceiling is reached goes into the bound.
pub fn front(table: &Table, dent_floor: u32, most: usize, ceiling: usize) -> Few {
    let mut known = Known::default();
    let mut bound = Front::new();
    let mut open = vec![Branch::default()];
    let mut tried: BTreeSet<BTreeSet<String>> = BTreeSet::new();
    let mut left = ceiling;
    while let Some(branch) = open.pop() {
        let own = branch.table(table, most);
        let wing = Wing::new(&own, dent_floor);
        if wing.front().iter().all(|p| known.reaches(*p)) {
            continue;
        }
        if branch.within.len() >= most {
            known.meet(&branch, wing.front());
            continue;
        }
        let mut branch_on = None;
        for p in wing.front() {
            if known.reaches(*p) {
                continue;
            }
            if left < SEARCH_LABELS {
                bound = union(&bound, wing.front());
                break;
            }
            left -= TRACE_LABELS;
            let Some(d) = design(&own, &wing, *p) else { continue };
            let used = names(table, &d.choice);
            if used.len() <= most {
                let within = used.into_iter().cloned().collect();
                known.meet(&Branch { within, only: true, ..Branch::default() }, &[*p]);
                continue;
            }
            left -= SEARCH_LABELS - TRACE_LABELS;
            if let Some(guess) = branch.filled(table, &d.choice, most).filter(|g| tried.insert(g.within.clone())) {
                left = left.saturating_sub(SEARCH_LABELS);
                known.meet(&guess, Wing::new(&guess.table(table, most), dent_floor).front());
            }
            branch_on = branch.widest(table, &d.choice);
            break;
        }
        if let Some(name) = branch_on {
            branch.split(name, &mut open);
        }
    }
    let front = known.front();
    let proven = bound.iter().all(|p| known.reaches(*p));
    Few { designs: known.designs(table, dent_floor, most), proven, bound: union(&bound, &front) }
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
    lightest_counted(table, limits, most, &mut ceiling.clone())
}

/// The same with what is left of the ceiling.
pub(crate) fn lightest_counted(
    table: &Table,
    limits: &Limits,
    most: usize,
    left: &mut usize,
) -> (Option<Design>, Option<u32>, Status) {
    let key = |d: &Design| (d.sum.mass, d.sum.repair);
    let mut prices = Prices::default();
    let mut search = |branch: &Branch, left: &mut usize| {
        let table = branch.table(table, most);
        let mut again = Again::new(&table, limits, prices);
        let found = again.lightest(&table, limits, *left);
        prices = again.prices();
        *left = left.saturating_sub(again.made + SEARCH_LABELS);
        found
    };
    let mut best: Option<Design> = None;
    // Least mass of what was left unsearched.
    let mut unsearched: Option<u32> = None;
    let mut open: Vec<Open> = Vec::new();
    let mut new = vec![Branch::default()];
    let mut tried: BTreeSet<BTreeSet<String>> = BTreeSet::new();
    let mut made = 0;
    loop {
        for branch in new.drain(..) {
            let (found, bound, status) = search(&branch, left);
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
        let Open { key: (bound, _), branch, lightest, .. } = open.swap_remove(next);
        let spent = *left == 0;
        // Even with nothing left something within the rule is looked for once.
        if !spent || best.is_none() {
            let guess = branch.filled(table, &lightest.choice, most).filter(|g| tried.insert(g.within.clone()));
            let found = guess.and_then(|g| search(&g, left).0);
            best = found.filter(|d| best.as_ref().is_none_or(|b| key(d) < key(b))).or(best);
        }
        if spent {
            unsearched = Some(unsearched.map_or(bound, |u| u.min(bound)));
            break;
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
