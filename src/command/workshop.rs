//! `workshop`: what is cut, bought and mixed for a wing; the plan of a proof load by bags, of a torsion test, of a section to be broken;
//! what was seen; and the scales.

use std::path::{Path, PathBuf};

use clap::Args;

use crate::command::proof::{Beside, ProofArgs};
use crate::command::{Outcome, a_number, say, say_as_it_is, say_json, scenario_or_demo, set_dials};
use crate::physics::assumptions::Assumptions;
use crate::physics::design::Design;
use crate::physics::evaluation::{Evaluation, evaluate};
use crate::physics::mass::weighed::{Half, SCALE_ERROR_KG, Weighing};
use crate::physics::workshop::part_sheets::{self, PartSheet};
use crate::physics::workshop::{cuts, forecast, proof_load, win_back};
use crate::problem::Problem;
use crate::report::{self, cut_list, four_figures, mixing, weigh_in, workshop};
use crate::scenario::reader::nearest;
use crate::scenario::{self, Saved, Scenario, weighed};

/// What the sheets for building do not go with.
const OTHER_SHEETS: [&str; 6] = ["scales", "weighed", "torsion", "section", "seen", "saw"];

/// List what to cut, buy and mix, with a sheet for each part; weigh parts in; or plan a proof load by bags, a torsion test, a section to be broken, and learn from them
#[derive(Debug, Args)]
#[command(after_help = "Examples:\n  thistledown workshop my-wing.toml --case pull_va_heavy --bag-kg 5 | lpr\n  \
thistledown workshop my-wing.toml --torsion\n  thistledown workshop my-wing.toml --section --bay 5\n  \
thistledown workshop my-wing.toml --saw 212 --step 0.8 --half left\n  thistledown workshop my-wing.toml --scales\n  \
thistledown workshop my-wing.toml --weighed \"ribs/nose ribs=361\" --half left\n  \
thistledown workshop my-wing.toml --cuts --csv > cuts.csv\n  thistledown workshop my-wing.toml --resin\n  thistledown workshop my-wing.toml --stock --csv > buy.csv\n  \
thistledown workshop my-wing.toml --parts \"skins/nose up\"\n\n\
A proof load is no approval to fly: ask your authority, and have a qualified person review plan, rig and wing. \
The wing that will fly goes to limit load only.")]
pub struct WorkshopArgs {
    /// Scenario; the invented demo when none is named
    file: Option<PathBuf>,
    /// The case to reproduce; the hardest at the root when none is named
    #[arg(long, value_name = "CASE")]
    case: Option<String>,
    /// Mass of one bag; 5 when left out
    #[arg(long, value_name = "KG", value_parser = a_number, allow_negative_numbers = true)]
    bag_kg: Option<f64>,
    /// The scales in place of the proof load: parts against the promise, forecast, stop-weights
    #[arg(long, conflicts_with_all = ["torsion", "section", "seen", "saw"])]
    scales: bool,
    #[command(flatten)]
    proof: ProofArgs,
    /// The cut list: every blank with its size, and what to buy for it
    #[arg(long, group = "sheet", conflicts_with_all = OTHER_SHEETS)]
    cuts: bool,
    /// What to buy: rolls, sheets of foam and wood, and how much of them is waste
    #[arg(long, group = "sheet", conflicts_with_all = OTHER_SHEETS)]
    stock: bool,
    /// Resin by batch: what each lay-up needs, and in how many pots
    #[arg(long, group = "sheet", conflicts_with_all = OTHER_SHEETS)]
    resin: bool,
    /// A sheet for each part, or for those whose name holds a word: name FILE before it
    #[arg(long, value_name = "NAME", num_args = 0..=1, default_missing_value = "", group = "sheet", conflicts_with_all = OTHER_SHEETS)]
    parts: Option<String>,
    /// Enter what a part weighs in the file (may be given again); weighed again takes the place of the first time
    #[arg(long, value_name = "PART=GRAMS", requires = "file", conflicts_with_all = ["set", "torsion", "section", "seen", "saw"])]
    weighed: Vec<String>,
    /// The half it belongs to: left, right or both
    #[arg(long, value_name = "HALF")]
    half: Option<String>,
    /// Error of the scale
    #[arg(long, value_name = "G", requires = "weighed", value_parser = a_number, allow_negative_numbers = true)]
    scale_error_g: Option<f64>,
    /// Year-month-day
    #[arg(long, value_name = "DATE")]
    date: Option<String>,
    /// A remark
    #[arg(long, value_name = "WORDS")]
    note: Option<String>,
    /// Turn a dial first (may be given again)
    #[arg(long = "set", value_name = "KEY=VALUE")]
    set: Vec<String>,
    /// Print it as JSON
    #[arg(long)]
    json: bool,
    /// Print the cut list, what to buy or resin by batch as comma-separated values
    #[arg(long, conflicts_with = "json")]
    csv: bool,
}

