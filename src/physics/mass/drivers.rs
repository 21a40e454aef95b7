//! What drives weight: each input's plausible swing, as a design of its own to be evaluated.

use std::sync::Arc;

use crate::physics::design::Design;
use crate::physics::laminate::construction::Kind;

/// A design with one thing swung.
#[derive(Debug, Clone)]
pub struct Swing {
    pub title: &'static str,
    pub design: Design,
}

/// All swings that change something.
pub fn swings(design: &Design) -> Vec<Swing> {
    let mut out = Vec::new();
    let mut swing = |title: &'static str, change: &dyn Fn(&mut Design)| {
        let mut d = design.clone();
        change(&mut d);
        if d != *design {
            out.push(Swing { title, design: d });
        }
    };
    swing("span +0.5 m", &|d| d.planform.span_m += 0.5);
    swing("load factors +0.5", &|d| {
        if let Some(l) = &mut d.limits {
            l.n_positive += 0.5;
            l.n_negative -= 0.25;
        }
    });
    swing("one more ply outside on the skins", &|d| {
        let used: Vec<usize> = d.strips.iter().flat_map(|s| s.runs.iter().map(|r| r.construction)).collect();
        for (i, c) in d.constructions.iter_mut().enumerate() {
            if used.contains(&i)
                && matches!(c.kind, Kind::Sandwich | Kind::OneFaced | Kind::Laminate)
                && let Some(p) = c.outer.first().copied()
            {
                c.outer.insert(0, p);
            }
        }
    });
    swing("rib pitch +10 %", &|d| {
        for r in &mut d.ribs {
            r.bays = ((f64::from(r.bays) / 1.1).round() as u32).max(1);
        }
    });
    swing("fibre fraction +0.05", &|d| {
        let mut lib = (*d.library).clone();
        for p in &mut lib.processes {
            p.fibre_volume_fraction = (p.fibre_volume_fraction + 0.05).min(0.7);
        }
        d.library = Arc::new(lib);
    });
    swing("resin pick-up +25 %", &|d| {
        let mut lib = (*d.library).clone();
        for f in &mut lib.foams {
            f.pickup_kg_m2 *= 1.25;
        }
        d.library = Arc::new(lib);
    });
    swing("no finish", &|d| {
        for c in &mut d.constructions {
            c.finish = None;
        }
    });
    swing("spar 0.03 of the chord further aft", &|d| {
        d.spar.position_root += 0.03;
        d.spar.position_tip += 0.03;
    });
    out
}
