//! Spar caps layer by layer, what stands behind them, the web with its extra plies, and posts, as blanks along the spar.

use std::fmt::Write as _;

use crate::physics::assumptions::Assumptions;
use crate::physics::design::{Backing, BackingMaterial, Cap, CapMaterial, WebBand};
use crate::physics::mass::spar::{cap_layers, cap_width_m, density, web_height_m};
use crate::physics::mass::tally::Heading;
use crate::physics::mass::weighed::part_of;
use crate::physics::wing::layout::{Bay, RibRole, Station};
use crate::physics::workshop::cut_skins::{parted_at_root, stack};
use crate::physics::workshop::cuts::{Bench, Like, Panel, Stuff, bays_words, skin_of};
use crate::physics::workshop::outline::{Cutting, Outline, Sheet};

/// All of the spar.
pub(super) fn spar(bench: &mut Bench) {
    let (upper, lower) = (bench.design.spar.upper.clone(), bench.design.spar.lower.clone());
    for (is_upper, cap) in [(true, &upper), (false, &lower)] {
        for bays in pieces(bench) {
            layers(bench, (is_upper, cap), &bays);
            if let Some(b) = &cap.backing {
                backing(bench, (is_upper, b), &bays);
            }
        }
    }
    webs(bench);
    posts(bench);
}

/// Bays of each piece of a half between joints.
fn pieces(bench: &Bench) -> Vec<Vec<usize>> {
    let mut out: Vec<Vec<usize>> = Vec::new();
    for (i, b) in bench.e.layout.bays.iter().enumerate() {
        match out.last_mut() {
            Some(p) if b.inner_rib != RibRole::Joint => p.push(i),
            _ => out.push(vec![i]),
        }
    }
    out
}

/// Runs of neighbouring bays of which something holds.
fn runs(bays: &[usize], holds: impl Fn(usize) -> bool) -> Vec<Vec<usize>> {
    let mut out: Vec<Vec<usize>> = Vec::new();
    for i in bays.iter().copied().filter(|i| holds(*i)) {
        match out.last_mut() {
            Some(r) if r.last().is_some_and(|l| l + 1 == i) => r.push(i),
            _ => out.push(vec![i]),
        }
    }
    out
}

/// Some bays in words.
fn where_is(bench: &Bench, bays: &[usize]) -> String {
    bays.first().zip(bays.last()).map_or(String::new(), |(f, l)| bays_words(bench.e, *f, *l))
}

/// Where a run lies in its piece, in words: nothing where it begins with it, for its length says the rest.
fn begins(bench: &Bench, piece: &[usize], run: &[usize]) -> String {
    if run.first() == piece.first() { String::new() } else { where_is(bench, run) }
}

fn length_m(b: &Bay) -> f64 {
    b.length_m / b.mid.spar_cos()
}

/// The strip along the spar over some bays, as wide at their edges and middles as `width` says, and its area, m2.
fn along(bench: &Bench, bays: &[usize], width: impl Fn(usize, &Station) -> f64) -> (Outline, f64) {
    let (mut at, mut s_m, mut area_m2): (Vec<(f64, f64)>, f64, f64) = (Vec::new(), 0.0, 0.0);
    for i in bays {
        let Some(b) = bench.e.layout.bays.get(*i) else { continue };
        let length_m = length_m(b);
        for (share, station) in [(0.0, &b.inner), (0.5, &b.mid), (1.0, &b.outer)] {
            at.push((s_m + share * length_m, width(*i, station)));
        }
        area_m2 += length_m * width(*i, &b.mid);
        s_m += length_m;
    }
    (Outline { at, slope: 0.0 }, area_m2)
}

/// What runs through the middle of a wing whose halves are not parted there: one of twice the length.
fn through(bench: &mut Bench, bays: &[usize], (outline, net_m2): (Outline, f64), what: &str) -> (Outline, f64, u32) {
    if bays.first() != Some(&0) || parted_at_root(bench.design) {
        return (outline, net_m2, 2);
    }
    bench.remark(format!("the halves are not parted at the root: {what} run through it in one length"));
    (outline.through(), 2.0 * net_m2, 1)
}

