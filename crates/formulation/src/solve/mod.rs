//! Finding percentages that reach a target.
