//! More of the checks of ground handling: dents in depth, membranes, lines, drops and distributions.

use super::handling::{face, near};

use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::durability::cause::Cause;
use thistledown::physics::durability::cause::Met;
use thistledown::physics::durability::contact::ball_dent_m;
use thistledown::physics::durability::contact::ball_load_n;
use thistledown::physics::durability::contact::membrane_deflection_m;
use thistledown::physics::durability::contact::pad_dent_m;
use thistledown::physics::durability::contact::pad_load_n;
use thistledown::physics::durability::covering::ball_lower_n;
use thistledown::physics::durability::covering::ball_n;
use thistledown::physics::durability::covering::blunt_n;
use thistledown::physics::durability::events::EVENTS;
use thistledown::physics::durability::foundation::deep_length_m;
use thistledown::physics::durability::foundation::hard_onset_n;
use thistledown::physics::durability::foundation::point_depth_m;
use thistledown::physics::durability::foundation::psi;
use thistledown::physics::durability::panel::SINGLE_CURVE_SHARE;
use thistledown::physics::durability::panel::nose_stiffness_n_m;
use thistledown::physics::durability::panel::panel_stiffness_n_m;
use thistledown::physics::durability::resistance;
use thistledown::physics::durability::resistance::MARK_M;
use thistledown::physics::durability::resistance::SOFT_M;
use thistledown::physics::laminate::construction::Kind;
use thistledown::physics::laminate::construction::properties;
use thistledown::scenario::library;

#[test]
fn deep_cores() {
    // Computed independently: plate on an elastic half space by Hankel transform. 1 N, D 0.005 N m, E 60 MPa, nu 0.3.
    let l = deep_length_m(0.005, 60e6, 0.3);
    near(l, 0.53329e-3, 3e-3);
    let p0 = |depth: f64, core: f64| 1.0 / hard_onset_n(1.0, 0.005, 60e6, core) * depth;
    near(p0(1.0, 1.0), 676.692e3, 3e-3);
    near(1.0 * l * l / (3.0 * 3.0_f64.sqrt() * 0.005), 10.9465e-6, 3e-3);
    near(point_depth_m(0.005, 60e6, 1.0), 0.449963e-3, 3e-3);
    // Finite layers: p0 l^2/P at depths of 0.3 to 10 l, numerical; the blend is within 3 %.
    for (depth, want) in
        [(0.3, 0.366), (0.5, 0.294), (1.5, 0.211), (2.0, 0.2018), (3.0, 0.195), (5.0, 0.193), (10.0, 0.192)]
    {
        near(p0(1.0, depth * l) * l * l, want, 0.035);
    }
    for (x, want) in [(1.0, 0.3421), (3.0, 0.988), (4.0, 1.055), (10.0, 1.003)] {
        near(psi(x), want, 0.01);
    }
}

#[test]
fn membranes_blows_and_panels() {
    // Computed independently, axisymmetric solver: 40 N on a 0.05 mm face, E 20 GPa, crush 0.3 MPa: 1.016 mm.
    let f = face(20.0, 0.05, 100.0, 0.3, 5.0);
    near(membrane_deflection_m(&f, 40.0), 1.016e-3, 0.12);
    // Square plate on simple supports, load in the middle: w = 0.0116 P b^2/D (Timoshenko and Woinowsky-Krieger, Theory of Plates
    // and Shells, from memory; the double series 4/pi^4 sum 1/(m^2 + n^2)^2 over odd m, n gives it again).
    near(panel_stiffness_n_m(10.0, 0.2), 10.0 / (0.0116 * 0.04), 1e-12);
    // Point load on a shallow spherical cap (Reissner 1946, from memory): 4 E t^2/(R sqrt(3(1 - nu^2))), of which a nose has 0.4 here.
    let (e, t, nu, r) = (70e9, 1e-3, 0.3, 0.5);
    let (d, a) = (e * 1e-9 / 12.0 / (1.0 - nu * nu), e * t);
    near(
        nose_stiffness_n_m(d, a, r),
        SINGLE_CURVE_SHARE * 4.0 * e * t * t / (r * (3.0_f64 * (1.0 - nu * nu)).sqrt()),
        1e-9,
    );
    // Dents turned round give the load back.
    let f = face(55.0, 0.2, 70.0, 0.9, 8.0);
    near(ball_dent_m(&f, 0.01, ball_load_n(&f, 0.01, 0.4e-3)), 0.4e-3, 1e-3);
    near(pad_dent_m(&f, 0.008, pad_load_n(&f, 0.008, 0.4e-3)), 0.4e-3, 1e-3);
    assert_eq!(pad_dent_m(&f, 0.008, 1.0), 0.0);
    // Membrane under a ball, lower bound: 2 pi R N 2 eps, computed.
    near(ball_lower_n(0.005, 10e3, 0.15), 94.2478, 5e-3);
    assert!(ball_lower_n(0.005, 10e3, 0.15) <= ball_n(0.005, 10e3, 0.15));
}

