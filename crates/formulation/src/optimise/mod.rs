//! Linear and quadratic programming: the least of a function of unknowns between bounds under
//! demands on weighted sums of them. Nothing of the trade is known here.
//!
//! [`programme`] is the common form; [`linear`] and [`quadratic`] solve it.

pub mod linear;
pub mod programme;
pub mod quadratic;
