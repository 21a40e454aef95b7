//! Every number of a scenario is a dial, or stands in the list of exceptions with its reason.

use std::path::Path;

use thistledown::scenario::dials::dials;
use thistledown::scenario::in_file::is_in_file;
use thistledown::scenario::parse;
use toml_edit::{DocumentMut, Item, Value};

/// Numbers that are no dials: a path (`*` is any one word) and why.
const EXCEPTIONS: &[(&str, &str)] = &[
    ("format", "the version of the file"),
    ("section.*.at", "where a section stands is part of naming it"),
    ("section.*.cl_max", "measured with the section"),
    ("section.*.cl_min", "measured with the section"),
    ("layout.control.*.*", "a control is laid out in the file"),
    ("layout.joint.*.at", "where the wing comes apart is laid out in the file"),
    ("layout.joint.*.rear_pin_planes", "one or two: how the fitting is made stands in the file"),
    ("layout.divide_*", "dividing the aft skin makes strips: laid out in the file"),
    ("ribs.kind.*.*", "a kind of rib is described in the file"),
    ("ribs.region.*.from", "regions meet: both ends move together in the file"),
    ("ribs.region.*.to", "regions meet: both ends move together in the file"),
    ("spar.bond_width_mm", "a detail of the joint"),
    ("spar.*.layers.most", "a ceiling on the sizing"),
    ("spar.*.backing.*", "described in the file"),
    ("spar.cap.*.*", "what a cap may be made of, described in the file"),
    ("spar.cap.*.*.*", "what a cap may be made of, described in the file"),
    ("spar.lower_cap.layers.least", "turns with the upper cap's"),
    ("spar.posts.*.*", "described in the file"),
    ("spar.web.*.*", "the lay-out of the web"),
    ("spar.web.*.*.*.*", "the lay-out of the web"),
    ("skins.*.*.to", "the last run ends at the tip"),
    ("patch.*.*", "described in the file"),
    ("patch.*.*.*.*", "described in the file"),
    ("aboard.mass.*.*", "a thing aboard, described in the file"),
    ("aboard.pilot_drag_m2.*", "three numbers, low, likely, high"),
    ("aboard.rigging_drag_m2", "measured or looked up once"),
    ("service.hot_core_share", "from a data sheet"),
    ("care.event.*.share.*", "shares of an event sum to 1: they move together in the file"),
    ("care.protection.*.mass_*", "described in the file"),
    ("care.protection.*.*.*.*", "described in the file"),
    ("targets.stall_*", "a limit judged against, not an input of the wing"),
    ("targets.tip_deflection_frac", "a limit judged against, not an input of the wing"),
    ("targets.twist_deg", "a limit judged against, not an input of the wing"),
    ("targets.budget_percentile", "how a person judges, set once"),
    ("targets.largest_piece_*", "a limit judged against, not an input of the wing"),
    ("targets.heaviest_piece_*", "a limit judged against, not an input of the wing"),
    ("targets.set_up_minutes", "a limit judged against, not an input of the wing"),
    ("rates.*", "prices and times, described in the file"),
    ("rates.*.*", "prices and times, described in the file"),
    ("workshop.wood_sheet_*", "described in the file"),
    ("workshop.core_trim_*", "described in the file"),
    ("workshop.turn_*", "described in the file"),
    ("workshop.scarf_ratio", "described in the file"),
    ("workshop.pot_life_min", "off the data sheet of the resin, described in the file"),
    ("workshop.wet_out_min_m2", "how fast a person works, described in the file"),
    ("workshop.glue_loss", "described in the file"),
    ("workshop.stock.*.*", "the size one material comes in, described in the file"),
    ("sample.*.*", "a record of what was weighed"),
    ("sample.*.*.*.*", "a record of what was pressed"),
    ("sample.*.*.*.*.*", "a record of what was pressed"),
    ("weighed.*.*", "a record of what was weighed"),
    ("proof.*.*", "a record of what was seen"),
    ("search.*", "a rule of the search"),
    ("seams.*", "described in the file"),
    ("seams.*.*", "described in the file"),
    ("materials.*.*.*", "a material or construction is described in the file; those in use have dials inside"),
    ("materials.*.*.*.*", "a material or construction is described in the file; those in use have dials inside"),
    ("materials.*.*.*.*.*", "a material or construction is described in the file; those in use have dials inside"),
];

/// What the program says of a key that is no dial: a number excepted here, or the table it stands in, is known to it as standing in
/// the file, so the person is sent there and not to some dial of a like name.
#[test]
fn the_program_knows_every_exception_as_standing_in_the_file() {
    for (pattern, why) in EXCEPTIONS {
        // Any one word in place of each star: the number itself, or the value it stands in.
        let key = pattern.replace('*', "1");
        let words: Vec<&str> = key.split('.').collect();
        let known = (1..=words.len()).any(|n| is_in_file(&words[..n].join(".")));
        assert!(known, "{pattern} ({why}) is no dial, and `scenario/in_file.rs` does not know it");
    }
    for dial in ["planform.span_m", "care.use", "spar.upper_cap.layers.least", "skins.aft_upper.1", "planform.spam_m"] {
        assert!(!is_in_file(dial), "{dial}");
    }
}

