//! The cut list of a plank, by hand: lengths, widths and areas that a tape measure gives, whatever the parts list says.

use super::by_hand::plank;
use super::handling::near;
use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::design::{BackingMaterial, CapMaterial, Design, Patch, Posts, Strip};
use thistledown::physics::evaluation::{Evaluation, evaluate};
use thistledown::physics::laminate::construction::{Kind, Ply};
use thistledown::physics::mass::tally::Heading;
use thistledown::physics::workshop::batches;
use thistledown::physics::workshop::cuts::{self, Cut, CutList, Other, Stuff};
use thistledown::physics::workshop::outline::{Cutting, Outline, Sheet, blanks};

/// The plank with rolls and sheets that hold every part whole, and trims of its own.
fn bench() -> Design {
    let mut d = plank();
    let s = &mut d.stock;
    (s.cloth_roll_m, s.tape_roll_m, s.covering_roll_m) = (20.0, 20.0, 20.0);
    (s.foam_sheet_m, s.wood_sheet_m) = ([20.0, 20.0], [20.0, 20.0]);
    (s.trim_m, s.core_trim_m, s.turn_m, s.glue_loss) = (0.02, 0.004, 0.05, 0.25);
    d
}

fn cut(d: &Design) -> (Evaluation, CutList) {
    let e = evaluate(d, &Assumptions::default());
    let list = cuts::of(d, &e);
    (e, list)
}

/// Mass and metres of what is taken for a part.
fn taken(list: &CutList, heading: Heading, part: Option<&str>, what: Other) -> (f64, f64) {
    let is = |u: &&cuts::Use| {
        u.part.heading == heading && u.what == what && (part.is_none() || u.part.part.as_deref() == part)
    };
    list.uses.iter().filter(is).fold((0.0, 0.0), |a, u| (a.0 + u.kg, a.1 + u.metres))
}

fn named<'l>(list: &'l CutList, begins: &str) -> Vec<&'l Cut> {
    let all: Vec<_> = list.cuts.iter().filter(|c| c.name.starts_with(begins)).collect();
    assert!(!all.is_empty(), "nothing named {begins}");
    all
}

/// What a ply holds of resin, kg/m2: what fibre and voids leave of it (rule of mixtures, balance of volume).
fn resin_kg_m2(d: &Design, p: &Ply) -> f64 {
    let lib = &d.library;
    let (cloth, process, resin) = (&lib.fabrics[p.fabric], &lib.processes[p.process], lib.resin().unwrap());
    let vf = process.fibre_volume_fraction;
    let of_fibre = cloth.areal_mass_kg_m2 / lib.fibres[cloth.fibre].density_kg_m3;
    of_fibre / vf * (1.0 - vf - process.void_fraction) * resin.density_kg_m3
}

#[test]
fn glue_edges_fastening_and_fittings_by_the_metre() {
    let d = bench();
    let (e, list) = cut(&d);
    // Caps on webs and skins: four lines over 12 m of span, 20 by 0.3 mm at 1200 kg/m3 and half as much again.
    let (kg, metres) = taken(&list, Heading::Bonds, Some("spar bonds"), Other::Glue);
    near(metres, 48.0, 1e-9);
    near(kg, 0.5184, 1e-9);
    // One edge in front and one behind, 12 m each, of 30 and 40 g/m.
    near(taken(&list, Heading::Edges, Some("nose seam"), Other::Edge).0, 0.36, 1e-9);
    let (kg, metres) = taken(&list, Heading::Edges, Some("trailing edge"), Other::Edge);
    near(kg, 0.48, 1e-9);
    near(metres, 12.0, 1e-9);
    // A rib along the rigid skins of its bay, and a nose rib round the nose; 9 g/m.
    let rigid = |c: usize| !matches!(e.skins[c].kind, Kind::Covering | Kind::Open);
    let arcs: f64 = e.layout.zones.iter().filter(|z| rigid(z.construction)).map(|z| z.arc_m).sum();
    let m = &e.layout.bays[0].mid;
    let (kg, metres) = taken(&list, Heading::Bonds, Some("rib bonds"), Other::Glue);
    near(metres, 2.0 * (arcs + 16.0 * (m.nose_upper_m + m.nose_lower_m)), 1e-9);
    near(kg, 0.009 * metres, 1e-9);
    // A glued lap along each boundary, both halves.
    let joined: f64 = e.layout.splices.iter().map(|s| s.length_m).sum();
    let (kg, metres) = taken(&list, Heading::Splices, None, Other::Glue);
    near(metres, 2.0 * joined, 1e-9);
    near(kg, 0.009 * metres, 1e-9);
    // A covering is fastened on one rib and along two edges of its bay of 375 mm.
    let covered: Vec<_> = e.layout.zones.iter().filter(|z| e.skins[z.construction].covering.is_some()).collect();
    let (_, metres) = taken(&list, Heading::CoveringFastening, None, Other::Fastening);
    near(metres, covered.iter().map(|z| 2.0 * (z.arc_m + 0.75)).sum(), 1e-9);
    // The scenario's fittings are those of one half.
    near(taken(&list, Heading::Joints, None, Other::Fitting).0, 2.2, 1e-9);
    near(taken(&list, Heading::Controls, None, Other::Fitting).0, 0.7, 1e-9);
    // A quarter of the glue stays in the pot.
    let all = batches::of(&d.stock, &list);
    let glued: Vec<_> = all.iter().filter(|b| b.glue).collect();
    assert_eq!(glued.len(), 3);
    for b in glued {
        near(b.mixed_kg, 1.25 * b.stays_kg, 1e-9);
    }
}

