//! Torsion plies of the nose by whole plies: bay by bay the nose steps through a list of constructions until it holds.

use crate::physics::design::{Design, Run, Strip};
use crate::physics::laminate::construction::Skin;
use crate::physics::loads::internal::Loads;
use crate::physics::strength::sizing::{Bent, Section, Sizing};
use crate::physics::strength::softness::{self, Softness, give};
use crate::physics::strength::{self, Context, Margin, Verdict, control_reversal, inplane_bending, twist};
use crate::physics::wing::layout::{Layout, Zone};

/// Modes of a nose zone that more torsion plies serve.
pub const SERVED: [&str; 5] = ["nose_shear", "nose_buckling", "face_wrinkling", "unseen_dent", "inplane_bending"];

const NOSE: [Strip; 2] = [Strip::NoseUpper, Strip::NoseLower];

/// The layout with the nose some steps up, where this structure falls short of what steps can mend; None where it holds, the
/// design names no steps, or all stand at the last.
///
/// A zone that is drawn in one of [`Design::nose_steps`] begins there: what is drawn is the least. Where a mode of [`SERVED`] is
/// short it goes one step up; once all of them hold, twist at the dive speed and loss of roll control are made good by the
/// lightest steps that do, or else those that take away most for their mass, told by [`softness`]. Nowhere does a bay stand on a lower step than the one
/// outboard of it: plies drop off towards the tip and none comes back.
/// **Derived:** every step adds, so it ends. **Valid for:** as the modes themselves. What is found holds; [`one_less`] gives
/// what may be spared of it, and the lightest of all is not promised, because weight and stiffness move loads both ways.
pub fn raised(
    design: &Design,
    (layout, skins, loads): (&Layout, &[Skin], &Loads),
    (sizing, sections, bending): (&Sizing, &[Section], &[Bent]),
) -> Option<Layout> {
    if design.nose_steps.len() < 2 || loads.loads.is_empty() {
        return None;
    }
    let mut steps = Steps::of(design, layout, skins);
    if !steps.raise_short(&Context::new(design, (layout, skins, loads), (sizing, sections, bending))) {
        for whole in softness::of(design, (layout, skins, loads), (sizing, sections)).into_iter().flatten() {
            // One at a time: what mends the one mends some of the other.
            if !steps.changed {
                steps.soften_less(&whole);
            }
        }
    }
    steps.changed.then(|| layout.restacked(|z| steps.construction(z).unwrap_or(z.construction)))
}

/// What steps serve and what is short of it here: mode, strip and bay.
pub fn short(
    design: &Design,
    (layout, skins, loads): (&Layout, &[Skin], &Loads),
    (sizing, sections, bending): (&Sizing, &[Section], &[Bent]),
) -> Vec<(&'static str, Option<Strip>, Option<usize>)> {
    let context = Context::new(design, (layout, skins, loads), (sizing, sections, bending));
    let served = |key: &str| SERVED.contains(&key) || [twist::MODE.key, control_reversal::MODE.key].contains(&key);
    let all = strength::margins_of(&context, served);
    let short = all.iter().filter(|m| m.verdict == Verdict::Short && mends(m));
    short.map(|m| (m.mode, m.strip, m.bay)).collect()
}

/// Is it the nose that is short? Of in-plane bending it may be a cap, which plies of the nose hardly serve.
fn mends(m: &Margin) -> bool {
    if m.mode != inplane_bending::MODE.key {
        return m.strip.is_none_or(Strip::is_nose);
    }
    let of = |label: &str| m.inputs.iter().find(|i| i.label == label).map_or(0.0, |i| i.value);
    let edge = of("Mz limit").abs() * of("factor") * of("fibre at the edge") / of("EIz").max(1e-9);
    edge > 0.999_999 * m.applied
}

/// One zone on a lower step.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Less {
    pub strip: Strip,
    pub bay: usize,
    pub step: usize,
}

