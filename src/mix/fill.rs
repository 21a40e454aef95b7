//! The table of one wing: every construction in every bay, judged against the wing it is filled around and read off zone
//! by zone.

use rayon::prelude::*;

use crate::mix::ask::{Ask, PENALTY, Place, Unsampled, is_skin};
use crate::mix::judge::{Bench, Group, Judged, Kept, Value, as_drawn, expected_kg, group, heading_kg};
use crate::mix::layup;
use crate::mix::limits::{BUILD_TICK_H, Ticks, repair_limit_h, up};
use crate::mix::yields::Yields;
use crate::physics::assumptions::Assumptions;
use crate::physics::design::{Design, Strip};
use crate::physics::durability::meetings::Meetings;
use crate::physics::evaluation::{Evaluation, Structure, rest_of, skins_of, spar_on, structure_on};
use crate::physics::laminate::construction::{Kind, Skin};
use crate::physics::loads::lift::{self, LiftBasis};
use crate::physics::mass::seams::glue_kg_m;
use crate::physics::mass::tally::Heading;
use crate::physics::strength::judged;
use crate::physics::strength::{Margin, OfLoads, Verdict};
use crate::physics::wing::layout::{self, Layout};
use crate::physics::work;
use crate::search::{Cell, Joint, Strip as Chain, Table};

/// What does not change between the designs of one table.
#[derive(Debug, Clone)]
pub struct Ground {
    /// The wing the table is filled around, with every boundary set on the nearest rib outboard.
    pub drawn: Design,
    pub layout: Layout,
    pub edges: Vec<f64>,
    pub skins: Vec<Skin>,
    pub lift: LiftBasis,
    /// Where handling meets the zones, by kind of surface.
    pub meetings: Meetings,
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
        let skins = skins_of(design, assumed);
        let mut kinds: Vec<Kind> = design.constructions.iter().filter(|c| is_skin(c)).map(|c| c.kind).collect();
        kinds.sort_unstable_by_key(|k| *k as usize);
        kinds.dedup();
        let meetings = Meetings::of(design, &layout, assumed, &kinds);
        Self { drawn: layup::on_ribs(design, &edges), layout, edges, skins, lift, meetings }
    }
    fn on(&self, design: &Design) -> (Layout, Vec<Skin>, LiftBasis) {
        (self.layout.refitted(design), self.skins.clone(), self.lift.clone())
    }
    /// Weight, loads and spar of a design of these ribs.
    pub fn spar(&self, design: &Design, assumed: &Assumptions) -> Structure {
        spar_on(design, self.on(design), assumed)
    }
    /// The same with all margins.
    pub fn structure(&self, design: &Design, assumed: &Assumptions) -> Structure {
        structure_on(design, self.on(design), assumed)
    }
    /// The full evaluation of a design of these ribs.
    pub fn evaluate(&self, design: &Design, assumed: &Assumptions) -> Evaluation {
        rest_of(design, self.structure(design, assumed), assumed)
    }
}

/// Why a construction is not allowed in a bay.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Why {
    pub mode: &'static str,
    /// Reserve factor; none when the margin is not shown.
    pub rf: Option<f64>,
    /// What a margin is judged at; none where it is a limit of the person's own.
    pub judged: Option<judged::Judged>,
}

impl Why {
    /// A limit of the person's own.
    pub const fn own(mode: &'static str, rf: Option<f64>) -> Self {
        Self { mode, rf, judged: None }
    }
    /// "RF 0.84 at limit".
    pub fn reserve(&self) -> Option<String> {
        let at = self.judged.map_or_else(String::new, |j| format!(" {}", j.words()));
        self.rf.map(|rf| format!("RF {rf:.2}{at}"))
    }
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
    /// Modes of the whole wing that are limited as sums.
    pub yields: Yields,
    /// Expected mass of the wing it is filled around.
    pub base_kg: f64,
    /// By construction and group, what need not be worked out again around another wing.
    kept: Vec<Kept>,
}

/// Build the table around a design.
pub fn fill(design: &Design, ask: &Ask, ticks: Ticks, assumed: &Assumptions) -> Filled {
    let ground = Ground::new(design, assumed);
    let base = ground.spar(&ground.drawn, assumed);
    fill_around((ground, &base, Vec::new()), ask, ticks, assumed)
}

/// A cell before it is put in ticks.
type Plain = (Option<Why>, Value);

