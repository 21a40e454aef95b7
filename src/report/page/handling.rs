//! Where to hold the wing, the log of samples, the weigh-in when there is one, what was seen in proof loads.

use super::Sheet;
use super::html::{FOUR, Row, Show, esc, list, numbers, para, plain_list, strip, table, words};
use crate::physics::workshop::seen::learn;
use crate::report::{samples, seen, weigh_in};

/// All four, as far as there is something to tell.
pub(super) fn html(s: &Sheet) -> String {
    holds(s) + &log(s) + &scales(s) + &seen_in_proof(s)
}

/// The hold sheet: holds, rests, stretches.
fn holds(s: &Sheet) -> String {
    let h = s.holds();
    let none = Show::digits(0);
    let mut out = format!(
        "<p>Lift with a flat palm; one palm bears up to {} N. May be held {} % of the surface, may be pressed with a firm thumb {} %. Never lift by the trailing edge or a control; no \
         ratchet straps; report every knock, seen or not.</p>\n",
        h.num("/palm_n", none),
        h.num("/hold_safe_share", none.times(100.0)),
        h.num("/press_safe_share", none.times(100.0))
    );
    let rows: Vec<Row> = (0..h.len("/holds"))
        .map(|i| {
            let at = |field: &str| format!("/holds/{i}/{field}");
            vec![
                h.word(&at("name")),
                h.num(&at("from_root_m"), none.times(1e3)),
                h.num(&at("asked_n"), none),
                h.num(&at("stands_n"), none),
                h.word(&at("does_first")),
                h.word(&at("word")),
            ]
            .into()
        })
        .collect();
    let columns = [
        words("hold"),
        numbers("mm from the root"),
        numbers("lifting asks, N"),
        numbers("stands, N"),
        words("does first"),
        words("verdict"),
    ];
    out.push_str(&table("Holds", &columns, &rows));
    let rows: Vec<Row> = (0..h.len("/rests"))
        .map(|i| {
            let at = |field: &str| format!("/rests/{i}/{field}");
            let holds = h.value.pointer(&at("holds")).and_then(serde_json::Value::as_bool).unwrap_or(false);
            vec![
                h.word(&at("name")),
                h.num(&at("asked_pa"), none.times(1e-3)),
                h.num(&at("stands_pa"), none.times(1e-3)),
                h.word(&at("does_first")),
                (if holds { "stands it" } else { "DOES NOT STAND IT" }).to_owned(),
            ]
            .into()
        })
        .collect();
    let columns = [
        words("rest"),
        numbers("a rough road asks, kPa"),
        numbers("stands, kPa"),
        words("does first"),
        words("verdict"),
    ];
    out.push_str(&table("Rests", &columns, &rows));
    let rows: Vec<Row> = (0..h.len("/places"))
        .map(|i| {
            let at = |field: &str| format!("/places/{i}/{field}");
            vec![
                strip(h.str(&at("strip"))),
                h.num(&at("from_m"), none.times(1e3)),
                h.num(&at("to_m"), none.times(1e3)),
                h.word(&at("word")),
            ]
            .into()
        })
        .collect();
    let columns = [words("strip"), numbers("from, mm"), numbers("to, mm"), words("hands")];
    out + &table("Where to hold and where not, mm from the root, both halves alike", &columns, &rows)
}

/// The log of samples against what was predicted, what it taught, which to make next.
fn log(s: &Sheet) -> String {
    let (d, a) = (s.design(), s.assess());
    let mut out = "<h3>Samples</h3>\n".to_owned();
    if d.samples.is_empty() {
        out.push_str(&para(
            "No sample is in the log: what skins weigh and stand is predicted, nothing of this wing was measured.",
        ));
    } else {
        let rows: Vec<Row> = (0..a.len("/samples/predicted_against_measured"))
            .map(|i| {
                let at = |field: &str| format!("/samples/predicted_against_measured/{i}/{field}");
                let (times, unit) = if a.str(&at("unit")) == "N" { (1.0, "N") } else { (1e3, "g/m2") };
                let far = a.value.pointer(&at("extrapolated")).and_then(serde_json::Value::as_bool).unwrap_or(false);
                vec![
                    a.word(&at("construction")),
                    a.word(&at("what")) + if far { " !" } else { "" },
                    a.num(&at("predicted"), Show::digits(0).times(times)),
                    a.num(&at("measured"), Show::digits(0).times(times)),
                    unit.to_owned(),
                    a.num(&at("specimens"), Show::digits(0)),
                ]
                .into()
            })
            .collect();
        let columns = [
            words("construction"),
            words("what"),
            numbers("predicted"),
            numbers("measured"),
            words("unit"),
            numbers("specimens"),
        ];
        out.push_str(&table(
            "The log against what was predicted before it; ! outside what the form was fitted for",
            &columns,
            &rows,
        ));
        out.push_str(&para(&format!("Rule: {}.", samples::RULE)));
        out.push_str(&plain_list(&samples::learnt_words(d)));
    }
    out + &next(s)
}

