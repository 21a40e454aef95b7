//! A sample is typed into the log: one undo step, in the file once the scenario is saved.

use tui_input::Input;

use crate::physics::samples::next;
use crate::scenario::{sample_line, samples};
use crate::screen::action::Effects;
use crate::screen::app::{App, Overlay};
use crate::screen::update::replace;

/// Open the field, with what could not be read before, else the construction of the chosen record or, in an empty log, of the sample most worth making.
pub(super) fn open(app: &mut App) {
    if let Some(text) = app.unread.take() {
        app.overlay = Some(Overlay::Logging(Input::new(text)));
        return;
    }
    let d = &app.design;
    let chosen = d.library.learnt.against.get(app.line()).and_then(|a| d.samples.get(a.sample));
    let key = chosen.map(|s| s.construction.clone()).or_else(|| {
        let first = next::rank(d, &app.evaluation).into_iter().next()?;
        d.constructions.get(first.construction).map(|c| c.key.clone())
    });
    app.overlay = Some(Overlay::Logging(Input::new(key.map_or(String::new(), |k| k + " "))));
}

/// What may be typed next: the constructions that hold the word so far, then how the rest is written.
pub fn hint(app: &App, typed: &str) -> String {
    if typed.trim_start().contains(' ') {
        return format!("like {}; Enter takes", sample_line::HOW);
    }
    let keys = app.design.constructions.iter().map(|c| c.key.as_str()).filter(|k| k.contains(typed.trim()));
    let keys: Vec<&str> = keys.collect();
    if keys.is_empty() { "no construction is called like this".to_owned() } else { keys.join(", ") }
}

/// Put what was typed at the end of the log; where it cannot be read, why is said and the field opens with it again.
pub(super) fn take(app: &mut App, text: &str) -> Effects {
    if text.trim().is_empty() {
        return Vec::new();
    }
    let read = sample_line::read(text).and_then(|new| {
        let logged = samples::logged(&app.scenario, &app.design, &new);
        logged.map_err(|all| all.first().map_or_else(String::new, ToString::to_string))
    });
    match read {
        Ok(design) => {
            let n = design.samples.len();
            let key = design.samples.last().map_or(String::new(), |s| s.construction.clone());
            app.message = Some(format!("sample {n} of {key} is in the log; s saves it, u takes it back"));
            let effects = replace(app, format!("sample {n}"), design);
            let last = app.design.library.learnt.against.len().saturating_sub(1);
            app.line[app.page as usize] = last;
            effects
        }
        Err(why) => {
            app.message = Some(format!("{why}; = opens it again"));
            app.unread = Some(text.to_owned());
            Vec::new()
        }
    }
}
