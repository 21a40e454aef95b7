//! Dials of how people treat the wing: each hold, rest and protection of the scenario, and its own factors on events.

use std::sync::Arc;

use crate::physics::design::Design;
use crate::physics::durability::catalogue::{Given, Number};
use crate::physics::durability::events::{EVENTS, Exposure};
use crate::scenario::dials::{Dial, Group, Turn, What};

/// Words of the two surfaces, and of the two ways with a protection, in the order of their dials.
const SURFACES: [&str; 2] = ["lower", "upper"];
const WAYS: [&str; 2] = ["left", "flown"];

const M2_IN_CM2: f64 = 1e4;

/// The value a dial of this file stands at, in the shown unit.
pub(super) fn value(d: &Design, what: What) -> f64 {
    let care = &d.care;
    let (hold, rest) = (|i: usize| care.holds.get(i), |i: usize| care.rests.get(i));
    match what {
        What::HoldAt(i) => hold(i).map_or(0.0, |h| h.eta),
        What::HoldChord(i) => hold(i).map_or(0.0, |h| h.chord),
        What::HoldUpper(i) => hold(i).map_or(0.0, |h| f64::from(u8::from(h.upper))),
        What::RestAt(i) => rest(i).map_or(0.0, |r| r.eta),
        What::RestPad(i) => rest(i).map_or(0.0, |r| r.pad_area_m2 * M2_IN_CM2),
        What::Flown(i) => care.protections.get(i).map_or(0.0, |p| f64::from(u8::from(p.flown))),
        What::EventFactor(i) => care.event_factors.get(i).map_or(1.0, |e| e.1),
        What::EventNumber(i) => given(d, i).and_then(|g| g.number.of(&care.catalogue.events[g.event])).unwrap_or(0.0),
        What::Times(i) => care.times.get(i).copied().flatten().unwrap_or(1.0),
        _ => 0.0,
    }
}

/// A number of an event that the scenario gives.
fn given(d: &Design, i: usize) -> Option<Given> {
    d.care.catalogue.given.get(i).copied()
}

/// How a number of an event turns: as finely as it is small.
fn turn_of(number: Number, value: f64) -> Turn {
    let (least, most) = number.range();
    let step = 10_f64.powf((value.abs().max(least) / 20.0).log10().floor());
    let digits = (-step.log10()).max(0.0).ceil() as usize + 1;
    Turn::Number { least, most, step, coarse: 10.0 * step, digits }
}

/// Set a dial of this file; false when it is none.
pub(super) fn set(d: &mut Design, what: What, v: f64) -> bool {
    let care = &mut d.care;
    match what {
        What::HoldAt(i) => care.holds.get_mut(i).map(|h| h.eta = v),
        What::HoldChord(i) => care.holds.get_mut(i).map(|h| h.chord = v),
        What::HoldUpper(i) => care.holds.get_mut(i).map(|h| h.upper = v > 0.5),
        What::RestAt(i) => care.rests.get_mut(i).map(|r| r.eta = v),
        What::RestPad(i) => care.rests.get_mut(i).map(|r| r.pad_area_m2 = v / M2_IN_CM2),
        What::Flown(i) => care.protections.get_mut(i).map(|p| p.flown = v > 0.5),
        What::EventFactor(i) => care.event_factors.get_mut(i).map(|e| e.1 = v),
        What::EventNumber(i) => {
            let given = care.catalogue.given.get(i).copied();
            given.map(|g| Arc::make_mut(&mut care.catalogue).turn(g, v))
        }
        What::Times(i) => care.times.get_mut(i).map(|t| *t = Some(v)),
        _ => return false,
    };
    true
}

