//! The beakers: each trial with its steps and readings, and the forms that add to it.

use std::fmt::Write as _;

use eframe::egui::{self, Grid, Id, ScrollArea, Ui};
use formulation::amount::{Measure, typed};
use formulation::finding::Level;
use formulation::mass::{ExactMass, MassUnit, read_mass};
use formulation::trial::book::{
    Addition, Book, RecordedReading, Trial, TrialEvent, TrialOpening, value_words,
};
use formulation::trial::challenge;
use formulation::trial::reading::{Reading, Sample};

use super::reading_form::{ReadingForm, entered};
use super::{note, nothing_yet};
use crate::command::Command;
use crate::sheets::make::{action, caution, choice, field, labelled};
use crate::state::{TrialBook, View};
use crate::theme;
use crate::widgets::focus::region;
use crate::widgets::in_columns::two_columns;
use crate::widgets::material_picker::MaterialPicker;
use crate::widgets::side_panel::{At, resize_by_keys};

/// Width from which the readings of a trial stand beside its forms, in points.
const FORMS_AND_READINGS: f32 = 1200.0;

/// What is done to a reading.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Mending {
    Correct,
    SetAside,
}

/// What the page keeps between frames.
#[derive(Default)]
pub struct BeakerPage {
    /// Number of the trial that is shown.
    shown: Option<usize>,
    /// Trials there were in the last frame; a new one is shown.
    seen: usize,
    beginning: bool,
    /// The form that begins a trial was opened just now.
    begins: bool,
    begin: BeginForm,
    picker: MaterialPicker,
    added: Option<std::sync::Arc<formulation::material::Material>>,
    added_mass: String,
    /// Step that a reading is noted on; the newest if none.
    step: Option<usize>,
    form: ReadingForm,
    mending: Option<(usize, Mending, ReadingForm)>,
    why: String,
    problem: Option<String>,
}

#[derive(Default)]
struct BeginForm {
    purpose: String,
    mass: String,
    room: String,
    /// Code of the batch it is taken from; empty for the formula.
    batch: String,
}

impl BeakerPage {
    /// Opens the form that begins a trial, with the cursor in its first field.
    const fn open_form(&mut self) {
        (self.beginning, self.begins) = (true, true);
    }

    /// Prepares the reading of a sample of a stability plan.
    pub fn read_sample(&mut self, view: &View<'_>, sample: Sample) {
        let book = view.state.trials(view.document.id).book();
        self.shown = book.plans.get(sample.plan).map(|p| p.trial);
        self.step = None;
        self.form.clear();
        self.form.draft.sample = Some(sample);
    }
}

