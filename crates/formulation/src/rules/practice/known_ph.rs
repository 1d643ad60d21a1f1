//! What is known of the pH: measured, aimed at, or estimated as a range.

use super::shown;
use crate::chemistry::Estimates;
use crate::finding::{Field, Remedy};
use crate::formula::Variant;
use crate::quantity::Ph;

/// Where the pH is from.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Origin {
    Measured,
    Aim,
    Estimate,
}

/// The pH, or the range in which it lies, to the decimal shown.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(super) struct KnownPh(Option<(f64, f64, Origin)>);

impl KnownPh {
    /// A measured pH, else the one aimed at, else the estimated range.
    pub fn of(variant: &Variant, estimates: &Estimates) -> Self {
        let stated = |ph: Option<Ph>, from| {
            let value = shown(ph?.value());
            Some((value, value, from))
        };
        let figure = &estimates.ph.figure;
        let estimate = || Some((shown(figure.low?), shown(figure.high?), Origin::Estimate));
        Self(
            stated(variant.measured.ph, Origin::Measured)
                .or_else(|| stated(variant.target_ph, Origin::Aim))
                .or_else(estimate),
        )
    }

    /// Whether it surely lies below a figure.
    pub fn is_below(self, limit: f64) -> bool {
        self.0.is_some_and(|(_, high, _)| high < shown(limit))
    }
    /// Whether it surely lies above a figure.
    pub fn is_above(self, limit: f64) -> bool {
        self.0.is_some_and(|(low, ..)| low > shown(limit))
    }
    /// Whether it surely lies outside a range.
    pub fn is_outside(self, low: f64, high: f64) -> bool {
        self.is_below(low) || self.is_above(high)
    }
    /// Whether it was measured on the product.
    pub fn is_measured(self) -> bool {
        matches!(self.0, Some((.., Origin::Measured)))
    }
    /// The upper end.
    pub fn high(self) -> Option<f64> {
        self.0.map(|(_, high, _)| high)
    }
    /// In words, to stand behind “at”, for example “pH 5.2 (measured)”.
    pub fn words(self) -> String {
        match self.0 {
            Some((ph, _, Origin::Measured)) => format!("pH {ph:.1} (measured)"),
            Some((ph, _, Origin::Aim)) => format!("pH {ph:.1} (what you aim at)"),
            Some((low, high, Origin::Estimate)) if high - low < 0.05 => {
                format!("pH {low:.1} (estimated)")
            }
            Some((low, high, Origin::Estimate)) => format!("pH {low:.1} to {high:.1} (estimated)"),
            None => "a pH that is not known".to_owned(),
        }
    }

    /// The field in which it can be stated.
    pub fn remedy(self) -> Remedy {
        Remedy::OpenField(match self.0 {
            Some((.., Origin::Aim)) => Field::TargetPh,
            _ => Field::MeasuredPh,
        })
    }
}
