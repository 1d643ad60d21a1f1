//! What the program is, and the notices of what it is built on.

use std::sync::LazyLock;

use eframe::egui::{self, Ui};
use packed::packed;

use crate::theme;

pub(super) fn about_ui(ui: &mut Ui) {
    ui.label(theme::heading(format!(
        "Phasewright {}",
        env!("CARGO_PKG_VERSION")
    )));
    ui.label(
        "Design, check, make and label personal-care formulas. \
         MIT or Apache-2.0. Typefaces: Noto Sans, SIL Open Font License 1.1.",
    );
    ui.label(
        "What is checked, and against which source, stands with every finding. \
         What is not checked is not judged. Nothing here replaces the safety assessment \
         by a qualified assessor that the law of your market asks for, nor challenge, \
         stability and patch testing. Wear the protective equipment that the data sheets name.",
    );
}

/// What the program contains of others, made by `scripts/third_party.py`.
static NOTICES: LazyLock<String> =
    LazyLock::new(|| packed!("assets/notices/third_party.txt").text());

pub(super) fn notices_ui(ui: &mut Ui) {
    ui.label(theme::heading("Licences of others"));
    let lines: Vec<&str> = NOTICES.lines().collect();
    let row = ui.text_style_height(&egui::TextStyle::Body);
    egui::ScrollArea::both()
        .max_height(360.0)
        .auto_shrink([false, false])
        .show_rows(ui, row, lines.len(), |ui, rows| {
            for line in lines.get(rows).unwrap_or_default() {
                ui.add(egui::Label::new(*line).wrap_mode(egui::TextWrapMode::Extend));
            }
        });
}
