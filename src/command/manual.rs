//! The manual page and shell completions, both from the one definition of the command line.

use clap::Args;
use clap_complete::Shell;

use crate::command::{Outcome, definition, say_as_it_is};
use crate::problem::Problem;

/// Print the manual page in roff
#[derive(Debug, Args)]
pub struct ManualArgs {}

/// Print completions for a shell
///
/// Example: thistledown completions bash > thistledown.bash
#[derive(Debug, Args)]
pub struct CompletionsArgs {
    /// The shell
    pub shell: Shell,
}

/// Run `manual`.
pub fn run(_: &ManualArgs) -> Outcome {
    let mut page = Vec::new();
    clap_mangen::Man::new(definition()).render(&mut page).map_err(|e| vec![Problem::fault(e.to_string())])?;
    say_as_it_is(&String::from_utf8_lossy(&page))?;
    Ok(0)
}

/// Run `completions`.
pub fn completions(args: &CompletionsArgs) -> Outcome {
    let mut script = Vec::new();
    clap_complete::generate(args.shell, &mut definition(), "thistledown", &mut script);
    say_as_it_is(&String::from_utf8_lossy(&script))?;
    Ok(0)
}
