//! The bench screen: one thing after the other, in figures that are read at arm's length.
//!
//! Every part has its own place and height, whatever stands in it, so that nothing moves
//! under a hand. Return records what was typed; the same key does a step. A foot switch that
//! sends Return or F9 works alike.

use eframe::egui::{
    self, Align, Align2, Button, Event as Input, FontId, Key, Layout, RichText, ScrollArea,
    TextEdit, Ui, vec2,
};
use formulation::amount::typed;
use formulation::batch::record::{Event, LineState, LineStatus, Record, Rescue};
use formulation::batch::weighing_scale::read_reading;
use formulation::batch::work_order::Task;
use formulation::finding::Level;
use formulation::formula::{ItemId, Line, Step};
use formulation::mass::ExactMass;
use formulation::stock::{Lot, LotId};

use super::{At, BUTTON, Form, Look, Part, RunPage, log, rescue, stop};
use crate::theme;
use crate::widgets::entry::select_all;
use crate::widgets::half_typed;
use crate::widgets::read_out::read_out;

/// Height of the name of what is weighed.
const NAME: f32 = 34.0;
/// Height of the mass to weigh.
const FIGURE: f32 = 84.0;
/// Height of what is typed.
const ENTRY: f32 = 40.0;
/// Below this height of the screen the figure is smaller, so that every button stays in sight.
const LOW: f32 = 400.0;
/// Height of the mass on a low screen.
const LOW_FIGURE: f32 = 56.0;
/// Height of the letters of what is read beside the mass, from arm's length: limits, lots, what
/// to mind.
const READ: f32 = 21.0;
/// The same on a low screen.
const LOW_READ: f32 = 16.0;

/// Height of what to mind, on a low screen, on any other, and where there is room to spare.
const MIND: [f32; 3] = [44.0, 76.0, 140.0];
/// Height of everything else of a weighing on a screen that is not low.
const BESIDE_MIND: f32 = 320.0;

/// What the screen keeps between frames.
#[derive(Default)]
pub struct BenchState {
    /// The task looked at, if it is not the next one.
    place: Option<usize>,
    typed: String,
    remark: String,
    lot: Option<LotId>,
    other_lot: String,
    focused: Option<usize>,
    /// When it was drawn last, counted in passes of the window.
    last_pass: u64,
}

impl BenchState {
    /// Goes on to the next task with empty fields.
    pub fn clear(&mut self) {
        *self = Self {
            last_pass: self.last_pass,
            ..Self::default()
        };
    }

    /// Puts the cursor into the field again, with what was typed in it.
    pub const fn ask_again(&mut self) {
        self.focused = None;
    }

    /// Keeps what is typed for a task and not recorded against a crash.
    fn keep_typed(&mut self, ctx: &egui::Context, record: &Record, place: usize) {
        let named = |what: &str| format!("{}: task {place}, {what}", record.code());
        half_typed::keep(ctx, &named("figure"), &mut self.typed);
        half_typed::keep(ctx, &named("remark"), &mut self.remark);
    }

    /// Puts the cursor on what a task is done with when the task comes up; whether it does so
    /// now. The click that brought it up would take the cursor away again, so it comes in the
    /// frame after that.
    fn take_cursor(&mut self, on: &egui::Response, place: usize) -> bool {
        if self.focused == Some(place) {
            return false;
        }
        if on.ctx.input(|i| i.pointer.any_click()) {
            on.ctx.request_repaint();
            return false;
        }
        on.request_focus();
        self.focused = on.has_focus().then_some(place);
        true
    }

    /// The same for a field: what was typed in it before is replaced by what is typed now.
    fn take_cursor_to_type(&mut self, field: &egui::Response, place: usize) {
        if self.take_cursor(field, place) {
            select_all(&field.ctx, field.id, self.typed.chars().count());
        }
    }

