//! The sheet Label: ingredient list and label text per market.

use eframe::egui;

use crate::command::Command;
use crate::state::View;
use crate::theme;

/// What the sheet keeps between frames.
#[derive(Default)]
pub struct LabelSheet {}

/// Draws the sheet.
pub fn ui(
    ui: &mut egui::Ui,
    view: &View<'_>,
    _sheet: &mut LabelSheet,
    _commands: &mut Vec<Command>,
) {
    ui.label(theme::heading(view.variant.name.to_string()));
}