#[test]
fn laps_hold_fibre_and_resin_of_both_constructions() {
    // 50 mm along each boundary, both halves; a bare laminate cured against film has resin on its surfaces too.
    let plain = bench();
    let mut bare = plain.clone();
    let aft = plain.strips.iter().find(|s| s.strip == Strip::AftUpper).unwrap().runs[0].construction;
    (bare.constructions[aft].kind, bare.constructions[aft].core) = (Kind::Laminate, None);
    for (d, surface) in [(plain, false), (bare, true)] {
        let (e, list) = cut(&d);
        let wet = |c: usize| e.skins[c].mass.fibre + e.skins[c].mass.resin;
        let lapped: f64 = list.cuts.iter().map(|c| c.lap[1] + c.lap[2]).sum();
        let rest = taken(&list, Heading::Splices, None, Other::SurfaceResin).0;
        let both: f64 = e.layout.splices.iter().map(|s| 0.05 * s.length_m * (wet(s.from) + wet(s.to))).sum();
        near(lapped + rest, 2.0 * both, 1e-9);
        assert!(surface == (rest > 0.01 * lapped), "{rest} {lapped}");
    }
}

#[test]
fn skins_are_as_long_as_the_wing_and_as_wide_as_its_arcs() {
    let d = bench();
    let (e, list) = cut(&d);
    let arc = |s: Strip, bay: usize| e.layout.zone(s, bay).unwrap().arc_m;
    for c in named(&list, "nose up") {
        let trim = if matches!(c.stuff, Stuff::Cloth(_)) { 0.02 } else { 0.004 };
        near(c.blank.length_m, 6.0 + 2.0 * trim, 1e-9);
        near(c.blank.width_m, arc(Strip::NoseUpper, 0) + 2.0 * trim, 1e-9);
        near(c.net_m2, f64::from(c.count) * 6.0 * arc(Strip::NoseUpper, 0), 1e-9);
    }
    // Aft the sandwich ends at half span, its plies lap 50 mm on the covering's side; a covering is turned over by 50 mm.
    for c in list.cuts.iter().filter(|c| c.name.starts_with("aft up")) {
        let (bay, on) = match c.stuff {
            Stuff::Cloth(_) => (0, 2.0 * 0.02 + 0.05),
            Stuff::Covering(_) => (15, 2.0 * 0.05),
            _ => (0, 2.0 * 0.004),
        };
        near(c.blank.length_m, 3.0 + on, 1e-9);
        near(c.net_m2, f64::from(c.count) * 3.0 * arc(Strip::AftUpper, bay), 1e-9);
        // The lap is as long as the boundary: between a panel that ends at the trailing edge and one that ends at the aileron.
        let lap = 0.05 * f64::midpoint(arc(Strip::AftUpper, 0), arc(Strip::AftUpper, 15));
        near(c.lap[0], if matches!(c.stuff, Stuff::Cloth(_)) { f64::from(c.count) * lap } else { 0.0 }, 1e-9);
    }
    // A roll of 20 mm holds nothing: each ply is told as one blank, and none of it is lost.
    let mut narrow = d.clone();
    narrow.stock.cloth_roll_m = 0.02;
    let (_, list) = cut(&narrow);
    let plies: f64 =
        named(&list, "nose up").iter().filter(|c| matches!(c.stuff, Stuff::Cloth(_))).map(|c| c.net_m2).sum();
    near(plies, 2.0 * 2.0 * 6.0 * arc(Strip::NoseUpper, 0), 1e-9);
    // Along the dihedral a panel is 1/cos of it as long: at 0.2 rad 6.1220 m; the model has 1 + d2/2, 0.03 % less.
    let mut up = d.clone();
    up.planform.dihedral_rad = 0.2;
    for c in named(&cut(&up).1, "nose low") {
        let trim = if matches!(c.stuff, Stuff::Cloth(_)) { 0.02 } else { 0.004 };
        near(c.blank.length_m - 2.0 * trim, 6.0 / 0.2_f64.cos(), 5e-4);
    }
}

