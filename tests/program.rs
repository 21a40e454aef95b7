//! The program run as a person runs it, for the tests of commands.
#![expect(clippy::unwrap_used, reason = "helpers of tests may fail as tests do")]

use std::process::{Command, Output, Stdio};

/// It, in the folder of the sources, with nobody at the keys.
pub(crate) fn command() -> Command {
    let mut c = Command::new(env!("CARGO_BIN_EXE_thistledown"));
    c.current_dir(env!("CARGO_MANIFEST_DIR")).stdin(Stdio::null());
    c
}

pub(crate) fn run(args: &[&str]) -> Output {
    command().args(args).output().unwrap()
}

pub(crate) fn words(o: &[u8]) -> String {
    String::from_utf8_lossy(o).into_owned()
}

/// Exit code, and all that was said: standard output, then errors.
pub(crate) fn told(args: &[&str]) -> (Option<i32>, String) {
    let o = run(args);
    (o.status.code(), words(&o.stdout) + &words(&o.stderr))
}
