//! One entry of a list, held against the constituents that it matches.

use std::fmt::Write as _;

use super::hit::{Hit, names, serves};
use super::limit::Amount;
use super::words::{limit_words, open_question};
use super::{Check, allowed, binds, ceiling};
use crate::finding::{FindingSubject, Level, StatedField};
use crate::formula::Date;
use crate::rules::entry::{List, ListEntry, RuleSet, RuledPurpose, Tier};
use crate::rules::scope::Truth;

/// An entry with what it matches.
#[derive(Clone, Copy)]
struct Matched<'a, 'h> {
    entry: &'a ListEntry,
    set: &'a RuleSet,
    hits: &'h [Hit<'h>],
    /// Whether what is matched serves the purpose of which the entry speaks; never no.
    purpose: Truth,
    /// Whether any of it is in the formula.
    present: bool,
}

/// What came of the tiers of an entry.
struct Tiers<'a> {
    /// One of them may speak of the product, now or later; so it is where there are none.
    any: bool,
    /// One of them binds on the day, whatever products it speaks of.
    in_force: bool,
    /// A limit stands in one that may speak of the product or not.
    undecided: bool,
    /// The lowest of such limits that is exceeded, with what is held against it.
    strictest: Option<(&'a Tier, Amount)>,
}

impl<'a> Check<'a> {
    /// Says what an entry has to say of the constituents it matches.
    pub(super) fn judge_entry(&mut self, entry: &'a ListEntry, set: &'a RuleSet, hits: &[Hit]) {
        // A limit of the Union alone says nothing of a product that is not sold there; a
        // prohibition is told, as it may follow.
        let limits_elsewhere = entry.prohibited.is_none() && !binds(&entry.binds, self.product);
        if entry.deleted || limits_elsewhere {
            return;
        }
        let present = hits.iter().any(Hit::present);
        let serving = hits.iter().map(|h| serves(entry.purpose, h)).max();
        let purpose = serving.unwrap_or(Truth::No);
        if purpose == Truth::No {
            return;
        }
        if let Some(from) = entry.from.filter(|from| self.day < *from) {
            if present {
                self.entry_to_come(entry, set, hits, from);
            }
            return;
        }
        if matches!(set.list, List::Borders | List::Advice) {
            self.border(entry, set, hits);
            return;
        }
        if let Some(scope) = &entry.prohibited {
            self.prohibited(entry, set, hits, scope, purpose, present);
        }
        let matched = Matched {
            entry,
            set,
            hits,
            purpose,
            present,
        };
        let tiers = self.judge_tiers(matched);
        if present && let Some((tier, amount)) = tiers.strictest {
            self.over_an_undecided_limit(matched, tier, amount);
        }
        if tiers.undecided && purpose == Truth::Yes && ceiling(entry, set) == Level::Breach {
            self.limit_in_every_type(entry, hits);
        }
        if !present {
            return;
        }
        if tiers.in_force {
            self.where_it_is_allowed(matched, &tiers);
        }
        let relevant = purpose == Truth::Yes
            || matches!(entry.purpose, RuledPurpose::Any | RuledPurpose::HairDye);
        if tiers.any && relevant {
            self.conditions(matched);
        }
    }

    /// Tells of an entry that binds from a later day on.
    fn entry_to_come(&mut self, entry: &'a ListEntry, set: &'a RuleSet, hits: &[Hit], from: Date) {
        let message = format!(
            "{}: binds products placed on the market from {from}",
            names(hits)
        );
        let finding = self
            .finding(Level::Caution, entry, set, message, hits)
            .asks(FindingSubject::Later);
        self.law.findings.push(finding);
    }

