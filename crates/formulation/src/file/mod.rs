//! Files: reading, writing, importing, exporting.

pub mod autosave;
pub mod store;
