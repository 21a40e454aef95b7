//! The trade plot: weight to the right, durability up; where the person has been, the pin, the front of the last search.

use ratatui::Frame;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;

use crate::screen::app::App;
use crate::screen::page::fit;

/// Hours per 100 outings that halve the durability index.
const HALVING_H: f64 = 25.0;
/// Columns of the numbers on the left.
const NUMBERS: u16 = 6;

struct Plot {
    area: Rect,
    x: [f64; 2],
    y: [f64; 2],
}

impl Plot {
    fn cell(&self, p: (f64, f64)) -> Option<(u16, u16)> {
        let share = |v: f64, [from, to]: [f64; 2]| (v - from) / (to - from);
        let (sx, sy) = (share(p.0, self.x), share(p.1, self.y));
        if !((0.0..=1.0).contains(&sx) && (0.0..=1.0).contains(&sy)) {
            return None;
        }
        let at = |s: f64, n: u16| (s * f64::from(n - 1)).round() as u16;
        Some((self.area.x + at(sx, self.area.width), self.area.y + self.area.height - 1 - at(sy, self.area.height)))
    }
}

/// Draw it with its legend and numbers.
pub fn draw(app: &App, frame: &mut Frame, area: Rect) {
    if area.width < NUMBERS + 10 || area.height < 5 {
        return;
    }
    let front: Vec<(f64, f64)> = app.search.front.iter().map(|(kg, h)| (*kg, 100.0 / (1.0 + h / HALVING_H))).collect();
    let you = (app.evaluation.weight.budget_kg, app.evaluation.durability.index);
    let pin = app.pin.as_ref().map(|p| (p.evaluation.weight.budget_kg, p.evaluation.durability.index));
    let inner = Rect::new(area.x + NUMBERS, area.y + 1, area.width - NUMBERS, area.height - 2);
    let all = app.trail.iter().chain(&front).copied().chain([you]).chain(pin);
    let target = (app.design.targets.wing_mass_kg, app.design.targets.durability_index);
    let plot = Plot {
        area: inner,
        x: bounds(all.clone().map(|p| p.0).chain(target.0), 1.0),
        y: bounds(all.map(|p| p.1).chain(target.1), 4.0),
    };
    let t = app.theme;
    let buffer = frame.buffer_mut();
    legend(app, buffer, area, &front, pin.is_some());
    axes(app, buffer, area, &plot);
    targets(app, buffer, &plot);
    for p in &front {
        mark(buffer, &plot, *p, '·', t.shade());
    }
    for p in &app.trail {
        mark(buffer, &plot, *p, '∘', t.dim());
    }
    if let Some(p) = pin {
        mark(buffer, &plot, p, '◆', t.pin());
    }
    mark(buffer, &plot, you, '●', if app.old() { t.dim() } else { t.you() });
}

/// Least and greatest with a margin, never nothing between them.
fn bounds(values: impl Iterator<Item = f64>, at_least: f64) -> [f64; 2] {
    let (least, most) =
        values.filter(|v| v.is_finite()).fold((f64::INFINITY, f64::NEG_INFINITY), |(l, m), v| (l.min(v), m.max(v)));
    if least > most {
        return [0.0, at_least];
    }
    let pad = ((most - least) * 0.1).max((at_least - (most - least)) / 2.0);
    [least - pad, most + pad]
}

fn mark(buffer: &mut Buffer, plot: &Plot, p: (f64, f64), glyph: char, style: Style) {
    if let Some(at) = plot.cell(p)
        && let Some(cell) = buffer.cell_mut(at)
    {
        cell.set_char(glyph).set_style(style);
    }
}

fn legend(app: &App, buffer: &mut Buffer, area: Rect, front: &[(f64, f64)], pinned: bool) {
    let mut words = "durable ↑  ● you".to_owned();
    let front_word = if app.search.old { "· old front" } else { "· front" };
    let more = [
        (pinned, "◆ pinned"),
        (!front.is_empty(), front_word),
        (app.design.targets.wing_mass_kg.is_some(), "┊ target"),
        (true, "∘ been"),
    ];
    for (_, word) in more.into_iter().filter(|(there, _)| *there) {
        // What has no room is left out whole.
        if words.chars().count() + 2 + word.chars().count() <= usize::from(area.width) {
            words.push_str("  ");
            words.push_str(word);
        }
    }
    buffer.set_stringn(area.x, area.y, fit(&words, usize::from(area.width)), usize::from(area.width), app.theme.dim());
}

/// Numbers at the ends and the middle of both axes.
fn axes(app: &App, buffer: &mut Buffer, area: Rect, plot: &Plot) {
    let dim = app.theme.dim();
    let (p, bottom) = (plot.area, plot.area.y + plot.area.height);
    for y in p.y..bottom {
        buffer.set_string(p.x - 1, y, "│", app.theme.rule());
    }
    let rows = p.height - 1;
    for row in [0, rows / 2, rows] {
        let v = plot.y[1] - (plot.y[1] - plot.y[0]) * f64::from(row) / f64::from(rows.max(1));
        buffer.set_string(area.x, p.y + row, format!("{v:>4.0}"), dim);
    }
    let (left, right) = (format!("{:.1}", plot.x[0]), format!("{:.1} kg →", plot.x[1]));
    buffer.set_string(p.x, bottom, &left, dim);
    let at = (p.x + p.width).saturating_sub(right.chars().count() as u16);
    buffer.set_string(at, bottom, &right, dim);
}

/// Lines of the weight target and the durability limit.
fn targets(app: &App, buffer: &mut Buffer, plot: &Plot) {
    let p = plot.area;
    let t = &app.design.targets;
    if let Some((x, _)) = t.wing_mass_kg.and_then(|kg| plot.cell((kg, plot.y[0]))) {
        for y in p.y..p.y + p.height {
            buffer.set_string(x, y, "┊", app.theme.dim());
        }
    }
    if let Some((_, y)) = t.durability_index.and_then(|d| plot.cell((plot.x[0], d))) {
        for x in p.x..p.x + p.width {
            buffer.set_string(x, y, "┄", app.theme.dim());
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bounds_are_never_empty() {
        assert_eq!(bounds([5.0].into_iter(), 1.0), [4.5, 5.5]);
        assert_eq!(bounds([f64::NAN].into_iter(), 1.0), [0.0, 1.0]);
        let [from, to] = bounds([0.0, 10.0].into_iter(), 1.0);
        assert!(from < 0.0 && to > 10.0);
    }
}
