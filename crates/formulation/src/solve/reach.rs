//! How wide a value reached is, and on what it rests.

use crate::amount::Measure;
use crate::evaluation::Evaluation;
use crate::quantity::Spread;

use super::fixed_point::value_of;
use super::subject::Subject;
use super::target::{Target, TargetQuantity};

/// Least and greatest value that a quantity may have, from the ranges of the raw materials
/// and of the estimates; `None` where nothing is known but one figure.
pub(super) fn range_of(
    subject: &Subject<'_>,
    quantity: &TargetQuantity,
    x: &[f64],
    evaluation: &Evaluation,
) -> Option<(f64, f64)> {
    let composition = &evaluation.composition;
    let percents = |spread: Spread| Some((spread.low.as_percent(), spread.high.as_percent()));
    match quantity {
        TargetQuantity::Ph => {
            let figure = &evaluation.estimates.ph.figure;
            figure.low.zip(figure.high)
        }
        TargetQuantity::Preservation => {
            // The need falls as what works of an acid rises; other preservatives need the same.
            let value = value_of(subject, quantity, x, evaluation)?;
            let acids = &evaluation.estimates.preservation.acids;
            let bounds = acids.iter().filter(|a| a.effective_percent > 0.0).map(|a| {
                let (low, high) = a.effective_range;
                (low / a.effective_percent, high / a.effective_percent)
            });
            let (low, high) = bounds.fold((1.0_f64, 1.0_f64), |(low, high), (l, h)| {
                (low.min(l), high.max(h))
            });
            Some((value * low, value * high))
        }
        TargetQuantity::Active(None) => percents(composition.active_total()),
        TargetQuantity::Active(Some(charge)) => percents(composition.active(*charge)),
        TargetQuantity::Class(class) => percents(composition.class(*class)),
        TargetQuantity::Constituent(name) | TargetQuantity::Named(name) => {
            let of_name = |c: &&crate::composition::SubstanceTotal| c.inci.is(name);
            percents(composition.constituents.iter().find(of_name)?.share)
        }
        TargetQuantity::Learnt(reading) => {
            let [low, high] = subject.expected(*reading, x)?.range;
            Some((low, high))
        }
        TargetQuantity::NaturalOrigin => {
            let figure = &evaluation.estimates.natural_origin.with_water;
            figure.low.zip(figure.high)
        }
        TargetQuantity::OilPhase
        | TargetQuantity::Line(_)
        | TargetQuantity::Cost(_)
        | TargetQuantity::Hlb
        | TargetQuantity::Sum(_)
        | TargetQuantity::Ratio(..) => None,
    }
}

/// What an estimate rests on, in words; `None` for a sum over the lines.
pub(super) fn basis_of(
    subject: &Subject<'_>,
    target: &Target,
    x: &[f64],
    evaluation: &Evaluation,
) -> Option<String> {
    match &target.quantity {
        TargetQuantity::Learnt(reading) => {
            let learnt = subject.learnt(*reading).ok()?;
            let expected = learnt.at(&subject.place(learnt, x));
            let probable = target.relation.limits().filter(|(low, high)| low < high);
            let probable = probable.map_or_else(String::new, |(low, high)| {
                let percent = 100.0 * expected.probability(low.max(0.0), high);
                format!(
                    ", reached with a probability of {}",
                    Measure::PERCENT.within(0.0, 100.0).shown(percent.round())
                )
            });
            let outside = if expected.inside {
                ""
            } else {
                ", outside of what was tried"
            };
            Some(format!("{}{probable}{outside}", learnt.source()))
        }
        TargetQuantity::Ph => Some("an estimate".to_owned()),
        TargetQuantity::Preservation => Some(
            (evaluation.estimates.preservation.acids.first()).map_or_else(
                || "by lowest doses".to_owned(),
                |acid| format!("at {}", acid.at.words()),
            ),
        ),
        _ => None,
    }
}
