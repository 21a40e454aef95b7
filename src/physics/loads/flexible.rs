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

    /// Change of incidence along the flight path at the stations, rad, under shear, moment and torque there, of several loads
    /// abreast.
    ///
    /// `da = th cos(sweep) - w' sin(sweep)`, th the twist about the spar (nose up), w' the slope of bending along it.
    /// **Source:** kinematics of Hodges and Pierce, section on swept wings. **Valid for:** small angles.
    pub fn incidence_rad<const N: usize>(&self, [shear_n, moment_nm, torque_nm]: [&[[f64; N]]; 3]) -> Vec<[f64; N]> {
        let (mut slope, mut twist) = ([0.0; N], [0.0; N]);
        let mut out = vec![[0.0; N]; self.y_m.len()];
        let (v, m, t) = (shear_n.windows(2), moment_nm.windows(2), torque_nm.windows(2));
        for (((b, turn), at), (v, (m, t))) in
            self.bays.iter().zip(self.turn.iter().skip(1)).zip(out.iter_mut().skip(1)).zip(v.zip(m.zip(t)))
        {
            let (half, (sin, cos)) = (0.5 * b.along_m, turn);
            for i in 0..N {
                slope[i] += half * (m[0][i] * b.bending.0 + m[1][i] * b.bending.1);
                twist[i] += half
                    * ((t[0][i] + v[0][i] * b.arm_m.0) * b.torsion.0 + (t[1][i] + v[1][i] * b.arm_m.1) * b.torsion.1);
                at[i] = twist[i] * cos - slope[i] * sin;
            }
        }
        out
    }

    /// Between which stations some places lie, and how far along.
    fn between(&self, y_m: &[f64]) -> Vec<(usize, f64)> {
        let (mut k, last) = (0, self.y_m.len().saturating_sub(2));
        let of = |&y: &f64| {
            while k < last && self.y_m[k + 1] < y {
                k += 1;
            }
            let (a, b) = (self.y_m[k], self.y_m[k + 1]);
            (k, ((y - a) / (b - a).max(1e-9)).clamp(0.0, 1.0))
        };
        y_m.iter().map(of).collect()
    }
}

/// Lift that each of several loads gives back through the wing's own yielding, at the same total lift.
#[derive(Debug, Clone, PartialEq)]
pub struct Given<const N: usize> {
    /// `cl c`, m, by strip, for unit dynamic pressure.
    pub cl_c_m: Vec<[f64; N]>,
    /// Shear, moment and torque of it at the stations.
    pub carried: [Vec<[f64; N]>; 3],
    /// By how much each unit of dynamic pressure repeats it, 1/Pa; None of a load that gives nothing back.
    pub repeat_per_pa: [Option<f64>; N],
}

/// Repetition beyond which the series is not followed: the wing is near divergence and another mode says so.
const MOST_REPEATED: f64 = 0.9;

impl<const N: usize> Given<N> {
    /// What stands before what each load gives: `q/(1 - q r)`, the sum of load, load by the load it gives, and so on, taken
    /// as repeating in one shape. Held at `q r` = 0.9.
    pub fn shares(&self, q_pa: f64) -> [f64; N] {
        self.repeat_per_pa.map(|r| r.map_or(0.0, |r| q_pa / (1.0 - (q_pa * r).min(MOST_REPEATED))))
    }
}

/// What loads give back. `carried` makes shear, moment and torque at the stations of a lift `cl c` by strip.
///
/// **Source:** the lattice for the lift of an incidence, beam theory for the incidence of a load; the series by Rayleigh's
/// quotient of its first two members. **Valid for:** loads alike on both sides, below divergence; trim, drag, the skins'
/// pressures and the roll are taken as of the rigid wing.
pub fn given_back<const N: usize>(
    axis: &Axis,
    lift: &LiftBasis,
    load: [&[[f64; N]]; 3],
    carried: impl Fn(&[[f64; N]]) -> [Vec<[f64; N]>; 3],
) -> Option<Given<N>> {
    let lattice = lift.lattice.as_ref()?;
    let between = axis.between(&lattice.y_m);
    let again = |load: [&[[f64; N]]; 3]| {
        let at = axis.incidence_rad(load);
        let read = |&(k, t): &(usize, f64)| std::array::from_fn(|i| at[k][i] + t * (at[k + 1][i] - at[k][i]));
        let mut l = lattice.symmetric_each(&between.iter().map(read).collect::<Vec<[f64; N]>>());
        let cl = lattice.lift_coefficients(&l);
        for (l, a) in l.iter_mut().zip(&lift.additional_m) {
            l.iter_mut().zip(cl).for_each(|(l, cl)| *l -= cl * a);
        }
        l
    };
    let dot = |a: &[[f64; N]], b: &[[f64; N]]| {
        let mut out = [0.0; N];
        a.iter().zip(b).for_each(|(a, b)| out.iter_mut().zip(a.iter().zip(b)).for_each(|(o, (a, b))| *o += a * b));
        out
    };
    let mut first = again(load);
    let size = dot(&first, &first);
    let there = size.map(|s| s > 0.0 && s.is_finite());
    for l in &mut first {
        l.iter_mut().zip(there).filter(|(_, there)| !there).for_each(|(l, _)| *l = 0.0);
    }
    let carried = carried(&first);
    let [shear, moment, torque] = &carried;
    let second = dot(&first, &again([shear, moment, torque]));
    let repeat_per_pa = std::array::from_fn(|i| there[i].then(|| second[i] / size[i]));
    Some(Given { cl_c_m: first, carried, repeat_per_pa })
}
