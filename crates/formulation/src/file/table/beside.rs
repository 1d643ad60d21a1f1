//! What belongs to one recipe but stands beside each other: phases in columns of their own, a list
//! that goes on in the next columns. It is put into rows, as most tables have it.

use std::collections::BTreeSet;
use std::ops::Range;
use std::sync::Arc;

use rust_decimal::Decimal;

use super::amounts::{self, WrittenAmount};
use super::items::items;
use super::phase_words::{phase_heading, says_phase};
use super::sums::is_sum;
use super::{Cell, Shown, Table, TableOrigin, cell_name};
use crate::amount::number::Unit;

/// Rows in which the names of phases are looked for.
const ROWS_FOR_PHASES: usize = 40;

/// A table whose phases stand in columns, with the phases in rows; `None` if they do not.
pub(super) fn in_rows(table: &Table) -> Option<Table> {
    (0..table.rows.len().min(ROWS_FOR_PHASES)).find_map(|row| {
        let mut cells = table.rows.get(row).into_iter().flatten();
        if cells.any(is_amount) {
            return None;
        }
        let columns = phases_in(table, row);
        if columns.len() < 2 {
            return None;
        }
        amounts_by_phase(table, row, &columns).or_else(|| lists_by_phase(table, row, &columns))
    })
}

/// The columns in which a row names phases, and what each is called.
fn phases_in(table: &Table, row: usize) -> Vec<(usize, String)> {
    let called = |column: usize| match table.cell(row, column) {
        // "g" heads amounts.
        Cell::Text(text) if Unit::named(text.trim()).is_none() => {
            let phase = phase_heading(without_unit(text))?;
            (!phase.letter.is_empty() || phase.kind.is_some())
                .then(|| without_unit(text).to_owned())
        }
        _ => None,
    };
    (0..table.width())
        .filter_map(|column| Some((column, called(column)?)))
        .collect()
}

/// A heading without the unit at its end: "Phase A (g)".
fn without_unit(text: &str) -> &str {
    let text = text.trim();
    let Some((name, last)) = text.rsplit_once(|c: char| c.is_whitespace()) else {
        return text;
    };
    let bare = last.trim_matches(['(', ')', '[', ']', ',']);
    if bare == "%" || Unit::named(bare).is_some() {
        name.trim_end_matches([',', ' '])
    } else {
        text
    }
}

/// The unit at the end of a heading.
fn unit_of(text: &str) -> &str {
    let bare = without_unit(text);
    let rest = text.trim().get(bare.len()..).unwrap_or_default();
    rest.trim_matches(|c: char| c.is_whitespace() || matches!(c, '(' | ')' | '[' | ']' | ','))
}

