//! Resistance of a construction to each contact: to a mark, a soft spot, a hole.

use std::f64::consts::PI;

use crate::physics::assumptions::{Assumed, Assumptions};
use crate::physics::durability::contact::{self, FaceOnFoam, ShownPads, UnderBall};
use crate::physics::durability::covering;
use crate::physics::durability::events::Contact;
use crate::physics::durability::foundation;
use crate::physics::durability::panel::{self, PanelHere};
use crate::physics::laminate::construction::{Kind, LOWER_BOUND_ALLOWANCE, Skin};
use crate::physics::material::Library;
use crate::physics::samples::record::Form;

/// Lasting dents that count as mark and soft spot, m. Assumptions; 0.13 mm already signals core damage in foam sandwich.
pub const MARK_M: f64 = 0.000_3;
pub const SOFT_M: f64 = 0.001;

/// Whether the dent of a soft spot lies within what either form was fitted to.
pub const SOFT_FITTED: bool = SOFT_M <= contact::DEEPEST_PAD_DENT_M || SOFT_M <= contact::DEEPEST_BALL_DENT_M;

/// What is said beside a soft spot on foam.
pub const SOFT_WORDS: &str = "soft spots are dents of 1 mm, beyond what the dent forms were fitted to (pads 0.5 mm, balls 0.8 mm): extrapolated, marked !";

/// Where on a zone a contact lands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Spot {
    /// Between the ribs.
    Mid,
    /// Over a rib or spar: nothing gives under a blow.
    Rib,
    /// Where a rigid skin ends on the closing rib and a covering begins: a free edge of the face, over a rib.
    Joint,
    /// On the trailing edge.
    Edge,
}

/// What a construction stands under one contact, at its middle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stand {
    /// Mark, soft spot, hole: N, Pa or N/m; for blows the force at each, N.
    pub load: [f64; 3],
    /// Energy taken at the contact itself when each is reached, J (blows).
    pub local_j: [f64; 3],
    /// Inside the range its form was fitted or derived for.
    pub fitted: bool,
    /// Which of the two first states is a crack of the face.
    pub cracks: bool,
    /// Chance that a hole in a covering runs from rib to rib.
    pub tears: f64,
}

/// Share of the hard-contact resistance left at the free edge of a sheet without foam: half the rim is there to carry it.
/// An assumption; half the field of the middle is an upper bound of the edge.
pub const EDGE_SHARE: f64 = 0.5;

/// Poisson's ratio of a woven face, for its free edge.
const NU_FACE: f64 = 0.1;

impl Spot {
    /// Every spot, in the order of the enumeration.
    pub const ALL: [Self; 4] = [Self::Mid, Self::Rib, Self::Joint, Self::Edge];
    /// Share of the hard-contact resistance of the middle that is left here; coverings have no edge of their own.
    /// Unchecked: no outside check runs it by itself.
    pub fn share_left(self, kind: Kind) -> f64 {
        match (self, kind) {
            (Self::Mid | Self::Rib, _) | (_, Kind::Covering) => 1.0,
            (_, Kind::Sandwich | Kind::OneFaced) => foundation::free_edge_share(NU_FACE),
            _ => EDGE_SHARE,
        }
    }
    /// Something stiff stands under it: the panel gives nothing under a blow, and a covering is cut.
    pub const fn over_a_rib(self) -> bool {
        matches!(self, Self::Rib | Self::Joint)
    }
}

/// Over the tensile failure strain, how much bending strain a thin face takes. From memory: about 1.5.
pub(super) const BENDING_GAIN: f64 = 1.5;

const NEVER: Stand =
    Stand { load: [f64::INFINITY; 3], local_j: [f64::INFINITY; 3], fitted: true, cracks: false, tears: 0.0 };

/// Radius of the contact, m, where it has one.
/// Unchecked: no outside check runs it by itself.
pub const fn radius_m(c: Contact) -> f64 {
    match c {
        Contact::Pad { radius_m }
        | Contact::Ball { radius_m }
        | Contact::Pressure { radius_m }
        | Contact::Blow { radius_m, .. } => radius_m,
        Contact::Edge => 0.003,
    }
}

/// The face on foam of a skin at a share of its cold core strength.
/// Unchecked: no outside check runs it by itself.
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

/// A face on foam with what every contact on it has in common, worked out once.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OnFoam {
    face: FaceOnFoam,
    ball: UnderBall,
    to_mark: ShownPads,
    to_soft: ShownPads,
}

