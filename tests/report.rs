//! The page for a reviewer: well formed by another's parser, its numbers those of the JSON, its drawings within their frames,
//! and nothing a file says taken for markup.
#![expect(clippy::unwrap_used, clippy::panic, reason = "helpers of tests may fail as tests do")]

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use roxmltree::{Document, Node, ParsingOptions};
use serde_json::Value;
use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::evaluation::evaluate;
use thistledown::physics::workshop::{cuts, forecast, part_sheets, win_back};
use thistledown::report::compare::{self, Side};
use thistledown::report::page::{Wing, page};
use thistledown::report::{
    NOT_ASSESSED_SHORT, cut_list, holds, json, mixing, part_sheets as sheets_of_parts, seen, weigh_in,
};
use thistledown::scenario;
use thistledown::scenario::dials::{Group, dials};

fn side(text: &str) -> Side {
    let design = scenario::parse(text, None).unwrap_or_else(|p| panic!("{p:?}"));
    let evaluation = evaluate(&design, &Assumptions::default());
    Side { name: design.name.clone(), design, evaluation }
}

fn shipped() -> Vec<(String, String)> {
    let mut all: Vec<(String, String)> = std::fs::read_dir("scenarios")
        .unwrap()
        .map(|f| f.unwrap().path())
        .map(|p| (p.file_name().unwrap().to_string_lossy().into_owned(), std::fs::read_to_string(&p).unwrap()))
        .collect();
    all.sort();
    all
}

fn one(text: &str) -> (Side, String) {
    let side = side(text);
    let out = page(&[Wing::of(&side, "wing.toml", text, &[])], None);
    (side, out)
}

/// As another program reads it: through text.
fn read(v: &Value) -> Value {
    serde_json::from_str(&v.to_string()).unwrap()
}

fn documents(side: &Side) -> BTreeMap<&'static str, Value> {
    let (d, e) = (&side.design, &side.evaluation);
    let list = cuts::of(d, e);
    let parts = part_sheets::of(d, e, &list, &forecast::of(d, e));
    let mut out = BTreeMap::from([
        ("", read(&json::evaluation(d, e))),
        ("holds", read(&holds::json(d, e))),
        ("stock", read(&cut_list::stock_json(d, &list))),
        ("resin", read(&mixing::json(d, &list))),
        ("parts", read(&sheets_of_parts::json(d, &parts.iter().collect::<Vec<_>>()))),
    ]);
    if !d.weighed.is_empty() {
        out.insert("scales", read(&weigh_in::json(d, &forecast::of(d, e), &win_back::of(d, e))));
    }
    if !d.proofs.is_empty() {
        out.insert("seen", read(&seen::json(d, e)));
    }
    out
}

fn parsed(text: &str) -> Document<'_> {
    Document::parse_with_options(text, ParsingOptions { allow_dtd: true, ..ParsingOptions::default() })
        .unwrap_or_else(|e| panic!("{e}"))
}

fn words(n: Node) -> String {
    n.descendants().filter_map(|d| d.text().filter(|_| d.is_text())).collect()
}

/// A printed number is the one it stands for, to the last digit printed.
fn agrees(printed: &str, is: f64) -> bool {
    let Ok(shown) = printed.parse::<f64>() else { return false };
    let (mantissa, power) = printed.split_once('e').unwrap_or((printed, "0"));
    let digits = mantissa.split_once('.').map_or(0, |m| m.1.len());
    let last = 10_f64.powi(power.parse::<i32>().unwrap() - i32::try_from(digits).unwrap());
    (shown - is).abs() <= 0.5 * last * (1.0 + 1e-6) + 1e-9 * is.abs()
}

