//! The lightest design within limits on repair, build and cost, proven: a bound from priced limits, then every design
//! that the bound leaves room for, in a window that widens until it holds the best.
//!
//! A design of mass `m` within the limits has a priced sum at most `m - bound` above the least one. So once all designs
//! within a window are known, the lightest of them is proven if it lies no further than the window above the bound.

use crate::search::chain::{Chain, Completion, Step};
use crate::search::dual::{self, Bounds, Dual, PARTS, amounts};

/// The best design found and what is proven about it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Lightest {
    /// Construction by bay by strip.
    pub(crate) choice: Option<Vec<Vec<usize>>>,
    /// No design within the limits is lighter than this; none when it is proven that there is none.
    pub(crate) bound: Option<u32>,
    pub(crate) proven: bool,
    /// What the limits cost at best.
    pub(crate) prices: Option<[i64; 3]>,
}

/// Part of a design: what it weighs and takes, how far above the least priced sum, and where it came from.
#[derive(Debug, Clone, Copy)]
struct Label {
    /// Mass, then repair.
    key: i64,
    /// Only what is limited.
    amounts: [i64; 3],
    above: i64,
    from: u32,
}

impl Label {
    fn plus(self, s: &Step, used: [bool; 3], priced: i64) -> Self {
        let a = amounts(s);
        let amounts = std::array::from_fn(|i| self.amounts[i] + if used[i] { a[i] } else { 0 });
        Self { key: self.key + s.mass_then_repair(), amounts, above: self.above + priced, from: self.from }
    }
}

/// A run of one construction: where it began and the run before it.
#[derive(Debug, Clone, Copy)]
struct Run {
    k: usize,
    began: usize,
    before: u32,
}

const NO_RUN: u32 = u32::MAX;

/// More labels than allowed.
struct TooMany;

struct Search<'a> {
    chains: &'a [Chain],
    limits: Bounds,
    used: [bool; 3],
    /// Least of each amount to the tip, by strip.
    rest: Vec<[Option<Completion>; 3]>,
    dual: Dual,
    labels_left: usize,
}

/// Find the lightest design within the limits. `ceiling` is the most labels one window may make; `guess`, prices of a
/// problem much like it, only shortens the way.
pub(crate) fn lightest(
    chains: &[Chain],
    limits: Bounds,
    guess: Option<[i64; 3]>,
    heaviest: u64,
    ceiling: usize,
) -> Lightest {
    let none = Lightest { choice: None, bound: None, proven: true, prices: guess };
    let used = limits.map(|l| l.is_some());
    let rest: Vec<[Option<Completion>; 3]> =
        chains.iter().map(|c| std::array::from_fn(|i| used[i].then(|| c.completion(|s| amounts(s)[i])))).collect();
    let mut best: Option<(i64, Vec<Vec<usize>>)> = None;
    let met = |choice: &[Vec<usize>], sum: &Step| {
        let within = (0..3).all(|i| limits[i].is_none_or(|l| amounts(sum)[i] <= l));
        let key = sum.mass_then_repair();
        if within && best.as_ref().is_none_or(|b| key < b.0) {
            best = Some((key, choice.to_vec()));
        }
    };
    let Some(dual) = dual::prices(chains, limits, guess, met) else { return none };
    let least = |i: usize| rest.iter().filter_map(|r| r[i].as_ref()).map(|r| r.least).sum::<i64>();
    if (0..3).any(|i| limits[i].is_some_and(|l| least(i) > l)) {
        return none;
    }
    let prices = Some(dual.prices);
    let room = PARTS * heaviest as i64 - dual.bound;
    if room < 0 {
        return none;
    }
    let mut search = Search { chains, limits, used, rest, dual, labels_left: 0 };
    let bound = search.dual.bound;
    let mut window = (bound / 2000).max(PARTS);
    let mut done = -1;
    loop {
        if let Some((key, _)) = &best {
            window = window.min(PARTS * (key >> 31) - bound);
        }
        window = window.clamp(0, room);
        search.labels_left = ceiling;
        let Ok(found) = search.within(window) else {
            let proven = ((bound + done).div_euclid(PARTS) + 1).max(0);
            let mass = best.as_ref().map(|b| b.0 >> 31);
            let bound = mass.map_or(proven, |m| proven.min(m)) as u32;
            let proven = mass == Some(i64::from(bound));
            return Lightest { choice: best.map(|b| b.1), bound: Some(bound), proven, prices };
        };
        done = window;
        if let Some(found) = found.filter(|f| best.as_ref().is_none_or(|b| f.0 < b.0)) {
            best = Some(found);
        }
        match &best {
            Some((key, _)) if PARTS * (key >> 31) - bound <= window => {
                let bound = Some((key >> 31) as u32);
                return Lightest { bound, choice: best.map(|b| b.1), proven: true, prices };
            }
            None if window >= room => return none,
            _ => window = window.saturating_mul(2),
        }
    }
}

