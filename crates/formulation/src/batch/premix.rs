//! A pre-mix for a line too small to weigh: a dilution in another line of the same batch.

use std::sync::Arc;

use super::mass::ExactMass;
use super::rounding::RoundedLine;
use super::scale::{Towards, to_step};
use super::weighing_scale::WeighingScale;
use crate::chemistry::substances;
use crate::formula::{Formula, ItemId, Phase, Variant};
use crate::handling::wets;
use crate::material::{Class, Material, PhaseKind, Role};
use crate::quantity::MassFraction;
use crate::rules::practice::grams_in_100_g_of_water;

/// Dilutions proposed: one part in so many.
const TIMES: [u32; 9] = [2, 5, 10, 20, 50, 100, 200, 500, 1000];

/// A dilution of one line's material in another line's.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Premix {
    /// The line that is too small.
    pub line: ItemId,
    /// The line that lends the carrier.
    pub carrier_line: ItemId,
    /// Name of the carrier.
    pub carrier: Arc<str>,
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
/// weighed on its scale within the tolerance; `masses` gives what each line can still
/// lend. `None` if no liquid line that suits the material can lend so much and itself
/// stay at or above the least.
///
/// An oil goes into an oil only. What is known to dissolve in water to some degree is diluted
/// so far that it does, and not at all where no dilution does. Whether any other material really
/// dissolves or disperses in the carrier is not known here; the maker has to see to that.
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
    let carrier_line = carrier(formula, variant, line, &masses)?;
    let lends = formula.material(&variant.line(carrier_line)?.material)?;
    let diluted = formula.material(&variant.line(line)?.material)?;
    let carrier = lends.name.clone();
    for times in TIMES {
        let take = to_step(rounded.exact.times(times.into()), step, Towards::Nearest);
        if take < least || !dissolves(lends, diluted, times) {
            continue;
        }
        let carrier_less = take - rounded.mass;
        if carrier_less + least > masses(carrier_line) {
            return None;
        }
        // Enough to weigh well, and enough for this batch.
        let enough = least.max(take.ratio(1, times.into()));
        let weigh = to_step(enough, step, Towards::More);
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

/// The largest liquid line of the same phase that suits the line, else the filler.
fn carrier(
    formula: &Formula,
    variant: &Variant,
    line: ItemId,
    masses: &impl Fn(ItemId) -> ExactMass,
) -> Option<ItemId> {
    let material = |id: ItemId| {
        let line = variant.line(id)?;
        formula.material(&line.material).map(AsRef::as_ref)
    };
    let diluted = material(line)?;
    let liquid = |id: ItemId| material(id).is_some_and(|m| is_liquid(m) && suits(m, diluted));
    let own: &Phase = variant.phase_of(line)?;
    own.lines
        .iter()
        .map(|l| l.id)
        .filter(|&id| id != line && liquid(id))
        .max_by_key(|&id| (masses(id), std::cmp::Reverse(id)))
        .or_else(|| variant.filler.filter(|&id| id != line && liquid(id)))
}

/// Whether one part of a material in so many parts of a pre-mix dissolves in a carrier that is
/// mostly water, as far as it is known how much of its constituents does; in other carriers
/// nothing speaks against it.
fn dissolves(carrier: &Material, material: &Material, times: u32) -> bool {
    let in_carrier = carrier.share_of(Class::Water).value();
    if in_carrier < 0.5 {
        return true;
    }
    let water = in_carrier * (f64::from(times) - 1.0) + material.share_of(Class::Water).value();
    material.constituents.iter().all(|c| {
        let published = || substances::find(c.inci.spelling(), c.cas)?.saturation;
        let grams = grams_in_100_g_of_water(c.inci.spelling())
            .or_else(|| published().map(|saturation| saturation.g_per_kg / 10.0));
        grams.is_none_or(|grams| 100.0 * c.share.typical.value() <= grams * water)
    })
}

fn share(material: &Material, classes: &[Class]) -> f64 {
    let shares = classes.iter().map(|&class| material.share_of(class));
    shares.map(MassFraction::value).sum()
}

fn is_liquid(material: &Material) -> bool {
    let thin = [Class::Water, Class::Humectant, Class::Oil, Class::Solvent];
    let melts = material.has_role(Role::Wax) || material.has_role(Role::Butter);
    share(material, &thin) >= 0.9 && !melts
}

/// Whether a material may mix with a carrier: what lumps in water goes into what wets it,
/// and what is mostly oil or scent, or belongs into the oil phase, does not mix with
/// water. Common knowledge, no source.
fn suits(carrier: &Material, material: &Material) -> bool {
    if !material.wet_with.is_empty() {
        return wets(carrier, material);
    }
    let oily = share(material, &[Class::Oil, Class::Fragrance]) >= 0.5
        || material.phase == Some(PhaseKind::Oil);
    !oily || share(carrier, &[Class::Oil]) >= 0.5
}
