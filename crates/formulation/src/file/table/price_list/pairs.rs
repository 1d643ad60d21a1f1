//! Packs and prices side by side, a pair of columns for each size: "Pack", "£", "Pack", "£". The
//! further ones become further packs of the first.

use std::collections::BTreeMap;

use super::lines::{PackOfLine, further_packs};
use crate::file::table::columns::{ColumnKind, heading, spelt_heading};
use crate::file::table::money::names_money;
use crate::file::table::{Cell, Table};

/// The table without the further pairs of columns, and what they hold by row, counted from 0;
/// `None` if there are none.
pub(super) fn first_of(
    table: &Table,
    headings: usize,
) -> Option<(Table, BTreeMap<usize, Vec<PackOfLine>>)> {
    let text = |column: usize| table.cell(headings, column).words();
    let is_pack = |column: usize| {
        spelt_heading(&text(column)).is_some_and(|column| column.kind == ColumnKind::Pack)
    };
    let is_price = |column: usize| {
        let words = text(column);
        heading(&words).is_some_and(|column| column.kind == ColumnKind::Price)
            || names_money(&words)
    };
    // Headed alike, so that nothing but the size of the pack differs.
    let pairs: Vec<usize> = (0..table.length(headings))
        .filter(|&at| is_pack(at) && is_price(at + 1))
        .collect();
    let (first, further) = pairs.split_first()?;
    let alike = |at: &usize| text(*at) == text(*first) && text(at + 1) == text(first + 1);
    if further.is_empty() || !further.iter().all(alike) {
        return None;
    }
    let mut one = table.clone();
    let mut more: BTreeMap<usize, Vec<PackOfLine>> = BTreeMap::new();
    for (row, cells) in one.rows.iter_mut().enumerate() {
        for &at in further {
            let mut take = |column: usize| cells.get_mut(column).map(std::mem::take);
            let (pack, price) = (take(at), take(at + 1));
            let words = |cell: Option<Cell>| cell.map_or_else(String::new, |cell| cell.words());
            let (pack, price) = (words(pack), words(price));
            if row > headings && !pack.is_empty() && !price.is_empty() {
                more.entry(row)
                    .or_default()
                    .push(PackOfLine { pack, price });
            }
        }
    }
    Some((one, more))
}

/// A list whose packs and prices stand in one cell of each row, "250 g: 5,90 €; 1 kg: 18,50 €",
/// with a column for each, and the further packs by row, counted from 0; `None` if it is none.
pub(super) fn in_cells(
    table: &Table,
    headings: usize,
) -> Option<(Table, BTreeMap<usize, Vec<PackOfLine>>)> {
    /// Fewer rows may be something else.
    const ENOUGH: usize = 2;
    let pairs = |row: usize, column: usize| match table.cell(row, column) {
        Cell::Text(text) => {
            let (packs, rest) = further_packs(text);
            (!packs.is_empty() && !rest.contains(char::is_alphanumeric)).then_some(packs)
        }
        _ => None,
    };
    let below = headings + 1..table.rows.len();
    let (column, found) = (0..table.width()).find_map(|column| {
        let filled = below
            .clone()
            .filter(|&row| !table.cell(row, column).is_empty());
        let found: Vec<(usize, Vec<PackOfLine>)> = filled
            .clone()
            .filter_map(|row| Some((row, pairs(row, column)?)))
            .collect();
        let several = found.iter().any(|(_, packs)| packs.len() > 1);
        let most = found.len() * 2 > filled.count();
        (several && most && found.len() >= ENOUGH).then_some((column, found))
    })?;
    let mut one = table.clone();
    let mut more = BTreeMap::new();
    let width = table.width();
    let mut put = |row: usize, pack: &str, price: &str| -> Option<()> {
        let cells = one.rows.get_mut(row)?;
        cells.resize(width + 1, Cell::Empty);
        *cells.get_mut(column)? = Cell::Text(pack.to_owned());
        *cells.get_mut(width)? = Cell::Text(price.to_owned());
        Some(())
    };
    put(headings, "Pack", "Price")?;
    for (row, packs) in found {
        let mut packs = packs.into_iter();
        let first = packs.next()?;
        put(row, &first.pack, &first.price)?;
        more.insert(row, packs.collect());
    }
    one.done
        .push("packs and prices that stand in one cell were taken apart".to_owned());
    Some((one, more))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn packs_with_prices_in_one_cell_are_taken_apart() {
        let text = "Prodotto\tConfezioni e prezzi\nUrea\t1 kg: 5,70 €\nBurro di karité\t250 g: 5,90 €; 1 kg: 18,50 €\n";
        let (one, more) = in_cells(&text::read(text).unwrap(), 0).unwrap();
        assert_eq!(one.row_text(0), "Prodotto Pack Price");
        assert_eq!(one.row_text(2), "Burro di karité 250 g 5,90 €");
        assert_eq!(more[&2].len(), 1);
        let plain = text::read("Material;Price\nUrea;5.70 €\nTalc;3.20 €\n").unwrap();
        assert!(in_cells(&plain, 0).is_none());
    }
    use crate::file::table::text;

    #[test]
    fn further_pairs_of_columns_are_further_packs() {
        let text = "Material;Pack;£;Pack;£;Code\nBeeswax;250 g;4.20;1 kg;13.50;B-1\nKaolin;500 g;2.60;;;K-1\n";
        let (one, more) = first_of(&text::read(text).unwrap(), 0).unwrap();
        assert_eq!(one.row_text(1), "Beeswax 250 g 4.20 B-1");
        let further = PackOfLine {
            pack: "1 kg".to_owned(),
            price: "13.50".to_owned(),
        };
        assert_eq!(more, BTreeMap::from([(1, vec![further])]));
        let two =
            text::read("Material;Pack;Net price;Pack;Gross price\nA;1 kg;1;1 kg;2\n").unwrap();
        assert!(first_of(&two, 0).is_none());
    }
}
