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
#[command(verbatim_doc_comment)]
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
    let mut sides = Vec::new();
    let mut problems: Vec<Problem> = Vec::new();
    for file in &args.files {
        match scenario::load(file) {
            Ok(s) => {
                let evaluation = evaluate(&s.design, &Assumptions::default());
                sides.push(Side { name: s.design.name.clone(), design: s.design, evaluation });
            }
            Err(mut p) => problems.append(&mut p),
        }
    }
    if !problems.is_empty() {
        return Err(problems);
    }
    if args.json {
        say_json(&compare::json(&sides))?;
    } else {
        say(&compare::text(&sides))?;
    }
    Ok(0)
}
