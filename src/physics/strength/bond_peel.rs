//! Bonds in peel: the edge of a skin pulled off rib, cap, nose seam or trailing edge by the air.

use crate::physics::laminate::construction::{Kind, Skin};
use crate::physics::material::Mark;
use crate::physics::strength::{Context, Input, Margin, Mode, inputs, margin, skins};

pub const MODE: Mode = Mode {
    key: "bond_peel",
    title: "bond lines in peel",
    formula: "p b^2/12 + (p b/2)/lambda at the edge of a bay against sqrt(2 D Gc), lambda = (k/4D)^(1/4) of glue and core; Gc a tenth of the peel strength of the scenario",
    source: "energy released by a beam on springs, derived; for two arms it is Anderson, Fracture Mechanics, example 2.2, with the 0.64 h of Kanninen 1973 (from memory)",
    mark: Mark::Computed,
    valid: "every edge of a bay of rigid skin under outward pressure, over the shorter side; bonds wider than 1/lambda",
    safe_side: "edges clamped, a strip for a plate, no help from stretching: thin sheets that stretch release less",
    knock_down: "a tenth of the peel strength: a peel test of thin metal spends most of its work in bending it",
    power: 1.0,
    margins: Some(margins),
};

/// Share of a peel strength, N/m, that is fracture energy, J/m2. An allowance of ours: 2 N/mm gives 200 J/m2, a third of
/// the 610 to 710 J/m2 that Lopes Fernandes and others (Eng. Fract. Mech. 218, 2019) measured on a structural epoxy.
pub const ENERGY_ALLOWANCE: f64 = 0.1;
/// Modulus of the glue, Pa. From memory, epoxies 2 to 4 GPa; low is the safe side.
const GLUE_PA: f64 = 2.0e9;

/// What peels at the edge of a bond, N per width: `M + V/lambda`, `lambda = (k/(4 D))^(1/4)`; `k` in N/m3.
///
/// Energy released per area is its square over 2 D. **Derived**: the spring at the tip of the bond holds `k w^2/2` with
/// `w = 2 lambda (V + lambda M)/k` of a half-infinite beam on springs (Hetenyi).
/// **Valid for:** a bond wider than about 1/lambda. **Safe side:** soft springs raise it.
pub fn peeling_n(moment_n: f64, shear_n_m: f64, d_nm: f64, bed_n_m3: f64) -> f64 {
    let lambda = (bed_n_m3 / (4.0 * d_nm).max(1e-12)).max(1e-12).sqrt().sqrt();
    moment_n + shear_n_m / lambda
}

/// What a bond stands of it, N per width: `sqrt(2 D Gc)`. **Derived**, as [`peeling_n`].
pub fn held_n(d_nm: f64, fracture_j_m2: f64) -> f64 {
    (2.0 * d_nm * fracture_j_m2).max(0.0).sqrt()
}

/// Springs under the edge of a skin, N/m3: its core and the glue one after the other.
fn bed_n_m3(c: &Context, s: &Skin, hot: f64) -> f64 {
    let core = s
        .foam
        .and_then(|f| c.design.library.foams.get(f))
        .filter(|_| s.kind == Kind::Sandwich)
        .map_or(0.0, |f| s.core_thickness_m / (f.modulus_min_pa * hot).max(1.0));
    1.0 / (core + c.design.seams.bond_thickness_m / GLUE_PA).max(1e-15)
}

fn margins(c: &Context, out: &mut Vec<Margin>) {
    let energy = ENERGY_ALLOWANCE * c.design.seams.peel_n_m;
    for (z, s) in skins::rigid(c, |_| true) {
        let (p, case) = skins::pressure(c, z);
        let (b, ultimate) = (skins::bending(z, s), p * c.ultimate());
        let (d, bed) = (b.d_nm(), bed_n_m3(c, s, c.core_share(z.strip)));
        let peels = peeling_n(ultimate * b.span_m * b.span_m / 12.0, ultimate * b.span_m / 2.0, d, bed);
        out.push(margin(
            MODE.key,
            skins::at(z, case),
            (peels, held_n(d, energy), "N"),
            inputs(&[
                Input { label: "pressure limit", value: p, unit: "Pa" },
                Input { label: "span", value: b.span_m, unit: "m" },
                Input { label: "D", value: d, unit: "N m" },
                Input { label: "springs", value: bed, unit: "N/m3" },
                Input { label: "Gc", value: energy, unit: "J/m2" },
                Input { label: "factor", value: c.ultimate(), unit: "" },
            ]),
        ));
    }
}
