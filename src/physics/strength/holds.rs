//! Holds: where hands lift the wing, the palm's pressure, a plug sheared out of the core, the skin bent between ribs.

use std::f64::consts::PI;

use crate::physics::assumptions::Assumptions;
use crate::physics::durability::care;
use crate::physics::durability::events::Exposure;
use crate::physics::durability::panel::moment_per_load;
use crate::physics::durability::press::PALM_M;
use crate::physics::laminate::construction::{Kind, Skin};
use crate::physics::material::Mark;
use crate::physics::strength::{Context, Input, Margin, Mode, Verdict, inputs, margin, skins};

pub const MODE: Mode = Mode {
    key: "holds",
    title: "holds and lift points",
    formula: "half the wing at the carrying factor on two palms, one hold taking one, against the least of crush pi r^2, shear 2 pi r d of the core, and on flat skins face strain under Roark's moment of a small load on a plate",
    source: "statics; Roark, rectangular plate, small central load (from memory, held against a double series); two palms of 30 mm: event catalogue",
    mark: Mark::Computed,
    valid: "holds named in the scenario, with the patches over them; bending left out where the skin is curved, for its arch carries; hands elsewhere are the durability page's",
    safe_side: "no spread of the palm's load through face and core; a square plate for the bay",
    knock_down: "least properties of the core, hot; 0.8 on mean strain",
    power: 1.0,
    margins: Some(margins),
};

/// Load a palm may bring, N: crush of the core under it, a plug of core sheared out, bending of the panel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stands {
    pub crush_n: f64,
    pub plug_n: f64,
    pub bending_n: f64,
}

/// What a core stands under a round palm, N: crush strength times area, and shear strength round its edge times depth.
/// **Source:** statics; plug shear, any text. **Valid for:** a stiff pad; **safe side:** the face carries nothing.
pub fn core_stands_n(crush_pa: f64, shear_pa: f64, radius_m: f64, depth_m: f64) -> (f64, f64) {
    (crush_pa * PI * radius_m * radius_m, shear_pa * 2.0 * PI * radius_m * depth_m)
}

/// Palms that lift half a wing together. **Source:** event catalogue, lifting on the palm.
const PALMS: f64 = 2.0;

fn stands(c: &Context, s: &Skin, hot: f64, flat_side_m: Option<f64>) -> Stands {
    let foam = s.foam.and_then(|f| c.design.library.foams.get(f));
    let (crush_n, plug_n) = foam.map_or((f64::INFINITY, f64::INFINITY), |f| {
        let depth = if s.lever_m > 0.0 { s.lever_m } else { s.core_thickness_m };
        core_stands_n(f.crush_min_pa * hot, f.shear_strength_min_pa * hot, PALM_M, depth)
    });
    let core_pa = foam.map_or(0.0, |f| f.inplane_modulus_pa * hot);
    let limit =
        |strain: f64, per_n: f64| if per_n > 0.0 && strain.is_finite() { strain / per_n } else { f64::INFINITY };
    let Some(side_m) = flat_side_m else { return Stands { crush_n, plug_n, bending_n: f64::INFINITY } };
    let per_n = moment_per_load(side_m, PALM_M, s.outer.nu);
    let bending_n = [true, false]
        .into_iter()
        .map(|along| {
            let (face, bare) = skins::Bending::new(s, side_m, along).strain_per_moment(core_pa);
            let strain = s.outer.strain_compression.min(s.outer.strain_tension);
            let foam_strain = foam.map_or(f64::INFINITY, |f| f.failure_strain);
            limit(strain, per_n * face).min(limit(foam_strain, per_n * bare))
        })
        .fold(f64::INFINITY, f64::min);
    Stands { crush_n, plug_n, bending_n }
}

fn margins(c: &Context, out: &mut Vec<Margin>) {
    let not_shown = |why: &'static str| {
        let mut m = margin(MODE.key, (None, None, None), (0.0, 0.0, "N"), inputs(&[]));
        m.verdict = Verdict::NotShown(why);
        m
    };
    if c.design.care.holds.is_empty() {
        out.push(not_shown("no hold is named under [care]: hands may come anywhere"));
        return;
    }
    let carried = c.loads.loads.iter().find(|l| c.loads.cases.get(l.case).is_some_and(|k| k.key == "carried_one"));
    let Some(carried) = carried else {
        out.push(not_shown("the case of the wing carried by one is off: no load for a hold"));
        return;
    };
    let limit = carried.shear_n.first().map_or(0.0, |v| v.abs()) / PALMS;
    for l in care::landings(c.design, c.layout, c.skins, &Assumptions::default()) {
        let (Exposure::Lift, Some(z)) = (l.exposure, c.layout.zones.get(l.zone)) else { continue };
        let bare = matches!(l.skin.kind, Kind::Covering | Kind::Open);
        let k = stands(c, &l.skin, c.core_share(z.strip), z.radius_m.is_infinite().then(|| z.length_m.min(z.arc_m)));
        let allowed = if bare { 0.0 } else { k.crush_n.min(k.plug_n).min(k.bending_n) };
        out.push(margin(
            MODE.key,
            skins::at(z, carried.case),
            (limit * c.ultimate(), allowed, "N"),
            inputs(&[
                Input { label: "load limit", value: limit, unit: "N" },
                Input { label: "palm radius", value: PALM_M, unit: "m" },
                Input { label: "crush stands", value: k.crush_n, unit: "N" },
                Input { label: "plug stands", value: k.plug_n, unit: "N" },
                Input { label: "bending stands", value: k.bending_n, unit: "N" },
                Input { label: "factor", value: c.ultimate(), unit: "" },
            ]),
        ));
    }
}
