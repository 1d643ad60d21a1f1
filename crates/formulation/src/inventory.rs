//! The public inventory of cosmetic ingredients.
