//! Aft panel buckling.

use crate::physics::material::Mark;
use crate::physics::strength::{Context, Margin, Mode, skins};

pub const MODE: Mode = Mode {
    key: "aft_buckling",
    title: "aft panel buckling",
    formula: "Rc + Rs^2 = 1 case by case, with 1.024 of the mean strain between spar and hinge line of bending up or down, and the mean of bending in the plane of the wing",
    source: "as nose buckling, flat",
    mark: Mark::Memory,
    valid: "simply supported between ribs, flat; half of rigid aft skins counted in EIz, an allowance for shear lag",
    safe_side: "curvature left out",
    knock_down: "none on buckling; mean properties",
    power: 1.0,
    margins: Some(margins),
};

/// A strain that falls in a straight line to nothing buckles at k 7.81 of its greatest, an even one at 4: the mean counts 1.024.
/// **Source:** Timoshenko and Gere, combined bending and compression (from memory).
const STRAIGHT_FALL: f64 = 1.024;

/// Even strain over the strain beside the spar: depth falls towards the hinge line.
fn share(c: &Context, bay: usize) -> f64 {
    c.layout
        .bays
        .get(bay)
        .map_or(1.0, |b| STRAIGHT_FALL * (1.0 + b.mid.hinge_depth_m / b.mid.spar_depth_m.max(1e-6)) / 2.0)
        .min(1.0)
}

fn margins(c: &Context, out: &mut Vec<Margin>) {
    skins::buckling(c, MODE.key, skins::is_aft, share, out);
}
