//! Trials: what the bench says of a formula, and what is learnt from it.
//!
//! `fit` holds the curves and the statistics, `bench` what an instrument's reading means,
//! `design` planned sets of mixtures.

pub mod bench;
pub mod design;
pub mod fit;
