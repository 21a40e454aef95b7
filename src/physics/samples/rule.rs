//! The rule that learns from samples: normal laws of logarithms, the spread in a part shared by all constructions of a form,
//! a part of each construction, and the scatter from specimen to specimen.

use statrs::distribution::{ContinuousCDF, StudentsT};
use statrs::function::gamma::ln_gamma;

use crate::physics::durability::spread::{self, Spread};
use crate::physics::mass::tally::normal_cdf;
use crate::physics::samples::record::Form;

/// Specimens that the spread from place to place before samples counts as: five, so four degrees of freedom. Assumption.
const PLACE_DEGREES: f64 = 4.0;
/// Least spread from place to place that specimens are weighed by. A choice of ours: no press reads closer.
const LEAST_PLACE: f64 = 0.03;

/// Standard deviations of ln resistance before samples: the error of the form, shared by every construction; the
/// construction's own; from place to place of one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Prior {
    pub shared: f64,
    pub own: f64,
    pub place: f64,
}

impl Prior {
    /// From the parts of the spread of a construction.
    pub fn of(form: Form, s: &Spread) -> Self {
        Self { shared: spread::shared(form), own: s.own, place: s.place }
    }
    /// All three together.
    pub fn whole(&self) -> f64 {
        self.shared.hypot(self.own).hypot(self.place)
    }
}

/// A joint normal law of some unknowns.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Belief {
    pub mean: Vec<f64>,
    pub covariance: Vec<Vec<f64>>,
}

impl Belief {
    /// Independent unknowns about zero.
    pub fn about_zero(sd: &[f64]) -> Self {
        let row = |i: usize| (0..sd.len()).map(|j| if i == j { sd[i] * sd[i] } else { 0.0 }).collect();
        Self { mean: vec![0.0; sd.len()], covariance: (0..sd.len()).map(row).collect() }
    }

    /// One more unknown about zero, independent of the others.
    pub fn grow(&mut self, sd: f64) {
        self.covariance.iter_mut().for_each(|row| row.push(0.0));
        self.mean.push(0.0);
        let n = self.mean.len();
        let mut row = vec![0.0; n];
        row[n - 1] = sd * sd;
        self.covariance.push(row);
    }

    /// Learn from a value seen of the sum of `weight` times the unknowns, with normal noise of this variance:
    /// gain C w/(w C w + r). Square of how far off it was, in standard deviations of what was expected.
    /// **Source:** R. E. Kalman 1960, one step; the conjugate normal law (from memory).
    pub fn learn(&mut self, weight: &[f64], seen: f64, noise: f64) -> f64 {
        let towards: Vec<f64> = self.covariance.iter().map(|row| dot(row, weight)).collect();
        let all = dot(&towards, weight) + noise;
        if all <= 0.0 {
            return 0.0;
        }
        let away = seen - dot(&self.mean, weight);
        let off = away / all;
        for i in 0..towards.len() {
            self.mean[i] += towards[i] * off;
            for j in 0..towards.len() {
                self.covariance[i][j] -= towards[i] * towards[j] / all;
            }
        }
        away * off
    }

    /// Mean and variance of the sum of `weight` times the unknowns.
    pub fn of(&self, weight: &[f64]) -> (f64, f64) {
        let var = self.covariance.iter().zip(weight).map(|(row, w)| w * dot(row, weight)).sum::<f64>();
        (dot(&self.mean, weight), var.max(0.0))
    }
}

fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(x, y)| x * y).sum()
}

/// Specimens of one construction: how many, the mean of ln(measured/predicted), sum of squares about it.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Group {
    pub specimens: f64,
    pub mean: f64,
    pub squares: f64,
}

impl Group {
    /// Of the ratios measured over predicted.
    pub fn of(ratios: &[f64]) -> Self {
        let mut g = Self::default();
        for r in ratios {
            g.add(r.ln());
        }
        g
    }

    fn add(&mut self, ln_ratio: f64) {
        self.specimens += 1.0;
        let off = ln_ratio - self.mean;
        self.mean += off / self.specimens;
        self.squares += off * (ln_ratio - self.mean);
    }

