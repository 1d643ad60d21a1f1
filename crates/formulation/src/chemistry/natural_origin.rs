//! Natural origin content by ISO 16128-2: the mean of the natural origin indices of the
//! ingredients by mass, with water counted and without.

use super::figure::Figure;
use super::mix::Mix;
use crate::composition;
use crate::material::Class;

/// The method, in words.
pub const METHOD: &str = "mean of the natural origin indices by mass; water has index 1";
/// Its range, in words.
pub const VALIDITY: &str = "index of each material without its water, as the supplier or a published list gives it; materials without one are taken as 0 at the lower and 1 at the upper end";
/// Its sources, in words.
pub const SOURCE: &str = "ISO 16128-1:2016 and ISO 16128-2:2017, from public summaries";

/// A range of the index no wider than this gets one figure.
const WIDEST_FOR_ONE_FIGURE: f64 = 0.02;

/// Natural origin of a mix, as an index from 0 to 1.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct NaturalOriginEstimate {
    /// Water counted as natural.
    pub with_water: Figure,
    /// Water left out.
    pub without_water: Figure,
}

/// Estimates the natural origin content.
pub fn estimate(mix: &Mix<'_>) -> NaturalOriginEstimate {
    let mut found = NaturalOriginEstimate {
        with_water: Figure::of(METHOD, VALIDITY, SOURCE),
        without_water: Figure::of(METHOD, VALIDITY, SOURCE),
    };
    let (mut water, mut dry, mut low, mut high) = (0.0, 0.0, 0.0, 0.0);
    for (laid, shares) in mix.mixture.lines.iter().zip(&mix.composition.lines) {
        if laid.share() <= 0.0 {
            continue;
        }
        // Water as such counts whole, with its traces.
        let of_water = if laid.material.as_deref().is_some_and(composition::is_water) {
            laid.share()
        } else {
            shares.classes[Class::Water.index()]
                .value()
                .min(laid.share())
        };
        let rest = laid.share() - of_water;
        water += of_water;
        dry += rest;
        if rest <= 0.0 {
            continue;
        }
        if let Some(index) = laid
            .material
            .as_deref()
            .and_then(|m| m.natural_origin.as_ref())
        {
            low += rest * index.value.low.clamp(0.0, 1.0);
            high += rest * index.value.high.clamp(0.0, 1.0);
        } else {
            high += rest;
            found.with_water.unknown.push(laid.name());
        }
    }
    found
        .without_water
        .unknown
        .clone_from(&found.with_water.unknown);
    let set = |figure: &mut Figure, low: f64, high: f64| {
        figure.low = Some(low);
        figure.high = Some(high);
        figure.value = (high - low <= WIDEST_FOR_ONE_FIGURE).then(|| f64::midpoint(low, high));
    };
    if water + dry > 0.0 {
        let all = water + dry;
        set(
            &mut found.with_water,
            (water + low) / all,
            (water + high) / all,
        );
    }
    if dry > 0.0 {
        set(&mut found.without_water, low / dry, high / dry);
    }
    found
}
