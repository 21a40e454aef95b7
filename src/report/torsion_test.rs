//! The sheet of a torsion test of a half wing.

use std::fmt::Write as _;

use serde_json::{Value, json};

use crate::physics::design::Design;
use crate::physics::evaluation::Evaluation;
use crate::physics::workshop::proof_load::STEPS;
use crate::physics::workshop::seen::Lessons;
use crate::physics::workshop::torsion_test::{Arm, InBay, Plan, Pointers};
use crate::report::{NOT_ASSESSED_SHORT, gives_first};

/// Distance between the two lines of a frame when none is named, m.
pub const BETWEEN_M: f64 = 1.0;

/// What belongs on this sheet.
pub fn cautions() -> Vec<String> {
    [
        "A proof load is no approval to fly. Your authority's rules say what must be shown and how. A qualified person reviews this plan and the rig beforehand, watches, and inspects the wing afterwards.",
        "The wing that will fly goes to limit load only. A half that lets go in torsion whips the frame round and drops both weights: nobody within reach of frame or lines, weights a hand above the floor, eye protection.",
        "Hold the root as the wing is held in flight, so that it neither turns nor rocks: pointers at the root too, and take off what they show.",
        "A frame is cut to the outline of its rib, padded, clamped on that rib and nowhere on skin between ribs; its own weight is taken off by a line to the ceiling through the spar.",
        "A couple is two equal pulls: one line down at one end of the frame, one up over a pulley at the other. A single weight bends the wing as well.",
        "Stop at any creak, at a wrinkle that stays, at pointers beyond the sheet, or when they do not go back to nought: unload, look, ask.",
        "Couples show torsion of the closed box. They do not show bending, shear, air pressure, the tip beyond the outer frame or divergence.",
        NOT_ASSESSED_SHORT,
    ]
    .map(str::to_owned)
    .to_vec()
}

/// Title, and what the plan is for.
pub fn head(e: &Evaluation, plan: &Plan) -> Vec<String> {
    let way = if plan.nose_up { "NOSE UP" } else { "NOSE DOWN" };
    let root = plan.bays.first();
    let case =
        root.and_then(|b| e.loads.cases.get(b.case)).map_or_else(String::new, |c| format!("{} [{}]", c.title, c.key));
    let mut out = vec![format!(
        "couples turn the half {way}, as the flight cases do most ({case} at the root); limit load, root held, one half at a time; the other way they ask {:.0} % of it",
        100.0 * plan.other_way
    )];
    let frames: Vec<String> =
        plan.arms.iter().map(|a| format!("{:.0} mm out with {:.0} N m", 1e3 * a.y_m, a.couple_nm.abs())).collect();
    out.push(format!("frames on the ribs {}; their lines {:.0} mm apart", frames.join(" and "), 1e3 * plan.between_m));
    out.extend(plan.moved.iter().cloned());
    if let Some(b) = root {
        out.push(format!(
            "asked is the torque that gives the nose the shear flow of the case, torsion and shear together: {:.0} N m at the root, where its plain torsion T is {:.0} (the Strength page shows T)",
            b.asked_nm, b.plain_nm
        ));
    }
    let half = e.layout.half_span_m / 2.0;
    let inner: Vec<f64> = plan.bays.iter().filter(|b| b.from_m < half).map(InBay::share).collect();
    let (least, most) = inner.iter().fold((f64::INFINITY, 0.0_f64), |a, s| (a.0.min(*s), a.1.max(*s)));
    out.push(format!(
        "they bring {:.0} to {:.0} % of what is asked in the bays of the inner half, and nowhere more than all of it",
        100.0 * least,
        100.0 * most
    ));
    let (times, bays) = plan.to_root;
    if bays > 0 && times > 1.005 {
        let bays = if bays == 1 { "1 bay".to_owned() } else { format!("{bays} bays") };
        out.push(format!(
            "to bring the root all of it the couples would be {times:.2} times as great and {bays} over limit, those beside the frames as many times: do not; what they leave stays unproven"
        ));
    }
    out
}

