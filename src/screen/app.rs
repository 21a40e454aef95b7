//! `App`: all the state of the screen. Only `update` writes it.

use std::collections::VecDeque;
use std::sync::Arc;

use tui_input::Input;

use crate::physics::assumptions::Assumptions;
use crate::physics::design::{Design, Strip};
use crate::physics::evaluation::{Evaluation, evaluate};
use crate::report::sureness::Against;
use crate::scenario::Scenario;
use crate::scenario::dials::{Dial, dials};
use crate::screen::theme::Theme;
use crate::screen::warned;

/// The pages, by their digit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Page {
    Wing,
    Section,
    Weight,
    Strength,
    Durability,
    Flight,
    Search,
    Compare,
    Samples,
    Workshop,
}

impl Page {
    pub const ALL: [Self; 10] = [
        Self::Wing,
        Self::Section,
        Self::Weight,
        Self::Strength,
        Self::Durability,
        Self::Flight,
        Self::Search,
        Self::Compare,
        Self::Samples,
        Self::Workshop,
    ];
    pub const fn word(self) -> &'static str {
        match self {
            Self::Wing => "Wing",
            Self::Section => "Section",
            Self::Weight => "Weight",
            Self::Strength => "Strength",
            Self::Durability => "Durability",
            Self::Flight => "Flight",
            Self::Search => "Search",
            Self::Compare => "Compare",
            Self::Samples => "Samples",
            Self::Workshop => "Workshop",
        }
    }
}

/// A sheet about proof on the Workshop page.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Proving {
    Bags,
    Torsion,
    Section,
    Seen,
}

impl Proving {
    /// The next sheet.
    #[must_use]
    pub const fn next(self) -> Self {
        match self {
            Self::Bags => Self::Torsion,
            Self::Torsion => Self::Section,
            Self::Section => Self::Seen,
            Self::Seen => Self::Bags,
        }
    }
}

/// A sheet of the Workshop page.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sheet {
    Proof,
    Scales,
    Cuts,
    Stock,
    Resin,
    Parts,
}

impl Sheet {
    /// The sheets for building, in their order.
    pub const BUILDING: [Self; 4] = [Self::Cuts, Self::Stock, Self::Resin, Self::Parts];
}

/// Part of the Wing page the arrows act on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Focus {
    Dials,
    Map,
    Scores,
}

/// A quantity the skin map can show.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shading {
    ArealWeight,
    PressLoad,
    BallLoad,
    LeastMargin,
    RepairHours,
    HoldHere,
}

impl Shading {
    pub const ALL: [Self; 6] =
        [Self::ArealWeight, Self::PressLoad, Self::BallLoad, Self::LeastMargin, Self::RepairHours, Self::HoldHere];
    /// Quantity and unit.
    pub const fn words(self) -> (&'static str, &'static str) {
        match self {
            Self::ArealWeight => ("areal weight", "g/m2"),
            Self::PressLoad => ("press load", "N"),
            Self::BallLoad => ("ball load", "N"),
            Self::LeastMargin => ("least margin", ""),
            Self::RepairHours => ("repair hours", "h/100"),
            Self::HoldHere => ("hold here", ""),
        }
    }
    #[must_use]
    pub fn next(self) -> Self {
        let at = Self::ALL.iter().position(|s| *s == self).unwrap_or(0);
        Self::ALL[(at + 1) % Self::ALL.len()]
    }
}

/// What lies over the page and gets events first.
#[derive(Debug, Clone)]
pub enum Overlay {
    Help {
        scroll: u16,
    },
    Working {
        title: String,
        lines: Vec<String>,
        scroll: u16,
    },
    Typing(Input),
    /// What the chosen part weighs.
    Weighing(Input),
    /// A sample, in one line.
    Logging(Input),
    Find(Input),
    SaveAs(Input),
    AskQuit,
    AskOverwrite {
        then_quit: bool,
    },
    /// A recovery copy of an earlier session was found, under this name.
    AskRecovered(String),
}

/// What one step of a dial does.
#[derive(Debug, Clone, PartialEq)]
pub struct StepEffect {
    /// The value it would have, as shown.
    pub value: String,
    /// Steps to get there: more than one when a single step changes nothing; negative when downward.
    pub steps: i32,
    pub weight_kg: f64,
    pub index: f64,
}

/// A step effect and the generation it was found for.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Known {
    pub generation: u64,
    pub effect: Option<StepEffect>,
}

/// A boundary in the hand.
#[derive(Debug, Clone)]
pub struct Drag {
    pub key: String,
    pub before: Design,
    pub weight_kg: f64,
    pub index: f64,
    pub least_rf: Option<f64>,
    pub on: Held,
}

