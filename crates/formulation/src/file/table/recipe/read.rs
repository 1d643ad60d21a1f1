//! One table is read: what its columns are, and its rows from top to bottom.

use std::collections::BTreeMap;
use std::sync::Arc;

use rust_decimal::Decimal;

use super::amount::thousands_mark;
use super::checks::{are_unlike, leave_out_sums};
use super::decider::Decider;
use super::measures::{keys_in, tell_by_whole};
use super::reader::{Progress, Read, Reader, Scale, Work};
use super::text::{is_said, settle_sentences, take_title, whole_of_bare_numbers};
use super::{MOST_LINES, RecipeError, RecipeProposal, RecipeSettings, Reconcile};
use crate::amount::number::{self, Unit};
use crate::file::formula_table;
use crate::file::product_head::PhaseWords;
use crate::file::table::amounts::{self, WrittenAmount, masses_in};
use crate::file::table::columns::{ColumnKind, Layout};
use crate::file::table::items::items;
use crate::file::table::prose;
use crate::file::table::sums::sum_of;
use crate::file::table::words::is_property;
use crate::file::table::{Cell, RowProgress as Telling, Shown, Table};
use crate::formula::Formula;
use crate::naming::{Resolver, Wanted};

/// Rows that are looked up side by side.
const AT_ONCE: usize = 2_048;
/// Rows of a text that are looked at for a recipe told in sentences.
const MOST_TOLD: usize = 500;
impl<'t> Reader<'t> {
    pub(super) fn new(
        table: &'t Table,
        layout: Layout,
        settings: &'t RecipeSettings,
    ) -> Result<Self, RecipeError> {
        let names = layout
            .place(ColumnKind::Name)
            .or_else(|| layout.place(ColumnKind::Inci))
            .ok_or(RecipeError::NoColumns)?;
        let percent = layout.place(ColumnKind::Percent);
        let amount = layout.place(ColumnKind::Amount);
        let rows = layout.first_row()..table.rows.len();
        let texts: Vec<&str> = percent
            .into_iter()
            .chain(amount)
            .flat_map(|column| rows.clone().map(move |row| table.cell(row, column)))
            .filter_map(|cell| match cell {
                Cell::Text(text) => Some(text.as_str()),
                _ => None,
            })
            .collect();
        let mut doubts = Vec::new();
        let mark = settings
            .mark
            .or_else(|| number::mark_of(texts.iter().copied()))
            .or_else(|| {
                let (mark, example) = thousands_mark(&texts).filter(|_| percent.is_none())?;
                doubts.push(format!(
                    "amounts such as {example} were taken with a thousands mark; say --decimal if the mark is that of decimals"
                ));
                Some(mark)
            });
        let headings: Vec<String> = (0..table.width())
            .map(|column| layout.heading(table, column))
            .filter(|_| layout.headings.is_some())
            .collect();
        let mut reader = Self {
            table,
            layout,
            names,
            percent,
            amount,
            mark,
            scale: Scale::Percent,
            parts: false,
            percents_among: false,
            own: formula_table::are_headings(headings.iter().map(String::as_str)),
            settings,
            bare: None,
            bare_grams: false,
            bare_parts: false,
            keys: keys_in(table),
            share_of_a_gram: None,
            told: false,
            doubts,
            usual_unit: None,
            letters: BTreeMap::new(),
            sequence: BTreeMap::new(),
            inci_below: false,
            numbered: false,
            lettered: false,
            versions: Vec::new(),
            sizes: Vec::new(),
            sums: (0..table.rows.len())
                .map(|row| sum_of(table, row))
                .collect(),
        };
        reader.sizes = (0..reader.layout.headings.unwrap_or(0))
            .flat_map(|row| masses_in(&table.row_text(row)))
            .collect();
        reader.take_the_complete_column();
        reader.usual_unit = reader.find_usual_unit();
        let in_text = reader.in_text();
        let whole = in_text.then(|| whole_of_bare_numbers(table)).flatten();
        let of = whole.as_ref().map(|whole| whole.whole);
        reader.bare_parts = of == Some(Decimal::ONE);
        reader.bare_grams = of.is_some_and(|of| of != Decimal::ONE_HUNDRED && of != Decimal::ONE);
        reader.bare = whole.map(|whole| whole.rows);
        reader.share_of_a_gram = in_text.then(|| reader.find_share_of_a_gram()).flatten();
        reader.told = in_text && reader.is_told();
        reader.letter_numbered_lines();
        reader.doubt_text_in_columns();
        reader.numbered = reader.has_numbered_names();
        reader.sequence = reader.rows_in_sequence();
        if let Some(letters) = reader.letters_before_names() {
            reader.letters = letters;
            reader.lettered = true;
        }
        reader.inci_below = reader.has_inci_below();
        reader.scale = reader.scale_of_percentages();
        reader.parts = reader.are_parts();
        reader.percents_among = percent.is_none() && reader.has_percents_among();
        Ok(reader)
    }

