//! What lies over the page gets the keys first: help, working, typing, finding, questions.

use crossterm::event::{Event, KeyCode, KeyEvent, KeyModifiers};
use tui_input::Input;
use tui_input::backend::crossterm::EventHandler;

use crate::scenario::dials::{Dial, Turn};
use crate::screen::action::{Effect, Effects};
use crate::screen::app::{App, Focus, Overlay, Page};
use crate::screen::boundary::snapped;
use crate::screen::draw::most_scroll;
use crate::screen::page::range;
use crate::screen::update::{choose, set_dial};
use crate::screen::{logging, weighing};

/// A key while something is open.
pub(super) fn on_key(app: &mut App, key: KeyEvent) -> Effects {
    let Some(mut open) = app.overlay.take() else { return Vec::new() };
    let leave =
        key.code == KeyCode::Esc || (key.modifiers.contains(KeyModifiers::CONTROL) && key.code == KeyCode::Char('c'));
    if leave {
        app.leaving = false;
        return Vec::new();
    }
    match &mut open {
        Overlay::Help { scroll } | Overlay::Working { scroll, .. } => {
            let by = match key.code {
                KeyCode::Up => -1,
                KeyCode::Down => 1,
                KeyCode::PageUp => -10,
                KeyCode::PageDown | KeyCode::Char(' ') => 10,
                KeyCode::Home => i16::MIN,
                KeyCode::End => i16::MAX,
                _ => return Vec::new(),
            };
            *scroll = scroll.saturating_add_signed(by);
            app.overlay = Some(open);
            keep_in_sight(app);
            return Vec::new();
        }
        Overlay::Typing(input) if key.code == KeyCode::Enter => {
            let text = input.value().to_owned();
            return take_typed(app, &text);
        }
        Overlay::Weighing(input) if key.code == KeyCode::Enter => {
            let text = input.value().to_owned();
            return weighing::take(app, &text);
        }
        Overlay::Logging(input) if key.code == KeyCode::Enter => {
            let text = input.value().to_owned();
            return logging::take(app, &text);
        }
        Overlay::SaveAs(input) if key.code == KeyCode::Enter => {
            let name = input.value().trim().to_owned();
            if !name.is_empty() {
                return vec![Effect::SaveAs(name)];
            }
            return Vec::new();
        }
        Overlay::Find(input) => match key.code {
            KeyCode::Enter => {
                if let Some(first) = found(app, input.value()).first() {
                    app.page = Page::Wing;
                    choose(app, *first);
                } else {
                    app.message = Some(format!("no dial is called like `{}`", input.value()));
                }
                return Vec::new();
            }
            _ => edit(input, key),
        },
        Overlay::Typing(input) | Overlay::Weighing(input) | Overlay::Logging(input) | Overlay::SaveAs(input) => {
            edit(input, key);
        }
        Overlay::AskRecovered(name) => {
            let name = std::mem::take(name);
            return answer_recovered(app, key.code, name);
        }
        Overlay::AskQuit => return answer_quit(app, key.code),
        Overlay::AskOverwrite { then_quit } => {
            let then_quit = *then_quit;
            return answer_overwrite(app, key.code, then_quit);
        }
    }
    app.overlay = Some(open);
    Vec::new()
}

/// Nobody scrolls past the end.
pub(super) fn keep_in_sight(app: &mut App) {
    let most = most_scroll(app);
    if let Some(Overlay::Help { scroll } | Overlay::Working { scroll, .. }) = &mut app.overlay {
        *scroll = (*scroll).min(most);
    }
}

/// What may be typed for a dial: its range, or the names of a list that hold what is typed so far.
pub fn allowed(dial: &Dial, typed: &str) -> String {
    let Turn::Choice(list) = &dial.turn else { return range(dial) };
    let typed = typed.trim().to_lowercase();
    let names: Vec<&str> = list.iter().map(String::as_str).filter(|n| n.to_lowercase().contains(&typed)).collect();
    if names.is_empty() { "no such name in its list".to_owned() } else { names.join(", ") }
}

fn edit(input: &mut Input, key: KeyEvent) {
    input.handle_event(&Event::Key(key));
}

/// Pasted text goes where one types.
pub(super) fn paste(app: &mut App, text: &str) -> Effects {
    if let Some(
        Overlay::Typing(input)
        | Overlay::Weighing(input)
        | Overlay::Logging(input)
        | Overlay::Find(input)
        | Overlay::SaveAs(input),
    ) = &mut app.overlay
    {
        let line: String = text.chars().filter(|c| !c.is_control()).collect();
        *input = Input::new(format!("{}{line}", input.value()));
    }
    Vec::new()
}

