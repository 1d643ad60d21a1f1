//! What a heading says, in the words of `assets/names/headings.ron`, and which row of a table
//! is that of the headings.

use rust_decimal::Decimal;

use super::{Column, ColumnKind, Layout, ROWS_FOR_CONTENT, ROWS_FOR_HEADINGS};
use crate::amount::number::{self, Unit};
use crate::file::table::amounts::WrittenAmount;
use crate::file::table::names::first_cas;
use crate::file::table::packs::{from_count, without_pack};
use crate::file::table::words::words;
use crate::file::table::{Cell, Shown, Table, amounts, phase_words};
use crate::naming::spelling::is_misspelt;
use crate::naming::{is_known_name, words_of};

/// What a heading means, and whether a letter had to be overlooked.
#[derive(Clone, Debug)]
pub(in crate::file::table) struct Heading {
    pub(in crate::file::table) column: Column,
    /// Words of the phrase that was found.
    pub(in crate::file::table) length: usize,
    pub(in crate::file::table) misspelt: bool,
    /// The phrase is all of the heading besides units.
    pub(in crate::file::table) whole: bool,
}

/// What a heading means.
pub fn heading(text: &str) -> Option<Column> {
    read_heading(text).map(|h| h.column)
}

/// What a heading means that is spelt as it should be.
pub(in crate::file::table) fn spelt_heading(text: &str) -> Option<Column> {
    read_spelt(text, false).map(|h| h.column)
}

pub(in crate::file::table) fn read_heading(text: &str) -> Option<Heading> {
    read_spelt(text, true)
}

pub(super) fn read_spelt(text: &str, misspelt_too: bool) -> Option<Heading> {
    let text = text.trim();
    if text.is_empty() || text.len() > 60 {
        return None;
    }
    // "Ph." is a phase, "pH" is none.
    if text.trim_end_matches([':', '.']) == "pH" {
        return None;
    }
    // "70 %" and "350 g" are amounts, not headings.
    if text.starts_with(|c: char| c.is_ascii_digit()) && number::amount(text, None).is_ok() {
        return None;
    }
    // "CAS 90063-86-8" is of a material.
    if text.contains('-') && matches!(first_cas(text), Ok(Some(_))) {
        return None;
    }
    // "ad 200 g" is what a line fills up to.
    if let Some((first, rest)) = text.split_once(' ')
        && words().fill_to.contains(&words_of(first).join(" "))
        && number::amount(rest, None).is_ok()
    {
        return None;
    }
    // Units stand between blanks, brackets or after a stroke; "%" may touch a word.
    let spaced = text.replace('%', " % ");
    let tokens: Vec<&str> = spaced
        .split(|c: char| c.is_whitespace() || "()[]/,;:'’".contains(c))
        .filter(|t| !t.is_empty())
        .collect();
    let unit = tokens.iter().find_map(|t| Unit::named(t));
    let folded = words_of(text);
    let found = phrase_in(&folded, misspelt_too);
    if unit == Some(Unit::Percent) && found.is_none() && is_strength(&tokens) {
        return None;
    }
    let kind = kind_of(found.map(|found| found.kind), unit, text, &folded)?;
    let length = found.map_or(1, |found| found.length);
    let others = folded
        .iter()
        .filter(|w| Unit::named(w).is_none() && w.chars().any(char::is_alphabetic))
        // "Anteil in %".
        .filter(|w| found.is_none() || w.len() < 2 || !words().joints.contains(*w))
        .count();
    Some(Heading {
        column: Column {
            kind,
            unit: unit.filter(|u| *u != Unit::Percent),
        },
        length,
        misspelt: found.is_some_and(|found| found.misspelt),
        whole: others <= length,
    })
}

/// Words of a heading that mean something.
#[derive(Clone, Copy)]
struct Phrase {
    /// How many words.
    length: usize,
    kind: ColumnKind,
    misspelt: bool,
}

