//! What can be taken hold of in the cross-section: the spar line and the hinge line, by mouse and by keys.

use crate::physics::wing::layout::Station;
use crate::screen::action::Effects;
use crate::screen::app::App;
use crate::screen::areas::areas;
use crate::screen::boundary::snapped;
use crate::screen::page::{section, shape};
use crate::screen::update::set_dial;

/// Columns beside a line that still take hold of it.
const REACH: u16 = 1;

/// A line across the chord, and the dial that moves it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Line {
    Spar,
    Hinge,
}

/// The dial of a line at a station: the spar line is straight from root to tip and moves at the nearer end.
pub fn dial_key(line: Line, eta: f64) -> &'static str {
    match line {
        Line::Spar if eta <= 0.5 => "spar.position_root",
        Line::Spar => "spar.position_tip",
        Line::Hinge => "layout.hinge_chord",
    }
}

fn frac(app: &App, line: Line, s: &Station) -> f64 {
    match line {
        Line::Spar => s.spar_frac,
        Line::Hinge => app.design.hinge_frac,
    }
}

/// The line under a place of the screen.
pub fn line_at(app: &App, column: u16, row: u16) -> Option<Line> {
    let s = section::station(app)?;
    let area = section::picture(app, areas(app.size, app).body, &s);
    if !area.contains((column, row).into()) {
        return None;
    }
    let scale = shape::scale(app, area, &s)?;
    let off = |line: &Line| scale.column_of(frac(app, *line, &s)).abs_diff(column);
    [Line::Spar, Line::Hinge].into_iter().filter(|l| off(l) <= REACH).min_by_key(off)
}

/// The value of a line's dial that puts the line at a column, on the dial's own steps.
pub fn value_at(app: &App, key: &str, column: u16) -> Option<f64> {
    let s = section::station(app)?;
    let area = section::picture(app, areas(app.size, app).body, &s);
    let wished = shape::scale(app, area, &s)?.frac_at(column);
    let dial = app.dial_of(key)?;
    let spar = &app.design.spar;
    // The end that moves lies on the line through the wished place and the end that stays.
    let raw = match key {
        "spar.position_root" => (wished - s.eta * spar.position_tip) / (1.0 - s.eta),
        "spar.position_tip" => (wished - (1.0 - s.eta) * spar.position_root) / s.eta,
        _ => wished,
    };
    raw.is_finite().then(|| snapped(dial, raw))
}

/// Move a line some steps of its dial.
pub fn step(app: &mut App, line: Line, steps: i32) -> Effects {
    let Some(s) = section::station(app) else { return Vec::new() };
    let key = dial_key(line, s.eta);
    let Some(which) = app.dials.iter().position(|d| d.key == key) else { return Vec::new() };
    let value = crate::screen::boundary::stepped(&app.dials[which], app.dials[which].value(&app.design), steps, false);
    set_dial(app, which, value)
}
