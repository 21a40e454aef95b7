//! Resistance of a construction to each contact: to a mark, a soft spot, a hole.

use std::f64::consts::PI;

use crate::physics::assumptions::{Assumed, Assumptions};
use crate::physics::durability::contact::{self, FaceOnFoam};
use crate::physics::durability::covering;
use crate::physics::durability::events::Contact;
use crate::physics::laminate::construction::{Kind, Skin};
use crate::physics::material::Library;

/// Lasting dents that count as mark and soft spot, m. Assumptions; 0.13 mm already signals core damage in foam sandwich.
pub const MARK_M: f64 = 0.000_3;
pub const SOFT_M: f64 = 0.001;

/// The panel a blow meets: static presses ignore it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PanelHere {
    pub width_m: f64,
}

/// The face on foam of a skin at a share of its cold core strength.
pub fn face_on_foam(s: &Skin, lib: &Library, core_share: f64, a: &Assumptions) -> Option<FaceOnFoam> {
    let foam = lib.foams.get(s.foam?)?;
    let face = if s.outer.thickness_m > 0.0 { &s.outer } else { &s.inner };
    Some(FaceOnFoam {
        a_n_m: (face.a.s11 * face.a.s22).max(1.0).sqrt(),
        d_nm: (face.d.s11 * face.d.s22).max(1e-9).sqrt(),
        crush_pa: foam.crush_min_pa * core_share * a.of(Assumed::FoamCrush),
        core_modulus_pa: foam.modulus_pa * core_share * a.of(Assumed::FoamModulus),
        core_m: s.core_thickness_m,
    })
}

/// Mark, soft spot and hole resistance of a skin to a contact, in the contact's own severity unit.
pub fn of(s: &Skin, lib: &Library, c: Contact, at: (f64, PanelHere), a: &Assumptions) -> [f64; 3] {
    let (core_share, panel) = at;
    let pad = a.of(Assumed::PadModel);
    let widen = a.of(Assumed::ContactArea).sqrt();
    let ball = a.of(Assumed::BallModel);
    match s.kind {
        Kind::Open => [f64::INFINITY; 3],
        Kind::Covering => cover(s, lib, c).map(|r| r * a.of(Assumed::CoveringModel)),
        Kind::Wood => wood(s, lib, c, panel).map(|r| r * a.of(Assumed::WoodModel)),
        Kind::Laminate => sheet(s, c, panel).map(|r| r * ball),
        Kind::Sandwich | Kind::OneFaced => {
            let Some(f) = face_on_foam(s, lib, core_share, a) else { return [f64::INFINITY; 3] };
            let t = s
                .outer
                .thickness_m
                .max(s.inner.thickness_m.min(1e-3) * f64::from(u8::from(s.outer.thickness_m == 0.0)));
            match c {
                Contact::Pad { radius_m } => {
                    let r = radius_m * widen;
                    [
                        contact::pad_load_n(&f, r, MARK_M) * pad,
                        contact::pad_load_n(&f, r, SOFT_M) * pad,
                        contact::plug_load_n(r, t) * 2.0 * pad,
                    ]
                }
                Contact::Ball { radius_m } => {
                    let hole = contact::plug_load_n(radius_m, t).max(contact::ball_load_n(&f, radius_m, MARK_M));
                    [
                        contact::ball_load_n(&f, radius_m, MARK_M) * ball,
                        contact::ball_load_n(&f, radius_m, SOFT_M).min(hole) * ball,
                        hole * ball,
                    ]
                }
                Contact::Pressure => [f.crush_pa * pad, 1.4 * f.crush_pa * pad, f64::INFINITY],
                Contact::Edge => {
                    let q = contact::edge_load_n_m(&f) * ball;
                    [q, 2.0 * q, 8.0 * q]
                }
                Contact::Blow { radius_m } => {
                    let k = contact::panel_stiffness_n_m(s.d.s11.min(s.d.s22).max(1e-6), panel.width_m)
                        * a.of(Assumed::PanelStiffness);
                    let energy = |d: f64| {
                        let p = contact::ball_load_n(&f, radius_m, d);
                        contact::ball_energy_j(&f, radius_m, d) + p * p / (2.0 * k)
                    };
                    let p = contact::plug_load_n(radius_m, t);
                    let hole = p * p / (2.0 * k) + 0.5 * p * 0.002 + f.crush_pa * PI * radius_m * radius_m * f.core_m;
                    let mark = energy(MARK_M) * ball;
                    [mark, (energy(SOFT_M) * ball).max(mark), (hole * ball).max(mark)]
                }
            }
        }
    }
}

