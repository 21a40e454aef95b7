//! Weight: the parts list as a tree by heading, with bars, share, drawn and expected mass and spread.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};

use crate::report::parts::{self, Row, maturity_word};
use crate::screen::app::App;
use crate::screen::page::{bar, fit, flow, put, put_list};

/// z of the tenth and ninetieth percentile of a normal distribution.
const Z90: f64 = 1.2816;

/// Headings, heaviest first, each with its parts summed over the bays; heaviest first.
pub fn rows(app: &App) -> Vec<Row> {
    parts::rows(&app.evaluation)
}

/// The list under the sums.
pub fn list(app: &App, area: Rect) -> Rect {
    let used = sums(app, usize::from(area.width)).len() as u16 + 1;
    Rect { y: area.y + used, height: area.height.saturating_sub(used), ..area }
}

/// The weight of the whole in words.
fn sums(app: &App, width: usize) -> Vec<Line<'static>> {
    let w = &app.evaluation.weight;
    let target = crate::report::text::against_target(&app.design, &app.evaluation);
    let mut top = flow(
        &[
            format!("as drawn {:.2} kg", w.drawn_kg),
            format!("expected {:.2} (P10 {:.2}, P90 {:.2})", w.expected_kg, w.p10_kg, w.p90_kg),
            format!("budget {:.2} kg", w.budget_kg),
            target,
            format!("centre of gravity {:.3} m aft of the root leading edge", w.cg_x_m),
            format!("roll inertia {:.0} kg m2 as drawn", w.roll_inertia_kg_m2),
        ],
        width,
    );
    if let Some(first) = top.first_mut() {
        *first = std::mem::take(first).style(app.theme.title());
    }
    top
}

/// Draw the page.
pub fn draw(app: &App, frame: &mut Frame, area: Rect) {
    let list = list(app, area);
    put(app, frame, Rect { height: (list.y - area.y).min(area.height), ..area }, sums(app, usize::from(area.width)));
    let all = rows(app);
    let most = all.iter().filter(|r| r.top).map(|r| r.drawn_kg).fold(0.0, f64::max).max(1e-9);
    let width = usize::from(area.width);
    let name = width.saturating_sub(54).clamp(24, 40);
    let bar_width = width.saturating_sub(name + 49);
    let head = Line::raw(format!(
        "{} {:>8} {:>9} {:>15} {:>6}  {}",
        fit("part, both halves", name),
        "drawn kg",
        "expected",
        "P10-P90",
        "share",
        "maturity"
    ));
    let lines = all.iter().map(|r| line_of(app, r, name, bar_width, most)).collect();
    put_list(app, frame, list, head, lines, app.line());
}

fn line_of(app: &App, r: &Row, name: usize, bar_width: usize, most: f64) -> Line<'static> {
    let t = app.theme;
    let label = if r.top { r.name.clone() } else { format!("  {}", r.name) };
    let share = 100.0 * r.drawn_kg / app.evaluation.weight.drawn_kg.max(1e-9);
    let spread = format!("{:.2}-{:.2}", (r.expected_kg - Z90 * r.sd_kg).max(0.0), r.expected_kg + Z90 * r.sd_kg);
    let words = r.maturity.map_or("", maturity_word);
    let text =
        format!("{} {:>8.3} {:>9.3} {spread:>15} {share:>4.1} %  ", fit(&label, name), r.drawn_kg, r.expected_kg);
    let style = if r.top { t.title() } else { t.text() };
    let mut spans = vec![Span::styled(text, style)];
    if bar_width > 10 {
        spans.push(Span::styled(fit(words, 9), t.dim()));
        spans.push(Span::styled(bar(r.drawn_kg / most, bar_width - 9), t.shade()));
    } else {
        spans.push(Span::styled(words.to_owned(), t.dim()));
    }
    Line::from(spans)
}
