//! Lowest frequencies against closed forms of beams and shafts, and the whole wing against general mechanics.

use std::f64::consts::{FRAC_PI_2, TAU};

use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::design::{Design, Run, Strip};
use thistledown::physics::evaluation::evaluate;
use thistledown::physics::mass::tally::Heading;
use thistledown::physics::vibration::frequency::{Cell, lowest_bending_rad_s, lowest_torsion_rad_s};
use thistledown::physics::vibration::mass_line;
use thistledown::scenario;

fn near(got: f64, want: f64, rel: f64) {
    assert!((got - want).abs() <= rel * want.abs(), "got {got}, want {want}, off by {:.2e}", (got / want - 1.0).abs());
}

fn even(n: usize, length_m: f64, stiffness: f64, inertia_per_m: f64) -> Vec<Cell> {
    let step = length_m / n as f64;
    vec![Cell { length_m: step, compliance: 1.0 / stiffness, inertia: inertia_per_m * step }; n]
}

#[test]
fn a_uniform_cantilever_swings_at_the_tabled_frequency() {
    // beta L = 1.8751: any handbook's table of beams (the same digits in Math. Problems in Engineering 2017, 1568019).
    let (length, ei, m) = (6.0_f64, 52.0e3, 2.4);
    let want = 1.875_104_f64.powi(2) * (ei / (m * length.powi(4))).sqrt();
    near(lowest_bending_rad_s(&even(80, length, ei, m)).unwrap(), want, 2e-4);
    near(lowest_bending_rad_s(&even(320, length, ei, m)).unwrap(), want, 2e-5);
}

#[test]
fn a_mass_at_the_tip_as_heavy_as_the_beam_slows_it_as_tabled() {
    // Frequency parameter 1.5573 of sqrt(EI/(m L^4)): Math. Problems in Engineering 2017, 1568019, table 1, mass ratio 1.
    let (length, ei, m) = (5.5_f64, 31.0e3, 3.0);
    let mut beam = even(2000, length, ei, m);
    beam.last_mut().unwrap().inertia += m * length;
    near(lowest_bending_rad_s(&beam).unwrap(), 1.5573 * (ei / (m * length.powi(4))).sqrt(), 1e-3);
}

#[test]
fn a_cantilever_tapered_in_both_directions_swings_as_tabled() {
    // lambda 23.289 for depth and width four times as large at the root: Mabie and Rogers 1972, as repeated in a public
    // validation guide (case SDLL09/89); f = lambda h1/(2 pi L^2) sqrt(E/(12 rho)), h1 at the tip.
    let (length, h1, b1, e, rho) = (1.0, 0.01, 0.01, 200e9, 7800.0);
    let n = 800;
    let cells: Vec<Cell> = (0..n)
        .map(|i| {
            let k = 4.0 - 3.0 * (f64::from(i) + 0.5) / f64::from(n);
            let (h, b, step) = (h1 * k, b1 * k, length / f64::from(n));
            Cell { length_m: step, compliance: 12.0 / (e * b * h.powi(3)), inertia: rho * b * h * step }
        })
        .collect();
    let want = 23.289 * h1 / (TAU * length * length) * (e / (12.0 * rho)).sqrt();
    near(lowest_bending_rad_s(&cells).unwrap() / TAU, want, 1e-3);
}

#[test]
fn a_uniform_shaft_turns_at_a_quarter_wave() {
    // omega = (pi/2)/L sqrt(GJ/I), fixed and free: any handbook.
    let (length, gj, i) = (6.0, 9.0e3_f64, 0.11);
    near(lowest_torsion_rad_s(&even(80, length, gj, i)).unwrap(), FRAC_PI_2 / length * (gj / i).sqrt(), 1e-4);
    // A disc of inertia J on a shaft with none: omega = sqrt(GJ/(L J)), any handbook.
    let mut shaft = even(1000, length, gj, 0.0);
    shaft.last_mut().unwrap().inertia = 0.7;
    near(lowest_torsion_rad_s(&shaft).unwrap(), (gj / (length * 0.7)).sqrt(), 1e-3);
}

