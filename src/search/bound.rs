//! The lightest design within limits on repair, build and cost, proven: a bound from priced limits, then every design
//! that the bound leaves room for, in a window that widens until it holds the best.
//!
//! A design of mass `m` within the limits has a priced sum at most `m - bound` above the least one. So once all designs
//! within a window are known, the lightest of them is proven if it lies no further than the window above the bound.

use crate::search::chain::{Completion, FAR, Step};
use crate::search::dual::{self, Best, Bounds, Dual, LIMITED, PARTS, amounts, priced};
use crate::search::ready::Ready;

/// The best design found and what is proven about it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Lightest {
    /// Construction by bay by strip.
    pub(crate) choice: Option<Vec<Vec<usize>>>,
    /// No design within the limits is lighter than this; none when it is proven that there is none.
    pub(crate) bound: Option<u32>,
    pub(crate) proven: bool,
    /// What the limits cost at best, and how far above its bound the answer lay.
    pub(crate) guess: Option<Guess>,
    /// Labels made on the way.
    pub(crate) made: usize,
}

/// What was learnt from a problem: prices of the limits, and how far above their bound its answer lay, parts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Guess {
    pub(crate) prices: [i64; LIMITED],
    pub(crate) gap: Option<i64>,
}

/// Part of a design: what it weighs and takes, how far above the least priced sum, and where it came from.
#[derive(Debug, Clone, Copy)]
struct Label {
    /// Mass, then repair.
    key: i64,
    /// Only what is limited.
    amounts: [i64; LIMITED],
    above: i64,
    from: u32,
}

