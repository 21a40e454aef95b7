//! What material of a plank costs, by hand: areas that a tape measure gives, times what is bought for each square metre.

use super::by_hand::plank;
use super::handling::near;
use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::design::{Backing, BackingMaterial, CapMaterial, Design, Posts, RibKind};
use thistledown::physics::evaluation::{Evaluation, evaluate};
use thistledown::physics::laminate::construction::{Ply, Skin};
use thistledown::physics::laminate::ply::{cure, price_per_m2};
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
fn the_spar_of_a_plank_in_money() {
    // By hand: ten plies of 0.6 m2 above and below, cloth and the resin mixed for it; two strips of foam of 50 x 8 mm, 12 m long; on each half
    // of the span 6 m of web between the caps, of its own construction with one more ply a face; and what is wasted.
    let mut d = plank();
    let CapMaterial::Plies(ply) = d.spar.upper.material else { panic!("plies") };
    let foam = |b: Option<Backing>| match b.unwrap().material {
        BackingMaterial::Foam(f) => d.library.foams[f].price_per_m3,
        BackingMaterial::Wood(_) => panic!("wood"),
    };
    let one = 10.0 * 0.6 * ply_square(&d, &ply);
    let backing = 2.0 * 0.05 * 0.008 * 12.0 * foam(d.spar.upper.backing);
    let e = done(&d);
    let cloth = &d.library.fabrics[ply.fabric];
    let vf = d.library.processes[ply.process].fibre_volume_fraction;
    let ply_m = cloth.areal_mass_kg_m2 / (vf * d.library.fibres[cloth.fibre].density_kg_m3);
    let height = e.layout.bays[0].mid.spar_depth_m - 20.0 * ply_m;
    let web_square = |construction: usize| {
        let made = &d.constructions[construction];
        square(&d, construction) + ply_square(&d, &made.outer[0]) + ply_square(&d, &made.inner[0])
    };
    let web: f64 = d.spar.web.iter().map(|run| 6.0 * height * web_square(run.bands[0].construction)).sum();
    let waste = 1.0 + d.rates.waste;
    near(material(&e, "spar"), (2.0 * one + backing + web) * waste, 1e-6);
    near(work::spar::of_web((&d, &e.layout, &e.skins), &e.sizing, None), web * waste, 1e-6);
    let (lib, process) = (&d.library, &d.library.processes[ply.process]);
    let cured = cure(cloth, &lib.fibres[cloth.fibre], lib.resin().unwrap(), process, 1.0);
    near(price_per_m2(cloth, process, lib.resin().unwrap(), &cured), ply_square(&d, &ply), 1e-9);
    // A lower cap of bought strips of 1 mm at 1600 kg/m3 and 60 a kilogram is paid for as such, and makes the web lower or higher.
    d.spar.lower.material = CapMaterial::Pultruded {
        layer_m: 0.001,
        modulus_pa: 130e9,
        density_kg_m3: 1600.0,
        tension_pa: 1.5e9,
        compression_pa: 1.0e9,
        price_per_kg: 60.0,
    };
    let strips = 10.0 * 0.6 * 0.001 * 1600.0 * 60.0;
    let web = web * (e.layout.bays[0].mid.spar_depth_m - 10.0 * ply_m - 0.01) / height;
    near(material(&done(&d), "spar"), (one + strips + backing + web) * waste, 1e-6);
    // Posts of birch, 30 x 10 mm every half metre of 12 m, as high as the web.
    let birch = d.library.woods.iter().position(|w| w.price_per_m3 > 0.0).unwrap();
    let material_of = BackingMaterial::Wood(birch);
    d.spar.posts =
        vec![Posts { from_eta: 0.0, to_eta: 1.0, material: material_of, pitch_m: 0.5, width_m: 0.03, depth_m: 0.01 }];
    let high = e.layout.bays[0].mid.spar_depth_m - 10.0 * ply_m - 0.01;
    let posts = 24.0 * 0.03 * 0.01 * high * d.library.woods[birch].price_per_m3;
    near(material(&done(&d), "spar"), (one + strips + backing + web + posts) * waste, 1e-6);
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
