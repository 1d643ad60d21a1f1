//! The chosen material: what it contains, its values and where each is from, lots,
//! files, formulas that use it, what was changed.

use std::sync::Arc;

use eframe::egui::{self, Grid, Ui};
use formulation::amount::Measure;
use formulation::chemistry::constants;
use formulation::file::exchange::write_one;
use formulation::finding::Level;
use formulation::material::{Material, MaterialValue, Source};
use formulation::material_change::material_changes;
use formulation::material_draft::{DraftField, MaterialDraft, PreservationDraft, TypedFigures};
use formulation::own_shelf::{Attachment, ShelfEdit};

use super::editor::Editor;
use super::lots::{LotForm, lots};
use super::usage::SavedFormulas;
use super::{Ask, capital, line, section};
use crate::command::{Command, Export, Pick};
use crate::state::View;
use crate::theme;

/// What is typed below the values.
#[derive(Default)]
pub struct Details {
    attachment: (String, String),
    /// The file whose label and path are being changed.
    changing: Option<Attachment>,
    lot: LotForm,
}

/// Draws the details.
pub fn ui(
    ui: &mut Ui,
    view: &View<'_>,
    details: &mut Details,
    material: &Arc<Material>,
    formulas: &SavedFormulas,
    asked: &mut Vec<Ask>,
    commands: &mut Vec<Command>,
) {
    ui.set_width(ui.available_width() - 12.0);
    ui.push_id(material.id.as_str(), |ui| {
        ui.add(egui::Label::new(theme::heading(material.name.as_ref())).wrap());
        if !material.synonyms.is_empty() {
            line(ui, format!("Also {}", material.synonyms.join(", ")));
        }
        actions(ui, view, material, asked, commands);
        values(ui, material);
        contains(ui, material);
        reckoned_with(ui, material);
        if !material.note.is_empty() {
            section(ui, "Note");
            ui.add(egui::Label::new(material.note.as_ref()).wrap());
        }
        used_in(ui, material, formulas, commands);
        lots(ui, view, &mut details.lot, material, commands);
        files(ui, view, details, material, commands);
        history(ui, view, material, commands);
    });
}

fn actions(
    ui: &mut Ui,
    view: &View<'_>,
    material: &Arc<Material>,
    asked: &mut Vec<Ask>,
    commands: &mut Vec<Command>,
) {
    let own = view.state.makers_shelf().own();
    let is_own = own.materials.contains_key(&material.id);
    let built_in = view.state.built_in().get(&material.id).is_some();
    ui.horizontal_wrapped(|ui| {
        if ui.button("Edit…").clicked() {
            asked.push(Ask::Edit(Box::new(Editor::new(MaterialDraft::of(
                material,
            )))));
        }
        if ui
            .button("Copy…")
            .on_hover_text("Begin a new material as this one")
            .clicked()
        {
            asked.push(Ask::Edit(Box::new(Editor::new(
                MaterialDraft::of(material).copied(),
            ))));
        }
        if ui
            .button("Share…")
            .on_hover_text("Save it as a small file that another shelf can take in")
            .clicked()
        {
            commands.push(match write_one(material) {
                Ok(text) => Command::Export(Export {
                    title: "Save the material".to_owned(),
                    file_name: format!("{}.material.ron", material.id),
                    bytes: text.into_bytes().into(),
                }),
                Err(problem) => Command::ShowMessage(Level::Breach, problem.to_string()),
            });
        }
        if is_own {
            let (word, hover) = if built_in {
                (
                    "Back to built-in",
                    "Take your changes away; the history keeps them",
                )
            } else {
                ("Take away", "Take it off the shelf; the history keeps it")
            };
            if ui.button(word).on_hover_text(hover).clicked() {
                commands.push(Command::EditShelf(vec![ShelfEdit::Remove(
                    material.id.clone(),
                )]));
            }
        } else if ui
            .button("Hide")
            .on_hover_text("Do not show this built-in material any more")
            .clicked()
        {
            commands.push(Command::EditShelf(vec![ShelfEdit::Hide(
                material.id.clone(),
            )]));
        }
    });
}

