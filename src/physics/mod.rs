//! The wing, in the order of a handbook's chapters. SI throughout; no file, thread, clock or screen.

pub mod assumptions;
pub mod design;
pub mod durability;
pub mod evaluation;
pub mod flight;
mod kept;
pub mod laminate;
pub mod lifting;
pub mod loads;
pub mod mass;
pub mod material;
pub mod samples;
pub mod service;
pub mod stock;
pub mod strength;
pub mod unchecked;
pub mod units;
pub mod vibration;
pub mod warned;
pub mod wing;
pub mod work;
pub mod workshop;
