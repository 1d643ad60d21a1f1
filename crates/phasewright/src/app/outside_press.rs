//! A press outside of an open list or menu closes it and does nothing else, unless it is on the
//! button of another list or menu, which then opens.
//!
//! The library closes it and hands the press on to whatever lies below, so a click that was
//! only to close a list would move a slider.

use eframe::egui::{Context, Event, Id, LayerId, Memory, Order, Plugin, Popup, Pos2, RawInput, Ui};

/// Takes such presses out of the input before anything sees them.
#[derive(Default)]
pub(super) struct OutsidePress {
    /// A press was taken out; its release goes as well.
    taken: bool,
    /// The list or menu of the button that was pressed, if it has one.
    tried: Option<Id>,
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
                let other = popup_of(ctx, pos).filter(|id| !Popup::is_id_open(ctx, *id));
                Popup::close_all(ctx);
                if let Some(id) = other {
                    Popup::open_id(ctx, id);
                }
                (self.taken, self.tried, closed) = (true, other, true);
                false
            }
            Event::PointerButton { pressed: false, .. } => !std::mem::take(&mut self.taken),
            _ => true,
        });
        if closed {
            ctx.request_repaint();
        }
    }

    fn on_end_pass(&mut self, ui: &mut Ui) {
        // What was pressed had no list or menu: nothing is open.
        if let Some(id) = self.tried.take()
            && !ui.memory(|m| m.areas().is_visible(&LayerId::new(Order::Foreground, id)))
        {
            Popup::close_id(ui, id);
        }
    }
}

/// Whether a place is in no list or menu that is open; they lie above everything but tooltips.
fn is_outside(ctx: &Context, pos: Pos2) -> bool {
    let dialog = ctx.memory(Memory::top_modal_layer);
    ctx.layer_id_at(pos)
        .is_none_or(|layer| layer.order < Order::Foreground || Some(layer) == dialog)
}

/// What the list or menu of the button under the pointer would be called; whether there is one
/// shows when the button is drawn.
fn popup_of(ctx: &Context, pos: Pos2) -> Option<Id> {
    let hovered = ctx.interaction_snapshot(|i| i.hovered.clone());
    let button = hovered
        .into_iter()
        .filter_map(|id| ctx.read_response(id))
        .find(|r| r.rect.contains(pos) && r.enabled() && r.sense.senses_click())?;
    Some(Popup::default_response_id(&button))
}
