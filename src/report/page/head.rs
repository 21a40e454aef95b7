//! The head of the page: whose wing, the cautions, the state of the verdict, the scores.

use std::fmt::Write as _;

use super::html::{self, KM_H, M_S, Show, esc, facts, list, para, plain_list};
use super::{Sheet, capital, weight};
use crate::physics::evaluation::WingVerdict;
use crate::physics::strength::NOT_ASSESSED;
use crate::report::text::{if_counted, lifting_lines, margin_title, mode_title, without_limits};
use crate::report::{CAUTIONS, vibration};

/// Name, note, cautions, and which file by which version of the program.
pub(super) fn html(s: &Sheet) -> String {
    let (d, w) = (s.design(), s.wing);
    let mut out = format!("<h1>{}</h1>\n", esc(&w.side.name));
    if !d.note.is_empty() {
        out.push_str(&para(&d.note));
    }
    let _ = writeln!(out, "<p class=\"caution\" role=\"note\">{}</p>", esc(CAUTIONS));
    let turned = match w.turned {
        [] => String::new(),
        all => format!(", then changed by {}, which its file does not say,", esc(&all.join(", "))),
    };
    let print = blake3::hash(w.text.as_bytes()).to_hex();
    let _ = writeln!(
        out,
        "<p class=\"dim\">Worked out from {} (its BLAKE3 begins {}){turned} by thistledown {}. Masses are of the whole wing, both halves, unless named \
         otherwise; places along the span run from the root. In this page's source a number has its path in the output of <span class=\"whole\">assess --json</span> beside it, \
         or in that of holds, workshop or compare where data-of says so; inputs have their key.</p>",
        esc(&w.file),
        &print.as_str()[..16],
        env!("CARGO_PKG_VERSION")
    );
    out
}

/// Which limits, which cases are off, what is accepted, short, not shown, not assessed; warnings.
pub(super) fn state(s: &Sheet) -> String {
    let (d, e, a) = (s.design(), s.evaluation(), s.assess());
    let meaning = match e.strength.verdict {
        WingVerdict::Holds => {
            "every margin that was computed is at least 0, and nothing is left not shown but what is accepted below"
        }
        WingVerdict::Short => "a margin is below 0 somewhere",
        WingVerdict::NotShown => {
            "nothing computed is short, but something was not shown, and what is not shown never counts as holding"
        }
    };
    let mut out = format!(
        "<p class=\"verdict\"><strong>{}</strong>: {meaning}. {} cases on, {} off.</p>\n",
        a.word("/scores/verdict"),
        a.len("/loads/cases"),
        a.num("/scores/least_margin/cases_off", Show::digits(0)),
    );
    match &d.limits {
        Some(l) => {
            let at = |field: &str| format!("/loads/limits/{field}");
            let two = Show::digits(2);
            let _ = writeln!(
                out,
                "<p>Limits in force: {}, limit load factors {} and {}, factor to ultimate {}, extra factor {}, dive speed {} m/s, gusts {} m/s in rough air \
                 and {} m/s at the dive speed. On whose word: {}.</p>",
                s.cite("limits", &l.key),
                a.num(&at("n_positive"), two.signed()),
                a.num(&at("n_negative"), two.signed()),
                a.num(&at("safety_factor"), two),
                a.num(&at("extra_factor"), two),
                a.num(&at("dive_speed_m_s"), Show::digits(1)),
                a.num(&at("gust_m_s"), Show::digits(1)),
                a.num(&at("gust_dive_m_s"), Show::digits(1)),
                esc(&l.source)
            );
        }
        None => out.push_str(&para(&format!("{}.", capital(without_limits(e.strength.verdict))))),
    }
    let group = |out: &mut String, heading: &str, lines: Vec<String>, none: &str| {
        let _ = writeln!(out, "<h3>{heading}</h3>");
        out.push_str(&if lines.is_empty() { para(none) } else { list(&lines) });
    };
    let modes = |all: &[&str]| -> Vec<String> {
        all.iter().map(|k| format!("{} ({})", esc(mode_title(k)), s.cite("mode", k))).collect()
    };
    group(&mut out, "Short", modes(&e.strength.short), "Nothing that was computed is short.");
    group(&mut out, "Not shown and not accepted", modes(&e.strength.not_shown), "Nothing.");
    let accepted = d.accepted.iter().map(|x| {
        let short = if_counted(e, &x.key).map_or_else(String::new, |s| format!("; {}", s.words()));
        format!("{} ({}){}: {}", esc(mode_title(&x.key)), esc(&x.key), esc(&short), esc(&x.reason))
    });
    group(&mut out, "Accepted as not shown by the scenario, with its reason", accepted.collect(), "Nothing.");
    let title = |key: &str| e.loads.cases.iter().find(|c| c.key == key).map_or("", |c| c.title);
    let off: Vec<String> = (0..a.len("/loads/switched_off"))
        .map(|i| {
            let at = |field: &str| format!("/loads/switched_off/{i}/{field}");
            format!("{} ({}): {}", esc(title(a.str(&at("key")))), a.word(&at("key")), a.word(&at("reason")))
        })
        .collect();
    group(&mut out, "Cases switched off, with the reason", off, "None.");
    let _ = writeln!(out, "<h3>Not assessed at all</h3>\n{}", para(&NOT_ASSESSED.join(", ")));
    if !e.warnings.is_empty() {
        let _ = write!(out, "<h3>Warnings</h3>\n{}", plain_list(&e.warnings));
    }
    out
}

/// Working without the line that the caption of the table says once for all.
fn without_caption(working: &[String]) -> Vec<&str> {
    working.iter().map(String::as_str).filter(|w| !w.starts_with("for information")).collect()
}

