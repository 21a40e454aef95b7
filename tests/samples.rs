//! The log of samples: read with all its faults, kept by saving, and used: what was measured shifts and narrows what is computed.

use std::path::{Path, PathBuf};

use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::design::Design;
use thistledown::physics::evaluation::{Evaluation, evaluate};
use thistledown::physics::samples::record::Form;
use thistledown::scenario::dials::dials;
use thistledown::scenario::samples::{NewPress, NewSample, add};
use thistledown::scenario::{load, parse, written};

fn file(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios").join(name)
}

fn mixed() -> String {
    std::fs::read_to_string(file("marram-mixed.toml")).unwrap()
}

fn with(log: &str) -> Design {
    parse(&format!("{}\n{log}", mixed()), None).unwrap_or_else(|p| panic!("{p:#?}"))
}

fn run(d: &Design) -> Evaluation {
    evaluate(d, &Assumptions::default())
}

/// Loads to a mark under a thumb and under a ball on the nose, as many as `n`, this many times what is predicted.
fn pressed(times: f64, n: usize) -> Design {
    let predicted = |with: &str, radius: f64| {
        let log = format!(
            "[[sample]]\nconstruction = \"nose_carbon_pvc\"\n[[sample.press]]\nwith = \"{with}\"\nradius_mm = {radius}\nloads_n = [50.0]\n"
        );
        super::samples::with(&log).library.learnt.against[0].predicted
    };
    let loads = |p: f64| {
        // About the load, 5 % to either side, the geometric mean on it.
        let each: Vec<String> =
            (0..n).map(|i| format!("{:.3}", times * p * if i % 2 == 0 { 1.05 } else { 1.0 / 1.05 })).collect();
        each.join(", ")
    };
    let (pad, ball) = (predicted("pad", 8.0), predicted("ball", 10.0));
    with(&format!(
        "[[sample]]\nconstruction = \"nose_carbon_pvc\"\n[[sample.press]]\nwith = \"pad\"\nradius_mm = 8.0\nloads_n = [{}]\n\
         [[sample.press]]\nwith = \"ball\"\nradius_mm = 10.0\nloads_n = [{}]\n",
        loads(pad),
        loads(ball)
    ))
}

fn zone_press(e: &Evaluation, construction: usize) -> f64 {
    let at = e.layout.zones.iter().position(|z| z.construction == construction).unwrap();
    e.durability.zones[at].press_n
}

fn index_of(d: &Design, key: &str) -> usize {
    d.constructions.iter().position(|c| c.key == key).unwrap()
}

#[test]
fn a_log_without_records_changes_no_bit() {
    let d = parse(&mixed(), None).unwrap();
    assert!(d.library.learnt.is_nothing());
    assert!(run(&d).skins.iter().all(|s| s.learnt.is_none()));
}

#[test]
fn loads_that_agree_narrow_the_band_and_loads_that_do_not_shift_it() {
    let plain = parse(&mixed(), None).unwrap();
    let e = run(&plain);
    let band = |e: &Evaluation| e.durability.repair_h_p90 / e.durability.repair_h_p10;
    let mut before = band(&e);
    for n in [2, 6, 20] {
        let s = run(&pressed(1.0, n));
        assert!(band(&s) < before, "{n} specimens: {} not under {before}", band(&s));
        before = band(&s);
    }
    let nose = index_of(&plain, "nose_carbon_pvc");
    let (weak, strong) = (run(&pressed(0.7, 6)), run(&pressed(1.4, 6)));
    assert!(zone_press(&weak, nose) < zone_press(&e, nose) && zone_press(&e, nose) < zone_press(&strong, nose));
    assert!(strong.durability.repair_h < e.durability.repair_h && e.durability.repair_h < weak.durability.repair_h);
}

#[test]
fn another_construction_of_the_form_learns_the_shared_part_only() {
    let d = pressed(1.4, 6);
    let e = run(&d);
    let known = |key: &str| e.skins[index_of(&d, key)].known(Form::Pad).copied().unwrap();
    let (own, other) = (known("nose_carbon_pvc"), known("skin_glass_pvc"));
    assert!(own.shift > other.shift && other.shift > 0.0, "{own:?} {other:?}");
    assert!(own.beta < own.before && other.beta < other.before && own.kept < other.kept, "{own:?} {other:?}");
    assert_eq!((own.specimens, other.specimens, other.of_form), (6, 0, 6));
    // A covering was not pressed, and no dent tells of it.
    assert!(e.skins[index_of(&d, "cover_polyester_90")].known(Form::Covering).is_none());
}

