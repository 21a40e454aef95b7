//! Flight: the polar with its band, and the numbers that come from it, against the pinned wing when there is one.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::Color;
use ratatui::text::{Line, Span};

use crate::physics::flight::speeds::{Band, Flight, PolarPoint};
use crate::screen::app::App;
use crate::screen::page::curve::{self, Plot, Series};
use crate::screen::page::{fit, put_list};

const KMH: f64 = 3.6;

/// A number of the page: what, value, unit, digits, band.
pub struct Row {
    pub name: &'static str,
    pub value: f64,
    pub unit: &'static str,
    pub digits: usize,
    pub band: Option<Band>,
}

/// The numbers, in the order shown.
pub fn rows(app: &App) -> Vec<Row> {
    rows_of(&app.evaluation.flight)
}

fn rows_of(f: &Flight) -> Vec<Row> {
    let row = |name, value, unit, digits| Row { name, value, unit, digits, band: None };
    let band = |name, b: Band, unit, digits| Row { name, value: b.likely, unit, digits, band: Some(b) };
    vec![
        row("stall, trimmed", f.stall_m_s * KMH, "km/h", 1),
        band("least sink", f.least_sink_m_s, "m/s", 2),
        row("  at", f.least_sink_speed_m_s * KMH, "km/h", 1),
        band("best glide", f.best_glide, "", 1),
        row("  at", f.best_glide_speed_m_s * KMH, "km/h", 1),
        row("greatest CL, trimmed", f.cl_max_trimmed, "", 2),
        row("all-up mass", f.all_up_kg, "kg", 1),
        row("wing floats alone at", f.wing_float_m_s, "m/s", 1),
        row("launch airspeed", f.launch_speed_m_s, "m/s", 1),
        row("launch run, still air", f.ground_speed_m_s, "m/s", 1),
        row("in the hands at rest", f.hands_n, "N", 0),
        row("in the hands at 6 m/s", f.hands_running_n, "N", 0),
        row("wing profile drag", f.cd_profile, "CD", 4),
        band("pilot drag", f.cd_pilot, "CD", 4),
        row("laminar share of surface", 100.0 * f.laminar_share, "%", 0),
    ]
}

/// Draw the page.
pub fn draw(app: &App, frame: &mut Frame, area: Rect) {
    let left = 57.min(area.width * 2 / 3);
    numbers(app, frame, Rect { width: left, ..area });
    polar(app, frame, Rect { x: area.x + left + 1, width: area.width.saturating_sub(left + 1), ..area });
}

fn numbers(app: &App, frame: &mut Frame, area: Rect) {
    let t = app.theme;
    let pin = app.pin.as_ref().map(|p| rows_of(&p.evaluation.flight));
    let head = Line::raw(if pin.is_some() {
        format!("{:<25}{:>9}{:>17}", "", "now", "◆ pinned")
    } else {
        "numbers, with their band".to_owned()
    });
    let lines = rows(app)
        .iter()
        .enumerate()
        .map(|(i, r)| {
            let d = r.digits;
            let mut spans = vec![
                Span::raw(fit(r.name, 25)),
                Span::styled(format!("{:>9.d$}", r.value), t.title()),
                Span::raw(if pin.is_some() { format!(" {:<7}", r.unit) } else { format!(" {}", r.unit) }),
            ];
            match (&pin, r.band) {
                (Some(pin), _) => {
                    let then = pin.get(i).map_or(0.0, |p| p.value);
                    spans.push(Span::styled(format!("{then:>9.d$}"), t.pin()));
                }
                (None, Some(b)) => spans.push(Span::styled(format!(" ({:.d$}-{:.d$})", b.low, b.high), t.dim())),
                _ => {}
            }
            Line::from(spans)
        })
        .collect();
    put_list(app, frame, area, head, lines, app.line());
}

fn points(polar: &[PolarPoint]) -> Vec<(f64, f64)> {
    polar.iter().map(|p| (p.speed_m_s * KMH, p.sink_m_s)).collect()
}

/// Sink against speed, sink downward; the band and the pinned wing beside it.
fn polar(app: &App, frame: &mut Frame, area: Rect) {
    let f = &app.evaluation.flight;
    let (likely, low, high) = (points(&f.polar), points(&f.polar_low), points(&f.polar_high));
    let pinned = app.pin.as_ref().map(|p| points(&p.evaluation.flight.polar)).unwrap_or_default();
    let speeds =
        |f: fn(f64, f64) -> f64, start: f64| likely.iter().map(|p| p.0).filter(|v| v.is_finite()).fold(start, f);
    let (slow, fast) = (speeds(f64::min, f64::INFINITY), speeds(f64::max, 0.0));
    let mut series = vec![
        Series { points: &low, color: Color::DarkGray },
        Series { points: &high, color: Color::DarkGray },
        Series { points: &likely, color: Color::Cyan },
    ];
    if !pinned.is_empty() {
        series.push(Series { points: &pinned, color: Color::Magenta });
    }
    let slow = if slow.is_finite() { slow } else { 0.0 };
    let note = if pinned.is_empty() { "grey: band" } else { "grey: band, magenta: pinned" };
    let plot = Plot {
        title: format!("sink m/s over speed ({note})"),
        series,
        from_zero: false,
        down: true,
        ends: (format!("{slow:.0} km/h"), format!("{fast:.0} km/h")),
        digits: 2,
    };
    curve::draw(app, frame, Rect { height: area.height.min(30), ..area }, &plot);
}
