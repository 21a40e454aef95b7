//! Walls along the hinge line: what they weigh, close and stand.

use super::by_hand::{input, of, plank};
use super::handling::near;
use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::design::{Design, Run, Strip};
use thistledown::physics::evaluation::{Evaluation, evaluate};
use thistledown::physics::laminate::construction::Skin;
use thistledown::physics::mass::tally::Heading;
use thistledown::physics::strength::edge_under_covering::wall_bent;
use thistledown::physics::strength::web;
use thistledown::physics::work;

fn named(d: &Design, key: &str) -> usize {
    d.constructions.iter().position(|c| c.key == key).unwrap()
}

/// The plank with rigid aft skins all along, its aileron over the outer half.
fn boxed() -> Design {
    let mut d = plank();
    let skin = named(&d, "skin_glass_pvc");
    for s in d.strips.iter_mut().filter(|s| matches!(s.strip, Strip::AftUpper | Strip::AftLower)) {
        s.runs = vec![Run { from_eta: 0.0, to_eta: 1.0, construction: skin }];
    }
    d.controls[0].wing_wall = Some(named(&d, "web_glass"));
    d
}

fn done(d: &Design) -> Evaluation {
    evaluate(d, &Assumptions::default())
}

fn kg(e: &Evaluation, heading: Heading, name: &str) -> f64 {
    e.weight.parts.iter().filter(|p| p.heading == heading && p.name == name).map(|p| p.nominal_kg).sum()
}

#[test]
fn walls_of_a_plank_weigh_their_depth_times_their_length() {
    // By hand: half of 6 m along a hinge across the span; depth of a 17 % section at 0.78 of the chord by the published thickness
    // distribution of four-digit sections (Jacobs, Ward and Pinkerton, NACA report 460, from memory; the closed trailing edge as in -0.1036),
    // on a camber line that slopes there by 2 m (p - x)/(1 - p)^2: the ordinates stand off it by its cosine, so a depth cut upright differs
    // by less than 2 %.
    let d = boxed();
    let e = done(&d);
    let x = 0.78_f64;
    let depth =
        10.0 * 0.17 * (0.2969 * x.sqrt() - 0.1260 * x - 0.3516 * x * x + 0.2843 * x.powi(3) - 0.1036 * x.powi(4));
    let area = 2.0 * 3.0 * depth;
    let areal = |key: &str| e.skins[named(&d, key)].mass.total();
    near(kg(&e, Heading::Controls, "wing wall"), area * areal("web_glass"), 0.02);
    near(kg(&e, Heading::Controls, "control wall"), area * areal("wall_carbon_ud"), 0.02);
    // Glue along both rigid skins of the wing, 10 x 0.5 mm of 1200 kg/m3 and half as much squeezed out; coverings are fastened as before.
    let glue = 0.010 * 0.000_5 * 1200.0 * 1.5;
    near(kg(&e, Heading::Bonds, "wing wall bonds"), 2.0 * 3.0 * 2.0 * glue, 1e-9);
    assert!(kg(&e, Heading::Bonds, "control wall bonds").abs() < 1e-12);
    // Hours and material by the square metre, with what is wasted.
    let s = &e.skins[named(&d, "web_glass")];
    let (hours, cost) =
        work::hinge_walls::of(&d, &e.layout, &e.skins, Some(thistledown::physics::wing::hinge_wall::Side::Wing));
    near(hours, area * s.hours_per_m2, 0.02);
    near(cost, area * s.cost_per_m2 * (1.0 + d.rates.waste), 0.02);
    // Not named: not there.
    let mut bare = d.clone();
    (bare.controls[0].wing_wall, bare.controls[0].control_wall) = (None, None);
    let lighter = done(&bare);
    near(
        e.weight.drawn_kg
            - kg(&e, Heading::Controls, "wing wall")
            - kg(&e, Heading::Controls, "control wall")
            - kg(&e, Heading::Bonds, "wing wall bonds"),
        lighter.weight.drawn_kg,
        1e-9,
    );
}

