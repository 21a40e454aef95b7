//! What the wing weighs, part by part, with spread.

pub mod drivers;
pub mod hinge_walls;
pub mod joints;
pub mod laps;
pub mod ribs;
pub mod seams;
pub mod skins;
pub mod spar;
pub mod tally;
pub mod weighed;
