//! Every failure mode against every load case: what stands behind each, and what must hold of all of them.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::design::Design;
use thistledown::physics::evaluation::{Evaluation, evaluate};
use thistledown::physics::loads::internal::Loads;
use thistledown::physics::strength::{Context, MODES, Margin, Verdict, checks, margins};
use thistledown::scenario::load;

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).to_owned()
}

pub(crate) fn wing(name: &str) -> Design {
    load(&root().join(format!("scenarios/marram-{name}.toml"))).unwrap().design
}

/// Margins of an evaluated wing, its spar as it stands, under other loads.
pub(crate) fn under(d: &Design, e: &Evaluation, loads: &Loads) -> Vec<Margin> {
    let bending = thistledown::physics::strength::sizing::bend(&e.layout, &e.sections, loads);
    margins(&Context::new(d, (&e.layout, &e.skins, loads), (&e.sizing, &e.sections, &bending)))
}

fn least(all: &[Margin], mode: &str) -> Option<f64> {
    let mut shown = all.iter().filter(|m| m.mode == mode && !matches!(m.verdict, Verdict::NotShown(_))).peekable();
    shown.peek()?;
    Some(shown.map(|m| m.rf).fold(f64::INFINITY, f64::min))
}

fn sources() -> String {
    fn read(dir: &Path, out: &mut String) {
        for e in std::fs::read_dir(dir).unwrap() {
            let p = e.unwrap().path();
            if p.is_dir() {
                read(&p, out);
            } else if p.extension().is_some_and(|e| e == "rs" || e == "toml") {
                let name = p.file_stem().unwrap().to_string_lossy().into_owned();
                let text = std::fs::read_to_string(&p).unwrap();
                for line in text.lines() {
                    out.push_str(&name);
                    out.push(' ');
                    out.push_str(line.trim());
                    out.push('\n');
                }
            }
        }
    }
    let mut out = String::new();
    read(&root().join("tests/published"), &mut out);
    out
}

#[test]
fn every_check_named_beside_a_mode_exists_and_every_mode_is_listed() {
    let text = sources();
    for (mode, names) in checks::CHECKS {
        assert!(MODES.iter().any(|m| m.key == *mode && m.margins.is_some()), "{mode} is no computed mode");
        for name in *names {
            let known = match name.split_once("::") {
                Some((file, test)) => text.contains(&format!("{file} fn {test}()")),
                None => text.contains(&format!("structures id = \"{name}\"")),
            };
            assert!(known, "{mode}: no check {name}");
        }
    }
    for m in MODES.iter().filter(|m| m.margins.is_some()) {
        let listed = checks::CHECKS.iter().find(|c| c.0 == m.key).unwrap_or_else(|| panic!("{} is not listed", m.key));
        assert!(listed.1.len() >= 2, "{}", m.key);
        let distinct: BTreeSet<_> = listed.1.iter().collect();
        assert_eq!(distinct.len(), listed.1.len(), "{}", m.key);
    }
}

/// Ids of reference cases a text names: a topic and two digits.
fn ids_in(text: &str) -> BTreeSet<String> {
    const TOPICS: [&str; 13] =
        ["air", "div", "env", "gnd", "lau", "lift", "perf", "plan", "proof", "roll", "sec", "trim", "vlm"];
    let words = text.split(|c: char| !(c.is_ascii_alphanumeric() || c == '-'));
    let of_topic = |w: &&str| {
        w.split_once('-').is_some_and(|(topic, number)| {
            TOPICS.contains(&topic) && number.len() == 2 && number.chars().all(|c| c.is_ascii_digit())
        })
    };
    words.filter(of_topic).map(str::to_owned).collect()
}

/// Words by which the comment of a test says what it is held against: a year of a source, or how it was come by.
fn says_against_what(comments: &str) -> bool {
    const WORDS: [&str; 7] = [
        "omputed independently",
        "rom memory",
        "ommon practice, no source",
        "and sum",
        "by hand",
        "easured",
        "Source:",
    ];
    let year = |w: &str| w.len() == 4 && (w.starts_with("19") || w.starts_with("20")) && w.parse::<u32>().is_ok();
    WORDS.iter().any(|w| comments.contains(w)) || comments.split(|c: char| !c.is_ascii_alphanumeric()).any(year)
}

/// The comments of one test: those in its body, and the doc lines right above it.
fn comments_of(above: &str, part: &str) -> String {
    let body = part.split("\n}\n").next().unwrap_or(part);
    let doc: Vec<&str> = above.lines().rev().take_while(|l| l.trim_start().starts_with("//")).collect();
    let own = body.lines().filter_map(|l| l.split_once("//").map(|c| c.1));
    doc.into_iter().chain(own).collect::<Vec<_>>().join("\n")
}