/// One value with its source.
fn value(ui: &mut Ui, name: &str, text: String, source: Option<&Source>) {
    // On the line of the value, however many lines that takes.
    ui.vertical(|ui| {
        ui.add_space(2.0);
        ui.label(theme::small(ui, name));
    });
    ui.vertical(|ui| {
        ui.spacing_mut().item_spacing.y = 0.0;
        ui.add(egui::Label::new(text).wrap());
        if let Some(source) = source {
            line(ui, source.to_string());
        }
    });
    ui.end_row();
}

fn range(low: &str, high: &str) -> String {
    if low == high || high.is_empty() {
        low.to_owned()
    } else {
        format!("{low} to {high}")
    }
}

fn values(ui: &mut Ui, material: &Material) {
    // The draft prints every value as it is typed.
    let shown = MaterialDraft::of(material);
    let source = |field: DraftField| Some(shown.sources.get(&field).unwrap_or(&material.source));
    Grid::new("values")
        .num_columns(2)
        .min_col_width(96.0)
        .show(ui, |ui| {
            if let Some(supplier) = &material.supplier {
                value(ui, "Supplier", supplier.to_string(), None);
            }
            let roles: Vec<&str> = material.roles.iter().map(|r| r.label()).collect();
            if !roles.is_empty() {
                value(ui, "Roles", roles.join(", "), None);
            }
            if let Some(charge) = material.charge {
                value(ui, "Charge", charge.label().to_owned(), None);
            }
            if let Some(phase) = material.phase {
                value(ui, "Usual phase", phase.label().to_owned(), None);
            }
            let hazards: Vec<&str> = material.hazards.iter().map(|h| h.label()).collect();
            if !hazards.is_empty() {
                value(ui, "Hazards", hazards.join(", "), None);
            }
            let media: Vec<&str> = material.wet_with.iter().map(|m| m.label()).collect();
            if !media.is_empty() {
                value(ui, "Wetted with", media.join(", "), None);
            }
            for r in &material.use_ranges {
                let maximum = if r.supplier_maximum {
                    ", supplier's maximum"
                } else {
                    ""
                };
                let text = format!("{} to {} %{maximum}", r.low, r.high);
                value(ui, &capital(r.kind.label()), text, Some(&r.source));
            }
            for (of, counted) in MaterialValue::counted() {
                let TypedFigures { low, high } = &shown.values[of];
                if !low.is_empty() {
                    let mut text = range(low, high);
                    if !counted.unit.is_empty() {
                        text = format!("{text} {}", counted.unit);
                    }
                    let field = DraftField::Value(of);
                    value(ui, field.label(), text, source(field));
                }
            }
            if let Some(words) = material.alkalinity.words() {
                value(
                    ui,
                    DraftField::Value(MaterialValue::Alkalinity).label(),
                    words,
                    material.alkalinity.source(),
                );
            }
            if let (Some(stated), Some(typed)) = (&material.preservation, &shown.preservation) {
                preserves(ui, typed, &stated.source);
            }
            for level in &material.fragrance_levels {
                let name = format!("Category {}", level.category);
                value(
                    ui,
                    &name,
                    format!("at most {} %", level.maximum),
                    source(DraftField::Fragrance(0)),
                );
            }
            value(ui, "Source", material.source.to_string(), None);
        });
}

/// What a preservative covers, at which dose and pH.
fn preserves(ui: &mut Ui, typed: &PreservationDraft, source: &Source) {
    let PreservationDraft {
        covers,
        dose_low,
        dose_high,
        ph_low,
        ph_high,
        donor,
    } = typed;
    let dose = format!("{dose_low} to {dose_high} % of this material");
    value(ui, "Preserves at", dose, Some(source));
    let groups = ["bacteria", "yeast", "mould"].into_iter().zip(covers);
    let covers: Vec<String> = groups
        .map(|(group, coverage)| format!("{group} {}", coverage.label()))
        .collect();
    value(ui, "Covers", covers.join(", "), None);
    if !ph_low.is_empty() {
        value(ui, "Works at pH", range(ph_low, ph_high), None);
    }
    if *donor {
        value(ui, "Releases", "formaldehyde".to_owned(), None);
    }
}

