//! What is seen of a row, for `weighing::rows`.

use rust_decimal::Decimal;

use super::checks::{is_sum_of_those_above, near};
use super::reader::{Read, Reader, Work};
use super::{LineQuantity, ProposedPhase, RecipeProposal};
use crate::file::table::amounts::is_dash;
use crate::file::table::columns::{Column, ColumnKind};
use crate::file::table::phase_words::{names_a_phase, phase_heading, phase_of_cell, says_phase};
use crate::file::table::sums::is_summed_by_name;
use crate::file::table::weighing::rows::{Amount, Seen};
use crate::file::table::words::{is_part, is_property, is_sentence};
use crate::file::table::{Cell, amounts};
use crate::naming::{Wanted, is_known_name, words_of};

impl Reader<'_> {
    /// What is seen of a row, and the phase that its words are those of.
    pub(super) fn seen(
        &self,
        row: usize,
        inside: bool,
        (wanted, read): (&Wanted, &Read),
        work: &mut Work<'_, '_>,
    ) -> (Seen, Option<ProposedPhase>) {
        let text = self.row_text(row);
        let named = !wanted.name.is_empty();
        let amount = match read {
            Read::Quantity(..) => Amount::Read,
            Read::Unread(_) | Read::Problem(_) => Amount::Unread,
            Read::Nothing if self.amount_is_dash(row) => Amount::Dash,
            Read::Nothing => Amount::None,
        };
        let is_letter = words_of(&wanted.name).concat().chars().count() == 1;
        let beside = self
            .heading_beside(row, read)
            .filter(|_| amount == Amount::Read && !named);
        let phase_beside = beside.is_some();
        let phase = match amount {
            Amount::Read | Amount::Unread if named => phase_heading(&wanted.name),
            Amount::Read => beside,
            Amount::Unread => phase_heading(&text),
            // "A" with the sum of its phase in a column that was not taken.
            Amount::None | Amount::Dash => phase_heading(&text)
                .or_else(|| phase_heading(&wanted.name).filter(|_| is_letter))
                .or_else(|| self.phase_in_sequence(row)),
        };
        let told = |phase: &ProposedPhase| !phase.letter.is_empty() || phase.kind.is_some();
        let sum = match read {
            Read::Quantity(sum, ..) if phase.is_some() || !named => Some(sum),
            _ => None,
        };
        let bare = matches!(amount, Amount::None | Amount::Dash);
        let in_doubt = bare && inside || amount == Amount::Unread || phase.is_some();
        let apart = !bare && named && phase.is_none() && self.stands_apart(row, work);
        let sum_of_several_below = amount == Amount::Read
            && named
            && matches!(read, Read::Quantity(sum, ..) if self.is_sum_of_those_below(row, sum, 2));
        let in_doubt = in_doubt || apart || sum_of_several_below;
        let identified = !wanted.inci.is_empty() || !self.words(row, ColumnKind::Cas).is_empty();
        let phase_cell = self.words(row, ColumnKind::Phase);
        let seen = Seen {
            amount,
            named,
            known: named && in_doubt && work.knows(wanted, bare),
            identified,
            inside,
            summed: work.progress.summed,
            complete: work.is_complete(),
            phase_words: phase.is_some(),
            says_phase: phase.as_ref().is_some_and(told) && says_phase(&wanted.name),
            letter: words_of(&wanted.name)
                .first()
                .is_some_and(|one| one.chars().count() == 1),
            phase_beside,
            phase_cell: names_a_phase(&phase_cell),
            like_phases: bare && self.begins_like_others(row, &work.proposal),
            few_words: bare && self.may_begin_a_phase(row, &work.proposal),
            summed_by_name: bare && is_summed_by_name(self.table, row),
            above_headings: bare && self.is_alone_above_headings(row),
            sum_of_above: sum
                .is_some_and(|s| is_sum_of_those_above(s, &work.progress, &work.proposal)),
            sum_of_below: sum.is_some_and(|s| self.is_sum_of_those_below(row, s, 1)),
            sum_of_several_below,
            part_of_above: amount == Amount::Read && is_part(&wanted.name),
            in_sequence: bare && self.sequence.contains_key(&row),
            property: is_property(&wanted.name) && !self.in_text(),
            apart,
            inci_below: self.inci_below
                && self.is_inci_alone(row)
                && work.proposal.lines.last().is_some_and(|l| l.row == row),
        };
        (seen, phase)
    }

    /// The phase that a row begins because it is numbered or lettered on from those before.
    fn phase_in_sequence(&self, row: usize) -> Option<ProposedPhase> {
        let label = self.sequence.get(&row)?;
        Some(ProposedPhase {
            letter: label.clone(),
            ..phase_of_cell(&self.row_text(row))
        })
    }

    /// Whether blank rows part a row from the lines above, which are a whole already, or each
    /// of which is in a phase while it is in none.
    fn stands_apart(&self, row: usize, work: &Work<'_, '_>) -> bool {
        let lines = &work.proposal.lines;
        let Some(last) = lines.last() else {
            return false;
        };
        let parted = (last.row..row).any(|r| self.row_text(r).is_empty());
        if !parted {
            return false;
        }
        let in_phase = |row: usize| !self.words(row, ColumnKind::Phase).is_empty();
        let unphased = self.layout.place(ColumnKind::Phase).is_some()
            && !in_phase(row)
            && lines.iter().all(|line| in_phase(line.row - 1));
        let near = |sum: Decimal, whole: Decimal| (sum - whole).abs() <= whole * Decimal::new(5, 4);
        let grams: Decimal = lines
            .iter()
            .filter_map(|line| {
                line.quantity
                    .value_like(&LineQuantity::Grams(Decimal::ZERO))
            })
            .sum();
        let whole = near(work.progress.total, Decimal::ONE_HUNDRED)
            || self.sizes.iter().any(|size| near(grams, *size));
        // A q.s. fills up to the whole whatever else there is.
        let filled = lines.iter().any(|line| line.quantity == LineQuantity::Rest);
        unphased || whole || filled && self.is_in_foreign_block(row)
    }

    /// Whether a row belongs to rows below a title of their own that name no material: packaging,
    /// costs.
    fn is_in_foreign_block(&self, row: usize) -> bool {
        let is_blank = |row: usize| self.row_text(row).is_empty();
        let first = (0..=row).rev().take_while(|&r| !is_blank(r)).last();
        let Some(first) = first.filter(|first| *first < row) else {
            return false;
        };
        let cells = |row: usize| self.table.rows.get(row).into_iter().flatten();
        let titled = cells(first).filter(|cell| !cell.is_empty()).count() == 1
            && phase_heading(&self.row_text(first)).is_none();
        let mut rows = (first..self.table.rows.len()).take_while(|&r| !is_blank(r));
        let is_material = |cell: &Cell| matches!(cell, Cell::Text(text) if is_known_name(text));
        titled && rows.all(|row| !cells(row).any(is_material))
    }

    /// Whether a row may begin a phase though no word of it says so: a few words alone in their
    /// row in a list that has no column of phases.
    fn may_begin_a_phase(&self, row: usize, proposal: &RecipeProposal) -> bool {
        let product = &proposal.name;
        let words = words_of(&self.row_text(row));
        // What stands alone above all lines is the title, unless others like it follow.
        let others = || {
            self.rows().skip_while(|&r| r <= row).any(|r| {
                self.has_few_words(r)
                    || phase_heading(&self.row_text(r)).is_some() && self.amount_is_empty(r)
            })
        };
        self.has_few_words(row)
            && (!proposal.lines.is_empty() || others())
            // "Body polish (continued)" is the product again.
            && (product.is_empty() || !words.starts_with(&words_of(product)))
    }

    /// Whether a row of one cell stands right above headings that come again.
    fn is_alone_above_headings(&self, row: usize) -> bool {
        let cells = self.table.rows.get(row).into_iter().flatten();
        let alone = cells.filter(|cell| !cell.is_empty()).count() == 1;
        let mut below = row + 1..self.table.rows.len();
        let next = below.find(|&r| !self.row_text(r).is_empty());
        alone
            && !self.in_text()
            && next.is_some_and(|next| self.layout.is_repeated_in(self.table, next))
    }

    /// Whether a row has nothing but a few words that name no material.
    fn has_few_words(&self, row: usize) -> bool {
        /// More words are a remark.
        const MOST_WORDS: usize = 5;
        let cells = self.table.rows.get(row).into_iter().flatten();
        let text = self.row_text(row);
        let words = words_of(&text);
        let trimmed = text.trim();
        let bold = trimmed.len() > 4 && trimmed.starts_with("**") && trimmed.ends_with("**");
        // In running text words that begin something are bold or end with a colon.
        (!self.in_text() || bold || trimmed.ends_with(':'))
            && self.layout.place(ColumnKind::Phase).is_none()
            && cells.filter(|cell| !cell.is_empty()).count() == 1
            && words.len() <= MOST_WORDS
            && words.iter().any(|w| w.chars().any(char::is_alphabetic))
            && !text.contains(|c: char| c.is_ascii_digit())
            && (bold || !is_sentence(&text))
            && !is_known_name(&text)
    }

    /// Whether a row of one cell begins a phase as those before it did: all of them stand
    /// alone in capitals.
    fn begins_like_others(&self, row: usize, proposal: &RecipeProposal) -> bool {
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

    /// Whether an amount is the sum of some rows right below it, and of so many at least.
    fn is_sum_of_those_below(&self, row: usize, sum: &LineQuantity, least: usize) -> bool {
        /// A phase has no more lines; looking further takes long in a long list.
        const MOST: usize = 60;
        let mut total = Decimal::ZERO;
        let mut count = 0;
        let Some(stated) = sum.value_like(sum) else {
            return false;
        };
        for below in (row + 1..self.table.rows.len()).take(MOST) {
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
            count += 1;
            if near(stated, total) {
                return count >= least;
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
            Cell::Text(text)
                if !of_amounts(column)
                    && !text.trim().is_empty()
                    && amounts::read(text, None, self.mark).is_err() =>
            {
                Some((column, text))
            }
            _ => None,
        });
        let (column, first) = words.next()?;
        let alone = words.next().is_none();
        // In a column of phases each line has its own, and the sum of one stands below it.
        let begins = Some(column) != self.layout.place(ColumnKind::Phase)
            || matches!(read, Read::Quantity(sum, ..) if self.is_sum_of_those_below(row, sum, 1));
        phase_heading(first).filter(|_| alone && begins)
    }

    pub(super) fn amount_is_dash(&self, row: usize) -> bool {
        let mut columns = self.percent.into_iter().chain(self.amount);
        columns.any(|column| match self.table.cell(row, column) {
            Cell::Text(text) => !text.trim().is_empty() && is_dash(text),
            _ => false,
        })
    }

    pub(super) fn amount_is_empty(&self, row: usize) -> bool {
        let of_amounts = |(at, column): (usize, &Option<Column>)| {
            column
                .is_some_and(|c| c.kind == ColumnKind::Amount)
                .then_some(at)
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
}
