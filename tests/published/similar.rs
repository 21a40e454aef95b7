//! Laws of similarity, through the whole evaluator: the wing turned over, and a wing of twice the size.
//! Source of the laws: dimensional analysis of statics and low-speed aerodynamics, any text.

use std::path::Path;
use std::sync::Arc;

use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::design::{Aerofoil, BackingMaterial, CapMaterial, Design, Excused, Strip};
use thistledown::physics::evaluation::{Evaluation, evaluate};
use thistledown::physics::loads::envelope::pressure_pa;
use thistledown::physics::loads::internal::{CaseLoads, List, Loads};
use thistledown::physics::strength::{Context, MODES, Margin, Verdict, margins, sizing};
use thistledown::physics::wing::layout::Station;

fn marram(name: &str) -> Design {
    let path = format!("scenarios/marram-{name}.toml");
    thistledown::scenario::load(Path::new(&path)).map_or_else(|_| unreachable!("{path} loads"), |s| s.design)
}

fn least(all: &[Margin], mode: &str, strip: impl Fn(Option<Strip>) -> bool) -> Option<f64> {
    let shown = all.iter().filter(|m| m.mode == mode && !matches!(m.verdict, Verdict::NotShown(_)) && strip(m.strip));
    shown.map(|m| m.rf).reduce(f64::min)
}

/// Every length `k` times as great, of stuff `k` times as light: strains, pressures and airspeed stay, forces and masses go as
/// the square, moments as the cube.
fn enlarged(d: &Design, k: f64) -> Design {
    let mut d = d.clone();
    d.planform.span_m *= k;
    d.planform.area_m2 *= k * k;
    // Rolls, trims and laps, which say how many laps plies have.
    for m in [&mut d.stock.cloth_roll_m, &mut d.stock.tape_roll_m, &mut d.stock.trim_m, &mut d.stock.join_lap_m] {
        *m *= k;
    }
    let mut l = (*d.library).clone();
    l.fibres.iter_mut().for_each(|x| x.density_kg_m3 /= k);
    l.resins.iter_mut().for_each(|x| x.density_kg_m3 /= k);
    l.woods.iter_mut().for_each(|x| x.density_kg_m3 /= k);
    for f in &mut l.foams {
        f.density_kg_m3 /= k;
        f.density_low_kg_m3 /= k;
        f.density_high_kg_m3 /= k;
    }
    for c in &mut l.coverings {
        c.strength_n_m *= k;
        c.stiffness_n_m *= k;
    }
    for f in &mut l.fastenings {
        f.mass_kg_m *= k;
        f.strength_n_m *= k;
    }
    d.library = Arc::new(l);
    for c in &mut d.constructions {
        c.core.iter_mut().for_each(|x| x.thickness_m *= k);
        c.wood.iter_mut().for_each(|x| x.1 *= k);
        c.covering.iter_mut().for_each(|x| x.pretension_n_m *= k);
    }
    for cap in [&mut d.spar.upper, &mut d.spar.lower] {
        cap.width_root_m *= k;
        cap.width_tip_m *= k;
        match &mut cap.material {
            CapMaterial::Plies(_) => {}
            CapMaterial::Wood { layer_m, .. } => *layer_m *= k,
            CapMaterial::Pultruded { layer_m, density_kg_m3, .. } => {
                *layer_m *= k;
                *density_kg_m3 /= k;
            }
        }
        if let Some(b) = &mut cap.backing {
            assert!(matches!(b.material, BackingMaterial::Foam(_) | BackingMaterial::Wood(_)));
            b.width_m *= k;
            b.depth_m *= k;
        }
    }
    for p in &mut d.spar.posts {
        p.pitch_m *= k;
        p.width_m *= k;
        p.depth_m *= k;
    }
    d.spar.bond_width_m *= k;
    d.spar.bond_thickness_m *= k;
    for r in &mut d.rib_kinds {
        r.cap.iter_mut().for_each(|c| c.1 *= k);
        r.fittings_kg *= k * k;
    }
    for j in &mut d.joints {
        j.fittings_kg *= k * k;
        j.pin_diameter_m *= k;
        if let Some(l) = &mut j.lug {
            (l.width_m, l.thickness_m, l.end_m) = (l.width_m * k, l.thickness_m * k, l.end_m * k);
        }
        if let Some(r) = &mut j.rear_pin {
            (r.diameter_m, r.length_m) = (r.diameter_m * k, r.length_m * k);
        }
        if let Some(s) = &mut j.seat {
            (s.length_m, s.width_m) = (s.length_m * k, s.width_m * k);
        }
    }
    for c in &mut d.controls {
        c.fittings_kg *= k * k;
        c.horn_m *= k;
    }
    // Energy of fracture is a stress times a length.
    d.spar.ply_end_j_m2 *= k;
    let s = &mut d.seams;
    for length in [&mut s.bond_width_m, &mut s.bond_thickness_m, &mut s.splice_lap_m] {
        *length *= k;
    }
    s.bond_density_kg_m3 /= k;
    s.peel_n_m *= k;
    s.trailing_edge_kg_m *= k;
    s.trailing_edge_width_m *= k;
    s.nose_seam_kg_m *= k;
    let a = &mut d.aboard;
    for mass in [&mut a.pilot_kg, &mut a.lightest_pilot_kg, &mut a.heaviest_pilot_kg, &mut a.kit_kg] {
        *mass *= k * k;
    }
    for m in &mut a.masses {
        m.mass_kg *= k * k;
        m.x_m *= k;
        m.y_m *= k;
    }
    a.pilot_drag_m2.iter_mut().for_each(|x| *x *= k * k);
    a.rigging_drag_m2 *= k * k;
    d.service.tip_force_n *= k * k;
    d.care.protections.iter_mut().for_each(|p| p.mass_kg *= k * k);
    d
}

