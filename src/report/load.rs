//! How the loads of a case come about: formula, inputs with units, sources.

use crate::physics::evaluation::Evaluation;
use crate::physics::loads::case::Support;
use crate::physics::loads::envelope::pressure_pa;

/// Shear, bending and torsion along the spar.
pub const FORMULA: &str = "S = int (q cl c - n g m) dy outboard; about the swept spar M = Mx cos - My sin, T = Mx sin + My cos; cl c = CL x \
additional + basic + controls + what bending gives back at the same lift";
/// Where that comes from.
pub const SOURCE: &str = "beam statics; lift of one chordwise row of horseshoe vortices, bending after the kinematics of Hodges and Pierce; \
flight: mass at its light end (P10), lift at budget weight; on the ground mass at budget";

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
    match c.support {
        Support::Root => {}
        Support::Outboard(y) => out.push(("held at", y, "m")),
        Support::Bars(a, b) => out.extend([("held at", a, "m"), ("and at", b, "m")]),
    }
    let first = |v: &[f64]| v.first().copied().unwrap_or(0.0);
    out.extend([
        ("shear at the root", first(l.shear_n()), "N"),
        ("moment at the root", first(l.moment_nm()), "N m"),
        ("torque at the root", first(l.torque_nm()), "N m"),
        ("of it the air", l.air_root_nm, "N m"),
        ("of that by bending of the wing", l.yielding_root_nm, "N m"),
        ("relief by the wing's mass", l.relief_root_nm, "N m"),
    ]);
    out
}