impl Label {
    fn plus(self, s: &Step, used: [bool; LIMITED], priced: i64) -> Self {
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

/// Looking at so many pairs of labels costs as much as making one.
const PAIRS: usize = 32;

/// More labels than allowed.
struct TooMany;

struct Search<'a> {
    strips: &'a [Ready],
    limits: Bounds,
    used: [bool; LIMITED],
    prices: [i64; LIMITED],
    labels_left: usize,
}

/// Find the lightest design within the limits. `ceiling` is the most labels one window may make; `guess`, from a problem
/// much like it, only shortens the way.
pub(crate) fn lightest(strips: &mut [Ready], limits: Bounds, guess: Option<Guess>, ceiling: usize) -> Lightest {
    let none = Lightest { choice: None, bound: None, proven: true, guess, made: 0 };
    let used = limits.map(|l| l.is_some());
    for i in (0..LIMITED).filter(|&i| used[i]) {
        strips.iter_mut().for_each(|r| r.ask_least(i));
    }
    let of = |i: usize| strips.iter().filter_map(move |r| r.least(i)).map(|r| r.least);
    let least = |i: usize| if of(i).any(|l| l >= FAR) { FAR } else { of(i).sum() };
    if (0..LIMITED).any(|i| limits[i].is_some_and(|l| least(i) > l)) {
        return none;
    }
    let mut met = Best { limits, found: None };
    let Some(Dual { prices, bound }) = dual::prices(strips, guess.map(|g| g.prices), &mut met) else { return none };
    let mut best = met.found;
    let room = PARTS * strips.iter().map(|r| r.heaviest).sum::<u64>() as i64 - bound;
    if room < 0 {
        return none;
    }
    let mut search = Search { strips, limits, used, prices, labels_left: 0 };
    let learnt = |gap: Option<i64>| Some(Guess { prices, gap: gap.or(guess.and_then(|g| g.gap)) });
    // A little beyond where the answer lay last time, or small enough to cost next to nothing.
    let small = (bound / 2000).max(PARTS);
    let mut window = guess.and_then(|g| g.gap).map_or(small, |gap| gap + gap / 8).max(PARTS);
    let (mut done, mut made) = (-1, 0);
    loop {
        if let Some((key, _)) = &best {
            window = window.min(PARTS * (key >> 31) - bound);
        }
        window = window.clamp(0, room);
        search.labels_left = ceiling;
        let found = search.within(window, best.as_ref().map(|b| b.0));
        made += ceiling - search.labels_left;
        let Ok(found) = found else {
            // The guess was too wide for the ceiling: what lies near the bound may do.
            if done < 0 && window > small {
                window = small;
                continue;
            }
            let proven = ((bound + done).div_euclid(PARTS) + 1).max(0);
            let mass = best.as_ref().map(|b| b.0 >> 31);
            let bound = mass.map_or(proven, |m| proven.min(m)) as u32;
            let proven = mass == Some(i64::from(bound));
            return Lightest { choice: best.map(|b| b.1), bound: Some(bound), proven, guess: learnt(None), made };
        };
        done = window;
        best = found.or(best);
        match &best {
            Some((key, _)) if PARTS * (key >> 31) - bound <= window => {
                let guess = learnt(Some(PARTS * (key >> 31) - bound));
                let bound = Some((key >> 31) as u32);
                return Lightest { bound, choice: best.map(|b| b.1), proven: true, guess, made };
            }
            None if window >= room => return Lightest { made, ..none },
            _ => window = window.saturating_mul(2),
        }
    }
}

/// Lists of labels one behind another, and where each begins and ends.
#[derive(Debug, Clone, Default)]
struct Lists {
    labels: Vec<Label>,
    spans: Vec<(usize, usize)>,
}

impl Lists {
    fn clear(&mut self, lists: usize) {
        self.labels.clear();
        self.spans.clear();
        self.spans.resize(lists, (0, 0));
    }
    fn list(&self, i: usize) -> &[Label] {
        self.spans.get(i).map_or(&[], |&(from, to)| &self.labels[from..to])
    }
    /// Make what was added since `from` list `i`, thinned; how many are left of it, and what thinning cost.
    fn close(&mut self, i: usize, from: usize, used: [bool; LIMITED]) -> usize {
        let cost = thin(&mut self.labels, from, used);
        self.spans[i] = (from, self.labels.len());
        self.labels.len() - from + cost
    }
}

impl Search<'_> {
    fn least(&self, s: usize, i: usize) -> Option<&Completion> {
        self.strips[s].least(i).filter(|_| self.used[i])
    }
    /// Least of a limited amount over all strips.
    fn least_of_all(&self, i: usize) -> i64 {
        (0..self.strips.len()).filter_map(|s| self.least(s, i)).map(|r| r.least).sum()
    }

    /// The best design whose priced sum is within the window, if it beats the best known.
    fn within(&mut self, window: i64, known: Option<i64>) -> Result<Option<(i64, Vec<Vec<usize>>)>, TooMany> {
        let mut parts = Vec::new();
        for s in 0..self.strips.len() {
            let mut left = self.labels_left;
            let (labels, runs) = self.strip(s, window, &mut left)?;
            self.labels_left = left;
            if labels.is_empty() {
                return Ok(None);
            }
            parts.push((s, labels, runs));
        }
        parts.sort_by_key(|(s, labels, _)| (labels.len(), *s));
        let mut spare: [i64; LIMITED] =
            std::array::from_fn(|i| self.limits[i].map_or(i64::MAX, |l| l - self.least_of_all(i)));
        let mut sum = vec![Label { key: 0, amounts: [0; LIMITED], above: 0, from: 0 }];
        let mut steps: Vec<Vec<(u32, u32)>> = Vec::new();
        let mut key = 0;
        for (n, (s, labels, _)) in parts.iter().enumerate() {
            // What this strip takes above its least comes out of what is spare.
            for i in 0..LIMITED {
                let least = self.least(*s, i).map_or(0, |r| r.least);
                spare[i] = spare[i].saturating_add(least);
            }
            if n + 1 < parts.len() {
                let (next, pairs) = self.join(&sum, labels, window, spare)?;
                sum = next;
                steps.push(pairs);
            } else {
                let Some((best, pair)) = self.best_pair(&sum, labels, (window, known), spare)? else { return Ok(None) };
                key = best;
                steps.push(vec![pair]);
            }
        }
        let mut choice = vec![Vec::new(); self.strips.len()];
        let mut at = 0;
        for ((s, labels, runs), pairs) in parts.iter().zip(&steps).rev() {
            let (before, own) = pairs[at as usize];
            choice[*s] = self.walk(*s, labels[own as usize], runs);
            at = before;
        }
        Ok(Some((key, choice)))
    }

