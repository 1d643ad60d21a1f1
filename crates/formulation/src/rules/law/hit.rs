//! The constituents of a formula that entries of the book match.

use std::ops::Deref;
use std::sync::Arc;

use super::words::listed;
use crate::cas::Cas;
use crate::inci::Inci;
use crate::material::{Class, Material, Role};
use crate::mixture::Contribution;
use crate::purpose::{Purpose, PurposeGround, Served, possible};
use crate::quantity::MassFraction;
use crate::rules::book::RuleBook;
use crate::rules::entry::{ListEntry, Member, RuledPurpose};
use crate::rules::scope::Truth;

/// A constituent that an entry matches: what it brings in, and how it was matched.
#[derive(Clone, Copy)]
pub(super) struct Hit<'a> {
    pub(super) entry: u32,
    pub(super) member: u16,
    /// Whether the entry speaks of every material of a role, of which this is the largest part.
    by_role: bool,
    /// Whether it filters UV light, by its material or its product, unless the maker says
    /// what it is for.
    filters_uv: bool,
    of: &'a Contribution,
}

impl Deref for Hit<'_> {
    type Target = Contribution;

    fn deref(&self) -> &Contribution {
        self.of
    }
}

/// A colorant in a line, and which lists know it.
pub(super) struct ColourUse<'a> {
    pub(super) inci: &'a Inci,
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
    /// Whether it is this contribution that is matched.
    pub(super) fn is_of(&self, contribution: &Contribution) -> bool {
        std::ptr::eq(self.of, contribution)
    }
    /// Whether there is any of it.
    pub(super) fn present(&self) -> bool {
        self.as_declared.high > MassFraction::ZERO
    }
    /// Whether it is no ingredient but comes with one.
    pub(super) fn comes_along(&self) -> bool {
        self.incidental.is_some() && !self.by_role
    }
    /// Whether it is there because a plant or a blend brings it in.
    pub(super) fn natural(&self) -> bool {
        self.comes_along() || self.material.constituents.len() > 1
    }
}

impl<'a> Gathering<'a> {
    /// Adds what the entries match of what a line brings in: a contribution for each
    /// constituent of its material.
    pub(super) fn add_line(&mut self, of_line: &'a [Contribution]) {
        let share = |c: &Contribution| c.by_component.typical.value();
        let solids = of_line.iter().filter(|c| c.class != Class::Water);
        let largest = of_line.iter().max_by(|a, b| share(a).total_cmp(&share(b)));
        let Some(first) = of_line.first() else {
            return;
        };
        for c in solids.clone() {
            if largest.is_some_and(|l| l.inci.same_as(&c.inci)) {
                self.by_role(c);
            }
        }
        let begin = self.hits.len();
        self.by_name(&first.material, of_line);
        for c in solids {
            if colours(c.served, c.class) && c.as_declared.high > MassFraction::ZERO {
                let lists = self.hits.get(begin..).unwrap_or_default().iter();
                let of_it = lists.filter(|h| std::ptr::eq(h.of, c));
                self.colours.push(ColourUse {
                    inci: &c.inci,
                    line: c.place,
                    stated: c.served.ground == PurposeGround::Stated,
                    listed: of_it
                        .filter_map(|h| self.book.entries().get(h.entry as usize).map(|e| e.set))
                        .collect(),
                });
            }
        }
    }

    /// Adds what the entries match by name or number.
    fn by_name(&mut self, material: &'a Arc<Material>, of_line: &'a [Contribution]) {
        let (book, applies) = (self.book, self.applies);
        // A pigment or powder that can filter light may be here for something else.
        let also = [Purpose::Colorant, Purpose::Opacifier, Purpose::Absorbent];
        let only_filters = || !possible(material).any(|p| also.contains(&p));
        let filters_uv = self.sun_care || material.has_role(Role::UvFilter) && only_filters();
        book.matches_in(material, |place, e, m| {
            let Some(c) = of_line.get(place).filter(|c| c.class != Class::Water) else {
                return;
            };
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
                by_role: false,
                filters_uv,
                of: c,
            });
        });
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
                by_role: true,
                filters_uv: false,
                of: c,
            });
        });
    }
}

pub(super) fn is_nano(inci: &Inci) -> bool {
    inci.has("nano")
}

/// Whether something is there to colour: as the maker says, else by its class.
pub(super) fn colours(served: Served, class: Class) -> bool {
    match served.ground {
        PurposeGround::Stated => served.purpose == Purpose::Colorant,
        PurposeGround::Likely | PurposeGround::Only => class == Class::Colour,
    }
}

/// Whether a constituent is there for the purpose an entry speaks of.
pub(super) fn serves(purpose: RuledPurpose, hit: &Hit) -> Truth {
    let scented =
        || hit.material.has_role(Role::Fragrance) || hit.material.has_role(Role::EssentialOil);
    let stated = hit.served.ground == PurposeGround::Stated;
    let is = |wanted: Purpose| hit.served.purpose == wanted;
    // Where it is not known to serve the purpose it may still do so.
    let perhaps = |serves| if serves { Truth::Yes } else { Truth::Maybe };
    match purpose {
        RuledPurpose::Any | RuledPurpose::HairDye => Truth::Yes,
        RuledPurpose::Other => Truth::of(!is(Purpose::Preservative) && !hit.in_preservative),
        RuledPurpose::Colour => Truth::of(colours(hit.served, hit.class)),
        RuledPurpose::Preservative if stated => Truth::of(is(Purpose::Preservative)),
        RuledPurpose::UvFilter if stated => Truth::of(is(Purpose::UvFilter)),
        RuledPurpose::Fragrance if stated => Truth::of(is(Purpose::Fragrance)),
        RuledPurpose::Preservative => {
            let surely = is(Purpose::Preservative) && hit.served.ground != PurposeGround::Likely;
            perhaps(surely || hit.in_preservative)
        }
        RuledPurpose::UvFilter => perhaps(hit.filters_uv),
        RuledPurpose::Fragrance => perhaps(hit.class == Class::Fragrance || scented()),
    }
}

/// Whether something is likely a preservative although its material can be another thing
/// and its level is above what preserving needs.
pub(super) fn likely_preserves(hit: &Hit) -> bool {
    hit.served.purpose == Purpose::Preservative && hit.served.ground == PurposeGround::Likely
}

/// The member of an entry that a constituent is.
pub(super) fn member_of<'e>(entry: &'e ListEntry, hit: &Hit) -> Option<&'e Member> {
    entry.members.get(usize::from(hit.member))
}

pub(super) fn member_sure(entry: &ListEntry, hit: &Hit) -> bool {
    member_of(entry, hit).is_some_and(|m| m.sure)
}

pub(super) fn member_family(entry: &ListEntry, hit: &Hit) -> u32 {
    member_of(entry, hit).map_or(0, |m| m.family)
}

/// Whether a constituent certainly counts towards a limit of an entry.
pub(super) fn counts(entry: &ListEntry, hit: &Hit) -> bool {
    member_sure(entry, hit) && serves(entry.purpose, hit) == Truth::Yes
}

/// The names of what is there, each once.
pub(super) fn named<'h>(hits: &'h [Hit]) -> Vec<&'h Inci> {
    let mut seen: Vec<&Inci> = Vec::with_capacity(hits.len());
    for hit in hits.iter().filter(|h| h.present()) {
        if !seen.iter().any(|s| s.same_as(&hit.inci)) {
            seen.push(&hit.inci);
        }
    }
    seen
}

/// The same in one text.
pub(super) fn names(hits: &[Hit]) -> String {
    listed(named(hits).into_iter().map(Inci::spelling))
}
