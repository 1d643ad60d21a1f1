//! The batch on the bench: weights, lots, steps, measurements, decision.

use std::collections::BTreeMap;
use std::sync::Arc;

use eframe::egui::{
    Align, Grid, Key, Layout, RichText, TextEdit, TextStyle, TextWrapMode, Ui, WidgetText, vec2,
};
use formulation::amount::typed;
use formulation::batch::figures::figures;
use formulation::batch::mass::{ExactMass, MassUnit, read_mass, shown};
use formulation::batch::precaution::cautions;
use formulation::batch::record::{
    Change, Decision, Event, LineState, LineStatus, Obstacle, Quality, Record, Rescue,
};
use formulation::batch::weighing_scale::{WeighingScale, read_reading};
use formulation::batch::work_order::{Task, tasks};
use formulation::evaluation::{Evaluation, evaluate};
use formulation::file::{finished, record_export};
use formulation::finding::Level;
use formulation::formula::{Formula, ItemId, Line, Step};
use formulation::lot_values::{of_lots_weighed, with_lots};
use formulation::quantity::{in_celsius, in_millilitres};
use formulation::search::MaterialIndex;
use formulation::stock::LotId;

use super::{action, caution, choice, field, push, scrolled, tell};
use crate::command::{Command, Export, WorksCommand};
use crate::state::View;
use crate::theme;
use crate::widgets::findings_list::plural;

/// Size of a field in a table.
const FIELD: [f32; 2] = [80.0, theme::FIELD];

/// What is typed beside a line.
#[derive(Default)]
struct Typed {
    mass: String,
    lot: String,
    remark: String,
}

/// What the page keeps between frames.
pub struct RunPage {
    lines: BTreeMap<ItemId, Typed>,
    steps: BTreeMap<ItemId, Typed>,
    what: Quality,
    value: String,
    method: String,
    made_up: String,
    made_up_lot: String,
    packaging: [String; 4],
    filled: [String; 4],
    remark: String,
    decision: Decision,
    reason: String,
    to: String,
    count: String,
    correcting: Option<(u64, Kind)>,
    corrected: String,
    why: String,
    checked: Option<Checked>,
    go_on: bool,
}

impl Default for RunPage {
    fn default() -> Self {
        Self {
            lines: BTreeMap::new(),
            steps: BTreeMap::new(),
            what: Quality::Ph,
            value: String::new(),
            method: String::new(),
            made_up: String::new(),
            made_up_lot: String::new(),
            packaging: Default::default(),
            filled: Default::default(),
            remark: String::new(),
            decision: Decision::Release,
            reason: String::new(),
            to: String::new(),
            count: String::new(),
            correcting: None,
            corrected: String::new(),
            why: String::new(),
            checked: None,
            go_on: false,
        }
    }
}

/// What is corrected of an entry.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Kind {
    Mass,
    Lot,
    Value,
    Struck,
}

impl Kind {
    const ALL: [Self; 4] = [Self::Mass, Self::Lot, Self::Value, Self::Struck];
    const fn label(self) -> &'static str {
        match self {
            Self::Mass => "mass",
            Self::Lot => "lot",
            Self::Value => "value",
            Self::Struck => "strike it out",
        }
    }
    /// The change typed; a bare mass is in the unit of the record.
    fn change(self, text: &str, unit: MassUnit) -> Result<Change, String> {
        Ok(match self {
            Self::Mass => Change::Mass(read_mass(text, Some(unit)).map_err(|e| e.to_string())?),
            Self::Lot => Change::Lot(LotId::new(text)),
            Self::Value => Change::Value(text.trim().into()),
            Self::Struck => Change::Struck,
        })
    }
}

