//! The program as a person runs it: what it prints and how it exits.

use std::path::PathBuf;
use std::process::Output;

use crate::program::{command, run, words};

#[test]
fn without_a_terminal_it_prints_the_plain_assessment_and_how_to_get_the_screen() {
    let o = run(&[]);
    assert_eq!(o.status.code(), Some(0));
    let text = words(&o.stdout);
    for part in ["Marram, mixed", "as drawn", "no approval to fly", "no terminal is attached"] {
        assert!(text.contains(part), "{part}: {text}");
    }
}

#[test]
fn assess_gives_the_promised_keys() {
    let o = run(&["assess", "scenarios/marram-mixed.toml", "--json"]);
    let v: serde_json::Value = serde_json::from_slice(&o.stdout).unwrap();
    for key in ["format", "scenario", "scores", "parts", "loads", "margins", "durability", "flight", "warnings"] {
        assert!(v.get(key).is_some(), "{key}");
    }
    let scores = &v["scores"];
    for key in [
        "weight_kg",
        "durability_index",
        "least_press_n",
        "verdict",
        "least_margin",
        "stall_m_s",
        "launch",
        "hours",
        "pieces",
        "cost",
    ] {
        assert!(scores.get(key).is_some(), "{key}");
    }
    let parts: f64 = v["parts"].as_array().unwrap().iter().map(|p| p["nominal_kg"].as_f64().unwrap()).sum();
    assert!((parts - scores["weight_kg"]["as_drawn"].as_f64().unwrap()).abs() < 1e-6);
}

#[test]
fn a_turned_dial_changes_the_weight_and_a_wrong_one_is_refused() {
    let drawn = |set: &str| {
        let o = run(&["assess", "--json", "--set", set]);
        let v: serde_json::Value = serde_json::from_slice(&o.stdout).unwrap();
        v["scores"]["weight_kg"]["as_drawn"].as_f64().unwrap()
    };
    assert!(drawn("planform.area_m2=13.5") > drawn("planform.area_m2=12.6"));
    let o = run(&["assess", "--set", "planform.spam_m=13"]);
    assert_eq!(o.status.code(), Some(2));
    assert!(words(&o.stderr).contains("planform.span_m"), "{}", words(&o.stderr));
}

#[test]
fn exit_codes_tell_what_went_wrong() {
    assert_eq!(run(&["asses"]).status.code(), Some(2));
    assert!(words(&run(&["asses"]).stderr).contains("`assess`"));
    assert_eq!(run(&["check", "none.toml"]).status.code(), Some(3));
    assert_eq!(run(&["explain", "web_bukling"]).status.code(), Some(2));
    assert!(words(&run(&["explain", "web_bukling"]).stderr).contains("web_buckling"));
    assert_eq!(run(&["assess", "scenarios/marram-sandwich-tough.toml", "--must-pass"]).status.code(), Some(1));
}

#[test]
fn new_writes_a_sound_scenario_and_never_overwrites() {
    let dir = tempfile::tempdir().unwrap();
    let path: PathBuf = dir.path().join("wing.toml");
    let path = path.to_str().unwrap();
    assert_eq!(run(&["new", path]).status.code(), Some(0));
    assert_eq!(run(&["check", path]).status.code(), Some(0));
    assert_eq!(run(&["new", path]).status.code(), Some(2));
}

#[test]
fn compare_shows_what_differs_and_how_sure_the_order_is() {
    let o = run(&["compare", "scenarios/marram-sandwich-thin.toml", "scenarios/marram-fabric-aft.toml"]);
    let text = words(&o.stdout);
    for part in ["inputs that differ", "durability index", "more durable", "% sure", "Set down on a stone"] {
        assert!(text.contains(part), "{part}: {text}");
    }
}

fn front(args: &[&str], table: &str) -> Output {
    use std::io::Write;
    let mut child = command()
        .arg("front")
        .args(args)
        .stdin(std::process::Stdio::piped())
        .stdout(std::process::Stdio::piped())
        .stderr(std::process::Stdio::piped())
        .spawn()
        .unwrap();
    // A refused argument ends the program before it reads.
    let _ = child.stdin.take().unwrap().write_all(table.as_bytes());
    child.wait_with_output().unwrap()
}

