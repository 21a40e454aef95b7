//! Twist, sweep and roll against another way of the same: finite differences, cuts by hand, limits.

use std::f64::consts::PI;
use std::path::Path;

use super::handling::near;
use thistledown::physics::design::Design;
use thistledown::physics::loads::beam::{Piece, sums};
use thistledown::physics::loads::divergence::{Flap, Torsion, divergence_pa, effectiveness, reversal_pa};
use thistledown::physics::wing::planform::{leading_edge_m, sweep_tan};

fn demo(name: &str) -> Design {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("scenarios/marram-{name}.toml"));
    thistledown::scenario::load(&path).unwrap().design
}

/// Twist and roll of a half wing of straight-tapered chord and GJ by finite differences: chord 1 - 0.5 y, GJ 1 - 0.7 y,
/// e 0.08 + 0.06 y, control share y. Its rolling moment over the rigid wing's at q.
fn by_differences(q: f64) -> f64 {
    let (n, a, cl, cm) = (4000, 2.0 * PI, 3.0, -0.6);
    let h = 1.0 / f64::from(n);
    let y = |i: usize| (i as f64 + 0.5) * h;
    let gj = |y: f64| 1.0 - 0.7 * y;
    let (chord, e) = (|y: f64| 1.0 - 0.5 * y, |y: f64| 0.08 + 0.06 * y);
    let n = n as usize;
    let (mut diagonal, mut right, mut over) = (vec![0.0; n], vec![0.0; n], vec![0.0; n]);
    for i in 0..n {
        let (inner, outer) =
            (gj(i as f64 * h) / (h * h), if i + 1 < n { gj((i + 1) as f64 * h) / (h * h) } else { 0.0 });
        let c = chord(y(i));
        diagonal[i] = outer + if i == 0 { 2.0 * inner } else { inner } - q * a * e(y(i)) * c * c;
        right[i] = q * c * c * (e(y(i)) * cl + cm) * y(i);
        over[i] = -outer;
    }
    for i in 1..n {
        let w = over[i - 1] / diagonal[i - 1];
        diagonal[i] -= w * over[i - 1];
        right[i] -= w * right[i - 1];
    }
    let mut twist = vec![0.0; n];
    for i in (0..n).rev() {
        twist[i] = (right[i] - over[i] * twist.get(i + 1).copied().unwrap_or(0.0)) / diagonal[i];
    }
    let (mut bent, mut rigid) = (0.0, 0.0);
    for (i, t) in twist.iter().enumerate() {
        rigid += chord(y(i)) * cl * y(i) * y(i);
        bent += chord(y(i)) * (cl * y(i) + a * t) * y(i);
    }
    bent / rigid
}

#[test]
fn a_tapered_wing_loses_its_control_as_by_finite_differences() {
    // Computed independently: the differences above, 4000 cells, against ten marched stations with everything linear between.
    let y: Vec<f64> = (0..=10).map(|i| f64::from(i) / 10.0).collect();
    let of = |f: fn(f64) -> f64| y.iter().map(|y| f(*y)).collect::<Vec<_>>();
    let (chord, gj, e) = (of(|y| 1.0 - 0.5 * y), of(|y| 1.0 - 0.7 * y), of(|y| 0.08 + 0.06 * y));
    let wing = Torsion { y_m: &y, chord_m: &chord, gj_nm2: &gj, e_frac: &e, slope_per_rad: 2.0 * PI };
    let flap = Flap { share: &y, cl_per_rad: 3.0, cm_per_rad: -0.6, axis_frac: &[] };
    let most = divergence_pa(&wing).unwrap();
    for part in [0.1, 0.3, 0.5] {
        let want = by_differences(part * most);
        assert!((effectiveness(&wing, &flap, part * most).unwrap() - want).abs() < 1e-3, "{part}: {want}");
    }
    let (mut low, mut high) = (0.0, 0.98 * most);
    for _ in 0..40 {
        let middle = f64::midpoint(low, high);
        if by_differences(middle) > 0.0 { low = middle } else { high = middle }
    }
    near(reversal_pa(&wing, &flap).unwrap(), low, 1e-3);
}

