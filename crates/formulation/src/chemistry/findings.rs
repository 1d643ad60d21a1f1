//! What the estimates have to say as findings.

use super::Estimates;
use crate::finding::{Field, Finding, Level, Matter};
use crate::formula::Variant;
use crate::material::{Basis, Source};
use crate::quantity::Ph;

/// Distance between the estimated range and the target pH that is worth a word.
const OFF_TARGET: f64 = 0.3;

/// Adds the findings of the estimates of a variant.
pub fn findings(estimates: &Estimates, variant: &Variant, findings: &mut Vec<Finding>) {
    if let Some(soap) = &estimates.soap {
        super::soap::findings(soap, variant, findings);
    }
    target(estimates, variant, findings);
}

/// Whether the formula as it stands comes to the pH aimed at.
fn target(estimates: &Estimates, variant: &Variant, findings: &mut Vec<Finding>) {
    let figure = &estimates.ph.figure;
    let (Some(target), None, Some((low, high))) = (
        variant.target_ph.map(Ph::value),
        figure.measured,
        figure.low.zip(figure.high),
    ) else {
        return;
    };
    if (low - OFF_TARGET..=high + OFF_TARGET).contains(&target) {
        return;
    }
    let estimate = match figure.value {
        Some(ph) => format!("is {ph:.1}"),
        None => format!("lies between {low:.1} and {high:.1}"),
    };
    findings.push(
        Finding::new(
            Level::Caution,
            "estimated-ph-off-target",
            format!(
                "You aim at pH {target:.1}, but the estimate {estimate}. Open the pH read-out for the amount of acid or base that reaches it, and measure."
            ),
            Source::new(Basis::Estimate, "estimated pH of the water phase"),
        )
        .about(Matter::of("ph-target"))
        .open(Field::MeasuredPh),
    );
}
