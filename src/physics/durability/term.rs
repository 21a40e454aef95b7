//! One event on one place of one zone: how often, how hard, what it meets, and what comes of it.

use std::cell::RefCell;
use std::sync::Arc;

use crate::physics::assumptions::Assumptions;
use crate::physics::design::{Design, Strip};
use crate::physics::durability::care::{self, Landing};
use crate::physics::durability::contacts::{Class, Common, Faced, Memory, Resists, Side};
use crate::physics::durability::events::{EVENTS, Event};
use crate::physics::durability::field::{self, Codes, Comes, Exposed, Falls, Field, SPOTS, Which};
use crate::physics::durability::fragility;
use crate::physics::durability::panel::PanelHere;
use crate::physics::durability::resistance::{Answer, OnFoam, Spot, Stand};
use crate::physics::durability::spread::Scatter;
use crate::physics::kept::Stamped;
use crate::physics::laminate::construction::{Kind, Skin};
use crate::physics::wing::layout::{Layout, Zone};

/// Scatter of the area of hands and pads: it stays with the event when samples narrow the resistance. Assumption.
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
    /// Median severity and its spread; median resistance of the three states, the spread of each, and how each answers to the
    /// load of its form.
    pub severity: f64,
    pub beta_severity: f64,
    pub stands: [f64; 3],
    pub beta_resistance: [f64; 3],
    pub answers: [Answer; 3],
    /// Power of the load of its form in the strength of foam, and share of the spread of the form that samples left; 1 without.
    pub foam: f64,
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
            let beta = self.beta(i);
            let (p, density) = fragility::exceeds_by(self.severity / self.stands[i], beta);
            (out.p[i], out.slope[i]) = (p.min(above), density / beta);
            above = out.p[i];
            // What stands more is not exceeded either, unless it scatters more.
            if p <= 0.0 && self.beta_resistance[2] <= self.beta_resistance[i] {
                break;
            }
        }
        out.marked_by(self);
        out
    }

    /// Spread of severity and of the resistance of a state together.
    pub(super) fn beta(&self, state: usize) -> f64 {
        let resists = self.beta_resistance[state];
        (self.beta_severity * self.beta_severity + resists * resists).sqrt()
    }
}

