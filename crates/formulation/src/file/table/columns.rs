//! What the columns of a table mean, told by their headings or, without headings,
//! by what stands in them.

use rust_decimal::Decimal;

use super::words::words;
use super::{Cell, Shown, Table, cell_name};
use crate::amount::number::{self, Unit};
use crate::cas::Cas;
use crate::naming::qs::is_qs;
use crate::naming::spelling::is_misspelt;
use crate::naming::words_of;

/// What a column holds.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Kind {
    /// Letter or name of the phase.
    Phase,
    /// Name of the raw material.
    Name,
    /// INCI name.
    Inci,
    /// CAS number.
    Cas,
    /// Percentage by weight.
    Percent,
    /// Mass or volume.
    Amount,
    /// Unit of the mass or volume.
    Unit,
    /// What the material does.
    Role,
    /// Supplier.
    Supplier,
    /// Price of the pack, or per unit.
    Price,
    /// Currency of the price.
    Currency,
    /// Content of the pack.
    Pack,
    /// Lot number.
    Lot,
    /// Day of expiry.
    Expiry,
    /// Free words.
    Note,
    /// What the raw material contains.
    Composition,
    /// Trade name beside a generic one.
    Trade,
    /// What the line is there for in the sense of the law.
    Purpose,
    /// Number or code of the material; never its name.
    Code,
    /// Strength or purity of the raw material.
    Strength,
    /// Usual or highest level; never the percentage of the recipe.
    UseLevel,
    /// Percentages or prices of an earlier version.
    Earlier,
    /// Price with tax, or the tax.
    Gross,
    /// Price of all packs of a row.
    TotalPrice,
    /// Number of packs.
    Packs,
    /// What is in stock.
    Stock,
    /// Marks the line that takes up the rest.
    Filler,
    /// Marks lines that no automatic step may change.
    Held,
    /// The maker's lowest percentage.
    Lowest,
    /// The maker's highest percentage.
    Highest,
    /// What is done with the phase of the row.
    Procedure,
}

impl Kind {
    /// All kinds, in the order of display.
    pub const ALL: [Self; 31] = [
        Self::Phase,
        Self::Name,
        Self::Inci,
        Self::Cas,
        Self::Percent,
        Self::Amount,
        Self::Unit,
        Self::Role,
        Self::Supplier,
        Self::Price,
        Self::Currency,
        Self::Pack,
        Self::Lot,
        Self::Expiry,
        Self::Note,
        Self::Composition,
        Self::Trade,
        Self::Purpose,
        Self::Code,
        Self::Strength,
        Self::UseLevel,
        Self::Earlier,
        Self::Gross,
        Self::TotalPrice,
        Self::Packs,
        Self::Stock,
        Self::Filler,
        Self::Held,
        Self::Lowest,
        Self::Highest,
        Self::Procedure,
    ];

    /// The words shown for it.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Phase => "phase",
            Self::Name => "material",
            Self::Inci => "INCI name",
            Self::Cas => "CAS number",
            Self::Percent => "percent",
            Self::Amount => "amount",
            Self::Unit => "unit",
            Self::Role => "role",
            Self::Supplier => "supplier",
            Self::Price => "price",
            Self::Currency => "currency",
            Self::Pack => "pack size",
            Self::Lot => "lot",
            Self::Expiry => "expiry",
            Self::Note => "note",
            Self::Composition => "composition",
            Self::Trade => "trade name",
            Self::Purpose => "purpose",
            Self::Code => "code",
            Self::Strength => "strength",
            Self::UseLevel => "use level",
            Self::Earlier => "earlier",
            Self::Gross => "gross price",
            Self::TotalPrice => "total price",
            Self::Packs => "packs",
            Self::Stock => "in stock",
            Self::Filler => "filler",
            Self::Held => "held",
            Self::Lowest => "lowest",
            Self::Highest => "highest",
            Self::Procedure => "procedure",
        }
    }
}

/// A column whose meaning is known.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Column {
    /// What it holds.
    pub kind: Kind,
    /// The unit its heading names: of amounts, or the one a price is for.
    pub unit: Option<Unit>,
}

/// Where the list stands in a table and what its columns mean.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Layout {
    /// The row of headings, counted from 0.
    pub headings: Option<usize>,
    /// How many rows of units below them belong to the headings.
    pub below: usize,
    /// What each column means; none is left out.
    pub columns: Vec<Option<Column>>,
}

