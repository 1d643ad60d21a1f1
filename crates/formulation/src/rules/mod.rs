//! Checks of a formula: practice of the trade, law and limits.

pub mod book;
pub mod entry;
pub mod equivalents;
pub mod fragrance;
pub mod law;
pub mod molar;
pub mod practice;
pub mod rule_text;
pub mod salt;
pub mod scope;

#[cfg(test)]
mod book_tests;

pub use book::RuleBook;
