//! Findings: what a check has to say, where, and on what ground.

use std::sync::Arc;

use crate::formula::ItemId;
use crate::material::Source;
use crate::quantity::Percent;

/// How grave a finding is.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Level {
    /// Information.
    Note,
    /// Outside usual practice, or a risk.
    Caution,
    /// Over a limit, or a rule broken.
    Breach,
}

impl Level {
    /// Gravest first.
    pub const ALL: [Self; 3] = [Self::Breach, Self::Caution, Self::Note];
    /// The word shown for it.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Note => "Note",
            Self::Caution => "Caution",
            Self::Breach => "Breach",
        }
    }
}

/// One result of a check.
#[derive(Clone, PartialEq, Debug)]
pub struct Finding {
    /// How grave.
    pub level: Level,
    /// Stable name of the rule, for example `total-not-100` or `EU V/29`.
    pub rule: Arc<str>,
    /// What is the matter and what to do, in plain words.
    pub message: String,
    /// The lines concerned, in working order; empty if the whole formula.
    pub lines: Vec<ItemId>,
    /// The ground it stands on.
    pub source: Source,
}

/// The highest percentage a line may take before a limit binds, all else equal.
#[derive(Clone, PartialEq, Debug)]
pub struct LineLimit {
    /// The line.
    pub line: ItemId,
    /// The most it may be.
    pub most: Percent,
    /// The rule that binds, for example `EU V/29`.
    pub rule: Arc<str>,
    /// In words, for the hover.
    pub message: String,
}

/// Findings after a change that were not there before: of another rule or level, or on
/// other lines. Other figures alone make no new finding.
pub fn arisen<'f>(
    before: &'f [Finding],
    after: &'f [Finding],
) -> impl Iterator<Item = &'f Finding> {
    after.iter().filter(move |f| {
        let same = |g: &Finding| g.rule == f.rule && g.level == f.level && g.lines == f.lines;
        !before.iter().any(same)
    })
}
