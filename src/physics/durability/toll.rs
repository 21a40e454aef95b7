//! What contacts come to: of one contact each time, and of all contacts on all places together. What hangs on the weight of
//! the wing is told apart from what does not, which is kept.

use std::sync::Arc;

use crate::physics::assumptions::{Assumed, Assumptions, LIST};
use crate::physics::design::Design;
use crate::physics::durability::by_weight::{BY_WEIGHT, Leaning, Under};
use crate::physics::durability::care;
use crate::physics::durability::contacts::Class;
use crate::physics::durability::events::{Contact, EVENTS, Event};
use crate::physics::durability::field::{self, Codes, Fall, Falls, SPOTS, Which};
use crate::physics::durability::index::{self, Answering, Cost, Durability};
use crate::physics::durability::repair;
use crate::physics::durability::resistance::Spot;
use crate::physics::durability::term::{Alike, Chances, Gathered, Ground, Term};
use crate::physics::kept::{Inputs, Named, Stamped, To};
use crate::physics::laminate::construction::{KINDS, Kind};
use crate::physics::samples::record::Form;

/// What one damage costs, by kind of surface.
#[derive(Clone, Copy)]
pub(super) struct Costs {
    of: [Cost; KINDS.len()],
    /// By state, what one damage adds to hours, outings lost and unseen.
    adds: [[[f64; 3]; STATES]; KINDS.len()],
}

impl Costs {
    pub(super) fn of(design: &Design, assumed: &Assumptions) -> Self {
        let of = KINDS.map(|k| index::cost(k, design, assumed));
        let adds = of.map(|c| std::array::from_fn(|i| [c.hours[i], c.lost[i], c.unseen[i]]));
        Self { of, adds }
    }
}

impl Inputs for Costs {
    fn put<T: To>(&self, to: &mut T) {
        // What is added is the same put another way.
        let Self { of, adds: _ } = self;
        of.put(to);
    }
}

/// States a contact may leave, each without those beyond it: marked, soft, pierced, torn from rib to rib.
const STATES: usize = 4;

/// What one contact or many come to, one number for each state and then for each [`Part`].
type Sums = [f64; STATES + PARTS];

/// What is added up of contacts beside how often each state is reached.
#[derive(Clone, Copy)]
enum Part {
    /// How the hours answer to ln severity, and to what the contact is stood with ([`Answering`]).
    Slope,
    Form,
    /// To what pierces a face on foam; of a covering to its slackening. No surface has both.
    ThroughOrSlack,
    Give,
    /// How they answer to the form as far as samples left its spread, and through it to the strength of foam.
    KeptForm,
    FoamForm,
}

const PARTS: usize = Part::FoamForm as usize + 1;

/// What a zone adds up: hours, outings lost, unseen, marks.
type OfZone = [f64; 4];

/// What a contact comes to each time it is met.
#[derive(Debug, Clone, Copy)]
pub(super) struct Effect {
    /// Event and spot.
    code: usize,
    kind: Kind,
    zone: OfZone,
    sums: Sums,
}

impl Effect {
    /// Of an event at a spot.
    fn of(code: usize, t: &Term, c: &Chances, costs: &Costs) -> Self {
        let mut out = Self { code, kind: t.kind, zone: [0.0; 4], sums: [0.0; STATES + PARTS] };
        if c.p[0] <= 1e-12 {
            return out;
        }
        let cost = &costs.of[t.kind as usize];
        let exact = [c.p[0] - c.p[1], c.p[1] - c.p[2], c.p[2] * (1.0 - t.tears), c.p[2] * t.tears];
        for (p, adds) in exact.iter().zip(&costs.adds[t.kind as usize]) {
            out.zone.iter_mut().zip(adds).for_each(|(sum, v)| *sum += p * v);
        }
        out.zone[3] = c.p[0];
        let by = index::slope(t, c, &cost.hours);
        let answers = Answering::of(t, &by);
        let form = t.kept * answers.form;
        let second = if t.kind == Kind::Covering { answers.soft } else { answers.through };
        let [marked, soft, pierced, torn] = exact;
        let slope = by[0] + by[1] + by[2];
        out.sums = [marked, soft, pierced, torn, slope, answers.form, second, answers.give, form, t.foam * form];
        out
    }