/// Every number and word that says where it stands says what stands there; how many there were.
fn holds_to(doc: &BTreeMap<&str, Value>, within: Node) -> usize {
    let mut told = 0;
    for n in within.descendants().filter(|n| n.has_attribute("data-json")) {
        let (at, of) = (n.attribute("data-json").unwrap(), n.attribute("data-of").unwrap_or(""));
        let times: f64 = n.attribute("data-times").map_or(1.0, |t| t.parse().unwrap());
        let there = doc[of].pointer(at).unwrap_or_else(|| panic!("{of}{at} is not there"));
        let said = words(n);
        match there {
            Value::Number(v) => assert!(agrees(&said, times * v.as_f64().unwrap()), "{at}: {said} for {v} x {times}"),
            Value::String(v) => assert_eq!(&said, v, "{at}"),
            Value::Null => assert_eq!(said, "not shown", "{at}"),
            other => panic!("{at}: {said} for {other}"),
        }
        told += 1;
    }
    told
}

fn list(doc: &Value, at: &str) -> Vec<f64> {
    let (list, field) = at.split_once("/*").unwrap_or((at, ""));
    doc.pointer(list)
        .unwrap()
        .as_array()
        .unwrap()
        .iter()
        .map(|v| v.pointer(field).and_then(Value::as_f64).unwrap())
        .collect()
}

fn points(path: &str) -> Vec<(f64, f64)> {
    let pairs = path.split(['M', 'L', 'Z']).filter(|p| !p.is_empty());
    pairs.map(|p| p.split_once(' ').unwrap()).map(|(x, y)| (x.parse().unwrap(), y.parse().unwrap())).collect()
}

/// Every line of a plot runs through the numbers it names, read back through its own frame.
fn plots_hold_to(doc: &Value, within: Node) -> usize {
    let mut told = 0;
    for n in within.descendants().filter(|n| n.has_attribute("data-frame")) {
        let f: Vec<f64> = n.attribute("data-frame").unwrap().split(' ').map(|v| v.parse().unwrap()).collect();
        let drawn = points(n.attribute("d").unwrap());
        for (axis, of, i) in [("x", 0, 0), ("y", 2, 1)] {
            let at = n.attribute(format!("data-json-{axis}").as_str()).unwrap();
            let times: f64 = n.attribute(format!("data-times-{axis}").as_str()).unwrap().parse().unwrap();
            let there = list(doc, at);
            assert_eq!(there.len(), drawn.len(), "{at}");
            let per = (f[of + 1] - f[of]) / (f[of + 5] - f[of + 4]);
            for (v, p) in there.iter().zip(&drawn) {
                let back = f[of] + ([p.0, p.1][i] - f[of + 4]) * per;
                assert!((back - v * times).abs() <= 0.006 * per.abs() + 1e-9, "{at}: {back} for {}", v * times);
            }
        }
        told += 1;
    }
    told
}

#[test]
fn every_number_on_the_page_of_every_shipped_scenario_is_that_of_the_json() {
    for (file, text) in shipped() {
        let (side, out) = one(&text);
        let (doc, told) = (parsed(&out), documents(&side));
        let root = doc.root_element();
        let (numbers, lines) = (holds_to(&told, root), plots_hold_to(&told[""], root));
        println!("{file}: {} kB, {numbers} numbers and words, {lines} lines of plots", out.len() / 1000);
        assert!(numbers > 2000 && lines > 60, "{file}: {numbers} {lines}");
        // Inputs are those of the dials.
        let all = dials(&side.design);
        let shown: Vec<Node> = root.descendants().filter(|n| n.has_attribute("data-dial")).collect();
        assert_eq!(shown.len(), all.len(), "{file}");
        for n in shown {
            let dial = all.iter().find(|d| n.attribute("data-dial") == Some(&d.key)).unwrap();
            assert_eq!(words(n), dial.shown(&side.design), "{file}: {}", dial.key);
        }
        assert!(!out.contains("NaN") && !out.contains(">inf<"), "{file}");
    }
}

