//! Strength: shear, moment, torque and deflection of a case along the span; the failure modes with their verdicts,
//! nearest to failing first; what is not shown stands below them.

use std::fmt::Write as _;

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::Color;
use ratatui::text::{Line, Span};

use crate::physics::loads::case::Support;
use crate::physics::strength::judged::judged;
use crate::physics::strength::{Margin, NOT_ASSESSED, Verdict};
use crate::physics::vibration::NO_CLEARANCE;
use crate::report::seen;
use crate::report::text::{if_counted, mode_title, not_assessed, worst_of_each_mode};
use crate::report::vibration::{self, Row};
use crate::screen::app::App;
use crate::screen::page::curve::{self, Plot, Series, Stroke};
use crate::screen::page::{fit, flow, put, put_list};
use crate::screen::theme::height;

/// A line of the list.
pub enum Entry<'a> {
    Mode(&'a Margin),
    /// The load case shown above.
    Case(usize),
    /// Vibration: information, no verdict.
    Information(Row),
    /// What no mode looks at.
    NotAssessed,
}

/// The lines of the page: the governing margin of each mode, what is not shown, the load case, vibration for information.
pub fn rows(app: &App) -> Vec<Entry<'_>> {
    let information = vibration::rows(&app.design, &app.evaluation).into_iter().map(Entry::Information);
    let case = (app.case < app.evaluation.loads.loads.len()).then_some(Entry::Case(app.case));
    let rest = std::iter::once(Entry::NotAssessed);
    modes_shown(app).into_iter().map(Entry::Mode).chain(case).chain(information).chain(rest).collect()
}

fn modes_shown(app: &App) -> Vec<&Margin> {
    let e = &app.evaluation;
    let mut out = worst_of_each_mode(e);
    let mut seen: Vec<&str> = Vec::new();
    for m in e.margins.iter().filter(|m| matches!(m.verdict, Verdict::NotShown(_))) {
        if !seen.contains(&m.mode) {
            seen.push(m.mode);
            out.push(m);
        }
    }
    out
}

/// The list of modes, under the words and the curves.
pub fn list(app: &App, area: Rect) -> Rect {
    let used = words(app, usize::from(area.width)).len() as u16 + curve_rows(app, area);
    Rect { y: area.y + used, height: area.height.saturating_sub(used), ..area }
}

/// Rows of the curves.
fn curve_rows(app: &App, area: Rect) -> u16 {
    if app.case < app.evaluation.loads.loads.len() { (area.height / 3).clamp(6, 16) } else { 0 }
}

/// The verdict and the load case.
fn words(app: &App, width: usize) -> Vec<Line<'static>> {
    let e = &app.evaluation;
    let loads = e.loads.loads.get(app.case);
    let case = loads.and_then(|l| e.loads.cases.get(l.case));
    let mut top = verdict_lines(app, width);
    if let (Some(l), Some(c)) = (loads, case) {
        let mut parts = vec![
            format!("case {} of {}: {}", app.case + 1, e.loads.loads.len(), c.title),
            format!("n {:+.2} at {:.0} km/h", c.n, c.speed_m_s * 3.6),
            format!("root moment {:.0} N m", l.moment_nm().first().copied().unwrap_or(0.0)),
        ];
        // Held elsewhere than at the root, it is the supports that make the moment there.
        if c.support == Support::Root {
            parts.extend([
                format!("of the air {:.0}", l.air_root_nm),
                format!("by the wing's bending {:+.0}", l.yielding_root_nm),
                format!("relief by the wing's mass {:.0}", l.relief_root_nm),
            ]);
        }
        top.extend(flow(&parts, width));
    }
    top
}

/// Draw the page.
pub fn draw(app: &App, frame: &mut Frame, area: Rect) {
    let top = words(app, usize::from(area.width));
    let used = top.len() as u16;
    put(app, frame, Rect { height: used.min(area.height), ..area }, top);
    plots(app, frame, Rect { y: area.y + used, height: curve_rows(app, area), ..area });
    modes(app, frame, list(app, area));
}

