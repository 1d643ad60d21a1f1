//! The bar at the top: menus, sheets, the open formulas.

use eframe::egui::{self, Align, Button, Layout, Sense, Stroke, Ui, Vec2, WidgetInfo};
use formulation::file::formula_export::ExportForm;
use formulation::rules::{GREAT_BRITAIN, rule_text};

use crate::command::{Command, Pick, PictureFormat, entry_of};
use crate::examples;
use crate::sheets::SheetName;
use crate::state::{Motion, PercentStep, ThemeChoice, View};
use crate::theme;

/// A row of a menu for a command of the table.
fn menu_row(ui: &mut Ui, command: &Command, enabled: bool, commands: &mut Vec<Command>) {
    let Some(entry) = entry_of(command) else {
        return;
    };
    let mut button = Button::new(entry.label);
    if let Some(shortcut) = &entry.shortcut {
        button = button.shortcut_text(ui.format_shortcut(shortcut));
    }
    if ui
        .add_enabled(enabled, button)
        .on_hover_text(entry.tooltip)
        .clicked()
    {
        commands.push(command.clone());
        ui.close();
    }
}

/// Below this width, in points, the bar at the top takes two rows.
const WRAP_BELOW: f32 = 860.0;

pub(super) fn top_bar(ui: &mut Ui, view: &View<'_>, shown: SheetName, commands: &mut Vec<Command>) {
    let narrow = ui.available_width() < WRAP_BELOW;
    let row = if narrow {
        Layout::left_to_right(Align::Center).with_main_wrap(true)
    } else {
        Layout::left_to_right(Align::Center)
    };
    let size = Vec2::new(ui.available_width(), theme::FIELD + 4.0);
    ui.allocate_ui_with_layout(size, row, |ui| {
        ui.set_min_height(theme::FIELD + 4.0);
        ui.spacing_mut().item_spacing.x = 4.0;
        ui.scope(|ui| {
            let plain = &mut ui.visuals_mut().widgets.inactive;
            plain.weak_bg_fill = egui::Color32::TRANSPARENT;
            plain.bg_stroke = Stroke::NONE;
            menus(ui, view, commands);
        });
        ui.add_space(theme::GAP);
        for name in SheetName::ALL {
            if tab(ui, name, name == shown).clicked() {
                commands.push(Command::Show(name));
            }
        }
        if narrow {
            document_choice(ui, view, shown, commands);
            return;
        }
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            document_choice(ui, view, shown, commands);
        });
    });
}

/// A tab: the word, underlined in the accent where it is the one shown.
fn tab(ui: &mut Ui, name: SheetName, shown: bool) -> egui::Response {
    let p = theme::palette(ui);
    let text = if shown {
        theme::strong(name.label()).color(p.accent)
    } else {
        egui::RichText::new(name.label()).color(p.ink)
    };
    let galley = egui::WidgetText::from(text).into_galley(
        ui,
        Some(egui::TextWrapMode::Extend),
        f32::INFINITY,
        egui::TextStyle::Body,
    );
    let size = Vec2::new(galley.size().x + 16.0, theme::FIELD + 4.0);
    let (rect, response) = ui.allocate_exact_size(size, Sense::click());
    response.widget_info(|| WidgetInfo::selected(egui::Role::Tab, true, shown, name.label()));
    if response.hovered() || response.has_focus() {
        ui.painter().rect_filled(rect, 4.0, p.hovered);
    }
    let place = rect.center() - galley.size() / 2.0;
    ui.painter().galley(place, galley, p.ink);
    if shown {
        ui.painter().hline(
            rect.x_range().shrink(6.0),
            rect.bottom() - 1.0,
            Stroke::new(2.0, p.accent),
        );
    }
    response.on_hover_text(name.tooltip())
}

