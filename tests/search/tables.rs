//! Seeded tables, invented.

use thistledown::search::{Cell, Joint, Strip, Table};

/// SplitMix64: Steele, Lea and Flood, *Fast splittable pseudorandom number generators*, 2014 (constants from memory).
pub(super) struct Draw(pub u64);

impl Draw {
    pub(super) fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }
    /// From `a` to `b`, both included.
    pub(super) fn between(&mut self, a: u32, b: u32) -> u32 {
        a + (self.next() % u64::from(b - a + 1)) as u32
    }
    pub(super) fn chance(&mut self, percent: u32) -> bool {
        self.between(1, 100) <= percent
    }
}

/// What kind of table to draw.
#[derive(Clone, Copy)]
pub(super) struct Kind {
    pub(super) strips: u32,
    pub(super) bays: u32,
    pub(super) candidates: u32,
    pub(super) classes: u32,
    pub(super) max_changes: u32,
    /// Largest mass and repair of a cell; small ones give ties.
    pub(super) most_mass: u32,
    pub(super) most_repair: u32,
    pub(super) missing_percent: u32,
    pub(super) longest_run: u32,
}

/// Heavier constructions take less repair and more dent, with scatter; splices cost; some changes are forbidden.
pub(super) fn table(draw: &mut Draw, kind: Kind) -> Table {
    let strips = (0..kind.strips).map(|s| strip(draw, kind, &format!("s{s}"))).collect();
    Table::new(strips).unwrap_or_else(|faults| unreachable!("{faults:?}"))
}

pub(super) fn strip(draw: &mut Draw, kind: Kind, name: &str) -> Strip {
    let (n, k, c) = (kind.bays as usize, kind.candidates as usize, kind.classes as usize);
    let class_of: Vec<usize> = (0..k).map(|_| draw.between(0, kind.classes - 1) as usize).collect();
    let mut cells = Vec::new();
    for i in 0..k {
        let level = (i as u32 * 100).checked_div(kind.candidates - 1).unwrap_or(50);
        for _ in 0..n {
            let missing = draw.chance(kind.missing_percent);
            let scatter = |draw: &mut Draw, most: u32, level: u32| {
                let middle = most * level / 100;
                (middle * 3 / 4 + draw.between(0, most / 4 + 1)).min(most)
            };
            let cell = Cell {
                mass: scatter(draw, kind.most_mass, level),
                repair: scatter(draw, kind.most_repair, 100 - level),
                build: draw.between(0, 40),
                cost: draw.between(0, 90),
                dent: scatter(draw, 60, level),
                yields: [0; 2],
            };
            cells.push((!missing).then_some(cell));
        }
    }
    let joints = (0..(n - 1) * c * c)
        .map(|_| {
            let joint = Joint {
                mass: draw.between(0, kind.most_mass / 6 + 1),
                repair: draw.between(0, kind.most_repair / 8 + 1),
                build: draw.between(0, 6),
            };
            (!draw.chance(12)).then_some(joint)
        })
        .collect();
    Strip {
        name: name.to_owned(),
        bays: n,
        candidates: (0..k).map(|i| format!("c{i}")).collect(),
        max_changes: kind.max_changes as usize,
        classes: c,
        class_of,
        shortest_run: (0..k).map(|_| draw.between(1, kind.longest_run) as usize).collect(),
        cells,
        joints,
    }
}

/// A table of the size people ask about.
pub(super) fn wing(seed: u64, strips: u32, bays: u32, candidates: u32, max_changes: u32, most_repair: u32) -> Table {
    let mut draw = Draw(seed);
    let kind = Kind {
        strips,
        bays,
        candidates,
        classes: 5,
        max_changes,
        most_mass: 3000,
        most_repair,
        missing_percent: 15,
        longest_run: 1,
    };
    table(&mut draw, kind)
}
