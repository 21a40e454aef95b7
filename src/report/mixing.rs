//! Resin by batch in words and as JSON: what each lay-up needs, and the pots it is mixed in.

use std::fmt::Write as _;

use serde_json::{Value, json};

use crate::physics::design::Design;
use crate::physics::workshop::batches::{self, Batch, split_kg};
use crate::physics::workshop::cuts::CutList;
use crate::report::csv::line as csv_line;

/// What belongs on a sheet that sends somebody to mix and lay up.
pub const WET: [&str; 5] = [
    "A pot of resin heats itself, the more of it the hotter: mix no more than the maker allows in one pot, spread it at once, and take a pot that turns hot outdoors, away from what burns.",
    "Weigh resin and hardener on a scale at the ratio of the data sheet, stir to the corners, pour into a second cup and stir again. More hardener does not cure faster: it does not cure.",
    "Uncured resin and hardener can make skin allergic for good: gloves that hold against both, long sleeves, no solvent on skin; leave the work at the first rash and see a doctor.",
    "Solvents and resin need moving air, no flame or spark, and a mask for organic vapour where the data sheet says so. Soaked rags go out of the shop in a closed metal bin.",
    "Sanding what is cured throws dust of glass, carbon and resin: let it cure through, then extraction, a mask for fine dust, eyes and skin covered.",
];

/// What the columns are.
pub const COLUMNS: &str = "lay-up                    n  fibre  stays   mix   min  pots, each  resin + hard.";

/// Below this the ratio hangs on single grams of the scale, kg: common practice, no source.
const SMALL_POT_KG: f64 = 0.05;

fn g(kg: f64) -> String {
    format!("{:.0}", 1e3 * kg)
}

/// One lay-up: dry fibre, resin that stays with what fills the core, mixed with loss, minutes to wet out, pots.
pub fn row(design: &Design, b: &Batch) -> String {
    let name: String = b.name.chars().take(24).collect();
    let pot = b.pot_kg();
    let split = match design.stock.hardener_parts {
        _ if b.glue => "glue".to_owned(),
        Some(h) => {
            let (resin, hardener) = split_kg(pot, h);
            format!("{} + {}", g(resin), g(hardener))
        }
        None => "not shown".to_owned(),
    };
    let minutes = if b.glue { "-".to_owned() } else { format!("{:.0}", b.minutes) };
    let fibre = if b.glue { "-".to_owned() } else { g(b.fibre_kg) };
    let pots = format!("{} x {}", b.pots, g(pot));
    format!(
        "{name:<24}{:>3}{fibre:>7}{:>7}{:>6}{minutes:>6}{pots:>12}{split:>15}",
        b.times,
        g(b.stays_kg + b.filling_kg),
        g(b.mixed_kg)
    )
}

/// The pots of a lay-up in words.
pub fn pots(design: &Design, b: &Batch) -> String {
    let times = if b.times > 1 { format!(", {} alike, each", b.times) } else { String::new() };
    let split = design.stock.hardener_parts.filter(|_| !b.glue).map(|h| split_kg(b.pot_kg(), h));
    let split = split.map_or(String::new(), |(r, h)| format!(" ({} g of resin, {} g of hardener)", g(r), g(h)));
    let pots = if b.pots == 1 { "1 pot".to_owned() } else { format!("{} pots", b.pots) };
    format!("{}{times}: {} g mixed in {pots} of {} g{split}", b.name, g(b.mixed_kg), g(b.pot_kg()))
}

