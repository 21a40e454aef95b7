//! Prices of the limits: how much mass a tick of repair, build or cost is worth, so that the priced sum over all strips
//! is a bound on the mass of every design within the limits, as high as it goes.
//!
//! Lagrangian relaxation by cutting planes. The floats here only choose prices; prices are whole 1/1024ths and the bound
//! is summed in whole numbers, so any price, good or bad, gives a true bound.

use crate::search::chain::Step;
use crate::search::ready::Ready;

/// Prices and bounds are in parts of a tick of mass.
pub(crate) const PARTS: i64 = 1024;
/// Dearest price, so that priced totals stay below `FAR`.
const DEAREST: i64 = 1 << 29;
const MOST_CUTS: usize = 80;
/// A bound within this many parts of the best there is is left at that: more of it would save less than it costs.
const ENOUGH: f64 = 2.0 * PARTS as f64;
/// With several limits each price costs more to find and the best design lies further above any bound: this share of it.
const ENOUGH_OF_SEVERAL: f64 = 1.0 / 6500.0;

/// How many amounts may be limited.
pub(crate) const LIMITED: usize = 5;
/// Repair, build, cost, and the two more: what is limited, and by how much.
pub(crate) type Bounds = [Option<i64>; LIMITED];

/// The amounts of a step that may be limited.
pub(crate) const fn amounts(s: &Step) -> [i64; LIMITED] {
    [s.repair as i64, s.build as i64, s.cost as i64, s.yields[0] as i64, s.yields[1] as i64]
}

/// Prices and what they prove.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Dual {
    pub(crate) prices: [i64; LIMITED],
    /// No design within the limits has fewer parts of mass.
    pub(crate) bound: i64,
}

/// Mass with the limited amounts at their prices.
pub(crate) const fn priced(prices: [i64; LIMITED], s: &Step) -> i64 {
    let a = amounts(s);
    PARTS * s.mass as i64 + prices[0] * a[0] + prices[1] * a[1] + prices[2] * a[2] + prices[3] * a[3] + prices[4] * a[4]
}

/// The best design within the limits met so far: mass and repair, and construction by bay by strip.
pub(crate) struct Best {
    pub(crate) limits: Bounds,
    pub(crate) found: Option<(i64, Vec<Vec<usize>>)>,
}

impl Best {
    fn meet(&mut self, sum: &Step, choice: impl FnOnce() -> Vec<Vec<usize>>) {
        let within = (0..LIMITED).all(|i| self.limits[i].is_none_or(|l| amounts(sum)[i] <= l));
        let key = sum.mass_then_repair();
        if within && self.found.as_ref().is_none_or(|b| key < b.0) {
            self.found = Some((key, choice()));
        }
    }
}

/// Best prices found, with every strip's priced sums left at them; designs met on the way go to `best`. `guess`, the prices
/// of a problem much like this one, shortens the way.
pub(crate) fn prices(strips: &mut [Ready], guess: Option<[i64; LIMITED]>, best: &mut Best) -> Option<Dual> {
    let used: Vec<usize> = (0..LIMITED).filter(|&i| best.limits[i].is_some()).collect();
    let found = match used[..] {
        [i] => one(strips, i, guess.map(|g| g[i]), best),
        _ => several(strips, &used, guess, best),
    }?;
    strips.iter_mut().for_each(|r| r.price_at(found.prices));
    Some(found)
}

/// A design met at a price of the only limit: its mass and by how much it is over.
#[derive(Debug, Clone, Copy)]
struct Line {
    price: i64,
    mass: i64,
    over: i64,
}

impl Line {
    const fn at(&self, price: i64) -> i64 {
        PARTS * self.mass + price * self.over
    }
    const fn same(&self, o: &Self) -> bool {
        self.mass == o.mass && self.over == o.over
    }
}