#[test]
fn the_parts_list_sums_the_parts() {
    let (side, _) = one(&shipped().iter().find(|s| s.0 == "marram-mixed.toml").unwrap().1);
    let v = read(&json::evaluation(&side.design, &side.evaluation));
    let parts = v["parts"].as_array().unwrap();
    let rows = v["weight"]["by_name"].as_array().unwrap();
    let heads: Vec<&Value> = rows.iter().filter(|r| r["is_heading"] == true).collect();
    assert!(heads.len() > 8 && rows.len() > heads.len());
    for r in &heads {
        let own = parts.iter().filter(|p| p["heading"] == r["heading"]);
        let sum = |f: &dyn Fn(&Value) -> f64| own.clone().map(f).sum::<f64>();
        let (drawn, grown) = (
            sum(&|p| p["nominal_kg"].as_f64().unwrap()),
            sum(&|p| p["nominal_kg"].as_f64().unwrap() * (1.0 + p["growth"].as_f64().unwrap())),
        );
        assert!((r["as_drawn_kg"].as_f64().unwrap() - drawn).abs() < 1e-9, "{r}");
        assert!((r["expected_kg"].as_f64().unwrap() - grown).abs() < 1e-9, "{r}");
        assert!(r["budget_kg"].as_f64() > r["expected_kg"].as_f64());
    }
    let whole: f64 = heads.iter().map(|r| r["expected_kg"].as_f64().unwrap()).sum();
    assert!((whole - v["scores"]["weight_kg"]["expected"].as_f64().unwrap()).abs() < 1e-9);
}

/// Ids are of one thing, links lead somewhere, nothing is fetched or run, tables are whole, drawings say what they show.
fn is_whole(file: &str, doc: &Document) {
    let root = doc.root_element();
    let mut ids = BTreeSet::new();
    for n in root.descendants().filter(Node::is_element) {
        assert!(
            !["script", "iframe", "object", "embed", "link", "img", "image", "use", "foreignObject"]
                .contains(&n.tag_name().name()),
            "{file}: {n:?}"
        );
        for a in n.attributes() {
            assert!(!a.name().starts_with("on") && a.name() != "src", "{file}: {}", a.name());
            if a.name() == "id" {
                assert!(ids.insert(a.value()), "{file}: id {} stands twice", a.value());
            }
            if a.name() == "href" {
                assert!(a.value().starts_with('#'), "{file}: {}", a.value());
            }
        }
        if n.tag_name().name() == "style" {
            assert!(["url(", "@import", "<", "&"].iter().all(|w| !words(n).contains(w)), "{file}");
        }
    }
    for n in root.descendants() {
        if let Some(to) = n.attribute("href") {
            assert!(ids.contains(&to[1..]), "{file}: {to} leads nowhere");
        }
        for fill in n.attribute("fill").iter().filter_map(|f| f.strip_prefix("url(#")) {
            assert!(ids.contains(fill.trim_end_matches(')')), "{file}: {fill}");
        }
        if n.has_tag_name("table") || n.tag_name().name() == "table" {
            let cells = |r: &Node| {
                r.children()
                    .filter(|c| ["th", "td"].contains(&c.tag_name().name()))
                    .map(|c| c.attribute("colspan").map_or(1, |s| s.parse().unwrap()))
                    .sum::<usize>()
            };
            let rows: Vec<Node> = n.descendants().filter(|r| r.tag_name().name() == "tr").collect();
            assert!(
                rows.iter().all(|r| cells(r) == cells(&rows[0])),
                "{file}: {}",
                words(n).chars().take(80).collect::<String>()
            );
            assert!(n.children().any(|c| c.tag_name().name() == "caption" && !words(c).is_empty()), "{file}");
        }
    }
    for svg in root.descendants().filter(|n| n.tag_name().name() == "svg") {
        let child = |name: &str| svg.children().find(|c| c.tag_name().name() == name).map(words).unwrap_or_default();
        assert!(child("title").len() > 5 && child("desc").len() > 40, "{file}: {:?}", svg.attribute("id"));
        assert!(svg.attribute("aria-labelledby").unwrap().split(' ').all(|id| ids.contains(id)));
        within_its_frame(file, svg);
    }
}