/// Cases that do not scale are left out: gusts go by the mass ratio, which has the density of air in it, bars of a roof
/// rack stand at a fixed distance, and hands that lift one tip are no stronger under a larger wing.
fn comparable(name: &str) -> Design {
    let mut d = marram(name);
    for key in ["gust", "rack", "one_end"] {
        d.cases_off.push(Excused { key: key.to_owned(), reason: "does not scale".to_owned() });
    }
    d
}

fn share(a: f64, b: f64) -> f64 {
    (a / b - 1.0).abs()
}

#[test]
fn a_wing_of_twice_the_size() {
    // Computed independently of every formula: the powers of length that dimensions alone give.
    const K: f64 = 2.0;
    for name in ["mixed", "sandwich-tough"] {
        let d = comparable(name);
        let small = evaluate(&d, &Assumptions::default());
        let large = evaluate(&enlarged(&d, K), &Assumptions::default());
        println!("{name}: mass {}", large.weight.drawn_kg / small.weight.drawn_kg / (K * K));
        // Lift slope, trim and the angle of no lift have no length in them.
        assert!(share(large.lift.slope_per_rad, small.lift.slope_per_rad) < 1e-9);
        assert!((large.lift.alpha_zero_rad - small.lift.alpha_zero_rad).abs() < 1e-9);
        assert!((large.lift.cm_zero - small.lift.cm_zero).abs() < 1e-9);
        assert!(share(large.lift.induced[0], small.lift.induced[0]) < 1e-9);
        assert!(share(large.weight.drawn_kg, K * K * small.weight.drawn_kg) < 0.005);
        assert_eq!(large.sizing, small.sizing);
        for (a, b) in small.loads.loads.iter().zip(&large.loads.loads) {
            let (c, e) = (&small.loads.cases[a.case], &large.loads.cases[b.case]);
            assert_eq!(c.key, e.key);
            assert!((e.speed_m_s - c.speed_m_s).abs() < 0.005 * c.speed_m_s.max(1.0), "{name} {}", c.key);
            let most = a.moment_nm().iter().fold(1.0, |m: f64, v| m.max(v.abs()));
            for (m, n) in a.moment_nm().iter().zip(b.moment_nm()) {
                assert!((n / K.powi(3) - m).abs() < 0.01 * most, "{name} {}: {m} {n}", c.key);
            }
            let most = a.shear_n().iter().fold(1.0, |m: f64, v| m.max(v.abs()));
            for (m, n) in a.shear_n().iter().zip(b.shear_n()) {
                assert!((n / K.powi(2) - m).abs() < 0.01 * most, "{name} {}: {m} {n}", c.key);
            }
        }
        // Stiffness in bending and torsion goes as the fourth power.
        for (a, b) in small.sections.iter().zip(&large.sections) {
            assert!(share(b.ei_nm2, K.powi(4) * a.ei_nm2) < 1e-6, "{name}: {} {}", a.ei_nm2, b.ei_nm2);
            assert!((b.gj_nm2 - K.powi(4) * a.gj_nm2).abs() <= 1e-6 * b.gj_nm2, "{name}: {} {}", a.gj_nm2, b.gj_nm2);
        }
        for (a, b) in small.bending.iter().zip(&large.bending) {
            let (a, b) = (a.deflection_m().last().unwrap(), b.deflection_m().last().unwrap());
            assert!((b / K - a).abs() < 0.01 * a.abs().max(0.01), "{name}: {a} {b}");
        }
        // Reserves: stress over strength, and divergence and reversal speed over the dive speed, stay.
        // Holds do not: a palm is no larger under a larger wing.
        for m in MODES.iter().filter(|m| m.margins.is_some() && m.key != "holds") {
            let (a, b) = (least(&small.margins, m.key, |_| true), least(&large.margins, m.key, |_| true));
            println!("{name} {}: {a:?} {b:?}", m.key);
            assert_eq!(a.is_some(), b.is_some(), "{name} {}", m.key);
            let (Some(a), Some(b)) = (a, b) else { continue };
            // The trailing edge is known by its mass, and the film of resin on any sheet has its own thickness.
            let near = if m.key == "edge_under_covering" { 0.03 } else { 0.01 };
            assert!(a == b || share(b, a) < near, "{name} {}: {a} {b}", m.key);
        }
    }
}

