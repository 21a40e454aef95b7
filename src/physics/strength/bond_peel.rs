//! Bonds in peel: the edge of a skin pulled off rib, cap, nose seam or trailing edge by the air.

use crate::physics::laminate::construction::{Kind, Skin};
use crate::physics::material::Mark;
use crate::physics::strength::{Context, Margin, Mode, inputs, margin, skins};

pub const MODE: Mode = Mode {
    key: "bond_peel",
    title: "bond lines in peel",
    formula: "k w^2/2 at the end of a bond as wide as the scenario says, w of a strip under pressure that two such bonds hold, against Gc, a tenth of the peel strength; both as N = w sqrt(k D) and sqrt(2 D Gc)",
    source: "finite beam on springs, Hetenyi, Beams on Elastic Foundation, ch. 4 (equal loads at both ends read, 37a, 38a; one end derived); two long arms: Anderson, Fracture Mechanics, example 2.2",
    mark: Mark::Computed,
    valid: "every edge of a bay of rigid skin under outward pressure, over the shorter side; bonds of any width",
    safe_side: "the neighbour bay does not pull back, a strip for a plate, no help from stretching: thin sheets that stretch release less",
    knock_down: "a tenth of the peel strength: a peel test of thin metal spends most of its work in bending it",
    power: 1.0,
    margins: Some(margins),
};

/// Share of a peel strength, N/m, that is fracture energy, J/m2. An allowance of ours: 2 N/mm gives 200 J/m2, a third of
/// the 610 to 710 J/m2 that Lopes Fernandes and others (Eng. Fract. Mech. 218, 2019) measured on a structural epoxy, and of
/// the least of the 600 to 5300 J/m2 of the structural adhesives of Taylor and Williams (Imperial College, wedge peel).
pub const ENERGY_ALLOWANCE: f64 = 0.1;
/// Modulus of the glue, Pa. From memory, epoxies 2 to 4 GPa; low is the safe side.
const GLUE_PA: f64 = 2.0e9;
/// Beyond this many 1/lambda a bond is as good as endless.
const ENDLESS: f64 = 20.0;

/// A bond under the edge of a skin: bending stiffness of the skin, N m; springs, N/m3; width, m.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bond {
    pub d_nm: f64,
    pub bed_n_m3: f64,
    pub width_m: f64,
}

impl Bond {
    /// `(lambda, c1, c2, c3)`: `lambda = (k/(4 D))^(1/4)`, and with `x = lambda l`, `n = sinh^2 x - sin^2 x`:
    /// `(sinh x cosh x - sin x cos x)/n`, `(sinh^2 x + sin^2 x)/n`, `(sinh x cosh x + sin x cos x)/n`.
    fn shape(&self) -> (f64, f64, f64, f64) {
        let lambda = (self.bed_n_m3 / (4.0 * self.d_nm).max(1e-12)).max(1e-12).sqrt().sqrt();
        let x = (lambda * self.width_m).clamp(1e-3, ENDLESS);
        let (sh, ch, s, c) = (x.sinh(), x.cosh(), x.sin(), x.cos());
        let n = sh * sh - s * s;
        (lambda, (sh * ch - s * c) / n, (sh * sh + s * s) / n, (sh * ch + s * c) / n)
    }

    /// How far the end of the bond gives, m, under shear and moment there, N/m and N per width, nothing at the far end:
    /// `w = 2 lambda (V c1 + lambda M c2)/k`.
    ///
    /// **Derived** from the general solution of a beam on springs (Hetenyi, ch. 1); two ends loaded alike give his 37a, 38a.
    /// **Valid for:** springs that pull as they push. **Safe side:** soft springs.
    pub fn gives_m(&self, shear_n_m: f64, moment_n: f64) -> f64 {
        self.gives_in(self.shape(), shear_n_m, moment_n)
    }

    fn gives_in(&self, (lambda, c1, c2, _): (f64, f64, f64, f64), shear_n_m: f64, moment_n: f64) -> f64 {
        2.0 * lambda * (shear_n_m * c1 + lambda * moment_n * c2) / self.bed_n_m3.max(1e-9)
    }

    /// Moment at its edge of a strip under even pressure over a span, N per width, that two such bonds hold: where the
    /// strip's end turns as the bond's does, `p b^3/24 D - M b/2 D = (2 lambda^2 V c2 + 4 lambda^3 M c3)/k`, `V = p b/2`.
    /// **Derived**; a stiff wide bond gives `p b^2/12`. **Valid for:** small deflections.
    pub fn edge_moment_n(&self, pressure_pa: f64, span_m: f64) -> f64 {
        self.edge_moment_in(self.shape(), pressure_pa, span_m)
    }

    fn edge_moment_in(&self, (lambda, _, c2, c3): (f64, f64, f64, f64), pressure_pa: f64, span_m: f64) -> f64 {
        let (d, k, v) = (self.d_nm.max(1e-12), self.bed_n_m3.max(1e-9), pressure_pa * span_m / 2.0);
        (pressure_pa * span_m.powi(3) / (24.0 * d) - 2.0 * lambda * lambda * v * c2 / k)
            / (span_m / (2.0 * d) + 4.0 * lambda.powi(3) * c3 / k)
    }

    /// Energy a pressure releases for each area of bond that lets go, J/m2: the spring at the end of the bond, `k w^2/2`.
    /// **Derived**: what the last spring holds. **Valid for:** as [`Self::gives_m`].
    pub fn released_j_m2(&self, pressure_pa: f64, span_m: f64) -> f64 {
        self.released_in(self.shape(), pressure_pa, span_m)
    }

    fn released_in(&self, shape: (f64, f64, f64, f64), pressure_pa: f64, span_m: f64) -> f64 {
        let w = self.gives_in(shape, pressure_pa * span_m / 2.0, self.edge_moment_in(shape, pressure_pa, span_m));
        self.bed_n_m3 * w * w / 2.0
    }
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
    let seams = &c.design.seams;
    let energy = ENERGY_ALLOWANCE * seams.peel_n_m;
    // Bonds of one construction are alike but for the side and the way the skin bends.
    let mut shapes: Vec<(Bond, (f64, f64, f64, f64))> = Vec::with_capacity(16);
    for (z, s) in skins::rigid(c, |_| true) {
        let (p, case) = skins::pressure(c, z);
        let b = skins::bending(z, s);
        let d = b.d_nm();
        let bond = Bond { d_nm: d, bed_n_m3: bed_n_m3(c, s, c.core_share(z.strip)), width_m: seams.bond_width_m };
        let known = shapes.iter().find(|(of, _)| *of == bond).map(|(_, shape)| *shape);
        let shape = known.unwrap_or_else(|| {
            let shape = bond.shape();
            shapes.push((bond, shape));
            shape
        });
        let peels = (2.0 * d * bond.released_in(shape, p * c.ultimate(), b.span_m)).sqrt();
        out.push(margin(
            MODE.key,
            skins::at(z, case),
            (peels, (2.0 * d * energy).sqrt(), "N"),
            inputs![
                ("pressure limit", p, "Pa"),
                ("span", b.span_m, "m"),
                ("D", d, "N m"),
                ("springs", bond.bed_n_m3, "N/m3"),
                ("bond width", bond.width_m, "m"),
                ("Gc", energy, "J/m2"),
                ("factor", c.ultimate(), ""),
            ],
        ));
    }
}
