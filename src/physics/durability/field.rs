//! The zones that something may land on, how an event goes on each, and how often each is met there.

use std::sync::{Arc, LazyLock};

use crate::physics::design::Strip;
use crate::physics::durability::cause::Cause;
use crate::physics::durability::events::{Contact, EVENTS, Event};
use crate::physics::durability::panel::PanelHere;
use crate::physics::durability::resistance::{self, Spot};
use crate::physics::durability::term::{panel_of, zone_groups};
use crate::physics::kept::{Inputs, Named, To};
use crate::physics::laminate::construction::{KINDS, Kind, Skin};
use crate::physics::wing::layout::Layout;

/// Kinds of place on a zone, as many as [`Spot`] has.
pub(super) const SPOTS: usize = 4;

/// Contacts of all events at all spots of one zone; a set of them is a bit each.
pub(super) const CODES: usize = EVENTS.len() * SPOTS;
pub(super) type Codes = u128;
const _: () = assert!(CODES <= Codes::BITS as usize, "more events than a set has bits");

/// Half of the width beside a rib or spar in which a blow finds nothing that gives: the contact and this, m. An assumption.
const RIB_REACH_M: f64 = 0.012;

/// A zone that something may land on.
pub(super) struct Exposed {
    pub(super) zone: usize,
    pub(super) construction: usize,
    pub(super) kind: Kind,
    pub(super) upper: bool,
    pub(super) panel: PanelHere,
    groups: [f64; 6],
    /// Width over ribs and spar for each metre of reach to their sides, as a share of the zone, 1/m.
    ribs_per_m: f64,
    /// Parts of them that are boundary joints.
    joints_per_m: f64,
    /// Zones of one construction and side, and those that have the panel in common too.
    pub(super) side: usize,
    alike: usize,
    /// Which of the [`SORTS`] of panel it is.
    sort: usize,
}

/// The zones that something may land on, and how many classes of each kind they fall into.
pub(super) struct Field {
    pub(super) zones: Vec<Exposed>,
    pub(super) sides: usize,
    panels: usize,
    pub(super) totals: [f64; 6],
}

impl Field {
    pub(super) fn of(layout: &Layout, skins: &[Skin], joints: &[f64], asked: impl Fn(usize) -> bool) -> Self {
        let mut out =
            Self { zones: Vec::with_capacity(layout.zones.len()), sides: skins.len() * 2, panels: 0, totals: [0.0; 6] };
        for (zone, z) in layout.zones.iter().enumerate() {
            let groups = zone_groups(z);
            for (t, v) in out.totals.iter_mut().zip(&groups) {
                *t += v;
            }
            let Some(s) = skins.get(z.construction).filter(|s| s.kind != Kind::Open && asked(zone)) else { continue };
            let (panel, upper) = (panel_of(z), z.strip.is_upper());
            // Only foam feels which side of the wing the sun is on.
            let side = z.construction * 2 + usize::from(upper && s.foam.is_some());
            let same = |k: &&Exposed| {
                k.side == side
                    && k.panel.width_m == panel.width_m
                    && k.panel.radius_m == panel.radius_m
                    // Under a strap the radius of a nose is that of its bay.
                    && (panel.radius_m.is_infinite() || layout.zones[k.zone].bay == z.bay)
            };
            // Zones stand in the order of their bays: a nose has its likes in its own bay only.
            let near = if panel.radius_m.is_finite() { Strip::ALL.len() } else { usize::MAX };
            let alike = out.zones.iter().rev().take(near).find(same).map_or(out.panels, |k| k.alike);
            out.panels = out.panels.max(alike + 1);
            out.zones.push(Exposed {
                zone,
                construction: z.construction,
                kind: s.kind,
                upper,
                groups,
                panel,
                ribs_per_m: 2.0 / z.length_m.max(1e-3) + 1.0 / z.arc_m.max(1e-3),
                joints_per_m: joints.get(zone).copied().unwrap_or(0.0),
                side,
                alike,
                sort: sort_of(&panel),
            });
        }
        out
    }

    /// Classes that [`Exposed::classes`] may give.
    pub(super) const fn classes(&self) -> usize {
        self.sides + self.panels
    }
}

/// Sorts of panel an event may tell apart: wide enough for the cloth to give all it can over a rib, and curved.
const SORTS: usize = 4;

pub(super) fn sort_of(panel: &PanelHere) -> usize {
    usize::from(resistance::rib_bay_is_full(Kind::Covering, Spot::Rib, panel))
        + 2 * usize::from(panel.radius_m.is_finite())
}

/// How an event goes on one kind of surface.
#[derive(Debug, Clone, Copy)]
pub(super) struct Way {
    /// Over ribs it goes another way than between them; on an edge the same way.
    pub(super) ribs: bool,
    pub(super) joints: bool,
    pub(super) edge_as_inside: bool,
    /// At each spot: something hangs on the panel, by sort of panel.
    pub(super) by_panel: [[bool; SORTS]; SPOTS],
    /// The same as a bit for each spot.
    spots_by_panel: [u32; SORTS],
}

