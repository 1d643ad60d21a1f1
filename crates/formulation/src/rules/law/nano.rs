//! Nanomaterials that are notified before the product is placed on the market.

use std::sync::Arc;

use super::Check;
use super::hit::{is_nano, member_of, serves};
use super::words::listed;
use crate::finding::{Finding, Level};
use crate::formula::{ItemId, Market};
use crate::inci::Inci;
use crate::material::{Basis, Source};
use crate::mixture::Contribution;
use crate::quantity::MassFraction;
use crate::rules::entry::List;
use crate::rules::scope::Truth;

/// Where the duty is written. That it stands in Great Britain alike is from general knowledge.
const ARTICLE: &str = "Regulation (EC) No 1223/2009, Article 16(2) and (3); in Great Britain as it stands there, from general knowledge";

impl Check<'_> {
    /// Says which nanomaterials are to be notified six months ahead. Those that the annexes of
    /// colorants, preservatives and UV filters list as such are not, as far as they serve that.
    pub(super) fn nanomaterials(&mut self) {
        let (eu, uk) = (Market::Eu, Market::Uk);
        let sold = |m| self.product.markets.contains(&m);
        let to_whom = match (sold(eu), sold(uk)) {
            (true, true) => "the Commission, and in the United Kingdom the Secretary of State,",
            (true, false) => "the Commission",
            (false, true) => "the Secretary of State",
            (false, false) => return,
        };
        let mixture = self.mixture;
        let there = |c: &&Contribution| is_nano(&c.inci) && c.as_declared.high > MassFraction::ZERO;
        let mut names: Vec<&Inci> = Vec::new();
        let mut lines: Vec<ItemId> = Vec::new();
        let mut may_be_listed = false;
        for c in mixture.contributions.iter().filter(there) {
            let listed = self.listed_as_nano(c);
            if listed == Truth::Yes {
                continue;
            }
            may_be_listed |= listed == Truth::Maybe;
            if !names.iter().any(|n| n.same_as(&c.inci)) {
                names.push(&c.inci);
            }
            if !lines.contains(&c.line) {
                lines.push(c.line);
            }
        }
        if names.is_empty() {
            return;
        }
        let mut message = format!(
            "{}: a product with a nanomaterial is notified to {to_whom} six months before it is placed on the market; only colorants, preservatives and UV filters that their annexes list as nano go without, as long as they serve that",
            listed(names.into_iter().map(Inci::spelling))
        );
        if may_be_listed {
            message.push_str("; state what it is there for");
        }
        let source = Source::new(Basis::Published, ARTICLE);
        let finding = Finding::new(Level::Caution, "nano-notification", message, source);
        self.law.findings.push(finding.on(lines));
    }

    /// Whether a nanomaterial serves what an annex lists it for as such.
    fn listed_as_nano(&self, c: &Contribution) -> Truth {
        let hits = self.hits.iter().filter(|h| h.is_of(c));
        let of_annex = hits.filter_map(|hit| {
            let (entry, set) = self.entry(hit.entry);
            let (entry, set) = (entry?, set?);
            let lists = [List::Colorants, List::Preservatives, List::UvFilters];
            let named = |name: &Arc<str>| name.to_lowercase().contains("nano");
            let as_nano =
                member_of(entry, hit).is_some_and(|m| m.nano || m.names.iter().any(named));
            (lists.contains(&set.list) && as_nano && !entry.deleted)
                .then(|| serves(entry.purpose, hit))
        });
        of_annex.max().unwrap_or(Truth::No)
    }
}
