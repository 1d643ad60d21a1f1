//! Rules about the product as such, and where it falls under another law beside or instead of
//! that of cosmetics.

use super::hit::{Hit, member_sure, names};
use super::{Check, RequiredWording, markets_of, source, words_of};
use crate::finding::Level;
use crate::material::{Class, Role};
use crate::mixture::Contribution;
use crate::purpose::Purpose;
use crate::quantity::MassFraction;
use crate::rules::entry::{List, ListEntry, RuleSet, RuledPurpose, Tier};
use crate::rules::scope::Truth;

impl<'a> Check<'a> {
    /// What points to another law than that of cosmetics, or to published advice.
    pub(super) fn border(&mut self, entry: &'a ListEntry, set: &'a RuleSet, hits: &[Hit]) {
        let met = |(tier, truth): (&Tier, Truth)| match tier.max {
            Some(max) => truth.min(self.amount(entry, tier, hits, None).over(tier, max)),
            None => truth,
        };
        let plain = [(&Tier::plain(), Truth::Yes)];
        let truth = if entry.tiers.is_empty() {
            plain.into_iter().map(met).max()
        } else {
            entry.truths(self.product).map(met).max()
        };
        let truth = truth.unwrap_or(Truth::No);
        let present = hits.iter().any(Hit::present);
        if truth == Truth::No || !(present || entry.product) {
            return;
        }
        let sure = entry.product || hits.iter().any(|h| member_sure(entry, h));
        let level = if truth == Truth::Yes && sure {
            entry.level
        } else {
            Level::Note
        };
        let text = words_of(entry, self.product).unwrap_or_default();
        let message = match (entry.product, sure) {
            (true, _) => text.to_string(),
            (false, true) => format!("{}: {text}", names(hits)),
            (false, false) => format!("{}, if it is here for that: {text}", names(hits)),
        };
        self.say(level, entry, set, message, hits);
        if set.list == List::Borders && truth == Truth::Yes && sure {
            let lines = self.lines_of(hits);
            self.law.demands.push(RequiredWording {
                markets: markets_of(set, &entry.binds, self.product),
                rule: entry.rule.clone(),
                text,
                certain: Truth::Yes,
                condition: String::new(),
                lines,
                source: source(entry, set),
                border: true,
            });
        }
    }

    /// Rules about the product as such.
    pub(super) fn product_rules(&mut self, applies: &[bool]) {
        let book = self.book;
        for entry in book.product_rules() {
            let applies = applies.get(usize::from(entry.set)).is_some_and(|&a| a);
            if let Some(set) = book.set_of(entry).filter(|_| applies) {
                self.in_each_use(&[entry], |check| check.product_rule(entry, set));
            }
        }
    }

    /// Whether something in the product serves a purpose.
    fn is_served(&self, purpose: RuledPurpose) -> bool {
        let serves = |c: &Contribution| match purpose {
            RuledPurpose::UvFilter => {
                c.served.purpose == Purpose::UvFilter || c.material.has_role(Role::UvFilter)
            }
            RuledPurpose::Preservative => c.served.purpose == Purpose::Preservative,
            RuledPurpose::Fragrance => c.class == Class::Fragrance,
            RuledPurpose::Colour => c.class == Class::Colour,
            RuledPurpose::Any | RuledPurpose::Other | RuledPurpose::HairDye => true,
        };
        let present = |c: &&Contribution| c.as_declared.high > MassFraction::ZERO;
        self.mixture
            .contributions
            .iter()
            .filter(present)
            .any(serves)
    }

    fn product_rule(&mut self, entry: &'a ListEntry, set: &'a RuleSet) {
        let truth = entry
            .truths(self.product)
            .map(|(_, t)| t)
            .max()
            .unwrap_or(Truth::Yes);
        if truth == Truth::No || entry.unless.is_some_and(|p| self.is_served(p)) {
            return;
        }
        if set.list == List::Borders {
            self.border(entry, set, &[]);
            return;
        }
        let doubt = if truth == Truth::Maybe {
            " Whether this is such a product the formula does not tell."
        } else {
            ""
        };
        if let Some(words) = words_of(entry, self.product) {
            self.say(Level::Note, entry, set, format!("{words}{doubt}"), &[]);
        }
        for (tier, truth) in entry.truths(self.product) {
            if truth != Truth::No && tier.binds_on(self.day) {
                self.wordings(entry, set, &tier.label, truth, tier, &[]);
            }
        }
    }
}
