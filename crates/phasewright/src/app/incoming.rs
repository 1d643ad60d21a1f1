//! What comes in besides clicks: keys with a meaning everywhere, dropped files, the clipboard.

use eframe::egui;
use formulation::file::table::clipboard::{copied as lines_for_spreadsheets, looks_like_lines};
use formulation::finding::Level;

use crate::command::{Command, TABLE};
use crate::state::State;
use crate::widgets::entry;
use crate::words::counted;

/// Pushes the commands whose keys were pressed.
pub(super) fn shortcuts(ctx: &egui::Context, commands: &mut Vec<Command>) {
    // A text field has its own undo while one types in it.
    let typing = ctx.text_edit_focused() && !entry::at_rest(ctx);
    for entry in TABLE {
        let left_to_field = typing && matches!(entry.command, Command::Undo | Command::Redo);
        if let Some(shortcut) = entry.shortcut
            && !left_to_field
            && ctx.input_mut(|i| i.consume_shortcut(&shortcut))
        {
            commands.push(entry.command.clone());
        }
    }
}

/// Opens files dragged onto the window.
pub(super) fn dropped_files(ctx: &egui::Context, commands: &mut Vec<Command>) {
    let dropped = ctx.input(|i| i.raw.dropped_files.clone());
    for file in dropped {
        commands.push(Command::OpenPath(file.path().to_path_buf()));
    }
}

/// Lines of the formula to and from a spreadsheet, where no text is being typed.
pub(super) fn clipboard(ctx: &egui::Context, state: &State, commands: &mut Vec<Command>) {
    if ctx.text_edit_focused() {
        return;
    }
    let (mut copied, mut pasted) = (false, None);
    ctx.input(|input| {
        for event in &input.events {
            match event {
                egui::Event::Copy => copied = true,
                egui::Event::Paste(text) => pasted = Some(text.clone()),
                _ => {}
            }
        }
    });
    let document = state.current();
    if copied && document.variant().lines().next().is_some() {
        let text = lines_for_spreadsheets(document.formula(), document.variant(), &document.chosen);
        let lines = text.lines().count().saturating_sub(1);
        ctx.copy_text(text);
        commands.push(Command::ShowMessage(
            Level::Note,
            format!("{} copied for a spreadsheet", counted(lines, "line")),
        ));
    }
    if let Some(text) = pasted.filter(|text| looks_like_lines(text)) {
        commands.push(Command::PasteLines(text));
    }
}
