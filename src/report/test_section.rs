//! The sheet of a section made to be broken.

use std::fmt::Write as _;

use serde_json::{Value, json};

use crate::physics::design::Design;
use crate::physics::evaluation::Evaluation;
use crate::physics::units::GRAVITY_M_S2;
use crate::physics::workshop::proof_load::STEPS;
use crate::physics::workshop::rig::Rig;
use crate::physics::workshop::seen::Lessons;
use crate::physics::workshop::test_section::{Break, Plan, SHOP_C};
use crate::report::text::mode_title;

/// What belongs on this sheet.
pub fn cautions() -> Vec<String> {
    [
        "A section that breaks lets go all at once: load it from behind a screen or by a jack from afar, chain the arm and the loads so that they fall a hand's breadth, eye and ear protection, nobody beside it.",
        "It is made to be broken and never flies, nor does any piece of it. Only such a section goes to ultimate and beyond.",
        "Make it as the wing is made: same cloth, resin, hands, tool and cure, not better. Weigh it first; over 5 % from the sheet it is another section.",
        "Lay one more layer on the caps within two depths of hold, arm, supports and pads, and spread every load, or it breaks there and tells nothing.",
        "One section is one section: the band of the next narrows slowly. Stop to look at creaks; write down load, place and look of the first thing that gave.",
        "A qualified person reviews plan and rig. What a section shows is no approval to fly, and shows no joints, no layer ends, no torsion and no fatigue.",
    ]
    .map(str::to_owned)
    .to_vec()
}

fn numbers(bays: &[usize]) -> String {
    let all = bays.iter().map(|b| (b + 1).to_string()).collect::<Vec<_>>().join(" ");
    if bays.len() == 1 { format!("bay {all} alone") } else { format!("the bays {all}") }
}

/// What it is and what it stands for.
pub fn head(e: &Evaluation, p: &Plan) -> Vec<String> {
    let b = e.layout.bays.get(p.bay);
    let from = b.map_or(0.0, |b| 1e3 * b.inner.y_m);
    let case = e.loads.cases.get(p.case).map_or("", |c| c.title);
    let l = p.lengths;
    let with = if p.nose { "spar and nose skins" } else { "spar alone" };
    let mut out = vec![
        format!(
            "{with}, like bay {} at its inner edge ({from:.0} mm out); stands for {}",
            p.bay + 1,
            numbers(&p.stands_for)
        ),
        format!(
            "at ultimate of {case} it sees {:.0} N m and {:.0} N together; torque of the case is not brought",
            p.moment_nm, p.shear_n
        ),
    ];
    out.push(match p.rig {
        Rig::Cantilever => format!(
            "{}: {:.0} mm from hold to load, {:.0} mm of it section, the rest a stiff arm; moment and shear meet at the hold",
            p.rig.words(),
            1e3 * l.arm_m,
            1e3 * l.length_m
        ),
        Rig::ThreePoint => format!(
            "{}: supports {:.0} mm apart, all of it section; moment and shear meet beside the load",
            p.rig.words(),
            2e3 * l.arm_m
        ),
        Rig::FourPoint => format!(
            "{}: {:.0} mm from a support to its load, {:.0} mm between the loads, all of it section; moment alone between them, with the shear just outside",
            p.rig.words(),
            1e3 * l.arm_m,
            1e3 * l.inner_m
        ),
    });
    out.push(format!("make {:.0} mm; it should weigh {:.2} kg without doublers and blocks", 1e3 * p.made_m, p.mass_kg));
    out.extend(too_long(e, p));
    out.push(p.pad_m.map_or_else(
        || "no pad is long enough for this web: put blocks of wood in it under every load".to_owned(),
        |pad| format!("spread each load over {:.0} mm at least, or put blocks of wood in the web under it", 1e3 * pad),
    ));
    out
}