/// Draws the page.
pub fn ui(ui: &mut Ui, view: &View<'_>, page: &mut RunPage, by: &str, commands: &mut Vec<Command>) {
    let Some(record) = view.state.works.open_record() else {
        ui.label("No batch is open. Begin one on the weigh sheet, or open one under All batches.");
        return;
    };
    let opening = record.opening();
    ui.horizontal_wrapped(|ui| {
        ui.label(theme::heading(format!(
            "{} · {}",
            record.code(),
            opening.formula.name
        )));
        if record.is_closed() {
            ui.label(theme::strong("closed"));
        }
        if let Some((decision, _)) = record.decision() {
            ui.label(theme::strong(decision.label()));
        }
        if ui.button("Put away").clicked() {
            push(commands, WorksCommand::Leave);
        }
        save_buttons(ui, view, record, commands);
    });
    for fault in view.state.works.open_faults() {
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
    if by.trim().is_empty() {
        caution(
            ui,
            Level::Note,
            "Type your name above, it goes into every entry",
        );
    }
    let mut events = Vec::new();
    let mut problem = None;
    let tasks = tasks(record);
    let rescue = rescue_of(view, record);
    next_task(ui, record, &tasks, rescue.as_ref());
    scrolled(ui, "run", |ui| {
        work(ui, view, record, &tasks, page, &mut events, &mut problem);
        if let Some(rescue) = rescue {
            rescue_ui(ui, record, rescue, &mut events);
        }
        findings(ui, view, record, page);
        ui.add_enabled_ui(!record.is_closed(), |ui| {
            results(ui, record, page, &mut events, &mut problem);
        });
        decision(ui, view, record, page, &mut events, &mut problem);
        log(ui, record, page, &mut events, &mut problem);
    });
    for event in events {
        push(
            commands,
            WorksCommand::Record(Box::new(event), by.trim().to_owned()),
        );
    }
    if let Some(problem) = problem {
        tell(commands, problem);
    }
}

/// The record for other programs, and the formula frozen with the figures of this batch.
fn save_buttons(ui: &mut Ui, view: &View<'_>, record: &Record, commands: &mut Vec<Command>) {
    let mut save = |title: &str, file_name: String, bytes: Result<String, String>| {
        commands.push(match bytes {
            Ok(text) => Command::Export(Export {
                title: title.to_owned(),
                file_name,
                bytes: text.into_bytes().into(),
            }),
            Err(problem) => Command::Say(Level::Breach, problem),
        });
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
        if let Some(fault) = view.state.works.open_faults().first() {
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
            &figures(record),
        );
        save(
            "Save the finished formula",
            format!("{} {}.finished.ron", opening.formula.name, record.code()),
            text.map_err(|e| e.to_string()),
        );
    }
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
            let mind = opening.formula.material(&line.material);
            let mind: Vec<String> = mind
                .map(|m| cautions(m))
                .unwrap_or_default()
                .iter()
                .map(ToString::to_string)
                .collect();
            let words = format!(
                "Phase {}: weigh {} of {}",
                phase.letter,
                shown(missing, step, opening.unit),
                opening.name_of(line.id)
            );
            (words, mind.join(" · "))
        }
        Task::Work { phase, step, .. } => {
            let asked = step
                .temperature
                .map_or_else(String::new, |t| format!(" at {:.0} °C", in_celsius(t)));
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

/// What comes next, with what to mind at it. It takes the room that the longest task
/// needs, so that the fields below stay where they are from one weighing to the next.
fn next_task(ui: &mut Ui, record: &Record, tasks: &[Task<'_>], rescue: Option<&Rescue>) {
    if record.is_closed() {
        return;
    }
    let laid = |ui: &Ui, text: RichText, style: TextStyle| {
        let wrap = Some(TextWrapMode::Wrap);
        WidgetText::from(text).into_galley(ui, wrap, ui.available_width(), style)
    };
    let rows = |ui: &Ui, task: &Task<'_>| {
        let (words, mind) = task_words(record, task);
        let mind = theme::strong(mind).small();
        (
            laid(ui, theme::strong(words), TextStyle::Body),
            laid(ui, mind, TextStyle::Small),
        )
    };
    let heights = tasks.iter().map(|task| {
        let (words, mind) = rows(ui, task);
        words.size().y + mind.size().y
    });
    let height = heights.fold(0.0, f32::max) + theme::TIGHT;
    let done = tasks.iter().filter(|t| t.is_done()).count();
    ui.horizontal(|ui| {
        let progress = format!("{done} of {} lines and steps done", tasks.len());
        ui.label(theme::small(ui, progress));
        if let Some(rescue) = rescue {
            let name = record.opening().name_of(rescue.line);
            let words = format!("{name} is over; a way out is proposed below the table");
            caution(ui, Level::Caution, words);
        }
    });
    ui.allocate_ui(vec2(ui.available_width(), height), |ui| {
        ui.set_min_height(height);
        ui.spacing_mut().item_spacing.y = 0.0;
        match tasks.iter().find(|t| !t.is_done()) {
            Some(next) => {
                let (words, mind) = rows(ui, next);
                ui.label(words);
                ui.label(mind);
            }
            None => {
                ui.label("All lines and steps are done");
            }
        }
    });
}

/// Lines and steps in working order.
fn work(
    ui: &mut Ui,
    view: &View<'_>,
    record: &Record,
    tasks: &[Task<'_>],
    page: &mut RunPage,
    events: &mut Vec<Event>,
    problem: &mut Option<String>,
) {
    // After a weight was entered, the cursor goes on to what comes next, if that is a
    // weight.
    let go_on = std::mem::take(&mut page.go_on);
    let next = tasks.iter().find(|t| go_on && !t.is_done());
    let focus = next.and_then(|task| match task {
        Task::Weigh { line, .. } => Some(line.id),
        Task::Work { .. } => None,
    });
    // What materials and steps get; the other columns take the rest.
    let width = (ui.available_width() - 700.0).clamp(190.0, 380.0);
    Grid::new("work")
        .num_columns(8)
        .spacing([theme::GAP, theme::TIGHT])
        .striped(true)
        .show(ui, |ui| {
            for head in [
                "Phase",
                "Material or step",
                "To weigh",
                "Weighed",
                "Deviation",
                "From the scale",
                "Lot",
                "Remark",
            ] {
                let text = theme::small(ui, head);
                if matches!(head, "To weigh" | "Weighed") {
                    mass_cell(ui, text);
                } else {
                    ui.label(text);
                }
            }
            ui.end_row();
            for task in tasks {
                ui.label(task.phase().letter.as_ref());
                match task {
                    Task::Weigh { line, status, .. } => {
                        let focus = focus == Some(line.id);
                        let row = (*line, status, focus);
                        weighing(ui, view, record, row, width, page, events, problem);
                    }
                    Task::Work { step, done, .. } => {
                        working(ui, record, step, *done, width, page, events, problem);
                    }
                }
                ui.end_row();
            }
        });
}

#[expect(
    clippy::too_many_arguments,
    reason = "a row of the table, which writes what is typed and what is asked for"
)]
fn weighing(
    ui: &mut Ui,
    view: &View<'_>,
    record: &Record,
    (line, status, focus): (&Line, &LineStatus, bool),
    width: f32,
    page: &mut RunPage,
    events: &mut Vec<Event>,
    problem: &mut Option<String>,
) {
    let opening = record.opening();
    let works = &view.state.works;
    let name = opening.name_of(line.id);
    let scale = opening.lines.iter().find(|l| l.line == line.id);
    let step = opening.resolution(scale.map_or(0, |l| l.scale));
    let show = |m| shown(m, step, opening.unit);
    wrapped(ui, width, |ui| {
        let used = lots_used(record, line.id, step);
        let label = ui.label(name.as_ref());
        if record.is_closed() {
            ui.label(theme::small(ui, used));
        } else if !used.is_empty() {
            // While weighing, rows keep their height and so their place.
            label.on_hover_text(used);
        }
    });
    mass_cell(ui, show(status.planned).into());
    mass_cell(ui, theme::strong(show(status.actual)));
    let colour = match status.state {
        LineState::Over => theme::palette(ui).level(Level::Breach),
        LineState::Short => theme::palette(ui).level(Level::Caution),
        LineState::Pending => theme::palette(ui).faint_ink,
        LineState::Within => theme::palette(ui).ink,
    };
    let deviation = format!("{:+.2} %", status.relative().as_percent());
    let words = match status.state {
        LineState::Pending => status.state.label().to_owned(),
        LineState::Within => deviation,
        LineState::Short | LineState::Over => format!("{deviation}, {}", status.state.label()),
    };
    ui.colored_label(colour, words)
        .on_hover_text(status.state.label());
    if record.is_closed() {
        return;
    }
    let typed = page.lines.entry(line.id).or_default();
    let missing = (status.planned - status.actual).max(ExactMass::ZERO);
    let draw = works
        .stock()
        .draw(&line.material, missing, works.usage(), view.state.today());
    let proposed = draw
        .parts
        .first()
        .map(|(lot, _)| lot.to_string())
        .unwrap_or_default();
    let weight = ui
        .add_sized(
            FIELD,
            TextEdit::singleline(&mut typed.mass).hint_text(show(missing)),
        )
        .on_hover_text("Typed, or pasted as the scale sent it")
        .accessible_name(format!("{name} weight"));
    if focus {
        weight.request_focus();
    }
    ui.add_sized(
        FIELD,
        TextEdit::singleline(&mut typed.lot).hint_text(&proposed),
    )
    .accessible_name(format!("{name} lot"));
    let entered = weight.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter));
    let mut ready = entered;
    ui.horizontal(|ui| {
        ui.add(TextEdit::singleline(&mut typed.remark).desired_width(86.0))
            .accessible_name(format!("{name} remark"));
        ready |= ui
            .button("Record")
            .on_hover_text(format!("Record this weighing of {name}"))
            .clicked();
    });
    if ready {
        match read_reading(&typed.mass, opening.unit) {
            Ok(mass) => {
                let lot = if typed.lot.trim().is_empty() {
                    &proposed
                } else {
                    &typed.lot
                };
                events.push(Event::Weighed {
                    line: line.id,
                    mass,
                    lot: LotId::new(lot),
                    remark: typed.remark.trim().into(),
                });
                typed.mass.clear();
                typed.remark.clear();
                page.go_on = entered;
            }
            Err(error) => *problem = Some(error.to_string()),
        }
    }
}