/// Layers of a cap: each as far as the sizing laid it, at least.
fn layers(bench: &mut Bench, (is_upper, cap): (bool, &Cap), bays: &[usize]) {
    let e = bench.e;
    let side = if is_upper { "upper cap" } else { "lower cap" };
    let counts = if is_upper { &e.sizing.upper } else { &e.sizing.lower };
    let count = |i: usize| counts.get(i).copied().unwrap_or(0);
    let most = bays.iter().map(|i| count(*i)).max().unwrap_or(0);
    let part = part_of(Heading::Caps, None, side);
    let name = format!("{side}{}", where_is(bench, bays));
    let mut layer = 1;
    while layer <= most {
        let runs_here = runs(bays, |i| count(i) >= layer);
        let mut last = layer;
        while last < most && runs(bays, |i| count(i) > last) == runs_here {
            last += 1;
        }
        for run in runs_here {
            let flat = along(bench, &run, |_, s| cap_width_m(cap, s.eta));
            let (flat, net_m2, times) = through(bench, &run, flat, "cap layers");
            let lay_up = bench.lay_up(
                &name,
                if parted_at_root(bench.design) || bays.first() != Some(&0) { 2 } else { 1 },
                false,
            );
            let numbers = if last > layer { format!("layers {layer}-{last}") } else { format!("layer {layer}") };
            let numbers = numbers + &begins(bench, bays, &run);
            let wet = matches!(cap.material, CapMaterial::Plies(_));
            let panel = Panel {
                part: &part,
                name: &name,
                lay_up: wet.then_some(lay_up),
                outline: &flat,
                lapped: &flat,
                net_m2,
                count: times,
                faces: ["", ""],
                side_m: 0.0,
                lap_m2: 0.0,
            };
            cap_cut(bench, &panel, (is_upper, cap), &numbers, last - layer + 1);
        }
        layer = last + 1;
    }
}

fn cap_cut(bench: &mut Bench, p: &Panel, (is_upper, cap): (bool, &Cap), numbers: &str, n: u32) {
    let layers = cap_layers(bench.design, &Assumptions::default());
    let areal = if is_upper { layers.upper.areal_kg_m2 } else { layers.lower.areal_kg_m2 };
    let stock = &bench.design.stock;
    let (end_m, lap_m, scarf) = (stock.trim_m, stock.join_lap_m, stock.scarf_ratio);
    match &cap.material {
        CapMaterial::Plies(ply) => {
            let (resin_kg_m2, resin_waste) = bench.resin(ply, bench.fibre_factor);
            let stuff = Stuff::Cloth(ply.fabric);
            let like = Like { stuff, thickness_m: 0.0, areal: areal - resin_kg_m2, resin_kg_m2, resin_waste };
            let cutting = Cutting { from: bench.sheet(stuff), angle_rad: ply.angle_rad, end_m, side_m: 0.0, lap_m };
            bench.cut((p, p.outline), numbers, n, &like, &cutting);
        }
        CapMaterial::Wood { wood, layer_m } => {
            let stuff = Stuff::Wood(*wood);
            let cutting =
                Cutting { from: bench.sheet(stuff), angle_rad: 0.0, end_m, side_m: 0.0, lap_m: scarf * layer_m };
            bench.cut((p, p.outline), numbers, n, &Like::dry(stuff, *layer_m, areal), &cutting);
        }
        CapMaterial::Pultruded { layer_m, .. } => {
            let cutting = Cutting { from: Sheet::Any, angle_rad: 0.0, end_m, side_m: 0.0, lap_m: 0.0 };
            bench.cut((p, p.outline), numbers, n, &Like::dry(Stuff::Strip(is_upper), *layer_m, areal), &cutting);
        }
    }
}

const fn stuff_of(m: BackingMaterial) -> Stuff {
    match m {
        BackingMaterial::Foam(i) => Stuff::Foam(i),
        BackingMaterial::Wood(i) => Stuff::Wood(i),
    }
}

fn backing(bench: &mut Bench, (is_upper, b): (bool, &Backing), bays: &[usize]) {
    let side = if is_upper { "upper" } else { "lower" };
    let part = part_of(Heading::Backing, None, "cap backing");
    let name = format!("{side} cap backing{}", where_is(bench, bays));
    let flat = along(bench, bays, |_, _| b.width_m);
    let (flat, net_m2, count) = through(bench, bays, flat, "cap backings");
    let panel = Panel {
        part: &part,
        name: &name,
        lay_up: None,
        outline: &flat,
        lapped: &flat,
        net_m2,
        count,
        faces: ["", ""],
        side_m: 0.0,
        lap_m2: 0.0,
    };
    dry(bench, &panel, b.material, b.depth_m);
}

/// Cut a board or a block.
fn dry(bench: &mut Bench, p: &Panel, material: BackingMaterial, depth_m: f64) {
    let stuff = stuff_of(material);
    let stock = &bench.design.stock;
    let lap_m = if matches!(stuff, Stuff::Wood(_)) { stock.scarf_ratio * depth_m } else { 0.0 };
    let trim_m = stock.core_trim_m;
    let cutting = Cutting { from: bench.sheet(stuff), angle_rad: 0.0, end_m: trim_m, side_m: trim_m, lap_m };
    let like = Like::dry(stuff, depth_m, depth_m * density(bench.design, material));
    bench.cut((p, p.outline), "", 1, &like, &cutting);
}

