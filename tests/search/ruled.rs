//! Rules, dent load as a third axis and edits, against every design counted out.

use std::collections::HashSet;

use thistledown::search::dent;
use thistledown::search::edit::Live;
use thistledown::search::front::Point;
use thistledown::search::rules::{self, Rule};
use thistledown::search::wing::Wing;
use thistledown::search::{CEILING, Limits, Status, Strip, Table, few, solve, solve_ruled};

use super::counted::{Counted, every_design, front_of, small, small_with};
use super::tables::{Draw, Kind, table, wing};

const SMALL: u64 = 210;

fn pairs(front: &[Point]) -> Vec<(u32, u32)> {
    front.iter().map(|p| (p.mass, p.repair)).collect()
}

/// The front and the lightest within a repair and a build limit must be those of the designs that keep to the rule.
fn check(seed: u64, t: &Table, rules: &[Rule], keeps: impl Fn(&Counted) -> bool) -> bool {
    let all = every_design(t);
    let kept: Vec<&Counted> = all.iter().filter(|c| keeps(c)).collect();
    let expected = front_of(kept.iter().copied());
    let mut draw = Draw(seed ^ 0xfee);
    let pick = |i: usize, draw: &mut Draw| kept.get(draw.between(0, 1000) as usize % kept.len().max(1)).map(|c| c.1[i]);
    let (repair, build) = (pick(1, &mut draw).unwrap_or(9), pick(2, &mut draw).unwrap_or(9));
    let limits = Limits { repair: Some(repair.into()), build: Some(build.into()), ..Limits::default() };
    let answer = solve_ruled(t, rules, &limits, CEILING).unwrap();
    assert_eq!(pairs(&answer.front), expected, "seed {seed} {rules:?}");
    assert!(answer.front_whole);
    let listed = front_of(kept.iter().copied().filter(|c| c.1[1] <= repair && c.1[2] <= build));
    let (front, whole) = answer.within.as_ref().unwrap();
    assert_eq!(
        (pairs(front), *whole),
        (listed, true),
        "seed {seed} {rules:?}, within repair {repair} and build {build}"
    );
    let within = kept.iter().filter(|c| c.1[1] <= repair && c.1[2] <= build).map(|c| (c.1[0], c.1[1])).min();
    assert_eq!(answer.lightest.as_ref().map(|d| (d.sum.mass, d.sum.repair)), within, "seed {seed} {rules:?}");
    assert_eq!(answer.status, if within.is_some() { Status::Proven } else { Status::Infeasible });
    if let Some(d) = answer.lightest {
        let own = kept.iter().find(|c| c.0 == d.choice).unwrap_or_else(|| panic!("seed {seed}: breaks {rules:?}"));
        assert_eq!((own.1[0], own.1[1], own.1[2]), (d.sum.mass, d.sum.repair, d.sum.build), "seed {seed}");
    }
    expected != front_of(all.iter())
}

fn distinct(t: &Table, c: &Counted) -> usize {
    let names = t.strips().iter().zip(&c.0).flat_map(|(s, c)| c.iter().map(|&k| &s.candidates[k]));
    names.collect::<HashSet<_>>().len()
}

#[test]
fn few_constructions_in_the_whole_wing() {
    let mut binds = 0;
    for seed in 0..SMALL {
        let t = small_with(seed, 1 + (seed % 2) as u32);
        for most in 1..=3 {
            binds += usize::from(check(seed, &t, &[Rule::MostConstructions(most)], |c| distinct(&t, c) <= most));
        }
    }
    assert!(binds > 150, "{binds}");
}

/// Out of branches the designs still keep to the rule and nothing within it lies below the bound.
#[test]
fn few_constructions_out_of_branches_stay_honest() {
    let mut short = 0;
    for seed in 0..SMALL {
        let t = small(seed);
        let all = every_design(&t);
        let kept: Vec<&Counted> = all.iter().filter(|c| distinct(&t, c) <= 2).collect();
        let truth = front_of(kept.iter().copied());
        let few = few::front(&t, 0, 2, 4000);
        for d in &few.designs {
            assert!(kept.iter().any(|c| c.0 == d.choice && c.1[0] == d.sum.mass), "seed {seed}");
        }
        for (m, h) in &truth {
            let below = few.bound.iter().any(|p| p.mass <= *m && p.repair <= *h);
            assert!(below, "seed {seed}: the bound misses {m} {h}");
        }
        let found: Vec<_> = few.designs.iter().map(|d| (d.sum.mass, d.sum.repair)).collect();
        assert!(!few.proven || found == truth, "seed {seed}");
        short += usize::from(!few.proven);
        let (best, bound, status) = few::lightest_of(&t, &Limits::default(), 2, 2000);
        let lightest = kept.iter().map(|c| c.1[0]).min();
        match status {
            Status::Proven => assert_eq!(best.map(|d| d.sum.mass), lightest, "seed {seed}"),
            Status::Infeasible => assert_eq!(lightest, None, "seed {seed}"),
            Status::Ceiling => assert!(lightest.is_none_or(|l| bound.unwrap() <= l), "seed {seed}"),
        }
    }
    assert!(short > 20, "{short}");
}

