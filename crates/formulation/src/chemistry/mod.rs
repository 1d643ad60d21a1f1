//! Chemistry of the mix, estimated: pH, preservation, water activity, density,
//! emulsification, electrolyte and natural origin, each with its method and range.

pub mod acids;
pub mod density;
pub mod ions;
pub mod ph;
pub mod substances;
pub mod water_activity;
