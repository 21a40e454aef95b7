//! Profile drag of the wing by bay and surface: transition by finish and by where the rigid skin ends.

use crate::physics::design::Strip;
use crate::physics::flight::friction::{form_factor, mixed, reynolds};
use crate::physics::kept::{Inputs, Row, To};
use crate::physics::laminate::construction::{Kind, Skin};
use crate::physics::wing::layout::{Bay, Layout};

/// Transition on a smooth moulded section, share of chord, upper and lower. Assumption.
pub const SMOOTH_TRANSITION: [f64; 2] = [0.50, 0.60];
/// Transition on a rigid skin with hand finish, cloth print or a sanded core under it. Assumption.
pub const ROUGH_TRANSITION: f64 = 0.15;
/// Transition when the nose itself is covered. Assumption.
pub const COVERED_TRANSITION: f64 = 0.03;
/// Transition stands this far ahead of the edge of the rigid skin. Assumption.
const STEP_AHEAD: f64 = 0.02;
/// Friction over a covering against a hard surface. Assumption.
const COVERING_FRICTION: f64 = 1.05;
/// Growth of section drag off its best lift: `cd = cd0 (1 + k (cl - cl_i)^2)`, k from NACA 0012 at Re 0.7e6 in
/// R. E. Sheldahl and P. C. Klimas, SAND80-2114 (0.0067, 0.0083, 0.0128 at 0, 4, 8 deg, lift by thin aerofoil).
pub const LIFT_GROWTH: f64 = 1.2;

/// Where the smooth rigid surface of one side of a bay ends.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Surface {
    /// Chord share to which the skin is rigid without a break, from the leading edge.
    pub rigid_to: f64,
    pub smooth: bool,
    /// Share of the chord under a covering.
    pub covered: f64,
    pub upper: bool,
}

/// Transition of a surface, share of chord.
///
/// The smooth section's own, but not aft of the rigid skin's rear edge less 0.02; earlier on a rough finish.
/// **Source:** assumption of the flight reference; *unchecked* against a measured pair of wings at these speeds.
/// **Valid for:** Re 0.5e6 to 2e6.
pub fn transition(s: &Surface) -> f64 {
    if s.rigid_to <= STEP_AHEAD {
        return COVERED_TRANSITION;
    }
    let own = if !s.smooth {
        ROUGH_TRANSITION
    } else if s.upper {
        SMOOTH_TRANSITION[0]
    } else {
        SMOOTH_TRANSITION[1]
    };
    own.min(s.rigid_to - STEP_AHEAD).max(COVERED_TRANSITION)
}

/// Section drag at its best lift: `cd = (cf_upper + cf_lower)(1 + 2 t/c + 60 (t/c)^4)`.
///
/// **Source:** [`mixed`] and [`form_factor`]; anchored to NACA 0012 tables within 25 %. **Valid for:** as those.
pub fn section_drag(reynolds: f64, transitions: [f64; 2], thickness_frac: f64) -> f64 {
    (mixed(reynolds, transitions[0]) + mixed(reynolds, transitions[1])) * form_factor(thickness_frac)
}

/// Sag of a covering between ribs, m: `w = p s^2 / (8 T)`, at the middle of the bay.
///
/// **Source:** membrane statics, small sag; Derived here. **Valid for:** sag below a tenth of the pitch.
pub fn sag_m(pressure_pa: f64, pitch_m: f64, tension_n_m: f64) -> f64 {
    if tension_n_m > 0.0 { pressure_pa.abs() * pitch_m * pitch_m / (8.0 * tension_n_m) } else { f64::INFINITY }
}

/// Profile drag of the wing as a power of speed, and what it rests on.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Profile {
    /// Drag coefficient on the wing area at [`REFERENCE_M_S`].
    pub cd: f64,
    /// `cd ~ V^-power`.
    pub power: f64,
    /// Lift coefficient of least drag.
    pub cl_best: f64,
    pub laminar_share: f64,
    /// Covering bay with the most sag for its tension: pitch squared over tension, m3/N.
    pub sag_measure: f64,
    pub sag_pitch_m: f64,
}

