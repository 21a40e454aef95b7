//! Benchmarks, run by hand: `cargo bench`.

fn main() {}
