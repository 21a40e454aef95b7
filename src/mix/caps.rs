//! What the caps are made of. Strains in skins, web and ribs hang on them, so every pair that may be has a table and a
//! search of its own; a cap is of one kind from root to tip, for its fibres run through. The lightest of all is the
//! answer, and the fronts are one.

use std::borrow::Cow;

use rayon::prelude::*;

use crate::mix::ask::Ask;
use crate::mix::limits::Ticks;
use crate::mix::recheck::{Mix, Row, search_from};
use crate::physics::assumptions::Assumptions;
use crate::physics::design::{Cap, Design};
use crate::physics::evaluation::{Evaluation, evaluate};
use crate::physics::mass::tally::Heading;
use crate::physics::mass::weighed;
use crate::physics::strength::nose_steps;
use crate::problem::Problem;
use crate::search::{Prices, Status};

/// A pair of caps and what came of it.
#[derive(Debug, Clone, PartialEq)]
pub struct CapsTried {
    pub upper: String,
    pub lower: String,
    /// Expected weight of the lightest mix with them, kg, and how sure that is.
    pub lightest_kg: Option<f64>,
    pub status: Status,
    pub why_none: Vec<String>,
}

/// A wing of one pair of caps: its constructions are those of a lightest mix at dials much like those asked for, where there
/// is one, found with these prices.
#[derive(Debug, Clone)]
pub struct Start {
    pub design: Design,
    pub prices: Prices,
}

/// What a cap is made of, by its key; empty where the scenario gives no choice.
pub fn kind(d: &Design, cap: &Cap) -> String {
    d.spar.kind_of(cap).map_or_else(String::new, |k| k.key.clone())
}

/// The design with every pair of caps that may be; as drawn first.
pub fn variants(design: &Design, ask: &Ask) -> Vec<Design> {
    let mut out = vec![design.clone()];
    if ask.caps_fixed || weighed::is_built(&design.weighed, Heading::Caps) {
        return out;
    }
    let kinds = &design.spar.kinds;
    for (u, upper) in kinds.iter().enumerate() {
        for (l, lower) in kinds.iter().enumerate() {
            let drawn = upper.is_in(&design.spar.upper) && lower.is_in(&design.spar.lower);
            if drawn || ask.upper_as_lower && u != l {
                continue;
            }
            let mut other = design.clone();
            upper.put(&mut other.spar.upper);
            lower.put(&mut other.spar.lower);
            out.push(other);
        }
    }
    out
}

/// The search chooses the nose itself: it begins with what the steps of the nose came to, and none are left.
fn stepped<'d>(design: &'d Design, assumed: &Assumptions) -> Cow<'d, Design> {
    if design.nose_steps.is_empty() {
        return Cow::Borrowed(design);
    }
    Cow::Owned(nose_steps::drawn(design, &evaluate(design, assumed).layout))
}

/// Find the lightest durable mix of a design. `rows` more points of the front are evaluated in full too, and what the
/// answer rests on is worked out; with none asked for, only the lightest is found, for a dial turned live.
pub fn find(design: &Design, ask: &Ask, ticks: Ticks, rows: usize, assumed: &Assumptions) -> Result<Mix, Vec<Problem>> {
    let each: Vec<Found> = variants(&stepped(design, assumed), ask)
        .into_par_iter()
        .map(|d| search_from(&d, None, ask, ticks, rows, assumed))
        .collect();
    together(each, rows).map(|(mix, _)| mix)
}

/// What searches at other dials start from: the lightest mix of every pair of caps at these.
pub fn starts(design: &Design, ask: &Ask, ticks: Ticks, assumed: &Assumptions) -> Vec<Start> {
    let start = |drawn: Design| {
        let found = search_from(&drawn, None, ask, ticks, 0, assumed).ok();
        let found = found.and_then(|(m, _)| m.lightest.map(|r| Start { design: r.design, prices: m.prices }));
        found.unwrap_or(Start { design: drawn, prices: Prices::default() })
    };
    variants(&stepped(design, assumed), ask).into_par_iter().map(start).collect()
}

/// The lightest alone with its full evaluation, from designs found at dials much like theirs: the table around one is not
/// filled again unless the answer has moved from it.
pub fn find_near(
    starts: &[Start],
    ask: &Ask,
    ticks: Ticks,
    assumed: &Assumptions,
) -> Result<(Mix, Option<Evaluation>), Vec<Problem>> {
    let each: Vec<Found> =
        starts.par_iter().map(|s| search_from(&s.design, Some(s.prices), ask, ticks, 0, assumed)).collect();
    together(each, 0)
}

type Found = Result<(Mix, Option<Evaluation>), Vec<Problem>>;

