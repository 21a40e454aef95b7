//! The parts list by heading and name, summed over the bays.

use serde_json::{Value, json};

use crate::physics::design::Design;
use crate::physics::evaluation::Evaluation;
use crate::physics::mass::tally::{Heading, Maturity, Part, normal_quantile};
use crate::physics::mass::weighed::name_of;

/// A line of the tree.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    pub name: String,
    pub heading: Heading,
    /// A heading, or one of its parts.
    pub top: bool,
    pub drawn_kg: f64,
    pub expected_kg: f64,
    pub sd_kg: f64,
    pub maturity: Option<Maturity>,
}

/// Headings, heaviest first, each with its parts summed over the bays; heaviest first.
pub fn rows(e: &Evaluation) -> Vec<Row> {
    let mut heads: Vec<(Row, Vec<Row>)> = Vec::new();
    for heading in Heading::ALL {
        let mut under: Vec<Row> = Vec::new();
        for p in e.weight.parts.iter().filter(|p| p.heading == heading) {
            match under.iter_mut().find(|r| r.name == name_of(p)) {
                Some(r) => add(r, p),
                None => under.push(row_of(p)),
            }
        }
        if under.is_empty() {
            continue;
        }
        under.sort_by(|a, b| b.drawn_kg.total_cmp(&a.drawn_kg));
        let sum = |f: fn(&Row) -> f64| under.iter().map(f).sum::<f64>();
        let top = Row {
            name: heading.word().to_owned(),
            heading,
            top: true,
            drawn_kg: sum(|r| r.drawn_kg),
            expected_kg: sum(|r| r.expected_kg),
            sd_kg: under.iter().map(|r| r.sd_kg * r.sd_kg).sum::<f64>().sqrt(),
            maturity: None,
        };
        heads.push((top, under));
    }
    heads.sort_by(|a, b| b.0.drawn_kg.total_cmp(&a.0.drawn_kg));
    heads
        .into_iter()
        .flat_map(|(top, under)| {
            let alone = under.len() == 1 && under[0].name == top.name;
            std::iter::once(top).chain(if alone { Vec::new() } else { under })
        })
        .collect()
}

fn row_of(p: &Part) -> Row {
    Row {
        name: name_of(p).into_owned(),
        heading: p.heading,
        top: false,
        drawn_kg: p.nominal_kg,
        expected_kg: p.nominal_kg * (1.0 + p.growth),
        sd_kg: p.sd_kg,
        maturity: Some(p.maturity),
    }
}

/// Bays of one construction err together, so their spreads add.
fn add(r: &mut Row, p: &Part) {
    r.drawn_kg += p.nominal_kg;
    r.expected_kg += p.nominal_kg * (1.0 + p.growth);
    r.sd_kg += p.sd_kg;
}

/// How far a mass has come, in a word.
pub const fn maturity_word(m: Maturity) -> &'static str {
    match m {
        Maturity::Sketch => "sketch",
        Maturity::Layout => "layout",
        Maturity::Released => "released",
        Maturity::Existing => "existing",
        Maturity::Weighed => "weighed",
    }
}

/// The list for other programs; the budget of a line is its own percentile, so lines add up to more than the wing's.
pub fn json(design: &Design, e: &Evaluation) -> Vec<Value> {
    let z = normal_quantile(design.targets.budget_percentile);
    let one = |r: &Row| {
        json!({
            "heading": r.heading.word(), "name": r.name, "is_heading": r.top, "as_drawn_kg": r.drawn_kg, "expected_kg": r.expected_kg,
            "sd_kg": r.sd_kg, "budget_kg": r.expected_kg + z * r.sd_kg, "maturity": r.maturity.map(maturity_word),
        })
    };
    rows(e).iter().map(one).collect()
}
