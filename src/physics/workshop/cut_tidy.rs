//! What of a wing is not cut: glue, edges known by the metre, fastening, fittings; and what the cut list cannot say.

use crate::physics::design::RibKind;
use crate::physics::laminate::construction::Kind;
use crate::physics::mass::laps::{Laps, NAME};
use crate::physics::mass::seams::glue_kg_m;
use crate::physics::mass::skins::rigid;
use crate::physics::mass::tally::Heading;
use crate::physics::mass::weighed::part_of;
use crate::physics::workshop::cut_hinge_walls::glue_m;
use crate::physics::workshop::cut_skins::parted_at_root;
use crate::physics::workshop::cut_spar::height_m;
use crate::physics::workshop::cuts::{Bench, Other, Use};

/// Glue of all seams, and edges by the metre.
pub(super) fn seams(bench: &mut Bench) {
    let (design, e) = (bench.design, bench.e);
    let s = &design.seams;
    let skin_glue = glue_kg_m(s.bond_width_m, s.bond_thickness_m, design);
    let spar_glue = glue_kg_m(design.spar.bond_width_m, design.spar.bond_thickness_m, design);
    for (i, bay) in e.layout.bays.iter().enumerate() {
        let (m, length) = (&bay.mid, bay.length_m);
        let spar_m = 2.0 * 4.0 * length / m.spar_cos();
        glue(bench, "spar bonds", spar_m, spar_glue);
        let zones = e.layout.zones.iter().filter(|z| z.bay == i && rigid(&e.skins, z.construction));
        let nose = f64::from(bay.nose_ribs) * (m.nose_upper_m + m.nose_lower_m);
        glue(bench, "rib bonds", 2.0 * (zones.map(|z| z.arc_m).sum::<f64>() + nose), skin_glue);
        for (name, kg_m) in [("nose seam", s.nose_seam_kg_m), ("trailing edge", s.trailing_edge_kg_m)] {
            by_the_metre(bench, (Heading::Edges, name), Other::Edge, 2.0 * length, kg_m);
        }
    }
    for (name, metres) in glue_m(bench) {
        glue(bench, name, metres, skin_glue);
    }
    for p in &e.layout.splices {
        let part = part_of(Heading::Splices, Some(p.strip), "splice");
        let lay_up = Some(bench.lay_up("splices", 2, true));
        let (metres, resin_waste) = (2.0 * p.length_m, 1.0 + design.stock.glue_loss);
        bench.take_by(Use { part, what: Other::Glue, kg: metres * skin_glue, metres, lay_up, resin_waste });
    }
    let made = bench.list.uses.iter().any(|u| u.what == Other::Edge);
    if made {
        bench.remark("nose seam and trailing edge are known by the metre only: no blank is listed for them".to_owned());
    }
}

/// Laps of plies, as the parts list counts them: the blanks say where they lie.
pub(super) fn laps(bench: &mut Bench) {
    let (design, e, laps) = (bench.design, bench.e, Laps::of(bench.design, &bench.e.layout));
    for z in &e.layout.zones {
        let kg = laps.of_zone_kg(z, &e.skins);
        bench.take(&part_of(Heading::Bonds, Some(z.strip), NAME), Other::Laps, kg);
    }
    for (i, bay) in e.layout.bays.iter().enumerate() {
        let m = &bay.mid;
        let extra = f64::from(e.sizing.web.get(i).copied().unwrap_or(0));
        let panel = (bay.length_m / m.spar_cos(), height_m(bench, i, m));
        let kg = laps.of_web_kg((design, &e.skins), m.eta, panel, extra);
        bench.take(&part_of(Heading::Web, None, NAME), Other::Laps, kg);
    }
}

fn glue(bench: &mut Bench, name: &str, metres: f64, kg_m: f64) {
    let part = part_of(Heading::Bonds, None, name);
    let lay_up = Some(bench.lay_up(name, 2, true));
    let resin_waste = 1.0 + bench.design.stock.glue_loss;
    bench.take_by(Use { part, what: Other::Glue, kg: metres * kg_m, metres, lay_up, resin_waste });
}

