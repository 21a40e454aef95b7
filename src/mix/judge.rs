//! What each construction is worth in each place of the wing a table is filled around: its margins, repair hours, press
//! load and weight there. Loads, spar layers and weight are those of that wing; only the sections are worked out anew with
//! the construction over a whole group of strips. What hangs on geometry and plies alone is kept from table to table.

use crate::mix::ask::Place;
use crate::mix::fill::{Ground, Why, rules_out};
use crate::mix::layup;
use crate::physics::assumptions::Assumptions;
use crate::physics::design::{Design, Strip};
use crate::physics::durability::term::{self, Underfoot};
use crate::physics::durability::zonal::{self, Hours, Part};
use crate::physics::evaluation::Structure;
use crate::physics::mass::seams::glue_kg_m;
use crate::physics::mass::skins::rigid;
use crate::physics::mass::tally::{self, Heading, Part as Line, Weight};
use crate::physics::strength::{self, Context, Margin, ON_ZONES, OfLoads, sizer, sizing};
use crate::physics::wing::layout::{Layout, Zone};
use crate::physics::work;

/// Strips that take a construction together when it is judged: the nose, everything behind the spar, web, ribs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Group {
    Nose,
    Behind,
    Web,
    Ribs,
}

/// The group of a place.
pub const fn group(place: Place) -> Group {
    match place {
        Place::Web => Group::Web,
        Place::Ribs => Group::Ribs,
        Place::Skin(s) | Place::Pair([s, _]) => {
            if s.is_nose() {
                Group::Nose
            } else {
                Group::Behind
            }
        }
    }
}

/// One place of one bay in plain units.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Value {
    pub kg: f64,
    pub repair_h: f64,
    /// Repair hours added where it ends on a boundary joint, rigid skin on one side and covering on the other.
    pub joint_h: f64,
    pub hours: f64,
    pub cost: f64,
    pub dent_n: f64,
}

/// The first margin, in the order of the modes, that rules a construction out of a place.
pub type First = Option<(usize, Why)>;

/// One construction over one group.
#[derive(Debug, Clone, Default)]
pub struct Judged {
    /// By zone of the layout for skins, by bay for the web, one for ribs.
    pub first: Vec<First>,
    pub value: Vec<Value>,
}

/// What hangs on no weight, for one construction.
#[derive(Debug, Clone, Default)]
pub struct Kept {
    /// Repair hours and press load by zone; none where not worked out yet.
    zones: Vec<Option<(Hours, f64)>>,
    foot: Option<Underfoot>,
}

/// What all constructions are judged against.
pub struct Bench<'a> {
    pub ground: &'a Ground,
    pub base: &'a Structure,
    /// What its loads say.
    pub of_loads: &'a OfLoads,
    pub chains: &'a [(Place, Vec<usize>)],
    pub assumed: &'a Assumptions,
}

/// Whether a part stands for what a zone is made of. Splices are paid at joints.
pub fn of_zone(p: &Line) -> Option<(Strip, usize)> {
    p.strip.zip(p.bay).filter(|_| p.heading != Heading::Splices)
}

/// Expected mass of a part, kg.
pub fn expected_kg(p: &Line) -> f64 {
    p.nominal_kg * (1.0 + p.growth)
}

/// Expected mass of what stands under a heading, all or one bay's, kg.
pub fn heading_kg(weight: &Weight, h: Heading, bay: Option<usize>) -> f64 {
    weight.parts.iter().filter(|p| p.heading == h && bay.is_none_or(|b| p.bay == Some(b))).map(expected_kg).sum()
}