/// The verdict in numbers, and what else must be known of it.
fn verdict_lines(app: &App, width: usize) -> Vec<Line<'static>> {
    let (e, t) = (&app.evaluation, app.theme);
    let s = &e.strength;
    let style = if s.short.is_empty() { t.title() } else { t.broken() };
    let sign = if s.short.is_empty() { "" } else { "✗ " };
    let mut words = format!("   {} short, {} not shown", count(s.short.len(), "mode"), s.not_shown.len());
    if !app.design.accepted.is_empty() {
        let _ = write!(words, ", {} accepted as not shown", app.design.accepted.len());
    }
    let _ = write!(words, ", {} off", count(s.cases_off, "case"));
    let mut lines =
        vec![Line::from(vec![Span::styled(format!("{sign}{}", s.verdict.word()), style), Span::raw(words)])];
    // The working of the verdict says why it is not counted.
    let seen = seen::short(&app.design, e);
    lines.extend(seen.split_last().into_iter().flat_map(|(_, short)| flow(short, width)));
    if app.design.limits.is_none() {
        lines.extend(flow(&["no set of limits is chosen, so no flight case is computed".to_owned()], width));
    }
    if !e.settled && !e.layout.bays.is_empty() {
        lines.extend(flow(&["the weight-load loop did not settle".to_owned()], width));
    }
    lines
}

/// "1 mode", "3 modes".
fn count(n: usize, of: &str) -> String {
    format!("{n} {of}{}", if n == 1 { "" } else { "s" })
}

/// Four curves side by side, or as many as there is width for.
fn plots(app: &App, frame: &mut Frame, area: Rect) {
    let e = &app.evaluation;
    let Some(l) = e.loads.loads.get(app.case) else { return };
    let y: Vec<f64> = e.layout.stations().map(|s| s.y_m).collect();
    let over =
        |v: &[f64], scale: f64| -> Vec<(f64, f64)> { y.iter().copied().zip(v.iter().map(|v| v * scale)).collect() };
    let bent = e.bending.get(app.case);
    let none: &[f64] = &[];
    let curves = [
        ("shear, N", over(l.shear_n(), 1.0), Color::Cyan),
        ("moment, N m", over(l.moment_nm(), 1.0), Color::Cyan),
        ("torque, N m", over(l.torque_nm(), 1.0), Color::Cyan),
        ("deflection, mm", over(bent.map_or(none, |b| b.deflection_m()), 1000.0), Color::Green),
        ("twist, deg", over(bent.map_or(none, |b| b.twist_rad()), 180.0 / std::f64::consts::PI), Color::Green),
    ];
    let n = usize::from(area.width / 24).clamp(3, 5);
    let width = area.width / n as u16;
    let kept: Vec<_> = if n >= 4 { curves.iter().take(n).collect() } else { vec![&curves[1], &curves[2], &curves[3]] };
    for (i, (title, points, color)) in kept.into_iter().enumerate() {
        let most = points
            .iter()
            .map(|p| p.1)
            .filter(|v| v.is_finite())
            .fold(0.0, |a: f64, b| if b.abs() > a.abs() { b } else { a });
        let digits = usize::from(most.abs() < 10.0);
        let plot = Plot {
            title: format!("{title}: {most:.digits$}"),
            series: vec![Series { points, color: *color, stroke: Stroke::Whole }],
            from_zero: true,
            down: false,
            ends: ("root".to_owned(), "tip".to_owned()),
            digits,
        };
        curve::draw(app, frame, Rect { x: area.x + i as u16 * width, width, ..area }, &plot);
    }
}

fn modes(app: &App, frame: &mut Frame, area: Rect) {
    let e = &app.evaluation;
    let bays = e.layout.bays.len();
    let width = usize::from(area.width);
    let strip = if width >= 78 + bays { bays.max(12) } else { 0 };
    let title = (width.saturating_sub(strip + 52)).clamp(29, 44);
    let room = width.saturating_sub(title + 22 + if strip > 0 { strip + 1 } else { 0 });
    let bays_head = if strip > 0 { fit("root→tip", strip + 1) } else { String::new() };
    let head = Line::raw(format!("{:<12}{} {:>7}  {bays_head}where and when", "verdict", fit("mode", title), "margin"));
    let lines = rows(app)
        .iter()
        .map(|r| match r {
            Entry::Mode(m) => mode_line(app, m, title, (strip, room), width),
            Entry::Case(on) => case_line(app, *on, title, room),
            Entry::Information(r) => information_line(app, r, title, width),
            Entry::NotAssessed => {
                let all = not_assessed().join(" ");
                let [first, second, rest @ ..] = NOT_ASSESSED;
                let brief = format!("not assessed: {first}, {second} and {} more (Enter)", rest.len());
                Line::styled(format!("none        {}", whole_or(all, brief, width.saturating_sub(12))), app.theme.dim())
            }
        })
        .collect();
    put_list(app, frame, area, head, lines, app.line());
}

