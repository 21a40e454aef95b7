//! The check cases of the structures reference (`structures.toml`, each with its source), one by one through the
//! project's own code. What the project has no function for is listed with the reason.

use thistledown::physics::laminate::construction::Stiffness;
use thistledown::physics::laminate::ply::Lamina;
use thistledown::physics::laminate::sandwich;
use thistledown::physics::laminate::stack::{reduced, turned};
use thistledown::physics::strength::panel::Panel;
use toml::{Table, Value};

mod laminates;
mod panels;
mod spars;

const DATA: &str = include_str!("structures.toml");

/// Expected values the project computes nothing for, and why.
const NOT_OURS: &[(&str, &str, &str)] = &[
    ("lamina_rom_carbon_epoxy", "e2_gpa", "the inverse rule is a lower bound; Halpin-Tsai is used across"),
    ("lamina_rom_carbon_epoxy", "g12_gpa", "as above"),
    ("lamina_failure_kaw_60deg", "sr_tsai_hill_tension_strengths", "strengths are picked by sign here"),
    ("sandwich_symmetric_3pt", "d_thin_face_nm", "the exact sum is used"),
    ("sandwich_gere_faces_and_plastic_core", "core_stress_max_mpa", "core bending stress limits nothing here"),
    ("sandwich_wrinkling_coefficients", "sigma_hoff_mautner_0p91_mpa", "an upper bound, not for design"),
    ("sandwich_wrinkling_exact_half_space", "half_wavelength_mm", "the length of wrinkles is not asked for"),
    ("sandwich_wrinkling_one_face_rigid_base", "sigma_winkler_mpa", "no skin here lies on a rigid base"),
    ("sandwich_crawford_foam_beam_equivalent", "solid_depth_same_stiffness_mm", "a comparison of the textbook"),
    ("sandwich_crawford_foam_beam_equivalent", "mass_g_per_m", "mass goes by area, not by metre of sample"),
    ("sandwich_core_shear_exact", "tau_core_mid_pa", "thin-face value is used, 0.2 % low"),
    ("sandwich_plate_compression_V_0p2", "governing_half_waves", "the least over half-waves is all that is kept"),
    ("sandwich_plate_compression_V_0p5", "governing_half_waves", "as above"),
    ("sandwich_plate_0_90_faces", "nx_half_waves", "as above"),
    ("torsion_thin_tube", "j_exact_mm4", "thin walls"),
    (
        "torsion_d_section_shear_centre",
        "shear_centre_ahead_of_web_mm",
        "a section without caps; shear_centre::the_shear_centre_is_that_of_walls_and_caps reaches it",
    ),
    ("beam_shear_deflection_share", "tip_deflection_shear_m", "shear deflection is left out, below 2 %"),
    ("rib_uniform_load_constant_depth", "te_deflection_bending_mm", "rib deflection limits nothing here"),
    ("rib_uniform_load_constant_depth", "te_deflection_shear_mm", "as above"),
    ("rib_triangular_load_mid", "core_shear_flow_n_per_m", "ribs are judged at the spar, where all is greatest"),
    ("membrane_circular_hencky", "centre_deflection_mm", "coverings are strips between ribs here"),
    ("membrane_circular_hencky", "centre_tension_n_per_m", "as above"),
    ("membrane_circular_hencky", "edge_radial_tension_n_per_m", "as above"),
    ("membrane_square_pretension", "centre_sag_mm", "as above"),
    ("rib_megson_three_flange_shear_flows", "q12_n_per_mm", "no rib of three flanges here"),
    ("rib_megson_three_flange_shear_flows", "q23_n_per_mm", "as above"),
    ("rib_megson_three_flange_shear_flows", "q31_n_per_mm", "as above"),
];

/// Values for which the project uses a bound on the safe side: the least share of the reference value it must reach.
const SAFE_SIDE: &[(&str, &str, f64)] = &[
    ("plate_isotropic_shear_k", "k_ab_1p0", 0.55),
    ("plate_isotropic_shear_k", "k_ab_1p5", 0.73),
    ("plate_isotropic_shear_k", "k_ab_2p0", 0.79),
    ("plate_isotropic_shear_k", "k_ab_5p0", 0.93),
    ("sandwich_plate_0_90_faces", "nxy_critical_n_per_m", 0.70),
    ("sandwich_plate_0_90_faces", "nxy_lower_rule_n_per_m", 0.80),
    ("curved_panel_shear_Z10", "k_ab_0p5", 0.60),
    ("curved_panel_shear_Z10", "k_ab_1p0", 0.45),
    ("curved_panel_shear_Z10", "k_ab_2p0", 0.65),
    ("curved_panel_shear_Z10", "k_ab_5p0", 0.70),
    ("curved_panel_shear_Z30", "k_ab_0p5", 0.60),
    ("curved_panel_shear_Z30", "k_ab_1p0", 0.28),
    ("curved_panel_shear_Z30", "k_ab_2p0", 0.40),
    ("curved_panel_shear_Z30", "k_ab_5p0", 0.45),
    ("curved_panel_shear_Z100", "k_ab_0p5", 0.38),
    ("curved_panel_shear_Z100", "k_ab_1p0", 0.14),
    ("curved_panel_shear_Z100", "k_ab_2p0", 0.19),
    ("curved_panel_shear_Z100", "k_ab_5p0", 0.25),
    ("curved_sandwich_45_faces_R300", "nxy_linear_n_per_m", 0.35),
    ("spar_web_sandwich_shear", "nxy_critical_n_per_m", 0.75),
    ("spar_section_unequal_caps", "ei_nm2", 0.96),
];