#[expect(
    clippy::too_many_arguments,
    reason = "a row of the table, which writes what is typed and what is asked for"
)]
fn working(
    ui: &mut Ui,
    record: &Record,
    step: &Step,
    done: bool,
    width: f32,
    page: &mut RunPage,
    events: &mut Vec<Event>,
    problem: &mut Option<String>,
) {
    wrapped(ui, width, |ui| {
        ui.label(step.text.as_ref());
        if !step.check.is_empty() {
            ui.label(theme::small(ui, format!("check: {}", step.check)));
        }
    });
    let degrees = step.temperature.map(|t| format!("{:.0} °C", in_celsius(t)));
    let minutes = step.minutes.map(|m| format!("{m} min"));
    for words in [degrees, minutes] {
        mass_cell(ui, words.unwrap_or_default().into());
    }
    let faint = theme::palette(ui).faint_ink;
    if done {
        ui.label("done");
        return;
    }
    ui.colored_label(faint, "to do");
    if record.is_closed() {
        return;
    }
    let inputs = page.steps.entry(step.id).or_default();
    ui.add_sized(
        FIELD,
        TextEdit::singleline(&mut inputs.mass).hint_text("°C read"),
    )
    .accessible_name(format!("Temperature at {}", step.text));
    ui.label("");
    ui.horizontal(|ui| {
        ui.add(
            TextEdit::singleline(&mut inputs.remark)
                .desired_width(86.0)
                .hint_text("time, remark"),
        )
        .accessible_name(format!("Remark at {}", step.text));
        if ui
            .button("Done")
            .on_hover_text(format!("Record as done: {}", step.text))
            .clicked()
        {
            match typed::optional(&inputs.mass, typed::temperature) {
                Err(words) => *problem = Some(words.to_string()),
                Ok(temperature) => events.push(Event::Worked {
                    step: step.id,
                    temperature,
                    remark: inputs.remark.trim().into(),
                }),
            }
        }
    });
}

