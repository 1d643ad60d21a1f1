//! One recipe in several tables of a page, or on a sheet for each of its phases.

use rust_decimal::Decimal;

use super::whole::{is_whole, whole};
use crate::file::table::choose::{TakenFor, weigh};
use crate::file::table::columns::ColumnKind;
use crate::file::table::phase_words::phase_heading;
use crate::file::table::{Cell, Table};

/// One table of several that follow each other without names, as on a page, if each has
/// the same headings and only together they make a whole recipe; and the places of tables that
/// are no part of it.
pub(super) fn joined(tables: &[Table]) -> Option<(Table, Vec<usize>)> {
    // Sheets are parts of one recipe only if each that has amounts is called by a phase.
    let named = tables.iter().any(|t| !t.name.is_empty());
    if tables.len() < 2 || named && tables.iter().any(|t| t.hidden) {
        return None;
    }
    let measured = |t| {
        weigh(t).filter(|w| {
            let has = |kind| w.layout.place(kind).is_some();
            has(ColumnKind::Percent) || has(ColumnKind::Amount)
        })
    };
    let mut weighed: Vec<(&Table, TakenFor)> = Vec::new();
    let mut without = Vec::new();
    for (place, table) in tables.iter().enumerate() {
        match measured(table) {
            Some(weighing) => weighed.push((table, weighing)),
            None if table.is_empty() => {}
            None => without.push(place),
        }
    }
    // What else stands beside them may be headed otherwise in each.
    let kinds = |w: &TakenFor| {
        [
            ColumnKind::Name,
            ColumnKind::Inci,
            ColumnKind::Percent,
            ColumnKind::Amount,
        ]
        .map(|kind| w.layout.place(kind))
    };
    let (_, first) = weighed.first()?;
    let wholes = weighed
        .iter()
        .filter(|(t, w)| is_whole(whole(t, &w.layout, 0..t.rows.len())))
        .count();
    let alike = weighed.len() > 1 && weighed.iter().all(|(_, w)| kinds(w) == kinds(first));
    let total: Decimal = weighed
        .iter()
        .map(|(t, w)| whole(t, &w.layout, w.layout.first_row()..t.rows.len()).0)
        .sum();
    let filler = weighed
        .iter()
        .any(|(t, w)| whole(t, &w.layout, 0..t.rows.len()).1);
    // Each begins a phase: tables in grams have no whole of their own.
    let phases = if named {
        weighed
            .iter()
            .all(|(table, _)| phase_heading(&table.name).is_some())
    } else {
        weighed.len() == tables.len()
            && weighed.iter().all(|(table, w)| {
                let above = w.layout.headings.unwrap_or(0);
                (0..above).any(|row| phase_heading(&table.row_text(row)).is_some())
            })
    };
    if named && !phases {
        return None;
    }
    let in_grams = weighed
        .iter()
        .all(|(_, w)| w.layout.place(ColumnKind::Percent).is_none());
    let together = if in_grams {
        phases
    } else {
        filler && total < Decimal::ONE_HUNDRED
            || is_whole((total, false))
            // The phases of several recipes, which are told apart below each other.
            || phases
    };
    if !alike || !together || wholes > 1 && !(phases && wholes < weighed.len()) {
        return None;
    }
    let mut all = Table::default();
    for (table, _) in weighed {
        if named {
            all.rows.push(vec![Cell::Text(table.name.clone())]);
        }
        let first = all.rows.len();
        let struck = table
            .struck
            .iter()
            .map(|(row, column)| (row + first, *column));
        all.struck.extend(struck);
        let words = table.struck_words.iter();
        all.struck_words
            .extend(words.map(|((row, column), words)| ((row + first, *column), words.clone())));
        let left_out = table.left_out.iter().map(|(row, why)| (row + first, *why));
        all.left_out.extend(left_out);
        all.formulas += table.formulas;
        all.rows.extend(table.rows.iter().cloned());
        // A blank row between, so that each keeps its own headings apart.
        all.rows.push(Vec::new());
    }
    if named {
        all.active = true;
        all.done.push(
            "each sheet is a phase of one recipe, so they were put below each other; rows are counted so"
                .to_owned(),
        );
    }
    Some((all, without))
}
