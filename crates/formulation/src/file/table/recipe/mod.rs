//! A recipe in a table becomes a proposal, which the maker looks through, and then
//! a formula. Nothing is changed before that, and nothing half.

mod amount;
mod checks;
mod decide;
mod decider;
mod footnotes;
mod form;
mod given;
mod groups;
mod head;
mod line;
mod measures;
mod proposal;
mod read;
mod reader;
mod rows;
mod seen;
mod text;

pub use super::phase_words::ProposedPhase;
pub(in crate::file::table) use checks::OFF_TOTAL;
pub(in crate::file::table) use decider::Decider;
pub use given::GivenAmount;
pub(in crate::file::table) use proposal::assumed_of;
pub use proposal::{
    LeftOutRow, LineQuantity, MaterialChoice, Problem, ProposedLine, ProposedStep, RecipeProposal,
};
pub(in crate::file::table) use text::bare_numbers_are_whole;

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use super::RowProgress;
use super::choose::weigh;
use super::columns::{ColumnKind, Layout};
use super::days::DayOrder;
use super::words::{is_box, is_tick};
use super::{Cell, Table, next_to_nothing};
use crate::amount::number::DecimalMark;
use crate::kinds::Kinds;
use crate::material::MaterialId;
use crate::naming::Resolver;
use crate::quantity::Currency;
use reader::Reader;

/// What the maker may settle before a table is read as a recipe.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct RecipeSettings {
    /// What the columns mean, where it is not as recognised.
    pub layout: Option<Layout>,
    /// The decimal mark, where it is not as recognised.
    pub mark: Option<DecimalMark>,
    /// What to do if the lines do not add up to 100 %.
    pub reconcile: Reconcile,
    /// Rows, counted from 1, whose q.s. takes up the rest though it is not water.
    pub fillers: Vec<usize>,
    /// Amounts that the maker gives in place of what stands in the table, by row counted
    /// from 1.
    pub amounts: BTreeMap<usize, GivenAmount>,
    /// What one of a measure of the kitchen weighs, in grams, by its name with the article,
    /// "a drop".
    pub measures: BTreeMap<&'static str, Decimal>,
    /// Take hidden and struck-through rows too.
    pub hidden: bool,
    /// What the product is, where the table does not say.
    pub kinds: Option<Kinds>,
    /// The order of day and month, where a list leaves it open.
    pub days: Option<DayOrder>,
    /// The currency of prices that name none.
    pub home: Option<Currency>,
}

/// What to do if the lines do not add up to 100 % and none is q.s.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub enum Reconcile {
    /// Keep the percentages; the check of the formula will say what is missing.
    #[default]
    AsWritten,
    /// Scale all lines to 100 %.
    Scale,
    /// Let the largest line of water take up the rest.
    Water,
}

impl Reconcile {
    /// All ways.
    pub const ALL: [Self; 3] = [Self::AsWritten, Self::Scale, Self::Water];
    /// The words shown for it.
    pub const fn label(self) -> &'static str {
        match self {
            Self::AsWritten => "keep as written",
            Self::Scale => "scale all lines to 100 %",
            Self::Water => "let water take up the rest",
        }
    }
}

/// Why no formula can be made of a table.
#[derive(Clone, PartialEq, Eq, Debug, thiserror::Error)]
pub enum RecipeError {
    /// No names or no amounts.
    #[error(
        "no column of materials and no column of percentages or grams was found; give the columns headings such as “Ingredient” and “%”, or name the columns"
    )]
    NoColumns,
    /// Columns but no lines.
    #[error("the columns were found, but no row below them has a material with an amount")]
    NoLines,
    /// More than any recipe has.
    #[error(
        "the list has {0} lines, and a recipe of at most {MOST_LINES} is read; a list of prices needs a column “Price”"
    )]
    TooManyLines(usize),
    /// Cells that must be put right first.
    #[error("{}", list(.0))]
    Problems(Vec<Problem>),
    /// The lines leave no room for the q.s. line.
    #[error(
        "the lines besides “{filler}” (q.s.) add up to {total} %, which leaves nothing for it; lower them to below 100 %"
    )]
    Overfull {
        /// The q.s. line.
        filler: String,
        /// Sum of the others.
        total: Decimal,
    },
    /// An amount beyond what a recipe can hold.
    #[error(
        "the amount of “{0}” is larger than any recipe can hold; check the digits and the size of the batch"
    )]
    TooLarge(String),
    /// The maker has stopped it.
    #[error("stopped; nothing was taken in")]
    Stopped,
    /// Nothing was weighed.
    #[error("the amounts add up to nothing; at least one line must be above 0")]
    NothingWeighed,
    /// What the table says of phases and steps cannot be.
    #[error("{0}")]
    Head(String),
    /// The chosen material is not on the shelf.
    #[error("row {row}: “{id}” is not on the shelf")]
    Unknown {
        /// Row of the table.
        row: usize,
        /// The id.
        id: MaterialId,
    },
}

