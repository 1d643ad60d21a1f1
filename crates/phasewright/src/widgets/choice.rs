//! A box in which one of several is chosen.

use eframe::egui::{ComboBox, Response, Ui};

/// Draws the box; screen readers say `name`, which tells it from others in the same place too.
pub fn choice<T, W>(
    ui: &mut Ui,
    name: &str,
    value: &mut T,
    all: impl IntoIterator<Item = T>,
    words: impl Fn(T) -> W,
    width: f32,
) -> Response
where
    T: Copy + PartialEq,
    W: Into<String>,
{
    ComboBox::from_id_salt(name)
        .selected_text(words(*value).into())
        .width(width)
        .truncate()
        .show_ui(ui, |ui| {
            for one in all {
                ui.selectable_value(value, one, words(one).into());
            }
        })
        .response
        .accessible_name(name)
}
