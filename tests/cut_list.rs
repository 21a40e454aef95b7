//! The cut list against the parts list, blank by blank, for every shipped wing; the table of the workshop; its sheets.

use std::path::Path;

use crossterm::event::KeyCode;
use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::design::{CapMaterial, Design, Layers};
use thistledown::physics::evaluation::{Evaluation, evaluate};
use thistledown::physics::mass::tally::Heading;
use thistledown::physics::workshop::cuts::{self, CutList};
use thistledown::physics::workshop::part_sheets::{self, as_drawn, made_up_kg};
use thistledown::physics::workshop::{batches, forecast, to_buy};
use thistledown::report;
use thistledown::scenario::dials::dials;
use thistledown::scenario::{self, load};

use crate::program::told;

use super::screens::{keys, marram, press, text};

fn shipped() -> Vec<(String, Design)> {
    let dir = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios");
    let mut out = Vec::new();
    for entry in std::fs::read_dir(dir).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_some_and(|e| e == "toml") {
            let name = path.file_stem().unwrap().to_str().unwrap().to_owned();
            out.push((name, load(&path).unwrap_or_else(|p| panic!("{p:#?}")).design));
        }
    }
    assert!(out.len() > 15);
    out
}

fn cut(d: &Design) -> (Evaluation, CutList) {
    let e = evaluate(d, &Assumptions::default());
    let list = cuts::of(d, &e);
    (e, list)
}

#[test]
fn what_is_cut_and_taken_for_a_part_is_what_the_parts_list_says_of_it() {
    for (name, d) in shipped() {
        adds_up(&name, &d);
    }
}

/// The cut list of a wing, held to its parts list.
fn adds_up(name: &str, d: &Design) -> (Evaluation, CutList) {
    let (e, list) = cut(d);
    let (drawn, f) = (as_drawn(d, &e), forecast::of(d, &e));
    let sheets = part_sheets::of(d, &e, &list, &f);
    for s in &sheets {
        let made = made_up_kg(&list, &s.row.piece);
        let words = s.row.piece.words();
        assert!((made - s.drawn_kg).abs() < 1e-6, "{name}, {words}: {made} kg made up, {} drawn", s.drawn_kg);
    }
    // Nothing is cut for a part that is not there, and nothing of the list is left out.
    let whole: f64 = sheets.iter().map(|s| s.drawn_kg).sum();
    assert!((whole - drawn.drawn_kg).abs() < 1e-6, "{name}: {whole} for {}", drawn.drawn_kg);
    let laps: f64 = list.cuts.iter().map(|c| c.lap[1] + c.lap[2]).sum();
    let cuts: f64 = list.cuts.iter().map(|c| c.net_kg + c.resin_kg).sum::<f64>() + laps;
    let uses: f64 = list.uses.iter().map(|u| u.kg).sum();
    assert!((cuts + uses - drawn.drawn_kg).abs() < 1e-6, "{name}: {} for {}", cuts + uses, drawn.drawn_kg);
    (e, list)
}

/// A layer that does not begin at the inner end of its piece says on which bays it lies, and weighs what it weighs there.
#[test]
fn layers_that_begin_outboard_say_where_they_lie() {
    let mut d = shipped().into_iter().find(|s| s.0 == "marram-mixed").unwrap().1;
    d.spar.upper.layers = Layers::Fixed(vec![(0.5, 12), (0.8, 8), (1.0, 10)]);
    d.spar.web_layers = Layers::Fixed(vec![(0.7, 0), (0.9, 2), (1.0, 0)]);
    let (e, list) = adds_up("layers at the tip", &d);
    let bays = |from: f64, to: f64| {
        let all = e.layout.bays.iter().enumerate().filter(|(_, b)| (from..to).contains(&b.mid.eta));
        let all: Vec<usize> = all.map(|(i, _)| i + 1).collect();
        format!("bays {}-{}", all[0], all[all.len() - 1])
    };
    let length_m = |name: &str| {
        let of = list.cuts.iter().filter(|c| c.name.starts_with(name));
        let found: Vec<f64> = of.map(|c| c.net_m2 / f64::from(c.count)).collect();
        assert!(!found.is_empty(), "no {name} in {:?}", list.cuts.iter().map(|c| &c.name).collect::<Vec<_>>());
        found
    };
    assert_eq!(length_m("upper cap: layers 1-8").len(), 1);
    // Layers 9 and 10 lie on the inner half and again at the tip, 11 and 12 on the inner half alone.
    let tip = format!("upper cap: layers 9-10 {}", bays(0.8, 1.0));
    assert!(length_m(&tip)[0] < 0.3 * length_m("upper cap: layers 1-8")[0]);
    assert_eq!(length_m("upper cap: layers 9-10").len(), 2);
    assert_eq!(length_m("upper cap: layers 11-12").len(), 1);
    for extra in ["front, extra 1", "front, extra 2", "rear, extra 1"] {
        assert!(list.cuts.iter().any(|c| c.name.contains(&format!("{extra} {}", bays(0.7, 0.9)))), "{extra}");
    }
    let said = report::text::assessment(&d, &e);
    assert!(said.contains("web plies more on each face, root to tip: 0 0"), "{said}");
}