fn cover(s: &Skin, lib: &Library, c: Contact) -> [f64; 3] {
    let Some((u, m)) = s.covering.and_then(|u| lib.coverings.get(u.covering).map(|m| (u, m))) else {
        return [f64::INFINITY; 3];
    };
    let slack = |p: f64| [f64::INFINITY, 0.7 * p, p];
    match c {
        Contact::Pad { radius_m } => slack(covering::blunt_n(radius_m, m.strength_n_m, m.failure_strain)),
        Contact::Ball { radius_m } => slack(covering::ball_n(radius_m, m.strength_n_m, m.failure_strain)),
        // A strap or pad on a covering pulls it down on the ribs: tension p R against strength.
        Contact::Pressure => slack(m.strength_n_m / 0.3),
        Contact::Edge => slack(0.3 * m.strength_n_m),
        Contact::Blow { radius_m } => {
            // The covering is a soft spring: force grows over a deflection of a few centimetres.
            let p = covering::ball_n(radius_m, m.strength_n_m, m.failure_strain);
            let give = 0.04 + p / (20.0 * (u.pretension_n_m + 1000.0));
            slack(0.5 * p * give)
        }
    }
}

/// Load to press a hard ball of radius R to a lasting mark d into wood, N: crush strength across the grain times the
/// area of the cap, 2 pi R d. **Derived here** from the area of a spherical cap. **Valid for:** d well below R.
pub fn wood_mark_n(crush_perp_pa: f64, radius_m: f64) -> f64 {
    crush_perp_pa * 2.0 * PI * radius_m * MARK_M
}

fn wood(s: &Skin, lib: &Library, c: Contact, panel: PanelHere) -> [f64; 3] {
    let Some(w) = s.wood.and_then(|i| lib.woods.get(i)) else { return [f64::INFINITY; 3] };
    let t = s.thickness_m;
    let punch = |r: f64| 2.0 * PI * r * t * w.shear_pa * 2.0;
    let bend = |r: f64| {
        // Splitting between ribs: bending strength of a strip as wide as the contact and the sheet's own spread.
        let width = 2.0 * r + 0.1;
        4.0 * w.tension_pa * 0.3 * width * t * t / 6.0 / panel.width_m.max(0.05)
    };
    let mark = |r: f64| wood_mark_n(w.crush_perp_pa, r);
    let states = |r: f64| {
        let hole = punch(r).max(bend(r));
        [mark(r).min(hole), (0.7 * hole).max(mark(r).min(hole)), hole]
    };
    match c {
        Contact::Pad { radius_m } => {
            let hole = punch(radius_m).max(bend(radius_m));
            [0.5 * hole, 0.7 * hole, hole]
        }
        Contact::Ball { radius_m } => states(radius_m),
        Contact::Pressure => [w.crush_perp_pa * 0.1, w.crush_perp_pa * 0.15, f64::INFINITY],
        Contact::Edge => [w.crush_perp_pa * t, 2.0 * w.crush_perp_pa * t, 6.0 * w.crush_perp_pa * t],
        Contact::Blow { radius_m } => {
            let k = contact::panel_stiffness_n_m(s.d.s11.max(1e-6), panel.width_m);
            states(radius_m).map(|p| p * p / (2.0 * k) + 0.5 * p * t)
        }
    }
}

/// A laminate without core: no lasting dent; the mark is a crack, between bending at the contact and a plug.
fn sheet(s: &Skin, c: Contact, panel: PanelHere) -> [f64; 3] {
    let t = s.outer.thickness_m;
    let states = |r: f64| {
        let hole = contact::plug_load_n(r, t);
        [0.6 * hole, 0.8 * hole, hole]
    };
    match c {
        Contact::Pad { radius_m } | Contact::Ball { radius_m } => states(radius_m),
        Contact::Pressure => [2e5, 4e5, f64::INFINITY],
        Contact::Edge => [80e6 * t, 120e6 * t, 200e6 * t],
        Contact::Blow { radius_m } => {
            let k = contact::panel_stiffness_n_m(s.d.s11.min(s.d.s22).max(1e-6), panel.width_m);
            states(radius_m).map(|p| p * p / (2.0 * k) + 0.5 * p * 0.001)
        }
    }
}
