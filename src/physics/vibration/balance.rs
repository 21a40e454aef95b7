//! How far behind its hinge the mass of a control lies.

use crate::physics::design::{Control, Design, Strip};
use crate::physics::mass::ribs;
use crate::physics::mass::tally::{Heading, Part, Weight};
use crate::physics::wing::hinge_wall::Side;
use crate::physics::wing::layout::{Bay, Layout};

/// One control of one half wing.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Balance {
    pub name: String,
    pub mass_kg: f64,
    /// Centre of mass behind the hinge line, m, and as a share of the control's chord.
    pub behind_m: f64,
    pub behind_frac: f64,
    /// Mass times distance behind the hinge: what a balance ahead of it would have to make up, kg m.
    pub moment_kg_m: f64,
}

/// All controls, skins, wall at the hinge, trailing edge, joints of the skins and the ribs' share behind the hinge, at budget weight.
///
/// **Source:** static balance about the hinge line, any text. **Valid for:** parts as listed; fittings and wall of the
/// control sit at the hinge; a rib behind the hinge is a wedge with its middle a third of the way back.
pub fn balances(design: &Design, layout: &Layout, weight: &Weight) -> Vec<Balance> {
    let heavy = weight.budget_kg / weight.drawn_kg.max(1e-9) / 2.0;
    design.controls.iter().map(|c| balance(design, (layout, weight), c, heavy)).collect()
}

fn balance(design: &Design, (layout, weight): (&Layout, &Weight), control: &Control, heavy: f64) -> Balance {
    let (mut mass, mut moment, mut chord, mut length) = (0.0, 0.0, 0.0, 0.0);
    let covers = |b: &Bay| b.mid.eta >= control.from_eta && b.mid.eta <= control.to_eta;
    for b in layout.bays.iter().filter(|b| covers(b)) {
        chord += b.length_m * (1.0 - design.hinge_frac) * b.mid.chord_m;
        length += b.length_m;
    }
    for p in weight.parts.iter().filter(|p| !p.lump) {
        let Some(b) = p.bay.and_then(|b| layout.bays.get(b)).filter(|b| covers(b)) else { continue };
        let (share, arm) = behind(design, b, p);
        mass += heavy * share * p.nominal_kg;
        moment += heavy * share * p.nominal_kg * arm;
    }
    let behind_m = if mass > 0.0 { moment / mass } else { 0.0 };
    let chord = chord / length.max(1e-9);
    Balance {
        name: control.name.clone(),
        mass_kg: mass,
        behind_m,
        behind_frac: if chord > 0.0 { behind_m / chord } else { 0.0 },
        moment_kg_m: moment,
    }
}

/// Whether a part is the wall that closes a control, or its glue.
fn of_control_wall(name: &str) -> bool {
    name == Side::Control.wall() || name == Side::Control.glue()
}

/// Share of a part that turns with the control, and how far behind the hinge it lies.
fn behind(design: &Design, bay: &Bay, p: &Part) -> (f64, f64) {
    let m = &bay.mid;
    let hinge = m.x_le_m + design.hinge_frac * m.chord_m;
    let chord = (1.0 - design.hinge_frac) * m.chord_m;
    match (p.heading, p.strip) {
        (Heading::Skins | Heading::CoveringFastening, Some(Strip::ControlUpper | Strip::ControlLower)) => {
            (1.0, p.x_m - hinge)
        }
        // A joint of the skin stands somewhere along its strip: its middle.
        (Heading::Splices, Some(Strip::ControlUpper | Strip::ControlLower)) => (1.0, 0.5 * chord),
        (Heading::Controls | Heading::Bonds, _) if of_control_wall(&p.name) => (1.0, 0.0),
        (Heading::Edges, _) if p.x_m > hinge => (1.0, p.x_m - hinge),
        (Heading::Ribs, _) => {
            let wedge = ribs::wedge_m2(m);
            let all = m.nose_cell_m2 + m.aft_cell_m2 + wedge;
            // Nose ribs end at the spar.
            let whole = p.x_m > m.x_le_m + m.spar_frac * m.chord_m;
            (if whole && all > 0.0 { wedge / all } else { 0.0 }, chord / 3.0)
        }
        _ => (0.0, 0.0),
    }
}
