//! Small line plots on braille, with their greatest value in the title and numbers at the corners.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::Color;
use ratatui::symbols::Marker;
use ratatui::text::Line as Words;
use ratatui::widgets::Paragraph;
use ratatui::widgets::canvas::{Canvas, Line, Points};

use crate::screen::app::App;
use crate::screen::page::fit;

/// How a line is drawn, so that lines are told apart without colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stroke {
    Whole,
    Dots,
    Dashes,
}

impl Stroke {
    /// Is the n-th dot along the line drawn?
    const fn shows(self, n: usize) -> bool {
        match self {
            Self::Whole => true,
            Self::Dots => n.is_multiple_of(4),
            Self::Dashes => n % 8 < 4,
        }
    }
}

/// One line of points.
pub struct Series<'a> {
    pub points: &'a [(f64, f64)],
    pub color: Color,
    pub stroke: Stroke,
}

/// What a plot shows.
pub struct Plot<'a> {
    pub title: String,
    pub series: Vec<Series<'a>>,
    /// Zero belongs to the vertical range.
    pub from_zero: bool,
    /// Greater values further down, as sink is drawn.
    pub down: bool,
    /// Ends of the horizontal axis in words.
    pub ends: (String, String),
    pub digits: usize,
}

/// The dots of a broken line: steps of one dot along it, of which the stroke shows some.
fn broken(points: &[&(f64, f64)], per_dot: (f64, f64), stroke: Stroke, sign: f64) -> Vec<(f64, f64)> {
    let mut out = Vec::new();
    let mut n = 0;
    for w in points.windows(2) {
        let (dx, dy) = (w[1].0 - w[0].0, w[1].1 - w[0].1);
        let steps = (dx.abs() / per_dot.0).max(dy.abs() / per_dot.1).ceil().clamp(1.0, 2000.0) as usize;
        for k in 0..steps {
            if stroke.shows(n) {
                let t = k as f64 / steps as f64;
                out.push((dx.mul_add(t, w[0].0), sign * dy.mul_add(t, w[0].1)));
            }
            n += 1;
        }
    }
    out
}

/// Draw it: title, curve, ends of the axis. Points that are not finite are left out.
pub fn draw(app: &App, frame: &mut Frame, area: Rect, plot: &Plot) {
    if area.height < 4 || area.width < 12 {
        return;
    }
    let width = usize::from(area.width) - 1;
    let title = Words::styled(fit(&plot.title, width), app.theme.title());
    frame.render_widget(Paragraph::new(title), Rect { height: 1, ..area });
    let points = || plot.series.iter().flat_map(|s| s.points.iter()).filter(|p| p.0.is_finite() && p.1.is_finite());
    let range = |f: fn(&(f64, f64)) -> f64, zero: bool| {
        let start = if zero { (0.0, 0.0) } else { (f64::INFINITY, f64::NEG_INFINITY) };
        points().map(f).fold(start, |(l, m): (f64, f64), v| (l.min(v), m.max(v)))
    };
    let (x, y) = (range(|p| p.0, false), range(|p| p.1, plot.from_zero));
    let foot = Rect { y: area.y + area.height - 1, height: 1, ..area };
    if points().count() < 2 || x.1 <= x.0 {
        frame.render_widget(Paragraph::new("nothing to draw").style(app.theme.dim()), foot);
        return;
    }
    let pad = ((y.1 - y.0) * 0.03).max(1e-9);
    let (low, high) = (y.0 - pad, y.1 + pad);
    let sign = if plot.down { -1.0 } else { 1.0 };
    let bounds = if plot.down { [-high, -low] } else { [low, high] };
    let numbers = 6;
    let inner = Rect::new(area.x + numbers, area.y + 1, area.width.saturating_sub(numbers + 1), area.height - 2);
    let canvas = Canvas::default().marker(Marker::Braille).x_bounds([x.0, x.1]).y_bounds(bounds).paint(|ctx| {
        if low < 0.0 && high > 0.0 && plot.from_zero {
            let color = app.theme.hue(Color::DarkGray);
            ctx.draw(&Line { x1: x.0, y1: 0.0, x2: x.1, y2: 0.0, color });
        }
        for s in &plot.series {
            let whole: Vec<_> = s.points.iter().filter(|p| p.0.is_finite() && p.1.is_finite()).collect();
            let color = app.theme.hue(s.color);
            if s.stroke == Stroke::Whole {
                for w in whole.windows(2) {
                    ctx.draw(&Line { x1: w[0].0, y1: sign * w[0].1, x2: w[1].0, y2: sign * w[1].1, color });
                }
                continue;
            }
            let per_dot = ((x.1 - x.0) / f64::from(2 * inner.width), (high - low) / f64::from(4 * inner.height));
            let coords = broken(&whole, per_dot, s.stroke, sign);
            ctx.draw(&Points { coords: &coords, color });
        }
    });
    frame.render_widget(canvas, inner);
    let d = plot.digits;
    let (top, bottom) = if plot.down { (y.0, y.1) } else { (y.1, y.0) };
    let number = |v: f64| Paragraph::new(format!("{v:>5.d$}")).style(app.theme.dim());
    frame.render_widget(number(top), Rect::new(area.x, inner.y, numbers - 1, 1));
    frame.render_widget(number(bottom), Rect::new(area.x, inner.y + inner.height - 1, numbers - 1, 1));
    let room = usize::from(inner.width);
    let gap = room.saturating_sub(plot.ends.0.chars().count() + plot.ends.1.chars().count());
    let words = format!("{}{}{}", plot.ends.0, " ".repeat(gap), plot.ends.1);
    frame.render_widget(
        Paragraph::new(fit(&words, room)).style(app.theme.dim()),
        Rect { x: inner.x, width: inner.width, ..foot },
    );
}
