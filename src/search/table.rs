//! The table a search works on: for every bay of every strip and every construction one row of whole numbers,
//! and what a change of construction costs at each joint. Checked once; everything after it may trust the shapes.

use crate::problem::Problem;

/// Whole-wing totals stay below this, so sums fit signed 32-bit words beside a mark for "no design".
pub const TOTAL_CEILING: u64 = 1 << 30;
/// More strips, bays, constructions or classes than any wing has.
const SHAPE_CEILING: usize = 4096;
/// Faults shown before the rest is only counted.
const FAULTS_SHOWN: usize = 40;

/// One construction in one bay of one strip. Round mass, hours and cost up and dent load down when filling it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Cell {
    /// Ticks of mass, 0.1 g in thistledown's own tables.
    pub mass: u32,
    /// Ticks of expected repair hours.
    pub repair: u32,
    /// Ticks of build hours.
    pub build: u32,
    /// Hundredths of the currency.
    pub cost: u32,
    /// Dent load, N.
    pub dent: u32,
    /// What it adds to either of two more sums that may be limited, such as the twist of the whole wing. Round up.
    pub yields: [u32; 2],
}

/// What a change of construction costs at one joint, in the ticks of the cells.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Joint {
    pub mass: u32,
    pub repair: u32,
    pub build: u32,
}

/// A chain of bays from root to tip.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Strip {
    pub name: String,
    pub bays: usize,
    /// Names of the constructions; the same name in two strips is the same construction.
    pub candidates: Vec<String>,
    /// Changes of construction allowed along the strip.
    pub max_changes: usize,
    /// Splice classes.
    pub classes: usize,
    /// Splice class of each construction.
    pub class_of: Vec<usize>,
    /// Bays a construction must run at least, for each; 1 asks nothing.
    pub shortest_run: Vec<usize>,
    /// `[construction * bays + bay]`; none where it is not allowed.
    pub cells: Vec<Option<Cell>>,
    /// `[(joint * classes + from) * classes + to]`, joint `j` between bays `j` and `j + 1`; none where the change is
    /// forbidden. Paid at every change of construction, also inside one class.
    pub joints: Vec<Option<Joint>>,
}

impl Strip {
    /// The cell of construction `k` in bay `b`.
    pub fn cell(&self, k: usize, b: usize) -> Option<Cell> {
        self.cells.get(k * self.bays + b).copied().flatten()
    }
    /// The joint between bays `j` and `j + 1`, from one class to another.
    pub fn joint(&self, j: usize, from: usize, to: usize) -> Option<Joint> {
        self.joints.get((j * self.classes + from) * self.classes + to).copied().flatten()
    }
    /// Changes of construction along a run of choices.
    pub fn changes(choice: &[usize]) -> usize {
        choice.windows(2).filter(|w| w[0] != w[1]).count()
    }

    /// Whether all arrays have the sizes the counts say.
    fn fits(&self) -> bool {
        let (k, c) = (self.candidates.len(), self.classes);
        (1..=SHAPE_CEILING).contains(&self.bays)
            && (1..=SHAPE_CEILING).contains(&k)
            && (1..=SHAPE_CEILING).contains(&c)
            && self.class_of.len() == k
            && self.class_of.iter().all(|&x| x < c)
            && self.shortest_run.len() == k
            && self.shortest_run.iter().all(|&r| r >= 1)
            && self.cells.len() == k * self.bays
            && self.joints.len() == (self.bays - 1) * c * c
    }

    /// The largest sums any design of this strip could reach: mass, repair, build, cost, and the two more.
    pub(crate) fn largest(&self) -> [u64; 6] {
        let mut sum = [0_u64; 6];
        let mut add = |rows: &mut dyn Iterator<Item = [u32; 6]>| {
            let most = rows.fold([0; 6], |a: [u32; 6], r| std::array::from_fn(|i| a[i].max(r[i])));
            for (s, m) in sum.iter_mut().zip(most) {
                *s += u64::from(m);
            }
        };
        for b in 0..self.bays {
            add(&mut (0..self.candidates.len())
                .filter_map(|k| self.cell(k, b))
                .map(|c| [c.mass, c.repair, c.build, c.cost, c.yields[0], c.yields[1]]));
        }
        let square = self.classes * self.classes;
        for joint in self.joints.chunks(square) {
            add(&mut joint.iter().flatten().map(|j| [j.mass, j.repair, j.build, 0, 0, 0]));
        }
        sum
    }

    fn write(&self, into: &mut blake3::Hasher) {
        let mut word = |n: usize| {
            into.update(&(n as u64).to_le_bytes());
        };
        for n in [self.bays, self.candidates.len(), self.max_changes, self.classes] {
            word(n);
        }
        self.class_of.iter().chain(&self.shortest_run).for_each(|&n| word(n));
        for name in &self.candidates {
            into.update(&(name.len() as u64).to_le_bytes());
            into.update(name.as_bytes());
        }
        let mut row = |numbers: Option<&[u32]>| match numbers {
            None => {
                into.update(&[0]);
            }
            Some(n) => {
                into.update(&[if n.len() > 5 { 2 } else { 1 }]);
                for v in n {
                    into.update(&v.to_le_bytes());
                }
            }
        };
        for c in &self.cells {
            let [x, y] = c.map_or([0; 2], |c| c.yields);
            let numbers = c.map(|c| [c.mass, c.repair, c.build, c.cost, c.dent, x, y]);
            // Where there is nothing more, as when there was never anything more.
            row(numbers.as_ref().map(|n| if [x, y] == [0; 2] { &n[..5] } else { &n[..] }));
        }
        for j in &self.joints {
            row(j.map(|j| [j.mass, j.repair, j.build]).as_ref().map(|r| &r[..]));
        }
    }