/// How far to the sides of a rib the contact of an event finds it, m.
pub(super) const fn reach_m(e: &Event) -> f64 {
    resistance::radius_m(e.contact) + RIB_REACH_M
}

/// How often an event comes to each unit of each group, times per 100 outings, and how far it reaches.
#[derive(Debug, Clone, Copy)]
pub(super) struct Comes {
    pub(super) event: usize,
    pub(super) per: [f64; 6],
    pub(super) reach_m: f64,
}

impl Inputs for Comes {
    fn put<T: To>(&self, to: &mut T) {
        let Self { event, per, reach_m } = self;
        event.put(to);
        per.put(to);
        reach_m.put(to);
    }
}

/// Every event of the catalogue on every kind of surface, whatever its numbers.
pub(super) static WAYS: LazyLock<[[Way; KINDS.len()]; EVENTS.len()]> =
    LazyLock::new(|| std::array::from_fn(|event| KINDS.map(|kind| Way::of(kind, &EVENTS[event]))));

impl Way {
    fn of(kind: Kind, e: &Event) -> Self {
        let at = |spot: Spot| -> [bool; SORTS] {
            let counts = resistance::zone_counts(kind, e.contact, spot);
            std::array::from_fn(|sort| {
                let full = sort & 1 == 1 && kind == Kind::Covering && spot.over_a_rib();
                (counts && !full) || harder_here(e.cause, spot, sort & 2 == 2)
            })
        };
        let by_panel = [at(Spot::Mid), at(Spot::Rib), at(Spot::Joint), at(Spot::Edge)];
        let bits = |sort: usize| by_panel.iter().rev().fold(0, |bits, spot| bits << 1 | u32::from(spot[sort]));
        Self {
            ribs: ribs_count(kind, e.contact),
            joints: matches!(e.contact, Contact::Ball { .. } | Contact::Blow { .. } | Contact::Edge),
            edge_as_inside: as_inside(kind, e),
            by_panel,
            spots_by_panel: std::array::from_fn(bits),
        }
    }
}

impl Exposed {
    /// The classes it belongs to: its side, and its panel.
    pub(super) const fn classes(&self, field: &Field) -> [usize; 2] {
        [self.side, field.sides + self.alike]
    }

    /// All that how often it is met hangs on.
    pub(super) const fn beneath<'a>(&self, per: Named<&'a [Comes]>) -> Beneath<'a> {
        let Self { kind, groups, ribs_per_m, joints_per_m, sort, .. } = *self;
        Beneath { per, kind, groups, ribs_per_m, joints_per_m, sort }
    }
}

/// A zone beneath all events.
pub(super) struct Beneath<'a> {
    /// How each event comes.
    per: Named<&'a [Comes]>,
    kind: Kind,
    groups: [f64; 6],
    ribs_per_m: f64,
    joints_per_m: f64,
    sort: usize,
}

impl Inputs for Beneath<'_> {
    fn put<T: To>(&self, to: &mut T) {
        let Self { per, kind, groups, ribs_per_m, joints_per_m, sort } = self;
        per.put(to);
        kind.put(to);
        groups.put(to);
        [ribs_per_m, joints_per_m].put(to);
        sort.put(to);
    }
}

/// A contact met on a zone: event and spot, which of the zone's two classes it is of (1: the panel counts), times per 100 outings.
/// Whole words, so that room for many is soon blank.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Fall {
    pub(super) code: u32,
    pub(super) class: u32,
    pub(super) per_100: f64,
}

impl Fall {
    pub(super) fn event(&self) -> usize {
        self.code as usize / SPOTS
    }
}

/// All contacts met on a zone, event by event: those first whose cause does not look at the weight of the wing.
#[derive(Debug, Clone)]
pub(super) struct Falls {
    pub(super) met: Arc<[Fall]>,
    /// How many stand first.
    pub(super) fixed: usize,
    /// Those for which the panel does not count, and those for which it does.
    pub(super) codes: [Codes; 2],
}

/// Each of a set of events and spots, the first first.
pub(super) fn each(codes: Codes) -> impl Iterator<Item = usize> {
    let mut left = codes;
    std::iter::from_fn(move || {
        let code = left.trailing_zeros();
        left &= left.wrapping_sub(1);
        (code < Codes::BITS).then_some(code as usize)
    })
}

/// Which of the contacts of a class is met, by event and spot.
#[derive(Debug, Clone)]
pub(super) struct Which([u8; CODES]);

impl Which {
    pub(super) const NONE: Self = Self([u8::MAX; CODES]);

