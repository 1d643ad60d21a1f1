//! Files: reading, writing, importing, exporting.

// First, because its macro is used by the modules below.
#[macro_use]
pub mod mirror;

pub mod autosave;
pub mod material_file;
pub mod number;
pub mod read_error;
pub mod report;
pub mod solver_cases;
pub mod source_table;
pub mod store;