/// A mass or another figure, set right.
fn mass_cell(ui: &mut Ui, text: RichText) {
    let size = vec2(74.0, theme::FIELD);
    ui.allocate_ui_with_layout(size, Layout::right_to_left(Align::Center), |ui| {
        ui.set_min_size(size);
        ui.label(text);
    });
}

/// Text of several lines in one cell.
fn wrapped(ui: &mut Ui, width: f32, content: impl FnOnce(&mut Ui)) {
    ui.vertical(|ui| {
        ui.set_width(width);
        ui.spacing_mut().item_spacing.y = 0.0;
        // On the line of the fields.
        ui.add_space(3.0);
        content(ui);
    });
}

fn lots_used(record: &Record, line: ItemId, step: ExactMass) -> String {
    let lots: Vec<String> = record
        .portions()
        .iter()
        .filter(|p| p.line == Some(line) && !p.struck)
        .map(|p| {
            let mass = shown(p.mass, step, record.opening().unit);
            match &p.lot {
                Some(lot) => format!("{mass} from {lot}"),
                None => format!("{mass}, no lot noted"),
            }
        })
        .collect();
    lots.join(", ")
}

/// The way out of a line that is over, as far as there is one.
fn rescue_of(view: &View<'_>, record: &Record) -> Option<Rescue> {
    if record.is_closed() {
        return None;
    }
    let works = &view.state.works;
    let stock = (!works.stock().lots.is_empty())
        .then(|| (works.stock(), works.usage(), view.state.today()));
    record.rescue(stock)
}