    /// Stays at a line that was overshot, so that it is seen before anything else is weighed.
    pub fn stay_if_over(&mut self, tasks: &[Task<'_>], line: ItemId) {
        self.place = tasks.iter().position(|task| {
            matches!(task, Task::Weigh { line: l, status, .. }
                if l.id == line && status.state == LineState::Over)
        });
    }
}

/// Draws the screen.
pub fn ui(
    ui: &mut Ui,
    at: At<'_>,
    tasks: &[Task<'_>],
    rescue: Option<&Rescue>,
    page: &mut RunPage,
) {
    // Whoever comes back to the bench types at once.
    let pass = ui.ctx().cumulative_pass_nr();
    if pass > page.bench.last_pass + 1 {
        page.bench.focused = None;
    }
    page.bench.last_pass = pass;
    let next = tasks.iter().position(|t| !t.is_done());
    let place = page.bench.place.or(next);
    let Some((place, task)) = place.and_then(|n| Some((n, tasks.get(n)?))) else {
        finished(ui, at, (tasks.len(), rescue), page);
        return;
    };
    progress(ui, at, tasks, place, page);
    ui.add_space(theme::TIGHT);
    let height = (ui.available_height() - BUTTON - 2.0 * theme::GAP).max(240.0);
    let whole = vec2(ui.available_width(), height);
    ui.allocate_ui_with_layout(whole, Layout::top_down(Align::Min), |ui| {
        ui.set_min_size(whole);
        match task {
            Task::Weigh {
                phase,
                line,
                status,
            } => weigh(ui, at, (place, &phase.letter, line, status), rescue, page),
            Task::Work { phase, step, done } => {
                work(ui, at, (place, &phase.letter, step, *done), page);
            }
        }
    });
    neighbours(ui, tasks.len(), place, page);
}

fn large(text: impl Into<String>, size: f32) -> RichText {
    RichText::new(text).font(FontId::new(size, theme::strong_family()))
}

/// Where in the batch this is: a mark for each line and step.
fn progress(ui: &mut Ui, at: At<'_>, tasks: &[Task<'_>], place: usize, page: &mut RunPage) {
    let done = tasks.iter().filter(|t| t.is_done()).count();
    ui.horizontal(|ui| {
        let words = format!("{done} of {} done", tasks.len());
        ui.label(theme::small(ui, words));
        let p = theme::palette(ui);
        let width = ((ui.available_width() - 20.0) / tasks.len().max(1) as f32).clamp(3.0, 26.0);
        for (n, task) in tasks.iter().enumerate() {
            let size = vec2(width - 2.0, 14.0);
            let (rect, response) = ui.allocate_exact_size(size, egui::Sense::click());
            let over = matches!(
                task,
                Task::Weigh { status, .. } if status.state == LineState::Over
            );
            let colour = if over {
                p.level(Level::Breach)
            } else if task.is_done() {
                p.accent
            } else {
                p.rule
            };
            ui.painter().rect_filled(rect.shrink(1.0), 2.0, colour);
            if n == place {
                ui.painter().rect_stroke(
                    rect,
                    2.0,
                    egui::Stroke::new(2.0, p.ink),
                    egui::StrokeKind::Outside,
                );
            }
            let name = short_name(at, task);
            response.widget_info(|| {
                egui::WidgetInfo::labeled(egui::Role::Button, true, format!("Go to {name}"))
            });
            if response.on_hover_text(name).clicked() {
                page.go_to(Some(n));
            }
        }
    });
}

fn short_name(at: At<'_>, task: &Task<'_>) -> String {
    match task {
        Task::Weigh { line, .. } => at.record.opening().name_of(line.id).to_string(),
        Task::Work { step, .. } => step.text.to_string(),
    }
}

/// A cell of a fixed height.
fn cell(ui: &mut Ui, height: f32, content: impl FnOnce(&mut Ui)) {
    let size = vec2(ui.available_width(), height);
    ui.allocate_ui_with_layout(size, Layout::top_down(Align::Min), |ui| {
        ui.set_min_size(size);
        ui.set_max_height(height);
        ui.spacing_mut().item_spacing.y = 2.0;
        content(ui);
    });
}

fn weigh(
    ui: &mut Ui,
    at: At<'_>,
    (place, letter, line, status): (usize, &str, &Line, &LineStatus),
    rescue: Option<&Rescue>,
    page: &mut RunPage,
) {
    let opening = at.record.opening();
    let name = opening.name_of(line.id);
    let missing = (status.planned - status.actual).max(ExactMass::ZERO);
    let locked = matches!(status.state, LineState::Within | LineState::Over);
    let low = ui.available_height() < LOW;
    let (figure, read) = if low {
        (LOW_FIGURE, LOW_READ)
    } else {
        (FIGURE, READ)
    };
    let mind = if low {
        MIND[0]
    } else {
        (ui.available_height() - BESIDE_MIND).clamp(MIND[1], MIND[2])
    };
    cell(ui, NAME + 10.0, |ui| {
        let name = large(format!("{letter} · {name}"), NAME * 0.8);
        read_out(&ui.add(egui::Label::new(name).truncate()));
    });
    ui.columns(2, |columns| {
        let [left, right] = columns else { return };
        cell(left, figure + 14.0, |ui| {
            let mass = if locked { status.actual } else { missing };
            read_out(&ui.label(large(at.shown(line.id, mass), figure * 0.9)));
        });
        cell(left, if low { 44.0 } else { 50.0 }, |ui| {
            let least = (status.planned - status.tolerance).max(ExactMass::ZERO);
            let most = status.planned + status.tolerance;
            let scale = opening.lines.iter().find(|l| l.line == line.id);
            let scale = scale.and_then(|l| opening.scales.get(l.scale));
            let scale = scale.map_or("", |s| s.name().as_ref());
            let wanted = format!(
                "from {} to {}",
                at.shown(line.id, least),
                at.shown(line.id, most)
            );
            let over = status.state == LineState::Over;
            let words = if over {
                format!("too much: {wanted} was asked for")
            } else if locked {
                format!("{}; locked", status.state.label())
            } else if status.actual.is_zero() {
                wanted
            } else {
                format!(
                    "{} weighed of {}, short",
                    at.shown(line.id, status.actual),
                    at.shown(line.id, status.planned)
                )
            };
            let mut text = RichText::new(words).size(read);
            if over {
                text = text.color(theme::palette(ui).level(Level::Breach)).strong();
            }
            ui.label(text);
            ui.label(theme::small(ui, format!("on “{scale}”")));
        });
        cell(left, mind, |ui| {
            let mind = super::to_mind(at.record, line.id);
            ScrollArea::vertical().id_salt("mind").show(ui, |ui| {
                ui.label(theme::strong(mind).size(read * 0.85));
            });
        });
        cell(left, ENTRY + if low { 46.0 } else { 74.0 }, |ui| {
            if locked {
                let over = status.state == LineState::Over;
                locked_ui(ui, at, (place, line.id, over), page);
            } else {
                entry(ui, at, (place, line, missing), page);
            }
        });
        if locked {
            taken(
                right,
                at,
                line,
                page,
                rescue.filter(|_| status.state == LineState::Over),
            );
        } else {
            lots(right, at, (line, missing, read), page);
        }
    });
}

fn locked_ui(
    ui: &mut Ui,
    at: At<'_>,
    (place, line, over): (usize, ItemId, bool),
    page: &mut RunPage,
) {
    let standing = at.record.portions().iter().rev().filter(|p| !p.struck);
    let last = standing.filter(|p| p.line == Some(line)).map(|p| p.entry);
    ui.horizontal(|ui| {
        ui.label("This line is finished.");
        let correct = ui
            .button("Correct it…")
            .on_hover_text("In the whole record; the old value stays");
        if let Some(entry) = last.max()
            && correct.clicked()
        {
            page.look = Look::Whole;
            log::begin(at, page, entry);
        }
    });
    let mut go_on = false;
    ui.horizontal(|ui| {
        if over {
            go_on = accept(ui, place, page);
        }
        if at.record.opening().second_check {
            second_person(ui, at, line, page);
        }
    });
    if go_on {
        page.go_to(None);
        return;
    }
    page.problem_ui(ui, &Form::Plain);
}

/// Goes on after too much was weighed: the mass is recorded, and stands as a point before the
/// release with what was asked for.
fn accept(ui: &mut Ui, place: usize, page: &mut RunPage) -> bool {
    let accept = Button::new("Accept it and go on");
    let accept = ui.add_sized([190.0, ENTRY], accept).on_hover_text(
        "The mass stays as it was weighed and is a point before the release; Return or F9",
    );
    page.bench.take_cursor(&accept, place);
    accept.clicked() || switch(ui, page)
}

/// Who checked a weighing, or the button to say so.
fn second_person(ui: &mut Ui, at: At<'_>, line: ItemId, page: &mut RunPage) {
    if let Some(who) = at.record.line_checked_by(line) {
        ui.label(theme::small(ui, format!("checked by {who}")));
        return;
    }
    let check = Button::new("Checked by a second person");
    if ui.add_sized([230.0, ENTRY], check).clicked() {
        let line = Some(line);
        page.send(at, Form::Plain, Event::Checked { line });
    }
}

/// Whether the key of a foot switch went down, and nothing is asked that it cannot answer.
fn switch(ui: &Ui, page: &RunPage) -> bool {
    page.stopped.is_none() && ui.input(|i| i.key_pressed(Key::F9))
}

fn entry(
    ui: &mut Ui,
    at: At<'_>,
    (place, line, missing): (usize, &Line, ExactMass),
    page: &mut RunPage,
) {
    let form = Form::Line(line.id);
    let unit = at.record.opening().unit;
    let mut ready = switch(ui, page);
    let by_portions = at.record.by_portions(line.id);
    let mut enough = by_portions && page.stopped.is_none() && ui.input(|i| i.key_pressed(Key::F8));
    page.bench.keep_typed(ui, at.record, place);
    ui.horizontal(|ui| {
        let field = TextEdit::singleline(&mut page.bench.typed)
            .font(FontId::proportional(ENTRY * 0.65))
            .hint_text(unit.symbol())
            .align(Align2::LEFT_CENTER);
        let response = ui
            .add_sized([190.0, ENTRY], field)
            .on_hover_text("Typed, or pasted as the scale sent it")
            .accessible_name("Mass from the scale");
        page.bench.take_cursor_to_type(&response, place);
        if response.changed() {
            page.retyped(&form);
        }
        ready |= response.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter));
        // What a scale sends as text comes in even if another part has the focus.
        if !response.has_focus() {
            let pasted = ui.input(|i| {
                i.events.iter().find_map(|e| match e {
                    Input::Paste(text) => Some(text.clone()),
                    _ => None,
                })
            });
            if let Some(text) = pasted.filter(|_| ui.memory(|m| m.focused().is_none())) {
                page.bench.typed = text;
            }
        }
        let button = Button::new(large("Record", 20.0).color(theme::palette(ui).on_accent))
            .fill(theme::palette(ui).accent);
        ready |= ui
            .add_sized([130.0, ENTRY], button)
            .on_hover_text(format!(
                "Record this weighing of {}; Return or F9",
                at.record.opening().name_of(line.id)
            ))
            .clicked();
    });
    ui.horizontal(|ui| {
        let label = ui.label(theme::small(ui, "Remark"));
        // The same for every line, so that nothing moves where one can be enough.
        ui.add(TextEdit::singleline(&mut page.bench.remark).desired_width(160.0))
            .labelled_by(label.id);
        if by_portions {
            enough |= ui
                .add_sized([200.0, 30.0], Button::new("Enough: the target is met"))
                .on_hover_text("Nothing more is added; what was really added counts; F8")
                .clicked();
        }
    });
    page.problem_ui(ui, &form);
    if enough {
        let typed = page.bench.typed.clone();
        stop::enough(at, page, line, &typed);
        return;
    }
    if !ready {
        return;
    }
    let lot = match &page.bench.lot {
        Some(lot) => Some(lot.clone()),
        None if !page.bench.other_lot.trim().is_empty() => LotId::new(&page.bench.other_lot),
        None => LotId::new(&stop::proposed_lot(at, line, missing)),
    };
    match read_reading(&page.bench.typed, unit) {
        Ok(mass) => {
            let event = Event::Weighed {
                line: line.id,
                mass,
                lot,
                remark: page.bench.remark.trim().into(),
            };
            stop::weigh(at, page, form, event);
        }
        Err(error) => {
            page.refuse(form, error.to_string());
            page.bench.ask_again();
        }
    }
}

