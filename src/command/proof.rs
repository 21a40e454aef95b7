//! The other sheets of `workshop` about proof: the torsion test, the section made to be broken, what was seen.

use std::path::Path;

use clap::Args;

use crate::command::{Outcome, a_number, say, say_json};
use crate::physics::evaluation::Evaluation;
use crate::physics::mass::weighed::Half;
use crate::physics::workshop::proof_load::{self, STEPS};
use crate::physics::workshop::rig::Rig;
use crate::physics::workshop::seen::{BALANCE, LEVEL_RAD, Pair, RULE_M, Seen, Test, learn};
use crate::physics::workshop::test_section::{self, Ask};
use crate::physics::workshop::torsion_test::{self, MOST_ARMS};
use crate::problem::Problem;
use crate::report::{self, four_figures};
use crate::scenario::reader::nearest;
use crate::scenario::{self, Scenario, proofs};

/// Arguments of these sheets.
#[derive(Debug, Args)]
pub struct ProofArgs {
    /// The torsion test in place of the proof load: frames, couples, how far chords turn
    #[arg(long)]
    torsion: bool,
    /// Where a frame stands, as a fraction of the half span (may be given twice); the best two ribs when none is named
    #[arg(long, value_name = "PLACE", value_parser = a_number, allow_negative_numbers = true)]
    at: Vec<f64>,
    /// Distance between the two lines of a frame; 1 when left out
    #[arg(long, value_name = "M", value_parser = a_number, allow_negative_numbers = true)]
    lines_m: Option<f64>,
    /// A section made to be broken: where it is like, its rig, loads, what breaks it
    #[arg(long, conflicts_with = "torsion")]
    section: bool,
    /// The bay it is like, counted from the root; that of the least margin when none is named
    #[arg(long, value_name = "BAY")]
    bay: Option<usize>,
    /// How it is loaded: cantilever, `three_point` or `four_point`
    #[arg(long, value_name = "RIG")]
    rig: Option<String>,
    /// Made with its nose skins
    #[arg(long)]
    nose: bool,
    /// What was seen in proof loads and what follows from it
    #[arg(long, conflicts_with_all = ["torsion", "section"])]
    seen: bool,
    /// Enter in the file what was seen: tip in mm under bags, turn of the outer frame in degrees (--torsion), load point in mm or,
    /// with --broke-by, all loads in N (--section)
    #[arg(long, value_name = "NUMBER", requires = "file", conflicts_with = "set", value_parser = a_number, allow_negative_numbers = true)]
    saw: Option<f64>,
    /// At which step: share of limit, of a section share of ultimate
    #[arg(long, value_name = "SHARE", requires = "saw", default_value_t = 1.0, value_parser = a_number, allow_negative_numbers = true)]
    step: f64,
    /// The mode by which a section broke
    #[arg(long, value_name = "MODE", requires = "saw")]
    broke_by: Option<String>,
}

/// What stands beside a record: half, day, remark.
pub struct Beside<'a> {
    pub half: Option<&'a str>,
    pub date: Option<&'a str>,
    pub note: Option<&'a str>,
}

fn wrong<T>(what: impl Into<String>, next: impl Into<String>) -> Result<T, Vec<Problem>> {
    Err(vec![Problem::input(what, next)])
}

impl ProofArgs {
    /// Whether one of these sheets is asked for, or something seen is to be entered.
    pub fn asked(&self) -> bool {
        self.torsion || self.section || self.seen || self.saw.is_some()
    }

