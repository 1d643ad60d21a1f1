//! The ingredient list of a market, in the order its law demands.
//!
//! European Union and United Kingdom: descending order of weight at the time of
//! adding; ingredients under 1 % in any order after those; perfume as “parfum”, with the
//! allergens above their thresholds; nanomaterials marked; colorants in any order after
//! the other ingredients (Regulation (EC) No 1223/2009, Article 19(1)(g)). United
//! States: ingredients above 1 % in descending order, those of at most 1 % in any order,
//! then colour additives in any order (21 CFR 701.3(f)).

use std::collections::{HashMap, HashSet};
use std::sync::Arc;

use super::draft::Draft;
use super::names::names;
use super::reaction;
use crate::chemistry::soap::Making;
use crate::evaluation::Evaluation;
use crate::formula::{ItemId, Market, ProductType, Variant};
use crate::inci::{Inci, InciKey, equal_as_spelt};
use crate::material::{Class, Material, Role};
use crate::mixture::{IngredientStatus, Mixture};
use crate::oil_parts;
use crate::quantity::{MassFraction, Percent, Spread};
use crate::rules::scope::Truth;

/// The percentage from which the order is by weight, and below which it is free: Regulation (EC)
/// No 1223/2009, Article 19(1)(g); 21 CFR 701.3(f)(2).
pub const ANY_ORDER_PERCENT: f64 = 1.0;
/// The same as a share.
pub const ANY_ORDER: MassFraction = MassFraction::from_percent(ANY_ORDER_PERCENT);

/// Shares closer than this are equal: far below what can be weighed.
const SAME: f64 = 1e-12;

/// Where in the list an ingredient stands, and why.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum ListSection {
    /// By weight.
    ByWeight,
    /// At most 1 % (under 1 % in the European Union and United Kingdom): in any order.
    AnyOrder,
    /// A fragrance allergen, named because it passes its threshold; in any order.
    Allergen,
    /// A colorant, in any order at the end.
    Colorant,
}

impl ListSection {
    /// The words shown for it.
    pub const fn label(self) -> &'static str {
        match self {
            Self::ByWeight => "by weight",
            Self::AnyOrder => "any order",
            Self::Allergen => "allergen",
            Self::Colorant => "colorant",
        }
    }
}

/// An ingredient of the list.
#[derive(Clone, Debug)]
pub struct Ingredient {
    /// Name on this market's label.
    pub name: String,
    /// INCI name.
    pub inci: Inci,
    /// Share of the whole formula at the time of adding.
    pub share: Spread,
    /// Where it stands.
    pub part: ListSection,
    /// Lines that bring it in, in working order.
    pub lines: Vec<ItemId>,
}

equal_as_spelt!(Ingredient: names inci; rest name, share, part, lines);

/// A substance that is in the mix and not on the list.
#[derive(Clone, Debug)]
pub struct NotListed {
    /// INCI name.
    pub inci: Inci,
    /// Share of the whole formula.
    pub share: Spread,
    /// Why it is not listed.
    pub reason: Arc<str>,
    /// Left off by the maker, not by the raw material's data.
    pub by_maker: bool,
}

equal_as_spelt!(NotListed: names inci; rest share, reason, by_maker);

/// The ingredient list of one market.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct IngredientList {
    /// In the order of the label.
    pub ingredients: Vec<Ingredient>,
    /// Colorants of other shades, after “may contain”.
    pub may_contain: Vec<String>,
    /// What is not listed, with the reason.
    pub not_listed: Vec<NotListed>,
    /// What to mind, in sentences.
    pub remarks: Vec<String>,
}

impl IngredientList {
    /// The list as it is printed, after the word that the law asks for.
    pub fn text(&self) -> String {
        let names: Vec<&str> = self.ingredients.iter().map(|i| i.name.as_str()).collect();
        let mut text = names.join(", ");
        if !self.may_contain.is_empty() {
            text.push_str(" [+/- ");
            text.push_str(&self.may_contain.join(", "));
            text.push(']');
        }
        text
    }
}

