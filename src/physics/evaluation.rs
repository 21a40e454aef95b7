//! `evaluate`: the front door. Total: never fails, never panics, holds no state.

use std::sync::Arc;

use crate::physics::assumptions::Assumptions;
use crate::physics::design::Design;
use crate::physics::durability;
use crate::physics::durability::index::{self, Durability};
use crate::physics::flight::profile;
use crate::physics::flight::speeds::{self, Flight};
use crate::physics::kept::{Inputs, Kept, To};
use crate::physics::laminate::construction::{self, Construction, Skin};
use crate::physics::loads::flexible::Axis;
use crate::physics::loads::internal::{self, Loads, Pass, UnitLoads};
use crate::physics::loads::lift::{self, Air, LiftBasis};
use crate::physics::loads::trim;
use crate::physics::mass::tally::{Scales, Weight};
use crate::physics::material::Library;
use crate::physics::strength::sizer::Sizer;
use crate::physics::strength::sizing::{self, Bent, Section, Sizing};
use crate::physics::strength::validity::HOTTEST_C;
use crate::physics::strength::{self, Context, Margin, Verdict, nose_steps};
use crate::physics::warned;
use crate::physics::wing::layout::{self, Layout};
use crate::physics::work::{self, Work};

/// The wing as a whole.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum WingVerdict {
    Holds,
    Short,
    #[default]
    NotShown,
}

impl WingVerdict {
    pub const fn word(self) -> &'static str {
        match self {
            Self::Holds => "holds",
            Self::Short => "short",
            Self::NotShown => "not shown",
        }
    }
}

/// The strength verdict in short.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct StrengthSummary {
    pub verdict: WingVerdict,
    /// Index of the least margin in `Evaluation::margins`.
    pub least: Option<usize>,
    /// Modes with a short margin somewhere; modes not shown and not accepted.
    pub short: Vec<&'static str>,
    pub not_shown: Vec<&'static str>,
    pub cases_off: usize,
}

/// Everything computed for one design.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Evaluation {
    pub layout: Layout,
    /// By construction; nothing stands for one that is nowhere in the wing ([`skins_of`] has all).
    pub skins: Vec<Skin>,
    pub lift: LiftBasis,
    pub weight: Weight,
    pub loads: Loads,
    pub sizing: Sizing,
    pub sections: Vec<Section>,
    pub bending: Vec<Bent>,
    pub margins: Vec<Margin>,
    pub strength: StrengthSummary,
    pub durability: Durability,
    pub flight: Flight,
    pub work: Work,
    pub warnings: Vec<String>,
    /// Passes of the weight-load loop, and whether it settled.
    pub passes: u32,
    pub settled: bool,
}

/// Passes after which the weight-load loop is called unsettled.
const PASSES_ALLOWANCE: u32 = 20;

/// What an evaluation leaves behind for the next: the caller keeps it and hands it back with the next design, of whatever
/// wing. It holds what one evaluation asked for, and never changes a result; see [`crate::physics::kept`].
#[derive(Debug, Default)]
pub struct Memory {
    layout: layout::Memory,
    skins: Kept<Vec<Skin>>,
    lift: Kept<LiftBasis>,
    unit: internal::Memory,
    strength: strength::Memory,
    durability: durability::Memory,
    drag: profile::Memory,
}

impl Memory {
    /// One that keeps nothing, for an evaluation that nothing comes after.
    fn forgetting() -> Self {
        Self {
            layout: layout::Memory::forgetting(),
            skins: Kept::forgetting(),
            lift: Kept::forgetting(),
            unit: internal::Memory::forgetting(),
            strength: strength::Memory::forgetting(),
            durability: durability::Memory::forgetting(),
            drag: profile::Memory::forgetting(),
        }
    }
}

/// Compute everything.
pub fn evaluate(design: &Design, assumed: &Assumptions) -> Evaluation {
    evaluate_again(design, assumed, &mut Memory::forgetting())
}

