//! Durability in ground handling: what marks, softens or pierces each zone, how often, and what that costs.

mod by_weight;
pub mod care;
pub mod catalogue;
pub mod cause;
pub mod contact;
mod contacts;
pub mod covering;
pub mod edges;
pub mod events;
mod field;
pub mod foundation;
pub mod fragility;
pub mod held;
pub mod help;
pub mod index;
pub mod meetings;
pub mod panel;
pub mod press;
pub mod repair;
pub mod resistance;
pub mod spread;
pub mod term;
mod toll;
pub mod zonal;

pub(crate) use contacts::Memory;
