//! A file that may only be read stays as it is, whoever would write it: a rename would pass over its protection.
#![cfg(unix)]
#![expect(clippy::unwrap_used, reason = "helpers of tests may fail as tests do")]

use std::os::unix::fs::PermissionsExt;
use std::path::{Path, PathBuf};

use crossterm::event::KeyCode;
use thistledown::scenario::{self, load};
use thistledown::screen::{Action, App, keep};

use crate::program::told;
use crate::screens::{act, press, text};

const READ_ONLY: u32 = 0o444;

fn protected(dir: &tempfile::TempDir, name: &str, of: &str) -> PathBuf {
    let file = dir.path().join(name);
    std::fs::copy(Path::new(env!("CARGO_MANIFEST_DIR")).join(of), &file).unwrap();
    std::fs::set_permissions(&file, std::fs::Permissions::from_mode(READ_ONLY)).unwrap();
    file
}

fn mode(file: &Path) -> u32 {
    std::fs::metadata(file).unwrap().permissions().mode() & 0o777
}

#[test]
fn nothing_is_written_to_a_file_that_may_only_be_read() {
    let dir = tempfile::tempdir().unwrap();
    let wing = protected(&dir, "wing.toml", "scenarios/marram-mixed.toml");
    let page = protected(&dir, "page.html", "README.md");
    let run = protected(&dir, "old.run", "README.md");
    let (file, page, run) = (wing.to_str().unwrap(), page.to_str().unwrap(), run.to_str().unwrap());
    let before = std::fs::read(file).unwrap();
    let sample = ["samples", file, "--add", "nose_carbon_pvc", "--area-cm2", "400", "--mass-g", "34.5"];
    for (args, of) in [
        (&["workshop", file, "--weighed", "ribs/nose ribs=331"][..], file),
        (&["workshop", file, "--saw", "248", "--step", "1"], file),
        (&sample, file),
        (&["report", file, "-o", page, "--overwrite"], page),
        (&["search", file, "--run", run, "--vary", "planform.span_m=13.0:13.2:0.1"], run),
    ] {
        let (code, said) = told(args);
        assert_eq!(code, Some(3), "{args:?}: {said}");
        assert!(said.contains("write-protected: nothing was written") && said.contains(of), "{args:?}: {said}");
    }
    assert_eq!(std::fs::read(file).unwrap(), before);
    let readme = std::fs::read(Path::new(env!("CARGO_MANIFEST_DIR")).join("README.md")).unwrap();
    assert!(std::fs::read(page).unwrap() == readme && std::fs::read(run).unwrap() == readme);
    assert!([file, page, run].iter().all(|f| mode(Path::new(f)) == READ_ONLY));
    assert_eq!(std::fs::read_dir(dir.path()).unwrap().count(), 3, "nothing else is left behind");
}

/// On the screen the turns stay unsaved, and another name takes them.
#[test]
fn the_screen_keeps_the_turns_it_could_not_save() {
    let dir = tempfile::tempdir().unwrap();
    let file = protected(&dir, "wing.toml", "scenarios/marram-mixed.toml");
    let before = std::fs::read(&file).unwrap();
    let mut app = App::new(load(&file).unwrap());
    act(&mut app, Action::Resize(80, 24));
    press(&mut app, KeyCode::Right);
    press(&mut app, KeyCode::Char('+'));
    let design = app.design.clone();
    assert!(app.unsaved);
    let saved = keep::save(&app, None, false);
    act(&mut app, saved);
    let t = text(&app).split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(t.contains("not saved:") && t.contains("write-protected: nothing was written"), "{t}");
    assert!(app.unsaved && app.design == design && std::fs::read(&file).unwrap() == before && mode(&file) == READ_ONLY);
    let other = keep::save(&app, Some("other"), false);
    act(&mut app, other);
    assert!(!app.unsaved, "{:?}", app.message);
    assert_eq!(scenario::load(&dir.path().join("other.toml")).unwrap().design, design);
}
