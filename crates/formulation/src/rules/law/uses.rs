//! A product of several uses, washed off and left on, or for several places, is held against the
//! rules of each: the strictest binds, and the finding says for which use.

use std::fmt::Write as _;

use crate::finding::{Finding, Limit};
use crate::formula::{BodySite, Kinds, Product};
use crate::material::ProductKind;
use crate::rules::entry::ListEntry;
use crate::rules::scope::{Scope, Truth};

use super::{Check, RequiredWording};

/// One use of a product: of one kind, on one place.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) struct Use {
    kind: ProductKind,
    /// None where the product states no place.
    place: Option<BodySite>,
}

/// The product as one of each of its uses alone; empty where it has one only.
pub(super) struct Views(Vec<(Use, Product)>);

impl Views {
    pub(super) fn of(product: &Product) -> Self {
        let mut places: Vec<Option<BodySite>> = Vec::new();
        for &place in &product.places {
            if !places.contains(&Some(place)) {
                places.push(Some(place));
            }
        }
        if places.is_empty() {
            places.push(None);
        }
        if places.len() == 1 && product.kinds.iter().count() == 1 {
            return Self(Vec::new());
        }
        let uses = product.kinds.iter().flat_map(|kind| {
            let of_kind = places.iter();
            of_kind.map(move |&place| Use { kind, place })
        });
        let alone = |one: Use| Product {
            kinds: Kinds::Only(one.kind),
            places: one.place.into_iter().collect(),
            ..product.clone()
        };
        Self(uses.map(|one| (one, alone(one))).collect())
    }

    /// Whether the product has one use only.
    pub(super) fn is_single(&self) -> bool {
        self.0.is_empty()
    }

    /// Views that an entry tells apart, each with the uses it stands for.
    fn told_apart(&self, entries: &[&ListEntry]) -> Vec<(Vec<Use>, &Product)> {
        let mut kinds: Vec<(Vec<Truth>, Vec<Use>, &Product)> = Vec::new();
        for (one, product) in &self.0 {
            let truths: Vec<Truth> = entries.iter().flat_map(|e| truths(e, product)).collect();
            match kinds.iter_mut().find(|(known, ..)| *known == truths) {
                Some((_, uses, _)) => uses.push(*one),
                None => kinds.push((truths, vec![*one], product)),
            }
        }
        kinds.into_iter().map(|(_, u, view)| (u, view)).collect()
    }

    /// Which of the uses these are, in words, to stand behind “it binds as the product is”.
    fn words(&self, uses: &[Use]) -> String {
        let mut kinds: Vec<ProductKind> = Vec::new();
        let mut places: Vec<BodySite> = Vec::new();
        for one in uses {
            if !kinds.contains(&one.kind) {
                kinds.push(one.kind);
            }
            places.extend(one.place.filter(|place| !places.contains(place)));
        }
        let labels: Vec<&str> = places.iter().map(|p| p.label()).collect();
        let all = |held: &dyn Fn(&Use) -> bool| {
            self.0.iter().filter(|(one, _)| held(one)).count() == uses.len()
        };
        match kinds.as_slice() {
            // One kind, whatever the place.
            [kind] if all(&|one| one.kind == *kind) => kind.label().to_owned(),
            // Some places, whatever the kind.
            _ if all(&|one| one.place.is_some_and(|p| places.contains(&p))) => {
                format!("for the {}", labels.join(", "))
            }
            [kind] => format!("{} for the {}", kind.label(), labels.join(", ")),
            _ => {
                let each = uses.iter().map(|one| match one.place {
                    Some(place) => format!("{} for the {}", one.kind.label(), place.label()),
                    None => one.kind.label().to_owned(),
                });
                each.collect::<Vec<_>>().join(" and ")
            }
        }
    }
}

/// Everything an entry asks of a product, answered.
fn truths(entry: &ListEntry, product: &Product) -> Vec<Truth> {
    let of = |scope: &Scope| scope.holds(product);
    let mut all: Vec<Truth> = entry.truths(product).map(|(_, truth)| truth).collect();
    all.extend(entry.prohibited.iter().map(of));
    all.extend(entry.never.iter().map(of));
    all.extend(entry.read.iter().map(|r| of(&r.when)));
    let tiers = entry.tiers.iter().flat_map(|t| &t.label);
    all.extend(entry.label.iter().chain(tiers).map(|w| of(&w.when)));
    all
}

impl<'a> Check<'a> {
    /// Holds an entry, or several that decide together, against the product in each of its uses.
    pub(super) fn in_each_use(&mut self, entries: &[&ListEntry], mut hold: impl FnMut(&mut Self)) {
        let views = self.views;
        let apart = if views.is_single() {
            Vec::new()
        } else {
            views.told_apart(entries)
        };
        if apart.len() < 2 {
            hold(self);
            return;
        }
        let whole: &'a Product = self.product;
        let demands = self.law.demands.len();
        let first = self.law.findings.len();
        let mut said: Vec<(Vec<Use>, Finding)> = Vec::new();
        for (uses, view) in &apart {
            self.product = view;
            hold(self);
            for finding in self.law.findings.split_off(first) {
                match said.iter_mut().find(|(_, known)| *known == finding) {
                    Some((known, _)) => known.extend(uses),
                    None => said.push((uses.clone(), finding)),
                }
            }
        }
        self.product = whole;
        keep_once(&mut self.law.demands, demands);
        let all = views.0.len();
        for index in 0..said.len() {
            let Some((uses, finding)) = said.get(index) else {
                continue;
            };
            if said
                .iter()
                .enumerate()
                .any(|(other, (_, f))| other != index && stricter(f, other, finding, index))
            {
                continue;
            }
            let mut finding = finding.clone();
            if uses.len() < all {
                let words = views.words(uses);
                // Writing to a string never fails.
                let _ = write!(finding.message, " (it binds as the product is {words})");
            }
            self.law.findings.push(finding);
        }
    }
}

/// Whether one finding makes another on the same matter idle: graver, or of the same
/// level with a lower limit.
fn stricter(one: &Finding, place: usize, other: &Finding, other_place: usize) -> bool {
    if one.rule != other.rule || one.lines != other.lines {
        return false;
    }
    let limit = |f: &Finding| match f.limit {
        Some(Limit::AtMost(value)) => Some(value.number()),
        _ => None,
    };
    match (limit(one), limit(other)) {
        (Some(a), Some(b)) => (one.level, -a, other_place) > (other.level, -b, place),
        _ => one.level > other.level && one.limit.is_none() && other.limit.is_none(),
    }
}

/// Demands made once for each use are kept once, the most certain of each.
fn keep_once(demands: &mut Vec<RequiredWording>, first: usize) {
    for demand in demands.split_off(first.min(demands.len())) {
        let same = demands
            .iter_mut()
            .skip(first)
            .find(|d| d.rule == demand.rule && d.text == demand.text);
        match same {
            Some(known) if known.certain < demand.certain => *known = demand,
            Some(_) => {}
            None => demands.push(demand),
        }
    }
}
