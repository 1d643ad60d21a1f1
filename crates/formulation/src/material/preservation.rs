//! What a preservative does.

use super::source::Source;
use crate::quantity::{Percent, PhRange};

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

impl Coverage {
    /// All of them, the least first.
    pub const ALL: [Self; 3] = [Self::None, Self::Weak, Self::Good];

    /// The words shown.
    pub const fn label(self) -> &'static str {
        match self {
            Self::None => "not covered",
            Self::Weak => "weak",
            Self::Good => "good",
        }
    }
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
