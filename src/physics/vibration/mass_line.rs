//! Where the mass of each bay lies against the line about which the bay twists, and what it weighs in torsion.

use crate::physics::design::Strip;
use crate::physics::mass::ribs;
use crate::physics::mass::tally::{Heading, Part, Weight};
use crate::physics::strength::sizing::Section;
use crate::physics::strength::torsion;
use crate::physics::vibration::frequency::Cell;
use crate::physics::wing::layout::{Bay, Layout};

/// One bay of one half wing.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Slice {
    pub y_m: f64,
    pub chord_m: f64,
    /// Mass, lumps in the bay among it, at budget weight.
    pub mass_kg: f64,
    /// Centre of mass and shear centre, m aft of the root's leading edge.
    pub mass_x_m: f64,
    pub elastic_x_m: f64,
    /// About the shear centre.
    pub inertia_kg_m2: f64,
}

impl Slice {
    /// Mass behind the elastic line as a share of the chord; negative: ahead.
    /// Unchecked: no outside check runs it by itself.
    pub fn behind_frac(&self) -> f64 {
        if self.mass_kg > 0.0 { (self.mass_x_m - self.elastic_x_m) / self.chord_m.max(1e-6) } else { 0.0 }
    }
}

/// Cells of a bay in which the beam is cut for its frequencies.
const CUT: usize = 4;

/// The bays of one half wing, root to tip.
///
/// Inertia of a part: its mass times the square of its distance from the shear centre, and its own: a strip of width b
/// `b^2/12`, a rib as its cells side by side; skins also stand half the mean depth of their cell above and below.
/// **Source:** parallel axes, any text on mechanics. **Valid for:** parts as listed; spar parts as lines.
pub fn slices(layout: &Layout, weight: &Weight, sections: &[Section]) -> Vec<Slice> {
    let heavy = weight.budget_kg / weight.drawn_kg.max(1e-9) / 2.0;
    let mut out: Vec<Slice> = layout
        .bays
        .iter()
        .enumerate()
        .map(|(i, b)| Slice {
            y_m: b.mid.y_m,
            chord_m: b.mid.chord_m,
            elastic_x_m: b.mid.x_le_m + b.mid.spar_frac * b.mid.chord_m + shear_centre_m(sections, i),
            ..Slice::default()
        })
        .collect();
    for p in &weight.parts {
        let Some(i) = bay_of(layout, p) else { continue };
        let (bay, s) = (&layout.bays[i], &mut out[i]);
        let kg = heavy * p.nominal_kg;
        s.mass_kg += kg;
        s.mass_x_m += kg * p.x_m;
        s.inertia_kg_m2 += kg * ((p.x_m - s.elastic_x_m).powi(2) + own_radius2_m2(layout, bay, p));
    }
    for s in &mut out {
        s.mass_x_m /= s.mass_kg.max(1e-9);
    }
    out
}

/// Behind the spar at mid bay.
fn shear_centre_m(sections: &[Section], bay: usize) -> f64 {
    let (Some(s), Some(next)) = (sections.get(bay), sections.get(bay + 1)) else { return 0.0 };
    0.5 * (s.shear_centre_m + torsion::end(s, next).1)
}

/// The bay a part stands in: its own, or for a lump the one its place lies in.
fn bay_of(layout: &Layout, p: &Part) -> Option<usize> {
    match p.bay.filter(|_| !p.lump) {
        Some(b) => (b < layout.bays.len()).then_some(b),
        None => layout.bays.iter().position(|b| p.y_m < b.outer.y_m).or(layout.bays.len().checked_sub(1)),
    }
}

/// Square of the radius of gyration of a part about its own middle, m2.
fn own_radius2_m2(layout: &Layout, bay: &Bay, p: &Part) -> f64 {
    let m = &bay.mid;
    let control = 0.5 * (m.control_upper_m + m.control_lower_m);
    let nose = m.spar_frac * m.chord_m;
    let aft = (m.chord_m - nose - control).max(1e-6);
    // Cells in a row: width, where it begins, area.
    let cells = [(nose, 0.0, m.nose_cell_m2), (aft, nose, m.aft_cell_m2), (control, nose + aft, ribs::wedge_m2(m))];
    if p.heading == Heading::Ribs {
        if p.x_m < m.x_le_m + nose {
            return nose * nose / 12.0;
        }
        let place = |(width, from, area): &(f64, f64, f64)| {
            area * (width * width / 12.0 + (from + 0.5 * width - ribs::MIDDLE_FRAC * m.chord_m).powi(2))
        };
        return cells.iter().map(place).sum::<f64>() / cells.iter().map(|c| c.2).sum::<f64>().max(1e-9);
    }
    let Some((strip, z)) = p.strip.zip(p.bay).and_then(|(s, b)| Some((s, layout.zone(s, b)?))) else { return 0.0 };
    let (cell_width, _, area) = match strip {
        Strip::NoseUpper | Strip::NoseLower => cells[0],
        Strip::ControlUpper | Strip::ControlLower => cells[2],
        _ => cells[1],
    };
    let width = (z.chord_to - z.chord_from) * m.chord_m;
    let half_depth = 0.5 * area / cell_width.max(1e-6);
    width * width / 12.0 + half_depth * half_depth
}

/// The beam in bending and the shaft in torsion: each bay in four, along the spar.
pub(super) fn cells(
    layout: &Layout,
    weight: &Weight,
    sections: &[Section],
    slices: &[Slice],
) -> (Vec<Cell>, Vec<Cell>) {
    let heavy = weight.budget_kg / weight.drawn_kg.max(1e-9) / 2.0;
    let (mut bending, mut torsion) = (Vec::new(), Vec::new());
    for (i, (bay, slice)) in layout.bays.iter().zip(slices).enumerate() {
        let (Some(s), Some(next)) = (sections.get(i), sections.get(i + 1)) else { continue };
        let length_m = bay.length_m / bay.mid.spar_cos() / CUT as f64;
        let ei_out = if s.ei_out_nm2 > 0.0 { s.ei_out_nm2 } else { next.ei_nm2 };
        let gj_out = torsion::end(s, next).0;
        let lumps: Vec<(f64, f64)> = weight
            .parts
            .iter()
            .filter(|p| p.lump || p.bay.is_none())
            .filter(|p| bay_of(layout, p) == Some(i))
            .map(|p| (p.y_m, heavy * p.nominal_kg))
            .collect();
        let spread = slice.mass_kg - lumps.iter().map(|l| l.1).sum::<f64>();
        for k in 0..CUT {
            let t = (k as f64 + 0.5) / CUT as f64;
            // EI of caps on a depth that runs straight goes between its ends; GJ as the cube of a length.
            let ei = s.ei_nm2 + t * (ei_out - s.ei_nm2);
            let gj = (s.gj_nm2.max(0.0).cbrt() * (1.0 - t) + t * gj_out.max(0.0).cbrt()).powi(3);
            let cell_of = |y: f64| (((y - bay.inner.y_m) / bay.length_m * CUT as f64).max(0.0) as usize).min(CUT - 1);
            let lumped: f64 = lumps.iter().filter(|l| cell_of(l.0) == k).map(|l| l.1).sum();
            let over = |k: f64| if k > 0.0 { 1.0 / k } else { f64::INFINITY };
            bending.push(Cell { length_m, compliance: over(ei), inertia: spread / CUT as f64 + lumped });
            torsion.push(Cell { length_m, compliance: over(gj), inertia: slice.inertia_kg_m2 / CUT as f64 });
        }
    }
    (bending, torsion)
}
