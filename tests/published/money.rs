//! What material of a plank costs, by hand: areas that a tape measure gives, times what is bought for each square metre.

use super::by_hand::plank;
use super::handling::near;
use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::design::{CapMaterial, Design, RibKind};
use thistledown::physics::evaluation::{Evaluation, evaluate};
use thistledown::physics::laminate::construction::{Ply, Skin};
use thistledown::physics::work;

fn done(d: &Design) -> Evaluation {
    evaluate(d, &Assumptions::default())
}

fn material(e: &Evaluation, line: &str) -> f64 {
    e.work.lines.iter().find(|l| l.0 == line).unwrap().2
}

/// A square metre of a ply: the cloth, and the resin mixed for what fibre and voids leave of it (balance of volume).
fn ply_square(d: &Design, p: &Ply) -> f64 {
    let lib = &d.library;
    let (cloth, process, resin) = (&lib.fabrics[p.fabric], &lib.processes[p.process], lib.resin().unwrap());
    let vf = process.fibre_volume_fraction;
    let fibre = cloth.areal_mass_kg_m2 / (vf * lib.fibres[cloth.fibre].density_kg_m3);
    let stays = fibre * (1.0 - vf - process.void_fraction) * resin.density_kg_m3;
    cloth.price_per_m2 + stays * process.resin_waste * resin.price_per_kg
}

/// A square metre of a construction of plies and foam.
fn square(d: &Design, construction: usize) -> f64 {
    let made = &d.constructions[construction];
    let core = made.core.map_or(0.0, |c| d.library.foams[c.foam].price_per_m3 * c.thickness_m);
    made.outer.iter().chain(&made.inner).map(|p| ply_square(d, p)).sum::<f64>() + core
}

#[test]
fn caps_of_a_plank_in_money() {
    // By hand: ten plies of 0.6 m2 above and below, cloth and the resin mixed for it, and what is wasted.
    let d = plank();
    let CapMaterial::Plies(ply) = d.spar.upper.material else { panic!("plies") };
    near(material(&done(&d), "spar"), 2.0 * 10.0 * 0.6 * ply_square(&d, &ply) * (1.0 + d.rates.waste), 1e-6);
}

#[test]
fn a_rib_in_money() {
    // By hand: a rib of 0.1 m2 with 2 m of edge: body at 30 a square metre 3.0; cap of 10 mm at 50, 1.0; wrap of 0.3 of it at 20, 0.6.
    let d = plank();
    let costs = [30.0, 50.0, 20.0].map(|cost_per_m2| Skin { cost_per_m2, ..Skin::default() });
    let mut kind = RibKind { body: 0, cap: Some((1, 0.01)), wrap: Some((2, 0.3)), ..d.rib_kinds[0].clone() };
    near(work::rib_material(&kind, &costs, 0.1, 2.0), 4.6, 1e-12);
    // Holes win no money back, however many.
    (kind.lightening, kind.tip_thickness_ratio) = (0.8, 0.5);
    near(work::rib_material(&kind, &costs, 0.1, 2.0), 4.6, 1e-12);
    (kind.cap, kind.wrap) = (None, None);
    near(work::rib_material(&kind, &costs, 0.1, 2.0), 3.0, 1e-12);
}

#[test]
fn ribs_of_a_plank_in_money() {
    // By hand: 17 ribs to the trailing edge, behind the hinge a triangle, and 16 in the nose, on both halves: two plies of glass on foam, a
    // cap along the edges, a fifth of the face wrapped; what is wasted on top.
    let mut d = plank();
    d.joints[0].rib = None;
    d.rib_kinds[0].wrap = d.rib_kinds[0].cap.map(|c| (c.0, 0.2));
    let e = done(&d);
    let s = &e.layout.bays[0].inner;
    let behind = 0.5 * s.hinge_depth_m * 0.5 * (s.control_upper_m + s.control_lower_m);
    let area = s.nose_cell_m2 + s.aft_cell_m2 + behind;
    let edge = s.nose_upper_m + s.nose_lower_m + s.aft_upper_m + s.aft_lower_m + s.control_upper_m + s.control_lower_m;
    let (strip, width_m) = d.rib_kinds[0].cap.unwrap();
    let one = area * square(&d, d.rib_kinds[0].body) + (edge * width_m + 0.2 * area) * square(&d, strip);
    let nose = s.nose_cell_m2 * square(&d, d.rib_kinds[1].body);
    near(material(&e, "ribs"), 2.0 * (17.0 * one + 16.0 * nose) * (1.0 + d.rates.waste), 1e-6);
    // Two ribs where the halves meet, of their own kind, in place of one of the others each.
    let joined = plank();
    let of = |e: &Evaluation, d: &Design, name: &str| work::of_ribs(d, &e.layout, &e.skins, Some(name)).1;
    let own = joined.rib_kinds.iter().find(|k| k.name == "joint").unwrap();
    let (strip, width_m) = own.cap.unwrap();
    let want = area * square(&joined, own.body) + edge * width_m * square(&joined, strip);
    near(of(&done(&joined), &joined, "root rib"), 2.0 * want * (1.0 + joined.rates.waste), 1e-6);
    // All lines and the hours are the bill.
    let bill: f64 = e.work.lines.iter().map(|l| l.2).sum();
    near(e.work.cost, bill + e.work.hours * d.rates.hour_price, 1e-12);
}
