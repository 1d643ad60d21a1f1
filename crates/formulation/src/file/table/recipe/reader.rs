//! The reader of one table: what its columns are, and its rows from top to bottom.

use std::collections::BTreeMap;
use std::sync::Arc;

use rust_decimal::Decimal;

use super::amount::is_dash;
use super::amount::{Scale, thousands_mark};
use super::checks::{is_sum_of_those_above, leave_out_sums, near};
use super::decide::{Decider, are_inci_names, clean_name, first_cas, name_over_inci};
use super::text::{bare_numbers_are_whole, take_title};
use super::{
    Choice, MOST_LINES, Problem, Proposal, ProposedLine, ProposedPhase, ProposedStep, Quantity,
    RecipeError, Reconcile, Settings,
};
use crate::amount::number::{self, DecimalMark, Unit};
use crate::file::formula_table;
use crate::file::product_head::{self, PhaseWords};
use crate::file::table::amounts::{self, Written};
use crate::file::table::columns::{Column, Kind, Layout, heading};
use crate::file::table::items::{by_phase, items};
use crate::file::table::phase_words::{
    letters_in, letters_of_items, names_a_phase, phase_heading, phase_of_cell, says_phase,
};
use crate::file::table::price_list::Progress as Telling;
use crate::file::table::prose::{self, is_sentence};
use crate::file::table::sums::{Sum, sum_of};
use crate::file::table::words::{begins_method, is_property, is_tick};
use crate::file::table::{Cell, Shown, Table, cell_name};
use crate::formula::{Formula, Variant};
use crate::naming::{Resolver, Wanted, is_known_name, words_of};
use crate::purpose::Purpose;
use crate::quantity::Percent;

/// Rows of a text that are looked at for a recipe told in sentences.
const MOST_TOLD: usize = 500;

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
    pub(super) settings: &'t Settings,
    /// Names and amounts stand in one cell and the amounts have no units: "Water 70".
    pub(super) bare: bool,
    /// The recipe is told in sentences.
    pub(super) told: bool,
    /// What had to be assumed of the decimal mark and the columns.
    pub(super) doubts: Vec<String>,
    /// The unit of most amounts of a column whose heading names none, and whether it is that
    /// of all.
    pub(super) usual_unit: Option<(Unit, bool)>,
    /// The letters of phases by row, where a column numbers the lines within each.
    pub(super) letters: BTreeMap<usize, String>,
    /// The INCI names of each line stand in the row below it.
    pub(super) inci_below: bool,
}

/// What a row says of a material.
pub(super) struct Row {
    pub(super) wanted: Wanted,
    pub(super) read: Read,
}

/// What an amount cell says.
pub(super) enum Read {
    /// An amount with the other reading of its mark and what had to be assumed.
    Quantity(Quantity, Option<Decimal>, Vec<String>),
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
    pub(super) parts: Vec<(usize, Quantity)>,
}