    /// Holds what is matched against each tier; those that surely speak of the product have
    /// their say at once.
    fn judge_tiers(&mut self, matched: Matched<'a, '_>) -> Tiers<'a> {
        let Matched {
            entry,
            set,
            hits,
            purpose,
            present,
        } = matched;
        let mut tiers = Tiers {
            any: entry.tiers.is_empty(),
            in_force: false,
            undecided: false,
            strictest: None,
        };
        for (tier, truth) in entry.truths(self.product) {
            if tier.comes_after(self.day) {
                tiers.any |= truth != Truth::No;
                if truth == Truth::Yes {
                    self.later(entry, set, tier, hits);
                }
                continue;
            }
            if !tier.binds_on(self.day) {
                continue;
            }
            tiers.in_force = true;
            tiers.any |= truth != Truth::No;
            match truth {
                Truth::No => {}
                Truth::Yes => self.tier(entry, set, tier, hits, purpose),
                Truth::Maybe => {
                    if let Some(max) = self.most_of(tier) {
                        tiers.undecided = true;
                        let amount = self.amount(entry, tier, hits, None);
                        let stricter = tiers.strictest.is_none_or(|(s, _)| s.max > tier.max);
                        if amount.over(tier, max) == Truth::Yes && stricter {
                            tiers.strictest = Some((tier, amount));
                        }
                    }
                    if purpose == Truth::Yes && present {
                        self.wordings(entry, set, &tier.label, truth, tier, hits);
                    }
                }
            }
        }
        tiers
    }

    /// Tells that a limit is exceeded which may bind the product or not: a breach only where
    /// the limit of every type it can be is exceeded.
    fn over_an_undecided_limit(
        &mut self,
        matched: Matched<'a, '_>,
        tier: &'a Tier,
        amount: Amount,
    ) {
        let Matched {
            entry,
            set,
            hits,
            purpose,
            ..
        } = matched;
        let everywhere = self.over_in_every_type(entry, hits, purpose);
        let mut message = self.amount_words(entry, tier, hits, amount);
        let _ = write!(message, "; the limit is {}", limit_words(tier));
        let (question, field) = open_question(&tier.scope, self.product);
        let level = if everywhere {
            message.push_str(", and it is over in every type of product this can be; ");
            let typed = self.product.product_type.is_some();
            message.push_str(if typed { &question } else { "state the type" });
            Level::Breach
        } else {
            let _ = write!(message, "; {question}");
            Level::Caution
        };
        let mut finding = self.finding(level, entry, set, message, hits);
        if let Some(field) = field {
            finding = finding.open(field);
        }
        self.law.findings.push(finding);
    }

    /// Tells where the tiers in force leave the product out, or may.
    fn where_it_is_allowed(&mut self, matched: Matched<'a, '_>, tiers: &Tiers<'_>) {
        let Matched {
            entry,
            set,
            hits,
            purpose,
            ..
        } = matched;
        if !tiers.any {
            self.elsewhere(entry, set, hits, purpose);
            return;
        }
        let may_be_left_out = set.list.allows_only_what_it_names()
            && purpose == Truth::Yes
            && tiers.strictest.is_none()
            && self.left_out_in_some_type(entry);
        if may_be_left_out {
            let message = format!(
                "{} is allowed for this purpose only in products: {}; whether this is one the formula does not tell: state its type",
                names(hits),
                allowed(entry)
            );
            let finding = self
                .finding(Level::Caution, entry, set, message, hits)
                .open(StatedField::ProductType);
            self.law.findings.push(finding);
        }
    }

    /// What an entry asks for beside its limits: products that it must not be in, what is to be
    /// read, wordings of the label, and what must not meet it.
    fn conditions(&mut self, matched: Matched<'a, '_>) {
        let Matched {
            entry, set, hits, ..
        } = matched;
        for scope in &entry.never {
            match scope.holds(self.product) {
                Truth::Yes => {
                    let message = format!("{} must not be in products: {scope}", names(hits));
                    let sure = Self::sure(entry, hits);
                    let level = if sure { Level::Breach } else { Level::Caution };
                    self.say(level, entry, set, message, hits);
                }
                Truth::Maybe if scope.only_words_open(self.product) => {
                    let message = format!(
                        "{} must not be in products: {scope}; no field tells this: {}",
                        names(hits),
                        scope.texts().join("; ")
                    );
                    self.say(Level::Caution, entry, set, message, hits);
                }
                Truth::Maybe => {
                    self.note(entry, set, format!("Not in products: {scope}").into(), hits);
                }
                Truth::No => {}
            }
        }
        if set.list != List::Prohibited {
            self.remarks(entry, set, hits);
        }
        let truth = entry
            .truths(self.product)
            .filter(|(t, _)| t.binds_on(self.day))
            .map(|(_, truth)| truth)
            .max()
            .unwrap_or(Truth::Yes);
        let plain = Tier::plain();
        let whole = entry.tiers.first().unwrap_or(&plain);
        self.wordings(entry, set, &entry.label, truth, whole, hits);
        self.apart(entry, set, hits);
    }
}
