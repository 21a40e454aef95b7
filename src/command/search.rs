//! `search`: dials and constructions varied over a grid, on all cores, resumable.

use std::fmt::Write as _;
use std::io::{IsTerminal, Write as _};
use std::path::PathBuf;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use clap::Args;
use serde_json::{Value, json};

use crate::command::{Outcome, say, say_json, scenario_or_demo};
use crate::mix::limits::Ticks;
use crate::mix::{self, Mix};
use crate::physics::assumptions::Assumptions;
use crate::physics::design::Design;
use crate::physics::evaluation::evaluate;
use crate::physics::strength::Verdict;
use crate::problem::{Problem, ProblemKind};
use crate::report;
use crate::report::text::{margin_line, worst_of_each_mode};
use crate::scenario::{self, Scenario};
use crate::survey::cell::{HOUR_TICK_H, MASS_TICK_KG, Status};
use crate::survey::run::{Found, Plan, Point, Progress, Shard, run_file_beside};
use crate::survey::space::{Space, read_axis};

/// Search for the lightest durable mix: constructions exactly, dials over a grid
///
/// With nothing to vary, the exact search finds the lightest mix of constructions at the dials as they stand. With dials
/// to vary it does so in every cell of the grid, unless a varied dial says itself which construction stands where.
///
/// A finished part is never lost: stop with Ctrl-C or kill -9, give the same command again, and it goes on.
///
/// Example: thistledown search scenarios/marram-mixed.toml --vary planform.span_m=12.8:13.6:0.2
#[derive(Debug, Args)]
pub struct SearchArgs {
    /// Scenario file; the Marram demo when left out
    pub file: Option<PathBuf>,
    /// What varies: KEY=FROM:TO:STEP or KEY=A,B,C (may be given again); the file's own [search] when left out.
    /// Keys are those of the file; entries of a list count from 1, like ribs.region.1.bays
    #[arg(long, value_name = "KEY=VALUES")]
    pub vary: Vec<String>,
    /// Run file; beside the scenario when left out. `{}` in it stands for the number of a part, with --shard and --merge
    #[arg(long, value_name = "FILE")]
    pub run: Option<PathBuf>,
    /// Threads; all cores when left out
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=1024))]
    pub threads: Option<u16>,
    /// Only part K of N (K from 0), for a job array
    #[arg(long, value_name = "K/N", value_parser = read_shard)]
    pub shard: Option<Shard>,
    /// Put together the run files of N parts instead of running: those --shard wrote beside the scenario, or as --run
    /// names them with `{}` for the number of a part
    #[arg(long, value_name = "N", conflicts_with_all = ["shard", "show"], value_parser = clap::value_parser!(u64).range(1..=100_000))]
    pub merge: Option<u64>,
    /// Show what the run file holds instead of running; give the flags that the run was given
    #[arg(long)]
    pub show: bool,
    /// Write a design of the front, counted from 1, as a scenario
    #[arg(long, value_name = "NUMBER", requires = "into")]
    pub take: Option<usize>,
    /// Where `--take` writes
    #[arg(long, value_name = "FILE")]
    pub into: Option<PathBuf>,
    /// After the grid, search once more with half steps around its front (a run file of its own)
    #[arg(long, conflicts_with_all = ["shard", "merge", "show", "take"])]
    pub refine: bool,
    /// Constructions stay as drawn: only the varied dials move
    #[arg(long)]
    pub as_drawn: bool,
    /// Points of the front evaluated in full, beside the lightest (nothing varied)
    #[arg(long, value_name = "N", default_value_t = 8, value_parser = clap::value_parser!(u16).range(0..=200))]
    pub rows: u16,
    /// Print the result as JSON
    #[arg(long)]
    pub json: bool,
}

fn read_shard(text: &str) -> Result<Shard, String> {
    let part = || {
        let (k, n) = text.split_once('/')?;
        Some(Shard { k: k.parse().ok()?, n: n.parse().ok()? })
    };
    part().filter(|s| s.n > 0 && s.k < s.n).ok_or_else(|| "write K/N with K from 0 and below N, like 0/4".to_owned())
}