const TWO_BAYS: &str = r#"{"strips":[{"name":"aft","bays":2,"candidates":2,"max_changes":1,"classes":1,"class_of":[0,0],
    "table":[[[9,1,3,5,50],[9,1,3,5,50]],[[4,6,1,1,20],[4,6,1,1,20]]],"splice":[[[[2,0,1]]]]}]}"#;

/// By hand: heavy throughout 18 and 2; one of each 9 + 4 + 2 = 15 and 7; light throughout 8 and 12.
#[test]
fn front_takes_a_table_from_a_file_or_from_standard_input() {
    let o = front(&["--json", "--repair-limit", "7"], TWO_BAYS);
    assert_eq!(o.status.code(), Some(0), "{}", words(&o.stderr));
    let v: serde_json::Value = serde_json::from_slice(&o.stdout).unwrap();
    assert_eq!(v["front"], serde_json::json!([[15, 7], [18, 2]]));
    assert_eq!(v["front_without_limits"], serde_json::json!([[8, 12], [15, 7], [18, 2]]));
    assert_eq!((&v["bound"], &v["status"]), (&serde_json::json!(15), &serde_json::json!("proven")));
    for (key, value) in [("mass", 15), ("repair", 7), ("build", 5), ("cost", 6)] {
        assert_eq!(v["lightest"][key], value, "{key}");
    }
    assert_eq!(v["lightest"]["design"], serde_json::json!([[1, 0]]));
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("table.json");
    std::fs::write(&path, TWO_BAYS).unwrap();
    let file = front(&[path.to_str().unwrap(), "--json", "--repair-limit", "7"], "");
    assert_eq!(words(&file.stdout), words(&o.stdout));
    assert_eq!(words(&front(&["-", "--json", "--repair-limit", "7"], TWO_BAYS).stdout), words(&o.stdout));
}

#[test]
fn front_says_why_there_is_no_design_and_what_is_wrong_with_a_table() {
    let o = front(&["--repair-limit", "1"], TWO_BAYS);
    assert_eq!((o.status.code(), words(&o.stdout).contains("no design keeps to the limits")), (Some(1), true));
    let o = front(&["--dent-floor", "60", "--json"], TWO_BAYS);
    assert_eq!(o.status.code(), Some(1));
    let v: serde_json::Value = serde_json::from_slice(&o.stdout).unwrap();
    assert_eq!(
        v,
        serde_json::json!({"front": [], "front_whole": true, "lightest": null, "bound": null, "status": "infeasible"})
    );
    let text = words(&front(&["--dent-floor", "60"], TWO_BAYS).stdout);
    assert!(text.contains("strip `aft`, bay 1: no construction is allowed there"), "{text}");
    let text = words(&front(&[], &TWO_BAYS.replace("[[9,1,3,5,50],[9,1,3,5,50]]", "[[9,1,3,5,50],null]")).stdout);
    assert!(text.contains("bays 0-1 candidate 1"), "{text}");
    let o = front(&[], &TWO_BAYS.replace("9,1,3", "9,-1,3"));
    assert_eq!((o.status.code(), words(&o.stderr).lines().count()), (Some(2), 2), "{}", words(&o.stderr));
    assert_eq!(front(&["none.json"], "").status.code(), Some(3));
    assert_eq!(front(&["--repair-limit", "-3"], TWO_BAYS).status.code(), Some(2));
}

/// By hand: one of each weighs 15 and builds 5; light throughout builds 2 and costs 2; heavy throughout costs 10.
#[test]
fn front_keeps_to_limits_on_build_and_cost() {
    let lightest = |args: &[&str]| {
        let o = front(&[args, &["--json"]].concat(), TWO_BAYS);
        let v: serde_json::Value = serde_json::from_slice(&o.stdout).unwrap();
        (o.status.code(), v["lightest"]["mass"].clone(), v["status"].clone())
    };
    let proven = serde_json::json!("proven");
    assert_eq!(lightest(&["--build-limit", "2"]), (Some(0), 8.into(), proven.clone()));
    assert_eq!(
        lightest(&["--repair-limit", "7", "--build-limit", "5", "--cost-limit", "6"]),
        (Some(0), 15.into(), proven)
    );
    let none = (Some(1), serde_json::Value::Null, serde_json::json!("infeasible"));
    assert_eq!(lightest(&["--repair-limit", "7", "--cost-limit", "5"]), none);
    let o = front(&["--repair-limit", "7", "--cost-limit", "6"], TWO_BAYS);
    assert!(words(&o.stdout).contains("proven: none within the limits is lighter"), "{}", words(&o.stdout));
}

