//! What a constituent is counted as.

/// Charge class of a surfactant or polymer.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Charge {
    /// Negative: sulfates, sulfonates, soaps, acyl glutamates …
    Anionic,
    /// Both: betaines, amphoacetates; amine oxides are counted here.
    Amphoteric,
    /// None: glucosides, ethoxylates, alkanolamides …
    NonIonic,
    /// Positive: quaternary ammonium, ester quats, cationic polymers …
    Cationic,
}

impl Charge {
    /// All classes, in the order of display.
    pub const ALL: [Self; 4] = [
        Self::Anionic,
        Self::Amphoteric,
        Self::NonIonic,
        Self::Cationic,
    ];
    /// The trade's word.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Anionic => "anionic",
            Self::Amphoteric => "amphoteric",
            Self::NonIonic => "non-ionic",
            Self::Cationic => "cationic",
        }
    }
}

/// What a constituent is counted as in the composition, exactly one class each.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Class {
    /// Water.
    Water,
    /// Surface-active matter of a charge class that washes (active matter).
    Surfactant(Charge),
    /// Glycerin, glycols, sugar alcohols, sodium PCA, urea …
    Humectant,
    /// Oils, butters, waxes, esters, fatty alcohols, silicones, hydrocarbons.
    Oil,
    /// Emulsifiers of the oil phase that are not counted as washing actives.
    Emulsifier,
    /// Gums, cellulose, carbomer, clays that thicken.
    Thickener,
    /// Cationic conditioning agents and polymers that are not counted as washing actives.
    Conditioner,
    /// Inorganic salt such as sodium chloride or sulfate.
    Electrolyte,
    /// Organic or inorganic acid, base or buffer salt.
    AcidBase,
    /// Chelating agent.
    Chelator,
    /// Preservative.
    Preservative,
    /// Antioxidant.
    Antioxidant,
    /// Perfume, essential oil and their components.
    Fragrance,
    /// Colorant, pigment, mica.
    Colour,
    /// Volatile solvent such as ethanol.
    Solvent,
    /// Proteins, vitamins, panthenol, extracts, powders and all else that is known.
    Other,
}

impl Class {
    /// All classes, in the order of display from the bottom of the column up.
    pub const ALL: [Self; 19] = [
        Self::Water,
        Self::Surfactant(Charge::Anionic),
        Self::Surfactant(Charge::Amphoteric),
        Self::Surfactant(Charge::NonIonic),
        Self::Surfactant(Charge::Cationic),
        Self::Humectant,
        Self::Oil,
        Self::Emulsifier,
        Self::Thickener,
        Self::Conditioner,
        Self::Electrolyte,
        Self::AcidBase,
        Self::Chelator,
        Self::Preservative,
        Self::Antioxidant,
        Self::Fragrance,
        Self::Colour,
        Self::Solvent,
        Self::Other,
    ];
    /// The words shown for it.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Water => "water",
            Self::Surfactant(Charge::Anionic) => "anionic surfactant",
            Self::Surfactant(Charge::Amphoteric) => "amphoteric surfactant",
            Self::Surfactant(Charge::NonIonic) => "non-ionic surfactant",
            Self::Surfactant(Charge::Cationic) => "cationic surfactant",
            Self::Humectant => "humectant",
            Self::Oil => "oil",
            Self::Emulsifier => "emulsifier",
            Self::Thickener => "thickener",
            Self::Conditioner => "conditioner",
            Self::Electrolyte => "electrolyte",
            Self::AcidBase => "acid or base",
            Self::Chelator => "chelator",
            Self::Preservative => "preservative",
            Self::Antioxidant => "antioxidant",
            Self::Fragrance => "fragrance",
            Self::Colour => "colour",
            Self::Solvent => "solvent",
            Self::Other => "other",
        }
    }
    /// Place in [`Self::ALL`].
    pub fn index(self) -> usize {
        Self::ALL
            .iter()
            .position(|&c| c == self)
            .unwrap_or(Self::ALL.len() - 1)
    }
}
