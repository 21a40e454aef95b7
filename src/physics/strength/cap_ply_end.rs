//! Ends of cap layers: a layer that stops inside the loaded cap peels back from its end.

use crate::physics::assumptions::Assumptions;
use crate::physics::design::{Cap, CapMaterial};
use crate::physics::laminate::cap::CapLayer;
use crate::physics::mass::spar::{cap_layers, cap_width_m};
use crate::physics::material::Mark;
use crate::physics::strength::{Context, Margin, Mode, Verdict, caps, inputs, margin};

pub const MODE: Mode = Mode {
    key: "cap_ply_end",
    title: "peel at cap ply ends",
    formula: "cap force per width where a layer ends against sqrt(2 Gc / (1/(E t) - 1/(E (t + one layer)))), t what goes on",
    source: "energy released by an end in a member of two stiffnesses, derived; the form of the cracked lap shear specimen (Brussat, from memory); Gc a third of 1387 J/m2, vacuum-bagged carbon and epoxy in end-notched flexure (Universitaet der Bundeswehr Muenchen, abstract)",
    mark: Mark::Computed,
    valid: "square ends one at a time, 20 mm apart in cloth and 50 mm in pultruded strips: where a bay has no room for that, where nothing of the cap goes on, and in wood it is not shown; no ply end of a described cap could be read",
    safe_side: "a scarfed end, resin at the end and the web's grip are left out; an outermost end also opens, which the third is for",
    knock_down: "a third of the measured fracture energy",
    power: 1.0,
    margins: Some(margins),
};

/// Force per width at which an end of `layer` on a member of `left` peels on, N/m; both E t, N/m: `sqrt(2 Gc/(1/left -
/// 1/(left + layer)))`.
///
/// **Derived**: at a given force the strain energy per length falls by `f^2/2 (1/left - 1/(left + layer))` as the end
/// creeps on, whatever the glue. **Valid for:** an end many shear-lag lengths from the next; elastic.
/// **Safe side:** friction and the strength of an undamaged end are left out.
pub fn held_n_m(left_n_m: f64, layer_n_m: f64, fracture_j_m2: f64) -> f64 {
    let released = 1.0 / left_n_m.max(1e-9) - 1.0 / (left_n_m + layer_n_m).max(1e-9);
    if released > 0.0 { (2.0 * fracture_j_m2 / released).sqrt() } else { f64::INFINITY }
}

/// Room each end needs for the next to stand in a load that has settled, m: at the least five lengths `1/sqrt(G/t (1/left +
/// 1/layer))` of shear lag, 2 mm for a layer of cloth in its resin, 7 mm for a strip on 0.4 mm of glue. A choice.
const APART_CLOTH_M: f64 = 0.020;
const APART_STRIP_M: f64 = 0.050;

/// Why the formula does not cover the ends of this cap at the end of a bay, if it does not.
fn outside(cap: &Cap, left: u32, ended: u32, room_m: f64) -> Option<&'static str> {
    let apart = match cap.material {
        CapMaterial::Wood { .. } => {
            return Some("wood layers: no fracture energy of a glued end of grain could be read");
        }
        CapMaterial::Pultruded { .. } => APART_STRIP_M,
        CapMaterial::Plies(_) => APART_CLOTH_M,
    };
    if left == 0 {
        Some("nothing of the cap goes on here: what carries beyond its end is not in the formula")
    } else if f64::from(ended) * apart > room_m {
        Some("more layers end than a bay has room for one at a time")
    } else {
        None
    }
}

fn margins(c: &Context, out: &mut Vec<Margin>) {
    let layers = cap_layers(c.design, &Assumptions::default());
    let spar = &c.design.spar;
    let both: [(&Cap, &CapLayer, &[u32]); 2] =
        [(&spar.upper, &layers.upper, &c.sizing.upper), (&spar.lower, &layers.lower, &c.sizing.lower)];
    for (cap, layer, count) in both {
        // Layers from the root end before the rib between two bays, those from the tip behind it.
        for (bay, pair) in count.windows(2).enumerate().filter(|(_, p)| p[0] != p[1]) {
            let next = bay + 1;
            let (Some(s), Some(b)) = (c.sections.get(next), c.layout.bays.get(next)) else { continue };
            let (left, ended) = (pair[0].min(pair[1]), pair[0].abs_diff(pair[1]));
            let [up, down] = caps::moments(c, next);
            let m = if up.0 >= -down.0 { up } else { down };
            let width = cap_width_m(cap, b.inner.eta).max(1e-6);
            let one = layer.modulus_pa * layer.thickness_m;
            let force = m.0.abs() * c.ultimate() / s.cap_lever_m / width;
            let mut worked = margin(
                MODE.key,
                (Some(bay), None, Some(m.1)),
                (force, held_n_m(one * f64::from(left), one, spar.ply_end_j_m2), "N/m"),
                inputs![
                    ("M limit", m.0, "N m"),
                    ("cap lever", s.cap_lever_m, "m"),
                    ("width", width, "m"),
                    ("E t of a layer", one, "N/m"),
                    ("layers left", f64::from(left), ""),
                    ("layers ended", f64::from(ended), ""),
                    ("Gc", spar.ply_end_j_m2, "J/m2"),
                    ("factor", c.ultimate(), ""),
                ],
            );
            let room_m =
                if pair[0] > pair[1] { b.length_m } else { c.layout.bays.get(bay).map_or(0.0, |b| b.length_m) };
            if let Some(why) = outside(cap, left, ended, room_m) {
                worked.verdict = Verdict::NotShown(why);
            }
            out.push(worked);
        }
    }
}