    /// The best sum of a label of each list within the window and within what may be taken, if it beats the best known; where
    /// it is made of. Of equals that which takes least.
    fn best_pair(
        &mut self,
        a: &[Label],
        b: &[Label],
        (window, known): (i64, Option<i64>),
        most: [i64; LIMITED],
    ) -> Result<Option<(i64, (u32, u32))>, TooMany> {
        let by_key = |list: &[Label]| {
            let mut order: Vec<u32> = (0..list.len() as u32).collect();
            order.sort_by_key(|&i| list[i as usize].key);
            order
        };
        let (of_a, of_b) = (by_key(a), by_key(b));
        let mut best: Option<((i64, [i64; LIMITED]), (u32, u32))> = None;
        for &i in &of_a {
            let x = &a[i as usize];
            // No pair from here on is lighter.
            let beaten = |key: i64, best: &Option<((i64, [i64; LIMITED]), (u32, u32))>| {
                best.as_ref().map_or(known.is_some_and(|k| key >= k), |b| key > b.0.0)
            };
            let mut looked_at = 0;
            for &j in &of_b {
                let y = &b[j as usize];
                if beaten(x.key + y.key, &best) {
                    break;
                }
                looked_at += 1;
                let amounts: [i64; LIMITED] = std::array::from_fn(|n| x.amounts[n] + y.amounts[n]);
                let sum = (x.key + y.key, amounts);
                let within = x.above + y.above <= window && amounts.iter().zip(most).all(|(a, m)| *a <= m);
                if within && best.as_ref().is_none_or(|b| sum < b.0) {
                    best = Some((sum, (i, j)));
                }
            }
            self.spend(looked_at / PAIRS)?;
            if looked_at == 0 {
                break;
            }
        }
        Ok(best.map(|((key, _), pair)| (key, pair)))
    }

    /// Sums of a label of each list within the window and within what may be taken so far.
    fn join(
        &mut self,
        a: &[Label],
        b: &[Label],
        window: i64,
        most: [i64; LIMITED],
    ) -> Result<(Vec<Label>, Vec<(u32, u32)>), TooMany> {
        let mut order: Vec<u32> = (0..b.len() as u32).collect();
        order.sort_by_key(|&i| b[i as usize].above);
        let (mut out, mut pairs): (Vec<Label>, Vec<(u32, u32)>) = (Vec::new(), Vec::new());
        let mut thin_at = 1 << 16;
        for (i, x) in a.iter().enumerate() {
            let looked_at = order.partition_point(|&j| x.above + b[j as usize].above <= window);
            self.spend(looked_at / PAIRS)?;
            for &j in &order[..looked_at] {
                let y = &b[j as usize];
                let above = x.above + y.above;
                let amounts: [i64; LIMITED] = std::array::from_fn(|n| x.amounts[n] + y.amounts[n]);
                if amounts.iter().zip(most).any(|(a, m)| *a > m) {
                    continue;
                }
                self.spend(1)?;
                out.push(Label { key: x.key + y.key, amounts, above, from: pairs.len() as u32 });
                pairs.push((i as u32, j));
            }
            if out.len() > thin_at {
                self.thin_pairs(&mut out, &mut pairs)?;
                thin_at = (1 << 16).max(2 * out.len());
            }
        }
        self.thin_pairs(&mut out, &mut pairs)?;
        Ok((out, pairs))
    }

