//! The release gate: what is not as it should be, what was accepted, and the decision.

use eframe::egui::{Grid, Ui};
use formulation::amount::typed;
use formulation::batch::record::{Change, Decision, Event, Point, Record, gate};
use formulation::finding::Level;
use formulation::formula::ItemId;

use super::{At, Form, RunPage, caution, checked};
use crate::sheets::make::{MOST_COUNTED, action, entered, field};
use crate::theme;
use crate::widgets::focus;

/// A point that is about to be accepted.
pub struct Accepting {
    point: Point,
    reason: String,
    /// Whether all others without a lot are accepted with it.
    others: bool,
    /// The reason has had the cursor.
    begun: bool,
}

/// Draws it.
pub fn ui(ui: &mut Ui, at: At<'_>, page: &mut RunPage) {
    let record = at.record;
    ui.add_space(theme::GAP);
    ui.label(theme::heading("Release"));
    points(ui, at, page);
    if record.opening().second_check {
        second_person(ui, at, page);
    }
    decision(ui, at, page);
    if matches!(record.decision(), Some((Decision::Release, _))) && record.in_house() > 0 {
        dispatch(ui, at, page);
    }
}

fn points(ui: &mut Ui, at: At<'_>, page: &mut RunPage) {
    checked::refresh(at, page);
    let evaluation = page.checked.as_ref().map(|c| c.evaluation().clone());
    let points = gate(at.record, evaluation.as_deref());
    let open = points.iter().filter(|p| p.accepted.is_none()).count();
    let words = match (open, points.len()) {
        (0, 0) => {
            "Nothing is open: lots, masses, steps, measurements and findings are as they should be"
                .to_owned()
        }
        (0, _) => "Every point is accepted".to_owned(),
        (1, _) => "1 point is open".to_owned(),
        _ => format!("{open} points are open"),
    };
    ui.label(theme::strong(words));
    let width = (ui.available_width() - 260.0).clamp(260.0, 760.0);
    Grid::new("points")
        .num_columns(2)
        .spacing([theme::GAP, theme::TIGHT])
        .striped(true)
        .show(ui, |ui| {
            for point in &points {
                ui.vertical(|ui| {
                    ui.set_width(width);
                    ui.label(point.sentence());
                    if let Some((who, why)) = &point.done_by {
                        ui.label(theme::small(ui, format!("done by {who}: {why}")));
                    }
                });
                if let Some((who, why)) = &point.accepted {
                    ui.vertical(|ui| {
                        ui.label(theme::small(ui, format!("accepted by {who}: {why}")));
                    });
                } else {
                    let accept = ui
                        .button("Accept…")
                        .accessible_name(format!("Accept with a reason: {}", point.sentence()));
                    if std::mem::take(&mut page.next_point) {
                        accept.request_focus();
                    }
                    if accept.clicked() {
                        page.point = Some(Accepting {
                            point: point.clone(),
                            reason: String::new(),
                            others: false,
                            begun: false,
                        });
                    }
                }
                ui.end_row();
                let here = |p: &Accepting| p.point.identity == point.identity;
                if page.point.as_ref().is_some_and(here) {
                    let alike: Vec<&Point> = points
                        .iter()
                        .filter(|p| p.without_lot && p.accepted.is_none())
                        .filter(|p| point.without_lot && p.identity != point.identity)
                        .collect();
                    ui.vertical(|ui| accepting(ui, at, page, &alike));
                    ui.label("");
                    ui.end_row();
                }
            }
        });
}

/// The reason for which a point, and perhaps others like it, is accepted.
fn accepting(ui: &mut Ui, at: At<'_>, page: &mut RunPage, alike: &[&Point]) {
    let Some(mut point) = page.point.take() else {
        return;
    };
    let form = Form::Point(point.point.identity.clone());
    let mut keep = true;
    ui.horizontal_wrapped(|ui| {
        let why = field(ui, "Why it is accepted", &mut point.reason, 280.0);
        // The click that brought it up would take the cursor away again.
        if ui.input(|input| input.pointer.any_click()) {
            ui.request_repaint();
        } else if !std::mem::replace(&mut point.begun, true) {
            why.request_focus();
        }
        if action(ui, "Accept the point").clicked() || entered(ui, &[why]) {
            let others = alike.iter().copied().filter(|_| point.others);
            let all = std::iter::once(&point.point).chain(others);
            let events = all.map(|p| p.accept(&point.reason)).collect();
            page.submit(at, form.clone(), events);
        }
        keep = !action(ui, "Leave it open").clicked();
    });
    if !alike.is_empty() {
        let others = match alike.len() {
            1 => "Accept the other one without a lot for the same reason".to_owned(),
            n => format!("Accept the {n} others without a lot for the same reason"),
        };
        ui.checkbox(&mut point.others, others);
    }
    page.problem_ui(ui, &form);
    if keep {
        page.point = Some(point);
    }
}