#[test]
fn a_missing_stiffness_or_no_mass_gives_no_frequency() {
    let mut beam = even(8, 2.0, 1.0e3, 1.0);
    beam[3].compliance = f64::INFINITY;
    assert_eq!(lowest_bending_rad_s(&beam), None);
    assert_eq!(lowest_torsion_rad_s(&even(8, 2.0, 1.0e3, 0.0)), None);
    assert_eq!(lowest_bending_rad_s(&[]), None);
}

#[test]
fn a_wing_is_slowed_by_mass_and_stays_below_a_rayleigh_quotient() {
    // Southwell: adding a mass never raises the lowest frequency; Rayleigh: a stiffer spar never lowers it (any text).
    // The mass line holds all of the mass and its first moment: plain mechanics.
    let design = scenario::demo().unwrap().design;
    let e = evaluate(&design, &Assumptions::default());
    let v = thistledown::physics::vibration::of(&design, &e.layout, &e.weight, &e.sections);
    let slices = mass_line::slices(&e.layout, &e.weight, &e.sections);
    let kg: f64 = slices.iter().map(|s| s.mass_kg).sum();
    near(2.0 * kg, e.weight.budget_kg, 1e-9);
    let x: f64 = slices.iter().map(|s| s.mass_kg * s.mass_x_m).sum::<f64>() / kg;
    near(x, e.weight.cg_x_m, 1e-9);
    let (bending, torsion) = (v.bending_hz.unwrap(), v.torsion_hz.unwrap());
    let mut heavier = design.clone();
    heavier.aboard.masses.push(thistledown::physics::design::PointMass {
        name: "tip lead".to_owned(),
        mass_kg: 2.0,
        x_m: 1.0,
        y_m: 5.5,
        wing: true,
    });
    let h = evaluate(&heavier, &Assumptions::default());
    let slow = thistledown::physics::vibration::of(&heavier, &h.layout, &h.weight, &h.sections);
    assert!(slow.bending_hz.unwrap() < bending && slow.torsion_hz.unwrap() < torsion);
    // Rayleigh's quotient with the shape of a uniform cantilever lies above the lowest frequency: any text on vibration.
    let (mut strain, mut swing) = (0.0, 0.0);
    for (i, (b, s)) in e.layout.bays.iter().zip(&slices).enumerate() {
        let u = b.mid.y_m / e.layout.half_span_m;
        let shape = u * u * (6.0 - 4.0 * u + u * u) / 3.0;
        let curvature = 4.0 * (1.0 - u) * (1.0 - u) / e.layout.half_span_m.powi(2);
        strain += f64::midpoint(e.sections[i].ei_nm2, e.sections[i].ei_out_nm2) * curvature * curvature * b.length_m;
        swing += s.mass_kg * shape * shape;
    }
    let above = (strain / swing).sqrt() / TAU;
    assert!(bending < 1.01 * above && bending > 0.6 * above, "{bending} Hz against {above} Hz");
}