#[test]
fn causes_carry_what_was_read() {
    let met = Met { half_wing_kg: 20.0, stiffness_n_m: 50e3, radius_m: 0.080 };
    let of = |key: &str| EVENTS.iter().find(|e| e.key == key).unwrap().cause.severity(&met);
    // IEC/EN 62262 hammers: 0.5 kg 0.4 m, 1.7 kg 0.295 m, 5 kg 0.2 and 0.4 m: 2, 5, 10, 20 J.
    for (mass_kg, drop_m, joule) in [(0.5, 0.4, 2.0), (1.7, 0.295, 5.0), (5.0, 0.2, 10.0), (5.0, 0.4, 20.0)] {
        near(Cause::Falls { mass_kg, drop_m }.severity(&met), joule, 0.03);
    }
    // Free-fall hail table attributed to T. Marshall, ice 900 kg/m3: 25.4 mm 22.26 m/s 1.94 J, 50.8 mm 32.0 m/s 32.1 J; the row
    // printed for 12.7 mm is ten times too small against its own speed, 0.116 J.
    for (mm, speed_m_s, joule, tol) in
        [(25.4_f64, 22.2626, 1.93882, 0.06), (50.8, 32.0081, 32.1464, 0.06), (12.7, 15.5123, 0.116138, 0.01)]
    {
        let mass_kg = 900.0 * std::f64::consts::PI / 6.0 * (mm * 1e-3).powi(3);
        near(Cause::Flies { mass_kg, speed_m_s }.severity(&met), joule, tol);
    }
    near(of("hail_large"), 1.93882, 0.06);
    near(of("hail_small"), 0.116138, 0.01);
    // Greatest thumb press of 23 men, mean 136.7 N, 8 women 100.6 N (Choi and others 2020, abstract): the firm press is half of the men's.
    near(of("firm_thumb_press"), 136.7 / 2.0, 0.03);
    // One-hand push 113 N, SD 19 (Human Factors 50(2), 2008, table 2): the palm push is below it; grip between thumb and fingers
    // of a 5th-percentile man 48 N, hand grip 200 N (FAA Human Factors Design Standard ch. 14): the edge grip is below it.
    assert!(of("palm_push") < 113.0 && of("palm_push") > 113.0 - 2.0 * 19.0);
    assert!(of("edge_grip") < 48.0);
    // The two-finger stretch of 13 people on a touch screen, mean 2.05 N, SD 1.13 (study of fingertip forces, abstract): a lognormal of
    // that mean and deviation has its median at mean/sqrt(1 + v2) and the spread sqrt(ln(1 + v2)), v = SD/mean.
    let (v2, touch) = ((1.13_f64 / 2.05).powi(2), EVENTS.iter().find(|e| e.key == "fingertip_touch").unwrap());
    near(of("fingertip_touch"), 2.05 / (1.0 + v2).sqrt(), 0.02);
    near(touch.beta, (1.0 + v2).ln().sqrt(), 0.02);
    // Fingers in the hardest daily tasks of 8 people: about 15 N (doi 10.1177/2055668318793587, abstract).
    near(of("fingernail_or_ring"), 15.0, 1e-9);
    // Force at which contact begins to hurt, ISO/TS 15066 table A.2 at second hand: lower arm 160 N, thigh and knee 220 N.
    near(of("elbow_or_knee"), (160.0_f64 * 220.0).sqrt(), 0.01);
    // Carrying at 0.5 to 1.0 m/s (scope of ISO 11228-1:2021); the share of a free bar that a knock meets, summed here by strips.
    let bar =
        (0..1000).map(|i| 1.0 / (1.0 + 12.0 * ((f64::from(i) + 0.5) / 1000.0 - 0.5).powi(2))).sum::<f64>() / 1000.0;
    let share = 0.3 * 0.25 + 0.7 * bar;
    near(of("frame_or_doorway_knock"), 0.5 * share * 20.0 * (0.5_f64 * 1.0), 0.02);
    // A half wing of taper 0.45 rolling about its root, mass with the chord: summed by strips, an upper bound of the tip's mass.
    let (mut m, mut inertia) = (0.0, 0.0);
    for i in 0..1000 {
        let y = (f64::from(i) + 0.5) / 1000.0;
        m += 1.0 - 0.55 * y;
        inertia += (1.0 - 0.55 * y) * y * y;
    }
    assert!(of("tip_strike") < 0.5 * 20.0 * inertia / m * 4.0);
    // m g (1 + sqrt(1 + 2 h k/(m g))), 4 kg, 3 mm, 50 N/mm: 155 N, computed; strap of 70 N, 25 mm over 80 mm: 35 kPa, computed.
    near(of("stone_set_down"), 155.0, 0.01);
    near(of("tie_down_strap"), 35e3, 1e-3);
    near(of("palm_lift"), 98.1, 1e-3);
    near(of("rack_pad"), 24.5e3, 0.01);
    near(of("tip_strike"), 8.0, 1e-9);
}

