//! The table of one wing: every construction in every bay, evaluated by the full evaluator with that construction over
//! a whole group of strips and the rest as drawn, and read off zone by zone.

use rayon::prelude::*;

use crate::mix::ask::{Ask, PENALTY, Place, Unsampled};
use crate::mix::layup;
use crate::mix::limits::{BUILD_TICK_H, Ticks, repair_limit_h, up};
use crate::physics::assumptions::Assumptions;
use crate::physics::design::{Design, Strip};
use crate::physics::durability::index::{self, Durability};
use crate::physics::evaluation::{Evaluation, evaluate_on, skins_of, structure_on};
use crate::physics::laminate::construction::{Kind, Skin};
use crate::physics::loads::lift::{self, LiftBasis};
use crate::physics::mass::seams::glue_kg_m;
use crate::physics::mass::skins::rigid;
use crate::physics::mass::tally::{Heading, Weight};
use crate::physics::strength::{Margin, Verdict};
use crate::physics::wing::layout::{self, Layout};
use crate::search::{Cell, Joint, Strip as Chain, Table};

/// What does not change between the designs of one table.
#[derive(Debug, Clone)]
pub struct Ground {
    /// The wing as drawn, with every boundary set on the nearest rib outboard.
    pub drawn: Design,
    pub layout: Layout,
    pub edges: Vec<f64>,
    pub skins: Vec<Skin>,
    pub lift: LiftBasis,
}

impl Ground {
    /// Lay the wing out without boundaries between ribs.
    pub fn new(design: &Design, assumed: &Assumptions) -> Self {
        let mut plain = design.clone();
        for s in &mut plain.strips {
            s.runs.truncate(1);
            if let Some(r) = s.runs.first_mut() {
                r.to_eta = 1.0;
            }
        }
        let layout = layout::lay_out(&plain);
        let edges = layup::rib_edges(&layout);
        let lift = lift::basis(&plain, &layout);
        Self { drawn: layup::on_ribs(design, &edges), layout, edges, skins: skins_of(design, assumed), lift }
    }
    /// What a table needs of a design of these ribs; durability only where skins are asked about.
    fn judge(&self, design: &Design, skins: bool, assumed: &Assumptions) -> Judged {
        let s = structure_on(design, (self.layout.refitted(design), self.skins.clone(), self.lift.clone()), assumed);
        let durability =
            if skins { index::rate(design, &s.layout, &s.skins, &s.weight, assumed) } else { Durability::default() };
        Judged { layout: s.layout, weight: s.weight, margins: s.margins, durability }
    }
    /// The full evaluation of a design of these ribs.
    pub fn evaluate(&self, design: &Design, assumed: &Assumptions) -> Evaluation {
        evaluate_on(design, (self.layout.refitted(design), self.skins.clone(), self.lift.clone()), assumed)
    }
}

/// Why a construction is not allowed in a bay.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Why {
    pub mode: &'static str,
    /// Reserve factor; none when the margin is not shown.
    pub rf: Option<f64>,
}

/// A chain of the table and what its rows and columns mean.
#[derive(Debug, Clone)]
pub struct Meaning {
    pub place: Place,
    /// Construction of each candidate.
    pub candidates: Vec<usize>,
    /// Bay of each step of the chain.
    pub bays: Vec<usize>,
    /// `[candidate * bays + bay]`
    pub why: Vec<Option<Why>>,
}

/// A table and what it means.
#[derive(Debug, Clone)]
pub struct Filled {
    pub ground: Ground,
    pub meaning: Vec<Meaning>,
    pub chains: Vec<Chain>,
    /// Everything that no choice changes, as evaluated with the wing as drawn: expected kg, hours, cost, repair hours.
    pub fixed_kg: f64,
    pub fixed_hours: f64,
    pub fixed_cost: f64,
    pub fixed_repair_h: f64,
    pub ticks: Ticks,
    asked: Ticks,
    /// Taken out after a full evaluation: place, construction, bay and why.
    pub taken: Vec<(Place, usize, usize, Why)>,
    /// Chains changed since they were asked for.
    touched: Vec<usize>,
}

