//! Recipes below each other on one sheet, under headings of their own or ended by totals.

use rust_decimal::Decimal;

use super::whole::{is_exactly_whole, is_whole, whole};
use crate::file::table::choose::{TakenFor, weigh};
use crate::file::table::columns::{self, ColumnKind, Layout, is_size};
use crate::file::table::phase_words::phase_heading;
use crate::file::table::weighing::lists::{self, Reading as Next};
use crate::file::table::words::{begins_method, is_fact, is_property, is_sentence};
use crate::file::table::{Cell, Table, sums};
use crate::naming::{fold, is_known_name};

/// Recipes below each other, each below headings of its own, or one of several lists; `None` where
/// the headings do not come again.
pub(super) fn below_headings(
    table: &Table,
    weighing: &TakenFor,
    headings: usize,
) -> Option<Vec<(String, Table)>> {
    let layout = &weighing.layout;
    let mut starts: Vec<usize> = vec![headings];
    let below = headings + 1..table.rows.len();
    starts.extend(below.filter(|&row| layout.is_repeated_in(table, row)));
    if starts.len() < 2 {
        return None;
    }
    let heads: Vec<usize> = starts.iter().map(|&start| head_of(table, start)).collect();
    let lists: Vec<Listed> = starts
        .iter()
        .zip(&heads)
        .enumerate()
        .map(|(n, (&start, &from))| {
            let end = heads.get(n + 1).copied().unwrap_or(table.rows.len());
            Listed::of(table, layout, from..end, start)
        })
        .collect();
    let (groups, close) = recipes_of(&lists);
    let mut table = table.clone();
    table.said.extend(doubts_of(&lists, &close));
    if groups.len() < 2 {
        return Some(vec![(table.name.clone(), table)]);
    }
    Some(parted(&table, &lists, &groups))
}

/// Where it was a near thing whether a list goes on with the recipe above it, in words.
fn doubts_of(lists: &[Listed], close: &[(usize, Next)]) -> Vec<String> {
    let told = close
        .iter()
        .filter_map(|(n, other)| {
            let row = lists.get(*n)?.heading + 1;
            Some(match other {
                Next::Another => format!(
                    "the list below the headings in row {row} was taken as part of the recipe above it; it may be another"
                ),
                Next::GoesOn => format!(
                    "the list below the headings in row {row} was taken as another recipe; it may be part of the one above it"
                ),
            })
        });
    told.collect()
}

/// The groups of lists that are recipes, each with its title and everything else masked.
fn parted(
    table: &Table,
    lists: &[Listed],
    groups: &[std::ops::Range<usize>],
) -> Vec<(String, Table)> {
    let from = |group: &std::ops::Range<usize>| lists.get(group.start).map_or(0, |l| l.from);
    groups
        .iter()
        .enumerate()
        .map(|(n, group)| {
            let first = if n == 0 { 0 } else { from(group) };
            let end = groups.get(n + 1).map_or(table.rows.len(), from);
            let heading = lists.get(group.start).map_or(0, |l| l.heading);
            let title = (first..heading)
                .find_map(|row| {
                    let cells = table.rows.get(row)?;
                    cells.iter().map(Cell::words).find(|w| !w.is_empty())
                })
                .unwrap_or_else(|| format!("list {}", n + 1));
            (
                title,
                table.masked(|row| (first..end).contains(&row), |_| true),
            )
        })
        .collect()
}

/// A list below headings of its own.
struct Listed {
    /// The row of its headings.
    heading: usize,
    /// The first of the rows of text right above them.
    from: usize,
    /// The letter of the phase that these rows begin.
    phase: Option<String>,
    /// Some of these rows is a title and begins no phase.
    titled: bool,
    /// Sum of its percentages, and whether a q.s. is among them; none in grams.
    whole: Option<(Decimal, bool)>,
    /// A total ends it.
    total: bool,
    /// What the first cell of its column of phases says.
    first_phase: Option<String>,
    /// The sizes of batches that its headings state.
    sizes: Vec<String>,
    /// Its materials.
    names: std::collections::BTreeSet<String>,
}

