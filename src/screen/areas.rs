//! Where everything stands on the screen: one pure function, used by drawing and by the mouse alike.

use ratatui::layout::Rect;

use crate::physics::design::Strip;
use crate::scenario::dials::Group;
use crate::screen::app::App;

/// The least size the screen works at.
pub const LEAST: (u16, u16) = (80, 24);
/// Columns of the strip labels on the skin map.
const LABELS: u16 = 9;

/// The parts of the screen.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Areas {
    /// The window is smaller than [`LEAST`].
    pub too_small: bool,
    /// Room for boxes around the parts.
    pub boxed: bool,
    pub head: Rect,
    pub body: Rect,
    pub strip: Rect,
    pub hint: Rect,
    /// Parts of the Wing page, boxes included when `boxed`.
    pub dials_box: Rect,
    pub dials: Rect,
    pub map_box: Rect,
    pub plan: Rect,
    pub map: MapArea,
    pub side_box: Rect,
    pub side: Rect,
    /// The chosen dial beside the trade plot, when there is room for both.
    pub about: Rect,
    pub rows: Vec<DialRow>,
}

/// The skin map: a label column, the left half tip to root, a rule, the right half root to tip.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct MapArea {
    pub area: Rect,
    /// Columns of each half.
    pub half: u16,
    pub left: u16,
    pub right: u16,
    /// Strip and row.
    pub strips: Vec<(Strip, u16)>,
}

impl MapArea {
    /// Fraction of the half span at the middle of a column, and whether on the right half.
    pub fn eta_at(&self, column: u16) -> Option<(bool, f64)> {
        if self.half == 0 {
            return None;
        }
        let at = |cell: u16| (f64::from(cell) + 0.5) / f64::from(self.half);
        if (self.left..self.left + self.half).contains(&column) {
            Some((false, at(self.half - 1 - (column - self.left))))
        } else if (self.right..self.right + self.half).contains(&column) {
            Some((true, at(column - self.right)))
        } else {
            None
        }
    }

    /// The same, following a column wherever it is: clamped to the half it was taken hold of in.
    pub fn eta_clamped(&self, column: u16, right: bool) -> Option<f64> {
        if self.half == 0 {
            return None;
        }
        let from = if right { self.right } else { self.left };
        let column = column.clamp(from, from + self.half - 1);
        self.eta_at(column).map(|(_, eta)| eta)
    }

    /// The column a fraction of the half span stands in.
    pub fn column_of(&self, eta: f64, right: bool) -> u16 {
        let last = self.half.saturating_sub(1);
        let cell = ((eta.clamp(0.0, 1.0) * f64::from(self.half)).floor() as u16).min(last);
        if right { self.right + cell } else { self.left + last - cell }
    }

    /// The strip in a row.
    pub fn strip_at(&self, row: u16) -> Option<Strip> {
        self.strips.iter().find(|(_, y)| *y == row).map(|(s, _)| *s)
    }
}

/// A row of the dial list.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DialRow {
    Heading {
        group: Group,
        folded: bool,
        dials: usize,
        /// The first dial of the group: what a click on the heading chooses.
        first: usize,
    },
    Dial(usize),
    /// What one step of the chosen dial does.
    Step(usize),
}

/// Everything in its place.
pub fn areas(size: (u16, u16), app: &App) -> Areas {
    let (w, h) = size;
    if w < LEAST.0 || h < LEAST.1 {
        return Areas { too_small: true, ..Areas::default() };
    }
    let boxed = w >= 100 && h >= 30;
    let strip_rows = 2;
    let body_rows = h - 2 - strip_rows - 1;
    let mut a = Areas {
        boxed,
        head: Rect::new(0, 0, w, 1),
        body: Rect::new(0, 1, w, body_rows),
        strip: Rect::new(0, 2 + body_rows, w, strip_rows),
        hint: Rect::new(0, h - 1, w, 1),
        ..Areas::default()
    };
    if boxed {
        wide(&mut a, app);
    } else {
        narrow(&mut a, app);
    }
    a.rows = dial_rows(app, a.dials.height);
    a
}

/// Strips the wing has, in the order of the map.
pub fn strips(app: &App) -> Vec<Strip> {
    Strip::ALL
        .into_iter()
        .filter(|s| !app.design.runs(*s).is_empty() || app.evaluation.layout.zones.iter().any(|z| z.strip == *s))
        .collect()
}

/// At 80x24: the map across the whole width, the dials below it, the trade plot or the chosen dial beside them.
fn narrow(a: &mut Areas, app: &App) {
    let b = a.body;
    let map_rows = (strips(app).len() as u16 + 2).min(b.height.saturating_sub(6)).max(3);
    a.map_box = Rect::new(b.x, b.y, b.width, map_rows);
    a.map = map_area(a.map_box, app);
    let below = Rect::new(b.x, b.y + map_rows + 1, b.width, b.height.saturating_sub(map_rows + 1));
    let left = (b.width / 2).max(40);
    a.dials_box = Rect { width: left, ..below };
    a.dials = a.dials_box;
    a.side_box = Rect::new(below.x + left + 1, below.y, b.width.saturating_sub(left + 1), below.height);
    if app.trade {
        a.side = a.side_box;
    } else {
        a.about = a.side_box;
    }
}

