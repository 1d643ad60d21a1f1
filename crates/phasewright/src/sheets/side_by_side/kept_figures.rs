//! Figures of variants, worked out once a state: what was learnt from trials is too slow to be
//! asked in every frame.

use std::sync::Arc;

use formulation::compare::figures::{ComparedFigure, Readings, figures};
use formulation::evaluation::Evaluation;
use formulation::formula::{Formula, Variant};
use formulation::stock::Stock;
use formulation::trial::learn::Lessons;
use formulation::trial::reading::Quantity;

/// Most states that are kept.
const MOST: usize = 256;

/// Of what figures are asked.
pub struct Asked<'a> {
    pub formula: &'a Formula,
    pub variant: &'a Arc<Variant>,
    pub evaluation: &'a Arc<Evaluation>,
    /// Prices, and their revision.
    pub stock: (&'a Stock, u64),
    pub readings: Readings<'a>,
    /// Revision of the trials.
    pub trials: u64,
}

/// Figures that were worked out, and of what.
struct WorkedOut {
    variant: Arc<Variant>,
    evaluation: Arc<Evaluation>,
    stock: u64,
    trials: u64,
    lessons: Option<Lessons>,
    listed: Vec<Quantity>,
    figures: Arc<Vec<ComparedFigure>>,
}

impl WorkedOut {
    fn is_of(&self, asked: &Asked<'_>) -> bool {
        Arc::ptr_eq(&self.variant, asked.variant)
            && Arc::ptr_eq(&self.evaluation, asked.evaluation)
            && self.stock == asked.stock.1
            && self.trials == asked.trials
            && self.lessons.as_ref() == asked.readings.trials.map(|(_, lessons)| lessons)
            && self.listed == asked.readings.listed
    }
}

/// Figures kept between frames.
#[derive(Default)]
pub struct KeptFigures(Vec<WorkedOut>);

impl KeptFigures {
    /// The figures asked for, worked out if they are not kept.
    pub fn of(&mut self, asked: &Asked<'_>) -> Arc<Vec<ComparedFigure>> {
        if let Some(kept) = self.0.iter().find(|k| k.is_of(asked)) {
            return Arc::clone(&kept.figures);
        }
        if self.0.len() >= MOST {
            self.0.drain(..MOST / 2);
        }
        let (stock, revision) = asked.stock;
        let found = Arc::new(figures(
            asked.formula,
            asked.variant,
            asked.evaluation,
            Some(stock),
            &asked.readings,
        ));
        self.0.push(WorkedOut {
            variant: Arc::clone(asked.variant),
            evaluation: Arc::clone(asked.evaluation),
            stock: revision,
            trials: asked.trials,
            lessons: asked.readings.trials.map(|(_, lessons)| lessons.clone()),
            listed: asked.readings.listed.to_vec(),
            figures: Arc::clone(&found),
        });
        found
    }
}
