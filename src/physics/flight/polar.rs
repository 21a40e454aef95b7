//! The polar: closed forms, and the numerical optimum of any drag function.

/// CL, glide ratio of best glide and CL of least sink of a parabolic polar `CD = CD0 + CL^2/K`, `K = pi e AR`.
///
/// `CL = sqrt(CD0 K)`, `E = sqrt(K/CD0)/2`, least sink at `sqrt(3 CD0 K)`.
/// **Source:** any textbook of performance; Derived here. **Valid for:** small glide angles.
pub fn parabolic(cd0: f64, k: f64) -> (f64, f64, f64) {
    let cd0 = cd0.max(1e-12);
    let k = k.max(0.0);
    ((cd0 * k).sqrt(), 0.5 * (k / cd0).sqrt(), (3.0 * cd0 * k).sqrt())
}

/// Least value of `f` between `low` and `high`: a table of 14 speeds, then golden section around its least.
///
/// **Source:** J. Kiefer (1953), golden section (from memory). **Valid for:** functions with one dip at the table's
/// resolution. Returns (x, f(x)).
pub fn least(low: f64, high: f64, f: impl Fn(f64) -> f64) -> (f64, f64) {
    const POINTS: u32 = 14;
    let step = (high - low) / f64::from(POINTS - 1);
    let mut best = (low, f(low));
    for i in 1..POINTS {
        let x = low + step * f64::from(i);
        let v = f(x);
        if v < best.1 {
            best = (x, v);
        }
    }
    let ratio = 0.618_033_988_75;
    let (mut a, mut b) = ((best.0 - step).max(low), (best.0 + step).min(high));
    let (mut x1, mut x2) = (b - ratio * (b - a), a + ratio * (b - a));
    let (mut f1, mut f2) = (f(x1), f(x2));
    for _ in 0..12 {
        if f1 < f2 {
            (b, x2, f2) = (x2, x1, f1);
            x1 = b - ratio * (b - a);
            f1 = f(x1);
        } else {
            (a, x1, f1) = (x1, x2, f2);
            x2 = a + ratio * (b - a);
            f2 = f(x2);
        }
    }
    for candidate in [(x1, f1), (x2, f2)] {
        if candidate.1 < best.1 {
            best = candidate;
        }
    }
    best
}
