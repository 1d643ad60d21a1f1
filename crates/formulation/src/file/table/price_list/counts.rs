//! What was counted on several days, a column for each: the newest is what is in stock.

use jiff::civil::Date;

use crate::amount::number::{self, Unit};
use crate::file::table::columns::{Column, ColumnKind, Layout, heading};
use crate::file::table::days::{self, DayOrder};
use crate::file::table::{Cell, Table};
use crate::naming::words_of;

/// A column of what was counted on a day.
struct Count {
    column: usize,
    heading: String,
    day: Date,
    unit: Option<Unit>,
    /// Its heading says that it is of a stock.
    of_stock: bool,
}

impl Count {
    fn of(table: &Table, layout: &Layout, column: usize) -> Option<Self> {
        let heading_text = layout.heading(table, column);
        let (day, around) = day_within(&heading_text)?;
        let tokens = around.split(|c: char| !c.is_alphabetic());
        let unit = tokens.filter(|t| !t.is_empty()).find_map(Unit::named);
        let kind = heading(&around).map(|c| c.kind);
        let may_be = matches!(
            kind,
            None | Some(
                ColumnKind::Stock | ColumnKind::Amount | ColumnKind::Packs | ColumnKind::Dated
            )
        );
        let is_number = |row: usize| match table.cell(row, column) {
            Cell::Number { .. } => true,
            Cell::Text(text) => number::amount(text, None).is_ok_and(|a| a.currency.is_none()),
            _ => false,
        };
        let rows = (layout.first_row()..table.rows.len())
            .filter(|&row| !table.cell(row, column).is_empty());
        let (mut all, mut numbers) = (0, 0);
        for row in rows.take(300) {
            all += 1;
            numbers += usize::from(is_number(row));
        }
        (may_be && all > 1 && numbers * 10 >= all * 9).then_some(Self {
            column,
            heading: heading_text,
            day,
            unit,
            of_stock: kind == Some(ColumnKind::Stock),
        })
    }
}

/// A day within a heading, "Count 1.10.2026 (g)", and what stands around it.
fn day_within(text: &str) -> Option<(Date, String)> {
    let tokens: Vec<&str> = text.split_whitespace().collect();
    let clean = |token: &str| token.trim_matches(['(', ')', ',', ';', ':']).to_owned();
    let place = tokens.iter().position(|token| {
        let token = clean(token);
        token.bytes().filter(u8::is_ascii_digit).count() >= 4
            && token.contains(['.', '/', '-'])
            && days::day(&token, DayOrder::DayFirst).is_some()
    })?;
    let day = days::day(&clean(tokens.get(place)?), DayOrder::DayFirst)?;
    let others = tokens.iter().enumerate().filter(|(at, _)| *at != place);
    let around: Vec<&str> = others.map(|(_, token)| *token).collect();
    Some((day, around.join(" ")))
}

/// The layout with the newest of several counts as what is in stock, and what is told of it;
/// `None` if there are not several, or nothing says that they are of a stock.
pub(super) fn newest(table: &Table, layout: &Layout) -> Option<(Layout, String)> {
    layout.headings?;
    let mut counts: Vec<Count> = (0..table.width())
        .filter_map(|column| Count::of(table, layout, column))
        .collect();
    let words = |count: &Count| {
        let (_, around) = day_within(&count.heading).unwrap_or_default();
        words_of(&around)
    };
    let first = counts.first().map(words)?;
    let alike = counts.len() > 1 && counts.iter().all(|count| words(count) == first);
    let has = |kind| layout.place(kind).is_some();
    let kept = has(ColumnKind::Lot) || has(ColumnKind::Expiry) || counts.iter().all(|c| c.of_stock);
    if !alike || !kept || !(has(ColumnKind::Name) || has(ColumnKind::Inci)) {
        return None;
    }
    counts.sort_by_key(|count| count.day);
    let (newest, older) = counts.split_last()?;
    let mut layout = layout.clone();
    for count in older {
        layout.assign(count.column, None);
    }
    layout.assign(newest.column, Some(ColumnKind::Stock));
    if let Some(Some(column)) = layout.columns.get_mut(newest.column) {
        *column = Column {
            kind: ColumnKind::Stock,
            unit: newest.unit,
        };
    }
    let older: Vec<String> = older.iter().map(|c| format!("“{}”", c.heading)).collect();
    let told = format!(
        "what was counted last, “{}”, was taken as what is in stock, {} left out",
        newest.heading,
        older.join(", ")
    );
    Some((layout, told))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::file::table::choose::recognise;
    use crate::file::table::text;

    #[test]
    fn the_newest_count_is_in_stock() {
        let text = "Material;Lot;Count 15.11.2026 (g);Count 1.10.2026 (g)\nShea butter;S-1;1850;2400\nGlycerin;G-7;0;5000\n";
        let table = text::read(text).unwrap();
        let (layout, told) = newest(&table, &recognise(&table).unwrap()).unwrap();
        assert_eq!(layout.place(ColumnKind::Stock), Some(2));
        assert_eq!(layout.unit(ColumnKind::Stock), Some(Unit::Gram));
        assert!(told.contains("“Count 1.10.2026 (g)” left out"), "{told}");
        // Versions of a recipe by their days are no counts.
        let text = "Ingredient;1.10.2026 %;15.11.2026 %\nWater;95;90\nGlycerin;5;10\n";
        let table = text::read(text).unwrap();
        assert!(newest(&table, &recognise(&table).unwrap()).is_none());
    }
}