    /// Whether a text tells the recipe in sentences.
    fn is_told(&self) -> bool {
        let texts: Vec<String> = (0..self.table.rows.len().min(MOST_TOLD))
            .map(|row| self.row_text(row))
            .collect();
        prose::is_told(texts.iter().map(String::as_str), self.mark)
    }

    /// Whether some amounts are percentages, though the heading of their column names no unit.
    fn has_percents_among(&self) -> bool {
        let is_percent = |cell: &Cell| match cell {
            Cell::Number { shown, .. } => {
                matches!(shown, Shown::Percent | Shown::In(Unit::Percent))
            }
            Cell::Text(text) => amounts::read(text, None, self.mark)
                .is_ok_and(|a| matches!(a.written, WrittenAmount::Percent(_))),
            _ => false,
        };
        self.layout.unit(ColumnKind::Amount).is_none()
            && self.amount.is_some_and(|column| {
                self.rows()
                    .any(|row| is_percent(self.table.cell(row, column)))
            })
    }

    /// Reads the rows from the top, settles what they mean, and holds what the table says
    /// twice against each other.
    pub(super) fn read(
        self,
        title: &str,
        matcher: &Resolver<'_>,
        told: &mut Telling<'_>,
    ) -> Result<RecipeProposal, RecipeError> {
        let mut work = Work {
            progress: Progress::default(),
            proposal: self.begin(title),
            decider: Decider::new(matcher),
        };
        self.enter_first_phase(&mut work);
        let last = self.last_line();
        for row in self.rows() {
            if row % AT_ONCE == 0 || row == self.layout.first_row() {
                self.prepare(row, &mut work.decider);
            }
            self.read_row(row, row < last, &mut work);
        }
        let Work {
            progress,
            mut proposal,
            mut decider,
        } = work;
        self.compare_columns(&mut proposal);
        self.compare_amounts(&mut proposal);
        if self.in_text() {
            self.leave_out_strays(&mut proposal);
            take_title(&mut proposal, matcher);
            settle_sentences(&mut proposal);
        }
        leave_out_sums(&mut proposal, &mut decider);
        self.tell_of_blank_rows(&mut proposal);
        self.tell_of_words_between(&mut proposal);
        Self::check_parts(&progress.parts, &mut proposal);
        proposal.check_repeats();
        self.doubt_by_footnotes(&mut proposal);
        self.doubt_by_changes(&mut proposal);
        self.tell_of_keys(&mut proposal);
        if proposal.lines.is_empty() && proposal.problems.is_empty() {
            return Err(if self.in_text() {
                RecipeError::NoColumns
            } else {
                RecipeError::NoLines
            });
        }
        if proposal.lines.len() > MOST_LINES {
            return Err(RecipeError::TooManyLines(proposal.lines.len()));
        }
        self.decide_all(&mut proposal, &mut decider, told)?;
        self.weigh_scale_by_use(&mut proposal, matcher);
        proposal.letter_phases();
        proposal.settle_rest();
        proposal.check_fillers(matcher);
        let by_columns = proposal.batch;
        self.check_batch(&mut proposal, by_columns);
        let stated = self.stated_batch(&proposal);
        tell_by_whole(stated, &mut proposal);
        proposal.batch = match (stated, by_columns) {
            // What came out of it is a little less than what went in, row by row.
            (Some(stated), Some(rows))
                if are_unlike(stated, rows) && (stated - rows).abs() * Decimal::TEN <= rows =>
            {
                by_columns
            }
            _ => stated.or(by_columns),
        };
        self.weigh_parts(&mut proposal);
        self.check_filled(&mut proposal);
        Self::settle_units(&mut proposal, matcher);
        proposal.check_whole_is_told();
        proposal.check_phases_again();
        self.settle_kind(title, &mut proposal);
        self.name_columns_left_out(&mut proposal);
        self.tell_of_lists_beside(&mut proposal);
        self.tell_of_lost_materials(&mut proposal);
        proposal.left_out.sort_by_key(|left| left.row);
        Ok(proposal)
    }

