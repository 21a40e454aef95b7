//! Plain numbers of a design as dials: one line each, in the order of the Wing page.

use crate::physics::design::Design;
use crate::scenario::dials::Group;

/// A plain number of the design: how to read and write it in the shown unit, and its path in the file.
#[derive(Clone, Copy)]
pub(super) struct Plain {
    pub(super) key: &'static str,
    pub(super) label: &'static str,
    pub(super) group: Group,
    pub(super) unit: &'static str,
    /// least, most, step, coarse step, digits.
    pub(super) range: (f64, f64, f64, f64, usize),
    pub(super) read: fn(&Design) -> f64,
    pub(super) write: fn(&mut Design, f64),
}

const DEG: f64 = std::f64::consts::PI / 180.0;

const fn plain(
    key: &'static str,
    label: &'static str,
    place: (Group, &'static str),
    range: (f64, f64, f64, f64, usize),
    access: (fn(&Design) -> f64, fn(&mut Design, f64)),
) -> Plain {
    Plain { key, label, group: place.0, unit: place.1, range, read: access.0, write: access.1 }
}

/// Plain numbers, in the order of the Wing page.
pub(super) const PLAIN: &[Plain] = &[
    plain(
        "planform.span_m",
        "Span",
        (Group::Planform, "m"),
        (3.0, 40.0, 0.1, 1.0, 2),
        (|d| d.planform.span_m, |d, v| d.planform.span_m = v),
    ),
    plain(
        "planform.area_m2",
        "Area",
        (Group::Planform, "m²"),
        (2.0, 80.0, 0.1, 1.0, 2),
        (|d| d.planform.area_m2, |d, v| d.planform.area_m2 = v),
    ),
    plain(
        "planform.taper",
        "Taper",
        (Group::Planform, ""),
        (0.15, 1.0, 0.01, 0.1, 2),
        (|d| d.planform.taper, |d, v| d.planform.taper = v),
    ),
    plain(
        "planform.sweep_deg",
        "Sweep",
        (Group::Planform, "°"),
        (-30.0, 40.0, 0.5, 5.0, 1),
        (|d| d.planform.sweep_rad / DEG, |d, v| d.planform.sweep_rad = v * DEG),
    ),
    plain(
        "planform.washout_deg",
        "Washout",
        (Group::Planform, "°"),
        (-5.0, 15.0, 0.5, 2.0, 1),
        (|d| d.planform.washout_rad / DEG, |d, v| d.planform.washout_rad = v * DEG),
    ),
    plain(
        "planform.dihedral_deg",
        "Dihedral",
        (Group::Planform, "°"),
        (-10.0, 15.0, 0.5, 2.0, 1),
        (|d| d.planform.dihedral_rad / DEG, |d, v| d.planform.dihedral_rad = v * DEG),
    ),
    plain(
        "spar.position_root",
        "Spar at root",
        (Group::Layout, "chord"),
        (0.05, 0.6, 0.01, 0.05, 2),
        (|d| d.spar.position_root, |d, v| d.spar.position_root = v.min(d.hinge_frac - 0.06)),
    ),
    plain(
        "spar.position_tip",
        "Spar at tip",
        (Group::Layout, "chord"),
        (0.05, 0.6, 0.01, 0.05, 2),
        (|d| d.spar.position_tip, |d, v| d.spar.position_tip = v.min(d.hinge_frac - 0.06)),
    ),
    plain(
        "layout.hinge_chord",
        "Hinge line",
        (Group::Layout, "chord"),
        (0.5, 0.95, 0.01, 0.05, 2),
        (|d| d.hinge_frac, |d, v| d.hinge_frac = v.max(d.spar.position_root.max(d.spar.position_tip) + 0.06)),
    ),
    plain(
        "spar.upper_cap.width_root_mm",
        "Cap width, root",
        (Group::Spar, "mm"),
        (3.0, 500.0, 1.0, 10.0, 0),
        (|d| d.spar.upper.width_root_m * 1e3, |d, v| d.spar.upper.width_root_m = v * 1e-3),
    ),
    plain(
        "spar.upper_cap.width_tip_mm",
        "Cap width, tip",
        (Group::Spar, "mm"),
        (2.0, 500.0, 1.0, 10.0, 0),
        (|d| d.spar.upper.width_tip_m * 1e3, |d, v| d.spar.upper.width_tip_m = v * 1e-3),
    ),
    plain(
        "spar.lower_cap.width_root_mm",
        "Lower cap, root",
        (Group::Spar, "mm"),
        (3.0, 500.0, 1.0, 10.0, 0),
        (|d| d.spar.lower.width_root_m * 1e3, |d, v| d.spar.lower.width_root_m = v * 1e-3),
    ),
    plain(
        "spar.lower_cap.width_tip_mm",
        "Lower cap, tip",
        (Group::Spar, "mm"),
        (2.0, 500.0, 1.0, 10.0, 0),
        (|d| d.spar.lower.width_tip_m * 1e3, |d, v| d.spar.lower.width_tip_m = v * 1e-3),
    ),
    plain(
        "limits.n_positive",
        "Load factor up",
        (Group::Loads, "g"),
        (1.0, 12.0, 0.1, 0.5, 1),
        (
            |d| d.limits.as_ref().map_or(0.0, |l| l.n_positive),
            |d, v| {
                if let Some(l) = &mut d.limits {
                    l.n_positive = v;
                }
            },
        ),
    ),
    plain(
        "limits.n_negative",
        "Load factor down",
        (Group::Loads, "g"),
        (-8.0, 0.0, 0.1, 0.5, 1),
        (
            |d| d.limits.as_ref().map_or(0.0, |l| l.n_negative),
            |d, v| {
                if let Some(l) = &mut d.limits {
                    l.n_negative = v;
                }
            },
        ),
    ),
    plain(
        "limits.safety_factor",
        "Safety factor",
        (Group::Loads, ""),
        (1.5, 4.0, 0.05, 0.25, 2),
        (
            |d| d.limits.as_ref().map_or(0.0, |l| l.safety_factor),
            |d, v| {
                if let Some(l) = &mut d.limits {
                    l.safety_factor = v;
                }
            },
        ),
    ),
    plain(
        "limits.dive_speed_m_s",
        "Dive speed",
        (Group::Loads, "m/s"),
        (10.0, 90.0, 0.5, 5.0, 1),
        (
            |d| d.limits.as_ref().map_or(0.0, |l| l.dive_speed_m_s),
            |d, v| {
                if let Some(l) = &mut d.limits {
                    l.dive_speed_m_s = v;
                }
            },
        ),
    ),
    plain(
        "limits.extra_factor",
        "Extra factor",
        (Group::Loads, ""),
        (1.0, 3.0, 0.05, 0.25, 2),
        (
            |d| d.limits.as_ref().map_or(0.0, |l| l.extra_factor),
            |d, v| {
                if let Some(l) = &mut d.limits {
                    l.extra_factor = v;
                }
            },
        ),
    ),
    plain(
        "limits.gust_m_s",
        "Gust, rough air",
        (Group::Loads, "m/s"),
        (0.0, 20.0, 0.5, 2.5, 1),
        (
            |d| d.limits.as_ref().map_or(0.0, |l| l.gust_m_s),
            |d, v| {
                if let Some(l) = &mut d.limits {
                    l.gust_m_s = v;
                }
            },
        ),
    ),
    plain(
        "limits.gust_dive_m_s",
        "Gust at VD",
        (Group::Loads, "m/s"),
        (0.0, 20.0, 0.5, 2.5, 1),
        (
            |d| d.limits.as_ref().map_or(0.0, |l| l.gust_dive_m_s),
            |d, v| {
                if let Some(l) = &mut d.limits {
                    l.gust_dive_m_s = v;
                }
            },
        ),
    ),
    plain(
        "service.carry_factor",
        "Carried by hand",
        (Group::Loads, "g"),
        (1.0, 6.0, 0.1, 0.5, 1),
        (|d| d.service.carry_factor, |d, v| d.service.carry_factor = v),
    ),
    plain(
        "service.bump_factor",
        "Rack bump",
        (Group::Loads, "g"),
        (1.0, 10.0, 0.1, 0.5, 1),
        (|d| d.service.bump_factor, |d, v| d.service.bump_factor = v),
    ),
    plain(
        "service.rack_speed_m_s",
        "Rack speed",
        (Group::Loads, "m/s"),
        (0.0, 50.0, 1.0, 5.0, 1),
        (|d| d.service.rack_speed_m_s, |d, v| d.service.rack_speed_m_s = v),
    ),
    plain(
        "service.parked_wind_m_s",
        "Parked in wind",
        (Group::Loads, "m/s"),
        (0.0, 40.0, 1.0, 5.0, 1),
        (|d| d.service.parked_wind_m_s, |d, v| d.service.parked_wind_m_s = v),
    ),
    plain(
        "service.landing_factor",
        "Hard landing",
        (Group::Loads, "g"),
        (1.0, 10.0, 0.1, 0.5, 1),
        (|d| d.service.landing_factor, |d, v| d.service.landing_factor = v),
    ),
    plain(
        "service.nose_factor",
        "Stopped on the nose",
        (Group::Loads, "g"),
        (0.0, 15.0, 0.1, 0.5, 1),
        (|d| d.service.nose_factor, |d, v| d.service.nose_factor = v),
    ),
    plain(
        "service.tip_force_n",
        "Tip caught",
        (Group::Loads, "N"),
        (0.0, 2000.0, 10.0, 50.0, 0),
        (|d| d.service.tip_force_n, |d, v| d.service.tip_force_n = v),
    ),
    plain(
        "service.upper_c",
        "Upper skin",
        (Group::Loads, "°C"),
        (-20.0, 100.0, 1.0, 10.0, 0),
        (|d| d.service.upper_c, |d, v| d.service.upper_c = v),
    ),
    plain(
        "service.lower_c",
        "Lower skin",
        (Group::Loads, "°C"),
        (-20.0, 100.0, 1.0, 10.0, 0),
        (|d| d.service.lower_c, |d, v| d.service.lower_c = v),
    ),
    plain(
        "aboard.pilot_kg",
        "Pilot",
        (Group::Masses, "kg"),
        (30.0, 200.0, 1.0, 10.0, 0),
        (|d| d.aboard.pilot_kg, |d, v| d.aboard.pilot_kg = v),
    ),
    plain(
        "aboard.lightest_pilot_kg",
        "Lightest pilot",
        (Group::Masses, "kg"),
        (30.0, 200.0, 1.0, 10.0, 0),
        (|d| d.aboard.lightest_pilot_kg, |d, v| d.aboard.lightest_pilot_kg = v),
    ),
    plain(
        "aboard.heaviest_pilot_kg",
        "Heaviest pilot",
        (Group::Masses, "kg"),
        (30.0, 200.0, 1.0, 10.0, 0),
        (|d| d.aboard.heaviest_pilot_kg, |d, v| d.aboard.heaviest_pilot_kg = v),
    ),
    plain(
        "aboard.kit_kg",
        "Kit",
        (Group::Masses, "kg"),
        (0.0, 100.0, 0.5, 5.0, 1),
        (|d| d.aboard.kit_kg, |d, v| d.aboard.kit_kg = v),
    ),
    plain(
        "aboard.cg_mac",
        "Centre of gravity",
        (Group::Masses, "MAC"),
        (-0.5, 1.0, 0.01, 0.05, 2),
        (|d| d.aboard.cg_mac, |d, v| d.aboard.cg_mac = v),
    ),
    plain(
        "aboard.headwind_m_s",
        "Wind at launch",
        (Group::Masses, "m/s"),
        (0.0, 20.0, 0.5, 2.0, 1),
        (|d| d.aboard.headwind_m_s, |d, v| d.aboard.headwind_m_s = v),
    ),
    plain(
        "aboard.sinking_air_m_s",
        "Sinking air",
        (Group::Masses, "m/s"),
        (0.0, 10.0, 0.5, 2.0, 1),
        (|d| d.aboard.sinking_air_m_s, |d, v| d.aboard.sinking_air_m_s = v),
    ),
    plain(
        "aboard.given_sink_m_s",
        "Fastest at a sink of",
        (Group::Masses, "m/s"),
        (0.2, 10.0, 0.5, 2.0, 1),
        (|d| d.aboard.given_sink_m_s, |d, v| d.aboard.given_sink_m_s = v),
    ),
    plain(
        "targets.wing_mass_kg",
        "Weight target",
        (Group::Masses, "kg"),
        (3.0, 300.0, 0.5, 5.0, 1),
        (|d| d.targets.wing_mass_kg.unwrap_or(f64::NAN), |d, v| d.targets.wing_mass_kg = Some(v)),
    ),
    plain(
        "care.discipline",
        "Discipline",
        (Group::GroundCare, ""),
        (0.0, 1.0, 0.05, 0.2, 2),
        (|d| d.care.discipline, |d, v| d.care.discipline = v),
    ),
    plain(
        "care.outings_per_year",
        "Outings a year",
        (Group::GroundCare, ""),
        (1.0, 1000.0, 5.0, 20.0, 0),
        (|d| d.care.outings_per_year, |d, v| d.care.outings_per_year = v),
    ),
    plain(
        "targets.durability_index",
        "Durability, least",
        (Group::GroundCare, ""),
        (0.0, 100.0, 1.0, 10.0, 0),
        (|d| d.targets.durability_index.unwrap_or(f64::NAN), |d, v| d.targets.durability_index = Some(v)),
    ),
    plain(
        "targets.outings_lost_per_100",
        "Outings lost, most",
        (Group::GroundCare, "/100"),
        (0.0, 1000.0, 0.5, 5.0, 1),
        (|d| d.targets.outings_lost_per_100.unwrap_or(f64::NAN), |d, v| d.targets.outings_lost_per_100 = Some(v)),
    ),
    plain(
        "targets.press_n",
        "Press load, least",
        (Group::GroundCare, "N"),
        (0.0, 5000.0, 5.0, 20.0, 0),
        (|d| d.targets.press_n.unwrap_or(f64::NAN), |d, v| d.targets.press_n = Some(v)),
    ),
    plain(
        "targets.hours",
        "Hours, most",
        (Group::GroundCare, "h"),
        (1.0, 100000.0, 10.0, 50.0, 0),
        (|d| d.targets.hours.unwrap_or(f64::NAN), |d, v| d.targets.hours = Some(v)),
    ),
    plain(
        "targets.cost",
        "Cost, most",
        (Group::GroundCare, ""),
        (1.0, 10000000.0, 100.0, 500.0, 0),
        (|d| d.targets.cost.unwrap_or(f64::NAN), |d, v| d.targets.cost = Some(v)),
    ),
    plain(
        "workshop.cloth_roll_mm",
        "Cloth roll",
        (Group::Workshop, "mm"),
        (25.0, 5000.0, 10.0, 100.0, 0),
        (|d| d.stock.cloth_roll_m * 1e3, |d, v| d.stock.cloth_roll_m = v * 1e-3),
    ),
    plain(
        "workshop.tape_roll_mm",
        "One-way roll",
        (Group::Workshop, "mm"),
        (25.0, 5000.0, 10.0, 100.0, 0),
        (|d| d.stock.tape_roll_m * 1e3, |d, v| d.stock.tape_roll_m = v * 1e-3),
    ),
    plain(
        "workshop.covering_roll_mm",
        "Covering roll",
        (Group::Workshop, "mm"),
        (25.0, 5000.0, 10.0, 100.0, 0),
        (|d| d.stock.covering_roll_m * 1e3, |d, v| d.stock.covering_roll_m = v * 1e-3),
    ),
    plain(
        "workshop.foam_sheet_length_mm",
        "Foam sheet long",
        (Group::Workshop, "mm"),
        (50.0, 10000.0, 10.0, 100.0, 0),
        (|d| d.stock.foam_sheet_m[0] * 1e3, |d, v| d.stock.foam_sheet_m[0] = v * 1e-3),
    ),
    plain(
        "workshop.foam_sheet_width_mm",
        "Foam sheet wide",
        (Group::Workshop, "mm"),
        (50.0, 10000.0, 10.0, 100.0, 0),
        (|d| d.stock.foam_sheet_m[1] * 1e3, |d, v| d.stock.foam_sheet_m[1] = v * 1e-3),
    ),
    plain(
        "workshop.trim_mm",
        "Trim of plies",
        (Group::Workshop, "mm"),
        (0.0, 200.0, 1.0, 5.0, 0),
        (|d| d.stock.trim_m * 1e3, |d, v| d.stock.trim_m = v * 1e-3),
    ),
    plain(
        "workshop.join_lap_mm",
        "Lap of lengths",
        (Group::Workshop, "mm"),
        (0.0, 200.0, 1.0, 5.0, 0),
        (|d| d.stock.join_lap_m * 1e3, |d, v| d.stock.join_lap_m = v * 1e-3),
    ),
    plain(
        "workshop.pot_g",
        "Largest pot",
        (Group::Workshop, "g"),
        (10.0, 20000.0, 10.0, 50.0, 0),
        (|d| d.stock.pot_kg * 1e3, |d, v| d.stock.pot_kg = v * 1e-3),
    ),
    plain(
        "workshop.hardener_parts",
        "Hardener to 100",
        (Group::Workshop, ""),
        (0.1, 400.0, 0.5, 5.0, 1),
        (|d| d.stock.hardener_parts.unwrap_or(f64::NAN), |d, v| d.stock.hardener_parts = Some(v)),
    ),
];
