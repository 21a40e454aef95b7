//! Torsional divergence, control effectiveness and reversal by strip theory.

use crate::physics::units::AIR_DENSITY_KG_M3;

/// A half wing in torsion, by arrays root to tip of equal length (two or more, `y` rising; the same `y` twice where
/// something jumps).
#[derive(Debug, Clone, Copy)]
pub struct Torsion<'a> {
    pub y_m: &'a [f64],
    pub chord_m: &'a [f64],
    pub gj_nm2: &'a [f64],
    /// Elastic axis behind the aerodynamic centre (quarter chord), share of chord.
    pub e_frac: &'a [f64],
    /// Section lift slope: 2 pi is the safe side.
    pub slope_per_rad: f64,
}

/// A control in the same arrays: share of each station covered (0 or 1), lift and quarter-chord moment of the section
/// per radian of deflection.
#[derive(Debug, Clone, Copy)]
pub struct Flap<'a> {
    pub share: &'a [f64],
    pub cl_per_rad: f64,
    pub cm_per_rad: f64,
    /// The line its torque and lift are summed about, behind the quarter chord, share of chord; empty: the elastic axis.
    /// Where the elastic axis jumps from bay to bay, what comes from further out turns a bay about the bay's own.
    pub axis_frac: &'a [f64],
}

/// One step of Runge and Kutta while marching out; of what the derivative needs, that at its beginning, middle and end.
pub(super) fn step<P, const N: usize>(
    s: [f64; N],
    h: f64,
    [begin, middle, end]: [&P; 3],
    derivative: impl Fn(&P, &[f64; N]) -> [f64; N],
) -> [f64; N] {
    let add = |a: &[f64; N], k: f64, b: &[f64; N]| -> [f64; N] { std::array::from_fn(|i| a[i] + k * b[i]) };
    let k1 = derivative(begin, &s);
    let k2 = derivative(middle, &add(&s, 0.5 * h, &k1));
    let k3 = derivative(middle, &add(&s, 0.5 * h, &k2));
    let k4 = derivative(end, &add(&s, h, &k3));
    std::array::from_fn(|i| s[i] + h / 6.0 * (k1[i] + 2.0 * k2[i] + 2.0 * k3[i] + k4[i]))
}

/// Length of a piece of the half wing, and twist for each unit of torque and couple for each of twist and pressure at its
/// beginning, middle and end.
struct Piece {
    length_m: f64,
    at: [(f64, f64); 3],
}

/// A value between two of a list.
pub(super) fn between(v: &[f64], i: usize, t: f64) -> f64 {
    v[i] + t * (v[i + 1] - v[i])
}

impl Torsion<'_> {
    pub(super) fn usable(&self) -> bool {
        let n = self.y_m.len();
        n >= 2
            && self.chord_m.len() >= n
            && self.gj_nm2.len() >= n
            && self.e_frac.len() >= n
            && self.y_m[n - 1] > self.y_m[0]
            && self.gj_nm2[..n].iter().all(|g| *g > 0.0)
    }

    /// Lift moment per twist and pressure, m2: `a e c^2`, elastic axis ahead of c/4 counted as on it.
    pub(super) fn couple(&self, i: usize, t: f64) -> f64 {
        let c = between(self.chord_m, i, t);
        self.slope_per_rad * between(self.e_frac, i, t).max(0.0) * c * c
    }

    /// Its pieces, root to tip.
    fn pieces(&self) -> Vec<Piece> {
        let along = (0..self.y_m.len() - 1).filter(|i| self.y_m[i + 1] > self.y_m[*i]);
        let at = |i: usize, t: f64| (1.0 / between(self.gj_nm2, i, t), self.couple(i, t));
        let piece = |i: usize| Piece { length_m: self.y_m[i + 1] - self.y_m[i], at: [0.0, 0.5, 1.0].map(|t| at(i, t)) };
        along.map(piece).collect()
    }
}

/// Torque left at the tip for unit torque at the root, and its derivative by pressure.
fn tip_torque(pieces: &[Piece], q_pa: f64) -> (f64, f64) {
    let s = pieces.iter().fold([0.0, 1.0, 0.0, 0.0], |s, p| {
        step(s, p.length_m, p.at.each_ref(), |(twist, k), s| {
            [s[1] * twist, -q_pa * k * s[0], s[3] * twist, -k * s[0] - q_pa * k * s[2]]
        })
    });
    (s[1], s[3])
}

/// What a search for divergence found.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Found {
    /// The dynamic pressure, Pa.
    At(f64),
    /// Shown that there is none below the pressure asked for: the search passed it from below, or no section twists the
    /// wing (elastic axis at or ahead of the quarter chord everywhere).
    NoneBelow,
    /// A stiffness is missing or the search did not settle: nothing is known.
    Unknown,
}

