//! What is to be read: conditions gathered over entries, the days of the lists, and the end of
//! the check.

use std::fmt::Write as _;
use std::sync::Arc;

use super::hit::Hit;
use super::words::{figure, listed};
use super::{Check, Law, TOLERANCE, binds, cited, list_source, words_of};
use crate::finding::{Finding, Level, LineLimit};
use crate::formula::{Date, ItemId, Market};
use crate::inci::Inci;
use crate::material::{Basis, Source};
use crate::rules::GREAT_BRITAIN;
use crate::rules::entry::{ListEntry, RuleSet};

/// A condition to be read and what brings it up.
pub(super) struct ToRead {
    text: Arc<str>,
    rules: Vec<Arc<str>>,
    names: Vec<Inci>,
    lines: Vec<ItemId>,
    source: Arc<str>,
    seen: bool,
    binds: bool,
}

impl Check<'_> {
    /// Conditions to be read, as one note of the entry.
    pub(super) fn remarks(&mut self, entry: &ListEntry, set: &RuleSet, hits: &[Hit]) {
        if let Some(text) = words_of(entry, self.product) {
            self.note(entry, set, text, hits);
        }
    }

    pub(super) fn note(&mut self, entry: &ListEntry, set: &RuleSet, text: Arc<str>, hits: &[Hit]) {
        let lines = self.lines_of(hits);
        let cited = cited(entry, set);
        let same = |n: &ToRead| n.text == text && n.source == *cited;
        let place = self.notes.iter().position(same);
        let note = if let Some(place) = place {
            &mut self.notes[place]
        } else {
            self.notes.push(ToRead {
                text,
                rules: Vec::new(),
                names: Vec::new(),
                lines: Vec::new(),
                source: cited.clone(),
                seen: entry.seen,
                binds: binds(&entry.binds, self.product),
            });
            let last = self.notes.len() - 1;
            &mut self.notes[last]
        };
        if !note.rules.contains(&entry.rule) {
            note.rules.push(entry.rule.clone());
        }
        for hit in hits.iter().filter(|h| h.present()) {
            if !note.names.iter().any(|n| n.same_as(&hit.inci)) {
                note.names.push(hit.inci.clone());
            }
        }
        for line in lines {
            if !note.lines.contains(&line) {
                note.lines.push(line);
            }
        }
    }

    /// What must be known about the days of the lists.
    pub(super) fn dates(&mut self, applies: &[bool]) {
        let used = || {
            self.book
                .sets()
                .iter()
                .zip(applies)
                .filter(|(_, a)| **a)
                .map(|(s, _)| s)
        };
        let mut newer: Vec<(Date, &RuleSet)> = used()
            .filter_map(|s| s.as_of.map(|d| (d, s.as_ref())))
            .filter(|(d, _)| self.day < *d)
            .collect();
        newer.sort_by_key(|(d, _)| *d);
        if let Some((_, set)) = newer.last() {
            let mut days: Vec<String> = newer.iter().map(|(d, _)| d.to_string()).collect();
            days.dedup();
            let as_of = listed(days.iter().map(String::as_str));
            let finding = Finding::new(
                Level::Note,
                set.name.clone(),
                format!(
                    "The lists follow the texts of {as_of}; for a product placed on the market on {} the text of that day must be read",
                    self.day
                ),
                list_source(set),
            );
            self.law.findings.push(finding);
        }
        if self.product.markets.contains(&Market::Uk) {
            let source = used()
                .find(|s| s.markets.contains(&Market::Uk))
                .map_or_else(|| Source::new(Basis::Published, ""), |s| list_source(s));
            self.law.findings.push(Finding::new(
                Level::Note,
                "UK",
                GREAT_BRITAIN.to_owned(),
                source,
            ));
        }
    }

    pub(super) fn finish(mut self) -> Law {
        for note in std::mem::take(&mut self.notes) {
            let who = listed(note.names.iter().map(Inci::spelling));
            let rules = note
                .rules
                .iter()
                .skip(1)
                .map(AsRef::as_ref)
                .collect::<Vec<&str>>();
            let mut message = if who.is_empty() {
                note.text.to_string()
            } else {
                format!("{who}: {}", note.text)
            };
            if !rules.is_empty() {
                let _ = write!(message, " (also {})", listed(rules.into_iter()));
            }
            if !note.binds {
                message.push_str(" (this binds in the European Union; no instrument of Great Britain that adopts it was found)");
            }
            if !note.seen {
                message.push_str(
                    " (this row is from general knowledge, it was not seen in the official text)",
                );
            }
            self.law.findings.push(
                Finding::new(
                    Level::Note,
                    note.rules.first().cloned().unwrap_or_else(|| "".into()),
                    message,
                    Source {
                        basis: Basis::Published,
                        text: note.source,
                    },
                )
                .on(note.lines),
            );
        }
        self.law.allergens.sort_by(|a, b| {
            b.share
                .typical
                .value()
                .total_cmp(&a.share.typical.value())
                .then_with(|| a.name.cmp(&b.name))
        });
        self.name_allergens();
        self.name_wordings();
        for line in &self.lines {
            let Some(best) = &line.best else { continue };
            let mut message = format!("At most {} % before {} binds", best.most, best.rule);
            if best.beside > TOLERANCE {
                let _ = write!(
                    message,
                    ", with {} % from other lines",
                    figure(best.beside * 100.0)
                );
            }
            // The lowest limit of the line, also against a certificate's.
            match self.law.limits.iter_mut().find(|l| l.line == line.id) {
                Some(limit) if limit.most <= best.most => {}
                Some(limit) => {
                    limit.most = best.most;
                    limit.rule = best.rule.clone();
                    limit.message = message;
                }
                None => self.law.limits.push(LineLimit {
                    line: line.id,
                    most: best.most,
                    rule: best.rule.clone(),
                    message,
                }),
            }
        }
        self.law
    }
}