fn leaves_of_value(v: &Value, path: &str, out: &mut Vec<String>) {
    match v {
        Value::Integer(_) | Value::Float(_) => out.push(path.to_owned()),
        Value::Array(a) => a.iter().enumerate().for_each(|(i, x)| leaves_of_value(x, &format!("{path}.{i}"), out)),
        Value::InlineTable(t) => t.iter().for_each(|(k, x)| leaves_of_value(x, &format!("{path}.{k}"), out)),
        _ => {}
    }
}

fn leaves(item: &Item, path: &str, out: &mut Vec<String>) {
    let under = |key: &str| if path.is_empty() { key.to_owned() } else { format!("{path}.{key}") };
    match item {
        Item::Value(v) => leaves_of_value(v, path, out),
        Item::Table(t) => t.iter().for_each(|(k, x)| leaves(x, &under(k), out)),
        Item::ArrayOfTables(a) => a.iter().enumerate().for_each(|(i, t)| {
            t.iter().for_each(|(k, x)| leaves(x, &format!("{path}.{i}.{k}"), out));
        }),
        Item::None => {}
    }
}

fn slot<'d>(doc: &'d mut DocumentMut, path: &str) -> &'d mut Value {
    let mut words = path.split('.');
    let mut item: &mut Item = doc.get_mut(words.next().unwrap()).unwrap();
    let rest: Vec<&str> = words.collect();
    let mut at = 0;
    // Tables and lists of tables first, then whatever stands inside a value.
    while at < rest.len() && !item.is_value() {
        item = if let (Ok(i), true) = (rest[at].parse::<usize>(), item.is_array_of_tables()) {
            at += 1;
            &mut item.as_array_of_tables_mut().unwrap().get_mut(i).unwrap()[rest[at]]
        } else {
            &mut item[rest[at]]
        };
        at += 1;
    }
    let mut v = item.as_value_mut().unwrap();
    for word in &rest[at..] {
        v = match v {
            Value::Array(a) => a.get_mut(word.parse().unwrap()).unwrap(),
            Value::InlineTable(t) => t.get_mut(word).unwrap(),
            _ => unreachable!("{path}"),
        };
    }
    v
}

fn excepted(path: &str) -> Option<usize> {
    let words: Vec<&str> = path.split('.').collect();
    EXCEPTIONS.iter().position(|(pattern, _)| {
        let p: Vec<&str> = pattern.split('.').collect();
        p.len() == words.len()
            && p.iter().zip(&words).all(|(p, w)| p.strip_suffix('*').map_or(p == w, |stem| w.starts_with(stem)))
    })
}

/// Does a changed number move any dial? None when no change of it is read without a fault.
fn moves_a_dial(text: &str, path: &str) -> Option<bool> {
    let before = parse(text, None).unwrap();
    let values: Vec<f64> = dials(&before).iter().map(|d| d.value(&before)).collect();
    for change in [1.2, 0.8, 1.5, 0.5] {
        let mut doc: DocumentMut = text.parse().unwrap();
        let v = slot(&mut doc, path);
        *v = match v {
            Value::Integer(i) => Value::from(*i.value() + if change > 1.0 { 1 } else { -1 }),
            Value::Float(f) => Value::from(if *f.value() == 0.0 { 0.1 * change } else { *f.value() * change }),
            _ => unreachable!(),
        };
        if let Ok(after) = parse(&doc.to_string(), None) {
            let now: Vec<f64> = dials(&after).iter().map(|d| d.value(&after)).collect();
            return Some(now != values);
        }
    }
    None
}

#[test]
fn every_number_is_a_dial_or_a_named_exception() {
    let dir = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios");
    let (mut wrong, mut used, mut turned) = (Vec::new(), vec![false; EXCEPTIONS.len()], 0);
    for entry in std::fs::read_dir(dir).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_none_or(|e| e != "toml") {
            continue;
        }
        let text = std::fs::read_to_string(&path).unwrap();
        if text.contains("coordinates =") {
            continue; // read beside its own file
        }
        let mut all = Vec::new();
        leaves(text.parse::<DocumentMut>().unwrap().as_item(), "", &mut all);
        for leaf in all {
            if let Some(i) = excepted(&leaf) {
                used[i] = true;
                if leaf.starts_with("skins.") && moves_a_dial(&text, &leaf) == Some(true) {
                    turned += 1;
                }
            } else if moves_a_dial(&text, &leaf) == Some(true) {
                turned += 1;
            } else {
                wrong.push(format!("{}: {leaf}", path.file_name().unwrap().display()));
            }
        }
    }
    assert!(wrong.is_empty(), "neither dial nor exception: {wrong:#?}");
    let idle: Vec<&str> = EXCEPTIONS.iter().zip(&used).filter(|(_, u)| !**u).map(|(e, _)| e.0).collect();
    println!("{turned} numbers are dials; exceptions no scenario needs: {idle:?}");
    assert!(turned > 200);
}