/// What the parts list counts for the laps of plies by its rule is what the blanks have, and somewhat more: each panel ends with a length
/// that laps on nothing.
#[test]
fn ply_laps_of_the_parts_list_are_those_of_the_blanks() {
    let mut told = 0;
    for (name, d) in shipped() {
        let (e, list) = cut(&d);
        let cloth = |c: &&cuts::Cut| matches!(c.stuff, cuts::Stuff::Cloth(_));
        let of = [Heading::Skins, Heading::Web];
        let laid = list.cuts.iter().filter(cloth).filter(|c| of.contains(&c.part.heading));
        let by_blanks: f64 = laid.map(|c| c.join[1] + c.join[0] * c.resin_kg_m2).sum();
        let drawn = as_drawn(&d, &e);
        let counted: f64 = drawn.parts.iter().filter(|p| p.name == "ply laps").map(|p| p.nominal_kg).sum();
        println!("{name}: {:.1} g by the rule, {:.1} g by the blanks", 1e3 * counted, 1e3 * by_blanks);
        assert!((1.0..1.45).contains(&(counted / by_blanks)), "{name}: {counted} {by_blanks}");
        told += 1;
    }
    assert!(told > 15);
    // A roll that reaches further leaves fewer laps, and none where no lap is laid.
    let weight = |change: &dyn Fn(&mut Design)| {
        let mut d = shipped().into_iter().find(|s| s.0 == "marram-mixed").unwrap().1;
        change(&mut d);
        evaluate(&d, &Assumptions::default()).weight.drawn_kg
    };
    let (one, wide) = (weight(&|_| {}), weight(&|d| d.stock.cloth_roll_m = 1.5));
    let none = weight(&|d| d.stock.join_lap_m = 0.0);
    assert!(one > wide && wide > none && one - none < 0.15, "{one} {wide} {none}");
}

#[test]
fn no_blank_is_smaller_than_what_is_cut_from_it_and_every_blank_fits() {
    for (name, d) in shipped() {
        let (_, list) = cut(&d);
        for c in &list.cuts {
            let blanks = f64::from(c.count) * c.blank.length_m * c.blank.width_m;
            let of = c.net_m2 + c.lap[0] + c.join[0];
            assert!(blanks >= of * (1.0 - 1e-9), "{name}, {}: {blanks} m2 of blanks for {of}", c.name);
        }
        for m in to_buy::of(&d, &list) {
            assert_eq!(m.too_large, 0, "{name} {m:?}");
            assert!(m.bought_m2 >= m.used_m2 && m.used_m2 > 0.0, "{name} {m:?}");
        }
    }
}

#[test]
fn what_is_mixed_is_what_the_parts_list_has_of_resin_with_its_loss() {
    for (name, d) in shipped() {
        let (_, list) = cut(&d);
        let all = batches::of(&d.stock, &list);
        let whole = |f: &dyn Fn(&batches::Batch) -> f64| -> f64 { all.iter().map(|b| f64::from(b.times) * f(b)).sum() };
        let of_cuts: f64 = list.cuts.iter().map(|c| c.resin_kg + c.lap[2] + c.join[0] * c.resin_kg_m2).sum();
        let of_uses: f64 = list.uses.iter().filter(|u| u.lay_up.is_some()).map(|u| u.kg).sum();
        let stays = whole(&|b| b.stays_kg + b.filling_kg);
        assert!((stays - of_cuts - of_uses).abs() < 1e-9, "{name}: {stays} for {}", of_cuts + of_uses);
        for b in &all {
            assert!(b.mixed_kg >= b.stays_kg + b.filling_kg - 1e-12, "{name} {b:?}");
            assert!(b.pot_kg() <= d.stock.pot_kg + 1e-9 && b.pots > 0, "{name} {b:?}");
        }
    }
}