/// Compute everything, what did not change since `memory` was last handed over taken from it: the same to the last bit.
/// Unchecked: no outside check runs it by itself.
pub fn evaluate_again(design: &Design, assumed: &Assumptions, memory: &mut Memory) -> Evaluation {
    let layout = layout::lay_out_again(design, &mut memory.layout);
    let lift = memory.lift.of(&Air::over(design, &layout), lift::basis_in);
    let unit = internal::unit_again(&layout, lift, &mut memory.unit);
    let lift = lift.value().clone();
    let used = design.constructions_used();
    // What is kept is kept of all, so that the next wing may take another of them.
    let all = vec![true; used.len()];
    let asked = if memory.skins.forgets() { &used } else { &all };
    let made = Made { constructions: &design.constructions, used: asked, library: &design.library, assumed };
    let known = memory.skins.of(&made, properties_of).value();
    let skins = known.iter().zip(&used).map(|(s, used)| if *used { s.clone() } else { Skin::default() }).collect();
    let spar = step_nose(design, spar_with(design, (layout, skins, lift), unit, assumed), unit, assumed);
    let structure = margins_again(design, spar, &mut memory.strength);
    rest_again(design, structure, assumed, memory)
}

/// Properties of every construction of a design.
pub fn skins_of(design: &Design, assumed: &Assumptions) -> Vec<Skin> {
    let used = vec![true; design.constructions.len()];
    properties_of(&Made { constructions: &design.constructions, used: &used, library: &design.library, assumed })
}

/// All that the properties of constructions hang on.
struct Made<'a> {
    constructions: &'a [Construction],
    used: &'a [bool],
    library: &'a Arc<Library>,
    assumed: &'a Assumptions,
}

impl Inputs for Made<'_> {
    fn put<T: To>(&self, to: &mut T) {
        let Self { constructions, used, library, assumed } = self;
        constructions.put(to);
        used.put(to);
        library.put(to);
        assumed.put(to);
    }
}

fn properties_of(made: &Made) -> Vec<Skin> {
    let one = |(c, used): (&Construction, &bool)| {
        if *used { construction::properties(c, made.library, made.assumed) } else { Skin::default() }
    };
    made.constructions.iter().zip(made.used).map(one).collect()
}

/// Weight, loads, sizing and margins: what stands before durability and flight.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Structure {
    pub layout: Layout,
    pub skins: Vec<Skin>,
    pub lift: LiftBasis,
    pub weight: Weight,
    pub loads: Loads,
    pub sizing: Sizing,
    pub sections: Vec<Section>,
    pub bending: Vec<Bent>,
    pub margins: Vec<Margin>,
    pub passes: u32,
    pub settled: bool,
}

/// Weight, loads and spar on a layout, constructions and lift already worked out for this design, no margins. Designs that
/// differ only in which construction stands where share constructions and lift; [`Layout::refitted`] gives each its layout.
/// Unchecked: no outside check runs it by itself.
pub fn spar_on(design: &Design, on: (Layout, Vec<Skin>, LiftBasis), assumed: &Assumptions) -> Structure {
    let unit = UnitLoads::of(&on.0, &on.2);
    spar_with(design, on, unit.as_ref(), assumed)
}

