//! `Design`: the checked whole, in SI and in range, built only by `scenario::check`; places along the span by `eta`, 0 at the
//! root and 1 at the tip.

use std::sync::Arc;

use crate::physics::durability::catalogue::Catalogue;
use crate::physics::laminate::construction::{Construction, Ply};
use crate::physics::mass::weighed::Weighing;
use crate::physics::material::Library;
use crate::physics::samples::learnt::Learnt;
use crate::physics::samples::record::Sample;
pub use crate::physics::service::Service;
use crate::physics::stock::Stock;
pub use crate::physics::wing::spar::{
    Backing, BackingMaterial, Cap, CapKind, CapMaterial, Layers, Posts, Spar, WebBand, WebRun,
};
use crate::physics::workshop::seen::Seen;

/// Strips of one half wing. A divided aft strip has a rigid part ahead and a rear part behind.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Strip {
    AftUpper,
    AftUpperRear,
    NoseUpper,
    NoseLower,
    AftLower,
    AftLowerRear,
    ControlUpper,
    ControlLower,
}

impl Strip {
    /// All strips, in the order the skin map shows them.
    pub const ALL: [Self; 8] = [
        Self::ControlUpper,
        Self::AftUpperRear,
        Self::AftUpper,
        Self::NoseUpper,
        Self::NoseLower,
        Self::AftLower,
        Self::AftLowerRear,
        Self::ControlLower,
    ];
    /// Key in scenario files.
    pub const fn key(self) -> &'static str {
        match self {
            Self::AftUpper => "aft_upper",
            Self::AftUpperRear => "aft_upper_rear",
            Self::NoseUpper => "nose_upper",
            Self::NoseLower => "nose_lower",
            Self::AftLower => "aft_lower",
            Self::AftLowerRear => "aft_lower_rear",
            Self::ControlUpper => "control_upper",
            Self::ControlLower => "control_lower",
        }
    }
    /// Short label for the screen.
    pub const fn label(self) -> &'static str {
        match self {
            Self::AftUpper => "aft up",
            Self::AftUpperRear => "rear up",
            Self::NoseUpper => "nose up",
            Self::NoseLower => "nose low",
            Self::AftLower => "aft low",
            Self::AftLowerRear => "rear low",
            Self::ControlUpper => "ctrl up",
            Self::ControlLower => "ctrl low",
        }
    }
    /// On the upper surface.
    pub const fn is_upper(self) -> bool {
        matches!(self, Self::AftUpper | Self::AftUpperRear | Self::NoseUpper | Self::ControlUpper)
    }
    /// Part of the closed nose.
    pub const fn is_nose(self) -> bool {
        matches!(self, Self::NoseUpper | Self::NoseLower)
    }
    /// The strip across the section from this one.
    #[must_use]
    pub const fn across(self) -> Self {
        match self {
            Self::AftUpper => Self::AftLower,
            Self::AftLower => Self::AftUpper,
            Self::AftUpperRear => Self::AftLowerRear,
            Self::AftLowerRear => Self::AftUpperRear,
            Self::NoseUpper => Self::NoseLower,
            Self::NoseLower => Self::NoseUpper,
            Self::ControlUpper => Self::ControlLower,
            Self::ControlLower => Self::ControlUpper,
        }
    }
    /// Part of a control.
    pub const fn is_control(self) -> bool {
        matches!(self, Self::ControlUpper | Self::ControlLower)
    }
}

/// A construction over part of a strip. The runs of a strip cover 0 to 1 without gap or overlap.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Run {
    pub from_eta: f64,
    pub to_eta: f64,
    pub construction: usize,
}

/// One strip and what it is made of.
#[derive(Debug, Clone, PartialEq)]
pub struct StripSkin {
    pub strip: Strip,
    pub runs: Vec<Run>,
    /// May the strip buckle: never below ultimate, never below limit, or freely.
    pub may_buckle: MayBuckle,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MayBuckle {
    NotBelowUltimate,
    NotBelowLimit,
    Allowed,
}

impl MayBuckle {
    /// All, in the order a scenario names them.
    pub const ALL: [Self; 3] = [Self::NotBelowUltimate, Self::NotBelowLimit, Self::Allowed];
    /// The word in a scenario.
    pub const fn key(self) -> &'static str {
        match self {
            Self::NotBelowUltimate => "not_below_ultimate",
            Self::NotBelowLimit => "not_below_limit",
            Self::Allowed => "allowed",
        }
    }
}

