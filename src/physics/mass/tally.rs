//! The parts list and its sums. Masses are of the whole wing, both halves, unless named otherwise.

use std::borrow::Cow;

use crate::physics::assumptions::Assumptions;
use crate::physics::design::{Design, Strip};
use crate::physics::laminate::construction::Skin;
use crate::physics::mass::laps::{self, Laps};
use crate::physics::mass::spar::CapLayers;
use crate::physics::mass::weighed::{self, Weighing};
use crate::physics::mass::{hinge_walls, joints, ribs, seams, skins, spar};
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
    pub name: Cow<'static, str>,
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
    /// A lump at its place, not spread over a bay.
    pub lump: bool,
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

/// Growth by maturity as a share of the sketch allowance of the scenario.
/// **Source:** composites row of one public transcription of a SAWE/AIAA growth table: 24, 19, 6, 3, 0 %.
pub const fn growth_share(m: Maturity) -> f64 {
    match m {
        Maturity::Sketch => 1.0,
        Maturity::Layout => 19.0 / 24.0,
        Maturity::Released => 6.0 / 24.0,
        Maturity::Existing => 3.0 / 24.0,
        Maturity::Weighed => 0.0,
    }
}

/// Parts being collected.
pub struct List {
    parts: Vec<Part>,
    growth: f64,
}

/// The part just added, to be completed.
pub struct Added<'l>(&'l mut Part);

impl List {
    fn new(growth: f64) -> Self {
        Self { parts: Vec::with_capacity(400), growth }
    }

    /// Add a part of both halves.
    /// Unchecked: no outside check runs it by itself.
    pub fn add(&mut self, heading: Heading, family: usize, name: Cow<'static, str>, nominal_kg: f64) -> Added<'_> {
        let maturity = Maturity::Layout;
        let growth = if heading == Heading::Protection { 0.0 } else { self.growth * growth_share(maturity) };
        self.parts.push(Part {
            heading,
            family,
            name,
            strip: None,
            bay: None,
            nominal_kg,
            growth,
            sd_kg: 0.0,
            maturity,
            x_m: 0.0,
            y_m: 0.0,
            lump: false,
        });
        let last = self.parts.len() - 1;
        Added(&mut self.parts[last])
    }
}

impl Added<'_> {
    /// Standard deviation, kg.
    #[must_use]
    pub fn sd(self, kg: f64) -> Self {
        self.0.sd_kg = kg;
        self
    }
    /// Standard deviation as a share of nominal.
    #[must_use]
    pub fn spread(self, share: f64) -> Self {
        self.0.sd_kg = share * self.0.nominal_kg.abs();
        self
    }
    /// A sample stands behind it: growth falls to that of a released calculation.
    #[must_use]
    pub fn sampled(self, sampled: bool) -> Self {
        if sampled {
            self.0.maturity = Maturity::Released;
            self.0.growth *= growth_share(Maturity::Released) / growth_share(Maturity::Layout);
        }
        self
    }
    /// Place of the right half's part, m.
    #[must_use]
    pub fn at(self, x_m: f64, y_m: f64) -> Self {
        self.0.x_m = x_m;
        self.0.y_m = y_m;
        self
    }
    pub fn bay(self, bay: usize) {
        self.0.bay = Some(bay);
    }
    pub fn zone(self, strip: Strip, bay: usize) {
        self.0.strip = Some(strip);
        self.0.bay = Some(bay);
    }
    /// Neither lump nor of one bay: counts at its mean place.
    pub fn spanning(self) {
        self.0.lump = true;
    }
    pub fn lump(self) {
        self.0.lump = true;
    }
}

/// Weigh the wing with the given spar layers. Errors of one family add; families are independent;
/// weight is taken as normal about expected.
pub fn weigh(design: &Design, layout: &Layout, skins: &[Skin], sizing: &Sizing, assumed: &Assumptions) -> Weight {
    let mut scales = Scales::of(design, layout, skins, assumed);
    let mut w = scales.pass(design, (layout, skins), sizing);
    scales.listed(&mut w);
    w
}

/// A wing on the scales: all parts but the spar, listed once for every spar that is tried.
pub struct Scales<'d> {
    /// What was weighed takes the place of its estimate in every list.
    weighed: &'d [Weighing],
    /// The list of the last pass with it.
    real: Vec<Part>,
    list: List,
    without_spar: usize,
    /// Sums of all parts but the spar, which stands last in the list.
    sums: Sums,
    layers: CapLayers,
    laps: Laps,
    /// Deviation of the budget from the expected weight.
    budget_z: f64,
}

impl<'d> Scales<'d> {
    pub fn of(design: &'d Design, layout: &Layout, skins: &[Skin], assumed: &Assumptions) -> Self {
        let mut list = List::new(design.rates.growth);
        skins::zones(&mut list, layout, skins);
        let laps = Laps::of(design, layout);
        laps::zones(&mut list, &laps, layout, skins);
        skins::patches(&mut list, design, layout, skins);
        skins::fastening(&mut list, design, layout, skins);
        ribs::ribs(&mut list, design, layout, skins);
        seams::seams(&mut list, design, layout, skins);
        hinge_walls::walls(&mut list, design, layout, skins);
        joints::lumps(&mut list, design, layout);
        let mut sums = Sums::new(layout);
        sums.add(layout, &list.parts);
        let (without_spar, layers) = (list.parts.len(), spar::cap_layers(design, assumed));
        let budget_z = normal_quantile(design.targets.budget_percentile);
        Self { weighed: &design.weighed, real: Vec::new(), list, without_spar, sums, layers, laps, budget_z }
    }

