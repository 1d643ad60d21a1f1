//! Which readings mind how long a state has stood, and how long it usually takes.

use super::reading::Quantity;

/// Hours after which a viscosity is taken as settled where nothing else is known, a night:
/// common practice, no source.
const USUAL_VISCOSITY: f64 = 12.0;
/// Hours after which a pH is, ten minutes of stirring: common practice, no source.
const USUAL_PH: f64 = 1.0 / 6.0;

/// Hours that a quantity usually takes to settle; none where a reading does not mind.
#[must_use]
pub const fn usual(quantity: Quantity) -> Option<f64> {
    match quantity {
        Quantity::Viscosity => Some(USUAL_VISCOSITY),
        Quantity::Ph => Some(USUAL_PH),
        _ => None,
    }
}

/// Whether readings of a quantity shortly after an addition are of another thing.
#[must_use]
pub const fn minds(quantity: Quantity) -> bool {
    usual(quantity).is_some()
}

/// Whether a reading of which nothing is stated may be of a state that had not settled. A pH is
/// written down when the meter stands still; a viscosity shows nothing of the kind.
#[must_use]
pub const fn must_be_stated(quantity: Quantity) -> bool {
    matches!(quantity, Quantity::Viscosity)
}
