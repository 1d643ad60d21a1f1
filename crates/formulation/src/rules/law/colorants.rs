//! Colorants against the positive lists: one entry that allows a colorant is enough.

use super::hit::{ColourUse, Hit, colours, names};
use super::{Check, list_source};
use crate::finding::{Finding, Level, StatedField};
use crate::formula::{Market, ProductType};
use crate::inci::Inci;
use crate::inventory::inventory;
use crate::purpose::PurposeGround;
use crate::rules::entry::{List, ListEntry, RuleSet};
use crate::rules::scope::{Scope, Truth};

impl<'a> Check<'a> {
    /// Colorants against the positive lists: one entry that allows a colorant is enough.
    pub(super) fn colours(&mut self, applies: &[bool], uses: &[ColourUse<'a>]) {
        if uses.is_empty() {
            return;
        }
        let coloured: Vec<&Hit> = (self.hits.iter())
            .filter(|h| colours(h.served, h.class))
            .collect();
        for (index, set) in self.book.sets().iter().enumerate() {
            if set.list != List::Colorants || !applies.get(index).is_some_and(|&a| a) {
                continue;
            }
            let mut done: Vec<&Inci> = Vec::new();
            for used in uses {
                if done.iter().any(|d| d.same_as(used.inci)) {
                    continue;
                }
                done.push(used.inci);
                let mut hits: Vec<Hit> = coloured
                    .iter()
                    .filter(|h| {
                        h.inci.same_as(used.inci)
                            && self
                                .entry(h.entry)
                                .0
                                .is_some_and(|e| usize::from(e.set) == index)
                    })
                    .map(|h| **h)
                    .collect();
                if !used.listed.contains(&(index as u16)) || hits.is_empty() {
                    self.unlisted(set, used);
                    continue;
                }
                hits.sort_by_key(|h| (h.entry, h.place));
                self.colour_in_each_use(set, &hits);
            }
        }
    }

    /// A colorant in each use; the first entry stands for what they tell apart.
    fn colour_in_each_use(&mut self, set: &'a RuleSet, hits: &[Hit]) {
        let entries: Vec<&'a ListEntry> = hits
            .iter()
            .filter_map(|h| self.entry(h.entry).0.map(|e| &**e))
            .collect();
        self.in_each_use(&entries, |check| check.colour(set, hits));
    }

    pub(super) fn colour(&mut self, set: &'a RuleSet, hits: &[Hit]) {
        let mut best: Option<(Truth, &'a ListEntry, Vec<Hit>)> = None;
        for group in hits.chunk_by(|a, b| a.entry == b.entry) {
            let Some(entry) = group.first().and_then(|h| self.entry(h.entry).0) else {
                continue;
            };
            let truth = entry
                .truths(self.product)
                .map(|(_, t)| t)
                .max()
                .unwrap_or(Truth::No);
            let never = entry
                .never
                .iter()
                .map(|s| s.holds(self.product))
                .max()
                .unwrap_or(Truth::No);
            let truth = truth.min(never.negated());
            if best.as_ref().is_none_or(|(b, ..)| truth > *b) {
                best = Some((truth, entry, group.to_vec()));
            }
        }
        let Some((truth, entry, group)) = best else {
            return;
        };
        let allowed = || {
            let scopes = (entry.tiers.iter().map(|t| &t.scope)).filter(|s| **s != Scope::All);
            let scopes: Vec<String> = scopes.map(Scope::to_string).collect();
            let mut parts: Vec<String> = Vec::new();
            if !scopes.is_empty() {
                parts.push(scopes.join("; or "));
            }
            parts.extend(entry.never.iter().map(|never| format!("not {never}")));
            parts.join("; ")
        };
        match truth {
            Truth::No => {
                let mut message = format!(
                    "{} is allowed as a colorant only in products: {}",
                    names(&group),
                    allowed()
                );
                // What can do something else as well may not be there to colour.
                let line = (group.iter())
                    .all(|h| h.served.ground == PurposeGround::Likely)
                    .then(|| self.lines_of(&group).first().copied())
                    .flatten();
                let Some(line) = line else {
                    self.say(Level::Breach, entry, set, message, &group);
                    return;
                };
                message.push_str("; whether it is there to colour the formula does not tell: state what it is there for");
                let finding = self.finding(Level::Caution, entry, set, message, &group);
                self.law
                    .findings
                    .push(finding.open(StatedField::Purpose(line)));
                return;
            }
            Truth::Maybe => {
                let message = format!(
                    "{} is allowed as a colorant in products: {}; the formula does not tell whether this is one",
                    names(&group),
                    allowed()
                );
                self.say(Level::Caution, entry, set, message, &group);
            }
            Truth::Yes => {
                for (tier, truth) in entry.truths(self.product) {
                    if truth == Truth::Yes {
                        self.tier(entry, set, tier, &group, Truth::Yes);
                    }
                }
            }
        }
        self.remarks(entry, set, &group);
    }

    /// A colorant that a list does not know.
    pub(super) fn unlisted(&mut self, set: &RuleSet, used: &ColourUse) {
        let us = set.markets == [Market::Us];
        let dyes_hair = matches!(
            self.product.product_type,
            Some(ProductType::HairDyeOxidative | ProductType::HairDyeNonOxidative)
        );
        // Hair dyes have lists of their own: Annex III in Europe, section 601(a) in the
        // United States.
        if dyes_hair {
            return;
        }
        // What the Commission's inventory knows for other work is no colorant in Europe;
        // in the United States whatever gives colour is one.
        let index_name = used.inci.begins_with("CI ");
        let known = inventory().by_name(used.inci.spelling());
        let other_work = |e: &crate::inventory::InventoryName| {
            let does = |wanted: &str| e.functions().any(|f| f == wanted);
            !does("Colorant") || does("Opacifying") || does("Pearlescent")
        };
        if !us && !index_name && !used.stated && known.is_some_and(other_work) {
            return;
        }
        let level = if index_name || used.stated && known.is_some() {
            Level::Breach
        } else {
            Level::Caution
        };
        let lines: Vec<_> = self
            .lines
            .get(used.line)
            .map(|l| l.id)
            .into_iter()
            .collect();
        self.law.findings.push(Finding::new(level, set.name.clone(), format!(
                "{} is not found under this name or CAS number in the list “{}”; what colours a product must be listed there",
                used.inci, set.title
            ), list_source(set)).on(lines));
    }
}