/// What the table reads off one evaluation.
struct Judged {
    layout: Layout,
    weight: Weight,
    margins: Vec<Margin>,
    durability: Durability,
}

/// Strips that take a construction together when it is judged: the nose, everything behind the spar, web, ribs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Group {
    Nose,
    Behind,
    Web,
    Ribs,
}

const fn group(place: Place) -> Group {
    match place {
        Place::Web => Group::Web,
        Place::Ribs => Group::Ribs,
        Place::Skin(s) | Place::Pair(s, _) => {
            if s.is_nose() {
                Group::Nose
            } else {
                Group::Behind
            }
        }
    }
}

/// One zone of one evaluation in plain units.
#[derive(Debug, Clone, Copy, Default)]
struct Zonal {
    kg: f64,
    repair_h: f64,
    hours: f64,
    cost: f64,
    dent_n: f64,
}

fn zonal(design: &Design, skins: &[Skin], e: &Judged, (strip, bay): (Strip, usize)) -> Option<Zonal> {
    let (i, z) = e.layout.zones.iter().enumerate().find(|(_, z)| z.strip == strip && z.bay == bay)?;
    let s = skins.get(z.construction)?;
    let parts = e.weight.parts.iter().filter(|p| p.strip == Some(strip) && p.bay == Some(bay));
    let mut kg: f64 = parts.filter(|p| p.heading != Heading::Splices).map(|p| p.nominal_kg * (1.0 + p.growth)).sum();
    if rigid(skins, z.construction) {
        let glue = glue_kg_m(design.seams.bond_width_m, design.seams.bond_thickness_m, design);
        kg += 2.0 * z.arc_m * glue * (1.0 + growth_of(e, Heading::Bonds));
    }
    let hours = 2.0 * z.area_m2 * s.hours_per_m2;
    let material = 2.0 * z.area_m2 * s.cost_per_m2 * (1.0 + design.rates.waste);
    let d = e.durability.zones.get(i)?;
    let cost = hours.mul_add(design.rates.hour_price, material);
    Some(Zonal { kg, repair_h: d.repair_h, hours, cost, dent_n: d.press_n })
}

fn growth_of(e: &Judged, heading: Heading) -> f64 {
    e.weight.parts.iter().find(|p| p.heading == heading).map_or(0.0, |p| p.growth)
}

/// Build the table. Cost: one evaluation for each construction of the nose, of the other skins, of web and ribs, on as
/// many threads as there are; the order of the table does not depend on them.
pub fn fill(design: &Design, ask: &Ask, ticks: Ticks, assumed: &Assumptions) -> Filled {
    let ground = Ground::new(design, assumed);
    let e = ground.evaluate(&ground.drawn, assumed);
    let mut out = Filled {
        fixed_kg: e.weight.expected_kg,
        fixed_hours: e.work.hours,
        fixed_cost: e.work.cost,
        fixed_repair_h: e.durability.repair_h,
        meaning: Vec::new(),
        chains: Vec::new(),
        ticks,
        asked: ticks,
        taken: Vec::new(),
        touched: Vec::new(),
        ground,
    };
    let drawn = Judged { layout: e.layout, weight: e.weight, margins: e.margins, durability: e.durability };
    let chains = ask.chains(design);
    let mut wanted: Vec<(Group, usize)> = Vec::new();
    for (place, candidates) in &chains {
        for c in candidates {
            if !wanted.contains(&(group(*place), *c)) {
                wanted.push((group(*place), *c));
            }
        }
    }
    let judged: Vec<Judged> =
        wanted.par_iter().map(|(g, c)| judge_group(&out.ground, &chains, *g, *c, assumed)).collect();
    let repair_cap_h = repair_limit_h(design).unwrap_or(f64::INFINITY);
    out.ticks.hour_h = tick_h(ticks.hour_h, &judged, repair_cap_h);
    for (place, candidates) in &chains {
        let Some(bays) = bays_of(*place, &out.ground.layout) else { continue };
        let mut m = Meaning { place: *place, candidates: candidates.clone(), bays, why: Vec::new() };
        let mut cells = Vec::new();
        for &c in candidates {
            let at = wanted.iter().position(|w| *w == (group(*place), c));
            let Some(e) = at.and_then(|i| judged.get(i)) else { continue };
            for &bay in &m.bays {
                let (cell, why) = cell_of(&out.ground, e, (*place, bay), (out.ticks, repair_cap_h));
                let too_far_in = matches!(place, Place::Skin(_) | Place::Pair(..))
                    && design.constructions.get(c).is_some_and(|k| k.kind == Kind::Covering)
                    && out.ground.edges[bay] + 1e-9 < f64::from(ask.covering_outboard_of) / 1000.0;
                m.why.push(if too_far_in { Some(Why { mode: "covering_outboard_of", rf: None }) } else { why });
                let penalty = ask.unsampled == Unsampled::Penalised && !ask.sampled.contains(&c);
                let cell = cell.filter(|_| why.is_none() && !too_far_in);
                cells.push(if penalty && !place.strips().is_empty() { cell.and_then(penalised) } else { cell });
            }
        }
        take_out_drawn(&mut out, design, &drawn, *place, &m.bays);
        out.chains.push(chain(&out.ground, design, ask, &m, cells, out.ticks));
        out.meaning.push(m);
    }
    out
}