impl OnFoam {
    /// Of a skin at a share of its cold core strength; None without foam.
    pub(super) fn of(s: &Skin, lib: &Library, core_share: f64, a: &Assumptions) -> Option<Self> {
        if !matches!(s.kind, Kind::Sandwich | Kind::OneFaced) {
            return None;
        }
        let face = face_on_foam(s, lib, core_share, a)?;
        let [to_mark, to_soft] = ShownPads::of(&face, [MARK_M, SOFT_M]);
        Some(Self { face, ball: UnderBall::of(&face), to_mark, to_soft })
    }
}

/// What a skin stands under a contact.
pub fn stand(s: &Skin, lib: &Library, c: Contact, core_share: f64, a: &Assumptions) -> Stand {
    stand_on(s, lib, c, OnFoam::of(s, lib, core_share, a).as_ref(), a)
}

/// The same where the face on foam is worked out already.
pub(super) fn stand_on(s: &Skin, lib: &Library, c: Contact, foam: Option<&OnFoam>, a: &Assumptions) -> Stand {
    match s.kind {
        Kind::Open => NEVER,
        Kind::Covering => cover(s, lib, c, a),
        Kind::Wood => wood(s, lib, c, a),
        Kind::Laminate => sheet(s, c, a),
        Kind::Sandwich | Kind::OneFaced => foam.map_or(NEVER, |f| on_foam(s, lib, f, c, a)),
    }
}

fn on_foam(s: &Skin, lib: &Library, on: &OnFoam, c: Contact, a: &Assumptions) -> Stand {
    let (f, under) = (&on.face, &on.ball);
    let (pad, ball) = (s.form_factor(Form::Pad, a), s.form_factor(Form::Ball, a));
    let pierce = s.form_factor(Form::Plug, a);
    let face = if s.outer.thickness_m > 0.0 { &s.outer } else { &s.inner };
    let t = face.thickness_m;
    let limit = BENDING_GAIN * face.strain_tension / LOWER_BOUND_ALLOWANCE;
    let plug = |r: f64| {
        let most = 2.0 * PI * r * f.a_n_m * face.strain_tension / LOWER_BOUND_ALLOWANCE;
        (contact::plug_load_n(r, t) * pierce).min(most)
    };
    // Shear of the core round a contact: tau = P/(2 pi a c).
    let core =
        s.foam.and_then(|i| lib.foams.get(i)).map_or(0.0, |x| x.shear_strength_min_pa * a.of(Assumed::FoamCrush));
    let shear = |r: f64| if s.kind == Kind::Sandwich { 2.0 * PI * r * s.lever_m * core } else { f64::INFINITY };
    match c {
        Contact::Pad { radius_m } => {
            let r = radius_m * a.of(Assumed::ContactArea).sqrt();
            let soft = (on.to_soft.load_n(f, r) * pad).min(shear(r));
            let mark = (on.to_mark.load_n(f, r) * pad).min(soft);
            let fitted = contact::pad_fitted(f, radius_m);
            Stand { load: [mark, soft, plug(r).max(soft)], local_j: [0.0; 3], fitted, cracks: false, tears: 0.0 }
        }
        Contact::Pressure { radius_m } => {
            let area = PI * radius_m * radius_m;
            let to = |d: f64| contact::pad_load_n(f, radius_m, d) * pad / area;
            Stand {
                load: [to(MARK_M), to(SOFT_M), f64::INFINITY],
                local_j: [0.0; 3],
                fitted: true,
                cracks: false,
                tears: 0.0,
            }
        }
        Contact::Edge => {
            let soft = contact::edge_load_n_m(f, SOFT_M) * ball;
            let hole = (2.0 * t * contact::PLUG_SHEAR_PA * pierce).max(soft);
            Stand {
                load: [contact::edge_load_n_m(f, MARK_M) * ball, soft, hole],
                local_j: [0.0; 3],
                fitted: true,
                cracks: false,
                tears: 0.0,
            }
        }
        Contact::Ball { radius_m } | Contact::Blow { radius_m, .. } => {
            let (dent, deep) = (under.load_n(radius_m, MARK_M), under.load_n(radius_m, SOFT_M));
            // Ice breaks on the face before it bends it round its own radius.
            let ice = matches!(c, Contact::Blow { ice: true, .. });
            let crack = if ice { f64::INFINITY } else { contact::cracks_under_n(f, under, limit, (radius_m, t)) };
            let first = dent.min(crack);
            let soft = deep.min(crack).max(first);
            let hole = (plug(radius_m) / ball).max(soft);
            // Between dents the load grows with the depth to 1.5, so energy with the load to 5/3.
            let energies = || {
                let energy = under.energy_j(radius_m, SOFT_M);
                let at = |p: f64| energy * (p / deep) * ((p / deep) * (p / deep)).cbrt();
                let mark_j = if dent <= crack { under.energy_j(radius_m, MARK_M) } else { at(crack) };
                // Through the face, then the foam under the hole.
                let hole_j = at(hole) + f.crush_pa * PI * radius_m * radius_m * f.core_m;
                [mark_j * ball, (at(soft).max(mark_j)) * ball, hole_j * ball]
            };
            Stand {
                load: [first * ball, soft * ball, hole * ball],
                local_j: if matches!(c, Contact::Blow { .. }) { energies() } else { [0.0; 3] },
                fitted: contact::ball_fitted(f, radius_m),
                cracks: crack < dent,
                tears: 0.0,
            }
        }
    }
}

