//! Positive lists: what preserves or filters UV light must be on the list of its market.
//!
//! What a constituent does is what its line says, else its class or the role of its
//! material, else the functions that the Commission's inventory reports for its name. A
//! breach needs a function that leaves no other reading; otherwise a caution asks for it.

use super::words::listed;
use super::{Check, list_source};
use crate::finding::{Finding, Level, StatedField};
use crate::formula::{ItemId, Market, ProductType};
use crate::inci::Inci;
use crate::inventory::inventory;
use crate::material::{Class, Role};
use crate::mixture::{Contribution, Mixture};
use crate::purpose::{Purpose, PurposeGround};
use crate::quantity::MassFraction;
use crate::rules::entry::{List, ListEntry, RuleSet};
use crate::substance_words::{is_culture, is_plant_product, plant_parts};

impl Check<'_> {
    /// Preservatives and UV filters that no list knows.
    pub(super) fn positive(&mut self, mixture: &Mixture, applies: &[bool]) {
        let book = self.book;
        for kind in [List::Preservatives, List::UvFilters] {
            // Several lists of one kind, for example one of a country's changes, are one: to
            // stand on one of them is enough.
            let on: Vec<&RuleSet> = book
                .sets()
                .iter()
                .zip(applies)
                .filter(|(set, applies)| **applies && set.list == kind)
                .map(|(set, _)| &**set)
                .collect();
            // What one line brings is one matter, however many substances it is.
            let mut found: Vec<Unlisted> = Vec::new();
            for c in &mixture.contributions {
                if c.incidental.is_none() && c.as_declared.high > MassFraction::ZERO {
                    self.unlisted_use(kind, &on, c, &mut found);
                }
            }
            for one in found {
                let finding = one.finding(kind);
                self.law.findings.push(finding);
            }
        }
    }

    fn unlisted_use<'s>(
        &self,
        kind: List,
        sets: &[&'s RuleSet],
        c: &Contribution,
        found: &mut Vec<Unlisted<'s>>,
    ) {
        let line = c.line;
        if sets.is_empty() || !may_act(kind, c, self.sun_care()) {
            return;
        }
        let mut unlisted: Vec<&RuleSet> = Vec::new();
        for set in sets {
            let of_market =
                |other: &&&RuleSet| other.markets.iter().any(|m| set.markets.contains(m));
            if !sets
                .iter()
                .filter(of_market)
                .any(|s| self.book.lists_in(s, c.cas, &c.inci))
            {
                unlisted.push(set);
            }
        }
        for set in unlisted {
            // What is prohibited there anyway needs no second finding.
            if self.prohibited_in(set, line) {
                continue;
            }
            let us = set.markets == [Market::Us];
            let Some(level) = acts(kind, c, self.sun_care(), us) else {
                continue;
            };
            // What another list allows for other uses is that list's matter.
            let preserves = c.served.purpose == Purpose::Preservative;
            if kind == List::Preservatives
                && !preserves
                && self.book.lists(c.cas, &c.inci, List::Restricted)
            {
                continue;
            }
            let same = found
                .iter_mut()
                .find(|one| std::ptr::eq(one.set, set) && one.line == line && one.level == level);
            match same {
                Some(one) => one.names.push(c.inci.clone()),
                None => found.push(Unlisted {
                    set,
                    line,
                    level,
                    names: vec![c.inci.clone()],
                }),
            }
        }
    }

    /// Whether a prohibition that binds wherever a list does was found for a line.
    fn prohibited_in(&self, set: &RuleSet, line: ItemId) -> bool {
        let reaches = |e: &ListEntry| {
            let markets = |m| set.markets.contains(m);
            e.prohibited.is_some()
                && e.binds.is_empty()
                && self
                    .book
                    .set_of(e)
                    .is_some_and(|s| s.markets.iter().any(markets))
        };
        self.law.findings.iter().any(|f| {
            f.level == Level::Breach
                && f.lines.contains(&line)
                && self.book.entries_of(&f.rule).any(|e| reaches(e))
        })
    }

    fn sun_care(&self) -> bool {
        self.product.product_type == Some(ProductType::SunCare)
    }
}

/// What a line brings that a list does not know.
struct Unlisted<'s> {
    set: &'s RuleSet,
    line: ItemId,
    level: Level,
    names: Vec<Inci>,
}