/// Draws the page.
pub fn ui(
    ui: &mut Ui,
    view: &View<'_>,
    page: &mut BeakerPage,
    by: &str,
    commands: &mut Vec<Command>,
) {
    let trials = view.state.trials(view.document.id);
    let book = trials.book();
    if book.trials.len() != page.seen {
        if book.trials.len() > page.seen {
            page.shown = Some(book.trials.len());
            page.beginning = false;
        }
        page.seen = book.trials.len();
    }
    if trials.path().is_none() && !book.trials.is_empty() {
        caution(
            ui,
            Level::Note,
            "This is an invented example. Save the formula, and its trials are saved beside it; then readings can be added",
        );
    }
    if book.trials.is_empty() && !page.beginning {
        if region(ui, "Readings", |ui| nothing_yet(ui, commands)) {
            page.open_form();
        }
        return;
    }
    if page.beginning {
        region(ui, "A trial to begin", |ui| {
            begin(ui, view, page, by, commands);
        });
        ui.separator();
    }
    let shown = page
        .shown
        .filter(|n| book.trial(*n).is_ok())
        .or(book.trials.last().map(|t| t.number));
    let name = Id::unique("trials");
    resize_by_keys(ui, name, At::Left);
    egui::Panel::left(name)
        .resizable(true)
        .default_size(280.0)
        .size_range(200.0..=420.0)
        .frame(egui::Frame::new().inner_margin(egui::Margin {
            right: 12,
            ..egui::Margin::ZERO
        }))
        .show(ui, |ui| {
            region(ui, "List of trials", |ui| {
                ScrollArea::vertical()
                    .id_salt("list of trials")
                    .auto_shrink(false)
                    .show(ui, |ui| {
                        if !page.beginning && ui.button("Begin another trial").clicked() {
                            page.open_form();
                        }
                        ui.spacing_mut().item_spacing.y = 1.0;
                        ui.spacing_mut().interact_size.y = 18.0;
                        ui.add_space(theme::TIGHT);
                        for trial in book.trials.iter().rev() {
                            ui.push_id(trial.number, |ui| list_row(ui, view, trial, shown, page));
                        }
                    });
            });
        });
    let margin = egui::Frame::new().inner_margin(egui::Margin {
        left: 12,
        ..egui::Margin::ZERO
    });
    egui::CentralPanel::no_frame().frame(margin).show(ui, |ui| {
        region(ui, "One trial", |ui| {
            ScrollArea::vertical()
                .id_salt("one trial")
                .auto_shrink(false)
                .show(ui, |ui| {
                    if let Some(trial) = shown.and_then(|n| book.trial(n).ok()) {
                        trial_card(ui, view, trials, trial, page, by, commands);
                    }
                });
        });
    });
}

fn list_row(
    ui: &mut Ui,
    view: &View<'_>,
    trial: &Trial,
    shown: Option<usize>,
    page: &mut BeakerPage,
) {
    let variant = trial.opening.formula.active();
    let mut words = format!("Trial {}: {}", trial.number, trial.opening.purpose);
    if let Some(set) = trial.opening.set {
        let _ = write!(words, " (mixture {})", set.mixture);
    }
    let chosen = shown == Some(trial.number);
    let row = ui.add(egui::Button::selectable(chosen, words).wrap());
    if row.clicked() {
        page.shown = Some(trial.number);
        page.step = None;
        page.mending = None;
    }
    let mut facts = trial.opening.date.to_string();
    // A mixture of a planned set has no name of its own beside its number.
    if trial.opening.set.is_none() {
        let _ = write!(facts, " · {}", variant.name);
        if view.formula.variant(variant.id).is_none() {
            facts.push_str(", a variant that is no longer in the file");
        }
    }
    // It stands with its title, not with the next.
    ui.horizontal(|ui| {
        ui.add_space(ui.spacing().button_padding.x);
        ui.add(egui::Label::new(theme::small(ui, facts)).wrap());
    });
    ui.add_space(theme::TIGHT);
}

/// The form that begins a trial.
fn begin(
    ui: &mut Ui,
    view: &View<'_>,
    page: &mut BeakerPage,
    by: &str,
    commands: &mut Vec<Command>,
) {
    let form = &mut page.begin;
    let mut go = false;
    let mut leave = false;
    ui.horizontal_wrapped(|ui| {
        let typed = [
            field(ui, "What is to be learnt", &mut form.purpose, 300.0),
            field(ui, "Mass made, g", &mut form.mass, 80.0)
                .on_hover_text("For example 200, or with a unit: 0.5 kg"),
            field(ui, "Room, °C", &mut form.room, 80.0)
                .on_hover_text("For example 21, or with a unit: 70 °F"),
        ];
        // The click that opened the form would take the cursor away again in its own frame.
        if page.begins && !ui.input(|i| i.pointer.any_click()) {
            page.begins = false;
            typed[0].request_focus();
        }
        go = typed.iter().any(|field| entered(ui, field));
        let codes: Vec<String> = view
            .state
            .books
            .all_records()
            .filter(|r| r.opening().formula.product() == view.formula.product())
            .map(|r| r.code().to_string())
            .collect();
        if !codes.is_empty() {
            labelled(ui, "From", 140.0, |ui, _| {
                let shown = if form.batch.is_empty() {
                    "the formula".to_owned()
                } else {
                    format!("batch {}", form.batch)
                };
                egui::ComboBox::from_id_salt("from")
                    .selected_text(shown)
                    .width(140.0)
                    .show_ui(ui, |ui| {
                        ui.selectable_value(&mut form.batch, String::new(), "the formula");
                        for code in &codes {
                            let words = format!("batch {code}");
                            ui.selectable_value(&mut form.batch, code.clone(), words);
                        }
                    })
                    .response
                    .accessible_name("From");
            });
        }
        go |= action(ui, "Begin").clicked();
        leave = action(ui, "Leave").clicked();
    });
    if leave {
        page.beginning = false;
        page.problem = None;
        return;
    }
    if go {
        match opening(view, &page.begin) {
            Ok(opening) => {
                page.problem = None;
                page.begin.purpose.clear();
                note(commands, by, TrialEvent::Begin(Box::new(opening)));
            }
            Err(problem) => page.problem = Some(problem),
        }
    }
    if page.beginning
        && let Some(problem) = &page.problem
    {
        caution(ui, Level::Caution, problem.as_str());
    }
}