/// A table that states how much of the recipe each phase is, and how much of its phase each
/// material: with the percentages of the recipe. `None` if it does not.
pub(super) fn of_phases(table: &Table) -> Option<Table> {
    /// How far sums of rounded numbers may be off.
    const SLACK: Decimal = Decimal::from_parts(6, 0, 0, false, 1);
    let number = |row: usize, column: usize| percent_in(table.cell(row, column));
    let within = |value: &Decimal| (Decimal::ZERO..=Decimal::ONE_HUNDRED).contains(value);
    let is_hundred = |sum: Decimal| (sum - Decimal::ONE_HUNDRED).abs() <= SLACK;
    let rows: Vec<usize> = (0..table.rows.len())
        .filter(|&row| !is_sum(table, row))
        .collect();
    let columns: Vec<Vec<(usize, Decimal)>> = (0..table.width())
        .map(|column| {
            let numbers = rows.iter().map(|&row| (row, number(row, column)));
            numbers
                .filter_map(|(row, number)| Some((row, number.filter(within)?)))
                .collect()
        })
        .collect();
    // The share of each phase stands in its first row alone.
    let found = columns.iter().enumerate().find_map(|(share, phases)| {
        let whole = phases.len() > 1 && is_hundred(phases.iter().map(|(_, v)| v).sum());
        let parts = columns.iter().enumerate().position(|(part, lines)| {
            let sums = phases.iter().enumerate().map(|(n, (from, _))| {
                let to = phases.get(n + 1).map_or(usize::MAX, |(next, _)| *next);
                let of_phase = lines.iter().filter(|(row, _)| (*from..to).contains(row));
                of_phase.map(|(_, value)| *value).sum::<Decimal>()
            });
            let first = phases.first().map_or(0, |(row, _)| *row);
            part != share
                && lines.len() > phases.len()
                && lines.first().is_some_and(|(row, _)| *row == first)
                && sums.into_iter().all(is_hundred)
        });
        Some((share, parts.filter(|_| whole)?))
    });
    let (share, part) = found?;
    let (phases, lines) = (columns.get(share)?, columns.get(part)?);
    let first = phases.first().map(|(row, _)| *row)?;
    let headings = first.checked_sub(1)?;
    let mut all = table.clone();
    for (row, value) in lines {
        let (_, of_phase) = phases.iter().rev().find(|(from, _)| from <= row)?;
        let percent = (*value * *of_phase).checked_div(Decimal::ONE_HUNDRED)?;
        *all.rows.get_mut(*row)?.get_mut(part)? = Cell::Number {
            value: percent.normalize(),
            shown: Shown::Plain,
        };
    }
    for cells in all.rows.iter_mut().skip(headings) {
        if let Some(cell) = cells.get_mut(share) {
            *cell = Cell::Empty;
        }
    }
    if let Some(cell) = all
        .rows
        .get_mut(headings)
        .and_then(|cells| cells.get_mut(part))
    {
        *cell = Cell::Text("%".to_owned());
    }
    all.done.push(
        "the percentages are those of each phase; with the share of the phase beside them they were reckoned to those of the recipe"
            .to_owned(),
    );
    Some(all)
}

/// A table whose rows that begin phases say how much of the recipe each phase is, "Water phase =
/// 75 %", and whose lines make a hundred in each: with the percentages of the recipe. `None` if it
/// is none.
pub(super) fn of_titled_phases(table: &Table) -> Option<Table> {
    let titles: Vec<(usize, String, Decimal)> = (0..table.rows.len())
        .filter_map(|row| {
            let (title, share) = share_in_title(table, row)?;
            // "Each phase makes 100 %" is said of all of them.
            (share < Decimal::ONE_HUNDRED).then_some((row, title, share))
        })
        .collect();
    let whole: Decimal = titles.iter().map(|(.., share)| *share).sum();
    if titles.len() < 2 || whole != Decimal::ONE_HUNDRED {
        return None;
    }
    let first = titles.first().map(|(row, ..)| *row)?;
    let rows_of = |n: usize| {
        let end = titles.get(n + 1).map_or(table.rows.len(), |(row, ..)| *row);
        titles.get(n).map_or(0, |(row, ..)| row + 1)..end
    };
    let named = |row: usize| (0..table.width()).any(|c| is_word(table.cell(row, c)));
    let makes_a_hundred = |column: usize, n: usize| {
        let lines = rows_of(n).filter(|&row| named(row) && !is_sum(table, row));
        let sum: Decimal = lines
            .filter_map(|row| percent_in(table.cell(row, column)))
            .sum();
        (sum - Decimal::ONE_HUNDRED).abs() <= Decimal::new(6, 1)
    };
    let mut columns = (0..table.width()).map(Some).chain([None]);
    let makes_wholes = |column: &Option<usize>| match column {
        Some(column) => (0..titles.len()).all(|n| makes_a_hundred(*column, n)),
        None => (0..titles.len()).all(|n| {
            let lines = rows_of(n).filter_map(|row| percent_in_text(table, row));
            let sum: Decimal = lines.map(|(_, percent)| percent).sum();
            (sum - Decimal::ONE_HUNDRED).abs() <= Decimal::new(6, 1)
        }),
    };
    // Without a column of them the percentages stand beside the names: "water 95 %".
    let column = columns.find(makes_wholes)?;
    let mut all = table.clone();
    for (n, (row, title, share)) in titles.iter().enumerate() {
        *all.rows.get_mut(*row)? = vec![Cell::Text(title.clone())];
        let of_whole = |percent: Decimal| (percent * share / Decimal::ONE_HUNDRED).normalize();
        for row in rows_of(n) {
            match column {
                Some(column) => {
                    if let Some(value) = percent_in(table.cell(row, column)) {
                        *all.rows.get_mut(row)?.get_mut(column)? = Cell::Number {
                            value: of_whole(value),
                            shown: Shown::Plain,
                        };
                    }
                }
                None => {
                    if let Some((name, percent)) = percent_in_text(table, row) {
                        let text = format!("{name} {} %", of_whole(percent));
                        *all.rows.get_mut(row)? = vec![Cell::Text(text)];
                    }
                }
            }
        }
    }
    // A heading of its own, so that the numbers are of a hundred.
    if let Some(column) = column
        && (0..first).all(|row| table.cell(row, column).is_empty())
        && let Some(above) = first.checked_sub(1)
    {
        let cells = all.rows.get_mut(above)?;
        cells.resize(cells.len().max(column + 1), Cell::Empty);
        if cells.iter().all(Cell::is_empty) {
            *cells.get_mut(column)? = Cell::Text("%".to_owned());
        }
    }
    all.done.push(
        "the percentages are those of each phase; with the share of the phase in its title they were reckoned to those of the recipe"
            .to_owned(),
    );
    Some(all)
}