    const fn hours(&self) -> f64 {
        self.zone[0]
    }
}

const fn on_foam(kind: Kind) -> bool {
    matches!(kind, Kind::Sandwich | Kind::OneFaced)
}

/// Contacts that rest on the same assumptions: of one event on one kind of surface, over a rib or not.
const HEAPS: usize = EVENTS.len() * KINDS.len() * 2;

/// What many contacts come to, over the wing, heap by heap.
struct Heaps {
    sums: Vec<Sums>,
    /// Which of `sums` a heap is, once something lies on it.
    which: [u16; HEAPS],
}

impl Heaps {
    const NOTHING: u16 = u16::MAX;

    fn new() -> Self {
        Self { sums: Vec::with_capacity(EVENTS.len() * 4), which: [Self::NOTHING; HEAPS] }
    }

    /// A contact met so many times.
    fn add(&mut self, e: &Effect, per_100: f64) {
        let over_a_rib = usize::from(Spot::ALL[e.code % SPOTS].over_a_rib());
        let heap = &mut self.which[(e.code / SPOTS * KINDS.len() + e.kind as usize) * 2 + over_a_rib];
        if *heap == Self::NOTHING {
            *heap = self.sums.len() as u16;
            self.sums.push([0.0; STATES + PARTS]);
        }
        for (sum, v) in self.sums[usize::from(*heap)].iter_mut().zip(&e.sums) {
            *sum += per_100 * v;
        }
    }

    /// All of them together.
    fn toll(&self, costs: &Costs) -> Toll {
        let mut out = Toll { events: [[0.0; 6]; EVENTS.len()], wing: [0.0; 3], rests: [0.0; LIST.len()] };
        for (heap, which) in self.which.iter().enumerate() {
            let Some(sums) = self.sums.get(usize::from(*which)) else { continue };
            let (event, kind) = (heap / 2 / KINDS.len(), KINDS[heap / 2 % KINDS.len()]);
            let cost = &costs.of[kind as usize];
            let (times, parts) = sums.split_at(STATES);
            let of = |each: &[f64; STATES]| times.iter().zip(each).map(|(n, v)| n * v).sum::<f64>();
            let in_field = std::array::from_fn(|i| if cost.field[i] { cost.mended[i] } else { 0.0 });
            let hours = of(&cost.hours);
            let soft_h = if on_foam(kind) { times[1] * cost.hours[1] } else { 0.0 };
            let (marks, holes) = (times.iter().sum(), times[2] + times[3]);
            let here = [hours, of(&cost.lost), of(&cost.unseen), marks, soft_h, holes];
            out.events[event].iter_mut().zip(here).for_each(|(sum, v)| *sum += v);
            let wing = [of(&cost.mended), of(&in_field), of(&cost.mass_kg)];
            out.wing.iter_mut().zip(wing).for_each(|(sum, v)| *sum += v);
            out.rest_on((&EVENTS[event], kind, heap % 2 == 1), hours, |p| parts[p as usize]);
        }
        out
    }
}

/// What all contacts come to, over the wing.
#[derive(Debug, Clone)]
pub(super) struct Toll {
    /// By event: hours, outings lost, unseen, marks; hours of soft spots, holes.
    pub(super) events: [[f64; 6]; EVENTS.len()],
    /// Damages mended, of those in the field, and mass, kg.
    pub(super) wing: [f64; 3],
    /// How the hours answer to ln of the factor of each assumption.
    pub(super) rests: [f64; LIST.len()],
}

