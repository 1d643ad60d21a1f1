//! The engine that holds a formula against the rule book.
//!
//! It works on constituents: 1 % of a blend with half of a substance counts as
//! 0.5 % of it. What the formula does not tell is never guessed: a limit that may
//! apply gives a caution, a condition that cannot be decided a note to be read.
//! Nothing here is legal advice.

use std::fmt::Write as _;
use std::sync::Arc;

use super::book::RuleBook;
use super::entry::{Entry, List, Purpose, RuleSet, Tier, Wording};
use super::fragrance;
use super::scope::{Scope, Truth};
use crate::cas::Cas;
use crate::finding::{Finding, Level, LineLimit};
use crate::formula::{Date, Formula, ItemId, Market, Product, Variant};
use crate::material::{Basis, Class, Material, ProductKind, Role, Source};
use crate::quantity::{MassFraction, Percent, PhRange, Spread};

/// Above this share a fragrance allergen is named on a product that stays on:
/// Regulation (EC) No 1223/2009, Annex III.
pub const ALLERGEN_LEAVE_ON: MassFraction = MassFraction::from_percent(0.001);
/// Above this share on a product that is washed off; same source.
pub const ALLERGEN_RINSE_OFF: MassFraction = MassFraction::from_percent(0.01);
/// Shares closer to a limit than this are at it: a tenth of the exact step of a
/// percentage, far below what can be weighed.
const TOLERANCE: f64 = 1e-9 / 1e1;
/// A line that would have to exceed this before a limit binds is not limited.
const WHOLE: f64 = 1.0;

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

/// A limit as a sum over the lines that share it: `Σ share·percentage <= max`.
#[derive(Clone, PartialEq, Debug)]
pub struct Ceiling {
    /// The rule.
    pub rule: Arc<str>,
    /// What is limited, by the name of the first constituent that counts.
    pub inci: Arc<str>,
    /// The lines with the share of each that counts, reckoned as the rule expresses it.
    pub shares: Vec<(ItemId, f64)>,
    /// The limit on the whole formula.
    pub max: MassFraction,
}

/// A wording a rule demands on the label.
#[derive(Clone, PartialEq, Debug)]
pub struct Demand {
    /// Where.
    pub markets: Vec<Market>,
    /// Which rule.
    pub rule: Arc<str>,
    /// The words.
    pub text: Arc<str>,
    /// Whether it is certain that they are needed.
    pub certain: Truth,
    /// What decides where that is not certain, in words; empty otherwise.
    pub condition: String,
    /// Lines that bring it about.
    pub lines: Vec<ItemId>,
    /// Where the rule is written.
    pub source: Source,
}

/// A fragrance allergen that the mix contains.
#[derive(Clone, PartialEq, Debug)]
pub struct LabelAllergen {
    /// The name for the ingredient list; it may stand for a group.
    pub name: Arc<str>,
    /// INCI names of the constituents counted under it.
    pub constituents: Vec<Arc<str>>,
    /// Share of the whole formula.
    pub share: Spread,
    /// The share above which it is named.
    pub threshold: MassFraction,
    /// Whether it must be named on the day of placing on the market.
    pub must: Truth,
    /// First day of placing on the market on which the duty binds, if it is not of old.
    pub from: Option<Date>,
    /// Where it applies.
    pub markets: Vec<Market>,
    /// Which rule.
    pub rule: Arc<str>,
    /// Lines that bring it in.
    pub lines: Vec<ItemId>,
}

/// A constituent that an entry matches.
#[derive(Clone, Copy)]
struct Hit<'a> {
    entry: u32,
    member: u16,
    line: usize,
    inci: &'a Arc<str>,
    cas: Option<Cas>,
    class: Class,
    unit: Spread,
    amount: Spread,
    incidental: bool,
    material: &'a Material,
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
    let mut law = Law::default();
    fragrance::check(
        formula,
        variant,
        book.categories(),
        &mut law.findings,
        &mut law.limits,
    );
    if let Some(fault) = book.fault() {
        law.findings.push(Finding {
            level: Level::Breach,
            rule: "rules".into(),
            message: format!(
                "The rules of law could not be read, nothing was held against them: {fault}"
            ),
            lines: Vec::new(),
            source: Source::new(Basis::Published, "the lists that come with the program"),
        });
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
    let mut hits = Vec::with_capacity(128);
    let mut colours = Vec::new();
    for (index, (_, line)) in variant.lines().enumerate() {
        if let Some(material) = formula.material(&line.material) {
            collect(
                material,
                line.percent,
                index,
                book,
                &applies,
                &mut hits,
                &mut colours,
            );
        }
    }
    hits.sort_by_key(|h| h.entry);
    let measured = variant.measured.ph.map(|p| PhRange { low: p, high: p });
    let mut check = Check {
        product: &variant.product,
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
            check.group(entry, set, group);
        }
        check.allergen(entry, set, group);
    }
    check.colours(&applies, &colours);
    check.product_rules(&applies);
    check.undeclared(formula, variant);
    check.dates(&applies);
    check.finish()
}

