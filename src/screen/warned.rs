//! A turn of a dial that brings a warning on says so at once; a wing that has some when it is opened says how many, and where they stand.

use crate::screen::app::App;

/// What is said when a wing is opened; nothing where there is nothing to warn of. It takes the place of the keys until one is pressed.
pub(in crate::screen) fn on_opening(warnings: &[String]) -> Option<String> {
    let these = match warnings.len() {
        0 => return None,
        1 => "1 warning of this wing".to_owned(),
        n => format!("{n} warnings of this wing"),
    };
    Some(format!("{these}: ! lists them, now and later   ? keys  q quit"))
}

/// All warnings as they stand, for the window that lists them.
pub(super) fn lines(app: &App) -> Vec<String> {
    let all = &app.evaluation.warnings;
    if all.is_empty() { vec!["none".to_owned()] } else { all.iter().map(|w| format!("- {w}")).collect() }
}

/// A warning without its numbers: the same one with others is not new.
fn kind(words: &str) -> String {
    words.chars().filter(|c| !c.is_ascii_digit() && *c != '.').collect()
}

/// Say the first warning of the wing that it had not before, behind what was said of the turn itself.
pub(super) fn say_what_is_new(app: &mut App, before: &[String]) {
    let known: Vec<String> = before.iter().map(|w| kind(w)).collect();
    let Some(new) = app.evaluation.warnings.iter().find(|w| !known.contains(&kind(w))) else { return };
    let said = app.message.take().map_or(String::new(), |m| format!("{m}; "));
    app.message = Some(format!("{said}warning: {new}"));
}