/// Which sample to make next, by what it tells for an hour's work.
fn next(s: &Sheet) -> String {
    let a = s.assess();
    let two = Show::digits(2);
    let rows: Vec<Row> = (0..a.len("/samples/next").min(3))
        .map(|i| {
            let at = |field: &str| format!("/samples/next/{i}/{field}");
            let change = |field: &str| {
                let [now, then] = [0, 1].map(|k| a.num(&at(&format!("{field}/{k}")), two));
                format!("{now} to {then}")
            };
            vec![
                a.word(&at("construction")),
                a.word(&at("pressed_with")),
                a.num(&at("hours"), Show::digits(1)),
                change("sd_of_ln_repair_h"),
                change("weight_sd_kg"),
                a.num(&at("share_of_band_per_hour"), Show::digits(1).times(100.0)),
            ]
            .into()
        })
        .collect();
    let columns = [
        words("construction"),
        words("pressed with"),
        numbers("work, h"),
        numbers("spread of the logarithm of repair hours"),
        numbers("spread of the weight, kg"),
        numbers("of the first, % an hour"),
    ];
    table("Which sample to make next: what it would take off the spreads, the most for an hour first", &columns, &rows)
}

/// What the wing did under proof loads against what was computed for them.
fn seen_in_proof(s: &Sheet) -> String {
    let d = s.design();
    let mut out = "<h3>Proof loads</h3>\n".to_owned();
    let Some(v) = s.seen() else {
        return out + &para("No proof load is in the log: nothing this wing did under load was measured.");
    };
    out.push_str(&plain_list(&d.proofs.iter().map(seen::record).collect::<Vec<_>>()));
    out.push_str(&para("What the records say:"));
    let lessons = learn(&d.proofs);
    out.push_str(&plain_list(&seen::says(&lessons)));
    let rows: Vec<Row> = (0..v.len("/with_and_without"))
        .map(|i| {
            let at = |field: &str| format!("/with_and_without/{i}/{field}");
            let end = |k: usize| v.num_or(&at(&format!("p10_p90/{k}")), FOUR, "-");
            vec![
                v.word(&at("what")),
                v.word(&at("unit")),
                v.num(&at("computed"), FOUR),
                v.num(&at("as_seen"), FOUR),
                end(0),
                end(1),
            ]
            .into()
        })
        .collect();
    let columns =
        [words("what"), words("unit"), numbers("computed"), numbers("as seen"), numbers("P10"), numbers("P90")];
    out.push_str(&table("With and without what was seen; RF is allowable over applied", &columns, &rows));
    out.push_str(&plain_list(&seen::short(d, s.evaluation())));
    let working: Vec<String> = seen::working().into_iter().filter(|l| !l.is_empty()).collect();
    out + &plain_list(&working)
}

/// Parts on the scales.
fn scales(s: &Sheet) -> String {
    let Some(w) = s.scales() else { return String::new() };
    let three = Show::digits(3);
    let kg = |at: &str| w.num(at, Show::digits(2));
    let mut out = "<h3>Weigh-in</h3>\n".to_owned();
    let left = if w.get("/left_kg").is_some() {
        format!("; the target leaves {} kg for them", kg("/left_kg"))
    } else {
        String::new()
    };
    out.push_str(&list(&[
        format!("on the scales {} kg", kg("/made_kg")),
        format!("still to come {} kg, give or take {}{left}", kg("/to_come_kg"), kg("/to_come_sd_kg")),
        format!(
            "promised {} kg (P10 {}, P90 {})",
            kg("/promised_kg/expected"),
            kg("/promised_kg/p10"),
            kg("/promised_kg/p90")
        ),
        format!(
            "forecast {} kg (P10 {}, P90 {})",
            kg("/forecast_kg/expected"),
            kg("/forecast_kg/p10"),
            kg("/forecast_kg/p90")
        ),
    ]));
    let rows: Vec<Row> = (0..w.len("/weighed"))
        .map(|i| {
            let at = |field: &str| format!("/weighed/{i}/{field}");
            let half = if w.str(&at("half")).is_empty() { "both".to_owned() } else { w.word(&at("half")) };
            vec![w.word(&at("of")), half, w.num(&at("kg"), three), w.num(&at("promised_kg"), three)].into()
        })
        .collect();
    let columns = [words("part"), words("half"), numbers("weighed, both halves, kg"), numbers("promised, kg")];
    out.push_str(&table("On the scales", &columns, &rows));
    let rows: Vec<Row> = (0..w.len("/parts"))
        .map(|i| {
            let at = |field: &str| format!("/parts/{i}/{field}");
            let made = w.value.pointer(&at("weighed")).and_then(serde_json::Value::as_bool).unwrap_or(false);
            // Of what is weighed by half the mass is that of the other half.
            let of = match w.str(&at("half_weighed")) {
                "left" => ", right half",
                "right" => ", left half",
                _ => "",
            };
            let stop = if made { "weighed".to_owned() } else { w.num_or(&at("stop_kg"), three, "no target") + of };
            vec![w.word(&at("of")), w.num(&at("promised_kg"), three), w.num(&at("expected_kg"), three), stop].into()
        })
        .collect();
    let columns =
        [words("part, both halves"), numbers("promised, kg"), numbers("expected, kg"), numbers("stop at, kg")];
    out.push_str(&table("Every part against the promise, and the mass it must not pass", &columns, &rows));
    let rows: Vec<Row> = (0..w.len("/win_back"))
        .map(|i| {
            let at = |field: &str| format!("/win_back/{i}/{field}");
            vec![
                w.word(&at("change")),
                w.num(&at("saves_kg"), Show::digits(0).times(1e3)),
                w.num(&at("index"), Show::digits(1).signed()),
                w.word(&at("verdict")),
            ]
            .into()
        })
        .collect();
    let columns = [words("one change at a time"), numbers("saves, g"), numbers("index"), words("verdict then")];
    out.push_str(&table("Where weight can be won back, of what is still to be made", &columns, &rows));
    out + &format!("<p>{}</p>\n", esc(weigh_in::HOW))
}