/// Makes the list of a market.
pub fn list(variant: &Variant, evaluation: &Evaluation, market: Market) -> IngredientList {
    let mut made = IngredientList::default();
    let mut drafts = gather(variant, &evaluation.mixture, &mut made);
    leave_out(variant, &mut drafts, &mut made);
    let soap = evaluation.estimates.soap.as_ref();
    let soap = soap.filter(|s| s.making == Making::Saponified);
    if variant.label.reaction_products {
        if let Some(soap) = soap {
            made.remarks.push(reaction::saponify(&mut drafts, soap));
        }
        made.remarks.append(&mut reaction::react(&mut drafts));
    } else if soap.is_some() {
        made.remarks.push(
            "Fats and lye are listed as they went into the pot; they can be listed as the soap that they form".to_owned(),
        );
    }
    let mut allergens = Vec::new();
    let mut renamed: HashMap<InciKey, String> = HashMap::new();
    for allergen in evaluation
        .allergens
        .iter()
        .filter(|a| a.markets.contains(&market) && a.must != Truth::No)
    {
        if allergen.must == Truth::Maybe {
            made.remarks.push(format!(
                "{} is named because the highest share its sources state, {:.4} %, passes the threshold of {} %; at the typical share it would not",
                allergen.name,
                allergen.share.high.as_percent(),
                allergen.threshold.as_percent()
            ));
        }
        let mut listed = drafts.iter_mut().filter(|d| {
            allergen
                .constituents
                .iter()
                .any(|c| names().european(c).same_as(&d.inci))
        });
        if let Some(first) = listed.next() {
            // It is an ingredient of its own: it keeps its place, under the name of the duty.
            if allergen.share.typical > first.share.typical {
                first.share = allergen.share;
            }
            renamed.insert(first.inci.key(), allergen.name.to_string());
            let others: HashSet<InciKey> = listed.map(|d| d.inci.key()).collect();
            drafts.retain(|d| !others.contains(&d.inci.key()));
        } else {
            allergens.push(Ingredient {
                name: allergen.name.to_string(),
                inci: allergen.name.clone().into(),
                share: allergen.share,
                part: ListSection::Allergen,
                lines: allergen.lines.clone(),
            });
        }
    }
    let hair_dye = matches!(
        variant.product.product_type,
        Some(ProductType::HairDyeOxidative | ProductType::HairDyeNonOxidative)
    );
    for draft in drafts {
        let in_order = stands_by_weight(draft.share, market);
        let part = if draft.class == Class::Colour && !(hair_dye && market != Market::Us) {
            ListSection::Colorant
        } else if in_order {
            ListSection::ByWeight
        } else {
            ListSection::AnyOrder
        };
        if market == Market::Us
            && part == ListSection::Colorant
            && !names().is_us_colour(&draft.inci)
        {
            made.remarks.push(format!(
                "{} has no name among the colour additives listed in the United States; it may not be used as a colour there",
                draft.inci
            ));
        }
        made.ingredients.push(Ingredient {
            name: renamed
                .get(&draft.inci.key())
                .cloned()
                .unwrap_or_else(|| names().on_label(&draft.inci, draft.class, market)),
            inci: draft.inci,
            share: draft.share,
            part,
            lines: draft.lines,
        });
    }
    // An allergen of as much as stands by weight does so like any other ingredient.
    for mut allergen in allergens {
        if stands_by_weight(allergen.share, market) {
            allergen.part = ListSection::ByWeight;
        }
        made.ingredients.push(allergen);
    }
    merge_same_names(&mut made.ingredients);
    sort(&mut made.ingredients, &variant.label.low_order);
    remark_on_ranges(&mut made);
    if market == Market::Us {
        remark_on_common_names(&mut made);
    }
    made.may_contain = variant
        .label
        .may_contain
        .iter()
        .map(|inci| names().on_label(inci, Class::Colour, market))
        .collect();
    made
}

/// Whether an ingredient is too much to stand in any order: 1 % or more in the European Union
/// and the United Kingdom (Regulation (EC) No 1223/2009, Article 19(1)(g): "less than 1 %"),
/// more than 1 % in the United States (21 CFR 701.3(f)(2): "not more than 1 percent").
fn stands_by_weight(share: Spread, market: Market) -> bool {
    let share = share.typical.value();
    match market {
        Market::Eu | Market::Uk => share >= ANY_ORDER.value() - SAME,
        Market::Us => share > ANY_ORDER.value() + SAME,
    }
}