impl Toll {
    /// What contacts of an event on a kind of surface rest on, their hours and what else they come to.
    fn rest_on(&mut self, at: (&Event, Kind, bool), hours: f64, part: impl Fn(Part) -> f64) {
        let (event, kind, over_a_rib) = at;
        self.rests[care::rate_assumption(event.exposure) as usize] += hours;
        self.rests[repair::assumption(kind) as usize] += hours;
        let mut on = |a: Assumed, p: Part| self.rests[a as usize] += part(p);
        on(Assumed::Severity, Part::Slope);
        on(Form::of(kind, event.contact).assumed(), Part::KeptForm);
        if matches!(event.contact, Contact::Pad { .. }) {
            on(Assumed::ContactArea, Part::Slope);
        }
        if on_foam(kind) {
            on(Assumed::FoamCrush, Part::FoamForm);
            on(Assumed::PlugShear, Part::ThroughOrSlack);
        }
        if kind == Kind::Covering {
            on(Assumed::CoveringTension, Part::Give);
            if over_a_rib { on(Assumed::RibCut, Part::Form) } else { on(Assumed::SlackShare, Part::ThroughOrSlack) }
        } else {
            on(Assumed::PanelStiffness, Part::Give);
        }
    }
}

/// The contacts of a class, each as far as it hangs on no weight.
#[derive(Debug)]
pub(super) struct Contacts {
    which: Which,
    fixed: Vec<Effect>,
    by_weight: Vec<Leaning>,
}

/// The contacts of a class and what each damage costs.
pub(super) struct Priced<'a> {
    class: &'a Class<'a>,
    costs: Named<&'a Costs>,
}

impl Inputs for Priced<'_> {
    fn put<T: To>(&self, to: &mut T) {
        let Self { class, costs } = self;
        class.put(to);
        costs.put(to);
    }
}

impl Class<'_> {
    /// Which of its contacts is which: first those that hang on no weight.
    fn which(&self) -> Which {
        Which::of(field::each(self.codes & !BY_WEIGHT).chain(field::each(self.codes & BY_WEIGHT)))
    }

    /// What its contacts come to that hang on no weight.
    fn fixed(&self, costs: &Costs) -> impl Iterator<Item = Effect> {
        self.resists(!BY_WEIGHT).map(|here| {
            // A cause that looked at the weight after all would come to no number.
            let term = here.term((&self.events()[here.code / SPOTS], 0), f64::NAN, self.assumed());
            Effect::of(here.code, &term, &term.chances(), costs)
        })
    }

    /// Its contacts that hang on the weight.
    fn by_weight(&self) -> impl Iterator<Item = Leaning> {
        self.resists(BY_WEIGHT).map(|here| Leaning::of(&here, &self.events()[here.code / SPOTS], self.assumed()))
    }
}

/// What they come to.
pub(super) fn contacts(on: &Priced) -> Arc<Contacts> {
    let Priced { class, costs } = on;
    let room = |codes: Codes| codes.count_ones() as usize;
    let mut out = Contacts {
        which: class.which(),
        fixed: Vec::with_capacity(room(class.codes & !BY_WEIGHT)),
        by_weight: Vec::with_capacity(room(class.codes & BY_WEIGHT)),
    };
    out.fixed.extend(class.fixed(costs));
    out.by_weight.extend(class.by_weight());
    Arc::new(out)
}

/// A zone beneath what falls on it, with the contacts of its two classes.
pub(super) struct ZoneMet<'a> {
    falls: &'a Stamped<Falls>,
    there: [Option<&'a Stamped<Arc<Contacts>>>; 2],
}

impl Inputs for ZoneMet<'_> {
    fn put<T: To>(&self, to: &mut T) {
        let Self { falls, there } = self;
        falls.put(to);
        for contacts in there {
            match contacts {
                Some(c) => c.put(to),
                // A stamp that no row gives.
                None => 0_u64.put(to),
            }
        }
    }
}