fn spar_with(
    design: &Design,
    (layout, skins, lift): (Layout, Vec<Skin>, LiftBasis),
    unit: Option<&UnitLoads>,
    assumed: &Assumptions,
) -> Structure {
    let mut sizing = sizing::least(design, &layout);
    let mut scales = Scales::of(design, &layout, &skins, assumed);
    let mut sizer = Sizer::of(design, &layout, &skins);
    let (mut weight, mut pass) = (Weight::default(), Pass::default());
    // Sections and axis of a spar, worked out again only for another.
    let mut stiff: Option<(Sizing, Vec<Section>, Option<Axis>)> = None;
    let (mut passes, mut settled) = (0, false);
    while !settled && passes < PASSES_ALLOWANCE {
        weight = scales.pass(design, (&layout, &skins), &sizing);
        let mass = unit.map(|unit| unit.rigid(design, (&layout, &lift), &weight, &mut pass));
        // The loop only ever adds, so it ends.
        let mut next = sizer.size(pass.along(), &sizing);
        // Before it is sized a spar bends as none of its size would. Then what its own yielding changes is held as well.
        if passes > 0 || next == sizing {
            let stiff = match &mut stiff {
                Some(s) if s.0 == next => s,
                _ => {
                    let before = stiff.as_ref().map(|s| (&s.0, s.1.as_slice()));
                    let sections = sizing::sections_past(design, (&layout, &skins), &next, before);
                    let axis = Axis::of(&layout, &sections);
                    stiff.insert((next.clone(), sections, axis))
                }
            };
            if let (Some(unit), Some(mass), Some(axis)) = (unit, mass, &stiff.2) {
                unit.bent(axis, &lift, &mass, &mut pass);
                next = sizer.size(pass.along(), &next);
            }
            settled = next == sizing;
        }
        passes += 1;
        sizing = next;
    }
    scales.listed(&mut weight);
    let loads = unit.map_or_else(Loads::default, |unit| unit.whole(design, (&layout, &lift), &weight, pass));
    let known = stiff.filter(|s| s.0 == sizing).map(|s| s.1);
    let sections = known.unwrap_or_else(|| sizing::sections(design, &layout, &skins, &sizing));
    let bending = sizing::bend(&layout, &sections, &loads);
    Structure { layout, skins, lift, weight, loads, sizing, sections, bending, margins: Vec::new(), passes, settled }
}

/// Torsion plies of the nose added until it holds, and those taken back that are not missed.
fn step_nose(design: &Design, mut spar: Structure, unit: Option<&UnitLoads>, assumed: &Assumptions) -> Structure {
    if design.nose_steps.len() < 2 || spar.loads.loads.is_empty() {
        return spar;
    }
    let on =
        |s: &Structure, layout: Layout| spar_with(design, (layout, s.skins.clone(), s.lift.clone()), unit, assumed);
    let drawn = spar.layout.clone();
    while let Some(layout) = nose_steps::raised(
        design,
        (&spar.layout, &spar.skins, &spar.loads),
        (&spar.sizing, &spar.sections, &spar.bending),
    ) {
        spar = on(&spar, layout);
    }
    let short = |s: &Structure| {
        nose_steps::short(design, (&s.layout, &s.skins, &s.loads), (&s.sizing, &s.sections, &s.bending))
    };
    // Where something stays short on the last step, no step is one too many. What was missed once is not tried again before all
    // the others were.
    let (mut missed, mut spared) = (Vec::new(), false);
    while short(&spar).is_empty() {
        let mut tries = nose_steps::one_less(design, &drawn, &spar.layout);
        tries.retain(|(less, _)| !missed.contains(less));
        let mut all = tries.into_iter().map(|(less, layout)| (less, on(&spar, layout)));
        let found = all.find(|(less, s)| short(s).is_empty() || (missed.push(*less), false).1);
        drop(all);
        match found {
            Some((_, less)) => (spar, spared) = (less, true),
            None if spared && !missed.is_empty() => (missed, spared) = (Vec::new(), false),
            None => break,
        }
    }
    spar
}

/// Weight and strength on a layout, constructions and lift already worked out for this design.
/// Unchecked: no outside check runs it by itself.
pub fn structure_on(design: &Design, on: (Layout, Vec<Skin>, LiftBasis), assumed: &Assumptions) -> Structure {
    margins_again(design, spar_on(design, on, assumed), &mut strength::Memory::forgetting())
}

/// The margins of a structure, with what was kept.
fn margins_again(design: &Design, mut s: Structure, memory: &mut strength::Memory) -> Structure {
    let (wing, spar) = ((&s.layout, s.skins.as_slice(), &s.loads), (&s.sizing, &*s.sections, &*s.bending));
    let context = Context::again(design, wing, spar, std::mem::take(memory));
    let margins = strength::margins(&context);
    *memory = context.into_memory();
    s.margins = margins;
    s
}

