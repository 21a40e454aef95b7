//! Trim of a tailless wing: its own controls balance it, in level flight and in every manoeuvre, and the lift it has left before a
//! section stalls.

use crate::physics::design::{Control, Design};
use crate::physics::loads::case::Case;
use crate::physics::loads::lift::LiftBasis;
use crate::physics::loads::section::MOST_TURNED_RAD;

/// Least size of a greatest lift coefficient: what flies at less does not fly.
const LEAST_CL: f64 = 0.05;

/// Effective elevon angle, rad, that balances the wing at `cl` about a centre of gravity at `cg_mac`: a straight line,
/// returned as (at CL = 0, per CL).
///
/// `cm = cm0 + cm_cl (CL - CL_d d) + cm_d d + (cg - 1/4) CL = 0`.
/// **Source:** balance of moments about the centre of gravity; Derived here. **Valid for:** linear lift; pilot below the wing and
/// thrust of drag not counted; the aerodynamic centre lies within 0.02 mean chords of that by many rows, 0.027 at aspect ratio 5.
pub fn elevon_line(lift: &LiftBasis, cg_mac: f64) -> Option<(f64, f64)> {
    let power = lift.cm_per_control_rad - lift.cm_per_cl * lift.control_cl_per_rad;
    if power.abs() < 1e-6 {
        return None;
    }
    Some((-lift.cm_zero / power, -(lift.cm_per_cl + cg_mac - 0.25) / power))
}

/// Lift before a section reaches its limit, each section's given, along a line of trim; `nearer` takes the nearer of two.
fn limited(lift: &LiftBasis, (d0, d1): (f64, f64), limits: &[f64], nearer: fn(f64, f64) -> f64) -> Option<f64> {
    let mut found: Option<f64> = None;
    for i in 0..lift.y_m.len() {
        let extra = lift.control_sym_m[i] - lift.control_cl_per_rad * lift.additional_m[i];
        let slope = lift.additional_m[i] + d1 * extra;
        if slope > 1e-6 {
            let here = (limits[i] * lift.chord_m[i] - lift.basic_m[i] - d0 * extra) / slope;
            found = Some(found.map_or(here, |f| nearer(f, here)));
        }
    }
    found
}

/// Greatest trimmed CL before a section reaches its limit, and the effective elevon angle there, rad.
///
/// Local lift `basic + (CL - CL_d d) additional + d control` is linear in CL once d is; the least CL over the strips.
/// **Source:** Derived here. **Valid for:** section limits of the clean section also behind an up elevon (not the safe
/// side there, where local lift is low; unchecked).
pub fn trimmed_cl_max(lift: &LiftBasis, cg_mac: f64) -> Option<(f64, f64)> {
    let line = elevon_line(lift, cg_mac)?;
    let most = limited(lift, line, &lift.section_cl_max, f64::min)?;
    Some((most, line.0 + line.1 * most))
}

/// How the controls of a tailless wing balance it, and how far they go.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Trim {
    /// Effective angle at CL = 0, rad, and more of it per CL.
    pub line: (f64, f64),
    /// Effective travel up, a size, and down, rad, as far as it is counted on.
    pub up_rad: f64,
    pub down_rad: f64,
}

/// The controls where they balance the wing at one lift coefficient, or as near to it as they go.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Trimmed {
    pub trim: Trim,
    /// Lift coefficient they balance the wing at.
    pub cl: f64,
    /// Effective angle that balances it, rad, and the one there is.
    pub asked_rad: f64,
    pub flown_rad: f64,
    /// The controls stop before they balance it.
    pub at_stop: bool,
}

impl Trim {
    /// Of a tailless wing whose controls can balance it; none with a tail.
    pub fn of(design: &Design, lift: &LiftBasis) -> Option<Self> {
        let line = design.aboard.tailless.then(|| elevon_line(lift, design.aboard.cg_mac))??;
        // All move together, so the one with the least travel ends it.
        let least = |travel: fn(&Control) -> f64| design.controls.iter().map(travel).fold(MOST_TURNED_RAD, f64::min);
        let travels: [fn(&Control) -> f64; 2] = [|c| c.up_rad.abs(), |c| c.down_rad.abs()];
        let [up_rad, down_rad] = travels.map(|t| least(t) * lift.control_effect);
        Some(Self { line, up_rad, down_rad })
    }