/// Speed at which the profile drag is worked out, m/s; a second speed gives the power.
pub const REFERENCE_M_S: f64 = 12.0;
/// The second speed, m/s.
pub const SECOND_M_S: f64 = 24.0;

impl Profile {
    /// Drag coefficient at a speed and lift coefficient: `cd (V/V0)^-p (1 + k (CL - CL_best)^2)`.
    ///
    /// **Source:** power-law fit between 12 and 24 m/s of [`section_drag`]; growth as [`LIFT_GROWTH`].
    /// **Valid for:** 8 to 35 m/s.
    pub fn at(&self, speed_m_s: f64, cl: f64) -> f64 {
        let off = cl - self.cl_best;
        let scale = (-self.power * (speed_m_s.max(1.0) / REFERENCE_M_S).ln()).exp();
        self.cd * scale * (1.0 + LIFT_GROWTH * off * off)
    }
}

/// Zones of one surface of a bay, nose to control: from, to, construction.
type Side = [Option<(f64, f64, usize)>; 4];

/// Profile drag of the laid-out wing.
///
/// **Source:** strips of [`section_drag`] weighted by chord. **Valid for:** attached flow; add the stated uncertainty.
pub fn profile(layout: &Layout, skins: &[Skin]) -> Profile {
    profile_again(layout, skins, &mut Memory::forgetting())
}

/// Section drag of bays, kept.
pub(crate) type Memory = Row<[f64; 2], 4>;

/// All that the section drag of a bay hangs on.
struct Slice {
    chord_m: f64,
    thickness_frac: f64,
    transitions: [f64; 2],
}

impl Inputs for Slice {
    fn put<T: To>(&self, to: &mut T) {
        let Self { chord_m, thickness_frac, transitions } = self;
        [chord_m, thickness_frac].put(to);
        transitions.put(to);
    }
}

/// Section drag at both speeds.
fn drags(s: &Slice) -> [f64; 2] {
    let re = reynolds(1.0, s.chord_m);
    [REFERENCE_M_S, SECOND_M_S].map(|v| section_drag(re * v, s.transitions, s.thickness_frac))
}

/// One bay of the sum that the profile drag is, of one half.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BayDrag {
    pub area_m2: f64,
    pub chord_m: f64,
    pub thickness_frac: f64,
    /// Share of the chord to which it is laminar, upper and lower.
    pub transitions: [f64; 2],
    /// Factor for what lies under a covering.
    pub covering: f64,
    /// Friction of the upper and lower surface at [`REFERENCE_M_S`], then at [`SECOND_M_S`].
    pub friction: [[f64; 2]; 2],
    /// Section drag with covering at both speeds, over the area of the bay.
    pub cd: [f64; 2],
}

/// The bays that [`profile`] sums: `cd = covering (cf_upper + cf_lower)(1 + 2 t/c + 60 (t/c)^4)`, weighted by area.
///
/// **Source:** as [`section_drag`] and [`transition`]. **Valid for:** as those.
pub fn bays(layout: &Layout, skins: &[Skin]) -> Vec<BayDrag> {
    let of = |(b, side): (&Bay, &[Surface; 2])| {
        let transitions = [transition(&side[0]), transition(&side[1])];
        let (chord_m, thickness_frac, covering) = (b.mid.chord_m, b.mid.thickness_frac, under_covering(side));
        let re = reynolds(1.0, chord_m);
        let cd = drags(&Slice { chord_m, thickness_frac, transitions }).map(|cd| covering * cd);
        BayDrag {
            area_m2: chord_m * (b.outer.y_m - b.inner.y_m),
            chord_m,
            thickness_frac,
            transitions,
            covering,
            friction: [REFERENCE_M_S, SECOND_M_S].map(|v| transitions.map(|xt| mixed(re * v, xt))),
            cd,
        }
    };
    layout.bays.iter().zip(&surfaces(layout, skins)).map(of).collect()
}

/// Factor on friction for the share of both surfaces that lies under a covering.
fn under_covering(side: &[Surface; 2]) -> f64 {
    1.0 + (COVERING_FRICTION - 1.0) * 0.5 * (side[0].covered + side[1].covered)
}

