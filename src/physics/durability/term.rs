//! One event on one place of one zone: how often, how hard, what it meets, and what comes of it.

use crate::physics::assumptions::Assumptions;
use crate::physics::design::{Design, Strip};
use crate::physics::durability::care::{self, Landing};
use crate::physics::durability::cause::{Cause, Met};
use crate::physics::durability::events::{Contact, EVENTS, Event};
use crate::physics::durability::fragility;
use crate::physics::durability::panel::PanelHere;
use crate::physics::durability::resistance::{self, MARK_M, OnFoam, Spot, Stand};
use crate::physics::laminate::construction::{KINDS, Kind, Skin};
use crate::physics::samples::record::Form;
use crate::physics::wing::layout::{Layout, Zone};

/// Dispersion of a zone's resistance before samples narrow it; the contact's own part (0.25) stays with the event.
/// **Source:** model error 0.25, foam 0.20, root of squares; assumption.
pub const BETA_RESISTANCE: f64 = 0.32;
/// Scatter of the area of hands and pads. Assumption.
pub const BETA_CONTACT: f64 = 0.25;

/// One event on one place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Term {
    /// Index into `EVENTS` and into `Layout::zones`.
    pub event: usize,
    pub zone: usize,
    pub kind: Kind,
    pub spot: Spot,
    /// Times per 100 outings, both halves.
    pub per_100: f64,
    /// Median severity and its spread; median resistance of the three states and its spread.
    pub severity: f64,
    pub beta_severity: f64,
    pub stands: [f64; 3],
    pub beta_resistance: f64,
    /// Share of the spread of the form that samples left; 1 without.
    pub kept: f64,
    /// Chance that a hole in a covering runs from rib to rib.
    pub tears: f64,
}

/// Chances of mark, soft spot, hole or worse, and the slope of each against ln severity.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Chances {
    pub p: [f64; 3],
    pub slope: [f64; 3],
}

impl Term {
    /// Chances of each state or worse in closed form, never rising with the state.
    pub fn chances(&self) -> Chances {
        let beta = (self.beta_severity * self.beta_severity + self.beta_resistance * self.beta_resistance).sqrt();
        let mut out = Chances::default();
        let mut above = 1.0;
        for i in 0..3 {
            if !self.stands[i].is_finite() || self.severity <= 0.0 {
                continue;
            }
            if i > 0 && self.stands[i] == self.stands[i - 1] {
                (out.p[i], out.slope[i]) = (out.p[i - 1], out.slope[i - 1]);
                continue;
            }
            let (p, density) = fragility::exceeds_by(self.severity / self.stands[i], beta);
            (out.p[i], out.slope[i]) = (p.min(above), density / beta);
            above = out.p[i];
            // What stands more is not exceeded either.
            if p <= 0.0 {
                break;
            }
        }
        // A covering has no mark of its own: slack or pierced counts as marked.
        if self.stands[0].is_infinite() {
            (out.p[0], out.slope[0]) = (out.p[1], out.slope[1]);
        }
        out
    }
}

/// Area (edge: length) of every group a zone takes part in.
pub fn zone_groups(z: &Zone) -> [f64; 6] {
    let rest = (1.0 - z.root_share - z.tip_share).max(0.0);
    let main = z.area_m2 * rest;
    let mut g = [0.0; 6];
    if z.strip.is_nose() {
        g[0] = main;
    } else if z.strip.is_upper() {
        g[1] = main;
    } else {
        g[2] = main;
    }
    g[3] = z.edge_m * rest;
    g[4] = z.area_m2 * z.tip_share;
    g[5] = z.area_m2 * z.root_share;
    g
}

/// Shares of an event with absent groups given to the rest in proportion; they sum to 1 when any group is there.
pub fn shares(e: &Event, totals: &[f64; 6]) -> [f64; 6] {
    let there: f64 = e.share.iter().zip(totals).filter(|(_, t)| **t > 0.0).map(|(s, _)| s).sum();
    let mut out = [0.0; 6];
    if there > 0.0 {
        for (o, (s, t)) in out.iter_mut().zip(e.share.iter().zip(totals)) {
            *o = if *t > 0.0 { s / there } else { 0.0 };
        }
    }
    out
}

