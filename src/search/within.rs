//! The front of the designs that keep to limits on build and cost as well: point after point, the lightest within a repair
//! limit that falls below the last point's. Each point is proven, so the list is exact; its cost is one search a point.

use crate::search::front::{Front, Point, lightest_within, sweep};
use crate::search::{Design, Limits, SEARCH_LABELS, SEARCHES, Status};

/// The front within limits, and whether it is whole. `free` is the front with the limits on build and cost lifted.
/// `lightest` finds the lightest within limits with at most so many labels, and says how many it took. The list is cut
/// short where the lightest is not proven, and where the whole of it takes more labels than a few searches may.
pub(crate) fn front(
    free: &[Point],
    limits: &Limits,
    ceiling: usize,
    mut lightest: impl FnMut(&Limits, usize) -> (Option<Design>, Status, usize),
) -> (Front, bool) {
    let within = |p: &&Point| limits.repair.is_none_or(|l| u64::from(p.repair) <= l);
    if !limits.beyond_repair() {
        return (free.iter().filter(within).copied().collect(), true);
    }
    let mut out = Front::new();
    let mut left = *limits;
    let mut labels = ceiling.saturating_mul(SEARCHES);
    let whole = loop {
        // Nothing is there that is not there without the limits.
        if lightest_within(free, left.repair).is_none() {
            break true;
        }
        let (found, status, made) = lightest(&left, ceiling.min(labels));
        labels = labels.saturating_sub(made + SEARCH_LABELS);
        match found {
            Some(d) => {
                out.push(Point { mass: d.sum.mass, repair: d.sum.repair });
                if status != Status::Proven {
                    break false;
                }
                match d.sum.repair.checked_sub(1) {
                    Some(less) => left.repair = Some(u64::from(less)),
                    None => break true,
                }
            }
            None => break status == Status::Infeasible,
        }
        if labels == 0 {
            break false;
        }
    };
    out.sort_unstable_by_key(|p| (p.repair, p.mass));
    (sweep(out), whole)
}
