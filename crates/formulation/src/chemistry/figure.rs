//! One estimated figure with its range, its method and what is not known.

use std::sync::Arc;

/// A figure of the mix: measured, estimated, or not known.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Figure {
    /// The best estimate; none if nothing can be said or the range is too wide for one
    /// number.
    pub value: Option<f64>,
    /// Lower end of the range.
    pub low: Option<f64>,
    /// Upper end of the range.
    pub high: Option<f64>,
    /// What the maker measured; it overrides the estimate.
    pub measured: Option<f64>,
    /// Whether the mix lies within the range of the method.
    pub in_range: bool,
    /// How it was computed.
    pub method: &'static str,
    /// For which mixes and how well the method holds.
    pub validity: &'static str,
    /// Where method and constants are published.
    pub source: &'static str,
    /// What is not known, by name.
    pub unknown: Vec<Arc<str>>,
    /// What else to mind, in words.
    pub remarks: Vec<String>,
}

impl Figure {
    /// What to show: the measured value, else the estimate.
    pub fn shown(&self) -> Option<f64> {
        self.measured.or(self.value)
    }
    /// Whether there is a number or a range to show.
    pub fn is_known(&self) -> bool {
        self.shown().is_some() || self.low.is_some()
    }
    /// A figure of a method, still without value.
    pub fn of(method: &'static str, validity: &'static str, source: &'static str) -> Self {
        Self {
            method,
            validity,
            source,
            in_range: true,
            ..Self::default()
        }
    }
    /// The same figure without an estimate, for the reason given.
    pub fn without(self, reason: &str) -> Self {
        Self {
            value: None,
            low: None,
            high: None,
            in_range: false,
            remarks: vec![reason.to_owned()],
            ..self
        }
    }
    /// Sets value and range.
    pub fn with(self, value: f64, low: f64, high: f64) -> Self {
        Self {
            value: Some(value),
            low: Some(low.min(value)),
            high: Some(high.max(value)),
            ..self
        }
    }
}
