//! The notice that materials carried in the file differ from the shelf.

use std::collections::BTreeMap;
use std::sync::Arc;

use eframe::egui::{self, Ui};
use formulation::edit::Edit;
use formulation::finding::Level;
use formulation::material::{Material, MaterialId};
use formulation::material_change::{MaterialChange, differing_from_shelf};
use formulation::shelf::Shelf;

use super::Aside;
use crate::command::Command;
use crate::state::{DocumentId, View};
use crate::theme;
use crate::widgets::level_mark::level_mark;

/// The differences of one state of the document from one state of the shelf.
#[derive(Default)]
pub struct Carried {
    of: Option<(DocumentId, u64, Arc<Shelf>)>,
    differences: BTreeMap<MaterialId, Vec<MaterialChange>>,
}

impl Carried {
    fn refresh(&mut self, view: &View<'_>) {
        // While one drags, materials do not change.
        if view.document.has_draft() {
            return;
        }
        let shelf = view.state.shelf();
        let fresh = self.of.as_ref().is_some_and(|(id, revision, of)| {
            *id == view.document.id
                && *revision == view.document.revision()
                && Arc::ptr_eq(of, shelf)
        });
        if !fresh {
            self.differences = differing_from_shelf(view.formula, shelf);
            self.of = Some((view.document.id, view.document.revision(), shelf.clone()));
        }
    }
}

/// Draws the notice where there is something to tell.
pub fn ui(ui: &mut Ui, view: &View<'_>, carried: &mut Carried, aside: &mut Option<Aside>) {
    carried.refresh(view);
    let differences = &carried.differences;
    if differences.is_empty() {
        return;
    }
    ui.horizontal(|ui| {
        level_mark(ui, Level::Note);
        let words = match differences.len() {
            1 => "1 material in this file differs from your shelf".to_owned(),
            n => format!("{n} materials in this file differ from your shelf"),
        };
        ui.label(words);
        Aside::Carried.toggle(&ui.button("Show"), aside);
    });
}

/// What differs, material by material.
pub fn panel(ui: &mut Ui, view: &View<'_>, carried: &Carried, commands: &mut Vec<Command>) {
    let differences = &carried.differences;
    if differences.is_empty() {
        ui.label("Every material in this file is as on your shelf");
        return;
    }
    let on_shelf =
        |id: &MaterialId| -> Option<Arc<Material>> { view.state.shelf().get(id).cloned() };
    if theme::main_button(ui, "Take all over from the shelf").clicked() {
        let edits = differences
            .keys()
            .filter_map(on_shelf)
            .map(Edit::TakeOverMaterial)
            .collect();
        commands.push(Command::EditAll {
            what: "Take materials over from the shelf".into(),
            edits,
        });
    }
    for (id, changes) in differences {
        let Some(material) = on_shelf(id) else {
            continue;
        };
        ui.push_id(id.as_str(), |ui| {
            ui.separator();
            ui.horizontal(|ui| {
                ui.label(theme::strong(material.name.as_ref()));
                ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                    let take = ui
                        .button("Take over")
                        .accessible_name(format!("Take over {}", material.name));
                    if take.clicked() {
                        commands.push(Command::Edit(Edit::TakeOverMaterial(material.clone())));
                    }
                });
            });
            for change in changes {
                let words = format!("{}: {} → {}", change.field, change.before, change.after);
                ui.add(egui::Label::new(theme::small(ui, words)).wrap());
            }
        });
    }
}
