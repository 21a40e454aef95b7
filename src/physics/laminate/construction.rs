//! What a square metre of skin, web or rib is made of, and the properties that follow.

use crate::physics::assumptions::Assumptions;
use crate::physics::material::Library;

/// One ply of cloth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ply {
    pub fabric: usize,
    pub process: usize,
    /// Angle of the roll direction to the span, rad.
    pub angle_rad: f64,
}

/// A core between or under faces.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Core {
    pub foam: usize,
    pub thickness_m: f64,
    pub filling: usize,
}

/// A covering as used.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CoveringUse {
    pub covering: usize,
    pub fastening: usize,
    /// Pretension in service, N/m.
    pub pretension_n_m: f64,
}

/// The kinds of surface.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Kind {
    #[default]
    Sandwich,
    OneFaced,
    Laminate,
    Wood,
    Covering,
    /// Nothing there.
    Open,
}

impl Kind {
    /// The letter the skin map shows.
    pub const fn letter(self) -> char {
        match self {
            Self::Sandwich => 'S',
            Self::OneFaced => 'O',
            Self::Laminate => 'L',
            Self::Wood => 'W',
            Self::Covering => 'F',
            Self::Open => '-',
        }
    }
    /// The word for it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Sandwich => "sandwich",
            Self::OneFaced => "one-faced foam",
            Self::Laminate => "bare laminate",
            Self::Wood => "wood",
            Self::Covering => "covering",
            Self::Open => "open",
        }
    }
}

/// A construction as the person states it. Outside first.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Construction {
    pub key: String,
    pub name: String,
    pub kind: Kind,
    /// Outer face, outermost ply first.
    pub outer: Vec<Ply>,
    pub core: Option<Core>,
    /// Inner face, outermost ply first.
    pub inner: Vec<Ply>,
    /// A sheet of wood and its thickness, m.
    pub wood: Option<(usize, f64)>,
    pub covering: Option<CoveringUse>,
    pub finish: Option<usize>,
    pub tool: usize,
    pub bagged: bool,
}

/// In-plane or bending stiffness of an orthotropic sheet (11 along the span).
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Stiffness {
    pub s11: f64,
    pub s12: f64,
    pub s22: f64,
    pub s66: f64,
    pub s16: f64,
    pub s26: f64,
}

/// One face by itself.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Face {
    pub thickness_m: f64,
    pub areal_mass_kg_m2: f64,
    /// Membrane stiffness, N/m.
    pub a: Stiffness,
    /// Bending stiffness about the face's own middle, N m.
    pub d: Stiffness,
    /// Young's modulus along the span and across it, Pa.
    pub e_span_pa: f64,
    pub e_chord_pa: f64,
    /// Young's modulus at 45 degrees (for wrinkling in shear), Pa.
    pub e_45_pa: f64,
    pub g_pa: f64,
    pub nu: f64,
    /// Laminate strain limits along the span (lower bound).
    pub strain_tension: f64,
    pub strain_compression: f64,
    /// Engineering shear strain limit (lower bound).
    pub strain_shear: f64,
}

/// Lines of areal mass, kg/m2, that add to the whole.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct ArealMass {
    pub fibre: f64,
    pub resin: f64,
    pub core: f64,
    pub pickup: f64,
    pub covering: f64,
    pub wood: f64,
    pub fairing: f64,
    pub finish: f64,
}

impl ArealMass {
    /// The whole, kg/m2.
    pub fn total(&self) -> f64 {
        self.fibre + self.resin + self.core + self.pickup + self.covering + self.wood + self.fairing + self.finish
    }
}

/// Everything the rest needs to know of a construction. Index-matched with `Design::constructions`.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Skin {
    pub kind: Kind,
    pub mass: ArealMass,
    /// Standard deviation of the areal mass, kg/m2.
    pub mass_sd_kg_m2: f64,
    pub thickness_m: f64,
    pub outer: Face,
    pub inner: Face,
    /// Membrane stiffness of the whole, N/m (zero for coverings: they carry no shear here).
    pub a: Stiffness,
    /// Reduced bending stiffness D - B A^-1 B of the whole, N m.
    pub d: Stiffness,
    /// Transverse shear stiffness per width, N/m (infinite sheets without core: f64::INFINITY).
    pub s_n_m: f64,
    /// Distance between face middles, m.
    pub lever_m: f64,
    pub core_thickness_m: f64,
    /// Foam index, when there is a core.
    pub foam: Option<usize>,
    /// Wood sheet index.
    pub wood: Option<usize>,
    pub covering: Option<CoveringUse>,
    /// Hours to make one square metre, and material cost.
    pub hours_per_m2: f64,
    pub cost_per_m2: f64,
    pub smooth: bool,
}

/// What a maker should be told of a construction.
#[derive(Debug, Clone, PartialEq)]
pub struct Warning {
    pub construction: String,
    pub text: String,
}

/// Properties of a construction under given assumptions.
pub fn properties(c: &Construction, lib: &Library, assumed: &Assumptions) -> Skin {
    let _ = (c, lib, assumed);
    Skin::default()
}

/// Warnings a maker expects: crushed under the bag, solvent, heat, ply too thin to be closed, shrink temperature.
pub fn warnings(c: &Construction, lib: &Library) -> Vec<Warning> {
    let _ = (c, lib);
    Vec::new()
}
