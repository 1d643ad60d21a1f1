//! Columns of a table as a person names them.

use std::io::Write;

use formulation::file::table::choose::recognise;
use formulation::file::table::columns::{ColumnKind, Evidence, Layout, why};
use formulation::file::table::{Table, cell_name, column_named};

use super::Failure;

/// The columns of a table as recognised, with those named as `KIND=LETTER`; `None` if none
/// is named.
pub(super) fn layout_of(columns: &[String], table: &Table) -> Result<Option<Layout>, Failure> {
    if columns.is_empty() {
        return Ok(None);
    }
    let mut layout = recognise(table).unwrap_or_default();
    for text in columns {
        let kinds = || ColumnKind::ALL.map(ColumnKind::label).join(", ");
        let (kind, letters) = text.split_once('=').ok_or_else(|| {
            Failure(format!(
                "“{text}” names no column; write for example percent=C"
            ))
        })?;
        let kind = ColumnKind::ALL
            .into_iter()
            .find(|k| k.label().eq_ignore_ascii_case(kind.trim()))
            .ok_or_else(|| {
                Failure(format!(
                    "“{}” is nothing a column holds; write one of: {}",
                    kind.trim(),
                    kinds()
                ))
            })?;
        let column = column_named(letters)
            .filter(|&column| column < table.width())
            .ok_or_else(|| {
                Failure(format!(
                    "the table has no column “{}”; its last one is {}",
                    letters.trim(),
                    cell_name(0, table.width().saturating_sub(1)).trim_end_matches('1')
                ))
            })?;
        layout.assign(column, Some(kind));
    }
    Ok(Some(layout))
}

/// Prints what each column was taken for, why, and how surely, by its letter in the file. Where
/// materials stand in columns there is nothing that a letter names.
pub(super) fn print_columns(
    table: &Table,
    layout: &Layout,
    evidence: &[Evidence],
    out: &mut dyn Write,
) -> std::io::Result<()> {
    if table.is_turned {
        return Ok(());
    }
    let columns: Vec<(usize, usize)> = match &table.origin {
        Some(origin) => origin.columns().into_iter().collect(),
        None => (0..table.width()).map(|c| (c, c)).collect(),
    };
    for (stands, column) in columns {
        let Some(kind) = layout.kind(column) else {
            continue;
        };
        let why = why(evidence, column, kind).map_or_else(String::new, |why| format!(": {why}"));
        let letter = cell_name(0, stands);
        let letter = letter.trim_end_matches('1');
        writeln!(out, "column {letter}: {}{why}", kind.label())?;
    }
    Ok(())
}

/// Refuses options that only a table needs where the file is of a form of our own, so that none
/// of them is passed over; each with whether it was given.
pub(super) fn refuse_for_own_form(options: &[(&str, bool)]) -> Result<(), Failure> {
    let given: Vec<&str> = options
        .iter()
        .filter(|(_, given)| *given)
        .map(|(name, _)| *name)
        .collect();
    if given.is_empty() {
        return Ok(());
    }
    Err(Failure(format!(
        "the file is in a form of our own, which leaves nothing open, so that {} would do nothing; leave it out",
        given.join(", ")
    )))
}
