//! What the lift becomes when the wing bends and twists under it: a swept-back tip washes out, a swept-forward one in.

use crate::physics::loads::lift::LiftBasis;
use crate::physics::strength::sizing::Section;
use crate::physics::strength::torsion;
use crate::physics::wing::layout::Layout;

/// The spar as a beam and shaft, root to tip.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Axis {
    y_m: Vec<f64>,
    /// Sine and cosine of the sweep at the stations.
    turn: Vec<(f64, f64)>,
    bays: Vec<Length>,
}

/// One bay along the spar: its length, and compliances and shear centre (behind the spar) at its ends.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
struct Length {
    along_m: f64,
    bending: (f64, f64),
    torsion: (f64, f64),
    arm_m: (f64, f64),
}

impl Axis {
    /// Of a wing as it is sized; None where a stiffness is missing.
    /// Unchecked: no outside check runs it by itself.
    pub fn of(layout: &Layout, sections: &[Section]) -> Option<Self> {
        let mut out = Self::default();
        for s in layout.stations() {
            out.y_m.push(s.y_m);
            out.turn.push((s.spar_slope * s.spar_cos(), s.spar_cos()));
        }
        for (bay, pair) in layout.bays.iter().zip(sections.windows(2)) {
            let (a, b) = (&pair[0], &pair[1]);
            let (gj_out, arm_out) = torsion::end(a, b);
            let ei_out = if a.ei_out_nm2 > 0.0 { a.ei_out_nm2 } else { b.ei_nm2 };
            if [a.ei_nm2, ei_out, a.gj_nm2, gj_out].iter().any(|k| *k <= 0.0) {
                return None;
            }
            out.bays.push(Length {
                along_m: bay.length_m / bay.mid.spar_cos(),
                bending: (1.0 / a.ei_nm2, 1.0 / ei_out),
                torsion: (1.0 / a.gj_nm2, 1.0 / gj_out),
                arm_m: (a.shear_centre_m, arm_out),
            });
        }
        (out.bays.len() + 1 == out.y_m.len()).then_some(out)
    }

    /// Change of incidence along the flight path at the stations, rad, under shear, moment and torque there.
    ///
    /// `da = th cos(sweep) - w' sin(sweep)`, th the twist about the spar (nose up), w' the slope of bending along it.
    /// **Source:** kinematics of Hodges and Pierce, section on swept wings. **Valid for:** small angles.
    pub fn incidence_rad(&self, [shear_n, moment_nm, torque_nm]: [&[f64]; 3]) -> Vec<f64> {
        let (mut slope, mut twist) = (0.0, 0.0);
        let mut out = vec![0.0; self.y_m.len()];
        let (v, m, t) = (shear_n.windows(2), moment_nm.windows(2), torque_nm.windows(2));
        for (i, (b, (v, (m, t)))) in self.bays.iter().zip(v.zip(m.zip(t))).enumerate() {
            slope += 0.5 * b.along_m * (m[0] * b.bending.0 + m[1] * b.bending.1);
            twist +=
                0.5 * b.along_m * ((t[0] + v[0] * b.arm_m.0) * b.torsion.0 + (t[1] + v[1] * b.arm_m.1) * b.torsion.1);
            let (sin, cos) = self.turn[i + 1];
            out[i + 1] = twist * cos - slope * sin;
        }
        out
    }

    /// A value at the stations, read at other places, linear between.
    fn read(&self, at_station: &[f64], y_m: &[f64]) -> Vec<f64> {
        let mut k = 0;
        let last = self.y_m.len().saturating_sub(2);
        y_m.iter()
            .map(|&y| {
                while k < last && self.y_m[k + 1] < y {
                    k += 1;
                }
                let (a, b) = (self.y_m[k], self.y_m[k + 1]);
                let t = ((y - a) / (b - a).max(1e-9)).clamp(0.0, 1.0);
                at_station[k] + t * (at_station[k + 1] - at_station[k])
            })
            .collect()
    }
}

/// Lift that a load gives back through the wing's own yielding, at the same total lift: `cl c`, m, by strip, for unit
/// dynamic pressure, and by how much each unit of dynamic pressure repeats it, 1/Pa.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Given {
    pub cl_c_m: Vec<f64>,
    pub repeat_per_pa: f64,
}

/// Repetition beyond which the series is not followed: the wing is near divergence and another mode says so.
const MOST_REPEATED: f64 = 0.9;

impl Given {
    /// What stands before [`Given::cl_c_m`] at a dynamic pressure: `q/(1 - q r)`, the sum of load, load by the load it gives,
    /// and so on, taken as repeating in one shape. Held at `q r` = 0.9.
    pub fn share(&self, q_pa: f64) -> f64 {
        q_pa / (1.0 - (q_pa * self.repeat_per_pa).min(MOST_REPEATED))
    }
}

/// What a load gives back. `carried` makes shear, moment and torque at the stations of a lift `cl c` by strip.
///
/// **Source:** the lattice for the lift of an incidence, beam theory for the incidence of a load; the series by Rayleigh's
/// quotient of its first two members. **Valid for:** loads alike on both sides, below divergence; trim, drag, the skins'
/// pressures and the roll are taken as of the rigid wing.
pub fn given_back(
    axis: &Axis,
    lift: &LiftBasis,
    load: [&[f64]; 3],
    carried: impl Fn(&[f64]) -> [Vec<f64>; 3],
) -> Option<Given> {
    let lattice = lift.lattice.as_ref()?;
    let again = |load: [&[f64]; 3]| {
        let mut l = lattice.symmetric(&axis.read(&axis.incidence_rad(load), &lattice.y_m));
        let cl = lattice.lift_coefficient(&l);
        l.iter_mut().zip(&lift.additional_m).for_each(|(l, a)| *l -= cl * a);
        l
    };
    let first = again(load);
    let size: f64 = first.iter().map(|v| v * v).sum();
    if size <= 0.0 || !size.is_finite() {
        return None;
    }
    let [shear, moment, torque] = carried(&first);
    let second = again([&shear, &moment, &torque]);
    let repeat_per_pa = first.iter().zip(&second).map(|(a, b)| a * b).sum::<f64>() / size;
    Some(Given { cl_c_m: first, repeat_per_pa })
}
