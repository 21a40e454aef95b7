//! Web in shear.

use crate::physics::material::Mark;
use crate::physics::strength::{Context, Margin, Mode, web};

pub const MODE: Mode = Mode {
    key: "web_shear",
    title: "web in shear",
    formula: "q = V/h less the flow round the nose, plus that round the aft box; strain q/A66 against the lower-bound shear strain",
    source: "thin web between caps, Megson (from memory); strain limits of the faces",
    mark: Mark::Memory,
    valid: "thin web; caps carry bending. Relief by taper left out",
    safe_side: "sized with both flows added",
    knock_down: "0.8 on mean strain",
    power: 1.0,
    margins: Some(margins),
};

fn margins(c: &Context, out: &mut Vec<Margin>) {
    web::in_shear(c, MODE.key, true, out);
}