/// What the sheets say is to be mixed, part by part, is what the lay-ups say, pot by pot.
#[test]
fn what_the_parts_ask_to_be_mixed_is_what_the_lay_ups_take() {
    for (name, d) in shipped() {
        let (e, list) = cut(&d);
        let all = batches::of(&d.stock, &list);
        let pots: f64 = all.iter().map(|b| f64::from(b.times) * f64::from(b.pots) * b.pot_kg()).sum();
        let f = forecast::of(&d, &e);
        let sheets = part_sheets::of(&d, &e, &list, &f);
        let parts: f64 = sheets.iter().map(|s| s.mixed_kg).sum();
        assert!((parts - pots).abs() < 1e-9, "{name}: {parts} for {pots}");
        for s in sheets.iter().filter(|s| s.resin_kg > 0.0) {
            assert!(s.mixed_kg > s.resin_kg, "{name} {:?}", s.row.piece);
        }
    }
}

/// A layer of a cap is cut to its taper: both widths stand on the list, in the table and in JSON.
#[test]
fn layers_of_a_cap_are_given_with_both_widths() {
    let mut d = shipped().into_iter().find(|s| s.0 == "marram-mixed").unwrap().1;
    d.stock.tape_roll_m = 20.0;
    let (_, list) = cut(&d);
    let first = list.cuts.iter().find(|c| c.name.starts_with("upper cap: layer")).unwrap();
    let cap = &d.spar.upper;
    let near = |got: f64, want: f64| assert!((got - want).abs() < 1e-9, "{got} {want}");
    near(first.blank.width_m, cap.width_root_m);
    near(first.tapers_to_m().unwrap(), cap.width_tip_m);
    let (root, tip) = (1e3 * cap.width_root_m, 1e3 * cap.width_tip_m);
    assert!(report::cut_list::row(&d, first, 30).contains(&format!("x{root:.0}→{tip:.0} ")), "{first:?}");
    let csv = report::cut_list::csv(&d, &list);
    assert!(csv.lines().next().unwrap().ends_with(",tapers_to_mm"));
    assert!(csv.lines().any(|l| l.contains("upper cap: layer") && l.ends_with(&format!(",{tip:.1}"))));
    near(report::cut_list::cut_json(&d, first)["tapers_to_m"].as_f64().unwrap(), cap.width_tip_m);
    // A skin is trimmed where it lies, and a strip of one width has one.
    assert!(list.cuts.iter().filter(|c| c.name.starts_with("aft up")).all(|c| c.tapers_to_m().is_none()));
    d.spar.upper.width_tip_m = d.spar.upper.width_root_m;
    assert!(
        cut(&d).1.cuts.iter().filter(|c| c.name.starts_with("upper cap: layer")).all(|c| c.tapers_to_m().is_none())
    );
}

#[test]
fn hours_and_cost_of_the_sheets_are_those_of_the_model() {
    for (name, d) in shipped() {
        let (e, list) = cut(&d);
        let f = forecast::of(&d, &e);
        let sheets = part_sheets::of(&d, &e, &list, &f);
        for (line, heading) in [("skins", Heading::Skins), ("ribs", Heading::Ribs)] {
            let of = || sheets.iter().filter(|s| s.row.piece.heading == heading);
            let (hours, cost): (f64, f64) = (of().filter_map(|s| s.hours).sum(), of().filter_map(|s| s.cost).sum());
            let model = e.work.lines.iter().find(|l| l.0 == line).unwrap();
            assert!(
                (hours - model.1).abs() < 1e-9 && (cost - model.2).abs() < 1e-9,
                "{name} {line}: {hours} h, {cost}; {model:?}"
            );
        }
        assert!(sheets.iter().all(|s| s.row.made || s.row.stop_kg == f.rows.iter().find(|r| r.piece == s.row.piece).unwrap().stop_kg));
    }
}

