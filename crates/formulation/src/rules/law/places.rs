//! A product for several places of use is held against the rules of each: the strictest
//! binds, and the finding says for which place.

use std::fmt::Write as _;

use crate::finding::{Finding, Limit};
use crate::formula::{Place, Product};
use crate::rules::entry::Entry;
use crate::rules::scope::{Scope, Truth};

use super::{Check, Demand};

/// The product as one of each of its places alone; empty where it has at most one.
pub(super) struct Views(Vec<(Place, Product)>);

impl Views {
    pub(super) fn of(product: &Product) -> Self {
        let mut views: Vec<(Place, Product)> = Vec::new();
        if product.places.len() > 1 {
            for &place in &product.places {
                if views.iter().all(|(known, _)| *known != place) {
                    let alone = Product {
                        places: vec![place],
                        ..product.clone()
                    };
                    views.push((place, alone));
                }
            }
        }
        if views.len() == 1 {
            views.clear();
        }
        Self(views)
    }

    /// Views that an entry tells apart, each with the places it stands for.
    fn told_apart(&self, entries: &[&Entry]) -> Vec<(Vec<Place>, &Product)> {
        let mut kinds: Vec<(Vec<Truth>, Vec<Place>, &Product)> = Vec::new();
        for (place, product) in &self.0 {
            let truths: Vec<Truth> = entries.iter().flat_map(|e| truths(e, product)).collect();
            match kinds.iter_mut().find(|(known, ..)| *known == truths) {
                Some((_, places, _)) => places.push(*place),
                None => kinds.push((truths, vec![*place], product)),
            }
        }
        kinds.into_iter().map(|(_, p, view)| (p, view)).collect()
    }
}

/// Everything an entry asks of a product, answered.
fn truths(entry: &Entry, product: &Product) -> Vec<Truth> {
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
    /// Holds an entry, or several that decide together, against the product at each place of
    /// use.
    pub(super) fn at_each_place_of(&mut self, entries: &[&Entry], mut hold: impl FnMut(&mut Self)) {
        let views = self.views;
        let apart = if views.0.is_empty() {
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
        let mut said: Vec<(Vec<Place>, Finding)> = Vec::new();
        for (places, view) in &apart {
            self.product = view;
            hold(self);
            for finding in self.law.findings.split_off(first) {
                match said.iter_mut().find(|(_, known)| *known == finding) {
                    Some((known, _)) => known.extend(places),
                    None => said.push((places.clone(), finding)),
                }
            }
        }
        self.product = whole;
        keep_once(&mut self.law.demands, demands);
        let all = views.0.len();
        for index in 0..said.len() {
            let Some((places, finding)) = said.get(index) else {
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
            if places.len() < all {
                let names: Vec<&str> = places.iter().map(|p| p.label()).collect();
                // Writing to a string never fails.
                let _ = write!(
                    finding.message,
                    " (it binds as the product is for the {})",
                    names.join(", ")
                );
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

/// Demands made once for each place are kept once, the most certain of each.
fn keep_once(demands: &mut Vec<Demand>, first: usize) {
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