/// Where the thing in the hand was taken hold of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Held {
    /// A boundary on the skin map, on its left or its right half.
    Map { right: bool },
    /// A line of the cross-section.
    Section,
}

/// One undo step.
#[derive(Debug, Clone)]
pub struct Turned {
    pub key: String,
    pub before: Design,
    pub after: Design,
}

/// The design held for comparison.
#[derive(Debug, Clone)]
pub struct Pinned {
    pub design: Design,
    pub evaluation: Arc<Evaluation>,
}

/// Another scenario in the same folder.
#[derive(Debug, Clone)]
pub struct Neighbour {
    pub file: String,
    pub design: Design,
    pub evaluation: Arc<Evaluation>,
}

/// One design a search found.
#[derive(Debug, Clone, PartialEq)]
pub struct SearchRow {
    pub weight_kg: f64,
    pub repair_h: f64,
    pub words: String,
    /// Its skins where the words do not tell them, strips parted by "; ".
    pub skins: String,
    pub cell: u64,
    /// What holds it where it is; nothing for a search over dials.
    pub binds: String,
}

/// What the Search page shows.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct SearchView {
    pub running: bool,
    pub done: u64,
    pub total: u64,
    pub rate: f64,
    pub time_left_s: f64,
    /// Budget weight, kg, and repair hours per 100 outings.
    pub front: Vec<(f64, f64)>,
    pub rows: Vec<SearchRow>,
    /// How many designs ended how: (why, how many).
    pub ended: Vec<(String, u64)>,
    pub note: String,
    /// What the answer rests on, a line each.
    pub said: Vec<String>,
    /// The front is of dials that have been turned since.
    pub old: bool,
    /// The whole report of the lightest mix, a line each; empty for a search over dials.
    pub told: Vec<String>,
}

/// A dial that varies in the search, and its values in the shown unit.
#[derive(Debug, Clone, PartialEq)]
pub struct Varied {
    pub key: String,
    pub values: Vec<f64>,
}

/// How sure the orders on Compare are, by the name of the column.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Sure {
    /// Number of the last request, and what it was for: generation of the dials, pins so far, neighbours.
    pub serial: u64,
    pub asked: Option<(u64, u64, usize, Option<String>)>,
    /// Name, request it answers, what was found.
    pub found: Vec<(String, u64, Against)>,
}

impl Sure {
    /// What was found of a column, and whether it is of the columns as they stand.
    pub fn of(&self, name: &str) -> Option<(&Against, bool)> {
        self.found.iter().find(|(n, _, _)| n == name).map(|(_, s, a)| (a, *s == self.serial))
    }
}

/// All state of the screen.
#[derive(Debug)]
pub struct App {
    pub scenario: Scenario,
    /// The design as the dials stand.
    pub design: Design,
    pub dials: Vec<Dial>,
    pub evaluation: Arc<Evaluation>,
    /// Generation of the dials and of the evaluation shown: the numbers are old while they differ.
    pub generation: u64,
    pub answered: u64,
    pub unsaved: bool,
    pub page: Page,
    pub focus: Focus,
    pub overlay: Option<Overlay>,
    pub chosen: usize,
    /// Strip and bay under the map cursor.
    pub at: (Strip, usize),
    pub score: usize,
    pub shadings: [Shading; 2],
    pub undo: Vec<Turned>,
    pub redo: Vec<Turned>,
    pub pin: Option<Pinned>,
    /// Where the person has been: (budget kg, durability index).
    pub trail: VecDeque<(f64, f64)>,
    pub drag: Option<Drag>,
    pub steps: Vec<(String, Known)>,
    pub mouse: bool,
    pub score_page: usize,
    pub trade: bool,
    /// The chosen line of each page, and the case picked on Strength.
    pub line: [usize; Page::ALL.len()],
    pub case: usize,
    /// The sheet that lies open on the Workshop page; of those about proof which test, and the bay its section is like, from 1; 0: that
    /// of the least margin; the case planned, hardest first.
    pub sheet: Sheet,
    pub proving: Proving,
    pub proving_bay: usize,
    pub proof: usize,
    pub station: usize,
    pub message: Option<String>,
    /// A sample as it was typed that could not be read, to be mended.
    pub unread: Option<String>,
    pub search: SearchView,
    pub varied: Vec<Varied>,
    /// Designs of the rows of the last mix; empty after a run over dials.
    pub mixes: Vec<Design>,
    pub neighbours: Vec<Neighbour>,
    pub sure: Sure,
    /// Name of the column of Compare that the others are held against; this wing when there is none.
    pub against: Option<String>,
    /// How often a wing was pinned or unpinned.
    pub pins: u64,
    /// The part of Compare that stands first.
    pub part: usize,
    /// Lines of that part that are scrolled past.
    pub part_from: usize,
    /// Other scenario files stand beside this one.
    pub has_neighbours: bool,
    pub size: (u16, u16),
    pub theme: Theme,
    pub leaving: bool,
}

