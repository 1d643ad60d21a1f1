//! What was measured on a product.

use std::sync::Arc;

use crate::quantity::{MassDensity, Ph};

/// What was measured on this variant; a measured value overrides every estimate.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Measured {
    /// pH of the finished product, at 25 °C as is.
    pub ph: Option<Ph>,
    /// Density of the finished product.
    pub density: Option<MassDensity>,
    /// Water activity, 0 to 1.
    pub water_activity: Option<f64>,
    /// Viscosity in mPa·s with the words of its method.
    pub viscosity_mpa_s: Option<(f64, Arc<str>)>,
}
