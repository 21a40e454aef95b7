//! `front`: a table of whole numbers in, the exact front out; the search apart from the physics.

use std::fmt::Write as _;
use std::io::Read as _;
use std::path::PathBuf;

use clap::Args;
use serde_json::{Value, json};

use crate::command::{Outcome, say, say_json};
use crate::problem::Problem;
use crate::search::front::Point;
use crate::search::rules::Rule;
use crate::search::{self, Answer, Design, Limits, Status, Table};

/// Search a bare table of constructions: the exact front of mass against repair, and the lightest
///
/// The table is JSON, all numbers whole ticks of your own choosing:
///   {"strips": [{"name", "bays", "candidates", "max_changes", "classes",
///     "class_of": [class of each candidate],
///     "table": [candidate][bay] of [mass, repair, build, cost, dent]
///       or null where it is not allowed,
///     "splice": [joint][from class][to class] of [mass, repair, build]
///       or null where the change is forbidden}]}
/// A splice is paid at every change of construction, also inside one class.
/// With one splice entry fewer than bays, entry j stands between bays j and
/// j + 1; with as many as bays, entry b stands between bays b - 1 and b.
/// Unknown keys are ignored.
///
/// Front and lightest keep to all limits. As JSON the front with the limits on
/// repair, build and cost lifted is printed beside them where there are any,
/// and a front that nothing can lie below where the label ceiling cut it short.
///
/// Exit code 1 when no design keeps to the limits.
///
/// Example: thistledown front table.json --repair-limit 600 --json
#[derive(Debug, Args)]
#[command(verbatim_doc_comment)]
pub struct FrontArgs {
    /// Table as JSON; `-` or nothing reads standard input
    pub file: Option<PathBuf>,
    /// Most repair of a design, in ticks of the table
    #[arg(long, value_name = "TICKS")]
    pub repair_limit: Option<u64>,
    /// Most build of a design
    #[arg(long, value_name = "TICKS")]
    pub build_limit: Option<u64>,
    /// Most cost of a design
    #[arg(long, value_name = "TICKS")]
    pub cost_limit: Option<u64>,
    /// Least dent load of every cell used
    #[arg(long, value_name = "LOAD", default_value_t = 0)]
    pub dent_floor: u32,
    /// At most this many changes along every strip
    #[arg(long, value_name = "NUMBER")]
    pub most_changes: Option<usize>,
    /// Every construction runs at least this many bays, or its whole strip
    #[arg(long, value_name = "BAYS")]
    pub shortest_run: Option<usize>,
    /// At most this many different constructions in the whole wing
    #[arg(long, value_name = "NUMBER", value_parser = read_positive)]
    pub most_constructions: Option<usize>,
    /// Stop with the best found, a bound and the gap after this many labels (a whole list may take a few times as many)
    #[arg(long, value_name = "NUMBER", default_value_t = search::CEILING)]
    pub ceiling: usize,
    /// Only the lightest within the limits, without any front: the quick way under limits on build and cost
    #[arg(long)]
    pub lightest: bool,
    /// Print it as JSON
    #[arg(long)]
    pub json: bool,
}

fn read_positive(text: &str) -> Result<usize, String> {
    text.parse().ok().filter(|n| *n > 0).ok_or_else(|| "write a whole number, 1 or more".to_owned())
}

/// Run it.
pub fn run(args: &FrontArgs) -> Outcome {
    let file = args.file.as_deref().filter(|f| f.as_os_str() != "-");
    let bytes = if let Some(f) = file {
        std::fs::read(f).map_err(|e| vec![Problem::io(f, format!("cannot be read: {e}"))])?
    } else {
        let mut bytes = Vec::new();
        let read = std::io::stdin().read_to_end(&mut bytes);
        read.map_err(|e| vec![Problem::io("standard input", format!("cannot be read: {e}"))])?;
        bytes
    };
    let text = String::from_utf8(bytes).map_err(|e| {
        let mut fault = Problem::input(format!("this is not JSON: {e}"), "write it as UTF-8 text");
        fault.file = file.map(PathBuf::from);
        vec![fault]
    })?;
    let table = search::read::table(&text).map_err(|mut faults| {
        faults.iter_mut().for_each(|f| f.file = file.map(PathBuf::from));
        faults
    })?;
    let limits = Limits {
        repair: args.repair_limit,
        build: args.build_limit,
        cost: args.cost_limit,
        dent_floor: args.dent_floor,
        ..Limits::default()
    };
    let rules: Vec<Rule> = [
        args.most_changes.map(Rule::MostChanges),
        args.shortest_run.map(|bays| Rule::ShortestRun { strip: None, construction: None, bays }),
        args.most_constructions.map(Rule::MostConstructions),
    ]
    .into_iter()
    .flatten()
    .collect();
    if args.lightest {
        let (lightest, bound, status) = search::lightest_ruled(&table, &rules, &limits, args.ceiling)?;
        if args.json {
            say_json(&json!({"lightest": design_json(lightest.as_ref()), "bound": bound, "status": status.word()}))?;
        } else {
            say(lightest_text(&table, lightest.as_ref(), bound, status).trim_start())?;
        }
        return Ok(u8::from(status == Status::Infeasible));
    }
    let answer = search::solve_ruled(&table, &rules, &limits, args.ceiling)?;
    if args.json {
        say_json(&as_json(&limits, &answer))?;
    } else {
        let ruled = search::rules::apply(&table, &rules)?;
        say(&as_text(&table, &ruled.table, &limits, &answer))?;
    }
    Ok(u8::from(answer.status == Status::Infeasible))
}