/// By hand: without a change only light 8, 12 and heavy 18, 2 are left.
#[test]
fn front_keeps_to_rules() {
    for rule in [["--most-changes", "0"], ["--shortest-run", "2"], ["--most-constructions", "1"]] {
        let o = front(&[&rule[..], &["--json"]].concat(), TWO_BAYS);
        let v: serde_json::Value = serde_json::from_slice(&o.stdout).unwrap();
        assert_eq!(v["front"], serde_json::json!([[8, 12], [18, 2]]), "{rule:?}");
    }
    assert_eq!(front(&["--most-constructions", "0"], TWO_BAYS).status.code(), Some(2));
}

#[test]
fn workshop_plans_a_proof_load_and_refuses_what_bags_cannot_do() {
    let o = run(&["workshop"]);
    let t = words(&o.stdout);
    for part in
        ["PROOF LOAD BY BAGS", "no approval to fly", "qualified person", "limit load only", "tip from the empty rig"]
    {
        assert!(t.contains(part), "{part}: {t}");
    }
    assert!(t.lines().all(|l| l.chars().count() <= 80), "{t}");
    let j = run(&["workshop", "--case", "push_va_light", "--bag-kg", "2", "--json"]);
    let v: serde_json::Value = serde_json::from_slice(&j.stdout).unwrap();
    assert_eq!((v["case"].as_str(), v["upside_down"].as_bool()), (Some("push_va_light"), Some(false)));
    let roll = run(&["workshop", "--case", "roll_va_down"]);
    assert_eq!(roll.status.code(), Some(2));
    assert!(words(&roll.stderr).contains("take one of") && words(&roll.stderr).contains("pull_va_heavy"));
    assert_eq!(run(&["workshop", "--bag-kg", "0"]).status.code(), Some(2));
}

#[test]
fn what_is_wrong_is_said_in_plain_words_with_what_to_do() {
    let said = |args: &[&str]| words(&run(args).stderr);
    // A file that is not there, and the nearest that is.
    let t = said(&["check", "scenarios/marram-mixd.toml"]);
    assert!(t.contains("there is no such file") && t.contains("marram-mixed.toml") && !t.contains("os error"), "{t}");
    assert!(said(&["bogus_word"]).contains("nor a command of that name"));
    // --set is not --vary.
    let t = said(&["assess", "--set", "planform.span_m"]);
    assert!(t.contains("KEY=VALUE") && !t.contains("vary"), "{t}");
    // Numbers in plain words, a negative one too.
    for wrong in [["--bag-kg", "heavy"], ["--bag-kg", "-3"], ["--bag-kg", "nan"]] {
        let t = said(&[&["workshop"], &wrong[..]].concat());
        assert!(t.contains("write digits") || t.contains("between 0.1 and 50 kg"), "{t}");
    }
    // Words that stand in a name are found.
    assert!(said(&["explain", "wrinkl"]).contains("`face_wrinkling`"));
    let t = said(&["explain", "dent"]);
    assert!(t.contains("`ball_model`") && !t.contains("`front`"), "{t}");
}