fn opening(view: &View<'_>, form: &BeginForm) -> Result<TrialOpening, String> {
    if view.document.path.is_none() {
        return Err("Trials lie beside the formula file: save the formula first".to_owned());
    }
    let purpose = form.purpose.trim();
    if purpose.is_empty() {
        return Err("What is to be learnt: say it in a sentence".to_owned());
    }
    let mass =
        read_mass(&form.mass, Some(MassUnit::Gram)).map_err(|e| format!("Mass made: {e}"))?;
    let today = view.state.today();
    let mut opening = if form.batch.is_empty() {
        TrialOpening::of(view.formula, purpose, today, mass)
    } else {
        let record = view
            .state
            .books
            .all_records()
            .find(|r| r.code().as_str() == form.batch)
            .ok_or_else(|| format!("There is no record of the batch {}", form.batch))?;
        TrialOpening::of_batch(record, purpose, today, mass).map_err(|e| e.to_string())?
    };
    if !form.room.trim().is_empty() {
        let room = typed::value(&form.room, &Measure::TEMPERATURE)
            .map_err(|e| format!("Room temperature: {e}"))?;
        opening.room_celsius = Some(room);
    }
    Ok(opening)
}

/// One trial with everything noted of it.
fn trial_card(
    ui: &mut Ui,
    view: &View<'_>,
    trials: &TrialBook,
    trial: &Trial,
    page: &mut BeakerPage,
    by: &str,
    commands: &mut Vec<Command>,
) {
    let book = trials.book();
    let opening = &trial.opening;
    ui.label(theme::heading(format!(
        "Trial {}: {}",
        trial.number, opening.purpose
    )));
    let mut facts = format!(
        "{} · {}",
        opening.date,
        Measure::GRAMS.shown(opening.mass.as_grams()),
    );
    if opening.set.is_none() {
        let _ = write!(facts, " of {}", opening.formula.active().name);
    }
    if let Some(room) = opening.room_celsius {
        let _ = write!(facts, " · room {}", Measure::TEMPERATURE.shown(room));
    }
    if let Some(batch) = &opening.batch {
        let _ = write!(facts, " · from batch {batch}");
    }
    if let Some(set) = opening.set {
        let _ = write!(
            facts,
            " · planned set {}, run {}, mixture {}",
            set.set, set.run, set.mixture
        );
    }
    if !trial.by.is_empty() {
        let _ = write!(facts, " · {}", trial.by);
    }
    ui.label(theme::small(ui, facts));
    if let Some(words) = challenge::words(&challenge::reductions(book, trial.number)) {
        ui.label(words);
    }
    ui.add_space(theme::TIGHT);
    // The forms stay where they are however many steps there are, the newest beside or below them.
    let is_wide = ui.available_width() >= FORMS_AND_READINGS;
    let forms = |ui: &mut Ui, page: &mut BeakerPage, commands: &mut Vec<Command>| {
        add(ui, view, trial, page, by, commands);
        ui.add_space(theme::TIGHT);
        read(ui, book, trial, page, by, commands);
        if !page.beginning
            && page.mending.is_none()
            && let Some(problem) = &page.problem
        {
            caution(ui, Level::Caution, problem.as_str());
        }
    };
    if is_wide {
        two_columns(ui, |left, right| {
            forms(left, page, commands);
            all_readings(right, trials, trial, page, by, commands);
        });
    } else {
        forms(ui, page, commands);
        ui.separator();
        all_readings(ui, trials, trial, page, by, commands);
    }
}

