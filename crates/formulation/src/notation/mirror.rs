//! Names of the model's choices as they are written in files.
//!
//! The model types do not derive serde, so that a rename in the code cannot
//! change a file. Each choice has a twin here, spelled as in the file, with
//! conversions both ways that the compiler checks for completeness.

use serde::{Deserialize, Serialize};

use crate::material;

/// Declares the twin of a plain enum and the conversions both ways.
macro_rules! mirror {
    ($(#[$doc:meta])* $twin:ident = $model:path { $($name:ident),+ $(,)? }) => {
        $(#[$doc])*
        #[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug, serde::Serialize, serde::Deserialize)]
        #[expect(missing_docs, reason = "the names are those of the model, which explains them")]
        pub enum $twin { $($name),+ }

        impl From<$model> for $twin {
            fn from(value: $model) -> Self {
                use $model as Model;
                match value { $(Model::$name => Self::$name),+ }
            }
        }
        impl From<$twin> for $model {
            fn from(value: $twin) -> Self {
                match value { $($twin::$name => Self::$name),+ }
            }
        }
    };
}

mirror!(
    /// How sure a value is.
    BasisName = material::Basis { Measured, Supplier, Published, Typical, Practice, Estimate }
);
mirror!(
    /// Charge class.
    ChargeName = material::Charge { Anionic, Amphoteric, NonIonic, Cationic }
);
mirror!(
    /// Kind of phase.
    PhaseKindName = material::PhaseKind { Water, Slurry, Surfactant, Oil, CoolDown, Adjust, Other }
);
mirror!(
    /// Kind of product.
    ProductKindName = material::ProductKind { RinseOff, LeaveOn }
);
mirror!(
    /// Hazard in handling.
    HazardName = material::Hazard { Dust, Corrosive, Irritant, Sensitiser, Flammable, Oxidiser }
);
mirror!(
    /// What a powder is wetted with.
    WettingMediumName = material::WettingMedium { Humectant, Oil, Surfactant, Alcohol }
);
mirror!(
    /// How well a preservative covers a group of organisms.
    CoverageName = material::Coverage { None, Weak, Good }
);
mirror!(
    /// Role of a material.
    RoleName = material::Role {
        Solvent, Surfactant, CoSurfactant, Thickener, Humectant, Emollient, Butter, Wax,
        Emulsifier, CoEmulsifier, Solubiliser, Conditioner, FilmFormer, Chelator, Acid, Base,
        Buffer, Salt, Preservative, PreservativeBooster, Antioxidant, Fragrance, EssentialOil,
        Colourant, Pearliser, Opacifier, Exfoliant, Absorbent, Protein, Vitamin, SkinActive,
        HairActive, Extract, UvFilter, Cooling, Foamer, Refatting, Suspending,
    }
);

/// What a constituent is counted as.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Serialize, Deserialize)]
#[expect(
    missing_docs,
    reason = "the names are those of the model, which explains them"
)]
pub enum ClassName {
    Water,
    Surfactant(ChargeName),
    Humectant,
    Oil,
    Emulsifier,
    Thickener,
    Conditioner,
    Electrolyte,
    AcidBase,
    Chelator,
    Preservative,
    Antioxidant,
    Fragrance,
    Colour,
    Solvent,
    Other,
}

impl From<material::Class> for ClassName {
    fn from(class: material::Class) -> Self {
        use material::Class;
        match class {
            Class::Water => Self::Water,
            Class::Surfactant(charge) => Self::Surfactant(charge.into()),
            Class::Humectant => Self::Humectant,
            Class::Oil => Self::Oil,
            Class::Emulsifier => Self::Emulsifier,
            Class::Thickener => Self::Thickener,
            Class::Conditioner => Self::Conditioner,
            Class::Electrolyte => Self::Electrolyte,
            Class::AcidBase => Self::AcidBase,
            Class::Chelator => Self::Chelator,
            Class::Preservative => Self::Preservative,
            Class::Antioxidant => Self::Antioxidant,
            Class::Fragrance => Self::Fragrance,
            Class::Colour => Self::Colour,
            Class::Solvent => Self::Solvent,
            Class::Other => Self::Other,
        }
    }
}

impl From<ClassName> for material::Class {
    fn from(name: ClassName) -> Self {
        match name {
            ClassName::Water => Self::Water,
            ClassName::Surfactant(charge) => Self::Surfactant(charge.into()),
            ClassName::Humectant => Self::Humectant,
            ClassName::Oil => Self::Oil,
            ClassName::Emulsifier => Self::Emulsifier,
            ClassName::Thickener => Self::Thickener,
            ClassName::Conditioner => Self::Conditioner,
            ClassName::Electrolyte => Self::Electrolyte,
            ClassName::AcidBase => Self::AcidBase,
            ClassName::Chelator => Self::Chelator,
            ClassName::Preservative => Self::Preservative,
            ClassName::Antioxidant => Self::Antioxidant,
            ClassName::Fragrance => Self::Fragrance,
            ClassName::Colour => Self::Colour,
            ClassName::Solvent => Self::Solvent,
            ClassName::Other => Self::Other,
        }
    }
}
