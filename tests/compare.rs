//! Comparisons: how sure an order is, what it rests on, and the Compare page by keys alone.
#![expect(clippy::unwrap_used, clippy::expect_used, reason = "helpers of tests may fail as tests do")]

use std::path::Path;

use crossterm::event::KeyCode;
use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::evaluation::evaluate;
use thistledown::scenario;
use thistledown::screen::app::{Neighbour, Page};
use thistledown::screen::pairs::{self, Request};
use thistledown::screen::{self, Action, App, Effect, Effects};

use crate::program::run;
use crate::screens::{act, press, text};

fn design(name: &str) -> thistledown::physics::design::Design {
    scenario::load(&Path::new("scenarios").join(name)).expect("it loads").design
}

fn app(w: u16, h: u16, others: &[&str]) -> App {
    let mut app = App::new(scenario::load(Path::new("scenarios/marram-mixed.toml")).expect("the demo loads"));
    act(&mut app, Action::Resize(w, h));
    let read = others.iter().map(|file| {
        let design = design(file);
        let evaluation = std::sync::Arc::new(evaluate(&design, &Assumptions::default()));
        Neighbour { file: (*file).to_owned(), design, evaluation }
    });
    app.has_neighbours = true;
    act(&mut app, Action::Neighbours(read.collect()));
    app
}

/// What the thread does, here and now.
fn drawn(app: &mut App, effects: &Effects) {
    assert!(effects.contains(&Effect::PairDraws), "{effects:?}");
    let request = Request::of(app).unwrap();
    let mut told = Vec::new();
    pairs::answer(&request, &mut Vec::new(), &|| false, &mut |a| {
        told.push(a);
        true
    })
    .unwrap();
    for a in told {
        act(app, a);
    }
}

#[test]
fn compare_by_keys_alone_at_three_sizes() {
    for (w, h) in [(80, 24), (120, 40), (200, 60)] {
        let mut app = app(w, h, &["marram-fabric-aft.toml", "marram-sandwich-tough.toml"]);
        let asked = press(&mut app, KeyCode::Char('8'));
        assert!(text(&app).contains("under way"), "{}", text(&app));
        drawn(&mut app, &asked);
        press(&mut app, KeyCode::Down);
        let seen = text(&app);
        for part in ["fabric-aft against now: more durable, 100 % sure", "scores", "repair hours per 100 outings"] {
            assert!(seen.contains(part), "{w}x{h} {part}: {seen}");
        }
        press(&mut app, KeyCode::Right);
        press(&mut app, KeyCode::Right);
        let seen = text(&app);
        assert!(seen.contains("durability order rests on") && seen.contains("crush strength of foam"), "{seen}");
        // The order against the tough wing is close: one assumption alone turns it, and it is not called.
        press(&mut app, KeyCode::Down);
        let seen = text(&app);
        assert!(seen.contains("durability too close to call") && seen.contains("turns it x"), "{w}x{h}: {seen}");
        let working = {
            press(&mut app, KeyCode::Enter);
            text(&app)
        };
        assert!(working.contains("200 seeded draws"), "{working}");
        press(&mut app, KeyCode::Esc);
        for part in ["inputs that differ", "skins, root to tip"] {
            press(&mut app, KeyCode::Right);
            assert!(text(&app).contains(part), "{w}x{h} {part}: {}", text(&app));
        }
        assert!(text(&app).contains("SSSSSS"), "{}", text(&app));
    }
}

#[test]
fn any_pair_is_held_against_each_other_by_keys() {
    let mut app = app(120, 40, &["marram-fabric-aft.toml", "marram-sandwich-tough.toml"]);
    let asked = press(&mut app, KeyCode::Char('8'));
    drawn(&mut app, &asked);
    // Sandwich tough becomes the first column, and fabric aft is held against it.
    press(&mut app, KeyCode::Down);
    press(&mut app, KeyCode::Down);
    let asked = press(&mut app, KeyCode::Char('a'));
    assert!(text(&app).contains("all columns are held against sandwich-tough"), "{}", text(&app));
    drawn(&mut app, &asked);
    press(&mut app, KeyCode::Down);
    press(&mut app, KeyCode::Down);
    let seen = text(&app);
    assert!(seen.contains("fabric-aft against sandwich-tough: more durable"), "{seen}");
    // The chosen column is the one loaded, wherever it stands.
    press(&mut app, KeyCode::Char('l'));
    assert_eq!(app.design.name, design("marram-fabric-aft.toml").name);
    press(&mut app, KeyCode::Char('u'));
    // On the first column the key goes back to this wing.
    press(&mut app, KeyCode::Home);
    press(&mut app, KeyCode::Char('a'));
    press(&mut app, KeyCode::Down);
    assert!(text(&app).contains("all columns") || app.against.is_none());
    assert!(app.against.is_none());
}

