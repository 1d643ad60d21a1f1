//! The formula's name, author and notes.

use eframe::egui::{Id, Popup, PopupCloseBehavior, Ui};
use formulation::edit::Edit;

use crate::command::Command;
use crate::state::View;
use crate::theme;
use crate::widgets::entry::Entry;

/// A button that opens name, author and notes.
pub fn button(ui: &mut Ui, view: &View<'_>, commands: &mut Vec<Command>) {
    let response = ui
        .button("Notes…")
        .accessible_name("Name, author and notes")
        .on_hover_text("Name, author and notes of the formula");
    Popup::from_toggle_button_response(&response)
        .close_behavior(PopupCloseBehavior::CloseOnClickOutside)
        .width(420.0)
        .show(|ui| {
            ui.set_width(420.0);
            ui.spacing_mut().item_spacing.y = theme::TIGHT;
            fields(ui, view, commands);
        });
}

fn fields(ui: &mut Ui, view: &View<'_>, commands: &mut Vec<Command>) {
    let formula = view.formula;
    let id = |what: &str| Id::unique((what.to_owned(), view.document.id));
    let field = |ui: &mut Ui, words: &str, shown: &str| {
        let mut done = None;
        ui.horizontal(|ui| {
            theme::caption(ui, 100.0, words);
            done = Entry::new(id(words), shown, words)
                .width(ui.available_width())
                .show(ui)
                .done;
        });
        done
    };
    if let Some(name) = field(ui, "Formula name", &formula.name) {
        commands.push(Command::Edit(Edit::Rename(name.trim().into())));
    }
    if let Some(author) = field(ui, "Author", &formula.author) {
        commands.push(Command::Edit(Edit::SetAuthor(author.trim().into())));
    }
    ui.label("Notes");
    let notes = Entry::new(id("notes"), &formula.notes, "Notes")
        .width(f32::INFINITY)
        .lines(8)
        .show(ui);
    if let Some(notes) = notes.done {
        commands.push(Command::Edit(Edit::SetNotes(notes.into())));
    }
}
