//! The boundaries a person drags: which dials they are, on which strips, and where they stand.

use crate::physics::design::Strip;
use crate::scenario::dials::{Dial, Turn};
use crate::screen::app::App;

/// A boundary dial and where it stands.
#[derive(Debug, Clone, PartialEq)]
pub struct Standing {
    pub dial: usize,
    pub strips: Vec<Strip>,
    pub eta: f64,
}

/// Every boundary dial of the design.
pub fn boundaries(app: &App) -> Vec<Standing> {
    app.dials
        .iter()
        .enumerate()
        .filter(|(_, d)| is_boundary(d))
        .map(|(dial, d)| Standing { dial, strips: strips_of(&d.key), eta: eta_of(d, d.value(&app.design), app) })
        .collect()
}

/// A dial that says where along the span a construction ends.
pub fn is_boundary(dial: &Dial) -> bool {
    dial.key.contains("boundary") && !matches!(dial.turn, Turn::Choice(_))
}

/// The strips a boundary dial moves: the one named in its key, or every strip whose key begins with a word of it.
pub fn strips_of(key: &str) -> Vec<Strip> {
    let word = |s: &Strip| key.split('.').any(|part| part == s.key());
    let named: Vec<Strip> = Strip::ALL.into_iter().filter(word).collect();
    if !named.is_empty() {
        return named;
    }
    let begins = |s: &Strip| key.split(['.', '_']).any(|part| s.key().split('_').next() == Some(part));
    Strip::ALL.into_iter().filter(begins).collect()
}

/// A dial value as a fraction of the half span.
pub fn eta_of(dial: &Dial, value: f64, app: &App) -> f64 {
    let eta = match dial.unit {
        "%" => value / 100.0,
        "m" => value / half_span_m(app),
        _ => value,
    };
    eta.clamp(0.0, 1.0)
}

/// The dial value nearest to a fraction of the half span, on the dial's own steps.
pub fn value_at(dial: &Dial, eta: f64, app: &App) -> f64 {
    let raw = match dial.unit {
        "%" => eta * 100.0,
        "m" => eta * half_span_m(app),
        _ => eta,
    };
    snapped(dial, raw)
}

fn half_span_m(app: &App) -> f64 {
    (app.design.planform.span_m / 2.0).max(1e-6)
}

/// A value pulled onto the dial's steps and into its range.
pub fn snapped(dial: &Dial, raw: f64) -> f64 {
    match &dial.turn {
        Turn::Number { least, most, step, .. } => {
            let step = if *step > 0.0 { *step } else { 1.0 };
            let at = (raw / step).round() * step;
            at.max(*least).min(*most)
        }
        Turn::Whole { least, most } => raw.round().max(*least as f64).min(*most as f64),
        Turn::Choice(list) => raw.round().max(0.0).min(list.len().saturating_sub(1) as f64),
    }
}

/// The value some steps away; ten at a time is the dial's coarse step.
pub fn stepped(dial: &Dial, value: f64, steps: i32, coarse: bool) -> f64 {
    let n = f64::from(steps);
    match &dial.turn {
        Turn::Number { step, coarse: wide, least, most, .. } => {
            let by = if coarse { wide.max(*step) } else { *step };
            (value + n * by).max(*least).min(*most)
        }
        Turn::Whole { .. } => snapped(dial, value + if coarse { 10.0 * n } else { n }),
        Turn::Choice(_) => snapped(dial, value + n),
    }
}

/// Place of a value within the dial's range, 0 to 1.
pub fn share_of_range(dial: &Dial, value: f64) -> f64 {
    let (least, most) = match &dial.turn {
        Turn::Number { least, most, .. } => (*least, *most),
        Turn::Whole { least, most } => (*least as f64, *most as f64),
        Turn::Choice(list) => (0.0, list.len().saturating_sub(1) as f64),
    };
    if most > least { ((value - least) / (most - least)).clamp(0.0, 1.0) } else { 0.0 }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenario::dials::Group;

    fn dial(turn: Turn) -> Dial {
        Dial {
            key: "skins.aft_upper.boundary".into(),
            label: "x".into(),
            group: Group::AftSkins,
            unit: "",
            turn,
            what: crate::scenario::dials::What::Plain(0),
        }
    }

    #[test]
    fn a_key_names_its_strip_and_not_its_longer_sister() {
        assert_eq!(strips_of("skins.aft_upper.boundary"), vec![Strip::AftUpper]);
        assert_eq!(strips_of("skins.aft_upper_rear.boundary"), vec![Strip::AftUpperRear]);
        assert!(strips_of("skins.aft.boundary").contains(&Strip::AftLower));
    }

    #[test]
    fn turning_stays_in_range() {
        let d = dial(Turn::Number { least: 0.0, most: 1.0, step: 0.05, coarse: 0.2, digits: 2 });
        assert!((stepped(&d, 0.95, 3, false) - 1.0).abs() < 1e-12);
        assert!((stepped(&d, 0.5, -1, true) - 0.3).abs() < 1e-12);
        assert!((snapped(&d, 0.512) - 0.5).abs() < 1e-12);
        let c = dial(Turn::Choice(vec!["a".into(), "b".into()]));
        assert!((stepped(&c, 1.0, 1, false) - 1.0).abs() < 1e-12);
    }
}
