//! A search box that finds a raw material by name, INCI, CAS number or role.

use std::sync::Arc;

use eframe::egui::{
    self, Id, Key, Modifiers, Popup, PopupCloseBehavior, Response, ScrollArea, TextEdit, Ui,
    WidgetInfo, vec2,
};
use formulation::finding::Level;
use formulation::material::{Material, MaterialId};

use crate::state::{ShelfIndex, State};
use crate::theme;
use crate::widgets::entry::{select_all, set_at_rest};

/// Most results shown.
const MOST: usize = 60;
/// Width of the results in points: the longest names of the shelf fit.
const WIDTH: f32 = 560.0;
/// Height of a result in points.
const ROW: f32 = 36.0;

/// What a search found.
struct Found {
    text: String,
    /// The index searched; another one means that the shelf has changed.
    index: Arc<ShelfIndex>,
    ids: Vec<MaterialId>,
}

/// What a search box keeps between frames.
#[derive(Default)]
pub struct MaterialPicker {
    text: String,
    found: Option<Found>,
    place: usize,
    ask_focus: bool,
}

impl MaterialPicker {
    /// Puts the cursor into the box with the next frame.
    pub const fn focus(&mut self) {
        self.ask_focus = true;
    }

    /// Draws the box; the material picked comes back once.
    pub fn show(
        &mut self,
        ui: &mut Ui,
        state: &State,
        id: Id,
        name: &str,
        width: f32,
    ) -> Option<Arc<Material>> {
        self.show_with(ui, state, (id, name), width, &|_| About::default())
    }

    /// Draws the box; the material picked comes back once. `about` says of a material what the
    /// place where it would go has to say.
    pub fn show_with(
        &mut self,
        ui: &mut Ui,
        state: &State,
        (id, name): (Id, &str),
        width: f32,
        about: &dyn Fn(&Arc<Material>) -> About,
    ) -> Option<Arc<Material>> {
        let focused = ui.memory(|m| m.has_focus(id));
        let (mut down, mut up, mut enter) = (false, false, false);
        if focused {
            ui.input_mut(|i| {
                down = i.consume_key(Modifiers::NONE, Key::ArrowDown);
                up = i.consume_key(Modifiers::NONE, Key::ArrowUp);
                enter = i.consume_key(Modifiers::NONE, Key::Enter);
            });
        }
        let response = ui
            .add(
                TextEdit::singleline(&mut self.text)
                    .id(id)
                    .hint_text(hint(ui, name, width - 14.0))
                    .desired_width(width)
                    .min_size(vec2(0.0, theme::FIELD))
                    .margin(egui::Margin::symmetric(6, 3)),
            )
            .accessible_name(name);
        if std::mem::take(&mut self.ask_focus) {
            response.request_focus();
            // What was typed before is replaced by what is typed now.
            select_all(ui, id, self.text.chars().count());
        }
        if response.changed() {
            self.place = 0;
        }
        if response.has_focus() {
            set_at_rest(ui, id, self.text.is_empty());
        }
        let count = self.search(state);
        if down {
            self.place = (self.place + 1).min(count.saturating_sub(1));
        }
        if up {
            self.place = self.place.saturating_sub(1);
        }
        let mut picked = None;
        if enter && !self.text.trim().is_empty() {
            picked = self.at(self.place, state);
        }
        let open = (focused || response.has_focus()) && !self.text.trim().is_empty();
        if let Some(clicked) = self.popup(state, &response, open, down || up, about) {
            picked = Some(clicked);
        }
        if picked.is_some() {
            self.text.clear();
            self.place = 0;
        }
        picked
    }

    /// Searches if the words have changed; how many were found.
    fn search(&mut self, state: &State) -> usize {
        let known = self
            .found
            .as_ref()
            .is_some_and(|f| f.text == self.text && Arc::ptr_eq(&f.index, state.index()));
        if !known {
            self.found = Some(Found {
                text: self.text.clone(),
                index: Arc::clone(state.index()),
                ids: state.index().search_used(&self.text, MOST, &state.usage()),
            });
        }
        self.found.as_ref().map_or(0, |f| f.ids.len())
    }

    fn at(&self, place: usize, state: &State) -> Option<Arc<Material>> {
        let found = self.found.as_ref()?;
        state.shelf().get(found.ids.get(place)?).cloned()
    }

    fn popup(
        &self,
        state: &State,
        response: &Response,
        open: bool,
        follow: bool,
        about: &dyn Fn(&Arc<Material>) -> About,
    ) -> Option<Arc<Material>> {
        let found = &self.found.as_ref()?.ids;
        let width = response.rect.width().max(WIDTH);
        Popup::from_response(response)
            .id(response.id.with("results"))
            .open(open)
            .close_behavior(PopupCloseBehavior::IgnoreClicks)
            .width(width)
            .show(|ui| {
                if found.is_empty() {
                    let words = "Nothing on the shelf fits these words; new materials are put in on the Shelf";
                    let told = ui.label(words);
                    ui.accesskit_node_builder(told.id, |node| {
                        node.set_live(egui::accesskit::Live::Polite);
                    });
                    return None;
                }
                let mut clicked = None;
                announce(ui, response.id, found, self.place, state, about);
                // As high as this search needs, not as the last one did.
                let height = ROW * found.len().min(7) as f32;
                ui.set_height(height);
                ScrollArea::vertical().max_height(height).show(ui, |ui| {
                    ui.spacing_mut().item_spacing.y = 0.0;
                    for (place, id) in found.iter().enumerate() {
                        let Some(material) = state.shelf().get(id) else {
                            continue;
                        };
                        let row = result_row(ui, material, place == self.place, about);
                        if place == self.place && follow {
                            row.scroll_to_me(None);
                        }
                        // The box loses focus with the press, so the press decides.
                        if row.clicked() || row.is_pointer_button_down_on() {
                            clicked = Some(material.clone());
                        }
                    }
                });
                clicked
            })
            .and_then(|shown| shown.inner)
    }
}

