//! A panel at a side of a sheet that keeps its share of the room when the window
//! grows or shrinks, until a person drags it to another.

use eframe::egui::accesskit::{Action, ActionRequest, TreeId};
use eframe::egui::{
    Event, EventFilter, Frame, Key, Margin, Modifiers, Panel, Rangef, Ui, UiBuilder,
};

use crate::theme;

/// On which side the panel stands.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum At {
    /// At the left.
    Left,
    /// At the right.
    Right,
    /// Above the rest.
    Top,
}

/// What the panel keeps between frames: the share of the room it was dragged to.
#[derive(Default)]
pub struct SidePanel {
    dragged: Option<f32>,
}

impl SidePanel {
    /// Draws the panel, `usual` points wide (high, at the top) unless it was dragged, and within
    /// `range`.
    pub fn show<R>(
        &mut self,
        ui: &mut Ui,
        (at, name): (At, &str),
        usual: f32,
        range: Rangef,
        add: impl FnOnce(&mut Ui) -> R,
    ) -> R {
        let axis = usize::from(at == At::Top);
        let total = ui.available_size()[axis];
        let width = self.dragged.map_or(usual, |share| share * total);
        let width = width.clamp(range.min, range.max);
        // The library keeps the size by the name, so every size of the sheet has its own.
        let id = (name, total.round() as u32);
        let gap = gap_to_the_rest(at);
        resize_by_keys(ui, id, at);
        let panel = match at {
            At::Left => Panel::left(id),
            At::Right => Panel::right(id),
            At::Top => Panel::top(id),
        };
        let shown = panel
            .resizable(true)
            .default_size(width)
            .size_range(range)
            .frame(Frame::new().inner_margin(gap))
            .show(ui, |ui| {
                // Its content makes it neither smaller nor larger: the library would keep a size
                // that content overshot by a little, and so it would creep.
                let room = ui.available_rect_before_wrap();
                let inside = UiBuilder::new().max_rect(room);
                let answer = add(&mut ui.new_child(inside));
                ui.advance_cursor_after_rect(room);
                answer
            });
        let now = shown.response.rect.size()[axis];
        if (now - width).abs() > 1.0 {
            self.dragged = Some(now / total);
        }
        shown.inner
    }
}

/// Lets the arrow keys move the edge of a panel while it has the focus. Call it before the panel
/// of this name is drawn.
///
/// The library moves the edge for a screen reader but not for the keys, so they ask as a screen
/// reader would.
pub fn resize_by_keys(ui: &Ui, panel: impl std::hash::Hash + std::fmt::Debug, at: At) {
    // As the library names the edge of a panel; a test tells when it no longer does.
    let edge = ui.scope_id().with(panel).with("__resize");
    if !ui.memory(|memory| memory.has_focus(edge)) {
        return;
    }
    let arrows = EventFilter {
        horizontal_arrows: at != At::Top,
        vertical_arrows: at == At::Top,
        ..EventFilter::default()
    };
    ui.memory_mut(|memory| memory.set_focus_lock_filter(edge, arrows));
    let (wider, narrower) = match at {
        At::Top => (Key::ArrowDown, Key::ArrowUp),
        At::Left => (Key::ArrowRight, Key::ArrowLeft),
        At::Right => (Key::ArrowLeft, Key::ArrowRight),
    };
    ui.input_mut(|input| {
        for (key, action) in [(wider, Action::Increment), (narrower, Action::Decrement)] {
            for _ in 0..input.count_and_consume_key(Modifiers::NONE, key) {
                input
                    .events
                    .push(Event::AccessKitActionRequest(ActionRequest {
                        action,
                        target_tree: TreeId::ROOT,
                        target_node: edge.accesskit_id(),
                        data: None,
                    }));
            }
        }
    });
}

/// The gap to what stands beside it.
fn gap_to_the_rest(at: At) -> Margin {
    let gap = theme::GAP as i8;
    match at {
        At::Top => Margin {
            bottom: theme::TIGHT as i8,
            ..Margin::ZERO
        },
        At::Left => Margin {
            right: gap,
            ..Margin::ZERO
        },
        At::Right => Margin {
            left: gap,
            ..Margin::ZERO
        },
    }
}

#[cfg(test)]
mod tests {
    use eframe::egui::{Context, Pos2, RawInput, Rect, Vec2};

    use super::*;

    #[test]
    fn the_share_stays_when_the_window_changes() {
        let context = Context::default();
        let mut panel = SidePanel::default();
        let mut width = |total: f32, dragged: Option<f32>| {
            panel.dragged = panel.dragged.or(dragged);
            let mut shown = 0.0;
            for _ in 0..3 {
                let size = Vec2::new(total, 500.0);
                let input = RawInput {
                    screen_rect: Some(Rect::from_min_size(Pos2::ZERO, size)),
                    ..RawInput::default()
                };
                let mut output = context.run_ui(input, |ui| {
                    let range = Rangef::new(100.0, 900.0);
                    let usual = 0.3 * ui.available_width();
                    let side = (At::Right, "side");
                    let content = |ui: &mut Ui| shown = ui.available_width();
                    panel.show(ui, side, usual, range, content);
                });
                // Nothing is painted here.
                output.textures_delta.clear();
            }
            // With the gap to what stands beside it.
            shown + theme::GAP
        };
        let near = |a: f32, b: f32| assert!((a - b).abs() < 3.0, "{a} {b}");
        near(width(1000.0, None), 300.0);
        near(width(2000.0, None), 600.0);
        near(width(1000.0, None), 300.0);
        near(width(1500.0, Some(0.5)), 750.0);
        near(width(800.0, None), 400.0);
    }
}
