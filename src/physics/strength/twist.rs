//! Twist at dive speed.

use crate::physics::loads::case::CaseKind;
use crate::physics::material::Mark;
use crate::physics::strength::{Context, Input, Margin, Mode, inputs, margin};

pub const MODE: Mode = Mode {
    key: "twist",
    title: "twist at dive speed",
    formula: "integral of (T + V x)/GJ at limit load, x the shear centre behind the spar, against the target",
    source: "Bredt and Batho; any text",
    mark: Mark::Read,
    valid: "closed nose; aft cell only where both aft skins are rigid",
    safe_side: "warping restraint left out",
    knock_down: "none",
    power: 1.0,
    margins: Some(margins),
};

fn margins(c: &Context, out: &mut Vec<Margin>) {
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
        MODE.key,
        (None, None, Some(case)),
        (worst.to_degrees(), target.to_degrees(), "deg"),
        inputs(&[
            Input { label: "GJ root", value: c.sections.first().map_or(0.0, |s| s.gj_nm2), unit: "N m2" },
            Input {
                label: "shear centre root",
                value: c.sections.first().map_or(0.0, |s| s.shear_centre_m),
                unit: "m",
            },
        ]),
    ));
}
