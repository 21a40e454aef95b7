//! Parts of a design, and the assumptions, as inputs of kept values.

use crate::physics::assumptions::Assumptions;
use crate::physics::design::{Aerofoil, Control, Planform, SectionAt};
use crate::physics::durability::spread::Spread;
use crate::physics::kept::{Inputs, To};
use crate::physics::laminate::construction::{
    ArealMass, Construction, Core, CoveringUse, Face, Kind, Ply, Skin, Stiffness,
};
use crate::physics::samples::learnt::OfSkin;
use crate::physics::samples::rule::Known;

impl Inputs for Planform {
    fn put<T: To>(&self, to: &mut T) {
        let Self { span_m, area_m2, taper, sweep_rad, washout_rad, dihedral_rad } = self;
        [span_m, area_m2, taper, sweep_rad, washout_rad, dihedral_rad].put(to);
    }
}

impl Inputs for Aerofoil {
    fn put<T: To>(&self, to: &mut T) {
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
    fn put<T: To>(&self, to: &mut T) {
        let Self { eta, aerofoil, cl_max, cl_min, cm0, alpha0_rad } = self;
        aerofoil.put(to);
        [eta, cl_max, cl_min].put(to);
        [cm0, alpha0_rad].put(to);
    }
}

impl Inputs for Control {
    fn put<T: To>(&self, to: &mut T) {
        let Self { name, from_eta, to_eta, up_rad, down_rad, fittings_kg, hinges, horn_m, wing_wall, control_wall } =
            self;
        name.put(to);
        [from_eta, to_eta, up_rad, down_rad, fittings_kg, horn_m].put(to);
        hinges.put(to);
        [wing_wall, control_wall].put(to);
    }
}

impl Inputs for Kind {
    fn put<T: To>(&self, to: &mut T) {
        (*self as usize).put(to);
    }
}

impl Inputs for Ply {
    fn put<T: To>(&self, to: &mut T) {
        let Self { fabric, process, angle_rad } = self;
        [fabric, process].put(to);
        angle_rad.put(to);
    }
}

impl Inputs for Core {
    fn put<T: To>(&self, to: &mut T) {
        let Self { foam, thickness_m, filling } = self;
        [foam, filling].put(to);
        thickness_m.put(to);
    }
}

impl Inputs for CoveringUse {
    fn put<T: To>(&self, to: &mut T) {
        let Self { covering, fastening, pretension_n_m } = self;
        [covering, fastening].put(to);
        pretension_n_m.put(to);
    }
}

impl Inputs for Construction {
    fn put<T: To>(&self, to: &mut T) {
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
    fn put<T: To>(&self, to: &mut T) {
        let Self { factor } = self;
        factor.put(to);
    }
}

impl Inputs for Stiffness {
    fn put<T: To>(&self, to: &mut T) {
        let Self { s11, s12, s22, s66, s16, s26 } = self;
        [s11, s12, s22, s66, s16, s26].put(to);
    }
}

impl Inputs for Face {
    fn put<T: To>(&self, to: &mut T) {
        let Self {
            thickness_m,
            areal_mass_kg_m2,
            a,
            d,
            e_span_pa,
            e_chord_pa,
            e_45_pa,
            g_pa,
            nu,
            strain_tension,
            strain_compression,
            strain_shear,
        } = self;
        [thickness_m, areal_mass_kg_m2, e_span_pa, e_chord_pa, e_45_pa, g_pa, nu].put(to);
        [strain_tension, strain_compression, strain_shear].put(to);
        [a, d].put(to);
    }
}

impl Inputs for ArealMass {
    fn put<T: To>(&self, to: &mut T) {
        let Self { fibre, resin, core, pickup, covering, wood, fairing, finish } = self;
        [fibre, resin, core, pickup, covering, wood, fairing, finish].put(to);
    }
}

impl Inputs for Skin {
    fn put<T: To>(&self, to: &mut T) {
        let Self {
            kind,
            mass,
            mass_sd_kg_m2,
            thickness_m,
            outer,
            inner,
            a,
            d,
            s_n_m,
            lever_m,
            core_thickness_m,
            foam,
            wood,
            covering,
            hours_per_m2,
            cost_per_m2,
            smooth,
            spread,
            learnt,
        } = self;
        kind.put(to);
        mass.put(to);
        [outer, inner].put(to);
        [a, d].put(to);
        [mass_sd_kg_m2, thickness_m, s_n_m, lever_m, core_thickness_m, hours_per_m2, cost_per_m2].put(to);
        [foam, wood].put(to);
        covering.put(to);
        smooth.put(to);
        for Spread { own, place, foam } in spread {
            [own, place, foam].put(to);
        }
        learnt.as_deref().put(to);
    }
}

impl Inputs for OfSkin {
    fn put<T: To>(&self, to: &mut T) {
        let Self { forms, weighed } = self;
        forms.put(to);
        weighed.put(to);
    }
}

impl Inputs for Known {
    fn put<T: To>(&self, to: &mut T) {
        let Self { shift, kept, before, beta, specimens, of_form } = self;
        [shift, kept, before, beta].put(to);
        [specimens, of_form].put(to);
    }
}
