//! Saving and leaving: what is asked first, and what is said after.

use tui_input::Input;

use crate::scenario::{Saved, Scenario};
use crate::screen::action::{Effect, Effects};
use crate::screen::app::{App, Overlay};
use crate::screen::update::replace;

/// Save under the name it has, or ask for one.
pub(super) fn save(app: &mut App) -> Effects {
    if app.scenario.path.is_none() {
        app.overlay = Some(Overlay::SaveAs(Input::default()));
        return Vec::new();
    }
    vec![Effect::Save { force: false }]
}

/// How it went.
pub(super) fn on_saved(app: &mut App, outcome: Result<Saved, String>) -> Effects {
    match outcome {
        Ok(Saved::Done) => {
            app.unsaved = app.design != app.scenario.design;
            let name = app.scenario.path.as_ref().map(|p| p.display().to_string()).unwrap_or_default();
            app.message = Some(format!("saved: {name}"));
            let mut effects = vec![Effect::DropRecovery];
            if app.leaving {
                effects.push(Effect::Quit);
            }
            return effects;
        }
        Ok(Saved::ChangedMeanwhile) => {
            app.overlay = Some(Overlay::AskOverwrite { then_quit: app.leaving });
        }
        Err(why) => app.message = Some(format!("not saved: {why}")),
    }
    app.leaving = false;
    Vec::new()
}

/// Ask for the file as it is now.
pub(super) fn read_again(app: &mut App) -> Effects {
    if app.scenario.path.is_none() {
        app.message = Some("this wing is in no file yet; s saves it".to_owned());
        return Vec::new();
    }
    vec![Effect::ReadAgain]
}

/// The file as it is now, in place of the wing as it stands: one undo step.
pub(super) fn on_read_again(app: &mut App, found: Result<Scenario, String>) -> Effects {
    match found {
        Err(why) => app.message = Some(format!("not read again: {why}; the wing stays as it is")),
        Ok(scenario) if scenario.text == app.scenario.text && scenario.design == app.design => {
            app.message = Some("the file holds this wing as it is".to_owned());
        }
        Ok(scenario) => {
            let design = scenario.design.clone();
            app.scenario = scenario;
            app.message = Some("the file is read again; u takes the wing as it was back".to_owned());
            return replace(app, "the file read again".to_owned(), design);
        }
    }
    Vec::new()
}

/// Leave, or ask first.
pub(super) fn quit(app: &mut App) -> Effects {
    if app.unsaved {
        app.overlay = Some(Overlay::AskQuit);
        return Vec::new();
    }
    vec![Effect::DropRecovery, Effect::Quit]
}
