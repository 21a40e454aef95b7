//! Compare: this wing, the pinned one and the other scenarios of the folder in columns: scores, then inputs that differ.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};

use crate::physics::design::Design;
use crate::physics::evaluation::Evaluation;
use crate::scenario::dials::dials;
use crate::screen::app::{App, Neighbour};
use crate::screen::page::{fit, put};
use crate::screen::score::{ScoreOf, scores_of};

/// A column of the page.
pub struct Column<'a> {
    pub name: String,
    pub design: &'a Design,
    pub evaluation: &'a Evaluation,
}

/// Now, pinned, and the neighbours.
pub fn columns(app: &App) -> Vec<Column<'_>> {
    let mut out = vec![Column { name: "now".to_owned(), design: &app.design, evaluation: &app.evaluation }];
    if let Some(p) = &app.pin {
        out.push(Column { name: "◆ pinned".to_owned(), design: &p.design, evaluation: &p.evaluation });
    }
    let shared = shared_start(app);
    out.extend(app.neighbours.iter().map(|n| Column {
        name: n.file.trim_end_matches(".toml").get(shared..).unwrap_or(&n.file).to_owned(),
        design: &n.design,
        evaluation: &n.evaluation,
    }));
    out
}

/// Length of the first word that all file names share, with its hyphen: it would only be repeated in every head.
fn shared_start(app: &App) -> usize {
    let Some(first) = app.neighbours.first() else { return 0 };
    let Some(hyphen) = first.file.find('-') else { return 0 };
    let start = &first.file[..=hyphen];
    if app.neighbours.iter().all(|n| n.file.starts_with(start)) { start.len() } else { 0 }
}

/// The neighbour of the chosen column, if it is one.
pub fn chosen(app: &App) -> Option<&Neighbour> {
    let before = 1 + usize::from(app.pin.is_some());
    app.neighbours.get(app.line().checked_sub(before)?)
}

/// Draw the page.
pub fn draw(app: &App, frame: &mut Frame, area: Rect) {
    let all = columns(app);
    if all.len() < 2 {
        let words = if app.has_neighbours { "the other scenarios are being read" } else { "nothing to compare with" };
        put(app, frame, area, vec![Line::raw(words)]);
        return;
    }
    let label = 24_usize.min(usize::from(area.width) / 3);
    let room = usize::from(area.width) - label;
    let width = (room / all.len()).clamp(14, 24);
    let fits = (room / width).max(1);
    // The first column stays; the others scroll so that the chosen one is in sight.
    let chosen = app.line().min(all.len() - 1);
    let from = if chosen < fits { 1 } else { chosen + 2 - fits };
    let shown: Vec<usize> = std::iter::once(0).chain((from..all.len()).take(fits - 1)).collect();
    let columns: Vec<&Column> = shown.iter().map(|i| &all[*i]).collect();
    let t = app.theme;
    let mut lines = vec![heads(app, &all, &shown, label, width)];
    let scored: Vec<_> = columns.iter().map(|c| scores_of(c.design, c.evaluation)).collect();
    let brief = area.height < 30;
    for i in 0..scored.first().map_or(0, Vec::len) {
        if brief && lesser(scored[0][i].of) {
            continue;
        }
        let mut spans = vec![Span::styled(fit(scored[0][i].word, label), t.dim())];
        for s in &scored {
            let sign = if s[i].broken { "✗ " } else { "" };
            let style = if s[i].broken { t.broken() } else { t.text() };
            spans.push(Span::styled(format!("{} ", fit(&format!("{sign}{}", s[i].value), width - 1)), style));
        }
        lines.push(Line::from(spans));
    }
    lines.push(Line::styled("inputs that differ", t.title()));
    lines.extend(inputs(app, &columns, label, width));
    lines.push(Line::styled("repair hours by event, per 100 outings", t.title()));
    lines.extend(events(app, &columns, label, width));
    let lines = lines.into_iter().take(usize::from(area.height)).collect();
    put(app, frame, area, lines);
}

/// Scores left out when the window is low.
const fn lesser(of: ScoreOf) -> bool {
    use ScoreOf::{Ball, Hands, Launch, Piece, SetUp, Unseen};
    matches!(of, Ball | Unseen | Launch | Hands | SetUp | Piece)
}

fn heads(app: &App, all: &[Column], shown: &[usize], label: usize, width: usize) -> Line<'static> {
    let t = app.theme;
    let more = all.len() - shown.len();
    let words = if more > 0 { format!("↑↓ column, {more} more") } else { "↑↓ column".to_owned() };
    let mut spans = vec![Span::styled(fit(&words, label), t.dim())];
    for i in shown {
        let style = if *i == app.line() { t.chosen() } else { t.title() };
        spans.push(Span::styled(fit(&all[*i].name, width - 1), style));
        spans.push(Span::raw(" "));
    }
    Line::from(spans)
}

/// The events that cost most in this wing, in every column.
fn events(app: &App, columns: &[&Column], label: usize, width: usize) -> Vec<Line<'static>> {
    super::durability::rows(app)
        .into_iter()
        .take(5)
        .map(|event| {
            let mut spans = vec![Span::styled(fit(event.title, label - 1), app.theme.dim()), Span::raw(" ")];
            for c in columns {
                let hours =
                    c.evaluation.durability.events.iter().find(|v| v.key == event.key).map_or(0.0, |v| v.repair_h);
                spans.push(Span::raw(fit(&format!("{hours:.2}"), width)));
            }
            Line::from(spans)
        })
        .collect()
}

/// Dials whose values are not the same in all columns shown.
fn inputs(app: &App, columns: &[&Column], label: usize, width: usize) -> Vec<Line<'static>> {
    let each: Vec<_> = columns.iter().map(|c| dials(c.design)).collect();
    let mut out = Vec::new();
    for dial in &app.dials {
        let values: Vec<String> = columns
            .iter()
            .zip(&each)
            .map(|(c, ds)| ds.iter().find(|d| d.key == dial.key).map_or("-".to_owned(), |d| d.shown(c.design)))
            .collect();
        if values.iter().all(|v| *v == values[0]) {
            continue;
        }
        let name = if dial.unit.is_empty() { dial.label.clone() } else { format!("{}, {}", dial.label, dial.unit) };
        let mut spans = vec![Span::styled(fit(&name, label - 1), app.theme.dim()), Span::raw(" ")];
        spans.extend(values.iter().map(|v| Span::raw(format!("{} ", fit(v, width - 1)))));
        out.push(Line::from(spans));
    }
    if out.is_empty() {
        out.push(Line::styled("none that a dial turns", app.theme.dim()));
    }
    out
}
