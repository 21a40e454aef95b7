//! Predicted against measured: what others pressed, pierced, weighed and gauged. Tolerances are the scatter of such tests.
//!
//! Tuned factor: the cone of a covering (1.35) comes from two of the four sources of punctures and is judged on the other two.

use thistledown::physics::durability::contact::{FaceOnFoam, ball_energy_j, ball_load_n};
use thistledown::physics::durability::covering::{CONE_FACTOR, blunt_n, cone_sine};
use thistledown::physics::laminate::ply;

/// One puncture by the flat 50 mm plunger of EN ISO 12236: strength along and across kN/m, mean strain, measured kN.
struct Puncture {
    source: &'static str,
    /// The tuned factor was taken from this source.
    tuned: bool,
    along: f64,
    across: f64,
    strain: f64,
    measured_kn: f64,
}

const SHEET: &str = "maker's data sheet of a woven polyester cloth 326 g/m2, dodom.com";
const BOOK: &str = "geosystems design book, table 2.8, online extract";
const MAKER: &str = "maker's table of a nonwoven polyester 300 g/m2, technonicol.it";
const GRADES: &str = "supplier's specification of needle-punched nonwovens by grade, machineu.com";

fn punctures() -> Vec<Puncture> {
    let one = |source, tuned, (along, across), strain, measured_kn| Puncture {
        source,
        tuned,
        along,
        across,
        strain,
        measured_kn,
    };
    let mut out = vec![
        one(SHEET, true, (160.0, 56.1), 0.1065, 10.0),
        one(BOOK, true, (120.0, 110.0), 0.13, 14.0),
        one(BOOK, true, (200.0, 200.0), 0.135, 20.0),
        one(BOOK, true, (40.0, 35.0), 0.25, 4.0),
        one(BOOK, true, (19.0, 28.0), 0.65, 4.0),
        one(MAKER, false, (22.0, 22.0), 0.70, 3.7),
    ];
    // 100 to 800 g/m2, breaking strength and plunger load; stated elongation 25-100 %, so 0.6 is taken for all.
    for (n, kn) in [
        (2.5, 0.3),
        (4.5, 0.6),
        (6.5, 0.9),
        (8.0, 1.2),
        (9.5, 1.5),
        (11.0, 1.8),
        (12.5, 2.1),
        (14.0, 2.4),
        (16.0, 2.7),
        (19.0, 3.2),
        (25.0, 4.0),
    ] {
        out.push(one(GRADES, false, (n, n), 0.6, kn));
    }
    out
}

#[test]
fn punctures_predicted_against_measured() {
    // Measured by others, as the sources beside each say; tolerances are the scatter of such tests.
    let all = punctures();
    let mut within = [0, 0];
    let mut count = [0, 0];
    for p in &all {
        let got = blunt_n(0.025, 500.0 * (p.along + p.across), p.strain) / 1e3;
        let ratio = got / p.measured_kn;
        let set = usize::from(!p.tuned);
        count[set] += 1;
        within[set] += usize::from((ratio - 1.0).abs() <= 0.30);
        let word = if p.tuned { "tuned on " } else { "judged on" };
        println!(
            "puncture {word} measured {:6.2} kN predicted {got:6.2} ratio {ratio:.2}  {}",
            p.measured_kn, p.source
        );
        assert!((ratio - 1.0).abs() <= 0.35, "{}: {ratio}", p.source);
    }
    println!(
        "punctures within 30 %: {} of {} in the sources the factor came from, {} of {} in the others",
        within[0], count[0], within[1], count[1]
    );
    assert!(count[1] >= 8 && within[1] * 10 >= count[1] * 8, "{within:?} of {count:?}");
    // The factor itself: geometric mean over the tuned sources whose cone is not already upright.
    let logs: Vec<f64> = all
        .iter()
        .filter(|p| p.tuned && p.strain < 0.4)
        .map(|p| {
            let cone = (1.0 - 1.0 / (1.0 + p.strain).powi(2)).sqrt();
            (p.measured_kn / (std::f64::consts::TAU * 0.025 * (p.along + p.across) / 2.0 * cone)).ln()
        })
        .collect();
    let mean = (logs.iter().sum::<f64>() / logs.len() as f64).exp();
    println!("cone factor from the tuned sources {mean:.3}, used {CONE_FACTOR}");
    assert!((mean / CONE_FACTOR - 1.0).abs() < 0.03);
}

