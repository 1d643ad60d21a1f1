//! The engine that holds a formula against the rule book.
//!
//! It works on constituents: 1 % of a blend with half of a substance counts as
//! 0.5 % of it. What the formula does not tell is never guessed: a limit that may
//! apply gives a caution, a condition that cannot be decided a note to be read.
//! Nothing here is legal advice.

mod colorants;
mod hit;
mod label;
mod limit;
mod places;
mod plant_part;
mod positive;
mod words;

#[cfg(test)]
mod tests;

use std::cmp::Ordering;
use std::fmt::Write as _;
use std::sync::Arc;

use self::hit::{Gathering, Hit, member_sure, names, serves};
pub use self::label::{
    ALLERGEN_LEAVE_ON, ALLERGEN_RINSE_OFF, Demand, LabelAllergen, allergens_to_label, label_demands,
};
use self::limit::Amount;
pub use self::limit::Ceiling;
use self::places::Views;
use self::words::{figure, limit_words, listed, open_question, scope_words};
use super::book::RuleBook;
use super::entry::{Entry, List, Purpose, RuleSet, Tier};
use super::fragrance;
use super::rule_text::GREAT_BRITAIN;
use super::scope::{Scope, Truth};
use crate::cas::Cas;
use crate::finding::{Field, Finding, Level, LineLimit, Matter, Subject};
use crate::formula::{Date, Formula, ItemId, Market, Product, ProductType, Variant};
use crate::material::{Basis, Material, Source};
use crate::mixture::Mixture;
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
    pub demands: Vec<Demand>,
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
    check_mixture(formula, variant, &mixture, ph, today, book)
}

/// [`check`] on a variant that is opened up already.
pub fn check_mixture(
    formula: &Formula,
    variant: &Variant,
    mixture: &Mixture,
    ph: Option<PhRange>,
    today: Date,
    book: &RuleBook,
) -> Law {
    let mut law = Law::default();
    fragrance::check(
        formula,
        variant,
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
    let lines: Vec<Counted> = variant
        .lines()
        .map(|(_, l)| Counted {
            id: l.id,
            best: None,
        })
        .collect();
    let views = Views::of(&variant.product);
    let mut gathering = Gathering {
        book,
        applies: &applies,
        sun_care: variant.product.product_type == Some(ProductType::SunCare),
        singles: variant
            .lines()
            .filter(|(_, line)| line.percent > Percent::ZERO)
            .filter_map(|(_, line)| single(formula.material(&line.material)?))
            .collect(),
        hits: Vec::with_capacity(128),
        colours: Vec::new(),
    };
    for contribution in &mixture.contributions {
        gathering.add(contribution);
    }
    let Gathering {
        mut hits, colours, ..
    } = gathering;
    hits.sort_by_key(|h| h.entry);
    let measured = variant.measured.ph.map(|p| PhRange { low: p, high: p });
    let mut check = Check {
        product: &variant.product,
        views: &views,
        day: variant.product.market_date.unwrap_or(today),
        ph: measured.or(ph),
        book,
        hits: &hits,
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
        if set.list != List::Colorants {
            check.at_each_place(entry, |check| check.group(entry, set, group));
        }
        check.allergen(entry, set, group);
    }
    check.colours(&applies, &colours);
    check.positive(mixture, &applies);
    check.product_rules(&applies);
    check.undeclared(formula, variant);
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

/// A condition to be read and what brings it up.
struct ToRead {
    text: Arc<str>,
    rules: Vec<Arc<str>>,
    names: Vec<Arc<str>>,
    lines: Vec<ItemId>,
    source: Arc<str>,
    seen: bool,
    binds: bool,
}

struct Check<'a> {
    /// The product, or one of its places alone while that is looked at.
    product: &'a Product,
    views: &'a Views,
    day: Date,
    ph: Option<PhRange>,
    book: &'a RuleBook,
    hits: &'a [Hit<'a>],
    lines: Vec<Counted>,
    notes: Vec<ToRead>,
    law: Law,
}

