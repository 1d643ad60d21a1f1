//! The sheets of the window, one module each.
//!
//! # The contract
//!
//! A sheet is a small state struct, made with `Default` and kept in [`Sheets`], and
//! a function
//!
//! ```ignore
//! pub fn ui(ui: &mut egui::Ui, view: &View<'_>, sheet: &mut MySheet, commands: &mut Vec<Command>)
//! ```
//!
//! - It reads the [`View`]: the document, the variant worked on, its evaluation
//!   (computed once for each revision), the shelf, the other open documents. For
//!   other variants it asks [`State::evaluation`](crate::state::State::evaluation).
//! - It never changes the document; it pushes [`Command`]s, which are applied after
//!   the frame. [`Command::Edit`] is one step of the history. While something is
//!   dragged it pushes [`Command::Draft`], each applied to the formula as it was before
//!   the drag, and
//!   [`Command::KeepDraft`] once the drag has ended.
//! - It computes nothing of the trade: every figure comes from the model. What is
//!   costly is kept in the sheet's struct and recomputed when
//!   [`Document::revision`](crate::state::Document::revision) changes.
//! - Files: [`Command::Export`] saves bytes where the person says, [`Command::Pick`]
//!   asks for a file, whose path comes back with [`View::picked`].
//! - Ids of rows come from the item's own id (`ui.push_id(line.id.0, …)`), never from
//!   its position.
//! - Every input has an accessible name: `response.accessible_name("…")`, or
//!   `labelled_by`.
//! - Colours and spacing come from [`crate::theme`] alone. A sheet gets the whole
//!   space between the bars, scrolls by itself, and works from 1000 × 640 points up.

pub mod aim;
pub mod formula;
pub mod label;
pub mod make;
pub mod shelf;
pub mod side_by_side;
pub mod trials;

use eframe::egui;

use crate::command::Command;
pub use crate::sheet_name::SheetName;
use crate::state::View;

/// What every sheet keeps between frames.
#[derive(Default)]
pub struct Sheets {
    /// The Formula sheet.
    pub formula: formula::FormulaSheet,
    /// The sheet Side by side.
    pub side_by_side: side_by_side::SideBySideSheet,
    /// The Aim sheet.
    pub aim: aim::AimSheet,
    /// The Make sheet.
    pub make: make::MakeSheet,
    /// The Label sheet.
    pub label: label::LabelSheet,
    /// The Shelf sheet.
    pub shelf: shelf::ShelfSheet,
    /// The sheet Trials.
    pub trials: trials::TrialsSheet,
}

impl Sheets {
    /// Forgets what a sheet kept, because it could not be drawn with it.
    pub fn begin_anew(&mut self, name: SheetName) {
        match name {
            SheetName::Formula => self.formula = formula::FormulaSheet::default(),
            SheetName::SideBySide => self.side_by_side = side_by_side::SideBySideSheet::default(),
            SheetName::Aim => self.aim = aim::AimSheet::default(),
            SheetName::Make => self.make = make::MakeSheet::default(),
            SheetName::Label => self.label = label::LabelSheet::default(),
            SheetName::Shelf => self.shelf = shelf::ShelfSheet::default(),
            SheetName::Trials => self.trials = trials::TrialsSheet::default(),
        }
    }

    /// Draws the sheet that is shown.
    pub fn ui(
        &mut self,
        name: SheetName,
        ui: &mut egui::Ui,
        view: &View<'_>,
        commands: &mut Vec<Command>,
    ) {
        match name {
            SheetName::Formula => formula::ui(ui, view, &mut self.formula, commands),
            SheetName::SideBySide => {
                side_by_side::ui(ui, view, &mut self.side_by_side, commands);
            }
            SheetName::Aim => aim::ui(ui, view, &mut self.aim, commands),
            SheetName::Make => make::ui(ui, view, &mut self.make, commands),
            SheetName::Label => label::ui(ui, view, &mut self.label, commands),
            SheetName::Shelf => shelf::ui(ui, view, &mut self.shelf, commands),
            SheetName::Trials => trials::ui(ui, view, &mut self.trials, commands),
        }
    }
}
