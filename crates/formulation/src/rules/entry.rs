//! An entry of a list of rules: what it matches, for which products, what it demands.

use std::fmt;
use std::sync::Arc;

use super::salt::SaltNames;
use super::scope::{Scope, Truth, is_type};
use crate::cas::Cas;
use crate::finding::Level;
use crate::formula::{Date, Market, Product, ProductType};
use crate::inci::Inci;
use crate::material::Role;
use crate::name_hash::name_contains;
use crate::quantity::MassFraction;

/// What a list of rules is for.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum List {
    /// Substances that must not be in a product.
    Prohibited,
    /// Substances allowed under conditions.
    Restricted,
    /// The colorants that are allowed; others are not.
    Colorants,
    /// The preservatives that are allowed.
    Preservatives,
    /// The UV filters that are allowed.
    UvFilters,
    /// Published review conclusions, not law.
    Conclusions,
    /// Where a product is a drug, a biocide or something else beside or instead of a cosmetic.
    Borders,
    /// Published advice and habits of the trade, not law.
    Advice,
    /// The maker's own rules.
    Own,
}

impl List {
    /// Whether what it does not name is not allowed for its purpose.
    pub const fn allows_only_what_it_names(self) -> bool {
        matches!(self, Self::Preservatives | Self::UvFilters)
    }
}

/// What a substance is there for, as far as a rule asks.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum RuledPurpose {
    /// Whatever it is there for.
    Any,
    /// To preserve the product.
    Preservative,
    /// Anything but preserving.
    Other,
    /// To filter UV light.
    UvFilter,
    /// To colour the product.
    Colour,
    /// To dye hair.
    HairDye,
    /// As a fragrance.
    Fragrance,
}

/// A list of rules and where it is from.
#[derive(Clone, PartialEq, Debug)]
pub struct RuleSet {
    /// Beginning of the rule names, for example `EU V`.
    pub name: Arc<str>,
    /// Title.
    pub title: Arc<str>,
    /// What it is for.
    pub list: List,
    /// Where it applies.
    pub markets: Vec<Market>,
    /// The day of the text the list follows; none if it follows no dated text.
    pub as_of: Option<Date>,
    /// The document.
    pub source: Arc<str>,
    /// What to mind about the data.
    pub cautions: Vec<Arc<str>>,
}

/// A substance an entry matches, by CAS number or INCI name.
#[derive(Clone, PartialEq, Default, Debug)]
pub struct Member {
    /// INCI and other names, compared without regard to case.
    pub names: Vec<Arc<str>>,
    /// CAS numbers.
    pub cas: Vec<Cas>,
    /// Members of one family count as one substance where a limit is for each.
    pub family: u32,
    /// Named by the text; otherwise only filed under the entry by a database.
    pub sure: bool,
    /// Only the nanomaterial.
    pub nano: bool,
    /// Any material with this role, whatever it is made of.
    pub role: Option<Role>,
    /// Counts only in a line that also brings in this substance.
    pub beside: Option<Cas>,
    /// Counts only in a line that does not bring in this substance.
    pub without: Option<Cas>,
    /// Why it belongs to a group that the text names in words alone, or what speaks against.
    pub ground: Option<Arc<str>>,
    /// Stands for the salts of the names, which are not listed themselves.
    pub salts: bool,
}

impl Member {
    /// Its name that fits a written one, as it is spelled here; the written one where it only
    /// begins as a name of the list.
    pub fn named(&self, written: &Inci) -> Option<Arc<str>> {
        if self.salts {
            return None;
        }
        self.names
            .iter()
            .find_map(|name| match name.strip_suffix('*') {
                None => written.is(name).then(|| name.clone()),
                Some(prefix) => (written.begins_with(prefix)).then(|| written.shared().clone()),
            })
    }
}

/// A wording the label must carry.
#[derive(Clone, PartialEq, Debug)]
pub struct Wording {
    /// The words.
    pub text: Arc<str>,
    /// Only above this amount.
    pub above: Option<MassFraction>,
    /// Only for these products.
    pub when: Scope,
}

/// The pH a limit asks for; ends included.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct PhWindow {
    /// Lowest.
    pub low: Option<f64>,
    /// Highest.
    pub high: Option<f64>,
}

impl fmt::Display for PhWindow {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match (self.low, self.high) {
            (Some(low), Some(high)) => write!(f, "pH {low} to {high}"),
            (Some(low), None) => write!(f, "pH {low} or above"),
            (None, Some(high)) => write!(f, "pH {high} or below"),
            (None, None) => f.write_str("any pH"),
        }
    }
}

