//! The batch on the bench: weights, lots, steps, measurements, decision.

mod bench;
mod checked;
mod fields;
mod gate;
mod log;
mod rescue;
mod results;
mod stop;
mod table;

use std::collections::BTreeMap;

use eframe::egui::{Align, Ui};
use formulation::amount::typed;
use formulation::batch::figures::figures;
use formulation::batch::record::{
    Decision, Entry, Event, Identity, Quality, Record, gate as release_gate,
};
use formulation::batch::weigh_sheet::{IN_PORTIONS, at_the_bench};
use formulation::batch::work_order::{Task, tasks};
use formulation::batch_code::BatchCode;
use formulation::evaluation::evaluate;
use formulation::file::pdf::Printing;
use formulation::file::record_pdf::record_pdf;
use formulation::file::{finished, record_export};
use formulation::finding::Level;
use formulation::formula::ItemId;
use formulation::mass::{ExactMass, shown};
use formulation::trial::known::told;

use super::{Page, caution, push, scrolled};
use crate::command::{BooksCommand, Command, Making};
use crate::state::View;
use crate::state::reminders::how_far;
use crate::theme;
use crate::widgets::choice::choice_row;
use crate::widgets::focus::region;

/// Height of a button that is hit with a glove.
const BUTTON: f32 = 52.0;

/// What is typed beside a line or a step.
#[derive(Default)]
struct Typed {
    mass: String,
    lot: String,
    remark: String,
}

/// A form of the page; what is typed in it stays until it is recorded.
#[derive(Clone, PartialEq, Eq, Debug)]
enum Form {
    Line(ItemId),
    Step(ItemId),
    Measurement,
    Water,
    Packaging,
    Labels,
    Filling,
    Remark,
    Deviation,
    Point(Identity),
    Decision,
    Dispatch,
    Correction,
    Plain,
}

/// How the record is looked at.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
enum Look {
    /// One thing after the other, in large figures.
    #[default]
    Bench,
    /// Everything.
    Whole,
}

/// A part of the whole record that one may want to see at once.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Part {
    Lines,
    Measured,
    Release,
    Entries,
}

impl Part {
    const ALL: [(Self, &'static str); 4] = [
        (Self::Lines, "Lines"),
        (Self::Measured, "Measured"),
        (Self::Release, "Release"),
        (Self::Entries, "Entries"),
    ];
}

/// What the page keeps between frames. It belongs to one batch: nothing typed for one is
/// left for another.
#[derive(Default)]
pub struct RunPage {
    of: Option<BatchCode>,
    look: Look,
    lines: BTreeMap<ItemId, Typed>,
    steps: BTreeMap<ItemId, Typed>,
    bench: bench::BenchState,
    what: Option<Quality>,
    /// What it is called, where the quality alone does not tell.
    what_name: String,
    value: String,
    method: String,
    made_up: [String; 2],
    packaging: [String; 4],
    labels: results::LabelForm,
    filled: [String; 4],
    remark: String,
    /// Whether the remark is only for information.
    by_the_way: bool,
    /// Whether a remark added after closing is a point of the release.
    remark_later: bool,
    deviation: [String; 2],
    point: Option<gate::Accepting>,
    /// A point was just accepted: the cursor goes on to the next one, or to the decision.
    next_point: bool,
    decision: Option<Decision>,
    reason: String,
    dispatch: [String; 2],
    correction: Option<log::Correction>,
    checked: Option<checked::Checked>,
    stopped: Option<stop::Stopped>,
    /// A weighing that was asked about because it is likely mistyped.
    doubted: Option<Event>,
    problem: Option<(Form, String)>,
    /// The problem has just come up, perhaps out of sight.
    unseen: bool,
    /// What was sent to be recorded: the form, and the number of its last entry.
    sent: Option<(Form, u64)>,
    outbox: Vec<Event>,
    go_on: bool,
    open_log: bool,
    /// The part to be brought into sight.
    sought: Option<Part>,
    /// What is measured first gets the cursor.
    measure: bool,
}

/// What a part of the page needs to know.
#[derive(Clone, Copy)]
struct At<'a> {
    view: &'a View<'a>,
    record: &'a Record,
    by: &'a str,
}

impl At<'_> {
    /// A mass with the digits of a line's scale.
    fn shown(&self, line: ItemId, mass: ExactMass) -> String {
        let opening = self.record.opening();
        shown(mass, self.step(line), opening.unit)
    }

    /// The smallest step of a line's scale.
    fn step(&self, line: ItemId) -> ExactMass {
        let opening = self.record.opening();
        let to_weigh = opening.lines.iter().find(|l| l.line == line);
        opening.resolution(to_weigh.map_or(0, |l| l.scale))
    }
}