#[test]
fn lengths_of_a_tapered_skin_share_it_as_a_trapeze_is_shared() {
    // A chord of 4/3 m at the root, 2/3 m at the tip, so swept that the middle of the nose, at 0.15 of the chord, is not: there the quarter
    // chord goes ahead by a tenth of what the chord loses, 1 in 90. The arc falls in a straight line from a to a/2, so from s to t of 6 m lies
    // a ((t - s) - (t2 - s2)/24). Cores of 1.7 m with 4 mm of trim at the ends of the whole: they begin at 0, 1.696, 3.396 and 5.096 m.
    let mut d = bench();
    d.planform.taper = 0.5;
    d.planform.sweep_rad = -(1.0_f64 / 90.0).atan();
    d.stock.foam_sheet_m = [1.7, 5.0];
    let (e, list) = cut(&d);
    let core: Vec<&Cut> = named(&list, "nose up").into_iter().filter(|c| matches!(c.stuff, Stuff::Foam(_))).collect();
    assert_eq!(core.len(), 4);
    let root = e.layout.bays[0].inner.nose_upper_m;
    for (c, (from, to)) in core.iter().zip([(0.0, 1.696), (1.696, 3.396), (3.396, 5.096), (5.096_f64, 6.0)]) {
        near(c.net_m2, 2.0 * root * ((to - from) - (to * to - from * from) / 24.0), 1e-7);
    }
}

#[test]
fn caps_of_wood_are_scarfed_and_share_their_taper() {
    // 70 mm at the root to 30 mm at the tip, 6 m; boards of 2.4 m with 20 mm of trim at each end of the whole and scarfs of 12 times 4 mm:
    // they begin at 0, 2.332 and 4.684 m.
    let mut d = bench();
    let wood = d.library.woods.iter().position(|w| w.key == "spruce").unwrap();
    d.spar.upper.material = CapMaterial::Wood { wood, layer_m: 0.004 };
    d.stock.wood_sheet_m = [2.4, 1.0];
    d.stock.scarf_ratio = 12.0;
    let (_, list) = cut(&d);
    let all = named(&list, "upper cap: layers 1-10");
    assert_eq!(all.len(), 3);
    for (c, (from, to)) in all.iter().zip([(0.0, 2.332), (2.332, 4.684), (4.684_f64, 6.0)]) {
        let area = 0.07 * (to - from) - 0.04 / 12.0 * (to * to - from * from);
        near(c.net_m2, 20.0 * area, 1e-8);
        near(c.net_kg, c.net_m2 * 0.004 * d.library.woods[wood].density_kg_m3, 1e-9);
    }
    // What runs through the middle is the same wood in half as many pieces.
    let area: f64 = all.iter().map(|c| c.net_m2).sum();
    d.joints.clear();
    d.stock.wood_sheet_m = [20.0, 1.0];
    let (_, list) = cut(&d);
    let all = named(&list, "upper cap: layers 1-10");
    assert_eq!((all.len(), all[0].count), (1, 10));
    near(all[0].blank.length_m, 12.04, 1e-9);
    near(all[0].net_m2, area, 1e-9);
}