/// Nothing of a drawing lies outside it, no words either.
fn within_its_frame(file: &str, svg: Node) {
    let size: Vec<f64> = svg.attribute("viewBox").unwrap().split(' ').map(|v| v.parse().unwrap()).collect();
    let (wide, high) = (size[2], size[3]);
    let id = svg.attribute("id").unwrap();
    let inside = |x: f64, y: f64, what: &str| {
        assert!(
            (-0.5..=wide + 0.5).contains(&x) && (-0.5..=high + 0.5).contains(&y),
            "{file} {id}: {what} at {x} {y} of {wide} {high}"
        );
    };
    for n in svg.descendants().filter(|n| !n.ancestors().any(|a| a.tag_name().name() == "defs")) {
        let number = |name: &str| n.attribute(name).map_or(0.0, |v| v.parse().unwrap());
        match n.tag_name().name() {
            "path" => points(n.attribute("d").unwrap()).into_iter().for_each(|p| inside(p.0, p.1, "a line")),
            "circle" => inside(number("cx"), number("cy"), "a dot"),
            "rect" => {
                inside(number("x"), number("y"), "paper");
                inside(number("x") + number("width"), number("y") + number("height"), "paper");
            }
            "text" if n.has_attribute("x") => {
                // Half an em a letter is about what a plain face takes.
                let long = 0.5 * number("font-size") * words(n).chars().count() as f64;
                let begin = number("x")
                    - match n.attribute("text-anchor") {
                        Some("middle") => long / 2.0,
                        Some("end") => long,
                        _ => 0.0,
                    };
                inside(begin, number("y") - 0.7 * number("font-size"), &words(n));
                inside(begin + long, number("y"), &words(n));
            }
            _ => {}
        }
    }
}

#[test]
fn the_page_is_whole_in_itself() {
    for (file, text) in shipped() {
        let (_, out) = one(&text);
        is_whole(&file, &parsed(&out));
        assert!(out.starts_with("<!DOCTYPE html>"));
        for part in [
            "no approval to fly",
            NOT_ASSESSED_SHORT,
            "own airworthiness rules; a qualified person",
            "@media print",
            "size:A4",
        ] {
            assert!(out.contains(part), "{file}: {part}");
        }
    }
}

/// The chapter for the workshop gives what is bought and mixed and every part, says where blanks and sheets are, and stays short.
#[test]
fn the_chapter_for_the_workshop_gives_its_tables_and_says_where_the_blanks_are() {
    for file in ["marram-mixed.toml", "marram-samples.toml"] {
        let (side, out) = one(&shipped().iter().find(|s| s.0 == file).unwrap().1);
        let doc = parsed(&out);
        let chapter = doc.descendants().find(|n| n.attribute("id") == Some("w1-building")).unwrap();
        let docs = documents(&side);
        assert!(holds_to(&docs, chapter) > 150);
        let said = words(chapter);
        for part in [
            "--cuts",
            "--csv",
            "--parts",
            "What to buy",
            "Resin by batch",
            "Carbon dust conducts",
            "make skin allergic",
        ] {
            assert!(said.contains(part), "{file}: {part}");
        }
        let rows = |of: &str, list: &str| docs[of][list].as_array().unwrap().len();
        let shown = chapter.descendants().filter(|n| n.tag_name().name() == "tr").count();
        assert!(shown >= rows("stock", "to_buy") + rows("resin", "batches") && shown < 120, "{file}: {shown} rows");
        for m in docs["stock"]["to_buy"].as_array().unwrap() {
            assert!(said.contains(m["material"].as_str().unwrap()), "{m}");
        }
    }
}

