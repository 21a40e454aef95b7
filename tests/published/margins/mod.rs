//! Margins of a whole wing, each worked again by hand from what is drawn and from the loads of the case; one file for each kind of part.

mod joints;
mod ribs;
mod skins;
mod spar;
mod whole;

use std::path::Path;

use thistledown::physics::assumptions::Assumptions;
use thistledown::physics::design::Design;
use thistledown::physics::evaluation::{Evaluation, evaluate};

fn demo(name: &str) -> Design {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("scenarios/marram-{name}.toml"));
    thistledown::scenario::load(&path).unwrap().design
}

fn done(d: &Design) -> Evaluation {
    evaluate(d, &Assumptions::default())
}
