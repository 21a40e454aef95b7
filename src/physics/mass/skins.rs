//! Skins, patches, covering fastening: areas times areal mass.

use std::borrow::Cow;

use crate::physics::design::{Design, Strip};
use crate::physics::laminate::construction::{Kind, Skin};
use crate::physics::laminate::ply;
use crate::physics::mass::tally::{Heading, List};
use crate::physics::wing::layout::Layout;

/// Zones of skin.
pub fn zones(list: &mut List, layout: &Layout, skins: &[Skin]) {
    for z in &layout.zones {
        let Some(s) = skins.get(z.construction) else { continue };
        let Some(bay) = layout.bays.get(z.bay) else { continue };
        let kg = 2.0 * z.area_m2 * s.mass.total();
        let m = &bay.mid;
        list.add(Heading::Skins, z.construction, Cow::Borrowed(z.strip.label()), kg)
            .sd(2.0 * z.area_m2 * s.mass_sd_kg_m2)
            .sampled(s.learnt.as_ref().is_some_and(|l| l.weighed))
            .at(m.x_le_m + m.chord_m * f64::midpoint(z.chord_from, z.chord_to), m.y_m)
            .zone(z.strip, z.bay);
    }
}

/// Fastening of coverings along ribs and along the rigid edge ahead of them.
pub fn fastening(list: &mut List, design: &Design, layout: &Layout, skins: &[Skin]) {
    for z in &layout.zones {
        let Some(u) = skins.get(z.construction).and_then(|s| s.covering) else { continue };
        let (Some(f), Some(bay)) = (design.library.fastenings.get(u.fastening), layout.bays.get(z.bay)) else {
            continue;
        };
        let length = z.arc_m + 2.0 * bay.length_m;
        list.add(
            Heading::CoveringFastening,
            2000 + u.fastening,
            Cow::Borrowed(z.strip.label()),
            2.0 * length * f.mass_kg_m,
        )
        .spread(0.2)
        .at(bay.mid.x_le_m + bay.mid.chord_m * f64::midpoint(z.chord_from, z.chord_to), bay.mid.y_m)
        .zone(z.strip, z.bay);
    }
}

/// Patches: extra plies, and the core they change.
pub fn patches(list: &mut List, design: &Design, layout: &Layout, skins: &[Skin]) {
    let lib = &design.library;
    for p in &design.patches {
        let mut kg = 0.0;
        let (mut x, mut y, mut weight) = (0.0, 0.0, 0.0);
        for z in layout.zones.iter().filter(|z| z.strip.is_upper() == p.upper) {
            let Some(bay) = layout.bays.get(z.bay) else { continue };
            let share = overlap(bay.inner.eta, bay.outer.eta, p.from_eta, p.to_eta)
                * overlap(z.chord_from, z.chord_to, p.chord_from, p.chord_to);
            if share <= 0.0 {
                continue;
            }
            let area = z.area_m2 * share;
            let mut areal = 0.0;
            for q in &p.extra_plies {
                let (Some(cloth), Some(process), Some(resin)) =
                    (lib.fabrics.get(q.fabric), lib.processes.get(q.process), lib.resin())
                else {
                    continue;
                };
                let Some(fibre) = lib.fibres.get(cloth.fibre) else { continue };
                let c = ply::cure(cloth, fibre, resin, process, 1.0);
                areal += c.fibre_kg_m2 + c.resin_kg_m2;
            }
            if let (Some(new), Some(s)) = (p.core.and_then(|f| lib.foams.get(f)), skins.get(z.construction)) {
                let old = s.foam.and_then(|f| lib.foams.get(f)).map_or(0.0, |f| f.density_kg_m3);
                areal += s.core_thickness_m * (new.density_kg_m3 - old);
            }
            kg += 2.0 * area * areal;
            x += area * (bay.mid.x_le_m + bay.mid.chord_m * f64::midpoint(p.chord_from, p.chord_to));
            y += area * bay.mid.y_m;
            weight += area;
        }
        if weight > 0.0 {
            list.add(Heading::Patches, 3000, Cow::Owned(p.name.clone()), kg)
                .spread(0.15)
                .at(x / weight, y / weight)
                .spanning();
        }
    }
}

/// Share of a..b that lies in c..d.
fn overlap(a: f64, b: f64, c: f64, d: f64) -> f64 {
    if b > a { ((b.min(d) - a.max(c)) / (b - a)).max(0.0) } else { 0.0 }
}

/// Is a zone rigid?
pub fn rigid(skins: &[Skin], construction: usize) -> bool {
    skins.get(construction).is_some_and(|s| !matches!(s.kind, Kind::Covering | Kind::Open))
}

/// Construction of a strip in a bay.
pub fn construction_of(layout: &Layout, strip: Strip, bay: usize) -> Option<usize> {
    layout.zone(strip, bay).map(|z| z.construction)
}