/// Dynamic pressure at which an unswept wing diverges in torsion, looked for up to `most_pa`.
///
/// Smallest root of `(GJ th')' + q a e c^2 th = 0`, `th(root) = 0`, `th'(tip) = 0`, found by Newton from below: the
/// tip torque falls and is convex in q up to the first root, so no step overshoots.
/// **Source:** D. H. Hodges and G. A. Pierce, *Introduction to Structural Dynamics and Aeroelasticity*, eqs 4.45-4.57.
/// **Valid for:** strip theory, quasi-steady. Safe side: finite span raises the speed by 12 to 30 %.
pub fn below(wing: &Torsion, most_pa: f64) -> Found {
    if !wing.usable() {
        return Found::Unknown;
    }
    let pieces = wing.pieces();
    let mut q = 0.0;
    for _ in 0..40 {
        let (value, slope) = tip_torque(&pieces, q);
        if slope >= 0.0 && q == 0.0 {
            return Found::NoneBelow;
        }
        let add = -value / slope;
        if !add.is_finite() {
            return Found::Unknown;
        }
        q += add;
        if q > most_pa {
            return Found::NoneBelow;
        }
        if add.abs() < 1e-8 * q {
            return Found::At(q);
        }
    }
    Found::Unknown
}

/// The same without bound; `None` when it never diverges or nothing is known.
pub fn divergence_pa(wing: &Torsion) -> Option<f64> {
    match below(wing, f64::MAX) {
        Found::At(q) if q > 0.0 => Some(q),
        _ => None,
    }
}

/// Speed, m/s, at a dynamic pressure, sea level: `V = sqrt(2 q / rho0)`. **Source:** definition.
/// **Valid for:** equivalent airspeed.
pub fn speed_at_m_s(q_pa: f64) -> f64 {
    (2.0 * q_pa.max(0.0) / AIR_DENSITY_KG_M3).sqrt()
}

/// Ratio of root-to-tip rolling moment of the bent wing to that of the rigid one when its control is deflected:
/// 1 is rigid, 0 is reversal. `None` at or beyond divergence.
///
/// Solves `(GJ th')' + q a e c^2 th = -q c^2 (e cl_d + cm_d)` on the control; rolling moment is
/// `int c (cl_d + a th) y dy`. With another axis x ahead of the elastic one, `GJ th'` is torque about that axis and x times
/// the lift of the control further out.
/// **Source:** T. H. G. Megson, *Aircraft Structures for Engineering Students*, aeroelasticity (rigid section form);
/// spanwise form Derived here, checked against its closed form for a uniform wing.
/// **Valid for:** strip theory, no roll rate. Safe side: as divergence.
pub fn effectiveness(wing: &Torsion, flap: &Flap, q_pa: f64) -> Option<f64> {
    let n = wing.y_m.len();
    if !wing.usable() || flap.share.len() < n {
        return None;
    }
    let bays = || (0..n - 1).filter(|i| wing.y_m[i + 1] > wing.y_m[*i]);
    let axis = |i: usize, t: f64| match flap.axis_frac.get(..n) {
        Some(a) => between(a, i, t),
        None => between(wing.e_frac, i, t),
    };
    let lift = |i: usize, t: f64| q_pa * between(wing.chord_m, i, t) * flap.cl_per_rad * between(flap.share, i, t);
    // The lift is at most a parabola between stations.
    let of_bay = |i: usize| (wing.y_m[i + 1] - wing.y_m[i]) / 6.0 * (lift(i, 0.0) + 4.0 * lift(i, 0.5) + lift(i, 1.0));
    // Homogeneous part (unit root torque), forced part and the lift of the control further out, side by side.
    let mut s = [0.0, 1.0, 0.0, 0.0, bays().map(of_bay).sum()];
    let (mut roll_unit, mut roll_forced, mut roll_rigid) = (0.0, 0.0, 0.0);
    let a = wing.slope_per_rad;
    for i in bays() {
        let h = wing.y_m[i + 1] - wing.y_m[i];
        let weight = |t: f64| between(wing.chord_m, i, t) * (wing.y_m[i] + t * h - wing.y_m[0]);
        let share = |t: f64| between(flap.share, i, t);
        let at: [_; 5] = [0.0, 0.25, 0.5, 0.75, 1.0].map(|t| {
            let (c, axis) = (between(wing.chord_m, i, t), axis(i, t));
            let force = q_pa * c * c * (axis * flap.cl_per_rad + flap.cm_per_rad) * share(t);
            let arm_m = (between(wing.e_frac, i, t) - axis) * c;
            (1.0 / between(wing.gj_nm2, i, t), q_pa * wing.couple(i, t), force, arm_m, lift(i, t))
        });
        let slope = |(twist, k, force, arm_m, lift): &(f64, f64, f64, f64, f64), s: &[f64; 5]| -> [f64; 5] {
            let torque = s[3] + arm_m * s[4];
            [s[1] * twist, -k * s[0], torque * twist, -k * s[2] - force, -lift]
        };
        let middle = step(s, 0.5 * h, [&at[0], &at[1], &at[2]], slope);
        let end = step(middle, 0.5 * h, [&at[2], &at[3], &at[4]], slope);
        let simpson = |f0: f64, f1: f64, f2: f64| h / 6.0 * (f0 + 4.0 * f1 + f2);
        let (w0, w1, w2) = (weight(0.0), weight(0.5), weight(1.0));
        roll_unit += a * simpson(w0 * s[0], w1 * middle[0], w2 * end[0]);
        roll_forced += a * simpson(w0 * s[2], w1 * middle[2], w2 * end[2]);
        roll_rigid += flap.cl_per_rad * simpson(w0 * share(0.0), w1 * share(0.5), w2 * share(1.0));
        s = end;
    }
    if s[1] <= 0.0 || roll_rigid <= 0.0 {
        return None;
    }
    let root_torque = -s[3] / s[1];
    Some(1.0 + (roll_forced + root_torque * roll_unit) / roll_rigid)
}