    fn spend(&mut self, labels: usize) -> Result<(), TooMany> {
        let left = self.labels_left.checked_sub(labels);
        self.labels_left = left.unwrap_or(0);
        left.map(|_| ()).ok_or(TooMany)
    }

    fn thin_pairs(&mut self, labels: &mut Vec<Label>, pairs: &mut Vec<(u32, u32)>) -> Result<(), TooMany> {
        let cost = thin(labels, 0, self.used);
        self.spend(cost)?;
        let kept = labels.iter().map(|l| pairs[l.from as usize]).collect();
        *pairs = kept;
        labels.iter_mut().enumerate().for_each(|(i, l)| l.from = i as u32);
        Ok(())
    }

    /// Every label of a whole strip within the window that leaves the other strips their least. Few states hold any, so
    /// the work is kept to those.
    fn strip(&self, s: usize, window: i64, left: &mut usize) -> Result<(Vec<Label>, Vec<Run>), TooMany> {
        let ready = &self.strips[s];
        let (chain, price) = (&ready.chain, ready.priced());
        let (kk, cc, layers, used, prices) = (chain.kinds.len(), chain.classes, chain.layers, self.used, self.prices);
        let rest: [Option<&Completion>; LIMITED] = std::array::from_fn(|i| self.least(s, i));
        let most: [i64; LIMITED] = std::array::from_fn(|i| {
            let own = rest[i].map_or(0, |r| r.least);
            self.limits[i].map_or(i64::MAX, |l| l - self.least_of_all(i) + own)
        });
        let within = window + price.least;
        let longest = chain.run.iter().copied().max().unwrap_or(1);
        let mut runs: Vec<Run> = Vec::new();
        let (mut now, mut next, mut leaving) = (Lists::default(), Lists::default(), Lists::default());
        now.clear(layers * kk);
        let mut arriving: Vec<Lists> = vec![Lists::default()];
        let root = [Label { key: 0, amounts: [0; LIMITED], above: 0, from: NO_RUN }];
        for b in 0..chain.bays {
            next.clear(layers * kk);
            for u in 0..layers {
                // Nothing to go on with, nothing that arrives, nothing that begins.
                let begins = b < longest && u == 0;
                let arrives = (b + 1).saturating_sub(longest)..=b;
                let arrives =
                    u > 0 && arrives.into_iter().any(|j| arriving.get(j).is_some_and(|l| !l.labels.is_empty()));
                if now.labels.is_empty() && !arrives && !begins {
                    continue;
                }
                for k in 0..kk {
                    let i = chain.state(u, k);
                    let began = chain.began(b, k);
                    let from: &[Label] = match began {
                        Some(0) if u == 0 => &root,
                        None | Some(0) => &[],
                        Some(j) => arriving[j].list(u * cc + chain.class_of[k]),
                    };
                    if now.list(i).is_empty() && from.is_empty() || price.at(b, u, k) >= FAR {
                        continue;
                    }
                    let to_tip = price.at(b, u, k);
                    let keeps = |l: &Label| {
                        l.above + to_tip <= within
                            && (0..LIMITED).all(|i| rest[i].is_none_or(|r| l.amounts[i] + r.at(b, u, k) <= most[i]))
                    };
                    let begin = next.labels.len();
                    if let Some(step) = (b > 0).then(|| chain.cell(b, k)).flatten() {
                        let priced = priced(prices, step);
                        next.labels.extend(now.list(i).iter().map(|l| l.plus(step, used, priced)).filter(keeps));
                    }
                    if let Some((j, step)) = began.and_then(|j| Some((j, chain.start(j, k)?))) {
                        let priced = priced(prices, step);
                        for l in from.iter().map(|l| l.plus(step, used, priced)).filter(keeps) {
                            runs.push(Run { k, began: j, before: l.from });
                            next.labels.push(Label { from: (runs.len() - 1) as u32, ..l });
                        }
                    }
                    let made = next.close(i, begin, used);
                    *left = left.checked_sub(made).ok_or(TooMany)?;
                }
            }
            std::mem::swap(&mut now, &mut next);
            if b + 1 < chain.bays {
                arriving.push(arrive(ready, (b + 1, within), (used, prices), &now, &mut leaving));
            }
        }
        let mut all = now.labels;
        thin(&mut all, 0, used);
        all.iter_mut().for_each(|l| l.above -= price.least);
        Ok((all, runs))
    }

