//! A recipe in a table becomes a proposal, which the maker looks through, and then
//! a formula. Nothing is changed before that, and nothing half.

use std::fmt;

use rust_decimal::Decimal;

use super::columns::{Kind, Layout, recognise};
use super::matching::{Candidate, How, Matcher, Wanted};
use super::phase_words::{names_a_phase, phase_heading, phase_of_cell};
use super::qs::{Qs, quantum_satis};
use super::{Cell, Table, cell_name};
use crate::amount::number::{self, DecimalMark, NumberError, Unit};
use crate::cas::Cas;
use crate::inventory::inventory;
use crate::material::{MaterialId, PhaseKind};
use crate::quantity::Temperature;
use crate::search::words_of;

/// What the maker may settle before a table is read as a recipe.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Settings {
    /// What the columns mean, where it is not as recognised.
    pub layout: Option<Layout>,
    /// The decimal mark, where it is not as recognised.
    pub mark: Option<DecimalMark>,
    /// What to do if the lines do not add up to 100 %.
    pub reconcile: Reconcile,
}

/// What to do if the lines do not add up to 100 % and none is q.s.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub enum Reconcile {
    /// Keep the percentages; the check of the formula will say what is missing.
    #[default]
    AsWritten,
    /// Scale all lines to 100 %.
    Scale,
    /// Let the largest line of water take up the rest.
    Water,
}

impl Reconcile {
    /// All ways.
    pub const ALL: [Self; 3] = [Self::AsWritten, Self::Scale, Self::Water];
    /// The words shown for it.
    pub const fn label(self) -> &'static str {
        match self {
            Self::AsWritten => "keep as written",
            Self::Scale => "scale all lines to 100 %",
            Self::Water => "let water take up the rest",
        }
    }
}

/// How much of a line.
#[derive(Clone, PartialEq, Debug)]
pub enum Quantity {
    /// Percent by weight, as written.
    Percent(Decimal),
    /// Grams.
    Grams(Decimal),
    /// Millilitres; the mass follows from the density of the material.
    Millilitres(Decimal),
    /// Parts by weight, of a table that names no unit.
    Parts(Decimal),
    /// q.s.: whatever is left to the whole.
    Rest,
    /// q.s. for an effect such as a pH; enters at 0 % until it is known.
    AsNeeded,
}

impl fmt::Display for Quantity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Percent(value) => write!(f, "{} %", value.normalize()),
            Self::Grams(value) => write!(f, "{} g", value.normalize()),
            Self::Millilitres(value) => write!(f, "{} ml", value.normalize()),
            Self::Parts(value) if *value == Decimal::ONE => f.write_str("1 part"),
            Self::Parts(value) => write!(f, "{} parts", value.normalize()),
            Self::Rest => f.write_str("q.s."),
            Self::AsNeeded => f.write_str("q.s. for an effect"),
        }
    }
}

/// What a line's material will be.
#[derive(Clone, PartialEq, Debug)]
pub enum Choice {
    /// A material of the shelf.
    Known(MaterialId, How),
    /// A new material of the written name, unknown in composition.
    New,
    /// A new material taken as the pure substance of an inventory name.
    NewPure(&'static str),
}

/// A line of the recipe as it would be taken in.
#[derive(Clone, PartialEq, Debug)]
pub struct ProposedLine {
    /// Row of the table, counted from 1.
    pub row: usize,
    /// Which of [`Proposal::phases`].
    pub phase: usize,
    /// What the table says about the material.
    pub wanted: Wanted,
    /// What the table says the material does.
    pub role: String,
    /// How much.
    pub quantity: Quantity,
    /// The other reading of the amount, if its mark could be either.
    pub or: Option<Decimal>,
    /// Words beside the line.
    pub note: String,
    /// Materials of the shelf it may mean, surest first.
    pub candidates: Vec<Candidate>,
    /// What is taken unless the maker chooses otherwise.
    pub choice: Choice,
    /// Inventory names spelt like it, for a new material.
    pub suggestions: Vec<&'static str>,
}

/// A phase of the recipe.
#[derive(Clone, PartialEq, Debug)]
pub struct ProposedPhase {
    /// Letter.
    pub letter: String,
    /// What it is for, in the words of the table.
    pub purpose: String,
    /// Working temperature.
    pub temperature: Option<Temperature>,
    /// Kind as told by its words.
    pub kind: Option<PhaseKind>,
}

/// Something in the table that cannot be taken in.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Problem {
    /// Cell, "C7".
    pub cell: String,
    /// What is wrong and what to do.
    pub message: String,
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} (cell {})", self.message, self.cell)
    }
}

/// A recipe as it would be taken in.
#[derive(Clone, PartialEq, Debug)]
pub struct Proposal {
    /// Name proposed for the formula.
    pub name: String,
    /// What the columns mean.
    pub layout: Layout,
    /// The decimal mark, if the table tells it.
    pub mark: Option<DecimalMark>,
    /// Phases in order.
    pub phases: Vec<ProposedPhase>,
    /// Lines in order.
    pub lines: Vec<ProposedLine>,
    /// What must be put right before anything is taken in.
    pub problems: Vec<Problem>,
    /// What the maker should know.
    pub notes: Vec<String>,
    /// Text rows of the table that are no lines, such as the method.
    pub text: Vec<String>,
    /// The total that the table states.
    pub stated_total: Option<Decimal>,
    /// What to do if the lines do not add up to 100 %.
    pub reconcile: Reconcile,
}

/// Why no formula can be made of a table.
#[derive(Clone, PartialEq, Eq, Debug, thiserror::Error)]
pub enum RecipeError {
    /// No names or no amounts.
    #[error(
        "no column of materials and no column of percentages or grams was found; give the columns headings such as “Ingredient” and “%”, or name the columns"
    )]
    NoColumns,
    /// Columns but no lines.
    #[error("the columns were found, but no row below them has a material with an amount")]
    NoLines,
    /// More than any recipe has.
    #[error(
        "the list has {0} lines, and a recipe of at most {MOST_LINES} is read; a list of prices needs a column “Price”"
    )]
    TooManyLines(usize),
    /// Cells that must be put right first.
    #[error("{}", list(.0))]
    Problems(Vec<Problem>),
    /// The lines leave no room for the q.s. line.
    #[error(
        "the lines besides “{filler}” (q.s.) add up to {total} %, which leaves nothing for it; lower them to below 100 %"
    )]
    Overfull {
        /// The q.s. line.
        filler: String,
        /// Sum of the others.
        total: Decimal,
    },
    /// Nothing was weighed.
    #[error("the amounts add up to nothing; at least one line must be above 0")]
    NothingWeighed,
    /// A volume of a material of unknown density.
    #[error(
        "row {row}: {ml} ml of “{name}” cannot be turned into grams, because its density is not known; write the line in grams or percent, or enter the density on the shelf"
    )]
    NoDensity {
        /// Row of the table.
        row: usize,
        /// Millilitres.
        ml: Decimal,
        /// Name as written.
        name: String,
    },
    /// Percent and grams together.
    #[error(
        "row {row}: “{name}” is in grams or millilitres while other lines are in percent; write all lines in the same unit"
    )]
    Mixed {
        /// Row of the table.
        row: usize,
        /// Name as written.
        name: String,
    },
    /// The chosen material is not on the shelf.
    #[error("row {row}: “{id}” is not on the shelf")]
    Unknown {
        /// Row of the table.
        row: usize,
        /// The id.
        id: MaterialId,
    },
}

