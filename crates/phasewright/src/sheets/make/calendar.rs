//! The calendar of the workshop: what is due, and the log of what was done.

use eframe::egui::{Grid, Ui};
use formulation::amount::typed;
use formulation::batch::workshop::{Duty, DutyDone};
use formulation::due::DueState;
use formulation::file::calendar::calendar;
use formulation::finding::Level;

use super::{action, caution, field, push};
use crate::command::{BooksCommand, Command, Making};
use crate::state::View;
use crate::theme;
use crate::widgets::in_columns::in_columns;
use crate::widgets::refusal::outcome;

/// What the page keeps between frames.
#[derive(Default)]
pub struct CalendarPage {
    new: [String; 3],
    found: String,
    /// The duty that is being changed, with its thing, what is done and after how many days.
    changing: Option<(Duty, [String; 3])>,
}

/// Days ahead that are shown.
const AHEAD: u32 = 90;
/// Days ahead that are saved: 13 months, so that what is looked at after a year is among them.
const SAVED: u32 = 396;

/// Width from which the duties stand beside what is due, in points.
const BESIDE: f32 = 1400.0;

/// Draws the page.
pub fn ui(
    ui: &mut Ui,
    view: &View<'_>,
    page: &mut CalendarPage,
    by: &str,
    commands: &mut Vec<Command>,
) {
    let mut saved = None;
    in_columns(
        ui,
        BESIDE,
        |ui| saved = due(ui, view),
        |ui| duties(ui, view, page, by, commands),
    );
    commands.extend(saved);
}

/// What is due; the command that saves it, if it is asked for.
fn due(ui: &mut Ui, view: &View<'_>) -> Option<Command> {
    let today = view.state.today();
    let list = view.state.due(AHEAD);
    let mut saved = None;
    ui.label(theme::heading(format!(
        "What is due today, {today}, and in the {AHEAD} days after it"
    )));
    if list.is_empty() {
        ui.label("Nothing is due.");
    } else if ui
        .button("Save the calendar…")
        .on_hover_text("What is due within 13 months as iCalendar, for a phone or a desk")
        .clicked()
    {
        let (due, now) = (view.state.due(SAVED), (view.state.host.clock)());
        saved = Some(Command::Make(Making::new(
            "Save the calendar",
            "workshop.ics",
            move || Ok::<_, String>(calendar("Workshop", &due, now).into_bytes()),
        )));
    }
    Grid::new("due")
        .num_columns(4)
        .spacing([theme::GAP, theme::TIGHT])
        .striped(true)
        .show(ui, |ui| {
            for due in &list {
                let standing = due.standing(today);
                let colour = match standing {
                    DueState::Overdue => theme::palette(ui).level(Level::Breach),
                    DueState::Now => theme::palette(ui).level(Level::Caution),
                    DueState::ToCome => theme::palette(ui).faint_ink,
                };
                ui.label(due.day.to_string());
                ui.colored_label(colour, standing.label());
                ui.label(theme::strong(&due.what));
                ui.label(theme::small(ui, &due.more));
                ui.end_row();
            }
        });
    ui.add_space(theme::GAP);
    saved
}

fn duties(
    ui: &mut Ui,
    view: &View<'_>,
    page: &mut CalendarPage,
    by: &str,
    commands: &mut Vec<Command>,
) {
    let books = &view.state.books;
    let mut workshop = books.workshop().clone();
    let today = view.state.today();
    let mut changed = false;
    let mut remove = None;
    ui.label(theme::strong(
        "Scales, meters and vessels: what is done again and again",
    ));
    // Asked for where there is something to be done.
    if !workshop.duties.is_empty() {
        field(ui, "What was found, if anything", &mut page.found, 300.0);
    }
    for (place, duty) in workshop.duties.iter_mut().enumerate() {
        let asked = ui.push_id(place, |ui| duty_row(ui, duty, by)).inner;
        match asked {
            Some(Asked::Done) => {
                duty.done.push(DutyDone {
                    day: today,
                    by: by.trim().into(),
                    found: page.found.trim().into(),
                });
                changed = true;
                page.found.clear();
            }
            Some(Asked::Changed) => {
                let fields = [
                    duty.thing.to_string(),
                    duty.what.to_string(),
                    every(duty.every_days),
                ];
                page.changing = Some((duty.clone(), fields));
            }
            // What was done stays in the books.
            Some(Asked::Removed) if !duty.done.is_empty() => {
                duty.ended = Some(today);
                changed = true;
            }
            Some(Asked::Removed) => remove = Some(place),
            Some(Asked::TakenUp) => {
                duty.ended = None;
                changed = true;
            }
            None => {}
        }
        if page.changing.as_ref().is_some_and(|(of, _)| of == duty) {
            changed |= ui
                .push_id(("change", place), |ui| change(ui, duty, &mut page.changing))
                .inner;
        }
    }
    // It was changed, or another window did so.
    let known = &workshop.duties;
    page.changing.take_if(|(of, _)| !known.contains(of));
    if let Some(place) = remove {
        workshop.duties.remove(place);
        changed = true;
    }
    if workshop.duties.is_empty() {
        caution(
            ui,
            Level::Note,
            "For example a check of the scale with a test weight, the calibration of the pH meter, the cleaning of the kettle",
        );
    }
    if let Some(duty) = new_duty(ui, &mut page.new) {
        workshop.duties.push(duty);
        changed = true;
    }
    if changed {
        push(
            commands,
            BooksCommand::SetStock(Box::new((books.stock().clone(), workshop))),
        );
    }
}