/// One limit of an entry: for which products, how much, on which days.
#[derive(Clone, PartialEq, Debug)]
pub struct Tier {
    /// For which products.
    pub scope: Scope,
    /// The most, as a share of the product as sold; none if no figure is set.
    pub max: Option<MassFraction>,
    /// The substances of which [`Self::max`] is a share, by name and number; empty if it is one of
    /// the product.
    pub part_of: Vec<(Arc<str>, Cas)>,
    /// Whether the figure itself is already too much.
    pub below: bool,
    /// Counted as which substance: an index of [`super::equivalents::Equivalents`].
    pub expressed: Option<u16>,
    /// For each family of members, not for their sum.
    pub each: bool,
    /// pH of the product.
    pub ph: Option<PhWindow>,
    /// First day of placing on the market on which it binds.
    pub from: Option<Date>,
    /// Last day.
    pub until: Option<Date>,
    /// The markets of its list in which it binds; empty if all.
    pub binds: Vec<Market>,
    /// Wordings that come with it.
    pub label: Vec<Wording>,
}

impl Tier {
    /// No limit, for every product.
    pub const fn plain() -> Self {
        Self {
            scope: Scope::All,
            max: None,
            part_of: Vec::new(),
            below: false,
            expressed: None,
            each: false,
            ph: None,
            from: None,
            until: None,
            binds: Vec::new(),
            label: Vec::new(),
        }
    }
    /// Whether it binds where a product is sold.
    pub fn binds_in(&self, product: &Product) -> bool {
        self.binds.is_empty() || self.binds.iter().any(|m| product.markets.contains(m))
    }
    /// Whether it binds on a day: not yet, now, no more.
    pub fn binds_on(&self, day: Date) -> bool {
        self.from.is_none_or(|d| d <= day) && self.until.is_none_or(|d| day <= d)
    }
    /// Whether it only binds later.
    pub fn comes_after(&self, day: Date) -> bool {
        self.from.is_some_and(|d| day < d)
    }
}

/// An entry whose substances must not meet those of another.
#[derive(Clone, PartialEq, Debug)]
pub struct KeptApart {
    /// Its rule, for example `EU III/17`.
    pub rule: Arc<str>,
    /// Why.
    pub why: Arc<str>,
    /// How grave their meeting is at most.
    pub level: Level,
}

/// A condition in words, shown in the products it speaks of.
#[derive(Clone, PartialEq, Debug)]
pub struct Remark {
    /// The words.
    pub text: Arc<str>,
    /// In which products it says anything.
    pub when: Scope,
}

/// The duty to name a fragrance allergen in the ingredient list.
#[derive(Clone, PartialEq, Debug)]
pub struct Allergen {
    /// The name in the list; one name may stand for a group.
    pub name: Arc<str>,
    /// First day of placing on the market on which it must be named; none if it always had to.
    pub from: Option<Date>,
    /// First day on which every product on the shelf of a shop must comply.
    pub making_available: Option<Date>,
    /// The markets of its list in which it must be named; empty if all.
    pub binds: Vec<Market>,
}

/// One entry.
#[derive(Clone, PartialEq, Debug)]
pub struct ListEntry {
    /// Which of the book's lists it belongs to.
    pub set: u16,
    /// Number in the list, for example `29` or `12a`.
    pub number: Arc<str>,
    /// Name of the rule, for example `EU V/29`.
    pub rule: Arc<str>,
    /// What it is about.
    pub name: Arc<str>,
    /// What it matches.
    pub members: Vec<Member>,
    /// For which purpose of the substance.
    pub purpose: RuledPurpose,
    /// Prohibited in these products.
    pub prohibited: Option<Scope>,
    /// Limits.
    pub tiers: Vec<Tier>,
    /// Products in which the substance must not be.
    pub never: Vec<Scope>,
    /// Entries whose substances must not be there as well.
    pub apart: Vec<KeptApart>,
    /// Wordings that always come with the entry.
    pub label: Vec<Wording>,
    /// What the engine cannot decide, to be read.
    pub read: Vec<Remark>,
    /// Rules of the entries that allow what this one prohibits, for the uses they name.
    pub except: Vec<Arc<str>>,
    /// Rules of the entries whose raw materials may bring in traces of what this one prohibits,
    /// up to the purity that they state.
    pub traces_of: Vec<Arc<str>>,
    /// It binds only where this substance is in the product as well.
    pub if_present: Option<Cas>,
    /// Whether its list of products leaves others free, rather than closed to the substance.
    pub open: bool,
    /// Whether what a plant brings in is judged by the limits and not by the prohibition.
    pub natural: bool,
    /// The markets of its list in which it binds; empty if all.
    pub binds: Vec<Market>,
    /// The document of this entry alone, if it is another than that of the list.
    pub cite: Option<Arc<str>>,
    /// The duty to name it as an allergen.
    pub allergen: Option<Allergen>,
    /// First day of placing on the market on which the entry binds.
    pub from: Option<Date>,
    /// Kept for its number only.
    pub deleted: bool,
    /// Not an entry of the text: a sum over several, or a note.
    pub joint: bool,
    /// About the product, whatever is in it.
    pub product: bool,
    /// Of a rule about the product: it does not bind where something serves this purpose.
    pub unless: Option<RuledPurpose>,
    /// Whether its row was seen in the source; otherwise it is from general knowledge.
    pub seen: bool,
    /// How grave going against it is.
    pub level: Level,
}

