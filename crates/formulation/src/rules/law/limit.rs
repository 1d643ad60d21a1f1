//! Amounts against limits, and the most of each line before a limit binds.

use std::fmt::Write as _;
use std::sync::Arc;

use super::hit::{Hit, counts, likely_preserves, member_family, member_sure, named, names, serves};
use super::words::{figure, limit_words, listed};
use super::{Best, Check, TOLERANCE, ceiling};
use crate::cas::Cas;
use crate::finding::{Finding, FindingSubject, FindingValue, Level, Limit, Remedy, StatedField};
use crate::formula::ItemId;
use crate::inci::{Inci, equal_as_spelt};
use crate::purpose::{Purpose, PurposeGround};
use crate::quantity::{MassFraction, Percent};
use crate::rules::entry::{ListEntry, RuleSet, RuledPurpose, Tier};
use crate::rules::scope::Truth;

/// A line that would have to exceed this before a limit binds is not limited.
const WHOLE: f64 = 1.0;

/// A limit as a sum over the lines that share it: `Σ share·percentage <= max`.
#[derive(Clone, Debug)]
pub struct Ceiling {
    /// The rule.
    pub rule: Arc<str>,
    /// What is limited, by the name of the first constituent that counts.
    pub inci: Inci,
    /// The lines with the share of each that counts, reckoned as the rule expresses it.
    pub shares: Vec<(ItemId, f64)>,
    /// The limit on the whole formula.
    pub max: MassFraction,
}

equal_as_spelt!(Ceiling: names inci; rest rule, shares, max);

/// What is known of an amount against a limit.
#[derive(Clone, Copy, PartialEq)]
pub(super) struct Amount {
    /// What certainly counts, at the typical composition.
    pub(super) certain: f64,
    /// The most that may count.
    pub(super) most: f64,
}

impl Amount {
    /// A finding with the amount and the limit it is held against.
    fn held_against(self, max: MassFraction, finding: Finding) -> Finding {
        let shown = if self.certain > max.value() {
            self.certain
        } else {
            self.most
        };
        finding.against(
            FindingValue::Share(MassFraction::new(shown)),
            Limit::AtMost(FindingValue::Share(max)),
        )
    }

    /// Whether it is more than a limit lets in; some limits are too much themselves.
    pub(super) fn over(self, tier: &Tier, max: MassFraction) -> Truth {
        let least = if tier.below { -TOLERANCE } else { TOLERANCE };
        if self.certain > max.value() + least {
            Truth::Yes
        } else if self.most > max.value() + least {
            Truth::Maybe
        } else {
            Truth::No
        }
    }
}

impl<'a> Check<'a> {
    /// How much of an entry's substances there is, as a limit counts it.
    pub(super) fn amount(
        &self,
        entry: &ListEntry,
        tier: &Tier,
        hits: &[Hit],
        family: Option<u32>,
    ) -> Amount {
        let mut sum = Amount {
            certain: 0.0,
            most: 0.0,
        };
        for hit in hits {
            if family.is_some_and(|f| member_family(entry, hit) != f) {
                continue;
            }
            let factor = self.factor(entry, tier, hit);
            // What counts for nobody knows how much is told apart where it is only filed under the
            // entry; see `unknown_conversion`.
            let most = if member_sure(entry, hit) { 1.0 } else { 0.0 };
            sum.most += hit.as_declared.high.value() * factor.unwrap_or(most);
            if let (Some(factor), true) = (factor, counts(entry, hit)) {
                sum.certain += hit.as_declared.typical.value() * factor;
            }
        }
        sum
    }

    pub(super) fn factor(&self, entry: &ListEntry, tier: &Tier, hit: &Hit) -> Option<f64> {
        let Some(target) = tier.expressed else {
            return Some(1.0);
        };
        let member = entry.members.get(usize::from(hit.member))?;
        hit.cas
            .and_then(|cas| self.book.equivalents().factor(target, cas))
            .or_else(|| {
                member
                    .cas
                    .iter()
                    .find_map(|&cas| self.book.equivalents().factor(target, cas))
            })
    }

    /// The figure of a limit as a share of the product: what is a share of other substances is
    /// taken of what the product holds of them.
    pub(super) fn most_of(&self, tier: &Tier) -> Option<MassFraction> {
        if tier.part_of.is_empty() {
            return tier.max;
        }
        let counts = |cas: Option<Cas>| tier.part_of.iter().any(|(_, of)| cas == Some(*of));
        let whole: f64 = (self.mixture.contributions.iter())
            .filter(|c| counts(c.cas))
            .map(|c| c.as_declared.typical.value())
            .sum();
        tier.max.map(|max| MassFraction::new(max.value() * whole))
    }

