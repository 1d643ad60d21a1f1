//! What micelles do to the constants of acids and bases.

use super::super::water_limits::NO_PH;
use crate::chemistry::acids::Family;
use crate::chemistry::mix::Mix;
use crate::chemistry::ph::Solution;
use crate::material::Charge;

/// Active matter per water from which micelles count, 0 to 1.
const LEAST_MICELLES: f64 = 0.002;

/// What micelles do to the constants: they take up uncharged acids, and anionic ones raise
/// the constant of groups that become positive.
#[derive(Clone, Copy, Debug)]
pub(super) struct Micelles {
    /// Active matter per water, both by mass.
    per_water: f64,
    anionic: bool,
}

impl Micelles {
    /// Acids that go into micelles, with log₁₀ P of octanol and water, an upper bound of
    /// what micelles hold; the lower one is P to the power 0.7 (our reading of published
    /// binding of benzoic acids to polysorbate 20 and to alkyl sulfates, from memory).
    const TAKEN_UP: [(Family, f64); 6] = [
        (Family::Benzoic, 1.87),
        (Family::Sorbic, 1.33),
        (Family::Anisic, 1.96),
        (Family::Salicylic, 2.26),
        (Family::Dehydroacetic, 0.8),
        (Family::Propionic, 0.33),
    ];
    const LEAST_POWER: f64 = 0.7;
    /// Groups whose protonated form anionic micelles favour, and by how many pKa units at
    /// the least and at the most.
    const RAISED: [Family; 3] = [
        Family::CarboxyBetaine,
        Family::AmineOxide,
        Family::Amidoamine,
    ];
    const RAISED_BY: (f64, f64) = (0.5, 1.5);

    pub(super) fn of(mix: &Mix<'_>) -> Option<Self> {
        let active = mix.composition.active_total().typical.value();
        let per_water = active / mix.water.max(NO_PH);
        (per_water >= LEAST_MICELLES).then(|| Self {
            per_water,
            anionic: mix.composition.active(Charge::Anionic).typical.value() > 0.2 * active,
        })
    }
    /// Whether a solution holds anything they act on.
    pub(super) fn matter_to(self, solution: &Solution) -> bool {
        let taken = Self::TAKEN_UP.iter().any(|(f, _)| solution.total(*f) > 0.0);
        taken || (self.anionic && Self::RAISED.iter().any(|f| solution.total(*f) > 0.0))
    }
    /// Moves the constants of a solution: `end` 0 gives the least effect, 1 the most.
    pub(super) fn act_on(self, solution: &mut Solution, end: f64) {
        let power = Self::LEAST_POWER + (1.0 - Self::LEAST_POWER) * end;
        for (family, log_p) in Self::TAKEN_UP {
            let held = 10.0_f64.powf(power * log_p) * self.per_water;
            solution.move_constants(family, held.ln_1p() / std::f64::consts::LN_10);
        }
        if self.anionic {
            let (least, most) = Self::RAISED_BY;
            for family in Self::RAISED {
                solution.move_constants(family, least + (most - least) * end);
            }
        }
    }
}
