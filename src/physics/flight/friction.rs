//! Skin friction of a flat plate, laminar, turbulent and mixed; form of a section. One side, mean over the length.

/// Laminar friction: `1.328 / sqrt(Re)`.
///
/// **Source:** Blasius, as in public course notes on flat-plate friction. **Valid for:** below about Re 5e5 to 3e6.
pub fn laminar(reynolds: f64) -> f64 {
    1.328 / reynolds.max(1.0).sqrt()
}

/// Turbulent friction: `0.455 / (log10 Re)^2.58`.
///
/// **Source:** Prandtl and Schlichting, same notes. **Valid for:** Re 1e5 to 1e9.
pub fn turbulent(reynolds: f64) -> f64 {
    0.455 * (-2.58 * reynolds.max(100.0).log10().ln()).exp()
}

const MINUS_LN_0_455: f64 = 0.7874578600311866;

/// Turbulent length that has the momentum thickness `theta`, as shares of the chord: `Cf(Re L) L / 2 = theta`.
///
/// Newton on `ln L`. **Source:** Derived here from momentum thickness. **Valid for:** theta above 0.
pub fn turbulent_length(reynolds: f64, theta_frac: f64) -> f64 {
    if theta_frac <= 0.0 || reynolds <= 0.0 {
        return 0.0;
    }
    let (ln_re, ln_two_theta) = (reynolds.ln(), (theta_frac * 2.0).ln());
    let aim = ln_two_theta + MINUS_LN_0_455;
    // From a friction of 0.0055. d ln(Cf L)/d ln L is 1 - 2.58/ln(Re L): close to a straight line in logarithms, so that four
    // steps are exact to rounding.
    let mut ln_length = ln_two_theta + 5.2;
    for _ in 0..4 {
        let ln_local = (ln_re + ln_length).max(3.0);
        let value = ln_length - 2.58 * (ln_local / std::f64::consts::LN_10).ln() - aim;
        ln_length -= value / (1.0 - 2.58 / ln_local);
    }
    ln_length.exp()
}

/// Mixed friction: laminar to `transition_frac` of the chord, turbulent after it, momentum thickness continuous there.
///
/// `theta = 0.664 xt / sqrt(Re xt)`; `cf = Cf(Re (Le + 1 - xt)) (Le + 1 - xt)`.
/// **Source:** momentum-thickness matching, public course notes (method). **Valid for:** Re 1e5 to 1e7; blind to
/// laminar bubbles, so a tool for differences between surfaces, not a polar.
pub fn mixed(reynolds: f64, transition_frac: f64) -> f64 {
    let xt = transition_frac.clamp(0.0, 1.0);
    if xt >= 1.0 {
        return laminar(reynolds);
    }
    if xt <= 0.0 {
        return turbulent(reynolds);
    }
    let theta = 0.664 * xt / (reynolds.max(1.0) * xt).sqrt();
    let length = turbulent_length(reynolds, theta) + 1.0 - xt;
    turbulent(reynolds * length) * length
}

/// Drag of a section over twice the flat plate: `1 + 2 t/c + 60 (t/c)^4`.
///
/// **Source:** S. F. Hoerner, *Fluid-Dynamic Drag* (from memory, unverified). **Valid for:** t/c to about 0.2.
pub fn form_factor(thickness_frac: f64) -> f64 {
    let t2 = thickness_frac * thickness_frac;
    1.0 + 2.0 * thickness_frac + 60.0 * t2 * t2
}

/// Reynolds number on a length, standard sea level. **Source:** definition. **Valid for:** sea level, 15 C.
pub fn reynolds(speed_m_s: f64, length_m: f64) -> f64 {
    speed_m_s * length_m / crate::physics::units::AIR_VISCOSITY_M2_S
}
