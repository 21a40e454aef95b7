//! To come with its part.
