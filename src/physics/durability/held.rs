//! Where the wing may be held and where it may not be touched, one word for each zone: the map, the sheet, the shading and
//! the share of the surface all read it. It hangs on marks and on strength, and nothing of the wing hangs on it, so it is found of an
//! evaluation when somebody looks.

use crate::physics::design::Design;
use crate::physics::durability::index::Hands;
use crate::physics::evaluation::Evaluation;
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

/// What hands may do, zone by zone.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Held {
    pub may: Vec<Hands>,
    /// What one palm may bring there, N: the less of what marks the skin (P5) and of what its strength stands at limit load; None
    /// where a palm has no place or its strength is not shown.
    pub palm_n: Vec<Option<f64>>,
    /// Share of the surface that may be held.
    pub share: f64,
}

impl Held {
    /// Of a wing: never to be held where lifting by a palm marks the skin or is more than its strength stands, where a thumb may not
    /// press, nor in the bay of a named hold that marks or is short of strength.
    /// **Source:** [`strength::holds::stands`], with the factors of the limits; loads and spread of the event catalogue.
    /// Unchecked: no outside check runs it by itself.
    pub fn of(design: &Design, e: &Evaluation) -> Self {
        let (d, layout) = (&e.durability, &e.layout);
        let limit = design.targets.press_n.unwrap_or(NO_TOUCH_N);
        let short = |zone: usize| strength_at(layout, &e.margins, zone).any(|v| v == Verdict::Short);
        let bad: Vec<usize> = d.holds.iter().filter(|h| !h.holds || short(h.zone)).map(|h| h.zone).collect();
        let factor = design.ultimate();
        let mut out = Self::default();
        let (mut area, mut held) = (0.0, 0.0);
        for (i, (z, zone)) in layout.zones.iter().zip(&d.zones).enumerate() {
            let skin = e.skins.get(z.construction).filter(|_| zone.palm_n > 0.0);
            let stands = skin.and_then(|s| strength::holds::stands(design, s, z).ok());
            let palm_n = stands.map(|s| zone.palm_n.min(s.least_n() / factor));
            let may = if zone.press_n < limit {
                Hands::NoTouch
            } else if palm_n.is_some_and(|n| n > d.lift_n) && !bad.contains(&i) {
                Hands::Hold
            } else {
                Hands::Care
            };
            area += z.area_m2;
            held += if may == Hands::Hold { z.area_m2 } else { 0.0 };
            out.may.push(may);
            out.palm_n.push(palm_n);
        }
        out.share = if area > 0.0 { held / area } else { 0.0 };
        out
    }
}
