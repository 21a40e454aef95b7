//! What was seen in proof loads, and what it says of the next: each record holds what was computed for that test beside what was
//! seen, so that nothing a dial does later changes what it taught.
//!
//! Stiffness: `ln(computed/seen)` of bending and of torsion is what all tests share, plus what one rigging gives (a frame that
//! slips, pins with play, the other half), plus the reading. Strength: `ln(seen/likely)` by mode, by the rule of the samples.
//! It corrects predictions of the next test. No margin, weight, load or drag follows it: a proof is one wing on one day, and what
//! makes a wing look better must not flow into it unseen; where a test looks worse than computed that is a warning everywhere.

use crate::physics::mass::weighed::Half;
use crate::physics::samples::rule::{Belief, Group, Known, Prior, posterior};
use crate::physics::workshop::test_section::scatter;

/// Which test.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Test {
    /// The tip under bags.
    Bags,
    /// Turn of a chord under couples.
    Torsion,
    /// A section made to be broken: how far its load point goes, or what breaks it.
    Section,
}

impl Test {
    pub const ALL: [Self; 3] = [Self::Bags, Self::Torsion, Self::Section];
    pub const fn key(self) -> &'static str {
        match self {
            Self::Bags => "bags",
            Self::Torsion => "torsion",
            Self::Section => "section",
        }
    }
}

/// Computed and seen of one quantity, SI, and how far the reading may be off (one standard deviation).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pair {
    pub computed: f64,
    pub seen: f64,
    pub reading: f64,
}

/// One record.
#[derive(Debug, Clone, PartialEq)]
pub struct Seen {
    pub test: Test,
    /// Share of limit (bags, torsion) or of ultimate (a section) it was read at.
    pub step: f64,
    pub half: Half,
    /// How far the tip or the load point went, m, or a chord turned, rad.
    pub gave: Option<Pair>,
    /// Likely load and load that broke it, N, and by which mode.
    pub broke: Option<(Pair, &'static str)>,
    pub date: String,
    pub note: String,
}

/// Standard deviations of logarithms before anything is seen; all are assumptions. EI: as the stiffness of faces. GJ: four walls and
/// the seams between them. What a rigging gives: clamps, play of pins, frames; a half against the other.
pub const EI_SD: f64 = 0.10;
pub const GJ_SD: f64 = 0.20;
pub const BAGS_RIG_SD: f64 = 0.05;
pub const FRAME_RIG_SD: f64 = 0.08;
/// From step to step of one test, beyond the reading.
pub const STEP_SD: f64 = 0.02;
/// Reading of a rule, of a digital level and of a spring balance when the record says none: m, rad, share of the load.
pub const RULE_M: f64 = 0.002;
pub const LEVEL_RAD: f64 = 0.0009;
pub const BALANCE: f64 = 0.01;
/// Softer by this on the mean: said wherever the wing is reported. A choice of ours.
const SOFT: f64 = 0.90;

/// A stiffness as seen over as computed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ratio {
    /// Mean and standard deviation of the logarithm.
    pub ln: f64,
    pub sd: f64,
    /// The same before anything was seen.
    pub before_sd: f64,
    pub records: u32,
    /// What one rigging adds when the next test is predicted.
    pub rig_sd: f64,
}

/// 10 % and 90 % of a normal law.
const P90: f64 = 1.2816;

impl Ratio {
    /// Median, P10 and P90.
    pub fn band(&self) -> [f64; 3] {
        [0.0, -P90, P90].map(|z| (self.ln + z * self.sd).exp())
    }
    /// Deflection or turn of the next test from the computed one: median, least and most (P10, P90).
    pub fn next(&self, computed: f64) -> [f64; 3] {
        let sd = self.sd.hypot(self.rig_sd);
        [0.0, -P90, P90].map(|z| computed * (z * sd - self.ln).exp())
    }
    /// A frequency, which goes with the root of the stiffness.
    pub fn frequency(&self, computed_hz: f64) -> f64 {
        computed_hz * (0.5 * self.ln).exp()
    }
}

/// Load that breaks a mode, seen over likely.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Broke {
    pub mode: &'static str,
    pub known: Known,
}

impl Broke {
    /// The next section: likely, and P5 and P95, from the computed likely load.
    pub fn next(&self, likely_n: f64) -> [f64; 3] {
        [0.0, -1.645, 1.645].map(|z| likely_n * (self.known.shift + z * self.known.beta).exp())
    }
}

/// All that was learnt.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Lessons {
    pub ei: Option<Ratio>,
    pub gj: Option<Ratio>,
    pub strength: Vec<Broke>,
}

