//! Coverings: load to pierce a fabric or film, to slacken it, to cut it on a rib; give; when a hole runs.

use std::f64::consts::PI;

/// Factor on the cone a plunger pulls. **Source:** geometric mean 1.37 of the five woven and nonwoven cloths of two sources
/// (maker's data sheet, geosystems design book), rounded down; judged on two others. Only cloths of 10-25 % strain test it.
pub const CONE_FACTOR: f64 = 1.35;

/// sin(phi) of the cone a blunt plunger pulls: min(1, 1.35 sqrt(1 - 1/(1+eps)^2)).
pub fn cone_sine(failure_strain: f64) -> f64 {
    (CONE_FACTOR * (1.0 - 1.0 / (1.0 + failure_strain).powi(2)).max(0.0).sqrt()).min(1.0)
}

/// Flat or blunt object of radius R, N: 2 pi R N sin(phi).
pub fn blunt_n(radius_m: f64, strength_n_m: f64, failure_strain: f64) -> f64 {
    2.0 * PI * radius_m * strength_n_m * cone_sine(failure_strain)
}

/// Smooth ball of radius R, N: 2 pi R N sin^2(phi).
pub fn ball_n(radius_m: f64, strength_n_m: f64, failure_strain: f64) -> f64 {
    2.0 * PI * radius_m * strength_n_m * cone_sine(failure_strain).powi(2)
}

/// Lower bound of the same, N: 2 pi R N min(1, 2 eps). **Derived**: linear membrane under a ball, no friction.
pub fn ball_lower_n(radius_m: f64, strength_n_m: f64, failure_strain: f64) -> f64 {
    2.0 * PI * radius_m * strength_n_m * (2.0 * failure_strain).min(1.0)
}

/// Hard straight edge, N/m: two sheets at the cone's slope, 2 N sin(phi). **Derived** from the same cone.
pub fn edge_n_m(strength_n_m: f64, failure_strain: f64) -> f64 {
    2.0 * strength_n_m * cone_sine(failure_strain)
}

/// Share of the piercing load at which a covering stays slack. Film: it yields at 100 of 200 MPa (**read**: film maker's
/// comparison table). Fabric: an assumption, band 0.5-0.9.
pub const fn slack_share(film: bool) -> f64 {
    if film { 0.5 } else { 0.7 }
}

/// Share of the piercing load at which a hard thing cuts the covering on a rib: it can give on one side only. An assumption,
/// band 0.3-0.8; no measured cut was found.
pub const RIB_CUT_SHARE: f64 = 0.5;

/// Energy to press a round bay of radius b down with load P at its middle, J: pretension part P w/2 and stretch part P w/4 of
/// P = (2 pi N0/ln(b/a)) w + A q^3 w^3/b^2, q = 1/(1.05 - 0.15 nu - 0.16 nu^2), nu 0.3.
/// **Source:** stretch term from memory (clamped circular membrane); pretension exact.
pub fn give_j(load_n: f64, stiffness_n_m: f64, pretension_n_m: f64, bay: (f64, f64)) -> f64 {
    Bay::of(stiffness_n_m, pretension_n_m, bay).give_j(load_n)
}

/// A round bay of a covering under some contact, whatever the load.
pub(super) struct Bay {
    /// N/m and N/m3: load by deflection and by its cube.
    c1: f64,
    c3: f64,
    /// Deflection at which both carry alike, over sqrt(3), m.
    r: f64,
}

impl Bay {
    pub(super) fn of(stiffness_n_m: f64, pretension_n_m: f64, (bay_m, radius_m): (f64, f64)) -> Self {
        let c1 = (2.0 * PI * pretension_n_m / (bay_m / radius_m).max(1.5).ln()).max(1e-9);
        let q = 1.0_f64 / (1.05 - 0.15 * 0.3 - 0.16 * 0.09);
        let c3 = (stiffness_n_m * q.powi(3) / (bay_m * bay_m)).max(1e-9);
        Self { c1, c3, r: (c1 / (3.0 * c3)).sqrt() }
    }

    /// How far a load presses it down, m.
    fn pressed_m(&self, load_n: f64) -> f64 {
        let Self { c1, c3, r } = self;
        // The real root of the cubic, w = r (y - 1/y) with y^3 = t + sqrt(t^2 + 1), and one step of Newton's for what the
        // difference loses where the cubic part is small.
        let t = 0.5 * load_n / (c1 * r) * 3.0;
        let y = (t + (t * t + 1.0).sqrt()).powf(1.0 / 3.0);
        let w = r * (y - 1.0 / y);
        w - (c1 * w + c3 * w * w * w - load_n) / (c1 + 3.0 * c3 * w * w)
    }

    /// Energy to press it down so far, J.
    fn energy_j(&self, w: f64) -> f64 {
        w * w * (0.5 * self.c1 + 0.25 * self.c3 * (w * w))
    }

    /// Energy to press it down with a load, J: [`give_j`].
    fn give_j(&self, load_n: f64) -> f64 {
        self.energy_j(self.pressed_m(load_n))
    }

    /// The same with how it answers, as powers: to the load, `dE = P dw`, and to the tension at the same load, which stiffens
    /// `c1` and lessens `w`.
    pub(super) fn answer(&self, load_n: f64) -> (f64, [f64; 2]) {
        let Self { c1, c3, .. } = self;
        let w = self.pressed_m(load_n);
        let energy = self.energy_j(w);
        if !energy.is_finite() || energy <= 0.0 {
            return (energy, [0.0; 2]);
        }
        let stiff = c1 + 3.0 * c3 * w * w;
        let of_both = 1.0 / (stiff * energy);
        (energy, [load_n * load_n * of_both, c1 * (0.5 * w * w * stiff - load_n * w) * of_both])
    }
}

/// Spread of the tearing load, standard deviation of its logarithm. An assumption.
const BETA_TEAR: f64 = 0.5;

/// Chance that a hole of radius c runs from rib to rib: tension times c against the tear strength, lognormal.
/// **Derived**: the threads cut hand T c to each end of the hole.
/// Unchecked: no outside check runs it by itself.
pub fn tear_chance(tension_n_m: f64, hole_m: f64, tear_n: f64) -> f64 {
    super::fragility::chance(tension_n_m * hole_m, tear_n, BETA_TEAR)
}
