//! The sheets about proof beside the bags: torsion test, a section to be broken, what was seen. Each is one sheet to scroll through;
//! Enter tells where its numbers come from.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::Line;

use crate::physics::workshop::seen::learn;
use crate::physics::workshop::test_section::{self, Ask};
use crate::physics::workshop::torsion_test;
use crate::report;
use crate::screen::app::{App, Page, Proving, Sheet};
use crate::screen::page::{fit, put_list};
use crate::screen::wrap;

/// Go on to the next sheet, its first line chosen.
pub fn turn(app: &mut App) {
    app.sheet = Sheet::Proof;
    app.proving = app.proving.next();
    app.line[Page::Workshop as usize] = 0;
}

fn torsion(app: &App) -> Result<torsion_test::Plan, &'static str> {
    torsion_test::plan(&app.design, &app.evaluation, &[], report::torsion_test::BETWEEN_M)
        .map_err(torsion_test::NoPlan::words)
}

fn section(app: &App) -> Result<test_section::Plan, &'static str> {
    let bay = app.proving_bay.min(app.evaluation.layout.bays.len()).checked_sub(1);
    test_section::plan(&app.design, &app.evaluation, Ask { bay, ..Ask::default() })
        .ok_or("no case that is on loads the spar there in a mode that is shown")
}

/// Title of a sheet.
const fn title(which: Proving) -> &'static str {
    match which {
        Proving::Bags => "proof load by bags",
        Proving::Torsion => "torsion test; NO APPROVAL TO FLY; Enter: where it comes from",
        Proving::Section => "a section to be broken, ←→ its bay; Enter: where it comes from",
        Proving::Seen => "what was seen in proof loads; Enter: what follows",
    }
}

/// The lines of the sheet as they are written.
fn written(app: &App) -> Vec<String> {
    let (d, e, lessons) = (&app.design, &app.evaluation, learn(&app.design.proofs));
    let words = |why: &str| vec![why.to_owned()];
    match app.proving {
        Proving::Bags => Vec::new(),
        Proving::Torsion => torsion(app).map_or_else(words, |p| report::torsion_test::lines(d, e, &p, &lessons)),
        Proving::Section => section(app).map_or_else(words, |p| report::test_section::lines(e, &p, &lessons)),
        Proving::Seen => report::seen::lines(d, e),
    }
}

/// The same broken to the width of the screen; what warns stands out.
fn rows(app: &App, width: usize) -> Vec<Line<'static>> {
    let of = |text: String| {
        let loud = ["DO NOT LOAD", "SHORT as seen", "it is likely to break BEFORE"].iter().any(|w| text.starts_with(w));
        let line = if loud { Line::styled(format!("✗ {text}"), app.theme.broken()) } else { Line::raw(text) };
        if line.width() == 0 { vec![line] } else { wrap::line(&line, width) }
    };
    written(app).into_iter().flat_map(of).collect()
}

/// How many lines can be chosen.
pub fn lines(app: &App) -> usize {
    rows(app, usize::from(app.size.0)).len()
}

/// Title and lines of where the numbers come from.
pub fn working(app: &App) -> Option<(String, Vec<String>)> {
    let e = &app.evaluation;
    let lines = match app.proving {
        Proving::Bags => return None,
        Proving::Torsion => report::torsion_test::working(e),
        Proving::Section => {
            section(app).map_or_else(|why| vec![why.to_owned()], |p| report::test_section::working(e, &p))
        }
        Proving::Seen => report::seen::working(),
    };
    let name = match app.proving {
        Proving::Torsion => "torsion test",
        Proving::Section => "a section to be broken",
        Proving::Bags | Proving::Seen => "what was seen",
    };
    Some((name.to_owned(), lines))
}

/// Draw the sheet.
pub fn draw(app: &App, frame: &mut Frame, area: Rect) {
    let width = usize::from(area.width);
    let head = Line::raw(fit(title(app.proving), width));
    put_list(app, frame, area, head, rows(app, width), app.line());
}
