//! Targets: what a formula must reach, and how a maker writes them down.
//!
//! A target is one line of plain words: *what*, *relation*, *figure*.
//!
//! ```text
//! active >= 14            anionic / amphoteric <= 3       hlb = need
//! salt at most 2          water between 70 and 80         ph = 5.2
//! cost <= 2.1             cost per 250 ml <= 0.6          natural origin >= 0.9
//! glycerin = 5            line Coco betaine <= 20         oil phase >= 15
//! glycerin + propanediol >= 4                             viscosity between 4000 and 6000
//! ```
//!
//! Relations: `>=` or `at least`, `<=` or `at most`, `=` or `is`, and
//! `between A and B` or `A..B`; `>` and `<` mean the same as `>=` and `<=`. A decimal
//! comma is understood, a closing percent sign is allowed. A name that is none of the words of [`TargetQuantity`] means an
//! ingredient of that INCI name or, failing that, a line of that name. Readings that trials can
//! teach (viscosity, foam height, density and others) may carry their unit.

mod read;
#[cfg(test)]
mod tests;
mod words;

use std::sync::Arc;

use crate::amount::{AmountError, Digits, Measure};
use crate::formula::Variant;
use crate::material::{Charge, Class};
use crate::trial::fit::drift::TrendLimit;
use crate::trial::learn::Lessons;
use crate::trial::reading::Quantity as Reading;
use crate::trial::stability::Acceptance;

/// What a target speaks of.
#[derive(Clone, PartialEq, Debug)]
pub enum TargetQuantity {
    /// Surfactant active matter, of one charge class or all, % w/w.
    Active(Option<Charge>),
    /// All constituents of a class, % w/w.
    Class(Class),
    /// All lines in phases of the oil kind, % w/w as weighed.
    OilPhase,
    /// A constituent by INCI name, over all lines that bring it in, % w/w.
    Constituent(Arc<str>),
    /// A raw material by name, % w/w as weighed.
    Line(Arc<str>),
    /// An ingredient if there is one of that name, else a line.
    Named(Arc<str>),
    /// Price of the raw materials, in the currency of the shelf.
    Cost(CostBasis),
    /// Natural origin index by ISO 16128 with formulation water, 0 to 1.
    NaturalOrigin,
    /// HLB of the emulsifiers, by weight.
    Hlb,
    /// pH of the finished product.
    Ph,
    /// Least ratio, over all preservatives, of the amount there is to the amount
    /// needed at the formula's pH; 1 is just enough.
    Preservation,
    /// What trials of the formula have taught, such as its viscosity, in the unit of the
    /// reading.
    Learnt(Reading),
    /// Percentages added up.
    Sum(Vec<Self>),
    /// One quantity divided by another.
    Ratio(Box<Self>, Box<Self>),
}

/// What a cost is for.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum CostBasis {
    /// One kilogram.
    Kilogram,
    /// A container of so many grams.
    Grams(f64),
    /// A container of so many millilitres; the density of the formula counts.
    Millilitres(f64),
}

/// How a quantity must stand to its figure.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Relation {
    /// Not less than.
    AtLeast(f64),
    /// Not more than.
    AtMost(f64),
    /// Equal to.
    Equal(f64),
    /// Not less than the first and not more than the second.
    Between(f64, f64),
    /// Equal to what the oils need; only for HLB.
    Need,
}

impl Relation {
    /// The figures as a lower and an upper limit; none for [`Self::Need`].
    pub const fn limits(self) -> Option<(f64, f64)> {
        match self {
            Self::AtLeast(low) => Some((low, f64::INFINITY)),
            Self::AtMost(high) => Some((f64::NEG_INFINITY, high)),
            Self::Equal(value) => Some((value, value)),
            Self::Between(low, high) => Some((low, high)),
            Self::Need => None,
        }
    }
}

/// One demand of the maker.
#[derive(Clone, PartialEq, Debug)]
pub struct Target {
    /// What it speaks of.
    pub quantity: TargetQuantity,
    /// How it must stand.
    pub relation: Relation,
}

