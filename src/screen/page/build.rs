//! The sheets of the workshop for building: the cut list, what to buy, resin by batch, a sheet for each part.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::Line;

use crate::physics::workshop::batches::{self, Batch};
use crate::physics::workshop::cuts::{self, Cut, CutList};
use crate::physics::workshop::part_sheets::{self, PartSheet};
use crate::physics::workshop::to_buy::{self, Material};
use crate::physics::workshop::{forecast, outline};
use crate::report;
use crate::report::cut_list::{self, CUTTING, HOW};
use crate::report::mixing::{self, WET};
use crate::screen::app::{App, Sheet};
use crate::screen::page::{fit, flow, put, put_rows};

/// Columns of a working on a wide screen.
const OVERLAY: usize = 90;

/// What a sheet lists.
enum Rows<'l> {
    Cuts(&'l [Cut]),
    Stock(Vec<Material>),
    Resin(Vec<Batch>),
    Parts(Vec<PartSheet<'l>>),
}

impl Rows<'_> {
    fn len(&self) -> usize {
        match self {
            Self::Cuts(all) => all.len(),
            Self::Stock(all) => all.len(),
            Self::Resin(all) => all.len(),
            Self::Parts(all) => all.len(),
        }
    }
}

fn list_of(app: &App) -> CutList {
    cuts::of(&app.design, &app.evaluation)
}

fn rows<'l>(app: &App, list: &'l CutList) -> Rows<'l> {
    match app.sheet {
        Sheet::Stock => Rows::Stock(to_buy::of(&app.design, list)),
        Sheet::Resin => Rows::Resin(batches::of(&app.design.stock, list)),
        Sheet::Parts => {
            let f = forecast::of(&app.design, &app.evaluation);
            Rows::Parts(part_sheets::of(&app.design, &app.evaluation, list, &f))
        }
        Sheet::Cuts | Sheet::Proof | Sheet::Scales => Rows::Cuts(&list.cuts),
    }
}

/// How many lines can be chosen.
pub fn lines(app: &App) -> usize {
    rows(app, &list_of(app)).len()
}

/// Room for names beside the columns of a sheet.
fn name_width(width: usize, behind: usize) -> usize {
    width.saturating_sub(behind).clamp(20, 60)
}

/// Title, and what stands above the list.
fn top(app: &App, list: &CutList, rows: &Rows, width: usize) -> Vec<Line<'static>> {
    let at = format!("{} of {}", app.line() + 1, rows.len());
    let (title, words) = match rows {
        Rows::Cuts(all) => {
            let blanks: u32 = all.iter().map(|c| c.count).sum();
            (
                format!("cut list {at}: {blanks} blanks; ←→ what to buy, resin, parts; Enter: how"),
                cut_list::buy_words(&app.design, &to_buy::of(&app.design, list)).into_iter().take(1).collect(),
            )
        }
        Rows::Stock(_) => (format!("what to buy {at}; ←→ cut list, resin, parts; Enter: more"), Vec::new()),
        Rows::Resin(_) => {
            (format!("resin by batch {at}, g of one; ←→ cut list, what to buy, parts; Enter: cautions"), Vec::new())
        }
        Rows::Parts(_) => (format!("a sheet for each part, {at}: Enter; ←→ cut list, what to buy, resin"), Vec::new()),
    };
    let mut out: Vec<Line> = flow(&[title], width).into_iter().map(|l| l.style(app.theme.title())).collect();
    out.extend(words.into_iter().flat_map(|w: String| flow(&[w], width)));
    out
}

/// What stands below the list, as far as there is room.
fn below(app: &App, list: &CutList, rows: &Rows) -> Vec<String> {
    let cautions = |of: &[&str]| of.iter().map(|c| (*c).to_owned()).collect::<Vec<_>>();
    match rows {
        Rows::Cuts(_) => list.remarks.iter().cloned().chain([HOW.to_owned()]).chain(cautions(&CUTTING)).collect(),
        Rows::Stock(all) => cut_list::buy_words(&app.design, all)
            .into_iter()
            .chain([HOW.to_owned()])
            .chain(cautions(&CUTTING))
            .collect(),
        Rows::Resin(all) => mixing::words(&app.design, all).into_iter().chain(cautions(&WET)).collect(),
        Rows::Parts(_) => cautions(&CUTTING).into_iter().chain(cautions(&WET)).collect(),
    }
}

/// The list, under the words.
pub fn list(app: &App, area: Rect) -> Rect {
    let list = list_of(app);
    let rows = rows(app, &list);
    let used = top(app, &list, &rows, usize::from(area.width)).len() as u16;
    let used = used.min(area.height.saturating_sub(4));
    let needed = u16::try_from(rows.len() + 1).unwrap_or(u16::MAX);
    Rect { y: area.y + used, height: needed.min(area.height - used), ..area }
}

/// The head of the list and its lines.
fn table(app: &App, rows: &Rows, width: usize) -> (String, Vec<Line<'static>>) {
    let d = &app.design;
    let plain = |text: String| Line::raw(fit(&text, width));
    match rows {
        Rows::Cuts(all) => {
            let name = name_width(width, cut_list::BEHIND);
            (cut_list::columns(name), all.iter().map(|c| plain(cut_list::row(d, c, name))).collect())
        }
        Rows::Stock(all) => {
            let line = |m: &Material| {
                let line = plain(cut_list::buy_row(d, m));
                if m.too_large > 0 { line.style(app.theme.broken()) } else { line }
            };
            (cut_list::BUY_COLUMNS.to_owned(), all.iter().map(line).collect())
        }
        Rows::Resin(all) => (mixing::COLUMNS.to_owned(), all.iter().map(|b| plain(mixing::row(d, b))).collect()),
        Rows::Parts(all) => {
            let name = name_width(width, report::part_sheets::BEHIND);
            let line = |s: &PartSheet| {
                let line = plain(report::part_sheets::row(s, name));
                let over = s.row.stop_kg.is_some_and(|stop| s.row.expected_kg > stop);
                if over { line.style(app.theme.broken()) } else { line }
            };
            (report::part_sheets::columns(name), all.iter().map(line).collect())
        }
    }
}

