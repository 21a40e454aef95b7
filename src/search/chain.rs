//! One strip made ready for passes over it: the dent floor applied, constructions that another of the same class
//! replaces everywhere dropped, runs summed. And the least weighted sum from every state to the tip.

use crate::search::table::{Cell, Joint, Strip};

/// A sum no design reaches.
pub(crate) const FAR: i64 = i64::MAX / 4;

/// Amounts of one step along a strip.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Step {
    pub(crate) mass: u32,
    pub(crate) repair: u32,
    pub(crate) build: u32,
    pub(crate) cost: u32,
    pub(crate) yields: [u32; 2],
}

impl Step {
    pub(crate) const NONE: Self = Self { mass: 0, repair: 0, build: 0, cost: 0, yields: [0; 2] };

    pub(crate) const fn plus(self, o: Self) -> Self {
        Self {
            mass: self.mass + o.mass,
            repair: self.repair + o.repair,
            build: self.build + o.build,
            cost: self.cost + o.cost,
            yields: [self.yields[0] + o.yields[0], self.yields[1] + o.yields[1]],
        }
    }
    /// Mass first, repair between equals: one number that orders both.
    pub(crate) const fn mass_then_repair(&self) -> i64 {
        ((self.mass as i64) << 31) | self.repair as i64
    }
    /// The other way round.
    pub(crate) const fn repair_then_mass(&self) -> i64 {
        ((self.repair as i64) << 31) | self.mass as i64
    }
}

impl From<Cell> for Step {
    fn from(c: Cell) -> Self {
        Self { mass: c.mass, repair: c.repair, build: c.build, cost: c.cost, yields: c.yields }
    }
}

impl From<Joint> for Step {
    fn from(j: Joint) -> Self {
        Self { mass: j.mass, repair: j.repair, build: j.build, ..Self::NONE }
    }
}

/// Which attributes a pass looks at besides mass and repair; a construction may only be dropped for another that is no
/// worse in all of these.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(crate) struct Uses {
    pub(crate) build: bool,
    pub(crate) cost: bool,
    pub(crate) yields: [bool; 2],
}

/// A strip ready for passes. A state is (bay, changes used, construction), the construction having run its shortest run.
#[derive(Debug, Clone)]
pub(crate) struct Chain {
    pub(crate) bays: usize,
    /// Changes allowed and one.
    pub(crate) layers: usize,
    pub(crate) classes: usize,
    /// Index in the strip of each construction kept, by class.
    pub(crate) kinds: Vec<usize>,
    pub(crate) class_of: Vec<usize>,
    pub(crate) run: Vec<usize>,
    /// `[bay][construction]`
    cells: Vec<Option<Step>>,
    /// `[bay][construction]`: the shortest run that starts in this bay.
    starts: Vec<Option<Step>>,
    /// `[bay][from class][to class]`: the joint on the root side of the bay; nothing at bay 0.
    joints: Vec<Option<Step>>,
}

impl Chain {
    pub(crate) fn new(strip: &Strip, dent_floor: u32, uses: Uses) -> Self {
        let bays = strip.bays;
        let cell = |k: usize, b: usize| strip.cell(k, b).filter(|c| c.dent >= dent_floor);
        let mut kinds = kept(strip, &cell, uses);
        kinds.sort_by_key(|&k| (strip.class_of[k], k));
        let run: Vec<usize> = kinds.iter().map(|&k| strip.shortest_run[k].min(bays)).collect();
        let mut cells = Vec::with_capacity(bays * kinds.len());
        let mut starts = Vec::with_capacity(bays * kinds.len());
        for b in 0..bays {
            for (&k, &r) in kinds.iter().zip(&run) {
                cells.push(cell(k, b).map(Step::from));
                let sum = (b..b + r)
                    .try_fold(Step::NONE, |s, x| if x < bays { cell(k, x).map(|c| s.plus(c.into())) } else { None });
                starts.push(sum);
            }
        }
        let mut joints = vec![None; strip.classes * strip.classes];
        joints.extend(strip.joints.iter().map(|j| j.map(Step::from)));
        Self {
            bays,
            layers: strip.max_changes.min(bays - 1) + 1,
            classes: strip.classes,
            class_of: kinds.iter().map(|&k| strip.class_of[k]).collect(),
            kinds,
            run,
            cells,
            starts,
            joints,
        }
    }