impl Layout {
    /// The first column of a kind.
    pub fn place(&self, kind: Kind) -> Option<usize> {
        self.columns
            .iter()
            .position(|c| c.is_some_and(|c| c.kind == kind))
    }
    /// The words of a row in the first column of a kind.
    pub(super) fn words(&self, table: &Table, row: usize, kind: Kind) -> String {
        self.place(kind)
            .map(|column| table.cell(row, column).words())
            .unwrap_or_default()
    }
    /// The unit that the heading of the first column of a kind names.
    pub fn unit(&self, kind: Kind) -> Option<Unit> {
        self.place(kind)
            .and_then(|at| self.columns.get(at).copied().flatten())
            .and_then(|c| c.unit)
    }
    /// Whether a row has the same headings again, as above a second list.
    pub fn is_repeated_in(&self, table: &Table, row: usize) -> bool {
        // Looked at in every row, so a misspelt heading counts only where it comes again as
        // it stands.
        let repeats = |at: usize, kind: Kind| match table.cell(row, at) {
            Cell::Text(text) => {
                text.trim() == self.heading(table, at)
                    || spelt_heading(text).is_some_and(|c| c.kind == kind)
            }
            _ => false,
        };
        // A row with a number where the list has them is a line of it.
        let is_line = self.columns.iter().enumerate().any(|(at, column)| {
            let of_numbers = column
                .is_some_and(|c| matches!(c.kind, Kind::Percent | Kind::Amount | Kind::Price));
            of_numbers
                && match table.cell(row, at) {
                    Cell::Number { .. } => true,
                    Cell::Text(text) => {
                        let text = text.trim_start();
                        text.starts_with(|c: char| c.is_ascii_digit())
                            && !text.contains(char::is_alphabetic)
                    }
                    _ => false,
                }
        });
        if is_line {
            return false;
        }
        let same = (self.columns.iter().enumerate())
            .filter(|(at, column)| column.is_some_and(|c| repeats(*at, c.kind)))
            .count();
        self.headings.is_some() && same >= 2
    }
    /// The first row below the headings.
    pub fn first_row(&self) -> usize {
        self.headings.map_or(0, |row| row + 1 + self.below)
    }
    /// The heading of a column, over all rows of headings; empty without any.
    pub fn heading(&self, table: &Table, column: usize) -> String {
        let Some(first) = self.headings else {
            return String::new();
        };
        let words: Vec<String> = (first..=first + self.below)
            .map(|row| table.cell(row, column).words())
            .filter(|words| !words.is_empty())
            .collect();
        words.join(" ")
    }
    /// Takes a column for a kind, and no other column for it.
    pub fn assign(&mut self, column: usize, kind: Option<Kind>) {
        if self.columns.len() <= column {
            self.columns.resize(column + 1, None);
        }
        for (place, known) in self.columns.iter_mut().enumerate() {
            if place == column {
                let unit = known.and_then(|c| c.unit);
                *known = kind.map(|kind| Column { kind, unit });
            } else if known.is_some_and(|c| Some(c.kind) == kind) {
                *known = None;
            }
        }
    }
}

/// What a heading means, and whether a letter had to be overlooked.
struct Heading {
    column: Column,
    /// Words of the phrase that was found.
    length: usize,
    misspelt: bool,
    /// The phrase is all of the heading besides units.
    whole: bool,
}

/// What a heading means.
pub fn heading(text: &str) -> Option<Column> {
    read_heading(text).map(|h| h.column)
}

/// What a heading means that is spelt as it should be.
fn spelt_heading(text: &str) -> Option<Column> {
    read_spelt(text, false).map(|h| h.column)
}

fn read_heading(text: &str) -> Option<Heading> {
    read_spelt(text, true)
}

