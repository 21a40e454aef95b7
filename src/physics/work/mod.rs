//! Hours, pieces and money.

pub mod hinge_walls;
pub mod spar;

use crate::physics::design::{Design, Rates, RibKind};
use crate::physics::laminate::construction::Skin;
use crate::physics::lifting;
use crate::physics::mass::ribs;
use crate::physics::mass::tally::Weight;
use crate::physics::strength::sizing::Sizing;
use crate::physics::wing::layout::{Layout, Zone};

#[derive(Debug, Clone, PartialEq, Default)]
pub struct Work {
    pub hours: f64,
    pub cost: f64,
    /// Pieces to make and glue.
    pub pieces: u32,
    pub set_up_minutes: f64,
    pub largest_piece_m: f64,
    pub heaviest_piece_kg: f64,
    /// The heaviest piece over what one person is advised to lift from the floor to the roof of a car.
    pub lifting_index: Option<f64>,
    /// (what, hours, cost), largest first.
    pub lines: Vec<(String, f64, f64)>,
}

/// Line of the walls along the hinge, where there are any.
const WALLS: &str = "walls at the hinge";

/// Work and money for the wing: panels and walls by area, ribs each, spar by the metre, joints each, fitting out once.
/// **Source:** the scenario's own rates; published hours for such wings are thin, so treat them as placeholders.
/// Unchecked: no outside check runs it by itself.
pub fn estimate((design, layout, skins): (&Design, &Layout, &[Skin]), weight: &Weight, sizing: &Sizing) -> Work {
    let mut w = Work::default();
    let rates = &design.rates;
    let (mut skin_h, mut skin_c, mut panels) = (0.0, 0.0, 0);
    for z in &layout.zones {
        if let Some(s) = skins.get(z.construction) {
            let (hours, cost) = of_zone(z, s, rates);
            skin_h += hours;
            skin_c += cost;
        }
    }
    for s in &design.strips {
        panels += 2 * s.runs.len() as u32 * (design.joints.iter().filter(|j| j.eta > 0.0).count() as u32 + 1);
    }
    let (rib_h, rib_c) = of_ribs(design, layout, skins, None);
    let rib_pieces: u32 = layout.bays.iter().map(|b| 2 + 2 * b.nose_ribs).sum();
    let spar_h = rates.spar_hours_per_m * design.planform.span_m;
    let joint_h = rates.joint_hours * design.joints.len() as f64;
    let spar_c = spar::material(design, layout, skins, sizing);
    let (wall_h, wall_c) = hinge_walls::of(design, layout, skins, None);
    w.lines = vec![
        ("skins".to_owned(), skin_h, skin_c),
        ("ribs".to_owned(), rib_h, rib_c),
        ("spar".to_owned(), spar_h, spar_c),
        (WALLS.to_owned(), wall_h, wall_c),
        ("joints".to_owned(), joint_h, 60.0 * design.joints.len() as f64),
        ("fitting out".to_owned(), rates.fitting_out_hours, 0.0),
    ];
    w.lines.retain(|l| l.0 != WALLS || l.1 > 0.0 || l.2 > 0.0);
    w.lines.sort_by(|a, b| b.1.total_cmp(&a.1));
    w.hours = w.lines.iter().map(|l| l.1).sum();
    w.cost = w.lines.iter().map(|l| l.2).sum::<f64>() + w.hours * rates.hour_price;
    w.pieces = panels + rib_pieces + hinge_walls::pieces(design) + 2 * 3;
    w.set_up_minutes = 10.0 + design.joints.iter().map(|j| 2.0 * j.set_up_minutes).sum::<f64>();
    pieces(&mut w, design, layout, weight);
    w.lifting_index = lifting::lifting_index(w.heaviest_piece_kg, &lifting::TO_THE_ROOF);
    w
}

/// Hours and material cost of a zone, both halves.
/// Unchecked: no outside check runs it by itself.
pub fn of_zone(z: &Zone, s: &Skin, rates: &Rates) -> (f64, f64) {
    (2.0 * z.area_m2 * s.hours_per_m2, 2.0 * z.area_m2 * s.cost_per_m2 * (1.0 + rates.waste))
}

/// Material of one rib as it is laid, without waste: its body over the whole section, its caps along the edges, its wrap.
///
/// c = A c_b + L w c_c + A s c_w, with A the section it fills, m2, L the length of its edges, m, w the width of its caps, m, s
/// the share of it that is wrapped, and c_b, c_c, c_w what a square metre of each costs. The body is laid whole: holes that
/// lighten it and `tip_ratio` are cut out of it and win no money back. Fittings have no price.
/// **Source:** areas times prices of the library. Derived here. **Valid for:** any.
pub fn rib_material(kind: &RibKind, skins: &[Skin], area_m2: f64, edge_m: f64) -> f64 {
    let of = |i: usize| skins.get(i).map_or(0.0, |s| s.cost_per_m2);
    let caps = kind.cap.map_or(0.0, |(c, width)| edge_m * width * of(c));
    let wrap = kind.wrap.map_or(0.0, |(c, share)| area_m2 * share * of(c));
    area_m2 * of(kind.body) + caps + wrap
}

/// Hours and material cost of the ribs that the parts list calls by a name, or of all, both halves.
/// **Source:** `hours_each` of the kind and its material with `rates.waste`, times the ribs of that name. Derived here.
pub fn of_ribs(design: &Design, layout: &Layout, skins: &[Skin], name: Option<&str>) -> (f64, f64) {
    let (mut hours, mut cost) = (0.0, 0.0);
    for r in ribs::placed(layout).filter(|r| name.is_none_or(|n| n == r.name)) {
        let Some(kind) = design.rib_kinds.get(r.kind) else { continue };
        let n = 2.0 * f64::from(r.times);
        let (area_m2, edge_m) = r.filled();
        hours += n * kind.hours_each;
        cost += n * rib_material(kind, skins, area_m2, edge_m);
    }
    (hours, cost * (1.0 + design.rates.waste))
}

/// Longest piece between joints, and the heaviest at budget weight; a joint at the root parts the halves.
fn pieces(w: &mut Work, design: &Design, layout: &Layout, weight: &Weight) {
    let mut cuts: Vec<f64> = design.joints.iter().map(|j| j.eta * layout.half_span_m).collect();
    cuts.push(layout.half_span_m);
    cuts.sort_by(f64::total_cmp);
    let root_cut = cuts.first().is_some_and(|c| *c < 1e-6);
    let mut from = 0.0;
    for to in cuts {
        if to - from < 1e-6 {
            continue;
        }
        let both = if from < 1e-6 && !root_cut { 2.0 } else { 1.0 };
        let drawn: f64 = weight.parts.iter().filter(|p| p.y_m >= from && p.y_m <= to).map(|p| p.nominal_kg / 2.0).sum();
        // At budget, like everything that is carried.
        let kg = drawn * weight.budget_kg / weight.drawn_kg.max(1e-9);
        w.largest_piece_m = w.largest_piece_m.max((to - from) * both);
        w.heaviest_piece_kg = w.heaviest_piece_kg.max(kg * both);
        from = to;
    }
}