/// Why the moisture of a raw material is not listed.
const MOISTURE: &str = "moisture of the raw material; it was not added as water";

/// Adds up every ingredient over the materials that bring it in.
fn gather(variant: &Variant, mixture: &Mixture, made: &mut IngredientList) -> Vec<Draft> {
    for line in mixture.lines.iter().filter(|l| l.percent > Percent::ZERO) {
        let Some(material) = &line.material else {
            let name = variant.line(line.line).map(|l| l.material.to_string());
            made.remarks.push(format!(
                "{} is not carried by the file, so its ingredients are missing from the list",
                name.unwrap_or_default()
            ));
            continue;
        };
        made.remarks.extend(oil_parts::words_of(material));
        if line.unknown > MassFraction::ZERO {
            made.remarks.push(format!(
                "{:.3} % of the formula, from {}, has no known composition; ask the supplier, the list may lack ingredients",
                line.unknown.as_percent(),
                material.name
            ));
        }
    }
    let mut drafts: Vec<Draft> = Vec::new();
    let mut places: HashMap<InciKey, usize> = HashMap::new();
    for c in &mixture.contributions {
        let share = c.as_declared;
        if share.high <= MassFraction::ZERO {
            continue;
        }
        match (c.standing, &c.incidental) {
            (IngredientStatus::Component, _) => continue,
            (IngredientStatus::Moisture, _) => {
                note_not_listed(made, &c.inci, share, &MOISTURE.into(), false);
                continue;
            }
            (_, Some(reason)) => {
                note_not_listed(made, &c.inci, share, reason, false);
                continue;
            }
            (
                IngredientStatus::Ingredient
                | IngredientStatus::Whole
                | IngredientStatus::Incidental,
                None,
            ) => {}
        }
        let perfume = variant.label.oils_as_perfume && is_perfume(&c.material);
        let inci = if perfume && c.class == Class::Fragrance {
            "Parfum".into()
        } else {
            names().european(&c.inci).clone()
        };
        let place = *places.entry(inci.key()).or_insert_with(|| {
            drafts.push(Draft {
                inci,
                class: c.class,
                share: Spread::default(),
                most: MassFraction::ZERO,
                lines: Vec::new(),
            });
            drafts.len() - 1
        });
        if let Some(draft) = drafts.get_mut(place) {
            draft.share += share;
            // Its class is that of the line that brings in most of it.
            if share.typical > draft.most {
                draft.most = share.typical;
                draft.class = c.class;
            }
            if !draft.lines.contains(&c.line) {
                draft.lines.push(c.line);
            }
        }
    }
    drafts
}

/// Whether a material is there for its smell, so that it may be listed as perfume.
fn is_perfume(material: &Material) -> bool {
    (material.has_role(Role::Fragrance) || material.has_role(Role::EssentialOil))
        && !material.has_role(Role::Cooling)
}

fn note_not_listed(
    made: &mut IngredientList,
    inci: &Inci,
    share: Spread,
    reason: &Arc<str>,
    by_maker: bool,
) {
    let same =
        |n: &&mut NotListed| n.inci.same_as(inci) && n.reason == *reason && n.by_maker == by_maker;
    match made.not_listed.iter_mut().find(same) {
        Some(noted) => noted.share += share,
        None => made.not_listed.push(NotListed {
            inci: inci.clone(),
            share,
            reason: reason.clone(),
            by_maker,
        }),
    }
}

/// Takes off what the maker holds incidental, and keeps the reason.
fn leave_out(variant: &Variant, drafts: &mut Vec<Draft>, made: &mut IngredientList) {
    for left in &variant.label.left_out {
        let european = names().european(&left.inci);
        let Some(place) = drafts.iter().position(|d| d.inci.same_as(european)) else {
            continue;
        };
        let draft = drafts.remove(place);
        if left.reason.trim().is_empty() {
            made.remarks.push(format!(
                "{} is left off the list without a reason; write down why",
                left.inci
            ));
        }
        note_not_listed(made, &draft.inci, draft.share, &left.reason, true);
    }
}

