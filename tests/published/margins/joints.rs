//! Margins of the fittings of the joint, worked again by hand.

use std::f64::consts::PI;

use super::super::by_hand::{input, of, spar_slope};
use super::super::handling::near;
use super::{demo, done};
use thistledown::physics::loads::internal::CaseLoads;

#[test]
fn pins_of_the_centre_joint() {
    // By hand: two pins above and two below, half of the root moment's couple each side over the spread. Steel of property class
    // 10.9 has 1040 MPa (ISO 898-1, from memory); shear 0.6 of it over two faces. The socket: two diameters, an allowance.
    let d = demo("mixed");
    let j = &d.joints[0];
    let e = done(&d);
    let m = of(&e, "joint_pins")[0];
    let root = e.layout.bays[0].inner.spar_depth_m;
    // What bends the wing in its plane pulls at the rear fitting and half of it at the pins of a side; fitting factor 1.15 of CS 22.625 (read).
    let slope = spar_slope(&e);
    let station = &e.layout.bays[0].inner;
    let behind = (j.rear_fitting_chord.unwrap() - station.spar_frac) * station.chord_m / (1.0 + slope * slope).sqrt();
    let pull = |l: &CaseLoads| l.moment_nm()[0].abs() / (j.pin_spread * root) + l.inplane_nm()[0].abs() / behind / 2.0;
    near(m.applied, 1.5 * 1.15 * e.loads.loads.iter().map(pull).fold(0.0, f64::max), 1e-9);
    assert!(input(m, "M in plane limit").abs() > 500.0, "air pulls the wing forward");
    let pins = f64::from(j.pins) / 2.0;
    let section = PI / 4.0 * j.pin_diameter_m.powi(2);
    let shear = 2.0 * 0.6 * 1040e6 * section;
    // Bent through that socket by lugs on both sides, EN 1993-1-8 (from memory): F (2 d + 2 t)/8 against 1.5 W 0.9 of 1040 MPa.
    let arm = (2.0 * j.pin_diameter_m + 2.0 * j.lug.unwrap().thickness_m) / 8.0;
    let bent = 1.5 * PI / 32.0 * j.pin_diameter_m.powi(3) * 0.9 * 1040e6 / arm;
    near(input(m, "shear and bending"), pins / (1.0 / shear).hypot(1.0 / bent), 0.05);
    near(input(m, "bearing"), pins * j.bearing_pa * 2.0 * j.pin_diameter_m.powi(2), 1e-9);
    near(m.allowable, input(m, "shear and bending").min(input(m, "bearing")), 1e-12);
}
