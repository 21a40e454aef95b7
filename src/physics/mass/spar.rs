//! Caps, backing, web and posts.

use std::borrow::Cow;

use crate::physics::assumptions::Assumptions;
use crate::physics::design::{BackingMaterial, Cap, Design};
use crate::physics::laminate::cap::{self, CapLayer};
use crate::physics::laminate::construction::Skin;
use crate::physics::laminate::ply;
use crate::physics::mass::laps::{self, Laps};
use crate::physics::mass::tally::{Heading, List};
use crate::physics::strength::sizing::Sizing;
use crate::physics::wing::layout::{Layout, Station};

/// Cap layers of both caps, worked out once.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct CapLayers {
    pub upper: CapLayer,
    pub lower: CapLayer,
}

/// The layers of the design's caps.
pub fn cap_layers(design: &Design, assumed: &Assumptions) -> CapLayers {
    CapLayers {
        upper: cap::layer(&design.spar.upper.material, &design.library, assumed),
        lower: cap::layer(&design.spar.lower.material, &design.library, assumed),
    }
}

/// Width of a cap at eta, m.
/// Unchecked: no outside check runs it by itself.
pub fn cap_width_m(cap: &Cap, eta: f64) -> f64 {
    cap.width_root_m + eta * (cap.width_tip_m - cap.width_root_m)
}

/// Density of a backing or post, kg/m3.
/// Unchecked: no outside check runs it by itself.
pub fn density(design: &Design, m: BackingMaterial) -> f64 {
    match m {
        BackingMaterial::Foam(i) => design.library.foams.get(i).map_or(0.0, |f| f.density_kg_m3),
        BackingMaterial::Wood(i) => design.library.woods.get(i).map_or(0.0, |w| w.density_kg_m3),
    }
}

/// Price of a backing or post, a cubic metre.
/// Unchecked: no outside check runs it by itself.
pub fn price_per_m3(design: &Design, m: BackingMaterial) -> f64 {
    match m {
        BackingMaterial::Foam(i) => design.library.foams.get(i).map_or(0.0, |f| f.price_per_m3),
        BackingMaterial::Wood(i) => design.library.woods.get(i).map_or(0.0, |w| w.price_per_m3),
    }
}

/// Clear height of the web between cap centres less the caps, m.
/// Unchecked: no outside check runs it by itself.
pub fn web_height_m(s: &Station, upper_m: f64, lower_m: f64) -> f64 {
    (s.spar_depth_m - upper_m - lower_m).max(0.005)
}

/// All of the spar, by its own length: a swept spar is longer than the span.
pub(crate) fn spar(
    list: &mut List,
    design: &Design,
    (layout, skins): (&Layout, &[Skin]),
    sizing: &Sizing,
    (layers, laps): (&CapLayers, &Laps),
) {
    for (i, bay) in layout.bays.iter().enumerate() {
        let m = &bay.mid;
        let length_m = bay.length_m / m.spar_cos();
        let x = m.x_le_m + m.chord_m * m.spar_frac;
        let n = |v: &[u32]| f64::from(v.get(i).copied().unwrap_or(0));
        let (nu, nl) = (n(&sizing.upper), n(&sizing.lower));
        for (cap, layer, count, name) in
            [(&design.spar.upper, &layers.upper, nu, "upper cap"), (&design.spar.lower, &layers.lower, nl, "lower cap")]
        {
            let area = cap_width_m(cap, m.eta) * length_m;
            list.add(Heading::Caps, 1000, Cow::Borrowed(name), 2.0 * area * layer.areal_kg_m2 * count)
                .spread(0.05)
                .at(x, m.y_m)
                .bay(i);
            if let Some(b) = &cap.backing {
                let kg = 2.0 * b.width_m * b.depth_m * length_m * density(design, b.material);
                list.add(Heading::Backing, 1001, Cow::Borrowed("cap backing"), kg).spread(0.08).at(x, m.y_m).bay(i);
            }
        }
        let height = web_height_m(m, nu * layers.upper.thickness_m, nl * layers.lower.thickness_m);
        web(list, design, skins, i, (m.eta, x, m.y_m), height * length_m, n(&sizing.web));
        let lapped_kg = laps.of_web_kg((design, skins), m.eta, (length_m, height), n(&sizing.web));
        if lapped_kg > 0.0 {
            let name = Cow::Borrowed(laps::NAME);
            list.add(Heading::Web, laps::FAMILY, name, lapped_kg).spread(laps::SPREAD).at(x, m.y_m).bay(i);
        }
        for p in design.spar.posts.iter().filter(|p| m.eta >= p.from_eta && m.eta <= p.to_eta) {
            let count = length_m / p.pitch_m;
            let kg = 2.0 * count * p.width_m * p.depth_m * height * density(design, p.material);
            list.add(Heading::Posts, 1003, Cow::Borrowed("posts"), kg).spread(0.08).at(x, m.y_m).bay(i);
        }
    }
}

/// A band of the web as it is laid, plies added by sizing with it: what it is made of, share of the height, and what a square metre
/// weighs and costs.
pub(crate) struct Band<'a> {
    pub(crate) construction: usize,
    pub(crate) skin: &'a Skin,
    pub(crate) share: f64,
    pub(crate) areal_kg_m2: f64,
    pub(crate) price_per_m2: f64,
}

/// The bands of the web at a place, with so many plies a face added.
pub(crate) fn bands<'a>(design: &'a Design, skins: &'a [Skin], eta: f64, extra: f64) -> impl Iterator<Item = Band<'a>> {
    let run = design.spar.web_run(eta).and_then(|i| design.spar.web.get(i));
    run.into_iter().flat_map(|run| &run.bands).filter_map(move |band| {
        let (skin, c) = (skins.get(band.construction)?, design.constructions.get(band.construction)?);
        let (mut areal_kg_m2, mut price_per_m2) = (skin.mass.total(), skin.cost_per_m2);
        let lib = &design.library;
        for face in [&c.outer, &c.inner] {
            let Some(p) = face.first().filter(|_| extra > 0.0) else { continue };
            if let (Some(cloth), Some(process), Some(resin)) =
                (lib.fabrics.get(p.fabric), lib.processes.get(p.process), lib.resin())
                && let Some(fibre) = lib.fibres.get(cloth.fibre)
            {
                let cured = ply::cure(cloth, fibre, resin, process, 1.0);
                areal_kg_m2 += extra * (cured.fibre_kg_m2 + cured.resin_kg_m2);
                price_per_m2 += extra * ply::price_per_m2(cloth, process, resin, &cured);
            }
        }
        let (construction, share) = (band.construction, band.height_frac);
        Some(Band { construction, skin, share, areal_kg_m2, price_per_m2 })
    })
}

fn web(list: &mut List, design: &Design, skins: &[Skin], bay: usize, at: (f64, f64, f64), area: f64, extra: f64) {
    for band in bands(design, skins, at.0, extra) {
        let area = 2.0 * area * band.share;
        list.add(Heading::Web, band.construction, Cow::Borrowed("shear web"), area * band.areal_kg_m2)
            .sd(area * band.skin.mass_sd_kg_m2)
            .at(at.1, at.2)
            .bay(bay);
    }
}