/// Run it.
pub fn run(args: &SearchArgs) -> Outcome {
    let scenario = scenario_or_demo(args.file.as_deref())?;
    let axes = if args.vary.is_empty() {
        scenario.search.vary.clone()
    } else {
        let read: Vec<_> = args.vary.iter().map(|v| read_axis(v, &scenario.design)).collect();
        let (good, bad): (Vec<_>, Vec<_>) = read.into_iter().partition(Result::is_ok);
        if !bad.is_empty() {
            return Err(bad.into_iter().filter_map(Result::err).collect());
        }
        good.into_iter().filter_map(Result::ok).collect()
    };
    if axes.is_empty() && !args.as_drawn {
        return one_mix(args, &scenario);
    }
    let plan = plan(args, &scenario, Space::new(axes).map_err(|p| vec![p])?);
    let found = find(args, &plan)?;
    if let (Some(number), Some(into)) = (args.take, &args.into) {
        return take(&scenario, &plan, &found, number, into);
    }
    let total = plan.shard.cells(plan.space.cells());
    let finer = if args.refine && found.cells_done == total { refine(args, &plan, &found)? } else { None };
    if let (Some((plan, found)), false) = (&finer, args.json) {
        say(&format!(
            "half steps around the front of the grid:\n{}\nthe grid itself:\n",
            as_text(plan, found, plan.space.cells(), None)
        ))?;
    }
    if args.json {
        let mut out = as_json(&plan, &found, total);
        if let (Some((p, f)), Some(o)) = (&finer, out.as_object_mut()) {
            o.insert("refined".to_owned(), as_json(p, f, p.space.cells()));
        }
        say_json(&out)?;
    } else {
        let merged = args.merge.map(|n| format!("put together from {n} run files"));
        say(&as_text(&plan, &found, total, merged))?;
    }
    Ok(u8::from(found.cells_done == total && found.front.is_empty()))
}

fn plan(args: &SearchArgs, scenario: &Scenario, space: Space) -> Plan {
    let shard = args.shard.unwrap_or(Shard::WHOLE);
    let run_file = run_file_of(args, scenario.path.as_deref(), shard);
    let threads = args.threads.map_or_else(|| std::thread::available_parallelism().map_or(1, usize::from), usize::from);
    let inside = if args.as_drawn { None } else { space.inside(&scenario.search.mix) };
    let mut plan = Plan { base: scenario.design.clone(), space, shard, run_file, threads, inside };
    // A run file of another search beside the scenario stays as it is: this one gets a name of its own, the same every time.
    if args.run.is_none() && args.merge.is_none() && shard == Shard::WHOLE && is_of_another(&plan) {
        let print = plan.fingerprint();
        let mark = format!("{:02x}{:02x}{:02x}{:02x}", print[0], print[1], print[2], print[3]);
        plan.run_file = plan.run_file.with_extension(format!("{mark}.run"));
    }
    plan
}

/// The run file is there and holds another search.
fn is_of_another(plan: &Plan) -> bool {
    plan.run_file.exists() && plan.show().is_err_and(|p| p.kind == ProblemKind::Input)
}

/// The run file of a part as `--run` names it, or the one beside the scenario.
fn run_file_of(args: &SearchArgs, scenario: Option<&std::path::Path>, shard: Shard) -> PathBuf {
    args.run.as_ref().map_or_else(
        || run_file_beside(scenario, shard),
        |named| PathBuf::from(named.to_string_lossy().replace("{}", &shard.k.to_string())),
    )
}

fn find(args: &SearchArgs, plan: &Plan) -> Result<Found, Vec<Problem>> {
    if let Some(n) = args.merge {
        return merge(args, plan, n);
    }
    if args.show || args.take.is_some() {
        return plan.show().map_err(|p| vec![p]);
    }
    let stop = Arc::new(AtomicBool::new(false));
    for signal in [signal_hook::consts::SIGINT, signal_hook::consts::SIGTERM] {
        signal_hook::flag::register(signal, Arc::clone(&stop)).map_err(|e| vec![Problem::fault(e.to_string())])?;
    }
    let mut line = ProgressLine::new();
    let found = plan.run(&stop, |p, f| line.show(p, f)).map_err(|p| vec![p])?;
    line.end();
    if stop.load(Ordering::Relaxed) {
        let _ = writeln!(std::io::stderr(), "stopped; the same command goes on from here");
    }
    Ok(found)
}

/// Half steps around the front, in a run file beside the grid's.
fn refine(args: &SearchArgs, plan: &Plan, found: &Found) -> Result<Option<(Plan, Found)>, Vec<Problem>> {
    let around: Vec<u64> = found.front.iter().map(|p| p.cell).collect();
    let Some(space) = plan.space.refined(&around) else { return Ok(None) };
    let finer = Plan { space, run_file: plan.run_file.with_extension("finer.run"), ..plan.clone() };
    let found = find(args, &finer)?;
    Ok(Some((finer, found)))
}

/// The exact search at the dials as they stand.
fn one_mix(args: &SearchArgs, scenario: &Scenario) -> Outcome {
    let d = &scenario.design;
    // Nobody waits for a frame here.
    let ask = mix::Ask { every_point: true, ..scenario.search.mix.clone() };
    let found = mix::find(d, &ask, Ticks::FINE, usize::from(args.rows), &Assumptions::default())?;
    if let (Some(number), Some(into)) = (args.take, &args.into) {
        let row = found.lightest.iter().chain(&found.rows).nth(number.wrapping_sub(1));
        let Some(row) = row else {
            let n = found.rows.len() + usize::from(found.lightest.is_some());
            return Err(vec![Problem::input(format!("there is no design {number}"), format!("there are {n}"))]);
        };
        return write_taken(scenario, &row.design, into, &format!("design {number}"));
    }
    if args.json {
        say_json(&report::mix::as_json(&found))?;
    } else {
        say(&report::mix::text(&found))?;
    }
    Ok(u8::from(found.lightest.is_none()))
}

