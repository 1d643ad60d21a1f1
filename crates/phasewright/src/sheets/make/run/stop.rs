//! Lots that must not be taken without a reason.

use eframe::egui::{Id, Modal, Ui, vec2};
use formulation::batch::record::{Change, Event, LotStop};
use formulation::finding::Level;
use formulation::formula::Line;
use formulation::mass::ExactMass;

use super::BUTTON;
use super::{At, Form, RunPage, caution};
use crate::sheets::make::{entered, field};
use crate::theme;
use crate::widgets::modal::is_left;

/// A weighing, or the correction of one, that waits for a reason.
pub struct Stopped {
    form: Form,
    event: Event,
    stop: LotStop,
    reason: String,
    /// Why it could not be taken all the same.
    problem: Option<String>,
    /// Whether the cursor has been in the field.
    focused: bool,
}

impl Stopped {
    const fn new(form: Form, event: Event, stop: LotStop) -> Self {
        Self {
            form,
            event,
            stop,
            reason: String::new(),
            problem: None,
            focused: false,
        }
    }
}

/// The lot proposed for a line: first expired, first out.
pub fn proposed_lot(at: At<'_>, line: &Line, missing: ExactMass) -> String {
    let books = &at.view.state.books;
    let today = at.view.state.today();
    let draw = books
        .stock()
        .draw(&line.material, missing, books.usage(), today);
    let first = draw.parts.first();
    first.map(|(lot, _)| lot.to_string()).unwrap_or_default()
}

/// What to say to a mass that is more likely mistyped or misread than poured.
fn doubt(at: At<'_>, event: &Event) -> Option<String> {
    let weighed = |event: &Event| match event {
        Event::Weighed { line, mass, .. } => Some((*line, *mass)),
        _ => None,
    };
    let (now, before) = match event {
        Event::Amended {
            entry,
            change: Change::Instead(instead),
            ..
        } => {
            let (standing, _) = at.record.standing(*entry)?;
            (weighed(instead)?, weighed(standing)?.1)
        }
        event => (weighed(event)?, ExactMass::ZERO),
    };
    let (line, mass) = now;
    let status = at.record.line(line)?;
    let others = status.actual - before;
    let missing = (status.planned - others).max(ExactMass::ZERO);
    (mass > before && status.is_likely_mistyped(mass - before)).then(|| {
        format!(
            "{} is much more than the {} to weigh. Read the scale again; if it is so, record it once more",
            at.shown(line, mass),
            at.shown(line, missing)
        )
    })
}

/// Records a weighing, or asks first where it is likely mistyped, or for the reason where
/// something speaks against its lot.
pub fn weigh(at: At<'_>, page: &mut RunPage, form: Form, event: Event) {
    if page.doubted.as_ref() != Some(&event)
        && let Some(words) = doubt(at, &event)
    {
        page.doubted = Some(event);
        page.refuse(form, words);
        page.bench.ask_again();
        return;
    }
    record(at, page, form, event);
}

/// Records a step as done, or asks first where the temperature read is off from what is asked for.
pub fn work(at: At<'_>, page: &mut RunPage, form: Form, event: Event) {
    if page.doubted.as_ref() != Some(&event)
        && let Some(words) = at.record.temperature_doubt(&event)
    {
        page.doubted = Some(event);
        let again = "Read the thermometer again; if it is so, record it once more";
        page.refuse(form, format!("{words}. {again}"));
        page.bench.ask_again();
        return;
    }
    page.send(at, form, event);
}

/// Finishes a line that goes in little by little with what was really added.
pub fn enough(at: At<'_>, page: &mut RunPage, line: &Line, typed: &str) {
    let form = Form::Line(line.id);
    if !typed.trim().is_empty() {
        page.refuse(
            form,
            "Record the mass that is typed first, or empty its field",
        );
        page.bench.ask_again();
    } else if let Some(event) = at.record.enough(line.id) {
        page.send(at, form, event);
    }
}

/// Records an entry, or asks for the reason where something speaks against its lot.
pub fn record(at: At<'_>, page: &mut RunPage, form: Form, event: Event) {
    let books = &at.view.state.books;
    match at.record.stop(&event, books.lots(at.view.state.today())) {
        None => page.send(at, form, event),
        Some(stop) => page.stopped = Some(Stopped::new(form, event, stop)),
    }
}

/// Asks.
pub fn ui(ui: &mut Ui, at: At<'_>, page: &mut RunPage) {
    let Some(mut stopped) = page.stopped.take() else {
        return;
    };
    let mut done = false;
    let frame = eframe::egui::Frame::window(ui.style());
    let modal = Modal::new(Id::unique("lot stopped"))
        .frame(frame)
        .show(ui.ctx(), |ui| {
            ui.set_width(440.0);
            ui.label(theme::heading(match &stopped.stop.lot {
                Some(lot) => format!("Lot {lot} is stopped"),
                None => "Taking it without a lot is stopped".to_owned(),
            }));
            for words in &stopped.stop.against {
                caution(ui, Level::Breach, words);
            }
            ui.add_space(theme::TIGHT);
            ui.label(
                "It can be taken all the same with a reason. That stays an open point of the record until somebody accepts it.",
            );
            let reason = field(ui, "Reason for taking it", &mut stopped.reason, 400.0);
            // The click that brought it up would take the cursor away again.
            if ui.input(|i| i.pointer.any_click()) {
                ui.ctx().request_repaint();
            } else if !stopped.focused {
                reason.request_focus();
                stopped.focused = reason.has_focus();
            }
            // Its place is kept, so that nothing moves under a hand.
            let said = vec2(ui.available_width(), 26.0);
            ui.allocate_ui(said, |ui| {
                ui.set_min_size(said);
                if let Some(problem) = &stopped.problem {
                    caution(ui, Level::Breach, problem.as_str());
                }
            });
            ui.horizontal(|ui| {
                // Hit with a glove, as everything at the bench.
                ui.spacing_mut().interact_size.y = BUTTON;
                ui.spacing_mut().button_padding = vec2(14.0, 10.0);
                let back = match &stopped.stop.lot {
                    Some(_) => "Take another lot",
                    None => "Note the lot",
                };
                done = theme::main_button(ui, back).clicked();
                let taken = ui.button("Take it all the same").clicked();
                if taken || entered(ui, std::slice::from_ref(&reason)) {
                    let LotStop { lot, against } = &stopped.stop;
                    let mut events: Vec<Event> = against
                        .iter()
                        .map(|what| Event::Deviated {
                            lot: lot.clone(),
                            what: what.as_str().into(),
                            reason: stopped.reason.trim().into(),
                        })
                        .collect();
                    events.push(stopped.event.clone());
                    page.submit(at, stopped.form.clone(), events);
                    stopped.problem = page.problem.take().map(|(_, words)| words);
                    done = stopped.problem.is_none();
                }
            });
        });
    if !done && !is_left(&modal) {
        page.stopped = Some(stopped);
    } else if page.sent.is_none() {
        page.problem = None;
        page.bench.ask_again();
    }
}
