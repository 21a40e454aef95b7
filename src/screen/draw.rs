//! One frame: head line, page, rule, score strip, hint line, and what lies over them.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span, Text};
use ratatui::widgets::{Block, BorderType, Clear, Paragraph, Wrap};

use crate::screen::app::{App, Focus, Held, Overlay, Page};
use crate::screen::areas::{Areas, LEAST, areas};
use crate::screen::score::{Score, scores};
use crate::screen::{head, keys, logging, overlay, page, wrap};

/// Draw everything. Reads `App`, changes nothing.
pub fn draw(app: &App, frame: &mut Frame) {
    let size = (frame.area().width, frame.area().height);
    let a = areas(size, app);
    if a.too_small {
        too_small(size, frame);
        return;
    }
    head::draw(app, frame, a.head);
    page::draw(app, frame, &a);
    if !a.boxed || app.page != Page::Wing {
        rule(app, frame, Rect::new(0, a.strip.y - 1, size.0, 1));
    }
    strip(app, frame, &a);
    hint(app, frame, a.hint);
    over(app, frame, &a);
}

/// A horizontal rule between parts.
pub(super) fn rule(app: &App, frame: &mut Frame, r: Rect) {
    let line = "─".repeat(usize::from(r.width));
    frame.render_widget(Paragraph::new(line).style(app.theme.rule()), r);
}

fn too_small(size: (u16, u16), frame: &mut Frame) {
    let words = format!(
        "thistledown needs a window of at least {}x{}; this one is {}x{}. Please make it larger. \
         `thistledown assess FILE` prints the same facts in any window. q leaves.",
        LEAST.0, LEAST.1, size.0, size.1
    );
    frame.render_widget(Paragraph::new(words).wrap(Wrap { trim: true }), frame.area());
}

/// The scores that still wait for a place: their places in the list.
type Waiting = Vec<usize>;

/// One strip of scores out of those that wait, none broken over two lines: limits not met first and in full, or in brief
/// where they would not all fit; then what fills a line where an earlier one has no room. Those shown leave the list.
fn packed(app: &App, all: &[Score], waiting: &mut Waiting, (width, rows): (usize, usize)) -> Vec<Line<'static>> {
    let broken = |w: &Waiting| w.iter().filter(|i| all[**i].broken).count();
    let full = waiting.clone();
    let lines = fill(app, all, waiting, (width, rows), false);
    if broken(waiting) == 0 || waiting.len() == full.len() {
        return lines;
    }
    *waiting = full;
    fill(app, all, waiting, (width, rows), true)
}

fn fill(app: &App, all: &[Score], waiting: &mut Waiting, room: (usize, usize), brief: bool) -> Vec<Line<'static>> {
    let here = app.page == Page::Wing && app.focus == Focus::Scores;
    let (width, rows) = room;
    let mut out = Vec::new();
    while out.len() < rows && !waiting.is_empty() {
        let (mut spans, mut used) = (Vec::new(), 0);
        let mut broken_waits = false;
        waiting.retain(|i| {
            let s = &all[*i];
            let mut piece = spans_of(app, s, here && is_chosen(app, s), brief && s.broken);
            let length: usize = piece.iter().map(Span::width).sum();
            let gap = if used == 0 { 0 } else { 3 };
            // Nothing within its limit takes the place of a limit that is not met.
            if (used > 0 && used + gap + length > width) || (broken_waits && !s.broken) {
                broken_waits |= s.broken;
                return true;
            }
            if used > 0 {
                spans.push(Span::styled(" · ", app.theme.rule()));
            }
            used += gap + length;
            spans.append(&mut piece);
            false
        });
        out.push(Line::from(spans));
    }
    out
}

fn is_chosen(app: &App, s: &Score) -> bool {
    scores(app).get(app.score).is_some_and(|c| c.of == s.of)
}

fn spans_of(app: &App, s: &Score, chosen: bool, brief: bool) -> Vec<Span<'static>> {
    let t = app.theme;
    let value = match (app.old(), chosen, s.broken) {
        (_, true, _) => t.chosen(),
        (true, ..) => t.dim(),
        (_, _, true) => t.broken(),
        _ => t.title(),
    };
    let about = if s.broken && !app.old() { t.broken() } else { t.dim() };
    let sign = if s.broken { "✗ " } else { "" };
    let mut out = vec![Span::styled(format!("{sign}{} ", s.word), about), Span::styled(s.value.clone(), value)];
    let words = if brief { s.about.split(" by ").next().unwrap_or("") } else { &s.about };
    if !words.is_empty() {
        out.push(Span::styled(format!(" {words}"), about));
    }
    if app.size.0 >= 118 && !s.more.is_empty() {
        let comma = if words.is_empty() { "" } else { "," };
        out.push(Span::styled(format!("{comma} {}", s.more), t.dim()));
    }
    if let Some((words, small)) = &s.change {
        out.push(Span::styled(format!(" {words}"), if *small { t.dim() } else { t.pin() }));
    }
    out
}

