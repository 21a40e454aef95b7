//! One event on one place of one zone: how often, how hard, what it meets, and what comes of it.

use crate::physics::assumptions::Assumptions;
use crate::physics::design::Design;
use crate::physics::durability::care::{self, Landing};
use crate::physics::durability::cause::Met;
use crate::physics::durability::events::{Contact, EVENTS, Event};
use crate::physics::durability::panel::PanelHere;
use crate::physics::durability::resistance::{self, MARK_M, Spot, Stand};
use crate::physics::durability::{covering, fragility};
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
        let ln_s = self.severity.ln();
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
            let (p, density) = fragility::exceeds((ln_s - self.stands[i].ln()) / beta);
            (out.p[i], out.slope[i]) = (p.min(above), density / beta);
            above = out.p[i];
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
}

/// What a construction on one side of the wing does under one event, kept while that event is gone through.
#[derive(Clone, Copy)]
struct Kept {
    stand: Stand,
    /// Term and chances at each spot where nothing depends on the zone.
    spots: [Option<(Term, Chances)>; 3],
}

impl Ground<'_> {
    /// Hand every term with its chances to `each`.
    pub fn each(&self, each: &mut impl FnMut(&Term, &Chances)) {
        let zones = &self.layout.zones;
        let groups: Vec<[f64; 6]> = zones.iter().map(zone_groups).collect();
        let mut totals = [0.0; 6];
        for g in &groups {
            for (t, v) in totals.iter_mut().zip(g) {
                *t += v;
            }
        }
        let panels: Vec<PanelHere> = zones.iter().map(panel_of).collect();
        let heat = [false, true].map(|upper| self.design.service.core_share(upper));
        let landings = care::landings(self.design, self.layout, self.skins, self.assumed);
        let mut kept: Vec<Option<Kept>> = Vec::new();
        for (which, e) in EVENTS.iter().enumerate() {
            let rate = care::rate(self.design, e, self.assumed);
            if rate <= 0.0 {
                continue;
            }
            let moved = care::moved(self.design, e);
            let share = shares(e, &totals);
            let per: [f64; 6] = std::array::from_fn(|g| if totals[g] > 0.0 { share[g] / totals[g] } else { 0.0 });
            let hits = if e.hits_per_m2 > 0.0 { e.hits_per_m2 * 2.0 * (totals[0] / 2.0 + totals[1]) } else { 1.0 };
            let f = rate * (1.0 - moved) * hits;
            kept.clear();
            kept.resize(self.skins.len() * 2, None);
            for (i, z) in zones.iter().enumerate() {
                let Some(s) = self.skins.get(z.construction) else { continue };
                if s.kind == Kind::Open {
                    continue;
                }
                let on_edge = f * per[3] * groups[i][3];
                let on_face = f * (0..6).filter(|g| *g != 3).map(|g| per[g] * groups[i][g]).sum::<f64>();
                if on_edge + on_face <= 0.0 {
                    continue;
                }
                let upper = usize::from(z.strip.is_upper());
                let slot = z.construction * 2 + upper;
                let mut k = kept[slot].unwrap_or_else(|| Kept {
                    stand: resistance::stand(s, &self.design.library, e.contact, heat[upper], self.assumed),
                    spots: [None; 3],
                });
                let over = if ribs_count(s.kind, e.contact) {
                    rib_share(&panels[i], resistance::radius_m(e.contact))
                } else {
                    0.0
                };
                let parts = [(Spot::Mid, on_face * (1.0 - over)), (Spot::Rib, on_face * over), (Spot::Edge, on_edge)];
                let alike = !e.cause.zone_counts() && !resistance::zone_counts(s.kind, e.contact);
                for (n, (spot, per_100)) in parts.into_iter().enumerate().filter(|(_, (_, n))| *n > 0.0) {
                    let (term, chances) = match k.spots[n] {
                        Some(known) if alike => known,
                        _ => {
                            let term = self.term((which, e), (i, s), (spot, &panels[i]), &k.stand);
                            (term, term.chances())
                        }
                    };
                    if alike {
                        k.spots[n] = Some((term, chances));
                    }
                    each(&Term { zone: i, per_100, ..term }, &chances);
                }
                kept[slot] = Some(k);
            }
            for l in landings.iter().filter(|l| moved > 0.0 && l.exposure == e.exposure) {
                self.land((which, e), l, rate * moved * l.share, each);
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
        let met = Met { half_wing_kg: self.half_wing_kg, stiffness_n_m: stiffness(s, stand, spot, panel), radius_m };
        let cover = s.covering.and_then(|u| self.design.library.coverings.get(u.covering).map(|m| (u, m)));
        let tears = cover
            .map_or(0.0, |(u, m)| covering::tear_chance(u.pretension_n_m, resistance::radius_m(e.contact), m.tear_n));
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
            tears,
        }
    }

    /// A lift or rest that lands where it should.
    fn land(&self, event: (usize, &Event), l: &Landing, per_100: f64, each: &mut impl FnMut(&Term, &Chances)) {
        let Some(z) = self.layout.zones.get(l.zone) else { return };
        if l.skin.kind == Kind::Open {
            return;
        }
        let e = match (l.pad_m2, event.1.cause) {
            (Some(area), crate::physics::durability::cause::Cause::OnPad { share, shock, .. }) => Event {
                cause: crate::physics::durability::cause::Cause::OnPad { share, shock, pad_m2: area },
                ..*event.1
            },
            _ => *event.1,
        };
        let heat = self.design.service.core_share(z.strip.is_upper());
        let stand = resistance::stand(&l.skin, &self.design.library, e.contact, heat, self.assumed);
        let mut term = self.term((event.0, &e), (l.zone, &l.skin), (Spot::Mid, &panel_of(z)), &stand);
        term.per_100 = per_100;
        each(&term, &term.chances());
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
