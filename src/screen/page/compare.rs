//! Compare: this wing, the pinned one and the other scenarios of the folder in columns: how sure the order against this
//! wing is, then scores, durability by event, what the order rests on, inputs that differ and small skin maps. One part
//! stands at the top, the others follow as far as there is room.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};

use crate::physics::assumptions::LIST;
use crate::physics::design::{Design, Strip};
use crate::physics::durability::held::Held;
use crate::physics::evaluation::Evaluation;
use crate::report::sureness::{self, Against, DRAWS, SURE, Turns};
use crate::scenario::dials::dials;
use crate::screen::app::{App, Neighbour};
use crate::screen::page::{fit, put};
use crate::screen::score::{ScoreOf, scores_of};

/// A column of the page.
pub struct Column<'a> {
    pub name: String,
    /// Its place among the neighbours, when it is one of them.
    neighbour: Option<usize>,
    pub design: &'a Design,
    pub evaluation: &'a Evaluation,
}

/// The name of this wing's column.
pub const NOW: &str = "now";

/// Now, pinned, and the neighbours; the one that all are held against stands first.
pub fn columns(app: &App) -> Vec<Column<'_>> {
    let mut out =
        vec![Column { name: NOW.to_owned(), neighbour: None, design: &app.design, evaluation: &app.evaluation }];
    if let Some(p) = &app.pin {
        out.push(Column {
            name: "◆ pinned".to_owned(), neighbour: None, design: &p.design, evaluation: &p.evaluation
        });
    }
    let shared = shared_start(app);
    out.extend(app.neighbours.iter().enumerate().map(|(i, n)| Column {
        neighbour: Some(i),
        name: n.file.trim_end_matches(".toml").get(shared..).unwrap_or(&n.file).to_owned(),
        design: &n.design,
        evaluation: &n.evaluation,
    }));
    if let Some(i) = app.against.as_ref().and_then(|name| out.iter().position(|c| c.name == *name)) {
        let first = out.remove(i);
        out.insert(0, first);
    }
    out
}

/// Length of the first word that all file names share, with its hyphen: it would only be repeated in every head.
fn shared_start(app: &App) -> usize {
    let Some(first) = app.neighbours.first() else { return 0 };
    let Some(hyphen) = first.file.find('-') else { return 0 };
    let start = &first.file[..=hyphen];
    if app.neighbours.iter().all(|n| n.file.starts_with(start)) { start.len() } else { 0 }
}

/// The neighbour of the chosen column, if it is one.
pub fn chosen(app: &App) -> Option<&Neighbour> {
    app.neighbours.get(columns(app).get(app.line())?.neighbour?)
}

/// A part of the page.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Part {
    Scores,
    Events,
    RestsOn,
    Inputs,
    Maps,
}

impl Part {
    pub const ALL: [Self; 5] = [Self::Scores, Self::Events, Self::RestsOn, Self::Inputs, Self::Maps];

    const fn title(self) -> &'static str {
        match self {
            Self::Scores => "scores",
            Self::Events => "repair hours per 100 outings, by event",
            Self::RestsOn => "durability order rests on: % of the gap one takes at P5 or P95",
            Self::Inputs => "inputs that differ",
            Self::Maps => "skins, root to tip: S sandwich, O one-faced, L laminate, W wood, F covering",
        }
    }
}

/// The columns in sight and how wide they are.
struct Sight<'a> {
    columns: Vec<Column<'a>>,
    label: usize,
    width: usize,
    low: bool,
}

/// Draw the page.
pub fn draw(app: &App, frame: &mut Frame, area: Rect) {
    let all = columns(app);
    if all.len() < 2 {
        let words = if app.has_neighbours { "the other scenarios are being read" } else { "nothing to compare with" };
        put(app, frame, area, vec![Line::raw(words)]);
        return;
    }
    // Names are cut only where many columns leave them no room.
    let left = usize::from(area.width).saturating_sub(22 * all.len());
    let label = 24_usize.max(usize::from(area.width) / 5).max(left).min(38);
    let room = usize::from(area.width) - label;
    let width = (room / all.len()).clamp(14, 26);
    let fits = (room / width).max(1);
    // The first column stays; the others scroll so that the chosen one is in sight.
    let chosen = app.line().min(all.len() - 1);
    let from = if chosen < fits { 1 } else { chosen + 2 - fits };
    let shown: Vec<usize> = std::iter::once(0).chain((from..all.len()).take(fits - 1)).collect();
    let mut lines = vec![heads(app, &all, &shown, label, width)];
    let sentence = sentence(app, &all, chosen);
    let mut taken = all.into_iter().enumerate();
    let columns = shown.iter().filter_map(|i| taken.find(|(k, _)| k == i).map(|(_, c)| c)).collect();
    let sight = Sight { columns, label, width, low: area.height < 30 };
    lines.extend(orders(app, &sight));
    lines.push(sentence);
    let height = usize::from(area.height);
    for n in 0..Part::ALL.len() {
        let part = Part::ALL[(app.part + n) % Part::ALL.len()];
        let left = height.saturating_sub(lines.len());
        if left < 3 {
            break;
        }
        let rows = rows(app, &sight, part);
        lines.extend(cut(app, part, rows, left, (n == 0).then_some(app.part_from)));
    }
    lines.truncate(height);
    put(app, frame, area, lines);
}

