//! What a line is there for in the sense of the law, and what a material can serve.
//!
//! The same substance may be limited as a preservative and free, or limited otherwise, as
//! a solvent or an active. What decides is what it is there for in this product.

use crate::material::{Class, Constituent, Material, Role};

/// What a line is there for in the sense of the law.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Purpose {
    /// Keeps micro-organisms from growing in the product.
    Preservative,
    /// Gives or masks a scent.
    Fragrance,
    /// Dissolves or carries others.
    Solvent,
    /// Acts on skin or hair: keratolytic, anti-dandruff, vitamin …
    Active,
    /// Filters UV light to protect the skin.
    UvFilter,
    /// Colours the product or the skin.
    Colorant,
    /// Brings or keeps the pH where it is wanted.
    PhAdjuster,
    /// Keeps oil and water together.
    Emulsifier,
    /// Washes.
    Surfactant,
    /// Gives body.
    Thickener,
    /// Greases or smooths.
    Emollient,
    /// Keeps moisture.
    Humectant,
    /// Binds metals.
    Chelator,
    /// Keeps oils from turning rancid.
    Antioxidant,
    /// Conditions hair or skin.
    Conditioner,
    /// Makes cloudy or pearly.
    Opacifier,
    /// Rubs.
    Abrasive,
    /// Takes up moisture or fat, or fills a powder.
    Absorbent,
    /// Anything else.
    Other,
}

impl Purpose {
    /// All purposes, in the order of display.
    pub const ALL: [Self; 19] = [
        Self::Preservative,
        Self::Fragrance,
        Self::Solvent,
        Self::Active,
        Self::UvFilter,
        Self::Colorant,
        Self::PhAdjuster,
        Self::Emulsifier,
        Self::Surfactant,
        Self::Thickener,
        Self::Emollient,
        Self::Humectant,
        Self::Chelator,
        Self::Antioxidant,
        Self::Conditioner,
        Self::Opacifier,
        Self::Abrasive,
        Self::Absorbent,
        Self::Other,
    ];
    /// The words shown for it.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Preservative => "preservative",
            Self::Fragrance => "fragrance",
            Self::Solvent => "solvent",
            Self::Active => "active",
            Self::UvFilter => "UV filter",
            Self::Colorant => "colorant",
            Self::PhAdjuster => "pH adjuster",
            Self::Emulsifier => "emulsifier",
            Self::Surfactant => "surfactant",
            Self::Thickener => "thickener",
            Self::Emollient => "emollient",
            Self::Humectant => "humectant",
            Self::Chelator => "chelator",
            Self::Antioxidant => "antioxidant",
            Self::Conditioner => "conditioner",
            Self::Opacifier => "opacifier",
            Self::Abrasive => "abrasive",
            Self::Absorbent => "absorbent",
            Self::Other => "other",
        }
    }
    /// A purpose by its word; case, hyphens and spaces do not matter.
    pub fn named(word: &str) -> Option<Self> {
        let plain = |t: &str| -> String {
            t.chars()
                .filter(|c| c.is_alphanumeric())
                .flat_map(char::to_lowercase)
                .collect()
        };
        let word = plain(word);
        Self::ALL.into_iter().find(|p| plain(p.label()) == word)
    }
    /// What a material with a role is there for.
    pub const fn of_role(role: Role) -> Self {
        match role {
            Role::Solvent => Self::Solvent,
            Role::Surfactant | Role::CoSurfactant | Role::Foamer => Self::Surfactant,
            Role::Thickener | Role::Suspending | Role::FilmFormer => Self::Thickener,
            Role::Humectant => Self::Humectant,
            Role::Emollient | Role::Butter | Role::Wax | Role::Refatting => Self::Emollient,
            Role::Emulsifier | Role::CoEmulsifier | Role::Solubiliser => Self::Emulsifier,
            Role::Conditioner | Role::Protein => Self::Conditioner,
            Role::Chelator => Self::Chelator,
            Role::Acid | Role::Base | Role::Buffer => Self::PhAdjuster,
            // What strengthens a preservative is not one in the sense of the law.
            Role::Salt | Role::PreservativeBooster => Self::Other,
            Role::Preservative => Self::Preservative,
            Role::Antioxidant => Self::Antioxidant,
            Role::Fragrance | Role::EssentialOil => Self::Fragrance,
            Role::Colourant => Self::Colorant,
            Role::Pearliser | Role::Opacifier => Self::Opacifier,
            Role::Exfoliant => Self::Abrasive,
            Role::Absorbent => Self::Absorbent,
            Role::Vitamin | Role::SkinActive | Role::HairActive | Role::Extract | Role::Cooling => {
                Self::Active
            }
            Role::UvFilter => Self::UvFilter,
        }
    }
    /// What a substance of a class is there for.
    pub const fn of_class(class: Class) -> Self {
        match class {
            Class::Water | Class::Solvent => Self::Solvent,
            Class::Surfactant(_) => Self::Surfactant,
            Class::Humectant => Self::Humectant,
            Class::Oil => Self::Emollient,
            Class::Emulsifier => Self::Emulsifier,
            Class::Thickener => Self::Thickener,
            Class::Conditioner => Self::Conditioner,
            Class::AcidBase => Self::PhAdjuster,
            Class::Chelator => Self::Chelator,
            Class::Preservative => Self::Preservative,
            Class::Antioxidant => Self::Antioxidant,
            Class::Fragrance => Self::Fragrance,
            Class::Colour => Self::Colorant,
            Class::Electrolyte | Class::Other => Self::Other,
        }
    }
}