/// The dials of the holds, rests, protections and factors this design has.
pub(super) fn push(d: &Design, out: &mut Vec<Dial>) {
    let mut one = |key: String, label: String, unit: &'static str, turn: Turn, what: What| {
        out.push(Dial { key: format!("care.{key}"), label, group: Group::GroundCare, unit, turn, what });
    };
    let share = || Turn::Number { least: 0.0, most: 1.0, step: 0.01, coarse: 0.1, digits: 3 };
    let words = |list: [&str; 2]| Turn::Choice(list.map(str::to_owned).to_vec());
    for i in 0..d.care.holds.len() {
        let n = i + 1;
        one(format!("hold.{n}.at"), format!("Hold {n}, place"), "span", share(), What::HoldAt(i));
        one(format!("hold.{n}.chord"), format!("Hold {n}, behind nose"), "chord", share(), What::HoldChord(i));
        one(format!("hold.{n}.upper"), format!("Hold {n}, surface"), "", words(SURFACES), What::HoldUpper(i));
    }
    for i in 0..d.care.rests.len() {
        let n = i + 1;
        let pad = Turn::Number { least: 1.0, most: 5000.0, step: 5.0, coarse: 50.0, digits: 0 };
        one(format!("rest.{n}.at"), format!("Rest {n}, place"), "span", share(), What::RestAt(i));
        one(format!("rest.{n}.pad_area_cm2"), format!("Rest {n}, pad"), "cm²", pad, What::RestPad(i));
    }
    for i in 0..d.care.protections.len() {
        let n = i + 1;
        one(format!("protection.{n}.flown"), format!("Protection {n}"), "", words(WAYS), What::Flown(i));
    }
    // Short enough for a list: "Padded rack", not what follows.
    let short = |title: &'static str| title.split(", ").next().and_then(|t| t.split(" or ").next()).unwrap_or(title);
    for (i, (key, _)) in d.care.event_factors.iter().enumerate() {
        let title = EVENTS.iter().find(|e| e.key == key).map_or(key.as_str(), |e| e.title);
        let turn = Turn::Number { least: 0.0, most: 100.0, step: 0.1, coarse: 1.0, digits: 2 };
        one(
            format!("event.{}.factor", i + 1),
            format!("Times: {}", title.to_lowercase()),
            "x",
            turn,
            What::EventFactor(i),
        );
    }
    for (i, g) in d.care.catalogue.given.iter().enumerate() {
        let (words, unit) = g.number.words();
        // Steps go by what the catalogue has, so that turning does not change them.
        let turn = turn_of(g.number, g.number.of(&EVENTS[g.event]).unwrap_or(1.0));
        let key = format!("event.{}.{}", g.entry + 1, g.number.key());
        one(key, format!("{}: {words}", short(EVENTS[g.event].title)), unit, turn, What::EventNumber(i));
    }
    for (i, e) in Exposure::ALL.iter().enumerate().filter(|(i, _)| d.care.times[*i].is_some()) {
        let turn = Turn::Number { least: 0.0, most: 100.0, step: 0.1, coarse: 1.0, digits: 2 };
        one(format!("times.{}", e.key()), format!("Times: all {}", e.key()), "x", turn, What::Times(i));
    }
}

/// Where a dial of this file stands in the scenario, and whether its choice is written as yes or no.
pub(super) fn path(d: &Design, what: What) -> Option<(Vec<String>, bool)> {
    let at =
        |list: &str, i: usize, leaf: &str| vec!["care".to_owned(), list.to_owned(), i.to_string(), leaf.to_owned()];
    Some(match what {
        What::HoldAt(i) => (at("hold", i, "at"), false),
        What::HoldChord(i) => (at("hold", i, "chord"), false),
        What::HoldUpper(i) => (at("hold", i, "upper"), true),
        What::RestAt(i) => (at("rest", i, "at"), false),
        What::RestPad(i) => (at("rest", i, "pad_area_cm2"), false),
        What::Flown(i) => (at("protection", i, "flown"), true),
        What::EventFactor(i) => (at("event", i, "factor"), false),
        What::EventNumber(i) => {
            let g = given(d, i)?;
            (at("event", g.entry, g.number.key()), false)
        }
        What::Times(i) => (vec!["care".to_owned(), "times".to_owned(), Exposure::ALL.get(i)?.key().to_owned()], false),
        _ => return None,
    })
}
