//! Aft skins in shear, where they close a box behind the spar.

use crate::physics::material::Mark;
use crate::physics::strength::{Context, Margin, Mode, skins};

pub const MODE: Mode = Mode {
    key: "aft_shear",
    title: "aft skin in shear",
    formula: "q = V x aft flow + T x aft flow, strain q/A66 against the lower-bound shear strain",
    source: "Johnson, Advanced Structural Mechanics, 2000, pp. 79-80; Megson p. 326",
    mark: Mark::Read,
    valid: "where both aft skins are rigid and reach the trailing edge or a wall at the hinge; no flow elsewhere",
    safe_side: "caps carry all bending; the skins none of it",
    knock_down: "0.8 on mean strain",
    power: 1.0,
    margins: Some(margins),
};

fn margins(c: &Context, out: &mut Vec<Margin>) {
    skins::in_shear(c, MODE.key, skins::is_aft, out);
}
