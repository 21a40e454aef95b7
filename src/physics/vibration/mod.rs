//! Lowest frequencies, mass line against elastic line, mass balance of the controls. For information, computed when asked
//! for: none of it clears a wing of flutter.

use crate::physics::design::Design;
use crate::physics::mass::tally::Weight;
use crate::physics::strength::sizing::Section;
use crate::physics::wing::layout::Layout;

pub mod balance;
pub mod frequency;
pub mod mass_line;

/// The words that stand beside every one of these numbers.
pub const NO_CLEARANCE: &str = "no flutter clearance";

/// What was found, and on what it rests.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Vibration {
    /// Lowest frequencies of the half wing held at the centre line; None where a stiffness is missing.
    pub bending_hz: Option<f64>,
    pub torsion_hz: Option<f64>,
    /// Mass and elastic line by bay.
    pub bays: Vec<mass_line::Slice>,
    pub controls: Vec<balance::Balance>,
}

impl Vibration {
    /// Torsion over bending.
    /// Unchecked: no outside check runs it by itself.
    pub fn ratio(&self) -> Option<f64> {
        Some(self.torsion_hz? / self.bending_hz?)
    }

    /// The bay whose mass lies furthest behind its elastic line, as a share of its chord.
    /// Unchecked: no outside check runs it by itself.
    pub fn furthest_aft(&self) -> Option<(usize, f64)> {
        self.bays.iter().enumerate().map(|(i, b)| (i, b.behind_frac())).max_by(|a, b| a.1.total_cmp(&b.1))
    }
}

/// Frequencies and balance of a wing as it stands.
///
/// Masses at budget weight, spread evenly over each bay, lumps at their place; the beam runs along the spar.
/// **Source:** [`frequency`], [`mass_line`], [`balance`]. **Valid for:** small swings of a half wing held at the centre
/// line, bending and torsion taken apart; air, joints, rigging and the pilot left out. A free wing swings faster.
/// Unchecked: no outside check runs it by itself.
pub fn of(design: &Design, layout: &Layout, weight: &Weight, sections: &[Section]) -> Vibration {
    let bays = mass_line::slices(layout, weight, sections);
    let hz = |rad_s: Option<f64>| rad_s.map(|w| w / std::f64::consts::TAU);
    let (bending, torsion) = mass_line::cells(layout, weight, sections, &bays);
    Vibration {
        bending_hz: hz(frequency::lowest_bending_rad_s(&bending)),
        torsion_hz: hz(frequency::lowest_torsion_rad_s(&torsion)),
        controls: balance::balances(design, layout, weight),
        bays,
    }
}
