//! Words that stand whole on the smallest screen: labels of dials, names of parts, what is accepted and what is not assessed; and what
//! a dial is said to do, and a wing to be warned of, said once and where it is looked for.

use std::path::PathBuf;

use crossterm::event::KeyCode;
use thistledown::scenario;
use thistledown::screen::app::{Known, StepEffect};
use thistledown::screen::page::wing::step_words;
use thistledown::screen::{Action, App};

use crate::screens::{act, find, keys, marram, press, text};

/// Every shipped scenario, opened at some size.
fn shipped(w: u16, h: u16) -> Vec<(String, App)> {
    let mut files: Vec<PathBuf> = std::fs::read_dir("scenarios").unwrap().map(|f| f.unwrap().path()).collect();
    files.retain(|f| f.extension().is_some_and(|e| e == "toml"));
    files.sort();
    let open = |f: &PathBuf| {
        let mut app = App::new(scenario::load(f).unwrap());
        act(&mut app, Action::Resize(w, h));
        (f.file_stem().unwrap().to_string_lossy().into_owned(), app)
    };
    files.iter().map(open).collect()
}

#[test]
fn labels_of_dials_are_whole() {
    for (w, h) in [(80, 24), (120, 40), (200, 60)] {
        for (name, mut app) in shipped(w, h) {
            for i in 0..app.dials.len() {
                app.chosen = i;
                let (label, value) = (app.dials[i].label.clone(), app.dials[i].shown(&app.design));
                let t = text(&app);
                let row = |l: &str| l.contains('▸') && l.contains(&label) && l.contains(&value);
                // A long name of a construction with a long value has no room in the list: the chosen dial is told in full beside it.
                let beside = label.chars().count() + value.chars().count() > 37 && t.contains(&label);
                assert!(t.lines().any(row) || beside, "{name} {w}x{h}: {label} {value}\n{t}");
            }
        }
    }
}

#[test]
fn names_of_parts_and_their_blanks_are_whole() {
    for (name, mut app) in shipped(80, 24) {
        keys(&mut app, "0c");
        for _ in 0..3 {
            press(&mut app, KeyCode::Right);
        }
        assert!(
            text(&app).contains("a sheet for each part") && text(&app).contains("to mix"),
            "{name}: {}",
            text(&app)
        );
        for part in app.evaluation.weight.parts.clone() {
            press(&mut app, KeyCode::Down);
            let t = text(&app);
            assert!(!t.lines().skip(2).any(|l| l.contains('…')), "{name} {}: {t}", part.name);
        }
    }
}

#[test]
fn what_is_accepted_and_what_is_not_assessed_is_not_cut() {
    for (w, h) in [(80, 24), (120, 40)] {
        for (name, mut app) in shipped(w, h) {
            keys(&mut app, "4");
            press(&mut app, KeyCode::End);
            let t = text(&app);
            let rows = || t.lines().filter(|l| l.starts_with("? accepted") || l.starts_with("none "));
            assert!(rows().any(|l| l.contains("not assessed: flutter, fatigue")), "{name}: {t}");
            assert!(rows().all(|l| !l.trim_end().ends_with('…')), "{name} {w}x{h}: {t}");
            assert!(rows().any(|l| l.contains("4 more (Enter)") || l.contains("pushrods")), "{name}: {t}");
        }
    }
}

/// A dial that changes nothing is said so once, whatever it is and however many steps were tried.
#[test]
fn a_dial_that_changes_nothing_says_so_once() {
    let effect = |steps| StepEffect { value: "1200 N".to_owned(), steps, weight_kg: 0.0, index: 0.0 };
    assert_eq!(step_words(&effect(1), false), "one step: no change");
    assert_eq!(step_words(&effect(12), false), "12 steps, to 1200 N: no change");
    assert_eq!(step_words(&effect(-12), true), "12 steps down: no change");
    let mut app = marram(80, 24);
    find(&mut app, "tip caught");
    let key = app.dial().unwrap().key.clone();
    for (steps, kg, more) in [(12, 0.0, false), (3, 0.5, true)] {
        let effect = StepEffect { weight_kg: kg, ..effect(steps) };
        app.steps = vec![(key.clone(), Known { generation: app.generation, effect: Some(effect) })];
        let t = text(&app);
        assert_eq!(t.contains("one step changes nothing; the next"), more, "{t}");
        assert_eq!(t.matches("to 1200 N: no change").count(), usize::from(!more), "{t}");
    }
}

/// A wing that has warnings when it is opened says so, and they can be read then and later.
#[test]
fn warnings_are_told_on_opening_and_found_again() {
    for (w, h) in [(80, 24), (120, 40), (200, 60)] {
        for (name, mut app) in shipped(w, h) {
            let all = app.evaluation.warnings.clone();
            assert!(!all.is_empty(), "{name}");
            let last = text(&app).lines().last().unwrap().to_owned();
            assert!(
                last.contains(&format!("{} warning", all.len())) && last.contains("! lists them"),
                "{name}: {last}"
            );
            // The keys come back with the first of them.
            press(&mut app, KeyCode::Down);
            assert!(text(&app).lines().last().unwrap().contains("turn"), "{name}: {}", text(&app));
            keys(&mut app, "!");
            let spaced = |t: &str| t.replace(['│', '\n'], " ").split_whitespace().collect::<Vec<_>>().join(" ");
            let mut told = spaced(&text(&app));
            for _ in 0..20 {
                press(&mut app, KeyCode::Down);
                told += &spaced(&text(&app));
            }
            for warning in all {
                assert!(told.contains(&warning[..warning.len().min(40)]), "{name}: {warning}\n{}", text(&app));
            }
        }
    }
}
