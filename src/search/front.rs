//! A front of mass against repair hours, and the sum of two fronts.

/// What a design weighs and how many repair hours it expects, in ticks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Point {
    pub mass: u32,
    pub repair: u32,
}

/// Least mass with no repair limit comes last: repair strictly rises, mass strictly falls.
pub type Front = Vec<Point>;

/// The front of points in order of repair, then mass.
pub(crate) fn sweep(points: impl IntoIterator<Item = Point>) -> Front {
    let mut front: Front = Vec::new();
    for p in points {
        if front.last().is_none_or(|l| p.mass < l.mass) {
            front.push(p);
        }
    }
    front
}

/// The front of two fronts together.
pub fn union(a: &[Point], b: &[Point]) -> Front {
    let (mut i, mut j) = (0, 0);
    sweep(std::iter::from_fn(|| {
        let next = match (a.get(i), b.get(j)) {
            (Some(x), Some(y)) if (x.repair, x.mass) <= (y.repair, y.mass) => Some((x, true)),
            (Some(x), None) => Some((x, true)),
            (_, Some(y)) => Some((y, false)),
            (None, None) => None,
        }?;
        if next.1 {
            i += 1;
        } else {
            j += 1;
        }
        Some(*next.0)
    }))
}

/// The lightest point of a front within a limit on repair.
pub fn lightest_within(front: &[Point], repair: Option<u64>) -> Option<Point> {
    let within = repair.map_or(front.len(), |h| front.partition_point(|p| u64::from(p.repair) <= h));
    within.checked_sub(1).map(|i| front[i])
}
