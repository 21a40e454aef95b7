//! Margins: by bay in a plot and a list, the governing margin of every mode with its working, everything short, what is not shown.

use std::fmt::Write as _;

use super::Sheet;
use super::html::{Doc, FOUR, Row, Show, esc, numbers, para, plain_list, step, table, words};
use super::plot::{Line, Look, Plot};
use crate::physics::strength::judged::judged;
use crate::physics::strength::{MODES, Margin, Verdict, checks};
use crate::report::text::{judged_words, mode_title, worst_of_each_mode};
use crate::report::{seen, service};

/// Margins above this are drawn at it.
const TOP: f64 = 2.0;
/// Modes drawn by bay.
const DRAWN: usize = 5;

/// Plots and tables.
pub(super) fn html(s: &Sheet) -> String {
    let e = s.evaluation();
    if e.margins.is_empty() {
        return para("No margin was computed.");
    }
    let mut out = para(
        "A margin is allowable over applied, less 1; below 0 it is short. Loads are ultimate unless the line says otherwise beside its case.",
    );
    out.push_str(&plain_list(&seen::short(s.design(), e)));
    out.push_str(&by_bay(s));
    out.push_str(&working(s));
    out.push_str(&more_short(s));
    out.push_str(&not_shown(s));
    out
}

fn verdict(m: &Margin) -> &'static str {
    match m.verdict {
        Verdict::Holds => "holds",
        Verdict::Short => "SHORT",
        Verdict::NotShown(_) => "not shown",
    }
}

fn number_of(all: &[Margin], m: &Margin) -> Option<usize> {
    all.iter().position(|x| std::ptr::eq(x, m))
}

/// Where a margin is: strip and bay.
fn place(a: &Doc, i: usize, m: &Margin) -> String {
    let strip = m.strip.map_or("", |s| s.label());
    let bay = if m.bay.is_some() {
        format!("bay {}", a.num(&format!("/margins/{i}/bay"), Show::digits(0)))
    } else {
        String::new()
    };
    let both = format!("{} {bay}", esc(strip));
    if both.trim().is_empty() { "whole wing".to_owned() } else { both.trim().to_owned() }
}

fn case(s: &Sheet, m: &Margin) -> String {
    let found = m.case.and_then(|c| s.evaluation().loads.cases.get(c));
    let case = found.map(|c| format!("{} ({})", esc(c.title), s.cite("case", c.key)));
    let at = judged(s.design(), m).beside().map(str::to_owned);
    let said: Vec<String> = case.into_iter().chain(at).collect();
    if said.is_empty() { "-".to_owned() } else { said.join(", ") }
}

/// Cells every table of margins begins with.
fn cells(s: &Sheet, i: usize, m: &Margin) -> Vec<String> {
    let a = s.assess();
    let at = |field: &str| format!("/margins/{i}/{field}");
    vec![
        format!("{} ({})", esc(mode_title(m.mode)), s.cite("mode", m.mode)),
        verdict(m).to_owned(),
        a.num(&at("margin"), Show::digits(2).signed()),
        a.num(&at("applied"), FOUR),
        a.num(&at("allowable"), FOUR),
        esc(m.unit),
        place(&a, i, m),
        case(s, m),
    ]
}

const COLUMNS: [super::html::Col; 8] = [
    words("mode"),
    words("verdict"),
    numbers("margin"),
    numbers("applied"),
    numbers("allowable"),
    words("unit"),
    words("where"),
    words("case"),
];

/// The governing margin of every mode, its working under it.
fn working(s: &Sheet) -> String {
    let (d, e, a) = (s.design(), s.evaluation(), s.assess());
    let rows: Vec<Row> = worst_of_each_mode(e)
        .into_iter()
        .filter_map(|m| Some((number_of(&e.margins, m)?, m)))
        .map(|(i, m)| {
            let inputs: Vec<String> = m
                .inputs
                .iter()
                .map(|x| {
                    let at = format!("/margins/{i}/inputs/{}/value", step(x.label));
                    let unit = if x.unit.is_empty() { String::new() } else { format!(" {}", esc(x.unit)) };
                    format!("{} {}{unit}", esc(x.label), a.num(&at, FOUR))
                })
                .collect();
            let mode = MODES.iter().find(|x| x.key == m.mode);
            let said = |word: &str, text: &str| {
                if text.is_empty() { String::new() } else { format!(" {word}: {}.", esc(text)) }
            };
            let mut under = format!("Formula: {}.", a.word(&format!("/margins/{i}/formula")));
            if !inputs.is_empty() {
                let _ = write!(under, " Inputs: {}.", inputs.join("; "));
            }
            if let Some(mode) = mode {
                under.push_str(&said("Valid for", mode.valid));
                under.push_str(&said("Safe side", mode.safe_side));
                under.push_str(&said("Knock-down", mode.knock_down));
                under.push_str(&said("Checked", &checks::words(mode.key)));
            }
            under.push_str(&said("Judged", &judged_words(d, m)));
            under.push_str(&said("Service", &service::words(d, m.strip)));
            let class = if m.verdict == Verdict::Short { "short" } else { "" };
            Row { cells: cells(s, i, m), class, under: Some(under) }
        })
        .collect();
    table(
        "The governing margin of every mode that was computed, the nearest to failing first, with its working",
        &COLUMNS,
        &rows,
    )
}

