//! Chemistry of the mix: pH, preservation, water activity, density, emulsions.