fn design_json(design: Option<&Design>) -> Value {
    design.map_or(Value::Null, |d| {
        let s = &d.sum;
        json!({
            "mass": s.mass, "repair": s.repair, "build": s.build, "cost": s.cost, "dent": s.dent, "design": d.choice,
        })
    })
}

fn as_json(limits: &Limits, answer: &Answer) -> Value {
    let pairs = |front: &[Point]| json!(front.iter().rev().map(|p| [p.mass, p.repair]).collect::<Vec<_>>());
    let (front, whole) = listed(answer);
    let mut out = json!({
        "front": pairs(front), "front_whole": whole, "lightest": design_json(answer.lightest.as_ref()),
        "bound": answer.bound, "status": answer.status.word(),
    });
    if limits.repair.is_some() || limits.build.is_some() || limits.cost.is_some() {
        out["front_without_limits"] = pairs(&answer.front);
    }
    if !whole {
        out["front_bound"] = pairs(&answer.front_bound);
    }
    out
}

/// The front within all limits, and whether it is whole.
fn listed(answer: &Answer) -> (&[Point], bool) {
    answer.within.as_ref().map_or((&answer.front, answer.front_whole), |(f, whole)| (f, *whole))
}

fn as_text(table: &Table, ruled: &Table, limits: &Limits, answer: &Answer) -> String {
    let mut out = String::new();
    let strips = table.strips();
    for (s, b) in table.empty_bays(limits.dent_floor) {
        let _ = writeln!(out, "strip `{}`, bay {b}: no construction is allowed there", strips[s].name);
    }
    if answer.front.is_empty() && answer.status == Status::Infeasible {
        let _ = writeln!(out, "no design at all: {}", blocked(ruled, limits));
        return out;
    }
    let (front, whole) = listed(answer);
    let short = if whole {
        ""
    } else {
        "; label ceiling reached: the best found, points may be missing (--ceiling allows more)"
    };
    let points = if front.len() == 1 { "point" } else { "points" };
    let _ = writeln!(out, "front within the limits, {} {points}, in the ticks of the table{short}", front.len());
    let _ = writeln!(out, "{:>12} {:>12}", "mass", "repair");
    for p in front.iter().rev() {
        let _ = writeln!(out, "{:>12} {:>12}", p.mass, p.repair);
    }
    out + &lightest_text(table, answer.lightest.as_ref(), answer.bound, answer.status)
}

fn lightest_text(table: &Table, lightest: Option<&Design>, bound: Option<u32>, status: Status) -> String {
    let mut out = String::new();
    let bound = bound.unwrap_or_default();
    match lightest {
        None if status == Status::Ceiling => {
            let _ = writeln!(
                out,
                "\nlabel ceiling reached: none found within the limits; if there is one it weighs {bound} or more"
            );
        }
        None => {
            let _ = writeln!(out, "\nno design keeps to the limits");
        }
        Some(d) => {
            let s = &d.sum;
            let _ = writeln!(
                out,
                "\nlightest within the limits: mass {}, repair {}, build {}, cost {}, least dent load {}",
                s.mass, s.repair, s.build, s.cost, s.dent,
            );
            let _ = match status {
                Status::Ceiling => writeln!(
                    out,
                    "label ceiling reached: not proven; none weighs less than {bound}, a gap of {}",
                    s.mass.saturating_sub(bound)
                ),
                _ => writeln!(out, "proven: none within the limits is lighter, for this table"),
            };
            for (strip, choice) in table.strips().iter().zip(&d.choice) {
                let _ = writeln!(out, "  strip `{}`: {}", strip.name, runs(&strip.candidates, choice));
            }
        }
    }
    out
}

/// "0-3 thin, 4-7 thick".
fn runs(names: &[String], choice: &[usize]) -> String {
    let mut first = 0;
    let mut words = Vec::new();
    for run in choice.chunk_by(|a, b| a == b) {
        let last = first + run.len() - 1;
        let bays = if last > first { format!("bays {first}-{last}") } else { format!("bay {first}") };
        let name = names.get(run[0]).map_or("?", String::as_str);
        // A construction that was only counted has its number for a name.
        let numbered = if name.parse::<usize>().is_ok() { "candidate " } else { "" };
        words.push(format!("{bays} {numbered}{name}"));
        first = last + 1;
    }
    words.join(", ")
}

/// Which strips stand in the way when no bay is empty.
fn blocked(table: &Table, limits: &Limits) -> String {
    let wing = search::wing::Wing::new(table, limits.dent_floor);
    let names: Vec<String> = wing.blocked().iter().map(|&s| format!("strip `{}`", table.strips()[s].name)).collect();
    format!("{} cannot run from root to tip within its changes, runs and joints", names.join(", "))
}
