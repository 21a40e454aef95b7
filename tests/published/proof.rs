//! Proof load by bags against the check cases of the airloads reference, section 7.

use std::f64::consts::PI;

use thistledown::physics::loads::beam::{Piece, sums};
use thistledown::physics::loads::limits::shipped;
use thistledown::physics::loads::proof::{Span, bags_on, total_kg, whole_bags};
use thistledown::physics::units::GRAVITY_M_S2;

fn near(got: f64, want: f64, rel: f64) {
    assert!((got - want).abs() <= rel * want.abs(), "got {got}, want {want}, rel {}", (got / want - 1.0).abs());
}

#[test]
fn published_sandbag_test() {
    // proof-01: builder's page (graal-aero.fr): 180 kg without wings, panel 34 kg; eleven 30 kg bags for 4 g, two for 1 g.
    near(total_kg(4.0, 180.0, 34.0), 326.0, 1e-9);
    near(total_kg(1.0, 180.0, 34.0), 56.0, 1e-9);
    assert_eq!(whole_bags(total_kg(4.0, 180.0, 34.0), 30.0), 11);
    assert_eq!(whole_bags(total_kg(1.0, 180.0, 34.0), 30.0), 2);
}

#[test]
fn bays_at_plus_four() {
    // proof-04: Schrenk air load (mean of planform and ellipse), mass as the chord; 145/42 kg, semispan 6 m, taper 0.4.
    let chord = |y: f64| 12.0 / 6.0 / 1.4 * (1.0 - 0.6 * y / 6.0);
    let schrenk = |y: f64| 0.5 * (chord(y) + 4.0 * 12.0 / (PI * 12.0) * (1.0 - y * y / 36.0).sqrt());
    let mass = |y: f64| 42.0 / 12.0 * chord(y);
    let net = |y: f64| 4.0 * GRAVITY_M_S2 * (145.0 / 12.0 * schrenk(y) - mass(y));
    let edges = [0.0, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0];
    let fine = |f: &dyn Fn(f64) -> f64| {
        let h = 6.0 / 6000.0;
        let pieces: Vec<Piece> = (0..6000)
            .rev()
            .map(|i| {
                let y = (f64::from(i) + 0.5) * h;
                Piece { from_m: y - 0.5 * h, to_m: y + 0.5 * h, load: f(y), ..Piece::default() }
            })
            .collect();
        sums(&edges, pieces.into_iter())
    };
    let (loads, masses) = (fine(&net), fine(&mass));
    for (s, want) in loads.iter().zip([5159.2, 3358.4, 1982.6, 1004.4, 386.12, 76.478]) {
        near(s.arm, want, 0.001);
    }
    let want = [39.675, 37.849, 35.067, 31.116, 25.465, 15.828];
    let places = [0.4971, 1.495, 2.4921, 3.4875, 4.4776, 5.4243];
    let mut total = 0.0;
    for sign in [1.0, -1.0] {
        for k in 0..6 {
            let own = masses[k].force - masses[k + 1].force;
            let span = Span {
                from_m: edges[k],
                to_m: edges[k + 1],
                shear_n: [sign * loads[k].force, sign * loads[k + 1].force],
                moment_nm: [sign * loads[k].arm, sign * loads[k + 1].arm],
                mass_kg: own,
                mass_y_m: edges[k] + (masses[k].arm - masses[k + 1].arm - masses[k + 1].force) / own,
            };
            let (kg, y) = bags_on(&span, sign > 0.0);
            near(kg, want[k], 0.001);
            near(y, places[k], 0.001);
            total += kg;
        }
    }
    // 185 kg a side, the same heap for the mirrored case.
    near(total / 2.0, 185.0, 0.001);
    near(total / 2.0, total_kg(4.0, 103.0, 21.0), 0.001);
}

#[test]
fn published_panel_without_relief() {
    // proof-03: 1134 lb on one panel called 4 g by the maker (no relief taken): 567 lb gross.
    near(total_kg(4.0, 567.0, 0.0), 1134.0, 1e-9);
}

#[test]
fn university_ultimate() {
    // proof-05: two German student flying groups test to 1.725 of limit: 1.5 times a composite allowance of 1.15.
    let mut set = shipped("foot_launched").expect("shipped");
    set.extra_factor = 1.15;
    near(set.safety_factor * set.extra_factor, 1.725, 1e-9);
}
