//! Questions to the person: which file, whether to save first.

use eframe::egui;
use formulation::finding::Level;

use crate::command::Command;
use crate::state::State;

/// The questions that are open.
pub struct Dialogs {
    native: bool,
}

impl Dialogs {
    /// No question yet. Without `native`, paths are typed.
    pub const fn new(native: bool) -> Self {
        Self { native }
    }

    /// Whether a question waits for its answer.
    pub const fn any_open(&self) -> bool {
        false
    }

    /// Takes answers of the system's own dialogs.
    pub fn poll(&mut self, _state: &mut State, _commands: &mut Vec<Command>) {}

    /// Draws the open questions.
    pub fn ui(&mut self, _ctx: &egui::Context, _state: &State, _commands: &mut Vec<Command>) {}

    /// Carries out a command that concerns files.
    pub fn apply(&mut self, _ctx: &egui::Context, state: &mut State, command: Command) {
        let _ = (self.native, command);
        state.say(Level::Note, "Files are being wired up");
    }
}
