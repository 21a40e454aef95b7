//! Workshop: the proof load by bags, bay by bay; Enter tells the rest of the sheet with its cautions.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::Line;

use crate::physics::workshop::proof_load::{self, Plan};
use crate::report::workshop;
use crate::screen::app::App;
use crate::screen::page::{flow, put, put_list};

/// The case chosen, as an index into the loads.
fn load(app: &App) -> Option<usize> {
    let cases = proof_load::cases(&app.evaluation.loads);
    cases.get(app.proof.min(cases.len().saturating_sub(1))).copied()
}

/// The plan shown.
pub fn plan(app: &App) -> Option<Plan> {
    proof_load::plan(&app.design, &app.evaluation, load(app)?, workshop::BAG_KG)
}

/// Title and lines of the rest of the sheet.
pub fn working(app: &App) -> Option<(String, Vec<String>)> {
    Some(("proof load by bags".to_owned(), workshop::lines(&app.evaluation, &plan(app)?)))
}

/// Draw the page.
pub fn draw(app: &App, frame: &mut Frame, area: Rect) {
    let width = usize::from(area.width);
    let Some(plan) = plan(app) else {
        put(app, frame, area, flow(&["no flight case is on: there is nothing to prove".to_owned()], width));
        return;
    };
    let n = proof_load::cases(&app.evaluation.loads).len();
    let at = app.proof.min(n.saturating_sub(1)) + 1;
    let title =
        format!("proof load by bags, case {at} of {n}; NO APPROVAL TO FLY: Enter tells what to watch and whom to ask");
    let mut top: Vec<Line> = flow(&[title], width).into_iter().map(|l| l.style(app.theme.title())).collect();
    for line in workshop::short(&plan) {
        top.extend(flow(&[format!("✗ {line}")], width).into_iter().map(|l| l.style(app.theme.broken())));
    }
    for line in workshop::head(&app.evaluation, &plan).into_iter().chain([workshop::tips(&plan)]) {
        top.extend(flow(&[line], width));
    }
    let used = (top.len() as u16).min(area.height.saturating_sub(4));
    put(app, frame, Rect { height: used, ..area }, top);
    let (head, rows) = workshop::table(&plan);
    let rest = Rect { y: area.y + used, height: area.height - used, ..area };
    let table = (rows.len() as u16 + 2).min(rest.height);
    let head = if width >= 125 { format!("{head}   mm from root and behind nose, kg, bags in all") } else { head };
    let rows = rows.into_iter().map(Line::raw).collect();
    put_list(app, frame, Rect { height: table, ..rest }, Line::raw(head), rows, app.line());
    let below = Rect { y: rest.y + table, height: rest.height - table, ..rest };
    let mut sheet: Vec<Line> = Vec::new();
    for line in workshop::first(&plan) {
        sheet.extend(flow(&[format!("gives first: {line}")], width));
    }
    sheet.push(Line::raw(""));
    for line in workshop::cautions() {
        sheet.extend(flow(&[line], width));
    }
    put(app, frame, below, sheet);
}
