//! How limits, amounts and names are put in words.

use std::fmt::Write as _;

use crate::finding::Field;
use crate::formula::Product;
use crate::rules::entry::Tier;
use crate::rules::scope::Scope;

/// Joined with commas; a long list is cut with the number of the others.
pub(super) fn listed<'s>(names: impl ExactSizeIterator<Item = &'s str>) -> String {
    const MOST: usize = 6;
    let total = names.len();
    let mut text = String::new();
    for (i, name) in names.take(MOST).enumerate() {
        if i > 0 {
            text.push_str(", ");
        }
        text.push_str(name);
    }
    if total > MOST {
        let _ = write!(text, " and {} more", total - MOST);
    }
    text
}

pub(super) fn limit_words(tier: &Tier) -> String {
    let figure = match tier.max {
        None => "not stated as a figure".to_owned(),
        Some(max) if tier.below => format!("below {} %", figure(max.as_percent())),
        Some(max) => format!("{} %", figure(max.as_percent())),
    };
    format!("{figure}{}", scope_words(&tier.scope))
}

pub(super) fn scope_words(scope: &Scope) -> String {
    match scope {
        Scope::All => String::new(),
        Scope::Other => " in all other products".to_owned(),
        scope => format!(" in products: {scope}"),
    }
}

/// What has to be stated or read before a scope is decided, and the field to state it in.
pub(super) fn open_question(scope: &Scope, product: &Product) -> (String, Option<Field>) {
    let texts: Vec<&str> = scope.texts();
    if product.product_type.is_none() && scope.asks_type() {
        let words = "whether this is such a product the formula does not tell: state its type";
        return (words.to_owned(), Some(Field::ProductType));
    }
    if !texts.is_empty() {
        let words = format!("no field tells this: {}", texts.join("; "));
        return (words, None);
    }
    if product.places.is_empty() {
        let words =
            "whether this is such a product the formula does not tell: state where it is used";
        return (words.to_owned(), Some(Field::Places));
    }
    let words = "whether this is such a product the formula does not tell: state its type";
    (words.to_owned(), Some(Field::ProductType))
}

/// A percentage with up to four digits that matter.
pub(super) fn figure(percent: f64) -> String {
    if percent == 0.0 || !percent.is_finite() {
        return "0".to_owned();
    }
    let before = percent.abs().log10().floor() as i32 + 1;
    let decimals = (4 - before).clamp(0, 8) as usize;
    let text = format!("{percent:.decimals$}");
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}
