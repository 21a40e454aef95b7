//! What the cap modes share: strain limits, the bed a cap lies on, and the reserves the sizing asks for.

use std::f64::consts::PI;

use crate::physics::assumptions::Assumptions;
use crate::physics::design::{BackingMaterial, Cap, Design, WebRun};
use crate::physics::laminate::cap::CapLayer;
use crate::physics::laminate::construction::Skin;
use crate::physics::laminate::sandwich;
use crate::physics::mass::spar::{CapLayers, cap_layers, cap_width_m};
use crate::physics::strength::sizing::{self, CapHere, Section};
use crate::physics::strength::{Context, Margin, inputs, margin, web, web_core_share};
use crate::physics::wing::layout::Layout;

/// Strain limits of a cap in tension and compression.
pub fn limits(design: &Design, upper: bool, l: &CapLayer) -> (f64, f64) {
    let cap = if upper { &design.spar.upper } else { &design.spar.lower };
    (cap.strain_tension.unwrap_or(l.strain_tension), cap.strain_compression.unwrap_or(l.strain_compression))
}

/// The cap as it stands with `n` layers.
pub fn here(width_m: f64, l: &CapLayer, n: u32) -> CapHere {
    let t = l.thickness_m * f64::from(n);
    CapHere { thickness_m: t, width_m, ea_n: l.modulus_pa * t * width_m }
}

/// What lies between two caps, per metre of span: moduli times widths, N/m, and the distance of the caps, m.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Bed {
    /// Core through the depth: `Ez b` and `Gc b`.
    pub core_n_m: f64,
    pub core_shear_n_m: f64,
    /// Web faces on edge: uniaxial `E t` along the depth, and `G t`.
    pub faces_n_m: f64,
    pub faces_shear_n_m: f64,
    pub height_m: f64,
}

impl Bed {
    /// Stiffness under one cap when both move towards each other, N/m2: `k = 2 (Ez b + E t)/h`.
    ///
    /// **Derived**: columns of uniaxial modulus over half the depth. A sheet that also carries shear stores at least
    /// the energy of free columns for any shape of the cap, so this is a lower bound at every half-wave, also where the
    /// half-wave is shorter than the depth. **Safe side:** low. Needs faces that have not wrinkled or buckled yet.
    pub fn foundation_n_m2(&self) -> f64 {
        2.0 * (self.core_n_m + self.faces_n_m) / self.height_m.max(0.01)
    }
}

/// A long strut on springs: least load, N, and its half-wave, m: `P = 2 sqrt(k EI)`, `l = pi (EI/k)^(1/4)`.
/// **Source:** Timoshenko and Gere; Hetenyi (from memory); finite elements agree to 1e-5.
pub fn strut_on_springs(ei_nm2: f64, foundation_n_m2: f64) -> (f64, f64) {
    if ei_nm2 <= 0.0 || foundation_n_m2 <= 0.0 {
        return (0.0, 0.0);
    }
    (2.0 * (foundation_n_m2 * ei_nm2).sqrt(), PI * (ei_nm2 / foundation_n_m2).powf(0.25))
}

/// The same with simply supported ends a length apart: least over half-waves of `EI (m pi/L)^2 + k (L/(m pi))^2`.
/// **Source:** as [`strut_on_springs`]. **Valid for:** length above zero.
pub fn strut_between(ei_nm2: f64, foundation_n_m2: f64, length_m: f64) -> f64 {
    let (_, wave) = strut_on_springs(ei_nm2, foundation_n_m2);
    if wave <= 0.0 || length_m <= 0.0 {
        return 0.0;
    }
    let m = (length_m / wave).floor().max(1.0);
    let at = |m: f64| {
        let a = (m * PI / length_m).powi(2);
        ei_nm2 * a + foundation_n_m2 / a
    };
    at(m).min(at(m + 1.0))
}

