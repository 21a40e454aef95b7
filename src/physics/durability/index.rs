//! The results of durability and how they are put together.

use crate::physics::assumptions::{self, Assumptions};
use crate::physics::design::Design;
use crate::physics::durability::events::{EVENTS, Event, Exposure};
use crate::physics::durability::press;
use crate::physics::durability::repair;
use crate::physics::durability::term::{Chances, Ground, Term};
use crate::physics::durability::toll::Costs;
use crate::physics::durability::{Memory, care};
use crate::physics::kept::{Inputs, To};
use crate::physics::laminate::construction::{KINDS, Kind, Skin};
use crate::physics::mass::tally::Weight;
use crate::physics::samples::learnt::Learnt;
use crate::physics::samples::record::{FORMS, Form};
use crate::physics::wing::layout::Layout;

/// What a press does first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum PressKind {
    #[default]
    LastingMark,
    FaceCracked,
    Pierced,
    CutOnRib,
    Slackened,
    Torn,
    /// The bare back of one-faced foam cracked in bending.
    FoamCracked,
    /// Wood split along its grain.
    Split,
    /// Nothing there to press.
    Nothing,
}

impl PressKind {
    pub const fn word(self) -> &'static str {
        match self {
            Self::LastingMark => "lasting mark",
            Self::FaceCracked => "face cracked",
            Self::Pierced => "pierced",
            Self::CutOnRib => "cut on a rib",
            Self::Slackened => "slackened",
            Self::Torn => "torn",
            Self::FoamCracked => "foam cracked",
            Self::Split => "split",
            Self::Nothing => "open",
        }
    }
}

/// What hands may do on a zone.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Hands {
    /// Lift by a flat palm.
    Hold,
    /// Touch with care.
    #[default]
    Care,
    /// Marks under a light press.
    NoTouch,
}

/// Resistance and expectation of one zone (index-matched with `Layout::zones`).
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct ZoneDurability {
    /// P5 load of an 8 mm thumb pad held 10 s that first needs repair, N, and what it does.
    pub press_n: f64,
    pub press_kind: PressKind,
    /// The same for a 10 mm hard ball.
    pub ball_n: f64,
    pub ball_kind: PressKind,
    /// Outside the range that the form of the press, of the ball, or of either was fitted in.
    pub press_extrapolated: bool,
    pub ball_extrapolated: bool,
    pub extrapolated: bool,
    /// Expected repair hours, outings lost, unseen damages, marks or worse per 100 outings; whole wing (both halves).
    pub repair_h: f64,
    pub outings_lost: f64,
    pub unseen: f64,
    pub marks: f64,
    /// P5 load of a lifting palm that first needs repair, N; 0 where no palm has a place.
    pub palm_n: f64,
    /// A palm marks nothing here: that is above the P95 of lifting the present wing. Whether the place may be held hangs on strength
    /// too ([`super::held`]).
    pub palm_safe: bool,
}

/// One event over the whole wing.
#[derive(Debug, Clone, PartialEq)]
pub struct EventResult {
    pub key: &'static str,
    pub title: &'static str,
    pub per_100_outings: f64,
    pub marks: f64,
    pub holes: f64,
    /// Share of the times that lands on holds or rests.
    pub moved: f64,
    pub repair_h: f64,
    pub outings_lost: f64,
    pub unseen: f64,
    /// Zone that suffers most, and whether that is what lands on a hold or rest there.
    pub worst_zone: Option<usize>,
    pub worst_landed: bool,
    /// Of the hours: soft spots of faces on foam, whose dent lies beyond the fit of the forms.
    pub soft_h: f64,
    pub assumption: bool,
}

impl EventResult {
    /// "hold" or "rest" where what costs most lands on one.
    pub fn landed_word(&self) -> Option<&'static str> {
        let e = EVENTS.iter().find(|e| e.key == self.key).filter(|_| self.worst_landed)?;
        Some(if e.exposure == Exposure::Rest { "rest" } else { "hold" })
    }
}

#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Least {
    pub value_n: f64,
    pub kind: PressKind,
    pub zone: usize,
}

/// A hold, and whether it stands being lifted by.
#[derive(Debug, Clone, PartialEq)]
pub struct HoldCheck {
    pub name: String,
    pub zone: usize,
    /// P95 of a palm lifting the present wing, and P5 of what the place stands, N.
    pub asked_n: f64,
    pub stands_n: f64,
    pub kind: PressKind,
    pub holds: bool,
}

