//! What the law wants on the label: wordings and fragrance allergens.

use std::fmt::Write as _;
use std::sync::Arc;

use super::hit::{Hit, names};
use super::limit::Amount;
use super::plant_part::Plant;
use super::words::figure;
use super::{Check, Law, TOLERANCE, list_source, markets_of, source};
use crate::finding::{Finding, FindingSubject, Level, StatedField};
use crate::formula::{Date, ItemId, Market};
use crate::inci::{Inci, equal_as_spelt};
use crate::material::{Basis, ProductKind, Role, Source};
use crate::oil_parts::{self, is_composed};
use crate::quantity::{MassFraction, Percent, Spread};
use crate::rules::entry::{ListEntry, RuleSet, Tier, Wording};
use crate::rules::scope::{Scope, Truth};

/// Above this share a fragrance allergen is named on a product that stays on:
/// Regulation (EC) No 1223/2009, Annex III.
pub const ALLERGEN_LEAVE_ON: MassFraction = MassFraction::from_percent(0.001);
/// Above this share on a product that is washed off; same source.
pub const ALLERGEN_RINSE_OFF: MassFraction = MassFraction::from_percent(0.01);

/// A wording a rule demands on the label.
#[derive(Clone, PartialEq, Debug)]
pub struct RequiredWording {
    /// Where.
    pub markets: Vec<Market>,
    /// Which rule.
    pub rule: Arc<str>,
    /// The words.
    pub text: Arc<str>,
    /// Whether it is certain that they are needed.
    pub certain: Truth,
    /// What decides where that is not certain, in words; empty otherwise.
    pub condition: String,
    /// Lines that bring it about.
    pub lines: Vec<ItemId>,
    /// Where the rule is written.
    pub source: Source,
    /// Whether it says that this label is not enough, as the product is more than a cosmetic.
    pub border: bool,
}

/// A fragrance allergen that the mix contains.
#[derive(Clone, Debug)]
pub struct LabelAllergen {
    /// The name for the ingredient list; it may stand for a group.
    pub name: Arc<str>,
    /// INCI names of the constituents counted under it.
    pub constituents: Vec<Inci>,
    /// Share of the whole formula.
    pub share: Spread,
    /// The share above which it is named.
    pub threshold: MassFraction,
    /// Whether it must be named on the day of placing on the market.
    pub must: Truth,
    /// First day of placing on the market on which the duty binds, if it is not of old.
    pub from: Option<Date>,
    /// Where it applies.
    pub markets: Vec<Market>,
    /// Which rule.
    pub rule: Arc<str>,
    /// Lines that bring it in.
    pub lines: Vec<ItemId>,
}

equal_as_spelt!(LabelAllergen: names constituents; rest name, share, threshold, must, from, markets, rule, lines);

/// Wordings for one market, certain ones first.
pub fn required_wordings(law: &Law, market: Market) -> impl Iterator<Item = &RequiredWording> {
    let of = move |certain: bool| {
        law.demands
            .iter()
            .filter(move |d| d.markets.contains(&market) && (d.certain == Truth::Yes) == certain)
    };
    of(true).chain(of(false))
}

/// Allergens that must, or at the top of the stated ranges may have to, be named in
/// the ingredient list of a market.
pub fn allergens_to_label(law: &Law, market: Market) -> impl Iterator<Item = &LabelAllergen> {
    law.allergens
        .iter()
        .filter(move |a| a.markets.contains(&market) && a.must != Truth::No)
}

impl<'a> Check<'a> {
    pub(super) fn wordings(
        &mut self,
        entry: &ListEntry,
        set: &RuleSet,
        wordings: &[Wording],
        tier_truth: Truth,
        tier: &Tier,
        hits: &[Hit],
    ) {
        for wording in wordings {
            let mut certain = tier_truth.min(wording.when.holds(self.product));
            let mut conditions = Vec::new();
            if let Some(above) = wording.above {
                let amount = self.amount(entry, tier, hits, None);
                let over = amount.over(&Tier::plain(), above);
                if over == Truth::Maybe || entry.joint {
                    conditions.push(format!(
                        "if the amount is above {} %",
                        figure(above.as_percent())
                    ));
                }
                if entry.joint && over == Truth::Yes {
                    let message = format!(
                        "{} can release up to {} % {}; above {} % the label must say “{}”, unless a measurement of the product shows less",
                        names(hits),
                        figure(amount.certain * 100.0),
                        tier.expressed
                            .map_or("", |t| self.book.equivalents().name(t)),
                        figure(above.as_percent()),
                        wording.text
                    );
                    self.say(Level::Caution, entry, set, message, hits);
                }
                // What a structure can release at most is not what it releases.
                certain = certain.min(if entry.joint {
                    over.min(Truth::Maybe)
                } else {
                    over
                });
            }
            if certain == Truth::No {
                continue;
            }
            if tier_truth == Truth::Maybe {
                conditions.push(match &tier.scope {
                    Scope::All | Scope::Other => "in the products the entry speaks of".to_owned(),
                    scope => format!("in products: {scope}"),
                });
            }
            if wording.when.holds(self.product) == Truth::Maybe {
                conditions.push(format!("if {}", wording.when));
            }
            if !hits.is_empty() && !Self::sure(entry, hits) {
                certain = certain.min(Truth::Maybe);
                conditions.push("if the entry covers it".to_owned());
            }
            let lines = self.lines_of(hits);
            self.law.demands.push(RequiredWording {
                markets: markets_of(set, &entry.binds, self.product),
                rule: entry.rule.clone(),
                text: wording.text.clone(),
                certain,
                condition: if certain == Truth::Yes {
                    String::new()
                } else {
                    conditions.join(", ")
                },
                lines,
                source: source(entry, set),
                border: false,
            });
        }
    }

