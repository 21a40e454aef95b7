//! Sections and planforms against published ordinates and exact formulas.

use thistledown::physics::design::{Aerofoil, Planform};
use thistledown::physics::wing::aerofoil::{arc, area, contour, flap, half_thickness, nose_radius, thin_aerofoil};
use thistledown::physics::wing::coordinates;
use thistledown::physics::wing::planform::{aspect_ratio, mac_m, mac_y_m, root_chord_m};

fn near(got: f64, want: f64, rel: f64) {
    assert!((got - want).abs() <= rel * want.abs(), "got {got}, want {want}, off by {:.2e}", (got / want - 1.0).abs());
}

const NACA2412: Aerofoil = Aerofoil::FourDigit { camber: 0.02, camber_place: 0.4, thickness: 0.12 };

#[test]
fn ordinates_of_0012() {
    // Published in Abbott and von Doenhoff, Theory of Wing Sections, read second-hand: half thickness in % at these stations.
    for (x, y) in [
        (0.0125, 1.894),
        (0.025, 2.615),
        (0.05, 3.555),
        (0.1, 4.683),
        (0.2, 5.737),
        (0.3, 6.002),
        (0.5, 5.294),
        (0.7, 3.664),
        (0.9, 1.448),
        (1.0, 0.126),
    ] {
        near(half_thickness(0.12, x, 0.1015) * 100.0, y, 1e-3);
    }
    assert!(half_thickness(0.15, 1.0, 0.1036).abs() < 1e-12);
    // Nose radius 1.1019 t^2: public encyclopaedia article on the family.
    near(nose_radius(0.12), 0.01586693, 1e-6);
}

#[test]
fn areas_and_arcs_of_2412() {
    // Computed at 400 and more points a side; exact area 0.0817774, upper arc 1.0281416, lower 1.013537.
    let c = contour(&NACA2412);
    near(area(&c), 0.0817774, 5e-4);
    near(arc(&c.upper), 1.0281416, 1e-4);
    near(arc(&c.lower), 1.013537, 1e-4);
    let c = contour(&Aerofoil::FourDigit { camber: 0.0, camber_place: 0.0, thickness: 0.12 });
    near(area(&c), 0.081706, 5e-4);
}

#[test]
fn thin_aerofoil_constants() {
    // Thin-aerofoil theory for 2412: -2.077 deg and -0.0531 (computed; Abbott and von Doenhoff's theory chapter, from memory).
    let (alpha, cm) = thin_aerofoil(&NACA2412);
    near(alpha.to_degrees(), -2.077, 2e-3);
    near(cm, -0.0531, 3e-3);
    // A 20 % plain flap: 3.4546 and -0.64 per radian.
    let (cl, cm) = flap(0.2);
    near(cl, 3.4546, 1e-4);
    near(cm, -0.64, 1e-6);
}

#[test]
fn trapezoids() {
    // Exact formulas, any text: taper 0.4, 12 m, 12 m2.
    let p = Planform { span_m: 12.0, area_m2: 12.0, taper: 0.4, sweep_rad: 0.0, washout_rad: 0.0, dihedral_rad: 0.0 };
    near(root_chord_m(&p), 1.4285714, 1e-6);
    near(aspect_ratio(&p), 12.0, 1e-12);
    near(mac_m(&p), 2.0 / 3.0 * 1.4285714 * 1.56 / 1.4, 1e-6);
    near(mac_y_m(&p), 2.0 * 1.8 / 1.4, 1e-9);
}

#[test]
fn coordinate_texts_in_both_orders() {
    let c = contour(&NACA2412);
    let side = |s: &[(f64, f64)]| s.iter().map(|p| format!("{:.6} {:.6}", p.0, p.1)).collect::<Vec<_>>();
    let (mut upper, lower) = (side(&c.upper), side(&c.lower));
    let two = format!("invented title\n81. 81.\n\n{}\n\n{}\n", upper.join("\n"), lower.join("\n"));
    upper.reverse();
    let one = format!("invented title\n{}\n{}\n", upper.join("\n"), lower[1..].join("\n"));
    for text in [one, two] {
        let points = coordinates::read(&text).unwrap();
        let again = contour(&Aerofoil::Points { name: "x".into(), xy: points });
        near(area(&again), 0.0817774, 5e-3);
        near(arc(&again.upper), 1.02814, 5e-3);
    }
    assert!(coordinates::read("no numbers here").is_err());
}
