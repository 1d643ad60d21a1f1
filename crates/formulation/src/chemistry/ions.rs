//! Strong ions: those that keep their charge at every pH.

/// A charge in units of the elementary charge.
pub type ChargeNumber = i8;

/// An ion that neither takes up nor gives off protons between pH 0 and 14.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum StrongIon {
    /// Na⁺.
    Sodium,
    /// K⁺.
    Potassium,
    /// Mg²⁺.
    Magnesium,
    /// Ca²⁺.
    Calcium,
    /// Zn²⁺.
    Zinc,
    /// Cl⁻.
    Chloride,
    /// Any other univalent anion of a strong acid (nitrate, bromide, methosulfate …).
    OtherAnion,
    /// Any other univalent cation that is not an acid (quaternary ammonium).
    OtherCation,
}

impl StrongIon {
    /// Its charge.
    pub const fn charge(self) -> ChargeNumber {
        match self {
            Self::Sodium | Self::Potassium | Self::OtherCation => 1,
            Self::Magnesium | Self::Calcium | Self::Zinc => 2,
            Self::Chloride | Self::OtherAnion => -1,
        }
    }
}
