//! A recipe as it would be taken in: phases, lines, what was assumed and what was left out.

use std::fmt;
use std::sync::Arc;

use rust_decimal::Decimal;

use super::Reconcile;
use crate::amount::number::DecimalMark;
use crate::file::product_head::PhaseWords;
use crate::file::table::columns::{ColumnKind, Evidence, Layout};
use crate::file::table::phase_words::ProposedPhase;
use crate::formula::Formula;
use crate::material::{Material, MaterialId};
use crate::naming::fold::says_water;
use crate::naming::{Candidate, How, Wanted};
use crate::purpose::Purpose;
use crate::quantity::Percent;

/// How much of a line.
#[derive(Clone, PartialEq, Debug)]
pub enum LineQuantity {
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

impl LineQuantity {
    /// Whether it is an amount of nothing.
    pub(super) const fn is_zero(&self) -> bool {
        match self {
            Self::Percent(v) | Self::Grams(v) | Self::Millilitres(v) | Self::Parts(v) => {
                v.is_zero()
            }
            Self::Rest | Self::AsNeeded => false,
        }
    }
}

impl fmt::Display for LineQuantity {
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
pub enum MaterialChoice {
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
    /// Which of [`RecipeProposal::phases`].
    pub phase: usize,
    /// What the table says about the material.
    pub wanted: Wanted,
    /// What the table says the material does.
    pub role: String,
    /// How much.
    pub quantity: LineQuantity,
    /// The amount as it stands in the table; the whole row in running text.
    pub written: String,
    /// The other reading of the amount, if its mark could be either.
    pub or: Option<Decimal>,
    /// The measure of the kitchen that its amount is counted in and whose weight is not said,
    /// "a drop".
    pub measure: Option<&'static str>,
    /// Words beside the line.
    pub note: String,
    /// Materials of the shelf it may mean, surest first.
    pub candidates: Vec<Candidate>,
    /// What is taken unless the maker chooses otherwise.
    pub choice: MaterialChoice,
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
pub struct LeftOutRow {
    /// Row of the table, counted from 1.
    pub row: usize,
    /// What stands in it.
    pub words: String,
    /// Why it makes no line.
    pub reason: String,
}

impl fmt::Display for LeftOutRow {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "row {} “{}”: {}", self.row, self.words, self.reason)
    }
}

/// A step of the method as it would be taken in.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct ProposedStep {
    /// Which of [`RecipeProposal::phases`] it belongs to.
    pub phase: usize,
    /// What is done, as written.
    pub text: String,
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
pub struct RecipeProposal {
    /// Name proposed for the formula.
    pub name: String,
    /// What the columns mean.
    pub layout: Layout,
    /// What the table says of them.
    pub evidence: Vec<Evidence>,
    /// The decimal mark, if the table tells it.
    pub mark: Option<DecimalMark>,
    /// Phases in order.
    pub phases: Vec<ProposedPhase>,
    /// Lines in order.
    pub lines: Vec<ProposedLine>,
    /// The method, step by step.
    pub steps: Vec<ProposedStep>,
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
    /// The kind of product was assumed, because nothing says it outright.
    pub kind_assumed: bool,
    /// Rows that make no line, each with the reason.
    pub left_out: Vec<LeftOutRow>,
    /// How many rows have something in them.
    pub rows: usize,
    /// Grams of the batch that the table states.
    pub batch: Option<Decimal>,
}

impl ProposedLine {
    pub(super) fn doubt_amount(&mut self, words: &str) {
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
            || matches!(&self.choice, MaterialChoice::Known(_, how) if how.is_doubtful())
    }
    /// Whether its material is water, by its name or its match.
    pub(in crate::file::table) fn is_water(&self) -> bool {
        says_water(&self.wanted.name) || says_water(&self.wanted.inci)
    }
}

/// What had to be assumed about a row, in words; none if nothing had to be.
pub(in crate::file::table) fn assumed_of(
    row: usize,
    wanted: &Wanted,
    choice: &MaterialChoice,
    doubts: &[String],
) -> Option<String> {
    let told = match choice {
        _ if !doubts.is_empty() => doubts.join("; "),
        MaterialChoice::Known(id, how) if how.is_doubtful() => {
            format!("it was taken for “{id}” ({})", how.label())
        }
        _ => return None,
    };
    Some(format!("row {row}: “{}”: {told}", wanted.name))
}

impl RecipeProposal {
    pub(super) fn left_out(&mut self, row: usize, words: &str, reason: &str) {
        self.left_out.push(LeftOutRow {
            row: row + 1,
            words: words.chars().take(80).collect(),
            reason: reason.to_owned(),
        });
    }

