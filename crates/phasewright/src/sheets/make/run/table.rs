//! Lines and steps in one table.

use eframe::egui::{
    Align, Grid, Key, Layout, RichText, TextEdit, TextStyle, TextWrapMode, Ui, WidgetText, vec2,
};
use formulation::amount::measure::signed;
use formulation::amount::typed;
use formulation::batch::record::{
    Event, LineState, LineStatus, Portion, Record, Rescue, reading_off,
};
use formulation::batch::weigh_sheet::IN_PORTIONS;
use formulation::batch::weighing_scale::read_reading;
use formulation::batch::work_order::Task;
use formulation::finding::Level;
use formulation::formula::{ItemId, Line, Step};
use formulation::mass::{ExactMass, shown};
use formulation::stock::LotId;

use super::{At, Form, RunPage, caution, log, stop, task_words};
use crate::theme;
use crate::widgets::fitted::unparted_label;
use crate::widgets::half_typed;

/// Size of a field in a table.
const FIELD: [f32; 2] = [80.0, theme::FIELD];

/// What comes next, with what to mind at it. It takes the room that the longest task
/// needs, so that the fields below stay where they are from one weighing to the next.
pub fn next_task(ui: &mut Ui, record: &Record, tasks: &[Task<'_>], rescue: Option<&Rescue>) {
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
    // Once nothing is left to weigh, no room is kept for it.
    let height = if done == tasks.len() { 0.0 } else { height };
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
pub fn ui(ui: &mut Ui, at: At<'_>, tasks: &[Task<'_>], page: &mut RunPage) {
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
                // Nothing is entered in a closed record.
                let entered = matches!(head, "From the scale" | "Lot" | "Remark");
                if entered && at.record.is_closed() {
                    continue;
                }
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
                        weighing(ui, at, (*line, status, focus), width, page);
                    }
                    Task::Work { step, done, .. } => {
                        working(ui, at, step, *done, width, page);
                    }
                }
                ui.end_row();
            }
        });
    let refused = page.problem.as_ref().map(|(form, _)| form.clone());
    if let Some(form @ (Form::Line(_) | Form::Step(_) | Form::Plain)) = refused {
        page.problem_ui(ui, &form);
    }
}

fn weighing(
    ui: &mut Ui,
    at: At<'_>,
    (line, status, focus): (&Line, &LineStatus, bool),
    width: f32,
    page: &mut RunPage,
) {
    let record = at.record;
    let name = record.opening().name_of(line.id);
    let step = at.step(line.id);
    let show = |m| at.shown(line.id, m);
    wrapped(ui, width, |ui| {
        let used = lots_used(record, line.id, step);
        let label = unparted_label(ui, &name, WidgetText::from);
        if record.is_closed() {
            ui.label(theme::small(ui, used));
        } else if !used.is_empty() {
            // While weighing, rows keep their height and so their place.
            label.on_hover_text(used);
        }
    });
    mass_cell(ui, show(status.planned).into());
    mass_cell(
        ui,
        match status.state {
            LineState::Pending => theme::small(ui, "–"),
            _ => theme::strong(show(status.actual)),
        },
    );
    let colour = match status.state {
        LineState::Over => theme::palette(ui).level(Level::Breach),
        LineState::Short => theme::palette(ui).level(Level::Caution),
        LineState::Pending => theme::palette(ui).faint_ink,
        LineState::Within => theme::palette(ui).ink,
    };
    let deviation = format!("{} %", signed(status.relative().as_percent(), 2));
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
    if matches!(status.state, LineState::Within | LineState::Over) {
        locked(ui, at, line, page);
    } else {
        open_line(ui, at, (line, status, focus), page);
    }
}

/// A finished line is locked; it is changed by a correction only.
fn locked(ui: &mut Ui, at: At<'_>, line: &Line, page: &mut RunPage) {
    let record = at.record;
    let name = record.opening().name_of(line.id);
    ui.label(theme::small(ui, "weighed")).on_hover_text(
        "Finished lines are locked. Correct them under Entries; the old value stays",
    );
    ui.label(theme::small(ui, lots_of(record, line.id)));
    ui.horizontal(|ui| {
        // As large as the field of an open line, so that nothing moves; unseen if empty.
        let mut remarks = remarks_of(record, line.id);
        let is_seen = !remarks.is_empty();
        let locked = TextEdit::singleline(&mut remarks)
            .desired_width(86.0)
            .interactive(false);
        ui.add_visible(is_seen, locked)
            .accessible_name(format!("{name} remark, locked"));
        let standing = record.portions().iter().rev();
        let last = standing
            .filter(|p| !p.struck)
            .find(|p| p.line == Some(line.id));
        if ui
            .button("Correct…")
            .accessible_name(format!("Correct the weighing of {name}"))
            .on_hover_text(format!(
                "Correct the weighing of {name}; the old value stays"
            ))
            .clicked()
            && let Some(portion) = last
        {
            log::begin(at, page, portion.entry);
        }
    });
}

