//! The plan outline above the skin map, over the same columns: edges, spar, hinge, ribs, boundaries.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::Color;
use ratatui::symbols::Marker;
use ratatui::widgets::canvas::{Canvas, Context, Line};

use crate::physics::wing::layout::Station;
use crate::screen::app::App;

/// Draw it; nothing when there is no room or no layout.
pub fn draw(app: &App, frame: &mut Frame, area: Rect) {
    let l = &app.evaluation.layout;
    let stations: Vec<Station> = l.stations().copied().collect();
    if area.height < 3 || stations.len() < 2 {
        return;
    }
    let front = stations.iter().map(|s| s.x_le_m).fold(f64::INFINITY, f64::min);
    let back = stations.iter().map(|s| s.x_le_m + s.chord_m).fold(f64::NEG_INFINITY, f64::max);
    let half = l.half_span_m;
    if !(half > 0.0 && back > front) {
        return;
    }
    // Dots are as high as wide: two by four in a cell. Spare rows go below, so that the scale is the same both ways.
    let per_dot = 2.0 * half / f64::from(2 * area.width);
    let depth = (per_dot * f64::from(4 * area.height)).max(back - front);
    let canvas = Canvas::default()
        .marker(Marker::Braille)
        .x_bounds([-half, half])
        .y_bounds([-front - depth, -front])
        .paint(|ctx| paint(app, ctx, &stations));
    frame.render_widget(canvas, area);
}

fn paint(app: &App, ctx: &mut Context, stations: &[Station]) {
    let (edge, rib, spar) = (app.theme.hue(Color::Reset), app.theme.hue(Color::DarkGray), app.theme.hue(Color::Cyan));
    let hinge = app.design.hinge_frac;
    let ribs = stations.iter().filter(|s| s.eta > 0.0);
    for s in ribs {
        line(ctx, (s.y_m, s.x_le_m), (s.y_m, s.x_le_m + s.chord_m), rib);
    }
    ctx.layer();
    for pair in stations.windows(2) {
        let at = |share: fn(&Station, f64) -> f64, s: &Station| (s.y_m, s.x_le_m + s.chord_m * share(s, hinge));
        line(ctx, at(|s, _| s.spar_frac, &pair[0]), at(|s, _| s.spar_frac, &pair[1]), spar);
        if hinge > 0.0 && hinge < 1.0 {
            line(ctx, at(|_, h| h, &pair[0]), at(|_, h| h, &pair[1]), rib);
        }
        line(ctx, at(|_, _| 0.0, &pair[0]), at(|_, _| 0.0, &pair[1]), edge);
        line(ctx, at(|_, _| 1.0, &pair[0]), at(|_, _| 1.0, &pair[1]), edge);
    }
    if let Some(tip) = stations.last() {
        line(ctx, (tip.y_m, tip.x_le_m), (tip.y_m, tip.x_le_m + tip.chord_m), edge);
    }
    ctx.layer();
    for b in &app.evaluation.layout.boundaries {
        let near =
            stations.iter().min_by(|p, q| (p.eta - b.standing_eta).abs().total_cmp(&(q.eta - b.standing_eta).abs()));
        if let Some(s) = near {
            let from = s.x_le_m + s.chord_m * s.spar_frac;
            line(ctx, (s.y_m, from), (s.y_m, s.x_le_m + s.chord_m), app.theme.hue(Color::Yellow));
        }
    }
}

/// A line on both halves; x of the wing runs down the screen.
fn line(ctx: &mut Context, from: (f64, f64), to: (f64, f64), color: Color) {
    if ![from.0, from.1, to.0, to.1].iter().all(|v| v.is_finite()) {
        return;
    }
    for side in [1.0, -1.0] {
        ctx.draw(&Line { x1: side * from.0, y1: -from.1, x2: side * to.0, y2: -to.1, color });
    }
}
