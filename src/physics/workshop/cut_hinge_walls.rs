//! Walls along the hinge line as blanks: one length to a control and side, between ribs, as the parts list weighs them.

use crate::physics::mass::hinge_walls::glued;
use crate::physics::mass::tally::Heading;
use crate::physics::mass::weighed::part_of;
use crate::physics::wing::hinge_wall::{self, Side, Wall};
use crate::physics::workshop::cut_skins::stack;
use crate::physics::workshop::cuts::{Bench, Panel, bays_words, skin_of};
use crate::physics::workshop::outline::Outline;

/// All of them, of one half wing.
fn all(bench: &Bench) -> Vec<Wall> {
    hinge_wall::walls(bench.design, &bench.e.layout).collect()
}

/// Walls of every control.
pub(super) fn walls(bench: &mut Bench) {
    let all = all(bench);
    for control in 0..bench.design.controls.len() {
        for side in Side::BOTH {
            let here: Vec<&Wall> = all.iter().filter(|w| w.control == control && w.side == side).collect();
            wall(bench, side, &here);
        }
    }
}

fn wall(bench: &mut Bench, side: Side, walls: &[&Wall]) {
    let (Some(first), Some(last)) = (walls.first(), walls.last()) else { return };
    let (design, e) = (bench.design, bench.e);
    let (Some(skin), Some(made)) = (skin_of(e, first.construction), design.constructions.get(first.construction))
    else {
        return;
    };
    let (mut at, mut along_m) = (Vec::new(), 0.0);
    for w in walls {
        let Some(b) = e.layout.bays.get(w.bay) else { continue };
        for (share, s) in [(0.0, &b.inner), (0.5, &b.mid), (1.0, &b.outer)] {
            at.push((along_m + share * w.length_m, s.hinge_depth_m));
        }
        along_m += w.length_m;
    }
    let flat = Outline { at, slope: 0.0 };
    let name = format!("{}{}", side.wall(), bays_words(e, first.bay, last.bay));
    let wet = !made.outer.is_empty() || !made.inner.is_empty();
    let lay_up = wet.then(|| bench.lay_up(&name, 2, false));
    let part = part_of(Heading::Controls, None, side.wall());
    let panel = Panel {
        part: &part,
        name: &name,
        lay_up,
        outline: &flat,
        lapped: &flat,
        net_m2: walls.iter().map(|w| w.area_m2()).sum(),
        count: 2,
        faces: ["front", "rear"],
        side_m: design.stock.trim_m,
        lap_m2: 0.0,
    };
    stack(bench, &panel, made, skin);
}

/// Metres of glue on the walls of each side, both halves, and what the parts list calls it.
pub(super) fn glue_m(bench: &Bench) -> Vec<(&'static str, f64)> {
    let (design, e) = (bench.design, bench.e);
    let of = |w: &Wall| (w.side.glue(), 2.0 * f64::from(glued(design, &e.layout, &e.skins, w)) * w.length_m);
    all(bench).iter().map(of).filter(|g| g.1 > 0.0).collect()
}
