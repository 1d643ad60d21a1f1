//! The stability calendar: which sample is read when, what is due, what may be said so far.

use eframe::egui::{Grid, Ui};
use formulation::amount::typed;
use formulation::file::calendar::calendar;
use formulation::file::pdf::{PdfError, Printing};
use formulation::file::trial_pdf::{entry_form_pdf, labels_pdf};
use formulation::finding::Level;
use formulation::trial::book::{Book, TrialEvent};
use formulation::trial::reading::Sample;
use formulation::trial::stability::{
    Acceptance, DueSample, StabilityPlan, State, Time, Together, judged, samples, to_read,
    together, trends,
};

use super::note;
use crate::command::{Command, Making};
use crate::sheets::make::{caution, field, labelled};
use crate::state::disk::file_stem;
use crate::state::{DocumentId, View};
use crate::theme;
use crate::widgets::entry::line;
use crate::widgets::level_mark::level_mark;

/// Most trials of a formula.
const MOST_TRIALS: u32 = 1_000_000;

/// A paper of a plan: of the formula of a name, for the plan of a number.
type Paper = fn(&str, usize, &StabilityPlan, Printing<'_>) -> Result<Vec<u8>, PdfError>;
/// The papers: button, what it is, and how it is made.
const PAPERS: [(&str, &str, Paper); 2] = [
    (
        "Save labels as PDF…",
        "sample labels",
        |name, number, plan, on| labels_pdf(name, number, plan, on),
    ),
    (
        "Save the entry form as PDF…",
        "entry form",
        |name, number, plan, on| entry_form_pdf(name, number, plan, on),
    ),
];

/// What the page keeps between frames.
#[derive(Default)]
pub struct StabilityPage {
    /// The plan that is typed: its number, and its text.
    edited: Option<(usize, PlanText)>,
    problem: Option<String>,
    /// What may be said of each plan and of several together, and of which state of the trials.
    said: Option<Said>,
}

/// What may be said of the plans.
struct Said {
    of: (DocumentId, u64),
    plans: Vec<Vec<String>>,
    together: Vec<String>,
}

impl Said {
    fn of(book: &Book, of: (DocumentId, u64)) -> Self {
        let plan = |number| {
            let trends = trends(book, number).into_iter();
            let trends = trends.map(|t| format!("{} at {}: {}", t.title(), t.condition, t.words()));
            trends.chain(judged(book, number)).collect()
        };
        Self {
            of,
            plans: (0..book.plans.len()).map(plan).collect(),
            together: together(book).iter().map(Together::words).collect(),
        }
    }
}

/// A plan as typed.
#[derive(Default)]
struct PlanText {
    trial: String,
    start: String,
    conditions: String,
    times: String,
    limits: String,
}

impl PlanText {
    fn of(plan: &StabilityPlan) -> Self {
        let times: Vec<&str> = plan.times.iter().map(|t| t.name.as_str()).collect();
        let limits: Vec<String> = plan.limits.iter().map(Acceptance::words).collect();
        Self {
            trial: plan.trial.to_string(),
            start: plan.start.to_string(),
            conditions: plan.conditions.join("; "),
            times: times.join("; "),
            limits: limits.join("; "),
        }
    }

    fn plan(&self) -> Result<StabilityPlan, String> {
        let parts = |text: &str| -> Vec<String> {
            text.split(';')
                .map(str::trim)
                .filter(|t| !t.is_empty())
                .map(str::to_owned)
                .collect()
        };
        let trial = typed::count(&self.trial, "a number of a trial", MOST_TRIALS)
            .map_err(|e| format!("Trial: {e}"))? as usize;
        let start = typed::day(&self.start).map_err(|e| format!("Start: {e}"))?;
        let mut plan = StabilityPlan::proposed(trial, start, None);
        plan.conditions = parts(&self.conditions);
        plan.times = parts(&self.times)
            .iter()
            .map(|t| Time::read(t))
            .collect::<Result<_, _>>()
            .map_err(|e| format!("Times: {e}"))?;
        plan.times.sort_by_key(|t| t.days);
        plan.limits = parts(&self.limits)
            .iter()
            .map(|t| Acceptance::read(t))
            .collect::<Result<_, _>>()
            .map_err(|e| format!("Limits: {e}"))?;
        if plan.conditions.is_empty() || plan.times.is_empty() {
            return Err("a plan needs at least one condition and one time".to_owned());
        }
        Ok(plan)
    }
}

/// Draws the page; a sample that is to be read comes back.
pub fn ui(
    ui: &mut Ui,
    view: &View<'_>,
    page: &mut StabilityPage,
    by: &str,
    commands: &mut Vec<Command>,
) -> Option<Sample> {
    let trials = view.state.trials(view.document.id);
    let book = trials.book();
    if book.trials.is_empty() {
        ui.label("A stability plan lays out the samples of a trial over conditions and times; begin a trial under Readings first.");
        return None;
    }
    let now = (view.document.id, trials.revision());
    if page.said.as_ref().is_none_or(|s| s.of != now) {
        page.said = Some(Said::of(book, now));
    }
    let all = samples(book, view.state.today());
    let mut chosen = None;
    ui.horizontal_wrapped(|ui| {
        if ui.button("Lay out a plan").clicked() {
            let newest = book.trials.len();
            let proposed = StabilityPlan::proposed(newest, view.state.today(), Some(view.variant));
            page.edited = Some((book.plans.len(), PlanText::of(&proposed)));
        }
        if !book.plans.is_empty()
            && ui
                .button("Save the calendar…")
                .on_hover_text("Days of samples still to be read, as iCalendar")
                .clicked()
        {
            let name = &view.formula.name;
            let file_name = format!("{}.ics", file_stem(name));
            let (name, book) = (name.clone(), book.clone());
            let (today, now) = (view.state.today(), (view.state.host.clock)());
            commands.push(Command::Make(Making::new(
                "Save the calendar",
                file_name,
                move || {
                    let tasks = to_read(&name, &book, today);
                    Ok::<_, String>(calendar(&name, &tasks, now).into_bytes())
                },
            )));
        }
    });
    editor(ui, page, book, by, commands);
    let open: Vec<&DueSample> = all
        .iter()
        .filter(|s| matches!(s.state, State::Due | State::Overdue))
        .collect();
    if !open.is_empty() {
        ui.add_space(theme::TIGHT);
        ui.label(theme::strong("To be read"));
        for due in open {
            ui.push_id(("due", due.sample), |ui| {
                ui.horizontal(|ui| {
                    let level = if due.state == State::Overdue {
                        Level::Caution
                    } else {
                        Level::Note
                    };
                    let words = format!(
                        "{}, {} ({}, {})",
                        due.condition,
                        due.time,
                        due.day,
                        due.state.label()
                    );
                    level_mark(ui, level);
                    ui.colored_label(theme::palette(ui).level(level), words);
                    let read = ui
                        .small_button("Read it")
                        .accessible_name(format!("Read sample {}, {}", due.condition, due.time));
                    if read.clicked() {
                        chosen = Some(due.sample);
                    }
                });
            });
        }
    }
    for (number, plan) in book.plans.iter().enumerate() {
        ui.push_id(number, |ui| {
            plan_card(ui, view, page, (number, plan), &all, commands);
        });
    }
    let together = page.said.iter().flat_map(|s| &s.together);
    if together.clone().next().is_some() {
        ui.add_space(theme::GAP);
        ui.label(theme::strong("Several plans together"));
        for words in together {
            ui.label(words);
        }
    }
    chosen
}

fn editor(
    ui: &mut Ui,
    page: &mut StabilityPage,
    book: &Book,
    by: &str,
    commands: &mut Vec<Command>,
) {
    let Some((number, text)) = &mut page.edited else {
        return;
    };
    let number = *number;
    let mut leave = false;
    ui.label(theme::small(
        ui,
        "The plan is yours: no published standard fixes conditions or limits. What is filled in is common practice, without a source; separate by semicolons.",
    ));
    let mut go = false;
    ui.horizontal_wrapped(|ui| {
        field(ui, "Trial", &mut text.trial, 50.0);
        field(ui, "Start", &mut text.start, 96.0);
        let width = (ui.available_width() - 20.0).clamp(300.0, 620.0);
        wide(ui, "Conditions", &mut text.conditions, width);
        wide(ui, "Times", &mut text.times, width);
        wide(
            ui,
            "Limits, for example viscosity=4000..7000; ph=4.6..5.2; colour=..3",
            &mut text.limits,
            width,
        );
    });
    ui.horizontal(|ui| {
        let words = if number < book.plans.len() {
            "Replace the plan"
        } else {
            "Note the plan"
        };
        go = theme::main_button(ui, words).clicked();
        leave = ui.button("Leave the plan").clicked();
    });
    if go {
        let event = text.plan().and_then(|plan| {
            let event = TrialEvent::Plan { number, plan };
            book.check(&event).map_err(|e| e.to_string())?;
            Ok(event)
        });
        match event {
            Ok(event) => {
                note(commands, by, event);
                leave = true;
            }
            Err(problem) => page.problem = Some(problem),
        }
    }
    if leave {
        page.edited = None;
        page.problem = None;
    } else if let Some(problem) = &page.problem {
        caution(ui, Level::Caution, problem.as_str());
    }
}

fn wide(ui: &mut Ui, label: &str, text: &mut String, width: f32) {
    labelled(ui, label, width, |ui, name| {
        line(ui, text, width).labelled_by(name.id);
    });
}

fn plan_card(
    ui: &mut Ui,
    view: &View<'_>,
    page: &mut StabilityPage,
    (number, plan): (usize, &StabilityPlan),
    all: &[DueSample],
    commands: &mut Vec<Command>,
) {
    ui.add_space(theme::GAP);
    ui.label(theme::strong(format!(
        "Plan {} of trial {}, begun on {}",
        number + 1,
        plan.trial,
        plan.start
    )));
    ui.horizontal_wrapped(|ui| {
        if ui.button("Change the plan").clicked() {
            page.edited = Some((number, PlanText::of(plan)));
        }
        let name = &view.formula.name;
        let paper = view.state.books.workshop().paper;
        for (button, what, pdf) in PAPERS {
            if ui.button(button).clicked() {
                let file_name = format!("{}.pdf", file_stem(&format!("{name} {what}")));
                let (name, plan) = (name.clone(), plan.clone());
                commands.push(Command::Make(Making::watched(
                    format!("Save the {what}"),
                    file_name,
                    move |waits| pdf(&name, number, &plan, Printing::watched(paper, waits)),
                )));
            }
        }
    });
    Grid::new("plan")
        .num_columns(plan.times.len() + 1)
        .spacing([theme::GAP, 4.0])
        .striped(true)
        .show(ui, |ui| {
            ui.label("");
            for (t, time) in plan.times.iter().enumerate() {
                let day = plan.day(t).map_or_else(String::new, |d| d.to_string());
                ui.label(theme::small(ui, &time.name)).on_hover_text(day);
            }
            ui.end_row();
            for (c, condition) in plan.conditions.iter().enumerate() {
                ui.label(condition);
                for t in 0..plan.times.len() {
                    let state = all
                        .iter()
                        .find(|s| {
                            s.sample
                                == Sample {
                                    plan: number,
                                    condition: c,
                                    time: t,
                                }
                        })
                        .map_or("", |s| s.state.label());
                    if state == State::Overdue.label() {
                        let colour = theme::palette(ui).level(Level::Caution);
                        ui.colored_label(colour, state);
                    } else {
                        ui.label(theme::small(ui, state));
                    }
                }
                ui.end_row();
            }
        });
    let said = page.said.as_ref().and_then(|s| s.plans.get(number));
    for words in said.into_iter().flatten() {
        ui.label(words);
    }
    let limits: Vec<String> = plan.limits.iter().map(Acceptance::sentence).collect();
    if !limits.is_empty() {
        ui.label(theme::small(
            ui,
            format!("Your limits: {}", limits.join("; ")),
        ));
    }
    ui.label(theme::small(
        ui,
        "Trends after the approach of ICH Q1E, no further than it allows. What was set and what it means for a product is for you and a qualified assessor to judge.",
    ));
}