/// The strips of scores one after the other: lines, and the scores that stand on them.
fn strips(app: &App, all: &[Score], room: (usize, usize)) -> Vec<(Vec<Line<'static>>, Vec<usize>)> {
    let mut waiting: Waiting = (0..all.len()).collect();
    let mut strips = Vec::new();
    while !waiting.is_empty() && room.1 > 0 {
        let before = waiting.clone();
        let lines = packed(app, all, &mut waiting, room);
        strips.push((lines, before.into_iter().filter(|i| !waiting.contains(i)).collect()));
    }
    strips
}

/// The first score of the strip after the one the chosen score stands on.
pub(super) fn score_of_next_strip(app: &App) -> usize {
    let strip = areas(app.size, app).strip;
    let all = scores(app);
    let strips = strips(app, &all, (usize::from(strip.width), usize::from(strip.height)));
    let at = strips.iter().position(|(_, on)| on.contains(&app.score)).unwrap_or(0);
    let next = strips.get((at + 1) % strips.len().max(1));
    next.and_then(|(_, on)| on.first()).copied().unwrap_or(app.score)
}

/// The score strip: always in sight; `v` goes on to what did not fit, and the rule above says that there is more.
fn strip(app: &App, frame: &mut Frame, a: &Areas) {
    let all = scores(app);
    let room = (usize::from(a.strip.width), usize::from(a.strip.height));
    let mut strips = strips(app, &all, room);
    let n = strips.len();
    if n == 0 {
        return;
    }
    let mut at = app.score_page % n;
    if app.page == Page::Wing && app.focus == Focus::Scores {
        // The chosen score is in sight.
        at = strips.iter().position(|(_, on)| on.contains(&app.score)).unwrap_or(at);
    }
    if n > 1 && a.strip.y > 0 {
        let words = format!(" scores {} of {n}: v ", at + 1);
        let width = (words.chars().count() as u16).min(a.strip.width);
        let x = (a.strip.x + a.strip.width).saturating_sub(width + 1);
        frame.render_widget(Paragraph::new(words).style(app.theme.dim()), Rect::new(x, a.strip.y - 1, width, 1));
    }
    let lines = strips.swap_remove(at).0;
    frame.render_widget(Paragraph::new(Text::from(lines)), a.strip);
}

/// The hint line: a message while there is one, else the keys that work here.
fn hint(app: &App, frame: &mut Frame, r: Rect) {
    let t = app.theme;
    if let Some(line) = asked(app) {
        frame.render_widget(Paragraph::new(line), r);
        return;
    }
    if let Some(words) = held(app) {
        frame.render_widget(Paragraph::new(words).style(t.title()), r);
        return;
    }
    if let Some(words) = &app.message {
        // Words too long for the line grow upward over the scores: none are cut.
        let lines = wrap::line(&Line::raw(words.clone()), usize::from(r.width));
        let more = (lines.len() as u16 - 1).min(r.y);
        let at = Rect { y: r.y - more, height: more + 1, ..r };
        frame.render_widget(Clear, at);
        frame.render_widget(Paragraph::new(Text::from(lines)).style(t.title()), at);
        return;
    }
    let mut spans: Vec<Span> = Vec::new();
    let mut used = 0;
    let last = "? keys  q quit";
    for (key, words) in keys::hints(app).filter(|(k, _)| *k != "?" && *k != "q") {
        let length = key.chars().count() + words.chars().count() + 3;
        if used + length + last.len() > usize::from(r.width) {
            break;
        }
        used += length;
        spans.extend([Span::styled(key, t.key()), Span::raw(" "), Span::raw(words), Span::raw("  ")]);
    }
    spans.extend([Span::styled("?", t.key()), Span::raw(" keys  "), Span::styled("q", t.key()), Span::raw(" quit")]);
    frame.render_widget(Paragraph::new(Line::from(spans)), r);
}

/// What a drag in the cross-section has done so far; the Wing page says it beside the map.
fn held(app: &App) -> Option<String> {
    let drag = app.drag.as_ref().filter(|d| d.on == Held::Section)?;
    let (dial, e) = (app.dial_of(&drag.key)?, &app.evaluation);
    let least = e.strength.least.and_then(|i| e.margins.get(i)).map(|m| m.rf);
    let margin = match (least, drag.least_rf) {
        (Some(now), Some(before)) => format!(", least margin {:+.2}", now - before),
        _ => String::new(),
    };
    Some(format!(
        "{} {} {}: {:+.2} kg, durable {:+.1}{margin} · Esc: back",
        dial.label,
        dial.shown(&app.design),
        dial.unit,
        e.weight.budget_kg - drag.weight_kg,
        e.durability.index - drag.index,
    ))
}

