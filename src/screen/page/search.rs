//! Search: what varies, how many designs that is, progress, the front plot and the designs on it.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};

use crate::scenario::dials::{Dial, Turn};
use crate::screen::app::{App, SearchRow};
use crate::screen::boundary::stepped;
use crate::screen::page::{bar, fit, flow, put, put_list, trade};

/// Values on each side of the present one.
const EACH_SIDE: i32 = 4;

/// Values a dial takes in a search: every item of a list, else coarse steps around where it stands.
pub fn values_around(dial: &Dial, now: f64) -> Vec<f64> {
    let mut values: Vec<f64> = match &dial.turn {
        Turn::Choice(list) => (0..list.len()).map(|i| i as f64).collect(),
        Turn::Whole { .. } => (-EACH_SIDE..=EACH_SIDE).map(|n| stepped(dial, now, n, false)).collect(),
        Turn::Number { .. } => (-EACH_SIDE..=EACH_SIDE).map(|n| stepped(dial, now, n, true)).collect(),
    };
    values.sort_by(f64::total_cmp);
    values.dedup_by(|a, b| (*a - *b).abs() < 1e-9);
    values
}

/// Time in the words a person uses.
fn time_words(seconds: f64) -> String {
    match seconds {
        s if !s.is_finite() || s < 0.0 => "unknown".to_owned(),
        s if s < 90.0 => format!("{s:.0} s"),
        s if s < 5400.0 => format!("{:.0} min", s / 60.0),
        s if s < 172_800.0 => format!("{:.1} h", s / 3600.0),
        s => format!("{:.1} days", s / 86_400.0),
    }
}

/// The list of results, under the words and the plot; nothing while there is none.
pub fn list(app: &App, area: Rect) -> Option<Rect> {
    if app.search.rows.is_empty() {
        return None;
    }
    let used = (what_varies(app, usize::from(area.width)).len() as u16).min(area.height);
    let rest = Rect { y: area.y + used, height: area.height - used, ..area };
    let plot = if rest.height >= 14 { rest.height / 2 } else { 0 };
    Some(Rect { y: rest.y + plot, height: rest.height - plot, ..rest })
}

/// Draw the page.
pub fn draw(app: &App, frame: &mut Frame, area: Rect) {
    let top = what_varies(app, usize::from(area.width));
    let used = (top.len() as u16).min(area.height);
    put(app, frame, Rect { height: used, ..area }, top);
    let Some(list) = list(app, area) else { return };
    let plot = Rect { y: area.y + used, height: list.y - area.y - used, ..area };
    if plot.height > 0 {
        trade::draw(app, frame, plot);
    }
    results(app, frame, list);
}

/// Most values of a dial that are listed one by one.
const LISTED: usize = 9;

fn what_varies(app: &App, width: usize) -> Vec<Line<'static>> {
    let (s, t) = (&app.search, app.theme);
    let mut lines = Vec::new();
    if app.varied.is_empty() {
        lines.push(Line::styled("The lightest durable mix at these dials", t.title()));
        if s.rows.is_empty() && !s.running {
            let words = "s finds it exactly: every skin construction in every bay, web, rib bodies and the caps of \
                         [[spar.cap]], the limits of the scenario kept, each answer evaluated again in full. To turn \
                         dials as well, choose a dial on the Wing page and press x: it then takes its values around \
                         where it stands, and the lightest mix is found at each.";
            lines.extend(flow(&[words.to_owned()], width));
        }
    } else {
        let cells: f64 = app.varied.iter().map(|v| v.values.len() as f64).product();
        lines.push(Line::styled(format!("{cells:.0} settings: all combinations of"), t.title()));
        for v in &app.varied {
            let Some(dial) = app.dial_of(&v.key) else { continue };
            let word = |x: &f64| shown(app, dial, *x);
            let words = match v.values.as_slice() {
                [first, second, .., last] if v.values.len() > LISTED => {
                    format!("{}, {} to {}, {} values", word(first), word(second), word(last), v.values.len())
                }
                all => all.iter().map(word).collect::<Vec<_>>().join(", "),
            };
            lines.push(Line::raw(fit(&format!("  {}: {words} {}", dial.label, dial.unit), width)));
        }
        if s.rows.is_empty() && !s.running && s.done == 0 {
            let inside = "s finds the lightest mix at each, or what the dials say where one of them says itself which \
                          construction stands where; it can be stopped and goes on where it was.";
            lines.extend(flow(&[inside.to_owned()], width));
        }
    }
    if s.running && app.varied.is_empty() {
        lines.push(Line::styled("running", t.title()));
    } else if app.mixes.is_empty() && (s.running || s.done > 0) {
        let share = s.done as f64 / (s.total as f64).max(1.0);
        let state = if s.running { "running" } else { "at rest" };
        lines.push(Line::from(vec![
            Span::styled(format!("{state}: {} of {} ", s.done, s.total), t.title()),
            Span::styled(fit(&bar(share, 20), 20), t.shade()),
            Span::raw(match (s.running, s.rate > 0.0) {
                (true, true) => format!(" {:.0} settings/s, {} left", s.rate, time_words(s.time_left_s)),
                (true, false) => " the rate is not known yet".to_owned(),
                _ => String::new(),
            }),
        ]));
        let ended: Vec<String> = s.ended.iter().map(|(why, n)| format!("{n} {why}")).collect();
        if !ended.is_empty() {
            lines.extend(flow(&[ended.join("; ")], width).into_iter().map(|l| l.style(t.dim())));
        }
    }
    lines.extend(flow(&s.said, width));
    if s.old {
        lines.push(Line::styled("old front: dials were turned since", t.dim()));
    }
    if !s.note.is_empty() {
        lines.extend(flow(std::slice::from_ref(&s.note), width).into_iter().map(|l| l.style(t.dim())));
    }
    lines
}

