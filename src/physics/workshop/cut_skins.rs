//! Skins and patches as blanks: a strip between two joints, or as far as one construction reaches, is one panel.

use crate::physics::design::{Design, Strip};
use crate::physics::laminate::construction::{Construction, Ply, Skin};
use crate::physics::mass::tally::Heading;
use crate::physics::mass::weighed::{Piece, part_of};
use crate::physics::wing::layout::{self, RibRole, Station, Zone};
use crate::physics::workshop::cuts::{Bench, Like, Other, Panel, Stuff, Use, bays_words, skin_of};
use crate::physics::workshop::outline::{Cutting, Outline};

/// Zones of one strip that are made in one panel, root to tip.
fn panels(bench: &Bench, strip: Strip) -> Vec<Vec<Zone>> {
    let layout = &bench.e.layout;
    let mut out: Vec<Vec<Zone>> = Vec::new();
    for z in layout.zones.iter().filter(|z| z.strip == strip) {
        let parted = layout.bays.get(z.bay).is_some_and(|b| b.inner_rib == RibRole::Joint);
        let goes_on = out.last().and_then(|p| p.last()).is_some_and(|l| {
            l.bay + 1 == z.bay
                && l.construction == z.construction
                && (strip.is_nose() || (l.chord_to - z.chord_to).abs() < 1e-9)
        });
        match out.last_mut() {
            Some(p) if goes_on && !parted => p.push(*z),
            _ => out.push(vec![*z]),
        }
    }
    out
}

/// Middle of a strip at a station, m aft of the root leading edge.
fn middle_m(s: &Station, z: &Zone) -> f64 {
    let (from, to) = if z.strip.is_nose() {
        (0.0, s.spar_frac)
    } else if matches!(z.strip, Strip::AftUpper | Strip::AftLower) {
        (s.spar_frac, z.chord_to)
    } else {
        (z.chord_from, z.chord_to)
    };
    s.x_le_m + s.chord_m * f64::midpoint(from, to)
}

/// The flat shape of a panel of one half: arcs at every rib and between, along the dihedral, its middle line swept.
fn outline(bench: &Bench, zones: &[Zone]) -> Outline {
    let design = bench.design;
    let longer = 1.0 + design.planform.dihedral_rad.powi(2) / 2.0;
    let (mut at, mut s_m): (Vec<(f64, f64)>, f64) = (Vec::new(), 0.0);
    let mut ends: Option<((f64, f64), (f64, f64))> = None;
    for z in zones {
        let Some(b) = bench.e.layout.bays.get(z.bay) else { continue };
        let arc = |s: &Station| layout::strip_arc(s, z.strip, z.chord_from, z.chord_to, design.hinge_frac);
        let length_m = b.length_m * longer;
        if at.is_empty() {
            at.push((s_m, arc(&b.inner)));
        }
        at.push((s_m + 0.5 * length_m, arc(&b.mid)));
        at.push((s_m + length_m, arc(&b.outer)));
        s_m += length_m;
        let place = |s: &Station| (s.y_m, middle_m(s, z));
        let outer = place(&b.outer);
        ends = Some((ends.map_or_else(|| place(&b.inner), |e| e.0), outer));
    }
    let slope = ends.map_or(0.0, |(a, b)| (b.1 - a.1) / (b.0 - a.0).max(1e-9));
    Outline::swept(at, slope)
}

/// Skins of all strips.
pub(super) fn skins(bench: &mut Bench) {
    for strip in Strip::ALL {
        for zones in panels(bench, strip) {
            let (Some(first), Some(last)) = (zones.first(), zones.last()) else { continue };
            let name = format!("{}{}", strip.label(), bays_words(bench.e, first.bay, last.bay));
            skin(bench, strip, &zones, &name);
        }
    }
}

