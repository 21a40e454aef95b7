//! The forms of dents against solutions of the face and its core itself: loads and energies under balls, loads under pads.

use super::handling::{face, near};
use thistledown::physics::durability::contact::{FaceOnFoam, ball_energy_j, ball_fitted, ball_load_n, pad_load_n};

/// Computed independently, apart from the solver the forms were fitted to, by the least of energies: a round face in rings of 0.2 mm to
/// 60 mm, von Karman strains, on a foundation that gives as E/c to the crush strength and then no more, a smooth rigid ball pushed in by steps
/// of 33 um; the dent is what stays when the ball is gone and the core springs back. Newton's method, numpy and scipy, Python. Face E GPa and
/// t mm (nu 0.1), core E and crush MPa (8 mm deep), radius mm; load N and energy mJ to dents of 0.15, 0.3 and 0.6 mm. On the three cases of the
/// other solver it lies 2 to 3 % below in load and 4 to 9 % in energy.
const BALLS: [([f64; 5], [(f64, f64); 3]); 10] = [
    ([55.0, 0.1045, 10.0, 0.25, 10.0], [(29.5, 6.11), (52.7, 15.76), (108.6, 52.67)]),
    ([55.0, 0.2169, 10.0, 0.25, 10.0], [(53.7, 13.99), (86.2, 30.29), (163.6, 86.55)]),
    ([18.0, 0.153, 10.0, 0.25, 10.0], [(22.7, 4.91), (38.3, 11.59), (76.5, 36.64)]),
    ([55.0, 0.1045, 70.0, 0.9, 10.0], [(40.5, 6.04), (77.4, 17.87), (169.6, 67.06)]),
    ([55.0, 0.2169, 70.0, 0.9, 25.0], [(80.4, 13.33), (132.0, 31.92), (260.8, 102.23)]),
    ([18.0, 0.306, 70.0, 0.9, 10.0], [(63.3, 13.25), (98.7, 28.96), (183.8, 81.91)]),
    ([55.0, 0.1045, 30.0, 0.5, 5.0], [(33.8, 6.22), (63.2, 17.31), (135.4, 61.44)]),
    ([18.0, 0.153, 30.0, 0.5, 25.0], [(30.8, 4.54), (51.7, 11.51), (103.6, 39.10)]),
    ([55.0, 0.2169, 90.0, 1.4, 10.0], [(102.7, 20.74), (169.8, 48.05), (335.6, 148.48)]),
    ([18.0, 0.306, 90.0, 1.4, 5.0], [(83.6, 19.77), (130.3, 42.50), (241.2, 117.11)]),
];

#[test]
fn balls_dent_and_take_energy_as_the_face_solved_itself() {
    let (mut loads, mut energies) = (Vec::new(), Vec::new());
    for ([e_gpa, t_mm, core_mpa, crush_mpa, radius_mm], solved) in BALLS {
        let f = face(e_gpa, t_mm, core_mpa, crush_mpa, 8.0);
        // The box the forms were fitted in, to one in a hundred of its edge.
        let inside = FaceOnFoam { a_n_m: f.a_n_m.clamp(2.8e6, 12e6), ..f };
        near(inside.a_n_m, f.a_n_m, 0.01);
        assert!(ball_fitted(&inside, radius_mm * 1e-3));
        for (dent_m, (load_n, energy_mj)) in [0.15e-3, 0.3e-3, 0.6e-3].into_iter().zip(solved) {
            loads.push((ball_load_n(&f, radius_mm * 1e-3, dent_m) / load_n).ln());
            energies.push((1e3 * ball_energy_j(&f, radius_mm * 1e-3, dent_m) / energy_mj).ln());
        }
    }
    let mean = |v: &[f64]| (v.iter().sum::<f64>() / v.len() as f64).exp();
    let rms = |v: &[f64]| (v.iter().map(|x| x * x).sum::<f64>() / v.len() as f64).sqrt();
    // The forms state 8 % on the load and 19 % on the energy.
    near(rms(&loads), 0.08, 0.06);
    near(rms(&energies), 0.19, 0.06);
    // In the mean they hit the load; of the energy they promise a little less than the dent takes, the safe side.
    near(mean(&loads), 1.0, 0.02);
    assert!((0.92..1.0).contains(&mean(&energies)), "{}", mean(&energies));
}

#[test]
fn pads_dent_in_the_mean_as_the_face_solved_itself() {
    // Computed, the axisymmetric solver of the handling reference (three runs of these the form was not fitted to): one by one within 12 %
    // where every case is named; in the mean of all six the form is neither high nor low by one in a hundred.
    let solved = [
        (face(18.0, 0.0984252, 3.0, 0.07, 8.0), 0.008, 0.3e-3, 21.48),
        (face(55.0, 0.216854, 10.0, 0.25, 8.0), 0.008, 0.3e-3, 104.7),
        (face(55.0, 0.104494, 10.0, 0.25, 8.0), 0.008, 0.3e-3, 76.07),
        (face(55.0, 0.216854, 70.0, 0.9, 8.0), 0.008, 0.3e-3, 229.4),
        (face(55.0, 0.104494, 70.0, 0.9, 8.0), 0.005, 0.5e-3, 163.6),
        (face(18.0, 0.152793, 10.0, 0.25, 5.0), 0.008, 0.3e-3, 60.7),
    ];
    let sum: f64 = solved.iter().map(|(f, a, d, n)| (pad_load_n(f, *a, *d) / n).ln()).sum();
    near((sum / 6.0).exp(), 1.0, 0.01);
}
