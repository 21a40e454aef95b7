//! Where the wing may be held and where it may not be touched, one word for each zone: the map, the sheet, the shading and
//! the share of the surface all read it. It hangs on strength too, so it is found after the margins.

use crate::physics::durability::index::{Durability, Hands};
use crate::physics::strength::{self, Margin, Verdict};
use crate::physics::wing::layout::Layout;

/// Press load below which nobody should touch when the scenario has no target, N: twice a light press. A choice of ours.
pub const NO_TOUCH_N: f64 = 35.0;

/// Verdicts on the strength of a zone that is lifted by; none where no hold is named.
/// Unchecked: no outside check runs it by itself.
pub fn strength_at<'a>(
    layout: &'a Layout,
    margins: &'a [Margin],
    zone: usize,
) -> impl Iterator<Item = Verdict> + use<'a> {
    let at = layout.zones.get(zone).map(|z| (Some(z.strip), Some(z.bay)));
    margins
        .iter()
        .filter(move |m| m.mode == strength::holds::MODE.key && at == Some((m.strip, m.bay)))
        .map(|m| m.verdict)
}

/// Say what hands may do on every zone, and the share of the surface that may be held: never where a palm marks, where a
/// thumb may not press, nor in the bay of a named hold that marks or is short of strength.
pub(crate) fn fill(out: &mut Durability, layout: &Layout, margins: &[Margin], press_target_n: Option<f64>) {
    let limit = press_target_n.unwrap_or(NO_TOUCH_N);
    let bad: Vec<usize> = out
        .holds
        .iter()
        .filter(|h| !h.holds || strength_at(layout, margins, h.zone).any(|v| v == Verdict::Short))
        .map(|h| h.zone)
        .collect();
    let (mut area, mut held) = (0.0, 0.0);
    for (i, (z, zone)) in layout.zones.iter().zip(&mut out.zones).enumerate() {
        zone.may = if zone.press_n < limit {
            Hands::NoTouch
        } else if zone.palm_safe && !bad.contains(&i) {
            Hands::Hold
        } else {
            Hands::Care
        };
        area += z.area_m2;
        held += if zone.may == Hands::Hold { z.area_m2 } else { 0.0 };
    }
    out.hold_safe_share = if area > 0.0 { held / area } else { 0.0 };
}
