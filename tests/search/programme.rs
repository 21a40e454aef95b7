//! Medium tables against a mixed-integer programme solved elsewhere. `milp.json` is written by `tests/bench/milp.py`
//! (HiGHS 1.12.0 as in scipy 1.17.1, relative gap 0), which draws the same tables from the same seeds.

use serde_json::Value;
use thistledown::search::{CEILING, Limits, Status, Table, solve};

use super::tables::wing;

fn checksum(t: &Table) -> u64 {
    let cells = t.strips().iter().flat_map(|s| &s.cells).flatten();
    let joints = t.strips().iter().flat_map(|s| &s.joints).flatten();
    cells.map(|c| u64::from(c.mass + c.repair + c.build + c.cost + c.dent)).sum::<u64>()
        + joints.map(|j| u64::from(j.mass + j.repair + j.build)).sum::<u64>()
}

#[test]
fn optima_equal_those_of_a_mixed_integer_programme() {
    let fixtures: Value = serde_json::from_str(include_str!("milp.json")).unwrap();
    let (mut proven, mut infeasible) = (0, 0);
    for case in fixtures["cases"].as_array().unwrap() {
        let n = |key: &str| case[key].as_u64().unwrap();
        let small = |key: &str| n(key) as u32;
        let shape = (small("strips"), small("bays"), small("candidates"), small("max_changes"), small("most_repair"));
        let t = wing(n("seed"), shape.0, shape.1, shape.2, shape.3, shape.4);
        assert_eq!(checksum(&t), n("checksum"), "the two generators draw different tables: {case}");
        let limits = Limits {
            repair: case["repair"].as_u64(),
            build: case["build"].as_u64(),
            cost: case["cost"].as_u64(),
            dent_floor: small("dent_floor"),
            ..Limits::default()
        };
        let answer = solve(&t, &limits, CEILING);
        assert_eq!(answer.status.word(), case["status"].as_str().unwrap(), "{case}");
        assert_eq!(answer.lightest.map(|d| u64::from(d.sum.mass)), case["mass"].as_u64(), "{case}");
        match answer.status {
            Status::Proven => proven += 1,
            Status::Infeasible => infeasible += 1,
            Status::Ceiling => panic!("ceiling: {case}"),
        }
    }
    assert!(proven >= 30 && infeasible >= 1, "{proven} {infeasible}");
}
