//! The sheet Side by side: two variants, line by line and bar by bar.

use eframe::egui;

use crate::command::Command;
use crate::state::View;
use crate::theme;

/// What the sheet keeps between frames.
#[derive(Default)]
pub struct SideBySideSheet {}

/// Draws the sheet.
pub fn ui(
    ui: &mut egui::Ui,
    view: &View<'_>,
    _sheet: &mut SideBySideSheet,
    _commands: &mut Vec<Command>,
) {
    ui.label(theme::heading(view.variant.name.to_string()));
}
