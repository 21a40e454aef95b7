//! Adding fronts of strips: what two strips reach together is the front of all sums of one point from each.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use crate::search::front::{Front, Point, sweep};

/// Wider than this (in repair ticks) sums are formed in order from a heap instead of in an array.
const WIDEST_ARRAY: usize = 1 << 22;
/// Adding whole rows pays while a front has a point at least every this many ticks.
const DENSE_UP_TO: usize = 6;

/// The front of all sums of a point of `a` and a point of `b`.
pub fn add(a: &[Point], b: &[Point]) -> Front {
    let (short, long) = if a.len() <= b.len() { (a, b) } else { (b, a) };
    let (Some(s), Some(l)) = (ends(short), ends(long)) else { return Front::new() };
    let width = |e: (u32, u32)| (e.1 - e.0) as usize + 1;
    let total = width(s) + width(l) - 1;
    if total > WIDEST_ARRAY {
        add_by_heap(short, long)
    } else if width(l) <= DENSE_UP_TO * long.len() {
        add_rows(short, long, total)
    } else {
        scatter(short, long, total)
    }
}

/// Least and most repair.
fn ends(front: &[Point]) -> Option<(u32, u32)> {
    Some((front.first()?.repair, front.last()?.repair))
}

/// Every point of the short front lifts and shifts the long one, held as the least mass at or below each tick.
fn add_rows(short: &[Point], long: &[Point], total: usize) -> Front {
    let (base_s, base_l) = (short[0].repair, long[0].repair);
    let mut row = Vec::new();
    for (i, p) in long.iter().enumerate() {
        let until = long.get(i + 1).map_or(p.repair + 1, |n| n.repair) - base_l;
        row.resize(until as usize, p.mass as i32);
    }
    let mut out = vec![i32::MAX; total];
    for p in short {
        let from = (p.repair - base_s) as usize;
        for (o, m) in out[from..].iter_mut().zip(&row) {
            *o = (*o).min(m.wrapping_add(p.mass as i32));
        }
    }
    gather(&out, base_s + base_l)
}

fn scatter(short: &[Point], long: &[Point], total: usize) -> Front {
    let base = short[0].repair + long[0].repair;
    let mut out = vec![i32::MAX; total];
    for p in short {
        for q in long {
            let o = &mut out[(p.repair + q.repair - base) as usize];
            *o = (*o).min((p.mass + q.mass) as i32);
        }
    }
    gather(&out, base)
}

fn gather(masses: &[i32], base: u32) -> Front {
    let reached = masses.iter().enumerate().filter(|(_, m)| **m != i32::MAX);
    sweep(reached.map(|(x, &m)| Point { mass: m as u32, repair: base + x as u32 }))
}

/// Sums in order of repair, one candidate for each point of the short front at a time: memory of the shorter list.
fn add_by_heap(short: &[Point], long: &[Point]) -> Front {
    let sum = |i: usize, j: usize| (short[i].repair + long[j].repair, short[i].mass + long[j].mass);
    let mut heap: BinaryHeap<Reverse<((u32, u32), usize, usize)>> =
        (0..short.len()).map(|i| Reverse((sum(i, 0), i, 0))).collect();
    sweep(std::iter::from_fn(|| {
        let Reverse(((repair, mass), i, j)) = heap.pop()?;
        if j + 1 < long.len() {
            heap.push(Reverse((sum(i, j + 1), i, j + 1)));
        }
        Some(Point { mass, repair })
    }))
}
