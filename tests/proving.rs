//! Torsion test, section made to be broken and what was seen: as a person meets them.

use std::path::{Path, PathBuf};

use crossterm::event::KeyCode;
use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::design::Design;
use thistledown::physics::evaluation::evaluate;
use thistledown::report;
use thistledown::scenario::{self, load, parse};

use crate::program::told;

use super::screens::{keys, marram, press, text};

fn mixed() -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/marram-mixed.toml");
    std::fs::read_to_string(path).unwrap()
}

fn with(records: &str) -> Design {
    parse(&format!("{}\n{records}", mixed()), None).unwrap_or_else(|p| panic!("{p:#?}"))
}

/// A sheet without its line breaks.
fn plain(t: &str) -> String {
    t.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn copy(dir: &tempfile::TempDir) -> PathBuf {
    let file = dir.path().join("wing.toml");
    let own = "\n[[proof]]   # first day\ntest = \"bags\"\nstep = 0.8\ncomputed_mm = 162.0   # off the sheet\nseen_mm = 171.0\n";
    std::fs::write(&file, mixed() + own).unwrap();
    file
}

const SOFT: &str = "[[proof]]\ntest = \"bags\"\ncomputed_mm = 235.0\nseen_mm = 300.0\n\n[[proof]]\ntest = \"torsion\"\ncomputed_deg = 0.61\nseen_deg = 0.9\n";
const BROKE: &str = "[[proof]]\ntest = \"section\"\ncomputed_n = 609.0\nseen_n = 400.0\nbroke_by = \"cap_stability\"\n";

#[test]
fn what_was_seen_moves_no_margin_and_warns_where_it_is_worse() {
    let a = Assumptions::default();
    let before = evaluate(&with(""), &a);
    let stiff = "[[proof]]\ntest = \"bags\"\ncomputed_mm = 235.0\nseen_mm = 200.0\n";
    for records in [SOFT, BROKE, stiff] {
        let d = with(records);
        let e = evaluate(&d, &a);
        assert_eq!(e.margins, before.margins);
        assert_eq!(
            (e.sizing, e.bending, e.weight),
            (before.sizing.clone(), before.bending.clone(), before.weight.clone())
        );
        let new = d.warnings.len() - with("").warnings.len();
        assert_eq!(new, if records == SOFT { 2 } else { usize::from(records == BROKE) }, "{:?}", d.warnings);
    }
    let all = [with(SOFT).warnings, with(BROKE).warnings].concat().join("\n");
    for part in ["softer in bending", "softer in torsion", "below the 487 N its margins count on"] {
        assert!(all.contains(part), "{part}: {all}");
    }
}

/// What turns short with what was seen is said alike by the sheet, the assessment, the screen, the page and JSON, each with why the
/// verdict does not count it.
#[test]
fn what_is_short_as_seen_is_said_everywhere_and_counted_nowhere() {
    let a = Assumptions::default();
    let mut d = with(SOFT);
    let twist = |d: &Design| {
        let e = evaluate(d, &a);
        e.margins.iter().find(|m| m.mode == "twist").unwrap().rf
    };
    // A target that the wing meets as computed by a twentieth, and misses as it was seen to twist.
    d.targets.twist_rad = d.targets.twist_rad.map(|t| t * 1.05 / twist(&d));
    let e = evaluate(&d, &a);
    assert!((twist(&d) - 1.05).abs() < 1e-9 && !e.strength.short.contains(&"twist"));
    let short = report::seen::short(&d, &e);
    assert_eq!(short.len(), 2, "{short:?}");
    assert!(short[0].starts_with("SHORT as seen in proof loads: twist of the wing, at limit, RF 1.05 computed, 0."));
    assert_eq!(short[1], report::seen::NOT_COUNTED);
    let side = report::compare::Side { name: d.name.clone(), design: d.clone(), evaluation: e.clone() };
    let page = report::page::page(&[report::page::Wing::of(&side, "wing.toml", "", &[])], None);
    for (where_, said) in [
        ("assess", report::text::assessment(&d, &e)),
        ("seen", report::seen::text(&d, &e)),
        ("page", page),
        ("json", report::json::evaluation(&d, &e)["scores"]["least_margin"]["short_as_seen"].to_string()),
        ("json of seen", report::seen::json(&d, &e)["short_as_seen"].to_string()),
    ] {
        for part in &short {
            assert!(plain(&said).contains(part.as_str()), "{where_}: {part}");
        }
    }
    assert!(report::seen::short(&with(SOFT), &evaluate(&with(SOFT), &a)).is_empty());
    for (w, h) in [(80, 24), (120, 40), (200, 60)] {
        let mut app = marram(w, h);
        (app.design, app.evaluation) = (d.clone(), std::sync::Arc::new(e.clone()));
        keys(&mut app, "4");
        let t = text(&app);
        assert!(plain(&t).contains("SHORT as seen in proof loads: twist of the wing, at limit, RF 1.05"), "{t}");
    }
}

#[test]
fn the_sheets_show_numbers_with_and_without_what_was_seen() {
    let d = with(&[SOFT, BROKE].join("\n"));
    let e = evaluate(&d, &Assumptions::default());
    let t = report::seen::text(&d, &e);
    for part in [
        "1.28 times as far",
        "bending stiffness seen over computed 0.83",
        "cap stability on its support: breaks at",
        "tip under bags at limit",
        "torsion frequency (no flutter clearance), Hz",
        "It corrects NO margin",
    ] {
        assert!(plain(&t).contains(part), "{part}: {t}");
    }
    assert!(t.lines().all(|l| l.chars().count() <= 80), "{t}");
    let v = report::seen::json(&d, &e);
    assert_eq!(v["records"].as_array().unwrap().len(), 3);
    let rows = v["with_and_without"].as_array().unwrap();
    assert!(rows.iter().any(|r| r["unit"] == "mm" && r["as_seen"].as_f64() > r["computed"].as_f64()), "{rows:#?}");
    let softer = |r: &&serde_json::Value| r["what"].as_str().unwrap().ends_with("RF");
    assert!(rows.iter().filter(softer).all(|r| r["as_seen"].as_f64() < r["computed"].as_f64()), "{rows:#?}");
}

#[test]
fn the_commands_give_their_sheets_and_say_what_is_wrong() {
    let (code, t) = told(&["workshop", "--torsion"]);
    assert_eq!(code, Some(0), "{t}");
    for part in [
        "TORSION TEST",
        "NOSE DOWN",
        "no approval to fly",
        "limit load only",
        "each line, kg",
        "pointer on its tail",
        "gives first",
    ] {
        assert!(t.contains(part), "{part}: {t}");
    }
    assert!(t.lines().all(|l| l.chars().count() <= 80), "{t}");
    let (_, j) = told(&["workshop", "--torsion", "--at", "0.8", "--lines-m", "1.5", "--json"]);
    let v: serde_json::Value = serde_json::from_str(&j).unwrap();
    assert_eq!((v["frames"].as_array().unwrap().len(), v["between_lines_m"].as_f64()), (1, Some(1.5)));
    for rig in ["cantilever", "three_point", "four_point"] {
        let (code, t) = told(&["workshop", "--section", "--rig", rig, "--bay", "3", "--nose"]);
        assert!(code.is_some_and(|c| c < 2), "{t}");
        for part in
            ["MADE TO BE BROKEN", "bay 3", "breaks first, likely", "never flies", "nose skins may make it up to"]
        {
            assert!(t.contains(part), "{part}: {t}");
        }
        assert!(t.lines().all(|l| l.chars().count() <= 80), "{t}");
    }
    let (_, j) = told(&["workshop", "--section", "--json"]);
    let v: serde_json::Value = serde_json::from_str(&j).unwrap();
    assert!(v["breaks"].as_array().unwrap().len() >= 6 && v["mass_kg"].as_f64().unwrap() > 0.1, "{v:#}");
    let (code, t) = told(&["workshop", "--seen"]);
    assert!(code == Some(0) && t.contains("nothing was seen yet"), "{t}");
    for (args, words) in [
        (&["--torsion", "--at", "1.7"][..], "between 0.01 and 1"),
        (&["--torsion", "--at", "0.2", "--at", "0.4", "--at", "0.6"], "2 places at most"),
        (&["--torsion", "--at", "1"], "ask for no torsion there"),
        (&["--torsion", "--lines-m", "0"], "0.1 to 10 m"),
        (&["--section", "--rig", "cantilver"], "nearest is cantilever"),
        (&["--section", "--bay", "99"], "bays 1 to 18"),
        (&["--section", "--bay", "0"], "bays 1 to 18"),
        (&["--half", "left"], "--weighed PART=GRAMS or --saw NUMBER"),
        (&["--torsion", "--section"], "cannot be used with"),
        (&["--saw", "212"], "required"),
        (&["--at", "0.5"], "--torsion"),
    ] {
        let (code, t) = told(&[&["workshop"], args].concat());
        assert!(code == Some(2) && plain(&t).contains(words), "{args:?} {words}: {t}");
    }
    let open = with("").clone();
    let mut no_limits = open;
    no_limits.limits = None;
    let e = evaluate(&no_limits, &Assumptions::default());
    assert!(thistledown::physics::workshop::torsion_test::plan(&no_limits, &e, &[], 1.0).is_err());
}

#[test]
fn what_was_seen_is_entered_from_the_command_line_and_nothing_else_changes() {
    let dir = tempfile::tempdir().unwrap();
    let file = copy(&dir);
    let (path, before) = (file.to_str().unwrap(), std::fs::read_to_string(&file).unwrap());
    for (args, words) in [
        (&["--saw", "210", "--step", "0.7"][..], "the steps are 0.4"),
        (&["--saw", "-3"], "above zero"),
        (&["--saw", "2100"], "times what was computed"),
        (&["--saw", "210", "--half", "lft"], "left, right or both"),
        (&["--saw", "210", "--date", "tuesday"], "year-month-day"),
        (&["--section", "--saw", "500", "--broke-by", "cap_stabilty"], "the nearest is cap_stability"),
        (&["--saw", "210", "--case", "roll_va_down"], "take one of"),
    ] {
        let (code, t) = told(&[&["workshop", path], args].concat());
        assert!(code == Some(2) && t.contains(words), "{args:?} {words}: {t}");
        assert_eq!(std::fs::read_to_string(&file).unwrap(), before, "{args:?}");
    }
    let (code, t) = told(&["workshop", path, "--saw", "248", "--step", "1", "--half", "left", "--date", "2026-05-30"]);
    assert_eq!(code, Some(0), "{t}");
    assert!(t.contains("WHAT WAS SEEN") && plain(&t).contains("2 readings"), "{t}");
    assert_eq!(told(&["workshop", path, "--torsion", "--saw", "0.66", "--note", "level on the frame"]).0, Some(0));
    assert_eq!(told(&["workshop", path, "--section", "--saw", "640", "--broke-by", "cap_stability"]).0, Some(0));
    assert_eq!(told(&["workshop", path, "--section", "--saw", "45"]).0, Some(0));
    let now = std::fs::read_to_string(&file).unwrap();
    assert!(now.starts_with(before.trim_end()), "{now}");
    let d = load(&file).unwrap().design;
    assert_eq!(d.proofs.len(), 5);
    // What was computed stands beside what was seen, as the sheet says it.
    let e = evaluate(&with(""), &Assumptions::default());
    let sheet = report::torsion_test::json(
        &d,
        &e,
        &thistledown::physics::workshop::torsion_test::plan(&d, &e, &[], 1.0).unwrap(),
        &thistledown::physics::workshop::seen::learn(&d.proofs),
    );
    let outer = sheet["pointers"][1]["turn_deg"][4].as_f64().unwrap().abs();
    assert!((d.proofs[2].gave.unwrap().computed.to_degrees() - outer).abs() < 6e-4, "{outer}");
    // The next sheets tell both numbers.
    assert!(plain(&told(&["workshop", path]).1).contains("with what was seen (EI"));
    assert!(plain(&told(&["workshop", path, "--torsion"]).1).contains("with what was seen (GJ"));
    assert!(plain(&told(&["workshop", path, "--section"]).1).contains("with one section broken"));
    // A dial turned and saved keeps the records and their remarks.
    let mut s = load(&file).unwrap();
    let mut new = s.design.clone();
    new.planform.span_m = 13.2;
    scenario::save(&mut s, &new, &file, false).unwrap();
    let saved = std::fs::read_to_string(&file).unwrap();
    assert!(
        saved.contains("[[proof]]   # first day") && saved.contains("computed_mm = 162.0   # off the sheet"),
        "{saved}"
    );
    assert_eq!(load(&file).unwrap().design.proofs, d.proofs);
}

#[test]
fn the_workshop_page_goes_on_to_every_sheet_of_proof() {
    for (w, h) in [(80, 24), (120, 40), (200, 60)] {
        let mut app = marram(w, h);
        keys(&mut app, "0t");
        let t = text(&app);
        assert!(t.contains("torsion test; NO APPROVAL TO FLY") && t.contains("NOSE DOWN"), "{w}x{h}: {t}");
        assert!(!t.contains('…'), "{w}x{h}: {t}");
        // All of the sheet can be reached, to the last caution.
        press(&mut app, KeyCode::End);
        assert!(text(&app).contains("explain not_assessed"), "{w}x{h}: {}", text(&app));
        press(&mut app, KeyCode::Enter);
        assert!(text(&app).contains("Bredt and Batho"), "{w}x{h}: {}", text(&app));
        press(&mut app, KeyCode::Esc);
        keys(&mut app, "t");
        let section = text(&app);
        assert!(section.contains("a section to be broken") && section.contains("spar alone, like bay"), "{section}");
        press(&mut app, KeyCode::Right);
        assert!(text(&app).contains("like bay 1 "), "{w}x{h}: {}", text(&app));
        keys(&mut app, "t");
        assert!(text(&app).contains("nothing was seen yet"), "{w}x{h}: {}", text(&app));
        keys(&mut app, "t");
        assert!(text(&app).contains("proof load by bags, case"), "{w}x{h}: {}", text(&app));
        // The scales stand in place of whichever sheet it was, and it comes back.
        keys(&mut app, "tw");
        assert!(text(&app).contains("the scales"), "{w}x{h}: {}", text(&app));
    }
}