/// Compute everything on a layout, constructions and lift already worked out for this design.
/// Unchecked: no outside check runs it by itself.
pub fn evaluate_on(design: &Design, on: (Layout, Vec<Skin>, LiftBasis), assumed: &Assumptions) -> Evaluation {
    rest_of(design, structure_on(design, on, assumed), assumed)
}

/// Durability, flight and work of a structure: with it, everything.
/// Unchecked: no outside check runs it by itself.
pub fn rest_of(design: &Design, s: Structure, assumed: &Assumptions) -> Evaluation {
    rest_again(design, s, assumed, &mut Memory::forgetting())
}

fn rest_again(design: &Design, s: Structure, assumed: &Assumptions, memory: &mut Memory) -> Evaluation {
    let strength = summarise(design, &s.margins, &s.loads, s.settled);
    let wing = (design, &s.layout, s.skins.as_slice());
    let durability = index::rate_again(wing, &s.weight, assumed, &mut memory.durability);
    let flight = speeds::fly_again(wing, &s.lift, &s.weight, assumed, &mut memory.drag);
    let work = work::estimate(wing, &s.weight, &s.sizing);
    let mut warnings = warned::of(design);
    warnings.extend(warned::of_speeds(design, &s.loads));
    warnings.extend(design.warnings.iter().cloned());
    let used = |i: usize| s.layout.zones.iter().any(|z| z.construction == i);
    for (_, c) in design.constructions.iter().enumerate().filter(|(i, _)| used(*i)) {
        warnings.extend(
            construction::warnings(c, &design.library).into_iter().map(|w| format!("{}: {}", w.construction, w.text)),
        );
    }
    if !s.settled {
        warnings.push("the weight-load loop did not settle: this wing cannot carry its own growth".to_owned());
    }
    let hot_c = design.service.upper_c.max(design.service.lower_c);
    if hot_c > HOTTEST_C && design.limits.as_ref().is_some_and(|l| l.extra_factor <= 1.0) {
        warnings.push(format!(
            "skins of {hot_c:.0} C: plies, resin and glue are counted as strong as cold, for limits.extra_factor is 1.00; give what your resin keeps when hot"
        ));
    }
    warnings.extend(trim::warning(&s.loads.cases, &s.lift));
    warnings.extend(durability.warnings.iter().cloned());
    warnings.extend(flight.warnings.iter().cloned());
    Evaluation {
        layout: s.layout,
        skins: s.skins,
        lift: s.lift,
        weight: s.weight,
        loads: s.loads,
        sizing: s.sizing,
        sections: s.sections,
        bending: s.bending,
        margins: s.margins,
        strength,
        durability,
        flight,
        work,
        warnings,
        passes: s.passes,
        settled: s.settled,
    }
}

/// The verdict on the whole wing: it holds only if nothing is short and nothing is not shown.
fn summarise(design: &Design, margins: &[Margin], loads: &Loads, settled: bool) -> StrengthSummary {
    let mut s = StrengthSummary { cases_off: loads.cases_off, ..StrengthSummary::default() };
    let mut least = f64::INFINITY;
    for (i, m) in margins.iter().enumerate() {
        let accepted = || design.accepted.iter().any(|a| a.key == m.mode);
        match m.verdict {
            Verdict::Short if !s.short.contains(&m.mode) => s.short.push(m.mode),
            Verdict::NotShown(_) if !s.not_shown.contains(&m.mode) && !accepted() => s.not_shown.push(m.mode),
            _ => {}
        }
        if !matches!(m.verdict, Verdict::NotShown(_)) && m.rf < least {
            least = m.rf;
            s.least = Some(i);
        }
    }
    s.verdict = if !s.short.is_empty() || !settled {
        WingVerdict::Short
    } else if !s.not_shown.is_empty() || design.limits.is_none() || margins.is_empty() {
        WingVerdict::NotShown
    } else {
        WingVerdict::Holds
    };
    s
}