    /// Two sets of specimens together.
    #[must_use]
    pub fn with(self, other: Self) -> Self {
        let n = self.specimens + other.specimens;
        if n <= 0.0 {
            return self;
        }
        let off = other.mean - self.mean;
        Self {
            specimens: n,
            mean: self.mean + off * other.specimens / n,
            squares: self.squares + other.squares + off * off * self.specimens * other.specimens / n,
        }
    }

    /// Standard deviation of the logarithms; None of a single specimen.
    pub fn sd(&self) -> Option<f64> {
        (self.specimens > 1.5).then(|| (self.squares / (self.specimens - 1.0)).sqrt())
    }
}

/// What is known of ln(true/predicted) of one construction in one form.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Known {
    /// Mean of the logarithm, and the share of the spread before samples that is left; above 1 where they made it wider.
    pub shift: f64,
    pub kept: f64,
    /// Dispersion before samples.
    pub before: f64,
    /// Dispersion of the resistance of a place on the wing: what is left, and the scatter of specimens, widened by the law of
    /// Student for how few there were.
    pub beta: f64,
    /// Specimens of this construction, and of the form altogether.
    pub specimens: u32,
    pub of_form: u32,
}

/// What specimens of some constructions taught of one form.
#[derive(Debug, Clone, PartialEq)]
pub struct Lesson {
    groups: Vec<(Group, Prior)>,
    belief: Belief,
    pub about_others: Shared,
}

/// What is known of the error that all constructions of a form share.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shared {
    pub mean: f64,
    pub variance: f64,
    /// By how much the spread before samples was widened; 1 where they lie within it.
    pub wider: f64,
    /// Scatter from place to place over what was assumed, with its degrees of freedom.
    pub scale: f64,
    pub degrees: f64,
    pub of_form: u32,
}

impl Lesson {
    /// The spread from place to place is scaled by what was seen within all groups; the shared part and each construction's
    /// own are learnt together. Where specimens lie further off than their spread before samples lets them, that spread was too
    /// narrow: it is widened by how far off they are and they are learnt from again, so that a surprise teaches doubt as well.
    /// **Source:** the ratio of consistency, root of chi square over its number, R. T. Birge, Phys. Rev. 40, 1932 (from memory).
    pub fn of(groups: &[(Group, Prior)], shared: f64) -> Self {
        let (scale, degrees) = scatter(groups);
        let learnt = |wider: f64| {
            let mut sd = vec![wider * shared];
            sd.extend(groups.iter().map(|(_, p)| wider * p.own));
            let (mut belief, mut square, mut seen) = (Belief::about_zero(&sd), 0.0, 0.0_f64);
            for (i, (g, p)) in groups.iter().enumerate().filter(|(_, (g, _))| g.specimens > 0.0) {
                let place = scale * p.place.max(LEAST_PLACE);
                square += belief.learn(&weight(i, sd.len()), g.mean, place * place / g.specimens);
                seen += 1.0;
            }
            (belief, (square / seen.max(1.0)).sqrt())
        };
        let (mut belief, off) = learnt(1.0);
        let wider = off.max(1.0);
        if wider > 1.0 {
            belief = learnt(wider).0;
        }
        let of_form = groups.iter().map(|(g, _)| g.specimens).sum::<f64>() as u32;
        let (mean, variance) = (belief.mean[0], belief.covariance[0][0].max(0.0));
        let about_others = Shared { mean, variance, wider, scale, degrees, of_form };
        Self { groups: groups.to_vec(), belief, about_others }
    }

    /// Of the construction of a group.
    pub(super) fn own(&self, group: usize) -> Option<Known> {
        let (g, p) = self.groups.get(group)?;
        let (shift, var) = self.belief.of(&weight(group, self.belief.mean.len()));
        Some(self.about_others.known((shift, var), p, g.specimens as u32))
    }
}