/// What is asked for beside a duty.
enum Asked {
    Done,
    Changed,
    Removed,
    TakenUp,
}

/// A number of days as it is typed; nothing where it is done when needed.
fn every(days: u32) -> String {
    if days == 0 {
        String::new()
    } else {
        days.to_string()
    }
}

/// A duty with what was done of it; what is asked for.
fn duty_row(ui: &mut Ui, duty: &Duty, by: &str) -> Option<Asked> {
    let mut asked = None;
    let mut came = None;
    let of = format!("{}, {}", duty.thing, duty.what);
    ui.horizontal_wrapped(|ui| {
        ui.label(theme::strong(format!("{}: {}", duty.thing, duty.what)));
        if let Some(day) = duty.ended {
            ui.label(theme::small(ui, format!("not done any more since {day}")));
            let again = ui.small_button("Take up again");
            if again
                .accessible_name(format!("Take up again: {of}"))
                .clicked()
            {
                asked = Some(Asked::TakenUp);
            }
            return;
        }
        let every = match duty.every_days {
            0 => "when needed".to_owned(),
            1 => "every day".to_owned(),
            days => format!("every {days} days"),
        };
        ui.label(theme::small(ui, every));
        let done = ui
            .button("Done today")
            .on_hover_text(format!("Note that it was done today: {of}"))
            .accessible_name(format!("Done today: {of}"));
        if done.clicked() {
            came = Some(if by.trim().is_empty() {
                Err("Type your name above under “Done by” first".to_owned())
            } else {
                asked = Some(Asked::Done);
                Ok(())
            });
        }
        let change = ui.small_button("Change…");
        if change.accessible_name(format!("Change {of}…")).clicked() {
            asked = Some(Asked::Changed);
        }
        let remove = ui.small_button("Remove");
        let remove = remove.accessible_name(format!("Remove {}: {}", duty.thing, duty.what));
        let remove = if duty.done.is_empty() {
            remove
        } else {
            remove.on_hover_text("It is not due any more; what was done stays in the books")
        };
        if remove.clicked() {
            asked = Some(Asked::Removed);
        }
    });
    outcome(ui, "done today", &[by.to_owned()], came);
    if !duty.done.is_empty() {
        let times = match duty.done.len() {
            1 => "Done once".to_owned(),
            n => format!("Done {n} times"),
        };
        ui.collapsing(times, |ui| {
            for done in duty.done.iter().rev() {
                let mut words = format!("{} by {}", done.day, done.by);
                if !done.found.is_empty() {
                    words = format!("{words}: {}", done.found);
                }
                ui.label(words);
            }
        });
    }
    asked
}

/// The fields of a duty that is changed; whether it was. What was done was done to this thing,
/// so that only the days of such a duty can be changed.
fn change(ui: &mut Ui, duty: &mut Duty, changing: &mut Option<(Duty, [String; 3])>) -> bool {
    let Some((of, fields)) = changing else {
        return false;
    };
    let typed = fields.clone();
    let (mut came, mut left) = (None, false);
    ui.horizontal_wrapped(|ui| {
        let [thing, what, days] = fields;
        if of.done.is_empty() {
            field(ui, "Thing it is done to", thing, 160.0);
            field(ui, "What is done to it", what, 220.0);
        }
        field(
            ui,
            "Now every so many days, empty if when needed",
            days,
            100.0,
        );
        if action(ui, "Keep the change").clicked() {
            came = Some(read(&typed).map(|new| {
                *duty = Duty {
                    thing: new.thing,
                    what: new.what,
                    every_days: new.every_days,
                    ..duty.clone()
                };
            }));
        }
        left = action(ui, "Leave it as it is").clicked();
    });
    let kept = outcome(ui, "changed duty", &typed, came);
    if kept || left {
        *changing = None;
    }
    kept
}

/// A duty as typed: the thing, what is done to it, after how many days.
fn read([thing, what, days]: &[String; 3]) -> Result<Duty, String> {
    if thing.trim().is_empty() || what.trim().is_empty() {
        return Err("Name the thing and what is done to it".to_owned());
    }
    let every = typed::optional(days, |t| typed::count(t, "a number of days", 10_000));
    Ok(Duty {
        thing: thing.trim().into(),
        what: what.trim().into(),
        every_days: every.map_err(|error| error.to_string())?.unwrap_or(0),
        done: Vec::new(),
        ended: None,
    })
}

/// The fields of a duty that is not there yet; the duty, once it is added.
fn new_duty(ui: &mut Ui, fields: &mut [String; 3]) -> Option<Duty> {
    let mut added = None;
    let mut came = None;
    let typed = fields.clone();
    ui.horizontal_wrapped(|ui| {
        let [thing, what, days] = &mut *fields;
        field(ui, "Scale, meter or vessel", thing, 160.0);
        field(ui, "What is done", what, 220.0);
        field(ui, "Every so many days, empty if when needed", days, 100.0);
        if action(ui, "Add it").clicked() {
            came = Some(read(&typed).map(|duty| added = Some(duty)));
        }
    });
    if added.is_some() {
        *fields = Default::default();
    }
    outcome(ui, "new duty", &typed, came);
    added
}
