//! Wing, the home page: dials, skin map, and beside them the trade plot or the chosen dial in words.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};
use ratatui::widgets::{Block, Paragraph, Wrap};

use crate::report::signed;
use crate::scenario::dials::Turn;
use crate::screen::app::{App, Focus, StepEffect};
use crate::screen::areas::{Areas, DialRow};
use crate::screen::boundary::share_of_range;
use crate::screen::draw::rule;
use crate::screen::page::{self, fit, group_word, plan, skin_map, trade};
use crate::screen::worker::changes;

/// Draw the page.
pub fn draw(app: &App, frame: &mut Frame, a: &Areas) {
    if a.boxed {
        boxed(app, frame, a.dials_box, "Dials", app.focus == Focus::Dials);
        let map = "Skin map · seen from below · across the chord not to scale";
        boxed(app, frame, a.map_box, map, app.focus == Focus::Map);
        boxed(app, frame, a.side_box, "Chosen, and the trade: up is more durable, right is heavier", false);
        plan::draw(app, frame, a.plan);
    } else {
        rule(app, frame, Rect::new(a.body.x, a.map_box.y + a.map_box.height, a.body.width, 1));
    }
    skin_map::draw(app, frame, a);
    dials(app, frame, a);
    if a.about.height > 0 {
        about(app, frame, a.about);
    }
    if a.side.height > 0 {
        trade::draw(app, frame, a.side);
    }
}

fn boxed(app: &App, frame: &mut Frame, r: Rect, title: &str, here: bool) {
    let style = if here { app.theme.key() } else { app.theme.rule() };
    let block = Block::bordered().border_style(style).title(Span::styled(format!(" {title} "), app.theme.title()));
    frame.render_widget(block, r);
}

fn dials(app: &App, frame: &mut Frame, a: &Areas) {
    let width = usize::from(a.dials.width);
    let mut lines = Vec::new();
    for row in &a.rows {
        lines.push(match row {
            DialRow::Heading { group, folded, dials, .. } => {
                let words = if *folded {
                    format!("▸ {} ({dials})", group_word(*group))
                } else {
                    group_word(*group).to_owned()
                };
                Line::styled(words, app.theme.title())
            }
            DialRow::Dial(i) => dial_line(app, *i, width),
            DialRow::Step(i) => step_line(app, *i, width),
        });
    }
    if app.dials.is_empty() {
        lines.push(Line::styled("no dials: this scenario has nothing to turn", app.theme.dim()));
    }
    frame.render_widget(Paragraph::new(lines), a.dials);
}

/// Label, value, and where it stands in its range.
fn dial_line(app: &App, which: usize, width: usize) -> Line<'static> {
    let Some(dial) = app.dials.get(which) else { return Line::default() };
    let t = app.theme;
    let chosen = which == app.chosen;
    let slide = if width >= 44 { 9 } else { 0 };
    let value = format!("{} {}", dial.shown(&app.design), dial.unit).trim_end().to_owned();
    // The value is whole where it can be: names of constructions differ at their end. The label has all that is left.
    let room = width.saturating_sub(slide + 3);
    let value_width = value.chars().count().min(room.saturating_sub(16)).max(1);
    let label_width = room.saturating_sub(value_width);
    let varies = app.varied.iter().any(|v| v.key == dial.key);
    let differs = app.pin.as_ref().is_some_and(|p| (dial.value(&p.design) - dial.value(&app.design)).abs() > 1e-12);
    let mark = match (chosen, varies, differs) {
        (true, ..) => "▸",
        (_, true, _) => "x",
        (_, _, true) => "◆",
        _ => " ",
    };
    let style = if chosen && app.focus == Focus::Dials { t.chosen() } else { t.text() };
    let n = value.chars().count();
    let shown =
        if n <= value_width { format!("{}{value}", " ".repeat(value_width - n)) } else { fit(&value, value_width) };
    let mut spans = vec![
        Span::styled(format!(" {mark}"), t.key()),
        Span::styled(fit(&dial.label, label_width), style),
        Span::styled(format!(" {shown}"), style),
    ];
    if slide > 2 {
        let at = (share_of_range(dial, dial.value(&app.design)) * (slide - 2) as f64).round() as usize;
        let track: String = (0..slide - 1).map(|i| if i == at { '●' } else { '─' }).collect();
        spans.push(Span::styled(format!(" {track}"), t.shade()));
    }
    Line::from(spans)
}

