//! What the model is written as: numbers, names of choices, materials and tables of words as
//! text. Nothing here touches a disk; [`mod@crate::file`] does, and reads these forms there.

// First, because its macro is used by the modules below.
#[macro_use]
pub mod mirror;

pub mod embedded;
pub mod label_tables;
pub mod material_file;
pub mod number;
pub mod plain_names;
pub mod read_error;
pub mod role_words;
pub mod source_table;
pub(crate) mod writer;
