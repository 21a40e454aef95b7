//! Small tables: the engine against every design counted out.

use thistledown::search::front::Point;
use thistledown::search::wing::Wing;
use thistledown::search::{CEILING, Limits, Status, lightest_alone, solve, solve_ruled};

use super::counted::{every_design, front_of, small, small_with};
use super::tables::Draw;

const SMALL: u64 = 240;

fn pairs(front: &[Point]) -> Vec<(u32, u32)> {
    front.iter().map(|p| (p.mass, p.repair)).collect()
}

#[test]
fn fronts_equal_complete_enumeration() {
    let mut points = 0;
    for seed in 0..SMALL {
        let t = small(seed);
        let wing = Wing::new(&t, 0);
        let expected = front_of(every_design(&t).iter());
        assert_eq!(pairs(wing.front()), expected, "seed {seed}");
        points += expected.len();
    }
    assert!(points > 1500, "the tables are too plain to tell: {points} points");
}

#[test]
fn fronts_with_shortest_runs_equal_complete_enumeration() {
    let mut moved = 0;
    for seed in 0..SMALL {
        let t = small_with(seed, 3);
        let expected = front_of(every_design(&t).iter());
        assert_eq!(pairs(Wing::new(&t, 0).front()), expected, "seed {seed}");
        let mut free = t.strips().to_vec();
        free.iter_mut().for_each(|s| s.shortest_run.fill(1));
        let free = thistledown::search::Table::new(free).unwrap();
        moved += usize::from(pairs(Wing::new(&free, 0).front()) != expected);
    }
    assert!(moved > 60, "the runs bind too seldom: {moved}");
}

#[test]
fn a_dent_floor_and_fewer_changes_equal_complete_enumeration() {
    for seed in 0..SMALL {
        let t = small(seed);
        let mut draw = Draw(seed ^ 0x5eed);
        let floor = draw.between(0, 40);
        let all = every_design(&t);
        let expected = front_of(all.iter().filter(|(_, s)| s[4] >= floor));
        assert_eq!(pairs(Wing::new(&t, floor).front()), expected, "seed {seed}");
        for most in 0..3 {
            let fewer = t.with_most_changes(most);
            let changes = |d: &Vec<Vec<usize>>| d.iter().all(|c| c.windows(2).filter(|w| w[0] != w[1]).count() <= most);
            let expected = front_of(all.iter().filter(|(d, s)| s[4] >= floor && changes(d)));
            assert_eq!(pairs(Wing::new(&fewer, floor).front()), expected, "seed {seed}, {most} changes");
        }
    }
}

#[test]
fn the_lightest_within_a_repair_limit_equals_complete_enumeration() {
    let mut infeasible = 0;
    for seed in 0..SMALL {
        let t = small(seed);
        let all = every_design(&t);
        let mut draw = Draw(seed ^ 0x11);
        let most = all.iter().map(|(_, s)| s[1]).max().unwrap_or(10);
        for _ in 0..3 {
            let limit = draw.between(0, most);
            let limits = Limits { repair: Some(u64::from(limit)), ..Limits::default() };
            let answer = solve(&t, &limits, CEILING);
            let expected = all.iter().filter(|(_, s)| s[1] <= limit).map(|(_, s)| (s[0], s[1])).min();
            assert_eq!(answer.lightest.as_ref().map(|d| (d.sum.mass, d.sum.repair)), expected, "seed {seed}");
            infeasible += usize::from(answer.status == Status::Infeasible);
            assert_eq!(answer.status == Status::Infeasible, expected.is_none());
            assert_eq!(answer.bound, expected.map(|e| e.0));
            let (alone, bound, status) = lightest_alone(&t, &limits, CEILING);
            assert_eq!(alone.map(|d| (d.sum.mass, d.sum.repair)), expected, "seed {seed}, without the front");
            assert_eq!((bound, status), (answer.bound, answer.status), "seed {seed}, without the front");
        }
    }
    assert!(infeasible > 20, "{infeasible}");
}

#[test]
fn every_traced_design_adds_up_to_its_point_and_is_one_of_those_counted_out() {
    for seed in 0..SMALL {
        let t = small_with(seed, 1 + (seed % 3) as u32);
        let all = every_design(&t);
        let wing = Wing::new(&t, 0);
        for p in wing.front() {
            let design = wing.design(*p).unwrap();
            let counted = all.iter().find(|(d, _)| *d == design).unwrap_or_else(|| panic!("seed {seed}: no design"));
            assert_eq!((counted.1[0], counted.1[1]), (p.mass, p.repair), "seed {seed}");
            let sum = t.add_up(&design).unwrap();
            assert_eq!([sum.mass, sum.repair, sum.build, sum.cost, sum.dent], counted.1, "seed {seed}");
        }
    }
}

