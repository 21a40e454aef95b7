//! The cut list against the parts list, blank by blank, for every shipped wing; the table of the workshop; its sheets.

use std::path::Path;

use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::design::Design;
use thistledown::physics::evaluation::{Evaluation, evaluate};
use thistledown::physics::workshop::cuts::{self, CutList};
use thistledown::physics::workshop::part_sheets::{self, as_drawn, made_up_kg};
use thistledown::physics::workshop::{batches, forecast, to_buy};
use thistledown::scenario::load;

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
        let (e, list) = cut(&d);
        let (drawn, f) = (as_drawn(&d, &e), forecast::of(&d, &e));
        let sheets = part_sheets::of(&d, &e, &list, &f);
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
    }
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
fn print_once() {
    let (name, d) = shipped().into_iter().find(|s| s.0 == "marram-mixed").unwrap();
    let (_, list) = cut(&d);
    println!("{name} {} lines", list.cuts.len());
    for c in &list.cuts {
        println!("{:<60} {:?} {:.0} {:.0}x{:.0} n{} net {:.4} kg {:.4}", c.name, c.stuff, c.angle_rad.to_degrees(), c.blank.length_m*1e3, c.blank.width_m*1e3, c.count, c.net_m2, c.net_kg);
    }
    for m in to_buy::of(&d, &list) { println!("{m:?} waste {:.2}", m.waste()); }
    for b in batches::of(&d.stock, &list) { println!("{b:?}"); }
    println!("{:#?}", list.remarks);
}
