//! Two-column coordinate text to a closed loop of points at unit chord.

/// Why a text is no section.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NotASection(pub String);

/// Read a coordinate text: a title line or none, then x y pairs. Two orders are known: one loop from the
/// trailing edge over the upper side and back, or a count line and both surfaces from nose to tail.
/// The result runs trailing edge, upper, nose, lower, trailing edge.
pub fn read(text: &str) -> Result<Vec<(f64, f64)>, NotASection> {
    let mut pairs: Vec<(f64, f64)> = Vec::new();
    for line in text.lines() {
        let numbers: Vec<f64> =
            line.split([' ', '\t', ',']).filter(|w| !w.is_empty()).map_while(|w| w.parse().ok()).collect();
        if let [x, y] = numbers.as_slice()
            && x.is_finite()
            && y.is_finite()
        {
            pairs.push((*x, *y));
        }
    }
    if pairs.len() > 2000 {
        return Err(NotASection(format!("{} points are too many; 2000 at most", pairs.len())));
    }
    let counted = pairs.first().is_some_and(|p| p.0 > 1.5 && p.1 > 1.5);
    let points = if counted { two_sided(&pairs)? } else { pairs };
    if points.len() < 10 {
        return Err(NotASection(format!("{} points are too few; 10 at least", points.len())));
    }
    normal(points)
}

fn two_sided(pairs: &[(f64, f64)]) -> Result<Vec<(f64, f64)>, NotASection> {
    let n = pairs[0].0 as usize;
    let (Some(first), Some(second)) = (pairs.get(1..=n), pairs.get(n.saturating_add(1)..)) else {
        return Err(NotASection(format!("the count line says {n} points, the file has fewer")));
    };
    let mut points: Vec<_> = first.iter().rev().copied().collect();
    points.extend_from_slice(second);
    Ok(points)
}

/// Unit chord, upper side first, the doubled nose point once.
fn normal(mut points: Vec<(f64, f64)>) -> Result<Vec<(f64, f64)>, NotASection> {
    let (lo, hi) = points.iter().fold((f64::MAX, f64::MIN), |(a, b), p| (a.min(p.0), b.max(p.0)));
    if hi - lo < 1e-6 {
        return Err(NotASection("all points have the same x".to_owned()));
    }
    for p in &mut points {
        *p = ((p.0 - lo) / (hi - lo), p.1 / (hi - lo));
    }
    // Some files run from the nose round and back to the nose: begin at the trailing edge instead.
    if points[0].0 < 0.5 {
        let tail = points.iter().enumerate().max_by(|a, b| a.1.0.total_cmp(&b.1.0)).map_or(0, |(i, _)| i);
        points.rotate_left(tail);
    }
    points.dedup_by(|a, b| (a.0 - b.0).abs() < 1e-9 && (a.1 - b.1).abs() < 1e-9);
    let nose = points.iter().enumerate().min_by(|a, b| a.1.0.total_cmp(&b.1.0)).map_or(0, |(i, _)| i);
    let mean = |s: &[(f64, f64)]| s.iter().map(|p| p.1).sum::<f64>() / s.len().max(1) as f64;
    if mean(&points[..nose]) < mean(&points[nose..]) {
        points.reverse();
    }
    let thick =
        points.iter().map(|p| p.1).fold(f64::MIN, f64::max) - points.iter().map(|p| p.1).fold(f64::MAX, f64::min);
    if !(0.02..=0.5).contains(&thick) {
        return Err(NotASection(format!("the section is {:.1} % thick; 2 to 50 % is expected", thick * 100.0)));
    }
    Ok(points)
}
