//! Durability: what happens on the ground, to what, how often and what it costs; where to hold and where not to touch;
//! what the ranking rests on.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};

use crate::physics::assumptions::LIST;
use crate::physics::design::Strip;
use crate::physics::durability::held::Held;
use crate::physics::durability::index::{self, EventResult, Hands, Least, ZoneDurability};
use crate::report::care;
use crate::screen::app::App;
use crate::screen::areas;
use crate::screen::page::{bar, fit, flow, put, put_list};
use crate::screen::score::place;

/// Events, the costliest in repair hours first.
pub fn rows(app: &App) -> Vec<&EventResult> {
    let mut events: Vec<&EventResult> = app.evaluation.durability.events.iter().collect();
    events.sort_by(|a, b| b.repair_h.total_cmp(&a.repair_h));
    events
}

/// How often, never rounded to nothing.
fn times(per_100: f64) -> String {
    if per_100 > 0.0 && per_100 < 0.1 { format!("{per_100:.2}") } else { format!("{per_100:.1}") }
}

/// Share of an event's hours from soft spots above which they carry the mark.
const FAR_SHARE: f64 = 0.1;

/// Where the parts stand: the list of events, how the wing is treated, the map.
fn parts(app: &App, area: Rect) -> [Rect; 3] {
    let width = usize::from(area.width);
    let used = summary(app, width).len() as u16;
    let rest = Rect { y: area.y + used, height: area.height.saturating_sub(used), ..area };
    let rests = rests_on(app, usize::from(area.width - beside(app, area.width)));
    let low = (hold_map(app).len().max(rests.len()) as u16).min(rest.height / 2);
    let above = rest.height.saturating_sub(low);
    // Where the events leave room, how the wing is treated stands below them; a key tells it anywhere.
    let (all, care) = (rows(app).len() as u16 + 1, treated(app, width).len() as u16);
    let room = if above >= all + care { care } else { 0 };
    let list = Rect { height: above - room, ..rest };
    let below = Rect { y: list.y + list.height, height: room, ..rest };
    [list, below, Rect { y: below.y + room, height: low, ..rest }]
}

/// The list of events.
pub fn list(app: &App, area: Rect) -> Rect {
    parts(app, area)[0]
}

/// Draw the page.
pub fn draw(app: &App, frame: &mut Frame, area: Rect) {
    let top = summary(app, usize::from(area.width));
    let used = top.len() as u16;
    put(app, frame, Rect { height: used.min(area.height), ..area }, top);
    let [list, below, foot] = parts(app, area);
    events(app, frame, list);
    put(app, frame, below, treated(app, usize::from(area.width)));
    let (map, rests) = (hold_map(app), rests_on(app, usize::from(area.width - beside(app, area.width))));
    let half = beside(app, area.width);
    put(app, frame, Rect { width: half, ..foot }, map);
    put(app, frame, Rect { x: foot.x + half, width: area.width - half, ..foot }, rests);
}

/// Columns of the map; what the hours rest on stands beside it.
fn beside(app: &App, width: u16) -> u16 {
    let bays = app.evaluation.layout.bays.len();
    (MAP_HEAD.chars().count().max(9 + bays) as u16 + 2).max(width.min(120) / 2).min(width / 2 + 4)
}

const MAP_HEAD: &str = "█ hold ░ with care ✗ no touch root→tip";

/// How the wing is treated: use, holds, rests, protection.
fn treated(app: &App, width: usize) -> Vec<Line<'static>> {
    let mut lines = vec![Line::styled("how the wing is treated: dials under ground care", app.theme.title())];
    for words in care::lines(&app.design, &app.evaluation) {
        lines.extend(flow(&[words], width));
    }
    lines.push(Line::raw(""));
    lines
}

fn summary(app: &App, width: usize) -> Vec<Line<'static>> {
    let (e, d) = (&app.evaluation, &app.evaluation.durability);
    let (press, ball, held) = (&d.least_press, &d.least_ball, Held::of(&app.design, e));
    let least = |l: &Least, far: fn(&ZoneDurability) -> bool| {
        let mark = if d.zones.get(l.zone).is_some_and(far) { " extrapolated" } else { "" };
        format!("{:.0} N {}{mark} {}", l.value_n, l.kind.word(), place(e, l.zone))
    };
    let mut parts = vec![
        format!("index {:.1} ({:.0}-{:.0}) = 100/(1 + H/25 h)", d.index, d.index_p10, d.index_p90),
        if let (true, (n, k)) = (index::is_calibrated(&app.design.library.learnt), app.design.library.learnt.dents()) {
            format!("own dents within 30 %: {k} of {n}")
        } else {
            format!(
                "UNCALIBRATED: {} of {} measured dents",
                index::dents(&app.design.library.learnt),
                index::DENTS_NEEDED
            )
        },
        format!("per 100 outings: H {:.1} h of repair", d.repair_h),
        format!("{:.1} h of it by 1 mm soft spots, ! beyond the fit", d.soft_h),
        format!("{:.1} outings lost", d.outings_lost),
        format!("{:.2} unseen", d.unseen),
        format!("{:.0} % mended in the field", 100.0 * d.field_repairable_share),
        format!("{:+.2} kg by repairs", d.mass_added_kg),
        format!("least press {}", least(press, |z| z.press_extrapolated)),
        format!("least ball {}", least(ball, |z| z.ball_extrapolated)),
        format!("may be pressed {:.0} %, held {:.0} %", 100.0 * d.press_safe_share, 100.0 * held.share),
    ];
    if app.size.1 >= 30 {
        let edges = crate::report::event::edges(&app.design, e);
        parts.push(format!("edges, ball and blow: {}", crate::report::event::edge_words(&edges).join(", ")));
    }
    flow(&parts, width)
}

