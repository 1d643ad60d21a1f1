//! Lists of the fragrance allergens of essential oils and perfumes: the oils are the materials,
//! the allergens are what is in them.
//!
//! They stand in columns ("Oil", "Limonene %", "Linalool %"), in rows that repeat the oil
//! ("Lavender oil", "Linalool", 33) or in rows below it. A substance counts as an allergen here
//! if a fragrance material that comes with the program lists it as a component.

use std::collections::{BTreeMap, HashSet};
use std::sync::OnceLock;

use super::about::shares_of_column;
use crate::file::table::choose::weigh;
use crate::file::table::columns::{ColumnKind, Layout};
use crate::file::table::{Cell, Table};
use crate::material::Class;
use crate::naming::words_of;
use crate::shelf::built_in;

/// Lists of fewer allergens are told by nothing.
const FEWEST: usize = 3;
/// As many rows tell what a list holds.
const ROWS: usize = 300;

/// A name so that "Limonen", "d-limonene" and "Limonene %" are the same.
fn folded(name: &str) -> String {
    let words = words_of(name);
    let kept = words
        .iter()
        .skip_while(|w| matches!(w.as_str(), "d" | "l" | "dl"))
        .filter(|w| *w != "in" && *w != "alcool")
        .map(|w| w.trim_end_matches('e').replace("ph", "f").replace('y', "i"));
    kept.collect::<Vec<_>>()
        .join(" ")
        .replace("linalol", "linalool")
}

/// Whether a text names a component of fragrances.
pub(super) fn is_allergen(text: &str) -> bool {
    static KNOWN: OnceLock<HashSet<String>> = OnceLock::new();
    let known = KNOWN.get_or_init(|| {
        let all = built_in().iter().flat_map(|m| &m.constituents);
        all.filter(|c| c.incidental.is_some() && c.class == Class::Fragrance)
            .map(|c| folded(c.inci.spelling()))
            .collect()
    });
    text.len() < 60 && known.contains(&folded(text))
}

/// The columns of a list of materials that each hold the share of an allergen.
pub(super) fn columns(table: &Table, layout: &Layout) -> Vec<(usize, String)> {
    if layout.headings.is_none() {
        return Vec::new();
    }
    let bare = |heading: String| {
        heading
            .trim_end_matches(['%', ' ', '(', ')'])
            .trim()
            .to_owned()
    };
    let named = (0..table.width()).map(|column| (column, bare(layout.heading(table, column))));
    named
        .filter(|(column, heading)| {
            Some(*column) != layout.place(ColumnKind::Name)
                && is_allergen(heading)
                && shares_of_column(table, layout, *column)
        })
        .collect()
}

/// How many cells of a column are filled with text, and how many of these name allergens.
fn counted(table: &Table, column: usize) -> (usize, usize) {
    let texts = (0..table.rows.len().min(ROWS)).filter_map(|row| match table.cell(row, column) {
        Cell::Text(text) => Some(text),
        _ => None,
    });
    texts.fold((0, 0), |(all, allergens), text| {
        (all + 1, allergens + usize::from(is_allergen(text)))
    })
}

/// The name of the oil and the allergen of each row that has one or both.
type Rows = BTreeMap<usize, (String, String)>;

/// Rows that name the oil in one column and its allergens in another.
fn beside(table: &Table, allergens: usize, known: Option<&Layout>) -> Option<Rows> {
    let words = |row: usize, column: usize| table.cell(row, column).words();
    let is_name = |column: usize| {
        let (all, of_them) = counted(table, column);
        column != allergens && all > 1 && of_them == 0
    };
    let names = known
        .and_then(|layout| layout.place(ColumnKind::Name))
        .filter(|&column| is_name(column))
        .or_else(|| (0..table.width()).find(|&column| is_name(column)))?;
    let first = (0..table.rows.len()).find(|&row| is_allergen(&words(row, allergens)))?;
    let mut rows = Rows::new();
    let mut last = String::new();
    for row in first..table.rows.len() {
        let (name, allergen) = (words(row, names), words(row, allergens));
        let same = name == last;
        if !name.is_empty() {
            last.clone_from(&name);
        }
        if !allergen.is_empty() {
            rows.insert(row, (if same { String::new() } else { name }, allergen));
        }
    }
    // The first of them belongs to an oil.
    rows.first_key_value()
        .is_some_and(|(_, (name, _))| !name.is_empty())
        .then_some(rows)
}

/// Rows of allergens below the name of their oil, all in one column.
fn below(table: &Table, column: usize) -> Option<Rows> {
    let words = |row: usize| table.cell(row, column).words();
    let first = (0..table.rows.len()).find(|&row| is_allergen(&words(row)))?;
    let oil = (0..first).rev().find(|&row| !words(row).is_empty())?;
    let mut rows = Rows::new();
    let (mut oils, mut had) = (0, true);
    for row in oil..table.rows.len() {
        let name = words(row);
        if name.is_empty() {
            continue;
        }
        if is_allergen(&name) {
            had = true;
            rows.insert(row, (String::new(), name));
        } else {
            // An oil without allergens is one of another list.
            if !had {
                return None;
            }
            had = false;
            oils += 1;
            rows.insert(row, (name, String::new()));
        }
    }
    (oils > 0 && had).then_some(rows)
}

