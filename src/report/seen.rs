//! What was seen in proof loads, what it says of stiffness and strength, and what follows from it and what does not.

use std::fmt::Write as _;

use serde_json::{Value, json};

use crate::physics::design::Design;
use crate::physics::evaluation::Evaluation;
use crate::physics::mass::weighed::Half;
use crate::physics::strength::{Margin, Verdict};
use crate::physics::workshop::proof_load::{self, STEPS};
use crate::physics::workshop::seen::{
    BAGS_RIG_SD, Broke, EI_SD, FRAME_RIG_SD, GJ_SD, Lessons, Ratio, STEP_SD, Seen, Test, learn,
};
use crate::physics::workshop::torsion_test;
use crate::report::text::{margin_title, mode_title};
use crate::report::{torsion_test as torsion_sheet, vibration, workshop};

/// What follows from it and what does not.
pub const FOLLOWS: [&str; 2] = [
    "It corrects what the next test should do: tip under bags, turn under couples, load point and breaking load of a section; and here, beside what is computed, frequencies and limits of shape.",
    "It corrects NO margin, no layer of the spar, no load, weight, durability or flight: one wing on one day must not make a margin look better. Break samples and sections of the same lay-up for that. Softer than computed by a tenth, or a section that broke below its margin, is warned of everywhere.",
];

/// One record in words.
pub fn record(s: &Seen) -> String {
    let what = match s.test {
        Test::Bags => "tip under bags",
        Test::Torsion => "chord under couples",
        Test::Section => "section",
    };
    let half = if s.half == Half::Both { String::new() } else { format!(", {} half", s.half.key()) };
    let day = if s.date.is_empty() { String::new() } else { format!(", {}", s.date) };
    let mut out = format!("{what}, {:.0} %{half}{day}:", 100.0 * s.step);
    if let Some(p) = s.gave {
        let (unit, per, digits) =
            if s.test == Test::Torsion { ("degrees", 1.0_f64.to_degrees(), 2) } else { ("mm", 1e3, 0) };
        let _ = write!(
            out,
            " computed {:.digits$}, seen {:.digits$} {unit}, {:.2} times as far",
            per * p.computed,
            per * p.seen,
            p.seen / p.computed
        );
    }
    if let Some((p, mode)) = s.broke {
        let _ = write!(
            out,
            "{} broke by {}: likely {:.0}, seen {:.0} N, {:.2} of it",
            if s.gave.is_some() { ";" } else { "" },
            mode_title(mode),
            p.computed,
            p.seen,
            p.seen / p.computed
        );
    }
    if !s.note.is_empty() {
        let _ = write!(out, " ({})", s.note);
    }
    out
}

fn stiffness(what: &str, r: &Ratio) -> String {
    let [mid, least, most] = r.band();
    let before = Ratio { ln: 0.0, sd: r.before_sd, ..*r }.band();
    let readings = if r.records == 1 { "one reading".to_owned() } else { format!("{} readings", r.records) };
    format!(
        "{what} stiffness seen over computed {mid:.2}, {least:.2} to {most:.2} in eight of ten ({readings}; before any {:.2} to {:.2})",
        before[1], before[2]
    )
}

fn strength(b: &Broke) -> String {
    let [mid, least, most] = b.next(1.0);
    format!(
        "{}: breaks at {mid:.2} of the likely load, next section {least:.2} to {most:.2} (5 to 95 %; {} broken)",
        mode_title(b.mode),
        b.known.specimens
    )
}

/// What the records say.
pub fn says(l: &Lessons) -> Vec<String> {
    let mut out: Vec<String> = Vec::new();
    out.extend(l.ei.map(|r| stiffness("bending", &r)));
    out.extend(l.gj.map(|r| stiffness("torsional", &r)));
    out.extend(l.strength.iter().map(strength));
    out
}

/// A number that follows: its words, as computed, with what was seen, least and most where they are known.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    pub what: String,
    pub unit: &'static str,
    pub computed: f64,
    pub corrected: f64,
    pub band: Option<[f64; 2]>,
}