/// Write a design as a scenario of its own, never over a file.
fn write_taken(scenario: &Scenario, design: &Design, into: &std::path::Path, words: &str) -> Outcome {
    if into.exists() {
        return Err(vec![Problem::io(into, "there is already a file of that name; nothing was written")]);
    }
    let mut copy = scenario.clone();
    scenario::save(&mut copy, design, into, false).map_err(|p| vec![p])?;
    say(&format!("{words} written to {}\n", into.display()))?;
    Ok(0)
}

/// The run files of all parts, or which are missing.
fn merge(args: &SearchArgs, plan: &Plan, n: u64) -> Result<Found, Vec<Problem>> {
    if n > 1 && args.run.as_ref().is_some_and(|r| !r.to_string_lossy().contains("{}")) {
        let next = "write --run with {} where the number of a part stands, like part{}.run";
        return Err(vec![Problem::input(format!("--run names one file for {n} parts"), next)]);
    }
    let mut all = Found::default();
    let mut problems = Vec::new();
    for k in 0..n {
        let shard = Shard { k, n };
        let part = Plan { shard, run_file: run_file_of(args, args.file.as_deref(), shard), ..plan.clone() };
        let again = format!("run the same search with --shard {k}/{n}");
        if !part.run_file.exists() {
            problems
                .push(Problem { next: again, ..Problem::io(&part.run_file, format!("part {k} of {n} is missing")) });
            continue;
        }
        match part.show() {
            Ok(found) => {
                let want = shard.cells(plan.space.cells());
                if found.cells_done < want {
                    let what = format!("part {k} of {n} is unfinished: {} of {want} designs", found.cells_done);
                    problems.push(Problem { next: again, ..Problem::io(&part.run_file, what) });
                }
                all = all.merged(&found);
            }
            Err(p) => problems.push(p),
        }
    }
    if problems.is_empty() { Ok(all) } else { Err(problems) }
}

/// A counted line: rewritten in place on a terminal; elsewhere a new one now and then, for whoever reads the log.
struct ProgressLine {
    last: Option<std::time::Instant>,
    terminal: bool,
}

/// Milliseconds between lines on a terminal and elsewhere.
const EVERY_MS: [u128; 2] = [200, 30_000];

impl ProgressLine {
    fn new() -> Self {
        let terminal = std::io::stderr().is_terminal();
        // A log begins with the first half minute, not with nothing done.
        Self { last: (!terminal).then(std::time::Instant::now), terminal }
    }
    fn show(&mut self, p: &Progress, found: &Found) {
        let now = std::time::Instant::now();
        let every = EVERY_MS[usize::from(!self.terminal)];
        if self.last.is_some_and(|l| now.duration_since(l).as_millis() < every) {
            return;
        }
        self.last = Some(now);
        let best = found
            .front
            .first()
            .map_or_else(|| "none within limits yet".to_owned(), |b| format!("lightest {:.2} kg", kg(b)));
        let (begin, end) = if self.terminal { ("\r", "\x1b[K") } else { ("", "\n") };
        let _ = write!(
            std::io::stderr(),
            "{begin}{} of {}   {:.0}/s   {} left   {best}   front {}{end}",
            p.done,
            p.total,
            p.rate,
            duration(p.time_left_s),
            found.front.len()
        );
    }
    fn end(&self) {
        if self.terminal && self.last.is_some() {
            let _ = writeln!(std::io::stderr());
        }
    }
}

/// "2 h 05 min" or "40 s".
pub fn duration(seconds: f64) -> String {
    let s = seconds.clamp(0.0, 1e9) as u64;
    if s >= 3600 {
        format!("{} h {:02} min", s / 3600, s % 3600 / 60)
    } else if s >= 60 {
        format!("{} min {:02} s", s / 60, s % 60)
    } else {
        format!("{s} s")
    }
}

fn kg(p: &Point) -> f64 {
    f64::from(p.mass) * MASS_TICK_KG
}

fn hours(p: &Point) -> f64 {
    f64::from(p.repair) * HOUR_TICK_H
}

