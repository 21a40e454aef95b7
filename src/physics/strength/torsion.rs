//! The half wing in torsion as divergence and roll control take it: both sides of every rib, for skins and layers change there.

use crate::physics::kept::{Inputs, To};
use crate::physics::strength::Context;
use crate::physics::strength::sizing::Section;
use crate::physics::wing::layout::{Layout, Station};

/// Root to tip, two entries at every rib between bays: the end of one bay and the beginning of the next.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Shaft {
    pub y_m: Vec<f64>,
    pub chord_m: Vec<f64>,
    pub gj_nm2: Vec<f64>,
    /// EI about the spar.
    pub ei_nm2: Vec<f64>,
    /// Spar line and shear centre behind the quarter chord, share of chord.
    pub spar_frac: Vec<f64>,
    pub shear_centre_frac: Vec<f64>,
}

impl Shaft {
    pub(super) fn of(c: &Context) -> Self {
        Self::of_wing(c.layout, c.sections)
    }

    /// The same from sections at every bay edge.
    pub(super) fn of_wing(layout: &Layout, sections: &[Section]) -> Self {
        let room = || Vec::with_capacity(2 * layout.bays.len());
        let mut out = Self {
            y_m: room(),
            chord_m: room(),
            gj_nm2: room(),
            ei_nm2: room(),
            spar_frac: room(),
            shear_centre_frac: room(),
        };
        for (bay, b) in layout.bays.iter().enumerate() {
            let (Some(s), Some(next)) = (sections.get(bay), sections.get(bay + 1)) else { continue };
            out.add(&b.inner, (s.gj_nm2, s.ei_nm2), s.shear_centre_m);
            let (gj, x) = end(s, next);
            let ei = if s.ei_out_nm2 > 0.0 { s.ei_out_nm2 } else { next.ei_nm2 };
            out.add(&b.outer, (gj, ei), x);
        }
        out
    }

    fn add(&mut self, s: &Station, (gj_nm2, ei_nm2): (f64, f64), shear_centre_m: f64) {
        let spar = s.spar_frac - 0.25;
        self.y_m.push(s.y_m);
        self.chord_m.push(s.chord_m);
        self.gj_nm2.push(gj_nm2);
        self.ei_nm2.push(ei_nm2);
        self.spar_frac.push(spar);
        self.shear_centre_frac.push(spar + shear_centre_m / s.chord_m.max(1e-6));
    }
}

impl Inputs for Shaft {
    fn put<T: To>(&self, to: &mut T) {
        let Self { y_m, chord_m, gj_nm2, ei_nm2, spar_frac, shear_centre_frac } = self;
        [y_m, chord_m, gj_nm2, ei_nm2, spar_frac, shear_centre_frac].put(to);
    }
}

/// GJ and shear centre at the outer end of a bay: its own, or those of the next section.
pub(crate) fn end(s: &Section, next: &Section) -> (f64, f64) {
    if s.gj_out_nm2 > 0.0 { (s.gj_out_nm2, s.shear_centre_out_m) } else { (next.gj_nm2, next.shear_centre_m) }
}