#[test]
fn a_sample_of_another_process_is_of_another_construction() {
    let log = "[[sample]]\nconstruction = \"nose_carbon_pvc\"\nprocess = \"infused\"\n[[sample.press]]\nwith = \"ball\"\nradius_mm = 10.0\nloads_n = [90.0, 95.0]\n";
    let shelf = thistledown::scenario::library::shelf();
    let other = shelf.library.processes.iter().map(|p| p.key.clone()).find(|k| {
        let nose = shelf.constructions.iter().find(|c| c.key == "nose_carbon_pvc").unwrap();
        shelf.library.processes[nose.outer[0].process].key != *k
    });
    let d = with(&log.replace("infused", &other.unwrap()));
    let e = run(&d);
    let nose = e.skins[index_of(&d, "nose_carbon_pvc")].known(Form::Ball).copied().unwrap();
    assert_eq!((nose.specimens, nose.of_form), (0, 2));
}

#[test]
fn pieces_that_weigh_more_make_a_heavier_wing_that_is_known_better() {
    let plain = run(&parse(&mixed(), None).unwrap());
    let log =
        |g: f64| format!("[[sample]]\nconstruction = \"skin_glass_pvc\"\narea_cm2 = 900.0\nmass_g = {g}\npieces = 4\n");
    let predicted = with(&log(80.0)).library.learnt.against[0].predicted * 0.09 * 1e3;
    let (as_said, wet) = (run(&with(&log(predicted))), run(&with(&log(1.15 * predicted))));
    let at = |e: &Evaluation| e.skins[index_of(&parse(&mixed(), None).unwrap(), "skin_glass_pvc")].mass.total();
    assert!((at(&as_said) / at(&plain) - 1.0).abs() < 1e-9);
    assert!(wet.weight.drawn_kg > 1.01 * plain.weight.drawn_kg, "{}", wet.weight.drawn_kg);
    assert!(as_said.weight.sd_kg < plain.weight.sd_kg && as_said.weight.expected_kg < plain.weight.expected_kg);
    // Heavier by what the sample says of that skin, within what the prior holds back, and of others by resin and foam only.
    let d = with(&log(1.15 * predicted));
    let skin = |e: &Evaluation, key: &str| e.skins[index_of(&d, key)].mass.total();
    let (own, web) = (
        skin(&wet, "skin_glass_pvc") / skin(&plain, "skin_glass_pvc"),
        skin(&wet, "nose_carbon_pvc") / skin(&plain, "nose_carbon_pvc"),
    );
    assert!(own > 1.08 && own < 1.15 && web > 1.01 && web < own, "{own} {web}");
    assert_eq!(skin(&wet, "cover_polyester_58"), skin(&plain, "cover_polyester_58"));
}

#[test]
fn the_order_of_the_log_does_not_matter() {
    let text = std::fs::read_to_string(file("marram-samples.toml")).unwrap();
    let at = text.find("[[sample]]").unwrap();
    let mut parts: Vec<&str> = text[at..].split("[[sample]]").filter(|p| !p.is_empty()).collect();
    let a = run(&parse(&text, None).unwrap());
    parts.reverse();
    let each: Vec<String> = parts.iter().map(|p| format!("[[sample]]{p}\n")).collect();
    let turned = format!("{}{}", &text[..at], each.concat());
    let b = run(&parse(&turned, None).unwrap_or_else(|p| panic!("{p:#?}")));
    assert!((a.weight.expected_kg / b.weight.expected_kg - 1.0).abs() < 1e-9);
    assert!((a.durability.repair_h / b.durability.repair_h - 1.0).abs() < 1e-9);
}

