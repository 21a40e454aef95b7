//! What contacts come to: of one contact each time, and of all contacts on all places together. What hangs on the weight of
//! the wing is told apart from what does not, which is kept.

use std::sync::Arc;

use crate::physics::assumptions::{Assumed, Assumptions, LIST};
use crate::physics::design::Design;
use crate::physics::durability::care;
use crate::physics::durability::contacts::{Class, Resists};
use crate::physics::durability::events::{Contact, EVENTS};
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

/// What a contact comes to each time: hours, outings lost, unseen, marks; hours of soft spots, holes.
type Sums = [f64; 6];

/// Of every damage, of those mended in the field, and mass, kg.
type Wing = [f64; 3];

/// What a contact comes to each time it is met.
#[derive(Debug, Clone, Copy)]
pub(super) struct Effect {
    /// Event and spot.
    code: usize,
    kind: Kind,
    sums: Sums,
    wing: Wing,
    /// How the hours answer to ln severity, and to what the contact is stood with.
    slope: f64,
    answers: Answering,
    /// Power of the load in the strength of foam, and share of the spread of the form that samples left.
    foam: f64,
    kept: f64,
}

impl Effect {
    /// Of an event at a spot.
    fn of(code: usize, t: &Term, c: &Chances, costs: &Costs) -> Self {
        let mut out = Self {
            code,
            kind: t.kind,
            sums: [0.0; 6],
            wing: [0.0; 3],
            slope: 0.0,
            answers: Answering::default(),
            foam: t.foam,
            kept: t.kept,
        };
        if c.p[0] <= 1e-12 {
            return out;
        }
        let cost = &costs.0[t.kind as usize];
        let exact = [c.p[0] - c.p[1], c.p[1] - c.p[2], c.p[2] * (1.0 - t.tears), c.p[2] * t.tears];
        let sum = |v: &[f64; 4]| exact.iter().zip(v).map(|(p, x)| p * x).sum::<f64>();
        let soft = if out.on_foam() { exact[1] * cost.hours[1] } else { 0.0 };
        out.sums = [sum(&cost.hours), sum(&cost.lost), sum(&cost.unseen), c.p[0], soft, c.p[2]];
        let in_field = (0..4).filter(|i| cost.field[*i]).map(|i| exact[i] * cost.mended[i]).sum::<f64>();
        out.wing = [sum(&cost.mended), in_field, sum(&cost.mass_kg)];
        let by = index::slope(t, c, &cost.hours);
        out.slope = by.iter().sum();
        out.answers = Answering::of(t, &by);
        out
    }

    const fn on_foam(&self) -> bool {
        matches!(self.kind, Kind::Sandwich | Kind::OneFaced)
    }
}

/// What many contacts come to, over the wing.
#[derive(Debug, Clone)]
pub(super) struct Toll {
    pub(super) events: [Sums; EVENTS.len()],
    pub(super) wing: Wing,
    /// How the hours answer to ln of the factor of each assumption.
    pub(super) rests: [f64; LIST.len()],
}

impl Toll {
    const NONE: Self = Self { events: [[0.0; 6]; EVENTS.len()], wing: [0.0; 3], rests: [0.0; LIST.len()] };

    /// A contact met so many times.
    fn add(&mut self, e: &Effect, per_100: f64) {
        // Most contacts do no harm.
        if e.sums[3] == 0.0 {
            return;
        }
        for (sum, v) in self.events[e.code / SPOTS].iter_mut().zip(e.sums) {
            *sum += per_100 * v;
        }
        for (sum, v) in self.wing.iter_mut().zip(e.wing) {
            *sum += per_100 * v;
        }
        self.rest_on(e, per_100);
    }

    fn rest_on(&mut self, e: &Effect, per_100: f64) {
        let (event, spot) = (&EVENTS[e.code / SPOTS], Spot::ALL[e.code % SPOTS]);
        let slope = per_100 * e.slope;
        let Answering { form, through, give, soft } = e.answers;
        let [form, through, give, soft] = [form, through, give, soft].map(|v| per_100 * v);
        let hours = per_100 * e.sums[0];
        let mut on = |a: Assumed, v: f64| self.rests[a as usize] += v;
        on(Assumed::Severity, slope);
        on(Form::of(e.kind, event.contact).assumed(), e.kept * form);
        on(care::rate_assumption(event.exposure), hours);
        on(repair::assumption(e.kind), hours);
        if matches!(event.contact, Contact::Pad { .. }) {
            on(Assumed::ContactArea, slope);
        }
        if e.on_foam() {
            on(Assumed::FoamCrush, e.kept * e.foam * form);
            on(Assumed::PlugShear, through);
        }
        if e.kind == Kind::Covering {
            on(Assumed::CoveringTension, give);
            if spot.over_a_rib() { on(Assumed::RibCut, form) } else { on(Assumed::SlackShare, soft) }
        } else {
            on(Assumed::PanelStiffness, give);
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
    zone: [f64; 4],
    per_100: f64,
}

impl Each {
    const fn of(e: &Effect) -> Self {
        let [hours, lost, unseen, marks, ..] = e.sums;
        Self { zone: [hours, lost, unseen, marks], per_100: 0.0 }
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
        let mut worst = [(0.0, None, false); EVENTS.len()];
        let mut most = |event: usize, hours: f64, zone: usize, landed: bool| {
            if hours > worst[event].0 {
                worst[event] = (hours, Some(zone), landed);
            }
        };
        for (z, falls) in field.zones.iter().zip(&falls) {
            let (mut zone, there) = ([0.0; 4], z.classes(&field).map(|class| met[class]));
            for f in &falls.met {
                let (first, which) = there[usize::from(f.by_panel)];
                let Some(contact) = which.at(f).and_then(|i| each.get_mut(first + i)) else { continue };
                // Most contacts leave no mark and add nothing.
                if contact.zone[3] == 0.0 {
                    continue;
                }
                contact.per_100 += f.per_100;
                zone.iter_mut().zip(contact.zone).for_each(|(sum, v)| *sum += f.per_100 * v);
                most(usize::from(f.code) / SPOTS, f.per_100 * contact.zone[0], z.zone, false);
            }
            if let Some(z) = out.zones.get_mut(z.zone) {
                [z.repair_h, z.outings_lost, z.unseen, z.marks] = zone;
            }
        }
        self.memory.replace(memory);
        let (mut toll, mut each, mut by_weight) = (Toll::NONE, each.iter(), by_weight.iter());
        for known in &known {
            let effects = known.fixed.iter().chain(by_weight.by_ref().take(known.by_weight.len()));
            effects.zip(each.by_ref()).for_each(|(effect, each)| toll.add(effect, each.per_100));
        }
        self.land(
            |_| true,
            |Alike { term: t, chances }| {
                let effect = Effect::of(t.event * SPOTS + t.spot as usize, &t, &chances, &costs);
                toll.add(&effect, t.per_100);
                most(t.event, t.per_100 * effect.sums[0], t.zone, true);
                if let Some(z) = out.zones.get_mut(t.zone) {
                    let [hours, lost, unseen, marks, ..] = effect.sums.map(|v| t.per_100 * v);
                    z.repair_h += hours;
                    z.outings_lost += lost;
                    z.unseen += unseen;
                    z.marks += marks;
                }
            },
        );
        for (event, (_, zone, landed)) in out.events.iter_mut().zip(worst) {
            (event.worst_zone, event.worst_landed) = (zone, landed);
        }
        toll
    }
}
