//! Highest levels of fragrances per product category, from the supplier's certificate.

use std::sync::Arc;

use crate::finding::{Finding, Level, LineLimit};
use crate::formula::{Product, ProductType};
use crate::material::{Basis, Role, Source};
use crate::mixture::Mixture;

/// A category of the fragrance trade association, described in our own words.
#[derive(Clone, PartialEq, Debug)]
pub struct Category {
    /// For example `5A`.
    pub code: Arc<str>,
    /// How a product of it is used.
    pub what: Arc<str>,
    /// Products that fall in it.
    pub examples: Arc<str>,
    /// Types of product that fall in it.
    pub types: Vec<ProductType>,
    /// Where the categories are from.
    pub source: Arc<str>,
}

/// The category a product's type falls in; none if no type is stated or its category
/// depends on more than the type. A suggestion: the maker states the category.
pub fn suggested<'c>(categories: &'c [Category], product: &Product) -> Option<&'c Category> {
    let stated = product.product_type?;
    if product.under_three && stated != ProductType::Wipes {
        return categories.iter().find(|c| &*c.code == "5D").filter(|_| {
            matches!(
                stated,
                ProductType::BodyLotion | ProductType::FaceCream | ProductType::Powder
            )
        });
    }
    categories.iter().find(|c| c.types.contains(&stated))
}

/// Checks every fragrance and essential oil against its certificate.
pub fn check(
    mixture: &Mixture,
    product: &Product,
    categories: &[Category],
    findings: &mut Vec<Finding>,
    limits: &mut Vec<LineLimit>,
) {
    let source = || {
        Source::new(
            Basis::Supplier,
            "highest levels of the supplier's certificate",
        )
    };
    let mut without = Vec::new();
    let mut names = Vec::new();
    let mut uncategorised = Vec::new();
    for line in &mixture.lines {
        let Some(material) = &line.material else {
            continue;
        };
        if !(material.has_role(Role::Fragrance) || material.has_role(Role::EssentialOil)) {
            continue;
        }
        if material.fragrance_levels.is_empty() {
            without.push(line.line);
            names.push(&*material.name);
            continue;
        }
        let Some(category) = &product.fragrance_category else {
            uncategorised.push(line.line);
            continue;
        };
        let level = material
            .fragrance_levels
            .iter()
            .find(|l| l.category.eq_ignore_ascii_case(category))
            // A level for the whole category holds for its divisions.
            .or_else(|| {
                let whole = category.trim_end_matches(|c: char| c.is_ascii_alphabetic());
                material
                    .fragrance_levels
                    .iter()
                    .find(|l| &*l.category == whole)
            });
        let rule: Arc<str> = format!("fragrance category {category}").into();
        let Some(level) = level else {
            findings.push(Finding::new(Level::Caution, rule, format!(
                    "The certificate of {} gives no level for category {category}; ask the supplier",
                    material.name
                ), source()).on(vec![line.line]));
            continue;
        };
        if line.percent > level.maximum {
            findings.push(
                Finding::new(
                    Level::Breach,
                    rule.clone(),
                    format!(
                        "{} is {} %; its certificate allows at most {} % in category {category}",
                        material.name, line.percent, level.maximum
                    ),
                    source(),
                )
                .on(vec![line.line]),
            );
        }
        limits.push(LineLimit {
            line: line.line,
            most: level.maximum,
            message: format!(
                "At most {} % before the certificate's level for category {category} binds",
                level.maximum
            ),
            rule,
        });
    }
    if !uncategorised.is_empty() {
        let advice = suggested(categories, product).map_or_else(String::new, |c| {
            format!("; by its type it would be {} ({})", c.code, c.examples)
        });
        findings.push(Finding::new(Level::Caution, "fragrance category", format!(
                "State the product category: the highest level of the fragrance depends on it{advice}"
            ), source()).on(uncategorised));
    }
    if !without.is_empty() {
        findings.push(Finding::new(Level::Note, "fragrance certificate", format!(
                "No highest levels are entered for {}; enter them from the supplier's certificate on the Shelf",
                names.join(", ")
            ), source()).on(without));
    }
}