/// The shared part and the own part of a group.
fn weight(group: usize, unknowns: usize) -> Vec<f64> {
    let mut w = vec![0.0; unknowns];
    w[0] = 1.0;
    if let Some(own) = w.get_mut(group + 1) {
        *own = 1.0;
    }
    w
}

impl Shared {
    /// Of a construction that was never pressed.
    pub(super) fn other(&self, p: &Prior) -> Known {
        let own = self.wider * p.own;
        self.known((self.mean, self.variance + own * own), p, 0)
    }

    fn known(&self, (shift, var): (f64, f64), p: &Prior, specimens: u32) -> Known {
        let widened = self.scale * p.place * student_quantile(0.95, self.degrees) / P95;
        Known {
            shift,
            kept: (var / (p.shared * p.shared + p.own * p.own).max(1e-12)).sqrt(),
            before: p.whole(),
            beta: var.sqrt().hypot(widened),
            specimens,
            of_form: self.of_form,
        }
    }
}

/// Each of some constructions, then one that was never pressed.
pub fn posterior(groups: &[(Group, Prior)], other: &Prior) -> Vec<Known> {
    let lesson = Lesson::of(groups, other.shared);
    let own = (0..groups.len()).filter_map(|i| lesson.own(i));
    own.chain([lesson.about_others.other(other)]).collect()
}

/// Scatter of specimens over what was assumed from place to place, and its degrees of freedom: what was seen within the groups,
/// with the assumed scatter as prior.
pub fn scatter(groups: &[(Group, Prior)]) -> (f64, f64) {
    let squares: f64 = groups.iter().map(|(g, p)| g.squares / p.place.max(LEAST_PLACE).powi(2)).sum();
    let degrees = PLACE_DEGREES + groups.iter().map(|(g, _)| (g.specimens - 1.0).max(0.0)).sum::<f64>();
    (((PLACE_DEGREES + squares) / degrees).sqrt(), degrees)
}

/// Deviation from median to P5 or P95 in a normal law.
const P95: f64 = 1.645;

/// Quantile of the law of Student. **Source:** statrs; any table of t.
pub fn student_quantile(share: f64, degrees: f64) -> f64 {
    StudentsT::new(0.0, 1.0, degrees).map_or(f64::INFINITY, |t| t.inverse_cdf(share))
}

/// One-sided tolerance factor: mean - k sd of n specimens stands below the share `left` of all places with this confidence.
/// **Derived**: chance over the law of sd that sqrt(n)(k sd/sigma - z) passes a standard normal deviate, by Simpson's rule.
/// **Valid for:** a normal law, n of 2 or more.
pub fn tolerance_factor(specimens: u32, left: f64, confidence: f64) -> f64 {
    let n = f64::from(specimens.max(2));
    let (nu, z) = (n - 1.0, crate::physics::mass::tally::normal_quantile(1.0 - left).abs());
    let scale = std::f64::consts::LN_2 + 0.5 * nu * (0.5 * nu).ln() - ln_gamma(0.5 * nu);
    let density = |s: f64| if s <= 0.0 { 0.0 } else { (scale + (nu - 1.0) * s.ln() - 0.5 * nu * s * s).exp() };
    let steps = 2000;
    let most = 1.0 + 9.0 / (2.0 * nu).sqrt();
    let chance = |k: f64| {
        let at = |i: u32| {
            let s = most * f64::from(i) / f64::from(steps);
            // At its foot the density of two specimens is flat, not nought.
            let d = if i == 0 && specimens <= 2 { scale.exp() } else { density(s) };
            d * normal_cdf(n.sqrt() * (k * s - z))
        };
        let inner: f64 = (1..steps).map(|i| if i % 2 == 1 { 4.0 * at(i) } else { 2.0 * at(i) }).sum();
        (at(0) + inner + at(steps)) * most / f64::from(steps) / 3.0
    };
    let (mut low, mut high) = (z, 60.0);
    for _ in 0..60 {
        let mid = f64::midpoint(low, high);
        if chance(mid) < confidence { low = mid } else { high = mid }
    }
    high
}