    /// The construction in every bay, back along the runs.
    fn walk(&self, s: usize, label: Label, runs: &[Run]) -> Vec<usize> {
        let chain = &self.strips[s].chain;
        let mut choice = vec![0; chain.bays];
        let (mut at, mut end) = (label.from, chain.bays);
        while let Some(run) = runs.get(at as usize) {
            choice[run.began..end].fill(chain.kinds[run.k]);
            (at, end) = (run.before, run.began);
        }
        choice
    }
}

/// Labels over the joint on the root side of a bay, by changes used and class arrived at.
fn arrive(
    ready: &Ready,
    (b, within): (usize, i64),
    (used, prices): ([bool; LIMITED], [i64; LIMITED]),
    now: &Lists,
    leaving: &mut Lists,
) -> Lists {
    let (chain, price) = (&ready.chain, ready.priced());
    let (kk, cc) = (chain.kinds.len(), chain.classes);
    let mut into = Lists::default();
    if now.labels.is_empty() {
        return into;
    }
    into.clear(chain.layers * cc);
    let mut left: Vec<usize> = Vec::with_capacity(cc);
    for u in 0..chain.layers - 1 {
        let spans = &now.spans[chain.state(u, 0)..chain.state(u, kk)];
        if spans.iter().all(|s| s.0 == s.1) {
            continue;
        }
        leaving.clear(cc);
        left.clear();
        // Constructions stand by class.
        let mut k = 0;
        while k < kk {
            let from = chain.class_of[k];
            let to_tip = price.leave(b, u, from);
            let begin = leaving.labels.len();
            while k < kk && chain.class_of[k] == from {
                let list = now.labels[spans[k].0..spans[k].1].iter();
                leaving.labels.extend(list.filter(|l| l.above + to_tip <= within));
                k += 1;
            }
            if leaving.labels.len() > begin {
                leaving.close(from, begin, used);
                left.push(from);
            }
        }
        if left.is_empty() {
            continue;
        }
        for to in 0..cc {
            let to_tip = price.arrive(b, u + 1, to);
            if to_tip >= FAR {
                continue;
            }
            let begin = into.labels.len();
            for &from in &left {
                let Some(step) = chain.joint(b, from, to) else { continue };
                let priced = priced(prices, step);
                let moved = leaving.list(from).iter().map(|l| l.plus(step, used, priced));
                into.labels.extend(moved.filter(|l| l.above + to_tip <= within));
            }
            if into.labels.len() > begin {
                into.close((u + 1) * cc + to, begin, used);
            }
        }
    }
    into
}