impl<'a> Check<'a> {
    fn entry(&self, index: u32) -> (Option<&'a Arc<Entry>>, Option<&'a Arc<RuleSet>>) {
        let entry = self.book.entries().get(index as usize);
        (entry, entry.and_then(|e| self.book.set_of(e)))
    }

    fn lines_of(&self, hits: &[Hit]) -> Vec<ItemId> {
        let mut lines: Vec<ItemId> = Vec::with_capacity(hits.len());
        for hit in hits {
            if hit.amount.high > MassFraction::ZERO
                && let Some(line) = self.lines.get(hit.line)
                && !lines.contains(&line.id)
            {
                lines.push(line.id);
            }
        }
        lines
    }

    fn say(&mut self, level: Level, entry: &Entry, set: &RuleSet, message: String, hits: &[Hit]) {
        let finding = self.finding(level, entry, set, message, hits);
        self.law.findings.push(finding);
    }

    /// A finding on an entry and the constituents it matches.
    fn finding(
        &self,
        level: Level,
        entry: &Entry,
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
        let first = (hits.iter())
            .find(|h| h.amount.high > MassFraction::ZERO)
            .or(hits.first());
        match first {
            Some(hit) => finding.about(Matter::substance(hit.inci)),
            None => finding,
        }
    }

    /// One entry and the constituents it matches.
    fn group(&mut self, entry: &'a Entry, set: &'a RuleSet, hits: &[Hit]) {
        if entry.deleted {
            return;
        }
        let present = hits.iter().any(|h| h.amount.high > MassFraction::ZERO);
        let purpose = hits
            .iter()
            .map(|h| serves(entry.purpose, h))
            .max()
            .unwrap_or(Truth::No);
        if purpose == Truth::No {
            return;
        }
        if entry.from.is_some_and(|from| self.day < from) {
            if let (true, Some(from)) = (present, entry.from) {
                let message = format!(
                    "{}: binds products placed on the market from {from}",
                    names(hits)
                );
                let finding = self
                    .finding(Level::Caution, entry, set, message, hits)
                    .asks(Subject::Later);
                self.law.findings.push(finding);
            }
            return;
        }
        if matches!(set.list, List::Borders | List::Advice) {
            self.border(entry, set, hits);
            return;
        }
        if let Some(scope) = &entry.prohibited {
            self.prohibited(entry, set, hits, scope, purpose, present);
        }
        let mut any = entry.tiers.is_empty();
        let mut strictest: Option<(&Tier, Amount)> = None;
        let mut undecided = false;
        let mut in_force = false;
        for (tier, truth) in entry.truths(self.product) {
            if tier.comes_after(self.day) {
                any |= truth != Truth::No;
                if truth == Truth::Yes {
                    self.later(entry, set, tier, hits);
                }
                continue;
            }
            if !tier.binds_on(self.day) {
                continue;
            }
            in_force = true;
            match truth {
                Truth::No => {}
                Truth::Yes => {
                    any = true;
                    self.tier(entry, set, tier, hits, purpose);
                }
                Truth::Maybe => {
                    any = true;
                    if let Some(max) = tier.max {
                        undecided = true;
                        let amount = self.amount(entry, tier, hits, None);
                        if amount.over(tier, max) == Truth::Yes
                            && strictest.is_none_or(|(s, _)| s.max > tier.max)
                        {
                            strictest = Some((tier, amount));
                        }
                    }
                    if purpose == Truth::Yes && present {
                        self.wordings(entry, set, &tier.label, truth, tier, hits);
                    }
                }
            }
        }
        if let (Some((tier, amount)), true) = (strictest, present) {
            let everywhere = self.over_in_every_type(entry, hits, purpose);
            let level = if everywhere {
                Level::Breach
            } else {
                Level::Caution
            };
            let mut message = self.amount_words(entry, tier, hits, amount);
            let _ = write!(message, "; the limit is {}", limit_words(tier));
            let (question, field) = open_question(&tier.scope, self.product);
            if everywhere {
                message.push_str(
                    ", and it is over in every type of product this can be; state the type",
                );
            } else {
                let _ = write!(message, "; {question}");
            }
            let mut finding = self.finding(level, entry, set, message, hits);
            if let Some(field) = field {
                finding = finding.open(field);
            }
            self.law.findings.push(finding);
        }
        if undecided && purpose == Truth::Yes && ceiling(entry, set) == Level::Breach {
            self.limit_in_every_type(entry, hits);
        }
        if in_force && present {
            if !any {
                self.elsewhere(entry, set, hits, purpose);
            } else if set.list.allows_only_what_it_names()
                && purpose == Truth::Yes
                && strictest.is_none()
                && self.left_out_in_some_type(entry)
            {
                let message = format!(
                    "{} is allowed for this purpose only in products: {}; whether this is one the formula does not tell: state its type",
                    names(hits),
                    allowed(entry)
                );
                let finding = self
                    .finding(Level::Caution, entry, set, message, hits)
                    .open(Field::ProductType);
                self.law.findings.push(finding);
            }
        }
        if !present || !any {
            return;
        }
        let relevant =
            purpose == Truth::Yes || matches!(entry.purpose, Purpose::Any | Purpose::HairDye);
        if !relevant {
            return;
        }
        for scope in &entry.never {
            match scope.holds(self.product) {
                Truth::Yes => {
                    let message = format!("{} must not be in products: {scope}", names(hits));
                    let sure = Self::sure(entry, hits);
                    let level = if sure { Level::Breach } else { Level::Caution };
                    self.say(level, entry, set, message, hits);
                }
                Truth::Maybe => {
                    self.note(
                        entry,
                        set,
                        &format!("Not in products: {scope}").into(),
                        hits,
                    );
                }
                Truth::No => {}
            }
        }
        if set.list != List::Prohibited {
            self.remarks(entry, set, hits);
        }
        let truth = entry
            .truths(self.product)
            .filter(|(t, _)| t.binds_on(self.day))
            .map(|(_, truth)| truth)
            .max()
            .unwrap_or(Truth::Yes);
        let plain = Tier::plain();
        let whole = entry.tiers.first().unwrap_or(&plain);
        self.wordings(entry, set, &entry.label, truth, whole, hits);
        self.apart(entry, set, hits);
    }

