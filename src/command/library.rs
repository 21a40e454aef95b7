//! `library`: materials and constructions, with where each number came from.

use std::fmt::Write as _;

use clap::Args;

use crate::command::{Outcome, say};
use crate::physics::assumptions::Assumptions;
use crate::physics::laminate::construction;
use crate::physics::material::{Mark, Origin, Weave};
use crate::physics::stock::Stock;
use crate::problem::Problem;
use crate::report::spread;
use crate::scenario::library::shelf;
use crate::survey::space::distance;

/// List what a wing can be made of, or show one entry with its numbers and source
///
/// Example: thistledown library pvc_60
#[derive(Debug, Args)]
pub struct LibraryArgs {
    /// Key of a material or construction
    pub key: Option<String>,
}

const fn word(m: Mark) -> &'static str {
    match m {
        Mark::Read => "read",
        Mark::Computed => "computed",
        Mark::Memory => "memory",
        Mark::Assumed => "assumed",
        Mark::Measured => "measured",
    }
}

/// One line of the list: heading, key, what it is, numbers, origin.
type Entry = (&'static str, String, String, String, Option<Origin>);

fn entries() -> Vec<Entry> {
    let s = shelf();
    let l = &s.library;
    let mut out: Vec<Entry> = Vec::new();
    for f in &l.fabrics {
        out.push((
            "fabrics",
            f.key.clone(),
            f.name.clone(),
            format!("{:.0} g/m2", f.areal_mass_kg_m2 * 1e3),
            Some(f.origin.clone()),
        ));
    }
    for f in &l.foams {
        let n = format!(
            "{:.0} kg/m3, crush {:.2} (min {:.2}) MPa, E {:.1} MPa, G {:.1} MPa, pick-up {:.0} g/m2 a face",
            f.density_kg_m3,
            f.crush_pa / 1e6,
            f.crush_min_pa / 1e6,
            f.modulus_pa / 1e6,
            f.shear_modulus_pa / 1e6,
            f.pickup_kg_m2 * 1e3
        );
        out.push(("cores", f.key.clone(), f.name.clone(), n, Some(f.origin.clone())));
    }
    for w in &l.woods {
        let n = format!("{:.0} kg/m3, E {:.1} GPa", w.density_kg_m3, w.modulus_pa / 1e9);
        out.push(("woods", w.key.clone(), w.name.clone(), n, Some(w.origin.clone())));
    }
    for c in &l.coverings {
        let n = format!("{:.0} g/m2, {:.1} kN/m", c.areal_mass_kg_m2 * 1e3, c.strength_n_m / 1e3);
        out.push(("coverings", c.key.clone(), c.name.clone(), n, Some(c.origin.clone())));
    }
    for p in &l.processes {
        let n = format!("fibre fraction {:.2} ({:.2}-{:.2}) by volume", p.fibre_volume_fraction, p.fvf_low, p.fvf_high);
        out.push(("processes", p.key.clone(), p.name.clone(), n, Some(p.origin.clone())));
    }
    let small =
        |h: &'static str, k: &str, n: &str, x: String, o: &Origin| (h, k.to_owned(), n.to_owned(), x, Some(o.clone()));
    out.extend(
        l.fastenings
            .iter()
            .map(|f| small("fastenings", &f.key, &f.name, format!("{:.0} g/m", f.mass_kg_m * 1e3), &f.origin)),
    );
    out.extend(
        l.fillings
            .iter()
            .map(|f| small("fillings", &f.key, &f.name, format!("{:.2} of neat pick-up", f.pickup_ratio), &f.origin)),
    );
    out.extend(
        l.tools
            .iter()
            .map(|f| small("tools", &f.key, &f.name, format!("fairing {:.0} g/m2", f.fairing_kg_m2 * 1e3), &f.origin)),
    );
    out.extend(
        l.finishes
            .iter()
            .map(|f| small("finishes", &f.key, &f.name, format!("{:.0} g/m2", f.areal_mass_kg_m2 * 1e3), &f.origin)),
    );
    for c in &s.constructions {
        let k = construction::properties(c, l, &Assumptions::default());
        let n =
            format!("{:.0} ± {:.0} g/m2, {:.1} mm", k.mass.total() * 1e3, k.mass_sd_kg_m2 * 1e3, k.thickness_m * 1e3);
        out.push(("constructions", c.key.clone(), c.name.clone(), n, None));
    }
    out
}

/// What a material is bought as where a scenario says nothing of it.
fn comes_as(heading: &str, key: &str) -> Option<String> {
    let (stock, library) = (Stock::default(), &shelf().library);
    let [foam, wood] = [stock.foam_sheet_m, stock.wood_sheet_m]
        .map(|[l, w]| format!("in sheets of {:.0} x {:.0} mm", 1e3 * l, 1e3 * w));
    let roll = |width_m: f64| format!("on a roll {:.0} mm wide", 1e3 * width_m);
    let one_way = |key: &str| library.fabrics.iter().any(|f| f.key == key && f.weave == Weave::Unidirectional);
    let words = match heading {
        "fabrics" if one_way(key) => roll(stock.tape_roll_m),
        "fabrics" => roll(stock.cloth_roll_m),
        "coverings" => roll(stock.covering_roll_m),
        "cores" => foam,
        "woods" => wood,
        _ => return None,
    };
    Some(format!("bought {words}: common practice, no source; [workshop] of a scenario gives yours"))
}

/// Run it.
pub fn run(args: &LibraryArgs) -> Outcome {
    let all = entries();
    let Some(key) = &args.key else {
        let mut out = String::new();
        let mut heading = "";
        for e in &all {
            if e.0 != heading {
                heading = e.0;
                let _ = writeln!(out, "{heading}");
            }
            let mark = e.4.as_ref().map_or("", |o| word(o.mark));
            let _ = writeln!(out, "  {:<20} {:<9} {}  ({})", e.1, mark, e.2, e.3);
        }
        out.push_str("read, computed, memory, assumed, measured: how far each number can be trusted. None is a design allowable.\n");
        say(&out)?;
        return Ok(0);
    };
    if let Some(e) = all.iter().find(|e| e.1 == *key) {
        let from = e.4.as_ref().map_or(String::new(), |o| format!("\n  {}: {}", word(o.mark), o.source));
        let mut out = format!("{} ({})\n  {}\n  {}{from}\n", e.1, e.0, e.2, e.3);
        if let Some(words) = comes_as(e.0, key) {
            let _ = writeln!(out, "  {words}");
        }
        let shelf = shelf();
        if let Some(c) = shelf.constructions.iter().find(|c| e.0 == "constructions" && c.key == *key) {
            let skin = construction::properties(c, &shelf.library, &Assumptions::default());
            let lines = spread::long(&skin, c, &shelf.library);
            if !lines.is_empty() {
                let _ = writeln!(out, "  {}", spread::HEAD);
                lines.iter().for_each(|w| {
                    let _ = writeln!(out, "    {w}");
                });
                let _ = writeln!(out, "  {}", spread::BLOWS);
            }
        }
        say(&out)?;
        return Ok(0);
    }
    let near = all.iter().map(|e| e.1.as_str()).min_by_key(|n| distance(n, key)).unwrap_or("");
    Err(vec![Problem::input(format!("the library has nothing called `{key}`"), format!("the nearest is `{near}`"))])
}
