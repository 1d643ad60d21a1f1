//! The sheet Shelf: the maker's raw materials, found, looked at, added and changed;
//! recipes, price lists and other shelves taken in.

mod bring_in;
mod details;
mod editor;
mod filters;
mod list;
mod lots;
mod usage;

use eframe::egui::{self, Panel, ScrollArea, Ui};
use formulation::file::exchange::{Resolve, settle};
use formulation::finding::Level;
use formulation::material::MaterialId;

use crate::command::Command;
use crate::state::View;
use crate::theme;
use crate::widgets::focus::region;
use crate::widgets::level_mark::level_mark;
use crate::widgets::modal::is_left;

use bring_in::BringIn;
use details::Details;
use editor::Editor;
use list::MaterialList;
use usage::SavedFormulas;

/// Width of the panel at the right, in points.
const PANEL: f32 = 400.0;
/// Its width while it has nothing to show, in points.
const IDLE_PANEL: f32 = 220.0;

/// What the panel at the right shows.
#[derive(Default)]
enum Side {
    /// The chosen material.
    #[default]
    Details,
    /// The form of a new or changed material.
    Editor(Box<Editor>),
}

/// What the sheet keeps between frames.
#[derive(Default)]
pub struct ShelfSheet {
    list: MaterialList,
    chosen: Option<MaterialId>,
    side: Side,
    details: Details,
    bring_in: Option<Box<BringIn>>,
    formulas: SavedFormulas,
    folder: String,
    folder_asked: bool,
}

impl ShelfSheet {
    /// Begins to bring something in: a file, or what is asked for.
    pub fn bring_in(&mut self, path: Option<std::path::PathBuf>) {
        self.bring_in = Some(Box::new(
            path.map_or_else(BringIn::default, BringIn::of_file),
        ));
    }

    /// Begins to bring in pasted text.
    pub fn bring_in_text(&mut self, text: String) {
        self.bring_in = Some(Box::new(BringIn::of_text(text)));
    }
}

/// What a part of the sheet asks of the sheet.
enum Ask {
    Edit(Box<Editor>),
    StopEditing,
    Choose(MaterialId),
    BringIn,
    StopBringingIn,
    Folder,
}

/// Draws the sheet.
pub fn ui(ui: &mut Ui, view: &View<'_>, sheet: &mut ShelfSheet, commands: &mut Vec<Command>) {
    sheet.formulas.look(ui, view);
    let mut asked = Vec::new();
    conflicts(ui, view, commands);
    if let Some(bring_in) = &mut sheet.bring_in {
        region(ui, "Bring in", |ui| {
            bring_in.ui(ui, view, &mut asked, commands);
        });
    } else {
        // As long as nothing is chosen, the list has the room.
        let idle = sheet.chosen.is_none() && matches!(sheet.side, Side::Details);
        let wanted = if idle {
            IDLE_PANEL
        } else {
            // In a wide window what is long is not wrapped.
            PANEL.max(ui.available_width() * 0.3)
        };
        let width = wanted.min(ui.available_width() * 0.46);
        // It takes its place first and is filled after the list, as one reads.
        let place = Panel::right("shelf panel")
            .exact_size(width)
            .frame(egui::Frame::new().inner_margin(egui::Margin {
                left: 12,
                ..egui::Margin::ZERO
            }))
            .show(ui, |ui| ui.max_rect())
            .inner;
        let frame = egui::Frame::new().inner_margin(egui::Margin {
            right: 8,
            ..egui::Margin::ZERO
        });
        egui::CentralPanel::default().frame(frame).show(ui, |ui| {
            region(ui, "Materials", |ui| {
                list::ui(
                    ui,
                    view,
                    &mut sheet.list,
                    sheet.chosen.as_ref(),
                    &sheet.formulas,
                    &mut asked,
                    commands,
                );
            });
        });
        ui.scope_builder(egui::UiBuilder::new().max_rect(place), |ui| {
            region(ui, "One material", |ui| {
                side(ui, view, sheet, &mut asked, commands);
            });
        });
    }
    folder_question(ui, view, sheet, commands);
    for ask in asked {
        match ask {
            Ask::Edit(editor) => sheet.side = Side::Editor(editor),
            Ask::StopEditing => sheet.side = Side::Details,
            Ask::Choose(id) => {
                sheet.list.show(id.clone());
                sheet.chosen = Some(id);
                sheet.side = Side::Details;
            }
            Ask::BringIn => sheet.bring_in = Some(Box::default()),
            Ask::StopBringingIn => sheet.bring_in = None,
            Ask::Folder => {
                sheet.folder = view
                    .state
                    .makers_shelf()
                    .folder()
                    .map(|f| f.path().display().to_string())
                    .unwrap_or_default();
                sheet.folder_asked = true;
            }
        }
    }
}

