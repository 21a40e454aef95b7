//! Which checks against something outside stand behind each mode. A test walks the list and holds every name to exist.

/// Mode, and the checks of its formula: `file::test` under `tests/published`, or the id of a case there.
pub const CHECKS: &[(&str, &[&str])] = &[
    (
        "cap_tension",
        &[
            "spar_section_unequal_caps",
            "spar_boom_second_moment",
            "beam_uniform_cantilever",
            "lamina_rom_carbon_epoxy",
            "whole_wing::lift_less_relief_is_what_hangs",
        ],
    ),
    (
        "cap_compression",
        &[
            "spar_section_unequal_caps",
            "spar_boom_second_moment",
            "beam_elliptic_load_cubic_taper",
            "beam_schrenk_no_relief",
        ],
    ),
    (
        "cap_stability",
        &[
            "spar_cap_on_core_foundation",
            "rib_cap_buckling_on_foam",
            "structures::caps_on_the_bed_between_them",
            "structures::springs_of_uniaxial_modulus_are_below_the_sheet",
        ],
    ),
    (
        "web_shear",
        &["spar_web_sandwich_shear", "torsion_two_cap_d_cell_shear_flows", "laminate::first_ply_limits_of_faces"],
    ),
    (
        "web_buckling",
        &[
            "spar_web_sandwich_shear",
            "plate_orthotropic_shear_long_beta_gt_1",
            "plate_isotropic_shear_k",
            "sandwich_plate_0_90_faces",
        ],
    ),
    (
        "web_crushing",
        &[
            "spar_crushing_load",
            "spar_crushing_from_cap_strain",
            "sandwich_wrinkling_coefficients",
            "sandwich_column_with_shear_and_crimping",
        ],
    ),
    (
        "post_crushing",
        &["spar_crushing_load", "spar_crushing_from_cap_strain", "sandwich_column_with_shear_and_crimping"],
    ),
    (
        "nose_shear",
        &[
            "torsion_megson_closed_cell",
            "torsion_d_section_two_materials",
            "torsion_thin_tube",
            "laminate_pm45_engineering_constants",
            "laminate::first_ply_limits_of_faces",
        ],
    ),
    (
        "nose_buckling",
        &[
            "curved_panel_compression_Z5",
            "curved_panel_compression_Z20",
            "curved_panel_compression_design_combination",
            "curved_sandwich_45_faces_R300",
            "cylinder_knockdown_sp8007",
            "cylinder_knockdown_equivalent_thickness",
            "curved_panel_shear_Z10",
            "curved_panel_shear_Z30",
            "curved_panel_shear_Z100",
            "structures::curvature_and_combined_load",
        ],
    ),
    (
        "face_wrinkling",
        &[
            "sandwich_wrinkling_coefficients",
            "sandwich_wrinkling_exact_half_space",
            "sandwich_wrinkling_winkler_symmetric",
            "sandwich_3pt_collapse_modes",
        ],
    ),
    (
        "shear_crimping",
        &["sandwich_column_with_shear_and_crimping", "sandwich_symmetric_3pt", "sandwich_plate_compression_V_0p5"],
    ),
    ("bare_foam", &["sandwich_one_face_on_foam", "laminate::sandwich_stiffness_and_bending"]),
    (
        "aft_pressure",
        &[
            "plate_lateral_pressure_ab_1p0",
            "plate_lateral_pressure_ab_2p0",
            "sandwich_3pt_collapse_modes",
            "sandwich_gere_problem_6_2_7",
            "sandwich_one_face_on_foam",
        ],
    ),
    (
        "aft_buckling",
        &[
            "plate_isotropic_compression_k",
            "plate_orthotropic_compression",
            "sandwich_plate_compression_V_0p2",
            "sandwich_plate_compression_V_0p5",
            "sandwich_plate_0_90_faces",
        ],
    ),
    ("core_shear", &["sandwich_core_shear_exact", "sandwich_3pt_collapse_modes"]),
    (
        "unseen_dent",
        &[
            "spar_section_unequal_caps",
            "laminate::first_ply_limits_of_faces",
            "structures::a_dent_costs_no_more_than_assumed",
        ],
    ),
    ("cap_web_bond", &["torsion_two_cap_d_cell_shear_flows", "spar_web_sandwich_shear"]),
    (
        "cap_skin_bond",
        &[
            "joints::flanges_of_nailed_box_beams",
            "joints::glue_of_a_box_beam",
            "torsion_two_cap_d_cell_shear_flows",
            "joints::bond_of_cap_and_skin_of_a_plank",
        ],
    ),
    (
        "skin_rib_bond",
        &[
            "joints::what_ribs_hand_into_the_nose_of_a_plank",
            "joints::glue_of_a_box_beam",
            "torsion_megson_closed_cell",
            "torsion_d_section_two_materials",
        ],
    ),
    ("closing_rib", &["joints::a_rib_that_closes_a_box", "joints::the_closing_rib_of_a_plank"]),
    (
        "joint_rib",
        &[
            "joint_ribs::flows_and_moments_of_a_discrete_outline",
            "joint_ribs::a_rib_between_spar_and_rear_fitting_is_a_shear_panel",
            "joint_ribs::the_rib_at_the_root_by_hand",
        ],
    ),
    ("nose_seam_bond", &["torsion_d_section_two_materials", "torsion_two_cap_d_cell_shear_flows"]),
    (
        "covering_tension",
        &["membrane_strip_slack", "membrane_strip_pretensioned", "structures::coverings_under_pressure"],
    ),
    ("covering_sag", &["membrane_strip_slack", "membrane_strip_pretensioned", "structures::coverings_under_pressure"]),
    ("inplane_bending", &["structures::two_flanges_in_their_plane", "structures::faces_as_flanges_in_their_plane"]),
    (
        "covering_fastening",
        &["structures::cable_ends_pull_what_the_fastening_is_asked", "structures::exact_arc_pulls_the_same"],
    ),
    (
        "rib_bending",
        &[
            "rib_triangular_load_root",
            "rib_triangular_load_mid",
            "rib_uniform_load_constant_depth",
            "flight::section_torsion",
        ],
    ),
    ("rib_shear", &["rib_triangular_load_root", "rib_uniform_load_constant_depth"]),
    ("rib_buckling", &["rib_cap_buckling_on_foam", "structures::springs_of_uniaxial_modulus_are_below_the_sheet"]),
    ("joint_pins", &["structures::aircraft_bolts_in_double_shear", "structures::sheet_in_bearing"]),
    (
        "joint_lugs",
        &[
            "joints::a_pin_connected_member_of_the_code",
            "joints::bearing_by_another_code",
            "joints::lug_and_seat_of_the_centre_joint",
        ],
    ),
    (
        "fitting_seat",
        &[
            "joints::pressure_under_an_eccentric_block",
            "joints::a_block_that_may_lift",
            "joints::lug_and_seat_of_the_centre_joint",
        ],
    ),
    (
        "tip_deflection",
        &[
            "beam_uniform_cantilever",
            "beam_linear_taper_ei",
            "beam_tapered_ei_published",
            "beam_elliptic_load_cubic_taper",
            "spars::mean_stiffness_of_a_published_test",
        ],
    ),
    (
        "twist",
        &[
            "torsion_megson_closed_cell",
            "torsion_d_section_two_materials",
            "torsion_rectangular_box",
            "flight::section_torsion",
        ],
    ),
    (
        "divergence",
        &[
            "airloads::uniform_divergence",
            "airloads::tapered_divergence",
            "airloads::a_dozen_stations_are_enough_for_divergence",
            "airloads::twist_grows_towards_divergence",
            "wings::finite_span_raises_the_divergence_speed",
            "wings::none_below_is_said_only_when_shown",
        ],
    ),
    (
        "cap_ply_end",
        &[
            "details::a_layer_end_releases_what_two_glued_bars_give_up",
            "details::a_strip_on_a_rigid_bed_is_the_plate_pull_off",
            "lamina_rom_carbon_epoxy",
        ],
    ),
    (
        "bond_peel",
        &[
            "details::two_arms_are_the_double_cantilever_of_the_book",
            "details::a_peeled_bay_releases_what_its_energy_loses",
            "details::the_end_of_a_bond_gives_as_a_beam_on_springs",
        ],
    ),
    (
        "edge_under_covering",
        &[
            "details::a_part_loaded_beam",
            "details::a_covered_panel_pulls_its_edges_less_than_a_strip",
            "structures::exact_arc_pulls_the_same",
            "membrane_strip_pretensioned",
        ],
    ),
    (
        "control_rib",
        &[
            "details::hinge_moment_by_the_books_coefficient",
            "details::flap_load_by_summing_the_vortices",
            "details::hinge_reactions_of_a_beam_over_equal_spans",
            "rib_triangular_load_root",
            "rib_uniform_load_constant_depth",
        ],
    ),
    (
        "holds",
        &[
            "details::a_small_load_on_a_plate",
            "details::a_pinched_cylinder_gives_what_is_published",
            "details::plate_and_arch_under_a_palm_balance_it",
            "details::carried_weight_of_two_palms",
        ],
    ),
    (
        "control_reversal",
        &[
            "airloads::reversal_and_effectiveness",
            "airloads::effectiveness_of_a_part_span_control",
            "wings::published_reversal_of_a_rigid_section",
        ],
    ),
];

/// Checks of a mode; empty when its formula has none.
pub fn of(mode: &str) -> &'static [&'static str] {
    CHECKS.iter().find(|c| c.0 == mode).map_or(&[], |c| c.1)
}

/// In words: how many, or that it is unchecked.
pub fn words(mode: &str) -> String {
    match of(mode).len() {
        0 => "unchecked: no check against something outside".to_owned(),
        1 => "1 check against something outside".to_owned(),
        n => format!("{n} checks against something outside"),
    }
}
