//! What can happen to the screen, and what `update` asks of the outside in return.

use crossterm::event::{KeyEvent, MouseEvent};

use crate::mix::Mix;
use crate::physics::design::Design;
use crate::physics::evaluation::Evaluation;
use crate::report::sureness::Against;
use crate::scenario::{Saved, Scenario};
use crate::screen::app::{Neighbour, SearchView, StepEffect};

/// Everything `update` is told.
#[derive(Debug)]
pub enum Action {
    Key(KeyEvent),
    Mouse(MouseEvent),
    Pasted(String),
    Resize(u16, u16),
    /// The evaluation of a generation.
    Evaluated(u64, Box<Evaluation>),
    /// What one step of a dial would do, found for a generation.
    Stepped(u64, String, Option<StepEffect>),
    /// How a save went, and the scenario as it stands on the disk now.
    Saved(Result<Saved, String>, Box<Scenario>),
    /// A recovery copy was written (its name) or could not be.
    Kept(Result<String, String>),
    /// The scenario as its file is now.
    ReadAgain(Result<Box<Scenario>, String>),
    /// The turns of an earlier session, from its recovery copy.
    Recovered(Result<Box<Design>, String>),
    /// The recovery copy of an earlier session was deleted (its name), or could not be.
    Forgotten(Result<String, String>),
    Neighbours(Vec<Neighbour>),
    /// How sure the order of the first column of Compare and the one of that name is, for the request of that number.
    Sure {
        serial: u64,
        name: String,
        found: Box<Against>,
    },
    Search(SearchView),
    /// The lightest mix at the dials of a generation; to be loaded at once, or shown on the Search page.
    Mixed {
        generation: u64,
        load: bool,
        found: Result<Box<Mix>, String>,
    },
    /// The design of a search result, to be put into the dials.
    Loaded(Box<Design>),
    /// A worker failed: the fault in words.
    Failed(String),
    /// The terminal goes away or the system asks to end.
    Quit,
    /// Stopped and continued, or told to stop.
    Suspend,
    Continued,
}

/// What the loop must do after an update.
#[derive(Debug, Clone, PartialEq)]
pub enum Effect {
    /// Evaluate this design under this generation; the dial whose step effect is wanted first.
    Evaluate {
        generation: u64,
        first: String,
    },
    Save {
        force: bool,
    },
    SaveAs(String),
    /// Read the file of the scenario again.
    ReadAgain,
    /// Write a recovery copy when the person has been quiet for a while.
    KeepSoon,
    /// Write the recovery copy now.
    KeepNow,
    /// The recovery copy is no longer needed.
    DropRecovery,
    /// Read the recovery copy of an earlier session.
    TakeRecovered,
    /// Delete the recovery copy of an earlier session.
    ForgetRecovered,
    ReadNeighbours,
    /// Work out how sure the order of the columns of Compare is.
    PairDraws,
    StartSearch,
    StopSearch,
    /// Find the lightest mix at these dials; to be loaded at once, or shown on the Search page.
    FindMix {
        load: bool,
    },
    /// Load the result of that row of the search.
    LoadResult(usize),
    Mouse(bool),
    Suspend,
    Redraw,
    Quit,
    Fail(String),
}

/// Effects in the order they are to be done.
pub type Effects = Vec<Effect>;
