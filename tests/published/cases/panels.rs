//! Panels in buckling, closed cells in torsion.

use super::{Case, Got};
use super::{fabric_sandwich, flat, isotropic, stiffness};
use std::f64::consts::PI;
use thistledown::physics::laminate::construction::{Face, Kind, Skin};
use thistledown::physics::strength::panel::{self, Panel};
use thistledown::physics::strength::sizing::{Section, torsion};
use thistledown::physics::strength::skins;

pub(super) fn plates(c: &Case) -> Option<Got> {
    let inf = f64::INFINITY;
    let k_curved = |z: f64, length: f64| {
        let (t, nu) = (0.001, 0.3_f64);
        let (e, d) = (1e9, isotropic(1e9 * 1e-9 / (12.0 * (1.0 - nu * nu)), nu));
        let radius = (1.0 - nu * nu).sqrt() / (z * t);
        let a = isotropic(e * t / (1.0 - nu * nu), nu);
        (Panel { length_m: length, width_m: 1.0, d, a, s_n_m: inf, radius_m: radius }, d.s11)
    };
    Some(match c.id.as_str() {
        "plate_isotropic_compression_k" => ["k_ab_0p5", "k_ab_1p0", "k_ab_1p414", "k_ab_1p5", "k_ab_3p0"]
            .into_iter()
            .zip(c.list("a_over_b"))
            .map(|(k, r)| (k, panel::compression(&flat(r, 1.0, isotropic(1.0, c.n("nu")), inf)) / (PI * PI)))
            .collect(),
        "plate_isotropic_shear_k" => ["k_ab_1p0", "k_ab_1p5", "k_ab_2p0", "k_ab_5p0"]
            .into_iter()
            .zip(c.list("a_over_b"))
            .map(|(k, r)| (k, panel::shear(&flat(r, 1.0, isotropic(1.0, c.n("nu")), inf)) / (PI * PI)))
            .collect(),
        "plate_orthotropic_compression" => {
            let d = stiffness(c.n("d11_nm"), c.n("d22_nm"), c.n("d12_nm"), c.n("d66_nm"));
            let (a, b) = (c.n("a_mm") / 1e3, c.n("b_mm") / 1e3);
            vec![
                ("n_long_n_per_m", panel::compression(&flat(40.0 * b, b, d, inf))),
                ("n_finite_n_per_m", panel::compression(&flat(a, b, d, inf))),
            ]
        }
        "plate_orthotropic_shear_long_beta_gt_1" => {
            let d = stiffness(c.n("d11_nm"), c.n("d22_nm"), c.n("d12_nm"), c.n("d66_nm"));
            let b = c.n("b_mm") / 1e3;
            vec![
                ("beta", (d.s11 * d.s22).sqrt() / (d.s12 + 2.0 * d.s66)),
                ("n_xy_formula_n_per_m", panel::shear(&flat(10.0 * b, b, d, inf))),
            ]
        }
        "sandwich_plate_compression_V_0p2" | "sandwich_plate_compression_V_0p5" => {
            let s = PI * PI / c.n("v_shear_parameter");
            let k = |a: f64| panel::compression(&flat(a, 1.0, isotropic(1.0, c.n("nu_face")), s)) / (PI * PI);
            vec![("k_square", k(1.0)), ("k_long", k(19.0))]
        }
        "sandwich_plate_0_90_faces" => {
            let (d, _, s) = fabric_sandwich(c);
            let p = flat(c.n("a_mm") / 1e3, c.n("b_mm") / 1e3, d, s);
            vec![
                ("d11_nm", d.s11),
                ("d12_nm", d.s12),
                ("d66_nm", d.s66),
                ("s_n_per_m", s),
                ("nx_critical_n_per_m", panel::compression(&p)),
                ("nxy_critical_n_per_m", panel::shear(&p)),
                ("nxy_lower_rule_n_per_m", panel::shear(&p)),
            ]
        }
        "curved_panel_compression_Z5" | "curved_panel_compression_Z20" => {
            let (p, d) = k_curved(c.n("batdorf_z"), 12.0);
            vec![("k_linear", panel::compression(&p) / (PI * PI * d))]
        }
        "curved_panel_shear_Z10" | "curved_panel_shear_Z30" | "curved_panel_shear_Z100" => {
            ["k_ab_0p5", "k_ab_1p0", "k_ab_2p0", "k_ab_5p0"]
                .into_iter()
                .zip(c.list("a_over_b"))
                .map(|(k, r)| {
                    let (p, d) = k_curved(c.n("batdorf_z"), r);
                    (k, panel::shear(&p) / (PI * PI * d))
                })
                .collect()
        }
        "cylinder_knockdown_sp8007" => {
            let r = c.n("radius_over_thickness");
            vec![("phi", r.sqrt() / 16.0), ("gamma", panel::cylinder_knock_down(r))]
        }
        "cylinder_knockdown_equivalent_thickness" => {
            let d = stiffness(c.n("dx_nm"), c.n("dy_nm"), 0.0, 0.0);
            let t = panel::equivalent_thickness_m(&d, (c.n("ex_membrane_n_per_m"), c.n("ey_membrane_n_per_m")));
            vec![("t_equivalent_mm", 1e3 * t), ("gamma", panel::cylinder_knock_down(c.n("radius_mm") / 1e3 / t))]
        }
        "curved_panel_compression_design_combination" => {
            let full = 0.702 * c.n("batdorf_z");
            vec![("k_cylinder", full), ("k_design", panel::curved_design(c.n("k_flat"), full, c.n("gamma")))]
        }
        "curved_sandwich_45_faces_R300" => {
            let (d, a, s) = fabric_sandwich(c);
            let p = Panel {
                length_m: c.n("axial_mm") / 1e3,
                width_m: c.n("arc_mm") / 1e3,
                d,
                a,
                s_n_m: s,
                radius_m: c.n("radius_mm") / 1e3,
            };
            vec![("nx_linear_n_per_m", panel::compression(&p)), ("nxy_linear_n_per_m", panel::shear(&p))]
        }
        "plate_lateral_pressure_ab_1p0" | "plate_lateral_pressure_ab_2p0" => {
            let (t, e, b, p) = (c.n("thickness_mm") / 1e3, c.n("e_pa"), c.n("b_mm") / 1e3, c.n("pressure_pa"));
            let d = e * t.powi(3) / 12.0;
            let outer = Face { thickness_m: t, e_span_pa: e, e_chord_pa: e, ..Face::default() };
            let skin = Skin { kind: Kind::Laminate, outer, d: isotropic(d, c.n("nu")), ..Skin::default() };
            let bending = skins::Bending::new(&skin, b, true);
            let strain = bending.moment_n(p) * bending.strain_per_moment(0.0).0;
            let plate = d / (1.0 - c.n("nu").powi(2));
            vec![("sigma_max_pa", strain * e), ("deflection_mm", 1e3 * panel::strip_deflection(p, b, plate, inf))]
        }
        _ => return None,
    })
}

