//! The constituents of a formula that entries of the book match.

use std::sync::Arc;

use super::words::listed;
use crate::cas::Cas;
use crate::material::{Class, Material, Role};
use crate::mixture::Contribution;
use crate::name_hash::holds;
use crate::purpose::{Ground, Purpose as For, Served};
use crate::quantity::{MassFraction, Spread};
use crate::rules::book::RuleBook;
use crate::rules::entry::{Entry, Member, Purpose};
use crate::rules::scope::Truth;

/// A constituent that an entry matches.
#[derive(Clone, Copy)]
pub(super) struct Hit<'a> {
    pub(super) entry: u32,
    pub(super) member: u16,
    pub(super) line: usize,
    pub(super) inci: &'a Arc<str>,
    pub(super) cas: Option<Cas>,
    pub(super) class: Class,
    pub(super) unit: Spread,
    pub(super) amount: Spread,
    pub(super) incidental: bool,
    /// What it is there for, and on what ground.
    pub(super) served: Served,
    /// Whether it filters UV light, by its material or its product, unless the maker says
    /// what it is for.
    pub(super) filters_uv: bool,
    pub(super) material: &'a Material,
}

/// A colorant in a line, and which lists know it.
pub(super) struct ColourUse<'a> {
    pub(super) inci: &'a Arc<str>,
    pub(super) line: usize,
    pub(super) listed: Vec<u16>,
    /// Whether the maker says that it is there to colour.
    pub(super) stated: bool,
}

/// Gathers what the entries match, line by line.
pub(super) struct Gathering<'a> {
    pub(super) book: &'a RuleBook,
    /// For each list of the book, whether it applies to the product.
    pub(super) applies: &'a [bool],
    /// Whether the product is for sun care.
    pub(super) sun_care: bool,
    /// CAS numbers of the materials of one substance.
    pub(super) singles: Vec<Cas>,
    pub(super) hits: Vec<Hit<'a>>,
    pub(super) colours: Vec<ColourUse<'a>>,
}

impl Hit<'_> {
    /// Whether it is there because a plant or a blend brings it in.
    pub(super) fn natural(&self) -> bool {
        self.incidental || self.material.constituents.len() > 1
    }
}

impl<'a> Gathering<'a> {
    /// Adds what the entries match of what a line brings in.
    pub(super) fn add_line(&mut self, of_line: &'a [Contribution]) {
        let share = |c: &Contribution| c.by_component.typical.value();
        let largest = (of_line.iter()).max_by(|a, b| share(a).total_cmp(&share(b)));
        for c in of_line.iter().filter(|c| c.class != Class::Water) {
            if largest.is_some_and(|l| l.inci == c.inci) {
                self.by_role(c);
            }
            self.add(c);
        }
    }

    /// Adds what the entries match of a contribution.
    fn add(&mut self, c: &'a Contribution) {
        let (book, applies) = (self.book, self.applies);
        let material = &*c.material;
        let first = self.hits.len();
        book.matches_of(c.cas, &c.inci, |e, m| {
            let Some(entry) = book.entries().get(e as usize) else {
                return;
            };
            if !applies.get(usize::from(entry.set)).is_some_and(|&a| a) {
                return;
            }
            let Some(member) = entry.members.get(usize::from(m)) else {
                return;
            };
            // Substances weighed singly may make up a mixture of the law together.
            let brings = |cas| {
                material.constituents.iter().any(|c| c.cas == Some(cas))
                    || (material.constituents.len() == 1 && self.singles.contains(&cas))
            };
            if member.nano && !is_nano(&c.inci)
                || member.beside.is_some_and(|cas| !brings(cas))
                || member.without.is_some_and(brings)
            {
                return;
            }
            self.hits.push(Hit {
                entry: e,
                member: m,
                line: c.place,
                inci: &c.inci,
                cas: c.cas,
                class: c.class,
                unit: c.unit,
                amount: c.as_declared,
                incidental: c.incidental.is_some(),
                served: c.served,
                filters_uv: self.sun_care || material.has_role(Role::UvFilter),
                material,
            });
        });
        if colours(c.served, c.class) && c.as_declared.high > MassFraction::ZERO {
            let lists = self.hits.get(first..).unwrap_or_default().iter();
            self.colours.push(ColourUse {
                inci: &c.inci,
                line: c.place,
                stated: c.served.ground == Ground::Stated,
                listed: lists
                    .filter_map(|h| book.entries().get(h.entry as usize).map(|e| e.set))
                    .collect(),
            });
        }
    }
}

