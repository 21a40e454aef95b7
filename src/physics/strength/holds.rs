//! Holds: where hands lift the wing, the palm's pressure, a plug sheared out of the core, the skin bent between ribs.

use std::f64::consts::PI;

use crate::physics::assumptions::Assumptions;
use crate::physics::design::Design;
use crate::physics::durability::care;
use crate::physics::durability::events::Exposure;
use crate::physics::durability::press::PALM_M;
use crate::physics::laminate::construction::{Kind, Skin};
use crate::physics::material::Mark;
use crate::physics::strength::panel::{self, Panel};
use crate::physics::strength::{Context, Margin, Mode, Verdict, inputs, margin, skins};
use crate::physics::wing::layout::Zone;

pub const MODE: Mode = Mode {
    key: "holds",
    title: "holds and lift points",
    formula: "half the wing, with half of what stands at its centre and is fixed there, at the carrying factor on two palms, one hold taking one, against the least of crush pi r^2, shear 2 pi r d of the core, and face strain under a load on a square as large as the palm at the middle of the bay, plate and arch together",
    source: "statics; double series after Navier and Donnell, derived, held against Roark's Formulas, 7th ed., table 11.4, case 1b (read) and the pinched cylinder of Lindberg, Olson and Cowper 1969; two palms of 30 mm: event catalogue",
    mark: Mark::Computed,
    valid: "holds named in the scenario, with the patches over them, on bays wider than two palms (narrower: not shown); small deflections; hands elsewhere are the durability page's",
    safe_side: "no spread of the palm's load through face and core; palm at the middle of a simply supported bay",
    knock_down: "least properties of the core, hot; 0.8 on mean strain",
    power: 1.0,
    margins: Some(margins),
};

/// Why it is not shown without the one case it is judged under.
pub const NO_CASE: &str = "the case of the wing carried by two is off: no load for a hold";

/// Load a palm may bring, N: crush of the core under it, a plug of core sheared out, bending of the panel.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
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

/// Moments and membrane forces per newton under a load on the middle of a bay: along the span and along the chord, each N/N
/// per width and (N/m)/N.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Under {
    pub moment: (f64, f64),
    pub membrane_per_m: (f64, f64),
}

/// Double series of a simply supported orthotropic bay, flat or curved about the span, under an even load on a square of
/// side u at its middle: each wave takes `16/(a b pi^2 m n u^2/(a b)) sin sin` of it, plate and arch share it as K does.
///
/// **Derived** after Navier and Donnell, on the K of [`panel::mode_resistance`]; waves to `3 side/u`, 41 at the most, the rest
/// under 3 %. **Valid for:** plies that do not couple bending and twist, small deflections. **Safe side:** simply supported.
pub fn under_palm(p: &Panel, side_m: f64) -> Under {
    let (a, b, u) = (p.length_m.max(1e-3), p.width_m.max(1e-3), side_m.min(p.length_m).min(p.width_m).max(1e-4));
    let most = |side: f64| (3.0 * side / u).clamp(9.0, 41.0) as u32;
    let curve = panel::curve(p);
    let mut out = Under::default();
    for m in (1..=most(a)).step_by(2) {
        let al = f64::from(m) * PI / a;
        let along = (al * u / 2.0).sin() / f64::from(m);
        for n in (1..=most(b)).step_by(2) {
            let be = f64::from(n) * PI / b;
            let load = 16.0 / (u * u * PI * PI) * along * (be * u / 2.0).sin() / f64::from(n);
            let (al2, be2) = (al * al, be * be);
            let plate = panel::flat_resistance(p, (al2, be2));
            let thin = p.d.s11 * al2 * al2 + 2.0 * (p.d.s12 + 2.0 * p.d.s66) * al2 * be2 + p.d.s22 * be2 * be2;
            let arch = panel::curve_resistance(p, curve, (al2, be2));
            let gives = load / (plate + arch).max(1e-12);
            let bent = gives * plate / thin.max(1e-12);
            out.moment.0 += (p.d.s11 * al2 + p.d.s12 * be2) * bent;
            out.moment.1 += (p.d.s12 * al2 + p.d.s22 * be2) * bent;
            if let Some([c0, c1, c2]) = curve.filter(|_| p.radius_m.is_finite()) {
                let force = gives * al2 / p.radius_m / (c0 * al2 * al2 + c1 * al2 * be2 + c2 * be2 * be2);
                out.membrane_per_m.0 += be2 * force;
                out.membrane_per_m.1 += al2 * force;
            }
        }
    }
    out
}

/// Palms that lift half a wing together. **Source:** event catalogue, lifting on the palm.
const PALMS: f64 = 2.0;

impl Stands {
    /// The load that breaks it first, N.
    /// Unchecked: no outside check runs it by itself.
    pub const fn least_n(&self) -> f64 {
        self.crush_n.min(self.plug_n).min(self.bending_n)
    }
}

