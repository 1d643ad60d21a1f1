//! Whether a list is a whole recipe by what its percentages come to.

use rust_decimal::Decimal;

use crate::file::table::amounts::{self, WrittenAmount};
use crate::file::table::columns::{ColumnKind, Layout};
use crate::file::table::phase_words::phase_heading;
use crate::file::table::words::is_property;
use crate::file::table::{Cell, Shown, Table, sums};
use crate::naming::qs::is_qs;

/// The sum of the percentages of some rows, and whether a q.s. stands among them.
pub(in crate::file::table) fn whole(
    table: &Table,
    layout: &Layout,
    rows: std::ops::Range<usize>,
) -> (Decimal, bool) {
    let Some(column) = layout.place(ColumnKind::Percent) else {
        return (Decimal::ZERO, false);
    };
    let names = layout
        .place(ColumnKind::Name)
        .or(layout.place(ColumnKind::Inci));
    let mut total = Decimal::ZERO;
    let mut filler = false;
    for row in rows {
        // A number beside no material, or beside a phase, is a sum.
        let name = names.map(|names| table.cell(row, names).words());
        let of_phase =
            |name: &String| name.is_empty() || phase_heading(name).is_some() || is_property(name);
        if table.is_left_out(row)
            || table.struck.contains(&(row, names.unwrap_or(column)))
            || sums::is_sum(table, row)
            || name.as_ref().is_some_and(of_phase)
        {
            continue;
        }
        match table.cell(row, column) {
            Cell::Number { value, shown } => {
                total += if *shown == Shown::Percent {
                    *value * Decimal::ONE_HUNDRED
                } else {
                    *value
                };
            }
            Cell::Text(text) if is_qs(text) => filler = true,
            Cell::Text(text) => {
                if let Ok(reading) = amounts::read(text, None, None)
                    && let WrittenAmount::Percent(value) | WrittenAmount::Bare(value) =
                        reading.written
                {
                    total += value;
                }
            }
            _ => {}
        }
    }
    (total, filler)
}

/// Whether such a sum is that of a whole recipe.
pub(in crate::file::table) fn is_whole((total, filler): (Decimal, bool)) -> bool {
    let near = |whole: Decimal| (total - whole).abs() <= whole / Decimal::ONE_HUNDRED;
    // As percentages, or as fractions of 1.
    filler || near(Decimal::ONE_HUNDRED) || near(Decimal::ONE)
}

/// Whether a sum is the whole but for what rounding leaves: such a list stands by itself,
/// whatever is above the next.
pub(super) fn is_exactly_whole(total: Decimal) -> bool {
    let near = |whole: Decimal| (total - whole).abs() <= whole * Decimal::new(11, 4);
    near(Decimal::ONE_HUNDRED) || near(Decimal::ONE)
}
