//! What the give of the nose skins adds to modes of the whole wing, bay by bay: twist of the wing, and loss of roll
//! control. A search that chooses skins bay by bay can then limit either as a sum.

use crate::physics::design::{Design, Strip};
use crate::physics::laminate::construction::Skin;
use crate::physics::loads::internal::Loads;
use crate::physics::strength::sizing::{self, Section, Sizing};
use crate::physics::strength::torsion::Shaft;
use crate::physics::strength::{control_reversal, twist};
use crate::physics::wing::layout::Layout;

/// An amount of the whole wing, and what each nose skin adds to it.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Softness {
    /// Of the wing as it is.
    pub now: f64,
    /// May not be passed.
    pub most: f64,
    /// What upper and lower nose add in a bay for each unit of give in shear.
    pub per_give: Vec<[f64; 2]>,
}

/// Give of a skin in shear, m/N: `1/A66`, shear strain for each unit of shear flow. Infinite for what carries no shear.
/// **Source:** definition.
pub fn give(skin: &Skin) -> f64 {
    1.0 / skin.a.s66
}

/// By so much the noses are softened to see what it adds. Twist is straight in their give, so any step will do; loss of roll
/// control nearly is.
const STEP: f64 = 0.01;

/// Twist of the tip, rad, in the case that twists it most, against its target, and share of roll control lost at the dive
/// speed, against what may be lost; none where the design sets no limit.
///
/// One closed cell turns by `T/(4 A^2) * sum of arc * give` a length, so what a nose skin adds is its own give times a
/// number that hangs on nothing else of it. With a second cell behind, and for roll control, the number is the slope at
/// this wing. Loads, spar and all other skins stay as they are.
/// **Source:** Bredt and Batho; slope by a small step. **Safe side:** none; whoever uses it evaluates the wing again.
pub fn of(
    design: &Design,
    (layout, skins, loads): (&Layout, &[Skin], &Loads),
    (sizing, sections): (&Sizing, &[Section]),
) -> [Option<Softness>; 2] {
    let softer = softened(design, layout, skins, sizing);
    // What softening all noses of a bay adds, shared out by their give.
    let spread = |added: &dyn Fn(usize) -> f64| -> Vec<[f64; 2]> {
        let of_bay = |b: usize| shares(layout, skins, b).map(|s| s * (added(b) / STEP).max(0.0));
        (0..layout.bays.len()).map(of_bay).collect()
    };
    let twisted = design.targets.twist_rad.and_then(|most| {
        let bent = sizing::bend(layout, sections, loads);
        let (case, now) = twist::greatest(&bent, loads)?;
        let bent_softer = sizing::bend(layout, &softer, loads);
        let (a, b) = (bent.get(case)?.twist_rad(), bent_softer.get(case)?.twist_rad());
        let sign = a.last()?.signum();
        let over = |v: &[f64], bay: usize| v.get(bay..bay + 2).map_or(0.0, |w| w[1] - w[0]);
        Some(Softness { now, most, per_give: spread(&|bay| sign * (over(b, bay) - over(a, bay))) })
    });
    let (shaft, soft) = (Shaft::of_wing(layout, sections), Shaft::of_wing(layout, &softer));
    let lost = |s: &Shaft| control_reversal::left(design, layout, s).map(|l| 1.0 - l);
    let loss = lost(&shaft).map(|now| {
        let per_give = spread(&|bay| {
            let (mut one, ends) = (shaft.clone(), 2 * bay..2 * bay + 2);
            one.gj_nm2[ends.clone()].copy_from_slice(&soft.gj_nm2[ends.clone()]);
            one.shear_centre_frac[ends.clone()].copy_from_slice(&soft.shear_centre_frac[ends]);
            lost(&one).map_or(0.0, |l| l - now)
        });
        Softness { now, most: 1.0 - control_reversal::LEAST_EFFECT, per_give }
    });
    [twisted, loss]
}

/// Sections of the wing with all nose skins a step softer in shear.
fn softened(design: &Design, layout: &Layout, skins: &[Skin], sizing: &Sizing) -> Vec<Section> {
    let mut soft = skins.to_vec();
    for k in &mut soft {
        k.a.s66 /= 1.0 + STEP;
    }
    let both: Vec<Skin> = skins.iter().cloned().chain(soft).collect();
    let mut layout = layout.clone();
    for z in layout.zones.iter_mut().filter(|z| z.strip.is_nose()) {
        z.construction += skins.len();
    }
    sizing::sections(design, &layout, &both, sizing)
}

/// What the upper and the lower nose have of the give of both in a bay, for each unit of their own.
fn shares(layout: &Layout, skins: &[Skin], bay: usize) -> [f64; 2] {
    let own = |s: Strip| layout.zone(s, bay).and_then(|z| Some((z.arc_m, give(skins.get(z.construction)?))));
    let (Some((upper, a)), Some((lower, b))) = (own(Strip::NoseUpper), own(Strip::NoseLower)) else { return [0.0; 2] };
    let sum = upper * a + lower * b;
    if sum.is_finite() && sum > 0.0 { [upper / sum, lower / sum] } else { [0.0; 2] }
}
