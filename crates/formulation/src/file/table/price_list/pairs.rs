//! Packs and prices side by side, a pair of columns for each size: "Pack", "£", "Pack", "£". The
//! further ones become further packs of the first.

use std::collections::BTreeMap;

use super::lines::PackOfLine;
use crate::file::table::columns::{Kind, heading, spelt_heading};
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
        spelt_heading(&text(column)).is_some_and(|column| column.kind == Kind::Pack)
    };
    let is_price = |column: usize| {
        let words = text(column);
        heading(&words).is_some_and(|column| column.kind == Kind::Price) || names_money(&words)
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

#[cfg(test)]
mod tests {
    use super::*;
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