impl Seen {
    /// Whether it tells of bending.
    const fn bends(&self) -> bool {
        matches!(self.test, Test::Bags | Test::Section)
    }
    const fn rig_sd(&self) -> f64 {
        if self.bends() { BAGS_RIG_SD } else { FRAME_RIG_SD }
    }
    /// Read in one rigging.
    fn with(&self, other: &Self) -> bool {
        (self.test, self.half, &self.date) == (other.test, other.half, &other.date)
    }
}

/// Stiffness from the records that tell of it: the part all share, each rigging's own, and the readings as noise.
/// **Source:** the conjugate normal law, [`Belief::learn`]; spreads are assumptions beside their constants.
pub fn stiffness(records: &[&Seen], shared_sd: f64, rig_sd: f64) -> Option<Ratio> {
    let read: Vec<(&Seen, Pair)> = records.iter().filter_map(|s| Some((*s, s.gave?))).collect();
    let mut rigs: Vec<&Seen> = Vec::new();
    for (s, _) in &read {
        if !rigs.iter().any(|r| r.with(s)) {
            rigs.push(s);
        }
    }
    let mut sd = vec![shared_sd];
    sd.extend(rigs.iter().map(|r| r.rig_sd()));
    let mut belief = Belief::about_zero(&sd);
    let mut count = 0;
    for (s, p) in &read {
        if !(p.computed > 0.0 && p.seen > 0.0) {
            continue;
        }
        let mut weight = vec![0.0; sd.len()];
        weight[0] = 1.0;
        if let Some(i) = rigs.iter().position(|r| r.with(s)) {
            weight[i + 1] = 1.0;
        }
        belief.learn(&weight, (p.computed / p.seen).ln(), STEP_SD.powi(2) + (p.reading / p.seen).powi(2));
        count += 1;
    }
    let sd = belief.covariance.first().and_then(|r| r.first()).map_or(shared_sd, |v| v.max(0.0).sqrt());
    let ln = belief.mean.first().copied().unwrap_or(0.0);
    (count > 0).then_some(Ratio { ln, sd, before_sd: shared_sd, records: count, rig_sd })
}

/// What broke, mode by mode, by the rule of the samples: an error of the form, and the scatter from section to section.
fn strength(records: &[Seen]) -> Vec<Broke> {
    let mut out: Vec<(&'static str, Vec<f64>)> = Vec::new();
    for (p, mode) in records.iter().filter_map(|s| s.broke) {
        if p.computed > 0.0 && p.seen > 0.0 {
            match out.iter_mut().find(|o| o.0 == mode) {
                Some(o) => o.1.push(p.seen / p.computed),
                None => out.push((mode, vec![p.seen / p.computed])),
            }
        }
    }
    let known = |(mode, ratios): (&'static str, Vec<f64>)| {
        let s = scatter(mode)?;
        let prior = Prior { shared: s.shared, own: 0.0, place: s.own };
        let known = posterior(&[(Group::of(&ratios), prior)], &prior).into_iter().next()?;
        Some(Broke { mode, known })
    };
    out.into_iter().filter_map(known).collect()
}

/// Everything the records teach.
pub fn learn(records: &[Seen]) -> Lessons {
    let that = |bends: bool| records.iter().filter(|s| s.bends() == bends).collect::<Vec<_>>();
    Lessons {
        ei: stiffness(&that(true), EI_SD, BAGS_RIG_SD),
        gj: stiffness(&that(false), GJ_SD, FRAME_RIG_SD),
        strength: strength(records),
    }
}

/// What must be said of the wing itself: softer than computed, or a section that broke below what its margins allow.
pub fn warnings(records: &[Seen]) -> Vec<String> {
    let l = learn(records);
    let mut out = Vec::new();
    for (r, what, follows) in [
        (l.ei, "bending", "deflection and bending frequency"),
        (l.gj, "torsion", "twist, divergence, roll control and torsion frequency"),
    ] {
        if let Some(r) = r.filter(|r| r.ln < SOFT.ln()) {
            out.push(format!(
                "softer in {what} than computed, {:.2} of it: {follows} are computed without that; `workshop FILE --seen` tells it",
                r.ln.exp()
            ));
        }
    }
    for (p, mode) in records.iter().filter_map(|s| s.broke) {
        let Some(s) = scatter(mode) else { continue };
        if p.computed > 0.0 && p.seen < p.computed / s.likely_over_allowed {
            out.push(format!(
                "a test section broke by `{mode}` at {:.0} N, below the {:.0} N its margins count on: margins of that mode are too good",
                p.seen,
                p.computed / s.likely_over_allowed
            ));
        }
    }
    out
}
