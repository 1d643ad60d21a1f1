//! The acids that preserve: how strong, how soluble in oil, how much it takes.

use super::acids::Family;

/// A preservative acid: only the undissociated form enters cells.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct PreservativeAcid {
    /// Its dissociation.
    pub family: Family,
    /// INCI name of the acid.
    pub inci: &'static str,
    /// Molar mass of the acid, g/mol.
    pub molar_mass: f64,
    /// Undissociated acid below which it does little, % of the formula; common practice,
    /// no source.
    pub least_percent: f64,
    /// pH at which it is used; common practice, no source.
    pub window: (f64, f64),
}

/// The preservative acids.
pub const ACIDS: [PreservativeAcid; 9] = [
    acid(Family::Benzoic, "Benzoic Acid", 122.123, 0.05, (2.5, 5.2)),
    acid(Family::Sorbic, "Sorbic Acid", 112.128, 0.03, (2.5, 5.5)),
    acid(
        Family::Dehydroacetic,
        "Dehydroacetic Acid",
        168.148,
        0.02,
        (2.5, 6.3),
    ),
    acid(
        Family::Levulinic,
        "Levulinic Acid",
        116.116,
        0.1,
        (2.5, 5.5),
    ),
    acid(Family::Anisic, "p-Anisic Acid", 152.149, 0.02, (2.5, 5.5)),
    acid(
        Family::Salicylic,
        "Salicylic Acid",
        138.122,
        0.02,
        (2.5, 4.5),
    ),
    acid(Family::Propionic, "Propionic Acid", 74.08, 0.1, (2.5, 5.5)),
    acid(Family::Formic, "Formic Acid", 46.025, 0.1, (2.5, 4.5)),
    acid(
        Family::Undecylenic,
        "Undecylenic Acid",
        184.28,
        0.05,
        (2.5, 6.0),
    ),
];

const fn acid(
    family: Family,
    inci: &'static str,
    molar_mass: f64,
    least_percent: f64,
    window: (f64, f64),
) -> PreservativeAcid {
    PreservativeAcid {
        family,
        inci,
        molar_mass,
        least_percent,
        window,
    }
}

impl PreservativeAcid {
    /// Octanol-water partition of the undissociated form, log₁₀ P, if it is known.
    pub fn log_p(&self) -> Option<f64> {
        super::substances::by_name(self.inci)?.log_p
    }
}
