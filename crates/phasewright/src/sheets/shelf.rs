//! The sheet Shelf: the maker's raw materials.

use eframe::egui;

use crate::command::Command;
use crate::state::View;
use crate::theme;

/// What the sheet keeps between frames.
#[derive(Default)]
pub struct ShelfSheet {}

/// Draws the sheet.
pub fn ui(
    ui: &mut egui::Ui,
    view: &View<'_>,
    _sheet: &mut ShelfSheet,
    _commands: &mut Vec<Command>,
) {
    ui.label(theme::heading(view.variant.name.to_string()));
}
