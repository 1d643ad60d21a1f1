//! Trials: what the bench says of a formula, and what is learnt from it.
//!
//! `fit` holds the curves and the statistics, `bench` what an instrument's reading means,
//! `design` planned sets of mixtures; `book` is what was noted, `reading` what can be read,
//! `way` which readings may be pooled, `settling` when a state is what it stays at, `stability` the calendar, `plan` sets on a formula,
//! `learn` and `narrow` what follows, `known` what of all that is told of a variant.

pub mod bench;
pub mod book;
pub mod brought_in;
pub mod challenge;
pub mod charts;
pub mod design;
pub mod draft;
pub mod fit;
pub mod hull;
pub mod known;
pub mod learn;
pub mod narrow;
pub mod plan;
pub mod reading;
pub mod settling;
pub mod stability;
pub mod stability_plan;
pub mod standing;
pub mod way;

#[cfg(test)]
mod tests;
