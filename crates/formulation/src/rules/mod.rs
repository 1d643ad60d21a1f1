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

/// What to mind about products for the United Kingdom.
pub const GREAT_BRITAIN: &str = "Products for the United Kingdom are held against the lists of the European Union with the changes of Great Britain that are known here; that no instrument was found which adopts a rule of the European Union is no proof that there is none";