/// What all lay-ups come to, and on what it rests.
pub fn words(design: &Design, all: &[Batch]) -> Vec<String> {
    let s = &design.stock;
    let sum = |glue: bool, f: &dyn Fn(&Batch) -> f64| -> f64 {
        all.iter().filter(|b| b.glue == glue).map(|b| f64::from(b.times) * f(b)).sum()
    };
    let mixed = sum(false, &|b| b.mixed_kg);
    let mut out = vec![format!(
        "resin for the wing: {mixed:.2} kg mixed, of it {:.2} kg stays in plies and laps and {:.2} kg fills cores; {:.2} kg stays in pot, roller and bag",
        sum(false, &|b| b.stays_kg),
        sum(false, &|b| b.filling_kg),
        mixed - sum(false, &|b| b.stays_kg + b.filling_kg)
    )];
    out.push(match s.hardener_parts {
        Some(h) => {
            let (resin, hardener) = split_kg(mixed, h);
            format!("to buy at least {resin:.2} kg of resin and {hardener:.2} kg of hardener, {h} parts to 100 by mass as the scenario says: check it on the data sheet of your resin")
        }
        None => "resin and hardener are not split: give workshop.hardener_parts, parts by mass to 100 of resin, off the data sheet of yours".to_owned(),
    });
    out.push(format!(
        "glue for the wing: {:.2} kg mixed, {:.0} % of what stays lost in the pot",
        sum(true, &|b| b.mixed_kg),
        100.0 * s.glue_loss
    ));
    out.push(format!(
        "a pot holds {:.0} g at most and is used up in {:.0} min, {} min to wet out a square metre of one ply (workshop.pot_g, pot_life_min, wet_out_min_m2; common practice, no source, where the scenario is silent); what is mixed over what stays is resin_waste of the process",
        1e3 * s.pot_kg, s.pot_life_min, s.wet_out_min_m2
    ));
    out.push("what fills a core counts as resin; with a filler in it, mix that much less".to_owned());
    if all.iter().any(|b| b.pot_kg() < SMALL_POT_KG) {
        out.push(format!(
            "a pot under {:.0} g is hard to weigh at its ratio: mix it with another lay-up of the day, or weigh to 0.1 g (common practice, no source)",
            1e3 * SMALL_POT_KG
        ));
    }
    let long: Vec<String> =
        all.iter().filter(|b| !b.glue && b.minutes > s.pot_life_min).map(|b| b.name.clone()).collect();
    if !long.is_empty() {
        out.push(format!(
            "wetting out takes longer than a pot lives: {}. Take a hardener whose laid resin stays open until the bag is on, more hands, or lay up in stages",
            long.join(", ")
        ));
    }
    out
}

/// The sheet.
pub fn text(design: &Design, list: &CutList) -> String {
    let all = batches::of(&design.stock, list);
    let mut out = format!("RESIN BY BATCH: {}\n", design.name);
    out.push_str(&super::holds::broken(
        "g of one lay-up; stays: with what fills the core; mix: with what is lost; then resin and hardener of one pot",
    ));
    let _ = writeln!(out, "{COLUMNS}");
    for b in &all {
        let _ = writeln!(out, "{}", row(design, b));
    }
    out.push('\n');
    for line in words(design, &all).iter().map(String::as_str).chain([""]).chain(WET) {
        out.push_str(&super::holds::broken(line));
    }
    out
}

/// The batches as comma-separated values, a line for each lay-up: of one of those alike; nothing where glue has none or no split is
/// given.
pub fn csv(design: &Design, list: &CutList) -> String {
    let mut out = String::from(
        "lay_up,times,glue,fibre_kg,ply_m2,stays_kg,core_filling_kg,mixed_kg,minutes,pots,pot_kg,pot_resin_kg,pot_hardener_kg\n",
    );
    for b in batches::of(&design.stock, list) {
        let split = design.stock.hardener_parts.filter(|_| !b.glue).map(|h| split_kg(b.pot_kg(), h));
        let kg = |kg: f64| format!("{kg:.6}");
        let laid = |words: String| if b.glue { String::new() } else { words };
        out.push_str(&csv_line([
            b.name.clone(),
            b.times.to_string(),
            b.glue.to_string(),
            laid(kg(b.fibre_kg)),
            laid(kg(b.ply_m2)),
            kg(b.stays_kg),
            kg(b.filling_kg),
            kg(b.mixed_kg),
            laid(format!("{:.2}", b.minutes)),
            b.pots.to_string(),
            kg(b.pot_kg()),
            split.map_or(String::new(), |s| kg(s.0)),
            split.map_or(String::new(), |s| kg(s.1)),
        ]));
    }
    out
}

/// For other programs.
pub fn json(design: &Design, list: &CutList) -> Value {
    let all = batches::of(&design.stock, list);
    let each: Vec<Value> = all
        .iter()
        .map(|b| {
            let split = design.stock.hardener_parts.filter(|_| !b.glue).map(|h| split_kg(b.pot_kg(), h));
            json!({
                "lay_up": b.name, "times": b.times, "glue": b.glue, "fibre_kg": b.fibre_kg, "ply_m2": b.ply_m2,
                "stays_kg": b.stays_kg, "core_filling_kg": b.filling_kg, "mixed_kg": b.mixed_kg, "minutes": b.minutes,
                "pots": b.pots, "pot_kg": b.pot_kg(), "pot_resin_kg": split.map(|s| s.0), "pot_hardener_kg": split.map(|s| s.1),
            })
        })
        .collect();
    json!({"scenario": design.name, "batches": each, "hardener_parts": design.stock.hardener_parts, "cautions": WET})
}
