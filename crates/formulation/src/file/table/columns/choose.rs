//! Which columns are taken for what, by the evidence of `weighing::columns`: of several columns
//! for the same thing the best stays, and what another reader might see otherwise is a doubt.

use rust_decimal::Decimal;

use super::content::Content;
use super::heading::{heading, read_heading, row_above_numbers, row_of_headings, rows_of_headings};
use super::{Column, Kind, Layout, ROWS_FOR_CONTENT};
use crate::amount::number;
use crate::file::table::phase_words::phase_heading;
use crate::file::table::recipe::masses_in;
use crate::file::table::sums::is_sum;
use crate::file::table::weighing::columns::{Seen, evidence};
use crate::file::table::words::{is_box, is_tick};
use crate::file::table::{Cell, Table, amounts, cell_name};
use crate::naming::is_known_name;

/// What speaks for a column to be of a kind.
#[derive(Clone, PartialEq, Debug)]
pub struct Evidence {
    /// Which column, counted from 0.
    pub column: usize,
    /// Of which kind it would be.
    pub kind: Kind,
    /// How much it speaks for it; against it if below 0.
    pub weight: i32,
    /// Why, in words.
    pub reason: String,
}

/// What a table was taken for, and why.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Weighing {
    /// What the columns mean.
    pub layout: Layout,
    /// Further columns of percentages that each make a recipe of their own, such as
    /// versions: column and heading.
    pub versions: Vec<usize>,
    /// All evidence, by column.
    pub evidence: Vec<Evidence>,
    /// What another reader might see otherwise, in words.
    pub doubts: Vec<String>,
    /// Which of them is about the column of the materials.
    pub name_doubt: Option<String>,
}

/// Finds the headings of a table and what its columns mean.
/// `None` if no column of names and none of numbers is found.
pub fn recognise(table: &Table) -> Option<Layout> {
    weigh(table).map(|w| w.layout)
}

/// Weighs everything a table says about its columns: each heading, what stands below
/// it, what it sums to. Of several columns for the same thing the best stays; others are
/// versions or are left out with a doubt.
pub fn weigh(table: &Table) -> Option<Weighing> {
    let weighed = row_of_headings(table)
        .or_else(|| row_above_numbers(table))
        .and_then(|row| weigh_below(table, &rows_of_headings(table, row)));
    // "Water 70 %" alone in a row looks like a heading of percentages.
    weighed.or_else(|| weigh_below(table, &Layout::default()))
}

