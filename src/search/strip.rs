//! The exact front of one strip by a dense pass: for every state the least mass at every repair tick.
//!
//! Ticks are counted above the least repair with which the state can still be finished, so an array covers exactly the
//! ticks between the least repair of the strip and the repair of its lightest design; anything above is beaten by it.
//! Mass is counted above the least with which it can be finished, so it seldom needs more than sixteen bits: what weighs
//! more than the lightest design of least repair is beaten by that one and is forgotten. Going through classes at a
//! joint takes the square of the constructions out of the work.

use crate::search::chain::{Chain, Completion, FAR, Step};
use crate::search::front::{Front, Point, sweep};
use crate::search::sparse;

/// Ticks taken at once. Rows are written in blocks of so many, so that no loop over them has an odd end.
const BLOCK: usize = 16;
/// Arrays wider than this give way to label lists.
const WIDEST_ARRAY: i64 = 8192;
/// The second of two numbers in one, as in [`Step::mass_then_repair`].
const LOWER: i64 = (1 << 31) - 1;

/// A mass in a row.
trait Mass: Copy + Default + Ord {
    /// No design. Stays so when mass is added.
    const MISSING: Self;
    /// Greatest mass that is not missing.
    const MOST: i64;
    /// Of a number up to [`Self::MOST`].
    fn of(mass: i64) -> Self;
    fn plus(self, mass: Self) -> Self;
    fn value(self) -> i64;
}

impl Mass for u16 {
    const MISSING: Self = Self::MAX;
    const MOST: i64 = Self::MAX as i64 - 1;
    fn of(mass: i64) -> Self {
        mass as Self
    }
    fn plus(self, mass: Self) -> Self {
        self.saturating_add(mass)
    }
    fn value(self) -> i64 {
        i64::from(self)
    }
}

/// Totals stay below 2^30, so a missing one can take every total there is without running over.
impl Mass for i32 {
    const MISSING: Self = 1 << 30;
    const MOST: i64 = Self::MISSING as i64 - 1;
    fn of(mass: i64) -> Self {
        mass as Self
    }
    fn plus(self, mass: Self) -> Self {
        self.wrapping_add(mass)
    }
    fn value(self) -> i64 {
        i64::from(self)
    }
}

/// Arrays kept from strip to strip.
#[derive(Debug, Default)]
pub(crate) struct Scratch {
    short: Arrays<u16>,
    long: Arrays<i32>,
}

#[derive(Debug, Default)]
struct Arrays<M> {
    now: Rows<M>,
    next: Rows<M>,
    leaving: Rows<M>,
    arriving: Vec<Rows<M>>,
}

/// Rows of equal width, a block to spare at either end of each. Of a row only the reach, in blocks from `first` to `end`,
/// is meaningful, and the blocks beside it are missing. A row ends at the repair of its own lightest label: whatever
/// takes more repair is beaten by that one.
#[derive(Debug, Default)]
struct Rows<M> {
    blocks: usize,
    values: Vec<M>,
    reach: Vec<Reach>,
}

#[derive(Debug, Clone, Copy)]
struct Reach {
    first: usize,
    end: usize,
    /// Mass, then repair, of the lightest label.
    lightest: i64,
}

const NOWHERE: Reach = Reach { first: 0, end: 0, lightest: FAR };

