//! How little water is none: the least water for each thing that is told of a water phase. They
//! differ because they answer different questions; no two places answer the same one.

/// Below this share there is no water whose activity could be computed.
pub(super) const NO_ACTIVITY: f64 = 0.001;
/// Below this share there is no water phase to speak of, so there is no pH.
pub(crate) const NO_PH: f64 = 0.01;
/// Below this share the constants of acids and bases, made for water, do not hold: the pH is told
/// as a range only or not at all.
pub(super) const CONSTANTS_HOLD: f64 = 0.5;
/// Below this share water is a film between solids or bound by powders and spread in oil: nothing
/// is parted between it and oil, and with as little of what it dissolves ([`LEAST_LIQUID`]) its
/// activity is not told. Our assumption, no source.
pub(super) const FILM: f64 = 0.05;
/// Least share of water and what it dissolves together for a water phase where there is less
/// water than [`FILM`]. Our assumption, no source.
pub(super) const LEAST_LIQUID: f64 = 0.2;
/// Water, % of the formula, below which there is no emulsion to speak of. Our assumption, no
/// source.
pub(crate) const NO_EMULSION_PERCENT: f64 = 5.0;
/// Water, % of the formula, up to which nothing needs a preservative. Common practice, no source.
pub(crate) const NONE_TO_PRESERVE_PERCENT: f64 = 0.5;
/// Water, % of the formula, from which a product without preservative is a breach; below it a
/// caution. Common practice, no source.
pub(crate) const LITTLE_TO_PRESERVE_PERCENT: f64 = 10.0;
