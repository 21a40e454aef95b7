//! `Problem`: what is wrong, where, and what to do next.

use std::fmt;
use std::path::PathBuf;

/// What kind of wrong; decides the exit code.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ProblemKind {
    /// The wing does not pass what was asked: exit 1.
    DoesNotPass,
    /// Bad input or usage: exit 2.
    Input,
    /// Could not read or write: exit 3.
    Io,
    /// A fault of ours: exit 70.
    Fault,
}

/// One thing that is wrong.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Problem {
    pub kind: ProblemKind,
    pub file: Option<PathBuf>,
    /// Line and column, from 1.
    pub place: Option<(usize, usize)>,
    pub what: String,
    /// What was expected, the nearest valid name, what to do.
    pub next: String,
}

impl Problem {
    /// Bad input with no place in a file.
    pub fn input(what: impl Into<String>, next: impl Into<String>) -> Self {
        Self { kind: ProblemKind::Input, file: None, place: None, what: what.into(), next: next.into() }
    }
    /// A file that could not be read or written.
    pub fn io(file: impl Into<PathBuf>, what: impl Into<String>) -> Self {
        Self { kind: ProblemKind::Io, file: Some(file.into()), place: None, what: what.into(), next: String::new() }
    }
    /// A fault of ours.
    pub fn fault(what: impl Into<String>) -> Self {
        Self { kind: ProblemKind::Fault, file: None, place: None, what: what.into(), next: "please report it".into() }
    }
    /// Exit code by kind.
    pub const fn exit_code(&self) -> u8 {
        match self.kind {
            ProblemKind::DoesNotPass => 1,
            ProblemKind::Input => 2,
            ProblemKind::Io => 3,
            ProblemKind::Fault => 70,
        }
    }
}

/// What the system said, in words a person uses.
pub fn io_words(e: &std::io::Error) -> String {
    use std::io::ErrorKind as K;
    if e.get_ref().is_some() {
        // Words of our own.
        return e.to_string();
    }
    match (e.kind(), e.raw_os_error()) {
        (K::NotFound, _) => "there is no such file".to_owned(),
        (K::PermissionDenied, _) => "permission denied".to_owned(),
        (K::StorageFull, _) => "no space is left on the disk".to_owned(),
        (K::IsADirectory, _) => "this is a folder".to_owned(),
        (K::ReadOnlyFilesystem, _) => "the disk can only be read".to_owned(),
        // Without the number the system adds.
        (_, Some(_)) => {
            let words = e.to_string();
            words.split(" (os error").next().unwrap_or_default().to_lowercase()
        }
        _ => e.to_string(),
    }
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(file) = &self.file {
            write!(f, "{}", file.display())?;
            if let Some((line, column)) = self.place {
                write!(f, ":{line}:{column}")?;
            }
            write!(f, ": ")?;
        }
        write!(f, "{}", self.what)?;
        if !self.next.is_empty() {
            write!(f, "; {}", self.next)?;
        }
        Ok(())
    }
}

impl std::error::Error for Problem {}