/// Ticks of repair a whole table may span: the search takes time in proportion.
const SPAN_TICKS: f64 = 20_000.0;

/// The tick asked for, or ten, a hundred... times it where constructions that need much repair would span too many. The
/// answer says which tick it came from, and the rounding bound that goes with it.
fn tick_h(asked_h: f64, judged: &[Judged], cap_h: f64) -> f64 {
    let zones = judged.iter().map(|e| e.durability.zones.len()).max().unwrap_or(0);
    let worst = |i: usize| {
        let hours = judged.iter().filter_map(|e| e.durability.zones.get(i)).map(|z| z.repair_h);
        hours.filter(|h| *h <= cap_h).fold(0.0, f64::max)
    };
    let span_h: f64 = (0..zones).map(worst).sum();
    let mut tick = asked_h;
    while span_h / tick > SPAN_TICKS * asked_fine(asked_h) {
        tick *= 10.0;
    }
    tick
}

/// A final answer may take ten times the time of a live one.
fn asked_fine(asked_h: f64) -> f64 {
    if asked_h < Ticks::LIVE.hour_h { 10.0 } else { 1.0 }
}

/// A cell of a construction nobody has tried: heavier and needing more repair on the table only.
fn penalised(c: Cell) -> Option<Cell> {
    let more = |n: u32| up(f64::from(n) * (1.0 + PENALTY), 1.0);
    Some(Cell { mass: more(c.mass)?, repair: more(c.repair)?, ..c })
}

/// Take from the fixed sums what the chain will decide.
fn take_out_drawn(out: &mut Filled, design: &Design, drawn: &Judged, place: Place, bays: &[usize]) {
    let zones = place.strips().into_iter().flat_map(|s| bays.iter().map(move |b| (s, *b)));
    let zones: Vec<Zonal> = zones.filter_map(|z| zonal(design, &out.ground.skins, drawn, z)).collect();
    for z in zones {
        out.fixed_kg -= z.kg;
        out.fixed_hours -= z.hours;
        out.fixed_cost -= z.cost;
        out.fixed_repair_h -= z.repair_h;
    }
    for s in place.strips() {
        let splices = drawn.weight.parts.iter().filter(|p| p.heading == Heading::Splices && p.strip == Some(s));
        out.fixed_kg -= splices.map(|p| p.nominal_kg * (1.0 + p.growth)).sum::<f64>();
    }
    if let Some(h) = heading_of(place) {
        out.fixed_kg -= heading_kg(drawn, h, None);
    }
}

fn heading_of(place: Place) -> Option<Heading> {
    match place {
        Place::Web => Some(Heading::Web),
        Place::Ribs => Some(Heading::Ribs),
        Place::Skin(_) | Place::Pair(..) => None,
    }
}

fn heading_kg(e: &Judged, h: Heading, bay: Option<usize>) -> f64 {
    let parts = e.weight.parts.iter().filter(|p| p.heading == h && bay.is_none_or(|b| p.bay == Some(b)));
    parts.map(|p| p.nominal_kg * (1.0 + p.growth)).sum()
}