    /// Of contacts in this order.
    pub(super) fn of(codes: impl Iterator<Item = usize>) -> Self {
        let mut out = Self::NONE;
        codes.enumerate().for_each(|(which, code)| out.0[code] = which as u8);
        out
    }

    pub(super) fn at(&self, f: &Fall) -> Option<usize> {
        let which = self.0[f.code as usize];
        (which != u8::MAX).then_some(usize::from(which))
    }
}

/// The events, those first whose cause does not look at the weight of the wing.
pub(super) const ORDER: [usize; EVENTS.len()] = {
    let (mut out, mut n, mut which) = ([0; EVENTS.len()], 0, 0);
    while which < 2 * EVENTS.len() {
        let event = which % EVENTS.len();
        if EVENTS[event].cause.by_weight() == (which >= EVENTS.len()) {
            out[n] = event;
            n += 1;
        }
        which += 1;
    }
    out
};

/// The smaller of both; the second where either is no number.
const fn smaller(a: f64, b: f64) -> f64 {
    if a < b { a } else { b }
}

/// Half of a set of codes.
const HALF: usize = Codes::BITS as usize / 2;
const _: () = assert!(HALF.is_multiple_of(SPOTS), "the spots of an event stand in one half");

/// How often each contact is met on a zone.
pub(super) fn falls(on: &Beneath) -> Falls {
    let (mut met, mut all, mut fixed) = ([Fall::default(); CODES], 0, 0);
    // Codes for which the panel does not count and for which it does, in two halves each.
    let mut codes = [[0_u64; 2]; 2];
    let ways = &*WAYS;
    let (joins, has_edge) = (on.joints_per_m > 0.0, on.groups[3] > 0.0);
    for Comes { event, per, reach_m } in *on.per {
        let way = &ways[*event][on.kind as usize];
        let panels = way.spots_by_panel[on.sort];
        let mut meet = |spot: Spot, per_100: f64| {
            if per_100 > 0.0 {
                let (code, class) = (*event * SPOTS + spot as usize, panels >> spot as usize & 1);
                codes[class as usize][code / HALF] |= 1 << (code % HALF);
                met[all] = Fall { code: code as u32, class, per_100 };
                all += 1;
            }
        };
        let on_edge = if has_edge { per[3] * on.groups[3] } else { 0.0 };
        let (inside, on_edge) = if way.edge_as_inside { (on_edge, 0.0) } else { (0.0, on_edge) };
        let on_face = on.on_face(per);
        if way.ribs || (joins && way.joints) {
            let reached = |counts: bool, per_m: f64| if counts { smaller(reach_m * per_m, 1.0) } else { 0.0 };
            let joint = reached(way.joints, on.joints_per_m);
            // A boundary joint stands on a rib: what falls beside it is part of what falls on ribs.
            let over = reached(way.ribs, on.ribs_per_m) - joint;
            let over = if over > 0.0 { over } else { 0.0 };
            meet(Spot::Mid, on_face * (1.0 - over - joint) + inside);
            meet(Spot::Rib, on_face * over);
            meet(Spot::Joint, on_face * joint);
        } else {
            meet(Spot::Mid, on_face + inside);
        }
        meet(Spot::Edge, on_edge);
        if !EVENTS[*event].cause.by_weight() {
            fixed = all;
        }
    }
    let codes = codes.map(|[low, high]| Codes::from(low) | Codes::from(high) << HALF);
    Falls { met: Arc::from(&met[..all]), fixed, codes }
}

impl Beneath<'_> {
    /// How often the zone is met on its face, for `per` times for each unit of each group.
    fn on_face(&self, per: &[f64; 6]) -> f64 {
        let g = &self.groups;
        per[0] * g[0] + per[1] * g[1] + per[2] * g[2] + per[4] * g[4] + per[5] * g[5]
    }
}

/// Whether an event on an edge goes as it does between the ribs: soft things, and coverings.
fn as_inside(kind: Kind, e: &Event) -> bool {
    let soft = matches!(e.contact, Contact::Pad { .. } | Contact::Pressure { .. });
    !matches!(e.cause, Cause::Strap { .. }) && (kind == Kind::Covering || (kind == Kind::Sandwich && soft))
}

/// Whether a cause is harder or softer for the panel it meets: its give under what is set down, its curve under a strap.
const fn harder_here(cause: Cause, spot: Spot, curved: bool) -> bool {
    match cause {
        Cause::SetDown { .. } => !spot.over_a_rib(),
        Cause::Strap { .. } => !matches!(spot, Spot::Edge) && curved,
        _ => false,
    }
}

/// Whether a contact over a rib differs from one between ribs.
fn ribs_count(kind: Kind, c: Contact) -> bool {
    match c {
        Contact::Blow { local, .. } => !local || kind == Kind::Covering,
        Contact::Ball { .. } => kind == Kind::Covering,
        _ => false,
    }
}
