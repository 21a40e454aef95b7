//! One cured ply: fibre fraction, thickness, mass, and its constants in its own axes.

use crate::physics::material::{Fabric, Fibre, Process, Resin, Weave};

/// Constants of an orthotropic sheet in its own axes, Pa.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Lamina {
    pub e1_pa: f64,
    pub e2_pa: f64,
    pub g12_pa: f64,
    pub nu12: f64,
}

/// A cured ply.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Cured {
    pub thickness_m: f64,
    pub fibre_kg_m2: f64,
    pub resin_kg_m2: f64,
    pub fibre_volume_fraction: f64,
    pub lamina: Lamina,
}

/// Densities of fibre and matrix, kg/m3.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Densities {
    pub fibre_kg_m3: f64,
    pub matrix_kg_m3: f64,
}

/// Fibre volume fraction from fibre mass fraction `w` and void fraction `v`:
/// Vf = (1-v) (w/rf) / (w/rf + (1-w)/rm).
/// **Source:** balance of mass. **Valid for:** 0 < w < 1. Exact.
pub fn volume_fraction(mass_fraction: f64, void_fraction: f64, d: Densities) -> f64 {
    let (f, m) = (mass_fraction / d.fibre_kg_m3, (1.0 - mass_fraction) / d.matrix_kg_m3);
    if f + m > 0.0 { (1.0 - void_fraction) * f / (f + m) } else { 0.0 }
}

/// Fibre mass fraction from fibre volume fraction: w = Vf rf / (Vf rf + (1-v-Vf) rm).
/// **Source:** balance of mass. Exact.
pub fn mass_fraction(volume_fraction: f64, void_fraction: f64, d: Densities) -> f64 {
    let f = volume_fraction * d.fibre_kg_m3;
    let m = (1.0 - void_fraction - volume_fraction).max(0.0) * d.matrix_kg_m3;
    if f + m > 0.0 { f / (f + m) } else { 0.0 }
}

/// Thickness of a ply, m, from dry areal mass F: t = F/(rf Vf).
/// **Source:** balance of volume; R. Geerts, *Calculating Laminate Thickness*. Voids are in Vf.
pub fn thickness_m(areal_kg_m2: f64, fibre_volume_fraction: f64, fibre_kg_m3: f64) -> f64 {
    areal_kg_m2 / (fibre_kg_m3 * fibre_volume_fraction).max(1e-9)
}

/// Halpin-Tsai: P = Pm (1 + xi n Vf)/(1 - n Vf), n = (Pf/Pm - 1)/(Pf/Pm + xi).
/// **Source:** from memory; its case in Kaw recomputed. **Valid for:** Vf below 0.75.
pub fn halpin_tsai(fibre: f64, matrix: f64, vf: f64, xi: f64) -> f64 {
    let ratio = fibre / matrix;
    let n = (ratio - 1.0) / (ratio + xi);
    matrix * (1.0 + xi * n * vf) / (1.0 - n * vf)
}

/// A unidirectional ply: rule of mixtures along, Halpin-Tsai (xi 2 and 1) across and in shear.
/// **Source:** Mallick, *Fiber-Reinforced Composites*, 2008, ch. 3, as worked in a public course; Halpin-Tsai from memory.
pub fn unidirectional(fibre: &Fibre, resin: &Resin, vf: f64) -> Lamina {
    let gm = resin.modulus_pa / (2.0 * (1.0 + resin.poisson));
    Lamina {
        e1_pa: fibre.modulus_pa * vf + resin.modulus_pa * (1.0 - vf),
        e2_pa: halpin_tsai(fibre.transverse_modulus_pa, resin.modulus_pa, vf, 2.0),
        g12_pa: halpin_tsai(fibre.shear_modulus_pa, gm, vf, 1.0),
        nu12: fibre.poisson * vf + resin.poisson * (1.0 - vf),
    }
}

/// Share of E1 left in a woven yarn: R = 1/(1 + 2 c (E1/G12 - 2 (1 + nu12))), c the crimp ratio.
/// **Derived** by averaging compliance over a sinusoidal path. **Valid for:** slopes below 8 degrees.
pub fn crimp_retention(u: Lamina, crimp_ratio: f64) -> f64 {
    1.0 / (1.0 + 2.0 * crimp_ratio * (u.e1_pa / u.g12_pa - 2.0 * (1.0 + u.nu12))).max(1.0)
}

/// A woven ply as a crimp-reduced cross-ply, `warp` of the fibre along 1, in plane.
/// **Derived here** from 1.3 of the structures notes; no transverse cracking is counted.
pub fn woven(u: Lamina, crimp_ratio: f64, warp: f64) -> Lamina {
    let e1 = u.e1_pa * crimp_retention(u, crimp_ratio);
    let nu21 = u.nu12 * u.e2_pa / e1;
    let k = 1.0 / (1.0 - u.nu12 * nu21);
    let (q11, q22, q12) = (k * e1, k * u.e2_pa, k * u.nu12 * u.e2_pa);
    let (a11, a22) = (warp * q11 + (1.0 - warp) * q22, warp * q22 + (1.0 - warp) * q11);
    let det = a11 * a22 - q12 * q12;
    Lamina { e1_pa: det / a22, e2_pa: det / a11, g12_pa: u.g12_pa, nu12: q12 / a22 }
}

/// Crimp of a weave. **Source:** plain 0.3 %, twill 0.2 %, satin 0.1 % are choices within the range of published retention.
/// Unchecked: no outside check runs it by itself.
pub const fn crimp_allowance(weave: Weave) -> f64 {
    match weave {
        Weave::Plain => 0.003,
        Weave::Twill => 0.002,
        Weave::Satin | Weave::Sleeve => 0.0015,
        Weave::Unidirectional => 0.0,
    }
}

/// What a square metre of a cured ply costs: the cloth, and the resin mixed for what stays in it. **Source:** prices of the library.
pub fn price_per_m2(fabric: &Fabric, process: &Process, resin: &Resin, cured: &Cured) -> f64 {
    fabric.price_per_m2 + cured.resin_kg_m2 * process.resin_waste * resin.price_per_kg
}

/// A ply of cloth after cure; `fraction_factor` multiplies the fibre fraction of the process.
pub fn cure(fabric: &Fabric, fibre: &Fibre, resin: &Resin, process: &Process, fraction_factor: f64) -> Cured {
    let vf = (process.fibre_volume_fraction * fraction_factor).clamp(0.08, 0.72);
    let d = Densities { fibre_kg_m3: fibre.density_kg_m3, matrix_kg_m3: resin.density_kg_m3 };
    let w = mass_fraction(vf, process.void_fraction, d);
    let u = unidirectional(fibre, resin, vf);
    let lamina = match fabric.weave {
        Weave::Unidirectional if fabric.warp_fraction >= 0.995 => u,
        weave => woven(u, crimp_allowance(weave), fabric.warp_fraction),
    };
    Cured {
        thickness_m: thickness_m(fabric.areal_mass_kg_m2, vf, fibre.density_kg_m3),
        fibre_kg_m2: fabric.areal_mass_kg_m2,
        resin_kg_m2: fabric.areal_mass_kg_m2 * (1.0 / w - 1.0),
        fibre_volume_fraction: vf,
        lamina,
    }
}