/// Build the table around a wing of these ribs: each construction once over the nose, the other skins, web and
/// ribs, on as many threads as there are; the order of the table does not depend on them.
fn fill_around(
    (ground, base, mut kept): (Ground, &Structure, Vec<Kept>),
    ask: &Ask,
    ticks: Ticks,
    assumed: &Assumptions,
) -> Filled {
    let chains = ask.chains(&ground.drawn);
    let mut wanted: Vec<(Group, usize)> = Vec::new();
    for (place, candidates) in &chains {
        for c in candidates {
            if !wanted.contains(&(group(*place), *c)) {
                wanted.push((group(*place), *c));
            }
        }
    }
    kept.resize(wanted.len(), Kept::default());
    let of_loads = OfLoads::of(&base.loads, base.layout.bays.len());
    let bench = Bench { ground: &ground, base, of_loads: &of_loads, chains: &chains, assumed };
    let judged: Vec<Judged> =
        wanted.par_iter().zip(&mut kept).map(|((g, c), kept)| bench.judge(*g, *c, kept)).collect();
    let repair_cap_h = repair_limit_h(&ground.drawn).unwrap_or(f64::INFINITY);
    // What no choice changes: all of the wing, less what each chain decides.
    let work = work::estimate((&ground.drawn, &base.layout, &ground.skins), &base.weight, &base.sizing);
    let mut fixed = Value { kg: base.weight.expected_kg, hours: work.hours, cost: work.cost, ..Value::default() };
    let drawn = as_drawn(&bench);
    let mut decided = vec![false; ground.layout.zones.len()];
    let mut meaning: Vec<Meaning> = Vec::new();
    let mut plain: Vec<Vec<Plain>> = Vec::new();
    for (place, candidates) in &chains {
        let Some(bays) = bays_of(*place, &ground.layout) else { continue };
        let zones: Vec<Vec<usize>> = bays.iter().map(|b| zones_of(*place, *b, &ground.layout)).collect();
        let mut cells = Vec::new();
        let mut m = Meaning { place: *place, candidates: candidates.clone(), bays, why: Vec::new() };
        for &c in candidates {
            let Some(j) = wanted.iter().position(|w| *w == (group(*place), c)).and_then(|i| judged.get(i)) else {
                continue;
            };
            for (&bay, zones) in m.bays.iter().zip(&zones) {
                let (mut why, value) = cell_of(j, *place, bay, zones);
                // A zone that takes more repair than the whole wing may can stand in no design within the limits.
                why = why.or((value.repair_h > repair_cap_h).then_some(Why::own("repair hours", None)));
                let too_far_in = matches!(place, Place::Skin(_) | Place::Pair(..))
                    && ground.drawn.constructions.get(c).is_some_and(|k| k.kind == Kind::Covering)
                    && ground.edges[bay] + 1e-9 < f64::from(ask.covering_outboard_of) / 1000.0;
                if too_far_in {
                    why = Some(Why::own("covering_outboard_of", None));
                }
                m.why.push(why);
                cells.push((why, value));
            }
        }
        take_out_drawn(&mut fixed, (&bench, &drawn), &m, &zones);
        for z in zones.into_iter().flatten() {
            decided[z] = true;
        }
        plain.push(cells);
        meaning.push(m);
    }
    fixed.repair_h = bench.fixed_repair_h(&decided);
    let asked = ticks;
    let ticks = Ticks { hour_h: tick_h(asked.hour_h, &meaning, &plain), ..asked };
    let places: Vec<Place> = meaning.iter().map(|m| m.place).collect();
    let yields = Yields::around(&ground.drawn, base, &places);
    let mut all = Vec::new();
    for (m, plain) in meaning.iter().zip(&plain) {
        let skin = !m.place.strips().is_empty();
        let untried =
            |i: usize| skin && ask.unsampled == Unsampled::Penalised && !ask.sampled.contains(&m.candidates[i]);
        let cells = plain.iter().enumerate().map(|(i, (why, value))| {
            let plain = in_ticks(value, ticks).filter(|_| why.is_none());
            let cell = plain.map(|c| Cell { yields: yields_of(&yields, &ground, m, i), ..c });
            if untried(i / m.bays.len()) { cell.and_then(penalised) } else { cell }
        });
        let (cells, joint_h) = (cells.collect(), joint_hours(plain));
        all.push(chain(&ground, ask, m, (cells, &joint_h), ticks));
    }
    Filled {
        fixed_kg: fixed.kg,
        fixed_hours: fixed.hours,
        fixed_cost: fixed.cost,
        fixed_repair_h: fixed.repair_h,
        meaning,
        chains: all,
        ticks,
        asked,
        taken: Vec::new(),
        touched: Vec::new(),
        yields,
        base_kg: base.weight.expected_kg,
        kept,
        ground,
    }
}

/// Ticks of repair a whole table may span: the search takes time in proportion.
const SPAN_TICKS: f64 = 100_000.0;

