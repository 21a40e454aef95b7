//! The lift of a wing that bends and twists, against beam theory, a dense solution and what sweep is known to do.

use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::design::Design;
use thistledown::physics::evaluation::{Evaluation, evaluate};
use thistledown::physics::loads::flexible::{Axis, given_back};
use thistledown::physics::loads::internal::{loads, loads_bending};
use thistledown::physics::strength::sizer::size;
use thistledown::physics::strength::sizing::Section;
use thistledown::physics::wing::layout::lay_out;
use thistledown::scenario;

fn near(got: f64, want: f64, rel: f64) {
    assert!((got - want).abs() <= rel * want.abs(), "got {got}, want {want}, off by {:.2e}", (got / want - 1.0).abs());
}

fn swept(sweep_rad: f64) -> Design {
    let mut d = scenario::demo().unwrap().design;
    d.planform.sweep_rad = sweep_rad;
    d
}

fn of(d: &Design) -> Evaluation {
    evaluate(d, &Assumptions::default())
}

#[test]
fn incidence_of_a_bent_and_twisted_swept_beam() {
    // w' = M s/EI under a moment M at the tip, th = T s/GJ: any text; da = th cos - w' sin: Hodges and Pierce, Introduction to
    // Structural Dynamics and Aeroelasticity, section on swept wings.
    for sweep in [-0.4_f64, 0.0, 0.4] {
        let mut d = swept(sweep);
        d.planform.taper = 1.0;
        d.spar.position_tip = d.spar.position_root;
        let layout = lay_out(&d);
        let (ei, gj, moment, torque) = (3.0e4, 8.0e3, 500.0, 30.0);
        let n = layout.bays.len() + 1;
        let section = Section { ei_nm2: ei, gj_nm2: gj, ..Section::default() };
        let axis = Axis::of(&layout, &vec![section; n]).unwrap();
        let [tip] = *axis.incidence_rad([&vec![[0.0]; n], &vec![[moment]; n], &vec![[torque]; n]]).last().unwrap();
        let length = layout.half_span_m / sweep.cos();
        near(tip, torque * length / gj * sweep.cos() - moment * length / ei * sweep.sin(), 1e-9);
    }
}

/// Solve a dense system by elimination with row exchange. Written for tests alone.
pub(super) fn solved(mut a: Vec<Vec<f64>>, mut b: Vec<f64>) -> Vec<f64> {
    let n = b.len();
    for k in 0..n {
        let best = (k..n).max_by(|i, j| a[*i][k].abs().total_cmp(&a[*j][k].abs())).unwrap();
        a.swap(k, best);
        b.swap(k, best);
        for i in k + 1..n {
            let f = a[i][k] / a[k][k];
            for j in k..n {
                a[i][j] -= f * a[k][j];
            }
            b[i] -= f * b[k];
        }
    }
    for k in (0..n).rev() {
        let known: f64 = (k + 1..n).map(|j| a[k][j] * b[j]).sum();
        b[k] = (b[k] - known) / a[k][k];
    }
    b
}

/// Shear, moment and torque at the stations of a lift by strip about the swept spar, summed strip by strip: statics, written
/// for this test alone.
fn carried(e: &Evaluation, l: &[f64]) -> [Vec<f64>; 3] {
    let b = &e.lift;
    let all: Vec<[f64; 3]> = e
        .layout
        .stations()
        .map(|s| {
            let (sin, cos) = (s.spar_slope * s.spar_cos(), s.spar_cos());
            let x0 = s.x_le_m + s.spar_frac * s.chord_m;
            let mut out = [0.0; 3];
            for (i, load) in l.iter().enumerate() {
                let (from, to) = ((b.y_m[i] - 0.5 * b.dy_m).max(s.y_m), b.y_m[i] + 0.5 * b.dy_m);
                if to <= from {
                    continue;
                }
                let (y, force) = (0.5 * (from + to), load * (to - from));
                let x = b.x_quarter_m[i] + b.sweep_slope * (y - b.y_m[i]);
                let (arm, nose_up) = (force * (y - s.y_m), force * (x0 - x));
                out[0] += force;
                out[1] += arm * cos - nose_up * sin;
                out[2] += arm * sin + nose_up * cos;
            }
            out
        })
        .collect();
    [0, 1, 2].map(|j| all.iter().map(|v| v[j]).collect())
}