/// The wing turned over: every surface, cap and control exchanged, camber and washout the other way.
fn turned_over(d: &Design) -> Design {
    let mut d = d.clone();
    d.planform.washout_rad *= -1.0;
    for s in &mut d.sections {
        (s.cl_max, s.cl_min) = (-s.cl_min, -s.cl_max);
        if let Aerofoil::Points { xy, .. } = &mut s.aerofoil {
            xy.iter_mut().for_each(|p| p.1 = -p.1);
            xy.reverse();
        } else {
            unreachable!("sections are given by points here");
        }
        s.cm0.iter_mut().chain(s.alpha0_rad.iter_mut()).for_each(|v| *v = -*v);
    }
    std::mem::swap(&mut d.divide_upper, &mut d.divide_lower);
    d.strips.iter_mut().for_each(|s| s.strip = s.strip.across());
    std::mem::swap(&mut d.spar.upper, &mut d.spar.lower);
    d.spar.web.iter_mut().for_each(|w| w.bands.reverse());
    d.patches.iter_mut().for_each(|p| p.upper = !p.upper);
    d.care.holds.iter_mut().for_each(|h| h.upper = !h.upper);
    d.controls.iter_mut().for_each(|c| std::mem::swap(&mut c.up_rad, &mut c.down_rad));
    let s = &mut d.service;
    std::mem::swap(&mut s.upper_c, &mut s.lower_c);
    d
}

/// Margins of the evaluated wing, its spar as it stands, under other loads.
fn under(d: &Design, e: &Evaluation, like: &Evaluation, loads: &Loads) -> Vec<Margin> {
    let mut s = like.sizing.clone();
    std::mem::swap(&mut s.upper, &mut s.lower);
    let sections = sizing::sections(d, &e.layout, &e.skins, &s);
    let bending = sizing::bend(&e.layout, &sections, loads);
    margins(&Context::new(d, (&e.layout, &e.skins, loads), (&s, &sections, &bending)))
}

