//! The variant worked on: choosing another, branching, naming, putting away, going
//! back to earlier states that the file keeps.

use eframe::egui::{self, Id, ScrollArea, Ui};
use formulation::edit::Edit;
use formulation::formula::VariantId;
use formulation::history;

use super::Aside;
use crate::command::Command;
use crate::state::View;
use crate::theme;
use crate::widgets::entry::Entry;
use crate::widgets::icon::{Icon, icon_button};
use crate::widgets::refusal::figure;

/// Draws the choice of the variant and what can be done with it.
pub fn ui(ui: &mut Ui, view: &View<'_>, aside: &mut Option<Aside>, commands: &mut Vec<Command>) {
    choice(ui, view, commands);
    let more = icon_button(ui, Icon::More, "More about this variant", true);
    Aside::Variants.toggle(&more, aside);
}

fn choice(ui: &mut Ui, view: &View<'_>, commands: &mut Vec<Command>) {
    ui.label(theme::small(ui, "Variant"));
    egui::ComboBox::from_id_salt("variant")
        .selected_text(view.variant.name.as_ref())
        .width(104.0)
        .truncate()
        .show_ui(ui, |ui| {
            for variant in view.formula.variants.iter().filter(|v| !v.archived) {
                ui.push_id(variant.id.0, |ui| {
                    let chosen = variant.id == view.variant.id;
                    let row = ui.selectable_label(chosen, variant.name.as_ref());
                    let row = if variant.note.is_empty() {
                        row
                    } else {
                        row.on_hover_text(variant.note.as_ref())
                    };
                    if row.clicked() && !chosen {
                        commands.push(edit_of(view, variant.id, Edit::MakeActive));
                    }
                });
            }
        })
        .response
        .accessible_name("Variant")
        .on_hover_text("The variant that is worked on");
}

fn edit_of(view: &View<'_>, variant: VariantId, edit: Edit) -> Command {
    Command::EditIn {
        document: view.document.id,
        variant,
        edit,
        draft: false,
    }
}

/// What can be done with the variant, and its earlier states.
pub fn panel(ui: &mut Ui, view: &View<'_>, commands: &mut Vec<Command>) {
    let variant = view.variant;
    let id = |what: &str| Id::unique((what.to_owned(), view.document.id, variant.id));
    let copied: Option<VariantId> = ui.data(|d| d.get_temp(to_be_named()));
    if copied.is_some_and(|copied| copied != variant.id) {
        ui.data_mut(|d| d.remove::<VariantId>(to_be_named()));
        ui.memory_mut(|m| m.request_focus(id("Variant name")));
    }
    ui.label(theme::strong("Variant"));
    ui.horizontal(|ui| {
        theme::caption(ui, 90.0, "Variant name");
        // Half a name may be that of another variant; it is handed over when it is complete.
        let entry = Entry::new(id("Variant name"), &variant.name, "Variant name")
            .width(ui.available_width());
        let rename = |name: &str| view.tried(Edit::RenameVariant(name.trim().into()));
        commands.extend(figure(ui, entry, rename).read.map(Command::Edit));
    });
    ui.horizontal(|ui| {
        theme::caption(ui, 90.0, "Variant note");
        let entry = Entry::new(id("Variant note"), &variant.note, "Variant note")
            .width(ui.available_width())
            .words();
        if let Some(note) = entry.show(ui).done {
            commands.push(Command::Edit(Edit::SetVariantNote(note.trim().into())));
        }
    });
    if let Some(parent) = variant.parent.and_then(|id| view.formula.variant(id)) {
        ui.label(theme::small(ui, format!("Copied from “{}”", parent.name)));
    }
    ui.horizontal(|ui| {
        if theme::main_button(ui, "New variant from this")
            .on_hover_text("Copy this variant and go on with the copy")
            .clicked()
        {
            commands.push(Command::Edit(Edit::Branch {
                name: next_name(view).into(),
                note: "".into(),
                created: Some(view.state.today()),
            }));
            // It is likely to get a name of its own.
            ui.data_mut(|d| d.insert_temp(to_be_named(), variant.id));
        }
        let others = view
            .formula
            .variants
            .iter()
            .find(|v| v.id != variant.id && !v.archived);
        let put_away = ui
            .add_enabled(others.is_some(), egui::Button::new("No longer used"))
            .on_hover_text("Leaves it out of the choice; it stays in the file");
        if let (true, Some(other)) = (put_away.clicked(), others) {
            commands.push(Command::Edit(Edit::SetArchived(true)));
            commands.push(edit_of(view, other.id, Edit::MakeActive));
        }
    });
    let away: Vec<_> = view
        .formula
        .variants
        .iter()
        .filter(|v| v.archived)
        .collect();
    if !away.is_empty() {
        ui.label(theme::small(ui, "No longer used"));
        for variant in away {
            ui.push_id(variant.id.0, |ui| {
                ui.horizontal(|ui| {
                    let take = ui
                        .button("Use again")
                        .accessible_name(format!("Use {} again", variant.name));
                    if take.clicked() {
                        commands.push(edit_of(view, variant.id, Edit::SetArchived(false)));
                    }
                    ui.label(variant.name.as_ref());
                });
            });
        }
    }
    earlier(ui, view, commands);
}

/// Where the variant is kept from which another was just made, which gets the cursor in its name.
fn to_be_named() -> Id {
    Id::unique("variant that was copied")
}

/// A name for a branch that no variant has yet.
fn next_name(view: &View<'_>) -> String {
    let taken = |name: &str| {
        view.formula
            .variants
            .iter()
            .any(|v| v.name.as_ref() == name)
    };
    // One more number than there are variants: one of them is free.
    (2..view.formula.variants.len() + 3)
        .map(|n| format!("{} {n}", view.variant.name))
        .find(|name| !taken(name))
        .unwrap_or_default()
}

/// Earlier states that the file keeps, the latest first.
fn earlier(ui: &mut Ui, view: &View<'_>, commands: &mut Vec<Command>) {
    let kept: Vec<_> = history::of_variant(view.formula, view.variant.id).collect();
    if kept.is_empty() {
        return;
    }
    ui.separator();
    ui.label(theme::strong(format!("Earlier states: {}", kept.len())));
    ScrollArea::vertical()
        .max_height(180.0)
        .auto_shrink([false, true])
        .show_rows(ui, theme::FIELD, kept.len(), |ui, rows| {
            for (place, state) in kept.get(rows).unwrap_or_default() {
                ui.push_id(place, |ui| {
                    ui.horizontal(|ui| {
                        let back = ui
                            .button("Go back")
                            .accessible_name(format!("Go back to before: {}", state.what));
                        if back.clicked() {
                            commands.push(Command::Edit(Edit::Restore(*place)));
                        }
                        let words = format!(
                            "{}, before: {}",
                            view.state.host.short_time(&state.at),
                            state.what
                        );
                        ui.add(egui::Label::new(words).truncate());
                    });
                });
            }
        });
}
