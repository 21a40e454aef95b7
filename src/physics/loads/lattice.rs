//! One chordwise row of horseshoe vortices over a half wing and its mirror image.
//!
//! Method in words: the wing is cut into strips of equal width. Each strip carries a bound vortex on its
//! quarter-chord line and two legs straight aft to infinity; the air must follow the surface at one point of
//! each strip, behind the quarter chord by `c a0 / (4 pi)` (three-quarter chord when the section slope is 2 pi).
//! The outermost strip ends a quarter of a strip short of the tip, which makes convergence second order.

use std::f64::consts::{PI, TAU};

/// Strips on one half wing in an evaluation: within 0.2 % of the converged slope and lift centroid.
pub const STRIPS: usize = 24;
/// Inset of the last strip's end from the tip, in strip widths.
pub const TIP_INSET: f64 = 0.25;

/// One end of a horseshoe as seen from a point.
#[derive(Debug, Clone, Copy, Default)]
struct End {
    dx: f64,
    dy: f64,
    /// dx / r and dy / r.
    along: f64,
    across: f64,
    /// Share of the trailing leg.
    trail: f64,
}

impl End {
    fn seen(x: f64, y: f64, end: (f64, f64)) -> Self {
        let (dx, dy) = (x - end.0, y - end.1);
        let r = 1.0 / (dx * dx + dy * dy).sqrt().max(1e-12);
        let along = dx * r;
        Self { dx, dy, along, across: dy * r, trail: (1.0 + along) / dy }
    }
}

/// Upwash times 4 pi of a horseshoe of unit circulation from end `a` to end `b`.
fn upwash_4pi(a: &End, b: &End) -> f64 {
    let d = a.dx * b.dy - a.dy * b.dx;
    let bound = if d.abs() < 1e-14 {
        0.0
    } else {
        ((a.dx - b.dx) * (a.along - b.along) + (a.dy - b.dy) * (a.across - b.across)) / d
    };
    bound - a.trail + b.trail
}

/// Upward velocity, per unit circulation (1/m), at `(x, y)` of a horseshoe whose bound leg runs from `left` to
/// `right` with both legs trailing straight aft.
///
/// `w = (1/4 pi) { [dx0 (dx1/r1 - dx2/r2) + dy0 (dy1/r1 - dy2/r2)]/D - (1 + dx1/r1)/dy1 + (1 + dx2/r2)/dy2 }`.
/// **Source:** law of Biot and Savart, integrated here (Derived here).
/// **Valid for:** points off the legs; a point on a leg gives an infinite value, never used by the lattice.
pub fn horseshoe_upwash(x_m: f64, y_m: f64, left: (f64, f64), right: (f64, f64)) -> f64 {
    upwash_4pi(&End::seen(x_m, y_m, left), &End::seen(x_m, y_m, right)) / (4.0 * PI)
}

/// A dense square system, factored once.
#[derive(Debug, Clone, PartialEq, Default)]
struct Factored {
    n: usize,
    lu: Vec<f64>,
    row: Vec<usize>,
}

impl Factored {
    /// LU factors with row exchange. A singular pivot is replaced by a tiny one: the answer is then useless but finite.
    fn new(n: usize, mut a: Vec<f64>) -> Self {
        let mut row: Vec<usize> = (0..n).collect();
        for k in 0..n {
            let mut best = k;
            for i in k + 1..n {
                if a[i * n + k].abs() > a[best * n + k].abs() {
                    best = i;
                }
            }
            if best != k {
                for j in 0..n {
                    a.swap(k * n + j, best * n + j);
                }
                row.swap(k, best);
            }
            if a[k * n + k].abs() < 1e-14 {
                a[k * n + k] = 1e-14;
            }
            let inverse = 1.0 / a[k * n + k];
            let (above, below) = a.split_at_mut((k + 1) * n);
            let pivot = &above[k * n + k + 1..(k + 1) * n];
            for line in below.chunks_exact_mut(n) {
                let f = line[k] * inverse;
                line[k] = f;
                for (v, p) in line[k + 1..].iter_mut().zip(pivot) {
                    *v -= f * p;
                }
            }
        }
        Self { n, lu: a, row }
    }