/// The whole of it where there is room, else the short form.
fn whole_or(all: String, brief: String, width: usize) -> String {
    if all.chars().count() <= width { all } else { brief }
}

fn mode_line(app: &App, m: &Margin, title: usize, (strip, room): (usize, usize), width: usize) -> Line<'static> {
    let (e, t) = (&app.evaluation, app.theme);
    if let Verdict::NotShown(why) = m.verdict {
        let taken = app.design.accepted.iter().find(|a| a.key == m.mode);
        let short = taken.and_then(|a| if_counted(e, &a.key));
        let (word, why) = taken.map_or(("not shown", why), |a| ("accepted", a.reason.as_str()));
        let all = short.map_or_else(|| why.to_owned(), |s| format!("{}; {why}", s.words()));
        // Not cut: what counts first, and where the rest of it stands.
        let brief = short.map_or_else(|| "why: Enter".to_owned(), |s| format!("{}; why: Enter", s.brief()));
        let why = if taken.is_some() { whole_or(all, brief, width.saturating_sub(title + 13)) } else { all };
        let words = format!("? {word:<10}{} {why}", fit(mode_title(m.mode), title));
        return Line::styled(fit(&words, width), t.dim());
    }
    let short = m.verdict == Verdict::Short;
    let (verdict, style) = if short { ("✗ short", t.broken()) } else { ("  holds", t.text()) };
    let at = [
        m.strip.map(|s| s.label().to_owned()),
        m.bay.map(|b| format!("bay {}", b + 1)),
        judged(&app.design, m).beside().map(str::to_owned),
        m.case.and_then(|c| e.loads.cases.get(c)).map(|c| c.title.to_owned()),
    ];
    let at: Vec<String> = at.into_iter().flatten().collect();
    Line::from(vec![
        Span::styled(format!("{verdict:<12}{} {:>+7.2}  ", fit(mode_title(m.mode), title), m.rf - 1.0), style),
        Span::styled(by_bay(app, m.mode, strip), t.shade()),
        Span::raw(fit(&at.join(", "), room)),
    ])
}

/// The load case of the curves, so that its working can be asked for.
fn case_line(app: &App, on: usize, title: usize, room: usize) -> Line<'static> {
    let l = app.evaluation.loads.loads.get(on);
    let name = l.and_then(|l| app.evaluation.loads.cases.get(l.case)).map_or("", |c| c.title);
    let moment = l.and_then(|l| l.moment_nm().first()).copied().unwrap_or(0.0);
    let what = format!("moment at the root {moment:.0} N m");
    Line::raw(format!("load        {} {:>7}  {}", fit(&what, title), "", fit(name, room)))
}

/// Vibration: value, what it is not, where.
fn information_line(app: &App, r: &Row, title: usize, width: usize) -> Line<'static> {
    let words = format!("info        {} {:>11}  {NO_CLEARANCE}  {}", fit(&r.what, title - 4), r.value, r.place);
    Line::styled(fit(&words, width), app.theme.dim())
}

/// The mode in every bay: a cross where it is short, else the height of the margin up to 2; a point where it is not met.
fn by_bay(app: &App, mode: &str, strip: usize) -> String {
    if strip == 0 {
        return String::new();
    }
    let mut least = vec![f64::INFINITY; app.evaluation.layout.bays.len()];
    for m in app.evaluation.margins.iter().filter(|m| m.mode == mode && !matches!(m.verdict, Verdict::NotShown(_))) {
        if let Some(slot) = m.bay.and_then(|b| least.get_mut(b)) {
            *slot = slot.min(m.rf);
        }
    }
    let glyph = |rf: &f64| match rf {
        rf if *rf < 1.0 => '✗',
        rf if rf.is_finite() => height(*rf - 1.0, 0.0, 2.0),
        _ => '·',
    };
    fit(&least.iter().map(glyph).collect::<String>(), strip + 1)
}
