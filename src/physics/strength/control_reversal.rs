//! What is left of the roll control at the dive speed when the wing twists under it.

use crate::physics::design::Design;
use crate::physics::kept::{Inputs, To};
use crate::physics::loads::divergence::{self, Flap, Torsion};
use crate::physics::loads::envelope::pressure_pa;
use crate::physics::loads::section::{HINGE_FACTOR, plain_flap};
use crate::physics::loads::swept_control::{self, Bends};
use crate::physics::material::Mark;
use crate::physics::strength::torsion::Shaft;
use crate::physics::strength::{Context, Margin, Mode, Verdict, inputs, margin, spar_sweep_rad};
use crate::physics::wing::layout::Layout;

pub const MODE: Mode = Mode {
    key: "control_reversal",
    title: "roll control effectiveness and reversal",
    formula: "rolling moment of the twisting wing over that of the rigid one at the dive speed, against 0.5; (GJ th')' + q a e c^2 th = -q c^2 (e cl_d + cm_d) on the control; a spar swept aft bends as well, incidence th cos - w' sin",
    source: "Megson, Aircraft Structures, aeroelasticity (rigid section); spanwise form derived, closed form for uniform wings; swept wings: kinematics of Hodges and Pierce, derived; 0.5 is a choice",
    mark: Mark::Computed,
    valid: "strip theory, no roll rate, controls of the scenario together; not shown beyond 30 degrees of sweep of the spar",
    safe_side: "finite span twists and bends the wing less; lift of the twist itself counted only where it adds; what bending gives a wing swept forward left out",
    knock_down: "half of the rigid effect must be left",
    power: 0.0,
    margins: Some(margins),
};

/// Share of roll control that must be left at the dive speed. A choice.
pub(super) const LEAST_EFFECT: f64 = 0.5;

/// Sweep of the spar beyond which nothing is shown, rad: 30 degrees, as for the lift. A choice.
const MOST_SWEEP_RAD: f64 = 0.524;

/// Share of the rigid wing's roll control left at the dive speed; none without limits, or at or past divergence.
pub(super) fn left(design: &Design, layout: &Layout, shaft: &Shaft) -> Option<f64> {
    effect(&Turned::of(design, (layout, shaft), design.limits.as_ref()?.dive_speed_m_s))
}

fn margins(c: &Context, out: &mut Vec<Margin>) {
    let Some(limits) = &c.design.limits else { return };
    if c.design.controls.is_empty() {
        return;
    }
    let turned = Turned::of(c.design, (c.layout, c.shaft()), limits.dive_speed_m_s);
    let shaft = turned.shaft;
    let left = c.kept(|m| *m.effect.of(&turned, effect)).unwrap_or(0.0);
    let mut worked = margin(
        MODE.key,
        (None, None, None),
        (LEAST_EFFECT, left.max(0.0), "share left"),
        inputs![
            ("dive speed", limits.dive_speed_m_s, "m/s"),
            ("GJ root", shaft.gj_nm2.first().copied().unwrap_or(0.0), "N m2"),
            ("axis behind c/4, root", shaft.shear_centre_frac.first().copied().unwrap_or(0.0), "of chord"),
            ("EI root", shaft.ei_nm2.first().copied().unwrap_or(0.0), "N m2"),
            ("sweep of the spar", turned.sweep_rad.to_degrees(), "deg"),
            ("cl per rad", turned.cl_per_rad, ""),
            ("cm per rad", turned.cm_per_rad, ""),
        ],
    );
    if turned.sweep_rad.abs() > MOST_SWEEP_RAD {
        worked.verdict = Verdict::NotShown("a spar swept beyond 30 degrees: strips are no measure of its control");
    }
    out.push(worked);
}

/// A half wing with its controls turned at a pressure, Pa.
pub(super) struct Turned<'a> {
    shaft: &'a Shaft,
    share: Vec<f64>,
    cl_per_rad: f64,
    cm_per_rad: f64,
    q_pa: f64,
    sweep_rad: f64,
}

impl<'a> Turned<'a> {
    fn of(design: &Design, (layout, shaft): (&Layout, &'a Shaft), speed_m_s: f64) -> Self {
        let controlled = |eta: f64| design.controls.iter().any(|k| eta >= k.from_eta && eta <= k.to_eta);
        let (cl, cm) = plain_flap(1.0 - design.hinge_frac);
        Self {
            shaft,
            share: layout.bays.iter().flat_map(|b| [f64::from(controlled(b.mid.eta)); 2]).collect(),
            cl_per_rad: HINGE_FACTOR * cl,
            cm_per_rad: HINGE_FACTOR * cm,
            q_pa: pressure_pa(speed_m_s),
            sweep_rad: spar_sweep_rad(layout),
        }
    }
}

impl Inputs for Turned<'_> {
    fn put<T: To>(&self, to: &mut T) {
        let Self { shaft, share, cl_per_rad, cm_per_rad, q_pa, sweep_rad } = self;
        shaft.put(to);
        share.put(to);
        [cl_per_rad, cm_per_rad, q_pa, sweep_rad].put(to);
    }
}

/// Share of its rigid effect that is left; None at or beyond divergence.
fn effect(on: &Turned) -> Option<f64> {
    // It twists about the shear centre, which lies ahead of the spar where the aft box is open.
    let wing = Torsion {
        y_m: &on.shaft.y_m,
        chord_m: &on.shaft.chord_m,
        gj_nm2: &on.shaft.gj_nm2,
        e_frac: &on.shaft.shear_centre_frac,
        slope_per_rad: std::f64::consts::TAU,
    };
    // Summed about the spar line, for the shear centre jumps wherever skins change.
    let flap =
        Flap { share: &on.share, cl_per_rad: on.cl_per_rad, cm_per_rad: on.cm_per_rad, axis_frac: &on.shaft.spar_frac };
    if on.sweep_rad > 0.0 {
        let bends = Bends { ei_nm2: &on.shaft.ei_nm2, sweep_rad: on.sweep_rad };
        return swept_control::effectiveness(&wing, &bends, &flap, on.q_pa);
    }
    divergence::effectiveness(&wing, &flap, on.q_pa)
}
