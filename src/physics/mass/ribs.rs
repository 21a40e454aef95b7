//! Ribs as constructions: body, caps, wrap, fittings; nose ribs; closing ribs.

use std::borrow::Cow;

use crate::physics::design::{Design, RibKind};
use crate::physics::laminate::construction::Skin;
use crate::physics::mass::tally::{Heading, List};
use crate::physics::wing::layout::{Bay, Layout, NOSE_RIBS, OTHER_SIDE, ROOT_RIB, RibRole, Station};

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
fn edge_m(s: &Station) -> f64 {
    s.nose_upper_m + s.nose_lower_m + s.aft_upper_m + s.aft_lower_m + s.control_upper_m + s.control_lower_m
}

/// A rib, or the nose ribs of a bay, where it stands.
pub(crate) struct Placed<'a> {
    /// Its name in the parts list.
    pub name: &'static str,
    pub at: &'a Station,
    pub kind: usize,
    pub bay: usize,
    /// How many on each half.
    pub times: u32,
    /// It ends at the spar.
    pub nose_only: bool,
}

impl Placed<'_> {
    /// Area of the section that one fills, m2, and the length of its edges, m.
    pub(crate) fn filled(&self) -> (f64, f64) {
        let s = self.at;
        if self.nose_only {
            (s.nose_cell_m2, s.nose_upper_m + s.nose_lower_m)
        } else {
            (s.nose_cell_m2 + s.aft_cell_m2 + wedge_m2(s), edge_m(s))
        }
    }
}

/// Every rib of a half, in the order of the parts list.
pub(crate) fn placed(layout: &Layout) -> impl Iterator<Item = Placed<'_>> {
    let root = layout.bays.first().map(|b| Placed {
        name: ROOT_RIB,
        at: &b.inner,
        kind: b.edge_kinds[0],
        bay: 0,
        times: 1,
        nose_only: false,
    });
    root.into_iter().chain(layout.bays.iter().enumerate().flat_map(|(i, b)| bay_ribs(i, b)).flatten())
}

/// The rib at the outer edge of a bay, the second one where a joint stands there, and its nose ribs.
fn bay_ribs(i: usize, b: &Bay) -> [Option<Placed<'_>>; 3] {
    let main = |name| Placed { name, at: &b.outer, kind: b.edge_kinds[1], bay: i, times: 1, nose_only: false };
    let nose = Placed { name: NOSE_RIBS, at: &b.mid, kind: b.nose_kind, bay: i, times: b.nose_ribs, nose_only: true };
    [
        Some(main(b.outer_rib.word())),
        (b.outer_rib == RibRole::Joint).then(|| main(OTHER_SIDE)),
        Some(nose).filter(|n| n.times > 0),
    ]
}

/// All ribs.
pub fn ribs(list: &mut List, design: &Design, layout: &Layout, skins: &[Skin]) {
    for r in placed(layout) {
        let Some(kind) = design.rib_kinds.get(r.kind) else { continue };
        let (area_m2, edge_m) = r.filled();
        let kg = rib_kg(kind, skins, area_m2, edge_m, r.at.eta);
        let back = if r.nose_only { 0.6 * r.at.spar_frac } else { MIDDLE_FRAC };
        list.add(Heading::Ribs, kind.body, Cow::Borrowed(r.name), 2.0 * kg * f64::from(r.times))
            .spread(0.10)
            .at(r.at.x_le_m + back * r.at.chord_m, r.at.y_m)
            .bay(r.bay);
    }
}
