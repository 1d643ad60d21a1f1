//! A raw material: what the jar contains and how it may be used, each value with
//! its source.

use std::fmt;
use std::sync::Arc;

use crate::cas::Cas;
use crate::kinds::Kinds;
use crate::quantity::{MassDensity, MassFraction, Percent, Ph, PhRange, Spread, Temperature};

/// The stable name of a material on the shelf: lower-case words joined by hyphens.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct MaterialId(Arc<str>);

impl MaterialId {
    /// Makes an id from any text by keeping letters and digits in lower case.
    pub fn from_name(name: &str) -> Self {
        let mut id = String::with_capacity(name.len());
        for c in name.chars() {
            if c.is_alphanumeric() {
                id.extend(c.to_lowercase());
            } else if !id.is_empty() && !id.ends_with('-') {
                id.push('-');
            }
        }
        Self(id.trim_end_matches('-').into())
    }
    /// The text.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for MaterialId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}
impl fmt::Debug for MaterialId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// How sure a value is.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Basis {
    /// Measured by the maker or by a laboratory.
    Measured,
    /// Stated on the supplier's certificate or data sheet for this very material.
    Supplier,
    /// In a published source that is named.
    Published,
    /// As data sheets of this kind of material usually give it; from memory.
    Typical,
    /// Common practice of the trade; no source.
    Practice,
    /// Computed or estimated by a named method.
    Estimate,
}

impl Basis {
    /// The words shown for it.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Measured => "measured",
            Self::Supplier => "supplier's document",
            Self::Published => "published",
            Self::Typical => "typical supplier data, from memory",
            Self::Practice => "common practice, no source",
            Self::Estimate => "estimate",
        }
    }
}

/// Where a value is from.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Source {
    /// How sure it is.
    pub basis: Basis,
    /// The document, table or reason, in words; may be empty for `Practice`.
    pub text: Arc<str>,
}

impl Source {
    /// A source with words.
    pub fn new(basis: Basis, text: impl Into<Arc<str>>) -> Self {
        Self {
            basis,
            text: text.into(),
        }
    }
}

impl fmt::Display for Source {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.text.is_empty() {
            f.write_str(self.basis.label())
        } else {
            write!(f, "{} ({})", self.text, self.basis.label())
        }
    }
}

/// A value and where it is from.
#[derive(Clone, PartialEq, Debug)]
pub struct Sourced<T> {
    /// The value.
    pub value: T,
    /// Where it is from.
    pub source: Source,
}

impl<T> Sourced<T> {
    /// Pairs a value with its source.
    pub const fn new(value: T, source: Source) -> Self {
        Self { value, source }
    }
}

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

/// One substance in a raw material.
#[derive(Clone, PartialEq, Debug)]
pub struct Constituent {
    /// INCI name, in the usual mixed-case spelling; compared without regard to case.
    pub inci: Arc<str>,
    /// CAS number if one is assigned.
    pub cas: Option<Cas>,
    /// Share of the material: low, typical, high.
    pub share: Spread,
    /// What it is counted as.
    pub class: Class,
    /// Present in the raw material but not an ingredient to be listed by itself
    /// (for example a processing residue), with the reason.
    pub incidental: Option<Arc<str>>,
    /// Source of the share, where it differs from the material's.
    pub source: Option<Source>,
}

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

/// Whether the product stays on the skin.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum ProductKind {
    /// Washed off after use.
    RinseOff,
    /// Stays on.
    LeaveOn,
}

impl ProductKind {
    /// All kinds, in the order of display.
    pub const ALL: [Self; 2] = [Self::RinseOff, Self::LeaveOn];
    /// The trade's word.
    pub const fn label(self) -> &'static str {
        match self {
            Self::RinseOff => "rinse-off",
            Self::LeaveOn => "leave-on",
        }
    }
}

/// Usual use level of a material in a kind of product, as % w/w of the formula.
#[derive(Clone, PartialEq, Debug)]
pub struct UseRange {
    /// For which kind.
    pub kind: ProductKind,
    /// Lowest usual level.
    pub low: Percent,
    /// Highest usual or recommended level.
    pub high: Percent,
    /// Whether `high` is a maximum the supplier sets, not only a habit.
    pub supplier_maximum: bool,
    /// Where it is from.
    pub source: Source,
}

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

/// How well a preservative covers a group of organisms.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Coverage {
    /// Not covered.
    None,
    /// Weak; needs a partner.
    Weak,
    /// Good at the stated dose.
    Good,
}

