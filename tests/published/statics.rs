//! Sections, stations, caps and webs against statics by hand and tables of beams.

use std::f64::consts::PI;
use std::path::Path;

use super::handling::near;
use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::design::{Aerofoil, BackingMaterial, Design};
use thistledown::physics::evaluation::{Evaluation, evaluate};
use thistledown::physics::loads::internal::{CaseLoads, Lists, Loads};
use thistledown::physics::strength::caps::strut_ei_nm2;
use thistledown::physics::strength::sizing::{CapHere, Section, bend, torsion};
use thistledown::physics::strength::web;
use thistledown::physics::wing::coordinates;
use thistledown::physics::wing::layout::lay_out;

pub(super) fn demo(name: &str) -> Design {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("scenarios/marram-{name}.toml"));
    thistledown::scenario::load(&path).unwrap().design
}

pub(super) fn done(d: &Design) -> Evaluation {
    evaluate(d, &Assumptions::default())
}

#[test]
fn sections_thinner_or_thicker_than_any_wing_are_refused() {
    // By hand: an ellipse read back at its own thickness; the message says 2 to 50 %.
    let ellipse = |t: f64| {
        let at = |i: u32| {
            let a = f64::from(i) / 40.0 * 2.0 * PI;
            format!("{:.6} {:.6}", 0.5 + 0.5 * a.cos(), 0.5 * t * a.sin())
        };
        coordinates::read(&(0..=40).map(at).collect::<Vec<_>>().join("\n"))
    };
    assert!(ellipse(0.021).is_ok() && ellipse(0.49).is_ok());
    assert!(ellipse(0.019).is_err() && ellipse(0.55).is_err());
}

#[test]
fn a_station_measured_on_a_thick_plank() {
    // Computed independently: the polynomial of NACA 0015 (closed) integrated in fine steps, spar at 0.30, hinge at 0.78, chord 1 m.
    let mut d = demo("mixed");
    let p = &mut d.planform;
    (p.span_m, p.area_m2, p.taper) = (12.0, 12.0, 1.0);
    (p.sweep_rad, p.washout_rad, p.dihedral_rad) = (0.0, 0.0, 0.1);
    for s in &mut d.sections {
        s.aerofoil = Aerofoil::FourDigit { camber: 0.0, camber_place: 0.0, thickness: 0.15 };
    }
    let layout = lay_out(&d);
    let half = |x: f64| {
        5.0 * 0.15 * (0.2969 * x.sqrt() - 0.1260 * x - 0.3516 * x * x + 0.2843 * x.powi(3) - 0.1036 * x.powi(4))
    };
    let n = 200_000;
    let (mut area, mut arc) = ([0.0; 2], [0.0; 2]);
    for i in 0..n {
        // Steps crowd at the nose.
        let at = |i: i32| (f64::from(i) / f64::from(n)).powi(2) * 0.78;
        let (a, b) = (at(i), at(i + 1));
        let k = usize::from(f64::midpoint(a, b) > 0.30);
        area[k] += (half(a) + half(b)) * (b - a);
        arc[k] += (b - a).hypot(half(b) - half(a));
    }
    let s = &layout.bays[3].inner;
    near(s.nose_cell_m2, area[0], 2e-3);
    near(s.aft_cell_m2, area[1], 2e-3);
    near(s.nose_upper_m, arc[0], 2e-3);
    near(s.aft_lower_m, arc[1], 2e-3);
    near(s.spar_depth_m, 2.0 * half(0.30), 2e-3);
    near(s.hinge_depth_m, 2.0 * half(0.78), 5e-3);
    // Skins are as long as the slope makes them: a plank with dihedral 0.1 has 1/cos(0.1) times its plan in skin.
    let z = layout.zones.iter().find(|z| z.bay == 3).unwrap();
    near(z.area_m2, z.arc_m * layout.bays[3].length_m / 0.1_f64.cos(), 5e-5);
    // What is neither root nor tip, and those two, are the zone.
    for z in &layout.zones {
        let g = thistledown::physics::durability::term::zone_groups(z);
        near(g[0] + g[1] + g[2] + g[4] + g[5], z.area_m2, 1e-9);
    }
}

#[test]
fn a_cantilever_laid_out_in_bays_bends_and_twists_as_in_tables() {
    // Beam tables (Roark, 7th ed., table 8.1, from memory): end load P L^3/(3 EI), end moment M L^2/(2 EI); end torque T L/GJ.
    let mut d = demo("mixed");
    // A straight spar: no longer than the span.
    (d.planform.sweep_rad, d.planform.taper, d.spar.position_tip) = (0.0, 1.0, d.spar.position_root);
    let layout = lay_out(&d);
    let y: Vec<f64> = layout.stations().map(|s| s.y_m).collect();
    let length = layout.half_span_m;
    let section = Section { ei_nm2: 2e4, ei_out_nm2: 2e4, gj_nm2: 5e3, gj_out_nm2: 5e3, ..Section::default() };
    let sections = vec![section; y.len()];
    let case = |moment: Vec<f64>| {
        CaseLoads::of(0, Lists { moment_nm: &moment, torque_nm: &vec![80.0; y.len()], ..Lists::default() })
    };
    let loads = Loads {
        loads: vec![case(y.iter().map(|y| 50.0 * (length - y)).collect()), case(vec![300.0; y.len()])],
        ..Loads::default()
    };
    let bent = bend(&layout, &sections, &loads);
    near(*bent[0].deflection_m().last().unwrap(), 50.0 * length.powi(3) / 6e4, 1e-9);
    near(*bent[1].deflection_m().last().unwrap(), 300.0 * length * length / 4e4, 1e-9);
    near(*bent[0].twist_rad().last().unwrap(), 80.0 * length / 5e3, 1e-9);
    // Two like cells twist as the one around both, by hand: 4 (A1 + A2)^2 over the walls outside.
    let mut s = Section::default();
    torsion(&mut s, (0.01, 0.01), (3e-8, 1e-8, 3e-8));
    near(s.gj_nm2, 4.0 * 0.02 * 0.02 / 6e-8, 1e-9);
}