/// What is wrong with a section that is longer than the wing it stands for.
pub fn too_long(e: &Evaluation, p: &Plan) -> Option<String> {
    let shorter = p.too_long.as_ref()?;
    let half = 1e3 * e.layout.half_span_m;
    let next = match shorter.first() {
        Some((rig, made_m)) => format!("--rig {} is shorter, {:.0} mm", rig.key(), 1e3 * made_m),
        None => "no rig is shorter here: name a bay nearer the tip".to_owned(),
    };
    Some(format!(
        "IT CANNOT BE BUILT LIKE THAT: {:.0} mm is longer than the half wing, {half:.0} mm; {next}",
        1e3 * p.made_m
    ))
}

fn row(label: &str, values: [f64; STEPS.len()]) -> String {
    let mut out = format!("{label:<38}");
    for v in values {
        let _ = write!(out, "{v:>7.0}");
    }
    out
}

/// Loads and deflection by step.
pub fn by_step(p: &Plan) -> Vec<String> {
    let mut head = format!("{:<38}", "share of ultimate");
    for s in STEPS {
        let _ = write!(head, "{:>6.0}%", 100.0 * s);
    }
    let mut out = vec![
        head,
        row("all loads together, N", STEPS.map(|s| s * p.load_n)),
        row("the same, kg", STEPS.map(|s| s * p.load_n / GRAVITY_M_S2)),
    ];
    match p.deflection_m {
        Some(d) => out.push(row("the load point goes, mm", d.map(|d| 1e3 * d))),
        None => out.push("how far the load point goes is not shown: the web carries no shear".to_owned()),
    }
    if p.stiffest < 0.995 {
        out.push(format!("nose skins may make it up to {:.0} % less", 100.0 * (1.0 - p.stiffest)));
    }
    out
}

/// Heading of the modes it may break by.
pub const BREAKS: &str = "breaks by                        margin allows   likely   5 to 95 %, N";

/// A mode it may break by.
pub fn one_break(b: &Break) -> String {
    let title: String = mode_title(b.mode).chars().take(32).collect();
    format!("{title:<32}{:>14.0}{:>9.0}   {:.0} to {:.0}", b.allowed_n, b.likely_n, b.band_n[0], b.band_n[1])
}

/// What the section shows when it stands.
pub fn shows(p: &Plan) -> Vec<String> {
    let Some(first) = p.breaks.first() else { return vec!["no mode of it is shown".to_owned()] };
    let mut out = vec![format!("breaks first, likely: {} at {:.0} N", mode_title(first.mode), first.likely_n)];
    let close = p.breaks.get(1).filter(|b| b.band_n[0] < first.band_n[1]);
    if let Some(next) = close {
        out.push(format!("the bands overlap: {} may come first", mode_title(next.mode)));
    }
    let show = p.breaks.iter().map(|b| b.to_show_n).fold(p.load_n, f64::max);
    out.push(format!(
        "standing {:.0} N it holds ultimate; {show:.0} N in a shop at {SHOP_C:.0} C, so that warm cores are shown too",
        p.load_n
    ));
    if first.likely_n < p.load_n {
        out.push("it is likely to break BEFORE ultimate: change the wing, not the test".to_owned());
    }
    out
}

/// The prediction with what other sections showed.
pub fn corrected(p: &Plan, lessons: &Lessons) -> Vec<String> {
    let of = |b: &Break| {
        let k = lessons.strength.iter().find(|s| s.mode == b.mode)?;
        let [mid, least, most] = k.next(b.likely_n);
        Some(format!(
            "with {} broken: {} at {mid:.0} N, {least:.0} to {most:.0} (5 to 95 %)",
            if k.known.specimens == 1 { "one section".to_owned() } else { format!("{} sections", k.known.specimens) },
            mode_title(b.mode)
        ))
    };
    let mut out: Vec<String> = p.breaks.iter().filter_map(of).collect();
    if let (Some(ei), Some(d)) = (lessons.ei, p.deflection_m) {
        let [mid, least, most] = ei.next(1e3 * d[STEPS.len() - 1]);
        out.push(format!(
            "with EI {:.2} of computed as seen the load point goes {mid:.0} mm at ultimate, {least:.0} to {most:.0}",
            ei.ln.exp()
        ));
    }
    out
}