/// Wordings for one market, certain ones first.
pub fn label_demands(law: &Law, market: Market) -> impl Iterator<Item = &Demand> {
    let of = move |certain: bool| {
        law.demands
            .iter()
            .filter(move |d| d.markets.contains(&market) && (d.certain == Truth::Yes) == certain)
    };
    of(true).chain(of(false))
}

/// Allergens that must, or at the top of the stated ranges may have to, be named in
/// the ingredient list of a market.
pub fn allergens_to_label(law: &Law, market: Market) -> impl Iterator<Item = &LabelAllergen> {
    law.allergens
        .iter()
        .filter(move |a| a.markets.contains(&market) && a.must != Truth::No)
}

fn applies(set: &RuleSet, product: &Product) -> bool {
    (set.list == List::Own && set.markets.is_empty())
        || set.markets.iter().any(|m| product.markets.contains(m))
}

/// A colorant in a line, and which lists know it.
struct ColourUse<'a> {
    inci: &'a Arc<str>,
    line: usize,
    listed: Vec<u16>,
}

fn collect<'a>(
    material: &'a Material,
    percent: Percent,
    line: usize,
    book: &RuleBook,
    applies: &[bool],
    hits: &mut Vec<Hit<'a>>,
    colours: &mut Vec<ColourUse<'a>>,
) {
    for c in &material.constituents {
        if c.class == Class::Water {
            continue;
        }
        let first = hits.len();
        book.matches(c.cas, &c.inci, |e, m| {
            let Some(entry) = book.entries().get(e as usize) else {
                return;
            };
            if !applies.get(usize::from(entry.set)).is_some_and(|&a| a) {
                return;
            }
            let Some(member) = entry.members.get(usize::from(m)) else {
                return;
            };
            let brings = |cas| material.constituents.iter().any(|c| c.cas == Some(cas));
            if member.nano && !is_nano(&c.inci)
                || member.beside.is_some_and(|cas| !brings(cas))
                || member.without.is_some_and(brings)
            {
                return;
            }
            hits.push(Hit {
                entry: e,
                member: m,
                line,
                inci: &c.inci,
                cas: c.cas,
                class: c.class,
                unit: c.share,
                amount: c.share.of(percent.fraction()),
                incidental: c.incidental.is_some(),
                material,
            });
        });
        if c.class == Class::Colour && c.share.high > MassFraction::ZERO && percent > Percent::ZERO
        {
            colours.push(ColourUse {
                inci: &c.inci,
                line,
                listed: hits
                    .get(first..)
                    .unwrap_or_default()
                    .iter()
                    .filter_map(|h| book.entries().get(h.entry as usize).map(|e| e.set))
                    .collect(),
            });
        }
    }
}

fn is_nano(inci: &str) -> bool {
    inci.to_ascii_lowercase().contains("nano")
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
}

struct Check<'a> {
    product: &'a Product,
    day: Date,
    ph: Option<PhRange>,
    book: &'a RuleBook,
    hits: &'a [Hit<'a>],
    lines: Vec<Counted>,
    notes: Vec<ToRead>,
    law: Law,
}

/// What is known of an amount against a limit.
#[derive(Clone, Copy, PartialEq)]
struct Amount {
    /// What certainly counts, at the typical composition.
    certain: f64,
    /// The most that may count.
    most: f64,
}