/// The readings of every step, the newest step first.
fn all_readings(
    ui: &mut Ui,
    trials: &TrialBook,
    trial: &Trial,
    page: &mut BeakerPage,
    by: &str,
    commands: &mut Vec<Command>,
) {
    let book = trials.book();
    for step in (0..=trial.additions.len()).rev() {
        ui.push_id(step, |ui| {
            ui.label(theme::strong(readings_title(trial, step)));
            readings(ui, trials, trial, step, page);
            let mended = page.mending.as_ref().map(|(n, mending, _)| (*n, *mending));
            let here = |number: usize| {
                let mut readings = book.readings.iter();
                readings.any(|k| k.number == number && k.trial == trial.number && k.step == step)
            };
            if let Some((number, mending)) = mended.filter(|(n, _)| here(*n)) {
                mend(ui, page, number, mending, by, commands);
                if let Some(problem) = &page.problem {
                    caution(ui, Level::Caution, problem.as_str());
                }
            }
        });
    }
}

/// What stands over the readings of a step.
fn readings_title(trial: &Trial, step: usize) -> String {
    if step == 0 {
        return "Readings as weighed, before anything was added".to_owned();
    }
    format!(
        "Readings after {}",
        step_title(trial, step).replacen('S', "s", 1)
    )
}

/// A step in words: its number, what was added, and how much of it is in the beaker now.
fn step_title(trial: &Trial, step: usize) -> String {
    if step == 0 {
        return "As weighed".to_owned();
    }
    let now = trial
        .share_of_addition(step)
        .map_or_else(String::new, |share| {
            format!(", now {}", Measure::PERCENT_ROUGH.shown(share))
        });
    format!("Step {step}: {}{now}", trial.step_words(step))
}

fn readings(ui: &mut Ui, trials: &TrialBook, trial: &Trial, step: usize, page: &mut BeakerPage) {
    let of_step = || {
        trials
            .book()
            .readings
            .iter()
            .filter(|k| k.trial == trial.number && k.step == step)
    };
    if of_step().next().is_none() {
        ui.label(theme::small(ui, "nothing read"));
        return;
    }
    Grid::new("readings")
        .num_columns(5)
        .spacing([theme::GAP, 4.0])
        .show(ui, |ui| {
            for kept in of_step() {
                ui.push_id(kept.number, |ui| row(ui, trials, kept, page));
                ui.end_row();
            }
        });
}

