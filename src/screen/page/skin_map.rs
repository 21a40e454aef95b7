//! The skin map: the half wing unrolled, rows are strips, columns are bays to span scale, two halves with two shadings.
//! Letters name the kind of skin, bars a change of construction, heights the value; colour adds nothing of its own.

use ratatui::Frame;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::{Line, Span};

use crate::physics::design::Strip;
use crate::physics::durability::held::Held;
use crate::physics::durability::index::Hands;
use crate::physics::strength::Verdict;
use crate::report::text::margin_title;
use crate::screen::app::{App, Focus, Shading};
use crate::screen::areas::{Areas, MapArea};
use crate::screen::boundary::boundaries;
use crate::screen::page::{fit, group_word};
use crate::screen::theme::height;

/// A shading worked out for every zone.
struct Shaded {
    of: Shading,
    values: Vec<Option<f64>>,
    least: f64,
    most: f64,
}

/// Draw the map with its line of words above and below.
pub fn draw(app: &App, frame: &mut Frame, a: &Areas) {
    let m = &a.map;
    if m.half == 0 || m.area.height < 3 {
        return;
    }
    let shaded = app.shadings.map(|s| shade(app, s));
    let buffer = frame.buffer_mut();
    for (shaded, x) in shaded.iter().zip([m.left, m.right]) {
        buffer.set_stringn(x, m.area.y, heading(shaded, usize::from(m.half)), usize::from(m.half), app.theme.title());
    }
    for (strip, y) in &m.strips {
        let here = app.at.0 == *strip && app.focus == Focus::Map;
        let style = if here { app.theme.chosen() } else { app.theme.dim() };
        buffer.set_stringn(m.area.x, *y, fit(strip.label(), 8), 8, style);
        let row: Vec<Option<usize>> = (0..app.evaluation.layout.bays.len())
            .map(|b| app.evaluation.layout.zones.iter().position(|z| z.strip == *strip && z.bay == b))
            .collect();
        half(app, buffer, m, &Row { strip: *strip, y: *y, zones: &row, right: false, shaded: &shaded[0] });
        half(app, buffer, m, &Row { strip: *strip, y: *y, zones: &row, right: true, shaded: &shaded[1] });
    }
    divide(app, buffer, m);
    foot(app, buffer, m);
}

struct Row<'a> {
    strip: Strip,
    y: u16,
    zones: &'a [Option<usize>],
    right: bool,
    shaded: &'a Shaded,
}

fn half(app: &App, buffer: &mut Buffer, m: &MapArea, row: &Row) {
    let bays = &app.evaluation.layout.bays;
    let from = if row.right { m.right } else { m.left };
    let style = if app.old() { app.theme.dim() } else { app.theme.shade() };
    let marks = bars(app, m, row);
    let mut letter_due = true;
    let mut before: Option<usize> = None;
    for column in from..from + m.half {
        let Some((_, eta)) = m.eta_at(column) else { continue };
        let Some(bay) = bays.iter().position(|b| eta < b.outer.eta) else {
            fallback(app, buffer, (column, row.y), row.strip, eta);
            continue;
        };
        let Some(zone) = row.zones.get(bay).copied().flatten() else {
            before = None;
            letter_due = true;
            continue;
        };
        let z = &app.evaluation.layout.zones[zone];
        letter_due |= before.is_none_or(|c| c != z.construction);
        let cursor = app.focus == Focus::Map && app.at == (row.strip, bay);
        let barred = marks.iter().any(|(x, ..)| *x == column);
        let (glyph, ink) = if letter_due && !barred {
            letter_due = false;
            let kind = app.design.constructions.get(z.construction).map(|c| c.kind).unwrap_or_default();
            (kind.letter(), app.theme.title())
        } else {
            match row.shaded.values.get(zone).copied().flatten() {
                Some(v) => (glyph_of(v, row.shaded), style),
                None => ('·', app.theme.dim()),
            }
        };
        before = Some(z.construction);
        put(buffer, column, row.y, glyph, if cursor { app.theme.chosen() } else { ink });
    }
    for (column, glyph, style) in marks {
        put(buffer, column, row.y, glyph, style);
    }
}

/// Loads and weights differ by ratios, so their heights are of the logarithm; margins may be below zero and are not.
fn glyph_of(v: f64, s: &Shaded) -> char {
    let ratio = s.least > 0.0 && !matches!(s.of, Shading::LeastMargin | Shading::HoldHere);
    if ratio { height(v.ln(), s.least.ln(), s.most.ln()) } else { height(v, s.least, s.most) }
}

/// With no layout yet the kinds of the design itself are shown.
fn fallback(app: &App, buffer: &mut Buffer, at: (u16, u16), strip: Strip, eta: f64) {
    let run = app.design.runs(strip).iter().find(|r| eta < r.to_eta);
    let kind = run.and_then(|r| app.design.constructions.get(r.construction)).map(|c| c.kind);
    if let Some(kind) = kind {
        put(buffer, at.0, at.1, kind.letter(), app.theme.dim());
    }
}

