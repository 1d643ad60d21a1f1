//! The label that follows from a formula: ingredient list and text per market, what is
//! missing, and which facts the formula supports.
//!
//! Not legal advice: local law and a qualified safety assessor decide.

pub mod claims;
mod draft;
pub mod duties;
pub mod ingredients;
pub mod names;
pub mod net_contents;
pub mod reaction;
pub mod svg;

use std::fmt::Write as _;

use crate::evaluation::{Evaluation, FoundBreach};
use crate::formula::{Formula, Market, Variant};
use crate::quantity::Percent;

pub use claims::{Claim, Holds};
pub use duties::{Advice, LabelSection, Missing, SectionKind, Stated};
pub use ingredients::{Ingredient, IngredientList, ListSection, NotListed};

/// What every label here is subject to.
pub const CAUTION: &str = "Computed from the composition stated for the raw materials; not legal advice. Local law and a qualified safety assessor decide.";

/// The label of one market.
#[derive(Clone, PartialEq, Debug)]
pub struct Label {
    /// Where the product is sold.
    pub market: Market,
    /// The ingredient list.
    pub ingredients: IngredientList,
    /// Everything else on the label, in its order.
    pub sections: Vec<LabelSection>,
    /// What is missing, what the law demands first.
    pub missing: Vec<Missing>,
    /// What to mind.
    pub advice: Vec<Advice>,
    /// Facts that the formula supports or not.
    pub claims: Vec<Claim>,
    /// What the checks call a breach that stands in this market; none of it is on the label, but
    /// the product must not be sold with it.
    pub breaches: Vec<FoundBreach>,
}

/// Draws up the label of a variant for a market.
///
/// The evaluation must be of the same variant; wordings and allergens that rules demand
/// are taken from it, so the product must name the market among its own.
pub fn label(
    formula: &Formula,
    variant: &Variant,
    evaluation: &Evaluation,
    market: Market,
) -> Label {
    let ingredients = ingredients::list(variant, evaluation, market);
    let mut duties = duties::duties(formula, variant, evaluation, market);
    let total = evaluation.composition.total;
    if ingredients.ingredients.is_empty() {
        duties.missing.push(Missing {
            what: "There is no ingredient to list; add lines to the formula".to_owned(),
            ground: list_ground(market).to_owned(),
            required: true,
            stated: None,
        });
    } else if total != Percent::HUNDRED {
        duties.missing.push(Missing {
            what: format!(
                "The lines add up to {total} %, not 100 %, so the order and the completeness of the list cannot be relied on; bring the formula to 100"
            ),
            ground: list_ground(market).to_owned(),
            required: true,
            stated: None,
        });
    }
    if !variant.product.markets.contains(&market) {
        duties.missing.push(Missing {
            what: format!(
                "The product does not name {} among its markets, so its rules were not checked: warnings and allergens may be missing",
                market.label()
            ),
            ground: "the product's own data".to_owned(),
            required: true,
            stated: None,
        });
    }
    for fault in [names::fault(), reaction::fault()].into_iter().flatten() {
        duties.missing.push(Missing {
            what: format!("The label tables could not be read: {fault}"),
            ground: "the tables that come with the program".to_owned(),
            required: true,
            stated: None,
        });
    }
    svg::check_type_size(variant, market, &mut duties);
    duties.missing.sort_by_key(|m| !m.required);
    let breaches = evaluation.breaches.iter().filter(|b| b.stands_in(market));
    Label {
        market,
        ingredients,
        sections: duties.sections,
        missing: duties.missing,
        advice: duties.advice,
        claims: claims::claims(evaluation),
        breaches: breaches.cloned().collect(),
    }
}

/// Where the order of the list is written.
pub const fn list_ground(market: Market) -> &'static str {
    match market {
        Market::Eu => "Regulation (EC) No 1223/2009, Article 19(1)(g)",
        Market::Uk => {
            "Regulation (EC) No 1223/2009 as it stands in Great Britain, Article 19(1)(g)"
        }
        Market::Us => "21 CFR 701.3",
    }
}

impl Label {
    /// What is said before everything else where something stands against selling the product.
    pub fn not_for_sale(&self) -> Option<String> {
        let market = self.market.label();
        match self.breaches.len() {
            0 => None,
            1 => Some(format!(
                "Not for sale in the {market}: the formula is in breach"
            )),
            n => Some(format!("Not for sale in the {market}: {n} breaches stand")),
        }
    }

    /// Whether the law demands more before the product is sold under this label: a duty is not
    /// met or a breach stands.
    pub fn is_short(&self) -> bool {
        !self.breaches.is_empty() || self.missing.iter().any(|m| m.required)
    }

    /// The text of the label, a paragraph each, without grounds and notes: what is
    /// printed and what goes to the clipboard.
    pub fn text(&self) -> String {
        let mut text = String::new();
        for section in &self.sections {
            let _ = writeln!(text, "{}", printed(section));
        }
        let _ = writeln!(text, "Ingredients: {}", self.ingredients.text());
        text
    }
}

/// A section as it is printed.
pub(crate) fn printed(section: &LabelSection) -> String {
    if section.kind.is_bare() {
        section.text.clone()
    } else {
        format!("{}: {}", section.kind.title(), section.text)
    }
}
