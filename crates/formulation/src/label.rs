//! The label that follows from a formula.