/// Whether words tell a strength: "Betaine 38 %".
fn is_strength(words: &[&str]) -> bool {
    let is_number = |t: &str| {
        t.chars()
            .all(|c| c.is_ascii_digit() || matches!(c, '.' | ','))
    };
    words
        .windows(2)
        .any(|w| matches!(w, [number, "%"] if is_number(number)))
}

/// The words of a heading that say most of what it is.
fn phrase_in(folded: &[String], misspelt_too: bool) -> Option<Phrase> {
    let mut found: Option<Phrase> = None;
    let only_whole = |phrase: &[String]| {
        folded.len() > 1 && matches!(phrase, [word] if words().alone.contains(word))
    };
    for (phrase, kind) in (0..folded.len()).flat_map(|at| words().headings_at(folded, at)) {
        if only_whole(phrase) {
            continue;
        }
        let length = phrase.len();
        if found.is_none_or(|most| beats(length, kind, most.length, most.kind)) {
            found = Some(Phrase {
                length,
                kind,
                misspelt: false,
            });
        }
    }
    // "Lotnr.", "Chargenr.": the number of what another heading names.
    if let ([only], None) = (folded, found) {
        let mut numbered = words().number_endings.iter().filter_map(|end| {
            let stem = only
                .strip_suffix(end.as_str())
                .filter(|stem| stem.len() > 2)?;
            let of = |stem: &str| {
                let stem = [stem.to_owned()];
                let mut kinds = words().headings_at(&stem, 0).map(|(_, kind)| kind);
                kinds.find(|kind| {
                    matches!(
                        kind,
                        ColumnKind::Lot | ColumnKind::Code | ColumnKind::Cas | ColumnKind::Name
                    )
                })
            };
            // "Artikelnr." is that of the article, "Chargennr." has a link within.
            let kind = of(stem).or_else(|| of(stem.strip_suffix(['n', 's'])?))?;
            Some(if kind == ColumnKind::Name {
                ColumnKind::Code
            } else {
                kind
            })
        });
        found = numbered.next_back().map(|kind| Phrase {
            length: 1,
            kind,
            misspelt: false,
        });
    }
    // "per" alone: what a price beside it is for.
    if let [only] = folded
        && words().per.contains(only)
    {
        found = Some(Phrase {
            length: 1,
            kind: ColumnKind::Pack,
            misspelt: false,
        });
    }
    let length = found.map_or(0, |found| found.length);
    if misspelt_too && length < folded.len() && folded.len() <= 4 {
        // Misspelt, word by word: a phrase of more words than was found as it should be.
        let longer = words()
            .headings
            .iter()
            .take_while(|(phrase, _)| phrase.len() > length)
            .find(|(phrase, _)| {
                phrase.iter().any(|w| w.chars().count() >= 5)
                    && folded.windows(phrase.len()).any(|w| {
                        w.iter()
                            .zip(phrase)
                            .all(|(a, b)| a == b || is_misspelt(a, b))
                    })
            })
            .map(|(phrase, kind)| Phrase {
                length: phrase.len(),
                kind: *kind,
                misspelt: true,
            });
        found = longer.or(found);
    }
    found
}