/// At full size: a rule that hardly binds is proven, a hard one gives the best found with a bound, and the bound never falls
/// when more branches are allowed. Against the engine without the rule and against tables cut down to the answer's own
/// constructions, which must give the answer back.
#[test]
fn few_constructions_at_full_size_are_proven_or_come_with_a_gap() {
    let ceilings: usize = [5, 6, 7, 8].into_iter().map(few_at_full_size).sum();
    assert!(ceilings > 0);
}

/// One table; how often the ceiling was reached.
fn few_at_full_size(seed: u64) -> usize {
    let t = wing(seed, 7, 16, 60, 3, 20);
    let names = |d: &thistledown::search::Design| few::names(&t, &d.choice).len();
    let free = solve(&t, &Limits::default(), CEILING).lightest.unwrap();
    let used = names(&free);
    let (same, bound, status) = few::lightest_of(&t, &Limits::default(), used, 20_000);
    assert_eq!((same.unwrap().sum.mass, bound, status), (free.sum.mass, Some(free.sum.mass), Status::Proven));
    let (mut last, mut ceilings) = (free.sum.mass, 0);
    for (most, ceiling) in [(used - 1, 20_000), (used / 2, 2_000)] {
        let (best, bound, status) = few::lightest_of(&t, &Limits::default(), most, ceiling);
        let (best, bound) = (best.unwrap(), bound.unwrap());
        assert!(names(&best) <= most, "{most}: {}", names(&best));
        assert!(free.sum.mass <= bound && bound <= best.sum.mass, "{most}: {bound} {}", best.sum.mass);
        assert!(best.sum.mass >= last, "{most}: few constructions weigh less than more of them");
        println!("seed {seed}, {most} constructions: {} over {bound}, {}", best.sum.mass, status.word());
        assert_eq!(status == Status::Proven, bound == best.sum.mass);
        last = best.sum.mass;
        ceilings += usize::from(status == Status::Ceiling);
        let (more, higher, _) = few::lightest_of(&t, &Limits::default(), most, 2 * ceiling);
        assert!(higher.unwrap() >= bound && more.unwrap().sum.mass <= best.sum.mass);
        let allowed: HashSet<String> = few::names(&t, &best.choice).into_iter().cloned().collect();
        let mut strips = t.strips().to_vec();
        for s in &mut strips {
            for k in (0..s.candidates.len()).filter(|k| !allowed.contains(&s.candidates[*k])) {
                s.cells[k * s.bays..(k + 1) * s.bays].fill(None);
            }
        }
        let own = solve(&Table::new(strips).unwrap(), &Limits::default(), CEILING).lightest.unwrap();
        assert_eq!(own.sum.mass, best.sum.mass, "{most}: the same constructions make a lighter one");
    }
    ceilings
}

#[test]
fn shortest_runs_and_most_changes_as_rules() {
    let mut binds = 0;
    for seed in 0..SMALL {
        let t = small(seed);
        let long = |s: &Strip, c: &[usize], only: Option<usize>| {
            c.chunk_by(|a, b| a == b).all(|r| only.is_some_and(|o| o != r[0]) || r.len() >= 2.min(s.bays))
        };
        let every = |c: &Counted, only: Option<usize>| t.strips().iter().zip(&c.0).all(|(s, c)| long(s, c, only));
        let run = |construction| Rule::ShortestRun { strip: None, construction, bays: 2 };
        binds += usize::from(check(seed, &t, &[run(None)], |c| every(c, None)));
        binds += usize::from(check(seed, &t, &[run(Some("c1".to_owned()))], |c| every(c, Some(1))));
        let changes = |c: &Counted| c.0.iter().all(|c| c.windows(2).filter(|w| w[0] != w[1]).count() <= 1);
        binds += usize::from(check(seed, &t, &[Rule::MostChanges(1)], changes));
    }
    assert!(binds > 150, "{binds}");
}

