//! The loop between table and full evaluation: solve, evaluate the answer again, take out what fails, solve again.
//! Cells only disappear and limits only shrink, so it ends; what it drops might have held in another combination, so
//! "proven" means for the last table.

use crate::mix::ask::{Ask, Place, Unsampled};
use crate::mix::caps::{CapsTried, kind};
use crate::mix::families::families;
use crate::mix::fill::{Filled, fill, rules_out};
use crate::mix::limits::{BUILD_TICK_H, Ticks, repair_limit_h};
use crate::mix::listed::{Listed, listed};
use crate::mix::mend::{Loop, mend_limits, mend_margins};
use crate::mix::rest::{Rest, rest};
use crate::physics::assumptions::Assumptions;
use crate::physics::design::Design;
use crate::physics::evaluation::{Evaluation, Structure, WingVerdict, rest_of};
use crate::physics::strength::Margin;
use crate::physics::strength::judged::{Judged, judged};
use crate::problem::Problem;
use crate::search::front::Point;
use crate::search::wing::Wing;
use crate::search::{self, Again, Limits, Prices, Status, Table, few};

/// A design of the mix, evaluated in full.
#[derive(Debug, Clone)]
pub struct Row {
    pub design: Design,
    /// Candidate by step by chain.
    pub choice: Vec<Vec<usize>>,
    /// What the table said, expected kg and repair hours per 100 outings.
    pub table_kg: f64,
    pub table_repair_h: f64,
    /// What the full evaluation says.
    pub expected_kg: f64,
    pub budget_kg: f64,
    pub repair_h: f64,
    pub index: f64,
    pub outings_lost: f64,
    pub least_press_n: f64,
    pub hours: f64,
    pub cost: f64,
    pub least_margin: Option<Least>,
    pub verdict: WingVerdict,
    /// Constructions and changes of construction in its skins.
    pub constructions: usize,
    pub changes: usize,
    /// Designs of the front that differ from it by less than chance, itself among them.
    pub family: usize,
    /// What it weighs over the lightest of them: the price of being simple, kg.
    pub simplicity_kg: f64,
}

/// The least margin of a row.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Least {
    pub mode: &'static str,
    pub bay: Option<usize>,
    /// Reserve factor.
    pub rf: f64,
    pub judged: Judged,
}

impl Row {
    /// Evaluated weight over what the table said, kg.
    pub fn moved_kg(&self) -> f64 {
        self.expected_kg - self.table_kg
    }
    /// Evaluated repair hours over what the table said.
    pub fn moved_h(&self) -> f64 {
        self.repair_h - self.table_repair_h
    }
}

/// What was found.
#[derive(Debug, Clone)]
pub struct Mix {
    /// The lightest design within all limits, evaluated in full; none when no mix is.
    pub lightest: Option<Row>,
    /// Points of the front that were evaluated in full, lightest first.
    pub rows: Vec<Row>,
    /// The front of the table: expected kg, repair hours; empty where only the lightest was asked for.
    pub front: Vec<(f64, f64)>,
    /// Whether it has no other points; where modes of the whole wing are limited it is a list of some of them.
    pub front_whole: bool,
    pub status: Status,
    /// No mix of this table within the limits is lighter, expected kg.
    pub bound_kg: Option<f64>,
    /// Times the table was solved, and cells taken out after a full evaluation.
    pub passes: u32,
    pub taken_out: u32,
    /// Why there is none.
    pub why_none: Vec<String>,
    /// What the limits cost where it was solved last: a search much like it is shorter with them.
    pub prices: Prices,
    pub rest: Rest,
    /// What the caps of the wing it was found on are made of; and every pair that was tried, where there is a choice.
    pub of_caps: (String, String),
    pub caps: Vec<CapsTried>,
    pub ticks: Ticks,
    /// Zones in the table: the front is off by less than this many ticks of repair, never on the light side.
    pub zones: usize,
}

/// Labels a solve within limits on hours or cost may make: some tenths of a second. Beyond it the answer is the best
/// found with a bound and says so.
pub const LABELS: usize = 200_000;

/// A table this near the full evaluation is left as it is, kg and repair hours.
const MOVED_KG: f64 = 0.02;
const MOVED_H: f64 = 0.1;
/// An answer this near the wing its table is filled around needs no other table, kg.
const NEAR_KG: f64 = 0.1;
/// Tables filled at most.
const ROUNDS: u32 = 3;
const ROUNDS_LIVE: u32 = 2;

/// Times the modes of the whole wing are worked out anew around a design that is short of one, before constructions are
/// taken out instead.
const YIELDED: u32 = 6;
/// Points listed of a front that is not known whole.
const POINTS: usize = 48;

