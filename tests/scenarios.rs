//! Every shipped scenario loads, evaluates and saves; wrong files are refused with place and next step.

use std::path::{Path, PathBuf};

use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::evaluation::evaluate;
use thistledown::physics::loads::case;
use thistledown::scenario::dials::{Turn, dials};
use thistledown::scenario::{self, Saved, load, parse, save, written};

fn folder(name: &str) -> Vec<PathBuf> {
    let dir = Path::new(env!("CARGO_MANIFEST_DIR")).join(name);
    let mut all: Vec<PathBuf> = std::fs::read_dir(dir)
        .unwrap()
        .map(|e| e.unwrap().path())
        .filter(|p| p.extension().is_some_and(|e| e == "toml"))
        .collect();
    all.sort();
    all
}

fn mixed() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/marram-mixed.toml")
}

#[test]
fn every_scenario_loads_and_is_weighed_and_says_it_is_invented() {
    let all = folder("scenarios");
    assert!(all.len() >= 17);
    for path in all {
        let s = load(&path).unwrap_or_else(|p| panic!("{p:#?}"));
        let e = evaluate(&s.design, &Assumptions::default());
        assert!(e.weight.drawn_kg > 10.0 && e.weight.drawn_kg < 120.0, "{}: {}", path.display(), e.weight.drawn_kg);
        assert!(e.settled, "{}", path.display());
        assert!(s.text.lines().next().unwrap().to_lowercase().contains("invented"), "{}", path.display());
    }
}

#[test]
fn saving_what_was_loaded_changes_no_byte() {
    for path in folder("scenarios") {
        let s = load(&path).unwrap();
        assert_eq!(written(&s, &s.design).unwrap(), s.text, "{}", path.display());
    }
}

/// Turn every dial of every scenario one step, save, load again: the dial reads the same and comments stand.
#[test]
fn every_dial_comes_back_from_a_save() {
    for path in folder("scenarios") {
        let s = load(&path).unwrap();
        let remarks = s.text.matches('#').count();
        for dial in dials(&s.design) {
            let step = match &dial.turn {
                Turn::Number { step, .. } => *step,
                _ => 1.0,
            };
            let mut d = s.design.clone();
            let (_, most) = dial.range();
            let now = dial.value(&d);
            dial.set(&mut d, if now + step <= most { now + step } else { now - step });
            let text = written(&s, &d).unwrap();
            let again = parse(&text, None).unwrap_or_else(|p| panic!("{} {}: {p:#?}", path.display(), dial.key));
            assert_eq!(dial.shown(&again), dial.shown(&d), "{} {}", path.display(), dial.key);
            assert!(text.matches('#').count() >= remarks, "{} lost a comment", dial.key);
        }
    }
}

#[test]
fn a_save_keeps_remarks_and_never_overwrites_a_stranger() {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("wing.toml");
    std::fs::copy(mixed(), &path).unwrap();
    let mut s = load(&path).unwrap();
    let mut d = s.design.clone();
    let taper = dials(&d).into_iter().find(|x| x.key == "planform.taper").unwrap();
    taper.set(&mut d, 0.5);
    assert_eq!(save(&mut s, &d, &path, false).unwrap(), Saved::Done);
    let text = std::fs::read_to_string(&path).unwrap();
    assert!(text.contains("taper = 0.5        # tip chord over root chord"), "{text}");
    std::fs::write(&path, text.replace("pilot_kg = 78.0", "pilot_kg = 80.0")).unwrap();
    taper.set(&mut d, 0.6);
    assert_eq!(save(&mut s, &d, &path, false).unwrap(), Saved::ChangedMeanwhile);
    assert!(std::fs::read_to_string(&path).unwrap().contains("pilot_kg = 80.0"));
}

#[test]
fn imperial_keys_say_the_same_wing() {
    let s = load(&mixed()).unwrap();
    let feet =
        s.text.replace("span_m = 13.4", "span_ft = 43.963254593").replace("pilot_kg = 78.0", "pilot_lb = 171.96056");
    let d = parse(&feet, None).unwrap();
    assert!((d.planform.span_m - 13.4).abs() < 1e-6);
    assert!((d.aboard.pilot_kg - 78.0).abs() < 1e-3);
}

/// Each bad file carries, in its first comment, words that must be in the refusal.
#[test]
fn bad_files_are_refused_with_place_and_next_step() {
    let good = std::fs::read_to_string(mixed()).unwrap();
    let cases = [
        ("span_m = 13.4", "spam_m = 13.4", vec!["unknown key `planform.spam_m`", "`span_m`", "span_m is missing"]),
        ("span_m = 13.4", "span_m = -13.4", vec!["planform.span_m is -13.4", "between 3 and 40"]),
        ("span_m = 13.4", "span_m = nan", vec!["not a finite number"]),
        ("span_m = 13.4", "span_m = \"13\"", vec!["is a string", "a number"]),
        ("position_root = 0.30", "position_root = -0.1", vec!["spar.position_root is -0.1"]),
        ("{ to = 0.5, use = \"skin_glass_pvc\" }", "{ to = 1.5, use = \"skin_glass_pvc\" }", vec!["to is 1.5"]),
        (
            "use = \"skin_glass_pvc\"",
            "use = \"skin_glas_pvc\"",
            vec!["nothing is called \"skin_glas_pvc\"", "\"skin_glass_pvc\""],
        ),
        ("bays = 16", "bays = 100000", vec!["whole number"]),
        ("[ribs]", "[[strut]]\nat = 0.5\n\n[ribs]", vec!["struts or wires", "cantilever"]),
        ("format = 1", "format = 7", vec!["format"]),
        ("family = \"4417\"", "family = \"9x\"", vec!["no section known"]),
        ("set = \"foot_launched\"", "set = \"foot_lauched\"", vec!["nearest valid name is \"foot_launched\""]),
        (
            "[service]",
            "[[accepted]]\nmode = \"cap_ply_ent\"\nreason = \"tested\"\n\n[service]",
            vec!["no failure mode", "cap_ply_end"],
        ),
    ];
    for (from, to, words) in cases {
        assert!(good.contains(from), "{from}");
        let bad = good.replacen(from, to, 1);
        let problems = parse(&bad, Some(Path::new("bad.toml"))).expect_err(to);
        let all: Vec<String> = problems.iter().map(ToString::to_string).collect();
        for w in words {
            assert!(all.iter().any(|p| p.contains(w)), "{to}: no \"{w}\" in {all:#?}");
        }
        assert!(problems.iter().all(|p| p.place.is_some() && p.exit_code() == 2), "{all:#?}");
    }
}