impl Chances {
    /// A covering has no mark of its own: slack or pierced counts as marked.
    pub(super) const fn marked_by(&mut self, t: &Term) {
        if t.stands[0].is_infinite() {
            (self.p[0], self.slope[0]) = (self.p[1], self.slope[1]);
        }
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

/// Parts of a zone beside its boundary joints, for each metre of reach, 1/m: rigid skin on one side, covering on the other;
/// along the span at the closing rib, across the chord where an aft strip is divided.
/// Unchecked: no outside check runs it by itself.
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
pub(super) const EDGE_RADIUS_M: f64 = 0.010;

/// A flat panel for contacts on which the panel does not count.
const ANY_PANEL: PanelHere = PanelHere { width_m: 0.5, length_m: 0.5, arc_m: 0.5, radius_m: f64::INFINITY };

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

/// What a construction is to the ground it lies on, whatever the wing weighs: its sides, and what is under holds and rests
/// where they lie on it.
#[derive(Debug, Clone)]
pub struct Underfoot {
    sides: Option<[Arc<Faced>; 2]>,
    landings: Vec<(Landing, Arc<Faced>)>,
}

impl Underfoot {
    /// Of a construction on a layout where it stands wherever it is asked about.
    pub fn of(wing: (&Design, &Layout, &[Skin]), construction: usize, assumed: &Assumptions) -> Self {
        let (design, layout, skins) = wing;
        let common = Common::of(design, assumed);
        Self {
            sides: skins.get(construction).map(|s| [false, true].map(|upper| Arc::new(common.faced(s, upper)))),
            landings: landings(
                wing,
                assumed,
                |zone| layout.zones[zone].construction == construction,
                |skin, upper| Arc::new(common.faced(skin, upper)),
            ),
        }
    }
}

fn landings(
    (design, layout, skins): (&Design, &Layout, &[Skin]),
    assumed: &Assumptions,
    zone: impl Fn(usize) -> bool,
    mut faced: impl FnMut(&Skin, bool) -> Arc<Faced>,
) -> Vec<(Landing, Arc<Faced>)> {
    let mut on = |l: Landing| {
        let upper = layout.zones.get(l.zone).is_some_and(|z| z.strip.is_upper());
        let faced = faced(&l.skin, upper);
        (l, faced)
    };
    care::landings(design, layout, skins, assumed).into_iter().filter(|l| zone(l.zone)).map(&mut on).collect()
}

/// The whole wing as terms are made from it.
pub struct Ground<'a> {
    pub design: &'a Design,
    pub layout: &'a Layout,
    pub skins: &'a [Skin],
    pub half_wing_kg: f64,
    pub assumed: &'a Assumptions,
    /// The events as this scenario has them.
    pub(super) events: &'a [Event; EVENTS.len()],
    /// Where lifts and rests land, and what the skin there stands.
    pub(super) landings: Vec<(Landing, Arc<Faced>)>,
    /// [`joints`] of every zone.
    pub joints: Vec<f64>,
    /// Each construction in use on the lower and on the upper side.
    sides: Vec<Option<[Side<'a>; 2]>>,
    pub(super) memory: RefCell<Memory>,
}

/// A contact that goes the same way wherever it is met: its term (times per 100 outings over all those places) and chances.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Alike {
    pub term: Term,
    pub chances: Chances,
}

/// What is met on some zones: the contacts, and the places where each is met, zone by zone, those that lifts and rests were
/// moved to last.
pub(super) struct Met {
    pub(super) contacts: Vec<Alike>,
    pub(super) places: Vec<Place>,
}

/// A place where a contact is met: which of [`Met::contacts`], the zone, times per 100 outings.
#[derive(Debug, Clone, Copy)]
pub(super) struct Place {
    pub(super) contact: u32,
    pub(super) zone: u32,
    pub(super) per_100: f64,
}

/// Some zones, what falls on each, and by class the first of its zones with the contacts that are met there.
pub(super) struct Gathered<'g> {
    pub(super) field: Field,
    pub(super) falls: Vec<Stamped<Falls>>,
    pub(super) classes: Vec<(usize, usize, Class<'g>)>,
}

impl Met {
    /// The contact of a place.
    pub(super) fn contact(&self, p: &Place) -> &Alike {
        &self.contacts[p.contact as usize]
    }
}

impl<'a> Ground<'a> {
    pub fn new(wing: (&'a Design, &'a Layout, &'a [Skin]), half_wing_kg: f64, assumed: &'a Assumptions) -> Self {
        Self::again(wing, half_wing_kg, assumed, Memory::forgetting())
    }

    /// The same, with what was kept; [`Ground::into_memory`] gives it back.
    pub(crate) fn again(
        wing: (&'a Design, &'a Layout, &'a [Skin]),
        half_wing_kg: f64,
        assumed: &'a Assumptions,
        mut memory: Memory,
    ) -> Self {
        let (design, layout, skins) = wing;
        memory.begin();
        let common = memory.common(Common::of(design, assumed));
        let landings = landings(wing, assumed, |_| true, |skin, upper| memory.faced(skin, upper, common));
        let mut used = vec![false; skins.len()];
        for z in &layout.zones {
            if let Some(u) = used.get_mut(z.construction) {
                *u = true;
            }
        }
        let mut both = |s: &'a Skin| {
            let lower = memory.side(s, false, common);
            // Only foam feels which side it is on.
            let upper = if s.foam.is_some() { memory.side(s, true, common) } else { lower.clone() };
            [lower, upper]
        };
        let sides = skins.iter().zip(used).map(|(s, used)| used.then(|| both(s))).collect();
        let joints = joints(layout, skins);
        let events = &design.care.catalogue.events;
        Self {
            design,
            layout,
            skins,
            half_wing_kg,
            assumed,
            events,
            landings,
            joints,
            sides,
            memory: RefCell::new(memory),
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
        let mut memory = Memory::forgetting();
        let common = memory.common(Common::of(design, assumed));
        let known = skins.get(construction).zip(foot.sides.as_ref());
        let known = known.map(|(s, sides)| [0, 1].map(|i| memory.known_side(s, i == 1, common, &sides[i])));
        let mut sides: Vec<Option<[Side; 2]>> = vec![None; skins.len()];
        if let Some(own) = sides.get_mut(construction) {
            *own = known;
        }
        let (landings, joints, memory) = (foot.landings.clone(), Vec::new(), RefCell::new(memory));
        let events = &design.care.catalogue.events;
        Self { design, layout, skins, half_wing_kg, assumed, events, landings, joints, sides, memory }
    }

    /// What was kept, for the next.
    pub(crate) fn into_memory(self) -> Memory {
        self.memory.into_inner()
    }

    /// The face on foam of a construction on a side.
    pub(super) fn on_foam(&self, construction: usize, upper: bool) -> Option<&OnFoam> {
        self.side(construction, upper)?.foam()
    }

    /// A construction in use on a side.
    pub(super) fn side(&self, construction: usize, upper: bool) -> Option<&Side<'a>> {
        Some(&self.sides.get(construction)?.as_ref()?[usize::from(upper)])
    }

    /// Hand every term with its chances to `each`, event by event.
    pub fn each(&self, each: &mut impl FnMut(&Term, &Chances)) {
        let met = self.met(|_| true);
        let mut places = met.places.clone();
        places.sort_by_key(|p| met.contact(p).term.event);
        for p in &places {
            let a = met.contact(p);
            each(&Term { zone: p.zone as usize, per_100: p.per_100, ..a.term }, &a.chances);
        }
    }

    /// Some zones, what falls on each, and by class what it meets there.
    pub(super) fn gather(&self, memory: &mut Memory, zone: impl Fn(usize) -> bool) -> Gathered<'_> {
        let field = Field::of(self.layout, self.skins, &self.joints, zone);
        let falls = memory.falls(&field.zones, &self.per(&field.totals));
        let mut codes: Vec<(Codes, Option<&Exposed>)> = vec![(0, None); field.classes()];
        for (z, falls) in field.zones.iter().zip(&falls) {
            for (class, codes_there) in z.classes(&field).into_iter().zip(falls.codes) {
                let (all, first) = &mut codes[class];
                *all |= codes_there;
                first.get_or_insert(z);
            }
        }
        let of = |(class, (codes, z)): (usize, (Codes, Option<&Exposed>))| {
            let z = z.filter(|_| codes != 0)?;
            let side = self.side(z.construction, z.upper)?;
            // Where the panel does not count any panel will do, and no zone moving to or from the class changes it.
            let (panel, radius_m) = if class < field.sides {
                (ANY_PANEL, FLAT_RADIUS_M)
            } else {
                (z.panel.of_class(), self.radius_m(z.zone, &z.panel))
            };
            Some((class, z.zone, Class { side, panel, radius_m, codes }))
        };
        let classes = codes.into_iter().enumerate().filter_map(of).collect();
        Gathered { field, falls, classes }
    }