/// A straight-tapered half wing. Sweep is of the quarter-chord line, positive aft; washout is
/// nose-down twist of the tip against the root, linear in span.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Planform {
    pub span_m: f64,
    pub area_m2: f64,
    /// Tip chord over root chord.
    pub taper: f64,
    pub sweep_rad: f64,
    pub washout_rad: f64,
    pub dihedral_rad: f64,
}

/// The shape of a section. Coordinates run trailing edge, upper, nose, lower, trailing edge, unit chord.
#[derive(Debug, Clone, PartialEq)]
pub enum Aerofoil {
    /// Four-digit family: camber m, place p, thickness t, as fractions of the chord; closed trailing edge.
    FourDigit {
        camber: f64,
        camber_place: f64,
        thickness: f64,
    },
    /// Five-digit family, plain mean line 210 to 250: design number (2 for 0.3), place 0.05 to 0.25, thickness.
    FiveDigit {
        line: u16,
        thickness: f64,
    },
    Points {
        name: String,
        xy: Vec<(f64, f64)>,
    },
}

/// An aerofoil at a station; sections between stations are blended linearly.
#[derive(Debug, Clone, PartialEq)]
pub struct SectionAt {
    pub eta: f64,
    pub aerofoil: Aerofoil,
    /// Greatest lift coefficient of the section and the least (negative), trimmed surface clean.
    pub cl_max: f64,
    pub cl_min: f64,
    /// Pitching moment about c/4 and zero-lift angle; thin-aerofoil values when the person gives none.
    pub cm0: Option<f64>,
    pub alpha0_rad: Option<f64>,
}

/// A kind of rib.
#[derive(Debug, Clone, PartialEq)]
pub struct RibKind {
    pub name: String,
    /// Body: core and side sheets.
    pub body: usize,
    /// Share of the body cut away by lightening holes.
    pub lightening: f64,
    /// Cap strip on each edge: width and construction-ply (laminate, wood) as a construction.
    pub cap: Option<(usize, f64)>,
    /// Wrap ply over the edge: construction and share of the rib face covered (pitch, overlap).
    pub wrap: Option<(usize, f64)>,
    /// End fittings, kg each rib.
    pub fittings_kg: f64,
    pub hinge_folding: bool,
    pub hours_each: f64,
    /// Place of the rib's body in thickness at the tip over the root (taper by station).
    pub tip_thickness_ratio: f64,
}

/// Ribs over part of the span, equally spaced.
#[derive(Debug, Clone, PartialEq)]
pub struct RibRegion {
    pub from_eta: f64,
    pub to_eta: f64,
    /// Number of bays in the region.
    pub bays: u32,
    pub kind: usize,
    /// Nose ribs between main ribs, each bay.
    pub nose_between: u32,
    pub nose_kind: usize,
}

#[derive(Debug, Clone, PartialEq)]
pub struct Patch {
    pub name: String,
    pub upper: bool,
    pub from_eta: f64,
    pub to_eta: f64,
    /// Arc from the leading edge, m or fraction of chord resolved at check to fraction of chord.
    pub chord_from: f64,
    pub chord_to: f64,
    pub extra_plies: Vec<Ply>,
    /// Core replaced by this foam.
    pub core: Option<usize>,
    /// A hold: meant for hands.
    pub hold: bool,
}

/// Where the wing comes apart.
#[derive(Debug, Clone, PartialEq)]
pub struct Joint {
    pub name: String,
    pub eta: f64,
    /// Fittings both sides of the joint, one half wing, kg.
    pub fittings_kg: f64,
    pub pin_diameter_m: f64,
    pub pins: u32,
    /// Distance between upper and lower pin, as share of the spar depth.
    pub pin_spread: f64,
    pub bearing_pa: f64,
    pub set_up_minutes: f64,
    /// One lug to a pin, and what the fittings of one half sit on above or below; None where the scenario is silent.
    pub lug: Option<Lug>,
    pub seat: Option<Seat>,
    /// Kind of the ribs that close the pieces there, and where the rear fitting stands, fraction of chord: part of the fittings
    /// in weight. None: not said; no rear fitting.
    pub rib: Option<usize>,
    pub rear_fitting_chord: Option<f64>,
    pub rear_pin: Option<RearPin>,
}

