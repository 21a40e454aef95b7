//! Trim of a tailless wing: its own elevons balance it, and the lift it has left before a section stalls.

use crate::physics::loads::lift::LiftBasis;

/// Effective elevon angle, rad, that balances the wing at `cl` about a centre of gravity at `cg_mac`: a straight line,
/// returned as (at CL = 0, per CL).
///
/// `cm = cm0 + cm_cl (CL - CL_d d) + cm_d d + (cg - 1/4) CL = 0`.
/// **Source:** balance of moments about the centre of gravity; Derived here. **Valid for:** linear lift; pilot below the wing and
/// thrust of drag not counted.
pub fn elevon_line(lift: &LiftBasis, cg_mac: f64) -> Option<(f64, f64)> {
    let power = lift.cm_per_control_rad - lift.cm_per_cl * lift.control_cl_per_rad;
    if power.abs() < 1e-6 {
        return None;
    }
    Some((-lift.cm_zero / power, -(lift.cm_per_cl + cg_mac - 0.25) / power))
}

/// Greatest trimmed CL before a section reaches its limit, and the effective elevon angle there, rad.
///
/// Local lift `basic + (CL - CL_d d) additional + d control` is linear in CL once d is; the least CL over the strips.
/// **Source:** Derived here. **Valid for:** section limits of the clean section also behind an up elevon (not the safe
/// side there, where local lift is low; unchecked).
pub fn trimmed_cl_max(lift: &LiftBasis, cg_mac: f64) -> Option<(f64, f64)> {
    let (d0, d1) = elevon_line(lift, cg_mac)?;
    let mut most = f64::INFINITY;
    for i in 0..lift.y_m.len() {
        let extra = lift.control_sym_m[i] - lift.control_cl_per_rad * lift.additional_m[i];
        let slope = lift.additional_m[i] + d1 * extra;
        if slope > 1e-6 {
            most = most.min((lift.section_cl_max[i] * lift.chord_m[i] - lift.basic_m[i] - d0 * extra) / slope);
        }
    }
    most.is_finite().then_some((most, d0 + d1 * most))
}