fn row(ui: &mut Ui, trials: &TrialBook, kept: &RecordedReading, page: &mut BeakerPage) {
    let reading = &kept.reading;
    ui.horizontal(|ui| {
        let head = format!("{}. {}", kept.number, reading.quantity.label());
        ui.label(theme::small(ui, head));
        let words = value_words(reading);
        if kept.set_aside.is_some() {
            ui.label(egui::RichText::new(words).strikethrough());
        } else {
            ui.label(theme::strong(words));
        }
        let mut more = Vec::new();
        more.extend(reading.read_words());
        if let Some((difference, start)) = trials.book().colour_change(kept) {
            more.push(format!("ΔE {difference:.2} to reading {start} (CIEDE2000)"));
        }
        let how = reading.how();
        if !how.is_empty() {
            more.push(how);
        }
        more.extend(reading.sample.and_then(|of| trials.book().sample_words(of)));
        if !reading.remark.is_empty() {
            more.push(reading.remark.clone());
        }
        more.push(kept.noted_words());
        ui.label(theme::small(ui, more.join(" · ")));
        if let Some(photo) = &reading.photo {
            if trials.is_gone(photo) {
                caution(
                    ui,
                    Level::Caution,
                    format!("the photo is not there any more: {photo}"),
                );
            } else if let Some(link) = trials.photo_link(photo) {
                ui.hyperlink_to(theme::small(ui, format!("photo {photo}")), link);
            }
        }
        for (old, why) in &kept.before {
            let words = format!("was {} ({why})", as_it_stood(old));
            ui.label(theme::small(ui, words));
        }
        match &kept.set_aside {
            Some(why) => {
                ui.label(theme::small(ui, format!("set aside: {why}")));
            }
            None => {
                for (mending, label) in [
                    (Mending::Correct, "Correct…"),
                    (Mending::SetAside, "Set aside…"),
                ] {
                    let button = ui
                        .small_button(label)
                        .accessible_name(format!("{label} reading {}", kept.number));
                    if button.clicked() {
                        page.mending = Some((kept.number, mending, ReadingForm::of(reading)));
                        page.why.clear();
                    }
                }
            }
        }
    });
}

/// A reading before its correction: its value, how it was made and what was remarked.
fn as_it_stood(old: &Reading) -> String {
    let mut words = vec![value_words(old)];
    words.extend(old.read_words());
    words.extend(
        [old.how(), old.remark.clone()]
            .into_iter()
            .filter(|part| !part.is_empty()),
    );
    words.join(" · ")
}

/// A correction, or a reading left out of fits; the old value stays with the reason.
fn mend(
    ui: &mut Ui,
    page: &mut BeakerPage,
    number: usize,
    mending: Mending,
    by: &str,
    commands: &mut Vec<Command>,
) {
    ui.separator();
    ui.label(theme::strong(match mending {
        Mending::Correct => format!("Reading {number} should have been"),
        Mending::SetAside => format!("Leave reading {number} out of fits; it stays shown"),
    }));
    let mut done = false;
    let mut leave = false;
    let mut problem = None;
    if mending == Mending::Correct
        && let Some((_, _, form)) = &mut page.mending
    {
        form.ui(ui, "correction", true, &[]);
    }
    ui.horizontal_wrapped(|ui| {
        field(ui, "Why", &mut page.why, 300.0);
        done = action(
            ui,
            match mending {
                Mending::Correct => "Note the correction",
                Mending::SetAside => "Set it aside",
            },
        )
        .clicked();
        leave = action(ui, "Leave it").clicked();
    });
    if done && page.why.trim().is_empty() {
        problem = Some("Why: say it in a few words".to_owned());
    } else if done {
        let why = page.why.trim().to_owned();
        let event = match (&mut page.mending, mending) {
            (Some((_, _, form)), Mending::Correct) => {
                form.reading().map(|to| TrialEvent::Correct {
                    reading: number,
                    to,
                    why,
                })
            }
            _ => Ok(TrialEvent::SetAside {
                reading: number,
                why,
            }),
        };
        match event {
            Ok(event) => {
                note(commands, by, event);
                leave = true;
            }
            Err(why) => problem = Some(why),
        }
    }
    if leave {
        page.mending = None;
        page.problem = None;
    } else if problem.is_some() {
        page.problem = problem;
    }
}