#[test]
fn every_source_of_the_json_stands_in_the_list_under_its_key() {
    let (side, out) = one(&shipped().iter().find(|s| s.0 == "marram-samples.toml").unwrap().1);
    let doc = parsed(&out);
    let v = read(&json::evaluation(&side.design, &side.evaluation));
    let listed = |kind: &str, key: &str| {
        let id = format!("w1-src-{kind}-{key}");
        doc.descendants().find(|n| n.attribute("id") == Some(&id)).and_then(|n| n.parent()).map(words)
    };
    let mut told = 0;
    for m in v["margins"].as_array().unwrap().iter().filter(|m| m["margin"].is_number()) {
        let text = listed("mode", m["mode"].as_str().unwrap()).expect("every mode that was computed is cited");
        assert!(text.contains(m["source"].as_str().unwrap()), "{text}");
        told += 1;
    }
    for (list, kind) in [("/durability/events", "event"), ("/loads/cases", "case"), ("/assumptions", "assumption")] {
        for x in v.pointer(list).unwrap().as_array().unwrap() {
            let text = listed(kind, x["key"].as_str().unwrap()).expect("it is cited");
            assert!(text.contains(x["source"].as_str().unwrap()), "{text}");
            told += 1;
        }
    }
    assert!(told > 500, "{told}");
    for layer in v["constructions"]
        .as_array()
        .unwrap()
        .iter()
        .flat_map(|c| c["layers"].as_array().unwrap())
        .flat_map(|l| l["of"].as_array().unwrap())
    {
        assert!(listed(layer["kind"].as_str().unwrap(), layer["key"].as_str().unwrap()).is_some(), "{layer}");
    }
}

#[test]
fn what_is_switched_off_accepted_or_missing_is_said() {
    let mixed = shipped().into_iter().find(|s| s.0 == "marram-mixed.toml").unwrap().1;
    let (_, out) = one(&mixed);
    assert!(out.contains("real wing&#39;s own would be stiffened and tested"), "the reason of what is accepted");
    let without = mixed.replacen("[limits]\nset = \"foot_launched\"\ndive_speed_m_s = 30.0\n", "", 1);
    let (side, out) = one(&without);
    assert!(side.design.limits.is_none());
    let doc = parsed(&out);
    is_whole("no limits", &doc);
    holds_to(&documents(&side), doc.root_element());
    assert!(out.contains("No set of limits chosen: flight cases are not computed, and it is short without them."));
    let off = mixed.replacen(
        "[service]",
        "[[cases_off]]\ncase = \"landing_hang\"\nreason = \"winch <only>\"\n\n[service]",
        1,
    );
    let (side, out) = one(&off);
    assert_eq!(side.evaluation.loads.cases_off, 1);
    assert!(out.contains("winch &lt;only&gt;"));
}

#[test]
fn proof_loads_stand_beside_what_was_computed_or_are_said_to_be_missing() {
    let all = shipped();
    let of = |name: &str| &all.iter().find(|s| s.0 == name).unwrap().1;
    let (side, out) = one(of("marram-samples.toml"));
    let said = words(parsed(&out).root());
    assert!(side.design.proofs.len() > 3);
    for line in side.design.proofs.iter().map(seen::record).chain(seen::FOLLOWS.map(str::to_owned)) {
        assert!(said.contains(&line), "{line}");
    }
    let softer = of("marram-samples.toml").replace("seen_mm = 251.0", "seen_mm = 451.0");
    let (side, out) = one(&softer);
    assert!(words(parsed(&out).root()).contains("softer in bending than computed"), "{:?}", side.design.warnings);
    assert!(one(of("marram-mixed.toml")).1.contains("No proof load is in the log"));
}

#[test]
fn a_stop_weight_of_one_half_says_which() {
    let samples = shipped().into_iter().find(|s| s.0 == "marram-samples.toml").unwrap().1;
    let text = format!("{samples}\n[[weighed]]\nof = \"shear web\"\nhalf = \"left\"\nmass_g = 1100.0\n");
    let (side, out) = one(&text);
    let v = documents(&side).remove("scales").unwrap();
    let parts = v["parts"].as_array().unwrap();
    let i = parts.iter().position(|p| p["half_weighed"] == "left" && p["stop_kg"].is_number()).unwrap();
    let doc = parsed(&out);
    let path = format!("/parts/{i}/stop_kg");
    let n = doc.descendants().find(|n| n.attribute("data-json") == Some(&path)).unwrap();
    assert!(words(n.parent().unwrap()).ends_with(", right half"));
}

