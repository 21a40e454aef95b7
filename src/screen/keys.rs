//! The one table of keys: it drives what keys do, the hint line and the help.

use crossterm::event::{KeyCode, KeyEvent, KeyModifiers};

use crate::screen::app::{App, Focus, Page, Proving, Sheet};
use crate::screen::grip::Line;

/// What a key asks for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Command {
    Turn {
        steps: i32,
        coarse: bool,
    },
    Up,
    Down,
    First,
    Last,
    PageUp,
    PageDown,
    NextPart,
    Boundary(i32),
    /// Move the spar or hinge line of the cross-section.
    Line(Line, i32),
    Type,
    /// The next of the sheets about proof.
    Tests,
    /// The scales, or the sheets for building, in place of the proof load, and back; what the chosen part weighs; take it off.
    Scales,
    Build,
    Weigh,
    TakeOff,
    /// Type a sample into the log.
    Log,
    Find,
    Pin,
    Undo,
    Redo,
    Working,
    Save,
    SaveAs,
    ReadAgain,
    OtherScores,
    Trade,
    Shade(usize),
    NextCase(i32),
    Against,
    ScrollPart(i32),
    Vary,
    Lightest,
    Helps,
    Care,
    Search,
    Load,
    ToPage(Page),
    NextPage,
    FreeMouse,
    Warnings,
    Help,
    Suspend,
    Quit,
    Leave,
}

/// Where a binding holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Place {
    Anywhere,
    WingDials,
    WingMap,
    WingScores,
    /// Any page where the arrows turn dials or choose them.
    Wing,
    On(Page),
    /// Pages with a chosen line.
    Lists,
    /// Sheets of the Workshop page: bags, a section to be broken, what is for building, the scales.
    Bags,
    Section,
    Building,
    Scales,
}

/// One line of the table.
#[derive(Debug, Clone, Copy)]
pub struct Binding {
    /// As written in hint and help.
    pub keys: &'static str,
    /// Short words for the hint line; empty when the hint does not show it.
    pub hint: &'static str,
    pub help: &'static str,
    pub place: Place,
    pub makes: &'static [(Key, Command)],
}

/// A key as the table names it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Key {
    Code(KeyCode),
    Ctrl(char),
}

const fn c(ch: char) -> Key {
    Key::Code(KeyCode::Char(ch))
}
const fn k(code: KeyCode) -> Key {
    Key::Code(code)
}
const fn turn(steps: i32, coarse: bool) -> Command {
    Command::Turn { steps, coarse }
}
const fn bind(
    keys: &'static str,
    hint: &'static str,
    help: &'static str,
    place: Place,
    makes: &'static [(Key, Command)],
) -> Binding {
    Binding { keys, hint, help, place, makes }
}

use Command as C;
use KeyCode as K;
use Place as P;

