//! Saving and leaving: what is asked first, and what is said after.

use tui_input::Input;

use crate::scenario::Saved;
use crate::screen::action::{Effect, Effects};
use crate::screen::app::{App, Overlay};

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

/// Leave, or ask first.
pub(super) fn quit(app: &mut App) -> Effects {
    if app.unsaved {
        app.overlay = Some(Overlay::AskQuit);
        return Vec::new();
    }
    vec![Effect::DropRecovery, Effect::Quit]
}
