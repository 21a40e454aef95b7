//! One event on one place of one zone: how often, how hard, what it meets, and what comes of it.

use crate::physics::assumptions::Assumptions;
use crate::physics::design::Design;
use crate::physics::durability::care::{self, Landing};
use crate::physics::durability::cause::{Cause, Met};
use crate::physics::durability::events::{Contact, EVENTS, Event};
use crate::physics::durability::fragility;
use crate::physics::durability::panel::PanelHere;
use crate::physics::durability::resistance::{self, MARK_M, OnFoam, Spot, Stand};
use crate::physics::laminate::construction::{Kind, Skin};
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
/// Unchecked: no outside check runs it by itself.
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
/// Unchecked: no outside check runs it by itself.
pub fn panel_of(z: &Zone) -> PanelHere {
    let width_m = z.length_m.min(z.arc_m).max(0.05);
    PanelHere { width_m, length_m: z.length_m, arc_m: z.arc_m, radius_m: z.radius_m }
}

/// Half of the width beside a rib or spar in which a blow finds nothing that gives: the contact and this, m. An assumption.
const RIB_REACH_M: f64 = 0.012;

/// Share of a zone that lies over its ribs and spar.
fn rib_share(at: &PanelHere, radius_m: f64) -> f64 {
    let reach = radius_m + RIB_REACH_M;
    (2.0 * reach / at.length_m.max(1e-3) + reach / at.arc_m.max(1e-3)).min(1.0)
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
    /// The face on foam of each construction on the lower and on the upper side.
    on_foam: Vec<[Option<OnFoam>; 2]>,
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

/// Zones in classes within which a contact goes the same way: by construction and side; and by panel too.
struct Classes {
    /// Class of each zone, and how many classes there are.
    panel: Vec<usize>,
    panels: usize,
}

impl Classes {
    fn of(zones: &[Zone], panels: &[PanelHere], skins: &[Skin]) -> Self {
        let has_foam = |which: usize| skins.get(which).is_some_and(|s| s.foam.is_some());
        let alike = |i: usize, k: usize| {
            let ((a, b), (p, q)) = ((&zones[i], &zones[k]), (&panels[i], &panels[k]));
            a.construction == b.construction
                && (a.strip.is_upper() == b.strip.is_upper() || !has_foam(a.construction))
                && p.width_m == q.width_m
                && p.radius_m == q.radius_m
                // Under a strap the radius of a nose is that of its bay.
                && (p.radius_m.is_infinite() || a.bay == b.bay)
        };
        let mut first: Vec<usize> = Vec::new();
        let panel = (0..zones.len())
            .map(|i| {
                first.iter().rposition(|k| alike(i, *k)).unwrap_or_else(|| {
                    first.push(i);
                    first.len() - 1
                })
            })
            .collect();
        Self { panel, panels: first.len() }
    }
}

impl<'a> Ground<'a> {
    pub fn new(wing: (&'a Design, &'a Layout, &'a [Skin]), half_wing_kg: f64, assumed: &'a Assumptions) -> Self {
        let (design, layout, skins) = wing;
        let used = |i: usize| layout.zones.iter().any(|z| z.construction == i);
        let heat = [false, true].map(|upper| design.service.core_share(upper));
        let on = |s: &Skin, upper: usize| OnFoam::of(s, &design.library, heat[upper], assumed);
        let landings = care::landings(design, layout, skins, assumed)
            .into_iter()
            .map(|l| {
                let upper = layout.zones.get(l.zone).is_some_and(|z| z.strip.is_upper());
                let foam = on(&l.skin, usize::from(upper));
                (l, foam)
            })
            .collect();
        let both = |(i, s)| if used(i) { [on(s, 0), on(s, 1)] } else { [None; 2] };
        let on_foam = skins.iter().enumerate().map(both).collect();
        Self { design, layout, skins, half_wing_kg, assumed, landings, on_foam }
    }

    /// The face on foam of a construction on a side.
    pub(super) fn on_foam(&self, construction: usize, upper: bool) -> Option<&OnFoam> {
        self.on_foam.get(construction)?[usize::from(upper)].as_ref()
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
        let zones = &self.layout.zones;
        let groups: Vec<[f64; 6]> = zones.iter().map(zone_groups).collect();
        let mut totals = [0.0; 6];
        for g in &groups {
            for (t, v) in totals.iter_mut().zip(g) {
                *t += v;
            }
        }
        let panels: Vec<PanelHere> = zones.iter().map(panel_of).collect();
        let classes = Classes::of(zones, &panels, self.skins);
        let mut got = Gathered::default();
        for (which, e) in EVENTS.iter().enumerate() {
            let rate = care::rate(self.design, e, self.assumed);
            if rate <= 0.0 {
                continue;
            }
            got.contacts.clear();
            got.places.clear();
            let moved = care::moved(self.design, e);
            let share = shares(e, &totals);
            let per: [f64; 6] = std::array::from_fn(|g| if totals[g] > 0.0 { share[g] / totals[g] } else { 0.0 });
            let hits = if e.hits_per_m2 > 0.0 { e.hits_per_m2 * 2.0 * (totals[0] / 2.0 + totals[1]) } else { 1.0 };
            let f = rate * (1.0 - moved) * hits;
            let per = per.map(|p| f * p);
            self.spread((which, e), (&groups, &per), (&panels, &classes), &mut got);
            for at in self.landings.iter().filter(|(l, _)| moved > 0.0 && l.exposure == e.exposure) {
                self.land((which, e), at, rate * moved * at.0.share, &mut got);
            }
            each(&got.contacts, &got.places);
        }
    }

    /// One event over all zones: `per` is its times per 100 outings for each unit of each group.
    fn spread(
        &self,
        event: (usize, &Event),
        exposed: (&[[f64; 6]], &[f64; 6]),
        ground: (&[PanelHere], &Classes),
        got: &mut Gathered,
    ) {
        let (e, (groups, per), (panels, classes)) = (event.1, exposed, ground);
        got.stands.clear();
        got.stands.resize(self.skins.len() * 2, None);
        got.met.clear();
        got.met.resize((got.stands.len() + classes.panels) * 3, None);
        for (i, z) in self.layout.zones.iter().enumerate() {
            let Some(s) = self.skins.get(z.construction) else { continue };
            if s.kind == Kind::Open {
                continue;
            }
            let (on_edge, g) = (per[3] * groups[i][3], &groups[i]);
            let on_face = per[0] * g[0] + per[1] * g[1] + per[2] * g[2] + per[4] * g[4] + per[5] * g[5];
            if on_edge + on_face <= 0.0 {
                continue;
            }
            let upper = z.strip.is_upper();
            // Only foam feels which side of the wing the sun is on.
            let side = z.construction * 2 + usize::from(upper && s.foam.is_some());
            let over = if ribs_count(s.kind, e.contact) {
                rib_share(&panels[i], resistance::radius_m(e.contact))
            } else {
                0.0
            };
            let parts = [(Spot::Mid, on_face * (1.0 - over)), (Spot::Rib, on_face * over), (Spot::Edge, on_edge)];
            for (n, (spot, per_100)) in parts.into_iter().enumerate().filter(|(_, (_, n))| *n > 0.0) {
                let by_panel =
                    resistance::zone_counts(s.kind, e.contact, spot) || harder_here(e.cause, spot, &panels[i]);
                let slot = if by_panel { got.stands.len() + classes.panel[i] } else { side } * 3 + n;
                let alike = got.met[slot].unwrap_or_else(|| {
                    let stand = *got.stands[side].get_or_insert_with(|| {
                        let foam = self.on_foam(z.construction, upper);
                        resistance::stand_on(s, &self.design.library, e.contact, foam, self.assumed)
                    });
                    let term = self.term(event, (i, s), (spot, &panels[i]), &stand);
                    got.contacts.push(Alike { term, chances: term.chances() });
                    got.contacts.len() - 1
                });
                got.met[slot] = Some(alike);
                got.contacts[alike].term.per_100 += per_100;
                got.places.push(Place { alike, zone: i, per_100 });
            }
        }
    }

    fn term(&self, event: (usize, &Event), zone: (usize, &Skin), at: (Spot, &PanelHere), stand: &Stand) -> Term {
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
            beta_resistance: BETA_RESISTANCE,
            tears: stand.tears,
        }
    }

    /// A lift or rest that lands where it should.
    fn land(&self, event: (usize, &Event), at: &(Landing, Option<OnFoam>), per_100: f64, got: &mut Gathered) {
        let (l, foam) = at;
        let Some(z) = self.layout.zones.get(l.zone) else { return };
        if l.skin.kind == Kind::Open {
            return;
        }
        let e = match (l.pad_m2, event.1.cause) {
            (Some(area), Cause::OnPad { share, shock, .. }) => {
                Event { cause: Cause::OnPad { share, shock, pad_m2: area }, ..*event.1 }
            }
            _ => *event.1,
        };
        let stand = resistance::stand_on(&l.skin, &self.design.library, e.contact, foam.as_ref(), self.assumed);
        let mut term = self.term((event.0, &e), (l.zone, &l.skin), (Spot::Mid, &panel_of(z)), &stand);
        term.per_100 = per_100;
        got.places.push(Place { alike: got.contacts.len(), zone: l.zone, per_100 });
        got.contacts.push(Alike { term, chances: term.chances() });
    }
}

/// Whether a cause is harder or softer for the panel it meets: its give under what is set down, its curve under a strap.
fn harder_here(cause: Cause, spot: Spot, at: &PanelHere) -> bool {
    match cause {
        Cause::SetDown { .. } => spot != Spot::Rib,
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
    if spot == Spot::Rib {
        return contact;
    }
    let d = s.d.s11.min(s.d.s22).max(1e-6);
    let give = super::panel::give_n_m(d, s.s_n_m, (s.a.s11 * s.a.s22).max(1.0).sqrt(), at, 0.01);
    1.0 / (1.0 / contact.max(1.0) + 1.0 / give.max(1.0))
}