fn by_the_metre(bench: &mut Bench, (heading, name): (Heading, &str), what: Other, metres: f64, kg_m: f64) {
    let part = part_of(heading, None, name);
    bench.take_by(Use { part, what, kg: metres * kg_m, metres, lay_up: None, resin_waste: 1.0 });
}

/// Fastening, joints, controls, fittings, protection flown.
pub(super) fn bought(bench: &mut Bench) {
    let (design, e) = (bench.design, bench.e);
    for z in &e.layout.zones {
        let Some(u) = e.skins.get(z.construction).and_then(|s| s.covering) else { continue };
        let (Some(f), Some(bay)) = (design.library.fastenings.get(u.fastening), e.layout.bays.get(z.bay)) else {
            continue;
        };
        let metres = 2.0 * (z.arc_m + 2.0 * bay.length_m);
        let part = part_of(Heading::CoveringFastening, Some(z.strip), z.strip.label());
        let kg = metres * f.mass_kg_m;
        bench.take_by(Use { part, what: Other::Fastening, kg, metres, lay_up: None, resin_waste: 1.0 });
    }
    let joints = design.joints.iter().map(|j| (Heading::Joints, &j.name, 2.0 * j.fittings_kg));
    let controls = design.controls.iter().map(|c| (Heading::Controls, &c.name, 2.0 * c.fittings_kg));
    let masses = design.aboard.masses.iter().filter(|m| m.wing).map(|m| (Heading::Fittings, &m.name, m.mass_kg));
    let flown = design.care.protections.iter().filter(|g| g.flown && g.mass_kg > 0.0);
    let flown = flown.map(|g| (Heading::Protection, &g.name, g.mass_kg));
    for (heading, name, kg) in joints.chain(controls).chain(masses).chain(flown) {
        bench.take(&part_of(heading, None, name), Other::Fitting, kg);
    }
}

/// What the list takes for granted.
pub(super) fn remarks(bench: &mut Bench) {
    let (design, e) = (bench.design, bench.e);
    let mut say = vec![
        "skins are cut flat, as long as the middle line of the panel and as wide as the arc of the section: the nose of a curved panel is laid, not stretched".to_owned(),
        "angles are those of the roll against the length of the blank: the span for skins, the spar for caps and web, the chord for ribs".to_owned(),
    ];
    if bench.list.cuts.iter().any(|c| c.join[0] > 0.0) {
        say.push("joins between lengths of a ply are in no margin: stagger them from ply to ply, keep them off holds and fittings, and have the lap reviewed; a butted ply of web or nose carries no shear across".to_owned());
    }
    let boards = |k: &RibKind| e.skins.get(k.body).is_some_and(|s| s.core_thickness_m > 0.0 || s.mass.wood > 0.0);
    if design.rib_kinds.iter().any(boards) {
        say.push(
            "every rib has blanks of its own; ribs sawn out of boards laid up whole need fewer, and the same area"
                .to_owned(),
        );
    }
    if design.rib_kinds.iter().any(|k| (k.tip_thickness_ratio - 1.0).abs() > 1e-9) {
        say.push(
            "tip_ratio of ribs counts as so much less of the body left, by larger holes: blanks stay as large"
                .to_owned(),
        );
    }
    if design.rib_kinds.iter().any(|k| k.wrap.is_some()) {
        say.push(
            "the wrap of ribs is known by its share of the face only: it is cut as a strip along the edge".to_owned(),
        );
    }
    if !parted_at_root(design) {
        say.push("skins and webs are cut at the middle of the wing though no joint parts it there".to_owned());
    }
    let made = |kind: Kind| e.layout.zones.iter().any(|z| e.skins.get(z.construction).is_some_and(|s| s.kind == kind));
    if made(Kind::Covering) {
        say.push("coverings are cut panel by panel, turned over on every side; a sleeve or a seam of your own is not counted".to_owned());
    }
    if design.controls.iter().any(|c| c.wing_wall.is_none() || c.control_wall.is_none()) {
        say.push("a control names no wall on one side of its hinge or on both (`wing_wall`, `control_wall`): the parts list has none, so none is cut".to_owned());
    }
    for words in say {
        bench.remark(words);
    }
}
