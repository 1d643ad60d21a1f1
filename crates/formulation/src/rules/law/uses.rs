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

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::finding::{FindingValue, Level};
    use crate::formula::ItemId;
    use crate::material::{Basis, Source};
    use crate::quantity::MassFraction;

    fn of(kinds: Kinds, places: &[BodySite]) -> Views {
        Views::of(&Product {
            kinds,
            places: places.to_vec(),
            ..Product::default()
        })
    }

    #[test]
    fn a_product_of_one_kind_and_place_has_one_use() {
        let once = Kinds::Only(ProductKind::LeaveOn);
        assert!(of(once, &[BodySite::Face]).is_single());
        assert!(of(once, &[BodySite::Face, BodySite::Face]).is_single());
        assert!(of(once, &[]).is_single());
        assert_eq!(of(once, &[BodySite::Face, BodySite::Body]).0.len(), 2);
        assert_eq!(of(Kinds::Both, &[BodySite::Face]).0.len(), 2);
        assert_eq!(
            of(Kinds::Both, &[BodySite::Face, BodySite::Body]).0.len(),
            4
        );
    }

    #[test]
    fn uses_are_told_as_shortly_as_they_are_told_apart() {
        let (off, on) = (ProductKind::RinseOff, ProductKind::LeaveOn);
        let (face, body) = (Some(BodySite::Face), Some(BodySite::Body));
        let views = of(Kinds::Both, &[BodySite::Face, BodySite::Body]);
        let words = |uses: &[(ProductKind, Option<BodySite>)]| {
            let uses = uses.iter().map(|&(kind, place)| Use { kind, place });
            views.words(&uses.collect::<Vec<_>>())
        };
        let kind = on.label();
        assert_eq!(words(&[(on, face), (on, body)]), kind);
        let place = BodySite::Face.label();
        assert_eq!(
            words(&[(off, face), (on, face)]),
            format!("for the {place}")
        );
        assert_eq!(words(&[(on, face)]), format!("{kind} for the {place}"));
        let (other, at) = (off.label(), BodySite::Body.label());
        assert_eq!(
            words(&[(on, face), (off, body)]),
            format!("{kind} for the {place} and {other} for the {at}")
        );
        // Of three places two, of one kind alone.
        let three = [BodySite::Face, BodySite::Body, BodySite::Hands];
        let some = [face, body].map(|place| Use { kind: on, place });
        assert_eq!(
            of(Kinds::Both, &three).words(&some),
            format!("{kind} for the {place}, {at}")
        );
    }

    fn finding(level: Level, rule: &str, line: u64, limit: Option<f64>) -> Finding {
        let source = Source::new(Basis::Published, "");
        let finding = Finding::new(level, rule, "words", source).on(vec![ItemId(line)]);
        match limit {
            None => finding,
            Some(percent) => {
                let share = |p| FindingValue::Share(MassFraction::from_percent(p));
                finding.against(share(9.0), Limit::AtMost(share(percent)))
            }
        }
    }

    /// On one matter the graver finding speaks, of two as grave the one with the lower limit, of
    /// two that are equal in both the first.
    #[test]
    fn the_strictest_finding_makes_the_others_idle() {
        let (breach, caution) = (Level::Breach, Level::Caution);
        let one = finding(breach, "EU V/1", 10, Some(0.5));
        let is_stricter = |one: &Finding, other: &Finding| stricter(one, 0, other, 1);
        for idle in [
            finding(breach, "EU V/1", 10, Some(1.0)),
            finding(caution, "EU V/1", 10, Some(0.1)),
            one.clone(),
        ] {
            assert!(is_stricter(&one, &idle), "{idle:?}");
            assert!(!stricter(&idle, 1, &one, 0), "{idle:?}");
        }
        for apart in [
            finding(breach, "EU V/2", 10, Some(1.0)),
            finding(breach, "EU V/1", 11, Some(1.0)),
            finding(caution, "EU V/1", 10, None),
        ] {
            assert!(!is_stricter(&one, &apart), "{apart:?}");
            assert!(!is_stricter(&apart, &one), "{apart:?}");
        }
        // Without limits only what is graver.
        let grave = finding(breach, "EU V/1", 10, None);
        assert!(is_stricter(&grave, &finding(caution, "EU V/1", 10, None)));
        assert!(!is_stricter(&grave, &grave.clone()));
    }

    #[test]
    fn a_demand_of_several_uses_is_kept_once_as_certain_as_it_is() {
        let demand = |rule: &str, text: &str, certain| RequiredWording {
            markets: Vec::new(),
            rule: rule.into(),
            text: text.into(),
            certain,
            condition: String::new(),
            lines: Vec::new(),
            source: Source::new(Basis::Published, ""),
            border: false,
        };
        let kept = |demands: &[RequiredWording], first| {
            let mut demands = demands.to_vec();
            keep_once(&mut demands, first);
            let told = |d: &RequiredWording| (Arc::clone(&d.rule), Arc::clone(&d.text), d.certain);
            demands.iter().map(told).collect::<Vec<_>>()
        };
        let (perhaps, surely) = (
            demand("EU V/1", "Rinse well", Truth::Maybe),
            demand("EU V/1", "Rinse well", Truth::Yes),
        );
        let certain: (Arc<str>, Arc<str>, Truth) =
            ("EU V/1".into(), "Rinse well".into(), Truth::Yes);
        for both in [
            [perhaps.clone(), surely.clone()],
            [surely.clone(), perhaps.clone()],
            [surely.clone(), surely.clone()],
        ] {
            assert_eq!(kept(&both, 0), std::slice::from_ref(&certain));
        }
        // Of two as certain the first stays, with its condition.
        let if_it = |condition: &str| RequiredWording {
            condition: condition.to_owned(),
            ..perhaps.clone()
        };
        let mut both = vec![if_it("if it foams"), if_it("if it is sprayed")];
        keep_once(&mut both, 0);
        assert_eq!(both, [if_it("if it foams")]);
        // Of another rule or in other words it is another one; so is what was there before.
        for other in [
            demand("EU V/2", "Rinse well", Truth::Yes),
            demand("EU V/1", "Keep away from eyes", Truth::Yes),
        ] {
            assert_eq!(kept(&[surely.clone(), other], 0).len(), 2);
        }
        assert_eq!(kept(&[perhaps, surely], 1).len(), 2);
    }
}
