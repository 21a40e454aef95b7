//! The exact search against complete enumeration, against itself turned round, and against an independent solver.

mod counted;
mod equality;
mod explained;
mod programme;
mod reading;
mod ruled;
mod shape;
mod tables;
