//! Files beside the scenario: saving it, the recovery copy, and the other scenarios to compare with.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use crate::physics::assumptions::Assumptions;
use crate::physics::design::Design;
use crate::physics::evaluation::evaluate;
use crate::problem::io_words;
use crate::scenario::{self, Scenario};
use crate::screen::action::Action;
use crate::screen::app::{App, Neighbour};

/// End of the name of a recovery copy.
const RECOVERED: &str = "recovered.toml";

/// Where the recovery copy goes, and whether this session wrote it.
#[derive(Debug, Default)]
pub struct Recovery {
    path: Option<PathBuf>,
    wrote: bool,
    /// The copy an earlier session left.
    left: Option<PathBuf>,
}

impl Recovery {
    /// Choose a name that is free, and name the copy an earlier session left, if any.
    pub fn beside(scenario: Option<&Path>) -> (Self, Option<String>) {
        let Some(path) = scenario else { return (Self::default(), None) };
        let name = |n: u32| {
            let mark = if n == 1 { RECOVERED.to_owned() } else { format!("{n}.{RECOVERED}") };
            path.with_extension(mark)
        };
        let free = (1..100).map(name).find(|p| !p.exists());
        let left = (1..100).map(name).find(|p| p.exists());
        let called = left.as_deref().map(file_name);
        (Self { path: free, wrote: false, left }, called)
    }

    /// Take the turns of the earlier session: its copy becomes this session's own, and goes when they are saved.
    pub fn take(&mut self) -> Result<Design, String> {
        let Some(left) = self.left.clone() else { return Err("there is no recovery copy".to_owned()) };
        let found = scenario::load(&left).map_err(|p| p.first().map_or(String::new(), ToString::to_string))?;
        (self.path, self.wrote, self.left) = (Some(left), true, None);
        Ok(found.design)
    }

    /// Delete the copy of the earlier session, which the person does not want.
    pub fn forget(&mut self) -> Result<String, String> {
        let Some(left) = self.left.take() else { return Err("there is no recovery copy".to_owned()) };
        std::fs::remove_file(&left).map_err(|e| format!("{}: {}", left.display(), io_words(&e)))?;
        Ok(file_name(&left))
    }

    /// Write the copy when there is something unsaved.
    pub fn keep(&mut self, scenario: &Scenario, design: &Design) -> Result<Option<String>, String> {
        let Some(path) = &self.path else { return Ok(None) };
        if *design == scenario.design {
            return Ok(None);
        }
        let text = scenario::written(scenario, design).map_err(|p| p.to_string())?;
        std::fs::write(path, text).map_err(|e| format!("{}: {}", file_name(path), io_words(&e)))?;
        self.wrote = true;
        Ok(Some(file_name(path)))
    }

    /// Take the copy away again, when this session wrote it.
    pub fn discard(&mut self) {
        if let (true, Some(path)) = (self.wrote, &self.path) {
            let _ = std::fs::remove_file(path);
            self.wrote = false;
        }
    }
}

fn file_name(path: &Path) -> String {
    path.file_name().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default()
}

/// Save, and say how it went.
pub fn save(app: &App, name: Option<&str>, force: bool) -> Action {
    let mut scenario = app.scenario.clone();
    let path = match name {
        Some(name) => beside(app.scenario.path.as_deref(), name),
        None => scenario.path.clone().unwrap_or_default(),
    };
    let taken = name.is_some() && !force && path.exists() && scenario.path.as_ref() != Some(&path);
    if taken {
        let why = format!("{} exists already; give a name that is free", path.display());
        return Action::Saved(Err(why), Box::new(scenario));
    }
    match scenario::save(&mut scenario, &app.design, &path, force) {
        Ok(saved) => {
            if saved == scenario::Saved::Done {
                scenario.path = Some(path);
                scenario.design = app.design.clone();
            }
            Action::Saved(Ok(saved), Box::new(scenario))
        }
        Err(p) => Action::Saved(Err(p.to_string()), Box::new(app.scenario.clone())),
    }
}

/// Read the file of the scenario as it is now.
pub fn read_again(app: &App) -> Action {
    let path = app.scenario.path.clone().unwrap_or_default();
    Action::ReadAgain(scenario::load(&path).map(Box::new).map_err(|all| {
        let first = all.first().map_or(String::new(), ToString::to_string);
        if all.len() > 1 { format!("{first} (and {} more)", all.len() - 1) } else { first }
    }))
}

/// A typed name stands beside the scenario unless it names a folder.
fn beside(scenario: Option<&Path>, name: &str) -> PathBuf {
    let mut path = PathBuf::from(name);
    if path.extension().is_none() {
        path.set_extension("toml");
    }
    match scenario.and_then(Path::parent) {
        Some(folder) if path.components().count() == 1 => folder.join(path),
        _ => path,
    }
}

/// Other scenario files in the same folder.
pub fn siblings(scenario: Option<&Path>) -> Vec<PathBuf> {
    let Some(path) = scenario else { return Vec::new() };
    let folder = path.parent().filter(|p| !p.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let Ok(entries) = std::fs::read_dir(folder) else { return Vec::new() };
    let mut found: Vec<PathBuf> = entries
        .filter_map(|e| e.ok().map(|e| e.path()))
        .filter(|p| p.extension().is_some_and(|e| e == "toml") && p.file_name() != path.file_name())
        .filter(|p| !file_name(p).ends_with(RECOVERED))
        .collect();
    found.sort();
    found.truncate(24);
    found
}

/// Read and evaluate the other scenarios; a file that is no scenario is left out.
pub fn read_neighbours(paths: &[PathBuf]) -> Vec<Neighbour> {
    paths
        .iter()
        .filter_map(|p| scenario::load(p).ok().map(|s| (p, s)))
        .map(|(p, s)| Neighbour {
            file: file_name(p),
            evaluation: Arc::new(evaluate(&s.design, &Assumptions::default())),
            design: s.design,
        })
        .collect()
}
