//! A record for each material, a line for each thing said of it: "Ingredient: Glycerin",
//! "Amount: 5 %", "Phase: A"; or a table of which each cell became a line when it was copied. It
//! is put into rows, as most tables have it.

use super::columns::{ColumnKind, spelt_heading};
use super::{Cell, Table, amounts};

/// Fewer records may be facts of a product.
const ENOUGH: usize = 3;

/// The key and what it says, if the key heads something in tables.
fn said(line: &str) -> Option<(&str, &str, ColumnKind)> {
    /// A key has hardly more words.
    const MOST_WORDS: usize = 3;
    let (key, value) = line.trim().split_once(':')?;
    // "Ingredient 3: glycerin".
    let bare = key.trim().trim_end_matches(|c: char| c.is_ascii_digit());
    let (key, value) = (bare.trim(), value.trim());
    let kind = spelt_heading(key)?.kind;
    (!value.is_empty() && key.split_whitespace().count() <= MOST_WORDS)
        .then_some((key, value, kind))
}

/// A text of records as a table: each record is a row where its first line stood; `None` if it
/// is none.
pub(super) fn read(text: &str) -> Option<Table> {
    with_keys(text).or_else(|| cells_in_lines(text))
}

fn with_keys(text: &str) -> Option<Table> {
    let lines: Vec<&str> = text.lines().collect();
    let mut records: Vec<Vec<usize>> = Vec::new();
    let mut open: Vec<usize> = Vec::new();
    let key_of = |line: usize| lines.get(line).and_then(|l| said(l)).map(|(key, ..)| key);
    for n in 0..lines.len() {
        let key = key_of(n);
        let again = open.iter().any(|line| key_of(*line) == key);
        if (key.is_none() || again) && !open.is_empty() {
            records.push(std::mem::take(&mut open));
        }
        if key.is_some() {
            open.push(n);
        }
    }
    records.push(open);
    // Each says what and how much.
    let has = |record: &[usize], kinds: &[ColumnKind]| {
        let mut said_of = record.iter().filter_map(|n| said(lines.get(*n)?));
        said_of.any(|(_, _, kind)| kinds.contains(&kind))
    };
    records.retain(|record| {
        has(
            record,
            &[ColumnKind::Name, ColumnKind::Inci, ColumnKind::Trade],
        ) && has(
            record,
            &[
                ColumnKind::Percent,
                ColumnKind::Amount,
                ColumnKind::Price,
                ColumnKind::Inci,
                ColumnKind::Cas,
                ColumnKind::Supplier,
                ColumnKind::Stock,
            ],
        ) && record.len() > 1
    });
    if records.len() < ENOUGH {
        return None;
    }
    let mut keys: Vec<&str> = Vec::new();
    for key in records.iter().flatten().filter_map(|n| key_of(*n)) {
        if !keys.contains(&key) {
            keys.push(key);
        }
    }
    let first = records.first()?.first().copied()?;
    // The headings need a row of their own above the first record.
    let is_blank = |n: usize| lines.get(n).is_some_and(|l| l.trim().is_empty());
    let above = first.checked_sub(1).filter(|n| is_blank(*n));
    let shift = usize::from(above.is_none());
    let mut table = Table::default();
    table.rows.resize(lines.len() + shift, Vec::new());
    let mut put = |row: usize, column: usize, words: &str| {
        if let Some(cells) = table.rows.get_mut(row) {
            cells.resize(cells.len().max(column + 1), Cell::Empty);
            if let Some(cell) = cells.get_mut(column) {
                *cell = Cell::Text(words.to_owned());
            }
        }
    };
    for (column, key) in keys.iter().enumerate() {
        put(above.unwrap_or(first), column, key);
    }
    for record in &records {
        let row = record.first()? + shift;
        for (key, value, _) in record.iter().filter_map(|n| said(lines.get(*n)?)) {
            let column = keys.iter().position(|k| *k == key)?;
            put(row, column, value);
        }
    }
    let taken: Vec<usize> = records.concat();
    for (n, line) in lines.iter().enumerate() {
        let row = if n < first { n } else { n + shift };
        if !taken.contains(&n) && !line.trim().is_empty() {
            put(row, 0, line.trim());
        }
    }
    table.done.push(
        "each material is a record of several lines; it was read as one row, which is counted by the first of them"
            .to_owned(),
    );
    Some(table)
}

/// The lines that head the cells of a table each of which is a line: its columns one below the
/// other, among them materials and how much there is of each.
fn headings_in_lines(lines: &[&str]) -> Option<std::ops::Range<usize>> {
    /// More columns are hardly copied so.
    const MOST: usize = 8;
    let kind = |n: usize| Some(spelt_heading(lines.get(n)?)?.kind);
    (0..lines.len()).find_map(|from| {
        let count = (from..lines.len()).take(MOST).map_while(kind).count();
        let headed: Vec<ColumnKind> = (from..from + count).filter_map(kind).collect();
        let has = |kinds: &[ColumnKind]| headed.iter().any(|k| kinds.contains(k));
        let whole = has(&[ColumnKind::Name, ColumnKind::Inci, ColumnKind::Trade])
            && has(&[ColumnKind::Percent, ColumnKind::Amount]);
        whole.then_some(from..from + count)
    })
}