/// A rest on one of the skins it carries, and whether that stands a rough road.
#[derive(Debug, Clone, PartialEq)]
pub struct RestCheck {
    pub name: String,
    pub zone: usize,
    /// P95 of what the pad presses, and P5 of what the skin stands, Pa.
    pub asked_pa: f64,
    pub stands_pa: f64,
    pub kind: PressKind,
    pub holds: bool,
}

#[derive(Debug, Clone, PartialEq, Default)]
pub struct Durability {
    pub zones: Vec<ZoneDurability>,
    pub events: Vec<EventResult>,
    /// Expected repair hours per 100 outings, whole wing.
    pub repair_h: f64,
    /// Of these: soft spots of faces on foam, whose dent lies beyond the fit of the forms.
    pub soft_h: f64,
    pub repair_h_p10: f64,
    pub repair_h_p90: f64,
    pub index: f64,
    pub index_p10: f64,
    pub index_p90: f64,
    pub outings_lost: f64,
    pub unseen: f64,
    pub marks: f64,
    pub mass_added_kg: f64,
    pub field_repairable_share: f64,
    pub press_safe_share: f64,
    pub least_press: Least,
    pub least_ball: Least,
    /// P95 of one palm lifting the present wing, N, and the check of each hold.
    pub lift_n: f64,
    pub holds: Vec<HoldCheck>,
    /// The check of each rest on each skin over its pad.
    pub rests: Vec<RestCheck>,
    /// Spread of ln H by assumption: (index in `assumptions::LIST`, d lnH / d lnfactor x beta), largest first.
    pub rests_on: Vec<(usize, f64)>,
    pub warnings: Vec<String>,
}

/// Repair hours per 100 outings that score 50. **Source:** an assumption of the project.
pub const H0_H: f64 = 25.0;

/// Index of repair hours per 100 outings: 100/(1 + H/25).
pub fn index(repair_h: f64) -> f64 {
    index_by(repair_h, H0_H)
}

/// The same with other hours that score 50.
pub fn index_by(repair_h: f64, h0_h: f64) -> f64 {
    100.0 / (1.0 + repair_h / h0_h)
}

/// Measured dents of fully described thin-faced specimens that could be read.
pub const DENTS_READ: usize = 0;

/// With fewer measured dents than this no share of hits is given, and durability is uncalibrated.
pub const DENTS_NEEDED: usize = 8;

/// Whether durability may be shown without the word, by so many measured dents.
pub const fn calibrated(dents: usize) -> bool {
    dents >= DENTS_NEEDED
}

/// Measured dents behind a wing: read, and pressed in its own samples.
pub fn dents(learnt: &Learnt) -> usize {
    DENTS_READ + learnt.dents().0 as usize
}

/// Whether enough measured dents stand behind a wing.
pub fn is_calibrated(learnt: &Learnt) -> bool {
    calibrated(dents(learnt))
}

/// Uncalibrated or calibrated, in words: the loads to dents in the log of samples count, and their share is given from eight up.
/// Unchecked: no outside check runs it by itself.
pub fn calibration(learnt: &Learnt) -> String {
    let (dents, within) = learnt.dents();
    if is_calibrated(learnt) {
        format!(
            "calibrated by {dents} loads on your own samples: {within} within 30 % of what was predicted before them"
        )
    } else if dents > 0 {
        format!("{CALIBRATION} ({dents} loads of the {DENTS_NEEDED} needed are in the log)")
    } else {
        CALIBRATION.to_owned()
    }
}

/// No measured dent of a fully described thin-faced specimen could be read: say so wherever durability is shown.
pub const CALIBRATION: &str =
    "uncalibrated: dent forms stand on a solver, six puncture tests on coverings; press and weigh samples of your own";

/// Work a person gives to repairs in a day, h. An assumption.
const WORK_H_PER_DAY: f64 = 3.0;

/// Outings lost to one repair: nothing when it is done within the outing (36 minutes and one hour of cure at most), else
/// outings that fall into the days it takes, work at three hours a day and cure by the clock.
/// Unchecked: no outside check runs it by itself.
pub fn lost_per_repair(work_h: f64, cure_h: f64, outings_per_year: f64) -> f64 {
    if repair::in_the_field(work_h, cure_h) {
        return 0.0;
    }
    (work_h / WORK_H_PER_DAY + cure_h / 24.0) * outings_per_year / 365.0
}

