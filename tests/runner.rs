//! One binary for all tests that need no terminal.

mod architecture;
mod behaviours;
mod commands;
mod properties;
mod published;
mod scenarios;
mod screens;
mod survey;
