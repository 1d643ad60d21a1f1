//! A recipe in a table becomes a proposal, which the maker looks through, and then
//! a formula. Nothing is changed before that, and nothing half.

use std::collections::HashMap;
use std::fmt;
use std::sync::Arc;

use rust_decimal::Decimal;

use super::amounts::{self, Reading, Written};
use super::columns::{Kind, Layout, weigh};
use super::items::{Item, items};
use super::phase_words::{names_a_phase, phase_heading, phase_of_cell};
use super::price_list::DayOrder;
use super::words::{begins_method, is_property, kind_in, words};
use super::{Cell, Table, cell_name};
use crate::amount::number::{self, DecimalMark, Unit};
use crate::cas::Cas;
use crate::file::formula_table::{self, Finder};
use crate::file::product_head::{self, PhaseWords};
use crate::formula::{Formula, Variant};
use crate::inventory::inventory;
use crate::material::{Material, MaterialId, PhaseKind, ProductKind};
use crate::naming::qs::{Qs, quantum_satis};
use crate::naming::{Candidate, How, Resolver, Wanted, words_of};
use crate::purpose::Purpose;
use crate::quantity::{Currency, Percent, Temperature};

/// What the maker may settle before a table is read as a recipe.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Settings {
    /// What the columns mean, where it is not as recognised.
    pub layout: Option<Layout>,
    /// The decimal mark, where it is not as recognised.
    pub mark: Option<DecimalMark>,
    /// What to do if the lines do not add up to 100 %.
    pub reconcile: Reconcile,
    /// Rows, counted from 1, whose q.s. takes up the rest though it is not water.
    pub fillers: Vec<usize>,
    /// Take hidden and struck-through rows too.
    pub hidden: bool,
    /// What the product is, where the table does not say.
    pub kind: Option<ProductKind>,
    /// The order of day and month, where a list leaves it open.
    pub days: Option<DayOrder>,
    /// The currency of prices that name none.
    pub home: Option<Currency>,
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
    /// The pure substance that the table says it is.
    Made(Arc<Material>),
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
    /// What had to be assumed about it, in words; a line with any is asked about.
    pub doubts: Vec<String>,
    /// How many of them, the first ones, are about the amount.
    pub amount_doubts: usize,
    /// What the line is there for, if the table says so.
    pub purpose: Option<Purpose>,
    /// No automatic step may change it.
    pub held: bool,
    /// The maker's own lowest and highest percentage.
    pub bounds: (Option<Percent>, Option<Percent>),
    /// What the table says of its composition.
    pub composition: String,
}

/// A row that makes no line.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct LeftOut {
    /// Row of the table, counted from 1.
    pub row: usize,
    /// What stands in it.
    pub words: String,
    /// Why it makes no line.
    pub reason: String,
}

impl fmt::Display for LeftOut {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "row {} “{}”: {}", self.row, self.words, self.reason)
    }
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
    /// What the table says of the product besides its lines; the lines are added to its
    /// one variant.
    pub head: Arc<Formula>,
    /// What it says of phases and steps.
    pub phase_words: PhaseWords,
    /// What had to be assumed about the whole, in words.
    pub assumed: Vec<String>,
    /// Rows that make no line, each with the reason.
    pub left_out: Vec<LeftOut>,
    /// How many rows have something in them.
    pub rows: usize,
    /// Grams of the batch that the table states.
    pub batch: Option<Decimal>,
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
    /// An amount beyond what a recipe can hold.
    #[error(
        "the amount of “{0}” is larger than any recipe can hold; check the digits and the size of the batch"
    )]
    TooLarge(String),
    /// Nothing was weighed.
    #[error("the amounts add up to nothing; at least one line must be above 0")]
    NothingWeighed,
    /// What the table says of phases and steps cannot be.
    #[error("{0}")]
    Head(String),
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

/// What a row of a sum adds up.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Sum {
    Whole,
    Part,
}

/// Whether a cell says that its row is a sum: "Total", "Grand total", "Summe Phase A".
pub(super) fn sum_words(text: &str) -> Option<Sum> {
    let folded = words_of(text);
    let lists = words();
    let has = |list: &std::collections::HashSet<String>| folded.iter().any(|w| list.contains(w));
    let part = has(&lists.subtotals)
        || folded.iter().any(|w| {
            matches!(
                w.as_str(),
                "sub" | "sous" | "phase" | "fase" | "fazy" | "partial"
            )
        });
    let known = |w: &String| {
        lists.totals.contains(w)
            || lists.subtotals.contains(w)
            || lists.of_what.contains(w)
            || w.len() == 1
            || w == "100"
    };
    let sums = (has(&lists.totals) || has(&lists.subtotals)) && folded.iter().all(known);
    sums.then_some(if part { Sum::Part } else { Sum::Whole })
}

/// Whether a row of a table is a sum.
pub(super) fn is_sum(table: &Table, row: usize) -> bool {
    (0..table.width()).any(|column| match table.cell(row, column) {
        Cell::Text(text) => sum_words(text).is_some(),
        _ => false,
    })
}

