//! From what a formula must reach to the percentages that reach it.
//!
//! Every question is stated as a [programme](crate::optimise::programme): unknowns between
//! bounds, and demands on weighted sums of them.

pub mod aim;
pub mod answer;
pub mod collide;
pub mod deduce;
pub mod demand;
pub mod fixed_point;
pub mod ingredient_list;
pub mod limits;
pub mod pasted_list;
pub mod question;
mod reach;
pub mod snap;
pub mod subject;
pub mod swap;
pub mod sweep;
pub mod target;