fn read_spelt(text: &str, misspelt_too: bool) -> Option<Heading> {
    let text = text.trim();
    if text.is_empty() || text.len() > 60 {
        return None;
    }
    // "70 %" and "350 g" are amounts, not headings.
    if text.starts_with(|c: char| c.is_ascii_digit()) && number::amount(text, None).is_ok() {
        return None;
    }
    // Units stand between blanks, brackets or after a stroke; "%" may touch a word.
    let spaced = text.replace('%', " % ");
    let tokens: Vec<&str> = spaced
        .split(|c: char| c.is_whitespace() || "()[]/,;:".contains(c))
        .filter(|t| !t.is_empty())
        .collect();
    let unit = tokens.iter().find_map(|t| Unit::named(t));
    let folded = words_of(text);
    let mut found: Option<(usize, Kind, bool)> = None;
    for (phrase, kind) in (0..folded.len()).flat_map(|at| words().headings_at(&folded, at)) {
        let count = phrase.len();
        if found.is_none_or(|(most, known, _)| beats(count, kind, most, known)) {
            found = Some((count, kind, false));
        }
    }
    // "per" alone: what a price beside it is for.
    if let [only] = folded.as_slice()
        && words().per.contains(only)
    {
        found = Some((1, Kind::Pack, false));
    }
    if misspelt_too && found.is_none() && folded.len() <= 4 {
        // Misspelt, word by word.
        found = words()
            .headings
            .iter()
            .find(|(phrase, _)| {
                phrase.iter().any(|w| w.chars().count() >= 5)
                    && folded.windows(phrase.len()).any(|w| {
                        w.iter()
                            .zip(phrase)
                            .all(|(a, b)| a == b || is_misspelt(a, b))
                    })
            })
            .map(|(phrase, kind)| (phrase.len(), *kind, true));
    }
    let kind = match (found.map(|(_, kind, _)| kind), unit) {
        // "Amount %", "Menge in %", "%", "Use %".
        (Some(Kind::Amount | Kind::Percent | Kind::Role) | None, Some(Unit::Percent)) => {
            Kind::Percent
        }
        // "% in raw material", "% of formula".
        (Some(Kind::Name), Some(Unit::Percent)) if text.starts_with(['%', '％']) => Kind::Percent,
        // "Weight (g)", and a mass even under "percentage".
        (Some(Kind::Amount | Kind::Percent), Some(_)) => Kind::Amount,
        (Some(kind), _) => kind,
        // "€/g".
        (None, Some(_)) if super::price_list::names_money(text) => Kind::Price,
        // A unit alone, as in "g / 500 g".
        (None, Some(_)) if folded.len() <= 4 && !text.starts_with(|c: char| c.is_ascii_digit()) => {
            Kind::Amount
        }
        (None, _) => return None,
    };
    let length = found.map_or(1, |(count, _, _)| count);
    let others = folded
        .iter()
        .filter(|w| Unit::named(w).is_none() && w.chars().any(char::is_alphabetic))
        .count();
    Some(Heading {
        column: Column {
            kind,
            unit: unit.filter(|u| *u != Unit::Percent),
        },
        length,
        misspelt: found.is_some_and(|(_, _, misspelt)| misspelt),
        whole: others <= length,
    })
}

/// Whether a phrase decides about a heading rather than the one known: the longer one,
/// and of two alike what says that it is not the obvious.
const fn beats(count: usize, kind: Kind, most: usize, known: Kind) -> bool {
    const fn weight(kind: Kind) -> u8 {
        match kind {
            // "Max. %", "Active %", "Old %", "INCI name": the first word decides.
            Kind::UseLevel | Kind::Earlier | Kind::Gross | Kind::Strength => 4,
            Kind::Inci | Kind::Cas | Kind::Lot | Kind::Expiry | Kind::Pack | Kind::TotalPrice => 3,
            Kind::Price | Kind::Supplier | Kind::Role | Kind::Currency => 2,
            Kind::Name => 0,
            _ => 1,
        }
    }
    count > most || count == most && weight(kind) > weight(known)
}

/// Rows looked at to find the headings.
const ROWS_FOR_HEADINGS: usize = 40;
/// Rows looked at to see what stands in a column.
const ROWS_FOR_CONTENT: usize = 500;

/// What speaks for a column to be of a kind.
#[derive(Clone, PartialEq, Debug)]
pub struct Evidence {
    /// Which column, counted from 0.
    pub column: usize,
    /// Of which kind it would be.
    pub kind: Kind,
    /// How much it speaks for it; against it if below 0.
    pub weight: i32,
    /// Why, in words.
    pub reason: String,
}

/// What a table was taken for, and why.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Weighing {
    /// What the columns mean.
    pub layout: Layout,
    /// Further columns of percentages that each make a recipe of their own, such as
    /// versions: column and heading.
    pub versions: Vec<usize>,
    /// All evidence, by column.
    pub evidence: Vec<Evidence>,
    /// What another reader might see otherwise, in words.
    pub doubts: Vec<String>,
}

/// Finds the headings of a table and what its columns mean.
/// `None` if no column of names and none of numbers is found.
pub fn recognise(table: &Table) -> Option<Layout> {
    weigh(table).map(|w| w.layout)
}

/// Weighs everything a table says about its columns: each heading, what stands below
/// it, what it sums to. Of several columns for the same thing the best stays; others are
/// versions or are left out with a doubt.
pub fn weigh(table: &Table) -> Option<Weighing> {
    let weighed = row_of_headings(table)
        .or_else(|| row_above_numbers(table))
        .and_then(|row| weigh_below(table, &rows_of_headings(table, row)));
    // "Water 70 %" alone in a row looks like a heading of percentages.
    weighed.or_else(|| weigh_below(table, &Layout::default()))
}