fn rescue_ui(ui: &mut Ui, record: &Record, rescue: Rescue, events: &mut Vec<Event>) {
    let opening = record.opening();
    let name = opening.name_of(rescue.line);
    let finest = opening.scales.iter().map(WeighingScale::resolution).min();
    let show = |mass| shown(mass, finest.unwrap_or_default(), opening.unit);
    ui.add_space(theme::TIGHT);
    caution(
        ui,
        Level::Caution,
        format!(
            "{name} is over. Accept it, or make the whole batch {:.2} times as large: {} in all",
            rescue.factor,
            show(rescue.batch)
        ),
    );
    for (line, mass) in &rescue.top_ups {
        ui.horizontal(|ui| {
            ui.add_space(theme::GAP + theme::TIGHT);
            let name = opening.name_of(*line);
            ui.label(format!("add {} of {name}", show(*mass)));
        });
    }
    for obstacle in &rescue.obstacles {
        caution(
            ui,
            Level::Breach,
            obstacle_words(obstacle, &opening.formula, show),
        );
    }
    if ui
        .button("Make the batch larger")
        .on_hover_text("Records new masses for every line; nothing weighed is changed")
        .clicked()
    {
        let Rescue { masses, .. } = rescue;
        events.push(Event::Rescaled {
            masses,
            reason: format!("{name} was overshot").into(),
        });
    }
}

fn obstacle_words(
    obstacle: &Obstacle,
    formula: &Formula,
    show: impl Fn(ExactMass) -> String,
) -> String {
    match obstacle {
        Obstacle::Vessel { volume, working } => format!(
            "The vessel would hold {:.0} ml, and {:.0} ml may be in it",
            in_millilitres(*volume),
            in_millilitres(*working)
        ),
        Obstacle::VesselUnknown => {
            "The density is not known, so it is not known whether the vessel is large enough"
                .to_owned()
        }
        Obstacle::Stock { material, short } => {
            let name = formula
                .material(material)
                .map_or(material.as_str(), |m| m.name.as_ref());
            format!("The stock lacks {} of {name}", show(*short))
        }
    }
}

/// The mix as it was really weighed, evaluated.
struct Checked {
    /// Of which state of the records.
    revision: u64,
    /// Of which shelf.
    shelf: Arc<MaterialIndex>,
    evaluation: Arc<Evaluation>,
    /// Lots whose certificates count.
    lots: Vec<String>,
    /// Why certificates do not count.
    problem: Option<String>,
}

fn check(view: &View<'_>, record: &Record) -> Option<Checked> {
    let variant = record.as_weighed()?;
    let values = of_lots_weighed(record, &view.state.makers_shelf().own().lots);
    let (formula, lots, problem) =
        match with_lots(&record.opening().formula, values.iter().copied()) {
            Ok(formula) => {
                let lots = values.iter().map(|v| v.lot.to_string()).collect();
                (formula, lots, None)
            }
            Err(error) => (
                record.opening().formula.as_ref().clone(),
                Vec::new(),
                Some(format!("The certificates are not used: {error}")),
            ),
        };
    Some(Checked {
        revision: view.state.works.revision(),
        shelf: Arc::clone(view.state.index()),
        evaluation: Arc::new(evaluate(&formula, &variant, view.state.context())),
        lots,
        problem,
    })
}

