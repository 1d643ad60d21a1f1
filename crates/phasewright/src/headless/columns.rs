//! Columns of a table as a person names them.

use formulation::file::table::choose::recognise;
use formulation::file::table::columns::{Kind, Layout};
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
        let kinds = || Kind::ALL.map(Kind::label).join(", ");
        let (kind, letters) = text.split_once('=').ok_or_else(|| {
            Failure(format!(
                "“{text}” names no column; write for example percent=C"
            ))
        })?;
        let kind = Kind::ALL
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