fn margin<'e>(e: &'e Evaluation, mode: &str) -> Option<&'e Margin> {
    let shown = |m: &&Margin| m.mode == mode && !matches!(m.verdict, Verdict::NotShown(_)) && m.rf.is_finite();
    e.margins.iter().find(shown)
}

/// Everything that is shown with and without what was seen.
pub fn rows(d: &Design, e: &Evaluation, l: &Lessons) -> Vec<Row> {
    let mut out = Vec::new();
    let mut give = |what: String, unit: &'static str, computed: f64, r: &Ratio| {
        let [mid, least, most] = r.next(computed);
        out.push(Row { what, unit, computed, corrected: mid, band: Some([least, most]) });
    };
    let last = STEPS.len() - 1;
    let bags = proof_load::cases(&e.loads).first().and_then(|c| proof_load::plan(d, e, *c, workshop::BAG_KG));
    if let (Some(r), Some(p)) = (&l.ei, bags) {
        give("tip under bags at limit".to_owned(), "mm", 1e3 * p.tip_m[last], r);
    }
    let torsion = torsion_test::plan(d, e, &[], torsion_sheet::BETWEEN_M);
    if let (Some(r), Ok(p)) = (&l.gj, torsion)
        && let Some(at) = p.pointers.iter().find(|at| p.arms.first().is_some_and(|a| a.edge == at.edge))
    {
        let what = format!("chord {:.0} mm out under couples at limit", 1e3 * at.y_m);
        give(what, "deg", at.turn_rad[last].abs().to_degrees(), r);
    }
    let v = vibration::of(d, e);
    for (ratio, hz, what) in [(&l.ei, v.bending_hz, "bending"), (&l.gj, v.torsion_hz, "torsion")] {
        if let (Some(r), Some(hz)) = (ratio, hz) {
            let what = format!("{what} frequency (no flutter clearance)");
            out.push(Row { what, unit: "Hz", computed: hz, corrected: r.frequency(hz), band: None });
        }
    }
    out.extend(of_shape(d, e, l));
    out
}

/// Margins of shape with and without what was seen: deflection and twist go with 1/EI and 1/GJ, the divergence speed with the
/// root of GJ.
fn of_shape(d: &Design, e: &Evaluation, l: &Lessons) -> Vec<Row> {
    let mut out = Vec::new();
    for (ratio, mode, power) in [(&l.ei, "tip_deflection", 1.0), (&l.gj, "twist", 1.0), (&l.gj, "divergence", 0.5)] {
        if let (Some(r), Some(m)) = (ratio, margin(e, mode)) {
            let what = format!("{}, RF", margin_title(d, m));
            out.push(Row { what, unit: "", computed: m.rf, corrected: m.rf * (power * r.ln).exp(), band: None });
        }
    }
    out
}

/// Why the verdict does not follow it.
pub const NOT_COUNTED: &str = "the verdict on strength does not count that: one wing on one day moves no margin; look for why it gave more, test again, and have it judged before flight";

/// What holds as computed and is short as seen, a line each, and why the verdict says nothing of it; nothing where none is. Every
/// report says the same.
pub fn short(d: &Design, e: &Evaluation) -> Vec<String> {
    if d.proofs.is_empty() {
        return Vec::new();
    }
    let rows = of_shape(d, e, &learn(&d.proofs));
    let short = rows.iter().filter(|r| r.corrected < 1.0 && r.computed >= 1.0);
    let mut out: Vec<String> = short
        .map(|r| {
            format!("SHORT as seen in proof loads: {} {:.2} computed, {:.2} as seen", r.what, r.computed, r.corrected)
        })
        .collect();
    if !out.is_empty() {
        out.push(NOT_COUNTED.to_owned());
    }
    out
}

/// What the columns are.
pub const COLUMNS: &str = "with and without it                           computed     seen    8 of 10";

/// A number with and without what was seen.
pub fn row(r: &Row) -> String {
    let digits = usize::from(r.unit != "mm") * 2;
    let what: String =
        format!("{}{}{}", r.what, if r.unit.is_empty() { "" } else { ", " }, r.unit).chars().take(45).collect();
    let band = r.band.map_or(String::new(), |[a, b]| format!("   {a:.digits$} to {b:.digits$}"));
    format!("{what:<45}{:>9.digits$}{:>9.digits$}{band}", r.computed, r.corrected)
}

