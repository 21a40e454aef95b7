//! The parts list and its sums. Masses are of the whole wing, both halves, unless named otherwise.

use crate::physics::assumptions::Assumptions;
use crate::physics::design::{Design, Strip};
use crate::physics::laminate::construction::Skin;
use crate::physics::strength::sizing::Sizing;
use crate::physics::wing::layout::Layout;

/// Heading a part stands under.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Heading {
    Skins,
    Patches,
    Caps,
    Backing,
    Web,
    Posts,
    Ribs,
    Edges,
    Bonds,
    Splices,
    Joints,
    Controls,
    Fittings,
    CoveringFastening,
    Protection,
}

impl Heading {
    pub const ALL: [Self; 15] = [
        Self::Skins,
        Self::Patches,
        Self::Caps,
        Self::Backing,
        Self::Web,
        Self::Posts,
        Self::Ribs,
        Self::Edges,
        Self::Bonds,
        Self::Splices,
        Self::Joints,
        Self::Controls,
        Self::Fittings,
        Self::CoveringFastening,
        Self::Protection,
    ];
    pub const fn word(self) -> &'static str {
        match self {
            Self::Skins => "skins",
            Self::Patches => "patches",
            Self::Caps => "spar caps",
            Self::Backing => "cap backing",
            Self::Web => "shear web",
            Self::Posts => "posts",
            Self::Ribs => "ribs",
            Self::Edges => "edges",
            Self::Bonds => "adhesive and laps",
            Self::Splices => "splices",
            Self::Joints => "joints",
            Self::Controls => "controls",
            Self::Fittings => "fittings",
            Self::CoveringFastening => "covering fastening",
            Self::Protection => "protection flown",
        }
    }
}

/// How sure a mass is. **Source:** growth classes of one public transcription of a SAWE/AIAA table.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Maturity {
    Sketch,
    Layout,
    Released,
    Existing,
    Weighed,
}

/// One line of the parts list.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    pub heading: Heading,
    /// Construction or material it is made of; shares its error with all parts of the same family.
    pub family: usize,
    pub name: String,
    pub strip: Option<Strip>,
    pub bay: Option<usize>,
    /// Nominal, both halves, kg.
    pub nominal_kg: f64,
    /// Expected growth as a share of nominal.
    pub growth: f64,
    /// Standard deviation, kg, of both halves.
    pub sd_kg: f64,
    pub maturity: Maturity,
    /// Place of the part of the right half, m.
    pub x_m: f64,
    pub y_m: f64,
}

/// The weight of the wing.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Weight {
    pub parts: Vec<Part>,
    pub drawn_kg: f64,
    pub expected_kg: f64,
    pub sd_kg: f64,
    pub p10_kg: f64,
    pub p50_kg: f64,
    pub p90_kg: f64,
    pub budget_kg: f64,
    pub chance_of_target: Option<f64>,
    pub cg_x_m: f64,
    /// About the centre line, whole wing, kg m2.
    pub roll_inertia_kg_m2: f64,
    /// Running mass of one half by bay, kg/m: as drawn (multiply by ratio for P10 or budget).
    pub running_kg_m: Vec<f64>,
    /// Lumped masses of one half: (y, kg).
    pub lumps: Vec<(f64, f64)>,
}

/// Weigh the wing with the given spar layers.
pub fn weigh(design: &Design, layout: &Layout, skins: &[Skin], sizing: &Sizing, assumed: &Assumptions) -> Weight {
    let _ = (design, layout, skins, sizing, assumed);
    Weight::default()
}
