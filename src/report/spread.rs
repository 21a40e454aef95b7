//! The spread of what a construction stands, taken apart: each form of damage, each thing it scatters by, with the power it
//! enters with, and on whose word.

use serde_json::{Value, json};

use crate::physics::assumptions::LIST;
use crate::physics::durability::spread::{self, From, Part};
use crate::physics::laminate::construction::{Construction, Skin};
use crate::physics::material::{Library, Origin};
use crate::physics::samples::record::Form;

/// On whose word a part stands, and how far that can be trusted.
fn word(part: &Part, lib: &Library) -> String {
    let entry = |o: Option<(&str, &Origin)>, what: &str| {
        o.map_or(String::new(), |(key, o)| format!("{what} of {key}, {}", o.mark.word()))
    };
    match part.from {
        From::Foam(i) => entry(lib.foams.get(i).map(|x| (&*x.key, &x.origin)), "band"),
        From::Fabric(i) => entry(lib.fabrics.get(i).map(|x| (&*x.key, &x.origin)), "band"),
        From::Process(i) => entry(lib.processes.get(i).map(|x| (&*x.key, &x.origin)), "band"),
        From::Tool(i) => entry(lib.tools.get(i).map(|x| (&*x.key, &x.origin)), "entry"),
        From::Covering(i) => entry(lib.coverings.get(i).map(|x| (&*x.key, &x.origin)), "band"),
        From::Wood(i) => entry(lib.woods.get(i).map(|x| (&*x.key, &x.origin)), "entry"),
        From::Assumed(a) => format!("assumption {}: {}", LIST[a as usize].key, LIST[a as usize].source),
        From::Stated(words) => words.to_owned(),
    }
}

/// Forms a construction can be damaged in, with the parts of each.
fn forms(s: &Skin, c: &Construction, lib: &Library) -> Vec<(Form, Vec<Part>)> {
    let each = Form::ALL.into_iter().map(|f| (f, spread::parts(s, c, lib, f)));
    each.filter(|(_, parts)| !parts.is_empty()).collect()
}

/// One line for each form of damage.
pub fn short(s: &Skin, c: &Construction, lib: &Library) -> Vec<String> {
    let one = |(f, _): (Form, Vec<Part>)| {
        let of = s.spread[f as usize];
        format!(
            "{}: {:.2} (form {:.2}, construction {:.2}, from place to place {:.2})",
            f.word(),
            of.whole(f),
            spread::shared(f),
            of.own,
            of.place
        )
    };
    forms(s, c, lib).into_iter().map(one).collect()
}

/// What the lines of [`long`] mean.
pub const HEAD: &str = "spread of what it stands, standard deviation of the logarithm before samples: root of the squares of power x spread";

/// How energies stand to loads.
pub const BLOWS: &str = "a blow is stood with an energy: its spread is that of the load times one (taken at the contact) to two (by the panel), with that of the panel's give or a covering's tension";

/// Every part of every form; of those that add less than a hundredth only how many.
pub fn long(s: &Skin, c: &Construction, lib: &Library) -> Vec<String> {
    let mut out = Vec::new();
    for (f, parts) in forms(s, c, lib) {
        out.push(format!("{}: {:.2}", f.word(), s.spread[f as usize].whole(f)));
        let of = &LIST[f.assumed() as usize];
        out.push(format!("  {:<26} 1.00 x {:.2} = {:.2}  {}", "the form itself", of.beta, of.beta, of.source));
        let mut little = 0;
        for p in parts {
            if p.adds() < 0.005 {
                little += 1;
                continue;
            }
            out.push(format!(
                "  {:<26}{:5.2} x {:.2} = {:.2}  {}",
                p.title,
                p.power,
                p.own.hypot(p.place),
                p.adds(),
                word(&p, lib)
            ));
        }
        if little > 0 {
            out.push(format!("  and {little} more that add less than 0.005 each"));
        }
    }
    out
}

/// The same for other programs.
pub fn json(s: &Skin, c: &Construction, lib: &Library) -> Value {
    let one = |(f, parts): (Form, Vec<Part>)| {
        let of = s.spread[f as usize];
        let parts: Vec<Value> = parts
            .iter()
            .map(|p| {
                json!({
                    "part": p.title, "power": p.power, "over_a_build": p.own, "from_place_to_place": p.place, "from": word(p, lib),
                })
            })
            .collect();
        let v = json!({
            "spread": of.whole(f), "form": spread::shared(f), "construction": of.own, "from_place_to_place": of.place,
            "parts": parts,
        });
        (f.word().to_owned(), v)
    };
    Value::Object(forms(s, c, lib).into_iter().map(one).collect())
}
