//! Torsional divergence.

use crate::physics::kept::{Inputs, To};
use crate::physics::loads::divergence::{self, Found, Torsion};
use crate::physics::loads::envelope::pressure_pa;
use crate::physics::material::Mark;
use crate::physics::strength::torsion::Shaft;
use crate::physics::strength::{Context, Margin, Mode, Verdict, inputs, margin};

pub const MODE: Mode = Mode {
    key: "divergence",
    title: "torsional divergence",
    formula: "(GJ th')' + q a e c^2 th = 0, speed against 1.2 dive speed; strip theory, slope 2 pi",
    source: "Hodges and Pierce, Introduction to Structural Dynamics and Aeroelasticity, eqs 4.45-4.57",
    mark: Mark::Read,
    valid: "spar swept aft, or forward less than 1 degree; elastic axis at the spar line, or at the shear centre where that lies further aft. Beyond five times what is asked the speed is only shown to be none below",
    safe_side: "finite span and aft sweep raise the speed",
    knock_down: "1.2 on speed",
    power: 0.0,
    margins: Some(margins),
};

/// Divergence is looked for up to this many times the speed asked for.
const LOOKED_FOR: f64 = 5.0;
/// Sweep of the spar below which the formula is not used, rad: forward sweep lowers the speed.
const LEAST_SWEEP_RAD: f64 = -0.0175;

fn margins(c: &Context, out: &mut Vec<Margin>) {
    let Some(limits) = &c.design.limits else { return };
    let shaft = c.shaft();
    let asked = 1.2 * limits.dive_speed_m_s;
    let most = LOOKED_FOR * asked;
    let looked = Looked { shaft, most_pa: pressure_pa(most) };
    let found = c.kept(|m| *m.divergence.of(&looked, |on| Some(look(on)))).unwrap_or(Found::Unknown);
    let speed = match found {
        Found::At(q) => divergence::speed_at_m_s(q),
        Found::NoneBelow => most,
        Found::Unknown => 0.0,
    };
    let none_below = if found == Found::NoneBelow { most } else { 0.0 };
    let mut m = margin(
        MODE.key,
        (None, None, None),
        (asked, speed, "m/s"),
        inputs![
            ("dive speed", limits.dive_speed_m_s, "m/s"),
            ("GJ root", shaft.gj_nm2.first().copied().unwrap_or(0.0), "N m2"),
            ("none below (0: found)", none_below, "m/s"),
        ],
    );
    if found == Found::Unknown {
        m.verdict = Verdict::NotShown("a torsional stiffness is missing, or the search did not settle");
    } else if c.spar_sweep_rad() < LEAST_SWEEP_RAD {
        m.verdict = Verdict::NotShown("forward sweep lowers the divergence speed and is outside this formula");
    }
    out.push(m);
}

/// A half wing, and the pressure up to which divergence is looked for, Pa.
pub(super) struct Looked<'a> {
    shaft: &'a Shaft,
    most_pa: f64,
}

impl Inputs for Looked<'_> {
    fn put<T: To>(&self, to: &mut T) {
        let Self { shaft, most_pa } = self;
        shaft.put(to);
        most_pa.put(to);
    }
}

fn look(on: &Looked) -> Found {
    let shaft = on.shaft;
    // The further aft of spar and shear centre: the safe side.
    let arm: Vec<f64> = shaft.spar_frac.iter().zip(&shaft.shear_centre_frac).map(|(a, b)| a.max(*b)).collect();
    let wing = Torsion {
        y_m: &shaft.y_m,
        chord_m: &shaft.chord_m,
        gj_nm2: &shaft.gj_nm2,
        e_frac: &arm,
        slope_per_rad: std::f64::consts::TAU,
    };
    divergence::below(&wing, on.most_pa)
}
