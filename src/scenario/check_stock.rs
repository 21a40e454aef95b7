//! The `[workshop]` table: what material comes in, what is left for trimming, how resin is mixed. Every value but the share of
//! hardener has a default.

use crate::physics::stock::{OwnStock, Size, Stock};
use crate::scenario::check::{G, q};
use crate::scenario::library::Shelf;
use crate::scenario::reader::{Table, nearest};

const MM: &[(&str, f64)] = super::check::MM;

/// Read it.
pub(super) fn stock(root: &Table, own: &Shelf) -> Stock {
    let d = Stock::default();
    let Some(t) = root.table("workshop") else { return d };
    let roll = |name: &str, default: f64| t.quantity_or(q(name, MM), 25.0..=5000.0, default);
    let sheet = |what: &str, [l, w]: [f64; 2]| {
        let side =
            |end: &str, default: f64| t.quantity_or(q(&format!("{what}_sheet_{end}"), MM), 50.0..=10_000.0, default);
        [side("length", l), side("width", w)]
    };
    let left = |name: &str, default: f64| t.quantity_or(q(name, MM), 0.0..=200.0, default);
    let s = Stock {
        cloth_roll_m: roll("cloth_roll", d.cloth_roll_m),
        tape_roll_m: roll("tape_roll", d.tape_roll_m),
        covering_roll_m: roll("covering_roll", d.covering_roll_m),
        foam_sheet_m: sheet("foam", d.foam_sheet_m),
        wood_sheet_m: sheet("wood", d.wood_sheet_m),
        trim_m: left("trim", d.trim_m),
        core_trim_m: left("core_trim", d.core_trim_m),
        turn_m: left("turn", d.turn_m),
        join_lap_m: left("join_lap", d.join_lap_m),
        scarf_ratio: t.number_or("scarf_ratio", 0.0..=30.0, d.scarf_ratio),
        pot_kg: t.quantity_or(q("pot", G), 10.0..=20_000.0, d.pot_kg),
        pot_life_min: t.number_or("pot_life_min", 1.0..=1000.0, d.pot_life_min),
        wet_out_min_m2: t.number_or("wet_out_min_m2", 0.1..=200.0, d.wet_out_min_m2),
        glue_loss: t.number_or("glue_loss", 0.0..=3.0, d.glue_loss),
        hardener_parts: t.number("hardener_parts", 0.1..=400.0),
        own: own_stocks(&t, own),
    };
    t.done();
    s
}

/// Every material that comes in another size, once.
fn own_stocks(t: &Table, shelf: &Shelf) -> Vec<OwnStock> {
    let mut out: Vec<OwnStock> = Vec::new();
    for r in t.tables("stock") {
        let Some(new) = own_stock(&r, shelf) else { continue };
        if out.iter().any(|o| o.of == new.of) {
            let next = "keep one of them: a material comes in one size";
            r.faults.add(r.place("of"), format!("\"{}\" stands twice under [[workshop.stock]]", new.of), next);
        } else {
            out.push(new);
        }
    }
    out
}

/// A roll or a sheet of one material.
fn own_stock(t: &Table, shelf: &Shelf) -> Option<OwnStock> {
    let lib = &shelf.library;
    let given = if t.has("of") { t.text("of") } else { Some(t.need_text("of")).filter(|of| !of.is_empty()) };
    let of = given.clone().unwrap_or_default();
    let rolls: Vec<&str> =
        lib.fabrics.iter().map(|x| x.key.as_str()).chain(lib.coverings.iter().map(|x| x.key.as_str())).collect();
    let sheets: Vec<&str> =
        lib.foams.iter().map(|x| x.key.as_str()).chain(lib.woods.iter().map(|x| x.key.as_str())).collect();
    let roll = t.quantity(q("roll", MM), 25.0..=5000.0);
    let length = t.quantity(q("sheet_length", MM), 50.0..=10_000.0);
    let width = t.quantity(q("sheet_width", MM), 50.0..=10_000.0);
    t.done();
    let (on_roll, in_sheets) = (rolls.contains(&of.as_str()), sheets.contains(&of.as_str()));
    if !on_roll && !in_sheets {
        // A value of another kind was told already.
        if given.is_some() {
            let near = nearest(&of, rolls.into_iter().chain(sheets)).unwrap_or("");
            let next = format!("the nearest valid name is \"{near}\"");
            t.faults.add(t.place("of"), format!("no material is called \"{of}\""), next);
        }
        return None;
    }
    let told = [("roll", roll), ("sheet_length", length), ("sheet_width", width)]
        .iter()
        .any(|(name, value)| value.is_none() && MM.iter().any(|(unit, _)| t.has(&format!("{name}_{unit}"))));
    if told {
        return None;
    }
    let size = match (roll, length.zip(width)) {
        (Some(w), _) if on_roll && length.is_none() && width.is_none() => Size::Roll(w),
        (None, Some((l, w))) if in_sheets => Size::Sheet([l, w]),
        _ => {
            let next = if on_roll {
                "it comes on a roll: write roll_mm = 1270 and nothing else"
            } else {
                "it comes in sheets: write sheet_length_mm = 2440 and sheet_width_mm = 1220, and no roll"
            };
            t.faults.add(t.at, format!("{} does not say what \"{of}\" comes in", t.path), next);
            return None;
        }
    };
    Some(OwnStock { of, size })
}
