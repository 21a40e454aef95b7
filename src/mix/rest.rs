//! What an answer rests on: what keeps lighter skins out, which constructions never appear and why, and what the
//! lightest design would weigh with one limit relaxed.

use crate::mix::fill::Filled;
use crate::mix::limits::BUILD_TICK_H;
use crate::mix::listed::{Listed, at_levels, levels};
use crate::mix::recheck::{LABELS, Row};
use crate::mix::yields::TENTH;
use crate::search::explain::{self, Limit};
use crate::search::front::{Point, lightest_within};
use crate::search::wing::Wing;
use crate::search::{self, Limits, Table, dent};

/// A limit relaxed and what it would save on the table.
#[derive(Debug, Clone, PartialEq)]
pub struct Relaxed {
    pub what: String,
    /// Saved, kg; none when the relaxed table has no design either.
    pub saves_kg: Option<f64>,
    /// Where the front of all mixes moves most: how much lighter, kg, at how many repair hours; none where it stays.
    pub front: Option<(f64, f64)>,
}

/// What the answer rests on.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Rest {
    /// Candidates that stand nowhere on the front, and why.
    pub never: Vec<(String, String)>,
    /// What rules out lighter choices than the lightest design's own, and in how many zones, most first.
    pub keeps_out: Vec<(String, usize)>,
    pub relaxed: Vec<Relaxed>,
    /// Least press load of any zone, N, and the lightest mix that keeps it, kg: the third axis of the front.
    pub by_press: Vec<(u32, f64)>,
    /// What one more repair hour per 100 outings would save at the lightest design, kg; none at the end of the front.
    pub kg_per_repair_h: Option<f64>,
}

/// Said of a construction no margin keeps out.
pub const BEATEN: &str = "allowed everywhere, but another is better at every weight and repair";

/// Levels of repair at which two fronts are held against each other.
const MOVES: usize = 16;
/// Levels of press load shown.
const LEVELS: usize = 10;

/// Work it out on the last table.
pub fn rest(
    filled: &Filled,
    table: &Table,
    (wing, front, limits): (&Wing, &Listed, &Limits),
    lightest: Option<&Row>,
) -> Rest {
    let unused = if front.whole {
        explain::never_used(table, wing)
    } else {
        explain::unused_in(table, limits.dent_floor, &front.designs)
    };
    let mut out = Rest { never: never(filled, unused), ..Rest::default() };
    if let Some(row) = lightest {
        out.keeps_out = keeps_out(filled, row);
    }
    let ticks = filled.ticks;
    let Some(own_kg) = lightest.map(|r| r.table_kg - filled.fixed_kg) else { return out };
    let saved = |d: search::Design| (own_kg - f64::from(d.sum.mass) * ticks.mass_kg).max(0.0);
    let tenth = |l: Option<u64>| l.map_or(0, |n| n / 10 + 1);
    let wider = [
        (Limit::Repair, tenth(limits.repair), "repair hours allowed, 10 % more"),
        (Limit::Build, (10.0 / BUILD_TICK_H) as u64, "building hours allowed, 10 h more"),
        (Limit::Cost, tenth(limits.cost), "cost allowed, 10 % more"),
        (Limit::FirstYield, TENTH, "twist allowed at dive speed, 10 % more"),
        (Limit::SecondYield, TENTH, "loss of roll control allowed, 10 % more"),
        (Limit::DentFloor, u64::from(limits.dent_floor / 10), "least press load, 10 % less"),
        (Limit::Changes, 1, "one more change along each strip"),
    ];
    for (limit, by, what) in wider.into_iter().filter(|w| w.1 > 0) {
        let Some((wider, changed)) = explain::widened(table, limits, (limit, by)) else { continue };
        let wide = changed.as_ref().unwrap_or(table);
        let saves_kg = search::lightest_alone(wide, &wider, LABELS).0.map(saved);
        let moved = if front.whole {
            moves(wing.front(), Wing::new(wide, wider.dent_floor).front())
        } else {
            let levels = levels(wing.front(), MOVES);
            moves(&points(table, limits, &levels), &points(wide, &wider, &levels))
        };
        let front = moved.map(|p| {
            let hours = f64::from(p.repair).mul_add(ticks.hour_h, filled.fixed_repair_h);
            (f64::from(p.mass) * ticks.mass_kg, hours)
        });
        out.relaxed.push(Relaxed { what: what.to_owned(), saves_kg, front });
    }
    for floor in spread(&dent::levels(table)) {
        let l = Limits { dent_floor: floor, ..*limits };
        if let Some(d) = search::lightest_alone(table, &l, LABELS).0 {
            let kg = f64::from(d.sum.mass).mul_add(ticks.mass_kg, filled.fixed_kg);
            // A level that costs nothing is part of the next one.
            if out.by_press.last().is_some_and(|(_, last)| (last - kg).abs() < 5e-3) {
                out.by_press.pop();
            }
            out.by_press.push((floor, kg));
        }
    }
    let hour = (Limit::Repair, (1.0 / ticks.hour_h).round() as u64);
    out.kg_per_repair_h = explain::widened(table, limits, hour)
        .and_then(|(wider, _)| search::lightest_alone(table, &wider, LABELS).0)
        .map(saved);
    out
}

