//! An evaluation as text or JSON.
