//! What must not be in a product: prohibitions and what is let through from them, products that
//! a list closes to a substance, and substances that must not meet.

use std::fmt::Write as _;
use std::sync::Arc;

use super::hit::{self, Hit, member_of, member_sure, names};
use super::words::{open_question, scope_words};
use super::{Check, allowed, ceiling};
use crate::finding::{Level, StatedField};
use crate::quantity::{MassFraction, Percent};
use crate::rules::entry::{List, ListEntry, RuleSet, RuledPurpose, Tier};
use crate::rules::scope::{Scope, Truth};

impl<'a> Check<'a> {
    pub(super) fn prohibited(
        &mut self,
        entry: &ListEntry,
        set: &RuleSet,
        hits: &[Hit],
        scope: &Scope,
        purpose: Truth,
        present: bool,
    ) {
        let truth = scope.holds(self.product);
        if truth == Truth::No {
            return;
        }
        // What a plant brings in is held against the limits of the entry; and the entry that
        // allows it for some uses decides for all.
        let left: Vec<Hit> = hits
            .iter()
            .filter(|h| !(entry.natural && h.natural() || self.excepted(entry, h)))
            .copied()
            .collect();
        if left.is_empty() {
            return;
        }
        let present = present && left.iter().any(Hit::present);
        let hits = left.as_slice();
        let sure = hits.iter().any(|h| member_sure(entry, h)) && purpose == Truth::Yes;
        let flat = truth == Truth::Yes && sure && entry.level == Level::Breach;
        if flat && ceiling(entry, set) == Level::Breach {
            self.none_allowed(entry, hits);
        }
        if !present {
            return;
        }
        let traces = hits.iter().all(Hit::comes_along);
        let who = names(hits);
        let (level, message) = if let Some(pure) = self.within_a_purity(entry, hits) {
            (
                Level::Note,
                format!(
                    "{who} is prohibited; here only as incidental traces of a raw material, for which {pure} states the purity: it must be met, and the traces be unavoidable"
                ),
            )
        } else if traces {
            (
                Level::Caution,
                format!(
                    "{who} is prohibited; here only as incidental traces of a raw material: they must be unavoidable"
                ),
            )
        } else if flat {
            (Level::Breach, flatly_prohibited(&who, entry, scope, hits))
        } else {
            self.perhaps_prohibited(&who, entry, scope, hits, (truth, purpose, sure))
        };
        let mut finding = self.finding(level, entry, set, message, hits);
        // What is not told is asked for in its field.
        let asked = if traces {
            None
        } else if truth == Truth::Maybe {
            open_question(scope, self.product).1
        } else if purpose == Truth::Yes {
            None
        } else {
            finding
                .lines
                .first()
                .map(|&line| StatedField::Purpose(line))
        };
        if let Some(field) = asked {
            finding = finding.open(field);
        }
        self.law.findings.push(finding);
    }

    /// What is said where something is left to decide or to read: of the product, of what the
    /// constituent is there for, or whether it is what the entry names at all.
    fn perhaps_prohibited(
        &self,
        who: &str,
        entry: &ListEntry,
        scope: &Scope,
        hits: &[Hit],
        (truth, purpose, sure): (Truth, Truth, bool),
    ) -> (Level, String) {
        let name = &entry.name;
        let ground = ground_of(entry, hits);
        let read = entry
            .read
            .first()
            .map_or(String::new(), |r| format!(" {}", r.text));
        if truth == Truth::Yes && purpose == Truth::Yes && sure && entry.level == Level::Note {
            let words = format!(
                "{who}: the supplier has to state that the condition of “{name}” is met.{read}"
            );
            return (Level::Note, words);
        }
        let words = if truth == Truth::Maybe {
            let question = open_question(scope, self.product).0;
            format!("{who} is prohibited in products: {scope}; {question}")
        } else if let (false, Some(doubt)) = (sure, ground) {
            format!("{who} may fall under the prohibited “{name}”: {doubt}")
        } else if !sure && purpose == Truth::Yes {
            format!(
                "{who} is filed under the prohibited “{name}” by the Commission's database, its CAS number is not in the entry; read it"
            )
        } else if purpose != Truth::Yes {
            format!("{who} is prohibited as a fragrance ingredient; state what it is here for")
        } else {
            format!("{who} is prohibited under conditions to be read: {name}.{read}")
        };
        (Level::Caution, words)
    }