/// Solves at most; each takes out at least one cell or lowers a limit.
const PASSES: u32 = 60;

/// A table with its limits in ticks, ready to be searched as it shrinks.
struct Solved {
    filled: Filled,
    limits: Limits,
    table: Table,
    again: Again,
}

impl Solved {
    fn new(filled: Filled, design: &Design, prices: Prices) -> Result<Self, Vec<Problem>> {
        let limits = limits_of(design, &filled);
        let table = filled.table()?;
        let again = Again::new(&table, &limits, prices);
        Ok(Self { filled, limits, table, again })
    }

    /// The table filled again around another wing.
    fn around(self, wing: &Design, base: &Structure, ask: &Ask, assumed: &Assumptions) -> Result<Self, Vec<Problem>> {
        let Self { filled, again, .. } = self;
        Self::new(filled.around(wing, base, ask, assumed), wing, again.prices())
    }

    /// Take in what was taken out of the table.
    fn renew(&mut self) {
        for c in self.filled.changed() {
            if let Some(strip) = self.filled.chains.get(c) {
                self.table.set_fewer(c, strip);
                self.again.set_strip(c, strip);
            }
        }
    }

    /// The modes of the whole wing worked out around a design that is short of one.
    fn yield_around(&mut self, design: &Design, structure: &Structure) {
        self.filled.yield_around(design, structure);
        self.limits.yields = self.filled.yields.limits;
        self.renew();
    }

    fn lightest(&mut self, most_constructions: Option<usize>) -> (Option<search::Design>, Option<u32>, Status) {
        match most_constructions {
            Some(n) => few::lightest_of(&self.table, &self.limits, n, LABELS),
            None => self.again.lightest(&self.table, &self.limits, LABELS),
        }
    }
}