#[test]
fn a_swept_load_cut_in_the_middle() {
    // Statics by hand: 10 N/m from 1 to 3 m, its line at 0.5 m aft in the middle and 0.2 m further aft each metre out. Cut at 2 m: 10 N,
    // 5 N m, its middle 0.6 m aft; whole: 20 N, 40 N m, 0.5 m aft.
    let p = Piece { from_m: 1.0, to_m: 3.0, load: 10.0, x_m: 0.5, x_slope: 0.2, couple: 0.0 };
    let s = sums(&[0.0, 2.0, 4.0], std::iter::once(p));
    for (got, want) in [(s[1].force, 10.0), (s[1].arm, 5.0), (s[1].fore_aft, 6.0)] {
        near(got, want, 1e-12);
    }
    for (got, want) in [(s[0].force, 20.0), (s[0].arm, 40.0), (s[0].fore_aft, 10.0)] {
        near(got, want, 1e-12);
    }
}

#[test]
fn lines_of_a_swept_tapered_planform() {
    // Geometry by hand: 12 m span, 12 m2, taper 0.5, so chords 1.3333 and 0.6667 m, quarter chord swept 10 degrees. The leading edge at
    // the tip: 0.33333 + 6 tan 10 - 0.16667; slope of the line at k: that of its ends.
    let mut p = demo("mixed").planform;
    (p.span_m, p.area_m2, p.taper, p.sweep_rad) = (12.0, 12.0, 0.5, 10.0_f64.to_radians());
    near(leading_edge_m(&p, 1.0), 1.0 / 3.0 + 6.0 * p.sweep_rad.tan() - 1.0 / 6.0, 1e-12);
    for k in [0.0, 0.25, 0.4, 0.7, 1.0] {
        near(sweep_tan(&p, k), (leading_edge_m(&p, 1.0) + k * 2.0 / 3.0 - k * 4.0 / 3.0) / 6.0, 1e-9);
    }
}

#[test]
fn a_wing_of_three_stations_rolls_as_the_same_wing_of_three_hundred() {
    // Computed independently: chord, stiffness, axis and control run straight between stations, so the same wing told by many stations in
    // between is the same wing. A strong taper in two long bays, so that the places looked at inside a bay count.
    let whole = ([1.4, 0.9, 0.4], [9000.0, 3000.0, 400.0], [0.15, 0.22, 0.35], [0.0, 0.6, 1.0], [0.10, 0.18, 0.30]);
    let finer = |v: &[f64; 3]| -> Vec<f64> {
        (0..=300)
            .map(|i| (i / 150, (i % 150) as f64 / 150.0))
            .map(|(k, t)| v[k.min(2)] + t * (v[(k + 1).min(2)] - v[k.min(2)]))
            .collect()
    };
    let y = [0.0, 3.0, 6.0];
    // Of the pressure at which it diverges, 412 Pa within one in a hundred either way.
    let effect = |part: f64, fine: bool| {
        let of = |v: &[f64; 3]| if fine { finer(v) } else { v.to_vec() };
        let (y, chord, gj, e, share, axis) =
            (of(&y), of(&whole.0), of(&whole.1), of(&whole.2), of(&whole.3), of(&whole.4));
        let wing = Torsion { y_m: &y, chord_m: &chord, gj_nm2: &gj, e_frac: &e, slope_per_rad: 2.0 * PI };
        let flap = Flap { share: &share, cl_per_rad: 3.0, cm_per_rad: -0.6, axis_frac: &axis };
        near(divergence_pa(&wing).unwrap(), 412.0, 0.01);
        effectiveness(&wing, &flap, part * 412.0).unwrap()
    };
    for part in [0.1, 0.3, 0.5] {
        let (coarse, fine) = (effect(part, false), effect(part, true));
        assert!((coarse - fine).abs() < 1e-3, "{part}: {coarse} {fine}");
    }
}