impl Search<'_> {
    /// The best design whose priced sum is within the window.
    fn within(&mut self, window: i64) -> Result<Option<(i64, Vec<Vec<usize>>)>, TooMany> {
        let mut parts = Vec::new();
        for s in 0..self.chains.len() {
            let (labels, runs) = self.strip(s, window)?;
            if labels.is_empty() {
                return Ok(None);
            }
            parts.push((s, labels, runs));
        }
        parts.sort_by_key(|(s, labels, _)| (labels.len(), *s));
        let mut spare: [i64; 3] = std::array::from_fn(|i| {
            let all: i64 = self.rest.iter().filter_map(|r| r[i].as_ref()).map(|r| r.least).sum();
            self.limits[i].map_or(i64::MAX, |l| l - all)
        });
        let mut sum = vec![Label { key: 0, amounts: [0; 3], above: 0, from: 0 }];
        let mut steps: Vec<Vec<(u32, u32)>> = Vec::new();
        for (s, labels, _) in &parts {
            // What this strip takes above its least comes out of what is spare.
            let least: [i64; 3] = std::array::from_fn(|i| self.rest[*s][i].as_ref().map_or(0, |r| r.least));
            for i in 0..3 {
                spare[i] = spare[i].saturating_add(least[i]);
            }
            let (next, pairs) = self.join(&sum, labels, window, spare)?;
            sum = next;
            steps.push(pairs);
        }
        let Some(best) = sum.iter().min_by_key(|l| (l.key, l.amounts)) else { return Ok(None) };
        let mut choice = vec![Vec::new(); self.chains.len()];
        let mut at = best.from;
        for ((s, labels, runs), pairs) in parts.iter().zip(&steps).rev() {
            let (before, own) = pairs[at as usize];
            choice[*s] = self.walk(*s, labels[own as usize], runs);
            at = before;
        }
        Ok(Some((best.key, choice)))
    }

    /// Sums of a label of each list within the window and within what may be taken so far.
    fn join(
        &mut self,
        a: &[Label],
        b: &[Label],
        window: i64,
        most: [i64; 3],
    ) -> Result<(Vec<Label>, Vec<(u32, u32)>), TooMany> {
        let mut order: Vec<u32> = (0..b.len() as u32).collect();
        order.sort_by_key(|&i| b[i as usize].above);
        let (mut out, mut pairs): (Vec<Label>, Vec<(u32, u32)>) = (Vec::new(), Vec::new());
        let mut thin_at = 1 << 16;
        for (i, x) in a.iter().enumerate() {
            for &j in &order {
                let y = &b[j as usize];
                let above = x.above + y.above;
                if above > window {
                    break;
                }
                let amounts: [i64; 3] = std::array::from_fn(|n| x.amounts[n] + y.amounts[n]);
                if amounts.iter().zip(most).any(|(a, m)| *a > m) {
                    continue;
                }
                self.labels_left = self.labels_left.checked_sub(1).ok_or(TooMany)?;
                out.push(Label { key: x.key + y.key, amounts, above, from: pairs.len() as u32 });
                pairs.push((i as u32, j));
            }
            if out.len() > thin_at {
                self.thin_pairs(&mut out, &mut pairs);
                thin_at = (1 << 16).max(2 * out.len());
            }
        }
        self.thin_pairs(&mut out, &mut pairs);
        Ok((out, pairs))
    }

    fn thin_pairs(&self, labels: &mut Vec<Label>, pairs: &mut Vec<(u32, u32)>) {
        thin(labels, self.used);
        let kept = labels.iter().map(|l| pairs[l.from as usize]).collect();
        *pairs = kept;
        labels.iter_mut().enumerate().for_each(|(i, l)| l.from = i as u32);
    }

    /// Every label of a whole strip within the window that leaves the other strips their least.
    fn strip(&mut self, s: usize, window: i64) -> Result<(Vec<Label>, Vec<Run>), TooMany> {
        let chain = &self.chains[s];
        let (kk, cc, layers) = (chain.kinds.len(), chain.classes, chain.layers);
        let (rest, price) = (&self.rest[s], &self.dual.rest[s]);
        let most: [i64; 3] = std::array::from_fn(|i| {
            let others: i64 = self.rest.iter().filter_map(|r| r[i].as_ref()).map(|r| r.least).sum();
            self.limits[i].map_or(i64::MAX, |l| l - others + rest[i].as_ref().map_or(0, |r| r.least))
        });
        let mut runs: Vec<Run> = Vec::new();
        let mut now: Vec<Vec<Label>> = vec![Vec::new(); layers * kk];
        let mut arriving: Vec<Vec<Vec<Label>>> = vec![Vec::new()];
        let root = [Label { key: 0, amounts: [0; 3], above: 0, from: NO_RUN }];
        for b in 0..chain.bays {
            let mut next: Vec<Vec<Label>> = vec![Vec::new(); layers * kk];
            for u in 0..layers {
                for k in 0..kk {
                    let keeps = |l: &Label| {
                        l.above + price.at(b, u, k) - price.least <= window
                            && (0..3).all(|i| rest[i].as_ref().is_none_or(|r| l.amounts[i] + r.at(b, u, k) <= most[i]))
                    };
                    let i = chain.state(u, k);
                    let list = &mut next[i];
                    if let Some(step) = (b > 0).then(|| chain.cell(b, k)).flatten() {
                        let priced = self.dual.priced(step);
                        list.extend(now[i].iter().map(|l| l.plus(step, self.used, priced)).filter(keeps));
                    }
                    let started = chain.began(b, k).and_then(|j| Some((j, chain.start(j, k)?)));
                    if let Some((j, step)) = started {
                        let from: &[Label] = match j {
                            0 if u == 0 => &root,
                            0 => &[],
                            _ => &arriving[j][u * cc + chain.class_of[k]],
                        };
                        let priced = self.dual.priced(step);
                        for l in from.iter().map(|l| l.plus(step, self.used, priced)).filter(keeps) {
                            runs.push(Run { k, began: j, before: l.from });
                            list.push(Label { from: (runs.len() - 1) as u32, ..l });
                        }
                    }
                    thin(list, self.used);
                    let made = list.len();
                    self.labels_left = self.labels_left.checked_sub(made).ok_or(TooMany)?;
                }
            }
            now = next;
            if b + 1 < chain.bays {
                arriving.push(self.arrive(s, b + 1, &now));
            }
        }
        let mut all: Vec<Label> = now.into_iter().flatten().collect();
        thin(&mut all, self.used);
        all.iter_mut().for_each(|l| l.above -= price.least);
        Ok((all, runs))
    }

    fn arrive(&self, s: usize, b: usize, now: &[Vec<Label>]) -> Vec<Vec<Label>> {
        let chain = &self.chains[s];
        let cc = chain.classes;
        let mut into = vec![Vec::new(); chain.layers * cc];
        for u in 0..chain.layers - 1 {
            let mut leaving: Vec<Vec<Label>> = vec![Vec::new(); cc];
            for (k, &c) in chain.class_of.iter().enumerate() {
                leaving[c].extend_from_slice(&now[chain.state(u, k)]);
            }
            for (from, list) in leaving.iter_mut().enumerate() {
                thin(list, self.used);
                for to in 0..cc {
                    if let Some(step) = chain.joint(b, from, to) {
                        let priced = self.dual.priced(step);
                        into[(u + 1) * cc + to].extend(list.iter().map(|l| l.plus(step, self.used, priced)));
                    }
                }
            }
        }
        into.iter_mut().for_each(|list| thin(list, self.used));
        into
    }

    /// The construction in every bay, back along the runs.
    fn walk(&self, s: usize, label: Label, runs: &[Run]) -> Vec<usize> {
        let chain = &self.chains[s];
        let mut choice = vec![0; chain.bays];
        let (mut at, mut end) = (label.from, chain.bays);
        while let Some(run) = runs.get(at as usize) {
            choice[run.began..end].fill(chain.kinds[run.k]);
            (at, end) = (run.before, run.began);
        }
        choice
    }
}

