//! Prices of the limits: how much mass a tick of repair, build or cost is worth, so that the priced sum over all strips
//! is a bound on the mass of every design within the limits, as high as it goes.
//!
//! Lagrangian relaxation by cutting planes. The floats here only choose prices; prices are whole 1/1024ths and the bound
//! is summed in whole numbers, so any price, good or bad, gives a true bound.

use crate::search::chain::{Chain, Completion, FAR, Step};

/// Prices and bounds are in parts of a tick of mass.
pub(crate) const PARTS: i64 = 1024;
/// Dearest price, so that priced totals stay below `FAR`.
const DEAREST: i64 = 1 << 29;
const MOST_CUTS: usize = 80;
/// A bound within this many parts of the best there is is left at that: more of it would save less than it costs.
const ENOUGH: f64 = 2.0 * PARTS as f64;

/// Repair, build, cost: what is limited, and by how much.
pub(crate) type Bounds = [Option<i64>; 3];

/// The amounts of a step that may be limited.
pub(crate) const fn amounts(s: &Step) -> [i64; 3] {
    [s.repair as i64, s.build as i64, s.cost as i64]
}

/// Prices and what they prove.
#[derive(Debug, Clone)]
pub(crate) struct Dual {
    pub(crate) prices: [i64; 3],
    /// No design within the limits has fewer parts of mass.
    pub(crate) bound: i64,
    /// Priced sums to the tip, by strip.
    pub(crate) rest: Vec<Completion>,
}

impl Dual {
    /// Mass with the limited amounts at their prices.
    pub(crate) fn priced(&self, s: &Step) -> i64 {
        priced(self.prices, s)
    }
}

const fn priced(prices: [i64; 3], s: &Step) -> i64 {
    let a = amounts(s);
    PARTS * s.mass as i64 + prices[0] * a[0] + prices[1] * a[1] + prices[2] * a[2]
}

/// Best prices found, and every design met on the way as choices by strip with its sum. `guess`, the prices of a problem
/// much like this one, shortens the way.
pub(crate) fn prices(
    chains: &[Chain],
    limits: Bounds,
    guess: Option<[i64; 3]>,
    mut met: impl FnMut(&[Vec<usize>], &Step),
) -> Option<Dual> {
    let used: Vec<usize> = (0..3).filter(|&i| limits[i].is_some()).collect();
    let evaluate = |prices: [i64; 3]| -> Option<(Dual, Step, Vec<Vec<usize>>)> {
        let rest: Vec<Completion> = chains.iter().map(|c| c.completion(|s| priced(prices, s))).collect();
        let mut bound = 0;
        for r in &rest {
            if r.least >= FAR {
                return None;
            }
            bound += r.least;
        }
        bound -= (0..3).map(|i| prices[i] * limits[i].unwrap_or(0)).sum::<i64>();
        let walked = chains.iter().zip(&rest).map(|(c, r)| walk(c, r, |s| priced(prices, s)));
        let (choices, sums): (Vec<_>, Vec<_>) = walked.collect::<Option<Vec<_>>>()?.into_iter().unzip();
        let sum = sums.into_iter().fold(Step::NONE, Step::plus);
        Some((Dual { prices, bound, rest }, sum, choices))
    };
    let (mut best, sum, choices) = evaluate([0; 3])?;
    met(&choices, &sum);
    let over =
        |s: &Step| -> Vec<f64> { used.iter().map(|&i| (amounts(s)[i] - limits[i].unwrap_or(0)) as f64).collect() };
    let mut master = Master::new(f64::from(sum.mass), &over(&sum), DEAREST as f64 / PARTS as f64);
    // Around a guess: one design on either side of each limit is most of what has to be learnt.
    let around = guess.into_iter().flat_map(|g| [g, g.map(|p| p + p / 16), g.map(|p| p - p / 16)]);
    for prices in around.filter(|_| !used.is_empty()) {
        let Some((dual, sum, choices)) = evaluate(prices) else { break };
        met(&choices, &sum);
        master.add(f64::from(sum.mass), &over(&sum));
        if dual.bound > best.bound {
            best = dual;
        }
    }
    for _ in 0..MOST_CUTS {
        let (value, guess) = master.solve();
        if value * PARTS as f64 - (best.bound as f64) <= ENOUGH {
            break;
        }
        let mut prices = [0; 3];
        for (&i, g) in used.iter().zip(guess) {
            prices[i] = ((g * PARTS as f64).round() as i64).clamp(0, DEAREST);
        }
        let Some((dual, sum, choices)) = evaluate(prices) else { break };
        met(&choices, &sum);
        if dual.bound > best.bound {
            best = dual;
        }
        if !master.add(f64::from(sum.mass), &over(&sum)) {
            break;
        }
    }
    Some(best)
}

