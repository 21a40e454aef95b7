//! `samples`: the log of what was weighed and pressed: list it, add to it, rank what to make next.

use std::path::PathBuf;

use clap::Args;

use crate::command::{Outcome, a_number, say, say_json};
use crate::physics::assumptions::Assumptions;
use crate::physics::evaluation::evaluate;
use crate::problem::Problem;
use crate::report::samples;
use crate::scenario::{self, samples::NewPress, samples::NewSample};

/// List the samples of a scenario with what was predicted and measured, add one, or rank which to make next
#[derive(Debug, Args)]
#[command(after_help = "Examples:\n  thistledown samples my-wing.toml\n  thistledown samples my-wing.toml --next\n  \
thistledown samples my-wing.toml --add nose_carbon_pvc --area-cm2 400 --mass-g 34.5 --with ball --radius-mm 10 --loads 88,76,95\n\n\
Loads are one for each specimen, in N, to the first mark that is still there after five minutes (a covering: pierced). \
Wear eye protection and gloves when pressing and piercing; resin and dust are hazards.")]
pub struct SamplesArgs {
    /// Scenario file
    pub file: PathBuf,
    /// Rank which sample to make next, by how much it narrows the band of the index for an hour's work
    #[arg(long, conflicts_with = "add")]
    pub next: bool,
    /// Print it as JSON
    #[arg(long)]
    pub json: bool,
    /// Add a sample of this construction to the file
    #[arg(long, value_name = "CONSTRUCTION")]
    pub add: Option<String>,
    #[command(flatten)]
    pub new: NewArgs,
}

/// What an added sample says.
#[derive(Debug, Args)]
pub struct NewArgs {
    /// Area of one piece weighed
    #[arg(long, requires = "add", value_name = "CM2", value_parser = a_number, allow_negative_numbers = true)]
    pub area_cm2: Option<f64>,
    /// Mean mass of one piece
    #[arg(long, requires = "add", value_name = "G", value_parser = a_number, allow_negative_numbers = true)]
    pub mass_g: Option<f64>,
    /// Pieces weighed
    #[arg(long, requires = "add", value_name = "N")]
    pub pieces: Option<u32>,
    /// Weighed with finish and fairing
    #[arg(long, requires = "add")]
    pub finished: bool,
    /// Pressed with pad, ball or plunger
    #[arg(long, requires = "add", value_name = "TOOL")]
    pub with: Option<String>,
    /// Radius of it
    #[arg(long, requires = "add", value_name = "MM", value_parser = a_number, allow_negative_numbers = true)]
    pub radius_mm: Option<f64>,
    /// Load of each specimen, N
    #[arg(long, requires = "add", value_name = "N,N,..", value_delimiter = ',', value_parser = a_number, allow_negative_numbers = true)]
    pub loads: Vec<f64>,
    /// Pressed to mark or hole
    #[arg(long, requires = "add", value_name = "STATE")]
    pub to: Option<String>,
    /// Made by another process than the construction's
    #[arg(long, requires = "add", value_name = "PROCESS")]
    pub process: Option<String>,
    /// How it was made, in words
    #[arg(long, requires = "add", value_name = "WORDS")]
    pub made: Option<String>,
    /// Year-month-day
    #[arg(long, requires = "add", value_name = "DATE")]
    pub date: Option<String>,
    /// A remark
    #[arg(long, requires = "add", value_name = "WORDS")]
    pub note: Option<String>,
}

impl NewArgs {
    /// What it was pressed with, if it was.
    fn press(&self) -> Option<NewPress> {
        let Self { with, radius_mm, loads, to, .. } = self;
        (with.is_some() || !loads.is_empty()).then(|| NewPress {
            with: with.clone(),
            radius_mm: *radius_mm,
            loads_n: loads.clone(),
            to: to.clone(),
            at_c: None,
        })
    }
}

/// Run it.
pub fn run(args: &SamplesArgs) -> Outcome {
    if let Some(construction) = &args.add {
        let n = &args.new;
        if n.with.is_some() == n.loads.is_empty() {
            let next = "give both --with and --loads, or neither";
            return Err(vec![Problem::input("a press needs what it was pressed with and its loads", next)]);
        }
        let new = NewSample {
            construction: construction.clone(),
            area_cm2: n.area_cm2,
            mass_g: n.mass_g,
            pieces: n.pieces,
            finished: n.finished,
            presses: n.press().into_iter().collect(),
            process: n.process.clone(),
            made: n.made.clone(),
            date: n.date.clone(),
            note: n.note.clone(),
        };
        scenario::samples::add(&args.file, &new)?;
    }
    let s = scenario::load(&args.file)?;
    let d = &s.design;
    if args.json {
        say_json(&samples::json(d, &evaluate(d, &Assumptions::default())))?;
    } else if args.next {
        say(&samples::next_text(d, &evaluate(d, &Assumptions::default())))?;
    } else {
        say(&samples::text(d))?;
    }
    Ok(0)
}
