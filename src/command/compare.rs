//! `compare`: two or more scenarios side by side.

use std::path::PathBuf;

use clap::Args;

use crate::command::{Outcome, say, say_json};
use crate::physics::assumptions::Assumptions;
use crate::physics::evaluation::evaluate;
use crate::problem::Problem;
use crate::report::compare::{self, Side};
use crate::scenario;

/// Put scenarios side by side: inputs that differ, scores, durability by event, how sure the order is
///
/// Example: thistledown compare scenarios/marram-sandwich-thin.toml scenarios/marram-mixed.toml
#[derive(Debug, Args)]
pub struct CompareArgs {
    /// Scenario files, two or more
    #[arg(required = true, num_args = 2..)]
    pub files: Vec<PathBuf>,
    /// Print it as JSON
    #[arg(long)]
    pub json: bool,
}

/// Run it.
pub fn run(args: &CompareArgs) -> Outcome {
    let (mut sides, mut stems): (Vec<Side>, Vec<String>) = (Vec::new(), Vec::new());
    let mut problems: Vec<Problem> = Vec::new();
    for file in &args.files {
        match scenario::load(file) {
            Ok(s) => {
                let evaluation = evaluate(&s.design, &Assumptions::default());
                sides.push(Side { name: s.design.name.clone(), design: s.design, evaluation });
                stems.push(file.file_stem().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default());
            }
            Err(mut p) => problems.append(&mut p),
        }
    }
    if !problems.is_empty() {
        return Err(problems);
    }
    // Wings of one name are told apart by their files.
    let names: Vec<String> = sides.iter().map(|s| s.name.clone()).collect();
    for (side, stem) in sides.iter_mut().zip(stems) {
        if names.iter().filter(|n| **n == side.name).count() > 1 {
            side.name = stem;
        }
    }
    if args.json {
        say_json(&compare::json(&sides))?;
    } else {
        say(&compare::text(&sides))?;
    }
    Ok(0)
}
