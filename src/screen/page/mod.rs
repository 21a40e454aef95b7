//! The pages. Each draws from `App` into its part of the screen and changes nothing.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span, Text};
use ratatui::widgets::Paragraph;

use crate::scenario::dials::{Dial, Group, Turn};
use crate::screen::app::{App, Page, Sheet};
use crate::screen::areas::Areas;
use crate::screen::wrap::{FURTHER_IN, parts_a_unit};

pub mod build;
pub mod compare;
pub mod curve;
pub mod durability;
pub mod flight;
pub mod help;
pub mod plan;
pub mod proving;
pub mod samples;
pub mod scales;
pub mod search;
pub mod section;
pub mod shape;
pub mod skin_map;
pub mod strength;
pub mod trade;
pub mod weight;
pub mod wing;
pub mod working;
pub mod workshop;

/// Draw the page that is open.
pub fn draw(app: &App, frame: &mut Frame, a: &Areas) {
    match app.page {
        Page::Wing => wing::draw(app, frame, a),
        Page::Section => section::draw(app, frame, a.body),
        Page::Weight => weight::draw(app, frame, a.body),
        Page::Strength => strength::draw(app, frame, a.body),
        Page::Durability => durability::draw(app, frame, a.body),
        Page::Flight => flight::draw(app, frame, a.body),
        Page::Search => search::draw(app, frame, a.body),
        Page::Compare => compare::draw(app, frame, a.body),
        Page::Samples => samples::draw(app, frame, a.body),
        Page::Workshop => match app.sheet {
            Sheet::Proof => workshop::draw(app, frame, a.body),
            Sheet::Scales => scales::draw(app, frame, a.body),
            _ => build::draw(app, frame, a.body),
        },
    }
}

/// How many lines of the open page can be chosen.
pub fn lines(app: &App) -> usize {
    match app.page {
        Page::Wing => app.dials.len(),
        Page::Section => section::layers(app).len(),
        Page::Weight => weight::rows(app).len(),
        Page::Strength => strength::rows(app).len(),
        Page::Durability => durability::rows(app).len(),
        Page::Flight => flight::rows(app).len(),
        Page::Search => app.search.rows.len(),
        Page::Compare => compare::columns(app).len(),
        Page::Samples => samples::lines(app),
        Page::Workshop => match app.sheet {
            Sheet::Proof => workshop::lines(app),
            Sheet::Scales => scales::lines(app),
            _ => build::lines(app),
        },
    }
}

/// The heading of a group of dials.
pub const fn group_word(group: Group) -> &'static str {
    match group {
        Group::Planform => "planform",
        Group::Layout => "layout",
        Group::AftSkins => "aft skins",
        Group::PliesAndCores => "plies and cores",
        Group::Spar => "spar",
        Group::Loads => "loads",
        Group::Masses => "masses",
        Group::GroundCare => "ground care",
        Group::Workshop => "workshop",
    }
}

/// The range of a dial in words.
pub fn range(dial: &Dial) -> String {
    match &dial.turn {
        Turn::Number { least, most, step, digits, .. } => {
            format!("{least:.digits$} to {most:.digits$} {} by {step}", dial.unit)
        }
        Turn::Whole { least, most } => format!("{least} to {most} {}", dial.unit).trim_end().to_owned(),
        Turn::Choice(list) => list.join(", "),
    }
}

/// Lines in an area, styled old when the numbers are.
pub(super) fn put(app: &App, frame: &mut Frame, area: Rect, lines: Vec<Line<'_>>) {
    let style = if app.old() { app.theme.dim() } else { app.theme.text() };
    frame.render_widget(Paragraph::new(Text::from(lines)).style(style), area);
}

/// A table of lines with one chosen, scrolled so that it is in sight; the first `head` lines stay.
pub(super) fn put_list(app: &App, frame: &mut Frame, area: Rect, head: Line<'_>, rows: Vec<Line<'_>>, chosen: usize) {
    let hidden = usize::from(area.height) < rows.len() + 1;
    let (mark, used) = (format!("{} of {}", chosen + 1, rows.len()), head.width());
    let space = usize::from(area.width).saturating_sub(used + mark.chars().count());
    let head = if hidden && space >= 2 {
        let mut spans = head.spans;
        spans.extend([Span::raw(" ".repeat(space)), Span::raw(mark)]);
        Line::from(spans)
    } else {
        head
    };
    put_rows(app, frame, area, head, rows, chosen);
}

/// The same without saying which of how many is chosen.
fn put_rows(app: &App, frame: &mut Frame, area: Rect, head: Line<'_>, rows: Vec<Line<'_>>, chosen: usize) {
    if area.height < 2 {
        return;
    }
    let room = usize::from(area.height) - 1;
    let from = first_shown(rows.len(), room, chosen);
    let mut lines = vec![head.style(app.theme.title())];
    for (i, row) in rows.into_iter().enumerate().skip(from).take(room) {
        lines.push(if i == chosen { row.style(app.theme.chosen()) } else { row });
    }
    put(app, frame, area, lines);
}