fn list(problems: &[Problem]) -> String {
    const SHOWN: usize = 10;
    let mut text: Vec<String> = problems
        .iter()
        .take(SHOWN)
        .map(Problem::to_string)
        .collect();
    if problems.len() > SHOWN {
        text.push(format!("and {} more", problems.len() - SHOWN));
    }
    text.join("\n")
}

/// Most lines of a recipe; matching more takes longer than anybody waits.
const MOST_LINES: usize = 5_000;

/// Words that make a row one of a sum, and those of a part of the whole.
const TOTALS: [&str; 12] = [
    "total",
    "totals",
    "sum",
    "summe",
    "gesamt",
    "gesamtmenge",
    "gesamtgewicht",
    "insgesamt",
    "totale",
    "somme",
    "suma",
    "somma",
];
const SUBTOTALS: [&str; 5] = [
    "subtotal",
    "subtotale",
    "zwischensumme",
    "teilsumme",
    "soustotal",
];
/// Words that say of what.
const OF_WHAT: [&str; 26] = [
    "sub", "sous", "partial", "partiel", "parcial", "grand", "batch", "weight", "mass", "amount",
    "percent", "formula", "recipe", "of", "the", "all", "de", "la", "le", "der", "phase", "fase",
    "general", "w", "g", "kg",
];

/// What a row of a sum adds up.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Sum {
    Whole,
    Part,
}

/// Whether a cell says that its row is a sum: "Total", "Grand total", "Summe Phase A".
fn sum_words(text: &str) -> Option<Sum> {
    let words = words_of(text);
    let has = |list: &[&str]| words.iter().any(|w| list.contains(&w.as_str()));
    let part = has(&SUBTOTALS) || has(&["sub", "sous", "phase", "fase", "partial"]);
    let known = |w: &String| {
        let w = w.as_str();
        TOTALS.contains(&w)
            || SUBTOTALS.contains(&w)
            || OF_WHAT.contains(&w)
            || w.len() == 1
            || w == "100"
    };
    let sums = (has(&TOTALS) || has(&SUBTOTALS)) && words.iter().all(known);
    sums.then_some(if part { Sum::Part } else { Sum::Whole })
}

/// Reads a table as a recipe and matches its materials with a shelf.
pub fn propose(
    table: &Table,
    title: &str,
    settings: &Settings,
    matcher: &Matcher<'_>,
) -> Result<Proposal, RecipeError> {
    let layout = match &settings.layout {
        Some(layout) => layout.clone(),
        None => recognise(table).ok_or(RecipeError::NoColumns)?,
    };
    let reader = Reader::new(table, layout, settings)?;
    let mut proposal = reader.read(title, matcher)?;
    proposal.reconcile = settings.reconcile;
    if table.formulas > 0 {
        proposal.notes.push(match table.formulas {
            1 => "one cell holds a formula; the value saved with it was taken".to_owned(),
            many => format!("{many} cells hold formulas; the values saved with them were taken"),
        });
    }
    proposal.add_total_notes();
    Ok(proposal)
}

/// Reads the rows of one table.
struct Reader<'t> {
    table: &'t Table,
    layout: Layout,
    names: usize,
    percent: Option<usize>,
    amount: Option<usize>,
    mark: Option<DecimalMark>,
    /// The row below the last one of the list.
    end: usize,
    /// Percentages are stored as fractions of 1.
    fractions: bool,
    /// No amount has a unit.
    parts: bool,
}

/// What a row says of a material.
struct Row {
    name: String,
    inci: String,
    read: Read,
}

/// What an amount cell says.
enum Read {
    Quantity(Quantity, Option<Decimal>),
    Problem(String),
    Nothing,
}

impl<'t> Reader<'t> {
    fn new(table: &'t Table, layout: Layout, settings: &Settings) -> Result<Self, RecipeError> {
        let names = layout
            .place(Kind::Name)
            .or_else(|| layout.place(Kind::Inci))
            .ok_or(RecipeError::NoColumns)?;
        let percent = layout.place(Kind::Percent);
        let amount = layout.place(Kind::Amount);
        let rows = layout.first_row()..table.rows.len();
        let end = rows
            .clone()
            .find(|&row| layout.is_repeated_in(table, row))
            .unwrap_or(table.rows.len());
        let rows = rows.start..end;
        let texts: Vec<&str> = percent
            .into_iter()
            .chain(amount)
            .flat_map(|column| rows.clone().map(move |row| table.cell(row, column)))
            .filter_map(|cell| match cell {
                Cell::Text(text) => Some(text.as_str()),
                _ => None,
            })
            .collect();
        let mark = settings.mark.or_else(|| number::mark_of(texts));
        let mut reader = Self {
            table,
            layout,
            names,
            percent,
            amount,
            mark,
            end,
            fractions: false,
            parts: false,
        };
        reader.fractions = reader.are_fractions();
        reader.parts = reader.are_parts();
        Ok(reader)
    }

    fn rows(&self) -> std::ops::Range<usize> {
        self.layout.first_row()..self.end
    }

    /// Amounts of which neither heading nor any cell names a unit are parts.
    fn are_parts(&self) -> bool {
        let Some(column) = self.amount else {
            return false;
        };
        let has_unit = |row: usize| {
            Unit::named(&self.words(row, Kind::Unit)).is_some()
                || match self.table.cell(row, column) {
                    Cell::Number { percent, .. } => *percent,
                    Cell::Text(text) => {
                        number::amount(text, self.mark).is_ok_and(|a| a.unit.is_some())
                    }
                    _ => false,
                }
        };
        self.percent.is_none()
            && self.layout.unit(Kind::Amount).is_none()
            && !self.rows().any(has_unit)
    }

