//! thistledown: weight against toughness in a foot-launched rigid composite wing.
//!
//! The pure half (`physics`) is `f64` in SI with no files, threads, clock or terminal;
//! everything else touches the outside. Modules stand in order of dependency.

/// One file for each command.
pub mod command;
/// The lightest durable mix of one wing: a table from the physics, the exact search, every answer evaluated again.
pub mod mix;
/// The wing itself: materials, laminates, geometry, mass, loads, strength, durability, flight.
pub mod physics;
/// What is wrong, where, and what to do next.
pub mod problem;
/// An evaluation as text, JSON or a page for a reviewer.
pub mod report;
/// Scenario files: read, check, save; the table of dials.
pub mod scenario;
/// The terminal screen.
pub mod screen;
/// The exact search: a table of whole numbers to the front of mass against repair hours.
pub mod search;
/// The outer search: dials turned over a grid on all cores, with records that survive.
pub mod survey;
