//! Which recipes a file holds: one or several on a sheet, one on each of several sheets,
//! versions beside each other, one recipe in several tables of a page.

use rust_decimal::Decimal;

use super::amounts::{self, Written};
use super::columns::{Kind, Layout, Weighing, weigh};
use super::phase_words::phase_heading;
use super::{Cell, Shown, Table, sums};
use crate::naming::qs::is_qs;

/// A recipe found in a file, not read yet.
#[derive(Clone, PartialEq, Debug)]
pub struct Section {
    /// What it is called in a choice: sheet, title or heading of its column.
    pub name: String,
    /// Name of its sheet; empty for a text.
    pub sheet: String,
    /// The table with everything else masked, so that cells keep their names.
    pub table: Table,
    /// What its columns mean, where that is not as recognised.
    pub layout: Option<Layout>,
    /// A version of the section before it: the same lines with other percentages.
    pub version: bool,
    /// On the sheet that was shown last.
    pub active: bool,
}

impl Section {
    /// A sheet as one recipe.
    pub fn whole(table: &Table) -> Self {
        Self {
            name: table.name.clone(),
            sheet: table.name.clone(),
            table: table.clone(),
            layout: None,
            version: false,
            active: true,
        }
    }

    /// Its name, else that of its sheet.
    pub fn title(&self) -> &str {
        if self.name.is_empty() {
            &self.sheet
        } else {
            &self.name
        }
    }
}

/// The recipes of a file, in order; none if no table has names and amounts.
pub fn sections(tables: &[Table]) -> Vec<Section> {
    let joined = joined(tables);
    let tables = joined.as_ref().map_or(tables, std::slice::from_ref);
    let mut found = Vec::new();
    for table in tables {
        if table.hidden || is_constituents(table) {
            continue;
        }
        for (name, part) in parts(table) {
            let Some(weighing) = weigh(&part) else {
                continue;
            };
            // A sheet of words is no recipe among others.
            if tables.len() > 1 && !has_amounts(&part, &weighing.layout) {
                continue;
            }
            let active = table.active || tables.len() == 1;
            let versions = weighing.versions.clone();
            found.push(Section {
                name: name.clone(),
                sheet: table.name.clone(),
                table: part.clone(),
                layout: None,
                version: false,
                active,
            });
            for column in versions {
                let mut layout = weighing.layout.clone();
                layout.assign(column, Some(Kind::Percent));
                let heading = weighing.layout.heading(&part, column);
                found.push(Section {
                    name: heading,
                    sheet: table.name.clone(),
                    table: part.clone(),
                    layout: Some(layout),
                    version: true,
                    active,
                });
            }
            // The first of several versions is called by its heading too.
            if !weighing.versions.is_empty()
                && let Some(at) = weighing.layout.place(Kind::Percent)
            {
                let count = weighing.versions.len();
                let place = found.len().saturating_sub(count + 1);
                if let Some(first) = found.get_mut(place) {
                    first.name = weighing.layout.heading(&part, at);
                }
            }
        }
    }
    found
}

/// Whether a table has a number or an amount anywhere a recipe has them.
fn has_amounts(table: &Table, layout: &Layout) -> bool {
    let columns = [Kind::Percent, Kind::Amount].map(|kind| layout.place(kind));
    let in_text = columns == [None, None];
    if in_text && super::recipe::bare_numbers_are_whole(table) {
        return true;
    }
    (layout.first_row()..table.rows.len()).any(|row| {
        let in_column = columns
            .iter()
            .flatten()
            .any(|&c| !table.cell(row, c).is_empty());
        let items = || super::items::items(&table.row_text(row), None, false);
        in_column || in_text && !items().lines.is_empty()
    })
}

/// The sheet of constituents that our own workbook has beside each variant.
fn is_constituents(table: &Table) -> bool {
    (0..table.width()).any(|c| table.cell(0, c).words() == "Counted as")
}

