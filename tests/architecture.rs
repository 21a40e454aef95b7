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
    let published = dir.join("published");
    let margins = published.join("margins");
    for (folder, list) in
        [(dir.clone(), "runner.rs"), (published, "mod.rs"), (margins, "mod.rs"), (dir.join("search"), "mod.rs")]
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

/// What a public function of the physics gives back, when that is no number: nothing to check against the outside.
fn gives_no_number(signature: &str) -> bool {
    let plain = ["&'static str", "bool", "&str", "Self", "", "char"];
    let begins = [
        "&",
        "Option<&",
        "impl ",
        "String",
        "Vec<String>",
        "Option<usize>",
        "usize",
        "[Self",
        "Option<Self",
        "Inputs",
        "Assumed",
        "Judged",
        "Option<MayBuckle",
        "Margin",
    ];
    let back = signature.rsplit_once("->").map_or("", |s| s.1).split('{').next().unwrap_or("");
    let back = back.split("where").next().unwrap_or("").trim();
    plain.contains(&back) || begins.iter().any(|b| back.starts_with(b))
}

/// Every public function of the physics that gives numbers is run by a test against the outside, or its doc says it is
/// unchecked and the list `explain unchecked` prints has it.
#[test]
fn what_no_outside_check_runs_says_that_it_is_unchecked() {
    let code = |t: String| {
        let plain = t.lines().map(|l| l.split("//").next().unwrap_or("").trim_start());
        plain.fold(String::new(), |all, l| all + "\n" + l)
    };
    let outside: String = all("tests/published").into_iter().map(|(_, t)| code(t)).collect();
    // Imported, reached by a path, or called on something: a local of the same name is none of these.
    let inside = |c: char| c.is_alphanumeric() || c == '_';
    let imports: String = outside.split("\nuse ").skip(1).filter_map(|s| s.split(';').next()).collect();
    let mut words: std::collections::BTreeSet<&str> = imports.split(|c: char| !inside(c)).collect();
    for (mark, call) in [("::", false), (".", true)] {
        for rest in outside.split(mark).skip(1) {
            let end = rest.find(|c: char| !inside(c)).unwrap_or(rest.len());
            if !call || rest[end..].starts_with('(') {
                words.insert(&rest[..end]);
            }
        }
    }
    let mut wrong = Vec::new();
    let mut found = std::collections::BTreeSet::new();
    for (path, text) in all("src/physics") {
        let body = text.split("#[cfg(test)]").next().unwrap_or("");
        let lines: Vec<&str> = body.lines().collect();
        for (i, line) in lines.iter().enumerate() {
            let Some(rest) = line.trim_start().strip_prefix("pub ") else { continue };
            let Some(rest) = rest.trim_start_matches("const ").strip_prefix("fn ") else { continue };
            let name: String = rest.chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
            let end = lines[i..].iter().position(|l| l.contains('{') || l.contains(';')).unwrap_or(0);
            let signature = lines[i..=i + end].join(" ");
            if words.contains(name.as_str()) || gives_no_number(&signature) {
                continue;
            }
            let doc = lines[..i]
                .iter()
                .rev()
                .take_while(|l| l.trim_start().starts_with("//") || l.trim_start().starts_with("#["));
            let at =
                path.to_string_lossy().split("/src/physics/").nth(1).unwrap().replace(".rs", "").replace('/', "::");
            let key = format!("{}::{name}", at.trim_end_matches("::mod"));
            if !doc.clone().any(|l| l.contains("nchecked")) {
                wrong.push(key.clone());
            }
            found.insert(key);
        }
    }
    assert!(wrong.is_empty(), "neither checked nor called unchecked: {wrong:#?}");
    let listed: std::collections::BTreeSet<String> =
        thistledown::physics::unchecked::UNCHECKED.iter().map(|s| (*s).to_owned()).collect();
    assert_eq!(listed, found, "src/physics/unchecked.rs is out of step");
}
