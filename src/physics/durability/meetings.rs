//! Where each event meets each zone, for all constructions of one kind: it hangs on the layout, on how people treat the wing
//! and on the kind alone, so a table of many constructions works it out once.

use crate::physics::assumptions::Assumptions;
use crate::physics::design::Design;
use crate::physics::durability::events::Event;
use crate::physics::durability::field::{SPOTS, WAYS, Way, reach_m, sort_of};
use crate::physics::durability::panel::PanelHere;
use crate::physics::durability::resistance::Spot;
use crate::physics::durability::term::{Alike, Chances, Ground, Often, Term, panel_of, zone_groups};
use crate::physics::laminate::construction::{KINDS, Kind};
use crate::physics::wing::layout::Layout;

/// A contact that goes the same way wherever it is met: one of its zones and the spot there.
#[derive(Debug, Clone, Copy)]
pub(super) struct Contact {
    zone: usize,
    spot: Spot,
    panel: PanelHere,
}

/// A place where a contact is met, times per 100 outings.
#[derive(Debug, Clone, Copy)]
pub(super) struct At {
    pub(super) zone: usize,
    pub(super) contact: usize,
    pub(super) per_100: f64,
}

/// What a boundary joint at one end of a zone takes from another contact.
#[derive(Debug, Clone, Copy)]
pub(super) struct AtJoint {
    pub(super) zone: usize,
    pub(super) contact: usize,
    pub(super) instead_of: usize,
    pub(super) per_100: f64,
}

/// One event over all zones of a layout, as if all were of one kind.
#[derive(Debug, Clone)]
pub(super) struct Meeting {
    pub(super) event: usize,
    rate: f64,
    moved: f64,
    pub(super) contacts: Vec<Contact>,
    pub(super) places: Vec<At>,
    pub(super) joints: Vec<AtJoint>,
}

/// A zone with what every event asks of it.
struct Open {
    groups: [f64; 6],
    panel: PanelHere,
    sort: usize,
    ribs_per_m: f64,
    joint_per_m: f64,
    upper: bool,
    nose: bool,
    /// Zones of one side that have the panel in common.
    alike: usize,
}

fn open(layout: &Layout) -> (Vec<Open>, usize, [f64; 6]) {
    let mut out: Vec<Open> = Vec::with_capacity(layout.zones.len());
    let (mut panels, mut totals) = (0, [0.0; 6]);
    for z in &layout.zones {
        let (groups, panel, upper) = (zone_groups(z), panel_of(z), z.strip.is_upper());
        for (t, v) in totals.iter_mut().zip(&groups) {
            *t += v;
        }
        let same = |(i, k): &(usize, &Open)| {
            k.upper == upper
                && k.panel.width_m == panel.width_m
                && k.panel.radius_m == panel.radius_m
                // Under a strap the radius of a nose is that of its bay.
                && (panel.radius_m.is_infinite() || layout.zones[*i].bay == z.bay)
        };
        let alike = out.iter().enumerate().rev().find(same).map_or(panels, |k| k.1.alike);
        panels = panels.max(alike + 1);
        out.push(Open {
            groups,
            panel,
            sort: sort_of(&panel),
            ribs_per_m: 2.0 / z.length_m.max(1e-3) + 1.0 / z.arc_m.max(1e-3),
            joint_per_m: 1.0 / layout.bays.get(z.bay).map_or(1.0, |b| b.length_m).max(1e-3),
            upper,
            nose: z.strip.is_nose(),
            alike,
        });
    }
    (out, panels, totals)
}

/// Where every event meets every zone, for each kind asked for.
#[derive(Debug, Clone, Default)]
pub struct Meetings([Vec<Meeting>; KINDS.len()]);

