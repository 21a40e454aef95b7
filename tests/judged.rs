//! What a margin is judged at: ultimate, limit, level flight or the dive speed, and that it is said wherever a margin is read.

use std::collections::BTreeSet;

use thistledown::mix::limits::Ticks;
use thistledown::mix::{Ask, find};
use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::design::{Design, MayBuckle, Strip};
use thistledown::physics::evaluation::evaluate;
use thistledown::physics::strength::judged::{Judged, judged};
use thistledown::physics::strength::{Margin, Verdict};
use thistledown::physics::workshop::test_section::margins_of_section;
use thistledown::report::compare::Side;
use thistledown::report::{self, csv, gives_first, mix};
use thistledown::scenario;

use crate::matrix::{under, wing};

/// Times the factor of safety with loads and spar as they are: what is judged at ultimate follows it, all else stands still.
#[test]
fn a_margin_says_what_it_is_judged_at() {
    let mut wings: Vec<Design> = ["mixed", "sandwich-tough", "fabric-aft", "ribs"].map(wing).to_vec();
    let mut other = wings[0].clone();
    for s in &mut other.strips {
        s.may_buckle = if s.strip == Strip::NoseUpper { MayBuckle::NotBelowLimit } else { MayBuckle::NotBelowUltimate };
    }
    wings.push(other);
    let mut seen = BTreeSet::new();
    for d in &wings {
        let e = evaluate(d, &Assumptions::default());
        let mut safer = d.clone();
        safer.limits.as_mut().unwrap().safety_factor *= 1.2;
        let (now, then) = (under(d, &e, &e.loads), under(&safer, &e, &e.loads));
        let shown = |m: &Margin| !matches!(m.verdict, Verdict::NotShown(_)) && m.rf.is_finite() && m.applied > 1e-6;
        for (a, b) in now.iter().zip(&then).filter(|(a, b)| shown(a) && shown(b)) {
            let at = judged(d, a);
            seen.insert((a.mode, at.key()));
            if at == Judged::Ultimate {
                assert!(b.rf < a.rf, "{} of {}: {} {}", a.mode, d.name, a.rf, b.rf);
            } else {
                assert!(a.rf.to_bits() == b.rf.to_bits(), "{} of {}: {} {}", a.mode, d.name, a.rf, b.rf);
            }
            assert_eq!(a.case.is_none(), at == Judged::DiveSpeed, "{}", a.mode);
        }
    }
    for buckles in ["nose_buckling", "aft_buckling"] {
        assert!(seen.contains(&(buckles, "limit")) && seen.contains(&(buckles, "ultimate")), "{seen:?}");
    }
    assert!(seen.contains(&("covering_sag", "level flight")) && seen.contains(&("divergence", "dive speed")));
    assert!(seen.len() > 35, "{seen:?}");
}

/// Whoever reads a margin judged at limit is told so beside it, in words, on the page for a reviewer and by JSON.
#[test]
fn a_margin_at_limit_says_so_wherever_it_is_read() {
    let d = wing("mixed");
    let e = evaluate(&d, &Assumptions::default());
    let line = report::text::assessment(&d, &e);
    let of = |key: &str| {
        let title = report::text::mode_title(key);
        line.lines().find(|l| l.contains(title) && l.contains("margin")).unwrap().to_owned()
    };
    for key in ["aft_buckling", "unseen_dent", "tip_deflection", "twist"] {
        assert!(of(key).contains("at limit"), "{}", of(key));
    }
    assert!(of("covering_sag").contains("in level flight") && of("divergence").contains("at dive speed"));
    assert!(!of("nose_buckling").contains("at limit") && !of("joint_pins").contains("at limit"));
    let v = report::json::evaluation(&d, &e);
    let all = v["margins"].as_array().unwrap();
    let at = |key: &str| all.iter().find(|m| m["mode"] == key).unwrap()["judged_at"].as_str().unwrap().to_owned();
    assert_eq!(["aft_buckling", "nose_buckling", "unseen_dent"].map(at), ["limit", "ultimate", "limit"]);
    assert!(v["scores"]["least_margin"]["judged_at"].is_string());
    let table = csv::table(&d, &e, csv::Table::Margins);
    let aft = table.lines().find(|l| l.starts_with("aft_buckling")).unwrap();
    assert!(table.lines().next().unwrap().ends_with(",judged_at") && aft.ends_with(",limit"), "{aft}");
    let side = Side { name: d.name.clone(), design: d, evaluation: e };
    let page = report::page::page(&[report::page::Wing::of(&side, "wing.toml", "", &[])], None);
    assert!(page.contains("at limit load, as this strip may buckle above it"));
    let aft = page.split("aft panel buckling").nth(1).unwrap();
    assert!(page.matches(", at limit<").count() >= 4, "{aft:.300}");
}