/// What a heading is of whose words are of a kind, with a unit beside them.
fn kind_of(
    found: Option<ColumnKind>,
    unit: Option<Unit>,
    text: &str,
    folded: &[String],
) -> Option<ColumnKind> {
    Some(match (found, unit) {
        // "Amount %", "Menge in %", "%", "Use %".
        (
            Some(ColumnKind::Amount | ColumnKind::Percent | ColumnKind::Role) | None,
            Some(Unit::Percent),
        ) => ColumnKind::Percent,
        // "% in raw material", "% of formula".
        // "% of phase" adds up to 100 in each, and is none of the recipe's.
        (Some(ColumnKind::Phase), Some(Unit::Percent)) => ColumnKind::UseLevel,
        (Some(ColumnKind::Name), Some(Unit::Percent)) if text.starts_with(['%', '％']) => {
            ColumnKind::Percent
        }
        // "per kilo", "je kg" and nothing else is of a price; "g per kg" is none.
        (None | Some(ColumnKind::Pack), Some(unit))
            if unit.grams().or(unit.millilitres()).is_some() && is_per_unit(folded) =>
        {
            ColumnKind::Price
        }
        // Weighed with and without the vessel: "Tare g", "Gross g", "Net g".
        (Some(ColumnKind::Price), Some(unit)) if unit.grams().is_some() && is_net(text, folded) => {
            ColumnKind::Amount
        }
        // "Amount ex VAT": of the price, not of the tax.
        (Some(ColumnKind::Gross), _) if is_without_tax(folded) => ColumnKind::Price,
        (Some(ColumnKind::Gross), Some(unit))
            if unit.grams().is_some() && !crate::file::table::money::names_money(text) =>
        {
            ColumnKind::Earlier
        }
        // "g (lot of 900)" is how much of it, "Price 2025 (expired)" no day.
        (Some(ColumnKind::Lot), Some(unit)) if unit.grams().is_some() => ColumnKind::Amount,
        (Some(ColumnKind::Expiry), _) if folded.iter().any(|w| words().money.contains(w)) => {
            ColumnKind::Earlier
        }
        // "5 bars (g)".
        (Some(ColumnKind::Packs), Some(unit)) if unit.grams().is_some() => ColumnKind::Amount,
        // "Weight (g)", and a mass even under "percentage".
        (Some(ColumnKind::Amount | ColumnKind::Percent), Some(_)) => ColumnKind::Amount,
        (Some(kind), _) => kind,
        // "€/g".
        (None, Some(_)) if crate::file::table::money::names_money(text) => ColumnKind::Price,
        // A unit alone, as in "g / 500 g".
        (None, Some(_)) if folded.len() <= 4 && !text.starts_with(|c: char| c.is_ascii_digit()) => {
            ColumnKind::Amount
        }
        (None, _) => return None,
    })
}

/// Whether words say that tax is not in it.
fn is_without_tax(folded: &[String]) -> bool {
    let has = |list: &std::collections::HashSet<String>| folded.iter().any(|w| list.contains(w));
    has(&words().without_tax) && has(&words().tax) && !has(&words().with_tax)
}

/// Whether words say for one of which unit something is, and nothing else: "per kilo", "al kg".
fn is_per_unit(folded: &[String]) -> bool {
    matches!(folded, [per, unit]
        if words().per.contains(per) && Unit::named(unit).is_some_and(|u| u != Unit::Percent))
}

/// Whether words say "net" and nothing of money, beside one unit that is not "per" anything.
fn is_net(text: &str, folded: &[String]) -> bool {
    let (units, others): (Vec<&String>, Vec<&String>) =
        folded.iter().partition(|w| Unit::named(w).is_some());
    let lists = words();
    let is_net = |w: &&String| lists.without_tax.contains(*w);
    let of_money = |w: &String| lists.money.contains(w) || lists.tax.contains(w);
    let sized = |w: &String| lists.per.contains(w) || w.contains(|c: char| c.is_ascii_digit());
    let says_else = |w: &&&String| !is_net(w) && (of_money(w) || sized(w));
    units.len() == 1
        && !text.contains('/')
        && others.iter().any(is_net)
        && others.iter().find(says_else).is_none()
}

/// Whether a phrase decides about a heading rather than the one known: the longer one,
/// and of two alike what says that it is not the obvious.
const fn beats(count: usize, kind: ColumnKind, most: usize, known: ColumnKind) -> bool {
    const fn weight(kind: ColumnKind) -> u8 {
        match kind {
            // "Max. %", "Active %", "Old %", "INCI name": the first word decides.
            ColumnKind::UseLevel
            | ColumnKind::Earlier
            | ColumnKind::Gross
            | ColumnKind::Strength => 4,
            ColumnKind::Inci
            | ColumnKind::Cas
            | ColumnKind::Lot
            | ColumnKind::Expiry
            | ColumnKind::Pack
            | ColumnKind::TotalPrice => 3,
            ColumnKind::Price | ColumnKind::Supplier | ColumnKind::Role | ColumnKind::Currency => 2,
            ColumnKind::Name => 0,
            _ => 1,
        }
    }
    count > most || count == most && weight(kind) > weight(known)
}