#[test]
fn the_load_given_back_is_that_of_a_dense_solution() {
    // (I - q B) l = l0 with B made column by column and solved whole: another method, computed independently.
    for sweep in [-0.3, 0.0, 0.35] {
        let e = of(&swept(sweep));
        let (lift, axis) = (&e.lift, Axis::of(&e.layout, &e.sections).unwrap());
        let lattice = lift.lattice.as_ref().unwrap();
        let n = lift.y_m.len();
        let stations: Vec<f64> = e.layout.stations().map(|s| s.y_m).collect();
        let alone = |v: &[f64]| v.iter().map(|v| [*v]).collect::<Vec<_>>();
        let back = |load: &[Vec<f64>; 3]| {
            let load = load.each_ref().map(|v| alone(v));
            let at = axis.incidence_rad([&load[0], &load[1], &load[2]]).into_flattened();
            let incidence: Vec<f64> = lift
                .y_m
                .iter()
                .map(|y| {
                    let k = stations.iter().rposition(|s| s <= y).unwrap().min(stations.len() - 2);
                    at[k] + (at[k + 1] - at[k]) * (y - stations[k]) / (stations[k + 1] - stations[k])
                })
                .collect();
            let mut l = lattice.symmetric_each(&alone(&incidence)).into_flattened();
            let cl = lattice.lift_coefficient(&l);
            l.iter_mut().zip(&lift.additional_m).for_each(|(l, a)| *l -= cl * a);
            l
        };
        let q = 500.0;
        let columns: Vec<Vec<f64>> =
            (0..n).map(|j| back(&carried(&e, &(0..n).map(|i| f64::from(i == j)).collect::<Vec<_>>()))).collect();
        let matrix: Vec<Vec<f64>> =
            (0..n).map(|i| (0..n).map(|j| f64::from(i == j) - q * columns[j][i]).collect()).collect();
        let rigid = carried(&e, &lift.additional_m);
        let dense = solved(matrix, back(&rigid).iter().map(|v| q * v).collect());
        // Beside another load, so that neither takes from the other.
        let abreast = rigid.each_ref().map(|v| v.iter().map(|v| [0.0, *v, -2.0 * v]).collect::<Vec<_>>());
        let given = given_back(&axis, lift, [&abreast[0], &abreast[1], &abreast[2]], |l| {
            let [none, one, two] = [0, 1, 2].map(|i| carried(&e, &l.iter().map(|l| l[i]).collect::<Vec<_>>()));
            [0, 1, 2].map(|j| (0..none[j].len()).map(|k| [none[j][k], one[j][k], two[j][k]]).collect())
        })
        .unwrap();
        let [nothing, share, twice] = given.shares(q);
        assert!(nothing == 0.0 && given.repeat_per_pa[0].is_none());
        near(twice, share, 1e-12);
        let root = |l: &[f64]| carried(&e, l)[1][0];
        let quick: Vec<f64> = given.cl_c_m.iter().map(|v| v[1] * share).collect();
        near(root(&quick), root(&dense), 0.02);
        // And nothing is lost or won in lift.
        assert!(lattice.lift_coefficients(&given.cl_c_m).iter().all(|cl| cl.abs() < 1e-12));
    }
}

#[test]
fn a_swept_back_wing_is_relieved_by_bending_and_a_swept_forward_one_is_not() {
    // Bending washes a swept-back tip out and a swept-forward one in: any text on aeroelasticity. Twist is there in each: this
    // wing's shear centre lies ahead of the lift, so it turns the nose down.
    let [back, straight, forward] = [0.35, 0.0, -0.3].map(|sweep| {
        let d = swept(sweep);
        let e = of(&d);
        let rigid = loads(&d, &e.layout, &e.lift, &e.weight);
        let at = |l: &thistledown::physics::loads::internal::Loads| {
            let k = l.loads.iter().find(|k| l.cases[k.case].key == "pull_va_heavy").unwrap();
            (k.shear_n()[0], k.moment_nm()[0], k.yielding_root_nm)
        };
        let (stiff, soft) = (at(&rigid), at(&e.loads));
        // What the evaluation settled on is what its own spar gives.
        let axis = Axis::of(&e.layout, &e.sections);
        let again = loads_bending(&d, (&e.layout, &e.lift), &e.weight, axis.as_ref());
        near(soft.1, at(&again).1, 1e-9);
        near(soft.0, stiff.0, 1e-9);
        near(soft.1 - stiff.1, soft.2, 1e-6);
        assert!(stiff.2 == 0.0);
        soft.2 / stiff.1
    });
    assert!(back < straight - 0.02, "{back} against {straight}");
    assert!(forward > straight + 0.01, "{forward} against {straight}");
    assert!(back < -0.02, "{back}");
}

#[test]
fn a_spar_that_settled_holds_the_rigid_wing_and_the_bent_one() {
    for sweep in [-0.35, -0.1, 0.0, 0.2, 0.4] {
        let d = swept(sweep);
        let e = of(&d);
        assert!(e.settled && e.passes < 20, "{sweep}: {} passes", e.passes);
        let wing = (&e.layout, &e.lift);
        let axis = Axis::of(&e.layout, &e.sections);
        let bent = loads_bending(&d, wing, &e.weight, axis.as_ref());
        assert_eq!(bent, e.loads, "{sweep}: the loads shown are those of the spar as it stands");
        for (loads, which) in [(&loads(&d, &e.layout, &e.lift, &e.weight), "rigid"), (&bent, "bent")] {
            let asked = size(&d, &e.layout, &e.skins, loads, &e.sizing);
            assert_eq!(asked, e.sizing, "{sweep}: {which} asks for more");
        }
    }
}

#[test]
fn a_wing_without_a_stiffness_stays_rigid() {
    let d = swept(0.2);
    let layout = lay_out(&d);
    assert_eq!(Axis::of(&layout, &vec![Section::default(); layout.bays.len() + 1]), None);
    assert_eq!(Axis::of(&layout, &[]), None);
}