#[test]
fn a_planks_control_about_its_hinge() {
    // By hand: hinge at 0.78 of a chord of 1 m, aileron over the outer eight bays. Skins and trailing edge where they lie; of each main rib the
    // wedge behind the hinge, and the wall of the control on it, its depth over two times its length, a third of 0.22 m behind; all at budget weight, one half.
    // Ribs that weigh more, and a skin that changes half way along with a wide lap, which stands at the middle of its strip.
    let heavy_ribs = |d: &mut Design| d.rib_kinds[0].fittings_kg = 1.0;
    let spliced = |d: &mut Design| {
        d.seams.splice_lap_m = 0.8;
        let other = d.strips.iter().find(|s| s.strip == Strip::NoseUpper).unwrap().runs[0].construction;
        let runs = &mut d.strips.iter_mut().find(|s| s.strip == Strip::ControlUpper).unwrap().runs;
        let own = runs[0].construction;
        assert_ne!(own, other);
        *runs = vec![
            Run { from_eta: 0.0, to_eta: 0.75, construction: own },
            Run { from_eta: 0.75, to_eta: 1.0, construction: other },
        ];
    };
    let (mut joined, mut moments) = (0, Vec::new());
    let plain = |_: &mut Design| {};
    let changes: [&dyn Fn(&mut Design); 3] = [&plain, &heavy_ribs, &spliced];
    for change in changes {
        let mut d = super::by_hand::plank();
        change(&mut d);
        let e = evaluate(&d, &Assumptions::default());
        let b = &thistledown::physics::vibration::balance::balances(&d, &e.layout, &e.weight)[0];
        let (x0, heavy) = (e.layout.bays[0].mid.x_le_m, e.weight.budget_kg / e.weight.drawn_kg / 2.0);
        let m = &e.layout.bays[10].mid;
        let wedge = 0.5 * m.hinge_depth_m * (m.control_upper_m + m.control_lower_m) / 2.0;
        let share = wedge / (m.nose_cell_m2 + m.aft_cell_m2 + wedge);
        let (mut kg, mut kg_m) = (0.0, 0.0);
        for p in e.weight.parts.iter().filter(|p| p.bay.is_some_and(|i| i >= 8) && !p.lump) {
            let on_control = p.strip.is_some_and(Strip::is_control);
            let (part, arm) = match p.heading {
                Heading::Skins | Heading::CoveringFastening if on_control => (1.0, p.x_m - x0 - 0.78),
                Heading::Controls | Heading::Bonds if p.name.starts_with("control wall") => (1.0, 0.0),
                Heading::Splices if on_control => {
                    joined += 1;
                    (1.0, 0.11)
                }
                Heading::Edges if p.x_m > x0 + 0.78 => (1.0, p.x_m - x0 - 0.78),
                Heading::Ribs if p.x_m > x0 + 0.3 => (share, 0.22 / 3.0),
                _ => continue,
            };
            kg += heavy * p.nominal_kg * part;
            kg_m += heavy * p.nominal_kg * part * arm;
        }
        assert!(kg > 0.1 && b.mass_kg > 0.0);
        near(b.mass_kg, kg, 1e-9);
        near(b.moment_kg_m, kg_m, 1e-9);
        near(b.behind_frac, kg_m / kg / 0.22, 1e-9);
        moments.push(kg_m);
    }
    assert!(joined > 0 && moments[1] > 1.2 * moments[0] && moments[2] > 1.2 * moments[0], "{joined} {moments:?}");
}

#[test]
fn a_wing_swings_as_the_same_wing_cut_ten_times_finer() {
    // Computed independently: the bays cut in forty in place of four. EI goes straight from end to end of a bay, GJ as the cube of a
    // length that does (statics of a closed cell grown in proportion); what is spread in a bay lies evenly, lumps where they are; budget
    // weight over drawn, one half. Beam and shaft themselves are held to closed forms above.
    for (taper, bays, within) in [(1.0, 16, 1e-3), (0.25, 4, 7e-3)] {
        let mut d = super::by_hand::plank();
        d.planform.taper = taper;
        d.ribs.truncate(1);
        (d.ribs[0].from_eta, d.ribs[0].to_eta, d.ribs[0].bays) = (0.0, 1.0, bays);
        let e = evaluate(&d, &Assumptions::default());
        let v = thistledown::physics::vibration::of(&d, &e.layout, &e.weight, &e.sections);
        let slices = mass_line::slices(&e.layout, &e.weight, &e.sections);
        let heavy = e.weight.budget_kg / e.weight.drawn_kg / 2.0;
        let (mut beam, mut shaft) = (Vec::new(), Vec::new());
        for (i, b) in e.layout.bays.iter().enumerate() {
            let s = &e.sections[i];
            let step = b.length_m / 40.0;
            let last = i + 1 == e.layout.bays.len();
            let mut kg = vec![0.0; 40];
            for p in &e.weight.parts {
                let m = heavy * p.nominal_kg;
                if p.bay.is_none() || p.lump {
                    if p.y_m >= b.inner.y_m && (p.y_m < b.outer.y_m || last) {
                        kg[(((p.y_m - b.inner.y_m) / step) as usize).min(39)] += m;
                    }
                } else if p.bay == Some(i) {
                    kg.iter_mut().for_each(|k| *k += m / 40.0);
                }
            }
            for (k, kg) in kg.into_iter().enumerate() {
                let t = (k as f64 + 0.5) / 40.0;
                let ei = s.ei_nm2 * (1.0 - t) + s.ei_out_nm2 * t;
                let gj = (s.gj_nm2.cbrt() * (1.0 - t) + s.gj_out_nm2.cbrt() * t).powi(3);
                // The last section stands for the end of the last bay.
                let (ei, gj) = if s.ei_out_nm2 > 0.0 { (ei, gj) } else { panic!("bay {i} has no outer end") };
                beam.push(Cell { length_m: step, compliance: 1.0 / ei, inertia: kg });
                shaft.push(Cell { length_m: step, compliance: 1.0 / gj, inertia: slices[i].inertia_kg_m2 / 40.0 });
            }
        }
        near(v.bending_hz.unwrap() * TAU, lowest_bending_rad_s(&beam).unwrap(), within);
        near(v.torsion_hz.unwrap() * TAU, lowest_torsion_rad_s(&shaft).unwrap(), within);
    }
}

