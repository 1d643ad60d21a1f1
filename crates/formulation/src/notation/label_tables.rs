//! Reads the tables of label names and of reaction products.

use std::collections::BTreeMap;

use serde::Deserialize;

use super::material_file::ron_options;
use super::read_error::ReadError;

/// Names that differ between markets.
#[derive(Clone, PartialEq, Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct NamesTable {
    /// Version of the form.
    pub version: u32,
    /// Names in the United States by European INCI name.
    pub us: BTreeMap<String, String>,
    /// Endings of European names and their form in the United States.
    pub us_endings: Vec<(String, String)>,
    /// Colorants by INCI name and their colour index number.
    pub eu_colours: BTreeMap<String, String>,
    /// Colour additives in the United States by colour index number.
    pub us_colours: BTreeMap<String, String>,
    /// Words that a name ends in which begins with the Latin name of a plant, beside the parts and
    /// products of plants; in small letters.
    pub plant_words: Vec<String>,
    /// Endings of the second word of the Latin name of a plant.
    pub latin_endings: Vec<String>,
    /// First words that are no Latin name of a plant, in small letters.
    pub not_latin: Vec<String>,
    /// Common names of plants by Latin name.
    pub common: BTreeMap<String, String>,
}

/// An acid of the table of reaction products.
#[derive(Clone, PartialEq, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AcidEntry {
    /// INCI name.
    pub inci: String,
    /// Molar mass, g/mol, of what the table of substances does not hold.
    pub molar_mass: Option<f64>,
    /// Protons that a base can take away.
    pub protons: u32,
    /// The last word of the salt's name.
    pub anion: String,
}

/// A base of the table of reaction products.
#[derive(Clone, PartialEq, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BaseEntry {
    /// INCI name.
    pub inci: String,
    /// Molar mass, g/mol, of what the table of substances does not hold.
    pub molar_mass: Option<f64>,
    /// Name of the salt, with `{}` for the anion.
    pub salt: String,
}

/// Acids and bases and the names of their salts.
#[derive(Clone, PartialEq, Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ReactionTable {
    /// Version of the form.
    pub version: u32,
    /// Bases.
    pub bases: Vec<BaseEntry>,
    /// Acids, strongest first.
    pub acids: Vec<AcidEntry>,
}

/// Reads a table of names.
pub fn read_names(text: &str, file: &str) -> Result<NamesTable, ReadError> {
    ron_options()
        .from_str(text)
        .map_err(|e| ReadError::ron(file, &e))
}

/// Reads a table of reaction products.
pub fn read_reactions(text: &str, file: &str) -> Result<ReactionTable, ReadError> {
    ron_options()
        .from_str(text)
        .map_err(|e| ReadError::ron(file, &e))
}