fn contains(ui: &mut Ui, material: &Material) {
    section(ui, "Contains");
    let shown = MaterialDraft::of(material);
    Grid::new("contains")
        .num_columns(2)
        .min_col_width(56.0)
        .show(ui, |ui| {
            for (c, draft) in material.constituents.iter().zip(&shown.constituents) {
                ui.vertical(|ui| {
                    ui.spacing_mut().item_spacing.y = 0.0;
                    ui.label(format!("{} %", draft.typical));
                    if !draft.low.is_empty() {
                        ui.label(theme::small(ui, format!("{} to {}", draft.low, draft.high)));
                    }
                });
                ui.vertical(|ui| {
                    ui.spacing_mut().item_spacing.y = 0.0;
                    ui.add(egui::Label::new(c.inci.spelling()).wrap());
                    let cas = c
                        .cas
                        .map_or_else(|| "no CAS number".to_owned(), |cas| cas.to_string());
                    line(ui, format!("{cas}; {}", c.class.label()));
                    if let Some(why) = &c.incidental {
                        line(ui, format!("not listed as an ingredient: {why}"));
                    }
                    if let Some(source) = &c.source {
                        line(ui, source.to_string());
                    }
                });
                ui.end_row();
            }
        });
    let unknown = material.unknown_share();
    if unknown.value() > 0.0 {
        line(
            ui,
            format!(
                "{} of it is not known",
                Measure::SHARE.shown(unknown.as_percent())
            ),
        );
    }
}

/// The constants of the substances in it, folded away: whoever doubts an estimate finds what it
/// rests on.
fn reckoned_with(ui: &mut Ui, material: &Material) {
    let known: Vec<_> = (material.constituents.iter())
        .map(|c| (c, constants::of_constituent(c.inci.spelling(), c.cas)))
        .filter(|(_, constants)| !constants.is_empty())
        .collect();
    if known.is_empty() {
        return;
    }
    ui.add_space(theme::TIGHT);
    ui.collapsing("Constants the estimates reckon with", |ui| {
        for (constituent, constants) in known {
            ui.label(theme::strong(constituent.inci.spelling()));
            for constant in constants {
                let words = format!("{}: {}", capital(constant.kind.label()), constant.value);
                ui.add(egui::Label::new(words).wrap());
                line(ui, constant.source.to_string());
            }
        }
    });
}

fn used_in(
    ui: &mut Ui,
    material: &Material,
    formulas: &SavedFormulas,
    commands: &mut Vec<Command>,
) {
    section(ui, "Used in");
    let mut found = false;
    ui.horizontal_wrapped(|ui| {
        for saved in formulas.using(&material.id) {
            found = true;
            match &saved.path {
                Some(path) => {
                    if ui
                        .link(saved.name())
                        .on_hover_text(path.to_string_lossy())
                        .clicked()
                    {
                        commands.push(Command::OpenPath(path.clone()));
                    }
                }
                None => {
                    ui.label(saved.name());
                }
            }
        }
    });
    if !found {
        let none = "none of the formulas opened lately or lying beside them";
        line(ui, none.to_owned());
    }
}

