//! Recipes side by side on one sheet.

use rust_decimal::Decimal;

use super::whole::{is_exactly_whole, whole};
use crate::file::table::choose::weigh;
use crate::file::table::columns::{self, ColumnKind, Layout};
use crate::file::table::{Cell, Table, beside};
use crate::naming::is_known_name;

/// Two lists side by side have two columns of names with numbers right of each.
pub(super) fn beside_each_other(table: &Table, headings: usize) -> Option<Vec<(String, Table)>> {
    let kind = |column: usize| match table.cell(headings, column) {
        Cell::Text(text) => columns::heading(text).map(|c| c.kind),
        _ => None,
    };
    let of = |wanted: ColumnKind| -> Vec<usize> {
        (0..table.width())
            .filter(|&c| kind(c) == Some(wanted))
            .collect()
    };
    let mut names = of(ColumnKind::Name);
    if names.is_empty() {
        names = of(ColumnKind::Inci);
    }
    if let Some(blocks) = parted_by_empty_columns(table, headings, &kind) {
        return Some(blocks);
    }
    if names.len() < 2 {
        return None;
    }
    let heading = |column: usize| table.cell(headings, column).words();
    let first = names.first().copied().unwrap_or(0);
    // Each begins at its names, or at what stands left of them: phases and numbers, and whatever
    // is headed as it is left of the names of the first list.
    let starts: Vec<usize> = names
        .iter()
        .enumerate()
        .map(|(n, &name)| {
            if n == 0 {
                return 0;
            }
            let shift = name - first;
            let alike = (shift..name)
                .rev()
                .take_while(|&c| heading(c) == heading(c - shift))
                .filter(|&c| !heading(c).is_empty());
            let mut start = alike.last().unwrap_or(name);
            while start > 0 && matches!(kind(start - 1), Some(ColumnKind::Phase | ColumnKind::Code))
            {
                start -= 1;
            }
            start
        })
        .collect();
    let range = |n: usize| {
        starts.get(n).copied().unwrap_or(0)..starts.get(n + 1).copied().unwrap_or(table.width())
    };
    let each_has_numbers = (0..names.len()).all(|n| {
        range(n).any(|c| matches!(kind(c), Some(ColumnKind::Percent | ColumnKind::Amount)))
    });
    if !each_has_numbers {
        // A block of facts beside the one list, with an empty column between them.
        let mut with_numbers = (0..names.len()).filter(|&n| {
            range(n).any(|c| matches!(kind(c), Some(ColumnKind::Percent | ColumnKind::Amount)))
        });
        let (Some(one), None) = (with_numbers.next(), with_numbers.next()) else {
            return None;
        };
        let columns = range(one);
        let parted = columns.start > 0
            && (0..table.rows.len()).all(|row| table.cell(row, columns.start - 1).is_empty());
        return parted.then(|| {
            let mut part = table.masked(|_| true, |c| columns.contains(&c));
            part.left_beside = Some(columns.start - 1);
            vec![(table.name.clone(), part)]
        });
    }
    let blocks: Vec<std::ops::Range<usize>> = (0..names.len()).map(range).collect();
    if let Some(one) = goes_on_beside(table, headings, &blocks) {
        return Some(vec![(table.name.clone(), one)]);
    }
    let named = blocks.into_iter().enumerate().map(|(n, columns)| {
        let title = (0..headings)
            .rev()
            .flat_map(|row| columns.clone().map(move |c| table.cell(row, c).words()))
            .find(|w| !w.is_empty())
            .unwrap_or_else(|| format!("list {}", n + 1));
        (title, table.masked(|_| true, |c| columns.contains(&c)))
    });
    Some(named.collect())
}