#[test]
fn a_hostile_name_is_text() {
    let hostile = "</title></style><script>alert(\\\"x\\\")</script> & &amp; ]]> ' onload=x \\u202Egnp";
    let mut text = shipped().into_iter().find(|s| s.0 == "marram-mixed.toml").unwrap().1;
    for name in [
        "Marram, mixed",
        "aileron",
        "centre joint",
        "keel, tail boom and tail",
        "lift point, lower nose",
        "Invented demo wing: carbon nose, aft skins sandwich inboard and covering outboard.",
    ] {
        assert!(text.contains(&format!("= \"{name}\"")), "{name}");
        text = text.replace(&format!("= \"{name}\""), &format!("= \"{hostile}\""));
    }
    text = text.replacen("invented demo: end ribs are drawn", &format!("{hostile} drawn"), 1).replacen(
        "currency = \"EUR\"",
        "currency = \"<b>\"",
        1,
    );
    let (side, out) = one(&text);
    let doc = parsed(&out);
    is_whole("hostile", &doc);
    let plain = side.design.name.replace('\u{202E}', "\u{FFFD}");
    assert!(plain.contains("<script>alert(\"x\")"));
    let at = |name: &str| doc.descendants().find(|n| n.tag_name().name() == name).map(words).unwrap();
    assert_eq!(at("h1"), plain);
    assert_eq!(at("title"), format!("{plain}: design report"));
    assert!(!out.contains("<script") && !out.contains("<b>") && !out.contains('\u{202E}'));
}

#[test]
fn several_wings_stand_side_by_side_and_each_keeps_its_own_numbers() {
    let all = shipped();
    let texts: Vec<&String> = ["marram-sandwich-thin.toml", "marram-fabric-aft.toml"]
        .iter()
        .map(|n| &all.iter().find(|s| s.0 == *n).unwrap().1)
        .collect();
    let sides: Vec<Side> = texts.iter().map(|t| side(t)).collect();
    let wings: Vec<Wing> = sides.iter().zip(&texts).map(|(s, t)| Wing::of(s, "w.toml", t, &[])).collect();
    let compared = compare::json(&sides);
    let out = page(&wings, Some(&compared));
    let doc = parsed(&out);
    is_whole("two", &doc);
    let articles: Vec<Node> = doc.descendants().filter(|n| n.tag_name().name() == "article").collect();
    for (a, s) in articles.iter().zip(&sides) {
        assert!(holds_to(&documents(s), *a) > 2000);
    }
    let head = doc.descendants().find(|n| n.tag_name().name() == "header").unwrap();
    assert!(holds_to(&BTreeMap::from([("compare", read(&compared))]), head) > 50);
    let said = words(head);
    for (label, cells) in compare::scores(&sides) {
        assert!(said.contains(&label) && cells.iter().all(|c| said.contains(c)), "{label} {cells:?}");
    }
    assert_eq!((articles.len(), said.matches("too close to call").count() > 0), (2, true));
}

mod by_command {
    use super::{Path, parsed};
    use crate::program::run;
    use std::process::Output;

    fn said(o: &Output) -> String {
        String::from_utf8_lossy(&o.stderr).into_owned() + &String::from_utf8_lossy(&o.stdout)
    }

