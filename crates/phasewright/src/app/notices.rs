//! What stands above or in the place of a sheet: warnings, a file changed elsewhere, a sheet that
//! cannot be drawn, a file held over the window.

use eframe::egui::{self, Ui};
use formulation::finding::Level;

use crate::command::Command;
use crate::state::View;
use crate::theme;
use crate::widgets::at_right::{at_right, with_right};
use crate::widgets::level_mark::level_mark;

/// The notice that another program changed the file.
pub(super) fn changed_elsewhere(ui: &mut Ui, view: &View<'_>, commands: &mut Vec<Command>) {
    ui.horizontal(|ui| {
        level_mark(ui, Level::Caution);
        ui.label(format!(
            "Another program changed {}",
            view.document.file_name()
        ));
        at_right(ui, "what to do about the file", |ui| {
            if ui
                .button("Save as…")
                .on_hover_text("Save your state beside it")
                .clicked()
            {
                commands.push(Command::SaveAs);
            }
            if ui
                .button("Read again")
                .on_hover_text("Take over what is in the file; undo brings your state back")
                .clicked()
            {
                commands.push(Command::Reload);
            }
        });
    });
}

/// Stands in the place of a sheet that cannot be drawn; whether it is to be tried again.
pub(super) fn broken_sheet(ui: &mut Ui, cause: &str, commands: &mut Vec<Command>) -> bool {
    ui.label(theme::heading("This sheet met an error of its own"));
    ui.label("Your work is unharmed, and unsaved work is kept. The other sheets go on; what was typed on this one and not taken over yet is gone.");
    ui.label(theme::small(ui, format!("Please report it: {cause}")));
    ui.add_space(theme::GAP);
    ui.horizontal(|ui| {
        if ui.button("Undo the last change").clicked() {
            commands.push(Command::Undo);
        }
        ui.button("Show the sheet again").clicked()
    })
    .inner
}

/// What is wrong with the maker's data, until each is put away.
pub(super) fn warnings(ui: &mut Ui, view: &View<'_>, commands: &mut Vec<Command>) {
    egui::ScrollArea::vertical()
        .id_salt("warnings")
        .max_height(96.0)
        .show(ui, |ui| {
            for warning in &view.state.warnings {
                ui.horizontal(|ui| {
                    level_mark(ui, Level::Caution);
                    let told = |ui: &mut Ui| {
                        ui.add(egui::Label::new(warning).wrap());
                    };
                    with_right(ui, warning, told, |ui| {
                        let put_away = ui
                            .button("Understood")
                            .on_hover_text("It is said again at the next start if it is still so");
                        if put_away.clicked() {
                            commands.push(Command::PutAway(warning.clone()));
                        }
                    });
                });
            }
        });
}

/// Says that files may be let go over the window.
pub(super) fn drop_hint(ctx: &egui::Context) {
    if ctx.input(|i| i.raw.hovered_files.is_empty()) {
        return;
    }
    let p = theme::Palette::of(ctx.theme());
    let area = ctx.content_rect();
    let layer = egui::LayerId::new(egui::Order::Foreground, egui::Id::unique("drop hint"));
    let painter = ctx.layer_painter(layer);
    painter.rect_filled(area, 0.0, p.ground.gamma_multiply(0.85));
    painter.text(
        area.center(),
        egui::Align2::CENTER_CENTER,
        "Let go to open",
        egui::FontId::new(24.0, theme::strong_family()),
        p.accent,
    );
}