impl Meetings {
    /// Of the kinds asked for.
    pub fn of(design: &Design, layout: &Layout, assumed: &Assumptions, kinds: &[Kind]) -> Self {
        let (zones, panels, totals) = open(layout);
        let covered = kinds.contains(&Kind::Covering);
        let mut out = Self::default();
        let (mut faces, mut met) = (Vec::new(), Vec::new());
        for (which, e) in design.care.catalogue.events.iter().enumerate() {
            let Some(often) = Often::of(design, e, &totals, assumed) else { continue };
            let per = &often.per;
            faces.clear();
            faces.extend(zones.iter().map(|z| {
                let g = &z.groups;
                (per[0] * g[0] + per[1] * g[1] + per[2] * g[2] + per[4] * g[4] + per[5] * g[5], per[3] * g[3])
            }));
            for &kind in kinds.iter().filter(|k| **k != Kind::Open) {
                met.clear();
                met.resize((2 + panels) * SPOTS, None);
                let meeting = meeting(
                    (which, e),
                    &often,
                    (kind, &WAYS[which][kind as usize], covered),
                    (&zones, &faces),
                    &mut met,
                );
                out.0[kind as usize].push(meeting);
            }
        }
        out
    }
    pub(super) fn kind(&self, kind: Kind) -> &[Meeting] {
        &self.0[kind as usize]
    }
}

fn meeting(
    (event, e): (usize, &Event),
    often: &Often,
    (kind, way, covered): (Kind, &Way, bool),
    (zones, faces): (&[Open], &[(f64, f64)]),
    met: &mut [Option<usize>],
) -> Meeting {
    // Over a rib a covering stands the same whether it ends there or not, and nothing of a nose may be one.
    let joints = way.joints && covered && !(way.ribs && kind == Kind::Covering);
    let mut contacts: Vec<Contact> = Vec::with_capacity(zones.len());
    let mut places = Vec::with_capacity(zones.len() * 5 / 2);
    let mut at_joints = Vec::with_capacity(if joints { zones.len() } else { 0 });
    let reach_m = reach_m(e);
    for (zone, (z, &(on_face, on_edge))) in zones.iter().zip(faces).enumerate() {
        if on_edge + on_face <= 0.0 || z.nose && kind == Kind::Covering {
            continue;
        }
        let mut at = |spot: Spot| {
            let spot = if way.edge_as_inside && spot == Spot::Edge { Spot::Mid } else { spot };
            let by_panel = way.by_panel[spot as usize][z.sort];
            let slot = if by_panel { 2 + z.alike } else { usize::from(z.upper) } * SPOTS + spot as usize;
            *met[slot].get_or_insert_with(|| {
                contacts.push(Contact { zone, spot, panel: z.panel });
                contacts.len() - 1
            })
        };
        let over = if way.ribs { (reach_m * z.ribs_per_m).min(1.0) } else { 0.0 };
        for (spot, per_100) in [(Spot::Mid, on_face * (1.0 - over)), (Spot::Rib, on_face * over), (Spot::Edge, on_edge)]
        {
            if per_100 > 0.0 {
                places.push(At { zone, contact: at(spot), per_100 });
            }
        }
        if joints && on_face > 0.0 && !z.nose {
            // A joint stands on a rib: what falls beside it is part of what falls on ribs.
            let per_100 = on_face * (reach_m * z.joint_per_m).min(1.0);
            let instead_of = at(if way.ribs { Spot::Rib } else { Spot::Mid });
            at_joints.push(AtJoint { zone, contact: at(Spot::Joint), instead_of, per_100 });
        }
    }
    Meeting { event, rate: often.rate, moved: often.moved, contacts, places, joints: at_joints }
}

impl Ground<'_> {
    /// What is asked of a contact of a meeting with a construction in use.
    pub(super) fn with_contact<T>(
        &self,
        m: &Meeting,
        contact: usize,
        construction: usize,
        of: impl FnOnce(&Term, &Chances) -> T,
    ) -> Option<T> {
        let (e, Contact { zone, spot, panel }) = (&self.events[m.event], &m.contacts[contact]);
        let (z, s) = (&self.layout.zones[*zone], &self.skins[construction]);
        let stand = self.side(construction, z.strip.is_upper())?.stand(m.event);
        let term = self.term((m.event, e), (*zone, s), (*spot, panel), stand);
        Some(of(&term, &term.chances()))
    }

    /// Lifts or rests of a meeting that land where they should.
    pub(super) fn land_of(&self, m: &Meeting, zone: impl Fn(usize) -> bool, mut each: impl FnMut(usize, &Alike)) {
        let e = &self.events[m.event];
        let there = self.landings.iter().filter(|(l, _)| m.moved > 0.0 && l.exposure == e.exposure && zone(l.zone));
        for at in there {
            if let Some(alike) = self.landed((m.event, e), at, m.rate * m.moved * at.0.share) {
                each(at.0.zone, &alike);
            }
        }
    }
}