/// Everything that is short beside the governing margins.
fn more_short(s: &Sheet) -> String {
    let e = s.evaluation();
    let governing: Vec<usize> = worst_of_each_mode(e).into_iter().filter_map(|m| number_of(&e.margins, m)).collect();
    let short = |(i, m): &(usize, &Margin)| m.verdict == Verdict::Short && !governing.contains(i);
    let mut all: Vec<(usize, &Margin)> = e.margins.iter().enumerate().filter(short).collect();
    all.sort_by(|a, b| a.1.rf.total_cmp(&b.1.rf));
    let rows: Vec<Row> = all.into_iter().map(|(i, m)| cells(s, i, m).into()).collect();
    table("What else is short, of the same modes in other places", &COLUMNS, &rows)
}

/// What is not shown: mode, why, in how many places, and whether the scenario accepts it.
fn not_shown(s: &Sheet) -> String {
    let (d, e) = (s.design(), s.evaluation());
    let mut all: Vec<(&str, &str, usize)> = Vec::new();
    for m in &e.margins {
        let Verdict::NotShown(why) = m.verdict else { continue };
        match all.iter_mut().find(|x| x.0 == m.mode && x.1 == why) {
            Some(x) => x.2 += 1,
            None => all.push((m.mode, why, 1)),
        }
    }
    let rows: Vec<Row> = all
        .into_iter()
        .map(|(mode, why, places)| {
            let accepted = d
                .accepted
                .iter()
                .find(|x| x.key == mode)
                .map_or_else(|| "no".to_owned(), |x| format!("yes: {}", esc(&x.reason)));
            vec![
                format!("{} ({})", esc(mode_title(mode)), s.cite("mode", mode)),
                esc(why),
                places.to_string(),
                accepted,
            ]
            .into()
        })
        .collect();
    let columns = [words("mode"), words("why it is not shown"), numbers("places"), words("accepted by the scenario")];
    table("Not shown, which never counts as holding", &columns, &rows)
}

/// The least margin of each bay, and the modes that come nearest to failing drawn along the span.
fn by_bay(s: &Sheet) -> String {
    let (e, a) = (s.evaluation(), s.assess());
    let computed = |m: &&Margin| !matches!(m.verdict, Verdict::NotShown(_)) && m.rf.is_finite();
    let least = |bay: usize, mode: Option<&str>| {
        let here = e.margins.iter().filter(computed).filter(|m| m.bay == Some(bay) && mode.is_none_or(|k| k == m.mode));
        here.min_by(|a, b| a.rf.total_cmp(&b.rf))
    };
    let bays = e.layout.bays.len();
    let middle = |bay: usize| e.layout.bays.get(bay).map_or(f64::NAN, |b| b.mid.y_m);
    let line = |name: &str, mode: Option<&str>| Line {
        name: name.to_owned(),
        points: (0..bays).filter_map(|b| Some((middle(b), least(b, mode)?.rf - 1.0))).collect(),
        look: Look::Named,
        from: None,
    };
    // Only what is told by bay makes a line.
    let spans = |m: &&Margin| (0..bays).filter(|b| least(*b, Some(m.mode)).is_some()).count() > 1;
    let mut lines = vec![line("least of all", None)];
    lines.extend(
        worst_of_each_mode(e).into_iter().filter(spans).take(DRAWN).map(|m| line(mode_title(m.mode), Some(m.mode))),
    );
    let lowest = lines.iter().flat_map(|l| &l.points).map(|p| p.1).fold(0.0, f64::min);
    let plot = Plot {
        id: s.id("margins-by-bay"),
        title: format!("Margins by bay, those above {TOP:.0} drawn at {TOP:.0}"),
        description: "The least margin of each bay and the modes that come nearest to failing, against metres from the root; the numbers stand in the list beside it.".to_owned(),
        x: "from the root, m",
        y: "margin",
        lines,
        zero: true,
        down: false,
        ends: Some(((lowest / 0.5).floor() * 0.5, TOP)),
    }
    .html();
    let rows: Vec<Row> = (0..bays)
        .filter_map(|b| {
            let m = least(b, None)?;
            let i = number_of(&e.margins, m)?;
            let class = if m.verdict == Verdict::Short { "short" } else { "" };
            let strip = m.strip.map_or("-", |s| s.label());
            let cells = vec![
                a.num(&format!("/margins/{i}/bay"), Show::digits(0)),
                a.num(&format!("/margins/{i}/margin"), Show::digits(2).signed()),
                verdict(m).to_owned(),
                esc(mode_title(m.mode)),
                esc(strip),
                case(s, m),
            ];
            Some(Row { cells, class, under: None })
        })
        .collect();
    let columns = [numbers("bay"), numbers("margin"), words("verdict"), words("mode"), words("strip"), words("case")];
    format!("<div class=\"plots\">\n{plot}</div>\n") + &table("The least margin of each bay", &columns, &rows)
}
