//! The catalogue of events with numbers of a scenario's own: each number does what it says, what does not belong is refused,
//! a dial turns it and saving keeps it.

use std::path::Path;
use std::sync::Arc;

use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::design::Design;
use thistledown::physics::durability::catalogue::{Given, Number};
use thistledown::physics::durability::cause::Met;
use thistledown::physics::durability::events::{EVENTS, Event};
use thistledown::physics::durability::index::Durability;
use thistledown::physics::evaluation::{Evaluation, Memory, evaluate, evaluate_again};
use thistledown::report;
use thistledown::scenario::dials::dials;
use thistledown::scenario::{load, parse};

fn file(name: &str) -> String {
    std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios").join(name)).unwrap()
}

fn events() -> Design {
    load(&Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/can-say-events.toml")).unwrap().design
}

fn worked(d: &Design) -> Evaluation {
    evaluate(d, &Assumptions::default())
}

fn of<'a>(d: &'a Durability, key: &str) -> &'a thistledown::physics::durability::index::EventResult {
    d.events.iter().find(|e| e.key == key).unwrap()
}

#[test]
fn every_number_of_every_event_moves_its_own_event_and_no_other() {
    // Own property: severity goes with its cause as the cause's formula says, hours of the event the same way, hours of all
    // others stay to the last bit; and taking from memory gives the same as working it out.
    let base = load(&Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/marram-mixed.toml")).unwrap().design;
    let before = worked(&base).durability;
    let met = Met { half_wing_kg: 20.0, stiffness_n_m: 5e4, radius_m: 0.08 };
    let (mut memory, a) = (Memory::default(), Assumptions::default());
    let mut tried = 0;
    for (event, e) in EVENTS.iter().enumerate() {
        for number in Number::ALL {
            let Some(was) = number.of(e) else { continue };
            let (least, most) = number.range();
            assert!((least..=most).contains(&was), "{} {}", e.key, number.key());
            let mut d = base.clone();
            let given = Given { event, entry: 0, number };
            Arc::make_mut(&mut d.care.catalogue).give(given, 1.2 * was);
            let now: &Event = &d.care.catalogue.events[event];
            assert!((number.of(now).unwrap() / was - 1.2).abs() < 1e-9);
            let harder = now.cause.severity(&met) / e.cause.severity(&met);
            match number {
                Number::ForceN | Number::TensionN | Number::ShockFactor | Number::MassG => {
                    assert!((harder - 1.2).abs() < 1e-9);
                }
                Number::SpeedMS => assert!((harder - 1.44).abs() < 1e-9),
                Number::WidthMm | Number::PadCm2 | Number::LengthMm => assert!((harder * 1.2 - 1.0).abs() < 1e-9),
                Number::DropMm | Number::ShareOfHalfWing => assert!(harder > 1.0, "{}", e.key),
                Number::Per100 | Number::Spread | Number::RadiusMm | Number::HitsPerM2 => assert_eq!(harder, 1.0),
            }
            let again = evaluate_again(&d, &a, &mut memory).durability;
            assert_eq!(again, worked(&d).durability, "{} {}", e.key, number.key());
            let (then, first) = (of(&again, e.key), of(&before, e.key));
            // A contact that hurts nothing stays harmless; whatever hurts changes with all but the radius of what is kept at rest.
            if first.repair_h > 1e-6 {
                assert_ne!(then.repair_h, first.repair_h, "{} {}", e.key, number.key());
            }
            if number == Number::Per100 && first.repair_h > 0.0 {
                assert!((then.repair_h / first.repair_h - 1.2).abs() < 1e-9);
            }
            if number == Number::HitsPerM2 {
                assert!((then.repair_h / first.repair_h - 1.2).abs() < 1e-9, "{}", e.key);
            }
            for (x, y) in again.events.iter().zip(&before.events).filter(|(x, _)| x.key != e.key) {
                assert_eq!(x.repair_h, y.repair_h, "{} turned {}", e.key, x.key);
            }
            tried += 1;
        }
    }
    assert!(tried > 90, "{tried}");
}

#[test]
fn a_scenario_gives_its_own_numbers_and_says_where_they_come_from() {
    let d = events();
    let find = |key: &str| d.care.catalogue.find(key).unwrap();
    assert_eq!(Number::ForceN.of(find("curious_press")), Some(20.0));
    assert_eq!(find("curious_press").per_100_outings, 75.0);
    assert_eq!(find("stone_set_down").share, [0.0, 0.0, 0.7, 0.0, 0.3, 0.0]);
    assert_eq!(find("palm_push"), &EVENTS.iter().find(|e| e.key == "palm_push").copied().unwrap());
    // A cause with a source is no assumption, one without is.
    assert!(!find("tie_down_strap").assumption && find("hail_small").assumption);
    let e = worked(&d);
    // Hands three times as often instead of what a club does, hail a fifth of what the number says.
    assert!((of(&e.durability, "curious_press").per_100_outings - 3.0 * 75.0).abs() < 1e-9);
    assert!((of(&e.durability, "hail_small").per_100_outings - 0.2 * 0.3).abs() < 1e-9);
    let text = report::text::assessment(&d, &e);
    for words in ["hands x3 by your own word", "force_n 20", "tally of an invented club, one season", "lower 0.70"] {
        assert!(text.contains(words), "{words}: {text}");
    }
    let json = report::json::evaluation(&d, &e);
    let all = json["durability"]["events"].as_array().unwrap();
    let source = |key: &str| all.iter().find(|v| v["key"] == key).unwrap()["source"].as_str().unwrap().to_owned();
    assert!(
        source("tie_down_strap")
            .starts_with("tension_n 40, width_mm 50 (wide straps pulled by hand, invented); the rest:")
    );
    assert!(source("hail_small").contains("assumption of this scenario"));
    // A strap twice as wide at a lower pull presses less, on twice the width.
    let wide = find("tie_down_strap");
    assert!((thistledown::physics::durability::resistance::radius_m(wide.contact) - 0.025).abs() < 1e-12);
}

#[test]
fn what_does_not_belong_to_an_event_is_refused() {
    let text = file("can-say-events.toml");
    let broken = |from: &str, to: &str| {
        assert!(text.contains(from));
        let all = parse(&text.replacen(from, to, 1), None).unwrap_err();
        all.iter().map(|p| format!("{} / {}", p.what, p.next)).collect::<Vec<_>>().join("; ")
    };
    // Hail has no tension; shares sum to 1; a number out of its range; a group nobody knows.
    let got = broken("hits_per_m2 = 5.0", "tension_n = 5.0");
    assert!(got.contains("unknown key") && got.contains("tension_n"), "{got}");
    assert!(broken(", tip = 0.3", ", tip = 0.1").contains("sum to 0.800"));
    assert!(broken("radius_mm = 15.0", "radius_mm = 0.1").contains("radius_mm"));
    assert!(broken("lower = 0.7", "belly = 0.7").contains("belly"));
    assert!(broken("hands = 3.0", "hand = 3.0").contains("hands"));
}

#[test]
fn own_numbers_are_dials_and_saving_keeps_them() {
    let scenario = load(&Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/can-say-events.toml")).unwrap();
    let d = scenario.design.clone();
    for (key, value) in [
        ("care.event.1.force_n", 31.0),
        ("care.event.3.drop_mm", 7.0),
        ("care.event.5.mass_g", 1.5),
        ("care.times.hands", 2.5),
        ("care.event.2.factor", 0.5),
    ] {
        let dial = dials(&d).into_iter().find(|x| x.key == key).unwrap_or_else(|| panic!("no dial {key}"));
        let mut turned = d.clone();
        dial.set(&mut turned, value);
        assert!((dial.value(&turned) - value).abs() < 1e-9, "{key}");
        assert_ne!(worked(&turned).durability.repair_h, worked(&d).durability.repair_h, "{key}");
        let saved = thistledown::scenario::save::written(&scenario, &turned).unwrap();
        let back = parse(&saved, None).unwrap();
        assert!((dial.value(&back) - value).abs() < 1e-9, "{key}: {saved}");
        assert!(saved.contains("# kept under a roof"));
    }
}

#[test]
fn spreads_of_coverings_and_tools_are_entries_a_scenario_may_replace() {
    // Hand sum: twice the spread of strips adds three times the old square to the square of the whole.
    use thistledown::physics::durability::spread;
    use thistledown::physics::samples::record::Form;
    let d = load(&Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/marram-mixed.toml")).unwrap().design;
    let e = worked(&d);
    let at = d.constructions.iter().position(|c| c.key == "cover_polyester_58").unwrap();
    let (skin, made) = (&e.skins[at], &d.constructions[at]);
    let which = skin.covering.unwrap().covering;
    let whole = |lib: &thistledown::physics::material::Library| {
        spread::of(skin, made, lib)[Form::Covering as usize].whole(Form::Covering)
    };
    let words = |lib| report::spread::long(skin, made, lib).join("\n");
    assert!(words(&d.library).contains("assumption"));
    let mut lib = (*d.library).clone();
    lib.coverings[which].strength_spread *= 2.0;
    let added = whole(&lib).powi(2) - whole(&d.library).powi(2);
    assert!((added - 3.0 * spread::CLOTH_STRENGTH.powi(2)).abs() < 1e-9, "{added}");
    assert!(words(&lib).contains("its entry"), "{}", words(&lib));
    // And from the file: an entry of its own for a tool and a covering.
    let own = "\n[[materials.tool]]\nkey = \"own_tool\"\nname = \"own\"\nface_spread = 0.2\ncore_depth_sd_mm = 0.9\n\n\
               [[materials.covering]]\nkey = \"own_cover\"\nname = \"own\"\nareal_mass_g_m2 = 60.0\nstrength_kn_m = 8.0\n\
               strength_spread = 0.15\nstrain_spread = 0.2\n";
    let read = parse(&(file("marram-mixed.toml") + own), None).unwrap();
    let tool = read.library.tools.iter().find(|t| t.key == "own_tool").unwrap();
    let cover = read.library.coverings.iter().find(|c| c.key == "own_cover").unwrap();
    assert_eq!((tool.face_spread, cover.strength_spread, cover.strain_spread), (0.2, 0.15, 0.2));
}