    /// What a contact comes to on a wing of this weight.
    pub(super) fn alike(&self, here: &Resists, zone: usize) -> Alike {
        let term = here.term((&self.events[here.code / SPOTS], zone), self.half_wing_kg, self.assumed);
        Alike { term, chances: term.chances() }
    }

    /// What is met on some zones.
    pub(super) fn met(&self, zone: impl Fn(usize) -> bool) -> Met {
        let mut memory = self.memory.take();
        let Gathered { field, falls, classes } = self.gather(&mut memory, &zone);
        self.memory.replace(memory);
        let met: usize = falls.iter().map(|f| f.met.len()).sum();
        let mut out = Met { contacts: Vec::with_capacity(classes.len() * 8), places: Vec::with_capacity(met + 16) };
        let mut met = vec![(0, Which::NONE); field.classes()];
        for (class, zone, contacts) in &classes {
            let first = out.contacts.len();
            out.contacts.extend(contacts.resists(Codes::MAX).map(|here| self.alike(&here, *zone)));
            met[*class] = (first, Which::of(field::each(contacts.codes)));
        }
        for (z, falls) in field.zones.iter().zip(falls) {
            let there = z.classes(&field).map(|class| &met[class]);
            for f in &*falls.met {
                let (first, which) = there[f.class as usize];
                let Some(contact) = which.at(f).map(|i| first + i) else { continue };
                out.contacts[contact].term.per_100 += f.per_100;
                out.places.push(Place { contact: contact as u32, zone: z.zone as u32, per_100: f.per_100 });
            }
        }
        self.land(&zone, |alike| {
            let (zone, per_100) = (alike.term.zone as u32, alike.term.per_100);
            out.places.push(Place { contact: out.contacts.len() as u32, zone, per_100 });
            out.contacts.push(alike);
        });
        out
    }

