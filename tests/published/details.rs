//! Joints and details: ends of cap layers, bonds in peel, controls on their hinges, edges under covering, holds.

use std::f64::consts::PI;

use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::durability::panel::moment_per_load;
use thistledown::physics::durability::press::PALM_M;
use thistledown::physics::evaluation::evaluate;
use thistledown::physics::loads::section::{lift_share_ahead, plain_flap};
use thistledown::physics::strength::{bond_peel, cap_ply_end, control_rib, edge_under_covering, holds};
use thistledown::scenario::load;

/// Solve a banded system of half-bandwidth 2 by elimination without pivoting; the matrices here are stiffness matrices.
fn solve(mut a: Vec<[f64; 5]>, mut b: Vec<f64>) -> Vec<f64> {
    let n = b.len();
    for i in 0..n {
        for d in 1..=2 {
            if i + d < n {
                let k = a[i + d][2 - d] / a[i][2];
                for e in 0..=2 {
                    a[i + d][2 - d + e] -= k * a[i][2 + e];
                }
                b[i + d] -= k * b[i];
            }
        }
    }
    for i in (0..n).rev() {
        for e in 1..=2 {
            if i + e < n {
                b[i] -= a[i][2 + e] * b[i + e];
            }
        }
        b[i] /= a[i][2];
    }
    b
}

/// Deflections of a beam of `n` cells of `h`, free at both ends, on springs `k(x)`, under a load per length `p(x)` and an end
/// force and moment at x = 0. Curvatures at the nodes by second differences: the least of the energy, not a formula.
fn beam_on_springs(
    (d, h, n): (f64, f64, usize),
    k: impl Fn(f64) -> f64,
    p: impl Fn(f64) -> f64,
    end: (f64, f64),
) -> Vec<f64> {
    let mut a = vec![[0.0; 5]; n + 1];
    let mut b = vec![0.0; n + 1];
    for i in 0..=n {
        let width = if i == 0 || i == n { h / 2.0 } else { h };
        a[i][2] += k(i as f64 * h) * width;
        b[i] += p(i as f64 * h) * width;
    }
    for i in 1..n {
        let c = [1.0, -2.0, 1.0];
        for r in 0..3 {
            for s in 0..3 {
                a[i - 1 + r][2 + s - r] += d / (h * h * h) * c[r] * c[s];
            }
        }
    }
    // Force V and moment M at the end: M turns the end cell.
    b[0] += end.0 + end.1 / h;
    b[1] -= end.1 / h;
    solve(a, b)
}

#[test]
fn two_arms_are_the_double_cantilever_of_the_book() {
    // T. L. Anderson, Fracture Mechanics (2005), example 2.2 (page read): deflection of an arm P a^3/(3 E I), I = B h^3/12,
    // so G = P^2 a^2/(B E I) = 12 P^2 a^2/(B^2 E h^3). Numbers here: steel-like arms.
    let (e, h, b, a, p) = (210e9, 0.010, 0.020, 0.10, 500.0);
    let g = 12.0 * f64::powi(p * a, 2) / (b * b * e * f64::powi(h, 3));
    let d = e * f64::powi(h, 3) / 12.0;
    // On a rigid bed: each arm gives M^2/2D.
    let m = bond_peel::peeling_n(p / b * a, p / b, d, 1e30);
    assert!((2.0 * m * m / (2.0 * d) / g - 1.0).abs() < 1e-4);
    // On the arm's own half depth, k = 2 E/h: the length grows by 0.64 h (M. F. Kanninen 1973, from memory).
    let soft = bond_peel::peeling_n(p / b * a, p / b, d, 2.0 * e / h);
    assert!((soft / m - (1.0 + 0.64 * h / a)).abs() < 1e-3, "{}", soft / m);
    // And G = Gc is where the two sides meet.
    assert!((bond_peel::held_n(d, m * m / (2.0 * d)) / m - 1.0).abs() < 1e-9);
}