/// The headings with the row of units below them, if there is one: "%", "g".
fn rows_of_headings(table: &Table, row: usize) -> Layout {
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
        Cell::Text(text) => unit(cell) || spelt_heading(text).is_some(),
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

fn weigh_below(table: &Table, rows: &Layout) -> Option<Weighing> {
    let first = rows.first_row();
    let contents: Vec<Content> = (0..table.width())
        .map(|column| Content::of(table, column, first..table.rows.len()))
        .collect();
    let mut evidence: Vec<Evidence> = Vec::new();
    for (column, content) in contents.iter().enumerate() {
        let heading = rows.heading(table, column);
        evidence.extend(of_heading(column, &heading, content));
        evidence.extend(adds_up_to_heading(column, &heading, content));
        let titled = !heading.is_empty();
        evidence.extend(of_content(column, content, titled));
        if titled {
            evidence.extend(of_roles(column, &heading, content));
        }
    }
    let sum_of = |kind: Kind, column: usize| -> i32 {
        evidence
            .iter()
            .filter(|e| e.column == column && e.kind == kind)
            .map(|e| e.weight)
            .sum()
    };
    // Each column is what most speaks for.
    let mut votes: Vec<Option<(Kind, i32)>> = (0..contents.len())
        .map(|column| {
            Kind::ALL
                .into_iter()
                .map(|kind| (kind, sum_of(kind, column)))
                .filter(|(_, weight)| *weight > 0)
                .max_by_key(|(kind, weight)| (*weight, std::cmp::Reverse(*kind)))
        })
        .collect();
    take_the_only_whole(&mut votes, &contents);
    let mut weighing = Weighing {
        layout: Layout {
            columns: vec![None; contents.len()],
            ..rows.clone()
        },
        ..Weighing::default()
    };
    for kind in Kind::ALL {
        let mut columns: Vec<(usize, i32)> = votes
            .iter()
            .enumerate()
            .filter_map(|(column, vote)| {
                vote.filter(|(k, _)| *k == kind)
                    .map(|(_, weight)| (column, weight))
            })
            .collect();
        columns.sort_by_key(|&(column, weight)| (std::cmp::Reverse(weight), column));
        let Some(&(best, _)) = columns.first() else {
            continue;
        };
        weighing.take(kind, best, table);
        if kind == Kind::Percent {
            weighing.versions = columns
                .iter()
                .skip(1)
                .filter(|(column, _)| {
                    let of = |at: usize| contents.get(at).filter(|c| c.is_whole());
                    matches!((of(*column), of(best)), (Some(other), Some(one)) if other.numbers * 2 > one.numbers)
                })
                .map(|(column, _)| *column)
                .collect();
            weighing.versions.sort_unstable();
            if let Some(&(other, _)) = columns
                .get(1)
                .filter(|(column, _)| !weighing.versions.contains(column))
            {
                let told = |at: usize| {
                    let row = rows.headings.unwrap_or(0);
                    format!("{} “{}”", cell_name(row, at), rows.heading(table, at))
                };
                weighing.doubts.push(format!(
                    "several columns hold a percent: {} was taken, {} left out; choose another if it is not the one",
                    told(best),
                    told(other)
                ));
            }
        }
        if kind == Kind::Amount {
            for &(column, _) in columns.iter().skip(1) {
                if weighing.goes_on(best, column, table) {
                    weighing.take(kind, column, table);
                }
            }
        }
        // A second column of a kind is nothing, unless what stands in it says otherwise.
        for &(column, _) in columns.iter().skip(1) {
            if let Some(vote) = votes.get_mut(column) {
                *vote = None;
            }
        }
    }
    if weighing.layout.place(Kind::Name).is_none()
        && let Some(trade) = weighing.layout.place(Kind::Trade)
    {
        weighing.layout.assign(trade, Some(Kind::Name));
    }
    weighing.evidence = evidence;
    has_names(&weighing.layout).then_some(weighing)
}

/// "Usage rate" and "Composition %" head the percentages of a recipe where no other column
/// has amounts and their own make a whole.
fn take_the_only_whole(votes: &mut [Option<(Kind, i32)>], contents: &[Content]) {
    let amounts = votes
        .iter()
        .flatten()
        .any(|(kind, _)| matches!(kind, Kind::Percent | Kind::Amount | Kind::Price));
    if amounts {
        return;
    }
    let of_others = |kind: Kind| {
        matches!(
            kind,
            Kind::UseLevel | Kind::Strength | Kind::Earlier | Kind::Composition
        )
    };
    let whole = votes.iter_mut().zip(contents).find(|(vote, content)| {
        vote.is_some_and(|(kind, _)| of_others(kind))
            && content.is_whole()
            && content.numbers == content.filled
    });
    if let Some((vote, _)) = whole {
        *vote = vote.map(|(_, weight)| (Kind::Percent, weight));
    }
}

impl Weighing {
    /// Whether two columns state one amount together, as pounds and ounces do: of different
    /// masses, and some rows have only the one.
    fn goes_on(&self, first: usize, second: usize, table: &Table) -> bool {
        let grams = |column: usize| {
            let unit = heading(&self.layout.heading(table, column))?.unit?;
            unit.grams()
        };
        let (Some(one), Some(other)) = (grams(first), grams(second)) else {
            return false;
        };
        let ratio = one.max(other) / one.min(other);
        let number = |row: usize, column: usize| match table.cell(row, column) {
            Cell::Number { value, .. } => Some(*value),
            Cell::Text(text) => number::amount(text, None).ok().map(|a| a.value),
            _ => None,
        };
        let small = if one < other { first } else { second };
        let rows = || self.layout.first_row()..table.rows.len();
        let alone = rows().any(|row| number(row, first).is_some() != number(row, second).is_some());
        let fits = rows().all(|row| {
            let both = number(row, first).is_some() && number(row, second).is_some();
            !both || number(row, small).is_some_and(|v| v < ratio)
        });
        one != other && alone && fits
    }

    fn take(&mut self, kind: Kind, column: usize, table: &Table) {
        let unit = heading(&self.layout.heading(table, column)).and_then(|h| h.unit);
        if let Some(slot) = self.layout.columns.get_mut(column) {
            *slot = Some(Column { kind, unit });
        }
    }
}

fn has_names(layout: &Layout) -> bool {
    layout.place(Kind::Name).is_some() || layout.place(Kind::Inci).is_some()
}

/// The row with most headings: at least two, or one of numbers.
fn row_of_headings(table: &Table) -> Option<usize> {
    let score = |row: usize| -> Option<(usize, usize)> {
        let mut kinds: Vec<Kind> = Vec::new();
        let mut exact = 0;
        let mut filled = 0;
        let mut numbered_sizes = 0;
        for column in 0..table.width() {
            match table.cell(row, column) {
                Cell::Text(text) if !text.trim().is_empty() => {
                    filled += 1;
                    let sized = text.chars().any(|c| c.is_ascii_digit())
                        && words_of(text).iter().any(|w| {
                            let unit = w.trim_start_matches(|c: char| c.is_ascii_digit());
                            Unit::named(unit).is_some_and(|u| u != Unit::Percent)
                        });
                    numbered_sizes += usize::from(sized);
                    if let Some(found) = read_heading(text)
                        && !kinds.contains(&found.column.kind)
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
                Kind::Percent | Kind::Amount | Kind::Price | Kind::Inci | Kind::Cas
            )
        });
        let names = kinds
            .iter()
            .any(|k| matches!(k, Kind::Name | Kind::Inci | Kind::Trade));
        // Prices by size: "Material", "100 g", "500 g".
        if numbered_sizes >= 2
            && names
            && !kinds
                .iter()
                .any(|k| matches!(k, Kind::Percent | Kind::Amount))
        {
            return Some((kinds.len() + numbered_sizes, exact));
        }
        // "Ingredient", "per 100 g".
        if numbered_sizes == 1 && names && exact == 1 && kinds.len() == 1 {
            return Some((2, exact));
        }
        // "Water", "Oil" and a unit is a line of the list.
        let enough = kinds.len() >= 3
            || kinds.len() == 2 && (numbers || names) && exact >= 1
            || kinds.len() == 1 && numbers && exact == 1 && filled <= 2;
        enough.then_some((kinds.len(), exact))
    };
    (0..table.rows.len().min(ROWS_FOR_HEADINGS))
        .filter_map(|row| Some((score(row)?, row)))
        .max_by_key(|&(score, row)| (score, std::cmp::Reverse(row)))
        .map(|(_, row)| row)
}

/// "Phase" and nothing else, which heads a column and begins no phase.
fn is_phase_heading(cell: &Cell) -> bool {
    match cell {
        Cell::Text(text) => read_spelt(text, false)
            .is_some_and(|h| h.column.kind == Kind::Phase && h.whole && words_of(text).len() == 1),
        _ => false,
    }
}

/// A row of words right above columns of numbers, whatever the words are: "Stuff in it",
/// "How much", or "Ingredient", "Trial 1", "Trial 2".
fn row_above_numbers(table: &Table) -> Option<usize> {
    /// Numbers that must follow below a word for it to be a heading.
    const ENOUGH: usize = 2;
    let is_number = |cell: &Cell| match cell {
        Cell::Number { .. } => true,
        Cell::Text(text) => super::amounts::read(text, None, None).is_ok(),
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
        filled.len() >= 2
            && words_only
            && (super::phase_words::phase_heading(&table.row_text(row)).is_none()
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

/// What a heading says, held against what stands below.
fn of_heading(column: usize, text: &str, content: &Content) -> Vec<Evidence> {
    let Some(found) = read_heading(text) else {
        return Vec::new();
    };
    let weight = match (found.misspelt, found.whole) {
        (false, true) => 10,
        (false, false) => 8,
        (true, _) => 6,
    };
    let mut evidence = vec![Evidence {
        column,
        kind: found.column.kind,
        weight: weight + i32::try_from(found.length).unwrap_or(1),
        reason: format!("heading “{}”", text.trim()),
    }];
    let kind = found.column.kind;
    if kind == Kind::Name && content.codes * 10 >= content.filled * 7 && content.filled > 1 {
        evidence.push(Evidence {
            column,
            kind: Kind::Code,
            weight: 20,
            reason: "the cells are numbers or codes".to_owned(),
        });
    }
    // Phases come again or are letters; a word for each row is a material.
    if kind == Kind::Phase
        && content.filled > 2
        && content.letters == 0
        && content.words == content.filled
        && content.distinct == content.filled
    {
        evidence.push(Evidence {
            column,
            kind,
            weight: -8,
            reason: "each cell is another word".to_owned(),
        });
    }
    // Numbers are promised and words found, or the other way round.
    let numeric = matches!(kind, Kind::Percent | Kind::Amount);
    if numeric && content.filled > 1 && content.numbers * 2 < content.filled {
        evidence.push(Evidence {
            column,
            kind,
            weight: -6,
            reason: "most cells are no numbers".to_owned(),
        });
    }
    // "Batch" above numbers is how much, above codes which.
    let of_batch = words_of(text).iter().any(|w| w == "batch" || w == "charge");
    if kind == Kind::Amount && of_batch && content.words * 2 > content.filled {
        for (kind, weight) in [(kind, -20), (Kind::Lot, 14)] {
            evidence.push(Evidence {
                column,
                kind,
                weight,
                reason: "the cells are codes".to_owned(),
            });
        }
    }
    if kind == Kind::Name && content.filled > 1 && content.numbers * 10 > content.filled * 8 {
        evidence.push(Evidence {
            column,
            kind,
            weight: -14,
            reason: "the cells are numbers".to_owned(),
        });
    }
    evidence
}

/// A heading such as "500 g" or "1 kg batch" above numbers that add up to just that: the
/// amounts of a batch of this size.
fn adds_up_to_heading(column: usize, heading: &str, content: &Content) -> Option<Evidence> {
    if content.numbers < 2 {
        return None;
    }
    let tokens: Vec<&str> = heading
        .split(|c: char| c.is_whitespace() || "()[]/,;:".contains(c))
        .filter(|t| !t.is_empty())
        .collect();
    let near = |a: Decimal, b: Decimal| (a - b).abs() <= b * Decimal::new(5, 3);
    tokens.iter().enumerate().find_map(|(n, token)| {
        let next = tokens.get(n + 1).copied().unwrap_or_default();
        let amount = [(*token).to_owned(), format!("{token} {next}")]
            .iter()
            .find_map(|text| number::amount(text, None).ok().filter(|a| a.unit.is_some()))?;
        let grams = amount.value * amount.unit?.grams()?;
        (near(content.total, grams) || near(content.total, amount.value)).then(|| Evidence {
            column,
            kind: Kind::Amount,
            weight: 16,
            reason: "adds up to the size its heading states".to_owned(),
        })
    })
}

/// Whether any column is one of the amounts of a batch whose size its heading states.
pub(super) fn has_batches(table: &Table, layout: &Layout) -> bool {
    let rows = layout.first_row()..table.rows.len();
    (0..table.width()).any(|column| {
        let content = Content::of(table, column, rows.clone());
        adds_up_to_heading(column, &layout.heading(table, column), &content).is_some()
    })
}

/// What stands in a column, as evidence; it counts for more where no heading stands.
fn of_content(column: usize, content: &Content, titled: bool) -> Vec<Evidence> {
    if content.filled == 0 {
        return Vec::new();
    }
    let mut evidence = Vec::new();
    let mut say = |kind: Kind, weight: i32, reason: &str| {
        evidence.push(Evidence {
            column,
            kind,
            weight: if titled { weight / 2 } else { weight },
            reason: reason.to_owned(),
        });
    };
    let most = |n: usize| n * 2 > content.filled;
    if most(content.cas) {
        say(Kind::Cas, 12, "CAS numbers");
    }
    if most(content.numbers) && content.filled >= 2 || content.is_whole() {
        let percent = content.unit == Some(Unit::Percent) || content.percents > 0;
        let mass = content.unit.is_some_and(|u| u != Unit::Percent);
        if most(content.money) {
            say(Kind::Price, 12, "amounts of money");
        } else if percent {
            say(Kind::Percent, 8, "percentages");
        } else if mass {
            say(Kind::Amount, 8, "amounts with units");
        } else if content.is_whole() {
            say(Kind::Percent, 7, "numbers that add up to 100");
        } else if content.counts_up {
            say(Kind::Code, 6, "numbers that count up");
        } else if !titled {
            say(Kind::Percent, 4, "numbers");
        }
        if content.is_whole() && !mass && !most(content.money) {
            say(Kind::Percent, 4, "adds up to the whole");
        }
    }
    if most(content.codes) && !most(content.numbers) && content.codes > content.letters {
        say(Kind::Code, 6, "codes");
    }
    if content.letters > 1 && content.letters == content.filled {
        say(Kind::Phase, 5, "letters");
    }
    if content.in_order && content.letters * 2 > content.filled {
        say(Kind::Phase, 12, "letters from A on, each again or the next");
    }
    if most(content.words)
        && content.letters < content.filled
        && !most(content.cas)
        && !most(content.codes)
    {
        let distinct = content.distinct * 2 > content.filled || content.filled < 3;
        say(Kind::Name, if distinct { 5 } else { 1 }, "words");
    }
    evidence
}

/// What stands in a column.
#[derive(Default, Debug)]
struct Content {
    filled: usize,
    numbers: usize,
    words: usize,
    /// One or two letters or digits, as phases are named.
    letters: usize,
    /// Numbers and short words with digits, without blanks.
    codes: usize,
    cas: usize,
    /// Words for what a material does.
    roles: usize,
    /// Cells shown as percentages.
    percents: usize,
    /// Cells shown with a currency.
    money: usize,
    /// Different words.
    distinct: usize,
    unit: Option<Unit>,
    /// A q.s. stands in it.
    filler: bool,
    /// Sum of the numbers, the last one left out if it is the sum of the others.
    total: Decimal,
    /// 1, 2, 3 …
    counts_up: bool,
    /// Its short words are the letters of phases in their order, one of them again.
    in_order: bool,
}

/// A column of words such as "surfactant" and "emulsifier" holds what materials do, unless its
/// heading is that of materials: "salt" and "oil" are both.
fn of_roles(column: usize, text: &str, content: &Content) -> Vec<Evidence> {
    let named = heading(text).is_some_and(|c| c.kind == Kind::Name);
    if named || content.filled < 2 || content.roles * 2 <= content.filled {
        return Vec::new();
    }
    [(Kind::Role, 8), (Kind::Name, -8)]
        .into_iter()
        .map(|(kind, weight)| Evidence {
            column,
            kind,
            weight,
            reason: "what materials do".to_owned(),
        })
        .collect()
}

/// Whether a cell says what a material does and nothing else: "surfactant", "Emulgator".
pub(super) fn is_role(text: &str) -> bool {
    let folded = words_of(text).join(" ");
    words()
        .functions
        .iter()
        .any(|(phrase, _)| *phrase == folded)
}

/// Whether short words are phases in their order: "A", "A", "B", "C", "C".
fn are_phases(letters: &[String]) -> bool {
    let place = |word: &String| match word.as_bytes() {
        [letter] if letter.is_ascii_uppercase() => Some(letter - b'A'),
        _ => None,
    };
    let places: Option<Vec<u8>> = letters.iter().map(place).collect();
    let Some(places) = places else {
        return false;
    };
    let steps = || {
        places
            .iter()
            .zip(places.iter().skip(1))
            .filter_map(|(a, b)| b.checked_sub(*a))
    };
    places.len() >= 3
        && places.first() == Some(&0)
        && steps().count() + 1 == places.len()
        && steps().all(|step| step <= 1)
        && steps().any(|step| step == 0)
        && places.last() > Some(&0)
}

impl Content {
    fn of(table: &Table, column: usize, rows: std::ops::Range<usize>) -> Self {
        let mut content = Self::default();
        let mut values: Vec<Decimal> = Vec::new();
        let mut seen = std::collections::HashSet::new();
        let mut letters: Vec<String> = Vec::new();
        for row in rows.take(ROWS_FOR_CONTENT) {
            let cell = table.cell(row, column);
            if cell.is_empty() || table.is_left_out(row) {
                continue;
            }
            content.filled += 1;
            match cell {
                Cell::Number { value, shown } => {
                    content.numbers += 1;
                    match shown {
                        Shown::Percent => content.percents += 1,
                        Shown::In(unit) => content.unit = content.unit.or(Some(*unit)),
                        Shown::Money(_) => content.money += 1,
                        Shown::Plain => content.codes += usize::from(value.is_integer()),
                    }
                    values.push(if *shown == Shown::Percent {
                        *value * Decimal::ONE_HUNDRED
                    } else {
                        *value
                    });
                }
                Cell::Text(text) => {
                    let text = text.trim();
                    if seen.insert(text.to_lowercase()) {
                        content.distinct += 1;
                    }
                    if text.parse::<Cas>().is_ok() {
                        content.cas += 1;
                    } else if let Ok(amount) = number::amount(text, None)
                        // "G-12" is a code.
                        && amount.value >= Decimal::ZERO
                    {
                        content.numbers += 1;
                        content.codes += usize::from(text.bytes().all(|b| b.is_ascii_digit()));
                        content.unit = content.unit.or(amount.unit);
                        values.push(amount.value);
                    } else if is_qs(text) {
                        content.numbers += 1;
                        content.filler = true;
                    } else if super::amounts::read(text, None, None)
                        .is_ok_and(|r| !r.written.is_negative())
                    {
                        content.numbers += 1;
                    } else {
                        content.words += 1;
                        content.roles += usize::from(is_role(text));
                        let short = text.chars().count() <= 2;
                        if short {
                            content.letters += 1;
                            letters.push(text.to_uppercase());
                        }
                        let code = !text.contains(char::is_whitespace)
                            && text.bytes().any(|b| b.is_ascii_digit())
                            && text.len() <= 16
                            && !text.bytes().any(|b| b.is_ascii_lowercase());
                        content.codes += usize::from(code);
                    }
                }
                _ => {}
            }
        }
        content.in_order = are_phases(&letters);
        content.counts_up = values.len() >= 3
            && values
                .windows(2)
                .all(|w| matches!(w, [a, b] if *b == *a + Decimal::ONE))
            && values.first().is_some_and(|v| *v <= Decimal::ONE);
        let sum: Decimal = values.iter().sum();
        // Totals and subtotals stand among them.
        content.total = match values.last() {
            Some(last) if values.len() > 2 && (sum - *last - *last).abs() <= Decimal::new(5, 2) => {
                *last
            }
            _ => sum,
        };
        content
    }

    /// Whether its numbers are those of a whole recipe in percent.
    fn is_whole(&self) -> bool {
        let hundred = |total: Decimal| (total - Decimal::ONE_HUNDRED).abs() <= Decimal::ONE;
        self.numbers > 0
            && (hundred(self.total)
                || (self.total - Decimal::TWO * Decimal::ONE_HUNDRED).abs() <= Decimal::new(1, 1)
                    && self.numbers > 3
                || self.filler && self.total < Decimal::ONE_HUNDRED)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(text: &str, kind: Option<Kind>, unit: Option<Unit>) {
        assert_eq!(
            heading(text),
            kind.map(|kind| Column { kind, unit }),
            "for “{text}”"
        );
    }

    #[test]
    fn headings_in_several_languages() {
        check("Phase", Some(Kind::Phase), None);
        check("Ingredient", Some(Kind::Name), None);
        check("Ingredients (trade name)", Some(Kind::Trade), None);
        check("Item no", Some(Kind::Code), None);
        check("Artikel-Nr.", Some(Kind::Code), None);
        check("Max. use level %", Some(Kind::UseLevel), None);
        check("Ingrediant", Some(Kind::Name), None);
        check("Składnik", Some(Kind::Name), None);
        check("Hoeveelheid (g)", Some(Kind::Amount), Some(Unit::Gram));
        check("INCI-Bezeichnung", Some(Kind::Inci), None);
        check("INCI name", Some(Kind::Inci), None);
        check("CAS-Nr.", Some(Kind::Cas), None);
        check("%", Some(Kind::Percent), None);
        check("% w/w", Some(Kind::Percent), None);
        check("Use %", Some(Kind::Percent), None);
        check("Menge in %", Some(Kind::Percent), None);
        check("Menge (g)", Some(Kind::Amount), Some(Unit::Gram));
        check("Weight [kg]", Some(Kind::Amount), Some(Unit::Kilogram));
        check("g", Some(Kind::Amount), Some(Unit::Gram));
        check("Quantité", Some(Kind::Amount), None);
        check("Matière première", Some(Kind::Name), None);
        check("Price per kg", Some(Kind::Price), Some(Unit::Kilogram));
        check("Preis / kg", Some(Kind::Price), Some(Unit::Kilogram));
        check("Ingredient function", Some(Kind::Role), None);
        check("Währung", Some(Kind::Currency), None);
        check("Best before", Some(Kind::Expiry), None);
        check("Colour of the jar", None, None);
        check("", None, None);
    }

    #[test]
    fn a_table_without_headings_is_understood_by_its_content() {
        let table =
            super::super::text::read("A;Water;70,0\nA;Glycerin;5,0\nB;Betaine;25,0\n").unwrap();
        let layout = recognise(&table).unwrap();
        assert_eq!(layout.headings, None);
        assert_eq!(layout.place(Kind::Phase), Some(0));
        assert_eq!(layout.place(Kind::Name), Some(1));
        assert_eq!(layout.place(Kind::Percent), Some(2));
    }

    #[test]
    fn headings_below_a_title_are_found() {
        let table = super::super::text::read(
            "Moss conditioner;;\nversion 3;;\n;;\nPhase;Ingredient;%\nA;Water;70\n",
        )
        .unwrap();
        let layout = recognise(&table).unwrap();
        assert_eq!(layout.headings, Some(3));
        assert_eq!(layout.place(Kind::Percent), Some(2));
    }

    #[test]
    fn a_column_is_assigned_once() {
        let mut layout = Layout::default();
        layout.assign(2, Some(Kind::Percent));
        layout.assign(4, Some(Kind::Percent));
        assert_eq!(layout.place(Kind::Percent), Some(4));
        layout.assign(4, None);
        assert_eq!(layout.place(Kind::Percent), None);
    }
}
