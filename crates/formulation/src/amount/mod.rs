//! Quantities as people write and read them: one reader, one writer, for every field,
//! option, target and import.
//!
//! - [`number`] finds a number in a text, with its sign, marks, unit and currency. Where
//!   a mark can be read in two ways it gives both.
//! - [`measure`] is the table of what can be typed: its name, units, legal range and the
//!   digits it is shown with.
//! - [`typed`] reads what a person typed as one of these, or says what is wrong with it.
//!
//! Files of ours are not typed by people: they hold plain decimals with a point, read by
//! the structs of the file formats.

pub mod measure;
pub mod number;
pub mod typed;

pub use measure::{Digits, Measure};
pub use typed::AmountError;
