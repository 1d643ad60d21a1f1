//! Amounts against the maker's bounds, the supplier's maximum, usual levels and doses.

use super::rule::{Check, Rule, Words, id};
use super::{LineWithMaterial, Scene};
use crate::finding::{FindingSubject, FindingValue, Level, Limit, LineLimit, Remedy};
use crate::formula::{ItemId, Kinds};
use crate::material::{Basis, Role};
use crate::product_type::ProductType;
use crate::quantity::Percent;

/// The bounds that practice sets to single lines.
pub(super) fn line_limits(
    laid: &[LineWithMaterial<'_>],
    kinds: Kinds,
    limits: &mut Vec<LineLimit>,
) {
    for l in laid {
        let mut limit = |most: Percent, rule: &str, message: String| {
            limits.push(LineLimit {
                line: l.line.id,
                most,
                rule: rule.into(),
                message,
            });
        };
        if let Some(max) = l.line.max {
            limit(
                max,
                id::OWN_BOUNDS,
                format!("your own highest level, {max} %"),
            );
        }
        if let Some(range) = l.material.supplier_maximum(kinds) {
            limit(
                range.high,
                id::OVER_SUPPLIER_MAXIMUM,
                format!("supplier's maximum, {} %", range.high),
            );
        }
        if let Some(p) = l.preservation() {
            limit(
                p.dose_high,
                id::PRESERVATIVE_OVER_DOSE,
                format!("highest usual dose, {} %", p.dose_high),
            );
        }
    }
}

fn share(percent: Percent) -> FindingValue {
    FindingValue::Share(percent.fraction())
}

impl Scene<'_> {
    pub(super) fn own_bounds(&mut self, rule: &Rule) {
        let mut found = Vec::new();
        for l in &self.laid {
            let (min, max) = (l.line.min, l.line.max);
            let percent = l.line.percent;
            let (limit, percent_of_limit) = match (min, max) {
                (Some(min), _) if percent < min => (Limit::AtLeast(share(min)), min),
                (_, Some(max)) if percent > max => (Limit::AtMost(share(max)), max),
                _ => continue,
            };
            let text = |p: Option<Percent>, open: &str| {
                p.map_or_else(|| open.to_owned(), |p| p.to_string())
            };
            let words = Words {
                name: &l.material.name,
                value: &percent.to_string(),
                limit: &format!("{} to {}", text(min, "0"), text(max, "100")),
                what: "",
                ..Words::default()
            };
            found.push(
                Self::finding(rule, &words, rule.source.clone())
                    .on([l.line.id])
                    .against(share(percent), limit)
                    .remedy(Remedy::SetPercent {
                        line: l.line.id,
                        percent: percent_of_limit,
                    }),
            );
        }
        self.findings.append(&mut found);
    }

    pub(super) fn under_dose(&mut self, rule: &Rule) {
        let blended = self.of.estimates.preservation.blended.clone();
        self.doses(rule, |dose, low, _, lines| {
            let alone = !lines.iter().any(|l| blended.contains(l));
            (dose < low && alone).then_some((low, Limit::AtLeast(share(low))))
        });
    }

    pub(super) fn over_dose(&mut self, rule: &Rule) {
        self.doses(rule, |dose, _, high, _| {
            (dose > high).then_some((high, Limit::AtMost(share(high))))
        });
    }

    fn doses(
        &mut self,
        rule: &Rule,
        broken: impl Fn(Percent, Percent, Percent, &[ItemId]) -> Option<(Percent, Limit)>,
    ) {
        let mut found = Vec::new();
        for l in self.preservatives() {
            let Some(p) = l.preservation() else {
                continue;
            };
            let dose = self.dose(l);
            let Some(lines) = self.lines_if_first(l) else {
                continue;
            };
            let Some((limit, against)) = broken(dose, p.dose_low, p.dose_high, lines) else {
                continue;
            };
            let words = Words {
                name: &l.material.name,
                value: &dose.to_string(),
                limit: &limit.to_string(),
                what: "",
                ..Words::default()
            };
            let finding = Self::finding(rule, &words, p.source.clone())
                .on(lines)
                .against(share(dose), against);
            found.push(at_limit(finding, lines, limit));
        }
        self.findings.append(&mut found);
    }

    /// Whether a line is the base of an acid that the formula is about, so that the acid says how
    /// much is needed.
    fn neutralises(&self, l: &LineWithMaterial<'_>) -> bool {
        /// Acid from which it is more than an adjustment of the pH, %; our choice.
        const MUCH: f64 = 2.0;
        let acid = || -> f64 {
            let acids = self.with_role(Role::Acid);
            acids.map(|a| a.line.percent.as_percent()).sum()
        };
        l.material.has_role(Role::Base) && acid() > MUCH
    }

    /// Whether a line filters UV light where a list of the law says how much of it may.
    fn filters_by_law(&self, l: &LineWithMaterial<'_>) -> bool {
        let product = &self.of.variant.product;
        l.material.has_role(Role::UvFilter)
            && product.product_type == Some(ProductType::SunCare)
            && !product.markets.is_empty()
    }

    pub(super) fn use_levels(&mut self, rule: &Rule) {
        let kinds = self.of.variant.product.kinds;
        let mut found = Vec::new();
        for l in &self.laid {
            let Some(lines) = self.lines_if_first(l) else {
                continue;
            };
            let total = self.dose(l);
            let Some(range) = l.range else {
                if rule.check == Check::NoUseLevel
                    && let Some(other) = l.material.use_ranges.first()
                    && !self.is_what_it_is_made_of(l)
                {
                    let words = Words {
                        name: &l.material.name,
                        what: other.kind.label(),
                        ..Words::default()
                    };
                    found.push(Self::finding(rule, &words, other.source.clone()).on(lines));
                }
                continue;
            };
            let mut range = range;
            let (limit, against) = match rule.check {
                Check::OverSupplierMaximum => {
                    let Some(most) = l
                        .material
                        .supplier_maximum(kinds)
                        .filter(|r| total > r.high)
                    else {
                        continue;
                    };
                    range = most;
                    (most.high, Limit::AtMost(share(most.high)))
                }
                // Of a preservative the dose is judged.
                Check::OverUsualLevel
                    if !range.supplier_maximum
                        && total > range.high
                        && l.preservation().is_none()
                        && !self.is_what_it_is_made_of(l)
                        && !self.filters_by_law(l)
                        && !self.neutralises(l) =>
                {
                    (range.high, Limit::AtMost(share(range.high)))
                }
                Check::UnderUsualLevel if total < range.low && l.preservation().is_none() => {
                    (range.low, Limit::AtLeast(share(range.low)))
                }
                _ => continue,
            };
            let words = Words {
                name: &l.material.name,
                value: &total.to_string(),
                limit: &limit.to_string(),
                what: range.kind.label(),
                ..Words::default()
            };
            let mut finding = Self::finding(rule, &words, range.source.clone())
                .on(lines)
                .against(share(total), against);
            // A custom without a source is no line that one steps over by little.
            if rule.check == Check::OverUsualLevel
                && range.source.basis == Basis::Practice
                && total.units() <= 2 * range.high.units()
            {
                finding.level = finding.level.min(Level::Note);
                finding = finding.asks(FindingSubject::Read);
            }
            found.push(at_limit(finding, lines, limit));
        }
        self.findings.append(&mut found);
    }
}

/// Offers the limit where the material stands in one line only.
fn at_limit(
    finding: crate::finding::Finding,
    lines: &[ItemId],
    percent: Percent,
) -> crate::finding::Finding {
    match *lines {
        [line] => finding.remedy(Remedy::SetPercent { line, percent }),
        _ => finding,
    }
}