    pub(crate) fn cell(&self, b: usize, k: usize) -> Option<&Step> {
        self.cells[b * self.kinds.len() + k].as_ref()
    }
    pub(crate) fn start(&self, b: usize, k: usize) -> Option<&Step> {
        self.starts[b * self.kinds.len() + k].as_ref()
    }
    pub(crate) fn joint(&self, b: usize, from: usize, to: usize) -> Option<&Step> {
        self.joints[(b * self.classes + from) * self.classes + to].as_ref()
    }
    /// Number of a state within a bay.
    pub(crate) fn state(&self, u: usize, k: usize) -> usize {
        u * self.kinds.len() + k
    }
    /// Bay where the run that is just long enough at bay `b` began, if it can.
    pub(crate) fn began(&self, b: usize, k: usize) -> Option<usize> {
        (b + 1).checked_sub(self.run[k])
    }

    /// Least weighted sum from every state to the tip.
    pub(crate) fn completion(&self, weight: impl Fn(&Step) -> i64) -> Completion {
        let mut out = Completion::default();
        self.complete(weight, &mut out);
        out
    }

    /// The same into arrays that are there already.
    pub(crate) fn complete(&self, weight: impl Fn(&Step) -> i64, c: &mut Completion) {
        let (n, kk, cc, layers) = (self.bays, self.kinds.len(), self.classes, self.layers);
        let far = |list: &mut Vec<i64>, len: usize| {
            list.clear();
            list.resize(len, FAR);
        };
        far(&mut c.at, n * layers * kk);
        far(&mut c.arrive, n * layers * cc);
        far(&mut c.leave, n * layers * cc);
        (c.constructions, c.classes, c.layers, c.least) = (kk, cc, layers, FAR);
        let mut own = vec![FAR; kk];
        let mut across = vec![FAR; cc * cc];
        let of = |s: &Option<Step>| s.as_ref().map_or(FAR, &weight);
        for b in (0..n).rev() {
            if b + 1 == n {
                c.at[b * layers * kk..].fill(0);
            } else {
                let cells = &self.cells[(b + 1) * kk..(b + 2) * kk];
                own.iter_mut().zip(cells).for_each(|(w, s)| *w = of(s));
                let (here, next) = c.at.split_at_mut((b + 1) * layers * kk);
                let here = &mut here[b * layers * kk..];
                let leave = &c.leave[(b + 1) * layers * cc..(b + 2) * layers * cc];
                for ((to, from), leave) in
                    here.chunks_exact_mut(kk.max(1)).zip(next.chunks_exact(kk.max(1))).zip(leave.chunks_exact(cc))
                {
                    for (((to, from), w), class) in to.iter_mut().zip(from).zip(&own).zip(&self.class_of) {
                        *to = (w + from).min(leave[*class]).min(FAR);
                    }
                }
            }
            if b == 0 {
                break;
            }
            // A change uses one, so nothing arrives with none used.
            let starts = &self.starts[b * kk..(b + 1) * kk];
            for (k, (s, &class)) in starts.iter().zip(&self.class_of).enumerate() {
                let Some(s) = s else { continue };
                let w = weight(s);
                let then = (b + self.run[k] - 1) * layers;
                for u in 1..layers {
                    let i = (b * layers + u) * cc + class;
                    c.arrive[i] = c.arrive[i].min(w + c.at[(then + u) * kk + k]);
                }
            }
            if layers > 1 {
                let joints = &self.joints[b * cc * cc..(b + 1) * cc * cc];
                across.iter_mut().zip(joints).for_each(|(w, j)| *w = of(j));
            }
            for u in 0..layers - 1 {
                let arrive = &c.arrive[(b * layers + u + 1) * cc..(b * layers + u + 2) * cc];
                let leave = &mut c.leave[(b * layers + u) * cc..(b * layers + u + 1) * cc];
                for (to, across) in leave.iter_mut().zip(across.chunks_exact(cc)) {
                    *to = across.iter().zip(arrive).fold(FAR, |least, (w, a)| least.min(w + a));
                }
            }
        }
        for k in 0..kk {
            if let Some(s) = self.start(0, k) {
                c.least = c.least.min(far_at_most(weight(s) + c.at(self.run[k] - 1, 0, k)));
            }
        }
    }
}

