//! The terminal screen. Only this module knows ratatui and crossterm.
//!
//! `App` is all state; `update` is its only writer and does no I/O; `areas` says where everything stands, for drawing
//! and mouse alike; `draw` reads `App`; `run` owns the loop, the threads and the files.

pub mod action;
pub mod app;
pub mod areas;
pub mod boundary;
pub mod draw;
pub mod grip;
pub mod head;
pub mod hunt;
pub mod keep;
pub mod keys;
pub mod logging;
pub mod mixing;
pub mod mouse;
pub mod overlay;
pub mod page;
pub mod pairs;
pub mod run;
pub mod saving;
pub mod score;
pub mod terminal;
pub mod theme;
pub mod update;
pub mod warned;
pub mod weighing;
pub mod worker;
pub mod wrap;

pub use action::{Action, Effect, Effects};
pub use app::App;
pub use draw::draw;
pub use run::open;
pub use update::update;

use crate::physics::assumptions::Assumptions;
use crate::physics::evaluation::{Memory, evaluate};

/// Do what an update asked of the worker, here and now: what the loop does by thread, for tests and tools.
pub fn settle(app: &mut App, effects: &Effects) {
    for effect in effects {
        if let Effect::FindMix { load } = effect {
            let found = mixing::find(app, *load);
            let then = update(app, found);
            settle(app, &then);
        }
        if let Effect::Evaluate { generation, first } = effect {
            let evaluation = Box::new(evaluate(&app.design, &Assumptions::default()));
            let base = (evaluation.weight.budget_kg, evaluation.durability.index);
            update(app, Action::Evaluated(*generation, evaluation));
            let dial = app.dial_of(first).cloned();
            if let Some(dial) = dial
                && let Some(step) = worker::step_effect((&app.design, &mut Memory::default()), &dial, base, &|| false)
            {
                update(app, Action::Stepped(*generation, dial.key, step));
            }
        }
    }
}
