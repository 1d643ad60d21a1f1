//! Which columns are taken for what, by the evidence of `weighing::columns`: of several columns
//! for the same thing the best stays, and what another reader might see otherwise is a doubt.

use rust_decimal::Decimal;

use super::amounts::masses_in;
use super::columns::{
    Column, ColumnKind, Content, Evidence, Layout, ROWS_FOR_CONTENT, heading, read_heading,
    row_above_numbers, row_of_headings, rows_of_headings,
};
use super::money::names_money;
use super::phase_words::phase_heading;
use super::sums::is_sum;
use super::weighing::columns::{Beside, Seen, evidence};
use super::words::{is_box, is_fact, is_property, is_tick};
use super::{Cell, Table, amounts, cell_name};
use crate::amount::number;
use crate::naming::is_known_name;

/// What a table was taken for, and why.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct TakenFor {
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
pub fn weigh(table: &Table) -> Option<TakenFor> {
    let weighed = row_of_headings(table)
        .or_else(|| row_above_numbers(table))
        .and_then(|row| weigh_below(table, &rows_of_headings(table, row)));
    // "Water 70 %" alone in a row looks like a heading of percentages.
    weighed.or_else(|| weigh_below(table, &Layout::default()))
}

/// What stands in the columns below the headings, and what speaks for each.
struct Columns<'t> {
    table: &'t Table,
    rows: &'t Layout,
    /// What the list holds, by column.
    contents: Vec<Content>,
    /// What each shows beside the others.
    beside: Vec<Beside>,
    /// Sizes of the batch that are stated above the list.
    batches: Vec<Decimal>,
}

impl<'t> Columns<'t> {
    fn below(table: &'t Table, rows: &'t Layout) -> Self {
        let listed = rows_of_the_list(table, rows.first_row()..table.rows.len());
        let contents: Vec<Content> = (0..table.width())
            .map(|column| Content::of(table, column, listed.iter().copied()))
            .collect();
        let batches =
            (0..rows.headings.unwrap_or(0)).flat_map(|row| masses_in(&table.row_text(row)));
        Self {
            table,
            rows,
            beside: beside(table, rows, &contents, &listed),
            batches: batches.collect(),
            contents,
        }
    }

    /// All evidence, and what the columns are by it. Some are told only by what the others are.
    fn evidence(&self) -> (Vec<Evidence>, Vec<Option<(ColumnKind, i32)>>) {
        let own = |column: usize| self.beside.get(column).copied().unwrap_or_default();
        let evidence = self.gather(&own);
        let votes = votes_of(&evidence, self.contents.len());
        let has =
            |kinds: &[ColumnKind]| votes.iter().flatten().any(|(kind, _)| kinds.contains(kind));
        let alone = !has(&[ColumnKind::Percent, ColumnKind::Amount, ColumnKind::Price]);
        let percent = percentages_without_headings(self.rows, &votes);
        let measured = has(&[ColumnKind::Percent, ColumnKind::Amount]);
        let grouped = self.contents.iter().any(|c| c.grouped);
        let unphased = measured && !has(&[ColumnKind::Phase]) && grouped;
        if !(alone || percent.is_some() || unphased) {
            return (evidence, votes);
        }
        let follows = |column: usize| {
            percent.is_some_and(|percent| is_batch_of(self.table, &self.contents, percent, column))
        };
        let evidence = self.gather(&|column| Beside {
            alone,
            measured,
            follows: follows(column),
            ..own(column)
        });
        let votes = votes_of(&evidence, self.contents.len());
        (evidence, votes)
    }

    fn gather(&self, beside: &dyn Fn(usize) -> Beside) -> Vec<Evidence> {
        let of = |(column, content): (usize, &Content)| {
            let heading = self.rows.heading(self.table, column);
            let seen = Seen::of(&heading, content.clone(), &self.batches, beside(column));
            evidence(column, &seen)
        };
        self.contents.iter().enumerate().flat_map(of).collect()
    }
}