    /// The entry whose raw materials bring in all there is of it as traces, of those that limit
    /// them by a purity.
    fn within_a_purity(&self, entry: &ListEntry, hits: &[Hit]) -> Option<Arc<str>> {
        let purity = |hit: &Hit| {
            let beside = self.hits.iter().filter(|o| o.place == hit.place);
            beside
                .filter_map(|o| self.book.entries().get(o.entry as usize))
                .find(|e| entry.traces_of.contains(&e.rule))
                .map(|e| e.rule.clone())
        };
        let all = hits.iter().all(|h| h.comes_along() && purity(h).is_some());
        hits.first().filter(|_| all).and_then(purity)
    }

    /// Whether an entry that allows what this one prohibits knows a constituent.
    fn excepted(&self, entry: &ListEntry, hit: &Hit) -> bool {
        self.hits.iter().any(|other| {
            other.place == hit.place
                && other.inci.same_as(&hit.inci)
                && self
                    .book
                    .entries()
                    .get(other.entry as usize)
                    .is_some_and(|e| entry.except.contains(&e.rule) && member_sure(e, other))
        })
    }

    /// None of the products an entry speaks of is this one.
    pub(super) fn elsewhere(
        &mut self,
        entry: &ListEntry,
        set: &RuleSet,
        hits: &[Hit],
        purpose: Truth,
    ) {
        match set.list {
            List::Preservatives | List::UvFilters if purpose == Truth::Yes => {
                let level = if Self::sure(entry, hits) {
                    Level::Breach
                } else {
                    Level::Caution
                };
                let message = format!(
                    "{} is allowed for this purpose only in products: {}",
                    names(hits),
                    allowed(entry)
                );
                self.say(level, entry, set, message, hits);
            }
            List::Restricted => {
                // Colorants have a list of their own, which decides.
                let colour = |h: &Hit| {
                    hit::colours(h.served, h.class)
                        && self.book.lists(h.cas, &h.inci, List::Colorants)
                };
                if entry.joint
                    || purpose == Truth::No
                    || entry.purpose == RuledPurpose::HairDye && hits.iter().all(colour)
                {
                    return;
                }
                if entry.open {
                    return;
                }
                // Entries of one number are one: what one of them allows is allowed, and what
                // none allows is said by the first.
                let own = hits.first().map_or(0, |h| h.entry);
                let mut fields = allowed(entry);
                for (index, sibling) in self.siblings(hits) {
                    let covers = |(tier, truth): (&Tier, Truth)| {
                        truth != Truth::No && tier.binds_on(self.day)
                    };
                    if index < own || sibling.truths(self.product).any(covers) {
                        return;
                    }
                    let _ = write!(fields, "; or {}", allowed(sibling));
                }
                let level = if purpose == Truth::Yes && Self::sure(entry, hits) {
                    Level::Breach
                } else {
                    Level::Caution
                };
                let also = self.prohibited_by(entry);
                let mut message = format!(
                    "{} is allowed only in products: {fields}; this is none{also}",
                    names(hits)
                );
                if let Some(other) = self.allowed_as_preservative(entry, hits) {
                    let _ = write!(
                        message,
                        "; as a preservative {} allows it: state what it is there for",
                        other.rule
                    );
                    let mut finding =
                        self.finding(level.min(Level::Caution), entry, set, message, hits);
                    if let Some(&line) = finding.lines.first() {
                        finding = finding.open(StatedField::Purpose(line));
                    }
                    self.law.findings.push(finding);
                    return;
                }
                if level == Level::Breach {
                    self.none_allowed(entry, hits);
                }
                self.say(level, entry, set, message, hits);
            }
            _ => {}
        }
    }

