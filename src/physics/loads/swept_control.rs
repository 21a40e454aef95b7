//! What is left of the roll control of a wing swept aft: bending under its lift takes incidence from the sections outboard.

use crate::physics::loads::divergence::{Flap, Torsion, between, step};

/// How the half wing bends: EI about the spar in the arrays of [`Torsion`], N m2, and the sweep of the spar, rad, aft positive.
#[derive(Debug, Clone, Copy)]
pub struct Bends<'a> {
    pub ei_nm2: &'a [f64],
    pub sweep_rad: f64,
}

/// Solutions carried side by side: of the control alone, and of unit torque, moment and shear at the root.
const SOLUTIONS: usize = 4;
/// Twist, torque, slope, moment and shear of each, and the lift of the control further out.
const STATE: usize = 5 * SOLUTIONS + 1;

/// What the equations need at a place, all for each metre of span.
struct Place {
    twist_per_nm: f64,
    slope_per_nm: f64,
    /// Lift and nose-up couple about the elastic axis for each radian of incidence, and of the control.
    lift_per_rad: f64,
    couple_per_rad: f64,
    control_lift: f64,
    control_couple: f64,
    arm_m: f64,
}

/// Rolling moment left when the control is deflected, over that of the rigid wing: 1 is rigid, 0 is reversal. `None` at or beyond
/// divergence, or where a stiffness is missing.
///
/// Along the swept spar a section turns its incidence by `da = th cos - w' sin` (th the twist, w' the slope of bending). Lift
/// `l = q c (a da + cl_d d)` and couple p about the axis make `T' = -p cos`, `V' = -l`, `M' = -V/cos + p sin`, `GJ th' = T/cos`,
/// `EI w'' = M/cos`, all by the span; nothing at the tip. Marched out by Runge and Kutta from the root, where T, M and V follow from
/// the three that must vanish at the tip.
/// **Source:** D. H. Hodges and G. A. Pierce, *Introduction to Structural Dynamics and Aeroelasticity*, kinematics of swept wings;
/// statics of an oblique axis. Derived here. **Valid for:** strip theory, no roll rate, small deflections, one sweep from root to tip; bending is summed
/// about the line of [`Flap::axis_frac`], the spar.
/// **Safe side:** lift of the twist turns the section only where it adds, as in [`super::divergence`].
pub fn effectiveness(wing: &Torsion, bends: &Bends, flap: &Flap, q_pa: f64) -> Option<f64> {
    let n = wing.y_m.len();
    let stiff = bends.ei_nm2.get(..n)?.iter().all(|ei| *ei > 0.0);
    if !wing.usable() || !stiff || flap.share.len() < n {
        return None;
    }
    let (sin, cos) = bends.sweep_rad.sin_cos();
    let axis = |i: usize, t: f64| between(flap.axis_frac.get(..n).unwrap_or(wing.e_frac), i, t);
    let place = |i: usize, t: f64| {
        let (chord_m, share) = (between(wing.chord_m, i, t), between(flap.share, i, t));
        let control = q_pa * chord_m * share;
        Place {
            twist_per_nm: 1.0 / (between(wing.gj_nm2, i, t) * cos),
            slope_per_nm: 1.0 / (between(bends.ei_nm2, i, t) * cos),
            lift_per_rad: q_pa * chord_m * wing.slope_per_rad,
            couple_per_rad: q_pa * wing.couple(i, t),
            control_lift: control * flap.cl_per_rad,
            control_couple: control * chord_m * (axis(i, t) * flap.cl_per_rad + flap.cm_per_rad),
            arm_m: (between(wing.e_frac, i, t) - axis(i, t)) * chord_m * cos,
        }
    };
    let turned = |s: &[f64; STATE], of: usize| s[5 * of] * cos - s[5 * of + 2] * sin;
    let slope = |p: &Place, s: &[f64; STATE]| {
        let mut out = [0.0; STATE];
        for of in 0..SOLUTIONS {
            let control = if of == 0 { 1.0 } else { 0.0 };
            let (at, turned) = (5 * of, turned(s, of));
            let couple = p.couple_per_rad * turned + control * p.control_couple;
            out[at] = (s[at + 1] + control * p.arm_m * s[STATE - 1]) * p.twist_per_nm;
            out[at + 1] = -couple * cos;
            out[at + 2] = s[at + 3] * p.slope_per_nm;
            out[at + 3] = -s[at + 4] / cos + couple * sin;
            out[at + 4] = -p.lift_per_rad * turned - control * p.control_lift;
        }
        out[STATE - 1] = -p.control_lift;
        out
    };
    let bays = || (0..n - 1).filter(|i| wing.y_m[i + 1] > wing.y_m[*i]);
    let simpson = |h: f64, [a, b, c]: [f64; 3]| h / 6.0 * (a + 4.0 * b + c);
    let mut s = [0.0; STATE];
    (s[6], s[13], s[19]) = (1.0, 1.0, 1.0);
    s[STATE - 1] =
        bays().map(|i| simpson(wing.y_m[i + 1] - wing.y_m[i], [0.0, 0.5, 1.0].map(|t| place(i, t).control_lift))).sum();
    let (mut roll, mut rigid) = ([0.0; SOLUTIONS], 0.0);
    for i in bays() {
        let h = wing.y_m[i + 1] - wing.y_m[i];
        let at: [Place; 5] = [0.0, 0.25, 0.5, 0.75, 1.0].map(|t| place(i, t));
        let middle = step(s, 0.5 * h, [&at[0], &at[1], &at[2]], slope);
        let end = step(middle, 0.5 * h, [&at[2], &at[3], &at[4]], slope);
        let arms = [0.0, 0.5, 1.0].map(|t| wing.y_m[i] + t * h - wing.y_m[0]);
        let places = [&at[0], &at[2], &at[4]];
        for (of, roll) in roll.iter_mut().enumerate() {
            let states = [&s, &middle, &end];
            *roll += simpson(h, std::array::from_fn(|k| arms[k] * places[k].lift_per_rad * turned(states[k], of)));
        }
        rigid += simpson(h, std::array::from_fn(|k| arms[k] * places[k].control_lift));
        s = end;
    }
    let tip = |of: usize| [s[5 * of + 1], s[5 * of + 3], s[5 * of + 4]];
    let at_root = solved([tip(1), tip(2), tip(3)], tip(0).map(|v| -v)).filter(|_| rigid > 0.0)?;
    Some(1.0 + (roll[0] + (1..SOLUTIONS).map(|of| at_root[of - 1] * roll[of]).sum::<f64>()) / rigid)
}

/// Shares of three columns that make a sum, by Cramer's rule; none where their determinant is no longer positive, as it is at rest.
fn solved(columns: [[f64; 3]; 3], sum: [f64; 3]) -> Option<[f64; 3]> {
    let det = |[a, b, c]: [[f64; 3]; 3]| {
        a[0] * (b[1] * c[2] - b[2] * c[1]) - b[0] * (a[1] * c[2] - a[2] * c[1]) + c[0] * (a[1] * b[2] - a[2] * b[1])
    };
    let whole = det(columns);
    let with = |k: usize| {
        let mut columns = columns;
        columns[k] = sum;
        det(columns) / whole
    };
    (whole > 0.0).then(|| std::array::from_fn(with))
}