#[test]
fn caps_and_webs_by_hand() {
    // By hand: a cap 30 by 3 mm of 120 GPa is 8.1 N m2, and foam of its backing b d^3/12 times its modulus on top.
    let d = demo("mixed");
    let cap = CapHere { thickness_m: 0.003, width_m: 0.03, ea_n: 0.0 };
    let backing = d.spar.upper.backing.unwrap();
    let BackingMaterial::Foam(foam) = backing.material else { panic!("foam") };
    let own = d.library.foams[foam].inplane_modulus_pa * backing.width_m * backing.depth_m.powi(3) / 12.0;
    near(strut_ei_nm2(&d, &d.spar.upper, &cap, 120e9), 8.1 + own, 1e-9);
    // One band: the web is as stiff as its two faces, and as stiff upright as they are by the modulus of each laminate across.
    let e = done(&d);
    let faced = d.spar.web[0].bands[0].construction;
    let s = &e.skins[faced];
    near(web::stiffness(&d, &e.skins, 0.1, 0), s.a.s66, 1e-9);
    let upright = s.outer.e_chord_pa * s.outer.thickness_m + s.inner.e_chord_pa * s.inner.thickness_m;
    near(web::face_stiffness(s).0, upright, 1e-6);
    near(web::face_stiffness(s).1, s.outer.a.s66 + s.inner.a.s66, 1e-9);
    // Each extra ply on both faces of one like ply makes it once more as stiff.
    let plies = d.constructions[faced].outer.len();
    near(web::stiffness(&d, &e.skins, 0.1, plies as u32), 2.0 * s.a.s66, 1e-9);
}

#[test]
fn margins_rest_on_statics() {
    // Statics by hand at each margin: a strip on two edges gives each half its load; a cap is glued along both faces of the web; holes
    // of a lightened rib leave the rest of it; factor of the set 1.5.
    let d = demo("mixed");
    let e = done(&d);
    let of = |key: &str| e.margins.iter().filter(|m| m.mode == key).collect::<Vec<_>>();
    let input = |m: &thistledown::physics::strength::Margin, label: &str| {
        m.inputs.iter().find(|i| i.label == label).unwrap().value
    };
    let mut seen = [0; 4];
    for m in of("core_shear") {
        let z = e.layout.zone(m.strip.unwrap(), m.bay.unwrap()).unwrap();
        near(m.applied, 1.5 * input(m, "pressure") * 0.5 * z.length_m.min(z.arc_m) / input(m, "lever"), 1e-9);
        seen[0] += 1;
    }
    for m in of("cap_web_bond") {
        near(m.applied, 1.5 * input(m, "flow limit") / (0.020 + 0.020), 1e-9);
        near(input(m, "bond width"), 0.040, 1e-12);
        seen[1] += 1;
    }
    let mut solid = d.clone();
    solid.rib_kinds[0].lightening = 0.0;
    let whole = done(&solid);
    for key in ["rib_shear", "rib_buckling"] {
        let strong: Vec<_> = whole.margins.iter().filter(|m| m.mode == key).collect();
        for (a, b) in of(key).iter().zip(strong) {
            assert!(
                key != "rib_shear" || (a.allowable / b.allowable / 0.75 - 1.0).abs() < 1e-9,
                "{} {}",
                a.allowable,
                b.allowable
            );
            assert!(a.allowable < b.allowable);
            seen[2] += 1;
        }
    }
    // Timoshenko and Gere (from memory): a plate whose compression falls in a straight line to nothing at one edge buckles at k 7.81 of
    // the greatest, an even one at 4, so 4/7.81 of the greatest counts; one that does not fall counts whole, in a straight line between.
    for m in of("aft_buckling") {
        let b = &e.layout.bays[m.bay.unwrap()].mid;
        let ratio = b.hinge_depth_m / b.spar_depth_m;
        near(input(m, "share of cap strain"), 4.0 / 7.81 * (1.0 + ratio), 2e-3);
        seen[3] += 1;
    }
    // Nose: mean height over greatest of an elliptic nose is pi/4; a half wave squared weighs its middle, 1.03 to 1.05 by quadrature of
    // noses a sixth to a quarter as thick as long. The share used is not below and at most 5 % above (safe side).
    for m in of("nose_buckling") {
        let b = &e.layout.bays[m.bay.unwrap()].mid;
        let mean = b.nose_cell_m2 / (b.spar_depth_m * b.spar_frac * b.chord_m);
        let weighed = input(m, "share of cap strain") / mean;
        assert!((1.03..1.11).contains(&weighed), "{weighed}");
    }
    assert!(seen.iter().all(|n| *n > 2), "{seen:?}");
}