/// What a preservative does, and at which dose of the raw material.
#[derive(Clone, PartialEq, Debug)]
pub struct Preservation {
    /// Gram-positive and gram-negative bacteria, the weaker of the two.
    pub bacteria: Coverage,
    /// Yeast.
    pub yeast: Coverage,
    /// Mould.
    pub mould: Coverage,
    /// Lowest effective dose of the raw material, % w/w.
    pub dose_low: Percent,
    /// Highest dose of the raw material, % w/w.
    pub dose_high: Percent,
    /// pH at which it works.
    pub ph: Option<PhRange>,
    /// Releases formaldehyde.
    pub formaldehyde_donor: bool,
    /// Where it is from.
    pub source: Source,
}

/// What a material of unknown acid or base content does to pH, from the maker's
/// or supplier's titration.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Titration {
    /// Millimoles of strong acid (positive) or strong base (negative) that bring
    /// one gram of the material to `to_ph`.
    pub mmol_acid_per_gram: f64,
    /// The end point of the titration.
    pub to_ph: Ph,
}

/// Effect on pH of a material whose acids and bases are not all listed.
#[derive(Clone, PartialEq, Debug)]
pub enum Alkalinity {
    /// Its constituents tell all.
    Neutral,
    /// Unknown; the pH of the material as sold gives the direction.
    Unknown {
        /// pH of the material or of its usual test solution.
        ph_as_sold: Option<PhRange>,
        /// Largest unlisted base (positive) or acid (negative) it may bring, mmol per gram.
        base_mmol_per_gram: Option<(f64, f64)>,
        /// Where it is from.
        source: Source,
    },
    /// Titrated.
    Titrated(Sourced<Titration>),
}

impl Alkalinity {
    /// Where it is from; none where the constituents tell all.
    pub const fn source(&self) -> Option<&Source> {
        match self {
            Self::Neutral => None,
            Self::Unknown { source, .. } => Some(source),
            Self::Titrated(titration) => Some(&titration.source),
        }
    }

    /// In words; none where the constituents tell all.
    pub fn words(&self) -> Option<String> {
        match self {
            Self::Neutral => None,
            Self::Unknown {
                ph_as_sold,
                base_mmol_per_gram,
                ..
            } => {
                let sold = ph_as_sold.as_ref().map_or_else(
                    || "pH as sold not known".to_owned(),
                    |ph| format!("pH {} to {} as sold", ph.low.value(), ph.high.value()),
                );
                Some(match base_mmol_per_gram {
                    Some((low, high)) => {
                        format!(
                            "{sold}; {low} to {high} mmol of base per gram beside what is listed"
                        )
                    }
                    None => sold,
                })
            }
            Self::Titrated(titration) => Some(format!(
                "{} mmol of acid per gram bring it to pH {}",
                titration.value.mmol_acid_per_gram,
                titration.value.to_ph.value()
            )),
        }
    }
}

/// The supplier's maximum use levels of a fragrance per product category.
#[derive(Clone, PartialEq, Debug)]
pub struct FragranceLevel {
    /// Category of the fragrance trade association's standards, "1" to "12", with
    /// letters where divided ("5A").
    pub category: Arc<str>,
    /// Highest level in the finished product, % w/w.
    pub maximum: Percent,
}

/// Share of natural origin by ISO 16128, excluding formulation water.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct NaturalOrigin {
    /// Lowest index, 0 to 1.
    pub low: f64,
    /// Highest index, 0 to 1.
    pub high: f64,
}

/// A raw material: one jar on the shelf.
#[derive(Clone, PartialEq, Debug)]
pub struct Material {
    /// Stable identity.
    pub id: MaterialId,
    /// Trade name in generic words.
    pub name: Arc<str>,
    /// Other names by which it is found.
    pub synonyms: Vec<Arc<str>>,
    /// The maker's supplier.
    pub supplier: Option<Arc<str>>,
    /// What it contains; shares add up to at most 1, the rest is unknown.
    pub constituents: Vec<Constituent>,
    /// What it does.
    pub roles: Vec<Role>,
    /// Charge class of its surface-active or polymeric matter.
    pub charge: Option<Charge>,
    /// The kind of phase it usually goes into.
    pub phase: Option<PhaseKind>,
    /// Usual levels per kind of product.
    pub use_ranges: Vec<UseRange>,
    /// pH at which it is stable and works.
    pub ph_window: Option<Sourced<PhRange>>,
    /// Highest process temperature it bears.
    pub max_temperature: Option<Sourced<Temperature>>,
    /// Density at 20 °C unless the source says otherwise.
    pub density: Option<Sourced<MassDensity>>,
    /// HLB of an emulsifier or surfactant, Griffin's scale 0 to 20 (up to 40 for soaps).
    pub hlb: Option<Sourced<f64>>,
    /// HLB an oil requires for an oil-in-water emulsion.
    pub required_hlb: Option<Sourced<f64>>,
    /// Natural origin index by ISO 16128.
    pub natural_origin: Option<Sourced<NaturalOrigin>>,
    /// What to mind in handling.
    pub hazards: Vec<Hazard>,
    /// A gum or powder that must be wetted with one of these before water goes in.
    pub wet_with: Vec<WettingMedium>,
    /// Preservative data.
    pub preservation: Option<Preservation>,
    /// Effect on pH beyond the listed constituents.
    pub alkalinity: Alkalinity,
    /// Maximum levels of a fragrance per category, from the supplier's certificate.
    pub fragrance_levels: Vec<FragranceLevel>,
    /// Free words.
    pub note: Arc<str>,
    /// Source of every value that names none of its own.
    pub source: Source,
}