/// A question or a field in the hint line.
fn asked(app: &App) -> Option<Line<'static>> {
    let t = app.theme;
    let field = |label: String, value: &str, after: String| {
        Line::from(vec![
            Span::styled(label, t.title()),
            Span::styled(format!("{value} "), t.chosen()),
            Span::styled(after, t.dim()),
        ])
    };
    match app.overlay.as_ref()? {
        Overlay::Typing(input) => {
            let dial = app.dial()?;
            let typed = input.value();
            let room = usize::from(app.size.0).saturating_sub(dial.label.chars().count() + typed.chars().count() + 6);
            let end = "  Enter takes, Esc leaves";
            let words = overlay::allowed(dial, typed);
            let words = if words.chars().count() + end.len() <= room {
                format!("{words}{end}")
            } else {
                page::fit(&words, room).trim_end().to_owned()
            };
            Some(field(format!("{} = ", dial.label), typed, format!("  {words}")))
        }
        Overlay::Weighing(input) => {
            let words = page::scales::chosen(app)?.piece.words();
            Some(field(format!("{words} = "), input.value(), "  g, both halves; or left 180; Enter takes".to_owned()))
        }
        Overlay::Logging(input) => {
            let typed = input.value();
            // Where the line is longer than the screen its end is seen, for that is where one types.
            let room = usize::from(app.size.0).saturating_sub("sample:  ".len());
            let hidden = typed.chars().count().saturating_sub(room);
            let shown: String = typed.chars().skip(hidden).collect();
            let left = room.saturating_sub(shown.chars().count() + 2);
            let words = page::fit(&logging::hint(app, typed), left).trim_end().to_owned();
            Some(field("sample: ".to_owned(), &shown, format!("  {words}")))
        }
        Overlay::SaveAs(input) => {
            Some(field("save as: ".to_owned(), input.value(), "  Enter saves, Esc leaves".to_owned()))
        }
        Overlay::Find(input) => {
            let hits = overlay::found(app, input.value());
            let names: Vec<&str> = hits.iter().take(4).map(|i| app.dials[*i].label.as_str()).collect();
            let more = if hits.len() > 4 { format!(" and {} more", hits.len() - 4) } else { String::new() };
            let words = if input.value().trim().is_empty() {
                "  part of a dial's name".to_owned()
            } else if hits.is_empty() {
                "  no dial has this in its name or key".to_owned()
            } else {
                format!("  {}{more}", names.join(", "))
            };
            Some(field("find: ".to_owned(), input.value(), words))
        }
        Overlay::AskQuit => {
            Some(Line::styled("Turns are not saved.  s save and leave   d leave without them   Esc stay", t.broken()))
        }
        Overlay::AskRecovered(_) => Some(Line::styled(
            "Turns of an earlier session were not saved.  t take them  d delete  Esc later",
            t.broken(),
        )),
        Overlay::AskOverwrite { .. } => Some(Line::styled(
            "The file was changed elsewhere.  o overwrite  S other name  R read it  Esc back",
            t.broken(),
        )),
        Overlay::Help { .. } | Overlay::Working { .. } => None,
    }
}

/// Help and working, broken to the box they stand in: title, lines, the box.
fn opened(app: &App, room: Rect) -> Option<(String, Vec<Line<'static>>, Rect)> {
    let (title, lines) = match &app.overlay {
        Some(Overlay::Help { .. }) => ("Keys".to_owned(), page::help::lines(app)),
        Some(Overlay::Working { title, lines, .. }) => {
            (format!("Working: {title}"), lines.iter().map(|l| Line::raw(l.clone())).collect())
        }
        _ => return None,
    };
    let width = room.width.min(100);
    let inner = usize::from(width.saturating_sub(2));
    let mut lines: Vec<Line> = lines.iter().flat_map(|l| wrap::line(l, inner)).collect();
    while lines.last().is_some_and(|l| l.width() == 0) {
        lines.pop();
    }
    let height = (lines.len() as u16 + 2).min(room.height);
    Some((title, lines, Rect::new(room.x + (room.width - width) / 2, room.y, width, height)))
}

/// How far what is open can be scrolled.
pub(super) fn most_scroll(app: &App) -> u16 {
    let room = areas(app.size, app).body;
    opened(app, room).map_or(0, |(_, lines, at)| (lines.len() as u16 + 2).saturating_sub(at.height))
}

/// Help and working: a box over the page.
fn over(app: &App, frame: &mut Frame, a: &Areas) {
    let Some((title, lines, at)) = opened(app, a.body) else { return };
    let scroll = match &app.overlay {
        Some(Overlay::Help { scroll } | Overlay::Working { scroll, .. }) => *scroll,
        _ => 0,
    };
    let most = (lines.len() as u16 + 2).saturating_sub(at.height);
    let foot = if most > 0 { " ↑↓ scroll, Esc closes " } else { " Esc closes " };
    let block = Block::bordered()
        .border_type(BorderType::Rounded)
        .border_style(app.theme.key())
        .title(format!(" {title} "))
        .title_bottom(Line::from(foot).right_aligned());
    frame.render_widget(Clear, at);
    let shown: Vec<Line> = lines.into_iter().skip(usize::from(scroll.min(most))).collect();
    frame.render_widget(Paragraph::new(Text::from(shown)).block(block), at);
}