/// Keep the labels that none of the others equals or beats in key and in everything limited.
fn thin(labels: &mut Vec<Label>, used: [bool; 3]) {
    if labels.len() < 2 {
        return;
    }
    labels.sort_by_key(|l| (l.key, l.amounts));
    let dims: Vec<usize> = (0..3).filter(|&i| used[i]).collect();
    match dims[..] {
        [] => labels.truncate(1),
        [i] => {
            let mut least = i64::MAX;
            labels.retain(|l| {
                l.amounts[i] < least && {
                    least = l.amounts[i];
                    true
                }
            });
        }
        [i, j] => {
            // Steps of the other amount falling as the one rises, among the labels kept so far.
            let mut stairs: Vec<(i64, i64)> = Vec::new();
            labels.retain(|l| {
                let (x, y) = (l.amounts[i], l.amounts[j]);
                let at = stairs.partition_point(|s| s.0 <= x);
                if at > 0 && stairs[at - 1].1 <= y {
                    return false;
                }
                let from = if at > 0 && stairs[at - 1].0 == x { at - 1 } else { at };
                let to = from + stairs[from..].iter().take_while(|s| s.1 >= y).count();
                stairs.splice(from..to, [(x, y)]);
                true
            });
        }
        _ => {
            let mut kept: Vec<[i64; 3]> = Vec::new();
            labels.retain(|l| {
                let beaten = kept.iter().any(|k| k.iter().zip(&l.amounts).all(|(a, b)| a <= b));
                if !beaten {
                    kept.push(l.amounts);
                }
                !beaten
            });
        }
    }
}
