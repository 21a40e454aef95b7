//! Controls, joints and ribs of a scenario.

use crate::physics::design::{Control, Joint, Lug, RearPin, RibKind, RibRegion, Seat};
use crate::physics::laminate::construction::Kind;
use crate::scenario::check::{DEG, G, KG, MM, Picked, covers, end_of, q};
use crate::scenario::joint_dials;
use crate::scenario::library::index_of;
use crate::scenario::reader::Table;

pub(super) fn controls(layout: &Table, picked: &Picked) -> Vec<Control> {
    let mut before: Vec<(String, f64, f64)> = Vec::new();
    layout
        .tables("control")
        .iter()
        .map(|t| {
            let from_eta = t.need("from", 0.0..=1.0);
            let (to_eta, known) = end_of(t, from_eta, true);
            let c = Control {
                name: t.text("name").unwrap_or_else(|| "control".to_owned()),
                from_eta,
                to_eta,
                up_rad: t.number_or("up_deg", 0.0..=45.0, 20.0) * DEG,
                down_rad: t.number_or("down_deg", 0.0..=45.0, 12.0) * DEG,
                fittings_kg: t.quantity_or(q("fittings", KG), 0.0..=20.0, 0.4),
                // An assumption where the scenario is silent: a hinge at every rib, a horn of 60 mm.
                hinges: t.whole_or("hinges", 0..=50, 0),
                horn_m: t.quantity_or(q("horn", MM), 10.0..=300.0, 0.060),
                wing_wall: wall(t, picked, "wing_wall"),
                control_wall: wall(t, picked, "control_wall"),
            };
            if known && c.to_eta <= c.from_eta {
                t.faults.add(
                    t.place("to"),
                    format!("{} ends at {} before it begins at {}", t.path, c.to_eta, c.from_eta),
                    "make `to` the greater",
                );
            }
            if let Some(other) = before.iter().find(|o| known && c.from_eta < o.2 - 1e-6 && o.1 < c.to_eta - 1e-6) {
                t.faults.add(
                    t.place("from"),
                    format!("{} lies over \"{}\", from {} to {}", t.path, other.0, other.1, other.2),
                    "let one control end where the other begins",
                );
            }
            before.push((c.name.clone(), c.from_eta, c.to_eta));
            t.done();
            c
        })
        .collect()
}

/// What a wall along the hinge is made of: anything that is a sheet.
fn wall(t: &Table, picked: &Picked, key: &'static str) -> Option<usize> {
    let i = picked.find(t, key)?;
    let made = picked.shelf.constructions.get(i)?;
    if matches!(made.kind, Kind::Covering | Kind::Open) {
        t.faults.add(
            t.place(key),
            format!("{}.{key} is \"{}\", {}", t.path, made.key, made.kind.word()),
            "name a sheet that stands by itself, such as \"web_glass\" or \"skin_birch\"",
        );
        return None;
    }
    Some(i)
}

pub(super) fn joints(layout: &Table, kinds: &[RibKind]) -> Vec<Joint> {
    layout
        .tables("joint")
        .iter()
        .map(|t| {
            let j = Joint {
                name: t.text("name").unwrap_or_else(|| "joint".to_owned()),
                eta: t.need("at", 0.0..=0.95),
                fittings_kg: t.quantity_or(q("fittings", KG), 0.0..=20.0, 0.6),
                pin_diameter_m: t.quantity_or(q("pin_diameter", MM), 2.0..=60.0, 0.012),
                pins: t.whole_or("pins", 1..=12, 2),
                pin_spread: t.number_or("pin_spread", 0.1..=1.0, 0.8),
                bearing_pa: t.quantity_or(q("bearing", &[("mpa", 1e6)]), 1.0..=1000.0, 120e6),
                set_up_minutes: t.number_or("set_up_minutes", 0.0..=240.0, 4.0),
                lug: lug(t),
                seat: seat(t),
                rib: t.text("rib").and_then(|w| index_of(t, t.place("rib"), &w, kinds, |k: &RibKind| &k.name)),
                rear_fitting_chord: t.number("rear_fitting_chord", joint_dials::range("rear_fitting_chord")),
                rear_pin: rear_pin(t),
            };
            t.done();
            j
        })
        .collect()
}

const MPA: &[(&str, f64)] = &[("mpa", 1e6)];

