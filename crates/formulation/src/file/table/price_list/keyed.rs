//! Materials whose INCI names and CAS numbers stand in a row of their own below them, each with
//! the word for what it is: "INCI: Cera Alba", "CAS 8012-89-3".

use super::inci_alone;
use crate::file::table::columns::{Column, ColumnKind, Layout, heading};
use crate::file::table::names::first_cas;
use crate::file::table::{Cell, Table, cell_name};

/// Rows that must say so for a table to be such a list.
const ENOUGH: usize = 2;

/// What a row below a material says of it.
struct Keyed {
    inci: String,
    cas: String,
}

/// A row of which every cell names what it says, INCI names among them.
fn keyed(table: &Table, row: usize) -> Option<Keyed> {
    let mut found = Keyed {
        inci: String::new(),
        cas: String::new(),
    };
    let cells = table.rows.get(row)?.iter().filter(|cell| !cell.is_empty());
    for cell in cells {
        let Cell::Text(text) = cell else {
            return None;
        };
        if let Some(inci) = inci_alone(text) {
            inci.clone_into(&mut found.inci);
        } else if matches!(first_cas(text), Ok(Some(_))) {
            found.cas.clone_from(text);
        } else {
            return None;
        }
    }
    (!found.inci.is_empty()).then_some(found)
}

/// The list with two columns more, one of INCI names and one of CAS numbers, and what its columns
/// mean; `None` if it is none of these.
pub(super) fn spread(table: &Table) -> Option<(Table, Layout)> {
    let rows: Vec<(usize, Keyed)> = (1..table.rows.len())
        .filter_map(|row| Some((row, keyed(table, row)?)))
        .collect();
    let (first, _) = rows.first().filter(|_| rows.len() >= ENOUGH)?;
    let is_word = |cell: &Cell| matches!(cell, Cell::Text(text) if inci_alone(text).is_none());
    let names = (0..table.width()).find(|&column| is_word(table.cell(first - 1, column)))?;
    // What it is called stands above each.
    let named = |(row, _): &(usize, Keyed)| is_word(table.cell(row - 1, names));
    // With headings it is read by these.
    let headed = |row: usize| {
        let cells = table.rows.get(row).into_iter().flatten();
        let mut kinds = cells.filter_map(|cell| match cell {
            Cell::Text(text) => heading(text).map(|column| column.kind),
            _ => None,
        });
        kinds.any(|kind| {
            matches!(
                kind,
                ColumnKind::Percent | ColumnKind::Amount | ColumnKind::Price
            )
        })
    };
    if !rows.iter().all(named) || (0..first - 1).any(headed) {
        return None;
    }
    let width = table.width();
    let mut spread = table.clone();
    // Without headings nobody knows what stands beside the names.
    let of_names = |column: &usize| {
        rows.iter()
            .any(|(row, _)| !table.cell(row - 1, *column).is_empty())
    };
    let left: Vec<String> = (0..width)
        .filter(|column| *column != names && of_names(column))
        .map(|column| cell_name(0, column).trim_end_matches('1').to_owned())
        .collect();
    if !left.is_empty() {
        let left = left.join(", ");
        let told = format!("columns left out, because nothing says what they are: {left}");
        spread.done.push(told);
    }
    for (row, keyed) in rows {
        if let Some(cells) = spread.rows.get_mut(row - 1) {
            cells.resize(width, Cell::Empty);
            cells.push(Cell::Text(keyed.inci));
            cells.push(Cell::Text(keyed.cas));
        }
    }
    let kinds = [
        (names, ColumnKind::Name),
        (width, ColumnKind::Inci),
        (width + 1, ColumnKind::Cas),
    ];
    let mut layout = Layout {
        columns: vec![None::<Column>; width + 2],
        ..Layout::default()
    };
    for (column, kind) in kinds {
        layout.assign(column, Some(kind));
    }
    Some((spread, layout))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::file::table::text;

    #[test]
    fn inci_names_below_materials_go_beside_them() {
        let text = "Shelves;\nBUTTERS;\nMango butter;Fennock\nINCI: Mangifera Indica Seed Butter;CAS 90063-86-8\nCocoa butter;Fennock\nINCI: Theobroma Cacao Seed Butter;\n";
        let (list, layout) = spread(&text::read(text).unwrap()).unwrap();
        let of = |row, kind| layout.words(&list, row, kind);
        assert_eq!(of(2, ColumnKind::Name), "Mango butter");
        assert_eq!(of(2, ColumnKind::Inci), "Mangifera Indica Seed Butter");
        assert_eq!(of(2, ColumnKind::Cas), "CAS 90063-86-8");
        assert_eq!(of(4, ColumnKind::Inci), "Theobroma Cacao Seed Butter");
        assert!(list.done_words()[0].ends_with(": B"));
        // A recipe with INCI names below its lines is none.
        let recipe = "Ingredient;%\nWater;70\nINCI: Aqua;\nGlycerin;30\nINCI: Glycerin;\n";
        assert!(spread(&text::read(recipe).unwrap()).is_none());
    }
}