/// The panel of a zone.
pub fn panel_of(z: &Zone) -> PanelHere {
    // To the picometre, so that bays laid out alike are alike in spite of rounding.
    let width_m = (z.length_m.min(z.arc_m).max(0.05) * 1e12).round() * 1e-12;
    PanelHere { width_m, length_m: z.length_m, arc_m: z.arc_m, radius_m: z.radius_m }
}

/// Kinds of place on a zone, as many as [`Spot`] has.
pub(super) const SPOTS: usize = 4;

/// Half of the width beside a rib or spar in which a blow finds nothing that gives: the contact and this, m. An assumption.
pub(super) const RIB_REACH_M: f64 = 0.012;

/// Parts of a zone beside its boundary joints, for each metre of reach, 1/m: rigid skin on one side, covering on the other;
/// along the span at the closing rib, across the chord where an aft strip is divided.
pub fn joints(layout: &Layout, skins: &[Skin]) -> Vec<f64> {
    let covered = |c: usize| skins.get(c).filter(|s| s.kind != Kind::Open).map(|s| s.kind == Kind::Covering);
    let differ = |a: usize, b: usize| covered(a).zip(covered(b)).is_some_and(|(a, b)| a != b);
    let mut out = vec![0.0; layout.zones.len()];
    let mut join = |strips: [Strip; 2], bays: [usize; 2], across: bool| {
        let at = |n: usize| layout.zones.iter().position(|z| z.strip == strips[n] && z.bay == bays[n]);
        let (Some(a), Some(b)) = (at(0), at(1)) else { return };
        let (a_z, b_z) = (&layout.zones[a], &layout.zones[b]);
        if differ(a_z.construction, b_z.construction) {
            let wide = |z: &Zone| if across { z.arc_m } else { layout.bays[z.bay].length_m };
            out[a] += 1.0 / wide(a_z).max(1e-3);
            out[b] += 1.0 / wide(b_z).max(1e-3);
        }
    };
    for s in &layout.splices {
        join([s.strip; 2], [s.bay, s.bay + 1], false);
    }
    for divided in [[Strip::AftUpper, Strip::AftUpperRear], [Strip::AftLower, Strip::AftLowerRear]] {
        if layout.zones.iter().any(|z| z.strip == divided[1]) {
            (0..layout.bays.len()).for_each(|bay| join(divided, [bay; 2], true));
        }
    }
    out
}

/// Radius of the skin under a strap away from the nose, and at a trailing edge, m. Assumptions.
const FLAT_RADIUS_M: f64 = 0.8;
const EDGE_RADIUS_M: f64 = 0.010;

/// The whole wing as terms are made from it.
pub struct Ground<'a> {
    pub design: &'a Design,
    pub layout: &'a Layout,
    pub skins: &'a [Skin],
    pub half_wing_kg: f64,
    pub assumed: &'a Assumptions,
    /// Where lifts and rests land, and the face on foam there.
    pub landings: Vec<(Landing, Option<OnFoam>)>,
    /// [`joints`] of every zone.
    pub joints: Vec<f64>,
    /// The face on foam of constructions on the lower and on the upper side.
    on_foam: Vec<(usize, [Option<OnFoam>; 2])>,
}

/// A contact that goes the same way wherever it is met: its term (times per 100 outings over all those places) and chances.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Alike {
    pub term: Term,
    pub chances: Chances,
}

/// A place where one of the contacts of an event is met: which, the zone, times per 100 outings.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Place {
    pub alike: usize,
    pub zone: usize,
    pub per_100: f64,
}

/// Contacts and places of one event; kept from event to event so that nothing is allocated again.
#[derive(Default)]
struct Gathered {
    contacts: Vec<Alike>,
    places: Vec<Place>,
    stands: Vec<Option<Stand>>,
    /// By class of zone and spot: which of the contacts.
    met: Vec<Option<usize>>,
}

