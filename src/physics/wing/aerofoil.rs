//! Section shapes at unit chord: thickness, mean line, surfaces, and thin-aerofoil constants.
//! **Source:** the NACA four- and five-digit families as given in Report 460 and Abbott and von Doenhoff
//! (polynomial read second-hand, mean lines from memory and checked on their design lift).

use std::f64::consts::PI;
use std::sync::LazyLock;

use crate::physics::design::Aerofoil;

/// Points a side; 81 keeps the area within 0.03 %.
pub const SIDE: usize = 81;

/// Both surfaces, leading edge to trailing edge, unit chord.
#[derive(Debug, Clone, PartialEq)]
pub struct Contour {
    pub upper: [(f64, f64); SIDE],
    pub lower: [(f64, f64); SIDE],
}

/// Half thickness of the family at x, fraction of chord. `last` is 0.1015 (open trailing edge) or 0.1036 (closed).
pub fn half_thickness(thickness: f64, x: f64, last: f64) -> f64 {
    let x = x.clamp(0.0, 1.0);
    5.0 * thickness * (0.2969 * x.sqrt() + x * (-0.1260 + x * (-0.3516 + x * (0.2843 - last * x))))
}

/// Nose radius over chord: (5 x 0.2969 t)^2 / 2.
pub fn nose_radius(thickness: f64) -> f64 {
    (5.0 * 0.2969 * thickness).powi(2) / 2.0
}

/// m and k1 of the plain five-digit mean lines.
fn five_digit(line: u16) -> (f64, f64) {
    match line {
        210 => (0.0580, 361.4),
        220 => (0.1260, 51.64),
        240 => (0.2900, 6.643),
        250 => (0.3910, 3.230),
        _ => (0.2025, 15.957),
    }
}

/// Height and slope of the mean line at x.
pub fn mean_line(a: &Aerofoil, x: f64) -> (f64, f64) {
    match a {
        Aerofoil::FourDigit { camber, camber_place, .. } => {
            let (m, p) = (*camber, *camber_place);
            if m == 0.0 || p <= 0.0 || p >= 1.0 {
                (0.0, 0.0)
            } else if x < p {
                (m / (p * p) * (2.0 * p * x - x * x), 2.0 * m / (p * p) * (p - x))
            } else {
                let k = m / ((1.0 - p) * (1.0 - p));
                (k * (1.0 - 2.0 * p + 2.0 * p * x - x * x), 2.0 * k * (p - x))
            }
        }
        Aerofoil::FiveDigit { line, .. } => {
            let (m, k) = five_digit(*line);
            if x < m {
                let y = k / 6.0 * (x * x * x - 3.0 * m * x * x + m * m * (3.0 - m) * x);
                (y, k / 6.0 * (3.0 * x * x - 6.0 * m * x + m * m * (3.0 - m)))
            } else {
                (k * m * m * m / 6.0 * (1.0 - x), -k * m * m * m / 6.0)
            }
        }
        Aerofoil::Points { xy, .. } => {
            let mid = |x: f64| {
                let (u, l) = surfaces(xy);
                f64::midpoint(interpolate(&u, x), interpolate(&l, x))
            };
            let (a, b) = ((x - 0.01).max(0.0), (x + 0.01).min(1.0));
            (mid(x), (mid(b) - mid(a)) / (b - a))
        }
    }
}

/// Greatest thickness as the shape states it (points: measured).
pub fn thickness(a: &Aerofoil) -> f64 {
    match a {
        Aerofoil::FourDigit { thickness, .. } | Aerofoil::FiveDigit { thickness, .. } => *thickness,
        Aerofoil::Points { xy, .. } => {
            let (u, l) = surfaces(xy);
            (1..100).map(|i| f64::from(i) / 100.0).map(|x| interpolate(&u, x) - interpolate(&l, x)).fold(0.0, f64::max)
        }
    }
}

/// Split a loop of points at its least x: upper and lower, each from nose to tail.
fn surfaces(xy: &[(f64, f64)]) -> (Vec<(f64, f64)>, Vec<(f64, f64)>) {
    let nose = xy.iter().enumerate().min_by(|a, b| a.1.0.total_cmp(&b.1.0)).map_or(0, |(i, _)| i);
    let mut first: Vec<_> = xy.get(..=nose).unwrap_or(&[]).to_vec();
    first.reverse();
    let second = xy.get(nose..).unwrap_or(&[]).to_vec();
    (first, second)
}