    /// Percentages that all lie within 0 to 1 and add up to 1 are fractions of 1, as
    /// a sheet stores what it shows as per cent.
    fn are_fractions(&self) -> bool {
        let Some(column) = self.percent else {
            return false;
        };
        let mut total = Decimal::ZERO;
        let mut largest = Decimal::ZERO;
        for row in self.rows() {
            if self.sum(row).is_some() {
                continue;
            }
            match self.table.cell(row, column) {
                Cell::Number { percent: true, .. } => return false,
                Cell::Number { value, .. } => {
                    total += *value;
                    largest = largest.max(*value);
                }
                Cell::Text(text) => {
                    if let Ok(amount) = number::amount(text, self.mark) {
                        if amount.unit.is_some() {
                            return false;
                        }
                        total += amount.value;
                        largest = largest.max(amount.value);
                    }
                }
                _ => {}
            }
        }
        largest <= Decimal::ONE && (total - Decimal::ONE).abs() <= Decimal::new(2, 2)
    }

    /// Whether a row is a sum, and of what.
    fn sum(&self, row: usize) -> Option<Sum> {
        (0..self.table.width()).find_map(|column| match self.table.cell(row, column) {
            Cell::Text(text) => sum_words(text),
            _ => None,
        })
    }

    fn words(&self, row: usize, kind: Kind) -> String {
        self.layout
            .place(kind)
            .map(|column| self.table.cell(row, column).words())
            .unwrap_or_default()
    }

    fn read(self, title: &str, matcher: &Matcher<'_>) -> Result<Proposal, RecipeError> {
        let mut proposal = Proposal {
            name: title.to_owned(),
            layout: self.layout.clone(),
            mark: self.mark,
            phases: Vec::new(),
            lines: Vec::new(),
            problems: Vec::new(),
            notes: Vec::new(),
            text: Vec::new(),
            stated_total: None,
            reconcile: Reconcile::AsWritten,
        };
        for row in 0..self.layout.headings.unwrap_or(0) {
            let line = self.row_text(row);
            if !line.is_empty() {
                proposal.text.push(line);
            }
        }
        if self.fractions {
            proposal.notes.push(
                "the percentages are stored as fractions of 1 and were multiplied by 100"
                    .to_owned(),
            );
        }
        if self.parts {
            proposal.notes.push(
                "the amounts name no unit and were taken as parts of the whole, by weight"
                    .to_owned(),
            );
        }
        let last = self
            .rows()
            .rev()
            .find(|&row| {
                self.sum(row).is_none() && matches!(self.row(row).read, Read::Quantity(..))
            })
            .unwrap_or(0);
        let mut phase = None;
        for row in self.rows() {
            self.read_row(row, row < last, &mut phase, &mut proposal, matcher);
        }
        if self.end < self.table.rows.len() {
            proposal.notes.push(format!(
                "a second list begins in row {} and was left out; to take it in, put it on a sheet of its own",
                self.end + 1
            ));
        }
        proposal.notes.extend(self.layout.doubled_in(self.table));
        self.compare_columns(&mut proposal);
        if proposal.lines.is_empty() && proposal.problems.is_empty() {
            return Err(if self.percent.is_none() && self.amount.is_none() {
                RecipeError::NoColumns
            } else {
                RecipeError::NoLines
            });
        }
        if proposal.lines.len() > MOST_LINES {
            return Err(RecipeError::TooManyLines(proposal.lines.len()));
        }
        for line in &mut proposal.lines {
            (line.candidates, line.choice, line.suggestions) = decide(&line.wanted, matcher);
        }
        proposal.letter_phases();
        proposal.settle_rest();
        Ok(proposal)
    }

    fn row_text(&self, row: usize) -> String {
        let cells: Vec<String> = (0..self.table.width())
            .map(|column| self.table.cell(row, column).words())
            .filter(|words| !words.is_empty())
            .collect();
        cells.join(" ")
    }

    /// What a row says of a material: its names and how much of it.
    fn row(&self, row: usize) -> Row {
        let mut name = self.table.cell(row, self.names).words();
        let inci = self.words(row, Kind::Inci);
        if name.is_empty() {
            name.clone_from(&inci);
        }
        let mut read = self.quantity(row, &name);
        // "Glycerin 5 %" in one cell, if there is no column of amounts.
        if self.percent.is_none() && self.amount.is_none() {
            (name, read) = split_amount(&name, self.mark);
        }
        Row { name, inci, read }
    }

    /// A row of words without an amount. Inside the list it begins a phase, or is a
    /// material whose amount is missing, or a remark; what stands `after` it all, such
    /// as the method, is kept as text.
    fn read_words(
        &self,
        row: usize,
        inside: bool,
        wanted: &Wanted,
        phase: &mut Option<usize>,
        proposal: &mut Proposal,
        matcher: &Matcher<'_>,
    ) {
        let text = self.row_text(row);
        let phase_cell = self.words(row, Kind::Phase);
        let known = || {
            let found = matcher.candidates(wanted);
            found
                .first()
                .is_some_and(|c| c.how.is_taken() && !c.how.is_doubtful())
        };
        if !inside {
            proposal.text.push(text);
        } else if let Some(heading) = phase_heading(&text) {
            *phase = Some(proposal.enter_phase(heading));
        } else if wanted.name.is_empty() && names_a_phase(&phase_cell) {
            *phase = Some(proposal.enter_phase(phase_of_cell(&phase_cell)));
        } else if self.amount_is_empty(row) && (!wanted.inci.is_empty() || known()) {
            proposal.problems.push(Problem {
                cell: self.amount_cell(row),
                message: format!(
                    "“{}” has no amount; write how much goes in, or q.s., or delete the row",
                    wanted.name
                ),
            });
        } else {
            proposal.notes.push(format!(
                "row {}: “{text}” has no amount and was kept as a remark",
                row + 1
            ));
            proposal.text.push(text);
        }
    }

    fn amount_is_empty(&self, row: usize) -> bool {
        let mut columns = self.percent.into_iter().chain(self.amount);
        columns.all(|column| self.table.cell(row, column).is_empty())
    }