fn second_person(ui: &mut Ui, at: At<'_>, page: &mut RunPage) {
    let record = at.record;
    let unchecked: Vec<ItemId> = record
        .lines()
        .filter(|s| !s.actual.is_zero() && record.line_checked_by(s.line).is_none())
        .map(|s| s.line)
        .collect();
    let checked = |line: &ItemId| Event::Checked { line: Some(*line) };
    ui.horizontal_wrapped(|ui| {
        for line in &unchecked {
            let name = record.opening().name_of(*line);
            if ui.button(format!("Weighing of {name} checked")).clicked() {
                page.send(at, Form::Plain, checked(line));
            }
        }
        if unchecked.len() > 1
            && ui
                .button(format!("All {} weighings checked", unchecked.len()))
                .on_hover_text("Records a check of each that is not checked yet")
                .clicked()
        {
            let all = unchecked.iter().map(checked).collect();
            page.submit(at, Form::Plain, all);
        }
        match record.looked_through_by() {
            Some(who) => {
                ui.label(theme::small(ui, format!("looked through by {who}")));
            }
            None => {
                if ui.button("I looked through this record").clicked() {
                    page.send(at, Form::Plain, Event::Checked { line: None });
                }
            }
        }
    });
    page.problem_ui(ui, &Form::Plain);
}

/// The entry of the decision that stands.
fn decided(record: &Record) -> Option<u64> {
    let mut entries = record.entries().iter().rev();
    let standing = |n: u64| matches!(record.standing(n), Some((Event::Decided { .. }, false)));
    entries.find(|e| standing(e.number)).map(|e| e.number)
}

/// What stands against a release, the findings of the mix as it was weighed with it.
fn still_open(at: At<'_>, page: &RunPage) -> Vec<Point> {
    let evaluation = page.checked.as_ref().map(|c| c.evaluation().clone());
    let mut points = gate(at.record, evaluation.as_deref());
    points.retain(|p| p.accepted.is_none());
    points
}

fn decision(ui: &mut Ui, at: At<'_>, page: &mut RunPage) {
    let record = at.record;
    if let Some((decision, why)) = record.decision() {
        let words = if why.is_empty() {
            format!("The batch is {}", decision.label())
        } else {
            format!("The batch is {}: {why}", decision.label())
        };
        ui.label(theme::strong(words));
        if decision == Decision::Release && !still_open(at, page).is_empty() {
            caution(
                ui,
                Level::Breach,
                "Points were opened after the release; accept them, or change the decision",
            );
        }
    }
    ui.add_space(theme::TIGHT);
    ui.horizontal(|ui| {
        ui.label("The batch is");
        for decision in Decision::ALL {
            let choice = ui.radio_value(&mut page.decision, Some(decision), decision.label());
            if std::mem::take(&mut page.next_point) {
                choice.request_focus();
            }
        }
    });
    ui.horizontal_wrapped(|ui| {
        field(ui, "Reason", &mut page.reason, 280.0);
        let change = record.is_closed();
        let words = if change {
            "Change the decision"
        } else {
            "Decide"
        };
        if action(ui, words).clicked() {
            decide(at, page);
        }
        if !change
            && action(ui, "Close the record")
                .on_hover_text(
                    "Afterwards only dated corrections, acceptances, checks, dispatches, and what is measured or remarked later can be added",
                )
                .clicked()
        {
            page.send(at, Form::Decision, Event::Closed);
            if page.problem.is_none() {
                // The fields of an open record go, and with them the cursor.
                focus::enter(ui, "Batch");
            }
        }
    });
    page.problem_ui(ui, &Form::Decision);
}

fn decide(at: At<'_>, page: &mut RunPage) {
    let record = at.record;
    let Some(decision) = page.decision else {
        page.refuse(
            Form::Decision,
            "Choose first whether the batch is released, on hold or rejected",
        );
        return;
    };
    let event = Event::Decided {
        decision,
        reason: page.reason.trim().into(),
    };
    if !record.is_closed() {
        page.send(at, Form::Decision, event);
        return;
    }
    let Some(entry) = decided(record) else {
        page.refuse(Form::Decision, "There is no decision to change");
        return;
    };
    let change = Change::Instead(Box::new(event));
    if let Some(old) = record.value_of(entry, &change) {
        let amendment = Event::Amended {
            entry,
            change,
            old: old.into(),
            reason: page.reason.trim().into(),
        };
        page.send(at, Form::Decision, amendment);
    }
}

fn dispatch(ui: &mut Ui, at: At<'_>, page: &mut RunPage) {
    ui.horizontal_wrapped(|ui| {
        let [to, count] = &mut page.dispatch;
        field(ui, "Sent to", to, 200.0);
        field(ui, "Containers sent", count, 60.0);
        let (to, containers) = (
            to.trim().to_owned(),
            typed::count(count, "a number of containers", MOST_COUNTED),
        );
        if action(ui, "Record the dispatch").clicked() {
            match containers {
                Ok(containers) => {
                    let event = Event::Dispatched {
                        to: to.into(),
                        containers,
                        day: at.view.state.today(),
                    };
                    page.send(at, Form::Dispatch, event);
                }
                Err(why) => page.refuse(Form::Dispatch, why.to_string()),
            }
        }
        let words = format!("{} still here", at.record.in_house());
        ui.label(theme::small(ui, words));
    });
    page.problem_ui(ui, &Form::Dispatch);
}