/// The material and the percentage that a row says in text, "water 95 %", if it is only one.
fn percent_in_text(table: &Table, row: usize) -> Option<(String, Decimal)> {
    let mut lines = items(&table.row_text(row), None, false).lines.into_iter();
    match (lines.next()?, lines.next()) {
        (one, None) => match one.reading.written {
            WrittenAmount::Percent(percent) => Some((one.name, percent)),
            _ => None,
        },
        _ => None,
    }
}

/// The name of the phase that a row of one cell begins, and the share that it states: "Water
/// phase = 75 % of the cream".
fn share_in_title(table: &Table, row: usize) -> Option<(String, Decimal)> {
    let mut filled = table.rows.get(row)?.iter().filter(|cell| !cell.is_empty());
    let (Some(Cell::Text(text)), None) = (filled.next(), filled.next()) else {
        return None;
    };
    let (before, _) = text.split_once('%')?;
    let name = before
        .trim_end()
        .trim_end_matches(|c: char| c.is_ascii_digit() || matches!(c, '.' | ','));
    let share = before.get(name.len()..)?.trim();
    let share = amounts::read(share, None, None).ok()?;
    let name = name.trim_end_matches(|c: char| !c.is_alphanumeric());
    let WrittenAmount::Bare(value) = share.written else {
        return None;
    };
    says_phase(name).then(|| (name.to_owned(), value))
}

fn percent_in(cell: &Cell) -> Option<Decimal> {
    match cell {
        Cell::Number { value, shown } => Some(if *shown == Shown::Percent {
            *value * Decimal::ONE_HUNDRED
        } else {
            *value
        }),
        Cell::Text(text) if amounts::is_amount(text) => {
            match amounts::read(text, None, None).ok()?.written {
                WrittenAmount::Percent(value) | WrittenAmount::Bare(value) => Some(value),
                _ => None,
            }
        }
        _ => None,
    }
}

fn is_amount(cell: &Cell) -> bool {
    match cell {
        Cell::Number { .. } => true,
        Cell::Text(text) => amounts::is_amount(text),
        _ => false,
    }
}

fn is_word(cell: &Cell) -> bool {
    matches!(cell, Cell::Text(text) if text.contains(char::is_alphabetic)) && !is_amount(cell)
}