/// The lightest durable mix of a design with the caps it has. With prices, from a design much like the answer.
pub(super) fn search_from(
    design: &Design,
    prices: Option<Prices>,
    ask: &Ask,
    ticks: Ticks,
    rows: usize,
    assumed: &Assumptions,
) -> Result<(Mix, Option<Evaluation>), Vec<Problem>> {
    let (near, whole) = (prices.is_some(), rows > 0);
    let barred: Vec<Problem> =
        ask.chains(design).iter().filter(|c| c.1.is_empty()).map(|c| nothing_for(c.0, ask)).collect();
    if !barred.is_empty() {
        return Err(barred);
    }
    let mut on = Solved::new(fill(design, ask, ticks, assumed), design, prices.unwrap_or_default())?;
    if on.filled.chains.is_empty() {
        return Err(vec![Problem::input("nothing may change in this wing", "leave a strip out of `fixed`")]);
    }
    let mut rounds = 1;
    let most_rounds = if whole { ROUNDS } else { ROUNDS_LIVE };
    let mut loop_ = Loop { passes: 0, taken_out: 0, yielded: 0, why_none: Vec::new() };
    let (found_status, bound, lightest) = loop {
        loop_.passes += 1;
        let (found, bound, status) = on.lightest(ask.most_constructions);
        let Some(found) = found else {
            // Where one wing's sums leave no design, or none that is found, one may hold all the same: leave it to the
            // full evaluation.
            if on.limits.yields != [None; 2] {
                on.limits.yields = [None; 2];
                loop_.yielded = YIELDED;
                continue;
            }
            if status == Status::Ceiling {
                loop_.why_none.push("there may be one: ask for fewer rules or wider limits".to_owned());
            } else {
                loop_.why_none.extend(empty(&on.filled, &on.table, &on.limits, ask.most_constructions));
            }
            break (status, bound, None);
        };
        let chosen = on.filled.design(&found.choice);
        // The table was filled around another wing: fill it around this one before anything is held against it.
        if rounds == 1 && !near {
            let base = on.filled.ground.spar(&chosen, assumed);
            if base.settled {
                rounds += 1;
                on = on.around(&chosen, &base, ask, assumed)?;
                continue;
            }
        }
        let structure = on.filled.ground.structure(&chosen, assumed);
        let yields = loop_.yielded < YIELDED;
        let (mut again, mut fails) =
            mend_margins(&mut on.filled, (&chosen, &found.choice, yields), &structure, &mut loop_);
        let short =
            |m: &Margin| on.filled.yields.limited(m.mode) && rules_out(&chosen, m).is_some_and(|w| w.rf.is_some());
        if yields && structure.margins.iter().any(short) {
            loop_.yielded += 1;
            on.yield_around(&chosen, &structure);
            again = true;
        }
        if fails.is_empty() {
            let (row, e) = row(&on.filled, (chosen, structure), &found, assumed);
            (again, fails) = mend_limits(&mut on.filled, &mut on.limits, (&row, &e), (found.sum.repair, &mut loop_));
            // Rounding up to coarse ticks is no move.
            let rounded_h = if near { on.filled.zones() as f64 * ticks.hour_h } else { 0.0 };
            let far = near && rounds == 1 && (row.expected_kg - on.filled.base_kg).abs() > NEAR_KG;
            let moved = far || row.moved_kg().abs() > MOVED_KG || row.moved_h().abs() > MOVED_H + rounded_h;
            if fails.is_empty() && (!moved || rounds >= most_rounds) {
                break (status, bound, Some((row, e)));
            }
            if fails.is_empty() {
                rounds += 1;
                let base = on.filled.ground.spar(&row.design, assumed);
                on = on.around(&row.design, &base, ask, assumed)?;
                continue;
            }
        }
        if !again || loop_.passes >= PASSES {
            loop_.why_none.extend(fails);
            break (status, bound, None);
        }
        on.renew();
    };
    // What the full evaluation took out, or found nothing without, may look otherwise from nearer by.
    if near && (lightest.is_none() || loop_.taken_out > 0) {
        return search_from(design, None, ask, ticks, rows, assumed);
    }
    let (lightest, evaluation) = lightest.unzip();
    let Solved { filled, limits, table, again } = on;
    let wing = whole.then(|| Wing::new(&table, limits.dent_floor));
    let front = wing.as_ref().map_or_else(Listed::default, |w| listed(&table, w, &limits, (POINTS, ask.every_point)));
    let ticks = filled.ticks;
    let kg = |p: &Point| f64::from(p.mass).mul_add(ticks.mass_kg, filled.fixed_kg);
    let hours = |p: &Point| f64::from(p.repair).mul_add(ticks.hour_h, filled.fixed_repair_h);
    let status = match (&lightest, found_status) {
        (None, Status::Proven) => Status::Infeasible,
        (_, status) => status,
    };
    let mix = Mix {
        rows: more_rows(&filled, (&table, &front, &limits), (rows, lightest.as_ref(), ask.most_constructions), assumed),
        front: front.points.iter().rev().map(|p| (kg(p), hours(p))).collect(),
        front_whole: front.whole,
        status,
        bound_kg: lightest.as_ref().and(bound).map(|b| f64::from(b).mul_add(ticks.mass_kg, filled.fixed_kg)),
        passes: loop_.passes,
        taken_out: loop_.taken_out,
        why_none: loop_.why_none,
        prices: again.prices(),
        rest: wing.map_or_else(Rest::default, |w| rest(&filled, &table, (&w, &front, &limits), lightest.as_ref())),
        zones: filled.zones(),
        of_caps: (kind(design, &design.spar.upper), kind(design, &design.spar.lower)),
        caps: Vec::new(),
        lightest,
        ticks,
    };
    Ok((mix, evaluation))
}

/// Limits of the scenario on what the table decides: what is fixed is taken off first.
fn limits_of(design: &Design, filled: &Filled) -> Limits {
    let repair = repair_limit_h(design)
        .map(|h| ((h - filled.fixed_repair_h) / filled.ticks.hour_h + 1e-9).floor().max(0.0) as u64);
    let dent_floor = design.targets.press_n.map_or(0, |n| n.clamp(0.0, 1e9).ceil() as u32);
    let left = |target: Option<f64>, fixed: f64, tick: f64| {
        target.map(|t| ((t - fixed) / tick + 1e-9).floor().max(0.0) as u64)
    };
    Limits {
        repair,
        build: left(design.targets.hours, filled.fixed_hours, BUILD_TICK_H),
        cost: left(design.targets.cost, filled.fixed_cost, filled.ticks.cost),
        yields: filled.yields.limits,
        dent_floor,
    }
}