/// Points of the front at these levels of repair, whatever the limits on hours and money.
fn points(table: &Table, limits: &Limits, at: &[u64]) -> Vec<Point> {
    at_levels(table, limits, at).iter().map(|d| Point { mass: d.sum.mass, repair: d.sum.repair }).collect()
}

/// The most mass by which one front lies below another, and at what repair.
fn moves(from: &[Point], to: &[Point]) -> Option<Point> {
    let gain = |p: &Point| {
        let before = lightest_within(from, Some(u64::from(p.repair)))?;
        Some(Point { mass: before.mass.checked_sub(p.mass).filter(|m| *m > 0)?, repair: p.repair })
    };
    to.iter().filter_map(gain).max_by_key(|g| g.mass)
}

/// A few of many levels, least and greatest among them.
fn spread(levels: &[u32]) -> Vec<u32> {
    let step = levels.len().div_ceil(LEVELS).max(1);
    levels.iter().copied().step_by(step).collect()
}

fn never(filled: &Filled, unused: Vec<explain::Unused>) -> Vec<(String, String)> {
    let mut out: Vec<(String, String)> = Vec::new();
    for explain::Unused { strip, construction: k, .. } in unused {
        if let (Some(m), Some(chain)) = (filled.meaning.get(strip), filled.chains.get(strip)) {
            let row = &m.why[k * m.bays.len()..(k + 1) * m.bays.len()];
            let out_of = row.iter().flatten().count();
            let first = row.iter().zip(&m.bays).find_map(|(w, b)| w.map(|w| (w, *b)));
            let why = match first {
                Some((w, b)) => {
                    let rf = w.reserve().unwrap_or_else(|| "not shown".to_owned());
                    format!("{} bay {} {rf}; out in {out_of} of {} bays", w.mode, b + 1, m.bays.len())
                }
                None => BEATEN.to_owned(),
            };
            out.push((format!("{} on {}", chain.candidates[k], m.place.label()), why));
        }
    }
    out
}

fn keeps_out(filled: &Filled, row: &Row) -> Vec<(String, usize)> {
    let areal = |c: usize| filled.ground.skins.get(c).map_or(0.0, |s| s.mass.total());
    let mut out: Vec<(String, usize)> = Vec::new();
    for (m, choice) in filled.meaning.iter().zip(&row.choice).filter(|(m, _)| !m.place.strips().is_empty()) {
        for (b, k) in choice.iter().enumerate() {
            let own = m.candidates.get(*k).map_or(0.0, |c| areal(*c));
            let n = m.bays.len();
            let lighter = (0..m.candidates.len()).filter(|q| areal(m.candidates[*q]) < own - 1e-9);
            let mut modes: Vec<&str> = lighter.filter_map(|q| m.why[q * n + b]).map(|w| w.mode).collect();
            modes.sort_unstable();
            modes.dedup();
            for mode in modes {
                match out.iter_mut().find(|(w, _)| w == mode) {
                    Some(slot) => slot.1 += 1,
                    None => out.push((mode.to_owned(), 1)),
                }
            }
        }
    }
    out.sort_by_key(|(_, n)| std::cmp::Reverse(*n));
    out
}
