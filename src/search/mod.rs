//! The exact search: a table of zones by constructions in integer ticks, its proven front out.
