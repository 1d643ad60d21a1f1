//! What trials tell of a variant, quantity by quantity: what was measured on exactly this
//! composition, what was read of an earlier state, and what all readings together have taught.

use super::book::{Book, RecordedReading, Trial, same_composition, shares, value_words};
use super::learn::{Expected, Learnt, Lessons};
use super::reading::Quantity;
use super::way::{Over, apart};
use crate::formula::Variant;
use crate::material::MaterialId;

/// A reading of another composition than the one asked about.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Earlier<'a> {
    /// The trial it was made on.
    pub trial: &'a Trial,
    /// The reading.
    pub kept: &'a RecordedReading,
    /// Whether it is of the formula as it was then; else of what was added to it on the bench,
    /// or of a mixture of a planned set.
    pub of_formula: bool,
}

impl Earlier<'_> {
    /// In words: “4230 mPa·s was read of an earlier state, trial 1 of 2026-05-01, as weighed”.
    #[must_use]
    pub fn words(&self) -> String {
        let state = if self.of_formula {
            "an earlier state"
        } else {
            "another mixture"
        };
        let how = self.kept.reading.how();
        let sep = if how.is_empty() { "" } else { "; " };
        format!(
            "{} was read of {state} (trial {} of {}, {}{sep}{how})",
            value_words(&self.kept.reading),
            self.trial.number,
            self.trial.opening.date,
            self.trial.step_words(self.kept.step),
        )
    }
}

/// What was learnt of a quantity, at the composition asked about.
#[derive(Clone, Debug)]
pub struct Taught<'a> {
    /// What was learnt.
    pub learnt: &'a Learnt,
    /// What is expected here.
    pub expected: Expected,
    /// Materials of which no trial had as much or as little.
    pub strange: Vec<MaterialId>,
}

/// What trials tell of one quantity.
#[derive(Clone, Debug)]
pub struct Known<'a> {
    /// Of what.
    pub quantity: Quantity,
    /// The newest reading of exactly this composition for each way of reading it; the newest of
    /// a state that had settled last.
    pub measured: Vec<&'a RecordedReading>,
    /// The newest reading of another composition, where none is of this one.
    pub earlier: Option<Earlier<'a>>,
    /// What was learnt, each way of reading apart.
    pub taught: Vec<Taught<'a>>,
}

/// Whether a reading is of exactly the composition of a variant.
#[must_use]
pub fn is_of(book: &Book, kept: &RecordedReading, variant: &Variant) -> bool {
    let made = book.trial(kept.trial).ok();
    let made = made.and_then(|trial| trial.formula_at(kept.step));
    made.is_some_and(|made| same_composition(&shares(made.active()), &shares(variant)))
}

/// What trials tell of a variant: the quantities of which something was read, in their order.
#[must_use]
pub fn known<'a>(book: &'a Book, lessons: &'a Lessons, variant: &Variant) -> Vec<Known<'a>> {
    let mut out = Vec::new();
    for quantity in book.quantities() {
        let (these, others): (Vec<_>, Vec<_>) = book
            .readings_of(quantity)
            .partition(|(_, kept)| is_of(book, kept, variant));
        let ways = apart(book, Over::Composition, these.iter().map(|(_, kept)| *kept));
        let newest = ways.into_iter();
        let mut newest: Vec<(bool, &RecordedReading)> = newest
            .filter_map(|(way, of_way)| Some((!way.is_early(), *of_way.last()?)))
            .collect();
        newest.sort_by_key(|(settled, kept)| (*settled, kept.number));
        let measured: Vec<&RecordedReading> = newest.into_iter().map(|(_, kept)| kept).collect();
        let earlier = others.iter().map(|(trial, kept)| Earlier {
            trial,
            kept,
            of_formula: trial.opening.set.is_none() && kept.step == 0,
        });
        // Of the formula rather than of something else, and of these the newest.
        let earlier = earlier.max_by_key(|e| (e.of_formula, e.kept.number));
        let taught = lessons.all();
        let taught = taught
            .filter(|l| l.from.quantity == quantity)
            .map(|learnt| Taught {
                expected: learnt.at(&learnt.from.place(variant)),
                strange: learnt.from.strange(variant),
                learnt,
            });
        out.push(Known {
            quantity,
            earlier: earlier.filter(|_| measured.is_empty()),
            measured,
            taught: taught.collect(),
        });
    }
    out
}

/// The readings that the maker lets go with the finished formula and the recipe, as label and
/// value: those of exactly this composition, each with trial, day and method.
#[must_use]
pub fn told(book: &Book, variant: &Variant) -> Vec<(String, String)> {
    let chosen = book.readings.iter().filter(|k| k.told);
    let mut out = Vec::new();
    for kept in chosen.filter(|k| k.set_aside.is_none() && k.reading.sample.is_none()) {
        let Ok(trial) = book.trial(kept.trial) else {
            continue;
        };
        if !is_of(book, kept, variant) {
            continue;
        }
        let (day, who) = (kept.day(), &kept.noted.1);
        let how = kept.reading.how();
        let how = if how.is_empty() {
            "method not stated"
        } else {
            &how
        };
        out.push((
            kept.reading.quantity.label().to_owned(),
            format!(
                "{}, measured on trial {} of {} ({how}), noted on {day} by {who}",
                value_words(&kept.reading),
                trial.number,
                trial.opening.date,
            ),
        ));
    }
    out
}
