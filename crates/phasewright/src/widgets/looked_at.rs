//! Words that come up beside what one looks at: with the pointer on it, or with the cursor on
//! it, so that nobody needs a mouse to read them.

use eframe::egui::{Response, Ui};

/// Shows something beside a widget while the pointer rests on it or it has the cursor.
pub fn when_looked_at(response: Response, add: impl FnOnce(&mut Ui)) -> Response {
    if response.has_focus() {
        response.show_tooltip_ui(add);
        response
    } else {
        response.on_hover_ui(add)
    }
}
