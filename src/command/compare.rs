//! `compare`: two or more scenarios side by side.

use std::path::PathBuf;

use clap::Args;

use crate::command::{Outcome, say, say_json, sides};
use crate::report::compare;

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
    let (sides, _) = sides(&args.files, |_| Ok(()))?;
    if args.json {
        say_json(&compare::json(&sides))?;
    } else {
        say(&compare::text(&sides))?;
    }
    Ok(0)
}