impl Listed {
    fn of(table: &Table, layout: &Layout, rows: std::ops::Range<usize>, heading: usize) -> Self {
        let (from, end) = (rows.start, rows.end.max(heading + 1));
        let above: Vec<String> = (from..heading)
            .map(|row| table.row_text(row))
            .filter(|text| !text.is_empty())
            .collect();
        let phases = above.iter().filter_map(|text| phase_heading(text));
        // Headings of its own may be in another order.
        let moved = (0..table.width()).any(|column| {
            let kind = |row: Option<usize>| match table.cell(row?, column) {
                Cell::Text(text) => columns::heading(text).map(|c| c.kind),
                _ => None,
            };
            let (one, other) = (kind(layout.headings), kind(Some(heading)));
            one.is_some() && other.is_some() && one != other
        });
        let own = moved
            .then(|| weigh(&table.masked(|row| (heading..end).contains(&row), |_| true)))
            .flatten();
        let layout = own.as_ref().map_or(layout, |w| &w.layout);
        let names = layout
            .place(ColumnKind::Name)
            .or(layout.place(ColumnKind::Inci));
        let in_percent = layout.place(ColumnKind::Percent).is_some();
        Self {
            heading,
            from,
            phase: phases.map(|p| p.letter).next(),
            titled: above.iter().any(|text| phase_heading(text).is_none()),
            whole: in_percent.then(|| whole(table, layout, heading + 1..end)),
            total: (heading + 1..end).any(|row| sums::sum_of(table, row) == Some(sums::Sum::Whole)),
            first_phase: layout.place(ColumnKind::Phase).and_then(|column| {
                let mut cells = (heading + 1..end).map(|row| table.cell(row, column).words());
                cells.find(|words| !words.is_empty())
            }),
            sizes: (0..table.width())
                .map(|column| table.cell(heading, column).words())
                .filter(|words| is_size(words))
                .collect(),
            names: (heading + 1..end)
                // What is said between the lines is no material.
                .filter(|&row| {
                    let amounts =
                        [ColumnKind::Percent, ColumnKind::Amount].map(|kind| layout.place(kind));
                    let mut amounts = amounts.into_iter().flatten();
                    amounts.any(|column| !table.cell(row, column).is_empty())
                })
                .filter_map(|row| Some(fold::plain(&table.cell(row, names?).words())))
                .filter(|name| !name.is_empty())
                .collect(),
        }
    }

    /// Whether it goes on with the recipe of another one: it begins a later phase.
    fn goes_on(&self, first: &Self) -> bool {
        match (&self.phase, &first.phase) {
            (Some(own), Some(first)) => own.is_empty() || own != first,
            (Some(_), None) => true,
            _ => false,
        }
    }
}

/// The first row of the text that belongs to the headings of a list: right above them, or
/// above a blank row where that is a phase or a title with its facts.
fn head_of(table: &Table, heading: usize) -> usize {
    let alone = |row: usize| {
        let cells = table.rows.get(row).into_iter().flatten();
        cells.filter(|c| !c.is_empty()).count() == 1
    };
    let up = |mut from: usize| {
        while from > 0 && (alone(from - 1) || is_fact(table, from - 1)) {
            from -= 1;
        }
        from
    };
    let mut from = up(heading);
    let above = (0..heading).rev().find(|&r| !table.row_text(r).is_empty());
    if let Some(above) = above.filter(|_| from == heading)
        && alone(above)
        && phase_heading(&table.row_text(above)).is_some()
    {
        from = up(above);
    }
    head_above(table, from).unwrap_or(from)
}

