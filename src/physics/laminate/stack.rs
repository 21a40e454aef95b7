//! Classical laminate theory for stacks of orthotropic plies.
//! **Source:** Jones, *Mechanics of Composite Materials* (from memory); Mallick ch. 3; checked on Kaw's example 4.2.

use crate::physics::laminate::construction::Stiffness;
use crate::physics::laminate::ply::Lamina;

/// Reduced stiffness of a lamina in its own axes, Pa: Q11 = E1/(1 - nu12 nu21) and so on.
pub fn reduced(l: Lamina) -> Stiffness {
    let k = 1.0 / (1.0 - l.nu12 * l.nu12 * l.e2_pa / l.e1_pa);
    Stiffness { s11: k * l.e1_pa, s22: k * l.e2_pa, s12: k * l.nu12 * l.e2_pa, s66: l.g12_pa, s16: 0.0, s26: 0.0 }
}

/// The same turned by an angle. Invariants: Q11 + Q22 + 2 Q12 and Q66 - Q12 do not change.
pub fn turned(q: Stiffness, angle_rad: f64) -> Stiffness {
    if angle_rad == 0.0 {
        return q;
    }
    let (s, c) = angle_rad.sin_cos();
    let (s2, c2) = (s * s, c * c);
    let (s4, c4, s2c2, c3s, cs3) = (s2 * s2, c2 * c2, s2 * c2, c2 * c * s, c * s2 * s);
    let (d1, d2) = (q.s11 - q.s12 - 2.0 * q.s66, q.s22 - q.s12 - 2.0 * q.s66);
    Stiffness {
        s11: q.s11 * c4 + 2.0 * (q.s12 + 2.0 * q.s66) * s2c2 + q.s22 * s4,
        s22: q.s11 * s4 + 2.0 * (q.s12 + 2.0 * q.s66) * s2c2 + q.s22 * c4,
        s12: (q.s11 + q.s22 - 4.0 * q.s66) * s2c2 + q.s12 * (c4 + s4),
        s66: (q.s11 + q.s22 - 2.0 * q.s12 - 2.0 * q.s66) * s2c2 + q.s66 * (c4 + s4),
        s16: d1 * c3s - d2 * cs3,
        s26: d1 * cs3 - d2 * c3s,
    }
}

/// A layer of a stack: turned stiffness and thickness.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Layer {
    pub q_pa: Stiffness,
    pub thickness_m: f64,
}

/// A, B and D of a stack about its middle, first layer at z = -h/2.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Abd {
    pub a: Stiffness,
    pub b: Stiffness,
    pub d: Stiffness,
    pub thickness_m: f64,
}

impl Stiffness {
    /// Add `k` times another.
    pub fn plus(&mut self, o: &Self, k: f64) {
        self.s11 += k * o.s11;
        self.s12 += k * o.s12;
        self.s22 += k * o.s22;
        self.s66 += k * o.s66;
        self.s16 += k * o.s16;
        self.s26 += k * o.s26;
    }
    /// As a symmetric matrix.
    pub fn matrix(&self) -> [[f64; 3]; 3] {
        [[self.s11, self.s12, self.s16], [self.s12, self.s22, self.s26], [self.s16, self.s26, self.s66]]
    }
    /// The inverse; None when singular (nothing there).
    pub fn inverse(&self) -> Option<Self> {
        let m = self.matrix();
        let cof = |i: usize, j: usize, k: usize, l: usize| m[i][k] * m[j][l] - m[i][l] * m[j][k];
        let (c11, c12, c16) = (cof(1, 2, 1, 2), -cof(1, 2, 0, 2), cof(1, 2, 0, 1));
        let det = m[0][0] * c11 + m[0][1] * c12 + m[0][2] * c16;
        if det.abs() < 1e-300 {
            return None;
        }
        Some(Self {
            s11: c11 / det,
            s12: c12 / det,
            s16: c16 / det,
            s22: cof(0, 2, 0, 2) / det,
            s26: -cof(0, 2, 0, 1) / det,
            s66: cof(0, 1, 0, 1) / det,
        })
    }
}

/// A = sum Q t, B = 1/2 sum Q (z2^2 - z1^2), D = 1/3 sum Q (z2^3 - z1^3).
pub fn abd(layers: &[Layer]) -> Abd {
    let h: f64 = layers.iter().map(|l| l.thickness_m).sum();
    let mut out = Abd { thickness_m: h, ..Abd::default() };
    let mut z = -h / 2.0;
    for l in layers {
        let z2 = z + l.thickness_m;
        out.a.plus(&l.q_pa, l.thickness_m);
        out.b.plus(&l.q_pa, (z2 * z2 - z * z) / 2.0);
        out.d.plus(&l.q_pa, (z2 * z2 * z2 - z * z * z) / 3.0);
        z = z2;
    }
    out
}

/// Bending stiffness with the coupling taken out: D* = D - B A^-1 B.
/// **Source:** reduced-stiffness approximation (from memory); exact for a free beam. Safe side.
pub fn reduced_bending(abd: &Abd) -> Stiffness {
    let Some(inv) = abd.a.inverse() else { return abd.d };
    let (b, a) = (abd.b.matrix(), inv.matrix());
    let mut out = [[0.0; 3]; 3];
    for (i, row) in out.iter_mut().enumerate() {
        for (j, slot) in row.iter_mut().enumerate() {
            for k in 0..3 {
                for l in 0..3 {
                    *slot += b[i][k] * a[k][l] * b[l][j];
                }
            }
        }
    }
    let mut d = abd.d;
    let minus =
        Stiffness { s11: out[0][0], s12: out[0][1], s22: out[1][1], s66: out[2][2], s16: out[0][2], s26: out[1][2] };
    d.plus(&minus, -1.0);
    d
}

/// Young's moduli, shear modulus and Poisson ratio of a balanced symmetric stack: Ex = 1/(h a11) and so on, Pa.
pub fn effective(a: &Stiffness, thickness_m: f64) -> Lamina {
    a.inverse().map_or_else(Lamina::default, |c| Lamina {
        e1_pa: 1.0 / (thickness_m * c.s11),
        e2_pa: 1.0 / (thickness_m * c.s22),
        g12_pa: 1.0 / (thickness_m * c.s66),
        nu12: -c.s12 / c.s11,
    })
}