/// One answer of those for every pair of caps.
fn together(each: Vec<Found>, rows: usize) -> Found {
    let mut all: Vec<(Mix, Option<Evaluation>)> = each.into_iter().collect::<Result<_, _>>()?;
    let kg = |m: &Mix| m.lightest.as_ref().map_or(f64::INFINITY, |r| r.expected_kg);
    // Of equals the first, so that the caps as drawn stay where others are no better.
    let best = (0..all.len()).min_by(|a, b| kg(&all[*a].0).total_cmp(&kg(&all[*b].0)));
    let Some(best) = best else { return Err(Vec::new()) };
    if all.len() == 1 {
        return Ok(all.swap_remove(0));
    }
    let tried = all.iter().map(|(m, _)| tried(m)).collect();
    let (passes, taken_out) = all.iter().fold((0, 0), |(p, t), (m, _)| (p + m.passes, t + m.taken_out));
    let zones = all.iter().map(|(m, _)| m.zones).max().unwrap_or(0);
    let hour_h = all.iter().map(|(m, _)| m.ticks.hour_h).fold(0.0, f64::max);
    let status = status(&all, best);
    let bound_kg = bound_kg(&all);
    let why_none = if all[best].0.lightest.is_some() { Vec::new() } else { why_none(&all) };
    let front_whole = all.iter().all(|(m, _)| m.front_whole);
    let front = lower_left(all.iter().flat_map(|(m, _)| m.front.iter().copied()).collect(), |p| *p);
    let (mut mix, evaluation) = all.swap_remove(best);
    let others = all.into_iter().flat_map(|(m, _)| m.lightest.into_iter().chain(m.rows));
    let candidates: Vec<Row> = mix.rows.drain(..).chain(others).collect();
    let rows = spread(candidates, mix.lightest.as_ref(), rows);
    Ok((
        Mix {
            rows,
            front,
            front_whole,
            status,
            bound_kg,
            passes,
            taken_out,
            why_none,
            caps: tried,
            zones,
            ticks: Ticks { hour_h, ..mix.ticks },
            ..mix
        },
        evaluation,
    ))
}

fn tried(m: &Mix) -> CapsTried {
    let (upper, lower) = m.of_caps.clone();
    let lightest_kg = m.lightest.as_ref().map(|r| r.expected_kg);
    CapsTried { upper, lower, lightest_kg, status: m.status, why_none: m.why_none.clone() }
}

/// Proven only if no other pair may hide a lighter mix.
fn status(all: &[(Mix, Option<Evaluation>)], best: usize) -> Status {
    let own = &all[best].0;
    let kg = own.lightest.as_ref().map_or(f64::INFINITY, |r| r.table_kg);
    let open = |m: &Mix| m.status == Status::Ceiling && m.bound_kg.is_none_or(|b| b < kg);
    if own.status == Status::Ceiling || all.iter().any(|(m, _)| open(m)) { Status::Ceiling } else { own.status }
}

/// The least of all bounds; none where a search was cut short without one.
fn bound_kg(all: &[(Mix, Option<Evaluation>)]) -> Option<f64> {
    let unknown = |m: &Mix| m.bound_kg.is_none() && m.status == Status::Ceiling;
    if all.iter().any(|(m, _)| unknown(m)) {
        return None;
    }
    all.iter().filter_map(|(m, _)| m.bound_kg).min_by(f64::total_cmp)
}

/// Why there is none, by pair of caps.
fn why_none(all: &[(Mix, Option<Evaluation>)]) -> Vec<String> {
    let of = |m: &Mix| {
        let (upper, lower) = &m.of_caps;
        let why = m.why_none.join("; ");
        format!("caps {upper} above, {lower} below: {why}")
    };
    all.iter().map(|(m, _)| of(m)).collect()
}

/// What no other beats in weight and repair, lightest first; of equals the first.
fn lower_left<T>(mut all: Vec<T>, of: impl Fn(&T) -> (f64, f64)) -> Vec<T> {
    all.sort_by(|a, b| {
        let (a, b) = (of(a), of(b));
        a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1))
    });
    let mut least = f64::INFINITY;
    all.retain(|p| {
        let better = of(p).1 < least;
        least = least.min(of(p).1);
        better
    });
    all
}

/// Rows that no other beats, at most `n`, evenly spread.
fn spread(rows: Vec<Row>, lightest: Option<&Row>, n: usize) -> Vec<Row> {
    let least_h = lightest.map_or(f64::INFINITY, |r| r.repair_h);
    let mut all = lower_left(rows, |r| (r.expected_kg, r.repair_h));
    all.retain(|r| r.repair_h < least_h);
    let step = all.len().div_ceil(n.max(1)).max(1);
    all.into_iter().step_by(step).take(n).collect()
}