/// From which lots a finished line was taken, and the way out if it is too much.
fn taken(ui: &mut Ui, at: At<'_>, line: &Line, page: &mut RunPage, rescue: Option<&Rescue>) {
    ui.label(theme::small(ui, "Taken from"));
    let standing = at.record.portions().iter().filter(|p| !p.struck);
    for portion in standing.filter(|p| p.line == Some(line.id)) {
        let lot = portion.lot.as_ref().map_or("no lot", |l| l.as_str());
        let words = format!("{lot}: {}", at.shown(line.id, portion.mass));
        ui.label(RichText::new(words).size(18.0));
        if !portion.remark.is_empty() {
            ui.label(theme::small(ui, portion.remark.as_ref()));
        }
    }
    if let Some(rescue) = rescue {
        let height = ui.available_height();
        ScrollArea::vertical()
            .id_salt("rescue")
            .max_height(height)
            .show(ui, |ui| rescue::ui(ui, at, rescue.clone(), page));
    }
}

/// The lots of the material, first expired first; those that are stopped come last and say
/// why.
fn lots(
    ui: &mut Ui,
    at: At<'_>,
    (line, missing, read): (&Line, ExactMass, f32),
    page: &mut RunPage,
) {
    let books = &at.view.state.books;
    let (stock, usage, today) = (books.stock(), books.usage(), at.view.state.today());
    ui.horizontal(|ui| {
        let label = ui.label(theme::small(ui, "Lot, if it is not in the list"));
        let typed = ui
            .add_sized(
                [190.0, ENTRY],
                TextEdit::singleline(&mut page.bench.other_lot)
                    .font(FontId::proportional(ENTRY * 0.5))
                    .align(Align2::LEFT_CENTER),
            )
            .labelled_by(label.id);
        if typed.changed() {
            page.bench.lot = None;
        }
    });
    ui.label(theme::small(ui, "In the stock, first expired first"));
    let mut all: Vec<&Lot> = stock.lots_of(&line.material).collect();
    all.sort_by_key(|l| {
        let stopped = !l.usable(today) || stock.left(l, usage) <= ExactMass::ZERO;
        (stopped, l.turn())
    });
    let proposed = LotId::new(&stop::proposed_lot(at, line, missing));
    let chosen = match &page.bench.lot {
        Some(lot) => Some(lot.clone()),
        None if page.bench.other_lot.trim().is_empty() => proposed,
        None => None,
    };
    let height = ui.available_height().max(120.0);
    ScrollArea::vertical()
        .id_salt("lots")
        .max_height(height)
        .auto_shrink([false, false])
        .show(ui, |ui| {
            if all.is_empty() {
                ui.label("No lot of it is in the stock; type the lot above.");
            }
            for lot in all {
                let against = at
                    .record
                    .lot_faults(line.id, &lot.id, missing, books.lots(today));
                let last = lot
                    .last_day()
                    .map_or_else(|| "no last day".to_owned(), |d| format!("until {d}"));
                let left = at.shown(line.id, stock.left(lot, usage));
                let mut words = format!("{} · {last} · {left} left", lot.id);
                // The name stands above already.
                let name = format!("{}: ", at.record.opening().name_of(line.id));
                if let Some(first) = against.first() {
                    let first = first.strip_prefix(&name).unwrap_or(first);
                    words = format!("{words}\n{first}");
                }
                let selected = chosen.as_ref() == Some(&lot.id);
                let mut text = RichText::new(words).size(read * 0.95);
                if !against.is_empty() && !selected {
                    text = text.color(theme::palette(ui).level(Level::Breach));
                }
                let button = Button::selectable(selected, text)
                    .wrap()
                    .min_size(vec2(ui.available_width(), ENTRY));
                if ui.add(button).clicked() {
                    page.bench.lot = Some(lot.id.clone());
                    page.bench.other_lot.clear();
                    page.bench.focused = None;
                }
            }
        });
}

