//! Service conditions, ground care and the shipped sets of limits.

use std::sync::Arc;

use crate::physics::design::{GroundCare, Hold, LimitSet, Protection, Rest, Service, Use};
use crate::physics::durability::catalogue::{Catalogue, Given, Number};
use crate::physics::durability::events::{EVENTS, Exposure, GROUPS};
use crate::physics::loads::limits;
use crate::scenario::check::{KG, known_name, q};
use crate::scenario::reader::Table;

/// The two shipped sets of limits.
pub(super) fn shipped_limits() -> Vec<LimitSet> {
    limits::KEYS.iter().filter_map(|key| limits::shipped(key)).collect()
}

/// The `[service]` table.
pub(super) fn service(root: &Table) -> Service {
    let mut s = Service {
        carry_factor: 2.5,
        bump_factor: 3.0,
        rack_speed_m_s: 30.0,
        parked_wind_m_s: 12.0,
        landing_factor: 3.0,
        nose_factor: 4.0,
        tip_force_n: 200.0,
        upper_c: 40.0,
        lower_c: 30.0,
        hot_core_share: 0.75,
    };
    let Some(t) = root.table("service") else { return s };
    s.carry_factor = t.number_or("carry_factor", 1.0..=6.0, s.carry_factor);
    s.bump_factor = t.number_or("bump_factor", 1.0..=10.0, s.bump_factor);
    s.rack_speed_m_s = t.number_or("rack_speed_m_s", 0.0..=50.0, s.rack_speed_m_s);
    s.parked_wind_m_s = t.number_or("parked_wind_m_s", 0.0..=40.0, s.parked_wind_m_s);
    s.landing_factor = t.number_or("landing_factor", 1.0..=10.0, s.landing_factor);
    s.nose_factor = t.number_or("nose_factor", 0.0..=15.0, s.nose_factor);
    s.tip_force_n = t.number_or("tip_force_n", 0.0..=2000.0, s.tip_force_n);
    s.upper_c = t.number_or("upper_c", -20.0..=100.0, s.upper_c);
    s.lower_c = t.number_or("lower_c", -20.0..=100.0, s.lower_c);
    s.hot_core_share = t.number_or("hot_core_share", 0.1..=1.0, s.hot_core_share);
    t.done();
    s
}

/// The event a table names, which must be in the catalogue.
fn event(t: &Table) -> String {
    let word = t.need_text("event");
    known_name(t, "event", &word, "handling event", EVENTS.iter().map(|e| e.key));
    word
}

/// What an entry says of an event in place of the catalogue: numbers of its cause, how often it comes, where, and on whose word.
fn own_event(t: &Table, entry: usize, key: &str, catalogue: &mut Catalogue) {
    let Some(event) = EVENTS.iter().position(|e| e.key == key) else {
        // Which numbers belong there cannot be told; the name is the fault.
        for key in Number::ALL.iter().map(|n| n.key()).chain(["share", "source"]) {
            let _ = t.get(key);
        }
        return;
    };
    for number in Number::ALL {
        if number.of(&EVENTS[event]).is_some() {
            let (least, most) = number.range();
            if let Some(v) = t.number(number.key(), least..=most) {
                catalogue.give(Given { event, entry, number }, v);
            }
        }
    }
    if let Some(s) = t.table("share") {
        let share = GROUPS.map(|g| s.number_or(g, 0.0..=1.0, 0.0));
        let sum: f64 = share.iter().sum();
        if (sum - 1.0).abs() > 0.005 {
            t.faults.add(
                t.place("share"),
                format!("the shares of {key} sum to {sum:.3}"),
                "write shares that sum to 1",
            );
        }
        s.done();
        catalogue.share(event, share);
    }
    if let Some(words) = t.text("source") {
        catalogue.sourced(event, words);
    }
}

/// The `[care]` table.
pub(super) fn care(root: &Table) -> GroundCare {
    let mut c = GroundCare {
        usage: Use::CarefulOwner,
        outings_per_year: 60.0,
        discipline: 0.3,
        catalogue: Arc::default(),
        times: [None; 6],
        event_factors: Vec::new(),
        holds: Vec::new(),
        rests: Vec::new(),
        protections: Vec::new(),
        hits_left_alone: true,
    };
    let Some(t) = root.table("care") else { return c };
    c.usage = t.word("use", &Use::ALL.map(Use::key)).and_then(|i| Use::ALL.get(i).copied()).unwrap_or(c.usage);
    c.outings_per_year = t.number_or("outings_per_year", 1.0..=1000.0, 60.0);
    c.discipline = t.number_or("discipline", 0.0..=1.0, 0.3);
    c.hits_left_alone = t.flag("small_marks_left_alone", true);
    if let Some(own) = t.table("times") {
        c.times = Exposure::ALL.map(|e| own.number(e.key(), 0.0..=100.0));
        own.done();
    }
    for (entry, e) in t.tables("event").iter().enumerate() {
        let key = event(e);
        c.event_factors.push((key.clone(), e.number_or("factor", 0.0..=100.0, 1.0)));
        own_event(e, entry, &key, Arc::make_mut(&mut c.catalogue));
        e.done();
    }
    for h in t.tables("hold") {
        c.holds.push(Hold {
            name: h.text("name").unwrap_or_else(|| "hold".to_owned()),
            eta: h.need("at", 0.0..=1.0),
            chord: h.number_or("chord", 0.0..=1.0, 0.1),
            upper: h.flag("upper", false),
        });
        h.done();
    }
    for r in t.tables("rest") {
        c.rests.push(Rest {
            name: r.text("name").unwrap_or_else(|| "rest".to_owned()),
            eta: r.need("at", 0.0..=1.0),
            pad_area_m2: r.number_or("pad_area_cm2", 1.0..=5000.0, 100.0) * 1e-4,
        });
        r.done();
    }
    for p in t.tables("protection") {
        let stops = p
            .tables("stops")
            .iter()
            .map(|s| {
                let out = (event(s), s.need("share", 0.0..=1.0));
                s.done();
                out
            })
            .collect();
        c.protections.push(Protection {
            name: p.need_text("name"),
            mass_kg: p.quantity_or(q("mass", KG), 0.0..=50.0, 0.0),
            flown: p.flag("flown", false),
            stops,
        });
        p.done();
    }
    t.done();
    c
}
