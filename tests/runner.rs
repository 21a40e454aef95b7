//! One binary for all tests that need no terminal.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "a test that cannot go on stops loudly"
)]

mod again;
mod architecture;
mod behaviours;
mod caps;
mod commands;
mod compare;
mod cut_list;
mod dial_table;
mod judged;
mod matrix;
mod mix;
mod nose_steps;
mod own_events;
mod program;
mod properties;
mod protected;
mod proving;
mod published;
mod report;
mod reserves;
mod samples;
mod scenarios;
mod screens;
mod search;
mod survey;
mod table;
mod traced;
mod validity;
mod walk;
mod weighed;
mod whole;
mod words;
