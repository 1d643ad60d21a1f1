//! The engine that holds a formula against the rule book.
//!
//! It works on constituents: 1 % of a blend with half of a substance counts as
//! 0.5 % of it. What the formula does not tell is never guessed: a limit that may
//! apply gives a caution, a condition that cannot be decided a note to be read.
//! Nothing here is legal advice.

mod colorants;
mod forbidden;
mod hit;
mod judge;
mod label;
mod limit;
mod nano;
mod notes;
mod plant_part;
mod positive;
mod product;
mod prohibited;
mod undecided;
mod uses;
mod words;

#[cfg(test)]
mod list_roles_tests;
#[cfg(test)]
mod list_tests;
#[cfg(test)]
mod list_words_tests;
#[cfg(test)]
mod open_tests;
#[cfg(test)]
mod tests;

use std::cmp::Ordering;
use std::sync::Arc;

pub use self::forbidden::forbidden;
use self::hit::{Gathering, Hit, member_sure, serves};
pub use self::label::{
    ALLERGEN_LEAVE_ON, ALLERGEN_RINSE_OFF, LabelAllergen, RequiredWording, allergens_to_label,
    required_wordings,
};
pub use self::limit::Ceiling;
use self::notes::ToRead;
use self::uses::Views;
use super::book::RuleBook;
use super::entry::{List, ListEntry, Remark, RuleSet, RuledPurpose, Tier};
use super::fragrance;
use super::scope::Truth;
use crate::cas::Cas;
use crate::finding::{Finding, Level, LineLimit, Matter};
use crate::formula::{Date, Formula, ItemId, Market, Product, ProductType, Variant};
use crate::material::{Basis, Material, Source};
use crate::mixture::{Contribution, Mixture};
use crate::quantity::{MassFraction, Percent, PhRange};

/// Shares closer to a limit than this are at it: a tenth of the exact step of a
/// percentage, far below what can be weighed.
const TOLERANCE: f64 = 1e-9 / 1e1;

/// What the law has to say about a variant.
#[derive(Clone, Debug, Default)]
pub struct Law {
    /// Findings, list by list.
    pub findings: Vec<Finding>,
    /// For each line the lowest limit that binds it, if any.
    pub limits: Vec<LineLimit>,
    /// The limits themselves, as sums over the lines.
    pub ceilings: Vec<Ceiling>,
    /// Wordings the label must or may have to carry.
    pub demands: Vec<RequiredWording>,
    /// Fragrance allergens, largest first.
    pub allergens: Vec<LabelAllergen>,
}

/// Holds a variant against every list that applies to it.
///
/// `ph` is the pH of the product, as a range where it is estimated; a measured pH of
/// the variant overrides it. `today` counts where the product states no day of
/// placing on the market.
pub fn check(
    formula: &Formula,
    variant: &Variant,
    ph: Option<PhRange>,
    today: Date,
    book: &RuleBook,
) -> Law {
    let mixture = Mixture::of(formula, variant);
    check_mixture(variant, &mixture, ph, today, book)
}

