//! `check`: is a scenario sound?

use std::fmt::Write as _;
use std::path::PathBuf;

use clap::Args;

use crate::command::{Outcome, say};
use crate::physics::laminate::construction;
use crate::physics::warned;
use crate::problem::Problem;
use crate::scenario;

/// Validate scenarios: every fault at once, each with its place and the nearest valid name
///
/// Example: thistledown check scenarios/marram-mixed.toml
#[derive(Debug, Args)]
pub struct CheckArgs {
    /// Scenario files
    #[arg(required = true)]
    pub files: Vec<PathBuf>,
}

/// Run it.
pub fn run(args: &CheckArgs) -> Outcome {
    let mut problems: Vec<Problem> = Vec::new();
    let mut out = String::new();
    for file in &args.files {
        match scenario::load(file) {
            Ok(s) => {
                let d = &s.design;
                let _ = writeln!(out, "{}: sound ({})", file.display(), d.name);
                for w in warned::of(d).iter().chain(&d.warnings) {
                    let _ = writeln!(out, "  warning: {w}");
                }
                let used = used(d);
                for c in d.constructions.iter().enumerate().filter(|(i, _)| used.contains(i)).map(|(_, c)| c) {
                    for w in construction::warnings(c, &d.library) {
                        let _ = writeln!(out, "  warning: {}: {}", w.construction, w.text);
                    }
                }
            }
            Err(mut p) => problems.append(&mut p),
        }
    }
    say(&out)?;
    if problems.is_empty() { Ok(0) } else { Err(problems) }
}

/// Constructions a design uses.
fn used(d: &crate::physics::design::Design) -> Vec<usize> {
    let skins = d.strips.iter().flat_map(|s| s.runs.iter().map(|r| r.construction));
    let web = d.spar.web.iter().flat_map(|r| r.bands.iter().map(|b| b.construction));
    let ribs =
        d.rib_kinds.iter().flat_map(|k| [Some(k.body), k.cap.map(|c| c.0), k.wrap.map(|w| w.0)].into_iter().flatten());
    skins.chain(web).chain(ribs).collect()
}