/// A heavy bar where the kind changes or a boundary can be dragged, a light one where only the construction does.
fn bars(app: &App, m: &MapArea, row: &Row) -> Vec<(u16, char, Style)> {
    let e = &app.evaluation.layout;
    let kind = |c: usize| app.design.constructions.get(c).map(|c| c.kind);
    let mut marks: Vec<(u16, char, Style)> = Vec::new();
    for (b, pair) in row.zones.windows(2).enumerate() {
        let [Some(inner), Some(outer)] = pair else { continue };
        let (from, to) = (e.zones[*inner].construction, e.zones[*outer].construction);
        if from == to {
            continue;
        }
        let glyph = if kind(from) == kind(to) { '│' } else { '┃' };
        marks.push((m.column_of(e.bays[b].outer.eta, row.right), glyph, app.theme.title()));
    }
    for s in boundaries(app).iter().filter(|s| s.strips.contains(&row.strip) && s.eta > 0.0 && s.eta < 1.0) {
        let held = app.drag.as_ref().is_some_and(|d| app.dials.get(s.dial).is_some_and(|dial| dial.key == d.key));
        let style = if held { app.theme.chosen() } else { app.theme.boundary() };
        marks.push((m.column_of(s.eta, row.right), '┃', style));
    }
    marks
}

fn put(buffer: &mut Buffer, x: u16, y: u16, glyph: char, style: Style) {
    if let Some(cell) = buffer.cell_mut((x, y)) {
        cell.set_char(glyph).set_style(style);
    }
}

fn divide(app: &App, buffer: &mut Buffer, m: &MapArea) {
    let rows = m.strips.len() as u16;
    for y in m.area.y + 1..m.area.y + 1 + rows {
        put(buffer, m.right - 1, y, '║', app.theme.rule());
    }
}

/// Tip and root, span to the tip in metres, and what the letters on the map stand for.
fn foot(app: &App, buffer: &mut Buffer, m: &MapArea) {
    let y = m.area.y + 1 + m.strips.len() as u16;
    if y >= m.area.y + m.area.height {
        return;
    }
    let mut kinds: Vec<_> = app
        .evaluation
        .layout
        .zones
        .iter()
        .filter_map(|z| app.design.constructions.get(z.construction))
        .map(|c| c.kind)
        .collect();
    kinds.sort_by_key(|k| k.letter());
    kinds.dedup();
    let letters: Vec<String> =
        kinds.iter().map(|k| format!("{} {}", k.letter(), k.word().trim_end_matches(" foam"))).collect();
    let width = usize::from(m.half);
    let span = app.design.planform.span_m / 2.0;
    let dim = app.theme.dim();
    // Kinds that have no room on the left half go on with the right one; the help has all.
    let mut halves = [String::new(), String::new()];
    let end = format!("{span:.2} m  tip");
    let room = [width.saturating_sub(10), width.saturating_sub(8 + end.chars().count())];
    let mut at = 0;
    for word in letters {
        let fits = |half: &str, room: usize| {
            half.chars().count() + word.chars().count() + 2 <= room + 2 * usize::from(half.is_empty())
        };
        if at == 0 && !fits(&halves[0], room[0]) {
            at = 1;
        }
        if fits(&halves[at], room[at]) {
            let comma = if halves[at].is_empty() { "" } else { ", " };
            halves[at] = format!("{}{comma}{word}", halves[at]);
        } else if !halves[at].ends_with('…') {
            halves[at].push('…');
        }
    }
    let [left, right] = halves;
    buffer.set_stringn(m.left, y, format!("tip {}  root", fit(&left, room[0])), width, dim);
    buffer.set_stringn(m.right, y, format!("root  {}  {end}", fit(&right, room[1])), width, dim);
}

/// Quantity, unit, least and greatest, in as many words as there is room for.
fn heading(s: &Shaded, width: usize) -> String {
    let (name, unit) = s.of.words();
    if s.of == Shading::HoldHere {
        return fit("hold here: █ yes  ▁ no", width);
    }
    let digits = match s.of {
        Shading::LeastMargin | Shading::RepairHours => 2,
        _ => 0,
    };
    if s.values.iter().flatten().next().is_none() {
        return fit(&format!("{name}: nothing to show"), width);
    }
    let comma = if unit.is_empty() { "" } else { ", " };
    let range = format!("▁{:.digits$} █{:.digits$}", s.least, s.most);
    let whole = format!("{name}{comma}{unit} {range}");
    if whole.chars().count() <= width { whole } else { fit(&format!("{name} {range}"), width) }
}

