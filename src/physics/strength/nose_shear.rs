//! Nose skin in shear.

use crate::physics::design::Strip;
use crate::physics::material::Mark;
use crate::physics::strength::{Context, Margin, Mode, skins};

pub const MODE: Mode = Mode {
    key: "nose_shear",
    title: "nose skin in shear",
    formula: "q = T x nose flow, and with a rigid aft box V x its share, strain q/A66 against the lower-bound shear strain",
    source: "Johnson, Advanced Structural Mechanics, 2000, pp. 79-80; Megson p. 326",
    mark: Mark::Read,
    valid: "closed nose cell; aft cell counted only where both aft skins are rigid",
    safe_side: "caps carry all bending; the skins none of it",
    knock_down: "0.8 on mean strain",
    power: 1.0,
    margins: Some(margins),
};

fn margins(c: &Context, out: &mut Vec<Margin>) {
    skins::in_shear(c, MODE.key, Strip::is_nose, out);
}
