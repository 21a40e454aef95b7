//! The exact front of one strip by a dense pass: for every state the least mass at every repair tick.
//!
//! Ticks are counted above the least repair with which the state can still be finished, so an array covers exactly the
//! ticks between the least repair of the strip and the repair of its lightest design; anything above is beaten by it.
//! Going through classes at a joint takes the square of the constructions out of the work.

use crate::search::chain::{Chain, Completion, FAR, Step};
use crate::search::front::{Front, Point, sweep};
use crate::search::sparse;

/// No design: above every total, and safe to add every total to.
const MISSING: i32 = 1 << 30;
/// Arrays wider than this give way to label lists.
const WIDEST_ARRAY: i64 = 8192;

/// Arrays kept from strip to strip.
#[derive(Debug, Default)]
pub(crate) struct Scratch {
    now: Rows,
    next: Rows,
    leaving: Rows,
    arriving: Vec<Rows>,
}

/// Rows of equal width; of each only `first..` is meaningful.
#[derive(Debug, Default)]
struct Rows {
    width: usize,
    values: Vec<i32>,
    first: Vec<usize>,
}

impl Rows {
    /// Forget everything; values keep what they were, behind `first`.
    fn clear(&mut self, rows: usize, width: usize) {
        self.width = width;
        self.values.resize(rows * width, MISSING);
        self.first.clear();
        self.first.resize(rows, width);
    }
    fn row(&self, i: usize) -> &[i32] {
        &self.values[i * self.width..(i + 1) * self.width]
    }
    fn row_mut(&mut self, i: usize) -> &mut [i32] {
        &mut self.values[i * self.width..(i + 1) * self.width]
    }
    /// Lower a row to `source`, moved up by `shift` ticks and made heavier by `mass`.
    fn lower(&mut self, i: usize, source: &[i32], source_first: usize, shift: i64, mass: i32) {
        let w = self.width;
        let Some(from) = usize::try_from(shift).ok().map(|s| s + source_first).filter(|&f| f < w) else { return };
        let had = self.first[i];
        let row = self.row_mut(i);
        let fresh = had.saturating_sub(from);
        let source = &source[source_first..source_first + (w - from)];
        let split = fresh.min(source.len());
        for (d, s) in row[from..].iter_mut().zip(&source[..split]) {
            *d = s.wrapping_add(mass);
        }
        for (d, s) in row[from + split..].iter_mut().zip(&source[split..]) {
            *d = (*d).min(s.wrapping_add(mass));
        }
        self.first[i] = had.min(from);
    }
}

/// Where a row of the next bay comes from.
#[derive(Clone, Copy)]
struct Source<'a> {
    row: &'a [i32],
    /// First meaningful tick in the source, and where it lands.
    first: usize,
    from: usize,
    mass: i32,
}

impl<'a> Source<'a> {
    fn new(rows: &'a Rows, i: usize, shift: i64, mass: u32) -> Option<Self> {
        let first = rows.first[i];
        let from = usize::try_from(shift).ok()?.checked_add(first).filter(|&f| f < rows.width)?;
        Some(Self { row: rows.row(i), first, from, mass: mass as i32 })
    }
    fn between(&self, from: usize, to: usize) -> &'a [i32] {
        &self.row[from - self.from + self.first..to - self.from + self.first]
    }
}

/// Write a row as the lesser of its sources; where it begins.
fn write(row: &mut [i32], stay: Option<Source>, change: Option<Source>) -> usize {
    let w = row.len();
    let copy = |row: &mut [i32], s: Source, to: usize| {
        for (d, x) in row[s.from..to].iter_mut().zip(s.between(s.from, to)) {
            *d = x.wrapping_add(s.mass);
        }
    };
    match (stay, change) {
        (None, None) => w,
        (Some(s), None) | (None, Some(s)) => {
            copy(row, s, w);
            s.from
        }
        (Some(a), Some(b)) => {
            let (a, b) = if a.from <= b.from { (a, b) } else { (b, a) };
            copy(row, a, b.from);
            let both = a.between(b.from, w).iter().zip(b.between(b.from, w));
            for (d, (x, y)) in row[b.from..].iter_mut().zip(both) {
                *d = x.wrapping_add(a.mass).min(y.wrapping_add(b.mass));
            }
            a.from
        }
    }
}