/// Which loads to plan for.
fn chosen(e: &Evaluation, case: Option<&str>) -> Result<usize, Vec<Problem>> {
    let can = proof_load::cases(&e.loads);
    let key = |i: usize| e.loads.loads.get(i).and_then(|l| e.loads.cases.get(l.case)).map_or("", |c| c.key);
    let title = |i: usize| e.loads.loads.get(i).and_then(|l| e.loads.cases.get(l.case)).map_or("", |c| c.title);
    let keys = || can.iter().map(|i| format!("{} ({})", key(*i), title(*i))).collect::<Vec<_>>().join(", ");
    let found = match case {
        None => can.first().copied(),
        Some(word) => can.iter().copied().find(|i| key(*i) == word),
    };
    found.ok_or_else(|| {
        let what = match case {
            Some(word) => format!("bags cannot stand for the case `{word}`"),
            None => "no flight case is on, so there is nothing to prove".to_owned(),
        };
        let next = if can.is_empty() {
            "name a set of limits under [limits] and leave its cases on".to_owned()
        } else {
            let near = case.and_then(|word| nearest(word, can.iter().map(|i| key(*i)))).unwrap_or("");
            format!("the nearest is {near}; take one of {}", keys())
        };
        vec![Problem::input(what, next)]
    })
}

/// Enter what was weighed in the file, all or nothing.
fn enter(a: &WorkshopArgs, s: &mut Scenario, file: &Path) -> Result<(), Vec<Problem>> {
    let half = match a.half.as_deref() {
        None => Half::Both,
        Some(word) => Half::ALL.into_iter().find(|h| h.key() == word).ok_or_else(|| {
            vec![Problem::input(format!("`{word}` is no half of the wing"), "write left, right or both")]
        })?,
    };
    let mut design = s.design.clone();
    let mut problems = Vec::new();
    for text in &a.weighed {
        let read = text.rsplit_once('=').and_then(|(of, grams)| Some((of, a_number(grams).ok()?)));
        let Some((of, grams)) = read else {
            let next = "write PART=GRAMS, like \"ribs/nose ribs=361\"";
            problems.push(Problem::input(format!("`{text}` does not say what a part weighs"), next));
            continue;
        };
        if !(0.1..=200_000.0).contains(&grams) {
            let next = "give between 0.1 and 200000 g";
            problems.push(Problem::input(format!("--weighed `{of}` at {} g", four_figures(grams)), next));
            continue;
        }
        let (scale, scale_error_kg) = (a.scale_error_g.map(|g| 1e-3 * g), SCALE_ERROR_KG);
        let (date, note) = (a.date.clone().unwrap_or_default(), a.note.clone().unwrap_or_default());
        let new =
            weighed::piece(of).map(|piece| Weighing { piece, half, mass_kg: 1e-3 * grams, scale_error_kg, date, note });
        if let Err(next) = new.and_then(|new| weighed::enter(&mut design, new, scale)) {
            problems.push(Problem::input(format!("`{of}` cannot be weighed in"), next));
        }
    }
    if !problems.is_empty() {
        return Err(problems);
    }
    let fault = |p: Problem| vec![p];
    // What is wrong stands in no file yet, so no line is named.
    let text = scenario::written(s, &design).map_err(fault)?;
    scenario::parse(&text, None)
        .map_err(|all| all.into_iter().map(|p| Problem { place: None, ..p }).collect::<Vec<_>>())?;
    match scenario::save(s, &design, file, false).map_err(fault)? {
        Saved::Done => {
            s.design = scenario::load(file)?.design;
            Ok(())
        }
        Saved::ChangedMeanwhile => Err(vec![Problem::input(
            "the file was changed by something else meanwhile",
            "nothing was written: try again",
        )]),
    }
}

/// Print what is cut, bought or mixed, or the sheets of parts.
fn building(a: &WorkshopArgs, design: &Design, e: &Evaluation) -> Outcome {
    let list = cuts::of(design, e);
    if a.csv {
        say_as_it_is(&match (a.stock, a.resin) {
            (true, _) => cut_list::stock_csv(design, &list),
            (_, true) => mixing::csv(design, &list),
            _ => cut_list::csv(design, &list),
        })?;
    } else if let Some(word) = &a.parts {
        let f = forecast::of(design, e);
        let all = part_sheets::of(design, e, &list, &f);
        let of = named(&all, word)?;
        if a.json {
            say_json(&report::part_sheets::json(design, &of))?;
        } else {
            say(&report::part_sheets::text(design, &of))?;
        }
    } else if a.json {
        say_json(&match (a.cuts, a.stock) {
            (true, _) => cut_list::json(design, &list),
            (_, true) => cut_list::stock_json(design, &list),
            _ => mixing::json(design, &list),
        })?;
    } else {
        say(&match (a.cuts, a.stock) {
            (true, _) => cut_list::text(design, &list),
            (_, true) => cut_list::stock_text(design, &list),
            _ => mixing::text(design, &list),
        })?;
    }
    Ok(0)
}