/// Something added on the bench.
fn add(
    ui: &mut Ui,
    view: &View<'_>,
    trial: &Trial,
    page: &mut BeakerPage,
    by: &str,
    commands: &mut Vec<Command>,
) {
    ui.label(theme::strong("Add to the beaker"));
    ui.horizontal_wrapped(|ui| {
        // What was added last is likely to be added again.
        if page.added.is_none() {
            page.added = trial.additions.last().map(|a| a.material.clone());
        }
        let lines = trial.opening.formula.active().lines();
        let used: Vec<_> = lines
            .filter_map(|(_, l)| trial.opening.formula.material(&l.material))
            .collect();
        labelled(ui, "Material", 240.0, |ui, _| {
            let shown = page.added.as_ref().map_or("choose", |m| m.name.as_ref());
            egui::ComboBox::from_id_salt("added")
                .selected_text(shown.to_owned())
                .width(240.0)
                .truncate()
                .height(300.0)
                .show_ui(ui, |ui| {
                    for material in used {
                        let chosen = page.added.as_ref().is_some_and(|m| m.id == material.id);
                        if ui
                            .selectable_label(chosen, material.name.as_ref())
                            .clicked()
                        {
                            page.added = Some(material.clone());
                        }
                    }
                })
                .response
                .accessible_name("Material");
        });
        labelled(ui, "or of the shelf", 180.0, |ui, _| {
            let id = Id::unique("added of the shelf");
            if let Some(material) =
                page.picker
                    .show(ui, view.state, id, "Material of the shelf", 180.0)
            {
                page.added = Some(material);
            }
        });
        let typed = field(ui, "Mass added, g", &mut page.added_mass, 80.0)
            .on_hover_text("For example 0.5, or with a unit: 500 mg");
        if action(ui, "Add").clicked() || entered(ui, &typed) {
            match addition(page) {
                Ok(addition) => {
                    page.problem = None;
                    page.step = None;
                    note(
                        commands,
                        by,
                        TrialEvent::Add {
                            trial: trial.number,
                            addition,
                        },
                    );
                }
                Err(problem) => page.problem = Some(problem),
            }
        }
    });
}

fn addition(page: &BeakerPage) -> Result<Addition, String> {
    let material = page
        .added
        .clone()
        .ok_or("Material: choose what was added")?;
    let mass: ExactMass = read_mass(&page.added_mass, Some(MassUnit::Gram))
        .map_err(|e| format!("Mass added: {e}"))?;
    Ok(Addition {
        id: material.id.clone(),
        material,
        mass,
    })
}

/// The form of a reading.
fn read(
    ui: &mut Ui,
    book: &Book,
    trial: &Trial,
    page: &mut BeakerPage,
    by: &str,
    commands: &mut Vec<Command>,
) {
    ui.label(theme::strong("Note a reading"));
    let samples: Vec<(Sample, String)> = book
        .plans
        .iter()
        .enumerate()
        .filter(|(_, p)| p.trial == trial.number)
        .flat_map(|(number, plan)| {
            plan.times.iter().enumerate().flat_map(move |(t, time)| {
                plan.conditions
                    .iter()
                    .enumerate()
                    .map(move |(c, condition)| {
                        let sample = Sample {
                            plan: number,
                            condition: c,
                            time: t,
                        };
                        (sample, format!("{condition}, {}", time.name))
                    })
            })
        })
        .collect();
    let entered = page.form.ui(ui, "reading", false, &samples);
    ui.horizontal_wrapped(|ui| {
        let newest = trial.additions.len();
        if newest > 0 {
            let mut step = page.step.unwrap_or(newest).min(newest);
            let all: Vec<usize> = (0..=newest).collect();
            choice(
                ui,
                "On step",
                &mut step,
                &all,
                |s| step_title(trial, s),
                330.0,
            );
            page.step = (step != newest).then_some(step);
        }
        // Without a choice beside it the button stands by itself.
        let noted = if newest > 0 {
            action(ui, "Note it")
        } else {
            ui.button("Note it")
        };
        if noted.clicked() || entered {
            match page.form.reading() {
                Ok(reading) => {
                    let event = TrialEvent::Read {
                        trial: trial.number,
                        step: page.step.unwrap_or(newest).min(newest),
                        reading,
                    };
                    match book.check(&event) {
                        Ok(()) => {
                            page.problem = None;
                            page.form.clear();
                            note(commands, by, event);
                        }
                        Err(error) => page.problem = Some(error.to_string()),
                    }
                }
                Err(problem) => page.problem = Some(problem),
            }
        }
    });
}
