//! What must hold of any table, and the trap that catches an engine that prunes too much.

use thistledown::search::front::Point;
use thistledown::search::wing::Wing;
use thistledown::search::{CEILING, Cell, Joint, Limits, Strip, Table, merge, solve};

use super::counted::small_with;
use super::tables::{Draw, wing};

/// The same table with the constructions of every strip in another order.
fn turned(t: &Table, draw: &mut Draw) -> Table {
    let strips = t.strips().iter().map(|s| {
        let mut order: Vec<usize> = (0..s.candidates.len()).collect();
        for i in (1..order.len()).rev() {
            order.swap(i, draw.between(0, i as u32) as usize);
        }
        Strip {
            candidates: order.iter().map(|&k| s.candidates[k].clone()).collect(),
            class_of: order.iter().map(|&k| s.class_of[k]).collect(),
            shortest_run: order.iter().map(|&k| s.shortest_run[k]).collect(),
            cells: order.iter().flat_map(|&k| s.cells[k * s.bays..(k + 1) * s.bays].to_vec()).collect(),
            ..s.clone()
        }
    });
    Table::new(strips.collect()).unwrap()
}

#[test]
fn the_order_of_constructions_and_strips_leaves_the_front_equal() {
    for seed in 0..40 {
        let t = if seed % 2 == 0 { small_with(seed, 2) } else { wing(seed, 4, 8, 14, 3, 40) };
        let expected = Wing::new(&t, 0).front().to_vec();
        let mut draw = Draw(seed ^ 0x0def);
        assert_eq!(Wing::new(&turned(&t, &mut draw), 0).front(), expected, "seed {seed}");
        let mut strips = t.strips().to_vec();
        strips.reverse();
        assert_eq!(Wing::new(&Table::new(strips).unwrap(), 0).front(), expected, "seed {seed}");
    }
}

#[test]
fn fronts_are_strictly_monotone() {
    for seed in 0..20 {
        let t = wing(seed, 5, 9, 16, 3, 60);
        let w = Wing::new(&t, 0);
        assert!(w.front().len() > 40);
        for f in (0..5).map(|s| w.strip_front(s)).chain([w.front()]) {
            assert!(f.windows(2).all(|p| p[0].repair < p[1].repair && p[0].mass > p[1].mass), "seed {seed}");
        }
    }
}

#[test]
fn traced_designs_of_a_whole_wing_add_up_to_their_points() {
    let t = wing(3, 7, 12, 30, 3, 30);
    let w = Wing::new(&t, 0);
    for p in w.front().iter().step_by(9) {
        let sum = t.add_up(&w.design(*p).unwrap()).unwrap();
        assert_eq!((sum.mass, sum.repair), (p.mass, p.repair));
    }
    let beyond = Point { mass: w.front()[0].mass - 1, repair: w.front()[0].repair };
    assert_eq!(w.design(beyond), None);
}

/// The same numbers with repair ticks so fine that arrays would be too wide, so label lists are used: only the scale of
/// the repair axis may differ.
#[test]
fn dense_and_sparse_passes_agree_strip_by_strip() {
    for seed in 0..40 {
        let t = if seed % 2 == 0 { small_with(seed, 3) } else { wing(seed, 3, 9, 18, 3, 50) };
        let finer =
            100_000 / t.strips().iter().flat_map(|s| &s.cells).flatten().map(|c| c.repair).max().unwrap().max(1);
        let mut strips = t.strips().to_vec();
        for s in &mut strips {
            s.cells.iter_mut().flatten().for_each(|c| c.repair *= finer);
            s.joints.iter_mut().flatten().for_each(|j| j.repair *= finer);
        }
        let fine = Table::new(strips).unwrap();
        let (coarse, fine) = (Wing::new(&t, 0), Wing::new(&fine, 0));
        for s in 0..t.strips().len() {
            let scaled: Vec<Point> =
                coarse.strip_front(s).iter().map(|p| Point { mass: p.mass, repair: p.repair * finer }).collect();
            assert_eq!(fine.strip_front(s), scaled, "seed {seed} strip {s}");
        }
    }
}

