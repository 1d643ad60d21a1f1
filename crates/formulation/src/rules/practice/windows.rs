//! The pH at which a material works or which it bears, and where the pH lies outside of it:
//! decided here once, for preservatives and for everything else, for findings, the weigh sheet,
//! the release and what is suggested in place of a material.

use super::compatibility::{Table, table};
use super::rule::{Rule, Words};
use super::{LineWithMaterial, Scene, preservation, preserves};
use crate::finding::Matter;
use crate::formula::{Formula, Variant};
use crate::material::Material;
use crate::quantity::{Percent, Ph, PhRange};
use crate::served::Setting;
use crate::word_groups::Groups;

/// The pH window of a material of these groups: where it is there to preserve the pH at which it
/// works, else what it states to bear, else what a group bears that it belongs to.
fn window(table: &Table, material: &Material, groups: Groups, preserves: bool) -> Option<PhRange> {
    let preservation = material.preservation.as_ref().filter(|_| preserves);
    if let Some(preservation) = preservation {
        return preservation.ph;
    }
    let own = material.ph_window.as_ref().map(|w| w.value);
    own.or_else(|| {
        table
            .window(groups)
            .and_then(|(low, high)| PhRange::new(low, high))
    })
}

/// The same of a material that stands alone.
pub(crate) fn ph_window(material: &Material, preserves: bool) -> Option<PhRange> {
    let table = table().as_ref().ok()?;
    window(table, material, table.groups_of(material), preserves)
}

/// The pH at which every material of a variant is stable and every preservative works; none if
/// nothing states a pH, an error in words if two exclude each other.
pub(crate) fn common_ph_window(
    formula: &Formula,
    variant: &Variant,
) -> Result<Option<PhRange>, String> {
    let mut needs: Option<(Ph, &str)> = None;
    let mut bears: Option<(Ph, &str)> = None;
    let setting = Setting::of(formula, variant);
    for (_, line) in variant.lines().filter(|(_, l)| l.percent > Percent::ZERO) {
        let Some(material) = formula.material(&line.material) else {
            continue;
        };
        let preserves = preserves(setting.purpose(line, material), line, material);
        let Some(range) = ph_window(material, preserves) else {
            continue;
        };
        if needs.is_none_or(|(low, _)| range.low > low) {
            needs = Some((range.low, &material.name));
        }
        if bears.is_none_or(|(high, _)| range.high < high) {
            bears = Some((range.high, &material.name));
        }
    }
    match (needs, bears) {
        (Some((low, needs)), Some((high, bears))) if low > high => Err(format!(
            "{needs} needs pH {low:.1} or more, {bears} {high:.1} or less"
        )),
        (Some((low, _)), Some((high, _))) => Ok(PhRange::new(low.value(), high.value())),
        _ => Ok(None),
    }
}

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
    fn outside(&self, l: &LineWithMaterial<'_>) -> Option<Outside> {
        let range = window(self.table, l.material, l.groups, l.preserves)?;
        let (low, high) = (range.low.value(), range.high.value());
        if !self.ph.is_outside(low, high) {
            return None;
        }
        let why = if l.preservation().is_some() {
            // Of an acid the share that works is told instead.
            if self.starved().any(|a| a.lines.contains(&l.line.id)) {
                return None;
            }
            None
        } else {
            self.table.outside_window(l.groups, self.ph.is_below(low))
        };
        Some(Outside { low, high, why })
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