/// What is said where a palm is no load that the formula is for.
fn out_of_range(s: &Skin, z: &Zone) -> Option<&'static str> {
    if z.length_m.min(z.arc_m) < 4.0 * PALM_M {
        Some("the bay is no wider than two palms: a palm is no small load on it")
    } else if skins::coupled(&s.d) {
        Some("plies couple bending and twist: outside the orthotropic panel formula")
    } else {
        None
    }
}

/// What a rigid skin stands under a palm at the middle of a zone, N; why it is not shown where it is not. A covering stands nothing.
/// Unchecked: no outside check runs it by itself.
pub fn stands(design: &Design, s: &Skin, z: &Zone) -> Result<Stands, &'static str> {
    if matches!(s.kind, Kind::Covering | Kind::Open) {
        return Ok(Stands::default());
    }
    out_of_range(s, z).map_or_else(|| Ok(worked_out(design, s, z)), Err)
}

fn worked_out(design: &Design, s: &Skin, z: &Zone) -> Stands {
    let hot = design.service.core_share(z.strip.is_upper());
    let foam = s.foam.and_then(|f| design.library.foams.get(f));
    let (crush_n, plug_n) = foam.map_or((f64::INFINITY, f64::INFINITY), |f| {
        let depth = if s.lever_m > 0.0 { s.lever_m } else { s.core_thickness_m };
        core_stands_n(f.crush_min_pa * hot, f.shear_strength_min_pa * hot, PALM_M, depth)
    });
    let core_pa = foam.map_or(0.0, |f| f.inplane_modulus_pa * hot);
    let panel =
        Panel { length_m: z.length_m, width_m: z.arc_m, d: s.d, a: s.a, s_n_m: s.s_n_m * hot, radius_m: z.radius_m };
    // A square as large as the palm.
    let under = under_palm(&panel, PALM_M * PI.sqrt());
    let pushed = s.a.inverse().map_or((0.0, 0.0), |i| {
        let (x, y) = under.membrane_per_m;
        ((i.s11 * x + i.s12 * y).abs(), (i.s12 * x + i.s22 * y).abs())
    });
    let limit =
        |strain: f64, per_n: f64| if per_n > 0.0 && strain.is_finite() { strain / per_n } else { f64::INFINITY };
    let bending_n = [(true, under.moment.0, pushed.0), (false, under.moment.1, pushed.1)]
        .into_iter()
        .map(|(along, per_n, pushed)| {
            let (face, bare) = skins::Bending::new(s, z.length_m.min(z.arc_m), along).strain_per_moment(core_pa);
            let faces = [&s.outer, &s.inner].into_iter().filter(|f| f.thickness_m > 0.0);
            let strain = faces.map(|f| f.strain_compression.min(f.strain_tension)).fold(f64::INFINITY, f64::min);
            let foam_strain = foam.map_or(f64::INFINITY, |f| f.failure_strain);
            limit(strain, per_n * face + pushed).min(limit(foam_strain, per_n * bare + pushed))
        })
        .fold(f64::INFINITY, f64::min);
    Stands { crush_n, plug_n, bending_n }
}

fn margins(c: &Context, out: &mut Vec<Margin>) {
    let not_shown = |why: &'static str| {
        let mut m = margin(MODE.key, (None, None, None), (0.0, 0.0, "N"), inputs![]);
        m.verdict = Verdict::NotShown(why);
        m
    };
    if c.design.care.holds.is_empty() {
        out.push(not_shown("no hold is named under [care]: hands may come anywhere"));
        return;
    }
    let carried = c.loads.loads.iter().find(|l| c.loads.cases.get(l.case).is_some_and(|k| k.key == "carried_two"));
    let Some((carried, hands)) = carried.and_then(|l| Some((l, l.peaks.first()?))) else {
        out.push(not_shown(NO_CASE));
        return;
    };
    let limit = hands.borne_n.abs() / PALMS;
    for l in care::landings(c.design, c.layout, c.skins, &Assumptions::default()) {
        let (Exposure::Lift, Some(z)) = (l.exposure, c.layout.zones.get(l.zone)) else { continue };
        let bare = matches!(l.skin.kind, Kind::Covering | Kind::Open);
        let k = if bare { Stands::default() } else { worked_out(c.design, &l.skin, z) };
        let mut worked = margin(
            MODE.key,
            skins::at(z, carried.case),
            (limit * c.ultimate(), k.least_n(), "N"),
            inputs![
                ("load limit", limit, "N"),
                ("palm radius", PALM_M, "m"),
                ("crush stands", k.crush_n, "N"),
                ("plug stands", k.plug_n, "N"),
                ("bending stands", k.bending_n, "N"),
                ("factor", c.ultimate(), ""),
            ],
        );
        if let Some(why) = out_of_range(&l.skin, z).filter(|_| !bare) {
            worked.verdict = Verdict::NotShown(why);
        }
        out.push(worked);
    }
}