/// The first row shown of a list of `n`, so that the chosen one is in sight.
fn first_shown(n: usize, room: usize, chosen: usize) -> usize {
    if n <= room { 0 } else { chosen.saturating_sub(room / 2).min(n - room) }
}

/// Where the list of the open page stands, its head line included; nothing where no line is chosen by pointing.
fn list_of(app: &App, body: Rect) -> Option<Rect> {
    match app.page {
        Page::Wing | Page::Section | Page::Compare => None,
        Page::Weight => Some(weight::list(app, body)),
        Page::Strength => Some(strength::list(app, body)),
        Page::Durability => Some(durability::list(app, body)),
        Page::Flight => Some(flight::list(body)),
        Page::Search => search::list(app, body),
        Page::Samples => Some(samples::list(app, body)),
        Page::Workshop => match app.sheet {
            Sheet::Proof => workshop::list(app, body),
            Sheet::Scales => Some(scales::list(app, body)),
            _ => Some(build::list(app, body)),
        },
    }
}

/// The line of the open page's list under a place of the screen.
pub fn line_at(app: &App, body: Rect, column: u16, row: u16) -> Option<usize> {
    let list = list_of(app, body)?;
    let n = lines(app);
    let within = (list.x..list.x + list.width).contains(&column) && (list.y + 1..list.y + list.height).contains(&row);
    if !within {
        return None;
    }
    let from = first_shown(n, usize::from(list.height - 1), app.line());
    let line = from + usize::from(row - list.y - 1);
    (line < n).then_some(line)
}

/// Parts set one after the other with a gap, broken only between parts; a part too long for a line is broken in words.
pub(super) fn flow(parts: &[String], width: usize) -> Vec<Line<'static>> {
    let mut out: Vec<String> = Vec::new();
    let mut line = String::new();
    for part in parts {
        let used = line.chars().count();
        if used > 0 && used + 3 + part.chars().count() > width {
            out.push(std::mem::take(&mut line));
        } else if used > 0 {
            line.push_str("   ");
        }
        let words: Vec<&str> = part.split(' ').collect();
        for (i, word) in words.iter().enumerate() {
            let used = line.chars().count();
            // A number takes its unit along.
            let unit = words.get(i + 1).filter(|next| parts_a_unit(word, next));
            let length = word.chars().count() + unit.map_or(0, |u| u.chars().count() + 1);
            if !line.trim().is_empty() && used + 1 + length > width {
                // What goes on stands further in than what begins.
                out.push(std::mem::replace(&mut line, " ".repeat(FURTHER_IN.min(width / 2))));
            } else if used > 0 && !line.ends_with(' ') {
                line.push(' ');
            }
            line.push_str(word);
        }
    }
    out.push(line);
    out.into_iter().map(Line::raw).collect()
}

/// A bar of eighths of a cell.
pub(super) fn bar(share: f64, width: usize) -> String {
    const EIGHTHS: [char; 7] = ['▏', '▎', '▍', '▌', '▋', '▊', '▉'];
    let cells = if share.is_finite() { share.clamp(0.0, 1.0) * width as f64 } else { 0.0 };
    let full = cells.floor() as usize;
    let mut out = "█".repeat(full);
    let rest = ((cells - full as f64) * 8.0).floor() as usize;
    if rest > 0 && full < width {
        out.push(EIGHTHS[rest - 1]);
    }
    out
}

/// Cut or pad words to a width.
pub(in crate::screen) fn fit(words: &str, width: usize) -> String {
    let n = words.chars().count();
    if n <= width {
        return format!("{words}{}", " ".repeat(width - n));
    }
    let mut out: String = words.chars().take(width.saturating_sub(1)).collect();
    if width > 0 {
        out.push('…');
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_are_cut_with_a_sign_and_padded_to_the_column() {
        assert_eq!(fit("spar", 6), "spar  ");
        assert_eq!(fit("spar caps", 6), "spar …");
        assert_eq!(fit("x", 0), "");
    }

    #[test]
    fn parts_flow_over_lines_and_nothing_is_lost() {
        let parts = ["chord 1.30 m".to_owned(), "twist 2 deg".to_owned(), "spar at 30 %".to_owned()];
        let lines: Vec<String> = flow(&parts, 28).iter().map(ToString::to_string).collect();
        assert_eq!(lines, ["chord 1.30 m   twist 2 deg", "spar at 30 %"]);
        assert!(flow(&parts, 7).iter().all(|l| l.width() <= 7));
    }

    #[test]
    fn bars_are_as_long_as_their_share() {
        assert_eq!(bar(0.5, 4), "██");
        assert_eq!(bar(2.0, 3), "███");
        assert_eq!(bar(f64::NAN, 3), "");
    }
}
