//! What contacts come to: of one contact each time, and of all contacts on some places together. Sums are taken zone by
//! zone; of a zone what hangs on the weight of the wing is told apart from what does not, which is kept.

use std::sync::Arc;

use crate::physics::assumptions::{Assumed, Assumptions, LIST};
use crate::physics::design::Design;
use crate::physics::durability::care;
use crate::physics::durability::contacts::Resists;
use crate::physics::durability::events::{Contact, EVENTS};
use crate::physics::durability::field::{CODES, Falls, SPOTS, Table};
use crate::physics::durability::index::{self, Cost, Durability};
use crate::physics::durability::repair;
use crate::physics::durability::term::{Alike, Chances, Gathered, Ground, Term};
use crate::physics::kept::{Inputs, Named, Stamped, To};
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
    pub(super) sums: Sums,
    wing: Wing,
    /// How the hours answer to ln of the factor of some assumptions.
    rests: [(Assumed, f64); 7],
}

impl Effect {
    /// Of an event at a spot.
    pub(super) fn of(code: usize, t: &Term, c: &Chances, costs: &Costs) -> Self {
        let nothing = (Assumed::Severity, 0.0);
        let mut out = Self { code, sums: [0.0; 6], wing: [0.0; 3], rests: [nothing; 7] };
        if c.p[0] <= 1e-12 {
            return out;
        }
        let cost = &costs.0[t.kind as usize];
        let exact = [c.p[0] - c.p[1], c.p[1] - c.p[2], c.p[2] * (1.0 - t.tears), c.p[2] * t.tears];
        let sum = |v: &[f64; 4]| exact.iter().zip(v).map(|(p, x)| p * x).sum::<f64>();
        let hours = sum(&cost.hours);
        let foam = matches!(t.kind, Kind::Sandwich | Kind::OneFaced);
        let soft = if foam { exact[1] * cost.hours[1] } else { 0.0 };
        out.sums = [hours, sum(&cost.lost), sum(&cost.unseen), c.p[0], soft, c.p[2]];
        let in_field = (0..4).filter(|i| cost.field[*i]).map(|i| exact[i] * cost.mended[i]).sum::<f64>();
        out.wing = [sum(&cost.mended), in_field, sum(&cost.mass_kg)];
        out.rest_on(t, c, &cost.hours, hours);
        out
    }

    /// How the hours answer to each assumption.
    fn rest_on(&mut self, t: &Term, c: &Chances, h: &[f64; 4], hours: f64) {
        let e = &EVENTS[t.event];
        let (first, soft, through) = index::slope(t, c, h);
        let slope = first + soft + through;
        let mut next = self.rests.iter_mut();
        let mut on = |a: Assumed, v: f64| {
            if let Some(slot) = next.next() {
                *slot = (a, v);
            }
        };
        on(Assumed::Severity, slope);
        on(Form::of(t.kind, e.contact).assumed(), t.kept * slope);
        on(care::rate_assumption(e.exposure), hours);
        on(repair::assumption(t.kind), hours);
        if matches!(e.contact, Contact::Pad { .. }) {
            on(Assumed::ContactArea, slope);
        }
        if matches!(t.kind, Kind::Sandwich | Kind::OneFaced) {
            on(Assumed::FoamCrush, t.kept * slope);
            on(Assumed::PlugShear, through);
        }
        if matches!(e.contact, Contact::Blow { local: false, .. }) && !t.spot.over_a_rib() && t.kind != Kind::Covering {
            on(Assumed::PanelStiffness, 0.5 * slope);
        }
        if t.kind == Kind::Covering {
            if t.spot.over_a_rib() { on(Assumed::RibCut, slope) } else { on(Assumed::SlackShare, soft) }
        }
    }
}

/// What many contacts come to, over the wing or a part of it.
#[derive(Debug, Clone)]
pub(super) struct Toll {
    pub(super) events: [Sums; EVENTS.len()],
    pub(super) wing: Wing,
    pub(super) rests: [f64; LIST.len()],
}

