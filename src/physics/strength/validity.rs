//! What must hold for whole groups of modes: outside it their margins are not shown, whatever their formula would say.

use crate::physics::loads::internal::Loads;
use crate::physics::loads::lift_range;
use crate::physics::strength::{Context, Margin, Verdict};

/// Modes that need a closed nose to carry torsion.
const NEED_CLOSED_NOSE: [&str; 12] = [
    "twist",
    "nose_shear",
    "nose_seam_bond",
    "nose_buckling",
    "web_shear",
    "cap_web_bond",
    "cap_skin_bond",
    "skin_rib_bond",
    "closing_rib",
    "joint_rib",
    "divergence",
    "control_reversal",
];

/// Modes that need two caps with a web between them, inside the skins.
const NEED_CAPS: [&str; 13] = [
    "cap_tension",
    "cap_compression",
    "cap_stability",
    "cap_ply_end",
    "web_shear",
    "web_buckling",
    "web_crushing",
    "post_crushing",
    "unseen_dent",
    "cap_web_bond",
    "cap_skin_bond",
    "inplane_bending",
    "tip_deflection",
];

/// Modes that take ribs to be beams of two caps.
const NEED_DEEP_RIBS: [&str; 7] =
    ["rib_bending", "rib_shear", "rib_buckling", "control_rib", "closing_rib", "joint_rib", "skin_rib_bond"];

/// Modes whose allowable is that of a core at service temperature.
const NEED_KNOWN_CORE: [&str; 12] = [
    "cap_stability",
    "web_buckling",
    "web_crushing",
    "post_crushing",
    "nose_buckling",
    "aft_buckling",
    "hinge_wall",
    "face_wrinkling",
    "shear_crimping",
    "core_shear",
    "rib_buckling",
    "holds",
];

/// Depth below which neither spar nor rib is the beam its formulas take it for, m. A choice: there sizes are clamped.
const LEAST_DEPTH_M: f64 = 0.012;

/// Temperature up to which the loss of core properties is stated (`hot_core_share`), deg C.
pub(crate) const HOTTEST_C: f64 = 55.0;

/// Modes that no lift over the span goes into: palms lift the wing; divergence and roll control have strips of their own.
const WITHOUT_LIFT: [&str; 3] = ["holds", "divergence", "control_reversal"];

/// Where the lift is not known: why, and of each case whether it is flown.
struct Unknown {
    why: &'static str,
    flown: Vec<bool>,
}

impl Unknown {
    fn of(c: &Context) -> Option<Self> {
        let why = lift_range::beyond(c.design).first()?.why;
        let flown: Vec<bool> = c.loads.cases.iter().map(|k| k.kind.in_flight() || k.cl != 0.0).collect();
        flown.contains(&true).then_some(Self { why, flown })
    }

    /// What flight brings on is not known, and nothing holds that flight may bring on worse; what is short on the ground stays short.
    fn mark(&self, mode: &str, margins: &mut [Margin]) {
        if WITHOUT_LIFT.contains(&mode) {
            return;
        }
        for m in margins {
            let flown = m.case.is_none_or(|c| self.flown.get(c).copied().unwrap_or(true));
            if m.verdict == Verdict::Holds || (flown && m.verdict == Verdict::Short) {
                m.verdict = Verdict::NotShown(self.why);
            }
        }
    }
}

/// What is so of a whole wing, worked out once for all modes.
pub(super) struct Wing {
    sound: bool,
    hot: bool,
    lift: Option<Unknown>,
    open: Vec<bool>,
    no_room: Vec<bool>,
    shallow: Vec<bool>,
}

/// Whether every load is a number.
pub(super) fn sound(loads: &Loads) -> bool {
    // A sum of numbers of which one is none is none.
    let sum = |v: &[f64]| v.iter().sum::<f64>();
    let total: f64 = loads
        .loads
        .iter()
        .map(|l| {
            sum(l.shear_n())
                + sum(l.moment_nm())
                + sum(l.torque_nm())
                + sum(l.inplane_nm())
                + sum(l.net_pa())
                + sum(l.nose_pa())
                + sum(l.aft_pa())
        })
        .sum();
    total.is_finite()
}

impl Wing {
    pub(super) fn of(c: &Context) -> Self {
        let sections = || c.sections.iter().take(c.layout.bays.len());
        let thin = |depth: f64| depth < LEAST_DEPTH_M;
        Self {
            sound: c.sound,
            lift: Unknown::of(c),
            hot: c.design.service.upper_c.max(c.design.service.lower_c) > HOTTEST_C,
            open: sections().map(|s| s.gj_nm2 <= 0.0).collect(),
            // Both fibres together are the lever and half of each cap: more than twice the lever, and the caps overlap.
            no_room: sections()
                .zip(&c.layout.bays)
                .map(|(s, b)| s.upper_fibre_m + s.lower_fibre_m > 2.0 * s.cap_lever_m || thin(b.inner.spar_depth_m))
                .collect(),
            shallow: c.layout.bays.iter().map(|b| thin(b.outer.spar_depth_m)).collect(),
        }
    }

    /// Where what a mode needs is missing its margins are not shown, never taken as holding or short.
    pub(super) fn mark(&self, mode: &str, margins: &mut [Margin]) {
        if let Some(unknown) = &self.lift {
            unknown.mark(mode, margins);
        }
        let mut where_so = |modes: &[&str], so: &[bool], why: &'static str| {
            if !modes.contains(&mode) || !so.contains(&true) {
                return;
            }
            for m in margins.iter_mut().filter(|m| m.bay.is_none_or(|b| so.get(b).copied().unwrap_or(false))) {
                m.verdict = Verdict::NotShown(why);
            }
        };
        where_so(&NEED_CLOSED_NOSE, &self.open, "the nose is open here: torsion of an open section is not computed");
        where_so(&NEED_CAPS, &self.no_room, "the caps have no room between the skins here");
        where_so(&NEED_DEEP_RIBS, &self.shallow, "the rib is too shallow here to be a beam of two caps");
        for m in margins {
            if self.hot && NEED_KNOWN_CORE.contains(&mode) {
                m.verdict = Verdict::NotShown("hotter than 55 C: what is left of the core there is not stated");
            }
            if !self.sound {
                m.verdict = Verdict::NotShown("a load is not a number");
            }
        }
    }
}