/// Outside checks of the whole tree, each counted once: the cases of the structures reference, the cases of the other
/// references by the id a test names, and the tests that name no such id but say in words what they are held against. A test
/// that says it is the project's own property, or says nothing, is not counted.
#[test]
fn at_least_200_checks_against_the_outside() {
    let structures = std::fs::read_to_string(root().join("tests/published/cases/structures.toml")).unwrap();
    let structures = structures.lines().filter(|l| l.starts_with("id = ")).count();
    let (mut ids, mut named_in_words, mut silent) = (BTreeSet::new(), 0, Vec::new());
    for e in std::fs::read_dir(root().join("tests/published")).unwrap() {
        let path = e.unwrap().path();
        let Some("rs") = path.extension().and_then(|e| e.to_str()) else { continue };
        let text = std::fs::read_to_string(&path).unwrap();
        let parts: Vec<&str> = text.split("#[test]").collect();
        ids.extend(ids_in(&text));
        // A constant above a test may carry the ids of it: those are in the part before.
        for (above, part) in parts.iter().zip(parts.iter().skip(1)) {
            if ids_in(part).is_empty() {
                let comments = comments_of(above, part);
                let counts = says_against_what(&comments) && !comments.contains("Own property");
                let name = part.split_once("fn ").map_or("", |f| f.1.split('(').next().unwrap_or(""));
                if counts { named_in_words += 1 } else { silent.push(name.to_owned()) }
            }
        }
    }
    println!("{structures} cases of the structures reference, {} by id, {named_in_words} in words", ids.len());
    println!("{} not counted, own properties: {}", silent.len(), silent.join(" "));
    assert!(structures + ids.len() + named_in_words >= 200, "{structures} {} {named_in_words}", ids.len());
    for m in MODES.iter().filter(|m| m.margins.is_some()) {
        println!("{:<20}{:>3}  {}", m.key, checks::of(m.key).len(), checks::of(m.key).join(" "));
    }
}

#[test]
fn explain_prints_every_mode_against_every_case() {
    let d = wing("mixed");
    let e = evaluate(&d, &Assumptions::default());
    let text = thistledown::report::matrix::text(&d);
    for l in &e.loads.loads {
        assert!(text.contains(e.loads.cases[l.case].title), "{}", e.loads.cases[l.case].title);
    }
    for m in MODES {
        let rows = text.lines().filter(|line| line.split_whitespace().next() == Some(m.key)).count();
        // What the dive speed decides stands once, and in no column of a case.
        let blocks =
            if ["divergence", "control_reversal"].contains(&m.key) { 1 } else { e.loads.loads.len().div_ceil(10) };
        assert_eq!(rows, if m.margins.is_some() { blocks + 1 } else { 1 }, "{}", m.key);
    }
    let by_speed = text.split("at the dive speed").nth(1).unwrap();
    for key in ["divergence", "control_reversal"] {
        let rf = e.margins.iter().find(|m| m.mode == key).unwrap().rf;
        let row = by_speed.lines().find(|l| l.trim_start().starts_with(key)).unwrap();
        assert_eq!(row.split_whitespace().collect::<Vec<_>>(), [key, &format!("{rf:.2}")]);
    }
    // What is judged under other cases only is told apart from what is not shown, and the marks are explained.
    let of = |key: &str| -> Vec<&str> {
        let rows =
            text.split("what each mode").next().unwrap().lines().filter(|l| l.split_whitespace().next() == Some(key));
        rows.flat_map(|l| l.split_whitespace().skip(1)).collect()
    };
    for key in ["holds", "covering_sag"] {
        let (cells, none) = (of(key), of(key).into_iter().filter(|w| *w == ".").count());
        assert!(
            cells.len() == e.loads.loads.len() && none > 0 && none < cells.len() && !cells.contains(&"n.s."),
            "{cells:?}"
        );
    }
    assert!(text.contains(". judged under other cases only") && text.contains("n.s. not shown"));
    // The case that governs a mode says in its column what the whole wing has least.
    let sag = e.margins.iter().filter(|m| m.mode == "covering_sag").map(|m| m.rf).fold(f64::INFINITY, f64::min);
    let row = text.lines().find(|l| l.trim_start().starts_with("covering_sag")).unwrap();
    assert!(row.contains(&format!("{sag:.2}")), "{row}");
    // A wing without posts has nothing there; that is not the same as a mode that is not shown.
    let posts = text.lines().find(|l| l.trim_start().starts_with("post_crushing")).unwrap();
    assert!(posts.split_whitespace().skip(1).all(|w| w == "-"), "{posts}");
}