    /// Sums with the spar of these layers, no parts listed.
    pub(crate) fn pass(&mut self, design: &Design, (layout, skins): (&Layout, &[Skin]), sizing: &Sizing) -> Weight {
        self.list.parts.truncate(self.without_spar);
        spar::spar(&mut self.list, design, (layout, skins), sizing, (&self.layers, &self.laps));
        if !self.weighed.is_empty() {
            self.real.clone_from(&self.list.parts);
            weighed::put(&mut self.real, self.weighed);
            let mut sums = Sums::new(layout);
            sums.add(layout, &self.real);
            return sums.weight(design, self.budget_z);
        }
        let mut sums = self.sums.clone();
        sums.add(layout, self.list.parts.get(self.without_spar..).unwrap_or_default());
        sums.weight(design, self.budget_z)
    }

    /// Put the parts of the last pass into the weight it gave.
    pub(crate) fn listed(self, weight: &mut Weight) {
        weight.parts = if self.weighed.is_empty() { self.list.parts } else { self.real };
    }
}

/// What the zones of a layout are made of, with the laps of their plies, and fastened with, and nothing else.
/// Unchecked: no outside check runs it by itself.
pub fn of_zones(design: &Design, layout: &Layout, skins: &[Skin]) -> Vec<Part> {
    let mut list = List::new(design.rates.growth);
    skins::zones(&mut list, layout, skins);
    laps::zones(&mut list, &Laps::of(design, layout), layout, skins);
    skins::fastening(&mut list, design, layout, skins);
    list.parts
}

/// Sums of a parts list as far as it was gone through.
#[derive(Clone)]
struct Sums {
    weight: Weight,
    families: Vec<(usize, f64)>,
    /// Where families of small numbers, the constructions, stand among them, once one of their parts was met.
    which: [u8; NUMBERED],
    mx: f64,
    my2: f64,
}

/// Families that are found by their number.
const NUMBERED: usize = 64;

impl Sums {
    fn new(layout: &Layout) -> Self {
        let weight = Weight { running_kg_m: vec![0.0; layout.bays.len()], ..Weight::default() };
        Self { weight, families: Vec::with_capacity(32), which: [u8::MAX; NUMBERED], mx: 0.0, my2: 0.0 }
    }

    /// Parts of a family err together.
    fn err(&mut self, family: usize, sd_kg: f64) {
        let known = self.which.get(family).and_then(|at| self.families.get_mut(usize::from(*at)));
        match known.filter(|f| f.0 == family) {
            Some(f) => f.1 += sd_kg,
            None => self.err_unnumbered(family, sd_kg),
        }
    }

    fn err_unnumbered(&mut self, family: usize, sd_kg: f64) {
        // The parts of such a family mostly follow each other.
        if let Some(f) = self.families.iter_mut().rev().find(|f| f.0 == family) {
            f.1 += sd_kg;
            return;
        }
        if let (Some(at), Ok(here)) = (self.which.get_mut(family), u8::try_from(self.families.len())) {
            *at = here;
        }
        self.families.push((family, sd_kg));
    }

    /// Go on through more parts.
    fn add(&mut self, layout: &Layout, parts: &[Part]) {
        for p in parts {
            self.err(p.family, p.sd_kg);
            let w = &mut self.weight;
            w.drawn_kg += p.nominal_kg;
            w.expected_kg += p.nominal_kg * (1.0 + p.growth);
            self.mx += p.nominal_kg * p.x_m;
            self.my2 += p.nominal_kg * p.y_m * p.y_m;
            match p.bay.filter(|_| !p.lump) {
                Some(b) => {
                    if let (Some(slot), Some(bay)) = (w.running_kg_m.get_mut(b), layout.bays.get(b)) {
                        *slot += p.nominal_kg / 2.0 / bay.length_m;
                    }
                }
                None if p.nominal_kg > 0.0 => w.lumps.push((p.y_m, p.nominal_kg / 2.0)),
                None => {}
            }
        }
    }

    fn weight(self, design: &Design, budget_z: f64) -> Weight {
        let mut w = self.weight;
        w.sd_kg = self.families.iter().map(|f| f.1 * f.1).sum::<f64>().sqrt();
        w.p50_kg = w.expected_kg;
        w.p10_kg = w.expected_kg - Z90 * w.sd_kg;
        w.p90_kg = w.expected_kg + Z90 * w.sd_kg;
        w.budget_kg = w.expected_kg + budget_z * w.sd_kg;
        w.chance_of_target = design.targets.wing_mass_kg.map(|t| normal_cdf((t - w.expected_kg) / w.sd_kg.max(1e-9)));
        w.cg_x_m = self.mx / w.drawn_kg.max(1e-9);
        w.roll_inertia_kg_m2 = self.my2;
        w
    }
}

/// The 90 % point of the standard normal distribution. **Source:** any table.
const Z90: f64 = 1.281_551_565_5;

/// Chance that a standard normal deviate lies below z. **Source:** the error function of the statrs library.
pub fn normal_cdf(z: f64) -> f64 {
    0.5 * statrs::function::erf::erfc(-z / std::f64::consts::SQRT_2)
}

/// The inverse of [`normal_cdf`], clamped to 0.001 to 0.999.
pub fn normal_quantile(p: f64) -> f64 {
    -std::f64::consts::SQRT_2 * statrs::function::erf::erfc_inv(2.0 * p.clamp(0.001, 0.999))
}
