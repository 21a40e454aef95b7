//! Local pressures on nose and aft skin.

use crate::physics::loads::case::Case;
use crate::physics::loads::envelope::pressure_pa;
use crate::physics::loads::internal::{Asked, UnitLoads};
use crate::physics::loads::series::CaseLoads;

/// Part of the net pressure carried by the upper skin. From memory, unverified.
const UPPER_PART: f64 = 2.0 / 3.0;
/// Pressure inside the wing against still air, in q: set by the vents. Assumption.
const INSIDE_Q: f64 = 0.3;
/// Suction of thickness alone over the nose, in q. From memory, unverified.
const THICKNESS_Q: f64 = 0.4;

/// Mean net pressure by bay and the greatest outward pressure on nose and aft skin, Pa, written over `out`, which is nothing.
pub(super) fn pressures(on: &Asked, k: &UnitLoads, [net_pa, nose_pa, aft_pa]: [&mut [f64]; 3]) {
    if on.q <= 0.0 {
        return;
    }
    let [inside, nose] = [INSIDE_Q * on.q, (INSIDE_Q + THICKNESS_Q) * on.q];
    let out = net_pa.iter_mut().zip(nose_pa.iter_mut().zip(aft_pa));
    for ((unit, at), (net_pa, (nose_pa, aft_pa))) in k.bays.iter().zip(out) {
        let net = (on.alpha * unit[0] + on.q * unit[1] + on.sym * unit[2] + on.anti * unit[3]) * at[0];
        *net_pa = net;
        *nose_pa = UPPER_PART * net.abs() * at[1] + nose;
        *aft_pa = UPPER_PART * net.abs() * at[2] + inside;
    }
}

/// Outward pressure on the skin of a bay in level flight at `over_stall` times the stall speed, Pa, from a case flown at
/// the greatest lift: lift over its load factor, and the part that goes with dynamic pressure at `q over_stall^2/n`, q/n no less
/// than `least_q_pa`.
/// **Source:** the pressures of [`loads`](super::internal::loads). **Valid for:** cases at `VS sqrt(n)`, n of one or more.
/// Unchecked: no outside check runs it by itself.
pub fn level_pa(l: &CaseLoads, case: &Case, at: (usize, bool), level: (f64, f64)) -> f64 {
    let ((bay, nose), (over_stall, least_q_pa)) = (at, level);
    let (q, n) = (pressure_pa(case.speed_m_s), case.n.max(1.0));
    let per_q = if nose { INSIDE_Q + THICKNESS_Q } else { INSIDE_Q };
    let all = if nose { l.nose_pa() } else { l.aft_pa() }.get(bay).copied().unwrap_or(0.0);
    (all - per_q * q) / n + per_q * (q / n).max(least_q_pa) * over_stall * over_stall
}
