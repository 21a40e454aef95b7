//! A sheet for each line of the parts list: what it may weigh, what is cut for it, what it takes beside, hours and cost.

use crate::physics::assumptions::Assumptions;
use crate::physics::design::Design;
use crate::physics::evaluation::Evaluation;
use crate::physics::mass::tally::{self, Heading, Part, Weight};
use crate::physics::mass::weighed::{self, name_of};
use crate::physics::wing::hinge_wall::Side;
use crate::physics::work;
use crate::physics::workshop::batches::{self, Batch};
use crate::physics::workshop::cuts::{Cut, CutList, Use};
use crate::physics::workshop::forecast::{Forecast, Row};

/// One part, both halves.
#[derive(Debug, Clone, PartialEq)]
pub struct PartSheet<'l> {
    pub row: Row,
    /// As drawn, kg: what is cut and taken for it adds to this.
    pub drawn_kg: f64,
    pub cuts: Vec<&'l Cut>,
    pub uses: Vec<&'l Use>,
    /// Resin that stays in its plies and laps, kg.
    pub resin_kg: f64,
    /// Resin or glue mixed for it with what is lost: its share of the lay-ups it is made in, kg.
    pub mixed_kg: f64,
    /// Lay-ups it is made in, or glued with.
    pub batches: Vec<Batch>,
    /// Hours and material cost by the model, where it knows them of this part.
    pub hours: Option<f64>,
    pub cost: Option<f64>,
    /// The line of work it has a share in, where the model knows only the whole: its title, hours, cost.
    pub within: Option<(String, f64, f64)>,
    /// Cloth is laid up, or something is glued; a blank is cut; paint is put on.
    pub wet: bool,
}

/// Sum of what is cut and taken for a part, kg: the parts list, as drawn, says the same.
///
/// Laps on another construction are cut with a skin and counted under splices: they are added there.
pub fn made_up_kg(list: &CutList, part: &weighed::Piece) -> f64 {
    let of = |p: &weighed::Piece| p == part;
    let cuts: f64 = list.cuts.iter().filter(|c| of(&c.part)).map(|c| c.net_kg + c.resin_kg).sum();
    let uses: f64 = list.uses.iter().filter(|u| of(&u.part)).map(|u| u.kg).sum();
    let laps: f64 =
        list.cuts.iter().filter(|c| splice_of(&c.part).as_ref() == Some(part)).map(|c| c.lap[1] + c.lap[2]).sum();
    cuts + uses + laps
}

/// What is mixed for it: over all parts the sum of what is mixed for all lay-ups.
fn mixed_kg(cuts: &[&Cut], uses: &[&Use]) -> f64 {
    let area_m2 = |c: &Cut| c.net_m2 + c.lap[0] + c.join[0];
    let plies = cuts.iter().filter(|c| c.lay_up.is_some()).map(|c| area_m2(c) * c.resin_kg_m2 * c.resin_waste);
    let others = uses.iter().filter(|u| u.lay_up.is_some()).map(|u| u.kg * u.resin_waste);
    plies.chain(others).sum()
}

/// The splices that the laps of a skin are counted under.
fn splice_of(skin: &weighed::Piece) -> Option<weighed::Piece> {
    let strip = skin.part.as_ref().filter(|_| skin.heading == Heading::Skins)?;
    Some(weighed::Piece { heading: Heading::Splices, part: Some(format!("{strip} splice")) })
}

/// The parts list of this very wing, its spar as it is sized, as if nothing were on the scales.
pub fn as_drawn(design: &Design, e: &Evaluation) -> Weight {
    let bare = Design { weighed: Vec::new(), ..design.clone() };
    tally::weigh(&bare, &e.layout, &e.skins, &e.sizing, &Assumptions::default())
}

/// Mass of a part of it, kg.
fn drawn_kg(promised: &Weight, part: &weighed::Piece) -> f64 {
    let is_of = |p: &&Part| p.heading == part.heading && part.part.as_deref() == Some(name_of(p).as_ref());
    promised.parts.iter().filter(is_of).map(|p| p.nominal_kg).sum()
}

/// A sheet for every part of the forecast.
pub fn of<'l>(design: &Design, e: &Evaluation, list: &'l CutList, f: &Forecast) -> Vec<PartSheet<'l>> {
    let drawn = as_drawn(design, e);
    let batches = batches::of(&design.stock, list);
    f.rows.iter().map(|r| one((design, e), (list, &batches), (&drawn, r))).collect()
}

fn one<'l>(
    (design, e): (&Design, &Evaluation),
    (list, batches): (&'l CutList, &[Batch]),
    (drawn, r): (&Weight, &Row),
) -> PartSheet<'l> {
    let part = &r.piece;
    let cuts: Vec<&Cut> = list.cuts.iter().filter(|c| c.part == *part).collect();
    let uses: Vec<&Use> = list.uses.iter().filter(|u| u.part == *part).collect();
    let (hours, cost) = work_of(design, e, part);
    let places = cuts.iter().filter_map(|c| c.lay_up).chain(uses.iter().filter_map(|u| u.lay_up));
    let names: Vec<&str> = places.filter_map(|i| list.lay_ups.get(i)).map(|l| l.name.as_str()).collect();
    let has = |b: &&Batch| names.contains(&b.name.as_str());
    let line = match part.heading {
        Heading::Caps | Heading::Backing | Heading::Web | Heading::Posts => Some("spar"),
        Heading::Bonds if part.part.as_deref() == Some("spar bonds") => Some("spar"),
        Heading::Joints => Some("joints"),
        Heading::Ribs | Heading::Skins => None,
        _ if hours.is_some() => None,
        _ => Some("fitting out"),
    };
    let within = line.and_then(|l| e.work.lines.iter().find(|w| w.0 == l).cloned());
    PartSheet {
        row: r.clone(),
        drawn_kg: drawn_kg(drawn, part),
        mixed_kg: mixed_kg(&cuts, &uses),
        resin_kg: cuts.iter().map(|c| c.resin_kg).sum(),
        batches: batches.iter().filter(|b| has(b)).cloned().collect(),
        wet: cuts.iter().any(|c| c.resin_kg_m2 > 0.0) || uses.iter().any(|u| u.lay_up.is_some()),
        cuts,
        uses,
        hours,
        cost,
        within,
    }
}

/// Hours and cost of a skin, of ribs or of a wall at the hinge.
fn work_of(design: &Design, e: &Evaluation, part: &weighed::Piece) -> (Option<f64>, Option<f64>) {
    let name = part.part.as_deref().unwrap_or_default();
    match part.heading {
        Heading::Skins => {
            let zones = e.layout.zones.iter().filter(|z| z.strip.label() == name);
            let each = zones.filter_map(|z| Some(work::of_zone(z, e.skins.get(z.construction)?, &design.rates)));
            let (h, c) = each.fold((0.0, 0.0), |a, w| (a.0 + w.0, a.1 + w.1));
            (Some(h), Some(c))
        }
        Heading::Ribs => {
            let (h, c) = work::of_ribs(design, &e.layout, &e.skins, Some(name));
            (Some(h), Some(c))
        }
        Heading::Controls => {
            let side = Side::BOTH.into_iter().find(|s| s.wall() == name);
            side.map_or((None, None), |side| {
                let (h, c) = work::hinge_walls::of(design, &e.layout, &e.skins, Some(side));
                (Some(h), Some(c))
            })
        }
        _ => (None, None),
    }
}
