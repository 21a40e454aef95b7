//! What the spar is made of: caps and what stands behind them, web, posts.

use crate::physics::laminate::construction::Ply;

/// What a cap is made of.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum CapMaterial {
    /// Plies of unidirectional cloth.
    Plies(Ply),
    /// Wood strip of given layer thickness, m.
    Wood { wood: usize, layer_m: f64 },
    /// Pultruded strip of given layer thickness: stiffness and strengths stated by the person.
    Pultruded {
        layer_m: f64,
        modulus_pa: f64,
        density_kg_m3: f64,
        tension_pa: f64,
        compression_pa: f64,
        price_per_kg: f64,
    },
}

/// How many layers a cap or web has.
#[derive(Debug, Clone, PartialEq)]
pub enum Layers {
    /// Fixed by the person: (eta up to which, layers), ascending.
    Fixed(Vec<(f64, u32)>),
    /// The least whole number that holds every margin, within limits.
    Sized { least: u32, most: u32 },
}

/// What stands behind a cap.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum BackingMaterial {
    Foam(usize),
    Wood(usize),
}

#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Backing {
    pub material: BackingMaterial,
    pub width_m: f64,
    pub depth_m: f64,
}

#[derive(Debug, Clone, PartialEq)]
pub struct Cap {
    pub width_root_m: f64,
    pub width_tip_m: f64,
    pub material: CapMaterial,
    pub layers: Layers,
    pub backing: Option<Backing>,
    /// Cap strain limits when coupons say better than the laminate's own; None takes the material's.
    pub strain_tension: Option<f64>,
    pub strain_compression: Option<f64>,
}

/// What a cap may be made of, by name; widths and layers stay with the cap it is put into.
#[derive(Debug, Clone, PartialEq)]
pub struct CapKind {
    pub key: String,
    pub material: CapMaterial,
    pub backing: Option<Backing>,
    pub strain_tension: Option<f64>,
    pub strain_compression: Option<f64>,
}

impl CapKind {
    /// Make a cap of this.
    pub fn put(&self, cap: &mut Cap) {
        cap.material = self.material;
        cap.backing = self.backing;
        cap.strain_tension = self.strain_tension;
        cap.strain_compression = self.strain_compression;
    }
    /// What a cap is made of.
    pub fn of(key: String, cap: &Cap) -> Self {
        let Cap { material, backing, strain_tension, strain_compression, .. } = *cap;
        Self { key, material, backing, strain_tension, strain_compression }
    }
    /// Whether a cap is made of this.
    pub fn is_in(&self, cap: &Cap) -> bool {
        let own = (self.material, self.backing, self.strain_tension, self.strain_compression);
        own == (cap.material, cap.backing, cap.strain_tension, cap.strain_compression)
    }
}

/// A height band of the web, from the upper cap down. Fractions of a web add to 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WebBand {
    pub height_frac: f64,
    /// Outer face is the front of the web; either face may be absent.
    pub construction: usize,
}

/// The web over part of the span.
#[derive(Debug, Clone, PartialEq)]
pub struct WebRun {
    pub from_eta: f64,
    pub to_eta: f64,
    pub bands: Vec<WebBand>,
}

impl Spar {
    /// The kind a cap is made of; none where the scenario gives no choice.
    pub fn kind_of(&self, cap: &Cap) -> Option<&CapKind> {
        self.kinds.iter().find(|k| k.is_in(cap))
    }

    /// Place of the run of the web that a bay belongs to, by its middle: at the rib where one run ends and the next begins both would
    /// claim the station.
    pub fn web_run(&self, eta: f64) -> Option<usize> {
        let found = self.web.iter().position(|r| eta >= r.from_eta && eta <= r.to_eta);
        found.or_else(|| self.web.len().checked_sub(1))
    }
}

/// Posts between the caps.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Posts {
    pub from_eta: f64,
    pub to_eta: f64,
    pub material: BackingMaterial,
    pub pitch_m: f64,
    pub width_m: f64,
    pub depth_m: f64,
}

#[derive(Debug, Clone, PartialEq)]
pub struct Spar {
    /// Chord fraction of the spar centre line at root and tip.
    pub position_root: f64,
    pub position_tip: f64,
    pub upper: Cap,
    pub lower: Cap,
    /// What caps may be made of, among it what they are; empty where the scenario names nothing else.
    pub kinds: Vec<CapKind>,
    pub web: Vec<WebRun>,
    /// Extra copies of the outermost ply on each web face present.
    pub web_layers: Layers,
    pub posts: Vec<Posts>,
    /// Width of the bond lap between cap and web, and thickness of the glue, m.
    pub bond_width_m: f64,
    pub bond_thickness_m: f64,
    /// Fracture energy at the end of a cap layer, J/m2.
    pub ply_end_j_m2: f64,
}
