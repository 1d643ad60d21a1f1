//! The formulation model of Phasewright.
//!
//! Everything a maker of personal-care products needs to know about a formula is
//! computed here, without a screen, a clock or global state: exact percentages,
//! what the mix contains, its chemistry, the limits it meets or breaks, batches,
//! cost and label. Files are read and written only in [`mod@file`].
#![cfg_attr(
    test,
    expect(
        clippy::disallowed_methods,
        reason = "tests lay out files and look at what is left of them"
    )
)]

// First, because its macro is used by the modules below.
#[macro_use]
pub mod notation;

pub mod amount;
pub mod batch;
pub mod batch_code;
pub mod cas;
pub mod chemistry;
pub mod compare;
pub mod composition;
pub mod cost;
pub mod due;
pub mod edit;
pub mod evaluation;
pub mod file;
pub mod finding;
#[cfg(test)]
mod fixture;
pub mod fonts;
pub mod formula;
pub mod handling;
pub mod harmless;
pub mod history;
pub mod home_currency;
mod ids;
pub mod impact;
pub mod inci;
pub mod inventory;
mod kinds;
pub mod label;
pub mod label_info;
pub mod ledger;
pub mod lot_changes;
pub mod lot_values;
pub mod mass;
pub mod material;
pub mod material_change;
pub mod material_draft;
mod measured;
pub mod mixture;
mod name_hash;
pub mod naming;
pub mod oil_parts;
pub mod optimise;
pub mod own_shelf;
pub mod ph_dose;
pub mod plain_words;
mod product_type;
pub mod progress;
pub mod purpose;
pub mod quantity;
#[cfg(test)]
mod random_formula;
pub mod remedy;
mod remembered;
pub mod rules;
pub mod search;
pub mod served;
pub mod shelf;
pub mod solve;
pub mod specification;
#[cfg(test)]
mod spelling_tests;
pub mod starts;
pub mod stock;
pub mod stock_merge;
mod substance_words;
mod text_memory;
pub mod trial;
mod word_groups;