impl Toll {
    pub(super) const NONE: Self = Self { events: [[0.0; 6]; EVENTS.len()], wing: [0.0; 3], rests: [0.0; LIST.len()] };

    /// A contact met so many times.
    pub(super) fn add(&mut self, e: &Effect, per_100: f64) {
        for (sum, v) in self.events[e.code / SPOTS].iter_mut().zip(e.sums) {
            *sum += per_100 * v;
        }
        for (sum, v) in self.wing.iter_mut().zip(e.wing) {
            *sum += per_100 * v;
        }
        for (a, v) in e.rests {
            self.rests[a as usize] += per_100 * v;
        }
    }
}

/// What comes of the contacts on one zone that hang on no weight.
#[derive(Debug)]
pub(super) struct ZoneToll {
    /// Hours, outings lost, unseen, marks.
    pub(super) zone: [f64; 4],
    /// Each event that is met: its sums, and the hours of the place where it costs most.
    events: Vec<(usize, Sums, f64)>,
    wing: Wing,
    rests: [f64; LIST.len()],
}

impl ZoneToll {
    /// Add it to that of the wing; what an event costs at most on one place is handed to `worst`.
    pub(super) fn add_to(&self, toll: &mut Toll, mut worst: impl FnMut(usize, f64)) {
        for (event, sums, hours) in &self.events {
            toll.events[*event].iter_mut().zip(sums).for_each(|(sum, v)| *sum += v);
            worst(*event, *hours);
        }
        toll.wing.iter_mut().zip(self.wing).for_each(|(sum, v)| *sum += v);
        toll.rests.iter_mut().zip(self.rests).for_each(|(sum, v)| *sum += v);
    }
}

/// Contacts and what each damage costs.
pub(super) struct Priced<'a> {
    pub(super) contacts: &'a Stamped<Arc<[Resists]>>,
    pub(super) costs: Named<&'a Costs>,
}

impl Inputs for Priced<'_> {
    fn put<T: To>(&self, to: &mut T) {
        let Self { contacts, costs } = self;
        contacts.put(to);
        costs.put(to);
    }
}

/// What those of them that hang on no weight come to each time.
pub(super) fn effects(on: &Priced) -> Arc<[Effect]> {
    let one = |r: &Resists| r.fixed.as_ref().map(|(term, chances)| Effect::of(r.code, term, chances, &on.costs));
    on.contacts.iter().filter_map(one).collect()
}

/// One zone: what falls on it, and what that comes to, where the panel does not count and where it does.
pub(super) struct Beneath<'a> {
    pub(super) falls: &'a Stamped<Arc<Falls>>,
    pub(super) effects: [&'a Stamped<Arc<[Effect]>>; 2],
}

impl Inputs for Beneath<'_> {
    fn put<T: To>(&self, to: &mut T) {
        let Self { falls, effects } = self;
        falls.put(to);
        effects.put(to);
    }
}

/// The toll of a zone.
pub(super) fn zone_toll(on: &Beneath) -> Arc<ZoneToll> {
    let mut out =
        ZoneToll { zone: [0.0; 4], events: Vec::with_capacity(EVENTS.len()), wing: [0.0; 3], rests: [0.0; LIST.len()] };
    let mut at = [[u8::MAX; CODES]; 2];
    for (at, effects) in at.iter_mut().zip(on.effects) {
        for (i, e) in effects.iter().enumerate() {
            at[e.code] = i as u8;
        }
    }
    for f in &on.falls.fixed {
        let panel = usize::from(f.by_panel);
        let Some(e) = on.effects[panel].get(usize::from(at[panel][usize::from(f.code)])) else { continue };
        for (sum, v) in out.zone.iter_mut().zip(e.sums) {
            *sum += f.per_100 * v;
        }
        if out.events.last().is_none_or(|l| l.0 != usize::from(f.event)) {
            out.events.push((usize::from(f.event), [0.0; 6], 0.0));
        }
        if let Some((_, sums, worst)) = out.events.last_mut() {
            for (sum, v) in sums.iter_mut().zip(e.sums) {
                *sum += f.per_100 * v;
            }
            *worst = worst.max(f.per_100 * e.sums[0]);
        }
        for (sum, v) in out.wing.iter_mut().zip(e.wing) {
            *sum += f.per_100 * v;
        }
        for (a, v) in e.rests {
            out.rests[a as usize] += f.per_100 * v;
        }
    }
    Arc::new(out)
}