/// The sum of the percentages of some rows, and whether a q.s. stands among them.
pub(super) fn whole(
    table: &Table,
    weighing: &Weighing,
    rows: std::ops::Range<usize>,
) -> (Decimal, bool) {
    let Some(column) = weighing.layout.place(Kind::Percent) else {
        return (Decimal::ZERO, false);
    };
    let mut total = Decimal::ZERO;
    let mut filler = false;
    for row in rows {
        if table.is_left_out(row) || sums::is_sum(table, row) {
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
                    && let Written::Percent(value) | Written::Bare(value) = reading.written
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
pub(super) fn is_whole((total, filler): (Decimal, bool)) -> bool {
    filler || (total - Decimal::ONE_HUNDRED).abs() <= Decimal::ONE
}

/// One table of several that follow each other without names, as on a page, if each has
/// the same headings and only together they make a whole recipe.
fn joined(tables: &[Table]) -> Option<Table> {
    if tables.len() < 2 || tables.iter().any(|t| !t.name.is_empty()) {
        return None;
    }
    let weighed: Vec<(&Table, Weighing)> = tables
        .iter()
        .filter_map(|t| Some((t, weigh(t)?)))
        .filter(|(_, w)| {
            let has = |kind| w.layout.place(kind).is_some();
            has(Kind::Percent) || has(Kind::Amount)
        })
        .collect();
    let kinds = |w: &Weighing| -> Vec<Option<Kind>> {
        w.layout.columns.iter().map(|c| c.map(|c| c.kind)).collect()
    };
    let (_, first) = weighed.first()?;
    let alike = weighed.len() > 1
        && weighed.iter().all(|(_, w)| kinds(w) == kinds(first))
        && weighed
            .iter()
            .filter(|(t, w)| is_whole(whole(t, w, 0..t.rows.len())))
            .count()
            <= 1;
    let total: Decimal = weighed
        .iter()
        .map(|(t, w)| whole(t, w, w.layout.first_row()..t.rows.len()).0)
        .sum();
    let filler = weighed.iter().any(|(t, w)| whole(t, w, 0..t.rows.len()).1);
    // Each begins a phase: tables in grams have no whole of their own.
    let phases = weighed.len() == tables.len()
        && weighed.iter().all(|(table, w)| {
            let above = w.layout.headings.unwrap_or(0);
            (0..above).any(|row| phase_heading(&table.row_text(row)).is_some())
        });
    let in_grams = weighed
        .iter()
        .all(|(_, w)| w.layout.place(Kind::Percent).is_none());
    let together = if in_grams {
        phases
    } else {
        filler && total < Decimal::ONE_HUNDRED || is_whole((total, false))
    };
    if !alike || !together {
        return None;
    }
    let mut all = Table::default();
    for (table, _) in weighed {
        all.rows.extend(table.rows.iter().cloned());
        // A blank row between, so that each keeps its own headings apart.
        all.rows.push(Vec::new());
    }
    Some(all)
}

/// The recipes of one sheet: below each other with headings of their own, each a whole,
/// or beside each other.
fn parts(table: &Table) -> Vec<(String, Table)> {
    let whole_table = || vec![(table.name.clone(), table.clone())];
    let Some(weighing) = weigh(table) else {
        return turned(table);
    };
    let Some(headings) = weighing.layout.headings else {
        return whole_table();
    };
    if let Some(beside) = beside_each_other(table, headings) {
        return beside;
    }
    let mut starts: Vec<usize> = vec![headings];
    starts.extend(
        (headings + 1..table.rows.len()).filter(|&row| weighing.layout.is_repeated_in(table, row)),
    );
    if starts.len() < 2 {
        return below_totals(table, &weighing).unwrap_or_else(whole_table);
    }
    let ranges: Vec<std::ops::Range<usize>> = starts
        .iter()
        .enumerate()
        .map(|(n, &start)| start + 1..starts.get(n + 1).copied().unwrap_or(table.rows.len()))
        .collect();
    let wholes = ranges
        .iter()
        .filter(|rows| is_whole(whole(table, &weighing, (*rows).clone())))
        .count();
    if wholes < 2 {
        return whole_table();
    }
    ranges
        .iter()
        .enumerate()
        .map(|(n, rows)| {
            // The rows of text right above the headings are its title.
            let heading = rows.start.saturating_sub(1);
            let above = |row: usize| {
                row.checked_sub(1)
                    .filter(|&r| {
                        !table
                            .rows
                            .get(r)
                            .is_none_or(|cells| cells.iter().all(Cell::is_empty))
                    })
                    .filter(|&r| {
                        table.rows.get(r).is_some_and(|cells| {
                            cells.iter().filter(|c| !c.is_empty()).count() == 1
                        })
                    })
            };
            let mut from = heading;
            while let Some(row) = above(from) {
                from = row;
            }
            if n == 0 {
                from = 0;
            }
            let next = ranges.get(n + 1).map_or(table.rows.len(), |next| {
                let mut end = next.start.saturating_sub(1);
                while let Some(row) = above(end) {
                    end = row;
                }
                end
            });
            let title = (from..heading)
                .find_map(|row| {
                    table
                        .rows
                        .get(row)?
                        .iter()
                        .map(Cell::words)
                        .find(|w| !w.is_empty())
                })
                .unwrap_or_else(|| format!("list {}", n + 1));
            (
                title,
                table.masked(|row| (from..next).contains(&row), |_| true),
            )
        })
        .collect()
}

/// Materials that stand in columns, with the amounts below them: the table with rows and
/// columns exchanged.
fn turned(table: &Table) -> Vec<(String, Table)> {
    let Some(turned) = table.turned() else {
        return Vec::new();
    };
    let names_and_amounts = weigh(&turned).is_some_and(|w| {
        w.layout.place(Kind::Name).is_some()
            && (w.layout.place(Kind::Percent).is_some() || w.layout.place(Kind::Amount).is_some())
    });
    if names_and_amounts {
        vec![(table.name.clone(), turned)]
    } else {
        Vec::new()
    }
}

/// Recipes below each other under one row of headings, each ended by its total.
fn below_totals(table: &Table, weighing: &Weighing) -> Option<Vec<(String, Table)>> {
    let headings = weighing.layout.headings?;
    let mut ends: Vec<usize> = Vec::new();
    let mut from = weighing.layout.first_row();
    for row in weighing.layout.first_row()..table.rows.len() {
        let total = sums::sum_of(table, row) == Some(sums::Sum::Whole);
        if total && is_whole(whole(table, weighing, from..row)) {
            ends.push(row + 1);
            from = row + 1;
        }
    }
    // What stands below the last total is no recipe of its own.
    if ends.len() < 2 || whole(table, weighing, from..table.rows.len()) != (Decimal::ZERO, false) {
        return None;
    }
    let count = ends.len();
    let mut from = weighing.layout.first_row();
    let mut found = Vec::new();
    for (n, end) in ends.into_iter().enumerate() {
        let end = if n + 1 == count {
            table.rows.len()
        } else {
            end
        };
        let title = (from..end)
            .map(|row| table.row_text(row))
            .find(|words| !words.is_empty())
            .filter(|words| !words.contains(|c: char| c.is_ascii_digit()))
            .unwrap_or_else(|| format!("list {}", n + 1));
        let rows = from..end;
        let is_heading = |row: usize| (headings..weighing.layout.first_row()).contains(&row);
        let above = |row: usize| n == 0 && row < headings;
        found.push((
            title,
            table.masked(
                |row| is_heading(row) || above(row) || rows.contains(&row),
                |_| true,
            ),
        ));
        from = end;
    }
    Some(found)
}

/// Two lists side by side have two columns of names with numbers right of each.
fn beside_each_other(table: &Table, headings: usize) -> Option<Vec<(String, Table)>> {
    let kind = |column: usize| match table.cell(headings, column) {
        Cell::Text(text) => super::columns::heading(text).map(|c| c.kind),
        _ => None,
    };
    let names: Vec<usize> = (0..table.width())
        .filter(|&c| kind(c) == Some(Kind::Name))
        .collect();
    if names.len() < 2 {
        return None;
    }
    // Each begins at its names, or at what stands left of them up to an empty column.
    let starts: Vec<usize> = names
        .iter()
        .enumerate()
        .map(|(n, &name)| {
            if n == 0 {
                return 0;
            }
            let mut start = name;
            while start > 0 && matches!(kind(start - 1), Some(Kind::Phase | Kind::Code)) {
                start -= 1;
            }
            start
        })
        .collect();
    let range = |n: usize| {
        starts.get(n).copied().unwrap_or(0)..starts.get(n + 1).copied().unwrap_or(table.width())
    };
    let each_has_numbers = (0..names.len())
        .all(|n| range(n).any(|c| matches!(kind(c), Some(Kind::Percent | Kind::Amount))));
    if !each_has_numbers {
        // A block of facts beside the one list, with an empty column between them.
        let mut with_numbers = (0..names.len())
            .filter(|&n| range(n).any(|c| matches!(kind(c), Some(Kind::Percent | Kind::Amount))));
        let (Some(one), None) = (with_numbers.next(), with_numbers.next()) else {
            return None;
        };
        let columns = range(one);
        let parted = columns.start > 0
            && (0..table.rows.len()).all(|row| table.cell(row, columns.start - 1).is_empty());
        return parted.then(|| {
            let mut part = table.masked(|_| true, |c| columns.contains(&c));
            part.left_beside = Some(columns.start - 1);
            vec![(table.name.clone(), part)]
        });
    }
    Some(
        (0..names.len())
            .map(|n| {
                let columns = range(n);
                let title = (0..headings)
                    .rev()
                    .flat_map(|row| columns.clone().map(move |c| table.cell(row, c).words()))
                    .find(|w| !w.is_empty())
                    .unwrap_or_else(|| format!("list {}", n + 1));
                (title, table.masked(|_| true, |c| columns.contains(&c)))
            })
            .collect(),
    )
}

#[cfg(test)]
mod tests {
    use super::super::read_text;
    use super::*;

    fn names(text: &str) -> Vec<String> {
        sections(&read_text(text).unwrap())
            .into_iter()
            .map(|s| s.name)
            .collect()
    }

    #[test]
    fn recipes_below_and_beside_each_other() {
        assert_eq!(names("Ingredient;%\nWater;95\nGlycerin;5\n"), [""]);
        assert_eq!(
            names(
                "Moss gel;\nIngredient;%\nWater;95\nGlycerin;5\n;\nOat gel;\nIngredient;%\nWater;90\nGlycerin;10\n"
            ),
            ["Moss gel", "Oat gel"]
        );
        // One recipe with the headings repeated for each phase.
        assert_eq!(
            names(
                "Phase A;\nIngredient;%\nWater;70\nGlycerin;5\n;\nPhase B;\nIngredient;%\nOil;20\nWax;5\n"
            ),
            [""]
        );
        assert_eq!(
            names(
                "One;;;Two;\nIngredient;%;;Ingredient;%\nWater;95;;Water;90\nGlycerin;5;;Glycerin;10\n"
            ),
            ["One", "Two"]
        );
        assert_eq!(
            names("Ingredient;V1 %;V2 %\nWater;95;90\nGlycerin;5;10\n"),
            ["V1 %", "V2 %"]
        );
        assert_eq!(
            names("Ingredient;%;Max. use %\nWater;95;100\nGlycerin;5;10\n"),
            [""]
        );
    }

    #[test]
    fn tables_of_a_page_are_one_recipe_if_only_together_they_are_whole() {
        let page = "<h3>A</h3><table><tr><th>Ingredient<th>%<tr><td>Water<td>70</table><h3>B</h3><table><tr><th>Ingredient<th>%<tr><td>Oil<td>30</table>";
        assert_eq!(names(page).len(), 1);
        let two = "<table><tr><th>Ingredient<th>%<tr><td>Water<td>100</table><table><tr><th>Ingredient<th>%<tr><td>Oil<td>100</table>";
        assert_eq!(names(two).len(), 2);
    }
}
