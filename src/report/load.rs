//! How the loads of a case come about: formula, inputs with units, sources.

use serde_json::{Value, json};

use crate::physics::design::Design;
use crate::physics::evaluation::Evaluation;
use crate::physics::loads::case::{Case, ROUGH_AIR, ROUGH_AIR_SOURCE, Support};
use crate::physics::loads::envelope::pressure_pa;
use crate::report::{case_words, four_figures};

/// Shear, bending and torsion along the spar.
pub const FORMULA: &str = "S = int (q cl c - n g m) dy outboard; about the swept spar M = Mx cos - My sin, T = Mx sin + My cos; cl c = CL x \
additional + basic + controls + what bending gives back at the same lift";
/// Where that comes from.
pub const SOURCE: &str = "beam statics; lift of one chordwise row of horseshoe vortices, bending after the kinematics of Hodges and Pierce; \
flight: mass at its light end (P10), lift at budget weight; on the ground mass at budget";

/// Controls of a tailless wing that trim it.
pub const TRIM: &str = "effective angle d = d0 + d1 CL: no moment about the centre of gravity, cm0 + cm_CL (CL - CL_d d) + cm_d d + (cg - 1/4) CL = 0";

/// How load factor and airspeed of a case come about, a line each: word, what is said.
pub fn factor(c: &Case) -> Vec<(&'static str, String)> {
    let mut out = vec![("factor", case_words::about(c).formula.to_owned())];
    if let Some(t) = c.trim {
        out.push(("trim", format!("{TRIM}; at CL {}", four_figures(t.cl))));
        if t.at_stop {
            out.push(("", "the controls stop before they trim: taken at the stop".to_owned()));
        }
    }
    let Some(g) = c.gust else { return out };
    if g.n_cap.is_some_and(|cap| cap < g.n_uncapped) {
        out.push(("capped", format!("at 1.25 CLmax: {} instead of {}", four_figures(c.n), four_figures(g.n_uncapped))));
    }
    if c.key.contains("_rough") {
        out.push(("rough air", format!("{ROUGH_AIR}: {} m/s", four_figures(c.speed_m_s))));
        out.push(("", ROUGH_AIR_SOURCE.to_owned()));
    }
    out
}

/// How manoeuvring, rough-air and dive speed come about, for people.
pub fn speed_lines(design: &Design, e: &Evaluation) -> [Vec<String>; 3] {
    let Some(set) = &design.limits else { return Default::default() };
    let of = |key: &str| e.loads.cases.iter().find(|c| c.key == key);
    let km_h = |v: f64| format!("{} m/s, {:.1} km/h", four_figures(v), 3.6 * v);
    let lines = |list: &[(&str, String)]| list.iter().map(|(name, text)| format!("{name:<10} {text}")).collect();
    let manoeuvre = [
        (
            "formula",
            "VA = VS sqrt(n+), VS at 1 g with the heaviest pilot; full movements of the controls are loads up to it"
                .to_owned(),
        ),
        ("source", "CS 22.335(a); load factor of the chosen limit set".to_owned()),
        ("n+", format!("{} by {}", four_figures(set.n_positive), set.key)),
        ("gives", km_h(e.loads.manoeuvre_speed_m_s)),
    ];
    let mut rough = vec![
        ("formula", ROUGH_AIR.to_owned()),
        ("source", ROUGH_AIR_SOURCE.to_owned()),
        (
            "U",
            format!(
                "{} m/s; n+ {}, n- {}",
                four_figures(set.gust_m_s),
                four_figures(set.n_positive),
                four_figures(set.n_negative)
            ),
        ),
        ("a", format!("{} per rad", four_figures(e.lift.slope_per_rad))),
    ];
    for (who, key) in [("lightest", "gust_up_rough_light"), ("heaviest", "gust_up_rough_heavy")] {
        if let Some((c, g)) = of(key).and_then(|c| Some((c, c.gust?))) {
            let at = if g.limit_at_m_s.is_finite() { km_h(g.limit_at_m_s) } else { "no speed".to_owned() };
            rough.push((
                who,
                format!("pilot {:.0} kg, m {:.1} kg, k {}: {at}", c.pilot_kg, g.mass_kg, four_figures(g.alleviation)),
            ));
        }
    }
    rough.push(("gives", km_h(e.loads.rough_air_speed_m_s)));
    let dive = [
        ("source", "limits.dive_speed_m_s, yours: loads are worked out up to it and no further".to_owned()),
        ("", "what may be flown lies below it, by the rules of your authority; flutter is not assessed".to_owned()),
        ("gives", km_h(e.loads.dive_speed_m_s)),
    ];
    [lines(&manoeuvre), lines(&rough), lines(&dive)]
}

