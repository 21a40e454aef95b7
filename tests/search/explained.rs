//! What an answer rests on, and designs as families, against every design counted out.

use thistledown::search::explain::{Limit, Why, never_used, price_of_using, relaxed, spare, trades};
use thistledown::search::family::{group, simplicity, with_fewer_changes};
use thistledown::search::front::Point;
use thistledown::search::wing::Wing;
use thistledown::search::{CEILING, Design, Limits, Sum, solve};

use super::counted::{every_design, front_of, small};
use super::tables::{Draw, wing};

const SMALL: u64 = 240;

#[test]
fn the_price_of_using_a_construction_equals_counting_out() {
    let (mut free, mut dear, mut impossible, mut replaced) = (0, 0, 0, 0);
    for seed in 0..SMALL {
        let t = small(seed);
        let all = every_design(&t);
        let w = Wing::new(&t, 0);
        let front = front_of(all.iter());
        let unused = never_used(&t, &w);
        for (s, strip) in t.strips().iter().enumerate() {
            for k in 0..strip.candidates.len() {
                let over = |sum: &[u32; 5]| {
                    sum[0] - front.iter().filter(|(_, h)| *h <= sum[1]).map(|(m, _)| *m).min().unwrap()
                };
                let expected = all.iter().filter(|(d, _)| d[s].contains(&k)).map(|(_, sum)| over(sum)).min();
                let price = price_of_using(&t, &w, s, k);
                assert_eq!(price.map(|p| p.0), expected, "seed {seed} strip {s} construction {k}");
                let why = unused.iter().find(|u| u.strip == s && u.construction == k).map(|u| u.why);
                match expected {
                    Some(0) => free += 1,
                    Some(_) => {
                        assert!(why.is_some(), "seed {seed}: {k} is on the front and cannot be");
                        dear += 1;
                    }
                    None => impossible += usize::from(why.is_some()),
                }
                match why {
                    Some(Why::NowhereAllowed) => assert_eq!(expected, None),
                    Some(Why::ReplacedBy(p)) => {
                        assert_eq!(strip.class_of[p], strip.class_of[k]);
                        replaced += 1;
                    }
                    _ => {}
                }
            }
        }
    }
    assert!(free > 100 && dear > 60 && impossible > 0 && replaced > 5, "{free} {dear} {impossible} {replaced}");
}

#[test]
fn a_construction_of_the_front_is_never_called_unused() {
    let t = wing(2, 4, 8, 12, 2, 40);
    let w = Wing::new(&t, 0);
    let unused = never_used(&t, &w);
    assert!(!unused.is_empty());
    for p in w.front() {
        for (s, choice) in w.design(*p).unwrap().iter().enumerate() {
            assert!(!unused.iter().any(|u| u.strip == s && choice.contains(&u.construction)));
        }
    }
}

#[test]
fn relaxing_one_limit_alone_gives_what_solving_it_anew_gives() {
    let t = wing(6, 4, 8, 10, 2, 40);
    let base = solve(&t, &Limits::default(), CEILING).lightest.unwrap().sum;
    let limits = Limits {
        repair: Some(u64::from(base.repair) * 7 / 10),
        build: Some(u64::from(base.build) * 9 / 10),
        dent_floor: 5,
        ..Limits::default()
    };
    let by = [(Limit::Repair, 30), (Limit::Build, 40), (Limit::Cost, 9), (Limit::DentFloor, 3), (Limit::Changes, 1)];
    let found = relaxed(&t, &limits, &by, CEILING);
    assert_eq!(found.iter().map(|r| r.limit).collect::<Vec<_>>(), [by[0].0, by[1].0, by[3].0, by[4].0]);
    let at = solve(&t, &limits, CEILING);
    for r in &found {
        let lighter = r.answer.lightest.as_ref().unwrap().sum.mass;
        assert!(lighter <= at.lightest.as_ref().unwrap().sum.mass, "{:?}", r.limit);
    }
    let wider = Limits { repair: limits.repair.map(|h| h + 30), ..limits };
    assert_eq!(found[0].answer, solve(&t, &wider, CEILING));
    assert_eq!(found[2].answer, solve(&t, &Limits { dent_floor: 2, ..limits }, CEILING));
    let own = at.lightest.unwrap().sum;
    let spare = spare(&limits, &own);
    assert_eq!(spare[0], (Limit::Repair, limits.repair.unwrap() - u64::from(own.repair)));
    assert_eq!(spare.len(), 3);
}

