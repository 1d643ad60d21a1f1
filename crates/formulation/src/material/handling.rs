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