/// Keep the labels that none of the others equals or beats in key and in everything limited. What it cost, in labels:
/// with three limits or more every label kept is held against all the others.
fn thin(labels: &mut Vec<Label>, from: usize, used: [bool; LIMITED]) -> usize {
    let list = &mut labels[from..];
    if list.len() < 2 {
        return 0;
    }
    let mut compared = 0;
    list.sort_unstable_by_key(|l| (l.key, l.amounts, l.from));
    let mut kept = 0;
    // Keep a label where it belongs among those kept so far.
    let mut keep = |list: &mut [Label], i: usize| {
        list.swap(kept, i);
        kept += 1;
    };
    let mut dims = (0..LIMITED).filter(|&i| used[i]);
    match (dims.next(), dims.next(), dims.next()) {
        (None, ..) => keep(list, 0),
        (Some(i), None, _) => {
            let mut least = i64::MAX;
            for n in 0..list.len() {
                if list[n].amounts[i] < least {
                    least = list[n].amounts[i];
                    keep(list, n);
                }
            }
        }
        (Some(i), Some(j), None) => {
            // Steps of the other amount falling as the one rises, among the labels kept so far.
            let mut stairs: Vec<(i64, i64)> = Vec::new();
            for n in 0..list.len() {
                let (x, y) = (list[n].amounts[i], list[n].amounts[j]);
                let at = stairs.partition_point(|s| s.0 <= x);
                if at > 0 && stairs[at - 1].1 <= y {
                    continue;
                }
                let from = if at > 0 && stairs[at - 1].0 == x { at - 1 } else { at };
                let to = from + stairs[from..].iter().take_while(|s| s.1 >= y).count();
                stairs.splice(from..to, [(x, y)]);
                keep(list, n);
            }
        }
        _ => {
            let mut known: Vec<[i64; LIMITED]> = Vec::new();
            for n in 0..list.len() {
                let own = list[n].amounts;
                // What beat the last is likely to beat the next.
                let beaten = known.iter().position(|k| k.iter().zip(&own).all(|(a, b)| a <= b));
                compared += beaten.map_or(known.len(), |at| at + 1);
                if let Some(at) = beaten {
                    known.swap(0, at);
                } else {
                    known.push(own);
                    keep(list, n);
                }
            }
        }
    }
    labels.truncate(from + kept);
    compared / PAIRS
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::search::chain::Uses;
    use crate::search::table::{Cell, Joint, Strip, Table};

    #[test]
    fn a_guess_too_wide_for_the_ceiling_falls_back_to_a_narrow_window() {
        // Numbers without a pattern: multiples of the golden ratio, modulo one.
        let odd = |n: usize, most: f64| ((n as f64 * 0.618_033_988_749_895).fract() * most) as u32;
        let strip = |s: usize| {
            let cell = |n: usize| {
                let mass = 1000 + odd(1000 * s + n, 900.0);
                let repair = 10 + odd(7 * n + s, 300.0) + (1900 - mass) / 10;
                let (build, cost) = (odd(13 * n + 5 * s, 500.0), odd(29 * n + 3 * s, 500.0));
                Some(Cell { mass, repair, build, cost, dent: 0, yields: [0; 2] })
            };
            let (k, bays) = (6, 8);
            Strip {
                name: s.to_string(),
                bays,
                candidates: (0..k).map(|i| i.to_string()).collect(),
                max_changes: 3,
                classes: 1,
                class_of: vec![0; k],
                shortest_run: vec![1; k],
                cells: (0..k * bays).map(cell).collect(),
                joints: vec![Some(Joint { mass: 20, repair: 1, build: 0 }); bays - 1],
            }
        };
        let table = Table::new((0..4).map(strip).collect()).unwrap();
        let limits = [Some(4 * 8 * 150), Some(4 * 8 * 150), Some(4 * 8 * 150), None, None];
        let ready = || {
            table
                .strips()
                .iter()
                .map(|s| Ready::new(s, 0, Uses { build: true, cost: true, yields: [false; 2] }))
                .collect::<Vec<_>>()
        };
        let (mut plain, mut wide) = (ready(), ready());
        let alone = lightest(&mut plain, limits, None, usize::MAX);
        assert!(alone.proven && alone.choice.is_some());
        let guess = Guess { prices: alone.guess.unwrap().prices, gap: Some(i64::MAX / 4) };
        let ceiling = alone.made;
        let guessed = lightest(&mut wide, limits, Some(guess), ceiling);
        assert!(guessed.made > ceiling, "the wide window met the ceiling: {} of {ceiling}", guessed.made);
        assert_eq!((guessed.bound, guessed.proven), (alone.bound, true));
    }
}
