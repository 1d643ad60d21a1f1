//! One is chosen of several, from a box that opens or from a row in which all are seen; or
//! several are, behind a button.

use eframe::egui::containers::menu::{MenuButton, MenuConfig};
use eframe::egui::{
    Button, ComboBox, EventFilter, Id, Key, PopupCloseBehavior, Response, ScrollArea, Sense, Ui,
};

/// Height beyond which the list of those ticked is scrolled.
const TALLEST: f32 = 360.0;

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

/// Draws all of them in a row, where the caller's layout goes on: what is chosen is the one stop
/// of the Tab key, and the arrows, Home and End choose another. `says` is told where the pointer
/// rests; empty for nothing. Returns whether one was clicked or gone to.
pub fn choice_row<T, W>(
    ui: &mut Ui,
    name: &str,
    value: &mut T,
    all: &[T],
    words: impl Fn(T) -> W,
    says: impl Fn(T) -> &'static str,
) -> bool
where
    T: Copy + PartialEq,
    W: Into<String>,
{
    let row = ui.scope_id().with(("choice in a row", name));
    let at = all.iter().position(|one| one == value);
    let next = at.and_then(|at| by_key(ui, row, at, all.len().saturating_sub(1)));
    if let Some(next) = next {
        *value = all[next];
    }
    let mut pressed = next.is_some();
    // Without a choice the first one is where the Tab key stops.
    let stop = next.or(at).unwrap_or(0);
    let mut clicked = None;
    for (i, one) in all.iter().enumerate() {
        let sense = if i == stop {
            Sense::click()
        } else {
            Sense::CLICK
        };
        let shown = Button::selectable(*value == *one, words(*one).into()).sense(sense);
        let mut response = ui.push_id((row, i), |ui| ui.add(shown)).inner;
        let told = says(*one);
        if !told.is_empty() {
            response = response.on_hover_text(told);
        }
        if response.clicked() {
            clicked = Some(i);
        }
        if i == stop {
            if next.is_some() {
                response.request_focus();
            }
            ui.data_mut(|d| d.insert_temp(row, response.id));
        }
    }
    if let Some(i) = clicked {
        *value = all[i];
        pressed = true;
    }
    pressed
}

/// Where a key goes to from the one chosen, if the row has the keyboard.
fn by_key(ui: &Ui, row: Id, at: usize, last: usize) -> Option<usize> {
    let stop: Id = ui.data(|d| d.get_temp(row))?;
    if !ui.memory(|m| m.has_focus(stop)) {
        return None;
    }
    ui.memory_mut(|m| {
        let filter = EventFilter {
            horizontal_arrows: true,
            ..EventFilter::default()
        };
        m.set_focus_lock_filter(stop, filter);
    });
    let pressed = |key| ui.input(|i| i.key_pressed(key));
    let next = if pressed(Key::ArrowLeft) {
        at.saturating_sub(1)
    } else if pressed(Key::ArrowRight) {
        (at + 1).min(last)
    } else if pressed(Key::Home) {
        0
    } else if pressed(Key::End) {
        last
    } else {
        at
    };
    (next != at).then_some(next)
}

/// Draws a button named `name` with the words `shown` on it; behind it stand all that can be
/// ticked, and it stays open meanwhile.
pub fn choices<T: Copy + PartialEq>(
    ui: &mut Ui,
    name: &str,
    shown: &str,
    chosen: &mut Vec<T>,
    all: &[(T, &str)],
) -> Response {
    let stays = MenuConfig::new().close_behavior(PopupCloseBehavior::CloseOnClickOutside);
    let (button, _) = MenuButton::new(shown).config(stays).ui(ui, |ui| {
        ScrollArea::vertical().max_height(TALLEST).show(ui, |ui| {
            for (value, words) in all {
                let mut on = chosen.contains(value);
                if ui.checkbox(&mut on, *words).changed() {
                    if on {
                        chosen.push(*value);
                    } else {
                        chosen.retain(|c| c != value);
                    }
                }
            }
        });
    });
    ui.accesskit_node_builder(button.id, |node| node.set_value(shown));
    button.accessible_name(name)
}