/// A cheapest way along a strip: its choices and sum.
fn walk(chain: &Chain, rest: &Completion, weight: impl Fn(&Step) -> i64) -> Option<(Vec<usize>, Step)> {
    let mut choice = Vec::with_capacity(chain.bays);
    let (mut k, mut sum) = (0..chain.kinds.len()).find_map(|k| {
        let s = chain.start(0, k)?;
        (weight(s) + rest.at(chain.run[k] - 1, 0, k) == rest.least).then_some((k, *s))
    })?;
    choice.resize(chain.run[k], chain.kinds[k]);
    let mut u = 0;
    while choice.len() < chain.bays {
        let b = choice.len() - 1;
        let left = rest.at(b, u, k);
        if let Some(s) = chain.cell(b + 1, k).filter(|s| weight(s) + rest.at(b + 1, u, k) == left) {
            choice.push(chain.kinds[k]);
            sum = sum.plus(*s);
            continue;
        }
        let (to, joint, start) = (0..chain.kinds.len()).find_map(|to| {
            let j = chain.joint(b + 1, chain.class_of[k], chain.class_of[to])?;
            let s = chain.start(b + 1, to)?;
            let then = rest.at(b + chain.run[to], u + 1, to);
            (weight(j) + weight(s) + then == left).then_some((to, *j, *s))
        })?;
        choice.resize(choice.len() + chain.run[to], chain.kinds[to]);
        sum = sum.plus(joint).plus(start);
        (k, u) = (to, u + 1);
    }
    Some((choice, sum))
}

/// The cutting planes as a linear programme in the shape of mixtures of the designs met: the lightest mixture that is
/// within the limits on average, overruns paid at the dearest price. One row for each limit and one for the shares.
struct Master {
    rows: usize,
    dearest: f64,
    columns: Vec<(f64, Vec<f64>)>,
    basis: Vec<usize>,
    /// Inverse of the basis, by row.
    inverse: Vec<Vec<f64>>,
}

impl Master {
    fn new(mass: f64, over: &[f64], dearest: f64) -> Self {
        let q = over.len();
        let unit = |j: usize, sign: f64| (0..=q).map(|i| if i == j { sign } else { 0.0 }).collect::<Vec<f64>>();
        let mut columns = Vec::new();
        for j in 0..q {
            columns.push((0.0, unit(j, 1.0)));
            columns.push((dearest, unit(j, -1.0)));
        }
        columns.push((mass, over.iter().copied().chain([1.0]).collect()));
        let mut basis: Vec<usize> = over.iter().enumerate().map(|(j, o)| 2 * j + usize::from(*o > 0.0)).collect();
        basis.push(2 * q);
        let mut inverse: Vec<Vec<f64>> = (0..=q).map(|i| unit(i, 1.0)).collect();
        for (j, o) in over.iter().enumerate() {
            let sign = if *o > 0.0 { -1.0 } else { 1.0 };
            inverse[j][j] = sign;
            inverse[j][q] = -sign * o;
        }
        Self { rows: q + 1, dearest, columns, basis, inverse }
    }

    /// Add a design; false when it is one already there, so nothing more can be learnt.
    fn add(&mut self, mass: f64, over: &[f64]) -> bool {
        let column = (mass, over.iter().copied().chain([1.0]).collect::<Vec<f64>>());
        let fresh = !self.columns.contains(&column);
        self.columns.push(column);
        fresh
    }

    /// Value of the best mixture and the price of each limit.
    fn solve(&mut self) -> (f64, Vec<f64>) {
        for _ in 0..200 {
            let y = self.multipliers();
            let reduced = |c: &(f64, Vec<f64>)| c.0 - c.1.iter().zip(&y).map(|(a, b)| a * b).sum::<f64>();
            let entering = (0..self.columns.len())
                .map(|i| (i, reduced(&self.columns[i])))
                .min_by(|a, b| a.1.total_cmp(&b.1))
                .filter(|(_, r)| *r < -1e-7);
            let Some((entering, _)) = entering else { break };
            let d: Vec<f64> = self.inverse.iter().map(|row| dot(row, &self.columns[entering].1)).collect();
            let share = |i: usize| self.inverse[i][self.rows - 1];
            let leaving = (0..self.rows)
                .filter(|&i| d[i] > 1e-9)
                .min_by(|&a, &b| (share(a) / d[a]).total_cmp(&(share(b) / d[b])));
            let Some(leaving) = leaving else { break };
            let pivot: Vec<f64> = self.inverse[leaving].iter().map(|x| x / d[leaving]).collect();
            for (i, row) in self.inverse.iter_mut().enumerate() {
                for (x, p) in row.iter_mut().zip(&pivot) {
                    *x = if i == leaving { *p } else { *x - d[i] * p };
                }
            }
            self.basis[leaving] = entering;
        }
        let y = self.multipliers();
        let prices = y[..self.rows - 1].iter().map(|p| (-p).clamp(0.0, self.dearest)).collect();
        (y[self.rows - 1], prices)
    }

    fn multipliers(&self) -> Vec<f64> {
        (0..self.rows)
            .map(|j| (0..self.rows).map(|i| self.columns[self.basis[i]].0 * self.inverse[i][j]).sum())
            .collect()
    }
}

fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(x, y)| x * y).sum()
}
