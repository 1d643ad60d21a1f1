//! A material while it is typed: every field as text, checked as it stands.
//!
//! The window shows the fields, their explanations and what is wrong with each; once
//! nothing is, the draft is the material.

mod check;
mod from;
mod join;
mod parts;
#[cfg(test)]
mod tests;

use std::collections::BTreeMap;
use std::ops::{Index, IndexMut};
use std::sync::Arc;

use crate::amount::measure::tidy;
use crate::material::{
    Basis, Charge, Class, Coverage, Hazard, Material, MaterialId, MaterialValue, PhaseKind,
    ProductKind, Role, Source, WettingMedium,
};
use crate::quantity::MassFraction;

/// A field of the draft, for its label, its explanation and its faults.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
#[expect(missing_docs, reason = "`label` and `explanation` tell what each is")]
pub enum DraftField {
    Name,
    Synonyms,
    Supplier,
    Constituents,
    Inci(usize),
    Cas(usize),
    Share(usize),
    Components,
    Roles,
    UseRinseOff,
    UseLeaveOn,
    Value(MaterialValue),
    Fragrance(usize),
    Source,
}

impl DraftField {
    /// The name shown.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Name => "Name",
            Self::Synonyms => "Other names",
            Self::Supplier => "Supplier",
            Self::Constituents => "Contains",
            Self::Inci(_) => "INCI name",
            Self::Cas(_) => "CAS number",
            Self::Share(_) => "Share",
            Self::Components => "Components of the oil",
            Self::Roles => "Roles",
            Self::UseRinseOff => "Usual level, rinse-off",
            Self::UseLeaveOn => "Usual level, leave-on",
            Self::Value(value) => value.row().label,
            Self::Fragrance(_) => "Fragrance level",
            Self::Source => "Source",
        }
    }

    /// What the field means, its unit and its range.
    pub const fn explanation(self) -> &'static str {
        match self {
            Self::Name => {
                "What you call it; it need not be a trade name. It is found by this name first"
            }
            Self::Synonyms => "Other names it is found by, separated by semicolons",
            Self::Supplier => "Who delivers it; may stay empty",
            Self::Constituents => {
                "Each substance in the jar, water and salt included, in percent of the raw material. The shares add up to at most 100 %; what is left is shown as unknown. Not listed, with the reason, are residues of making and the components of an essential oil or fragrance: these are parts of it and named only as allergens"
            }
            Self::Inci(_) => "The name for the ingredient list, as the public inventory spells it",
            Self::Cas(_) => {
                "Registry number, 2 to 7 digits, 2 digits, 1 check digit; may stay empty"
            }
            Self::Share(_) => {
                "Percent of the raw material: the typical value, or lowest – typical – highest from the data sheet"
            }
            Self::Components => {
                "What an essential oil or fragrance consists of is part of it: it counts within the weight of the oil and is named on the label only as an allergen"
            }
            Self::Roles => "What it does in a formula",
            Self::UseRinseOff => {
                "Lowest and highest usual percentage of this raw material in products that are washed off"
            }
            Self::UseLeaveOn => {
                "Lowest and highest usual percentage of this raw material in products that stay on the skin"
            }
            Self::Value(value) => value.row().explanation,
            Self::Fragrance(_) => {
                "Highest level of this fragrance in the product, per category of the fragrance trade association's standards, from the supplier's certificate"
            }
            Self::Source => {
                "Where the values are from: a data sheet, a certificate, a book. Single values may have a source of their own"
            }
        }
    }
}

/// A constituent while it is typed.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct ConstituentDraft {
    /// INCI name.
    pub inci: String,
    /// CAS number.
    pub cas: String,
    /// Lowest share, percent; empty is the typical one.
    pub low: String,
    /// Typical share, percent.
    pub typical: String,
    /// Highest share, percent; empty is the typical one.
    pub high: String,
    /// What it is counted as.
    pub class: Option<Class>,
    /// Why it is not listed as an ingredient; empty if it is.
    pub incidental: String,
    /// Its own source.
    pub source: Option<Source>,
}

/// A usual level while it is typed.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct UseDraft {
    /// Lowest, percent of the formula.
    pub low: String,
    /// Highest.
    pub high: String,
    /// The supplier sets the highest as a maximum.
    pub supplier_maximum: bool,
}

/// Preservative data while they are typed.
#[derive(Clone, PartialEq, Debug)]
pub struct PreservationDraft {
    /// Bacteria, yeast, mould.
    pub covers: [Coverage; 3],
    /// Lowest dose of the raw material, percent.
    pub dose_low: String,
    /// Highest dose.
    pub dose_high: String,
    /// Lowest pH at which it works; may be empty with the highest.
    pub ph_low: String,
    /// Highest pH.
    pub ph_high: String,
    /// Releases formaldehyde.
    pub donor: bool,
}

impl Default for PreservationDraft {
    fn default() -> Self {
        Self {
            covers: [Coverage::None; 3],
            dose_low: String::new(),
            dose_high: String::new(),
            ph_low: String::new(),
            ph_high: String::new(),
            donor: false,
        }
    }
}

