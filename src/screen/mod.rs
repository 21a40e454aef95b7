//! The terminal screen. Only this module knows ratatui and crossterm.

use crate::problem::Problem;
use crate::scenario::Scenario;

/// Open the screen on a scenario and stay until the person leaves.
pub fn open(scenario: Scenario) -> Result<(), Problem> {
    let _ = scenario;
    Ok(())
}
