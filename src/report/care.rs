//! How people treat the wing, in words: its use, where it is held and rested and whether it stands that, what protects it.

use crate::physics::assumptions::Assumptions;
use crate::physics::design::{Design, Use};
use crate::physics::durability::care;
use crate::physics::durability::events::{EVENTS, Exposure};
use crate::physics::evaluation::Evaluation;
use crate::report::holds;

/// A use in plain words.
pub const fn use_word(u: Use) -> &'static str {
    match u {
        Use::SingleAttempt => "single attempt",
        Use::CarefulOwner => "careful owner",
        Use::Club => "club",
        Use::HireOrSchool => "hire or school",
    }
}

fn title(key: &str) -> String {
    EVENTS.iter().find(|e| e.key == key).map_or_else(|| key.to_owned(), |e| e.title.to_lowercase())
}

/// Lines: the use, each hold and rest with its check, each protection with what it stops, each factor on an event.
pub fn lines(design: &Design, e: &Evaluation) -> Vec<String> {
    let (c, d) = (&design.care, &e.durability);
    let a = Assumptions::default();
    let often = |kind: Exposure| {
        c.catalogue.events.iter().filter(|v| v.exposure == kind).map(|v| care::rate(design, v, &a)).sum::<f64>()
    };
    let mut out = vec![format!(
        "use: {}, {:.0} outings a year; {:.0} lifts and {:.0} rests per 100 outings",
        use_word(c.usage),
        c.outings_per_year,
        often(Exposure::Lift),
        often(Exposure::Rest)
    )];
    let times: Vec<String> = Exposure::ALL
        .iter()
        .map(|e| {
            let own = c.times[*e as usize].map_or("", |_| " by your own word");
            format!("{} x{}{own}", e.key(), care::times(c, *e))
        })
        .collect();
    out.push(format!("against a careful owner (assumption): {}", times.join(", ")));
    let landing = match (c.holds.is_empty(), c.rests.is_empty()) {
        (true, true) => "no hold and no rest is marked: lifts and rests land anywhere".to_owned(),
        (false, true) => format!("{:.0} % of the lifts land on the holds; no rest is marked", 100.0 * c.discipline),
        (true, false) => format!("{:.0} % of the rests land on their pads; no hold is marked", 100.0 * c.discipline),
        _ => format!("{:.0} % of lifts and rests land on their marked places", 100.0 * c.discipline),
    };
    out.push(format!("discipline: {landing}"));
    let at = |zone: usize| e.layout.zones.get(zone).map_or_else(String::new, |z| care::place(z.strip, z.bay));
    for h in &d.holds {
        let may = holds::may_lift(e, h);
        let word = if may.may() { may.word().to_owned() } else { format!("✗ {}", may.word()) };
        out.push(format!(
            "hold {}, {}: lifting asks {:.0} N, stands {:.0} N ({}): {word}",
            h.name,
            at(h.zone),
            h.asked_n,
            h.stands_n,
            h.kind.word()
        ));
    }
    for r in &d.rests {
        let word = if r.holds { "stands it" } else { "✗ DOES NOT STAND IT" };
        out.push(format!(
            "rest {}, {}: a rough road asks {:.0} kPa, stands {:.0} kPa ({}): {word}",
            r.name,
            at(r.zone),
            1e-3 * r.asked_pa,
            1e-3 * r.stands_pa,
            r.kind.word()
        ));
    }
    for p in &c.protections {
        let stops: Vec<String> = p
            .stops
            .iter()
            .map(|(key, share)| {
                let idle = !p.flown && EVENTS.iter().any(|v| v.key == key && v.in_use);
                let share = if idle { 0.0 } else { 100.0 * share };
                format!("{share:.0} % of {}", title(key))
            })
            .collect();
        let way = if p.flown { "flown" } else { "left on the ground" };
        let stops = if stops.is_empty() { "nothing".to_owned() } else { stops.join(", ") };
        out.push(format!("protection {}, {:.1} kg, {way}: stops {stops}", p.name, p.mass_kg));
    }
    if c.protections.is_empty() {
        out.push("no protection is listed".to_owned());
    }
    for e in &c.catalogue.events {
        if let Some(own) = c.catalogue.own(e.key) {
            out.push(format!("{}: {own}", e.title));
        }
    }
    for (key, factor) in c.event_factors.iter().filter(|f| f.1 != 1.0) {
        out.push(format!("{factor} times as often by your own word: {}", title(key)));
    }
    out
}