fn menus(ui: &mut Ui, view: &View<'_>, commands: &mut Vec<Command>) {
    let changed = view.document.is_changed();
    let history = view.document.history();
    ui.menu_button("File", |ui| {
        ui.set_min_width(220.0);
        menu_row(ui, &Command::New, true, commands);
        menu_row(ui, &Command::Open, true, commands);
        menu_row(ui, &Command::OpenTyped, true, commands);
        menu_row(ui, &Command::BringIn, true, commands);
        let recent = &view.state.settings.recent;
        ui.add_enabled_ui(!recent.is_empty(), |ui| {
            ui.menu_button("Recent", |ui| {
                for path in recent {
                    let name = path
                        .file_name()
                        .map_or_else(|| path.to_string_lossy(), |n| n.to_string_lossy());
                    let row = ui.button(name).on_hover_text(path.to_string_lossy());
                    if row.clicked() {
                        commands.push(Command::OpenPath(path.clone()));
                        ui.close();
                    }
                }
            });
        });
        ui.menu_button("Examples", |ui| {
            for example in examples::ALL {
                if ui.button(example.title).clicked() {
                    commands.push(Command::OpenExample(example));
                    ui.close();
                }
            }
        });
        ui.separator();
        menu_row(ui, &Command::Save, true, commands);
        menu_row(ui, &Command::SaveAs, true, commands);
        let on_disk = view.document.path.is_some();
        menu_row(
            ui,
            &Command::Reload,
            on_disk && (changed || view.document.changed_elsewhere),
            commands,
        );
        ui.separator();
        menu_row(ui, &Command::Finish, true, commands);
        menu_row(ui, &Command::Signatures, true, commands);
        ui.menu_button("Save for other programs", |ui| {
            ui.set_min_width(180.0);
            for form in ExportForm::ALL {
                menu_row(ui, &Command::ExportFormula(form), true, commands);
            }
            for format in [PictureFormat::Svg, PictureFormat::Png] {
                menu_row(ui, &Command::ExportChart(format), true, commands);
            }
        });
        ui.separator();
        menu_row(ui, &Command::Close, true, commands);
        menu_row(ui, &Command::Quit, true, commands);
    });
    ui.menu_button("Edit", |ui| {
        ui.set_min_width(220.0);
        menu_row(ui, &Command::Undo, history.undoes().is_some(), commands);
        menu_row(ui, &Command::Redo, history.redoes().is_some(), commands);
        ui.menu_button("Go back to", |ui| history_rows(ui, view, commands));
        ui.separator();
        menu_row(ui, &Command::FindMaterial, true, commands);
        ui.menu_button("Steps of a slider", |ui| {
            for step in PercentStep::ALL {
                let words = format!("{} %", step.percent());
                if menu_radio(ui, view.state.settings.percent_step == step, words)
                    .on_hover_text("Percentages land on it when moved; typed ones may be finer")
                    .clicked()
                {
                    commands.push(Command::SetStep(step));
                    ui.close();
                }
            }
        });
    });
    rules_menu(ui, view, commands);
    ui.menu_button("View", |ui| {
        ui.set_min_width(220.0);
        for choice in ThemeChoice::ALL {
            if menu_radio(ui, view.state.settings.theme == choice, choice.label()).clicked() {
                commands.push(Command::SetTheme(choice));
                ui.close();
            }
        }
        ui.separator();
        for motion in Motion::ALL {
            if menu_radio(ui, view.state.settings.motion == motion, motion.label()).clicked() {
                commands.push(Command::SetMotion(motion));
                ui.close();
            }
        }
        ui.separator();
        menu_row(ui, &Command::ZoomIn, true, commands);
        menu_row(ui, &Command::ZoomOut, true, commands);
        menu_row(ui, &Command::ZoomReset, true, commands);
        ui.separator();
        menu_row(ui, &Command::Help, true, commands);
        menu_row(ui, &Command::About, true, commands);
    });
}