fn work(
    ui: &mut Ui,
    at: At<'_>,
    (place, letter, step, done): (usize, &str, &Step, bool),
    page: &mut RunPage,
) {
    let form = Form::Step(step.id);
    let low = ui.available_height() < LOW;
    let figure = if low { LOW_FIGURE } else { FIGURE };
    cell(ui, if low { 2.0 * NAME } else { 3.0 * NAME }, |ui| {
        read_out(&ui.label(large(format!("{letter} · {}", step.text), NAME * 0.7)));
    });
    cell(ui, figure, |ui| {
        let degrees = step.temperature.map(typed::shown_temperature);
        let minutes = step.minutes.map(|m| format!("{m} min"));
        let facts: Vec<String> = [degrees, minutes].into_iter().flatten().collect();
        read_out(&ui.label(large(facts.join(" · "), figure * 0.7)));
    });
    cell(ui, 60.0, |ui| {
        if !step.tool.is_empty() {
            ui.label(RichText::new(step.tool.as_ref()).size(18.0));
        }
        if !step.check.is_empty() {
            ui.label(RichText::new(format!("Check: {}", step.check)).size(18.0));
        }
    });
    if done {
        ui.label(RichText::new("Done").size(18.0));
        return;
    }
    let mut ready = switch(ui, page);
    page.bench.keep_typed(ui, at.record, place);
    ui.horizontal(|ui| {
        let field = TextEdit::singleline(&mut page.bench.typed)
            .font(FontId::proportional(ENTRY * 0.65))
            .hint_text("°C read")
            .align(Align2::LEFT_CENTER);
        let response = ui
            .add_sized([150.0, ENTRY], field)
            .accessible_name("Temperature read");
        page.bench.take_cursor_to_type(&response, place);
        if response.changed() {
            page.retyped(&form);
        }
        ready |= response.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter));
        let button = Button::new(large("Done", 20.0).color(theme::palette(ui).on_accent))
            .fill(theme::palette(ui).accent);
        ready |= ui
            .add_sized([130.0, ENTRY], button)
            .on_hover_text("Record the step as done; Return or F9")
            .clicked();
    });
    ui.horizontal(|ui| {
        let label = ui.label(theme::small(ui, "Time, speed, what the check showed"));
        ui.add(TextEdit::singleline(&mut page.bench.remark).desired_width(300.0))
            .labelled_by(label.id);
    });
    page.problem_ui(ui, &form);
    if !ready {
        return;
    }
    match typed::optional(&page.bench.typed, typed::temperature) {
        Ok(temperature) => {
            let event = Event::Worked {
                step: step.id,
                temperature,
                remark: page.bench.remark.trim().into(),
            };
            stop::work(at, page, form, event);
        }
        Err(words) => {
            page.refuse(form, words.to_string());
            page.bench.ask_again();
        }
    }
}

