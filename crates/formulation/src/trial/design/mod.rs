//! Planned sets: which mixtures to weigh so that a response can be learnt from them.

pub mod lattice;
pub mod optimal;
pub mod random;
pub mod range;
pub mod region;