/// The maker's own lists of rules.
fn rules_menu(ui: &mut Ui, view: &View<'_>, commands: &mut Vec<Command>) {
    let id = egui::Id::unique("own rules");
    if let Some(path) = view.picked(id) {
        commands.push(Command::AddRules(path.clone()));
    }
    ui.menu_button("Rules", |ui| {
        ui.set_min_width(260.0);
        // The rows of a menu are as wide as it is; words in them would be set apart to fill it.
        let words = Layout::top_down(Align::Min);
        ui.with_layout(words, |ui| {
            for set in view.state.context().rules.sets() {
                let day = set
                    .as_of
                    .map_or_else(String::new, |day| format!(", as of {day}"));
                ui.label(format!("{}{day}", set.title))
                    .on_hover_text(set.source.as_ref());
            }
        });
        ui.separator();
        let add = ui.button("Add rules of your own…").on_hover_text(
            "A retailer's or your own exclusions, as a file of the form the manual describes",
        );
        if add.clicked() {
            commands.push(Command::Pick(Pick {
                id,
                title: "Add a file of rules".to_owned(),
                endings: vec!["ron".to_owned()],
            }));
            ui.close();
        }
        for path in &view.state.settings.own_rules {
            let name = path
                .file_name()
                .map_or_else(|| path.to_string_lossy(), |n| n.to_string_lossy());
            let remove = ui
                .button(format!("Take out {name}"))
                .on_hover_text(path.to_string_lossy());
            if remove.clicked() {
                commands.push(Command::RemoveRules(path.clone()));
                ui.close();
            }
        }
        ui.separator();
        ui.with_layout(words, |ui| {
            for words in [GREAT_BRITAIN, rule_text::CAUTION] {
                ui.add(egui::Label::new(theme::small(ui, words)).wrap());
            }
        });
    });
}

/// The steps of the history, the latest first.
fn history_rows(ui: &mut Ui, view: &View<'_>, commands: &mut Vec<Command>) {
    let history = view.document.history();
    egui::ScrollArea::vertical()
        .max_height(320.0)
        .show(ui, |ui| {
            ui.set_min_width(240.0);
            let steps: Vec<_> = history.steps().enumerate().collect();
            for (place, what) in steps.into_iter().rev() {
                let words = if place == 0 { "As opened" } else { what };
                ui.push_id(place, |ui| {
                    if ui.radio(place == history.place(), words).clicked() {
                        commands.push(Command::GoTo(place));
                        ui.close();
                    }
                });
            }
        });
}

/// One of several in a menu, where the library draws no ring around the mark.
fn menu_radio(ui: &mut Ui, chosen: bool, words: impl Into<egui::WidgetText>) -> egui::Response {
    let ring = Stroke::new(1.0, theme::palette(ui).faint_ink);
    ui.scope(|ui| {
        ui.visuals_mut().widgets.inactive.bg_stroke = ring;
        ui.radio(chosen, words.into())
    })
    .inner
}

/// Which formula is worked on; and which variant of several, where no sheet says it itself.
fn document_choice(ui: &mut Ui, view: &View<'_>, shown: SheetName, commands: &mut Vec<Command>) {
    let title = |d: &crate::state::Document| {
        let mark = if d.is_changed() { " •" } else { "" };
        format!("{}{mark}", view.state.name_of(d))
    };
    let several = (view.formula.variants.iter())
        .filter(|v| !v.archived)
        .count()
        > 1;
    let told = matches!(shown, SheetName::Formula | SheetName::SideBySide);
    let (words, width) = if several && !told {
        let words = format!("{} – {}", title(view.document), view.variant.name);
        (words, 300.0)
    } else {
        (title(view.document), 200.0)
    };
    let response = egui::ComboBox::from_id_salt("document")
        .selected_text(&words)
        .width(width)
        .truncate()
        .show_ui(ui, |ui| {
            for d in view.state.documents() {
                ui.push_id(d.id, |ui| {
                    let row = ui
                        .selectable_label(d.id == view.document.id, title(d))
                        .on_hover_text(d.file_name());
                    if row.clicked() {
                        commands.push(Command::ShowDocument(d.id));
                    }
                });
            }
        })
        .response
        .accessible_name("Open formula");
    let file = view.document.file_name();
    let state = if view.document.is_changed() {
        ", with unsaved changes"
    } else {
        ""
    };
    response.on_hover_text(format!("{words}\n{file}{state}"));
}