/// A value of a dial as it would be shown.
fn shown(app: &App, dial: &Dial, value: f64) -> String {
    let mut design = app.design.clone();
    dial.set(&mut design, value);
    dial.shown(&design)
}

/// The parts of a design that are others than those of the first; all of it where it has none of them.
fn differs(words: &str, first: &str) -> String {
    let same: Vec<&str> = first.split("; ").collect();
    let other: Vec<&str> = words.split("; ").filter(|w| !same.contains(w)).collect();
    if other.is_empty() { words.to_owned() } else { other.join("; ") }
}

fn results(app: &App, frame: &mut Frame, area: Rect) {
    let width = usize::from(area.width).saturating_sub(28);
    let head = Line::raw(format!(
        "{:>10} {:>14}  design (l loads it, Enter all of it); then what differs",
        "budget kg", "repair h/100"
    ));
    let first = app.search.rows.first().map_or("", |r| r.words.as_str());
    let line = |(i, r): (usize, &SearchRow)| {
        let words = if i == 0 { r.words.clone() } else { differs(&r.words, first) };
        Line::raw(format!("{:>10.2} {:>14.2}  {}", r.weight_kg, r.repair_h, fit(&words, width)))
    };
    let lines = app.search.rows.iter().enumerate().map(line).collect();
    put_list(app, frame, area, head, lines, app.line());
}

/// Everything said of the chosen design, and of the search it came from.
pub fn working(app: &App) -> Option<(String, Vec<String>)> {
    let row = app.search.rows.get(app.line())?;
    let mut lines = vec![format!("{:.2} kg budget, {:.2} repair h per 100 outings", row.weight_kg, row.repair_h)];
    lines.extend(row.words.split("; ").map(|w| format!("  {w}")));
    if !row.skins.is_empty() {
        lines.push("skins".to_owned());
        lines.extend(row.skins.split("; ").map(|w| format!("  {w}")));
    }
    if !row.binds.is_empty() {
        lines.push(format!("binds: {}", row.binds));
    }
    if !app.search.told.is_empty() {
        lines.extend([String::new(), "of the search:".to_owned()]);
        lines.extend(app.search.told.iter().cloned());
    }
    Some((format!("design {} on the front", app.line() + 1), lines))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenario::dials::Group;

    #[test]
    fn values_stay_in_range_and_are_named_once() {
        let dial = Dial {
            key: "x".into(),
            label: "x".into(),
            group: Group::Layout,
            unit: "",
            turn: Turn::Whole { least: 1, most: 30 },
            what: crate::scenario::dials::What::Plain(0),
        };
        assert_eq!(values_around(&dial, 2.0), [1.0, 2.0, 3.0, 4.0, 5.0, 6.0]);
    }

    #[test]
    fn a_design_below_the_first_tells_what_differs() {
        let first = "nose up: a to 0.20, b; aft up: c; ctrl up: d";
        assert_eq!(differs("nose up: a to 0.30, b; aft up: c; ctrl up: d", first), "nose up: a to 0.30, b");
        assert_eq!(differs(first, first), first);
        assert_eq!(differs("Span 13.2 m, Rib bays 14", "Span 13.0 m, Rib bays 14"), "Span 13.2 m, Rib bays 14");
    }

    #[test]
    fn times_are_told_as_people_tell_them() {
        assert_eq!(time_words(20.0), "20 s");
        assert_eq!(time_words(600.0), "10 min");
        assert_eq!(time_words(36_000.0), "10.0 h");
        assert_eq!(time_words(f64::INFINITY), "unknown");
    }
}