impl ZoneMet<'_> {
    /// The contact of a fall: of which class it is, and which of its contacts.
    fn at(&self, f: &Fall) -> Option<(usize, usize, &Contacts)> {
        let class = f.class as usize;
        let contacts = self.there[class]?;
        Some((class, contacts.which.at(f)?, contacts))
    }
}

/// What stays on a zone whatever the wing weighs.
#[derive(Debug)]
pub(super) struct OnZone {
    /// What the falls that hang on no weight add up to, and the hours of each event.
    sums: OfZone,
    hours: Vec<(u8, f64)>,
    /// How often each contact of either class is met that hangs on no weight, those of the second from `second` on.
    fixed: Vec<f64>,
    second: usize,
    /// How often each contact that hangs on weight is met.
    by_weight: Vec<(u8, Times)>,
}

/// A contact of a class, and times per 100 outings.
#[derive(Debug, Clone, Copy)]
struct Times {
    class: u8,
    which: u8,
    per_100: f64,
}

/// What stays on a zone.
pub(super) fn on_zone(met: &ZoneMet) -> Arc<OnZone> {
    let falls = &met.falls.met;
    let (fixed, by_weight) = falls.split_at(met.falls.fixed);
    let [second, room] = met.there.map(|contacts| contacts.map_or(0, |c| c.fixed.len()));
    let mut out = OnZone {
        sums: [0.0; 4],
        hours: Vec::with_capacity(fixed.len()),
        fixed: vec![0.0; second + room],
        second,
        by_weight: Vec::with_capacity(by_weight.len()),
    };
    for f in fixed {
        let Some((class, which, contacts)) = met.at(f) else { continue };
        let effect = &contacts.fixed[which].zone;
        // No contact is met twice on a zone.
        out.fixed[class * second + which] = f.per_100;
        for (sum, v) in out.sums.iter_mut().zip(effect) {
            *sum += f.per_100 * v;
        }
        let (event, hours) = (f.event() as u8, f.per_100 * effect[0]);
        match out.hours.last_mut().filter(|last| last.0 == event) {
            Some(last) => last.1 = if hours > last.1 { hours } else { last.1 },
            None => out.hours.push((event, hours)),
        }
    }
    out.hours.retain(|(_, hours)| *hours > 0.0);
    out.by_weight.extend(by_weight.iter().filter_map(|f| {
        let (class, which, _) = met.at(f)?;
        Some((f.event() as u8, Times { class: class as u8, which: which as u8, per_100: f.per_100 }))
    }));
    Arc::new(out)
}

/// A contact somewhere on the wing: what it comes to each time, and how often it is met.
struct OnWing {
    effect: Effect,
    per_100: f64,
}

impl OnWing {
    const fn of(effect: Effect) -> Self {
        Self { effect, per_100: 0.0 }
    }

    /// Met so many times on a zone: the hours of it.
    fn meet(&mut self, per_100: f64, zone: &mut OfZone) -> f64 {
        self.per_100 += per_100;
        for (sum, v) in zone.iter_mut().zip(&self.effect.zone) {
            *sum += per_100 * v;
        }
        per_100 * self.effect.hours()
    }
}

/// The hours an event costs where it costs most: there, the zone, and whether that lands on a hold or rest.
type Worst = [(f64, Option<usize>, bool); EVENTS.len()];

fn most(worst: &mut Worst, event: usize, hours: f64, (zone, landed): (usize, bool)) {
    if hours > worst[event].0 {
        worst[event] = (hours, Some(zone), landed);
    }
}