/// Loads for which the project takes a strip instead of a plate, or leaves the web out of the section: at least the reference value, at most this many times it.
const MORE_LOAD: &[(&str, &str, f64)] = &[
    ("spar_section_unequal_caps", "strain_top", 1.02),
    ("spar_section_unequal_caps", "strain_bottom", 1.05),
    ("spar_section_unequal_caps", "neutral_axis_from_bottom_mm", 1.02),
    ("plate_lateral_pressure_ab_1p0", "sigma_max_pa", 2.7),
    ("plate_lateral_pressure_ab_1p0", "deflection_mm", 3.3),
    ("plate_lateral_pressure_ab_2p0", "sigma_max_pa", 1.3),
    ("plate_lateral_pressure_ab_2p0", "deflection_mm", 1.4),
];

struct Case {
    id: String,
    tol: f64,
    inputs: Table,
    expected: Table,
}

fn number(v: &Value) -> f64 {
    v.as_float().or_else(|| v.as_integer().map(|i| i as f64)).unwrap_or_else(|| panic!("{v:?} is no number"))
}

impl Case {
    fn n(&self, key: &str) -> f64 {
        let v = self.inputs.get(key).unwrap_or_else(|| panic!("{} has no {key}", self.id));
        number(v)
    }
    fn list(&self, key: &str) -> Vec<f64> {
        self.inputs[key].as_array().unwrap().iter().map(number).collect()
    }
}

fn cases() -> Vec<Case> {
    let all: Table = DATA.parse().unwrap();
    all["case"]
        .as_array()
        .unwrap()
        .iter()
        .map(|c| {
            assert!(c["source"].as_str().is_some_and(|s| s.len() > 12), "{c:?}");
            Case {
                id: c["id"].as_str().unwrap().to_owned(),
                tol: c["rel_tol"].as_float().unwrap(),
                inputs: c["inputs"].as_table().unwrap().clone(),
                expected: c["expected"].as_table().unwrap().clone(),
            }
        })
        .collect()
}

type Got = Vec<(&'static str, f64)>;

fn stiffness(s11: f64, s22: f64, s12: f64, s66: f64) -> Stiffness {
    Stiffness { s11, s22, s12, s66, s16: 0.0, s26: 0.0 }
}

fn isotropic(d: f64, nu: f64) -> Stiffness {
    stiffness(d, d, nu * d, 0.5 * (1.0 - nu) * d)
}

fn flat(length_m: f64, width_m: f64, d: Stiffness, s_n_m: f64) -> Panel {
    Panel { length_m, width_m, d, a: Stiffness::default(), s_n_m, radius_m: f64::INFINITY }
}

/// D, A and S of a thin-faced sandwich of the fabric of a case.
fn fabric_sandwich(c: &Case) -> (Stiffness, Stiffness, f64) {
    let nu = c.n("face_nu");
    let e = c.n("face_e_warp_pa");
    let q = turned(
        reduced(Lamina { e1_pa: e, e2_pa: e, g12_pa: c.n("face_g_warp_pa"), nu12: nu }),
        c.n("fabric_angle_deg").to_radians(),
    );
    let (t, core) = (c.n("face_mm") * 1e-3, c.n("core_mm") * 1e-3);
    let lever = core + t;
    let (mut d, mut a) = (Stiffness::default(), Stiffness::default());
    d.plus(&q, t * lever * lever / 2.0);
    a.plus(&q, 2.0 * t);
    (d, a, sandwich::shear_stiffness(c.n("gc_pa"), lever, core))
}

fn computed(c: &Case) -> Got {
    [
        laminates::lamina_and_laminate,
        laminates::sandwiches,
        panels::plates,
        panels::cells,
        spars::spars,
        spars::beams,
        spars::ribs_and_coverings,
    ]
    .iter()
    .find_map(|f| f(c))
    .unwrap_or_else(|| panic!("{}: no way to compute it", c.id))
}

#[test]
fn every_case_of_the_structures_reference() {
    let all = cases();
    let (mut checked, mut left_out, mut faults) = (0, 0, Vec::new());
    for c in &all {
        let got = computed(c);
        for (key, want) in &c.expected {
            let want = number(want);
            if NOT_OURS.iter().any(|n| n.0 == c.id && n.1 == key) {
                left_out += 1;
                continue;
            }
            let Some((_, got)) = got.iter().find(|g| g.0 == key) else {
                faults.push(format!("{} {key}: not computed", c.id));
                continue;
            };
            let bound = SAFE_SIDE.iter().find(|s| s.0 == c.id && s.1 == key);
            let more = MORE_LOAD.iter().find(|s| s.0 == c.id && s.1 == key);
            let fine = match bound {
                _ if more.is_some_and(|(_, _, most)| *got >= want * (1.0 - c.tol) && *got <= want * most) => true,
                Some((_, _, least)) => *got <= want * (1.0 + c.tol) && *got >= want * least,
                None => (got - want).abs() <= c.tol * want.abs(),
            };
            checked += 1;
            if !fine {
                faults.push(format!("{} {key}: got {got}, want {want}, ratio {}", c.id, got / want));
            }
        }
    }
    println!("{} cases, {checked} values checked, {left_out} not computed here", all.len());
    assert!(faults.is_empty(), "{faults:#?}");
    assert!(checked > 180 && left_out < 40, "{checked} {left_out}");
}

#[test]
fn reasons_name_cases_that_exist() {
    let all = cases();
    let known = |id: &str, key: &str| all.iter().any(|c| c.id == id && c.expected.contains_key(key));
    for (id, key, why) in NOT_OURS {
        assert!(known(id, key) && !why.is_empty(), "{id} {key}");
    }
    for (id, key, _) in SAFE_SIDE.iter().chain(MORE_LOAD) {
        assert!(known(id, key), "{id} {key}");
    }
    assert!(all.iter().all(|c| c.inputs.values().all(|v| !matches!(v, Value::Datetime(_)))));
}