#[test]
fn a_broken_line_of_toml_is_one_fault() {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("wing.toml");
    let text = std::fs::read_to_string("scenarios/marram-mixed.toml").unwrap();
    let web = "web = [{ to = 0.5, use = \"web_carbon\" }, { to = 1.0, use = \"web_glass\" }]";
    // What is written instead, the line that must be named (that of what was opened), and what is said of it.
    for (from, to, said) in [
        ("[planform]", "[planform", "expected `]`"),
        ("span_m = 13.4", "span_m 13.4", "expected `=`"),
        ("span_m = 13.4", "span_m =", "there is no value"),
        ("family = \"4417\"", "family = n4417", "words stand in quotes: \"n4417\""),
        ("name = \"Marram, mixed\"", "name = \"Marram, mixed", "expected `\"`"),
        (
            "name = \"Marram, mixed\"",
            "name = \"\"\"Marram, mixed\"",
            "not closed by the end of the file; expected \"\"\"",
        ),
        (web, &web[..web.len() - 1], "the [ opened here is not closed by line"),
        (web, &format!("{}]", &web[..web.len() - 3]), "the { opened here is not closed by line"),
        (web, "web = [{ to = 0.5, use = \"web_carbon\" }, { to", "the { opened here is not closed by line"),
    ] {
        assert!(text.contains(from), "{from}");
        let line = text[..text.find(from).unwrap()].matches('\n').count() + 1;
        std::fs::write(&path, text.replacen(from, to, 1)).unwrap();
        let o = run(&["check", path.to_str().unwrap()]);
        let told = words(&o.stderr);
        assert_eq!((o.status.code(), told.lines().count()), (Some(2), 1), "{to}: {told}");
        assert!(told.contains(&format!("wing.toml:{line}:")) && told.contains("not valid TOML: "), "{to}: {told}");
        assert!(told.contains(said), "{to}: {told}");
    }
    // Two lines that have nothing to do with each other are two faults.
    std::fs::write(&path, text.replacen("span_m = ", "span_m ", 1).replacen("hinge_chord = ", "hinge_chord ", 1))
        .unwrap();
    assert_eq!(words(&run(&["check", path.to_str().unwrap()]).stderr).lines().count(), 2);
}

#[test]
fn another_search_of_the_same_scenario_needs_no_name_and_goes_on_where_it_was() {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("wing.toml");
    std::fs::copy("scenarios/marram-mixed.toml", &path).unwrap();
    let search = |values: &str| {
        let vary = format!("planform.span_m={values}");
        run(&["search", path.to_str().unwrap(), "--as-drawn", "--vary", &vary])
    };
    assert!(matches!(search("13.2,13.4").status.code(), Some(0 | 1)));
    let second = search("13.0,13.6");
    assert!(matches!(second.status.code(), Some(0 | 1)), "{}", words(&second.stderr));
    assert_eq!(words(&search("13.0,13.6").stdout), words(&second.stdout));
    let runs = std::fs::read_dir(dir.path())
        .unwrap()
        .filter(|e| e.as_ref().unwrap().path().extension().is_some_and(|x| x == "run"));
    assert_eq!(runs.count(), 2, "each search keeps its own run file");
}

#[test]
fn wings_of_one_name_are_compared_by_their_files() {
    let dir = tempfile::tempdir().unwrap();
    let copy = |name: &str| {
        let path = dir.path().join(name);
        std::fs::copy("scenarios/marram-mixed.toml", &path).unwrap();
        path.to_str().unwrap().to_owned()
    };
    let (a, b) = (copy("before.toml"), copy("after.toml"));
    let t = words(&run(&["compare", &a, &b]).stdout);
    assert!(t.contains("before") && t.contains("after"), "{t}");
    // Two wings fit a terminal of 80 columns.
    let o = run(&["compare", "scenarios/marram-mixed.toml", "scenarios/marram-ribs.toml"]);
    let t = words(&o.stdout);
    let scores = t.split("\nscores").nth(1).unwrap();
    assert!(scores.lines().take(20).all(|l| l.chars().count() <= 80), "{scores}");
}

#[test]
fn help_runs_on_to_the_end_of_its_lines() {
    for command in ["new", "check", "assess", "compare", "search", "front", "holds", "samples", "workshop", "explain"] {
        let text = words(&run(&[command, "--help"]).stdout);
        // A broken line in the middle of a paragraph: words that stand alone between two full lines.
        for w in text.lines().collect::<Vec<_>>().windows(3) {
            let alone = w[1].split_whitespace().count() <= 2 && w[1].len() < 30 && !w[1].trim().is_empty();
            let between = w[0].len() > 80 && w[2].len() > 60 && !w[2].starts_with(' ') && !w[1].starts_with(' ');
            assert!(!(alone && between), "{command}: {w:?}");
        }
    }
}

