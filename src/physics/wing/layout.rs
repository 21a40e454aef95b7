//! The half wing laid out: stations at every rib, bays between them, zones of skin.

use crate::physics::design::{Design, Strip};

/// A section of the wing at one span position. Lengths on the true section, not the chord.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Station {
    pub eta: f64,
    pub y_m: f64,
    pub chord_m: f64,
    /// Geometric twist against the root, nose-up positive.
    pub twist_rad: f64,
    pub x_le_m: f64,
    pub thickness_frac: f64,
    /// Chord fraction of the spar.
    pub spar_frac: f64,
    /// Outside depth of the section at the spar, m.
    pub spar_depth_m: f64,
    /// Radius of the nose, m.
    pub nose_radius_m: f64,
    /// Arcs, m: nose from leading edge to spar; aft from spar to hinge line (or trailing edge).
    pub nose_upper_m: f64,
    pub nose_lower_m: f64,
    pub aft_upper_m: f64,
    pub aft_lower_m: f64,
    pub control_upper_m: f64,
    pub control_lower_m: f64,
    /// Mean radius of the flattest third of the nose arc, upper and lower, m.
    pub nose_upper_radius_m: f64,
    pub nose_lower_radius_m: f64,
    /// Areas inside the contour ahead of and behind the spar, m2.
    pub nose_cell_m2: f64,
    pub aft_cell_m2: f64,
    /// Depth where the aft part ends (hinge line), m.
    pub hinge_depth_m: f64,
    /// Thin-aerofoil zero-lift angle and moment about c/4 (or the person's own).
    pub alpha0_rad: f64,
    pub cm0: f64,
    pub cl_max: f64,
    pub cl_min: f64,
}

/// What stands at the outer edge of a bay.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum RibRole {
    #[default]
    Main,
    /// Added where a boundary falls between ribs.
    Closing,
    Joint,
    Tip,
    Root,
}

/// Between two ribs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bay {
    pub inner: Station,
    pub outer: Station,
    pub mid: Station,
    /// Length along the span, m.
    pub length_m: f64,
    pub rib_kind: usize,
    pub nose_kind: usize,
    /// Nose ribs between the main ribs of this bay.
    pub nose_ribs: u32,
    /// The rib at the inner and at the outer edge.
    pub inner_rib: RibRole,
    pub outer_rib: RibRole,
}

/// Strip by bay, with one construction.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Zone {
    pub strip: Strip,
    pub bay: usize,
    pub construction: usize,
    /// True developed area of one half wing, m2.
    pub area_m2: f64,
    /// Mean arc across the chord, m.
    pub arc_m: f64,
    /// Unsupported length along the span, m (nose ribs halve it).
    pub length_m: f64,
    pub chord_from: f64,
    pub chord_to: f64,
    /// Mean radius of curvature of the flattest third, m (f64::INFINITY when flat).
    pub radius_m: f64,
    /// Share of the area in the root group, the tip group, and length of trailing edge in it, m.
    pub root_share: f64,
    pub tip_share: f64,
    pub edge_m: f64,
}

/// A change of construction between neighbouring zones of a strip.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Splice {
    pub strip: Strip,
    /// Inboard bay; the splice stands at its outer edge.
    pub bay: usize,
    pub from: usize,
    pub to: usize,
    pub length_m: f64,
}

/// The laid-out half wing.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Layout {
    pub half_span_m: f64,
    pub area_m2: f64,
    pub aspect_ratio: f64,
    pub root_chord_m: f64,
    pub tip_chord_m: f64,
    pub mac_m: f64,
    pub mac_y_m: f64,
    pub mac_x_le_m: f64,
    /// Wetted area of the whole wing, both sides, m2.
    pub wetted_m2: f64,
    pub bays: Vec<Bay>,
    pub zones: Vec<Zone>,
    pub splices: Vec<Splice>,
    /// eta where each requested boundary came to stand: (strip, asked, standing, closing rib added).
    pub boundaries: Vec<Boundary>,
}

#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Boundary {
    pub strip: Strip,
    pub asked_eta: f64,
    pub standing_eta: f64,
    pub closing_rib: bool,
}

impl Layout {
    /// Stations at the bay edges, root to tip.
    pub fn stations(&self) -> impl Iterator<Item = &Station> {
        self.bays.iter().map(|b| &b.inner).chain(self.bays.last().map(|b| &b.outer))
    }
    /// The zone of a strip in a bay.
    pub fn zone(&self, strip: Strip, bay: usize) -> Option<&Zone> {
        self.zones.iter().find(|z| z.strip == strip && z.bay == bay)
    }
}

/// Lay the half wing out.
pub fn lay_out(design: &Design) -> Layout {
    let _ = design;
    Layout::default()
}