    /// Whether a limit is exceeded whatever type the product is.
    fn over_in_every_type(&self, entry: &Entry, hits: &[Hit], purpose: Truth) -> bool {
        let set = self.book.sets().get(entry.set as usize);
        let only_named =
            purpose == Truth::Yes && set.is_some_and(|s| s.list.allows_only_what_it_names());
        entry.cases(self.product).iter().all(|case| {
            let (mut possible, mut within) = (false, false);
            for (tier, truth) in entry.truths(case) {
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
        })
    }

    /// Whether the product may be of a type of which no limit in force speaks.
    fn left_out_in_some_type(&self, entry: &Entry) -> bool {
        entry.cases(self.product).iter().any(|case| {
            entry
                .truths(case)
                .all(|(tier, truth)| truth == Truth::No || !tier.binds_on(self.day))
        })
    }

    /// Where the type of the product decides and is not stated: the limit that binds even
    /// in the most generous type.
    fn limit_in_every_type(&mut self, entry: &Entry, hits: &[Hit]) {
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

    fn sure(entry: &Entry, hits: &[Hit]) -> bool {
        hits.iter().any(|h| {
            h.amount.high > MassFraction::ZERO
                && member_sure(entry, h)
                && serves(entry.purpose, h) == Truth::Yes
        })
    }

    fn prohibited(
        &mut self,
        entry: &Entry,
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
        // What a plant brings in is held against the limits of the entry.
        let weighed: Vec<Hit>;
        let (hits, present) = if entry.natural {
            weighed = hits.iter().filter(|h| !h.natural()).copied().collect();
            let present = present && weighed.iter().any(|h| h.amount.high > MassFraction::ZERO);
            (&*weighed, present)
        } else {
            (hits, present)
        };
        // The entry that allows it for some uses decides for all.
        let allowed_elsewhere: Vec<Hit>;
        let (hits, present) = if entry.except.is_empty() {
            (hits, present)
        } else {
            allowed_elsewhere = hits
                .iter()
                .filter(|h| !self.excepted(entry, h))
                .copied()
                .collect();
            let present = present
                && allowed_elsewhere
                    .iter()
                    .any(|h| h.amount.high > MassFraction::ZERO);
            (&*allowed_elsewhere, present)
        };
        if hits.is_empty() {
            return;
        }
        let sure = hits.iter().any(|h| member_sure(entry, h)) && purpose == Truth::Yes;
        let flat = truth == Truth::Yes && sure && entry.level == Level::Breach;
        if flat && ceiling(entry, set) == Level::Breach {
            self.none_allowed(entry, hits);
        }
        if !present {
            return;
        }
        let who = names(hits);
        let read = entry
            .read
            .first()
            .map_or(String::new(), |r| format!(" {}", r.text));
        let traces = hits.iter().all(|h| h.incidental);
        let (level, message) = if traces {
            (
                Level::Caution,
                format!(
                    "{who} is prohibited; here only as incidental traces of a raw material: they must be unavoidable"
                ),
            )
        } else if flat {
            (
                Level::Breach,
                format!("{who} is prohibited{}", scope_words(scope)),
            )
        } else if truth == Truth::Maybe {
            (
                Level::Caution,
                format!(
                    "{who} is prohibited in products: {scope}; the formula does not tell whether this is one"
                ),
            )
        } else if !sure && purpose == Truth::Yes {
            (
                Level::Caution,
                format!(
                    "{who} is filed under the prohibited “{}” by the Commission's database, its CAS number is not in the entry; read it",
                    entry.name
                ),
            )
        } else if purpose != Truth::Yes {
            (
                Level::Caution,
                format!("{who} is prohibited as a fragrance ingredient; state what it is here for"),
            )
        } else if entry.level == Level::Note {
            (
                Level::Note,
                format!(
                    "{who}: the supplier has to state that the condition of “{}” is met.{read}",
                    entry.name
                ),
            )
        } else {
            (
                Level::Caution,
                format!(
                    "{who} is prohibited under conditions to be read: {}.{read}",
                    entry.name
                ),
            )
        };
        self.say(level, entry, set, message, hits);
    }

    /// Whether an entry that allows what this one prohibits knows a constituent.
    fn excepted(&self, entry: &Entry, hit: &Hit) -> bool {
        self.hits.iter().any(|other| {
            other.line == hit.line
                && other.inci == hit.inci
                && self
                    .book
                    .entries()
                    .get(other.entry as usize)
                    .is_some_and(|e| entry.except.contains(&e.rule) && member_sure(e, other))
        })
    }

    /// What points to another law than that of cosmetics, or to published advice.
    fn border(&mut self, entry: &'a Entry, set: &'a RuleSet, hits: &[Hit]) {
        let met = |(tier, truth): (&Tier, Truth)| match tier.max {
            Some(max) => truth.min(self.amount(entry, tier, hits, None).over(tier, max)),
            None => truth,
        };
        let plain = [(&Tier::plain(), Truth::Yes)];
        let truth = if entry.tiers.is_empty() {
            plain.into_iter().map(met).max()
        } else {
            entry.truths(self.product).map(met).max()
        };
        let truth = truth.unwrap_or(Truth::No);
        let present = hits.iter().any(|h| h.amount.high > MassFraction::ZERO);
        if truth == Truth::No || !(present || entry.product) {
            return;
        }
        let sure = entry.product || hits.iter().any(|h| member_sure(entry, h));
        let level = if truth == Truth::Yes && sure {
            entry.level
        } else {
            Level::Note
        };
        let text = words_of(entry, self.product);
        let message = match (entry.product, sure) {
            (true, _) => text.clone(),
            (false, true) => format!("{}: {text}", names(hits)),
            (false, false) => format!("{}, if it is here for that: {text}", names(hits)),
        };
        self.say(level, entry, set, message, hits);
        if set.list == List::Borders && truth == Truth::Yes && sure {
            let lines = self.lines_of(hits);
            self.law.demands.push(Demand {
                markets: markets_of(set, &entry.binds, self.product),
                rule: entry.rule.clone(),
                text: text.into(),
                certain: Truth::Yes,
                condition: String::new(),
                lines,
                source: source(entry, set),
                border: true,
            });
        }
    }

    /// Conditions to be read, as one note of the entry.
    fn remarks(&mut self, entry: &Entry, set: &RuleSet, hits: &[Hit]) {
        let text = words_of(entry, self.product);
        if !text.is_empty() {
            self.note(entry, set, &text.into(), hits);
        }
    }

    /// None of the products an entry speaks of is this one.
    fn elsewhere(&mut self, entry: &Entry, set: &RuleSet, hits: &[Hit], purpose: Truth) {
        let allowed = allowed(entry);
        match set.list {
            List::Preservatives | List::UvFilters if purpose == Truth::Yes => {
                let level = if Self::sure(entry, hits) {
                    Level::Breach
                } else {
                    Level::Caution
                };
                let message = format!(
                    "{} is allowed for this purpose only in products: {allowed}",
                    names(hits)
                );
                self.say(level, entry, set, message, hits);
            }
            List::Restricted => {
                // Colorants have a list of their own, which decides.
                let colour = |h: &Hit| {
                    hit::colours(h.served, h.class)
                        && self.book.lists(h.cas, h.inci, List::Colorants)
                };
                if entry.joint
                    || purpose == Truth::No
                    || entry.purpose == Purpose::HairDye && hits.iter().all(colour)
                {
                    return;
                }
                if entry.open {
                    return;
                }
                let level = if purpose == Truth::Yes && Self::sure(entry, hits) {
                    Level::Breach
                } else {
                    Level::Caution
                };
                let also = self.prohibited_by(entry);
                let message = format!(
                    "{} is allowed only in products: {allowed}; this is none{also}",
                    names(hits)
                );
                if level == Level::Breach {
                    self.none_allowed(entry, hits);
                }
                self.say(level, entry, set, message, hits);
            }
            _ => {}
        }
    }

    /// The entry that prohibits what this one allows, in words.
    fn prohibited_by(&self, entry: &Entry) -> String {
        let by = self.hits.iter().find_map(|h| {
            let other = self.book.entries().get(h.entry as usize)?;
            other.except.contains(&entry.rule).then_some(&other.rule)
        });
        by.map_or_else(String::new, |rule| {
            format!(", and {rule} prohibits it otherwise")
        })
    }

    /// No percentage of the lines is allowed.
    fn none_allowed(&mut self, entry: &Entry, hits: &[Hit]) {
        let mut shares = Vec::new();
        for hit in hits {
            if !hit.incidental && hit.unit.typical > MassFraction::ZERO {
                self.limit(hit.line, Percent::ZERO, entry, 0.0);
                let line = self.lines.get(hit.line);
                shares.extend(line.map(|l| (l.id, hit.unit.typical.value())));
            }
        }
        self.ceiling(entry, hits, shares, MassFraction::ZERO);
    }

    /// Substances that must not meet: one finding for an entry and each rule it names.
    fn apart(&mut self, entry: &Entry, set: &RuleSet, hits: &[Hit]) {
        for apart in &entry.apart {
            let others: Vec<Hit> = self
                .hits
                .iter()
                .filter(|h| h.amount.high > MassFraction::ZERO)
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

    fn note(&mut self, entry: &Entry, set: &RuleSet, text: &Arc<str>, hits: &[Hit]) {
        let lines = self.lines_of(hits);
        let place = self
            .notes
            .iter()
            .position(|n| n.text == *text && n.source == source(entry, set).text);
        let note = if let Some(place) = place {
            &mut self.notes[place]
        } else {
            self.notes.push(ToRead {
                text: text.clone(),
                rules: Vec::new(),
                names: Vec::new(),
                lines: Vec::new(),
                source: source(entry, set).text,
                seen: entry.seen,
                binds: binds(&entry.binds, self.product),
            });
            let last = self.notes.len() - 1;
            &mut self.notes[last]
        };
        if !note.rules.contains(&entry.rule) {
            note.rules.push(entry.rule.clone());
        }
        for hit in hits.iter().filter(|h| h.amount.high > MassFraction::ZERO) {
            if !note.names.iter().any(|n| n.eq_ignore_ascii_case(hit.inci)) {
                note.names.push(hit.inci.clone());
            }
        }
        for line in lines {
            if !note.lines.contains(&line) {
                note.lines.push(line);
            }
        }
    }

    /// Rules about the product as such.
    fn product_rules(&mut self, applies: &[bool]) {
        for entry in self.book.product_rules() {
            if !applies.get(usize::from(entry.set)).is_some_and(|&a| a) {
                continue;
            }
            let truth = entry
                .truths(self.product)
                .map(|(_, t)| t)
                .max()
                .unwrap_or(Truth::Yes);
            let Some(set) = self.book.set_of(entry).filter(|_| truth != Truth::No) else {
                continue;
            };
            if set.list == List::Borders {
                let (entry, set) = (&**entry, &**set);
                self.border(entry, set, &[]);
                continue;
            }
            let doubt = if truth == Truth::Maybe {
                " Whether this is such a product the formula does not tell."
            } else {
                ""
            };
            let words = words_of(entry, self.product);
            if !words.is_empty() {
                self.say(Level::Note, entry, set, format!("{words}{doubt}"), &[]);
            }
            for (tier, truth) in entry.truths(self.product) {
                if truth != Truth::No && tier.binds_on(self.day) {
                    self.wordings(entry, set, &tier.label, truth, tier, &[]);
                }
            }
        }
    }

    /// What must be known about the days of the lists.
    fn dates(&mut self, applies: &[bool]) {
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

    fn finish(mut self) -> Law {
        for note in std::mem::take(&mut self.notes) {
            let who = listed(note.names.iter().map(AsRef::as_ref));
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

fn by_max(a: &Tier, b: &Tier) -> Ordering {
    let max = |t: &Tier| t.max.map_or(0.0, MassFraction::value);
    max(a).total_cmp(&max(b))
}

/// How grave a finding of an entry can be at most.
fn ceiling(entry: &Entry, set: &RuleSet) -> Level {
    match set.list {
        List::Conclusions | List::Advice | List::Borders => entry.level.min(Level::Caution),
        _ => entry.level,
    }
}

/// The document of an entry.
fn source(entry: &Entry, set: &RuleSet) -> Source {
    let mut source = list_source(set);
    if let Some(cite) = &entry.cite {
        source.text = cite.clone();
    }
    if set.list == List::Advice {
        source.basis = Basis::Practice;
    }
    source
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

/// What is to be read about an entry for a product, in one text.
fn words_of(entry: &Entry, product: &Product) -> String {
    let said = entry
        .read
        .iter()
        .filter(|r| r.when.holds(product) != Truth::No);
    let texts: Vec<&str> = said.map(|r| &*r.text).collect();
    texts.join(" ")
}

/// The products of which an entry's limits speak.
fn allowed(entry: &Entry) -> String {
    let scopes: Vec<String> = entry.tiers.iter().map(|t| t.scope.to_string()).collect();
    scopes.join("; or ")
}
