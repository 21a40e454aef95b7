//! Scenario files: TOML as a person writes it, checked into a `Design`, saved with comments kept.

use std::path::{Path, PathBuf};

use crate::physics::design::Design;
use crate::problem::{Problem, io_words};
use crate::survey::space::distance;

mod ask;
mod cap_kinds;
mod care_dials;
pub mod check;
mod check_care;
mod check_layout;
mod check_proof;
mod check_samples;
mod check_spar;
mod check_stock;
mod check_weighed;
mod dial_table;
pub mod dials;
pub mod in_file;
mod joint_dials;
pub mod library;
pub mod proofs;
pub mod reader;
pub mod sample_line;
pub mod samples;
pub mod save;
mod unclosed;
pub mod weighed;

pub use ask::SearchAsk;
pub use save::{save, written};

/// A scenario held open: its text, the design it says, and what was in the file when it was read.
#[derive(Debug, Clone)]
pub struct Scenario {
    pub path: Option<PathBuf>,
    /// The text as read or last saved.
    pub text: String,
    pub design: Design,
    /// What its [search] table asks.
    pub search: SearchAsk,
}

/// Largest scenario file read, bytes.
const LARGEST: u64 = 4 << 20;

/// Read and check a file: all faults at once.
pub fn load(path: &Path) -> Result<Scenario, Vec<Problem>> {
    let io = |e: std::io::Error| {
        let mut p = Problem::io(path, io_words(&e));
        if let (std::io::ErrorKind::NotFound, Some(near)) = (e.kind(), nearest_file(path)) {
            p.next = format!("the nearest there is `{}`", near.display());
        }
        vec![p]
    };
    let meta = std::fs::metadata(path).map_err(io)?;
    let refuse = |what: &str| {
        let mut p = Problem::input(what, "a scenario is a TOML text that begins with format = 1");
        p.file = Some(path.to_owned());
        vec![p]
    };
    if meta.is_dir() {
        return Err(refuse("this is a folder"));
    }
    if meta.len() > LARGEST {
        return Err(refuse("this file is too large for a scenario"));
    }
    let bytes = std::fs::read(path).map_err(io)?;
    let Ok(text) = String::from_utf8(bytes) else {
        return Err(refuse("this is not a text file"));
    };
    let (design, search) = check::check(&text, Some(path))?;
    Ok(Scenario { path: Some(path.to_owned()), text, design, search })
}

/// The scenario beside a file that is not there whose name is nearest to it, when it is near at all.
pub fn nearest_file(path: &Path) -> Option<PathBuf> {
    let folder = path.parent().filter(|p| !p.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let wanted = path.file_name()?.to_str()?;
    let names: Vec<String> = std::fs::read_dir(folder)
        .ok()?
        .filter_map(|e| e.ok()?.file_name().into_string().ok())
        .filter(|n| Path::new(n).extension().is_some_and(|e| e == "toml"))
        .collect();
    let near = reader::nearest(wanted, names.iter().map(String::as_str))?;
    (distance(near, wanted) <= 3.max(wanted.len() / 4)).then(|| path.with_file_name(near))
}

/// Check the text of a scenario: all faults at once.
pub fn parse(text: &str, file: Option<&Path>) -> Result<Design, Vec<Problem>> {
    check::check(text, file).map(|(design, _)| design)
}

/// The invented Marram demo, as it stands in the repository.
pub fn demo() -> Result<Scenario, Vec<Problem>> {
    let text = include_str!("../../scenarios/marram-mixed.toml").to_owned();
    let (design, search) = check::check(&text, None)?;
    Ok(Scenario { path: None, text, design, search })
}

/// How a save went.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Saved {
    Done,
    /// Somebody else changed the file meanwhile; nothing was written.
    ChangedMeanwhile,
}
