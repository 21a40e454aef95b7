//! What a full evaluation has against a design of the table, taken into the table: cells taken out, limits lowered.

use crate::mix::ask::Place;
use crate::mix::fill::{Filled, Why, rules_out};
use crate::mix::limits::{BUILD_TICK_H, repair_limit_h};
use crate::mix::recheck::Row;
use crate::physics::design::{Design, Strip};
use crate::physics::evaluation::{Evaluation, Structure};
use crate::physics::laminate::construction::Skin;
use crate::physics::strength::Margin;
use crate::search::Limits;

/// What the loop did so far.
pub(super) struct Loop {
    pub(super) passes: u32,
    pub(super) taken_out: u32,
    pub(super) yielded: u32,
    pub(super) why_none: Vec<String>,
}

/// Take out of the table what a margin of the whole evaluation rules out. Returns whether anything could be taken out, and
/// what failed in words. Modes that are limited as sums take nothing out where those sums can be worked out anew.
pub(super) fn mend_margins(
    filled: &mut Filled,
    (design, choice, yields): (&Design, &[Vec<usize>], bool),
    s: &Structure,
    loop_: &mut Loop,
) -> (bool, Vec<String>) {
    let mut fails = Vec::new();
    let mut again = false;
    if !s.settled {
        fails.push("the weight-load loop does not settle".to_owned());
    }
    for m in &s.margins {
        let Some(why) = rules_out(design, m) else { continue };
        let n = if yields && why.rf.is_some() && filled.yields.limited(m.mode) {
            0
        } else {
            take_out(filled, m, choice, why)
        };
        loop_.taken_out += n;
        again |= n > 0;
        let at = m.bay.map_or_else(String::new, |b| format!(", bay {}", b + 1));
        fails.push(match why.reserve() {
            Some(reserve) => format!("{} is short{at}: {reserve}", m.mode),
            None => format!("{} is not shown{at}", m.mode),
        });
    }
    (again, fails)
}

/// Lower the limits of the table by what the full evaluation is beyond those of the scenario, and take out zones that stand
/// too little. Returns whether anything could be done, and what was beyond in words.
pub(super) fn mend_limits(
    filled: &mut Filled,
    limits: &mut Limits,
    (row, e): (&Row, &Evaluation),
    (repair, loop_): (u32, &mut Loop),
) -> (bool, Vec<String>) {
    let design = &row.design;
    let mut fails = Vec::new();
    let mut again = false;
    let t = &design.targets;
    // A hair of slack: the limit itself was rounded to ticks of the table.
    if let Some(h) = repair_limit_h(design).filter(|h| row.repair_h > h * (1.0 + 1e-6)) {
        let over = ((row.repair_h - h) / filled.ticks.hour_h).ceil().max(1.0) as u64;
        again |= lower(limits, repair, over);
        fails.push(format!("repair hours {:.1} above {h:.1}", row.repair_h));
    }
    if let Some(most) = t.outings_lost_per_100.filter(|m| row.outings_lost > m * (1.0 + 1e-6)) {
        again |= lower(limits, repair, u64::from(repair / 50 + 1));
        fails.push(format!("outings lost {:.1} above {most:.1}", row.outings_lost));
    }
    // A splice adds no hours or money of its own, so these move only with the mass of what is sized.
    if let Some(most) = t.hours.filter(|m| row.hours > m * (1.0 + 1e-6)) {
        again |= lessen(&mut limits.build, (row.hours - most) / BUILD_TICK_H);
        fails.push(format!("building hours {:.0} above {most:.0}", row.hours));
    }
    if let Some(most) = t.cost.filter(|m| row.cost > m * (1.0 + 1e-6)) {
        again |= lessen(&mut limits.cost, (row.cost - most) / filled.ticks.cost);
        fails.push(format!("cost {:.0} above {most:.0}", row.cost));
    }
    if let Some(least) = t.press_n.filter(|n| row.least_press_n < *n) {
        for (z, d) in e.layout.zones.iter().zip(&e.durability.zones).filter(|(_, d)| d.press_n < least) {
            let why = Why::own("press load", Some(d.press_n / least));
            let n = take_out_zone(filled, (Some(z.strip), z.bay), &row.choice, why);
            loop_.taken_out += n;
            again |= n > 0;
        }
        fails.push(format!("press load {:.0} N below {least:.0} N", row.least_press_n));
    }
    (again, fails)
}

/// Lower a limit by what the evaluation was over it.
fn lessen(limit: &mut Option<u64>, over: f64) -> bool {
    let by = over.ceil().clamp(1.0, 1e12) as u64;
    match limit {
        Some(l) if *l >= by => {
            *l -= by;
            true
        }
        _ => false,
    }
}

fn lower(limits: &mut Limits, repair: u32, by: u64) -> bool {
    let now = limits.repair.unwrap_or_else(|| u64::from(repair)).min(u64::from(repair));
    limits.repair = now.checked_sub(by);
    limits.repair.is_some()
}

