//! Spars, beams, ribs and coverings.

use super::{Case, Got};
use super::{fabric_sandwich, flat};
use std::f64::consts::PI;
use thistledown::physics::loads::beam::{Piece, sums};
use thistledown::physics::loads::internal::{CaseLoads, Lists, Loads};
use thistledown::physics::strength::caps::{Bed, crush_load_n_m, strut_between, strut_on_springs};
use thistledown::physics::strength::sizing::{CapHere, Section, bend, bending_section};
use thistledown::physics::strength::{membrane, panel, ribs};
use thistledown::physics::wing::layout::{Bay, Layout, RibRole, Station};

pub(super) fn spars(c: &Case) -> Option<Got> {
    let mm = |k: &str| 1e-3 * c.n(k);
    let section = |ei: f64, lever: f64| Section { ei_nm2: ei, cap_lever_m: lever, ..Section::default() };
    Some(match c.id.as_str() {
        "spar_section_unequal_caps" => {
            let cap = |t: f64| CapHere {
                thickness_m: t,
                width_m: mm("cap_width_mm"),
                ea_n: c.n("e_cap_pa") * mm("cap_width_mm") * t,
            };
            let s = bending_section(mm("height_mm"), &cap(mm("top_cap_mm")), &cap(mm("bottom_cap_mm")));
            let strain = |fibre: f64| c.n("moment_nm") * fibre / s.ei_nm2;
            vec![
                ("neutral_axis_from_bottom_mm", 1e3 * s.lower_fibre_m),
                ("ei_nm2", s.ei_nm2),
                ("strain_top", strain(s.upper_fibre_m)),
                ("strain_bottom", strain(s.lower_fibre_m)),
            ]
        }
        "spar_crushing_load" => {
            let p = crush_load_n_m(c.n("moment_nm"), &section(c.n("ei_nm2"), mm("cap_centroid_distance_mm")));
            vec![("crush_load_n_per_m", p), ("core_compressive_stress_pa", p / mm("core_width_mm"))]
        }
        "spar_crushing_from_cap_strain" => {
            let h = mm("cap_centroid_distance_mm");
            let ea = c.n("e_cap_pa") * c.n("cap_area_mm2") * 1e-6;
            let p = crush_load_n_m(ea * c.n("cap_strain") * h, &section(ea * h * h / 2.0, h));
            vec![("crush_load_n_per_m", p)]
        }
        "spar_cap_on_core_foundation" | "rib_cap_buckling_on_foam" => {
            let spar = c.id.starts_with("spar");
            let height = if spar { mm("core_height_mm") } else { mm("depth_mm") };
            let bed = Bed { core_n_m: c.n("core_ez_pa") * mm("core_width_mm"), height_m: height, ..Bed::default() };
            let ei = c.n(if spar { "e_cap_pa" } else { "cap_e_pa" }) * mm("cap_width_mm") * mm("cap_mm").powi(3) / 12.0;
            let (n, wave) = strut_on_springs(ei, bed.foundation_n_m2());
            let mut out =
                vec![("ei_cap_nm2", ei), ("foundation_pa", bed.foundation_n_m2()), ("half_wavelength_mm", 1e3 * wave)];
            if spar {
                out.push(("n_critical_long_n", n));
                out.push(("n_critical_300mm_n", strut_between(ei, bed.foundation_n_m2(), 0.3)));
            } else {
                out.push(("n_critical_n", n));
            }
            out
        }
        "spar_web_sandwich_shear" => {
            let (d, a, s) = fabric_sandwich(c);
            let h = mm("web_height_mm");
            let q = c.n("shear_n") / h;
            vec![
                ("shear_flow_n_per_m", q),
                ("face_shear_stress_mpa", q / a.s66 * (a.s66 / (2.0 * mm("face_mm"))) / 1e6),
                ("s_n_per_m", s),
                ("nxy_critical_n_per_m", panel::shear(&flat(10.0 * h, h, d, s))),
            ]
        }
        "spar_boom_second_moment" => {
            let i: f64 = c
                .list("boom_area_mm2")
                .iter()
                .zip(c.list("boom_half_height_mm"))
                .map(|(a, h)| {
                    let cap = CapHere { thickness_m: 0.0, width_m: 1.0, ea_n: *a };
                    bending_section(2.0 * h, &cap, &cap).ei_nm2
                })
                .sum();
            vec![("ixx_mm4", i)]
        }
        _ => return None,
    })
}

