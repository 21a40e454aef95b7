//! Small seeded tables, and every design of one counted out with no cleverness.

use thistledown::search::{Strip, Table};

use super::tables::{Draw, Kind, table};

/// A small table of the seed: every design of it can be counted out.
pub(super) fn small(seed: u64) -> Table {
    small_with(seed, 1)
}

/// The same with shortest runs up to `longest_run`.
pub(super) fn small_with(seed: u64, longest_run: u32) -> Table {
    let mut draw = Draw(seed);
    let (strips, bays, candidates) =
        [(1, 6, 3), (1, 4, 5), (2, 3, 4), (2, 4, 3), (3, 3, 3), (2, 1, 6), (3, 4, 2)][(seed % 7) as usize];
    let tied = seed.is_multiple_of(3);
    let kind = Kind {
        strips,
        bays,
        candidates,
        classes: draw.between(1, 3),
        max_changes: draw.between(0, 3),
        most_mass: if tied { 6 } else { 3000 },
        most_repair: if tied { 5 } else { draw.between(20, 900) },
        missing_percent: draw.between(0, 25),
        longest_run,
    };
    table(&mut draw, kind)
}

/// A design, and its mass, repair, build, cost and least dent.
pub(super) type Counted = (Vec<Vec<usize>>, [u32; 5]);

/// Every design of a table, added up here on its own.
pub(super) fn every_design(t: &Table) -> Vec<Counted> {
    let mut all: Vec<Counted> = vec![(Vec::new(), [0, 0, 0, 0, u32::MAX])];
    for s in t.strips() {
        let own = every_choice(s);
        all = all
            .iter()
            .flat_map(|(d, a)| {
                own.iter().map(move |(c, b)| {
                    let mut design = d.clone();
                    design.push(c.clone());
                    (design, [a[0] + b[0], a[1] + b[1], a[2] + b[2], a[3] + b[3], a[4].min(b[4])])
                })
            })
            .collect();
    }
    all
}

fn every_choice(s: &Strip) -> Vec<(Vec<usize>, [u32; 5])> {
    let k = s.candidates.len();
    let mut out = Vec::new();
    'design: for mut number in 0..k.pow(s.bays as u32) {
        let choice: Vec<usize> = (0..s.bays)
            .map(|_| {
                let c = number % k;
                number /= k;
                c
            })
            .collect();
        let mut sum = [0, 0, 0, 0, u32::MAX];
        let (mut changes, mut run) = (0, 0);
        for b in 0..s.bays {
            let Some(c) = s.cells[choice[b] * s.bays + b] else { continue 'design };
            sum = [sum[0] + c.mass, sum[1] + c.repair, sum[2] + c.build, sum[3] + c.cost, sum[4].min(c.dent)];
            if b > 0 && choice[b] != choice[b - 1] {
                changes += 1;
                let at = ((b - 1) * s.classes + s.class_of[choice[b - 1]]) * s.classes + s.class_of[choice[b]];
                let Some(j) = s.joints[at] else { continue 'design };
                sum = [sum[0] + j.mass, sum[1] + j.repair, sum[2] + j.build, sum[3], sum[4]];
                if run < s.shortest_run[choice[b - 1]] {
                    continue 'design;
                }
                run = 0;
            }
            run += 1;
        }
        if changes <= s.max_changes && run >= s.shortest_run[choice[s.bays - 1]].min(s.bays) {
            out.push((choice, sum));
        }
    }
    out
}

/// Mass and repair of the designs none of the others equals or beats, least repair first.
pub(super) fn front_of<'a>(designs: impl Iterator<Item = &'a Counted>) -> Vec<(u32, u32)> {
    let mut points: Vec<(u32, u32)> = designs.map(|(_, s)| (s[1], s[0])).collect();
    points.sort_unstable();
    let mut front: Vec<(u32, u32)> = Vec::new();
    for (h, m) in points {
        if front.last().is_none_or(|l| m < l.0) {
            front.push((m, h));
        }
    }
    front
}