/// The headings with the row of units below them, if there is one: "%", "g".
pub(in crate::file::table) fn rows_of_headings(table: &Table, row: usize) -> Layout {
    let cells = || (0..table.width()).map(|c| table.cell(row + 1, c));
    let unit = |cell: &Cell| match cell {
        Cell::Text(text) => {
            let text = text.trim().trim_matches(['(', ')', '[', ']']);
            Unit::named(text).is_some()
        }
        _ => false,
    };
    let units = cells().any(unit) && cells().all(|c| c.is_empty() || unit(c));
    // "Raw material" over "Trade name" and "INCI", "Amount" over "%" and "g".
    let told = |cell: &Cell| match cell {
        Cell::Text(text) => {
            unit(cell) || spelt_heading(text).is_some() || from_count(text).is_some()
        }
        _ => false,
    };
    let divided = cells().filter(|c| !c.is_empty()).count() >= 2
        && cells().all(|c| c.is_empty() || told(c))
        && (0..table.width())
            .any(|c| table.cell(row, c).is_empty() && !table.cell(row + 1, c).is_empty());
    Layout {
        headings: Some(row),
        below: usize::from(units || divided),
        columns: Vec::new(),
    }
}

/// Whether a cell is so many parts, as the amount of a line is.
fn is_in_parts(text: &str) -> bool {
    text.starts_with(|c: char| c.is_ascii_digit())
        && amounts::read(text, None, None)
            .is_ok_and(|a| matches!(a.written, WrittenAmount::Parts(_)))
}

/// Whether a cell is money, or a material that is known with the size of its pack.
fn is_of_a_line(text: &str) -> bool {
    number::amount(text, None).is_ok_and(|a| a.currency.is_some())
        || without_pack(text).is_some_and(|name| is_known_name(&name))
}

/// Whether a text has a number and a unit of mass or volume: "500 g".
fn names_a_size(text: &str) -> bool {
    text.contains(|c: char| c.is_ascii_digit())
        && words_of(text).iter().any(|w| {
            let unit = w.trim_start_matches(|c: char| c.is_ascii_digit());
            Unit::named(unit).is_some_and(|u| u != Unit::Percent)
        })
}

/// The year that a cell is, if it is one of our time.
fn year(cell: &Cell) -> Option<Decimal> {
    let value = match cell {
        Cell::Number {
            value,
            shown: Shown::Plain,
        } => *value,
        Cell::Text(text) => text.trim().parse().ok()?,
        _ => return None,
    };
    let ours = Decimal::from(1990)..Decimal::from(2100);
    (value.is_integer() && ours.contains(&value)).then_some(value)
}

/// How many years that follow each other stand in a row: "2024", "2025", "2026"; none if they do
/// not.
fn years_in(table: &Table, row: usize) -> usize {
    let years: Vec<Decimal> = (0..table.length(row))
        .filter_map(|column| year(table.cell(row, column)))
        .collect();
    let pairs = || years.iter().zip(years.iter().skip(1));
    let one_by_one = |step: Decimal| pairs().all(|(a, b)| *b - *a == step);
    let follow = one_by_one(Decimal::ONE) || one_by_one(Decimal::NEGATIVE_ONE);
    if years.len() > 1 && follow {
        years.len()
    } else {
        0
    }
}

