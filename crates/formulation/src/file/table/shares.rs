//! What share of the whole each line of a recipe is, whatever it was measured in.

use std::sync::Arc;

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive as _;

use super::recipe::{LineQuantity, ProposedLine, RecipeError, RecipeProposal, Reconcile};
use crate::amount::number;
use crate::material::Material;
use crate::quantity::{Percent, in_kg_per_m3};

/// The percentages of the lines, in their order.
pub(super) struct Shares {
    pub(super) percents: Vec<Percent>,
    /// Grams of the whole, for a recipe in grams.
    pub(super) batch: Option<Decimal>,
    /// The largest line of water.
    pub(super) water: Option<usize>,
}

impl Shares {
    /// The percentage of every line; `materials` are those of the lines.
    pub(super) fn of(
        proposal: &RecipeProposal,
        materials: &[Arc<Material>],
    ) -> Result<Self, RecipeError> {
        let in_percent = proposal.percent_total().is_some();
        let amounts = amounts_of(proposal, materials, in_percent)?;
        let total: Decimal = amounts.iter().flatten().sum();
        let rest = amounts.iter().position(Option::is_none);
        let whole = whole_of(proposal, total, in_percent, rest.is_some());
        let overfull = |place: Option<usize>| {
            let line = place.and_then(|at| proposal.lines.get(at));
            RecipeError::Overfull {
                filler: line.map(|l| l.wanted.name.clone()).unwrap_or_default(),
                total: total.normalize(),
            }
        };
        if rest.is_some() && total >= whole {
            return Err(overfull(rest));
        }
        if whole.is_zero() || (total.is_zero() && rest.is_none()) {
            return Err(RecipeError::NothingWeighed);
        }
        let is_scaled = !in_percent || proposal.reconcile == Reconcile::Scale && rest.is_none();
        let scale = if is_scaled {
            // A sum of next to nothing has no shares that could be told.
            Decimal::ONE_HUNDRED
                .checked_div(if in_percent { total } else { whole })
                .ok_or(RecipeError::NothingWeighed)?
        } else {
            Decimal::ONE
        };
        let percent = |(amount, line): (&Option<Decimal>, &ProposedLine)| {
            let share = amount.unwrap_or_default().checked_mul(scale);
            share
                .and_then(to_percent)
                .ok_or_else(|| RecipeError::TooLarge(line.wanted.name.clone()))
        };
        let lines = amounts.iter().zip(&proposal.lines);
        let mut percents: Vec<Percent> = lines.map(percent).collect::<Result<_, _>>()?;
        let water = largest_water(proposal, &percents);
        // The line that takes up the rest, or the rounding of a scaled recipe.
        let left = Percent::HUNDRED - percents.iter().copied().sum::<Percent>();
        let taker = rest.or_else(|| match proposal.reconcile {
            Reconcile::AsWritten if in_percent => None,
            Reconcile::Water if in_percent => water,
            _ => largest(&percents),
        });
        if let Some(slot) = taker.and_then(|at| percents.get_mut(at)) {
            let filled = *slot + left;
            if filled < Percent::ZERO {
                return Err(overfull(taker));
            }
            *slot = filled;
        }
        let in_parts = |quantity: &LineQuantity| matches!(quantity, LineQuantity::Parts(_));
        let in_grams = !in_percent && !proposal.lines.iter().any(|l| in_parts(&l.quantity));
        Ok(Self {
            percents,
            batch: in_grams.then_some(whole),
            water,
        })
    }
}

