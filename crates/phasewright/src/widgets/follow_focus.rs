//! Keeps what has the focus in sight: a scroll area follows the Tab key.

use eframe::egui::{self, Id, Rect, Ui};

/// Room kept above and below what has the focus, in points.
const ROOM: f32 = 24.0;

/// So many frames after the cursor moved its widget is followed: an area inside may have to
/// scroll first.
const FRAMES: u8 = 6;

/// Scrolls to the widget that just got the focus, if it lies in this scroll area and is cut
/// off. To be called inside the area, at its end.
pub fn follow_focus(ui: &Ui) {
    follow(ui, |rect| ui.min_rect().contains_rect(rect.shrink(1.0)));
}

/// The same for an area that holds everything between the bars, other areas included.
pub fn follow_focus_everywhere(ui: &Ui) {
    follow(ui, |_| true);
}

fn follow(ui: &Ui, inside: impl Fn(Rect) -> bool) {
    let id = Id::unique(("focus followed", ui.unique_id()));
    let focused = ui.memory(egui::Memory::focused);
    let (last, frames) = ui
        .data(|d| d.get_temp::<(Option<Id>, u8)>(id))
        .unwrap_or_default();
    let frames = if focused == last { frames } else { FRAMES };
    if frames == 0 {
        return;
    }
    ui.data_mut(|d| d.insert_temp(id, (focused, frames - 1)));
    let Some(response) = focused.and_then(|id| ui.read_response(id)) else {
        return;
    };
    if inside(response.rect) && is_cut(response.rect, response.interact_rect) {
        let place = response.rect.expand2(egui::vec2(0.0, ROOM));
        ui.scroll_to_rect_animation(place, None, egui::style::ScrollAnimation::none());
        ui.request_repaint();
    }
}

/// Whether a part of a rectangle is not seen.
pub fn is_cut(whole: Rect, seen: Rect) -> bool {
    let cut = whole.size() - seen.size().max(egui::Vec2::ZERO);
    cut.x.abs() > 0.5 || cut.y.abs() > 0.5
}
