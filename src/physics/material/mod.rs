//! Materials: a material is its properties and where each number came from.
//! The shipped values live in `scenario/library.toml`, read by the same path as a person's own.

use crate::physics::samples::learnt::Learnt;

/// How far a number can be trusted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Mark {
    /// Read in the source named.
    Read,
    /// Worked out from read numbers.
    Computed,
    /// Recalled by whoever entered it, not opened.
    Memory,
    /// A choice of ours or of the person.
    #[default]
    Assumed,
    /// Weighed or tested by the person.
    Measured,
}

impl Mark {
    /// In words.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Read => "read in its source",
            Self::Computed => "derived and checked",
            Self::Memory => "from memory",
            Self::Assumed => "assumption",
            Self::Measured => "measured",
        }
    }
}

/// Where a number came from: the mark and the words.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Origin {
    pub mark: Mark,
    pub source: String,
}

/// A fibre. Moduli along the fibre unless named otherwise.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Fibre {
    pub key: String,
    pub name: String,
    pub density_kg_m3: f64,
    pub modulus_pa: f64,
    pub transverse_modulus_pa: f64,
    pub shear_modulus_pa: f64,
    pub poisson: f64,
    pub strength_pa: f64,
    pub failure_strain: f64,
    /// Laminate compression strain over tension strain (aramid is far below 1).
    pub compression_share: f64,
    pub origin: Origin,
}

/// A cured resin.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Resin {
    pub key: String,
    pub name: String,
    pub density_kg_m3: f64,
    pub modulus_pa: f64,
    pub poisson: f64,
    pub price_per_kg: f64,
    pub origin: Origin,
}

/// How the yarns of a cloth lie.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Weave {
    #[default]
    Plain,
    Twill,
    Satin,
    Unidirectional,
    Sleeve,
}

/// A dry cloth.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Fabric {
    pub key: String,
    pub name: String,
    pub fibre: usize,
    pub weave: Weave,
    pub areal_mass_kg_m2: f64,
    pub areal_low_kg_m2: f64,
    pub areal_high_kg_m2: f64,
    /// Share of the fibre mass that lies along the roll.
    pub warp_fraction: f64,
    pub price_per_m2: f64,
    pub origin: Origin,
}

/// A way of laying up and curing. Fibre fractions by volume hold for every fibre.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Process {
    pub key: String,
    pub name: String,
    pub fibre_volume_fraction: f64,
    pub fvf_low: f64,
    pub fvf_high: f64,
    pub void_fraction: f64,
    /// Pressure on the core while curing, Pa (0 for open lay-up).
    pub bag_pressure_pa: f64,
    /// Highest cure temperature, deg C.
    pub cure_c: f64,
    /// Hours of work for one square metre of one ply.
    pub hours_per_m2: f64,
    /// Resin mixed over resin that stays (pot, roller, peel ply).
    pub resin_waste: f64,
    pub origin: Origin,
}

/// A foam, honeycomb or end-grain core. Strengths: `_min` is what strength checks use.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Foam {
    pub key: String,
    pub name: String,
    /// `pvc_crosslinked`, `xps`, `eps`, `pmi`, `pu`, `balsa_endgrain`, `honeycomb`.
    pub family: String,
    pub density_kg_m3: f64,
    pub density_low_kg_m3: f64,
    pub density_high_kg_m3: f64,
    pub crush_pa: f64,
    pub crush_min_pa: f64,
    /// Through the thickness.
    pub modulus_pa: f64,
    pub modulus_min_pa: f64,
    /// In the plane of the sheet.
    pub inplane_modulus_pa: f64,
    pub shear_modulus_pa: f64,
    pub shear_modulus_min_pa: f64,
    pub shear_strength_pa: f64,
    pub shear_strength_min_pa: f64,
    pub tensile_strength_pa: f64,
    /// Strain at which the bare foam cracks in tension.
    pub failure_strain: f64,
    pub max_process_c: f64,
    /// Attacked by styrene, petrol and strong solvents.
    pub solvent_sensitive: bool,
    /// Breaks rather than yields under impact.
    pub brittle: bool,
    /// Neat resin taken up by one sawn face, kg/m2.
    pub pickup_kg_m2: f64,
    pub pickup_low_kg_m2: f64,
    pub pickup_high_kg_m2: f64,
    pub price_per_m3: f64,
    pub origin: Origin,
}

