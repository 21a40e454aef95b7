//! Tests in a real pseudo-terminal.