fn cover(s: &Skin, lib: &Library, c: Contact, a: &Assumptions) -> Stand {
    let Some((u, m)) = s.covering.and_then(|u| lib.coverings.get(u.covering).map(|m| (u, m))) else { return NEVER };
    let (n, eps) = (m.strength_n_m, m.failure_strain);
    let pierce = s.form_factor(Form::Covering, a)
        * match c {
            Contact::Pad { radius_m } => covering::blunt_n(radius_m * a.of(Assumed::ContactArea).sqrt(), n, eps),
            Contact::Ball { radius_m } | Contact::Blow { radius_m, .. } => covering::ball_n(radius_m, n, eps),
            // A strap is a blunt line: its pressure over its width.
            Contact::Pressure { radius_m } => covering::edge_n_m(n, eps) / (2.0 * radius_m),
            Contact::Edge => covering::edge_n_m(n, eps),
        };
    let slack = (covering::slack_share(m.film) * a.of(Assumed::SlackShare)).min(1.0) * pierce;
    let tears = covering::tear_chance(u.pretension_n_m, radius_m(c), m.tear_n);
    Stand { load: [f64::INFINITY, slack, pierce], local_j: [0.0; 3], fitted: true, cracks: false, tears }
}

/// Load to press a hard ball of radius R to a lasting mark d into wood, N: crush strength across the grain times the
/// area of the cap, 2 pi R d. **Derived here** from the area of a spherical cap. **Valid for:** d well below R.
pub fn wood_mark_n(crush_perp_pa: f64, radius_m: f64) -> f64 {
    crush_perp_pa * 2.0 * PI * radius_m * MARK_M
}

/// Over shear along the grain, what a punched plug of wood takes all round. An assumption: half its rim cuts across fibres.
const PUNCH_GAIN: f64 = 2.0;

fn wood(s: &Skin, lib: &Library, c: Contact, a: &Assumptions) -> Stand {
    let Some(w) = s.wood.and_then(|i| lib.woods.get(i)) else { return NEVER };
    let t = s.thickness_m;
    let model = s.form_factor(Form::Wood, a);
    let punch = |r: f64| 2.0 * PI * r * t * w.shear_pa * PUNCH_GAIN;
    let load = match c {
        // A soft pad leaves a mark when its mean pressure crushes the grain.
        Contact::Pad { radius_m } => {
            let r = radius_m * a.of(Assumed::ContactArea).sqrt();
            let crush = w.crush_perp_pa * PI * r * r;
            [crush.min(punch(r)), punch(r), punch(r)]
        }
        Contact::Ball { radius_m } | Contact::Blow { radius_m, .. } => {
            [wood_mark_n(w.crush_perp_pa, radius_m).min(punch(radius_m)), punch(radius_m), punch(radius_m)]
        }
        Contact::Pressure { .. } => [w.crush_perp_pa, w.crush_perp_pa, f64::INFINITY],
        // The edge sinks a mark deep over a strip twice the root of its radius times the mark, then shears two planes.
        Contact::Edge => {
            let strip = 2.0 * (2.0 * radius_m(c) * MARK_M).sqrt();
            let through = 2.0 * t * w.shear_pa * PUNCH_GAIN;
            [(w.crush_perp_pa * strip).min(through), through, through]
        }
    }
    .map(|p| p * model);
    // Force rises with depth to the mark; through the sheet it is spent over the thickness.
    let local_j = [0.5 * load[0] * MARK_M, 0.5 * load[1] * t, load[2] * t];
    Stand { load, local_j, fitted: true, cracks: false, tears: 0.0 }
}