#[test]
fn a_bay_of_a_plank_about_its_shear_centre() {
    // By hand, parallel axes: a sheet of width w, half the mean depth of its cell off the middle, w2/12 + (A/2w)2; a rib as three rectangles
    // of the areas of nose, aft part and control wedge, about its middle at 0.38; spar parts as lines at their place. No lump stands in these bays.
    let d = super::by_hand::plank();
    let e = evaluate(&d, &Assumptions::default());
    let heavy = e.weight.budget_kg / e.weight.drawn_kg / 2.0;
    let slices = mass_line::slices(&e.layout, &e.weight, &e.sections);
    for bay in [3, 10] {
        let b = &e.layout.bays[bay];
        let m = &b.mid;
        let s = &e.sections[bay];
        let elastic = m.x_le_m + 0.3 + (s.shear_centre_m + s.shear_centre_out_m) / 2.0;
        near(slices[bay].elastic_x_m, elastic, 1e-9);
        let control = (m.control_upper_m + m.control_lower_m) / 2.0;
        let wedge = 0.5 * m.hinge_depth_m * control;
        let cells = [(0.0, 0.3, m.nose_cell_m2), (0.3, 0.7 - control, m.aft_cell_m2), (1.0 - control, control, wedge)];
        let sheet = |cell: usize, w: f64| w * w / 12.0 + (cells[cell].2 / cells[cell].1 / 2.0).powi(2);
        let rib: f64 = cells.iter().map(|(from, w, a)| a * (w * w / 12.0 + (from + w / 2.0 - 0.38).powi(2))).sum();
        let area: f64 = cells.iter().map(|c| c.2).sum();
        let (mut kg, mut about) = (0.0, 0.0);
        for p in e.weight.parts.iter().filter(|p| !p.lump && p.bay == Some(bay)) {
            let z = p.strip.map(|strip| e.layout.zone(strip, bay).unwrap());
            let own = match (p.heading, z) {
                (Heading::Ribs, _) if p.x_m < m.x_le_m + 0.3 => 0.3 * 0.3 / 12.0,
                (Heading::Ribs, _) => rib / area,
                (_, Some(z)) => {
                    let cell = if z.strip.is_nose() { 0 } else { 1 + usize::from(z.strip.is_control()) };
                    sheet(cell, z.chord_to - z.chord_from)
                }
                _ => 0.0,
            };
            kg += heavy * p.nominal_kg;
            about += heavy * p.nominal_kg * ((p.x_m - elastic).powi(2) + own);
        }
        near(slices[bay].mass_kg, kg, 1e-9);
        near(slices[bay].inertia_kg_m2, about, 1e-9);
    }
}
