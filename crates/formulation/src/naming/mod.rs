//! What people mean by the name of a raw material, and by "q.s.": one place for the
//! window, the commands, the tables that are brought in and the model itself.
//!
//! [`Resolver`] weighs name, INCI names, CAS number and strength together and returns
//! candidates with reasons; what contradicts is a question, never the nearest taken
//! silently. [`named`] is its plain sister for a name typed by somebody who sees the
//! materials, [`Exact`] the
//! strict one for names in tables of the program's own, [`is_known_name`] asks no shelf. [`fold`] says when two spellings are the same, [`spelling`] how far
//! apart two are.

pub mod blend;
mod exact;
pub mod fold;
mod known;
mod named;
mod product_kinds;
pub mod qs;
mod resolver;
pub mod spelling;
mod spoken;
pub mod strength;
mod substance;
mod words;

pub use exact::Exact;
pub use fold::words_of;
pub use known::is_known_name;
pub use named::{Named, named};
pub use product_kinds::kinds_in;
pub use resolver::{
    Candidate, How, Resolution, Resolved, Resolver, Wanted, contradiction, make_ready,
};
pub(crate) use words::functions;
