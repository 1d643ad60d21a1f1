//! What stands around the lines and is part of none: blank rows that part them, and materials
//! with amounts in columns that were taken for nothing.

use super::Proposal;
use super::reader::Reader;
use crate::file::table::{Cell, amounts, cell_name};
use crate::naming::is_known_name;

impl Reader<'_> {
    /// Where no column and no row says which phase a line is in, groups parted by blank rows
    /// may be phases: all of it is taken as one, and that is told.
    pub(super) fn tell_of_blank_rows(&self, proposal: &mut Proposal) {
        let begins = |reason: &String| reason.starts_with("begins a phase");
        let named = proposal.phases.len() != 1
            || proposal.left_out.iter().any(|l| begins(&l.reason))
            || self.has_phases();
        if named {
            return;
        }
        let is_blank = |row: usize| self.row_text(row).is_empty();
        let parted = |pair: &[super::ProposedLine]| match pair {
            [one, other] => (one.row..other.row.saturating_sub(1)).any(is_blank),
            _ => false,
        };
        let groups = 1 + proposal
            .lines
            .windows(2)
            .filter(|pair| parted(pair))
            .count();
        // Lines that all stand apart are set with space between them.
        if groups > 1 && (groups < proposal.lines.len() || groups == 2) {
            proposal.assumed.push(format!(
                "blank rows part the list into {groups} groups; all of them were taken as one phase"
            ));
        }
    }

    /// A material with a number right of it, both in columns that were taken for nothing, is of
    /// another list beside this one, and each is told.
    pub(super) fn tell_of_lists_beside(&self, proposal: &mut Proposal) {
        /// Told one by one; of more the number is told.
        const MOST: usize = 50;
        if self.in_text() {
            return;
        }
        let is_free = |column: usize| {
            column != self.names && self.layout.columns.get(column).is_none_or(Option::is_none)
        };
        let is_number = |cell: &Cell| match cell {
            Cell::Number { .. } => true,
            Cell::Text(text) => amounts::read(text, None, self.mark).is_ok(),
            _ => false,
        };
        let mut found: Vec<String> = Vec::new();
        let mut more = 0;
        for row in self.rows() {
            for column in (0..self.table.width()).filter(|c| is_free(*c) && is_free(c + 1)) {
                let amount = self.table.cell(row, column + 1);
                let Cell::Text(name) = self.table.cell(row, column) else {
                    continue;
                };
                if !is_number(amount) || !is_known_name(name) {
                    continue;
                }
                if found.len() == MOST {
                    more += 1;
                    continue;
                }
                found.push(format!(
                    "cell {} “{}” with {} beside it is in columns that were not taken, and was left out",
                    cell_name(row, column),
                    name.trim(),
                    amount.words()
                ));
            }
        }
        if more > 0 {
            found.push(format!(
                "and {more} more materials beside the list were left out"
            ));
        }
        proposal.assumed.extend(found);
    }
}