impl Ground<'_> {
    /// Everything that comes of all contacts, per 100 outings. What stands with a zone and the worst zone of each event are
    /// written to `out`.
    pub(super) fn toll(&self, costs: &Costs, out: &mut Durability) -> Toll {
        let mut memory = self.memory.take();
        let Gathered { field, falls, classes } = self.gather(&mut memory, |_| true);
        let costs = memory.costs(costs);
        let mut table = Table::of(&classes, |(_, contacts)| contacts.iter().any(|c| c.fixed.is_none()));
        let mut met: Vec<(Effect, f64)> = Vec::with_capacity(4 * classes.len());
        let mut effects: Vec<Stamped<Arc<[Effect]>>> = Vec::with_capacity(classes.len());
        for (class, known) in classes.iter().enumerate() {
            let Some((zone, contacts)) = known else {
                effects.push(Stamped::default());
                continue;
            };
            effects.push(memory.effects(&Priced { contacts, costs }));
            for here in contacts.iter().filter(|c| c.fixed.is_none()) {
                let Alike { term, chances } = self.alike(here, *zone);
                table.put(class, here.code, met.len());
                met.push((Effect::of(here.code, &term, &chances, &costs), 0.0));
            }
        }
        let mut toll = Toll::NONE;
        let mut worst = [(0.0, None); EVENTS.len()];
        let mut most = |event: usize, hours: f64, zone: usize| {
            if hours > worst[event].0 {
                worst[event] = (hours, Some(zone));
            }
        };
        for (z, falls) in field.zones.iter().zip(&falls) {
            let classes = z.classes(&field);
            let fixed = memory.toll(&Beneath { falls, effects: classes.map(|class| &effects[class]) });
            fixed.add_to(&mut toll, |event, hours| most(event, hours, z.zone));
            let (mut zone, rows) = (fixed.zone, table.rows(classes));
            for f in &falls.by_weight {
                let Some((effect, per_100)) = rows.at(f).and_then(|i| met.get_mut(i)) else { continue };
                *per_100 += f.per_100;
                zone.iter_mut().zip(effect.sums).for_each(|(sum, v)| *sum += f.per_100 * v);
                most(usize::from(f.event), f.per_100 * effect.sums[0], z.zone);
            }
            if let Some(z) = out.zones.get_mut(z.zone) {
                [z.repair_h, z.outings_lost, z.unseen, z.marks] = zone;
            }
        }
        self.memory.replace(memory);
        met.iter().for_each(|(effect, per_100)| toll.add(effect, *per_100));
        self.land(
            |_| true,
            |Alike { term: t, chances }| {
                let effect = Effect::of(t.event * SPOTS + t.spot as usize, &t, &chances, &costs);
                toll.add(&effect, t.per_100);
                most(t.event, t.per_100 * effect.sums[0], t.zone);
                if let Some(z) = out.zones.get_mut(t.zone) {
                    let [hours, lost, unseen, marks, ..] = effect.sums.map(|v| t.per_100 * v);
                    z.repair_h += hours;
                    z.outings_lost += lost;
                    z.unseen += unseen;
                    z.marks += marks;
                }
            },
        );
        for (event, (_, zone)) in out.events.iter_mut().zip(worst) {
            event.worst_zone = zone;
        }
        toll
    }
}
