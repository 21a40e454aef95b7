//! Parts weighed in: read with their faults, entered and saved with remarks kept, used everywhere, left alone by the search.

use std::path::{Path, PathBuf};

use crossterm::event::KeyCode;
use thistledown::mix::ask::Ask;
use thistledown::mix::{self, limits::Ticks};
use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::design::{Design, Strip, Targets};
use thistledown::physics::evaluation::{Memory, evaluate, evaluate_again};
use thistledown::physics::mass::tally::{Heading, Maturity};
use thistledown::physics::workshop::{forecast, win_back};
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

fn said(records: &str) -> String {
    let all = parse(&format!("{}\n{records}", mixed()), None).expect_err(records);
    all.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n")
}

#[test]
fn a_weighed_part_is_what_the_wing_weighs() {
    let a = Assumptions::default();
    let drawn = evaluate(&with(""), &a);
    let d = with(
        "[[weighed]]\nof = \"ribs\"\nmass_kg = 2.0\n\n[[weighed]]\nof = \"skins/nose up\"\nhalf = \"left\"\nmass_g = 2400\n",
    );
    let e = evaluate(&d, &a);
    let of = |heading: Heading| e.weight.parts.iter().filter(move |p| p.heading == heading);
    assert!((of(Heading::Ribs).map(|p| p.nominal_kg).sum::<f64>() - 2.0).abs() < 1e-9);
    assert!(of(Heading::Ribs).all(|p| p.maturity == Maturity::Weighed && p.growth == 0.0));
    let nose = of(Heading::Skins).filter(|p| p.strip == Some(Strip::NoseUpper)).map(|p| p.nominal_kg).sum::<f64>();
    assert!((nose - 4.8).abs() < 1e-9);
    // Spread and the chance of the target follow, and so do the loads.
    assert!(e.weight.sd_kg < drawn.weight.sd_kg);
    assert!(e.weight.chance_of_target != drawn.weight.chance_of_target);
    assert!(e.loads.loads[0].moment_nm()[0] != drawn.loads.loads[0].moment_nm()[0]);
    // A memory that saw the wing before it was weighed gives the same.
    let mut memory = Memory::default();
    evaluate_again(&with(""), &a, &mut memory);
    assert!(evaluate_again(&d, &a, &mut memory) == e);
}

#[test]
fn what_cannot_be_weighed_is_refused_with_the_nearest_name() {
    let one = |of: &str, more: &str| format!("[[weighed]]\nof = \"{of}\"\nmass_g = 300\n{more}\n");
    assert!(said(&one("rib", "")).contains("the nearest heading is \"ribs\""));
    assert!(said(&one("ribs/nose rib", "")).contains("the nearest of this wing is \"ribs/nose ribs\""));
    // What a dial may have taken away is told, not refused.
    let no_fittings = mixed().replacen("fittings_kg = 1.1", "fittings_kg = 0.0", 1) + &one("joints/centre joint", "");
    assert!(parse(&no_fittings, None).unwrap().warnings.iter().any(|w| w.contains("joints/centre joint")));
    for of in ["posts", "posts/posts", "skins/rear up"] {
        let warned = with(&one(of, "")).warnings;
        assert!(warned.iter().any(|w| w.contains(of) && w.contains("is not in this wing")), "{of}: {warned:?}");
    }
    assert!(said(&one("ribs", "half = \"lft\"")).contains("the nearest valid name is \"left\""));
    assert!(said(&one("ribs", "date = \"tuesday\"")).contains("write year-month-day"));
    assert!(said("[[weighed]]\nof = \"ribs\"\n").contains("mass_g is missing"));
    assert!(said("[[weighed]]\nof = \"ribs\"\nmass_g = -3\n").contains("mass_g"));
    for (first, second) in [("", ""), ("", "half = \"left\""), ("half = \"right\"", "half = \"right\"")] {
        let two = format!("{}{}", one("ribs", first), one("ribs", second));
        assert!(said(&two).contains("on the scales again"), "{first} {second}");
    }
    assert!(
        said(&format!("{}{}", one("ribs", ""), one("ribs/rib", "half = \"left\""))).contains("on the scales again")
    );
    let both = format!("{}{}", one("ribs", "half = \"left\""), one("ribs", "half = \"right\""));
    assert_eq!(with(&both).weighed.len(), 2);
}

fn copy(dir: &tempfile::TempDir) -> PathBuf {
    let file = dir.path().join("wing.toml");
    std::fs::write(
        &file,
        mixed() + "\n[[weighed]]   # first day\nof = \"ribs/rib\"\nmass_g = 1500   # kitchen scale\n",
    )
    .unwrap();
    file
}

