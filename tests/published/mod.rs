//! Checks against something outside the project, one file for each subject.

mod airloads;
mod by_hand;
mod cases;
mod details;
mod durability;
mod edges;
mod every_case;
mod families;
mod flexible;
mod flight;
mod formulas;
mod geometry;
mod handling;
mod handling_more;
mod laminate;
mod measured;
mod proof;
mod samples;
mod shear_centre;
mod similar;
mod structures;
mod swept;
mod vibration;
mod weights;
mod whole_wing;
mod wings;