impl RunPage {
    /// Empties a form once its entry is recorded.
    fn clear(&mut self, form: &Form) {
        match form {
            Form::Line(line) => {
                self.lines.remove(line);
                self.bench.clear();
            }
            Form::Step(step) => {
                self.steps.remove(step);
                self.bench.clear();
            }
            Form::Measurement => {
                self.value.clear();
                self.method.clear();
                self.what = None;
                self.what_name.clear();
            }
            Form::Water => self.made_up = Default::default(),
            Form::Packaging => self.packaging = Default::default(),
            Form::Labels => self.labels = results::LabelForm::default(),
            Form::Filling => self.filled = Default::default(),
            Form::Remark => {
                self.remark.clear();
                self.by_the_way = false;
                self.remark_later = false;
            }
            Form::Deviation => self.deviation = Default::default(),
            Form::Point(_) => {
                self.point = None;
                self.next_point = true;
            }
            Form::Decision => {
                self.decision = None;
                self.reason.clear();
            }
            Form::Dispatch => self.dispatch = Default::default(),
            Form::Correction => self.correction = None,
            Form::Plain => {}
        }
    }

    /// Sends events to be recorded, all or none; what stands against it is shown at the
    /// form, and what was typed stays.
    fn submit(&mut self, at: At<'_>, form: Form, events: Vec<Event>) {
        let mut tried = at.record.clone();
        for event in &events {
            let entry = Entry {
                number: tried.next_number(),
                at: "".into(),
                by: at.by.into(),
                event: event.clone(),
            };
            let found = self.checked.as_ref().map(|c| &**c.evaluation());
            let outcome = tried
                .check(event, at.by, found)
                .and_then(|()| tried.add(entry));
            if let Err(error) = outcome {
                self.refuse(form, error.to_string());
                return;
            }
        }
        self.problem = None;
        self.doubted = None;
        self.sent = Some((form, tried.next_number()));
        self.outbox.extend(events);
    }

    /// Sends one event.
    fn send(&mut self, at: At<'_>, form: Form, event: Event) {
        self.submit(at, form, vec![event]);
    }

    /// Scrolls to a part that was asked for.
    fn bring_into_sight(&mut self, ui: &Ui, part: Part) {
        if self.sought == Some(part) {
            self.sought = None;
            ui.scroll_to_cursor(Some(Align::TOP));
        }
    }

    /// Says at a form what is wrong with it.
    fn refuse(&mut self, form: Form, words: impl Into<String>) {
        self.problem = Some((form, words.into()));
        self.unseen = true;
    }

    /// Shows what is wrong with a form, and goes there when it has just come up.
    fn problem_ui(&mut self, ui: &mut Ui, form: &Form) {
        if let Some((of, words)) = &self.problem
            && of == form
        {
            let shown = ui.scope(|ui| caution(ui, Level::Breach, words)).response;
            if std::mem::take(&mut self.unseen) {
                shown.scroll_to_me(None);
            }
        }
    }
}

/// Draws the page; another page, if one wants to go there.
pub fn ui(
    ui: &mut Ui,
    view: &View<'_>,
    page: &mut RunPage,
    by: &str,
    commands: &mut Vec<Command>,
) -> Option<Page> {
    let Some(record) = view.state.books.open_record() else {
        return region(ui, "Batch", |ui| unfinished(ui, view, commands));
    };
    if page.of.as_ref() != Some(record.code()) {
        // A batch that was just begun is made at the bench.
        let look = if record.entries().len() > 1 {
            page.look
        } else {
            Look::Bench
        };
        *page = RunPage {
            of: Some(record.code().clone()),
            look,
            ..RunPage::default()
        };
    }
    let by = by.trim();
    let at = At { view, record, by };
    let tasks = tasks(record);
    if let Some((form, next)) = page.sent.take()
        && record.next_number() >= next
    {
        page.clear(&form);
        if let Form::Line(line) = form {
            page.bench.stay_if_over(&tasks, line);
        }
    }
    region(ui, "Batch", |ui| header(ui, at, page, commands));
    let rescue = rescue::of(at);
    if page.look == Look::Bench && !record.is_closed() {
        region(ui, "Bench", |ui| {
            bench::ui(ui, at, &tasks, rescue.as_ref(), page);
        });
    } else {
        table::next_task(ui, record, &tasks, rescue.as_ref());
        // Each batch has its own place.
        let place = format!("run {}", record.code());
        scrolled(ui, &place, |ui| {
            region(ui, "Lines and steps", |ui| {
                page.bring_into_sight(ui, Part::Lines);
                table::ui(ui, at, &tasks, page);
                if let Some(rescue) = rescue {
                    rescue::ui(ui, at, rescue, page);
                }
            });
            region(ui, "Checked and measured", |ui| {
                checked::ui(ui, at, page);
                page.bring_into_sight(ui, Part::Measured);
                results::ui(ui, at, page);
            });
            region(ui, "Release", |ui| {
                page.bring_into_sight(ui, Part::Release);
                gate::ui(ui, at, page);
            });
            region(ui, "Entries", |ui| {
                page.bring_into_sight(ui, Part::Entries);
                log::ui(ui, at, page);
            });
        });
    }
    stop::ui(ui, at, page);
    for event in page.outbox.drain(..) {
        push(
            commands,
            BooksCommand::Record(Box::new(event), by.to_owned()),
        );
    }
    None
}