fn weigh_below(table: &Table, rows: &Layout) -> Option<Weighing> {
    let first = rows.first_row();
    let listed = rows_of_the_list(table, first..table.rows.len());
    let contents: Vec<Content> = (0..table.width())
        .map(|column| Content::of(table, column, listed.iter().copied()))
        .collect();
    // What is stated above the list of the size of the batch.
    let batches: Vec<Decimal> = (0..rows.headings.unwrap_or(0))
        .flat_map(|row| masses_in(&table.row_text(row)))
        .collect();
    let numeric: Vec<usize> = contents
        .iter()
        .enumerate()
        .filter(|(_, content)| content.numbers > 2 && content.numbers * 2 > content.filled)
        .map(|(column, _)| column)
        .collect();
    let runs = |column: usize| {
        let mut others = numeric.iter().filter(|other| **other != column);
        numeric.contains(&column)
            && others.any(|other| adds_up_row_by_row(table, column, *other, &listed))
    };
    let evidence: Vec<Evidence> = contents
        .iter()
        .enumerate()
        .flat_map(|(column, content)| {
            let heading = rows.heading(table, column);
            let seen = Seen::of(&heading, content.clone(), &batches, runs(column));
            evidence(column, &seen)
        })
        .collect();
    let sum_of = |kind: Kind, column: usize| -> i32 {
        evidence
            .iter()
            .filter(|e| e.column == column && e.kind == kind)
            .map(|e| e.weight)
            .sum()
    };
    // Each column is what most speaks for.
    let mut votes: Vec<Option<(Kind, i32)>> = (0..contents.len())
        .map(|column| {
            Kind::ALL
                .into_iter()
                .map(|kind| (kind, sum_of(kind, column)))
                .filter(|(_, weight)| *weight > 0)
                .max_by_key(|(kind, weight)| (*weight, std::cmp::Reverse(*kind)))
        })
        .collect();
    take_the_only_whole(&mut votes, &contents);
    let mut weighing = Weighing {
        layout: Layout {
            columns: vec![None; contents.len()],
            ..rows.clone()
        },
        ..Weighing::default()
    };
    for kind in Kind::ALL {
        let mut columns: Vec<(usize, i32)> = votes
            .iter()
            .enumerate()
            .filter_map(|(column, vote)| {
                vote.filter(|(k, _)| *k == kind)
                    .map(|(_, weight)| (column, weight))
            })
            .collect();
        columns.sort_by_key(|&(column, weight)| (std::cmp::Reverse(weight), column));
        if kind == Kind::Name
            && let Some(other) = beside_inci(&columns, &contents, rows, table)
        {
            // The names stand beside the INCI names, which are names of materials as well.
            let inci = columns.remove(0);
            columns.retain(|(column, _)| *column != other.0);
            columns.insert(0, other);
            if let Some(vote) = votes.get_mut(inci.0) {
                *vote = Some((Kind::Inci, inci.1));
            }
        }
        let Some(&(best, _)) = columns.first() else {
            continue;
        };
        weighing.take(kind, best, table);
        if kind == Kind::Percent {
            weighing.versions = columns
                .iter()
                .skip(1)
                .filter(|(column, _)| {
                    let of = |at: usize| contents.get(at).filter(|c| c.is_exactly_whole());
                    matches!((of(*column), of(best)), (Some(other), Some(one)) if other.numbers * 2 > one.numbers)
                })
                .map(|(column, _)| *column)
                .collect();
            weighing.versions.sort_unstable();
            if let Some(&(other, _)) = columns
                .get(1)
                .filter(|(column, _)| !weighing.versions.contains(column))
            {
                let told = format!(
                    "several columns hold a percent: {} was taken, {} left out; choose another if it is not the one",
                    weighing.told(best, table),
                    weighing.told(other, table)
                );
                weighing.doubts.push(told);
            }
        }
        if kind == Kind::Name {
            weighing.name_rivals(&columns, table);
        }
        if kind == Kind::Amount {
            for &(column, _) in columns.iter().skip(1) {
                if weighing.goes_on(best, column, table) {
                    weighing.take(kind, column, table);
                }
            }
        }
        // A second column of a kind is nothing, unless what stands in it says otherwise.
        for &(column, _) in columns.iter().skip(1) {
            if let Some(vote) = votes.get_mut(column) {
                *vote = None;
            }
        }
    }
    if weighing.layout.place(Kind::Name).is_none()
        && let Some(trade) = weighing.layout.place(Kind::Trade)
    {
        weighing.layout.assign(trade, Some(Kind::Name));
    }
    weighing.take_amounts_beside(&contents, table);
    weighing.name_numbers_left_out(&contents, table);
    weighing.name_letters_left_out(&contents, table);
    weighing.evidence = evidence;
    has_names(&weighing.layout).then_some(weighing)
}

/// The column of names beside one that holds nothing but INCI names and was taken for them,
/// if no heading says that it is the one of materials.
fn beside_inci(
    columns: &[(usize, i32)],
    contents: &[Content],
    rows: &Layout,
    table: &Table,
) -> Option<(usize, i32)> {
    let &(best, _) = columns.first()?;
    let of = |column: usize| contents.get(column);
    let is_inci = |content: &Content| {
        content.words > 1 && content.inci * 10 >= content.words * 9 && content.inci > 1
    };
    let titled = read_heading(&rows.heading(table, best))
        .is_some_and(|h| h.whole && !h.misspelt && h.column.kind == Kind::Name);
    if titled || !of(best).is_some_and(is_inci) {
        return None;
    }
    columns.iter().skip(1).copied().find(|(column, _)| {
        of(*column).is_some_and(|content| {
            let several = content.words * 10 >= content.filled * 9 && content.filled > 1;
            several && !is_inci(content) && content.distinct * 10 >= content.words * 9
        })
    })
}

