//! Tip deflection.

use crate::physics::material::Mark;
use crate::physics::strength::{Context, Margin, Mode, inputs, margin};

pub const MODE: Mode = Mode {
    key: "tip_deflection",
    title: "tip deflection",
    formula: "double integral of M/EI at limit load against the target share of the half span",
    source: "beam theory, any text",
    mark: Mark::Computed,
    valid: "small angles; overstates above a tenth of the half span",
    safe_side: "EI of the caps alone",
    knock_down: "none",
    power: 1.0,
    margins: Some(margins),
};

fn margins(c: &Context, out: &mut Vec<Margin>) {
    let Some(target) = c.design.targets.tip_deflection_frac else { return };
    let (mut worst, mut case) = (0.0, 0);
    for (b, l) in c.bending.iter().zip(&c.loads.loads) {
        let d = b.deflection_m().last().copied().unwrap_or(0.0).abs();
        if d > worst {
            (worst, case) = (d, l.case);
        }
    }
    out.push(margin(
        MODE.key,
        (None, None, Some(case)),
        (worst, target * c.layout.half_span_m, "m"),
        inputs![("half span", c.layout.half_span_m, "m"), ("target share", target, "")],
    ));
}