#[test]
fn modes_by_cases() {
    for name in ["mixed", "sandwich-tough", "fabric-aft"] {
        let d = wing(name);
        let e = evaluate(&d, &Assumptions::default());
        let all = under(&d, &e, &e.loads);
        println!("{name}: least reserve by mode (rows) and case (columns)");
        let keys: Vec<&str> = e.loads.loads.iter().map(|l| e.loads.cases[l.case].key).collect();
        println!("{:<20}{}", "", keys.join(" "));
        let single: Vec<Vec<Margin>> =
            e.loads.loads.iter().map(|l| under(&d, &e, &Loads { loads: vec![l.clone()], ..e.loads.clone() })).collect();
        for m in MODES {
            let row: Vec<Option<f64>> = single.iter().map(|s| least(s, m.key)).collect();
            let text: Vec<String> = row
                .iter()
                .map(|r| r.map_or("-".to_owned(), |r| if r > 99.0 { ">99".into() } else { format!("{r:.2}") }))
                .collect();
            println!("{:<20}{}", m.key, text.join(" "));
            println!("{:<20}{} | {} [{}] | {}", "", m.formula, m.source, m.mark.word(), checks::words(m.key));
            assert!(!m.formula.is_empty() && !m.source.is_empty() && !m.valid.is_empty());
            // No case alone is worse than all together.
            if let Some(governing) = least(&all, m.key) {
                let alone = row.iter().flatten().copied().fold(f64::INFINITY, f64::min);
                assert!(governing <= alone * (1.0 + 1e-9), "{name} {}: {governing} {alone}", m.key);
                if m.margins.is_some() && !["joint_pins", "divergence", "control_reversal"].contains(&m.key) {
                    assert!(governing.is_finite(), "{name} {}", m.key);
                }
            }
            if m.margins.is_none() {
                assert!(all.iter().any(|x| x.mode == m.key && matches!(x.verdict, Verdict::NotShown(_))));
            }
        }
    }
}

#[test]
fn reserves_follow_the_declared_power_of_load() {
    let k = 1.37_f64;
    let load_of = |name: &str| load(&root().join(format!("scenarios/{name}.toml"))).unwrap().design;
    for name in ["marram-mixed", "marram-sandwich-tough", "can-say-posts", "can-say-nose-one-faced"] {
        let mut d = load_of(name);
        for c in &mut d.constructions {
            if let Some(u) = &mut c.covering {
                u.pretension_n_m = 0.0;
            }
        }
        let e = evaluate(&d, &Assumptions::default());
        let mut more = e.loads.clone();
        for l in &mut more.loads {
            *l = l.times(k);
        }
        more.cases.iter_mut().for_each(|c| c.speed_m_s *= k.sqrt());
        let (before, after) = (under(&d, &e, &e.loads), under(&d, &e, &more));
        let mut seen = 0;
        for m in MODES.iter().filter(|m| m.margins.is_some() && m.power > 0.0) {
            // Sag is judged in level flight, which limit load does not change.
            let (Some(a), Some(b)) = (least(&before, m.key), least(&after, m.key)) else { continue };
            if m.key == "covering_sag" || a.is_infinite() {
                continue;
            }
            let want = a * k.powf(-m.power);
            assert!((b / want - 1.0).abs() < 1e-6, "{name} {}: {a} {b} {want}", m.key);
            seen += 1;
        }
        assert!(seen >= 18, "{seen}");
    }
}

/// A wing turned over, and a wing of twice the size, each against the law of similarity.
#[test]
fn a_scaled_section_keeps_its_reserve() {
    use thistledown::physics::strength::caps::strut_on_springs;
    use thistledown::physics::strength::panel::{Panel, compression, shear};
    // Lengths doubled at the same materials: EI and D go as the square of thickness and on; stress at buckling stays.
    let (n1, l1) = strut_on_springs(8.1, 4.5e7);
    let (n2, l2) = strut_on_springs(8.1 * 16.0, 4.5e7);
    assert!((n2 / n1 - 4.0).abs() < 1e-12 && (l2 / l1 - 2.0).abs() < 1e-12);
    let e = evaluate(&wing("mixed"), &Assumptions::default());
    let s = e.skins.iter().find(|s| s.foam.is_some() && s.d.s11 > 0.0).unwrap();
    let mut d = s.d;
    d.plus(&s.d, 7.0);
    let mut a = s.a;
    a.plus(&s.a, 1.0);
    let p = Panel { length_m: 0.4, width_m: 0.3, d: s.d, a: s.a, s_n_m: s.s_n_m, radius_m: 0.5 };
    let q = Panel { length_m: 0.8, width_m: 0.6, d, a, s_n_m: 2.0 * s.s_n_m, radius_m: 1.0 };
    assert!((compression(&q) / compression(&p) - 2.0).abs() < 1e-9 && (shear(&q) / shear(&p) - 2.0).abs() < 1e-9);
}