/// Reads a table as a recipe and matches its materials with a shelf.
pub fn propose(
    table: &Table,
    title: &str,
    settings: &Settings,
    matcher: &Resolver<'_>,
) -> Result<Proposal, RecipeError> {
    let weighing = weigh(table);
    let layout = match (&settings.layout, &weighing) {
        (Some(layout), _) => layout.clone(),
        (None, Some(weighing)) => weighing.layout.clone(),
        (None, None) => return Err(RecipeError::NoColumns),
    };
    let reader = Reader::new(table, layout, settings)?;
    let mut proposal = reader.read(title, matcher)?;
    proposal.reconcile = settings.reconcile;
    if settings.layout.is_none()
        && let Some(weighing) = weighing
    {
        proposal.assumed.extend(weighing.doubts);
    }
    if table.formulas > 0 {
        proposal.notes.push(match table.formulas {
            1 => "one cell holds a formula; the value saved with it was taken".to_owned(),
            many => format!("{many} cells hold formulas; the values saved with them were taken"),
        });
    }
    if !table.hidden_columns.is_empty() {
        let columns: Vec<String> = table
            .hidden_columns
            .iter()
            .map(|&c| cell_name(0, c).trim_end_matches('1').to_owned())
            .collect();
        proposal.assumed.push(format!(
            "hidden columns were left out: {}",
            columns.join(", ")
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
    /// How percentages are stored.
    scale: Scale,
    /// No amount has a unit.
    parts: bool,
    /// Some amounts are percentages, though the column is not one of percentages.
    percents_among: bool,
    /// The headings are those of our own table, whose q.s. is always the filler.
    own: bool,
    settings: &'t Settings,
    /// What had to be assumed of the decimal mark.
    doubt: Option<String>,
}

/// How the numbers of a column of percentages are stored.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Scale {
    /// As percentages.
    Percent,
    /// As fractions of 1.
    Fractions,
    /// As fractions of 1, to all appearance.
    LikelyFractions,
    /// As percentages, to all appearance, though all are below 1.
    LikelyPercent,
}

/// What a row says of a material.
struct Row {
    wanted: Wanted,
    read: Read,
}

/// What an amount cell says.
enum Read {
    /// An amount with the other reading of its mark and what had to be assumed.
    Quantity(Quantity, Option<Decimal>, Vec<String>),
    /// Something that no assumption mends.
    Problem(String),
    /// Something that is no amount.
    Unread(String),
    Nothing,
}

/// What has been seen while the rows are read from the top.
#[derive(Default)]
struct Progress {
    phase: Option<usize>,
    /// The whole has been summed up.
    summed: bool,
    /// The method has begun.
    method: bool,
    /// Sum of the percentages so far.
    total: Decimal,
}

impl<'t> Reader<'t> {
    fn new(table: &'t Table, layout: Layout, settings: &'t Settings) -> Result<Self, RecipeError> {
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
        let mut doubt = None;
        let mark = settings
            .mark
            .or_else(|| number::mark_of(texts.iter().copied()))
            .or_else(|| {
                let (mark, example) = thousands_mark(&texts).filter(|_| percent.is_none())?;
                doubt = Some(format!(
                    "amounts such as {example} were taken with a thousands mark; say --decimal if the mark is that of decimals"
                ));
                Some(mark)
            });
        let headings: Vec<String> = layout
            .headings
            .map(|row| {
                (0..table.width())
                    .map(|c| table.cell(row, c).words())
                    .collect()
            })
            .unwrap_or_default();
        let mut reader = Self {
            table,
            layout,
            names,
            percent,
            amount,
            mark,
            scale: Scale::Percent,
            parts: false,
            percents_among: false,
            own: formula_table::are_headings(headings.iter().map(String::as_str)),
            settings,
            doubt,
        };
        reader.scale = reader.scale_of_percentages();
        reader.parts = reader.are_parts();
        reader.percents_among = percent.is_none()
            && reader.layout.unit(Kind::Amount).is_none()
            && amount.is_some_and(|column| {
                reader.rows().any(|row| match table.cell(row, column) {
                    Cell::Number { percent, .. } => *percent,
                    Cell::Text(text) => amounts::read(text, None, reader.mark)
                        .is_ok_and(|a| matches!(a.written, Written::Percent(_))),
                    _ => false,
                })
            });
        Ok(reader)
    }

    fn rows(&self) -> std::ops::Range<usize> {
        self.layout.first_row()..self.table.rows.len()
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
                    Cell::Text(text) => amounts::read(text, None, self.mark)
                        .is_ok_and(|a| !matches!(a.written, Written::Bare(_) | Written::Qs(_))),
                    _ => false,
                }
        };
        self.percent.is_none()
            && self.layout.unit(Kind::Amount).is_none()
            && !self.rows().any(has_unit)
    }

    /// A sheet stores as fractions of 1 what it shows as per cent. Numbers shown plainly
    /// are fractions too if only so they make the whole.
    fn scale_of_percentages(&self) -> Scale {
        let Some(column) = self.percent else {
            return Scale::Percent;
        };
        let (mut shown, mut plain, mut largest) = (Decimal::ZERO, Decimal::ZERO, Decimal::ZERO);
        let (mut count, mut any_shown, mut filler) = (0, false, false);
        for row in self.rows() {
            if self.sum(row).is_some() || self.table.left_out_reason(row, self.names).is_some() {
                continue;
            }
            match self.table.cell(row, column) {
                Cell::Number {
                    value,
                    percent: true,
                } => {
                    shown += *value * Decimal::ONE_HUNDRED;
                    any_shown = true;
                }
                Cell::Number { value, .. } => {
                    plain += *value;
                    largest = largest.max(*value);
                    count += 1;
                }
                Cell::Text(text) => match amounts::read(text, None, self.mark).map(|a| a.written) {
                    Ok(Written::Bare(value)) => {
                        plain += value;
                        largest = largest.max(value);
                        count += 1;
                    }
                    Ok(Written::Qs(_)) => filler = true,
                    // A unit says what it is.
                    Ok(_) => return Scale::Percent,
                    Err(_) => {}
                },
                _ => {}
            }
        }
        let near = |a: Decimal, b: Decimal, slack: Decimal| (a - b).abs() <= slack;
        let half = Decimal::new(5, 1);
        if any_shown {
            let whole = shown + plain * Decimal::ONE_HUNDRED;
            return if near(whole, Decimal::ONE_HUNDRED, half)
                && !near(shown + plain, Decimal::ONE_HUNDRED, half)
            {
                Scale::Fractions
            } else {
                Scale::Percent
            };
        }
        if count == 0 || largest > Decimal::ONE {
            Scale::Percent
        } else if near(plain, Decimal::ONE, Decimal::new(2, 2)) && !self.states_the_product() {
            Scale::Fractions
        } else if filler && count > 1 && plain < Decimal::ONE && !self.own {
            // With a filler nothing sums up. A recipe with less than 5 % besides its
            // water is rare; our own bound.
            if plain >= Decimal::new(5, 2) {
                Scale::LikelyFractions
            } else {
                Scale::LikelyPercent
            }
        } else {
            Scale::Percent
        }
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

    fn read(self, title: &str, matcher: &Resolver<'_>) -> Result<Proposal, RecipeError> {
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
            head: Arc::new(Formula::new(title)),
            phase_words: PhaseWords::default(),
            assumed: Vec::new(),
            left_out: Vec::new(),
            rows: 0,
            batch: None,
        };
        proposal.rows = (0..self.table.rows.len())
            .filter(|&row| !self.row_text(row).is_empty())
            .count();
        proposal.assumed.extend(self.doubt.clone());
        self.read_head(title, &mut proposal);
        match self.scale {
            Scale::Percent => {}
            Scale::Fractions => proposal.notes.push(
                "the percentages are stored as fractions of 1 and were multiplied by 100"
                    .to_owned(),
            ),
            Scale::LikelyFractions => proposal.assumed.push(
                "the percentages are all below 1 and were taken as fractions of 1".to_owned(),
            ),
            Scale::LikelyPercent => proposal.assumed.push(
                "the percentages are all below 1 and were taken as they stand, not as fractions of 1".to_owned(),
            ),
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
                self.sum(row).is_none()
                    && self.table.left_out_reason(row, self.names).is_none()
                    && self.has_amount(row)
                    && !is_property(&self.table.cell(row, self.names).words())
            })
            .unwrap_or(0);
        let mut progress = Progress::default();
        if let Some(phase) =
            (0..self.layout.headings.unwrap_or(0)).find_map(|row| self.begins_phase_above(row))
        {
            progress.phase = Some(proposal.enter_phase(phase));
        }
        for row in self.rows() {
            self.read_row(row, row < last, &mut progress, &mut proposal, matcher);
        }
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
        self.decide_all(&mut proposal, matcher);
        proposal.letter_phases();
        proposal.settle_rest();
        proposal.batch = self.stated_batch(&proposal);
        Self::settle_units(&mut proposal, matcher);
        let in_grams = proposal.percent_total().is_none()
            && proposal
                .lines
                .iter()
                .any(|l| matches!(l.quantity, Quantity::Grams(_)));
        if in_grams
            && proposal.has_rest()
            && proposal.batch.is_none()
            && proposal.stated_total.is_none()
        {
            proposal.assumed.push(
                "the amounts are in grams with a q.s., and no size of the batch is stated; the next round size was taken".to_owned(),
            );
        }
        self.settle_kind(title, &mut proposal);
        self.name_columns_left_out(&mut proposal);
        Ok(proposal)
    }

    /// Columns that were taken for nothing are named.
    fn name_columns_left_out(&self, proposal: &mut Proposal) {
        let Some(row) = self.layout.headings else {
            return;
        };
        let unused = |kind: Kind| {
            matches!(
                kind,
                Kind::Code
                    | Kind::UseLevel
                    | Kind::Earlier
                    | Kind::Gross
                    | Kind::TotalPrice
                    | Kind::Packs
                    | Kind::Stock
                    | Kind::Price
                    | Kind::Currency
                    | Kind::Pack
                    | Kind::Lot
                    | Kind::Expiry
            )
        };
        let names: Vec<String> = (0..self.table.width())
            .filter(|&c| {
                let kind = self
                    .layout
                    .columns
                    .get(c)
                    .copied()
                    .flatten()
                    .map(|k| k.kind);
                kind.is_none_or(unused)
                    && (self.layout.first_row()..self.table.rows.len())
                        .any(|r| !self.table.cell(r, c).is_empty())
            })
            .map(|c| self.table.cell(row, c).words())
            .filter(|w| !w.is_empty())
            .map(|w| format!("“{w}”"))
            .collect();
        if !names.is_empty() {
            proposal
                .notes
                .push(format!("columns left out: {}", names.join(", ")));
        }
    }

    /// Volumes of materials of unknown density, and masses among percentages without a
    /// batch, are taken in the usual way and asked about.
    fn settle_units(proposal: &mut Proposal, matcher: &Resolver<'_>) {
        let in_percent = proposal.percent_total().is_some();
        let batch = proposal.batch;
        for line in &mut proposal.lines {
            let density = match &line.choice {
                Choice::Known(id, _) => {
                    matcher.shelf().get(id).is_some_and(|m| m.density.is_some())
                }
                Choice::Made(material) => material.density.is_some(),
                _ => false,
            };
            if matches!(line.quantity, Quantity::Millilitres(_)) && !density {
                line.doubt_amount("its density is not known; 1 g/ml was taken");
            }
            if let Quantity::Percent(value) = line.quantity
                && !in_percent
            {
                line.doubt_amount(&format!(
                    "{} % stands among amounts and was taken as that share of the whole",
                    value.normalize()
                ));
            }
            if matches!(line.quantity, Quantity::Grams(_) | Quantity::Millilitres(_))
                && in_percent
                && batch.is_none()
            {
                line.doubt_amount("other lines are in percent and no size of the batch is stated; a batch of 100 g was taken");
            }
        }
    }

    /// What each line means; the same words mean the same in every row.
    fn decide_all(&self, proposal: &mut Proposal, matcher: &Resolver<'_>) {
        let mut finder = Finder::new(matcher.shelf());
        let mut decider = Decider::new(matcher);
        for line in &mut proposal.lines {
            let composition = words_of(&line.composition).join(" ");
            let own = match composition.as_str() {
                "pure" => Some(finder.pure(&line.wanted.name, line.wanted.cas)),
                "" | "shelf" if self.own => Some(finder.on_shelf(&line.wanted.name)),
                _ => None,
            };
            let decided = decider.decide(&line.wanted);
            line.candidates = decided.candidates;
            line.suggestions = decided.suggestions;
            match own {
                Some(Ok(material)) if composition == "pure" => {
                    line.choice = Choice::Made(material);
                    line.doubts.extend(finder.remark.take());
                }
                Some(Ok(material)) => {
                    let how = line
                        .candidates
                        .iter()
                        .find(|c| c.id == material.id)
                        .map_or(How::Name, |c| c.how);
                    if let Some(others) = finder.others.take() {
                        line.doubts.push(format!("{others} would fit too"));
                    }
                    line.choice = Choice::Known(material.id.clone(), how);
                }
                other => {
                    if let Some(Err(message)) = other
                        && composition == "pure"
                    {
                        line.doubts.push(message);
                    }
                    line.choice = decided.choice;
                    line.doubts.extend(decided.doubts);
                }
            }
        }
    }

    /// What the rows above the headings, and rows of ours below the list, say of the
    /// product.
    fn read_head(&self, title: &str, proposal: &mut Proposal) {
        let mut formula = Formula::new(title);
        let mut variant = Variant::clone(formula.active());
        variant.phases.clear();
        let mut phases = PhaseWords::default();
        for row in 0..self.layout.headings.unwrap_or(0) {
            let line = self.row_text(row);
            if line.is_empty() {
                continue;
            }
            if self.begins_phase_above(row).is_some() {
                proposal.left_out(row, &line, "begins a phase");
                continue;
            }
            if let Some(name) = self.name_in(row) {
                formula.name = name.as_str().into();
                proposal.left_out(row, &line, "the name of the product");
                continue;
            }
            let taken = self.head_of(row).map(|(key, value)| {
                product_head::take(&key, &value, &mut formula, &mut variant, &mut phases)
            });
            match taken {
                Some(Ok(true)) => {
                    if self
                        .head_of(row)
                        .is_some_and(|(key, _)| key.trim().eq_ignore_ascii_case("kind"))
                    {
                        proposal.left_out(row, &line, "says what the product is: kind");
                    } else {
                        proposal.left_out(row, &line, "says what the product is");
                    }
                }
                Some(Err(message)) => {
                    proposal.assumed.push(format!("row {}: {message}", row + 1));
                    proposal.left_out(
                        row,
                        &line,
                        "says what the product is, but was not understood",
                    );
                    proposal.text.push(line);
                }
                Some(Ok(false)) | None => {
                    proposal.left_out(row, &line, "stands above the list and is kept in the notes");
                    proposal.text.push(line);
                }
            }
        }
        if let Some(row) = self.layout.headings {
            proposal.left_out(row, &self.row_text(row), "the headings");
        }
        if *formula.name != *title {
            proposal.name = formula.name.to_string();
        }
        // The title says nothing that the name does not.
        let name = proposal.name.clone();
        proposal.text.retain(|line| *line != name);
        formula.variants = vec![Arc::new(variant)];
        proposal.head = Arc::new(formula);
        proposal.phase_words = phases;
    }

    /// The phase that the row right above the headings begins: "Water phase".
    fn begins_phase_above(&self, row: usize) -> Option<ProposedPhase> {
        if self.head_of(row).is_some() || self.row_text(row).starts_with('#') {
            return None;
        }
        let headings = self.layout.headings?;
        let last = (0..headings)
            .rev()
            .find(|&r| !self.row_text(r).is_empty())?;
        let text = self.row_text(row);
        let says = words_of(&text)
            .iter()
            .any(|w| w.ends_with("phase") || w == "fase" || w == "faza");
        (row == last && says)
            .then(|| phase_heading(&text))
            .flatten()
    }

    /// The name of the product: behind a word such as "Product:", or alone in the first
    /// row of the table.
    fn name_in(&self, row: usize) -> Option<String> {
        let cells: Vec<String> = (0..self.table.width())
            .map(|column| self.table.cell(row, column).words())
            .filter(|words| !words.is_empty())
            .collect();
        let is_key = |key: &str| words().name_keys.contains(&words_of(key).join(" "));
        match cells.as_slice() {
            [one] if one.starts_with('#') => None,
            [one] => {
                if let Some((key, value)) = one.split_once(':') {
                    let value = value.trim();
                    return (is_key(key) && !value.is_empty()).then(|| value.to_owned());
                }
                let first = (0..self.table.rows.len()).find(|&r| !self.row_text(r).is_empty());
                let like_a_name = one.chars().any(char::is_alphabetic)
                    && one.chars().count() <= 60
                    && !one.ends_with('.')
                    && masses_in(one).is_empty()
                    && product_head::kind_of(one).is_err();
                (first == Some(row) && like_a_name).then(|| one.clone())
            }
            [key, value] if is_key(key.trim_end_matches(':')) => Some(value.clone()),
            _ => None,
        }
    }

    /// Whether the table is of our form, by its headings or by the kind of product stated
    /// above them: its percentages are per cent, however small they are.
    fn states_the_product(&self) -> bool {
        self.own
            || (0..self.layout.headings.unwrap_or(0)).any(|row| {
                self.head_of(row)
                    .is_some_and(|(key, _)| key.eq_ignore_ascii_case("kind"))
            })
    }

    /// A row as key and value: "Kind: leave-on", "# kind: leave-on" or two cells.
    fn head_of(&self, row: usize) -> Option<(String, String)> {
        let cells: Vec<String> = (0..self.table.width())
            .map(|column| self.table.cell(row, column).words())
            .filter(|words| !words.is_empty())
            .collect();
        let first = cells.first()?.trim_start_matches('#').trim();
        if let Some((key, value)) = first.split_once(':') {
            let more = cells.get(1..).unwrap_or_default();
            let value: Vec<&str> = std::iter::once(value.trim())
                .chain(more.iter().map(|c| c.trim()))
                .filter(|v| !v.is_empty())
                .collect();
            return product_head::is_key(key).then(|| (key.trim().to_owned(), value.join(", ")));
        }
        let value = cells.get(1..)?;
        (!value.is_empty() && product_head::is_key(first))
            .then(|| (first.to_owned(), value.join(", ")))
    }

    /// The rows above the headings, or above the first line where there are none.
    fn title_rows(&self, proposal: &Proposal) -> Vec<usize> {
        let end = self
            .layout
            .headings
            .or_else(|| proposal.lines.first().map(|l| l.row - 1))
            .unwrap_or(0);
        (0..end).collect()
    }

    /// Whether the product is washed off or left on: as said, as told by its name, or
    /// assumed.
    fn settle_kind(&self, title: &str, proposal: &mut Proposal) {
        let said = (0..self.layout.headings.unwrap_or(0))
            .filter_map(|row| self.head_of(row))
            .any(|(key, _)| key.trim().eq_ignore_ascii_case("kind"));
        let set = |kind: ProductKind, proposal: &mut Proposal| {
            let mut formula = Formula::clone(&proposal.head);
            if let Some(variant) = formula.variants.first_mut() {
                Arc::make_mut(variant).product.kind = kind;
            }
            proposal.head = Arc::new(formula);
        };
        if let Some(kind) = self.settings.kind {
            set(kind, proposal);
            return;
        }
        if said {
            return;
        }
        let names = std::iter::once(title.to_owned())
            .chain(std::iter::once(self.table.name.clone()))
            .chain(
                self.title_rows(proposal)
                    .into_iter()
                    .map(|row| self.row_text(row)),
            );
        let told = names
            .filter_map(|name| Some((kind_in(&name)?, name)))
            .max_by_key(|((_, outright), _)| *outright);
        match told {
            Some(((kind, true), _)) => set(kind, proposal),
            Some(((kind, false), name)) => {
                set(kind, proposal);
                proposal.assumed.push(format!(
                    "by its name, “{name}”, the product was taken as {}; say --kind if it is not",
                    kind.label()
                ));
            }
            None => proposal.assumed.push(
                "nothing says whether the product is washed off or left on; it was taken as rinse-off, say --kind leave-on if it is not".to_owned(),
            ),
        }
    }

    /// Grams of the batch as headings, titles or remarks state them: "500 g batch",
    /// "g / 500 g", "Ansatz: 2 kg".
    fn stated_batch(&self, proposal: &Proposal) -> Option<Decimal> {
        let head = proposal.head.active().batch;
        let usual = Formula::new("").active().batch;
        if (head - usual).abs() > crate::quantity::grams(1e-6) {
            return Decimal::try_from(crate::quantity::in_grams(head))
                .ok()
                .map(|d| d.round_dp(6));
        }
        let heading = self.layout.headings.and_then(|row| {
            let column = self.amount?;
            masses_in(&self.table.cell(row, column).words())
                .first()
                .copied()
        });
        let stated = heading.or_else(|| {
            let first = self.layout.headings.unwrap_or(0);
            (0..self.table.rows.len())
                .filter(|row| *row < first || proposal.left_out.iter().any(|l| l.row == row + 1))
                .filter(|&row| Some(row) != self.layout.headings)
                .map(|row| self.row_text(row))
                .filter(|text| words_of(text).iter().any(|w| words().batch.contains(w)))
                .find_map(|text| masses_in(&text).first().copied())
        });
        stated.or_else(|| self.filled_to(proposal))
    }

    /// Grams up to which a q.s. fills a recipe in grams: "to 500", "ad 1 kg".
    fn filled_to(&self, proposal: &Proposal) -> Option<Decimal> {
        if proposal.percent_total().is_some() {
            return None;
        }
        let column = self.amount?;
        let each = self
            .layout
            .unit(Kind::Amount)
            .map_or(Some(Decimal::ONE), Unit::grams)?;
        let rest = proposal
            .lines
            .iter()
            .find(|l| l.quantity == Quantity::Rest)?;
        let text = self.table.cell(rest.row.checked_sub(1)?, column).words();
        if text.contains('%') {
            return None;
        }
        masses_in(&text)
            .first()
            .copied()
            .or_else(|| match quantum_satis(&text) {
                Some(Qs::ToWhole(Some(whole))) => whole.checked_mul(each).and_then(number::within),
                _ => None,
            })
    }

    fn row_text(&self, row: usize) -> String {
        let cells: Vec<String> = (0..self.table.width())
            .map(|column| self.table.cell(row, column).words())
            .filter(|words| !words.is_empty())
            .collect();
        cells.join(" ")
    }

    fn has_amount(&self, row: usize) -> bool {
        if self.in_text() {
            return !items(&self.row_text(row), self.mark).lines.is_empty();
        }
        matches!(self.quantity(row, ""), Read::Quantity(..))
    }

    /// Names and amounts stand in the same cell.
    fn in_text(&self) -> bool {
        self.percent.is_none() && self.amount.is_none()
    }

    /// What a row says of a material: its names and how much of it.
    fn row(&self, row: usize) -> Row {
        let mut name = self.table.cell(row, self.names).words();
        let inci = self.words(row, Kind::Inci);
        if name.is_empty() {
            name.clone_from(&inci);
        }
        if name.is_empty() {
            name = self.words(row, Kind::Trade);
        }
        let read = self.quantity(row, &name);
        Row {
            wanted: Wanted {
                name: clean_name(&name),
                inci: clean_name(&inci),
                cas: None,
                supplier: self.words(row, Kind::Supplier),
                strength: self.words(row, Kind::Strength),
            },
            read,
        }
    }

    /// A row of words without an amount. Inside the list it begins a phase, or is a
    /// material whose amount is missing, or a remark; what stands `after` it all, such
    /// as the method, is kept as text.
    fn read_words(
        &self,
        row: usize,
        inside: bool,
        wanted: Wanted,
        progress: &mut Progress,
        proposal: &mut Proposal,
        matcher: &Resolver<'_>,
    ) {
        let text = self.row_text(row);
        let phase_cell = self.words(row, Kind::Phase);
        let known = || {
            let found = matcher.resolve(&wanted);
            found.taken
                && found
                    .candidates
                    .first()
                    .is_some_and(|c| !c.how.is_doubtful())
        };
        if !inside {
            proposal.left_out(row, &text, "stands below the list and is kept in the notes");
            proposal.text.push(text);
        } else if let Some(heading) = phase_heading(&text) {
            progress.phase = Some(proposal.enter_phase(heading));
            proposal.left_out(row, &text, "begins a phase");
        } else if wanted.name.is_empty() && names_a_phase(&phase_cell) {
            progress.phase = Some(proposal.enter_phase(phase_of_cell(&phase_cell)));
            proposal.left_out(row, &text, "begins a phase");
        } else if self.amount_is_empty(row) && (!wanted.inci.is_empty() || known()) {
            let doubt = "it has no amount and enters at 0 %; put in how much, or leave it out";
            self.add_line(
                row,
                wanted,
                Quantity::Percent(Decimal::ZERO),
                None,
                vec![doubt.to_owned()],
                progress,
                proposal,
            );
        } else {
            proposal.left_out(row, &text, "has no amount and is kept in the notes");
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
                    // What is finer or larger than any percentage compares with nothing.
                    Read::Quantity(Quantity::Grams(grams), ..)
                        if (Decimal::new(1, 6)..=Decimal::from(1_000_000)).contains(&percent) =>
                    {
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
            // The middle itself is rounded as well.
            let more = slack
                .checked_mul(percent)
                .and_then(|s| s.checked_div(middle));
            let (Some(fits), Some(slack)) = (
                percent.checked_mul(each),
                more.and_then(|more| slack.checked_add(more)),
            ) else {
                continue;
            };
            if (grams - fits).abs() > slack
                && let Some(line) = proposal.lines.iter_mut().find(|l| l.row == row)
            {
                line.doubt_amount(&format!(
                    "{} g does not fit {} %, which would be {} g as in the other rows; the percentage was taken",
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
        progress: &mut Progress,
        proposal: &mut Proposal,
        matcher: &Resolver<'_>,
    ) {
        let text = self.row_text(row);
        if text.is_empty() {
            return;
        }
        if let Some(reason) = self.table.left_out_reason(row, self.names)
            && !self.settings.hidden
        {
            proposal.left_out(row, &text, reason);
            proposal.assumed.push(format!(
                "row {} “{text}” is {reason} and was left out; --hidden takes it in",
                row + 1
            ));
            return;
        }
        if self.layout.is_repeated_in(self.table, row) {
            proposal.left_out(row, &text, "the headings again");
            return;
        }
        if let Some((key, value)) = self.head_of(row)
            && !inside
        {
            let mut formula = Formula::clone(&proposal.head);
            let mut variant = Variant::clone(formula.active());
            let taken = product_head::take(
                &key,
                &value,
                &mut formula,
                &mut variant,
                &mut proposal.phase_words,
            );
            if taken == Ok(true) {
                formula.variants = vec![Arc::new(variant)];
                proposal.head = Arc::new(formula);
                proposal.left_out(row, &text, "says what the product is");
                return;
            }
        }
        if let Some(sum) = self.sum(row) {
            if sum == Sum::Whole {
                progress.summed = true;
                if let Read::Quantity(
                    Quantity::Percent(v) | Quantity::Grams(v) | Quantity::Parts(v),
                    ..,
                ) = self.quantity(row, "")
                {
                    proposal.stated_total = Some(v);
                }
            }
            proposal.left_out(row, &text, "a sum");
            return;
        }
        if begins_method(&text) && !inside {
            progress.method = true;
        }
        if progress.method {
            proposal.left_out(row, &text, "the method, kept in the notes");
            proposal.text.push(text);
            return;
        }
        if self.in_text() {
            self.read_items(row, &text, inside, progress, proposal, matcher);
            return;
        }
        let Row { wanted, read } = self.row(row);
        if is_property(&wanted.name)
            && (!inside || progress.summed || progress.total >= Decimal::new(995, 1))
        {
            proposal.left_out(row, &text, "a property of the product, kept in the notes");
            proposal.text.push(text);
            return;
        }
        let below = progress.summed
            && progress.total >= Decimal::new(995, 1)
            && !matches!(read, Read::Nothing);
        if below {
            proposal.left_out(
                row,
                &text,
                "stands below the total and is kept in the notes",
            );
            proposal.text.push(text);
            return;
        }
        match read {
            Read::Nothing => self.read_words(row, inside, wanted, progress, proposal, matcher),
            Read::Problem(message) => proposal.problems.push(Problem {
                cell: self.amount_cell(row),
                message,
            }),
            Read::Quantity(..) | Read::Unread(_) if wanted.name.is_empty() => {
                // A sum without a word, or a slip.
                proposal.left_out(row, &text, "has an amount but no material");
            }
            // "Phase A,75" is the sum of a phase.
            Read::Quantity(..)
                if phase_heading(&wanted.name)
                    .is_some_and(|p| !p.letter.is_empty() || p.kind.is_some())
                    && words_of(&wanted.name)
                        .iter()
                        .any(|w| w.ends_with("phase") || w == "fase" || w == "faza") =>
            {
                if let Some(phase) = phase_heading(&wanted.name) {
                    progress.phase = Some(proposal.enter_phase(phase));
                }
                proposal.left_out(row, &text, "begins a phase and states its sum");
            }
            Read::Unread(message)
                if !inside && (progress.summed || !matcher.resolve(&wanted).taken) =>
            {
                if !progress.summed {
                    proposal.assumed.push(format!(
                        "row {} “{text}” below the list was taken as a remark: {message}",
                        row + 1
                    ));
                }
                proposal.left_out(row, &text, "stands below the list and is kept in the notes");
                proposal.text.push(text);
            }
            Read::Unread(message) => {
                let doubt = format!("{message}; it enters at 0 %");
                self.add_line(
                    row,
                    wanted,
                    Quantity::Percent(Decimal::ZERO),
                    None,
                    vec![doubt],
                    progress,
                    proposal,
                );
            }
            Read::Quantity(quantity, or, doubts) => {
                self.add_line(row, wanted, quantity, or, doubts, progress, proposal);
            }
        }
    }

    /// The lines of a row of text: one, or several after a phase.
    fn read_items(
        &self,
        row: usize,
        text: &str,
        inside: bool,
        progress: &mut Progress,
        proposal: &mut Proposal,
        matcher: &Resolver<'_>,
    ) {
        let found = items(text, self.mark);
        if let Some(phase) = &found.phase
            && !found.lines.is_empty()
        {
            progress.phase = Some(proposal.enter_phase(phase_of_cell(phase)));
        }
        if found.lines.is_empty() {
            let wanted = Wanted::named(text);
            self.read_words(row, inside, wanted, progress, proposal, matcher);
            return;
        }
        for Item { name, reading } in found.lines {
            if is_property(&name) {
                continue;
            }
            match self.quantity_of(reading, &name) {
                Read::Quantity(quantity, or, doubts) => {
                    let wanted = Wanted::named(clean_name(&name));
                    self.add_line(row, wanted, quantity, or, doubts, progress, proposal);
                }
                Read::Unread(message) | Read::Problem(message) => {
                    let wanted = Wanted::named(clean_name(&name));
                    let doubt = format!("{message}; it enters at 0 %");
                    self.add_line(
                        row,
                        wanted,
                        Quantity::Percent(Decimal::ZERO),
                        None,
                        vec![doubt],
                        progress,
                        proposal,
                    );
                }
                Read::Nothing => {}
            }
        }
        for rest in found.rest {
            proposal.assumed.push(format!(
                "row {}: “{rest}” has no amount and was left out",
                row + 1
            ));
        }
    }

    #[expect(
        clippy::too_many_arguments,
        reason = "what a row says, each its own thing"
    )]
    fn add_line(
        &self,
        row: usize,
        wanted: Wanted,
        quantity: Quantity,
        or: Option<Decimal>,
        mut doubts: Vec<String>,
        progress: &mut Progress,
        proposal: &mut Proposal,
    ) {
        let phase_cell = self.words(row, Kind::Phase);
        if !phase_cell.is_empty() {
            progress.phase = Some(proposal.enter_phase(phase_of_cell(&phase_cell)));
        }
        let phase = *progress.phase.get_or_insert_with(|| {
            proposal.enter_phase(ProposedPhase {
                letter: "A".to_owned(),
                purpose: String::new(),
                temperature: None,
                kind: None,
            })
        });
        let cas = match first_cas(&self.words(row, Kind::Cas)) {
            Ok(cas) => cas,
            Err(told) => {
                doubts.push(told);
                None
            }
        };
        // A column of its own marks the filler beside its percentage.
        let marked = !self.words(row, Kind::Filler).is_empty();
        let quantity = if marked || self.settings.fillers.contains(&(row + 1)) {
            Quantity::Rest
        } else {
            quantity
        };
        if let Quantity::Percent(value) = quantity {
            progress.total += value;
        }
        let bound = |kind: Kind| {
            let words = self.words(row, kind);
            words.parse::<Percent>().ok()
        };
        let said = self.words(row, Kind::Purpose);
        let purpose = Purpose::named(&said);
        let role = if purpose.is_none() && !said.is_empty() {
            [self.words(row, Kind::Role), said]
                .join(" ")
                .trim()
                .to_owned()
        } else {
            self.words(row, Kind::Role)
        };
        proposal.lines.push(ProposedLine {
            row: row + 1,
            phase,
            wanted: Wanted { cas, ..wanted },
            role,
            quantity,
            or,
            note: self.note(row),
            candidates: Vec::new(),
            choice: Choice::New,
            suggestions: Vec::new(),
            amount_doubts: doubts.len(),
            doubts,
            purpose,
            held: matches!(
                words_of(&self.words(row, Kind::Held)).join(" ").as_str(),
                "yes" | "held"
            ),
            bounds: (bound(Kind::Lowest), bound(Kind::Highest)),
            composition: self.words(row, Kind::Composition),
        });
    }

    /// The words beside a line, as they stand.
    fn note(&self, row: usize) -> String {
        match self
            .layout
            .place(Kind::Note)
            .map(|c| self.table.cell(row, c))
        {
            Some(Cell::Text(text)) => text.trim().to_owned(),
            Some(cell) => cell.words(),
            None => String::new(),
        }
    }

    fn amount_cell(&self, row: usize) -> String {
        let column = self.percent.or(self.amount).unwrap_or(self.names);
        cell_name(row, column)
    }

    /// The quantity of a row: its percentage if there is one, else its amount.
    fn quantity(&self, row: usize, name: &str) -> Read {
        if let Some(column) = self.percent {
            let cell = self.table.cell(row, column);
            match self.read_cell(cell, Some(Unit::Percent), name) {
                Read::Nothing => {}
                Read::Quantity(Quantity::Percent(value), or, doubts) if self.is_fraction(cell) => {
                    return Read::Quantity(
                        Quantity::Percent(value * Decimal::ONE_HUNDRED),
                        or.map(|o| o * Decimal::ONE_HUNDRED),
                        doubts,
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

    fn is_fraction(&self, cell: &Cell) -> bool {
        let plain = match cell {
            Cell::Number { percent, .. } => !percent,
            Cell::Text(text) => !text.contains('%'),
            _ => false,
        };
        plain && matches!(self.scale, Scale::Fractions | Scale::LikelyFractions)
    }

    fn read_cell(&self, cell: &Cell, unit: Option<Unit>, name: &str) -> Read {
        let reading = match cell {
            Cell::Empty => return Read::Nothing,
            Cell::Number {
                value,
                percent: true,
            } => bare(Written::Percent(*value * Decimal::ONE_HUNDRED)),
            Cell::Number { value, .. } => bare(amounts::in_unit(*value, unit)),
            Cell::Text(text) if text.trim().is_empty() || is_dash(text) => return Read::Nothing,
            Cell::Text(text) => match amounts::read(text, unit, self.mark) {
                Ok(reading) => reading,
                Err(error) => return Read::Unread(error.to_string()),
            },
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
        self.quantity_of(reading, name)
    }

    fn quantity_of(&self, reading: Reading, name: &str) -> Read {
        let Reading {
            written,
            or,
            doubts,
            note: _,
        } = reading;
        let quantity = match written {
            Written::Qs(Qs::ToWhole(_)) => Quantity::Rest,
            Written::Qs(Qs::Plain) if self.own || looks_like_water(name) => Quantity::Rest,
            Written::Qs(_) => Quantity::AsNeeded,
            Written::Bare(value) if !self.in_text() && !self.parts && !self.percents_among => {
                Quantity::Grams(value)
            }
            Written::Bare(value) | Written::Percent(value) if self.in_text() => {
                Quantity::Percent(value)
            }
            Written::Bare(value) | Written::Parts(value) if self.parts => Quantity::Parts(value),
            Written::Percent(value) => Quantity::Percent(value),
            Written::Parts(value) => Quantity::Parts(value),
            Written::Grams(value) => Quantity::Grams(value),
            Written::Millilitres(value) => Quantity::Millilitres(value),
            // Some cells of the column say that they are percentages.
            Written::Bare(value) => {
                let mut doubts = doubts;
                doubts.push(format!(
                    "{} has no unit and was taken as percent",
                    value.normalize()
                ));
                return Read::Quantity(Quantity::Percent(value), or, doubts);
            }
        };
        let value = match quantity {
            Quantity::Percent(v)
            | Quantity::Grams(v)
            | Quantity::Millilitres(v)
            | Quantity::Parts(v) => v,
            Quantity::Rest | Quantity::AsNeeded => Decimal::ZERO,
        };
        if value < Decimal::ZERO {
            return Read::Unread(format!("{value} is below 0"));
        }
        if matches!(quantity, Quantity::Percent(_)) && value > Decimal::ONE_HUNDRED {
            return Read::Unread(format!("{value} % is more than the whole"));
        }
        Read::Quantity(quantity, or, doubts)
    }
}

fn bare(written: Written) -> Reading {
    Reading {
        written,
        or: None,
        doubts: Vec::new(),
        note: String::new(),
    }
}

/// The decimal mark of amounts in which every mark stands before three digits, as in
/// 1.250 and 1.000 beside 250: nobody weighs some materials to the milligram and the
/// others to the gram, so the marks are those of thousands.
fn thousands_mark<'t>(texts: &[&'t str]) -> Option<(DecimalMark, &'t str)> {
    let marked: Vec<&&str> = texts
        .iter()
        .filter(|t| {
            let digits = t
                .trim()
                .trim_end_matches(|c: char| c.is_alphabetic() || c == ' ');
            number::amount(t, None).is_ok_and(|a| a.or.is_some() && a.value >= Decimal::ONE)
                && digits.len() >= 5
        })
        .collect();
    let plain = texts
        .iter()
        .filter(|t| !t.contains(['.', ',']))
        .filter_map(|t| number::amount(t, None).ok())
        .any(|a| a.value >= Decimal::TEN);
    let example = marked.first()?;
    if marked.len() < 2 && !plain {
        return None;
    }
    let mark = if example.contains('.') {
        DecimalMark::Comma
    } else {
        DecimalMark::Point
    };
    Some((mark, example))
}

/// The masses in a text, in grams: "for 500 g", "makes 2 kg".
fn masses_in(text: &str) -> Vec<Decimal> {
    let spaced: String = text
        .chars()
        .map(|c| if "()[]:;/=".contains(c) { ' ' } else { c })
        .collect();
    let tokens: Vec<&str> = spaced.split_whitespace().collect();
    let mut found = Vec::new();
    for (place, token) in tokens.iter().enumerate() {
        if !token.starts_with(|c: char| c.is_ascii_digit()) {
            continue;
        }
        let next = tokens.get(place + 1).copied().unwrap_or_default();
        for candidate in [(*token).to_owned(), format!("{token} {next}")] {
            if let Ok(amount) = number::amount(candidate.trim_end_matches([',', '.']), None)
                && let Some(each) = amount.unit.and_then(Unit::grams)
                && amount.value > Decimal::ZERO
            {
                found.push(amount.value * each);
                break;
            }
        }
    }
    found
}

/// What a row means and what of it had to be assumed.
#[derive(Clone, Debug)]
pub(super) struct Decision {
    pub(super) candidates: Vec<Candidate>,
    pub(super) choice: Choice,
    pub(super) suggestions: Vec<&'static str>,
    pub(super) doubts: Vec<String>,
}

/// Decides about rows; the same words are looked up once.
pub(super) struct Decider<'m, 's> {
    matcher: &'m Resolver<'s>,
    known: HashMap<Wanted, Decision>,
    /// Looking for the nearest of all INCI names is slow, so only so many names get it.
    searches_left: usize,
}

/// Unknown names for which the inventory is searched by spelling.
const MOST_SEARCHES: usize = 150;

impl<'m, 's> Decider<'m, 's> {
    pub(super) fn new(matcher: &'m Resolver<'s>) -> Self {
        Self {
            matcher,
            known: HashMap::new(),
            searches_left: MOST_SEARCHES,
        }
    }

    /// The materials that a row may mean, what is taken unless the maker chooses
    /// otherwise, and inventory names spelt like it if that is a new material.
    pub(super) fn decide(&mut self, wanted: &Wanted) -> Decision {
        if let Some(known) = self.known.get(wanted) {
            return known.clone();
        }
        let decision = self.look_up(wanted);
        self.known.insert(wanted.clone(), decision.clone());
        decision
    }

    fn look_up(&mut self, wanted: &Wanted) -> Decision {
        let found = self.matcher.resolve(wanted);
        if found.taken
            && let Some(best) = found.candidates.first()
        {
            return Decision {
                choice: Choice::Known(best.id.clone(), best.how),
                candidates: found.candidates,
                suggestions: Vec::new(),
                doubts: found.doubts,
            };
        }
        let written = if wanted.inci.is_empty() {
            &wanted.name
        } else {
            &wanted.inci
        };
        let suggestions = match inventory().by_name(written) {
            Some(entry) => vec![entry.name],
            None if self.searches_left == 0 || wanted.inci_names().len() > 1 => Vec::new(),
            None => {
                self.searches_left -= 1;
                inventory()
                    .nearest(written, 3)
                    .iter()
                    .map(|e| e.name)
                    .collect()
            }
        };
        Decision {
            candidates: found.candidates,
            choice: Choice::New,
            suggestions,
            doubts: found.doubts,
        }
    }
}

fn is_dash(text: &str) -> bool {
    matches!(text.trim(), "-" | "–" | "—" | "n/a" | "N/A")
}

fn looks_like_water(name: &str) -> bool {
    words_of(name).iter().any(|w| {
        matches!(
            w.as_str(),
            "water" | "aqua" | "wasser" | "eau" | "agua" | "acqua" | "woda"
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

impl Proposal {
    fn left_out(&mut self, row: usize, words: &str, reason: &str) {
        self.left_out.push(LeftOut {
            row: row + 1,
            words: words.chars().take(80).collect(),
            reason: reason.to_owned(),
        });
    }
}

impl ProposedLine {
    fn doubt_amount(&mut self, words: &str) {
        self.doubts.insert(self.amount_doubts, words.to_owned());
        self.amount_doubts += 1;
    }
    /// What the material is has been chosen: doubts about it are settled, those about
    /// the amount stay.
    pub fn settle(&mut self) {
        self.doubts.truncate(self.amount_doubts);
    }
    /// Whether something about it had to be assumed.
    pub fn is_doubtful(&self) -> bool {
        !self.doubts.is_empty()
            || matches!(&self.choice, Choice::Known(_, how) if how.is_doubtful())
    }
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

    /// Exactly one line takes up the rest; of several it is water. A "q.s." of anything
    /// else that does not say to what is not the rest unless the maker says so.
    fn settle_rest(&mut self) {
        let rest = |l: &ProposedLine| l.quantity == Quantity::Rest;
        if self.lines.iter().filter(|l| rest(l)).count() > 1 {
            // Water, if it is among them, else the first.
            let keep = self
                .lines
                .iter()
                .position(|l| rest(l) && l.is_water())
                .or_else(|| self.lines.iter().position(rest));
            for (n, line) in self.lines.iter_mut().enumerate() {
                if rest(line) && Some(n) != keep {
                    line.quantity = Quantity::AsNeeded;
                    line.doubt_amount("several lines are q.s.");
                }
            }
        }
        for line in &mut self.lines {
            if line.quantity == Quantity::AsNeeded {
                line.doubt_amount(
                    "it is q.s. for an effect and enters at 0 %; set it when the amount is known",
                );
            }
            if let Some(or) = line.or {
                line.doubt_amount(&format!(
                    "the amount could also be {}; name the decimal mark if it is",
                    or.normalize()
                ));
            }
        }
    }

    /// Everything that had to be assumed: about the whole, then row by row.
    pub fn assumptions(&self) -> Vec<String> {
        let of_rows = self.lines.iter().filter(|l| !l.doubts.is_empty()).map(|l| {
            format!(
                "row {}: “{}”: {}",
                l.row,
                l.wanted.name,
                l.doubts.join("; ")
            )
        });
        self.assumed.iter().cloned().chain(of_rows).collect()
    }

    /// How many rows were taken as they stand, and how many with an assumption.
    pub fn taken_and_asked(&self) -> (usize, usize) {
        let mut rows: HashMap<usize, bool> = HashMap::new();
        for line in &self.lines {
            *rows.entry(line.row).or_default() |= line.is_doubtful();
        }
        let asked = rows.values().filter(|asked| **asked).count();
        (rows.len() - asked, asked)
    }

    /// Sum of the lines in percent, the q.s. line not counted; `None` if the recipe
    /// is in grams, even if a line or two are percentages of the whole.
    pub fn percent_total(&self) -> Option<Decimal> {
        let count =
            |of: fn(&Quantity) -> bool| self.lines.iter().filter(|l| of(&l.quantity)).count();
        let percents = count(|q| matches!(q, Quantity::Percent(v) if !v.is_zero()));
        let masses = count(|q| matches!(q, Quantity::Grams(_) | Quantity::Millilitres(_)));
        if masses > percents {
            return None;
        }
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
            let said = match self.reconcile {
                Reconcile::AsWritten => {
                    "they were kept as written; scale them, or let water take up the rest"
                }
                Reconcile::Scale => "they are scaled",
                Reconcile::Water => "water takes up the rest",
            };
            let words = format!(
                "the lines add up to {} %, not 100; {said}",
                total.normalize()
            );
            if self.reconcile == Reconcile::AsWritten {
                self.assumed.push(words);
            } else {
                self.notes.push(words);
            }
        }
        if let Some(stated) = self.stated_total
            && (stated - total).abs() > Decimal::new(5, 3)
            && (in_percent.is_none()
                || (stated * Decimal::ONE_HUNDRED - total).abs() > Decimal::new(5, 3))
        {
            self.assumed.push(format!(
                "the table states a total of {}{unit}, but its lines add up to {}{unit}; a line may be missing, or be a sum",
                stated.normalize(),
                total.normalize()
            ));
        }
    }
}

#[cfg(test)]
#[path = "recipe_tests.rs"]
mod tests;
