//! Joints and details: ends of cap layers, bonds in peel, controls on their hinges, edges under covering, holds.

use std::f64::consts::PI;

use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::durability::panel::moment_per_load;
use thistledown::physics::durability::press::PALM_M;
use thistledown::physics::evaluation::evaluate;
use thistledown::physics::laminate::construction::Stiffness;
use thistledown::physics::loads::section::{lift_share_ahead, plain_flap};
use thistledown::physics::strength::bond_peel::Bond;
use thistledown::physics::strength::panel::{Panel, mode_resistance};
use thistledown::physics::strength::{cap_ply_end, control_rib, edge_under_covering, holds, membrane};
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
    // so G = P^2 a^2/(B E I) = 12 P^2 a^2/(B^2 E h^3). Numbers here: steel-like arms. Each arm gives half of it.
    let (e, h, b, a, p) = (210e9, 0.010, 0.020, 0.10, 500.0);
    let g = 12.0 * f64::powi(p * a, 2) / (b * b * e * f64::powi(h, 3));
    let d_nm = e * f64::powi(h, 3) / 12.0;
    let released = |bed_n_m3: f64| {
        let w = Bond { d_nm, bed_n_m3, width_m: 1.0 }.gives_m(p / b, p / b * a);
        bed_n_m3 * w * w / 2.0
    };
    let stiff = released(1e26);
    assert!((2.0 * stiff / g - 1.0).abs() < 1e-3, "{}", 2.0 * stiff / g);
    // On the arm's own half depth, k = 2 E/h: the length grows by 0.64 h (M. F. Kanninen 1973, from memory).
    let soft = (released(2.0 * e / h) / g * 2.0).sqrt();
    assert!((soft - (1.0 + 0.64 * h / a)).abs() < 1e-3, "{soft}");
}

#[test]
fn the_end_of_a_bond_gives_as_a_beam_on_springs() {
    // Computed independently: the same beam, free at its far end, by second differences, from a narrow bond to an endless one.
    let (d_nm, k) = (54.0, 3.0e9);
    let (v, m) = (60.0, 4.0);
    for width_m in [0.006, 0.012, 0.024, 0.06, 0.30] {
        let n = 240;
        let h = width_m / f64::from(n);
        let bond = Bond { d_nm, bed_n_m3: k, width_m };
        for (v, m) in [(v, 0.0), (0.0, m), (v, m)] {
            let w = beam_on_springs((d_nm, h, n as usize), |_| k, |_| 0.0, (v, m))[0];
            let here = bond.gives_m(v, m);
            assert!((w / here - 1.0).abs() < 0.01, "{width_m} {v} {m}: {w} {here}");
        }
    }
    // Statics by hand: a stiff bar on even springs, pushed at one end, gives 4 V/(k l) there, and 6 M/(k l^2) turned.
    let bond = Bond { d_nm: 1e6, bed_n_m3: k, width_m: 0.010 };
    assert!((bond.gives_m(v, 0.0) / (4.0 * v / (k * 0.010)) - 1.0).abs() < 1e-3);
    assert!((bond.gives_m(0.0, m) / (6.0 * m / (k * 1e-4)) - 1.0).abs() < 1e-3);
    // Hetenyi, Beams on Elastic Foundation (1946), eqs 37a and 38a (page read): at the ends of a beam loaded alike at both,
    // y = 2 P lambda/k (cosh + cos)/(sinh + sin), y = 2 M lambda^2/k (sinh - sin)/(sinh + sin). Far apart, one end is alone.
    let lambda = (k / (4.0 * d_nm)).powf(0.25);
    let x = lambda * 0.2;
    let bond = Bond { d_nm, bed_n_m3: k, width_m: 0.2 };
    let (by_force, by_moment) =
        ((x.cosh() + x.cos()) / (x.sinh() + x.sin()), (x.sinh() - x.sin()) / (x.sinh() + x.sin()));
    assert!((bond.gives_m(v, 0.0) / (2.0 * v * lambda / k * by_force) - 1.0).abs() < 1e-4);
    assert!((bond.gives_m(0.0, m) / (2.0 * m * lambda * lambda / k * by_moment) - 1.0).abs() < 1e-4);
}

