//! Long lists of blocks of unequal height: only what is in sight is laid out.

use eframe::egui::{Id, Rect, Ui, UiBuilder, vec2};

/// Blocks this far outside the visible part are still drawn, in points, so that the Tab key
/// always finds the next one.
const OVERSCAN: f32 = 240.0;

/// A list of no more blocks than this is drawn whole: that costs little, and a screen reader
/// finds all of it.
const WHOLE: usize = 60;

/// A list of blocks, drawn where it is seen.
pub struct InSight {
    /// Height of a block that was not drawn yet, in points.
    guess: f32,
    whole: bool,
}

impl InSight {
    /// A list of so many blocks, each about as high as guessed.
    pub const fn new(count: usize, guess: f32) -> Self {
        Self {
            guess,
            whole: count <= WHOLE,
        }
    }

    /// Draws a block, or takes the room it had when it was last seen.
    pub fn block(&self, ui: &mut Ui, place: usize, add: impl FnOnce(&mut Ui)) {
        let id = Id::unique((ui.unique_id(), "block in sight", place));
        if !self.whole {
            let height = ui.data(|d| d.get_temp(id)).unwrap_or(self.guess);
            let size = vec2(ui.available_width(), height);
            let room = Rect::from_min_size(ui.cursor().min, size);
            if !ui.clip_rect().expand(OVERSCAN).intersects(room) {
                ui.allocate_space(size);
                return;
            }
        }
        let drawn = ui.scope_builder(UiBuilder::new().id_salt(place), add);
        ui.data_mut(|d| d.insert_temp(id, drawn.response.rect.height()));
    }
}