/// Shear and moment at the root, slope and deflection at the tip, of a cantilever through the project's own beam kernel
/// and its own integration of curvature.
fn cantilever(length: f64, ei: impl Fn(f64) -> f64, load: impl Fn(f64) -> f64, tip_n: f64) -> [f64; 4] {
    let n = 240;
    // Cosine spacing to the tip, where elliptic loads end steeply.
    let y: Vec<f64> = (0..=n).map(|i| length * (PI / 2.0 * f64::from(i) / f64::from(n)).sin()).collect();
    let fine = 20_000;
    let h = length / f64::from(fine);
    let pieces = (0..fine).rev().map(|i| {
        let x = (f64::from(i) + 0.5) * h;
        Piece { from_m: x - 0.5 * h, to_m: x + 0.5 * h, load: load(x), ..Piece::default() }
    });
    let mut s = sums(&y, pieces);
    for (k, edge) in y.iter().enumerate() {
        s[k].point(*edge, tip_n, length, 0.0);
    }
    let at = |y_m: f64| Station { y_m, ..Station::default() };
    let bays = y
        .windows(2)
        .map(|w| Bay {
            inner: at(w[0]),
            outer: at(w[1]),
            mid: at(0.5 * (w[0] + w[1])),
            length_m: w[1] - w[0],
            rib_kind: 0,
            edge_kinds: [0, 0],
            nose_kind: 0,
            nose_ribs: 0,
            inner_rib: RibRole::Main,
            outer_rib: RibRole::Main,
        })
        .collect();
    let layout = Layout { half_span_m: length, bays, ..Layout::default() };
    let sections: Vec<Section> = y.iter().map(|x| Section { ei_nm2: ei(*x), ..Section::default() }).collect();
    let moment_nm: Vec<f64> = s.iter().map(|s| s.arm).collect();
    let case = CaseLoads::of(0, Lists { moment_nm: &moment_nm, ..Lists::default() });
    let bent = bend(&layout, &sections, &Loads { loads: vec![case], ..Loads::default() }).remove(0);
    let z = bent.deflection_m();
    let last = z.len() - 1;
    [s[0].force, s[0].arm, (z[last] - z[last - 1]) / (y[last] - y[last - 1]), z[last]]
}

pub(super) fn beams(c: &Case) -> Option<Got> {
    let l = || c.n("length_m");
    Some(match c.id.as_str() {
        "beam_uniform_cantilever" => {
            let ei = c.n("ei_nm2");
            let w = c.n("udl_n_per_m");
            let even = cantilever(l(), |_| ei, |_| w, 0.0);
            let falling = cantilever(l(), |_| ei, |x| w * (1.0 - x / l()), 0.0);
            vec![
                ("tip_deflection_udl_m", even[3]),
                ("tip_deflection_tip_load_m", cantilever(l(), |_| ei, |_| 0.0, c.n("tip_load_n"))[3]),
                ("tip_deflection_triangular_m", falling[3]),
                ("tip_slope_udl_rad", even[2]),
                ("root_moment_udl_nm", even[1]),
            ]
        }
        "beam_linear_taper_ei" => {
            let ei = |x: f64| c.n("ei_root_nm2") * (1.0 - (1.0 - c.n("ei_tip_over_root")) * x / l());
            vec![
                ("tip_deflection_tip_load_m", cantilever(l(), ei, |_| 0.0, c.n("tip_load_n"))[3]),
                ("tip_deflection_udl_m", cantilever(l(), ei, |_| c.n("udl_n_per_m"), 0.0)[3]),
            ]
        }
        "beam_elliptic_load_cubic_taper" => {
            let s = c.n("semi_span_m");
            let w0 = 4.0 * c.n("half_wing_lift_n") / (PI * s);
            let ei = |x: f64| c.n("ei_root_nm2") * (1.0 - 0.6 * x / s).powi(3);
            let [v, m, slope, z] = cantilever(s, ei, |x| w0 * (1.0 - (x / s).powi(2)).max(0.0).sqrt(), 0.0);
            vec![("root_shear_n", v), ("root_moment_nm", m), ("tip_slope_rad", slope), ("tip_deflection_m", z)]
        }
        "beam_schrenk_no_relief" => {
            let s = c.n("semi_span_m");
            let (root, tip) = (c.n("root_chord_m"), c.n("tip_chord_m"));
            let half = c.n("load_factor") * c.n("half_wing_lift_1g_n");
            let area = s * (root + tip) / 2.0;
            let ei = |x: f64| c.n("ei_root_nm2") * (1.0 - 0.6 * x / s).powi(3);
            let w = |x: f64| {
                let planform = half * (root + (tip - root) * x / s) / area;
                let ellipse = 4.0 * half / (PI * s) * (1.0 - (x / s).powi(2)).max(0.0).sqrt();
                f64::midpoint(planform, ellipse)
            };
            let [v, m, slope, z] = cantilever(s, ei, w, 0.0);
            vec![("root_shear_n", v), ("root_moment_nm", m), ("tip_slope_rad", slope), ("tip_deflection_m", z)]
        }
        "beam_shear_deflection_share" => {
            let ei = c.n("ei_nm2");
            vec![("tip_deflection_bending_m", cantilever(l(), |_| ei, |_| c.n("udl_n_per_m"), 0.0)[3])]
        }
        "beam_tapered_ei_published" => {
            let ei = |x: f64| c.n("ei_root_nm2") + (c.n("ei_tip_nm2") - c.n("ei_root_nm2")) * x / l();
            vec![("tip_deflection_m", cantilever(l(), ei, |_| 0.0, c.n("tip_load_n"))[3])]
        }
        _ => return None,
    })
}