fn interpolate(side: &[(f64, f64)], x: f64) -> f64 {
    let i = side.partition_point(|p| p.0 < x);
    match (i.checked_sub(1).and_then(|j| side.get(j)), side.get(i)) {
        (Some(a), Some(b)) if b.0 > a.0 => a.1 + (b.1 - a.1) * (x - a.0) / (b.0 - a.0),
        (_, Some(b)) => b.1,
        (Some(a), None) => a.1,
        (None, None) => 0.0,
    }
}

/// Chord fractions of the points of a contour, cosine-spaced.
static SPACING: LazyLock<[f64; SIDE]> =
    LazyLock::new(|| std::array::from_fn(|i| (1.0 - (PI * i as f64 / (SIDE - 1) as f64).cos()) / 2.0));

/// The contour, cosine-spaced from the nose, closed trailing edge for the families.
pub fn contour(a: &Aerofoil) -> Contour {
    let mut c = Contour { upper: [(0.0, 0.0); SIDE], lower: [(0.0, 0.0); SIDE] };
    let sides = if let Aerofoil::Points { xy, .. } = a { Some(surfaces(xy)) } else { None };
    let thick = thickness(a);
    for (i, &x) in SPACING.iter().enumerate() {
        if let Some((u, l)) = &sides {
            c.upper[i] = (x, interpolate(u, x));
            c.lower[i] = (x, interpolate(l, x));
            continue;
        }
        let (yc, slope) = mean_line(a, x);
        let yt = half_thickness(thick, x, 0.1036);
        let r = 1.0 / (1.0 + slope * slope).sqrt();
        c.upper[i] = (x - yt * slope * r, yc + yt * r);
        c.lower[i] = (x + yt * slope * r, yc - yt * r);
    }
    c
}

/// Area inside the contour, fraction of chord^2, by Green's theorem.
pub fn area(c: &Contour) -> f64 {
    let strip = |s: &[(f64, f64)]| s.windows(2).map(|w| (w[1].0 - w[0].0) * (w[0].1 + w[1].1) / 2.0).sum::<f64>();
    strip(&c.upper) - strip(&c.lower)
}

/// Length of a surface, fraction of chord.
pub fn arc(side: &[(f64, f64)]) -> f64 {
    side.windows(2).map(|w| (w[1].0 - w[0].0).hypot(w[1].1 - w[0].1)).sum()
}

/// Zero-lift angle (rad) and moment about the quarter chord of thin-aerofoil theory.
/// alpha0 = -(1/pi) int y' (cos t - 1) dt; cm = (pi/4)(A2 - A1), A_n = (2/pi) int y' cos(n t) dt.
/// **Source:** thin-aerofoil theory, any text. **Valid for:** small camber, attached flow.
pub fn thin_aerofoil(a: &Aerofoil) -> (f64, f64) {
    let (mut alpha, mut a1, mut a2) = (0.0, 0.0, 0.0);
    for &(one, two) in STEPS.iter() {
        let slope = mean_line(a, (1.0 - one) / 2.0).1;
        alpha += slope * (1.0 - one);
        a1 += slope * one;
        a2 += slope * two;
    }
    let n = STEPS.len() as f64;
    (alpha / n, PI / 4.0 * 2.0 / n * (a2 - a1))
}

/// Cosines of t and of 2t at the middle of even steps of t from 0 to pi.
static STEPS: LazyLock<[(f64, f64); 240]> = LazyLock::new(|| {
    std::array::from_fn(|i| {
        let t = PI / 240.0 * (i as f64 + 0.5);
        (t.cos(), (2.0 * t).cos())
    })
});

/// Lift and quarter-chord moment per radian of a plain flap of chord share E:
/// cos t = 2E - 1; dcl = 2 (pi - t + sin t), dcm = -(1/2) sin t (1 - cos t).
/// **Source:** thin-aerofoil theory, from memory, confirmed by computation.
pub fn flap(chord_share: f64) -> (f64, f64) {
    let t = (2.0 * chord_share.clamp(0.0, 1.0) - 1.0).acos();
    (2.0 * (PI - t + t.sin()), -0.5 * t.sin() * (1.0 - t.cos()))
}
