//! The whole wing: tip deflection, twist at dive speed, divergence.

use crate::physics::loads::case::CaseKind;
use crate::physics::loads::divergence::{self, Torsion};
use crate::physics::strength::{Context, Input, Margin, Mode, inputs, margin};

pub const TIP: Mode = Mode {
    key: "tip_deflection",
    title: "tip deflection",
    formula: "double integral of M/EI at limit load against the target share of the half span",
    source: "beam theory, any text",
    valid: "small angles; overstates above a tenth of the half span",
    safe_side: "EI of the caps alone",
    knock_down: "none",
    power: 1.0,
    margins: Some(tip),
};

pub const TWIST: Mode = Mode {
    key: "twist",
    title: "twist at dive speed",
    formula: "integral of T/GJ at limit load against the target",
    source: "Bredt and Batho; any text",
    valid: "closed nose; aft cell only where both aft skins are rigid",
    safe_side: "warping restraint left out",
    knock_down: "none",
    power: 1.0,
    margins: Some(twist),
};

pub const DIVERGENCE: Mode = Mode {
    key: "divergence",
    title: "torsional divergence",
    formula: "(GJ th')' + q a e c^2 th = 0, speed against 1.2 dive speed; strip theory, slope 2 pi",
    source: "Hodges and Pierce, Introduction to Structural Dynamics and Aeroelasticity, eqs 4.45-4.57",
    valid: "sweep below 5 degrees (wash-out of bending left out); elastic axis at the spar line",
    safe_side: "finite span and aft sweep raise the speed",
    knock_down: "1.2 on speed",
    power: 0.5,
    margins: Some(diverge),
};

fn tip(c: &Context, out: &mut Vec<Margin>) {
    let Some(target) = c.design.targets.tip_deflection_frac else { return };
    let (mut worst, mut case) = (0.0, 0);
    for (b, l) in c.bending.iter().zip(&c.loads.loads) {
        let d = b.deflection_m.last().copied().unwrap_or(0.0).abs();
        if d > worst {
            (worst, case) = (d, l.case);
        }
    }
    out.push(margin(
        TIP.key,
        (None, None, Some(case)),
        (worst, target * c.layout.half_span_m, "m"),
        inputs(&[
            Input { label: "half span", value: c.layout.half_span_m, unit: "m" },
            Input { label: "target share", value: target, unit: "" },
        ]),
    ));
}

fn twist(c: &Context, out: &mut Vec<Margin>) {
    let Some(target) = c.design.targets.twist_rad else { return };
    let (mut worst, mut case) = (0.0, 0);
    for (b, l) in c.bending.iter().zip(&c.loads.loads) {
        let kind = c.loads.cases.get(l.case).map(|k| k.kind);
        if matches!(kind, Some(CaseKind::Dive | CaseKind::Roll | CaseKind::Manoeuvre)) {
            let t = b.twist_rad.last().copied().unwrap_or(0.0).abs();
            if t > worst {
                (worst, case) = (t, l.case);
            }
        }
    }
    out.push(margin(
        TWIST.key,
        (None, None, Some(case)),
        (worst.to_degrees(), target.to_degrees(), "deg"),
        inputs(&[Input { label: "GJ root", value: c.sections.first().map_or(0.0, |s| s.gj_nm2), unit: "N m2" }]),
    ));
}

fn diverge(c: &Context, out: &mut Vec<Margin>) {
    let Some(limits) = &c.design.limits else { return };
    let y: Vec<f64> = c.layout.stations().map(|s| s.y_m).collect();
    let chord: Vec<f64> = c.layout.stations().map(|s| s.chord_m).collect();
    let arm: Vec<f64> = c.layout.stations().map(|s| s.spar_frac - 0.25).collect();
    let gj: Vec<f64> = c.sections.iter().map(|s| s.gj_nm2.max(1.0)).collect();
    let wing = Torsion { y_m: &y, chord_m: &chord, gj_nm2: &gj, e_frac: &arm, slope_per_rad: std::f64::consts::TAU };
    let speed = divergence::divergence_pa(&wing).map_or(f64::INFINITY, divergence::speed_at_m_s);
    let asked = 1.2 * limits.dive_speed_m_s;
    let swept = c.design.planform.sweep_rad.abs() > 5.0_f64.to_radians();
    let mut m = margin(
        DIVERGENCE.key,
        (None, None, None),
        (asked, speed, "m/s"),
        inputs(&[
            Input { label: "dive speed", value: limits.dive_speed_m_s, unit: "m/s" },
            Input { label: "GJ root", value: gj.first().copied().unwrap_or(0.0), unit: "N m2" },
        ]),
    );
    if swept && c.design.planform.sweep_rad < 0.0 {
        m.verdict = super::Verdict::NotShown("forward sweep lowers the divergence speed and is outside this formula");
    }
    out.push(m);
}
