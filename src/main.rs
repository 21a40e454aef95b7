//! Arguments to command to exit code; no logic.

fn main() -> std::process::ExitCode {
    thistledown::command::run()
}