#[test]
fn weighing_from_the_command_line_is_written_whole_or_not_at_all() {
    let dir = tempfile::tempdir().unwrap();
    let file = copy(&dir);
    let (path, before) = (file.to_str().unwrap(), std::fs::read_to_string(&file).unwrap());
    let (code, out) =
        told(&["workshop", path, "--weighed", "ribs/nose ribs=331", "--weighed", "spar cap=12", "--half", "left"]);
    assert_eq!(code, Some(2), "{out}");
    assert!(out.contains("the nearest heading is \"spar caps\""), "{out}");
    assert_eq!(std::fs::read_to_string(&file).unwrap(), before);
    for wrong in ["ribs/nose ribs", "ribs/nose ribs=", "ribs/nose ribs=-4", "ribs/nose ribs=nan"] {
        assert_eq!(told(&["workshop", path, "--weighed", wrong]).0, Some(2), "{wrong}");
        assert_eq!(std::fs::read_to_string(&file).unwrap(), before, "{wrong}");
    }
    let (code, out) = told(&["workshop", path, "--weighed", "ribs/nose ribs=331", "--half", "left"]);
    assert_eq!(code, Some(0), "{out}");
    assert!(out.contains("weighed, ") && out.contains("on the scales 1.83 kg"), "{out}");
    // Weighed again: the number is another, the remark behind it stays.
    let (code, _) = told(&["workshop", path, "--weighed", "ribs/rib=1460.5", "--date", "2026-05-02"]);
    let now = std::fs::read_to_string(&file).unwrap();
    assert_eq!(code, Some(0));
    assert!(now.contains("mass_g = 1460.5   # kitchen scale") && now.contains("[[weighed]]   # first day"), "{now}");
    let (code, _) =
        told(&["workshop", path, "--weighed", "ribs/nose ribs=333", "--half", "left", "--scale-error-g", "7"]);
    let again = std::fs::read_to_string(&file).unwrap();
    assert!(code == Some(0) && again.contains("mass_g = 333.0") && again.contains("scale_error_g = 7.0"), "{again}");
    let (code, out) = told(&["workshop", path, "--scales", "--case", "x"]);
    assert!(code == Some(2) && out.contains("--case does nothing with --scales"), "{out}");
    assert!(now.contains("half = \"left\"") && now.contains("date = \"2026-05-02\""), "{now}");
    assert_eq!(load(&file).unwrap().design.weighed.len(), 2);
    let (code, out) = told(&["workshop", path, "--scales", "--json"]);
    let v: serde_json::Value = serde_json::from_str(&out).unwrap();
    assert_eq!(code, Some(0));
    assert_eq!(v["weighed"].as_array().unwrap().len(), 2);
    let parts: f64 = v["parts"].as_array().unwrap().iter().map(|p| p["expected_kg"].as_f64().unwrap()).sum();
    assert!((parts - v["forecast_kg"]["expected"].as_f64().unwrap()).abs() < 1e-6);
    assert!(v["win_back"].as_array().unwrap().iter().all(|s| s["saves_kg"].as_f64().unwrap() > 0.0));
}

#[test]
fn a_dial_that_takes_a_weighed_part_away_leaves_a_wing_that_saves_and_loads() {
    let dir = tempfile::tempdir().unwrap();
    let file = copy(&dir);
    std::fs::write(
        &file,
        mixed() + "\n[[weighed]]\nof = \"ribs/nose ribs\"\nmass_lb = 1.6   # on the old scale\nscale_error_oz = 0.1\n",
    )
    .unwrap();
    let mut s = load(&file).unwrap();
    let mut d = s.design.clone();
    d.ribs.iter_mut().for_each(|r| r.nose_between = 0);
    d.weighed[0].mass_kg = 0.5 * 0.453_592_37;
    scenario::save(&mut s, &d, &file, false).unwrap();
    let text = std::fs::read_to_string(&file).unwrap();
    assert!(text.contains("mass_lb = 0.5   # on the old scale") && text.contains("scale_error_oz = 0.1"), "{text}");
    let again = load(&file).unwrap().design;
    assert!(again.warnings.iter().any(|w| w.contains("is not in this wing")));
    assert!(again.ribs.iter().all(|r| r.nose_between == 0));
}

/// By hand: 2.0 kg where some 3 were expected is told apart from a slip, 0.3 kg is not, and teaches nothing.
#[test]
fn a_slip_of_the_pen_is_told_and_teaches_nothing() {
    let far = with("[[weighed]]\nof = \"spar caps/upper cap\"\nmass_g = 300\n");
    let e = evaluate(&far, &Assumptions::default());
    let f = forecast::of(&far, &e);
    assert!(f.on_scales[0].is_far());
    let lower =
        |rows: &[forecast::Row]| rows.iter().find(|r| r.piece.part.as_deref() == Some("lower cap")).unwrap().clone();
    let taught = lower(&f.rows);
    assert!((taught.expected_kg / taught.promised_kg - 1.0).abs() < 0.03, "{taught:?}");
    // What was promised is the wing with nothing weighed, whatever was weighed.
    assert_eq!(f.promised, evaluate(&with(""), &Assumptions::default()).weight);
}

