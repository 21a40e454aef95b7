//! The half wing laid out: stations at every rib, bays between them, zones of skin.

use crate::physics::design::{Design, Strip};
use crate::physics::kept::{Kept, Row};
use crate::physics::wing::section::{At, Outline, Prepared};
use crate::physics::wing::{planform, section};

/// A section of the wing at one span position. Lengths on the true section, not the chord.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Station {
    pub eta: f64,
    pub y_m: f64,
    pub chord_m: f64,
    /// Geometric twist against the root, nose-up positive.
    pub twist_rad: f64,
    pub x_le_m: f64,
    pub thickness_frac: f64,
    /// Chord fraction of the spar.
    pub spar_frac: f64,
    /// Slope dx/dy of the spar line, aft positive: the tangent of its sweep.
    pub spar_slope: f64,
    /// Outside depth of the section at the spar, m.
    pub spar_depth_m: f64,
    /// Radius of the nose, m.
    pub nose_radius_m: f64,
    /// Arcs, m: nose from leading edge to spar; aft from spar to hinge line (or trailing edge).
    pub nose_upper_m: f64,
    pub nose_lower_m: f64,
    pub aft_upper_m: f64,
    pub aft_lower_m: f64,
    pub control_upper_m: f64,
    pub control_lower_m: f64,
    /// Mean radius of the flattest third of the nose arc, upper and lower, m.
    pub nose_upper_radius_m: f64,
    pub nose_lower_radius_m: f64,
    /// Areas inside the contour ahead of and behind the spar, m2.
    pub nose_cell_m2: f64,
    pub aft_cell_m2: f64,
    /// Depth where the aft part ends (hinge line), m.
    pub hinge_depth_m: f64,
    /// Thin-aerofoil zero-lift angle and moment about c/4 (or the person's own).
    pub alpha0_rad: f64,
    pub cm0: f64,
    pub cl_max: f64,
    pub cl_min: f64,
}

impl Station {
    /// Cosine of the sweep of the spar: what a length across the spar is of one along the flight path.
    /// Unchecked: no outside check runs it by itself.
    pub fn spar_cos(&self) -> f64 {
        1.0 / (1.0 + self.spar_slope * self.spar_slope).sqrt()
    }
}

/// What stands at the outer edge of a bay.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum RibRole {
    #[default]
    Main,
    /// Added where a boundary falls between ribs.
    Closing,
    Joint,
    Tip,
    Root,
}

impl RibRole {
    /// What the parts list calls it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Closing => "closing rib",
            Self::Joint => "joint rib",
            Self::Tip => "tip rib",
            Self::Main | Self::Root => "rib",
        }
    }
}

/// What the parts list calls the rib of a piece on the far side of a joint, the first rib of the wing, and all nose ribs.
pub const OTHER_SIDE: &str = "joint rib, other side";
pub const ROOT_RIB: &str = "root rib";
pub const NOSE_RIBS: &str = "nose ribs";

/// Between two ribs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bay {
    pub inner: Station,
    pub outer: Station,
    pub mid: Station,
    /// Length along the span, m.
    pub length_m: f64,
    /// Kind of the ribs of the region, and of the ribs at the inner and at the outer edge: a joint may have its own.
    pub rib_kind: usize,
    pub edge_kinds: [usize; 2],
    pub nose_kind: usize,
    /// Nose ribs between the main ribs of this bay.
    pub nose_ribs: u32,
    /// The rib at the inner and at the outer edge.
    pub inner_rib: RibRole,
    pub outer_rib: RibRole,
}

/// Strip by bay, with one construction.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Zone {
    pub strip: Strip,
    pub bay: usize,
    pub construction: usize,
    /// True developed area of one half wing, m2.
    pub area_m2: f64,
    /// Mean arc across the chord, m.
    pub arc_m: f64,
    /// Unsupported length along the span, m (nose ribs halve it).
    pub length_m: f64,
    pub chord_from: f64,
    pub chord_to: f64,
    /// Mean radius of curvature of the flattest third, m (f64::INFINITY when flat).
    pub radius_m: f64,
    /// Share of the area in the root group, the tip group, and length of trailing edge in it, m.
    pub root_share: f64,
    pub tip_share: f64,
    pub edge_m: f64,
}

/// A change of construction between neighbouring zones of a strip.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Splice {
    pub strip: Strip,
    /// Inboard bay; the splice stands at its outer edge.
    pub bay: usize,
    pub from: usize,
    pub to: usize,
    pub length_m: f64,
}

