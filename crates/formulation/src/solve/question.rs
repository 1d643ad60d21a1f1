//! The question of Aim: targets, what to prefer, and why no answer can be given.

use std::collections::BTreeSet;

use crate::formula::Variant;
use crate::quantity::{Mass, Percent, Ph};

use super::demand::LimitKey;
use super::subject::FormError;
use super::target::{Target, TargetQuantity};

/// What to prefer among the percentages that meet every demand.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub enum Preference {
    /// Least change from the present formula. A change counts in proportion to the
    /// line, so that small lines are not sacrificed to large ones; that of the filler, which
    /// takes what the others leave, hardly counts.
    #[default]
    Change,
    /// Lowest cost; least change among equals.
    Cost,
    /// Highest natural origin index; least change among equals.
    Natural,
    /// Fewest materials; least change with those.
    Fewest,
}

impl Preference {
    /// All preferences.
    pub const ALL: [Self; 4] = [Self::Change, Self::Cost, Self::Natural, Self::Fewest];
    /// The words shown for it.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Change => "least change",
            Self::Cost => "lowest cost",
            Self::Natural => "highest natural origin",
            Self::Fewest => "fewest materials",
        }
    }
    /// The word of the command line.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Change => "change",
            Self::Cost => "cost",
            Self::Natural => "natural",
            Self::Fewest => "fewest",
        }
    }
    /// The preference of a word of the command line.
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|p| p.word() == word)
    }
}

/// What is asked.
#[derive(Clone, PartialEq, Debug)]
pub struct Aim {
    /// What the formula must reach.
    pub targets: Vec<Target>,
    /// What to prefer.
    pub prefer: Preference,
    /// The step of the percentages, usually 0.1, 0.05 or 0.01 %.
    pub step: Percent,
    /// Limits that are switched off.
    pub without: BTreeSet<LimitKey>,
    /// The batch for which the stock at hand must suffice.
    pub stock_for: Option<Mass>,
}

impl Aim {
    /// Targets with the least change, on steps of 0.01 %, all limits on.
    pub const fn new(targets: Vec<Target>) -> Self {
        Self {
            targets,
            prefer: Preference::Change,
            step: Percent::from_units(10_000),
            without: BTreeSet::new(),
            stock_for: None,
        }
    }

    /// The pH at which the answer is judged, if a target asks for one: what the variant aims
    /// at where that meets the target, else the pH of the target nearest to it.
    pub(super) fn asked_ph(&self, variant: &Variant) -> Option<Ph> {
        let target = self
            .targets
            .iter()
            .find(|t| t.quantity == TargetQuantity::Ph)?;
        let (low, high) = target.relation.limits()?;
        let aimed = variant.target_ph.map(Ph::value);
        let nearest = match aimed {
            Some(aimed) => aimed.clamp(low, high),
            None if low.is_finite() && high.is_finite() => f64::midpoint(low, high),
            None => low.max(0.0).min(high),
        };
        Ph::new(nearest)
    }
}

/// Why something that is not a sum cannot be found.
#[derive(Clone, PartialEq, Debug, thiserror::Error)]
pub enum FixedPointError {
    /// The pH is not known.
    #[error(
        "the pH of this formula cannot be computed; the readout of the pH says why (for example because there is no water phase)"
    )]
    NoPh,
    /// No free line could move the pH.
    #[error(
        "the pH would be {ph:.2}, and no free line is {} that could {} it; add one, for example {}",
        if *too_high { "an acid" } else { "a base" },
        if *too_high { "lower" } else { "raise" },
        if *too_high { "citric or lactic acid" } else { "sodium hydroxide or arginine" }
    )]
    NoAdjuster {
        /// The pH without one.
        ph: f64,
        /// Whether it must fall.
        too_high: bool,
    },
    /// The line cannot move the pH far enough.
    #[error("with {name} between {low} and {high} % the pH comes no closer than {reached:.2}")]
    OutOfReach {
        /// The acid or base.
        name: String,
        /// Lowest percentage tried.
        low: String,
        /// Highest percentage tried.
        high: String,
        /// The pH there.
        reached: f64,
    },
    /// Preservatives whose need at a pH is not known.
    #[error("{0}")]
    Preservation(String),
}

/// Why no answer can be given.
#[derive(Clone, PartialEq, Debug, thiserror::Error)]
pub enum AimError {
    /// The formula has no line.
    #[error("the formula has no line; add raw materials before aiming")]
    Empty,
    /// The step is not between 0.000001 and 10 %.
    #[error("a step of {0} % is not between 0.000001 and 10 %")]
    BadStep(Percent),
    /// A target cannot be stated for this formula.
    #[error("target “{target}”: {why}")]
    Target {
        /// The target.
        target: String,
        /// Why not.
        why: FormError,
    },
    /// The preference cannot be stated for this formula.
    #[error("cannot prefer {}: {why}", prefer.label())]
    Preference {
        /// The preference.
        prefer: Preference,
        /// Why not.
        why: FormError,
    },
    /// What is not a sum cannot be found.
    #[error("target “{target}”: {why}")]
    FixedPoint {
        /// The target.
        target: String,
        /// Why not.
        why: FixedPointError,
    },
    /// The solver stopped without an answer.
    #[error("no answer was found: {0}")]
    Unsolved(String),
    /// Stopped before the end.
    #[error("the search for percentages was stopped")]
    Stopped,
}

impl AimError {
    /// Why a quantity cannot be stated, if that is what is wrong.
    pub const fn form(&self) -> Option<&FormError> {
        match self {
            Self::Target { why, .. } | Self::Preference { why, .. } => Some(why),
            _ => None,
        }
    }
}