impl<'a> Gathering<'a> {
    /// Entries that speak of every material of a role match its largest part.
    fn by_role(&mut self, c: &'a Contribution) {
        let (book, applies) = (self.book, self.applies);
        let material = &*c.material;
        book.matches_role(|role, e, m| {
            let set = book.entries().get(e as usize).map(|e| usize::from(e.set));
            let wanted = set.is_some_and(|set| applies.get(set).is_some_and(|&a| a));
            if !wanted || !material.has_role(role) {
                return;
            }
            self.hits.push(Hit {
                entry: e,
                member: m,
                line: c.place,
                inci: &c.inci,
                cas: c.cas,
                class: c.class,
                unit: c.unit,
                amount: c.as_declared,
                incidental: false,
                served: c.served,
                filters_uv: false,
                material,
            });
        });
    }
}

fn is_nano(inci: &str) -> bool {
    holds(inci, "nano")
}

/// Whether something is there to colour: as the maker says, else by its class.
pub(super) fn colours(served: Served, class: Class) -> bool {
    match served.ground {
        Ground::Stated => served.purpose == For::Colorant,
        Ground::Likely | Ground::Only => class == Class::Colour,
    }
}

/// Whether a constituent is there for the purpose an entry speaks of.
pub(super) fn serves(purpose: Purpose, hit: &Hit) -> Truth {
    let scented =
        || hit.material.has_role(Role::Fragrance) || hit.material.has_role(Role::EssentialOil);
    let stated = hit.served.ground == Ground::Stated;
    let is = |wanted: For| hit.served.purpose == wanted;
    // Where it is not known to serve the purpose it may still do so.
    let perhaps = |serves| if serves { Truth::Yes } else { Truth::Maybe };
    match purpose {
        Purpose::Any | Purpose::HairDye => Truth::Yes,
        Purpose::Other => Truth::of(!is(For::Preservative)),
        Purpose::Colour => Truth::of(colours(hit.served, hit.class)),
        Purpose::Preservative if stated => Truth::of(is(For::Preservative)),
        Purpose::UvFilter if stated => Truth::of(is(For::UvFilter)),
        Purpose::Fragrance if stated => Truth::of(is(For::Fragrance)),
        Purpose::Preservative => {
            perhaps(is(For::Preservative) && hit.served.ground != Ground::Likely)
        }
        Purpose::UvFilter => perhaps(hit.filters_uv),
        Purpose::Fragrance => perhaps(hit.class == Class::Fragrance || scented()),
    }
}

/// Whether something is likely a preservative although its material can be another thing
/// and its level is above what preserving needs.
pub(super) fn likely_preserves(hit: &Hit) -> bool {
    hit.served.purpose == For::Preservative && hit.served.ground == Ground::Likely
}

/// The member of an entry that a constituent is.
pub(super) fn member_of<'e>(entry: &'e Entry, hit: &Hit) -> Option<&'e Member> {
    entry.members.get(usize::from(hit.member))
}

pub(super) fn member_sure(entry: &Entry, hit: &Hit) -> bool {
    member_of(entry, hit).is_some_and(|m| m.sure)
}

pub(super) fn member_family(entry: &Entry, hit: &Hit) -> u32 {
    member_of(entry, hit).map_or(0, |m| m.family)
}

/// Whether a constituent certainly counts towards a limit of an entry.
pub(super) fn counts(entry: &Entry, hit: &Hit) -> bool {
    member_sure(entry, hit) && serves(entry.purpose, hit) == Truth::Yes
}

pub(super) fn count_names(hits: &[Hit]) -> usize {
    let mut seen: Vec<&str> = Vec::new();
    for hit in hits.iter().filter(|h| h.amount.high > MassFraction::ZERO) {
        if !seen.iter().any(|s| s.eq_ignore_ascii_case(hit.inci)) {
            seen.push(hit.inci);
        }
    }
    seen.len()
}

/// The constituents' names, each once.
pub(super) fn names(hits: &[Hit]) -> String {
    let mut seen: Vec<&str> = Vec::new();
    for hit in hits.iter().filter(|h| h.amount.high > MassFraction::ZERO) {
        if !seen.iter().any(|s| s.eq_ignore_ascii_case(hit.inci)) {
            seen.push(hit.inci);
        }
    }
    listed(seen.into_iter())
}
