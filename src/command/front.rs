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
use crate::search::{self, Answer, Limits, Status, Table};

/// Search a table of constructions for every strip and bay: the exact front of mass against repair, and the lightest
/// design within limits
///
/// The table is JSON, all numbers whole ticks of your own choosing:
///   {"strips": [{"name", "bays", "candidates", "max_changes", "classes", "class_of": [class of each candidate],
///     "table": [candidate][bay] of [mass, repair, build, cost, dent] or null where it is not allowed,
///     "splice": [joint][from class][to class] of [mass, repair, build] or null where the change is forbidden}]}
/// A splice is paid at every change of construction, also inside one class. With one splice entry fewer than bays, entry
/// j stands between bays j and j + 1; with as many as bays, entry b stands between bays b - 1 and b. Unknown keys are
/// ignored. Front and lightest keep to all limits; the front with the limits on repair, build and cost lifted is printed
/// beside them as JSON where there are any.
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
    /// Stop with the best found, a bound and the gap after this many labels
    #[arg(long, value_name = "NUMBER", default_value_t = search::CEILING)]
    pub ceiling: usize,
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
    let text = if let Some(f) = file {
        std::fs::read_to_string(f).map_err(|e| vec![Problem::io(f, format!("cannot be read: {e}"))])?
    } else {
        let mut text = String::new();
        let read = std::io::stdin().read_to_string(&mut text);
        read.map_err(|e| vec![Problem::io("standard input", format!("cannot be read: {e}"))])?;
        text
    };
    let table = search::read::table(&text).map_err(|mut faults| {
        faults.iter_mut().for_each(|f| f.file = file.map(PathBuf::from));
        faults
    })?;
    let limits = Limits {
        repair: args.repair_limit,
        build: args.build_limit,
        cost: args.cost_limit,
        dent_floor: args.dent_floor,
    };
    let rules: Vec<Rule> = [
        args.most_changes.map(Rule::MostChanges),
        args.shortest_run.map(|bays| Rule::ShortestRun { strip: None, construction: None, bays }),
        args.most_constructions.map(Rule::MostConstructions),
    ]
    .into_iter()
    .flatten()
    .collect();
    let answer = search::solve_ruled(&table, &rules, &limits, args.ceiling)?;
    if args.json {
        say_json(&as_json(&limits, &answer))?;
    } else {
        let ruled = search::rules::apply(&table, &rules)?;
        say(&as_text(&table, &ruled.table, &limits, &answer))?;
    }
    Ok(u8::from(answer.status == Status::Infeasible))
}

fn as_json(limits: &Limits, answer: &Answer) -> Value {
    let lightest = answer.lightest.as_ref().map(|d| {
        let s = &d.sum;
        json!({
            "mass": s.mass, "repair": s.repair, "build": s.build, "cost": s.cost, "dent": s.dent, "design": d.choice,
        })
    });
    let pairs = |front: &[Point]| json!(front.iter().rev().map(|p| [p.mass, p.repair]).collect::<Vec<_>>());
    let (front, whole) = listed(answer);
    let mut out = json!({
        "front": pairs(front), "front_whole": whole, "lightest": lightest, "bound": answer.bound,
        "status": answer.status.word(),
    });
    if limits.repair.is_some() || limits.build.is_some() || limits.cost.is_some() {
        out["front_without_limits"] = pairs(&answer.front);
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
    let short = if whole { "" } else { "; label ceiling reached, points may be missing" };
    let _ = writeln!(out, "front within the limits, {} points, in the ticks of the table{short}", front.len());
    let _ = writeln!(out, "{:>12} {:>12}", "mass", "repair");
    for p in front.iter().rev() {
        let _ = writeln!(out, "{:>12} {:>12}", p.mass, p.repair);
    }
    match &answer.lightest {
        None if answer.status == Status::Ceiling => {
            let bound = answer.bound.unwrap_or_default();
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
            let bound = answer.bound.unwrap_or_default();
            let _ = match answer.status {
                Status::Ceiling => writeln!(
                    out,
                    "label ceiling reached: not proven; none weighs less than {bound}, a gap of {}",
                    s.mass.saturating_sub(bound)
                ),
                _ => writeln!(out, "proven: none within the limits is lighter, for this table"),
            };
            for (strip, choice) in strips.iter().zip(&d.choice) {
                let _ = writeln!(out, "  {}: {}", strip.name, runs(&strip.candidates, choice));
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
        words.push(format!("{bays} {}", names.get(run[0]).map_or("?", String::as_str)));
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
