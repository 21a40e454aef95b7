//! What goes with building and proving one wing: the plan of a proof load.

pub mod proof_load;
