//! What a material does to pH beside its listed constituents.

use super::source::{Source, Sourced};
use crate::quantity::{Ph, PhRange};

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
