//! From what a formula must reach to the percentages that reach it.
//!
//! [`programme`] is the common form of every problem here: unknowns between
//! bounds, and demands on weighted sums of them. [`linear`] and [`quadratic`]
//! solve it; everything else states its question in that form.

pub mod deduce;
pub mod linear;
pub mod programme;
pub mod quadratic;
