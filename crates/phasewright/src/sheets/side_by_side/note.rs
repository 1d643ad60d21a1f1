//! The change note: written from the differences, then the maker's to edit.

use eframe::egui::{self, ScrollArea, TextEdit, Ui};
use formulation::compare::note::change_note;
use formulation::edit::Edit;

use super::kept_figures::KeptFigures;
use super::{Key, Two, effect};
use crate::command::{Command, Export};
use crate::state::disk::file_stem;
use crate::theme;

/// What the note keeps between frames.
#[derive(Default)]
pub struct NoteState {
    /// The note as written, for what it was written, and as edited.
    text: Option<((Key, u64), String, String)>,
}

/// Draws the note.
pub fn ui(ui: &mut Ui, state: &mut NoteState, two: &Two<'_>, commands: &mut Vec<Command>) {
    let key = (
        (
            two.left.pick,
            two.left.document.revision(),
            two.right.pick,
            two.right.document.revision(),
        ),
        two.stock_revision,
    );
    let edited = state
        .text
        .as_ref()
        .is_some_and(|(_, written, now)| written != now);
    let fits = state.text.as_ref().is_some_and(|(k, ..)| *k == key);
    if !fits && !edited {
        state.text = Some(fresh(two, key));
    }
    ui.horizontal(|ui| {
        if ui.button("Copy").clicked()
            && let Some((_, _, text)) = &state.text
        {
            ui.copy_text(text.clone());
        }
        if ui.button("Save as text…").clicked()
            && let Some((_, _, text)) = &state.text
        {
            commands.push(Command::Export(Export {
                title: "Save the change note".to_owned(),
                file_name: format!("{}-change.txt", file_stem(two.right.document.name())),
                bytes: text.as_bytes().into(),
            }));
        }
        let into = ui
            .add_enabled(
                two.right.editable(),
                egui::Button::new("Put into the note of the right variant"),
            )
            .on_hover_text("Adds it to the variant's own note, which is kept in the file");
        if into.clicked()
            && let Some((_, _, text)) = &state.text
        {
            let old = &two.right.variant.note;
            let note = if old.is_empty() {
                text.clone()
            } else {
                format!("{old}\n\n{text}")
            };
            commands.push(two.right.edit(Edit::SetVariantNote(note.into()), false));
        }
        if !fits && edited {
            ui.label(theme::small(ui, "The variants have changed since"));
        }
        if (edited || !fits) && ui.button("Write anew").clicked() {
            state.text = Some(fresh(two, key));
        }
    });
    ui.add_space(theme::TIGHT);
    ScrollArea::vertical()
        .id_salt("note")
        .auto_shrink([false, false])
        .show(ui, |ui| {
            if let Some((_, _, text)) = &mut state.text {
                let rows = (ui.available_height() / 19.0) as usize;
                let field = TextEdit::multiline(text)
                    .desired_width(f32::INFINITY)
                    .desired_rows(rows.max(8));
                ui.add(field).widget_info(|| {
                    egui::WidgetInfo::labeled(egui::Role::MultilineTextInput, true, "Change note")
                });
            }
        });
}

fn fresh(two: &Two<'_>, key: (Key, u64)) -> ((Key, u64), String, String) {
    let [left, right] = effect::figures_of(two, &mut KeptFigures::default());
    let text = change_note(
        two.left.compared(),
        two.right.compared(),
        &two.comparison,
        (&left, &right),
    );
    (key, text.clone(), text)
}