#[test]
fn adding_up_agrees_with_counting_out_on_what_is_a_design_at_all() {
    for seed in 0..60 {
        let t = small_with(seed, 3);
        let all: std::collections::HashSet<_> = every_design(&t).into_iter().map(|(d, _)| d).collect();
        let mut draw = Draw(seed);
        for _ in 0..200 {
            let design: Vec<Vec<usize>> = t
                .strips()
                .iter()
                .map(|s| (0..s.bays).map(|_| draw.between(0, s.candidates.len() as u32 - 1) as usize).collect())
                .collect();
            assert_eq!(t.add_up(&design).is_some(), all.contains(&design), "seed {seed} {design:?}");
        }
    }
}

/// The listed front within every mix of limits and a dent floor, against every design counted out.
#[test]
fn the_front_within_all_limits_equals_complete_enumeration() {
    let (mut points, mut other, mut none) = (0, 0, 0);
    for seed in 0..SMALL {
        let t = small_with(seed, 1 + (seed % 2) as u32);
        let all = every_design(&t);
        let mut draw = Draw(seed ^ 0xf407);
        for mix in 0..8_u32 {
            let any = |draw: &mut Draw| draw.between(0, 1000) as usize % all.len().max(1);
            let pick = |i: usize, draw: &mut Draw| all.get(any(draw)).map_or(9, |c| c.1[i]);
            let (repair, build, cost) = (pick(1, &mut draw), pick(2, &mut draw), pick(3, &mut draw));
            let limit = |bit: u32, n: u32| (mix & bit != 0).then_some(u64::from(n));
            let dent_floor = if draw.chance(50) { draw.between(0, 30) } else { 0 };
            let limits = Limits {
                repair: limit(1, repair),
                build: limit(2, build),
                cost: limit(4, cost),
                dent_floor,
                ..Limits::default()
            };
            let keeps = |s: &[u32; 5]| {
                let below = |l: Option<u64>, n: u32| l.is_none_or(|l| u64::from(n) <= l);
                below(limits.repair, s[1])
                    && below(limits.build, s[2])
                    && below(limits.cost, s[3])
                    && s[4] >= dent_floor
            };
            let expected = front_of(all.iter().filter(|(_, s)| keeps(s)));
            let answer = solve_ruled(&t, &[], &limits, CEILING).unwrap();
            let (front, whole) = answer.within.as_ref().unwrap();
            assert_eq!((pairs(front), *whole), (expected.clone(), true), "seed {seed} {limits:?}");
            points += expected.len();
            let cut: Vec<_> = pairs(&answer.front)
                .into_iter()
                .filter(|p| limits.repair.is_none_or(|l| u64::from(p.1) <= l))
                .collect();
            other += usize::from(cut != expected);
            none += usize::from(expected.is_empty());
        }
    }
    assert!(points > 4000 && other > 300 && none > 20, "{points} {other} {none}: the limits bind too seldom");
}

/// Limits on repair, build and cost in every mix, some of them out of reach.
#[test]
fn the_lightest_within_all_limits_equals_complete_enumeration() {
    let (mut infeasible, mut beyond_the_front) = (0, 0);
    for seed in 0..SMALL {
        let t = small_with(seed, 1 + (seed % 2) as u32);
        let all = every_design(&t);
        let mut draw = Draw(seed ^ 0xb0b);
        for round in 0..6 {
            let mut limit = |i: usize| {
                let (least, most) = all.iter().map(|(_, s)| s[i]).fold((u32::MAX, 0), |a, v| (a.0.min(v), a.1.max(v)));
                let least = least.min(most);
                let span = (most - least) * 7 / 10;
                draw.chance(70).then(|| draw.between(least.saturating_sub(1), least + span))
            };
            let (repair, build, cost) = (limit(1), limit(2), limit(3));
            let floor = if round % 2 == 0 { 0 } else { draw.between(0, 25) };
            let within = |s: &[u32; 5]| {
                let keeps = |l: Option<u32>, v: u32| l.is_none_or(|l| v <= l);
                keeps(repair, s[1]) && keeps(build, s[2]) && keeps(cost, s[3]) && s[4] >= floor
            };
            let expected = all.iter().map(|(_, s)| s).filter(|s| within(s)).map(|s| (s[0], s[1])).min();
            let wide = |l: Option<u32>| l.map(u64::from);
            let limits = Limits {
                repair: wide(repair),
                build: wide(build),
                cost: wide(cost),
                dent_floor: floor,
                ..Limits::default()
            };
            let answer = solve(&t, &limits, CEILING);
            assert_eq!(
                answer.lightest.as_ref().map(|d| (d.sum.mass, d.sum.repair)),
                expected,
                "seed {seed}, {limits:?}"
            );
            assert_eq!(answer.bound, expected.map(|e| e.0), "seed {seed}, {limits:?}");
            match &answer.lightest {
                None => {
                    assert_eq!(answer.status, Status::Infeasible);
                    infeasible += 1;
                }
                Some(d) => {
                    assert_eq!(answer.status, Status::Proven);
                    let counted = all.iter().find(|(c, _)| *c == d.choice).unwrap();
                    assert!(within(&counted.1), "seed {seed}");
                    let point = Point { mass: d.sum.mass, repair: d.sum.repair };
                    beyond_the_front += usize::from(!answer.front.contains(&point));
                }
            }
        }
    }
    assert!(infeasible > 100 && beyond_the_front > 200, "{infeasible} {beyond_the_front}");
}

