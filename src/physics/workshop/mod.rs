//! What goes with building and proving one wing: proof loads by bags and in torsion, a section made to be broken, what was seen in
//! them; and the scales.

pub mod first;
pub mod forecast;
pub mod proof_load;
pub mod rig;
pub mod seen;
pub mod test_section;
pub mod torsion_test;
pub mod win_back;