fn row(label: &str, values: [f64; STEPS.len()], digits: usize) -> String {
    let mut out = format!("{label:<38}");
    for v in values {
        let _ = write!(out, "{v:>7.digits$}");
    }
    out
}

/// Heading of the rows by step.
pub fn steps() -> String {
    let mut out = format!("{:<38}", "share of limit");
    for s in STEPS {
        let _ = write!(out, "{:>6.0}%", 100.0 * s);
    }
    out
}

/// A chord that turns: degrees, and its two pointers.
fn turned(plan: &Plan, p: &Pointers) -> [String; 3] {
    let (nose, tail) = if plan.nose_up { ("up", "down") } else { ("down", "up") };
    let by = |m: f64| p.turn_rad.map(|t| 1e3 * m * t.abs().sin());
    [
        row(&format!("chord {:.0} mm out turns, degrees", 1e3 * p.y_m), p.turn_rad.map(|t| t.abs().to_degrees()), 2),
        row(&format!("  pointer on its nose goes {nose}, mm"), by(p.ahead_m), 1),
        row(&format!("  pointer on its tail goes {tail}, mm"), by(p.behind_m), 1),
    ]
}

/// Weights and pointers at each step.
pub fn by_step(plan: &Plan) -> Vec<String> {
    let weight =
        |a: &Arm| row(&format!("frame {:.0} mm out, each line, kg", 1e3 * a.y_m), STEPS.map(|s| s * a.bucket_kg), 1);
    let turns = plan.pointers.iter().flat_map(|p| turned(plan, p));
    plan.arms.iter().map(weight).chain(turns).collect()
}

/// What the columns of the table of bays are.
pub const COLUMNS: &str = "mm from the root; N m at limit: T of the case, asked (T and what its shear adds in the nose), laid by the test; share of asked; whose case";

/// The bays.
pub fn table(e: &Evaluation, plan: &Plan) -> (String, Vec<String>) {
    let head = "bay   from    to       T   asked    laid  share  case".to_owned();
    let line = |b: &InBay| {
        let case = e.loads.cases.get(b.case).map_or("", |c| c.key);
        format!(
            "{:>3}{:>7.0}{:>6.0}{:>8.0}{:>8.0}{:>8.0}{:>6.0}%  {case}",
            b.bay + 1,
            1e3 * b.from_m,
            1e3 * b.to_m,
            b.plain_nm,
            b.asked_nm,
            b.laid_nm,
            100.0 * b.share()
        )
    };
    (head, plan.bays.iter().map(line).collect())
}

/// Keys and titles of the cases in the table.
pub fn legend(e: &Evaluation, plan: &Plan) -> String {
    let mut all: Vec<usize> = plan.bays.iter().map(|b| b.case).collect();
    all.sort_unstable();
    all.dedup();
    let words = all.into_iter().filter_map(|c| e.loads.cases.get(c)).map(|c| format!("{}: {}", c.key, c.title));
    format!("cases: {}", words.collect::<Vec<_>>().join("; "))
}

/// The turn of the outer frame at limit with what was seen; nothing where nothing was.
pub fn corrected(plan: &Plan, lessons: &Lessons) -> Option<String> {
    let (gj, outer) = (lessons.gj?, plan.arms.first()?.edge);
    let p = plan.pointers.iter().find(|p| p.edge == outer)?;
    let at = p.turn_rad[STEPS.len() - 1].abs().to_degrees();
    let [mid, least, most] = gj.next(at);
    Some(format!(
        "with what was seen (GJ {:.2} of computed) the chord {:.0} mm out turns {mid:.2} degrees at limit, {least:.2} to {most:.2} in eight of ten; as computed {at:.2}",
        gj.ln.exp(),
        1e3 * p.y_m
    ))
}