/// The tasks before and after, at the foot of the screen.
fn neighbours(ui: &mut Ui, count: usize, place: usize, page: &mut RunPage) {
    let mut go = None;
    ui.horizontal(|ui| {
        let before = ui.add_enabled_ui(place > 0, |ui| {
            let button = Button::new(large("‹ Before", 18.0));
            ui.add_sized([150.0, BUTTON], button).clicked()
        });
        let keys =
            |ui: &Ui, key| ui.memory(|m| m.focused().is_none()) && ui.input(|i| i.key_pressed(key));
        if place > 0 && (before.inner || keys(ui, Key::PageUp)) {
            go = Some(Some(place - 1));
        }
        let last = place + 1 >= count;
        let after = ui.add_enabled_ui(!last, |ui| {
            let button = Button::new(large("After ›", 18.0));
            ui.add_sized([150.0, BUTTON], button).clicked()
        });
        if !last && (after.inner || keys(ui, Key::PageDown)) {
            go = Some(Some(place + 1));
        }
        let next = Button::new(large("What comes next", 18.0));
        if ui.add_sized([200.0, BUTTON], next).clicked() {
            go = Some(None);
        }
    });
    if let Some(place) = go {
        page.go_to(place);
    }
}

impl RunPage {
    /// Shows a task, or the next one to do; what was typed and said at another one is gone.
    fn go_to(&mut self, place: Option<usize>) {
        self.bench.clear();
        self.bench.place = place;
        self.problem = None;
        self.doubted = None;
    }

    /// What was wrong with a form is no longer told once something else is typed in it.
    fn retyped(&mut self, form: &Form) {
        if self.problem.as_ref().is_some_and(|(of, _)| of == form) {
            self.problem = None;
        }
    }
}

/// All lines and steps are done.
fn finished(
    ui: &mut Ui,
    at: At<'_>,
    (tasks, rescue): (usize, Option<&Rescue>),
    page: &mut RunPage,
) {
    ui.add_space(theme::GAP);
    read_out(&ui.label(large("All lines and steps are done", NAME * 0.8)));
    ui.add_space(theme::GAP);
    ui.label("What is left is in the whole record.");
    let go = Button::new(large("Measure, pack, fill and decide", 18.0));
    let go = ui
        .add_sized([330.0, BUTTON], go)
        .on_hover_text("In the whole record; F9");
    page.bench.take_cursor(&go, tasks);
    if go.clicked() || switch(ui, page) {
        page.look = Look::Whole;
        page.sought = Some(Part::Measured);
        page.measure = true;
    }
    if let Some(rescue) = rescue {
        ui.add_space(theme::GAP);
        ScrollArea::vertical()
            .id_salt("rescue")
            .show(ui, |ui| rescue::ui(ui, at, rescue.clone(), page));
    }
}
