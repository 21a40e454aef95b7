//! `report`: one page that hands the wing over to a reviewer.

use std::path::{Path, PathBuf};

use clap::Args;

use crate::command::{Outcome, say, say_as_it_is, set_dials, sides};
use crate::problem::{Problem, io_words};
use crate::report::compare;
use crate::report::page::{Wing, page};
use crate::scenario::save::replace_file;

/// Hand the wing over: one self-contained page with drawings, plots, margins with their working, and sources
///
/// Several scenarios stand side by side at its head, each in full below.
#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  thistledown report my-wing.toml\n  thistledown report my-wing.toml -o review.html --overwrite\n  \
thistledown report thin.toml tough.toml -o both.html\n\n\
The page needs no network and no script, opens in any browser and prints on A4. It is an estimate for design study and no \
approval to fly: a qualified person reviews, checks and proof-tests before flight."
)]
pub struct ReportArgs {
    /// Scenario files
    #[arg(required = true)]
    pub files: Vec<PathBuf>,
    /// Where to write it; the first scenario's name with .html when left out, - for standard output
    #[arg(short, long, value_name = "OUT.html")]
    pub output: Option<PathBuf>,
    /// Write over a page that is there already
    #[arg(long)]
    pub overwrite: bool,
    /// Turn a dial of every scenario first (may be given again)
    #[arg(long, value_name = "KEY=VALUE")]
    pub set: Vec<String>,
}

/// Where the page goes; nothing for standard output.
fn place(args: &ReportArgs) -> Result<Option<PathBuf>, Vec<Problem>> {
    let beside = || args.files.first().map(|f| f.with_extension("html")).unwrap_or_default();
    let out = args.output.clone().unwrap_or_else(beside);
    if out.as_os_str() == "-" {
        return Ok(None);
    }
    let refuse = |what: &str, next: &str| {
        let mut p = Problem::input(what, next);
        p.file = Some(out.clone());
        Err(vec![p])
    };
    if out.is_dir() {
        return refuse("this is a folder", "name the page after -o, like review.html");
    }
    if out.exists() && !out.is_file() {
        return refuse("this is no plain file", "name the page after -o, like review.html, or - for standard output");
    }
    if out.file_name().is_none() {
        return refuse("this names no file", "name the page after -o, like review.html");
    }
    let is = |end: &str| out.extension().is_some_and(|e| e.eq_ignore_ascii_case(end));
    if is("toml") || args.files.iter().any(|f| same(f, &out)) {
        return refuse("a page never takes the place of a scenario", "choose a name that ends in .html");
    }
    if out.exists() && !args.overwrite {
        return refuse(
            "there is already a file of that name; nothing was written",
            "choose another name after -o, or say --overwrite",
        );
    }
    Ok(Some(out))
}

fn same(a: &Path, b: &Path) -> bool {
    a == b || matches!((a.canonicalize(), b.canonicalize()), (Ok(a), Ok(b)) if a == b)
}

/// Run it.
pub fn run(args: &ReportArgs) -> Outcome {
    let out = place(args)?;
    let (sides, texts) = sides(&args.files, |design| set_dials(design, &args.set))?;
    let wings: Vec<Wing> = sides
        .iter()
        .zip(&texts)
        .zip(&args.files)
        .map(|((side, text), file)| {
            let name = file.file_name().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default();
            Wing::of(side, &name, text, &args.set)
        })
        .collect();
    let compared = (sides.len() > 1).then(|| compare::json(&sides));
    let text = page(&wings, compared.as_ref());
    let Some(out) = out else {
        say_as_it_is(&text)?;
        return Ok(0);
    };
    replace_file(&out, text.as_bytes()).map_err(|e| vec![Problem::io(&out, io_words(&e))])?;
    say(&format!("{} written; open it in a browser, or print it\n", out.display()))?;
    Ok(0)
}