fn skin(bench: &mut Bench, strip: Strip, zones: &[Zone], name: &str) {
    let (Some(first), Some(last)) = (zones.first(), zones.last()) else { return };
    let design = bench.design;
    let e = bench.e;
    let (Some(skin), Some(made)) = (skin_of(e, first.construction), design.constructions.get(first.construction))
    else {
        return;
    };
    let lap_m = design.seams.splice_lap_m;
    let at = |bay: Option<usize>| e.layout.splices.iter().find(|p| p.strip == strip && Some(p.bay) == bay);
    let (inner, outer) = (at(first.bay.checked_sub(1)), at(Some(last.bay)));
    let has_faces = !made.outer.is_empty() || !made.inner.is_empty();
    let laps = |s: Option<&layout::Splice>| s.filter(|_| has_faces).map_or(0.0, |_| lap_m);
    let lap_m2 = lap_m * [inner, outer].into_iter().flatten().map(|s| s.length_m).sum::<f64>();
    let flat = outline(bench, zones);
    let lay_up = has_faces.then(|| bench.lay_up(&format!("skin {name}"), 2, false));
    let part = part_of(Heading::Skins, Some(strip), strip.label());
    let panel = Panel {
        part: &part,
        name,
        lay_up,
        outline: &flat,
        lapped: &flat.longer(laps(inner), laps(outer)),
        net_m2: zones.iter().map(|z| z.area_m2).sum(),
        count: 2,
        faces: ["outer", "inner"],
        side_m: design.stock.trim_m,
        lap_m2: if has_faces { lap_m2 } else { 0.0 },
    };
    stack(bench, &panel, made, skin);
    let part = part_of(Heading::Splices, Some(strip), "splice");
    let plies = bench.plies_of(made);
    rest_of_resin(bench, (&part, lay_up), 2.0 * panel.lap_m2 * (skin.mass.resin - plies.0), plies.1);
}

/// Resin of a construction that no ply of it holds.
fn rest_of_resin(bench: &mut Bench, (part, lay_up): (&Piece, Option<usize>), kg: f64, resin_waste: f64) {
    if kg.abs() > 1e-9 {
        let new = Use { part: part.clone(), what: Other::SurfaceResin, kg, metres: 0.0, lay_up, resin_waste };
        bench.take_by(new);
    }
}

impl Bench<'_> {
    /// Resin in the plies of a construction, kg/m2, and resin mixed over it.
    pub(super) fn plies_of(&self, made: &Construction) -> (f64, f64) {
        let all = made.outer.iter().chain(&made.inner);
        let (stays, mixed) =
            all.map(|p| self.resin(p, self.fibre_factor)).fold((0.0, 0.0), |a, r| (a.0 + r.0, a.1 + r.0 * r.1));
        (stays, if stays > 0.0 { mixed / stays } else { 1.0 })
    }
}

/// Plies that are alike, in words and how many; a face that is all of one ply is named without numbers.
fn alike(made: &Construction, faces: [&str; 2]) -> Vec<(Ply, String, u32)> {
    let mut out: Vec<(Ply, String, u32)> = Vec::new();
    let all = || made.outer.iter().chain(&made.inner);
    for (at, p) in all().enumerate() {
        if all().take(at).any(|q| q == p) {
            continue;
        }
        let mut words: Vec<String> = Vec::new();
        let mut count = 0;
        for (face, plies) in faces.iter().zip([&made.outer, &made.inner]) {
            let of: Vec<usize> = (0..plies.len()).filter(|i| plies.get(*i) == Some(p)).collect();
            count += of.len() as u32;
            if of.len() == plies.len() && !of.is_empty() {
                words.push((*face).to_owned());
            } else if !of.is_empty() {
                let numbers: Vec<String> = of.iter().map(|i| (i + 1).to_string()).collect();
                words.push(format!("{face} {}", numbers.join("+")));
            }
        }
        // Both faces of nothing but this ply need no two names.
        let whole = [&made.outer, &made.inner].iter().all(|f| !f.is_empty() && f.iter().all(|q| q == p));
        let name = if whole { "faces".to_owned() } else { words.join("+") };
        out.push((*p, name, count));
    }
    out
}

