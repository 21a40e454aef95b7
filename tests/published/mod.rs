//! Checks against something outside the project, one file for each subject.

mod airloads;
mod cases;
mod flight;
mod geometry;
mod handling;
mod laminate;
mod proof;
mod structures;
mod weights;
mod whole_wing;
mod wings;