/// Wrinkling of a cap wider than its core: `0.5 (Ef Ez Gc)^(1/3)` with Ez and Gc spread over the width, N.
/// **Source:** NASA CR-1457 rule as quoted by Abbott 2019; spreading Derived. The knock-down is inside.
pub fn wrinkling_n(bed: &Bed, cap: &CapHere, modulus_pa: f64) -> f64 {
    let b = cap.width_m.max(1e-6);
    let stress = sandwich::wrinkling(
        modulus_pa,
        (bed.core_n_m + bed.faces_n_m) / b,
        (bed.core_shear_n_m + bed.faces_shear_n_m) / b,
    );
    stress * b * cap.thickness_m
}

/// What the scenario's web gives a cap in a bay whose middle is at eta, core at service temperature.
/// Unchecked: no outside check runs it by itself.
pub fn bed(design: &Design, skins: &[Skin], eta: f64, height_m: f64) -> Bed {
    let hot = web_core_share(design);
    let (core_n_m, core_shear_n_m) = web::core_upright(design, skins, eta);
    let (faces_n_m, faces_shear_n_m) = web::faces_upright(design, skins, eta);
    Bed { core_n_m: core_n_m * hot, core_shear_n_m: core_shear_n_m * hot, faces_n_m, faces_shear_n_m, height_m }
}

/// Knock-down of the spring formula to the standard of imperfection of the 0.5 wrinkling rule, 0.5/0.78: a choice.
pub const SPRING_KNOCK_DOWN: f64 = 0.64;

/// Bending stiffness of a cap and its backing, each about its own axis, N m2.
pub fn strut_ei_nm2(design: &Design, backed: &Cap, cap: &CapHere, modulus_pa: f64) -> f64 {
    let backing = backed.backing.as_ref().map_or(0.0, |b| match b.material {
        BackingMaterial::Foam(i) => design.library.foams.get(i).map_or(0.0, |f| f.inplane_modulus_pa),
        BackingMaterial::Wood(i) => design.library.woods.get(i).map_or(0.0, |w| w.modulus_pa),
    } * b.width_m * b.depth_m.powi(3) / 12.0);
    modulus_pa * cap.width_m * cap.thickness_m.powi(3) / 12.0 + backing
}

/// Critical cap force on its bed, N: the smaller of springs (knocked down) and wrinkling.
/// Unchecked: no outside check runs it by itself.
pub fn critical_n(bed: &Bed, ei_nm2: f64, cap: &CapHere, modulus_pa: f64) -> f64 {
    let springs = SPRING_KNOCK_DOWN * strut_on_springs(ei_nm2, bed.foundation_n_m2()).0;
    springs.min(wrinkling_n(bed, cap, modulus_pa))
}

/// What both caps of a bay hold, whatever they carry.
#[derive(Debug, Clone, Copy)]
pub(super) struct Held {
    section: Section,
    /// Strain limits in tension and compression, upper and lower.
    limits: [(f64, f64); 2],
    critical_n: (f64, f64),
}

impl Held {
    /// `n` layers of upper and lower cap at a station of clear depth, on a bed of any height.
    pub(super) fn of(
        design: &Design,
        layers: &CapLayers,
        (eta, depth_m): (f64, f64),
        n: (u32, u32),
        bed: &Bed,
    ) -> Self {
        let u = here(cap_width_m(&design.spar.upper, eta), &layers.upper, n.0);
        let l = here(cap_width_m(&design.spar.lower, eta), &layers.lower, n.1);
        let section = sizing::bending_section(depth_m, &u, &l);
        let on = Bed { height_m: section.cap_lever_m, ..*bed };
        let critical = |cap: &Cap, h: &CapHere, e: f64| critical_n(&on, strut_ei_nm2(design, cap, h, e), h, e);
        Self {
            section,
            limits: [limits(design, true, &layers.upper), limits(design, false, &layers.lower)],
            critical_n: (
                critical(&design.spar.upper, &u, layers.upper.modulus_pa),
                critical(&design.spar.lower, &l, layers.lower.modulus_pa),
            ),
        }
    }

