//! What weighed and pressed samples teach: records, the rule that learns from them, and what is then known.

pub mod fit;
pub mod learnt;
pub mod next;
pub mod record;
pub mod rule;
