//! The head line: the wing and whether it is saved on the left, the pages on the right. One function says where each page
//! stands, for drawing and for the mouse alike.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use crate::screen::app::{App, Page};
use crate::screen::page::fit;

/// Words of turns that no file holds yet, and the sign alone.
const UNSAVED: [&str; 2] = [" * not saved", " *"];

/// Characters of the wing's name that must have room beside the names of all pages; a longer one is cut there.
const LEAST_NAME: usize = 14;

/// A piece of the right side: its words, and the page it goes to; the words of how to go elsewhere go nowhere.
struct Tab {
    words: String,
    page: Option<Page>,
}

/// What stands on the left, and the pieces on the right.
fn parts(app: &App, width: usize) -> (String, Vec<Tab>) {
    let all: Vec<Tab> = app
        .pages()
        .map(|(digit, p)| {
            let after = if p == app.page { " " } else { "" };
            Tab { words: format!(" {digit} {}{after}", p.word()), page: Some(p) }
        })
        .collect();
    let length = |tabs: &[Tab]| tabs.iter().map(|t| t.words.chars().count()).sum::<usize>();
    let names = [format!("thistledown · {}", app.name()), app.name(), app.design.name.clone()];
    // The names of all pages where they leave room for the name of the wing, else how to reach them. Whether the wing is
    // saved decides nothing, so that the line does not jump.
    let short = names[2].chars().count().min(LEAST_NAME) + 2 + length(&all);
    let mark = UNSAVED.into_iter().find(|m| short + m.len() <= width);
    let tabs = if mark.is_some() {
        all
    } else {
        let digits: Vec<char> = app.pages().map(|(d, _)| d).collect();
        let first = digits.first().copied().unwrap_or('1');
        let here = all.into_iter().filter(|t| t.page == Some(app.page));
        let words = match digits.last() {
            Some('0') => format!(" pages {first}-9 0"),
            Some(last) => format!(" pages {first}-{last}"),
            None => String::new(),
        };
        here.chain(std::iter::once(Tab { words, page: None })).collect()
    };
    let mark = mark.unwrap_or(UNSAVED[0]);
    // The longest name that has room on every page; the mark is never cut.
    let longest = app.pages().map(|(_, p)| p.word().len()).max().unwrap_or(0);
    let spare = if tabs.last().is_some_and(|t| t.page.is_none()) { longest - app.page.word().len() } else { 0 };
    let room = width.saturating_sub(length(&tabs) + spare + 1 + mark.len());
    let name = names.iter().find(|n| n.chars().count() <= room).map_or_else(|| fit(&names[2], room), Clone::clone);
    (format!("{name}{}", if app.unsaved { mark } else { "" }), tabs)
}

/// Draw it.
pub(super) fn draw(app: &App, frame: &mut Frame, r: Rect) {
    let t = app.theme;
    let (left, tabs) = parts(app, usize::from(r.width));
    frame.render_widget(Paragraph::new(left).style(t.title()), r);
    let spans = tabs.into_iter().map(|tab| {
        let style = if tab.page == Some(app.page) { t.chosen() } else { t.dim() };
        Span::styled(tab.words, style)
    });
    let line: Line = spans.collect();
    let width = (line.width() as u16).min(r.width);
    frame.render_widget(Paragraph::new(line), Rect::new(r.x + r.width - width, r.y, width, 1));
}

/// The page whose name stands in a column of the head line.
pub fn page_at(app: &App, r: Rect, column: u16) -> Option<Page> {
    let (_, tabs) = parts(app, usize::from(r.width));
    let mut end = r.x + r.width;
    for tab in tabs.iter().rev() {
        let from = end.saturating_sub(tab.words.chars().count() as u16);
        if (from..end).contains(&column) {
            return tab.page;
        }
        end = from;
    }
    None
}
