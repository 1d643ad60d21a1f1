//! Lots that must not be taken without a reason.

use eframe::egui::{Id, Modal, Ui, vec2};
use formulation::batch::record::Event;
use formulation::finding::Level;
use formulation::formula::{ItemId, Line};
use formulation::mass::ExactMass;
use formulation::stock::LotId;

use super::BUTTON;
use super::{At, Form, RunPage, caution};
use crate::sheets::make::field;
use crate::theme;
use crate::widgets::modal::is_left;

/// A weighing, or the correction of one, that waits for a reason.
pub struct Stopped {
    form: Form,
    event: Event,
    lot: Option<LotId>,
    against: Vec<String>,
    reason: String,
    /// Why it could not be taken all the same.
    problem: Option<String>,
    /// Whether the cursor has been in the field.
    focused: bool,
}

impl Stopped {
    fn new(form: Form, event: Event, lot: Option<LotId>, against: Vec<String>) -> Self {
        Self {
            form,
            event,
            lot,
            against,
            reason: String::new(),
            problem: None,
            focused: false,
        }
    }
}

/// The lot proposed for a line: first expired, first out.
pub fn proposed_lot(at: At<'_>, line: &Line, missing: ExactMass) -> String {
    let works = &at.view.state.works;
    let today = at.view.state.today();
    let draw = works
        .stock()
        .draw(&line.material, missing, works.usage(), today);
    let first = draw.parts.first();
    first.map(|(lot, _)| lot.to_string()).unwrap_or_default()
}

/// What speaks against a weighing's lot and was not excepted yet.
fn against(at: At<'_>, line: ItemId, lot: &LotId, mass: ExactMass) -> Vec<String> {
    let works = &at.view.state.works;
    works.lot_faults(at.record, line, lot, mass, at.view.state.today())
}

/// Records a weighing, or asks for the reason where something speaks against its lot.
pub fn weigh(at: At<'_>, page: &mut RunPage, form: Form, event: Event) {
    if let Event::Weighed {
        line,
        mass,
        lot: Some(lot),
        ..
    } = &event
    {
        let against = against(at, *line, lot, *mass);
        if !against.is_empty() {
            let lot = Some(lot.clone());
            page.stopped = Some(Stopped::new(form, event, lot, against));
            return;
        }
    }
    page.send(at, form, event);
}

/// Records a correction of a weighing, or asks for the reason.
pub fn correct(at: At<'_>, page: &mut RunPage, corrected: &Event, amendment: Event) {
    if let Event::Weighed {
        line,
        lot: Some(lot),
        ..
    } = corrected
    {
        // What was corrected is in the books already, so only the lot is asked about.
        let against = against(at, *line, lot, ExactMass::ZERO);
        if !against.is_empty() {
            let lot = Some(lot.clone());
            page.stopped = Some(Stopped::new(Form::Correction, amendment, lot, against));
            return;
        }
    }
    pack(at, page, Form::Correction, amendment);
}

/// Records packaging or a run of labels, or asks for the reason where something speaks against
/// its lot.
pub fn pack(at: At<'_>, page: &mut RunPage, form: Form, event: Event) {
    let works = &at.view.state.works;
    match works.packaging_fault(at.record, &event) {
        None => page.send(at, form, event),
        Some((lot, words)) => {
            page.stopped = Some(Stopped::new(form, event, lot, vec![words]));
        }
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
            ui.label(theme::heading(match &stopped.lot {
                Some(lot) => format!("Lot {lot} is stopped"),
                None => "Packaging without a lot is stopped".to_owned(),
            }));
            for words in &stopped.against {
                caution(ui, Level::Breach, words);
            }
            ui.add_space(theme::TIGHT);
            ui.label(
                "It can be taken all the same with a reason. That stays an open point of the record until somebody accepts it.",
            );
            let reason = field(ui, "Reason for taking it", &mut stopped.reason, 400.0);
            if !stopped.focused {
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
                done = theme::main_button(ui, "Take another lot").clicked();
                if ui.button("Take it all the same").clicked() {
                    let mut events: Vec<Event> = stopped
                        .against
                        .iter()
                        .map(|what| Event::Deviated {
                            lot: stopped.lot.clone(),
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
    }
}