/// A table whose cells became lines, each row where its first cell stands; `None` if it is none.
fn cells_in_lines(text: &str) -> Option<Table> {
    let lines: Vec<&str> = text.lines().map(str::trim).collect();
    let heads = headings_in_lines(&lines)?;
    // A blank line is an empty cell, or else parts nothing.
    let all: Vec<usize> = (heads.end..lines.len()).collect();
    let is_filled = |n: &usize| lines.get(*n).is_some_and(|line| !line.is_empty());
    let filled: Vec<usize> = all.iter().copied().filter(is_filled).collect();
    let kinds: Vec<ColumnKind> = heads
        .clone()
        .filter_map(|n| Some(spelt_heading(lines.get(n)?)?.kind))
        .collect();
    let is_row = |cells: &&[usize]| {
        let is = |kind: ColumnKind, cell: &str| match kind {
            ColumnKind::Percent | ColumnKind::Amount => cell.is_empty() || amounts::is_amount(cell),
            ColumnKind::Name | ColumnKind::Inci | ColumnKind::Trade => {
                cell.contains(char::is_alphabetic) && !amounts::is_amount(cell)
            }
            _ => true,
        };
        let cells = cells
            .iter()
            .map(|n| lines.get(*n).copied().unwrap_or_default());
        cells.zip(&kinds).all(|(cell, kind)| is(*kind, cell))
    };
    let rows = |places: &[usize]| -> Vec<Vec<usize>> {
        let whole = places.chunks_exact(kinds.len());
        whole.take_while(is_row).map(<[usize]>::to_vec).collect()
    };
    let (one, other) = (rows(&all), rows(&filled));
    let rows = if one.len() >= other.len() { one } else { other };
    if rows.len() < ENOUGH || kinds.len() < 2 {
        return None;
    }
    let mut table = Table::default();
    table.rows.resize(lines.len(), Vec::new());
    let taken: Vec<usize> = heads.clone().chain(rows.concat()).collect();
    let text_of = |n: usize| Cell::Text(lines.get(n).copied().unwrap_or_default().to_owned());
    for (n, cells) in table.rows.iter_mut().enumerate() {
        if !taken.contains(&n) && is_filled(&n) {
            *cells = vec![text_of(n)];
        }
    }
    let headings: Vec<usize> = heads.collect();
    for places in std::iter::once(&headings).chain(&rows) {
        let cells = places.iter().map(|n| text_of(*n)).collect();
        *table.rows.get_mut(*places.first()?)? = cells;
    }
    table.done.push(
        "each cell of the table stands in a line of its own; they were put into rows again, which are counted by the first line of each"
            .to_owned(),
    );
    Some(table)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn records_become_rows() {
        let text = "Hand wash\n\nIngredient: Water\nAmount: 90 %\n\nIngredient: Glycerin\nAmount: 5 %\nPhase: A\n\nIngredient: Betaine\nAmount: 5 %\nPhase: B\n";
        let table = read(text).unwrap();
        assert_eq!(table.cell(1, 0).words(), "Ingredient");
        assert_eq!(table.cell(2, 1).words(), "90 %");
        assert_eq!(table.cell(9, 2).words(), "B");
        assert!(table.cell(3, 0).is_empty());
        let numbered = "Rohstoff 1: Wasser\nMenge 1: 90 %\nRohstoff 2: Glycerin\nMenge 2: 5 %\nRohstoff 3: Betain 30 %\nMenge 3: 5 %\n";
        let table = read(numbered).unwrap();
        assert_eq!(table.row_text(0), "Rohstoff Menge");
        assert_eq!(table.row_text(5), "Betain 30 % 5 %");
        assert_eq!(read("pH: 5\nAmount: 3\n\nName: Gel\nBatch: 2\n"), None);
    }

    #[test]
    fn cells_that_became_lines_are_rows_again() {
        let text = "Face wash\nIngredient\n%\nPhase\nWater\n90\nA\nGlycerin\n5\nA\nBetaine 30 %\n5\nB\n\nStir well.\n";
        let table = read(text).unwrap();
        let words = |row: usize| table.row_text(row);
        assert_eq!(words(1), "Ingredient % Phase");
        assert_eq!(words(4), "Water 90 A");
        assert_eq!(words(10), "Betaine 30 % 5 B");
        assert_eq!(words(14), "Stir well.");
        assert_eq!(read("Ingredient\n%\nWater 70\nOil 30\n"), None);
    }
}