/// Why a text is not a target.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum TargetError {
    /// No relation found.
    #[error(
        "“{0}” says no relation; write for example “active >= 14”, “salt at most 2” or “water between 70 and 80”"
    )]
    NoRelation(String),
    /// Nothing before the relation.
    #[error(
        "“{0}” does not say what is meant; put a name before the relation, for example “active >= 14”"
    )]
    NoQuantity(String),
    /// The figure cannot be read.
    #[error("“{figure}” in “{text}” is not a number")]
    BadFigure {
        /// The whole text.
        text: String,
        /// What stands where a number is needed.
        figure: String,
    },
    /// The figure makes no sense for the quantity.
    #[error("“{text}”: {why}")]
    OutOfRange {
        /// The whole text.
        text: String,
        /// What is wrong.
        why: String,
    },
    /// The container of a cost cannot be read.
    #[error("“{0}” is not a container; write for example “cost per 250 ml” or “cost per 200 g”")]
    BadContainer(String),
    /// A figure can be read in two ways.
    #[error("in “{text}”: {cause}")]
    Unclear {
        /// What was read.
        text: String,
        /// The two readings.
        cause: AmountError,
    },
}

impl Target {
    /// What the specification of a variant asks for, as far as Aim can reach it: the pH, and
    /// the readings that trials have taught.
    pub fn of_specification(variant: &Variant, lessons: &Lessons) -> Vec<Self> {
        Acceptance::of_specification(variant)
            .into_iter()
            .filter_map(|acceptance| {
                let quantity = match acceptance.quantity {
                    Reading::Ph => TargetQuantity::Ph,
                    reading => {
                        lessons.on(reading)?;
                        TargetQuantity::Learnt(reading)
                    }
                };
                let relation = match acceptance.limit {
                    TrendLimit::Lower(low) => Relation::AtLeast(low),
                    TrendLimit::Upper(high) => Relation::AtMost(high),
                    TrendLimit::Both(low, high) => Relation::Between(low, high),
                };
                Some(Self { quantity, relation })
            })
            .collect()
    }
}

impl TargetQuantity {
    /// Unit, range and digits of its figures.
    pub const fn measure(&self) -> Measure {
        let (unit, most, digits) = match self {
            Self::Learnt(reading) => return reading.measure(),
            Self::Active(_)
            | Self::Class(_)
            | Self::OilPhase
            | Self::Constituent(_)
            | Self::Line(_)
            | Self::Named(_)
            | Self::Sum(_) => ("%", 100.0, 2),
            Self::Cost(_) | Self::Ratio(..) | Self::Preservation => ("", f64::INFINITY, 2),
            Self::NaturalOrigin => ("", 1.0, 3),
            Self::Hlb => ("", 40.0, 2),
            Self::Ph => ("", 14.0, 2),
        };
        Measure {
            unit,
            most,
            least: 0.0,
            digits: Digits::UpTo(digits),
            ..Measure::NUMBER
        }
    }

    /// The legal range of its figures.
    pub const fn domain(&self) -> (f64, f64) {
        let measure = self.measure();
        (measure.least, measure.most)
    }

    /// Whether its figures are percentages of the formula.
    const fn is_percentage(&self) -> bool {
        matches!(
            self,
            Self::Active(_)
                | Self::Class(_)
                | Self::OilPhase
                | Self::Constituent(_)
                | Self::Line(_)
                | Self::Named(_)
                | Self::Sum(_)
        )
    }

    /// Whether it is not a plain amount, so that it cannot stand in a ratio.
    const fn is_ratio_like(&self) -> bool {
        matches!(
            self,
            Self::Ratio(..) | Self::Hlb | Self::Ph | Self::Preservation | Self::Learnt(_)
        )
    }

    /// A part of a sum in it that is no percentage.
    fn not_to_be_added(&self) -> Option<&Self> {
        match self {
            Self::Sum(parts) => parts.iter().find(|part| !part.is_percentage()),
            Self::Ratio(top, bottom) => top.not_to_be_added().or_else(|| bottom.not_to_be_added()),
            _ => None,
        }
    }

    /// The unit of its figures; empty for a bare number.
    pub const fn unit(&self) -> &'static str {
        self.measure().unit
    }

    /// Digits after the point worth showing.
    pub const fn digits(&self) -> usize {
        match self.measure().digits {
            Digits::Fixed(digits) | Digits::UpTo(digits) => digits,
            Digits::Significant(_) => 0,
        }
    }

    /// A figure of this quantity with its unit, without trailing zeros.
    pub fn figure(&self, value: f64) -> String {
        self.measure().shown(value)
    }
}
