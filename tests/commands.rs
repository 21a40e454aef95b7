//! The program as a person runs it: what it prints and how it exits.

use std::path::PathBuf;
use std::process::{Command, Output};

fn run(args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_thistledown"))
        .args(args)
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .stdin(std::process::Stdio::null())
        .output()
        .unwrap()
}

fn words(o: &[u8]) -> String {
    String::from_utf8_lossy(o).into_owned()
}

#[test]
fn without_a_terminal_it_prints_the_plain_assessment_and_how_to_get_the_screen() {
    let o = run(&[]);
    assert_eq!(o.status.code(), Some(0));
    let text = words(&o.stdout);
    for part in ["Marram, mixed", "as drawn", "no approval to fly", "no terminal is attached"] {
        assert!(text.contains(part), "{part}: {text}");
    }
}

#[test]
fn assess_gives_the_promised_keys() {
    let o = run(&["assess", "scenarios/marram-mixed.toml", "--json"]);
    let v: serde_json::Value = serde_json::from_slice(&o.stdout).unwrap();
    for key in ["format", "scenario", "scores", "parts", "loads", "margins", "durability", "flight", "warnings"] {
        assert!(v.get(key).is_some(), "{key}");
    }
    let scores = &v["scores"];
    for key in [
        "weight_kg",
        "durability_index",
        "least_press_n",
        "verdict",
        "least_margin",
        "stall_m_s",
        "launch",
        "hours",
        "pieces",
        "cost",
    ] {
        assert!(scores.get(key).is_some(), "{key}");
    }
    let parts: f64 = v["parts"].as_array().unwrap().iter().map(|p| p["nominal_kg"].as_f64().unwrap()).sum();
    assert!((parts - scores["weight_kg"]["as_drawn"].as_f64().unwrap()).abs() < 1e-6);
}

#[test]
fn a_turned_dial_changes_the_weight_and_a_wrong_one_is_refused() {
    let drawn = |set: &str| {
        let o = run(&["assess", "--json", "--set", set]);
        let v: serde_json::Value = serde_json::from_slice(&o.stdout).unwrap();
        v["scores"]["weight_kg"]["as_drawn"].as_f64().unwrap()
    };
    assert!(drawn("planform.area_m2=13.5") > drawn("planform.area_m2=12.6"));
    let o = run(&["assess", "--set", "planform.spam_m=13"]);
    assert_eq!(o.status.code(), Some(2));
    assert!(words(&o.stderr).contains("planform.span_m"), "{}", words(&o.stderr));
}

#[test]
fn exit_codes_tell_what_went_wrong() {
    assert_eq!(run(&["asses"]).status.code(), Some(2));
    assert!(words(&run(&["asses"]).stderr).contains("`assess`"));
    assert_eq!(run(&["check", "none.toml"]).status.code(), Some(3));
    assert_eq!(run(&["explain", "web_bukling"]).status.code(), Some(2));
    assert!(words(&run(&["explain", "web_bukling"]).stderr).contains("web_buckling"));
    assert_eq!(run(&["assess", "scenarios/marram-sandwich-tough.toml", "--must-pass"]).status.code(), Some(1));
}

#[test]
fn new_writes_a_sound_scenario_and_never_overwrites() {
    let dir = tempfile::tempdir().unwrap();
    let path: PathBuf = dir.path().join("wing.toml");
    let path = path.to_str().unwrap();
    assert_eq!(run(&["new", path]).status.code(), Some(0));
    assert_eq!(run(&["check", path]).status.code(), Some(0));
    assert_eq!(run(&["new", path]).status.code(), Some(2));
}

#[test]
fn compare_shows_what_differs_and_how_sure_the_order_is() {
    let o = run(&["compare", "scenarios/marram-sandwich-thin.toml", "scenarios/marram-fabric-aft.toml"]);
    let text = words(&o.stdout);
    for part in ["inputs that differ", "durability index", "more durable", "% sure", "Set down on a stone"] {
        assert!(text.contains(part), "{part}: {text}");
    }
}