/// A laminate without core: no lasting dent; it cracks under the contact, as a membrane wrapped on it, then a plug goes.
fn sheet(s: &Skin, c: Contact, a: &Assumptions) -> Stand {
    let t = s.outer.thickness_m;
    let model = s.form_factor(Form::Sheet, a);
    let stiff = (s.outer.a.s11 * s.outer.a.s22).max(1.0).sqrt();
    let strain = s.outer.strain_tension / LOWER_BOUND_ALLOWANCE;
    let n_ult = stiff * strain;
    let load = match c {
        Contact::Pad { radius_m } | Contact::Ball { radius_m } | Contact::Blow { radius_m, .. } => {
            let crack = covering::ball_lower_n(radius_m, n_ult, strain);

            let plug = (contact::plug_load_n(radius_m, t) * a.of(Assumed::PlugShear)).min(2.0 * PI * radius_m * n_ult);
            [crack, crack, plug.max(crack)]
        }
        Contact::Pressure { radius_m } => {
            let p = covering::edge_n_m(n_ult, strain) / (2.0 * radius_m);
            [p, p, f64::INFINITY]
        }
        Contact::Edge => {
            let q = covering::edge_n_m(n_ult, strain);
            [q, q, q.max(2.0 * t * contact::PLUG_SHEAR_PA)]
        }
    }
    .map(|p| p * model);
    Stand { load, local_j: [0.0, 0.0, 0.5 * load[2] * t], fitted: true, cracks: true, tears: 0.0 }
}

/// Something of a skin's resistance at a spot hangs on the panel: blows where the panel gives, cracking of sheets.
pub const fn zone_counts(kind: Kind, c: Contact, spot: Spot) -> bool {
    let bends = matches!(kind, Kind::Wood | Kind::Laminate | Kind::OneFaced) && matches!(spot, Spot::Mid);
    match c {
        Contact::Blow { local, .. } => matches!(kind, Kind::Covering) || bends || (!local && !spot.over_a_rib()),
        Contact::Pad { .. } | Contact::Ball { .. } => bends,
        Contact::Pressure { .. } | Contact::Edge => false,
    }
}

/// Mark, soft spot and hole of a zone in the contact's own severity unit: the stand of its construction with what the panel adds.
pub fn here(s: &Skin, lib: &Library, c: Contact, stand: &Stand, at: (Spot, &PanelHere), a: &Assumptions) -> [f64; 3] {
    met(s, lib, c, stand, at, a).0
}

/// How a resistance answers to what it is made of: the power of the load in it, and that of the give of the panel or, of a
/// covering, of its tension. An energy of a panel answers with twice the load's logarithm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Answer {
    pub load: f64,
    pub give: f64,
}

/// A load answers to itself alone.
const TO_ITSELF: Answer = Answer { load: 1.0, give: 0.0 };

/// [`here`] with how each of the three answers.
pub(super) fn met(
    s: &Skin,
    lib: &Library,
    c: Contact,
    stand: &Stand,
    at: (Spot, &PanelHere),
    a: &Assumptions,
) -> ([f64; 3], [Answer; 3]) {
    let (spot, panel_here) = at;
    let mut load = stand.load;
    let hard = matches!(c, Contact::Ball { .. } | Contact::Blow { .. } | Contact::Edge);
    let edge = if hard { spot.share_left(s.kind) } else { 1.0 };
    if spot == Spot::Mid && matches!(s.kind, Kind::Wood | Kind::Laminate | Kind::OneFaced) {
        bend(s, lib, radius_m(c), panel_here, a, &mut load, c);
    }
    if spot.over_a_rib() && s.kind == Kind::Covering {
        let cut = (covering::RIB_CUT_SHARE * a.of(Assumed::RibCut)).min(1.0);
        load = [load[0], load[1].min(cut * load[2]), cut * load[2]];
    }
    let mut answers = [TO_ITSELF; 3];
    let Contact::Blow { radius_m: r, local, .. } = c else { return (load.map(|p| p * edge), answers) };
    if s.kind == Kind::Covering {
        let bay = cover_bay(s, lib, r, panel_here, spot);
        let mut out = [f64::INFINITY; 3];
        for i in 0..3 {
            let Some(bay) = bay.as_ref().filter(|_| load[i].is_finite()) else { continue };
            // Over a rib it often tears as soon as it marks.
            if i > 0 && load[i] == load[i - 1] {
                (out[i], answers[i]) = (out[i - 1], answers[i - 1]);
                continue;
            }
            let (energy, [of_load, of_tension]) = bay.answer(load[i]);
            (out[i], answers[i]) = (energy, Answer { load: of_load, give: of_tension });
        }
        return (out, answers);
    }
    let give = if local || spot.over_a_rib() {
        0.0
    } else {
        let d = s.d.s11.min(s.d.s22).max(1e-6);
        let stiff = (s.a.s11 * s.a.s22).max(1.0).sqrt();
        1.0 / (panel::give_n_m(d, s.s_n_m, stiff, panel_here, r) * a.of(Assumed::PanelStiffness))
    };
    let mut out = [0.0_f64; 3];
    for i in 0..3 {
        let p = load[i] * edge;
        // A state reached at less than its own load, by bending of the panel, has taken less at the contact as well.
        let share = match stand.load[i] {
            own if own <= 0.0 => 0.0,
            own if load[i] >= own => edge,
            own => load[i] / own * edge,
        };
        let (contact, bent) = (stand.local_j[i] * share, 0.5 * p * p * give);
        out[i] = contact + bent;
        if out[i] > 0.0 && out[i].is_finite() {
            let give = bent / out[i];
            answers[i] = Answer { load: 1.0 + give, give };
        }
        // What comes later takes no less.
        if i > 0 && out[i] < out[i - 1] {
            (out[i], answers[i]) = (out[i - 1], answers[i - 1]);
        }
    }
    (out, answers)
}