/// A zone that something may land on, with what every event asks of it.
struct Exposed {
    zone: usize,
    construction: usize,
    kind: Kind,
    upper: bool,
    groups: [f64; 6],
    panel: PanelHere,
    /// Width over ribs and spar for each metre of reach to their sides, as a share of the zone, 1/m.
    ribs_per_m: f64,
    /// Parts of them that are boundary joints.
    joints_per_m: f64,
    /// Zones of one construction and side, and those that have the panel in common too.
    side: usize,
    alike: usize,
}

/// The zones that something may land on, and how many classes of each kind they fall into.
struct Field {
    zones: Vec<Exposed>,
    sides: usize,
    panels: usize,
    totals: [f64; 6],
}

impl Field {
    fn of(layout: &Layout, skins: &[Skin], joints: &[f64], asked: impl Fn(usize) -> bool) -> Self {
        let mut out =
            Self { zones: Vec::with_capacity(layout.zones.len()), sides: skins.len() * 2, panels: 0, totals: [0.0; 6] };
        for (zone, z) in layout.zones.iter().enumerate() {
            let groups = zone_groups(z);
            for (t, v) in out.totals.iter_mut().zip(&groups) {
                *t += v;
            }
            let Some(s) = skins.get(z.construction).filter(|s| s.kind != Kind::Open && asked(zone)) else { continue };
            let (panel, upper) = (panel_of(z), z.strip.is_upper());
            // Only foam feels which side of the wing the sun is on.
            let side = z.construction * 2 + usize::from(upper && s.foam.is_some());
            let same = |k: &&Exposed| {
                k.side == side
                    && k.panel.width_m == panel.width_m
                    && k.panel.radius_m == panel.radius_m
                    // Under a strap the radius of a nose is that of its bay.
                    && (panel.radius_m.is_infinite() || layout.zones[k.zone].bay == z.bay)
            };
            let alike = out.zones.iter().rev().find(same).map_or(out.panels, |k| k.alike);
            out.panels = out.panels.max(alike + 1);
            out.zones.push(Exposed {
                zone,
                construction: z.construction,
                kind: s.kind,
                upper,
                groups,
                panel,
                ribs_per_m: 2.0 / z.length_m.max(1e-3) + 1.0 / z.arc_m.max(1e-3),
                joints_per_m: joints.get(zone).copied().unwrap_or(0.0),
                side,
                alike,
            });
        }
        out
    }
}

/// How often an event comes: times per 100 outings, the share that lands on holds or rests, and times per 100 outings for
/// each unit of each group.
pub(super) struct Often {
    pub(super) rate: f64,
    pub(super) moved: f64,
    pub(super) per: [f64; 6],
}

impl Often {
    pub(super) fn of(design: &Design, e: &Event, totals: &[f64; 6], assumed: &Assumptions) -> Option<Self> {
        let rate = care::rate(design, e, assumed);
        if rate <= 0.0 {
            return None;
        }
        let moved = care::moved(design, e);
        let share = shares(e, totals);
        let per: [f64; 6] = std::array::from_fn(|g| if totals[g] > 0.0 { share[g] / totals[g] } else { 0.0 });
        let hits = if e.hits_per_m2 > 0.0 { e.hits_per_m2 * 2.0 * (totals[0] / 2.0 + totals[1]) } else { 1.0 };
        let f = rate * (1.0 - moved) * hits;
        Some(Self { rate, moved, per: per.map(|p| f * p) })
    }
}

/// How an event goes on one kind of surface.
#[derive(Clone, Copy)]
pub(super) struct Way {
    /// Over ribs it goes another way than between them; on an edge the same way.
    pub(super) ribs: bool,
    pub(super) joints: bool,
    pub(super) edge_as_inside: bool,
    /// At each spot: something hangs on the panel.
    pub(super) by_panel: [bool; SPOTS],
}

impl Way {
    pub(super) fn of(kind: Kind, e: &Event) -> Self {
        let at = |spot| resistance::zone_counts(kind, e.contact, spot);
        Self {
            ribs: ribs_count(kind, e.contact),
            joints: matches!(e.contact, Contact::Ball { .. } | Contact::Blow { .. } | Contact::Edge),
            edge_as_inside: as_inside(kind, e),
            by_panel: [at(Spot::Mid), at(Spot::Rib), at(Spot::Joint), at(Spot::Edge)],
        }
    }
}

