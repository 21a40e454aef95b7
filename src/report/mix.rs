//! The lightest durable mix as text and JSON.

use std::fmt::Write as _;

use serde_json::{Value, json};

use crate::mix::caps::{CapsTried, kind};
use crate::mix::rest::BEATEN;
use crate::mix::{Mix, Row};
use crate::physics::design::Design;
use crate::report::text::mode_title;
use crate::search::Status;

/// What "proven" and "best found" are always followed by.
pub const FOR_THIS: &str = "for this table and these assumptions";

/// How sure the lightest is, in words.
pub fn sure(m: &Mix) -> String {
    match (m.status, m.bound_kg) {
        (Status::Ceiling, _) if m.lightest.is_none() => "none was found before the search was cut short".to_owned(),
        (Status::Proven, _) => format!("proven lightest {FOR_THIS}"),
        (Status::Ceiling, Some(b)) => {
            let gap = m.lightest.as_ref().map_or(0.0, |r| r.table_kg - b);
            format!("best found {FOR_THIS}; none is lighter by more than {gap:.2} kg")
        }
        (Status::Ceiling, None) => format!("best found {FOR_THIS}"),
        (Status::Infeasible, _) => format!("no mix keeps the limits, {FOR_THIS}"),
    }
}

/// "nose up: nose_thin to 0.69, nose_one_faced; aft up: ...": the skins of a design, and its caps.
pub fn skins(d: &Design) -> String {
    let strips: Vec<String> = d
        .strips
        .iter()
        .map(|s| {
            let runs: Vec<String> = s
                .runs
                .iter()
                .map(|r| {
                    let key = d.constructions.get(r.construction).map_or("", |c| c.key.as_str());
                    if r.to_eta < 1.0 { format!("{key} to {:.2}", r.to_eta) } else { key.to_owned() }
                })
                .collect();
            format!("{}: {}", s.strip.label(), runs.join(", "))
        })
        .collect();
    strips.into_iter().chain(caps(d)).collect::<Vec<_>>().join("; ")
}

/// "caps: pultruded above, carbon_on_spruce below", where the scenario gives a choice.
fn caps(d: &Design) -> Option<String> {
    let of = |cap| kind(d, cap);
    (!d.spar.kinds.is_empty()).then(|| format!("caps: {} above, {} below", of(&d.spar.upper), of(&d.spar.lower)))
}

/// The first reasons, and how many more there are.
fn few(why: &[String]) -> String {
    let first = why.iter().take(REASONS).cloned().collect::<Vec<_>>().join("; ");
    if why.len() > REASONS { format!("{first}; and {} more", why.len() - REASONS) } else { first }
}

/// Reasons shown of a pair of caps.
const REASONS: usize = 2;

/// "42.31 kg" or why there is none.
fn came_of(c: &CapsTried) -> String {
    match (c.lightest_kg, c.status) {
        (Some(kg), Status::Ceiling) => format!("{kg:.2} kg, best found"),
        (Some(kg), _) => format!("{kg:.2} kg"),
        (None, _) => format!("no mix: {}", few(&c.why_none)),
    }
}

fn line(out: &mut String, n: usize, r: &Row) {
    let _ = writeln!(
        out,
        "{n:>3} {:>8.2} {:>8.2} {:>6.1} h {:>5.0} {:>6.0} N {:>5.0} h  {} kinds, {} changes{}",
        r.expected_kg,
        r.budget_kg,
        r.repair_h,
        r.index,
        r.least_press_n,
        r.hours,
        r.constructions,
        r.changes,
        simplicity(r)
    );
    let _ = writeln!(out, "      binds: {}", binds(r));
}

/// A limit counts as binding while less than this share of it is left.
const BINDING: f64 = 0.02;