/// By hand: from (50, 20) the steepest way down is to (20, 30), 3 a tick; the cheapest way up to (60, 10), 1 a tick.
#[test]
fn trades_are_the_best_ratios() {
    let p = |mass, repair| Point { mass, repair };
    let front = [p(90, 5), p(60, 10), p(50, 20), p(45, 25), p(20, 30), p(1, 90)];
    let (lighter, sounder) = trades(&front, front[2]);
    assert_eq!(lighter.map(|t| (t.to, t.mass, t.repair)), Some((p(20, 30), 30, 10)));
    assert_eq!(sounder.map(|t| (t.to, t.mass, t.repair)), Some((p(60, 10), 10, 10)));
    assert_eq!((trades(&front, front[5]).0, trades(&front, front[0]).1), (None, None));
}

#[test]
fn families_part_the_designs_and_their_simplest_member_stands_for_them() {
    let mut merged = 0;
    for seed in 0..SMALL {
        let t = small(seed);
        let designs: Vec<Design> = every_design(&t)
            .into_iter()
            .take(400)
            .map(|(choice, s)| Design {
                sum: Sum { mass: s[0], repair: s[1], build: s[2], cost: s[3], dent: s[4], yields: [0; 2] },
                choice,
            })
            .collect();
        let mut draw = Draw(seed);
        let tolerance = Point { mass: draw.between(1, 900), repair: draw.between(1, 300) };
        let families = group(&t, &designs, tolerance);
        let mut seen: Vec<usize> = families.iter().flat_map(|f| f.members.clone()).collect();
        seen.sort_unstable();
        assert_eq!(seen, (0..designs.len()).collect::<Vec<_>>(), "seed {seed}");
        for f in &families {
            merged += f.members.len() - 1;
            for &i in &f.members {
                let a = &designs[i];
                assert!(designs[f.lightest].sum.mass <= a.sum.mass);
                assert!(simplicity(&t, &designs[f.simplest].choice) <= simplicity(&t, &a.choice));
                for &j in &f.members {
                    let b = &designs[j].sum;
                    assert!(a.sum.mass.abs_diff(b.mass) < tolerance.mass);
                    assert!(a.sum.repair.abs_diff(b.repair) < tolerance.repair);
                }
            }
            let cost = designs[f.simplest].sum.mass - designs[f.lightest].sum.mass;
            assert_eq!(f.mass_of_simplicity, cost);
        }
        let apart = group(&t, &designs, Point { mass: 0, repair: 0 });
        assert_eq!(apart.len(), designs.len());
    }
    assert!(merged > 1000, "{merged}");
}

/// By hand: two bays of 10 and 9 with a free change: 10 + 9 changes once; 10 + 10 is heavier by 1 and changes never.
#[test]
fn a_simple_design_near_the_front_joins_its_family() {
    let t = thistledown::search::read::table(
        r#"{"strips":[{"table":[[[10,1,0,0,0],[10,1,0,0,0]],[[30,1,0,0,0],[9,1,0,0,0]]]}]}"#,
    )
    .unwrap();
    let lightest = solve(&t, &Limits::default(), CEILING).lightest.unwrap();
    assert_eq!((lightest.sum.mass, &lightest.choice), (19, &vec![vec![0, 1]]));
    let near = with_fewer_changes(&t, 0, Point { mass: 19, repair: 2 }, 5);
    assert_eq!(near.iter().map(|d| d.choice.clone()).collect::<Vec<_>>(), [vec![vec![0, 0]]]);
    let designs = [vec![lightest], near].concat();
    let families = group(&t, &designs, Point { mass: 5, repair: 5 });
    assert_eq!(families.len(), 1);
    assert_eq!((families[0].simplest, families[0].mass_of_simplicity), (1, 1));
    assert!(with_fewer_changes(&t, 0, Point { mass: 19, repair: 2 }, 1).is_empty());
}