/// The rows in which something may stand in columns: those with a single cell are titles, facts,
/// phases and remarks, unless hardly a row has more.
fn rows_of_the_list(table: &Table, rows: std::ops::Range<usize>) -> Vec<usize> {
    let has_more = |row: &usize| {
        let cells = table.rows.get(*row).into_iter().flatten();
        cells.filter(|cell| !cell.is_empty()).nth(1).is_some()
    };
    // Sums, with a word or without, and those of phases at their head.
    let sums_up = |row: usize| {
        let cells = || table.rows.get(row).into_iter().flatten();
        let mut words = cells().filter_map(|cell| match cell {
            // A tick says nothing of what is summed up.
            Cell::Text(text) if is_box(text) || is_tick(text) => None,
            Cell::Text(text) if amounts::read(text, None, None).is_err() => Some(text.trim()),
            _ => None,
        });
        let mut words = words.by_ref().filter(|text| !text.is_empty());
        let (first, more) = (words.next(), words.next());
        match (first, more) {
            (None, _) => true,
            (Some(text), None) => phase_heading(text).is_some() && !is_known_name(text),
            _ => false,
        }
    };
    let of_list = |row: &usize| {
        table.rows.get(*row).is_some_and(|cells| !cells.is_empty()) && !is_sum(table, *row)
    };
    let all: Vec<usize> = rows.take(ROWS_FOR_CONTENT * 2).filter(of_list).collect();
    // In lines of text each is a row of its own.
    let in_columns = table.width() > 1;
    let (summed, lines): (Vec<usize>, Vec<usize>) =
        all.iter().partition(|row| in_columns && sums_up(**row));
    let rows = if summed.len() * 2 > lines.len() * 3 {
        all
    } else {
        lines
    };
    let (listed, alone): (Vec<usize>, Vec<usize>) = rows.into_iter().partition(has_more);
    if listed.len() * 3 >= alone.len() {
        listed
    } else {
        let mut all = [listed, alone].concat();
        all.sort_unstable();
        all
    }
}

/// "Usage rate" and "Composition %" head the percentages of a recipe where no other column
/// has amounts and their own make a whole.
fn take_the_only_whole(votes: &mut [Option<(Kind, i32)>], contents: &[Content]) {
    let amounts = votes
        .iter()
        .flatten()
        .any(|(kind, _)| matches!(kind, Kind::Percent | Kind::Amount | Kind::Price));
    if amounts {
        return;
    }
    let of_others = |kind: Kind| {
        matches!(
            kind,
            Kind::UseLevel | Kind::Strength | Kind::Earlier | Kind::Composition
        )
    };
    let whole = votes.iter_mut().zip(contents).find(|(vote, content)| {
        vote.is_some_and(|(kind, _)| of_others(kind))
            && content.is_whole()
            && content.ranges * 2 < content.filled
            && content.numbers == content.filled
    });
    if let Some((vote, _)) = whole {
        *vote = vote.map(|(_, weight)| (Kind::Percent, weight));
        return;
    }
    // "Actual (g)" where nothing else says how much.
    let weighed = votes.iter_mut().zip(contents).find(|(vote, content)| {
        vote.is_some_and(|(kind, _)| kind == Kind::Earlier)
            && content.numbers > 1
            && content.numbers == content.filled
    });
    if let Some((vote, _)) = weighed {
        *vote = vote.map(|(_, weight)| (Kind::Amount, weight));
        return;
    }
    // Numbers that make a whole, also as fractions of 1, below a heading that nobody knows.
    let numbers = votes
        .iter_mut()
        .zip(contents)
        .filter(|(vote, content)| {
            vote.is_none()
                && content.filled > 1
                && content.numbers * 2 > content.filled
                && (content.is_whole()
                    || (content.total - Decimal::ONE).abs() <= Decimal::new(1, 2))
                && content.ranges == 0
                && content.money == 0
                && !content.counts_up
        })
        .max_by_key(|(_, content)| content.numbers);
    if let Some((vote, _)) = numbers {
        *vote = Some((Kind::Percent, 1));
    }
}