/// The materials stand in one column, and each amount in the column of its phase.
fn amounts_by_phase(table: &Table, headings: usize, columns: &[(usize, String)]) -> Option<Table> {
    /// Fewer lines tell nothing.
    const ENOUGH: usize = 3;
    let [(into, _), (phases, _), ..] = columns else {
        return None;
    };
    let mut all = table.clone();
    let mut seen: Vec<usize> = Vec::new();
    let mut lines = 0;
    for row in headings + 1..table.rows.len() {
        let filled: Vec<&(usize, String)> = columns
            .iter()
            .filter(|(column, _)| !table.cell(row, *column).is_empty())
            .collect();
        let of_sum = is_sum(table, row);
        let value = match filled.as_slice() {
            [(column, name)] if !of_sum => {
                let named = (0..*into).any(|c| is_word(table.cell(row, c)));
                if !is_amount(table.cell(row, *column)) || !named {
                    return None;
                }
                lines += 1;
                if !seen.contains(column) {
                    seen.push(*column);
                }
                Some((table.cell(row, *column).clone(), name.clone()))
            }
            [] => continue,
            _ if of_sum => None,
            _ => return None,
        };
        let cells = all.rows.get_mut(row)?;
        for (column, _) in columns {
            if let Some(cell) = cells.get_mut(*column) {
                *cell = Cell::Empty;
            }
        }
        if let Some((amount, name)) = value {
            cells.resize(cells.len().max(phases + 1), Cell::Empty);
            *cells.get_mut(*into)? = amount;
            *cells.get_mut(*phases)? = Cell::Text(name);
        }
    }
    if seen.len() < columns.len() || lines < ENOUGH {
        return None;
    }
    let unit = match table.cell(headings, *into) {
        Cell::Text(text) => unit_of(text).to_owned(),
        _ => String::new(),
    };
    let cells = all.rows.get_mut(headings)?;
    for (column, _) in columns {
        *cells.get_mut(*column)? = Cell::Empty;
    }
    let amount = if unit.is_empty() { "Amount" } else { &unit };
    *cells.get_mut(*into)? = Cell::Text(amount.to_owned());
    *cells.get_mut(*phases)? = Cell::Text("Phase".to_owned());
    all.done.push(
        "each phase has a column of amounts; they were read as one, with the phase of each line"
            .to_owned(),
    );
    Some(all)
}

/// Each phase is a list of its own, headed by its name: materials, and amounts right of them.
fn lists_by_phase(table: &Table, headings: usize, columns: &[(usize, String)]) -> Option<Table> {
    let blocks: Vec<(Range<usize>, Option<&str>)> = columns
        .iter()
        .enumerate()
        .map(|(n, (column, name))| {
            let end = columns.get(n + 1).map_or(table.width(), |(next, _)| *next);
            (*column..end, Some(name.as_str()))
        })
        .collect();
    let mut all = below_each_other(table, headings, &blocks)?;
    // The phase stands where the materials are headed.
    let first = all.rows.get_mut(headings)?.first_mut()?;
    *first = Cell::Text("Material".to_owned());
    all.done.push(
        "the phases stand beside each other, so they were put below each other; rows are counted so"
            .to_owned(),
    );
    Some(all)
}

/// Lists beside each other, each of some columns, below each other under the headings of the
/// first and each below its name, if it has one; `None` if one of them has no line.
pub(super) fn below_each_other(
    table: &Table,
    headings: usize,
    blocks: &[(Range<usize>, Option<&str>)],
) -> Option<Table> {
    let is_line = |row: usize, block: &Range<usize>| {
        block.clone().any(|c| is_word(table.cell(row, c)))
            && block.clone().any(|c| is_amount(table.cell(row, c)))
    };
    let below = || headings + 1..table.rows.len();
    if !blocks
        .iter()
        .all(|(block, _)| below().any(|row| is_line(row, block)))
    {
        return None;
    }
    let last = below()
        .rev()
        .find(|&row| blocks.iter().any(|(block, _)| is_line(row, block)))?;
    let (first, _) = blocks.first()?;
    let cells_of = |row: usize, block: &Range<usize>| -> Vec<Cell> {
        block.clone().map(|c| table.cell(row, c).clone()).collect()
    };
    let mut all = table.masked(|row| row < headings, |_| true);
    let mut origin = TableOrigin {
        table: table.clone(),
        places: BTreeSet::new(),
    };
    let mut stands = |row: usize, block: &Range<usize>, to: usize| {
        let cells = block.clone().enumerate();
        let cells = cells.map(|(at, column)| ((row, column), (to, at)));
        origin.places.extend(cells);
    };
    let whole = 0..table.width();
    for row in 0..headings {
        stands(row, &whole, row);
    }
    all.rows.truncate(headings);
    for (block, _) in blocks {
        stands(headings, block, headings);
    }
    all.rows.push(cells_of(headings, first));
    all.struck.clear();
    all.struck_words.clear();
    all.left_out.clear();
    // Where in the file the rows stand, as they are counted from here on.
    let mut places: Vec<String> = Vec::new();
    for (block, name) in blocks {
        all.rows
            .extend(name.map(|name| vec![Cell::Text(name.to_owned())]));
        let filled = |row: &usize| block.clone().any(|c| !table.cell(*row, c).is_empty());
        let rows: Vec<usize> = (headings + 1..=last).filter(filled).collect();
        if let (Some(from), Some(till)) = (rows.first(), rows.last()) {
            places.push(format!(
                "rows {} to {} are cells {} to {}",
                all.rows.len() + 1,
                all.rows.len() + rows.len(),
                cell_name(*from, block.start),
                cell_name(*till, block.end.saturating_sub(1))
            ));
        }
        for row in rows {
            let to = all.rows.len();
            stands(row, block, to);
            all.rows.push(cells_of(row, block));
            if let Some(why) = table.left_out.get(&row) {
                all.left_out.insert(to, why);
            }
            for (at, column) in block.clone().enumerate() {
                if table.struck.contains(&(row, column)) {
                    all.struck.insert((to, at));
                }
                if let Some(words) = table.struck_words.get(&(row, column)) {
                    all.struck_words.insert((to, at), words.clone());
                }
            }
        }
    }
    for row in last + 1..table.rows.len() {
        stands(row, &whole, all.rows.len() + row - last - 1);
    }
    all.rows.extend(table.rows.iter().skip(last + 1).cloned());
    // Of what was put elsewhere before, nobody knows the places any more.
    all.origin = table.origin.is_none().then(|| Arc::new(origin));
    all.done.push(format!("of the file, {}", places.join(", ")));
    Some(all)
}

