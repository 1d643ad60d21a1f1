//! How a list is kept: which of two columns is the recipe, whether INCI names stand below each
//! line, whether lines are numbered within their phases.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use super::LineQuantity;
use super::reader::{Read, Reader};
use crate::amount::number;
use crate::file::table::Cell;
use crate::file::table::columns::ColumnKind;
use crate::file::table::names::are_inci_names;
use crate::file::table::phase_words::{letters_of_items, phase_heading, roman_place};
use crate::file::table::sums::Sum;
use crate::file::table::words::{behind_circle, is_property, lettered, numbered, words};
use crate::naming::{is_known_name, words_of};

impl Reader<'_> {
    /// Where some lines have no percentage but all have an amount, as where the percentages
    /// are those of the oils of a soap, the amounts are the recipe.
    pub(super) fn take_the_complete_column(&mut self) {
        let (Some(percent), Some(amount)) = (self.percent, self.amount) else {
            return;
        };
        let (mut both, mut only_amount, mut only_percent) = (0, 0, 0);
        let (mut percents, mut amounts) = (Decimal::ZERO, Decimal::ZERO);
        let value = |row: usize, column: usize| match self.read_cell(
            self.table.cell(row, column),
            None,
            "",
        ) {
            Read::Quantity(
                LineQuantity::Percent(v) | LineQuantity::Grams(v) | LineQuantity::Parts(v),
                ..,
            ) => v,
            _ => Decimal::ZERO,
        };
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
                (true, true) => {
                    both += 1;
                    percents += value(row, percent);
                    amounts += value(row, amount);
                }
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
            return;
        }
        if only_amount + only_percent > 0 || both < 2 {
            return;
        }
        // "% of oils", or percentages that make no whole beside amounts that do.
        let heading = self.layout.heading(self.table, percent);
        let of_fats = words_of(&heading)
            .iter()
            .any(|w| words().of_fats.contains(w));
        let off = (percents - Decimal::ONE_HUNDRED).abs() > Decimal::TWO
            && (percents - Decimal::ONE).abs() > Decimal::new(2, 2);
        let totals: Vec<Decimal> = self
            .rows()
            .filter(|&row| self.sum(row) == Some(Sum::Whole))
            .map(|row| value(row, amount))
            .collect();
        let made = totals.iter().any(|total| {
            !total.is_zero() && (amounts - total).abs() <= *total * Decimal::new(2, 3)
        });
        // More than the whole is none of it.
        let beyond = percents > Decimal::from(102);
        if off && of_fats || beyond && made {
            self.doubts.push(format!(
                "the percentages of “{heading}” add up to {} and are not those of the whole; the amounts of “{}” were taken",
                percents.normalize(),
                self.layout.heading(self.table, amount),
            ));
            self.percent = None;
        } else if of_fats {
            self.doubts.push(format!(
                "“{heading}” says that its percentages are those of the fats; lye and water may be missing"
            ));
        }
    }

    /// Whether most lines have a row below them with INCI names and nothing else.
    pub(super) fn has_inci_below(&self) -> bool {
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
    pub(super) fn is_inci_alone(&self, row: usize) -> bool {
        let cells = self.table.rows.get(row).into_iter().flatten();
        let name = self.table.cell(row, self.names).words();
        cells.filter(|cell| !cell.is_empty()).count() == 1
            && !name.is_empty()
            && are_inci_names(&name)
    }

    /// The letters of phases in a column of "A1", "A2", "B1"; what stands in rows without an
    /// amount says nothing of it.
    pub(super) fn letter_numbered_lines(&mut self) {
        let column = self
            .layout
            .place(ColumnKind::Phase)
            .or(self.layout.place(ColumnKind::Code));
        let Some(column) = column else {
            return;
        };
        let cells: Vec<(usize, String)> = self
            .rows()
            .map(|row| (row, self.table.cell(row, column).words()))
            .filter(|(row, words)| {
                !words.is_empty()
                    && self.table.left_out_reason(*row, self.names).is_none()
                    // Facts below the list may stand in the same columns.
                    && (self.has_amount(*row)
                        || is_known_name(&self.table.cell(*row, self.names).words()))
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
        !self.letters.is_empty() || self.layout.place(ColumnKind::Phase).is_some_and(filled)
    }

    /// Rows of words alone that are numbered or lettered on from the first, each with lines
    /// below it, and what each is called: "1. Heat", "2. Melt these", or "Part 1", "Part 2". They
    /// begin phases, whatever they say.
    pub(super) fn rows_in_sequence(&self) -> BTreeMap<usize, String> {
        let mut found: Vec<(usize, String)> = Vec::new();
        // The row that waits for a line.
        let mut open: Option<(usize, String)> = None;
        for row in self.rows() {
            let text = self.row_text(row);
            if text.is_empty() {
                continue;
            }
            if self.has_amount(row) {
                found.extend(open.take());
                continue;
            }
            let cells = self.table.rows.get(row).into_iter().flatten();
            let filled: Vec<String> = cells.map(Cell::words).filter(|w| !w.is_empty()).collect();
            // The label may stand in a cell of its own: "B.", "Surfactants".
            let alone = match filled.as_slice() {
                [_] => true,
                [label, _] => label.chars().count() <= 3 && text.len() > label.len(),
                _ => false,
            };
            match label_of(&text).filter(|_| alone) {
                Some((place, label)) if place == found.len() && open.is_none() => {
                    open = Some((row, label));
                }
                // One without lines below it, as in the method, ends them.
                Some(_) => break,
                None => {}
            }
        }
        if found.len() > 1 {
            found.into_iter().collect()
        } else {
            BTreeMap::new()
        }
    }

    /// Where no column of amounts was found, rows are read as lines of text. That is told where
    /// numbers stand in cells of their own, which says that there is one.
    pub(super) fn doubt_text_in_columns(&mut self) {
        if !self.in_text() || self.told || self.table.width() < 2 {
            return;
        }
        let has_number = |row: &usize| {
            let cells = self.table.rows.get(*row).into_iter().flatten();
            let mut cells = cells.filter(|cell| !cell.is_empty()).skip(1);
            cells.any(|cell| match cell {
                Cell::Number { .. } => true,
                Cell::Text(text) => number::amount(text, self.mark).is_ok(),
                _ => false,
            })
        };
        let filled = self.rows().filter(|row| !self.row_text(*row).is_empty());
        let (with, without): (Vec<usize>, Vec<usize>) = filled.partition(has_number);
        if with.len() > without.len() {
            self.doubts.push(
                "no column of amounts was found, so the cells of each row were read together as a line of text; choose the column of amounts if there is one".to_owned(),
            );
        }
    }

    /// The letters of phases that stand in front of all names: "A) Water", "B) Shea butter".
    pub(super) fn letters_before_names(&self) -> Option<BTreeMap<usize, String>> {
        if self.in_text() || self.layout.place(ColumnKind::Phase).is_some() {
            return None;
        }
        let mut letters = BTreeMap::new();
        let mut last = 'A';
        for row in self.rows() {
            let name = self.table.cell(row, self.names).words();
            if name.is_empty() || self.amount_is_empty(row) || self.sum(row).is_some() {
                continue;
            }
            let (letter, _) = lettered(&name)?;
            // From A on, each again or a later one.
            if letter < last || letters.is_empty() && letter != 'A' {
                return None;
            }
            last = letter;
            letters.insert(row, letter.to_string());
        }
        (last > 'A' && letters.len() > 2).then_some(letters)
    }

    /// Whether the names are numbered: "1. Water", "2. Glycerin".
    pub(super) fn has_numbered_names(&self) -> bool {
        if self.in_text() {
            return false;
        }
        let mut numbers: Vec<u32> = Vec::new();
        let mut others = 0;
        for row in self.rows() {
            let name = self.table.cell(row, self.names).words();
            let is_line = !name.is_empty()
                && !self.amount_is_empty(row)
                && self.sum(row).is_none()
                && phase_heading(&name).is_none()
                && !self.layout.is_repeated_in(self.table, row);
            match numbered(&name) {
                Some((number, _)) => numbers.push(number),
                None if is_line => others += 1,
                None => {}
            }
        }
        // Remarks and tests may stand below the lines, but the lines are counted without a gap.
        let counted = numbers
            .windows(2)
            .all(|pair| matches!(pair, [a, b] if *b == a + 1 || *b == 1));
        numbers.len() > 1
            && (others == 0 || counted && numbers.len() > 2 && others * 2 <= numbers.len())
    }
}

/// A number or letter in front of words, "1. Heat", "(2) melt", "C) last", or behind one alone,
/// "Part 1", with its place counted from 0.
fn label_of(text: &str) -> Option<(usize, String)> {
    let place_of = |label: &str| match label.as_bytes() {
        [letter] if letter.is_ascii_uppercase() => Some(usize::from(letter - b'A')),
        [b'1'..=b'9'] | [b'1', b'0'..=b'2'] => label.parse::<usize>().ok()?.checked_sub(1),
        _ => roman_place(label).map(usize::from),
    };
    let inner = text.trim().trim_start_matches(['*', '#', '_', ' ', '(']);
    if let Some((label, _)) = behind_circle(inner) {
        return Some((place_of(&label)?, label));
    }
    let end = inner.find(|c: char| !c.is_alphanumeric())?;
    let (first, rest) = (inner.get(..end)?, inner.get(end..)?);
    let marked = [".", ")", ":", " -", " –"]
        .iter()
        .any(|mark| rest.starts_with(mark));
    if let Some(place) = place_of(first)
        && marked
        && rest.contains(char::is_alphanumeric)
    {
        return Some((place, first.to_owned()));
    }
    let label = rest.trim_matches(|c: char| c.is_whitespace() || matches!(c, ':' | '.'));
    let is_word = first.chars().all(char::is_alphabetic) && first.chars().count() > 2;
    let place = place_of(label).filter(|_| is_word)?;
    Some((place, label.to_owned()))
}