/// A couple that brings aft skins to buckle is judged at limit where they may buckle above it, and says so on the sheet.
#[test]
fn what_gives_first_under_a_test_says_what_it_is_judged_at() {
    let d = wing("mixed");
    let e = evaluate(&d, &Assumptions::default());
    let least = |key: &str| {
        let all = e.margins.iter().filter(|m| m.mode == key && m.rf.is_finite());
        *all.min_by(|a, b| a.rf.total_cmp(&b.rf)).unwrap()
    };
    let both = [Margin { rf: 0.9, ..least("aft_buckling") }, Margin { rf: 0.8, ..least("nose_buckling") }];
    let lines = gives_first::lines(&d, &both);
    assert!(lines[0].contains("RF 0.90 at limit") && lines[1].contains("RF 0.80 at ultimate"), "{lines:?}");
    let short = gives_first::short(&d, &both, "test");
    assert!(short[0].contains("short under this test, RF 0.90 at limit"), "{short:?}");
    let v = gives_first::json(&d, &both);
    assert!(v[0]["rf_at_ultimate"].is_null() && v[0]["rf"] == 0.9 && v[1]["rf_at_ultimate"] == 0.8, "{v}");
}

/// A section is broken at ultimate, whatever its skin may do on the wing.
#[test]
fn a_section_is_held_to_ultimate_where_the_skin_may_buckle_above_limit() {
    let d = wing("mixed");
    let e = evaluate(&d, &Assumptions::default());
    let mut may = d.clone();
    may.strips.iter_mut().for_each(|s| s.may_buckle = MayBuckle::NotBelowLimit);
    let case = e.loads.loads[0].case;
    let of = |d: &Design| {
        let all = margins_of_section(d, &e, (0, case), (800.0, 400.0), true);
        all.into_iter().find(|m| m.mode == "nose_buckling").unwrap().rf
    };
    assert!((of(&may) / of(&d) - 1.0).abs() < 1e-12, "{} {}", of(&may), of(&d));
}

/// Every reserve of a search says what it is judged at: the least of each mix, what binds it, what rules others out.
#[test]
fn a_search_says_what_its_reserves_are_judged_at() {
    let d = scenario::demo().unwrap().design;
    let m = find(&d, &Ask::default(), Ticks::LIVE, 4, &Assumptions::default()).unwrap();
    let told = mix::text(&m);
    let words = ["at ultimate", "at limit", "in level flight", "at dive speed"];
    let mut reserves = 0;
    for line in told.lines() {
        for after in line.split("RF ").skip(1) {
            let rest = after.trim_start_matches(|c: char| c.is_ascii_digit() || c == '.');
            assert!(words.iter().any(|w| rest.trim_start().starts_with(w)), "{line}");
            reserves += 1;
        }
    }
    assert!(reserves > 3, "{told}");
    let v = mix::as_json(&m);
    for row in v["rows"].as_array().unwrap().iter().chain([&v["lightest"]]) {
        let least = &row["least_margin"];
        let full = evaluate(&m.lightest.as_ref().unwrap().design, &Assumptions::default());
        assert!(least["judged_at"].is_string(), "{row}");
        if row == &v["lightest"] {
            let own = &full.margins[full.strength.least.unwrap()];
            assert_eq!(least["judged_at"], judged(&m.lightest.as_ref().unwrap().design, own).key());
        }
    }
}