#[cfg(test)]
mod tests {
    use super::super::read_text;
    use super::super::recipe::{RecipeSettings, propose};
    use super::super::sections::sections;
    use crate::naming::Resolver;
    use crate::shelf::built_in;

    fn check(text: &str, expected: &[(&str, &str, i64)]) {
        let resolver = Resolver::new(built_in());
        let found = sections(&read_text(text).unwrap());
        assert_eq!(found.len(), 1, "{text}");
        let proposal = propose(
            &found[0].table,
            "Test",
            &RecipeSettings::default(),
            &resolver,
        )
        .unwrap();
        let accepted = proposal.accept(&resolver).unwrap();
        let variant = accepted.formula.active();
        let got: Vec<(String, String, f64)> = variant
            .lines()
            .map(|(phase, line)| {
                let name = &accepted.formula.materials[&line.material].name;
                (
                    phase.letter.to_string(),
                    name.to_string(),
                    line.percent.as_percent(),
                )
            })
            .collect();
        assert_eq!(got.len(), expected.len(), "{text}\n{got:?}");
        for ((letter, name, percent), (l, n, p)) in got.iter().zip(expected) {
            assert!(
                letter == l && name.starts_with(n) && (percent - *p as f64).abs() < 0.01,
                "{text}\n{got:?}"
            );
        }
        let told = proposal.notes.join("\n");
        assert!(told.contains("phase"), "{told}");
    }

    const LINES: &[(&str, &str, i64)] = &[
        ("A", "Water", 65),
        ("A", "Glycerin", 5),
        ("B", "Olive oil", 20),
        ("B", "Cetyl alcohol", 5),
        ("C", "Phenoxyethanol", 5),
    ];

    #[test]
    fn percentages_of_phases_may_stand_beside_the_names() {
        let text = "Veen melk\n\nWaterfase: 74 % van het geheel\n  water 95 %\n  glycerine 5 %\nOliefase: 26 % van het geheel\n  olijfolie 80 %\n  sheaboter 20 %\n";
        let table = read_text(text).unwrap().remove(0);
        let all = super::of_titled_phases(&table).unwrap();
        let rows: Vec<String> = (0..all.rows.len()).map(|row| all.row_text(row)).collect();
        assert!(rows.contains(&"Waterfase".to_owned()), "{rows:?}");
        assert!(rows.contains(&"water 70.3 %".to_owned()), "{rows:?}");
        assert!(rows.contains(&"sheaboter 5.2 %".to_owned()), "{rows:?}");
    }