/// The pin of a rear fitting: its diameter, m, planes it is sheared in, what it breaks at in tension, Pa; length that bears
/// on it, m, and what that stands in bearing, Pa.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RearPin {
    pub diameter_m: f64,
    pub planes: u32,
    pub tension_pa: f64,
    pub length_m: f64,
    pub bearing_pa: f64,
}

/// A lug: width across the hole, thickness (of the tongue, or of both ears of its fork where they are less), middle of the
/// hole to the end, m; what its steel breaks and yields at, Pa.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lug {
    pub width_m: f64,
    pub thickness_m: f64,
    pub end_m: f64,
    pub tension_pa: f64,
    pub yield_pa: f64,
}

/// What a fitting sits on: length along the spar and width, m, and what is under it crushes at, Pa.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Seat {
    pub length_m: f64,
    pub width_m: f64,
    pub crush_pa: f64,
}

#[derive(Debug, Clone, PartialEq)]
pub struct Control {
    pub name: String,
    pub from_eta: f64,
    pub to_eta: f64,
    pub up_rad: f64,
    pub down_rad: f64,
    pub fittings_kg: f64,
    /// Hinges, 0: one at every rib; and the horn from hinge to rod, m.
    pub hinges: u32,
    pub horn_m: f64,
    /// What closes the wing ahead of it and the control itself along the hinge line; None: not said.
    pub wing_wall: Option<usize>,
    pub control_wall: Option<usize>,
}

/// A mass that hangs on the wing but is not the wing, or a fitting with a place.
#[derive(Debug, Clone, PartialEq)]
pub struct PointMass {
    pub name: String,
    pub mass_kg: f64,
    /// Place, m aft of the root leading edge and m out (both sides counted together when y > 0).
    pub x_m: f64,
    pub y_m: f64,
    /// Counts as wing mass.
    pub wing: bool,
}

/// Who flies, with what.
#[derive(Debug, Clone, PartialEq)]
pub struct Aboard {
    pub pilot_kg: f64,
    pub lightest_pilot_kg: f64,
    pub heaviest_pilot_kg: f64,
    pub kit_kg: f64,
    pub masses: Vec<PointMass>,
    /// Tailless: trimmed by its own elevons.
    pub tailless: bool,
    /// Centre of gravity, fraction of MAC; used for trim.
    pub cg_mac: f64,
    /// Pilot drag area, m2: low, likely, high.
    pub pilot_drag_m2: [f64; 3],
    pub rigging_drag_m2: f64,
    /// Wind on the nose at launch; sinking air to fly through; sink at which the fastest speed is asked. m/s.
    pub headwind_m_s: f64,
    pub sinking_air_m_s: f64,
    pub given_sink_m_s: f64,
}

impl Aboard {
    /// Lightest and heaviest pilot whom loads are worked out for, kg: whoever flies counts, whatever the two are said to be.
    /// Unchecked: no outside check runs it by itself.
    pub fn pilots_kg(&self) -> [f64; 2] {
        let (a, b, c) = (self.lightest_pilot_kg, self.pilot_kg, self.heaviest_pilot_kg);
        [a.min(b).min(c), a.max(b).max(c)]
    }
}

/// A set of limits, and where it comes from.
#[derive(Debug, Clone, PartialEq)]
pub struct LimitSet {
    pub key: String,
    pub source: String,
    pub n_positive: f64,
    pub n_negative: f64,
    pub safety_factor: f64,
    /// Extra factor for scatter and hot-wet, on strength.
    pub extra_factor: f64,
    pub dive_speed_m_s: f64,
    pub gust_m_s: f64,
    pub gust_dive_m_s: f64,
}

/// A case switched off, with its reason.
#[derive(Debug, Clone, PartialEq)]
pub struct Excused {
    pub key: String,
    pub reason: String,
}

/// What the wing is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Use {
    SingleAttempt,
    CarefulOwner,
    Club,
    HireOrSchool,
}

impl Use {
    pub const ALL: [Self; 4] = [Self::SingleAttempt, Self::CarefulOwner, Self::Club, Self::HireOrSchool];
    pub const fn key(self) -> &'static str {
        match self {
            Self::SingleAttempt => "single_attempt",
            Self::CarefulOwner => "careful_owner",
            Self::Club => "club",
            Self::HireOrSchool => "hire_or_school",
        }
    }
}