pub(super) fn cells(c: &Case) -> Option<Got> {
    let mm = |k: &str| 1e-3 * c.n(k);
    let one = |area: f64, skin: f64, web: f64| {
        let mut s = Section::default();
        torsion(&mut s, (area, 0.0), (skin, web, f64::INFINITY));
        s
    };
    Some(match c.id.as_str() {
        "torsion_thin_tube" => {
            let (r, t) = (c.n("mean_radius_mm"), c.n("wall_mm"));
            vec![("j_thin_mm4", one(PI * r * r, PI * r / t, PI * r / t).gj_nm2)]
        }
        "torsion_rectangular_box" => {
            let (b, h, t) = (c.n("mid_width_mm"), c.n("mid_height_mm"), c.n("wall_mm"));
            vec![("j_bredt_mm4", one(b * h, (2.0 * b + h) / t, h / t).gj_nm2)]
        }
        "torsion_d_section_two_materials" => {
            let r = mm("mean_radius_mm");
            let area = PI * r * r / 2.0;
            let s = one(area, PI * r / (c.n("g_skin_pa") * mm("skin_mm")), 2.0 * r / (c.n("g_web_pa") * mm("web_mm")));
            vec![
                ("enclosed_area_mm2", 1e6 * s.nose_cell_m2),
                ("gj_nm2", s.gj_nm2),
                ("shear_flow_n_per_m", c.n("torque_nm") * s.nose_flow_per_nm),
                ("twist_rad_per_m", c.n("torque_nm") / s.gj_nm2),
            ]
        }
        "torsion_megson_closed_cell" => {
            let half = c.n("wall_length_over_thickness") / c.n("g_pa") / 2.0;
            vec![("gj_nmm2", 1e6 * one(c.n("enclosed_area_mm2") * 1e-6, half, half).gj_nm2)]
        }
        "torsion_d_section_shear_centre" => Vec::new(),
        "torsion_two_cap_d_cell_shear_flows" => {
            let mut s = Section { cap_lever_m: mm("web_height_mm"), ..Section::default() };
            torsion(&mut s, (c.n("enclosed_area_mm2") * 1e-6, 0.0), (1.0, 1.0, f64::INFINITY));
            let torque = c.n("shear_n") * mm("load_ahead_of_web_mm");
            let of = |per_n: f64, per_nm: f64| c.n("shear_n") * per_n + torque * per_nm;
            vec![
                ("q_skin_n_per_m", of(s.nose_flow_per_n, s.nose_flow_per_nm)),
                ("q_web_n_per_m", of(s.web_flow_per_n, s.web_flow_per_nm)),
            ]
        }
        _ => return None,
    })
}
