//! What goes with building and proving one wing: the plan of a proof load, and the scales.

pub mod forecast;
pub mod proof_load;
pub mod win_back;
