//! Workshop: the proof load by bags, bay by bay; Enter tells the rest of the sheet with its cautions.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::Line;

use crate::physics::workshop::proof_load::{self, Plan};
use crate::report::workshop;
use crate::screen::app::{App, Proving};
use crate::screen::page::{fit, flow, proving, put, put_list};
use crate::screen::wrap;

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
    if app.proving != Proving::Bags {
        return proving::working(app);
    }
    Some(("proof load by bags".to_owned(), workshop::lines(&app.design, &app.evaluation, &plan(app)?)))
}

/// The case, the plan in words, what the columns are.
fn words(app: &App, plan: &Plan, width: usize) -> Vec<Line<'static>> {
    let n = proof_load::cases(&app.evaluation.loads).len();
    let at = app.proof.min(n.saturating_sub(1)) + 1;
    let title = format!("proof load by bags, case {at} of {n}; NO APPROVAL TO FLY; Enter: cautions");
    let mut top: Vec<Line> = flow(&[title], width).into_iter().map(|l| l.style(app.theme.title())).collect();
    for line in workshop::short(&app.design, plan) {
        top.extend(flow(&[format!("✗ {line}")], width).into_iter().map(|l| l.style(app.theme.broken())));
    }
    let corrected = workshop::corrected(&app.design, plan);
    for line in workshop::head(&app.evaluation, plan)
        .into_iter()
        .chain([workshop::tip_words(&app.design, plan)])
        .chain(corrected)
    {
        top.extend(flow(&[line], width));
    }
    top.push(Line::styled(fit(workshop::COLUMNS, width), app.theme.dim()));
    top.push(Line::styled(workshop::table(plan).0, app.theme.title()));
    top
}

/// How many lines can be chosen.
pub fn lines(app: &App) -> usize {
    if app.proving == Proving::Bags { app.evaluation.layout.bays.len() } else { proving::lines(app) }
}

/// The table of bays, under the words.
pub fn list(app: &App, area: Rect) -> Option<Rect> {
    if app.proving != Proving::Bags {
        return Some(area);
    }
    let plan = plan(app)?;
    let used = words(app, &plan, usize::from(area.width)).len() as u16;
    let used = used.min(area.height.saturating_sub(4));
    let rows = plan.stations.len() as u16 + 1;
    Some(Rect { y: area.y + used, height: rows.min(area.height - used), ..area })
}

/// Draw the page.
pub fn draw(app: &App, frame: &mut Frame, area: Rect) {
    if app.proving != Proving::Bags {
        return proving::draw(app, frame, area);
    }
    let width = usize::from(area.width);
    let (Some(plan), Some(list)) = (plan(app), list(app, area)) else {
        put(
            app,
            frame,
            area,
            flow(
                &["no flight case is on: there is nothing to prove; w shows the scales, t a section to be broken, c the cut list"
                    .to_owned()],
                width,
            ),
        );
        return;
    };
    put(app, frame, Rect { height: list.y - area.y, ..area }, words(app, &plan, width));
    let rows = workshop::table(&plan).1;
    put_list(
        app,
        frame,
        list,
        Line::raw(workshop::tip_rows(&app.design, &plan).pop().unwrap_or_default()),
        rows.into_iter().map(Line::raw).collect(),
        app.line(),
    );
    let bottom = area.y + area.height;
    let below = list.y + list.height;
    let room = usize::from(bottom - below);
    let mut sheet: Vec<Line> = vec![Line::raw(""), Line::raw("gives first, of what the bags bring on:")];
    sheet.extend(
        workshop::first(&app.design, &plan).iter().flat_map(|l| wrap::line(&Line::raw(format!("  {l}")), width)),
    );
    sheet.push(Line::raw(""));
    // A caution stands whole or not at all, and what is left out is told.
    let more = Line::styled("more of the sheet: Enter", app.theme.title());
    let mut all = true;
    for caution in workshop::cautions() {
        let lines = flow(&[caution], width);
        all = all && sheet.len() + lines.len() < room;
        if all {
            sheet.extend(lines);
        }
    }
    if !all && room > 0 {
        sheet.truncate(room - 1);
        sheet.push(more);
    }
    put(app, frame, Rect { y: below, height: bottom - below, ..area }, sheet);
}