impl Ground<'_> {
    /// Everything that comes of all contacts, per 100 outings. What stands with a zone and the worst zone of each event are
    /// written to `out`.
    pub(super) fn toll(&self, costs: &Costs, out: &mut Durability) -> Toll {
        let mut memory = self.memory.take();
        let Gathered { field, falls, classes } = self.gather(&mut memory, |_| true);
        let costs = memory.costs(costs);
        let under = Under::of(self.events, self.half_wing_kg, self.assumed);
        let on_this_wing =
            |here: &Leaning| OnWing::of(Effect::of(here.code, &here.term, &here.chances(&under), &costs));
        let room: u32 = classes.iter().map(|(_, _, class)| class.codes.count_ones()).sum();
        let mut all = Vec::with_capacity(room as usize);
        // Of each class where its contacts begin in `all`, and its place in one of the lists, whichever is filled.
        let mut met = vec![(0, usize::MAX); field.classes()];
        let (mut kept, mut once) = (Vec::with_capacity(classes.len()), Vec::with_capacity(classes.len()));
        for (place, (which, _, class)) in classes.iter().enumerate() {
            met[*which] = (all.len(), place);
            if let Some(known) = memory.contacts(&Priced { class, costs }) {
                all.extend(known.fixed.iter().map(|effect| OnWing::of(*effect)));
                all.extend(known.by_weight.iter().map(on_this_wing));
                kept.push(known);
            } else {
                all.extend(class.fixed(&costs).map(OnWing::of));
                all.extend(class.by_weight().map(|here| on_this_wing(&here)));
                once.push(class.which());
            }
        }
        let mut worst: Worst = [(0.0, None, false); EVENTS.len()];
        for (z, falls) in field.zones.iter().zip(&falls) {
            let (mut sums, there) = ([0.0; 4], z.classes(&field).map(|class| met[class]));
            let on = ZoneMet { falls, there: there.map(|(_, place)| kept.get(place)) };
            if let Some(known) = memory.on_zone(&on) {
                sums = known.sums;
                let (first, second) = known.fixed.split_at(known.second);
                for ((from, _), fixed) in there.iter().zip([first, second]) {
                    all[*from..].iter_mut().zip(fixed).for_each(|(contact, per_100)| contact.per_100 += per_100);
                }
                for (event, hours) in &known.hours {
                    most(&mut worst, usize::from(*event), *hours, (z.zone, false));
                }
                for (event, t) in &known.by_weight {
                    let contact = &mut all[there[usize::from(t.class)].0 + usize::from(t.which)];
                    most(&mut worst, usize::from(*event), contact.meet(t.per_100, &mut sums), (z.zone, false));
                }
            } else {
                let which = there.map(|(_, place)| once.get(place).unwrap_or(&Which::NONE));
                for f in &*falls.met {
                    let class = f.class as usize;
                    let Some(which) = which[class].at(f) else { continue };
                    let contact = &mut all[there[class].0 + which];
                    most(&mut worst, f.event(), contact.meet(f.per_100, &mut sums), (z.zone, false));
                }
            }
            if let Some(z) = out.zones.get_mut(z.zone) {
                [z.repair_h, z.outings_lost, z.unseen, z.marks] = sums;
            }
        }
        self.memory.replace(memory);
        let mut heaps = Heaps::new();
        all.iter().for_each(|contact| heaps.add(&contact.effect, contact.per_100));
        self.land(
            |_| true,
            |Alike { term: t, chances }| {
                let effect = Effect::of(t.event * SPOTS + t.spot as usize, &t, &chances, &costs);
                heaps.add(&effect, t.per_100);
                most(&mut worst, t.event, t.per_100 * effect.hours(), (t.zone, true));
                if let Some(z) = out.zones.get_mut(t.zone) {
                    let sums = [&mut z.repair_h, &mut z.outings_lost, &mut z.unseen, &mut z.marks];
                    sums.into_iter().zip(effect.zone).for_each(|(sum, v)| *sum += t.per_100 * v);
                }
            },
        );
        for (event, (_, zone, landed)) in out.events.iter_mut().zip(worst) {
            (event.worst_zone, event.worst_landed) = (zone, landed);
        }
        heaps.toll(&costs)
    }
}