#[test]
fn a_wing_turned_over() {
    // Computed independently of every formula: a mirror image carries mirrored loads.
    for name in ["mixed", "sandwich-tough", "fabric-aft"] {
        let mut d = marram(name);
        for s in &mut d.sections {
            let c = thistledown::physics::wing::aerofoil::contour(&s.aerofoil);
            let mut xy: Vec<(f64, f64)> = c.upper.iter().rev().copied().collect();
            xy.extend(&c.lower[1..]);
            s.aerofoil = Aerofoil::Points { name: "drawn".to_owned(), xy };
            s.cm0 = Some(s.cm0.unwrap_or(-0.05));
            s.alpha0_rad = Some(s.alpha0_rad.unwrap_or(-0.03));
        }
        let e = evaluate(&d, &Assumptions::default());
        let over = turned_over(&d);
        let f = evaluate(&over, &Assumptions::default());
        // Lift: the same row of vortices, the angle of no lift and the moment the other way about.
        assert!(share(f.lift.slope_per_rad, e.lift.slope_per_rad) < 1e-12);
        assert!((f.lift.alpha_zero_rad + e.lift.alpha_zero_rad).abs() < 1e-12);
        assert!((f.lift.cm_zero + e.lift.cm_zero).abs() < 1e-12);
        assert!((f.lift.cl_max + e.lift.cl_min).abs() < 1e-12, "{} {}", f.lift.cl_max, e.lift.cl_min);
        // The same loads, every one the other way about: as strong in every mode, upper for lower.
        let mut loads = e.loads.clone();
        for l in &mut loads.loads {
            for list in [List::Shear, List::Moment, List::Torque, List::Net] {
                l.list_mut(list).iter_mut().for_each(|v| *v = -*v);
            }
            l.peaks = l.times(-1.0).peaks;
        }
        for c in &mut loads.cases {
            (c.n, c.control_sym_rad, c.control_anti_rad) = (-c.n, -c.control_sym_rad, -c.control_anti_rad);
        }
        let back = under(&over, &f, &e, &loads);
        let mut seen = 0;
        for m in MODES.iter().filter(|m| m.margins.is_some() && m.key != "covering_sag") {
            for upper in [true, false] {
                let a = least(&e.margins, m.key, |s| s.is_none_or(|s| s.is_upper() == upper));
                let b = least(&back, m.key, |s| s.is_none_or(|s| s.is_upper() != upper));
                assert_eq!(a.is_some(), b.is_some(), "{name} {}", m.key);
                let (Some(a), Some(b)) = (a, b) else { continue };
                assert!(a == b || share(b, a) < 1e-6, "{name} {} {upper}: {a} {b}", m.key);
                seen += 1;
            }
        }
        assert!(seen > 40, "{seen}");
    }
}

#[test]
fn left_and_right_exchanged() {
    // Computed independently, roll moment summed over the span: the model holds one half and mirrors it; a rolling wing is the sum of an even and an odd load. Controls the other way
    // about give the halves' loads exchanged: even part kept, odd part reversed.
    let d = marram("mixed");
    let e = evaluate(&d, &Assumptions::default());
    let at = |key: &str| {
        let l = e.loads.loads.iter().find(|l| e.loads.cases[l.case].key == key).unwrap();
        (l, &e.loads.cases[l.case])
    };
    for (one, other) in [("roll_va_down", "roll_va_up"), ("roll_vd_down", "roll_vd_up")] {
        let ((a, c), (b, k)) = (at(one), at(other));
        assert!((c.control_anti_rad + k.control_anti_rad).abs() < 1e-12);
        assert!((c.control_sym_rad - k.control_sym_rad).abs() < 1e-12 && (c.cl - k.cl).abs() < 1e-12);
        // Half the difference of the halves is the roll moment of the odd load alone, about the line of flight.
        let sweep = {
            let (p, q) = (&e.layout.bays[0].inner, &e.layout.bays[0].outer);
            let x = |s: &Station| s.x_le_m + s.spar_frac * s.chord_m;
            ((x(q) - x(p)) / (q.y_m - p.y_m)).atan()
        };
        let about = |l: &CaseLoads| l.moment_nm()[0] * sweep.cos() + l.torque_nm()[0] * sweep.sin();
        let odd: f64 = e.lift.y_m.iter().zip(&e.lift.control_anti_m).map(|(y, v)| v * y * e.lift.dy_m).sum();
        let want = pressure_pa(c.speed_m_s) * c.control_anti_rad * odd;
        let got = (about(a) - about(b)) / 2.0;
        assert!(share(got, want) < 1e-6, "{one}: {got} {want}");
        // And the mean of the halves carries the lift: shear less relief is that of the even case.
        assert!(a.shear_n()[0] > b.shear_n()[0]);
    }
}