#[test]
fn a_peeled_bay_releases_what_its_energy_loses() {
    // Computed independently: a bay under pressure bonded along both edges, by second differences, its free part a little
    // longer and a little shorter at the cost of the bonds; the slope of the energy against the formula at the end of the bond.
    let (d_nm, k, p) = (54.0, 3.0e9, 1500.0);
    let h = 1.25e-4;
    for (width_m, span) in [(0.06, 0.30), (0.012, 0.20), (0.008, 0.40)] {
        let total: f64 = span + 2.0 * width_m;
        let n = (total / h).round() as usize;
        let energy = |free: f64| {
            let bonded = (total - free) / 2.0;
            // A node on the edge of the bond has half of each.
            let share = |x: f64| {
                let inside = (x - bonded).min(total - bonded - x) / h;
                (inside + 0.5).clamp(0.0, 1.0)
            };
            let w = beam_on_springs((d_nm, h, n), |x| k * (1.0 - share(x)), |x| p * share(x), (0.0, 0.0));
            0.5 * w.iter().enumerate().map(|(i, w)| p * share(i as f64 * h) * w * h).sum::<f64>()
        };
        // Two ends creep by half of what the free part grows.
        let step = 8.0 * h;
        let bond = Bond { d_nm, bed_n_m3: k, width_m };
        let per_front = (energy(span + step) - energy(span - step)) / (2.0 * step);
        let here = bond.released_j_m2(p, span);
        assert!((per_front / here - 1.0).abs() < 0.03, "{width_m} {span}: {per_front} {here}");
    }
    // A bond that gives nothing clamps the edge: p b^2/12 (any text). A narrow one holds less.
    let (b, wide) = (0.25, Bond { d_nm, bed_n_m3: 1e16, width_m: 0.05 });
    assert!((wide.edge_moment_n(p, b) / (p * b * b / 12.0) - 1.0).abs() < 1e-2);
    assert!(Bond { width_m: 0.005, bed_n_m3: k, d_nm }.edge_moment_n(p, b) < 0.5 * p * b * b / 12.0);
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

/// Bay of one even sheet.
fn sheet((length_m, width_m): (f64, f64), (e, t, nu): (f64, f64, f64), radius_m: f64) -> Panel {
    let of = |k: f64| Stiffness { s11: k, s12: nu * k, s22: k, s66: 0.5 * (1.0 - nu) * k, ..Stiffness::default() };
    let a = e * t / (1.0 - nu * nu);
    Panel { length_m, width_m, d: of(a * t * t / 12.0), a: of(a), s_n_m: f64::INFINITY, radius_m }
}

#[test]
fn a_small_load_on_a_plate() {
    // Roark's Formulas, 7th ed., table 11.4, case 1b (page read): 3 W/(2 pi t^2) ((1 + nu) ln(2 b/(pi r)) + beta), which is
    // 6 M/t^2; beta 0.435, 0.650, 0.789, 0.875, 0.927, 0.958, 1.000 for a/b 1 to 2 and endless. A square acts as a circle of
    // 0.57 of its side (Timoshenko and Woinowsky-Krieger, from memory); as large as the palm is 0.564.
    let (b, nu, radius) = (0.35, 0.3, 0.03);
    for (ratio, beta) in
        [(1.0, 0.435), (1.2, 0.650), (1.4, 0.789), (1.6, 0.875), (1.8, 0.927), (2.0, 0.958), (3.0, 1.0)]
    {
        let stress = 3.0 / (2.0 * PI) * ((1.0 + nu) * (2.0 * b / (PI * radius)).ln() + beta);
        let along = holds::under_palm(&sheet((b * ratio, b), (70e9, 0.002, nu), f64::INFINITY), radius * PI.sqrt());
        assert!((6.0 * along.moment.1 / stress - 1.0).abs() < 0.035, "{ratio}: {} {stress}", 6.0 * along.moment.1);
        // Turned, the same; and no membrane force in a flat plate.
        let across = holds::under_palm(&sheet((b, b * ratio), (70e9, 0.002, nu), f64::INFINITY), radius * PI.sqrt());
        assert!((across.moment.0 / along.moment.1 - 1.0).abs() < 1e-9);
        assert!(along.membrane_per_m == (0.0, 0.0));
    }
    // The square plate of the handling events is the first column.
    let square = 3.0 / (2.0 * PI) * ((1.0 + nu) * (2.0 * b / (PI * radius)).ln() + 0.435) / 6.0;
    assert!((moment_per_load(b, radius, nu) / square - 1.0).abs() < 1e-9);
}

#[test]
fn a_pinched_cylinder_gives_what_is_published() {
    // Lindberg, Olson and Cowper 1969 (value from memory): a cylinder of R 300, L 600, t 3, E 3e6, nu 0.3 on end diaphragms,
    // pinched by two unit forces, gives 1.8248e-5 under each. Donnell's K, as the bay under a palm has it, is 2 % stiff here:
    // it leaves out what matters where few waves go round. Waves: sin(m pi x/L) cos(n theta), n even.
    let (r, l) = (300.0, 600.0);
    let p = sheet((l, PI * r), (3e6, 3.0, 0.3), r);
    let mut gives = 0.0;
    for m in (1..400).step_by(2) {
        for n in (0..400).step_by(2) {
            let load = 2.0 / l * 2.0 / (PI * r) * if n == 0 { 0.5 } else { 1.0 };
            gives += load / mode_resistance(&p, f64::from(m), f64::from(n));
        }
    }
    assert!((gives / 1.8248e-5 - 1.0).abs() < 0.025, "{gives}");
    // An arch carries: a bay curved bends less than flat, presses its skin, and nothing is lost as it straightens.
    let bay = |radius: f64| holds::under_palm(&sheet((0.21, 0.35), (60e9, 0.004, 0.3), radius), 0.053);
    let (flat, slight, curved) = (bay(f64::INFINITY), bay(50.0), bay(0.4));
    assert!((slight.moment.0 / flat.moment.0 - 1.0).abs() < 0.01 && curved.moment.0 < 0.8 * flat.moment.0);
    assert!(curved.membrane_per_m.1 > 1.0 && slight.membrane_per_m.1 < 0.2 * curved.membrane_per_m.1);
}

/// Values at the nodes of a grid.
type Field = Vec<Vec<f64>>;

#[test]
fn plate_and_arch_under_a_palm_balance_it() {
    // Computed independently: the same bay by second differences of Donnell's two equations, `D lap^2 w - F,xx/R = q` and
    // `lap^2 F/(E t) = -w,xx/R`, edges simply supported; four Poisson equations by turns, relaxed until they stand still.
    let (a, b, e, t, nu, radius) = (0.21, 0.28, 60e9, 0.004, 0.3, 1.1);
    let (n, m) = (42usize, 56usize);
    let h = a / n as f64;
    let u = 12.0 * h;
    let d = e * t * t * t / (12.0 * (1.0 - nu * nu));
    let q = |i: usize, j: usize| {
        let inside = |k: usize, of: usize| {
            let x = (k as f64 - of as f64 / 2.0).abs() * h;
            if x < u / 2.0 - 1e-9 {
                1.0
            } else if x < u / 2.0 + 1e-9 {
                0.5
            } else {
                0.0
            }
        };
        inside(i, n) * inside(j, m) / (u * u)
    };
    // Lap of a field is given, nothing on the edges.
    let poisson = |f: &mut Field, right: &dyn Fn(usize, usize) -> f64| {
        let omega = 1.92;
        for _ in 0..260 {
            for i in 1..n {
                for j in 1..m {
                    let new = 0.25 * (f[i - 1][j] + f[i + 1][j] + f[i][j - 1] + f[i][j + 1] - h * h * right(i, j));
                    f[i][j] += omega * (new - f[i][j]);
                }
            }
        }
    };
    let zero = || vec![vec![0.0; m + 1]; n + 1];
    let xx = |f: &Field, i: usize, j: usize| (f[i - 1][j] - 2.0 * f[i][j] + f[i + 1][j]) / (h * h);
    let (mut w, mut lap_w, mut force, mut lap_f) = (zero(), zero(), zero(), zero());
    for _ in 0..60 {
        let before = w.clone();
        poisson(&mut lap_f, &|i, j| -e * t * xx(&before, i, j) / radius);
        let g = lap_f.clone();
        poisson(&mut force, &|i, j| g[i][j]);
        let f = force.clone();
        poisson(&mut lap_w, &|i, j| (q(i, j) + xx(&f, i, j) / radius) / d);
        let g = lap_w.clone();
        let mut new = before.clone();
        poisson(&mut new, &|i, j| g[i][j]);
        for i in 1..n {
            for j in 1..m {
                w[i][j] = 0.6 * before[i][j] + 0.4 * new[i][j];
            }
        }
    }
    let (i, j) = (n / 2, m / 2);
    let yy = |f: &Field| (f[i][j - 1] - 2.0 * f[i][j] + f[i][j + 1]) / (h * h);
    let moment = (-d * (xx(&w, i, j) + nu * yy(&w)), -d * (yy(&w) + nu * xx(&w, i, j)));
    let here = holds::under_palm(&sheet((a, b), (e, t, nu), radius), u);
    assert!((here.moment.0 / moment.0 - 1.0).abs() < 0.04, "{here:?} {moment:?}");
    assert!((here.moment.1 / moment.1 - 1.0).abs() < 0.04, "{here:?} {moment:?}");
    let hoop = xx(&force, i, j).abs();
    assert!((here.membrane_per_m.1 / hoop - 1.0).abs() < 0.04, "{here:?} {hoop}");
}

#[test]
fn hinge_reactions_of_a_beam_over_equal_spans() {
    // Brockenbrough, Civil Engineering Formulas, table 2.1 (page read): reactions of an evenly loaded beam over equal spans,
    // share of the load of one span: 3 supports 10/8, 4: 11/10, 5: 32/28, 6: 43/38, 7: 118/104, 8: 161/142.
    let inner = [10.0 / 8.0, 11.0 / 10.0, 32.0 / 28.0, 43.0 / 38.0, 118.0 / 104.0, 161.0 / 142.0];
    for (i, most) in inner.iter().enumerate() {
        let supports = 3.0 + i as f64;
        let share = control_rib::reaction_share(supports) * (supports - 1.0);
        assert!(share >= *most - 1e-9 && share < 1.15 * most, "{supports}: {share} {most}");
    }
    assert!((control_rib::reaction_share(2.0) - 0.5).abs() < 1e-12);
    assert!((control_rib::reaction_share(1.0) - 1.0).abs() < 1e-12);
    // Computed independently: three moments at equal spans, solved for five supports: 8/28, 32/28, 26/28 ... (the table's own).
    let m = solve(vec![[0.0, 0.0, 4.0, 1.0, 0.0], [0.0, 1.0, 4.0, 1.0, 0.0], [0.0, 1.0, 4.0, 0.0, 0.0]], vec![-0.5; 3]);
    let second = 0.5 - m[0] + 0.5 + (m[1] - m[0]);
    assert!((second - 32.0 / 28.0).abs() < 1e-12, "{second}");
}

#[test]
fn a_covered_panel_pulls_its_edges_less_than_a_strip() {
    // Computed independently: a net of cables crossing, held on four sides, each cable of even tension `T0 + Et/(2 l) int w'^2`,
    // solved on a grid by turns; without stiffness in shear it sags and pulls more than a sheet. What the trailing
    // edge is asked for is more than any cable pulls, along the shorter side or the longer.
    let (et, p, short) = (150e3, 500.0, 0.3);
    for (ratio, t0) in [(1.0, 0.0), (1.4, 0.0), (2.0, 0.0), (1.0, 250.0), (1.4, 250.0)] {
        let (n, m) = (16usize, (16.0 * ratio) as usize);
        let h = short / n as f64;
        let mut w = vec![vec![0.0_f64; n + 1]; m + 1];
        // Cables along the long side, one for each j; along the short side, one for each i.
        let (mut along, mut across) = (vec![t0 + 300.0; n + 1], vec![t0 + 300.0; m + 1]);
        for _ in 0..400 {
            for _ in 0..4 {
                for i in 1..m {
                    for j in 1..n {
                        let (ta, tc) = (along[j], across[i]);
                        let pull = ta * (w[i - 1][j] + w[i + 1][j]) + tc * (w[i][j - 1] + w[i][j + 1]);
                        let new = (p * h * h + pull) / (2.0 * (ta + tc));
                        w[i][j] += 1.5 * (new - w[i][j]);
                    }
                }
            }
            let stretched = |d: f64, l: f64| t0 + et * d / (2.0 * l * h);
            for j in 1..n {
                let d: f64 = (0..m).map(|i| (w[i + 1][j] - w[i][j]).powi(2)).sum();
                along[j] = 0.5 * (along[j] + stretched(d, h * m as f64));
            }
            for i in 1..m {
                let d: f64 = (0..n).map(|j| (w[i][j + 1] - w[i][j]).powi(2)).sum();
                across[i] = 0.5 * (across[i] + stretched(d, short));
            }
        }
        // The grid carries the load: what the edges take up is what the air brings on the inner nodes.
        let up: f64 = (1..n).map(|j| along[j] * (w[1][j] + w[m - 1][j]) / h * h).sum::<f64>()
            + (1..m).map(|i| across[i] * (w[i][1] + w[i][n - 1]) / h * h).sum::<f64>();
        let brought = p * h * h * ((n - 1) * (m - 1)) as f64;
        assert!((up / brought - 1.0).abs() < 0.01, "{ratio}: {up} {brought}");
        let strip = membrane::tension(p, short, et, t0);
        let most = |t: &[f64], from: usize| t[1..from].iter().copied().fold(0.0, f64::max);
        let (long_ways, short_ways) = (most(&along, n), most(&across, m));
        let tension = |span: f64| membrane::tension(p, span, et, t0);
        let asked = |pitch: f64, arc: f64| edge_under_covering::edge_pull_n_m((pitch, arc), &tension);
        let (over_arc, over_pitch) = (asked(short * ratio, short), asked(short, short * ratio));
        assert!(
            over_arc == strip && short_ways < strip && short_ways > 0.6 * strip,
            "{ratio} {t0}: {short_ways} {strip}"
        );
        assert!(long_ways < over_pitch && long_ways > 0.5 * over_pitch, "{ratio} {t0}: {long_ways} {over_pitch}");
    }
}

#[test]
fn carried_weight_of_two_palms() {
    // Statics by hand: half of the budget weight of the wing and of what is fixed to it (keel, boom, tail) at the carrying factor, on two
    // palms: the hands outboard lift all of it.
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/marram-mixed.toml");
    let d = load(&path).unwrap().design;
    let e = evaluate(&d, &Assumptions::default());
    let m = e.margins.iter().find(|m| m.mode == "holds").unwrap();
    let fixed: f64 = d.aboard.masses.iter().filter(|m| !m.wing).map(|m| m.mass_kg).sum();
    let by_hand = 0.5 * 9.80665 * (e.weight.budget_kg + fixed) * d.service.carry_factor / 2.0;
    assert!((m.applied / 1.5 / by_hand - 1.0).abs() < 1e-9, "{} {by_hand}", m.applied);
    assert_eq!(e.loads.cases[m.case.unwrap()].key, "carried_two");
    // Crush and plug of a core of 0.8 and 0.5 MPa, 10 mm deep: pi r^2 and 2 pi r d by hand.
    let (crush, plug) = holds::core_stands_n(0.8e6, 0.5e6, PALM_M, 0.010);
    assert!((crush - 2261.9).abs() < 0.1 && (plug - 942.5).abs() < 0.1);
}
