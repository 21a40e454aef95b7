//! Nose skin buckling.

use crate::physics::design::Strip;
use crate::physics::material::Mark;
use crate::physics::strength::{Context, Margin, Mode, skins};

pub const MODE: Mode = Mode {
    key: "nose_buckling",
    title: "nose skin buckling",
    formula: "Rc + Rs^2 = 1 case by case; compression of bending up or down and of bending in the plane of the wing; Rc from the panel series with core shear and curvature, Rs from Seydel flat",
    source: "first-order shear theory and Donnell; Gerard and Becker, NASA CR-1457 (from memory)",
    mark: Mark::Memory,
    valid: "simply supported between ribs; half of rigid aft skins counted in EIz, an allowance for shear lag; radius of the flattest third of the arc, flat where it is over 1500 thicknesses; plies that couple bending and twist not shown",
    safe_side: "curvature left out in shear; no relief from bending in plane; even strain of the mean height of the nose (more than the half of a straight fall, for which 4/7.81 is published)",
    knock_down: "NASA SP-8007 on the part that curvature adds; none on the flat part",
    power: 1.0,
    margins: Some(margins),
};

/// A half-sine over the arc weighs the middle of an elliptic nose by this much above its mean height (integrated here).
const NOSE_SHAPE: f64 = 1.07;

/// Strain falls from the cap to nothing at the chord plane as the height of the nose does: mean height over greatest.
fn share(c: &Context, bay: usize) -> f64 {
    c.layout.bays.get(bay).map_or(1.0, |b| {
        let m = &b.mid;
        (NOSE_SHAPE * m.nose_cell_m2 / (m.spar_depth_m * m.spar_frac * m.chord_m).max(1e-9)).clamp(0.5, 1.0)
    })
}

fn margins(c: &Context, out: &mut Vec<Margin>) {
    skins::buckling(c, MODE.key, Strip::is_nose, share, out);
}