/// What the checks say of the mix as it was really weighed.
fn findings(ui: &mut Ui, view: &View<'_>, record: &Record, page: &mut RunPage) {
    let revision = view.state.works.revision();
    if page
        .checked
        .as_ref()
        .is_none_or(|c| c.revision != revision || !Arc::ptr_eq(&c.shelf, view.state.index()))
    {
        page.checked = check(view, record);
    }
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
    let counted = |level| {
        let found = evaluation.findings.iter().filter(|f| f.level == level);
        plural(level, found.count())
    };
    ui.collapsing(
        format!(
            "As really weighed: {}, {}, active matter {:.2} %, water {:.2} %",
            counted(Level::Breach),
            counted(Level::Caution),
            evaluation.composition.active_total().typical.as_percent(),
            evaluation.composition.water().typical.as_percent()
        ),
        |ui| {
            for finding in &evaluation.findings {
                if finding.level != Level::Note {
                    caution(ui, finding.level, &finding.message);
                }
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

fn results(
    ui: &mut Ui,
    record: &Record,
    page: &mut RunPage,
    events: &mut Vec<Event>,
    problem: &mut Option<String>,
) {
    let unit = record.opening().unit;
    let mass = |text: &str| read_mass(text, Some(unit)).map_err(|e| e.to_string());
    ui.add_space(theme::GAP);
    ui.label(theme::strong("Measured, packed, filled"));
    for m in record.measurements().iter().filter(|m| !m.struck) {
        ui.label(format!("{}: {} {}", m.what.label(), m.value, m.remark));
    }
    ui.horizontal_wrapped(|ui| {
        choice(
            ui,
            "What",
            &mut page.what,
            &Quality::ALL,
            |q| q.label().to_owned(),
            110.0,
        );
        field(ui, "Value, with its unit", &mut page.value, 120.0);
        field(
            ui,
            "Method, instrument, temperature",
            &mut page.method,
            200.0,
        );
        if action(ui, "Record the measurement").clicked() {
            events.push(Event::Measured {
                what: page.what,
                value: page.value.trim().into(),
                remark: page.method.trim().into(),
            });
            page.value.clear();
        }
    });
    if !record.opening().evaporation.is_zero() {
        ui.horizontal_wrapped(|ui| {
            field(
                ui,
                "Water made up for evaporation",
                &mut page.made_up,
                120.0,
            );
            field(ui, "Lot of that water", &mut page.made_up_lot, 90.0);
            if action(ui, "Record the water").clicked() {
                match mass(&page.made_up) {
                    Ok(mass) => {
                        let lot = LotId::new(&page.made_up_lot);
                        events.push(Event::MadeUp { mass, lot });
                        page.made_up.clear();
                    }
                    Err(error) => *problem = Some(error),
                }
            }
        });
    }
    ui.horizontal_wrapped(|ui| {
        let [what, lot, used, spoilt] = &mut page.packaging;
        field(ui, "Packaging", what, 140.0);
        field(ui, "Its lot", lot, 90.0);
        field(ui, "Pieces used", used, 60.0);
        field(ui, "Pieces spoilt", spoilt, 60.0);
        if action(ui, "Record the packaging").clicked() {
            let number = |text: &str| {
                let text = text.trim();
                if text.is_empty() {
                    Some(0)
                } else {
                    text.parse().ok()
                }
            };
            match (number(used), number(spoilt)) {
                (Some(used), Some(spoilt)) => events.push(Event::Packed {
                    what: what.trim().into(),
                    lot: lot.trim().into(),
                    used,
                    spoilt,
                }),
                _ => *problem = Some("Pieces are whole numbers".to_owned()),
            }
        }
    });
    ui.horizontal_wrapped(|ui| {
        let [containers, filled, samples, waste] = &mut page.filled;
        field(ui, "Containers filled", containers, 60.0);
        field(ui, "Filled, net", filled, 90.0);
        field(ui, "Retained and tested", samples, 90.0);
        field(ui, "Waste", waste, 90.0);
        if action(ui, "Record the filling").clicked() {
            let number = containers.trim().parse();
            match (number, mass(filled), mass(samples), mass(waste)) {
                (Ok(containers), Ok(mass), Ok(samples), Ok(waste)) => events.push(Event::Filled {
                    containers,
                    mass,
                    samples,
                    waste,
                }),
                (Err(_), ..) => *problem = Some("Containers are a whole number".to_owned()),
                (_, Err(e), ..) | (_, _, Err(e), _) | (.., Err(e)) => *problem = Some(e),
            }
        }
    });
    if let Some(sum) = record.reconciliation() {
        ui.label(format!(
            "Yield {:.1} %: weighed {} g, filled {} g, samples {} g, waste {} g, not accounted for {} g",
            sum.yield_share.as_percent(),
            sum.weighed,
            sum.filled,
            sum.samples,
            sum.waste,
            sum.unaccounted
        ));
    }
    ui.horizontal_wrapped(|ui| {
        field(ui, "Remark or deviation", &mut page.remark, 320.0);
        if action(ui, "Record the remark").clicked() {
            events.push(Event::Remarked {
                text: page.remark.trim().into(),
            });
            page.remark.clear();
        }
    });
}

fn decision(
    ui: &mut Ui,
    view: &View<'_>,
    record: &Record,
    page: &mut RunPage,
    events: &mut Vec<Event>,
    problem: &mut Option<String>,
) {
    ui.add_space(theme::GAP);
    ui.label(theme::strong("Decision"));
    let open = record.open_points();
    if !open.is_empty() {
        ui.collapsing(format!("{} open points", open.len()), |ui| {
            for point in &open {
                ui.label(point);
            }
        });
    }
    if !record.is_closed() {
        ui.horizontal_wrapped(|ui| {
            choice(
                ui,
                "The batch is",
                &mut page.decision,
                &Decision::ALL,
                |d| d.label().to_owned(),
                110.0,
            );
            field(ui, "Reason", &mut page.reason, 280.0);
            if action(ui, "Decide").clicked() {
                events.push(Event::Decided {
                    decision: page.decision,
                    reason: page.reason.trim().into(),
                });
            }
            if action(ui, "Close the record")
                .on_hover_text("Afterwards only dated corrections and dispatches can be added")
                .clicked()
            {
                events.push(Event::Closed);
            }
        });
    }
    if matches!(record.decision(), Some((Decision::Release, _))) && record.in_house() > 0 {
        ui.horizontal_wrapped(|ui| {
            field(ui, "Sent to", &mut page.to, 200.0);
            field(ui, "Containers sent", &mut page.count, 60.0);
            if action(ui, "Record the dispatch").clicked() {
                match page.count.trim().parse() {
                    Ok(containers) => events.push(Event::Dispatched {
                        to: page.to.trim().into(),
                        containers,
                        day: view.state.today(),
                    }),
                    Err(_) => *problem = Some("Containers are a whole number".to_owned()),
                }
            }
            ui.label(theme::small(
                ui,
                format!("{} still here", record.in_house()),
            ));
        });
    }
}

fn log(
    ui: &mut Ui,
    record: &Record,
    page: &mut RunPage,
    events: &mut Vec<Event>,
    problem: &mut Option<String>,
) {
    ui.add_space(theme::GAP);
    ui.collapsing(format!("Entries ({})", record.entries().len()), |ui| {
        for entry in record.entries() {
            ui.push_id(entry.number, |ui| {
                ui.horizontal_wrapped(|ui| {
                    ui.label(theme::small(
                        ui,
                        format!("{} · {} · {}", entry.number, entry.at, entry.by),
                    ));
                    ui.label(record.describe(entry));
                    let correctable = record.value_of(entry.number, &Change::Struck).is_some();
                    if correctable
                        && ui
                            .button("Correct…")
                            .on_hover_text("Adds a correction; the old value stays in the record")
                            .clicked()
                    {
                        let kind = if record.value_of(entry.number, &Change::Lot(None)).is_some() {
                            Kind::Mass
                        } else {
                            Kind::Value
                        };
                        page.correcting = Some((entry.number, kind));
                    }
                });
                if page.correcting.is_some_and(|(n, _)| n == entry.number) {
                    correction(ui, record, page, events, problem);
                }
            });
        }
    });
}

fn correction(
    ui: &mut Ui,
    record: &Record,
    page: &mut RunPage,
    events: &mut Vec<Event>,
    problem: &mut Option<String>,
) {
    let Some((number, mut kind)) = page.correcting else {
        return;
    };
    ui.horizontal_wrapped(|ui| {
        choice(
            ui,
            "Correct its",
            &mut kind,
            &Kind::ALL,
            |k| k.label().to_owned(),
            100.0,
        );
        page.correcting = Some((number, kind));
        if kind != Kind::Struck {
            field(ui, "New value", &mut page.corrected, 120.0);
        }
        field(ui, "Why", &mut page.why, 200.0);
        if action(ui, "Add the correction").clicked() {
            match kind.change(&page.corrected, record.opening().unit) {
                Ok(change) => match record.value_of(number, &change) {
                    Some(old) => {
                        events.push(Event::Amended {
                            entry: number,
                            change,
                            old: old.into(),
                            reason: page.why.trim().into(),
                        });
                        page.correcting = None;
                        page.corrected.clear();
                        page.why.clear();
                    }
                    None => *problem = Some("This entry has no such value".to_owned()),
                },
                Err(error) => *problem = Some(error),
            }
        }
        if action(ui, "Leave it").clicked() {
            page.correcting = None;
        }
    });
}