/// Clear height of the web at a station of a bay, m.
pub(super) fn height_m(bench: &Bench, bay: usize, s: &Station) -> f64 {
    let layers = cap_layers(bench.design, &Assumptions::default());
    let n = |v: &[u32]| f64::from(v.get(bay).copied().unwrap_or(0));
    let sizing = &bench.e.sizing;
    web_height_m(s, n(&sizing.upper) * layers.upper.thickness_m, n(&sizing.lower) * layers.lower.thickness_m)
}

fn webs(bench: &mut Bench) {
    let (design, all, layout) = (bench.design, pieces(bench), &bench.e.layout);
    let run_in = |bay: usize| design.spar.web_run(layout.bays.get(bay)?.mid.eta);
    for bays in &all {
        for (r, run) in design.spar.web.iter().enumerate() {
            let here = runs(bays, |bay| run_in(bay) == Some(r));
            for bays in &here {
                for (b, band) in run.bands.iter().enumerate() {
                    let mut name = format!("web{}", where_is(bench, bays));
                    if run.bands.len() > 1 {
                        let _ = write!(name, " band {}", b + 1);
                    }
                    web(bench, band, bays, &name);
                }
            }
        }
    }
}

fn web(bench: &mut Bench, band: &WebBand, bays: &[usize], name: &str) {
    let (design, e) = (bench.design, bench.e);
    let (Some(skin), Some(made)) = (skin_of(e, band.construction), design.constructions.get(band.construction)) else {
        return;
    };
    let part = part_of(Heading::Web, None, "shear web");
    let lay_up = (!made.outer.is_empty() || !made.inner.is_empty()).then(|| bench.lay_up(name, 2, false));
    let cut = |bench: &Bench, bays: &[usize]| {
        let (flat, _) = along(bench, bays, |bay, s| height_m(bench, bay, s) * band.height_frac);
        let net_m2 = along(bench, bays, |bay, s| height_m(bench, bay, s)).1 * band.height_frac;
        (flat, net_m2)
    };
    let (flat, net_m2) = cut(bench, bays);
    let whole = Panel {
        part: &part,
        name,
        lay_up,
        outline: &flat,
        lapped: &flat,
        net_m2,
        count: 2,
        faces: ["front", "rear"],
        side_m: design.stock.trim_m,
        lap_m2: 0.0,
    };
    stack(bench, &whole, made, skin);
    let extra = |i: usize| e.sizing.web.get(i).copied().unwrap_or(0);
    for k in 1..=bays.iter().map(|i| extra(*i)).max().unwrap_or(0) {
        for run in runs(bays, |i| extra(i) >= k) {
            let (flat, net_m2) = cut(bench, &run);
            let panel = Panel { outline: &flat, lapped: &flat, net_m2, ..whole };
            for (face, plies) in [("front", &made.outer), ("rear", &made.inner)] {
                if let Some(ply) = plies.first() {
                    let at = begins(bench, bays, &run);
                    bench.plies(&panel, (&format!("{face}, extra {k}{at}"), 1), ply, 1.0);
                }
            }
        }
    }
}

/// Posts: whole ones, where the parts list counts them by the metre.
fn posts(bench: &mut Bench) {
    let (design, e) = (bench.design, bench.e);
    for (i, p) in design.spar.posts.iter().enumerate() {
        let bays: Vec<usize> = (0..e.layout.bays.len())
            .filter(|b| e.layout.bays.get(*b).is_some_and(|b| b.mid.eta >= p.from_eta && b.mid.eta <= p.to_eta))
            .collect();
        let (flat, height_by_m) = along(bench, &bays, |bay, s| height_m(bench, bay, s));
        let many = (flat.length_m() / p.pitch_m - 1e-9).ceil().max(0.0);
        if many < 1.0 {
            continue;
        }
        let count = 2 * many as u32;
        let tallest_m = flat.widest_m(0.0, flat.length_m());
        let of = if design.spar.posts.len() > 1 { format!(" {}", i + 1) } else { String::new() };
        let part = part_of(Heading::Posts, None, "posts");
        let one = Outline::rectangle(tallest_m, p.width_m);
        let panel = Panel {
            part: &part,
            name: &format!("posts{of}"),
            lay_up: None,
            outline: &one,
            lapped: &one,
            net_m2: height_by_m / p.pitch_m * p.width_m / many,
            count,
            faces: ["", ""],
            side_m: 0.0,
            lap_m2: 0.0,
        };
        dry(bench, &panel, p.material, p.depth_m);
        bench.remark(
            "posts are cut whole, each as tall as the tallest; the parts list counts them by the metre of spar"
                .to_owned(),
        );
    }
}
