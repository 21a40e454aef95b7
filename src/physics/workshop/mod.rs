//! What goes with building and proving one wing: what to cut, to buy and to mix; proof loads by bags and in torsion, a section made
//! to be broken, what was seen in them; and the scales.

pub mod batches;
mod cut_hinge_walls;
mod cut_ribs;
mod cut_skins;
mod cut_spar;
mod cut_tidy;
pub mod cuts;
pub mod first;
pub mod forecast;
pub mod nest;
pub mod outline;
pub mod part_sheets;
pub mod proof_load;
pub mod rig;
pub mod seen;
pub mod test_section;
pub mod to_buy;
pub mod torsion_test;
pub mod win_back;