    /// A limit that applies to the product.
    pub(super) fn tier(
        &mut self,
        entry: &'a ListEntry,
        set: &'a RuleSet,
        tier: &'a Tier,
        hits: &[Hit],
        purpose: Truth,
    ) {
        if let Some(max) = self.most_of(tier) {
            if tier.each {
                let mut families: Vec<u32> = hits.iter().map(|h| member_family(entry, h)).collect();
                families.sort_unstable();
                families.dedup();
                for family in families {
                    self.against(entry, set, tier, hits, max, purpose, Some(family));
                }
            } else {
                self.against(entry, set, tier, hits, max, purpose, None);
            }
        }
        let present = hits.iter().any(Hit::present);
        self.unknown_conversion(entry, set, tier, hits);
        if !present || purpose != Truth::Yes {
            return;
        }
        if let Some(window) = tier.ph {
            let outside = |value: f64| {
                window.low.is_some_and(|l| value < l) || window.high.is_some_and(|h| value > h)
            };
            match self.ph {
                None => {
                    self.note(
                        entry,
                        set,
                        format!("Needs {window}; the pH of the product is not known").into(),
                        hits,
                    );
                }
                Some(ph) => {
                    let (low, high) = (ph.low.value(), ph.high.value());
                    let range = if low == high {
                        format!("{low:.2}")
                    } else {
                        format!("{low:.2} to {high:.2}, estimated")
                    };
                    // A range lies outside as a whole if both ends miss the window on the same side.
                    let whole = window.low.is_some_and(|l| high < l)
                        || window.high.is_some_and(|h| low > h);
                    if whole {
                        let message = format!("{} needs {window}; the pH is {range}", names(hits));
                        self.say(Level::Breach, entry, set, message, hits);
                    } else if outside(low) || outside(high) {
                        let message = format!(
                            "{} needs {window}; the pH is {range}: measure it",
                            names(hits)
                        );
                        self.say(Level::Caution, entry, set, message, hits);
                    }
                }
            }
        }
        self.wordings(entry, set, &tier.label, Truth::Yes, tier, hits);
    }

    /// Names what a limit leaves out because nobody knows how much of it counts.
    fn unknown_conversion(&mut self, entry: &ListEntry, set: &RuleSet, tier: &Tier, hits: &[Hit]) {
        let (Some(target), Some(max)) = (tier.expressed, tier.max) else {
            return;
        };
        let left_out: Vec<Hit> = hits
            .iter()
            .filter(|h| h.as_declared.high > max)
            .filter(|h| !member_sure(entry, h) && self.factor(entry, tier, h).is_none())
            .copied()
            .collect();
        if left_out.is_empty() {
            return;
        }
        let message = format!(
            "{} is filed under this entry by the Commission's database; how much {} it counts as is not known here and is not in the sum. The limit is {}: ask the supplier",
            names(&left_out),
            self.book.equivalents().name(target),
            limit_words(tier),
        );
        let finding = self.finding(Level::Note, entry, set, message, &left_out);
        self.law.findings.push(finding.asks(FindingSubject::Read));
    }

