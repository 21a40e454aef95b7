//! From a point of a front back to a design that reaches it.
//!
//! One fixed order between equals: fewest changes along the strip, then from the tip inwards stay before change, then the
//! lowest construction.

use crate::search::chain::Chain;
use crate::search::front::Point;
use crate::search::sparse;

/// The construction in every bay of a strip that adds up to a point of its front; none when no design does.
pub(crate) fn strip(chain: &Chain, front: &[Point], point: Point) -> Option<Vec<usize>> {
    let labels = sparse::all(chain, point, slope(front, point));
    let kk = chain.kinds.len();
    let has = |b: usize, u: usize, k: usize, p: Point| {
        let list = &labels.at[b][chain.state(u, k)];
        list.binary_search_by_key(&p.repair, |l| l.repair).is_ok_and(|i| list[i] == p)
    };
    let by_index = {
        let mut order: Vec<usize> = (0..kk).collect();
        order.sort_by_key(|&k| chain.kinds[k]);
        order
    };
    let mut b = chain.bays - 1;
    let mut at = point;
    let (mut u, mut k) =
        (0..chain.layers).flat_map(|u| by_index.iter().map(move |&k| (u, k))).find(|&(u, k)| has(b, u, k, at))?;
    let mut choice = vec![chain.kinds[k]; chain.bays];
    loop {
        let stayed = chain.cell(b, k).and_then(|s| less(at, s.mass, s.repair));
        if let Some(p) = stayed.filter(|&p| b > 0 && has(b - 1, u, k, p)) {
            at = p;
            b -= 1;
            choice[b] = chain.kinds[k];
            continue;
        }
        let j = chain.began(b, k)?;
        choice[j..=b].fill(chain.kinds[k]);
        let s = chain.start(j, k)?;
        let arrived = less(at, s.mass, s.repair)?;
        if j == 0 {
            return (arrived == Point { mass: 0, repair: 0 }).then_some(choice);
        }
        let before = u.checked_sub(1)?;
        (at, k) = by_index.iter().find_map(|&from| {
            let joint = chain.joint(j, chain.class_of[from], chain.class_of[k])?;
            let p = less(arrived, joint.mass, joint.repair)?;
            has(j - 1, before, from, p).then_some((p, from))
        })?;
        (b, u) = (j - 1, before);
        choice[b] = chain.kinds[k];
    }
}

fn less(p: Point, mass: u32, repair: u32) -> Option<Point> {
    Some(Point { mass: p.mass.checked_sub(mass)?, repair: p.repair.checked_sub(repair)? })
}

/// A weight of mass and of repair under which the point comes close to the least of its front: the slope of the edge of
/// the convex hull that lies under it. It keeps the labels few; any weights would give the same design.
fn slope(front: &[Point], point: Point) -> Point {
    let mut hull: Vec<Point> = Vec::new();
    for p in front {
        let turns = |a: Point, b: Point| {
            let (dm, dh) = (i64::from(a.mass) - i64::from(b.mass), i64::from(b.repair) - i64::from(a.repair));
            let (em, eh) = (i64::from(b.mass) - i64::from(p.mass), i64::from(p.repair) - i64::from(b.repair));
            dm * eh > em * dh
        };
        while let [.., a, b] = hull[..] {
            if turns(a, b) {
                break;
            }
            hull.pop();
        }
        hull.push(*p);
    }
    let edge = hull.windows(2).find(|w| w[0].repair <= point.repair && point.repair <= w[1].repair);
    edge.map_or(Point { mass: 1, repair: 0 }, |w| Point {
        mass: w[1].repair - w[0].repair,
        repair: w[0].mass - w[1].mass,
    })
}