    #[test]
    fn a_column_of_amounts_for_each_phase() {
        for headings in [
            "Ingredient,Phase A %,Phase B %,Phase C %",
            "Ingredient,A,B,C",
            "Ingredient,Phase A (g),Phase B (g),Phase C (g)",
        ] {
            for total in ["", "Total,70,25,5\n"] {
                check(
                    &format!(
                        "{headings}\nWater,65,,\nGlycerin,5,,\nOlive oil,,20,\nCetyl alcohol,,5,\nPhenoxyethanol,,,5\n{total}"
                    ),
                    LINES,
                );
            }
        }
    }

    #[test]
    fn percentages_of_phases_are_reckoned_to_those_of_the_recipe() {
        check(
            "Cream,,,\nPhase,of the recipe,Ingredient,in the phase\nA,70 %,Water,92.857143\nA,,Glycerin,7.142857\nB,25 %,Olive oil,80\nB,,Cetyl alcohol,20\nC,5 %,Phenoxyethanol,100\n",
            LINES,
        );
    }

    #[test]
    fn shares_in_titles_of_phases_are_reckoned_with() {
        check(
            "Cream;\nWater phase = 70 % of the cream;\nWater;92,857143\nGlycerin;7,142857\n;100\nOil phase = 25 %;\nOlive oil;80\nCetyl alcohol;20\n;100\nCool-down phase: 5 %;\nPhenoxyethanol;100\n",
            LINES,
        );
    }

    #[test]
    fn phases_beside_each_other_are_one_recipe() {
        check(
            "Phase A,%,Phase B,%,Phase C,%\nWater,65,Olive oil,20,Phenoxyethanol,5\nGlycerin,5,Cetyl alcohol,5,,\n",
            LINES,
        );
        check(
            "Day cream,,,,,\n,,,,,\nWater phase,g,Oil phase,g,Cool down,g\nWater,325,Olive oil,100,Phenoxyethanol,25\nGlycerin,25,Cetyl alcohol,25,,\n",
            LINES,
        );
    }

    #[test]
    fn a_list_that_goes_on_in_the_next_columns_is_one() {
        let text = "No,Ingredient,%,No,Ingredient,%\n1,Water,65,4,Cetyl alcohol,5\n2,Glycerin,5,5,Phenoxyethanol,5\n3,Olive oil,20,,,\n";
        let found = sections(&read_text(text).unwrap());
        assert_eq!(found.len(), 1);
        let resolver = Resolver::new(built_in());
        let proposal = propose(
            &found[0].table,
            "Test",
            &RecipeSettings::default(),
            &resolver,
        )
        .unwrap();
        let names: Vec<&str> = proposal
            .lines
            .iter()
            .map(|l| l.wanted.name.as_str())
            .collect();
        let expected = [
            "Water",
            "Glycerin",
            "Olive oil",
            "Cetyl alcohol",
            "Phenoxyethanol",
        ];
        assert_eq!(names, expected);
        let told = proposal.notes.join("\n");
        assert!(told.contains("goes on beside itself"), "{told}");
        // Each line knows where it stands in the file.
        let origin = found[0].table.origin.as_ref().unwrap();
        let stands = |line: usize| origin.cells_of(proposal.lines[line].row - 1).unwrap();
        assert_eq!(stands(0), ("A2".to_owned(), "C2".to_owned()));
        assert_eq!(stands(3), ("D2".to_owned(), "F2".to_owned()));
        for ((row, column), (to, at)) in &origin.places {
            let (from, to) = (
                origin.table.cell(*row, *column),
                found[0].table.cell(*to, *at),
            );
            // The headings of the second list are those of the first.
            assert_eq!(from, to);
        }
        // Two that are whole are two.
        let two = "Ingredient,%,Ingredient,%\nWater,95,Water,90\nGlycerin,5,Olive oil,10\n";
        assert_eq!(sections(&read_text(two).unwrap()).len(), 2);
    }

    /// Versions that are called by letters are not phases.
    #[test]
    fn columns_that_go_by_letters_are_not_phases_for_that() {
        let found = sections(&read_text("Ingredient,A,B\nWater,95,90\nGlycerin,5,10\n").unwrap());
        assert!(found.iter().all(|s| s.table.done.is_empty()));
    }
}