#[test]
fn springs_at_the_tip_of_a_bond() {
    // Computed independently: the same half-infinite beam by second differences; the tip spring holds k w^2/2.
    let (d, k) = (54.0, 3.0e9);
    let (v, m) = (60.0, 4.0);
    let h = 2e-4;
    let w = beam_on_springs((d, h, 2000), |_| k, |_| 0.0, (v, m))[0];
    let g = bond_peel::peeling_n(m, v, d, k).powi(2) / (2.0 * d);
    assert!((k * w * w / 2.0 / g - 1.0).abs() < 0.02, "{} {g}", k * w * w / 2.0);
}

#[test]
fn a_peeled_bay_releases_no_more_than_assumed() {
    // Computed independently: half a bay, free length a under pressure, bonded beyond; energy of the whole at two lengths.
    // Symmetry at mid bay by folding: a beam of twice the length about the middle.
    let (d, k, p) = (54.0, 3.0e9, 1500.0);
    let h = 2.5e-4;
    let (bonded, free) = (0.06, 0.30);
    let energy = |free: f64| {
        let n = ((free + 2.0 * bonded) / h).round() as usize;
        let open = |x: f64| x > bonded + 1e-9 && x < bonded + free - 1e-9;
        let w = beam_on_springs(
            (d, h, n),
            |x| if open(x) { 0.0 } else { k },
            |x| if open(x) { p } else { 0.0 },
            (0.0, 0.0),
        );
        0.5 * w.iter().enumerate().map(|(i, w)| if open(i as f64 * h) { p * w * h } else { 0.0 }).sum::<f64>()
    };
    // At a given pressure the energy taken from the whole by a longer free part; both ends creep by half of what it grows,
    // and two ends share it, so the release at each end is the slope itself.
    let step = 0.004;
    let per_front = (energy(free + step) - energy(free - step)) / (2.0 * step);
    let assumed = bond_peel::peeling_n(p * free * free / 12.0, p * free / 2.0, d, k).powi(2) / (2.0 * d);
    assert!(per_front < assumed * 1.001 && per_front > 0.6 * assumed, "{per_front} {assumed}");
}

#[test]
fn a_layer_end_releases_what_two_glued_bars_give_up() {
    // Computed independently: a ply glued on a bar by a shear spring, shear lag by finite differences; the end of the bar
    // moves less when more of the ply is glued. Release per width = (f^2/2) d(compliance)/da.
    let (left, ply, glue) = (60e6, 26e6, 5e12);
    let (n, h) = (4000usize, 2.5e-5);
    let end_of = |glued: usize| {
        // Difference of displacements s in the glued part: s'' = glue (1/left + 1/ply) s, s' = f/left where the ply ends;
        // at the far end the glue has passed all it will and s' is nothing.
        let f = 1.0;
        let beta2: f64 = glue * (1.0 / left + 1.0 / ply);
        let mut a = vec![[0.0; 5]; glued + 1];
        let mut b = vec![0.0; glued + 1];
        for i in 0..=glued {
            let half = i == 0 || i == glued;
            a[i][2] = beta2 * h * if half { 0.5 } else { 1.0 } + if half { 1.0 } else { 2.0 } / h;
            if i > 0 {
                a[i][1] = -1.0 / h;
            }
            if i < glued {
                a[i][3] = -1.0 / h;
            }
        }
        b[glued] = f / left;
        let s = solve(a, b);
        // Force in the ply at a node is the glue shear summed from its end; the bar carries the rest.
        let mut in_layer = 0.0;
        let mut slip = (n - glued) as f64 * h * f / left;
        for i in (0..glued).rev() {
            in_layer += glue * 0.5 * (s[i] + s[i + 1]) * h;
            slip += (f - in_layer) / left * h;
        }
        slip
    };
    let (long, short) = (end_of(3000), end_of(2600));
    let per_length = (short - long) / (400.0 * h);
    // Released per width at force f is f^2/2 times that; it reaches Gc at the held force.
    let gc = 460.0;
    let held = cap_ply_end::held_n_m(left, ply, gc);
    assert!((0.5 * held * held * per_length / gc - 1.0).abs() < 0.01, "{held} {per_length}");
}

