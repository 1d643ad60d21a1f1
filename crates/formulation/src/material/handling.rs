//! What to mind when a material is handled.

/// Hazards in handling, for cautions and protective equipment.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Hazard {
    /// Fine powder that irritates the airways.
    Dust,
    /// Strong acid or base.
    Corrosive,
    /// Irritates eyes or skin in concentrated form.
    Irritant,
    /// May sensitise.
    Sensitiser,
    /// Flammable liquid or vapour.
    Flammable,
    /// Oxidiser.
    Oxidiser,
}

impl Hazard {
    /// All of them.
    pub const ALL: [Self; 6] = [
        Self::Dust,
        Self::Corrosive,
        Self::Irritant,
        Self::Sensitiser,
        Self::Flammable,
        Self::Oxidiser,
    ];

    /// The word shown.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Dust => "dust",
            Self::Corrosive => "corrosive",
            Self::Irritant => "irritant",
            Self::Sensitiser => "sensitiser",
            Self::Flammable => "flammable",
            Self::Oxidiser => "oxidiser",
        }
    }
}

/// What a powder may be wetted with before water goes in.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum WettingMedium {
    /// Glycerin, glycol.
    Humectant,
    /// Oil or ester.
    Oil,
    /// A surfactant concentrate.
    Surfactant,
    /// Alcohol.
    Alcohol,
}

impl WettingMedium {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Humectant, Self::Oil, Self::Surfactant, Self::Alcohol];

    /// The word shown.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Humectant => "humectant",
            Self::Oil => "oil",
            Self::Surfactant => "surfactant",
            Self::Alcohol => "alcohol",
        }
    }
}