/// What a construction is to the ground it lies on, whatever the wing weighs: its face on foam, and what is under holds
/// and rests where they lie on it.
#[derive(Debug, Clone)]
pub struct Underfoot {
    on_foam: [Option<OnFoam>; 2],
    landings: Vec<(Landing, Option<OnFoam>)>,
}

impl Underfoot {
    /// Of a construction on a layout where it stands wherever it is asked about.
    pub fn of(wing: (&Design, &Layout, &[Skin]), construction: usize, assumed: &Assumptions) -> Self {
        let (design, layout, skins) = wing;
        let on = |s: &Skin| sides(design).map(|core_share| OnFoam::of(s, &design.library, core_share, assumed));
        Self {
            on_foam: skins.get(construction).map_or([None; 2], on),
            landings: landings(wing, assumed, |zone| layout.zones[zone].construction == construction),
        }
    }
}

/// Share of the cold core strength left on the lower and on the upper side.
fn sides(design: &Design) -> [f64; 2] {
    [false, true].map(|upper| design.service.core_share(upper))
}

fn landings(
    (design, layout, skins): (&Design, &Layout, &[Skin]),
    assumed: &Assumptions,
    zone: impl Fn(usize) -> bool,
) -> Vec<(Landing, Option<OnFoam>)> {
    let on = |l: &Landing| {
        let upper = layout.zones.get(l.zone).is_some_and(|z| z.strip.is_upper());
        OnFoam::of(&l.skin, &design.library, design.service.core_share(upper), assumed)
    };
    let all = care::landings(design, layout, skins, assumed).into_iter().filter(|l| zone(l.zone));
    all.map(|l| (on(&l), l)).map(|(foam, l)| (l, foam)).collect()
}