/// One list that goes on in the next columns: none of its parts is a whole, and together they
/// are exactly that.
fn goes_on_beside(
    table: &Table,
    headings: usize,
    blocks: &[std::ops::Range<usize>],
) -> Option<Table> {
    let mut all = Decimal::ZERO;
    let mut filled = false;
    for block in blocks {
        let part = table.masked(|_| true, |c| block.contains(&c));
        let weighing = weigh(&part)?;
        weighing.layout.place(ColumnKind::Percent)?;
        let (mut sum, filler) = whole(&part, &weighing.layout, headings + 1..part.rows.len());
        // A sum of both, whatever it is called, ends the last of them.
        let last = last_amount(&part, &weighing.layout, headings + 1);
        if let Some(last) = last.filter(|last| is_exactly_whole(*last) && !all.is_zero())
            && is_exactly_whole(all + sum - last)
        {
            sum -= last;
        }
        if filler && filled || is_exactly_whole(sum) {
            return None;
        }
        filled |= filler;
        all += sum;
    }
    // A q.s. fills up both lists where the second has none.
    if filled || !is_exactly_whole(all) {
        return None;
    }
    let parts: Vec<_> = blocks.iter().map(|block| (block.clone(), None)).collect();
    let mut one = beside::below_each_other(table, headings, &parts)?;
    one.done.push(
        "the list goes on beside itself, so its parts were put below each other; rows are counted so"
            .to_owned(),
    );
    Some(one)
}

/// The last percentage of a list, if no material that is known stands beside it.
fn last_amount(table: &Table, layout: &Layout, first: usize) -> Option<Decimal> {
    let names = layout
        .place(ColumnKind::Name)
        .or(layout.place(ColumnKind::Inci))?;
    let column = layout.place(ColumnKind::Percent)?;
    let row = (first..table.rows.len())
        .rev()
        .find(|&row| !table.cell(row, column).is_empty())?;
    let unknown = !is_known_name(&table.cell(row, names).words());
    let (value, _) = whole(table, layout, row..row + 1);
    unknown.then_some(value)
}

/// Whether a table has materials that are known and amounts of them, whatever its headings say.
fn is_list_by_itself(table: &Table) -> bool {
    let Some(layout) = weigh(table).map(|w| w.layout) else {
        return false;
    };
    let amounts = [ColumnKind::Percent, ColumnKind::Amount].map(|kind| layout.place(kind));
    let Some((names, amounts)) = layout
        .place(ColumnKind::Name)
        .or(layout.place(ColumnKind::Inci))
        .zip(amounts.into_iter().flatten().next())
    else {
        return false;
    };
    let is_line = |row: &usize| {
        !table.cell(*row, amounts).is_empty() && is_known_name(&table.cell(*row, names).words())
    };
    (0..table.rows.len()).filter(is_line).nth(1).is_some()
}

/// Lists side by side with empty columns between them, each with names and numbers.
fn parted_by_empty_columns(
    table: &Table,
    headings: usize,
    kind: &impl Fn(usize) -> Option<ColumnKind>,
) -> Option<Vec<(String, Table)>> {
    let width = table.width();
    let is_empty =
        |column: usize| (headings..table.rows.len()).all(|row| table.cell(row, column).is_empty());
    let mut blocks: Vec<std::ops::Range<usize>> = Vec::new();
    let mut from = None;
    for column in 0..=width {
        let ends = column == width || is_empty(column);
        match from {
            Some(start) if ends => {
                blocks.push(start..column);
                from = None;
            }
            None if !ends => from = Some(column),
            _ => {}
        }
    }
    let is_list = |block: &std::ops::Range<usize>| {
        let has = |all: &[ColumnKind]| {
            block
                .clone()
                .any(|c| kind(c).is_some_and(|k| all.contains(&k)))
        };
        has(&[ColumnKind::Name, ColumnKind::Inci])
            && has(&[ColumnKind::Percent, ColumnKind::Amount])
            || is_list_by_itself(&table.masked(|_| true, |c| block.contains(&c)))
    };
    if blocks.len() < 2 || !blocks.iter().all(is_list) {
        return None;
    }
    if let Some(one) = goes_on_beside(table, headings, &blocks) {
        return Some(vec![(table.name.clone(), one)]);
    }
    // A title belongs to the block in or right before which it stands.
    let starts: Vec<usize> = blocks.iter().map(|b| b.start).collect();
    let named = blocks.iter().enumerate().map(|(n, block)| {
        let end = starts.get(n + 1).copied().unwrap_or(width);
        let title = (0..headings)
            .rev()
            .flat_map(|row| (block.start..end).map(move |c| table.cell(row, c).words()))
            .find(|w| !w.is_empty())
            .unwrap_or_else(|| format!("list {}", n + 1));
        let part = table.masked(|_| true, |c| (block.start..end).contains(&c));
        (title, part)
    });
    Some(named.collect())
}
