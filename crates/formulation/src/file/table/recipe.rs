//! A recipe in a table becomes a proposal, which the maker looks through, and then
//! a formula. Nothing is changed before that, and nothing half.

use std::fmt;

use rust_decimal::Decimal;

use super::columns::{Kind, Layout, recognise};
use super::matching::{Candidate, How, Matcher, Wanted};
use super::number::{self, DecimalMark, Unit};
use super::phase_words::{names_a_phase, phase_heading, phase_of_cell};
use super::qs::{Qs, quantum_satis};
use super::{Cell, Table, cell_name};
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
    /// q.s.: whatever is left to the whole.
    Rest,
    /// q.s. for an effect such as a pH; enters at 0 % until it is known.
    AsNeeded,
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

/// Words of rows that hold the total.
const TOTALS: [&str; 14] = [
    "total",
    "totals",
    "sum",
    "summe",
    "gesamt",
    "gesamtmenge",
    "totale",
    "somme",
    "suma",
    "grand total",
    "total weight",
    "batch total",
    "total batch",
    "insgesamt",
];

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
        proposal.notes.push(format!(
            "{} cells hold formulas; the values saved with them were taken",
            table.formulas
        ));
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
    /// Percentages are stored as fractions of 1.
    fractions: bool,
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
            fractions: false,
        };
        reader.fractions = reader.are_fractions();
        Ok(reader)
    }

    /// Percentages that all lie within 0 to 1 and add up to 1 are fractions of 1, as
    /// a sheet stores what it shows as per cent.
    fn are_fractions(&self) -> bool {
        let Some(column) = self.percent else {
            return false;
        };
        let mut total = Decimal::ZERO;
        let mut largest = Decimal::ZERO;
        for row in self.layout.first_row()..self.table.rows.len() {
            if self.is_total(row) {
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

    fn is_total(&self, row: usize) -> bool {
        (0..self.table.width()).any(|column| match self.table.cell(row, column) {
            Cell::Text(text) => TOTALS.contains(&words_of(text).join(" ").as_str()),
            _ => false,
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
        let mut phase = None;
        for row in self.layout.first_row()..self.table.rows.len() {
            self.read_row(row, &mut phase, &mut proposal);
        }
        if proposal.lines.is_empty() && proposal.problems.is_empty() {
            return Err(if self.percent.is_none() && self.amount.is_none() {
                RecipeError::NoColumns
            } else {
                RecipeError::NoLines
            });
        }
        for line in &mut proposal.lines {
            (line.candidates, line.choice, line.suggestions) = decide(&line.wanted, matcher);
        }
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

    fn read_row(&self, row: usize, phase: &mut Option<usize>, proposal: &mut Proposal) {
        let text = self.row_text(row);
        if text.is_empty() {
            return;
        }
        if self.is_total(row) {
            if let Read::Quantity(Quantity::Percent(v) | Quantity::Grams(v), _) =
                self.quantity(row, "")
            {
                proposal.stated_total = Some(v);
            }
            return;
        }
        let mut name = self.table.cell(row, self.names).words();
        let inci = self.words(row, Kind::Inci);
        if name.is_empty() {
            name.clone_from(&inci);
        }
        let mut read = self.quantity(row, &name);
        // "Glycerin 5 %" in one cell, if there is no column of amounts.
        if self.percent.is_none() && self.amount.is_none() {
            let (rest, amount) = split_amount(&name, self.mark);
            name = rest;
            read = amount;
        }
        let phase_cell = self.words(row, Kind::Phase);
        match read {
            Read::Nothing => {
                if let Some(heading) = phase_heading(&text) {
                    *phase = Some(proposal.enter_phase(heading));
                } else if name.is_empty() && names_a_phase(&phase_cell) {
                    *phase = Some(proposal.enter_phase(phase_of_cell(&phase_cell)));
                } else {
                    proposal.text.push(text);
                }
            }
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
                    wanted: Wanted {
                        name: clean_name(&name),
                        inci: clean_name(&inci),
                        cas,
                        supplier: self.words(row, Kind::Supplier),
                    },
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
                        return Read::Problem(format!(
                            "{error}; write a number such as 2.5, or q.s."
                        ));
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
        let Some(total) = self.percent_total() else {
            return;
        };
        if !self.has_rest() && total != Decimal::ONE_HUNDRED {
            self.notes.push(format!(
                "the lines add up to {} %, not 100; choose whether to keep them, scale them, or let water take up the rest",
                total.normalize()
            ));
        }
        if let Some(stated) = self.stated_total
            && !self.has_rest()
            && (stated - total).abs() > Decimal::new(5, 3)
            && (stated * Decimal::ONE_HUNDRED - total).abs() > Decimal::new(5, 3)
        {
            self.notes.push(format!(
                "the table states a total of {}, but its lines add up to {} %; a line may be missing",
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
