//! Which recipes a file holds: one or several on a sheet, one on each of several sheets,
//! versions beside each other, one recipe in several tables of a page.

use rust_decimal::Decimal;

use super::amounts::{self, Written};
use super::beside;
use super::columns::{Kind, Layout, Weighing, weigh};
use super::ditto;
use super::phase_words::phase_heading;
use super::prose::is_sentence;
use super::weighing::columns::is_size;
use super::weighing::lists::{self, Reading as Next};
use super::weighing::sides::{self, Reading as Side};
use super::words::{begins_method, is_property, words};
use super::{Cell, Shown, Table, sums};
use crate::file::product_head;
use crate::naming::qs::is_qs;
use crate::naming::{fold, is_known_name, words_of};

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

/// What a file holds.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Found {
    /// Its recipes, in order.
    pub sections: Vec<Section>,
    /// The places of tables that are seen and hold no recipe.
    pub without: Vec<usize>,
}

/// The recipes of a file, in order; none if no table has names and amounts.
pub fn sections(tables: &[Table]) -> Vec<Section> {
    found_in(tables).sections
}

/// The recipes of a file, and the tables that hold none.
pub fn found_in(all: &[Table]) -> Found {
    let joined = joined(all);
    let tables = joined
        .as_ref()
        .map_or(all, |(joined, _)| std::slice::from_ref(joined));
    let mut found = Vec::new();
    let mut without = joined
        .as_ref()
        .map_or_else(Vec::new, |(_, without)| without.clone());
    for (place, table) in tables.iter().enumerate() {
        if table.hidden || is_constituents(table) {
            continue;
        }
        let before = found.len();
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
                assign_amounts_beside(&part, column, &mut layout);
                layout.assign_version(column);
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
                && let Some(at) = weighing.layout.measure()
            {
                let count = weighing.versions.len();
                let place = found.len().saturating_sub(count + 1);
                if let Some(first) = found.get_mut(place) {
                    first.name = weighing.layout.heading(&part, at);
                }
            }
        }
        if found.len() == before && !table.is_empty() {
            without.push(place);
        }
    }
    Found {
        sections: found,
        without,
    }
}

/// Takes the amounts that stand beside the percentages of a version as they do beside those of
/// the first, under the same heading.
fn assign_amounts_beside(table: &Table, version: usize, layout: &mut Layout) {
    let (Some(percent), Some(amount)) = (layout.place(Kind::Percent), layout.place(Kind::Amount))
    else {
        return;
    };
    let Some(column) = (version + amount).checked_sub(percent) else {
        return;
    };
    let heading = layout.heading(table, amount);
    if column != amount && !heading.is_empty() && layout.heading(table, column) == heading {
        layout.assign(column, Some(Kind::Amount));
    }
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
    layout: &Layout,
    rows: std::ops::Range<usize>,
) -> (Decimal, bool) {
    let Some(column) = layout.place(Kind::Percent) else {
        return (Decimal::ZERO, false);
    };
    let names = layout.place(Kind::Name).or(layout.place(Kind::Inci));
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
    let near = |whole: Decimal| (total - whole).abs() <= whole / Decimal::ONE_HUNDRED;
    // As percentages, or as fractions of 1.
    filler || near(Decimal::ONE_HUNDRED) || near(Decimal::ONE)
}

/// Whether a sum is the whole but for what rounding leaves: such a list stands by itself,
/// whatever is above the next.
fn is_exactly_whole(total: Decimal) -> bool {
    let near = |whole: Decimal| (total - whole).abs() <= whole * Decimal::new(11, 4);
    near(Decimal::ONE_HUNDRED) || near(Decimal::ONE)
}