    /// A fingerprint of everything but the strip's own name: the same on every machine and in every release.
    pub fn fingerprint(&self) -> [u8; 32] {
        let mut h = blake3::Hasher::new();
        self.write(&mut h);
        *h.finalize().as_bytes()
    }
}

/// A checked table.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Table {
    strips: Vec<Strip>,
}

impl Table {
    /// Check the shapes and the totals; every fault at once.
    pub fn new(strips: Vec<Strip>) -> Result<Self, Vec<Problem>> {
        let mut faults = Vec::new();
        if strips.is_empty() || strips.len() > SHAPE_CEILING {
            faults.push(Problem::input(
                format!("the table has {} strips", strips.len()),
                format!("it needs 1 to {SHAPE_CEILING}"),
            ));
        }
        for s in strips.iter().filter(|s| !s.fits()) {
            faults.push(Problem::input(
                format!("strip `{}`: its arrays do not have the sizes its counts say", s.name),
                format!("bays, candidates and classes are 1 to {SHAPE_CEILING} and every array follows them"),
            ));
        }
        if faults.is_empty() {
            let mut sum = [0_u64; 6];
            for s in &strips {
                for (a, b) in sum.iter_mut().zip(s.largest()) {
                    *a += b;
                }
            }
            for (name, total) in ["mass", "repair", "build", "cost", "first yield", "second yield"].iter().zip(sum) {
                if total >= TOTAL_CEILING {
                    faults.push(Problem::input(
                        format!("{name} could add up to {total} over the whole wing"),
                        format!("totals must stay below {TOTAL_CEILING}; use a coarser tick"),
                    ));
                }
            }
        }
        if faults.is_empty() { Ok(Self { strips }) } else { Err(shortened(faults)) }
    }

    /// The strips.
    pub fn strips(&self) -> &[Strip] {
        &self.strips
    }

    /// No design weighs more.
    pub fn heaviest(&self) -> u64 {
        self.strips.iter().map(|s| s.largest()[0]).sum()
    }

    /// Strips of a checked table with cells taken away: shapes and totals still hold.
    pub(crate) const fn still_checked(strips: Vec<Strip>) -> Self {
        Self { strips }
    }

    /// Put a strip in the place of the same strip with more cells: shapes and totals still hold.
    pub(crate) fn set_fewer(&mut self, s: usize, strip: &Strip) {
        if let Some(old) = self.strips.get_mut(s).filter(|old| old.cells.len() == strip.cells.len()) {
            old.clone_from(strip);
        }
    }

    /// The same table with at most `most` changes along every strip.
    #[must_use]
    pub fn with_most_changes(&self, most: usize) -> Self {
        let mut strips = self.strips.clone();
        strips.iter_mut().for_each(|s| s.max_changes = s.max_changes.min(most));
        Self { strips }
    }

    /// Strip and bay of every place where no construction reaches the dent load.
    pub fn empty_bays(&self, dent_floor: u32) -> Vec<(usize, usize)> {
        let mut empty = Vec::new();
        for (s, strip) in self.strips.iter().enumerate() {
            let allowed =
                |b: usize| (0..strip.candidates.len()).any(|k| strip.cell(k, b).is_some_and(|c| c.dent >= dent_floor));
            empty.extend((0..strip.bays).filter(|&b| !allowed(b)).map(|b| (s, b)));
        }
        empty
    }

    /// Add a design up from the cells and joints: none where a cell or change is not allowed, a strip changes too often,
    /// a run is too short or the shape is another.
    pub fn add_up(&self, design: &[Vec<usize>]) -> Option<Sum> {
        if design.len() != self.strips.len() {
            return None;
        }
        let mut sum = Sum { mass: 0, repair: 0, build: 0, cost: 0, dent: u32::MAX, yields: [0; 2] };
        for (strip, choice) in self.strips.iter().zip(design) {
            if choice.len() != strip.bays || Strip::changes(choice) > strip.max_changes {
                return None;
            }
            for (b, &k) in choice.iter().enumerate() {
                let c = strip.cell(k, b)?;
                sum.mass += c.mass;
                sum.repair += c.repair;
                sum.build += c.build;
                sum.cost += c.cost;
                sum.dent = sum.dent.min(c.dent);
                sum.yields = [sum.yields[0] + c.yields[0], sum.yields[1] + c.yields[1]];
            }
            for (j, w) in choice.windows(2).enumerate().filter(|(_, w)| w[0] != w[1]) {
                let joint = strip.joint(j, strip.class_of[w[0]], strip.class_of[w[1]])?;
                sum.mass += joint.mass;
                sum.repair += joint.repair;
                sum.build += joint.build;
            }
            let runs = choice.chunk_by(|a, b| a == b);
            if runs.into_iter().any(|r| r.len() < strip.shortest_run[r[0]].min(strip.bays)) {
                return None;
            }
        }
        Some(sum)
    }

    /// A fingerprint of the whole table, strips in order.
    pub fn fingerprint(&self) -> [u8; 32] {
        let mut h = blake3::Hasher::new();
        for s in &self.strips {
            s.write(&mut h);
        }
        *h.finalize().as_bytes()
    }
}

/// What a design adds up to; `dent` is the least of its cells.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Sum {
    pub mass: u32,
    pub repair: u32,
    pub build: u32,
    pub cost: u32,
    pub dent: u32,
    pub yields: [u32; 2],
}

/// The first faults, and how many more there are.
pub(crate) fn shortened(mut faults: Vec<Problem>) -> Vec<Problem> {
    if faults.len() > FAULTS_SHOWN {
        let more = faults.len() - FAULTS_SHOWN;
        faults.truncate(FAULTS_SHOWN);
        faults.push(Problem::input(format!("and {more} more faults"), ""));
    }
    faults
}