    #[expect(
        clippy::too_many_arguments,
        reason = "one limit and everything it is held against"
    )]
    pub(super) fn against(
        &mut self,
        entry: &ListEntry,
        set: &RuleSet,
        tier: &Tier,
        hits: &[Hit],
        max: MassFraction,
        purpose: Truth,
        family: Option<u32>,
    ) {
        let amount = self.amount(entry, tier, hits, family);
        // The limit of a line is of the product; a share of something else moves with that.
        let of_product = tier.part_of.is_empty();
        if of_product && purpose == Truth::Yes && ceiling(entry, set) == Level::Breach {
            self.limits(entry, tier, hits, max, amount.certain, family);
        }
        let one: Vec<Hit>;
        let hits = match family {
            None => hits,
            Some(f) => {
                one = hits
                    .iter()
                    .filter(|h| member_family(entry, h) == f)
                    .copied()
                    .collect();
                &one
            }
        };
        let over = amount.over(tier, max);
        if over == Truth::No {
            return;
        }
        let mut message = self.amount_words(entry, tier, hits, amount);
        let _ = write!(message, "; the limit is {}", limit_words(tier));
        let mut truths = entry.truths(self.product);
        if let Some((next, Truth::Yes)) = truths.find(|(t, _)| t.comes_after(self.day))
            && let Some(from) = next.from
        {
            let _ = write!(message, ", from {from} {}", limit_words(next));
        }
        let other = self.other_use(entry, hits);
        if over == Truth::Yes {
            if let Some((other, _)) = other {
                let _ = write!(
                    message,
                    "; for a purpose other than preserving see {}",
                    other.rule
                );
            }
            // Within the limit of another use that it may be here for, the maker is asked.
            let asked = other.filter(|(_, allowed)| *allowed);
            let asked = asked.and_then(|_| self.line_that_need_not_preserve(hits));
            let level = if asked.is_some() {
                message.push_str("; state what it is there for");
                Level::Caution
            } else {
                Level::Breach
            };
            let mut finding = self.finding(level, entry, set, message, hits);
            if let Some(line) = asked {
                finding = finding.open(StatedField::Purpose(line));
            }
            let finding = self.hold(amount.held_against(max, finding), hits);
            self.law.findings.push(finding);
            return;
        }
        let allowed = other.is_none_or(|(_, allowed)| allowed);
        let open = hits.iter().find(|h| likely_preserves(h));
        let level = if purpose == Truth::Yes || !allowed || open.is_some() {
            Level::Caution
        } else {
            Level::Note
        };
        message.push_str("; ");
        message.push_str(&self.why_not_certain(entry, tier, hits));
        let finding = self.finding(level, entry, set, message, hits);
        let mut finding = amount.held_against(max, finding);
        let open = open.or_else(|| {
            hits.iter()
                .find(|h| h.served.ground == PurposeGround::Likely)
        });
        if let Some(line) = open.and_then(|h| self.lines.get(h.place)) {
            finding = finding.open(StatedField::Purpose(line.id));
        }
        self.law.findings.push(self.hold(finding, hits));
    }

    /// The first line of a preservative of which the maker does not say what it is there for,
    /// where a material of another line is there to preserve.
    fn line_that_need_not_preserve(&self, hits: &[Hit]) -> Option<ItemId> {
        let first = hits.first()?;
        let may = hits
            .iter()
            .all(|h| h.served.ground != PurposeGround::Stated);
        let kept_by = |h: &Hit| {
            h.served.purpose == Purpose::Preservative
                && h.served.ground != PurposeGround::Likely
                && h.present()
                && h.material.can_preserve()
                && hits.iter().all(|own| own.place != h.place)
        };
        let asked = may && self.hits.iter().any(kept_by);
        self.lines.get(first.place).filter(|_| asked).map(|l| l.id)
    }

    /// The way to the limit where one line has room below it.
    fn hold(&self, finding: Finding, hits: &[Hit]) -> Finding {
        let Some(first) = hits.first() else {
            return finding;
        };
        let room = self.lines.get(first.place).and_then(|line| {
            let most = line.best.as_ref()?.most;
            (most > Percent::ZERO).then_some((line.id, most))
        });
        match room {
            Some((line, percent))
                if finding.remedy.is_none() && hits.iter().all(|h| h.place == first.place) =>
            {
                finding.remedy(Remedy::HoldAtLimit { line, percent })
            }
            _ => finding,
        }
    }

    /// The entry on other uses of what an entry allows as a preservative, and whether it
    /// allows this amount in this product.
    fn other_use(&self, entry: &ListEntry, hits: &[Hit]) -> Option<(&'a ListEntry, bool)> {
        let (index, other) = self.other_entry(entry, hits)?;
        Some((other, self.allows(index, other)))
    }

    /// Whether an entry allows what there is of its substances in this product.
    fn allows(&self, index: u32, entry: &ListEntry) -> bool {
        let uses = self.hits_of(index);
        entry.truths(self.product).any(|(tier, truth)| {
            let within = |max| self.amount(entry, tier, uses, None).over(tier, max) == Truth::No;
            truth == Truth::Yes && tier.binds_on(self.day) && tier.max.is_none_or(within)
        })
    }

    /// The entry that allows as a preservative what an entry on other uses does not, where the
    /// maker does not say what it is there for.
    pub(super) fn allowed_as_preservative(
        &self,
        entry: &ListEntry,
        hits: &[Hit],
    ) -> Option<&'a ListEntry> {
        let stated = hits
            .iter()
            .any(|h| h.served.ground == PurposeGround::Stated);
        if entry.purpose != RuledPurpose::Other || stated {
            return None;
        }
        let same = |h: &&Hit| {
            hits.iter()
                .any(|own| own.place == h.place && own.inci.same_as(&h.inci))
        };
        self.hits.iter().filter(same).find_map(|h| {
            let other: &'a ListEntry = self.book.entries().get(h.entry as usize)?;
            let preserves = other.purpose == RuledPurpose::Preservative && !other.deleted;
            (preserves && self.allows(h.entry, other)).then_some(other)
        })
    }

    /// The entry on other uses of what an entry allows as a preservative; in every use of the
    /// product the two decide together.
    pub(super) fn other_entry(
        &self,
        entry: &ListEntry,
        hits: &[Hit],
    ) -> Option<(u32, &'a ListEntry)> {
        if entry.purpose != RuledPurpose::Preservative {
            return None;
        }
        let same = |h: &&Hit| {
            let is = |own: &Hit| own.place == h.place && own.inci.same_as(&h.inci);
            hits.iter().any(is)
        };
        let other = self.other_uses.iter().copied().find(same)?;
        let entry = self.book.entries().get(other.entry as usize)?;
        Some((other.entry, &**entry))
    }

    /// Why an amount may be over a limit but is not certain to be.
    pub(super) fn why_not_certain(&self, entry: &ListEntry, tier: &Tier, hits: &[Hit]) -> String {
        if let Some(hit) = hits.iter().find(|h| self.factor(entry, tier, h).is_none()) {
            let target = tier
                .expressed
                .map_or("", |t| self.book.equivalents().name(t));
            return format!("how much {target} {} counts as is not known here", hit.inci);
        }
        if let Some(hit) = hits.iter().find(|h| !member_sure(entry, h)) {
            return format!(
                "{} is only filed under this entry by the Commission's database",
                hit.inci
            );
        }
        if hits.iter().any(|h| serves(entry.purpose, h) != Truth::Yes) {
            return match entry.purpose {
                RuledPurpose::Preservative if hits.iter().any(likely_preserves) => "this limit is for its use as a preservative; state what it is there for",
                RuledPurpose::Preservative => "this limit is for its use as a preservative, and here it is, all or in part, counted as something else",
                RuledPurpose::UvFilter => "this limit is for its use as a UV filter, which its material does not state",
                RuledPurpose::Other => "this limit is for uses other than preserving",
                RuledPurpose::Fragrance => "this limit is for its use as a fragrance",
                RuledPurpose::Any | RuledPurpose::Colour | RuledPurpose::HairDye => "this depends on what it is there for",
            }
            .to_owned();
        }
        "only at the upper end of the composition stated for the raw material".to_owned()
    }

    /// The most of each line before the limit binds, all else equal.
    pub(super) fn limits(
        &mut self,
        entry: &ListEntry,
        tier: &Tier,
        hits: &[Hit],
        max: MassFraction,
        total: f64,
        family: Option<u32>,
    ) {
        let mut i = 0;
        let mut shares = Vec::new();
        while let Some(first) = hits.get(i) {
            let (mut mine, mut unit) = (0.0, 0.0);
            while let Some(hit) = hits.get(i).filter(|h| h.place == first.place) {
                i += 1;
                let wanted = family.is_none_or(|f| member_family(entry, hit) == f);
                if let (Some(factor), true) =
                    (self.factor(entry, tier, hit), wanted && counts(entry, hit))
                {
                    mine += hit.as_declared.typical.value() * factor;
                    unit += hit.unit.typical.value() * factor;
                }
            }
            if unit > 0.0 {
                shares.extend(self.lines.get(first.place).map(|l| (l.id, unit)));
                let others = (total - mine).max(0.0);
                let most = ((max.value() - others) / unit).max(0.0);
                if most < WHOLE {
                    // Rounded down to the exact step; what is within a hair of a step is that step.
                    let units = (most * 100.0 * Percent::UNITS as f64 + 1e-4).floor();
                    self.limit(
                        first.place,
                        Percent::from_units(units as i64),
                        entry,
                        others,
                    );
                }
            }
        }
        self.ceiling(entry, hits, shares, max);
    }

    /// Keeps a limit as the sum over lines that it is, unless no formula can reach it.
    pub(super) fn ceiling(
        &mut self,
        entry: &ListEntry,
        hits: &[Hit],
        shares: Vec<(ItemId, f64)>,
        max: MassFraction,
    ) {
        if let Some(first) = hits.first()
            && super::binds(&entry.binds, self.product)
            && entry.seen
            && shares.iter().any(|(_, share)| *share > max.value())
        {
            self.law.ceilings.push(Ceiling {
                rule: entry.rule.clone(),
                inci: first.inci.clone(),
                shares,
                max,
            });
        }
    }

    pub(super) fn limit(&mut self, line: usize, most: Percent, entry: &ListEntry, beside: f64) {
        if !super::binds(&entry.binds, self.product) || !entry.seen {
            return;
        }
        if let Some(counted) = self.lines.get_mut(line)
            && counted.best.as_ref().is_none_or(|b| most < b.most)
        {
            counted.best = Some(Best {
                most,
                rule: entry.rule.clone(),
                beside,
            });
        }
    }

    /// A limit that binds later than the day of placing on the market.
    pub(super) fn later(&mut self, entry: &ListEntry, set: &RuleSet, tier: &Tier, hits: &[Hit]) {
        let (Some(max), Some(from)) = (tier.max, tier.from) else {
            return;
        };
        let amount = self.amount(entry, tier, hits, None);
        if amount.over(tier, max) == Truth::Yes {
            let mut message = self.amount_words(entry, tier, hits, amount);
            let _ = write!(
                message,
                "; products placed on the market from {from} are limited to {}",
                limit_words(tier)
            );
            let level = if entry.level == Level::Breach {
                Level::Caution
            } else {
                Level::Note
            };
            let finding = self
                .finding(level, entry, set, message, hits)
                .asks(FindingSubject::Later);
            self.law.findings.push(finding);
        }
    }

    pub(super) fn amount_words(
        &self,
        entry: &ListEntry,
        tier: &Tier,
        hits: &[Hit],
        amount: Amount,
    ) -> String {
        let who = named(hits);
        let several = who.len() > 1;
        let mut text = listed(who.into_iter().map(Inci::spelling));
        let shown = if amount.certain > 0.0 {
            amount.certain
        } else {
            amount.most
        };
        let _ = write!(
            text,
            " {} {}{} %",
            if several { "are together" } else { "is" },
            if amount.certain > 0.0 { "" } else { "up to " },
            figure(shown * 100.0)
        );
        if amount.certain > 0.0 && amount.most > amount.certain + TOLERANCE {
            let _ = write!(text, " (up to {} %)", figure(amount.most * 100.0));
        }
        if let Some(target) = tier.expressed {
            let _ = write!(text, " as {}", self.book.equivalents().name(target));
        }
        if entry.joint {
            let _ = write!(text, " ({})", entry.name);
        }
        text
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::material::{Basis, Source};

    fn amount(certain: f64, most: f64) -> Amount {
        Amount { certain, most }
    }

    /// What certainly is over a limit is shown; else the most that may be.
    #[test]
    fn the_figure_shown_is_the_one_that_is_over() {
        let max = MassFraction::from_percent(1.0);
        let shown = |certain: f64, most: f64| {
            let source = Source::new(Basis::Published, "");
            let finding = Finding::new(Level::Breach, "rule", "words", source);
            let held = amount(certain / 100.0, most / 100.0).held_against(max, finding);
            assert_eq!(held.limit, Some(Limit::AtMost(FindingValue::Share(max))));
            match held.amount {
                Some(FindingValue::Share(share)) => share.as_percent(),
                other => panic!("{other:?}"),
            }
        };
        assert!((shown(1.2, 3.0) - 1.2).abs() < 1e-12);
        assert!((shown(0.4, 3.0) - 3.0).abs() < 1e-12);
        assert!((shown(1.0, 2.0) - 2.0).abs() < 1e-12);
    }

    /// Of a limit that is too much itself the figure counts as over, of another it does not.
    #[test]
    fn the_limit_itself_is_over_only_where_it_is_too_much() {
        let max = MassFraction::from_percent(1.0);
        let over = |certain: f64, most: f64, below: bool| {
            let tier = Tier {
                below,
                ..Tier::plain()
            };
            amount(certain / 100.0, most / 100.0).over(&tier, max)
        };
        assert_eq!(over(1.0, 1.0, false), Truth::No);
        assert_eq!(over(1.0, 1.0, true), Truth::Yes);
        assert_eq!(over(0.5, 1.0, true), Truth::Maybe);
        assert_eq!(over(0.5, 1.0, false), Truth::No);
        assert_eq!(over(0.5, 1.1, false), Truth::Maybe);
        assert_eq!(over(1.1, 1.1, false), Truth::Yes);
        assert_eq!(over(0.9, 0.9, true), Truth::No);
    }
}