/// The laid-out half wing.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Layout {
    pub half_span_m: f64,
    pub area_m2: f64,
    pub aspect_ratio: f64,
    pub root_chord_m: f64,
    pub tip_chord_m: f64,
    pub mac_m: f64,
    pub mac_y_m: f64,
    pub mac_x_le_m: f64,
    /// Wetted area of the whole wing, both sides, m2.
    pub wetted_m2: f64,
    pub bays: Vec<Bay>,
    pub zones: Vec<Zone>,
    pub splices: Vec<Splice>,
    /// eta where each requested boundary came to stand: (strip, asked, standing, closing rib added).
    pub boundaries: Vec<Boundary>,
}

#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Boundary {
    pub strip: Strip,
    pub asked_eta: f64,
    pub standing_eta: f64,
    pub closing_rib: bool,
}

impl Layout {
    /// Stations at the bay edges, root to tip.
    pub fn stations(&self) -> impl Iterator<Item = &Station> {
        self.bays.iter().map(|b| &b.inner).chain(self.bays.last().map(|b| &b.outer))
    }
    /// This layout with the constructions of another design of the same ribs, whose boundaries all stand on ribs.
    #[must_use]
    pub fn refitted(&self, design: &Design) -> Self {
        let mut out = self.clone();
        out.boundaries = design
            .strips
            .iter()
            .flat_map(|s| s.runs.iter().map(move |r| (s.strip, r.to_eta)))
            .filter(|(_, eta)| *eta < 1.0 - 1e-9)
            .map(|(strip, eta)| Boundary { strip, asked_eta: eta, standing_eta: eta, closing_rib: false })
            .collect();
        for i in 0..out.zones.len() {
            let z = out.zones[i];
            let eta = out.bays.get(z.bay).map_or(0.0, |b| b.mid.eta);
            if let Some(c) = construction_at(design, &out, z.strip, eta) {
                out.zones[i].construction = c;
            }
        }
        splices(&mut out);
        out
    }
    /// This layout with other constructions on its zones.
    #[must_use]
    pub fn restacked(&self, construction: impl Fn(&Zone) -> usize) -> Self {
        let mut out = self.clone();
        out.zones.iter_mut().for_each(|z| z.construction = construction(z));
        splices(&mut out);
        out
    }
    /// The zone of a strip in a bay.
    pub fn zone(&self, strip: Strip, bay: usize) -> Option<&Zone> {
        // Zones stand in the order of their bays.
        let from = self.zones.partition_point(|z| z.bay < bay);
        self.zones.get(from..)?.iter().take_while(|z| z.bay == bay).find(|z| z.strip == strip)
    }
}

/// A boundary within this of a rib is set on it, m.
pub const SNAP_M: f64 = 0.020;

/// Share of the span that counts as tip group; root group when no joint stands nearer.
const GROUP_ETA: f64 = 0.1;

/// The last of the chord that counts as edge, m.
pub const EDGE_M: f64 = 0.030;

/// An edge of bays while they are collected.
#[derive(Clone, Copy)]
struct Edge {
    eta: f64,
    role: RibRole,
}

/// What laying out leaves behind: sections that did not change, and stations where nothing moved.
#[derive(Debug, Default)]
pub(crate) struct Memory {
    sections: Kept<Vec<Prepared>>,
    stations: Row<Station, 12>,
}

impl Memory {
    /// One that keeps nothing, for a layout that nothing comes after.
    pub(crate) fn forgetting() -> Self {
        Self { sections: Kept::forgetting(), stations: Row::forgetting() }
    }
}

/// Lay the half wing out.
pub fn lay_out(design: &Design) -> Layout {
    lay_out_again(design, &mut Memory::forgetting())
}

