//! Durability in ground handling: the index with its band, the map of press loads, the events, what it rests on.

use super::html::{Row, Show, esc, list, numbers, para, plain_list, strip, table, words};
use super::press;
use super::{Sheet, capital};
use crate::physics::durability::{contact, index, resistance};
use crate::report::care;

/// All of it.
pub(super) fn html(s: &Sheet) -> String {
    let (d, e, a) = (s.design(), s.evaluation(), s.assess());
    let (one, two, none) = (Show::digits(1), Show::digits(2), Show::digits(0));
    let mut out = format!(
        "<p>Index {}, by {} repair hours per 100 outings ({}); per 100 outings {} outings lost, {} unseen damages, {} marks; repairable in the field {} %, repairs add {} kg. {} of \
         these hours rest on soft spots. {}.</p>\n",
        a.band(["/scores/durability_index/value", "/scores/durability_index/p10", "/scores/durability_index/p90"], one),
        a.band(["/durability/repair_h", "/durability/repair_h_p10", "/durability/repair_h_p90"], one),
        s.cite("method", "durability_index"),
        a.num("/scores/outings_lost_per_100", one),
        a.num("/scores/unseen_per_100", two),
        a.num("/durability/marks", one),
        a.num("/durability/field_repairable_share", none.times(100.0)),
        a.num("/durability/mass_added_kg", two),
        a.num("/durability/soft_spots/repair_h", one),
        esc(&capital(resistance::SOFT_WORDS))
    );
    out.push_str(&para(&format!("Dents: {}.", index::calibration(&d.library.learnt))));
    out.push_str(&press::map(s));
    out.push_str(&para(&format!("{}.", capital(contact::SHOWN))));
    out.push_str(&events(s));
    out.push_str(&edges(s));
    out.push_str(&press::zones(s));
    out.push_str("<h3>How it is treated</h3>\n");
    out.push_str(&plain_list(&care::lines(d, e)));
    out.push_str(&rests(s));
    out
}

/// Events, the costliest first.
fn events(s: &Sheet) -> String {
    let (e, a) = (s.evaluation(), s.assess());
    let mut order: Vec<usize> = (0..e.durability.events.len()).collect();
    let hours = |i: &usize| e.durability.events.get(*i).map_or(0.0, |v| v.repair_h);
    order.sort_by(|i, j| hours(j).total_cmp(&hours(i)));
    let two = Show::digits(2);
    let rows: Vec<Row> = order
        .into_iter()
        .map(|i| {
            let at = |field: &str| format!("/durability/events/{i}/{field}");
            let worst = if a.str(&at("worst_at/strip")).is_empty() {
                "-".to_owned()
            } else {
                format!("{} bay {}", strip(a.str(&at("worst_at/strip"))), a.num(&at("worst_at/bay"), Show::digits(0)))
            };
            vec![
                format!("{} ({})", a.word(&at("title")), s.cite("event", a.str(&at("key")))),
                a.num(&at("per_100_outings"), two),
                a.num(&at("marks"), two),
                a.num(&at("holes"), two),
                a.num(&at("repair_h"), two),
                a.num(&at("outings_lost"), two),
                a.num(&at("unseen"), Show::digits(3)),
                worst,
                a.word(&at("cause")),
            ]
            .into()
        })
        .collect();
    let columns = [
        words("event"),
        numbers("times"),
        numbers("marks"),
        numbers("holes"),
        numbers("repair, h"),
        numbers("outings lost"),
        numbers("unseen"),
        words("worst at"),
        words("cause"),
    ];
    table("Events per 100 outings, the costliest first", &columns, &rows)
}

fn edges(s: &Sheet) -> String {
    let a = s.assess();
    let rows: Vec<Row> = (0..a.len("/durability/edges"))
        .map(|i| {
            let at = |field: &str| format!("/durability/edges/{i}/{field}");
            vec![
                a.word(&at("edge")),
                a.num(&at("ball_n"), Show::digits(0)),
                a.num(&at("blow_j"), Show::digits(1).times(1e3)),
            ]
            .into()
        })
        .collect();
    table(
        "The weakest edges: P5 of a 10 mm hard ball and of a blow",
        &[words("edge"), numbers("ball, N"), numbers("blow, mJ")],
        &rows,
    )
}

/// What helps most, and what the ranking rests on.
fn rests(s: &Sheet) -> String {
    let a = s.assess();
    let rests: Vec<String> = (0..a.len("/durability/rests_on").min(8))
        .map(|i| {
            let at = |field: &str| format!("/durability/rests_on/{i}/{field}");
            let key = a.str(&at("key"));
            format!(
                "{}: {} ({})",
                a.word(&at("title")),
                a.num(&at("spread_of_ln_hours"), Show::digits(2)),
                s.cite("assumption", key)
            )
        })
        .collect();
    let changes = (0..a.len("/durability/what_would_help/changes").min(8)).map(|i| {
        let at = |field: &str| format!("/durability/what_would_help/changes/{i}/{field}");
        vec![
            format!("{}: {}", a.word(&at("on")), a.word(&at("what"))),
            a.num(&at("index_gain"), Show::digits(2).signed()),
            a.num(&at("grams"), Show::digits(0).signed()),
            a.num(&at("build_h"), Show::digits(1).signed()),
        ]
        .into()
    });
    let rows: Vec<Row> = changes.collect();
    let columns = [words("one change at a time"), numbers("index"), numbers("g"), numbers("hours to build")];
    let mut out = format!(
        "<h3>What it rests on, and what would help</h3>\n<p>{}</p>\n",
        a.word("/durability/what_would_help/weakest")
    );
    out.push_str("<p>Spread of the logarithm of repair hours by assumption, the widest first:</p>\n");
    out.push_str(&list(&rests));
    out.push_str(&table("What would raise the index most", &columns, &rows));
    out
}
