//! A turn of a dial that brings a warning on says so at once.

use crate::screen::app::App;

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