/// The same, with what was kept.
pub(crate) fn lay_out_again(design: &Design, memory: &mut Memory) -> Layout {
    let p = &design.planform;
    let half = p.span_m / 2.0;
    let outline = Outline::of(design, memory.sections.of(design.sections.as_slice(), section::prepare));
    memory.stations.begin();
    let mut station = |eta: f64| memory.stations.of(&At { outline, eta }, section::station);
    let (edges, boundaries) = edges(design, half);
    let stations: Vec<Station> = edges.iter().map(|e| station(e.eta)).collect();
    let mut out = Layout {
        half_span_m: half,
        area_m2: p.area_m2,
        aspect_ratio: planform::aspect_ratio(p),
        root_chord_m: planform::root_chord_m(p),
        tip_chord_m: planform::chord_m(p, 1.0),
        mac_m: planform::mac_m(p),
        mac_y_m: planform::mac_y_m(p),
        mac_x_le_m: planform::leading_edge_m(p, planform::mac_y_m(p) / half),
        boundaries,
        bays: Vec::with_capacity(stations.len()),
        ..Layout::default()
    };
    for (pair, at) in edges.windows(2).zip(stations.windows(2)) {
        let eta = f64::midpoint(pair[0].eta, pair[1].eta);
        let region = design.ribs.iter().find(|r| eta >= r.from_eta && eta <= r.to_eta).or_else(|| design.ribs.last());
        out.bays.push(Bay {
            inner: at[0],
            outer: at[1],
            mid: station(eta),
            length_m: at[1].y_m - at[0].y_m,
            rib_kind: region.map_or(0, |r| r.kind),
            edge_kinds: [pair[0], pair[1]].map(|e| own_rib(design, half, e).or(region.map(|r| r.kind)).unwrap_or(0)),
            nose_kind: region.map_or(0, |r| r.nose_kind),
            nose_ribs: region.map_or(0, |r| r.nose_between),
            inner_rib: pair[0].role,
            outer_rib: pair[1].role,
        });
    }
    zones(design, &mut out);
    splices(&mut out);
    out.wetted_m2 = 2.0 * out.zones.iter().map(|z| z.area_m2).sum::<f64>();
    out
}

/// The kind of rib that a joint names for an edge.
fn own_rib(design: &Design, half: f64, e: Edge) -> Option<usize> {
    if e.role != RibRole::Joint {
        return None;
    }
    design.joints.iter().find(|j| (j.eta - e.eta).abs() <= SNAP_M / half)?.rib
}

/// Ribs of all regions, joints, and closing ribs where a boundary falls between ribs.
fn edges(design: &Design, half: f64) -> (Vec<Edge>, Vec<Boundary>) {
    let mut all = Vec::with_capacity(64);
    all.push(Edge { eta: 0.0, role: RibRole::Root });
    for r in &design.ribs {
        for i in 1..=r.bays {
            let eta = r.from_eta + (r.to_eta - r.from_eta) * f64::from(i) / f64::from(r.bays);
            all.push(Edge { eta, role: RibRole::Main });
        }
    }
    let snap = SNAP_M / half;
    for j in &design.joints {
        match all.iter_mut().find(|e| (e.eta - j.eta).abs() <= snap) {
            Some(e) => e.role = RibRole::Joint,
            None => all.push(Edge { eta: j.eta, role: RibRole::Joint }),
        }
    }
    let mut boundaries = Vec::new();
    for s in &design.strips {
        for r in s.runs.iter().filter(|r| r.to_eta < 1.0 - 1e-9) {
            let near = all
                .iter()
                .filter(|e| (e.eta - r.to_eta).abs() <= snap)
                .min_by(|a, b| (a.eta - r.to_eta).abs().total_cmp(&(b.eta - r.to_eta).abs()));
            let (standing_eta, closing_rib) = near.map_or((r.to_eta, true), |e| (e.eta, e.role == RibRole::Closing));
            if near.is_none() {
                all.push(Edge { eta: r.to_eta, role: RibRole::Closing });
            }
            boundaries.push(Boundary { strip: s.strip, asked_eta: r.to_eta, standing_eta, closing_rib });
        }
    }
    // A control ends on a rib: one is added where none stands within the snap.
    for eta in design.controls.iter().flat_map(|c| [c.from_eta, c.to_eta]) {
        if eta > snap && eta < 1.0 - snap && !all.iter().any(|e| (e.eta - eta).abs() <= snap) {
            all.push(Edge { eta, role: RibRole::Closing });
        }
    }
    all.sort_by(|a, b| a.eta.total_cmp(&b.eta));
    all.dedup_by(|b, a| (b.eta - a.eta).abs() < 1e-6);
    if let Some(last) = all.last_mut() {
        last.role = RibRole::Tip;
    }
    (all, boundaries)
}

/// Where a strip's construction comes from in a bay: its run there, boundaries as they came to stand.
fn construction_at(design: &Design, layout: &Layout, strip: Strip, eta: f64) -> Option<usize> {
    let runs = design.runs(strip);
    let stands = |r: &crate::physics::design::Run| {
        layout
            .boundaries
            .iter()
            .find(|b| b.strip == strip && b.asked_eta == r.to_eta)
            .map_or(r.to_eta, |b| b.standing_eta)
    };
    runs.iter().find(|r| eta <= stands(r) + 1e-12).or_else(|| runs.last()).map(|r| r.construction)
}

