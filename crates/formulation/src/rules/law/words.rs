//! How limits, amounts and names are put in words.

use std::fmt::Write as _;

use crate::finding::StatedField;
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
    let of: Vec<&str> = tier.part_of.iter().map(|(name, _)| name.as_ref()).collect();
    let of = match of.as_slice() {
        [] => String::new(),
        of => format!(" of the {} in it", of.join(" and ")),
    };
    format!("{figure}{of}{}", scope_words(&tier.scope))
}

pub(super) fn scope_words(scope: &Scope) -> String {
    match scope {
        Scope::All => String::new(),
        Scope::Other => " in all other products".to_owned(),
        scope => format!(" in products: {scope}"),
    }
}

/// What has to be stated or read before a scope is decided, and the field to state it in.
pub(super) fn open_question(scope: &Scope, product: &Product) -> (String, Option<StatedField>) {
    let texts: Vec<&str> = scope.texts();
    if product.product_type.is_none() && scope.asks_type() {
        let words = "whether this is such a product the formula does not tell: state its type";
        return (words.to_owned(), Some(StatedField::ProductType));
    }
    if !texts.is_empty() {
        let words = format!("no field tells this: {}", texts.join("; "));
        return (words, None);
    }
    if product.places.is_empty() {
        let words =
            "whether this is such a product the formula does not tell: state where it is used";
        return (words.to_owned(), Some(StatedField::Places));
    }
    let words = "whether this is such a product the formula does not tell: state its type";
    (words.to_owned(), Some(StatedField::ProductType))
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::formula::{BodySite, ProductType};
    use crate::quantity::MassFraction;

    #[test]
    fn a_long_list_is_cut_after_six() {
        let named = |names: &[&'static str]| listed(names.iter().copied());
        assert_eq!(named(&[]), "");
        assert_eq!(named(&["a", "b"]), "a, b");
        assert_eq!(named(&["a", "b", "c", "d", "e", "f"]), "a, b, c, d, e, f");
        assert_eq!(
            named(&["a", "b", "c", "d", "e", "f", "g", "h"]),
            "a, b, c, d, e, f and 2 more"
        );
    }

    #[test]
    fn a_figure_has_four_digits_that_matter() {
        for (percent, shown) in [
            (0.0, "0"),
            (f64::NAN, "0"),
            (12.3456, "12.35"),
            (100.0, "100"),
            (123_456.7, "123457"),
            (0.5, "0.5"),
            (0.001_523_49, "0.001523"),
            (1e-12, "0"),
        ] {
            assert_eq!(figure(percent), shown, "{percent}");
        }
    }

    #[test]
    fn a_limit_is_told_with_the_products_it_speaks_of() {
        let words = |max: Option<f64>, below, scope: &str| {
            limit_words(&Tier {
                max: max.map(MassFraction::from_percent),
                below,
                scope: Scope::parse(scope).unwrap(),
                ..Tier::plain()
            })
        };
        assert_eq!(words(Some(0.1), false, "all"), "0.1 %");
        assert_eq!(words(Some(0.1), true, "all"), "below 0.1 %");
        assert_eq!(words(None, false, "all"), "not stated as a figure");
        assert_eq!(
            words(Some(2.0), false, "other"),
            "2 % in all other products"
        );
        let narrow = words(Some(2.0), false, "rinse-off");
        assert!(narrow.starts_with("2 % in products: "), "{narrow}");
    }

    /// The field that would decide is offered; a condition in words has none.
    #[test]
    fn what_decides_is_asked_for_in_its_field() {
        let field = |scope: &str, product: &Product| {
            let (words, field) = open_question(&Scope::parse(scope).unwrap(), product);
            assert!(words.contains("tell"), "{words}");
            field
        };
        let bare = Product {
            places: Vec::new(),
            product_type: None,
            ..Product::default()
        };
        let typed = Product {
            product_type: Some(ProductType::Shampoo),
            ..bare.clone()
        };
        let placed = Product {
            places: vec![BodySite::Hair],
            ..bare.clone()
        };
        assert_eq!(field("shampoo", &bare), Some(StatedField::ProductType));
        assert_eq!(field("[for professional use]", &bare), None);
        assert_eq!(field("hair", &bare), Some(StatedField::Places));
        assert_eq!(field("shampoo", &typed), Some(StatedField::Places));
        assert_eq!(field("hair", &placed), Some(StatedField::ProductType));
    }
}