    #[test]
    fn it_writes_one_page_and_never_over_another_unasked() {
        let dir = tempfile::tempdir().unwrap();
        let out = dir.path().join("wing.html");
        let out = out.to_str().unwrap();
        let report = |more: &[&str]| run(&[&["report", "scenarios/marram-mixed.toml", "-o", out][..], more].concat());
        let o = report(&[]);
        assert_eq!(o.status.code(), Some(0), "{}", said(&o));
        let first = std::fs::read(out).unwrap();
        parsed(std::str::from_utf8(&first).unwrap());
        let again = report(&[]);
        assert_eq!(again.status.code(), Some(2));
        assert!(
            said(&again).contains("--overwrite") && said(&again).contains("nothing was written"),
            "{}",
            said(&again)
        );
        assert_eq!(report(&["--overwrite"]).status.code(), Some(0));
        assert_eq!(std::fs::read(out).unwrap(), first, "the same scenario gives the same page");
        assert_eq!(run(&["report", "scenarios/marram-mixed.toml", "-o", "-"]).stdout, first);
        let turned = report(&["--overwrite", "--set", "planform.span_m=13.0"]);
        assert_eq!(turned.status.code(), Some(0));
        let second = std::fs::read_to_string(out).unwrap();
        assert!(
            second.contains("then changed by planform.span_m=13.0"),
            "whoever reads it is told it is not the file's wing"
        );
        assert!(!String::from_utf8_lossy(&first).contains("then changed by"));
        assert_eq!(std::fs::read_dir(dir.path()).unwrap().count(), 1, "nothing else is left behind");
    }

    #[test]
    fn what_cannot_be_done_is_said_in_plain_words() {
        let o = run(&["report", "scenarios/marram-mixd.toml", "-o", "-"]);
        assert_eq!(o.status.code(), Some(3));
        assert!(said(&o).contains("marram-mixed.toml"), "{}", said(&o));
        let dir = tempfile::tempdir().unwrap();
        let scenario = dir.path().join("wing.toml");
        std::fs::copy("scenarios/marram-mixed.toml", &scenario).unwrap();
        let scenario = scenario.to_str().unwrap();
        for more in [
            &["-o", scenario, "--overwrite"][..],
            &["-o", dir.path().to_str().unwrap()],
            &["-o", ""],
            #[cfg(unix)]
            &["-o", "/dev/null", "--overwrite"],
            &["--set", "planform.spam_m=13"],
        ] {
            let o = run(&[&["report", scenario][..], more].concat());
            assert_eq!(o.status.code(), Some(2), "{more:?}: {}", said(&o));
        }
        assert_eq!(
            std::fs::read_to_string(scenario).unwrap(),
            std::fs::read_to_string("scenarios/marram-mixed.toml").unwrap()
        );
        let o = run(&["report", scenario, "-o", dir.path().join("none/wing.html").to_str().unwrap()]);
        assert_eq!((o.status.code(), said(&o).contains("folder is not there")), (Some(3), true), "{}", said(&o));
        // Beside the scenario where nothing is named.
        assert_eq!(run(&["report", scenario]).status.code(), Some(0));
        assert!(Path::new(scenario).with_extension("html").exists());
        assert_eq!(run(&["report"]).status.code(), Some(2));
        assert!(said(&run(&["reprot", "x"])).contains("report"));
    }
}

/// Whatever a dial is turned to, the page stays whole and its drawings in their frames.
#[test]
fn every_dial_at_both_its_ends_leaves_the_page_whole() {
    let text = shipped().into_iter().find(|s| s.0 == "can-say-divided-aft.toml").unwrap().1;
    let base = scenario::parse(&text, None).unwrap();
    let drawn = [Group::Planform, Group::Layout, Group::AftSkins, Group::PliesAndCores, Group::Spar];
    let mut wrong = Vec::new();
    for dial in dials(&base).iter().filter(|d| drawn.contains(&d.group)) {
        let (least, most) = dial.range();
        for value in [least, most] {
            let looked = std::panic::catch_unwind(|| {
                let mut design = base.clone();
                dial.set(&mut design, value);
                let evaluation = evaluate(&design, &Assumptions::default());
                let side = Side { name: design.name.clone(), design, evaluation };
                let out = page(&[Wing::of(&side, "wing.toml", &text, &[])], None);
                let doc = parsed(&out);
                is_whole(&dial.key, &doc);
                plots_hold_to(&read(&json::evaluation(&side.design, &side.evaluation)), doc.root_element());
                assert!(!out.contains("NaN") && !out.contains(">inf<"));
            });
            if looked.is_err() {
                wrong.push(format!("{} = {value}", dial.key));
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:?}");
}