fn bays_of(place: Place, layout: &Layout) -> Option<Vec<usize>> {
    let of = |s: Strip| layout.zones.iter().filter(|z| z.strip == s).map(|z| z.bay).collect::<Vec<_>>();
    let bays = match place {
        Place::Skin(s) | Place::Pair(s, _) => of(s),
        Place::Web => (0..layout.bays.len()).collect(),
        Place::Ribs => vec![0],
    };
    (!bays.is_empty()).then_some(bays)
}

/// A construction over a whole group of strips, the rest as drawn.
fn judge_group(
    ground: &Ground,
    chains: &[(Place, Vec<usize>)],
    which: Group,
    c: usize,
    assumed: &Assumptions,
) -> Judged {
    let mut design = ground.drawn.clone();
    let all: Vec<usize> = (0..ground.layout.bays.len()).collect();
    for (place, candidates) in chains.iter().filter(|(p, _)| group(*p) == which) {
        if candidates.contains(&c) {
            layup::put(&mut design, *place, &all, &vec![c; all.len()], &ground.edges);
        }
    }
    ground.judge(&design, matches!(which, Group::Nose | Group::Behind), assumed)
}

/// A margin that rules a cell out: short, or not shown and not accepted.
pub fn rules_out(design: &Design, m: &Margin) -> Option<Why> {
    match m.verdict {
        Verdict::Holds => None,
        Verdict::Short => Some(Why { mode: m.mode, rf: Some(m.rf) }),
        Verdict::NotShown(_) => {
            (!design.accepted.iter().any(|a| a.key == m.mode)).then_some(Why { mode: m.mode, rf: None })
        }
    }
}

fn cell_of(
    ground: &Ground,
    e: &Judged,
    (place, bay): (Place, usize),
    (ticks, repair_cap_h): (Ticks, f64),
) -> (Option<Cell>, Option<Why>) {
    let design = &ground.drawn;
    let here = |m: &&Margin| match place {
        Place::Skin(s) => m.strip == Some(s) && m.bay == Some(bay),
        Place::Pair(a, b) => (m.strip == Some(a) || m.strip == Some(b)) && m.bay == Some(bay),
        Place::Web => m.strip.is_none() && m.bay == Some(bay) && m.mode.starts_with("web_"),
        Place::Ribs => m.mode.starts_with("rib_"),
    };
    let why = e.margins.iter().filter(here).find_map(|m| rules_out(design, m));
    let mut sum = Zonal { dent_n: f64::INFINITY, ..Zonal::default() };
    for z in place.strips().into_iter().filter_map(|s| zonal(design, &ground.skins, e, (s, bay))) {
        sum.kg += z.kg;
        sum.repair_h += z.repair_h;
        sum.hours += z.hours;
        sum.cost += z.cost;
        sum.dent_n = sum.dent_n.min(z.dent_n);
    }
    if let Some(h) = heading_of(place) {
        sum.kg = heading_kg(e, h, (place == Place::Web).then_some(bay));
    }
    // A zone that takes more repair than the whole wing may can stand in no design within the limits.
    let why = why.or((sum.repair_h > repair_cap_h).then_some(Why { mode: "repair hours", rf: None }));
    let cell = || {
        Some(Cell {
            mass: up(sum.kg, ticks.mass_kg)?,
            repair: up(sum.repair_h, ticks.hour_h)?,
            build: up(sum.hours, BUILD_TICK_H)?,
            cost: up(sum.cost, ticks.cost)?,
            dent: sum.dent_n.clamp(0.0, 1e9).floor() as u32,
        })
    };
    (cell(), why)
}

/// Fibre and resin of a lap are told apart to this, kg/m2; a class of splice takes the heaviest of it.
const LAP_STEP_KG_M2: f64 = 0.05;