/// One limit: between a price at which its best design is over and one at which it is not, the next is where their two
/// lines meet, but never far from the last, for lines met far away say little.
fn one(strips: &mut [Ready], i: usize, guess: Option<i64>, best: &mut Best) -> Option<Dual> {
    let limit = best.limits[i]?;
    let at = |price: i64, strips: &mut [Ready], best: &mut Best| -> Option<Line> {
        let mut sum = Step::NONE;
        for r in strips.iter_mut() {
            sum = sum.plus(r.way(i, price)?.sum);
        }
        best.meet(&sum, || {
            strips.iter_mut().map(|r| r.way(i, price).map_or_else(Vec::new, |w| w.choice.clone())).collect()
        });
        Some(Line { price, mass: i64::from(sum.mass), over: amounts(&sum)[i] - limit })
    };
    let dual = |l: &Line| {
        let mut prices = [0; LIMITED];
        prices[i] = l.price;
        Dual { prices, bound: l.at(l.price) }
    };
    let mut price = guess.unwrap_or(0).clamp(0, DEAREST);
    // How far from the last price the next may be; any distance while nothing is known.
    let mut reach = guess.map(|g| g / 16 + 1);
    let mut met = false;
    let (mut over, mut under): (Option<Line>, Option<Line>) = (None, None);
    let mut top: Option<Dual> = None;
    for _ in 0..MOST_CUTS {
        let line = at(price, strips, best)?;
        let here = dual(&line);
        if top.is_none_or(|t| here.bound > t.bound) {
            top = Some(here);
        }
        let known = |l: &Option<Line>| l.is_some_and(|l| l.same(&line));
        let learnt = !known(&over) && !known(&under);
        if line.over > 0 {
            over = Some(line);
        } else {
            under = Some(line);
        }
        // Where two lines met, there was nothing below them.
        if met && !learnt {
            break;
        }
        let far = reach.unwrap_or(DEAREST);
        let (next, meets) = match (over, under) {
            (_, Some(u)) if u.price == 0 || u.over == 0 => break,
            (Some(o), Some(u)) => {
                let meet = PARTS * (u.mass - o.mass) / (o.over - u.over).max(1);
                let value = o.at(meet).max(u.at(meet));
                if u.price - o.price < 2 || top.is_some_and(|t| value - t.bound <= ENOUGH as i64) {
                    break;
                }
                let near = meet.clamp(price.saturating_sub(far), price.saturating_add(far));
                let next = near.clamp(o.price + 1, u.price - 1);
                (next, next == meet)
            }
            (Some(o), None) if o.price >= DEAREST => break,
            (Some(o), None) => (o.price.saturating_add(far).min(DEAREST), false),
            (None, Some(u)) => ((u.price - far).max(0), false),
            (None, None) => break,
        };
        met = meets;
        reach = match reach {
            Some(r) => Some(r.saturating_mul(4)),
            None if next < DEAREST => Some(next / 16 + 1),
            None => None,
        };
        price = next;
    }
    top
}

/// Any number of limits, by cutting planes.
fn several(strips: &mut [Ready], used: &[usize], guess: Option<[i64; LIMITED]>, best: &mut Best) -> Option<Dual> {
    let limits = best.limits;
    let mut top: Option<Dual> = None;
    // What a design at these prices adds up to, and the best bound so far.
    let mut at = |prices: [i64; LIMITED], best: &mut Best| -> Option<(Step, i64)> {
        let before: Vec<Option<[i64; LIMITED]>> = strips.iter_mut().map(|r| r.try_at(prices)).collect();
        let ways: Option<Vec<(Vec<usize>, Step)>> = strips.iter().map(Ready::cheapest).collect();
        let ways = ways?;
        let least: i64 = strips.iter().map(|r| r.priced().least).sum();
        let bound = least - (0..LIMITED).map(|i| prices[i] * limits[i].unwrap_or(0)).sum::<i64>();
        let highest = match top {
            Some(t) if t.bound >= bound => {
                strips.iter_mut().zip(before).for_each(|(r, b)| r.put_back(b));
                t.bound
            }
            _ => {
                top = Some(Dual { prices, bound });
                bound
            }
        };
        let sum = ways.iter().fold(Step::NONE, |sum, w| sum.plus(w.1));
        best.meet(&sum, || ways.into_iter().map(|w| w.0).collect());
        Some((sum, highest))
    };
    let (sum, mut bound) = at(guess.unwrap_or([0; LIMITED]), best)?;
    let over =
        |s: &Step| -> Vec<f64> { used.iter().map(|&i| (amounts(s)[i] - limits[i].unwrap_or(0)) as f64).collect() };
    let mut master = Master::new(f64::from(sum.mass), &over(&sum), DEAREST as f64 / PARTS as f64);
    // Around a guess: a design on the other side of a limit is most of what has to be learnt.
    let around = guess.into_iter().flat_map(|g| used.iter().map(move |&i| (g, i)));
    for (mut prices, i) in around {
        let far = if amounts(&sum)[i] > limits[i].unwrap_or(0) { 1 } else { -1 };
        prices[i] = (prices[i] + far * (prices[i] / 16 + 1)).clamp(0, DEAREST);
        let Some((sum, highest)) = at(prices, best) else { break };
        bound = highest;
        master.add(f64::from(sum.mass), &over(&sum));
    }
    for _ in 0..MOST_CUTS {
        let (value, guess) = master.solve();
        if value * PARTS as f64 - bound as f64 <= ENOUGH.max(ENOUGH_OF_SEVERAL * bound as f64) {
            break;
        }
        let mut prices = [0; LIMITED];
        for (&i, g) in used.iter().zip(guess) {
            prices[i] = ((g * PARTS as f64).round() as i64).clamp(0, DEAREST);
        }
        let Some((sum, highest)) = at(prices, best) else { break };
        bound = highest;
        if !master.add(f64::from(sum.mass), &over(&sum)) {
            break;
        }
    }
    top
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
