//! How sink, glide and stall come about: formulas, inputs with units, sources; and whether anything is trimmed.

use serde_json::{Value, json};

use crate::physics::design::Design;
use crate::physics::evaluation::Evaluation;
use crate::physics::flight::speeds::{Flight, INTERFERENCE, Terms};
use crate::physics::loads::trim;
use crate::physics::units::{AIR_DENSITY_KG_M3, GRAVITY_M_S2};

/// Drag, sink and glide.
pub const FORMULA: &str = "CL = 2 m g / (rho S v^2); CD = CDi + f (CD profile + CD parasite); sink = v CD / sqrt(CL^2 + CD^2); glide = CL / CD";
/// Drag that comes with lift, where nothing is trimmed and where the controls trim.
const INDUCED: &str = "CDi = k0 CL^2 + k1 CL + k2";
const INDUCED_TRIMMED: &str = "CDi = k0 CL^2 + k1 CL + k2 + d (c0 CL + c1) + c2 d^2, d = d0 + d1 CL the effective angle of the controls that trim";
/// Where they come from.
pub const SOURCE: &str = "balance of forces; induced: far wake of the lift; profile: strip by strip with friction and form; parasite: drag area of \
pilot and rigging over S; f, interference: an assumption";
/// The slowest flight.
pub const STALL_FORMULA: &str = "v = sqrt(2 m g / (rho S CLmax))";

/// The stall in words no longer than the room of a row.
pub const fn stall_words(tailless: bool, f: &Flight) -> &'static str {
    match (f.trimmed, tailless) {
        (true, _) => "stall, trimmed",
        (false, true) => "stall, not trimmed",
        (false, false) => "stall, tail load left out",
    }
}

/// What the greatest lift coefficient is, behind its name.
pub const fn trim_words(tailless: bool, f: &Flight) -> &'static str {
    match (f.trimmed, tailless) {
        (true, _) => "trimmed by the wing's own controls",
        (false, true) => "not trimmed: no control of the wing can balance it",
        (false, false) => "of the wing alone: the load of the tail is left out",
    }
}

/// Drag that comes with lift.
pub const fn induced(f: &Flight) -> &'static str {
    if f.trimmed { INDUCED_TRIMMED } else { INDUCED }
}

/// Effective angle of the controls that trim, rad: at CL 0, and per CL.
fn trim_line(design: &Design, e: &Evaluation) -> (f64, f64) {
    let line = trim::elevon_line(&e.lift, design.aboard.cg_mac).filter(|_| e.flight.trimmed);
    line.unwrap_or_default()
}

/// Inputs of sink, glide and stall: symbol, words, value, unit.
pub fn inputs(design: &Design, e: &Evaluation) -> Vec<(&'static str, &'static str, f64, &'static str)> {
    let (f, k, c) = (&e.flight, &e.lift.induced, &e.lift.induced_control);
    let mut out = vec![
        ("m", "all up: budget wing, pilot, kit and what hangs on it", f.all_up_kg, "kg"),
        ("g", "gravity", GRAVITY_M_S2, "m/s2"),
        ("rho", "air at sea level, standard atmosphere", AIR_DENSITY_KG_M3, "kg/m3"),
        ("S", "area of the wing", e.layout.area_m2, "m2"),
        ("CLmax", trim_words(design.aboard.tailless, f), f.cl_max_trimmed, ""),
        ("f", "interference, on profile and parasite drag", INTERFERENCE, ""),
        ("k0", "induced, of the lift distribution", k[0], ""),
        ("k1", "the same", k[1], ""),
        ("k2", "the same", k[2], ""),
    ];
    if f.trimmed {
        let (d0, d1) = trim_line(design, e);
        out.extend([
            ("c0", "induced, of the controls", c[0], ""),
            ("c1", "the same", c[1], ""),
            ("c2", "the same", c[2], ""),
            ("d0", "controls at CL 0, effective", d0, "rad"),
            ("d1", "more of it per CL", d1, "rad"),
        ]);
    }
    out
}

/// What CD adds up from at one speed, in a line.
pub fn sum(t: &Terms) -> String {
    format!(
        "CL {:.4}, CD {:.5} = {:.5} induced + {INTERFERENCE} ({:.5} profile + {:.5} pilot and rigging)",
        t.cl, t.cd, t.cd_induced, t.cd_profile, t.cd_parasite
    )
}

/// For other programs: formula, inputs and source beside the numbers.
pub fn working_json(design: &Design, e: &Evaluation) -> Value {
    let inputs: serde_json::Map<String, Value> = inputs(design, e)
        .into_iter()
        .map(|(k, words, v, unit)| (k.to_owned(), json!({"value": v, "unit": unit, "what": words})))
        .collect();
    let terms = |t: &Terms| {
        json!({
            "speed_m_s": t.speed_m_s, "cl": t.cl, "cd_induced": t.cd_induced, "cd_profile": t.cd_profile,
            "cd_parasite": t.cd_parasite, "cd": t.cd,
        })
    };
    let f = &e.flight;
    json!({
        "formula": FORMULA, "formula_induced": induced(f), "formula_stall": STALL_FORMULA, "source": SOURCE, "inputs": inputs,
        "at_least_sink": terms(&f.at_least_sink), "at_best_glide": terms(&f.at_best_glide),
    })
}
