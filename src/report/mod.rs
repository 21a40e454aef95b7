//! An evaluation as text or JSON: functions from results to strings.

pub mod care;
pub mod compare;
pub mod event;
pub mod holds;
pub mod json;
pub mod load;
pub mod matrix;
/// The lightest durable mix.
pub mod mix;
pub mod samples;
pub mod service;
pub mod sureness;
pub mod text;
pub mod vibration;
pub mod workshop;

/// The cautions every report carries.
pub const CAUTIONS: &str = "Estimates for design study; no approval to fly. Flutter and fatigue are not assessed. Loads and limits \
follow the pilot's own airworthiness rules; a qualified person checks and proof-tests before flight. Resin, dust, \
solvents, hot-wire fumes and proof loading are hazards.";