#[test]
fn one_fault_is_told_once() {
    let good = std::fs::read_to_string(mixed()).unwrap();
    let run = "aft_upper = [{ to = 0.5,";
    let cases = [
        (run, "aft_upper = [{ to = 1.5,", "aft_upper[1].to is 1.5"),
        ("span_m = 13.4", "span_mm = 13400", "unknown key `planform.span_mm`"),
        ("format = 1", "format = 2", "it reads format = 1"),
        (run, "aft_upper = [{", "aft_upper[1].to is missing"),
        // A sibling that is known says nothing of the one that is not there.
        ("width_root_mm = 70.0\n", "", "width_root_mm is missing"),
    ];
    for (from, to, words) in cases {
        assert!(good.contains(from), "{from}");
        let problems = parse(&good.replacen(from, to, 1), None).expect_err(to);
        assert_eq!(problems.len(), 1, "{to}: {problems:#?}");
        assert!(problems[0].to_string().contains(words), "{to}: {}", problems[0]);
    }
}

#[test]
fn all_faults_of_a_file_come_at_once_in_order() {
    let good = std::fs::read_to_string(mixed()).unwrap();
    let bad = good
        .replacen("span_m = 13.4", "span_m = 130", 1)
        .replacen("taper = 0.45", "taper = 9", 1)
        .replacen("kit_kg", "kitt_kg", 1);
    let problems = parse(&bad, None).unwrap_err();
    assert_eq!(problems.len(), 3, "{problems:#?}");
    let lines: Vec<usize> = problems.iter().map(|p| p.place.unwrap().0).collect();
    assert!(lines.windows(2).all(|w| w[0] < w[1]));
}

#[test]
fn no_prefix_and_no_stray_byte_of_a_scenario_panics() {
    let good = std::fs::read_to_string(mixed()).unwrap();
    for cut in (0..good.len()).step_by(37) {
        let _ = parse(good.get(..cut).unwrap_or(""), None);
    }
    for (i, c) in ["\u{0}", "[", "=", "\"", "é", "1e999"].iter().enumerate() {
        for at in (i..good.len()).step_by(211) {
            if good.is_char_boundary(at) {
                let _ = parse(&format!("{}{c}{}", &good[..at], &good[at..]), None);
            }
        }
    }
}

#[test]
fn binary_folders_and_missing_files_are_refused() {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("bin.toml");
    std::fs::write(&path, [0xff, 0xfe, 0x00, 0x81]).unwrap();
    assert!(load(&path).unwrap_err()[0].to_string().contains("not a text file"));
    assert!(load(dir.path()).unwrap_err()[0].to_string().contains("folder"));
    assert_eq!(load(&dir.path().join("none.toml")).unwrap_err()[0].exit_code(), 3);
    assert!(scenario::demo().is_ok());
}

/// Each file of `tests/bad` says at its end what must be said of it; every message carries line and column.
#[test]
fn every_bad_file_is_refused_in_the_words_it_expects() {
    let all = folder("tests/bad");
    assert!(all.len() >= 13);
    for path in all {
        let text = std::fs::read_to_string(&path).unwrap();
        let problems = load(&path).expect_err(&path.display().to_string());
        assert!(problems.iter().all(|p| p.place.is_some() && !p.next.is_empty()), "{problems:#?}");
        let said: Vec<String> = problems.iter().map(ToString::to_string).collect();
        for want in text.lines().filter_map(|l| l.strip_prefix("# expect ")) {
            assert!(said.iter().any(|s| s.contains(want)), "{}: {want}: {said:#?}", path.display());
        }
    }
}

/// The list of case names a scenario may switch off is the list of cases that are built.
#[test]
fn the_list_of_cases_is_what_is_built() {
    let mut built: Vec<&str> = Vec::new();
    for path in folder("scenarios") {
        let mut design = load(&path).unwrap().design;
        for tailless in [design.aboard.tailless, true] {
            design.aboard.tailless = tailless;
            let e = evaluate(&design, &Assumptions::default());
            built.extend(e.loads.cases.iter().map(|c| c.key));
        }
    }
    for key in &built {
        assert!(case::KEYS.contains(key), "{key}");
    }
    for key in case::KEYS {
        assert!(built.contains(key), "{key} is never built");
    }
}

#[test]
fn a_scenario_says_what_to_search() {
    let s = load(&mixed()).unwrap();
    assert_eq!(s.search.vary.len(), 2);
    assert_eq!(s.search.vary[1].values, [12.0, 14.0, 16.0, 18.0, 20.0]);
}
