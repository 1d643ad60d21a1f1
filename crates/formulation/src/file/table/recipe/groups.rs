//! What stands around the lines and is part of none: blank rows that part them, and materials
//! with amounts in columns that were taken for nothing.

use super::RecipeProposal;
use super::checks::{AGAIN, OF_ANOTHER_SIZE};
use super::reader::Reader;
use crate::file::table::{Cell, amounts, cell_name};
use crate::naming::is_known_name;

/// Why a row of words between the lines makes none.
pub(super) const AMONG_LINES: &str = "has no amount and is kept in the notes";

/// Whether a text has the name of a material in it: all of it, what stands in front of a number,
/// or what follows a colon: "Shea butter 1 part and a bit", "Optional: lavender oil".
pub(super) fn names_a_material(text: &str) -> bool {
    let behind = text.split_once(':').map(|(_, behind)| behind.trim());
    [
        Some(text),
        before_number(text),
        behind,
        behind.and_then(before_number),
    ]
    .into_iter()
    .flatten()
    .any(is_known_name)
}

/// The words in front of the first number of a text.
fn before_number(text: &str) -> Option<&str> {
    let digit = text.find(|c: char| c.is_ascii_digit())?;
    let name = text.get(..digit)?.trim_matches(|c: char| {
        c.is_whitespace() || matches!(c, ':' | '-' | '–' | '•' | '*' | ',')
    });
    (!name.is_empty()).then_some(name)
}

/// So many rows without a line may be a list of their own.
const ANOTHER_LIST: usize = 3;

impl Reader<'_> {
    /// Words alone between the lines may begin phases where nothing else says which phase a line
    /// is in: "Melt together".
    pub(super) fn tell_of_words_between(&self, proposal: &mut RecipeProposal) {
        let begins = |left: &super::LeftOutRow| left.reason.starts_with("begins a phase");
        if self.has_phases() || proposal.phases.len() != 1 || proposal.left_out.iter().any(begins) {
            return;
        }
        let Some(last) = proposal.lines.last().map(|line| line.row) else {
            return;
        };
        let between = |left: &&super::LeftOutRow| {
            left.row < last && left.reason == AMONG_LINES && left.row > self.layout.first_row()
        };
        let rows: Vec<String> = proposal
            .left_out
            .iter()
            .filter(between)
            .map(|left| left.row.to_string())
            .collect();
        if !rows.is_empty() {
            proposal.assumed.push(format!(
                "what stands alone between the lines, in row {}, may begin phases; all of them were taken as one phase",
                rows.join(", ")
            ));
        }
    }

    /// Where no column and no row says which phase a line is in, groups parted by blank rows
    /// may be phases: all of it is taken as one, and that is told.
    pub(super) fn tell_of_blank_rows(&self, proposal: &mut RecipeProposal) {
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
    pub(super) fn tell_of_lists_beside(&self, proposal: &mut RecipeProposal) {
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
            for column in (0..self.table.length(row)).filter(|c| is_free(*c) && is_free(c + 1)) {
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

    /// Whether a row, counted from 1, has a number at its end and stands next to one of those
    /// that are told, or only such rows are between them.
    fn stands_with(&self, row: usize, told: &[String]) -> bool {
        let numbered = |row: usize| {
            let text = self.row_text(row - 1);
            let last = text.split_whitespace().next_back().unwrap_or_default();
            text.contains(char::is_alphabetic) && amounts::read(last, None, self.mark).is_ok()
        };
        let is_told = |row: usize| {
            let named = format!("row {row} ");
            told.iter().any(|words| words.starts_with(&named))
        };
        let reaches =
            |rows: &mut dyn Iterator<Item = usize>| rows.take_while(|r| numbered(*r)).any(is_told);
        numbered(row)
            && !is_told(row)
            && (reaches(&mut (1..row).rev()) || reaches(&mut (row + 1..=self.table.rows.len())))
    }

    /// The count of rows once more, from the other side: no row in which a material stands
    /// beside a number may have been left out without a word about it.
    pub(super) fn tell_of_lost_materials(&self, proposal: &mut RecipeProposal) {
        let told = |row: usize, proposal: &RecipeProposal| {
            let named = format!("row {row} ");
            let with_colon = format!("row {row}:");
            proposal
                .assumed
                .iter()
                .any(|words| words.contains(&named) || words.contains(&with_colon))
        };
        let is_number = |cell: &Cell| match cell {
            Cell::Number { .. } => true,
            Cell::Text(text) => amounts::read(text, None, self.mark).is_ok(),
            _ => false,
        };
        let lost: Vec<String> = proposal
            .left_out
            .iter()
            .filter(|left| {
                let of_no_matter =
                    left.reason.starts_with("the headings") || [AGAIN, OF_ANOTHER_SIZE].contains(&left.reason.as_str());
                !of_no_matter && !told(left.row, proposal)
            })
            .filter_map(|left| {
                let cells = self.table.rows.get(left.row.checked_sub(1)?)?;
                // Head lines of our own form name what they are about.
                let is_remark = |cell: &Cell| matches!(cell, Cell::Text(t) if t.trim_start().starts_with('#'));
                if self.own && cells.first().is_some_and(is_remark) {
                    return None;
                }
                let name = cells.iter().find_map(|cell| match cell {
                    Cell::Text(text) if names_a_material(text) => Some(text.trim()),
                    _ => None,
                })?;
                let has_line = proposal.lines.iter().any(|line| line.row == left.row);
                // "Shea butter 1 part and a bit" has its number with it.
                let has_number = |cell: &Cell| {
                    is_number(cell)
                        || matches!(cell, Cell::Text(text) if text.trim() == name && !is_known_name(text) && text.contains(|c: char| c.is_ascii_digit()))
                };
                (!has_line && cells.iter().any(has_number))
                    .then(|| format!("row {} “{name}” was left out: {}", left.row, left.reason))
            })
            .collect();
        let mut lost = lost;
        if lost.len() >= ANOTHER_LIST {
            // Those that stand with them are of the same list, known or not.
            let near: Vec<String> = proposal
                .left_out
                .iter()
                .filter(|left| !told(left.row, proposal) && self.stands_with(left.row, &lost))
                .map(|left| {
                    format!(
                        "row {} “{}” was left out: {}",
                        left.row, left.words, left.reason
                    )
                })
                .collect();
            lost.extend(near);
            proposal.assumed.push(format!(
                "{} rows with a material and a number made no line; another recipe may stand there",
                lost.len()
            ));
        }
        proposal.assumed.extend(lost);
    }
}
