//! Rigs that bend a short beam: where the loads stand, what they bring, how far the load point goes.

/// How a section is loaded.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Rig {
    /// Held at its inner end, one load on a stiff arm fixed to its outer end: the section alone is short.
    #[default]
    Cantilever,
    /// On two supports, one load in the middle.
    ThreePoint,
    /// On two supports, two loads; between them no shear.
    FourPoint,
}

impl Rig {
    pub const ALL: [Self; 3] = [Self::Cantilever, Self::ThreePoint, Self::FourPoint];
    pub const fn key(self) -> &'static str {
        match self {
            Self::Cantilever => "cantilever",
            Self::ThreePoint => "three_point",
            Self::FourPoint => "four_point",
        }
    }
    pub const fn words(self) -> &'static str {
        match self {
            Self::Cantilever => "held at the inner end, load on a stiff arm at the outer end",
            Self::ThreePoint => "on two supports, load in the middle",
            Self::FourPoint => "on two supports, two equal loads",
        }
    }
}

/// A beam of one section: bending stiffness, N m2, and shear stiffness, N.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Beam {
    pub ei_nm2: f64,
    pub ga_n: f64,
}

/// Lengths of a rig, m. Cantilever: `arm_m` from the hold to the load, the section `length_m` of it and a stiff arm for the rest.
/// Three and four points: `arm_m` from a support to the nearer load, `inner_m` between the loads, the section all of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lengths {
    pub arm_m: f64,
    pub inner_m: f64,
    pub length_m: f64,
}

/// All that the loads of a rig add up to for a shear force in its outer parts, N: once, or twice where it has two sides.
pub fn load_n(rig: Rig, shear_n: f64) -> f64 {
    match rig {
        Rig::Cantilever => shear_n,
        Rig::ThreePoint | Rig::FourPoint => 2.0 * shear_n,
    }
}

/// How far a load point goes for all loads P, m: bending and shear.
///
/// Cantilever with a stiff arm `P ((a^3 - (a-l)^3)/(3 EI) + l/GA)`; two supports L apart, load in the middle
/// `P L^3/(48 EI) + P L/(4 GA)`; two loads P/2 at a from the supports, under one of them `P a^2 (3 L - 4 a)/(12 EI) + P a/(2 GA)`.
/// **Source:** beam tables of Gere and Goodno, *Mechanics of Materials*, appendix on deflections of beams (from memory); the stiff
/// arm by integration of `P (a-x)^2/EI`; shear `int V v/GA`, any text. **Valid for:** small deflection, one section, pins that do
/// not sink. Nothing for a beam without stiffness.
pub fn deflection_m(rig: Rig, l: Lengths, beam: Beam, load_n: f64) -> Option<f64> {
    let Beam { ei_nm2: ei, ga_n: ga } = beam;
    if !(ei > 0.0 && ga > 0.0) {
        return None;
    }
    let a = l.arm_m;
    let per_n = match rig {
        Rig::Cantilever => {
            let on = l.length_m.clamp(0.0, a);
            (a.powi(3) - (a - on).powi(3)) / (3.0 * ei) + on / ga
        }
        Rig::ThreePoint => (2.0 * a).powi(3) / (48.0 * ei) + 2.0 * a / (4.0 * ga),
        Rig::FourPoint => {
            let span = 2.0 * a + l.inner_m;
            a * a * (3.0 * span - 4.0 * a) / (12.0 * ei) + a / (2.0 * ga)
        }
    };
    Some(per_n * load_n)
}
