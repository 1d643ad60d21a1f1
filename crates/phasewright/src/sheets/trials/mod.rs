//! The sheet Trials: what was made on the bench and read, the curves through it, planned
//! sets, the stability calendar, and what was learnt.

mod beaker;
mod curves;
mod learnt;
mod reading_form;
mod set;
mod stability;

use eframe::egui::{ScrollArea, Ui};
use formulation::finding::Level;
use formulation::trial::book::TrialEvent;

use crate::command::Command;
use crate::examples;
use crate::sheets::make::caution;
use crate::state::View;
use crate::theme;
use crate::widgets::choice::choice_row;
use crate::widgets::entry::line;
use crate::widgets::focus::region;

/// What is shown of the sheet.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
enum Page {
    #[default]
    Beakers,
    Curves,
    Learnt,
    Set,
    Stability,
}

impl Page {
    const ALL: [Self; 5] = [
        Self::Beakers,
        Self::Curves,
        Self::Learnt,
        Self::Set,
        Self::Stability,
    ];
    const fn label(self) -> &'static str {
        match self {
            Self::Beakers => "Readings",
            Self::Curves => "Curves",
            Self::Learnt => "Learnt",
            Self::Set => "Planned set",
            Self::Stability => "Stability",
        }
    }
}

/// What the sheet keeps between frames.
#[derive(Default)]
pub struct TrialsSheet {
    page: Page,
    by: String,
    beakers: beaker::BeakerPage,
    curves: curves::CurvesPage,
    learnt: learnt::LearntPage,
    set: set::SetPage,
    stability: stability::StabilityPage,
    begun: bool,
}

/// Draws the sheet.
pub fn ui(ui: &mut Ui, view: &View<'_>, sheet: &mut TrialsSheet, commands: &mut Vec<Command>) {
    let trials = view.state.trials(view.document.id);
    if !std::mem::replace(&mut sheet.begun, true)
        && let Some(last) = view.state.books.workshop().people.first()
    {
        // The one who worked last is likely to go on.
        sheet.by = last.to_string();
    }
    region(ui, "Pages of Trials", |ui| {
        ui.horizontal_wrapped(|ui| {
            let all = &Page::ALL;
            choice_row(ui, "pages", &mut sheet.page, all, Page::label, |_| "");
            ui.separator();
            let label = ui.label(theme::small(ui, "Noted by"));
            line(ui, &mut sheet.by, 120.0)
                .labelled_by(label.id)
                .on_hover_text("Your name, as it stands beside every entry");
        });
    });
    ui.add_space(theme::TIGHT);
    for fault in trials.faults() {
        caution(ui, Level::Breach, fault);
    }
    for remark in trials.remarks() {
        caution(ui, Level::Note, remark.as_str());
    }
    if !trials.lost().is_empty() {
        caution(
            ui,
            Level::Caution,
            format!(
                "{} entries stand behind one that cannot be read and are not counted; they stay in the file",
                trials.lost().len()
            ),
        );
    }
    let TrialsSheet {
        page,
        by,
        beakers,
        curves,
        learnt,
        set,
        stability,
        begun: _,
    } = sheet;
    match page {
        Page::Beakers => beaker::ui(ui, view, beakers, by, commands),
        Page::Curves => alone(ui, *page, |ui| curves::ui(ui, view, curves)),
        Page::Learnt => alone(ui, *page, |ui| {
            learnt::ui(ui, view, learnt, by, commands);
        }),
        Page::Set => alone(ui, *page, |ui| set::ui(ui, view, set, by, commands)),
        Page::Stability => {
            let wanted = alone(ui, *page, |ui| {
                stability::ui(ui, view, stability, by, commands)
            });
            if let Some(sample) = wanted {
                beakers.read_sample(view, sample);
                *page = Page::Beakers;
            }
        }
    }
}

/// A page that is one region and scrolls as a whole.
fn alone<R>(ui: &mut Ui, page: Page, content: impl FnOnce(&mut Ui) -> R) -> R {
    region(ui, page.label(), |ui| {
        ScrollArea::vertical()
            .id_salt(page.label())
            .auto_shrink([false, false])
            .show(ui, content)
            .inner
    })
}

/// What is said where nothing was noted yet: one sentence and two actions. True if a trial
/// is to be begun.
fn nothing_yet(ui: &mut Ui, commands: &mut Vec<Command>) -> bool {
    ui.add_space(theme::GAP);
    ui.label("A trial is one beaker made to learn from: the formula as weighed, what was added on the bench, and every reading.");
    ui.add_space(theme::TIGHT);
    let mut begin = false;
    ui.horizontal(|ui| {
        begin = theme::main_button(ui, "Begin a trial").clicked();
        if ui
            .button("Open the invented example")
            .on_hover_text("A shower gel of the invented Larkmoor Studio with a salt curve, a stability plan and a planned set")
            .clicked()
        {
            commands.push(Command::OpenExample(examples::FIRST));
        }
    });
    begin
}

/// Notes one event.
fn note(commands: &mut Vec<Command>, by: &str, event: TrialEvent) {
    commands.push(Command::Note(vec![event], by.trim().to_owned()));
}
