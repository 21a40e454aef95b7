//! How it flies: polar, speeds, launch.

pub mod speeds;
