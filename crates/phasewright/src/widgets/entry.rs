//! A text field that hands over its text once, when one is done with it.
//!
//! Enter, Tab and a click elsewhere hand it over; after Enter the cursor stays, with all
//! of the text chosen. Escape leaves the field: a figure is
//! taken back, words are handed over, for nothing that took thought to write may vanish
//! (undo brings the old ones back). What is typed is kept by the field's id, so it is not
//! lost when the field scrolls away. A command that needs everything that was typed, such as
//! saving, has it handed over before, and the cursor stays. Words are also handed over whenever
//! one stops typing for a moment, so that a crash costs a few of them at most.

use eframe::egui::text::{LayoutJob, TextWrapping};
use eframe::egui::{
    self, Align, Align2, Id, Key, Margin, Response, Stroke, TextBuffer, TextEdit, TextStyle, Ui,
    Vec2,
};

use super::half_typed;
use crate::theme;

/// A field and how it looks.
pub struct Entry<'a> {
    id: Id,
    shown: &'a str,
    name: String,
    hint: &'a str,
    width: f32,
    right: bool,
    quiet: bool,
    lines: usize,
    words: bool,
    enabled: bool,
    font: TextStyle,
}

/// What became of a field in this frame.
pub struct EntryResponse {
    /// The field.
    pub response: Response,
    /// The text handed over, if it differs from what was shown.
    pub done: Option<String>,
    /// Enter was pressed in it.
    pub entered: bool,
    /// Escape took back what was typed.
    pub taken_back: bool,
}

impl<'a> Entry<'a> {
    /// A field that shows a text. `id` must stay the same while the thing edited does;
    /// `name` is what a screen reader calls it.
    pub fn new(id: Id, shown: &'a str, name: impl Into<String>) -> Self {
        Self {
            id,
            shown,
            name: name.into(),
            hint: "",
            width: 120.0,
            right: false,
            quiet: false,
            lines: 1,
            words: false,
            enabled: true,
            font: TextStyle::Body,
        }
    }

    /// The field of this id.
    pub(super) const fn id(&self) -> Id {
        self.id
    }

    /// What a screen reader calls it.
    pub(super) fn name(&self) -> &str {
        &self.name
    }

