//! Walls along the hinge line, and the glue that holds rigid skins on them.

use std::borrow::Cow;

use crate::physics::design::{Design, Strip};
use crate::physics::laminate::construction::Skin;
use crate::physics::mass::seams::{GLUE, glue_kg_m};
use crate::physics::mass::skins::rigid;
use crate::physics::mass::tally::{Heading, List};
use crate::physics::wing::hinge_wall::{self, Wall};
use crate::physics::wing::layout::Layout;

/// Rigid skins that end at a wall, above and below: each is glued to it along its length. A covering's fastening is counted with
/// the covering.
/// Unchecked: no outside check runs it by itself.
pub fn glued(design: &Design, layout: &Layout, skins: &[Skin], w: &Wall) -> u32 {
    let ends = |s: &&Strip| {
        hinge_wall::ends_at(design, layout, **s, w.bay) == Some(w.side)
            && layout.zone(**s, w.bay).is_some_and(|z| rigid(skins, z.construction))
    };
    Strip::ALL.iter().filter(ends).count() as u32
}

/// All walls.
pub fn walls(list: &mut List, design: &Design, layout: &Layout, skins: &[Skin]) {
    let glue = glue_kg_m(design.seams.bond_width_m, design.seams.bond_thickness_m, design);
    for w in hinge_wall::walls(design, layout) {
        let Some(s) = skins.get(w.construction) else { continue };
        let (name, bonds) = (w.side.wall(), w.side.glue());
        let area = 2.0 * w.area_m2();
        list.add(Heading::Controls, w.construction, Cow::Borrowed(name), area * s.mass.total())
            .sd(area * s.mass_sd_kg_m2)
            .sampled(s.learnt.as_ref().is_some_and(|l| l.weighed))
            .at(w.x_m, w.y_m)
            .bay(w.bay);
        let lines = glued(design, layout, skins, &w);
        if lines > 0 {
            list.add(Heading::Bonds, GLUE, Cow::Borrowed(bonds), 2.0 * f64::from(lines) * w.length_m * glue)
                .spread(0.3)
                .at(w.x_m, w.y_m)
                .bay(w.bay);
        }
    }
}
