//! Adhesive and laps, splices, edges.

use std::borrow::Cow;

use crate::physics::design::Design;
use crate::physics::laminate::construction::Skin;
use crate::physics::mass::skins::rigid;
use crate::physics::mass::tally::{Heading, List};
use crate::physics::wing::layout::Layout;

/// Family of all glue: its errors go together.
pub(crate) const GLUE: usize = 4000;

/// Glue line mass, kg/m: width x thickness x density x (1 + squeeze-out). Common practice, no source.
/// Unchecked: no outside check runs it by itself.
pub fn glue_kg_m(width_m: f64, thickness_m: f64, design: &Design) -> f64 {
    width_m * thickness_m * design.seams.bond_density_kg_m3 * (1.0 + design.seams.squeeze_out)
}

/// All seams.
pub fn seams(list: &mut List, design: &Design, layout: &Layout, skins: &[Skin]) {
    let s = &design.seams;
    let skin_glue = glue_kg_m(s.bond_width_m, s.bond_thickness_m, design);
    let spar_glue = glue_kg_m(design.spar.bond_width_m, design.spar.bond_thickness_m, design);
    for (i, bay) in layout.bays.iter().enumerate() {
        let m = &bay.mid;
        let x_spar = m.x_le_m + m.chord_m * m.spar_frac;
        let length = bay.length_m;
        list.add(Heading::Bonds, GLUE, Cow::Borrowed("spar bonds"), 2.0 * 4.0 * length / m.spar_cos() * spar_glue)
            .spread(0.3)
            .at(x_spar, m.y_m)
            .bay(i);
        list.add(Heading::Edges, 4001, Cow::Borrowed("nose seam"), 2.0 * length * s.nose_seam_kg_m)
            .spread(0.25)
            .at(m.x_le_m, m.y_m)
            .bay(i);
        list.add(Heading::Edges, 4002, Cow::Borrowed("trailing edge"), 2.0 * length * s.trailing_edge_kg_m)
            .spread(0.2)
            .at(m.x_le_m + m.chord_m, m.y_m)
            .bay(i);
        let glued: f64 =
            layout.zones.iter().filter(|z| z.bay == i && rigid(skins, z.construction)).map(|z| z.arc_m).sum();
        let nose = f64::from(bay.nose_ribs) * (m.nose_upper_m + m.nose_lower_m);
        list.add(Heading::Bonds, GLUE, Cow::Borrowed("rib bonds"), 2.0 * (glued + nose) * skin_glue)
            .spread(0.3)
            .at(m.x_le_m + 0.4 * m.chord_m, bay.outer.y_m)
            .bay(i);
    }
    for p in &layout.splices {
        let Some(bay) = layout.bays.get(p.bay) else { continue };
        let fibre = |c: usize| skins.get(c).map_or(0.0, |k| k.mass.fibre + k.mass.resin);
        let kg = 2.0 * p.length_m * s.splice_lap_m * (fibre(p.from) + fibre(p.to)) + 2.0 * p.length_m * skin_glue;
        list.add(Heading::Splices, 4003, Cow::Borrowed("splice"), kg)
            .spread(0.3)
            .at(bay.outer.x_le_m + 0.4 * bay.outer.chord_m, bay.outer.y_m)
            .zone(p.strip, p.bay);
    }
}