    /// Reserves of upper and lower cap under ultimate moments, greatest and least.
    pub(super) fn reserves(&self, (up, down): (f64, f64)) -> (f64, f64) {
        let sec = &self.section;
        let [(ut, uc), (lt, lc)] = self.limits;
        let (pu, pl) = self.critical_n;
        let strain = |m: f64, fibre: f64| (m.abs() * fibre / sec.ei_nm2.max(1e-9)).max(1e-12);
        let force = |m: f64| (m.abs() / sec.cap_lever_m).max(1e-9);
        let upper = (uc / strain(up, sec.upper_fibre_m)).min(ut / strain(down, sec.upper_fibre_m)).min(pu / force(up));
        let lower =
            (lt / strain(up, sec.lower_fibre_m)).min(lc / strain(down, sec.lower_fibre_m)).min(pl / force(down));
        (upper, lower)
    }
}

/// What the web gives a cap at each bay, its height left open; worked out once for each run of the web.
pub(super) fn beds(design: &Design, skins: &[Skin], layout: &Layout) -> Vec<Bed> {
    let mut last: Option<(*const WebRun, Bed)> = None;
    let mut at = |eta: f64| {
        let run = web::run_at(design, eta).map_or(std::ptr::null(), std::ptr::from_ref);
        if last.is_none_or(|l| l.0 != run) {
            last = Some((run, bed(design, skins, eta, 0.0)));
        }
        last.map_or_else(Bed::default, |l| l.1)
    };
    layout.bays.iter().map(|b| at(b.mid.eta)).collect()
}

/// Greatest and least moment at a bay with the case of each.
/// Unchecked: no outside check runs it by itself.
pub fn moments(c: &Context, bay: usize) -> [(f64, usize); 2] {
    let most = c.most(bay);
    [most.up_nm, most.down_nm]
}

/// Outer-fibre strain of a cap over its limit, in tension or in compression, whichever cap and sign is worse.
pub fn strain_margins(c: &Context, mode: &'static str, tension: bool, out: &mut Vec<Margin>) {
    let layers = cap_layers(c.design, &Assumptions::default());
    let (u, l) = (limits(c.design, true, &layers.upper), limits(c.design, false, &layers.lower));
    for bay in 0..c.layout.bays.len() {
        let Some(s) = c.sections.get(bay) else { continue };
        let [up, down] = moments(c, bay);
        let pick = |l: (f64, f64)| if tension { l.0 } else { l.1 };
        // Upward bending: upper cap compressed, lower stretched; the other way round when bent down.
        let (first, second) = if tension {
            ((up, s.lower_fibre_m, pick(l)), (down, s.upper_fibre_m, pick(u)))
        } else {
            ((up, s.upper_fibre_m, pick(u)), (down, s.lower_fibre_m, pick(l)))
        };
        let rf = |x: &((f64, usize), f64, f64)| {
            let strain = x.0.0.abs() * c.ultimate() * x.1 / s.ei_nm2.max(1e-9);
            if strain > 0.0 { x.2 / strain } else { f64::INFINITY }
        };
        let x = if rf(&first) <= rf(&second) { first } else { second };
        let strain = x.0.0.abs() * c.ultimate() * x.1 / s.ei_nm2.max(1e-9);
        out.push(margin(
            mode,
            (Some(bay), None, Some(x.0.1)),
            (strain, x.2, "strain"),
            inputs![
                ("M limit", x.0.0, "N m"),
                ("factor", c.ultimate(), ""),
                ("EI", s.ei_nm2, "N m2"),
                ("fibre", x.1, "m"),
            ],
        ));
    }
}

/// Load per metre with which bent caps press on the web, N/m: M^2/(EI h).
/// **Derived**: cap force M/h times curvature M/EI. The web carries it once.
pub fn crush_load_n_m(moment_nm: f64, s: &Section) -> f64 {
    moment_nm * moment_nm / (s.ei_nm2 * s.cap_lever_m).max(1e-9)
}
