//! Keeps what has the focus in sight: a scroll area follows the Tab key.

use eframe::egui::{self, Id, Rect, Ui};

/// Room kept above and below what has the focus, in points.
const ROOM: f32 = 24.0;

/// Scrolls to the widget that just got the focus, if it lies in this scroll area and is cut
/// off. To be called inside the area, at its end.
pub fn follow_focus(ui: &Ui) {
    let id = Id::unique(("focus followed", ui.unique_id()));
    let focused = ui.memory(egui::Memory::focused);
    let last: Option<Id> = ui.data(|d| d.get_temp::<Option<Id>>(id)).flatten();
    if focused == last {
        return;
    }
    ui.data_mut(|d| d.insert_temp(id, focused));
    let Some(response) = focused.and_then(|id| ui.read_response(id)) else {
        return;
    };
    let inside = ui.min_rect().contains_rect(response.rect.shrink(1.0));
    if inside && is_cut(response.rect, response.interact_rect) {
        ui.scroll_to_rect(response.rect.expand2(egui::vec2(0.0, ROOM)), None);
    }
}

fn is_cut(whole: Rect, seen: Rect) -> bool {
    (whole.height() - seen.height().max(0.0)).abs() > 0.5
}
