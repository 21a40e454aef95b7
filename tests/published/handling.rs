//! Dents, punctures and chances against independent computation and measured punctures.

use thistledown::physics::durability::contact::{
    FaceOnFoam, ball_energy_j, ball_load_n, bent_strain, edge_onset_n_m, fracture_load_n, pad_load_n, surface_strain,
};
use thistledown::physics::durability::events::EVENTS;
use thistledown::physics::durability::foundation::{eta, point_deflection_m, point_onset_n};
use thistledown::physics::durability::fragility::{chance, density, normal_cdf};
use thistledown::physics::durability::index::index;
use thistledown::physics::durability::resistance::wood_mark_n;
use thistledown::physics::durability::term::shares;

pub(super) fn near(got: f64, want: f64, rel: f64) {
    assert!((got - want).abs() <= rel * want.abs(), "got {got}, want {want}, off by {:.2e}", (got / want - 1.0).abs());
}

/// E face GPa, t mm, E core MPa, crush MPa, core mm; nu 0.1.
pub(super) fn face(e: f64, t: f64, core: f64, crush: f64, depth: f64) -> FaceOnFoam {
    let (e, t) = (e * 1e9 / 0.99, t * 1e-3);
    FaceOnFoam {
        a_n_m: e * t,
        d_nm: e * t.powi(3) / 12.0,
        crush_pa: crush * 1e6,
        core_modulus_pa: core * 1e6,
        core_m: depth * 1e-3,
    }
}

#[test]
fn plate_on_foundation() {
    // Computed independently: plate on a Winkler foundation, summed with Kelvin functions.
    near(point_deflection_m(1.0, 0.05, 1e10), 0.00559017e-3, 2e-3);
    near(point_onset_n(0.9e6, 0.047307, 8.75e9), 16.7414, 2e-3);
    near(eta(0.5), 0.0901001, 3e-3);
    near(eta(2.0), 0.786798, 3e-3);
    near(face(55.0, 0.217, 1.0, 1.0, 1.0).d_nm, 0.047307, 2e-3);
}

#[test]
fn thumb_pads() {
    // Computed independently: an axisymmetric solver (von Karman face, elastic-plastic core), independent of the closed forms; 8 mm pad, 0.3 mm dent.
    near(pad_load_n(&face(18.0, 0.0984252, 3.0, 0.07, 8.0), 0.008, 0.3e-3), 21.48, 0.12);
    near(pad_load_n(&face(55.0, 0.216854, 10.0, 0.25, 8.0), 0.008, 0.3e-3), 104.7, 0.12);
    near(pad_load_n(&face(55.0, 0.104494, 10.0, 0.25, 8.0), 0.008, 0.3e-3), 76.07, 0.12);
    near(pad_load_n(&face(55.0, 0.216854, 70.0, 0.9, 8.0), 0.008, 0.3e-3), 229.4, 0.12);
    near(pad_load_n(&face(55.0, 0.104494, 70.0, 0.9, 8.0), 0.005, 0.5e-3), 163.6, 0.12);
    near(pad_load_n(&face(18.0, 0.152793, 10.0, 0.25, 5.0), 0.008, 0.3e-3), 60.7, 0.12);
    // Common practice, no source: bead foam under one thin glass ply marks under a fingertip; carbon on PVC 60 stands a mean maximum thumb (136.7 N, Choi and others 2020).
    assert!(pad_load_n(&face(18.0, 0.0984252, 3.0, 0.07, 8.0), 0.008, 0.3e-3) < 35.0);
    assert!(pad_load_n(&face(55.0, 0.216854, 70.0, 0.9, 8.0), 0.008, 0.3e-3) > 137.0);
    // A pad squeezes a deep block no further than 1.7 of its radius: depth beyond it changes nothing.
    let deep = |mm: f64| pad_load_n(&face(18.0, 0.1, 20.0, 0.25, mm), 0.008, 0.3e-3);
    near(deep(80.0), deep(13.6), 1e-9);
}

#[test]
fn hard_balls() {
    // Computed independently: the same axisymmetric solver; load and energy.
    for (f, r, d, p, mj) in [
        (face(55.0, 0.216854, 70.0, 0.9, 8.0), 0.010, 0.265e-3, 117.2, 31.2),
        (face(55.0, 0.104, 10.0, 0.25, 8.0), 0.010, 0.28e-3, 50.8, 15.5),
        (face(55.0, 0.217, 90.0, 1.4, 8.0), 0.005, 0.335e-3, 190.8, 65.0),
    ] {
        near(ball_load_n(&f, r, d), p, 0.3);
        near(ball_energy_j(&f, r, d), mj * 1e-3, 0.3);
    }
    // Line load: 2 sqrt2 sigma ell, of a beam on an elastic foundation (Hetenyi, Beams on Elastic Foundation, 1946, from memory).
    let f = FaceOnFoam { a_n_m: 1.0, d_nm: 0.05, crush_pa: 0.25e6, core_modulus_pa: 1.25e9 * 0.008, core_m: 0.008 };
    near(edge_onset_n_m(&f), 1778.28, 5e-3);
}

#[test]
fn faces_crack_round_a_hard_nose() {
    // Computed independently: the same axisymmetric solver; peak surface strain, %, at about 0.3 mm of dent; nose of 5, 10, 25 mm.
    for (f, strains) in [
        (face(18.0, 0.152793, 70.0, 0.9, 8.0), [2.5, 1.5, 0.6]),
        (face(55.0, 0.104494, 70.0, 0.9, 8.0), [1.8, 1.2, 0.5]),
        (face(55.0, 0.216854, 70.0, 0.9, 8.0), [2.1, 1.5, 0.75]),
        (face(55.0, 0.216854, 10.0, 0.25, 8.0), [1.3, 1.0, 0.7]),
    ] {
        let t = (12.0 * f.d_nm / f.a_n_m).sqrt();
        for (r, percent) in [0.005, 0.010, 0.025].into_iter().zip(strains) {
            let got = 100.0 * surface_strain(ball_load_n(&f, r, 0.3e-3), r, f.a_n_m, t);
            println!("face strain: solver {percent} %, closed {got:.2} %, ratio {:.2}", got / percent);
            assert!((0.79..=1.51).contains(&(got / percent)), "{r} m: {got} against {percent}");
        }
    }
}