/// Wider rolls never ask for more lengths, and a wing without a joint at its root has caps that run through it.
#[test]
fn rolls_and_joints_tell_in_the_list() {
    let mut d = shipped().into_iter().find(|s| s.0 == "marram-mixed").unwrap().1;
    let lengths = |d: &Design| cut(d).1.cuts.len();
    let before = lengths(&d);
    d.stock.cloth_roll_m = 2.0;
    assert!(lengths(&d) < before);
    let cap = |d: &Design| cut(d).1.cuts.into_iter().find(|c| c.name.starts_with("upper cap: layers 1")).unwrap();
    let parted = cap(&d);
    d.joints.clear();
    let through = cap(&d);
    assert!(through.blank.length_m > 1.9 * parted.blank.length_m && 2 * through.count == parted.count);
    let (e, list) = cut(&d);
    assert!(list.remarks.iter().any(|r| r.contains("cap layers run through it")), "{:?}", list.remarks);
    let made: f64 = list.cuts.iter().map(|c| c.net_kg + c.resin_kg + c.lap[1] + c.lap[2]).sum::<f64>()
        + list.uses.iter().map(|u| u.kg).sum::<f64>();
    assert!((made - as_drawn(&d, &e).drawn_kg).abs() < 1e-6);
    // A roll too narrow for anything is told, and nothing of the mass is lost.
    d.stock.cloth_roll_m = 0.026;
    let (e, list) = cut(&d);
    assert!(
        list.remarks.iter().any(|r| r.contains("no roll or sheet"))
            && to_buy::of(&d, &list).iter().any(|m| m.too_large > 0)
    );
    let made: f64 = list.cuts.iter().map(|c| c.net_kg + c.resin_kg + c.lap[1] + c.lap[2]).sum::<f64>()
        + list.uses.iter().map(|u| u.kg).sum::<f64>();
    assert!((made - as_drawn(&d, &e).drawn_kg).abs() < 1e-6);
}

/// Caps of wood are scarfed along the board, strips come in one length, and both still weigh what the parts list says.
#[test]
fn caps_of_wood_and_of_strips_are_cut_and_priced() {
    let mut d = shipped().into_iter().find(|s| s.0 == "can-say-three-piece").unwrap().1;
    let wood = d.library.woods.iter().position(|w| w.key == "spruce").unwrap();
    d.spar.upper.material = CapMaterial::Wood { wood, layer_m: 0.004 };
    d.spar.lower.material = CapMaterial::Pultruded {
        layer_m: 0.0014,
        modulus_pa: 130e9,
        density_kg_m3: 1560.0,
        tension_pa: 1200e6,
        compression_pa: 800e6,
        price_per_kg: 100.0,
    };
    let (e, list) = cut(&d);
    let f = forecast::of(&d, &e);
    for s in part_sheets::of(&d, &e, &list, &f) {
        assert!((made_up_kg(&list, &s.row.piece) - s.drawn_kg).abs() < 1e-6, "{}", s.row.piece.words());
    }
    let of = |words: &str| list.cuts.iter().filter(|c| c.part.words() == words).collect::<Vec<_>>();
    let (boards, strips) = (of("spar caps/upper cap"), of("spar caps/lower cap"));
    assert!(boards.iter().all(|c| c.blank.length_m <= d.stock.wood_sheet_m[0] + 1e-9));
    assert!(boards.iter().any(|c| c.join[0] > 0.0) && list.remarks.iter().any(|r| r.starts_with("joins")));
    assert!(strips.iter().all(|c| c.blank.length_of.1 == 1 && c.join[0] == 0.0));
    let strip = to_buy::of(&d, &list).into_iter().find(|m| m.stuff == cuts::Stuff::Strip(false)).unwrap();
    assert!((strip.price.unwrap() - 100.0 * strip.bought_kg).abs() < 1e-6 && strip.bought_kg >= strip.used_kg);
}