/// A value of a material that may have a source of its own.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum SourcedValue {
    /// pH at which it is stable and works.
    PhWindow,
    /// Highest process temperature.
    MaxTemperature,
    /// Density.
    Density,
    /// HLB.
    Hlb,
    /// Required HLB.
    RequiredHlb,
    /// Natural origin index.
    NaturalOrigin,
    /// Preservative data.
    Preservation,
    /// Effect on pH.
    Alkalinity,
}

impl Material {
    /// The source of every value that is stated.
    pub fn value_sources(&self) -> impl Iterator<Item = (SourcedValue, &Source)> {
        fn of<T>(value: Option<&Sourced<T>>) -> Option<&Source> {
            value.map(|v| &v.source)
        }
        [
            (SourcedValue::PhWindow, of(self.ph_window.as_ref())),
            (
                SourcedValue::MaxTemperature,
                of(self.max_temperature.as_ref()),
            ),
            (SourcedValue::Density, of(self.density.as_ref())),
            (SourcedValue::Hlb, of(self.hlb.as_ref())),
            (SourcedValue::RequiredHlb, of(self.required_hlb.as_ref())),
            (
                SourcedValue::NaturalOrigin,
                of(self.natural_origin.as_ref()),
            ),
            (
                SourcedValue::Preservation,
                self.preservation.as_ref().map(|p| &p.source),
            ),
            (SourcedValue::Alkalinity, self.alkalinity.source()),
        ]
        .into_iter()
        .filter_map(|(value, source)| Some((value, source?)))
    }

    /// An empty material of unknown composition, from which others are built.
    pub fn unknown(id: MaterialId, name: impl Into<Arc<str>>) -> Self {
        Self {
            id,
            name: name.into(),
            synonyms: Vec::new(),
            supplier: None,
            constituents: Vec::new(),
            roles: Vec::new(),
            charge: None,
            phase: None,
            use_ranges: Vec::new(),
            ph_window: None,
            max_temperature: None,
            density: None,
            hlb: None,
            required_hlb: None,
            natural_origin: None,
            hazards: Vec::new(),
            wet_with: Vec::new(),
            preservation: None,
            alkalinity: Alkalinity::Unknown {
                ph_as_sold: None,
                base_mmol_per_gram: None,
                source: Source::new(Basis::Practice, ""),
            },
            fragrance_levels: Vec::new(),
            note: "".into(),
            source: Source::new(Basis::Practice, "entered without a source"),
        }
    }

    /// A material that is the pure substance of one INCI name.
    pub fn pure(
        id: MaterialId,
        name: impl Into<Arc<str>>,
        inci: impl Into<Arc<str>>,
        cas: Option<Cas>,
        class: Class,
    ) -> Self {
        let mut material = Self::unknown(id, name);
        material.constituents.push(Constituent {
            inci: inci.into(),
            cas,
            share: Spread::exact(MassFraction::ONE),
            class,
            incidental: None,
            source: None,
        });
        material.source = Source::new(Basis::Practice, "taken as the pure substance");
        material
    }

    /// The INCI names that are ingredients, in the order listed.
    pub fn inci_names(&self) -> impl Iterator<Item = &Arc<str>> {
        self.constituents
            .iter()
            .filter(|c| c.incidental.is_none())
            .map(|c| &c.inci)
    }

    /// The INCI names joined with commas, as shown under the name.
    pub fn inci_line(&self) -> String {
        self.inci_names()
            .map(AsRef::as_ref)
            .collect::<Vec<&str>>()
            .join(", ")
    }

    /// The largest constituent that is neither water nor salt: what a solution is called by.
    pub fn main_constituent(&self) -> Option<&Constituent> {
        self.constituents
            .iter()
            .filter(|c| !matches!(c.class, Class::Water | Class::Electrolyte))
            .max_by(|a, b| a.share.typical.value().total_cmp(&b.share.typical.value()))
    }

