//! A strip made ready for the search within limits, with what was learnt about it, so that searching it again under other
//! limits or prices, or after another strip changed, costs little.

use crate::search::chain::{Chain, Completion, FAR, Step, Uses};
use crate::search::dual::{LIMITED, PARTS, amounts, priced};
use crate::search::table::Strip;

/// A cheapest way along a strip at a price of one limit.
#[derive(Debug, Clone)]
pub(crate) struct Way {
    pub(crate) price: i64,
    pub(crate) sum: Step,
    pub(crate) choice: Vec<usize>,
}

/// A strip and what is known of it.
#[derive(Debug, Clone)]
pub(crate) struct Ready {
    pub(crate) chain: Chain,
    /// No design of the strip weighs more.
    pub(crate) heaviest: u64,
    /// Least of each amount to the tip; none where it was not asked for.
    least: [Option<Completion>; LIMITED],
    /// Which of the limits `ways` are about, and ways by rising price.
    limit: usize,
    ways: Vec<Way>,
    /// Least priced sums to the tip at some prices.
    at: Option<[i64; LIMITED]>,
    priced: Completion,
    spare: Completion,
}

impl Ready {
    pub(crate) fn new(strip: &Strip, dent_floor: u32, uses: Uses) -> Self {
        Self {
            chain: Chain::new(strip, dent_floor, uses),
            heaviest: strip.largest()[0],
            least: [const { None }; LIMITED],
            limit: 0,
            ways: Vec::new(),
            at: None,
            priced: Completion::default(),
            spare: Completion::default(),
        }
    }

    /// Work out the least of an amount from every state to the tip.
    pub(crate) fn ask_least(&mut self, i: usize) {
        let Self { chain, least, .. } = self;
        least[i].get_or_insert_with(|| chain.completion(|s| amounts(s)[i]));
    }
    /// Least of an amount from every state to the tip, where it was asked for.
    pub(crate) const fn least(&self, i: usize) -> Option<&Completion> {
        self.least[i].as_ref()
    }

    /// A cheapest way at a price of limit `i` alone; none when the strip has no design.
    ///
    /// The least priced sum is concave in the price, so a design that is cheapest at two prices is so between them.
    pub(crate) fn way(&mut self, i: usize, price: i64) -> Option<&Way> {
        if self.limit != i {
            self.ways.clear();
            self.limit = i;
        }
        let next = self.ways.partition_point(|w| w.price < price);
        let line = |w: &Way| (w.sum.mass, amounts(&w.sum)[i]);
        let known = match (next.checked_sub(1).and_then(|b| self.ways.get(b)), self.ways.get(next)) {
            (_, Some(w)) if w.price == price => Some(next),
            (Some(b), Some(a)) if line(b) == line(a) => Some(next),
            _ => None,
        };
        if let Some(known) = known {
            return self.ways.get(known);
        }
        let mut prices = [0; LIMITED];
        prices[i] = price;
        self.price_at(prices);
        let (choice, sum) = self.cheapest()?;
        self.ways.insert(next, Way { price, sum, choice });
        self.ways.get(next)
    }

    /// Work out the least priced sums to the tip.
    pub(crate) fn price_at(&mut self, prices: [i64; LIMITED]) {
        if self.at != Some(prices) {
            let Self { chain, priced: out, .. } = self;
            match prices {
                [p, 0, 0, 0, 0] => chain.complete(|s| PARTS * i64::from(s.mass) + p * i64::from(s.repair), out),
                _ => chain.complete(|s| priced(prices, s), out),
            }
            self.at = Some(prices);
        }
    }
    /// The same, and what was there before goes aside; [`Self::put_back`] brings it back.
    pub(crate) fn try_at(&mut self, prices: [i64; LIMITED]) -> Option<[i64; LIMITED]> {
        std::mem::swap(&mut self.priced, &mut self.spare);
        let before = self.at.take();
        self.price_at(prices);
        before
    }
    pub(crate) fn put_back(&mut self, before: Option<[i64; LIMITED]>) {
        std::mem::swap(&mut self.priced, &mut self.spare);
        self.at = before;
    }
    /// Least priced sums to the tip, at the prices last worked out.
    pub(crate) const fn priced(&self) -> &Completion {
        &self.priced
    }

    /// A cheapest way at the prices last worked out: its choices and sum.
    pub(crate) fn cheapest(&self) -> Option<(Vec<usize>, Step)> {
        let (chain, rest, prices) = (&self.chain, &self.priced, self.at?);
        if rest.least >= FAR {
            return None;
        }
        let weight = |s: &Step| priced(prices, s);
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
}