impl Bench<'_> {
    /// Judge a construction over a group. `kept` is read and added to.
    pub fn judge(&self, which: Group, c: usize, kept: &mut Kept) -> Judged {
        match which {
            Group::Nose | Group::Behind => self.skins(which, c, kept),
            Group::Web => self.web(c),
            Group::Ribs => self.ribs(c),
        }
    }

    fn skins(&self, which: Group, c: usize, kept: &mut Kept) -> Judged {
        let (g, design) = (self.ground, &self.ground.drawn);
        let taken: Vec<Strip> = (self.chains.iter())
            .filter(|(p, all)| group(*p) == which && all.contains(&c))
            .flat_map(|(p, _)| p.strips().iter().copied())
            .collect();
        let mut layout = self.base.layout.clone();
        for z in layout.zones.iter_mut().filter(|z| taken.contains(&z.strip)) {
            z.construction = c;
        }
        let own: Vec<usize> = (0..layout.zones.len()).filter(|i| taken.contains(&layout.zones[*i].strip)).collect();
        let sections = sizing::sections(design, &layout, &g.skins, &self.base.sizing);
        let n = layout.zones.len();
        let mut out = Judged { first: vec![None; n], value: vec![Value::default(); n] };
        let mut place = vec![usize::MAX; Strip::ALL.len() * layout.bays.len()];
        let slot = |s: Strip, bay: usize| s as usize * layout.bays.len() + bay;
        for &i in &own {
            place[slot(layout.zones[i].strip, layout.zones[i].bay)] = i;
        }
        // The same wing with these zones alone, and back.
        let mut others: Vec<Zone> = own.iter().map(|i| layout.zones[*i]).collect();
        std::mem::swap(&mut others, &mut layout.zones);
        let base = self.base;
        let spar = (&base.sizing, sections.as_slice(), base.bending.as_slice());
        let context = Context::under(design, (&layout, &g.skins, &base.loads), spar, self.of_loads);
        let margins = strength::margins_of(&context, |m| ON_ZONES.contains(&m));
        for (at, m) in margins.iter().enumerate() {
            let zone = m.strip.zip(m.bay).and_then(|(s, b)| place.get(slot(s, b)));
            let Some(first) = zone.and_then(|z| out.first.get_mut(*z)).filter(|f| f.is_none()) else { continue };
            *first = rules_out(design, m).map(|why| (at, why));
        }
        let lines = tally::of_zones(design, &layout, &g.skins);
        std::mem::swap(&mut others, &mut layout.zones);
        for (i, v) in own.iter().zip(self.worth(&layout, c, &own, &out.first, kept)) {
            out.value[*i] = v;
        }
        for p in &lines {
            let zone = of_zone(p).and_then(|(s, b)| place.get(slot(s, b)));
            if let Some(v) = zone.and_then(|z| out.value.get_mut(*z)) {
                v.kg += expected_kg(p);
            }
        }
        if rigid(&g.skins, c) {
            let glue = self.glue_kg_m();
            for &i in &own {
                out.value[i].kg += glue * layout.zones[i].arc_m;
            }
        }
        out
    }

    /// Adhesive along both edges of rigid zones for each metre of arc, kg/m.
    pub fn glue_kg_m(&self) -> f64 {
        let design = &self.ground.drawn;
        let growth = self.base.weight.parts.iter().find(|p| p.heading == Heading::Bonds).map_or(0.0, |p| p.growth);
        2.0 * glue_kg_m(design.seams.bond_width_m, design.seams.bond_thickness_m, design) * (1.0 + growth)
    }

    /// Hours, cost, repair and press load; the last two only where no margin rules the construction out.
    fn worth(&self, layout: &Layout, c: usize, own: &[usize], first: &[First], kept: &mut Kept) -> Vec<Value> {
        let (g, n) = (self.ground, layout.zones.len());
        kept.zones.resize(n, None);
        let mut asked = vec![false; n];
        for &i in own {
            asked[i] = first[i].is_none();
        }
        let wing = (&g.drawn, layout, g.skins.as_slice());
        let foot = kept.foot.get_or_insert_with(|| Underfoot::of(wing, c, self.assumed));
        let ground = term::Ground::under(wing, self.half_kg(), self.assumed, (c, foot));
        let by_weight = zonal::hours(&ground, &g.meetings, (c, &asked), Part::ByWeight);
        for (a, k) in asked.iter_mut().zip(&kept.zones) {
            *a &= k.is_none();
        }
        if asked.contains(&true) {
            let fixed = zonal::hours(&ground, &g.meetings, (c, &asked), Part::Fixed);
            let both = fixed.into_iter().zip(zonal::press_n(&ground, &asked));
            for ((k, both), _) in kept.zones.iter_mut().zip(both).zip(&asked).filter(|(_, asked)| **asked) {
                *k = Some(both);
            }
        }
        own.iter()
            .map(|&i| {
                let mut v = values(g, &layout.zones[i], c);
                if let (None, Some((fixed, press_n))) = (first[i], kept.zones[i]) {
                    v.repair_h = fixed.zone + by_weight[i].zone;
                    v.joint_h = (fixed.joint + by_weight[i].joint).max(0.0);
                    v.dent_n = press_n;
                }
                v
            })
            .collect()
    }

    fn half_kg(&self) -> f64 {
        self.base.weight.expected_kg.max(1.0) / 2.0
    }

    /// Repair hours of the zones that no chain decides on.
    pub fn fixed_repair_h(&self, decided: &[bool]) -> f64 {
        let asked: Vec<bool> = decided.iter().map(|d| !d).collect();
        if !asked.contains(&true) {
            return 0.0;
        }
        let wing = (&self.ground.drawn, &self.base.layout, self.ground.skins.as_slice());
        zonal::hours_as_drawn(&term::Ground::new(wing, self.half_kg(), self.assumed), &asked)
    }

    fn web(&self, c: usize) -> Judged {
        let (g, layout) = (self.ground, &self.base.layout);
        let mut design = g.drawn.clone();
        let all: Vec<usize> = (0..layout.bays.len()).collect();
        layup::put(&mut design, Place::Web, &all, &vec![c; all.len()], &g.edges);
        let least = sizing::least(&design, layout);
        let size = sizer::size(&design, layout, &g.skins, &self.base.loads, &least);
        let sections = sizing::sections(&design, layout, &g.skins, &size);
        let context = Context::under(
            &design,
            (layout, &g.skins, &self.base.loads),
            (&size, &sections, &self.base.bending),
            self.of_loads,
        );
        let margins = strength::margins_of(&context, |m| m.starts_with("web_"));
        let weight = tally::weigh(&design, layout, &g.skins, &size, self.assumed);
        let bay = |b: &usize| {
            let here = |m: &Margin| m.strip.is_none() && m.bay == Some(*b);
            first_of(&design, &margins, here)
        };
        let wing = (&design, layout, g.skins.as_slice());
        let of_bay = |b: &usize| Value {
            kg: heading_kg(&weight, Heading::Web, Some(*b)),
            cost: work::spar::of_web(wing, &size, Some(*b)),
            ..Value::default()
        };
        Judged { first: all.iter().map(bay).collect(), value: all.iter().map(of_bay).collect() }
    }

    fn ribs(&self, c: usize) -> Judged {
        let (g, layout) = (self.ground, &self.base.layout);
        let mut design = g.drawn.clone();
        layup::put(&mut design, Place::Ribs, &[0], &[c], &g.edges);
        let base = self.base;
        let context = Context::under(
            &design,
            (layout, &g.skins, &base.loads),
            (&base.sizing, &base.sections, &base.bending),
            self.of_loads,
        );
        let margins = strength::margins_of(&context, |m| m.starts_with("rib_"));
        let weight = tally::weigh(&design, layout, &g.skins, &self.base.sizing, self.assumed);
        // Hours go by the kind, whatever its body is made of.
        let cost = work::of_ribs(&design, layout, &g.skins, None).1;
        let value = Value { kg: heading_kg(&weight, Heading::Ribs, None), cost, ..Value::default() };
        Judged { first: vec![first_of(&design, &margins, |_| true)], value: vec![value] }
    }
}

