//! Recipes of a text below titles of their own.

use rust_decimal::Decimal;

use super::whole::is_whole;
use crate::file::table::Table;
use crate::file::table::amounts::{self, WrittenAmount};
use crate::file::table::items::items;
use crate::file::table::phase_words::phase_heading;
use crate::file::table::words::{begins_method, is_property, is_sentence};
use crate::naming::fold;

/// Recipes of a text below titles of their own: each is a whole in percent, or its title states
/// the size that its amounts add up to.
pub(super) fn below_titles(table: &Table) -> Option<Vec<(String, Table)>> {
    let lines = |row: usize| items(&table.row_text(row), None, false).lines;
    let end = table.rows.len();
    // A rule of signs parts as a blank row does.
    let is_blank = |row: usize| !table.row_text(row).contains(char::is_alphanumeric);
    let is_title = |row: usize| {
        let text = table.row_text(row);
        let words = text.trim_start_matches('#').trim();
        let begins = row == 0 || text.starts_with('#') || is_blank(row - 1);
        let next = (row + 1..end).find(|&r| !is_blank(r));
        begins
            && words.chars().any(char::is_alphabetic)
            && phase_heading(words).is_none()
            && !is_sentence(words)
            && !begins_method(words)
            && !is_property(words)
            && (text.starts_with('#') || lines(row).is_empty())
            && next.is_some_and(|next| !lines(next).is_empty())
    };
    let titles: Vec<usize> = (0..end).filter(|&row| is_title(row)).collect();
    if titles.len() < 2 {
        return None;
    }
    let blocks: Vec<TitledList> = titles
        .iter()
        .zip(titles.iter().skip(1).chain([&end]))
        .map(|(&from, &to)| TitledList::of(table, from..to))
        .collect();
    let alike = TitledList::are_batches_of_one_size(&blocks);
    if !alike && !blocks.iter().all(TitledList::is_recipe) {
        return None;
    }
    let first = titles.first().copied().unwrap_or(0);
    let named = blocks.into_iter().map(|block| {
        let title = table.row_text(block.rows.start);
        let title = title.trim_start_matches('#').trim().to_owned();
        let mut part = table.masked(|row| block.rows.contains(&row), |_| true);
        if block.rows.start == first {
            let above = (0..first).map(|row| (row, table.row_text(row)));
            let above = above.filter(|(_, words)| !words.is_empty());
            part.set_aside
                .extend(above.map(|(row, words)| (row, (words, "stands above the recipes"))));
        }
        (title, part)
    });
    Some(named.collect())
}

/// A list of a text below a title.
struct TitledList {
    /// The title and what stands below it.
    rows: std::ops::Range<usize>,
    percent: Decimal,
    grams: Decimal,
    /// A q.s. stands in it.
    filled: bool,
    /// Something of it is neither in percent nor in grams.
    other: bool,
    /// The sizes that its title states, in grams.
    sizes: Vec<Decimal>,
    names: Vec<String>,
}

impl TitledList {
    fn of(table: &Table, rows: std::ops::Range<usize>) -> Self {
        let mut list = Self {
            percent: Decimal::ZERO,
            grams: Decimal::ZERO,
            filled: false,
            other: false,
            sizes: amounts::masses_in(&table.row_text(rows.start)),
            names: Vec::new(),
            rows: rows.clone(),
        };
        let lines = |row: usize| items(&table.row_text(row), None, false).lines;
        for item in rows.skip(1).flat_map(lines) {
            match item.reading.written {
                WrittenAmount::Percent(value) => list.percent += value,
                WrittenAmount::Grams(value) => list.grams += value,
                WrittenAmount::Qs(_) => list.filled = true,
                _ => list.other = true,
            }
            list.names.push(fold::plain(&item.name));
        }
        list
    }

    /// Whether it is a whole in percent, or its title states the size that its amounts add up to.
    fn is_recipe(&self) -> bool {
        let of_size =
            |size: &Decimal| is_near(self.grams, *size) || self.filled && self.grams < *size;
        self.grams.is_zero() && is_whole((self.percent, self.filled))
            || self.percent.is_zero() && self.sizes.iter().any(of_size)
    }

    /// Whether lists in grams all come to the same, and some of them have a material in common:
    /// parts of one recipe hardly do.
    fn are_batches_of_one_size(lists: &[Self]) -> bool {
        let Some((first, others)) = lists.split_first() else {
            return false;
        };
        let in_grams = |list: &Self| {
            list.percent.is_zero() && !list.grams.is_zero() && !list.filled && !list.other
        };
        let in_common = others
            .iter()
            .any(|list| list.names.iter().any(|name| first.names.contains(name)));
        lists.iter().all(in_grams)
            && others.iter().all(|list| is_near(list.grams, first.grams))
            && in_common
    }
}

/// Whether two sums are the same but for what is spilt.
fn is_near(a: Decimal, b: Decimal) -> bool {
    (a - b).abs() <= b * Decimal::new(2, 2)
}