/// The sheet in lines.
pub fn lines(e: &Evaluation, p: &Plan, lessons: &Lessons) -> Vec<String> {
    let mut out = head(e, p);
    out.push(String::new());
    out.extend(by_step(p));
    out.push(String::new());
    out.push(BREAKS.to_owned());
    out.extend(p.breaks.iter().map(one_break));
    out.extend(shows(p));
    out.extend(corrected(p, lessons));
    out.push(String::new());
    out.extend(cautions());
    out
}

/// Where its numbers come from.
pub fn working(e: &Evaluation, p: &Plan) -> Vec<String> {
    let s = e.sections.get(p.bay);
    vec![
        "bay and case: the least margin of the wing in a mode that a section can show; arm = moment over shear of that case, so that both meet in one place".to_owned(),
        "load point: cantilever P ((a3 - (a-l)3)/(3 EI) + l/GA); load in the middle P L3/(48 EI) + P L/(4 GA); two loads P a2 (3 L - 4 a)/(12 EI) + P a/(2 GA); GA = G t of the web times the cap lever".to_owned(),
        format!(
            "EI {:.0} N m2, cap lever {:.1} mm at the inner edge of bay {}",
            s.map_or(0.0, |s| s.ei_nm2),
            1e3 * s.map_or(0.0, |s| s.cap_lever_m),
            p.bay + 1
        ),
        format!("margin allows: ultimate load times RF^(1/power) of each mode, cores at {SHOP_C:.0} C, safety factor inside ultimate"),
        "likely: that, with what the mode holds back taken back (0.8 on mean strain; half of waviness 0.7 and of the 0.64 for imperfection; 1.2 least to nominal core; 3 of the glue). Bands: lognormal. All assumptions until sections are broken".to_owned(),
        "pad: its load at the upper end of the first band over what the web stands upright less what bent caps press on it".to_owned(),
        "mass: the parts list of that bay for a metre of spar, growth of an estimate in it".to_owned(),
        "sources: beam tables of Gere and Goodno (from memory); the modes as `explain MODE` tells".to_owned(),
    ]
}

/// The sheet.
pub fn text(design: &Design, e: &Evaluation, p: &Plan, lessons: &Lessons) -> String {
    let mut out = format!("A SECTION MADE TO BE BROKEN: {}\n", design.name);
    for line in lines(e, p, lessons) {
        let _ = writeln!(out, "{line}");
    }
    out.lines().map(super::holds::broken).collect()
}

/// For other programs.
pub fn json(design: &Design, e: &Evaluation, p: &Plan, lessons: &Lessons) -> Value {
    let breaks: Vec<Value> = p
        .breaks
        .iter()
        .map(|b| {
            json!({
                "mode": b.mode, "margin_allows_n": b.allowed_n, "likely_n": b.likely_n, "p5_p95_n": b.band_n,
                "to_show_it_hot_n": b.to_show_n,
                "seen_over_likely": lessons.strength.iter().find(|s| s.mode == b.mode).map(|s| s.known.shift.exp()),
            })
        })
        .collect();
    json!({
        "scenario": design.name, "bay": p.bay + 1, "stands_for": p.stands_for.iter().map(|b| b + 1).collect::<Vec<_>>(),
        "case": e.loads.cases.get(p.case).map(|c| c.key), "moment_ultimate_nm": p.moment_nm, "shear_ultimate_n": p.shear_n,
        "rig": p.rig.key(), "nose": p.nose, "arm_m": p.lengths.arm_m, "between_loads_m": p.lengths.inner_m,
        "section_m": p.lengths.length_m, "made_m": p.made_m, "cannot_be_built": too_long(e, p), "mass_kg": p.mass_kg, "load_ultimate_n": p.load_n, "steps": STEPS,
        "deflection_m": p.deflection_m, "stiffest_share": p.stiffest, "pad_m": p.pad_m, "breaks": breaks,
        "cautions": cautions(),
    })
}