#[test]
fn the_table_of_the_workshop_is_read_turned_and_saved_with_its_remarks() {
    let dir = tempfile::tempdir().unwrap();
    let file = dir.path().join("wing.toml");
    let from = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/marram-samples.toml");
    let text = std::fs::read_to_string(from).unwrap().replace("pot_g = 300 ", "pot_oz = 10 ");
    std::fs::write(&file, text).unwrap();
    let mut s = load(&file).unwrap();
    assert!((s.design.stock.pot_kg - 0.28349523125).abs() < 1e-12);
    assert_eq!((s.design.stock.hardener_parts, s.design.stock.own.len()), (Some(30.0), 2));
    let mut d = s.design.clone();
    for (key, value) in
        [("workshop.cloth_roll_mm", 1270.0), ("workshop.hardener_parts", 27.5), ("workshop.pot_g", 200.0)]
    {
        dials(&d).into_iter().find(|x| x.key == key).unwrap().set(&mut d, value);
    }
    scenario::save(&mut s, &d, &file, false).unwrap();
    let again = load(&file).unwrap();
    assert_eq!(again.design.stock.cloth_roll_m, 1.27);
    assert_eq!(again.design.stock.hardener_parts, Some(27.5));
    assert!((again.design.stock.pot_kg - 0.2).abs() < 1e-5);
    let text = std::fs::read_to_string(&file).unwrap();
    assert!(
        text.contains("cloth_roll_mm = 1270.0         # woven")
            && text.contains("pot_oz = ")
            && !text.contains("pot_g"),
        "{text}"
    );
    // A scenario that says nothing of hardener has no dial for it: no split is shown rather than one guessed.
    let silent = load(&Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/marram-ribs.toml")).unwrap().design;
    assert_eq!(silent.stock, thistledown::physics::stock::Stock::default());
    assert!(!dials(&silent).iter().any(|x| x.key == "workshop.hardener_parts"));
}

/// The cells of a line of comma-separated values, those in quotes taken out of them.
fn cells(line: &str) -> Vec<String> {
    let (mut out, mut quoted) = (vec![String::new()], false);
    for c in line.chars() {
        match c {
            '"' => quoted = !quoted,
            ',' if !quoted => out.push(String::new()),
            c => out.last_mut().unwrap().push(c),
        }
    }
    out
}

/// What to buy and the batches as tables: every line as long as the first, and their numbers those of the JSON.
#[test]
fn stock_and_resin_come_as_tables() {
    let file = "scenarios/marram-samples.toml";
    for (sheet, list, columns) in [
        (
            "--stock",
            "to_buy",
            &["blanks", "sheets", "roll_m", "bought_m2", "used_m2", "bought_kg", "used_kg", "price"][..],
        ),
        (
            "--resin",
            "batches",
            &[
                "times",
                "fibre_kg",
                "stays_kg",
                "core_filling_kg",
                "mixed_kg",
                "pots",
                "pot_kg",
                "pot_resin_kg",
                "minutes",
            ],
        ),
    ] {
        let args = ["workshop", file, sheet, "--set", "workshop.hardener_parts=25"];
        let (code, csv) = told(&[&args[..], &["--csv"]].concat());
        assert_eq!(code, Some(0), "{csv}");
        let (_, out) = told(&[&args[..], &["--json"]].concat());
        let v: serde_json::Value = serde_json::from_str(&out).unwrap();
        let rows = v[list].as_array().unwrap();
        let mut lines = csv.lines().map(cells);
        let head = lines.next().unwrap();
        let lines: Vec<Vec<String>> = lines.collect();
        assert!(lines.len() == rows.len() && rows.len() > 5 && lines.iter().all(|l| l.len() == head.len()), "{csv}");
        for name in columns {
            let at = head.iter().position(|c| c == name).unwrap_or_else(|| panic!("{name}: {head:?}"));
            for (line, row) in lines.iter().zip(rows) {
                match (line[at].as_str(), &row[*name]) {
                    // Nothing stands where there is none: glue has no fibre, a strip no price.
                    ("", v) => assert!(v.is_null() || v.as_f64() == Some(0.0), "{name}: {row}"),
                    (cell, v) => {
                        let (cell, v): (f64, f64) = (cell.parse().unwrap(), v.as_f64().unwrap());
                        assert!((cell - v).abs() < 6e-3, "{name}: {cell} {row}");
                    }
                }
            }
        }
        let key = if list == "to_buy" { "material" } else { "lay_up" };
        assert!(lines.iter().zip(rows).all(|(l, r)| l[0] == r[key].as_str().unwrap()));
    }
}

#[test]
fn the_sheets_come_from_the_command_line() {
    let file = "scenarios/marram-samples.toml";
    let (code, csv) = told(&["workshop", file, "--cuts", "--csv"]);
    assert_eq!(code, Some(0));
    let mut lines = csv.lines();
    let columns = lines.next().unwrap().split(',').count();
    assert!(lines.clone().count() > 100 && lines.all(|l| l.split(',').count() >= columns), "{csv}");
    let (code, out) = told(&["workshop", file, "--cuts"]);
    assert!(
        code == Some(0) && out.contains("CUT LIST") && out.contains("TO BUY") && out.contains("Carbon dust conducts"),
        "{out}"
    );
    let json = |args: &[&str]| -> serde_json::Value {
        let (code, out) = told(args);
        assert_eq!(code, Some(0), "{out}");
        serde_json::from_str(&out).unwrap()
    };
    let v = json(&["workshop", file, "--cuts", "--json"]);
    let net: f64 = v["blanks"].as_array().unwrap().iter().map(|b| b["net_kg"].as_f64().unwrap()).sum();
    assert!(net > 10.0 && !v["remarks"].as_array().unwrap().is_empty());
    let v = json(&["workshop", file, "--stock", "--json"]);
    let foam = v["to_buy"].as_array().unwrap().iter().find(|m| m["material"] == "pvc_100").unwrap().clone();
    assert_eq!(foam["sheet_m"], serde_json::json!([1.2, 1.0]));
    let v = json(&["workshop", file, "--resin", "--json", "--set", "workshop.hardener_parts=25"]);
    let cap = v["batches"].as_array().unwrap().iter().find(|b| b["lay_up"] == "upper cap").unwrap().clone();
    let (pot, resin) = (cap["pot_kg"].as_f64().unwrap(), cap["pot_resin_kg"].as_f64().unwrap());
    assert!((resin / pot - 0.8).abs() < 1e-9);
    let (code, out) = told(&["workshop", "scenarios/marram-ribs.toml", "--resin"]);
    assert!(code == Some(0) && out.contains("not shown") && out.contains("workshop.hardener_parts"), "{out}");
    let v = json(&["workshop", file, "--parts", "skins/nose up", "--json"]);
    assert_eq!(v["parts"].as_array().unwrap().len(), 1);
    assert!(v["parts"][0]["stop_kg"].as_f64().unwrap() > 0.0 && v["parts"][0]["hours"].as_f64().unwrap() > 0.0);
    let (code, out) = told(&["workshop", file, "--parts"]);
    assert!(code == Some(0) && out.matches("PART: ").count() > 15 && out.contains("STOP-WEIGHT"), "{out}");
    let (code, out) = told(&["workshop", file, "--parts", "skins/nose op"]);
    assert!(code == Some(2) && out.contains("the nearest is `skins/nose up`"), "{out}");
    for wrong in
        [vec!["--cuts", "--resin"], vec!["--csv"], vec!["--cuts", "--scales"], vec!["--cuts", "--csv", "--json"]]
    {
        let args: Vec<&str> = ["workshop", file].into_iter().chain(wrong).collect();
        assert_eq!(told(&args).0, Some(2), "{args:?}");
    }
}

#[test]
fn the_sheets_stand_on_the_workshop_page() {
    for (w, h) in [(80, 24), (120, 40), (200, 60)] {
        let mut app = marram(w, h);
        keys(&mut app, "0c");
        let has = |app: &thistledown::screen::app::App, words: &str| {
            assert!(text(app).contains(words), "{w}x{h}: {words} in\n{}", text(app));
        };
        has(&app, "cut list 1 of ");
        has(&app, "covering");
        press(&mut app, KeyCode::End);
        has(&app, "lower cap");
        press(&mut app, KeyCode::Enter);
        has(&app, "trim included");
        press(&mut app, KeyCode::Esc);
        press(&mut app, KeyCode::Right);
        has(&app, "what to buy 1 of ");
        has(&app, "sheets");
        press(&mut app, KeyCode::Right);
        has(&app, "resin by batch");
        has(&app, "not shown");
        press(&mut app, KeyCode::Right);
        has(&app, "a sheet for each part");
        has(&app, "stop at");
        press(&mut app, KeyCode::Enter);
        has(&app, "STOP-WEIGHT");
        press(&mut app, KeyCode::Esc);
        press(&mut app, KeyCode::Right);
        has(&app, "cut list 1 of ");
        keys(&mut app, "w");
        has(&app, "the scales");
        keys(&mut app, "cc");
        has(&app, "proof load by bags");
    }
}