/// A number of a lug or a seat: who gives one gives them all.
fn of_joint(t: &Table, name: &'static str, unit: &'static [(&'static str, f64)]) -> f64 {
    let range = joint_dials::range(&format!("{name}_{}", unit.first().map_or("", |u| u.0)));
    t.need_quantity(q(name, unit), range)
}

/// Whether the scenario gives any of these numbers, in whatever unit.
fn gives(t: &Table, lengths: &[&str], strengths: &[&str]) -> bool {
    let any = |names: &[&str], units: &[(&str, f64)]| {
        names.iter().any(|n| units.iter().any(|(unit, _)| t.has(&format!("{n}_{unit}"))))
    };
    any(lengths, MM) || any(strengths, MPA)
}

/// The lug of a joint, and what its fittings sit on.
fn lug(t: &Table) -> Option<Lug> {
    gives(t, &["lug_width", "lug_thickness", "lug_end"], &["lug_tension", "lug_yield"]).then(|| Lug {
        width_m: of_joint(t, "lug_width", MM),
        thickness_m: of_joint(t, "lug_thickness", MM),
        end_m: of_joint(t, "lug_end", MM),
        tension_pa: of_joint(t, "lug_tension", MPA),
        yield_pa: of_joint(t, "lug_yield", MPA),
    })
}

fn seat(t: &Table) -> Option<Seat> {
    gives(t, &["seat_length", "seat_width"], &["seat_crush"]).then(|| Seat {
        length_m: of_joint(t, "seat_length", MM),
        width_m: of_joint(t, "seat_width", MM),
        crush_pa: of_joint(t, "seat_crush", MPA),
    })
}

fn rear_pin(t: &Table) -> Option<RearPin> {
    let any = gives(t, &["rear_pin_diameter", "rear_bearing_length"], &["rear_pin_tension", "rear_bearing"]);
    (any || t.has("rear_pin_planes")).then(|| RearPin {
        diameter_m: of_joint(t, "rear_pin_diameter", MM),
        planes: t.whole_or("rear_pin_planes", 1..=2, 1),
        tension_pa: of_joint(t, "rear_pin_tension", MPA),
        length_m: of_joint(t, "rear_bearing_length", MM),
        bearing_pa: of_joint(t, "rear_bearing", MPA),
    })
}

pub(super) fn missing_ribs(root: &Table) -> (Vec<RibKind>, Vec<RibRegion>) {
    root.faults.add(0, "[ribs] is missing", "give [[ribs.kind]] and [[ribs.region]]");
    (Vec::new(), Vec::new())
}

pub(super) fn ribs(t: &Table, picked: &Picked) -> (Vec<RibKind>, Vec<RibRegion>) {
    let mut kinds = Vec::new();
    for k in t.tables("kind") {
        let with = |name: &str, share: f64| picked.find(&k, name).map(|c| (c, share));
        let cap_width = k.quantity_or(q("cap_width", MM), 1.0..=100.0, 0.010);
        let wrap_share = k.number_or("wrap_share", 0.0..=3.0, 0.3);
        kinds.push(RibKind {
            name: k.need_text("name"),
            body: picked.find(&k, "body").unwrap_or(0),
            lightening: k.number_or("lightening", 0.0..=0.8, 0.0),
            cap: with("cap", cap_width),
            wrap: with("wrap", wrap_share),
            fittings_kg: k.quantity_or(q("fittings", G), 0.0..=2000.0, 0.0),
            hinge_folding: k.flag("folding", false),
            hours_each: k.number_or("hours_each", 0.0..=100.0, 1.0),
            tip_thickness_ratio: k.number_or("tip_ratio", 0.1..=1.5, 1.0),
        });
        if !k.has("body") {
            k.faults.add(k.at, format!("{} names no body", k.path), "write body = \"rib_foam_glass\"");
        }
        k.done();
    }
    let mut regions: Vec<RibRegion> = Vec::new();
    let in_all = t.tables("region");
    let n = in_all.len();
    for (i, r) in in_all.into_iter().enumerate() {
        let index = |key: &str| {
            r.text(key).and_then(|w| index_of(&r, r.place(key), &w, &kinds, |k: &RibKind| &k.name)).unwrap_or(0)
        };
        let from_eta = r.need("from", 0.0..=1.0);
        let (to_eta, known) = end_of(&r, from_eta, i + 1 == n);
        regions.push(RibRegion {
            from_eta,
            to_eta,
            bays: r.whole_or("bays", 1..=80, 8),
            kind: index("kind"),
            nose_between: r.whole_or("nose_between", 0..=12, 0),
            nose_kind: index("nose_kind"),
        });
        if known && to_eta <= from_eta {
            r.faults.add(
                r.place("to"),
                format!("{} ends at {to_eta} before it begins at {from_eta}", r.path),
                "make `to` the greater",
            );
        }
        r.done();
    }
    covers(t, regions.iter().map(|r| (r.from_eta, r.to_eta)), "rib regions");
    if kinds.is_empty() {
        t.faults.add(t.at, "no [[ribs.kind]] is given", "give at least one");
    }
    t.done();
    (kinds, regions)
}