/// The chain of the search: classes of splice and what each joint costs.
fn chain(ground: &Ground, design: &Design, ask: &Ask, m: &Meaning, cells: Vec<Option<Cell>>, ticks: Ticks) -> Chain {
    let lap = |c: usize| ground.skins.get(c).map_or(0.0, |s| s.mass.fibre + s.mass.resin);
    let covering = |c: usize| design.constructions.get(c).is_some_and(|k| k.kind == Kind::Covering);
    let mut classes: Vec<(bool, u32)> = Vec::new();
    let class_of: Vec<usize> = m
        .candidates
        .iter()
        .map(|&c| {
            let key = (covering(c), (lap(c) / LAP_STEP_KG_M2).ceil() as u32);
            classes.iter().position(|k| *k == key).unwrap_or_else(|| {
                classes.push(key);
                classes.len() - 1
            })
        })
        .collect();
    let s = &design.seams;
    let glue = glue_kg_m(s.bond_width_m, s.bond_thickness_m, design);
    let growth = 1.0 + design.rates.growth;
    let mut joints = Vec::new();
    for w in m.bays.windows(2) {
        for from in &classes {
            for to in &classes {
                let length: f64 = m
                    .place
                    .strips()
                    .into_iter()
                    .filter_map(|s| {
                        let arc = |b: usize| ground.layout.zone(s, b).map(|z| z.arc_m);
                        Some(f64::midpoint(arc(w[0])?, arc(w[1])?))
                    })
                    .sum();
                let fibre = f64::from(from.1 + to.1) * LAP_STEP_KG_M2;
                let kg = 2.0 * length * (s.splice_lap_m * fibre + glue) * growth;
                let back = from.0 && !to.0;
                joints.push(up(kg, ticks.mass_kg).filter(|_| !back).map(|mass| Joint { mass, repair: 0, build: 0 }));
            }
        }
    }
    let skin = !m.place.strips().is_empty();
    Chain {
        name: m.place.label(),
        bays: m.bays.len(),
        candidates: m
            .candidates
            .iter()
            .map(|c| design.constructions.get(*c).map_or_else(String::new, |k| k.key.clone()))
            .collect(),
        max_changes: ask.most_changes,
        classes: classes.len(),
        class_of,
        shortest_run: vec![if skin { ask.shortest_run.max(1) } else { 1 }; m.candidates.len()],
        cells,
        joints,
    }
}

impl Filled {
    /// The table as it stands.
    pub fn table(&self) -> Result<Table, Vec<crate::problem::Problem>> {
        Table::new(self.chains.clone())
    }
    /// The design of a choice.
    pub fn design(&self, choice: &[Vec<usize>]) -> Design {
        let mut d = self.ground.drawn.clone();
        for (m, chosen) in self.meaning.iter().zip(choice) {
            let each: Vec<usize> = chosen.iter().filter_map(|k| m.candidates.get(*k).copied()).collect();
            layup::put(&mut d, m.place, &m.bays, &each, &self.ground.edges);
        }
        d
    }
    /// Chains from which something was taken since this was last asked, each once.
    pub fn changed(&mut self) -> Vec<usize> {
        let mut out = std::mem::take(&mut self.touched);
        out.sort_unstable();
        out.dedup();
        out
    }
    /// Fill again around another design of the same ribs, everything taken out so far still out.
    #[must_use]
    pub fn around(&self, design: &Design, ask: &Ask, assumed: &Assumptions) -> Self {
        let mut out = fill(design, ask, self.asked, assumed);
        for (place, construction, bay, why) in &self.taken {
            let Some(c) = out.meaning.iter().position(|m| m.place == *place) else { continue };
            let m = &out.meaning[c];
            let at = m.candidates.iter().position(|k| k == construction);
            if let Some((k, step)) = at.zip(m.bays.iter().position(|b| b == bay)) {
                out.tighten(c, k, step, *why);
            }
        }
        out
    }
    /// Take a construction out of a bay of a chain; false when it was not there.
    pub fn tighten(&mut self, chain: usize, candidate: usize, step: usize, why: Why) -> bool {
        let (Some(c), Some(m)) = (self.chains.get_mut(chain), self.meaning.get_mut(chain)) else { return false };
        let at = candidate * c.bays + step;
        match (c.cells.get_mut(at), m.why.get_mut(at)) {
            (Some(cell @ Some(_)), Some(slot)) => {
                *cell = None;
                *slot = Some(why);
                self.touched.push(chain);
                self.taken.push((m.place, m.candidates[candidate], m.bays[step], why));
                true
            }
            _ => false,
        }
    }
}