/// The row with most headings: at least two, or one of numbers.
pub(in crate::file::table) fn row_of_headings(table: &Table) -> Option<usize> {
    let score = |row: usize| -> Option<(usize, usize)> {
        let mut kinds: Vec<ColumnKind> = Vec::new();
        let mut exact = 0;
        let mut filled = 0;
        let mut numbered_sizes = 0;
        let years = years_in(table, row);
        for column in 0..table.width() {
            match table.cell(row, column) {
                cell if years > 0 && year(cell).is_some() => filled += 1,
                // A material with its pack, or a price, is of a line.
                Cell::Text(text) if is_of_a_line(text) || is_in_parts(text) => return None,
                Cell::Text(text) if !text.trim().is_empty() => {
                    filled += 1;
                    numbered_sizes += usize::from(names_a_size(text));
                    if let Some(found) = read_heading(text)
                        && !kinds.contains(&found.column.kind)
                        // "Date: 3 October" stands beside the name of the product too.
                        && found.column.kind != ColumnKind::Dated
                    {
                        exact += usize::from(!found.misspelt && found.whole);
                        kinds.push(found.column.kind);
                    }
                }
                cell if cell.is_empty() => {}
                // A version may be called by its day.
                Cell::Date(_) => filled += 1,
                // A row with numbers is no heading.
                _ => return None,
            }
        }
        let numbers = kinds.iter().any(|k| {
            matches!(
                k,
                ColumnKind::Percent
                    | ColumnKind::Amount
                    | ColumnKind::Price
                    | ColumnKind::Inci
                    | ColumnKind::Cas
            )
        });
        let names = kinds
            .iter()
            .any(|k| matches!(k, ColumnKind::Name | ColumnKind::Inci | ColumnKind::Trade));
        // Prices by size: "Material", "100 g", "500 g".
        if numbered_sizes >= 2
            && names
            && !kinds
                .iter()
                .any(|k| matches!(k, ColumnKind::Percent | ColumnKind::Amount))
        {
            return Some((kinds.len() + numbered_sizes, exact));
        }
        // "Material", "2024", "2025"; "Ingredient", "per 100 g".
        if years > 0 && names {
            return Some((kinds.len() + years, exact));
        }
        if numbered_sizes == 1 && names && exact == 1 && kinds.len() == 1 {
            return Some((2, exact));
        }
        // "Water", "Oil" and a unit is a line of the list.
        let enough = kinds.len() >= 3
            || kinds.len() == 2 && (numbers || names) && exact >= 1
            || kinds.len() == 1 && numbers && exact == 1 && filled <= 2;
        enough.then_some((kinds.len(), exact))
    };
    let best = (0..table.rows.len().min(ROWS_FOR_HEADINGS))
        .filter_map(|row| Some((score(row)?, row)))
        .max_by_key(|&(score, row)| (score, std::cmp::Reverse(row)))
        .map(|(_, row)| row)?;
    // A list further down may be headed in more words; the first, with numbers below it, is
    // not passed over.
    let has_numbers = |row: usize| {
        let mut cells = table.rows.get(row).into_iter().flatten();
        cells.any(|cell| match cell {
            Cell::Number { .. } => true,
            Cell::Text(text) => text.trim_start().starts_with(|c: char| c.is_ascii_digit()),
            _ => false,
        })
    };
    // "Batch record", "Product" above facts head no amounts.
    let heads_amounts = |row: usize| {
        let of_amounts = |column: &usize| match table.cell(row, *column) {
            Cell::Text(text) => read_spelt(text, true)
                .is_some_and(|h| matches!(h.column.kind, ColumnKind::Percent | ColumnKind::Amount)),
            _ => false,
        };
        let is_amount = |cell: &Cell| match cell {
            Cell::Number { .. } => true,
            Cell::Text(text) => amounts::is_amount(text),
            _ => false,
        };
        let mut columns = (0..table.width()).filter(of_amounts);
        columns.any(|column| (row + 1..best).any(|r| is_amount(table.cell(r, column))))
    };
    let first = (0..best).find(|&row| {
        let both = heads_a_list(table, row) && heads_a_list(table, best) && heads_amounts(row);
        score(row).is_some()
            && (both || heads_alike(table, row, best))
            && (row + 1..best).any(has_numbers)
    });
    let first = first.unwrap_or(best);
    Some(first + usize::from(is_of_gathered(table, first)))
}

