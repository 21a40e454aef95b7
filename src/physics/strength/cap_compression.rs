//! Cap in compression.

use crate::physics::material::Mark;
use crate::physics::strength::{Context, Margin, Mode, caps};

pub const MODE: Mode = Mode {
    key: "cap_compression",
    title: "cap in compression",
    formula: "strain = M c/EI against the lower-bound compression strain",
    source: "beam theory, any text; waviness 0.7 and lower bound 0.8 are allowances until samples are broken",
    mark: Mark::Computed,
    valid: "as for tension",
    safe_side: "strain is high by what the skins carry",
    knock_down: "0.56 on mean tension strain",
    power: 1.0,
    margins: Some(margins),
};

fn margins(c: &Context, out: &mut Vec<Margin>) {
    caps::strain_margins(c, MODE.key, false, out);
}