#[test]
fn ribs_are_what_holes_and_taper_leave_of_the_section() {
    let mut d = bench();
    let main = d.rib_kinds.iter().position(|k| k.name == "main").unwrap();
    (d.rib_kinds[main].lightening, d.rib_kinds[main].tip_thickness_ratio) = (0.25, 0.6);
    let (e, list) = cut(&d);
    let last = e.layout.bays.len();
    // At the tip 0.75 x 0.6 of the section is left, at half span 0.75 x 0.8.
    for (bay, left) in [(last, 0.45), (last / 2, 0.6)] {
        let s = &e.layout.bays[bay - 1].outer;
        let of = |word: &str| {
            let tail = format!(" {bay} {word}: core");
            list.cuts.iter().find(|c| c.part.heading == Heading::Ribs && c.name.ends_with(&tail)).unwrap()
        };
        near(of("nose").net_m2, 2.0 * left * s.nose_cell_m2, 1e-9);
        near(of("body").net_m2, 2.0 * left * s.aft_cell_m2, 1e-9);
        // From the hinge at 0.78 of a chord of 1 m to the trailing edge, from the nose to the spar at 0.30.
        near(of("rear").blank.length_m, 0.22 + 0.008, 1e-9);
        near(of("nose").blank.length_m, 0.30 + 0.008, 1e-9);
    }
    // That blanks stay as large as the untapered rib is said where ribs taper, and nowhere else.
    let said = |d: &Design| cut(d).1.remarks.iter().any(|r| r.starts_with("tip_ratio"));
    assert!(said(&d));
    d.rib_kinds.iter_mut().for_each(|k| k.tip_thickness_ratio = 1.0);
    assert!(!said(&d));
}

#[test]
fn plies_of_patches_and_of_the_web_hold_the_resin_of_their_process() {
    let mut d = bench();
    let ply = d.constructions[0].outer.first().copied().unwrap_or(Ply { fabric: 0, angle_rad: 0.0, process: 0 });
    d.patches = vec![Patch {
        name: "step".to_owned(),
        upper: true,
        from_eta: 0.25,
        to_eta: 0.5,
        chord_from: 0.10,
        chord_to: 0.25,
        extra_plies: vec![ply; 2],
        core: None,
        hold: false,
    }];
    let (e, list) = cut(&d);
    let zone = e.layout.zone(Strip::NoseUpper, 4).unwrap();
    for c in named(&list, "patch step") {
        near(c.resin_kg_m2, resin_kg_m2(&d, &ply), 1e-9);
        // Half of the nose over 1.5 m, two plies, both halves.
        near(c.net_m2, 4.0 * 1.5 * 0.5 * zone.arc_m, 1e-9);
    }
    let extra: Vec<&Cut> = list.cuts.iter().filter(|c| c.name.contains("extra 1")).collect();
    assert!(extra.len() >= 4);
    for c in extra {
        let Stuff::Cloth(fabric) = c.stuff else { panic!("{c:?}") };
        let of = d.constructions.iter().flat_map(|k| k.outer.iter().chain(&k.inner));
        let ply = of.copied().find(|p| p.fabric == fabric && p.process == ply.process).unwrap();
        near(c.resin_kg_m2, resin_kg_m2(&d, &ply), 1e-9);
        near(c.resin_kg, c.net_m2 * c.resin_kg_m2, 1e-9);
    }
}

#[test]
fn a_patch_of_another_core_takes_the_place_of_the_old_one() {
    let mut d = bench();
    let old = d.library.foams.iter().position(|f| f.key == "pvc_60").unwrap();
    let new = d.library.foams.iter().position(|f| f.key == "pvc_100").unwrap();
    d.patches = vec![Patch {
        name: "hard".to_owned(),
        upper: true,
        from_eta: 0.25,
        to_eta: 0.5,
        chord_from: 0.10,
        chord_to: 0.25,
        extra_plies: Vec::new(),
        core: Some(new),
        hold: false,
    }];
    let (e, list) = cut(&d);
    // Half of the nose over 1.5 m, 5 mm deep, both halves.
    let m3 = 2.0 * 1.5 * 0.5 * e.layout.zone(Strip::NoseUpper, 4).unwrap().arc_m * 0.005;
    let core = named(&list, "patch hard: core");
    near(core.iter().map(|c| c.net_kg).sum(), m3 * d.library.foams[new].density_kg_m3, 1e-9);
    near(taken(&list, Heading::Patches, None, Other::Replaced).0, -m3 * d.library.foams[old].density_kg_m3, 1e-9);
}

