//! How material is bought and cut and how resin is mixed: inputs of the workshop that change nothing of the wing but the laps of its plies.
//! Every default is common practice, no source; a scenario gives its own under `[workshop]`.

use crate::physics::material::{Library, Weave};

/// Rolls, sheets, allowances and pots.
#[derive(Debug, Clone, PartialEq)]
pub struct Stock {
    /// Width of a roll of woven cloth, of unidirectional cloth and of covering, m.
    pub cloth_roll_m: f64,
    pub tape_roll_m: f64,
    pub covering_roll_m: f64,
    /// Length and width of a sheet of core, and of wood, m.
    pub foam_sheet_m: [f64; 2],
    pub wood_sheet_m: [f64; 2],
    /// Left round a ply for trimming, round a core or a wood part, and round a covering for turning over, m on each side.
    pub trim_m: f64,
    pub core_trim_m: f64,
    pub turn_m: f64,
    /// Lap where a ply or a covering is made of several lengths, m.
    pub join_lap_m: f64,
    /// Length of a scarf in wood over its thickness.
    pub scarf_ratio: f64,
    /// Largest pot, kg of resin and hardener together; time to use it up, minutes; time to wet out a square metre of one ply, minutes.
    pub pot_kg: f64,
    pub pot_life_min: f64,
    pub wet_out_min_m2: f64,
    /// Share of glue that stays in the pot, beyond what the seams count as squeezed out.
    pub glue_loss: f64,
    /// Hardener to 100 of resin by mass, off the data sheet of the resin; None: not said, and then no split is shown.
    pub hardener_parts: Option<f64>,
    /// Materials that come in another size.
    pub own: Vec<OwnStock>,
}

/// The size one material comes in.
#[derive(Debug, Clone, PartialEq)]
pub struct OwnStock {
    /// Key of the material.
    pub of: String,
    /// Width of its roll, m, or length and width of its sheet, m.
    pub size: Size,
}

/// A roll or a sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Size {
    /// Width, m.
    Roll(f64),
    /// Length and width, m.
    Sheet([f64; 2]),
}

impl Default for Stock {
    fn default() -> Self {
        Self {
            cloth_roll_m: 1.0,
            tape_roll_m: 0.5,
            covering_roll_m: 1.5,
            foam_sheet_m: [2.4, 1.2],
            wood_sheet_m: [1.27, 1.27],
            trim_m: 0.015,
            core_trim_m: 0.005,
            turn_m: 0.040,
            join_lap_m: 0.025,
            scarf_ratio: 12.0,
            pot_kg: 0.3,
            pot_life_min: 25.0,
            wet_out_min_m2: 6.0,
            glue_loss: 0.15,
            hardener_parts: None,
            own: Vec::new(),
        }
    }
}

impl Stock {
    /// What a cloth comes in: what the scenario says of this one, else of its kind.
    pub(crate) fn of_cloth(&self, library: &Library, fabric: usize) -> Size {
        let cloth = library.fabrics.get(fabric);
        let tape = cloth.is_some_and(|f| f.weave == Weave::Unidirectional);
        let kind = Size::Roll(if tape { self.tape_roll_m } else { self.cloth_roll_m });
        cloth.and_then(|f| self.size_of(&f.key)).unwrap_or(kind)
    }
    /// What a material comes in, when the scenario says it of this one.
    pub(crate) fn size_of(&self, key: &str) -> Option<Size> {
        self.own.iter().find(|o| o.of == key).map(|o| o.size)
    }
}
