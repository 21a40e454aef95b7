//! What stands behind a number is told where the number is: gusts, what no mode looks at, what an acceptance covers, what skins a
//! design of a front has.

use std::path::Path;
use std::sync::mpsc::channel;
use std::time::Duration;

use serde_json::Value;
use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::evaluation::evaluate;
use thistledown::physics::strength::NOT_ASSESSED;
use thistledown::report::{CAUTIONS, NOT_ASSESSED_SHORT, json, load, text, torsion_test, workshop};
use thistledown::scenario;
use thistledown::screen::action::Action;
use thistledown::screen::app::{App, Page, Varied};
use thistledown::screen::hunt::Hunt;
use thistledown::screen::page::{flight, strength, working};

#[test]
fn a_gust_gives_what_its_load_factor_came_from_and_what_it_was_capped_at() {
    let d = scenario::demo().unwrap().design;
    let e = evaluate(&d, &Assumptions::default());
    let v = json::evaluation(&d, &e);
    let cases = v["loads"]["cases"].as_array().unwrap();
    let mut capped = 0;
    for case in cases.iter().filter(|c| c["key"].as_str().unwrap().starts_with("gust_")) {
        let at = |k: &str| case["inputs"][k]["value"].as_f64().unwrap_or_else(|| panic!("{k}: {case}"));
        let key = case["key"].as_str().unwrap();
        // CS 22.341 by hand from the inputs told: mu = 2 (m/S)/(rho c a), k = 0.88 mu/(5.3 + mu), n = 1 +/- k/2 rho U a V S/(m g).
        let (m, c, a) = (at("mass m with this pilot"), at("mean chord c, S/b"), at("lift slope a of the wing"));
        let area = v["layout"]["area_m2"].as_f64().unwrap();
        let mu = 2.0 * m / area / (1.225 * c * a);
        assert!((at("mass ratio mu") / mu - 1.0).abs() < 1e-9, "{case}");
        let k = 0.88 * mu / (5.3 + mu);
        assert!((at("alleviation k") / k - 1.0).abs() < 1e-9, "{case}");
        let sign = if key.contains("_up_") { 1.0 } else { -1.0 };
        let more = 0.5 * k * 1.225 * at("gust U") * a * at("airspeed") * area / (m * 9.80665);
        assert!((at("n before the cap") - 1.0 - sign * more).abs() < 1e-9, "{case}");
        let n = case["n"].as_f64().unwrap();
        if sign < 0.0 {
            assert_eq!(n, at("n before the cap"));
            continue;
        }
        let (v_stall, cap) = (at("stall VS at 1 g"), at("cap 1.25 (V/VS)^2, 1.25 CLmax"));
        assert!((cap - 1.25 * (at("airspeed") / v_stall).powi(2)).abs() < 1e-9, "{case}");
        // At the cap the wing flies at 1.25 of its greatest lift coefficient.
        assert!((n - at("n before the cap").min(cap)).abs() < 1e-9, "{case}");
        if n < at("n before the cap") {
            capped += 1;
            assert!((at("CL of the wing") / e.lift.cl_max - 1.25).abs() < 1e-6, "{case}");
            let told = e.loads.cases.iter().find(|c| c.key == key).map(load::factor).unwrap();
            assert!(told.iter().any(|t| t.0 == "capped" && t.1.contains("1.25 CLmax")), "{told:?}");
        }
        assert!(case["source"].as_str().unwrap().contains("capped at 1.25 CLmax") && case["formula_n"].is_string());
    }
    assert!(capped > 0, "no gust of the demo meets its cap");
    let rough = &v["loads"]["rough_air"];
    let at = |who: &str| rough["inputs"][who]["limit_at_m_s"].as_f64().unwrap();
    let least = at("lightest").min(at("heaviest")).min(rough["inputs"]["dive_speed_m_s"].as_f64().unwrap());
    assert!((rough["value"].as_f64().unwrap() - least).abs() < 1e-9, "{rough}");
    assert!(
        rough["formula"].as_str().unwrap().contains("n+ - 1") && rough["source"].as_str().unwrap().contains("CS 22")
    );
}

#[test]
fn what_no_mode_looks_at_is_one_list_told_alike_everywhere() {
    let d = scenario::demo().unwrap().design;
    let e = evaluate(&d, &Assumptions::default());
    let lines = text::not_assessed();
    assert!(lines.iter().all(|l| l.chars().count() <= 76), "{lines:?}");
    let told = lines.join(" ");
    let plain = text::assessment(&d, &e);
    let app = App::new(scenario::demo().unwrap());
    let rows = strength::rows(&app);
    assert!(rows.iter().any(|r| matches!(r, strength::Entry::NotAssessed)));
    let v = json::evaluation(&d, &e);
    let list: Vec<&str> =
        v["scores"]["least_margin"]["not_assessed"].as_array().unwrap().iter().filter_map(Value::as_str).collect();
    assert_eq!(list, NOT_ASSESSED);
    for what in NOT_ASSESSED {
        assert!(told.contains(what) && plain.contains(what), "{what}");
    }
    // The caution names the first of them and where the others stand; page, text, JSON, sheets and the front page say it alike.
    assert!(
        NOT_ASSESSED_SHORT.to_lowercase().starts_with(&format!("{}, {} and more", NOT_ASSESSED[0], NOT_ASSESSED[1]))
    );
    assert!(NOT_ASSESSED_SHORT.contains("thistledown explain not_assessed"));
    let spaced = |s: &str| s.split_whitespace().collect::<Vec<_>>().join(" ");
    let readme = std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("README.md")).unwrap();
    assert!(spaced(&readme).replace("**", "").contains(CAUTIONS) && CAUTIONS.contains(NOT_ASSESSED_SHORT));
    assert_eq!(v["scenario"]["caution"], CAUTIONS);
    for sheet in [workshop::cautions(), torsion_test::cautions()] {
        assert!(sheet.iter().any(|c| c == NOT_ASSESSED_SHORT), "{sheet:?}");
        assert!(sheet.iter().all(|c| c == NOT_ASSESSED_SHORT || !c.contains("fatigue")), "{sheet:?}");
    }
    for word in ["hang point", "keel", "rear brackets", "hinges", "flutter", "fatigue"] {
        assert!(told.contains(word), "{word}: {told}");
    }
}