/// Where hands are meant to go, what it rests on, what covers it.
#[derive(Debug, Clone, PartialEq)]
pub struct GroundCare {
    pub usage: Use,
    pub outings_per_year: f64,
    /// Share of lifts and rests that land on holds and rests, 0 to 1.
    pub discipline: f64,
    /// The events as this scenario has them; its factors on exposures, instead of the use's, and on events.
    pub catalogue: Arc<Catalogue>,
    pub times: [Option<f64>; 6],
    pub event_factors: Vec<(String, f64)>,
    pub holds: Vec<Hold>,
    pub rests: Vec<Rest>,
    pub protections: Vec<Protection>,
    pub hits_left_alone: bool,
}

#[derive(Debug, Clone, PartialEq)]
pub struct Hold {
    pub name: String,
    pub eta: f64,
    pub chord: f64,
    pub upper: bool,
}

#[derive(Debug, Clone, PartialEq)]
pub struct Rest {
    pub name: String,
    pub eta: f64,
    pub pad_area_m2: f64,
}

/// A travel cover, pad, edge guard or tip skid.
#[derive(Debug, Clone, PartialEq)]
pub struct Protection {
    pub name: String,
    pub mass_kg: f64,
    pub flown: bool,
    /// Events it meets and the share of each it stops.
    pub stops: Vec<(String, f64)>,
}

/// What is wanted. None: no limit stated.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Targets {
    pub wing_mass_kg: Option<f64>,
    pub stall_m_s: Option<f64>,
    pub durability_index: Option<f64>,
    pub outings_lost_per_100: Option<f64>,
    pub press_n: Option<f64>,
    pub tip_deflection_frac: Option<f64>,
    pub twist_rad: Option<f64>,
    pub hours: Option<f64>,
    pub cost: Option<f64>,
    pub set_up_minutes: Option<f64>,
    pub largest_piece_m: Option<f64>,
    pub heaviest_piece_kg: Option<f64>,
    /// Percentile the person judges weight by, 0 to 1.
    pub budget_percentile: f64,
}

/// Prices and times.
#[derive(Debug, Clone, PartialEq)]
pub struct Rates {
    pub currency: String,
    pub hour_price: f64,
    pub resin: usize,
    /// Hours outside the panel areas: spar, joints, fitting out.
    pub spar_hours_per_m: f64,
    pub joint_hours: f64,
    pub fitting_out_hours: f64,
    /// Waste of cloth and core cut away.
    pub waste: f64,
    /// Growth allowance on estimated parts, by class (0.20 for a sketch).
    pub growth: f64,
}

/// Glue, laps and edges, all by the metre.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Seams {
    /// Width and thickness of the bond between skins, ribs and spar, m.
    pub bond_width_m: f64,
    pub bond_thickness_m: f64,
    pub bond_density_kg_m3: f64,
    /// Squeeze-out over the nominal glue.
    pub squeeze_out: f64,
    /// Shear strength of the glue, Pa, and peel strength, N/m.
    pub shear_pa: f64,
    pub peel_n_m: f64,
    /// Lap at a change of construction, m of each ply.
    pub splice_lap_m: f64,
    pub trailing_edge_kg_m: f64,
    /// Width of the strip along the trailing edge, in the plane of the wing, m.
    pub trailing_edge_width_m: f64,
    pub nose_seam_kg_m: f64,
}