    pub(super) fn allergen(&mut self, entry: &'a ListEntry, set: &'a RuleSet, hits: &[Hit]) {
        let Some(allergen) = &entry.allergen else {
            return;
        };
        // A CAS number may stand for the oils of several parts of a plant or of several species;
        // the name decides.
        let plant = Plant::of(&allergen.name);
        let is_it = |h: &&Hit| !plant.differs_from(h.inci.spelling(), &entry.name);
        let hits = || hits.iter().filter(is_it);
        let share: Spread = hits().map(|h| h.as_declared).sum();
        if share.high <= MassFraction::ZERO {
            return;
        }
        // Left on in one of its uses, the lower threshold binds.
        let threshold = if self.product.kinds.contains(ProductKind::LeaveOn) {
            ALLERGEN_LEAVE_ON
        } else {
            ALLERGEN_RINSE_OFF
        };
        let lines = self.lines_of(hits());
        let place = self
            .law
            .allergens
            .iter()
            .position(|a| a.name == allergen.name);
        let merged = if let Some(place) = place {
            &mut self.law.allergens[place]
        } else {
            self.law.allergens.push(LabelAllergen {
                name: allergen.name.clone(),
                constituents: Vec::new(),
                share: Spread::default(),
                threshold,
                must: Truth::No,
                from: allergen.from,
                markets: markets_of(set, &allergen.binds, self.product),
                rule: entry.rule.clone(),
                lines: Vec::new(),
            });
            let last = self.law.allergens.len() - 1;
            &mut self.law.allergens[last]
        };
        merged.share += share;
        for hit in hits() {
            if !merged.constituents.iter().any(|c| c.same_as(&hit.inci)) {
                merged.constituents.push(hit.inci.clone());
            }
        }
        if merged.lines.is_empty() {
            merged.lines = lines;
        } else {
            // Another entry of the same name: the lines of both, in working order.
            let all = self.lines.iter().map(|l| l.id);
            let known = |id: &ItemId| merged.lines.contains(id) || lines.contains(id);
            merged.lines = all.filter(known).collect();
        }
        let over = Amount {
            certain: merged.share.typical.value(),
            most: merged.share.high.value(),
        }
        .over(&Tier::plain(), threshold);
        merged.must = if allergen.from.is_some_and(|from| self.day < from) {
            Truth::No
        } else {
            over
        };
    }

    /// Fragrances and essential oils whose allergens nobody has entered.
    pub(super) fn undeclared(&mut self) {
        let europe = |m: &Market| matches!(m, Market::Eu | Market::Uk);
        if !self.product.markets.iter().any(europe) {
            return;
        }
        let mut lines = Vec::new();
        let mut names = Vec::new();
        for line in &self.mixture.lines {
            let Some(material) = &line.material else {
                continue;
            };
            let scented =
                material.has_role(Role::Fragrance) || material.has_role(Role::EssentialOil);
            let told = match material.constituents.as_slice() {
                [] => false,
                [only] => !is_composed(only.inci.spelling()),
                _ => true,
            };
            if scented && !told && line.percent > Percent::ZERO {
                lines.push(line.line);
                names.push(&*material.name);
            }
        }
        if lines.is_empty() {
            return;
        }
        let Some((rule, source)) = self.of_allergens() else {
            return;
        };
        let message = format!(
            "The allergens of {} are not known here; enter their shares from the supplier's allergen declaration on the Shelf",
            names.join(", ")
        );
        let finding = Finding::new(Level::Caution, rule, message, source);
        let finding = match lines.first() {
            Some(&line) => finding.open(StatedField::Material(line)),
            None => finding,
        };
        self.law.findings.push(finding.on(lines));
    }