impl<'t> Reader<'t> {
    pub(super) fn new(
        table: &'t Table,
        layout: Layout,
        settings: &'t Settings,
    ) -> Result<Self, RecipeError> {
        let names = layout
            .place(Kind::Name)
            .or_else(|| layout.place(Kind::Inci))
            .ok_or(RecipeError::NoColumns)?;
        let percent = layout.place(Kind::Percent);
        let amount = layout.place(Kind::Amount);
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
            bare: false,
            told: false,
            doubts,
            usual_unit: None,
            letters: BTreeMap::new(),
            inci_below: false,
        };
        reader.take_the_complete_column();
        reader.usual_unit = reader.find_usual_unit();
        reader.bare = reader.in_text() && bare_numbers_are_whole(table);
        reader.told = reader.in_text() && {
            let texts: Vec<String> = (0..table.rows.len().min(MOST_TOLD))
                .map(|row| reader.row_text(row))
                .collect();
            prose::is_told(texts.iter().map(String::as_str), reader.mark)
        };
        reader.letter_numbered_lines();
        reader.inci_below = reader.has_inci_below();
        reader.scale = reader.scale_of_percentages();
        reader.parts = reader.are_parts();
        reader.percents_among = percent.is_none()
            && reader.layout.unit(Kind::Amount).is_none()
            && amount.is_some_and(|column| {
                reader.rows().any(|row| match table.cell(row, column) {
                    Cell::Number { shown, .. } => {
                        matches!(shown, Shown::Percent | Shown::In(Unit::Percent))
                    }
                    Cell::Text(text) => amounts::read(text, None, reader.mark)
                        .is_ok_and(|a| matches!(a.written, Written::Percent(_))),
                    _ => false,
                })
            });
        Ok(reader)
    }

    /// Where some lines have no percentage but all have an amount, as where the percentages
    /// are those of the oils of a soap, the amounts are the recipe.
    fn take_the_complete_column(&mut self) {
        let (Some(percent), Some(amount)) = (self.percent, self.amount) else {
            return;
        };
        let (mut both, mut only_amount, mut only_percent) = (0, 0, 0);
        for row in self.rows() {
            let name = self.table.cell(row, self.names);
            if name.is_empty()
                || self.sum(row).is_some()
                || is_property(&name.words())
                || self.table.left_out_reason(row, self.names).is_some()
            {
                continue;
            }
            let filled = |column: usize| !self.table.cell(row, column).is_empty();
            match (filled(percent), filled(amount)) {
                (true, true) => both += 1,
                (false, true) => only_amount += 1,
                (true, false) => only_percent += 1,
                (false, false) => {}
            }
        }
        if only_amount > 0 && both > 0 && only_percent == 0 {
            self.doubts.push(format!(
                "“{}” has no percentage in {only_amount} of {} rows, but “{}” has an amount in all; the amounts were taken",
                self.layout.heading(self.table, percent),
                both + only_amount,
                self.layout.heading(self.table, amount),
            ));
            self.percent = None;
        }
    }

    /// Whether most lines have a row below them with INCI names and nothing else.
    fn has_inci_below(&self) -> bool {
        if self.in_text() {
            return false;
        }
        let (mut lines, mut pairs) = (0, 0);
        for row in self.rows() {
            if self.amount_is_empty(row) || self.table.cell(row, self.names).is_empty() {
                continue;
            }
            lines += 1;
            pairs += usize::from(self.is_inci_alone(row + 1));
        }
        pairs > 2 && pairs * 2 > lines
    }

    /// Whether a row has INCI names where materials are named, and nothing else.
    fn is_inci_alone(&self, row: usize) -> bool {
        let cells = self.table.rows.get(row).into_iter().flatten();
        let name = self.table.cell(row, self.names).words();
        cells.filter(|cell| !cell.is_empty()).count() == 1
            && !name.is_empty()
            && are_inci_names(&name)
    }

    /// The letters of phases in a column of "A1", "A2", "B1"; what stands in rows without an
    /// amount says nothing of it.
    fn letter_numbered_lines(&mut self) {
        let column = self
            .layout
            .place(Kind::Phase)
            .or(self.layout.place(Kind::Code));
        let Some(column) = column else {
            return;
        };
        let cells: Vec<(usize, String)> = self
            .rows()
            .map(|row| (row, self.table.cell(row, column).words()))
            .filter(|(row, words)| {
                !words.is_empty()
                    && self.table.left_out_reason(*row, self.names).is_none()
                    && !self.amount_is_empty(*row)
            })
            .collect();
        let words: Vec<String> = cells.iter().map(|(_, words)| words.clone()).collect();
        let Some((letters, certain)) = letters_of_items(&words) else {
            return;
        };
        if !certain {
            self.doubts.push(format!(
                "“{}” and the like were taken as a phase and the number of a line in it",
                words.first().map(String::as_str).unwrap_or_default()
            ));
        }
        self.letters = cells.into_iter().map(|(row, _)| row).zip(letters).collect();
    }

    /// Whether a column says which phase each row is in.
    pub(super) fn has_phases(&self) -> bool {
        let filled = |column: usize| {
            self.rows()
                .any(|row| !self.table.cell(row, column).is_empty())
        };
        !self.letters.is_empty() || self.layout.place(Kind::Phase).is_some_and(filled)
    }

    pub(super) fn rows(&self) -> std::ops::Range<usize> {
        self.layout.first_row()..self.table.rows.len()
    }

    /// Whether a row is a sum, and of what.
    pub(super) fn sum(&self, row: usize) -> Option<Sum> {
        sum_of(self.table, row)
    }

    pub(super) fn words(&self, row: usize, kind: Kind) -> String {
        self.layout.words(self.table, row, kind)
    }

    pub(super) fn read(
        self,
        title: &str,
        matcher: &Resolver<'_>,
        told: &mut Telling<'_>,
    ) -> Result<Proposal, RecipeError> {
        let mut proposal = Proposal {
            name: title.to_owned(),
            layout: self.layout.clone(),
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
            assumed: Vec::new(),
            kind_assumed: false,
            left_out: Vec::new(),
            rows: 0,
            batch: None,
        };
        proposal.rows = (0..self.table.rows.len())
            .filter(|&row| !self.row_text(row).is_empty())
            .count();
        proposal.assumed.extend(self.doubts.iter().cloned());
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
        let last = self
            .rows()
            .rev()
            .find(|&row| {
                self.sum(row).is_none()
                    && self.table.left_out_reason(row, self.names).is_none()
                    && self.has_amount(row)
                    && !is_property(&self.table.cell(row, self.names).words())
            })
            .unwrap_or(0);
        let mut decider = Decider::new(matcher);
        let mut progress = Progress::default();
        if let Some(phase) =
            (0..self.layout.headings.unwrap_or(0)).find_map(|row| self.begins_phase_above(row))
        {
            progress.phase = Some(proposal.enter_phase(phase));
        }
        if progress.phase.is_none() {
            progress.phase = (self.layout.headings)
                .and_then(|row| self.phase_in_headings(row))
                .map(|phase| proposal.enter_phase(phase));
        }
        for row in self.rows() {
            self.read_row(row, row < last, &mut progress, &mut proposal, &mut decider);
        }
        self.compare_columns(&mut proposal);
        if self.in_text() {
            take_title(&mut proposal, matcher);
        }
        leave_out_sums(&mut proposal, &mut decider);
        self.tell_of_blank_rows(&mut proposal);
        Self::check_parts(&progress.parts, &mut proposal);
        proposal.check_repeats();
        if proposal.lines.is_empty() && proposal.problems.is_empty() {
            return Err(if self.percent.is_none() && self.amount.is_none() {
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
        proposal.batch = self.stated_batch(&proposal).or(by_columns);
        Self::settle_units(&mut proposal, matcher);
        let in_grams = proposal.percent_total().is_none()
            && proposal
                .lines
                .iter()
                .any(|l| matches!(l.quantity, Quantity::Grams(_)));
        if in_grams
            && proposal.has_rest()
            && proposal.batch.is_none()
            && proposal.stated_total.is_none()
        {
            proposal.assumed.push(
                "the amounts are in grams with a q.s., and no size of the batch is stated; the next round size was taken".to_owned(),
            );
        }
        self.settle_kind(title, &mut proposal);
        self.name_columns_left_out(&mut proposal);
        self.tell_of_lists_beside(&mut proposal);
        Ok(proposal)
    }

    pub(super) fn row_text(&self, row: usize) -> String {
        self.table.row_text(row)
    }

    pub(super) fn has_amount(&self, row: usize) -> bool {
        if self.in_text() {
            let text = self.row_text(row);
            return self.told && prose::is_prose(&text, self.mark)
                || !items(&text, self.mark, self.bare).lines.is_empty();
        }
        matches!(self.quantity(row, ""), Read::Quantity(..))
    }

    /// Names and amounts stand in the same cell.
    pub(super) fn in_text(&self) -> bool {
        self.percent.is_none() && self.amount.is_none()
    }

    /// What a row says of a material: its names and how much of it.
    pub(super) fn row(&self, row: usize) -> Row {
        let mut name = self.table.cell(row, self.names).words();
        let mut inci = self.words(row, Kind::Inci);
        if let Some((above, below)) = name_over_inci(self.table.cell(row, self.names)) {
            (name, inci) = (above, below);
        }
        if name.is_empty() {
            name.clone_from(&inci);
        }
        if self.layout.place(Kind::Inci) == Some(self.names) && !are_inci_names(&inci) {
            inci.clear();
        }
        if name.is_empty() {
            name = self.words(row, Kind::Trade);
        }
        let read = self.quantity(row, &name);
        Row {
            wanted: Wanted {
                name: clean_name(&name),
                inci: clean_name(&inci),
                cas: None,
                supplier: self.words(row, Kind::Supplier),
                strength: self.words(row, Kind::Strength),
            },
            read,
        }
    }

    /// A row of words without an amount. Inside the list it begins a phase, or is a
    /// material whose amount is missing, or a remark; what stands `after` it all, such
    /// as the method, is kept as text.
    pub(super) fn read_words(
        &self,
        row: usize,
        inside: bool,
        wanted: Wanted,
        progress: &mut Progress,
        proposal: &mut Proposal,
        decider: &mut Decider<'_, '_>,
    ) {
        let text = self.row_text(row);
        if self.inci_below
            && self.is_inci_alone(row)
            && let Some(line) = proposal.lines.last_mut().filter(|line| line.row == row)
        {
            line.wanted.inci = clean_name(&wanted.name);
            proposal.left_out(row, &text, "the INCI names of the row above");
            return;
        }
        let phase_cell = self.words(row, Kind::Phase);
        let mut known = || {
            let found = decider.meant(&wanted);
            let best = found.candidates.first().filter(|_| found.taken);
            best.is_some_and(|c| !c.how.is_doubtful())
        };
        if self.amount_is_dash(row) && !wanted.name.is_empty() {
            proposal.left_out(row, &text, "a dash stands for its amount");
            proposal.assumed.push(format!(
                "row {} “{}” has a dash for its amount and was left out",
                row + 1,
                wanted.name
            ));
        } else if !inside {
            proposal.left_out(row, &text, "stands below the list and is kept in the notes");
            // A material whose amount is missing may stand last.
            if !progress.summed && !self.in_text() && is_known_name(&wanted.name) {
                proposal.assumed.push(format!(
                    "row {} “{text}” has no amount and was left out",
                    row + 1
                ));
            }
            proposal.text.push(text);
        } else if let Some(heading) = phase_heading(&text).or_else(|| {
            // "A" with the sum of its phase in a column that was not taken.
            let letter = words_of(&wanted.name).concat().chars().count() == 1;
            phase_heading(&wanted.name).filter(|_| letter)
        }) {
            progress.phase = Some(proposal.enter_phase(heading));
            proposal.left_out(row, &text, "begins a phase");
        } else if wanted.name.is_empty() && names_a_phase(&phase_cell) {
            progress.phase = Some(proposal.enter_phase(phase_of_cell(&phase_cell)));
            proposal.left_out(row, &text, "begins a phase");
        } else if self.begins_like_others(row, proposal) {
            progress.phase = Some(proposal.enter_phase(phase_of_cell(&text)));
            proposal.left_out(row, &text, "begins a phase");
        } else if self.amount_is_empty(row)
            && !wanted.name.is_empty()
            && (!wanted.inci.is_empty() || names_a_phase(&phase_cell) || known())
        {
            let doubt = "it has no amount; put in how much, or leave it out".to_owned();
            self.enter(row, wanted, Read::Unread(doubt), progress, proposal);
        } else if self.may_begin_a_phase(row) {
            progress.phase = Some(proposal.enter_phase(phase_of_cell(&text)));
            proposal.left_out(row, &text, "begins a phase");
            proposal.assumed.push(format!(
                "row {} “{text}” has no amount and was taken for the beginning of a phase",
                row + 1
            ));
        } else {
            proposal.left_out(row, &text, "has no amount and is kept in the notes");
            // It may be a material or a phase, which nobody should miss, unless it says what
            // is done.
            if text.chars().any(char::is_alphabetic) && !is_sentence(&text) {
                proposal.assumed.push(format!(
                    "row {} “{text}” has no amount and was taken as a remark",
                    row + 1
                ));
            }
            proposal.text.push(text);
        }
    }

    /// Whether a row may begin a phase though no word of it says so: a few words alone in their
    /// row in a list that has no column of phases.
    fn may_begin_a_phase(&self, row: usize) -> bool {
        /// More words are a remark.
        const MOST_WORDS: usize = 5;
        let cells = self.table.rows.get(row).into_iter().flatten();
        let text = self.row_text(row);
        let words = words_of(&text);
        !self.in_text()
            && self.layout.place(Kind::Phase).is_none()
            && cells.filter(|cell| !cell.is_empty()).count() == 1
            && words.len() <= MOST_WORDS
            && words.iter().any(|w| w.chars().any(char::is_alphabetic))
            && !text.contains(|c: char| c.is_ascii_digit())
            && !is_sentence(&text)
            && !is_known_name(&text)
    }

    /// Whether a row of one cell begins a phase as those before it did: all of them stand
    /// alone in capitals.
    fn begins_like_others(&self, row: usize, proposal: &Proposal) -> bool {
        let is_capital = |text: &str| {
            text.chars().any(char::is_alphabetic) && !text.chars().any(char::is_lowercase)
        };
        let alone = |row: usize| {
            let cells = self.table.rows.get(row).into_iter().flatten();
            cells.filter(|cell| !cell.is_empty()).count() == 1
        };
        let text = self.row_text(row);
        let mut before = proposal
            .left_out
            .iter()
            .filter(|left| left.reason == "begins a phase")
            .peekable();
        alone(row)
            && is_capital(&text)
            && words_of(&text).len() <= 4
            && before.peek().is_some()
            && before.all(|left| alone(left.row - 1) && is_capital(&left.words))
    }

    /// Whether a name with an amount is that of a phase with its sum: no material is called by
    /// a letter, and a word such as "Oils" is one where what follows adds up to the amount and
    /// what stands before does not.
    fn heads_a_phase(
        &self,
        row: usize,
        wanted: &Wanted,
        sum: &Quantity,
        progress: &Progress,
        proposal: &Proposal,
        decider: &mut Decider<'_, '_>,
    ) -> bool {
        let Some(phase) = phase_heading(&wanted.name) else {
            return false;
        };
        let letter = words_of(&wanted.name)
            .first()
            .is_some_and(|one| one.chars().count() == 1);
        let told = !phase.letter.is_empty() || phase.kind.is_some();
        if told && says_phase(&wanted.name) {
            return true;
        }
        if !wanted.inci.is_empty() || wanted.cas.is_some() {
            return false;
        }
        letter
            || !is_sum_of_those_above(sum, progress, proposal)
                && self.is_sum_of_those_below(row, sum)
                && !decider.meant(wanted).taken
    }

    /// Whether an amount is the sum of some rows right below it.
    fn is_sum_of_those_below(&self, row: usize, sum: &Quantity) -> bool {
        let mut total = Decimal::ZERO;
        let Some(stated) = sum.value_like(sum) else {
            return false;
        };
        for below in row + 1..self.table.rows.len() {
            let name = self.table.cell(below, self.names).words();
            if name.is_empty() || self.table.left_out_reason(below, self.names).is_some() {
                continue;
            }
            let Read::Quantity(quantity, ..) = self.quantity(below, &name) else {
                return false;
            };
            let Some(value) = quantity.value_like(sum) else {
                return false;
            };
            total += value;
            if near(stated, total) {
                return true;
            }
            if total > stated {
                return false;
            }
        }
        false
    }

    /// The phase that words beside an amount begin in a row that names no material.
    fn heading_beside(&self, row: usize, read: &Read) -> Option<ProposedPhase> {
        let of_amounts =
            |column: usize| Some(column) == self.percent || Some(column) == self.amount;
        let cells = self.table.rows.get(row)?.iter().enumerate();
        let mut words = cells.filter_map(|(column, cell)| match cell {
            Cell::Text(text) if !of_amounts(column) && !text.trim().is_empty() => {
                Some((column, text))
            }
            _ => None,
        });
        let (column, first) = words.next()?;
        let alone = words.next().is_none();
        // In a column of phases each line has its own, and the sum of one stands below it.
        let begins = Some(column) != self.layout.place(Kind::Phase)
            || matches!(read, Read::Quantity(sum, ..) if self.is_sum_of_those_below(row, sum));
        phase_heading(first).filter(|_| alone && begins)
    }

    fn amount_is_dash(&self, row: usize) -> bool {
        let mut columns = self.percent.into_iter().chain(self.amount);
        columns.any(|column| match self.table.cell(row, column) {
            Cell::Text(text) => !text.trim().is_empty() && is_dash(text),
            _ => false,
        })
    }

    pub(super) fn amount_is_empty(&self, row: usize) -> bool {
        let of_amounts = |(at, column): (usize, &Option<Column>)| {
            column.is_some_and(|c| c.kind == Kind::Amount).then_some(at)
        };
        let more = self
            .layout
            .columns
            .iter()
            .enumerate()
            .filter_map(of_amounts);
        let mut columns = self.percent.into_iter().chain(self.amount).chain(more);
        columns.all(|column| self.table.cell(row, column).is_empty())
    }

    pub(super) fn read_row(
        &self,
        row: usize,
        inside: bool,
        progress: &mut Progress,
        proposal: &mut Proposal,
        decider: &mut Decider<'_, '_>,
    ) {
        let text = self.row_text(row);
        if text.is_empty() {
            return;
        }
        if let Some(reason) = self.table.left_out_reason(row, self.names)
            && !self.settings.hidden
        {
            proposal.left_out(row, &text, reason);
            proposal.assumed.push(format!(
                "row {} “{text}” is {reason} and was left out; --hidden takes it in",
                row + 1
            ));
            return;
        }
        // A dose that is struck through is withdrawn.
        if let Some(column) = self.percent.or(self.amount)
            && self.table.struck.contains(&(row, column))
            && !self.settings.hidden
        {
            proposal.left_out(row, &text, "its amount is struck through");
            proposal.assumed.push(format!(
                "row {} “{text}”: its amount is struck through, so it was left out; --hidden takes it in",
                row + 1
            ));
            return;
        }
        if self.layout.is_repeated_in(self.table, row) {
            self.read_headings_again(row, &text, progress, proposal);
            return;
        }
        if let Some((key, value)) = self.head_of(row)
            && !inside
        {
            let mut formula = Formula::clone(&proposal.head);
            let mut variant = Variant::clone(formula.active());
            let taken = product_head::read_key(
                &key,
                &value,
                &mut formula,
                &mut variant,
                &mut proposal.phase_words,
            );
            if taken == Ok(true) {
                formula.variants = vec![Arc::new(variant)];
                proposal.head = Arc::new(formula);
                proposal.left_out(row, &text, "says what the product is");
                return;
            }
        }
        if let Some(sum) = self.sum(row) {
            progress.summed |= sum == Sum::Whole;
            match (sum, self.quantity(row, "")) {
                (
                    Sum::Whole,
                    Read::Quantity(
                        Quantity::Percent(v) | Quantity::Grams(v) | Quantity::Parts(v),
                        ..,
                    ),
                ) => proposal.stated_total = Some(v),
                (Sum::Part, Read::Quantity(quantity, ..)) => {
                    progress.parts.push((row + 1, quantity));
                }
                _ => {}
            }
            proposal.left_out(row, &text, "a sum");
            return;
        }
        if begins_method(&text) && !inside && !progress.method {
            progress.method = true;
            proposal.left_out(row, &text, "begins the method");
            return;
        }
        // "Method: heat A to 75 °C."
        if let Some((key, step)) = text.split_once(':')
            && begins_method(key)
            && !inside
            && !step.trim().is_empty()
        {
            progress.method = true;
            proposal.left_out(row, &text, "the method, kept as a step");
            proposal.add_step(step);
            return;
        }
        if progress.method {
            let numbered = text.starts_with(|c: char| c.is_ascii_digit());
            let apart = row
                .checked_sub(1)
                .is_some_and(|r| self.row_text(r).is_empty());
            progress.numbered |= numbered;
            if progress.numbered && !numbered && apart {
                proposal.left_out(
                    row,
                    &text,
                    "stands below the method and is kept in the notes",
                );
                proposal.text.push(text);
            } else if is_property(&text) {
                proposal.left_out(row, &text, "a property of the product, kept in the notes");
                proposal.text.push(text);
            } else {
                proposal.left_out(row, &text, "the method, kept as a step");
                proposal.add_step(&text);
            }
            return;
        }
        if self.told && prose::is_prose(&text, self.mark) {
            self.read_sentences(row, &text, progress, proposal);
            return;
        }
        if self.in_text() && self.read_title(row, &text, inside, progress, proposal) {
            return;
        }
        if self.in_text() {
            // A cell of its own in front names the phase of the others.
            let first = self
                .table
                .rows
                .get(row)
                .and_then(|cells| cells.iter().find(|c| !c.is_empty()));
            let first = first.map(Cell::words).unwrap_or_default();
            let mut text = text.as_str();
            if first.len() < text.len()
                && items(&first, self.mark, false).lines.is_empty()
                && let Some(heading) = phase_heading(&first)
            {
                progress.phase = Some(proposal.enter_phase(heading));
                text = text.get(first.len()..).unwrap_or_default().trim_start();
            }
            for part in by_phase(text) {
                self.read_items(row, part, inside, progress, proposal, decider);
            }
            return;
        }
        let Row { wanted, read } = self.row(row);
        if is_property(&wanted.name)
            && (!inside || progress.summed || progress.total >= Decimal::new(995, 1))
        {
            proposal.left_out(row, &text, "a property of the product, kept in the notes");
            proposal.text.push(text);
            return;
        }
        let below = progress.summed
            && progress.total >= Decimal::new(995, 1)
            && !matches!(read, Read::Nothing);
        if below {
            proposal.left_out(
                row,
                &text,
                "stands below the total and is kept in the notes",
            );
            // "Optional: lavender oil 0.5".
            if !wanted.name.is_empty()
                && (is_known_name(&wanted.name) || !self.words(row, Kind::Phase).is_empty())
            {
                proposal.assumed.push(format!(
                    "row {} “{text}” stands below the total and was left out",
                    row + 1
                ));
            }
            proposal.text.push(text);
            return;
        }
        match read {
            Read::Nothing => self.read_words(row, inside, wanted, progress, proposal, decider),
            Read::Problem(message) => proposal.problems.push(Problem {
                cell: self.amount_cell(row),
                message,
            }),
            Read::Unread(_) if wanted.name.is_empty() && phase_heading(&text).is_some() => {
                if let Some(phase) = phase_heading(&text) {
                    progress.phase = Some(proposal.enter_phase(phase));
                }
                proposal.left_out(row, &text, "begins a phase");
            }
            read @ (Read::Quantity(..) | Read::Unread(_)) if wanted.name.is_empty() => {
                match (self.heading_beside(row, &read), read) {
                    (Some(phase), Read::Quantity(quantity, ..)) => {
                        progress.phase = Some(proposal.enter_phase(phase));
                        progress.parts.push((row + 1, quantity));
                        proposal.left_out(row, &text, "begins a phase and states its sum");
                    }
                    (_, read) => Self::read_nameless(row, &text, &read, progress, proposal),
                }
            }
            // "Phase A,75" and "A,75" state the sum of a phase.
            Read::Quantity(quantity, ..)
                if self.heads_a_phase(row, &wanted, &quantity, progress, proposal, decider) =>
            {
                if let Some(phase) = phase_heading(&wanted.name) {
                    progress.phase = Some(proposal.enter_phase(phase));
                }
                progress.parts.push((row + 1, quantity));
                proposal.left_out(row, &text, "begins a phase and states its sum");
            }
            Read::Unread(message)
                if !inside && (progress.summed || !decider.meant(&wanted).taken) =>
            {
                if !progress.summed {
                    proposal.assumed.push(format!(
                        "row {} “{text}” below the list was taken as a remark: {message}",
                        row + 1
                    ));
                }
                proposal.left_out(row, &text, "stands below the list and is kept in the notes");
                proposal.text.push(text);
            }
            read @ (Read::Unread(_) | Read::Quantity(..)) => {
                self.enter(row, wanted, read, progress, proposal);
            }
        }
    }

    /// The phase that stands in a row of headings in place of that of the materials: "Phase A -
    /// water", "%".
    fn phase_in_headings(&self, row: usize) -> Option<ProposedPhase> {
        let words = self.table.cell(row, self.names).words();
        phase_heading(&words)
            .filter(|phase| !phase.letter.is_empty() || phase.kind.is_some())
            .filter(|_| says_phase(&words))
    }

    /// The headings once more: above the next phase, or above another recipe.
    fn read_headings_again(
        &self,
        row: usize,
        text: &str,
        progress: &mut Progress,
        proposal: &mut Proposal,
    ) {
        if let Some(phase) = self.phase_in_headings(row) {
            progress.phase = Some(proposal.enter_phase(phase));
            proposal.left_out(row, text, "begins a phase, with the headings again");
            return;
        }
        proposal.left_out(row, text, "the headings again");
        let above = (0..row).rev().find(|&r| !self.row_text(r).is_empty());
        let begins = above.is_some_and(|above| {
            let mut left = proposal.left_out.iter();
            left.any(|l| l.row == above + 1 && l.reason.starts_with("begins a phase"))
        });
        let (first, mut columns) = (self.layout.headings.unwrap_or(0), 0..self.table.width());
        let moved = columns.any(|column| {
            let of = |row: usize| match self.table.cell(row, column) {
                Cell::Text(text) => heading(text).map(|h| h.kind),
                _ => None,
            };
            of(first).is_some() && of(row).is_some() && of(first) != of(row)
        });
        if moved {
            proposal.assumed.push(format!(
                "row {} “{text}” heads the columns in another order; what stands below it was read in that of the first headings",
                row + 1
            ));
        } else if !begins && !self.has_phases() && !proposal.lines.is_empty() {
            proposal.assumed.push(format!(
                "the headings come again in row {}; what stands below them was taken as part of the same recipe{}",
                row + 1,
                if progress.phase.is_some() { " and phase" } else { "" }
            ));
        }
    }

    /// A line with what stands for its amount; what cannot be read enters at 0 % and is asked
    /// about, and without anything there is no line.
    pub(super) fn enter(
        &self,
        row: usize,
        wanted: Wanted,
        read: Read,
        progress: &mut Progress,
        proposal: &mut Proposal,
    ) {
        let (quantity, or, mut doubts) = match read {
            Read::Quantity(quantity, or, doubts) => (quantity, or, doubts),
            Read::Unread(message) | Read::Problem(message) => {
                let doubt = format!("{message}; it enters at 0 %");
                (Quantity::Percent(Decimal::ZERO), None, vec![doubt])
            }
            Read::Nothing => return,
        };
        let phase_cell = self
            .letters
            .get(&row)
            .cloned()
            .unwrap_or_else(|| self.words(row, Kind::Phase));
        if !phase_cell.is_empty() && !is_tick(&phase_cell) {
            progress.phase = Some(proposal.enter_phase(phase_of_cell(&phase_cell)));
        }
        let phase = *progress.phase.get_or_insert_with(|| {
            proposal.enter_phase(ProposedPhase {
                letter: "A".to_owned(),
                purpose: String::new(),
                temperature: None,
                kind: None,
            })
        });
        let done = self.words(row, Kind::Procedure);
        // In merged or copied cells the same words stand beside each line.
        if !done.is_empty() && proposal.steps.last().is_none_or(|s| s.text != done) {
            proposal.steps.push(ProposedStep { phase, text: done });
        }
        let cas = match first_cas(&self.words(row, Kind::Cas)) {
            Ok(cas) => cas,
            Err(told) => {
                doubts.push(told);
                None
            }
        };
        // A column of its own marks the filler beside its percentage.
        let marked = !self.words(row, Kind::Filler).is_empty();
        let letters = letters_in(&phase_cell);
        if letters.len() > 1 && !self.letters.contains_key(&row) {
            doubts.push(format!(
                "it stands in the phases {}; all of it was put into the first",
                letters.join(" and ")
            ));
        }
        let quantity = if marked || self.settings.fillers.contains(&(row + 1)) {
            Quantity::Rest
        } else {
            quantity
        };
        if let Quantity::Percent(value) = quantity {
            progress.total += value;
        }
        let bound = |kind: Kind| {
            let words = self.words(row, kind);
            words.parse::<Percent>().ok()
        };
        let said = self.words(row, Kind::Purpose);
        let purpose = Purpose::named(&said);
        let role = if purpose.is_none() && !said.is_empty() {
            [self.words(row, Kind::Role), said]
                .join(" ")
                .trim()
                .to_owned()
        } else {
            self.words(row, Kind::Role)
        };
        proposal.lines.push(ProposedLine {
            row: row + 1,
            phase,
            wanted: Wanted { cas, ..wanted },
            role,
            quantity,
            or,
            note: self.note(row),
            candidates: Vec::new(),
            choice: Choice::New,
            suggestions: Vec::new(),
            amount_doubts: doubts.len(),
            doubts,
            purpose,
            held: matches!(
                words_of(&self.words(row, Kind::Held)).join(" ").as_str(),
                "yes" | "held"
            ),
            bounds: (bound(Kind::Lowest), bound(Kind::Highest)),
            composition: self.words(row, Kind::Composition),
        });
    }

    /// The words beside a line, as they stand.
    pub(super) fn note(&self, row: usize) -> String {
        match self
            .layout
            .place(Kind::Note)
            .map(|c| self.table.cell(row, c))
        {
            Some(Cell::Text(text)) => text.trim().to_owned(),
            Some(cell) => cell.words(),
            None => String::new(),
        }
    }

    pub(super) fn amount_cell(&self, row: usize) -> String {
        let column = self.percent.or(self.amount).unwrap_or(self.names);
        cell_name(row, column)
    }
}
