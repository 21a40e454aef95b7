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

/// Speed to fly through air that sinks, m/s: the least height lost per distance, `(sink + air)/V` over points
/// (speed, sink) that rise in speed, by the parabola through the least and its neighbours.
///
/// **Source:** tangent to the polar from the air's sink, any text on soaring. **Valid for:** still wind, points close
/// enough for a parabola; at an end of the points, that end.
pub fn speed_to_fly_m_s(points: &[(f64, f64)], air_sinks_m_s: f64) -> f64 {
    let lost = |p: &(f64, f64)| (p.1 + air_sinks_m_s) / p.0.max(1e-9);
    let Some(i) = (0..points.len()).min_by(|a, b| lost(&points[*a]).total_cmp(&lost(&points[*b]))) else { return 0.0 };
    if i == 0 || i + 1 == points.len() {
        return points[i].0;
    }
    let ((x0, x1, x2), [y0, y1, y2]) =
        ((points[i - 1].0, points[i].0, points[i + 1].0), [i - 1, i, i + 1].map(|k| lost(&points[k])));
    let (a, b) = ((y1 - y0) / (x1 - x0).max(1e-9), (y2 - y1) / (x2 - x1).max(1e-9));
    let bend = (b - a) / (x2 - x0).max(1e-9);
    if bend > 0.0 { (0.5 * (x0 + x1) - a / (2.0 * bend)).clamp(x0, x2) } else { x1 }
}

/// Fastest speed at which no more than a given sink is lost, m/s: between points (speed, sink) by a straight line. None
/// where every point sinks more; the last point where that one still sinks less.
///
/// **Source:** reading of the polar. **Valid for:** points that rise in speed.
pub fn fastest_at_sink_m_s(points: &[(f64, f64)], sink_m_s: f64) -> Option<f64> {
    let i = points.iter().rposition(|p| p.1 <= sink_m_s)?;
    let (a, Some(b)) = (points[i], points.get(i + 1)) else { return Some(points[i].0) };
    Some(a.0 + (b.0 - a.0) * (sink_m_s - a.1) / (b.1 - a.1).max(1e-12))
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
