//! The answer of Aim: percentages that meet the demands, or the demands that collide.

use crate::edit::Edit;
use crate::evaluation::Evaluation;
use crate::finding::Finding;
use crate::formula::{Formula, ItemId, Variant};
use crate::quantity::Percent;

use super::demand::{DemandOrigin, FigureStyle, LimitKey};

/// The answer.
#[derive(Clone, Debug)]
pub enum Answer {
    /// Percentages that meet the demands.
    Proposal(Box<Proposal>),
    /// Demands that cannot be met together.
    Collision(Box<Collision>),
}

/// What became of one line.
#[derive(Clone, PartialEq, Debug)]
pub struct LineChange {
    /// The line; for an added material the id it would get.
    pub line: ItemId,
    /// Its name.
    pub name: String,
    /// Percentage before.
    pub before: Percent,
    /// Percentage proposed.
    pub after: Percent,
    /// Whether the material is not in the formula yet.
    pub added: bool,
}

/// What became of one target.
#[derive(Clone, PartialEq, Debug)]
pub struct Reached {
    /// The target in words.
    pub words: String,
    /// Its value in the present formula; `None` if it divides by nothing or is not known.
    pub before: Option<f64>,
    /// Its value in the proposal.
    pub after: Option<f64>,
    /// By how much it misses its target once the percentages stand on steps, in the unit of the
    /// figure; `None` if it holds.
    pub gave_way: Option<f64>,
    /// Least and greatest value that may be, where raw materials or estimates leave a range.
    pub range: Option<(f64, f64)>,
    /// Whether it holds over the whole of the range.
    pub sure: bool,
    /// What an estimate rests on, in words; `None` for plain sums.
    pub basis: Option<String>,
    /// How its figures are written.
    pub figure: FigureStyle,
}

impl Reached {
    /// Whether it holds for the middle case, but not over the whole range that may be.
    pub const fn holds_on_estimate(&self) -> bool {
        self.gave_way.is_none() && self.after.is_some() && !self.sure
    }

    /// What is to be said of the proposed value: by how much it is missed, how wide it is,
    /// on what it rests. Empty where it is one figure by arithmetic that holds.
    pub fn remarks(&self) -> Vec<String> {
        let missed = self
            .gave_way
            .map(|by| format!("missed by {}", self.figure.write_gap(by)));
        let range = self.range.map(|(low, high)| {
            let (low, high) = (self.figure.write(low), self.figure.write(high));
            let words = format!("may be {low} to {high}");
            if self.holds_on_estimate() {
                format!("holds for typical values only: {words}")
            } else {
                words
            }
        });
        missed
            .into_iter()
            .chain(range)
            .chain(self.basis.clone())
            .collect()
    }
}

/// A limit and whether it was kept.
#[derive(Clone, PartialEq, Debug)]
pub struct LimitState {
    /// Identity, to switch it on and off.
    pub key: LimitKey,
    /// In words.
    pub words: String,
    /// Switched off by the maker.
    pub off: bool,
    /// Whether the proposal is beyond it, which only a limit that is switched off
    /// or one that gave way to the steps allows.
    pub exceeded: bool,
}

/// Percentages that meet the demands.
#[derive(Clone, Debug)]
pub struct Proposal {
    /// The lines in working order.
    pub lines: Vec<LineChange>,
    /// What was made least before snapping: the weighted squares of the changes, the
    /// cost per kilogram, or the natural origin index with its sign turned.
    pub objective: f64,
    /// The targets in the order given.
    pub targets: Vec<Reached>,
    /// Other demands that gave way to the steps: words and by how much.
    pub gave_way: Vec<(String, f64)>,
    /// The limits.
    pub limits: Vec<LimitState>,
    /// Breaches and cautions that the present formula does not have.
    pub arisen: Vec<Finding>,
    /// What else is to be said, for example that a choice is not proved the best.
    pub notes: Vec<String>,
    /// The variant as proposed: lines at 0 % are taken out, added materials are in.
    pub variant: Variant,
    /// The formula with the materials of the proposal.
    pub formula: Formula,
    /// Everything that follows from the proposal.
    pub evaluation: Box<Evaluation>,
}

impl Proposal {
    /// The one edit that takes the proposal over.
    pub fn edit(&self) -> Edit {
        Edit::taking_over(&self.formula, &self.variant)
    }
    /// Digits after the point that show every percentage in full, at least two.
    pub fn digits(&self) -> usize {
        let whole = |percent: Percent, digits: u32| percent.units() % 10_i64.pow(6 - digits) == 0;
        let shows = |digits: &u32| {
            let mut percents = self.lines.iter().flat_map(|l| [l.before, l.after]);
            percents.all(|p| whole(p, *digits))
        };
        (2..6).find(shows).unwrap_or(6) as usize
    }
    /// Whether every target and every other demand holds on the steps.
    pub fn all_hold(&self) -> bool {
        self.missed() == 0
    }
    /// In one sentence, whether the targets hold, and how surely.
    pub fn verdict(&self) -> String {
        if !self.all_hold() {
            return "Something gave way to the steps; see below.".to_owned();
        }
        let unsure = self
            .targets
            .iter()
            .filter(|t| t.holds_on_estimate())
            .count();
        match (self.targets.len(), unsure) {
            (_, 0) => "Every target holds.".to_owned(),
            (1, _) => {
                "The target holds for typical values only; measure before you trust it.".to_owned()
            }
            (all, some) if all == some => {
                "Every target holds, but for typical values only; measure before you trust it."
                    .to_owned()
            }
            (_, some) => format!(
                "Every target holds, {some} of them for typical values only; measure before you trust it."
            ),
        }
    }
    /// How many targets and other demands do not hold.
    pub fn missed(&self) -> usize {
        let targets = self.targets.iter().filter(|t| t.gave_way.is_some());
        self.gave_way.len() + targets.count()
    }
}

/// One demand of a collision.
#[derive(Clone, Debug)]
pub struct Clash {
    /// Where it comes from.
    pub origin: DemandOrigin,
    /// The demand in words.
    pub words: String,
    /// The value its quantity can come closest to with the others of the set kept.
    pub reach: Option<f64>,
    /// The collision from its point of view, with the figures.
    pub sentence: String,
    /// The nearest formula when this demand gives way as little as it must and all
    /// others are kept; `None` if yet other demands collide.
    pub nearest: Option<Box<Proposal>>,
}

/// Demands that cannot be met together.
#[derive(Clone, Debug)]
pub struct Collision {
    /// The members of the set.
    pub clashes: Vec<Clash>,
    /// Whether no smaller set collides; otherwise only that no member is superfluous.
    pub smallest: bool,
}

impl Collision {
    /// The collision in one sentence: that of the first target among its members,
    /// or of the first member.
    pub fn sentence(&self) -> &str {
        self.clashes
            .iter()
            .find(|c| matches!(c.origin, DemandOrigin::Target(_)))
            .or_else(|| self.clashes.first())
            .map_or("", |c| &c.sentence)
    }

    /// The same as what is told first.
    pub fn verdict(&self) -> String {
        format!("This cannot be done: {}.", self.sentence())
    }

    /// What stands above its members.
    pub const fn heading(&self) -> &'static str {
        if self.smallest {
            "The smallest set of demands that collide"
        } else {
            "Demands that collide, none of them superfluous"
        }
    }
}

impl Clash {
    /// What stands above the nearest proposal.
    pub fn nearest_heading(&self) -> String {
        format!("Nearest if this gives way: {}", self.words)
    }
}
