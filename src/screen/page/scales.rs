//! The scales, the second sheet of the workshop: parts against the promise, the forecast, stop-weights; `=` types what a part
//! weighs.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::Line;

use crate::physics::mass::weighed::{Half, SCALE_ERROR_KG, Weighing};
use crate::physics::workshop::forecast::{self, Forecast, Row};
use crate::physics::workshop::win_back;
use crate::report::weigh_in;
use crate::screen::app::App;
use crate::screen::page::{fit, flow, put, put_list};
use crate::screen::wrap;

/// Where the weighing stands.
pub fn forecast(app: &App) -> Forecast {
    forecast::of(&app.design, &app.evaluation)
}

/// The chosen part.
pub fn chosen(app: &App) -> Option<Row> {
    let rows = forecast(app).rows;
    let last = rows.len().checked_sub(1)?;
    rows.into_iter().nth(app.line().min(last))
}

/// The weighing that was typed for the chosen part: grams, and the half before them where it is one.
pub fn read(app: &App, text: &str) -> Result<Weighing, String> {
    let row = chosen(app).ok_or_else(|| "this wing has no parts to weigh".to_owned())?;
    let text = text.trim().trim_end_matches('g').trim_end();
    let (half, grams) = match text.split_once(' ') {
        Some((word, rest)) if word.starts_with(char::is_alphabetic) => {
            let half = Half::ALL.into_iter().find(|h| h.key().starts_with(word));
            (half.ok_or_else(|| format!("`{word}` is no half: left, right or both"))?, rest.trim())
        }
        _ => (Half::Both, text),
    };
    // 1,435 may be meant as 1435 or as 1.435.
    if grams.split_once(',').is_some_and(|(_, behind)| behind.len() == 3) {
        return Err(format!("`{grams}` can be read in two ways: write grams without a comma"));
    }
    let grams: f64 = grams.replace(',', ".").parse().map_err(|_| format!("`{grams}` is not a number of g"))?;
    if !(0.1..=200_000.0).contains(&grams) {
        return Err(format!("{grams} g cannot be a part; 0.1 to 200000 are read"));
    }
    let (date, note) = (String::new(), String::new());
    Ok(Weighing { piece: row.piece, half, mass_kg: 1e-3 * grams, scale_error_kg: SCALE_ERROR_KG, date, note })
}

/// Title and lines of the chosen part, and of where weight can be won back.
pub fn working(app: &App) -> Option<(String, Vec<String>)> {
    let row = chosen(app)?;
    let mut out = vec![
        format!("promised {:.0} g, both halves: as drawn and the growth of an estimate", 1e3 * row.promised_kg),
        format!("expected now {:.0} g, give or take {:.0}", 1e3 * row.expected_kg, 1e3 * row.sd_kg),
    ];
    if let Some(stop) = row.stop_kg {
        out.push(format!("stop-weight {:.0} g: its share of what the target leaves for the parts to come", 1e3 * stop));
    }
    for w in app.design.weighed.iter().filter(|w| w.piece.meets(&row.piece)) {
        let day = if w.date.is_empty() { String::new() } else { format!(", {}", w.date) };
        let note = if w.note.is_empty() { String::new() } else { format!(": {}", w.note) };
        out.push(format!("on the scales: {} {}, {:.1} g{day}{note}", w.piece.words(), w.half.key(), 1e3 * w.mass_kg));
    }
    out.push(String::new());
    out.push("where weight can be won back, of what is still to be made, one change at a time:".to_owned());
    let savings = win_back::of(&app.design, &app.evaluation);
    out.extend(weigh_in::won(&app.evaluation, &savings).into_iter().map(|l| format!("  {l}")));
    out.push(String::new());
    out.push(weigh_in::HOW.to_owned());
    Some((row.piece.words(), out))
}

fn words(app: &App, f: &Forecast, width: usize) -> Vec<Line<'static>> {
    let title = "the scales; Enter: where weight can be won back";
    let mut top: Vec<Line> = flow(&[title.to_owned()], width).into_iter().map(|l| l.style(app.theme.title())).collect();
    top.extend(flow(&weigh_in::head(&app.design, &app.evaluation, f), width));
    top
}

/// The list of parts, under the words.
pub fn list(app: &App, area: Rect) -> Rect {
    let f = forecast(app);
    let used = (words(app, &f, usize::from(area.width)).len() as u16).min(area.height.saturating_sub(4));
    let rows = f.rows.len() as u16 + 1;
    Rect { y: area.y + used, height: rows.min(area.height - used), ..area }
}

/// How many parts can be chosen.
pub fn lines(app: &App) -> usize {
    forecast(app).rows.len()
}

/// Draw the sheet.
pub fn draw(app: &App, frame: &mut Frame, area: Rect) {
    let width = usize::from(area.width);
    let (f, list) = (forecast(app), list(app, area));
    put(app, frame, Rect { height: list.y - area.y, ..area }, words(app, &f, width));
    let rows: Vec<Line> = f
        .rows
        .iter()
        .map(|r| {
            let line = Line::raw(fit(&weigh_in::row(r), width));
            let over = r.stop_kg.is_some_and(|stop| r.expected_kg > stop);
            if r.made {
                line.style(app.theme.title())
            } else if over {
                line.style(app.theme.broken())
            } else {
                line
            }
        })
        .collect();
    put_list(app, frame, list, Line::raw(fit(weigh_in::COLUMNS, width)), rows, app.line());
    let (below, bottom) = (list.y + list.height, area.y + area.height);
    if below + 2 < bottom {
        let how = wrap::line(&Line::styled(weigh_in::HOW, app.theme.dim()), width);
        put(app, frame, Rect { y: below + 1, height: bottom - below - 1, ..area }, how);
    }
}