/// What each column shows beside the others.
fn beside(table: &Table, rows: &Layout, contents: &[Content], listed: &[usize]) -> Vec<Beside> {
    let headed: Vec<Option<ColumnKind>> = (0..contents.len())
        .map(|column| heading(&rows.heading(table, column)).map(|c| c.kind))
        .collect();
    let is_headed = |column: usize, kinds: &[ColumnKind]| {
        let kind = headed.get(column).copied().flatten();
        kind.is_some_and(|kind| kinds.contains(&kind))
    };
    let numeric: Vec<usize> = contents
        .iter()
        .enumerate()
        .filter(|(_, content)| content.numbers > 2 && content.numbers * 2 > content.filled)
        .map(|(column, _)| column)
        .collect();
    let runs = |column: usize| {
        let mut others = numeric.iter().filter(|other| **other != column);
        numeric.contains(&column)
            && others.any(|other| adds_up_row_by_row(table, column, *other, listed))
    };
    // Names beside INCI names: each of the two tells what the other is.
    let pair = |names: usize, inci: usize| match (contents.get(names), contents.get(inci)) {
        (Some(one), Some(other)) => {
            names != inci && other.is_inci() && !one.is_inci() && one.names_rows_of(other)
        }
        _ => false,
    };
    let others = |column: usize| {
        let all = contents.iter().enumerate();
        all.filter(move |(other, _)| *other != column)
    };
    let ranged = |column: usize, content: &Content| {
        let is_whole = |(_, c): (usize, &Content)| c.ranges == 0 && c.is_exactly_whole();
        content.ranges * 2 > content.filled && others(column).any(is_whole)
    };
    let all = contents.iter().enumerate();
    all.map(|(column, content)| Beside {
        runs: runs(column),
        ranged: ranged(column, content),
        valued: others(column).any(|(_, c)| c.filled > 1 && c.currencies * 2 > c.filled),
        names_inci: (0..contents.len()).any(|other| pair(column, other)),
        inci_named: (0..contents.len()).any(|other| pair(other, column)),
        described: others(column).any(|(other, c)| {
            is_headed(other, &[ColumnKind::Inci]) && c.inci * 2 > c.filled && c.filled > 1
        }),
        behind_inci: (0..column).any(|other| is_headed(other, &[ColumnKind::Inci])),
        ..Beside::default()
    })
    .collect()
}

