//! One recipe or list of a file, and what was settled about it.

use std::collections::BTreeSet;
use std::sync::Arc;

use eframe::egui::{self, Id, Ui};
use formulation::file::answers::Answers;
use formulation::file::table::columns::Layout;
use formulation::file::table::questions::{self as asked_in, Asked, Counts, Question};
use formulation::file::table::recipe::{MaterialChoice, RecipeSettings};
use formulation::file::table::sections::RecipeSection;
use formulation::finding::Level;
use formulation::naming::Wanted;

use super::reading::{self, Matching, Now, Read, Reading};
use crate::state::View;
use crate::widgets::refusal::refuse;
use crate::words::counted;

/// What the maker says of an amount that the table leaves open.
pub(super) enum Said {
    /// The line of this row takes up the rest.
    Rest(usize),
    /// The amount of some rows, as typed in a field.
    Amount {
        rows: Vec<usize>,
        typed: String,
        field: Id,
    },
    /// What one of a measure of the kitchen weighs, as typed in a field.
    Measure {
        name: &'static str,
        typed: String,
        field: Id,
    },
}

/// A recipe or a list of the file.
pub(super) struct Part {
    pub(super) section: RecipeSection,
    pub(super) prices: bool,
    pub(super) settings: RecipeSettings,
    pub(super) reading: Option<Reading>,
    /// Rows whose amounts the maker has agreed to.
    pub(super) agreed: BTreeSet<usize>,
    /// What materials as written were chosen to be, so that it holds when the table is read
    /// anew.
    chosen: Vec<(Wanted, MaterialChoice)>,
    /// What is asked, worked out anew after every change.
    open: Option<Arc<[Question]>>,
    /// How many rows end how, counted anew after every change.
    counts: Option<Counts>,
}

impl Part {
    pub(super) fn of(section: RecipeSection, prices: bool) -> Self {
        let settings = RecipeSettings {
            layout: section.layout.clone(),
            ..RecipeSettings::default()
        };
        Self {
            section,
            prices,
            settings,
            reading: None,
            agreed: BTreeSet::new(),
            chosen: Vec::new(),
            open: None,
            counts: None,
        }
    }

    /// What is asked about it.
    pub(super) fn questions(&mut self) -> Arc<[Question]> {
        if let Some(open) = &self.open {
            return Arc::clone(open);
        }
        let open: Arc<[Question]> = match self.read() {
            Some(Read::Recipe(proposal)) => asked_in::questions(&proposal.lines).into(),
            Some(Read::Prices(list)) => asked_in::questions(&list.prices).into(),
            None => return Arc::new([]),
        };
        self.open = Some(Arc::clone(&open));
        open
    }

    /// How many rows end how; `None` until it is read.
    pub(super) fn counts(&mut self) -> Option<Counts> {
        if self.counts.is_none() {
            self.counts = self.read().map(|read| match read {
                Read::Recipe(proposal) => proposal.counts(),
                Read::Prices(list) => list.counts(&BTreeSet::new()),
            });
        }
        self.counts
    }

    /// Why it cannot be read.
    pub(super) fn problem(&self) -> Option<&str> {
        match &self.reading {
            Some(Now::Done(Err(problem))) => Some(problem),
            _ => None,
        }
    }

    /// Whether cells must be put right in the file before it can be taken in.
    fn is_blocked(&self) -> bool {
        match self.read() {
            Some(Read::Recipe(proposal)) => !proposal.problems.is_empty(),
            _ => self.problem().is_some(),
        }
    }

    /// How many questions are open about it.
    pub(super) fn open(&mut self) -> usize {
        let of_lines = self.questions().len();
        let of_whole = match self.read() {
            Some(Read::Recipe(p)) => p.kind_assumed && self.settings.kinds.is_none(),
            Some(Read::Prices(l)) => l.open_days.is_some() && self.settings.days.is_none(),
            None => false,
        };
        of_lines + usize::from(of_whole)
    }

    /// How far it is, and how much that matters.
    pub(super) fn state(&mut self) -> (Option<Level>, String) {
        if self.is_blocked() {
            return (Some(Level::Breach), "cannot be read".to_owned());
        }
        if self.read().is_none() {
            return (None, "not looked at yet".to_owned());
        }
        match self.open() {
            0 => (None, "ready".to_owned()),
            open => (Some(Level::Caution), counted(open, "question")),
        }
    }

