//! The pH by which everything is judged: one, with what it rests on.
//!
//! Rules, preservation and read-outs all ask here, so that no two of them speak of
//! different values.

use super::acidity::{Acidity, NoPh};
use crate::quantity::{Ph, ph_to_tenth};

/// Where a pH is from.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum PhBasis {
    /// Measured by the maker.
    Measured,
    /// Estimated, to one figure.
    Estimated,
    /// What the maker aims at, since the estimate is too wide and does not contradict it.
    Target,
    /// Estimated, but as a range too wide for one figure.
    Range,
}

impl PhBasis {
    /// The words shown for it.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Measured => "measured",
            Self::Estimated => "estimated",
            Self::Target => "aimed at",
            Self::Range => "not known well",
        }
    }
}

/// Whether a pH aimed at lies surely outside of the estimated range, as far as one decimal tells:
/// then it is not reckoned with.
pub(crate) fn is_excluded(aim: Ph, acidity: &Acidity) -> bool {
    let figure = &acidity.figure;
    let aim = ph_to_tenth(aim.value());
    (figure.low.zip(figure.high))
        .filter(|_| acidity.middle.is_some())
        .is_some_and(|(low, high)| aim < ph_to_tenth(low) || aim > ph_to_tenth(high))
}

/// A pH and the range in which it lies; both ends are the same where it is known.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct PhInUse {
    /// Lowest.
    pub low: f64,
    /// The one figure to reckon with.
    pub ph: f64,
    /// Highest.
    pub high: f64,
    /// Where it is from.
    pub basis: PhBasis,
}

impl PhInUse {
    /// Measured, else estimated to one figure, else aimed at unless the estimated range
    /// excludes it, else that range.
    pub fn of(acidity: &Acidity, target: Option<Ph>) -> Option<Self> {
        let one = |ph, basis| Self {
            low: ph,
            ph,
            high: ph,
            basis,
        };
        let figure = &acidity.figure;
        if let Some(ph) = figure.measured {
            return Some(one(ph, PhBasis::Measured));
        }
        if let Some(ph) = figure.value {
            return Some(one(ph, PhBasis::Estimated));
        }
        let range = figure.low.zip(figure.high).zip(acidity.middle);
        match (target, range) {
            (Some(aim), _) if !is_excluded(aim, acidity) => Some(one(aim.value(), PhBasis::Target)),
            (_, Some(((low, high), ph))) => Some(Self {
                low,
                ph,
                high,
                basis: PhBasis::Range,
            }),
            (_, None) => None,
        }
    }

    /// The same where there is a water phase whose acids can be reckoned with.
    pub fn of_water_phase(acidity: &Acidity, target: Option<Ph>) -> Option<Self> {
        match acidity.absent {
            None | Some(NoPh::NothingKnown) => Self::of(acidity, target),
            Some(_) if acidity.figure.measured.is_some() => Self::of(acidity, target),
            Some(_) => None,
        }
    }

    /// Whether it surely lies below a figure, as far as one decimal tells.
    pub fn is_below(self, limit: f64) -> bool {
        ph_to_tenth(self.high) < ph_to_tenth(limit)
    }
    /// Whether it surely lies above a figure.
    pub fn is_above(self, limit: f64) -> bool {
        ph_to_tenth(self.low) > ph_to_tenth(limit)
    }
    /// Whether it surely lies outside a range.
    pub fn is_outside(self, low: f64, high: f64) -> bool {
        self.is_below(low) || self.is_above(high)
    }
    /// In words, to stand behind “at”, for example “pH 5.2 (measured)”, no finer than it is
    /// known.
    pub fn words(self) -> String {
        let Self { low, ph, high, .. } = self;
        match self.basis {
            PhBasis::Measured => format!("pH {ph:.1} (measured)"),
            PhBasis::Target => format!("pH {ph:.1} (what you aim at)"),
            PhBasis::Range if ph_to_tenth(high) > ph_to_tenth(low) => {
                format!("pH {low:.1} to {high:.1} (estimated)")
            }
            PhBasis::Estimated | PhBasis::Range => format!("pH {ph:.1} (estimated)"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::chemistry::{Figure, ph::Solution};

    #[test]
    fn one_order_of_grounds() {
        let mut acidity = Acidity {
            figure: Figure::default(),
            absent: None,
            middle: None,
            guess: None,
            ionic_strength: None,
            residual: 0.0,
            solution: Solution::new(),
            water: 1.0,
            widest: None,
        };
        let aim = Ph::new(5.2);
        let words = |a: &Acidity, aim| PhInUse::of(a, aim).map(PhInUse::words);
        assert_eq!(words(&acidity, None), None);
        assert_eq!(words(&acidity, aim).unwrap(), "pH 5.2 (what you aim at)");
        acidity.middle = Some(4.0);
        (acidity.figure.low, acidity.figure.high) = (Some(3.0), Some(5.15));
        // 5.15 is shown as 5.2, so the aim is not excluded.
        assert_eq!(words(&acidity, aim).unwrap(), "pH 5.2 (what you aim at)");
        acidity.figure.high = Some(5.0);
        assert_eq!(words(&acidity, aim).unwrap(), "pH 3.0 to 5.0 (estimated)");
        // Whatever is aimed at is reckoned with or told not to be, tenth by tenth.
        for hundredths in 250..600 {
            let aim = Ph::new(f64::from(hundredths) / 100.0).unwrap();
            let used = PhInUse::of(&acidity, Some(aim)).unwrap();
            let reckoned_with = used.basis == PhBasis::Target;
            assert_ne!(reckoned_with, is_excluded(aim, &acidity), "{aim}");
        }
        acidity.figure.value = Some(3.91);
        assert_eq!(words(&acidity, aim).unwrap(), "pH 3.9 (estimated)");
        acidity.figure.measured = Some(6.0);
        assert_eq!(words(&acidity, aim).unwrap(), "pH 6.0 (measured)");
    }
}