/// Modes of the whole wing that a stiffer nose mends.
const BY_NOSE: [&str; 5] = ["twist", "divergence", "control_reversal", "nose_seam_bond", "tip_deflection"];

fn take_out(filled: &mut Filled, m: &Margin, choice: &[Vec<usize>], why: Why) -> u32 {
    match (m.strip, m.bay) {
        (Some(s), Some(b)) => take_out_zone(filled, (Some(s), b), choice, why),
        (None, Some(b)) if m.mode.starts_with("web_") => take_out_zone(filled, (None, b), choice, why),
        // The box may go on to where less flow is left to close: what ends it in the next bay is taken out.
        (None, Some(b)) if m.mode == "closing_rib" => {
            let beyond = |s| take_out_zone(filled, (Some(s), b + 1), choice, why);
            let taken = [Strip::AftUpper, Strip::AftLower].into_iter().map(beyond).sum();
            nose_instead(taken, filled, choice, (b, why))
        }
        // The box may end short of the joint, or be of what hands less flow to its rib; as for the wall at a hinge.
        (None, Some(b)) if matches!(m.mode, "joint_rib" | "hinge_wall") => {
            let there = |s| take_out_zone(filled, (Some(s), b), choice, why);
            let taken = [Strip::AftUpper, Strip::AftLower].into_iter().map(there).sum();
            nose_instead(taken, filled, choice, (b, why))
        }
        // Nose skins and caps bend together in plane: the nose of that bay is too soft.
        (None, Some(b)) if m.mode == "inplane_bending" => {
            lightest_nose(filled, choice, Some(b)).map_or(0, |(c, k, step)| u32::from(filled.tighten(c, k, step, why)))
        }
        (None, _) if m.mode.starts_with("rib_") => {
            let ribs = filled.meaning.iter().position(|x| x.place == Place::Ribs);
            let taken = ribs.zip(ribs.and_then(|c| choice.get(c)?.first().copied()));
            taken.map_or(0, |(c, k)| u32::from(filled.tighten(c, k, 0, why)))
        }
        _ if BY_NOSE.contains(&m.mode) => soften_not(filled, choice, why),
        _ => 0,
    }
}

/// Where nothing of the aft box could be taken out, the nose of that bay that is softest in shear is: a stiffer one leaves less flow to the box.
fn nose_instead(taken: u32, filled: &mut Filled, choice: &[Vec<usize>], (bay, why): (usize, Why)) -> u32 {
    if taken > 0 {
        return taken;
    }
    let softest = least_nose(filled, choice, Some(bay), |s| s.a.s66);
    softest.map_or(0, |(c, k, step)| u32::from(filled.tighten(c, k, step, why)))
}

/// The lightest of what the nose is made of: its chain, candidate and first step; in one bay or anywhere.
fn lightest_nose(filled: &Filled, choice: &[Vec<usize>], bay: Option<usize>) -> Option<(usize, usize, usize)> {
    least_nose(filled, choice, bay, |s| s.mass.fibre)
}

/// The same by the least of anything that a skin has.
fn least_nose(
    filled: &Filled,
    choice: &[Vec<usize>],
    bay: Option<usize>,
    of: impl Fn(&Skin) -> f64,
) -> Option<(usize, usize, usize)> {
    let mut least: Option<(f64, (usize, usize, usize))> = None;
    for (c, m) in filled.meaning.iter().enumerate().filter(|(_, m)| m.place.strips().iter().any(|s| s.is_nose())) {
        let own = choice.get(c).into_iter().flatten().enumerate();
        for (step, k) in own.filter(|(step, _)| bay.is_none_or(|b| m.bays.get(*step) == Some(&b))) {
            let size = m.candidates.get(*k).and_then(|i| filled.ground.skins.get(*i)).map_or(0.0, &of);
            if least.is_none_or(|(l, _)| size < l) {
                least = Some((size, (c, *k, step)));
            }
        }
    }
    least.map(|l| l.1)
}

/// The nose as chosen is too soft: take out its lightest construction in use, wherever it is used.
fn soften_not(filled: &mut Filled, choice: &[Vec<usize>], why: Why) -> u32 {
    let Some((chain, k, _)) = lightest_nose(filled, choice, None) else { return 0 };
    let steps = filled.meaning.get(chain).map_or(0, |m| m.bays.len());
    let used: Vec<usize> = (0..steps).filter(|i| choice[chain].get(*i) == Some(&k)).collect();
    used.into_iter().map(|i| u32::from(filled.tighten(chain, k, i, why))).sum()
}

fn take_out_zone(filled: &mut Filled, (strip, bay): (Option<Strip>, usize), choice: &[Vec<usize>], why: Why) -> u32 {
    let chain = filled.meaning.iter().position(|m| match strip {
        Some(s) => m.place.strips().contains(&s),
        None => m.place == Place::Web,
    });
    let Some(c) = chain else { return 0 };
    let Some(step) = filled.meaning[c].bays.iter().position(|b| *b == bay) else { return 0 };
    choice.get(c).and_then(|x| x.get(step)).map_or(0, |k| u32::from(filled.tighten(c, *k, step, why)))
}
