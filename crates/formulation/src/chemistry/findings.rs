//! What the estimates have to say as findings.

use super::Estimates;
use super::ph_in_use::is_excluded;
use crate::finding::{Finding, Level, Matter, Remedy};
use crate::formula::Variant;
use crate::material::{Basis, Source};
use crate::specification::PH_TOLERANCE;

/// Adds the findings of the estimates of a variant.
pub fn findings(estimates: &Estimates, variant: &Variant, findings: &mut Vec<Finding>) {
    if let Some(soap) = &estimates.soap {
        super::soap::findings(soap, variant, findings);
    }
    if let Some(unvalued) = &estimates.unvalued_fats {
        super::soap::unvalued_findings(unvalued, findings);
    }
    target(estimates, variant, findings);
}

/// Whether the formula as it stands comes to the pH aimed at.
fn target(estimates: &Estimates, variant: &Variant, findings: &mut Vec<Finding>) {
    let figure = &estimates.ph.figure;
    let (Some(aim), None, Some((low, high))) = (
        variant.target_ph,
        figure.measured,
        figure.low.zip(figure.high),
    ) else {
        return;
    };
    let target = aim.value();
    // Where the pH is known to a range only, the aim is reckoned with unless that excludes it:
    // that it is not must be told from the first tenth on.
    let told = match figure.value {
        Some(_) => !(low - PH_TOLERANCE..=high + PH_TOLERANCE).contains(&target),
        None => is_excluded(aim, &estimates.ph),
    };
    if !told {
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
                "You aim at pH {target:.1}, but the estimate {estimate}. The pH read-out works out how much acid or base reaches it; measure then."
            ),
            Source::new(Basis::Estimate, "estimated pH of the water phase"),
        )
        .about(Matter::of("ph-target"))
        .remedy(Remedy::AdjustPh),
    );
}
