//! The mix as it was really weighed, evaluated.

use std::sync::Arc;

use eframe::egui::Ui;
use formulation::amount::Measure;
use formulation::batch::record::Record;
use formulation::evaluation::Evaluation;
use formulation::finding::{Level, Tally};
use formulation::lot_values::as_weighed;

use super::{At, RunPage, caution};
use crate::state::{ShelfIndex, View};
use crate::theme;
use crate::widgets::findings_list::plural;

/// The mix as it was really weighed, evaluated.
pub struct Checked {
    /// Of which state of the records.
    revision: u64,
    /// Of which shelf.
    shelf: Arc<ShelfIndex>,
    evaluation: Arc<Evaluation>,
    /// Lots whose certificates count.
    lots: Vec<String>,
    /// Why certificates do not count.
    problem: Option<String>,
}

fn check(view: &View<'_>, record: &Record) -> Option<Checked> {
    let known = &view.state.makers_shelf().own().lots;
    let found = as_weighed(record, known, view.state.context())?;
    let problem = found.problem;
    Some(Checked {
        revision: view.state.books.revision(),
        shelf: Arc::clone(view.state.index()),
        evaluation: Arc::new(found.evaluation),
        lots: found.lots.iter().map(ToString::to_string).collect(),
        problem: problem.map(|error| format!("The certificates are not used: {error}")),
    })
}

/// What the checks say of the mix as it was really weighed.
pub fn ui(ui: &mut Ui, at: At<'_>, page: &mut RunPage) {
    refresh(at, page);
    let Some(Checked {
        evaluation,
        lots,
        problem,
        ..
    }) = &page.checked
    else {
        return;
    };
    ui.add_space(theme::GAP);
    let tally = Tally::of(&evaluation.findings);
    ui.collapsing(
        format!(
            "As really weighed: {}, {}, active matter {}, water {}",
            plural(Level::Breach, tally.breaches),
            plural(Level::Caution, tally.cautions),
            Measure::PERCENT_ROUGH
                .shown(evaluation.composition.active_total().typical.as_percent()),
            Measure::PERCENT_ROUGH.shown(evaluation.composition.water().typical.as_percent())
        ),
        |ui| {
            for finding in evaluation.findings.iter().filter(|f| f.counts()) {
                caution(ui, finding.level, &finding.message);
            }
        },
    );
    if !lots.is_empty() {
        let words = format!("By the certificates of the lots {}", lots.join(", "));
        ui.label(theme::small(ui, words));
    }
    if let Some(problem) = problem {
        caution(ui, Level::Caution, problem);
    }
}

/// Works the mix out anew if anything it depends on has changed.
pub fn refresh(at: At<'_>, page: &mut RunPage) {
    let revision = at.view.state.books.revision();
    let index = at.view.state.index();
    let fresh = |c: &Checked| c.revision == revision && Arc::ptr_eq(&c.shelf, index);
    if !page.checked.as_ref().is_some_and(fresh) {
        page.checked = check(at.view, at.record);
    }
}

impl Checked {
    /// What follows from the mix.
    pub const fn evaluation(&self) -> &Arc<Evaluation> {
        &self.evaluation
    }
}