    /// How each event comes that comes at all, in the order of [`field::ORDER`].
    fn per(&self, totals: &[f64; 6]) -> Vec<Comes> {
        let comes = |event: usize| {
            let e = &self.events[event];
            let often = Often::of(self.design, e, totals, self.assumed)?;
            Some(Comes { event, per: often.per, reach_m: field::reach_m(e) })
        };
        field::ORDER.into_iter().filter_map(comes).collect()
    }

    /// Radius of the skin under a strap, m.
    fn radius_m(&self, zone: usize, panel: &PanelHere) -> f64 {
        if panel.radius_m.is_infinite() {
            return FLAT_RADIUS_M;
        }
        let bay = self.layout.zones.get(zone).and_then(|z| self.layout.bays.get(z.bay));
        bay.map_or(panel.radius_m, |b| b.mid.nose_radius_m).max(EDGE_RADIUS_M)
    }

    /// Lifts and rests that land where they should.
    pub(super) fn land(&self, zone: impl Fn(usize) -> bool, mut each: impl FnMut(Alike)) {
        for (which, e) in self.events.iter().enumerate() {
            let moved = care::moved(self.design, e);
            let rate = if moved > 0.0 { care::rate(self.design, e, self.assumed) } else { 0.0 };
            if rate <= 0.0 {
                continue;
            }
            for at in self.landings.iter().filter(|(l, _)| l.exposure == e.exposure && zone(l.zone)) {
                self.landed((which, e), at, rate * moved * at.0.share).into_iter().for_each(&mut each);
            }
        }
    }

    /// A lift or rest that lands where it should.
    pub(super) fn landed(&self, event: (usize, &Event), at: &(Landing, Arc<Faced>), per_100: f64) -> Option<Alike> {
        let (l, faced) = at;
        let z = self.layout.zones.get(l.zone).filter(|_| l.skin.kind != Kind::Open)?;
        let e = l.pad_m2.map_or(*event.1, |area| Event { cause: event.1.cause.on_pad(area), ..*event.1 });
        let term = self.term((event.0, &e), (l.zone, &l.skin), (Spot::Mid, &panel_of(z)), faced.stand(event.0));
        let term = Term { per_100, ..term };
        Some(Alike { term, chances: term.chances() })
    }

    /// An event at a spot of a zone on a skin that stands so much; how often is for the caller to say.
    #[inline]
    pub(super) fn term(
        &self,
        (event, e): (usize, &Event),
        (zone, skin): (usize, &Skin),
        (spot, panel): (Spot, &PanelHere),
        stand: &(Stand, Scatter),
    ) -> Term {
        let radius_m = if spot == Spot::Edge { EDGE_RADIUS_M } else { self.radius_m(zone, panel) };
        let with = (&*self.design.library, self.assumed);
        let code = event * SPOTS + spot as usize;
        let here = Resists::of((code, e), (skin, stand), (spot, panel), radius_m, with);
        here.term((e, zone), self.half_wing_kg, self.assumed)
    }
}