/// Draw the sheet.
pub fn draw(app: &App, frame: &mut Frame, area: Rect) {
    let width = usize::from(area.width);
    let cut = list_of(app);
    let rows = rows(app, &cut);
    let list = list(app, area);
    put(app, frame, Rect { height: list.y - area.y, ..area }, top(app, &cut, &rows, width));
    let (head, lines) = table(app, &rows, width);
    put_rows(app, frame, list, Line::raw(fit(&head, width)), lines, app.line());
    let (from, bottom) = (list.y + list.height, area.y + area.height);
    let room = usize::from(bottom.saturating_sub(from));
    if room < 2 {
        return;
    }
    // Words stand whole or not at all, and what is left out is told.
    let (mut sheet, mut all) = (vec![Line::raw("")], true);
    for words in below(app, &cut, &rows) {
        let lines = flow(&[words], width);
        all = all && sheet.len() + lines.len() < room;
        if all {
            sheet.extend(lines);
        }
    }
    if !all {
        sheet.truncate(room - 1);
        sheet.push(Line::styled("more of the sheet: Enter", app.theme.title()));
    }
    put(app, frame, Rect { y: from, height: bottom - from, ..area }, sheet);
}

/// Title and lines of what is chosen.
pub fn working(app: &App) -> Option<(String, Vec<String>)> {
    let list = list_of(app);
    let rows = rows(app, &list);
    let at = app.line().min(rows.len().checked_sub(1)?);
    let (title, mut out) = match &rows {
        Rows::Cuts(all) => all.get(at).map(|c| (c.name.clone(), of_cut(app, c)))?,
        Rows::Stock(all) => all.get(at).map(|m| {
            let words = vec![cut_list::BUY_COLUMNS.to_owned(), cut_list::buy_row(&app.design, m), bought(m)];
            (cut_list::material(&app.design, m.stuff, m.thickness_m), words)
        })?,
        Rows::Resin(all) => all.get(at).map(|b| (b.name.clone(), of_batch(app, b)))?,
        Rows::Parts(all) => {
            let s = all.get(at)?;
            let name = name_width(usize::from(app.size.0).saturating_sub(2).min(OVERLAY), cut_list::BEHIND);
            let mut lines = report::part_sheets::lines(&app.design, s, name);
            lines.push(String::new());
            lines.extend(report::part_sheets::cautions(s).into_iter().map(str::to_owned));
            return Some((s.row.piece.words(), lines));
        }
    };
    out.push(String::new());
    out.extend(below(app, &list, &rows));
    Some((title, out))
}

fn bought(m: &Material) -> String {
    format!(
        "bought {:.2} m2, in the wing {:.2} m2 with its laps; waste is 1 less the one over the other",
        m.bought_m2, m.used_m2
    )
}

/// A blank in words.
fn of_cut(app: &App, c: &Cut) -> Vec<String> {
    let mm = |m: f64| format!("{:.0} mm", 1e3 * m);
    let taper = c.tapers_to_m().map_or_else(String::new, |m| format!(", tapering to {} at its narrow end", mm(m)));
    let mut out = vec![
        format!("part      {}", c.part.words()),
        format!("material  {}", cut_list::material(&app.design, c.stuff, c.thickness_m)),
        format!("cut       {} of {} x {}{taper}, trim included", c.count, mm(c.blank.length_m), mm(c.blank.width_m)),
    ];
    if matches!(c.stuff, cuts::Stuff::Cloth(_)) {
        let (across, along) = outline::turned_m(c.blank.length_m, c.blank.width_m, c.angle_rad);
        out.push(format!(
            "angle     {:.0} degrees from its length to the roll: takes {} across and {} along it",
            c.angle_rad.to_degrees(),
            mm(across),
            mm(along)
        ));
    }
    let resin = if c.resin_kg > 0.0 { format!(" and {:.0} g of resin in it", 1e3 * c.resin_kg) } else { String::new() };
    out.push(format!("in wing   {:.3} m2, {:.0} g dry{resin}, as in the parts list", c.net_m2, 1e3 * c.net_kg));
    if c.lap[0] > 0.0 {
        out.push(format!("laps on the next construction {:.3} m2, counted under splices", c.lap[0]));
    }
    if c.join[0] > 0.0 {
        out.push(format!(
            "laps between lengths {:.3} m2, {:.0} g dry, counted as ply laps",
            c.join[0],
            1e3 * c.join[1]
        ));
    }
    out
}

/// A lay-up in words.
fn of_batch(app: &App, b: &Batch) -> Vec<String> {
    let g = |kg: f64| format!("{:.0} g", 1e3 * kg);
    let mut out = vec![format!("{} alike; of each:", b.times)];
    if !b.glue {
        out.push(format!("dry fibre {} in {:.2} m2 of plies, laps included", g(b.fibre_kg), b.ply_m2));
    }
    out.push(format!(
        "stays in it {}, fills the core {}; mixed with loss {}",
        g(b.stays_kg),
        g(b.filling_kg),
        g(b.mixed_kg)
    ));
    out.push(mixing::pots(&app.design, b));
    out
}
