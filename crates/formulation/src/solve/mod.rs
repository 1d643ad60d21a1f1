//! From what a formula must reach to the percentages that reach it.
//!
//! [`programme`] is the common form of every problem here: unknowns between
//! bounds, and demands on weighted sums of them. [`linear`] and [`quadratic`]
//! solve it; everything else states its question in that form.

pub mod aim;
pub mod answer;
pub mod collide;
pub mod deduce;
pub mod demand;
pub mod ingredient_list;
pub mod limits;
pub mod linear;
pub mod outer;
pub mod pasted_list;
pub mod programme;
pub mod quadratic;
pub mod question;
mod reach;
pub mod snap;
pub mod subject;
pub mod swap;
pub mod sweep;
pub mod target;
