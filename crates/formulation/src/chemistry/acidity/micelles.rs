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
    /// Groups whose protonated form anionic micelles favour.
    const RAISED: [Family; 3] = [
        Family::CarboxyBetaine,
        Family::AmineOxide,
        Family::Amidoamine,
    ];
    /// By how many pKa units, at the least and at the most.
    ///
    /// The surface of a dodecyl sulfate micelle stands at −134 mV (M. S. Fernández and P. Fromherz,
    /// J. Phys. Chem. 81 (1977) 1755, from memory): 2.3 pKa units with no other salt, one less for
    /// each tenfold of counter-ions; washes have 0.2 to 0.5 mol/kg of them.
    const RAISED_BY: (f64, f64) = (0.5, 1.5);
    /// The same at the most where few counter-ions are about.
    const RAISED_WITHOUT_SALT: f64 = 2.3;
    /// Active matter per water from which there are counter-ions enough for
    /// [`Self::RAISED_BY`]: 6 % of a lauryl ether sulfate bring 0.15 mol/kg. The share is our own
    /// assumption, no source; salt beside it, which lowers the shift, is not counted, as this is
    /// the upper end.
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::chemistry::ions::StrongIon;
    use crate::chemistry::ph::solve;

    /// pH of an amine oxide half of which has taken up a proton: its constant, and what moves it.
    fn constant(micelles: Option<(f64, bool)>, end: f64) -> f64 {
        let mut solution = Solution::new();
        solution.add(Family::AmineOxide, 0.1);
        solution.add_ion(StrongIon::Chloride, 0.05);
        if let Some((per_water, anionic)) = micelles {
            Micelles { per_water, anionic }.act_on(&mut solution, end);
        }
        solve(&solution).ph
    }

    /// M. S. Fernández and P. Fromherz, J. Phys. Chem. 81 (1977) 1755 (from memory): −134 mV at the
    /// surface of dodecyl sulfate micelles without salt are 2.3 units, a tenfold of counter-ions
    /// takes one unit away.
    #[test]
    fn little_salt_lets_anionic_micelles_shift_more() {
        let alone = constant(None, 0.0);
        let shift = |per_water, end| constant(Some((per_water, true)), end) - alone;
        for (per_water, published) in [(0.003, 2.3), (0.006, 2.3), (0.06, 1.5), (0.3, 1.5)] {
            let most = shift(per_water, 1.0);
            assert!((most - published).abs() < 0.1, "{per_water}: {most}");
            let least = shift(per_water, 0.0);
            assert!((least - 0.5).abs() < 0.05, "{per_water}: {least}");
        }
        // Four tenths of a unit for four tenths of a tenfold.
        let between = shift(0.06 / 10.0_f64.powf(0.4), 1.0);
        assert!((between - 1.9).abs() < 0.1, "{between}");
        // Others leave the amine oxide alone.
        let others = constant(Some((0.06, false)), 1.0) - alone;
        assert!(others.abs() < 1e-9, "{others}");
    }
}
