//! Limits where the type of product decides and is not stated.

use super::hit::Hit;
use super::{Check, by_max};
use crate::formula::{Market, Product};
use crate::rules::entry::ListEntry;
use crate::rules::scope::Truth;

impl Check<'_> {
    /// Whether a limit is exceeded whatever type the product is.
    pub(super) fn over_in_every_type(
        &self,
        entry: &ListEntry,
        hits: &[Hit],
        purpose: Truth,
    ) -> bool {
        let set = self.book.sets().get(entry.set as usize);
        let only_named =
            purpose == Truth::Yes && set.is_some_and(|s| s.list.allows_only_what_it_names());
        let in_list = |m: &Market| set.is_none_or(|s| s.markets.contains(m));
        entry.cases(self.product).iter().all(|case| {
            // What is over in one market is over, whatever another one allows.
            let markets = case.markets.iter().copied().filter(in_list);
            let mut sold = markets.map(|market| Product {
                markets: vec![market],
                ..case.clone()
            });
            sold.any(|product| self.over_where_sold(entry, hits, only_named, &product))
        })
    }

    /// The same of a product of one type in one market.
    fn over_where_sold(
        &self,
        entry: &ListEntry,
        hits: &[Hit],
        only_named: bool,
        product: &Product,
    ) -> bool {
        let (mut possible, mut within) = (false, false);
        for (tier, truth) in entry.truths(product) {
            if truth == Truth::No || !tier.binds_on(self.day) {
                continue;
            }
            let over = tier.max.is_some_and(|max| {
                self.amount(entry, tier, hits, None).over(tier, max) == Truth::Yes
            });
            if over && truth == Truth::Yes {
                return true;
            }
            possible = true;
            within |= !over;
        }
        // What a list of the allowed leaves out is not allowed at all.
        !within && (only_named || possible && entry.covers_all())
    }

    /// Whether the product may be of a type of which no limit in force speaks.
    pub(super) fn left_out_in_some_type(&self, entry: &ListEntry) -> bool {
        entry.cases(self.product).iter().any(|case| {
            entry
                .truths(case)
                .all(|(tier, truth)| truth == Truth::No || !tier.binds_on(self.day))
        })
    }

    /// Where the type of the product decides and is not stated: the limit that binds even
    /// in the most generous type.
    pub(super) fn limit_in_every_type(&mut self, entry: &ListEntry, hits: &[Hit]) {
        let cases = entry.cases(self.product);
        let strictest = |case| {
            let binding = entry.truths(case).filter(|(tier, truth)| {
                *truth == Truth::Yes && tier.max.is_some() && tier.binds_on(self.day)
            });
            binding.map(|(tier, _)| tier).min_by(|a, b| by_max(a, b))
        };
        let Some(strictest) = cases.iter().map(strictest).collect::<Option<Vec<_>>>() else {
            return;
        };
        let Some(&tier) = strictest.iter().max_by(|a, b| by_max(a, b)) else {
            return;
        };
        if let Some(max) = tier.max.filter(|_| !tier.each) {
            let certain = self.amount(entry, tier, hits, None).certain;
            self.limits(entry, tier, hits, max, certain, None);
        }
    }
}