    /// Reads it or goes on reading, and puts in what was answered before.
    /// The file goes by its title and its name.
    pub(super) fn go_on(
        &mut self,
        ui: &Ui,
        (title, file): (&str, &str),
        answers: &Answers,
        view: &View<'_>,
    ) {
        let mut fresh = false;
        if self.reading.is_none() {
            self.reading = Some(reading::read(
                ui.ctx(),
                &self.section.table,
                title,
                self.prices,
                &self.settings,
                view.state.shelf(),
            ));
            fresh = true;
        }
        if let Some(Now::Working(work)) = &mut self.reading {
            work.poll();
            let Some(((), answer)) = work.take() else {
                if work.standing().is_none() {
                    // It was stopped, and is wanted all the same.
                    self.begin_anew();
                    ui.request_repaint();
                }
                return;
            };
            self.reading = Some(Now::Done(answer));
            fresh = true;
        }
        if fresh && self.takes_amounts(file, answers) {
            // Amounts that were said the last time change what the other rows are.
            self.begin_anew();
            ui.ctx().request_repaint();
        } else if fresh {
            self.settle(answers, view);
        }
    }

    /// Takes amounts that were said of a file of this name; whether there were any.
    fn takes_amounts(&mut self, file: &str, answers: &Answers) -> bool {
        let Some(Now::Done(Ok(Read::Recipe(proposal)))) = &self.reading else {
            return false;
        };
        !file.is_empty() && answers.settle_amounts(file, proposal, &mut self.settings)
    }

    /// The reading that goes on, or was stopped.
    pub(super) const fn work(&self) -> Option<&Matching> {
        match &self.reading {
            Some(Now::Working(work)) => Some(work),
            _ => None,
        }
    }

    pub(super) const fn work_mut(&mut self) -> Option<&mut Matching> {
        match &mut self.reading {
            Some(Now::Working(work)) => Some(work),
            _ => None,
        }
    }

    /// Takes a material as written for something wherever it comes up.
    pub(super) fn choose(&mut self, wanted: &Wanted, choice: &MaterialChoice) {
        self.chosen.push((wanted.clone(), choice.clone()));
        let count = match self.read_mut() {
            Some(Read::Recipe(proposal)) => asked_in::settle(&mut proposal.lines, wanted, choice),
            Some(Read::Prices(list)) => asked_in::settle(&mut list.prices, wanted, choice),
            None => 0,
        };
        if count > 0 {
            self.touched();
        }
    }

    /// Takes what the maker says of amounts; what cannot be read is told beside its field.
    pub(super) fn say(&mut self, ctx: &egui::Context, said: Said) {
        match said {
            Said::Rest(row) => self.settings.take_up_the_rest(row),
            Said::Amount { rows, typed, field } => {
                for row in rows {
                    if let Err(why) = self.settings.set_amount(row, &typed) {
                        return refuse(ctx, field, typed, why);
                    }
                }
            }
            Said::Measure { name, typed, field } => {
                if let Err(why) = self.settings.set_measure(name, &typed) {
                    return refuse(ctx, field, typed, why.to_string());
                }
            }
        }
        self.begin_anew();
        ctx.request_repaint();
    }

    /// Something of it was settled or read anew.
    pub(super) fn touched(&mut self) {
        self.open = None;
        self.counts = None;
    }

    pub(super) fn read_mut(&mut self) -> Option<&mut Read> {
        match &mut self.reading {
            Some(Now::Done(Ok(read))) => Some(read),
            _ => None,
        }
    }

    /// What the settings say has changed.
    pub(super) fn begin_anew(&mut self) {
        self.reading = None;
    }

    pub(super) fn read(&self) -> Option<&Read> {
        match &self.reading {
            Some(Now::Done(Ok(read))) => Some(read),
            _ => None,
        }
    }

    /// Puts in what was settled before.
    pub(super) fn settle(&mut self, answers: &Answers, view: &View<'_>) {
        self.touched();
        let (agreed, chosen) = (self.agreed.clone(), self.chosen.clone());
        let shelf = view.state.shelf();
        match self.read_mut() {
            Some(Read::Recipe(proposal)) => {
                settle_all(&mut proposal.lines, answers, shelf, &agreed);
                for (wanted, choice) in &chosen {
                    asked_in::settle(&mut proposal.lines, wanted, choice);
                }
            }
            Some(Read::Prices(list)) => {
                settle_all(&mut list.prices, answers, shelf, &agreed);
                for (wanted, choice) in &chosen {
                    asked_in::settle(&mut list.prices, wanted, choice);
                }
            }
            None => {}
        }
    }

    pub(super) fn layout(&self) -> Layout {
        match self.read() {
            Some(Read::Recipe(proposal)) => proposal.layout.clone(),
            Some(Read::Prices(list)) => list.layout.clone(),
            None => self.settings.layout.clone().unwrap_or_default(),
        }
    }
}

fn settle_all<L: Asked>(
    lines: &mut [L],
    answers: &Answers,
    shelf: &formulation::shelf::Shelf,
    agreed: &BTreeSet<usize>,
) {
    for line in lines {
        if let Some(choice) = answers.choice(line.wanted(), shelf) {
            line.choose(choice);
        }
        if agreed.contains(&line.row()) {
            line.accept_amount();
        }
    }
}