    /// The place of a phase, made if it is new.
    pub(super) fn enter_phase(&mut self, phase: ProposedPhase) -> usize {
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

    /// A step of the method in words: "2. Add B to A". It belongs to the last phase whose
    /// letter it names, else to that of the step before.
    pub(super) fn add_step(&mut self, written: &str) {
        let text = written.trim();
        let digits = text.bytes().take_while(u8::is_ascii_digit).count();
        let text = text
            .get(digits..)
            .filter(|_| digits > 0)
            .and_then(|rest| rest.strip_prefix(['.', ')', ':']))
            .unwrap_or(text)
            .trim_start_matches(['-', '•', '*', '–', ' '])
            .trim();
        if text.is_empty() {
            return;
        }
        let words: Vec<&str> = text
            .split(|c: char| !c.is_alphanumeric())
            .filter(|w| !w.is_empty())
            .collect();
        let named = |letter: &str| {
            words.iter().enumerate().any(|(n, word)| {
                // The first word of a sentence may be the article.
                let article = n == 0 && *word == "A" && words.len() > 1;
                *word == letter && !article
            })
        };
        let phase = self
            .phases
            .iter()
            .rposition(|p| !p.letter.is_empty() && named(&p.letter))
            .or_else(|| self.steps.last().map(|s| s.phase))
            .unwrap_or(0);
        self.steps.push(ProposedStep {
            phase,
            text: text.to_owned(),
        });
    }

    /// Gives every phase without a letter the next that is free, in order of work; the next
    /// number where those that are named are numbered.
    pub(super) fn letter_phases(&mut self) {
        let used = |n: usize| self.lines.iter().any(|l| l.phase == n);
        let place = |n: usize| (0..n).filter(|&m| used(m)).count();
        let mut taken: Vec<String> = self.phases.iter().map(|p| p.letter.clone()).collect();
        let is_number = |letter: &&String| letter.bytes().all(|b| b.is_ascii_digit());
        let named: Vec<&String> = taken.iter().filter(|letter| !letter.is_empty()).collect();
        let numbered = !named.is_empty() && named.iter().all(is_number);
        if numbered {
            let names: Vec<&str> = named.iter().map(|name| name.as_str()).collect();
            self.notes.push(format!(
                "the table numbers its phases, and they keep their numbers: {}",
                names.join(", ")
            ));
        }
        let called = |m: usize| {
            if numbered {
                (m + 1).to_string()
            } else {
                char::from(b'A' + (m % 26) as u8).to_string() + &"'".repeat(m / 26)
            }
        };
        for n in 0..self.phases.len() {
            if taken.get(n).is_some_and(String::is_empty) && used(n) {
                let letter = (place(n)..=place(n) + self.phases.len())
                    .map(called)
                    .find(|letter| !taken.contains(letter));
                if let (Some(slot), Some(letter)) = (taken.get_mut(n), letter) {
                    *slot = letter;
                }
            }
        }
        let unnamed = |phase: &ProposedPhase| phase.letter.is_empty() && phase.purpose.is_empty();
        let above = self.phases.iter().position(unnamed);
        if let Some(n) =
            above.filter(|n| used(*n) && (0..self.phases.len()).any(|m| m != *n && used(m)))
            && let Some(line) = self.lines.iter().find(|l| l.phase == n)
            && let Some(letter) = taken.get(n)
        {
            self.assumed.push(format!(
                "row {} “{}” stands above the first phase that is named; it and what follows it there were taken as a phase of their own, {letter}",
                line.row, line.wanted.name
            ));
        }
        for (phase, letter) in self.phases.iter_mut().zip(taken) {
            phase.letter = letter;
        }
    }

    /// Exactly one line takes up the rest; of several it is water. A "q.s." of anything
    /// else that does not say to what is not the rest unless the maker says so.
    pub(super) fn settle_rest(&mut self) {
        let rest = |l: &ProposedLine| l.quantity == LineQuantity::Rest;
        if self.lines.iter().filter(|l| rest(l)).count() > 1 {
            // Water, if it is among them, else the first.
            let keep = self
                .lines
                .iter()
                .position(|l| rest(l) && l.is_water())
                .or_else(|| self.lines.iter().position(rest));
            for (n, line) in self.lines.iter_mut().enumerate() {
                if rest(line) && Some(n) != keep {
                    line.quantity = LineQuantity::AsNeeded;
                    line.doubt_amount("several lines are q.s.");
                }
            }
        }
        for line in &mut self.lines {
            if line.quantity == LineQuantity::AsNeeded {
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
        let of_rows = self
            .lines
            .iter()
            .filter_map(|l| assumed_of(l.row, &l.wanted, &l.choice, &l.doubts));
        self.assumed.iter().cloned().chain(of_rows).collect()
    }

    /// Sum of the lines in percent, the q.s. line not counted; `None` if the recipe
    /// is in grams, even if a line or two are percentages of the whole.
    pub fn percent_total(&self) -> Option<Decimal> {
        let count =
            |of: fn(&LineQuantity) -> bool| self.lines.iter().filter(|l| of(&l.quantity)).count();
        let percents = count(|q| matches!(q, LineQuantity::Percent(v) if !v.is_zero()));
        let masses = count(|q| matches!(q, LineQuantity::Grams(_) | LineQuantity::Millilitres(_)));
        if masses > percents {
            return None;
        }
        let mut total = None;
        for line in &self.lines {
            if let LineQuantity::Percent(value) = line.quantity {
                total = Some(total.unwrap_or(Decimal::ZERO) + value);
            }
        }
        total
    }

    /// Whether a column goes into the recipe.
    pub fn takes(&self, column: usize) -> bool {
        self.layout
            .kind(column)
            .is_some_and(ColumnKind::is_of_a_recipe)
    }

    /// Whether a line takes up the rest.
    pub fn has_rest(&self) -> bool {
        self.lines.iter().any(|l| l.quantity == LineQuantity::Rest)
    }
}