/// Effect on pH while it is typed.
#[derive(Clone, PartialEq, Debug)]
pub enum AlkalinityDraft {
    /// The constituents tell all.
    Neutral,
    /// Not known.
    Unknown {
        /// pH as sold, lowest.
        ph_low: String,
        /// pH as sold, highest.
        ph_high: String,
        /// Unlisted base (acid if negative), mmol per gram, lowest.
        base_low: String,
        /// The same, highest.
        base_high: String,
    },
    /// Titrated.
    Titrated {
        /// Strong acid (base if negative) to the end point, mmol per gram.
        mmol_per_gram: String,
        /// End point.
        to_ph: String,
    },
}

impl AlkalinityDraft {
    /// Whether a figure of it is typed, which has a source.
    pub fn is_stated(&self) -> bool {
        let typed = match self {
            Self::Neutral => return false,
            Self::Unknown {
                ph_low,
                ph_high,
                base_low,
                base_high,
            } => [ph_low, ph_high, base_low, base_high].map(String::as_str),
            Self::Titrated {
                mmol_per_gram,
                to_ph,
            } => [mmol_per_gram.as_str(), to_ph, "", ""],
        };
        typed.iter().any(|text| !text.trim().is_empty())
    }
}

impl Default for AlkalinityDraft {
    fn default() -> Self {
        Self::Unknown {
            ph_low: String::new(),
            ph_high: String::new(),
            base_low: String::new(),
            base_high: String::new(),
        }
    }
}

/// The figures of a value while they are typed, in the unit of its row.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct TypedFigures {
    /// The one figure, or the low end.
    pub low: String,
    /// The high end; empty for a value of one figure.
    pub high: String,
}

/// The values of a material that are figures, while they are typed: one place for each.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct TypedValues([TypedFigures; MaterialValue::ALL.len()]);

impl Index<MaterialValue> for TypedValues {
    type Output = TypedFigures;
    fn index(&self, value: MaterialValue) -> &TypedFigures {
        &self.0[value as usize]
    }
}

impl IndexMut<MaterialValue> for TypedValues {
    fn index_mut(&mut self, value: MaterialValue) -> &mut TypedFigures {
        &mut self.0[value as usize]
    }
}

/// A material while it is typed.
#[derive(Clone, PartialEq, Debug, Default)]
#[expect(
    missing_docs,
    reason = "each is the field of the material of the same name, as text"
)]
pub struct MaterialDraft {
    /// The material it is a change of; `None` while a new one is typed.
    pub of: Option<MaterialId>,
    pub name: String,
    pub synonyms: String,
    pub supplier: String,
    pub constituents: Vec<ConstituentDraft>,
    pub roles: Vec<Role>,
    pub charge: Option<Charge>,
    pub phase: Option<PhaseKind>,
    pub rinse_off: UseDraft,
    pub leave_on: UseDraft,
    /// Its values that are figures, in the units of the table.
    pub values: TypedValues,
    pub hazards: Vec<Hazard>,
    pub wet_with: Vec<WettingMedium>,
    pub preservation: Option<PreservationDraft>,
    pub alkalinity: AlkalinityDraft,
    /// Category and highest percentage.
    pub fragrance: Vec<(String, String)>,
    pub note: String,
    pub basis: Option<Basis>,
    /// Words of the source.
    pub source: String,
    /// Sources of single values that differ from the material's.
    pub sources: BTreeMap<DraftField, Source>,
}

/// What a draft comes to.
#[derive(Clone, PartialEq, Debug)]
pub struct CheckedDraft {
    /// Faults, by field. Empty if the draft is a material.
    pub faults: Vec<(DraftField, String)>,
    /// What the maker should know, by field.
    pub notes: Vec<(DraftField, String)>,
    /// Sum of the typical shares that can be read.
    pub total: MassFraction,
    /// The material, if there is no fault.
    pub material: Option<Arc<Material>>,
}

impl CheckedDraft {
    /// What is wrong with a field.
    pub fn fault(&self, field: DraftField) -> Option<&str> {
        self.faults
            .iter()
            .find(|(f, _)| *f == field)
            .map(|(_, words)| words.as_str())
    }
    /// What is to be known about a field.
    pub fn note(&self, field: DraftField) -> Option<&str> {
        self.notes
            .iter()
            .find(|(f, _)| *f == field)
            .map(|(_, words)| words.as_str())
    }
}

/// A number in its shortest form, without the noise of binary fractions.
fn shown(value: f64) -> String {
    tidy(value, 9).to_string()
}

impl MaterialDraft {
    /// A draft of a new material that begins as this one.
    pub fn copied(mut self) -> Self {
        self.of = None;
        self.name = format!("{} (copy)", self.name);
        self
    }
}

const fn use_field(kind: ProductKind) -> DraftField {
    match kind {
        ProductKind::RinseOff => DraftField::UseRinseOff,
        ProductKind::LeaveOn => DraftField::UseLeaveOn,
    }
}
