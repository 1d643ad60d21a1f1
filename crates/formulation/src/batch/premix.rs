//! A pre-mix for a line too small to weigh: a dilution in another line of the same batch.

use super::mass::ExactMass;
use super::rounding::RoundedLine;
use super::weighing_scale::WeighingScale;
use crate::formula::{Formula, ItemId, Phase, Variant};
use crate::material::{Class, MaterialId, Role};

/// Dilutions proposed: one part in so many.
const TIMES: [u32; 9] = [2, 5, 10, 20, 50, 100, 200, 500, 1000];

/// A dilution of one line's material in another line's.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Premix {
    /// The line that is too small.
    pub line: ItemId,
    /// The line that lends the carrier.
    pub carrier_line: ItemId,
    /// The carrier.
    pub carrier: MaterialId,
    /// One part of material in so many parts of pre-mix.
    pub times: u32,
    /// Material to weigh for the pre-mix.
    pub weigh: ExactMass,
    /// Carrier to weigh for the pre-mix.
    pub weigh_carrier: ExactMass,
    /// Pre-mix to weigh into the batch instead of the line.
    pub take: ExactMass,
    /// By how much less of the carrier's line is weighed.
    pub carrier_less: ExactMass,
    /// Pre-mix left over.
    pub left_over: ExactMass,
}

/// Proposes the strongest dilution that brings a line up to the `least` mass that can be
/// weighed on its scale within the tolerance; `masses` gives what the sheet asks of each
/// line. `None` if no liquid line of the batch is large enough to lend the carrier.
///
/// Whether the material dissolves or disperses in the carrier is not known here; the
/// maker has to see to that.
pub fn propose(
    formula: &Formula,
    variant: &Variant,
    line: ItemId,
    rounded: RoundedLine,
    scale: &WeighingScale,
    least: ExactMass,
    masses: impl Fn(ItemId) -> ExactMass,
) -> Option<Premix> {
    let step = scale.resolution();
    let up = |m: ExactMass| {
        let step = step.femtograms();
        ExactMass::from_femtograms((m.femtograms() + step - 1) / step * step)
    };
    let nearest = |m: ExactMass| {
        let step = step.femtograms();
        ExactMass::from_femtograms((m.femtograms() + step / 2) / step * step)
    };
    let carrier_line = carrier(formula, variant, line, &masses)?;
    let carrier = variant.line(carrier_line)?.material.clone();
    for times in TIMES {
        let take = nearest(rounded.exact.times(times.into()));
        if take < least {
            continue;
        }
        let carrier_less = take - rounded.mass;
        if carrier_less > masses(carrier_line) {
            return None;
        }
        // Enough to weigh well, and enough for this batch.
        let weigh = up(least.max(take.ratio(1, times.into())));
        let weigh_carrier = weigh.times(i128::from(times) - 1);
        return Some(Premix {
            line,
            carrier_line,
            carrier,
            times,
            weigh,
            weigh_carrier,
            take,
            carrier_less,
            left_over: weigh + weigh_carrier - take,
        });
    }
    None
}

/// The largest liquid line of the same phase, else the filler if it is liquid.
fn carrier(
    formula: &Formula,
    variant: &Variant,
    line: ItemId,
    masses: &impl Fn(ItemId) -> ExactMass,
) -> Option<ItemId> {
    let liquid = |id: ItemId| {
        let material = variant.line(id).and_then(|l| formula.material(&l.material));
        material.is_some_and(|m| {
            let share = |class| m.share_of(class).value();
            let thin = share(Class::Water)
                + share(Class::Humectant)
                + share(Class::Oil)
                + share(Class::Solvent);
            let melts = m.has_role(Role::Wax) || m.has_role(Role::Butter);
            thin >= 0.9 && !melts
        })
    };
    let own: &Phase = variant.phase_of(line)?;
    own.lines
        .iter()
        .map(|l| l.id)
        .filter(|&id| id != line && liquid(id))
        .max_by_key(|&id| (masses(id), std::cmp::Reverse(id)))
        .or_else(|| variant.filler.filter(|&id| id != line && liquid(id)))
}