/// The checked design.
#[derive(Debug, Clone, PartialEq)]
pub struct Design {
    pub name: String,
    pub note: String,
    pub library: Arc<Library>,
    pub constructions: Vec<Construction>,
    pub planform: Planform,
    pub sections: Vec<SectionAt>,
    pub hinge_frac: f64,
    /// Chord fraction where a divided aft strip changes; None when undivided.
    pub divide_upper: Option<f64>,
    pub divide_lower: Option<f64>,
    pub strips: Vec<StripSkin>,
    /// Constructions that the nose steps through until it holds, fewest torsion plies first; empty: it stays as drawn.
    pub nose_steps: Vec<usize>,
    pub spar: Spar,
    pub rib_kinds: Vec<RibKind>,
    pub ribs: Vec<RibRegion>,
    /// Moment a stiffened end rib stands sideways, along its chord, as tested, N m; None: drawn like the others.
    pub end_rib_nm: Option<f64>,
    pub patches: Vec<Patch>,
    pub joints: Vec<Joint>,
    pub controls: Vec<Control>,
    pub seams: Seams,
    pub aboard: Aboard,
    pub limits: Option<LimitSet>,
    pub cases_off: Vec<Excused>,
    /// Modes accepted as not shown, with the reason.
    pub accepted: Vec<Excused>,
    pub service: Service,
    pub care: GroundCare,
    pub targets: Targets,
    pub rates: Rates,
    /// How material is bought and cut and resin mixed.
    pub stock: Stock,
    /// The log of samples; what it taught stands in the library.
    pub samples: Vec<Sample>,
    /// Parts that are made and were weighed.
    pub weighed: Vec<Weighing>,
    /// What was seen in proof loads: it corrects the next prediction and nothing else.
    pub proofs: Vec<Seen>,
    pub warnings: Vec<String>,
}

impl Design {
    /// The runs of one strip; empty when the strip is absent.
    pub fn runs(&self, strip: Strip) -> &[Run] {
        self.strips.iter().find(|s| s.strip == strip).map_or(&[], |s| &s.runs)
    }
    /// The control behind a place, the first that covers it, and which it is.
    /// Unchecked: no outside check runs it by itself.
    pub fn control_at(&self, eta: f64) -> Option<(usize, &Control)> {
        self.controls.iter().enumerate().find(|(_, c)| eta >= c.from_eta && eta <= c.to_eta)
    }
    /// Which constructions stand somewhere in the wing: skins, webs, ribs and walls along the hinge.
    /// Unchecked: no outside check runs it by itself.
    pub fn constructions_used(&self) -> Vec<bool> {
        let mut out = vec![false; self.constructions.len()];
        let skins = self.strips.iter().flat_map(|s| &s.runs).map(|r| r.construction);
        let webs = self.spar.web.iter().flat_map(|r| &r.bands).map(|b| b.construction);
        let ribs = self.rib_kinds.iter().flat_map(|k| {
            let edges = [k.cap, k.wrap].into_iter().flatten().map(|(c, _)| c);
            edges.chain([k.body])
        });
        let walls = self.controls.iter().flat_map(|c| [c.wing_wall, c.control_wall]).flatten();
        for i in skins.chain(webs).chain(ribs).chain(walls).chain(self.nose_steps.iter().copied()) {
            if let Some(used) = out.get_mut(i) {
                *used = true;
            }
        }
        out
    }
    /// Take the log of samples of another design in place of one's own: it stands in the other's file. Where the two are made of
    /// other materials nothing of it can be told of these.
    pub fn with_log_of(&mut self, other: &Self) {
        self.samples.clone_from(&other.samples);
        let (mine, theirs) = (self.library.without_samples(), other.library.without_samples());
        let learnt = if mine == theirs { other.library.learnt.clone() } else { Learnt::default() };
        Arc::make_mut(&mut self.library).learnt = learnt;
    }

    /// Ultimate over limit: safety factor times the extra factor for scatter and hot-wet; 1.5 where no limits are chosen.
    /// Unchecked: no outside check runs it by itself.
    pub fn ultimate(&self) -> f64 {
        self.limits.as_ref().map_or(1.5, |l| l.safety_factor * l.extra_factor)
    }

    /// Extra factor for scatter and hot-wet; 1 where no limits are chosen. It is part of [`Self::ultimate`], and of what stands at limit.
    /// Unchecked: no outside check runs it by itself.
    pub fn extra_factor(&self) -> f64 {
        self.limits.as_ref().map_or(1.0, |l| l.extra_factor)
    }

    /// All-up mass less the wing, with a pilot of the given mass, kg.
    pub fn hung_mass_kg(&self, pilot_kg: f64) -> f64 {
        pilot_kg + self.aboard.kit_kg + self.fixed_mass_kg()
    }

    /// What is fixed to the wing and not wing, kg: keel, boom, tail.
    pub fn fixed_mass_kg(&self) -> f64 {
        self.aboard.masses.iter().filter(|m| !m.wing).map(|m| m.mass_kg).sum()
    }
}