/// What can be typed, as fully as there is room for.
fn hint(ui: &Ui, name: &str, room: f32) -> String {
    let full = format!("{name}: name, INCI, CAS or role");
    let fits = |words: &str| {
        let text = egui::WidgetText::from(words);
        let extend = Some(egui::TextWrapMode::Extend);
        let galley = text.into_galley(ui, extend, f32::INFINITY, egui::TextStyle::Body);
        galley.size().x <= room
    };
    [&full, "Name, INCI, CAS or role"]
        .into_iter()
        .find(|words| fits(words))
        .unwrap_or(name)
        .to_owned()
}

/// What the place has to say of a material that would go there.
#[derive(Default)]
pub struct About {
    /// Where it would go, in a word or two.
    pub place: String,
    /// Why it must not go there, in a word or two.
    pub forbidden: Option<String>,
}

/// A result in words: name, INCI, where it would go and why it must not.
fn told(material: &Material, about: &About) -> String {
    let inci = material.inci_line();
    let forbidden = about.forbidden.as_deref().unwrap_or_default();
    let parts = [
        material.name.as_ref(),
        inci.as_str(),
        &about.place,
        forbidden,
    ];
    let parts: Vec<&str> = parts.into_iter().filter(|part| !part.is_empty()).collect();
    parts.join(", ")
}

/// Tells a screen reader which result is chosen while the cursor stays in the box, as "2 of
/// 14: name, INCI, to phase B".
fn announce(
    ui: &Ui,
    field: Id,
    found: &[MaterialId],
    chosen: usize,
    state: &State,
    about: &dyn Fn(&Arc<Material>) -> About,
) {
    let Some(material) = found.get(chosen).and_then(|id| state.shelf().get(id)) else {
        return;
    };
    let words = format!(
        "{} of {}: {}",
        chosen + 1,
        found.len(),
        told(material, &about(material))
    );
    // It has no look of its own: the row chosen shows the same.
    let at = egui::Rect::from_min_size(ui.cursor().min, egui::Vec2::ZERO);
    let response = ui.interact(at, field.with("chosen result"), egui::Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(egui::Role::Status, true, &words));
    ui.accesskit_node_builder(response.id, |node| {
        node.set_live(egui::accesskit::Live::Polite);
    });
}

fn result_row(
    ui: &mut Ui,
    material: &Arc<Material>,
    chosen: bool,
    about: &dyn Fn(&Arc<Material>) -> About,
) -> Response {
    let p = theme::palette(ui);
    let (rect, response) =
        ui.allocate_exact_size(vec2(ui.available_width(), ROW), egui::Sense::click());
    // Of many results few are seen at a time.
    let about = if ui.is_rect_visible(rect) {
        about(material)
    } else {
        About::default()
    };
    response.widget_info(|| {
        WidgetInfo::selected(egui::Role::ListBoxOption, true, chosen, &material.name)
    });
    ui.accesskit_node_builder(response.id, |node| {
        node.set_selected(chosen);
        node.set_description(told(material, &about));
    });
    if chosen || response.hovered() {
        let wash = if chosen { p.chosen } else { p.hovered };
        ui.painter().rect_filled(rect, 4.0, wash);
    }
    let roles: Vec<&str> = material.roles.iter().take(3).map(|r| r.label()).collect();
    let inner = rect.shrink2(vec2(8.0, 2.0));
    let (top, bottom) = inner.split_top_bottom_at_fraction(0.54);
    let text = |ui: &Ui, rect: egui::Rect, words: egui::RichText, right: bool| {
        let galley = egui::WidgetText::from(words).into_galley(
            ui,
            Some(egui::TextWrapMode::Truncate),
            rect.width(),
            egui::TextStyle::Body,
        );
        let x = if right {
            rect.right() - galley.size().x
        } else {
            rect.left()
        };
        let at = egui::pos2(x, rect.center().y - galley.size().y / 2.0);
        let width = galley.size().x;
        ui.painter().galley(at, galley, p.ink);
        width
    };
    // The name has the first line to itself, so that strengths are never cut off.
    let taken = text(ui, top, theme::small(ui, &about.place), true);
    let name = egui::RichText::new(material.name.as_ref()).color(p.ink);
    text(ui, top.with_max_x(top.right() - taken - 8.0), name, false);
    let roles = roles.join(", ");
    let between = if roles.is_empty() { "" } else { " · " };
    let words = format!("{roles}{between}{}", material.inci_line());
    let mut room = bottom;
    if let Some(forbidden) = &about.forbidden {
        let words = theme::small(ui, forbidden).color(p.level(Level::Breach));
        room.max.x -= text(ui, bottom, words, true) + 8.0;
    }
    text(ui, room, theme::small(ui, words), false);
    response
}
