//! Flight: the polar with its band, and the numbers that come from it, against the pinned wing when there is one.

use std::borrow::Cow;

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::Color;
use ratatui::text::{Line, Span};

use crate::physics::design::Design;
use crate::physics::evaluation::Evaluation;
use crate::physics::flight::speeds::{Band, PolarPoint};
use crate::report::flight::stall_words;
use crate::screen::app::App;
use crate::screen::page::curve::{self, Plot, Series, Stroke};
use crate::screen::page::{fit, put_list};
use crate::screen::score::ScoreOf;

const KMH: f64 = 3.6;
/// The rows that are traced to the bays of the wing.
pub const PROFILE: &str = "wing profile drag";
pub const LAMINAR: &str = "laminar share of surface";

/// The speeds that the loads hold for, where limits are chosen.
pub const MANOEUVRE: &str = "VA, full movements to";
pub const ROUGH: &str = "rough air, no faster than";
pub const DIVE: &str = "VD, loads hold up to";

/// A number of the page: what, value, unit, digits, band.
pub struct Row {
    pub name: Cow<'static, str>,
    pub value: f64,
    pub unit: &'static str,
    pub digits: usize,
    pub band: Option<Band>,
    /// The score whose working it shares.
    pub of: ScoreOf,
}

/// The numbers, in the order shown.
pub fn rows(app: &App) -> Vec<Row> {
    rows_of(&app.evaluation, &app.design)
}

fn rows_of(e: &Evaluation, design: &Design) -> Vec<Row> {
    use ScoreOf::{Glide, Hands, Launch, Sink, Stall};
    let (f, a, l) = (&e.flight, &design.aboard, &e.loads);
    let row =
        |of, name: &'static str, value, unit, digits| Row { name: name.into(), value, unit, digits, band: None, of };
    let band = |of, name: Cow<'static, str>, b: Band, unit, digits| Row {
        name,
        value: b.likely,
        unit,
        digits,
        band: Some(b),
        of,
    };
    let kmh = |b: Band| Band { low: b.low * KMH, likely: b.likely * KMH, high: b.high * KMH };
    let limits = [(MANOEUVRE, l.manoeuvre_speed_m_s), (ROUGH, l.rough_air_speed_m_s), (DIVE, l.dive_speed_m_s)];
    let limits = limits.map(|(name, m_s)| row(Stall, name, m_s * KMH, "km/h", 0));
    let mut out = vec![
        row(Stall, stall_words(a.tailless, f), f.stall_m_s * KMH, "km/h", 1),
        band(Sink, "least sink".into(), f.least_sink_m_s, "m/s", 2),
        row(Sink, "  at", f.least_sink_speed_m_s * KMH, "km/h", 1),
        band(Glide, "best glide".into(), f.best_glide, "", 1),
        row(Glide, "  at", f.best_glide_speed_m_s * KMH, "km/h", 1),
        band(Glide, format!("to fly, air sinks {:.1} m/s", a.sinking_air_m_s).into(), kmh(f.to_fly_m_s), "km/h", 0),
        band(Glide, format!("fastest at {:.1} m/s sink", a.given_sink_m_s).into(), kmh(f.fastest_m_s), "km/h", 0),
        row(Stall, if f.trimmed { "greatest CL, trimmed" } else { "greatest CL" }, f.cl_max_trimmed, "", 2),
        row(Stall, "all-up mass", f.all_up_kg, "kg", 1),
        row(Launch, "floats without a pilot at", f.wing_float_m_s, "m/s", 1),
        row(Launch, "launch airspeed", f.launch_speed_m_s, "m/s", 1),
        row(Launch, "launch run, still air", f.ground_speed_m_s, "m/s", 1),
        Row {
            name: format!("launch run, wind {:.1} m/s", a.headwind_m_s).into(),
            ..row(Launch, "", f.ground_speed_in_wind_m_s, "m/s", 1)
        },
        row(Hands, "in the hands at rest", f.hands_n, "N", 0),
        row(Hands, "in the hands at 6 m/s", f.hands_running_n, "N", 0),
        row(Glide, PROFILE, f.cd_profile, "CD", 4),
        band(Glide, "pilot and rigging drag".into(), f.cd_pilot, "CD", 4),
        row(Glide, LAMINAR, 100.0 * f.laminar_share, "%", 0),
    ];
    // Last, so that rows of a pinned wing without limits still stand beside their like.
    if design.limits.is_some() {
        out.extend(limits);
    }
    out
}

/// The list of numbers.
pub fn list(area: Rect) -> Rect {
    Rect { width: 57.min(area.width * 2 / 3), ..area }
}

/// Draw the page.
pub fn draw(app: &App, frame: &mut Frame, area: Rect) {
    let left = list(area).width;
    numbers(app, frame, list(area));
    polar(app, frame, Rect { x: area.x + left + 1, width: area.width.saturating_sub(left + 1), ..area });
}

fn numbers(app: &App, frame: &mut Frame, area: Rect) {
    let t = app.theme;
    let pin = app.pin.as_ref().map(|p| rows_of(&p.evaluation, &p.design));
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
                Span::raw(fit(&r.name, 25)),
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
    // Beside the numbers at 80 columns there is room for two kinds of line and a short title.
    let narrow = area.width < 40;
    let mut series = Vec::new();
    if !narrow || pinned.is_empty() {
        series.push(Series { points: &low, color: Color::DarkGray, stroke: Stroke::Dots });
        series.push(Series { points: &high, color: Color::DarkGray, stroke: Stroke::Dots });
    }
    if !pinned.is_empty() {
        series.push(Series { points: &pinned, color: Color::Magenta, stroke: Stroke::Dashes });
    }
    series.push(Series { points: &likely, color: Color::Cyan, stroke: Stroke::Whole });
    let slow = if slow.is_finite() { slow } else { 0.0 };
    let title = match (narrow, pinned.is_empty()) {
        (true, true) => "sink, m/s; dots: band",
        (true, false) => "sink, m/s; dashes: pinned",
        (false, true) => "sink, m/s, over speed; dots: band",
        (false, false) => "sink, m/s, over speed; dots: band, dashes: pinned",
    };
    let plot = Plot {
        title: title.to_owned(),
        series,
        from_zero: false,
        down: true,
        ends: (format!("{slow:.0} km/h"), format!("{fast:.0} km/h")),
        digits: 2,
    };
    curve::draw(app, frame, Rect { height: area.height.min(30), ..area }, &plot);
}
