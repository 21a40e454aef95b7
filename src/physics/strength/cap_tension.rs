//! Cap in tension.

use crate::physics::material::Mark;
use crate::physics::strength::{Context, Margin, Mode, caps};

pub const MODE: Mode = Mode {
    key: "cap_tension",
    title: "cap in tension",
    formula: "strain = M c/EI against the lower-bound tension strain; EI of the caps alone",
    source: "beam theory, any text; strain limits of the material, lower bound 0.8 an allowance",
    mark: Mark::Computed,
    valid: "caps carry all bending; skins, web and backing left out",
    safe_side: "strain is high by what the skins carry",
    knock_down: "0.8 on mean strain; safety and extra factor of the limits",
    power: 1.0,
    margins: Some(margins),
};

fn margins(c: &Context, out: &mut Vec<Margin>) {
    caps::strain_margins(c, MODE.key, true, out);
}
