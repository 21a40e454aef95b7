//! Plies, laminates and sandwiches.

use super::stiffness;
use super::{Case, Got};
use std::f64::consts::PI;
use thistledown::physics::laminate::construction::{Face, Kind, Skin, Stiffness};
use thistledown::physics::laminate::failure::{Strengths, in_ply_axes, max_stress, tsai_hill, tsai_wu};
use thistledown::physics::laminate::ply::{
    Densities, Lamina, crimp_retention, halpin_tsai, mass_fraction, thickness_m, unidirectional, volume_fraction, woven,
};
use thistledown::physics::laminate::sandwich;
use thistledown::physics::laminate::stack::{Abd, Layer, abd, effective, reduced, turned};
use thistledown::physics::material::{Fibre, Resin};
use thistledown::physics::strength::skins;

fn lamina(c: &Case, e1: &str, scale: f64) -> Lamina {
    let key = |k: &str| c.n(&e1.replace("e1", k)) * scale;
    Lamina {
        e1_pa: key("e1"),
        e2_pa: key("e2"),
        g12_pa: key("g12"),
        nu12: c.n(if e1.starts_with("ud_") { "ud_nu12" } else { "nu12" }),
    }
}

fn stack(c: &Case, l: Lamina) -> Abd {
    let layers: Vec<Layer> = c
        .list("theta_deg")
        .iter()
        .zip(c.list("ply_thickness_mm"))
        .map(|(a, t)| Layer { q_pa: turned(reduced(l), a.to_radians()), thickness_m: t * 1e-3 })
        .collect();
    abd(&layers)
}

