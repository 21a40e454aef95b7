//! What holds the joined wing or a half of it on the ground: its reactions, and what they make between two bay edges.

use crate::physics::loads::beam::{Sums, resolve};
use crate::physics::loads::case::{Case, Support};
use crate::physics::loads::internal::UnitLoads;
use crate::physics::loads::series::Peak;

/// Add the supports to the loads of a case.
pub(super) fn support(row: &mut [f64], held: &[Reaction], k: &UnitLoads) {
    let n = k.y_m.len();
    for &(y, x, up, couple) in held {
        for (i, &edge) in k.y_m.iter().enumerate() {
            let mut s = Sums::default();
            s.point(edge, up, y, x);
            if y > edge {
                s.couple = couple;
            }
            let (m, t) = resolve(&s, k.spar_x_m[i], k.turn[i].0, k.turn[i].1);
            row[i] += s.force;
            row[n + i] += m;
            row[2 * n + i] += t;
        }
    }
}

/// What each support makes of its bay: beside it `V + w d`, with and without the support, and over it `M + V d + w d^2/2` from the outer
/// edge, along the spar, w the even load of the bay that is left when its supports are taken from its shears.
/// At a tip the edges see it.
pub(super) fn peaks(c: &Case, row: &[f64], held: &[Reaction], k: &UnitLoads) -> Vec<Peak> {
    if matches!(c.support, Support::Tip { .. }) {
        return Vec::new();
    }
    let n = k.y_m.len();
    let of = |&(y, _, up, _): &Reaction| {
        let bay = k.y_m.windows(2).position(|e| e[0] < y && y <= e[1])?;
        let (inner, outer) = (k.y_m[bay], k.y_m[bay + 1]);
        let there = || held.iter().filter(|h| inner < h.0 && h.0 <= outer);
        let beyond = || there().filter(|h| h.0 > y);
        let borne: f64 = there().map(|h| h.2).sum();
        let even = (row[bay] - row[bay + 1] - borne) / (outer - inner);
        let d = outer - y;
        let outboard = row[bay + 1] + even * d + beyond().map(|h| h.2).sum::<f64>();
        let arm = row[bay + 1] * d + 0.5 * even * d * d + beyond().map(|h| h.2 * (h.0 - y)).sum::<f64>();
        Some(Peak {
            bay,
            shear_n: Peak::or(outboard, outboard + up),
            moment_nm: row[n + bay + 1] + arm / k.turn[bay].1,
            torque_nm: Peak::or(row[2 * n + bay], row[2 * n + bay + 1]),
            borne_n: up,
        })
    };
    held.iter().filter_map(of).collect()
}

/// A support: place along the span and aft, m, force up, N, nose-up couple, N m.
pub(super) type Reaction = (f64, f64, f64, f64);

/// Reactions of the supports: (y, x, force up, nose-up couple). Hands and pads take what pitching is left over.
///
/// A wing borne at its tips tends to turn about the line through them, with the distance of its centre of mass from that line, and twice
/// with what a half is left with. The ground holds nothing of it; hands all, up to what they can. What they cannot the middle holds, where
/// the wing stands on its nose or tail or another person has it: outboard of there nothing of that is felt but that the tips may then bear
/// less, which is left out, on the safe side.
pub(super) fn reactions(c: &Case, root: &Sums, k: &UnitLoads) -> Vec<Reaction> {
    let x_at = |y: f64| {
        let j = k.y_m.iter().rposition(|v| *v <= y).unwrap_or(0).min(k.y_m.len() - 2);
        let w = (k.y_m[j + 1] - k.y_m[j]).max(1e-9);
        k.spar_x_m[j] + (k.spar_x_m[j + 1] - k.spar_x_m[j]) * (y - k.y_m[j]) / w
    };
    let mut held = match c.support {
        Support::Root => return Vec::new(),
        Support::Outboard(y) | Support::Tip { y_m: y, .. } => vec![(y, x_at(y), -root.force, 0.0)],
        Support::Bars(y1, y2) => {
            let outer = if y2 > y1 { (-root.arm + root.force * y1) / (y2 - y1) } else { 0.0 };
            vec![(y1, x_at(y1), -root.force - outer, 0.0), (y2, x_at(y2), outer, 0.0)]
        }
    };
    let mut s = *root;
    for &(y, x, up, _) in &held {
        s.point(0.0, up, y, x);
    }
    let pitch = k.spar_x_m[0] * s.force - s.fore_aft + s.couple;
    let each = match c.support {
        Support::Tip { most_nm, .. } => (-2.0 * pitch).clamp(-most_nm, most_nm),
        _ => -pitch / held.len() as f64,
    };
    for h in &mut held {
        h.3 = each;
    }
    held
}