fn shade(app: &App, of: Shading) -> Shaded {
    let e = &app.evaluation;
    let margins = if of == Shading::LeastMargin { least_margins(app) } else { Vec::new() };
    let held = if of == Shading::HoldHere { Held::of(&app.design, e) } else { Held::default() };
    let values: Vec<Option<f64>> = e
        .layout
        .zones
        .iter()
        .enumerate()
        .map(|(i, z)| {
            let d = e.durability.zones.get(i);
            match of {
                Shading::ArealWeight => e.skins.get(z.construction).map(|s| s.mass.total() * 1000.0),
                Shading::PressLoad => d.map(|d| d.press_n),
                Shading::BallLoad => d.map(|d| d.ball_n),
                Shading::RepairHours => d.map(|d| d.repair_h),
                Shading::HoldHere => held.may.get(i).map(|may| f64::from(u8::from(*may == Hands::Hold))),
                Shading::LeastMargin => margins.get(i).copied().flatten(),
            }
            .filter(|v| v.is_finite())
        })
        .collect();
    let (least, most) = match of {
        Shading::HoldHere => (0.0, 1.0),
        _ => values.iter().flatten().fold((f64::INFINITY, f64::NEG_INFINITY), |(l, m), v| (l.min(*v), m.max(*v))),
    };
    Shaded { of, values, least, most }
}

/// The least computed margin of each zone; margins of the spar have no strip and stand on the Strength page.
fn least_margins(app: &App) -> Vec<Option<f64>> {
    let e = &app.evaluation;
    let mut out = vec![None; e.layout.zones.len()];
    for m in e.margins.iter().filter(|m| !matches!(m.verdict, Verdict::NotShown(_)) && m.rf.is_finite()) {
        let (Some(strip), Some(bay)) = (m.strip, m.bay) else { continue };
        if let Some(i) = e.layout.zones.iter().position(|z| z.strip == strip && z.bay == bay) {
            let old = out[i].unwrap_or(f64::INFINITY);
            out[i] = Some(old.min(m.rf - 1.0));
        }
    }
    out
}

/// The zone at the map cursor, in words.
pub fn zone_words(app: &App, (strip, bay): (Strip, usize)) -> Vec<Line<'static>> {
    let (e, t) = (&app.evaluation, app.theme);
    let place = format!("{} bay {}", strip.label(), bay + 1);
    let Some(i) = e.layout.zones.iter().position(|z| z.strip == strip && z.bay == bay) else {
        return vec![Line::styled(format!("{place}: nothing there"), t.dim())];
    };
    let z = &e.layout.zones[i];
    let made = app.design.constructions.get(z.construction);
    let (kind, name) = made.map_or(("", ""), |c| (c.kind.word(), c.name.as_str()));
    let areal = e.skins.get(z.construction).map_or(0.0, |s| s.mass.total() * 1000.0);
    let mut lines = vec![
        Line::from(vec![Span::styled(place, t.title()), Span::raw(format!(": {kind}, {name}"))]),
        Line::raw(format!("{areal:.0} g/m2 over {:.2} m2 a side", z.area_m2)),
    ];
    if let Some(d) = e.durability.zones.get(i) {
        let far = if d.extrapolated { " (outside the fit)" } else { "" };
        lines.push(Line::raw(format!("press {:.0} N {}{far}", d.press_n, d.press_kind.word())));
        lines.push(Line::raw(format!("ball {:.0} N {}", d.ball_n, d.ball_kind.word())));
        let held = Held::of(&app.design, e);
        let hold = if held.may.get(i) == Some(&Hands::Hold) { "may be held" } else { "do not hold here" };
        lines.push(Line::raw(format!("repair {:.2} h per 100 outings; {hold}", d.repair_h)));
    }
    let least = e
        .margins
        .iter()
        .filter(|m| m.strip == Some(strip) && m.bay == Some(bay) && !matches!(m.verdict, Verdict::NotShown(_)))
        .min_by(|a, b| a.rf.total_cmp(&b.rf));
    if let Some(m) = least {
        lines.push(Line::raw(format!("margin {:+.2} {}", m.rf - 1.0, margin_title(&app.design, m))));
    }
    let dial = boundaries(app).into_iter().find(|s| s.strips.contains(&strip));
    if let Some(d) = dial.and_then(|s| app.dials.get(s.dial)) {
        lines.push(Line::styled(format!(", . move {} ({})", d.label, group_word(d.group)), t.dim()));
    }
    lines
}

/// Rows the plan outline needs to be to scale over the same columns as the map.
pub fn plan_rows(app: &App, half: u16) -> u16 {
    let l = &app.evaluation.layout;
    let front = l.stations().map(|s| s.x_le_m).fold(f64::INFINITY, f64::min);
    let back = l.stations().map(|s| s.x_le_m + s.chord_m).fold(f64::NEG_INFINITY, f64::max);
    let rows = (back - front) / l.half_span_m.max(1e-6) * f64::from(half) / 2.0;
    if rows.is_finite() { rows.ceil().clamp(0.0, 60.0) as u16 } else { 0 }
}

/// Whole columns of the map, for what is drawn above it.
pub fn columns(m: &MapArea, y: u16, height: u16) -> Rect {
    Rect::new(m.left, y, 2 * m.half + 1, height)
}