impl Weighing {
    /// Whether two columns state one amount together, as pounds and ounces do: of different
    /// masses, and some rows have only the one.
    fn goes_on(&self, first: usize, second: usize, table: &Table) -> bool {
        let grams = |column: usize| {
            let unit = heading(&self.layout.heading(table, column))?.unit?;
            unit.grams()
        };
        let (Some(one), Some(other)) = (grams(first), grams(second)) else {
            return false;
        };
        let ratio = one.max(other) / one.min(other);
        let number = |row: usize, column: usize| match table.cell(row, column) {
            Cell::Number { value, .. } => Some(*value),
            Cell::Text(text) => number::amount(text, None).ok().map(|a| a.value),
            _ => None,
        };
        let small = if one < other { first } else { second };
        let rows = || self.layout.first_row()..table.rows.len();
        let alone = rows().any(|row| number(row, first).is_some() != number(row, second).is_some());
        let fits = rows().all(|row| {
            let both = number(row, first).is_some() && number(row, second).is_some();
            !both || number(row, small).is_some_and(|v| v < ratio)
        });
        one != other && alone && fits
    }

    /// Says which other column may hold the materials as well as the one taken.
    fn name_rivals(&mut self, columns: &[(usize, i32)], table: &Table) {
        /// Evidence that much weaker leaves no doubt.
        const CLEAR: i32 = 4;
        let [(best, weight), (other, rival), ..] = columns else {
            return;
        };
        if weight - rival < CLEAR {
            let told = format!(
                "two columns may hold the materials: {} was taken, {} left out; choose another if it is not the one",
                self.told(*best, table),
                self.told(*other, table)
            );
            self.name_doubt = Some(told.clone());
            self.doubts.push(told);
        }
    }

    /// A column by its place and heading.
    fn told(&self, column: usize, table: &Table) -> String {
        let name = cell_name(self.layout.headings.unwrap_or(0), column);
        match self.layout.heading(table, column) {
            heading if heading.is_empty() => {
                format!(
                    "column {}",
                    name.trim_end_matches(|c: char| c.is_ascii_digit())
                )
            }
            heading => format!("{name} “{heading}”"),
        }
    }

    /// Says which columns of numbers that may be amounts were left out: those whose heading
    /// does not say what else they are and that do not go with the amounts taken.
    fn name_numbers_left_out(&mut self, contents: &[Content], table: &Table) {
        let taken: Vec<usize> = [Kind::Percent, Kind::Amount]
            .into_iter()
            .filter_map(|kind| self.layout.place(kind))
            .collect();
        let Some(of_taken) = taken.first().and_then(|&at| contents.get(at)) else {
            return;
        };
        for (column, content) in contents.iter().enumerate() {
            let free = self.layout.columns.get(column).is_some_and(Option::is_none);
            let numbers = content.numbers * 2 > content.filled
                && content.numbers * 2 > of_taken.numbers
                && !content.counts_up
                && content.money == 0;
            if !free || !numbers || self.versions.contains(&column) {
                continue;
            }
            let of_amounts = match heading(&self.layout.heading(table, column)).map(|h| h.kind) {
                Some(Kind::Percent | Kind::Amount) => true,
                Some(_) => continue,
                None => false,
            };
            // Where the amounts taken make a whole and these do not, nobody would doubt it.
            if !of_amounts && of_taken.is_whole() && !content.is_whole() {
                continue;
            }
            let rows = self.layout.first_row()..table.rows.len();
            if taken
                .iter()
                .any(|&one| go_together(table, one, column, rows.clone()))
            {
                continue;
            }
            let told = format!(
                "{} holds numbers too and was left out; {} was taken, choose another if it is not the one",
                self.told(column, table),
                taken
                    .first()
                    .map(|&one| self.told(one, table))
                    .unwrap_or_default()
            );
            let named = |doubt: &String| doubt.contains(&self.told(column, table));
            if !self.doubts.iter().any(named) {
                self.doubts.push(told);
            }
        }
    }

    /// Without headings, numbers that are the percentages times one factor are the amounts of a
    /// batch.
    fn take_amounts_beside(&mut self, contents: &[Content], table: &Table) {
        let percent = self.layout.place(Kind::Percent);
        if self.layout.headings.is_some() || self.layout.place(Kind::Amount).is_some() {
            return;
        }
        let Some((percent, whole)) = percent.and_then(|at| Some((at, contents.get(at)?))) else {
            return;
        };
        let beside = contents.iter().enumerate().find(|(column, content)| {
            let free = self
                .layout
                .columns
                .get(*column)
                .is_some_and(Option::is_none);
            let other = (content.total - whole.total).abs() * Decimal::TEN > whole.total;
            free && other
                && content.numbers * 2 > whole.numbers
                && content.money == 0
                && go_together(table, percent, *column, 0..table.rows.len())
        });
        if let Some((column, _)) = beside {
            self.take(Kind::Amount, column, table);
        }
    }

