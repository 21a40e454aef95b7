//! What contacts come to: of one contact each time, and of all contacts on all places together. What hangs on the weight of
//! the wing is told apart from what does not, which is kept.

use std::sync::Arc;

use crate::physics::assumptions::{Assumed, Assumptions, LIST};
use crate::physics::design::Design;
use crate::physics::durability::care;
use crate::physics::durability::contacts::{Class, Resists};
use crate::physics::durability::events::{Contact, EVENTS, Event};
use crate::physics::durability::field::{self, CODES, Codes, SPOTS, Which};
use crate::physics::durability::index::{self, Answering, Cost, Durability};
use crate::physics::durability::repair;
use crate::physics::durability::resistance::Spot;
use crate::physics::durability::term::{Alike, Chances, Gathered, Ground, Term};
use crate::physics::kept::{Inputs, Named, To};
use crate::physics::laminate::construction::{KINDS, Kind};
use crate::physics::samples::record::Form;

/// What one damage costs, by kind of surface.
#[derive(Clone, Copy)]
pub(super) struct Costs([Cost; KINDS.len()]);

impl Costs {
    pub(super) fn of(design: &Design, assumed: &Assumptions) -> Self {
        Self(KINDS.map(|k| index::cost(k, design, assumed)))
    }
}

impl Inputs for Costs {
    fn put<T: To>(&self, to: &mut T) {
        let Self(costs) = self;
        costs.put(to);
    }
}

/// What one contact or many come to, one number for each [`Part`].
type Sums = [f64; PARTS];

/// What is added up of contacts.
#[derive(Clone, Copy)]
enum Part {
    Hours,
    Lost,
    Unseen,
    Marks,
    /// Hours of soft spots.
    Soft,
    Holes,
    /// Damages mended, those of them in the field, and mass, kg.
    Mended,
    InField,
    MassKg,
    /// How the hours answer to ln severity, and to what the contact is stood with ([`Answering`]).
    Slope,
    Form,
    Through,
    Give,
    Slack,
    /// How they answer to the form as far as samples left its spread, and through it to the strength of foam.
    KeptForm,
    FoamForm,
}

const PARTS: usize = Part::FoamForm as usize + 1;

/// What a zone adds up: hours, outings lost, unseen, marks.
const OF_A_ZONE: usize = Part::Marks as usize + 1;

/// What a contact comes to each time it is met.
#[derive(Debug, Clone, Copy)]
pub(super) struct Effect {
    /// Event and spot.
    code: usize,
    kind: Kind,
    sums: Sums,
}

impl Effect {
    /// Of an event at a spot.
    fn of(code: usize, t: &Term, c: &Chances, costs: &Costs) -> Self {
        let mut out = Self { code, kind: t.kind, sums: [0.0; PARTS] };
        if c.p[0] <= 1e-12 {
            return out;
        }
        let cost = &costs.0[t.kind as usize];
        let exact = [c.p[0] - c.p[1], c.p[1] - c.p[2], c.p[2] * (1.0 - t.tears), c.p[2] * t.tears];
        let sum = |v: &[f64; 4]| exact.iter().zip(v).map(|(p, x)| p * x).sum::<f64>();
        let by = index::slope(t, c, &cost.hours);
        let answers = Answering::of(t, &by);
        for (part, v) in [
            (Part::Hours, sum(&cost.hours)),
            (Part::Lost, sum(&cost.lost)),
            (Part::Unseen, sum(&cost.unseen)),
            (Part::Marks, c.p[0]),
            (Part::Soft, if on_foam(t.kind) { exact[1] * cost.hours[1] } else { 0.0 }),
            (Part::Holes, c.p[2]),
            (Part::Mended, sum(&cost.mended)),
            (Part::InField, (0..4).filter(|i| cost.field[*i]).map(|i| exact[i] * cost.mended[i]).sum()),
            (Part::MassKg, sum(&cost.mass_kg)),
            (Part::Slope, by.iter().sum()),
            (Part::Form, answers.form),
            (Part::Through, answers.through),
            (Part::Give, answers.give),
            (Part::Slack, answers.soft),
            (Part::KeptForm, t.kept * answers.form),
            (Part::FoamForm, t.kept * t.foam * answers.form),
        ] {
            out.sums[part as usize] = v;
        }
        out
    }