fn first_of(design: &Design, margins: &[Margin], here: impl Fn(&Margin) -> bool) -> First {
    margins.iter().enumerate().filter(|(_, m)| here(m)).find_map(|(i, m)| Some((i, rules_out(design, m)?)))
}

/// Building hours and cost of a zone of a construction; weight, repair and press load are not known yet.
pub fn values(g: &Ground, z: &Zone, construction: usize) -> Value {
    let Some(s) = g.skins.get(construction) else { return Value::default() };
    let hours = 2.0 * z.area_m2 * s.hours_per_m2;
    let material = 2.0 * z.area_m2 * s.cost_per_m2 * (1.0 + g.drawn.rates.waste);
    Value { hours, cost: hours.mul_add(g.drawn.rates.hour_price, material), ..Value::default() }
}

/// Weight, hours and cost of every zone of the wing the table is filled around.
pub fn as_drawn(bench: &Bench) -> Vec<Value> {
    let base = bench.base;
    let mut kg = vec![0.0; Strip::ALL.len() * base.layout.bays.len()];
    let slot = |s: Strip, bay: usize| s as usize * base.layout.bays.len() + bay;
    for (p, (s, b)) in base.weight.parts.iter().filter_map(|p| Some((p, of_zone(p)?))) {
        if let Some(k) = kg.get_mut(slot(s, b)) {
            *k += expected_kg(p);
        }
    }
    let glue = bench.glue_kg_m();
    let glue = |z: &Zone| if rigid(&bench.ground.skins, z.construction) { glue * z.arc_m } else { 0.0 };
    let zones = base.layout.zones.iter();
    zones.map(|z| Value { kg: kg[slot(z.strip, z.bay)] + glue(z), ..values(bench.ground, z, z.construction) }).collect()
}