/// How many lines the part at the top has.
pub fn part_lines(app: &App) -> usize {
    let columns = columns(app);
    let part = Part::ALL[app.part.min(Part::ALL.len() - 1)];
    rows(app, &Sight { columns, label: 24, width: 14, low: false }, part).len()
}

/// Title and as many lines as there is room for, with a word of what is left out.
fn cut(app: &App, part: Part, rows: Vec<Line<'static>>, room: usize, from: Option<usize>) -> Vec<Line<'static>> {
    let mut out = vec![Line::styled(part.title(), app.theme.title())];
    let n = rows.len();
    if n < room {
        out.extend(rows);
        return out;
    }
    let fits = room.saturating_sub(2);
    let at = from.unwrap_or(0).min(n - fits);
    out.extend(rows.into_iter().skip(at).take(fits));
    let more = match from {
        None => format!("… {} more; ←→ brings this part to the top", n - fits),
        Some(_) => format!("… {at} above, {} below; PgUp PgDn scroll", n - fits - at),
    };
    out.push(Line::styled(more, app.theme.dim()));
    out
}

fn rows(app: &App, sight: &Sight, part: Part) -> Vec<Line<'static>> {
    match part {
        Part::Scores => scored(app, sight),
        Part::Events => events(app, sight),
        Part::RestsOn => rests_on(app, sight),
        Part::Inputs => inputs(app, sight),
        Part::Maps => maps(app, sight),
    }
}

/// A label, and a cell for each column.
fn row(app: &App, sight: &Sight, label: &str, cells: impl IntoIterator<Item = String>) -> Line<'static> {
    let mut spans = vec![Span::styled(fit(label, sight.label - 1), app.theme.dim()), Span::raw(" ")];
    spans.extend(cells.into_iter().map(|c| Span::raw(format!("{} ", fit(&c, sight.width - 1)))));
    Line::from(spans)
}

fn scored(app: &App, sight: &Sight) -> Vec<Line<'static>> {
    let t = app.theme;
    let all: Vec<_> = sight.columns.iter().map(|c| scores_of(c.design, c.evaluation)).collect();
    let mut lines = Vec::new();
    for i in 0..all.first().map_or(0, Vec::len) {
        if sight.low && lesser(all[0][i].of) {
            continue;
        }
        let mut spans = vec![Span::styled(fit(all[0][i].word, sight.label), t.dim())];
        for s in &all {
            let sign = if s[i].broken { "✗ " } else { "" };
            let style = if s[i].broken { t.broken() } else { t.text() };
            spans.push(Span::styled(format!("{} ", fit(&format!("{sign}{}", s[i].value), sight.width - 1)), style));
        }
        lines.push(Line::from(spans));
    }
    if !sight.low {
        type Share = fn(&Column) -> f64;
        let shares: [(&str, Share); 2] = [
            ("May be pressed, %", |c| c.evaluation.durability.press_safe_share),
            ("May be held, %", |c| Held::of(c.design, c.evaluation).share),
        ];
        for (word, share) in shares {
            lines.push(row(app, sight, word, sight.columns.iter().map(|c| format!("{:.0}", 100.0 * share(c)))));
        }
    }
    lines
}

/// Scores left out when the window is low.
const fn lesser(of: ScoreOf) -> bool {
    use ScoreOf::{Ball, Hands, Launch, Piece, SetUp, Unseen};
    matches!(of, Ball | Unseen | Launch | Hands | SetUp | Piece)
}

/// The name over a column: its end instead of its beginning where another in sight would look the same when cut.
fn head(name: &str, width: usize, others: &[&str]) -> String {
    let cut = fit(name, width);
    if width < 2 || !others.iter().any(|o| *o != name && fit(o, width) == cut) {
        return cut;
    }
    let all = name.chars().count();
    let end: String = name.chars().skip(all.saturating_sub(width - 1)).collect();
    format!("…{end}")
}

fn heads(app: &App, all: &[Column], shown: &[usize], label: usize, width: usize) -> Line<'static> {
    let t = app.theme;
    let more = all.len() - shown.len();
    let words = if more > 0 { format!("↑↓ column, {more} more") } else { "↑↓ column".to_owned() };
    let mut spans = vec![Span::styled(fit(&words, label), t.dim())];
    let names: Vec<&str> = shown.iter().map(|i| all[*i].name.as_str()).collect();
    for i in shown {
        let style = if *i == app.line() { t.chosen() } else { t.title() };
        spans.push(Span::styled(head(&all[*i].name, width - 1, &names), style));
        spans.push(Span::raw(" "));
    }
    Line::from(spans)
}

