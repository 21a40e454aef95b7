//! The command line: one file for each command.

use std::process::ExitCode;

/// Read the arguments, run the command, give its exit code.
pub fn run() -> ExitCode {
    ExitCode::SUCCESS
}