/// The first row of what stands above a blank row, if it heads what follows: a title, and
/// facts none of which has the name of a material.
fn head_above(table: &Table, row: usize) -> Option<usize> {
    let text = |row: usize| table.row_text(row);
    let last = (0..row).rev().find(|&r| !text(r).is_empty())?;
    let first = (0..=last)
        .rev()
        .take_while(|&r| !text(r).is_empty())
        .last()?;
    let title = text(first);
    let is_title = title.chars().any(char::is_alphabetic)
        && title.chars().count() <= 60
        && !is_sentence(&title)
        && !begins_method(&title)
        && !is_property(&title)
        && sums::sum_of(table, first).is_none();
    // Rows of a list are neither title nor fact; beside facts that are known two cells are one.
    let facts = (first..=last).any(|row| is_fact(table, row));
    let is_list = (first..=last).any(|row| {
        let cells = table.rows.get(row).into_iter().flatten();
        match cells.filter(|c| !c.is_empty()).count() {
            0 | 1 => false,
            2 => !facts,
            _ => true,
        }
    });
    let has_names = (first..=last).any(|row| {
        let cells = table.rows.get(row).into_iter().flatten();
        let mut words = cells.filter_map(|cell| match cell {
            Cell::Text(text) => Some(text),
            _ => None,
        });
        words.any(|text| is_known_name(text)) || phase_heading(&text(row)).is_some()
    });
    (last + 1 < row && is_title && !is_list && !has_names).then_some(first)
}

/// Which lists below each other are recipes, alone or with those that follow, and where that
/// was a near thing: the list, and what it was not taken for.
fn recipes_of(lists: &[Listed]) -> (Vec<std::ops::Range<usize>>, Vec<(usize, Next)>) {
    let mut groups: Vec<std::ops::Range<usize>> = Vec::new();
    let mut close = Vec::new();
    let (mut from, mut sum, mut filled) = (0, Decimal::ZERO, false);
    for (n, list) in lists.iter().enumerate() {
        let Some(first) = lists.get(from) else {
            break;
        };
        if let Some((total, filler)) = list.whole {
            sum += total;
            filled |= filler;
        }
        let in_percent = list.whole.is_some();
        let closes = match lists.get(n + 1) {
            Some(next) => {
                let verdict = lists::weigh(&lists::Seen {
                    in_percent,
                    exactly_whole: in_percent && is_exactly_whole(sum),
                    roughly_whole: in_percent && is_whole((sum, false)),
                    filled,
                    totalled: list.total,
                    later_phase: next.goes_on(first),
                    titled: next.titled,
                    same_material: next.names.intersection(&first.names).next().is_some(),
                    phases_anew: next.first_phase.is_some()
                        && next.first_phase == first.first_phase,
                    other_size: !next.sizes.is_empty() && next.sizes != list.sizes,
                });
                close.extend(verdict.close.map(|other| (n + 1, other)));
                verdict.best == Next::Another
            }
            None => !in_percent || is_whole((sum, filled)),
        };
        if closes {
            groups.push(from..n + 1);
            (from, sum, filled) = (n + 1, Decimal::ZERO, false);
        }
    }
    // What is left over belongs to no whole and stands by itself.
    if groups.len() > 1 {
        groups.extend((from..lists.len()).map(|n| n..n + 1));
    }
    (groups, close)
}

/// Recipes below each other under one row of headings, each ended by its total.
pub(super) fn below_totals(table: &Table, weighing: &TakenFor) -> Option<Vec<(String, Table)>> {
    let headings = weighing.layout.headings?;
    let mut ends: Vec<usize> = Vec::new();
    let mut from = weighing.layout.first_row();
    for row in weighing.layout.first_row()..table.rows.len() {
        let total = sums::sum_of(table, row) == Some(sums::Sum::Whole);
        if total && is_whole(whole(table, &weighing.layout, from..row)) {
            ends.push(row + 1);
            from = row + 1;
        }
    }
    // What stands below the last total is no recipe of its own.
    if ends.len() < 2
        || whole(table, &weighing.layout, from..table.rows.len()) != (Decimal::ZERO, false)
    {
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
