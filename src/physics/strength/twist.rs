//! Twist of the tip in flight.

use crate::physics::loads::case::CaseKind;
use crate::physics::loads::internal::{CaseLoads, Loads};
use crate::physics::material::Mark;
use crate::physics::strength::sizing::Bent;
use crate::physics::strength::{Context, Margin, Mode, inputs, margin};

pub const MODE: Mode = Mode {
    key: "twist",
    title: "twist of the wing",
    formula: "integral of (T + V x)/GJ at limit load, x the shear centre behind the spar, against the target",
    source: "Bredt and Batho; any text",
    mark: Mark::Read,
    valid: "closed nose; aft cell only where both aft skins are rigid",
    safe_side: "warping restraint left out",
    knock_down: "none",
    power: 1.0,
    margins: Some(margins),
};

/// The greatest twist of the tip in flight with controls, rad, and which of the loads gives it; none without any.
pub(super) fn greatest(bending: &[Bent], loads: &Loads) -> Option<(usize, f64)> {
    let counts = |l: &CaseLoads| {
        let kind = loads.cases.get(l.case).map(|k| k.kind);
        matches!(kind, Some(CaseKind::Dive | CaseKind::Roll | CaseKind::Pitch | CaseKind::Manoeuvre))
    };
    let mut worst: Option<(usize, f64)> = None;
    for (i, (b, _)) in bending.iter().zip(&loads.loads).enumerate().filter(|(_, (_, l))| counts(l)) {
        let t = b.twist_rad().last().copied().unwrap_or(0.0).abs();
        if worst.is_none_or(|w| t > w.1) {
            worst = Some((i, t));
        }
    }
    worst
}

fn margins(c: &Context, out: &mut Vec<Margin>) {
    let Some(target) = c.design.targets.twist_rad else { return };
    let found = greatest(c.bending, c.loads);
    let (worst, case) = found.map_or((0.0, 0), |(i, t)| (t, c.loads.loads.get(i).map_or(0, |l| l.case)));
    out.push(margin(
        MODE.key,
        (None, None, Some(case)),
        (worst.to_degrees(), target.to_degrees(), "deg"),
        inputs![
            ("GJ root", c.sections.first().map_or(0.0, |s| s.gj_nm2), "N m2"),
            ("shear centre root", c.sections.first().map_or(0.0, |s| s.shear_centre_m), "m"),
        ],
    ));
}
