//! The command line: one file for each command.

use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use clap::{CommandFactory, Parser, Subcommand};

use crate::physics::assumptions::Assumptions;
use crate::physics::design::Design;
use crate::physics::evaluation::evaluate;
use crate::problem::Problem;
use crate::report::compare::Side;
use crate::scenario::{self, Scenario};

pub mod assess;
pub mod check;
pub mod compare;
pub mod explain;
pub mod front;
pub mod holds;
pub mod library;
pub mod manual;
pub mod new;
pub mod open;
pub mod proof;
pub mod report;
pub mod samples;
pub mod search;
pub mod workshop;

/// What a command gives: its exit code, or what is wrong.
pub type Outcome = Result<u8, Vec<Problem>>;

/// Trade weight against toughness in a foot-launched rigid composite wing.
///
/// With a FILE, or with nothing at all, the screen opens: on that scenario, or on the invented Marram demo.
#[derive(Debug, Parser)]
#[command(name = "thistledown", version, args_conflicts_with_subcommands = true, after_help = crate::report::CAUTIONS)]
struct Line {
    /// Scenario to open on the screen
    file: Option<PathBuf>,
    #[command(subcommand)]
    command: Option<Command>,
}

#[derive(Debug, Subcommand)]
enum Command {
    New(new::NewArgs),
    Check(check::CheckArgs),
    Assess(assess::AssessArgs),
    Compare(compare::CompareArgs),
    Search(search::SearchArgs),
    Front(front::FrontArgs),
    Holds(holds::HoldsArgs),
    Samples(Box<samples::SamplesArgs>),
    Workshop(Box<workshop::WorkshopArgs>),
    Report(report::ReportArgs),
    Explain(explain::ExplainArgs),
    Library(library::LibraryArgs),
    #[command(hide = true)]
    Manual(manual::ManualArgs),
    #[command(hide = true)]
    Completions(manual::CompletionsArgs),
}

/// Whether a word is one of the commands.
fn is_command(word: &Path) -> bool {
    Line::command().get_subcommands().any(|c| word.to_str() == Some(c.get_name()))
}

/// Read the arguments, run the command, give its exit code.
pub fn run() -> ExitCode {
    let line = match Line::try_parse() {
        Ok(line) => line,
        Err(e) => {
            // A mistyped command with arguments reads as a file and a command that exclude each other.
            let first = std::env::args_os().nth(1).map(PathBuf::from);
            if let (clap::error::ErrorKind::ArgumentConflict, Some(word)) =
                (e.kind(), first.filter(|w| !w.exists() && !is_command(w)))
            {
                let p = open::no_such(&word);
                let _ = writeln!(std::io::stderr(), "{p}");
                return ExitCode::from(p.exit_code());
            }
            e.exit()
        }
    };
    let outcome = match &line.command {
        None => open::run(line.file.as_deref()),
        Some(Command::New(a)) => new::run(a),
        Some(Command::Check(a)) => check::run(a),
        Some(Command::Report(a)) => report::run(a),
        Some(Command::Explain(a)) => explain::run(a),
        Some(Command::Library(a)) => library::run(a),
        Some(Command::Assess(a)) => assess::run(a),
        Some(Command::Compare(a)) => compare::run(a),
        Some(Command::Search(a)) => search::run(a),
        Some(Command::Front(a)) => front::run(a),
        Some(Command::Holds(a)) => holds::run(a),
        Some(Command::Samples(a)) => samples::run(a),
        Some(Command::Workshop(a)) => workshop::run(a),
        Some(Command::Manual(a)) => manual::run(a),
        Some(Command::Completions(a)) => manual::completions(a),
    };
    match outcome {
        Ok(code) => ExitCode::from(code),
        Err(problems) => {
            let mut err = std::io::stderr().lock();
            for p in &problems {
                let _ = writeln!(err, "{p}");
            }
            ExitCode::from(problems.iter().map(Problem::exit_code).max().unwrap_or(70))
        }
    }
}

/// The clap definition, for the manual page and completions.
fn definition() -> clap::Command {
    Line::command()
}

/// Words for a person: on a terminal broken to its width, elsewhere line by line as they are.
fn say(text: &str) -> Result<(), Vec<Problem>> {
    match crate::screen::terminal::columns() {
        Some(width) => say_as_it_is(&crate::screen::wrap::text(text, width)),
        None => say_as_it_is(text),
    }
}

/// Write an answer to standard output; a closed pipe ends quietly.
fn say_as_it_is(text: &str) -> Result<(), Vec<Problem>> {
    let mut out = std::io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Err(e) if e.kind() != std::io::ErrorKind::BrokenPipe => {
            Err(vec![Problem::io("standard output", e.to_string())])
        }
        _ => Ok(()),
    }
}

/// Pretty JSON and a line end.
fn say_json(value: &serde_json::Value) -> Result<(), Vec<Problem>> {
    say_as_it_is(&format!("{value:#}\n"))
}

/// A file, or the demo when none is named.
fn scenario_or_demo(file: Option<&Path>) -> Result<Scenario, Vec<Problem>> {
    file.map_or_else(scenario::demo, scenario::load)
}

/// Every file read, changed as asked and evaluated, with its text; all faults of all files at once.
fn sides(
    files: &[PathBuf],
    change: impl Fn(&mut Design) -> Result<(), Vec<Problem>>,
) -> Result<(Vec<Side>, Vec<String>), Vec<Problem>> {
    let (mut sides, mut texts, mut problems) = (Vec::new(), Vec::new(), Vec::new());
    for file in files {
        let read = scenario::load(file).and_then(|mut s| change(&mut s.design).map(|()| s));
        match read {
            Ok(Scenario { design, text, .. }) => {
                let evaluation = evaluate(&design, &Assumptions::default());
                sides.push(Side { name: design.name.clone(), design, evaluation });
                texts.push(text);
            }
            Err(mut p) => problems.append(&mut p),
        }
    }
    if !problems.is_empty() {
        return Err(problems);
    }
    // Wings of one name are told apart by their files.
    let names: Vec<String> = sides.iter().map(|s| s.name.clone()).collect();
    for (side, file) in sides.iter_mut().zip(files) {
        if names.iter().filter(|n| **n == side.name).count() > 1 {
            side.name = file.file_stem().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default();
        }
    }
    Ok((sides, texts))
}

/// A number as an argument.
fn a_number(text: &str) -> Result<f64, String> {
    let number = text.trim().parse::<f64>().ok().filter(|v| v.is_finite());
    number.ok_or_else(|| "not a number; write digits, like 12.5".to_owned())
}

/// Turn dials as `KEY=VALUE` says.
fn set_dials(design: &mut Design, settings: &[String]) -> Result<(), Vec<Problem>> {
    let mut problems = Vec::new();
    for s in settings {
        if !s.contains('=') {
            let next = "write KEY=VALUE, like planform.span_m=13.2";
            problems.push(Problem::input(format!("`{s}` does not say what a dial is set to"), next));
            continue;
        }
        match crate::survey::space::read_axis(s, design) {
            Ok(axis) if axis.values.len() == 1 => axis.dial.set(design, axis.values[0]),
            Ok(_) => problems.push(Problem::input(format!("`{s}` gives more than one value"), "write KEY=VALUE")),
            Err(p) => problems.push(p),
        }
    }
    if problems.is_empty() { Ok(()) } else { Err(problems) }
}
