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

/// Rows of equal width; of each only the reach from `first` to `end` is meaningful. A row ends at the repair of its own
/// lightest label: whatever takes more repair is beaten by that one.
#[derive(Debug, Default)]
struct Rows {
    width: usize,
    values: Vec<i32>,
    reach: Vec<Reach>,
}

#[derive(Debug, Clone, Copy)]
struct Reach {
    first: usize,
    end: usize,
    /// Mass, then repair, of the lightest label.
    lightest: i64,
}

const NOWHERE: Reach = Reach { first: usize::MAX, end: 0, lightest: FAR };

impl Rows {
    /// Forget everything; values keep what they were, out of reach.
    fn clear(&mut self, rows: usize, width: usize) {
        self.width = width;
        self.values.resize(rows * width, MISSING);
        self.reach.clear();
        self.reach.resize(rows, NOWHERE);
    }
    fn row(&self, i: usize) -> &[i32] {
        &self.values[i * self.width..(i + 1) * self.width]
    }
    /// What a step makes of a row: moved up by `shift` ticks and by the step's mass.
    fn source(&self, i: usize, shift: i64, step: &Step) -> Option<Source<'_>> {
        let r = self.reach[i];
        if r.lightest >= FAR {
            return None;
        }
        let shift = usize::try_from(shift).ok().filter(|&s| s + r.first < self.width)?;
        let end = (r.end + shift).min(self.width);
        Some(Source {
            values: &self.row(i)[r.first..end - shift],
            from: r.first + shift,
            mass: step.mass as i32,
            lightest: r.lightest + step.mass_then_repair(),
        })
    }
    /// Lower row `i` to a source. `end` says where a label of that lightest repair ends its row.
    fn lower(&mut self, i: usize, source: Option<Source>, end: impl Fn(i64) -> usize) {
        let Some(s) = source else { return };
        let had = self.reach[i];
        let row = &mut self.values[i * self.width..(i + 1) * self.width];
        if had.lightest >= FAR {
            let lightest = s.lightest;
            self.reach[i] = Reach { first: s.from, end: s.to(), lightest };
            s.copy(row, s.from, s.to());
            return;
        }
        let lightest = had.lightest.min(s.lightest);
        let (first, last) = (had.first.min(s.from), had.end.max(s.to()).min(end(lightest)));
        let missing = |row: &mut [i32], from: usize, to: usize| {
            if from < to {
                row[from..to].fill(MISSING);
            }
        };
        missing(row, s.to(), had.first);
        missing(row, had.end, s.from);
        s.copy(row, s.from, had.first.min(s.to()));
        s.copy(row, s.from.max(had.end), s.to());
        let (a, b) = (s.from.max(had.first), s.to().min(had.end));
        if a < b {
            for (d, x) in row[a..b].iter_mut().zip(s.between(a, b)) {
                *d = (*d).min(x.wrapping_add(s.mass));
            }
        }
        self.reach[i] = Reach { first, end: last, lightest };
    }
    /// Write row `i` as the lesser of its sources.
    fn write(&mut self, i: usize, a: Option<Source>, b: Option<Source>, end: impl Fn(i64) -> usize) {
        let (Some(x), Some(y)) = (a, b) else {
            return self.lower(i, a.or(b), end);
        };
        let (from, to) = (x.from.max(y.from), x.to().min(y.to()));
        if from >= to {
            self.lower(i, a, &end);
            return self.lower(i, b, end);
        }
        let row = &mut self.values[i * self.width..(i + 1) * self.width];
        let lightest = x.lightest.min(y.lightest);
        let last = x.to().max(y.to()).min(end(lightest));
        x.copy(row, x.from, from);
        y.copy(row, y.from, from);
        let both = x.between(from, to).iter().zip(y.between(from, to));
        for (d, (p, q)) in row[from..to].iter_mut().zip(both) {
            *d = p.wrapping_add(x.mass).min(q.wrapping_add(y.mass));
        }
        x.copy(row, to, x.to().min(last));
        y.copy(row, to, y.to().min(last));
        self.reach[i] = Reach { first: x.from.min(y.from), end: last, lightest };
    }
}