/// Dynamic pressure at which the control stops rolling the wing, Pa; `None` when divergence comes first.
///
/// First zero of [`effectiveness`], bracketed below divergence. **Source:** as [`effectiveness`].
/// **Valid for:** as [`effectiveness`].
pub fn reversal_pa(wing: &Torsion, flap: &Flap) -> Option<f64> {
    let most = divergence_pa(wing).unwrap_or(1e6);
    // Effectiveness times the distance to divergence is close to straight in q: false position with the end that
    // stays put halved (Illinois rule) settles in a few steps.
    let value = |q: f64| effectiveness(wing, flap, q).map(|v| v * (1.0 - q / most * 0.999_999));
    let (mut low, mut high) = (0.0, most * 0.9999);
    let (mut f_low, mut f_high) = (1.0, value(high)?);
    if f_high > 0.0 {
        return None;
    }
    for _ in 0..40 {
        let middle = (low * f_high - high * f_low) / (f_high - f_low);
        let Some(v) = value(middle) else { break };
        if v.abs() < 1e-8 || high - low < 1e-8 * most {
            return Some(middle);
        }
        if v > 0.0 {
            (low, f_low) = (middle, v);
            f_high *= 0.5;
        } else {
            (high, f_high) = (middle, v);
            f_low *= 0.5;
        }
    }
    Some(0.5 * (low + high))
}

/// Divergence of a uniform swept wing: `tau = q cos^2(sweep) a e c^2 l^2 / GJ`, l and c along and normal to the swept
/// axis, for `r = (l/(e c)) (GJ/EI) tan(sweep)`, aft positive. `None`: no divergence (r above about 1.59).
///
/// First root of `alpha''' + tau alpha' + tau r alpha = 0`, `alpha(0) = 0`, `alpha'(1) = 0`, `alpha''(1) + tau
/// alpha(1) = 0`, by power series from the tip.
/// **Source:** kinematics of Hodges and Pierce, section on swept wings; series Derived here.
/// **Valid for:** uniform wings; used as a ratio to the unswept root for tapered ones (unchecked there).
pub fn swept_uniform(r: f64) -> Option<f64> {
    let mut low = 0.0;
    let mut high = 0.25;
    while root_incidence(high, r) > 0.0 {
        low = high;
        high += 0.25;
        if high > 14.0 {
            return None;
        }
    }
    for _ in 0..30 {
        let middle = 0.5 * (low + high);
        if root_incidence(middle, r) > 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    Some(0.5 * (low + high))
}

/// Incidence at the root for unit incidence at the tip.
fn root_incidence(tau: f64, r: f64) -> f64 {
    let (mut a, mut b, mut c) = (1.0, 0.0, -0.5 * tau);
    let mut sum = a + b + c;
    for k in 0..28 {
        let k = f64::from(k);
        let next = (-tau * (k + 1.0) * b + tau * r * a) / ((k + 3.0) * (k + 2.0) * (k + 1.0));
        (a, b, c) = (b, c, next);
        sum += next;
    }
    sum
}

/// Divergence pressure of a swept wing, Pa: the unswept strip answer on the swept axis, over `cos^2(sweep)`, times
/// the uniform-wing ratio for `r`. `None`: none. Forward sweep lowers it.
///
/// `wing` is given along the swept axis, chords normal to it. **Source:** as [`swept_uniform`].
/// **Valid for:** unchecked for taper; sweep below 30 deg.
pub fn swept_divergence_pa(wing: &Torsion, sweep_rad: f64, gj_over_ei: f64) -> Option<f64> {
    let q = divergence_pa(wing)?;
    let n = wing.y_m.len();
    let arm = wing.chord_m[..n].iter().zip(wing.e_frac).map(|(c, e)| c * e).sum::<f64>() / n as f64;
    if arm <= 0.0 {
        return None;
    }
    let r = (wing.y_m[n - 1] - wing.y_m[0]) / arm * gj_over_ei * sweep_rad.tan();
    let unswept = std::f64::consts::FRAC_PI_2.powi(2);
    let cos = sweep_rad.cos();
    swept_uniform(r).map(|tau| q * tau / unswept / (cos * cos))
}
