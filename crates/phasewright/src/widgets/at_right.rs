//! Things at the right end of a row, drawn in the order in which they are read.

use eframe::egui::{Align, Id, Layout, Rect, Ui, UiBuilder};

/// Draws things at the right end of what is left of a row, from left to right, so that the Tab
/// key and screen readers meet them as one reads. They must not take more room than they need.
pub fn at_right<R>(ui: &mut Ui, name: &str, add: impl FnOnce(&mut Ui) -> R) -> R {
    let id = Id::unique((ui.unique_id(), "width of what is at the right", name));
    let known: Option<f32> = ui.data(|d| d.get_temp(id));
    let room = ui.available_rect_before_wrap();
    // Before its width is known it has all the room, so that nothing shrinks to fit.
    let left = known.map_or(room.left(), |width| (room.right() - width).max(room.left()));
    let drawn = ui.scope_builder(from_left(room.with_min_x(left)).id_salt(name), add);
    let width = drawn.response.rect.width();
    if known.is_none_or(|known| (width - known).abs() > 0.5) {
        ui.data_mut(|d| d.insert_temp(id, width));
        ui.request_discard("what is at the right has another width");
        ui.request_repaint();
    }
    drawn.inner
}

/// A row of words, which have what room is left, and of what stands at its right end.
pub fn with_right<R>(
    ui: &mut Ui,
    name: &str,
    words: impl FnOnce(&mut Ui),
    right: impl FnOnce(&mut Ui) -> R,
) -> R {
    let id = Id::unique((ui.unique_id(), "room of what is at the right", name));
    let known: f32 = ui.data(|d| d.get_temp(id)).unwrap_or_default();
    let room = ui.available_rect_before_wrap();
    let end = (room.right() - known - ui.spacing().item_spacing.x).max(room.left());
    ui.scope_builder(from_left(room.with_max_x(end)), words);
    at_right(ui, name, |ui| {
        let done = right(ui);
        let width = ui.min_rect().width();
        ui.data_mut(|d| d.insert_temp(id, width));
        done
    })
}

fn from_left(place: Rect) -> UiBuilder {
    UiBuilder::new()
        .max_rect(place)
        .layout(Layout::left_to_right(Align::Center))
}