/// One table of several that follow each other without names, as on a page, if each has
/// the same headings and only together they make a whole recipe; and the places of tables that
/// are no part of it.
fn joined(tables: &[Table]) -> Option<(Table, Vec<usize>)> {
    if tables.len() < 2 || tables.iter().any(|t| !t.name.is_empty()) {
        return None;
    }
    let measured = |t| {
        weigh(t).filter(|w| {
            let has = |kind| w.layout.place(kind).is_some();
            has(Kind::Percent) || has(Kind::Amount)
        })
    };
    let mut weighed: Vec<(&Table, Weighing)> = Vec::new();
    let mut without = Vec::new();
    for (place, table) in tables.iter().enumerate() {
        match measured(table) {
            Some(weighing) => weighed.push((table, weighing)),
            None if table.is_empty() => {}
            None => without.push(place),
        }
    }
    // What else stands beside them may be headed otherwise in each.
    let kinds = |w: &Weighing| {
        [Kind::Name, Kind::Inci, Kind::Percent, Kind::Amount].map(|kind| w.layout.place(kind))
    };
    let (_, first) = weighed.first()?;
    let wholes = weighed
        .iter()
        .filter(|(t, w)| is_whole(whole(t, &w.layout, 0..t.rows.len())))
        .count();
    let alike = weighed.len() > 1 && weighed.iter().all(|(_, w)| kinds(w) == kinds(first));
    let total: Decimal = weighed
        .iter()
        .map(|(t, w)| whole(t, &w.layout, w.layout.first_row()..t.rows.len()).0)
        .sum();
    let filler = weighed
        .iter()
        .any(|(t, w)| whole(t, &w.layout, 0..t.rows.len()).1);
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
        filler && total < Decimal::ONE_HUNDRED
            || is_whole((total, false))
            // The phases of several recipes, which are told apart below each other.
            || phases
    };
    if !alike || !together || wholes > 1 && !(phases && wholes < weighed.len()) {
        return None;
    }
    let mut all = Table::default();
    for (table, _) in weighed {
        let first = all.rows.len();
        let struck = table
            .struck
            .iter()
            .map(|(row, column)| (row + first, *column));
        all.struck.extend(struck);
        let words = table.struck_words.iter();
        all.struck_words
            .extend(words.map(|((row, column), words)| ((row + first, *column), words.clone())));
        let left_out = table.left_out.iter().map(|(row, why)| (row + first, *why));
        all.left_out.extend(left_out);
        all.formulas += table.formulas;
        all.rows.extend(table.rows.iter().cloned());
        // A blank row between, so that each keeps its own headings apart.
        all.rows.push(Vec::new());
    }
    Some((all, without))
}