    /// The text it shows.
    pub(super) const fn shown(&self) -> &'a str {
        self.shown
    }

    /// The same field with another text.
    pub(super) fn showing<'b>(self, shown: &'b str) -> Entry<'b>
    where
        'a: 'b,
    {
        Entry { shown, ..self }
    }

    /// Words shown while it is empty.
    pub const fn hint(mut self, hint: &'a str) -> Self {
        self.hint = hint;
        self
    }

    /// Width in points; infinite takes all there is.
    pub const fn width(mut self, width: f32) -> Self {
        self.width = width;
        self
    }

    /// Figures stand at the right.
    pub const fn right(mut self) -> Self {
        self.right = true;
        self
    }

    /// Without a frame until the pointer is on it or one types in it.
    pub const fn quiet(mut self) -> Self {
        self.quiet = true;
        self
    }

    /// Several lines; Enter begins a new one.
    pub const fn lines(mut self, lines: usize) -> Self {
        self.lines = lines;
        self
    }

    /// Free words, which mean something before they are complete: they are handed over
    /// whenever one stops typing for a moment. Several lines always are.
    pub const fn words(mut self) -> Self {
        self.words = true;
        self
    }

    /// Whether it can be changed.
    pub const fn enabled(mut self, enabled: bool) -> Self {
        self.enabled = enabled;
        self
    }

    /// Another text style.
    pub fn font(mut self, font: TextStyle) -> Self {
        self.font = font;
        self
    }

    /// Draws it.
    pub fn show(self, ui: &mut Ui) -> EntryResponse {
        let typed: Option<String> = ui.data(|d| d.get_temp(self.id));
        let mut text = typed.clone().unwrap_or_else(|| self.shown.to_owned());
        let p = theme::palette(ui);
        let framed = !self.quiet
            || ui.memory(|m| m.has_focus(self.id))
            || ui
                .read_response(self.id)
                .is_some_and(|r| r.hovered() && self.enabled);
        // Words that are too long for their place end in "…" until one comes to change them.
        let ends_short = self.lines == 1 && !self.right && !ui.memory(|m| m.has_focus(self.id));
        let font = self.font.clone();
        let mut shortened = |ui: &Ui, text: &dyn TextBuffer, width: f32| {
            let font = font.resolve(ui.style());
            let mut job = LayoutJob::simple_singleline(text.as_str().to_owned(), font, p.ink);
            job.wrap = TextWrapping::truncate_at_width(width);
            ui.fonts_mut(|f| f.layout_job(job))
        };
        let base = if self.lines > 1 {
            TextEdit::multiline(&mut text).desired_rows(self.lines)
        } else {
            TextEdit::singleline(&mut text)
        };
        let mut field = base
            .id(self.id)
            .font(self.font.clone())
            .hint_text(self.hint)
            .desired_width(self.width)
            .margin(Margin::symmetric(6, 3));
        if ends_short {
            field = field.layouter(&mut shortened);
        }
        if self.lines == 1 {
            let side = if self.right { Align::Max } else { Align::Min };
            field = field
                .min_size(Vec2::new(0.0, theme::FIELD))
                .align(Align2([side, Align::Center]));
        }
        let response = ui
            .scope(|ui| {
                if !framed {
                    let plain = &mut ui.visuals_mut().widgets;
                    plain.inactive.bg_stroke = Stroke::NONE;
                    ui.visuals_mut().text_edit_bg_color = Some(egui::Color32::TRANSPARENT);
                } else if self.quiet {
                    ui.visuals_mut().text_edit_bg_color = Some(p.page);
                }
                if !self.enabled {
                    // Its figure is read as any other; that it stands on no page tells that
                    // nothing is written there.
                    ui.visuals_mut().disabled_alpha = 1.0;
                    ui.visuals_mut().text_edit_bg_color = Some(egui::Color32::TRANSPARENT);
                    ui.visuals_mut().widgets.noninteractive.bg_stroke = Stroke::new(1.0, p.rule);
                    ui.visuals_mut().widgets.inactive.bg_stroke = Stroke::new(1.0, p.rule);
                }
                ui.add_enabled(self.enabled, field)
            })
            .inner
            .accessible_name(self.name.as_str());

        let arrived = response.gained_focus() | came(ui, self.id, response.has_focus());
        // A letter that brought the cursor here is not typed over by the next.
        if arrived && self.lines == 1 && !response.changed() {
            select_all(ui, self.id, text.chars().count());
        }
        // Enter hands the text over and leaves the cursor where it is, so that Tab goes on
        // from here and one always sees where one is.
        let entered =
            self.lines == 1 && response.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter));
        if entered {
            response.request_focus();
            select_all(ui, self.id, text.chars().count());
        }
        // Figures stand at the right.
        let taken_back =
            self.right && response.lost_focus() && ui.input(|i| i.key_pressed(Key::Escape));
        let asked = is_asked(ui, self.id);
        let done = if taken_back {
            ui.data_mut(|d| d.remove::<String>(self.id));
            None
        } else if response.has_focus() && !entered && !asked {
            let changed = response.changed();
            if changed {
                ui.data_mut(|d| d.insert_temp(self.id, text.clone()));
            }
            // A figure may be half of what it will be; words only become more. A name that was
            // deleted to be typed anew is none yet.
            let words = self.lines > 1 || self.words && !text.trim().is_empty();
            let paused = words && paused(ui, self.id, changed);
            (paused && text != self.shown).then_some(text)
        } else {
            let left = if response.changed() {
                Some(text)
            } else {
                typed
            };
            ui.data_mut(|d| d.remove::<String>(self.id));
            left.filter(|t| t != self.shown)
        };
        if self.right && self.lines == 1 && response.has_focus() {
            // Figures stand in columns: arrows up and down go through them.
            let filter = egui::EventFilter {
                horizontal_arrows: true,
                ..Default::default()
            };
            ui.memory_mut(|m| m.set_focus_lock_filter(self.id, filter));
        }
        let pending = ui.data(|d| d.get_temp::<String>(self.id));
        if self.right {
            match &pending {
                Some(text) => half_typed::note(ui, &self.name, text),
                None => half_typed::forget(ui, &self.name),
            }
        }
        let pending = pending.is_some();
        if response.has_focus() {
            set_at_rest(ui, self.id, !pending);
        }
        EntryResponse {
            response,
            done,
            entered,
            taken_back,
        }
    }
}

/// Seconds without a key after which words in several lines are handed over.
const PAUSE_S: f64 = 2.0;