/// The same as [`profile`], with what was kept.
pub(crate) fn profile_again(layout: &Layout, skins: &[Skin], memory: &mut Memory) -> Profile {
    memory.begin();
    let mut out = Profile::default();
    for z in &layout.zones {
        let Some(skin) = skins.get(z.construction) else { continue };
        if let (Kind::Covering, Some(use_of)) = (skin.kind, skin.covering) {
            let measure = z.length_m * z.length_m / use_of.pretension_n_m.max(1e-9);
            if measure > out.sag_measure {
                out.sag_measure = measure;
                out.sag_pitch_m = z.length_m;
            }
        }
    }
    integrate(&mut out, layout, &surfaces(layout, skins), memory);
    out
}

/// Upper and lower surface of every bay.
fn surfaces(layout: &Layout, skins: &[Skin]) -> Vec<[Surface; 2]> {
    let n = layout.bays.len();
    let blank = |upper| Surface { rigid_to: 0.0, smooth: true, covered: 0.0, upper };
    let mut sides: Vec<[Surface; 2]> = vec![[blank(true), blank(false)]; n];
    // Zones of a side are met in any order: keep edges, then walk them.
    let mut bands: Vec<[Side; 2]> = vec![[[None; 4]; 2]; n];
    for z in &layout.zones {
        let slot = match z.strip {
            Strip::NoseUpper | Strip::NoseLower => 0,
            Strip::AftUpper | Strip::AftLower => 1,
            Strip::AftUpperRear | Strip::AftLowerRear => 2,
            Strip::ControlUpper | Strip::ControlLower => 3,
        };
        if let Some(b) = bands.get_mut(z.bay) {
            b[usize::from(!z.strip.is_upper())][slot] = Some((z.chord_from, z.chord_to, z.construction));
        }
    }
    for (side, band) in sides.iter_mut().zip(&bands) {
        for (surface, zones) in side.iter_mut().zip(band) {
            walk(surface, zones, skins);
        }
    }
    sides
}

/// Follow one surface from the leading edge back.
fn walk(s: &mut Surface, zones: &Side, skins: &[Skin]) {
    let mut unbroken = true;
    for &(from, to, construction) in zones.iter().flatten() {
        let Some(skin) = skins.get(construction) else { continue };
        let soft = matches!(skin.kind, Kind::Covering | Kind::Open);
        if soft {
            s.covered += to - from;
        }
        if soft || from > s.rigid_to + 0.02 {
            unbroken = false;
        }
        if unbroken {
            // A hand-finished skin behind a smooth one ends the smooth run as an edge would.
            if s.rigid_to > 0.0 && s.smooth && !skin.smooth {
                unbroken = false;
            } else {
                s.smooth = skin.smooth && (s.smooth || s.rigid_to <= 0.0);
                s.rigid_to = to;
            }
        }
    }
}

fn integrate(out: &mut Profile, layout: &Layout, sides: &[[Surface; 2]], memory: &mut Memory) {
    let (mut area, mut first, mut second, mut laminar, mut best) = (0.0, 0.0, 0.0, 0.0, 0.0);
    for (b, side) in layout.bays.iter().zip(sides) {
        let part = b.mid.chord_m * (b.outer.y_m - b.inner.y_m);
        let xt = [transition(&side[0]), transition(&side[1])];
        let rough = under_covering(side);
        area += part;
        let (chord_m, thickness_frac) = (b.mid.chord_m, b.mid.thickness_frac);
        let drag = memory.of(&Slice { chord_m, thickness_frac, transitions: xt }, drags);
        first += part * rough * drag[0];
        second += part * rough * drag[1];
        laminar += part * 0.5 * (xt[0] + xt[1]);
        best -= part * std::f64::consts::TAU * b.mid.alpha0_rad;
    }
    if area > 0.0 && first > 0.0 && second > 0.0 {
        out.cd = first / area;
        out.power = (first / second).ln() / (SECOND_M_S / REFERENCE_M_S).ln();
        out.laminar_share = laminar / area;
        out.cl_best = best / area;
    }
}