fn as_text(plan: &Plan, found: &Found, total: u64, from: Option<String>) -> String {
    let mut out = String::new();
    let inside = if plan.inside.is_some() {
        "settings of the dials, in each the exact search for the lightest mix, evaluated again in full"
    } else {
        "designs with constructions as the dials say, each by the full evaluator"
    };
    let _ = writeln!(out, "{} of {total} {inside}", found.cells_done);
    for (status, n) in Status::ALL.iter().zip(found.counts).filter(|(_, n)| *n > 0) {
        let _ = writeln!(out, "  {n:>9}  {}", status.word());
    }
    if found.front.is_empty() {
        let _ = writeln!(out, "no design is within the limits of this scenario");
        if let Some(ask) = &plan.inside {
            no_mix_because(&mut out, &plan.base, ask);
        }
        as_drawn_falls_short(&mut out, &plan.base);
        return out;
    }
    let _ = writeln!(
        out,
        "\nfront of budget weight against repair hours per 100 outings, for this grid and these assumptions"
    );
    for (i, p) in found.front.iter().enumerate() {
        let _ = writeln!(
            out,
            "{:>4}  {:>7.2} kg  {:>7.2} h   {}",
            i + 1,
            kg(p),
            hours(p),
            plan.space.words(&plan.base, p.cell)
        );
    }
    if let Some(best) = found.front.first() {
        let _ = writeln!(
            out,
            "\nlightest within the limits: {:.2} kg, {:.2} h, {}",
            kg(best),
            hours(best),
            plan.space.words(&plan.base, best.cell)
        );
    }
    let from = from.unwrap_or_else(|| format!("run file: {}", plan.run_file.display()));
    let _ = writeln!(out, "{from}");
    out
}

/// What keeps every mix out at the dials as the scenario has them.
fn no_mix_because(out: &mut String, design: &Design, ask: &mix::Ask) {
    let found = mix::find(design, ask, Ticks::LIVE, 0, &Assumptions::default());
    let why_none = match found {
        Ok(Mix { lightest: None, why_none, .. }) => why_none,
        Ok(_) => return,
        Err(problems) => problems.iter().map(ToString::to_string).collect(),
    };
    if !why_none.is_empty() {
        let _ = writeln!(out, "\nat the dials as the scenario has them no mix keeps the limits, for:");
        for why in why_none {
            let _ = writeln!(out, "  {why}");
        }
    }
}

/// What the wing of the scenario itself falls short of, so that a search that finds nothing says where to turn.
fn as_drawn_falls_short(out: &mut String, design: &Design) {
    let e = evaluate(design, &Assumptions::default());
    let _ = writeln!(out, "\nthe wing as the scenario has it:");
    for m in worst_of_each_mode(&e).into_iter().filter(|m| m.verdict == Verdict::Short) {
        let _ = writeln!(out, "  {}", margin_line(m, design, &e));
    }
    let t = &design.targets;
    let mut against = |what: &str, value: f64, limit: Option<f64>, most: bool| {
        if let Some(limit) = limit.filter(|l| if most { value > *l } else { value < *l }) {
            let side = if most { "over" } else { "under" };
            let _ = writeln!(out, "  {what} {value:.2} is {side} {limit:.2}");
        }
    };
    against("budget weight, kg,", e.weight.budget_kg, t.wing_mass_kg, true);
    against("durability index", e.durability.index, t.durability_index, false);
    against("least press load, N,", e.durability.least_press.value_n, t.press_n, false);
    against("outings lost per 100", e.durability.outings_lost, t.outings_lost_per_100, true);
    against("stall, m/s,", e.flight.stall_m_s, t.stall_m_s, true);
    against("hours", e.work.hours, t.hours, true);
    against("cost", e.work.cost, t.cost, true);
}

fn as_json(plan: &Plan, found: &Found, total: u64) -> Value {
    let point = |p: &Point| {
        let settings: serde_json::Map<String, Value> = plan
            .space
            .axes
            .iter()
            .zip(plan.space.values(p.cell))
            .map(|(a, v)| (a.dial.key.clone(), json!(v)))
            .collect();
        json!({"weight_kg": kg(p), "repair_h_per_100": hours(p), "cell": p.cell, "settings": settings})
    };
    let counts: serde_json::Map<String, Value> =
        Status::ALL.iter().zip(found.counts).map(|(s, n)| (s.word().to_owned(), json!(n))).collect();
    json!({
        "format": 1, "designs": total, "computed": found.cells_done, "outcomes": counts,
        "front": found.front.iter().map(point).collect::<Vec<_>>(), "lightest": found.front.first().map(point),
    })
}

/// Write a design of the front as a scenario of its own.
fn take(scenario: &Scenario, plan: &Plan, found: &Found, number: usize, into: &std::path::Path) -> Outcome {
    let Some(p) = number.checked_sub(1).and_then(|i| found.front.get(i)) else {
        return Err(vec![Problem::input(
            format!("the front has no design {number}"),
            format!("it has {}", found.front.len()),
        )]);
    };
    let words = format!("design {number}, {},", plan.space.words(&plan.base, p.cell));
    write_taken(scenario, &plan.design(p.cell), into, &words)
}
