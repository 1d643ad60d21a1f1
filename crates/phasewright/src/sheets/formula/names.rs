//! The formula's name, author and notes.

use std::sync::Arc;

use eframe::egui::{self, Id, Ui};
use formulation::edit::Edit;

use super::Aside;
use crate::command::Command;
use crate::state::View;
use crate::theme;
use crate::widgets::entry::Entry;
use crate::widgets::refusal::figure;

/// The name of the formula, to be typed over.
pub fn title(ui: &mut Ui, view: &View<'_>, commands: &mut Vec<Command>) {
    let id = Id::unique(("title", view.document.id));
    // The name has all the room that the rest of its row leaves.
    let width = (ui.available_width() - 330.0).clamp(110.0, 520.0);
    let entry = Entry::new(id, &view.formula.name, "Name of the formula")
        .font(egui::TextStyle::Heading)
        .width(width)
        .hint("Name of the formula")
        .words()
        .quiet();
    let entry = figure(ui, entry, |name| {
        view.tried(Edit::Rename(name.trim().into()))
    });
    entry.response.on_hover_text(view.formula.name.as_ref());
    commands.extend(entry.read.map(Command::Edit));
}

/// A button that opens author and notes at the side.
pub fn button(ui: &mut Ui, aside: &mut Option<Aside>) {
    Aside::Notes.toggle(
        &theme::chip(ui, "Notes", *aside == Some(Aside::Notes))
            .accessible_name("Name, author and notes")
            .on_hover_text("Name, author and notes of the formula"),
        aside,
    );
}

/// Name, author and notes.
pub fn panel(ui: &mut Ui, view: &View<'_>, commands: &mut Vec<Command>) {
    let formula = view.formula;
    let id = |what: &str| Id::unique((what.to_owned(), view.document.id));
    let mut field = |ui: &mut Ui, words: &str, shown: &str, edit: fn(Arc<str>) -> Edit| {
        ui.horizontal(|ui| {
            theme::caption(ui, 100.0, words);
            let entry = Entry::new(id(words), shown, words)
                .width(ui.available_width())
                .words();
            let entry = figure(ui, entry, |text| view.tried(edit(text.trim().into())));
            commands.extend(entry.read.map(Command::Edit));
        });
    };
    field(ui, "Formula name", &formula.name, Edit::Rename);
    field(ui, "Author", &formula.author, Edit::SetAuthor);
    ui.label("Notes");
    let notes = Entry::new(id("notes"), &formula.notes, "Notes")
        .width(f32::INFINITY)
        .lines(8)
        .show(ui);
    if let Some(notes) = notes.done {
        commands.push(Command::Edit(Edit::SetNotes(notes.into())));
    }
}