/// The amounts of the lines, all in percent or all in grams or parts; `None` is the rest.
fn amounts_of(
    proposal: &RecipeProposal,
    materials: &[Arc<Material>],
    in_percent: bool,
) -> Result<Vec<Option<Decimal>>, RecipeError> {
    let mut amounts: Vec<Option<Decimal>> = Vec::with_capacity(proposal.lines.len());
    for (line, material) in proposal.lines.iter().zip(materials) {
        // Grams among percentages are of the batch that is stated, else of 100 g, which the
        // proposal asks about.
        let of_batch = |grams: Decimal| match proposal.batch.filter(|b| !b.is_zero()) {
            Some(batch) if in_percent => (grams * Decimal::ONE_HUNDRED)
                .checked_div(batch)
                .and_then(number::within)
                .ok_or_else(|| RecipeError::TooLarge(line.wanted.name.clone())),
            _ => Ok(grams),
        };
        amounts.push(match &line.quantity {
            LineQuantity::Grams(value) => Some(of_batch(*value)?),
            // A percentage among grams is of the whole, which is known only below.
            LineQuantity::Percent(_) if !in_percent => Some(Decimal::ZERO),
            LineQuantity::Percent(value) | LineQuantity::Parts(value) => Some(*value),
            LineQuantity::Millilitres(ml) => {
                let density = material
                    .density
                    .as_ref()
                    .and_then(|d| Decimal::try_from(in_kg_per_m3(d.value)).ok())
                    .unwrap_or(Decimal::ONE_THOUSAND);
                Some(of_batch(ml * density / Decimal::ONE_THOUSAND)?)
            }
            LineQuantity::AsNeeded => Some(Decimal::ZERO),
            LineQuantity::Rest => None,
        });
    }
    if !in_percent {
        weigh_percentages(proposal, &mut amounts);
    }
    Ok(amounts)
}

/// Turns percentages among grams into grams of the whole that is stated, else of the one that
/// the other lines make with them.
fn weigh_percentages(proposal: &RecipeProposal, amounts: &mut [Option<Decimal>]) {
    let share = |quantity: &LineQuantity| match quantity {
        LineQuantity::Percent(value) => value / Decimal::ONE_HUNDRED,
        _ => Decimal::ZERO,
    };
    let shares: Decimal = proposal.lines.iter().map(|l| share(&l.quantity)).sum();
    let weighed: Decimal = amounts.iter().flatten().sum();
    let stated = proposal.batch.or(proposal.stated_total);
    let others = (Decimal::ONE - shares).max(Decimal::new(1, 2));
    let whole = stated.filter(|t| *t > weighed).unwrap_or(weighed / others);
    for (line, amount) in proposal.lines.iter().zip(amounts) {
        if let (LineQuantity::Percent(_), Some(amount)) = (&line.quantity, amount) {
            *amount = share(&line.quantity) * whole;
        }
    }
}

/// What all lines make together. In grams with a q.s. line it is what that line fills up to: the
/// batch that is stated, or the next larger round one.
fn whole_of(
    proposal: &RecipeProposal,
    total: Decimal,
    in_percent: bool,
    has_rest: bool,
) -> Decimal {
    if in_percent {
        return Decimal::ONE_HUNDRED;
    }
    if !has_rest {
        return total;
    }
    let stated = proposal.batch.or(proposal.stated_total);
    stated
        .filter(|t| *t > total)
        .unwrap_or_else(|| round_batch(total))
}

fn largest_water(proposal: &RecipeProposal, percents: &[Percent]) -> Option<usize> {
    let lines = proposal.lines.iter().enumerate();
    lines
        .filter(|(_, l)| l.is_water())
        .max_by_key(|(n, _)| percents.get(*n).copied())
        .map(|(n, _)| n)
}

/// The first of the largest lines.
fn largest(percents: &[Percent]) -> Option<usize> {
    let lines = percents.iter().enumerate();
    lines
        .max_by_key(|(n, p)| (**p, std::cmp::Reverse(*n)))
        .map(|(n, _)| n)
}

/// The next batch of 100, 200, 250, 500 or 1000 g, or a decimal multiple, above a sum.
fn round_batch(total: Decimal) -> Decimal {
    let mut decade = Decimal::ONE_HUNDRED;
    loop {
        for step in [10, 20, 25, 50] {
            let batch = decade * Decimal::from(step) / Decimal::TEN;
            if batch > total {
                return batch;
            }
        }
        decade *= Decimal::TEN;
    }
}

/// The nearest percentage; `None` above what a percentage can be.
fn to_percent(value: Decimal) -> Option<Percent> {
    let units = value.checked_mul(Decimal::from(Percent::UNITS))?.round();
    let most = Decimal::from(Percent::UNITS) * Decimal::from(1_000_000);
    (units.abs() <= most)
        .then(|| units.to_i64().map(Percent::from_units))
        .flatten()
}
