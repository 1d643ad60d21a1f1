//! Checks of a formula: practice of the trade, law and limits.

pub mod practice;