/// Every key. Earlier lines stand first in the hint.
pub const BINDINGS: &[Binding] = &[
    bind(
        "←→",
        "turn",
        "turn the chosen dial one step; on a list take the item before or after",
        P::WingDials,
        &[(k(K::Left), turn(-1, false)), (k(K::Right), turn(1, false))],
    ),
    bind(
        "←→",
        "bay",
        "move over the bays of the skin map",
        P::WingMap,
        &[(k(K::Left), turn(-1, false)), (k(K::Right), turn(1, false))],
    ),
    bind(
        "←→",
        "number",
        "choose a number of the score strip",
        P::WingScores,
        &[(k(K::Left), C::Up), (k(K::Right), C::Down)],
    ),
    bind(
        "←→",
        "station",
        "move the cross-section along the span",
        P::On(Page::Section),
        &[(k(K::Left), C::NextCase(-1)), (k(K::Right), C::NextCase(1))],
    ),
    bind(
        "↑↓",
        "strip",
        "show the lay-up of another strip at this station; PgUp and PgDn go through its layers",
        P::On(Page::Section),
        &[(k(K::Up), C::Up), (k(K::Down), C::Down)],
    ),
    bind(
        ", .",
        "spar",
        "move the spar forward or aft, at the nearer end of the wing; the mouse drags it",
        P::On(Page::Section),
        &[(c(','), C::Line(Line::Spar, -1)), (c('.'), C::Line(Line::Spar, 1))],
    ),
    bind(
        "< >",
        "hinge",
        "move the hinge line forward or aft; the mouse drags it",
        P::On(Page::Section),
        &[(c('<'), C::Line(Line::Hinge, -1)), (c('>'), C::Line(Line::Hinge, 1))],
    ),
    bind(
        "←→",
        "case",
        "show another load case",
        P::On(Page::Strength),
        &[(k(K::Left), C::NextCase(-1)), (k(K::Right), C::NextCase(1))],
    ),
    bind(
        "←→",
        "case",
        "plan another load case",
        P::Bags,
        &[(k(K::Left), C::NextCase(-1)), (k(K::Right), C::NextCase(1))],
    ),
    bind(
        "←→",
        "bay",
        "plan a section like another bay; before the first, the bay of the least margin",
        P::Section,
        &[(k(K::Left), C::NextCase(-1)), (k(K::Right), C::NextCase(1))],
    ),
    bind(
        "←→",
        "sheet",
        "from the cut list to what to buy, resin, parts",
        P::Building,
        &[(k(K::Left), C::NextCase(-1)), (k(K::Right), C::NextCase(1))],
    ),
    bind(
        "t",
        "test",
        "go on from bags to the torsion test, a section to be broken, what was seen",
        P::On(Page::Workshop),
        &[(c('t'), C::Tests)],
    ),
    bind(
        "w",
        "scale",
        "weigh parts in, in place of the plan of a proof load, and back",
        P::On(Page::Workshop),
        &[(c('w'), C::Scales)],
    ),
    bind(
        "c",
        "cuts",
        "the cut list, what to buy, resin by batch and a sheet for each part, in place of the plan of a proof load, and back",
        P::On(Page::Workshop),
        &[(c('c'), C::Build)],
    ),
    bind(
        "=",
        "weigh",
        "on the scales: type what the chosen part weighs in g (left 180: one half)",
        P::Scales,
        &[(c('='), C::Weigh)],
    ),
    bind("x", "", "on the scales: take the chosen part off again", P::Scales, &[(c('x'), C::TakeOff)]),
    bind(
        "=",
        "log sample",
        "type a sample into the log: construction, 400 cm2 34.5 g, ball 10 mm 88 76 95 (loads in N); # begins a remark",
        P::On(Page::Samples),
        &[(c('='), C::Log)],
    ),
    bind(
        "←→",
        "part",
        "bring another part of the comparison to the top",
        P::On(Page::Compare),
        &[(k(K::Left), C::NextCase(-1)), (k(K::Right), C::NextCase(1))],
    ),
    bind(
        "↑↓",
        "choose",
        "choose the dial, strip or line above or below",
        P::Anywhere,
        &[(k(K::Up), C::Up), (k(K::Down), C::Down)],
    ),
    bind(
        "s",
        "start/stop",
        "start the search, or stop it; what is done is kept",
        P::On(Page::Search),
        &[(c('s'), C::Search)],
    ),
    bind("x", "drop dial", "take the last dial out of the search", P::On(Page::Search), &[(c('x'), C::Vary)]),
    bind(
        "h",
        "what helps",
        "list the single changes that would help durability most, and what each costs",
        P::On(Page::Durability),
        &[(c('h'), C::Helps)],
    ),
    bind(
        "c",
        "care",
        "say how the wing is treated: use, holds and rests with their checks, protection; all are dials under ground care",
        P::On(Page::Durability),
        &[(c('c'), C::Care)],
    ),
    bind("l", "load", "load the chosen result into the dials", P::On(Page::Search), &[(c('l'), C::Load)]),
    bind(
        "a",
        "against it",
        "hold all columns against the chosen one; on the first column, against this wing again",
        P::On(Page::Compare),
        &[(c('a'), C::Against)],
    ),
    bind("l", "load", "load the chosen scenario's inputs into the dials", P::On(Page::Compare), &[(c('l'), C::Load)]),
    bind(
        "[ ]",
        "",
        "turn the chosen dial by its coarse step",
        P::Wing,
        &[(c('['), turn(-1, true)), (c(']'), turn(1, true))],
    ),
    bind(
        ", .",
        "boundary",
        "move the boundary of the strip at the map cursor towards root or tip",
        P::Wing,
        &[(c(','), C::Boundary(-1)), (c('.'), C::Boundary(1)), (c('<'), C::Boundary(-1)), (c('>'), C::Boundary(1))],
    ),
    bind("=", "type", "type a value for the chosen dial; Enter takes it, Esc leaves it", P::Wing, &[(c('='), C::Type)]),
    bind(
        "b",
        "lightest mix",
        "put the lightest durable mix at these dials into the dials (exact search)",
        P::Wing,
        &[(c('b'), C::Lightest)],
    ),
    bind("p", "pin", "pin the wing as it is, to compare with; again unpins", P::Anywhere, &[(c('p'), C::Pin)]),
    bind("u", "undo", "take the last turn back", P::Anywhere, &[(c('u'), C::Undo)]),
    bind("U", "", "do again what was taken back", P::Anywhere, &[(c('U'), C::Redo)]),
    bind("/", "find", "find a dial by part of its name", P::Anywhere, &[(c('/'), C::Find)]),
    bind(
        "Enter",
        "working",
        "open the working of the chosen number: formula, inputs, source",
        P::Anywhere,
        &[(k(K::Enter), C::Working)],
    ),
    bind("Tab", "part", "go from dials to skin map to scores", P::Wing, &[(k(K::Tab), C::NextPart)]),
    bind("t", "trade", "trade plot in place of the chosen dial's words, and back", P::Wing, &[(c('t'), C::Trade)]),
    bind(
        "v",
        "more scores",
        "show the next scores that have no room, and round again",
        P::Anywhere,
        &[(c('v'), C::OtherScores)],
    ),
    bind(
        "a z",
        "shading",
        "other shading of the left half (a) or the right half (z) of the skin map",
        P::Wing,
        &[(c('a'), C::Shade(0)), (c('z'), C::Shade(1))],
    ),
    bind("x", "", "let the chosen dial vary in the search, or no longer", P::Wing, &[(c('x'), C::Vary)]),
    bind(
        "s",
        "save",
        "save the scenario, comments kept; asks when the file changed meanwhile",
        P::Anywhere,
        &[(c('s'), C::Save)],
    ),
    bind("S", "", "save under another name", P::Anywhere, &[(c('S'), C::SaveAs)]),
    bind(
        "R",
        "",
        "read the file of the scenario again, after a change to it elsewhere; u takes it back",
        P::Anywhere,
        &[(c('R'), C::ReadAgain)],
    ),
    bind("!", "warnings", "list the warnings of this wing", P::Anywhere, &[(c('!'), C::Warnings)]),
    bind("?", "keys", "this list", P::Anywhere, &[(c('?'), C::Help), (k(K::F(1)), C::Help)]),
    bind(
        "q",
        "quit",
        "leave; asks when something is not saved",
        P::Anywhere,
        &[(c('q'), C::Quit), (Key::Ctrl('c'), C::Quit)],
    ),
    bind(
        "1-9 0",
        "",
        "go to the page of that number",
        P::Anywhere,
        &[
            (c('1'), C::ToPage(Page::Wing)),
            (c('2'), C::ToPage(Page::Section)),
            (c('3'), C::ToPage(Page::Weight)),
            (c('4'), C::ToPage(Page::Strength)),
            (c('5'), C::ToPage(Page::Durability)),
            (c('6'), C::ToPage(Page::Flight)),
            (c('7'), C::ToPage(Page::Search)),
            (c('8'), C::ToPage(Page::Compare)),
            (c('9'), C::ToPage(Page::Samples)),
            (c('0'), C::ToPage(Page::Workshop)),
        ],
    ),
    bind("Tab", "", "the next page", P::Lists, &[(k(K::Tab), C::NextPage)]),
    bind(
        "PgUp PgDn",
        "",
        "scroll the part of the comparison at the top",
        P::On(Page::Compare),
        &[(k(K::PageUp), C::ScrollPart(-5)), (k(K::PageDown), C::ScrollPart(5))],
    ),
    bind(
        "PgUp PgDn Home End",
        "",
        "move by a screenful, to the first, to the last",
        P::Anywhere,
        &[(k(K::PageUp), C::PageUp), (k(K::PageDown), C::PageDown), (k(K::Home), C::First), (k(K::End), C::Last)],
    ),
    bind(
        "m",
        "",
        "give the mouse back to the terminal for selecting text, or take it again",
        P::Anywhere,
        &[(c('m'), C::FreeMouse)],
    ),
    bind("Esc", "", "leave what is open; during a drag put it back", P::Anywhere, &[(k(K::Esc), C::Leave)]),
    bind("Ctrl-Z", "", "stop; `fg` in the shell goes on", P::Anywhere, &[(Key::Ctrl('z'), C::Suspend)]),
];