#[test]
fn fabric_outboard_strips_fixed_and_constructions_left_out() {
    let mut binds = 0;
    for seed in 0..SMALL {
        let t = small(seed);
        let fabric = Rule::OnlyOutboard { strip: None, constructions: vec!["c0".to_owned()], from_bay: 2 };
        binds += usize::from(check(seed, &t, &[fabric], |c| c.0.iter().all(|c| c.iter().take(2).all(|&k| k != 0))));
        let one = Rule::OnlyOutboard { strip: Some(0), constructions: vec!["c0".to_owned()], from_bay: 1 };
        binds += usize::from(check(seed, &t, &[one], |c| c.0[0][0] != 0));
        let out = Rule::LeftOut { construction: "c1".to_owned() };
        binds += usize::from(check(seed, &t, &[out], |c| c.0.iter().flatten().all(|&k| k != 1)));
        let all = every_design(&t);
        if let Some(own) = all.get(seed as usize % all.len().max(1)).map(|c| c.0[0].clone()) {
            let fixed = Rule::Fixed { strip: 0, choice: own.clone() };
            binds += usize::from(check(seed, &t, &[fixed], |c| c.0[0] == own));
        }
    }
    assert!(binds > 300, "{binds}");
}

#[test]
fn upper_and_lower_the_same() {
    let (mut binds, mut reordered) = (0, 0);
    for seed in 0..SMALL {
        let mut draw = Draw(seed);
        let kind = Kind {
            strips: 3,
            bays: 3,
            candidates: 3,
            classes: 2,
            max_changes: 2,
            most_mass: 800,
            most_repair: 300,
            missing_percent: 6,
            longest_run: 1,
        };
        let t = table(&mut draw, kind);
        let same = |c: &Counted| c.0[0] == c.0[2];
        binds += usize::from(check(seed, &t, &[Rule::Same(vec![0, 2])], same));
        check(seed, &t, &[Rule::Same(vec![2, 0]), Rule::MostConstructions(2)], |c| same(c) && distinct(&t, c) <= 2);
        check(seed, &t, &[Rule::Same(vec![0, 1, 2])], |c| same(c) && c.0[0] == c.0[1]);
        // The lower strip lists its constructions in another order: names say which is which.
        let mut strips = t.strips().to_vec();
        let s = &mut strips[2];
        s.candidates.reverse();
        let turned = Table::new(strips).unwrap();
        let named = |c: &Counted| c.0[0].iter().zip(&c.0[2]).all(|(a, b)| *a == 2 - *b);
        reordered += usize::from(check(seed, &turned, &[Rule::Same(vec![0, 2])], named));
    }
    assert!(binds > 100 && reordered > 100, "{binds} {reordered}");
}

#[test]
fn a_penalty_is_paid_in_every_bay() {
    for seed in 0..SMALL {
        let t = small(seed);
        let rule = Rule::Penalised { construction: "c0".to_owned(), mass: 7, repair: 3 };
        let ruled = rules::apply(&t, &[rule]).unwrap();
        let paid: Vec<Counted> = every_design(&t)
            .into_iter()
            .map(|(d, s)| {
                let bays = d.iter().flatten().filter(|&&k| k == 0).count() as u32;
                (d, [s[0] + 7 * bays, s[1] + 3 * bays, s[2], s[3], s[4]])
            })
            .collect();
        assert_eq!(pairs(Wing::new(&ruled.table, 0).front()), front_of(paid.iter()), "seed {seed}");
    }
}

#[test]
fn rules_that_name_what_is_not_there_are_refused() {
    let t = small(2);
    for (rule, words) in [
        (Rule::Fixed { strip: 5, choice: vec![] }, "names strip 5 of 2"),
        (Rule::Fixed { strip: 0, choice: vec![0] }, "strip `s0` is fixed to 1 bays"),
        (Rule::LeftOut { construction: "silk".to_owned() }, "construction `silk`; no strip has it"),
        (Rule::Same(vec![0, 0]), "in two groups"),
        (Rule::MostConstructions(0), "a wing needs 1"),
    ] {
        let faults = rules::apply(&t, &[rule]).unwrap_err();
        assert!(faults[0].to_string().contains(words), "{}", faults[0]);
    }
}

