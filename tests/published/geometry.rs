//! Checks against the outside.