#[test]
fn the_flow_of_two_cells_goes_round_the_aft_skins_and_their_wall() {
    // Johnson, Advanced Structural Mechanics, 2000, pp. 79-80 (read): cells that turn alike, 2 A1 q1 + 2 A2 q2 = T and
    // (q1 d1 + (q1 - q2) dw)/A1 = (q2 d2 + (q2 - q1) dw)/A2, solved here by Cramer; d of the aft cell with the wall in it.
    let d = boxed();
    let e = done(&d);
    let bay = 10;
    let (b, s) = (&e.layout.bays[bay], &e.sections[bay]);
    let at = |strip: Strip| &e.skins[e.layout.zone(strip, bay).unwrap().construction];
    let over = |k: &Skin, length: f64| length / k.a.s66;
    let wall = &e.skins[d.controls[0].wing_wall.unwrap()];
    let d1 = over(at(Strip::NoseUpper), b.inner.nose_upper_m) + over(at(Strip::NoseLower), b.inner.nose_lower_m);
    let d2 = over(at(Strip::AftUpper), b.inner.aft_upper_m)
        + over(at(Strip::AftLower), b.inner.aft_lower_m)
        + over(wall, b.inner.hinge_depth_m);
    let dw = s.cap_lever_m / web::stiffness(&d, &e.skins, b.mid.eta, 1);
    let (a1, a2) = (b.inner.nose_cell_m2, b.inner.aft_cell_m2);
    let (p, r) = ((d1 + dw) / a1 + dw / a2, -((d2 + dw) / a2 + dw / a1));
    let det = 2.0 * a1 * r - 2.0 * a2 * p;
    let (q1, q2) = (r / det, -p / det);
    near(s.nose_flow_per_nm, q1, 1e-9);
    near(s.aft_flow_per_nm, q2, 1e-9);
    // Skins and wall carry the worst of it, and stand what A66 and the least shear strain of their faces give.
    let flow = |l: &thistledown::physics::loads::internal::CaseLoads| {
        (l.shear_n()[bay] * s.aft_flow_per_n + l.torque_nm()[bay] * s.aft_flow_per_nm).abs()
    };
    let most = e.loads.loads.iter().map(flow).fold(0.0, f64::max);
    let stands = |k: &Skin| k.a.s66 * k.outer.strain_shear.min(k.inner.strain_shear);
    let skin = of(&e, "aft_shear").into_iter().find(|m| m.bay == Some(bay)).unwrap();
    near(skin.applied, 1.5 * most, 1e-9);
    near(skin.allowable, stands(at(Strip::AftUpper)), 1e-9);
    let m = of(&e, "hinge_wall").into_iter().find(|m| m.bay == Some(bay)).unwrap();
    near(m.applied, 1.5 * most, 1e-9);
    near(input(m, "stands in shear"), stands(wall), 1e-9);
    near(m.allowable, stands(wall).min(input(m, "buckles at")), 1e-12);
    // An inboard bay has no control and no wall to judge; without a wall the nose alone is closed outboard, Bredt and Batho.
    assert!(of(&e, "hinge_wall").iter().all(|m| m.bay.unwrap() >= 8));
    let mut open = d.clone();
    open.controls[0].wing_wall = None;
    let f = done(&open);
    assert!(f.sections[4].two_cells && !f.sections[bay].two_cells);
    near(f.sections[bay].gj_nm2, 4.0 * a1 * a1 / (d1 + dw), 1e-9);
    assert!(f.sections[bay].gj_nm2 < s.gj_nm2);
    assert!(f.margins.iter().all(|m| m.mode != "hinge_wall"));
    assert!(f.margins.iter().all(|m| m.mode != "aft_shear" || m.bay.unwrap() < 8));
    assert!(f.warnings.iter().any(|w| w.contains("wing_wall")) && e.warnings.iter().all(|w| !w.contains("wing_wall")));
}

#[test]
fn a_wall_that_a_covering_ends_at_is_a_beam() {
    // Any text, by hand: 900 N/m over 0.4 m make 18 N m and 180 N at the ribs. A wall 50 mm deep: 360 N m/m on D = 700 N m bend it by
    // 0.5143 1/m, 2.571 e-3 at 5 mm from its middle; 180 N over 50 mm times 10 mm are 0.36 MPa.
    let (strain, tau) = wall_bent(900.0, (0.4, 0.05), 700.0, (0.010, 0.010));
    near(strain, 2.571_43e-3, 1e-5);
    near(tau, 0.36e6, 1e-12);
    // On the plank: pull of both coverings, a wall as deep as the section, the lesser of faces and core.
    let d = plank();
    let e = done(&d);
    let mut seen = 0;
    for m in of(&e, "edge_under_covering") {
        if m.inputs.iter().all(|i| i.label != "depth of the wall") {
            continue;
        }
        let z = e.layout.zone(m.strip.unwrap(), m.bay.unwrap()).unwrap();
        let s = &e.skins[d.controls[0].wing_wall.unwrap()];
        let load = input(m, "pull ultimate");
        let bent = load * z.length_m * z.length_m / 8.0 / e.layout.bays[10].mid.hinge_depth_m;
        near(m.applied, bent / s.d.s11 * s.thickness_m / 2.0, 1e-9);
        let foam = &d.library.foams[s.foam.unwrap()];
        let hot = d.service.core_share(true).min(d.service.core_share(false));
        let tau = load * z.length_m / 2.0 / (e.layout.bays[10].mid.hinge_depth_m * s.lever_m);
        let faces = [&s.outer, &s.inner].map(|f| f.strain_compression.min(f.strain_tension));
        // Faces wrinkle at 0.5 (Ef Ec Gc)^(1/3), as in the mode of that name, the core hot.
        let wrinkles = |e: f64| 0.5 * (e * foam.modulus_pa * hot * foam.shear_modulus_pa * hot).cbrt() / e;
        let faces = [faces[0].min(wrinkles(s.outer.e_span_pa)), faces[1].min(wrinkles(s.inner.e_span_pa))];
        assert!(faces[0] < s.outer.strain_compression);
        let want = (foam.shear_strength_min_pa * hot / tau).min(faces[0].min(faces[1]) / m.applied);
        near(m.rf, want, 1e-9);
        seen += 1;
    }
    // Upper and lower skins ahead of the hinge and behind it, in the eight bays of the aileron.
    assert_eq!(seen, 32);
}