/// Where labels of a row come from: `values` land at tick `from`.
#[derive(Clone, Copy)]
struct Source<'a> {
    values: &'a [i32],
    from: usize,
    mass: i32,
    lightest: i64,
}

impl<'a> Source<'a> {
    const fn to(&self) -> usize {
        self.from + self.values.len()
    }
    fn between(&self, from: usize, to: usize) -> &'a [i32] {
        &self.values[from - self.from..to - self.from]
    }
    /// Copy what of it lies between two ticks.
    fn copy(&self, row: &mut [i32], from: usize, to: usize) {
        if from < to {
            for (d, x) in row[from..to].iter_mut().zip(self.between(from, to)) {
                *d = x.wrapping_add(self.mass);
            }
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
    arriving.resize_with(longest, Rows::default);
    let mut root = Rows::default();
    root.clear(1, width);
    root.values[0] = 0;
    root.reach[0] = Reach { first: 0, end: 1, lightest: 0 };
    for b in 0..n {
        next.clear(layers * kk, width);
        leaving.clear(layers * cc, width);
        for k in 0..kk {
            let class = chain.class_of[k];
            let cell = if b > 0 { chain.cell(b, k) } else { None };
            let start = chain.began(b, k).and_then(|j| Some((j, chain.start(j, k)?)));
            for u in 0..layers {
                let (i, here) = (chain.state(u, k), rest.at(b, u, k));
                if here >= FAR {
                    continue;
                }
                let stay = cell.and_then(|s| now.source(i, i64::from(s.repair) + here - rest.at(b - 1, u, k), s));
                let change = start.and_then(|(j, s)| match (j, u) {
                    (0, 0) => root.source(0, i64::from(s.repair) + here - rest.least, s),
                    (0, _) => None,
                    _ => {
                        let shift = i64::from(s.repair) + here - rest.arrive(j, u, class);
                        arriving[j % longest].source(u * cc + class, shift, s)
                    }
                });
                if stay.is_none() && change.is_none() {
                    continue;
                }
                let ends = |below: i64| move |lightest| end(lightest, below - rest.least, width);
                next.write(i, stay, change, ends(here));
                let exit = if b + 1 < n { rest.leave(b + 1, u, class) } else { FAR };
                if exit < FAR {
                    leaving.lower(u * cc + class, next.source(i, exit - here, &Step::NONE), ends(exit));
                }
            }
        }
        std::mem::swap(now, next);
        if b + 1 < n {
            arrive(chain, rest, b + 1, leaving, &mut arriving[(b + 1) % longest]);
        }
    }
    let mut best = vec![MISSING; width];
    for i in 0..layers * kk {
        let r = now.reach[i];
        if r.lightest < FAR {
            for (d, x) in best[r.first..r.end].iter_mut().zip(&now.row(i)[r.first..r.end]) {
                *d = (*d).min(*x);
            }
        }
    }
    let reached = best.iter().enumerate().filter(|(_, m)| **m < MISSING);
    sweep(reached.map(|(x, &m)| Point { mass: m as u32, repair: rest.least as u32 + x as u32 }))
}

/// One past the tick of the lightest label, whose repair is completed by `below` more.
fn end(lightest: i64, below: i64, width: usize) -> usize {
    let repair = lightest & ((1 << 31) - 1);
    usize::try_from(repair + below + 1).map_or(0, |e| e.min(width))
}

/// Across the joint on the root side of bay `b`, from every class to every class.
fn arrive(chain: &Chain, rest: &Completion, b: usize, leaving: &Rows, into: &mut Rows) {
    let cc = chain.classes;
    into.clear(chain.layers * cc, leaving.width);
    for u in 0..chain.layers - 1 {
        for from in 0..cc {
            for to in 0..cc {
                let (Some(s), there) = (chain.joint(b, from, to), rest.arrive(b, u + 1, to)) else { continue };
                if there >= FAR {
                    continue;
                }
                let source = leaving.source(u * cc + from, i64::from(s.repair) + there - rest.leave(b, u, from), s);
                let ends = |lightest| end(lightest, there - rest.least, leaving.width);
                into.lower((u + 1) * cc + to, source, ends);
            }
        }
    }
}