/// Does a binding hold where the person is?
pub fn holds(place: Place, app: &App) -> bool {
    let wing = app.page == Page::Wing;
    match place {
        P::Anywhere => true,
        P::Wing => wing,
        P::WingDials => wing && app.focus == Focus::Dials,
        P::WingMap => wing && app.focus == Focus::Map,
        P::WingScores => wing && app.focus == Focus::Scores,
        P::On(page) => app.page == page,
        P::Lists => !wing,
        // What is typed there before the scales lie open is told where they are.
        P::Scales => app.page == Page::Workshop,
        P::Bags | P::Section | P::Building => app.page == Page::Workshop && place == sheet(app),
    }
}

/// The place that the open sheet of the Workshop page is; none of its own where arrows have no work.
const fn sheet(app: &App) -> Place {
    match (app.sheet, app.proving) {
        (Sheet::Proof, Proving::Bags) => P::Bags,
        (Sheet::Proof, Proving::Section) => P::Section,
        (Sheet::Proof, Proving::Torsion | Proving::Seen) => P::On(Page::Workshop),
        (Sheet::Scales, _) => P::Scales,
        (Sheet::Cuts | Sheet::Stock | Sheet::Resin | Sheet::Parts, _) => P::Building,
    }
}

/// The command of a key, where the person is.
pub fn command(app: &App, event: &KeyEvent) -> Option<Command> {
    let key = if event.modifiers.contains(KeyModifiers::CONTROL) {
        match event.code {
            K::Char(ch) => Key::Ctrl(ch.to_ascii_lowercase()),
            other => Key::Code(other),
        }
    } else {
        Key::Code(event.code)
    };
    BINDINGS
        .iter()
        .filter(|b| holds(b.place, app))
        .flat_map(|b| b.makes.iter())
        .find(|(k, _)| *k == key)
        .map(|(_, command)| *command)
}