#[test]
fn the_hold_sheet_says_the_same_as_json() {
    let o = run(&["holds", "scenarios/can-say-holds.toml", "--json"]);
    let v: serde_json::Value = serde_json::from_slice(&o.stdout).unwrap();
    let sheet = words(&run(&["holds", "scenarios/can-say-holds.toml"]).stdout);
    let sheet = sheet.split_whitespace().collect::<Vec<_>>().join(" ");
    let holds = v["holds"].as_array().unwrap();
    assert!(!holds.is_empty() && !v["places"].as_array().unwrap().is_empty());
    for h in holds {
        let line = format!("Hold: {}: {}", h["name"].as_str().unwrap(), h["word"].as_str().unwrap());
        assert!(sheet.contains(&line), "{line}\n{sheet}");
    }
    let short = holds.iter().any(|h| !h["may"].as_bool().unwrap());
    assert_eq!(o.status.code(), Some(i32::from(short)));
}

/// Records and fields as RFC 4180 (2005) sets them out, read by its rules here: quotes round what holds commas or quotes, quotes doubled.
fn read_csv(text: &str) -> Vec<Vec<String>> {
    let (mut out, mut row, mut cell, mut quoted) = (Vec::new(), Vec::new(), String::new(), false);
    let mut chars = text.chars().peekable();
    while let Some(c) = chars.next() {
        match c {
            '"' if quoted && chars.peek() == Some(&'"') => cell.extend(chars.next()),
            '"' => quoted = !quoted,
            ',' if !quoted => row.push(std::mem::take(&mut cell)),
            '\n' if !quoted => {
                row.push(std::mem::take(&mut cell));
                out.push(std::mem::take(&mut row));
            }
            c => cell.push(c),
        }
    }
    assert!(row.is_empty() && cell.is_empty() && !quoted, "the last line ends");
    out
}

#[test]
fn tables_for_a_spreadsheet_hold_what_the_json_holds() {
    let file = "scenarios/marram-mixed.toml";
    let v: serde_json::Value = serde_json::from_slice(&run(&["assess", file, "--json"]).stdout).unwrap();
    let csv = |which: &str| read_csv(&words(&run(&["assess", file, "--csv", which]).stdout));
    for (which, place, column) in [
        ("parts", "/parts", "nominal_kg"),
        ("margins", "/margins", "margin"),
        ("zones", "/durability/zones", "press_n"),
        ("events", "/durability/events", "repair_h"),
        ("polar", "/flight/polar", "sink_m_s"),
    ] {
        let table = csv(which);
        let rows = v.pointer(place).unwrap().as_array().unwrap();
        assert!(table.iter().all(|r| r.len() == table[0].len()), "{which}: as many cells on every line");
        assert_eq!(table.len(), rows.len() + 1, "{which}");
        for (line, row) in table[1..].iter().zip(rows) {
            for (name, cell) in table[0].iter().zip(line) {
                match &row[name.as_str()] {
                    serde_json::Value::Null => assert_eq!(cell, ""),
                    serde_json::Value::String(s) => assert_eq!(cell, s),
                    // The reader of JSON may be one unit in the last place off.
                    serde_json::Value::Number(n) => {
                        let (a, b): (f64, f64) = (cell.parse().unwrap(), n.as_f64().unwrap());
                        assert!((a - b).abs() <= 1e-15 * b.abs(), "{which} {name}: {a} {b}");
                    }
                    other => assert_eq!(cell, &other.to_string(), "{which} {name}"),
                }
            }
        }
        assert!(table[0].iter().any(|c| c == column));
    }
    let loads = csv("loads");
    let stations = v["loads"]["stations_m"].as_array().unwrap().len();
    assert_eq!(loads.len(), 1 + stations * v["loads"]["cases"].as_array().unwrap().len());
    let at = loads[0].iter().position(|c| c == "moment_nm").unwrap();
    let root: f64 = loads[1][at].parse().unwrap();
    let same = v["loads"]["cases"][0]["moment_nm"][0].as_f64().unwrap();
    assert!((root - same).abs() <= 1e-12 * same.abs());
    let wrong = run(&["assess", file, "--csv", "part"]);
    assert_eq!(wrong.status.code(), Some(2));
    assert!(words(&wrong.stderr).contains("parts, margins, loads"), "{}", words(&wrong.stderr));
}