const fn far_at_most(x: i64) -> i64 {
    if x > FAR { FAR } else { x }
}

/// Least weighted sums to the tip; `FAR` where there is no way.
#[derive(Debug, Clone, Default)]
pub(crate) struct Completion {
    constructions: usize,
    classes: usize,
    layers: usize,
    at: Vec<i64>,
    arrive: Vec<i64>,
    leave: Vec<i64>,
    /// Of a whole strip.
    pub(crate) least: i64,
}

impl Completion {
    /// From construction `k` in bay `b` with `u` changes used, the bay itself not counted.
    pub(crate) fn at(&self, b: usize, u: usize, k: usize) -> i64 {
        self.at[(b * self.layers + u) * self.constructions + k]
    }
    /// From the root side of bay `b`, some construction of the class about to start there.
    pub(crate) fn arrive(&self, b: usize, u: usize, class: usize) -> i64 {
        self.arrive[(b * self.layers + u) * self.classes + class]
    }
    /// From the root side of bay `b`, the class about to be left there.
    pub(crate) fn leave(&self, b: usize, u: usize, class: usize) -> i64 {
        self.leave[(b * self.layers + u) * self.classes + class]
    }
}

/// Constructions that no other of the same class replaces everywhere. Safe because a replacement never adds a change.
/// Deleting single cells that are beaten in their own bay is not safe: such a cell may save a splice.
fn kept(strip: &Strip, cell: &impl Fn(usize, usize) -> Option<Cell>, uses: Uses) -> Vec<usize> {
    let mut kept: Vec<usize> = Vec::new();
    for q in 0..strip.candidates.len() {
        let nowhere = (0..strip.bays).all(|b| cell(q, b).is_none());
        if nowhere || kept.iter().any(|&p| replaces(strip, cell, uses, p, q)) {
            continue;
        }
        kept.retain(|&p| !replaces(strip, cell, uses, q, p));
        kept.push(q);
    }
    kept
}

/// Whether `p` may stand wherever `q` does and is no worse there in what is looked at.
fn replaces(strip: &Strip, cell: &impl Fn(usize, usize) -> Option<Cell>, uses: Uses, p: usize, q: usize) -> bool {
    strip.class_of[p] == strip.class_of[q]
        && strip.shortest_run[p] <= strip.shortest_run[q]
        && (0..strip.bays).all(|b| match (cell(p, b), cell(q, b)) {
            (_, None) => true,
            (None, Some(_)) => false,
            (Some(p), Some(q)) => {
                p.mass <= q.mass
                    && p.repair <= q.repair
                    && (!uses.build || p.build <= q.build)
                    && (!uses.cost || p.cost <= q.cost)
                    && (0..2).all(|i| !uses.yields[i] || p.yields[i] <= q.yields[i])
            }
        })
}

/// A construction that replaces `q` everywhere in mass and repair.
pub(crate) fn replaced_by(strip: &Strip, dent_floor: u32, q: usize) -> Option<usize> {
    let cell = |k: usize, b: usize| strip.cell(k, b).filter(|c| c.dent >= dent_floor);
    let others = kept(strip, &cell, Uses::default());
    others.into_iter().find(|&p| p != q && replaces(strip, &cell, Uses::default(), p, q))
}