/// With hardly any labels allowed the answer says so, and its bound and its design still hold.
#[test]
fn a_ceiling_gives_the_best_found_and_a_true_bound() {
    let mut hit = 0;
    for seed in 0..SMALL {
        let t = small(seed);
        let all = every_design(&t);
        let Some(middle) = all.get(all.len() / 2).map(|(_, s)| *s) else { continue };
        let limits =
            Limits { repair: Some(u64::from(middle[1])), build: Some(u64::from(middle[2])), ..Limits::default() };
        let within = |s: &&[u32; 5]| s[1] <= middle[1] && s[2] <= middle[2];
        let truth = all.iter().map(|(_, s)| s).filter(within).map(|s| s[0]).min().unwrap();
        let answer = solve(&t, &limits, 6);
        assert!(answer.bound.unwrap() <= truth, "seed {seed}");
        if let Some(d) = &answer.lightest {
            assert!(d.sum.mass >= truth && within(&&[0, d.sum.repair, d.sum.build, 0, 0]), "seed {seed}");
            assert_eq!(answer.status == Status::Proven, answer.bound == Some(d.sum.mass), "seed {seed}");
        }
        assert_ne!(answer.status, Status::Infeasible);
        hit += usize::from(answer.status == Status::Ceiling);
    }
    assert!(hit > 40, "{hit}");
}

/// The two more sums limited beside repair, build and cost, alone and together: the lightest and the listed front against
/// every design counted out.
#[test]
fn the_two_more_sums_limited_equal_complete_enumeration() {
    let (mut infeasible, mut beyond_the_front, mut points) = (0, 0, 0);
    for seed in 0..SMALL {
        let mut draw = Draw(seed ^ 0x51de);
        let mut strips = small_with(seed, 1 + (seed % 2) as u32).strips().to_vec();
        for s in &mut strips {
            let stiff = draw.chance(50);
            for c in s.cells.iter_mut().flatten() {
                // What is light gives more, as skins do.
                let give = 40_u32.saturating_sub(c.mass.min(40));
                c.yields = if stiff { [give + draw.between(0, 9), give / 2 + draw.between(0, 30)] } else { [0; 2] };
            }
        }
        let t = thistledown::search::Table::new(strips).unwrap();
        let all: Vec<_> = every_design(&t).into_iter().map(|(d, s)| (t.add_up(&d).unwrap().yields, s)).collect();
        for mix in 1..8_u32 {
            let pick = |draw: &mut Draw| draw.between(0, 1000) as usize % all.len().max(1);
            let (a, b) = (pick(&mut draw), pick(&mut draw));
            let of = |i: usize| all.get(i).map_or(([9; 2], [9; 5]), |d| *d);
            let limit = |bit: u32, n: u32| (mix & bit != 0).then_some(u64::from(n));
            let limits = Limits {
                repair: limit(1, of(a).1[1]),
                build: if draw.chance(30) { Some(of(b).1[2].into()) } else { None },
                yields: [limit(2, of(a).0[0]), limit(4, of(b).0[1])],
                ..Limits::default()
            };
            let keeps = |(y, s): &([u32; 2], [u32; 5])| {
                let below = |l: Option<u64>, n: u32| l.is_none_or(|l| u64::from(n) <= l);
                below(limits.repair, s[1])
                    && below(limits.build, s[2])
                    && below(limits.yields[0], y[0])
                    && below(limits.yields[1], y[1])
            };
            let kept: Vec<_> = all.iter().filter(|d| keeps(d)).map(|d| (Vec::new(), d.1)).collect();
            let expected = front_of(kept.iter());
            let answer = solve_ruled(&t, &[], &limits, CEILING).unwrap();
            let (front, whole) = answer.within.as_ref().unwrap();
            assert_eq!((pairs(front), *whole), (expected.clone(), true), "seed {seed} {limits:?}");
            let best = kept.iter().map(|(_, s)| (s[0], s[1])).min();
            assert_eq!(answer.lightest.as_ref().map(|d| (d.sum.mass, d.sum.repair)), best, "seed {seed} {limits:?}");
            infeasible += usize::from(best.is_none());
            points += expected.len();
            let free = pairs(&answer.front).first().copied();
            beyond_the_front += usize::from(best.is_some() && best != free && limits.yields != [None; 2]);
        }
    }
    assert!(infeasible > 20 && beyond_the_front > 300 && points > 2000, "{infeasible} {beyond_the_front} {points}");
}
