//! How it flies: polar, speeds, launch.

pub mod friction;
pub mod launch;
pub mod polar;
pub mod profile;
pub mod speeds;