/// How sure each column is to be more durable and lighter than the first.
fn orders(app: &App, sight: &Sight) -> Vec<Line<'static>> {
    type Get = fn(&Against) -> f64;
    let first = sight.columns.first().map_or(NOW, |c| c.name.as_str());
    let rows: [(&str, Get, [&str; 2]); 2] =
        [("durability", |a| a.more_durable, ["more", "less"]), ("weight", |a| a.lighter, ["lighter", "heavier"])];
    rows.iter()
        .map(|(label, get, words)| {
            let cells = sight.columns.iter().enumerate().map(|(i, c)| match app.sure.of(&c.name) {
                _ if i == 0 => "-".to_owned(),
                None => "drawing".to_owned(),
                Some((a, fresh)) => {
                    let mark = if fresh { "" } else { "~" };
                    format!("{mark}{}", in_short(get(a), words, sight.width))
                }
            });
            let whole = format!("{label}, against {first}");
            let words = if whole.chars().count() < sight.label { whole } else { format!("{label}, against 1st") };
            row(app, sight, &words, cells)
        })
        .collect()
}

fn in_short(share: f64, [better, worse]: &[&str; 2], width: usize) -> String {
    let (sure, word) = if share >= 0.5 { (share, better) } else { (1.0 - share, worse) };
    let percent = 100.0 * sure;
    match (sure < SURE, width < 24) {
        (true, true) => format!("too close {percent:.0}%"),
        (true, false) => format!("too close to call {percent:.0} %"),
        (false, true) => format!("{word} {percent:.0} %"),
        (false, false) => format!("{word}, {percent:.0} % sure"),
    }
}

/// The order of the chosen column against the first, in full words.
fn sentence(app: &App, all: &[Column], chosen: usize) -> Line<'static> {
    let which = chosen.max(1);
    let Some(c) = all.get(which) else { return Line::default() };
    let words = match app.sure.of(&c.name) {
        Some((a, true)) => format!(
            "{} against {}: {}; {}",
            c.name,
            all[0].name,
            called(a.more_durable, "durability", ["more durable", "less durable"]),
            called(a.lighter, "weight", ["lighter", "heavier"])
        ),
        Some((_, false)) => format!("~ of the wing as it was; {DRAWS} draws for all columns are under way"),
        None => format!("{DRAWS} draws of all assumptions, the same for all columns, are under way"),
    };
    Line::raw(fit(&words, usize::from(app.size.0)))
}

fn called(share: f64, what: &str, [better, worse]: [&str; 2]) -> String {
    let words = sureness::words(share, better, worse);
    if words.starts_with("too close") { format!("{what} {words}") } else { words }
}

/// The events that cost most in any column, in every column.
fn events(app: &App, sight: &Sight) -> Vec<Line<'static>> {
    let hours = |c: &Column, key: &str| {
        c.evaluation.durability.events.iter().find(|v| v.key == key).map_or(0.0, |v| v.repair_h)
    };
    let mut all: Vec<(f64, &str, Vec<f64>)> = app
        .evaluation
        .durability
        .events
        .iter()
        .map(|v| {
            let each: Vec<f64> = sight.columns.iter().map(|c| hours(c, v.key)).collect();
            (each.iter().copied().fold(0.0, f64::max), v.title, each)
        })
        .collect();
    all.sort_by(|a, b| b.0.total_cmp(&a.0));
    let total = sight.columns.iter().map(|c| format!("{:.1}", c.evaluation.durability.repair_h));
    let mut lines = vec![row(app, sight, "all events", total)];
    lines.extend(all.iter().map(|(_, title, each)| row(app, sight, title, each.iter().map(|h| format!("{h:.2}")))));
    lines
}

