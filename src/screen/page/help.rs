//! The list of keys, from the one table, and what the marks mean.

use ratatui::text::{Line, Span};

use crate::screen::app::App;
use crate::screen::keys::{BINDINGS, Place, holds};
use crate::screen::page::fit;

/// Lines of the help: the keys that work here first, then those of other places.
pub fn lines(app: &App) -> Vec<Line<'static>> {
    let t = app.theme;
    // Keys with a long name stand whole; the words begin after them.
    let line = |keys: &str, words: String| {
        let keys = fit(keys, keys.chars().count().max(11));
        Line::from(vec![Span::styled(keys, t.key()), Span::raw("  "), Span::raw(words)])
    };
    let mut out: Vec<Line> =
        BINDINGS.iter().filter(|b| holds(b.place, app)).map(|b| line(b.keys, b.help.to_owned())).collect();
    out.push(Line::raw(""));
    out.push(Line::styled("Elsewhere", t.title()));
    out.extend(
        BINDINGS
            .iter()
            .filter(|b| !holds(b.place, app))
            .map(|b| line(b.keys, format!("{}{}", place_word(b.place), b.help))),
    );
    out.push(Line::raw(""));
    out.push(Line::styled("Mouse", t.title()));
    out.push(line("drag ┃", "move the boundary between sandwich and fabric; Esc puts it back".to_owned()));
    out.push(line("drag the section", "move the spar line or the hinge line of the cross-section".to_owned()));
    out.push(line(
        "click",
        "go to a page, open a group of dials, choose a dial, a line, a zone of the skin map".to_owned(),
    ));
    out.push(line("wheel", "scroll; over the chosen dial, turn it".to_owned()));
    out.push(Line::raw(""));
    out.push(Line::styled("Marks", t.title()));
    out.push(line("✗", "a stated limit is not met".to_owned()));
    out.push(line(
        "▲ ▼",
        "change against the pinned wing; in brackets when smaller than its own uncertainty".to_owned(),
    ));
    out.push(line("dim", "numbers of an earlier position of the dials, until the new ones are here".to_owned()));
    out.push(line("S O F W L", "sandwich, one-faced foam, covering, wood, bare laminate".to_owned()));
    out.push(Line::raw(""));
    out.push(Line::raw(crate::report::CAUTIONS));
    out
}

const fn place_word(place: Place) -> &'static str {
    match place {
        Place::Anywhere => "",
        Place::Wing => "Wing: ",
        Place::WingDials => "Wing, dials: ",
        Place::WingMap => "Wing, skin map: ",
        Place::WingScores => "Wing, scores: ",
        Place::On(page) => match page {
            crate::screen::app::Page::Section => "Section: ",
            crate::screen::app::Page::Strength => "Strength: ",
            crate::screen::app::Page::Search => "Search: ",
            crate::screen::app::Page::Durability => "Durability: ",
            crate::screen::app::Page::Workshop => "Workshop: ",
            crate::screen::app::Page::Samples => "Samples: ",
            _ => "Compare: ",
        },
        Place::Lists => "other pages: ",
        Place::Bags => "Workshop, bags: ",
        Place::Section => "Workshop, section: ",
        Place::Building => "Workshop, building: ",
        Place::Scales => "Workshop: ",
    }
}
