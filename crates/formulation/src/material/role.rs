//! What a material does in a formula, and into which phase it goes.

/// What a material does in a formula; a material may have several roles.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
#[expect(
    missing_docs,
    reason = "the trade's words speak for themselves; `label` spells them out"
)]
pub enum Role {
    Solvent,
    Surfactant,
    CoSurfactant,
    Thickener,
    Humectant,
    Emollient,
    Butter,
    Wax,
    Emulsifier,
    CoEmulsifier,
    Solubiliser,
    Conditioner,
    FilmFormer,
    Chelator,
    Acid,
    Base,
    Buffer,
    Salt,
    Preservative,
    PreservativeBooster,
    Antioxidant,
    Fragrance,
    EssentialOil,
    Colourant,
    Pearliser,
    Opacifier,
    Exfoliant,
    Absorbent,
    Protein,
    Vitamin,
    SkinActive,
    HairActive,
    Extract,
    UvFilter,
    Cooling,
    Foamer,
    Refatting,
    Suspending,
}

impl Role {
    /// Every role, in the order of display.
    pub const ALL: [Self; 38] = [
        Self::Solvent,
        Self::Surfactant,
        Self::CoSurfactant,
        Self::Foamer,
        Self::Thickener,
        Self::Suspending,
        Self::Humectant,
        Self::Emollient,
        Self::Butter,
        Self::Wax,
        Self::Refatting,
        Self::Emulsifier,
        Self::CoEmulsifier,
        Self::Solubiliser,
        Self::Conditioner,
        Self::FilmFormer,
        Self::Chelator,
        Self::Acid,
        Self::Base,
        Self::Buffer,
        Self::Salt,
        Self::Preservative,
        Self::PreservativeBooster,
        Self::Antioxidant,
        Self::Fragrance,
        Self::EssentialOil,
        Self::Colourant,
        Self::Pearliser,
        Self::Opacifier,
        Self::Exfoliant,
        Self::Absorbent,
        Self::Protein,
        Self::Vitamin,
        Self::SkinActive,
        Self::HairActive,
        Self::Extract,
        Self::UvFilter,
        Self::Cooling,
    ];
    /// The words shown for it.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Solvent => "solvent",
            Self::Surfactant => "surfactant",
            Self::CoSurfactant => "co-surfactant",
            Self::Thickener => "thickener",
            Self::Humectant => "humectant",
            Self::Emollient => "emollient",
            Self::Butter => "butter",
            Self::Wax => "wax",
            Self::Emulsifier => "emulsifier",
            Self::CoEmulsifier => "co-emulsifier",
            Self::Solubiliser => "solubiliser",
            Self::Conditioner => "conditioner",
            Self::FilmFormer => "film former",
            Self::Chelator => "chelator",
            Self::Acid => "acid",
            Self::Base => "base",
            Self::Buffer => "buffer",
            Self::Salt => "salt",
            Self::Preservative => "preservative",
            Self::PreservativeBooster => "preservative booster",
            Self::Antioxidant => "antioxidant",
            Self::Fragrance => "fragrance",
            Self::EssentialOil => "essential oil",
            Self::Colourant => "colourant",
            Self::Pearliser => "pearliser",
            Self::Opacifier => "opacifier",
            Self::Exfoliant => "exfoliant",
            Self::Absorbent => "absorbent powder",
            Self::Protein => "protein",
            Self::Vitamin => "vitamin",
            Self::SkinActive => "skin active",
            Self::HairActive => "hair active",
            Self::Extract => "extract",
            Self::UvFilter => "UV filter",
            Self::Cooling => "cooling agent",
            Self::Foamer => "foam booster",
            Self::Refatting => "refatting agent",
            Self::Suspending => "suspending agent",
        }
    }
}

/// The kind of phase a material or a phase of a formula belongs to.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum PhaseKind {
    /// Water and what dissolves in it.
    Water,
    /// A gum or powder wetted in a humectant or oil before water goes in.
    Slurry,
    /// Surfactants.
    Surfactant,
    /// Oils, waxes and emulsifiers.
    Oil,
    /// Added below the temperature that fragrance and preservative bear.
    CoolDown,
    /// Acid, base or salt added at the end to reach pH or thickness.
    Adjust,
    /// Anything else.
    Other,
}

impl PhaseKind {
    /// All kinds.
    pub const ALL: [Self; 7] = [
        Self::Water,
        Self::Slurry,
        Self::Surfactant,
        Self::Oil,
        Self::CoolDown,
        Self::Adjust,
        Self::Other,
    ];
    /// The words shown for it.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Water => "water phase",
            Self::Slurry => "slurry",
            Self::Surfactant => "surfactant phase",
            Self::Oil => "oil phase",
            Self::CoolDown => "cool-down phase",
            Self::Adjust => "adjustment",
            Self::Other => "other",
        }
    }
}
