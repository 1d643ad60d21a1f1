//! A word with a sign that opens and closes something.

use eframe::egui::{self, Id, Rect, Sense, Ui, pos2, vec2};

use super::icon::Icon;
use crate::theme;

/// Opens and closes something by a small sign and a word.
pub fn fold(ui: &mut Ui, id: Id, words: &str, open: bool) -> egui::Response {
    let galley = egui::WidgetText::from(theme::small(ui, words)).into_galley(
        ui,
        Some(egui::TextWrapMode::Extend),
        f32::INFINITY,
        egui::TextStyle::Small,
    );
    let size = vec2(galley.size().x + 22.0, 22.0);
    let (_, rect) = ui.allocate_space(size);
    let response = ui.interact(rect, id, Sense::click());
    response.widget_info(|| {
        egui::WidgetInfo::selected(egui::Role::DisclosureTriangle, true, open, words)
    });
    let p = theme::palette(ui);
    if response.hovered() || response.has_focus() {
        ui.painter().rect_filled(rect, 4.0, p.hovered);
    }
    let sign = Rect::from_min_size(rect.min, vec2(18.0, rect.height()));
    let icon = if open { Icon::Down } else { Icon::Right };
    icon.paint(ui.painter(), sign, p.faint_ink);
    let at = pos2(sign.right(), rect.center().y - galley.size().y / 2.0);
    ui.painter().galley(at, galley, p.faint_ink);
    response
}