    /// Where a table has percentages and amounts, the percentages are taken; amounts
    /// that do not fit them are named.
    fn compare_columns(&self, proposal: &mut Proposal) {
        let (Some(_), Some(column)) = (self.percent, self.amount) else {
            return;
        };
        let both: Vec<(usize, Decimal, Decimal)> = proposal
            .lines
            .iter()
            .filter_map(|line| {
                let Quantity::Percent(percent) = line.quantity else {
                    return None;
                };
                let row = line.row - 1;
                let unit = Unit::named(&self.words(row, Kind::Unit))
                    .or(self.layout.unit(Kind::Amount))
                    .or(Some(Unit::Gram));
                match self.read_cell(self.table.cell(row, column), unit, "") {
                    Read::Quantity(Quantity::Grams(grams), _) if !percent.is_zero() => {
                        Some((line.row, percent, grams))
                    }
                    _ => None,
                }
            })
            .collect();
        // The middle of the ratios by weight, which a slip in a row does not move.
        let mut sorted = both.clone();
        sorted.sort_by_key(|(_, percent, grams)| *grams / *percent);
        let whole: Decimal = sorted.iter().map(|(_, percent, _)| percent).sum();
        let mut passed = Decimal::ZERO;
        let Some((_, middle, each)) = sorted.into_iter().find_map(|(row, percent, grams)| {
            passed += percent;
            (passed * Decimal::TWO >= whole).then_some((row, percent, grams / percent))
        }) else {
            return;
        };
        // Both columns are rounded to as many digits as the longest of their numbers has.
        let half_step = |digits: Option<u32>| Decimal::new(5, digits.unwrap_or(0).min(20) + 1);
        let digits = |value: &Decimal| value.normalize().scale();
        let slack = half_step(both.iter().map(|(_, _, g)| digits(g)).max())
            + half_step(both.iter().map(|(_, p, _)| digits(p)).max()) * each;
        for (row, percent, grams) in both {
            let fits = percent * each;
            // The middle itself is rounded as well.
            let slack = slack + slack * percent / middle;
            if (grams - fits).abs() > slack {
                proposal.notes.push(format!(
                    "row {row}: {} g does not fit {} %, which would be {} g as in the other rows; the percentage was taken",
                    grams.normalize(),
                    percent.normalize(),
                    fits.round_dp(3).normalize()
                ));
            }
        }
    }

    fn read_row(
        &self,
        row: usize,
        inside: bool,
        phase: &mut Option<usize>,
        proposal: &mut Proposal,
        matcher: &Matcher<'_>,
    ) {
        if self.row_text(row).is_empty() {
            return;
        }
        if let Some(sum) = self.sum(row) {
            if sum == Sum::Whole
                && let Read::Quantity(
                    Quantity::Percent(v) | Quantity::Grams(v) | Quantity::Parts(v),
                    _,
                ) = self.quantity(row, "")
            {
                proposal.stated_total = Some(v);
            }
            return;
        }
        let Row { name, inci, read } = self.row(row);
        let wanted = Wanted {
            name: clean_name(&name),
            inci: clean_name(&inci),
            cas: None,
            supplier: self.words(row, Kind::Supplier),
        };
        let phase_cell = self.words(row, Kind::Phase);
        match read {
            Read::Nothing => self.read_words(row, inside, &wanted, phase, proposal, matcher),
            Read::Problem(message) => proposal.problems.push(Problem {
                cell: self.amount_cell(row),
                message,
            }),
            Read::Quantity(..) if name.is_empty() => {
                // A sum without a word, or a slip.
                proposal.notes.push(format!(
                    "row {} has an amount but no material and was left out",
                    row + 1
                ));
            }
            Read::Quantity(quantity, or) => {
                if !phase_cell.is_empty() {
                    *phase = Some(proposal.enter_phase(phase_of_cell(&phase_cell)));
                }
                let at = *phase.get_or_insert_with(|| {
                    proposal.enter_phase(ProposedPhase {
                        letter: "A".to_owned(),
                        purpose: String::new(),
                        temperature: None,
                        kind: None,
                    })
                });
                let cas = self.words(row, Kind::Cas);
                let (cas, note) = match first_cas(&cas) {
                    Ok(cas) => (cas, None),
                    Err(told) => (None, Some(told)),
                };
                proposal
                    .notes
                    .extend(note.map(|told| format!("row {}: {told}", row + 1)));
                proposal.lines.push(ProposedLine {
                    row: row + 1,
                    phase: at,
                    wanted: Wanted { cas, ..wanted },
                    role: self.words(row, Kind::Role),
                    quantity,
                    or,
                    note: self.words(row, Kind::Note),
                    candidates: Vec::new(),
                    choice: Choice::New,
                    suggestions: Vec::new(),
                });
            }
        }
    }

    fn amount_cell(&self, row: usize) -> String {
        let column = self.percent.or(self.amount).unwrap_or(self.names);
        cell_name(row, column)
    }

    /// The quantity of a row: its percentage if there is one, else its amount.
    fn quantity(&self, row: usize, name: &str) -> Read {
        if let Some(column) = self.percent {
            match self.read_cell(self.table.cell(row, column), Some(Unit::Percent), name) {
                Read::Nothing => {}
                Read::Quantity(Quantity::Percent(value), or) if self.fractions => {
                    return Read::Quantity(
                        Quantity::Percent(value * Decimal::ONE_HUNDRED),
                        or.map(|o| o * Decimal::ONE_HUNDRED),
                    );
                }
                read => return read,
            }
        }
        let Some(column) = self.amount else {
            return Read::Nothing;
        };
        // Where a column of percentages exists, the amounts only repeat it.
        if self.percent.is_some() {
            return Read::Nothing;
        }
        let unit = Unit::named(&self.words(row, Kind::Unit)).or(self.layout.unit(Kind::Amount));
        self.read_cell(self.table.cell(row, column), unit, name)
    }