#[test]
fn a_strip_on_a_rigid_bed_is_the_plate_pull_off() {
    // Plates glued on concrete come off at P = b sqrt(2 Gf E t) (B. Taljsten, from memory): the ply carries all the force at
    // the crack and none beyond. Here the member left is the ply itself and what it is glued to is rigid.
    let (plate, gf) = (165e9 * 0.0012, 800.0);
    let held = cap_ply_end::held_n_m(plate, 1e18, gf);
    assert!((held / (2.0 * gf * plate).sqrt() - 1.0).abs() < 1e-6);
    // One ply of an unloaded end weighs nothing against a thick cap: more left, more held; thicker ply, less.
    assert!(cap_ply_end::held_n_m(2.0 * plate, plate, gf) > cap_ply_end::held_n_m(plate, plate, gf));
    assert!(cap_ply_end::held_n_m(plate, 2.0 * plate, gf) < cap_ply_end::held_n_m(plate, plate, gf));
    assert!(cap_ply_end::held_n_m(plate, 0.0, gf).is_infinite());
}

#[test]
fn hinge_moment_by_the_books_coefficient() {
    // Houghton and Carpenter, Aerodynamics for Engineering Students, 4.5.1, hinge moment of a thin flapped aerofoil (read):
    // b2 = -((1 - cos 2 phi) - 2 (pi - phi)^2 (1 - 2 cos phi) + 4 (pi - phi) sin phi)/(4 pi F^2).
    for flap in [0.15, 0.22, 0.30, 0.5] {
        let phi = f64::acos(2.0 * flap - 1.0);
        let left = PI - phi;
        let b2 = ((1.0 - (2.0 * phi).cos()) - 2.0 * left * left * (1.0 - 2.0 * phi.cos()) + 4.0 * left * phi.sin())
            / (4.0 * PI * flap * flap);
        let here = control_rib::by_flap(flap).moment / (flap * flap);
        assert!((here / b2 - 1.0).abs() < 1e-9, "{flap}: {here} {b2}");
    }
}

#[test]
fn flap_load_by_summing_the_vortices() {
    // Computed independently: the thin-aerofoil load of a flap as its Fourier series (Houghton and Carpenter, eq. 4.51 and
    // before), summed to 4000 terms with Lanczos factors and integrated over the flap; incidence by cot(theta/2).
    for flap in [0.22, 0.3] {
        let phi = f64::acos(2.0 * flap - 1.0);
        let steps = 3000;
        let (mut force, mut moment, mut plate) = (0.0, 0.0, (0.0, 0.0));
        for i in 0..steps {
            let th = phi + (PI - phi) * (f64::from(i) + 0.5) / f64::from(steps);
            let series: f64 = (1..400)
                .map(|n| {
                    let n = f64::from(n);
                    let sigma = (PI * n / 400.0).sin() / (PI * n / 400.0);
                    2.0 * sigma * (n * phi).sin() * (n * th).sin() / n
                })
                .sum();
            let cot = (1.0 + th.cos()) / th.sin();
            let load = 4.0 / PI * ((PI - phi) * cot + series);
            let dx = 0.5 * th.sin() * (PI - phi) / f64::from(steps);
            let arm = 0.5 * (phi.cos() - th.cos());
            force += load * dx;
            moment += load * arm * dx;
            plate.0 += 4.0 * cot * dx;
            plate.1 += 4.0 * cot * arm * dx;
        }
        let (turn, alpha) = (control_rib::by_flap(flap), control_rib::by_incidence(flap));
        assert!((force / turn.force - 1.0).abs() < 0.01, "{flap} {force} {}", turn.force);
        assert!((moment / turn.moment - 1.0).abs() < 0.005, "{flap} {moment} {}", turn.moment);
        assert!((plate.0 / alpha.force - 1.0).abs() < 1e-4 && (plate.1 / alpha.moment - 1.0).abs() < 1e-4);
        // The flap carries part of the lift it makes, and the plate's share is what lies behind the hinge.
        assert!(turn.force < plain_flap(flap).0);
        assert!((alpha.force / (2.0 * PI) - (1.0 - lift_share_ahead(1.0 - flap))).abs() < 1e-12);
    }
}