#[test]
fn a_ball_outside_the_fitted_sizes_is_used_and_marked() {
    let d = load(&file("marram-samples.toml")).unwrap().design;
    let far: Vec<_> = d.library.learnt.against.iter().filter(|a| !a.fitted).collect();
    assert!(far.iter().any(|a| a.what.contains("ball of 2.0 mm")), "{far:?}");
    let e = run(&d);
    let text = thistledown::report::samples::text(&d);
    assert!(text.contains(" !\n") && text.contains("extrapolated"), "{text}");
    let json = thistledown::report::json::evaluation(&d, &e)["samples"].clone();
    assert!(json["predicted_against_measured"].as_array().unwrap().iter().any(|a| a["extrapolated"] == true));
    // Sixteen loads to dents: the share is given.
    assert_eq!(json["dents"]["loads"], 16);
    assert!(
        thistledown::physics::durability::index::calibration(&d.library.learnt).starts_with("calibrated by 16 loads")
    );
}

#[test]
fn faults_of_a_log_are_told_with_place_and_next_step() {
    let press = "[[sample.press]]\nwith = \"ball\"\nradius_mm = 10.0\nloads_n = [80.0]\n";
    let nose = "[[sample]]\nconstruction = \"nose_carbon_pvc\"\n";
    let cover = "[[sample]]\nconstruction = \"cover_polyester_90\"\n";
    let cases: [(String, &str); 14] = [
        (
            format!("[[sample]]\nconstruction = \"nose_carbon_pcv\"\n{press}"),
            "the nearest valid name is \"nose_carbon_pvc\"",
        ),
        (format!("[[sample]]\n{press}"), "sample[1].construction is missing"),
        (nose.to_owned(), "was neither weighed nor pressed"),
        (format!("{nose}area_cm2 = 100.0\n"), "an area but no mass"),
        (format!("{nose}mass_g = 10.0\n"), "a mass but no area"),
        (format!("{nose}area_cm2 = 100.0\nmass_g = 10000.0\n"), "would weigh 1000000 g/m2"),
        (format!("{nose}date = \"14.2.2026\"\n{press}"), "write year-month-day"),
        (format!("{nose}date = \"2026-13-01\"\n{press}"), "write year-month-day"),
        (format!("{nose}{}", press.replace("ball", "bal")), "the nearest valid name is \"ball\""),
        (format!("{nose}{}", press.replace("with = \"ball\"\n", "")), "does not say with what"),
        (format!("{nose}{}", press.replace("[80.0]", "[]")), "loads_n has no load"),
        (format!("{nose}{}", press.replace("80.0", "-80.0")), "it must lie between 0.1 and 20000"),
        (format!("{nose}{}", press.replace("ball", "plunger")), "a plunger is for coverings"),
        (format!("{cover}{press}to = \"mark\"\n"), "a covering keeps no mark"),
    ];
    for (log, words) in cases {
        let problems = parse(&format!("{}\n{log}", mixed()), Some(Path::new("log.toml"))).expect_err(&log);
        assert_eq!(problems.len(), 1, "{log}: {problems:#?}");
        let said = problems[0].to_string();
        assert!(said.contains(words) && said.starts_with("log.toml:"), "{log}: {said}");
        assert!(!problems[0].next.is_empty());
    }
}

#[test]
fn all_faults_of_a_log_come_at_once() {
    let log = "[[sample]]\nconstruction = \"nose\"\nmass_g = 1.0\ncolour = \"red\"\n[[sample.press]]\nwith = \"foot\"\nradius_mm = 900.0\nloads_n = [\"a\"]\n";
    let problems = parse(&format!("{}\n{log}", mixed()), None).unwrap_err();
    assert_eq!(problems.len(), 6, "{problems:#?}");
}

#[test]
fn a_sample_stays_with_the_stack_it_was_made_of() {
    let s = load(&file("marram-samples.toml")).unwrap();
    let mut d = s.design.clone();
    let core = dials(&d)
        .into_iter()
        .find(|x| x.label.to_lowercase().contains("core") && x.key.contains("nose_carbon_pvc"))
        .unwrap();
    let now = core.value(&d);
    core.set(&mut d, now + 2.0);
    // The changed stack has no sample of its own any more.
    let known = |d: &Design| run(d).skins[index_of(d, "nose_carbon_pvc")].known(Form::Ball).copied().unwrap();
    assert!(known(&s.design).specimens == 5 && known(&d).specimens == 0);
    let text = written(&s, &d).unwrap();
    assert!(text.contains("construction = \"nose_carbon_pvc_sample_1\""), "{text}");
    let again = parse(&text, None).unwrap_or_else(|p| panic!("{p:#?}"));
    let (before, after) = (run(&d), run(&again));
    assert_eq!(before.durability.repair_h.to_bits(), after.durability.repair_h.to_bits());
    assert_eq!(before.weight.drawn_kg.to_bits(), after.weight.drawn_kg.to_bits());
}

