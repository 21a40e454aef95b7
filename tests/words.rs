//! What is said beside numbers: formulas add up to what is shown, flags do what they say or are refused with a next step.

use std::process::Command;

use serde_json::Value;
use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::evaluation::evaluate;
use thistledown::report::json;
use thistledown::scenario;

/// Exit code, standard output, standard error in one line.
fn program(args: &[&str]) -> (Option<i32>, String, String) {
    let o = Command::new(env!("CARGO_BIN_EXE_thistledown")).args(args).output().unwrap();
    let text = |o: &[u8]| String::from_utf8_lossy(o).into_owned();
    let said = text(&o.stderr).split_whitespace().collect::<Vec<_>>().join(" ");
    (o.status.code(), text(&o.stdout), said)
}

fn plain(t: &str) -> String {
    t.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// What is wrong with the demo so changed; empty where nothing is.
fn faults(from: &str, to: &str) -> String {
    let text = std::fs::read_to_string("scenarios/marram-mixed.toml").unwrap();
    assert!(text.contains(from), "{from}");
    match scenario::parse(&text.replacen(from, to, 1), None) {
        Ok(_) => String::new(),
        Err(all) => all.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n"),
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