#[test]
fn punctures_grow_with_the_rim_not_the_area() {
    // Hsieh and Wang, J. GeoEngineering 3(2) 2008, abstract: the 50 mm plunger takes about 8 times the 8 mm one (size from memory).
    let ratio = blunt_n(0.025, 1e5, 0.2) / blunt_n(0.004, 1e5, 0.2);
    println!("plunger 50 mm over 8 mm: measured 8, predicted {ratio:.2}");
    assert!((ratio / 8.0 - 1.0).abs() < 0.35);
    // A cloth that stretches far stands upright round the rim, never beyond.
    assert!(cone_sine(5.0) <= 1.0);
}

#[test]
fn a_drop_on_a_carbon_panel_lies_between_thin_and_thick_faces() {
    // Measured: student project, Winona State University: 10.0 J, nose 12.7 mm, dent 0.64 mm, panel 94 N/mm; lay-up and core not stated.
    // Not a validation: the faces of ordinary panels, 0.5 to 2 mm on PVC 80, must bracket it. The number read is one, so no
    // share is given and dents stay uncalibrated.
    let energy = |t: f64| {
        let a = 55e9 / 0.99 * t;
        let f = FaceOnFoam { a_n_m: a, d_nm: a * t * t / 12.0, crush_pa: 1.4e6, core_modulus_pa: 90e6, core_m: 0.025 };
        let p = ball_load_n(&f, 0.0127, 0.64e-3);
        ball_energy_j(&f, 0.0127, 0.64e-3) + p * p / (2.0 * 94e3)
    };
    println!(
        "drop of 10.0 J to 0.64 mm: faces of 0.5 mm {:.1} J, 1.0 mm {:.1} J, 1.5 mm {:.1} J",
        energy(0.5e-3),
        energy(1e-3),
        energy(1.5e-3)
    );
    assert!(energy(0.5e-3) < 10.0 && energy(2e-3) > 10.0);
}

#[test]
fn durability_is_uncalibrated_while_fewer_than_eight_measured_dents_were_read() {
    use thistledown::physics::durability::index::{CALIBRATION, DENTS_NEEDED, DENTS_READ, calibrated};
    println!("measured dents of described thin-faced specimens read: {DENTS_READ}, needed for a share: {DENTS_NEEDED}");
    assert!(calibrated(8) && !calibrated(7));
    assert_eq!(CALIBRATION.starts_with("uncalibrated"), !calibrated(DENTS_READ));
}

#[test]
fn thin_laminates_are_as_thick_as_gauged() {
    // Measured: student aircraft team page, UC Davis: bag at 6 inHg between films, caliper; plain t = n m/(rho Vf), Vf 0.42.
    for (g_m2, plies, rho, mm) in [(92.9, 4.0, 2540.0, 0.368), (92.9, 2.0, 2540.0, 0.216), (80.0, 4.0, 1780.0, 0.406)] {
        let plain = plies * ply::thickness_m(g_m2 * 1e-3, 0.42, rho) * 1e3;
        println!("{plies} plies of {g_m2} g/m2: gauged {mm} mm, predicted {plain:.3}, ratio {:.2}", plain / mm);
        assert!((plain / mm - 1.0).abs() < 0.25);
    }
}

#[test]
fn a_practice_coupon_is_as_heavy_as_weighed() {
    // Measured: a builder's log, six plies, 10 x 16 in; cloth 8.8 oz/yd2 (from memory), target fibre fraction 0.59 by mass: 354 g weighed.
    let w = ply::mass_fraction(0.42, 0.0, ply::Densities { fibre_kg_m3: 2540.0, matrix_kg_m3: 1150.0 });
    let grams = 6.0 * 298.4 * 0.4064 * 0.254 / w;
    println!("practice coupon: weighed 354 g, predicted {grams:.0}, ratio {:.2}", grams / 354.0);
    assert!((grams / 354.0 - 1.0).abs() < 0.20 && (0.5..0.7).contains(&w));
}

#[test]
fn a_weighed_polystyrene_panel() {
    // "Foam and Fabric, a Few Tests", homebuilders' magazine, October 1976, p. 32: face resin 213 g/m2, panel 1602 g/m2.
    let (resin, panel) = super::every_case::polystyrene_panel();
    println!("resin in one face: weighed 213 g/m2, predicted {resin:.0}; panel: weighed 1602, predicted {panel:.0}");
    assert!((resin / 213.0 - 1.0).abs() < 0.30 && (panel / 1602.0 - 1.0).abs() < 0.10);
}