impl<M: Mass> Rows<M> {
    /// Forget everything; values keep what they were, out of reach.
    fn clear(&mut self, rows: usize, blocks: usize) {
        self.blocks = blocks;
        self.values.resize(rows * (blocks + 2) * BLOCK, M::MISSING);
        self.reach.clear();
        self.reach.resize(rows, NOWHERE);
    }
    /// A row with its spare blocks: tick 0 is at `BLOCK`.
    fn row(&self, i: usize) -> &[M] {
        let stride = (self.blocks + 2) * BLOCK;
        &self.values[i * stride..(i + 1) * stride]
    }
    fn row_mut(&mut self, i: usize) -> &mut [M] {
        let stride = (self.blocks + 2) * BLOCK;
        &mut self.values[i * stride..(i + 1) * stride]
    }
    /// What a step makes of a row.
    fn source(&self, i: usize, by: Move) -> Option<Source<'_, M>> {
        let r = self.reach[i];
        let shift = by.ticks as usize;
        let from = r.first + shift / BLOCK;
        if r.lightest >= FAR || by.mass > M::MOST || from >= self.blocks {
            return None;
        }
        let odd = shift % BLOCK;
        let blocks = (r.end - r.first + usize::from(odd > 0)).min(self.blocks - from);
        let begin = (r.first + 1) * BLOCK - odd;
        Some(Source {
            values: &self.row(i)[begin..begin + blocks * BLOCK],
            from,
            to: from + blocks,
            mass: M::of(by.mass),
            lightest: r.lightest + by.own,
        })
    }
    /// Lower row `i` to a source. `end` says in which block a label of that lightest repair ends its row.
    fn lower(&mut self, i: usize, source: &Source<M>, end: impl Fn(i64) -> usize) {
        let s = source;
        let had = self.reach[i];
        let lightest = had.lightest.min(s.lightest);
        let last = end(lightest);
        let row = self.row_mut(i);
        if had.lightest >= FAR {
            let to = s.to.min(last);
            s.copy(row, s.from, to);
            self.reach[i] = close(row, Reach { first: s.from, end: to, lightest });
            return;
        }
        let (first, to) = (had.first.min(s.from), had.end.max(s.to).min(last));
        missing(row, s.to, had.first);
        missing(row, had.end, s.from.min(to));
        s.copy(row, s.from, had.first.min(s.to).min(to));
        s.copy(row, s.from.max(had.end), s.to.min(to));
        let (a, b) = (s.from.max(had.first), s.to.min(had.end).min(to));
        if a < b {
            lower(between(row, a, b), s.between(a, b), s.mass);
        }
        self.reach[i] = close(row, Reach { first, end: to, lightest });
    }
    /// Write row `i` as the lesser of two sources.
    fn write(&mut self, i: usize, a: &Source<M>, b: &Source<M>, end: impl Fn(i64) -> usize) {
        let (x, y) = if a.from <= b.from { (a, b) } else { (b, a) };
        let lightest = x.lightest.min(y.lightest);
        let last = x.to.max(y.to).min(end(lightest));
        let row = self.row_mut(i);
        let both = x.to.min(y.to).min(last);
        x.copy(row, x.from, y.from.min(x.to).min(last));
        missing(row, x.to, y.from.min(last));
        if y.from < both {
            let (p, q) = (x.between(y.from, both), y.between(y.from, both));
            lesser(between(row, y.from, both), (p, x.mass), (q, y.mass));
        }
        x.copy(row, both.max(y.from), x.to.min(last));
        y.copy(row, both.max(y.from), y.to.min(last));
        self.reach[i] = close(row, Reach { first: x.from, end: last, lightest });
    }
}

/// Clear the blocks beside the reach of a row.
fn close<M: Mass>(row: &mut [M], reach: Reach) -> Reach {
    let blocks = row.as_chunks_mut::<BLOCK>().0;
    blocks[reach.first] = [M::MISSING; BLOCK];
    blocks[reach.end + 1] = [M::MISSING; BLOCK];
    reach
}

/// Blocks of a row.
fn between<M>(row: &mut [M], from: usize, to: usize) -> &mut [M] {
    &mut row[(from + 1) * BLOCK..(to + 1) * BLOCK]
}

fn missing<M: Mass>(row: &mut [M], from: usize, to: usize) {
    if from < to {
        between(row, from, to).fill(M::MISSING);
    }
}

fn lower<M: Mass>(row: &mut [M], from: &[M], mass: M) {
    for (d, x) in row.iter_mut().zip(from) {
        *d = (*d).min(x.plus(mass));
    }
}

