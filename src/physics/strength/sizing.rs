//! Spar layers, section properties, deflection and twist; caps and web sized by whole plies.

use crate::physics::design::Design;
use crate::physics::laminate::construction::Skin;
use crate::physics::loads::internal::Loads;
use crate::physics::wing::layout::Layout;

/// Layers by bay.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Sizing {
    pub upper: Vec<u32>,
    pub lower: Vec<u32>,
    /// Extra plies on each web face.
    pub web: Vec<u32>,
    /// A limit of layers was reached in a bay: what it could not hold shows as short.
    pub at_limit: bool,
}

/// Section properties of the multi-material section at one station.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Section {
    pub ei_nm2: f64,
    pub ei_inplane_nm2: f64,
    pub gj_nm2: f64,
    /// Distance between cap centroids, m.
    pub cap_lever_m: f64,
    /// Heights of outer fibres of the caps above and below the neutral axis, m.
    pub upper_fibre_m: f64,
    pub lower_fibre_m: f64,
    pub ea_upper_n: f64,
    pub ea_lower_n: f64,
    pub nose_cell_m2: f64,
    pub aft_cell_m2: f64,
    /// The aft box is rigid here and works as a second cell.
    pub two_cells: bool,
    /// Shear flow in nose skin and web per unit torque, 1/m2 (N/m per N m).
    pub nose_flow_per_nm: f64,
    pub web_flow_per_nm: f64,
    pub aft_flow_per_nm: f64,
    /// Shear centre aft of the spar line, m.
    pub shear_centre_m: f64,
}

/// Deflected shape of one case at the stations.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Bent {
    pub deflection_m: Vec<f64>,
    pub twist_rad: Vec<f64>,
}

/// The least layers to begin the loop with.
pub fn least(design: &Design, layout: &Layout) -> Sizing {
    let _ = design;
    let n = layout.bays.len();
    Sizing { upper: vec![1; n], lower: vec![1; n], web: vec![0; n], at_limit: false }
}

/// Whole layers that hold the sizing modes under the loads.
pub fn size(design: &Design, layout: &Layout, skins: &[Skin], loads: &Loads) -> Sizing {
    let _ = (skins, loads);
    least(design, layout)
}

/// Section properties at every bay edge.
pub fn sections(design: &Design, layout: &Layout, skins: &[Skin], sizing: &Sizing) -> Vec<Section> {
    let _ = (design, skins, sizing);
    vec![Section::default(); layout.bays.len() + 1]
}

/// Deflection and twist of every case.
pub fn bend(layout: &Layout, sections: &[Section], loads: &Loads) -> Vec<Bent> {
    let _ = (layout, sections);
    loads.loads.iter().map(|_| Bent::default()).collect()
}

impl Sizing {
    /// Bay by bay the greater of the two: the loop only ever adds, so it ends.
    #[must_use]
    pub fn at_least(self, other: &Self) -> Self {
        let max = |a: Vec<u32>, b: &[u32]| -> Vec<u32> {
            a.iter().enumerate().map(|(i, &v)| v.max(b.get(i).copied().unwrap_or(0))).collect()
        };
        Self {
            upper: max(self.upper, &other.upper),
            lower: max(self.lower, &other.lower),
            web: max(self.web, &other.web),
            at_limit: self.at_limit || other.at_limit,
        }
    }
}