fn zones(design: &Design, out: &mut Layout) {
    let root_end = design.joints.iter().map(|j| j.eta).fold(GROUP_ETA, f64::min).max(0.02);
    let mut list = Vec::with_capacity(out.bays.len() * 6);
    for (i, bay) in out.bays.iter().enumerate() {
        let eta = bay.mid.eta;
        let control = design.control_at(eta).is_some();
        for strip in Strip::ALL {
            let Some((from, to)) = chord_range(design, strip, control, bay.mid.spar_frac) else { continue };
            let Some(construction) = construction_at(design, out, strip, eta) else { continue };
            let arc = |s: &Station| strip_arc(s, strip, from, to, design.hinge_frac);
            let arc_m = (arc(&bay.inner) + 4.0 * arc(&bay.mid) + arc(&bay.outer)) / 6.0;
            let m = &bay.mid;
            let radius_m = match strip {
                Strip::NoseUpper => m.nose_upper_radius_m,
                Strip::NoseLower => m.nose_lower_radius_m,
                _ => f64::INFINITY,
            };
            let length_m = if strip.is_nose() { bay.length_m / f64::from(bay.nose_ribs + 1) } else { bay.length_m };
            let (a, b) = (bay.inner.eta, bay.outer.eta);
            let width = (b - a).max(1e-9);
            list.push(Zone {
                strip,
                bay: i,
                construction,
                area_m2: arc_m * bay.length_m * (1.0 + design.planform.dihedral_rad.powi(2) / 2.0),
                arc_m,
                length_m,
                chord_from: from,
                chord_to: to,
                radius_m,
                root_share: ((root_end - a) / width).clamp(0.0, 1.0),
                tip_share: ((b - (1.0 - GROUP_ETA)) / width).clamp(0.0, 1.0),
                edge_m: if to > 0.999 { bay.length_m } else { 0.0 },
            });
        }
    }
    out.zones = list;
}

/// Chord fractions a strip covers in a bay; None when it is absent there.
fn chord_range(design: &Design, strip: Strip, control: bool, spar: f64) -> Option<(f64, f64)> {
    let end = if control { design.hinge_frac } else { 1.0 };
    let divide = if strip.is_upper() { design.divide_upper } else { design.divide_lower };
    let divide = divide.filter(|d| *d > spar && *d < end - 1e-6);
    match strip {
        Strip::NoseUpper | Strip::NoseLower => Some((0.0, spar)),
        Strip::AftUpper | Strip::AftLower => Some((spar, divide.unwrap_or(end))),
        Strip::AftUpperRear | Strip::AftLowerRear => divide.map(|d| (d, end)),
        Strip::ControlUpper | Strip::ControlLower => control.then_some((design.hinge_frac, 1.0)),
    }
}

/// Arc of a strip at a station, m. Behind the spar the arc is shared by chord, which the true arc follows within 0.2 %.
pub(crate) fn strip_arc(s: &Station, strip: Strip, from: f64, to: f64, hinge: f64) -> f64 {
    let (nose, aft, control) = if strip.is_upper() {
        (s.nose_upper_m, s.aft_upper_m, s.control_upper_m)
    } else {
        (s.nose_lower_m, s.aft_lower_m, s.control_lower_m)
    };
    if strip.is_nose() {
        return nose;
    }
    // The spar runs at its own chord fraction at each station; a strip that begins at the spar follows it.
    let from = if from < hinge && from <= s.spar_frac + 0.05 { s.spar_frac } else { from };
    let share = |a: f64, b: f64| ((b.min(to) - a.max(from)) / (b - a).max(1e-9)).max(0.0);
    aft * share(s.spar_frac, hinge) + control * share(hinge, 1.0)
}

fn splices(out: &mut Layout) {
    let mut list = Vec::new();
    for strip in Strip::ALL {
        let mut last: Option<&Zone> = None;
        for z in out.zones.iter().filter(|z| z.strip == strip) {
            if let Some(l) = last.filter(|l| l.bay + 1 == z.bay && l.construction != z.construction) {
                list.push(Splice {
                    strip,
                    bay: l.bay,
                    from: l.construction,
                    to: z.construction,
                    length_m: f64::midpoint(l.arc_m, z.arc_m),
                });
            }
            last = Some(z);
        }
    }
    out.splices = list;
}