/// Whether a row stands above the headings of a table that a spreadsheet program has gathered:
/// "Sum of %", "Phase" above "Ingredient", "Water", "Oil".
fn is_of_gathered(table: &Table, row: usize) -> bool {
    let filled = |row: usize| {
        let cells = table.rows.get(row).into_iter().flatten();
        cells.filter(|cell| !cell.is_empty())
    };
    let names = |cell: &Cell| match cell {
        Cell::Text(text) => {
            read_spelt(text, false).is_some_and(|h| h.whole && h.column.kind == ColumnKind::Name)
        }
        _ => false,
    };
    let is_number = |cell: &Cell| matches!(cell, Cell::Number { .. });
    !filled(row).any(names)
        && filled(row + 1).any(names)
        && filled(row + 1).all(|cell| matches!(cell, Cell::Text(_)))
        && filled(row + 1).count() > filled(row).count()
        && filled(row + 2).any(is_number)
        && rows_of_headings(table, row).below == 0
}

/// Whether two rows of words head as many columns, and several of them for the same in the same
/// place, whatever else is headed in words that nobody knows.
fn heads_alike(table: &Table, one: usize, other: usize) -> bool {
    /// A single one may be alike by chance.
    const ENOUGH: usize = 3;
    let filled = |row: usize| {
        let columns = 0..table.width();
        columns.filter(move |&c| !table.cell(row, c).is_empty())
    };
    let kind = |row: usize, column: usize| match table.cell(row, column) {
        Cell::Text(text) => spelt_heading(text).map(|c| c.kind),
        _ => None,
    };
    let same = filled(one).filter(|&c| kind(one, c).is_some() && kind(one, c) == kind(other, c));
    filled(one).eq(filled(other)) && same.count() >= ENOUGH
}

/// Whether a row by itself heads a list: words alone, among them a heading of materials and
/// one of amounts. A line of a list is none.
pub(super) fn heads_a_list(table: &Table, row: usize) -> bool {
    let cells = || {
        table
            .rows
            .get(row)
            .into_iter()
            .flatten()
            .filter(|c| !c.is_empty())
    };
    let may_head = |cell: &Cell| match cell {
        Cell::Text(text) => !text.trim_start().starts_with(|c: char| c.is_ascii_digit()),
        _ => false,
    };
    if cells().count() < 2 || !cells().all(may_head) {
        return false;
    }
    let read = |cell: &Cell, misspelt_too: bool| match cell {
        Cell::Text(text) => read_spelt(text, misspelt_too),
        _ => None,
    };
    let of_list = |kinds: &[ColumnKind]| {
        let has = |all: &[ColumnKind]| kinds.iter().any(|k| all.contains(k));
        has(&[ColumnKind::Name, ColumnKind::Inci, ColumnKind::Trade])
            && has(&[ColumnKind::Percent, ColumnKind::Amount])
    };
    let whole: Vec<ColumnKind> = cells()
        .filter_map(|cell| read(cell, false).filter(|h| h.whole))
        .map(|h| h.column.kind)
        .collect();
    if of_list(&whole) {
        return true;
    }
    // Misspelt, where a list may begin: most of its cells are headings.
    let begins = row
        .checked_sub(1)
        .and_then(|above| table.rows.get(above))
        .is_none_or(|above| above.iter().filter(|c| !c.is_empty()).nth(1).is_none());
    begins && {
        let kinds: Vec<ColumnKind> = cells()
            .filter_map(|cell| read(cell, true).map(|h| h.column.kind))
            .collect();
        kinds.len() * 2 > cells().count() && of_list(&kinds)
    }
}

/// "Phase" and nothing else, which heads a column and begins no phase.
fn is_phase_heading(cell: &Cell) -> bool {
    match cell {
        Cell::Text(text) => read_spelt(text, false).is_some_and(|h| {
            h.column.kind == ColumnKind::Phase && h.whole && words_of(text).len() == 1
        }),
        _ => false,
    }
}