fn answer_quit(app: &mut App, key: KeyCode) -> Effects {
    match key {
        KeyCode::Char('s' | 'y') => {
            app.leaving = true;
            if app.scenario.path.is_none() {
                app.overlay = Some(Overlay::SaveAs(Input::default()));
                return Vec::new();
            }
            vec![Effect::Save { force: false }]
        }
        KeyCode::Char('d' | 'n') => vec![Effect::DropRecovery, Effect::Quit],
        _ => {
            app.overlay = Some(Overlay::AskQuit);
            Vec::new()
        }
    }
}

fn answer_recovered(app: &mut App, key: KeyCode, name: String) -> Effects {
    match key {
        KeyCode::Char('t' | 'y') => vec![Effect::TakeRecovered],
        KeyCode::Char('d' | 'n') => vec![Effect::ForgetRecovered],
        _ => {
            app.overlay = Some(Overlay::AskRecovered(name));
            Vec::new()
        }
    }
}

fn answer_overwrite(app: &mut App, key: KeyCode, then_quit: bool) -> Effects {
    match key {
        KeyCode::Char('o') => {
            app.leaving = then_quit;
            vec![Effect::Save { force: true }]
        }
        KeyCode::Char('S') => {
            app.overlay = Some(Overlay::SaveAs(Input::default()));
            Vec::new()
        }
        KeyCode::Char('R') => vec![Effect::ReadAgain],
        KeyCode::Char('n') => Vec::new(),
        _ => {
            app.overlay = Some(Overlay::AskOverwrite { then_quit });
            Vec::new()
        }
    }
}

/// Dials whose label or key holds every word typed; those that begin with it first.
pub fn found(app: &App, text: &str) -> Vec<usize> {
    let words: Vec<String> = text.to_lowercase().split_whitespace().map(str::to_owned).collect();
    if words.is_empty() {
        return Vec::new();
    }
    let holds = |d: &Dial| {
        let all = format!("{} {}", d.label, d.key).to_lowercase();
        words.iter().all(|w| all.contains(w.as_str()))
    };
    let mut hits: Vec<usize> = (0..app.dials.len()).filter(|i| holds(&app.dials[*i])).collect();
    hits.sort_by_key(|i| !app.dials[*i].label.to_lowercase().starts_with(&words[0]));
    hits
}

/// A typed value: digits with or without the unit, or the name of a choice.
fn take_typed(app: &mut App, text: &str) -> Effects {
    let Some(dial) = app.dial() else { return Vec::new() };
    let (label, key) = (dial.label.clone(), dial.key.clone());
    match read_value(dial, text) {
        Ok(value) => {
            let pulled = snapped_to_digits(dial, value);
            let effects = set_dial(app, app.chosen, pulled);
            app.focus = Focus::Dials;
            if (pulled - value).abs() > 1e-9 {
                let shown = app.dial_of(&key).map(|d| d.shown(&app.design)).unwrap_or_default();
                app.message = Some(format!("{label}: {} is out of range, taken as {shown}", text.trim()));
            }
            effects
        }
        Err(why) => {
            app.message = Some(why);
            Vec::new()
        }
    }
}

/// Into range, but not onto steps: a typed value may be finer than a step.
fn snapped_to_digits(dial: &Dial, value: f64) -> f64 {
    match &dial.turn {
        Turn::Number { least, most, .. } => value.max(*least).min(*most),
        _ => snapped(dial, value),
    }
}

/// Read a value as typed.
pub fn read_value(dial: &Dial, text: &str) -> Result<f64, String> {
    let text = text.trim();
    if let Turn::Choice(list) = &dial.turn {
        let wanted = text.to_lowercase();
        return list
            .iter()
            .position(|c| c.to_lowercase() == wanted)
            .or_else(|| list.iter().position(|c| !wanted.is_empty() && c.to_lowercase().contains(&wanted)))
            .map(|i| i as f64)
            .ok_or_else(|| format!("{} cannot be `{text}`; it is one of: {}", dial.label, list.join(", ")));
    }
    let number = text.strip_suffix(dial.unit).unwrap_or(text).trim().replace(',', ".");
    match number.parse::<f64>() {
        Ok(v) if v.is_finite() => Ok(v),
        _ => Err(format!("`{text}` is not a number of {}; nothing was changed", unit_words(dial))),
    }
}

/// The unit in words for a message.
fn unit_words(dial: &Dial) -> &str {
    if dial.unit.is_empty() { "this dial" } else { dial.unit }
}
