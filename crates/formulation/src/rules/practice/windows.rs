//! Where the pH lies outside of what a material bears or works at: decided here once, for
//! preservatives and for everything else.

use super::rule::{Rule, Words};
use super::{Laid, Scene, preservation};
use crate::finding::Matter;

/// A pH window that the product lies outside of.
struct Outside {
    low: f64,
    high: f64,
    /// What happens there, where it is known.
    why: Option<&'static str>,
}

impl Scene<'_> {
    /// The window of a line that the pH surely lies outside of: of a preservative the pH at
    /// which it works, of everything else what it bears.
    fn outside(&self, l: &Laid<'_>) -> Option<Outside> {
        if let Some(preservation) = l.preservation() {
            let works = preservation.ph?;
            let (low, high) = (works.low.value(), works.high.value());
            // Of an acid the share that works is told instead.
            let by_acid = self.starved().any(|a| a.lines.contains(&l.line.id));
            return (self.ph.is_outside(low, high) && !by_acid).then_some(Outside {
                low,
                high,
                why: None,
            });
        }
        let (low, high) = self.table.window(l.material, l.groups)?;
        self.ph.is_outside(low, high).then(|| Outside {
            low,
            high,
            why: self.table.outside_window(l.groups, self.ph.is_below(low)),
        })
    }

    /// One finding for all lines outside of their window, preservatives or the others.
    fn tell_outside(&mut self, rule: &Rule, preservatives: bool, verb: &str, matter: Matter) {
        let mut lines = Vec::new();
        let mut told = Vec::new();
        for l in &self.laid {
            if l.preservation().is_some() != preservatives {
                continue;
            }
            let Some(all) = self.lines_if_first(l) else {
                continue;
            };
            if let Some(Outside { low, high, why }) = self.outside(l) {
                let why = why.map_or(String::new(), |why| format!(" ({why})"));
                told.push(format!(
                    "{} {verb} pH {low:.1} to {high:.1}{why}",
                    l.material.name
                ));
                lines.extend_from_slice(all);
            }
        }
        if told.is_empty() {
            return;
        }
        let words = Words {
            value: &self.ph.words(),
            what: &told.join("; "),
            ..Words::default()
        };
        self.findings.push(
            Self::finding(rule, &words, rule.source.clone())
                .on(lines)
                .about(matter)
                .remedy(self.ph.remedy()),
        );
    }

    /// Preservatives of which the pH surely lies outside where they work.
    pub(super) fn preservatives_outside_ph(&mut self, rule: &Rule) {
        self.tell_outside(rule, true, "works at", preservation::matter());
    }

    /// Materials of which the pH surely lies outside of what they bear.
    pub(super) fn outside_windows(&mut self, rule: &Rule) {
        self.tell_outside(rule, false, "bears", Matter::of("ph-window"));
    }
}