pub(super) fn lamina_and_laminate(c: &Case) -> Option<Got> {
    let densities = || Densities { fibre_kg_m3: c.n("rho_fibre_kg_m3"), matrix_kg_m3: c.n("rho_matrix_kg_m3") };
    Some(match c.id.as_str() {
        "lamina_vf_from_wf_carbon" => {
            let vf = volume_fraction(c.n("wf_fibre"), 0.0, densities());
            vec![("vf_fibre", vf), ("rho_ply_kg_m3", 1780.0 * vf + 1160.0 * (1.0 - vf))]
        }
        "lamina_ply_thickness_from_areal_weight" => {
            let (f, vf) = (c.n("fabric_areal_kg_m2"), c.n("vf_fibre"));
            vec![
                ("ply_thickness_mm", 1e3 * thickness_m(f, vf, c.n("rho_fibre_kg_m3"))),
                ("ply_areal_kg_m2", f / mass_fraction(vf, 0.0, densities())),
            ]
        }
        "lamina_rom_carbon_epoxy" => {
            let fibre = Fibre {
                modulus_pa: 1e9 * c.n("ef1_gpa"),
                transverse_modulus_pa: 1e9 * c.n("ef2_gpa"),
                shear_modulus_pa: 1e9 * c.n("gf12_gpa"),
                poisson: c.n("nuf12"),
                ..Fibre::default()
            };
            let resin = Resin { modulus_pa: 1e9 * c.n("em_gpa"), poisson: c.n("num"), ..Resin::default() };
            let l = unidirectional(&fibre, &resin, c.n("vf_fibre"));
            vec![("e1_gpa", l.e1_pa / 1e9), ("nu12", l.nu12)]
        }
        "lamina_halpin_tsai_glass_epoxy" => vec![
            ("e2_gpa", halpin_tsai(c.n("ef_gpa"), c.n("em_gpa"), c.n("vf_fibre"), c.n("xi_e2"))),
            ("g12_gpa", halpin_tsai(c.n("gf_gpa"), c.n("gm_gpa"), c.n("vf_fibre"), c.n("xi_g12"))),
        ],
        "lamina_qbar_20deg" => {
            let q = reduced(lamina(c, "e1_pa", 1.0));
            let t = turned(q, c.n("theta_deg").to_radians());
            vec![
                ("q11_pa", q.s11),
                ("q12_pa", q.s12),
                ("q22_pa", q.s22),
                ("q66_pa", q.s66),
                ("qbar11_pa", t.s11),
                ("qbar12_pa", t.s12),
                ("qbar16_pa", t.s16),
                ("qbar22_pa", t.s22),
                ("qbar26_pa", t.s26),
                ("qbar66_pa", t.s66),
            ]
        }
        "lamina_crimp_retention_5deg" => {
            let crimp = c.n("max_crimp_angle_deg").to_radians().powi(2) / 4.0;
            vec![("e1_retention", crimp_retention(lamina(c, "e1_pa", 1.0), crimp)), ("crimp_ratio", crimp)]
        }
        "lamina_failure_kaw_60deg" => {
            let m = |k: &str| 1e6 * c.n(k);
            let s = in_ply_axes(m("sigma_x_mpa"), m("sigma_y_mpa"), m("tau_xy_mpa"), c.n("theta_deg").to_radians());
            let k = Strengths {
                xt_pa: m("xt_mpa"),
                xc_pa: m("xc_mpa"),
                yt_pa: m("yt_mpa"),
                yc_pa: m("yc_mpa"),
                s12_pa: m("s12_mpa"),
            };
            vec![
                ("sigma1_mpa", s.s1_pa / 1e6),
                ("sigma2_mpa", s.s2_pa / 1e6),
                ("tau12_mpa", s.t12_pa / 1e6),
                ("sr_max_stress", max_stress(s, &k)),
                ("sr_tsai_hill_signed_strengths", tsai_hill(s, &k)),
                ("sr_tsai_wu", tsai_wu(s, &k)),
            ]
        }
        "laminate_kaw_0_30_m45_abd" => {
            let s = stack(c, lamina(c, "e1_pa", 1.0));
            let names = [
                ["a11_n_per_m", "a12_n_per_m", "a16_n_per_m", "a22_n_per_m", "a26_n_per_m", "a66_n_per_m"],
                ["b11_n", "b12_n", "b16_n", "b22_n", "b26_n", "b66_n"],
                ["d11_nm", "d12_nm", "d16_nm", "d22_nm", "d26_nm", "d66_nm"],
            ];
            [s.a, s.b, s.d]
                .iter()
                .zip(names)
                .flat_map(|(m, n)| n.into_iter().zip([m.s11, m.s12, m.s16, m.s22, m.s26, m.s66]))
                .collect()
        }
        "laminate_mallick_qi_8ply" => {
            let s = stack(c, lamina(c, "e1_pa", 1.0));
            let (a, d) = (s.a.inverse().unwrap(), s.d.inverse().unwrap());
            let by = |m: &Stiffness, x: f64, y: f64, z: f64| m.matrix().map(|r| r[0] * x + r[1] * y + r[2] * z);
            let e = by(&a, c.n("nx_n_per_m"), c.n("ny_n_per_m"), c.n("nxy_n_per_m"));
            let k = by(&d, c.n("mx_n"), c.n("my_n"), c.n("mxy_n"));
            vec![
                ("a11_n_per_m", s.a.s11),
                ("a12_n_per_m", s.a.s12),
                ("a66_n_per_m", s.a.s66),
                ("d11_nm", s.d.s11),
                ("d12_nm", s.d.s12),
                ("d16_nm", s.d.s16),
                ("d22_nm", s.d.s22),
                ("d66_nm", s.d.s66),
                ("eps_x0", e[0]),
                ("eps_y0", e[1]),
                ("gamma_xy0", e[2]),
                ("kappa_x_per_m", k[0]),
                ("kappa_y_per_m", k[1]),
                ("kappa_xy_per_m", k[2]),
            ]
        }
        "laminate_pm45_engineering_constants" => {
            let s = stack(c, lamina(c, "e1_pa", 1.0));
            let e = effective(&s.a, s.thickness_m);
            vec![("ex_pa", e.e1_pa), ("gxy_pa", e.g12_pa), ("nu_xy", e.nu12)]
        }
        "laminate_plain_weave_as_crossply" => {
            let u = lamina(c, "ud_e1_pa", 1.0);
            let crimp = (1.0 / c.n("e1_retention") - 1.0) / (2.0 * (u.e1_pa / u.g12_pa - 2.0 * (1.0 + u.nu12)));
            let w = woven(u, crimp, 0.5);
            let t = c.n("fabric_thickness_mm") * 1e-3;
            let at45 = effective(&abd(&[Layer { q_pa: turned(reduced(w), PI / 4.0), thickness_m: t }]).a, t);
            vec![
                ("ex_fabric_pa", w.e1_pa),
                ("gxy_fabric_pa", w.g12_pa),
                ("nuxy_fabric", w.nu12),
                ("ex_fabric_at_45_pa", at45.e1_pa),
                ("gxy_fabric_at_45_pa", at45.g12_pa),
            ]
        }
        _ => return None,
    })
}