fn side(
    ui: &mut Ui,
    view: &View<'_>,
    sheet: &mut ShelfSheet,
    asked: &mut Vec<Ask>,
    commands: &mut Vec<Command>,
) {
    match &mut sheet.side {
        Side::Editor(editor) => editor.ui(ui, view, &sheet.formulas, asked, commands),
        Side::Details => {
            ScrollArea::vertical()
                .id_salt("shelf details")
                .auto_shrink(false)
                .show(ui, |ui| {
                    let chosen = sheet.chosen.as_ref().and_then(|id| view.state.shelf().get(id));
                    match chosen {
                        Some(material) => details::ui(
                            ui,
                            view,
                            &mut sheet.details,
                            material,
                            &sheet.formulas,
                            asked,
                            commands,
                        ),
                        None => {
                            ui.add(
                                egui::Label::new(theme::small(
                                    ui,
                                    "Choose a material to see what it contains and where that is from",
                                ))
                                .wrap(),
                            );
                        }
                    }
                });
        }
    }
}

/// What this window and another one changed at the same time.
fn conflicts(ui: &mut Ui, view: &View<'_>, commands: &mut Vec<Command>) {
    if let Some(why) = view.state.makers_shelf().locked() {
        ui.horizontal_wrapped(|ui| {
            level_mark(ui, Level::Breach);
            ui.add(
                egui::Label::new(format!(
                    "Your shelf could not be read, so nothing is written to it: {why}"
                ))
                .wrap(),
            );
        });
    }
    for conflict in view.state.makers_shelf().conflicts() {
        let lot = conflict.lot().map_or("", |lot| lot.as_str());
        ui.push_id((conflict.material.as_str(), lot), |ui| {
            ui.horizontal_wrapped(|ui| {
                level_mark(ui, Level::Caution);
                let name = view.name_of(&conflict.material);
                let what = match conflict.lot() {
                    None => format!("“{}”", conflict.name),
                    Some(lot) => format!("The certificate of lot {lot} of “{name}”"),
                };
                ui.label(format!("{what} was changed here and in another window"));
                for choice in Resolve::ALL {
                    // A lot has one certificate.
                    if choice == Resolve::Both && conflict.lot().is_some() {
                        continue;
                    }
                    let word = capital(choice.label());
                    let name = format!("{word}: {what}");
                    if ui.button(word).accessible_name(name).clicked() {
                        let edits = settle(conflict, choice, view.state.shelf());
                        commands.push(Command::SettleConflict(Box::new(conflict.clone()), edits));
                    }
                }
            });
            for difference in &conflict.differences {
                ui.label(theme::small(
                    ui,
                    format!(
                        "{}: there {}, here {}",
                        difference.field, difference.before, difference.after
                    ),
                ));
            }
        });
    }
}

/// Asks for the folder of the shelf.
fn folder_question(
    ui: &mut Ui,
    view: &View<'_>,
    sheet: &mut ShelfSheet,
    commands: &mut Vec<Command>,
) {
    if !sheet.folder_asked {
        return;
    }
    let mut open = true;
    let modal = egui::Modal::new(egui::Id::unique("shelf folder"));
    let modal = modal.show(ui, |ui| {
        ui.set_width(520.0_f32.min(ui.available_width()));
        ui.label(theme::heading("Where your shelf is kept"));
        ui.add(
            egui::Label::new(
                "One folder with the file shelf.ron. Back it up or let it be synchronised as you like; two windows or machines may use it at once.",
            )
            .wrap(),
        );
        if view.state.makers_shelf().folder().is_none() {
            ui.label(theme::small(ui, "No folder is known on this system; the shelf is kept in memory only"));
        }
        ui.add(
            egui::TextEdit::singleline(&mut sheet.folder)
                .desired_width(f32::INFINITY)
                .min_size(egui::vec2(0.0, theme::FIELD)),
        )
        .accessible_name("Folder of the shelf");
        ui.add(
            egui::Label::new(theme::small(
                ui,
                "A shelf that lies there already is merged with this one; the old folder stays as it is",
            ))
            .wrap(),
        );
        ui.horizontal(|ui| {
            let typed = sheet.folder.trim();
            if ui
                .add_enabled(!typed.is_empty(), egui::Button::new("Keep it there"))
                .clicked()
            {
                commands.push(Command::MoveShelf(typed.into()));
                open = false;
            }
            if ui.button("Cancel").clicked() {
                open = false;
            }
        });
    });
    sheet.folder_asked = open && !is_left(&modal);
}

/// The title of a part of the details.
fn section(ui: &mut Ui, title: &str) {
    ui.add_space(theme::TIGHT);
    ui.label(theme::strong(title));
}

/// Small words of the details.
fn line(ui: &mut Ui, text: String) {
    ui.add(egui::Label::new(theme::small(ui, text)).wrap());
}

/// The first letter made a capital.
fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters
        .next()
        .map(|first| first.to_uppercase().chain(letters).collect())
        .unwrap_or_default()
}