/// Greatest breadth of cloth that gives over a rib, m. An assumption.
const RIB_BAY_M: f64 = 0.04;

/// Over a rib the cloth of this panel gives over the greatest breadth: wider panels stand the same there.
pub(super) fn rib_bay_is_full(kind: Kind, spot: Spot, at: &PanelHere) -> bool {
    kind == Kind::Covering && spot.over_a_rib() && 0.25 * at.width_m >= RIB_BAY_M
}

/// The covering between ribs; none without one.
fn cover_bay(s: &Skin, lib: &Library, radius_m: f64, at: &PanelHere, spot: Spot) -> Option<covering::Bay> {
    let (u, m) = s.covering.and_then(|u| lib.coverings.get(u.covering).map(|m| (u, m)))?;
    // Over a rib the cloth gives over a hand's breadth at most.
    let bay_m = if spot.over_a_rib() { (0.25 * at.width_m).min(RIB_BAY_M) } else { 0.5 * at.width_m };
    Some(covering::Bay::of(m.stiffness_n_m, u.pretension_n_m, (bay_m, radius_m)))
}

/// Cracking of a sheet or of the bare back of one-faced foam between ribs.
fn bend(s: &Skin, lib: &Library, r: f64, at: &PanelHere, a: &Assumptions, load: &mut [f64; 3], c: Contact) {
    if matches!(c, Contact::Edge | Contact::Pressure { .. }) {
        return;
    }
    let m = panel::moment_per_load(at.width_m, r, if s.kind == Kind::OneFaced { 0.3 } else { 0.1 });
    let crack = match s.kind {
        // Strain of the foam's bare back, one core depth from the face that holds the neutral plane.
        Kind::OneFaced => {
            let foam = s.foam.and_then(|i| lib.foams.get(i)).map_or(f64::INFINITY, |f| f.failure_strain);
            let d = (s.d.s11 * s.d.s22).max(0.0).sqrt();
            foam * d / (m * s.core_thickness_m.max(1e-4)) * s.form_factor(Form::Ball, a)
        }
        // Splitting along the grain: the stiff way draws moment with the fourth root of the ratio of stiffness.
        Kind::Wood => s.wood.and_then(|i| lib.woods.get(i)).map_or(f64::INFINITY, |w| {
            let ratio = (s.d.s22 / s.d.s11.max(1e-12)).clamp(1e-3, 1.0).sqrt().sqrt();
            let z = s.thickness_m * s.thickness_m / 6.0;
            let across = w.tension_pa * w.cross_modulus_pa / w.modulus_pa.max(1.0);
            (across * z / (m * ratio)).min(w.tension_pa * z * ratio / m) * s.form_factor(Form::Wood, a)
        }),
        // A thin sheet past its own bending strength carries on as a membrane: only the greater of the two breaks it.
        _ => 0.0,
    };
    if s.kind == Kind::Laminate {
        let strain = BENDING_GAIN * s.outer.strain_tension / LOWER_BOUND_ALLOWANCE;
        let plate = 2.0 * strain * (s.d.s11 * s.d.s22).max(0.0).sqrt() / (s.outer.thickness_m.max(1e-5) * m);
        let plate = plate * s.form_factor(Form::Sheet, a);
        *load = [load[0].max(plate), load[1].max(plate), load[2].max(plate)];
    } else {
        *load = [load[0].min(crack), load[1].min(crack), load[2].max(crack.min(load[1]))];
    }
}
