//! The temperature a margin is judged at, and what it takes from whom.

use crate::physics::design::{Design, Strip};

/// Temperature of a skin in the sun, deg C; of what lies inside, that of the warmer skin.
pub fn service_c(design: &Design, strip: Option<Strip>) -> f64 {
    let s = &design.service;
    match strip {
        Some(at) if at.is_upper() => s.upper_c,
        Some(_) => s.lower_c,
        None => s.upper_c.max(s.lower_c),
    }
}

/// Share of core stiffness and strength left there.
pub fn core_share(design: &Design, strip: Option<Strip>) -> f64 {
    design.service.share_at(service_c(design, strip))
}

/// The same in words.
pub fn words(design: &Design, strip: Option<Strip>) -> String {
    let extra = design.limits.as_ref().map_or(1.0, |l| l.extra_factor);
    format!(
        "at {:.0} C: core keeps {:.0} %; plies and glue by the extra factor {extra:.2} for scatter, heat and damp",
        service_c(design, strip),
        100.0 * core_share(design, strip)
    )
}