/// Wood or plywood along its grain.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Wood {
    pub key: String,
    pub name: String,
    pub density_kg_m3: f64,
    pub modulus_pa: f64,
    pub cross_modulus_pa: f64,
    pub shear_modulus_pa: f64,
    pub tension_pa: f64,
    pub compression_pa: f64,
    pub crush_perp_pa: f64,
    pub shear_pa: f64,
    pub price_per_m3: f64,
    pub origin: Origin,
}

/// A fabric or film stretched over ribs.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Covering {
    pub key: String,
    pub name: String,
    pub areal_mass_kg_m2: f64,
    pub areal_low_kg_m2: f64,
    pub areal_high_kg_m2: f64,
    /// Breaking strength, N/m, lesser direction.
    pub strength_n_m: f64,
    /// Membrane stiffness E t, N/m.
    pub stiffness_n_m: f64,
    pub failure_strain: f64,
    /// Standard deviation of the logarithm of strength from strip to strip, and of strain at break.
    pub strength_spread: f64,
    pub strain_spread: f64,
    pub tear_n: f64,
    pub film: bool,
    /// Temperature it is shrunk at, deg C (0 when it is not heat-shrunk).
    pub shrink_c: f64,
    pub price_per_m2: f64,
    pub origin: Origin,
}

/// How a covering is held.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Fastening {
    pub key: String,
    pub name: String,
    pub mass_kg_m: f64,
    /// Strength of one metre of edge, N/m.
    pub strength_n_m: f64,
    pub minutes_per_m: f64,
    pub removable: bool,
    pub origin: Origin,
}

/// What closes the cells of a core before it is faced.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Filling {
    pub key: String,
    pub name: String,
    /// Pick-up over the neat-resin pick-up of the same foam (`neat` is 1).
    pub pickup_ratio: f64,
    /// Added by the filling itself, kg/m2 per face.
    pub added_kg_m2: f64,
    pub hours_per_m2: f64,
    pub origin: Origin,
}

/// The tool a panel is laid on: what it leaves in fairing, surface and hours.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Tool {
    pub key: String,
    pub name: String,
    /// Fairing needed afterwards, kg/m2.
    pub fairing_kg_m2: f64,
    /// Depth of the core laid on or cut for it, standard deviation from place to place, m.
    pub core_depth_sd_m: f64,
    /// What it adds to the scatter of resistance from place to place, standard deviation of the logarithm.
    pub face_spread: f64,
    /// Fully smooth (laminar) surface possible.
    pub smooth: bool,
    pub bag_possible: bool,
    pub hours_per_m2: f64,
    pub origin: Origin,
}

/// Paint or film over the outside.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Finish {
    pub key: String,
    pub name: String,
    pub areal_mass_kg_m2: f64,
    pub areal_low_kg_m2: f64,
    pub areal_high_kg_m2: f64,
    pub hours_per_m2: f64,
    pub origin: Origin,
}

/// Everything a design may be made of. Indices in a `Design` point into these.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Library {
    pub fibres: Vec<Fibre>,
    pub resins: Vec<Resin>,
    /// The resin the wing is laid up with, an index into `resins`.
    pub resin_used: usize,
    pub fabrics: Vec<Fabric>,
    pub processes: Vec<Process>,
    pub foams: Vec<Foam>,
    pub woods: Vec<Wood>,
    pub coverings: Vec<Covering>,
    pub fastenings: Vec<Fastening>,
    pub fillings: Vec<Filling>,
    pub tools: Vec<Tool>,
    pub finishes: Vec<Finish>,
    /// What weighed and pressed samples taught of all this.
    pub learnt: Learnt,
}

impl Library {
    /// The same as if no sample had been made.
    #[must_use]
    pub fn without_samples(&self) -> Self {
        Self { learnt: Learnt::default(), ..self.clone() }
    }

    /// The resin the wing is laid up with.
    pub fn resin(&self) -> Option<&Resin> {
        self.resins.get(self.resin_used)
    }
}