#[test]
fn what_is_called_a_mark() {
    // Airliner practice calls 2.54 mm (0.1 in) or 136 J visible (McGowan and Ambur, AIAA 98-1783): never the mark here; foam-core
    // specimens with more than 0.13 mm were damaged below (abstract).
    const { assert!(MARK_M < 2.54e-3 / 5.0 && MARK_M > 0.13e-3 && SOFT_M > MARK_M) };
    // Order of damage with energy: face or core first, hole last (Castellanos and Prabhakar 2021; NASA TP-3042; abstracts).
    let d = thistledown::scenario::demo().unwrap().design;
    let a = Assumptions::default();
    for c in &d.constructions {
        let s = properties(c, &d.library, &a);
        if s.kind == Kind::Open {
            continue;
        }
        for e in EVENTS {
            let stand = resistance::stand(&s, &d.library, e.contact, 1.0, &a);
            let first = if stand.load[0].is_finite() { stand.load[0] } else { stand.load[1] };
            assert!(first <= stand.load[1] && stand.load[1] <= stand.load[2], "{} {}: {stand:?}", c.key, e.key);
        }
    }
}

#[test]
fn foams_and_coverings_of_the_library() {
    let lib = library::built_in();
    // Source: ASTM D6817, least stress at 10 % as tabulated by a supplier (read second-hand): 40, 70, 110, 135, 200, 276 kPa.
    let table = [(11.2, 40e3), (14.4, 70e3), (18.4, 110e3), (21.6, 135e3), (28.8, 200e3), (38.4, 276e3)];
    let mut seen = 0;
    for f in lib.foams.iter().filter(|f| f.family == "eps" && (11.2..=38.4).contains(&f.density_kg_m3)) {
        let w = table.windows(2).find(|w| f.density_kg_m3 <= w[1].0).unwrap();
        let want = w[0].1 + (w[1].1 - w[0].1) * (f.density_kg_m3 - w[0].0) / (w[1].0 - w[0].0);
        println!("{}: {:.0} kPa, standard's minimum {:.0}", f.key, f.crush_min_pa / 1e3, want / 1e3);
        assert!(f.crush_min_pa > 0.6 * want && f.crush_min_pa < 1.6 * want, "{}", f.key);
        seen += 1;
    }
    assert!(seen > 0);
    // FAA AMT handbook, Airframe vol. 1 ch. 3: 50, 65, 80 lb/in new, 35, 46, 56 airworthy; fabrics of the library stand above the least.
    for (lb_in, n_mm) in
        [(50.0, 8.75634), (65.0, 11.3832), (80.0, 14.0101), (35.0, 6.12944), (46.0, 8.05583), (56.0, 9.8071)]
    {
        near(lb_in * 4.448_222 / 25.4, n_mm, 5e-3);
    }
    for c in lib.coverings.iter().filter(|c| c.key.starts_with("polyester_")) {
        assert!(c.strength_n_m > 8756.0, "{}", c.key);
    }
    // EN 388 levels (two glove makers' tables): 20, 60, 100, 150 N on a blunt 1 mm stylus; a light aircraft fabric reaches the first.
    assert!(blunt_n(0.0005, 11.7e3, 0.2) > 20.0);
}
