//! Parts of a design, and the assumptions, as inputs of kept values.

use crate::physics::assumptions::Assumptions;
use crate::physics::design::{Aerofoil, Control, Planform, SectionAt};
use crate::physics::kept::{Bits, Inputs};
use crate::physics::laminate::construction::{Construction, Core, CoveringUse, Kind, Ply};

impl Inputs for Planform {
    fn put(&self, to: &mut Bits) {
        let Self { span_m, area_m2, taper, sweep_rad, washout_rad, dihedral_rad } = self;
        [span_m, area_m2, taper, sweep_rad, washout_rad, dihedral_rad].put(to);
    }
}

impl Inputs for Aerofoil {
    fn put(&self, to: &mut Bits) {
        match self {
            Self::FourDigit { camber, camber_place, thickness } => {
                0_usize.put(to);
                [camber, camber_place, thickness].put(to);
            }
            Self::FiveDigit { line, thickness } => {
                1_usize.put(to);
                line.put(to);
                thickness.put(to);
            }
            Self::Points { name, xy } => {
                2_usize.put(to);
                name.put(to);
                xy.put(to);
            }
        }
    }
}

impl Inputs for SectionAt {
    fn put(&self, to: &mut Bits) {
        let Self { eta, aerofoil, cl_max, cl_min, cm0, alpha0_rad } = self;
        aerofoil.put(to);
        [eta, cl_max, cl_min].put(to);
        [cm0, alpha0_rad].put(to);
    }
}

impl Inputs for Control {
    fn put(&self, to: &mut Bits) {
        let Self { name, from_eta, to_eta, up_rad, down_rad, fittings_kg, hinges, horn_m } = self;
        name.put(to);
        [from_eta, to_eta, up_rad, down_rad, fittings_kg, horn_m].put(to);
        hinges.put(to);
    }
}

impl Inputs for Kind {
    fn put(&self, to: &mut Bits) {
        (*self as usize).put(to);
    }
}

impl Inputs for Ply {
    fn put(&self, to: &mut Bits) {
        let Self { fabric, process, angle_rad } = self;
        [fabric, process].put(to);
        angle_rad.put(to);
    }
}

impl Inputs for Core {
    fn put(&self, to: &mut Bits) {
        let Self { foam, thickness_m, filling } = self;
        [foam, filling].put(to);
        thickness_m.put(to);
    }
}

impl Inputs for CoveringUse {
    fn put(&self, to: &mut Bits) {
        let Self { covering, fastening, pretension_n_m } = self;
        [covering, fastening].put(to);
        pretension_n_m.put(to);
    }
}

impl Inputs for Construction {
    fn put(&self, to: &mut Bits) {
        let Self { key, name, kind, outer, core, inner, wood, covering, finish, tool, bagged } = self;
        [key, name].put(to);
        kind.put(to);
        [outer, inner].put(to);
        core.put(to);
        wood.put(to);
        covering.put(to);
        finish.put(to);
        tool.put(to);
        bagged.put(to);
    }
}

impl Inputs for Assumptions {
    fn put(&self, to: &mut Bits) {
        let Self { factor } = self;
        factor.put(to);
    }
}