/// A row of words right above columns of numbers, whatever the words are: "Stuff in it",
/// "How much", or "Ingredient", "Trial 1", "Trial 2".
pub(in crate::file::table) fn row_above_numbers(table: &Table) -> Option<usize> {
    /// Numbers that must follow below a word for it to be a heading.
    const ENOUGH: usize = 2;
    let is_number = |cell: &Cell| match cell {
        Cell::Number { .. } => true,
        Cell::Text(text) => amounts::is_amount(text),
        _ => false,
    };
    (0..table.rows.len().min(ROWS_FOR_HEADINGS)).find(|&row| {
        let filled: Vec<usize> = (0..table.width())
            .filter(|&c| !table.cell(row, c).is_empty())
            .collect();
        let words_only = filled.iter().all(|&c| {
            let cell = table.cell(row, c);
            matches!(cell, Cell::Text(_) | Cell::Date(_)) && !is_number(cell)
        });
        // "Recipe: | Hedgerow bar" says something of the product.
        let is_fact = filled.len() == 2
            && filled
                .first()
                .is_some_and(|&c| table.cell(row, c).words().ends_with(':'));
        // "Water | made up to 100 %" is a line of the list.
        let is_line = filled.len() == 2
            && filled.first().is_some_and(|&c| match table.cell(row, c) {
                Cell::Text(text) => is_known_name(text) && heading(text).is_none(),
                _ => false,
            });
        filled.len() >= 2
            && words_only
            && !is_fact
            && !is_line
            && (phase_words::phase_heading(&table.row_text(row)).is_none()
                || filled.len() > 2 && filled.iter().any(|&c| is_phase_heading(table.cell(row, c)))
                || filled
                    .first()
                    .is_some_and(|&c| is_phase_heading(table.cell(row, c))))
            && filled.iter().any(|&column| {
                let end = table.rows.len().min(row + ROWS_FOR_CONTENT);
                let below = (row + 1..end).map(|r| table.cell(r, column));
                let mut below = below
                    .filter(|cell| !cell.is_empty())
                    .take(ENOUGH)
                    .peekable();
                below.peek().is_some()
                    && below.by_ref().all(is_number)
                    && (row + 1..end)
                        .filter(|&r| is_number(table.cell(r, column)))
                        .take(ENOUGH)
                        .count()
                        >= ENOUGH
            })
    })
}

/// The masses that a heading states: the number, and what it is in grams.
pub(in crate::file::table) fn sizes_in(heading: &str) -> Vec<(Decimal, Decimal)> {
    let tokens: Vec<&str> = heading
        .split(|c: char| c.is_whitespace() || "()[]/;:".contains(c))
        // The comma of "1,5 kg" divides nothing.
        .map(|token| token.trim_matches(','))
        .filter(|t| !t.is_empty())
        .collect();
    let at = |(n, token): (usize, &&str)| {
        let next = tokens.get(n + 1).copied().unwrap_or_default();
        let amount = [(*token).to_owned(), format!("{token} {next}")]
            .iter()
            .find_map(|text| number::amount(text, None).ok().filter(|a| a.unit.is_some()))?;
        Some((amount.value, amount.value * amount.unit?.grams()?))
    };
    tokens.iter().enumerate().filter_map(at).collect()
}

/// Whether a heading means nothing but how much of a batch: "500 g", "g / 500 g".
pub(in crate::file::table) fn is_size(text: &str) -> bool {
    let only = |word: &String| {
        let unit = word.trim_start_matches(|c: char| c.is_ascii_digit());
        unit.is_empty() || Unit::named(unit).is_some()
    };
    let of_amounts = heading(text).is_none_or(|c| c.kind == ColumnKind::Amount);
    let words = words_of(text);
    of_amounts && !words.is_empty() && words.iter().all(only) && !sizes_in(text).is_empty()
}