/// Cut everything a construction is made of over a panel; note the rest of its mass.
pub(super) fn stack(bench: &mut Bench, p: &Panel, made: &Construction, skin: &Skin) {
    for (ply, name, layers) in alike(made, p.faces) {
        bench.plies(p, (&name, layers), &ply, bench.fibre_factor);
    }
    let stock = bench.design.stock.clone();
    let dry = |from, trim_m: f64, lap_m: f64| Cutting { from, angle_rad: 0.0, end_m: trim_m, side_m: trim_m, lap_m };
    if let Some(core) = made.core.filter(|_| skin.mass.core > 0.0) {
        let stuff = Stuff::Foam(core.foam);
        let like = Like::dry(stuff, core.thickness_m, skin.mass.core);
        bench.cut((p, p.outline), "core", 1, &like, &dry(bench.sheet(stuff), stock.core_trim_m, 0.0));
    }
    if let Some((wood, thickness_m)) = made.wood.filter(|_| skin.mass.wood > 0.0) {
        let stuff = Stuff::Wood(wood);
        let like = Like::dry(stuff, thickness_m, skin.mass.wood);
        bench.cut(
            (p, p.outline),
            "wood",
            1,
            &like,
            &dry(bench.sheet(stuff), stock.core_trim_m, stock.scarf_ratio * thickness_m),
        );
    }
    if let Some(u) = skin.covering.filter(|_| skin.mass.covering > 0.0) {
        let stuff = Stuff::Covering(u.covering);
        let like = Like::dry(stuff, 0.0, skin.mass.covering);
        bench.cut((p, p.outline), "covering", 1, &like, &dry(bench.sheet(stuff), stock.turn_m, stock.join_lap_m));
    }
    let (stays, resin_waste) = bench.plies_of(made);
    let n = f64::from(p.count) * p.net_m2;
    rest_of_resin(bench, (p.part, p.lay_up), n * (skin.mass.resin - stays), resin_waste);
    let pickup = Use {
        part: p.part.clone(),
        what: Other::PickUp,
        kg: n * skin.mass.pickup,
        metres: 0.0,
        lay_up: p.lay_up,
        resin_waste,
    };
    bench.take_by(pickup);
    bench.take(p.part, Other::Fairing, n * skin.mass.fairing);
    bench.take(p.part, Other::Finish, n * skin.mass.finish);
}

/// How much of a patch lies on a zone: shares of its span and of its chord.
fn shares(bench: &Bench, patch: usize, z: &Zone) -> Option<(f64, f64)> {
    let (p, b) = (bench.design.patches.get(patch)?, bench.e.layout.bays.get(z.bay)?);
    if z.strip.is_upper() != p.upper {
        return None;
    }
    let share = |a: f64, b: f64, c: f64, d: f64| if b > a { ((b.min(d) - a.max(c)) / (b - a)).max(0.0) } else { 0.0 };
    let along = share(b.inner.eta, b.outer.eta, p.from_eta, p.to_eta);
    let across = share(z.chord_from, z.chord_to, p.chord_from, p.chord_to);
    (along * across > 0.0).then_some((along, across))
}

/// Patches: their plies, and the core they change.
pub(super) fn patches(bench: &mut Bench) {
    let (design, e) = (bench.design, bench.e);
    for (i, p) in design.patches.iter().enumerate() {
        let on: Vec<(Zone, f64, f64)> = e
            .layout
            .zones
            .iter()
            .filter_map(|z| shares(bench, i, z).map(|(along, across)| (*z, along, across)))
            .collect();
        let part = part_of(Heading::Patches, None, &p.name);
        let flat = patch_outline(bench, &on);
        let net_m2: f64 = on.iter().map(|(z, along, across)| z.area_m2 * (along * across)).sum();
        let lay_up = (!p.extra_plies.is_empty()).then(|| bench.lay_up(&format!("patch {}", p.name), 2, false));
        let panel = Panel {
            part: &part,
            name: &format!("patch {}", p.name),
            lay_up,
            outline: &flat,
            lapped: &flat,
            net_m2,
            count: 2,
            faces: ["extra", ""],
            side_m: design.stock.trim_m,
            lap_m2: 0.0,
        };
        if net_m2 > 0.0 {
            let made = Construction { outer: p.extra_plies.clone(), ..Construction::default() };
            for (ply, name, layers) in alike(&made, panel.faces) {
                bench.plies(&panel, (&name, layers), &ply, 1.0);
            }
            inserts(bench, &panel, p.core, &on);
        }
    }
}