/// The layout with one bay on a lower step, each that can be: at an end of a run, not below what is drawn, and plies still drop off
/// towards the tip.
pub fn one_less(design: &Design, drawn: &Layout, layout: &Layout) -> Vec<(Less, Layout)> {
    let list = design.nose_steps.as_slice();
    let (least, steps) = (Steps::of(design, drawn, &[]).at, stand(list, layout));
    let mut out = Vec::new();
    for (strip, at) in steps.iter().enumerate() {
        for (bay, now) in at.iter().enumerate() {
            let (Some(now), Some(floor)) = (*now, least[strip].get(bay).copied().flatten()) else { continue };
            // A zone beside the list does not break the drop-off.
            let outboard = at[bay + 1..].iter().flatten().next().copied().unwrap_or(0);
            for step in floor.max(outboard)..now {
                let less = Less { strip: NOSE[strip], bay, step };
                let here = |z: &Zone| z.strip == less.strip && z.bay == bay;
                out.push((less, layout.restacked(|z| if here(z) { list[step] } else { z.construction })));
            }
        }
    }
    out
}

/// On which step every nose zone stands; None beside the list.
struct Steps<'a> {
    list: &'a [usize],
    layout: &'a Layout,
    skins: &'a [Skin],
    /// By strip and bay.
    at: [Vec<Option<usize>>; 2],
    changed: bool,
}

/// Where every nose zone of a layout stands in the list.
fn stand(list: &[usize], layout: &Layout) -> [Vec<Option<usize>>; 2] {
    NOSE.map(|strip| {
        let step = |bay| layout.zone(strip, bay).and_then(|z| list.iter().position(|c| *c == z.construction));
        (0..layout.bays.len()).map(step).collect()
    })
}

impl<'a> Steps<'a> {
    fn of(design: &'a Design, layout: &'a Layout, skins: &'a [Skin]) -> Self {
        let list = design.nose_steps.as_slice();
        let mut out = Self { list, layout, skins, at: stand(list, layout), changed: false };
        out.drop_off();
        out
    }

    fn construction(&self, z: &Zone) -> Option<usize> {
        let strip = NOSE.iter().position(|s| *s == z.strip)?;
        self.at[strip].get(z.bay).copied().flatten().map(|step| self.list[step])
    }

    /// No step outboard is higher than one inboard of it.
    fn drop_off(&mut self) {
        for strip in &mut self.at {
            let mut outboard = 0;
            for step in strip.iter_mut().rev().flatten() {
                self.changed |= *step < outboard;
                *step = outboard.max(*step);
                outboard = *step;
            }
        }
    }

    /// One step up, as far as there is one.
    fn raise(&mut self, strip: usize, bay: usize) -> bool {
        let last = self.list.len() - 1;
        let Some(Some(step)) = self.at[strip].get_mut(bay) else { return false };
        let up = *step < last;
        *step += usize::from(up);
        self.changed |= up;
        up
    }

    /// Every zone where a mode that steps serve is short.
    fn raise_short(&mut self, context: &Context) -> bool {
        let all = strength::margins_of(context, |key| SERVED.contains(&key));
        let mut short: Vec<(usize, usize)> = all
            .iter()
            .filter(|m| m.verdict == Verdict::Short && mends(m))
            .filter_map(|m| Some((m, m.bay?)))
            .flat_map(|(m, bay)| {
                // At the leading edge both skins carry.
                let of = move |strip: usize| m.strip.is_none_or(|s| s == NOSE[strip]).then_some((strip, bay));
                [of(0), of(1)].into_iter().flatten()
            })
            .collect();
        short.sort_unstable();
        short.dedup();
        let mut raised = false;
        for (strip, bay) in short {
            raised |= self.raise(strip, bay);
        }
        self.drop_off();
        raised
    }

    /// Steps for an amount of the whole wing, until half of what is short is expected to be made good: with an aft cell a step
    /// takes more away than the slope says, and the wing is worked out again before the rest.
    fn soften_less(&mut self, whole: &Softness) {
        let short = whole.now - whole.most;
        let mut left = short;
        while left > 0.5 * short.max(0.0) {
            let Some(step) = self.best(whole, left) else { return };
            self.raise(step.strip, step.bay);
            self.drop_off();
            left -= step.less;
        }
    }