/// From 100x30: boxes, dials on the left over the whole height, map and trade plot on the right.
fn wide(a: &mut Areas, app: &App) {
    let b = a.body;
    let left = (b.width / 3).clamp(42, 60);
    a.dials_box = Rect::new(b.x, b.y, left, b.height);
    a.dials = inside(a.dials_box);
    let right = Rect::new(b.x + left, b.y, b.width - left, b.height);
    let plan_rows = if b.height >= 33 { (right.width / 16).clamp(4, b.height / 5) } else { 0 };
    let map_rows = strips(app).len() as u16 + 2;
    a.map_box = Rect { height: (plan_rows + map_rows + 2).min(right.height), ..right };
    let inner = inside(a.map_box);
    a.plan = Rect { height: plan_rows, ..inner };
    let under = Rect::new(inner.x, inner.y + plan_rows, inner.width, inner.height.saturating_sub(plan_rows));
    a.map = map_area(under, app);
    a.side_box =
        Rect::new(right.x, right.y + a.map_box.height, right.width, right.height.saturating_sub(a.map_box.height));
    let inner = inside(a.side_box);
    let about = if inner.height >= 14 { 6 } else { 0 };
    a.about = Rect { height: about, ..inner };
    a.side = Rect::new(inner.x, inner.y + about, inner.width, inner.height.saturating_sub(about));
}

fn inside(r: Rect) -> Rect {
    if r.width < 2 || r.height < 2 {
        return Rect { width: 0, height: 0, ..r };
    }
    Rect::new(r.x + 1, r.y + 1, r.width - 2, r.height - 2)
}

/// Two lines of words above, one row for each strip, one line of words below.
fn map_area(area: Rect, app: &App) -> MapArea {
    let half = area.width.saturating_sub(LABELS + 1) / 2;
    let left = area.x + LABELS;
    let rows = area.height.saturating_sub(2);
    let strips = strips(app).into_iter().zip(area.y + 1..area.y + 1 + rows).collect();
    MapArea { area, half, left, right: left + half + 1, strips }
}

/// The dial list: groups folded but for the chosen one when the rows do not suffice; scrolled to the chosen dial.
fn dial_rows(app: &App, height: u16) -> Vec<DialRow> {
    let height = usize::from(height);
    if height == 0 || app.dials.is_empty() {
        return Vec::new();
    }
    let whole = rows_of(app, false);
    let rows = if whole.len() <= height { whole } else { rows_of(app, true) };
    let chosen = rows.iter().position(|r| *r == DialRow::Dial(app.chosen)).unwrap_or(0);
    let most = rows.len().saturating_sub(height);
    let from = if rows.len() <= height { 0 } else { (chosen + 2).saturating_sub(height * 2 / 3).min(most) };
    rows.into_iter().skip(from).take(height).collect()
}

fn rows_of(app: &App, fold: bool) -> Vec<DialRow> {
    let open = app.dial().map(|d| d.group);
    let mut groups: Vec<Group> = Vec::new();
    for d in &app.dials {
        if !groups.contains(&d.group) {
            groups.push(d.group);
        }
    }
    let mut rows = Vec::new();
    for group in groups {
        let members: Vec<usize> = (0..app.dials.len()).filter(|i| app.dials[*i].group == group).collect();
        let folded = fold && open != Some(group);
        let first = members.first().copied().unwrap_or(0);
        rows.push(DialRow::Heading { group, folded, dials: members.len(), first });
        if folded {
            continue;
        }
        for i in members {
            rows.push(DialRow::Dial(i));
            if i == app.chosen {
                rows.push(DialRow::Step(i));
            }
        }
    }
    rows
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cell_says_its_own_column_again() {
        for half in 1..200_u16 {
            let m = MapArea { half, left: 9, right: 10 + half, ..MapArea::default() };
            for column in (9..9 + half).chain(10 + half..10 + 2 * half) {
                let (right, eta) = m.eta_at(column).unwrap();
                assert!((0.0..1.0).contains(&eta));
                assert_eq!(m.column_of(eta, right), column, "half {half}");
            }
        }
    }

    #[test]
    fn outside_the_halves_there_is_no_span() {
        let m = MapArea { half: 10, left: 9, right: 20, ..MapArea::default() };
        assert_eq!(m.eta_at(8), None);
        assert_eq!(m.eta_at(19), None);
        assert_eq!(m.eta_at(30), None);
        assert_eq!(m.eta_clamped(79, true), Some(0.95));
        assert_eq!(m.eta_clamped(0, false), Some(0.95));
        assert_eq!(MapArea::default().eta_clamped(3, true), None);
    }
}