/// Whether nothing more was typed into a field for a while since its text changed; once for
/// every pause.
fn paused(ui: &Ui, field: Id, changed: bool) -> bool {
    let id = field.with("typed last");
    let now = ui.input(|i| i.time);
    if changed {
        ui.data_mut(|d| d.insert_temp(id, now));
    }
    let Some(last) = ui.data(|d| d.get_temp::<f64>(id)) else {
        return false;
    };
    let left = last + PAUSE_S - now;
    if left > 0.0 {
        // A frame for something else, the key that is let go for example, forgets what was
        // asked for before it.
        ui.request_repaint_after_secs(left as f32);
        return false;
    }
    ui.data_mut(|d| d.remove::<f64>(id));
    true
}

fn asked_id() -> Id {
    Id::unique("entry asked for its text")
}

/// Asks the field with the cursor to hand over in the next frame what is typed in it.
/// Whether there is anything.
pub fn ask_for_typed(ctx: &egui::Context) -> bool {
    let Some(field) = ctx.memory(egui::Memory::focused) else {
        return false;
    };
    let typed = ctx.data(|d| d.get_temp::<String>(field)).is_some();
    if typed {
        ctx.data_mut(|d| d.insert_temp(asked_id(), field));
        ctx.request_repaint();
    }
    typed
}

fn is_asked(ui: &Ui, field: Id) -> bool {
    let asked = ui.data(|d| d.get_temp::<Id>(asked_id())) == Some(field);
    if asked {
        ui.data_mut(|d| d.remove::<Id>(asked_id()));
    }
    asked
}

/// Whether the cursor came here since the last frame. The library does not tell it of a
/// cursor that came by an arrow key.
fn came(ui: &Ui, field: Id, focused: bool) -> bool {
    let id = Id::unique("entry with the cursor");
    let last = ui.data(|d| d.get_temp::<Id>(id));
    if focused && last != Some(field) {
        ui.data_mut(|d| d.insert_temp(id, field));
        return true;
    }
    if !focused && last == Some(field) {
        ui.data_mut(|d| d.remove::<Id>(id));
    }
    false
}

/// Gives a field that is drawn later in this frame the cursor with all its text chosen, so
/// that what is being typed goes there.
pub fn type_over(ui: &Ui, id: Id, letters: usize) {
    ui.memory_mut(|m| m.request_focus(id));
    select_all(ui, id, letters);
}

/// States whether a field that has the cursor holds nothing that would be lost.
pub fn set_at_rest(ctx: &egui::Context, id: Id, rest: bool) {
    ctx.data_mut(|d| d.insert_temp(at_rest_id(), (id, rest)));
}

fn at_rest_id() -> Id {
    Id::unique("entry at rest")
}

/// Whether the field that has the cursor holds nothing typed that was not handed over; keys
/// such as undo then belong to the formula, not to the field.
pub fn at_rest(ctx: &egui::Context) -> bool {
    let focused = ctx.memory(egui::Memory::focused);
    ctx.data(|d| d.get_temp::<(Id, bool)>(at_rest_id()))
        .is_some_and(|(id, rest)| rest && Some(id) == focused)
}

/// A field of one line of which all text is chosen when one comes to it by Tab, so that
/// typing replaces it and never adds to what stands there.
pub fn line(ui: &mut Ui, text: &mut String, width: f32) -> Response {
    let response = ui.add(TextEdit::singleline(text).desired_width(width));
    if response.gained_focus() && ui.input(|i| i.key_pressed(Key::Tab)) {
        select_all(ui, response.id, text.chars().count());
    }
    response
}

/// Chooses the whole text, so that typing replaces it.
pub fn select_all(ctx: &egui::Context, id: Id, letters: usize) {
    choose(ctx, id, 0, letters);
}

/// Puts the cursor of a field after so many letters, with nothing chosen.
pub fn cursor_at(ctx: &egui::Context, id: Id, letters: usize) {
    choose(ctx, id, letters, letters);
}

fn choose(ctx: &egui::Context, id: Id, from: usize, to: usize) {
    use egui::text::{CCursor, CCursorRange};
    let mut state = TextEdit::load_state(ctx, id).unwrap_or_default();
    let range = CCursorRange::two(CCursor::new(from), CCursor::new(to));
    state.cursor.set_char_range(Some(range));
    TextEdit::store_state(ctx, id, state);
}
