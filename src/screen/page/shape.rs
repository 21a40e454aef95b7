//! The cross-section at a station, drawn to scale: outline, skins as layers, spar, hinge.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::Color;
use ratatui::symbols::Marker;
use ratatui::widgets::canvas::{Canvas, Context, Line};

use crate::physics::wing::layout::Station;
use crate::report::outline::{height as at, outline};
use crate::screen::app::App;

/// Where the section stands in its room: the same for drawing and for the mouse.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scale {
    pub area: Rect,
    /// Chord fractions to a dot, the same both ways; a cell is two dots wide and four high.
    per_dot: f64,
    top: f64,
    bottom: f64,
}

impl Scale {
    /// Chord fraction at the middle of a column.
    pub fn frac_at(&self, column: u16) -> f64 {
        (2.0 * (f64::from(column) - f64::from(self.area.x)) + 1.0) * self.per_dot
    }

    /// The column a chord fraction stands in.
    pub fn column_of(&self, frac: f64) -> u16 {
        let cell = (frac / (2.0 * self.per_dot)).floor().clamp(0.0, f64::from(self.area.width.saturating_sub(1)));
        self.area.x + cell as u16
    }
}

/// As large as the room allows; nothing in a room too small to draw in.
pub fn scale(app: &App, area: Rect, s: &Station) -> Option<Scale> {
    let [upper, lower] = outline(&app.design, s.eta);
    if area.height < 3 || area.width < 20 || upper.len() < 2 {
        return None;
    }
    let top = upper.iter().map(|p| p.1).fold(0.0, f64::max);
    let bottom = lower.iter().map(|p| p.1).fold(0.0, f64::min);
    let (wide, high) = (f64::from(2 * area.width), f64::from(4 * area.height));
    // Whichever of width and height is the tighter.
    let per_dot = (1.0 / (wide - 2.0)).max((top - bottom) / (high - 2.0));
    Some(Scale { area, per_dot, top, bottom })
}

/// Draw it as large as the room allows, the same scale both ways.
pub fn draw(app: &App, frame: &mut Frame, area: Rect, s: &Station) {
    let Some(Scale { per_dot, top, bottom, .. }) = scale(app, area, s) else { return };
    let [upper, lower] = outline(&app.design, s.eta);
    let (wide, high) = (f64::from(2 * area.width), f64::from(4 * area.height));
    let spare = per_dot * high - (top - bottom);
    let canvas = Canvas::default()
        .marker(Marker::Braille)
        .x_bounds([0.0, per_dot * wide])
        .y_bounds([bottom - spare / 2.0, top + spare / 2.0])
        .paint(|ctx| paint(app, ctx, s, &upper, &lower));
    frame.render_widget(canvas, area);
}

fn paint(app: &App, ctx: &mut Context, s: &Station, upper: &[(f64, f64)], lower: &[(f64, f64)]) {
    let ink = |c: Color| app.theme.hue(c);
    for side in [upper, lower] {
        for w in side.windows(2) {
            line(ctx, w[0], w[1], ink(Color::Reset));
        }
    }
    let upright = |ctx: &mut Context, x: f64, inset: f64, color: Color| {
        line(ctx, (x, at(upper, x) - inset), (x, at(lower, x) + inset), color);
    };
    // The web at the spar line, the caps as wide as they are, the hinge line.
    upright(ctx, s.spar_frac, 0.0, ink(Color::Cyan));
    let spar = &app.design.spar;
    for (cap, side, sign) in [(&spar.upper, upper, -1.0), (&spar.lower, lower, 1.0)] {
        let width = cap.width_root_m + s.eta * (cap.width_tip_m - cap.width_root_m);
        let half = width / s.chord_m.max(1e-6) / 2.0;
        for layer in [0.008, 0.014] {
            let y = |x: f64| at(side, x) + sign * layer;
            let (a, b) = (s.spar_frac - half, s.spar_frac + half);
            line(ctx, (a, y(a)), (b, y(b)), ink(Color::Yellow));
        }
    }
    let hinge = app.design.hinge_frac;
    if hinge > 0.0 && hinge < 1.0 {
        // A wall that is named stands out as the web does.
        let bay = app.evaluation.layout.bays.get(app.station).or(app.evaluation.layout.bays.last());
        let control = bay.and_then(|b| app.design.control_at(b.mid.eta));
        let walled = control.is_some_and(|(_, c)| c.wing_wall.or(c.control_wall).is_some());
        upright(ctx, hinge, 0.0, ink(if walled { Color::Cyan } else { Color::DarkGray }));
    }
    skins(app, ctx, s, upper, lower);
}

/// Where a zone's skin has a core, its inner face as a second line at its true depth.
fn skins(app: &App, ctx: &mut Context, s: &Station, upper: &[(f64, f64)], lower: &[(f64, f64)]) {
    let e = &app.evaluation;
    let bay = app.station.min(e.layout.bays.len().saturating_sub(1));
    for z in e.layout.zones.iter().filter(|z| z.bay == bay) {
        let Some(skin) = e.skins.get(z.construction).filter(|k| k.core_thickness_m > 0.0) else { continue };
        let depth = skin.thickness_m / s.chord_m.max(1e-6);
        let (side, sign) = if z.strip.is_upper() { (upper, -1.0) } else { (lower, 1.0) };
        let inside = |p: &&(f64, f64)| p.0 >= z.chord_from && p.0 <= z.chord_to;
        let points: Vec<(f64, f64)> = side.iter().filter(inside).map(|p| (p.0, p.1 + sign * depth)).collect();
        for w in points.windows(2) {
            line(ctx, w[0], w[1], app.theme.hue(Color::Green));
        }
    }
}

fn line(ctx: &mut Context, from: (f64, f64), to: (f64, f64), color: Color) {
    if [from.0, from.1, to.0, to.1].iter().all(|v| v.is_finite()) {
        ctx.draw(&Line { x1: from.0, y1: from.1, x2: to.0, y2: to.1, color });
    }
}
