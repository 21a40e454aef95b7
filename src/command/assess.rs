//! `assess`: everything computed for one scenario.

use std::path::PathBuf;

use clap::Args;

use crate::command::{Outcome, say, say_as_it_is, say_json, scenario_or_demo, set_dials};
use crate::physics::assumptions::Assumptions;
use crate::physics::evaluation::{WingVerdict, evaluate};
use crate::report;
use crate::report::csv::{self, Table};

/// Weigh, load and judge one scenario, and print it
///
/// Example: thistledown assess scenarios/marram-mixed.toml --set planform.span_m=13.0 --json
#[derive(Debug, Args)]
pub struct AssessArgs {
    /// Scenario file; the Marram demo when left out
    pub file: Option<PathBuf>,
    /// Turn a dial first (may be given again)
    #[arg(long, value_name = "KEY=VALUE")]
    pub set: Vec<String>,
    /// Print all of it as JSON
    #[arg(long)]
    pub json: bool,
    /// Print one table of it as comma-separated values, for a spreadsheet: parts, margins, loads, zones, events or polar
    #[arg(long, value_name = "TABLE", value_parser = table, conflicts_with = "json")]
    pub csv: Option<Table>,
    /// Exit with 1 unless the wing holds and its budget weight meets the target
    #[arg(long)]
    pub must_pass: bool,
}

/// Run it.
pub fn run(args: &AssessArgs) -> Outcome {
    let scenario = scenario_or_demo(args.file.as_deref())?;
    let mut design = scenario.design;
    set_dials(&mut design, &args.set)?;
    let e = evaluate(&design, &Assumptions::default());
    if let Some(which) = args.csv {
        say_as_it_is(&csv::table(&design, &e, which))?;
    } else if args.json {
        say_json(&report::json::evaluation(&design, &e))?;
    } else {
        say(&report::text::assessment(&design, &e))?;
    }
    let heavy = design.targets.wing_mass_kg.is_some_and(|t| e.weight.budget_kg > t);
    Ok(u8::from(args.must_pass && (e.strength.verdict != WingVerdict::Holds || heavy)))
}

/// A table by its name.
fn table(word: &str) -> Result<Table, String> {
    let names = Table::ALL.map(Table::key);
    Table::ALL.into_iter().find(|t| t.key() == word).ok_or_else(|| format!("the tables are {}", names.join(", ")))
}
