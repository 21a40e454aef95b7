//! The front of the designs that keep to limits on build and cost as well: point after point, the lightest within a repair
//! limit that falls below the last point's. Each point is proven, so the list is exact; its cost is one search a point.

use crate::search::front::{Front, Point, lightest_within, sweep};
use crate::search::{Design, Limits, Status};

/// The front within limits, given a way to find the lightest within them, and whether it is whole. `free` is the front
/// with the limits on build and cost lifted. The list is cut short where the lightest is not proven.
pub(crate) fn front(
    free: &[Point],
    limits: &Limits,
    mut lightest: impl FnMut(&Limits) -> (Option<Design>, Status),
) -> (Front, bool) {
    let within = |p: &&Point| limits.repair.is_none_or(|l| u64::from(p.repair) <= l);
    if limits.build.is_none() && limits.cost.is_none() {
        return (free.iter().filter(within).copied().collect(), true);
    }
    let mut out = Front::new();
    let mut left = *limits;
    let whole = loop {
        // Nothing is there that is not there without the limits.
        if lightest_within(free, left.repair).is_none() {
            break true;
        }
        match lightest(&left) {
            (Some(d), status) => {
                out.push(Point { mass: d.sum.mass, repair: d.sum.repair });
                if status != Status::Proven {
                    break false;
                }
                match d.sum.repair.checked_sub(1) {
                    Some(less) => left.repair = Some(u64::from(less)),
                    None => break true,
                }
            }
            (None, status) => break status == Status::Infeasible,
        }
    };
    out.sort_unstable_by_key(|p| (p.repair, p.mass));
    (sweep(out), whole)
}