    fn read_cell(&self, cell: &Cell, unit: Option<Unit>, name: &str) -> Read {
        let (value, unit, or) = match cell {
            Cell::Empty => return Read::Nothing,
            Cell::Number {
                value,
                percent: true,
            } => (*value * Decimal::ONE_HUNDRED, Some(Unit::Percent), None),
            Cell::Number { value, .. } => (*value, unit, None),
            Cell::Text(text) if text.trim().is_empty() || is_dash(text) => return Read::Nothing,
            Cell::Text(text) => {
                if let Some(qs) = quantum_satis(text) {
                    return Read::Quantity(
                        match qs {
                            Qs::ToWhole => Quantity::Rest,
                            Qs::Plain if looks_like_water(name) => Quantity::Rest,
                            // Settled when all lines are known.
                            Qs::Plain | Qs::Effect => Quantity::AsNeeded,
                        },
                        None,
                    );
                }
                match number::amount(text, self.mark) {
                    Ok(amount) => (amount.value, amount.unit.or(unit), amount.or),
                    Err(error) => {
                        return Read::Problem(match error {
                            NumberError::NotANumber(_) => {
                                format!("{error}; write a number such as 2.5, or q.s.")
                            }
                            told => told.to_string(),
                        });
                    }
                }
            }
            Cell::Date(date) => {
                return Read::Problem(format!(
                    "the spreadsheet has turned an amount into the date {date}; format the cell as a number and type it again"
                ));
            }
            Cell::Truth(_) => {
                return Read::Problem("yes or no is not an amount; write a number".to_owned());
            }
            Cell::Fault(fault) => {
                return Read::Problem(format!(
                    "the cell holds {fault}; open the file in a spreadsheet program, mend the cell and save it"
                ));
            }
        };
        if value < Decimal::ZERO {
            return Read::Problem(format!("{value} is below 0; write the amount that goes in"));
        }
        let quantity = match unit {
            Some(Unit::Percent) => {
                if value > Decimal::ONE_HUNDRED {
                    return Read::Problem(format!(
                        "{value} % is more than the whole; write a percentage up to 100, or give the column the heading “g”"
                    ));
                }
                Quantity::Percent(value)
            }
            None if self.parts => Quantity::Parts(value),
            None => Quantity::Grams(value),
            Some(unit) => match (unit.grams(), unit.millilitres()) {
                (Some(each), _) => Quantity::Grams(value * each),
                (_, Some(each)) => Quantity::Millilitres(value * each),
                _ => Quantity::Percent(value),
            },
        };
        Read::Quantity(quantity, or)
    }
}

/// The materials that a row may mean, what is taken unless the maker chooses
/// otherwise, and inventory names spelt like it if that is a new material.
pub(super) fn decide(
    wanted: &Wanted,
    matcher: &Matcher<'_>,
) -> (Vec<Candidate>, Choice, Vec<&'static str>) {
    let candidates = matcher.candidates(wanted);
    if let Some(best) = candidates.first()
        && best.how.is_taken()
    {
        let choice = Choice::Known(best.id.clone(), best.how);
        return (candidates, choice, Vec::new());
    }
    let written = if wanted.inci.is_empty() {
        &wanted.name
    } else {
        &wanted.inci
    };
    let suggestions = match inventory().by_name(written) {
        Some(entry) => vec![entry.name],
        None => inventory()
            .nearest(written, 3)
            .iter()
            .map(|e| e.name)
            .collect(),
    };
    (candidates, Choice::New, suggestions)
}

fn is_dash(text: &str) -> bool {
    matches!(text.trim(), "-" | "–" | "—" | "n/a" | "N/A")
}

fn looks_like_water(name: &str) -> bool {
    words_of(name).iter().any(|w| {
        matches!(
            w.as_str(),
            "water" | "aqua" | "wasser" | "eau" | "agua" | "acqua"
        )
    })
}

/// A name without the marks of footnotes.
pub(super) fn clean_name(name: &str) -> String {
    name.trim()
        .trim_end_matches(|c: char| {
            matches!(c, '*' | '†' | '‡' | '¹' | '²' | '³') || c.is_whitespace()
        })
        .to_owned()
}

/// The first CAS number of a cell, or why it holds none.
pub(super) fn first_cas(text: &str) -> Result<Option<Cas>, String> {
    let text = text.trim();
    if text.is_empty() || is_dash(text) {
        return Ok(None);
    }
    let mut fault = None;
    for part in text
        .split([',', ';', '/', ' ', '\n'])
        .filter(|p| !p.is_empty())
    {
        match part.parse::<Cas>() {
            Ok(cas) => return Ok(Some(cas)),
            Err(error) => fault = fault.or(Some(error)),
        }
    }
    Err(fault.map_or_else(String::new, |f| format!("{f}; the number was left out")))
}

/// "Glycerin 5 %", "5 % Glycerin", "70,5 Water" as name and amount.
fn split_amount(text: &str, mark: Option<DecimalMark>) -> (String, Read) {
    let words: Vec<&str> = text.split_whitespace().collect();
    let quantity = |part: &str| -> Option<Read> {
        if let Some(qs) = quantum_satis(part) {
            return Some(Read::Quantity(
                if qs == Qs::Effect {
                    Quantity::AsNeeded
                } else {
                    Quantity::Rest
                },
                None,
            ));
        }
        let amount = number::amount(part, mark).ok()?;
        let unit = amount.unit?;
        let quantity = match (unit.grams(), unit.millilitres()) {
            (Some(each), _) => Quantity::Grams(amount.value * each),
            (_, Some(each)) => Quantity::Millilitres(amount.value * each),
            _ if amount.value > Decimal::ONE_HUNDRED => return None,
            _ => Quantity::Percent(amount.value),
        };
        Some(Read::Quantity(quantity, amount.or))
    };
    // The longest run of words at either end that is an amount.
    for count in (1..=words.len().saturating_sub(1).min(4)).rev() {
        let (name, end) = words.split_at(words.len() - count);
        if let Some(read) = quantity(&end.join(" ")) {
            return (strip_marks(&name.join(" ")), read);
        }
        let (start, name) = words.split_at(count);
        if let Some(read) = quantity(&start.join(" ")) {
            return (strip_marks(&name.join(" ")), read);
        }
    }
    (text.to_owned(), Read::Nothing)
}

fn strip_marks(name: &str) -> String {
    name.trim_matches(|c: char| c.is_whitespace() || matches!(c, ':' | '-' | '–' | ',' | '•' | '.'))
        .to_owned()
}

impl ProposedLine {
    /// Whether its material is water, by its name or its match.
    pub(super) fn is_water(&self) -> bool {
        looks_like_water(&self.wanted.name) || looks_like_water(&self.wanted.inci)
    }
}

impl Proposal {
    /// The place of a phase, made if it is new.
    fn enter_phase(&mut self, phase: ProposedPhase) -> usize {
        let same = |known: &ProposedPhase| {
            if phase.letter.is_empty() {
                known.purpose.eq_ignore_ascii_case(&phase.purpose)
            } else {
                known.letter == phase.letter
            }
        };
        if let Some(place) = self.phases.iter().position(same) {
            return place;
        }
        self.phases.push(phase);
        self.phases.len() - 1
    }

    /// Gives every phase without a letter the next that is free, in order of work.
    fn letter_phases(&mut self) {
        let used = |n: usize| self.lines.iter().any(|l| l.phase == n);
        let place = |n: usize| (0..n).filter(|&m| used(m)).count();
        let mut taken: Vec<String> = self.phases.iter().map(|p| p.letter.clone()).collect();
        for n in 0..self.phases.len() {
            if taken.get(n).is_some_and(String::is_empty) && used(n) {
                let letter = (place(n)..=place(n) + self.phases.len())
                    .map(|m| char::from(b'A' + (m % 26) as u8).to_string() + &"'".repeat(m / 26))
                    .find(|letter| !taken.contains(letter));
                if let (Some(slot), Some(letter)) = (taken.get_mut(n), letter) {
                    *slot = letter;
                }
            }
        }
        for (phase, letter) in self.phases.iter_mut().zip(taken) {
            phase.letter = letter;
        }
    }