/// Sums of fronts by rows, by scatter and by heap are chosen by shape; all three must give the plain answer.
#[test]
fn sums_of_fronts_equal_all_pairs() {
    let mut draw = Draw(77);
    for round in 0..300 {
        let spread = [3, 40, 3_000_000][round % 3];
        let mut front = |len: u32| {
            let (mut mass, mut repair) = (draw.between(900_000, 1_000_000), draw.between(0, 50));
            (0..len)
                .map(|_| {
                    mass -= draw.between(1, 9000);
                    repair += draw.between(1, spread);
                    Point { mass, repair }
                })
                .collect::<Vec<_>>()
        };
        let (a, b) = (front(1 + round as u32 % 40), front(1 + round as u32 % 23));
        let mut all: Vec<Point> = a
            .iter()
            .flat_map(|x| b.iter().map(|y| Point { mass: x.mass + y.mass, repair: x.repair + y.repair }))
            .collect();
        all.sort_by_key(|p| (p.repair, p.mass));
        let mut expected: Vec<Point> = Vec::new();
        for p in all {
            if expected.last().is_none_or(|l| p.mass < l.mass) {
                expected.push(p);
            }
        }
        assert_eq!(merge::add(&a, &b), expected, "round {round}");
    }
}

/// In the middle bay construction 0 is beaten in everything by construction 1, and yet it belongs to the lightest
/// design, because changing to 1 and back costs two splices. An engine that drops cells beaten in their own bay gives
/// 30 + 2 x 5 instead of 33.
#[test]
fn a_cell_beaten_in_its_own_bay_may_still_be_needed() {
    let cell = |mass| Some(Cell { mass, repair: 1, build: 0, cost: 0, dent: 9, yields: [0; 2] });
    let strip = Strip {
        name: "trap".to_owned(),
        bays: 3,
        candidates: vec!["runs on".to_owned(), "wins the middle".to_owned()],
        max_changes: 2,
        classes: 1,
        class_of: vec![0, 0],
        shortest_run: vec![1, 1],
        cells: vec![cell(10), cell(13), cell(10), cell(20), cell(10), cell(20)],
        joints: vec![Some(Joint { mass: 5, repair: 0, build: 0 }); 2],
    };
    let t = Table::new(vec![strip.clone()]).unwrap();
    let answer = solve(&t, &Limits::default(), CEILING);
    let lightest = answer.lightest.unwrap();
    assert_eq!((lightest.sum.mass, lightest.choice), (33, vec![vec![0, 0, 0]]));
    let mut pruned = strip;
    pruned.cells[1] = None;
    let wrong = solve(&Table::new(vec![pruned]).unwrap(), &Limits::default(), CEILING).lightest.unwrap();
    assert_eq!(wrong.sum.mass, 40, "the trap no longer traps");
}

/// The same on tables of the usual size: dropping cells beaten in their own bay changes most fronts.
#[test]
fn dropping_cells_beaten_in_their_own_bay_changes_fronts() {
    let mut wrong = 0;
    for seed in 0..20 {
        let t = wing(seed, 2, 8, 10, 2, 40);
        let mut strips = t.strips().to_vec();
        for (s, full) in strips.iter_mut().zip(t.strips()) {
            for b in 0..s.bays {
                for k in 0..s.candidates.len() {
                    let beaten = |c: Cell| {
                        (0..s.candidates.len()).any(|p| {
                            full.cell(p, b).is_some_and(|o| {
                                o != c
                                    && o.mass <= c.mass
                                    && o.repair <= c.repair
                                    && full.class_of[p] == full.class_of[k]
                            })
                        })
                    };
                    if full.cell(k, b).is_some_and(beaten) {
                        s.cells[k * s.bays + b] = None;
                    }
                }
            }
        }
        let pruned = Table::new(strips).unwrap();
        wrong += usize::from(Wing::new(&pruned, 0).front() != Wing::new(&t, 0).front());
    }
    assert!(wrong >= 18, "{wrong} of 20");
}

/// An engine must not be told apart by what it is not asked: the fingerprint sees every number.
#[test]
fn fingerprints_see_every_number() {
    let t = wing(5, 2, 4, 5, 2, 30);
    let first = t.fingerprint();
    assert_eq!(first, wing(5, 2, 4, 5, 2, 30).fingerprint());
    let mut strips = t.strips().to_vec();
    let cell = strips[0].cells.iter_mut().flatten().next().unwrap();
    cell.dent += 1;
    assert_ne!(first, Table::new(strips).unwrap().fingerprint());
    assert_ne!(first, t.with_most_changes(0).fingerprint());
}