/// Keys and words for the hint line, the most useful here first.
pub fn hints(app: &App) -> impl Iterator<Item = (&'static str, &'static str)> {
    let shown = BINDINGS.iter().enumerate().filter(|(_, b)| !b.hint.is_empty() && holds(b.place, app));
    let mut all: Vec<&Binding> = shown.filter(|(i, b)| wanted(*i, b, app)).map(|(_, b)| b).collect();
    // On lists what belongs to the page, then what nobody should look for: arrows up and down are found without being told.
    if app.page != Page::Wing {
        let rank = |b: &Binding| match b.keys {
            _ if b.place != P::Anywhere => 0,
            "Enter" | "u" => 1,
            "s" => 2,
            _ => 3,
        };
        all.sort_by_key(|b| rank(b));
    }
    all.into_iter().map(|b| (b.keys, b.hint))
}

/// A hint that would say nothing true here is left out: the same key with an earlier meaning, a part that is absent.
fn wanted(at: usize, b: &Binding, app: &App) -> bool {
    let earlier = BINDINGS[..at]
        .iter()
        .any(|o| holds(o.place, app) && o.makes.first().map(|m| m.0) == b.makes.first().map(|m| m.0));
    let boundary = b.makes.iter().any(|(_, c)| matches!(c, C::Boundary(_)));
    let scales = b.place != P::Scales || app.sheet == Sheet::Scales;
    !earlier && scales && (!boundary || app.dials.iter().any(crate::screen::boundary::is_boundary))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_key_means_two_things_in_the_same_place() {
        for (i, a) in BINDINGS.iter().enumerate() {
            for b in &BINDINGS[i + 1..] {
                if a.place == b.place {
                    for (key, _) in a.makes {
                        assert!(b.makes.iter().all(|(other, _)| other != key), "{} and {}", a.help, b.help);
                    }
                }
            }
        }
    }

    #[test]
    fn every_binding_says_what_it_does() {
        for b in BINDINGS {
            assert!(!b.help.is_empty() && !b.keys.is_empty() && !b.makes.is_empty());
        }
    }
}