#[test]
fn a_bay_shorter_than_a_pitch_has_one_post() {
    // The first bay is 375 mm, posts stand every half metre: one on each half, as tall as the web at the root; by the metre three quarters
    // of one.
    let mut d = bench();
    let BackingMaterial::Foam(foam) = d.spar.upper.backing.unwrap().material else { panic!("foam") };
    let material = BackingMaterial::Foam(foam);
    d.spar.posts = vec![Posts { from_eta: 0.0, to_eta: 0.05, material, pitch_m: 0.5, width_m: 0.03, depth_m: 0.01 }];
    let (_, list) = cut(&d);
    let posts = named(&list, "posts");
    assert_eq!((posts.len(), posts[0].count), (1, 2));
    near(posts[0].net_m2, 2.0 * 0.75 * 0.03 * (posts[0].blank.length_m - 0.008), 1e-9);
}

#[test]
fn slanting_ends_trims_and_slivers_by_hand() {
    // A strip of 3 m and 200 mm that slopes as 3 to 4: its ends slant over 200 mm x 3/5 = 120 mm. With 10 mm of trim it takes 3.14 m; on
    // sheets of 1.2 m with laps of 40 mm the second begins at 1.16 m of the whole, 1.09 m along the strip.
    let strip = Outline { at: vec![(0.0, 0.2), (3.0, 0.2)], slope: 0.75 };
    let c = Cutting { from: Sheet::Flat([1.2, 1.0]), angle_rad: 0.0, end_m: 0.01, side_m: 0.015, lap_m: 0.04 };
    let all = blanks(&strip, &c).unwrap();
    assert_eq!(all.len(), 3);
    near(all[0].width_m, 0.23, 1e-9);
    near(all[0].net_m2, 0.2 * 1.09, 1e-9);
    near(all[1].net_m2, 0.2 * 1.16, 1e-9);
    near(all[2].length_m, 3.0 + 0.12 + 0.02 - 2.32, 1e-8);
    // 2.45 m on sheets of 1.2 m with laps of 100 mm: what is left, 0.25 m, is less than a quarter of the one before, so the last two share
    // 1.35 m and their lap: 0.725 m each.
    let board = Outline::rectangle(2.45, 0.3);
    let c = Cutting { end_m: 0.0, side_m: 0.0, lap_m: 0.1, ..c };
    let lengths: Vec<f64> = blanks(&board, &c).unwrap().iter().map(|b| b.length_m).collect();
    assert_eq!(lengths.len(), 3);
    near(lengths[0], 1.2, 1e-9);
    near(lengths[1], 0.725, 1e-9);
    near(lengths[2], 0.725, 1e-9);
    // Two trapezes of 400 to 200 mm head to tail are 600 mm wide, and each has its two trims of 10 mm.
    let trapeze = Outline { at: vec![(0.0, 0.4), (1.0, 0.2)], slope: 0.0 };
    let c = Cutting { from: Sheet::Any, angle_rad: 0.0, end_m: 0.02, side_m: 0.01, lap_m: 0.0 };
    let one = blanks(&trapeze, &c).unwrap()[0];
    near(one.length_m, 1.04, 1e-9);
    near(one.width_m, 0.42, 1e-9);
    near(one.pair_m.0, 0.64, 1e-9);
    // Where the trims would eat what the pair saves: 210 to 200 mm, 450 mm together as against twice 230.
    let blunt = Outline { at: vec![(0.0, 0.21), (1.0, 0.20)], slope: 0.0 };
    near(blanks(&blunt, &c).unwrap()[0].pair_m.0, 0.45, 1e-9);
    assert!(blanks(&Outline::rectangle(1.0, 0.2), &c).unwrap()[0].pair_m.0 == 0.0);
}