/// What holds a design where it is: its least margin where that is nearly used up, and every limit nearly reached.
pub fn binds(r: &Row) -> String {
    let mut words = Vec::new();
    if let Some(m) = r.least_margin.filter(|m| m.rf < 1.0 + 5.0 * BINDING) {
        let at = m.bay.map_or_else(String::new, |b| format!(" bay {}", b + 1));
        words.push(format!("{}{at} RF {:.2} {}", mode_title(m.mode), m.rf, m.judged.words()));
    }
    let t = &r.design.targets;
    let mut limit = |what: &str, own: f64, limit: Option<f64>, unit: &str| {
        if let Some(l) = limit.filter(|l| (own - l).abs() <= BINDING * l.abs()) {
            words.push(format!("{what} {own:.1} of {l:.1}{unit}"));
        }
    };
    limit("durability index", r.index, t.durability_index, "");
    limit("outings lost", r.outings_lost, t.outings_lost_per_100, " per 100");
    limit("least press", r.least_press_n, t.press_n, " N");
    limit("building", r.hours, t.hours, " h");
    limit("cost", r.cost, t.cost, "");
    if words.is_empty() {
        "no limit is nearly reached; lighter skins stand no margin (see below)".to_owned()
    } else {
        words.join(", ")
    }
}

/// "covering sag in 3 zones".
pub fn kept_out((mode, zones): &(String, usize)) -> String {
    format!("{} in {zones} zone{}", mode_title(mode), if *zones == 1 { "" } else { "s" })
}

/// What stands behind a row, in words: nothing for a design alone.
pub fn simplicity(r: &Row) -> String {
    if r.family < 2 {
        return String::new();
    }
    format!("; simplest of {} alike, +{:.2} kg over the lightest", r.family, r.simplicity_kg)
}

/// Plain text for a terminal or a file.
pub fn text(m: &Mix) -> String {
    let mut out = String::new();
    let Some(best) = &m.lightest else {
        let _ = writeln!(out, "{}", sure(m));
        for w in &m.why_none {
            let _ = writeln!(out, "  {w}");
        }
        return out;
    };
    let _ = writeln!(
        out,
        "lightest durable mix at these dials: {:.2} kg expected, {:.2} kg budget, {:.1} repair h per 100 outings",
        best.expected_kg, best.budget_kg, best.repair_h
    );
    let _ = writeln!(out, "  {}", sure(m));
    let _ = writeln!(
        out,
        "  ticks 0.1 g and {} h: the front is off by less than {:.2} h, never on the light side; solved {} times",
        m.ticks.hour_h,
        m.zones as f64 * m.ticks.hour_h,
        m.passes
    );
    let _ = writeln!(
        out,
        "  evaluated again in full: it moved by {} kg and {} h from the table; {}",
        super::signed(best.moved_kg(), 2),
        super::signed(best.moved_h(), 1),
        best.verdict.word()
    );
    if let Some(m) = best.least_margin {
        let at = m.bay.map_or_else(String::new, |b| format!(", bay {}", b + 1));
        let _ = writeln!(out, "  least margin: {}{at}, RF {:.2} {}", mode_title(m.mode), m.rf, m.judged.words());
    }
    for part in skins(&best.design).split("; ") {
        let _ = writeln!(out, "  {part}");
    }
    let _ = writeln!(out, "\n  # expected   budget repair  index  press  build");
    line(&mut out, 1, best);
    for (i, r) in m.rows.iter().enumerate() {
        line(&mut out, i + 2, r);
    }
    let _ = writeln!(
        out,
        "of {} mixes of the front{}; lines that differ by less than chance are one; each was evaluated again in full",
        m.front.len(),
        if m.front_whole { "" } else { ", evenly spread over it" }
    );
    let rest = &m.rest;
    if !rest.keeps_out.is_empty() {
        let words: Vec<String> = rest.keeps_out.iter().map(kept_out).collect();
        let _ = writeln!(out, "\nlighter skins are kept out by: {}", words.join(", "));
    }
    if let Some(k) = rest.kg_per_repair_h {
        let _ = writeln!(out, "one more repair hour per 100 outings would save {:.0} g", k * 1000.0);
    }
    for r in &rest.relaxed {
        let saved = r.saves_kg.map_or_else(|| "still no mix".to_owned(), |k| format!("saves {k:.2} kg"));
        let moved = r.front.map_or_else(String::new, |(kg, h)| {
            format!("; the front moves by up to {kg:.2} kg, there at {h:.1} repair h per 100 outings")
        });
        let _ = writeln!(out, "{}: {saved}{moved}", r.what);
    }
    if !m.caps.is_empty() {
        let _ = writeln!(out, "\nlightest with each pair of caps, expected:");
        for c in &m.caps {
            let _ = writeln!(out, "  {} above, {} below: {}", c.upper, c.lower, came_of(c));
        }
    }
    if rest.by_press.len() > 1 {
        let words: Vec<String> = rest.by_press.iter().map(|(n, kg)| format!("{n} N {kg:.2} kg")).collect();
        let _ = writeln!(out, "lightest by least press load: {}", words.join(", "));
    }
    let (beaten, barred): (Vec<_>, Vec<_>) = rest.never.iter().partition(|(_, why)| why == BEATEN);
    if !rest.never.is_empty() {
        let _ =
            writeln!(out, "never on the front ({} more are allowed everywhere and beaten everywhere):", beaten.len());
        for (what, why) in barred {
            let _ = writeln!(out, "  {what}: {why}");
        }
    }
    out
}

