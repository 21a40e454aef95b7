//! Hours and material of the walls along the hinge line.

use crate::physics::design::Design;
use crate::physics::laminate::construction::Skin;
use crate::physics::wing::hinge_wall::{self, Side};
use crate::physics::wing::layout::Layout;

/// Hours, and material cost with what is wasted, of the walls of one side of the hinge or of both, both halves.
/// **Source:** areas times hours and price of a square metre of their construction, as for skins. Derived here. **Valid for:** any.
pub fn of(design: &Design, layout: &Layout, skins: &[Skin], side: Option<Side>) -> (f64, f64) {
    let wanted = hinge_wall::walls(design, layout).filter(|w| side.is_none_or(|s| s == w.side));
    let (mut hours, mut cost) = (0.0, 0.0);
    for w in wanted {
        let Some(s) = skins.get(w.construction) else { continue };
        hours += 2.0 * w.area_m2() * s.hours_per_m2;
        cost += 2.0 * w.area_m2() * s.cost_per_m2 * (1.0 + design.rates.waste);
    }
    (hours, cost)
}

/// Walls to make, both halves.
/// Unchecked: no outside check runs it by itself.
pub fn pieces(design: &Design) -> u32 {
    let walls = design.controls.iter().flat_map(|c| [c.wing_wall, c.control_wall]).flatten();
    2 * walls.count() as u32
}
