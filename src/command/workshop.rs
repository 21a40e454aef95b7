//! `workshop`: the plan of a proof load by bags.

use std::path::PathBuf;

use clap::Args;

use crate::command::{Outcome, a_number, say, say_json, scenario_or_demo, set_dials};
use crate::physics::assumptions::Assumptions;
use crate::physics::evaluation::{Evaluation, evaluate};
use crate::physics::workshop::proof_load;
use crate::problem::Problem;
use crate::report::workshop;

/// Plan a proof load by bags: what to lay on each bay, how far the tip should go, what gives first
#[derive(Debug, Args)]
#[command(after_help = "Example: thistledown workshop my-wing.toml --case pull_va_heavy --bag-kg 5 | lpr\n\n\
A proof load is no approval to fly: ask your authority, and have a qualified person review plan, rig and wing. \
The wing that will fly goes to limit load only.")]
pub struct WorkshopArgs {
    /// Scenario; the invented demo when none is named
    file: Option<PathBuf>,
    /// The case to reproduce; the hardest at the root when none is named
    #[arg(long, value_name = "CASE")]
    case: Option<String>,
    /// Mass of one bag
    #[arg(long, value_name = "KG", default_value_t = workshop::BAG_KG, value_parser = a_number, allow_negative_numbers = true)]
    bag_kg: f64,
    /// Turn a dial first (may be given again)
    #[arg(long = "set", value_name = "KEY=VALUE")]
    set: Vec<String>,
    /// Print it as JSON
    #[arg(long)]
    json: bool,
}

/// Which loads to plan for.
fn chosen(e: &Evaluation, case: Option<&str>) -> Result<usize, Vec<Problem>> {
    let can = proof_load::cases(&e.loads);
    let key = |i: usize| e.loads.loads.get(i).and_then(|l| e.loads.cases.get(l.case)).map_or("", |c| c.key);
    let keys = || can.iter().map(|i| key(*i)).collect::<Vec<_>>().join(", ");
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
            format!("take one of {}", keys())
        };
        vec![Problem::input(what, next)]
    })
}

/// Print the sheet; 1 when a mode the bags bring on falls short under the case.
pub fn run(a: &WorkshopArgs) -> Outcome {
    if !(0.1..=50.0).contains(&a.bag_kg) {
        return Err(vec![Problem::input(format!("a bag of {} kg", a.bag_kg), "give one between 0.1 and 50 kg")]);
    }
    let mut s = scenario_or_demo(a.file.as_deref())?;
    set_dials(&mut s.design, &a.set)?;
    let e = evaluate(&s.design, &Assumptions::default());
    let load = chosen(&e, a.case.as_deref())?;
    let plan = proof_load::plan(&s.design, &e, load, a.bag_kg)
        .ok_or_else(|| vec![Problem::input("this wing has no bays to lay bags on", "look at it with `check`")])?;
    if a.json {
        say_json(&workshop::json(&s.design, &e, &plan))?;
    } else {
        say(&workshop::text(&s.design, &e, &plan))?;
    }
    Ok(u8::from(plan.first.iter().any(|m| m.rf < 1.0)))
}
