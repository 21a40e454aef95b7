//! A proof load by bags: what to lay on each bay so that shear and bending are those of a load case.
//!
//! A positive case is tested with the wing upside down, a negative one right way up. The wing's own weight then pushes
//! with the bags, so it counts once as relief in flight and once as load in the test. The wing that will fly goes to
//! limit only; more breaks it. A proof load is no approval to fly.

use crate::physics::loads::internal::CaseLoads;
use crate::physics::mass::tally::Weight;
use crate::physics::units::GRAVITY_M_S2;
use crate::physics::wing::layout::Layout;

/// Bags on one bay of one half wing.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Bags {
    pub bay: usize,
    /// May be negative where the panel alone already weighs more than the case asks: leave it bare.
    pub mass_kg: f64,
    /// Centre of the heap, m from the root.
    pub y_m: f64,
}

/// A length of half wing between two rib stations: loads of the case at its ends, and its own mass.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Span {
    pub from_m: f64,
    pub to_m: f64,
    /// Net shear and moment (tip up positive) of the case at the inner and outer end.
    pub shear_n: [f64; 2],
    pub moment_nm: [f64; 2],
    pub mass_kg: f64,
    /// Centre of that mass, m from the root.
    pub mass_y_m: f64,
}

/// Bags, kg and place, that give the shear and moment of a case over one span; upside down for a positive case.
///
/// `B g = +-(S_in - S_out) - m g`, placed so that its moment about the inner end is that of the case less the panel's
/// own. In terms of lift it is `B = |n| lift/g - (|n| + 1) m`.
/// **Source:** rule of the airloads reference, section 7, which reproduces a published test (graal-aero.fr, wing load
/// test). Derived here. **Valid for:** both halves loaded together; bags at c/4 give no torsion of the section moment.
pub fn bags_on(span: &Span, upside_down: bool) -> (f64, f64) {
    let net = span.shear_n[0] - span.shear_n[1];
    let about = span.moment_nm[0] - span.moment_nm[1] - span.shear_n[1] * (span.to_m - span.from_m);
    let sign = if upside_down { 1.0 } else { -1.0 };
    let bags_n = sign * net - span.mass_kg * GRAVITY_M_S2;
    let moment = sign * about - span.mass_kg * GRAVITY_M_S2 * (span.mass_y_m - span.from_m);
    let middle = 0.5 * (span.from_m + span.to_m);
    let y_m = if bags_n.abs() > 1e-9 { span.from_m + moment / bags_n } else { middle };
    (bags_n / GRAVITY_M_S2, y_m.clamp(span.from_m, span.to_m))
}

/// Bags for every bay of one half wing under a case, as the wing is weighed (expected mass).
///
/// The moment about the swept spar is turned back to the span first. **Source:** [`bags_on`]. **Valid for:** flight
/// cases; lumped masses outboard are counted in their bay.
pub fn bags(layout: &Layout, weight: &Weight, case: &CaseLoads) -> Vec<Bags> {
    let n = layout.bays.len();
    if case.shear_n().len() != n + 1 || case.moment_nm().len() != n + 1 || case.torque_nm().len() != n + 1 {
        return Vec::new();
    }
    let x: Vec<f64> = layout.stations().map(|s| s.x_le_m + s.spar_frac * s.chord_m).collect();
    let y: Vec<f64> = layout.stations().map(|s| s.y_m).collect();
    let spanwise = |k: usize| {
        let j = k.min(n - 1);
        let (dx, dy) = (x[j + 1] - x[j], y[j + 1] - y[j]);
        let r = (dx * dx + dy * dy).sqrt().max(1e-12);
        (case.moment_nm()[k] * dy + case.torque_nm()[k] * dx) / r
    };
    let scale = if weight.drawn_kg > 0.0 { weight.expected_kg / weight.drawn_kg } else { 1.0 };
    (0..n)
        .map(|k| {
            let run = weight.running_kg_m.get(k).copied().unwrap_or(0.0) * (y[k + 1] - y[k]);
            let (mut mass, mut first) = (run, run * 0.5 * (y[k] + y[k + 1]));
            for &(at, kg) in weight.lumps.iter().filter(|l| l.0 > y[k].max(1e-6) && l.0 <= y[k + 1]) {
                mass += kg;
                first += kg * at;
            }
            let span = Span {
                from_m: y[k],
                to_m: y[k + 1],
                shear_n: [case.shear_n()[k], case.shear_n()[k + 1]],
                moment_nm: [spanwise(k), spanwise(k + 1)],
                mass_kg: mass * scale,
                mass_y_m: if mass > 0.0 { first / mass } else { 0.5 * (y[k] + y[k + 1]) },
            };
            let (mass_kg, y_m) = bags_on(&span, case.shear_n()[0] >= 0.0);
            Bags { bay: k, mass_kg, y_m }
        })
        .collect()
}

/// Bags on one half in all, kg: `n (m_total - m_wing)/2 - m_wing/2`, i.e. `|n| hung/2 - panel`.
///
/// **Source:** as [`bags_on`]. **Valid for:** panels that are half the wing.
pub fn total_kg(n: f64, hung_kg: f64, panel_kg: f64) -> f64 {
    n.abs() * hung_kg / 2.0 - panel_kg
}

/// Whole bags for a mass: rounded up, since an error at the tip matters most there. **Source:** practice, no source.
/// **Valid for:** re-check the moment afterwards.
pub fn whole_bags(mass_kg: f64, bag_kg: f64) -> u32 {
    if bag_kg > 0.0 && mass_kg > 0.0 { (mass_kg / bag_kg - 1e-9).ceil().max(0.0) as u32 } else { 0 }
}