/// By hand: one half on the scales counts once, the other is still to come, with a stop-weight of its own.
#[test]
fn one_half_on_the_scales_is_half_made() {
    let d = with("[[weighed]]\nof = \"ribs/nose ribs\"\nhalf = \"left\"\nmass_g = 371\n");
    let e = evaluate(&d, &Assumptions::default());
    let f = forecast::of(&d, &e);
    assert!((f.made_kg.0 - 0.371).abs() < 1e-9 && (f.made_kg.1 - 0.002).abs() < 1e-9, "{:?}", f.made_kg);
    assert!((f.made_kg.0 + f.to_come_kg.0 - e.weight.expected_kg).abs() < 1e-9);
    assert!((f.made_kg.1.hypot(f.to_come_kg.1) - e.weight.sd_kg).abs() < 1e-9);
    let row = f.rows.iter().find(|r| r.half.is_some()).unwrap();
    let share = 0.371 / f.to_come_kg.0;
    assert!((row.stop_kg.unwrap() - share * f.left_kg.unwrap()).abs() < 1e-9);
    let stops: f64 = f.rows.iter().filter_map(|r| r.stop_kg).sum();
    assert!((stops - f.left_kg.unwrap()).abs() < 1e-9);
}

#[test]
fn nothing_that_is_built_is_won_back_or_changed_by_a_search() {
    let d = with(
        "[[weighed]]\nof = \"skins/aft up\"\nmass_g = 6100\n\n[[weighed]]\nof = \"skins/aft low\"\nmass_g = 6000\n\n[[weighed]]\nof = \"ribs\"\nmass_g = 2600\n",
    );
    let e = evaluate(&d, &Assumptions::default());
    let savings = win_back::of(&d, &e);
    assert!(!savings.is_empty());
    assert!(savings.iter().all(|s| !s.title.contains("boundary") && !s.title.contains("ribs")), "{savings:#?}");
    assert!(savings.is_sorted_by(|a, b| a.saves_kg >= b.saves_kg));
    // With heavy aft skins as they are, less durability is asked for, and the rib that ends their box has a body of carbon.
    let mut d = Design { targets: Targets { durability_index: Some(25.0), ..d.targets }, ..d };
    let carbon = d.constructions.iter().position(|c| c.key == "rib_foam_carbon").unwrap();
    d.rib_kinds.iter_mut().filter(|r| r.name == "main").for_each(|r| r.body = carbon);
    let found = mix::find(&d, &Ask::default(), Ticks::LIVE, 0, &Assumptions::default());
    let found = found.unwrap_or_else(|p| panic!("{p:#?}"));
    let best = found.lightest.as_ref().or(found.rows.first()).expect("a mix");
    println!("table {:.3} kg, in full {:.3} kg, {:?}", best.table_kg, best.expected_kg, found.status);
    assert!((best.table_kg / best.expected_kg - 1.0).abs() < 0.01, "{} {}", best.table_kg, best.expected_kg);
    for strip in [Strip::AftUpper, Strip::AftLower] {
        assert_eq!(best.design.runs(strip), d.runs(strip));
    }
    assert_eq!(best.design.rib_kinds, d.rib_kinds);
    let changed = Strip::ALL.iter().any(|s| best.design.runs(*s) != d.runs(*s));
    assert!(changed, "what is not built may change");
}

#[test]
fn on_the_screen_a_part_is_chosen_weighed_taken_off_and_saved() {
    for (w, h) in [(80, 24), (120, 40), (200, 60)] {
        let mut app = marram(w, h);
        keys(&mut app, "0w");
        assert!(text(&app).contains("the scales"), "{}", text(&app));
        let first = forecast::of(&app.design, &app.evaluation).rows[0].clone();
        let before = app.evaluation.weight.expected_kg;
        keys(&mut app, "=");
        assert!(text(&app).contains(&first.piece.words()));
        keys(&mut app, "left 3000");
        press(&mut app, KeyCode::Enter);
        assert!((app.design.weighed[0].mass_kg - 3.0).abs() < 1e-12);
        assert!((app.evaluation.weight.expected_kg - before).abs() > 0.01);
        assert!(text(&app).contains(" g, right half"), "{}", text(&app));
        assert!(app.unsaved);
        for wrong in ["left", "lots", "left -3", "sideways 300", "nan", "", "1,435", "1435 kg"] {
            keys(&mut app, "=");
            keys(&mut app, wrong);
            press(&mut app, KeyCode::Enter);
            assert_eq!(app.design.weighed.len(), 1, "{wrong}");
            assert!(
                app.message.as_ref().is_some_and(|m| m.contains("nothing was changed")),
                "{wrong}: {:?}",
                app.message
            );
        }
        press(&mut app, KeyCode::Enter);
        assert!(text(&app).contains("on the scales: ") && text(&app).contains("won back"), "{}", text(&app));
        press(&mut app, KeyCode::Esc);
        keys(&mut app, "x");
        assert!(app.design.weighed.is_empty());
        keys(&mut app, "u");
        assert_eq!(app.design.weighed.len(), 1);
        keys(&mut app, "u");
        assert!(app.design.weighed.is_empty() && !app.unsaved);
        // Without parts on it the other key says where it works.
        keys(&mut app, "w=");
        assert!(app.overlay.is_none() && app.message.as_ref().is_some_and(|m| m.contains("scales")));
    }
}
