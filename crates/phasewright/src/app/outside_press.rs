//! A press outside of an open list or menu closes it and does nothing else.
//!
//! The library closes it and hands the press on to whatever lies below, so a click that was
//! only to close a list would move a slider.

use eframe::egui::{Context, Event, Memory, Order, Plugin, Popup, Pos2, RawInput};

/// Takes such presses out of the input before anything sees them.
#[derive(Default)]
pub(super) struct OutsidePress {
    /// A press was taken out; its release goes as well.
    taken: bool,
}

impl Plugin for OutsidePress {
    fn debug_name(&self) -> &'static str {
        "press outside of a popup"
    }

    fn input_hook(&mut self, ctx: &Context, input: &mut RawInput) {
        let mut closed = false;
        input.events.retain(|event| match *event {
            Event::PointerButton {
                pos, pressed: true, ..
            } if Popup::is_any_open(ctx) && is_outside(ctx, pos) => {
                Popup::close_all(ctx);
                (self.taken, closed) = (true, true);
                false
            }
            Event::PointerButton { pressed: false, .. } => !std::mem::take(&mut self.taken),
            _ => true,
        });
        if closed {
            ctx.request_repaint();
        }
    }
}

/// Whether a place is in no list or menu that is open; they lie above everything but tooltips.
fn is_outside(ctx: &Context, pos: Pos2) -> bool {
    let dialog = ctx.memory(Memory::top_modal_layer);
    ctx.layer_id_at(pos)
        .is_none_or(|layer| layer.order < Order::Foreground || Some(layer) == dialog)
}