    /// Oils and fragrances that count by their remainder, for their components stand beside them.
    pub(super) fn loose_components(&mut self) {
        let mut found = Vec::new();
        for line in self
            .mixture
            .lines
            .iter()
            .filter(|l| l.percent > Percent::ZERO)
        {
            let Some(material) = &line.material else {
                continue;
            };
            let Some(words) = oil_parts::words_of(material) else {
                continue;
            };
            let message = format!("{words}; put that right on the Shelf");
            let source = Source::new(
                Basis::Published,
                "Regulation (EC) No 1223/2009, Article 19(1)(g) and Annex III; 21 CFR 701.3(a)",
            );
            let finding = Finding::new(Level::Caution, "oil-components", message, source)
                .on(vec![line.line])
                .open(StatedField::Material(line.line));
            found.push(finding);
        }
        self.law.findings.append(&mut found);
    }

    /// The name and the document of the list that names allergens.
    fn of_allergens(&self) -> Option<(String, Source)> {
        let entry = self.book.first_of_allergens()?;
        let set = self.book.set_of(entry)?;
        Some((format!("{} allergens", set.name), list_source(set)))
    }

    /// Wordings that are certainly demanded, as notes for the label.
    pub(super) fn name_wordings(&mut self) {
        let certain = |d: &&RequiredWording| d.certain == Truth::Yes && !d.border;
        let notes = self.law.demands.iter().filter(certain).map(|d| {
            let markets: Vec<&str> = d.markets.iter().map(|m| m.label()).collect();
            let message = format!(
                "The label has to say ({}): “{}”",
                markets.join(", "),
                d.text
            );
            Finding::new(Level::Note, d.rule.clone(), message, d.source.clone())
                .on(d.lines.clone())
                .asks(FindingSubject::Label)
                .open(StatedField::Label)
        });
        let notes: Vec<Finding> = notes.collect();
        self.law.findings.extend(notes);
    }

    /// One note that names every allergen for the ingredient list.
    pub(super) fn name_allergens(&mut self) {
        let europe = [Market::Eu, Market::Uk].into_iter();
        let sold: Vec<Market> = europe
            .filter(|m| self.product.markets.contains(m))
            .collect();
        let mut told = vec![false; self.lines.len()];
        let (mut named, mut perhaps, mut later) = (String::new(), String::new(), String::new());
        let mut first: Option<Date> = None;
        // One that binds in no market of the product is on no label of it.
        for a in self.law.allergens.iter().filter(|a| !a.markets.is_empty()) {
            let over = a.share.high.value() > a.threshold.value() + TOLERANCE;
            let list = match a.must {
                Truth::Yes => &mut named,
                Truth::Maybe => &mut perhaps,
                Truth::No if over && a.from.is_some_and(|d| self.day < d) => {
                    first = first.into_iter().chain(a.from).min();
                    &mut later
                }
                Truth::No => continue,
            };
            let between = if list.is_empty() { "" } else { ", " };
            let share = figure(a.share.typical.as_percent());
            // Writing to a string never fails.
            let _ = write!(list, "{between}{} {share} %", a.name);
            if !sold.iter().all(|m| a.markets.contains(m)) {
                let only: Vec<&str> = a.markets.iter().map(|m| m.label()).collect();
                let _ = write!(list, " ({} only)", only.join(", "));
            }
            // Both lists are in working order.
            let mut of_it = a.lines.iter().peekable();
            for (line, told) in self.lines.iter().zip(&mut told) {
                *told |= of_it.next_if(|id| **id == line.id).is_some();
            }
        }
        let told = self.lines.iter().zip(&told).filter(|(_, told)| **told);
        let lines: Vec<ItemId> = told.map(|(line, _)| line.id).collect();
        let mut parts = Vec::new();
        if !named.is_empty() {
            parts.push(format!("To be named in the ingredient list: {named}"));
        }
        if !perhaps.is_empty() {
            parts.push(format!(
                "at the upper end of the stated shares also {perhaps}"
            ));
        }
        if !later.is_empty() {
            parts.push(format!(
                "for products placed on the market from {} also {later}",
                first.map_or_else(String::new, |day| day.to_string())
            ));
        }
        if let (Some((rule, source)), false) = (self.of_allergens(), parts.is_empty()) {
            self.law.findings.push(
                Finding::new(Level::Note, rule, parts.join("; "), source)
                    .asks(FindingSubject::Label)
                    .on(lines),
            );
        }
    }
}