impl App {
    /// Begin on a scenario, evaluated once so that the first frame has its numbers.
    pub fn new(scenario: Scenario) -> Self {
        let design = scenario.design.clone();
        let evaluation = Arc::new(evaluate(&design, &Assumptions::default()));
        let dials = dials(&design);
        let chosen = dials.iter().position(|d| d.key.contains("boundary")).unwrap_or(0);
        let first = Strip::ALL.into_iter().find(|s| !design.runs(*s).is_empty()).unwrap_or(Strip::AftUpper);
        let at = if design.runs(Strip::AftLower).is_empty() { first } else { Strip::AftLower };
        let here = (evaluation.weight.budget_kg, evaluation.durability.index);
        let varied =
            scenario.search.vary.iter().map(|a| Varied { key: a.dial.key.clone(), values: a.values.clone() }).collect();
        Self {
            scenario,
            design,
            dials,
            generation: 0,
            answered: 0,
            unsaved: false,
            page: Page::Wing,
            focus: Focus::Dials,
            overlay: None,
            chosen,
            at: (at, 0),
            score: 0,
            shadings: [Shading::ArealWeight, Shading::PressLoad],
            undo: Vec::new(),
            redo: Vec::new(),
            pin: None,
            trail: VecDeque::from([here]),
            drag: None,
            steps: Vec::new(),
            mouse: true,
            score_page: 0,
            trade: false,
            line: [0; Page::ALL.len()],
            case: 0,
            proving: Proving::Bags,
            proving_bay: 0,
            proof: 0,
            sheet: Sheet::Proof,
            station: 0,
            message: warned::on_opening(&evaluation.warnings),
            unread: None,
            search: SearchView::default(),
            varied,
            mixes: Vec::new(),
            neighbours: Vec::new(),
            sure: Sure::default(),
            against: None,
            pins: 0,
            part: 0,
            part_from: 0,
            has_neighbours: false,
            size: (80, 24),
            theme: Theme::sixteen(),
            leaving: false,
            evaluation,
        }
    }

    /// The numbers shown are of an earlier position of the dials.
    pub const fn old(&self) -> bool {
        self.answered != self.generation
    }

    /// The chosen dial, if there is any.
    pub fn dial(&self) -> Option<&Dial> {
        self.dials.get(self.chosen)
    }

    /// The dial of that key.
    pub fn dial_of(&self, key: &str) -> Option<&Dial> {
        self.dials.iter().find(|d| d.key == key)
    }

    /// What one step of a dial would do, and whether it was found for the dials as they stand.
    pub fn step_of(&self, key: &str) -> Option<(&StepEffect, bool)> {
        let (_, known) = self.steps.iter().find(|(k, _)| k == key)?;
        known.effect.as_ref().map(|e| (e, known.generation == self.generation))
    }

    /// The line chosen on the page.
    pub fn line(&self) -> usize {
        self.line[self.page as usize]
    }

    /// A page with nothing to say is absent.
    pub fn has(&self, page: Page) -> bool {
        let e = &self.evaluation;
        match page {
            Page::Wing => true,
            Page::Section => !e.layout.bays.is_empty(),
            Page::Weight | Page::Workshop => !e.weight.parts.is_empty(),
            Page::Strength => !e.margins.is_empty() || !e.loads.loads.is_empty(),
            Page::Durability => !e.durability.events.is_empty() || !e.durability.zones.is_empty(),
            Page::Flight => !e.flight.polar.is_empty() || e.flight.stall_m_s > 0.0,
            Page::Search => !self.dials.is_empty(),
            Page::Compare => self.has_neighbours || self.pin.is_some(),
            Page::Samples => !e.layout.zones.is_empty(),
        }
    }

    /// The pages that have something to say, with the digit each answers to.
    pub fn pages(&self) -> impl Iterator<Item = (char, Page)> {
        Page::ALL.into_iter().zip("1234567890".chars()).filter(|(p, _)| self.has(*p)).map(|(p, c)| (c, p))
    }

    /// The name shown in the head line.
    pub fn name(&self) -> String {
        let file = self.scenario.path.as_ref().and_then(|p| p.file_name()).map(|n| n.to_string_lossy().into_owned());
        match file {
            Some(f) if !self.design.name.is_empty() => format!("{} ({f})", self.design.name),
            Some(f) => f,
            None => self.design.name.clone(),
        }
    }
}
