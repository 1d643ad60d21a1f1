//! Rows that are sums: "Total", "Grand total", "Summe Phase A".

use super::phase_words::is_phase;
use super::words::words;
use super::{Cell, Table};
use crate::naming::words_of;

/// What a row of a sum adds up.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Sum {
    Whole,
    Part,
}

/// Whether a cell says that its row is a sum: "Total", "Grand total", "Summe Phase A".
pub(super) fn sum_words(text: &str) -> Option<Sum> {
    let folded = words_of(text);
    let lists = words();
    let has = |list: &std::collections::HashSet<String>| folded.iter().any(|w| list.contains(w));
    let part = has(&lists.subtotals) || has(&lists.of_part) || folded.iter().any(|w| is_phase(w));
    let known = |w: &String| {
        lists.totals.contains(w)
            || lists.subtotals.contains(w)
            || lists.of_what.contains(w)
            || w.len() == 1
            || w == "100"
    };
    let sums = (has(&lists.totals) || has(&lists.subtotals)) && folded.iter().all(known);
    sums.then_some(if part { Sum::Part } else { Sum::Whole })
}

/// What a row of a table sums up, if any of its cells says so.
pub(super) fn sum_of(table: &Table, row: usize) -> Option<Sum> {
    let cells = table.rows.get(row)?;
    cells.iter().find_map(|cell| match cell {
        Cell::Text(text) => sum_words(text),
        _ => None,
    })
}

/// Whether a row of a table is a sum.
pub(super) fn is_sum(table: &Table, row: usize) -> bool {
    sum_of(table, row).is_some()
}
