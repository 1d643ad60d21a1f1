//! The window of the help pages.

use eframe::egui::{self, Key, Modifiers, Ui};

use super::{HelpPlace, PAGES, Page, draw, search};
use crate::theme;

/// The help pages as they are shown.
#[derive(Debug, Default)]
pub struct HelpWindow {
    shown: Option<HelpPlace>,
    before: Vec<HelpPlace>,
    words: String,
    /// The heading is brought into view once.
    go_to: bool,
}

impl HelpWindow {
    /// Opens a place; one that is open already closes.
    pub fn toggle(&mut self, place: HelpPlace) {
        if self.shown.as_ref() == Some(&place) {
            self.shown = None;
        } else {
            self.words.clear();
            self.before.clear();
            self.go(place);
        }
    }

    /// Shows a place; Back leads to where one was.
    pub fn show(&mut self, place: HelpPlace) {
        self.words.clear();
        self.before
            .extend(self.shown.take().filter(|p| *p != place));
        self.go(place);
    }

    fn go(&mut self, place: HelpPlace) {
        self.go_to = place.heading.is_some();
        self.shown = Some(place);
    }

    /// Draws it, if it is open.
    pub fn ui(&mut self, ctx: &egui::Context) {
        let Some(place) = self.shown.clone() else {
            return;
        };
        let room = ctx.content_rect().size();
        let size = egui::vec2((room.x * 0.6).min(720.0), (room.y * 0.8).min(640.0));
        let mut open = true;
        egui::Window::new("Help")
            .open(&mut open)
            .default_size(size)
            .max_size(room - egui::vec2(24.0, 24.0))
            .min_size([320.0, 240.0])
            .pivot(egui::Align2::CENTER_CENTER)
            .default_pos(ctx.content_rect().center())
            .collapsible(false)
            .show(ctx, |ui| self.inside(ui, &place));
        let typing = ctx.text_edit_focused();
        if !open || (!typing && ctx.input_mut(|i| i.consume_key(Modifiers::NONE, Key::Escape))) {
            self.shown = None;
        }
    }

    fn inside(&mut self, ui: &mut Ui, place: &HelpPlace) {
        let mut next = None;
        ui.horizontal(|ui| {
            let back = ui.add_enabled(!self.before.is_empty(), egui::Button::new("Back"));
            if back.clicked()
                && let Some(place) = self.before.pop()
            {
                self.go(place);
            }
            egui::ComboBox::from_id_salt("page")
                .selected_text(Page::of(place.page).map_or("", Page::title))
                .width(220.0)
                .show_ui(ui, |ui| {
                    for page in PAGES {
                        let here = page.id == place.page;
                        if ui.selectable_label(here, page.title()).clicked() {
                            next = Some(HelpPlace {
                                page: page.id,
                                heading: None,
                            });
                        }
                    }
                })
                .response
                .accessible_name("Page");
            let field = egui::TextEdit::singleline(&mut self.words)
                .hint_text("Search the pages")
                .desired_width(f32::INFINITY);
            ui.add(field).accessible_name("Search the pages");
        });
        ui.separator();
        let found = (!self.words.trim().is_empty()).then(|| search(&self.words));
        let go_to = std::mem::take(&mut self.go_to);
        egui::ScrollArea::vertical()
            .id_salt((place.page, found.is_some()))
            .auto_shrink([false, false])
            .show(ui, |ui| {
                if let Some(found) = found {
                    next = next.take().or_else(|| results(ui, &found));
                } else if let Some(page) = Page::of(place.page) {
                    ui.label(theme::heading(page.title()));
                    ui.add_space(theme::TIGHT);
                    let heading = place.heading.as_deref().filter(|_| go_to);
                    next = next.take().or_else(|| draw::page(ui, page, heading));
                }
            });
        if let Some(next) = next {
            self.words.clear();
            self.before.push(place.clone());
            self.go(next);
        }
    }
}

fn results(ui: &mut Ui, found: &[(HelpPlace, &'static str)]) -> Option<HelpPlace> {
    if found.is_empty() {
        ui.label("No page has all these words; try fewer.");
    }
    let mut chosen = None;
    for (number, (place, line)) in found.iter().enumerate() {
        ui.push_id(number, |ui| {
            if ui.link(theme::strong(place.words())).clicked() {
                chosen = Some(place.clone());
            }
            let plain: String = line.chars().filter(|c| !"*`|#".contains(*c)).collect();
            ui.add(egui::Label::new(theme::small(ui, plain.trim())).truncate());
            ui.add_space(theme::TIGHT);
        });
    }
    chosen
}
