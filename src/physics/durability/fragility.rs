//! Chance of damage: severity and resistance both lognormal and independent.

/// Chance that severity exceeds resistance: Phi(ln(S/R)/beta), beta the root of squares of both spreads.
/// **Source:** lognormal fragility, Porter, *A Beginner's Guide to Fragility, Vulnerability, and Risk* (form from memory).
pub fn chance(severity: f64, resistance: f64, beta: f64) -> f64 {
    if severity <= 0.0 {
        return 0.0;
    }
    if resistance <= 0.0 {
        return 1.0;
    }
    if resistance.is_infinite() {
        return 0.0;
    }
    normal_cdf((severity / resistance).ln() / beta)
}

/// Normal distribution function and density at z together; beyond eight deviations nothing is left to tell.
/// Unchecked: no outside check runs it by itself.
pub fn exceeds(z: f64) -> (f64, f64) {
    if z < -8.0 {
        return (0.0, 0.0);
    }
    if z > 8.0 {
        return (1.0, 0.0);
    }
    let d = density(z);
    let t = 1.0 / (1.0 + 0.2316419 * z.abs());
    let poly =
        t * (0.319_381_530 + t * (-0.356_563_782 + t * (1.781_477_937 + t * (-1.821_255_978 + t * 1.330_274_429))));
    (if z >= 0.0 { 1.0 - d * poly } else { d * poly }, d)
}

/// Chance that a severity this many times the resistance exceeds it, and the density there: both lognormal.
pub(super) fn exceeds_by(ratio: f64, beta: f64) -> (f64, f64) {
    // Most contacts are far from doing harm: the power of two of the ratio tells so without its logarithm.
    let power = ((ratio.to_bits() >> 52) as f64 - 1022.0) * std::f64::consts::LN_2;
    if power < -8.0 * beta {
        return (0.0, 0.0);
    }
    exceeds(ratio.ln() / beta)
}

/// Normal distribution function by Abramowitz and Stegun 26.2.17, error below 7.5e-8.
pub fn normal_cdf(z: f64) -> f64 {
    exceeds(z).0
}

/// Normal density.
pub fn density(z: f64) -> f64 {
    (-0.5 * z * z).exp() * 0.398_942_280_401_432_7
}