impl<'a> Ground<'a> {
    pub fn new(wing: (&'a Design, &'a Layout, &'a [Skin]), half_wing_kg: f64, assumed: &'a Assumptions) -> Self {
        let (design, layout, skins) = wing;
        let used = |i: &usize| layout.zones.iter().any(|z| z.construction == *i);
        let on =
            |i: usize| (i, sides(design).map(|core_share| OnFoam::of(&skins[i], &design.library, core_share, assumed)));
        Self {
            design,
            layout,
            skins,
            half_wing_kg,
            assumed,
            landings: landings(wing, assumed, |_| true),
            joints: joints(layout, skins),
            on_foam: (0..skins.len()).filter(used).map(on).collect(),
        }
    }

    /// The same for one construction only, what it is to the ground known, boundary joints left out.
    pub fn under(
        wing: (&'a Design, &'a Layout, &'a [Skin]),
        half_wing_kg: f64,
        assumed: &'a Assumptions,
        (construction, foot): (usize, &Underfoot),
    ) -> Self {
        let (design, layout, skins) = wing;
        Self {
            design,
            layout,
            skins,
            half_wing_kg,
            assumed,
            landings: foot.landings.clone(),
            joints: Vec::new(),
            on_foam: vec![(construction, foot.on_foam)],
        }
    }

    /// The face on foam of a construction on a side.
    pub(super) fn on_foam(&self, construction: usize, upper: bool) -> Option<&OnFoam> {
        let (_, on) = self.on_foam.iter().find(|f| f.0 == construction)?;
        on[usize::from(upper)].as_ref()
    }

    /// Hand every term with its chances to `each`.
    pub fn each(&self, each: &mut impl FnMut(&Term, &Chances)) {
        self.events(&mut |contacts, places| {
            for p in places {
                let a = &contacts[p.alike];
                each(&Term { zone: p.zone, per_100: p.per_100, ..a.term }, &a.chances);
            }
        });
    }

    /// Hand the contacts of every event that happens, and the places where each is met, to `each`.
    pub fn events(&self, each: &mut impl FnMut(&[Alike], &[Place])) {
        self.events_of(|_| true, each);
    }

    /// The same of some zones only.
    pub(super) fn events_of(&self, zone: impl Fn(usize) -> bool, each: &mut impl FnMut(&[Alike], &[Place])) {
        let field = Field::of(self.layout, self.skins, &self.joints, &zone);
        let totals = field.totals;
        let mut got = Gathered::default();
        for (which, e) in EVENTS.iter().enumerate() {
            let Some(Often { rate, moved, per }) = Often::of(self.design, e, &totals, self.assumed) else { continue };
            got.contacts.clear();
            got.places.clear();
            self.spread((which, e), &per, &field, &mut got);
            let there = |l: &Landing| moved > 0.0 && l.exposure == e.exposure && zone(l.zone);
            for at in self.landings.iter().filter(|(l, _)| there(l)) {
                if let Some(alike) = self.landed((which, e), at, rate * moved * at.0.share) {
                    let (zone, per_100) = (alike.term.zone, alike.term.per_100);
                    got.places.push(Place { alike: got.contacts.len(), zone, per_100 });
                    got.contacts.push(alike);
                }
            }
            each(&got.contacts, &got.places);
        }
    }

    /// One event over all zones: `per` is its times per 100 outings for each unit of each group.
    fn spread(&self, event: (usize, &Event), per: &[f64; 6], field: &Field, got: &mut Gathered) {
        let e = event.1;
        got.stands.clear();
        got.stands.resize(field.sides, None);
        got.met.clear();
        got.met.resize((field.sides + field.panels) * SPOTS, None);
        let ways = KINDS.map(|k| Way::of(k, e));
        let reach_m = resistance::radius_m(e.contact) + RIB_REACH_M;
        for z in &field.zones {
            let g = &z.groups;
            let on_edge = per[3] * g[3];
            let on_face = per[0] * g[0] + per[1] * g[1] + per[2] * g[2] + per[4] * g[4] + per[5] * g[5];
            if on_edge + on_face <= 0.0 {
                continue;
            }
            let way = &ways[z.kind as usize];
            let over = if way.ribs { (reach_m * z.ribs_per_m).min(1.0) } else { 0.0 };
            // A boundary joint stands on a rib: what falls beside it is part of what falls on ribs.
            let joint = if way.joints { (reach_m * z.joints_per_m).min(1.0) } else { 0.0 };
            let over = (over - joint).max(0.0);
            let parts: [(Spot, f64); SPOTS] = [
                (Spot::Mid, on_face * (1.0 - over - joint)),
                (Spot::Rib, on_face * over),
                (Spot::Joint, on_face * joint),
                (Spot::Edge, on_edge),
            ];
            for (spot, per_100) in parts {
                if per_100 <= 0.0 {
                    continue;
                }
                let spot = if way.edge_as_inside && spot == Spot::Edge { Spot::Mid } else { spot };
                let by_panel = (way.by_panel[spot as usize] && !resistance::rib_bay_is_full(z.kind, spot, &z.panel))
                    || harder_here(e.cause, spot, &z.panel);
                let slot = if by_panel { field.sides + z.alike } else { z.side } * SPOTS + spot as usize;
                let alike = match got.met[slot] {
                    Some(known) => known,
                    None => self.contact(event, z, spot, got),
                };
                got.met[slot] = Some(alike);
                got.contacts[alike].term.per_100 += per_100;
                got.places.push(Place { alike, zone: z.zone, per_100 });
            }
        }
    }

    /// A contact met for the first time in this event.
    fn contact(&self, event: (usize, &Event), z: &Exposed, spot: Spot, got: &mut Gathered) -> usize {
        let s = &self.skins[z.construction];
        let stand = *got.stands[z.side].get_or_insert_with(|| {
            let foam = self.on_foam(z.construction, z.upper);
            resistance::stand_on(s, &self.design.library, event.1.contact, foam, self.assumed)
        });
        let term = self.term(event, (z.zone, s), (spot, &z.panel), &stand);
        got.contacts.push(Alike { term, chances: term.chances() });
        got.contacts.len() - 1
    }

    pub(super) fn term(
        &self,
        event: (usize, &Event),
        zone: (usize, &Skin),
        at: (Spot, &PanelHere),
        stand: &Stand,
    ) -> Term {
        let ((which, e), (i, s), (spot, panel)) = (event, zone, at);
        let stands = resistance::here(s, &self.design.library, e.contact, stand, at, self.assumed);
        let soft = matches!(e.contact, Contact::Pad { .. } | Contact::Pressure { .. });
        let scatter = if soft { BETA_CONTACT } else { 0.0 };
        let radius_m = match spot {
            Spot::Edge => EDGE_RADIUS_M,
            _ if panel.radius_m.is_finite() => {
                let bay = self.layout.zones.get(i).and_then(|z| self.layout.bays.get(z.bay));
                bay.map_or(panel.radius_m, |b| b.mid.nose_radius_m).max(EDGE_RADIUS_M)
            }
            _ => FLAT_RADIUS_M,
        };
        let springs = matches!(e.cause, Cause::SetDown { .. });
        let stiffness_n_m = if springs { stiffness(s, stand, spot, panel) } else { 0.0 };
        let (beta_resistance, kept) = s.dispersion(Form::of(s.kind, e.contact));
        let met = Met { half_wing_kg: self.half_wing_kg, stiffness_n_m, radius_m };
        Term {
            event: which,
            zone: i,
            kind: s.kind,
            spot,
            per_100: 0.0,
            severity: e.cause.severity(&met) * self.assumed.of(crate::physics::assumptions::Assumed::Severity),
            beta_severity: (e.beta * e.beta + scatter * scatter).sqrt(),
            stands,
            beta_resistance,
            kept,
            tears: stand.tears,
        }
    }

    /// A lift or rest that lands where it should.
    pub(super) fn landed(&self, event: (usize, &Event), at: &(Landing, Option<OnFoam>), per_100: f64) -> Option<Alike> {
        let (l, foam) = at;
        let z = self.layout.zones.get(l.zone).filter(|_| l.skin.kind != Kind::Open)?;
        let e = match (l.pad_m2, event.1.cause) {
            (Some(area), Cause::OnPad { share, shock, .. }) => {
                Event { cause: Cause::OnPad { share, shock, pad_m2: area }, ..*event.1 }
            }
            _ => *event.1,
        };
        let stand = resistance::stand_on(&l.skin, &self.design.library, e.contact, foam.as_ref(), self.assumed);
        let mut term = self.term((event.0, &e), (l.zone, &l.skin), (Spot::Mid, &panel_of(z)), &stand);
        term.per_100 = per_100;
        Some(Alike { term, chances: term.chances() })
    }
}

/// Whether an event on an edge goes as it does between the ribs: soft things, and coverings.
fn as_inside(kind: Kind, e: &Event) -> bool {
    let soft = matches!(e.contact, Contact::Pad { .. } | Contact::Pressure { .. });
    !matches!(e.cause, Cause::Strap { .. }) && (kind == Kind::Covering || (kind == Kind::Sandwich && soft))
}

/// Whether a cause is harder or softer for the panel it meets: its give under what is set down, its curve under a strap.
pub(super) fn harder_here(cause: Cause, spot: Spot, at: &PanelHere) -> bool {
    match cause {
        Cause::SetDown { .. } => !spot.over_a_rib(),
        Cause::Strap { .. } => spot != Spot::Edge && at.radius_m.is_finite(),
        _ => false,
    }
}

/// Whether a contact over a rib differs from one between ribs.
fn ribs_count(kind: Kind, c: Contact) -> bool {
    match c {
        Contact::Blow { local, .. } => !local || kind == Kind::Covering,
        Contact::Ball { .. } => kind == Kind::Covering,
        _ => false,
    }
}

/// Stiffness of contact and zone together, N/m, as a thing set down on it feels it.
fn stiffness(s: &Skin, stand: &Stand, spot: Spot, at: &PanelHere) -> f64 {
    if s.kind == Kind::Covering {
        // A taut cloth gives some centimetres to its piercing load. An allowance.
        return stand.load[2] / 0.03;
    }
    let contact = stand.load[0] / MARK_M;
    if spot.over_a_rib() {
        return contact;
    }
    let d = s.d.s11.min(s.d.s22).max(1e-6);
    let give = super::panel::give_n_m(d, s.s_n_m, (s.a.s11 * s.a.s22).max(1.0).sqrt(), at, 0.01);
    1.0 / (1.0 / contact.max(1.0) + 1.0 / give.max(1.0))
}
