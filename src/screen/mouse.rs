//! The mouse: what is drawn is what is hit, through the same `areas`. Every deed here has a key.

use crossterm::event::{MouseButton, MouseEvent, MouseEventKind};

use crate::screen::action::Effects;
use crate::screen::app::{App, Drag, Focus, Held, Overlay, Page, Turned};
use crate::screen::areas::{Areas, DialRow, areas};
use crate::screen::boundary::{boundaries, value_at};
use crate::screen::grip;
use crate::screen::update::{changed, choose, drag_to, moved, push_undo, to_page, turn_dial};
use crate::screen::{head, overlay, page};

/// Columns beside a boundary that still take hold of it.
const REACH: u16 = 1;

/// Apply a mouse event.
pub(super) fn on_mouse(app: &mut App, event: MouseEvent) -> Effects {
    match event.kind {
        MouseEventKind::Down(MouseButton::Left) => {
            let mut effects = let_go(app);
            effects.extend(down(app, event.column, event.row));
            effects
        }
        MouseEventKind::Drag(MouseButton::Left) => {
            let Some(drag) = &app.drag else { return Vec::new() };
            let value = match drag.on {
                Held::Map { right } => areas(app.size, app)
                    .map
                    .eta_clamped(event.column, right)
                    .and_then(|eta| app.dial_of(&drag.key).map(|d| value_at(d, eta, app))),
                Held::Section => grip::value_at(app, &drag.key, event.column),
            };
            value.map_or_else(Vec::new, |v| drag_to(app, v))
        }
        MouseEventKind::Up(_) => let_go(app),
        MouseEventKind::ScrollUp => wheel(app, event, -1),
        MouseEventKind::ScrollDown => wheel(app, event, 1),
        _ => Vec::new(),
    }
}

fn down(app: &mut App, column: u16, row: u16) -> Effects {
    if app.overlay.is_some() {
        if matches!(app.overlay, Some(Overlay::Help { .. } | Overlay::Working { .. })) {
            app.overlay = None;
        }
        return Vec::new();
    }
    app.message = None;
    let a = areas(app.size, app);
    if row == a.head.y {
        return head::page_at(app, a.head, column).map_or_else(Vec::new, |page| to_page(app, page));
    }
    if app.page == Page::Section
        && let Some(line) = grip::line_at(app, column, row)
        && let Some(s) = page::section::station(app)
    {
        hold(app, grip::dial_key(line, s.eta).to_owned(), Held::Section);
    }
    if app.page != Page::Wing {
        if let Some(line) = page::line_at(app, a.body, column, row) {
            app.line[app.page as usize] = line;
        }
        return Vec::new();
    }
    if let Some(strip) = a.map.strip_at(row)
        && let Some((right, eta)) = a.map.eta_at(column)
    {
        app.at = (strip, bay_at(app, eta));
        if take_hold(app, &a, column, right) {
            return Vec::new();
        }
        app.focus = Focus::Map;
        return Vec::new();
    }
    if let Some(which) = dial_at(&a, column, row) {
        choose(app, which);
    }
    Vec::new()
}

/// Take hold of the boundary at a column of the strip under the cursor.
fn take_hold(app: &mut App, a: &Areas, column: u16, right: bool) -> bool {
    let strip = app.at.0;
    let near = |eta: f64| a.map.column_of(eta, right).abs_diff(column);
    let found = boundaries(app)
        .into_iter()
        .filter(|b| b.strips.contains(&strip) && near(b.eta) <= REACH)
        .min_by_key(|b| near(b.eta));
    let Some(standing) = found else { return false };
    choose(app, standing.dial);
    let Some(key) = app.dial().map(|d| d.key.clone()) else { return false };
    hold(app, key, Held::Map { right });
    true
}

/// Remember how things stand as a dial is taken in the hand.
fn hold(app: &mut App, key: String, on: Held) {
    let e = &app.evaluation;
    app.drag = Some(Drag {
        key,
        before: app.design.clone(),
        weight_kg: e.weight.budget_kg,
        index: e.durability.index,
        least_rf: e.strength.least.and_then(|i| e.margins.get(i)).map(|m| m.rf),
        on,
    });
}

fn bay_at(app: &App, eta: f64) -> usize {
    let bays = &app.evaluation.layout.bays;
    bays.iter().position(|b| eta < b.outer.eta).unwrap_or(bays.len().saturating_sub(1))
}

fn dial_at(a: &Areas, column: u16, row: u16) -> Option<usize> {
    let d = a.dials;
    if !(d.x..d.x + d.width).contains(&column) || !(d.y..d.y + d.height).contains(&row) {
        return None;
    }
    match a.rows.get(usize::from(row - d.y))? {
        DialRow::Dial(i) | DialRow::Step(i) => Some(*i),
        DialRow::Heading { first, .. } => Some(*first),
    }
}

/// The wheel turns only the chosen dial, and only over it; elsewhere it scrolls.
fn wheel(app: &mut App, event: MouseEvent, by: i16) -> Effects {
    if let Some(Overlay::Help { scroll } | Overlay::Working { scroll, .. }) = &mut app.overlay {
        *scroll = scroll.saturating_add_signed(by * 3);
        overlay::keep_in_sight(app);
        return Vec::new();
    }
    if app.overlay.is_some() || app.drag.is_some() {
        return Vec::new();
    }
    if app.page != Page::Wing {
        let n = page::lines(app);
        app.line[app.page as usize] = moved(app.line(), isize::from(by), n);
        return Vec::new();
    }
    let a = areas(app.size, app);
    match dial_at(&a, event.column, event.row) {
        Some(which) if which == app.chosen => turn_dial(app, which, -i32::from(by), false),
        Some(_) => {
            choose(app, app.chosen.saturating_add_signed(isize::from(by)));
            Vec::new()
        }
        None => Vec::new(),
    }
}

/// End a drag where it is: one undo step.
pub(super) fn let_go(app: &mut App) -> Effects {
    let Some(drag) = app.drag.take() else { return Vec::new() };
    if drag.before != app.design {
        push_undo(app, Turned { key: drag.key, before: drag.before, after: app.design.clone() });
    }
    Vec::new()
}

/// End a drag as if it had not been.
pub(super) fn put_back(app: &mut App) -> Effects {
    let Some(drag) = app.drag.take() else { return Vec::new() };
    if drag.before == app.design {
        return Vec::new();
    }
    app.design = drag.before;
    app.message = Some("put back".to_owned());
    changed(app)
}