/// The identity of a name on the label.
fn key(name: &str) -> InciKey {
    Inci::from(name).key()
}

/// Ingredients that share a name on this label are one (iron oxides in the United
/// States, for example).
fn merge_same_names(ingredients: &mut Vec<Ingredient>) {
    let mut merged: Vec<Ingredient> = Vec::with_capacity(ingredients.len());
    let mut places: HashMap<InciKey, usize> = HashMap::new();
    for ingredient in ingredients.drain(..) {
        let place = *places.entry(key(&ingredient.name)).or_insert(merged.len());
        match merged.get_mut(place) {
            Some(same) => {
                same.share += ingredient.share;
                same.part = same.part.min(ingredient.part);
                for line in ingredient.lines {
                    if !same.lines.contains(&line) {
                        same.lines.push(line);
                    }
                }
            }
            None => merged.push(ingredient),
        }
    }
    *ingredients = merged;
}

/// Puts the list in order: by weight; then those in any order, first as the maker wants
/// them, then by weight, allergens after the others; colorants last.
fn sort(ingredients: &mut [Ingredient], wanted: &[Inci]) {
    let rank = |i: &Ingredient| {
        wanted
            .iter()
            .position(|w| names().european(w).same_as(&i.inci) || w.is(&i.name))
            .unwrap_or(wanted.len())
    };
    let block = |i: &Ingredient| match i.part {
        ListSection::ByWeight => 0,
        ListSection::AnyOrder | ListSection::Allergen => 1,
        ListSection::Colorant => 2,
    };
    ingredients.sort_by(|a, b| {
        let by_weight = b
            .share
            .typical
            .value()
            .total_cmp(&a.share.typical.value())
            .then_with(|| key(&a.name).cmp(&key(&b.name)));
        block(a).cmp(&block(b)).then_with(|| {
            if a.part == ListSection::ByWeight {
                by_weight
            } else {
                rank(a)
                    .cmp(&rank(b))
                    .then_with(|| a.part.cmp(&b.part))
                    .then(by_weight)
            }
        })
    });
}

/// Says where the order rests on typical shares that a lot may change.
fn remark_on_ranges(made: &mut IngredientList) {
    let by_weight: Vec<&Ingredient> = made
        .ingredients
        .iter()
        .filter(|i| i.part == ListSection::ByWeight)
        .collect();
    let mut remarks: Vec<String> = by_weight
        .windows(2)
        .filter_map(|pair| match pair {
            [a, b] if b.share.high.value() > a.share.low.value() + SAME => Some(format!(
                "{} stands before {} by their typical shares; within the ranges stated for the materials it may be the other way round, so check the certificates",
                a.name, b.name
            )),
            _ => None,
        })
        .collect();
    for i in &made.ingredients {
        let spans = i.share.low.value() < ANY_ORDER.value() - SAME
            && i.share.high.value() > ANY_ORDER.value() + SAME;
        if spans && i.part != ListSection::Colorant {
            remarks.push(format!(
                "{} lies between {:.2} and {:.2} %, on both sides of 1 %",
                i.name,
                i.share.low.as_percent(),
                i.share.high.as_percent()
            ));
        }
    }
    made.remarks.append(&mut remarks);
}

/// Says of which plants the list lacks the name that consumers know (21 CFR 701.3(c)).
fn remark_on_common_names(made: &mut IngredientList) {
    let listed = made.ingredients.iter();
    let mut nameless: Vec<&str> = listed
        .filter(|i| i.part != ListSection::Allergen)
        .filter_map(|i| names().without_common_name(&i.inci))
        .collect();
    nameless.sort_unstable();
    nameless.dedup();
    if !nameless.is_empty() {
        let remark = format!(
            "no common name is known here for {}; the law asks for the name that consumers know (21 CFR 701.3(c))",
            nameless.join(", ")
        );
        made.remarks.push(remark);
    }
}

#[cfg(test)]
#[path = "ingredients_tests.rs"]
mod tests;