/// Batches that were begun and not closed, to go on with; where there are none, the page on which
/// there is something to begin with.
fn unfinished(ui: &mut Ui, view: &View<'_>, commands: &mut Vec<Command>) -> Option<Page> {
    let open: Vec<&Record> = view.state.books.unfinished().collect();
    if open.is_empty() {
        ui.label("No batch is open.");
        return ui
            .horizontal_wrapped(|ui| {
                let begin = ui.button("Begin one on the weigh sheet").clicked();
                let other = ui.button("Open one of all batches").clicked();
                let wanted = begin.then_some(Page::Weigh);
                wanted.or(other.then_some(Page::Books))
            })
            .inner;
    }
    ui.label(theme::heading("Begun and not finished"));
    ui.add_space(theme::TIGHT);
    for record in open {
        ui.horizontal(|ui| {
            if ui
                .button("Go on")
                .on_hover_text(format!("Go on with batch {}", record.code()))
                .clicked()
            {
                push(commands, BooksCommand::Resume(record.code().clone()));
            }
            ui.label(theme::strong(record.code().to_string()));
            ui.label(record.opening().formula.name.as_ref());
            ui.label(theme::small(ui, how_far(record)));
        });
    }
    None
}

fn header(ui: &mut Ui, at: At<'_>, page: &mut RunPage, commands: &mut Vec<Command>) {
    let record = at.record;
    let opening = record.opening();
    ui.horizontal_wrapped(|ui| {
        ui.label(theme::heading(format!(
            "{} · {}",
            record.code(),
            opening.formula.name
        )));
        if record.is_closed() {
            ui.label(theme::strong("closed"));
        } else {
            let words = |look| match look {
                Look::Bench => "At the bench",
                Look::Whole => "Whole record",
            };
            let all = &[Look::Bench, Look::Whole];
            choice_row(ui, "look", &mut page.look, all, words, |_| "");
        }
        if let Some((decision, _)) = record.decision() {
            ui.label(theme::strong(decision.label()));
        }
        if ui.button("Put away").clicked() {
            push(commands, BooksCommand::Leave);
        }
        if page.look == Look::Whole || record.is_closed() {
            save_buttons(ui, at, page, commands);
        }
    });
    if page.look == Look::Whole || record.is_closed() {
        ui.horizontal(|ui| parts(ui, page));
    }
    if let Some(words) = record.trial_words() {
        caution(ui, Level::Breach, words);
    }
    for fault in at.view.state.books.open_faults() {
        caution(
            ui,
            Level::Breach,
            format!("This record cannot be relied on, and nothing can be added to it. {fault}"),
        );
    }
    for lost in record.lost() {
        caution(
            ui,
            Level::Caution,
            format!(
                "Entry {}: {}. It reads: {}",
                lost.number, lost.why, lost.text
            ),
        );
    }
    if at.by.is_empty() {
        caution(
            ui,
            Level::Caution,
            "Type your name above: every entry needs one",
        );
    }
}

/// Where one can go in the record.
fn parts(ui: &mut Ui, page: &mut RunPage) {
    ui.label(theme::small(ui, "Go to"));
    for (part, words) in Part::ALL {
        let button = ui
            .button(words)
            .accessible_name(format!("Go to {}", words.to_lowercase()));
        if button.clicked() {
            page.sought = Some(part);
            page.open_log |= part == Part::Entries;
        }
    }
}