#[test]
fn an_accepted_mode_tells_what_would_be_short_if_it_counted() {
    let mut d = scenario::demo().unwrap().design;
    let e = evaluate(&d, &Assumptions::default());
    let mode = "edge_under_covering";
    let v = json::evaluation(&d, &e);
    let all = v["margins"].as_array().unwrap();
    let silent = all.iter().filter(|m| m["mode"] == mode && m["verdict"] == "not shown");
    let short: Vec<f64> = silent.filter_map(|m| m["margin"].as_f64()).filter(|m| *m < 0.0).collect();
    let least = short.iter().copied().fold(0.0, f64::min);
    assert!(least < -0.5, "{short:?}");
    let told = &v["scores"]["least_margin"]["accepted"][0]["short_if_counted"];
    assert_eq!((told["places"].as_u64(), told["least_margin"].as_f64()), (Some(short.len() as u64), Some(least)));
    let words = text::if_counted(&e, mode).unwrap().words();
    assert!(words.contains(&format!("{least:+.2}")), "{words}");
    assert!(text::assessment(&d, &e).contains(&words));
    let app = App::new(scenario::demo().unwrap());
    let at = strength::rows(&app).iter().position(|r| {
        matches!(r, strength::Entry::Mode(m) if m.mode == mode && matches!(m.verdict, thistledown::physics::strength::Verdict::NotShown(_)))
    });
    let strength::Entry::Mode(m) = &strength::rows(&app)[at.unwrap()] else { panic!("a mode") };
    assert!(working::of_margin(&app, m).1.iter().any(|l| l.contains(&words[..20])), "the working");
    // A mode that is not short where it is not shown says nothing.
    d.accepted.clear();
    assert_eq!(text::if_counted(&e, "web_shear"), None);
}

#[test]
fn a_design_of_a_front_over_dials_tells_its_skins() {
    let dir = tempfile::tempdir().unwrap();
    let file = dir.path().join("wing.toml");
    std::fs::copy("scenarios/marram-mixed.toml", &file).unwrap();
    let mut app = App::new(scenario::load(Path::new(&file)).unwrap());
    app.varied = vec![Varied { key: "planform.span_m".to_owned(), values: vec![13.0, 13.4] }];
    let (to, from) = channel();
    let hunt = Hunt::start(&app, to.clone()).unwrap();
    loop {
        match from.recv_timeout(Duration::from_secs(120)).expect("the search ends") {
            Action::Search(v) if !v.running => {
                app.search = v;
                break;
            }
            Action::Failed(why) => panic!("{why}"),
            _ => {}
        }
    }
    assert!(!app.search.rows.is_empty(), "{:?}", app.search);
    let cell = app.search.rows[0].cell;
    hunt.load(cell, to);
    let design = loop {
        if let Action::Loaded(d) = from.recv_timeout(Duration::from_secs(120)).expect("it is found again") {
            break d;
        }
    };
    assert_eq!(app.search.rows[0].skins, thistledown::report::mix::skins(&design));
    app.page = Page::Search;
    let (_, lines) = working::of_chosen(&app).unwrap();
    assert!(
        lines.iter().any(|l| l.starts_with("  nose up")) && lines.iter().any(|l| l.starts_with("  aft low")),
        "{lines:?}"
    );
}

#[test]
fn the_speeds_of_the_loads_stand_on_the_flight_page_with_their_working() {
    let app = App::new(scenario::demo().unwrap());
    let rows = flight::rows(&app);
    let l = &app.evaluation.loads;
    let want = [
        (flight::MANOEUVRE, l.manoeuvre_speed_m_s, "CS 22.335(a)"),
        (flight::ROUGH, l.rough_air_speed_m_s, "CS 22.341"),
        (flight::DIVE, l.dive_speed_m_s, "limits.dive_speed_m_s"),
    ];
    for (lines, (name, m_s, source)) in load::speed_lines(&app.design, &app.evaluation).iter().zip(want) {
        let row = rows.iter().find(|r| r.name == name).unwrap();
        assert!((row.value - 3.6 * m_s).abs() < 1e-9, "{name}");
        assert!(lines.iter().any(|l| l.contains(source)) && lines.iter().any(|l| l.starts_with("gives")), "{lines:?}");
    }
    // Without limits there is no such speed.
    let mut d = scenario::demo().unwrap();
    d.design.limits = None;
    assert!(flight::rows(&App::new(d)).iter().all(|r| r.name != flight::ROUGH));
}
