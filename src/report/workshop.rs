//! The workshop in words: the sheet of a proof load by bags.

use std::fmt::Write as _;

use serde_json::{Value, json};

use crate::physics::design::Design;
use crate::physics::evaluation::Evaluation;
use crate::physics::workshop::proof_load::{Plan, STEPS};
use crate::physics::workshop::seen;
use crate::report::{NOT_ASSESSED_SHORT, gives_first};

/// Mass of a bag when none is named, kg.
pub const BAG_KG: f64 = 5.0;

/// What belongs on every sheet that sends somebody to load a wing.
pub fn cautions() -> Vec<String> {
    [
        "A proof load is no approval to fly. Your authority's rules say what must be shown and how. A qualified person reviews this plan and the rig beforehand, watches, and inspects the wing afterwards.",
        "The wing that will fly goes to limit load only: more breaks it. Ultimate load is for a panel that never flies.",
        "A wing that breaks falls at once and throws bags: blocks under both tips a hand below where they should come to, nobody under or beside it, eye protection and boots.",
        "Both halves alike, bag by bag, root to tip at each step, so that no heap slides to one side; unload the other way round.",
        "Stop at any creak, at a tip further down than the sheet says, or when the halves differ: unload, look, ask.",
        "Bags on the quarter chord show bending and shear. They do not show torsion, air pressure on skins and coverings or control loads. Weigh the finished wing first and plan again with that mass.",
        NOT_ASSESSED_SHORT,
    ]
    .map(str::to_owned)
    .to_vec()
}

/// The verdict on laying this case at all.
pub fn short(design: &Design, plan: &Plan) -> Vec<String> {
    gives_first::short(design, &plan.first, "case")
}

/// What gives first, by what this case alone leaves.
pub fn first(design: &Design, plan: &Plan) -> Vec<String> {
    gives_first::lines(design, &plan.first)
}

/// Title, and what the plan is for.
pub fn head(e: &Evaluation, plan: &Plan) -> Vec<String> {
    let Some(case) = e.loads.cases.get(plan.case) else { return Vec::new() };
    let way = if plan.upside_down { "UPSIDE DOWN" } else { "right way up" };
    let laid: u32 = plan.stations.iter().map(|s| s.bags[STEPS.len() - 1]).sum();
    vec![
        format!(
            "{} (n {:+.2}), limit load, wing {way}, held at the root; both halves loaded alike",
            case.title, case.n
        ),
        format!(
            "{laid} bags of {} kg on each half, {:.0} kg; the half itself weighs {:.1} kg and pushes with them",
            plan.bag_kg,
            f64::from(laid) * plan.bag_kg,
            plan.half_kg
        ),
        format!(
            "whole bags give {:.1} to {:.1} % of the moment of the case over the inner half{}",
            100.0 * plan.moment_share.0,
            100.0 * plan.moment_share.1,
            if plan.moment_share.0 < NEAR_ENOUGH { "; smaller bags come nearer" } else { "" }
        ),
    ]
}

/// Share of the moment of a case below which smaller bags are worth their trouble. A choice.
const NEAR_ENOUGH: f64 = 0.95;

/// How far the tip goes at each step.
pub fn tips(plan: &Plan) -> String {
    let each: Vec<String> = STEPS
        .iter()
        .zip(&plan.tip_m)
        .map(|(s, tip)| format!("{:.0} % {:.0} mm", 100.0 * s, 1e3 * tip.max(0.0)))
        .collect();
    format!(
        "tip from the empty rig: {} (the empty half hangs {:.0} mm already); as far as that, or stop",
        each.join(", "),
        1e3 * plan.own_tip_m
    )
}

/// What the columns of the table are.
pub const COLUMNS: &str = "mm from the root, heap mm behind the nose; kg asked at limit; bags laid in all";

/// How far the tip goes at each step, under the columns of the table; then the same with what was seen in earlier proof loads.
pub fn tip_rows(design: &Design, plan: &Plan) -> Vec<String> {
    let row = |words: &str, of: &dyn Fn(f64) -> f64| {
        let mut row = format!("{words:<38}");
        for tip in &plan.tip_m {
            let _ = write!(row, "{:>7.0}", of(1e3 * tip.max(0.0)));
        }
        row
    };
    let mut out = vec![row("tip from the empty rig, mm", &|mm| mm)];
    out.extend(seen::learn(&design.proofs).ei.map(|ei| row("the same with what was seen, mm", &|mm| ei.next(mm)[0])));
    out
}