    /// Of several right sides abreast.
    fn solve<const N: usize>(&self, right: impl Fn(usize) -> [f64; N]) -> Vec<[f64; N]> {
        let n = self.n;
        let mut x: Vec<[f64; N]> = self.row.iter().map(|&r| right(r)).collect();
        let sum = |line: &[f64], x: &[[f64; N]]| {
            let mut sum = [0.0; N];
            for (l, v) in line.iter().zip(x) {
                sum.iter_mut().zip(v).for_each(|(s, v)| *s += l * v);
            }
            sum
        };
        for i in 0..n {
            let below = sum(&self.lu[i * n..i * n + i], &x);
            x[i].iter_mut().zip(below).for_each(|(x, s)| *x -= s);
        }
        for i in (0..n).rev() {
            let above = sum(&self.lu[i * n + i + 1..(i + 1) * n], &x[i + 1..]);
            x[i].iter_mut().zip(above).for_each(|(x, s)| *x = (*x - s) / self.lu[i * n + i]);
        }
        x
    }
}

/// Strips, geometry and factored influence of one half wing and its image.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Lattice {
    pub half_span_m: f64,
    pub area_m2: f64,
    pub dy_m: f64,
    /// Strip mid, chord there, and quarter-chord line there, m; root to tip.
    pub y_m: Vec<f64>,
    pub chord_m: Vec<f64>,
    pub x_quarter_m: Vec<f64>,
    symmetric: Factored,
    antisymmetric: Factored,
}

impl Lattice {
    /// Build and factor the lattice. `chord` and `quarter` give chord and quarter-chord line, m, at y, m.
    ///
    /// **Source:** method of airloads handbooks (a single row with the three-quarter-chord condition); tip inset and
    /// accuracy checked against published and independent solutions in `tests/published/airloads.rs`.
    /// **Valid for:** flat wings of moderate sweep, aspect ratio above about 4, attached flow, low speed.
    /// Safe side: slope and centroid of a single row are 0.1 to 0.5 % low against many rows.
    pub fn new(
        half_span_m: f64,
        area_m2: f64,
        strips: usize,
        inset: f64,
        section_slope_per_rad: f64,
        shape: (impl Fn(f64) -> f64, impl Fn(f64) -> f64),
    ) -> Self {
        let (chord, quarter) = shape;
        let dy_m = half_span_m / (strips as f64 + inset);
        let ends: Vec<(f64, f64)> = (0..=strips)
            .map(|k| {
                let y = k as f64 * dy_m;
                (quarter(y), y)
            })
            .collect();
        let y_m: Vec<f64> = (0..strips).map(|k| (k as f64 + 0.5) * dy_m).collect();
        let chord_m: Vec<f64> = y_m.iter().map(|&y| chord(y)).collect();
        let x_quarter_m: Vec<f64> = ends.windows(2).map(|e| 0.5 * (e[0].0 + e[1].0)).collect();
        let behind = section_slope_per_rad / (4.0 * PI);
        let mut both = vec![0.0; strips * strips];
        let mut differ = vec![0.0; strips * strips];
        let mut near = vec![End::default(); strips + 1];
        let mut image = vec![End::default(); strips + 1];
        for i in 0..strips {
            let (x, y) = (x_quarter_m[i] + behind * chord_m[i], y_m[i]);
            for (k, &(xe, ye)) in ends.iter().enumerate() {
                near[k] = End::seen(x, y, (xe, ye));
                image[k] = End::seen(x, y, (xe, -ye));
            }
            for j in 0..strips {
                let right = upwash_4pi(&near[j], &near[j + 1]);
                let left = upwash_4pi(&image[j + 1], &image[j]);
                both[i * strips + j] = right + left;
                differ[i * strips + j] = right - left;
            }
        }
        Self {
            half_span_m,
            area_m2,
            dy_m,
            y_m,
            chord_m,
            x_quarter_m,
            symmetric: Factored::new(strips, both),
            antisymmetric: Factored::new(strips, differ),
        }
    }

    /// `cl c`, m, for the local angles of attack from zero lift, rad: both halves alike.
    pub fn symmetric(&self, alpha_rad: &[f64]) -> Vec<f64> {
        self.symmetric_each(alpha_rad.as_chunks::<1>().0).into_flattened()
    }

    /// The same of several incidences abreast.
    pub fn symmetric_each<const N: usize>(&self, alpha_rad: &[[f64; N]]) -> Vec<[f64; N]> {
        solve(&self.symmetric, alpha_rad)
    }

