//! Legal and supplier limits as demands on the lines.
//!
//! Limits of suppliers and doses of preservatives stand in the materials. Those of law
//! are taken from the evaluation as the sums over lines that they are, so that lines
//! that bring in the same substance share one limit.

use std::sync::Arc;

use crate::formula::ItemId;
use crate::purpose::Purpose;
use crate::quantity::Percent;
use crate::rules::law::Ceiling;
use crate::rules::practice::id;
use crate::served::Setting;

use super::demand::{Demand, DemandOrigin, FigureStyle, LimitKey};
use super::subject::{LinearRatio, Subject};

/// All limits that bind the lines of a formula, each as one demand.
pub fn limits(subject: &Subject<'_>) -> Vec<Demand> {
    let mut demands = of_materials(subject);
    demands.extend(of_rules(subject));
    demands
}

/// Limits that stand in the materials, over all lines of each material.
fn of_materials(subject: &Subject<'_>) -> Vec<Demand> {
    let unknowns = subject.unknowns();
    let kinds = subject.variant().product.kinds;
    let setting = Setting::of(subject.formula(), subject.variant());
    let mut demands = Vec::new();
    for (i, unknown) in unknowns.iter().enumerate() {
        let Some(material) = &unknown.material else {
            continue;
        };
        let same =
            |u: &super::subject::Unknown| u.material.as_ref().is_some_and(|m| m.id == material.id);
        if unknowns.iter().position(same) != Some(i) {
            continue;
        }
        let lines: Vec<ItemId> = unknowns
            .iter()
            .filter(|u| same(u))
            .map(|u| u.line)
            .collect();
        let weights: Vec<f64> = unknowns
            .iter()
            .map(|u| f64::from(u8::from(same(u))))
            .collect();
        // A dose binds only where the material is there to preserve.
        let preserves = subject
            .variant()
            .lines()
            .filter(|(_, l)| lines.contains(&l.id))
            .any(|(_, l)| setting.purpose(l, material).purpose == Purpose::Preservative);
        let present: Percent = unknowns.iter().filter(|u| same(u)).map(|u| u.present).sum();
        let mut add = |rule: &str, low: f64, high: f64, words: String| {
            demands.push(Demand {
                origin: DemandOrigin::Limit(LimitKey {
                    rule: rule.into(),
                    lines: lines.clone(),
                }),
                words,
                name: unknown.name.to_string(),
                form: LinearRatio::sum(weights.clone()),
                low,
                high,
                figure: FigureStyle::PERCENT,
            });
        };
        let name = &unknown.name;
        if let Some(range) = material.supplier_maximum(kinds) {
            let most = range.high;
            add(
                id::OVER_SUPPLIER_MAXIMUM,
                f64::NEG_INFINITY,
                most.as_percent(),
                format!("at most {most} % {name} (the supplier's maximum)"),
            );
        }
        if let Some(preservation) = material.preservation.as_ref().filter(|_| preserves) {
            let (low, high) = (preservation.dose_low, preservation.dose_high);
            add(
                id::PRESERVATIVE_OVER_DOSE,
                f64::NEG_INFINITY,
                high.as_percent(),
                format!("at most {high} % {name} (highest dose of the preservative)"),
            );
            // A preservative below its dose at present is a finding, not a demand:
            // raising it is the maker's decision.
            if present >= low {
                add(
                    id::PRESERVATIVE_UNDER_DOSE,
                    low.as_percent(),
                    f64::INFINITY,
                    format!("at least {low} % {name} (lowest dose of the preservative)"),
                );
            }
        }
    }
    demands
}

/// Limits that rules set: those of law as the sums over lines that they are, and any
/// other that the evaluation states for single lines.
fn of_rules(subject: &Subject<'_>) -> Vec<Demand> {
    // Next to nothing of every line, so that no line's room depends on another's.
    let evaluation = subject.evaluate_at(&vec![Percent::STEP; subject.len()]);
    let place = |line: ItemId| subject.unknowns().iter().position(|u| u.line == line);
    let mut demands: Vec<Demand> = Vec::new();
    let mut add = |rule: &Arc<str>, shares: &[(ItemId, f64)], high: f64, what: &str| {
        let mut weights = vec![0.0; subject.len()];
        for &(line, share) in shares {
            if let Some(weight) = place(line).and_then(|i| weights.get_mut(i)) {
                *weight += share;
            }
        }
        let bound = || {
            subject
                .unknowns()
                .iter()
                .zip(&weights)
                .filter(|(_, w)| **w > 0.0)
        };
        let lines: Vec<ItemId> = bound().map(|(u, _)| u.line).collect();
        let names: Vec<&str> = bound().map(|(u, _)| &*u.name).collect();
        if lines.is_empty() {
            return;
        }
        let words = match names.as_slice() {
            [name] => {
                let share = weights.iter().copied().fold(0.0, f64::max);
                format!("at most {} {name} ({rule})", fine(high / share))
            }
            names => format!(
                "at most {} {what} from {} ({rule})",
                fine(high),
                join(names)
            ),
        };
        let origin = DemandOrigin::Limit(LimitKey {
            rule: rule.clone(),
            lines,
        });
        // One rule may limit the same lines more than once; the lowest binds.
        let same = demands
            .iter_mut()
            .find(|d| d.origin == origin && d.form.top == weights);
        match same {
            Some(demand) if demand.high <= high => {}
            Some(demand) => {
                demand.high = high;
                demand.words = words;
            }
            None => demands.push(Demand {
                origin,
                words,
                name: what.to_owned(),
                form: LinearRatio::sum(weights),
                low: f64::NEG_INFINITY,
                high,
                figure: FigureStyle::PERCENT,
            }),
        }
    };
    for ceiling in &evaluation.ceilings {
        let high = ceiling.max.as_percent();
        add(
            &ceiling.rule,
            &ceiling.shares,
            high,
            ceiling.inci.spelling(),
        );
    }
    for limit in &evaluation.limits {
        let of_law = |c: &Ceiling| {
            c.rule == limit.rule && c.shares.iter().any(|(line, _)| *line == limit.line)
        };
        if id::OF_MATERIALS.contains(&&*limit.rule) || evaluation.ceilings.iter().any(of_law) {
            continue;
        }
        if let Some(unknown) = place(limit.line).and_then(|i| subject.unknowns().get(i)) {
            let high = limit.most.as_percent();
            add(&limit.rule, &[(limit.line, 1.0)], high, &unknown.name);
        }
    }
    demands
}

/// A percentage to four digits, as legal limits of traces need them.
fn fine(percent: f64) -> String {
    FigureStyle::up_to(4, "%").write(percent)
}

/// “a”, “a and b”, “a, b and c”.
pub(crate) fn join(names: &[impl AsRef<str>]) -> String {
    match names {
        [] => String::new(),
        [one] => one.as_ref().to_owned(),
        [first @ .., last] => {
            let first: Vec<&str> = first.iter().map(AsRef::as_ref).collect();
            format!("{} and {}", first.join(", "), last.as_ref())
        }
    }
}