#[test]
fn a_scenario_loaded_from_the_page_comes_without_its_samples() {
    let mut app = app(120, 40, &["marram-samples.toml"]);
    press(&mut app, KeyCode::Char('8'));
    press(&mut app, KeyCode::Down);
    press(&mut app, KeyCode::Char('l'));
    assert!(app.design.samples.is_empty() && app.design.library.learnt.is_nothing());
    assert!(text(&app).contains("without its samples"), "{}", text(&app));
}

#[test]
fn every_event_can_be_reached_on_a_small_screen() {
    let mut app = app(80, 24, &["marram-fabric-aft.toml"]);
    press(&mut app, KeyCode::Char('8'));
    press(&mut app, KeyCode::Right);
    let mut seen = text(&app);
    for _ in 0..6 {
        press(&mut app, KeyCode::PageDown);
        seen.push_str(&text(&app));
    }
    for e in thistledown::physics::durability::events::EVENTS {
        let start: String = e.title.chars().take(20).collect();
        assert!(seen.contains(&start), "{start}: {seen}");
    }
    // And back at the first key: nothing was scrolled past the end.
    press(&mut app, KeyCode::PageUp);
    assert!(!text(&app).contains(" 0 below"), "{}", text(&app));
}

#[test]
fn draws_are_asked_for_when_a_column_changed_and_late_answers_are_dropped() {
    let mut app = app(120, 40, &["marram-fabric-aft.toml"]);
    let first = press(&mut app, KeyCode::Char('8'));
    let late = Request::of(&app).unwrap();
    drawn(&mut app, &first);
    assert!(!press(&mut app, KeyCode::Down).contains(&Effect::PairDraws), "nothing changed");
    assert!(press(&mut app, KeyCode::Char('p')).contains(&Effect::PairDraws), "a pin is a column");
    assert!(press(&mut app, KeyCode::Char('l')).is_empty(), "the pin is no file");
    press(&mut app, KeyCode::Down);
    let loaded = press(&mut app, KeyCode::Char('l'));
    assert!(loaded.contains(&Effect::PairDraws), "other inputs are in the dials: {loaded:?}");
    assert!(text(&app).contains("~more"), "old orders stay, marked: {}", text(&app));
    let was = app.sure.found.clone();
    pairs::answer(&late, &mut Vec::new(), &|| false, &mut |a| {
        screen::update(&mut app, a);
        true
    });
    assert_eq!(app.sure.found, was, "an answer to an earlier request changes nothing");
    assert_eq!(app.page, Page::Compare);
    // Told to stop it stops before the next evaluation.
    let evaluations = std::cell::Cell::new(0);
    let stop = || {
        evaluations.set(evaluations.get() + 1);
        evaluations.get() > 3
    };
    assert!(pairs::answer(&late, &mut Vec::new(), &stop, &mut |_| true).is_none());
    assert_eq!(evaluations.get(), 4);
}

#[test]
fn compare_as_json_says_how_sure_the_order_is_and_what_it_rests_on() {
    let o = run(&["compare", "--json", "scenarios/marram-mixed.toml", "scenarios/marram-sandwich-tough.toml"]);
    let got: serde_json::Value = serde_json::from_slice(&o.stdout).unwrap();
    let against = &got["scenarios"][1]["against_first"];
    let share = against["share_more_durable"].as_f64().unwrap();
    assert!((0.2..0.8).contains(&share) && against["durability_order"].as_str().unwrap().starts_with("too close"));
    let on = against["durability_rests_on"].as_array().unwrap();
    let taken: Vec<f64> = on.iter().map(|t| t["gap_taken"].as_f64().unwrap()).collect();
    assert!(taken.windows(2).all(|w| w[0] >= w[1]) && taken[0] > 1.0, "{taken:?}");
    for t in on {
        assert_eq!(t["turns_it_alone"].as_bool().unwrap(), t["gap_taken"].as_f64().unwrap() >= 1.0);
    }
    assert!(got["repair_h_by_event"].as_array().unwrap().len() > 15);
    assert_eq!(got["order_of_durability"].as_array().unwrap().len(), 2);
}
