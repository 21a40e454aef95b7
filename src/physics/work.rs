//! Hours, pieces and money.

use crate::physics::design::Design;
use crate::physics::laminate::construction::Skin;
use crate::physics::mass::tally::Weight;
use crate::physics::wing::layout::Layout;

#[derive(Debug, Clone, PartialEq, Default)]
pub struct Work {
    pub hours: f64,
    pub cost: f64,
    /// Pieces to make and glue.
    pub pieces: u32,
    pub set_up_minutes: f64,
    pub largest_piece_m: f64,
    pub heaviest_piece_kg: f64,
    /// (what, hours, cost), largest first.
    pub lines: Vec<(String, f64, f64)>,
}

/// Work and money for the wing.
pub fn estimate(design: &Design, layout: &Layout, skins: &[Skin], weight: &Weight) -> Work {
    let _ = (design, layout, skins, weight);
    Work::default()
}
