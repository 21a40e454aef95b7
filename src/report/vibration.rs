//! Frequencies, mass line and balance of the controls in words and in JSON, with what they are not.

use serde_json::{Value, json};

use crate::physics::design::Design;
use crate::physics::evaluation::Evaluation;
use crate::physics::vibration::{self, NO_CLEARANCE, Vibration};

/// A line for a person: what, value with unit, where, and its working.
pub struct Row {
    pub what: String,
    pub value: String,
    pub place: String,
    pub working: Vec<String>,
}

/// Of a wing as it stands.
pub fn of(design: &Design, e: &Evaluation) -> Vibration {
    vibration::of(design, &e.layout, &e.weight, &e.sections)
}

/// Every number with its working.
pub fn rows(design: &Design, e: &Evaluation) -> Vec<Row> {
    if e.layout.bays.is_empty() {
        return Vec::new();
    }
    let v = of(design, e);
    let hz = |f: Option<f64>| f.map_or("not shown".to_owned(), |f| format!("{f:.1} Hz"));
    let root = e.sections.first();
    let mass: f64 = v.bays.iter().map(|b| b.mass_kg).sum();
    let inertia: f64 = v.bays.iter().map(|b| b.inertia_kg_m2).sum();
    let held = "half wing held at the centre line, alone: no air, pilot, rigging or play in joints; at budget weight";
    let mut out = vec![
        Row {
            what: "lowest bending frequency".to_owned(),
            value: hz(v.bending_hz),
            place: String::new(),
            working: vec![
                "inverse iteration of m w = K w / (2 pi f)^2, Rayleigh's quotient; four lumps a bay along the spar"
                    .to_owned(),
                held.to_owned(),
                format!("half wing {mass:.1} kg, EI root {:.0} N m2", root.map_or(0.0, |s| s.ei_nm2)),
                "source: any text on vibration; checked against tabled beams".to_owned(),
            ],
        },
        Row {
            what: "lowest torsion frequency".to_owned(),
            value: hz(v.torsion_hz),
            place: String::new(),
            working: vec![
                "inverse iteration of I th = K th / (2 pi f)^2 about the shear centre, free warping".to_owned(),
                held.to_owned(),
                format!("half wing {inertia:.2} kg m2, GJ root {:.0} N m2", root.map_or(0.0, |s| s.gj_nm2)),
                "source: any text on vibration; checked against tabled shafts".to_owned(),
            ],
        },
        Row {
            what: "torsion over bending".to_owned(),
            value: v.ratio().map_or("not shown".to_owned(), |r| format!("{r:.1}")),
            place: String::new(),
            working: vec!["ratio of the two lowest frequencies; near 1 they can feed each other".to_owned()],
        },
    ];
    if let Some((bay, frac)) = v.furthest_aft() {
        let b = &v.bays[bay];
        out.push(Row {
            what: "mass behind elastic line".to_owned(),
            value: format!("{:+.0} % chord", 100.0 * frac),
            place: format!("bay {}", bay + 1),
            working: vec![
                "centre of mass of the bay's parts less the shear centre, over the chord; ahead is negative".to_owned(),
                "the bay where it lies furthest aft; all bays in assess --json".to_owned(),
                format!(
                    "bay {}: mass at {:.3} m, shear centre at {:.3} m behind the root's leading edge, chord {:.3} m",
                    bay + 1,
                    b.mass_x_m,
                    b.elastic_x_m,
                    b.chord_m
                ),
            ],
        });
    }
    for c in &v.controls {
        out.push(Row {
            what: format!("balance of {}", c.name),
            value: format!("{:+.3} kg m", c.moment_kg_m),
            place: format!("{:.2} kg", c.mass_kg),
            working: vec![
                "mass of one side's control times its distance behind the hinge; 0 is balanced".to_owned(),
                format!(
                    "{:.3} kg a side, {:.4} m or {:.0} % of its chord behind the hinge; fittings sit at the hinge",
                    c.mass_kg,
                    c.behind_m,
                    100.0 * c.behind_frac
                ),
            ],
        });
    }
    for r in &mut out {
        r.working.push(format!("for information: {NO_CLEARANCE}; flutter is not assessed and needs qualified review"));
    }
    out
}

/// For `assess --json`.
pub fn json(design: &Design, e: &Evaluation) -> Value {
    let v = of(design, e);
    let num = |x: f64| if x.is_finite() { json!(x) } else { Value::Null };
    let bays: Vec<Value> = v
        .bays
        .iter()
        .map(|b| {
            json!({"y_m": num(b.y_m), "mass_kg": num(b.mass_kg), "mass_x_m": num(b.mass_x_m), "shear_centre_x_m": num(b.elastic_x_m),
                "behind_share_of_chord": num(b.behind_frac()), "inertia_kg_m2": num(b.inertia_kg_m2)})
        })
        .collect();
    let controls: Vec<Value> = v
        .controls
        .iter()
        .map(|c| json!({"name": c.name, "mass_kg": num(c.mass_kg), "behind_hinge_m": num(c.behind_m), "moment_kg_m": num(c.moment_kg_m)}))
        .collect();
    json!({
        "for_information": NO_CLEARANCE, "bending_hz": v.bending_hz, "torsion_hz": v.torsion_hz, "torsion_over_bending": v.ratio(),
        "half_wing_bays": bays, "controls": controls,
    })
}