fn weigh_below(table: &Table, rows: &Layout) -> Option<TakenFor> {
    let columns = Columns::below(table, rows);
    let (evidence, mut votes) = columns.evidence();
    let mut weighing = TakenFor {
        layout: Layout {
            columns: vec![None; columns.contents.len()],
            ..rows.clone()
        },
        ..TakenFor::default()
    };
    for kind in ColumnKind::ALL {
        weighing.take_best(kind, &mut votes, &columns);
    }
    if weighing.layout.place(ColumnKind::Percent).is_none() {
        weighing.versions = versions_in_amounts(table, &weighing.layout, &columns.contents);
    }
    weighing.settle_trade_names(&columns);
    weighing.name_numbers_left_out(&columns.contents, table);
    weighing.name_phases_left_out(&columns.contents, table);
    weighing.evidence = evidence;
    has_names(&weighing.layout).then_some(weighing)
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
            Cell::Text(text) if !amounts::is_amount(text) => Some(text.trim()),
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
    let of_product = |cells: &[Cell]| {
        let first = cells.iter().find(|cell| !cell.is_empty());
        matches!(first, Some(Cell::Text(text)) if is_property(text))
    };
    let of_list = |row: &usize| {
        let cells = table.rows.get(*row);
        cells.is_some_and(|cells| !cells.is_empty() && !of_product(cells)) && !is_sum(table, *row)
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
    let rows = without_what_follows(table, rows);
    let (listed, alone): (Vec<usize>, Vec<usize>) = rows.into_iter().partition(has_more);
    if listed.len() * 3 >= alone.len() {
        listed
    } else {
        let mut all = [listed, alone].concat();
        all.sort_unstable();
        all
    }
}

/// The rows without what stands below the list: at the end those that have no number, or say in
/// two cells what the product is, and blocks below a blank row that have fewer cells than lines.
/// All of them if no row has a number.
fn without_what_follows(table: &Table, mut rows: Vec<usize>) -> Vec<usize> {
    /// A fact has so many cells: what it is of, and a value.
    const OF_FACT: usize = 2;
    let filled = |row: usize| {
        let cells = table.rows.get(row).into_iter().flatten();
        cells.filter(|cell| !cell.is_empty()).count()
    };
    let has_number = |row: usize| {
        let mut cells = table.rows.get(row).into_iter().flatten();
        cells.any(|cell| match cell {
            Cell::Number { .. } => true,
            Cell::Text(text) => amounts::is_amount(text),
            _ => false,
        })
    };
    let of_list = |row: &usize| has_number(*row) && !is_fact(table, *row);
    if let Some(last) = rows.iter().rposition(of_list) {
        rows.truncate(last + 1);
    }
    let mut counts: Vec<usize> = rows.iter().map(|row| filled(*row)).collect();
    counts.sort_unstable();
    if counts
        .get(counts.len() / 2)
        .is_none_or(|usual| *usual <= OF_FACT)
    {
        return rows;
    }
    // The place of the first row of the last block.
    let block = |rows: &[usize]| {
        let mut pairs = rows.windows(2).enumerate().rev();
        pairs.find_map(|(n, pair)| match pair {
            [above, below] => (above + 1..*below)
                .any(|row| filled(row) == 0)
                .then_some(n + 1),
            _ => None,
        })
    };
    while let Some(first) = block(&rows)
        && rows.iter().skip(first).all(|row| filled(*row) <= OF_FACT)
    {
        rows.truncate(first);
    }
    rows
}

/// What most speaks for, of each column.
fn votes_of(evidence: &[Evidence], columns: usize) -> Vec<Option<(ColumnKind, i32)>> {
    let sum_of = |kind: ColumnKind, column: usize| -> i32 {
        evidence
            .iter()
            .filter(|e| e.column == column && e.kind == kind)
            .map(|e| e.weight)
            .sum()
    };
    (0..columns)
        .map(|column| {
            ColumnKind::ALL
                .into_iter()
                .map(|kind| (kind, sum_of(kind, column)))
                .filter(|(_, weight)| *weight > 0)
                .max_by_key(|(kind, weight)| (*weight, std::cmp::Reverse(*kind)))
        })
        .collect()
}

/// Columns of amounts that come to the same as those taken and are not these: recipes of one size
/// beside each other.
fn versions_in_amounts(table: &Table, layout: &Layout, contents: &[Content]) -> Vec<usize> {
    /// Fewer numbers come to the same by chance.
    const ENOUGH: usize = 3;
    let Some(taken) = layout.place(ColumnKind::Amount) else {
        return Vec::new();
    };
    let Some(whole) = contents.get(taken).filter(|c| c.numbers >= ENOUGH) else {
        return Vec::new();
    };
    let is_version = |column: usize, content: &Content| {
        let free = layout.columns.get(column).is_some_and(Option::is_none);
        let headed = heading(&layout.heading(table, column)).map(|h| h.kind);
        free && matches!(
            headed,
            None | Some(ColumnKind::Amount | ColumnKind::Percent)
        ) && content.numbers >= ENOUGH
            && content.money == 0
            && !content.counts_up
            && (content.total - whole.total).abs() <= whole.total * Decimal::new(1, 3)
            && !go_together(table, taken, column, layout.first_row()..table.rows.len())
    };
    contents
        .iter()
        .enumerate()
        .filter(|(column, content)| is_version(*column, content))
        .map(|(column, _)| column)
        .collect()
}

/// The column of percentages of a list without headings, in which none is that of amounts.
fn percentages_without_headings(
    rows: &Layout,
    votes: &[Option<(ColumnKind, i32)>],
) -> Option<usize> {
    let of = |kind: ColumnKind| {
        let columns = votes.iter().enumerate();
        columns
            .filter_map(move |(column, vote)| {
                vote.filter(|(k, _)| *k == kind)
                    .map(|(_, weight)| (column, weight))
            })
            .max_by_key(|&(column, weight)| (weight, std::cmp::Reverse(column)))
    };
    let untold = rows.headings.is_none() && of(ColumnKind::Amount).is_none();
    of(ColumnKind::Percent)
        .filter(|_| untold)
        .map(|(column, _)| column)
}

/// Whether the numbers of a column are the percentages times one factor: the amounts of a batch.
fn is_batch_of(table: &Table, contents: &[Content], percent: usize, column: usize) -> bool {
    let (Some(whole), Some(content)) = (contents.get(percent), contents.get(column)) else {
        return false;
    };
    let other = (content.total - whole.total).abs() * Decimal::TEN > whole.total;
    column != percent
        && other
        && content.numbers * 2 > whole.numbers
        && content.money == 0
        && go_together(table, percent, column, 0..table.rows.len())
}

impl TakenFor {
    /// Takes the best of the columns that are voted to be of a kind; the others are nothing,
    /// unless what stands in them says otherwise.
    fn take_best(
        &mut self,
        kind: ColumnKind,
        votes: &mut [Option<(ColumnKind, i32)>],
        of: &Columns<'_>,
    ) {
        let of_kind = |(column, vote): (usize, &Option<(ColumnKind, i32)>)| {
            let (_, weight) = vote.filter(|(k, _)| *k == kind)?;
            Some((column, weight))
        };
        let mut columns: Vec<(usize, i32)> = votes.iter().enumerate().filter_map(of_kind).collect();
        columns.sort_by_key(|&(column, weight)| (std::cmp::Reverse(weight), column));
        let Some(((best, _), others)) = columns.split_first() else {
            return;
        };
        self.take(kind, *best, of.table);
        match kind {
            ColumnKind::Percent => self.take_versions(*best, others, of),
            ColumnKind::Name => self.name_rivals(&columns, of.table),
            ColumnKind::Amount => {
                for (column, _) in others {
                    if self.goes_on(*best, *column, of.table) {
                        self.take(kind, *column, of.table);
                    }
                }
            }
            _ => {}
        }
        for (column, _) in others {
            if let Some(vote) = votes.get_mut(*column) {
                *vote = None;
            }
        }
    }

    /// Further columns of percentages are versions if each is a whole; else one of them may be
    /// meant, which is told.
    fn take_versions(&mut self, best: usize, others: &[(usize, i32)], of: &Columns<'_>) {
        let whole = |at: usize| of.contents.get(at).filter(|c| c.is_exactly_whole());
        let is_version = |column: &usize| {
            let is_as_long = matches!(
                (whole(*column), whole(best)),
                (Some(other), Some(one)) if other.numbers * 2 > one.numbers
            );
            is_as_long && !is_share_of_money(of.table, of.rows, &of.contents, *column)
        };
        self.versions = others
            .iter()
            .map(|(column, _)| *column)
            .filter(is_version)
            .collect();
        self.versions.sort_unstable();
        let rival = others.first().map(|(column, _)| *column);
        if let Some(other) = rival.filter(|column| !self.versions.contains(column)) {
            let told = format!(
                "several columns hold a percent: {} was taken, {} left out; choose another if it is not the one",
                self.told(best, of.table),
                self.told(other, of.table)
            );
            self.doubts.push(told);
        }
    }

    /// Trade names are the names where there are no others. Beside them, words below a heading
    /// that says nothing of names are none either, unless some of them are known: "Lagerort".
    fn settle_trade_names(&mut self, of: &Columns<'_>) {
        let Some(trade) = self.layout.place(ColumnKind::Trade) else {
            return;
        };
        let Some(name) = self.layout.place(ColumnKind::Name) else {
            self.layout.assign(trade, Some(ColumnKind::Name));
            return;
        };
        if of.rows.headings.is_some()
            && read_heading(&of.rows.heading(of.table, name)).is_none()
            && of.contents.get(name).is_some_and(|c| c.known == 0)
        {
            self.layout.assign(name, None);
            self.layout.assign(trade, Some(ColumnKind::Name));
        }
    }

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
        let taken: Vec<usize> = [ColumnKind::Percent, ColumnKind::Amount]
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
                Some(ColumnKind::Percent | ColumnKind::Amount) => true,
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

    /// Says which column was left out that may be that of the phases: one of letters in their
    /// order, or one of a few words that part the lines into groups.
    fn name_phases_left_out(&mut self, contents: &[Content], table: &Table) {
        if let Some(column) = self.layout.place(ColumnKind::Phase) {
            // Nothing but the groups says that they are phases.
            let grouped = contents.get(column).is_some_and(|c| {
                c.grouped && !c.in_order && !c.in_steps && c.for_phases == 0 && c.phases == 0
            });
            if grouped && heading(&self.layout.heading(table, column)).is_none() {
                self.doubts.push(format!(
                    "{} parts the lines into groups and was taken for the phases; choose what it holds if it is not",
                    self.told(column, table)
                ));
            }
            return;
        }
        let taken = |column: usize| {
            let kind = self.layout.columns.get(column).copied().flatten();
            kind.map(|c| c.kind)
        };
        let lists = |kind| {
            matches!(
                kind,
                ColumnKind::Name | ColumnKind::Percent | ColumnKind::Amount
            )
        };
        let lettered = contents.iter().enumerate().position(|(column, c)| {
            (c.in_order || c.in_steps)
                && (c.letters + c.numbers) * 2 > c.filled
                && !taken(column).is_some_and(lists)
        });
        let grouped = || {
            let mut columns = contents.iter().enumerate();
            columns.position(|(column, c)| c.grouped && taken(column).is_none())
        };
        if let Some(column) = lettered.or_else(grouped) {
            self.doubts.push(format!(
                "{} may hold the phases and was left out; choose it if it does",
                self.told(column, table)
            ));
        }
    }

    fn take(&mut self, kind: ColumnKind, column: usize, table: &Table) {
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
    // Numbers that hardly grow are no running sum, whatever stands beside them.
    if *last - *first <= slack {
        return false;
    }
    let mut so_far = Decimal::ZERO;
    pairs.iter().all(|(stated, each)| {
        so_far += *each;
        (*stated - so_far * *last / whole).abs() <= slack
    })
}

/// Whether the numbers of a column are those of a column of money times one factor: shares of the
/// costs.
fn is_share_of_money(table: &Table, rows: &Layout, contents: &[Content], column: usize) -> bool {
    let of_money = |other: usize, content: &Content| {
        let heading = rows.heading(table, other);
        content.money * 2 > content.filled || names_money(&heading)
    };
    contents.iter().enumerate().any(|(other, content)| {
        other != column
            && content.numbers > 2
            && of_money(other, content)
            && go_together(table, column, other, rows.first_row()..table.rows.len())
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
    layout.place(ColumnKind::Name).is_some() || layout.place(ColumnKind::Inci).is_some()
}
