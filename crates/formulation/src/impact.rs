//! What a change of the shelf would do to saved formulas, before it is made.
//!
//! A formula carries its materials as they were when it took them, so a change of
//! the shelf alone alters none. What is told here is what would follow if the formula
//! took the changed material over.

use std::sync::Arc;

use crate::evaluation::{Context, Evaluation, evaluate};
use crate::finding::Finding;
use crate::formula::Formula;
use crate::material::{Class, Material, MaterialId};
use crate::quantity::Spread;

/// A number that would change.
#[derive(Clone, PartialEq, Debug)]
pub struct ImpactShift {
    /// What, in words.
    pub what: &'static str,
    /// Share of the formula before.
    pub before: Spread,
    /// Share of the formula after.
    pub after: Spread,
}

/// What a changed material does to one variant of a formula.
#[derive(Clone, PartialEq, Debug)]
pub struct Impact {
    /// Name of the variant.
    pub variant: Arc<str>,
    /// Findings that would come up.
    pub new: Vec<Finding>,
    /// Findings that would go.
    pub gone: Vec<Finding>,
    /// Classes of the composition that would change.
    pub shifts: Vec<ImpactShift>,
}

impl Impact {
    /// Whether nothing that is checked here would change.
    pub fn is_none(&self) -> bool {
        self.new.is_empty() && self.gone.is_empty() && self.shifts.is_empty()
    }
}

/// Whether any variant of a formula has a line of the material.
pub fn uses(formula: &Formula, material: &MaterialId) -> bool {
    formula
        .variants
        .iter()
        .any(|v| v.lines().any(|(_, l)| l.material == *material))
}

/// What taking over a changed material would do to each variant that is not put
/// away and has a line of it.
pub fn impacts(formula: &Formula, changed: &Arc<Material>, context: &Context) -> Vec<Impact> {
    let mut with_change = formula.clone();
    with_change
        .materials
        .insert(changed.id.clone(), Arc::clone(changed));
    formula
        .variants
        .iter()
        .filter(|v| !v.archived && v.lines().any(|(_, l)| l.material == changed.id))
        .map(|variant| {
            let before = evaluate(formula, variant, context);
            let after = evaluate(&with_change, variant, context);
            Impact {
                variant: variant.name.clone(),
                new: missing_in(&before, &after),
                gone: missing_in(&after, &before),
                shifts: shifts(&before, &after),
            }
        })
        .collect()
}

/// Findings of `of` that `known` does not have.
fn missing_in(known: &Evaluation, of: &Evaluation) -> Vec<Finding> {
    of.findings
        .iter()
        .filter(|f| !known.findings.contains(f))
        .cloned()
        .collect()
}

fn shifts(before: &Evaluation, after: &Evaluation) -> Vec<ImpactShift> {
    // Less than a thousandth of a percent of the formula shows nowhere.
    let differs = |a: Spread, b: Spread| {
        [(a.low, b.low), (a.typical, b.typical), (a.high, b.high)]
            .iter()
            .any(|(a, b)| (a.value() - b.value()).abs() > 1e-5)
    };
    let unknown = |e: &Evaluation| Spread::exact(e.composition.unknown);
    Class::ALL
        .iter()
        .map(|&class| ImpactShift {
            what: class.label(),
            before: before.composition.class(class),
            after: after.composition.class(class),
        })
        .chain([ImpactShift {
            what: "of unknown composition",
            before: unknown(before),
            after: unknown(after),
        }])
        .filter(|s| differs(s.before, s.after))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixture;
    use crate::formula::Date;

    fn context() -> Context {
        Context::new(Date::constant(2026, 5, 1))
    }

    #[test]
    fn shifts_of_the_composition_are_told() {
        let old = fixture::material(
            "Gel",
            &[
                ("Aqua", 70.0, Class::Water),
                ("Glycerin", 30.0, Class::Humectant),
            ],
        );
        let new = fixture::material(
            "Gel",
            &[
                ("Aqua", 60.0, Class::Water),
                ("Glycerin", 40.0, Class::Humectant),
            ],
        );
        let water = fixture::material("Water", &[("Aqua", 100.0, Class::Water)]);
        let formula =
            fixture::formula(vec![fixture::line(&old, "50"), fixture::line(&water, "50")]);
        assert!(uses(&formula, &old.id));
        let impact = &impacts(&formula, &new, &context())[0];
        let told: Vec<(&str, f64, f64)> = impact
            .shifts
            .iter()
            .map(|s| {
                (
                    s.what,
                    s.before.typical.as_percent().round(),
                    s.after.typical.as_percent().round(),
                )
            })
            .collect();
        assert_eq!(told, [("water", 85.0, 80.0), ("humectant", 15.0, 20.0)]);
        assert!(impacts(&formula, &old, &context())[0].is_none());
        let other = fixture::material("Salt", &[]);
        assert!(!uses(&formula, &other.id));
        assert!(impacts(&formula, &other, &context()).is_empty());
    }

    #[test]
    fn findings_that_come_and_go_are_told() {
        let known = fixture::material("Gel", &[("Aqua", 100.0, Class::Water)]);
        let unknown = fixture::material("Gel", &[("Aqua", 40.0, Class::Water)]);
        let formula = fixture::formula(vec![fixture::line(&known, "100")]);
        let impact = &impacts(&formula, &unknown, &context())[0];
        let back = {
            let mut formula = formula.clone();
            formula
                .materials
                .insert(unknown.id.clone(), unknown.clone());
            impacts(&formula, &known, &context()).remove(0)
        };
        assert_eq!(impact.new, back.gone);
        assert_eq!(impact.gone, back.new);
        assert!(
            impact
                .shifts
                .iter()
                .any(|s| s.what == "of unknown composition")
        );
    }
}