/// [`check`] on a variant that is opened up already.
pub fn check_mixture(
    variant: &Variant,
    mixture: &Mixture,
    ph: Option<PhRange>,
    today: Date,
    book: &RuleBook,
) -> Law {
    let mut law = Law {
        findings: Vec::with_capacity(64),
        ..Law::default()
    };
    fragrance::check(
        mixture,
        &variant.product,
        book.categories(),
        &mut law.findings,
        &mut law.limits,
    );
    if let Some(fault) = book.fault() {
        law.findings.push(Finding::new(
            Level::Breach,
            "rules",
            format!("The rules of law could not be read, nothing was held against them: {fault}"),
            Source::new(Basis::Published, "the lists that come with the program"),
        ));
    }
    let applies: Vec<bool> = book
        .sets()
        .iter()
        .map(|s| applies(s, &variant.product))
        .collect();
    if !applies.contains(&true) {
        return law;
    }
    let lines: Vec<Counted> = (mixture.lines.iter())
        .map(|l| Counted {
            id: l.line,
            best: None,
        })
        .collect();
    let views = Views::of(&variant.product);
    let mut gathering = Gathering {
        book,
        applies: &applies,
        sun_care: variant.product.product_type == Some(ProductType::SunCare),
        singles: (mixture.lines.iter())
            .filter(|line| line.percent > Percent::ZERO)
            .filter_map(|line| single(line.material.as_deref()?))
            .collect(),
        hits: Vec::with_capacity(128),
        colours: Vec::new(),
    };
    for of_line in mixture.contributions.chunk_by(|a, b| a.place == b.place) {
        gathering.add_line(of_line);
    }
    let Gathering {
        mut hits, colours, ..
    } = gathering;
    hits.sort_by_key(|h| h.entry);
    let other_uses = hits.iter().filter(|h| {
        let entry = book.entries().get(h.entry as usize);
        entry.is_some_and(|e| e.purpose == RuledPurpose::Other)
    });
    let measured = variant.measured.ph.map(|p| PhRange { low: p, high: p });
    let mut check = Check {
        product: &variant.product,
        views: &views,
        mixture,
        day: variant.product.market_date.unwrap_or(today),
        ph: measured.or(ph),
        book,
        hits: &hits,
        other_uses: other_uses.collect(),
        lines,
        notes: Vec::new(),
        law,
    };
    let mut rest: &[Hit] = &hits;
    while let Some(first) = rest.first() {
        let end = rest.partition_point(|h| h.entry == first.entry);
        let (group, after) = rest.split_at(end);
        rest = after;
        let (Some(entry), Some(set)) = check.entry(first.entry) else {
            continue;
        };
        if entry.if_present.is_some_and(|cas| !check.holds(cas)) {
            continue;
        }
        if set.list != List::Colorants {
            let together = check.deciding_together(entry, group);
            check.in_each_use(&together, |check| check.judge_entry(entry, set, group));
        }
        check.allergen(entry, set, group);
    }
    check.colours(&applies, &colours);
    check.positive(mixture, &applies);
    check.product_rules(&applies);
    check.undeclared();
    check.loose_components();
    check.nanomaterials();
    check.dates(&applies);
    check.finish()
}

/// The CAS number of a material of one substance.
fn single(material: &Material) -> Option<Cas> {
    match material.constituents.as_slice() {
        [only] => only.cas,
        _ => None,
    }
}

fn applies(set: &RuleSet, product: &Product) -> bool {
    (set.list == List::Own && set.markets.is_empty())
        || set.markets.iter().any(|m| product.markets.contains(m))
}

/// A line and the lowest limit found for it so far.
struct Counted {
    id: ItemId,
    best: Option<Best>,
}

struct Best {
    most: Percent,
    rule: Arc<str>,
    beside: f64,
}

struct Check<'a> {
    /// The product, or one of its uses alone while that is looked at.
    product: &'a Product,
    views: &'a Views,
    mixture: &'a Mixture,
    day: Date,
    ph: Option<PhRange>,
    book: &'a RuleBook,
    hits: &'a [Hit<'a>],
    /// Those of entries on other uses than preserving.
    other_uses: Vec<&'a Hit<'a>>,
    lines: Vec<Counted>,
    notes: Vec<ToRead>,
    law: Law,
}

impl<'a> Check<'a> {
    fn entry(&self, index: u32) -> (Option<&'a Arc<ListEntry>>, Option<&'a Arc<RuleSet>>) {
        let entry = self.book.entries().get(index as usize);
        (entry, entry.and_then(|e| self.book.set_of(e)))
    }

    /// Whether there is any of a substance.
    fn holds(&self, cas: Cas) -> bool {
        let some = |c: &Contribution| c.cas == Some(cas) && c.as_declared.high > MassFraction::ZERO;
        self.mixture.contributions.iter().any(some)
    }