fn row(
    filled: &Filled,
    (design, structure): (Design, Structure),
    found: &search::Design,
    assumed: &Assumptions,
) -> (Row, Evaluation) {
    let e = rest_of(&design, structure, assumed);
    let skins: Vec<usize> = design.strips.iter().flat_map(|s| s.runs.iter().map(|r| r.construction)).collect();
    let mut kinds = skins.clone();
    kinds.sort_unstable();
    kinds.dedup();
    let least = e.strength.least.and_then(|i| e.margins.get(i)).map(|m| Least {
        mode: m.mode,
        bay: m.bay,
        rf: m.rf,
        judged: judged(&design, m),
    });
    let row = Row {
        choice: found.choice.clone(),
        table_kg: f64::from(found.sum.mass).mul_add(filled.ticks.mass_kg, filled.fixed_kg),
        table_repair_h: f64::from(found.sum.repair).mul_add(filled.ticks.hour_h, filled.fixed_repair_h),
        expected_kg: e.weight.expected_kg,
        budget_kg: e.weight.budget_kg,
        repair_h: e.durability.repair_h,
        index: e.durability.index,
        outings_lost: e.durability.outings_lost,
        least_press_n: e.durability.least_press.value_n,
        hours: e.work.hours,
        cost: e.work.cost,
        least_margin: least,
        verdict: e.strength.verdict,
        constructions: kinds.len(),
        changes: design.strips.iter().map(|s| s.runs.len().saturating_sub(1)).sum(),
        family: 1,
        simplicity_kg: 0.0,
        design,
    };
    (row, e)
}

/// A place that none of the constructions asked for may be.
fn nothing_for(place: Place, ask: &Ask) -> Problem {
    let next = if place.strips().iter().any(|s| s.is_nose()) {
        "a covering cannot make a nose: name another in search.constructions, or name the strip in search.fixed"
    } else {
        "name another in search.constructions, or name the place in search.fixed"
    };
    let which = if ask.unsampled == Unsampled::LeftOut { "sampled constructions" } else { "constructions" };
    Problem::input(format!("none of the {which} of the search may be the {}", place.label()), next)
}

/// Why a table has no design: the bay without a construction and the margin that rules most of them out.
fn empty(filled: &Filled, table: &Table, limits: &Limits, most_constructions: Option<usize>) -> Vec<String> {
    let mut out = Vec::new();
    for (s, b) in table.empty_bays(limits.dent_floor).into_iter().take(6) {
        let Some(m) = filled.meaning.get(s) else { continue };
        let mut modes: Vec<&str> = (0..m.candidates.len())
            .map(|k| m.why.get(k * m.bays.len() + b).copied().flatten().map_or("press load", |w| w.mode))
            .collect();
        modes.sort_unstable();
        modes.dedup();
        out.push(format!("{}, bay {}: no construction holds ({})", m.place.label(), m.bays[b] + 1, modes.join(", ")));
    }
    if !out.is_empty() {
        return out;
    }
    let wing = Wing::new(table, limits.dent_floor);
    let hours = |ticks: f64| ticks.mul_add(filled.ticks.hour_h, filled.fixed_repair_h);
    match (wing.front().first(), limits.repair) {
        (None, _) => {
            let places = wing.blocked().into_iter().filter_map(|s| filled.meaning.get(s));
            out.extend(places.map(|m| {
                format!("{}: nothing runs from root to tip within its changes and shortest runs", m.place.label())
            }));
        }
        (Some(p), Some(l)) if u64::from(p.repair) > l => out.push(format!(
            "every mix needs {:.1} repair hours per 100 outings or more; {:.1} keep the durability asked for",
            hours(f64::from(p.repair)),
            hours(l as f64)
        )),
        _ => out.push(most_constructions.map_or_else(
            || "no mix keeps the limits on repair, building hours and cost together".to_owned(),
            |n| format!("no mix of at most {n} different constructions, webs and ribs among them, keeps the limits"),
        )),
    }
    out
}

/// Families of the front, each by its simplest member evaluated in full; those that do not hold, or have more
/// constructions than asked for, are left out. At most `n`, spread evenly over the list.
fn more_rows(
    filled: &Filled,
    (table, front, limits): (&Table, &Listed, &Limits),
    (n, lightest, most): (usize, Option<&Row>, Option<usize>),
    assumed: &Assumptions,
) -> Vec<Row> {
    if n == 0 {
        return Vec::new();
    }
    let mut all = families(filled, table, front, limits);
    all.retain(|m| most.is_none_or(|n| few::names(table, &m.design.choice).len() <= n));
    let step = all.len().div_ceil(n).max(1);
    let mut out: Vec<Row> = Vec::new();
    for m in all.iter().step_by(step) {
        let design = filled.design(&m.design.choice);
        let structure = filled.ground.structure(&design, assumed);
        let (mut row, e) = row(filled, (design, structure), &m.design, assumed);
        row.family = m.of;
        row.simplicity_kg = f64::from(m.simplicity) * filled.ticks.mass_kg;
        let known = out.iter().chain(lightest).any(|r| r.choice == row.choice);
        if !known && e.margins.iter().all(|m| rules_out(&row.design, m).is_none()) {
            out.push(row);
        }
    }
    out.sort_by(|a, b| a.expected_kg.total_cmp(&b.expected_kg));
    out
}