#[test]
fn a_record_is_added_to_a_file_and_a_wrong_one_is_not() {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("wing.toml");
    std::fs::write(&path, mixed()).unwrap();
    let new = NewSample {
        construction: "nose_carbon_pvc".to_owned(),
        presses: vec![NewPress {
            with: Some("ball".to_owned()),
            radius_mm: Some(10.0),
            loads_n: vec![80.0, 85.0],
            ..NewPress::default()
        }],
        date: Some("2026-05-01".to_owned()),
        ..NewSample::default()
    };
    add(&path, &new).unwrap();
    add(&path, &new).unwrap();
    let text = std::fs::read_to_string(&path).unwrap();
    assert!(text.starts_with(&mixed()) || text.contains("# tip chord over root chord"), "remarks are kept");
    let d = load(&path).unwrap().design;
    assert_eq!((d.samples.len(), d.samples[1].presses[0].loads_n.clone()), (2, vec![80.0, 85.0]));
    let wrong = NewSample { construction: "nose_carbon_pcv".to_owned(), ..new };
    let said = add(&path, &wrong).unwrap_err();
    assert!(said[0].to_string().contains("nose_carbon_pvc"), "{said:#?}");
    assert_eq!(std::fs::read_to_string(&path).unwrap(), text);
}

#[test]
fn the_next_sample_is_one_that_narrows_most() {
    let d = parse(&mixed(), None).unwrap();
    let e = run(&d);
    let rank = thistledown::physics::samples::next::rank(&d, &e);
    let skins: Vec<&str> = rank.iter().map(|n| d.constructions[n.construction].key.as_str()).collect();
    assert_eq!(rank.len(), 4, "{skins:?}");
    let all = e.durability.rests_on.iter().map(|(_, s)| s * s).sum::<f64>().sqrt();
    for n in &rank {
        // Without samples the spread is that of the index itself, and one more panel never widens anything.
        assert!((n.ln_hours[0] / all - 1.0).abs() < 1e-9 && n.ln_hours[1] <= n.ln_hours[0], "{n:?} {all}");
        assert!(
            (n.weight_sd_kg[0] / e.weight.sd_kg - 1.0).abs() < 1e-9 && n.weight_sd_kg[1] <= n.weight_sd_kg[0],
            "{n:?}"
        );
        assert!(n.hours > 1.0);
    }
    assert!(rank.windows(2).all(|w| w[0].band_per_hour() >= w[1].band_per_hour()));
    // What it promises is what five loads as predicted bring.
    let nose = rank.iter().find(|n| d.constructions[n.construction].key == "nose_carbon_pvc").unwrap();
    let after = run(&pressed(1.0, 5));
    let then = after.durability.rests_on.iter().map(|(_, s)| s * s).sum::<f64>().sqrt();
    assert!((nose.ln_hours[1] / then - 1.0).abs() < 0.1, "promised {}, came to {then}", nose.ln_hours[1]);
}

