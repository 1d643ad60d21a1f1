//! What a row says of its material, and what is answered.

use std::sync::Arc;

use super::split_brackets;
use crate::cas::Cas;
use crate::inventory::inventory;
use crate::material::MaterialId;
use crate::naming::{blend, strength};

/// How a match was found, the surest first.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum How {
    /// The maker chose it.
    Chosen,
    /// The name is the same.
    Name,
    /// The name is one of its synonyms.
    Synonym,
    /// Its name or a synonym has the same words in another order.
    Order,
    /// The INCI names are the same.
    Inci,
    /// The CAS number is that of its only substance.
    Cas,
    /// An everyday name of it, in one of the languages read.
    Everyday,
    /// Another strength of the substance was found, and this one has the strength stated.
    Strength,
    /// The names differ in strength, form or grade only.
    Base,
    /// The INCI name is that of its largest substance besides water.
    MainInci,
    /// The name differs by a few letters.
    Misspelt,
    /// All words of the name are found in it.
    Words,
}

impl How {
    /// The words shown for it.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Chosen => "chosen by you",
            Self::Name => "same name",
            Self::Synonym => "a synonym",
            Self::Order => "same words in another order",
            Self::Inci => "same INCI name",
            Self::Cas => "same CAS number",
            Self::Everyday => "an everyday name",
            Self::Strength => "same substance and strength",
            Self::Base => "same name but for strength, form or grade",
            Self::MainInci => "INCI name of its main substance",
            Self::Misspelt => "similar spelling",
            Self::Words => "same words in another name",
        }
    }
    /// Whether it is taken unless the maker says otherwise. The rest are offered,
    /// and the name is taken as a new material until one is chosen.
    pub const fn is_taken(self) -> bool {
        !matches!(self, Self::Words)
    }
    /// Whether two readers of the table would doubt it.
    pub const fn is_doubtful(self) -> bool {
        matches!(self, Self::MainInci | Self::Misspelt | Self::Words)
    }
}

/// A material that a name may mean.
#[derive(Clone, PartialEq, Debug)]
pub struct Candidate {
    /// Which.
    pub id: MaterialId,
    /// Its name.
    pub name: Arc<str>,
    /// How it was found.
    pub how: How,
    /// What speaks against it, in words; empty if nothing does.
    pub against: String,
}

/// What a row of a table says about its material.
#[derive(Clone, PartialEq, Eq, Hash, Debug, Default)]
pub struct Wanted {
    /// Name as written.
    pub name: String,
    /// INCI name; several joined by commas.
    pub inci: String,
    /// CAS number.
    pub cas: Option<Cas>,
    /// Supplier.
    pub supplier: String,
    /// Strength in percent as a column beside the name states it, in words.
    pub strength: String,
}

impl Wanted {
    /// A row that says nothing but a name.
    pub fn named(name: impl Into<String>) -> Self {
        Self {
            name: name.into(),
            ..Self::default()
        }
    }

    /// The strength stated beside the name or in it, in percent.
    pub fn percent(&self) -> Option<f64> {
        self.percent_beside()
            .or_else(|| strength::stated(&self.name))
    }

    /// The strength stated beside the name, in percent.
    pub(super) fn percent_beside(&self) -> Option<f64> {
        let column = self.strength.trim();
        let plain = column.trim_end_matches('%').trim();
        strength::stated(column)
            .or_else(|| strength::value_of(plain).filter(|v| *v > 0.0 && *v <= 100.0))
    }

    /// The INCI names: of their own column, else those in the name, if it is a list
    /// such as "X (and) Y" or has an INCI name in brackets.
    pub fn inci_names(&self) -> Vec<String> {
        if !self.inci.trim().is_empty() {
            return blend::parts(&self.inci);
        }
        if blend::is_list(&self.name) {
            return blend::parts(&self.name);
        }
        let is_inci = |name: &String| inventory().by_name(name).is_some();
        let (_, inner) = split_brackets(&self.name);
        let inner = blend::parts(inner);
        if !inner.is_empty() && inner.iter().all(is_inci) {
            return inner;
        }
        // "Cetearyl alcohol and ceteareth-20" and "Phenoxyethanol/ethylhexylglycerin", where
        // both are INCI names.
        let slashed = || {
            self.name
                .split('/')
                .map(|part| part.trim().to_owned())
                .collect()
        };
        for parts in [blend::parts(&self.name), slashed()] {
            if parts.len() > 1 && parts.iter().all(is_inci) && !is_inci(&self.name) {
                return parts;
            }
        }
        Vec::new()
    }
}
