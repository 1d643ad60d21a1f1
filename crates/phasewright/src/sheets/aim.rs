//! The sheet Aim: what the formula must reach, and the percentages that reach it.

use eframe::egui;

use crate::command::Command;
use crate::state::View;
use crate::theme;

/// What the sheet keeps between frames.
#[derive(Default)]
pub struct AimSheet {}

/// Draws the sheet.
pub fn ui(ui: &mut egui::Ui, view: &View<'_>, _sheet: &mut AimSheet, _commands: &mut Vec<Command>) {
    ui.label(theme::heading(view.variant.name.to_string()));
}