    /// Exactly one line takes up the rest. A "q.s." that does not say to what is the
    /// rest only if the other lines leave one.
    fn settle_rest(&mut self) {
        let rests = |p: &Proposal| {
            p.lines
                .iter()
                .filter(|l| l.quantity == Quantity::Rest)
                .count()
        };
        if rests(self) == 0 {
            let total: Decimal = self
                .lines
                .iter()
                .map(|l| match l.quantity {
                    Quantity::Percent(v) => v,
                    _ => Decimal::ZERO,
                })
                .sum();
            let in_percent = self
                .lines
                .iter()
                .any(|l| matches!(l.quantity, Quantity::Percent(_)));
            let open: Vec<usize> = self
                .lines
                .iter()
                .enumerate()
                .filter(|(_, l)| l.quantity == Quantity::AsNeeded)
                .map(|(n, _)| n)
                .collect();
            if in_percent
                && let [only] = open.as_slice()
                && total < Decimal::new(995, 1)
                && let Some(line) = self.lines.get_mut(*only)
            {
                line.quantity = Quantity::Rest;
            }
        }
        if rests(self) > 1 {
            // Water, if it is among them, else the first.
            let keep = self
                .lines
                .iter()
                .position(|l| l.quantity == Quantity::Rest && l.is_water())
                .or_else(|| self.lines.iter().position(|l| l.quantity == Quantity::Rest));
            for (n, line) in self.lines.iter_mut().enumerate() {
                if line.quantity == Quantity::Rest && Some(n) != keep {
                    line.quantity = Quantity::AsNeeded;
                }
            }
        }
        for line in &self.lines {
            if line.quantity == Quantity::AsNeeded {
                self.notes.push(format!(
                    "row {}: “{}” is q.s. for an effect and enters at 0 %; set it when the amount is known",
                    line.row, line.wanted.name
                ));
            }
            if let Some(or) = line.or {
                self.notes.push(format!(
                    "row {}: the amount of “{}” could also be {}; name the decimal mark if it is",
                    line.row,
                    line.wanted.name,
                    or.normalize()
                ));
            }
        }
    }

    /// Sum of the lines in percent, the q.s. line not counted; `None` if the recipe
    /// is in grams.
    pub fn percent_total(&self) -> Option<Decimal> {
        let mut total = None;
        for line in &self.lines {
            if let Quantity::Percent(value) = line.quantity {
                total = Some(total.unwrap_or(Decimal::ZERO) + value);
            }
        }
        total
    }

    /// Whether a line takes up the rest.
    pub fn has_rest(&self) -> bool {
        self.lines.iter().any(|l| l.quantity == Quantity::Rest)
    }