#[test]
fn a_sample_that_is_typed_stands_in_the_wing_then_in_the_file_and_is_taken_back() {
    use thistledown::scenario::{sample_line, samples::logged};
    let mut s = thistledown::scenario::demo().unwrap();
    let line = sample_line::read("nose_carbon_pvc 400 cm2 34.5 g 2 pieces ball 10 mm 88 76 95 # batch two").unwrap();
    let first = logged(&s, &s.design, &line).unwrap();
    let read = &first.samples[0];
    let weighed = read.weighed.unwrap();
    assert!((weighed.areal_kg_m2() - 34.5 / 400.0 * 10.0).abs() < 1e-12 && weighed.pieces == 2, "g on cm2");
    assert_eq!((read.presses[0].loads_n.as_slice(), read.note.as_str()), (&[88.0, 76.0, 95.0][..], "batch two"));
    assert_eq!(
        first,
        with(
            "[[sample]]\nconstruction = \"nose_carbon_pvc\"\narea_cm2 = 400\nmass_g = 34.5\npieces = 2\nnote = \"batch two\"\n\
         [[sample.press]]\nwith = \"ball\"\nradius_mm = 10\nto = \"mark\"\nloads_n = [88, 76, 95]\n"
        )
    );
    // A dial turned meanwhile stays turned, and both are read back from what is saved.
    let mut turned = first.clone();
    let all = dials(&turned);
    let dial = all.iter().find(|d| d.key == "planform.span_m").unwrap();
    let span = dial.value(&turned) + 0.5;
    dial.set(&mut turned, span);
    let second = logged(&s, &turned, &sample_line::read("nose_carbon_pvc pad 8 mm 60 71").unwrap()).unwrap();
    assert_eq!((second.samples.len(), dial.value(&second)), (2, span));
    let text = written(&s, &second).unwrap();
    assert_eq!(parse(&text, None).unwrap(), second);
    // Saved with both; then the second is taken back and another typed in its place.
    (s.text, s.design) = (text, second);
    assert_eq!(parse(&written(&s, &turned).unwrap(), None).unwrap(), turned);
    let third = logged(&s, &turned, &sample_line::read("nose_carbon_pvc pad 8 mm 60 72").unwrap()).unwrap();
    assert_eq!((third.samples.len(), third.samples[1].presses[0].loads_n[1]), (2, 72.0));
    assert_eq!(parse(&written(&s, &third).unwrap(), None).unwrap(), third);
    // None left: the text is as it was but for the dial.
    let none = thistledown::scenario::demo().unwrap().design;
    assert_eq!(written(&s, &none).unwrap(), thistledown::scenario::demo().unwrap().text);
}

#[test]
fn a_record_is_written_back_as_it_was_read() {
    use thistledown::scenario::samples::logged;
    let s = thistledown::scenario::demo().unwrap();
    let d = with(
        "[[sample]]\nconstruction = \"nose_carbon_pvc\"\nmade = \"on the bench\"\ndate = \"2026-05-01\"\narea_cm2 = 412.3\n\
         mass_g = 33.37\nfinished = true\n[[sample.press]]\nwith = \"ball\"\nradius_mm = 12.7\nto = \"hole\"\nat_c = 31\nloads_n = [150.5]\n\
         [[sample.press]]\nwith = \"pad\"\nradius_mm = 9\nloads_n = [70]\n",
    );
    // The demo has no log: all of this one is new to its text.
    assert_eq!(parse(&written(&s, &d).unwrap(), None).unwrap(), d);
    // What makes no sense is told and changes nothing.
    let why =
        logged(&s, &d, &NewSample { construction: "aft_covering".to_owned(), ..NewSample::default() }).unwrap_err();
    assert!(!why.is_empty());
}

#[test]
fn a_sample_is_typed_on_its_page() {
    use crate::screens::{keys, marram, press, text};
    use crossterm::event::KeyCode;
    for (w, h) in [(80, 24), (120, 40), (200, 60)] {
        let mut app = marram(w, h);
        keys(&mut app, "9=");
        assert!(text(&app).contains("sample: "), "{}", text(&app));
        (0..80).for_each(|_| {
            press(&mut app, KeyCode::Backspace);
        });
        keys(&mut app, "carbon");
        assert!(text(&app).contains("nose_carbon_pvc"), "names are offered:\n{}", text(&app));
        (0..6).for_each(|_| {
            press(&mut app, KeyCode::Backspace);
        });
        keys(&mut app, "nose_carbon_pvc 400 cm2 34,5 g");
        press(&mut app, KeyCode::Enter);
        // Why it cannot be read is said, and the field opens with it again.
        assert!(text(&app).contains("can be read in two ways"), "{}", text(&app));
        keys(&mut app, "=");
        assert!(text(&app).contains("34,5 g"), "{}", text(&app));
        (0..4).for_each(|_| {
            press(&mut app, KeyCode::Backspace);
        });
        keys(&mut app, ".5 g ball 10 mm 88 76 95");
        let before = app.design.clone();
        press(&mut app, KeyCode::Enter);
        assert!(app.overlay.is_none() && app.unsaved, "{}", text(&app));
        assert_eq!(app.design.library.learnt.against.len(), 2, "a weighing and a press");
        assert!(text(&app).contains("nose_carbon_pvc") && text(&app).contains("sample 1"), "{}", text(&app));
        keys(&mut app, "u");
        assert_eq!(app.design, before);
    }
}
