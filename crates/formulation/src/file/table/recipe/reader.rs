//! The reader of one table: what is known of it while its rows are read.

use std::collections::BTreeMap;
use std::ops::Range;

use rust_decimal::Decimal;

use super::decider::Decider;
use super::{LineQuantity, RecipeProposal, RecipeSettings};
use crate::amount::number::{DecimalMark, Unit};
use crate::file::table::Table;
use crate::file::table::columns::{ColumnKind, Layout};
use crate::file::table::sums::Sum;
use crate::naming::Wanted;

/// From so many percent on the lines are a whole.
const COMPLETE: Decimal = Decimal::from_parts(995, 0, 0, false, 1);

/// How the numbers of a column of percentages are stored.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Scale {
    /// As percentages.
    Percent,
    /// As fractions of 1.
    Fractions,
    /// As fractions of 1, to all appearance.
    LikelyFractions,
    /// As percentages, to all appearance, though all are below 1.
    LikelyPercent,
}

/// Reads the rows of one table.
pub(super) struct Reader<'t> {
    pub(super) table: &'t Table,
    pub(super) layout: Layout,
    pub(super) names: usize,
    pub(super) percent: Option<usize>,
    pub(super) amount: Option<usize>,
    pub(super) mark: Option<DecimalMark>,
    /// How percentages are stored.
    pub(super) scale: Scale,
    /// No amount has a unit.
    pub(super) parts: bool,
    /// Some amounts are percentages, though the column is not one of percentages.
    pub(super) percents_among: bool,
    /// The headings are those of our own table, whose q.s. is always the filler.
    pub(super) own: bool,
    pub(super) settings: &'t RecipeSettings,
    /// Rows in which names and amounts stand in one cell and the amounts have no units: "Water 70".
    pub(super) bare: Option<Range<usize>>,
    /// And they add up to the grams that the text states.
    pub(super) bare_grams: bool,
    /// Or they are fractions of the whole.
    pub(super) bare_parts: bool,
    /// What one of a measure of the kitchen weighs by the text itself, in grams, and in which row,
    /// counted from 0: "1 tbsp = 12 g".
    pub(super) keys: BTreeMap<&'static str, (Decimal, usize)>,
    /// What a gram is in percent, by shares in brackets behind the names of a text.
    pub(super) share_of_a_gram: Option<Decimal>,
    /// The recipe is told in sentences.
    pub(super) told: bool,
    /// What had to be assumed of the decimal mark and the columns.
    pub(super) doubts: Vec<String>,
    /// The unit of most amounts of a column whose heading names none, and whether it is that
    /// of all.
    pub(super) usual_unit: Option<(Unit, bool)>,
    /// The letters of phases by row, where a column numbers the lines within each.
    pub(super) letters: BTreeMap<usize, String>,
    /// Rows without an amount that are numbered or lettered on, each with lines below it, and
    /// the number or letter.
    pub(super) sequence: BTreeMap<usize, String>,
    /// The INCI names of each line stand in the row below it.
    pub(super) inci_below: bool,
    /// A number stands in front of each name.
    pub(super) numbered: bool,
    /// The letter of its phase stands in front of each name.
    pub(super) lettered: bool,
    /// Columns of the percentages of other versions.
    pub(super) versions: Vec<usize>,
    /// Masses that are stated above the list, in grams.
    pub(super) sizes: Vec<Decimal>,
    /// What each row sums up, if its words say so.
    pub(super) sums: Vec<Option<Sum>>,
}

/// What a row says of a material.
pub(super) struct Row {
    pub(super) wanted: Wanted,
    pub(super) read: Read,
}

/// What an amount cell says.
pub(super) enum Read {
    /// An amount with the other reading of its mark, what had to be assumed, and the measure of
    /// the kitchen whose weight is not said.
    Quantity(
        LineQuantity,
        Option<Decimal>,
        Vec<String>,
        Option<&'static str>,
    ),
    /// Something that no assumption mends.
    Problem(String),
    /// Something that is no amount.
    Unread(String),
    Nothing,
}

/// What has been seen while the rows are read from the top.
#[derive(Default)]
pub(super) struct Progress {
    pub(super) phase: Option<usize>,
    /// The whole has been summed up.
    pub(super) summed: bool,
    /// The method has begun.
    pub(super) method: bool,
    /// Its steps are numbered.
    pub(super) numbered: bool,
    /// Sum of the percentages so far.
    pub(super) total: Decimal,
    /// Rows, counted from 1, that state the sum of a part, and what it is.
    pub(super) parts: Vec<(usize, LineQuantity)>,
    /// How many lines there were when a total of the whole was stated.
    pub(super) lines_at_total: Option<usize>,
}

/// What the reading of the rows works on.
pub(super) struct Work<'m, 's> {
    pub(super) progress: Progress,
    pub(super) proposal: RecipeProposal,
    pub(super) decider: Decider<'m, 's>,
}

impl Reader<'_> {
    pub(super) fn rows(&self) -> Range<usize> {
        self.layout.first_row()..self.table.rows.len()
    }

    /// Whether a row is a sum, and of what.
    pub(super) fn sum(&self, row: usize) -> Option<Sum> {
        self.sums.get(row).copied().flatten()
    }

    pub(super) fn words(&self, row: usize, kind: ColumnKind) -> String {
        self.layout.words(self.table, row, kind)
    }

    pub(super) fn row_text(&self, row: usize) -> String {
        self.table.row_text(row)
    }

    /// Whether numbers without units are amounts in a row of text.
    pub(super) fn is_bare(&self, row: usize) -> bool {
        self.bare.as_ref().is_some_and(|rows| rows.contains(&row))
    }

    /// Names and amounts stand in the same cell.
    pub(super) fn in_text(&self) -> bool {
        self.percent.is_none() && self.amount.is_none()
    }
}

impl Work<'_, '_> {
    /// Whether a material goes by a name, for certain if so asked.
    pub(super) fn knows(&mut self, wanted: &Wanted, certain: bool) -> bool {
        let found = self.decider.meant(wanted);
        let best = found.candidates.first().filter(|_| found.taken);
        best.is_some_and(|c| !certain || !c.how.is_doubtful())
    }

    /// Whether the lines so far are a whole in percent.
    pub(super) fn is_complete(&self) -> bool {
        self.progress.total >= COMPLETE
    }
}
