//! The screen, or the plain assessment where there is no terminal.

use std::io::IsTerminal;
use std::path::Path;

use crate::command::{Outcome, assess, definition, say, scenario_or_demo};
use crate::problem::Problem;
use crate::scenario::nearest_file;
use crate::screen;
use crate::survey::space::distance;

/// Open a scenario on the screen.
pub fn run(file: Option<&Path>) -> Outcome {
    if let Some(p) = file
        && !p.exists()
    {
        return Err(vec![no_such(p)]);
    }
    if std::io::stdin().is_terminal() && std::io::stdout().is_terminal() {
        screen::open(scenario_or_demo(file)?).map_err(|p| vec![p])?;
        return Ok(screen::terminal::exit_code());
    }
    let args = assess::AssessArgs {
        file: file.map(Path::to_owned),
        set: Vec::new(),
        json: false,
        csv: None,
        must_pass: false,
    };
    let code = assess::run(&args)?;
    say(
        "\nThis is the plain assessment: no terminal is attached. Run thistledown in a terminal of at least 80x24 for the screen.\n",
    )?;
    Ok(code)
}

/// A word that is neither a file nor a command.
pub(super) fn no_such(path: &Path) -> Problem {
    let word = path.to_string_lossy();
    let definition = definition();
    let nearest = definition
        .get_subcommands()
        .filter(|c| !c.is_hide_set())
        .map(clap::Command::get_name)
        .min_by_key(|n| distance(n, &word))
        .unwrap_or("");
    if distance(nearest, &word) <= 2 {
        return Problem::input(
            format!("`{word}` is neither a file nor a command"),
            format!("the nearest command is `{nearest}`"),
        );
    }
    let mut p = Problem::io(path, "there is no such file, nor a command of that name".to_owned());
    if let Some(near) = nearest_file(path) {
        p.next = format!("the nearest there is `{}`", near.display());
    }
    p
}