/// What the tip does beside that.
pub fn tip_words(design: &Design, plan: &Plan) -> String {
    let hangs = 1e3 * plan.own_tip_m;
    let row = if seen::learn(&design.proofs).ei.is_some() { "the row with what was seen" } else { "this row" };
    format!("the empty half hangs {hangs:.0} mm already; the tip goes as far as {row} says, or stop")
}

/// The tip at limit with what was seen in earlier proof loads; nothing where nothing was.
pub fn corrected(design: &Design, plan: &Plan) -> Option<String> {
    let ei = seen::learn(&design.proofs).ei?;
    let at = 1e3 * plan.tip_m[STEPS.len() - 1].max(0.0);
    let [mid, least, most] = ei.next(at);
    Some(format!(
        "with what was seen (EI {:.2} of computed) the tip goes {mid:.0} mm at limit, {least:.0} to {most:.0} in eight of ten; as computed {at:.0}",
        ei.ln.exp()
    ))
}

/// One line for each bay: where, and the bags laid in all at each step.
pub fn table(plan: &Plan) -> (String, Vec<String>) {
    let mut head = "bay   from    to  heap  behind   asked".to_owned();
    for s in STEPS {
        let _ = write!(head, "{:>6.0}%", 100.0 * s);
    }
    let rows = plan
        .stations
        .iter()
        .map(|s| {
            let mut row = format!(
                "{:>3}{:>7.0}{:>6.0}{:>6.0}{:>8.0}{:>8.1}",
                s.bay + 1,
                1e3 * s.from_m,
                1e3 * s.to_m,
                1e3 * s.y_m,
                1e3 * s.x_m,
                s.asked_kg
            );
            for n in s.bags {
                let word = if n == 0 { "bare".to_owned() } else { n.to_string() };
                let _ = write!(row, "{word:>7}");
            }
            row
        })
        .collect();
    (head, rows)
}

/// The sheet.
pub fn text(design: &Design, e: &Evaluation, plan: &Plan) -> String {
    let mut out = format!("PROOF LOAD BY BAGS: {}\n", design.name);
    for line in head(e, plan).into_iter().chain(short(design, plan)) {
        let _ = writeln!(out, "{line}");
    }
    let (columns, rows) = table(plan);
    let _ = writeln!(
        out,
        "\nmm from the root, heaps mm behind the nose (quarter chord); kg asked at limit; bags laid in all at each step\n{columns}\n{}",
        tip_rows(design, plan).join("\n")
    );
    for row in rows {
        let _ = writeln!(out, "{row}");
    }
    let _ = writeln!(out, "\n{}", tip_words(design, plan));
    if let Some(line) = corrected(design, plan) {
        let _ = writeln!(out, "{line}");
    }
    let _ = writeln!(out, "gives first, of what the bags bring on:");
    for line in first(design, plan) {
        let _ = writeln!(out, "  {line}");
    }
    out.push('\n');
    for line in cautions() {
        let _ = writeln!(out, "{line}");
    }
    out.lines().map(super::holds::broken).collect()
}

/// The same lines for the screen: what does not stand in the table.
pub fn lines(design: &Design, e: &Evaluation, plan: &Plan) -> Vec<String> {
    let mut out = head(e, plan);
    out.extend(short(design, plan));
    out.push(tips(plan));
    out.push("gives first, of what the bags bring on:".to_owned());
    out.extend(first(design, plan).into_iter().map(|l| format!("  {l}")));
    out.push(String::new());
    out.extend(cautions());
    out
}

/// For other programs.
pub fn json(design: &Design, e: &Evaluation, plan: &Plan) -> Value {
    let case = e.loads.cases.get(plan.case);
    let stations: Vec<Value> = plan
        .stations
        .iter()
        .map(|s| {
            json!({
                "bay": s.bay + 1, "from_m": s.from_m, "to_m": s.to_m, "heap_y_m": s.y_m, "heap_behind_nose_m": s.x_m,
                "asked_kg": s.asked_kg, "bags": s.bags,
            })
        })
        .collect();
    json!({
        "scenario": design.name, "case": case.map(|c| c.key), "load_factor": case.map(|c| c.n), "upside_down": plan.upside_down,
        "bag_kg": plan.bag_kg, "steps": STEPS, "stations": stations, "half_kg": plan.half_kg, "tip_m": plan.tip_m,
        "own_tip_m": plan.own_tip_m, "tip_at_limit_as_seen_m": seen::learn(&design.proofs).ei.map(|r| r.next(plan.tip_m[STEPS.len() - 1])),
        "moment_share": [plan.moment_share.0, plan.moment_share.1], "gives_first": gives_first::json(design, &plan.first),
        "cautions": cautions(),
    })
}