/// The sheet in lines, its title left out.
pub fn lines(design: &Design, e: &Evaluation, plan: &Plan, lessons: &Lessons) -> Vec<String> {
    let mut out = gives_first::short(design, &plan.first, "test");
    out.extend(head(e, plan));
    out.push(String::new());
    out.push(steps());
    out.extend(by_step(plan));
    out.extend(corrected(plan, lessons));
    out.push(String::new());
    let (columns, rows) = table(e, plan);
    out.extend([COLUMNS.to_owned(), columns]);
    out.extend(rows);
    out.push(legend(e, plan));
    out.push(String::new());
    out.push("gives first, of what couples bring on:".to_owned());
    out.extend(gives_first::lines(design, &plan.first).into_iter().map(|l| format!("  {l}")));
    out.push(String::new());
    out.extend(cautions());
    out
}

/// Where its numbers come from.
pub fn working(e: &Evaluation) -> Vec<String> {
    let root = e.sections.first();
    vec![
        "asked: T + V fV/fT of every flight case that is on, V and T at the inner edge of a bay, f the shear flow round the nose for each unit; the torque that gives the nose the flow of the case".to_owned(),
        "couples: the greatest that bring no edge inboard of their frame more than is asked there; ribs: of all choices the one that brings the bays of the inner half nearest to it".to_owned(),
        "turn: C (cos int cos/GJ ds + sin int sin/EI ds), angle of sweep of the spar; GJ of one or two closed cells after Bredt and Batho; about the shear centre; free warping".to_owned(),
        "weights: couple over the distance of the lines and 9.80665 m/s2".to_owned(),
        format!(
            "GJ root {:.0} N m2, shear centre {:+.0} mm behind the spar there",
            root.map_or(0.0, |s| s.gj_nm2),
            1e3 * root.map_or(0.0, |s| s.shear_centre_m)
        ),
        "gives first: the failure modes of the Strength page under these loads, times the factor to ultimate unless said".to_owned(),
        "sources: Johnson, Advanced Structural Mechanics, 2000; Megson; steps of load: practice, no source".to_owned(),
    ]
}

/// The sheet.
pub fn text(design: &Design, e: &Evaluation, plan: &Plan, lessons: &Lessons) -> String {
    let mut out = format!("TORSION TEST OF A HALF WING: {}\n", design.name);
    for line in lines(design, e, plan, lessons) {
        let _ = writeln!(out, "{line}");
    }
    out.lines().map(super::holds::broken).collect()
}

/// For other programs.
pub fn json(design: &Design, e: &Evaluation, plan: &Plan, lessons: &Lessons) -> Value {
    let key = |case: usize| e.loads.cases.get(case).map(|c| c.key);
    let arms: Vec<Value> = plan
        .arms
        .iter()
        .map(|a| json!({"y_m": a.y_m, "couple_nm": a.couple_nm, "each_line_kg": STEPS.map(|s| s * a.bucket_kg)}))
        .collect();
    let pointers: Vec<Value> = plan
        .pointers
        .iter()
        .map(|p| {
            json!({
                "y_m": p.y_m, "to_nose_m": p.ahead_m, "to_tail_m": p.behind_m, "turn_rad": p.turn_rad,
                "turn_deg": p.turn_rad.map(f64::to_degrees),
            })
        })
        .collect();
    let bays: Vec<Value> = plan
        .bays
        .iter()
        .map(|b| {
            json!({
                "bay": b.bay + 1, "from_m": b.from_m, "to_m": b.to_m, "plain_torsion_nm": b.plain_nm, "asked_nm": b.asked_nm, "laid_nm": b.laid_nm,
                "share": b.share(), "case": key(b.case),
            })
        })
        .collect();
    let gj = lessons.gj.map(|r| json!({"ratio": r.band(), "records": r.records}));
    json!({
        "scenario": design.name, "nose_up": plan.nose_up, "between_lines_m": plan.between_m, "steps": STEPS, "frames": arms,
        "pointers": pointers, "bays": bays, "other_way_share": plan.other_way, "to_bring_the_root_all": {
            "times": plan.to_root.0, "bays_over": plan.to_root.1 },
        "asked_is": "T + V fV/fT: the torque that gives the nose the shear flow of the case", "moved": plan.moved,
        "gives_first": gives_first::json(design, &plan.first), "gj_seen_over_computed": gj, "cautions": cautions(),
    })
}
