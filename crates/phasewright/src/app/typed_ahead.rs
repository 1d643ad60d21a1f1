//! What is typed ahead waits until the cursor is where it goes.
//!
//! After Enter, Tab, Escape or a shortcut the cursor is somewhere else, but only some frames
//! later. A practised hand does not wait for it, and on a slow screen several keys come within
//! one frame: they would go to the place that the cursor is about to leave, or to none.

use eframe::egui::{Context, Event, Key, Plugin, RawInput};

/// Frames until a cursor that moves is where it goes: what was asked for is applied after the
/// first, drawn in the second, and has its text chosen in the third.
const FRAMES: u64 = 3;

/// Holds keys back while the cursor is on its way, in the order in which they came.
#[derive(Default)]
pub(super) struct TypedAhead {
    waiting: Vec<Event>,
    /// The frame from which keys are handed on again.
    from: u64,
}

impl Plugin for TypedAhead {
    fn debug_name(&self) -> &'static str {
        "typed ahead"
    }

    fn input_hook(&mut self, ctx: &Context, input: &mut RawInput) {
        let frame = ctx.cumulative_frame_nr();
        let (keys, others): (Vec<Event>, Vec<Event>) =
            input.events.drain(..).partition(is_of_keyboard);
        self.waiting.extend(keys);
        input.events = others;
        if frame >= self.from {
            let mover = self.waiting.iter().position(moves_the_cursor);
            let handed_on = mover.map_or(self.waiting.len(), |at| at + 1);
            if mover.is_some() {
                self.from = frame + FRAMES;
            }
            input.events.extend(self.waiting.drain(..handed_on));
        }
        if !self.waiting.is_empty() {
            ctx.request_repaint();
        }
    }
}

/// Whether an event comes from the keyboard, or from what stands in for it.
const fn is_of_keyboard(event: &Event) -> bool {
    matches!(
        event,
        Event::Key { .. }
            | Event::ModifiersChanged(_)
            | Event::Text(_)
            | Event::Ime(_)
            | Event::Copy
            | Event::Cut
            | Event::Paste(_)
    )
}

/// Whether the cursor may be elsewhere after a key. A key that is held down is followed by
/// nothing that is typed.
const fn moves_the_cursor(event: &Event) -> bool {
    let Event::Key {
        key,
        pressed: true,
        repeat: false,
        modifiers,
        ..
    } = event
    else {
        return false;
    };
    modifiers.command
        || matches!(
            key,
            Key::Enter | Key::Tab | Key::Escape | Key::F1 | Key::F6 | Key::F8 | Key::F9
        )
}

#[cfg(test)]
mod tests {
    use eframe::egui::Modifiers;

    use super::*;

    fn key(key: Key) -> Event {
        Event::Key {
            key,
            physical_key: None,
            pressed: true,
            repeat: false,
            modifiers: Modifiers::NONE,
        }
    }

    fn text(text: &str) -> Event {
        Event::Text(text.to_owned())
    }

    /// What is handed on in each frame.
    fn frames(inputs: Vec<Vec<Event>>) -> Vec<Vec<Event>> {
        let ctx = Context::default();
        let mut typed = TypedAhead::default();
        let mut handed_on = Vec::new();
        for events in inputs {
            let mut input = RawInput {
                events,
                ..RawInput::default()
            };
            typed.input_hook(&ctx, &mut input);
            handed_on.push(input.events);
            let mut output = ctx.run_ui(RawInput::default(), |_| ());
            // Nothing is painted here.
            output.textures_delta.clear();
        }
        handed_on
    }

    /// What follows Enter in its frame, and in the two after it, comes in the fourth, in order;
    /// what the pointer does is not held up.
    #[test]
    fn what_follows_enter_waits_for_the_cursor() {
        let gone = Event::PointerGone;
        let handed_on = frames(vec![
            vec![text("s"), key(Key::Enter), text("0")],
            vec![text("."), gone.clone()],
            vec![text("8"), key(Key::Enter), text("w")],
            vec![],
            vec![],
            vec![],
            vec![],
        ]);
        let wanted = [
            vec![text("s"), key(Key::Enter)],
            vec![gone],
            vec![],
            vec![text("0"), text("."), text("8"), key(Key::Enter)],
            vec![],
            vec![],
            vec![text("w")],
        ];
        assert_eq!(handed_on, wanted);
    }

    /// Words, arrows and a key that is held down are never held up.
    #[test]
    fn what_moves_no_cursor_holds_nothing_up() {
        let mut held = key(Key::Tab);
        if let Event::Key { repeat, .. } = &mut held {
            *repeat = true;
        }
        let typed = vec![text("a"), key(Key::ArrowLeft), held, text("b")];
        assert_eq!(frames(vec![typed.clone()]), [typed]);
    }
}