/// A list of allergens with columns of its own for oil and allergen, and what its columns mean;
/// `None` if it is none.
pub(super) fn spread(table: &Table) -> Option<(Table, Layout)> {
    let (column, all, of_them) = (0..table.width())
        .map(|column| (column, counted(table, column)))
        .map(|(column, (all, of_them))| (column, all, of_them))
        .find(|(_, _, of_them)| *of_them >= FEWEST)?;
    let weighing = weigh(table);
    let known = weighing.as_ref().map(|w| &w.layout);
    if known.is_some_and(|layout| layout.place(ColumnKind::Price).is_some()) {
        return None;
    }
    // All but the heading and some remarks.
    let rows = if of_them * 5 >= all * 4 {
        beside(table, column, known)
    } else if of_them * 2 >= all {
        below(table, column)
    } else {
        None
    }?;
    let shares = (0..table.width())
        .filter(|c| *c != column)
        .find(|&share| shares_of_rows(table, rows.keys().copied(), share))?;
    let width = table.width();
    let mut spread = table.clone();
    let text = |words: &str| match words {
        "" => Cell::Empty,
        words => Cell::Text(words.to_owned()),
    };
    for (row, (name, allergen)) in &rows {
        if let Some(cells) = spread.rows.get_mut(*row) {
            cells.resize(width, Cell::Empty);
            cells.extend([text(name), text(allergen)]);
        }
    }
    let mut layout = Layout {
        headings: rows.keys().next().and_then(|first| first.checked_sub(1)),
        ..Layout::default()
    };
    layout.columns.resize(width + 2, None);
    layout.assign(width, Some(ColumnKind::Name));
    layout.assign(width + 1, Some(ColumnKind::Inci));
    layout.assign(shares, Some(ColumnKind::Percent));
    if let Some(supplier) = known.and_then(|layout| layout.place(ColumnKind::Supplier)) {
        layout.assign(supplier, Some(ColumnKind::Supplier));
    }
    Some((spread, layout))
}

/// Whether a column has shares in most of some rows.
fn shares_of_rows(table: &Table, rows: impl Iterator<Item = usize>, column: usize) -> bool {
    let (mut all, mut shares) = (0_usize, 0_usize);
    for row in rows.take(ROWS) {
        all += 1;
        shares += usize::from(super::about::share_of(table.cell(row, column)).is_some());
    }
    shares * 2 >= all && shares > 1
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::file::table::read_text;

    fn oils(text: &str) -> Option<Vec<String>> {
        let table = read_text(text).unwrap().remove(0);
        let (spread, layout) = spread(&table)?;
        let names = layout.place(ColumnKind::Name)?;
        let words = (0..spread.rows.len()).map(|row| spread.cell(row, names).words());
        Some(words.filter(|w| !w.is_empty()).collect())
    }

    #[test]
    fn allergens_are_told_by_their_names() {
        for name in [
            "Limonene",
            "d-Limonen",
            "Linalool",
            "Linalol",
            "GERANIOL",
            "Géraniol",
            "Citral",
        ] {
            assert!(is_allergen(name), "{name}");
        }
        for name in ["Lavender oil", "Glycerin", "Linalool oxide", ""] {
            assert!(!is_allergen(name), "{name}");
        }
    }

    #[test]
    fn the_oils_of_a_list_of_allergens_are_its_materials() {
        let two = ["Lavender oil".to_owned(), "Lemon oil".to_owned()];
        for text in [
            "Oil,Allergen,%\nLavender oil,Linalool,33\nLavender oil,Geraniol,0.4\nLemon oil,Limonene,65\nLemon oil,Citral,2.5\n",
            "Oil,Allergen,%\nLavender oil,Linalool,33\n,Geraniol,0.4\nLemon oil,Limonene,65\n,Citral,2.5\n",
            "Name,%\nLavender oil,\nLinalool,33\nGeraniol,0.4\nLemon oil,\nLimonene,65\nCitral,2.5\n",
        ] {
            assert_eq!(oils(text).unwrap(), two, "{text}");
        }
        // A price list of single substances is none, nor is one of oils.
        for text in [
            "Name,Pack,Price\nLinalool,1 kg,20\nGeraniol,1 kg,30\nCitral,1 kg,25\n",
            "Name,INCI\nLavender oil,Lavandula Angustifolia Oil\nLemon oil,Citrus Limon Peel Oil\n",
        ] {
            assert_eq!(oils(text), None, "{text}");
        }
    }
}
