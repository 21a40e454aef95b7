//! A swept spar: longer than the span, and its sections cut across it.

use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::design::Design;
use thistledown::physics::evaluation::evaluate;
use thistledown::physics::loads::internal::{CaseLoads, Lists, Loads};
use thistledown::physics::mass::ribs::wedge_m2;
use thistledown::physics::mass::tally::Heading;
use thistledown::physics::strength::sizing::{Section, bend};
use thistledown::physics::wing::layout::{Layout, lay_out};
use thistledown::scenario;

fn near(got: f64, want: f64, rel: f64) {
    assert!((got - want).abs() <= rel * want.abs(), "got {got}, want {want}, off by {:.2e}", (got / want - 1.0).abs());
}

/// An untapered wing swept by an angle, so that the spar is straight and swept by it too.
fn swept(sweep_rad: f64) -> (Design, Layout) {
    let mut d = scenario::demo().unwrap().design;
    d.planform.taper = 1.0;
    d.planform.sweep_rad = sweep_rad;
    d.spar.position_tip = d.spar.position_root;
    let layout = lay_out(&d);
    (d, layout)
}

#[test]
fn a_swept_cantilever_bends_and_twists_over_its_own_length() {
    // Tip load: P s^3/(3 EI); torque at the tip: T s/GJ, s the length of the beam. Any text on strength of materials.
    for sweep in [-0.35_f64, 0.0, 0.5] {
        let (_, layout) = swept(sweep);
        let (p, ei, torque, gj) = (90.0, 3.1e4, 40.0, 8.0e3);
        let length = layout.half_span_m / sweep.cos();
        let at: Vec<f64> = layout.stations().map(|s| s.y_m / sweep.cos()).collect();
        let section = Section { ei_nm2: ei, gj_nm2: gj, ..Section::default() };
        let moment_nm: Vec<f64> = at.iter().map(|s| p * (length - s)).collect();
        let (torque_nm, shear_n) = (vec![torque; at.len()], vec![p; at.len()]);
        let one = CaseLoads::of(0, Lists { shear_n: &shear_n, moment_nm: &moment_nm, torque_nm: &torque_nm });
        let bent = &bend(&layout, &vec![section; at.len()], &Loads { loads: vec![one], ..Loads::default() })[0];
        near(*bent.deflection_m().last().unwrap(), p * length.powi(3) / (3.0 * ei), 1e-9);
        near(*bent.twist_rad().last().unwrap(), torque * length / gj, 1e-9);
    }
}

#[test]
fn a_section_across_a_swept_spar_is_narrower_by_the_cosine() {
    // A prism cut square instead of along the flight path: plane geometry. GJ = 4 A^2/sum(d/Gt), both by the cosine.
    let (straight, swept_back) = (swept(0.0), swept(0.5));
    let of = |d: &Design| evaluate(d, &Assumptions::default());
    let (a, b) = (of(&straight.0), of(&swept_back.0));
    near(swept_back.1.bays[3].mid.spar_slope, 0.5_f64.tan(), 1e-12);
    near(b.sections[2].nose_cell_m2, a.sections[2].nose_cell_m2 * 0.5_f64.cos(), 1e-12);
    // Both skins and the web are walls of the nose: the web keeps its height, so GJ lies between cos and cos^2.
    let bay = (0..a.layout.bays.len()).find(|k| a.sizing.web[*k] == b.sizing.web[*k]).unwrap();
    let ratio = b.sections[bay].gj_nm2 / a.sections[bay].gj_nm2;
    assert!(ratio < 1.001 * 0.5_f64.cos() && ratio > 0.5_f64.cos().powi(2), "{ratio}");
    // The spar weighs by its length: caps and web of like layers.
    let caps = |e: &thistledown::physics::evaluation::Evaluation, bay: usize| -> f64 {
        let parts = e.weight.parts.iter().filter(|p| p.heading == Heading::Caps && p.bay == Some(bay));
        parts.map(|p| p.nominal_kg).sum::<f64>() / f64::from(e.sizing.upper[bay] + e.sizing.lower[bay])
    };
    let mut alike = 0;
    for bay in 0..a.layout.bays.len() {
        if a.sizing.upper[bay] == b.sizing.upper[bay] && a.sizing.lower[bay] == b.sizing.lower[bay] {
            near(caps(&b, bay), caps(&a, bay) / 0.5_f64.cos(), 1e-9);
            alike += 1;
        }
    }
    assert!(alike > 0);
}

#[test]
fn a_rib_reaches_the_trailing_edge() {
    // The area of the whole section, worked out from the formula of the aerofoil by another sum (four-digit thickness:
    // area 0.685 t c^2, integrated from the thickness formula of NACA Report 460, 1933, its coefficients from memory): nose, aft and wedge make it up, the wedge being straight.
    let mut d = scenario::demo().unwrap().design;
    let t = 0.12;
    d.sections = vec![thistledown::physics::design::SectionAt {
        eta: 0.0,
        aerofoil: thistledown::physics::design::Aerofoil::FourDigit { camber: 0.0, camber_place: 0.4, thickness: t },
        ..d.sections[0].clone()
    }];
    let s = lay_out(&d).bays[0].inner;
    let whole = (s.nose_cell_m2 + s.aft_cell_m2 + wedge_m2(&s)) / (s.chord_m * s.chord_m);
    // int of 5 t (0.2969 sqrt x - 0.1260 x - 0.3516 x^2 + 0.2843 x^3 - 0.1036 x^4), twice.
    let area = 10.0 * t * (0.2969 * 2.0 / 3.0 - 0.1260 / 2.0 - 0.3516 / 3.0 + 0.2843 / 4.0 - 0.1036 / 5.0);
    near(whole, area, 0.01);
}