    /// Says which column of letters was left out that may be that of the phases.
    fn name_letters_left_out(&mut self, contents: &[Content], table: &Table) {
        if self.layout.place(Kind::Phase).is_some() {
            return;
        }
        let letters = contents
            .iter()
            .position(|c| (c.in_order || c.in_steps) && (c.letters + c.numbers) * 2 > c.filled);
        let taken = |column: usize| {
            let kind = self.layout.columns.get(column).copied().flatten();
            kind.is_some_and(|c| matches!(c.kind, Kind::Name | Kind::Percent | Kind::Amount))
        };
        if let Some(column) = letters.filter(|column| !taken(*column)) {
            self.doubts.push(format!(
                "{} may hold the phases and was left out; choose it if it does",
                self.told(column, table)
            ));
        }
    }

    fn take(&mut self, kind: Kind, column: usize, table: &Table) {
        let unit = heading(&self.layout.heading(table, column)).and_then(|h| h.unit);
        if let Some(slot) = self.layout.columns.get_mut(column) {
            *slot = Some(Column { kind, unit });
        }
    }
}

/// Whether the numbers of a column are the sums of those of another one up to each row, in the
/// same unit or another.
fn adds_up_row_by_row(table: &Table, column: usize, other: usize, rows: &[usize]) -> bool {
    let number = |row: usize, column: usize| match table.cell(row, column) {
        Cell::Number { value, .. } => Some(*value),
        Cell::Text(text) => number::amount(text, None).ok().map(|a| a.value),
        _ => None,
    };
    let within = |v: &Decimal| v.abs() <= Decimal::from(1_000_000);
    let pairs: Vec<(Decimal, Decimal)> = rows
        .iter()
        .take(ROWS_FOR_CONTENT)
        .filter_map(|row| Some((number(*row, column)?, number(*row, other)?)))
        .filter(|(a, b)| within(a) && within(b))
        .collect();
    let whole: Decimal = pairs.iter().map(|(_, each)| *each).sum();
    let Some(((first, begin), (last, _))) = pairs.first().zip(pairs.last()) else {
        return false;
    };
    if pairs.len() < 3 || whole <= Decimal::ZERO || *last <= *first || begin.is_zero() {
        return false;
    }
    let slack = *last * Decimal::new(2, 3);
    let mut so_far = Decimal::ZERO;
    pairs.iter().all(|(stated, each)| {
        so_far += *each;
        (*stated - so_far * *last / whole).abs() <= slack
    })
}

/// Whether the numbers of two columns are the same but for a factor and rounding, as those of
/// percentages and of a batch are.
fn go_together(table: &Table, one: usize, other: usize, rows: std::ops::Range<usize>) -> bool {
    let number = |row: usize, column: usize| match table.cell(row, column) {
        Cell::Number { value, .. } => Some(*value),
        Cell::Text(text) => number::amount(text, None).ok().map(|a| a.value),
        _ => None,
    };
    let within = Decimal::new(1, 6)..=Decimal::from(1_000_000);
    let both: Vec<(Decimal, Decimal)> = rows
        .take(ROWS_FOR_CONTENT)
        .filter_map(|row| Some((number(row, one)?, number(row, other)?)))
        .filter(|(a, b)| within.contains(a) && within.contains(b))
        .collect();
    let Some((a, b)) = both.iter().max() else {
        return false;
    };
    let half_step = |of: fn(&(Decimal, Decimal)) -> Decimal| {
        let digits = both.iter().map(|pair| of(pair).normalize().scale()).max();
        Decimal::new(5, digits.unwrap_or(0).min(10) + 1)
    };
    let each = b / a;
    let slack = half_step(|(_, b)| *b) * Decimal::TWO + half_step(|(a, _)| *a) * each;
    let fits = both
        .iter()
        .filter(|(a, b)| (b - a * each).abs() <= slack)
        .count();
    both.len() > 1 && fits * 10 >= both.len() * 9
}

fn has_names(layout: &Layout) -> bool {
    layout.place(Kind::Name).is_some() || layout.place(Kind::Inci).is_some()
}
