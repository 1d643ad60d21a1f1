//! What the estimates have to say as findings.

use super::Estimates;
use crate::finding::{Field, Finding, Level, Matter};
use crate::formula::Variant;
use crate::material::{Basis, Source};
use crate::quantity::Ph;

/// Distance between estimate and target pH that is worth a word.
const OFF_TARGET: f64 = 0.3;

/// Adds the findings of the estimates of a variant.
pub fn findings(estimates: &Estimates, variant: &Variant, findings: &mut Vec<Finding>) {
    if let Some(soap) = &estimates.soap {
        super::soap::findings(soap, variant, findings);
    }
    target(estimates, variant, findings);
}

fn target(estimates: &Estimates, variant: &Variant, findings: &mut Vec<Finding>) {
    let figure = &estimates.ph.figure;
    let (Some(target), Some(estimate), None) = (
        variant.target_ph.map(Ph::value),
        figure.value,
        figure.measured,
    ) else {
        return;
    };
    if (estimate - target).abs() > OFF_TARGET {
        findings.push(
            Finding::new(
                Level::Note,
                "estimated-ph-off-target",
                format!(
                    "The estimated pH is {estimate:.1}, the target {target:.1}. Open the pH read-out for the amount of acid or base that reaches it."
                ),
                Source::new(Basis::Estimate, "estimated pH of the water phase"),
            )
            .about(Matter::of("ph-target"))
            .open(Field::MeasuredPh),
        );
    }
}