    /// The lightest step that makes good what is left; where none does, the one that takes most away for its mass.
    fn best(&self, whole: &Softness, left: f64) -> Option<Step> {
        let all = self.next(whole);
        let enough = all.iter().filter(|s| s.less >= left).min_by(|a, b| a.kg.total_cmp(&b.kg));
        // Most steps are worth much the same: of those the smallest, so that none goes further out than it need.
        let most = all.iter().map(Step::worth).fold(0.0, f64::max);
        let worthy = || all.iter().filter(|s| s.worth() > 0.99 * most).min_by(|a, b| a.less.total_cmp(&b.less));
        enough.or_else(worthy).copied()
    }

    /// One step up in every zone, those inboard that it brings along counted.
    fn next(&self, whole: &Softness) -> Vec<Step> {
        let mut out = Vec::new();
        for (strip, at) in self.at.iter().enumerate() {
            let (mut less, mut kg, mut level) = (0.0, 0.0, None);
            for (bay, step) in at.iter().enumerate() {
                let Some(step) = *step else { continue };
                if level != Some(step) {
                    (less, kg, level) = (0.0, 0.0, Some(step));
                }
                let skins = (self.skins.get(self.list[step]), self.list.get(step + 1).and_then(|c| self.skins.get(*c)));
                let (Some(now), Some(next)) = skins else { continue };
                let area_m2 = self.layout.zone(NOSE[strip], bay).map_or(0.0, |z| z.area_m2);
                less += whole.per_give.get(bay).map_or(0.0, |p| p[strip]) * (give(now) - give(next));
                kg += area_m2 * (next.mass.total() - now.mass.total());
                if less > 0.0 {
                    out.push(Step { strip, bay, less, kg });
                }
            }
        }
        out
    }
}

/// A step up: what it takes from an amount of the whole wing, and the mass of one half it adds, kg.
#[derive(Debug, Clone, Copy)]
struct Step {
    strip: usize,
    bay: usize,
    less: f64,
    kg: f64,
}

impl Step {
    /// A step without mass comes first.
    fn worth(&self) -> f64 {
        self.less / self.kg.max(1e-9)
    }
}

/// What a nose strip stands on from root to tip: first and last bay and which of [`Design::nose_steps`], counted from nought; None
/// beside the list. Empty where the design names no steps.
pub fn found(design: &Design, layout: &Layout, strip: Strip) -> Vec<(usize, usize, Option<usize>)> {
    let mut out: Vec<(usize, usize, Option<usize>)> = Vec::new();
    if design.nose_steps.is_empty() {
        return out;
    }
    for z in layout.zones.iter().filter(|z| z.strip == strip) {
        let step = design.nose_steps.iter().position(|c| *c == z.construction);
        match out.last_mut().filter(|r| r.2 == step && r.1 + 1 == z.bay) {
            Some(last) => last.1 = z.bay,
            None => out.push((z.bay, z.bay, step)),
        }
    }
    out
}

/// The same wing with the nose drawn as it was found, bay by bay, and no steps left to take.
pub fn drawn(design: &Design, layout: &Layout) -> Design {
    let mut out = design.clone();
    out.nose_steps.clear();
    if design.nose_steps.is_empty() {
        return out;
    }
    for s in out.strips.iter_mut().filter(|s| s.strip.is_nose()) {
        let mut runs: Vec<Run> = Vec::new();
        for z in layout.zones.iter().filter(|z| z.strip == s.strip) {
            let Some(bay) = layout.bays.get(z.bay) else { continue };
            match runs.last_mut().filter(|r| r.construction == z.construction) {
                Some(last) => last.to_eta = bay.outer.eta,
                None => runs.push(Run {
                    from_eta: runs.last().map_or(0.0, |r: &Run| r.to_eta),
                    to_eta: bay.outer.eta,
                    construction: z.construction,
                }),
            }
        }
        if let Some(last) = runs.last_mut() {
            last.to_eta = 1.0;
            s.runs = runs;
        }
    }
    out
}