/// The recipes of one sheet: below each other with headings of their own, each a whole,
/// or beside each other.
fn parts(table: &Table) -> Vec<(String, Table)> {
    let repeated = ditto::filled(table);
    let table = repeated.as_ref().unwrap_or(table);
    let in_rows = beside::in_rows(table)
        .or_else(|| beside::of_phases(table))
        .or_else(|| beside::of_titled_phases(table));
    let table = in_rows.as_ref().unwrap_or(table);
    let whole_table = || vec![(table.name.clone(), table.clone())];
    if sides::weigh(sides_seen(table)).best == Side::Columns {
        let turned = turned(table);
        if !turned.is_empty() {
            return turned;
        }
    }
    let Some(weighing) = weigh(table) else {
        return turned(table);
    };
    let Some(headings) = weighing.layout.headings else {
        let amounts = [Kind::Percent, Kind::Amount].map(|kind| weighing.layout.place(kind));
        let titled = (amounts == [None, None])
            .then(|| below_titles(table))
            .flatten();
        return titled.unwrap_or_else(whole_table);
    };
    if let Some(beside) = beside_each_other(table, headings) {
        // Below each of them others may stand, as cards in a grid.
        let below = |(name, part): (String, Table)| {
            let lists = if part.done.len() > table.done.len() {
                Vec::new()
            } else {
                parts(&part)
            };
            if lists.len() > 1 {
                lists
            } else {
                vec![(name, part)]
            }
        };
        let mut lists: Vec<(String, Table)> = beside.into_iter().flat_map(below).collect();
        // From the top, and those that begin in the same row from the left.
        lists.sort_by_key(|(_, part)| {
            let filled = |cells: &Vec<Cell>| cells.iter().any(|cell| !cell.is_empty());
            part.rows.iter().position(filled)
        });
        return lists;
    }
    let mut starts: Vec<usize> = vec![headings];
    starts.extend(
        (headings + 1..table.rows.len()).filter(|&row| weighing.layout.is_repeated_in(table, row)),
    );
    if starts.len() < 2 {
        return below_totals(table, &weighing).unwrap_or_else(whole_table);
    }
    let heads: Vec<usize> = starts.iter().map(|&start| head_of(table, start)).collect();
    let lists: Vec<Listed> = starts
        .iter()
        .zip(&heads)
        .enumerate()
        .map(|(n, (&start, &from))| {
            let end = heads.get(n + 1).copied().unwrap_or(table.rows.len());
            Listed::of(table, &weighing.layout, from..end, start)
        })
        .collect();
    let (groups, close) = recipes_of(&lists);
    let mut table = table.clone();
    let doubts = close
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
    table.said.extend(doubts);
    let table = &table;
    if groups.len() < 2 {
        return vec![(table.name.clone(), table.clone())];
    }
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
                Cell::Text(text) => super::columns::heading(text).map(|c| c.kind),
                _ => None,
            };
            let (one, other) = (kind(layout.headings), kind(Some(heading)));
            one.is_some() && other.is_some() && one != other
        });
        let own = moved
            .then(|| weigh(&table.masked(|row| (heading..end).contains(&row), |_| true)))
            .flatten();
        let layout = own.as_ref().map_or(layout, |w| &w.layout);
        let names = layout.place(Kind::Name).or(layout.place(Kind::Inci));
        let in_percent = layout.place(Kind::Percent).is_some();
        Self {
            heading,
            from,
            phase: phases.map(|p| p.letter).next(),
            titled: above.iter().any(|text| phase_heading(text).is_none()),
            whole: in_percent.then(|| whole(table, layout, heading + 1..end)),
            total: (heading + 1..end).any(|row| sums::sum_of(table, row) == Some(sums::Sum::Whole)),
            first_phase: layout.place(Kind::Phase).and_then(|column| {
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
                    let amounts = [Kind::Percent, Kind::Amount].map(|kind| layout.place(kind));
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

/// Whether a row says in two cells what the product is or how much is made: "Makes", "1 kg".
pub(super) fn is_fact(table: &Table, row: usize) -> bool {
    let cells = table.rows.get(row).into_iter().flatten();
    let mut filled = cells.filter(|c| !c.is_empty());
    let (Some(first), Some(_), None) = (filled.next(), filled.next(), filled.next()) else {
        return false;
    };
    let key = first.words();
    let folded = words_of(&key).join(" ");
    is_property(&key) || product_head::is_key(&key) || words().batch.contains(&folded)
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

/// What is seen of the sides on which materials and their headings stand.
fn sides_seen(table: &Table) -> sides::Seen {
    /// A recipe that stands in columns has no more rows than there are things said of each
    /// material.
    const MOST_ROWS: usize = 40;
    let rows = table.rows.len();
    if !(2..=MOST_ROWS).contains(&rows) {
        return sides::Seen::default();
    }
    let is_name = |row: usize, column: usize| matches!(table.cell(row, column), Cell::Text(text) if is_known_name(text));
    let names_of = |row: usize| (0..table.width()).filter(move |&c| is_name(row, c));
    let across = (0..rows).map(|row| names_of(row).count());
    // What stands below the row of most names.
    let below_names = (0..rows)
        .max_by_key(|row| (names_of(*row).count(), std::cmp::Reverse(*row)))
        .is_some_and(|row| {
            /// Fewer may be names with their INCI names.
            const ENOUGH: usize = 3;
            let is_number = |cell: &Cell| match cell {
                Cell::Number { .. } | Cell::Empty => true,
                Cell::Text(text) => amounts::read(text, None, None).is_ok(),
                _ => false,
            };
            let columns: Vec<usize> = names_of(row).collect();
            let cells = || {
                let below = row + 1..rows;
                below.flat_map(|r| columns.iter().map(move |c| table.cell(r, *c)))
            };
            let filled = cells().filter(|cell| !cell.is_empty()).count();
            columns.len() >= ENOUGH && filled >= columns.len() && cells().all(is_number)
        });
    let down = (0..table.width()).map(|c| (0..rows).filter(|&row| is_name(row, c)).count());
    let (across, down) = (across.max().unwrap_or(0), down.max().unwrap_or(0));
    let heads = |cells: &mut dyn Iterator<Item = &Cell>| {
        let kinds: Vec<Kind> = cells
            .filter_map(|cell| match cell {
                Cell::Text(text) => super::columns::read_heading(text).filter(|h| h.whole),
                _ => None,
            })
            .map(|h| h.column.kind)
            .collect();
        let has = |all: &[Kind]| kinds.iter().any(|kind| all.contains(kind));
        has(&[Kind::Name, Kind::Inci, Kind::Trade]) && has(&[Kind::Percent, Kind::Amount])
    };
    sides::Seen {
        headings_across: (0..rows)
            .any(|row| heads(&mut (0..table.width()).map(|c| table.cell(row, c)))),
        headings_down: (0..table.width().min(3))
            .any(|c| heads(&mut (0..rows).map(|row| table.cell(row, c)))),
        names_across: across > 1 && across > down,
        names_down: down > 1 && down > across,
        amounts_below: below_names && down < 2,
    }
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

/// Recipes of a text below titles of their own: each is a whole in percent, or its title states
/// the size that its amounts add up to.
fn below_titles(table: &Table) -> Option<Vec<(String, Table)>> {
    let lines = |row: usize| super::items::items(&table.row_text(row), None, false).lines;
    let end = table.rows.len();
    let is_title = |row: usize| {
        let text = table.row_text(row);
        let words = text.trim_start_matches('#').trim();
        let begins = row == 0 || text.starts_with('#') || table.row_text(row - 1).is_empty();
        let next = (row + 1..end).find(|&r| !table.row_text(r).is_empty());
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
    let named = blocks.into_iter().map(|block| {
        let title = table.row_text(block.rows.start);
        let title = title.trim_start_matches('#').trim().to_owned();
        let part = table.masked(|row| block.rows.contains(&row), |_| true);
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
            sizes: super::recipe::masses_in(&table.row_text(rows.start)),
            names: Vec::new(),
            rows: rows.clone(),
        };
        let lines = |row: usize| super::items::items(&table.row_text(row), None, false).lines;
        for item in rows.skip(1).flat_map(lines) {
            match item.reading.written {
                Written::Percent(value) => list.percent += value,
                Written::Grams(value) => list.grams += value,
                Written::Qs(_) => list.filled = true,
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

/// Recipes below each other under one row of headings, each ended by its total.
fn below_totals(table: &Table, weighing: &Weighing) -> Option<Vec<(String, Table)>> {
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

/// Two lists side by side have two columns of names with numbers right of each.
fn beside_each_other(table: &Table, headings: usize) -> Option<Vec<(String, Table)>> {
    let kind = |column: usize| match table.cell(headings, column) {
        Cell::Text(text) => super::columns::heading(text).map(|c| c.kind),
        _ => None,
    };
    let of = |wanted: Kind| -> Vec<usize> {
        (0..table.width())
            .filter(|&c| kind(c) == Some(wanted))
            .collect()
    };
    let mut names = of(Kind::Name);
    if names.is_empty() {
        names = of(Kind::Inci);
    }
    if let Some(blocks) = parted_by_empty_columns(table, headings, &kind) {
        return Some(blocks);
    }
    if names.len() < 2 {
        return None;
    }
    let heading = |column: usize| table.cell(headings, column).words();
    let first = names.first().copied().unwrap_or(0);
    // Each begins at its names, or at what stands left of them: phases and numbers, and whatever
    // is headed as it is left of the names of the first list.
    let starts: Vec<usize> = names
        .iter()
        .enumerate()
        .map(|(n, &name)| {
            if n == 0 {
                return 0;
            }
            let shift = name - first;
            let alike = (shift..name)
                .rev()
                .take_while(|&c| heading(c) == heading(c - shift))
                .filter(|&c| !heading(c).is_empty());
            let mut start = alike.last().unwrap_or(name);
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
    let blocks: Vec<std::ops::Range<usize>> = (0..names.len()).map(range).collect();
    if let Some(one) = goes_on_beside(table, headings, &blocks) {
        return Some(vec![(table.name.clone(), one)]);
    }
    let named = blocks.into_iter().enumerate().map(|(n, columns)| {
        let title = (0..headings)
            .rev()
            .flat_map(|row| columns.clone().map(move |c| table.cell(row, c).words()))
            .find(|w| !w.is_empty())
            .unwrap_or_else(|| format!("list {}", n + 1));
        (title, table.masked(|_| true, |c| columns.contains(&c)))
    });
    Some(named.collect())
}

/// One list that goes on in the next columns: none of its parts is a whole, and together they
/// are exactly that.
fn goes_on_beside(
    table: &Table,
    headings: usize,
    blocks: &[std::ops::Range<usize>],
) -> Option<Table> {
    let mut all = Decimal::ZERO;
    let mut filled = false;
    for block in blocks {
        let part = table.masked(|_| true, |c| block.contains(&c));
        let weighing = weigh(&part)?;
        weighing.layout.place(Kind::Percent)?;
        let (mut sum, filler) = whole(&part, &weighing.layout, headings + 1..part.rows.len());
        // A sum of both, whatever it is called, ends the last of them.
        let last = last_amount(&part, &weighing.layout, headings + 1);
        if let Some(last) = last.filter(|last| is_exactly_whole(*last) && !all.is_zero())
            && is_exactly_whole(all + sum - last)
        {
            sum -= last;
        }
        if filler && filled || is_exactly_whole(sum) {
            return None;
        }
        filled |= filler;
        all += sum;
    }
    // A q.s. fills up both lists where the second has none.
    if filled || !is_exactly_whole(all) {
        return None;
    }
    let parts: Vec<_> = blocks.iter().map(|block| (block.clone(), None)).collect();
    let mut one = beside::below_each_other(table, headings, &parts)?;
    one.done.push(
        "the list goes on beside itself, so its parts were put below each other; rows are counted so"
            .to_owned(),
    );
    Some(one)
}

/// The last percentage of a list, if no material that is known stands beside it.
fn last_amount(table: &Table, layout: &Layout, first: usize) -> Option<Decimal> {
    let names = layout.place(Kind::Name).or(layout.place(Kind::Inci))?;
    let column = layout.place(Kind::Percent)?;
    let row = (first..table.rows.len())
        .rev()
        .find(|&row| !table.cell(row, column).is_empty())?;
    let unknown = !is_known_name(&table.cell(row, names).words());
    let (value, _) = whole(table, layout, row..row + 1);
    unknown.then_some(value)
}

/// Whether a table has materials that are known and amounts of them, whatever its headings say.
fn is_list_by_itself(table: &Table) -> bool {
    let Some(layout) = weigh(table).map(|w| w.layout) else {
        return false;
    };
    let amounts = [Kind::Percent, Kind::Amount].map(|kind| layout.place(kind));
    let Some((names, amounts)) = layout
        .place(Kind::Name)
        .or(layout.place(Kind::Inci))
        .zip(amounts.into_iter().flatten().next())
    else {
        return false;
    };
    let is_line = |row: &usize| {
        !table.cell(*row, amounts).is_empty() && is_known_name(&table.cell(*row, names).words())
    };
    (0..table.rows.len()).filter(is_line).nth(1).is_some()
}

/// Lists side by side with empty columns between them, each with names and numbers.
fn parted_by_empty_columns(
    table: &Table,
    headings: usize,
    kind: &impl Fn(usize) -> Option<Kind>,
) -> Option<Vec<(String, Table)>> {
    let width = table.width();
    let is_empty =
        |column: usize| (headings..table.rows.len()).all(|row| table.cell(row, column).is_empty());
    let mut blocks: Vec<std::ops::Range<usize>> = Vec::new();
    let mut from = None;
    for column in 0..=width {
        let ends = column == width || is_empty(column);
        match from {
            Some(start) if ends => {
                blocks.push(start..column);
                from = None;
            }
            None if !ends => from = Some(column),
            _ => {}
        }
    }
    let is_list = |block: &std::ops::Range<usize>| {
        let has = |all: &[Kind]| {
            block
                .clone()
                .any(|c| kind(c).is_some_and(|k| all.contains(&k)))
        };
        has(&[Kind::Name, Kind::Inci]) && has(&[Kind::Percent, Kind::Amount])
            || is_list_by_itself(&table.masked(|_| true, |c| block.contains(&c)))
    };
    if blocks.len() < 2 || !blocks.iter().all(is_list) {
        return None;
    }
    if let Some(one) = goes_on_beside(table, headings, &blocks) {
        return Some(vec![(table.name.clone(), one)]);
    }
    // A title belongs to the block in or right before which it stands.
    let starts: Vec<usize> = blocks.iter().map(|b| b.start).collect();
    let named = blocks.iter().enumerate().map(|(n, block)| {
        let end = starts.get(n + 1).copied().unwrap_or(width);
        let title = (0..headings)
            .rev()
            .flat_map(|row| (block.start..end).map(move |c| table.cell(row, c).words()))
            .find(|w| !w.is_empty())
            .unwrap_or_else(|| format!("list {}", n + 1));
        let part = table.masked(|_| true, |c| (block.start..end).contains(&c));
        (title, part)
    });
    Some(named.collect())
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

    /// The second list has more headings that are known, and the first is no less a list.
    #[test]
    fn lists_headed_in_several_languages_are_both_read() {
        let text = "Fase;Item no.;Råvare;Active %;Procentdel;Bemærkning\nA;LM-1;Water;;95;\nB;LM-2;Glycerin;99;5;\n;;;;;\nFase;Code;Matéria-prima;Active %;Percentage;Note\nA;LM-1;Water;;90;\nB;LM-2;Olive oil;100;10;\n";
        assert_eq!(names(text).len(), 2);
    }

    /// "Version | 3" is a fact beside others, and all of them head the second list.
    #[test]
    fn facts_above_the_second_list_are_its_own() {
        let text = "One, 1500 g;;\nVersion;3;\npH;5.5;\n;;\nPhase;Ingredient;%\nA;Water;95\nA;Glycerin;5\n;Total;100\n;;\nTwo (500 g);;\nVersion;3;\npH;5.5;\n;;\nPhase;Ingredient;%\nA;Water;90\nA;Glycerin;10\n;Total;100\n";
        assert_eq!(names(text), ["One, 1500 g", "Two (500 g)"]);
    }

    #[test]
    fn cards_in_a_grid_are_recipes_of_their_own() {
        let text = "One;;;Two;\nIngredient;%;;Ingredient;%\nWater;95;;Water;90\nGlycerin;5;;Glycerin;10\n;;;;\nThree;;;Four;\nIngredient;%;;Ingredient;%\nOlive oil;80;;Olive oil;70\nBeeswax;20;;Beeswax;30\n";
        assert_eq!(names(text), ["One", "Two", "Three", "Four"]);
    }

    /// The second version says "dto." where it is as the first.
    #[test]
    fn versions_that_repeat_a_number_in_a_word_are_whole() {
        let text = "Salbe;Version 1 (%);Version 2 (%)\nBienenwachs;20;dto.\nOlivenöl;50;45\nKakaobutter;30;35\n";
        let found = sections(&read_text(text).unwrap());
        assert_eq!(found.len(), 2);
        assert!(found[0].table.said[0].contains("C2"));
        assert_eq!(found[1].table.cell(1, 2).words(), "20");
    }

    /// The size of the batch alone heads the amounts of the second list.
    #[test]
    fn lists_for_batches_of_other_sizes_are_recipes_of_their_own() {
        let two = |first: &str, second: &str| {
            format!(
                "One;\nIngredient;{first}\nWater;475\nGlycerin;25\n;\nTwo;\nIngredient;{second}\nWater;900\nOlive oil;100\n"
            )
        };
        for (first, second) in [
            ("500 g", "1000 g"),
            ("g / 500 g", "g / 1000 g"),
            ("Amount (g)", "1000 g"),
            ("g / 500 g", "1 kg"),
        ] {
            assert_eq!(
                names(&two(first, second)),
                ["One", "Two"],
                "{first} {second}"
            );
        }
        // Of the same size the second may go on with the first.
        let goes_on = "Phase A;\nIngredient;g / 500 g\nWater;350\nGlycerin;50\n;\nPhase B;\nIngredient;g / 500 g\nOlive oil;100\n";
        assert_eq!(names(goes_on), [""]);
    }

    #[test]
    fn lists_beside_each_other_keep_what_stands_left_of_their_names() {
        let text = "No;;Ingredient;;%;;No;;Ingredient;;%\n1;;Water;;95;;1;;Water;;90\n2;;Glycerin;;5;;2;;Olive oil;;10\n";
        let found = sections(&read_text(text).unwrap());
        assert_eq!(found.len(), 2);
        assert_eq!(found[1].table.cell(1, 6).words(), "1");
        assert!(found[0].table.cell(1, 6).is_empty());
    }

    #[test]
    fn tables_of_a_page_are_one_recipe_if_only_together_they_are_whole() {
        let page = "<h3>A</h3><table><tr><th>Ingredient<th>%<tr><td>Water<td>70</table><h3>B</h3><table><tr><th>Ingredient<th>%<tr><td>Oil<td>30</table>";
        assert_eq!(names(page).len(), 1);
        let two = "<table><tr><th>Ingredient<th>%<tr><td>Water<td>100</table><table><tr><th>Ingredient<th>%<tr><td>Oil<td>100</table>";
        assert_eq!(names(two).len(), 2);
    }
}
