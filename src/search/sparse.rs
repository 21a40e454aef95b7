//! The same strip pass with label lists instead of arrays: what the dense pass is tested against, what very wide tick
//! ranges fall back on, and what a design is walked back along.

use crate::search::chain::{Chain, Completion, FAR, Step};
use crate::search::front::{Front, Point, union};

/// Fronts of every state: `[bay][state]`.
pub(crate) struct Labels {
    pub(crate) at: Vec<Vec<Front>>,
}

/// What labels may come to at the tip: in mass, in repair, and in both weighed.
struct Within {
    mass: Completion,
    repair: Completion,
    both: Completion,
    weights: Point,
    most: Point,
}

impl Within {
    fn new(chain: &Chain, most: Point, weights: Point) -> Self {
        Self {
            mass: chain.completion(|s| i64::from(s.mass)),
            repair: chain.completion(|s| i64::from(s.repair)),
            both: chain.completion(|s| weigh(weights, Point { mass: s.mass, repair: s.repair })),
            weights,
            most,
        }
    }
    fn keeps(&self, b: usize, u: usize, k: usize, p: Point) -> bool {
        i64::from(p.repair) + self.repair.at(b, u, k) <= i64::from(self.most.repair)
            && i64::from(p.mass) + self.mass.at(b, u, k) <= i64::from(self.most.mass)
            && weigh(self.weights, p) + self.both.at(b, u, k) <= weigh(self.weights, self.most)
    }
}

fn weigh(w: Point, p: Point) -> i64 {
    i64::from(w.mass) * i64::from(p.mass) + i64::from(w.repair) * i64::from(p.repair)
}

/// The front of a strip by label lists.
pub(crate) fn front(chain: &Chain) -> Front {
    let lightest = chain.completion(Step::mass_then_repair).least;
    if lightest >= FAR {
        return Front::new();
    }
    let most = Point { mass: u32::MAX, repair: (lightest & ((1 << 31) - 1)) as u32 };
    let labels = pass(chain, most, Point { mass: 0, repair: 1 }, false);
    labels.at.last().map_or_else(Front::new, |last| last.iter().fold(Front::new(), |a, b| union(&a, b)))
}

/// Labels of every bay that can end at no more than `most`, in mass, in repair and in both weighed.
pub(crate) fn all(chain: &Chain, most: Point, weights: Point) -> Labels {
    pass(chain, most, weights, true)
}

fn pass(chain: &Chain, most: Point, weights: Point, keep_all: bool) -> Labels {
    let within = Within::new(chain, most, weights);
    let (kk, cc, layers) = (chain.kinds.len(), chain.classes, chain.layers);
    let longest = chain.run.iter().copied().max().unwrap_or(1);
    let mut at: Vec<Vec<Front>> = Vec::new();
    let mut arriving: Vec<Vec<Front>> = vec![Vec::new()];
    let root = [Point { mass: 0, repair: 0 }];
    for b in 0..chain.bays {
        let mut here = vec![Front::new(); layers * kk];
        for u in 0..layers {
            for k in 0..kk {
                let i = chain.state(u, k);
                let move_on = |from: &[Point], s: &Step| -> Front {
                    let moved = from.iter().map(|p| moved(*p, s));
                    moved.filter(|p| within.keeps(b, u, k, *p)).collect()
                };
                let stay = match (b.checked_sub(1), chain.cell(b, k)) {
                    (Some(before), Some(s)) => move_on(&at[before][i], s),
                    _ => Front::new(),
                };
                let change = match chain.began(b, k).and_then(|j| Some((j, chain.start(j, k)?))) {
                    Some((0, s)) if u == 0 => move_on(&root, s),
                    Some((j, s)) if j > 0 && u > 0 => move_on(&arriving[j][u * cc + chain.class_of[k]], s),
                    _ => Front::new(),
                };
                here[i] = union(&stay, &change);
            }
        }
        if b + 1 < chain.bays {
            arriving.push(arrive(chain, b + 1, &here));
            if let Some(old) = (b + 1).checked_sub(longest).and_then(|x| arriving.get_mut(x)) {
                old.clear();
            }
        }
        if let Some(old) = at.last_mut().filter(|_| !keep_all) {
            old.clear();
        }
        at.push(here);
    }
    Labels { at }
}

const fn moved(p: Point, s: &Step) -> Point {
    Point { mass: p.mass + s.mass, repair: p.repair + s.repair }
}

fn arrive(chain: &Chain, b: usize, here: &[Front]) -> Vec<Front> {
    let cc = chain.classes;
    let mut into = vec![Front::new(); chain.layers * cc];
    for u in 0..chain.layers - 1 {
        let mut leaving = vec![Front::new(); cc];
        for (k, &c) in chain.class_of.iter().enumerate() {
            leaving[c] = union(&leaving[c], &here[chain.state(u, k)]);
        }
        for (from, list) in leaving.iter().enumerate() {
            for to in 0..cc {
                let Some(s) = chain.joint(b, from, to) else { continue };
                let shifted: Front = list.iter().map(|p| moved(*p, s)).collect();
                let i = (u + 1) * cc + to;
                into[i] = union(&into[i], &shifted);
            }
        }
    }
    into
}