#[test]
fn dent_load_as_a_third_axis_equals_complete_enumeration() {
    let mut points = 0;
    for seed in 0..SMALL {
        let t = small(seed);
        let all = every_design(&t);
        let mut expected: Vec<(u32, u32, u32)> = Vec::new();
        let better = |a: &[u32; 5], b: &[u32; 5]| {
            a[0] <= b[0] && a[1] <= b[1] && a[4] >= b[4] && (a[0], a[1], a[4]) != (b[0], b[1], b[4])
        };
        for (_, s) in all.iter().filter(|(_, s)| !all.iter().any(|(_, o)| better(o, s))) {
            expected.push((s[4], s[0], s[1]));
        }
        expected.sort_unstable();
        expected.dedup();
        let mut found: Vec<_> = dent::front(&t, &dent::levels(&t)).iter().map(|p| (p.dent, p.mass, p.repair)).collect();
        found.sort_unstable();
        assert_eq!(found, expected, "seed {seed}");
        points += found.len();
    }
    assert!(points > 2500, "{points}");
}

#[test]
fn every_level_of_a_sweep_is_the_front_at_that_floor() {
    let t = wing(4, 3, 6, 10, 2, 40);
    let levels = dent::levels(&t);
    let fronts = dent::sweep(&t, &levels);
    assert!(levels.len() > 20 && fronts.len() == levels.len());
    for (level, front) in levels.iter().zip(&fronts) {
        assert_eq!(front, Wing::new(&t, *level).front(), "{level}");
    }
}

#[test]
fn edits_give_the_front_of_the_edited_table() {
    for seed in 0..12 {
        let t = wing(seed, 4, 7, 12, 2, 40);
        let other = wing(seed + 100, 4, 7, 12, 2, 40);
        let mut live = Live::new(t.clone(), 0);
        let mut draw = Draw(seed);
        for _ in 0..6 {
            let s = draw.between(0, 3) as usize;
            live.set_strip(s, other.strips()[s].clone()).unwrap();
            if draw.chance(40) {
                live.set_dent_floor(draw.between(0, 20));
            }
            let fresh = Wing::new(live.table(), live.dent_floor());
            assert_eq!(live.front(), fresh.front(), "seed {seed}");
            for p in live.front().iter().step_by(40) {
                assert_eq!(live.wing().design(*p), fresh.design(*p), "seed {seed}");
            }
        }
        live.set_table(t.clone());
        assert_eq!(live.front(), Wing::new(&t, live.dent_floor()).front());
    }
    let mut live = Live::new(wing(1, 2, 4, 5, 2, 40), 0);
    let before = live.front().to_vec();
    let mut short = live.table().strips()[0].clone();
    short.cells.pop();
    assert!(live.set_strip(0, short.clone()).is_err() && live.set_strip(9, short).is_err());
    assert_eq!(live.front(), before);
}

#[test]
fn relaxing_a_limit_never_worsens() {
    let t = wing(8, 4, 8, 12, 3, 40);
    let tight = solve(&t, &Limits::default(), CEILING).lightest.unwrap().sum;
    let mass = |repair: u32, build: u32, cost: u32, dent_floor: u32, changes: usize| {
        let limits = Limits {
            repair: Some(repair.into()),
            build: Some(build.into()),
            cost: Some(cost.into()),
            dent_floor,
            ..Limits::default()
        };
        let answer = solve(&t.with_most_changes(changes), &limits, CEILING);
        assert_ne!(answer.status, Status::Ceiling);
        answer.lightest.map_or(u32::MAX, |d| d.sum.mass)
    };
    let base = [tight.repair * 6 / 10, tight.build * 8 / 10, tight.cost * 8 / 10];
    let mut moved = 0;
    for step in 0..8 {
        let grown: Vec<[u32; 3]> = (0..=3)
            .map(|i| std::array::from_fn(|j| base[j] * (100 + 4 * step + if i == j { 4 } else { 0 }) / 100))
            .collect();
        let all = |g: [u32; 3], floor, changes| mass(g[0], g[1], g[2], floor, changes);
        let at = all(grown[3], 6, 2);
        for relaxed in
            [all(grown[0], 6, 2), all(grown[1], 6, 2), all(grown[2], 6, 2), all(grown[3], 3, 2), all(grown[3], 6, 3)]
        {
            assert!(relaxed <= at, "step {step}");
            moved += usize::from(relaxed < at);
        }
    }
    assert!(moved > 8, "{moved}");
}