/// The exact front of a strip; empty when it has no design.
pub(crate) fn front(chain: &Chain, scratch: &mut Scratch) -> Front {
    let lightest = chain.completion(Step::mass_then_repair).least;
    if lightest >= FAR {
        return Front::new();
    }
    let cap = lightest & ((1 << 31) - 1);
    let rest = chain.completion(|s| i64::from(s.repair));
    if cap - rest.least >= WIDEST_ARRAY {
        return sparse::front(chain);
    }
    dense(chain, &rest, (cap - rest.least) as usize + 1, scratch)
}

fn dense(chain: &Chain, rest: &Completion, width: usize, scratch: &mut Scratch) -> Front {
    let (n, kk, cc, layers) = (chain.bays, chain.kinds.len(), chain.classes, chain.layers);
    let longest = chain.run.iter().copied().max().unwrap_or(1);
    let Scratch { now, next, leaving, arriving } = scratch;
    now.clear(layers * kk, width);
    next.clear(layers * kk, width);
    leaving.clear(layers * cc, width);
    arriving.resize_with(longest, Rows::default);
    let root = Rows { width, values: [&[0][..], &vec![MISSING; width - 1]].concat(), first: vec![0] };
    for b in 0..n {
        next.first.fill(width);
        leaving.clear(layers * cc, width);
        for u in 0..layers {
            for k in 0..kk {
                let (i, here) = (chain.state(u, k), rest.at(b, u, k));
                if here >= FAR {
                    continue;
                }
                let stay = (b > 0).then(|| chain.cell(b, k)).flatten().and_then(|s| {
                    let shift = i64::from(s.repair) + here - rest.at(b - 1, u, k);
                    Source::new(now, i, shift, s.mass)
                });
                let change = chain.began(b, k).and_then(|j| {
                    let s = chain.start(j, k)?;
                    let (rows, at, before) = if j > 0 {
                        let c = chain.class_of[k];
                        (&arriving[j % longest], u * cc + c, rest.arrive(j, u, c))
                    } else {
                        (if u == 0 { &root } else { return None }, 0, rest.least)
                    };
                    Source::new(rows, at, i64::from(s.repair) + here - before, s.mass)
                });
                next.first[i] = write(next.row_mut(i), stay, change);
                let exit = if b + 1 < n { rest.leave(b + 1, u, chain.class_of[k]) } else { FAR };
                if exit < FAR {
                    let c = u * cc + chain.class_of[k];
                    leaving.lower(c, next.row(i), next.first[i], exit - here, 0);
                }
            }
        }
        std::mem::swap(now, next);
        if b + 1 < n {
            arrive(chain, rest, b + 1, leaving, &mut arriving[(b + 1) % longest]);
        }
    }
    let mut best = vec![i32::MAX; width];
    for i in 0..layers * kk {
        let f = now.first[i];
        for (d, x) in best[f..].iter_mut().zip(&now.row(i)[f..]) {
            *d = (*d).min(*x);
        }
    }
    let reached = best.iter().enumerate().filter(|(_, m)| **m < MISSING);
    sweep(reached.map(|(x, &m)| Point { mass: m as u32, repair: rest.least as u32 + x as u32 }))
}

/// Across the joint on the root side of bay `b`, from every class to every class.
fn arrive(chain: &Chain, rest: &Completion, b: usize, leaving: &Rows, into: &mut Rows) {
    let cc = chain.classes;
    into.clear(chain.layers * cc, leaving.width);
    for u in 0..chain.layers - 1 {
        for from in 0..cc {
            let first = leaving.first[u * cc + from];
            for to in 0..cc {
                let (Some(s), there) = (chain.joint(b, from, to), rest.arrive(b, u + 1, to)) else { continue };
                if there >= FAR {
                    continue;
                }
                let shift = i64::from(s.repair) + there - rest.leave(b, u, from);
                into.lower((u + 1) * cc + to, leaving.row(u * cc + from), first, shift, s.mass as i32);
            }
        }
    }
}