    fn add_total_notes(&mut self) {
        let in_percent = self.percent_total();
        let weighed = self.lines.iter().filter_map(|l| match l.quantity {
            Quantity::Grams(v) | Quantity::Parts(v) => Some(v),
            _ => None,
        });
        let total = in_percent.unwrap_or_else(|| weighed.sum());
        // What is in millilitres does not add up with grams.
        let volumes = |l: &ProposedLine| matches!(l.quantity, Quantity::Millilitres(_));
        if self.has_rest() || self.lines.iter().any(volumes) {
            return;
        }
        let unit = match (in_percent, self.lines.first().map(|l| &l.quantity)) {
            (Some(_), _) => " %",
            (None, Some(Quantity::Grams(_))) => " g",
            _ => "",
        };
        if in_percent.is_some() && total != Decimal::ONE_HUNDRED {
            self.notes.push(format!(
                "the lines add up to {} %, not 100; choose whether to keep them, scale them, or let water take up the rest",
                total.normalize()
            ));
        }
        if let Some(stated) = self.stated_total
            && (stated - total).abs() > Decimal::new(5, 3)
            && (in_percent.is_none()
                || (stated * Decimal::ONE_HUNDRED - total).abs() > Decimal::new(5, 3))
        {
            self.notes.push(format!(
                "the table states a total of {}{unit}, but its lines add up to {}{unit}; a line may be missing, or be a sum",
                stated.normalize(),
                total.normalize()
            ));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::accept::Accepted;
    use super::*;
    use crate::material::{Basis, Class, Material, Source};
    use crate::quantity::{self, Percent, in_celsius, in_grams};
    use crate::shelf::Shelf;
    use std::sync::Arc;

    fn shelf() -> Shelf {
        let pure = |name: &str, inci: &str, phase: PhaseKind| {
            let mut m = Material::pure(MaterialId::from_name(name), name, inci, None, Class::Other);
            m.phase = Some(phase);
            m
        };
        let mut glycerin = pure("Glycerin", "Glycerin", PhaseKind::Water);
        glycerin.density = Some(crate::material::Sourced::new(
            quantity::kg_per_m3(1260.0),
            Source::new(Basis::Typical, ""),
        ));
        [
            pure("Purified water", "Aqua", PhaseKind::Water),
            glycerin,
            pure(
                "Sunflower oil",
                "Helianthus Annuus Seed Oil",
                PhaseKind::Oil,
            ),
            pure("Citric acid", "Citric Acid", PhaseKind::Adjust),
        ]
        .into_iter()
        .map(Arc::new)
        .collect()
    }

    fn read(text: &str, settings: &Settings) -> Result<(Proposal, Accepted), RecipeError> {
        let shelf = shelf();
        let matcher = Matcher::new(&shelf);
        let table = super::super::read_text(text).unwrap().remove(0);
        let proposal = propose(&table, "Test", settings, &matcher)?;
        let accepted = proposal.accept(&matcher)?;
        Ok((proposal, accepted))
    }

    fn check(text: &str, expected: &[(&str, &str, &str)]) -> (Proposal, Accepted) {
        let (proposal, accepted) = read(text, &Settings::default()).unwrap();
        let variant = accepted.formula.active();
        let got: Vec<(String, String, String)> = variant
            .lines()
            .map(|(p, l)| {
                (
                    p.letter.to_string(),
                    l.material.to_string(),
                    l.percent.to_string(),
                )
            })
            .collect();
        let got: Vec<(&str, &str, &str)> = got
            .iter()
            .map(|(a, b, c)| (a.as_str(), b.as_str(), c.as_str()))
            .collect();
        assert_eq!(got, expected, "for\n{text}");
        (proposal, accepted)
    }

    #[test]
    fn a_plain_recipe_in_percent() {
        let (_, accepted) = check(
            "Phase,Ingredient,%\nA,Water,70\nA,Glycerine,5\nB,Sunflower oil,25\n",
            &[
                ("A", "purified-water", "70"),
                ("A", "glycerin", "5"),
                ("B", "sunflower-oil", "25"),
            ],
        );
        assert_eq!(accepted.formula.active().total(), Percent::HUNDRED);
        assert_eq!(accepted.formula.active().phases[1].kind, PhaseKind::Oil);
        assert!(accepted.new_materials.is_empty());
        assert_eq!(accepted.formula.materials.len(), 3);
    }

    #[test]
    fn qs_fills_to_the_whole() {
        for qs in [
            "q.s.",
            "qs 100",
            "ad 100 %",
            "to 100",
            "q.s. ad 100",
            "Rest",
            "QSP 100",
            "q.b. a 100",
        ] {
            let (_, accepted) = check(
                &format!("Phase;Rohstoff;Menge in %\nA;Wasser;{qs}\nA;Glycerin;5,5\n"),
                &[("A", "wasser", "94.5"), ("A", "glycerin", "5.5")],
            );
            let variant = accepted.formula.active();
            assert_eq!(variant.filler, variant.lines().next().map(|(_, l)| l.id));
        }
    }

    #[test]
    fn qs_for_an_effect_is_not_the_filler() {
        let (proposal, _) = check(
            "Ingredient\t%\nWater\tq.s. to 100\nGlycerin\t5\nCitric acid\tq.s. to pH 5.5\n",
            &[
                ("A", "purified-water", "95"),
                ("A", "glycerin", "5"),
                ("A", "citric-acid", "0"),
            ],
        );
        assert!(proposal.notes.iter().any(|n| n.contains("enters at 0 %")));
    }

    #[test]
    fn phases_come_from_headings() {
        let (_, accepted) = check(
            "Ingredient\t%\nPhase A (75 °C)\t\nWater\t70\nGlycerin\t5\nOil phase\t\nSunflower oil\t25\nTotal\t100\nMethod\t\nHeat phase A to 75 °C and stir.\t\n",
            &[
                ("A", "purified-water", "70"),
                ("A", "glycerin", "5"),
                ("B", "sunflower-oil", "25"),
            ],
        );
        let phases = &accepted.formula.active().phases;
        assert!((in_celsius(phases[0].temperature.unwrap()) - 75.0).abs() < 1e-9);
        assert_eq!(phases[1].kind, PhaseKind::Oil);
        assert_eq!(phases[1].purpose.as_ref(), "Oil phase");
        assert_eq!(
            accepted.formula.notes.as_ref(),
            "Method\nHeat phase A to 75 °C and stir."
        );
    }

    #[test]
    fn grams_become_percent_and_the_batch_is_kept() {
        let (_, accepted) = check(
            "Zutat;Menge (g)\nWasser gereinigt;350\nGlycerin;100\nSunflower oil;50\n",
            &[
                ("A", "wasser-gereinigt", "70"),
                ("A", "glycerin", "20"),
                ("A", "sunflower-oil", "10"),
            ],
        );
        assert!((in_grams(accepted.formula.active().batch) - 500.0).abs() < 1e-9);
        assert_eq!(accepted.new_materials.len(), 1);
        // Thirds cannot be exact; the total is all the same.
        let (_, accepted) = check(
            "Zutat;g\nWater;1\nGlycerin;1\nSunflower oil;1\n",
            &[
                ("A", "purified-water", "33.333334"),
                ("A", "glycerin", "33.333333"),
                ("A", "sunflower-oil", "33.333333"),
            ],
        );
        assert_eq!(accepted.formula.active().total(), Percent::HUNDRED);
    }

    #[test]
    fn units_and_volumes_are_converted() {
        // 10 ml of glycerin at 1.26 g/ml are 12.6 g.
        check(
            "Ingredient,Amount,Unit\nWater,0.0874,kg\nGlycerin,10,ml\n",
            &[("A", "purified-water", "87.4"), ("A", "glycerin", "12.6")],
        );
        let told = read(
            "Ingredient,Amount\nWater,90 g\nSunflower oil,10 ml\n",
            &Settings::default(),
        );
        assert!(matches!(told, Err(RecipeError::NoDensity { row: 3, .. })));
    }

    #[test]
    fn totals_are_reconciled_as_chosen() {
        let text = "Ingredient,%\nWater,70\nGlycerin,20\n";
        let with = |reconcile| {
            let settings = Settings {
                reconcile,
                ..Settings::default()
            };
            let (_, accepted) = read(text, &settings).unwrap();
            accepted
                .formula
                .active()
                .lines()
                .map(|(_, l)| l.percent.to_string())
                .collect::<Vec<_>>()
        };
        assert_eq!(with(Reconcile::AsWritten), ["70", "20"]);
        assert_eq!(with(Reconcile::Water), ["80", "20"]);
        assert_eq!(with(Reconcile::Scale), ["77.777778", "22.222222"]);
        let (proposal, _) = read(text, &Settings::default()).unwrap();
        assert!(proposal.notes.iter().any(|n| n.contains("90 %, not 100")));
    }

    #[test]
    fn sums_of_phases_are_no_lines() {
        let (proposal, _) = check(
            "Ingredient\t%\nPHASE A\t\nWater\t70\nGlycerin\t5\nSubtotal\t75\nCool down below 40°C\t\nSunflower oil\t25\nSum of phase B\t25\nGrand total\t100\n",
            &[
                ("A", "purified-water", "70"),
                ("A", "glycerin", "5"),
                ("B", "sunflower-oil", "25"),
            ],
        );
        assert_eq!(proposal.phases[1].kind, Some(PhaseKind::CoolDown));
        assert_eq!(proposal.stated_total, Some(Decimal::ONE_HUNDRED));
        assert_eq!(proposal.notes, Vec::<String>::new());
    }

    #[test]
    fn a_second_list_is_left_out_and_named() {
        let (proposal, _) = check(
            "Ingredient\t%\nWater\t95\nGlycerin\t5\n\nSecond try\t\nIngredient\t%\nWater\t90\nGlycerin\t10\n",
            &[("A", "purified-water", "95"), ("A", "glycerin", "5")],
        );
        assert!(proposal.notes.iter().any(|n| n.contains("begins in row 6")));
        let (proposal, _) = check(
            "Ingredient\tV1 %\tV2 %\nWater\t95\t90\nGlycerin\t5\t10\n",
            &[("A", "purified-water", "95"), ("A", "glycerin", "5")],
        );
        assert_eq!(
            proposal.notes,
            [
                "several columns hold a percent: B1 “V1 %”, C1 “V2 %”; B1 was taken, choose another if it is not the one"
            ]
        );
    }

    #[test]
    fn amounts_without_a_unit_are_parts() {
        let (proposal, accepted) = check(
            "Ingredient\tParts\nWater\t3\nGlycerin\t1\n",
            &[("A", "purified-water", "75"), ("A", "glycerin", "25")],
        );
        assert!(proposal.notes.iter().any(|n| n.contains("no unit")));
        let usual = crate::formula::Formula::new("x").active().batch;
        assert_eq!(accepted.formula.active().batch, usual);
    }

    #[test]
    fn amounts_that_do_not_fit_the_percentages_are_named() {
        let (proposal, _) = check(
            "Ingredient,%,g\nWater,70.0,350.00\nGlycerin,20,100\nSunflower oil,10,55\n",
            &[
                ("A", "purified-water", "70"),
                ("A", "glycerin", "20"),
                ("A", "sunflower-oil", "10"),
            ],
        );
        assert_eq!(
            proposal.notes,
            [
                "row 4: 55 g does not fit 10 %, which would be 50 g as in the other rows; the percentage was taken"
            ]
        );
        // A third of a batch, rounded in both columns, fits.
        let (proposal, _) = check(
            "Ingredient,%,g\nWater,33.3,83\nGlycerin,33.3,83\nSunflower oil,33.4,84\n",
            &[
                ("A", "purified-water", "33.3"),
                ("A", "glycerin", "33.3"),
                ("A", "sunflower-oil", "33.4"),
            ],
        );
        assert_eq!(proposal.notes, Vec::<String>::new());
    }

    #[test]
    fn a_stated_total_in_grams_is_checked() {
        let (proposal, _) = check(
            "Ingredient,Weight (g)\nWater,60\nGlycerin,20\nTotal,100\n",
            &[("A", "purified-water", "75"), ("A", "glycerin", "25")],
        );
        assert_eq!(
            proposal.notes,
            [
                "the table states a total of 100 g, but its lines add up to 80 g; a line may be missing, or be a sum"
            ]
        );
    }

    #[test]
    fn a_material_without_an_amount_is_not_dropped() {
        let told = read(
            "Ingredient,%\nWater,70\nGlycerin,\nSunflower oil,30\n",
            &Settings::default(),
        );
        let Err(RecipeError::Problems(problems)) = told else {
            panic!("{told:?}");
        };
        assert_eq!(problems[0].cell, "B3");
        let (proposal, _) = read(
            "Ingredient,%\nWater,70\nstir well\nSunflower oil,30\n",
            &Settings::default(),
        )
        .unwrap();
        assert_eq!(
            proposal.notes,
            ["row 3: “stir well” has no amount and was kept as a remark"]
        );
    }

    #[test]
    fn fractions_of_one_are_percentages() {
        check(
            "Ingredient,%\nWater,0.7\nGlycerin,0.05\nSunflower oil,0.25\n",
            &[
                ("A", "purified-water", "70"),
                ("A", "glycerin", "5"),
                ("A", "sunflower-oil", "25"),
            ],
        );
    }

    #[test]
    fn amounts_within_the_text_are_found() {
        check(
            "Water 70 %\n5% Glycerin\nSunflower oil: 25,0 %\n",
            &[
                ("A", "purified-water", "70"),
                ("A", "glycerin", "5"),
                ("A", "sunflower-oil", "25"),
            ],
        );
    }

    #[test]
    fn problems_name_the_cell_and_nothing_is_taken_in() {
        let told = read(
            "Ingredient,%\nWater,lots\nGlycerin,1.2.3\nOil,-4\n",
            &Settings::default(),
        );
        let Err(RecipeError::Problems(problems)) = told else {
            panic!("{told:?}");
        };
        let cells: Vec<&str> = problems.iter().map(|p| p.cell.as_str()).collect();
        assert_eq!(cells, ["B2", "B3", "B4"]);
        assert!(matches!(
            read(
                "Ingredient,%\nWater,q.s.\nGlycerin,60\nSunflower oil,50\n",
                &Settings::default()
            ),
            Err(RecipeError::Overfull { .. })
        ));
        assert!(matches!(
            read("Ingredient,%\nWater,\nGlycerin,\n", &Settings::default()),
            Err(RecipeError::NoLines)
        ));
        assert!(matches!(
            read("just some words\nand more\n", &Settings::default()),
            Err(RecipeError::NoColumns)
        ));
    }

    #[test]
    fn the_unmatched_are_made_new_and_unknown() {
        let (proposal, accepted) = read(
            "Ingredient,INCI,CAS,%\nWater,Aqua,7732-18-5,99\nMoorland balm,Bisabolol,515-69-5,1\n",
            &Settings::default(),
        )
        .unwrap();
        let new = &accepted.new_materials[0];
        assert_eq!(new.id.as_str(), "moorland-balm");
        assert!(new.constituents.is_empty());
        assert_eq!(proposal.lines[1].suggestions, ["BISABOLOL"]);
        let mut chosen = proposal;
        chosen.lines[1].choice = Choice::NewPure("BISABOLOL");
        let shelf = shelf();
        let accepted = chosen.accept(&Matcher::new(&shelf)).unwrap();
        assert_eq!(accepted.new_materials[0].inci_line(), "Bisabolol");
    }

    proptest::proptest! {
        #[test]
        fn grams_always_total_a_hundred(grams in proptest::collection::vec(1_u32..100_000, 1..30)) {
            use std::fmt::Write as _;
            let mut text = String::from("Ingredient,g\n");
            for (n, g) in grams.iter().enumerate() {
                let _ = writeln!(text, "Stuff {n},{}", f64::from(*g) / 100.0);
            }
            if let Ok((_, accepted)) = read(&text, &Settings::default()) {
                proptest::prop_assert_eq!(accepted.formula.active().total(), Percent::HUNDRED);
            }
        }
        #[test]
        fn no_table_panics(text in "(?s)[A-Za-z0-9%,;\t\n .q]{0,120}") {
            if let Ok(tables) = super::super::read_text(&text) {
                let shelf = shelf();
                let matcher = Matcher::new(&shelf);
                for table in tables {
                    if let Ok(p) = propose(&table, "x", &Settings::default(), &matcher) {
                        let _ = p.accept(&matcher);
                    }
                }
            }
        }
    }
}
