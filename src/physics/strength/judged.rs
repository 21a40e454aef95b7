//! What a margin is judged at: ultimate load for most; limit load where the mode or what its strip may do says so; no case at all.

use crate::physics::design::{Design, MayBuckle};
use crate::physics::strength::{
    Margin, aft_buckling, control_reversal, covering_sag, divergence, nose_buckling, tip_deflection, twist, unseen_dent,
};

/// The load or the flight behind a margin.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Judged {
    /// Limit load times the safety factor and the extra factor.
    Ultimate,
    Limit,
    /// Shape in ordinary flight.
    LevelFlight,
    /// The dive speed, with what is asked on top of it: no load case brings it on.
    DiveSpeed,
}

impl Judged {
    pub const fn key(self) -> &'static str {
        match self {
            Self::Ultimate => "ultimate",
            Self::Limit => "limit",
            Self::LevelFlight => "level flight",
            Self::DiveSpeed => "dive speed",
        }
    }
    /// What is said beside a reserve factor that stands alone.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Ultimate => "at ultimate",
            Self::Limit => "at limit",
            Self::LevelFlight => "in level flight",
            Self::DiveSpeed => "at dive speed",
        }
    }
    /// What is said beside the margin; nothing where it is what everybody takes it for.
    pub const fn beside(self) -> Option<&'static str> {
        match self {
            Self::Ultimate => None,
            _ => Some(self.words()),
        }
    }
}

/// What the strip of a margin of buckling may do.
pub fn may_buckle(design: &Design, m: &Margin) -> Option<MayBuckle> {
    let buckles = [nose_buckling::MODE.key, aft_buckling::MODE.key].contains(&m.mode);
    let strip = m.strip.filter(|_| buckles)?;
    Some(design.strips.iter().find(|s| s.strip == strip).map_or(MayBuckle::NotBelowUltimate, |s| s.may_buckle))
}

/// What a margin of a design is judged at.
pub fn judged(design: &Design, m: &Margin) -> Judged {
    if let Some(policy) = may_buckle(design, m) {
        return if policy == MayBuckle::NotBelowUltimate { Judged::Ultimate } else { Judged::Limit };
    }
    let is = |keys: &[&str]| keys.contains(&m.mode);
    if is(&[unseen_dent::MODE.key, tip_deflection::MODE.key, twist::MODE.key]) {
        Judged::Limit
    } else if is(&[covering_sag::MODE.key]) {
        Judged::LevelFlight
    } else if is(&[divergence::MODE.key, control_reversal::MODE.key]) {
        Judged::DiveSpeed
    } else {
        Judged::Ultimate
    }
}
