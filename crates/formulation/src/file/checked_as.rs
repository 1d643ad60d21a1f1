//! What a report was made for: what the product is as the maker stated it, and what it must
//! measure.

use serde::Serialize;

use crate::formula::{Product, ProductType, Variant};
use crate::quantity::Ph;
use crate::specification::Characteristic;

/// What rules were asked with, as it stands in a report. What is not stated is null or empty.
#[derive(Debug, Clone, Serialize)]
pub(super) struct CheckedAs {
    product_type: Option<&'static str>,
    places: Vec<&'static str>,
    under_three: bool,
    spray: bool,
    professional: bool,
    wet_use: bool,
    /// Day of placing on the market, `YYYY-MM-DD`.
    market_date: Option<String>,
    fragrance_category: Option<String>,
    /// pH aimed at.
    target_ph: Option<f64>,
    specification: Vec<CharacteristicRow>,
    /// Whether the law of any market is checked, so that rules hang on what is not stated.
    #[serde(skip)]
    law: bool,
}

#[derive(Debug, Clone, Serialize)]
struct CharacteristicRow {
    quality: &'static str,
    target: Option<f64>,
    low: Option<f64>,
    high: Option<f64>,
    accept: String,
    method: String,
    #[serde(skip)]
    words: String,
}

impl CharacteristicRow {
    fn of(one: &Characteristic) -> Self {
        let name = one.name();
        let words = one.words();
        Self {
            quality: one.quality.label(),
            target: one.target,
            low: one.low,
            high: one.high,
            accept: one.accept.to_string(),
            method: one.method.to_string(),
            words: format!("{name} {words}").trim_end().to_owned(),
        }
    }
}

impl CheckedAs {
    /// Of a variant.
    pub(super) fn of(variant: &Variant) -> Self {
        // Taken apart so that a new field does not compile until it stands here.
        let Product {
            kinds: _,
            product_type,
            places,
            markets,
            under_three,
            spray,
            professional,
            wet_use,
            market_date,
            fragrance_category,
        } = &variant.product;
        Self {
            product_type: product_type.map(ProductType::label),
            places: places.iter().map(|p| p.label()).collect(),
            under_three: *under_three,
            spray: *spray,
            professional: *professional,
            wet_use: *wet_use,
            market_date: market_date.map(|d| d.to_string()),
            fragrance_category: fragrance_category.as_ref().map(ToString::to_string),
            target_ph: variant.target_ph.map(Ph::value),
            specification: (variant.specification.characteristics.iter())
                .map(CharacteristicRow::of)
                .collect(),
            law: !markets.is_empty(),
        }
    }

    /// As lines of text: what is stated, and what is not and rules hang on.
    pub(super) fn write_text(&self, t: &mut String) -> std::fmt::Result {
        use std::fmt::Write as _;
        let mut stated: Vec<String> = Vec::new();
        stated.extend(self.product_type.map(str::to_owned));
        if !self.places.is_empty() {
            stated.push(format!("used on {}", self.places.join(", ")));
        }
        for (is_so, words) in [
            (self.under_three, "for children under three"),
            (self.spray, "sprayed"),
            (self.professional, "for professional use"),
            (self.wet_use, "reached by wet hands or water in use"),
        ] {
            if is_so {
                stated.push(words.to_owned());
            }
        }
        let date = self.market_date.as_ref();
        stated.extend(date.map(|d| format!("placed on the market {d}")));
        let category = self.fragrance_category.as_ref();
        stated.extend(category.map(|c| format!("fragrance category {c}")));
        stated.extend(self.target_ph.map(|ph| format!("pH aimed at {ph:.2}")));
        if !self.specification.is_empty() {
            let asked = self.specification.iter().map(|c| c.words.as_str());
            let asked: Vec<&str> = asked.collect();
            stated.push(format!("specification {}", asked.join(", ")));
        }
        if !stated.is_empty() {
            writeln!(t, "Checked as: {}", stated.join("; "))?;
        }
        let open: Vec<&str> = [
            (
                self.product_type.is_none(),
                "the type of product, by which limits differ",
            ),
            (self.places.is_empty(), "where it is used"),
            (
                self.market_date.is_none(),
                "the day of placing on the market, so that the day of this report counts",
            ),
        ]
        .iter()
        .filter(|(is_open, _)| *is_open && self.law)
        .map(|(_, words)| *words)
        .collect();
        if !open.is_empty() {
            writeln!(t, "Not stated: {}", open.join("; "))?;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::fixture;
    use crate::formula::{BodySite, Date, Market};
    use crate::specification::{Quality, Specification};

    #[test]
    fn what_it_was_checked_for_is_told() {
        let mut variant = fixture::formula(Vec::new()).active().as_ref().clone();
        variant.product.product_type = Some(ProductType::FootCare);
        variant.product.places = vec![BodySite::Body];
        variant.product.markets = vec![Market::Eu];
        variant.product.under_three = true;
        variant.product.market_date = Some(Date::constant(2027, 3, 1));
        variant.product.fragrance_category = Some("5A".into());
        variant.target_ph = Ph::new(5.2);
        variant.specification = Arc::new(Specification {
            characteristics: vec![Characteristic {
                low: Some(3000.0),
                ..Characteristic::new(Quality::Viscosity)
            }],
        });
        let checked = CheckedAs::of(&variant);
        let mut text = String::new();
        checked.write_text(&mut text).unwrap();
        for part in [
            ProductType::FootCare.label(),
            "for children under three",
            "placed on the market 2027-03-01",
            "fragrance category 5A",
            "pH aimed at 5.20",
            "specification viscosity at least 3000 mPa·s",
        ] {
            assert!(text.contains(part), "{part}: {text}");
        }
        assert!(
            !text.contains("Not stated") && !text.contains("spray"),
            "{text}"
        );
        let json = serde_json::to_value(&checked).unwrap();
        assert_eq!(json["target_ph"], 5.2);
        assert_eq!(json["specification"][0]["low"], 3000.0);
        assert_eq!(json["spray"], false);

        variant.product = Product {
            markets: vec![Market::Eu],
            product_type: None,
            market_date: None,
            ..variant.product
        };
        text.clear();
        CheckedAs::of(&variant).write_text(&mut text).unwrap();
        assert!(text.contains("Not stated: the type of product"), "{text}");
        assert!(text.contains("the day of this report counts"), "{text}");
    }
}