/// What one damage of each state costs on a kind of surface; the fourth is a covering torn from rib to rib.
#[derive(Clone, Copy, Default)]
pub(super) struct Cost {
    pub(super) hours: [f64; 4],
    pub(super) lost: [f64; 4],
    pub(super) mended: [f64; 4],
    pub(super) mass_kg: [f64; 4],
    pub(super) unseen: [f64; 4],
    pub(super) field: [bool; 4],
}

impl Inputs for Cost {
    fn put<T: To>(&self, to: &mut T) {
        let Self { hours, lost, mended, mass_kg, unseen, field } = self;
        [hours, lost, mended, mass_kg, unseen].put(to);
        field.put(to);
    }
}

pub(super) fn cost(kind: Kind, design: &Design, a: &Assumptions) -> Cost {
    let mut c = Cost::default();
    let scale = a.of(repair::assumption(kind));
    let [mark, soft, hole] = repair::repairs(kind);
    for (i, r) in [mark, soft, hole, repair::TORN].into_iter().enumerate() {
        let left = if design.care.hits_left_alone { r.left_alone } else { 0.0 };
        c.mended[i] = 1.0 - left;
        c.hours[i] = r.work_h * scale * c.mended[i];
        c.lost[i] = lost_per_repair(r.work_h * scale, r.cure_h, design.care.outings_per_year) * c.mended[i];
        c.mass_kg[i] = r.mass_g * 1e-3 * c.mended[i];
        c.unseen[i] = r.unseen;
        c.field[i] = repair::in_the_field(r.work_h, r.cure_h);
    }
    c
}

/// Expected damage of the wing, per 100 outings.
pub fn rate(design: &Design, layout: &Layout, skins: &[Skin], weight: &Weight, assumed: &Assumptions) -> Durability {
    rate_again((design, layout, skins), weight, assumed, &mut Memory::forgetting())
}

/// The same, with what was kept.
pub(crate) fn rate_again(
    (design, layout, skins): (&Design, &Layout, &[Skin]),
    weight: &Weight,
    assumed: &Assumptions,
    memory: &mut Memory,
) -> Durability {
    let half_wing_kg = weight.expected_kg.max(1.0) / 2.0;
    let ground = Ground::again((design, layout, skins), half_wing_kg, assumed, std::mem::take(memory));
    let mut out = Durability { zones: vec![ZoneDurability::default(); layout.zones.len()], ..Durability::default() };
    out.events = design.care.catalogue.events.iter().map(|e| empty(design, e, assumed)).collect();
    let toll = ground.toll(&Costs::of(design, assumed), &mut out);
    for (event, sums) in out.events.iter_mut().zip(&toll.events) {
        [event.repair_h, event.outings_lost, event.unseen, event.marks, event.soft_h, event.holes] = *sums;
    }
    let [all, field, mass_kg] = toll.wing;
    out.mass_added_kg = mass_kg;
    add_up(&mut out, &toll.rests, if all > 0.0 { field / all } else { 1.0 });
    press::fill(&ground, &mut out);
    *memory = ground.into_memory();
    out
}

fn empty(design: &Design, e: &Event, assumed: &Assumptions) -> EventResult {
    EventResult {
        key: e.key,
        title: e.title,
        per_100_outings: care::rate(design, e, assumed),
        marks: 0.0,
        holes: 0.0,
        moved: care::moved(design, e),
        repair_h: 0.0,
        soft_h: 0.0,
        outings_lost: 0.0,
        unseen: 0.0,
        worst_zone: None,
        worst_landed: false,
        assumption: e.assumption,
    }
}

/// How the hours of one time answer to ln severity: by marks, soft spots, holes.
pub(super) fn slope(t: &Term, c: &Chances, h: &[f64; 4]) -> [f64; 3] {
    let hole = h[2] + t.tears * (h[3] - h[2]);
    let marked = t.stands[0].is_finite();
    let first = if marked { c.slope[0] * h[0] } else { 0.0 };
    let soft = c.slope[1] * (h[1] - if marked { h[0] } else { 0.0 });
    [first, soft, c.slope[2] * (hole - h[1])]
}

/// How the hours of one time answer to the load of its form, to what pierces a face, and to the give of the panel or the tension
/// of a covering; soft spots by themselves.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Answering {
    pub form: f64,
    pub through: f64,
    pub give: f64,
    pub soft: f64,
}

impl Answering {
    pub(super) fn of(t: &Term, by: &[f64; 3]) -> Self {
        let [first, soft, hole] = std::array::from_fn(|i| by[i] * t.answers[i].load);
        let give = (0..3).map(|i| by[i] * t.answers[i].give).sum();
        // A hole at the load of a soft spot is reached with the dent, not by the plug.
        let plug = matches!(t.kind, Kind::Sandwich | Kind::OneFaced) && t.stands[2] > t.stands[1];
        let (form, through) = if plug { (first + soft, hole) } else { (first + soft + hole, 0.0) };
        Self { form, through, give, soft }
    }
}

