//! Web buckling in shear.

use crate::physics::material::Mark;
use crate::physics::strength::{Context, Margin, Mode, web};

pub const MODE: Mode = Mode {
    key: "web_buckling",
    title: "web buckling in shear",
    formula: "q against Seydel's N with 1/N = 1/Nb + 1/S",
    source: "Seydel (coefficients from memory, checked by Ritz 1-4 % low)",
    mark: Mark::Memory,
    valid: "flat, simply supported between caps and ribs",
    safe_side: "9-20 % low with soft cores",
    knock_down: "none on buckling; mean properties, core at service temperature",
    power: 1.0,
    margins: Some(margins),
};

fn margins(c: &Context, out: &mut Vec<Margin>) {
    web::in_shear(c, MODE.key, false, out);
}
