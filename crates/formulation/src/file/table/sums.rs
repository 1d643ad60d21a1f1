//! Rows that are sums: "Total", "Grand total", "Summe Phase A".

use std::cell::RefCell;

use super::phase_words::{is_phase, is_roman, phase_heading};
use super::words::words;
use super::{Cell, Table};
use crate::amount::number::Unit;
use crate::naming::{is_known_name, words_of};
use crate::text_memory::{TextMemory, remembered};

/// What a row of a sum adds up.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Sum {
    Whole,
    Part,
}

thread_local! {
    static ASKED: TextMemory<Option<Sum>> = RefCell::default();
}

/// Whether a cell says that its row is a sum: "Total", "Grand total", "Summe Phase A".
pub(super) fn sum_words(text: &str) -> Option<Sum> {
    // Most cells are numbers.
    let says = text.contains(char::is_alphabetic);
    says.then(|| remembered(&ASKED, text, read_sum)).flatten()
}

fn read_sum(text: &str) -> Option<Sum> {
    if is_sum_of_phase(text) {
        return Some(Sum::Part);
    }
    let folded = words_of(text);
    let lists = words();
    let has = |list: &std::collections::HashSet<String>| folded.iter().any(|w| list.contains(w));
    let part = has(&lists.subtotals)
        || has(&lists.of_part)
        || has(&lists.of_fats)
        || folded.iter().any(|w| is_phase(w))
        || is_of_letter(text);
    let known = |w: &String| {
        lists.totals.contains(w)
            || lists.subtotals.contains(w)
            || lists.of_what.contains(w)
            || lists.of_fats.contains(w)
            || w.len() == 1
            || w == "100"
    };
    let sums = (has(&lists.totals) || has(&lists.subtotals)) && folded.iter().all(known);
    sums.then_some(if part { Sum::Part } else { Sum::Whole })
}

/// "Sum of B": a phase by its letter alone, in capitals as nobody writes a unit.
fn is_of_letter(text: &str) -> bool {
    let mut words = text.split_whitespace();
    let last = words.next_back().unwrap_or_default();
    matches!(last.as_bytes(), [b'A'..=b'F' | b'H'])
        && words
            .next_back()
            .is_some_and(|word| words_of(word).concat().len() < 4)
}

/// "Total A", "Summe Wasserphase", "Total phase B: oils": a word for a sum, and a phase.
fn is_sum_of_phase(text: &str) -> bool {
    let Some((first, rest)) = text.trim().split_once(char::is_whitespace) else {
        return false;
    };
    let lists = words();
    let first = words_of(first).concat();
    let rest = rest.trim_matches([':', ' ']);
    // "Subtotal melt": what it sums up may be called anything but by the name of a material.
    if lists.subtotals.contains(&first) && words_of(rest).len() <= 3 {
        return Unit::named(rest).is_none() && !is_known_name(rest);
    }
    (lists.totals.contains(&first) || lists.subtotals.contains(&first))
        && Unit::named(rest).is_none()
        && (phase_heading(rest).is_some() || is_roman(&words_of(rest).concat()))
}

/// What a row of a table sums up, if any of its cells says so.
pub(super) fn sum_of(table: &Table, row: usize) -> Option<Sum> {
    let cells = table.rows.get(row)?;
    // What stands right of a material sums up something else.
    for cell in cells {
        if let Cell::Text(text) = cell {
            if let Some(sum) = sum_words(text) {
                return Some(sum);
            }
            if is_known_name(text) {
                return None;
            }
        }
    }
    None
}

/// Whether a row further down sums up what a row begins that stands alone, by its words: "Melt"
/// above "Subtotal melt".
pub(super) fn is_summed_by_name(table: &Table, row: usize) -> bool {
    let filled = |row: usize| {
        let cells = table.rows.get(row).into_iter().flatten();
        cells.filter(|cell| !cell.is_empty())
    };
    let mut alone = filled(row);
    let (Some(Cell::Text(name)), None) = (alone.next(), alone.next()) else {
        return false;
    };
    let name = words_of(name);
    if name.is_empty() || name.len() > 4 {
        return false;
    }
    let lists = words();
    let sums_it_up = |row: usize| match filled(row).next() {
        Some(Cell::Text(text)) => {
            let said = words_of(text);
            let is_of_sum = |w: &&String| lists.subtotals.contains(*w) || lists.totals.contains(*w);
            let rest: Vec<&String> = said.iter().skip_while(is_of_sum).collect();
            let begins = !rest.is_empty() && rest.len() < said.len();
            begins && rest.iter().all(|word| name.contains(word))
        }
        _ => false,
    };
    // Until the next that stands alone.
    (row + 1..table.rows.len())
        .take_while(|&row| filled(row).nth(1).is_some())
        .any(sums_it_up)
}

/// Whether a row of a table is a sum.
pub(super) fn is_sum(table: &Table, row: usize) -> bool {
    sum_of(table, row).is_some()
}