fn lesser<M: Mass>(row: &mut [M], a: (&[M], M), b: (&[M], M)) {
    for (d, (p, q)) in row.iter_mut().zip(a.0.iter().zip(b.0)) {
        *d = p.plus(a.1).min(q.plus(b.1));
    }
}

/// Where labels of a row come from: `values` land in blocks from `from` to `to`.
#[derive(Clone, Copy)]
struct Source<'a, M> {
    values: &'a [M],
    from: usize,
    to: usize,
    mass: M,
    lightest: i64,
}

impl<'a, M: Mass> Source<'a, M> {
    fn between(&self, from: usize, to: usize) -> &'a [M] {
        &self.values[(from - self.from) * BLOCK..(to - self.from) * BLOCK]
    }
    /// Copy what of it lies between two blocks.
    fn copy(&self, row: &mut [M], from: usize, to: usize) {
        if from < to {
            for (d, x) in between(row, from, to).iter_mut().zip(self.between(from, to)) {
                *d = x.plus(self.mass);
            }
        }
    }
}

/// The exact front of a strip; empty when it has no design.
pub(crate) fn front(chain: &Chain, scratch: &mut Scratch) -> Front {
    let light = chain.completion(Step::mass_then_repair);
    if light.least >= FAR {
        return Front::new();
    }
    let sound = chain.completion(Step::repair_then_mass);
    let least = Rest { mass: light.least >> 31, repair: sound.least >> 31 };
    let most = Rest { mass: sound.least & LOWER, repair: light.least & LOWER };
    let width = most.repair - least.repair + 1;
    if width > WIDEST_ARRAY {
        return sparse::front(chain);
    }
    let pass = Pass { chain, light: &light, sound: &sound, least, blocks: (width as usize).div_ceil(BLOCK) };
    if most.mass - least.mass <= u16::MOST { pass.dense(&mut scratch.short) } else { pass.dense(&mut scratch.long) }
}

/// Least mass and least repair with which something can be finished, each by itself.
#[derive(Clone, Copy)]
struct Rest {
    mass: i64,
    repair: i64,
}

impl Rest {
    /// From completions by mass first and by repair first.
    fn of(light: i64, sound: i64) -> Option<Self> {
        (light < FAR).then_some(Self { mass: light >> 31, repair: sound >> 31 })
    }
}

/// What a step adds to labels whose mass and repair are counted above the least to come.
#[derive(Clone, Copy)]
struct Move {
    ticks: i64,
    mass: i64,
    /// Mass, then repair, of the step itself.
    own: i64,
}

impl Move {
    const fn new(from: Rest, step: &Step, to: Rest) -> Self {
        Self {
            ticks: step.repair as i64 + to.repair - from.repair,
            mass: step.mass as i64 + to.mass - from.mass,
            own: step.mass_then_repair(),
        }
    }
}

/// A strip with what is known about its ends.
struct Pass<'a> {
    chain: &'a Chain,
    light: &'a Completion,
    sound: &'a Completion,
    least: Rest,
    blocks: usize,
}