    /// The controls that balance the wing at `cl`, held at their stop where they would go further.
    ///
    /// **Source:** [`elevon_line`]; the effective angle asked for hangs on no hinge factor, the travel takes the middle one.
    /// **Valid for:** steady flight and what follows from it at once. Safe side: the damping of a pull-up, which asks for more of
    /// the controls, is left out, and at the stop so is what they would still relieve.
    pub fn at(&self, cl: f64) -> Trimmed {
        let asked_rad = self.line.0 + self.line.1 * cl;
        let flown_rad = asked_rad.clamp(-self.up_rad, self.down_rad);
        // Where the stop itself ends the lift, rounding says nothing.
        let at_stop = (asked_rad - flown_rad).abs() > 1e-9;
        Trimmed { trim: *self, cl, asked_rad, flown_rad, at_stop }
    }

    /// The travel on the side of an effective angle, in words: what is there, or what counts of it.
    pub fn travel_words(&self, lift: &LiftBasis, asked_rad: f64) -> String {
        let counted = if asked_rad < 0.0 { self.up_rad } else { self.down_rad };
        let beyond = if counted > 0.999 * MOST_TURNED_RAD * lift.control_effect {
            "counts, beyond it the flow parts"
        } else {
            "is there"
        };
        format!("{:.0} deg {beyond}", (counted / lift.control_effect.max(1e-9)).to_degrees())
    }

    /// The lift coefficient, below `most` in size and of its sign, at which the controls reach their stop.
    fn stopped_before(&self, most: f64) -> Option<f64> {
        let (d0, d1) = self.line;
        let at = self.at(most);
        let stop = (at.flown_rad - d0) / d1;
        let between = stop * most > LEAST_CL * most.abs() && stop.abs() < most.abs();
        (at.at_stop && d1.abs() > 1e-9 && between).then_some(stop)
    }

    /// Greatest and least lift coefficients in trim: where a section or a control reaches its limit.
    ///
    /// **Source:** [`trimmed_cl_max`]. **Valid for:** as there; at least 0.05 in size.
    pub fn cl_range(&self, lift: &LiftBasis) -> (f64, f64) {
        let of = |limits: &[f64], nearer, sign: f64| {
            let least = limited(lift, self.line, limits, nearer).unwrap_or(0.0) * sign;
            let cl = least.max(LEAST_CL) * sign;
            self.stopped_before(cl).unwrap_or(cl)
        };
        (of(&lift.section_cl_max, f64::min, 1.0), of(&lift.section_cl_min, f64::max, -1.0))
    }
}

/// What is to be said of cases whose controls stop before they trim; nothing where none does.
pub fn warning(cases: &[Case], lift: &LiftBasis) -> Option<String> {
    let stopped = cases.iter().filter(|c| c.excused.is_none());
    let stopped: Vec<(&Case, Trimmed)> = stopped.filter_map(|c| c.trim.filter(|t| t.at_stop).map(|t| (c, t))).collect();
    let beyond = |t: &Trimmed| (t.asked_rad - t.flown_rad).abs();
    let (c, t) = stopped.iter().max_by(|a, b| beyond(&a.1).total_cmp(&beyond(&b.1)))?;
    let real = |rad: f64| (rad / lift.control_effect.max(1e-9)).to_degrees().abs();
    Some(format!(
        "controls stop before they trim: {} asks {:.0} deg {}, {}; {} flown with them at the stop",
        c.key,
        real(t.asked_rad),
        if t.asked_rad < 0.0 { "up" } else { "down" },
        t.trim.travel_words(lift, t.asked_rad),
        if stopped.len() == 1 { "it is".to_owned() } else { format!("{} cases are", stopped.len()) }
    ))
}