/// Where it comes from, and what follows.
pub fn working() -> Vec<String> {
    let mut out = vec![
        "a record holds what was computed for that test beside what was seen, so a dial turned later changes nothing it taught".to_owned(),
        format!(
            "stiffness: ln(computed/seen) = what all tests share + what one rigging gives + reading; normal laws, spreads before any test {EI_SD:.2} (EI), {GJ_SD:.2} (GJ), rigging {BAGS_RIG_SD:.2} and {FRAME_RIG_SD:.2} with frames, from step to step {STEP_SD:.2}: assumptions"
        ),
        "readings of one test, half and day share a rigging; a reading is off by 2 mm, 0.05 degrees or 1 % of the load unless read_within says more".to_owned(),
        "strength: ln(seen/likely) by mode, by the rule of the samples: an error of the form, scatter widened for few sections".to_owned(),
        String::new(),
    ];
    out.extend(FOLLOWS.map(str::to_owned));
    out
}

/// How to enter what was seen.
pub const ENTER: &str = "nothing was seen yet: `workshop FILE --saw 212 --step 0.8` enters the tip in mm under bags, with --torsion the turn of the outer frame in degrees, with --section --broke-by MODE the load in N";

/// The sheet in lines.
pub fn lines(d: &Design, e: &Evaluation) -> Vec<String> {
    if d.proofs.is_empty() {
        return vec![ENTER.to_owned()];
    }
    let l = learn(&d.proofs);
    let mut out: Vec<String> = d.proofs.iter().map(record).collect();
    out.push(String::new());
    out.extend(says(&l));
    out.push(String::new());
    let rows = rows(d, e, &l);
    if !rows.is_empty() {
        out.push(COLUMNS.to_owned());
        out.extend(rows.iter().map(row));
        out.extend(short(d, e));
        out.push(String::new());
    }
    out.extend(FOLLOWS.map(str::to_owned));
    out
}

/// The sheet.
pub fn text(d: &Design, e: &Evaluation) -> String {
    let mut out = format!("WHAT WAS SEEN IN PROOF LOADS: {}\n", d.name);
    for line in lines(d, e) {
        let _ = writeln!(out, "{line}");
    }
    out.lines().map(super::holds::broken).collect()
}

/// For other programs.
pub fn json(d: &Design, e: &Evaluation) -> Value {
    let l = learn(&d.proofs);
    let ratio =
        |r: &Ratio| json!({"median": r.band()[0], "p10": r.band()[1], "p90": r.band()[2], "readings": r.records});
    let pair = |p: &crate::physics::workshop::seen::Pair| json!({"computed": p.computed, "seen": p.seen, "reading": p.reading});
    let records: Vec<Value> = d
        .proofs
        .iter()
        .map(|s| {
            json!({
                "test": s.test.key(), "step": s.step, "half": s.half.key(), "date": s.date, "note": s.note,
                "gave_m_or_rad": s.gave.as_ref().map(pair), "broke_n": s.broke.as_ref().map(|b| pair(&b.0)),
                "broke_by": s.broke.map(|b| b.1),
            })
        })
        .collect();
    let strength: Vec<Value> = l
        .strength
        .iter()
        .map(|b| {
            let [mid, least, most] = b.next(1.0);
            json!({"mode": b.mode, "median": mid, "p5": least, "p95": most, "sections": b.known.specimens})
        })
        .collect();
    let rows: Vec<Value> = rows(d, e, &l)
        .iter()
        .map(|r| json!({"what": r.what, "unit": r.unit, "computed": r.computed, "as_seen": r.corrected, "p10_p90": r.band}))
        .collect();
    json!({
        "scenario": d.name, "records": records, "bending_stiffness": l.ei.as_ref().map(ratio),
        "torsional_stiffness": l.gj.as_ref().map(ratio), "strength": strength, "with_and_without": rows, "short_as_seen": short(d, e), "follows": FOLLOWS,
    })
}