#[test]
fn a_part_loaded_beam() {
    // Even load over the whole length: w L^2/8 (any text). Over half of it, next to a support: 9 w L^2/128 (Roark, table of
    // beams; any text). Triangular remainder by summing: computed independently.
    let (w, l) = (750.0, 0.42);
    assert!((edge_under_covering::part_loaded_nm(w, l, l) / (w * l * l / 8.0) - 1.0).abs() < 1e-12);
    assert!((edge_under_covering::part_loaded_nm(w, l / 2.0, l) / (9.0 * w * l * l / 128.0) - 1.0).abs() < 1e-12);
    let a = 0.31;
    let end = w * a * (1.0 - a / (2.0 * l));
    let most = (0..=4200)
        .map(|i| f64::from(i) * 1e-4)
        .map(|x| end * x - w * x.min(a) * (x - x.min(a) / 2.0))
        .fold(0.0, f64::max);
    assert!((edge_under_covering::part_loaded_nm(w, a, l) / most - 1.0).abs() < 1e-5);
    // A strip in its plane: M/(E W) with W = t b^2/6.
    let (e, t, b) = (100e9, 1e-3, 15e-3);
    assert!(
        (edge_under_covering::strip_strain(10.0, e, t * b, b) / (10.0 / (e * t * b * b / 6.0)) - 1.0).abs() < 1e-12
    );
}

#[test]
fn a_small_load_on_a_square_plate() {
    // Computed independently: Navier's double series for an even load on a small square u x u in the middle of a simply
    // supported square plate; a square of side u acts as a circle of radius 0.57 u (Timoshenko and Woinowsky-Krieger).
    let (b, nu) = (0.35, 0.3);
    let radius = 0.03;
    let u = radius / 0.57;
    let (mut xx, mut yy) = (0.0, 0.0);
    for m in (1..400).step_by(2) {
        for n in (1..400).step_by(2) {
            let (mf, nf) = (f64::from(m), f64::from(n));
            let half = |k: f64| (k * PI * u / (2.0 * b)).sin();
            let q = 16.0 / (u * u * PI * PI * mf * nf) * half(mf) * half(nf);
            let (kx, ky) = (mf * PI / b, nf * PI / b);
            let w = q / (kx * kx + ky * ky).powi(2);
            xx += w * kx * kx;
            yy += w * ky * ky;
        }
    }
    let most = xx + nu * yy;
    let roark = moment_per_load(b, radius, nu);
    assert!((roark / most - 1.0).abs() < 0.03, "{roark} {most}");
}

#[test]
fn carried_weight_of_two_palms() {
    // Statics by hand: half of the budget weight of the wing at the carrying factor, on two palms.
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/marram-mixed.toml");
    let d = load(&path).unwrap().design;
    let e = evaluate(&d, &Assumptions::default());
    let m = e.margins.iter().find(|m| m.mode == "holds").unwrap();
    let by_hand = 0.5 * 9.80665 * e.weight.budget_kg * d.service.carry_factor / 2.0;
    // What hangs at the root (y = 0) is carried by nobody's palm out here.
    assert!(m.applied / 1.5 <= by_hand * 1.001 && m.applied / 1.5 > 0.8 * by_hand, "{} {by_hand}", m.applied);
    // Crush and plug of a core of 0.8 and 0.5 MPa, 10 mm deep: pi r^2 and 2 pi r d by hand.
    let (crush, plug) = holds::core_stands_n(0.8e6, 0.5e6, PALM_M, 0.010);
    assert!((crush - 2261.9).abs() < 0.1 && (plug - 942.5).abs() < 0.1);
}