    /// Looks up what the next rows name.
    fn prepare(&self, row: usize, decider: &mut Decider<'_, '_>) {
        if self.in_text() {
            return;
        }
        let end = ((row / AT_ONCE + 1) * AT_ONCE).min(self.table.rows.len());
        let named = (row..end)
            .map(|row| self.row(row).wanted)
            .filter(|wanted| !wanted.name.is_empty());
        let named: Vec<Wanted> = named.collect();
        decider.prepare(&named);
    }

    /// The proposal before any row is read, with what its head says.
    fn begin(&self, title: &str) -> RecipeProposal {
        let mut proposal = RecipeProposal {
            name: title.to_owned(),
            layout: self.layout.clone(),
            evidence: Vec::new(),
            mark: self.mark,
            phases: Vec::new(),
            lines: Vec::new(),
            steps: Vec::new(),
            problems: Vec::new(),
            notes: Vec::new(),
            text: Vec::new(),
            stated_total: None,
            reconcile: Reconcile::AsWritten,
            head: Arc::new(Formula::new(title)),
            phase_words: PhaseWords::default(),
            assumed: self.doubts.clone(),
            kind_assumed: false,
            left_out: Vec::new(),
            rows: self.table.set_aside.len()
                + (0..self.table.rows.len())
                    .filter(|&row| !self.row_text(row).is_empty())
                    .count(),
            batch: None,
        };
        for (row, (words, why)) in &self.table.set_aside {
            proposal.left_out(*row, words, why);
        }
        self.read_head(title, &mut proposal);
        match self.scale {
            Scale::Percent => {}
            Scale::Fractions => proposal.notes.push(
                "the percentages are stored as fractions of 1 and were multiplied by 100"
                    .to_owned(),
            ),
            Scale::LikelyFractions => proposal.assumed.push(
                "the percentages are all below 1 and were taken as fractions of 1".to_owned(),
            ),
            Scale::LikelyPercent => proposal.assumed.push(
                "the percentages are all below 1 and were taken as they stand, not as fractions of 1".to_owned(),
            ),
        }
        if self.parts {
            proposal.notes.push(
                "the amounts name no unit and were taken as parts of the whole, by weight"
                    .to_owned(),
            );
        }
        proposal
    }

    /// The phase that stands above the headings or in them.
    fn enter_first_phase(&self, work: &mut Work<'_, '_>) {
        let first = self.layout.headings.unwrap_or(0);
        let phase = (0..first)
            .find_map(|row| self.begins_phase_above(row))
            .or_else(|| self.phase_in_headings(self.layout.headings?));
        if let Some(phase) = phase {
            work.enter_phase(phase);
        }
    }

    /// The last row that may be a line; what follows stands below the list.
    fn last_line(&self) -> usize {
        let is_line = |row: usize| {
            self.sum(row).is_none()
                && self.table.left_out_reason(row, self.names).is_none()
                && self.has_amount(row)
                && !is_property(&self.table.cell(row, self.names).words())
        };
        self.rows().rev().find(|&row| is_line(row)).unwrap_or(0)
    }

    pub(super) fn has_amount(&self, row: usize) -> bool {
        if self.in_text() {
            let text = self.row_text(row);
            if self.told && prose::is_prose(&text, self.mark) {
                return true;
            }
            let found = items(&text, self.mark, self.is_bare(row)).lines;
            return !found.is_empty() && !is_said(&text, &found);
        }
        matches!(self.quantity(row, ""), Read::Quantity(..))
    }
}