/// What one step does, in words.
pub fn step_words(effect: &StepEffect, short: bool) -> String {
    let way = match effect.steps {
        1 => "one step".to_owned(),
        -1 => "one step down".to_owned(),
        n if n < 0 => format!("{} steps down", n.abs()),
        n => format!("{n} steps"),
    };
    if !changes(effect) {
        let far = if effect.steps.abs() > 1 && !short { format!(", to {}", effect.value) } else { String::new() };
        return format!("{way}{far}: no change");
    }
    let to = if effect.steps.abs() > 1 || !short { format!(" to {}", effect.value) } else { String::new() };
    let kg = signed(effect.weight_kg, 2);
    let index = signed(effect.index, 1);
    format!("{way}{to}: {kg} kg, {index} durable")
}

fn step_line(app: &App, which: usize, width: usize) -> Line<'static> {
    let t = app.theme;
    let Some(dial) = app.dials.get(which) else { return Line::default() };
    let words = match app.step_of(&dial.key) {
        Some((effect, true)) => step_words(effect, true),
        Some((effect, false)) => format!("{} (old)", step_words(effect, true)),
        None => "one step: …".to_owned(),
    };
    Line::styled(fit(&format!("  {words}"), width), t.dim())
}

/// The chosen dial, or the zone at the map cursor, in words.
fn about(app: &App, frame: &mut Frame, area: Rect) {
    let lines = match (&app.drag, app.focus) {
        (Some(_), _) => dragging(app),
        (None, Focus::Map) => skin_map::zone_words(app, app.at),
        _ => about_dial(app),
    };
    let style = if app.old() { app.theme.dim() } else { app.theme.text() };
    frame.render_widget(Paragraph::new(lines).wrap(Wrap { trim: false }).style(style), area);
}

fn about_dial(app: &App) -> Vec<Line<'static>> {
    let t = app.theme;
    let Some(dial) = app.dial() else { return Vec::new() };
    let value = format!("{} {}", dial.shown(&app.design), dial.unit);
    let mut lines = vec![Line::from(vec![
        Span::styled(format!("{}  ", dial.label), t.title()),
        Span::styled(value.trim_end().to_owned(), t.key()),
    ])];
    match app.step_of(&dial.key) {
        Some((effect, fresh)) => {
            if effect.steps.abs() > 1 && changes(effect) {
                lines.push(Line::raw("one step changes nothing; the next that does:"));
            }
            let style = if fresh { t.text() } else { t.dim() };
            lines.push(Line::styled(step_words(effect, false), style));
        }
        None => lines.push(Line::styled("what one step does is being worked out", t.dim())),
    }
    lines.push(Line::styled(dial.key.clone(), t.dim()));
    match &dial.turn {
        Turn::Choice(list) => {
            let at = dial.value(&app.design) as usize;
            lines.push(Line::styled(format!("{} of {}", at + 1, list.len()), t.dim()));
            let beside = [("←", at.checked_sub(1)), ("→", Some(at + 1))];
            let names = beside.into_iter().filter_map(|(key, i)| Some(format!("{key} {}", list.get(i?)?)));
            lines.extend(names.map(|words| Line::styled(words, t.dim())));
        }
        _ => lines.push(Line::styled(page::range(dial), t.dim())),
    }
    if let Some(pin) = &app.pin {
        lines.push(Line::styled(format!("◆ pinned at {} {}", dial.shown(&pin.design), dial.unit), t.pin()));
    }
    lines
}

/// While dragging: value, weight, durability and least margin against those at the start.
fn dragging(app: &App) -> Vec<Line<'static>> {
    let t = app.theme;
    let (Some(drag), e) = (&app.drag, &app.evaluation) else { return Vec::new() };
    let Some(dial) = app.dial_of(&drag.key) else { return Vec::new() };
    let then = |shown: String, by: String| format!("{shown}  {by} since you took hold");
    let mut lines = vec![
        Line::styled(format!("{}  {} {}", dial.label, dial.shown(&app.design), dial.unit), t.title()),
        Line::raw(then(format!("weight {:.2} kg", e.weight.budget_kg), signed(e.weight.budget_kg - drag.weight_kg, 2))),
        Line::raw(then(format!("durable {:.1}", e.durability.index), signed(e.durability.index - drag.index, 1))),
    ];
    let least = e.strength.least.and_then(|i| e.margins.get(i)).map(|m| m.rf);
    if let (Some(now), Some(before)) = (least, drag.least_rf) {
        lines.push(Line::raw(then(format!("least margin {:+.2}", now - 1.0), signed(now - before, 2))));
    }
    if let Some(b) =
        e.layout.boundaries.iter().find(|b| crate::screen::boundary::strips_of(&drag.key).contains(&b.strip))
    {
        let rib = if b.closing_rib { ", closing rib added" } else { ", at a rib" };
        lines.push(Line::styled(format!("stands at {:.3} of the half span{rib}", b.standing_eta), t.dim()));
    }
    lines.push(Line::styled("let go to keep, Esc puts it back", t.dim()));
    lines
}
