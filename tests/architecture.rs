//! The rules of the house, read off the sources: who may name what, and how long a file may be.

use std::path::{Path, PathBuf};

fn sources(dir: &Path, out: &mut Vec<PathBuf>) {
    for entry in std::fs::read_dir(dir).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            sources(&path, out);
        } else if path.extension().is_some_and(|e| e == "rs") {
            out.push(path);
        }
    }
}

fn all(part: &str) -> Vec<(PathBuf, String)> {
    let mut paths = Vec::new();
    sources(&Path::new(env!("CARGO_MANIFEST_DIR")).join(part), &mut paths);
    paths.into_iter().map(|p| (p.clone(), std::fs::read_to_string(p).unwrap())).collect()
}

/// Lines of code that name one of `words`, comments skipped.
fn naming(files: &[(PathBuf, String)], words: &[&str]) -> Vec<String> {
    let mut found = Vec::new();
    for (path, text) in files {
        for (i, line) in text.lines().enumerate() {
            let code = line.trim_start();
            if code.starts_with("//") {
                continue;
            }
            for w in words.iter().filter(|w| code.contains(**w)) {
                found.push(format!("{}:{}: names {w}", path.display(), i + 1));
            }
        }
    }
    found
}

#[test]
fn the_pure_half_knows_no_file_thread_clock_or_screen() {
    let forbidden = [
        "std::fs",
        "std::io",
        "std::thread",
        "std::time",
        "std::env",
        "rayon",
        "ratatui",
        "crossterm",
        "serde",
        "println!",
    ];
    let found = naming(&all("src/physics"), &forbidden);
    assert!(found.is_empty(), "{found:#?}");
}

#[test]
fn the_search_knows_no_file_thread_clock_screen_or_physics() {
    let forbidden = [
        "std::fs",
        "std::io",
        "std::thread",
        "std::time",
        "std::env",
        "rayon",
        "ratatui",
        "crossterm",
        "println!",
        "crate::physics",
        "crate::scenario",
        "crate::survey",
        "crate::screen",
        "crate::command",
        "crate::report",
    ];
    let found = naming(&all("src/search"), &forbidden);
    assert!(found.is_empty(), "{found:#?}");
}

#[test]
fn only_the_screen_knows_the_terminal() {
    let outside: Vec<_> = all("src").into_iter().filter(|(p, _)| !p.to_string_lossy().contains("/screen/")).collect();
    let found = naming(&outside, &["ratatui::", "crossterm::"]);
    assert!(found.is_empty(), "{found:#?}");
}

#[test]
fn nothing_below_names_what_stands_above_it() {
    let found = naming(
        &all("src/physics"),
        &["crate::scenario", "crate::survey", "crate::screen", "crate::command", "crate::report"],
    );
    assert!(found.is_empty(), "{found:#?}");
}

#[test]
fn no_file_is_longer_than_six_hundred_lines() {
    let long: Vec<String> = ["src", "tests"]
        .iter()
        .flat_map(|d| all(d))
        .filter(|(_, t)| t.lines().count() > 600)
        .map(|(p, t)| format!("{}: {} lines", p.display(), t.lines().count()))
        .collect();
    assert!(long.is_empty(), "{long:#?}");
}

#[test]
fn every_test_file_is_listed() {
    let dir = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests");
    for (folder, list) in
        [(dir.clone(), "runner.rs"), (dir.join("published"), "mod.rs"), (dir.join("search"), "mod.rs")]
    {
        let text = std::fs::read_to_string(folder.join(list)).unwrap();
        for entry in std::fs::read_dir(&folder).unwrap() {
            let name = entry.unwrap().file_name().to_string_lossy().into_owned();
            let Some(stem) = name.strip_suffix(".rs") else { continue };
            if [list, "terminal.rs", "runner.rs"].contains(&name.as_str()) {
                continue;
            }
            assert!(text.contains(&format!("mod {stem};")), "{name} is not listed in {list}");
        }
    }
}