/// The record for other programs, and the formula frozen with the figures of this batch.
fn save_buttons(ui: &mut Ui, at: At<'_>, page: &mut RunPage, commands: &mut Vec<Command>) {
    let At { view, record, .. } = at;
    checked::refresh(at, page);
    if ui
        .button("Record as PDF…")
        .on_hover_text("The batch record to print, sign and file")
        .clicked()
    {
        let evaluation = page.checked.as_ref().map(|c| c.evaluation().clone());
        let points = release_gate(record, evaluation.as_deref());
        let begun_by = record.entries().first().map_or("", |e| e.by.as_ref());
        let paper = view
            .state
            .books
            .workshop()
            .paper_of(record.opening().formula.product(), begun_by);
        let file_name = format!("{} record.pdf", record.code());
        let record = record.clone();
        commands.push(Command::Make(Making::watched(
            "Save the record",
            file_name,
            move |waits| record_pdf(&record, &points, Printing::watched(paper, waits)),
        )));
    }
    let mut save = |title: &str, file_name: String, bytes: Result<String, String>| {
        let made = move || bytes.clone().map(String::into_bytes);
        commands.push(Command::Make(Making::new(title, file_name, made)));
    };
    if ui
        .button("Record as CSV…")
        .on_hover_text("Every entry as it was recorded, corrections included")
        .clicked()
    {
        save(
            "Save the record",
            format!("{} record.csv", record.code()),
            record_export::csv(record).map_err(|e| e.to_string()),
        );
    }
    if ui
        .button("Finished formula…")
        .on_hover_text("The formula as it was made, frozen, with the figures of this batch")
        .clicked()
    {
        if let Some(fault) = view.state.books.open_faults().first() {
            save(
                "Save the finished formula",
                String::new(),
                Err(format!(
                    "Nothing is sealed from a record that cannot be relied on: {fault}"
                )),
            );
            return;
        }
        let opening = record.opening();
        let evaluation = evaluate(&opening.formula, opening.variant(), view.state.context());
        let text = finished::write(
            &opening.formula,
            opening.variant(),
            &evaluation,
            view.state.today(),
            &finished::Enclosed {
                batch: figures(record),
                readings: readings_of(view, record),
            },
        );
        save(
            "Save the finished formula",
            format!("{} {}.finished.ron", opening.formula.name, record.code()),
            text.map_err(|e| e.to_string()),
        );
    }
}

/// The readings of trials that go with the formula as it was made, where its trials are open.
fn readings_of(view: &View<'_>, record: &Record) -> Vec<(String, String)> {
    let opening = record.opening();
    if opening.formula.product() != view.formula.product() {
        return Vec::new();
    }
    told(
        view.state.trials(view.document.id).book(),
        opening.variant(),
    )
}

/// How a line goes in where it does not go in at once, and what to mind at it.
fn to_mind(record: &Record, line: ItemId) -> String {
    let opening = record.opening();
    let manner = record
        .by_portions(line)
        .then(|| IN_PORTIONS.trim_end_matches('.').to_owned());
    let mind = at_the_bench(&opening.formula, opening.variant(), line);
    let mind = mind.iter().map(ToString::to_string);
    manner
        .into_iter()
        .chain(mind)
        .collect::<Vec<_>>()
        .join(" · ")
}

/// What a task asks for, and what to mind at it.
fn task_words(record: &Record, task: &Task<'_>) -> (String, String) {
    let opening = record.opening();
    match task {
        Task::Weigh {
            phase,
            line,
            status,
        } => {
            let to_weigh = opening.lines.iter().find(|l| l.line == line.id);
            let step = opening.resolution(to_weigh.map_or(0, |l| l.scale));
            let missing = (status.planned - status.actual).max(ExactMass::ZERO);
            let words = format!(
                "Phase {}: weigh {} of {}",
                phase.letter,
                shown(missing, step, opening.unit),
                opening.name_of(line.id)
            );
            (words, to_mind(record, line.id))
        }
        Task::Work { phase, step, .. } => {
            let asked = step.temperature.map_or_else(String::new, |t| {
                format!(" at {}", typed::shown_temperature(t))
            });
            let minutes = step
                .minutes
                .map_or_else(String::new, |m| format!(", {m} min"));
            let words = format!("Phase {}: {}{asked}{minutes}", phase.letter, step.text);
            let check = if step.check.is_empty() {
                String::new()
            } else {
                format!("Check: {}", step.check)
            };
            (words, check)
        }
    }
}
