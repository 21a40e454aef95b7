//! What keys do in the workshop: which sheet lies open; on the scales a part is weighed in or taken off, one undo step each.

use tui_input::Input;

use crate::scenario::weighed;
use crate::screen::action::Effects;
use crate::screen::app::{App, Overlay, Page, Sheet};
use crate::screen::keys::Command;
use crate::screen::page::scales;
use crate::screen::update::replace;

/// Show the scales, the sheets for building or the plan of the proof load; open the field for what the chosen part weighs; take it off.
pub(super) fn on(app: &mut App, command: Command) -> Effects {
    match command {
        Command::Scales => {
            let to = if app.sheet == Sheet::Scales { Sheet::Proof } else { Sheet::Scales };
            lay_open(app, to);
        }
        Command::Build => {
            let to = if Sheet::BUILDING.contains(&app.sheet) { Sheet::Proof } else { Sheet::Cuts };
            lay_open(app, to);
        }
        _ if app.sheet != Sheet::Scales => {
            app.message = Some("w shows the scales, where parts are weighed in".to_owned());
        }
        Command::TakeOff => return take_off(app),
        _ if scales::chosen(app).is_some() => app.overlay = Some(Overlay::Weighing(Input::default())),
        _ => {}
    }
    Vec::new()
}

fn lay_open(app: &mut App, sheet: Sheet) {
    app.sheet = sheet;
    app.line[Page::Workshop as usize] = 0;
}

/// Go to another of the sheets for building, where one of them lies open.
pub(super) fn next_sheet(app: &mut App, by: i32) -> bool {
    let all = Sheet::BUILDING;
    let Some(at) = all.iter().position(|s| *s == app.sheet).filter(|_| app.page == Page::Workshop) else {
        return false;
    };
    let to = (at as i32 + by).rem_euclid(all.len() as i32) as usize;
    lay_open(app, all[to]);
    true
}

/// Enter what was typed for the chosen part, as one undo step.
pub(super) fn take(app: &mut App, text: &str) -> Effects {
    let mut design = app.design.clone();
    let taken = scales::read(app, text).and_then(|new| {
        let words = new.piece.words();
        weighed::enter(&mut design, new, None).map(|()| words)
    });
    match taken {
        Ok(words) => {
            app.message = Some(format!("{words} is on the scales; u takes it off"));
            replace(app, format!("weighed {words}"), design)
        }
        Err(why) => {
            app.message = Some(format!("{why}; nothing was changed"));
            Vec::new()
        }
    }
}

/// Take what was weighed of the chosen part off the scales.
fn take_off(app: &mut App) -> Effects {
    let Some(row) = scales::chosen(app) else { return Vec::new() };
    let mut design = app.design.clone();
    let (off, left): (Vec<_>, Vec<_>) = design.weighed.into_iter().partition(|w| w.piece.meets(&row.piece));
    design.weighed = left;
    if off.is_empty() {
        app.message = Some(format!("{} is not on the scales", row.piece.words()));
        return Vec::new();
    }
    // A part may have been weighed with all of its heading.
    let mut names: Vec<String> = off.iter().map(|w| w.piece.words()).collect();
    names.dedup();
    let words = names.join(", ");
    app.message = Some(format!("{words} is taken off the scales; u puts it back"));
    replace(app, format!("weighed {words}"), design)
}
