//! Searching materials.