/// The part of that name, else the parts whose names hold the word.
fn named<'s, 'l>(all: &'s [PartSheet<'l>], word: &str) -> Result<Vec<&'s PartSheet<'l>>, Vec<Problem>> {
    let word = word.trim().to_lowercase();
    let name = |s: &PartSheet| s.row.piece.words().to_lowercase();
    let exact: Vec<&PartSheet> = all.iter().filter(|s| name(s) == word).collect();
    let of = if exact.is_empty() { all.iter().filter(|s| name(s).contains(&word)).collect() } else { exact };
    if of.is_empty() {
        let names: Vec<String> = all.iter().map(|s| s.row.piece.words()).collect();
        let near = nearest(&word, names.iter().map(String::as_str)).unwrap_or("");
        return Err(vec![Problem::input(
            format!("no part of this wing is called `{word}`"),
            format!("the nearest is `{near}`; `--parts` alone lists all"),
        )]);
    }
    Ok(of)
}

/// Flags that would do nothing on the sheet that is asked for.
fn idle_flags(a: &WorkshopArgs) -> Vec<Problem> {
    const BAGS: &str = "the proof load by bags";
    let building = [
        (a.cuts, "--cuts"),
        (a.stock, "--stock"),
        (a.resin, "--resin"),
        (a.parts.is_some(), "--parts"),
        (a.scales, "--scales"),
        (!a.weighed.is_empty(), "--weighed"),
    ];
    let sheet = building.into_iter().find(|s| s.0).map(|s| s.1).or_else(|| a.proof.sheet()).unwrap_or(BAGS);
    let mut given = a.proof.flags();
    given.extend(a.case.is_some().then_some(("--case", BAGS)));
    given.extend(a.bag_kg.is_some().then_some(("--bag-kg", BAGS)));
    // A table of what is open, or of the cut list.
    let table = [(a.stock, "--stock"), (a.resin, "--resin")].into_iter().find(|s| s.0).map_or("--cuts", |s| s.1);
    given.extend(a.csv.then_some(("--csv", table)));
    let idle = given.into_iter().filter(|f| f.1 != sheet);
    idle.map(|(flag, of)| {
        let next = match (of, sheet) {
            (BAGS, _) => format!("leave it out, or leave {sheet} out: then {of} is planned"),
            (_, BAGS) => format!("leave it out, or say {of} too"),
            _ => format!("leave it out, or say {of} in place of {sheet}"),
        };
        Problem::input(format!("{flag} does nothing with {sheet}"), next)
    })
    .collect()
}

/// Print the sheet; 1 when a mode the bags bring on falls short under the case.
pub fn run(a: &WorkshopArgs) -> Outcome {
    let idle = idle_flags(a);
    if !idle.is_empty() {
        return Err(idle);
    }
    let bag_kg = a.bag_kg.unwrap_or(workshop::BAG_KG);
    if !(0.1..=50.0).contains(&bag_kg) {
        return Err(vec![Problem::input(format!("a bag of {bag_kg} kg"), "give one between 0.1 and 50 kg")]);
    }
    if a.weighed.is_empty() && a.proof.is_sheet_only() && (a.half.is_some() || a.date.is_some() || a.note.is_some()) {
        let next = "give --weighed PART=GRAMS or --saw NUMBER with them";
        return Err(vec![Problem::input("--half, --date and --note belong to something entered", next)]);
    }
    let mut s = scenario_or_demo(a.file.as_deref())?;
    if let (Some(file), false) = (&a.file, a.weighed.is_empty()) {
        enter(a, &mut s, file)?;
    }
    set_dials(&mut s.design, &a.set)?;
    let e = evaluate(&s.design, &Assumptions::default());
    if a.scales || !a.weighed.is_empty() {
        let (f, savings) = (forecast::of(&s.design, &e), win_back::of(&s.design, &e));
        if a.json {
            say_json(&weigh_in::json(&s.design, &f, &savings))?;
        } else {
            say(&weigh_in::text(&s.design, &e, &f, &savings))?;
        }
        return Ok(0);
    }
    if a.cuts || a.stock || a.resin || a.parts.is_some() {
        return building(a, &s.design, &e);
    }
    if a.proof.asked() {
        if let Some(file) = &a.file {
            let case = if a.proof.of_bags() { chosen(&e, a.case.as_deref())? } else { 0 };
            let beside = Beside { half: a.half.as_deref(), date: a.date.as_deref(), note: a.note.as_deref() };
            a.proof.enter((&mut s, file), &e, (case, bag_kg), &beside)?;
        }
        return a.proof.print(&s, &e, a.json);
    }
    let load = chosen(&e, a.case.as_deref())?;
    let plan = proof_load::plan(&s.design, &e, load, bag_kg)
        .ok_or_else(|| vec![Problem::input("this wing has no bays to lay bags on", "look at it with `check`")])?;
    if a.json {
        say_json(&workshop::json(&s.design, &e, &plan))?;
    } else {
        say(&workshop::text(&s.design, &e, &plan))?;
    }
    Ok(u8::from(plan.first.iter().any(|m| m.rf < 1.0)))
}