/// How the repair hours per 100 outings answer to ln of the factor of each form, and through each form to ln of the strength of
/// foam.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Slopes {
    pub form: [f64; FORMS],
    pub foam: [f64; FORMS],
}

/// The slopes of each construction.
/// Unchecked: no outside check runs it by itself.
pub fn slopes(design: &Design, layout: &Layout, skins: &[Skin], weight: &Weight, a: &Assumptions) -> Vec<Slopes> {
    let ground = Ground::new((design, layout, skins), weight.expected_kg.max(1.0) / 2.0, a);
    let costs = KINDS.map(|k| cost(k, design, a));
    let mut out = vec![Slopes::default(); skins.len()];
    ground.each(&mut |t, c| {
        let (Some(z), e) = (layout.zones.get(t.zone), &EVENTS[t.event]) else { return };
        let answering = Answering::of(t, &slope(t, c, &costs[t.kind as usize].hours));
        if let Some(o) = out.get_mut(z.construction) {
            let form = Form::of(t.kind, e.contact) as usize;
            o.form[form] += t.per_100 * answering.form;
            o.foam[form] += t.per_100 * t.foam * answering.form;
        }
    });
    out
}

fn add_up(out: &mut Durability, spread: &[f64], field: f64) {
    out.repair_h = out.events.iter().map(|e| e.repair_h).sum();
    out.soft_h = out.events.iter().map(|e| e.soft_h).sum();
    out.marks = out.events.iter().map(|e| e.marks).sum();
    out.outings_lost = out.events.iter().map(|e| e.outings_lost).sum();
    out.unseen = out.events.iter().map(|e| e.unseen).sum();
    out.field_repairable_share = field;
    out.index = index(out.repair_h);
    let h = out.repair_h.max(1e-9);
    out.rests_on = spread
        .iter()
        .enumerate()
        .map(|(i, s)| (i, s / h * assumptions::LIST[i].beta))
        .filter(|(_, s)| *s > 1e-4)
        .collect();
    out.rests_on.sort_by(|a, b| b.1.total_cmp(&a.1));
    let sd = out.rests_on.iter().map(|(_, s)| s * s).sum::<f64>().sqrt();
    out.repair_h_p10 = out.repair_h * (-1.2816 * sd).exp();
    out.repair_h_p90 = out.repair_h * (1.2816 * sd).exp();
    out.index_p10 = index(out.repair_h_p90);
    out.index_p90 = index(out.repair_h_p10);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::durability::fragility;

    fn term(stands: [f64; 3]) -> Term {
        Term {
            event: 0,
            zone: 0,
            kind: Kind::Covering,
            spot: crate::physics::durability::resistance::Spot::Mid,
            per_100: 1.0,
            severity: 100.0,
            beta_severity: 0.3,
            stands,
            beta_resistance: [0.4; 3],
            answers: [crate::physics::durability::resistance::Answer { load: 1.0, give: 0.0 }; 3],
            foam: 0.0,
            kept: 1.0,
            tears: 0.0,
        }
    }

    /// Lognormal fragility in closed form (Porter, *A Beginner's Guide to Fragility*): half at the median, whatever stands before it.
    #[test]
    fn a_surface_without_marks_can_still_slacken_and_tear() {
        let c = term([f64::INFINITY, 70.0, 100.0]).chances();
        assert!((c.p[2] - 0.5).abs() < 1e-6, "hole at its median: {}", c.p[2]);
        assert!((c.p[1] - fragility::normal_cdf((100.0_f64 / 70.0).ln() / 0.5)).abs() < 1e-12);
        assert!(c.p[0] >= c.p[1] && c.p[1] >= c.p[2]);
        assert!(term([f64::INFINITY; 3]).chances().p.iter().all(|p| *p == 0.0));
    }

    /// Hand sum: 3 h of work and 16 h of cure are 1 and 2/3 days; at 73 outings a year, one in five days, a third of an outing.
    #[test]
    fn a_repair_takes_the_outings_that_fall_into_it() {
        assert!((lost_per_repair(3.0, 16.0, 73.0) - 1.0 / 3.0).abs() < 1e-12);
        assert_eq!(lost_per_repair(0.5, 0.5, 73.0), 0.0);
    }
}