    /// The hits of an entry.
    fn hits_of(&self, index: u32) -> &'a [Hit<'a>] {
        let start = self.hits.partition_point(|h| h.entry < index);
        let rest = self.hits.get(start..).unwrap_or_default();
        let end = rest.partition_point(|h| h.entry == index);
        rest.get(..end).unwrap_or_default()
    }

    /// The lines of what is there, each once.
    fn lines_of<'h>(&self, hits: impl IntoIterator<Item = &'h Hit<'h>>) -> Vec<ItemId> {
        let mut lines: Vec<ItemId> = Vec::new();
        // Hits of an entry come in the order of lines: what stands behind all others is new.
        let mut next = 0;
        for hit in hits.into_iter().filter(|h| h.present()) {
            let Some(line) = self.lines.get(hit.place) else {
                continue;
            };
            if hit.place >= next || !lines.contains(&line.id) {
                lines.push(line.id);
            }
            next = next.max(hit.place + 1);
        }
        lines
    }

    fn say(
        &mut self,
        level: Level,
        entry: &ListEntry,
        set: &RuleSet,
        message: String,
        hits: &[Hit],
    ) {
        let finding = self.finding(level, entry, set, message, hits);
        self.law.findings.push(finding);
    }

    /// A finding on an entry and the constituents it matches.
    fn finding(
        &self,
        level: Level,
        entry: &ListEntry,
        set: &RuleSet,
        mut message: String,
        hits: &[Hit],
    ) -> Finding {
        let mut level = level.min(ceiling(entry, set));
        if !entry.seen {
            // What was not seen in the text is no ground for a breach.
            level = level.min(Level::Caution);
            message.push_str(
                " (this row is from general knowledge, it was not seen in the official text)",
            );
        }
        if !binds(&entry.binds, self.product) {
            level = Level::Note;
            message.push_str(
                " (this binds in the European Union; no instrument of Great Britain that adopts it was found)",
            );
        }
        let finding = Finding::new(level, entry.rule.clone(), message, source(entry, set))
            .on(self.lines_of(hits));
        let first = (hits.iter()).find(|h| h.present()).or(hits.first());
        match first {
            Some(hit) => finding.about(Matter::substance(&hit.inci)),
            None => finding,
        }
    }

    /// An entry and those that decide with it what is allowed; none if the product has one use
    /// only, which need not be told apart.
    fn deciding_together(&self, entry: &'a ListEntry, hits: &[Hit]) -> Vec<&'a ListEntry> {
        if self.views.is_single() {
            return Vec::new();
        }
        let other = self.other_entry(entry, hits).map(|(_, other)| other);
        let siblings = self.siblings(hits).map(|(_, sibling)| sibling);
        [entry].into_iter().chain(other).chain(siblings).collect()
    }

    fn sure(entry: &ListEntry, hits: &[Hit]) -> bool {
        hits.iter()
            .any(|h| h.present() && member_sure(entry, h) && serves(entry.purpose, h) == Truth::Yes)
    }
}

fn by_max(a: &Tier, b: &Tier) -> Ordering {
    let max = |t: &Tier| t.max.map_or(0.0, MassFraction::value);
    max(a).total_cmp(&max(b))
}

/// How grave a finding of an entry can be at most.
fn ceiling(entry: &ListEntry, set: &RuleSet) -> Level {
    match set.list {
        List::Conclusions | List::Advice | List::Borders => entry.level.min(Level::Caution),
        _ => entry.level,
    }
}

/// What an entry is cited from: its own document or that of its list.
fn cited<'e>(entry: &'e ListEntry, set: &'e RuleSet) -> &'e Arc<str> {
    entry.cite.as_ref().unwrap_or(&set.source)
}

/// The document of an entry.
fn source(entry: &ListEntry, set: &RuleSet) -> Source {
    Source {
        basis: match set.list {
            List::Own | List::Advice => Basis::Practice,
            _ => Basis::Published,
        },
        text: cited(entry, set).clone(),
    }
}

/// The document of a list.
fn list_source(set: &RuleSet) -> Source {
    Source {
        basis: if set.list == List::Own {
            Basis::Practice
        } else {
            Basis::Published
        },
        text: set.source.clone(),
    }
}

/// Whether an entry that names markets of its own binds a product in one of them.
fn binds(markets: &[Market], product: &Product) -> bool {
    markets.is_empty() || markets.iter().any(|m| product.markets.contains(m))
}

/// The markets of a product in which an entry binds.
fn markets_of(set: &RuleSet, own: &[Market], product: &Product) -> Vec<Market> {
    let wanted = |m: &Market| product.markets.contains(m) && (own.is_empty() || own.contains(m));
    set.markets.iter().copied().filter(wanted).collect()
}

/// What is to be read about an entry for a product, in one text; none if there is nothing.
fn words_of(entry: &ListEntry, product: &Product) -> Option<Arc<str>> {
    let said = |r: &&Remark| r.when.holds(product) != Truth::No;
    let mut rest = entry.read.iter().filter(said);
    let first = rest.next()?;
    match rest.next() {
        None => Some(first.text.clone()),
        Some(second) => {
            let all = [first, second].into_iter().chain(rest);
            let texts: Vec<&str> = all.map(|r| &*r.text).collect();
            Some(texts.join(" ").into())
        }
    }
}

/// The products of which an entry's limits speak.
fn allowed(entry: &ListEntry) -> String {
    let scopes: Vec<String> = entry.tiers.iter().map(|t| t.scope.to_string()).collect();
    scopes.join("; or ")
}