#[test]
fn a_thick_face_bends_before_it_wraps() {
    // Hand sum of Westergaard's interior loading: E 55 GPa, nu 0.1, 2 mm thick on 8 mm of 70 MPa core: D 37.04 N m, ell 8.066 mm,
    // b 0.65 mm, ln(ell/b) + 0.6159 = 3.134, P t/(8 pi D) of that 6.734e-6 for each newton.
    let f = face(55.0, 2.0, 70.0, 0.9, 8.0);
    near(bent_strain(1.0, &f, 0.002), 6.734e-6, 2e-3);
    // Bent and stretched to 1.5 %: 0.85 sqrt(P/(4 pi R A)) = 3.217e-4 sqrt(P) at R 5 mm, A 111.1 MN/m, so 0.006734 P + 0.3217 sqrt(P) = 15:
    // sqrt(P) = 29.01.
    near(fracture_load_n(&f, 0.015, (0.005, 0.002)), 29.01 * 29.01, 3e-3);
    // A face too thin for its core has no such load; wrapped it cracks where the solver's strain says, as far as that is met (0.79 to 1.51 above).
    for (t_mm, percent) in [(0.104494, 1.8), (0.216854, 2.1)] {
        let f = face(55.0, t_mm, 70.0, 0.9, 8.0);
        let ratio = fracture_load_n(&f, percent / 100.0, (0.005, t_mm * 1e-3)) / ball_load_n(&f, 0.005, 0.3e-3);
        assert!((1.51_f64.powi(-2)..=0.79_f64.powi(-2)).contains(&ratio), "{t_mm}: {ratio}");
    }
    // More plies: where wrapping cracks them they may stand a little less, never a half; from where they bend instead each stands more.
    for (e_gpa, ply_mm, limit) in [(55.0, 0.104, 0.018), (18.0, 0.153, 0.027)] {
        for radius_m in [0.005, 0.010] {
            let stands = |plies: u32| {
                let t_mm = ply_mm * f64::from(plies);
                let f = face(e_gpa, t_mm, 70.0, 0.9, 8.0);
                fracture_load_n(&f, limit, (radius_m, t_mm * 1e-3)).min(ball_load_n(&f, radius_m, 0.3e-3))
            };
            assert!((1..20).all(|n| stands(n) > 0.5 * stands(1)), "{e_gpa} GPa, {radius_m} m");
            assert!((8..20).all(|n| stands(n + 1) > stands(n)), "{e_gpa} GPa, {radius_m} m");
        }
    }
}

#[test]
fn denser_foam_and_thicker_face_never_mark_sooner() {
    for t in [0.1, 0.15, 0.2] {
        for (core, crush) in [(50.0, 0.5), (60.0, 0.7), (80.0, 1.15)] {
            let base = face(55.0, t, core, crush, 8.0);
            for more in [face(55.0, t + 0.05, core, crush, 8.0), face(55.0, t, core * 1.2, crush * 1.3, 8.0)] {
                assert!(pad_load_n(&more, 0.008, 0.3e-3) >= 0.98 * pad_load_n(&base, 0.008, 0.3e-3));
                assert!(ball_load_n(&more, 0.010, 0.3e-3) >= 0.98 * ball_load_n(&base, 0.010, 0.3e-3));
            }
        }
    }
}

#[test]
fn a_ball_pressed_into_wood() {
    // Hand sum: Sitka spruce crushes across the grain at 4.0 MPa (Wood Handbook 1974, read second-hand); a cap of 10 mm
    // radius 0.3 mm deep has 2 pi R d = 18.85 mm2, so 75.4 N.
    near(wood_mark_n(4.0e6, 0.010), 75.4, 1e-3);
}

#[test]
fn chances_and_index() {
    // Computed independently: the normal integral by another library; 0.8413 at 1 and 0.05 at -1.6449 stand in every normal table.
    near(chance(70.0, 120.0, (0.35_f64.powi(2) + 0.25_f64.powi(2)).sqrt()), 0.105077, 0.01);
    near(chance(20.0, 21.5, (0.5_f64.powi(2) + 0.25_f64.powi(2)).sqrt()), 0.448532, 0.01);
    near(normal_cdf(1.0), 0.841344746, 1e-6);
    near(density(0.0), 0.398942280, 1e-6);
    near(density(1.0), 0.241970725, 1e-6);
    near(normal_cdf(-1.644854), 0.05, 1e-5);
    near(index(25.0), 50.0, 1e-12);
}

#[test]
fn event_shares_sum_to_one_whatever_is_absent() {
    for e in EVENTS {
        near(e.share.iter().sum::<f64>(), 1.0, 1e-9);
        for absent in 0..64_u32 {
            let totals: [f64; 6] = std::array::from_fn(|g| if absent >> g & 1 == 1 { 0.0 } else { 1.5 });
            let s = shares(e, &totals);
            let sum: f64 = s.iter().sum();
            assert!((sum - 1.0).abs() < 1e-9 || sum == 0.0, "{} {absent}: {sum}", e.key);
            assert!(s.iter().zip(totals).all(|(x, t)| t > 0.0 || *x == 0.0));
        }
    }
}