/// The tick asked for, or ten, a hundred... times it where constructions that need much repair would span too many. The
/// answer says which tick it came from, and the rounding bound that goes with it.
fn tick_h(asked_h: f64, meaning: &[Meaning], plain: &[Vec<Plain>]) -> f64 {
    let span_h: f64 = (meaning.iter().zip(plain))
        .map(|(m, cells)| {
            let worst = |bay: usize| {
                let of_bay = cells.iter().skip(bay).step_by(m.bays.len());
                of_bay.filter(|(why, _)| why.is_none()).map(|(_, v)| v.repair_h).fold(0.0, f64::max)
            };
            (0..m.bays.len()).map(worst).sum::<f64>()
        })
        .sum();
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

/// Take from the fixed sums what a chain will decide.
fn take_out_drawn(fixed: &mut Value, (bench, drawn): (&Bench, &[Value]), m: &Meaning, zones: &[Vec<usize>]) {
    for v in zones.iter().flatten().filter_map(|z| drawn.get(*z)) {
        fixed.kg -= v.kg;
        fixed.hours -= v.hours;
        fixed.cost -= v.cost;
    }
    let parts = &bench.base.weight.parts;
    for &s in m.place.strips() {
        let splices = parts.iter().filter(|p| p.heading == Heading::Splices && p.strip == Some(s));
        fixed.kg -= splices.map(expected_kg).sum::<f64>();
    }
    if let Some(h) = heading_of(m.place) {
        fixed.kg -= heading_kg(&bench.base.weight, h, None);
    }
    if m.place == Place::Web {
        let wing = (&bench.ground.drawn, &bench.base.layout, bench.ground.skins.as_slice());
        fixed.cost -= work::spar::of_web(wing, &bench.base.sizing, None);
    }
    if m.place == Place::Ribs {
        fixed.cost -= work::of_ribs(&bench.ground.drawn, &bench.base.layout, &bench.ground.skins, None).1;
    }
}

fn heading_of(place: Place) -> Option<Heading> {
    match place {
        Place::Web => Some(Heading::Web),
        Place::Ribs => Some(Heading::Ribs),
        Place::Skin(_) | Place::Pair(..) => None,
    }
}

fn bays_of(place: Place, layout: &Layout) -> Option<Vec<usize>> {
    let of = |s: Strip| layout.zones.iter().filter(|z| z.strip == s).map(|z| z.bay).collect::<Vec<_>>();
    let bays = match place {
        Place::Skin(s) | Place::Pair([s, _]) => of(s),
        Place::Web => (0..layout.bays.len()).collect(),
        Place::Ribs => vec![0],
    };
    (!bays.is_empty()).then_some(bays)
}

/// Zones of a place in a bay.
fn zones_of(place: Place, bay: usize, layout: &Layout) -> Vec<usize> {
    let strips = place.strips();
    let here = layout.zones.iter().enumerate().filter(|(_, z)| z.bay == bay && strips.contains(&z.strip));
    here.map(|(i, _)| i).collect()
}

/// A margin that rules a cell out: short, or not shown and not accepted.
pub fn rules_out(design: &Design, m: &Margin) -> Option<Why> {
    let why = |rf| Why { mode: m.mode, rf, judged: Some(judged::judged(design, m)) };
    match m.verdict {
        Verdict::Holds => None,
        Verdict::Short => Some(why(Some(m.rf))),
        Verdict::NotShown(_) => (!design.accepted.iter().any(|a| a.key == m.mode)).then(|| why(None)),
    }
}

/// A construction in a place of a bay: what rules it out first, and what it adds.
fn cell_of(j: &Judged, place: Place, bay: usize, zones: &[usize]) -> Plain {
    let one = match place {
        Place::Web => Some(bay),
        Place::Ribs => Some(0),
        Place::Skin(_) | Place::Pair(..) => None,
    };
    if let Some(i) = one {
        let why = j.first.get(i).copied().flatten().map(|f| f.1);
        return (why, Value { dent_n: f64::INFINITY, ..j.value.get(i).copied().unwrap_or_default() });
    }
    let mut sum = Value { dent_n: f64::INFINITY, ..Value::default() };
    for v in zones.iter().filter_map(|z| j.value.get(*z)) {
        sum.kg += v.kg;
        sum.repair_h += v.repair_h;
        sum.joint_h += v.joint_h;
        sum.hours += v.hours;
        sum.cost += v.cost;
        sum.dent_n = sum.dent_n.min(v.dent_n);
    }
    let first = zones.iter().filter_map(|z| *j.first.get(*z)?).min_by_key(|f| f.0);
    (first.map(|f| f.1), sum)
}

/// What the cell of a place adds to modes of the whole wing.
fn yields_of(yields: &Yields, ground: &Ground, m: &Meaning, cell: usize) -> [u32; 2] {
    let (k, step) = (cell / m.bays.len(), cell % m.bays.len());
    let skin = m.candidates.get(k).and_then(|c| ground.skins.get(*c));
    skin.filter(|_| m.place.strips().iter().any(|s| s.is_nose()))
        .map_or([0; 2], |s| yields.of(m.place, m.bays[step], s))
}

/// Everything rounded against the design; `None` beyond what a table may hold.
fn in_ticks(v: &Value, ticks: Ticks) -> Option<Cell> {
    Some(Cell {
        mass: up(v.kg, ticks.mass_kg)?,
        repair: up(v.repair_h, ticks.hour_h)?,
        build: up(v.hours, BUILD_TICK_H)?,
        cost: up(v.cost, ticks.cost)?,
        dent: v.dent_n.clamp(0.0, 1e9).floor() as u32,
        yields: [0; 2],
    })
}

/// Fibre and resin of a lap are told apart to this, kg/m2; a class of splice takes the heaviest of it.
const LAP_STEP_KG_M2: f64 = 0.05;

/// Repair hours of a boundary joint on one side of it, by candidate and bay.
fn joint_hours(plain: &[Plain]) -> Vec<f64> {
    plain.iter().map(|(why, v)| if why.is_none() { v.joint_h } else { 0.0 }).collect()
}

/// The chain of the search: classes of splice and what each joint costs.
fn chain(
    ground: &Ground,
    ask: &Ask,
    m: &Meaning,
    (cells, joint_h): (Vec<Option<Cell>>, &[f64]),
    ticks: Ticks,
) -> Chain {
    let design = &ground.drawn;
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
    // The side of a joint that takes most among the constructions of a class.
    let side_h = |class: usize, step: usize| {
        let own = class_of.iter().enumerate().filter(|(_, c)| **c == class);
        own.map(|(k, _)| joint_h[k * m.bays.len() + step]).fold(0.0, f64::max)
    };
    for (step, w) in m.bays.windows(2).enumerate() {
        let arc = |s: Strip, b: usize| ground.layout.zone(s, b).map(|z| z.arc_m);
        let across = |s: Strip| Some(f64::midpoint(arc(s, w[0])?, arc(s, w[1])?));
        let length: f64 = m.place.strips().iter().copied().filter_map(across).sum();
        let sides: [Vec<f64>; 2] = [0, 1].map(|side| (0..classes.len()).map(|c| side_h(c, step + side)).collect());
        for (a, from) in classes.iter().enumerate() {
            for (b, to) in classes.iter().enumerate() {
                let fibre = f64::from(from.1 + to.1) * LAP_STEP_KG_M2;
                let kg = 2.0 * length * (s.splice_lap_m * fibre + glue) * growth;
                let back = from.0 && !to.0;
                let boundary_h = if from.0 == to.0 { 0.0 } else { sides[0][a] + sides[1][b] };
                let both = up(kg, ticks.mass_kg).zip(up(boundary_h, ticks.hour_h)).filter(|_| !back);
                joints.push(both.map(|(mass, repair)| Joint { mass, repair, build: 0 }));
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
    /// Zones it decides on.
    pub fn zones(&self) -> usize {
        self.meaning.iter().map(|m| m.bays.len() * m.place.strips().len()).sum()
    }
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
    pub fn around(self, design: &Design, base: &Structure, ask: &Ask, assumed: &Assumptions) -> Self {
        let Self { mut ground, asked, taken, kept, .. } = self;
        ground.drawn = design.clone();
        let mut out = fill_around((ground, base, kept), ask, asked, assumed);
        for (place, construction, bay, why) in &taken {
            let Some(c) = out.meaning.iter().position(|m| m.place == *place) else { continue };
            let m = &out.meaning[c];
            let at = m.candidates.iter().position(|k| k == construction);
            if let Some((k, step)) = at.zip(m.bays.iter().position(|b| b == bay)) {
                out.tighten(c, k, step, *why);
            }
        }
        out
    }
    /// Work out the sums of the modes of the whole wing around another design of the same table.
    pub fn yield_around(&mut self, design: &Design, base: &Structure) {
        let places: Vec<Place> = self.meaning.iter().map(|m| m.place).collect();
        self.yields = Yields::around(design, base, &places);
        for (c, (m, chain)) in self.meaning.iter().zip(&mut self.chains).enumerate() {
            if m.place.strips().iter().any(|s| s.is_nose()) {
                for (i, cell) in chain.cells.iter_mut().enumerate() {
                    if let Some(cell) = cell {
                        cell.yields = yields_of(&self.yields, &self.ground, m, i);
                    }
                }
                self.touched.push(c);
            }
        }
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
