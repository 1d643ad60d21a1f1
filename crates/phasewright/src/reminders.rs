//! What waits for the maker, told below the bar at the start of the program.

use eframe::egui::{self, ScrollArea, Ui};

use crate::command::Command;
use crate::state::View;
use crate::state::reminders::Waiting;
use crate::theme;
use crate::widgets::at_right::with_right;
use crate::widgets::icon::{Icon, icon_button};

/// The greatest height of the list, in points.
const HEIGHT: f32 = 100.0;

const fn action(of: &Waiting) -> (&'static str, &'static str) {
    match of {
        Waiting::Batch(_) => ("Go on", "Open this batch at the bench"),
        Waiting::Workshop => ("Show", "Open the calendar of the workshop"),
        Waiting::Samples(_) => ("Open", "Open this formula with its trials"),
        Waiting::OneProduct(_) => (
            "Make it a product of its own",
            "The file just opened; costs and habits begin as they are for both, batches made before stay with the other",
        ),
    }
}

/// Draws the list.
pub fn ui(ui: &mut Ui, view: &View<'_>, commands: &mut Vec<Command>) {
    ScrollArea::vertical()
        .id_salt("reminders")
        .max_height(HEIGHT)
        .show(ui, |ui| {
            for reminder in &view.state.reminders {
                ui.horizontal(|ui| {
                    ui.set_min_height(theme::FIELD);
                    let told = |ui: &mut Ui| {
                        ui.add(egui::Label::new(&reminder.words).truncate())
                            .on_hover_text(&reminder.words);
                    };
                    with_right(ui, &reminder.words, told, |ui| {
                        let (words, hover) = action(&reminder.of);
                        let button = ui
                            .button(words)
                            .accessible_name(format!("{words}: {}", reminder.words))
                            .on_hover_text(hover);
                        if button.clicked() {
                            commands.push(Command::AttendTo(reminder.of.clone()));
                        }
                        let later = format!("Not now: {}", reminder.words);
                        if icon_button(ui, Icon::Cross, &later, true).clicked() {
                            commands.push(Command::PutOff(reminder.of.clone()));
                        }
                    });
                });
            }
        });
}