pub(super) fn sandwiches(c: &Case) -> Option<Got> {
    let mm = |k: &str| 1e-3 * c.n(k);
    Some(match c.id.as_str() {
        "sandwich_symmetric_3pt" => {
            let face = (c.n("ef_pa"), mm("face1_mm"));
            let d = sandwich::bending_stiffness(face, (c.n("ec_pa"), mm("core_mm")), (c.n("ef_pa"), mm("face2_mm")));
            let s = sandwich::shear_stiffness(c.n("gc_pa"), mm("core_mm") + mm("face1_mm"), mm("core_mm"));
            let b = sandwich::Bend {
                load_n: c.n("load_n"),
                span_m: mm("span_mm"),
                inner_span_m: 0.0,
                width_m: mm("width_mm"),
            };
            vec![
                ("d_exact_nm", d),
                ("shear_stiffness_n_per_m", s),
                ("deflection_mm", 1e3 * sandwich::three_point(b, d, s)),
            ]
        }
        "sandwich_one_face_on_foam" => {
            let (e, t, ec, core) = (c.n("ef_pa"), mm("face_mm"), c.n("ec_pa"), mm("core_mm"));
            let d = sandwich::bending_stiffness((e, t), (ec, core), (0.0, 0.0));
            let skin = Skin {
                kind: Kind::OneFaced,
                outer: Face { thickness_m: t, e_span_pa: e, e_chord_pa: e, ..Face::default() },
                core_thickness_m: core,
                d: stiffness(d, d, 0.0, d),
                ..Skin::default()
            };
            let (face, bare) = skins::Bending::new(&skin, 0.3, true).strain_per_moment(ec);
            let m = c.n("moment_nm_per_m");
            vec![
                ("neutral_axis_below_face_mid_mm", 1e3 * (face * d - t / 2.0)),
                ("d_nm", d),
                ("face_strain_max", m * face),
                ("foam_back_strain", m * bare),
            ]
        }
        "sandwich_gere_faces_and_plastic_core" | "sandwich_gere_problem_6_2_7" => {
            let metric = c.id.ends_with("core");
            let (w, t, core, ef, ec, m) = if metric {
                (
                    mm("width_mm"),
                    mm("face_mm"),
                    mm("core_mm"),
                    1e9 * c.n("ef_gpa"),
                    1e9 * c.n("ec_gpa"),
                    c.n("moment_nm"),
                )
            } else {
                (c.n("width_in"), c.n("face_in"), c.n("core_in"), c.n("ef_psi"), c.n("ec_psi"), c.n("moment_lb_in"))
            };
            let ei = w * sandwich::bending_stiffness((ef, t), (ec, core), (ef, t));
            let alone = w * sandwich::bending_stiffness((ef, t), (0.0, core), (ef, t));
            let at = core / 2.0 + t;
            let (general, thin) = (m * at * ef / ei, m * at * ef / alone);
            if metric {
                vec![
                    ("ei_nm2", ei),
                    ("face_stress_max_mpa", general / 1e6),
                    ("face_stress_thin_theory_mpa", thin / 1e6),
                ]
            } else {
                vec![("ei_lb_in2", ei), ("face_stress_general_psi", general), ("face_stress_thin_theory_psi", thin)]
            }
        }
        "sandwich_crawford_foam_beam_equivalent" => {
            let (t, core) = (c.n("skin_mm"), c.n("core_mm"));
            let i = c.n("width_mm")
                * sandwich::bending_stiffness((1.0, t), (c.n("modulus_ratio_core_to_skin"), core), (1.0, t));
            vec![("i_equivalent_mm4", i)]
        }
        "sandwich_wrinkling_coefficients" => {
            vec![("sigma_design_0p5_mpa", sandwich::wrinkling(c.n("ef_pa"), c.n("ec_pa"), c.n("gc_pa")) / 1e6)]
        }
        "sandwich_wrinkling_exact_half_space" => {
            let s = sandwich::wrinkling_perfect(c.n("ef_pa"), c.n("ec_pa"), c.n("nu_core"));
            let g = c.n("ec_pa") / (2.0 * (1.0 + c.n("nu_core")));
            vec![
                ("sigma_mpa", s / 1e6),
                ("coefficient_on_cube_root_ef_ec_gc", 0.5 * s / sandwich::wrinkling(c.n("ef_pa"), c.n("ec_pa"), g)),
            ]
        }
        "sandwich_wrinkling_winkler_symmetric" => {
            let s = sandwich::wrinkling_thin_core(c.n("ef_pa"), c.n("ec_pa"), c.n("face_mm") / c.n("core_mm"));
            vec![("sigma_winkler_mpa", s / 1e6)]
        }
        "sandwich_wrinkling_one_face_rigid_base" => Vec::new(),
        "sandwich_column_with_shear_and_crimping" => {
            let (t, core) = (mm("face_mm"), mm("core_mm"));
            let s = sandwich::shear_stiffness(c.n("gc_pa"), core + t, core);
            let d = c.n("ef_pa") * t * (core + t) * (core + t) / 2.0;
            vec![
                ("n_euler_n_per_m", sandwich::column(d, f64::INFINITY, mm("length_mm"))),
                ("n_crimp_n_per_m", s),
                ("n_critical_n_per_m", sandwich::column(d, s, mm("length_mm"))),
            ]
        }
        "sandwich_3pt_collapse_modes" => {
            let (b, t, core, l) = (mm("width_mm"), mm("face_mm"), mm("core_mm"), mm("span_mm"));
            let face = Face { thickness_m: t, e_span_pa: c.n("ef_pa"), ..Face::default() };
            let skin = Skin { kind: Kind::Sandwich, outer: face, inner: face, lever_m: core + t, ..Skin::default() };
            // Moment P L/4 over the width; the face strain per moment of the panel modes.
            let per_n = skins::Bending::new(&skin, l, true).strain_per_moment(0.0).0 * l / 4.0 / b * c.n("ef_pa");
            let wrinkle = sandwich::wrinkling(c.n("ef_pa"), c.n("ec_pa"), c.n("gc_pa"));
            vec![
                ("load_face_strength_n", c.n("face_strength_pa") / per_n),
                ("load_face_wrinkling_n", wrinkle / per_n),
                ("load_core_shear_n", c.n("core_shear_strength_pa") / skins::core_shear_pa(0.5 / b, core + t)),
            ]
        }
        "sandwich_core_shear_exact" => {
            let lever = mm("core_mm") + mm("face_mm");
            vec![("tau_thin_face_pa", skins::core_shear_pa(c.n("shear_n") / mm("width_mm"), lever))]
        }
        _ => return None,
    })
}
