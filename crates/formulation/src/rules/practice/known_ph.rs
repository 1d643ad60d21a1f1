//! What is known of the pH, for the rules of practice.

use super::shown;
use crate::chemistry::Estimates;
use crate::chemistry::ph_in_use::{PhBasis, PhInUse};
use crate::finding::{Remedy, StatedField};
use crate::formula::Variant;

/// The pH by which everything is judged, or that none is known.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(super) struct KnownPh(Option<PhInUse>);

impl KnownPh {
    /// That of [`PhInUse::of`].
    pub fn of(variant: &Variant, estimates: &Estimates) -> Self {
        Self(PhInUse::of(&estimates.ph, variant.target_ph))
    }

    /// Whether it surely lies below a figure.
    pub fn is_below(self, limit: f64) -> bool {
        self.0.is_some_and(|ph| ph.is_below(limit))
    }
    /// Whether it surely lies above a figure.
    pub fn is_above(self, limit: f64) -> bool {
        self.0.is_some_and(|ph| ph.is_above(limit))
    }
    /// Whether it surely lies outside a range.
    pub fn is_outside(self, low: f64, high: f64) -> bool {
        self.0.is_some_and(|ph| ph.is_outside(low, high))
    }
    /// Whether it was measured on the product.
    pub fn is_measured(self) -> bool {
        self.0.is_some_and(|ph| ph.basis == PhBasis::Measured)
    }
    /// The pH at which most of an acid is dissolved as its ion, to the decimal shown: the upper
    /// end. `own` is the pH of a saturated solution of an acid that the estimate leaves out; where
    /// nothing alkaline is there, it brings the pH down to that.
    pub fn dissolving(self, own: Option<f64>) -> Option<f64> {
        const NEUTRAL: f64 = 7.0;
        self.0.map(|ph| {
            let estimated = matches!(ph.basis, PhBasis::Estimated | PhBasis::Range);
            shown(match own.filter(|_| estimated) {
                Some(own) if ph.low < NEUTRAL => ph.low.min(own),
                Some(_) => ph.low,
                None => ph.high,
            })
        })
    }
    /// In words, to stand behind “at”, for example “pH 5.2 (measured)”.
    pub fn words(self) -> String {
        self.0
            .map_or_else(|| "a pH that is not known".to_owned(), PhInUse::words)
    }

    /// What can be done about it: where it was measured, it is adjusted; else it can be stated.
    pub fn remedy(self) -> Remedy {
        match self.0.map(|ph| ph.basis) {
            Some(PhBasis::Measured) => Remedy::AdjustPh,
            Some(PhBasis::Target) => Remedy::OpenField(StatedField::TargetPh),
            _ => Remedy::OpenField(StatedField::MeasuredPh),
        }
    }
}