    const fn part(&self, part: Part) -> f64 {
        self.sums[part as usize]
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
            self.sums.push([0.0; PARTS]);
        }
        for (sum, v) in self.sums[usize::from(*heap)].iter_mut().zip(&e.sums) {
            *sum += per_100 * v;
        }
    }

    /// All of them together.
    fn toll(&self) -> Toll {
        let mut out = Toll { events: [[0.0; 6]; EVENTS.len()], wing: [0.0; 3], rests: [0.0; LIST.len()] };
        for (heap, which) in self.which.iter().enumerate() {
            let Some(sums) = self.sums.get(usize::from(*which)) else { continue };
            let (event, kind) = (heap / 2 / KINDS.len(), KINDS[heap / 2 % KINDS.len()]);
            let part = |p: Part| sums[p as usize];
            out.events[event].iter_mut().zip(sums).for_each(|(sum, v)| *sum += v);
            let wing = [Part::Mended, Part::InField, Part::MassKg].map(part);
            out.wing.iter_mut().zip(wing).for_each(|(sum, v)| *sum += v);
            out.rest_on((&EVENTS[event], kind, heap % 2 == 1), part);
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
    /// What contacts of an event on a kind of surface rest on.
    fn rest_on(&mut self, (event, kind, over_a_rib): (&Event, Kind, bool), part: impl Fn(Part) -> f64) {
        let mut on = |a: Assumed, p: Part| self.rests[a as usize] += part(p);
        on(Assumed::Severity, Part::Slope);
        on(Form::of(kind, event.contact).assumed(), Part::KeptForm);
        on(care::rate_assumption(event.exposure), Part::Hours);
        on(repair::assumption(kind), Part::Hours);
        if matches!(event.contact, Contact::Pad { .. }) {
            on(Assumed::ContactArea, Part::Slope);
        }
        if on_foam(kind) {
            on(Assumed::FoamCrush, Part::FoamForm);
            on(Assumed::PlugShear, Part::Through);
        }
        if kind == Kind::Covering {
            on(Assumed::CoveringTension, Part::Give);
            if over_a_rib { on(Assumed::RibCut, Part::Form) } else { on(Assumed::SlackShare, Part::Slack) }
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
    by_weight: Vec<Resists>,
}

/// Events whose cause is a part of the weight of the wing, at every spot.
const BY_WEIGHT: Codes = {
    let (mut out, mut code) = (0, 0);
    while code < CODES {
        if EVENTS[code / SPOTS].cause.by_weight() {
            out |= 1 << code;
        }
        code += 1;
    }
    out
};

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

/// What they come to.
pub(super) fn contacts(on: &Priced) -> Arc<Contacts> {
    let class = on.class;
    let (fixed, by_weight) = (class.codes & !BY_WEIGHT, class.codes & BY_WEIGHT);
    let room = |codes: Codes| codes.count_ones() as usize;
    let mut out = Contacts {
        which: Which::of(field::each(fixed).chain(field::each(by_weight))),
        fixed: Vec::with_capacity(room(fixed)),
        by_weight: Vec::with_capacity(room(by_weight)),
    };
    for here in class.resists(fixed) {
        let event = here.code / SPOTS;
        // A cause that looked at the weight after all would come to no number.
        let term = here.term((&class.events()[event], 0), f64::NAN, class.assumed());
        out.fixed.push(Effect::of(here.code, &term, &term.chances(), &on.costs));
    }
    out.by_weight.extend(class.resists(by_weight));
    Arc::new(out)
}

/// What a contact adds to a zone each time, and how often it is met on the wing.
#[derive(Clone, Copy)]
struct Each {
    zone: [f64; OF_A_ZONE],
    per_100: f64,
}

impl Each {
    fn of(e: &Effect) -> Self {
        Self { zone: std::array::from_fn(|part| e.sums[part]), per_100: 0.0 }
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
        let known: Vec<Arc<Contacts>> =
            classes.iter().map(|(_, _, class)| memory.contacts(&Priced { class, costs })).collect();
        let by_weight = known.iter().map(|k| k.by_weight.len()).sum();
        let (mut each, mut by_weight) = (
            Vec::with_capacity(by_weight + known.iter().map(|k| k.fixed.len()).sum::<usize>()),
            Vec::with_capacity(by_weight),
        );
        let mut met = vec![(0, &Which::NONE); field.classes()];
        for ((class, zone, _), known) in classes.iter().zip(&known) {
            met[*class] = (each.len(), &known.which);
            each.extend(known.fixed.iter().map(Each::of));
            for here in &known.by_weight {
                let Alike { term, chances } = self.alike(here, *zone);
                let effect = Effect::of(here.code, &term, &chances, &costs);
                each.push(Each::of(&effect));
                by_weight.push(effect);
            }
        }
        let mut worst: Worst = [(0.0, None, false); EVENTS.len()];
        for (z, falls) in field.zones.iter().zip(&falls) {
            let (mut zone, there) = ([0.0; OF_A_ZONE], z.classes(&field).map(|class| met[class]));
            for f in &falls.met {
                let (first, which) = there[usize::from(f.by_panel)];
                let Some(contact) = which.at(f).and_then(|i| each.get_mut(first + i)) else { continue };
                contact.per_100 += f.per_100;
                for (sum, v) in zone.iter_mut().zip(&contact.zone) {
                    *sum += f.per_100 * v;
                }
                most(&mut worst, usize::from(f.code) / SPOTS, f.per_100 * contact.zone[0], (z.zone, false));
            }
            if let Some(z) = out.zones.get_mut(z.zone) {
                [z.repair_h, z.outings_lost, z.unseen, z.marks] = zone;
            }
        }
        self.memory.replace(memory);
        let (mut heaps, mut each, mut by_weight) = (Heaps::new(), each.iter(), by_weight.iter());
        for known in &known {
            let effects = known.fixed.iter().chain(by_weight.by_ref().take(known.by_weight.len()));
            effects.zip(each.by_ref()).for_each(|(effect, each)| heaps.add(effect, each.per_100));
        }
        self.land(
            |_| true,
            |Alike { term: t, chances }| {
                let effect = Effect::of(t.event * SPOTS + t.spot as usize, &t, &chances, &costs);
                heaps.add(&effect, t.per_100);
                most(&mut worst, t.event, t.per_100 * effect.part(Part::Hours), (t.zone, true));
                if let Some(z) = out.zones.get_mut(t.zone) {
                    z.repair_h += t.per_100 * effect.part(Part::Hours);
                    z.outings_lost += t.per_100 * effect.part(Part::Lost);
                    z.unseen += t.per_100 * effect.part(Part::Unseen);
                    z.marks += t.per_100 * effect.part(Part::Marks);
                }
            },
        );
        for (event, (_, zone, landed)) in out.events.iter_mut().zip(worst) {
            (event.worst_zone, event.worst_landed) = (zone, landed);
        }
        heaps.toll()
    }
}