/// The patch as a strip along the span, as wide in each bay as it is there.
fn patch_outline(bench: &Bench, on: &[(Zone, f64, f64)]) -> Outline {
    let (mut at, mut s_m): (Vec<(f64, f64)>, f64) = (Vec::new(), 0.0);
    let widest = on.iter().map(|o| o.0.bay).max();
    for bay in 0..=widest.unwrap_or(0) {
        let Some(b) = bench.e.layout.bays.get(bay) else { continue };
        let here = || on.iter().filter(|o| o.0.bay == bay);
        // At the inner rib of the bay an arc is longer than in its middle.
        let wider = b.inner.chord_m.max(b.outer.chord_m) / b.mid.chord_m.max(1e-9);
        let width_m = wider * here().map(|(z, _, across)| z.arc_m * across).sum::<f64>();
        let length_m = b.length_m * here().map(|o| o.1).fold(0.0, f64::max);
        if length_m > 0.0 {
            at.push((s_m, width_m));
            at.push((s_m + length_m, width_m));
            s_m += length_m;
        }
    }
    Outline { at, slope: 0.0 }
}

/// Cores of another foam under a patch, by the depth of the core they replace.
fn inserts(bench: &mut Bench, panel: &Panel, foam: Option<usize>, on: &[(Zone, f64, f64)]) {
    let lib = &bench.design.library;
    let Some((foam, new)) = foam.and_then(|i| lib.foams.get(i).map(|f| (i, f.density_kg_m3))) else { return };
    let mut depths: Vec<f64> = Vec::new();
    let mut replaced_kg = 0.0;
    for (z, along, across) in on {
        let Some(s) = skin_of(bench.e, z.construction).filter(|s| s.core_thickness_m > 0.0) else { continue };
        if !depths.contains(&s.core_thickness_m) {
            depths.push(s.core_thickness_m);
        }
        let old = s.foam.and_then(|f| lib.foams.get(f)).map_or(0.0, |f| f.density_kg_m3);
        replaced_kg += 2.0 * z.area_m2 * (along * across) * s.core_thickness_m * old;
    }
    for depth_m in depths {
        let is_of = |z: &Zone| skin_of(bench.e, z.construction).is_some_and(|s| s.core_thickness_m == depth_m);
        let of: Vec<(Zone, f64, f64)> = on.iter().filter(|o| is_of(&o.0)).copied().collect();
        let flat = patch_outline(bench, &of);
        let net_m2 = of.iter().map(|(z, along, across)| z.area_m2 * (along * across)).sum();
        let part = Panel { outline: &flat, lapped: &flat, net_m2, ..*panel };
        let stuff = Stuff::Foam(foam);
        let trim_m = bench.design.stock.core_trim_m;
        let cutting = Cutting { from: bench.sheet(stuff), angle_rad: 0.0, end_m: trim_m, side_m: trim_m, lap_m: 0.0 };
        bench.cut((&part, &flat), "core", 1, &Like::dry(stuff, depth_m, depth_m * new), &cutting);
    }
    bench.take(panel.part, Other::Replaced, -replaced_kg);
}

/// Whether the halves are parted at the root.
pub(super) fn parted_at_root(design: &Design) -> bool {
    design.joints.iter().any(|j| j.eta < 1e-6)
}
