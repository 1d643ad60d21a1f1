//! How much of a material is used, by kind of product.

use std::sync::Arc;

use super::source::Source;
use crate::kinds::ProductKind;
use crate::quantity::Percent;

/// Usual use level of a material in a kind of product, as % w/w of the formula.
#[derive(Clone, PartialEq, Debug)]
pub struct UseRange {
    /// For which kind.
    pub kind: ProductKind,
    /// Lowest usual level.
    pub low: Percent,
    /// Highest usual or recommended level.
    pub high: Percent,
    /// Whether `high` is a maximum the supplier sets, not only a habit.
    pub supplier_maximum: bool,
    /// Where it is from.
    pub source: Source,
}

/// The supplier's maximum use levels of a fragrance per product category.
#[derive(Clone, PartialEq, Debug)]
pub struct FragranceLevel {
    /// Category of the fragrance trade association's standards, "1" to "12", with
    /// letters where divided ("5A").
    pub category: Arc<str>,
    /// Highest level in the finished product, % w/w.
    pub maximum: Percent,
}
