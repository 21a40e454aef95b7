//! Where weight can be won back: single changes to what is still to be made, each with what it saves and what it costs.

use crate::physics::assumptions::Assumptions;
use crate::physics::design::{Design, Strip};
use crate::physics::evaluation::{Evaluation, WingVerdict, evaluate};
use crate::physics::laminate::construction::{Construction, Kind};
use crate::physics::mass::tally::Heading;
use crate::physics::mass::weighed::{is_built, skin_is_built};

/// A change that makes the wing lighter.
#[derive(Debug, Clone, PartialEq)]
pub struct Saving {
    pub title: String,
    /// Less in the expected weight, kg; more in the durability index (less where negative).
    pub saves_kg: f64,
    pub index: f64,
    /// The verdict on strength with it, and its least reserve.
    pub verdict: WingVerdict,
    pub least_rf: Option<f64>,
}

/// A saving smaller than this is not worth a line, kg. A choice of ours.
const LEAST_KG: f64 = 0.005;
/// How much thinner a core is tried. A choice of ours.
const THINNER_M: f64 = 0.001;
/// Thinnest core that is tried. A choice of ours.
const THINNEST_M: f64 = 0.002;

/// Constructions that no skin on the scales is made of.
fn still_to_make(d: &Design) -> Vec<bool> {
    let mut out = vec![false; d.constructions.len()];
    for s in &d.strips {
        for r in &s.runs {
            if let Some(free) = out.get_mut(r.construction) {
                *free = true;
            }
        }
    }
    for s in d.strips.iter().filter(|s| skin_is_built(&d.weighed, s.strip)) {
        for r in &s.runs {
            if let Some(free) = out.get_mut(r.construction) {
                *free = false;
            }
        }
    }
    out
}

/// Every change, as a design of its own.
fn changes(d: &Design) -> Vec<(String, Design)> {
    let mut out = Vec::new();
    let mut push = |title: String, change: &dyn Fn(&mut Design)| {
        let mut new = d.clone();
        change(&mut new);
        if new != *d {
            out.push((title, new));
        }
    };
    let free = still_to_make(d);
    let mut of_skin = |words: &str, can: &dyn Fn(&Construction) -> bool, change: &dyn Fn(&mut Construction)| {
        for (i, c) in d.constructions.iter().enumerate().filter(|(i, c)| free[*i] && can(c)) {
            push(format!("{}: {words}", c.name), &|d| change(&mut d.constructions[i]));
        }
    };
    of_skin("no finish", &|c| c.finish.is_some(), &|c| c.finish = None);
    let thick = |c: &Construction| c.core.is_some_and(|k| k.thickness_m - THINNER_M >= THINNEST_M);
    of_skin("core 1 mm thinner", &thick, &|c| {
        if let Some(k) = &mut c.core {
            k.thickness_m -= THINNER_M;
        }
    });
    let plies = |c: &Construction| c.kind != Kind::Covering;
    of_skin("one ply fewer outside", &|c| plies(c) && c.outer.len() > 1, &|c| {
        c.outer.remove(0);
    });
    of_skin("one ply fewer inside", &|c| plies(c) && c.inner.len() > 1, &|c| {
        c.inner.pop();
    });
    if !is_built(&d.weighed, Heading::Ribs) {
        push("one bay fewer in every region of ribs".to_owned(), &|d| {
            d.ribs.iter_mut().for_each(|r| r.bays = r.bays.saturating_sub(1).max(1));
        });
    }
    let aft = [Strip::AftUpper, Strip::AftLower];
    if !aft.iter().any(|s| skin_is_built(&d.weighed, *s)) {
        push("boundary of the aft skins 0.05 of the half span further in".to_owned(), &|d| {
            let covered: Vec<bool> = d.constructions.iter().map(|c| c.kind == Kind::Covering).collect();
            for s in d.strips.iter_mut().filter(|s| aft.contains(&s.strip)) {
                for i in 1..s.runs.len() {
                    let is = |i: usize| covered.get(s.runs[i].construction) == Some(&true);
                    if is(i) && !is(i - 1) && s.runs[i - 1].to_eta - 0.05 > s.runs[i - 1].from_eta {
                        s.runs[i - 1].to_eta -= 0.05;
                        s.runs[i].from_eta = s.runs[i - 1].to_eta;
                    }
                }
            }
        });
    }
    out
}

/// Changes that save weight, the greatest saving first.
pub fn of(design: &Design, e: &Evaluation) -> Vec<Saving> {
    let saving = |(title, new): (String, Design)| {
        let with = evaluate(&new, &Assumptions::default());
        let saves_kg = e.weight.expected_kg - with.weight.expected_kg;
        (saves_kg > LEAST_KG).then(|| Saving {
            title,
            saves_kg,
            index: with.durability.index - e.durability.index,
            verdict: with.strength.verdict,
            least_rf: with.strength.least.and_then(|i| with.margins.get(i)).map(|m| m.rf),
        })
    };
    let mut out: Vec<Saving> = changes(design).into_iter().filter_map(saving).collect();
    out.sort_by(|a, b| b.saves_kg.total_cmp(&a.saves_kg));
    out
}