fn row_json(r: &Row) -> Value {
    let strips: serde_json::Map<String, Value> = r
        .design
        .strips
        .iter()
        .map(|s| {
            let runs = s.runs.iter().map(|x| {
                let key = r.design.constructions.get(x.construction).map_or("", |c| c.key.as_str());
                json!({"to": x.to_eta, "use": key})
            });
            (s.strip.key().to_owned(), runs.collect())
        })
        .collect();
    json!({
        "expected_kg": r.expected_kg, "budget_kg": r.budget_kg, "repair_h_per_100": r.repair_h,
        "durability_index": r.index, "outings_lost_per_100": r.outings_lost, "least_press_n": r.least_press_n,
        "hours": r.hours, "cost": r.cost, "verdict": r.verdict.word(),
        "least_margin": r.least_margin.map(|m| json!({"mode": m.mode, "bay": m.bay.map(|b| b + 1), "value": m.rf, "judged_at": m.judged.key()})),
        "moved_kg": r.moved_kg(), "moved_h": r.moved_h(), "family": r.family, "simplicity_kg": r.simplicity_kg, "constructions": r.constructions, "changes": r.changes,
        "binds": binds(r), "skins": strips,
        "caps": {"upper": kind(&r.design, &r.design.spar.upper), "lower": kind(&r.design, &r.design.spar.lower)},
    })
}

/// Everything of it.
pub fn as_json(m: &Mix) -> Value {
    json!({
        "format": 1,
        "lightest": m.lightest.as_ref().map(row_json),
        "rows": m.rows.iter().map(row_json).collect::<Vec<_>>(),
        "front": m.front,
        "front_whole": m.front_whole,
        "status": m.status.word(),
        "proven_for": FOR_THIS,
        "bound_kg": m.bound_kg,
        "passes": m.passes,
        "taken_out": m.taken_out,
        "tick_h": m.ticks.hour_h,
        "rounding_bound_h": m.zones as f64 * m.ticks.hour_h,
        "why_none": m.why_none,
        "caps_tried": m.caps.iter().map(|c| json!({
            "upper": c.upper, "lower": c.lower, "lightest_kg": c.lightest_kg, "status": c.status.word(), "why_none": c.why_none,
        })).collect::<Vec<_>>(),
        "never": m.rest.never,
        "keeps_out": m.rest.keeps_out,
        "relaxed": m.rest.relaxed.iter().map(|r| json!({
            "what": r.what, "saves_kg": r.saves_kg,
            "front_moves": r.front.map(|(kg, h)| json!({"by_kg": kg, "at_repair_h_per_100": h})),
        })).collect::<Vec<_>>(),
        "kg_per_repair_h": m.rest.kg_per_repair_h,
        "by_press_n": m.rest.by_press,
    })
}