    /// `cl c`, m, of the right half when the left half meets the opposite angles.
    pub fn antisymmetric(&self, alpha_rad: &[f64]) -> Vec<f64> {
        solve(&self.antisymmetric, alpha_rad.as_chunks::<1>().0).into_flattened()
    }

    /// Lift coefficient of the whole wing: `CL = (2/S) sum(cl c dy)`.
    pub fn lift_coefficient(&self, cl_c_m: &[f64]) -> f64 {
        2.0 * self.dy_m * cl_c_m.iter().sum::<f64>() / self.area_m2
    }

    /// The same of several loads abreast.
    pub fn lift_coefficients<const N: usize>(&self, cl_c_m: &[[f64; N]]) -> [f64; N] {
        let mut sum = [0.0; N];
        cl_c_m.iter().for_each(|l| sum.iter_mut().zip(l).for_each(|(s, l)| *s += l));
        sum.map(|s| 2.0 * self.dy_m * s / self.area_m2)
    }

    /// Root moment of one half over `q S b/2`; of an antisymmetric load this is the rolling-moment coefficient.
    pub fn half_moment(&self, cl_c_m: &[f64]) -> f64 {
        let sum: f64 = cl_c_m.iter().zip(&self.y_m).map(|(l, y)| l * y).sum();
        sum * self.dy_m / (self.area_m2 * self.half_span_m)
    }

    /// Pitching moment of the lift about `x_m` over `q S mac`, nose-up positive.
    pub fn pitching(&self, cl_c_m: &[f64], x_m: f64, mac_m: f64) -> f64 {
        let sum: f64 = cl_c_m.iter().zip(&self.x_quarter_m).map(|(l, x)| l * (x_m - x)).sum();
        2.0 * self.dy_m * sum / (self.area_m2 * mac_m)
    }

    /// Downwash angle in the far wake at the strip mids, rad, of each load in turn.
    ///
    /// `w(y) = (1/2 pi) sum over both halves Gamma (1/(y - y2) - 1/(y - y1))`, taken positive down.
    /// **Source:** Derived here (Trefftz plane).
    pub fn wake<const M: usize>(&self, loads: [&[f64]; M]) -> [Vec<f64>; M] {
        let n = self.y_m.len();
        let mut out: [Vec<f64>; M] = std::array::from_fn(|_| vec![0.0; n]);
        // Mids and edges are whole and half multiples of the width: one table of reciprocals serves all pairs.
        let inverse: Vec<f64> = (0..=2 * n).map(|k| 1.0 / (k as f64 + 0.5)).collect();
        let signed = |i: usize, j: usize| if i >= j { inverse[i - j] } else { -inverse[j - i - 1] };
        let scale = 1.0 / (4.0 * PI * self.dy_m);
        for i in 0..n {
            let mut sums = [0.0; M];
            for j in 0..n {
                let near = signed(i, j + 1) - signed(i, j);
                let image = inverse[i + j] - inverse[i + j + 1];
                let factor = -(near + image) * scale;
                for (s, l) in sums.iter_mut().zip(&loads) {
                    *s += factor * l[j];
                }
            }
            for (o, s) in out.iter_mut().zip(sums) {
                o[i] = s;
            }
        }
        out
    }

    /// Induced drag of one load in the far-wake downwash of another, over `q S`: `(1/S) sum over one half of cl c w dy`
    /// (two halves, and half the far-wake downwash at the wing).
    pub fn induced_by(&self, cl_c_m: &[f64], wake_rad: &[f64]) -> f64 {
        let sum: f64 = cl_c_m.iter().zip(wake_rad).map(|(l, w)| l * w).sum();
        sum * self.dy_m / self.area_m2
    }

    /// Excess of induced drag over the ellipse: `delta = CDi pi AR / CL^2 - 1`.
    pub fn delta(&self, cl_c_m: &[f64]) -> f64 {
        let [wake] = self.wake([cl_c_m]);
        let cl = self.lift_coefficient(cl_c_m);
        let aspect = 4.0 * self.half_span_m * self.half_span_m / self.area_m2;
        self.induced_by(cl_c_m, &wake) * PI * aspect / (cl * cl) - 1.0
    }
}

/// `sum A Gamma = -V alpha`, returned as `cl c = 2 Gamma / V`.
fn solve<const N: usize>(matrix: &Factored, alpha_rad: &[[f64; N]]) -> Vec<[f64; N]> {
    matrix.solve(|i| alpha_rad[i].map(|a| -4.0 * TAU * a))
}