impl Amount {
    fn over(self, max: MassFraction) -> Truth {
        if self.certain > max.value() + TOLERANCE {
            Truth::Yes
        } else if self.most > max.value() + TOLERANCE {
            Truth::Maybe
        } else {
            Truth::No
        }
    }
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
        let lines = self.lines_of(hits);
        self.law.findings.push(Finding {
            level: level.min(ceiling(entry, set)),
            rule: entry.rule.clone(),
            message: if entry.seen {
                message
            } else {
                format!("{message} (this row is from general knowledge, it was not seen in the official text)")
            },
            lines,
            source: source(set),
        });
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
                self.say(Level::Caution, entry, set, message, hits);
            }
            return;
        }
        if let Some(scope) = &entry.prohibited {
            self.prohibited(entry, set, hits, scope, purpose, present);
        }
        let mut any = entry.tiers.is_empty();
        let mut strictest: Option<(&Tier, Amount)> = None;
        let mut all_possible_over = true;
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
                    all_possible_over = false;
                    self.tier(entry, set, tier, hits, purpose);
                }
                Truth::Maybe => {
                    any = true;
                    match tier.max {
                        None => all_possible_over = false,
                        Some(max) => {
                            let amount = self.amount(entry, tier, hits, None);
                            match amount.over(max) {
                                Truth::Yes => {
                                    if strictest.is_none_or(|(s, _)| s.max > tier.max) {
                                        strictest = Some((tier, amount));
                                    }
                                }
                                Truth::Maybe | Truth::No => all_possible_over = false,
                            }
                        }
                    }
                    if purpose == Truth::Yes && present {
                        self.wordings(entry, set, &tier.label, truth, tier, hits);
                    }
                }
            }
        }
        if let (Some((tier, amount)), true) = (strictest, present) {
            let everywhere = all_possible_over && entry.covers_all();
            let level = if everywhere {
                Level::Breach
            } else {
                Level::Caution
            };
            let mut message = self.amount_words(entry, tier, hits, amount);
            let _ = write!(message, "; the limit is {}", limit_words(tier));
            message.push_str(if everywhere {
                ", and it is over in every type of product this can be; state the type"
            } else {
                "; whether this is such a product the formula does not tell: state its type"
            });
            self.say(level, entry, set, message, hits);
        }
        if in_force && !any && present {
            self.elsewhere(entry, set, hits, purpose);
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
            for text in &entry.read {
                self.note(entry, set, text, hits);
            }
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
        let sure = hits.iter().any(|h| member_sure(entry, h)) && purpose == Truth::Yes;
        let flat = truth == Truth::Yes && sure && entry.level == Level::Breach;
        if flat && ceiling(entry, set) == Level::Breach {
            for hit in hits {
                if !hit.incidental && hit.unit.typical > MassFraction::ZERO {
                    self.limit(hit.line, Percent::ZERO, entry, 0.0);
                }
            }
        }
        if !present {
            return;
        }
        let who = names(hits);
        let read = entry
            .read
            .first()
            .map_or(String::new(), |r| format!(" {r}"));
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
                Level::Note,
                format!(
                    "{who} is prohibited as a fragrance ingredient; here it is counted as something else"
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

    /// How much of an entry's substances there is, as a limit counts it.
    fn amount(&self, entry: &Entry, tier: &Tier, hits: &[Hit], family: Option<u32>) -> Amount {
        let mut sum = Amount {
            certain: 0.0,
            most: 0.0,
        };
        for hit in hits {
            if family.is_some_and(|f| member_family(entry, hit) != f) {
                continue;
            }
            let factor = self.factor(entry, tier, hit);
            sum.most += hit.amount.high.value() * factor.unwrap_or(1.0);
            if let (Some(factor), true) = (factor, counts(entry, hit)) {
                sum.certain += hit.amount.typical.value() * factor;
            }
        }
        sum
    }

    fn factor(&self, entry: &Entry, tier: &Tier, hit: &Hit) -> Option<f64> {
        let Some(target) = tier.expressed else {
            return Some(1.0);
        };
        let member = entry.members.get(usize::from(hit.member))?;
        hit.cas
            .and_then(|cas| self.book.equivalents().factor(target, cas))
            .or_else(|| {
                member
                    .cas
                    .iter()
                    .find_map(|&cas| self.book.equivalents().factor(target, cas))
            })
    }

    /// A limit that applies to the product.
    fn tier(
        &mut self,
        entry: &'a Entry,
        set: &'a RuleSet,
        tier: &'a Tier,
        hits: &[Hit],
        purpose: Truth,
    ) {
        if let Some(max) = tier.max {
            if tier.each {
                let mut families: Vec<u32> = hits.iter().map(|h| member_family(entry, h)).collect();
                families.sort_unstable();
                families.dedup();
                for family in families {
                    self.against(entry, set, tier, hits, max, purpose, Some(family));
                }
            } else {
                self.against(entry, set, tier, hits, max, purpose, None);
            }
        }
        let present = hits.iter().any(|h| h.amount.high > MassFraction::ZERO);
        if !present || purpose != Truth::Yes {
            return;
        }
        if let Some(window) = tier.ph {
            let outside = |value: f64| {
                window.low.is_some_and(|l| value < l) || window.high.is_some_and(|h| value > h)
            };
            match self.ph {
                None => {
                    self.note(
                        entry,
                        set,
                        &format!("Needs {window}; the pH of the product is not known").into(),
                        hits,
                    );
                }
                Some(ph) => {
                    let (low, high) = (ph.low.value(), ph.high.value());
                    let range = if low == high {
                        format!("{low:.2}")
                    } else {
                        format!("{low:.2} to {high:.2}, estimated")
                    };
                    // A range lies outside as a whole if both ends miss the window on the same side.
                    let whole = window.low.is_some_and(|l| high < l)
                        || window.high.is_some_and(|h| low > h);
                    if whole {
                        let message = format!("{} needs {window}; the pH is {range}", names(hits));
                        self.say(Level::Breach, entry, set, message, hits);
                    } else if outside(low) || outside(high) {
                        let message = format!(
                            "{} needs {window}; the pH is {range}: measure it",
                            names(hits)
                        );
                        self.say(Level::Caution, entry, set, message, hits);
                    }
                }
            }
        }
        self.wordings(entry, set, &tier.label, Truth::Yes, tier, hits);
    }

    #[expect(
        clippy::too_many_arguments,
        reason = "one limit and everything it is held against"
    )]
    fn against(
        &mut self,
        entry: &Entry,
        set: &RuleSet,
        tier: &Tier,
        hits: &[Hit],
        max: MassFraction,
        purpose: Truth,
        family: Option<u32>,
    ) {
        let amount = self.amount(entry, tier, hits, family);
        if purpose == Truth::Yes && ceiling(entry, set) == Level::Breach {
            self.limits(entry, tier, hits, max, amount.certain, family);
        }
        let one: Vec<Hit>;
        let hits = match family {
            None => hits,
            Some(f) => {
                one = hits
                    .iter()
                    .filter(|h| member_family(entry, h) == f)
                    .copied()
                    .collect();
                &one
            }
        };
        let over = amount.over(max);
        if over == Truth::No {
            return;
        }
        let mut message = self.amount_words(entry, tier, hits, amount);
        let _ = write!(message, "; the limit is {}", limit_words(tier));
        if let Some(next) = entry.tiers.iter().find(|t| t.comes_after(self.day))
            && let (Some(from), Truth::Yes) = (next.from, next.scope.holds(self.product))
        {
            let _ = write!(message, ", from {from} {}", limit_words(next));
        }
        if over == Truth::Yes {
            self.say(Level::Breach, entry, set, message, hits);
            return;
        }
        let level = if purpose == Truth::Yes {
            Level::Caution
        } else {
            Level::Note
        };
        message.push_str("; ");
        message.push_str(&self.why_not_certain(entry, tier, hits));
        self.say(level, entry, set, message, hits);
    }

    /// Why an amount may be over a limit but is not certain to be.
    fn why_not_certain(&self, entry: &Entry, tier: &Tier, hits: &[Hit]) -> String {
        if let Some(hit) = hits.iter().find(|h| self.factor(entry, tier, h).is_none()) {
            let target = tier
                .expressed
                .map_or("", |t| self.book.equivalents().name(t));
            return format!("how much {target} {} counts as is not known here", hit.inci);
        }
        if let Some(hit) = hits.iter().find(|h| !member_sure(entry, h)) {
            return format!(
                "{} is only filed under this entry by the Commission's database",
                hit.inci
            );
        }
        if hits.iter().any(|h| serves(entry.purpose, h) != Truth::Yes) {
            return match entry.purpose {
                Purpose::Preservative => "this limit is for its use as a preservative, and here it is, all or in part, counted as something else",
                Purpose::UvFilter => "this limit is for its use as a UV filter, which its material does not state",
                Purpose::Other => "this limit is for uses other than preserving",
                Purpose::Fragrance => "this limit is for its use as a fragrance",
                Purpose::Any | Purpose::Colour | Purpose::HairDye => "this depends on what it is there for",
            }
            .to_owned();
        }
        "only at the upper end of the composition stated for the raw material".to_owned()
    }

    /// The most of each line before the limit binds, all else equal.
    fn limits(
        &mut self,
        entry: &Entry,
        tier: &Tier,
        hits: &[Hit],
        max: MassFraction,
        total: f64,
        family: Option<u32>,
    ) {
        let mut i = 0;
        let mut shares = Vec::new();
        while let Some(first) = hits.get(i) {
            let (mut mine, mut unit) = (0.0, 0.0);
            while let Some(hit) = hits.get(i).filter(|h| h.line == first.line) {
                i += 1;
                let wanted = family.is_none_or(|f| member_family(entry, hit) == f);
                if let (Some(factor), true) =
                    (self.factor(entry, tier, hit), wanted && counts(entry, hit))
                {
                    mine += hit.amount.typical.value() * factor;
                    unit += hit.unit.typical.value() * factor;
                }
            }
            if unit > 0.0 {
                if let Some(line) = self.lines.get(first.line) {
                    shares.push((line.id, unit));
                }
                let others = (total - mine).max(0.0);
                let most = ((max.value() - others) / unit).max(0.0);
                if most < WHOLE {
                    // Rounded down to the exact step; what is within a hair of a step is that step.
                    let units = (most * 100.0 * Percent::UNITS as f64 + 1e-4).floor();
                    self.limit(first.line, Percent::from_units(units as i64), entry, others);
                }
            }
        }
        if let Some(first) = hits.first()
            && shares.iter().any(|(_, share)| *share > max.value())
        {
            self.law.ceilings.push(Ceiling {
                rule: entry.rule.clone(),
                inci: first.inci.clone(),
                shares,
                max,
            });
        }
    }

    fn limit(&mut self, line: usize, most: Percent, entry: &Entry, beside: f64) {
        if let Some(counted) = self.lines.get_mut(line)
            && counted.best.as_ref().is_none_or(|b| most < b.most)
        {
            counted.best = Some(Best {
                most,
                rule: entry.rule.clone(),
                beside,
            });
        }
    }

    /// A limit that binds later than the day of placing on the market.
    fn later(&mut self, entry: &Entry, set: &RuleSet, tier: &Tier, hits: &[Hit]) {
        let (Some(max), Some(from)) = (tier.max, tier.from) else {
            return;
        };
        let amount = self.amount(entry, tier, hits, None);
        if amount.over(max) == Truth::Yes {
            let mut message = self.amount_words(entry, tier, hits, amount);
            let _ = write!(
                message,
                "; products placed on the market from {from} are limited to {}",
                limit_words(tier)
            );
            self.say(Level::Caution, entry, set, message, hits);
        }
    }

    /// None of the products an entry speaks of is this one.
    fn elsewhere(&mut self, entry: &Entry, set: &RuleSet, hits: &[Hit], purpose: Truth) {
        let allowed = entry
            .tiers
            .iter()
            .map(|t| t.scope.to_string())
            .collect::<Vec<_>>()
            .join("; or ");
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
                if entry.purpose == Purpose::HairDye
                    && hits.iter().all(|h| h.class == Class::Colour)
                {
                    return;
                }
                let message = format!(
                    "The entry for {} speaks only of products: {allowed}; whether it may be in this one must be read",
                    names(hits)
                );
                self.say(Level::Caution, entry, set, message, hits);
            }
            _ => {}
        }
    }

    fn apart(&mut self, entry: &Entry, set: &RuleSet, hits: &[Hit]) {
        for number in &entry.apart {
            let other = self.hits.iter().find(|h| {
                h.amount.high > MassFraction::ZERO
                    && self
                        .book
                        .entries()
                        .get(h.entry as usize)
                        .is_some_and(|e| e.set == entry.set && e.number == *number)
            });
            // Both entries name each other: said once, by the first.
            if let Some(&other) = other.filter(|o| hits.first().is_some_and(|h| h.entry < o.entry))
            {
                let mut both = hits.to_vec();
                both.push(other);
                let message = format!(
                    "{} must not be used together with {} alone",
                    names(hits),
                    other.inci
                );
                self.say(Level::Breach, entry, set, message, &both);
            }
        }
    }

    fn wordings(
        &mut self,
        entry: &Entry,
        set: &RuleSet,
        wordings: &[Wording],
        tier_truth: Truth,
        tier: &Tier,
        hits: &[Hit],
    ) {
        for wording in wordings {
            let mut certain = tier_truth.min(wording.when.holds(self.product));
            let mut conditions = Vec::new();
            if let Some(above) = wording.above {
                let amount = self.amount(entry, tier, hits, None);
                let over = amount.over(above);
                if over == Truth::Maybe || entry.joint {
                    conditions.push(format!(
                        "if the amount is above {} %",
                        figure(above.as_percent())
                    ));
                }
                // What a structure can release at most is not what it releases.
                certain = certain.min(if entry.joint {
                    over.min(Truth::Maybe)
                } else {
                    over
                });
            }
            if certain == Truth::No {
                continue;
            }
            if tier_truth == Truth::Maybe {
                conditions.push(match &tier.scope {
                    Scope::All | Scope::Other => "in the products the entry speaks of".to_owned(),
                    scope => format!("in products: {scope}"),
                });
            }
            if wording.when.holds(self.product) == Truth::Maybe {
                conditions.push(format!("if {}", wording.when));
            }
            if !Self::sure(entry, hits) {
                certain = certain.min(Truth::Maybe);
                conditions.push("if the entry covers it".to_owned());
            }
            let lines = self.lines_of(hits);
            self.law.demands.push(Demand {
                markets: set
                    .markets
                    .iter()
                    .copied()
                    .filter(|m| self.product.markets.contains(m))
                    .collect(),
                rule: entry.rule.clone(),
                text: wording.text.clone(),
                certain,
                condition: if certain == Truth::Yes {
                    String::new()
                } else {
                    conditions.join(", ")
                },
                lines,
                source: source(set),
            });
        }
    }

    fn note(&mut self, entry: &Entry, set: &RuleSet, text: &Arc<str>, hits: &[Hit]) {
        let lines = self.lines_of(hits);
        let place = self
            .notes
            .iter()
            .position(|n| n.text == *text && Arc::ptr_eq(&n.source, &set.source));
        let note = if let Some(place) = place {
            &mut self.notes[place]
        } else {
            self.notes.push(ToRead {
                text: text.clone(),
                rules: Vec::new(),
                names: Vec::new(),
                lines: Vec::new(),
                source: set.source.clone(),
                seen: entry.seen,
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

    fn amount_words(&self, entry: &Entry, tier: &Tier, hits: &[Hit], amount: Amount) -> String {
        let several = count_names(hits) > 1;
        let mut text = names(hits);
        let shown = if amount.certain > 0.0 {
            amount.certain
        } else {
            amount.most
        };
        let _ = write!(
            text,
            " {} {}{} %",
            if several { "are together" } else { "is" },
            if amount.certain > 0.0 { "" } else { "up to " },
            figure(shown * 100.0)
        );
        if amount.certain > 0.0 && amount.most > amount.certain + TOLERANCE {
            let _ = write!(text, " (up to {} %)", figure(amount.most * 100.0));
        }
        if let Some(target) = tier.expressed {
            let _ = write!(text, " as {}", self.book.equivalents().name(target));
        }
        if entry.joint {
            let _ = write!(text, " ({})", entry.name);
        }
        text
    }

    fn allergen(&mut self, entry: &'a Entry, set: &'a RuleSet, hits: &[Hit]) {
        let Some(allergen) = &entry.allergen else {
            return;
        };
        let share: Spread = hits.iter().map(|h| h.amount).sum();
        if share.high <= MassFraction::ZERO {
            return;
        }
        let threshold = match self.product.kind {
            ProductKind::LeaveOn => ALLERGEN_LEAVE_ON,
            ProductKind::RinseOff => ALLERGEN_RINSE_OFF,
        };
        let lines = self.lines_of(hits);
        let place = self
            .law
            .allergens
            .iter()
            .position(|a| a.name == allergen.name);
        let merged = if let Some(place) = place {
            &mut self.law.allergens[place]
        } else {
            self.law.allergens.push(LabelAllergen {
                name: allergen.name.clone(),
                constituents: Vec::new(),
                share: Spread::default(),
                threshold,
                must: Truth::No,
                from: allergen.from,
                markets: set
                    .markets
                    .iter()
                    .copied()
                    .filter(|m| self.product.markets.contains(m))
                    .collect(),
                rule: entry.rule.clone(),
                lines: Vec::new(),
            });
            let last = self.law.allergens.len() - 1;
            &mut self.law.allergens[last]
        };
        merged.share += share;
        for hit in hits {
            if !merged
                .constituents
                .iter()
                .any(|c| c.eq_ignore_ascii_case(hit.inci))
            {
                merged.constituents.push(hit.inci.clone());
            }
        }
        for line in lines {
            if !merged.lines.contains(&line) {
                merged.lines.push(line);
            }
        }
        let over = Amount {
            certain: merged.share.typical.value(),
            most: merged.share.high.value(),
        }
        .over(threshold);
        merged.must = if allergen.from.is_some_and(|from| self.day < from) {
            Truth::No
        } else {
            over
        };
    }

    /// Colorants against the positive lists: one entry that allows a colorant is enough.
    fn colours(&mut self, applies: &[bool], uses: &[ColourUse<'a>]) {
        for (index, set) in self.book.sets().iter().enumerate() {
            if set.list != List::Colorants || !applies.get(index).is_some_and(|&a| a) {
                continue;
            }
            let mut done: Vec<&str> = Vec::new();
            for used in uses {
                if done.iter().any(|d| d.eq_ignore_ascii_case(used.inci)) {
                    continue;
                }
                done.push(used.inci);
                let mut hits: Vec<Hit> = self
                    .hits
                    .iter()
                    .filter(|h| {
                        h.class == Class::Colour
                            && h.inci.eq_ignore_ascii_case(used.inci)
                            && self
                                .entry(h.entry)
                                .0
                                .is_some_and(|e| usize::from(e.set) == index)
                    })
                    .copied()
                    .collect();
                if !used.listed.contains(&(index as u16)) || hits.is_empty() {
                    self.unlisted(set, used);
                    continue;
                }
                hits.sort_by_key(|h| (h.entry, h.line));
                self.colour(set, &hits);
            }
        }
    }

    fn colour(&mut self, set: &'a RuleSet, hits: &[Hit]) {
        let mut best: Option<(Truth, &'a Entry, Vec<Hit>)> = None;
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
            let scopes: Vec<String> = entry.tiers.iter().map(|t| t.scope.to_string()).collect();
            let mut text = scopes.join("; or ");
            for never in &entry.never {
                let _ = write!(text, "; not {never}");
            }
            text
        };
        match truth {
            Truth::No => {
                let message = format!(
                    "{} is allowed as a colorant only in products: {}",
                    names(&group),
                    allowed()
                );
                let level = if entry.seen {
                    Level::Breach
                } else {
                    Level::Caution
                };
                self.say(level, entry, set, message, &group);
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
        for text in &entry.read {
            self.note(entry, set, text, &group);
        }
    }

    fn unlisted(&mut self, set: &RuleSet, used: &ColourUse) {
        let index_name = used
            .inci
            .get(..3)
            .is_some_and(|s| s.eq_ignore_ascii_case("CI "));
        let level = if index_name && &*set.name == "EU IV" {
            Level::Breach
        } else {
            Level::Caution
        };
        let lines = self
            .lines
            .get(used.line)
            .map(|l| l.id)
            .into_iter()
            .collect();
        self.law.findings.push(Finding {
            level,
            rule: set.name.clone(),
            message: format!(
                "{} is not found among the colorants of this list under this name or CAS number; what colours a product must be listed",
                used.inci
            ),
            lines,
            source: source(set),
        });
    }

    /// Rules about the product as such.
    fn product_rules(&mut self, applies: &[bool]) {
        for entry in self.book.entries().iter().filter(|e| e.product) {
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
            let message = format!(
                "{}{}",
                entry
                    .read
                    .iter()
                    .map(AsRef::as_ref)
                    .collect::<Vec<&str>>()
                    .join(" "),
                if truth == Truth::Maybe {
                    " Whether this is such a product the formula does not tell."
                } else {
                    ""
                }
            );
            self.say(Level::Note, entry, set, message, &[]);
        }
    }

    /// Fragrances and essential oils whose allergens nobody has entered.
    fn undeclared(&mut self, formula: &Formula, variant: &Variant) {
        let europe = |m: &Market| matches!(m, Market::Eu | Market::Uk);
        if !self.product.markets.iter().any(europe) {
            return;
        }
        let mut lines = Vec::new();
        let mut names = Vec::new();
        for (_, line) in variant.lines() {
            let Some(material) = formula.material(&line.material) else {
                continue;
            };
            let scented =
                material.has_role(Role::Fragrance) || material.has_role(Role::EssentialOil);
            if scented && material.constituents.len() <= 1 && line.percent > Percent::ZERO {
                lines.push(line.id);
                names.push(&*material.name);
            }
        }
        if lines.is_empty() {
            return;
        }
        self.law.findings.push(Finding {
            level: Level::Caution,
            rule: "EU III allergens".into(),
            message: format!(
                "The allergens of {} are not known here; enter their shares from the supplier's allergen declaration on the Shelf",
                names.join(", ")
            ),
            lines,
            source: self
                .book
                .sets()
                .iter()
                .find(|s| &*s.name == "EU III")
                .map_or_else(|| Source::new(Basis::Published, ""), |s| source(s)),
        });
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
        let oldest = used()
            .filter_map(|s| s.as_of.map(|d| (d, s)))
            .min_by_key(|(d, _)| *d);
        if let Some((as_of, set)) = oldest.filter(|(d, _)| self.day < *d) {
            let finding = Finding {
                level: Level::Note,
                rule: set.name.clone(),
                message: format!(
                    "The lists follow the text of {as_of}; for a product placed on the market on {} the text of that day must be read",
                    self.day
                ),
                lines: Vec::new(),
                source: source(set),
            };
            self.law.findings.push(finding);
        }
        if self.product.markets.contains(&Market::Uk) {
            let source = used()
                .find(|s| s.markets.contains(&Market::Uk))
                .map_or_else(|| Source::new(Basis::Published, ""), |s| source(s));
            self.law.findings.push(Finding {
                level: Level::Note,
                rule: "UK".into(),
                message: "Held against the lists of the European Union; the lists of Great Britain have amendments of their own, which were not checked".to_owned(),
                lines: Vec::new(),
                source,
            });
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
            if !note.seen {
                message.push_str(
                    " (this row is from general knowledge, it was not seen in the official text)",
                );
            }
            self.law.findings.push(Finding {
                level: Level::Note,
                rule: note.rules.first().cloned().unwrap_or_else(|| "".into()),
                message,
                lines: note.lines,
                source: Source {
                    basis: Basis::Published,
                    text: note.source,
                },
            });
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

    /// One note that names every allergen for the ingredient list.
    fn name_allergens(&mut self) {
        let mut lines: Vec<ItemId> = Vec::new();
        let mut named = Vec::new();
        let mut perhaps = Vec::new();
        let mut later = Vec::new();
        for a in &self.law.allergens {
            let over = a.share.high.value() > a.threshold.value() + TOLERANCE;
            let list = match a.must {
                Truth::Yes => &mut named,
                Truth::Maybe => &mut perhaps,
                Truth::No if over && a.from.is_some_and(|d| self.day < d) => &mut later,
                Truth::No => continue,
            };
            list.push(format!(
                "{} {} %",
                a.name,
                figure(a.share.typical.as_percent())
            ));
            for line in &a.lines {
                if !lines.contains(line) {
                    lines.push(*line);
                }
            }
        }
        let mut parts = Vec::new();
        if !named.is_empty() {
            parts.push(format!(
                "To be named in the ingredient list: {}",
                named.join(", ")
            ));
        }
        if !perhaps.is_empty() {
            parts.push(format!(
                "at the upper end of the stated shares also {}",
                perhaps.join(", ")
            ));
        }
        if !later.is_empty() {
            parts.push(format!(
                "for products placed on the market from 2026-08-01 also {}",
                later.join(", ")
            ));
        }
        let set = self.book.sets().iter().find(|s| &*s.name == "EU III");
        if let (Some(set), false) = (set, parts.is_empty()) {
            self.law.findings.push(Finding {
                level: Level::Note,
                rule: "EU III allergens".into(),
                message: parts.join("; "),
                lines,
                source: source(set),
            });
        }
    }
}

/// Whether a constituent is there for the purpose an entry speaks of.
fn serves(purpose: Purpose, hit: &Hit) -> Truth {
    let scented =
        || hit.material.has_role(Role::Fragrance) || hit.material.has_role(Role::EssentialOil);
    // Where it is not known to serve the purpose it may still do so.
    let perhaps = |serves| if serves { Truth::Yes } else { Truth::Maybe };
    match purpose {
        Purpose::Any | Purpose::HairDye => Truth::Yes,
        Purpose::Preservative => perhaps(hit.class == Class::Preservative),
        Purpose::Other => Truth::of(hit.class != Class::Preservative),
        Purpose::Colour => Truth::of(hit.class == Class::Colour),
        Purpose::UvFilter => perhaps(hit.material.has_role(Role::UvFilter)),
        Purpose::Fragrance => perhaps(hit.class == Class::Fragrance || scented()),
    }
}

fn member_sure(entry: &Entry, hit: &Hit) -> bool {
    entry
        .members
        .get(usize::from(hit.member))
        .is_some_and(|m| m.sure)
}

fn member_family(entry: &Entry, hit: &Hit) -> u32 {
    entry
        .members
        .get(usize::from(hit.member))
        .map_or(0, |m| m.family)
}

/// Whether a constituent certainly counts towards a limit of an entry.
fn counts(entry: &Entry, hit: &Hit) -> bool {
    member_sure(entry, hit) && serves(entry.purpose, hit) == Truth::Yes
}

/// How grave a finding of an entry can be at most.
fn ceiling(entry: &Entry, set: &RuleSet) -> Level {
    match set.list {
        List::Conclusions => Level::Caution,
        _ => entry.level,
    }
}

fn source(set: &RuleSet) -> Source {
    Source {
        basis: if set.list == List::Own {
            Basis::Practice
        } else {
            Basis::Published
        },
        text: set.source.clone(),
    }
}

fn count_names(hits: &[Hit]) -> usize {
    let mut seen: Vec<&str> = Vec::new();
    for hit in hits.iter().filter(|h| h.amount.high > MassFraction::ZERO) {
        if !seen.iter().any(|s| s.eq_ignore_ascii_case(hit.inci)) {
            seen.push(hit.inci);
        }
    }
    seen.len()
}

/// The constituents' names, each once.
fn names(hits: &[Hit]) -> String {
    let mut seen: Vec<&str> = Vec::new();
    for hit in hits.iter().filter(|h| h.amount.high > MassFraction::ZERO) {
        if !seen.iter().any(|s| s.eq_ignore_ascii_case(hit.inci)) {
            seen.push(hit.inci);
        }
    }
    listed(seen.into_iter())
}

/// Joined with commas; a long list is cut with the number of the others.
fn listed<'s>(names: impl ExactSizeIterator<Item = &'s str>) -> String {
    const MOST: usize = 6;
    let total = names.len();
    let mut text = String::new();
    for (i, name) in names.take(MOST).enumerate() {
        if i > 0 {
            text.push_str(", ");
        }
        text.push_str(name);
    }
    if total > MOST {
        let _ = write!(text, " and {} more", total - MOST);
    }
    text
}

fn limit_words(tier: &Tier) -> String {
    let figure = tier.max.map_or_else(
        || "not stated as a figure".to_owned(),
        |m| format!("{} %", figure(m.as_percent())),
    );
    format!("{figure}{}", scope_words(&tier.scope))
}

fn scope_words(scope: &Scope) -> String {
    match scope {
        Scope::All => String::new(),
        Scope::Other => " in all other products".to_owned(),
        scope => format!(" in products: {scope}"),
    }
}

/// A percentage with up to four digits that matter.
fn figure(percent: f64) -> String {
    if percent == 0.0 || !percent.is_finite() {
        return "0".to_owned();
    }
    let before = percent.abs().log10().floor() as i32 + 1;
    let decimals = (4 - before).clamp(0, 8) as usize;
    let text = format!("{percent:.decimals$}");
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}
