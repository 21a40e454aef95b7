//! `new`: a commented scenario to start from.

use std::path::PathBuf;

use clap::Args;

use crate::command::{Outcome, say};
use crate::problem::{Problem, io_words};
use crate::scenario::save::replace_file;

/// Write a commented starting scenario
///
/// Example: thistledown new my-wing.toml --name "My wing"
#[derive(Debug, Args)]
pub struct NewArgs {
    /// Where to write it; an existing file is never overwritten
    pub file: PathBuf,
    /// Name of the wing
    #[arg(long, default_value = "My wing")]
    pub name: String,
}

const GUIDE: &str = "\
# A scenario of thistledown. Every number is an invented starting value: replace it with your own.
# Keys end in their unit (span_m, areal_mass_g_m2); imperial keys (span_ft, pilot_lb) are accepted for the same inputs.
# Places along the span run from 0 at the root to 1 at the tip; places along the chord from 0 at the leading edge.
# List what you can build with:  thistledown library        What a word means:  thistledown explain WORD
# Check the file:  thistledown check FILE     See everything:  thistledown assess FILE     Turn it:  thistledown FILE
# Results are estimates for design study and no approval to fly: a qualified person checks and proof-tests before flight.
";

/// Run it.
pub fn run(args: &NewArgs) -> Outcome {
    if args.file.exists() {
        let mut p = Problem::input("there is already a file of that name; nothing was written", "choose another name");
        p.file = Some(args.file.clone());
        return Err(vec![p]);
    }
    if args.name.chars().any(|c| c.is_control() || c == '"' || c == '\\') {
        return Err(vec![Problem::input(
            "a name cannot hold quotes, backslashes or control characters",
            "choose a plainer name",
        )]);
    }
    let demo = include_str!("../../scenarios/marram-mixed.toml");
    let body: String = demo.lines().skip(1).fold(String::new(), |mut s, l| {
        s.push_str(l);
        s.push('\n');
        s
    });
    let text = format!("{GUIDE}{body}")
        .replacen("name = \"Marram, mixed\"", &format!("name = \"{}\"", args.name), 1)
        .replacen("note = \"Invented demo wing: ", "note = \"Started from an invented example: ", 1);
    replace_file(&args.file, text.as_bytes()).map_err(|e| vec![Problem::io(&args.file, io_words(&e))])?;
    say(&format!("{} written; open it with: thistledown {}\n", args.file.display(), args.file.display()))?;
    Ok(0)
}