    /// The sheet that is asked for, as its flag; none of these.
    pub fn sheet(&self) -> Option<&'static str> {
        let all = [(self.torsion, "--torsion"), (self.section, "--section"), (self.seen, "--seen")];
        all.into_iter().find(|s| s.0).map(|s| s.1)
    }

    /// Flags that are given, and the sheet each belongs to.
    pub fn flags(&self) -> Vec<(&'static str, &'static str)> {
        let all = [
            (!self.at.is_empty(), "--at", "--torsion"),
            (self.lines_m.is_some(), "--lines-m", "--torsion"),
            (self.bay.is_some(), "--bay", "--section"),
            (self.rig.is_some(), "--rig", "--section"),
            (self.nose, "--nose", "--section"),
            (self.broke_by.is_some(), "--broke-by", "--section"),
        ];
        all.into_iter().filter(|f| f.0).map(|f| (f.1, f.2)).collect()
    }

    /// Nothing is entered.
    pub fn is_sheet_only(&self) -> bool {
        self.saw.is_none()
    }

    /// What is entered is the tip under bags.
    pub fn of_bags(&self) -> bool {
        self.saw.is_some() && !self.torsion && !self.section
    }

    fn rig(&self) -> Result<Rig, Vec<Problem>> {
        let keys = Rig::ALL.map(Rig::key);
        let Some(word) = self.rig.as_deref() else { return Ok(Rig::default()) };
        let near = nearest(word, keys).unwrap_or("");
        let next = format!("the nearest is {near}; all: {}", keys.join(", "));
        Rig::ALL.into_iter().find(|r| r.key() == word).map_or_else(|| wrong(format!("`{word}` is no rig"), next), Ok)
    }

    fn torsion_plan(&self, s: &Scenario, e: &Evaluation) -> Result<torsion_test::Plan, Vec<Problem>> {
        if self.at.len() > MOST_ARMS {
            return wrong(format!("{} frames", self.at.len()), format!("name {MOST_ARMS} places at most"));
        }
        if let Some(at) = self.at.iter().find(|at| !(0.01..=1.0).contains(*at)) {
            return wrong(format!("a frame at {at}"), "give a fraction of the half span between 0.01 and 1");
        }
        let lines_m = self.lines_m.unwrap_or(report::torsion_test::BETWEEN_M);
        if !(0.1..=10.0).contains(&lines_m) {
            return wrong(format!("lines {lines_m} m apart"), "give 0.1 to 10 m");
        }
        torsion_test::plan(&s.design, e, &self.at, lines_m).or_else(|why| {
            wrong(why.words(), "leave --at out, look at the loads with `assess`, or at the wing with `check`")
        })
    }

    fn section_plan(&self, s: &Scenario, e: &Evaluation) -> Result<test_section::Plan, Vec<Problem>> {
        let bays = e.layout.bays.len();
        if let Some(bay) = self.bay.filter(|b| !(1..=bays).contains(b)) {
            return wrong(format!("bay {bay}"), format!("this wing has bays 1 to {bays}"));
        }
        let ask = Ask { bay: self.bay.map(|b| b - 1), rig: self.rig()?, nose: self.nose };
        match test_section::plan(&s.design, e, ask) {
            Some(plan) => Ok(plan),
            None => wrong(
                "no case that is on loads the spar there in a mode that is shown",
                "name another bay, or a set of limits under [limits]",
            ),
        }
    }

    /// The record that is to be entered.
    fn record(
        &self,
        (s, e): (&Scenario, &Evaluation),
        case: usize,
        bag_kg: f64,
        saw: f64,
    ) -> Result<Seen, Vec<Problem>> {
        if !(saw > 0.0 && saw.is_finite()) {
            return wrong(format!("--saw {saw}"), "give what was read, above zero");
        }
        let blank = |test| Seen {
            test,
            step: self.step,
            half: Half::Both,
            gave: None,
            broke: None,
            date: String::new(),
            note: String::new(),
        };
        let step = STEPS.iter().position(|s| (s - self.step).abs() < 1e-6);
        let at_step = || {
            step.map_or_else(
                || {
                    wrong(
                        format!("no step at {}", self.step),
                        format!("the steps are {}", STEPS.map(|s| s.to_string()).join(", ")),
                    )
                },
                Ok,
            )
        };
        if self.torsion {
            let plan = self.torsion_plan(s, e)?;
            let outer = plan.arms.first().map_or(0, |a| a.edge);
            let turn =
                plan.pointers.iter().find(|p| p.edge == outer).map_or(0.0, |p| p.turn_rad[step.unwrap_or(0)].abs());
            at_step()?;
            let gave = Pair { computed: turn, seen: saw.to_radians(), reading: LEVEL_RAD };
            return Ok(Seen { gave: Some(gave), ..blank(Test::Torsion) });
        }
        if self.section {
            let plan = self.section_plan(s, e)?;
            let Some(mode) = &self.broke_by else {
                let Some(d) = plan.deflection_m else {
                    return wrong("how far this section goes is not shown", "give --broke-by and the load instead");
                };
                let gave = Pair { computed: d[at_step()?], seen: 1e-3 * saw, reading: RULE_M };
                return Ok(Seen { gave: Some(gave), ..blank(Test::Section) });
            };
            let Some(b) = plan.breaks.iter().find(|b| b.mode == mode) else {
                let keys: Vec<&str> = plan.breaks.iter().map(|b| b.mode).collect();
                let near = nearest(mode, keys.iter().copied()).unwrap_or("");
                return wrong(
                    format!("this section is not said to break by `{mode}`"),
                    format!("the nearest is {near}; all: {}", keys.join(", ")),
                );
            };
            let load = Pair { computed: b.likely_n, seen: saw, reading: BALANCE * saw };
            return Ok(Seen { step: saw / plan.load_n, broke: Some((load, b.mode)), ..blank(Test::Section) });
        }
        let plan = proof_load::plan(&s.design, e, case, bag_kg)
            .ok_or_else(|| vec![Problem::input("this wing has no bays to lay bags on", "look at it with `check`")])?;
        let gave = Pair { computed: plan.tip_m[at_step()?], seen: 1e-3 * saw, reading: RULE_M };
        Ok(Seen { gave: Some(gave), ..blank(Test::Bags) })
    }

    /// Enter what was seen in the file and read it again.
    pub fn enter(
        &self,
        (s, file): (&mut Scenario, &Path),
        e: &Evaluation,
        (case, bag_kg): (usize, f64),
        beside: &Beside,
    ) -> Result<(), Vec<Problem>> {
        let Some(saw) = self.saw else { return Ok(()) };
        let half = match beside.half {
            None => Half::Both,
            Some(word) => match Half::ALL.into_iter().find(|h| h.key() == word) {
                Some(half) => half,
                None => return wrong(format!("`{word}` is no half of the wing"), "write left, right or both"),
            },
        };
        let words = |w: Option<&str>| w.unwrap_or_default().to_owned();
        let seen = self.record((s, e), case, bag_kg, saw)?;
        if let Err((what, next)) = proofs::fits(&seen) {
            return wrong(format!("--saw {}: {what}", four_figures(saw)), next);
        }
        proofs::add(file, &Seen { half, date: words(beside.date), note: words(beside.note), ..seen })?;
        s.design = scenario::load(file)?.design;
        Ok(())
    }

    /// Print the sheet; 1 when what is to be loaded falls short.
    pub fn print(&self, s: &Scenario, e: &Evaluation, json: bool) -> Outcome {
        let lessons = learn(&s.design.proofs);
        if self.torsion && self.saw.is_none() {
            let plan = self.torsion_plan(s, e)?;
            if json {
                say_json(&report::torsion_test::json(&s.design, e, &plan, &lessons))?;
            } else {
                say(&report::torsion_test::text(&s.design, e, &plan, &lessons))?;
            }
            return Ok(u8::from(plan.first.iter().any(|m| m.rf < 1.0)));
        }
        if self.section && self.saw.is_none() {
            let plan = self.section_plan(s, e)?;
            if json {
                say_json(&report::test_section::json(&s.design, e, &plan, &lessons))?;
            } else {
                say(&report::test_section::text(&s.design, e, &plan, &lessons))?;
            }
            return Ok(u8::from(plan.breaks.first().is_some_and(|b| b.likely_n < plan.load_n)));
        }
        if json {
            say_json(&report::seen::json(&s.design, e))?;
        } else {
            say(&report::seen::text(&s.design, e))?;
        }
        Ok(0)
    }
}
