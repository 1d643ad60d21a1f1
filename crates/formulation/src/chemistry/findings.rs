//! What the estimates have to say as findings.

use super::{Estimates, preservation};
use crate::finding::{Finding, Level};
use crate::formula::{Formula, ItemId, Variant};
use crate::material::{Basis, Source};
use crate::quantity::Ph;

/// Distance between estimate and target pH that is worth a word.
const OFF_TARGET: f64 = 0.3;

/// Adds the findings of the estimates of a variant.
pub fn findings(
    estimates: &Estimates,
    formula: &Formula,
    variant: &Variant,
    findings: &mut Vec<Finding>,
) {
    acids(estimates, findings);
    windows(estimates, formula, variant, findings);
    donors(estimates, findings);
    if let Some(soap) = &estimates.soap {
        super::soap::findings(soap, variant, findings);
    }
    target(estimates, variant, findings);
    for message in &estimates.emulsion.inversion {
        findings.push(finding(
            Level::Caution,
            "emulsion",
            format!("Emulsion: {message}. A trial decides."),
            Vec::new(),
            Source::new(Basis::Estimate, super::emulsion::SOURCE),
        ));
    }
}

fn finding(
    level: Level,
    rule: &'static str,
    message: String,
    lines: Vec<ItemId>,
    source: Source,
) -> Finding {
    Finding::new(level, rule, message, source).on(lines)
}

fn acids(estimates: &Estimates, findings: &mut Vec<Finding>) {
    for state in &estimates.preservation.acids {
        let acid = state.acid;
        let at = format!("at pH {:.1} ({})", state.ph, state.basis.label());
        if state.effective_percent < acid.least_percent {
            findings.push(finding(
                Level::Caution,
                "undissociated-acid-low",
                format!(
                    "{}: only {:.1} % of it is undissociated {at}, that is {:.3} % of the formula; below {} % it does little. Lower the pH or use another preservative. {}",
                    acid.inci,
                    100.0 * state.undissociated,
                    state.effective_percent,
                    acid.least_percent,
                    preservation::CAUTION
                ),
                state.lines.clone(),
                Source::new(
                    Basis::Practice,
                    "least amount of undissociated acid: common practice; share from the published pKa",
                ),
            ));
        }
        if let Some(loss) = &state.oil
            && loss.share > 0.5
        {
            findings.push(finding(
                Level::Caution,
                "preservative-lost-to-oil",
                format!(
                    "{}: up to {:.0} % of it goes into the oil phase {at}; {:.3} % undissociated is left in the water phase",
                    acid.inci,
                    100.0 * loss.share,
                    loss.in_water_percent
                ),
                state.lines.clone(),
                Source::new(Basis::Estimate, preservation::SOURCE),
            ));
        }
        let water = estimates.ph.water;
        if let Some(solubility) = acid.solubility_g_kg
            && water > 0.0
        {
            let in_water = state
                .oil
                .map_or(state.effective_percent / water, |o| o.in_water_percent);
            if 10.0 * in_water > solubility {
                findings.push(finding(
                    Level::Caution,
                    "acid-may-crystallise",
                    format!(
                        "{}: {:.1} g/kg undissociated in the water {at}, more than the {solubility} g/kg that dissolve; it may crystallise out in the cold unless a solvent or surfactant holds it",
                        acid.inci,
                        10.0 * in_water
                    ),
                    state.lines.clone(),
                    Source::new(Basis::Typical, "solubility of the acid in water at 20 to 25 °C"),
                ));
            }
        }
    }
    for state in &estimates.preservation.neutrals {
        if state.oil.share > 0.5 {
            findings.push(finding(
                Level::Caution,
                "preservative-lost-to-oil",
                format!(
                    "{}: up to {:.0} % of it goes into the oil phase; {:.3} % is left in the water phase",
                    state.inci,
                    100.0 * state.oil.share,
                    state.oil.in_water_percent
                ),
                Vec::new(),
                Source::new(Basis::Estimate, preservation::SOURCE),
            ));
        }
    }
}

/// Windows of preservatives against the estimate; measured pH and target are the matter of
/// the rules of practice.
fn windows(
    estimates: &Estimates,
    formula: &Formula,
    variant: &Variant,
    findings: &mut Vec<Finding>,
) {
    if variant.measured.ph.is_some() || variant.target_ph.is_some() {
        return;
    }
    let figure = &estimates.ph.figure;
    let (Some(low), Some(high)) = (figure.low, figure.high) else {
        return;
    };
    for (_, line) in variant.lines() {
        let material = formula.material(&line.material);
        let Some((material, window)) =
            material.and_then(|m| Some((m, m.preservation.as_ref()?.ph?)))
        else {
            continue;
        };
        if line.percent <= crate::quantity::Percent::ZERO {
            continue;
        }
        // Only if no pH of the estimated range lies in the window.
        if low > window.high.value() || high < window.low.value() {
            let ph = figure.value.map_or_else(
                || format!("between {low:.1} and {high:.1}"),
                |v| format!("{v:.1}"),
            );
            findings.push(finding(
                Level::Caution,
                "preservative-outside-estimated-ph",
                format!(
                    "{} works at pH {:.1} to {:.1}; the estimate is {ph}. Adjust, or measure.",
                    material.name, window.low, window.high
                ),
                vec![line.id],
                Source::new(Basis::Estimate, "estimated pH; window of the preservative"),
            ));
        }
    }
}

fn donors(estimates: &Estimates, findings: &mut Vec<Finding>) {
    let lines = &estimates.preservation.formaldehyde_donors;
    if lines.is_empty() {
        return;
    }
    findings.push(finding(
        Level::Note,
        "formaldehyde-donor",
        "A preservative releases formaldehyde. Where the finished product releases more than 0.001 % (10 ppm), the label in the EU must say “releases formaldehyde”. Have the released amount measured.".to_owned(),
        lines.clone(),
        Source::new(
            Basis::Published,
            "Regulation (EC) 1223/2009, Annex V, preamble 2, as amended by (EU) 2022/1181",
        ),
    ));
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
        findings.push(finding(
            Level::Note,
            "estimated-ph-off-target",
            format!(
                "The estimated pH is {estimate:.1}, the target {target:.1}. Open the pH read-out for the amount of acid or base that reaches it."
            ),
            Vec::new(),
            Source::new(Basis::Estimate, "estimated pH of the water phase"),
        ));
    }
}