/// A line that is still to be weighed, or not yet enough of it.
fn open_line(
    ui: &mut Ui,
    at: At<'_>,
    (line, status, focus): (&Line, &LineStatus, bool),
    page: &mut RunPage,
) {
    let opening = at.record.opening();
    let name = opening.name_of(line.id);
    let show = |m| at.shown(line.id, m);
    let form = Form::Line(line.id);
    let missing = (status.planned - status.actual).max(ExactMass::ZERO);
    let proposed = stop::proposed_lot(at, line, missing);
    let typed = page.lines.entry(line.id).or_default();
    let batch = at.record.code();
    half_typed::keep(ui, &format!("{batch}: {name} weight"), &mut typed.mass);
    half_typed::keep(ui, &format!("{batch}: {name} lot"), &mut typed.lot);
    half_typed::keep(ui, &format!("{batch}: {name} remark"), &mut typed.remark);
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
    let lot = ui
        .add_sized(
            FIELD,
            TextEdit::singleline(&mut typed.lot).hint_text(&proposed),
        )
        .accessible_name(format!("{name} lot"));
    let enter = ui.input(|i| i.key_pressed(Key::Enter));
    let mut entered = enter && (weight.lost_focus() || lot.lost_focus());
    let mut ready = entered;
    let mut enough = false;
    ui.horizontal(|ui| {
        let remark = ui
            .add(TextEdit::singleline(&mut typed.remark).desired_width(86.0))
            .accessible_name(format!("{name} remark"));
        entered |= enter && remark.lost_focus();
        ready |= entered;
        ready |= ui
            .button("Record")
            .on_hover_text(format!("Record this weighing of {name}"))
            .clicked();
        if at.record.by_portions(line.id) {
            enough = ui
                .button("Enough")
                .accessible_name(format!("Enough of {name}: the target is met"))
                .on_hover_text(format!(
                    "{IN_PORTIONS} The target is met: no more of {name} is needed"
                ))
                .clicked();
        }
    });
    if enough {
        let typed = typed.mass.clone();
        stop::enough(at, page, line, &typed);
        return;
    }
    if ready {
        let lot = if typed.lot.trim().is_empty() {
            &proposed
        } else {
            &typed.lot
        };
        match read_reading(&typed.mass, opening.unit) {
            Ok(mass) => {
                let event = Event::Weighed {
                    line: line.id,
                    mass,
                    lot: LotId::new(lot),
                    remark: typed.remark.trim().into(),
                };
                stop::weigh(at, page, form, event);
                page.go_on = entered;
            }
            Err(error) => page.refuse(form, error.to_string()),
        }
    }
}

fn working(ui: &mut Ui, at: At<'_>, step: &Step, done: bool, width: f32, page: &mut RunPage) {
    let record = at.record;
    wrapped(ui, width, |ui| {
        ui.label(step.text.as_ref());
        let minutes = step.minutes.map(|m| format!("{m} min"));
        let check = (!step.check.is_empty()).then(|| format!("check: {}", step.check));
        let beside: Vec<String> = minutes.into_iter().chain(check).collect();
        if !beside.is_empty() {
            ui.label(theme::small(ui, beside.join(" · ")));
        }
    });
    let degrees = step.temperature.map(typed::shown_temperature);
    mass_cell(ui, degrees.unwrap_or_default().into());
    let read = record.read_at(step.id);
    let degrees = read.map(typed::shown_temperature);
    mass_cell(ui, theme::strong(degrees.unwrap_or_default()));
    let faint = theme::palette(ui).faint_ink;
    if done {
        match read.and_then(|read| reading_off(step, read)) {
            Some(off) => {
                let colour = theme::palette(ui).level(Level::Caution);
                ui.colored_label(colour, "done, off").on_hover_text(off);
            }
            None => {
                ui.label("done");
            }
        }
        return;
    }
    ui.colored_label(faint, "to do");
    if record.is_closed() {
        return;
    }
    let inputs = page.steps.entry(step.id).or_default();
    let batch = record.code();
    let named = |what: &str| format!("{batch}: {what} at {}", step.text);
    half_typed::keep(ui, &named("temperature"), &mut inputs.mass);
    half_typed::keep(ui, &named("remark"), &mut inputs.remark);
    ui.add_sized(
        FIELD,
        TextEdit::singleline(&mut inputs.mass).hint_text("°C read"),
    )
    .accessible_name(format!("Temperature at {}", step.text));
    ui.label("");
    let done = ui.horizontal(|ui| {
        ui.add(
            TextEdit::singleline(&mut inputs.remark)
                .desired_width(86.0)
                .hint_text("remark"),
        )
        .accessible_name(format!("Remark at {}", step.text));
        ui.button("Done")
            .on_hover_text(format!("Record as done: {}", step.text))
            .clicked()
    });
    if done.inner {
        let form = Form::Step(step.id);
        let remark = inputs.remark.trim().into();
        match typed::optional(&inputs.mass, typed::temperature) {
            Err(words) => page.refuse(form, words.to_string()),
            Ok(temperature) => {
                let event = Event::Worked {
                    step: step.id,
                    temperature,
                    remark,
                };
                stop::work(at, page, form, event);
            }
        }
    }
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

fn lots_of(record: &Record, line: ItemId) -> String {
    joined(record, line, |p| {
        p.lot
            .as_ref()
            .map_or_else(|| "no lot".to_owned(), ToString::to_string)
    })
}

fn remarks_of(record: &Record, line: ItemId) -> String {
    joined(record, line, |p| p.remark.to_string())
}

fn joined(record: &Record, line: ItemId, words: impl Fn(&Portion) -> String) -> String {
    let standing = record.portions().iter().filter(|p| !p.struck);
    let of_line = standing.filter(|p| p.line == Some(line)).map(words);
    let mut all: Vec<String> = Vec::new();
    for words in of_line.filter(|w| !w.is_empty()) {
        if !all.contains(&words) {
            all.push(words);
        }
    }
    all.join(", ")
}
