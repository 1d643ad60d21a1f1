//! What micelles do to the constants of acids and bases.

use std::sync::LazyLock;

use super::super::water_limits::NO_PH;
use crate::chemistry::acids::Family;
use crate::chemistry::mix::Mix;
use crate::chemistry::ph::Solution;
use crate::chemistry::preservative_acids::{ACIDS, PreservativeAcid};
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

/// Acids that go into micelles, with log₁₀ P of octanol and water.
static TAKEN_UP: LazyLock<Vec<(Family, f64)>> = LazyLock::new(|| {
    // Of dehydroacetic acid none is published that we know: from memory.
    const DEHYDROACETIC: f64 = 0.8;
    let log_p = |acid: &PreservativeAcid| match acid.family {
        Family::Dehydroacetic => Some(DEHYDROACETIC),
        _ => acid.log_p(),
    };
    let acids = ACIDS.iter().filter_map(|a| Some((a.family, log_p(a)?)));
    acids.filter(|(_, log_p)| *log_p > 0.0).collect()
});

impl Micelles {
    /// The lower bound of what micelles hold of an acid is P of octanol and water to this power,
    /// the upper one P itself: our reading of published binding of benzoic acids to polysorbate
    /// 20 and to alkyl sulfates, from memory.
    const LEAST_POWER: f64 = 0.7;
    /// Groups whose protonated form anionic micelles favour, and by how many pKa units at
    /// the least and at the most.
    const RAISED: [Family; 3] = [
        Family::CarboxyBetaine,
        Family::AmineOxide,
        Family::Amidoamine,
    ];
    ///
    /// The surface of a dodecyl sulfate micelle stands at −134 mV (M. S. Fernández and P. Fromherz,
    /// J. Phys. Chem. 81 (1977) 1755, from memory): 2.3 pKa units with no other salt, one less for
    /// each tenfold of counter-ions; washes have 0.2 to 0.5 mol/kg of them.
    const RAISED_BY: (f64, f64) = (0.5, 1.5);
    /// The same at the most where few counter-ions are about.
    const RAISED_WITHOUT_SALT: f64 = 2.3;
    /// Active matter per water from which there are counter-ions enough for
    /// [`Self::RAISED_BY`]: 6 % of a lauryl ether sulfate bring 0.15 mol/kg.
    const SALTED: f64 = 0.06;

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
        let taken = TAKEN_UP.iter().any(|(f, _)| solution.total(*f) > 0.0);
        taken || (self.anionic && Self::RAISED.iter().any(|f| solution.total(*f) > 0.0))
    }
    /// Moves the constants of a solution: `end` 0 gives the least effect, 1 the most.
    pub(super) fn act_on(self, solution: &mut Solution, end: f64) {
        let power = Self::LEAST_POWER + (1.0 - Self::LEAST_POWER) * end;
        for &(family, log_p) in TAKEN_UP.iter() {
            let held = 10.0_f64.powf(power * log_p) * self.per_water;
            solution.move_constants(family, held.ln_1p() / std::f64::consts::LN_10);
        }
        if self.anionic {
            let (least, usual) = Self::RAISED_BY;
            let less_salt = (Self::SALTED / self.per_water).log10();
            let most = (usual + less_salt).clamp(usual, Self::RAISED_WITHOUT_SALT);
            for family in Self::RAISED {
                solution.move_constants(family, least + (most - least) * end);
            }
        }
    }
}