/// Modes that go by the section and not by the rib pitch, which a finer cut would change.
const BY_SECTION: [&str; 13] = [
    "cap_tension",
    "cap_compression",
    "cap_stability",
    "web_shear",
    "web_crushing",
    "nose_shear",
    "cap_web_bond",
    "nose_seam_bond",
    "inplane_bending",
    "tip_deflection",
    "twist",
    "divergence",
    "control_reversal",
];

/// Halving the step of the spanwise integration with ribs, masses and spar fixed: the same wing cut twice as fine.
#[test]
fn a_finer_step_moves_no_result_by_half_a_percent() {
    use thistledown::physics::loads::flexible::Axis;
    use thistledown::physics::loads::{internal, lift};
    use thistledown::physics::strength::sizing::{Sizing, bend, sections};
    use thistledown::physics::wing::layout::lay_out;
    let named = ["mixed", "sandwich-tough", "fabric-aft"].map(|n| (n.to_owned(), wing(n)));
    // And one whose spar sweeps and moves back in the chord, so that its line bends.
    let mut swept = wing("mixed");
    swept.planform.sweep_rad = 0.3;
    (swept.spar.position_root, swept.spar.position_tip) = (0.28, 0.4);
    for (name, d) in named.into_iter().chain([("swept".to_owned(), swept)]) {
        let mut fine = d.clone();
        for r in &mut fine.ribs {
            r.bays *= 2;
        }
        let e = evaluate(&d, &Assumptions::default());
        let cut = lay_out(&fine);
        // Each fine bay stands in one coarse bay: its mass per metre and its layers are those.
        let parent: Vec<usize> =
            cut.bays.iter().map(|b| e.layout.bays.iter().position(|c| b.mid.eta <= c.outer.eta).unwrap()).collect();
        let of = |v: &[u32]| parent.iter().map(|p| v[*p]).collect();
        let sizing = Sizing {
            upper: of(&e.sizing.upper),
            lower: of(&e.sizing.lower),
            web: of(&e.sizing.web),
            at_limit: e.sizing.at_limit,
        };
        let mut weight = e.weight.clone();
        weight.running_kg_m = parent.iter().map(|p| e.weight.running_kg_m[*p]).collect();
        let finer = sections(&fine, &cut, &e.skins, &sizing);
        let axis = Axis::of(&cut, &finer);
        let loads = internal::loads_bending(&fine, (&cut, &lift::basis(&fine, &cut)), &weight, axis.as_ref());
        let bent = bend(&cut, &finer, &loads);
        let at = |i: usize| {
            let y = e.layout.stations().nth(i).unwrap().y_m;
            cut.stations().position(|s| (s.y_m - y).abs() < 1e-6)
        };
        // The tip is judged by its greatest deflection.
        let most = e.bending.iter().map(|b| b.deflection_m().last().unwrap().abs()).fold(0.0, f64::max);
        for (k, (a, b)) in e.loads.loads.iter().zip(&loads.loads).enumerate() {
            let scale = a.moment_nm().iter().fold(0.0, |m: f64, v| m.max(v.abs())).max(1.0);
            let twisting = a.torque_nm().iter().fold(0.0, |m: f64, v| m.max(v.abs())).max(1.0);
            for i in 0..a.moment_nm().len() {
                let Some(j) = at(i) else { continue };
                assert!((a.moment_nm()[i] - b.moment_nm()[j]).abs() < 0.005 * scale, "{name} moment {k} {i}");
                assert!(
                    (a.torque_nm()[i] - b.torque_nm()[j]).abs() < 0.005 * twisting,
                    "{name} torque {k} {i}: {} {}",
                    a.torque_nm()[i],
                    b.torque_nm()[j]
                );
            }
            let (z, w) = (*e.bending[k].deflection_m().last().unwrap(), *bent[k].deflection_m().last().unwrap());
            assert!((z - w).abs() < 0.005 * most, "{name} tip {k}: {z} {w}");
        }
        // What the wing is judged by: the least reserve of the modes that go by section.
        let now = Context::new(&fine, (&cut, &e.skins, &loads), (&sizing, &finer, &bent));
        // Ribs fixed: a bay of the finer cut that begins where no rib stood is no place anybody looks at.
        let stood = |m: &Margin| {
            m.bay.is_none_or(|b| e.layout.bays.iter().any(|c| (c.inner.eta - cut.bays[b].inner.eta).abs() < 1e-9))
        };
        let after: Vec<Margin> = margins(&now).into_iter().filter(stood).collect();
        for mode in BY_SECTION {
            let (a, b) = (least(&e.margins, mode).unwrap(), least(&after, mode).unwrap());
            assert!((a / b - 1.0).abs() < 0.005, "{name} {mode}: {a} {b}");
        }
    }
}