/// How far each assumption alone could turn the order of durability against the first, the furthest for the chosen column first.
fn rests_on(app: &App, sight: &Sight) -> Vec<Line<'static>> {
    let of = |c: &Column, i: usize| -> Option<Turns> {
        app.sure.of(&c.name).and_then(|(a, _)| a.durability_on.iter().find(|t| t.assumption == i).copied())
    };
    let taken = |c: &Column, i: usize| of(c, i).map_or(0.0, |t| t.gap_taken);
    let chosen = columns(app).into_iter().nth(app.line().max(1)).map(|c| c.name).unwrap_or_default();
    let key = |i: usize| {
        let own = sight.columns.iter().find(|c| c.name == chosen).map_or(0.0, |c| taken(c, i));
        let any = sight.columns.iter().map(|c| taken(c, i)).fold(0.0, f64::max);
        (own, any)
    };
    let mut which: Vec<(usize, (f64, f64))> =
        (0..LIST.len()).map(|i| (i, key(i))).filter(|(_, k)| k.1 >= 0.005).collect();
    which.sort_by(|a, b| b.1.0.total_cmp(&a.1.0).then(b.1.1.total_cmp(&a.1.1)));
    if which.is_empty() {
        return vec![Line::styled("nothing found yet that could turn it", app.theme.dim())];
    }
    which
        .into_iter()
        .map(|(i, _)| {
            let cells = sight.columns.iter().enumerate().map(|(n, c)| match of(c, i) {
                _ if n == 0 => "-".to_owned(),
                None => "-".to_owned(),
                Some(t) if t.alone() => format!("turns it x{:.2}", t.at_factor),
                Some(t) => format!("{:.0} % x{:.2}", 100.0 * t.gap_taken, t.at_factor),
            });
            row(app, sight, LIST[i].title, cells)
        })
        .collect()
}

/// Dials whose values are not the same in all columns shown.
fn inputs(app: &App, sight: &Sight) -> Vec<Line<'static>> {
    let each: Vec<_> = sight.columns.iter().map(|c| dials(c.design)).collect();
    let mut out = Vec::new();
    for dial in &app.dials {
        let values: Vec<String> = sight
            .columns
            .iter()
            .zip(&each)
            .map(|(c, ds)| ds.iter().find(|d| d.key == dial.key).map_or("-".to_owned(), |d| d.shown(c.design)))
            .collect();
        if values.iter().all(|v| *v == values[0]) {
            continue;
        }
        let name = if dial.unit.is_empty() { dial.label.clone() } else { format!("{}, {}", dial.label, dial.unit) };
        out.push(row(app, sight, &name, values));
    }
    if out.is_empty() {
        out.push(Line::styled("none that a dial turns", app.theme.dim()));
    }
    out
}

/// Small skin maps: the kind of skin of each strip along the span, in every column.
fn maps(app: &App, sight: &Sight) -> Vec<Line<'static>> {
    let cells = sight.width.saturating_sub(2).min(24);
    Strip::ALL
        .into_iter()
        .filter(|s| sight.columns.iter().any(|c| !c.design.runs(*s).is_empty()))
        .map(|strip| row(app, sight, strip.label(), sight.columns.iter().map(|c| skins_along(c.design, strip, cells))))
        .collect()
}

fn skins_along(design: &Design, strip: Strip, cells: usize) -> String {
    (0..cells)
        .map(|i| {
            let eta = (i as f64 + 0.5) / cells as f64;
            let run = design.runs(strip).iter().find(|r| eta < r.to_eta);
            run.and_then(|r| design.constructions.get(r.construction)).map_or(' ', |c| c.kind.letter())
        })
        .collect()
}

/// The working of the chosen order: the draws, and every assumption that could turn it.
pub fn working(app: &App) -> Option<(String, Vec<String>)> {
    let all = columns(app);
    let c = all.get(app.line().max(1))?;
    let (a, fresh) = app.sure.of(&c.name)?;
    let mut lines = Vec::new();
    if !fresh {
        lines.push("of the wing as it was; new draws are under way".to_owned());
    }
    lines.push(format!("durability: {}", sureness::words(a.more_durable, "more durable", "less durable")));
    lines.push(format!("weight: {}", sureness::words(a.lighter, "lighter", "heavier")));
    lines.push(format!(
        "{DRAWS} seeded draws of all {} assumptions, the same draw for both wings; the share in which the order holds. \
         Under 80 % it is too close to call.",
        LIST.len()
    ));
    for (what, on) in [("durability", &a.durability_on), ("weight", &a.weight_on)] {
        lines.push(String::new());
        lines.push(format!("the order of {what} rests on, each alone at its P5 or P95, all else as thought"));
        if on.is_empty() {
            lines.push("  nothing that differs between the two".to_owned());
        }
        lines.extend(on.iter().map(|t| {
            let why = LIST[t.assumption].source;
            format!("  {:<34} {:<26} {why}", LIST[t.assumption].title, sureness::turn_words(t))
        }));
    }
    Some((format!("{} against {}", c.name, all[0].name), lines))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_that_begin_alike_are_told_apart_by_their_ends() {
        let names = ["can-say-nose-angles", "can-say-nose-one-faced", "can-say-holds", "now"];
        let heads = names.map(|n| head(n, 13, &names));
        assert_eq!(heads, ["…-nose-angles", "…se-one-faced", "can-say-holds", "now          "]);
        assert!(heads.iter().all(|h| h.chars().count() == 13));
        assert_eq!(head("can-say-nose-angles", 13, &["now"]), "can-say-nose…");
    }
}
