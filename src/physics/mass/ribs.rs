//! Ribs as constructions: body, caps, wrap, fittings; nose ribs; closing ribs.

use std::borrow::Cow;

use crate::physics::design::{Design, RibKind};
use crate::physics::laminate::construction::Skin;
use crate::physics::mass::tally::{Heading, List};
use crate::physics::wing::layout::{Layout, NOSE_RIBS, OTHER_SIDE, ROOT_RIB, RibRole, Station};

/// Mass of one rib, kg: area of the section it fills and the length of its edges.
/// Unchecked: no outside check runs it by itself.
pub fn rib_kg(kind: &RibKind, skins: &[Skin], area_m2: f64, edge_m: f64, eta: f64) -> f64 {
    let of = |i: usize| skins.get(i).map_or(0.0, |s| s.mass.total());
    let taper = 1.0 + eta * (kind.tip_thickness_ratio - 1.0);
    let body = area_m2 * (1.0 - kind.lightening) * of(kind.body) * taper;
    let caps = kind.cap.map_or(0.0, |(c, width)| edge_m * width * of(c));
    let wrap = kind.wrap.map_or(0.0, |(c, share)| area_m2 * share * of(c));
    body + caps + wrap + kind.fittings_kg
}

/// Where the middle of a whole rib lies, share of the chord. From memory: sections of this family, 0.37 to 0.40.
pub const MIDDLE_FRAC: f64 = 0.38;

/// What of a rib lies behind the hinge line, m2: a wedge that ends in the trailing edge. Ribs reach to it with or without
/// a control; a control's own ribs are such wedges.
pub fn wedge_m2(s: &Station) -> f64 {
    0.25 * s.hinge_depth_m * (s.control_upper_m + s.control_lower_m)
}

/// Whole edge of a rib, m.
pub(crate) fn edge_m(s: &Station) -> f64 {
    s.nose_upper_m + s.nose_lower_m + s.aft_upper_m + s.aft_lower_m + s.control_upper_m + s.control_lower_m
}

/// All ribs.
pub fn ribs(list: &mut List, design: &Design, layout: &Layout, skins: &[Skin]) {
    if let Some(first) = layout.bays.first() {
        one(list, design, skins, &first.inner, first.edge_kinds[0], 0, ROOT_RIB);
    }
    for (i, bay) in layout.bays.iter().enumerate() {
        let name = bay.outer_rib.word();
        one(list, design, skins, &bay.outer, bay.edge_kinds[1], i, name);
        if bay.outer_rib == RibRole::Joint {
            one(list, design, skins, &bay.outer, bay.edge_kinds[1], i, OTHER_SIDE);
        }
        if let Some(kind) = design.rib_kinds.get(bay.nose_kind).filter(|_| bay.nose_ribs > 0) {
            let m = &bay.mid;
            let kg = rib_kg(kind, skins, m.nose_cell_m2, m.nose_upper_m + m.nose_lower_m, m.eta);
            let x = m.x_le_m + m.chord_m * m.spar_frac * 0.6;
            list.add(Heading::Ribs, kind.body, Cow::Borrowed(NOSE_RIBS), 2.0 * kg * f64::from(bay.nose_ribs))
                .spread(0.10)
                .at(x, m.y_m)
                .bay(i);
        }
    }
}

fn one(list: &mut List, design: &Design, skins: &[Skin], s: &Station, kind: usize, bay: usize, name: &'static str) {
    let Some(kind) = design.rib_kinds.get(kind) else { return };
    let area = s.nose_cell_m2 + s.aft_cell_m2 + wedge_m2(s);
    let kg = rib_kg(kind, skins, area, edge_m(s), s.eta);
    list.add(Heading::Ribs, kind.body, Cow::Borrowed(name), 2.0 * kg)
        .spread(0.10)
        .at(s.x_le_m + MIDDLE_FRAC * s.chord_m, s.y_m)
        .bay(bay);
}