/// On what ground a purpose is taken.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum PurposeGround {
    /// Of several that the material can serve, the likeliest.
    Likely,
    /// The material serves no other.
    Only,
    /// The maker says so.
    Stated,
}

/// What something is there for, and on what ground.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub struct Served {
    /// What for.
    pub purpose: Purpose,
    /// On what ground.
    pub ground: PurposeGround,
}

/// A constituent is what its material is about if it makes up at least this share of what
/// is not water in it; common practice, no source.
const PRINCIPAL: f64 = 0.2;

/// Whether a material is a blend made to preserve: how it preserves is stated, and it has more
/// than one ingredient. A single substance that preserves may be there for another thing.
pub fn is_preservative_blend(material: &Material) -> bool {
    let counts = |c: &&Constituent| c.incidental.is_none() && c.class != Class::Water;
    material.preservation.is_some() && material.constituents.iter().filter(counts).nth(1).is_some()
}

/// The purposes a material can serve by its roles, else by its main constituent, each once; the
/// one named first by the material first. A blend made to preserve serves nothing else, whatever
/// roles its substances have by themselves.
pub fn possible(material: &Material) -> impl Iterator<Item = Purpose> {
    let preserving = (material.preservation.is_some()).then_some(Purpose::Preservative);
    let roles: &[Role] = if is_preservative_blend(material) {
        &[]
    } else {
        &material.roles
    };
    let by_role = roles.iter().map(|&role| Purpose::of_role(role));
    let untold = preserving.is_none() && material.roles.is_empty();
    let main = material.main_constituent().map(|main| main.class);
    let by_class = main.filter(|&class| untold || class == Class::Preservative);
    let none = (untold && main.is_none()).then_some(Purpose::Other);
    let mut seen = 0_u32;
    (preserving.into_iter().chain(by_role))
        .chain(by_class.map(Purpose::of_class))
        .chain(none)
        .filter(move |&purpose| {
            let bit = 1 << purpose as u32;
            let new = seen & bit == 0;
            seen |= bit;
            new
        })
}

/// What a constituent of a line is there for. The purpose of the line is that of what its
/// material is about; what else is in the material serves what its class says, for example
/// the preservative of a surfactant solution. `water` is the share of water in the material.
pub fn of_constituent(line: Served, water: f64, constituent: &Constituent) -> Served {
    let own = Served {
        purpose: Purpose::of_class(constituent.class),
        ground: PurposeGround::Only,
    };
    let principal = constituent.incidental.is_none()
        && constituent.class != Class::Water
        && constituent.share.typical.value() >= PRINCIPAL * (1.0 - water);
    match line.ground {
        _ if !principal => own,
        PurposeGround::Stated => line,
        PurposeGround::Likely if constituent.class == Class::Preservative => line,
        PurposeGround::Likely | PurposeGround::Only => own,
    }
}