fn events(app: &App, frame: &mut Frame, area: Rect) {
    let t = app.theme;
    let width = usize::from(area.width);
    let all = rows(app);
    // Names are never cut: what is left over goes to the worst place, then to the bar.
    let head = "event, per 100 outings";
    let title = all.iter().map(|v| v.title.chars().count()).fold(head.chars().count(), usize::max);
    let at = width.saturating_sub(title + 38).clamp(12, 22);
    let head = Line::raw(format!(
        "{} {:>7} {:>6} {:>6} {:>7} {:>5}  worst at",
        fit(head, title),
        "times",
        "marks",
        "holes",
        "hours",
        "lost"
    ));
    let most = all.first().map_or(1.0, |v| v.repair_h).max(1e-9);
    let bar_width = width.saturating_sub(title + 39 + at);
    let lines = all
        .iter()
        .map(|v| {
            let zone = worst(app, v, at);
            let mark = if v.assumption { "~" } else { " " };
            // Where a good part of the hours stands on dents deeper than the forms were fitted to.
            let far = if v.soft_h > FAR_SHARE * v.repair_h { "!" } else { " " };
            Line::from(vec![
                Span::raw(format!(
                    "{} {:>6}{mark} {:>6.2} {:>6.2} {:>7.2}{far}{:>5.2}  {}",
                    fit(v.title, title),
                    times(v.per_100_outings),
                    v.marks,
                    v.holes,
                    v.repair_h,
                    v.outings_lost,
                    fit(&zone, at)
                )),
                Span::styled(bar(v.repair_h / most, bar_width), t.shade()),
            ])
        })
        .collect();
    put_list(app, frame, area, head, lines, app.line());
}

/// Where an event costs most hours: a zone, or the hold or rest it lands on there; shorter where the column is narrow.
fn worst(app: &App, v: &EventResult, width: usize) -> String {
    let Some(zone) = v.worst_zone else { return String::new() };
    let zone = place(&app.evaluation, zone);
    let whole = v.landed_word().map_or_else(|| zone.clone(), |w| format!("{w}: {zone}"));
    let short = || v.landed_word().map_or_else(|| zone.clone(), |w| format!("{w} {}", zone.replace(" bay", "")));
    if whole.chars().count() <= width { whole } else { short() }
}

/// Where to hold and where not to touch: strip by bay, root to tip.
fn hold_map(app: &App) -> Vec<Line<'static>> {
    let (e, t) = (&app.evaluation, app.theme);
    if e.durability.zones.is_empty() {
        return Vec::new();
    }

    let held = Held::of(&app.design, e);
    let mut lines = vec![Line::styled(MAP_HEAD, t.title())];
    for strip in areas::strips(app) {
        lines.push(Line::from(vec![
            Span::styled(fit(strip.label(), 9), t.dim()),
            Span::styled(strip_row(app, strip, &held), t.shade()),
        ]));
    }
    lines
}

fn strip_row(app: &App, strip: Strip, held: &Held) -> String {
    let e = &app.evaluation;
    let glyph = |bay: usize| {
        let zone = e.layout.zones.iter().position(|z| z.strip == strip && z.bay == bay);
        match zone.and_then(|z| held.may.get(z)) {
            None => ' ',
            Some(Hands::Hold) => '█',
            Some(Hands::NoTouch) => '✗',
            Some(Hands::Care) => '░',
        }
    };
    (0..e.layout.bays.len()).map(glyph).collect()
}

/// The assumptions the index rests on most.
fn rests_on(app: &App, width: usize) -> Vec<Line<'static>> {
    let (d, t) = (&app.evaluation.durability, app.theme);
    if d.rests_on.is_empty() {
        return Vec::new();
    }
    let mut lines = vec![Line::styled("the hours rest on, % for one spread", t.title())];
    let shown: Vec<_> = d.rests_on.iter().take(8).filter_map(|(i, s)| Some((LIST.get(*i)?.title, s.abs()))).collect();
    // Names first; the bar takes what they leave.
    let names = shown.iter().map(|s| s.0.chars().count()).max().unwrap_or(0).min(width.saturating_sub(5));
    let bars = width.saturating_sub(names + 6).min(10);
    lines.extend(shown.iter().map(|(title, share)| {
        Line::from(vec![
            Span::raw(fit(title, names)),
            Span::raw(format!(" {:>4.0} ", 100.0 * share)),
            Span::styled(if bars > 3 { bar(*share, bars) } else { String::new() }, t.shade()),
        ])
    }));
    lines
}
