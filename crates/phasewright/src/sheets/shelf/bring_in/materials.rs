//! Materials offered, each against the shelf.

use eframe::egui::{self, ScrollArea, Ui};
use formulation::file::exchange::{OfferedMaterial, Resolve, edits};
use formulation::own_shelf::ShelfEdit;

use super::super::capital;
use crate::command::Command;
use crate::state::View;
use crate::theme;

/// Draws materials offered against the shelf; whether they were taken in.
pub(super) fn ui(
    ui: &mut Ui,
    view: &View<'_>,
    differences: &mut [(OfferedMaterial, Resolve)],
    commands: &mut Vec<Command>,
) -> bool {
    if differences.is_empty() {
        ui.label("The shelf has all of it already; nothing would change");
        return false;
    }
    let mut done = false;
    ui.horizontal_wrapped(|ui| {
        let new = differences
            .iter()
            .filter(|(d, _)| d.present.is_none())
            .count();
        let differing = differences.len() - new;
        if theme::main_button(ui, "Take over as chosen").clicked() {
            let all: Vec<ShelfEdit> = differences
                .iter()
                .flat_map(|(difference, choice)| edits(difference, *choice, view.state.shelf()))
                .collect();
            commands.push(Command::EditShelf(all));
            done = true;
        }
        ui.label(theme::small(
            ui,
            format!("{new} new, {differing} that differ from yours"),
        ));
    });
    ScrollArea::vertical()
        .id_salt("differences")
        .auto_shrink(false)
        .show(ui, |ui| {
            for (difference, choice) in differences {
                ui.push_id(difference.offered.id.as_str(), |ui| {
                    ui.horizontal_wrapped(|ui| {
                        ui.label(theme::strong(difference.offered.name.as_ref()));
                        let all: &[Resolve] = if difference.present.is_none() {
                            &[Resolve::Take, Resolve::Keep]
                        } else {
                            &Resolve::ALL
                        };
                        for one in all {
                            let word = match (one, &difference.present) {
                                (Resolve::Take, None) => "Take it",
                                (Resolve::Keep, None) => "Leave it",
                                _ => one.label(),
                            };
                            ui.selectable_value(choice, *one, capital(word));
                        }
                    });
                    for change in &difference.changes {
                        ui.add(
                            egui::Label::new(theme::small(
                                ui,
                                format!("{}: {} → {}", change.field, change.before, change.after),
                            ))
                            .wrap(),
                        );
                    }
                });
            }
        });
    done
}