    /// The part of the material that no constituent accounts for.
    pub fn unknown_share(&self) -> MassFraction {
        let known: MassFraction = self.constituents.iter().map(|c| c.share.typical).sum();
        let rest = 1.0 - known.value();
        // Below a millionth it is rounding of the data, not an unknown.
        if rest < 1e-6 {
            MassFraction::ZERO
        } else {
            MassFraction::new(rest)
        }
    }

    /// Whether it has a role.
    pub fn has_role(&self, role: Role) -> bool {
        self.roles.contains(&role)
    }

    /// Whether it can preserve a formula.
    pub fn can_preserve(&self) -> bool {
        self.preservation.is_some()
            || self.has_role(Role::Preservative)
            // A raw material that is itself preserved does not preserve the formula.
            || self.share_of(Class::Preservative).value() >= 0.2
                && !self.has_role(Role::PreservativeBooster)
    }

    /// The perfume or oil of a material to which its incidental scents belong: they are
    /// part of its weight.
    pub fn scent(&self) -> Option<&Constituent> {
        self.constituents
            .iter()
            .filter(|c| c.class == Class::Fragrance && c.incidental.is_none())
            .max_by(|a, b| a.share.typical.value().total_cmp(&b.share.typical.value()))
    }

    /// Share of a constituent in the material; of its [`Self::scent`], which is passed in,
    /// with all components. Where the whole composition is known, what is not the oil bounds
    /// it: an oil that is the only content is 100 %, however much its components vary.
    pub fn share_with_components(
        &self,
        constituent: &Constituent,
        scent: Option<&Constituent>,
    ) -> Spread {
        let is_scent = |c: &Constituent| scent.is_some_and(|s| s.inci == c.inci);
        if !is_scent(constituent) {
            return constituent.share;
        }
        let is_part = |c: &&Constituent| {
            c.class == Class::Fragrance && (c.incidental.is_some() || is_scent(c))
        };
        let sum = |parts: &mut dyn Iterator<Item = &Constituent>| -> Spread {
            parts.map(|c| c.share).sum()
        };
        let parts = sum(&mut self.constituents.iter().filter(is_part));
        if self.unknown_share() > MassFraction::ZERO {
            return parts;
        }
        let others = sum(&mut self.constituents.iter().filter(|c| !is_part(c)));
        let rest = |taken: MassFraction| MassFraction::new((1.0 - taken.value()).max(0.0));
        Spread {
            low: parts.low.max(rest(others.high)).min(parts.typical),
            typical: parts.typical,
            high: parts.high.min(rest(others.low)).max(parts.typical),
        }
    }

    /// Typical share of all constituents of a class.
    pub fn share_of(&self, class: Class) -> MassFraction {
        self.constituents
            .iter()
            .filter(|c| c.class == class)
            .map(|c| c.share.typical)
            .sum()
    }

    /// The usual level for a kind of product.
    pub fn use_range(&self, kind: ProductKind) -> Option<&UseRange> {
        self.use_ranges.iter().find(|r| r.kind == kind)
    }

    /// The usual levels for the kinds of a product.
    pub fn use_ranges_in(&self, kinds: Kinds) -> impl Iterator<Item = &UseRange> {
        self.use_ranges
            .iter()
            .filter(move |r| kinds.contains(r.kind))
    }

    /// The usual level that binds in a product of these kinds: that which ends lowest.
    pub fn strictest_range(&self, kinds: Kinds) -> Option<&UseRange> {
        self.use_ranges_in(kinds).min_by_key(|r| r.high)
    }

    /// The lowest maximum that the supplier sets for these kinds of product.
    pub fn supplier_maximum(&self, kinds: Kinds) -> Option<&UseRange> {
        self.use_ranges_in(kinds)
            .filter(|r| r.supplier_maximum)
            .min_by_key(|r| r.high)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ids_are_plain_words() {
        assert_eq!(
            MaterialId::from_name("  Glycerin (99.5 %) ").as_str(),
            "glycerin-99-5"
        );
    }

    #[test]
    fn the_rest_of_a_solution_is_unknown_until_listed() {
        let mut m = Material::unknown(MaterialId::from_name("x"), "x");
        assert_eq!(m.unknown_share(), MassFraction::ONE);
        m.constituents.push(Constituent {
            inci: "Aqua".into(),
            cas: None,
            share: Spread::exact(MassFraction::from_percent(70.0)),
            class: Class::Water,
            incidental: None,
            source: None,
        });
        assert!((m.unknown_share().as_percent() - 30.0).abs() < 1e-9);
    }

    #[test]
    fn every_class_and_role_is_listed_once() {
        for (i, class) in Class::ALL.iter().enumerate() {
            assert_eq!(class.index(), i);
        }
        let mut roles = Role::ALL.to_vec();
        roles.sort();
        roles.dedup();
        assert_eq!(roles.len(), Role::ALL.len());
    }
}