pub(super) fn ribs_and_coverings(c: &Case) -> Option<Got> {
    let mm = |k: &str| 1e-3 * c.n(k);
    Some(match c.id.as_str() {
        "rib_triangular_load_root" | "rib_triangular_load_mid" => {
            let whole = mm("rib_length_mm");
            let left = if c.id.ends_with("mid") { whole - mm("station_mm") } else { whole };
            let w = c.n("pressure_at_spar_pa") * mm("rib_spacing_mm") * left / whole;
            let (v, m) = ribs::cantilever(w * left / 2.0, 0.0, left);
            let slope = (mm("depth_at_spar_mm") - mm("depth_at_te_mm")) / whole;
            let h = mm("depth_at_te_mm") + slope * left;
            if c.id.ends_with("mid") {
                return Some(vec![("shear_n", v), ("moment_nm", m), ("cap_force_n", m / h)]);
            }
            let ea = c.n("cap_e_pa") * c.n("cap_area_mm2") * 1e-6;
            let q = ribs::shear_flow_n_m(v, m, h, slope);
            vec![
                ("root_shear_n", v),
                ("root_moment_nm", m),
                ("cap_force_n", ribs::cap_strain(m, h, ea) * ea),
                ("cap_strain", ribs::cap_strain(m, h, ea)),
                ("core_shear_flow_n_per_m", q),
                ("core_shear_stress_pa", q / mm("core_width_mm")),
            ]
        }
        "rib_uniform_load_constant_depth" => {
            let l = mm("rib_length_mm");
            let (v, m) = ribs::cantilever(0.0, c.n("pressure_pa") * mm("rib_spacing_mm") * l, l);
            let q = ribs::shear_flow_n_m(v, m, mm("depth_mm"), 0.0);
            vec![("root_shear_n", v), ("root_moment_nm", m), ("core_shear_stress_pa", q / mm("core_width_mm"))]
        }
        "rib_megson_three_flange_shear_flows" | "membrane_circular_hencky" | "membrane_square_pretension" => Vec::new(),
        "membrane_strip_slack" | "membrane_strip_pretensioned" => {
            let (p, l) = (c.n("pressure_pa"), mm("rib_spacing_mm"));
            let t = membrane::tension(p, l, c.n("stiffness_et_n_per_m"), c.n("pretension_n_per_m"));
            vec![("tension_n_per_m", t), ("sag_mm", 1e3 * membrane::sag_m(p, l, t))]
        }
        _ => return None,
    })
}

#[test]
fn mean_stiffness_of_a_published_test() {
    // proof-02: public builder page (graal-aero.fr): 3530 N on a panel of 7.5 m moved the tip 0.80 m; EI 232.7 kN m2 if the
    // bags were spread evenly, 180.0 if as an ellipse (integrated for the reference).
    let even = cantilever(7.5, |_| 232_720.0, |_| 3530.394 / 7.5, 0.0)[3];
    let w0 = 4.0 * 3530.394 / (PI * 7.5);
    let ellipse = cantilever(7.5, |_| 180_040.0, |x| w0 * (1.0 - (x / 7.5).powi(2)).max(0.0).sqrt(), 0.0)[3];
    assert!((even / 0.8 - 1.0).abs() < 2e-3 && (ellipse / 0.8 - 1.0).abs() < 2e-3, "{even} {ellipse}");
}