impl ListEntry {
    /// For each limit of the markets of a product, whether it speaks of the product; days are not
    /// looked at.
    pub fn truths(&self, product: &Product) -> impl Iterator<Item = (&Tier, Truth)> {
        let other = self.tiers.iter().any(|t| t.scope == Scope::Other).then(|| {
            self.tiers
                .iter()
                .filter(|t| t.scope != Scope::Other && t.binds_in(product))
                .map(|t| t.scope.holds(product))
                .max()
                .map_or(Truth::Yes, Truth::negated)
        });
        let here = self.tiers.iter().filter(|t| t.binds_in(product));
        here.map(move |t| {
            let truth = match (&t.scope, other) {
                (Scope::Other, Some(truth)) => truth,
                (scope, _) => scope.holds(product),
            };
            (t, truth)
        })
    }

    /// The product as each type that it can be and that the limits tell apart; the product
    /// itself if it states its type.
    pub fn cases(&self, product: &Product) -> Vec<Product> {
        if product.product_type.is_some() {
            return vec![product.clone()];
        }
        let mut types = Vec::new();
        for tier in &self.tiers {
            tier.scope.types(&mut types);
        }
        types.retain(|&t| is_type(product, t) != Truth::No);
        types.push(ProductType::Unlisted);
        let case = |t| Product {
            product_type: Some(t),
            ..product.clone()
        };
        types.into_iter().map(case).collect()
    }

    /// Where the text names the salts of its substances with them, what a database files under
    /// it and is such a salt by its name is named by the text.
    pub(crate) fn take_in_salts(&mut self, salts: &SaltNames) {
        if !["its salts", "their salts"]
            .iter()
            .any(|words| name_contains(&self.name, words))
        {
            return;
        }
        let (sure, mut filed): (Vec<&mut Member>, Vec<_>) =
            self.members.iter_mut().partition(|m| m.sure);
        for member in &mut filed {
            for name in &member.names {
                salts.bases(name, |base| {
                    let mut named = sure.iter().flat_map(|m| &m.names);
                    member.sure |= named.any(|name| base.is(name));
                });
            }
        }
    }

    /// The number without letters behind it: entries 8a and 8b are parts of entry 8. Empty if
    /// it is no such number.
    pub fn base_number(&self) -> &str {
        let base = self
            .number
            .trim_end_matches(|c: char| c.is_ascii_alphabetic());
        if base.bytes().all(|b| b.is_ascii_digit()) {
            base
        } else {
            ""
        }
    }

    /// Whether its limits leave no product out.
    pub fn covers_all(&self) -> bool {
        self.tiers
            .iter()
            .any(|t| matches!(t.scope, Scope::Other | Scope::All))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_limit_binds_on_its_first_and_on_its_last_day() {
        let day = |text: &str| text.parse::<Date>().unwrap();
        let tier = Tier {
            from: Some(day("2025-02-01")),
            until: Some(day("2026-12-31")),
            ..Tier::plain()
        };
        for (when, binds, later) in [
            ("2025-01-31", false, true),
            ("2025-02-01", true, false),
            ("2026-12-31", true, false),
            ("2027-01-01", false, false),
        ] {
            assert_eq!(tier.binds_on(day(when)), binds, "{when}");
            assert_eq!(tier.comes_after(day(when)), later, "{when}");
        }
    }

    #[test]
    fn no_day_lies_between_an_old_limit_and_the_new_one() {
        // Every entry of the book that changes: what ends one day begins again the next.
        let book = crate::rules::RuleBook::built_in().unwrap();
        let mut changes = 0;
        for entry in book.entries() {
            for old in entry.tiers.iter().filter_map(|t| t.until) {
                let next = old.tomorrow().unwrap();
                let begins = entry.tiers.iter().any(|t| t.from == Some(next));
                let ends_all = entry.tiers.iter().any(|t| t.binds_on(next));
                assert!(begins || ends_all, "{}: {old}", entry.rule);
                changes += 1;
            }
        }
        assert!(changes >= 3, "{changes}");
    }
}