/// The scores, against the targets of the scenario where there are any.
pub(super) fn scores(s: &Sheet) -> String {
    let (d, e, a) = (s.design(), s.evaluation(), s.assess());
    let (one, two, none) = (Show::digits(1), Show::digits(2), Show::digits(0));
    let kmh = one.times(3.6);
    let t = &d.targets;
    let target = |v: Option<f64>, word: &str, unit: &str| {
        v.map_or_else(String::new, |v| {
            let unit = if unit.is_empty() { String::new() } else { format!(" {unit}") };
            format!("; {}", html::whole(&format!("asked {word} {v:.1}{unit}")))
        })
    };
    let kg = |k: &str| a.num(&format!("/scores/weight_kg/{k}"), one);
    let least = |k: &str| format!("/scores/least_margin/{k}");
    let mut all: Vec<(&str, String)> = vec![
        ("weight as drawn", format!("{} kg", kg("as_drawn"))),
        ("weight expected", format!("{} kg ({} to {})", kg("expected"), kg("p10"), kg("p90"))),
        ("weight budget", format!("{} kg; {}", kg("budget"), weight::against_target(s))),
        (
            "durability index",
            format!(
                "{}{}",
                a.band(
                    ["/scores/durability_index/value", "/scores/durability_index/p10", "/scores/durability_index/p90"],
                    one
                ),
                target(t.durability_index, "at least", "")
            ),
        ),
        ("repair per 100 outings", format!("{} h", a.num("/scores/repair_h_per_100", one))),
        (
            "outings lost per 100",
            a.num("/scores/outings_lost_per_100", one) + &target(t.outings_lost_per_100, "at most", ""),
        ),
        ("unseen damage per 100", a.num("/scores/unseen_per_100", two)),
        (
            "least press load",
            format!(
                "{} N, {}, {} bay {}{}",
                a.num("/scores/least_press_n/value", none),
                a.word("/scores/least_press_n/kind"),
                html::strip(a.str("/scores/least_press_n/strip")),
                a.num("/scores/least_press_n/bay", none),
                target(t.press_n, "at least", "N")
            ),
        ),
        ("least load of a hard ball", format!("{} N", a.num("/scores/least_ball_n", none))),
        ("surface that may be pressed", format!("{} %", a.num("/scores/press_safe_share", none.times(100.0)))),
        ("surface that may be held", format!("{} %", a.num("/scores/hold_safe_share", none.times(100.0)))),
        (
            super::super::flight::stall_words(d.aboard.tailless, &e.flight),
            format!(
                "{} {KM_H}{}",
                a.num("/scores/stall_m_s", kmh),
                target(t.stall_m_s.map(|v| 3.6 * v), "at most", "km/h")
            ),
        ),
        ("least sink", format!("{} {M_S}", a.num("/scores/least_sink_m_s", two))),
        ("best glide", a.num("/scores/best_glide", one)),
        ("floats without a pilot at", format!("{} {M_S}", a.num("/scores/launch/wing_float_m_s", one))),
        ("launch run in still air", format!("{} {M_S}", a.num("/scores/launch/ground_speed_m_s", one))),
        ("in the hands", format!("{} N", a.num("/scores/launch/hands_n", none))),
        ("hours to build", a.num("/scores/hours", none) + &target(t.hours, "at most", "")),
        ("pieces", a.num("/scores/pieces", none)),
        (
            "cost",
            format!(
                "{} {}{}",
                a.num("/scores/cost/value", none),
                a.word("/scores/cost/currency"),
                target(t.cost, "at most", "")
            ),
        ),
        (
            "heaviest piece",
            format!("{} kg{}", a.num("/scores/heaviest_piece/kg", one), target(t.heaviest_piece_kg, "at most", "kg")),
        ),
        (
            "largest piece",
            format!("{} m{}", a.num("/work/largest_piece_m", two), target(t.largest_piece_m, "at most", "m")),
        ),
        (
            "set-up",
            format!("{} min{}", a.num("/work/set_up_minutes", none), target(t.set_up_minutes, "at most", "min")),
        ),
    ];
    if let Some(m) = e.strength.least.and_then(|i| e.margins.get(i)) {
        let place = if m.bay.is_some() { format!(", bay {}", a.num(&least("bay"), none)) } else { String::new() };
        let case = m.case.and_then(|c| e.loads.cases.get(c));
        let case = case.map_or_else(String::new, |c| format!(", {} ({})", esc(c.title), s.cite("case", c.key)));
        all.insert(
            3,
            (
                "least margin",
                format!(
                    "{}: {} ({}){place}{case}",
                    a.num(&least("value"), two.signed()),
                    esc(&margin_title(d, m)),
                    s.cite("mode", m.mode)
                ),
            ),
        );
    }
    let all: Vec<(String, String)> = all.into_iter().map(|(what, is)| (esc(what), is)).collect();
    let mut out = facts(&all);
    let lifting: Vec<String> = lifting_lines(&e.work);
    out.push_str(&plain_list(&lifting));
    let rows: Vec<html::Row> = vibration::rows(d, e)
        .into_iter()
        .map(|r| html::Row {
            cells: vec![esc(&r.what), esc(&r.value), esc(&r.place)],
            class: "",
            under: Some(esc(&without_caption(&r.working).join("; "))),
        })
        .collect();
    let heading = format!(
        "For information, {}: flutter is not assessed and needs qualified review",
        crate::physics::vibration::NO_CLEARANCE
    );
    out.push_str(&html::table(&heading, &[html::words("what"), html::numbers("value"), html::words("place")], &rows));
    out
}
