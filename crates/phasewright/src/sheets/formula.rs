//! The sheet Formula: phases, lines and percentages with the live chart.

use eframe::egui;

use crate::command::Command;
use crate::state::View;
use crate::theme;

/// What the sheet keeps between frames.
#[derive(Default)]
pub struct FormulaSheet {}

/// Draws the sheet.
pub fn ui(
    ui: &mut egui::Ui,
    view: &View<'_>,
    _sheet: &mut FormulaSheet,
    _commands: &mut Vec<Command>,
) {
    ui.label(theme::heading(view.variant.name.to_string()));
}
