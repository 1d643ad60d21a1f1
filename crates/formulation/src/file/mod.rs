//! Files: reading, writing, importing, exporting.

pub mod aim_report;
pub mod answers;
pub mod autosave;
pub mod calendar;
mod checked_as;
pub mod compare_report;
pub mod disk;
pub mod estimates_report;
pub mod exchange;
#[cfg(test)]
mod fault_tests;
pub mod finished;
pub mod fit_table;
pub mod formula_export;
pub mod formula_file;
pub mod formula_json;
pub mod formula_table;
pub mod label_entry;
pub mod label_pdf;
pub mod label_report;
pub mod ledger_file;
pub mod open;
pub mod pdf;
pub mod product_head;
pub mod quantity_text;
pub mod recall_export;
pub mod record_entry;
pub mod record_export;
pub mod record_file;
pub mod record_pdf;
pub mod report;
pub mod ron_place;
pub mod rule_book;
pub mod rule_file;
pub mod sheet_export;
pub mod sheet_pdf;
pub mod shelf_file;
pub mod shelf_table;
pub mod shopping_export;
pub mod signature;
pub mod stock_file;
pub mod store;
pub mod table;
pub mod trial_file;
pub mod trial_pdf;
pub mod trial_store;

pub use crate::notation::{
    label_tables, material_file, mirror, number, plain_names, read_error, role_words, source_table,
};

/// Why a file could not be opened or saved.
#[derive(Debug, thiserror::Error)]
pub enum FileError {
    /// Something about its content.
    #[error(transparent)]
    Read(#[from] read_error::ReadError),
    /// Something about the file on disk.
    #[error(transparent)]
    Store(#[from] store::StoreError),
}