impl Pass<'_> {
    fn at(&self, b: usize, u: usize, k: usize) -> Option<Rest> {
        Rest::of(self.light.at(b, u, k), self.sound.at(b, u, k))
    }
    fn arrive(&self, b: usize, u: usize, class: usize) -> Option<Rest> {
        Rest::of(self.light.arrive(b, u, class), self.sound.arrive(b, u, class))
    }
    fn leave(&self, b: usize, u: usize, class: usize) -> Option<Rest> {
        Rest::of(self.light.leave(b, u, class), self.sound.leave(b, u, class))
    }
    /// Past the block of the lightest label of a row from which `rest` is to come.
    fn end(&self, rest: Rest) -> impl Fn(i64) -> usize {
        let below = rest.repair - self.least.repair;
        let blocks = self.blocks;
        move |lightest| (((lightest & LOWER) + below) as usize / BLOCK + 1).min(blocks)
    }

    fn dense<M: Mass>(&self, arrays: &mut Arrays<M>) -> Front {
        let chain = self.chain;
        let (n, kk, cc, layers) = (chain.bays, chain.kinds.len(), chain.classes, chain.layers);
        let longest = chain.run.iter().copied().max().unwrap_or(1);
        let Arrays { now, next, leaving, arriving } = arrays;
        now.clear(layers * kk, self.blocks);
        arriving.resize_with(longest, Rows::default);
        let mut root = Rows::default();
        root.clear(1, self.blocks);
        root.row_mut(0)[BLOCK] = M::of(0);
        root.reach[0] = Reach { first: 0, end: 1, lightest: 0 };
        for b in 0..n {
            next.clear(layers * kk, self.blocks);
            leaving.clear(layers * cc, self.blocks);
            for k in 0..kk {
                let class = chain.class_of[k];
                let cell = if b > 0 { chain.cell(b, k) } else { None };
                let start = chain.began(b, k).and_then(|j| Some((j, chain.start(j, k)?)));
                if cell.is_none() && start.is_none() {
                    continue;
                }
                for u in 0..layers {
                    let (i, Some(here)) = (chain.state(u, k), self.at(b, u, k)) else { continue };
                    let stay = cell.and_then(|s| {
                        let before = self.at(b - 1, u, k)?;
                        now.source(i, Move::new(before, s, here))
                    });
                    let change = start.and_then(|(j, s)| match (j, u) {
                        (0, 0) => root.source(0, Move::new(self.least, s, here)),
                        (0, _) => None,
                        _ => {
                            let before = self.arrive(j, u, class)?;
                            arriving[j % longest].source(u * cc + class, Move::new(before, s, here))
                        }
                    });
                    match (stay, change) {
                        (None, None) => continue,
                        (Some(a), Some(b)) => next.write(i, &a, &b, self.end(here)),
                        (Some(a), None) | (None, Some(a)) => next.lower(i, &a, self.end(here)),
                    }
                    let exit = if b + 1 < n { self.leave(b + 1, u, class) } else { None };
                    if let Some(exit) = exit
                        && let Some(s) = next.source(i, Move::new(here, &Step::NONE, exit))
                    {
                        leaving.lower(u * cc + class, &s, self.end(exit));
                    }
                }
            }
            std::mem::swap(now, next);
            if b + 1 < n {
                self.across(b + 1, leaving, &mut arriving[(b + 1) % longest]);
            }
        }
        next.clear(1, self.blocks);
        let tip = Rest { mass: 0, repair: 0 };
        for i in 0..layers * kk {
            if let Some(s) = now.source(i, Move::new(tip, &Step::NONE, tip)) {
                next.lower(0, &s, self.end(tip));
            }
        }
        let reach = next.reach[0];
        let reached = next.row(0)[BLOCK..].iter().enumerate().take(reach.end * BLOCK).skip(reach.first * BLOCK);
        sweep(reached.filter(|(_, m)| **m < M::MISSING).map(|(x, m)| Point {
            mass: (self.least.mass + m.value()) as u32,
            repair: self.least.repair as u32 + x as u32,
        }))
    }

    /// Across the joint on the root side of bay `b`, from every class to every class.
    fn across<M: Mass>(&self, b: usize, leaving: &Rows<M>, into: &mut Rows<M>) {
        let (chain, cc) = (self.chain, self.chain.classes);
        into.clear(chain.layers * cc, self.blocks);
        for u in 0..chain.layers - 1 {
            for from in 0..cc {
                let Some(before) = self.leave(b, u, from) else { continue };
                for to in 0..cc {
                    let (Some(s), Some(there)) = (chain.joint(b, from, to), self.arrive(b, u + 1, to)) else {
                        continue;
                    };
                    if let Some(source) = leaving.source(u * cc + from, Move::new(before, s, there)) {
                        into.lower((u + 1) * cc + to, &source, self.end(there));
                    }
                }
            }
        }
    }
}