/// The rough-air speed for other programs: value, formula, source, and what it rests on with each pilot.
pub fn rough_air_json(design: &Design, e: &Evaluation) -> Value {
    let Some(set) = &design.limits else { return Value::Null };
    let with = |key: &str| {
        let case = e.loads.cases.iter().find(|c| c.key == key);
        case.and_then(|c| Some((c, c.gust?))).map_or(Value::Null, |(c, g)| {
            json!({
                "pilot_kg": c.pilot_kg, "mass_kg": g.mass_kg, "mass_ratio": g.mass_ratio, "alleviation": g.alleviation,
                "limit_at_m_s": g.limit_at_m_s.is_finite().then_some(g.limit_at_m_s),
            })
        })
    };
    json!({
        "value": e.loads.rough_air_speed_m_s, "unit": "m/s", "formula": ROUGH_AIR, "source": ROUGH_AIR_SOURCE,
        "inputs": {
            "gust_m_s": set.gust_m_s, "n_positive": set.n_positive, "n_negative": set.n_negative, "dive_speed_m_s": set.dive_speed_m_s,
            "lift_slope_per_rad": e.lift.slope_per_rad, "lightest": with("gust_up_rough_light"), "heaviest": with("gust_up_rough_heavy"),
        },
    })
}

/// The controls that trim a tailless wing in a case, for other programs; null with a tail.
pub fn trim_json(c: &Case) -> Value {
    c.trim.map_or(Value::Null, |t| {
        json!({
            "formula": TRIM, "cl": t.cl, "d0_rad": t.trim.line.0, "d1_rad": t.trim.line.1,
            "asked_rad": t.asked_rad, "flown_rad": t.flown_rad, "at_stop": t.at_stop,
        })
    })
}

/// Inputs of the loads of a case (an index into the cases that are on): label, value, unit.
pub fn inputs(e: &Evaluation, on: usize) -> Vec<(&'static str, f64, &'static str)> {
    let Some((l, c)) = e.loads.loads.get(on).and_then(|l| Some((l, e.loads.cases.get(l.case)?))) else {
        return Vec::new();
    };
    let mut out = vec![
        ("load factor n", c.n, ""),
        ("airspeed", c.speed_m_s, "m/s"),
        ("dynamic pressure q", pressure_pa(c.speed_m_s), "Pa"),
        ("CL of the wing", c.cl, ""),
        ("pilot", c.pilot_kg, "kg"),
        ("wing, P10", e.weight.p10_kg, "kg"),
        ("wing, budget", e.weight.budget_kg, "kg"),
    ];
    if let Some(g) = c.gust {
        out.extend([
            ("gust U", g.gust_m_s, "m/s"),
            ("mass m with this pilot", g.mass_kg, "kg"),
            ("mean chord c, S/b", g.chord_m, "m"),
            ("lift slope a of the wing", g.slope_per_rad, "/rad"),
            ("mass ratio mu", g.mass_ratio, ""),
            ("alleviation k", g.alleviation, ""),
            ("n before the cap", g.n_uncapped, ""),
        ]);
        if let Some(cap) = g.n_cap.filter(|c| c.is_finite()) {
            out.extend([("cap 1.25 (V/VS)^2, 1.25 CLmax", cap, ""), ("stall VS at 1 g", g.stall_m_s, "m/s")]);
        }
        if g.limit_at_m_s.is_finite() {
            out.push(("this gust brings a limit at", g.limit_at_m_s, "m/s"));
        }
    }
    if let Some(t) = c.trim {
        out.push(("trimmed at CL", t.cl, ""));
        let (d0, d1) = t.trim.line;
        let angles = [
            ("trim d0, effective, at CL 0", d0),
            ("trim d1, more of it per CL", d1),
            ("trim asks, effective", t.asked_rad),
            ("trim asks of the control itself", t.asked_rad / e.lift.control_effect.max(1e-9)),
        ];
        out.extend(angles.map(|(label, rad)| (label, rad.to_degrees(), "deg")));
    }
    for (label, rad) in
        [("controls together, effective", c.control_sym_rad), ("controls opposed, effective", c.control_anti_rad)]
    {
        if rad != 0.0 {
            out.push((label, rad.to_degrees(), "deg"));
        }
    }
    if c.tip_drag_n != 0.0 {
        out.push(("rearward at the tip", c.tip_drag_n, "N"));
    }
    if c.forward_n != 0.0 {
        out.push(("n forward", c.forward_n, "g"));
    }
    match c.support {
        Support::Root => {}
        Support::Outboard(y) => out.push(("held at", y, "m")),
        Support::Tip { y_m, most_nm } => {
            out.extend([("held at", y_m, "m"), ("torque held there, at most", most_nm, "N m")]);
        }
        Support::Bars(a, b) => out.extend([("held at", a, "m"), ("and at", b, "m")]),
    }
    let first = |v: &[f64]| v.first().copied().unwrap_or(0.0);
    out.extend([
        ("shear at the root", first(l.shear_n()), "N"),
        ("moment at the root", first(l.moment_nm()), "N m"),
        ("torque at the root", first(l.torque_nm()), "N m"),
    ]);
    if c.support != Support::Root {
        return out;
    }
    out.extend([
        ("of the moment the air", l.air_root_nm, "N m"),
        ("of that by bending of the wing", l.yielding_root_nm, "N m"),
        ("relief by the wing's mass", l.relief_root_nm, "N m"),
    ]);
    out
}
