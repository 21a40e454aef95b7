//! `thistledown holds`: the hold-here sheet on one A4 page.

use std::path::PathBuf;

use clap::Args;

use crate::command::{Outcome, say, say_json, scenario_or_demo};
use crate::physics::assumptions::Assumptions;
use crate::physics::evaluation::evaluate;
use crate::report::holds;

/// Print where to hold the wing and where not to touch it: one page of plain words, places in mm from the root
#[derive(Debug, Args)]
#[command(after_help = "Example: thistledown holds my-wing.toml | lpr")]
pub struct HoldsArgs {
    /// Scenario; the invented demo when none is named
    file: Option<PathBuf>,
    /// Print it as JSON
    #[arg(long)]
    json: bool,
}

/// Print the sheet; 1 when a marked hold may not be lifted by.
pub fn run(a: &HoldsArgs) -> Outcome {
    let s = scenario_or_demo(a.file.as_deref())?;
    let e = evaluate(&s.design, &Assumptions::default());
    if a.json {
        say_json(&holds::json(&s.design, &e))?;
    } else {
        say(&holds::sheet(&s.design, &e))?;
    }
    Ok(u8::from(e.durability.holds.iter().any(|h| !holds::may_lift(&e, h).may())))
}
