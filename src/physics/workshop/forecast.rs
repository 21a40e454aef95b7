//! What the wing will weigh, with what is made already on the scales, and what is left for the parts to come.

use crate::physics::assumptions::Assumptions;
use crate::physics::design::Design;
use crate::physics::evaluation::{Evaluation, evaluate};
use crate::physics::mass::tally::{Maturity, Weight, normal_quantile};
use crate::physics::mass::weighed::{self, Half, OnScales, Piece, name_of};

/// A part of the list, both halves.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    pub piece: Piece,
    /// Expected with nothing weighed, and now, kg.
    pub promised_kg: f64,
    pub expected_kg: f64,
    pub sd_kg: f64,
    pub made: bool,
    /// The half that alone was weighed.
    pub half: Option<Half>,
    /// Of a part still to be made, or of its other half: the mass it must not pass, kg.
    pub stop_kg: Option<f64>,
}

/// Where the weighing stands.
#[derive(Debug, Clone, PartialEq)]
pub struct Forecast {
    /// The weight of the same wing with nothing weighed, and as it is forecast now.
    pub promised: Weight,
    pub now: Weight,
    /// On the scales so far, and expected of what is still to come, kg, each with its standard deviation.
    pub made_kg: (f64, f64),
    pub to_come_kg: (f64, f64),
    /// What the target leaves for the parts to come, kg; nothing without a target.
    pub left_kg: Option<f64>,
    /// Every part of the list, heading by heading, the heaviest first.
    pub rows: Vec<Row>,
    /// What was weighed, against what was promised.
    pub on_scales: Vec<OnScales>,
}

/// Share of what is left that each part to come may take: `E_i R/sum E`, `R = T - M - z s`.
///
/// E what is expected of a part, T the target, M what is made with the deviation s of its scales, z that of the percentile a person
/// judges by. With every part at its stop-weight the sum is the target. **Derived**; in proportion to what is expected is a choice.
fn stop_kg(expected_kg: f64, left_kg: f64, to_come_kg: f64) -> f64 {
    if to_come_kg > 0.0 { (expected_kg * left_kg / to_come_kg).max(0.0) } else { 0.0 }
}

/// The forecast of a wing that was evaluated.
pub fn of(design: &Design, e: &Evaluation) -> Forecast {
    let bare = Design { weighed: Vec::new(), ..design.clone() };
    let promised = evaluate(&bare, &Assumptions::default()).weight;
    let on_scales = weighed::put(&mut promised.parts.clone(), &design.weighed);
    let mut rows: Vec<Row> = Vec::new();
    // Lines of one family err together, families apart.
    let (mut made_kg, mut to_come_kg) = (0.0, 0.0);
    let mut families: Vec<(usize, bool, f64)> = Vec::new();
    for p in &e.weight.parts {
        let made = p.maturity == Maturity::Weighed;
        let expected_kg = p.nominal_kg * (1.0 + p.growth);
        let half = on_scales.iter().find(|s| made && s.piece.covers(p)).and_then(|s| s.half);
        // Of a piece weighed on one side the other is still to be made.
        let share = if half.is_some() { 0.5 } else { f64::from(made) };
        made_kg += share * expected_kg;
        to_come_kg += (1.0 - share) * expected_kg;
        match families.iter_mut().find(|f| f.0 == p.family && f.1 == made) {
            Some(f) => f.2 += p.sd_kg,
            None => families.push((p.family, made, p.sd_kg)),
        }
        let name = name_of(p);
        let like = |r: &&mut Row| {
            r.piece.heading == p.heading
                && r.piece.part.as_deref() == Some(name.as_ref())
                && r.made == (made && half.is_none())
        };
        match rows.iter_mut().find(like) {
            Some(r) => {
                r.expected_kg += expected_kg;
                r.sd_kg += p.sd_kg;
            }
            None => rows.push(Row {
                piece: Piece { heading: p.heading, part: Some(name.into_owned()) },
                promised_kg: 0.0,
                expected_kg,
                sd_kg: p.sd_kg,
                made: made && half.is_none(),
                half,
                stop_kg: None,
            }),
        }
    }
    // The error of one half's scale is made; what is left of the spread of both is to come.
    let scale = |s: &OnScales| {
        let of = design.weighed.iter().find(|w| w.piece == s.piece);
        of.map_or(0.0, |w| w.scale_error_kg.min(s.sd_kg))
    };
    let halves = || on_scales.iter().filter(|s| s.half.is_some() && s.drawn_kg > 0.0);
    let made_of_halves: f64 = halves().map(|s| scale(s).powi(2)).sum();
    let all_of_halves: f64 = halves().map(|s| s.sd_kg * s.sd_kg).sum();
    let sd = |made: bool| families.iter().filter(|f| f.1 == made).map(|f| f.2 * f.2).sum::<f64>().sqrt();
    let sd_made_kg = (sd(true).powi(2) - all_of_halves + made_of_halves).max(0.0).sqrt();
    let sd_to_come_kg = (sd(false).powi(2) + all_of_halves - made_of_halves).max(0.0).sqrt();
    let z = normal_quantile(design.targets.budget_percentile);
    let left_kg = design.targets.wing_mass_kg.map(|target| target - made_kg - z * sd_made_kg);
    for r in &mut rows {
        let of = promised.parts.iter().filter(|p| r.piece.covers(p));
        r.promised_kg = of.map(|p| p.nominal_kg * (1.0 + p.growth)).sum();
        if !r.made {
            let to_come = r.expected_kg * if r.half.is_some() { 0.5 } else { 1.0 };
            r.stop_kg = left_kg.map(|left| stop_kg(to_come, left, to_come_kg));
        }
    }
    rows.retain(|r| r.expected_kg > 0.0);
    // The heaviest heading first, as it was promised: what is weighed moves no line.
    let heading_kg = |r: &Row| -> f64 {
        let of = promised.parts.iter().filter(|p| p.heading == r.piece.heading);
        of.map(|p| p.nominal_kg * (1.0 + p.growth)).sum()
    };
    rows.sort_by(|a, b| {
        let heading = heading_kg(b).total_cmp(&heading_kg(a)).then(a.piece.heading.cmp(&b.piece.heading));
        heading.then(b.promised_kg.total_cmp(&a.promised_kg))
    });
    Forecast {
        promised,
        now: e.weight.clone(),
        made_kg: (made_kg, sd_made_kg),
        to_come_kg: (to_come_kg, sd_to_come_kg),
        left_kg,
        rows,
        on_scales,
    }
}