    /// Other entries of the same number of a list, such as 8b beside 8a, that know one of the
    /// constituents.
    pub(super) fn siblings<'h>(
        &'h self,
        hits: &'h [Hit<'h>],
    ) -> impl Iterator<Item = (u32, &'a ListEntry)> + use<'a, 'h> {
        let known = move |h: &Hit| {
            hits.iter()
                .any(|own| own.place == h.place && own.inci.same_as(&h.inci))
        };
        let others = hits
            .first()
            .map_or(&[][..], |own| self.book.siblings(own.entry));
        others.iter().filter_map(move |&index| {
            let met = self.hits_of(index).iter().any(known);
            let sibling = self.book.entries().get(index as usize)?;
            met.then_some((index, &**sibling))
        })
    }

    /// The entry that prohibits what this one allows, in words.
    fn prohibited_by(&self, entry: &ListEntry) -> String {
        let by = self.hits.iter().find_map(|h| {
            let other = self.book.entries().get(h.entry as usize)?;
            other.except.contains(&entry.rule).then_some(&other.rule)
        });
        by.map_or_else(String::new, |rule| {
            format!(", and {rule} prohibits it otherwise")
        })
    }

    /// No percentage of the lines is allowed.
    fn none_allowed(&mut self, entry: &ListEntry, hits: &[Hit]) {
        let mut shares = Vec::new();
        for hit in hits {
            if !hit.comes_along() && hit.unit.typical > MassFraction::ZERO {
                self.limit(hit.place, Percent::ZERO, entry, 0.0);
                let line = self.lines.get(hit.place);
                shares.extend(line.map(|l| (l.id, hit.unit.typical.value())));
            }
        }
        self.ceiling(entry, hits, shares, MassFraction::ZERO);
    }

    /// Substances that must not meet: one finding for an entry and each rule it names.
    pub(super) fn apart(&mut self, entry: &ListEntry, set: &RuleSet, hits: &[Hit]) {
        for apart in &entry.apart {
            let others: Vec<Hit> = self
                .hits
                .iter()
                .filter(|h| h.present())
                .filter(|h| {
                    self.book
                        .entries()
                        .get(h.entry as usize)
                        .is_some_and(|e| e.rule == apart.rule)
                })
                .copied()
                .collect();
            let Some(other) = others.first() else {
                continue;
            };
            // Entries that name each other: said once, by the first.
            let mutual = self
                .book
                .entries()
                .get(other.entry as usize)
                .is_some_and(|e| e.apart.iter().any(|a| a.rule == entry.rule));
            if mutual && hits.first().is_none_or(|h| h.entry > other.entry) {
                continue;
            }
            let sure = hits.iter().any(|h| member_sure(entry, h));
            let level = if sure { apart.level } else { Level::Caution };
            let why = if apart.why.is_empty() {
                String::new()
            } else {
                format!(": {}", apart.why)
            };
            let message = format!(
                "{} must not be used together with {} ({}){why}",
                names(hits),
                names(&others),
                apart.rule
            );
            let both = [hits, &others].concat();
            self.say(level, entry, set, message, &both);
        }
    }
}

/// Why a member belongs to an entry that names it in words only.
fn ground_of<'e>(entry: &'e ListEntry, hits: &[Hit]) -> Option<&'e Arc<str>> {
    hits.iter()
        .find_map(|h| member_of(entry, h)?.ground.as_ref())
}

fn flatly_prohibited(who: &str, entry: &ListEntry, scope: &Scope, hits: &[Hit]) -> String {
    let scope = scope_words(scope);
    match ground_of(entry, hits) {
        None => format!("{who} is prohibited{scope}"),
        Some(why) => format!(
            "{who} is prohibited{scope} as one of “{}”: {why}",
            entry.name
        ),
    }
}
