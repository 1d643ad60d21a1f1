//! The window of the help pages.

use eframe::egui::{self, Key, Modifiers, Ui};

use super::{HelpPlace, PAGES, Page, draw, search};
use crate::theme;
use crate::widgets::focus::is_by_key;

/// The help pages as they are shown.
#[derive(Debug, Default)]
pub struct HelpWindow {
    shown: Option<HelpPlace>,
    before: Vec<HelpPlace>,
    words: String,
    /// The heading is brought into view once.
    go_to: bool,
    /// A place was opened and does not have the cursor yet.
    arrived: bool,
    /// The cursor was in it in the last frame.
    has_cursor: bool,
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
        self.arrived = true;
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
        // Escape takes the cursor back below before it is seen here.
        let had_cursor = std::mem::replace(&mut self.has_cursor, has_cursor(ctx));
        let typing = !had_cursor && ctx.text_edit_focused();
        if !open || (!typing && ctx.input_mut(|i| i.consume_key(Modifiers::NONE, Key::Escape))) {
            self.shown = None;
        }
    }

    fn inside(&mut self, ui: &mut Ui, place: &HelpPlace) {
        let mut next = None;
        let mut entered = false;
        ui.horizontal(|ui| {
            let back = ui.add_enabled(!self.before.is_empty(), egui::Button::new("Back"));
            if back.clicked()
                && let Some(place) = self.before.pop()
            {
                self.go(place);
            }
            let pages = egui::ComboBox::from_id_salt("page")
                .selected_text(Page::of(place.page).map_or("", Page::title))
                .width(220.0)
                .show_ui(ui, |ui| {
                    for page in PAGES.iter() {
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
            // Who came with a key goes on in the help; a press leaves the cursor where it is.
            if !ui.is_sizing_pass() && std::mem::take(&mut self.arrived) && is_by_key(ui) {
                pages.request_focus();
            }
            let field = egui::TextEdit::singleline(&mut self.words)
                .hint_text("Search the pages")
                .desired_width(f32::INFINITY);
            let words = ui.add(field).accessible_name("Search the pages");
            entered = words.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter));
        });
        ui.separator();
        let found = (!self.words.trim().is_empty()).then(|| search(&self.words));
        if entered {
            let first = found.as_ref().and_then(|found| found.first());
            next = first.map(|(place, _)| place.clone()).or(next);
        }
        let go_to = std::mem::take(&mut self.go_to);
        egui::ScrollArea::vertical()
            .id_salt((place.page, found.is_some()))
            .auto_shrink([false, false])
            .show(ui, |ui| {
                scroll_by_page(ui);
                if let Some(found) = found {
                    next = next.take().or_else(|| results(ui, &found, &self.words));
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

/// Whether the cursor is in a window above the sheets.
fn has_cursor(ctx: &egui::Context) -> bool {
    let focused = ctx.memory(egui::Memory::focused);
    let response = focused.and_then(|id| ctx.read_response(id));
    response.is_some_and(|r| r.layer_id.order == egui::Order::Middle)
}

/// The Page keys scroll what is read, unless one types.
fn scroll_by_page(ui: &Ui) {
    /// So much of what was seen stays in sight, in points.
    const KEPT: f32 = 40.0;
    if ui.text_edit_focused() {
        return;
    }
    let page = (ui.clip_rect().height() - KEPT).max(KEPT);
    let pages = ui.input_mut(|input| {
        let mut times = |key| input.count_and_consume_key(Modifiers::NONE, key) as f32;
        times(Key::PageUp) - times(Key::PageDown)
    });
    if pages != 0.0 {
        ui.scroll_with_delta(egui::vec2(0.0, pages * page));
    }
}

/// A line from a little before the first of the words that were looked for.
fn from_the_words(line: &str, words: &str) -> String {
    /// So many letters before them are shown.
    const BEFORE: usize = 30;
    let lower = line.to_lowercase();
    let places = words
        .split_whitespace()
        .filter_map(|word| lower.find(&word.to_lowercase()));
    let first = places.min().and_then(|at| lower.get(..at));
    let letters = first.map_or(0, |before| before.chars().count());
    if letters <= BEFORE {
        return line.to_owned();
    }
    let rest: String = line.chars().skip(letters - BEFORE).collect();
    let from = rest.find(' ').map_or(0, |space| space + 1);
    format!("… {}", rest.get(from..).unwrap_or_default())
}

fn results(ui: &mut Ui, found: &[(HelpPlace, &'static str)], words: &str) -> Option<HelpPlace> {
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
            let shown = from_the_words(plain.trim(), words);
            ui.add(egui::Label::new(theme::small(ui, shown)).truncate());
            ui.add_space(theme::TIGHT);
        });
    }
    chosen
}