impl Unlisted<'_> {
    fn finding(&self, kind: List) -> Finding {
        let (what, ground) = match kind {
            List::Preservatives => ("preservatives", "preserving"),
            _ => ("UV filters", "filtering UV light"),
        };
        let (is, its) = match self.names.len() {
            1 => ("is", "its function is"),
            _ => ("are", "their function is"),
        };
        let rest = if self.level == Level::Breach {
            format!("{its} {ground}, and what serves for that must be listed")
        } else {
            format!(
                "if here for {ground} it must be listed; if not, state what the line is here for"
            )
        };
        let who = listed(self.names.iter().map(Inci::spelling));
        let message = format!(
            "{who} {is} not among the {what} of {}: {rest}",
            self.set.title
        );
        Finding::new(
            self.level,
            self.set.name.clone(),
            message,
            list_source(self.set),
        )
        .on(vec![self.line])
        .open(StatedField::Purpose(self.line))
    }
}

/// The purpose that a kind of list is about.
const fn wanted(kind: List) -> Purpose {
    match kind {
        List::Preservatives => Purpose::Preservative,
        _ => Purpose::UvFilter,
    }
}

/// Whether it is worth asking the inventory.
fn may_act(kind: List, c: &Contribution, sun_care: bool) -> bool {
    let (material, served) = (&*c.material, c.served);
    if served.ground == PurposeGround::Stated {
        return served.purpose == wanted(kind);
    }
    match kind {
        List::Preservatives => {
            served.purpose == Purpose::Preservative
                || (c.class == Class::Other && material.roles.is_empty())
        }
        _ => {
            matches!(c.class, Class::Other | Class::Fragrance | Class::Oil)
                && (sun_care || material.has_role(Role::UvFilter) || material.roles.is_empty())
        }
    }
}

/// How grave it is that a constituent is on no list: none if it need not be.
fn acts(kind: List, c: &Contribution, sun_care: bool, us: bool) -> Option<Level> {
    let (material, served) = (&*c.material, c.served);
    if served.ground == PurposeGround::Stated {
        // In the United States a filter is listed where the product protects from the sun.
        return (!us || sun_care).then_some(Level::Breach);
    }
    let functions: Vec<&str> = inventory()
        .by_name(c.inci.spelling())
        .map(|e| e.functions().collect())
        .unwrap_or_default();
    let has = |name: &str| functions.contains(&name);
    let only =
        |names: &[&str]| !functions.is_empty() && functions.iter().all(|f| names.contains(f));
    if kind == List::Preservatives {
        return if has("Preservative") && only(&["Preservative", "Antimicrobial"]) {
            Some(Level::Breach)
        } else if served.purpose == Purpose::Preservative
            && !material.has_role(Role::PreservativeBooster)
            || has("Antimicrobial")
                && only(&["Antimicrobial", "Deodorant"])
                && material.roles.is_empty()
                && is_chemical(&c.inci)
        {
            Some(Level::Caution)
        } else {
            None
        };
    }
    let filter = has("Uv Filter");
    if sun_care && filter && only(&["Uv Filter", "Uv Absorber", "Light Stabilizer"]) {
        Some(Level::Breach)
    } else if sun_care && (filter || has("Uv Absorber"))
        || !us && filter && material.has_role(Role::UvFilter)
    {
        Some(Level::Caution)
    } else {
        None
    }
}

/// Whether a name is that of a substance and not of a part of a plant, a ferment or a peptide,
/// of which the inventory often reports that they act on microbes.
fn is_chemical(inci: &Inci) -> bool {
    const OF_NATURE: [&str; 4] = ["powder", "peptide", "lysozyme", "lacto"];
    let name = inci.spelling();
    !(is_plant_product(name)
        || is_culture(name)
        || plant_parts(name) != 0
        || OF_NATURE.iter().any(|word| inci.has(word)))
}

#[cfg(test)]
mod tests {
    use super::is_chemical;

    /// Of each kind of what comes from nature one name, and a substance.
    #[test]
    fn what_nature_brings_is_no_chemical() {
        assert!(is_chemical(&"Phenoxyethanol".into()));
        for inci in [
            "Propolis Extract",
            "Saccharomyces Ferment",
            "Citrus Limon Peel",
            "Acetyl Hexapeptide-8",
            "Lysozyme",
            "Lactoferrin",
        ] {
            assert!(!is_chemical(&inci.into()), "{inci}");
        }
    }
}
