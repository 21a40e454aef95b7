//! What is said beside numbers: formulas add up to what is shown, flags do what they say or are refused with a next step.

use serde_json::Value;
use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::evaluation::evaluate;
use thistledown::physics::warned;
use thistledown::report::json;
use thistledown::scenario;

use crate::program::{run, words};

/// Exit code, standard output, standard error in one line.
fn program(args: &[&str]) -> (Option<i32>, String, String) {
    let o = run(args);
    let said = words(&o.stderr).split_whitespace().collect::<Vec<_>>().join(" ");
    (o.status.code(), words(&o.stdout), said)
}

fn plain_words(t: &str) -> String {
    t.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn read(file: &str, from: &str, to: &str) -> Result<Vec<String>, String> {
    let text = std::fs::read_to_string(file).unwrap();
    assert!(text.contains(from), "{from}");
    match scenario::parse(&text.replacen(from, to, 1), None) {
        Ok(d) => Ok([warned::of(&d), d.warnings].concat()),
        Err(all) => Err(all.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n")),
    }
}

#[test]
fn sink_glide_and_stall_follow_from_the_formulas_and_inputs_shown() {
    let mut trimmed = [0, 0];
    for tailless in [false, true] {
        let mut d = scenario::demo().unwrap().design;
        d.aboard.tailless = tailless;
        if tailless {
            d.aboard.cg_mac = 0.15;
        }
        let e = evaluate(&d, &Assumptions::default());
        let f = &json::evaluation(&d, &e)["flight"];
        trimmed[usize::from(tailless)] += i32::from(f["trimmed"].as_bool().unwrap());
        let of = |symbol: &str| f["working"]["inputs"][symbol]["value"].as_f64().unwrap_or(0.0);
        let near = |got: f64, want: &Value| {
            let want = want.as_f64().unwrap();
            assert!((got / want - 1.0).abs() < 1e-9, "{tailless}: {got} {want}");
        };
        let weight = 2.0 * of("m") * of("g") / (of("rho") * of("S"));
        near((weight / of("CLmax")).sqrt(), &f["stall_m_s"]);
        for at in ["at_least_sink", "at_best_glide"] {
            let t = &f["working"][at];
            let term = |k: &str| t[k].as_f64().unwrap();
            let (v, cl) = (term("speed_m_s"), term("cl"));
            near(weight / (v * v), &t["cl"]);
            let turned = of("d0") + of("d1") * cl;
            let induced = of("k0") * cl * cl
                + of("k1") * cl
                + of("k2")
                + turned * (of("c0") * cl + of("c1"))
                + of("c2") * turned * turned;
            near(induced, &t["cd_induced"]);
            let cd = induced + of("f") * (term("cd_profile") + term("cd_parasite"));
            near(cd, &t["cd"]);
            match at {
                "at_least_sink" => near(v * cd / cl.hypot(cd), &f["least_sink_m_s"]["likely"]),
                _ => near(cl / cd, &f["best_glide"]["likely"]),
            }
        }
    }
    // A wing with a tail is never said to be trimmed.
    assert_eq!(trimmed, [0, 1]);
}

#[test]
fn the_torsion_sheet_tells_plain_torsion_from_what_is_asked() {
    let (code, out, _) = program(&["workshop", "--torsion", "--json"]);
    assert_eq!(code, Some(0));
    let v: Value = serde_json::from_str(&out).unwrap();
    let d = scenario::demo().unwrap().design;
    let e = evaluate(&d, &Assumptions::default());
    let root = &v["bays"][0];
    let case = root["case"].as_str().unwrap();
    let on = e.loads.loads.iter().find(|l| e.loads.cases[l.case].key == case).unwrap();
    let (plain, asked) = (root["plain_torsion_nm"].as_f64().unwrap(), root["asked_nm"].as_f64().unwrap());
    assert!((plain.abs() - on.torque_nm()[0].abs()).abs() < 1e-6 && (asked - plain).abs() > 1.0, "{plain} {asked}");
    let (_, out, _) = program(&["workshop", "--torsion", "--at", "0.5", "--at", "0.501"]);
    let out = plain_words(&out);
    for part in [
        case,
        "the Strength page shows T",
        "stands on the rib nearest to it",
        "both places named are at one rib: one frame",
        "cases: ",
    ] {
        assert!(out.contains(part), "{part}: {out}");
    }
}

#[test]
fn a_section_longer_than_the_half_wing_is_said_to_be_so() {
    for (rig, long) in [("three_point", true), ("cantilever", false)] {
        let (_, out, _) = program(&["workshop", "--section", "--bay", "10", "--rig", rig]);
        let out = plain_words(&out);
        assert_eq!(out.contains("CANNOT BE BUILT LIKE THAT"), long, "{out}");
        assert!(!long || out.contains("--rig cantilever is shorter"), "{out}");
    }
}

#[test]
fn flags_that_do_nothing_are_refused_with_a_next_step() {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("wing.toml");
    std::fs::copy("scenarios/marram-mixed.toml", &path).unwrap();
    let file = path.to_str().unwrap();
    for (args, words) in [
        (&["--parts", "--csv"][..], "--csv does nothing with --parts; leave it out, or say --cuts in place of --parts"),
        (&["--scales", "--csv"], "--csv does nothing with --scales"),
        (&["--csv"], "or say --cuts too"),
        (&["--torsion", "--case", "push_va_light"], "--case does nothing with --torsion; leave it out, or leave"),
        (&["--torsion", "--bay", "2"], "--bay does nothing with --torsion; leave it out, or say --section"),
        (&["--section", "--lines-m", "2"], "--lines-m does nothing with --section; leave it out, or say --torsion"),
        (&["--cuts", "--bag-kg", "7"], "--bag-kg does nothing with --cuts; leave it out, or"),
        (&["--torsion", "--saw", "400"], "--saw 400.0: 400.0 deg cannot be read; expected 0.0045 to 45 deg"),
        (&["--saw", "1e30"], "--saw 1.000e30: 1.000e30 mm cannot be read; expected 0.5 to 5000 mm"),
        (&["--weighed", "skins=-3"], "--weighed `skins` at -3.000 g; give between 0.1 and 200000 g"),
        (&["--case", "push_va_lite"], "the nearest is push_va_light; take one of"),
        (&["--parts", "foo"], "`--parts` alone lists all"),
        (&["--set", "targets.twist_deg=8"], "`targets.twist_deg` is no dial; it stands in the file: edit it there"),
        (&["--set", "skins.nose_steps=x"], "`skins.nose_steps` is no dial"),
        (&["--set", "planform.spam_m=12"], "the nearest is `planform.span_m`"),
    ] {
        let (code, _, said) = program(&[&["workshop", file], args].concat());
        assert!(code == Some(2) && said.contains(words), "{args:?}: {said}");
        assert!(!said.contains("proof[") && !said.contains("weighed["), "{args:?}: {said}");
    }
}

#[test]
fn nose_steps_that_name_none_are_a_fault_and_bays_beside_them_are_told() {
    let file = "scenarios/can-say-nose-steps.toml";
    let steps = "nose_steps = [\"nose_ply_0\", \"nose_ply_1\", \"nose_ply_2\", \"nose_ply_3\"]";
    assert_eq!(read(file, steps, steps).unwrap(), Vec::<String>::new());
    let none = read(file, steps, "nose_steps = []").unwrap_err();
    assert!(none.contains("names none") && none.contains("or leave it out"), "{none}");
    let rest = read(file, steps, "nose_steps = [\"nose_ply_1\", \"nose_ply_2\"]").unwrap();
    assert_eq!(rest.iter().filter(|w| w.contains("nose_ply_0") && w.contains("not sized")).count(), 2, "{rest:?}");
}

#[test]
fn words_without_quotes_are_explained_together() {
    for (words, part) in [
        (&["nose_steps"][..], "counts plies bay by bay"),
        (&["torsion", "test"], "T + V fV/fT"),
        (&["torsion", "plies"], "45 degrees"),
        (&["section"], "only to be broken"),
    ] {
        let (code, out, said) = program(&[&["explain"], words].concat());
        assert!(code == Some(0) && out.contains(part), "{words:?}: {out}{said}");
    }
}

/// Every key of a scenario that an explanation names is one: a dial, or a path of the file.
fn keys_stand(text: &str, dials: &[String]) {
    let yours = text.lines().find_map(|l| l.trim_start().strip_prefix("yours ")).unwrap_or_else(|| panic!("{text}"));
    let words = yours.split([' ', ',', ';', '(', ')']).map(|w| w.replace(".N.", ".1."));
    for key in words.filter(|w| w.contains('.') && w.chars().next().is_some_and(|c| c.is_ascii_lowercase())) {
        assert!(
            dials.contains(&key) || thistledown::scenario::in_file::is_in_file(&key) || key.starts_with("care.rest.1."),
            "`{key}`: {text}"
        );
    }
}

#[test]
fn every_load_case_every_score_and_every_policy_word_is_explained() {
    let wing = thistledown::scenario::demo().unwrap().design;
    let dials: Vec<String> =
        thistledown::scenario::dials::dials(&wing).into_iter().map(|d| d.key).chain(["planform".to_owned()]).collect();
    let explain = |word: &str| {
        let (code, out, said) = program(&["explain", word]);
        assert_eq!(code, Some(0), "{word}: {said}");
        out
    };
    let (_, list, _) = program(&["explain"]);
    for key in thistledown::physics::loads::case::KEYS {
        let text = explain(key);
        assert!(list.contains(&format!("  {key} ")), "{key} is not listed");
        for part in ["load case", "held ", "formula ", "comes about", "source ", "assumption ", "cases_off"] {
            assert!(text.contains(part), "{key} says no `{part}`: {text}");
        }
        keys_stand(&text, &dials);
    }
    assert!(
        explain("one_end_down").contains("6.70 m from the middle") && explain("one_end_down").contains("no torque")
    );
    assert!(explain("one_end_lifted").contains("233 N m of torque at most"));
    assert!(explain("tip_caught").contains("service.tip_force_n"));
    assert!(explain("gust_up_vd_heavy").contains("at most 1.25 (V/VS)^2"));
    let e = thistledown::physics::evaluation::evaluate(&wing, &Assumptions::default());
    for s in thistledown::screen::score::scores_of(&wing, &e) {
        keys_stand(&explain(&s.word.to_lowercase().replace(['-', ' '], "_")), &dials);
    }
    for word in ["launch", "hands", "stall", "floats", "laminar_share", "profile drag"] {
        keys_stand(&explain(word), &dials);
    }
    for word in ["may_buckle", "not_below_ultimate", "not_below_limit", "allowed"] {
        assert!(explain(word).contains("safety factor and the extra factor"), "{word}");
    }
    // A slip of the finger in a case is told the nearest.
    let (code, _, said) = program(&["explain", "gust_up_vd_heavx"]);
    assert!(code == Some(2) && said.contains("`gust_up_vd_heavy`"), "{said}");
}

#[cfg(target_os = "linux")]
#[test]
fn a_folder_that_takes_no_file_is_not_said_to_be_missing() {
    let (code, _, said) = program(&["report", "scenarios/marram-mixed.toml", "-o", "/proc/x.html"]);
    assert!(code == Some(3) && said.contains("cannot be written there"), "{said}");
    let (code, _, said) = program(&["report", "scenarios/marram-mixed.toml", "-o", "/tmp/no-such-folder-here/x.html"]);
    assert!(code == Some(3) && said.contains("its folder is not there"), "{said}");
}

#[test]
fn what_has_no_thickness_shows_none() {
    let file = "scenarios/marram-fabric-aft.toml";
    let (_, out, _) = program(&["workshop", file, "--cuts", "--json"]);
    let v: Value = serde_json::from_str(&out).unwrap();
    let thick = |v: &Value| v.as_array().unwrap().iter().map(|b| b["thickness_m"].as_f64()).collect::<Vec<_>>();
    for all in [thick(&v["blanks"]), thick(&v["to_buy"])] {
        assert!(all.contains(&None) && all.iter().flatten().all(|t| *t > 0.0), "{all:?}");
    }
    let (_, out, _) = program(&["workshop", file, "--cuts", "--csv"]);
    assert!(!out.contains(",0.000,") && out.lines().any(|l| l.split(',').nth(3) == Some("")), "{out}");
}