fn list(problems: &[Problem]) -> String {
    const SHOWN: usize = 10;
    let mut text: Vec<String> = problems
        .iter()
        .take(SHOWN)
        .map(Problem::to_string)
        .collect();
    if problems.len() > SHOWN {
        text.push(format!("and {} more", problems.len() - SHOWN));
    }
    text.join("\n")
}

/// Most lines of a recipe; matching more takes longer than anybody waits.
const MOST_LINES: usize = 5_000;

/// Reads a table as a recipe and matches its materials with a shelf.
pub fn propose(
    table: &Table,
    title: &str,
    settings: &RecipeSettings,
    matcher: &Resolver<'_>,
) -> Result<RecipeProposal, RecipeError> {
    propose_with(table, title, settings, matcher, &mut |_, _| true)
}

/// As [`propose`], telling how far it has come; it stops where `progress` says no.
pub fn propose_with(
    table: &Table,
    title: &str,
    settings: &RecipeSettings,
    matcher: &Resolver<'_>,
    progress: &mut RowProgress<'_>,
) -> Result<RecipeProposal, RecipeError> {
    let weighing = weigh(table);
    let layout = match (&settings.layout, &weighing) {
        (Some(layout), _) => layout.clone(),
        (None, Some(weighing)) => weighing.layout.clone(),
        (None, None) => return Err(RecipeError::NoColumns),
    };
    let unticked = layout
        .place(ColumnKind::Ticked)
        .map(|column| without_ticks(table, column));
    let table = unticked.as_ref().unwrap_or(table);
    let versions = weighing.as_ref().map_or_else(Vec::new, |w| {
        let one = layout.measure();
        let mut all: Vec<usize> = w.layout.measure().into_iter().collect();
        all.extend(&w.versions);
        let is_one = all.len() > 1 && one.is_some_and(|at| all.contains(&at));
        all.retain(|at| is_one && Some(*at) != one);
        all
    });
    let mut reader = Reader::new(table, layout, settings)?;
    reader.versions = versions;
    let mut proposal = reader.read(title, matcher, progress)?;
    proposal.reconcile = settings.reconcile;
    if let Some(weighing) = weighing {
        proposal.evidence = weighing.evidence;
        if settings.layout.is_none() {
            proposal.assumed.extend(weighing.doubts);
        }
    }
    if table.formulas > 0 {
        proposal.notes.push(match table.formulas {
            1 => "one cell holds a formula; the value saved with it was taken".to_owned(),
            many => format!("{many} cells hold formulas; the values saved with them were taken"),
        });
    }
    // Of a sheet with columns one line may be all of a recipe with much said of it.
    if table.width() == 1 {
        let nothing = next_to_nothing(proposal.lines.len(), proposal.rows);
        proposal.assumed.splice(0..0, nothing);
    }
    proposal.notes.extend(table.done_words());
    proposal.assumed.extend(table.hidden_words());
    proposal.check_totals();
    Ok(proposal)
}

/// A table without the signs in a column that tick rows off: they say nothing of a row. What
/// else stands in that column, such as the name of a phase, stays.
fn without_ticks(table: &Table, column: usize) -> Table {
    let mut table = table.clone();
    for cell in table.rows.iter_mut().filter_map(|row| row.get_mut(column)) {
        if matches!(cell, Cell::Text(text) if is_box(text) || is_tick(text)) {
            *cell = Cell::Empty;
        }
    }
    table
}

#[cfg(test)]
mod forms_tests;
#[cfg(test)]
mod phases_tests;
#[cfg(test)]
mod tests;