fn files(
    ui: &mut Ui,
    view: &View<'_>,
    details: &mut Details,
    material: &Material,
    commands: &mut Vec<Command>,
) {
    section(ui, "Files");
    let own = view.state.makers_shelf().own();
    let none = Vec::new();
    let files = own.attachments.get(&material.id).unwrap_or(&none);
    let attach = |files: Vec<Attachment>| {
        Command::EditShelf(vec![ShelfEdit::Attach(material.id.clone(), files)])
    };
    for (place, file) in files.iter().enumerate() {
        ui.push_id(place, |ui| {
            ui.horizontal_wrapped(|ui| {
                ui.hyperlink_to(file.label.as_ref(), link(view, &file.path))
                    .on_hover_text(file.path.as_ref());
                let change = ui.small_button("Change…");
                let change = change.accessible_name(format!("Change the file {}…", file.label));
                if change.clicked() {
                    details.changing = Some(file.clone());
                    details.attachment = (file.label.to_string(), file.path.to_string());
                }
                let away = ui.small_button("Take away");
                let away = away.accessible_name(format!("Take the file {} away", file.label));
                if away.clicked() {
                    let mut rest = files.clone();
                    rest.remove(place);
                    commands.push(attach(rest));
                }
            });
        });
    }
    // Another window may have taken it away, or another material is shown.
    details.changing.take_if(|file| !files.contains(file));
    let pick_id = egui::Id::unique("attach a file");
    if let Some(path) = view.picked(pick_id) {
        details.attachment.1 = path.display().to_string();
        if details.attachment.0.is_empty() {
            details.attachment.0 = path
                .file_stem()
                .map(|s| s.to_string_lossy().into_owned())
                .unwrap_or_default();
        }
    }
    let (label, path) = &mut details.attachment;
    ui.horizontal_wrapped(|ui| {
        ui.add(
            egui::TextEdit::singleline(label)
                .hint_text("Data sheet")
                .desired_width(90.0)
                .min_size(egui::vec2(0.0, theme::FIELD)),
        )
        .accessible_name("What the file is");
        ui.add(
            egui::TextEdit::singleline(path)
                .hint_text("path or address")
                .desired_width(130.0)
                .min_size(egui::vec2(0.0, theme::FIELD)),
        )
        .accessible_name("Path of the file");
        if ui.button("Choose…").clicked() {
            commands.push(Command::Pick(Pick {
                id: pick_id,
                title: "Choose a file that belongs to the material".to_owned(),
                endings: Vec::new(),
            }));
        }
        let ready = !label.trim().is_empty() && !path.trim().is_empty();
        let word = match &details.changing {
            None => "Attach",
            Some(_) => "Keep the change",
        };
        if ui.add_enabled(ready, egui::Button::new(word)).clicked() {
            let new = Attachment {
                label: label.trim().into(),
                path: path.trim().into(),
            };
            let mut all = files.clone();
            let old = details.changing.take();
            match old.and_then(|old| all.iter_mut().find(|file| **file == old)) {
                Some(file) => *file = new,
                None => all.push(new),
            }
            commands.push(attach(all));
            label.clear();
            path.clear();
        }
        if details.changing.is_some() && ui.button("Leave it as it is").clicked() {
            details.changing = None;
            label.clear();
            path.clear();
        }
    });
}

/// An address for the system to open; relative paths begin at the shelf's folder.
fn link(view: &View<'_>, path: &str) -> String {
    if path.contains("://") {
        return path.to_owned();
    }
    let full = match view.state.makers_shelf().folder() {
        Some(folder) => folder.path().join(path),
        None => path.into(),
    };
    format!("file://{}", full.display())
}

fn history(ui: &mut Ui, view: &View<'_>, material: &Arc<Material>, commands: &mut Vec<Command>) {
    let own = view.state.makers_shelf().own();
    let changes: Vec<_> = own.history_of(&material.id).collect();
    if changes.is_empty() {
        return;
    }
    ui.add_space(theme::TIGHT);
    egui::CollapsingHeader::new(format!("Changes ({})", changes.len()))
        .id_salt("changes")
        .show(ui, |ui| {
            for (place, change) in changes.iter().enumerate() {
                ui.push_id(place, |ui| {
                    line(ui, format!("{}: {}", change.at, change.what));
                    let Some(before) = &change.before else { return };
                    for difference in material_changes(before, material).iter().take(6) {
                        line(
                            ui,
                            format!(
                                "{}: {} then, {} now",
                                difference.field, difference.before, difference.after
                            ),
                        );
                    }
                    if before != material
                        && ui
                            .small_button("Back to this state")
                            .accessible_name(format!("Back to this state, before {}", change.at))
                            .clicked()
                    {
                        commands.push(Command::EditShelf(vec![ShelfEdit::Put(Arc::clone(before))]));
                    }
                });
            }
        });
}
